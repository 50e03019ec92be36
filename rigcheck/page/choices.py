"""Names that the tables know, to be picked from a list: shapes, steels, sizes of rated parts with their rating."""

from __future__ import annotations

from functools import cache

from rigcheck.case.schema.kinds import Kind, ShapeName, SteelName
from rigcheck.output.html_page import words
from rigcheck.tables.shape_names import label

SHAPES, STEELS = "shapes", "steels"


def list_of(path: str, kind: Kind | None) -> str:
    """Id of the list that a field picks from; empty for none."""
    if isinstance(kind, ShapeName):
        return SHAPES
    if isinstance(kind, SteelName):
        return STEELS
    head, _, last = path.rpartition(".")
    return f"link-{last}" if head.startswith(("line.", "second_line.")) and last in _LINK else ""


@cache
def lists_html() -> str:
    """Every list, once for a page."""
    from rigcheck.tables.shapes import listed_names
    from rigcheck.tables.steel import grade, names

    steels = [(name, "taken at the lowest grade" if name == "unknown" else f"Fy {grade(name).fy / 1000.0:g} ksi")
              for name in names()]  # fmt: skip
    found = {SHAPES: [(name, "") for name in listed_names()], STEELS: steels}
    found |= {f"link-{key}": make() for key, make in _LINK.items()}
    return "".join(f'<datalist id="{name}">{_options(rows)}</datalist>' for name, rows in found.items())


def _options(rows: list[tuple[str, str]]) -> str:
    return "".join(
        f'<option value="{words(value)}">{words(said)}</option>' if said else f'<option value="{words(value)}">'
        for value, said in rows
    )


def _sizes() -> list[tuple[str, str]]:
    """Trade sizes with what they are rated for, shackles and chain; a mark on the part goes before any of them."""
    from rigcheck.tables.hardware import chain, chain_sizes, shackle, shackle_sizes

    said: dict[float, list[str]] = {}
    for size in shackle_sizes("carbon"):
        said.setdefault(size, []).append(f"carbon shackle {shackle(size, grade='carbon').wll:,.0f} lb")
    for grade in ("70", "80", "100"):
        for size in chain_sizes(grade):
            said.setdefault(size, []).append(f"chain grade {grade} {chain(size, grade=grade).wll:,.0f} lb")
    return [(f"{label(size)} in", "; ".join(texts)) for size, texts in sorted(said.items())]


def _grades() -> list[tuple[str, str]]:
    return [
        ("carbon", "shackle"),
        ("alloy", "shackle"),
        *((grade, "chain") for grade in ("30", "43", "70", "80", "100")),
    ]


def _ropes() -> list[tuple[str, str]]:
    from rigcheck.tables.rope import tables

    return [(name, "") for name in tables()]


def _diameters() -> list[tuple[str, str]]:
    from rigcheck.tables.rope import diameters, rope, tables

    first = tables()[0]
    return [(f"{label(size)} in", f"6x19 fiber core breaks at {rope(first, diameter=size).mbf:,.0f} lb")
            for size in diameters(first)]  # fmt: skip


_LINK = {"size": _sizes, "grade": _grades, "table": _ropes, "diameter": _diameters}
