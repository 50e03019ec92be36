"""The box and what it is made of: plates, rails, cross-members, mats, fittings."""

from typing import Annotated, Literal

from rigcheck.case.schema.kinds import Quantity, ShapeName, SteelName, Whole, Words
from rigcheck.case.schema.sections import Section, asked_outside, key, or_lowest, usual_key

Side = Annotated[float, Quantity("length", "0 in", "48 in", above=True)]
Sheet = Annotated[float, Quantity("thickness", "0.01 in", "1 in")]
Leg = Annotated[float, Quantity("length", "1/16 in", "1 in")]
Shape = Annotated[str, ShapeName()]
Steel = Annotated[str, SteelName()]
Text = Annotated[str, Words()]
Count = Annotated[int, Whole(1, 6)]
Station = Annotated[float, Quantity("length", "-400 in", "400 in")]
Extent = Annotated[float, Quantity("length", "0 in", "400 in", above=True)]
UNKNOWN_STEEL = "assumption: unmarked scrap, taken at the lowest grade of the table"


def steel_key() -> str:
    """Every steel key is declared alike."""
    name: str = key("grade of the steel; see `rigcheck tables steel`", default="unknown", source=UNKNOWN_STEEL)
    return name


class Box(Section):
    """The sheet-steel box."""

    length: Annotated[float, Quantity("length", "12 in", "400 in")] = key(
        "hinge to tail, along the floor", example="10 ft"
    )
    width: Annotated[float, Quantity("length", "6 in", "120 in")] = key("inside width", example="30 in")
    side_height: Annotated[float, Quantity("length", "1 in", "48 in")] = key("floor to top of the side", example="7 in")
    pitch: Annotated[float, Quantity("pitch", "0 deg", "45 deg")] = asked_outside(
        "1/4 in/ft", "4 in/ft", key("fall toward the tail when deployed", example="1 1/4 in/ft"), none_at_zero=False
    )
    sheet: Sheet = key("thickness of the floor sheet", example="12 ga")
    side_sheet: Sheet | None = key("thickness of the sides", default=None, example="14 ga", derived="as box.sheet")
    channels: Count = key("channels side by side; dividers stand between them", default=1, source="undivided box")
    divider_height: Side | None = asked_outside(
        "1/2 in", "48 in", key("height of the dividers", default=None, example="6 in", derived="as box.side_height")
    )
    divider_sheet: Sheet | None = key(
        "thickness of the dividers", default=None, example="14 ga", derived="as box.sheet"
    )
    allowance: Annotated[float, Quantity("fraction", "0 %", "50 %")] = usual_key(
        "added to all fabricated steel for welds, paint and miscellaneous parts",
        default="8 %",
        source="assumption: common shop practice, no published source",
    )
    steel: Steel = steel_key()


class Seam(Section):
    """A seam along the rail: how stiffener and side, or side and floor, are joined."""

    made: Literal["continuous", "stitch", "bent"] = key(
        "continuous weld, stitch weld, or none because side and floor are bent from one sheet", example="continuous"
    )
    leg: Leg | None = key("fillet leg", default=None, example="1/8 in")
    length: Extent | None = key("length of one stitch", default=None, example="2 in")
    pitch: Extent | None = key("middle to middle of two stitches", default=None, example="4 in")
    sides: Annotated[int, Whole(1, 2)] = key(
        "runs of weld side by side, one each side of the sheet, stitched alike",
        default=1,
        source="assumption: welded from one side",
    )


