"""Judge a batch of designs in chunks of bounded memory, keeping of each only what studies read."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rigcheck.analysis.rows import LEGAL, OVER
from rigcheck.arrays.types import Array, Mask
from rigcheck.assessment.assess import Assessment, assess
from rigcheck.case.rig import Rig
from rigcheck.loads.states import life
from rigcheck.tables.load_cases import EMPTY, FOLDING, ids, load_case

ROWS_AT_ONCE = 2048  # rows of the state axis, over all designs of a chunk: fits the cache best, and bounds the memory


@dataclass(frozen=True, slots=True)
class RowKey:
    """What tells a check from all others: part, mode, group, and the load cases it looks at."""

    part: str
    mode: str
    group: str
    snag: bool
    accident: bool


@dataclass(frozen=True, slots=True)
class Finding:
    """Something that must be said of some designs.

    Attributes:
        code: Stable word for it.
        text: Sentence for people.
        where: Shape (design,).
        states: States in which it was found.
        stops: Makes the verdict over, whatever the numbers.
        about: The part it is about, as its checks call it; empty where it is about none alone.
    """

    code: str
    text: str
    where: Mask
    states: frozenset[str]
    stops: bool
    about: str


@dataclass(frozen=True, slots=True)
class Judged:
    """Every check of every design at its worst.

    Attributes:
        rows: The checks.
        use: Utilization, below 0 where the check does not apply, shape (design, row).
        state: Index into `states`, shape (design, row).
        states: Names of states.
        findings: Findings, those that hold for no design left out.
        not_assessed: Load-path parts that are not described.
    """

    rows: tuple[RowKey, ...]
    use: Array
    state: NDArray[np.intp]
    states: tuple[str, ...]
    findings: tuple[Finding, ...]
    not_assessed: tuple[str, ...]

    @property
    def stops(self) -> tuple[Finding, ...]:
        """Findings that stop a rig."""
        return tuple(finding for finding in self.findings if finding.stops)

    def passes(self, *, aside: frozenset[RowKey] = frozenset(), stops_aside: frozenset[str] = frozenset()) -> Mask:
        """Designs with nothing over and nothing that stops, apart from what is set aside, shape (design,)."""
        rows = [i for i, row in enumerate(self.rows) if row not in aside]
        good = (self.use[:, rows] <= OVER).all(-1)
        for stop in self.stops:
            if stop.code not in stops_aside:
                good = good & ~stop.where
        return np.asarray(good)

    def highest(self, *, aside: frozenset[RowKey] = frozenset()) -> Array:
        """The highest utilization of each design, a legal size only where it is over, shape (design,)."""
        rows = [i for i, row in enumerate(self.rows) if row not in aside]
        return np.asarray(self._ranked()[:, rows].max(-1))

    def governing(self, design: int) -> int:
        """The check that governs a design."""
        return int(self._ranked()[design].argmax())

    def _ranked(self) -> Array:
        legal = np.array([row.group == LEGAL for row in self.rows])
        return np.where(legal & (self.use <= OVER), -1.0, self.use)

    def state_of(self, design: int, row: int) -> str:
        """The state in which a check of a design is at its worst."""
        return self.states[int(self.state[design, row])]


def judge(
    rig: Rig, *, only: frozenset[str] | None = None, places: Sequence[int] | None = None, rows: int | None = None,
    done: Callable[[int], None] | None = None,
) -> Judged:  # fmt: skip
    """Check a batch, chunk after chunk.

    Args:
        rig: The batch; varied values of shape () or (design,).
        only: The states wanted; all of them where not said.
        places: Which of their rows are wanted, none of the folded box; all where not said.
        rows: How many rows those are, where that is known.
        done: Called with the number of designs of each chunk that is ready.

    Returns:
        Checks, states and stops of every design.
    """
    wanted = None if only is None else complete(only)
    parts = []
    for chunk, count in chunks(rig, only=wanted, rows=rows if places is None else len(places)):
        parts.append(kept(assess(chunk, only=wanted, places=places), count=count))
        if done is not None:
            done(count)
    return _joined(parts)


def complete(states: frozenset[str]) -> frozenset[str]:
    """States that can be looked at by themselves: with those that they are made from."""
    made_from = ids(lambda case: case.hung or case.id == FOLDING)
    more = made_from if any(load_case(state).of_others for state in states) else ()
    return states | {EMPTY, *more}  # a deflection needs a box at rest


def chunks(rig: Rig, *, only: frozenset[str] | None = None, rows: int | None = None) -> Iterator[tuple[Rig, int]]:
    """The batch in parts, each with its number of designs.

    Args:
        rig: The batch; varied values of shape () or (design,).
        only: The states that will be looked at.
        rows: How many rows of them; counted where not said.
    """
    (total,) = np.broadcast_shapes((1,), *(values.shape for values in rig.varied.values()))
    first = Rig(rig.case, {key: values if values.ndim == 0 else values[:1] for key, values in rig.varied.items()})
    rows = len(life(first, batch=(1,), only=only).loads.rows) if rows is None else rows
    size = max(1, ROWS_AT_ONCE // rows)
    for start in range(0, total, size):
        count = min(size, total - start)
        part = {key: np.broadcast_to(values, (total,))[start : start + count] for key, values in rig.varied.items()}
        yield Rig(rig.case, part), count


def some_of(rig: Rig, *, start: int, count: int) -> Rig:
    """Designs of a batch, from one on."""
    return Rig(
        rig.case, {k: values if values.ndim == 0 else values[start : start + count] for k, values in rig.varied.items()}
    )


def kept(found: Assessment, *, count: int = 1) -> Judged:
    """What studies read of an assessment.

    Args:
        found: The assessment of a batch of `count` designs, or of one rig.
        count: Number of designs.
    """
    names = tuple(row.state for row in found.solution.rows)
    states = tuple(dict.fromkeys(names))
    index = np.array([states.index(name) for name in names], dtype=np.intp)
    use: dict[RowKey, Array] = {}
    state: dict[RowKey, NDArray[np.intp]] = {}
    for one in found.worst:
        key = RowKey(one.check.part, one.check.mode, one.check.group, one.check.snag, one.check.on_accidents)
        here = np.broadcast_to(one.utilization, (count,))
        there = index[np.broadcast_to(one.state, (count,))]
        if key in use:  # rows that nothing tells apart: the worse of them
            there = np.where(here > use[key], there, state[key])
            here = np.maximum(here, use[key])
        use[key], state[key] = here, there
    findings = tuple(
        Finding(
            code=flag.code,
            text=flag.text,
            where=np.broadcast_to(flag.where, found.solution.shape).any((-3, -2, -1)) & np.ones(count, dtype=np.bool_),
            states=frozenset(name for name, on in zip(names, _rows_on(flag.where), strict=True) if on),
            stops=flag.stops,
            about=flag.about,
        )
        for flag in found.flags
    )
    return Judged(
        rows=tuple(use),
        use=np.stack(list(use.values()), axis=-1),
        state=np.stack(list(state.values()), axis=-1),
        states=states,
        findings=findings,
        not_assessed=tuple(found.not_assessed),
    )


def _rows_on(where: Mask) -> NDArray[np.bool_]:
    """Rows of the state axis at which a finding holds for any design, bound and side, shape (state,)."""
    return np.asarray(where.any((-2, -1)).reshape(-1, where.shape[-3]).any(0))


def _joined(parts: list[Judged]) -> Judged:
    if len(parts) == 1:
        return parts[0]
    counts = [len(part.use) for part in parts]
    keys = dict.fromkeys((one.code, one.text, one.stops, one.about) for part in parts for one in part.findings)
    findings = []
    for code, text, stops, about in keys:
        found = [next((f for f in part.findings if (f.code, f.text) == (code, text)), None) for part in parts]
        where = [
            np.zeros(count, dtype=np.bool_) if one is None else one.where
            for one, count in zip(found, counts, strict=True)
        ]
        seen = frozenset[str]().union(*(one.states for one in found if one is not None))
        findings.append(Finding(code, text, np.concatenate(where), seen, stops, about))
    rows = tuple(dict.fromkeys(row for part in parts for row in part.rows))
    states = tuple(dict.fromkeys(state for part in parts for state in part.states))
    whole = [_with_rows(part, rows=rows, states=states) for part in parts]
    return Judged(
        rows=rows,
        use=np.concatenate([use for use, _ in whole]),
        state=np.concatenate([state for _, state in whole]),
        states=states,
        findings=tuple(findings),
        not_assessed=tuple(dict.fromkeys(text for part in parts for text in part.not_assessed)),
    )


def _with_rows(part: Judged, *, rows: tuple[RowKey, ...], states: tuple[str, ...]) -> tuple[Array, NDArray[np.intp]]:
    """Use and state of a chunk on the rows of all chunks; a check that it does not have does not apply."""
    names = np.array([states.index(state) for state in part.states], dtype=np.intp)
    if rows == part.rows:
        return part.use, names[part.state]
    use = np.full((len(part.use), len(rows)), -1.0)
    state = np.zeros(use.shape, dtype=np.intp)
    places = [rows.index(row) for row in part.rows]
    use[:, places], state[:, places] = part.use, names[part.state]
    return use, state
