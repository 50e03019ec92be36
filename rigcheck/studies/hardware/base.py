"""The rig as it is, which every size of a part is held against, and which of several sizes is picked."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from rigcheck.assessment.assess import Assessment
from rigcheck.case.rig import Rig
from rigcheck.studies.decisive import decisive
from rigcheck.studies.hardware.record import Size
from rigcheck.studies.hoist_window.study import HoistWindow, hoist_windows
from rigcheck.studies.vary.batch import Judged, kept


@dataclass(frozen=True, slots=True)
class Base:
    """The rig as it is.

    Attributes:
        rig: One rig.
        found: Its assessment.
        judged: The same as studies read it.
        max_utilization: Utilization that no choice may exceed. [1]
    """

    rig: Rig
    found: Assessment
    judged: Judged
    max_utilization: float
    _windows: dict[bool, tuple[HoistWindow, ...]] = field(default_factory=dict, init=False, repr=False, compare=False)

    @staticmethod
    def of(rig: Rig, found: Assessment, *, max_utilization: float) -> Base:
        """From an assessment that is there already."""
        return Base(rig, found, kept(found), max_utilization)

    def windows(self, *, sure: bool) -> tuple[HoistWindow, ...]:
        """The window of every hoist, looked for once; `sure` as `hoist_windows` has it."""
        if sure not in self._windows:
            self._windows[sure] = hoist_windows(self.found, max_utilization=self.max_utilization, sure=sure)
        return self._windows[sure]

    def use(self, *parts: str) -> float:
        """Highest utilization of some parts; below 0 where nothing checks them."""
        rows = [i for i, row in enumerate(self.judged.rows) if row.part in parts]
        return float(self.judged.use[0, rows].max()) if rows else -1.0

    def places(self, parts: Iterable[str]) -> tuple[int, ...]:
        """Rows in which the modes of some parts are at their worst."""
        names = set(parts)
        return decisive(self.found, checks=(one for one in self.found.worst if one.check.part in names))


def pick(sizes: Sequence[Size], *, max_utilization: float) -> tuple[Size | None, Size | None]:
    """The first size that passes, and the one before it.

    Args:
        sizes: Smallest first, with their utilizations.
        max_utilization: Utilization that must not be exceeded. [1]

    Returns:
        The size and the next smaller one; None where there is none.
    """
    for i, size in enumerate(sizes):
        if size.fits and size.use is not None and size.use <= max_utilization:
            return size, sizes[i - 1] if i else None
    return None, None
