"""A line of the weight take-off: a piece of the empty box, and what it is cut from."""

from __future__ import annotations

from dataclasses import dataclass

from rigcheck.arrays.types import Array
from rigcheck.wording.marks import Mark, Sourced

ALLOWANCE_SOURCE = Sourced("share of the steel above", mark=Mark.OWN)
"""Where the weight of what is not listed comes from."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Cut:
    """What a line of the take-off is cut from.

    Attributes:
        name: What it is called on a cutting list.
        key: The key of the case that describes it.
        stock: Name of the shape; empty for sheet.
        sheet: Thickness of the sheet, shape (...); None for a shape. [in]
        count: Pieces alike, shape (...).
        length: Length of one, shape (...). [in]
        across: Width of one, shape (...); None for a shape. [in]
        steel: Its grade as the case has it.
    """

    name: str
    key: str
    stock: str = ""
    sheet: Array | None = None
    count: Array | int
    length: Array
    across: Array | None = None
    steel: str


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Piece:
    """One line of the weight take-off.

    Attributes:
        id: What it is known by, such as `side_walls`; `fitting.0` and so on for what the user lists.
        name: What it is.
        weight: Shape (...). [lbf]
        s: Centroid along the floor, shape (...). [in]
        y: Centroid across, shape (...). [in]
        n: Centroid above the floor, shape (...). [in]
        spread: True where it runs the whole length, False for a lump.
        source: Where the weight comes from.
        weighed: True for what the user weighed, which no allowance is put on.
        cut: What it is cut from; None for what is no steel of its own.
        reach: The stretch it belongs to, counted from 0; None where it runs the whole length or stands at one place.
    """

    id: str
    name: str
    weight: Array
    s: Array
    y: Array
    n: Array
    spread: bool
    source: str
    weighed: bool = False
    cut: Cut | None = None
    reach: int | None = None
