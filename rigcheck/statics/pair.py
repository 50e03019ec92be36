"""Both rails of the box at once, each under its own loads and line, with the couples of what joins them."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from rigcheck.loads.pieces import Loads
from rigcheck.statics.beam import Terms, evaluate, join
from rigcheck.statics.geometry import SIDE, Layout, Pose
from rigcheck.statics.grillage import Grillage, Ties, ties
from rigcheck.statics.rail import Curves, RailForces, RailPeaks, Section, curves, loaded_rails, rail_peaks, worse

Array = NDArray[np.float64]
Places = NDArray[np.intp]


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Unheld:
    """Both rails under their own loads before any line pulls, row by row, and a line's pound in their difference.

    Attributes:
        rails: Terms with a side axis, shapes (..., row, side, term).
        curves: The same piece by piece.
        layout: Points of the rig.
        pose: The box in each row, shapes (..., row).
        box: The grillage.
        axis: Neutral axis above the floor, shape (...). [in]
        turn: Integral of M_L - M_R from the hinge to each member, shape (..., row, member). [lbf*in2]
        left: M_L - M_R left open at the tail, shape (..., row). [lbf*in]
        turn_of_pound: The same for a pound more of pull on the left rail than on the right one.
        left_of_pound: The same.
    """

    rails: RailForces
    curves: Curves
    layout: Layout
    pose: Pose
    box: Grillage
    axis: Array
    turn: Array
    left: Array
    turn_of_pound: Array
    left_of_pound: Array


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class PairForces:
    """Forces on both rails, one entry for each row and way of sharing.

    Attributes:
        unheld: The rows before their lines pull.
        of: Row of each entry, shape (pair,).
        pull: What the lines pull on each rail, shape (..., pair, side). [lbf]
        hinge_s: Plant on rail, along the floor, shape (..., pair, side). [lbf]
        hinge_n: Plant on rail, square to the floor. [lbf]
        ties: What the members do, shape (..., pair[, member]).
        curves: What runs through the rails, shapes (..., pair, side, piece).
    """

    unheld: Unheld
    of: Places
    pull: Array
    hinge_s: Array
    hinge_n: Array
    ties: Ties
    curves: Curves

    def terms(self, pair: int, *, side: int, design: tuple[int, ...] = ()) -> RailForces:
        """One rail of one design as terms, shapes (term,)."""
        row = int(self.of[pair])
        own, points, pose = self.unheld.rails, self.unheld.layout, self.unheld.pose

        def one(values: Array, *, own: int) -> Array:
            return np.asarray(values[design] if values.ndim > own else values)

        pull = float(self.pull[(*design, pair, side)])
        u_s, u_n = (float(one(value, own=1)[row]) for value in (pose.u_s, pose.u_n))
        axis, hinge, hanger_s, hanger_n = (
            float(one(value, own=0))
            for value in (self.unheld.axis, points.hinge_height, points.hanger_s, points.hanger_n)
        )
        torque = SIDE[side] * self.ties.all[(*design, pair)]
        at = np.concatenate([[0.0, hanger_s], one(self.unheld.box.at, own=1)])
        nothing = np.zeros_like(torque)
        f_s, f_n = (np.concatenate([[-pull * u, pull * u], nothing]) for u in (u_s, u_n))
        couple = np.concatenate([[-pull * u_s * (hinge - axis), pull * u_s * (hanger_n - axis)], torque])
        zero = np.zeros_like(at)
        parts = {
            "moment": np.stack([couple, f_n, zero, zero], axis=-1),
            "shear": np.stack([zero, f_n, zero, zero], axis=-1),
            "axial": np.stack([f_s, zero, zero, zero], axis=-1),
        }
        whole = {}
        for name, more in parts.items():
            terms: Terms = getattr(own, name)
            mine = Terms(one(terms.at, own=3)[row, side], one(terms.coefficient, own=4)[row, side])
            both = join(mine, Terms(at, more))
            order = np.argsort(both.at, kind="stable")
            whole[name] = Terms(both.at[order], both.coefficient[order])
        return RailForces(
            **whole,
            stations=whole["moment"].at,
            pull=np.asarray(pull),
            hinge_s=self.hinge_s[(*design, pair, side)],
            hinge_n=self.hinge_n[(*design, pair, side)],
        )


def unheld(loads: Loads, *, layout: Layout, pose: Pose, axis: Array, box: Grillage) -> Unheld:
    """Rows of loads on both rails, with what is needed to hold them in any way.

    Args:
        loads: The rows.
        layout: Points of the rig, shapes (...).
        pose: The box in each row.
        axis: Neutral axis above the floor, shape (...). [in]
        box: What joins the rails.

    Returns:
        The rails, and the right-hand sides of the grillage by the loads and by a pound of unlike pull.

    Source: docs/method.md#grillage.
    """
    rails = loaded_rails(loads, layout=layout, pose=pose, axis=axis, stations=box.at)
    unlike = rails.moment.coefficient[..., 0, :, :] - rails.moment.coefficient[..., 1, :, :]
    terms = Terms(rails.moment.at[..., 0, :], unlike)
    ends = np.concatenate([np.zeros((*box.at.shape[:-1], 1)), box.at], axis=-1)[..., None, :]
    area = evaluate(terms, x=ends, integrals=1)
    far = np.maximum(layout.length[..., None, None], terms.at[..., -1:])
    # a pound on the left rail over the right one: held down at the hinge, both off the axis
    at, hanger = box.at[..., None, :], layout.hanger_s[..., None]
    u_s, u_n = pose.u_s, pose.u_n
    low, high = ((height - axis)[..., None] for height in (layout.hinge_height, layout.hanger_n))
    beyond = np.maximum(at - hanger[..., None], 0.0)
    turn = -0.5 * u_n[..., None] * (at**2 - beyond**2) + (u_s * high)[..., None] * beyond - (u_s * low)[..., None] * at
    return Unheld(
        rails=rails,
        curves=curves(rails),
        layout=layout,
        pose=pose,
        box=box,
        axis=axis,
        turn=area[..., 1:] - area[..., :1],
        left=evaluate(terms, x=far)[..., 0],
        turn_of_pound=turn,
        left_of_pound=-u_n * hanger + u_s * (high - low),
    )


def pair_forces(found: Unheld, *, of: Places, pull: Array, tied: NDArray[np.bool_]) -> PairForces:
    """Hold both rails by given pulls; what they leave open goes through the members.

    Args:
        found: The rows before their lines pull.
        of: Row of each entry, shape (pair,).
        pull: What the lines pull on each rail, shape (..., pair, side). [lbf]
        tied: False where the members do nothing, shape (..., pair).

    Returns:
        The forces.

    Source: own derivation, docs/method.md#grillage.
    """
    unlike = pull[..., 0] - pull[..., 1]
    turn = found.turn[..., of, :] + unlike[..., None] * found.turn_of_pound[..., of, :]
    left = found.left[..., of] + unlike * found.left_of_pound[..., of]
    free = ties(found.box, turn=turn, left=left)
    on = tied[..., None]
    done = Ties(torque=free.torque * on, head=free.head * tied, own=free.own * on)
    u_s, u_n = (part[..., of, None] for part in (found.pose.u_s, found.pose.u_n))
    return PairForces(
        unheld=found,
        of=of,
        pull=pull,
        hinge_s=found.rails.hinge_s[..., of, :] - pull * u_s,
        hinge_n=found.rails.hinge_n[..., of, :] - pull * u_n,
        ties=done,
        curves=_held_curves(found, of=of, pull=pull, torque=done.all),
    )


def _held_curves(found: Unheld, *, of: Places, pull: Array, torque: Array) -> Curves:
    """The rows' curves with pull, pin and couples added: all of them straight lines within every piece."""
    own, points = found.curves, found.layout
    start = own.start[..., 0, :]
    on = (start >= 0.0) * 1.0
    there = (start >= points.hanger_s[..., None, None]) * 1.0
    u_s, u_n = (part[..., None] for part in (found.pose.u_s, found.pose.u_n))
    low, high = ((height - found.axis)[..., None, None] for height in (points.hinge_height, points.hanger_n))
    force_n, force_s = u_n * (there - on), u_s * (there - on)
    value = force_n * start - there * u_n * points.hanger_s[..., None, None] + u_s * (there * high - on * low)
    order = np.argsort(found.box.at, axis=-1)
    every = np.broadcast_to(order[..., None, :], torque.shape)
    added = np.cumsum(np.take_along_axis(torque, every, axis=-1), axis=-1)
    added = np.concatenate([np.zeros((*added.shape[:-1], 1)), added], axis=-1)
    past = (start[..., None] >= found.box.at[..., None, None, :]).sum(-1)  # how many couples lie uphill of a piece
    step = np.take_along_axis(added, np.broadcast_to(past[..., of, :], (*added.shape[:-1], past.shape[-1])), axis=-1)
    p = pull[..., None]

    def row(values: Array) -> Array:
        return values[..., of, :, :] if values.ndim > 2 else values[of]

    def rows(values: Array) -> Array:
        return values[..., of, None, :]

    moment = own.moment[..., of, :, :, :].copy()
    moment[..., 0] += p * rows(value) + SIDE[:, None] * step[..., None, :]
    moment[..., 1] += p * rows(force_n)
    axial = own.axial[..., of, :, :, :].copy()
    axial[..., 0] += p * rows(force_s)
    shear = own.shear[..., of, :, :, :].copy()
    shear[..., 0] += p * rows(force_n)
    beyond = own.beyond[..., of, :] + pull * found.left_of_pound[..., of, None] + SIDE * torque.sum(-1)[..., None]
    return Curves(row(own.start), row(own.span), moment, axial, shear, beyond)


def pair_peaks(found: PairForces, *, section: Section, known: bool) -> RailPeaks:
    """Peaks of both rails.

    Where nothing that joins the rails is known, no member's share is: all that they would have to carry is put on the
    head of the rails, and then on their tail, and every value is the worse of both.

    Args:
        found: Both rails.
        section: Rail section, shapes (...).
        known: Whether what joins the rails is described.

    Returns:
        Peaks, shapes (..., pair, side).
    """
    at_tail = rail_peaks(found.curves, section=section)
    if known:
        return at_tail
    run = found.curves
    unlike = found.pull[..., 0] - found.pull[..., 1]
    left = found.unheld.left[..., found.of] + unlike * found.unheld.left_of_pound[..., found.of]
    moment = run.moment.copy()
    moment[..., 0] -= 0.5 * SIDE[:, None] * left[..., None, None] * (run.start >= 0.0)
    return worse(at_tail, rail_peaks(replace(run, moment=moment), section=section))
