"""What the report says about neighbouring rigs: a coarse curve over the length, and the case with one input moved."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from rigcheck.case.rig import varied
from rigcheck.check.assess import Assessment
from rigcheck.check.rows import OVER
from rigcheck.quantities import write
from rigcheck.studies.vary_batch import Judged, judge, kept
from rigcheck.studies.vary_follow import moved
from rigcheck.views.scale import Scale, ratio

Array = NDArray[np.float64]
Plain = dict[str, Any]

_SHORTER, _LONGER = (0.85, 0.93), (1.08, 1.17)  # times the length of the case: few, as each costs as much as a check
_MOVES = (("perch.height", 2.0), ("perch.forward", 2.0), ("hanger.at", 2.0), ("bed.depth", 1.0))  # in
_WORDS = {
    "perch.height": "perch lugs {} {}",
    "perch.forward": "perch lugs {} {}",
    "hanger.at": "hangers {} {}",
    "bed.depth": "bed {} {}",
}
_WAYS = {
    "perch.height": ("lower", "higher"),
    "perch.forward": ("back", "forward"),
    "hanger.at": ("toward the hinge", "toward the tail"),
    "bed.depth": ("shallower", "deeper"),
}


def length_curve(found: Assessment, *, scale: Scale) -> Plain:
    """Use of each part over a few lengths of the box, hangers at their fraction of it.

    Args:
        found: The assessment of one rig.
        scale: Units of the output.

    Returns:
        Values, parts with their use (null where it means nothing), which lengths pass, what moves along.
    """
    rig = found.solution.rig
    now = float(rig.number("box.length"))
    values = now * np.array([*_SHORTER, 1.0, *_LONGER])
    move = moved(rig, key="box.length", values=values, hanger="fraction")
    if move.rig.case is rig.case:  # the case itself is judged already
        others = judge(moved(rig, key="box.length", values=np.delete(values, len(_SHORTER))).rig)
        designs = [(others, i) for i in range(len(values) - 1)]
        designs.insert(len(_SHORTER), (kept(found), 0))
    else:  # what was weighed does not hold for another length
        weighed_not = judge(move.rig)
        designs = [(weighed_not, i) for i in range(len(values))]
    passes = [bool(judged.passes()[i]) for judged, i in designs]
    good = ", ".join(
        write(float(value), dimension="length", system=scale.system)
        for value, one in zip(values, passes, strict=True)
        if one
    )
    return {
        "unit": scale.label("length"),
        "now": scale.one(now, dimension="length"),
        "values": scale.many(values, dimension="length"),
        "parts": _parts(designs),
        "pass_at": passes,
        "rules": list(move.words),
        "answer": [
            f"Of the lengths tried these pass every check: {good or 'none'}.",
            "`rigcheck length` finds the ends of the range.",
        ],
    }


def _parts(designs: list[tuple[Judged, int]]) -> list[Plain]:
    """Use of each part in each design, the parts that come highest first."""
    uses: list[dict[str, float]] = []
    for judged, design in designs:
        most: dict[str, float] = {}
        for row, use in zip(judged.rows, judged.use[design], strict=True):
            most[row.part] = max(most.get(row.part, -1.0), float(use))
        uses.append(most)
    names = dict.fromkeys(name for most in uses for name in most)
    order = sorted(names, key=lambda name: -max(most.get(name, -1.0) for most in uses))
    return [{"part": name, "utilisation": [ratio(most.get(name, -1.0)) for most in uses]} for name in order]


def neighbours(found: Assessment, *, scale: Scale) -> list[Plain]:
    """The case with one input moved by what a tape may miss.

    Args:
        found: The assessment of one rig.
        scale: Units of the output.

    Returns:
        The case first, then each move: highest use, what governs, whether a finding stops it.
    """
    rig = found.solution.rig
    keys = [(key, sign * step) for key, step in _MOVES for sign in (-1.0, 1.0)]
    changes: dict[str, Array] = {}
    for key, _ in _MOVES:
        values = float(rig.number(key)) + np.array([step if moving == key else 0.0 for moving, step in keys])
        changes[key] = np.maximum(values, 0.0) if key == "bed.depth" else values
    changes["hanger.at"] = np.minimum(changes["hanger.at"], float(rig.number("box.length")))
    judged = judge(varied(rig, changes))
    told = [_neighbour(kept(found), 0, name="as in the case")]
    for i, (key, step) in enumerate(keys):
        way = _WAYS[key][step > 0.0]
        name = _WORDS[key].format(write(abs(step), dimension="length", system=scale.system), way)
        told.append(_neighbour(judged, i, name=name))
    return told


def _neighbour(found: Judged, index: int, *, name: str) -> Plain:
    row = int(found.use[index].argmax())
    stops = [stop.text for stop in found.stops if stop.where[index]]
    use = float(found.use[index, row])
    return {
        "what": name,
        "utilisation": ratio(use),
        "part": found.rows[row].part,
        "mode": found.rows[row].mode,
        "state": found.state_of(index, row),
        "stops": stops,
        "over": bool(use > OVER or stops),
    }