class Rail(Section):
    """One of the two longitudinal side beams: side wall plus stiffener plus a strip of floor."""

    stiffener: Shape | None = key(
        "shape welded along the side; omit when the side wall is the whole rail; without a [rail] table the rail is "
        "not assessed",
        default=None,
        example="HSS1-1/2x1-1/2x1/8",
        derived="no stiffener",
    )
    at: Literal["top", "cap", "bottom", "under"] = key(
        "where the stiffener sits: outside the side flush with its top, on its edge, outside flush with the floor, "
        "or below the floor",
        default="top",
        source="assumption: stiffener outside the side, flush with its top",
    )
    effective_floor_width: Annotated[float, Quantity("length", "0 in", "60 in")] = key(
        "width of floor counted with each rail", default="0 in", source="assumption: none, the careful choice"
    )
    spacing: Annotated[float, Quantity("length", "6 in", "140 in")] | None = key(
        "center to center of the two rails",
        default=None,
        example="31 in",
        derived="as box.width plus one side sheet",
    )
    steel: Steel = steel_key()
    wall_seam: Seam | None = key("stiffener to side wall; not assessed when omitted", default=None)
    floor_seam: Seam | None = key("side wall to floor; not assessed when omitted", default=None)
    sag_limit: Annotated[float, Quantity("number", 50, 2000)] = key(
        "span divided by this is the most sag", default=240, source="assumption: common serviceability limit"
    )
    tail_limit: Annotated[float, Quantity("number", 50, 2000)] = key(
        "twice the overhang divided by this is the most tail drop",
        default=240,
        source="assumption: common serviceability limit for overhangs",
    )
    roll_reported: Annotated[float, Quantity("pitch", "0 deg", "5 deg")] = key(
        "roll of the box on one line above which it is reported",
        default="2 deg",
        source="assumption: as far as the plant is taken to lean; no published limit",
    )
    roll_limit: Annotated[float, Quantity("pitch", "0 deg", "5 deg")] = key(
        "roll of the box on one line that stops a rig",
        default="5 deg",
        source="assumption: an inch in a foot; no published limit",
    )


class CrossMember(Section):
    """Equal members across the box, which carry the floor to the rails."""

    shape: Shape = key("shape of every cross-member", example="HSS1-1/2x1-1/2x1/8")
    spacing: Annotated[float, Quantity("length", "2 in", "200 in")] = key(
        "center to center along the box", example="20 in"
    )
    at: Literal["under", "top"] = key(
        "under the floor, or across the top of the sides", default="under", source="usual place"
    )
    steel: Steel = steel_key()
    weld: Leg | None = key(
        "fillet leg that joins each end to floor or rail: two runs along it, all round where its end meets a stiffener",
        default=None,
        example="3/16 in",
    )
    weld_length: Annotated[float, Quantity("length", "1/2 in", "60 in")] | None = key(
        "length of each of the two runs at an end, along the member from the side inward",
        default=None,
        example="4 in",
        derived="width of a stiffener on top of the sides that the member lies on; not known under the floor",
    )


class EndTube(Section):
    """A member across the box at its ends."""

    shape: Shape = key("shape of the end tubes", example="HSS1-1/2x1-1/2x1/8")
    head: bool = or_lowest(False, key("one at the head", default=True, source="assumption: both ends are framed"))
    tail: bool = or_lowest(False, key("one at the tail", default=True, source="assumption: both ends are framed"))


class Mat(Section):
    """Matting and riffles on the floor."""

    weight: Annotated[float, Quantity("area load", "0 psf", "50 psf")] = asked_outside(
        "0.3 psf", "20 psf", key("weight of wet mats and riffles on each square foot they cover", example="1.4 lb/ft2")
    )
    coverage: Annotated[float, Quantity("fraction", "0 %", "100 %")] = key(
        "share of the floor they cover", default="100 %", source="assumption: the whole floor"
    )


class Fitting(Section):
    """A lump of weight on the box: flare, catch trough, spray bar, motor."""

    name: Text = key("what it is", example="catch trough")
    weight: Annotated[float, Quantity("force", "0 lb", "5000 lb", above=True)] = asked_outside(
        "1 lb", "1000 lb", key("its weight", example="32 lb")
    )
    at: Station = key("its center of gravity along the floor from the hinge", example="9 ft 10 in")
    across: Annotated[float, Quantity("length", "-100 in", "100 in")] = key(
        "its center of gravity left of the middle", default="0 in", source="assumption: on the middle"
    )
    height: Annotated[float, Quantity("length", "-100 in", "100 in")] = key(
        "its center of gravity above the floor", default="0 in", source="assumption: at the floor"
    )
