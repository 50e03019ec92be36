"""Charts of a report as inline SVG: rail diagrams, the fold, a value varied, pulls as bars."""

from __future__ import annotations

from collections.abc import Sequence
from math import floor

from rigcheck.output.drawing.labels import width_of
from rigcheck.output.panel import TYPE, WIDE, Chart, Curve, Panel
from rigcheck.quantities.units import SPOKEN
from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import DIGITS, number

_LEFT, _RIGHT, _BELOW, _ABOVE = 74.0, 14.0, 46.0, 30.0  # room around a panel
_NAMES = 172.0  # room for names of curves at the right
_RAIL, _FOLD, _CURVES, _BAR = 104.0, (170.0, 120.0), 330.0, 22.0  # heights of panels, of a bar
_SPARE = 0.16  # of the span, beyond the extremes of a rail's curve
_FLOOR = 20.0  # a chart of curves begins at a multiple of it
_NEAR = 3.0  # times the curves: an allowable that is higher is left out


def rail_chart(found: PlainView, *, units: PlainView) -> str:
    """Axial force, shear, moment and shape of the rail along the floor.

    Args:
        found: Rail diagrams of a report.
        units: Unit labels of the result.

    Returns:
        SVG.
    """
    force, moment, length = (_spoken(units[key]) for key in ("force", "moment", "length"))
    rows: list[tuple[str, Sequence[float], Sequence[float]]] = [
        (f"Axial force N, {force}, tension up", found["x"], found["axial"]),
        (f"Shear V, {force}", found["x"], found["shear"]),
        (f"Moment M, {moment}, sagging up", found["x"], found["moment"]),
    ]
    if found["shape"] is not None:
        rows.append((f"Fall, {length}, down is down", found["shape"]["x"], found["shape"]["drop"]))
    chart = Chart("rail", len(rows) * (_RAIL + _ABOVE + 12.0) + _BELOW)
    for place, (title, x, y) in enumerate(rows):
        top = _ABOVE + place * (_RAIL + _ABOVE + 12.0)
        span = (max(*y, 0.0) - min(*y, 0.0)) or 1.0
        panel = Panel(
            chart=chart,
            box=(_LEFT, top, WIDE - _RIGHT, top + _RAIL),
            x=(x[0], x[-1]),
            y=(min(*y, 0.0) - _SPARE * span, max(*y, 0.0) + _SPARE * span),
            down=place == 3,
        )
        last = place == len(rows) - 1
        panel.area(x, y)
        panel.axes(title, named=f"Along the floor from the hinge, {length}" if last else "")
        panel.level(0.0)
        panel.curve(x, y)
        panel.upright(found["hanger"])
        _mark_extremes(panel, x=x, y=y, digits=DIGITS[units["length"]] if place == 3 else 4)
        if not place:
            chart.write((panel.at(found["hanger"], 0.0)[0], top - 0.8 * TYPE), "hanger", anchor="middle")
    return chart.svg()


def fold_chart(found: PlainView) -> str:
    """Line pull and line length over the fold.

    Args:
        found: The fold study with its sweep.

    Returns:
        SVG.
    """
    rows, units = found["rows"], found["units"]
    x = [row["fold"] for row in rows]
    curves: list[tuple[Curve, str, float]] = [([row["line"] for row in rows], "each of two lines", 1.9)]
    if found["one_line"]:
        curves.append(([row["line_alone"] for row in rows], "one line alone", 1.3))
    shown = [value for values, *_ in curves for value in values if value is not None]
    allowed = found["pull"]["allowed"]
    levels = [allowed] if allowed is not None and shown and allowed <= _NEAR * max(shown) else []
    chart = Chart("fold", sum(_FOLD) + 2.0 * _ABOVE + _BELOW + 14.0)
    span = (x[0], x[-1])
    high = 1.08 * max([*shown, *levels, 0.0]) or 1.0
    pull = Panel(chart=chart, box=_box(_ABOVE, _FOLD[0]), x=span, y=(min([0.0, *shown]), high))
    pull.axes(f"Line pull, {_spoken(units['force'])}")
    for values, name, width in curves:
        pull.curve(x, values, width=width)
        _name_within(pull, x, values, name=name)
    for value in levels:
        pull.level(value, dash="dotted")
    pull.name_ends([(x[-1], value, "weakest link allows") for value in levels])
    lengths, least = [row["line_length"] for row in rows], found["line"]["least"]
    top = _ABOVE + _FOLD[0] + _ABOVE + 14.0
    high = 1.08 * max(value for value in [*lengths, least, 0.0] if value is not None) or 1.0
    length = Panel(chart=chart, box=_box(top, _FOLD[1]), x=span, y=(0.0, high))
    length.axes(f"Line length, {_spoken(units['length'])}", named="Folded up from the deployed box, deg")
    length.curve(x, lengths, width=1.9)
    if least is not None:
        length.level(least, dash="dotted")
        length.name_ends([(x[-1], least, "shortest the links allow")])
    return chart.svg()


