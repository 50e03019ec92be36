"""The window of a hoist: from the mark that the line needs to the mark at which a snagged box breaks nothing."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rigcheck.analysis.links.capacity import LinkStrength
from rigcheck.analysis.rows import OVER, Check, worst
from rigcheck.analysis.solve import Solution, solve
from rigcheck.arrays.types import Array, Mask
from rigcheck.assessment.assess import Assessment
from rigcheck.case.rig import Rig, varied
from rigcheck.case.tacks import is_tacked
from rigcheck.parts.line.checks import link_checks
from rigcheck.parts.registry import ROAD, hung_checks
from rigcheck.studies.decisive import decisive
from rigcheck.tables.hardware import least_design_factor
from rigcheck.tables.link_kinds import HOISTS

STEP = 10.0  # lb: marks are told in such steps, the least up and the most down
_TRIED = 12  # marks of one pass
_AWAY = STEP * 4.0 ** np.arange(5)  # lb: marks of the first pass, about where use that grows as the mark does is over
_PASSES = 5
_LARGEST = 200_000.0  # lb: no hoist of a rig is marked more


@dataclass(frozen=True, slots=True, kw_only=True)
class HoistWindow:
    """What the mark of one hoist may be.

    Attributes:
        part: What it is, as the checks call it.
        index: Which of `line.link`.
        marked: Its mark as it is. [lbf]
        needs: Least mark at which the hoist itself is not over. [lbf]
        least: Least mark to look for: within the limit, or `needs` where only that is not over `most`. [lbf]
        most: Largest mark at which nothing is over when the box is snagged; None where nothing of that is known. [lbf]
        limit: What would be over first beyond it, part and mode; empty where nothing is known.
    """

    part: str
    index: int
    marked: float
    needs: float
    least: float
    most: float | None
    limit: tuple[str, str] | tuple[()]

    @property
    def empty(self) -> bool:
        """Whether no mark will do: what the line needs is more than its anchors stand."""
        return self.most is not None and self.least > self.most

    @property
    def holds(self) -> bool:
        """Whether the mark as it is lies inside, its own use aside."""
        return not self.empty and (self.most is None or self.marked <= self.most)


def hoist_windows(
    found: Assessment, *, max_utilization: float | None = None, sure: bool = True
) -> tuple[HoistWindow, ...]:
    """The window of every hoist of a line, in the order of the case file.

    Args:
        found: The assessment of one rig, all its states.
        max_utilization: Most that the hoist itself is used; `factors.tight_above` of the case where not said. [1]
        sure: Look at the largest mark in all rows; else in those that decide as the rig is.

    Returns:
        The windows; none for a hoist that cannot be assessed.

    Source: docs/method.md#anchor-match.
    """
    solution = found.solution
    if is_tacked(solution.rig.case):
        return ()
    limit = float(solution.rig.number("factors.tight_above")) if max_utilization is None else max_utilization
    windows = []
    for index, link in enumerate(solution.links):
        if link.kind not in HOISTS or link.unknown:
            continue
        needs = _needs(solution, link)
        most, first = _most(found, index=index, sure=sure)
        least = _up(needs / limit)
        if most is not None and least > most >= _up(needs):
            least = _up(needs)
        windows.append(
            HoistWindow(part=link.label, index=index, marked=float(solution.rig.number(f"line.link.{index}.wll")),
                        needs=needs, least=least, most=most, limit=first)
        )  # fmt: skip
    return tuple(windows)


def _up(pounds: float) -> float:
    return float(STEP * np.ceil(pounds / STEP - 1e-9))


def _needs(solution: Solution, link: LinkStrength) -> float:
    """Least mark that carries the line in every state but the snagged one, worn as the case says. [lbf]"""
    kept = 1.0 - float(solution.rig.number("line.wear"))
    snagged = solution.cases(lambda case: case.full_pull)[:, None]
    found = 0.0
    for check in (one for one in link_checks(solution) if one.key == link.key):
        one = worst(check, allowed=solution.looked_at(on_accidents=check.on_accidents) & ~snagged, shape=solution.shape)
        factor = least_design_factor(link.kind) if check.ultimate else 1.0
        if float(one.utilization) >= 0.0:
            found = max(found, float(one.demand) / (kept * factor))
    return found


def _snagged(solution: Solution, checks: Iterator[Check]) -> list[tuple[Check, Mask]]:
    """What is held against the full rating of the hoists, with its rows: not the hoists, nor how far things move."""
    hoists = {link.key for link in solution.links if link.kind in HOISTS}
    rows = solution.cases(lambda case: case.full_pull)[:, None]
    found = []
    for check in checks:
        if check.key in hoists or check.unit == "length":
            continue
        allowed = solution.looked_at(on_accidents=check.on_accidents)
        mask = allowed if check.snag else allowed & rows
        if mask.any():
            found.append((check, mask))
    return found


def _highest(rig: Rig, *, places: tuple[int, ...] | None) -> tuple[Array, list[tuple[str, str]], NDArray[np.intp]]:
    """Highest utilization of what is snagged, what may govern, and which does, shapes (...)."""
    solution = solve(rig, places=places)
    checks = _snagged(solution, iter(hung_checks(solution)))
    shape = solution.shape[:-3]
    if not checks:
        return np.full(shape, -1.0), [], np.zeros(shape, dtype=np.intp)
    uses = [worst(check, allowed=mask, shape=solution.shape).utilization for check, mask in checks]
    stacked = np.stack(np.broadcast_arrays(*uses, np.zeros(shape))[:-1], axis=-1)
    return stacked.max(-1), [(check.part, check.mode) for check, _ in checks], stacked.argmax(-1)


def _most(found: Assessment, *, index: int, sure: bool) -> tuple[float | None, tuple[str, str] | tuple[()]]:
    """Largest mark, in whole steps, at which nothing that is snagged is over, and what is over first beyond it."""
    solution, key = found.solution, f"line.link.{index}.wll"
    rig = solution.rig
    every = (one.check for one, builder in zip(found.worst, found.made_by, strict=True) if builder != ROAD)
    now = [worst(check, allowed=mask, shape=solution.shape) for check, mask in _snagged(solution, every)]
    top = max((float(one.utilization) for one in now), default=-1.0)
    if top <= 0.0:
        return None, ()
    marked = float(rig.number(key))
    places = decisive(found, checks=now)
    governs = max(now, key=lambda one: float(one.utilization)).check
    limit = (governs.part, governs.mode)
    # use grows at least as fast as the mark: second-order effects only add to it
    low, high = (0.0, marked) if top > OVER else (marked, min(marked / top, _LARGEST))
    low, high = STEP * np.floor(low / STEP), STEP * (np.ceil(high / STEP) + 1.0)
    about = np.clip(marked / top + np.concatenate([-_AWAY, [0.0], _AWAY, [-np.inf, np.inf]]), low, high)
    for tried in range(_PASSES):
        if high - low <= STEP * 1.5:
            break
        marks = np.unique(STEP * np.round((np.linspace(low, high, _TRIED) if tried else about) / STEP))
        marks = marks[marks > 0.0]
        use, names, first = _highest(varied(rig, {key: marks}), places=places)
        good, bad = marks[use <= OVER], np.flatnonzero(use > OVER)
        low = float(good.max()) if len(good) else low
        bad = bad[marks[bad] > low]
        if not len(bad):
            break
        high, limit = float(marks[bad[0]]), names[int(first[bad[0]])]
    for _ in range(_PASSES if sure and low > 0.0 else 0):
        use, names, first = _highest(varied(rig, {key: low}), places=None)
        if float(use) <= OVER:
            break
        low, limit = max(STEP * float(np.floor(low / float(use) / STEP)), 0.0), names[int(first)]
    return float(low), limit
