"""What the study of the plant under the box finds."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from rigcheck.loads.pieces import Row
from rigcheck.statics.tipping import OnWheels


@dataclass(frozen=True, slots=True, kw_only=True)
class Tipping:
    """One way of tipping, at its worst.

    Attributes:
        way: "downstream", "upstream", "left" or "right".
        words: The same in a sentence; "sideways" where left and right are alike.
        ratio: Stabilizing over overturning moment in the worst row, None where nothing turns it over. [1]
        level: The lowest ratio with every slope taken away, None where nothing turns it over. [1]
        row: The worst row.
        level_row: The worst row on level ground.
        by_state: State to its lowest ratio; None where nothing turns it over. [1]
    """

    way: str
    words: str
    ratio: float | None
    level: float | None
    row: Row
    level_row: Row
    by_state: Mapping[str, float | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class FootLoad:
    """One foot: its name, where its sole is [in], and the least and most it carries in any row [lbf] with that row."""

    name: str
    at: tuple[float, float, float]
    least: float
    most: float
    most_row: Row | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Ballast:
    """The least weight that brings every ratio to what is asked, and where.

    Attributes:
        weight: How much. [lbf]
        at: Its center of gravity in plant axes. [in]
        feet: Foot that it stands over, or the two feet between which it stands.
    """

    weight: float
    at: tuple[float, float, float]
    feet: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """The shortest way by which the feet of one side must go outward; `by` is None where no way is enough. [in]"""

    way: str
    feet: tuple[int, ...]
    by: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PlantStudy:
    """Plant and box on their feet and on the road.

    Attributes:
        missing: Keys without which tipping is not assessed; nothing below but the road where there are any.
        needed: Ratio that is asked. [1]
        tipping: Each way in which the base has an edge.
        feet: Each foot.
        stands: Whether plant and box stand in every row.
        ballast: What cures it; None where nothing is over, or where no ballast over the base does.
        moves: What cures each way that is over.
        folded: The road with the box folded; None where the case gives no wheels or does not fold.
        bare: The road without the box; None where the case gives no wheels.
    """

    missing: tuple[str, ...]
    needed: float
    tipping: tuple[Tipping, ...] = ()
    feet: tuple[FootLoad, ...] = ()
    stands: bool = True
    ballast: Ballast | None = None
    moves: tuple[Move, ...] = ()
    folded: OnWheels | None = None
    bare: OnWheels | None = None

    @property
    def over(self) -> bool:
        """Whether a ratio is under what is asked."""
        return any(one.ratio is not None and one.ratio < self.needed for one in self.tipping)
