"""Run the statics of every state once: loads, pose, balance, rails, deflection, under service and factored loads."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

from rigcheck.analysis.across import OWN_STATIONS, beside, members_across, own_torsion, own_torsion_along
from rigcheck.analysis.alike import alike
from rigcheck.analysis.along import rails_along
from rigcheck.analysis.bending import Bending, Pair, Rails, bent_pairs, peaks_again, sagged_pairs, thrown
from rigcheck.analysis.folded import Folded, folded
from rigcheck.analysis.here import WHOLE, Here
from rigcheck.analysis.join import behind, taken
from rigcheck.analysis.links.capacity import LinkStrength, links
from rigcheck.analysis.lost import after_loss
from rigcheck.analysis.post_model import post_give
from rigcheck.analysis.rail_section import rail_section
from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.case.tacks import is_tacked
from rigcheck.loads.pieces import ALONE, BOUNDS, Row, take
from rigcheck.loads.shape import at_station, reaches
from rigcheck.loads.sharing import hinge_apart, off_level
from rigcheck.loads.states import Life, life
from rigcheck.loads.steel import side_sheet
from rigcheck.statics.balance import Balance, balance
from rigcheck.statics.deflection import Deflection
from rigcheck.statics.geometry import Layout, Pose, pose
from rigcheck.statics.grillage import Across, Grillage, grillage, joined
from rigcheck.statics.grillage_along import grillage_along
from rigcheck.statics.pair import pair_peaks
from rigcheck.statics.rail import Section
from rigcheck.statics.rail_peaks import RailPeaks, worse
from rigcheck.statics.resultant import Resultant, resultant
from rigcheck.strength.bases import BASES, ULTIMATE, Basis
from rigcheck.tables.load_cases import FOLDING, LoadCase, load_case

Known = TypeVar("Known")


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Borne:
    """Forces that something besides hinge and lines puts on the box, fields of `Push`, shapes (..., state, push).

    Attributes:
        still: Under the loads as they are.
        heavy: Under the loads times their dynamic factors.
    """

    still: Mapping[str, Array]
    heavy: Mapping[str, Array]


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Keep:
    """The few rows that a long study goes on with, places on the whole state axis.

    Attributes:
        hung: Rows in which the lines hold the box.
        road: Rows of the folded box, counted from the first of them.
        bent: Rails that are bent: place in `hung`, and bound.
        flanks: Places in `hung` of the angles of the fold whose rails are bent where they peak alone, each with the
            places of those that they are held against.
        sagged: Rails whose deflection is worked out: place in `hung`, and bound.
        road_bent: Whether the rails of the folded box are bent.
    """

    hung: tuple[int, ...]
    road: tuple[int, ...]
    bent: tuple[Pair, ...]
    flanks: Mapping[int, tuple[int, int]]
    sagged: tuple[Pair, ...]
    road_bent: bool


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Solution:
    """Everything the checks read.

    Attributes:
        rig: The rig.
        life: Loads of every state in which the lines hold the box.
        rows: Every row of the state axis.
        allowed: Bounds that apply to each row, shape (state, bound).
        alone: Bounds in which one line carries all, shape (state, bound).
        layout: Points of the rig.
        pose: The box in each row.
        service: Resultant of the loads as they are.
        held: Line and hinge forces under them.
        demand: Line and hinge forces under the loads times their dynamic factors; the peak where one line parts.
        section: The rail.
        across: What joins both rails.
        bent: Rails under the factored loads.
        peaks: Their peaks.
        sagged: Rails of the deployed box under the loads as they are.
        sag: Their deflection.
        links: Links of one line.
        backup: Links of its backup.
        give: What one line gives, with the top of its post, shape (..., state). [in/lbf]
        road: The folded box, parked and on the road; None where the case does not fold.
        here: What part of the box is looked at; all of it unless said.
        each: Peaks of the rails stretch by stretch; none where the box is one stretch.
        views: The same solution as its parts see it, once made.
    """

    rig: Rig
    life: Life
    rows: tuple[Row, ...]
    allowed: NDArray[np.bool_]
    alone: NDArray[np.bool_]
    layout: Layout
    pose: Pose
    service: Resultant
    held: Balance
    demand: Balance
    section: Section
    across: Across
    bent: Bending
    peaks: RailPeaks
    sagged: Bending
    sag: Deflection
    links: list[LinkStrength]
    backup: list[LinkStrength]
    give: Array
    road: Folded | None
    here: Here = WHOLE
    each: tuple[RailPeaks, ...] = ()
    views: dict[str, list[Solution]] = field(default_factory=dict, init=False)
    _known: dict[Callable[[Solution], Any], Any] = field(default_factory=dict, init=False)

    def once(self, build: Callable[[Solution], Known]) -> Known:
        """What several parts ask for, worked out for the first of them."""
        if build not in self._known:
            self._known[build] = build(self)
        known: Known = self._known[build]
        return known

    @property
    def shape(self) -> tuple[int, ...]:
        """(..., state, bound, side)."""
        return self.demand.tension.shape

    @property
    def fold(self) -> Array:
        """Fold angle of every row, shape (..., state). [rad]"""
        return np.asarray(self.pose.angle + self.layout.pitch[..., None])

    def states(self, *names: str) -> NDArray[np.bool_]:
        """Which rows are of these states, shape (state,)."""
        return np.array([row.state in names for row in self.rows], dtype=np.bool_)

    def cases(self, where: Callable[[LoadCase], bool]) -> NDArray[np.bool_]:
        """Which rows are of load cases of a kind, shape (state,)."""
        wanted = {state: where(load_case(state)) for state in {row.state for row in self.rows}}
        return np.array([wanted[row.state] for row in self.rows], dtype=np.bool_)

    @property
    def hung(self) -> NDArray[np.bool_]:
        """Rows in which the deployed box hangs on its lines, none of those on the way up, shape (state,)."""
        rising = np.array([row.variant.get("while") == FOLDING for row in self.rows], dtype=np.bool_)
        return ~(self.states(FOLDING) | self.cases(lambda case: case.folded) | rising)

    @property
    def accidents(self) -> NDArray[np.bool_]:
        """Rows in which one line parts, shape (state,)."""
        return self.once(_accidents)

    @property
    def before_road(self) -> int:
        """How many rows stand before those of the folded box."""
        return len(self.life.loads.rows)

    def looked_at(self, *, on_accidents: bool) -> NDArray[np.bool_]:
        """Rows and bounds that a check looks at: those in which a line parts, or all others, shape (state, bound)."""
        return np.asarray(self.allowed & (self.accidents == on_accidents)[:, None])

    def bases(self) -> tuple[Basis, ...]:
        """The chosen basis, and strength for the rows in which one line parts; only those that have rows here."""
        parted = self.accidents
        chosen = () if parted.all() else (BASES[str(self.rig.value("basis"))],)
        return (*chosen, ULTIMATE) if parted.any() else chosen

    def at_rows(self, rows: Sequence[int], *, bounds: Sequence[int]) -> Solution:
        """Some rows, those of the folded box last; each under one bound, left as a bound axis of one."""
        hung = [row for row in rows if row < self.before_road]
        pairs = np.asarray(rows, dtype=np.intp)[:, None], np.asarray(bounds, dtype=np.intp)[:, None]
        return replace(
            self,
            life=replace(self.life, loads=take(self.life.loads, rows=hung)),
            rows=tuple(self.rows[row] for row in rows),
            allowed=self.allowed[pairs],
            alone=self.alone[pairs],
            pose=taken(self.pose, rows=rows),
            service=taken(self.service, rows=rows),
            held=taken(self.held, rows=rows, bounds=bounds),
            demand=taken(self.demand, rows=rows, bounds=bounds),
            bent=self.bent.at(pairs),
            sagged=self.sagged.at(pairs),
            give=self.give[..., list(rows)],
            road=None,
        )

    def first_rows(self, count: int) -> Solution:
        """The first rows under every bound, without rail forces; none of them of the folded box."""
        some = slice(0, count)
        return replace(
            self,
            rows=self.rows[:count],
            allowed=self.allowed[some],
            alone=self.alone[some],
            pose=taken(self.pose, rows=some),
            service=taken(self.service, rows=some),
            held=taken(self.held, rows=some),
            demand=taken(self.demand, rows=some),
            bent=self.bent.at(some),
            sagged=self.sagged.at(some),
            give=self.give[..., some],
            road=None,
        )


def _accidents(solution: Solution) -> NDArray[np.bool_]:
    return np.array([row.ultimate for row in solution.rows], dtype=np.bool_)


def layout(rig: Rig) -> Layout:
    """Points of a rig, shapes (...)."""
    width = rig.number("box.width")
    along, hanger = rails_along(rig), rig.number("hanger.at")
    apart = rig.number_or("rail.spacing", width + side_sheet(rig))
    return Layout(
        pitch=rig.number("box.pitch"),
        length=rig.number("box.length"),
        hinge_height=rig.number("hinge.height"),
        hinge_spacing=hinge_apart(rig, head=width if along is None else reaches(rig)[0].head),
        hanger_s=hanger,
        hanger_n=rig.number("hanger.height"),
        hanger_spacing=rig.number("hanger.spacing"),
        perch_x=rig.number("perch.downstream"),
        perch_z=rig.number("perch.height"),
        perch_spacing=rig.number("perch.spacing"),
        rail_spacing=apart if along is None else along.spacing(hanger, axes=0),
        along=along,
        rolled=off_level(rig),
    )


def solve(
    rig: Rig, *, only: frozenset[str] | None = None, places: Sequence[int] | None = None, borne: Borne | None = None,
    keep: Keep | None = None,
) -> Solution:  # fmt: skip
    """Statics of every state of a rig, one or a batch.

    Args:
        rig: The rig; its varied keys share one batch shape.
        only: The states wanted; all of them where not said.
        places: Which of their rows are wanted, counted from 0 and none of the folded box; all where not said.
        borne: What a further support takes in each row.
        keep: Which rows and rails are wanted, instead of `places`.

    Returns:
        The solution.

    Source: docs/method.md.
    """
    batch = np.broadcast_shapes(*(value.shape for value in rig.varied.values())) if rig.varied else ()
    found = life(rig, batch=batch, only=only, places=places if keep is None else keep.hung)
    heavy = found.loads.demand()
    if borne is not None:
        found = replace(found, loads=replace(found.loads, push=borne.still))
        heavy = replace(heavy, push=borne.heavy)
    rows, allowed = found.loads.rows, found.loads.allowed
    points, line = layout(rig), links(rig)
    section = rail_section(rig if points.along is None else at_station(rig, points.hanger_s).rig)
    at = pose(points, fold=found.loads.fold)
    stretch = np.sum(np.broadcast_arrays(*(np.zeros(()) if one.give is None else one.give for one in line)), axis=0)
    give = np.asarray(stretch)[..., None] + post_give(rig, at)
    service = resultant(found.loads, layout=points, pose=at)
    may_lift = np.array([row.may_lift for row in rows], dtype=np.bool_)
    held = balance(service, layout=points, pose=at, prove=keep is None, may_lift=may_lift)
    pressed = resultant(heavy, layout=points, pose=at)
    demand = balance(pressed, layout=points, pose=at, prove=keep is None, may_lift=may_lift)
    held_down = bool(rig.value("haul.tie_down") or rig.value("haul.stop"))
    hauled = only is None and held_down and not is_tacked(rig.case)
    wanted = hauled and (places is None if keep is None else bool(keep.road))
    road = None
    if wanted:
        some, bend = (None, True) if keep is None else (keep.road, keep.road_bent)
        road = folded(rig, layout=points, pieces=found.pieces, section=section, batch=batch, places=some, bend=bend)
    across = members_across(rig)
    box = _box(rig, across=across, points=points, bending=section.modulus * section.inertia)
    rails = Rails(points, at, section, box, len(rows) + (len(road.rows) if road else 0))
    if keep is None:
        pairs, counted = bent_pairs(rows, total=demand.total)
    else:
        pairs, counted = list(keep.bent), peaks_again(keep.bent, flanks=keep.flanks, total=demand.total)
    bent = rails.bend(pairs, loads=heavy, balance=demand)
    sagged = rails.bend(sagged_pairs(rows) if keep is None else keep.sagged, loads=found.loads, balance=held)
    sag = rails.sag(sagged, balance=held, give=give)
    demand = after_loss(demand, rows=rows, jump=rig.number("factors.line_broken"))
    bent = replace(
        bent, thrown=thrown(bent, rows=rows, demand=demand), counted=np.broadcast_to(counted, bent.counted.shape)
    )
    if road is not None:
        rows, allowed = (*rows, *road.rows), np.concatenate([allowed, road.allowed])
        at, service = behind(at, second=road.pose), behind(service, second=road.service)
        held, demand = behind(held, second=road.balance), behind(demand, second=road.balance)
        give = np.asarray(stretch)[..., None] + post_give(rig, at)
    bent = replace(bent, alike=alike(rows, pairs=bent.pairs))
    known = bool(joined(across).all())
    each = () if points.along is None else _each(rig, bent, known=known)
    return Solution(
        rig=rig,
        life=found,
        rows=rows,
        allowed=allowed,
        alone=np.broadcast_to([bound in ALONE for bound in BOUNDS], allowed.shape),
        layout=points,
        pose=at,
        service=service,
        held=held,
        demand=demand,
        road=road,
        section=section,
        across=across,
        bent=bent,
        peaks=worst_of(each) if each else pair_peaks(bent.forces, section=section, known=known),
        each=each,
        sagged=sagged,
        sag=sag,
        links=line,
        backup=links(rig, table="line.backup"),
        give=give,
    )


def _box(rig: Rig, *, across: Across, points: Layout, bending: Array) -> Grillage:
    """What joins the rails, with the box's own resistance to twist where anything described joins them."""
    own = joined(across).all()
    if points.along is not None:
        every = beside(across, own_torsion_along(rig, along=points.along)) if own else across
        return grillage_along(every, along=points.along, own=OWN_STATIONS if own else 0)
    every = beside(across, own_torsion(rig, spacing=points.rail_spacing)) if own else across
    return grillage(
        every, spacing=points.rail_spacing, bending=bending, length=points.length, own=OWN_STATIONS if own else 0
    )


def _each(rig: Rig, bent: Bending, *, known: bool) -> tuple[RailPeaks, ...]:
    """Peaks of the rails in every stretch, by its own section."""
    return tuple(
        pair_peaks(bent.forces, section=rail_section(one.rig), known=known, stretch=one.number) for one in reaches(rig)
    )


def worst_of(each: Sequence[RailPeaks]) -> RailPeaks:
    """What is looked at in every stretch, and the largest of the peaks."""
    whole = each[0]
    for other in each[1:]:
        whole = worse(whole, other=other)
    return whole
