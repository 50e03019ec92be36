"""What the report says about neighbouring rigs: a coarse curve over the length, and the case with one input moved."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from rigcheck.case.rig import Rig, varied
from rigcheck.check.rows import OVER
from rigcheck.quantities import write
from rigcheck.studies.vary_batch import Judged, judge
from rigcheck.studies.vary_follow import moved
from rigcheck.views.scale import Scale, ratio

Array = NDArray[np.float64]
Plain = dict[str, Any]

_LENGTHS = (0.8, 0.87, 0.93, 1.0, 1.07, 1.14, 1.21)  # times the length of the case
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


def length_curve(rig: Rig, *, scale: Scale) -> Plain:
    """Use of each part over a few lengths of the box, hangers at their fraction of it.

    Args:
        rig: One rig.
        scale: Units of the output.

    Returns:
        Values, parts with their use (null where it means nothing), which lengths pass, what moves along.
    """
    now = float(rig.number("box.length"))
    values = now * np.array(_LENGTHS)
    move = moved(rig, key="box.length", values=values, hanger="fraction")
    found = judge(move.rig)
    passes = found.passes()
    good = ", ".join(write(float(value), dimension="length", system=scale.system) for value in values[passes])
    return {
        "unit": scale.label("length"),
        "now": scale.one(now, dimension="length"),
        "values": scale.many(values, dimension="length"),
        "parts": _parts(found),
        "pass_at": [bool(one) for one in passes],
        "rules": list(move.words),
        "answer": [
            f"Of the lengths tried these pass every check: {good or 'none'}.",
            "`rigcheck length` finds the ends of the range.",
        ],
    }


def _parts(found: Judged) -> list[Plain]:
    groups: dict[str, list[int]] = {}
    for i, row in enumerate(found.rows):
        groups.setdefault(row.part, []).append(i)
    series = {part: found.use[:, rows].max(-1) for part, rows in groups.items()}
    order = sorted(series, key=lambda part: -float(series[part].max()))
    return [{"part": part, "utilisation": [ratio(use) for use in series[part]]} for part in order]


def neighbours(rig: Rig, *, scale: Scale) -> list[Plain]:
    """The case with one input moved by what a tape may miss.

    Args:
        rig: One rig.
        scale: Units of the output.

    Returns:
        The case first, then each move: highest use, what governs, whether a finding stops it.
    """
    keys = [(key, sign * step) for key, step in _MOVES for sign in (-1.0, 1.0)]
    count = len(keys) + 1
    changes: dict[str, Array] = {}
    for key, _ in _MOVES:
        steps = np.array([0.0, *(step if moving == key else 0.0 for moving, step in keys)])
        values = float(rig.number(key)) + steps
        changes[key] = np.maximum(values, 0.0) if key == "bed.depth" else values
    changes["hanger.at"] = np.minimum(changes["hanger.at"], float(rig.number("box.length")))
    found = judge(varied(rig, changes))
    names = ["as in the case"]
    for key, step in keys:
        way = _WAYS[key][step > 0.0]
        names.append(_WORDS[key].format(write(abs(step), dimension="length", system=scale.system), way))
    return [_neighbour(found, i, name=names[i]) for i in range(count)]


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
