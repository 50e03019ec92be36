"""What a fold study holds: angle by angle, the angles where something changes, the length of the line, the verdict."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rigcheck.analysis.rows import OVER, Worst
from rigcheck.arrays.types import Array, Mask
from rigcheck.assessment.assess import Assessment
from rigcheck.parts.fold.checks import LineReach
from rigcheck.tables.load_cases import FOLDING

Count = NDArray[np.intp]


@dataclass(frozen=True, slots=True, kw_only=True)
class FoldSweep:
    """The fold angle by angle, shapes (..., angle) unless said; forces are zero where `refused`.

    Attributes:
        fold: Fold angle psi from deployed. [rad]
        floor: Floor above level. [rad]
        moment: Of the weight about the hinge, positive outward. [lbf*in]
        arm: Lever arm of either line. [in]
        radius: Hanger from the hinge axis. [in]
        line_length: Pin to pin. [in]
        line_angle: Line above level. [rad]
        tension: Each line when both are worked together, static; negative where they are slack. [lbf]
        alone: The line when one is worked alone, static. [lbf]
        peak_tension: As `tension` with the dynamic factor of folding. [lbf]
        peak_alone: As `alone` with it. [lbf]
        hinge: Plant on box with both lines, static, shape (..., angle, side, 3). [lbf]
        hinge_alone: The same with all on the left line. [lbf]
        hold: Index into `rigcheck.parts.fold.checks.HOLDS`.
        refused: Where the arm is too short to give a tension.
        snub: Least pull of a snub line where the box leans inward: at the hangers, square to their radius,
            static. [lbf]
        roll_alone: Roll of the box on the left line, static, zero at angles whose rails are not bent. [rad]
        per_inch: Most that either line's pull changes for an inch of error in where the perch stands, zero where the
            lines do not hold. [lbf/in]
    """

    fold: Array
    floor: Array
    moment: Array
    arm: Array
    radius: Array
    line_length: Array
    line_angle: Array
    tension: Array
    alone: Array
    peak_tension: Array
    peak_alone: Array
    hinge: Array
    hinge_alone: Array
    hold: Count
    refused: Mask
    snub: Array
    roll_alone: Array
    per_inch: Array


@dataclass(frozen=True, slots=True, kw_only=True)
class FoldAngles:
    """Angles at which something changes, fold angles psi, shapes (...); they may lie outside the fold. [rad]

    Attributes:
        dead: Hinge, perch and hanger in line: the lines pull through the hinge axis.
        over_center: Center of gravity plumb over the hinge, the plant level.
        lean: By how much sooner, or later, where the plant is low at its tail or its head.
        free_arc: How far a box that goes slack swings before the lines catch it again, zero where it does not. [rad]
        slack_from: Where slack begins within the fold; equal to `slack_to` where the lines are never slack.
        slack_to: Where it ends.
        reached: Last angle of the sweep to which the box can be folded from deployed.
        peak: Where the lines pull hardest, as far as the box stays put.
    """

    dead: Array
    over_center: Array
    lean: Array
    free_arc: Array
    slack_from: Array
    slack_to: Array
    reached: Array
    peak: Array


@dataclass(frozen=True, slots=True, kw_only=True)
class FoldLine:
    """Length of the line over the fold, shapes (...).

    Attributes:
        deployed: At fold angle zero. [in]
        folded: At the end. [in]
        shortest: Anywhere in between. [in]
        reach: What the links allow.
        take_up: Deployed less shortest. [in]
        re_hooks: New holds of the hoist that it takes.
    """

    deployed: Array
    folded: Array
    shortest: Array
    reach: LineReach
    take_up: Array
    re_hooks: Count


@dataclass(frozen=True, slots=True, kw_only=True)
class FoldStudy:
    """Whether and how the box folds.

    Attributes:
        assessment: What it rests on.
        snub: Whether there is a snub line.
        weight: Of the box as folded, shape (...). [lbf]
        center: Its center of gravity s, y, n, shape (..., 3). [in]
        sweep: Angle by angle.
        angles: Where something changes.
        line: Lengths.
        largest: Largest pull of a line at `angles.peak`, both worked together, static, shape (...). [lbf]
        largest_alone: The same with one worked alone. [lbf]
        cuts: Part that the line runs through, and at which angles, shape (..., angle).
        fouls: Part that the box strikes, and at which angles, shape (..., angle).
        side_gap: Box to the inner face of a post, shape (...). [in]
        kept: Where the box stays put, shape (..., angle).
        long_enough: Where the line is not shorter than its links, shape (..., angle).
        reachable: Held all the way, or past the balance point with a snub line, the line never too short.
        checks: Every working check at its worst in the fold.
    """

    assessment: Assessment
    snub: bool
    weight: Array
    center: Array
    sweep: FoldSweep
    angles: FoldAngles
    line: FoldLine
    largest: Array
    largest_alone: Array
    cuts: list[tuple[str, Mask]]
    fouls: list[tuple[str, Mask]]
    side_gap: Array
    kept: Mask
    long_enough: Mask
    reachable: Mask
    checks: list[Worst]

    @property
    def clear(self) -> Mask:
        """True where neither the lines nor the box run into steel, shape (...)."""
        struck = [where.any(-1) for _, where in [*self.cuts, *self.fouls]]
        return np.asarray(~np.any(np.broadcast_arrays(*struck), axis=0)) if struck else np.ones_like(self.reachable)

    @property
    def over(self) -> Mask:
        """True where the fold is not reached, something is struck, or anything is over on the way, shape (...)."""
        found = ~self.reachable | ~self.clear | _stopped(self.assessment)
        for one in self.checks:
            found = found | (one.utilization > OVER)
        return np.asarray(found)


def _stopped(assessment: Assessment) -> Mask:
    """Whether a finding stops the fold, shape (...)."""
    solution = assessment.solution
    rows = solution.states(FOLDING)
    stopped = np.zeros(solution.shape[:-3], dtype=np.bool_)
    for flag in assessment.flags:
        if flag.stops:
            stopped = stopped | flag.where[..., rows, :, :].any((-3, -2, -1))
    return stopped
