"""Changes of position and size of the box that may cure a rig, each as a ladder from small to large."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence

import numpy as np

from rigcheck.analysis.items import Item
from rigcheck.case.models.case import Brace
from rigcheck.case.rig import Rig
from rigcheck.quantities import write
from rigcheck.studies.remedies.record import Step
from rigcheck.studies.vary.case import Value, broken, design, with_values
from rigcheck.studies.vary.follow import moved

# ranking only, a scale of our own: a position moved by one hundredth of the box length counts 1
SHORTEN, LOWER, PART, SHAPE, BRACE = 2.0, 0.5, 3.0, 6.0, 8.0
_MOVE, _UP, _CUT = 24.0, 36.0, 0.4  # in, in, share of the length: no further than this
_STEP, _RUNGS = 1.0, 8
POST = frozenset({Item.POST, Item.POST_WELD})
_BRACE_SHAPE, _BRACE_STEEL, _BRACE_RUN, _BRACE_TOP = "HSS2x2x3/16", "A500B", 0.5, 6.0


def ladders(rig: Rig) -> list[list[Step]]:
    """Ladders of single changes of where things stand and how large the box is; each from small to large.

    Args:
        rig: One rig.

    Returns:
        Steps that the rules between keys allow, one list for each kind of change.
    """
    length = float(rig.number("box.length"))
    side = float(rig.number("box.side_height"))
    per = 100.0 / length
    found = [
        _ladder(rig, "perch.height", _rungs(_UP), words="raise the perch {move}, to {value} above the hinge", per=per),
        _ladder(rig, "perch.downstream", _rungs(_MOVE), words="move the perch {move} toward the tail", per=per),
        _ladder(rig, "perch.downstream", -_rungs(_MOVE), words="move the perch {move} toward the head", per=per),
        _ladder(rig, "hanger.at", _rungs(_MOVE), words="move the hanger {move} toward the tail, to {value}", per=per),
        _ladder(rig, "hanger.at", -_rungs(_MOVE), words="move the hanger {move} toward the head, to {value}", per=per),
        _ladder(rig, "box.length", -_rungs(_CUT * length), words="shorten the box by {move}, to {value}",
                per=SHORTEN * per),
        _ladder(rig, "box.side_height", -_rungs(0.5 * side, step=0.25), words="lower the sides by {move}, to {value}",
                per=LOWER * 100.0 / side),
    ]  # fmt: skip
    if rig.has("water.lip"):
        lip = float(rig.number("water.lip"))
        found.append(
            _ladder(rig, "water.lip", -_rungs(0.8 * lip, step=0.25), per=LOWER * 100.0 / side,
                    words="lower the lip at the tail by {move}, to {value}")
        )  # fmt: skip
    if rig.has("cross_member.spacing"):
        spacing = float(rig.number("cross_member.spacing"))
        found.append(
            _ladder(rig, "cross_member.spacing", -_rungs(0.6 * spacing), per=LOWER * 100.0 / spacing,
                    words="set the cross-members {move} closer, {value} apart")
        )  # fmt: skip
    return [ladder for ladder in found if ladder]


def _rungs(most: float, *, step: float = _STEP) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    """Moves in whole steps up to the most, close together at first."""
    count = int(most / step)
    if count < 1:
        return np.zeros(0)
    places = np.unique(np.round(np.geomspace(1.0, count, min(_RUNGS, count))))
    return np.asarray(places * step)


def _ladder(
    rig: Rig, key: str, moves: Sequence[float] | np.ndarray[tuple[int, ...], np.dtype[np.float64]], *, words: str,
    per: float,
) -> list[Step]:  # fmt: skip
    if not len(moves):
        return []
    now = float(rig.number(key))
    batch = moved(rig, key=key, values=now + np.asarray(moves)).rig

    def breaks(rung: int) -> bool:
        return bool(broken(design(batch, rung), name="step"))

    # what holds between keys holds over a range of each: behind the first rung that breaks a rule all of them do
    last = len(moves) - 1
    count = bisect_left(range(last), True, key=breaks) if breaks(last) else last + 1
    found = []
    for rung, move in enumerate(moves[:count]):
        changes: dict[str, Value] = {
            name: float(np.broadcast_to(values, (len(moves),))[rung]) for name, values in batch.varied.items()
        }
        text = words.format(
            move=write(abs(float(move)), dimension="length"), value=write(now + float(move), dimension="length")
        )
        found.append(
            Step(family=f"{key} {'up' if move > 0.0 else 'down'}", words=text, changes=changes,
                 effort=per * abs(float(move)))
        )  # fmt: skip
    return found


def brace(rig: Rig) -> Step | None:
    """A knee brace on each post; None where there is no post or it has one."""
    if not rig.has("perch.post.shape") or rig.value("perch.post.brace") is not None:
        return None
    free = float(rig.number("perch.post.free_length"))
    top = min(_BRACE_TOP, 0.25 * free)
    run = round(_BRACE_RUN * free)
    part = Brace(foot_downstream=-float(run), foot_below=free, top_below=top, shape=_BRACE_SHAPE, steel=_BRACE_STEEL)
    step = Step(
        family="perch.post.brace",
        words=f"add a knee brace {_BRACE_SHAPE} to each post, its foot {run} in behind the base of the post",
        changes={"perch.post.brace": part},
        effort=BRACE,
        clears=POST,
    )
    return None if broken(with_values(rig.case, step.changes), name="step") else step
