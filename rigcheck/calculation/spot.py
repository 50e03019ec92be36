"""Where a part is worked out: its governing check, and the state, sharing and side at which that check is worst."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, cast

import numpy as np

from rigcheck.analysis.items import Item
from rigcheck.analysis.rows import SIDES, Check, Worst, bound_names, verdict_of, worst
from rigcheck.analysis.solve import Solution
from rigcheck.assessment.assess import Assessment
from rigcheck.loads.pieces import BOUNDS, Row
from rigcheck.quantities import Dimension
from rigcheck.strength.bases import BASES, ULTIMATE, Basis
from rigcheck.tables.load_cases import load_case
from rigcheck.wording.scale import Scale
from rigcheck.wording.words import bound_sentence, state_opening, variant_words


@dataclass(frozen=True, slots=True)
class Spot:
    """A check at its worst.

    Attributes:
        whole: The statics.
        found: The check with demand, capacity and utilization.
        scale: Units of the output.
    """

    whole: Solution
    found: Worst
    scale: Scale

    @property
    def solution(self) -> Solution:
        """The statics as the stretch of the box sees it that the check is of."""
        return self.whole if self.check.seen is None else self.check.seen

    @property
    def hangs(self) -> bool:
        """Whether the hangers stand in the stretch that is looked at, or beside it."""
        return self.solution.here.hanger

    @property
    def item(self) -> Item | None:
        """The part by its id, whichever stretch of the box it is in; None for one of several, as a link or a strap."""
        return self.check.item

    @property
    def check(self) -> Check:
        """The check."""
        return self.found.check

    @property
    def index(self) -> int:
        """Place on the state axis."""
        return int(self.found.state)

    @property
    def row(self) -> Row:
        """The row of that place."""
        return self.solution.rows[self.index]

    @property
    def bound(self) -> int:
        """Place on the bound axis."""
        return int(self.found.bound)

    @property
    def bound_key(self) -> str:
        """Word of the bound, as the loads have it."""
        return BOUNDS[self.bound]

    @property
    def side(self) -> int:
        """0 left, 1 right."""
        return int(self.found.side)

    @property
    def side_word(self) -> str:
        """Left or right."""
        return SIDES[self.side]

    @property
    def at(self) -> tuple[int, int, int]:
        """State, bound and side."""
        return self.index, self.bound, self.side

    @property
    def on_road(self) -> bool:
        """Whether straps and stops hold the box, so that the six equations alone do not."""
        return load_case(self.row.state).folded

    @property
    def bends(self) -> bool:
        """Whether the rails are bent in this row and bound, and count there."""
        bent, pair = self.solution.bent, (self.index, self.bound)
        return pair in bent.pairs and bool(np.broadcast_to(bent.counted, (len(bent.pairs),))[bent.place(*pair)])

    @property
    def basis(self) -> Basis:
        """Basis of allowable strength of the check."""
        return ULTIMATE if self.check.ultimate else BASES[str(self.solution.rig.value("basis"))]

    @property
    def dimension(self) -> Dimension:
        """What demand and capacity are."""
        return "stiffness" if self.check.unit == "line" else cast(Dimension, self.check.unit)

    @property
    def utilization(self) -> float:
        """Demand over capacity."""
        return float(self.found.utilization)

    @property
    def verdict(self) -> str:
        """Within, tight or over."""
        return verdict_of(self.utilization, tight_above=float(self.solution.rig.number("factors.tight_above")))

    @property
    def title(self) -> str:
        """Part and mode."""
        return f"{self.check.part}: {self.check.mode}"

    @property
    def where(self) -> str:
        """State, variant, sharing and side in a sentence."""
        row = self.row
        name, _ = bound_names(row.ultimate)[self.bound]
        words = variant_words(self.scale.variant(row.variant), unit=self.scale.label("length"))
        opening = f"{state_opening(row.state)}{f' ({words})' if words else ''}"
        if self.check.snag:
            return f"{opening}, with the hoist pulling its full rating on the {self.side_word}."
        sharing = bound_sentence(name, state=row.state)
        factor = row.factor if self.check.factored else "unfactored"
        return f"{opening}, {self.side_word} side{f', {sharing}' if sharing else ''}; {factor}."

    def of(self, values: Any) -> float:
        """A quantity of shape broadcasting to (state, bound, side), here. [inside units]"""
        return float(np.broadcast_to(values, self.solution.shape)[self.at])


def spot(
    assessment: Assessment,
    *,
    scale: Scale,
    accept: Callable[[Check], bool],
    states: frozenset[str] | None = None,
    road: bool = True,
) -> Spot | None:
    """The worst check of a kind.

    Args:
        assessment: The answer for one rig.
        scale: Units of the output.
        accept: Which checks.
        states: States looked at; all of them where not said.
        road: Whether the folded rows of parking and hauling count too.

    Returns:
        The spot; None where no such check applies.
    """
    solution = assessment.solution
    rows = solution.rows
    named = np.array([states is None or row.state in states for row in rows])
    wanted = named & (road | ~solution.cases(lambda case: case.folded))
    # at a dead point, and where wind blows the box off its lines, no tension holds it, and none is worked out
    live = ~(solution.demand.dead | solution.demand.lifted)
    best: Worst | None = None
    for one in assessment.worst:
        if not accept(one.check):
            continue
        among = wanted if one.check.snag else wanted & live
        allowed = solution.looked_at(on_accidents=one.check.on_accidents) & among[:, None]
        here = among & (solution.accidents == one.check.on_accidents)
        found = one if here[int(one.state)] else worst(one.check, allowed=allowed, shape=solution.shape)
        if best is None or float(found.utilization) > float(best.utilization):
            best = found
    return None if best is None or float(best.utilization) < 0.0 else Spot(solution, best, scale)
