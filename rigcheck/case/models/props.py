"""Further supports of the hung box that may be compared with it: a leg at the tail, a second pair of lines."""

from typing import Annotated

from rigcheck.case.models.box import Extent, Station
from rigcheck.case.models.support import Link, Rating
from rigcheck.case.schema.kinds import Quantity
from rigcheck.case.schema.sections import Section, asked_outside, key

Clear = Annotated[float, Quantity("length", "0 in", "6 in")]


class TailLeg(Section):
    """A leg under each rail, on the ground or the plant. `rigcheck props` compares it; no check counts on it."""

    at: Extent = key("along the floor from the hinge", example="8 ft 5 in")
    gap: Clear = key(
        "between leg and empty box when it is set", default="0 in", source="assumption: set snug under the empty box"
    )
    stiffness: Annotated[float, Quantity("stiffness", "100 lb/in", "10000000 lb/in")] | None = asked_outside(
        "200 lb/in",
        "200000 lb/in",
        key(
            "push for an inch of give, one leg with what it stands on",
            default=None,
            example="4000 lb/in",
            derived="anything from giving way to rigid",
        ),
    )
    capacity: Rating | None = asked_outside(
        "50 lb", "20000 lb", key("most that one leg may carry", default=None, example="1600 lb")
    )


class SecondLine(Section):
    """A second pair of lines, as far apart as the first. `rigcheck props` compares it; no check counts on it."""

    at: Extent = key("its hangers along the floor from the hinge", example="8 ft 2 in")
    height: Annotated[float, Quantity("length", "-48 in", "100 in")] | None = key(
        "their holes above the floor", default=None, example="7 in", derived="as hanger.height"
    )
    downstream: Station = key("its perch lugs from the hinge axis, level, downstream positive", example="-26 in")
    perch_height: Annotated[float, Quantity("length", "-400 in", "400 in")] | None = key(
        "its perch lugs above the hinge axis", default=None, example="92 in", derived="as perch.height"
    )
    slack: Clear = key(
        "how much longer than snug on the empty box", default="0 in", source="assumption: snug on the empty box"
    )
    link: tuple[Link, ...] = key(
        "its links, one [[second_line.link]] each; those of the first line where none is given", default=()
    )
