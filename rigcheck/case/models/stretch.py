"""The box in stretches from head to tail: what differs along it, and how each stretch joins the one before."""

from typing import Annotated, Literal

from rigcheck.case.models.box import Leg, Shape, Sheet, Side, Steel, steel_key
from rigcheck.case.schema.kinds import Quantity, Whole
from rigcheck.case.schema.sections import Section, key

Width = Annotated[float, Quantity("length", "6 in", "120 in")]
Piece = Annotated[float, Quantity("length", "1 in", "400 in")]


class StretchJoint(Section):
    """How both rails of a stretch are joined to those of the stretch before it."""

    made: Literal["welded", "bolted"] = key(
        "side walls welded end to end, or flanges across the box bolted together", example="welded"
    )
    leg: Leg | None = key(
        "fillet leg up one face of each side wall, from wall to wall or from wall to flange", default=None,
        example="1/8 in",
    )  # fmt: skip
    weld_length: Annotated[float, Quantity("length", "1/2 in", "48 in")] | None = key(
        "length of that weld up each side wall, from the floor",
        default=None,
        example="7 in",
        derived="the lower of the two side walls",
    )
    stiffener: bool = key(
        "whether the stiffeners' ends are welded all round with the same leg",
        default=False,
        source="assumption: not welded, the careful choice",
    )
    floor: bool = key(
        "whether the floors are welded with the same leg all across",
        default=False,
        source="assumption: not welded, the careful choice",
    )
    count: Annotated[int, Whole(2, 12)] | None = key("bolted: bolts in one row up each side", default=None, example=4)
    size: Annotated[float, Quantity("length", "1/4 in", "1 in")] | None = key(
        "bolted: diameter of the bolts", default=None, example="1/2 in"
    )
    grade: Literal["A307", "A325", "A490"] | None = key(
        "bolted: grade of the bolts, threads counted in the shear plane",
        default=None,
        example="A325",
        derived="A307, the lowest of the table",
    )
    pitch: Piece | None = key("bolted: middle to middle of the bolts, upward", default=None, example="2 in")
    first: Annotated[float, Quantity("length", "-12 in", "48 in")] | None = key(
        "bolted: lowest bolt above the floor", default=None, example="1 in"
    )
    flange: Sheet | None = key("bolted: thickness of each flange", default=None, example="3/8 in")
    flange_steel: Steel = steel_key()
    gauge: Annotated[float, Quantity("length", "1/4 in", "6 in")] | None = key(
        "bolted: from the side wall to the middle of the bolts", default=None, example="1 1/4 in"
    )


class Stretch(Section):
    """One piece of the box, from its head to its tail; what is left out is as in [box] and [rail]."""

    length: Piece = key("along the floor; all stretches together are box.length", example="30 in")
    width: Width | None = key(
        "inside width at its head",
        default=None,
        example="22 in",
        derived="width at the tail of the stretch before; of the first one box.width",
    )
    width_tail: Width | None = key(
        "inside width at its tail, where the sides run apart or together", default=None, example="34 in",
        derived="as its head",
    )  # fmt: skip
    side_height: Side | None = key("floor to top of its sides", default=None, example="12 in",
                                   derived="as box.side_height")  # fmt: skip
    sheet: Sheet | None = key("thickness of its floor", default=None, example="10 ga", derived="as box.sheet")
    side_sheet: Sheet | None = key(
        "thickness of its sides", default=None, example="12 ga", derived="as box.side_sheet, else as its floor"
    )
    stiffener: Shape | None = key(
        "stiffener of its rails", default=None, example="HSS2x2x1/8", derived="as rail.stiffener"
    )
    joint: StretchJoint | None = key(
        "how it joins the stretch before; not assessed when omitted, and none for the first", default=None
    )
