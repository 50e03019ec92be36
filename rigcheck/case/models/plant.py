"""The plant that carries the box: how it leans, what it weighs and stands on, its wheels and tongue for the road."""

from typing import Annotated

from rigcheck.case.models.box import Text
from rigcheck.case.schema.kinds import Quantity
from rigcheck.case.schema.sections import Section, key, usual_key

Slope = Annotated[float, Quantity("pitch", "0 deg", "15 deg")]
Along = Annotated[float, Quantity("length", "-1000 in", "1000 in")]
Aside = Annotated[float, Quantity("length", "-200 in", "200 in")]
Level = Annotated[float, Quantity("length", "-400 in", "400 in")]


class Foot(Section):
    """What the plant stands on at work: a jack, a block, a skid's corner, a wheel that is left to carry."""

    name: Text | None = key("what the shop calls it", default=None, example="left tail jack")
    downstream: Along = key("its middle from the hinge axis, level; negative is upstream", example="-10 in")
    across: Aside = key("its middle left of the middle of the box", example="32 in")
    height: Level | None = key(
        "its sole above the hinge axis; negative is below",
        default=None,
        example="-46 in",
        derived="hinge.above_ground below the hinge axis; not assessed where neither is given",
    )


class Wheels(Section):
    """The plant as a trailer: one axle, or several that share alike and count as one in their middle."""

    axle: Along = key("middle of the axles from the hinge axis, level; negative is upstream", example="-62 in")
    tongue: Along = key("coupling from the hinge axis, level; negative is upstream", example="-190 in")
    track: Annotated[float, Quantity("length", "20 in", "160 in")] = key(
        "middle of the left wheels to middle of the right ones", example="64 in"
    )


class Plant(Section):
    """The machine the box is hung from."""

    cross_slope: Slope = usual_key(
        "how far the plant leans sideways",
        default="2 deg",
        source="assumption: a plant set by eye on a pit floor",
    )
    fore_aft_slope: Slope = usual_key(
        "how far the plant leans toward the head or the tail of the box",
        default="2 deg",
        source="assumption: a plant set by eye on a pit floor",
    )
    weight: Annotated[float, Quantity("force", "50 lb", "200000 lb")] | None = key(
        "the plant without the box and all that is in it, posts with it, hopper and tanks empty; tipping is not "
        "assessed when omitted",
        default=None,
        example="3650 lb",
    )
    cg_downstream: Along | None = key(
        "its center of gravity from the hinge axis, level; negative is upstream", default=None, example="-64 in"
    )
    cg_across: Aside = key(
        "its center of gravity left of the middle of the box",
        default="0 in",
        source="assumption: on the middle",
    )
    cg_height: Level | None = key(
        "its center of gravity above the hinge axis; negative is below", default=None, example="-6 in"
    )
    foot: tuple[Foot, ...] = key("what it stands on at work, one [[plant.foot]] each, three at least", default=())
    wheels: Wheels | None = None
