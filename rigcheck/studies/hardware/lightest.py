"""The lightest listed shape of a kind that passes: outline by outline, the thickest wall of each first."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from rigcheck.assessment.assess import assess
from rigcheck.case.errors import CaseError
from rigcheck.case.rig import Rig
from rigcheck.studies.hardware.base import Base, pick
from rigcheck.studies.hardware.record import Size
from rigcheck.studies.hardware.steel import Steel
from rigcheck.studies.sieve import sieve
from rigcheck.studies.spread.few import Few, few_uses
from rigcheck.studies.vary.case import with_values
from rigcheck.tables import shapes

_HOPELESS = 1.02  # times what is allowed: a thinner wall of the same outline makes the box a little lighter as well
_WEIGHED = "contradicts what was weighed"


@dataclass(frozen=True, slots=True)
class Tries:
    """The shapes of one part that were tried, each once.

    Attributes:
        base: The rig as it is.
        part: The part.
        sizes: Its shapes, lightest first.
    """

    base: Base
    part: Steel
    sizes: Sequence[Size]
    _sieves: list[Few] = field(default_factory=list)
    _roughly: dict[int, tuple[Size, int]] = field(default_factory=dict)
    _wholly: dict[int, Size] = field(default_factory=dict)

    def roughly(self, at: int) -> Size:
        """A shape in the rows that decide: those of the rig as it is, and of what passed there and not in all rows."""
        if at in self._wholly:
            return self._wholly[at]
        if not self._sieves:
            self._sieves.append(sieve(self.base.found, parts=frozenset(self.part.parts)))
        size, count = self._roughly.get(at, (replace(self.sizes[at], use=0.0), 0))
        while count < len(self._sieves) and (not count or self.passes(size)):
            size, count = self._in_rows(size, self._sieves[count]), count + 1
        self._roughly[at] = size, count
        return size

    def wholly(self, at: int) -> Size:
        """A shape in all rows."""
        if at not in self._wholly:
            size = self.sizes[at]
            names = frozenset(self.part.parts)
            try:
                found = assess(Rig(with_values(self.base.rig.case, size.changes)))
            except CaseError:  # no box with it can weigh what was weighed
                self._wholly[at] = replace(size, fits=False, why_not=_WEIGHED)
                return self._wholly[at]
            uses = [float(one.utilization) for one in found.worst if one.check.part in names]
            self._wholly[at] = replace(size, use=max(uses, default=0.0))
            if not self.passes(self._wholly[at]):
                self._sieves.append(sieve(found, parts=names))
        return self._wholly[at]

    def _in_rows(self, size: Size, few: Few) -> Size:
        try:
            uses, _ = few_uses(Rig(with_values(self.base.rig.case, size.changes)), few)
        except CaseError:
            return replace(size, fits=False, why_not=_WEIGHED)
        here = [float(use) for name, use in uses.items() if name in self.part.parts]
        return replace(size, use=max([size.use or 0.0, *here]))

    def passes(self, size: Size) -> bool:
        """Whether a shape passes in the rows in which it was tried."""
        return pick([size], max_utilization=self.base.max_utilization)[0] is not None

    def hopeless(self, size: Size) -> bool:
        """Whether a thinner wall of the same outline cannot pass either."""
        return size.fits and size.use is not None and size.use > _HOPELESS * self.base.max_utilization


def lightest(tries: Tries) -> tuple[Size | None, Size | None]:
    """The lightest shape that passes in all rows, and the one before it.

    Args:
        tries: The shapes.
    """
    at = _roughly_first(tries)
    while at is not None and not tries.passes(tries.wholly(at)):
        at = _roughly_first(tries)
    if at is None:
        return None, None
    while at and tries.passes(tries.roughly(at - 1)) and tries.passes(tries.wholly(at - 1)):
        at -= 1
    return tries.wholly(at), tries.wholly(at - 1) if at else None


def _roughly_first(tries: Tries) -> int | None:
    """The lightest shape that passes in the rows that decide.

    Of one outline a thinner wall is weaker in every way, and where the thickest that is light enough does not carry its
    load none of them is tried. So the number of tries is about that of outlines, and not that of shapes.
    """
    best: int | None = None
    for outline in _outlines(tries.sizes, tries.part):
        for at in reversed(outline):
            if best is not None and at >= best:
                continue
            size = tries.roughly(at)
            if tries.passes(size):
                best = at
            elif tries.hopeless(size):
                break
    return best


def _outlines(sizes: Sequence[Size], part: Steel) -> list[list[int]]:
    """Places of shapes of like depth and width, each list and all of them lightest first."""
    found: dict[tuple[float, float], list[int]] = {}
    for at, size in enumerate(sizes):
        shape = shapes.find(str(size.changes[part.key]))
        found.setdefault((shape.depth, shape.width), []).append(at)
    return list(found.values())


def heavier_roughly(tries: Tries) -> Size | None:
    """A shape that passes in the rows that decide, by halving among those heavier than the one that is there."""
    names = [str(size.changes[tries.part.key]) for size in tries.sizes]
    now = shapes.find(str(tries.base.rig.value(tries.part.key))).weight_per_length
    heavier = [at for at, name in enumerate(names) if shapes.find(name).weight_per_length > now]
    if not heavier:
        return None
    first = bisect_left(heavier, True, hi=len(heavier) - 1, key=lambda at: tries.passes(tries.roughly(at)))
    size = tries.roughly(heavier[first])
    return size if tries.passes(size) else None
