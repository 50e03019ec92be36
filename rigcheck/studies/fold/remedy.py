"""Why a fold is not reached, and the least move of the perches that makes it reachable."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from rigcheck.analysis.clearance import fouls
from rigcheck.analysis.solve import layout
from rigcheck.arrays.types import Array, Mask
from rigcheck.case.rig import varied
from rigcheck.loads.sharing import folds_on_one
from rigcheck.parts.fold.checks import HOLDS, LineReach, holding, kept, line_reach
from rigcheck.parts.line.geometry import line_cuts
from rigcheck.statics.balance import DEAD_POINT
from rigcheck.statics.geometry import pose
from rigcheck.studies.fold.record import FoldStudy
from rigcheck.studies.fold.study import fold

KEYS = ("perch.height", "perch.downstream")
FARTHEST = 120.0  # in: no perch is moved further than this; design limit of our own
STEP = 1.0  # in: of the scan
FINE = 8  # parts of a step to which the least move is narrowed
TOO_SHORT = "line_too_short"


@dataclass(frozen=True, slots=True, kw_only=True)
class Remedy:
    """One move of both perches, or a snub line alone.

    Attributes:
        key: `perch.height`, `perch.downstream`, or `fold.snub` where no perch needs to move.
        value: What it becomes, zero for `fold.snub`. [in]
        move: By how much it changes. [in]
        snub: True where it also needs a snub line that the case does not have.
        within: True where the links hold the lines' pull through the whole fold.
        utilization: The largest of all working checks in the fold then. [1]
        governs: Part and mode that it belongs to.
    """

    key: str
    value: float
    move: float
    snub: bool
    within: bool
    utilization: float
    governs: str


def obstacle(study: FoldStudy) -> str:
    """What stops the box first on its way up: a word of `HOLDS`, `line_too_short`, or nothing.

    Args:
        study: The study of one rig.

    Returns:
        The word; empty where the fold is reached.
    """
    bad = np.asarray(~(study.kept & study.long_enough))
    if not bad.any():
        return ""
    first = int(np.argmax(bad))
    return TOO_SHORT if study.kept[first] else HOLDS[int(study.sweep.hold[first])]


def remedies(study: FoldStudy) -> list[Remedy]:
    """The least move of the perches, in height and in set-back, that makes the fold reachable.

    Moves are scanned by the inch and narrowed to an eighth; what also keeps the lines within their ratings
    is preferred, and a snub line is asked for only where nothing does without.

    Args:
        study: The study of one rig that does not get there.

    Returns:
        Remedies, the least move first, or the snub line alone where that is enough; none where no move of up to ten
        feet helps, or the fold is reached.

    Source: docs/method.md#fold.
    """
    if study.assessment.solution.shape[:-3] != ():
        raise ValueError("remedies are for one rig, not for a batch")
    if bool(study.reachable):
        return []
    if not study.snub and workable(study, key=KEYS[0], moves=np.zeros(1), snub=True, rated=False)[0]:
        rated = bool(workable(study, key=KEYS[0], moves=np.zeros(1), snub=True, rated=True)[0])
        return [_remedy(study, then=study, key="fold.snub", move=0.0, within=rated)]
    found = [one for key in KEYS if (one := _least(study, key=key)) is not None]
    return sorted(found, key=lambda one: abs(one.move))


def _least(study: FoldStudy, *, key: str) -> Remedy | None:
    for snub in dict.fromkeys((study.snub, True)):
        for rated in (True, False):
            move = _nearest(study, key=key, snub=snub, rated=rated)
            if move is not None:
                rig = study.assessment.solution.rig
                then = fold(varied(rig, {key: rig.number(key) + move}))
                found = _remedy(study, then=then, key=key, move=move, within=rated)
                return replace(found, snub=snub and not study.snub)
    return None


def _remedy(study: FoldStudy, *, then: FoldStudy, key: str, move: float, within: bool) -> Remedy:
    worst = max(then.checks, key=lambda one: float(one.utilization))
    return Remedy(
        key=key,
        value=0.0 if key == "fold.snub" else float(study.assessment.solution.rig.number(key)) + move,
        move=move,
        snub=key == "fold.snub",
        within=within,
        utilization=float(worst.utilization),
        governs=f"{worst.check.part}, {worst.check.mode}",
    )


def _nearest(study: FoldStudy, *, key: str, snub: bool, rated: bool) -> float | None:
    """Least move that works, either way; the scan finds the first inch that does, the bracket the eighth before it."""
    coarse = np.arange(STEP, FARTHEST + 0.5 * STEP, STEP)
    moves = np.stack([coarse, -coarse])  # shape (way, candidate)
    works = workable(study, key=key, moves=moves, snub=snub, rated=rated)
    some = np.asarray(works.any(-1))
    if not some.any():
        return None
    first = moves[np.arange(2), works.argmax(-1)]
    back = np.sign(first) * STEP * np.arange(FINE)[::-1, None] / FINE
    closer = (first - back).T  # from just past the last that failed to the first that works
    works = np.asarray(workable(study, key=key, moves=closer, snub=snub, rated=rated) & some[:, None])
    best = closer[np.arange(2), works.argmax(-1)]
    return float(min(best[some], key=abs))


def workable(study: FoldStudy, *, key: str, moves: Array, snub: bool, rated: bool) -> Mask:
    """Which moves of the perches make the whole fold reachable and clear of steel.

    The weight's moment does not depend on the perches, so only the geometry is worked out anew.

    Args:
        study: The study of one rig.
        key: `perch.height` or `perch.downstream`.
        moves: Changes, any shape. [in]
        snub: With a snub line.
        rated: Also ask that the weakest link holds the largest pull.

    Returns:
        Mask in the shape of `moves`.
    """
    solution, sweep = study.assessment.solution, study.sweep
    values = np.asarray(solution.rig.number(key) + moves)
    rig = varied(solution.rig, {key: values})
    at = pose(layout(rig), fold=sweep.fold)
    dead = np.abs(at.arm) < DEAD_POINT * at.radius
    moment = np.broadcast_to(sweep.moment, at.arm.shape)
    hold = holding(moment, arm=at.arm, dead=dead)
    reach: LineReach = line_reach(rig)
    works = np.asarray((kept(hold, moment=moment, snub=snub) & (at.line_length >= reach.least[..., None])).all(-1))
    if key == "perch.height":
        works = works & (values > 0.0)
    if rated:
        works = works & _within(study, moment=moment, arm=at.arm, dead=dead)
    if not works.any():
        return works
    works = works.copy()
    works[works] = _clear(study, key=key, values=values[works])
    return works


def _clear(study: FoldStudy, *, key: str, values: Array) -> Mask:
    """Whether lines and box keep clear of steel on the whole way, shape (value,); the dearest question, asked last."""
    rig = varied(study.assessment.solution.rig, {key: values})
    points = layout(rig)
    at = pose(points, fold=study.sweep.fold)
    good = np.ones(at.arm.shape, dtype=np.bool_)
    for _, bad in [*fouls(rig, layout=points, at=at), *line_cuts(rig, layout=points, at=at)]:
        good = good & ~bad
    return np.asarray(good.all(-1))


def _within(study: FoldStudy, *, moment: Array, arm: Array, dead: Mask) -> Mask:
    """Whether the weakest link holds the largest pull of the fold, shape (...)."""
    solution = study.assessment.solution
    share = 1.0 if folds_on_one(solution.rig) else 0.5
    pull = share * moment * solution.rig.number("factors.folding") / np.where(dead, 1.0, arm)
    most = np.where(dead, 0.0, pull).max(-1)
    weakest = min(float(np.min(link.working)) / link.share for link in solution.links)
    return np.asarray(most <= weakest)
