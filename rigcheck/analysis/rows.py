"""What a check is: a part and a mode with demand against capacity over every state, bound and side; and a finding."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from enum import Enum
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from rigcheck.analysis.items import Item
from rigcheck.arrays.guarded import UNLIMITED, divide
from rigcheck.arrays.types import Array, Mask
from rigcheck.loads.pieces import BOUNDS

if TYPE_CHECKING:
    from rigcheck.analysis.solve import Solution

SIDES = ("left", "right")
OVER = 1.0
LEGAL = "envelope"
"""Group of the legal height and width, which rank among utilizations only where they are over."""
_PLACE = ("state", "bound", "side")
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
        at_rest: The demand is that of the loads as they are, without the dynamic factor of its row.
        way: Which way of failing of its part it is, the same on every basis; None where no code asks.
        left_alone: Held by one hinge group, the other having let go.
        key: Where in the case it stands that it is of, such as "line.link.1", for one of several; empty for others.
        seen: The solution as the stretch of the box sees it that the row is of; None where it is of the whole box.
        name: What the part is called in its stretch; as `part` where it is of the whole box.
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
    at_rest: bool = False
    way: Enum | None = None
    left_alone: bool = False
    key: str = ""
    seen: Solution | None = None
    name: str = ""

    @property
    def own_name(self) -> str:
        """What the part is called, whichever stretch of the box it is in."""
        return self.name or self.part

    @property
    def item(self) -> Item | None:
        """The part by its id, whichever stretch of the box it is in; None for one of several, as a link or a strap."""
        own = self.own_name
        return own if isinstance(own, Item) else None

    @property
    def factored(self) -> bool:
        """Whether the demand has the dynamic factor of its row; that of a hoist at its full rating has none."""
        return not (self.at_rest or self.snag)

    @property
    def on_accidents(self) -> bool:
        """Whether the rows in which one line parts are the ones looked at."""
        return self.ultimate if self.accident is None else self.accident


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Worst:
    """A check at its worst, all shapes (...).

    Attributes:
        check: The check.
        utilization: Demand over capacity, the largest. [1]
        demand: There.
        capacity: There.
        state: Index of the row.
        bound: Index of the bound.
        side: Index of the side.
    """

    check: Check
    utilization: Array
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
        about: The part it is about, as its checks call it; empty where it is about none alone.
    """

    code: str
    text: str
    where: Mask
    stops: bool = False
    about: str = ""


def ratios(check: Check, *, allowed: Mask, shape: tuple[int, ...]) -> Array:
    """Utilization of a check at every row, bound and side; -1 where it does not apply.

    Args:
        check: The check.
        allowed: Bounds that apply to each row, shape (state, bound) or for each side, already for its basis.
        shape: (..., state, bound, side).

    Returns:
        Demand over capacity, of that shape.
    """
    ratio = divide(check.demand, check.capacity, where_zero=UNLIMITED)
    sided = allowed if allowed.ndim == len(_PLACE) else allowed[..., None]
    use = sided if check.where is ALWAYS else check.where & sided
    counted = np.where(use, ratio, -1.0)
    return counted if counted.shape == shape else np.broadcast_to(counted, shape)


def worst(check: Check, *, allowed: Mask, shape: tuple[int, ...]) -> Worst:
    """The largest utilization of a check over states, bounds and sides.

    Args:
        check: The check.
        allowed: Bounds that apply to each row, shape (state, bound) or for each side, already for its basis.
        shape: (..., state, bound, side).

    Returns:
        The check at its worst, shapes (...).
    """
    ratio = ratios(check, allowed=allowed, shape=shape)
    batch = shape[:-3]
    if not batch:  # one design: plain indices, no axes to gather along
        at = np.unravel_index(int(ratio.argmax()), shape)
        return _at_place(check, ratio=ratio, at=at)
    flat = ratio.reshape(*batch, -1)
    place = flat.argmax(-1)
    design = tuple(np.indices(batch, sparse=True))
    return _at_place(check, ratio=ratio, at=(*design, *np.unravel_index(place, shape[-3:])))


def _at_place(check: Check, *, ratio: Array, at: tuple[Any, ...]) -> Worst:
    """A check at one place of every design, given as an index of (..., state, bound, side)."""

    def pick(values: Array) -> Array:
        own = np.shape(values)
        lead = len(at) - len(own)
        # an axis of one has the same value everywhere
        return np.asarray(np.asarray(values)[tuple(0 if own[k] == 1 else at[lead + k] for k in range(len(own)))])

    def spread(values: Array) -> Array:
        batch = ratio.shape[:-3]
        return values if values.shape == batch else np.broadcast_to(values, batch)

    state, bound, side = (np.asarray(axis) for axis in at[-3:])
    return Worst(
        check=check,
        utilization=np.asarray(ratio[at]),
        demand=spread(pick(check.demand)),
        capacity=spread(pick(check.capacity)),
        state=state,
        bound=bound,
        side=side,
    )


def ranked(found: Sequence[Worst]) -> Array:
    """Utilizations as they are ranked: a legal size that is kept is below nothing, as it uses up no strength.

    Args:
        found: Checks at their worst, shapes (...).

    Returns:
        Utilizations, shape (..., check).
    """
    legal = np.array([one.check.group == LEGAL for one in found])
    used = np.stack(np.broadcast_arrays(*(one.utilization for one in found)), axis=-1)
    return np.asarray(np.where(legal & (used <= OVER), -1.0, used))


def bound_names(ultimate: bool) -> tuple[tuple[str, str | None], ...]:
    """Name of each bound and the line that carries all, for working rows or for rows after one line has parted."""
    alone = "lost" if ultimate else "one_line"
    return tuple((alone, name) if name in SIDES else (name, None) for name in BOUNDS)


def verdict_of(utilization: float, *, tight_above: float) -> str:
    """Within, tight or over for one utilization; tight begins above the tight_above."""
    if utilization > OVER:
        return "over"
    return "tight" if utilization > tight_above else "within"
