"""What a case leaves out without naming a part: states that then never come, and what stands in its place."""

from __future__ import annotations

from dataclasses import dataclass

from rigcheck.analysis.missing import Missing
from rigcheck.case.rig import Rig
from rigcheck.case.tacks import is_tacked
from rigcheck.loads.traps import Trap, traps
from rigcheck.parts.cross_member.forces import head_shape
from rigcheck.quantities import write


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
    if rig.has("water.flow") or is_tacked(rig.case):
        return []
    text = (
        "running, surge and plugged, with all their water: the case has no [water] table; a plant that never sees any"
        ' says flow = "0 gpm"'
    )
    return [Missing(text, id="water.flow", group="line")]


def taken_in_place(rig: Rig, *, hauled: bool) -> list[Taken]:
    """What is taken where no tube stands across the head, of traps, and where no height on the road is given.

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
    for one in traps(rig):
        found += _of_trap(rig, one)
    if rig.value("gate"):
        found.append(
            Taken("gate[1].at", "held back: gravel to its top from the hinge on, the water over that",
                  "assumption: its slot plugged; going, it sends a wave of 4/9 of that depth (Ritter, memory)"
                  "; the plate and its guides are not looked at", defaulted=False)
        )  # fmt: skip
    if hauled and not rig.has("haul.hinge_above_road"):
        found.append(
            Taken("haul.hinge_above_road", "not given",
                  "not assessed: height and width of the folded box against the limits of the road are not looked at")
        )  # fmt: skip
    return found


def _of_trap(rig: Rig, one: Trap) -> list[Taken]:
    """What is taken of one trap where the case does not say it."""
    key, found = f"trap[{one.number + 1}]", []
    if not rig.has(f"{one.key}.density"):
        why = "assumption: the heaviest of common practice, 140 to 160 lb/ft3"
        if rig.value(f"{one.key}.holds") != "concentrate":
            why = "assumption: as bed.density, for sand settles in a trough up to the floor"
        found.append(Taken(f"{key}.density", write(float(one.density), dimension="density"), why))
    if not one.below:
        found.append(Taken(f"{key}.kind", "weight alone", "assumption: a plate across the floor stiffens nothing",
                           defaulted=False))  # fmt: skip
    return found
