"""What the study of one variable finds: bands that pass, what limits them, what governs where."""

from __future__ import annotations

from dataclasses import dataclass

from rigcheck.arrays.types import Array, Mask
from rigcheck.studies.vary.batch import Judged
from rigcheck.studies.vary.variable import Variable


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """What is over, or stops, just past the end of a band.

    Attributes:
        part: The part, or the code of the finding that stops.
        mode: What it is held against, or the sentence of the finding.
        state: State in which.
        value: Where it was found over. [inside units]
        use: Utilization there; None for what stops.
    """

    part: str
    mode: str
    state: str
    value: float
    use: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """Values that pass, from end to end.

    Attributes:
        low: Least value that passes. [inside units]
        high: Largest value that passes.
        below: What limits it downward; None where the range looked at ends there.
        above: What limits it upward; None where the range ends there.
    """

    low: float
    high: float
    below: Limit | None
    above: Limit | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Blocker:
    """What is over, or stops, at every value looked at: the variable cannot cure it.

    Attributes:
        part: The part, or the code of the finding.
        mode: What it is held against, or the sentence of the finding.
        state: State in which, at its least utilization.
        least: Its least utilization over the range; None for what stops.
        at: Where that is. [inside units]
        moves: False where the variable does not touch it at all.
    """

    part: str
    mode: str
    state: str
    least: float | None
    at: float
    moves: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Reign:
    """Values over which one check is the highest.

    Attributes:
        low: First value scanned. [inside units]
        high: Last value scanned.
        part: The part.
        mode: What it is held against.
        state: State in which, at the last value.
        stop: Code of what stops there, empty where nothing does.
    """

    low: float
    high: float
    part: str
    mode: str
    state: str
    stop: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Sweep:
    """The answer of the study.

    Attributes:
        variable: What was varied.
        words: What moved along, in sentences.
        values: Values scanned, rising, shape (value,). [inside units]
        judged: Every check there.
        passes: Where nothing is over or stops, apart from the blockers, shape (value,).
        blockers: What no value of the range cures.
        bands: Values that pass, apart from the blockers; nothing passes whole where there are blockers.
        reigns: What governs where.
        closest: Widest gap between values scanned that may hide a pocket. [inside units]
    """

    variable: Variable
    words: tuple[str, ...]
    values: Array
    judged: Judged
    passes: Mask
    blockers: tuple[Blocker, ...]
    bands: tuple[Band, ...]
    reigns: tuple[Reign, ...]
    closest: float

    @property
    def whole(self) -> bool:
        """Whether any value passes with nothing set aside."""
        return bool(self.bands) and not self.blockers
