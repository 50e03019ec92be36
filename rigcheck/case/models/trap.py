"""Traps and troughs across the floor, and gates that hold material back at the head."""

from typing import Annotated, Literal

from rigcheck.case.models.box import Leg, Sheet, Steel, Text, steel_key
from rigcheck.case.models.use import Soaked
from rigcheck.case.schema.kinds import Quantity
from rigcheck.case.schema.sections import Section, asked_outside, key

Size = Annotated[float, Quantity("length", "1/2 in", "12 in")]
Along = Annotated[float, Quantity("length", "0 in", "400 in")]


class Trap(Section):
    """A trap or a wash-down trough across the whole floor: what stands in it stays there."""

    name: Text | None = key("what the shop calls it", default=None, example="head trap")
    kind: Literal["half pipe", "angle", "plate"] = key(
        "half pipe or angle hung below a slot in the floor, both edges flush with it, or a plate that stands on the "
        "floor and holds back what lies behind it",
        example="half pipe",
    )
    at: Along = key("its middle along the floor from the hinge; of a plate its upstream face", example="14 in")
    diameter: Size | None = key("half pipe: inside diameter", default=None, example="4 in")
    leg: Size | None = key("angle: outside length of each leg, which slope 45 degrees", default=None, example="3 in")
    height: Size | None = key("plate: its height above the floor", default=None, example="2 in")
    wall: Sheet = key("thickness of pipe, legs or plate", example="1/8 in")
    steel: Steel = steel_key()
    holds: Literal["concentrate", "water and sand"] = key(
        "what stands in it", default="concentrate", source="assumption: the heavier of both"
    )
    density: Soaked | None = asked_outside(
        "118 lb/ft3",
        "220 lb/ft3",
        key(
            "saturated weight of that",
            default=None,
            example="150 lb/ft3",
            derived="160 lb/ft3 of concentrate; water and sand as bed.density, for sand settles in it up to the floor",
        ),
    )
    drained_to: Annotated[float, Quantity("length", "0 in", "12 in")] | None = key(
        "depth of what is left in it before the box hangs empty, folds or goes on the road",
        default=None,
        example="0 in",
        derived="full: a bung is forgotten and concentrate freezes in",
    )
    weld: Leg | None = key(
        "leg of the fillets along both edges, from pipe or angle to floor; not assessed when omitted",
        default=None,
        example="1/8 in",
    )
    weld_length: Annotated[float, Quantity("length", "1/2 in", "60 in")] | None = key(
        "length of each of the two runs at an end, from the side inward; not assessed when omitted",
        default=None,
        example="6 in",
    )
    cover: Sheet | None = key(
        "thickness of a plate over it, or of a floor that runs on over it, welded along both edges from side to side; "
        "only then it is closed and stiff in torsion",
        default=None,
        example="12 ga",
        derived="open",
    )


class Gate(Section):
    """A plate across the box that holds material back, with a slot under it."""

    name: Text | None = key("what the shop calls it", default=None, example="head gate")
    at: Along = key("where it stands along the floor from the hinge", example="12 in")
    height: Annotated[float, Quantity("length", "1/2 in", "48 in")] = key("its top above the floor", example="5 in")
    opening: Annotated[float, Quantity("length", "0 in", "24 in")] = key(
        "height of the slot under it", default="0 in", source="assumption: shut or plugged, which is heavier"
    )
    sheet: Sheet = key("thickness of the plate", example="3/16 in")
    steel: Steel = steel_key()
