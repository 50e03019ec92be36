"""The fold angle by angle as the page plays it: where the box stands, which line pull holds it, what becomes of it."""

from __future__ import annotations

from typing import Any

from rigcheck.assessment.assess import Assessment
from rigcheck.output.drawing.data import drawing_data
from rigcheck.output.drawing.shapes import side_frame
from rigcheck.output.drawing.sheet import Sheet
from rigcheck.output.fold.view import fold_result
from rigcheck.output.html_page import words
from rigcheck.quantities import System
from rigcheck.studies.fold.study import fold_of
from rigcheck.wording.plain import Plain
from rigcheck.wording.scale import Scale
from rigcheck.wording.words import number

_WIDE, _TALL, _LEFT, _BASE, _TOP = 520.0, 210.0, 64.0, 170.0, 16.0
_HELD = {
    "held": "the lines hold it",
    "held_from_behind": "the lines hold it from behind",
    "slack_inward": "slack: it falls inward",
    "falls_outward": "it falls outward",
    "dead_point": "dead center: nothing holds it",
}


def fold_block(found: Assessment, *, system: System) -> Plain:
    """The fold for the page.

    Args:
        found: The assessment of a rig that folds.
        system: Units.

    Returns:
        The chart as SVG, and for each angle its place in the chart, the turn of the box, and what is said of it.
    """
    study = fold_result(fold_of(found), system=system, whole=True)
    rows = study["rows"]
    drawing = drawing_data(found, scale=Scale(system))
    frame = side_frame(drawing, folded=True)
    place = Sheet("side-folded", frame).place
    unit: str = study["units"]["force"]
    end: float = max(row["fold"] for row in rows)
    pulls = [row[key] for row in rows for key in ("line", "line_alone") if row[key] is not None]
    most: float = max([*pulls, study["pull"]["allowed"] or 0.0, 1.0])

    def across(angle: float) -> float:
        return _LEFT + (_WIDE - _LEFT - 10.0) * angle / max(float(end), 1e-9)

    def up(pull: float) -> float:
        return _BASE - (_BASE - _TOP) * max(pull, 0.0) / float(most)

    return {
        "svg": _chart(study, across=across, up=up, most=most, end=end, unit=unit),
        "pin": list(place((0.0, 0.0))),
        "box": [list(place((x, z))) for x, z in drawing["deployed"]["corners"]],
        "hanger": list(place(tuple(drawing["deployed"]["hanger"]))),
        "perch": list(place((drawing["perch"]["downstream"], drawing["perch"]["height"]))),
        "rows": [[row["fold"], across(row["fold"]), _said(row, unit=unit)] for row in rows],
    }


def _said(row: Plain, *, unit: str) -> str:
    """One angle in words."""
    hold = _HELD.get(row["hold"], str(row["hold"]).replace("_", " "))
    one = number(row["line"], unit=unit, rounding="up") if row["line"] is not None else "no pull that is known"
    both = row["line_alone"]
    alone = "" if both is None else f", one alone {number(both, unit=unit, rounding='up')}"
    return f"folded {number(row['fold'], unit='deg')}: {hold}; each line {one}{alone}"


def _chart(study: Plain, *, across: Any, up: Any, most: float, end: float, unit: str) -> str:
    """Line pull over the fold, with dead center, balance point and the slack arc."""
    angles = study["angles"]
    parts = []
    if angles["slack"]:
        low, high = (min(max(one, 0.0), end) for one in angles["slack"])
        wide = max(across(high) - across(low), 0.0)
        parts.append(
            f'<rect class="slack" x="{across(low):.1f}" y="{_TOP}" width="{wide:.1f}" height="{_BASE - _TOP}"/>'
        )
        parts.append(f'<text x="{across(low) + 3:.1f}" y="{_TOP + 24}">slack</text>')
    allowed = study["pull"]["allowed"]
    if allowed is not None:
        parts.append(f'<path class="limit" d="M{_LEFT} {up(allowed):.1f}H{_WIDE - 10}"/>')
        told = number(allowed, unit=unit, rounding="down")
        parts.append(f'<text x="{_LEFT + 4}" y="{up(allowed) - 4:.1f}">weakest link allows {told}</text>')
    for key, kind in (("line", "pull"), ("line_alone", "alone")):
        run = " ".join(f"{across(row['fold']):.1f},{up(row[key]):.1f}" for row in study["rows"] if row[key] is not None)
        parts.append(f'<polyline class="{kind}" points="{run}"/>')
    for key, word in (("dead_point", "dead center"), ("over_center", "balance point")):
        if 0.0 <= angles[key] <= end:
            x = across(angles[key])
            parts.append(f'<path class="turn" d="M{x:.1f} {_TOP}V{_BASE}"/><text x="{x - 4:.1f}" y="{_TOP + 10}" '
                         f'text-anchor="end">{word}</text>')  # fmt: skip
    parts.append(f'<path class="axis" d="M{_LEFT} {_TOP}V{_BASE}H{_WIDE - 10}"/>')
    top = number(most, unit=unit, rounding="up")
    parts.append(f'<text x="2" y="{_TOP + 6}">{words(top)}</text><text x="2" y="{_BASE}">0</text>')
    parts.append(f'<text x="{_LEFT}" y="{_TALL - 22}">deployed</text>')
    parts.append(f'<text x="{_WIDE - 10}" y="{_TALL - 22}" text-anchor="end">folded {number(end, unit="deg")}</text>')
    label = f"Pull of the lines over the fold, at most {top}; solid: each of two, dashed: one alone"
    return (
        f'<svg class="fold" viewBox="0 0 {_WIDE:g} {_TALL:g}" role="img" aria-label="{words(label)}">{"".join(parts)}'
        f'<path class="at" d="M{_LEFT} {_TOP}V{_BASE}"/></svg>'
    )