def use_chart(worst: Sequence[PlainView], *, unit: str) -> str:
    """Worst pull of one line in each state, as bars.

    Args:
        worst: Entries with a state word and a force.
        unit: Label of force.

    Returns:
        SVG.
    """
    left = 14.0 + max(width_of(str(one["state"]), size=TYPE) for one in worst)
    chart = Chart("pulls", _ABOVE + _BAR * len(worst) + _BELOW)
    most = max(float(one["force"]) for one in worst) or 1.0
    panel = Panel(
        chart=chart,
        box=(left, _ABOVE, WIDE - _RIGHT, _ABOVE + _BAR * len(worst)),
        x=(0.0, 1.25 * most),
        y=(0.0, float(len(worst))),
        down=True,
    )
    panel.bars(
        [(str(one["state"]), float(one["force"]), str(one["words"])) for one in worst],
        title="Load case",
        named=f"Largest pull of one line, unfactored, {_spoken(unit)}",
    )
    return chart.svg()


def curve_chart(curves: PlainView, *, name: str) -> str:
    """Curves over one value, such as the use of parts over the length of the box.

    Args:
        curves: `x` (title, values), `y` (title), `lines` (label to values; None is a gap), `level` and
            `now`, a value of x, each or None.
        name: Short word for the ids.

    Returns:
        SVG.
    """
    x, level = curves["x"]["values"], curves["level"]
    shown = [value for values in curves["lines"].values() for value in values if value is not None]
    high = 1.08 * max([*shown, level or 0.0]) or 1.0
    low = max(_FLOOR * floor(min(shown, default=0.0) / _FLOOR) - _FLOOR, 0.0)
    chart = Chart(name, _ABOVE + _CURVES + _BELOW)
    panel = Panel(chart=chart, box=_box(_ABOVE, _CURVES), x=(x[0], x[-1]), y=(low, high))
    panel.axes(curves["y"]["title"], named=curves["x"]["title"], spaces=4)
    ends: list[tuple[float, float, str]] = []
    for label, values in curves["lines"].items():
        panel.curve(x, values, width=1.3)
        ends += _end(x, values, name=label)
    if level is not None:
        panel.level(level, width=2.4)
    if curves["now"] is not None:
        panel.upright(curves["now"])
    panel.name_ends(ends)
    return chart.svg()


def _box(top: float, high: float) -> tuple[float, float, float, float]:
    """A panel with room for names at its right."""
    return _LEFT, top, WIDE - _NAMES, top + high


def _end(x: Sequence[float], values: Curve, *, name: str) -> list[tuple[float, float, str]]:
    """Last point of a curve with its name; none of one that has no value."""
    pairs = [(one, value) for one, value in zip(x, values, strict=True) if value is not None]
    return [(*pairs[-1], name)] if pairs else []


def _name_within(panel: Panel, x: Sequence[float], values: Curve, *, name: str) -> None:
    """Write the name of a curve beside its largest value, as curves of a fold run together at their ends."""
    found = [place for place, value in enumerate(values) if value is not None]
    if found:
        most = max(found, key=lambda place: abs(values[place] or 0.0))
        panel.chart.label(panel.at(x[most], values[most] or 0.0), name, toward=(0.9, -0.44))


def _spoken(unit: str) -> str:
    return SPOKEN.get(unit, unit)


def _mark_extremes(panel: Panel, *, x: Sequence[float], y: Sequence[float], digits: int) -> None:
    """Write the largest and the least value beside the curve, on the side of the panel that has room."""
    top, low = max(y), min(y)
    span = max(top, 0.0) - min(low, 0.0)
    for value in dict.fromkeys((top, low)):
        if abs(value) > 0.04 * span:
            place = list(y).index(value)
            at = panel.at(x[place], value)
            panel.chart.dot(at)
            way = -1.0 if x[place] > 0.6 * x[-1] else 1.0
            panel.chart.label(at, number(value, digits=digits, rounding="up"), toward=(way, 0.0))
