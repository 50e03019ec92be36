"""Charts of a report as inline SVG: rail diagrams, the fold, a value varied; drawn by matplotlib's figures alone."""

from __future__ import annotations

import re
import warnings
from collections.abc import Sequence
from textwrap import fill
from typing import TYPE_CHECKING, Any

from rigcheck.quantities.units import SPOKEN
from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import number

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure


_WIDE = 5.6  # inches of paper
_LEFT, _RIGHT, _BELOW, _ABOVE = 1.06, 0.12, 0.52, 0.28  # room around the axes, inches of paper
_TICKS = 5  # spaces between ticks of an upright axis, at most
_UNDER = 0.36  # title of a level axis under its panel, inches of paper
_CURVES_TALL, _NAMES = 4.2, 1.9  # a chart of curves, and room for their names at its right, inches of paper
_LEADER: dict[str, Any] = {"arrowstyle": "-", "linewidth": 0.5, "color": "#555555", "relpos": (0.0, 0.5)}
_FOLD_TALL, _FOLD_NAMES = 4.3, 1.5
_NAME, _LETTERS = 0.17, 26  # a line of a name, inches of paper; letters after which it is broken
_TITLE = -0.14  # of an upright axis, over the width of its panel
_PLAIN = re.compile(r"<\?xml.*?\?>|<!DOCTYPE.*?>|<metadata>.*?</metadata>|<!--.*?-->", re.S)
_IDS = re.compile(r'\bid="([^"]+)"')
_USES = re.compile(r'(url\(#|href="#)([^")]+)')
_STYLE: dict[Any, Any] = {
    "svg.fonttype": "none",
    "font.family": "sans-serif",
    "font.sans-serif": ["Helvetica", "Arial", "DejaVu Sans"],
    "font.size": 10.0,
    "axes.spines.top": False,
    "axes.spines.right": False,
    "axes.grid": True,
    "grid.color": "#cccccc",
    "grid.linewidth": 0.6,
    "lines.color": "black",
}


def rail_chart(found: PlainView, *, units: PlainView) -> str:
    """Axial force, shear, moment and shape of the rail along the floor.

    Args:
        found: Rail diagrams of a report.
        units: Unit labels of the result.

    Returns:
        SVG.
    """
    force, moment, length = units["force"], units["moment"], units["length"]
    rows: list[tuple[str, Sequence[float], Sequence[float]]] = [
        (f"Axial force N, {_spoken(force)}\ntension up", found["x"], found["axial"]),
        (f"Shear V, {_spoken(force)}", found["x"], found["shear"]),
        (f"Moment M, {_spoken(moment)}\nsagging up", found["x"], found["moment"]),
    ]
    if found["shape"] is not None:
        rows.append((f"Fall, {_spoken(length)}\ndown is down", found["shape"]["x"], found["shape"]["drop"]))

    def draw(figure: Figure) -> None:
        panels = figure.subplots(len(rows), 1, sharex=True, squeeze=False)[:, 0]
        for panel, (title, x, y) in zip(panels, rows, strict=True):
            panel.plot(x, y, color="black", linewidth=1.4)
            panel.fill_between(x, y, 0.0, facecolor="#e2e2e2", edgecolor="#9a9a9a", hatch="////", linewidth=0.0)
            panel.axhline(0.0, color="black", linewidth=0.8)
            panel.axvline(found["hanger"], color="black", linewidth=0.9, linestyle=(0, (6, 3)))
            panel.set_ylabel(title)
            _mark_extremes(panel, x=x, y=y)
        if found["shape"] is not None:
            panels[-1].invert_yaxis()
        panels[0].annotate("hanger", (found["hanger"], 1.02), xycoords=("data", "axes fraction"), ha="center")
        panels[-1].set_xlabel(f"Along the floor from the hinge, {_spoken(length)}")

    return _svg(draw, name="rail", tall=1.75 * len(rows) + 0.5)


