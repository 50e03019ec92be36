"""What the report says about neighboring rigs: a coarse curve over the length, and the case with one input moved."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from rigcheck.analysis.rows import OVER
from rigcheck.arrays.types import Array
from rigcheck.assessment.assess import Assessment
from rigcheck.case.rig import Rig, varied
from rigcheck.quantities import write
from rigcheck.studies.vary.batch import Judged, judge, kept
from rigcheck.studies.vary.follow import moved
from rigcheck.wording.plain import Plain
from rigcheck.wording.scale import Scale, ratio

_SHORTER, _LONGER = (0.87,), (1.08, 1.17)  # times the length of the case: few, as each costs half a check
_STEPS = (
    ("perch.height", -2.0),
    ("perch.height", 2.0),
    ("perch.downstream", -2.0),
    ("perch.downstream", 2.0),
    ("hanger.at", -2.0),
    ("hanger.at", 2.0),
    ("bed.depth", 1.0),
)  # fmt: skip  (in; a shallower bed only helps)
_WORDS = {
    "perch.height": "perch lugs {} {}",
    "perch.downstream": "perch lugs {} {}",
    "hanger.at": "hangers {} {}",
    "bed.depth": "bed {} {}",
}
_WAYS = {
    "perch.height": ("lower", "higher"),
    "perch.downstream": ("upstream", "downstream"),
    "hanger.at": ("toward the hinge", "toward the tail"),
    "bed.depth": ("shallower", "deeper"),
}


def curves(found: Assessment, *, scale: Scale) -> tuple[Plain, list[Plain]]:
    """A coarse curve over the length, and the case with one input moved by what a tape may miss.

    Args:
        found: The assessment of one rig.
        scale: Units of the output.

    Returns:
        As `length_curve` and `neighbors`.
    """
    rig, own, rows = found.solution.rig, kept(found), len(found.solution.life.loads.rows)
    now = float(rig.number("box.length"))
    values = now * np.array([*_SHORTER, *_LONGER])
    move = moved(rig, key="box.length", values=values, hanger="fraction")
    if move.rig.case is not rig.case:  # what was weighed does not hold for another length: the case itself is another
        whole = moved(rig, key="box.length", values=np.insert(values, len(_SHORTER), now), hanger="fraction")
        others, nearby = judge(whole.rig), judge(varied(rig, _near(rig)), rows=rows)
        designs = [(others, i) for i in range(len(values) + 1)]
        near = [(nearby, i) for i in range(len(_STEPS))]
    else:
        judged = judge(varied(rig, _together(rig, move.rig.varied, len(values), _near(rig), len(_STEPS))), rows=rows)
        designs = [(judged, i) for i in range(len(values))]
        designs.insert(len(_SHORTER), (own, 0))
        near = [(judged, len(values) + i) for i in range(len(_STEPS))]
    length = length_curve(designs, values=np.insert(values, len(_SHORTER), now), rules=move.words, scale=scale)
    return length, neighbors([(own, 0), *near], scale=scale)


def _together(
    rig: Rig, first: Mapping[str, Array], count: int, then: Mapping[str, Array], more: int
) -> dict[str, Array]:
    """Two lists of designs behind each other; what one does not change has the value of the case."""
    return {
        key: np.concatenate(
            [
                np.broadcast_to(some[key] if key in some else rig.number(key), (size,))
                for some, size in ((first, count), (then, more))
            ]
        )
        for key in {**first, **then}
    }


def _near(rig: Rig) -> dict[str, Array]:
    """One input moved at a time."""
    changes: dict[str, Array] = {}
    for key in dict.fromkeys(key for key, _ in _STEPS):
        changes[key] = float(rig.number(key)) + np.array([step if moving == key else 0.0 for moving, step in _STEPS])
    changes["hanger.at"] = np.minimum(changes["hanger.at"], float(rig.number("box.length")))
    return changes


def length_curve(designs: list[tuple[Judged, int]], *, values: Array, rules: Sequence[str], scale: Scale) -> Plain:
    """Use of each part over a few lengths of the box, hangers at their fraction of it.

    Args:
        designs: Each length as judged, the case among them.
        values: The lengths. [in]
        rules: What moves along.
        scale: Units of the output.

    Returns:
        Values, parts with their use (null where it means nothing), which lengths pass, what moves along.
    """
    passes = [bool(judged.passes()[i]) for judged, i in designs]
    good = ", ".join(
        write(float(value), dimension="length", system=scale.system)
        for value, one in zip(values, passes, strict=True)
        if one
    )
    return {
        "unit": scale.label("length"),
        "now": scale.one(values[len(_SHORTER)], dimension="length"),
        "values": scale.many(values, dimension="length"),
        "parts": _parts(designs),
        "pass_at": passes,
        "rules": list(rules),
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
    return [{"part": name, "utilization": [ratio(most.get(name, -1.0)) for most in uses]} for name in order]


def neighbors(designs: list[tuple[Judged, int]], *, scale: Scale) -> list[Plain]:
    """The case with one input moved by what a tape may miss.

    Args:
        designs: The case as judged, then each move.
        scale: Units of the output.

    Returns:
        The case first, then each move: highest use, what governs, whether a finding stops it.
    """
    names = ["as in the case"]
    for key, step in _STEPS:
        way = _WAYS[key][step > 0.0]
        names.append(_WORDS[key].format(write(abs(step), dimension="length", system=scale.system), way))
    return [_neighbor(judged, i, name=name) for (judged, i), name in zip(designs, names, strict=True)]


def _neighbor(found: Judged, index: int, *, name: str) -> Plain:
    row = int(found.use[index].argmax())
    stops = [stop.text for stop in found.stops if stop.where[index]]
    use = float(found.use[index, row])
    return {
        "what": name,
        "utilization": ratio(use),
        "part": found.rows[row].part,
        "mode": found.rows[row].mode,
        "state": found.state_of(index, row),
        "stops": stops,
        "over": bool(use > OVER or stops),
    }
