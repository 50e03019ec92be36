"""The roll moment of a box that stands off level on a center pivot, for the balance of the whole box."""

from __future__ import annotations

from rigcheck.analysis.join import taken
from rigcheck.calculation.free_body import Body
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.loads.pieces import take
from rigcheck.quantities.measures import MOMENT
from rigcheck.statics.balance import rolled_off
from rigcheck.statics.resultant import resultant


def off_level_roll(sheet: Sheet, spot: Spot, *, body: Body) -> Symbol:
    """Roll moment of a box that stands off level on a free pivot, the way it rolls already.

    Args:
        sheet: Where it is written.
        spot: The row.
        body: The loads of the whole box, and the arm of a line in roll.
    """
    solution, i = spot.whole, spot.index
    loads = take(solution.life.loads, rows=[i])
    loads = loads.demand() if body.factored and not body.parted else loads
    points, at = solution.layout, taken(solution.pose, rows=[i])
    held = solution.held if not body.factored or body.parted else solution.demand
    found = resultant(loads, layout=points, pose=at)
    more = rolled_off(found, total=held.total[..., [i]], layout=points, pose=at)
    arm = sheet.value(body.place["r"])
    way = (1.0 if -sheet.value(body.moment[0]) / arm < 0.0 else -1.0) * (1.0 if arm > 0.0 else -1.0)
    words = "roll moment of the box off level, docs/method.md#center-pivot"
    return sheet.given("M_o", way * float(more[..., 0]), MOMENT, words)
