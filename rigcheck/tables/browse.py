"""Every published table as titled rows of text, to print and to search."""

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from rigcheck.tables.loader import NAMES, load

_ORIGIN = ("source", "clause", "known", "note")
_ROWS = ("row", "section")
_UNITS = {
    "_lb_per_ft3": "lb/ft3",
    "_lb_per_ft2_per_in": "lb/ft2 per in",
    "_lb_per_ft2": "lb/ft2",
    "_lb_per_ft": "lb/ft",
    "_kip_per_in_per_sixteenth": "kip/in per 1/16 in",
    "_per_mm2": "per mm2",
    "_in4": "in4",
    "_in3": "in3",
    "_in2": "in2",
    "_in": "in",
    "_mm2": "mm2",
    "_mm": "mm",
    "_ton": "short ton",
    "_t": "tonne",
    "_lb": "lb",
    "_ksi": "ksi",
    "_psi": "psi",
    "_psf": "lb/ft2",
    "_deg": "deg",
    "_ft": "ft",
    "_g": "g",
}
_RATIO = re.compile(r"(\w)_over_(\w)")
_WORDS = {
    "wll": "WLL",
    "mbf": "MBF",
    "ips": "IPS",
    "eip": "EIP",
    "eips": "EIPS",
    "fc": "FC",
    "iwrc": "IWRC",
    "hss": "HSS",
    "fy": "Fy",
    "fu": "Fu",
    "fexx": "F_EXX",
    "osha": "OSHA",
    "aashto": "AASHTO",
    "asce7": "ASCE 7",
    "aisc": "AISC",
    "wac": "WAC",
    "b30": "B30",
}


@dataclass(frozen=True, slots=True)
class TableRow:
    """One row as text, with where it comes from.

    Attributes:
        cells: One text per column of the block; empty where the row has none.
        source: Document.
        clause: Place in it.
        known: "seen" or "memory".
        note: What else to mind.
    """

    cells: tuple[str, ...]
    source: str
    clause: str
    known: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class TableBlock:
    """One table.

    Attributes:
        file: Table file it is in.
        name: Its name there.
        subject: What its file is about.
        columns: Column headings with units.
        rows: Rows.
        source: Document, of the block as a whole; empty where each row has its own.
        clause: Place in it.
        known: "seen" or "memory"; "seen and memory" where rows differ.
        note: What else to mind.
    """

    file: str
    name: str
    subject: str
    columns: tuple[str, ...]
    rows: tuple[TableRow, ...]
    source: str
    clause: str
    known: str
    note: str = ""

    @property
    def title(self) -> str:
        """Title for people, what its file is about before it."""
        return f"{self.subject}: {_heading(self.name)}"


@cache
def blocks() -> tuple[TableBlock, ...]:
    """Return every published table, in the order of the files."""
    return tuple(block for file in NAMES for block in _file_blocks(file))


def search(words: Iterable[str]) -> tuple[TableBlock, ...]:
    """Return the tables that hold all of the words, upper and lower case alike.

    A table whose own title, name, source or note holds them all comes whole; of any other, the rows come that hold
    the words its title does not.

    Args:
        words: Words or parts of words; none gives every table.
    """
    wanted = [word.casefold() for part in words for word in part.split()]
    found = []
    for block in blocks():
        heading = " ".join((block.file, block.name, block.title, block.source, block.clause, block.note)).casefold()
        rest = [word for word in wanted if word not in heading]
        if not rest:
            found.append(block)
            continue
        rows = tuple(row for row in block.rows if all(word in _row_text(row) for word in rest))
        if rows:
            found.append(replace(block, rows=rows))
    return tuple(found)


def _row_text(row: TableRow) -> str:
    return " ".join((*row.cells, row.source, row.clause, row.note)).casefold()


def _file_blocks(file: str) -> Iterator[TableBlock]:
    data = load(file)
    for name, block in data.items():
        if isinstance(block, str):
            continue
        subject = data["title"]
        if isinstance(block, list):
            yield _listed(file, name, subject, block, {})
            continue
        facts = {key: value for key, value in block.items() if key not in (*_ORIGIN, *_ROWS)}
        for key in _ROWS:
            if key in block:
                yield _listed(file, name, subject, block[key], block)
        if facts or not any(key in block for key in _ROWS):
            yield _facts(file, name, subject, facts, block)


def _listed(file: str, name: str, subject: str, rows: list[dict[str, Any]], block: Mapping[str, Any]) -> TableBlock:
    keys = tuple(dict.fromkeys(key for row in rows for key in row if key not in _ORIGIN))
    lines = tuple(
        TableRow(
            cells=tuple(_text(row[key]) if key in row else "" for key in keys),
            source=row.get("source", block.get("source", "")),
            clause=row.get("clause", block.get("clause", "")),
            known=row.get("known", block.get("known", "")),
            note=row.get("note", ""),
        )
        for row in rows
    )
    return TableBlock(
        file=file,
        name=name,
        subject=subject,
        columns=tuple(_heading(key) for key in keys),
        rows=lines,
        source=block.get("source", ""),
        clause=block.get("clause", ""),
        known=" and ".join(sorted({line.known for line in lines}, reverse=True)),
        note=block.get("note", ""),
    )


def _facts(file: str, name: str, subject: str, facts: Mapping[str, Any], block: Mapping[str, Any]) -> TableBlock:
    origin = (block["source"], block["clause"], block["known"])
    return TableBlock(
        file=file,
        name=name,
        subject=subject,
        columns=("item", "value"),
        rows=tuple(TableRow((_heading(key), _text(value)), *origin) for key, value in facts.items()),
        source=origin[0],
        clause=origin[1],
        known=origin[2],
        note=block.get("note", ""),
    )


def _heading(key: str) -> str:
    ratio = _RATIO.fullmatch(key)
    if ratio:  # of two lengths, and the letter after the bar is no unit
        above, below = ratio.groups()
        return f"{above.upper() if above == below else above}/{below}"
    unit = next((ending for ending in _UNITS if key.endswith(ending)), "")
    words = key.removesuffix(unit).replace("_", " ").split()
    said = " ".join(_WORDS.get(word, word) for word in words)
    return f"{said} [{_UNITS[unit]}]" if unit else said


def _text(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:.10g}"
    if isinstance(value, list):
        return ", ".join(_text(one) for one in value)
    if isinstance(value, dict):
        return "; ".join(f"{key}: {_text(one)}" for key, one in value.items())
    return str(value)
