"""What moves along when one key of a rig is varied, in numbers and in words."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np

from rigcheck.arrays.types import Array
from rigcheck.case.models.case import Case
from rigcheck.case.rig import Rig, varied
from rigcheck.loads.sharing import pivots
from rigcheck.studies.vary.case import other_box, with_values

Hanger = Literal["fraction", "fixed"]

_FIXED = "everything else stays as it is in the case"


@dataclass(frozen=True, slots=True)
class Move:
    """A batch over one key with all that moves along.

    Attributes:
        rig: The batch.
        words: What moves and what stays, in sentences.
    """

    rig: Rig
    words: tuple[str, ...]


Found = tuple[dict[str, Array], list[str]]


def moved(rig: Rig, *, key: str, values: Array, hanger: Hanger = "fraction") -> Move:
    """The rig over values of one key.

    Args:
        rig: One rig.
        key: Path as a rig knows it.
        values: Shape (design,) or (). [inside units]
        hanger: Over the length, whether the hanger keeps its fraction of the length or its place.

    Returns:
        The batch and the rules by which it was made.

    Source: rules of our own, as a shop would build it.
    """
    values = np.asarray(values, dtype=np.float64)
    changes: dict[str, Array] = {key: values}
    words: list[str] = []
    if key == "box.length":
        more, told = _along(rig, values, hanger=hanger)
    else:
        more, told = _RULES.get(key, _nothing)(rig, values)
    changes |= more
    words += told
    start, scale = rig, other_box(rig.case, key)
    if scale:
        start = Rig(with_values(rig.case, scale), rig.varied)
        words.append("measured weights are left out: they are those of the box as it was weighed")
    return Move(varied(start, changes), (*words, _FIXED))


def _nothing(rig: Rig, values: Array) -> Found:
    return {}, []


def _along(rig: Rig, values: Array, *, hanger: Hanger) -> Found:
    """The length: perch where it is, hanger by its rule, what sits past the hanger goes with the tail."""
    length, at = rig.number("box.length"), rig.number("hanger.at")
    changes: dict[str, Array] = {}
    words = []
    if hanger == "fraction":
        changes["hanger.at"] = at * values / length
        words.append(f"the hanger stays at {100.0 * float(at / length):.4g} % of the length")
    else:
        words.append("the hanger stays where it is")
    words.append("the perch stays where it is")
    for i, fitting in enumerate(rig.case.fitting):
        if fitting.at >= float(at):
            changes[f"fitting.{i}.at"] = rig.number(f"fitting.{i}.at") + values - length
    if rig.case.fitting:
        words.append("fittings at or past the hanger keep their distance from the tail, the others their place")
    for key in ("tail_leg.at", "second_line.at"):
        if rig.has(key):
            changes[key] = rig.number(key) + values - length
    if rig.case.tail_leg is not None or rig.case.second_line is not None:
        words.append("a tail leg and the hangers of a second pair keep their distance from the tail")
    for i in range(len(rig.case.stretch)):
        changes[f"stretch.{i}.length"] = rig.number(f"stretch.{i}.length") * values / length
    if rig.case.stretch:
        words.append("all stretches grow and shrink in one proportion")
    if rig.case.cross_member is not None:
        words.append("cross-members keep their spacing, so that their number changes")
    words += [f"{name} keep their places" for name, there in _STAYING if there(rig.case)]
    return changes, words


_STAYING: tuple[tuple[str, Callable[[Case], bool]], ...] = (
    ("traps and a gate", lambda case: bool(case.trap or case.gate)),
    ("tie-downs and stops", lambda case: bool(case.haul.tie_down or case.haul.stop)),
)


def _across(rig: Rig, values: Array) -> Found:
    """The width: what stands at the sides goes out with them."""
    grown = values - rig.number("box.width")
    every = ("hanger.spacing", "perch.spacing", "rail.spacing")
    keys = [key for key in (every if pivots(rig) else ("hinge.spacing", *every)) if rig.has(key)]
    parts = ", ".join(key.partition(".")[0] for key in keys)
    return {key: rig.number(key) + grown for key in keys}, [f"{parts}: spacings keep their distance from the sides"]


def _up(rig: Rig, values: Array) -> Found:
    """The sides: what sits at their top goes up with them."""
    side = rig.number("box.side_height")
    changes: dict[str, Array] = {}
    words = []
    if float(rig.number("hanger.height")) >= 0.5 * float(side):
        changes["hanger.height"] = rig.number("hanger.height") + values - side
        words.append("the hanger keeps its distance from the top of the sides")
    else:
        words.append("the hanger keeps its height above the floor")
    if rig.has("box.divider_height"):
        changes["box.divider_height"] = rig.number("box.divider_height") * values / side
        words.append("dividers keep their share of the side height")
    return changes, words


def _perch_up(rig: Rig, values: Array) -> Found:
    """The perch: its post grows with it, its foot stays."""
    if not rig.has("perch.post.free_length"):
        return {}, []
    grown = values - rig.number("perch.height")
    changes = {"perch.post.free_length": rig.number("perch.post.free_length") + grown}
    words = ["the post grows with its lug, its base stays"]
    if rig.has("perch.post.brace.foot_below"):
        changes["perch.post.brace.foot_below"] = rig.number("perch.post.brace.foot_below") + grown
        words.append("the foot of the brace stays, its top keeps its distance from the lug")
    return changes, words


_RULES: Mapping[str, Callable[[Rig, Array], Found]] = {
    "box.width": _across,
    "box.side_height": _up,
    "perch.height": _perch_up,
}
