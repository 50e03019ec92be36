"""What would cure a rig that is over: one change or several, with what they come to."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from rigcheck.case.models.case import Case, Measured
from rigcheck.studies.vary.case import Value, with_values


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One change to the rig.

    Attributes:
        family: Kind of change; two of one kind never make a pair.
        words: The change as a shop would be told it.
        changes: Keys of the case that make it so, with all that moves along.
        effort: How much it changes, in hundredths of the box length or what we count as such; for ranking only.
        clears: Parts of the checks that it is there for.
        lifts: Codes of the findings that it is there for.
        roomier: The same with a mark that can be bought, for a hoist whose window has no room; it needs what it pulls
            at to be stronger.
    """

    family: str
    words: str
    changes: Mapping[str, Value]
    effort: float
    clears: frozenset[str] = frozenset()
    lifts: frozenset[str] = frozenset()
    roomier: Step | None = None


Trial = tuple[Step, ...]
OTHER_BOX = Step(
    family="measured", words="weigh the box anew, since it is another one then", changes={"measured": Measured()},
    effort=0.0,
)  # fmt: skip
"""What goes with a change of the steel of a box that was weighed: it counts by its take-off."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Remedy:
    """Changes made at once, and the rig after them.

    Attributes:
        steps: The changes.
        utilization: Highest utilization after them, over all parts and states.
        part: What governs then.
        mode: What it is held against.
        state: State in which.
        stops: Codes of what stops the rig then.
        cures: Whether nothing is over and nothing stops.
        counted: Who counts with it: every `check`, or the comparison of `props` alone.
        steel: Weight of the steel that it adds or cuts away; infinite where that is not known. [lbf]
    """

    steps: tuple[Step, ...]
    utilization: float
    part: str
    mode: str
    state: str
    stops: tuple[str, ...]
    cures: bool
    counted: str = "check"
    steel: float = 0.0

    @property
    def effort(self) -> float:
        """How much it changes altogether."""
        return sum(step.effort for step in self.steps)

    @property
    def count(self) -> int:
        """How many changes it is; that a box must be weighed again is none."""
        return sum(step is not OTHER_BOX for step in self.steps)

    @property
    def words(self) -> str:
        """The changes in one line."""
        return ", and ".join(step.words for step in self.steps)


def applied(case: Case, remedy: Remedy) -> Case:
    """The case with a remedy carried out.

    Args:
        case: The case.
        remedy: What to change.
    """
    for step in remedy.steps:
        case = with_values(case, step.changes)
    return case