def fold_chart(found: PlainView) -> str:
    """Line pull and line length over the fold.

    Args:
        found: The fold study with its sweep.

    Returns:
        SVG.
    """
    rows, units = found["rows"], found["units"]
    x = [row["fold"] for row in rows]

    def curve(key: str) -> list[float]:
        return [float("nan") if row[key] is None else row[key] for row in rows]

    def draw(figure: Figure) -> None:
        pull, length = figure.subplots(2, 1, sharex=True, height_ratios=(3, 2))
        pull.plot(x, curve("line"), color="black", linewidth=1.8)
        ends = [(curve("line"), "each of two lines")]
        if found["one_line"]:
            pull.plot(x, curve("line_alone"), color="black", linewidth=1.2)
            ends.append((curve("line_alone"), "one line alone"))
        allowed = found["pull"]["allowed"]
        shown = [value for key in ("line", "line_alone") for value in curve(key) if value == value]
        if allowed is not None and shown and allowed <= 3.0 * max(shown):
            pull.axhline(allowed, color="black", linewidth=1.0, linestyle=":")
            ends.append(([allowed] * len(x), "weakest link allows"))
        pull.set_ylim(bottom=min(0.0, min(shown, default=0.0)))
        pull.set_ylabel(f"Line pull, {_spoken(units['force'])}")
        named = [
            (x[last], values[last], label)
            for values, label in ends
            for last in [max((i for i, value in enumerate(values) if value == value), default=-1)]
            if last >= 0
        ]
        _name_ends(pull, ends=named, tall=0.56 * (_FOLD_TALL - _BELOW - _ABOVE))
        length.plot(x, curve("line_length"), color="black", linewidth=1.8)
        length.set_ylim(bottom=0.0)
        if found["line"]["least"] is not None:
            length.axhline(found["line"]["least"], color="black", linewidth=1.0, linestyle=":")
            shortest = [(x[-1], found["line"]["least"], "shortest the links allow")]
            _name_ends(length, ends=shortest, tall=0.37 * (_FOLD_TALL - _BELOW - _ABOVE))
        length.set_ylabel(f"Line length, {_spoken(units['length'])}")
        length.set_xlabel("Folded up from the deployed box, deg")

    return _svg(draw, name="fold", tall=_FOLD_TALL, beside=_FOLD_NAMES)


def use_chart(worst: Sequence[PlainView], *, unit: str) -> str:
    """Worst pull of one line in each state, as bars.

    Args:
        worst: Entries with a state word and a force.
        unit: Label of force.

    Returns:
        SVG.
    """

    def draw(figure: Figure) -> None:
        axes = figure.subplots()
        names, values = [str(one["state"]) for one in worst], [float(one["force"]) for one in worst]
        axes.barh(names, values, color="#b5b5b5", edgecolor="black", linewidth=0.9)
        for place, one in enumerate(worst):
            end = (one["force"], place)
            axes.annotate(str(one["words"]), end, xytext=(4, 0), textcoords="offset points", va="center")
        axes.invert_yaxis()
        axes.set_xlim(right=1.3 * max(values))
        axes.set_ylabel("State")
        axes.set_xlabel(f"Largest pull of one line as it is, without dynamic factor, {_spoken(unit)}")
        axes.grid(visible=False, axis="y")

    return _svg(draw, name="pulls", tall=0.34 * len(worst) + 1.0, title=-0.2)


def curve_chart(curves: PlainView, *, name: str) -> str:
    """Curves over one value, such as the use of parts over the length of the box.

    Args:
        curves: `x` (title, values), `y` (title), `lines` (label to values; None is a gap), `level` and
            `now`, a value of x, each or None.
        name: Short word for the ids.

    Returns:
        SVG.
    """

    def draw(figure: Figure) -> None:
        axes = figure.subplots()
        x, ends = curves["x"]["values"], []
        for label, values in curves["lines"].items():
            y = [float("nan") if value is None else value for value in values]
            axes.plot(x, y, color="black", linewidth=1.2)
            last = max((i for i, value in enumerate(values) if value is not None), default=None)
            if last is not None:
                ends.append((x[last], values[last], label))
        if curves["level"] is not None:
            axes.axhline(curves["level"], color="black", linewidth=2.4)
        if curves["now"] is not None:
            axes.axvline(curves["now"], color="black", linewidth=0.9, linestyle=(0, (6, 3)))
        axes.set_xlabel(curves["x"]["title"])
        axes.set_ylabel(curves["y"]["title"])
        axes.set_ylim(bottom=0.0)
        _name_ends(axes, ends=ends, tall=_CURVES_TALL - _BELOW - _ABOVE)

    return _svg(draw, name=name, tall=_CURVES_TALL, beside=_NAMES)


