"""What a rig is made of, as records: pieces to cut, welds to lay, hardware to buy, and what is not described."""

from __future__ import annotations

from dataclasses import dataclass

BOX, ON_BOX, ON_PLANT = "box", "on_box", "on_plant"
"""Where a piece belongs: in the take-off, on the box and so within its allowance, on the plant and in neither."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPiece:
    """One line of the cutting list.

    Attributes:
        key: The key of the case that describes it.
        name: What it is.
        place: One of `BOX`, `ON_BOX`, `ON_PLANT`.
        stock: Shape, or plate with its thickness.
        sheet: Thickness of sheet or plate; None for a shape. [in]
        count: Pieces alike.
        length: Length of one. [in]
        across: Width of one; None for a shape. [in]
        weight: Of all of them. [lbf]
        steel: Grade as the case has it; empty where no key names it.
        deduction: How the length was counted, and what was taken off for the joints.
    """

    key: str
    name: str
    place: str
    stock: str
    sheet: float | None = None
    count: int
    length: float
    across: float | None = None
    weight: float
    steel: str
    deduction: str


@dataclass(frozen=True, slots=True, kw_only=True)
class WeldRun:
    """Fillet welds alike.

    Attributes:
        key: The key of the case that describes their leg.
        name: What they join.
        leg: Leg. [in]
        count: Runs alike.
        run: Length of one. [in]
        deposit: Weld metal of all of them. [lbf]
        electrode: Electrodes to buy for them. [lbf]
    """

    key: str
    name: str
    leg: float
    count: int
    run: float
    deposit: float
    electrode: float

    @property
    def length(self) -> float:
        """Length of all runs. [in]"""
        return self.count * self.run


@dataclass(frozen=True, slots=True, kw_only=True)
class Bought:
    """Hardware to buy.

    Attributes:
        key: Its row in the case.
        name: What the checks call it.
        count: How many on both lines.
        size: Trade size or diameter, None where none is given. [in]
        wll: Working load limit as marked, None where none is given. [lbf]
        mbf: Breaking strength as published, None where none is given. [lbf]
        least: Least mark that will do, of a hoist; None for other parts. [lbf]
        most: Largest mark at which a snagged box breaks nothing; None where nothing of that is known. [lbf]
        demand: Its highest demand where it is used most, None where that is no force or not assessed. [lbf]
        allowable: What it may carry there. [lbf]
        utilization: Demand over allowable there, None where it is not assessed. [1]
        ultimate: Whether that is held against strength and not against a working limit.
    """

    key: str
    name: str
    count: int
    size: float | None = None
    wll: float | None = None
    mbf: float | None = None
    least: float | None = None
    most: float | None = None
    demand: float | None = None
    allowable: float | None = None
    utilization: float | None = None
    ultimate: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Carried:
    """A weight of the empty box that nothing is cut for: mats, fittings, the allowance, what a scale found more."""

    name: str
    weight: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Materials:
    """The whole list of one rig.

    Attributes:
        pieces: Pieces to cut.
        carried: The rest of the empty box.
        welds: Welds to lay.
        bought: Hardware.
        empty: Weight of the empty box, of the take-off. [lbf]
        missing: What is not described and so not in the list.
    """

    pieces: tuple[CutPiece, ...]
    carried: tuple[Carried, ...]
    welds: tuple[WeldRun, ...]
    bought: tuple[Bought, ...]
    empty: float
    missing: tuple[str, ...]

    def weight(self, place: str) -> float:
        """Steel of one place. [lbf]"""
        return sum(piece.weight for piece in self.pieces if piece.place == place)
