"""The longest box that passes every check, or the same of any one numeric key: scan, then bracket, batch by batch."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rigcheck.analysis.rows import OVER
from rigcheck.arrays.types import Array, Mask
from rigcheck.case.errors import CaseError, Problem
from rigcheck.case.models.case import Case
from rigcheck.case.rig import Rig
from rigcheck.case.tacks import must_be_finished
from rigcheck.quantities import exact
from rigcheck.studies.length.record import Band, Blocker, Limit, Reign, Sweep
from rigcheck.studies.vary.batch import Judged, RowKey, complete, judge
from rigcheck.studies.vary.case import broken, design, legal_end
from rigcheck.studies.vary.follow import Hanger, Move, moved
from rigcheck.studies.vary.variable import Variable, check_limits, must_matter, watched

POINTS = 33  # values scanned between the ends of the range
CLOSE = 1e-4  # an end of a band is known to this fraction of its value
_WITHIN = 17  # steps into which a bracket is cut where nothing tells where in it passing ends
_AIM = (0.4, 0.03)  # off the value aimed at: of how closely an end is to be known, and of the bracket
_PASSES = 24  # at most so many times
_PAST, _CLOSELY = 0.04, 16  # past the last band so much of its end is looked at, in so many steps
_NEAR = 0.6  # checks above this at a bracket are looked at inside it, the others when it is closed
_SPAN = 0.6  # the range when none is given: so much of the value to either side
_LEAST_SPAN = 12.0  # in, and no less
_LEAST_USE = 1e-9  # of what is not used at all, so that it has a logarithm
_NOT_HELD = frozenset({"dead_point", "line_slack", "hinge_uplift"})
"""Stops under which forces mean nothing: never set aside, as other stops are when no value cures them."""


@dataclass(frozen=True, slots=True)
class _Scan:
    """The values looked at so far, rising, what was found there, and whether in all states.

    `excess` is the logarithm of the highest use, at most 0 where all passes; endless where something stops.
    """

    values: Array
    good: Mask
    sure: Mask
    excess: Array


def sweep(
    rig: Rig, *, variable: Variable, span: tuple[float | None, float | None] = (None, None),
    hanger: Hanger = "fraction", points: int = POINTS, only: frozenset[str] | None = None,
    done: Callable[[int], None] | None = None,
) -> Sweep:  # fmt: skip
    """Utilization of every part against one variable, and the values that pass.

    The range is scanned; wherever passing turns to failing the bracket is cut into ever smaller steps until its ends
    lie within a ten-thousandth of each other. Several bands are found where there are several.

    Args:
        rig: One rig.
        variable: The key varied.
        span: Ends of the range, None for what suits the key. [inside units]
        hanger: Over the length, whether the hanger keeps its fraction of the length or its place.
        points: Values scanned.
        only: The states looked at; all of them where not said.
        done: Called with the number of designs that are ready, chunk by chunk.

    Returns:
        The study.

    Raises:
        CaseError: The key touches no check, or the range leaves what the rules of a case allow.

    Source: docs/method.md#length.
    """
    must_be_finished(rig.case)
    only = None if only is None else complete(only)
    _must_matter(rig, variable, only=only)
    low, high = _range(rig, variable, span=span, hanger=hanger)

    def move(values: Array) -> Move:
        return moved(rig, key=variable.key, values=values, hanger=hanger)

    values = np.linspace(low, high, max(points, 2))
    if low <= variable.value <= high:
        values = np.unique(np.append(values, variable.value))
    batch = move(values)
    judged = judge(batch.rig, only=only, done=done)
    blockers, aside, stops_aside = _blockers(judged, values)
    good = judged.passes(aside=aside, stops_aside=stops_aside)

    def seen(found: Judged) -> tuple[Mask, Array]:
        passes = found.passes(aside=aside, stops_aside=stops_aside)
        excess = np.log(np.maximum(found.highest(aside=aside), _LEAST_USE) / OVER)
        return passes, np.where(passes == (excess <= 0.0), excess, np.inf)

    def look(more: Array, states: frozenset[str] | None) -> tuple[Mask, Array]:
        return seen(judge(move(more).rig, only=states or only, done=done))

    scan = _Scan(values, good, np.ones_like(good), seen(judged)[1])
    scan = _closed(scan, states=_near_states(judged, good), look=look)
    return Sweep(
        variable=variable,
        words=batch.words,
        values=values,
        judged=judged,
        passes=good,
        blockers=blockers,
        bands=_bands(scan, look=lambda more: judge(move(more).rig, only=only), aside=aside, stops_aside=stops_aside),
        reigns=_reigns(judged, values),
        closest=float(np.diff(values).max()),
    )


def _must_matter(rig: Rig, variable: Variable, *, only: frozenset[str] | None) -> None:
    """Refuse a key that no check reads; most are read by a look at the box at rest alone.

    Raises:
        CaseError: No check reads it.
    """
    if variable.key not in watched(rig, only=complete(frozenset()))[1]:
        must_matter(variable, watched(rig, only=only)[1])


def _range(
    rig: Rig, variable: Variable, *, span: tuple[float | None, float | None], hanger: Hanger
) -> tuple[float, float]:
    """Ends of the range; one that was not given is drawn in until the rules of a case hold there."""
    half = max(_SPAN * abs(variable.value), _LEAST_SPAN if variable.dimension == "length" else 0.0)
    if half == 0.0:
        half = 1.0
    inside = variable.value

    def case_at(value: float) -> Case:
        return design(moved(rig, key=variable.key, values=np.asarray(value), hanger=hanger).rig, 0)

    ends = []
    for wanted, direction, limit in ((span[0], -1.0, variable.least), (span[1], 1.0, variable.most)):
        if wanted is not None:
            problems = broken(case_at(wanted), name="--from" if direction < 0.0 else "--to")
            if problems:
                raise CaseError(problems)
            ends.append(wanted)
            continue
        end = inside + direction * half
        if limit is not None:
            end = max(end, limit) if direction < 0.0 else min(end, limit)
        ends.append(legal_end(case_at, inside, end=end))
    low, high = ends
    if not low < high:
        raise CaseError([Problem("--from", variable.name, "is not under --to")])
    for option, end in (("--from", low), ("--to", high)):
        check_limits(variable, end, option=option, text=exact(end, dimension=variable.dimension))
    return low, high


def _blockers(judged: Judged, values: Array) -> tuple[tuple[Blocker, ...], frozenset[RowKey], frozenset[str]]:
    """What is over at every value scanned, with the keys under which it is set aside."""
    found: list[Blocker] = []
    aside: set[RowKey] = set()
    for i, row in enumerate(judged.rows):
        use = judged.use[:, i]
        if not (use > OVER).all():
            continue
        at = int(use.argmin())
        moves = bool(use.max() - use.min() > 1e-9 * use.max())
        found.append(
            Blocker(part=row.part, mode=row.mode, state=judged.state_of(at, i), least=float(use[at]),
                    at=float(values[at]), moves=moves)
        )  # fmt: skip
        aside.add(row)
    stops_aside = set()
    for code in dict.fromkeys(stop.code for stop in judged.stops):
        same = [stop for stop in judged.stops if stop.code == code]
        stop = same[0]
        if code not in _NOT_HELD and np.any([one.where for one in same], axis=0).all():
            stops_aside.add(code)
            found.append(
                Blocker(part=stop.code, mode=stop.text, state=", ".join(sorted(stop.states)), least=None,
                        at=float(values[0]), moves=False)
            )  # fmt: skip
    return tuple(found), frozenset(aside), frozenset(stops_aside)


def _near_states(judged: Judged, good: Mask) -> frozenset[str]:
    """States that can decide where passing turns to failing."""
    flips = np.flatnonzero(good[1:] != good[:-1])
    ends = np.unique(np.concatenate([flips, flips + 1]))
    near = judged.use[ends] > _NEAR
    names = {judged.states[i] for i in np.unique(judged.state[ends][near])}
    for stop in judged.stops:
        names |= stop.states
    return frozenset(names)


def _closed(
    scan: _Scan, *, states: frozenset[str], look: Callable[[Array, frozenset[str] | None], tuple[Mask, Array]]
) -> _Scan:
    """Draw every bracket in until it is narrow and its ends were looked at in all states; then look past the last band.

    Where a look in all states finds another answer, all values that passed in some states only are looked at again.
    """
    only: frozenset[str] | None = states
    for _ in range(_PASSES):
        more = _inside(scan)
        if more.size:
            scan = _merged(scan, more, look(more, only), sure=only is None)
            continue
        flips = _flips(scan)
        ends = np.unique(np.concatenate([flips, flips + 1]))
        again = ends[~scan.sure[ends]]
        if again.size:
            full = look(scan.values[again], None)
            differs = bool((full[0] != scan.good[again]).any())
            scan = _settled(scan, again, full)
            if differs:
                only = None
                rest = np.flatnonzero(~scan.sure)
                scan = _settled(scan, rest, look(scan.values[rest], None)) if rest.size else scan
            continue
        more = _beyond(scan)
        if more.size == 0:
            break
        scan = _merged(scan, more, look(more, only), sure=only is None)
    return scan


def _settled(scan: _Scan, places: NDArray[np.intp], full: tuple[Mask, Array]) -> _Scan:
    good, sure, excess = scan.good.copy(), scan.sure.copy(), scan.excess.copy()
    good[places], excess[places] = full
    sure[places] = True
    return _Scan(scan.values, good, sure, excess)


def _beyond(scan: _Scan) -> Array:
    """Values just past the last band, close together: a pocket that passes there is longer still, shape (value,)."""
    last = np.flatnonzero(scan.good)
    if last.size == 0 or last[-1] == scan.values.size - 1:
        return np.zeros(0)
    end = scan.values[last[-1]]
    step = _PAST * max(abs(float(end)), 1e-6) / _CLOSELY
    wanted = np.minimum(end + step * np.arange(1, _CLOSELY + 1), scan.values[-1])
    seen = np.abs(wanted[:, None] - scan.values).min(-1) < 0.5 * step
    return np.asarray(wanted[~seen])


def _flips(scan: _Scan) -> NDArray[np.intp]:
    return np.flatnonzero(scan.good[1:] != scan.good[:-1])


def _inside(scan: _Scan) -> Array:
    """Values inside every bracket that is still wide, shape (value,).

    Where both ends have a highest use, the line between its logarithms tells where it is 1: close to either side of
    that, and the middle, so that a bracket is at least halved. Where something stops at an end, even steps.
    """
    flips = _flips(scan)
    low, high = scan.values[flips], scan.values[flips + 1]
    close = CLOSE * np.maximum(np.maximum(np.abs(low), np.abs(high)), 1e-6)
    one, other = scan.excess[flips], scan.excess[flips + 1]
    wide, told = high - low > close, np.isfinite(one) & np.isfinite(other) & (one != other)
    even = low[:, None] + (high - low)[:, None] * np.arange(1, _WITHIN) / _WITHIN
    share = np.where(told, one, 0.0) / np.where(told, np.where(told, one, 0.0) - np.where(told, other, 0.0), 1.0)
    aim, reach = low + (high - low) * share, np.stack([_AIM[0] * close, _AIM[1] * (high - low)], axis=-1)
    near = np.concatenate([aim[:, None] - reach, aim[:, None] + reach, 0.5 * (low + high)[:, None]], axis=-1)
    near = near[wide & told]
    inside = (near > low[wide & told, None]) & (near < high[wide & told, None])
    return np.unique(np.concatenate([even[wide & ~told].ravel(), near[inside]]))


def _merged(scan: _Scan, more: Array, found: tuple[Mask, Array], *, sure: bool) -> _Scan:
    good, excess = found
    values = np.concatenate([scan.values, more])
    order = np.argsort(values, kind="stable")
    known = np.concatenate([scan.sure, sure | ~good])  # what fails in some states fails
    return _Scan(
        values[order], np.concatenate([scan.good, good])[order], known[order],
        np.concatenate([scan.excess, excess])[order],
    )  # fmt: skip


def _bands(
    scan: _Scan, *, look: Callable[[Array], Judged], aside: frozenset[RowKey], stops_aside: frozenset[str]
) -> tuple[Band, ...]:
    """Runs of values that pass, with what fails just outside their ends."""
    edge = np.diff(np.concatenate([[0], scan.good.astype(np.int8), [0]]))
    starts, stops = np.flatnonzero(edge == 1), np.flatnonzero(edge == -1)
    if starts.size == 0:
        return ()
    last = scan.values.size - 1
    outside = np.unique(np.clip(np.concatenate([starts - 1, stops]), 0, last))
    judged = look(scan.values[outside])
    limits = {
        int(place): _limit(judged, i, float(scan.values[place]), aside=aside, stops_aside=stops_aside)
        for i, place in enumerate(outside)
    }
    return tuple(
        Band(
            low=float(scan.values[start]),
            high=float(scan.values[stop - 1]),
            below=limits[int(start) - 1] if start > 0 else None,
            above=limits[int(stop)] if stop <= last else None,
        )
        for start, stop in zip(starts, stops, strict=True)
    )


def _limit(judged: Judged, index: int, value: float, *, aside: frozenset[RowKey], stops_aside: frozenset[str]) -> Limit:
    for stop in judged.stops:
        if stop.code not in stops_aside and stop.where[index]:
            return Limit(part=stop.code, mode=stop.text, state=", ".join(sorted(stop.states)), value=value, use=None)
    use = np.where([row in aside for row in judged.rows], -1.0, judged.use[index])
    i = int(use.argmax())
    row = judged.rows[i]
    return Limit(part=row.part, mode=row.mode, state=judged.state_of(index, i), value=value, use=float(use[i]))


def _reigns(judged: Judged, values: Array) -> tuple[Reign, ...]:
    """Which check is the highest over which values scanned, and what stops there."""
    top = judged.use.argmax(-1)
    stop_at = [next((stop.code for stop in judged.stops if stop.where[k]), "") for k in range(values.size)]
    marks = [(int(top[k]), stop_at[k]) for k in range(values.size)]
    starts = [k for k in range(values.size) if k == 0 or marks[k] != marks[k - 1]]
    found = []
    for start, stop in zip(starts, [*starts[1:], values.size], strict=True):
        i, code = marks[start]
        row = judged.rows[i]
        found.append(
            Reign(low=float(values[start]), high=float(values[stop - 1]), part=row.part, mode=row.mode,
                  state=judged.state_of(stop - 1, i), stop=code)
        )  # fmt: skip
    return tuple(found)