def _name_ends(axes: Axes, *, ends: Sequence[tuple[float, float, str]], tall: float) -> None:
    """Write the name of each curve beside its right end, moved apart where ends lie close, each with a leader.

    Args:
        axes: The panel.
        ends: Last point and name of each curve.
        tall: Height of the panel. [in]
    """
    low, high = axes.get_ylim()
    right = axes.get_xlim()[1]
    told = sorted(((y, x, fill(label, _LETTERS)) for x, y, label in ends), reverse=True)
    unit, place = (high - low) * _NAME / tall, float("inf")
    for y, x, label in told:
        lines = label.count("\n") + 1
        place = min(y, place - 0.5 * lines * unit)
        words = axes.annotate(label, (x, y), xytext=(right + 0.04 * (right - axes.get_xlim()[0]), place),
                              ha="left", va="center", fontsize=8.5, annotation_clip=False,
                              arrowprops=_LEADER)  # fmt: skip
        words.set_parse_math(False)  # a name may hold any sign
        place -= 0.5 * lines * unit


def _spoken(unit: str) -> str:
    return SPOKEN.get(unit, unit)


def _mark_extremes(panel: Axes, *, x: Sequence[float], y: Sequence[float]) -> None:
    """Write the largest and the least value beyond the curve, on the side of the panel that has room."""
    top, low = max(y), min(y)
    span = max(top, 0.0) - min(low, 0.0)
    for value in {top, low}:
        if abs(value) > 0.04 * span:
            place = list(y).index(value)
            late = x[place] > 0.6 * x[-1]
            box = {"boxstyle": "round,pad=0.1", "facecolor": "white", "edgecolor": "none", "alpha": 0.9}
            panel.annotate(
                number(value, digits=4, rounding="up"), (x[place], value), xytext=(-7 if late else 7, 0),
                textcoords="offset points", ha="right" if late else "left", va="center", fontsize=9.5, bbox=box,
            )  # fmt: skip
            panel.plot([x[place]], [value], color="black", marker="o", markersize=3.5)
    panel.margins(y=0.16)


def _grouped(value: float, _: object = None) -> str:
    """A tick with its thousands marked."""
    return f"{value:,.10g}"


def _svg(draw: Any, *, name: str, tall: float, beside: float = 0.0, title: float = _TITLE) -> str:
    """Draw on a figure and give its SVG fit to stand in a page: own ids, no metadata, no outside names."""
    # matplotlib costs 0.3 s and is needed by nothing but a report
    from io import StringIO

    import matplotlib
    from matplotlib.backends.backend_svg import FigureCanvasSVG
    from matplotlib.figure import Figure
    from matplotlib.ticker import MaxNLocator

    with matplotlib.rc_context({**_STYLE, "svg.hashsalt": name}), warnings.catch_warnings():
        warnings.filterwarnings("ignore", message="Glyph")  # the reader's own fonts draw the text
        figure = Figure(figsize=(_WIDE, tall))
        FigureCanvasSVG(figure)
        draw(figure)
        # fixed margins, not a layout engine, which would draw everything twice
        figure.subplots_adjust(left=_LEFT / _WIDE, right=1.0 - (_RIGHT + beside) / _WIDE, bottom=_BELOW / tall,
                               top=1.0 - _ABOVE / tall, hspace=0.16)  # fmt: skip
        for panel in figure.axes:
            panel.yaxis.set_label_coords(title * (_WIDE - _LEFT - _RIGHT) / (_WIDE - _LEFT - _RIGHT - beside), 0.5)
            panel.xaxis.set_label_coords(0.5, -_UNDER / (tall - _BELOW - _ABOVE) * len(figure.axes))
            if not panel.yaxis.have_units():
                panel.yaxis.set_major_formatter(_grouped)
                panel.yaxis.set_major_locator(MaxNLocator(_TICKS))
        out = StringIO()
        figure.savefig(out, format="svg", transparent=True, metadata={"Date": None, "Creator": None})
    text = _PLAIN.sub("", out.getvalue())
    text = _USES.sub(rf"\g<1>{name}-chart-\g<2>", _IDS.sub(rf'id="{name}-chart-\g<1>"', text))
    return re.sub(r"\s*\n\s*", " ", text).strip()
