"""Turn readings on the rig into moment, tension and weight, each with its uncertainty, beside what the case says."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import hypot

import numpy as np

from rigcheck.case.rig import Rig
from rigcheck.loads.shape import side_at_tail
from rigcheck.studies.field.model import Model, model_of, water_moment
from rigcheck.studies.field.readings import Readings
from rigcheck.studies.field.record import TENSIONS, Remark, Result, What, best, result_of
from rigcheck.studies.field.tension import line_tensions


@dataclass(frozen=True, slots=True, kw_only=True)
class Reduced:
    """The readings reduced.

    Attributes:
        model: What the case alone expects.
        readings: The readings.
        results: Everything that follows from them.
        remarks: What must be said.
        moment: The best measured moment about the hinge in the state; of a water fill, of the box without the water.
        tension: The best measured tension of the harder pulled line.
        weight: The weighed box.
    """

    model: Model
    readings: Readings
    results: list[Result]
    remarks: list[Remark]
    moment: Result | None
    tension: Result | None
    weight: Result | None


def reduce(rig: Rig, *, readings: Readings) -> Reduced:
    """Reduce the readings of one state.

    Args:
        rig: One rig; what its case says under `measured` is left out of the expectations.
        readings: Readings without `problems`.

    Returns:
        Results with uncertainties, and remarks.

    Source: docs/method.md.
    """
    model = model_of(rig, state=readings.state)
    remarks: list[Remark] = []
    if readings.arm is not None:
        model = replace(model, arm=readings.arm * model.out_of_plane)
    if model.arm <= 0.0:
        remarks.append(Remark(code="dead_point", spoils=True, text="the lines pull through the hinge axis, or nearly:"
                              " no tension follows from a moment, nor a moment from a tension"))  # fmt: skip
    water = _water(model, readings=readings)
    tensions = line_tensions(model, readings=readings, water=water.value, remarks=remarks)
    moments = [*_by_tail(model, readings=readings, water=water, lines=tensions, remarks=remarks)]
    moments += _by_lines(model, readings=readings, water=water, lines=tensions)
    _disagreement(moments, remarks=remarks)
    _upward(moments, remarks=remarks)
    weights = _weights(model, readings=readings)
    results = [*moments, *_from_moments(model, moments=moments, readings=readings), *tensions, *weights]
    results += _scale_check(readings, water=water)
    usable = [one for one in results if one.usable]
    pulls = [one for one in usable if one.what in TENSIONS]
    return Reduced(
        model=model,
        readings=readings,
        results=results,
        remarks=remarks,
        moment=best([one for one in usable if one.what is What.MOMENT]),
        tension=max(pulls, key=lambda one: one.value, default=None) if tensions else best(pulls),
        weight=best(weights),
    )


def _water(model: Model, *, readings: Readings) -> Result:
    """Moment of the water of a fill, zero where there was none."""
    like = Result(what=What.WATER, how="level pool", value=0.0, error=0.0, expected=0.0, dimension="moment")
    depth = readings.water_fill
    if depth is None:
        return like
    around = np.array([max(depth - readings.tape_error, 0.0), depth, depth + readings.tape_error])
    side = float(side_at_tail(model.bare))
    low, middle, high = (float(one) for one in water_moment(model.bare, depths=np.minimum(around, side)))
    return replace(like, value=middle, error=0.5 * (high - low), expected=middle)


def _by_tail(
    model: Model, *, readings: Readings, water: Result, lines: list[Result], remarks: list[Remark]
) -> list[Result]:
    """Moment from the lift at the tail, F x; with the lines still carrying, what they hold added."""
    if not readings.tail_lift or readings.at is None:
        return []
    like = Result(what=What.MOMENT, how="tail lift, lines slack", value=0.0, error=0.0, expected=model.moment,
                  dimension="moment")  # fmt: skip
    place, last = (readings.at, readings.tape_error), readings.tail_lift[-1]
    if not readings.lines_carry:
        found = []
        if len(readings.tail_lift) > 1:
            first = readings.tail_lift[0]
            found.append(_lifted(like, pairs=[(first, readings.scale_error * first), place]))
        if water.value:
            like = replace(like, how="tail lift after the water fill, lines slack, less the water")
        return [*found, _lifted(like, pairs=[(last, readings.scale_error * last), place], water=water)]
    held, error = _both(lines)
    if held is None or model.arm <= 0.0:
        bound = last * readings.at
        remarks.append(Remark(code="lines_carried", text="the lines still carried while the scale was read: the moment"
                              f" is at least {bound:.0f} lbf*in; read the lines at the same time (--load-cell), or lift"
                              " until both are slack"))  # fmt: skip
        return []
    like = replace(like, how="tail lift and line tensions read together" + (", less the water" if water.value else ""))
    pairs = [(last, readings.scale_error * last), place, (held, error), (model.arm, readings.tape_error)]
    return [result_of(lambda f, x, t, a: np.asarray(f * x + t * a - water.value), pairs, like=like,
                    error_more=water.error)]  # fmt: skip


def _lifted(like: Result, *, pairs: list[tuple[float, float]], water: Result | None = None) -> Result:
    """Moment from one lift with the lines slack, less that of the water."""
    known, error = (0.0, 0.0) if water is None else (water.value, water.error)
    return result_of(lambda f, x: np.asarray(f * x - known), pairs, like=like, error_more=error)


def _both(lines: Sequence[Result]) -> tuple[float | None, float]:
    """Sum of both tensions and its uncertainty; one read alone stands for both."""
    left, right, each = (
        best([one for one in lines if one.what is what and one.usable]) for what in (What.LEFT, What.RIGHT, What.EACH)
    )
    if left and right:
        return left.value + right.value, hypot(left.error, right.error)
    one = left or right or each
    return (None, 0.0) if one is None else (2.0 * one.value, 2.0 * one.error)


def _by_lines(model: Model, *, readings: Readings, water: Result, lines: list[Result]) -> list[Result]:
    """Moment from the line tensions, (T_left + T_right) d."""
    held, error = _both(lines)
    if held is None or readings.lines_carry or model.arm <= 0.0:
        return []
    read = {one.what for one in lines if one.usable}
    how = "both line tensions times the lever arm" if {What.LEFT, What.RIGHT} <= read else "one line's tension, twice"
    like = Result(what=What.MOMENT, how=how + (", less the water" if water.value else ""), value=0.0, error=0.0,
                  expected=model.moment, dimension="moment")  # fmt: skip
    pairs = [(held, error), (model.arm, readings.tape_error)]
    return [result_of(lambda t, a: np.asarray(t * a - water.value), pairs, like=like, error_more=water.error)]


def _from_moments(model: Model, *, moments: list[Result], readings: Readings) -> list[Result]:
    """Tension of each line, M / 2 d, of the state without the water of a fill."""
    if model.arm <= 0.0:
        return []
    found = []
    for one in moments:
        if one.how.startswith(("both line", "one line")):
            continue
        like = replace(one, what=What.TENSION, how=f"{one.how}, over twice the lever arm", expected=model.tension,
                       dimension="force")  # fmt: skip
        pairs = [(one.value, one.error), (model.arm, readings.tape_error)]
        found.append(result_of(lambda m, a: np.asarray(m / (2.0 * a)), pairs, like=like))
    return found


def _disagreement(moments: list[Result], *, remarks: list[Remark]) -> None:
    for i, one in enumerate(moments):
        for other in moments[i + 1 :]:
            if abs(one.value - other.value) > 2.0 * hypot(one.error, other.error):
                remarks.append(Remark(code="readings_disagree", text=f"{one.how} and {other.how} do not agree within"
                                      " twice their uncertainty: read both again"))  # fmt: skip


def _upward(moments: list[Result], *, remarks: list[Remark]) -> None:
    if any(one.value <= 0.0 for one in moments):
        remarks.append(Remark(code="no_moment_left", spoils=True, text="nothing is left of the moment of the box: the"
                              " water alone explains more than was read; check depth, distance and scale"))  # fmt: skip


def _weights(model: Model, *, readings: Readings) -> list[Result]:
    if readings.weight is None:
        return []
    return [Result(what=What.WEIGHT, how="whole empty box on the scale", value=readings.weight,
                   error=readings.scale_error * readings.weight, expected=model.empty_weight,
                   dimension="force")]  # fmt: skip


def _scale_check(readings: Readings, *, water: Result) -> list[Result]:
    """What scale, distance and pitch make of water whose moment is known: measured over known."""
    if len(readings.tail_lift) < 2 or readings.at is None or water.value <= 0.0:
        return []
    before, after = readings.tail_lift
    like = Result(what=What.SCALE, how="rise of the tail lift over the water fill, against the water's own moment",
                  value=0.0, error=0.0, expected=1.0, dimension="number")  # fmt: skip
    pairs = [
        (before, readings.scale_error * before),
        (after, readings.scale_error * after),
        (readings.at, readings.tape_error),
        (water.value, water.error),
    ]
    return [result_of(lambda a, b, x, w: np.asarray((b - a) * x / w), pairs, like=like)]
