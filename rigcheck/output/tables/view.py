"""The published tables as a screen and as plain data, each row with its source."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby
from textwrap import wrap
from typing import Any

from rigcheck.output.screen import Look
from rigcheck.tables.browse import TableBlock, TableRow
from rigcheck.wording.marks import LEGEND, WORDS

MOST_ROWS = 60
"""Rows that a search shows; more of them ask for a size or another word."""
_GAP = "  "
_NAMING = ("name", "item")  # headings of first columns whose cells need none


def tables_list(blocks: Sequence[TableBlock], *, look: Look) -> str:
    """The tables by subject: the id to type of each and how many rows it has."""
    lines = ["Published tables; `rigcheck tables WORDS` shows the rows that hold all of the words."]
    for _, members in groupby(blocks, key=lambda block: block.file):
        group = list(members)
        rows: dict[str, int] = {}
        for block in group:
            rows[block.name] = rows.get(block.name, 0) + len(block.rows)
        lines.append(group[0].subject)
        lines.append("  " + ", ".join(f"{name} {count}" if count else name for name, count in rows.items()))
    return _joined(lines, look=look)


def too_many(blocks: Sequence[TableBlock]) -> bool:
    """Whether tables have more rows than anybody wants to read through."""
    return sum(len(block.rows) for block in blocks) > MOST_ROWS


def too_many_words(blocks: Sequence[TableBlock], *, look: Look) -> str:
    """The tables that hold the words, and that a size or a further word is wanted."""
    count = sum(len(block.rows) for block in blocks)
    told = f"{count} rows hold these words. Add a size or another word, such as `rigcheck tables hss 2x2`; or --all."
    return tables_list(blocks, look=look) + _joined([told], look=look)


def tables_screen(blocks: Iterable[TableBlock], *, look: Look) -> str:
    """Tables with their rows; a table too wide for the screen as one paragraph a row."""
    lines: list[str] = []
    for block in blocks:
        title = f"{block.title} [{block.name}]"
        lines += [title, "-" * min(len(title), look.width)]
        lines += _note(block.note)
        for (source, clause, known), rows in groupby(block.rows, key=lambda row: (row.source, row.clause, row.known)):
            lines += [*_rows(block, list(rows), width=look.width), *_origin(source, clause, known), ""]
    if lines:
        lines.append(f"{LEGEND[:1].upper()}{LEGEND[1:]}")
    return _joined(lines, look=look)


def tables_data(blocks: Iterable[TableBlock]) -> list[dict[str, Any]]:
    """Tables ready for JSON."""
    return [
        {
            "file": block.file,
            "name": block.name,
            "title": block.title,
            "note": block.note,
            "columns": list(block.columns),
            "rows": [
                {
                    "cells": list(row.cells),
                    "source": row.source,
                    "clause": row.clause,
                    "known": WORDS.get(row.known, row.known),
                    "note": row.note,
                }
                for row in block.rows
            ],
        }
        for block in blocks
    ]


def _note(note: str) -> list[str]:
    return [f"note: {note}"] if note else []


def _origin(source: str, clause: str, known: str) -> list[str]:
    return [f"source: {'; '.join(text for text in (source, clause) if text)} ({WORDS.get(known, known)})"]


def _rows(block: TableBlock, rows: list[TableRow], *, width: int) -> list[str]:
    used = [i for i in range(len(block.columns)) if any(row.cells[i] for row in rows)]
    heads = [block.columns[i] for i in used]
    cells = [[row.cells[i] for i in used] for row in rows]
    widths = [max(len(head), *(len(row[i]) for row in cells)) for i, head in enumerate(heads)]
    notes = [row.note for row in rows]
    if sum(widths) + len(_GAP) * (len(widths) - 1) <= width:
        table = [heads, *cells]
        lines = [_GAP.join(cell.ljust(size) for cell, size in zip(row, widths, strict=True)) for row in table]
        told = [lines[0]]
        for line, note in zip(lines[1:], notes, strict=True):
            told += [line, *(f"  {text}" for text in _note(note))]
        return told
    told = []
    for row, note in zip(cells, notes, strict=True):
        facts = [f"{head} {cell}" for head, cell in zip(heads[1:], row[1:], strict=True) if cell]
        first = row[0] if heads[0] in _NAMING else f"{heads[0]} {row[0]}"
        told += [f"{first}: {'; '.join(facts)}" if facts else first, *(f"  {text}" for text in _note(note))]
    return told


def _joined(lines: Iterable[str], *, look: Look) -> str:
    told: list[str] = []
    for line in lines:
        line = line.rstrip()
        if len(line) <= look.width:
            told.append(line)
            continue
        lead = " " * (len(line) - len(line.lstrip()) + 2)
        told += wrap(line, width=look.width, subsequent_indent=lead, break_on_hyphens=False)
    return "\n".join(told).rstrip("\n") + "\n"
