"""The sections of docs/method.md that a packet cites, so that its formulas travel with it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import cache
from itertools import groupby
from typing import Any

from rigcheck.output.html_page import items, paragraph, table, words
from rigcheck.output.limits import page_text
from rigcheck.wording.plain import Plain

_PAGE = "docs/method.md#"
_CITED = re.compile(re.escape(_PAGE) + r"([a-z0-9-]+)")
_NOT_PLAIN = re.compile(r"[^a-z0-9 -]")
CODE, ROWS, LIST, PROSE = "code", "rows", "list", "prose"


def anchor(heading: str) -> str:
    """The anchor of a heading, as a page of Markdown has it."""
    return _NOT_PLAIN.sub("", heading.lower()).replace(" ", "-")


def formulas(value: Any) -> list[Plain]:
    """Sections of the method that any text in a packet cites, in the order of the page.

    Args:
        value: The packet, or a part of it.

    Returns:
        Anchor, heading and blocks (kind and lines) of each.
    """
    cited = set(_anchors(value))
    return [one for one in _sections() if one["anchor"] in cited]


def _anchors(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        if _PAGE in value:  # a packet has ten thousands of texts, and few of them cite
            yield from _CITED.findall(value)
    elif isinstance(value, Mapping):
        for one in value.values():
            yield from _anchors(one)
    elif isinstance(value, list | tuple):
        for one in value:
            yield from _anchors(one)


@cache
def _sections() -> tuple[Plain, ...]:
    found: list[tuple[str, list[str]]] = []
    for line in page_text("method.md").splitlines():
        if line.startswith("#"):
            found.append((line.lstrip("# ").strip(), []))
        elif found:
            found[-1][1].append(line)
    return tuple({"anchor": anchor(head), "heading": head, "blocks": list(_blocks(lines))} for head, lines in found)


def _kind(line: str) -> str:
    if not line.strip():
        return ""
    if line.startswith("    "):
        return CODE
    if line.startswith("|"):
        return ROWS
    return LIST if line.startswith(("- ", "  ")) else PROSE


def _blocks(lines: list[str]) -> Iterator[Plain]:
    for kind, group in groupby(lines, key=_kind):
        if kind:
            yield {"kind": kind, "lines": [line.replace("`", "") for line in group]}


def formulas_part(packet: Mapping[str, Any]) -> str:
    """The appendix."""
    text = paragraph(
        "Every section of docs/method.md that a check, a source or a worked step of this packet points to."
    )
    for one in packet["formulas"]:
        name = words(one["anchor"])
        text += f'<h3 id="method-{name}">{words(one["heading"])} <small>#{name}</small></h3>'
        text += "".join(_html(block) for block in one["blocks"])
    return text if packet["formulas"] else paragraph("No section of the method is cited.")


def _html(block: Plain) -> str:
    lines = block["lines"]
    if block["kind"] == CODE:
        return f'<pre class="formula">{words(chr(10).join(line[4:] for line in lines))}</pre>'
    if block["kind"] == ROWS:
        cells = [[cell.strip() for cell in line.strip().strip("|").split("|")] for line in lines]
        wide = len(cells[0])
        return table(cells[0], rows=[(row + [""] * wide)[:wide] for row in cells[2:]])
    if block["kind"] == LIST:
        text = "\n".join(lines)
        return items(" ".join(one.split()) for one in re.split(r"(?m)^- ", text) if one.strip())
    return paragraph(" ".join(line.strip() for line in lines))
