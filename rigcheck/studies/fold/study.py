"""The fold from deployed to folded: what holds the box at every angle, with which pull, and whether it gets there."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from rigcheck.analysis.clearance import fouls, side_clearance
from rigcheck.analysis.rows import Worst, worst
from rigcheck.arrays.types import Array, Mask
from rigcheck.assessment.assess import Assessment, assess
from rigcheck.case.rig import Rig
from rigcheck.case.tacks import must_be_finished
from rigcheck.loads.pieces import BOUNDS
from rigcheck.parts.fold.checks import BEHIND, HELD, SLACK, holding, kept, line_reach, re_hooks
from rigcheck.parts.line.geometry import line_cuts
from rigcheck.parts.rail.roll import fold_roll
from rigcheck.statics.balance import DEAD_POINT
from rigcheck.statics.geometry import Layout, Pose, pose
from rigcheck.studies.fold.record import FoldAngles, FoldLine, FoldStudy, FoldSweep
from rigcheck.tables.load_cases import EMPTY, FOLDING

_STIFF, _ALONE = BOUNDS.index("stiff"), BOUNDS.index("left")
_ROUNDS, _POINTS = 4, 21  # each round of the peak search narrows the bracket ten times


def dead_angle(layout: Layout) -> Array:
    """Fold angle at which hinge, perch and hanger lie in line.

    psi_d = atan2(z_p, x_p) - atan2(n_H - n_h, s_H) + beta, between -180 and 180 degrees.

    Args:
        layout: Points of the rig, shapes (...).

    Returns:
        The angle, shape (...). [rad]

    Source: own derivation, docs/method.md#fold.
    """
    hanger = np.arctan2(layout.hanger_n - layout.hinge_height, layout.hanger_s)
    angle = np.arctan2(layout.perch_z, layout.perch_x) - hanger + layout.pitch
    return np.asarray(np.mod(angle + np.pi, 2.0 * np.pi) - np.pi)


def over_center_angle(layout: Layout, *, center: Array) -> Array:
    """Fold angle at which the center of gravity stands plumb over the hinge.

    psi_o = atan2(s_cg, n_cg - n_h) + beta.

    Args:
        layout: Points of the rig, shapes (...).
        center: Center of gravity s, y, n in box coordinates, shape (..., 3). [in]

    Returns:
        The angle, shape (...). [rad]

    Source: own derivation, docs/method.md#fold.
    """
    return np.asarray(np.arctan2(center[..., 0], center[..., 2] - layout.hinge_height) + layout.pitch)


def free_arc(layout: Layout, *, center: Array, lean: Array | float = 0.0) -> Array:
    """How far a box swings free once its weight has come over the hinge short of the dead point.

    The line is as long as far past the dead point as it was short of it: 2 (psi_d - psi_o + lean); zero where the dead
    point comes first.

    Args:
        layout: Points of the rig, shapes (...).
        center: Center of gravity s, y, n in box coordinates, shape (..., 3). [in]
        lean: By how much sooner the weight comes over the hinge, as the plant leans, shape (...). [rad]

    Returns:
        The arc, shape (...). [rad]

    Source: own derivation, docs/method.md#fold.
    """
    first = over_center_angle(layout, center=center) - lean
    return np.asarray(np.maximum(2.0 * (dead_angle(layout) - first), 0.0))


def error_gradient(tension: Array, *, layout: Layout, at: Pose, refused: Mask) -> Array:
    """Most that a pull changes for an inch of error in where the perch stands, in the worst direction of the side view.

    T = M l / C with C = x_H z_p - z_H x_p, so dT/dx_p = T ((x_p - x_H) / l^2 + z_H / C) and
    dT/dz_p = T ((z_p - z_H) / l^2 - x_H / C).

    Args:
        tension: Pull, shape (..., angle). [lbf]
        layout: Points of the rig, shapes (...).
        at: The box at each angle.
        refused: Where there is no pull to speak of, shape (..., angle).

    Returns:
        Change per inch, zero where refused, shape (..., angle). [lbf/in]

    Source: own derivation, docs/method.md#fold.
    """
    x, z = layout.perch_x[..., None], layout.perch_z[..., None]
    cross = np.where(refused, 1.0, at.hanger_x * z - at.hanger_z * x)
    square = np.where(at.line_length > 0.0, at.line_length, 1.0) ** 2
    by_x = (x - at.hanger_x) / square + at.hanger_z / cross
    by_z = (z - at.hanger_z) / square - at.hanger_x / cross
    return np.where(refused, 0.0, np.abs(tension) * np.hypot(by_x, by_z))


def fold(rig: Rig) -> FoldStudy:
    """Fold a rig, one or a batch; the case must say how far.

    Args:
        rig: The rig.

    Returns:
        The study.

    Raises:
        ValueError: If the case does not fold.
    """
    return fold_of(assess(rig, only=frozenset({EMPTY, FOLDING})))


def fold_of(assessment: Assessment) -> FoldStudy:
    """The fold study of a rig that has been assessed.

    Args:
        assessment: The assessment, of one rig or a batch.

    Returns:
        The study.

    Raises:
        ValueError: If the case does not fold.

    Source: docs/method.md#fold.
    """
    must_be_finished(assessment.solution.rig.case)
    solution = assessment.solution
    rows = np.flatnonzero([row.sweep for row in solution.rows])
    if rows.size == 0:
        raise ValueError("fold.to is not given")
    rig, layout = solution.rig, solution.layout
    sweep = _sweep(assessment, rows=rows)
    at = pose(layout, fold=sweep.fold)
    snub = bool(rig.value("fold.snub"))
    line = _line(rig, layout=layout, sweep=sweep)
    stays = kept(sweep.hold, moment=sweep.moment, snub=snub)
    long_enough = np.asarray(sweep.line_length >= line.reach.least[..., None] - 1e-6)
    weight, center = solution.service.weight[..., rows[0]], solution.service.center[..., rows[0], :]
    good = stays & long_enough
    lean = np.tan(rig.number("plant.fore_aft_slope"))
    peak, largest = _peak(layout, weight=weight, center=center, lean=lean, sweep=sweep, stays=stays)
    return FoldStudy(
        assessment=assessment,
        snub=snub,
        weight=weight,
        center=center,
        sweep=sweep,
        angles=_angles(layout, center=center, sweep=sweep, good=good, peak=peak, lean=np.arctan(lean)),
        line=line,
        largest=largest,
        largest_alone=2.0 * largest,
        cuts=[(part, _wide(cut, like=sweep.fold)) for part, cut in line_cuts(rig, layout=layout, at=at)],
        fouls=[(part, _wide(struck, like=sweep.fold)) for part, struck in fouls(rig, layout=layout, at=at)],
        side_gap=side_clearance(rig, layout=layout),
        kept=stays,
        long_enough=long_enough,
        reachable=np.asarray(good.all(-1)),
        checks=_fold_checks(assessment),
    )


def _wide(mask: Mask, *, like: Array) -> Mask:
    return np.broadcast_to(mask, like.shape)


def _sweep(assessment: Assessment, *, rows: NDArray[np.intp]) -> FoldSweep:
    solution = assessment.solution
    layout = solution.layout
    angle = solution.life.loads.fold[..., rows]
    at = pose(layout, fold=angle)
    moment = solution.service.moment[..., rows, 1]
    refused = solution.held.dead[..., rows]
    tension = 0.5 * solution.held.total[..., rows]
    peak = 0.5 * solution.demand.total[..., rows]
    hold = holding(moment, arm=at.arm, dead=refused)
    return FoldSweep(
        fold=angle,
        floor=at.angle,
        moment=moment,
        arm=at.arm,
        radius=at.radius,
        line_length=at.line_length,
        line_angle=at.line_angle,
        tension=tension,
        alone=2.0 * tension,
        peak_tension=peak,
        peak_alone=2.0 * peak,
        hinge=solution.held.hinge[..., rows, _STIFF, :, :],
        hinge_alone=solution.held.hinge[..., rows, _ALONE, :, :],
        hold=hold,
        refused=refused,
        roll_alone=fold_roll(solution)[..., rows, _ALONE, 0],
        snub=np.maximum(-moment, 0.0) / np.where(at.radius > 0.0, at.radius, 1.0),
        per_inch=error_gradient(tension, layout=layout, at=at, refused=(hold != HELD) & (hold != BEHIND)),
    )


def _angles(layout: Layout, *, center: Array, sweep: FoldSweep, good: Mask, peak: Array, lean: Array) -> FoldAngles:
    dead, over = dead_angle(layout), over_center_angle(layout, center=center)
    end = sweep.fold[..., -1]
    slack = (sweep.hold == SLACK).any(-1)
    first = over - lean  # on ground that leans the worse way
    start = np.where(slack, np.clip(first, 0.0, end), end)
    stop = np.where(slack & (dead > first), np.clip(dead, start, end), end)
    first_bad = np.where(good.all(-1), good.shape[-1], np.argmin(good, axis=-1))
    last_good = np.maximum(first_bad - 1, 0)
    reached = np.take_along_axis(sweep.fold, last_good[..., None], axis=-1)[..., 0]
    return FoldAngles(
        dead=dead,
        over_center=over,
        lean=lean + 0.0 * over,
        free_arc=np.where(slack, free_arc(layout, center=center, lean=lean), 0.0),
        slack_from=start,
        slack_to=stop,
        reached=np.where(slack & ~good.all(-1), np.minimum(reached, start), reached),
        peak=peak,
    )


def _peak(
    layout: Layout, *, weight: Array, center: Array, lean: Array, sweep: FoldSweep, stays: Mask
) -> tuple[Array, Array]:
    """Where and how hard each of two lines pulls at most until the box no longer stays, between the angles too.

    The tension follows in closed form: M = W (s_cg cos phi - (n_cg - n_h) sin phi), T = M / 2 d; with the plant low at
    the end that makes the box turn harder, W tan(slope) z_cg more.
    """
    last = np.minimum(stays.cumprod(-1).sum(-1), stays.shape[-1] - 1)[..., None]
    end = np.take_along_axis(sweep.fold, last, axis=-1)
    starts = _peak_starts(layout, sweep=sweep, end=end)
    middle, half = starts[..., None], (sweep.fold[..., 1:2] - sweep.fold[..., :1])[..., None]
    s, n = center[..., :1, None], (center[..., 2] - layout.hinge_height)[..., None, None]
    value = np.zeros_like(middle)
    for _ in range(_ROUNDS):
        trial = np.clip(middle + half * np.linspace(-1.0, 1.0, _POINTS), 0.0, end[..., None])
        at = pose(layout, fold=trial.reshape(*trial.shape[:-2], -1))
        refused = np.abs(at.arm) < DEAD_POINT * at.radius
        floor = at.angle.reshape(trial.shape)
        out = s * np.cos(floor) - n * np.sin(floor)
        out = out + lean[..., None, None] * np.sign(out) * np.abs(s * np.sin(floor) + n * np.cos(floor))
        moment = weight[..., None, None] * out
        arm = np.where(refused, 1.0, at.arm).reshape(trial.shape)
        pull = np.where(refused.reshape(trial.shape), -1.0, 0.5 * moment / arm)
        top = pull.argmax(-1)[..., None]
        middle, half = np.take_along_axis(trial, top, axis=-1), half / 10.0
        value = np.take_along_axis(pull, top, axis=-1)
    best = value[..., 0].argmax(-1)[..., None]
    angle, most = (np.take_along_axis(one[..., 0], best, axis=-1)[..., 0] for one in (middle, value))
    return angle, np.maximum(most, 0.0)


def _peak_starts(layout: Layout, *, sweep: FoldSweep, end: Array) -> Array:
    """Where to look for the largest pull: by the largest of the sweep, and at both edges of the dead point.

    An arm of 5 % of the hanger's radius stands asin(0.05 l / r_P) off the dead point, with l there.
    """
    pulls = ~sweep.refused & (sweep.tension >= 0.0) & (sweep.fold <= end)
    best = np.where(pulls, sweep.tension, -1.0).argmax(-1)[..., None]
    dead = dead_angle(layout)[..., None] + 0.0 * sweep.fold[..., :1]
    away = np.hypot(layout.perch_x, layout.perch_z)[..., None]
    near = DEAD_POINT * pose(layout, fold=dead).line_length / np.where(away > 0.0, away, 1.0)
    edge = np.arcsin(np.minimum(near, 1.0))
    starts = [np.take_along_axis(sweep.fold, best, axis=-1), dead - edge, dead + edge]
    return np.clip(np.concatenate(starts, axis=-1), 0.0, end)


def _line(rig: Rig, *, layout: Layout, sweep: FoldSweep) -> FoldLine:
    reach = line_reach(rig)
    dead, end = dead_angle(layout), sweep.fold[..., -1]
    deployed, folded = sweep.line_length[..., 0], sweep.line_length[..., -1]
    least = pose(layout, fold=np.clip(dead, 0.0, end)[..., None]).line_length[..., 0]
    shortest = np.minimum(np.minimum(deployed, folded), least)
    take_up = deployed - shortest
    return FoldLine(
        deployed=deployed,
        folded=folded,
        shortest=shortest,
        reach=reach,
        take_up=take_up,
        re_hooks=re_hooks(take_up, reach=reach),
    )


def _fold_checks(assessment: Assessment) -> list[Worst]:
    """Every working check at its worst among the rows of the fold; the snagged box is not the fold's business."""
    solution = assessment.solution
    allowed = solution.allowed & solution.states(FOLDING)[:, None]
    working = [one.check for one in assessment.worst if not (one.check.on_accidents or one.check.snag)]
    found = [worst(check, allowed=allowed, shape=solution.shape) for check in working]
    return [one for one in found if np.any(one.utilization >= 0.0)]
