"""The picture of a page: one of the drawings of the rig, with what it can be moved by."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from rigcheck.analysis.rows import bound_names
from rigcheck.assessment.assess import Assessment
from rigcheck.case.schema.kinds import Quantity
from rigcheck.output.check.result import water
from rigcheck.output.drawing.data import drawing_data
from rigcheck.output.drawing.grips import LOCKED, grip_places
from rigcheck.output.drawing.plan import cross_section, plan_view
from rigcheck.output.drawing.shapes import side_frame
from rigcheck.output.drawing.sheet import Frame
from rigcheck.output.drawing.side import side_view
from rigcheck.page.answer import Answer
from rigcheck.page.tie_grips import tie_grips
from rigcheck.page.typed import field_of, text_of
from rigcheck.quantities import System
from rigcheck.quantities.shop import tape_of
from rigcheck.wording.plain import Plain
from rigcheck.wording.scale import Scale
from rigcheck.wording.words import bound_word, number, state_word, variant_words

VIEWS = {"side": "Side", "plan": "From above", "folded": "Folded", "section": "Cut across"}
MM = 25.4  # an inch, by definition
_GRID, _FINE, _METRIC = 0.25, 0.125, 5.0 / MM  # in: shop steps of a length, of the bed, of metric rigs
MOVED = ("side", "folded")
"""Views with grips."""


def picture(answer: Answer, *, view: str, system: System, frame: Frame | None = None, data: Mapping[str, Any]) -> Plain:
    """One drawing of the numbers on a page, and the loads that stand in it.

    Args:
        answer: The answer, which there must be.
        view: Which drawing; the side view where the case has no such.
        system: Units.
        frame: What the side view showed before, so that it stands still.
        data: The numbers as they stand on the page.

    Returns:
        Name of the view, SVG, caption, frame, grips and loads.
    """
    found = answer.found
    assert found is not None
    drawing = drawing_data(found, scale=Scale(system))
    if view == "folded" and drawing["folded"] is None:
        view = "side"
    shown = side_frame(drawing, folded=view == "folded") if frame is None or view not in MOVED else frame
    if view == "plan":
        svg, caption = plan_view(drawing)
    elif view == "section":
        svg, caption = cross_section(drawing, water=water(found, scale=Scale(system)))
    else:
        svg, caption = side_view(drawing, folded=view == "folded", frame=shown)
    if view in MOVED and drawing["box"].get("stretches"):
        caption = f"{caption} {LOCKED}"
    plain_frame = [shown.left, shown.right, shown.low, shown.high, *shown.margin]
    return {
        "view": view,
        "svg": svg,
        "caption": caption,
        "frame": plain_frame,
        "grips": [
            *_grips(drawing, frame=shown, data=data, system=system, view=view),
            *_ties(found, drawing=drawing, frame=shown, data=data, system=system, view=view),
        ],
        "loads": loads(found, drawing=drawing, system=system),
    }


def frame_of(data: Any) -> Frame | None:
    """A frame as the page sends it back; None for anything else."""
    if not isinstance(data, list) or len(data) != 8 or not all(isinstance(one, int | float) for one in data):
        return None
    left, right, low, high, *margin = (float(one) for one in data)
    if not np.isfinite(data).all() or right - left < 1.0 or high - low < 1e-3 or max(map(abs, margin)) > 200.0:
        return None
    return Frame(left=left, right=right, low=low, high=high, margin=(margin[0], margin[1], margin[2], margin[3]))


def _grips(drawing: Plain, *, frame: Frame, data: Mapping[str, Any], system: System, view: str) -> list[Plain]:
    """The grips with what the page writes for them: value, units of the file, limits, shop steps."""
    if view not in MOVED:
        return []
    per = MM if system == "si" else 1.0
    found = []
    for grip in grip_places(drawing, frame=frame, folded=view == "folded"):
        table, key = grip["key"].split(".")
        tape = tape_of(text_of(data.get(table, {}).get(key)), system=system)
        metric = tape in ("mm", "cm", "m")
        step = _METRIC if metric else _FINE if grip["key"] == "bed.depth" else _GRID
        coarse = step if metric and table == "bed" else 4.0 * step if table != "bed" else 2.0 * step
        kind = field_of(grip["key"]).kind
        least, most = kind.limits if isinstance(kind, Quantity) else (None, None)
        part = drawing[table] if table != "bed" else drawing["box"]
        value = part["bed" if table == "bed" else key] / per
        way = [axis * per for axis in grip["way"]]
        about = {"value": value, "tape": tape, "step": step, "coarse": coarse, "least": least, "most": most}
        found.append({**grip, "way": way, **about})
    return found


def _ties(
    found: Assessment, *, drawing: Plain, frame: Frame, data: Mapping[str, Any], system: System, view: str
) -> list[Plain]:
    """The grips of the tie-downs, with their steps."""
    if view != "folded":
        return []
    ties = found.solution.rig.value("haul.tie_down")
    grips = tie_grips(drawing, ties=ties, frame=frame, data=data, system=system, per=MM if system == "si" else 1.0)
    for grip in grips:
        metric = grip["tape"] in ("mm", "cm", "m")
        grip |= {"step": _METRIC if metric else _GRID, "coarse": 4.0 * (_METRIC if metric else _GRID)}
    return grips


def loads(found: Assessment, *, drawing: Plain, system: System) -> list[tuple[str, str]]:
    """Both lines, one line, hinge and weight, each with the state it belongs to."""
    forces, unit = drawing["forces"], drawing["units"]["force"]
    told = [("one line, its heaviest pull", _one_line(found, system=system))]
    if forces is not None:
        more = variant_words(forces["variant"], unit=drawing["units"]["length"], short=True)
        told.append(("as drawn", f"{state_word(forces['state'])}{f' ({more})' if more else ''}, both sides together"))
        hinge = forces["hinge"]
        up = "up" if hinge["z"] >= 0.0 else "down"
        told += [
            ("lines", f"{number(forces['line'], unit=unit, rounding='up')}"),
            ("hinge", f"{number(abs(hinge['x']), unit=unit, rounding='up')} level, "
             f"{number(abs(hinge['z']), unit=unit, rounding='up')} {up}"),
            ("weight", f"{number(forces['weight'], unit=unit, rounding='up')}"),
        ]  # fmt: skip
    told.append(("length of a line", number(drawing["deployed"]["line_length"], unit=drawing["units"]["length"])))
    return told


def _one_line(found: Assessment, *, system: System) -> str:
    """The largest pull of one line that a working state gives, as it is and with its factor."""
    solution, scale = found.solution, Scale(system)
    working = ~(solution.accidents | solution.held.dead)
    allowed = (solution.allowed & working[:, None])[..., None]
    pull = np.where(allowed, solution.demand.tension, -np.inf)
    row, bound, side = np.unravel_index(int(pull.argmax()), pull.shape)
    if not np.isfinite(pull[row, bound, side]):
        return "not known: the line passes through the hinge"
    state = solution.rows[int(row)].state
    name = bound_word(bound_names(False)[int(bound)][0], state=state)
    still, moving = (
        number(scale.one(force[row, bound, side], dimension="force"), unit=scale.label("force"), rounding="up")
        for force in (solution.held.tension, solution.demand.tension)
    )
    return f"{still}, {moving} with its dynamic factor, {state_word(state)}{f', {name}' if name else ''}"
