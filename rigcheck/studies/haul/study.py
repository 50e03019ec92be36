"""Parking and hauling: what holds the folded box, what each strap and stop carries, which gust lifts it off."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from rigcheck.analysis.folded import Folded, folded
from rigcheck.analysis.missing import Missing
from rigcheck.analysis.rail_section import rail_section
from rigcheck.analysis.rows import OVER, Flag, Worst, ranked, worst
from rigcheck.analysis.solve import layout
from rigcheck.arrays.types import Array, Mask
from rigcheck.assessment.assess import Assessment, assess
from rigcheck.case.rig import Rig
from rigcheck.case.tacks import must_be_finished
from rigcheck.loads.contents import left_over
from rigcheck.loads.folded import outside_width
from rigcheck.loads.pieces import BOUNDS
from rigcheck.loads.steel import take_off
from rigcheck.loads.wind import PARKED_SHAPE, face_push, speed_of
from rigcheck.parts.tie_down.checks import described, folded_checks, folded_flags, folded_not_assessed
from rigcheck.statics.geometry import Layout
from rigcheck.statics.restraint import plant_point
from rigcheck.tables.load_cases import PARKED


@dataclass(frozen=True, slots=True)
class Road:
    """The checks of the folded box, parked and on the road, shapes (...).

    Attributes:
        found: Its rows with all their forces.
        worst: Every check at its worst.
        flags: Findings that hold somewhere.
    """

    found: Folded
    worst: list[Worst]
    flags: list[Flag]

    @property
    def _nothing(self) -> Array:
        return np.zeros_like(self.found.restraint.turn[..., 0])

    @property
    def stopped(self) -> Mask:
        """True where a finding stops the rig."""
        some = [flag.where.any((-3, -2, -1)) for flag in self.flags if flag.stops]
        return np.asarray(np.any(np.broadcast_arrays(self._nothing > 0.0, *some), axis=0))

    @property
    def utilization(self) -> Array:
        """The highest utilization of all checks, a legal size only where it is over."""
        if not self.worst:
            return self._nothing
        return np.asarray(ranked(self.worst).max(-1))

    @property
    def over(self) -> Mask:
        """True where anything is over or stopped; a box that nothing described holds is not assessed instead."""
        if not described(self.found.rig):
            return np.zeros_like(self.stopped)
        return np.asarray(self.stopped | (self.utilization > OVER))


@dataclass(frozen=True, slots=True)
class HaulStudy(Road):
    """Everything about the folded box of a rig that folds, shapes (...) unless said.

    Attributes:
        assessment: That of the whole rig.
        not_assessed: What the case does not describe.
        lean: Moment of the resting box about the hinge, positive where it hangs outward on its lines. [lbf*in]
        lift_off: Gust that turns that lean round, zero where no gust along the plant can. [in/s]
        bed: Weight of the gravel left in. [lbf]
        mats: Weight of the mats. [lbf]
    """

    assessment: Assessment
    not_assessed: list[Missing]
    lean: Array
    lift_off: Array
    bed: Array
    mats: Array


def road(rig: Rig) -> Road | None:
    """The checks of the folded box alone; None where the case does not fold.

    Args:
        rig: The rig, one or a batch.

    Returns:
        The checks, those of the hung box not looked at.

    Source: 49 CFR 393.102, 393.106, 393.110 (seen); docs/method.md#folded.
    """
    batch = np.broadcast_shapes(*(value.shape for value in rig.varied.values())) if rig.varied else ()
    points, pieces = layout(rig), take_off(rig)
    found = folded(rig, layout=points, pieces=pieces, section=rail_section(rig), batch=batch)
    if found is None:
        return None
    return Road(found, _worst(found), [flag for flag in _trimmed(found) if np.any(flag.where)])


def haul(rig: Rig, *, assessment: Assessment | None = None) -> HaulStudy | None:
    """Study the folded box, parked and on the road; None where the case does not fold.

    Args:
        rig: The rig, one or a batch.
        assessment: That of the whole rig, where it is there already.

    Returns:
        The study.

    Source: 49 CFR 393.102, 393.106, 393.110 (seen); docs/method.md#folded.
    """
    must_be_finished(rig.case)
    held = road(rig)
    if held is None:
        return None
    found = held.found
    # a box at rest feels the mean of the gusts from ahead and from behind
    lined = [found.rows_where(PARKED, wind_to=to, held_by="lines") for to in ("+x", "-x")]
    lean = sum(found.restraint.turn[..., rows][..., 0] for rows in lined) / 2.0
    mats = [piece.weight for piece in take_off(rig) if piece.id == "mats"]
    bed = [0.5 * (strip.w_start + strip.w_end) * (np.asarray(strip.end) - strip.start) for strip in left_over(rig)]
    return HaulStudy(
        assessment=assess(rig) if assessment is None else assessment,
        found=found,
        worst=held.worst,
        flags=held.flags,
        not_assessed=folded_not_assessed(rig),
        lean=np.asarray(lean),
        lift_off=_lift_off(rig, layout=layout(rig), found=found, lean=np.asarray(lean)),
        bed=np.sum(np.broadcast_arrays(*bed), axis=0),
        mats=np.asarray(mats[0] if mats else np.zeros(())),
    )


def _worst(found: Folded) -> list[Worst]:
    strength = np.array([row.ultimate for row in found.rows])[:, None]
    shape = (*found.restraint.turn.shape, len(BOUNDS), 2)
    return [
        worst(check, allowed=found.allowed & (strength if check.ultimate else ~strength), shape=shape)
        for check in folded_checks(found, before=0)
    ]


def _trimmed(found: Folded) -> Sequence[Flag]:
    shape = (*found.restraint.turn.shape, len(BOUNDS), 2)
    return [
        Flag(code=flag.code, text=flag.text, stops=flag.stops,
             where=np.broadcast_to(flag.where, shape) & found.allowed[..., None])
        for flag in folded_flags(found, before=0)
    ]  # fmt: skip


def _lift_off(rig: Rig, *, layout: Layout, found: Folded, lean: Array) -> Array:
    """Gust along the plant that takes the resting box off what it leans on, by its weight alone.

    The moment of the gust grows with the square of its speed: V = sqrt(M_rest / M of unit pressure), M_rest what the
    lean of the ground leaves of the moment on level ground, |M| - W z_cg tan(slope).

    Source: own derivation, docs/method.md#wind.
    """
    pose = found.pose
    push = face_push(
        np.asarray(PARKED_SHAPE),
        length=rig.number("box.length"),
        width=outside_width(rig),
        height=rig.number("box.side_height"),
        angle=pose.angle[..., 0],
    )["+x"]
    s, n = (np.asarray(value)[..., None] + 0.0 * pose.angle for value in (push.s, push.n))
    point = plant_point(s, y=0.0 * s, n=n, pose=pose, layout=layout)[..., 0, :]
    moment = np.abs(point[..., 2] * push.fx - point[..., 0] * push.fz)
    center = found.service.center
    heavy = plant_point(center[..., 0], y=0.0 * center[..., 0], n=center[..., 2], pose=pose, layout=layout)
    tipped = found.service.weight * np.abs(heavy[..., 2]) * np.tan(rig.number("plant.fore_aft_slope"))[..., None]
    rest = np.maximum(np.abs(lean) - tipped[..., 0], 0.0)
    turns = moment > 0.0
    return np.where(turns, speed_of(rest / np.where(turns, moment, 1.0)), 0.0)
