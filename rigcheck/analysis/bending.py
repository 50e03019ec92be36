"""Which rails are bent in which rows and ways of sharing; where their values stand over states, bounds and sides."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from rigcheck.analysis.alike import Alike
from rigcheck.analysis.join import taken
from rigcheck.arrays.types import Array
from rigcheck.loads.pieces import ALONE, BOUNDS, Loads, Row, take
from rigcheck.statics.along import arm_of_force
from rigcheck.statics.balance import Balance
from rigcheck.statics.deflection import Deflection, deflection, hung_by
from rigcheck.statics.geometry import SIDE, Layout, Pose
from rigcheck.statics.grillage import Grillage
from rigcheck.statics.pair import PairForces, pair_forces, unheld
from rigcheck.statics.rail import Section
from rigcheck.tables.load_cases import FOLDING, load_case

BENT_OF_FOLD = 3  # at every so many angles of the fold, and at both its ends, the rails are bent
PEAK = 1.01  # a pull that is more than this many times those beside it is looked at for itself
SHARED_OF_BENT = (
    3  # of those, every so many are bent under shared lines too where one line alone carries the box as well
)
LIMP = BOUNDS.index("limp")
_BALANCED = 1e-9  # a rail that is out of balance by less than this share of the lines' moment is in balance

Pair = tuple[int, int]
"""A row and a bound: both rails under one way of sharing."""


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Bending:
    """The rails of the rows and bounds whose bending is worked out.

    Attributes:
        pairs: Row and bound of each.
        forces: Forces on both rails, pair axis of these.
        slots: Where the value of a row, bound and side stands among (pair, side) laid flat, counted from 1; 0 where it
            is not worked out. Shape (state, bound, side).
        bound_of: Bound of each of these places, shape (state, bound).
        thrown: How much more the rails are bent at the first peak after a line parts than at rest after it, else 1,
            shape (..., pair).
        counted: In which design each counts, shape (..., pair).
        alike: Which rows are of one state.
    """

    pairs: tuple[Pair, ...]
    forces: PairForces
    slots: NDArray[np.intp]
    bound_of: NDArray[np.intp]
    thrown: Array
    counted: NDArray[np.bool_]
    alike: Alike | None = None

    @property
    def rows(self) -> frozenset[int]:
        """Rows with any bound worked out."""
        return frozenset(row for row, _ in self.pairs)

    def place(self, row: int, bound: int) -> int:
        """Where a row and bound stand on the pair axis."""
        return self.pairs.index((row, bound))

    def at(self, places: slice | tuple[NDArray[np.intp], NDArray[np.intp]]) -> Bending:
        """What stands at some places of the state and bound axes, from the same rails."""
        kept = None if self.alike is None else self.alike.at(places)
        return replace(self, slots=self.slots[places], bound_of=self.bound_of[places], alike=kept)

    def on_bounds(self, values: Array) -> Array:
        """Values of the rails, (..., pair, side), as (..., state, bound, side), zero where none is worked out."""
        values = values if self.counted.all() else values * self.counted[..., None]
        flat = values.reshape(*values.shape[:-2], -1)
        padded = np.concatenate([np.zeros((*flat.shape[:-1], 1)), flat], axis=-1)
        return np.asarray(padded[..., self.slots])

    def everywhere(self, values: Array) -> Array:
        """As `on_bounds`, but the most of the rows of the same state and bound where none is worked out."""
        assert self.alike is not None
        counted = np.broadcast_to(np.where(self.counted, 1.0, 0.0)[..., None], values.shape)
        most = self.alike.most(values * counted, bound_of=self.bound_of)
        return np.where(self.on_bounds(counted) == 0.0, most, self.on_bounds(values))

    def of_pairs(self, values: Array) -> Array:
        """Values of the pairs, (..., pair), on both sides of (..., state, bound, side)."""
        return self.on_bounds(np.stack([values, values], axis=-1))


def _allowed(rows: Sequence[Row], places: Sequence[int]) -> list[Pair]:
    return [(i, b) for i in places for b, bound in enumerate(BOUNDS) if bound in rows[i].bounds]


def bent_pairs(rows: Sequence[Row], *, total: Array) -> tuple[list[Pair], NDArray[np.bool_]]:
    """Rows and bounds whose rails are bent under the factored loads.

    Of the fold every so many angles and both its ends, and every angle between two of those at which the lines pull
    more than at both: near a dead point the pull runs away within a few degrees. Where one line may carry the fold, its
    rail has twice the pull of an even share and the same loads: the shared bounds are looked at more seldom there.

    Args:
        rows: The rows.
        total: Pull of both lines in each, shape (..., state). [lbf]

    Returns:
        The pairs, and in which design each of them counts, shape (..., pair): an angle that another design of the batch
        asked for is left out of this one, so that a design is looked at alike by itself and in a batch.
    """
    folding = [i for i, row in enumerate(rows) if row.state == FOLDING and row.bend]
    usual = {*folding[::BENT_OF_FOLD], *folding[-1:]}
    peaking = _peaking(folding, total=total)
    chosen = usual | {i for k, i in enumerate(folding) if peaking[..., k].any()}
    seldom = {*folding[:: BENT_OF_FOLD * SHARED_OF_BENT], *folding[-1:]}
    every = _allowed(rows, [i for i, row in enumerate(rows) if row.bend and (row.state != FOLDING or i in chosen)])
    alone = {i for i in chosen - seldom if rows[i].bounds >= ALONE}
    pairs = [(i, bound) for i, bound in every if i not in alone or BOUNDS[bound] in ALONE]
    counted = np.ones((*total.shape[:-1], len(pairs)), dtype=np.bool_)
    order = {i: k for k, i in enumerate(folding)}
    for place, (i, _) in enumerate(pairs):
        if i in chosen - usual:
            counted[..., place] = peaking[..., order[i]]
    return pairs, counted


def _peaking(folding: Sequence[int], *, total: Array) -> NDArray[np.bool_]:
    """Angles at which the lines pull more than at the usual ones on either side, shape (..., angle)."""
    if not folding:
        return np.zeros((*total.shape[:-1], 0), dtype=np.bool_)
    pull = np.abs(total[..., list(folding)])
    place = np.arange(len(folding))
    before = BENT_OF_FOLD * (place // BENT_OF_FOLD)
    after = np.minimum(before + BENT_OF_FOLD, len(folding) - 1)
    return np.asarray(pull > PEAK * np.maximum(pull[..., before], pull[..., after]))


def flanks(rows: Sequence[Row]) -> dict[int, tuple[int, int]]:
    """Angles of the fold that are bent where they peak alone, each with the usual ones on either side."""
    folding = [i for i, row in enumerate(rows) if row.state == FOLDING and row.bend]
    last = len(folding) - 1
    return {
        row: (folding[place - place % BENT_OF_FOLD], folding[min(place - place % BENT_OF_FOLD + BENT_OF_FOLD, last)])
        for place, row in enumerate(folding)
        if place % BENT_OF_FOLD and place != last
    }


def peaks_again(pairs: Sequence[Pair], *, flanks: Mapping[int, tuple[int, int]], total: Array) -> NDArray[np.bool_]:
    """In which design each pair of a few kept rows counts, shape (..., pair): an angle of the fold as in all rows.

    Args:
        pairs: The pairs.
        flanks: Rows that count where they peak alone, with those they are held against.
        total: Pull of both lines in each row, shape (..., state). [lbf]
    """
    counted = np.ones((*total.shape[:-1], len(pairs)), dtype=np.bool_)
    pull = np.abs(total)
    for place, (row, _) in enumerate(pairs):
        if row in flanks:
            before, after = flanks[row]
            counted[..., place] = pull[..., row] > PEAK * np.maximum(pull[..., before], pull[..., after])
    return counted


def sagged_pairs(rows: Sequence[Row]) -> list[Pair]:
    """Rows and bounds whose rails sag under the loads as they are, at rest."""
    return _allowed(rows, [i for i, row in enumerate(rows) if row.bend and not load_case(row.state).moving])


def _pulls(
    points: Layout, *, pose: Pose, of: NDArray[np.intp], lines: Array, balance: Balance
) -> tuple[Array, Array, NDArray[np.bool_]]:
    """What the lines put on each rail, and whether each rail is then in balance by itself.

    The floor takes what goes across the box, and its couple rolls the box: of the left line the left rail has
    y_H u_n - n_H u_y square to the floor and y_H u_s along it more than the right one, over half of their spacing.

    Args:
        points: Points of the rig, shapes (...).
        pose: The box in each row.
        of: Row of each pair.
        lines: Tensions, shape (..., pair, side). [lbf]
        balance: Of the rows.

    Returns:
        Along the floor and square to it, shape (..., pair, side) [lbf], and the mask, shape (..., pair).

    Source: own derivation, docs/method.md#grillage.
    """
    s, n, h, b, low = (
        part[..., None]
        for part in (points.hanger_s, points.hanger_n, points.hanger_spacing, points.rail_spacing, points.hinge_height)
    )
    u_s, u_y, u_n = (part[..., of] for part in (pose.u_s, pose.uy, pose.u_n))
    total, more = balance.total[..., of], lines[..., 0] - lines[..., 1]
    more_s, more_n = more * h * u_s / b, more * (h * u_n - 2.0 * n * u_y) / b
    pull_s, pull_n = (
        0.5 * ((total * u)[..., None] + unlike[..., None] * SIDE) for u, unlike in ((u_s, more_s), (u_n, more_n))
    )
    if points.along is not None:  # arms as `arm_of_force` and b_0/b have them
        b_h = points.rail_spacing[..., None]
        s = arm_of_force(points.along, s=points.hanger_s, axes=0)[..., None]
        n = n * points.along.first[..., None] / b_h
    asked = balance.rail_split[..., of] * np.where(balance.dead, 1.0, pose.arm)[..., of]
    scale = np.abs(total) * np.hypot(s, n - low)
    own = np.abs(s * more_n - (n - low) * more_s - asked) <= _BALANCED * scale
    return pull_s, pull_n, own


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Rails:
    """What the rails of every row share.

    Attributes:
        layout: Points of the rig.
        pose: The box in each row.
        section: One rail.
        box: What joins the rails.
        count: Rows of the state axis.
    """

    layout: Layout
    pose: Pose
    section: Section
    box: Grillage
    count: int

    def bend(self, pairs: Sequence[Pair], *, loads: Loads, balance: Balance) -> Bending:
        """Forces on some rails.

        Args:
            pairs: The rows and bounds wanted.
            loads: Loads of every row.
            balance: What hangs on lines and hinge in every row, before a line parts.
        """
        rows = list(dict.fromkeys(row for row, _ in pairs))
        index = {row: i for i, row in enumerate(rows)}
        of = np.array([index[row] for row, _ in pairs], dtype=np.intp)
        bounds = np.array([bound for _, bound in pairs], dtype=np.intp)
        limp = bounds == LIMP
        at, some = taken(self.pose, rows=rows), taken(balance, rows=rows)
        base = unheld(take(loads, rows=rows), layout=self.layout, pose=at, axis=self.section.axis, box=self.box)
        lines = some.tension[..., of, bounds, :]
        pull_s, pull_n, own = _pulls(self.layout, pose=at, of=of, lines=lines, balance=some)
        tied = ~((limp & own) | some.dead[..., of])
        total = some.total[..., of]
        forces = pair_forces(base, of=of, total=total, pull=(pull_s, pull_n), tied=tied)
        slots = np.zeros((self.count, len(BOUNDS), 2), dtype=np.intp)
        for place, (row, bound) in enumerate(pairs):
            slots[row, bound] = 1 + 2 * place, 2 + 2 * place
        bound_of = np.broadcast_to(np.arange(len(BOUNDS)), slots.shape[:-1])
        counted = np.ones(total.shape, dtype=np.bool_)
        return Bending(tuple(pairs), forces, slots, bound_of, np.ones(total.shape), counted)

    def sag(self, bent: Bending, *, balance: Balance, give: Array) -> Deflection:
        """Deflection of some rails.

        Args:
            bent: The rails, under the loads as they are.
            balance: What hangs on the lines in every row.
            give: What one line gives, shape (..., state). [in/lbf]
        """
        rows = list(dict.fromkeys(row for row, _ in bent.pairs))
        bounds = np.array([bound for _, bound in bent.pairs], dtype=np.intp)
        limp = (bounds == LIMP) & ~bent.forces.tied
        hung = hung_by(taken(balance, rows=rows), found=bent.forces, give=give[..., rows], bounds=bounds, limp=limp)
        return deflection(bent.forces, section=self.section, hung=hung)


def thrown(bent: Bending, *, rows: Sequence[Row], demand: Balance) -> Array:
    """How much more the rails are bent at the first peak after a line parts than at rest after it, shape (..., pair).

    The survivor's pull at the first peak over its pull at rest: rails and members take their loads in one proportion.

    Args:
        bent: The rails, all of it on the line that holds.
        rows: Every row.
        demand: Line forces, those of the parted rows at their peak, shapes (..., state, bound, side).

    Source: undamped step, docs/method.md#line-broken.
    """
    if not bent.pairs:
        return bent.thrown
    lost = np.array([rows[row].ultimate for row, _ in bent.pairs])
    at = np.array(bent.pairs, dtype=np.intp).T
    peak = demand.tension[..., at[0], at[1], :].sum(-1)
    rest = bent.forces.total
    live = lost & (rest != 0.0)
    return np.where(live, peak / np.where(live, rest, 1.0), 1.0)


ALONE_AT = np.array([bound in ALONE for bound in BOUNDS])
"""Bounds in which one line carries all."""
