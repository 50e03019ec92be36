"""A few rows instead of all: what a study of very many samples goes on with once it knows which rows can govern."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from rigcheck.analysis.rows import Check, Flag, ratios
from rigcheck.analysis.solve import Keep, Solution, solve
from rigcheck.arrays.types import Array, Mask
from rigcheck.case.rig import Rig
from rigcheck.parts.cross_member.checks import member_checks
from rigcheck.parts.face.checks import face_checks
from rigcheck.parts.face.sheet import sheet_checks
from rigcheck.parts.joint.checks import joint_checks
from rigcheck.parts.rail.checks import rail_checks, thrown_back
from rigcheck.parts.rail.seams import seam_checks
from rigcheck.parts.rail.strength import rail_strength_checks
from rigcheck.parts.registry import check_builders, road_checks, road_flags, stoppers

RAILS = (rail_checks, rail_strength_checks, seam_checks, face_checks, sheet_checks, member_checks, joint_checks)
"""Builders of checks that ask how the rails are bent."""
FACES = (face_checks, sheet_checks)
"""Those of them that look at a rail where it is not bent, too."""

Place = tuple[int, int]
"""A row of the kept ones, those of the folded box behind the others, and a bound."""


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Few:
    """The rows that are gone on with.

    Attributes:
        keep: Rows and rails.
        places: For each builder of checks, the rows and bounds that its checks are looked at.
        stops: How many of the kept rows, from the first, are those at which findings that stop are looked for.
        road: True where the checks of the folded box are among what is looked at.
    """

    keep: Keep
    places: Mapping[int, tuple[Place, ...]]
    stops: int
    road: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """What is to be looked at, in the rows of the whole rig, those of the folded box behind the others.

    Attributes:
        looked: Rows at which findings that stop are looked for.
        places: For each builder of checks of the hung box, the rows and bounds that its checks are looked at.
        bent: Rows and bounds whose rails are bent under the factored loads.
        sagged: The same under the loads as they are, at rest.
        peaking: Rows of `bent` that count where they peak alone, with those they are held against.
    """

    looked: Sequence[int]
    places: Mapping[int, Collection[Place]]
    bent: Collection[Place]
    sagged: Collection[Place]
    peaking: Mapping[int, tuple[int, int]]

    @property
    def rows(self) -> frozenset[int]:
        """Every row that a check or a rail is looked at in."""
        asked = (row for some in (*self.places.values(), self.bent) for row, _ in some)
        return frozenset(asked).union(*self.peaking.values())

    def few(self, *, hung: int, road: Collection[int], road_bent: bool) -> Few:
        """The same in the rows that are kept.

        Args:
            hung: How many rows stand before those of the folded box.
            road: Rows of the folded box that are kept.
            road_bent: Whether its rails are looked at.
        """
        kept = [*self.looked, *sorted({row for row in self.rows if row < hung} - set(self.looked))]
        at = {row: i for i, row in enumerate([*kept, *sorted(road)])}

        def moved(some: Collection[Place]) -> tuple[Place, ...]:
            return tuple(sorted((at[row], bound) for row, bound in some))

        return Few(
            keep=Keep(
                hung=tuple(kept),
                road=tuple(row - hung for row in sorted(road)),
                bent=moved(self.bent),
                flanks={at[row]: (at[before], at[after]) for row, (before, after) in sorted(self.peaking.items())},
                sagged=moved(self.sagged),
                road_bent=road_bent,
            ),
            places={builder: moved(some) for builder, some in sorted(self.places.items())},
            stops=len(self.looked),
            road=bool(road),
        )


def highest(checks: list[Check], *, allowed: Mask, ultimate: Mask, shape: tuple[int, ...]) -> dict[str, Array]:
    """The highest utilization of each part, below 0 where no check of it applies.

    Args:
        checks: Checks over some rows.
        allowed: Bounds that apply to each row, shape (state, bound).
        ultimate: Rows in which one line parts, shape (state,).
        shape: (..., state, bound, side).

    Returns:
        Part to shape (...).
    """
    found: dict[str, Array] = {}
    masks = {accident: allowed & (ultimate == accident)[:, None] for accident in (False, True)}
    live = {accident: bool(mask.any()) for accident, mask in masks.items()}
    for check in checks:
        if not live[check.on_accidents]:
            continue
        here = ratios(check, allowed=masks[check.on_accidents], shape=shape).max((-3, -2, -1))
        found[check.part] = np.maximum(found[check.part], here) if check.part in found else here
    return found


def few_uses(rig: Rig, few: Few, *, only: frozenset[str] | None = None) -> tuple[dict[str, Array], dict[str, Mask]]:
    """Check every part at the few rows that can govern it.

    Args:
        rig: A batch.
        few: The rows.
        only: The states whose rows are counted; all of them where not said.

    Returns:
        Highest utilization of each part, and where each finding that stops was found, shapes (design,).
    """
    solution = solve(rig, only=only, keep=few.keep)
    uses: dict[str, Array] = {}
    builders = check_builders()
    for builder, places in few.places.items():
        some = solution.at_rows([row for row, _ in places], bounds=[bound for _, bound in places])
        found = highest(builders[builder](some), allowed=some.allowed, ultimate=some.accidents, shape=some.shape)
        _merge(uses, found)
    road = solution.road
    stops: dict[str, Mask] = {}
    if few.stops:
        some = solution.first_rows(few.stops)
        for flag in (flag for build in stoppers() for flag in build(some) if flag.stops):
            _stop(stops, flag.code, np.asarray(flagged(flag, allowed=some.allowed, shape=some.shape).any(-1)))
    if road is not None and few.road:
        shape = (*solution.shape[:-3], len(road.rows), 1, 1)
        allowed = np.ones((len(road.rows), 1), dtype=np.bool_)
        ultimate = np.array([row.ultimate for row in road.rows], dtype=np.bool_)
        _merge(uses, highest(road_checks(road, before=0), allowed=allowed, ultimate=ultimate, shape=shape))
        for flag in (flag for flag in road_flags(road, before=0) if flag.stops):
            _stop(stops, flag.code, np.asarray(flagged(flag, allowed=allowed, shape=shape).any(-1)))
    return uses, stops


def flagged(flag: Flag, *, allowed: Mask, shape: tuple[int, ...]) -> Mask:
    """Rows at which a finding holds under any bound that applies and on any side.

    Args:
        flag: The finding.
        allowed: Bounds that apply to each row, shape (state, bound).
        shape: (..., state, bound, side).

    Returns:
        Shape (..., state).
    """
    where = np.asarray(flag.where)
    where = where.reshape((1,) * (len(shape) - where.ndim) + where.shape)
    each = allowed if where.shape[-2] > 1 else np.asarray(allowed.any(-1))[:, None]
    here = np.asarray(where & each[..., None]).any((-2, -1))
    return np.broadcast_to(here, shape[:-2])


def strained(solution: Solution) -> set[tuple[int, int]]:
    """Rows and bounds whose rail is stressed most of their state and bound, in any design and on either side."""
    bent = solution.bent
    stress = np.where(bent.counted[..., None], solution.peaks.stress * thrown_back(solution), 0.0)
    assert bent.alike is not None
    places = [np.flatnonzero(bent.alike.of == kind) for kind in np.unique(bent.alike.of)]
    return {bent.pairs[int(k)] for some in places for k in np.unique(some[stress[..., some, :].argmax(-2)])}


def _merge(uses: dict[str, Array], more: Mapping[str, Array]) -> None:
    for part, use in more.items():
        uses[part] = np.maximum(uses[part], use) if part in uses else use


def _stop(stops: dict[str, Mask], code: str, where: Mask) -> None:
    if where.any():
        stops[code] = np.asarray(stops[code] | where if code in stops else where)
