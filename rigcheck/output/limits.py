"""The page of limits, docs/limits.md, read once and for all, so that page and report cannot part."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from itertools import groupby
from pathlib import Path

from rigcheck.wording.plain import Plain

_HERE = Path(__file__)


@cache
def page_text(name: str) -> str:
    """A page of the documentation as it is written.

    In an installed package it lies beside this module, in a checkout among the other pages.

    Args:
        name: Its file.
    """
    places = (_HERE.with_name(name), _HERE.parents[2] / "docs" / name)
    return next(place for place in places if place.is_file()).read_text(encoding="utf-8")


def limits_text() -> str:
    """The page of limits."""
    return page_text("limits.md")


def limits_plain() -> list[Plain]:
    """The parts of the page in their order.

    Returns:
        Heading, paragraphs, headings of the columns and rows of each part; columns and rows empty where it is prose.
    """
    return [_part(heading, lines) for heading, lines in _parts(limits_text())]


def _parts(text: str) -> Iterator[tuple[str, list[str]]]:
    heading, lines = "", list[str]()
    for line in text.splitlines():
        if line.startswith("#"):
            if lines:
                yield heading, lines
            heading, lines = line.lstrip("# "), []
        else:
            lines.append(line)
    yield heading, lines


def _part(heading: str, lines: list[str]) -> Plain:
    rows = [_cells(line) for line in lines if line.startswith("|")]
    prose = [line.strip() for line in lines if not line.startswith("|")]
    paragraphs = [" ".join(group) for full, group in groupby(prose, key=bool) if full]
    return {
        "heading": heading,
        "text": [_bare(one) for one in paragraphs],
        "columns": rows[0] if rows else [],
        "rows": rows[2:],  # the second line draws the rule under the headings
    }


def _cells(line: str) -> list[str]:
    return [_bare(cell.strip()) for cell in line.strip().strip("|").split("|")]


def _bare(text: str) -> str:
    """Words without the marks of the page."""
    return text.replace("`", "")
