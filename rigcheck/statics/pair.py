"""Both rails of the box at once, each under its own loads and line, with the couples of what joins them."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from rigcheck.arrays.types import Array
from rigcheck.loads.pieces import Loads
from rigcheck.statics.beam import Terms, evaluate, join
from rigcheck.statics.geometry import SIDE, Layout, Pose
from rigcheck.statics.grillage import Grillage, Ties, ties
from rigcheck.statics.grillage_along import on_own_axis, pound_along, turn_of_loads
from rigcheck.statics.pair_along import felt, held_along, held_at_head, of_rows, open_spread, steps_of
from rigcheck.statics.rail import Curves, RailForces, Section, curves, loaded_rails
from rigcheck.statics.rail_peaks import RailPeaks, rail_peaks, worse
from rigcheck.statics.unheld import Unheld

Places = NDArray[np.intp]


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class PairForces:
    """Forces on both rails, one entry for each row and way of sharing.

    Attributes:
        unheld: The rows before their lines pull.
        of: Row of each entry, shape (pair,).
        total: Pull of both lines, shape (..., pair). [lbf]
        pull_s: What the lines put on each rail along the floor, shape (..., pair, side). [lbf]
        pull_n: The same square to the floor.
        tied: False where the members do nothing, shape (..., pair).
        hinge_s: Plant on rail, along the floor, shape (..., pair, side). [lbf]
        hinge_n: Plant on rail, square to the floor. [lbf]
        ties: What the members do, shape (..., pair[, member]).
        curves: What runs through the rails, shapes (..., pair, side, piece).
    """

    unheld: Unheld
    of: Places
    total: Array
    pull_s: Array
    pull_n: Array
    tied: NDArray[np.bool_]
    hinge_s: Array
    hinge_n: Array
    ties: Ties
    curves: Curves

    def terms(self, pair: int, *, side: int, design: tuple[int, ...] = ()) -> RailForces:
        """One rail of one design as terms, shapes (term,); about the neutral axis of each stretch."""
        if self.unheld.layout.along is not None:
            return self._as_terms((*design, pair, side))
        row = int(self.of[pair])
        own, points = self.unheld.rails, self.unheld.layout

        def one(values: Array, *, own: int) -> Array:
            return np.asarray(values[design] if values.ndim > own else values)

        pull_s, pull_n = (float(part[(*design, pair, side)]) for part in (self.pull_s, self.pull_n))
        axis, hinge, hanger_s, hanger_n = (
            float(one(value, own=0))
            for value in (self.unheld.axis, points.hinge_height, points.hanger_s, points.hanger_n)
        )
        torque = SIDE[side] * self.ties.all[(*design, pair)]
        at = np.concatenate([[0.0, hanger_s], one(self.unheld.box.at, own=1)])
        nothing = np.zeros_like(torque)
        f_s, f_n = (np.concatenate([[-pull, pull], nothing]) for pull in (pull_s, pull_n))
        couple = np.concatenate([[-pull_s * (hinge - axis), pull_s * (hanger_n - axis)], torque])
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
            pull=np.hypot(pull_s, pull_n),
            hinge_s=self.hinge_s[(*design, pair, side)],
            hinge_n=self.hinge_n[(*design, pair, side)],
        )

    def _as_terms(self, at: tuple[int, ...]) -> RailForces:
        """The curves of one rail as terms: each begins with what its piece has over the end of the one before."""
        run = self.curves
        whole = run.moment.shape[:-1]
        start, span = (np.broadcast_to(part, whole)[at] for part in (run.start, run.span))
        keep = span > 0.0
        start, span = start[keep], span[keep]
        orders = {
            "moment": run.moment[at][keep],
            "axial": run.axial[at][keep],
            "shear": np.concatenate([np.zeros((len(start), 1)), run.shear[at][keep]], axis=-1),
        }
        places = np.append(start, start[-1] + span[-1])
        found = {name: Terms(places, steps_of(each, span=span)) for name, each in orders.items()}
        pull_s, pull_n = self.pull_s[at], self.pull_n[at]
        return RailForces(
            **found,
            stations=places,
            pull=np.hypot(pull_s, pull_n),
            hinge_s=self.hinge_s[at],
            hinge_n=self.hinge_n[at],
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
    level = axis if layout.along is None else np.zeros(())
    rails = loaded_rails(loads, layout=layout, pose=pose, axis=level, stations=box.at)
    if layout.along is not None:
        return _unheld_along(rails, layout=layout, pose=pose, box=box)
    unlike = rails.moment.coefficient[..., 0, :, :] - rails.moment.coefficient[..., 1, :, :]
    terms = Terms(rails.moment.at[..., 0, :], unlike)
    ends = np.concatenate([np.zeros((*box.at.shape[:-1], 1)), box.at], axis=-1)[..., None, :]
    area = evaluate(terms, x=ends, integrals=1)
    far = np.maximum(layout.length[..., None, None], terms.at[..., -1:])
    # a pound on the left rail over the right one: held down at the hinge, both off the axis
    at, hanger = box.at[..., None, :], layout.hanger_s[..., None]
    low, high = ((height - axis)[..., None] for height in (layout.hinge_height, layout.hanger_n))
    beyond = np.maximum(at - hanger[..., None], 0.0)
    return Unheld(
        rails=rails,
        curves=curves(rails),
        layout=layout,
        pose=pose,
        box=box,
        axis=axis,
        turn=area[..., 1:] - area[..., :1],
        left=evaluate(terms, x=far)[..., 0],
        turn_of_n=-0.5 * (at**2 - beyond**2),
        left_of_n=-hanger,
        turn_of_s=high[..., None] * beyond - low[..., None] * at,
        left_of_s=high - low,
    )


def _unheld_along(rails: RailForces, *, layout: Layout, pose: Pose, box: Grillage) -> Unheld:
    """The same of rails that change along the box, their moments about the floor."""
    assert layout.along is not None
    run = curves(rails)
    unlike = run.beyond[..., 0] - run.beyond[..., 1]
    pound = pound_along(layout, at=box.at)
    return Unheld(
        rails=rails,
        curves=run,
        layout=layout,
        pose=pose,
        box=box,
        axis=np.zeros(()),
        turn=turn_of_loads(on_own_axis(run, along=layout.along), along=layout.along, at=box.at),
        left=unlike,
        turn_of_n=pound.turn_of_n[..., None, :],
        left_of_n=pound.left_of_n[..., None],
        turn_of_s=pound.turn_of_s[..., None, :],
        left_of_s=pound.left_of_s[..., None],
    )


def pair_forces(
    found: Unheld, *, of: Places, total: Array, pull: tuple[Array, Array], tied: NDArray[np.bool_]
) -> PairForces:
    """Hold both rails by given pulls; what they leave open goes through the members.

    Args:
        found: The rows before their lines pull.
        of: Row of each entry, shape (pair,).
        total: Pull of both lines, shape (..., pair). [lbf]
        pull: What the lines put on each rail, along the floor and square to it, shapes (..., pair, side). [lbf]
        tied: False where the members do nothing, shape (..., pair).

    Returns:
        The forces.

    Source: own derivation, docs/method.md#grillage.
    """
    pull_s, pull_n = pull
    more_s, more_n = (one[..., 0] - one[..., 1] for one in pull)
    turn = found.turn[..., of, :] + more_n[..., None] * found.turn_of_n + more_s[..., None] * found.turn_of_s
    left = found.left[..., of] + more_n * found.left_of_n + more_s * found.left_of_s
    free = ties(found.box, turn=turn, left=left)
    on = tied[..., None]
    done = Ties(torque=free.torque * on, head=free.head * tied, own=free.own * on)
    return PairForces(
        unheld=found,
        of=of,
        total=total,
        pull_s=pull_s,
        pull_n=pull_n,
        tied=tied,
        hinge_s=found.rails.hinge_s[..., of, :] - pull_s,
        hinge_n=found.rails.hinge_n[..., of, :] - held_at_head(found.layout, pull_n=pull_n),
        ties=done,
        curves=(_held_curves if found.layout.along is None else held_along)(
            found, of=of, pull_s=pull_s, pull_n=pull_n, torque=done.all
        ),
    )


def _held_curves(found: Unheld, *, of: Places, pull_s: Array, pull_n: Array, torque: Array) -> Curves:
    """The rows' curves with pull, pin and couples added: all of them straight lines within every piece."""
    own, points = found.curves, found.layout
    start = own.start[..., 0, :]
    on = (start >= 0.0) * 1.0
    there = (start >= points.hanger_s[..., None, None]) * 1.0
    low, high = ((height - found.axis)[..., None, None] for height in (points.hinge_height, points.hanger_n))
    step_on = there - on
    of_n = step_on * start - there * points.hanger_s[..., None, None]
    of_s = there * high - on * low
    order = np.argsort(found.box.at, axis=-1)
    every = np.broadcast_to(order[..., None, :], torque.shape)
    added = np.cumsum(np.take_along_axis(torque, every, axis=-1), axis=-1)
    added = np.concatenate([np.zeros((*added.shape[:-1], 1)), added], axis=-1)
    past = (start[..., None] >= found.box.at[..., None, None, :]).sum(-1)  # how many couples lie uphill of a piece
    step = np.take_along_axis(added, np.broadcast_to(past[..., of, :], (*added.shape[:-1], past.shape[-1])), axis=-1)
    p_s, p_n = pull_s[..., None], pull_n[..., None]

    def row(values: Array) -> Array:
        return values[..., of, :, :] if values.ndim > 2 else values[of]

    def rows(values: Array) -> Array:
        return values[..., of, None, :]

    moment = of_rows(own.moment, of=of)
    moment[..., 0] += p_n * rows(of_n) + p_s * rows(of_s) + SIDE[:, None] * step[..., None, :]
    moment[..., 1] += p_n * rows(step_on)
    axial = of_rows(own.axial, of=of)
    axial[..., 0] += p_s * rows(step_on)
    shear = of_rows(own.shear, of=of)
    shear[..., 0] += p_n * rows(step_on)
    beyond = own.beyond[..., of, :] + pull_n * found.left_of_n[..., None] + pull_s * found.left_of_s[..., None]
    beyond = beyond + SIDE * torque.sum(-1)[..., None]
    return Curves(row(own.start), row(own.span), moment, axial, shear, beyond)


