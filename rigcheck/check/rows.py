"""What a check is: a part and a mode with demand against capacity over every state, bound and side; and a finding."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from rigcheck.loads.pieces import BOUNDS
from rigcheck.strength.arrays import UNLIMITED, divide

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

SIDES = ("left", "right")
OVER = 1.0
ALWAYS = np.asarray(True)
"""For a check that applies wherever the bounds of a row do."""
ALWAYS.flags.writeable = False


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Check:
    """One part held against one mode of failure.

    Attributes:
        part: What it is, such as "line link 2: lever hoist".
        group: Room of the rig it belongs to: line, hinge, hanger, perch, rail, floor, road.
        mode: What is held against what.
        unit: Quantity of demand and capacity: force, moment, stress, length, line (force per inch) or number.
        demand: Broadcasts to (..., state, bound, side).
        capacity: Broadcasts to (..., state, bound, side).
        basis: Factors in words.
        clause: Source.
        ultimate: Held against strength and not against working values.
        accident: Looks at the rows in which one line parts and not at the working ones; as `ultimate` unless said.
        where: Rows, bounds and sides it applies to, broadcasts to (..., state, bound, side).
        snag: Held against the hoist's full rating, whatever is in the box.
    """

    part: str
    group: str
    mode: str
    unit: str
    demand: Array
    capacity: Array
    basis: str
    clause: str
    ultimate: bool = False
    accident: bool | None = None
    where: Mask = field(default_factory=lambda: ALWAYS)
    snag: bool = False

    @property
    def on_accidents(self) -> bool:
        """Whether the rows in which one line parts are the ones looked at."""
        return self.ultimate if self.accident is None else self.accident


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Worst:
    """A check at its worst, all shapes (...).

    Attributes:
        check: The check.
        utilisation: Demand over capacity, the largest. [1]
        demand: There.
        capacity: There.
        state: Index of the row.
        bound: Index of the bound.
        side: Index of the side.
    """

    check: Check
    utilisation: Array
    demand: Array
    capacity: Array
    state: NDArray[np.intp]
    bound: NDArray[np.intp]
    side: NDArray[np.intp]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Flag:
    """Something that must be said, and where.

    Attributes:
        code: Stable word for it.
        text: Sentence for people.
        where: Where it holds, broadcasts to (..., state, bound, side).
        stops: Makes the verdict over, whatever the numbers.
    """

    code: str
    text: str
    where: Mask
    stops: bool = False


def ratios(check: Check, *, allowed: Mask, shape: tuple[int, ...]) -> Array:
    """Utilisation of a check at every row, bound and side; -1 where it does not apply.

    Args:
        check: The check.
        allowed: Bounds that apply to each row, shape (state, bound), already for its basis.
        shape: (..., state, bound, side).

    Returns:
        Demand over capacity, of that shape.
    """
    ratio = divide(check.demand, check.capacity, where_zero=UNLIMITED)
    use = allowed[..., None] if check.where is ALWAYS else check.where & allowed[..., None]
    return np.broadcast_to(np.where(use, ratio, -1.0), shape)


def worst(check: Check, *, allowed: Mask, shape: tuple[int, ...]) -> Worst:
    """The largest utilisation of a check over states, bounds and sides.

    Args:
        check: The check.
        allowed: Bounds that apply to each row, shape (state, bound), already for its basis.
        shape: (..., state, bound, side).

    Returns:
        The check at its worst, shapes (...).
    """
    ratio = ratios(check, allowed=allowed, shape=shape)
    batch = shape[:-3]
    flat = ratio.reshape(*batch, -1)
    at = flat.argmax(-1)
    state, bound, side = np.unravel_index(at, shape[-3:])
    design = tuple(np.indices(batch, sparse=True))

    def pick(values: Array) -> Array:
        if np.ndim(values) == 0:
            return np.broadcast_to(values, batch)
        return np.asarray(np.broadcast_to(values, shape)[(*design, state, bound, side)])

    return Worst(
        check=check,
        utilisation=np.asarray(flat[(*design, at)]),
        demand=pick(check.demand),
        capacity=pick(check.capacity),
        state=np.asarray(state),
        bound=np.asarray(bound),
        side=np.asarray(side),
    )


def bound_names(ultimate: bool) -> tuple[tuple[str, str | None], ...]:
    """Name of each bound and the line that carries all, for working rows or for rows after one line has parted."""
    alone = "lost" if ultimate else "one_line"
    return tuple((alone, name) if name in SIDES else (name, None) for name in BOUNDS)


def verdict_of(utilisation: float, *, reserve: float) -> str:
    """Within, tight or over for one utilisation; tight begins above the reserve."""
    if utilisation > OVER:
        return "over"
    return "tight" if utilisation > reserve else "within"
