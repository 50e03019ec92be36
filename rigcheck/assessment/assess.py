"""States times parts to a verdict: every check at its worst, every finding, and what nobody could assess."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from rigcheck.analysis.missing import Missing
from rigcheck.analysis.rows import LEGAL, OVER, Flag, Worst, ranked, worst
from rigcheck.analysis.solve import Solution, solve
from rigcheck.arrays.types import Array, Mask
from rigcheck.case.rig import Rig
from rigcheck.case.tacks import is_tacked
from rigcheck.parts.registry import ROAD, all_flags, not_assessed, numbered_checks, road_checks, road_flags


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Assessment:
    """The whole answer for one rig or a batch.

    Attributes:
        solution: The statics.
        worst: Every check at its worst, utilizations of shape (...).
        made_by: For each of them the place of its builder among `check_builders`, `ROAD` for those of the folded box.
        flags: Findings, with where they hold, shape (..., state, bound, side), rows that do not apply left out.
        not_assessed: Load-path parts that the case does not describe, the most decisive first.
        governing: Index into `worst` of the highest utilization, a legal size only where it is over, shape (...).
        utilization: The highest utilization, shape (...).
        stopped: True where a finding stops the rig, shape (...).
    """

    solution: Solution
    worst: list[Worst]
    made_by: list[int]
    flags: list[Flag]
    not_assessed: list[Missing]
    governing: NDArray[np.intp]
    utilization: Array
    stopped: Mask

    @property
    def checked(self) -> bool:
        """Whether any part is held against anything; a legal size alone says nothing of the rig."""
        return any(one.check.group != LEGAL for one in self.worst)

    @property
    def over(self) -> Mask:
        """True where anything is over or stopped, shape (...)."""
        return np.asarray(self.stopped | (self.utilization > OVER))


def _masks(solution: Solution) -> tuple[Mask, Mask]:
    """Where working rows apply and where those in which a line parts do, shapes (state, bound, side)."""
    allowed = np.repeat(solution.allowed[..., None], solution.shape[-1], axis=-1)
    accident = solution.accidents[:, None, None]
    return allowed & ~accident, allowed & accident


def _trim(flag: Flag, *, allowed: Mask, shape: tuple[int, ...]) -> Flag:
    return replace(flag, where=np.broadcast_to(flag.where, shape) & allowed)


def assess(rig: Rig, *, only: frozenset[str] | None = None, places: Sequence[int] | None = None) -> Assessment:
    """Check every described part in every state.

    Args:
        rig: The rig, one or a batch.
        only: The states wanted; all of them where not said.
        places: Which of their rows are wanted, counted from 0 and none of the folded box; all where not said.

    Returns:
        The assessment.

    Source: docs/method.md.
    """
    solution = solve(rig, only=only, places=places)
    working, accident = _masks(solution)
    road = solution.road
    before = solution.before_road
    checks = [*numbered_checks(solution)]
    checks += [(ROAD, check) for check in road_checks(road, before=before)] if road else []
    any_working, any_accident = bool(working.any()), bool(accident.any())
    if is_tacked(rig.case):  # hung empty for trial; a hoist at its full rating is another load case
        checks = [one for one in checks if not one[1].snag]
    checks = [one for one in checks if (any_accident if one[1].on_accidents else any_working)]
    found = [
        worst(check, allowed=accident if check.on_accidents else working, shape=solution.shape) for _, check in checks
    ]
    flags = all_flags(solution) + (road_flags(road, before=before) if road else [])
    allowed = working | accident
    flags = [_trim(flag, allowed=allowed, shape=solution.shape) for flag in flags if np.any(flag.where)]
    flags = [flag for flag in flags if np.any(flag.where)]
    if not solution.rows:
        raise ValueError(f"no state to check among {sorted(only or ())}")
    used = ranked(found) if found else np.zeros((*solution.shape[:-3], 1))  # nothing is used where nothing is checked
    return Assessment(
        solution=solution,
        worst=found,
        made_by=[builder for builder, _ in checks],
        flags=flags,
        not_assessed=not_assessed(solution),
        governing=used.argmax(-1),
        utilization=used.max(-1),
        stopped=_any_stop(flags, shape=solution.shape),
    )


def _any_stop(flags: Sequence[Flag], *, shape: tuple[int, ...]) -> Mask:
    stopped = np.zeros(shape[:-3], dtype=np.bool_)
    for flag in flags:
        if flag.stops:
            stopped = stopped | flag.where.any((-3, -2, -1))
    return stopped