def pair_peaks(found: PairForces, *, section: Section, known: bool, stretch: int | None = None) -> RailPeaks:
    """Peaks of both rails.

    Where nothing that joins the rails is known, no member's share is: all that they would have to carry is put on the
    head of the rails, and then on their tail, and every value is the worse of both.

    Args:
        found: Both rails.
        section: Rail section, shapes (...).
        known: Whether what joins the rails is described.
        stretch: The stretch of the box that is looked at; all of it where None.

    Returns:
        Peaks, shapes (..., pair, side).
    """
    run = found.curves if stretch is None else felt(found.curves, layout=found.unheld.layout, stretch=stretch)
    at_tail = rail_peaks(run, section=section)
    if known:
        return at_tail
    more_s, more_n = (pull[..., 0] - pull[..., 1] for pull in (found.pull_s, found.pull_n))
    left = found.unheld.left[..., found.of] + more_n * found.unheld.left_of_n + more_s * found.unheld.left_of_s
    moment = found.curves.moment.copy()
    spread = open_spread(found.curves.start, layout=found.unheld.layout)
    moment[..., :2] -= (0.5 * SIDE[:, None] * left[..., None, None] * (run.start >= 0.0))[..., None] * spread
    other = replace(found.curves, moment=moment)
    if stretch is not None:
        other = felt(other, layout=found.unheld.layout, stretch=stretch)
    return worse(at_tail, other=rail_peaks(other, section=section))
