"""What a case leaves out without naming a part: states that then never come, and what stands in its place."""

from __future__ import annotations

from dataclasses import dataclass

from rigcheck.analysis.missing import Missing
from rigcheck.case.rig import Rig
from rigcheck.parts.cross_member.forces import head_shape


@dataclass(frozen=True, slots=True)
class Taken:
    """What is taken for a key that was left out.

    Attributes:
        key: Key path as in a case file.
        value: What was taken, in words.
        source: What that means.
        defaulted: False where the case says so itself.
    """

    key: str
    value: str
    source: str
    defaulted: bool = True


def water_not_assessed(rig: Rig) -> list[Missing]:
    """The states with water in the box, where nothing is said of any."""
    if rig.has("water.flow"):
        return []
    text = (
        "running, surge and plugged, with all their water: the case has no [water] table; a plant that never sees any"
        ' says flow = "0 gpm"'
    )
    return [Missing(text, id="water.flow", group="line")]


def taken_in_place(rig: Rig, *, hauled: bool) -> list[Taken]:
    """What is taken where no tube stands across the head and nothing is said of the height on the road.

    Args:
        rig: One rig.
        hauled: Whether the folded box is looked at.
    """
    found = []
    head = rig.has("end_tube.shape") and rig.value("end_tube.head")
    shape = head_shape(rig)
    if not head and shape is not None:
        found.append(
            Taken("end_tube.head", f"none: a cross-member ({shape.name}) at the hinge",
                  "assumption: the first cross-member stands at the hinge and carries its barrels; it is checked for"
                  " them as the head cross-member", defaulted=not rig.has("end_tube.shape"))
        )  # fmt: skip
    if hauled and not rig.has("haul.hinge_above_road"):
        found.append(
            Taken("haul.hinge_above_road", "not given",
                  "not assessed: height and width of the folded box against the limits of the road are not looked at")
        )  # fmt: skip
    return found
