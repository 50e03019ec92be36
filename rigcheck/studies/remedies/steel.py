"""How much steel a change takes, which ranks remedies that are equally many changes."""

from __future__ import annotations

from dataclasses import dataclass, field

from rigcheck.case.models.case import Case
from rigcheck.case.rig import Rig
from rigcheck.studies.materials.study import steel_weight
from rigcheck.studies.remedies.record import Step, Trial
from rigcheck.studies.vary.case import with_values

_DIGITS = 1  # of a pound: what differs by less is the same steel


@dataclass(frozen=True, slots=True)
class Steel:
    """Weighs the steel of changes to one rig.

    Attributes:
        case: The rig as it is.
    """

    case: Case
    _done: dict[tuple[int, ...], float] = field(default_factory=dict, init=False, repr=False)

    def of(self, steps: Trial) -> float:
        """Steel that changes add or cut away, one after the other, so that what one adds makes up for no cut. [lbf]

        A move and a link of the line take none; a box that is shortened loses what is cut off.

        Args:
            steps: The changes.

        Source: docs/method.md#remedies.
        """
        whole, before, case = 0.0, self._weight((), self.case), self.case
        for count, step in enumerate(steps, start=1):
            case = with_values(case, step.changes)
            after = self._weight(steps[:count], case)
            whole, before = whole + abs(after - before), after
        return round(whole, _DIGITS)

    def cost(self, steps: Trial) -> tuple[float, float]:
        """What ranks changes of one number: steel, then how far things move."""
        return self.of(steps), sum(step.effort for step in steps)

    def _weight(self, steps: tuple[Step, ...], case: Case) -> float:
        key = tuple(id(step) for step in steps)
        if key not in self._done:
            self._done[key] = steel_weight(Rig(case))
        return self._done[key]
