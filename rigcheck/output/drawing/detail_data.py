"""Sizes of the joints for their detail drawings, as plain numbers; null where the case does not describe them."""

from __future__ import annotations

from typing import Any

import numpy as np

from rigcheck.analysis.post_model import lug_arm, lug_foot, lug_run
from rigcheck.assessment.assess import Assessment
from rigcheck.case.rig import Rig
from rigcheck.loads.sharing import pivots
from rigcheck.loads.steel import side_sheet, stiffener_height
from rigcheck.parts.cross_member.welds import butts, end_weld_known, met_by, run_length
from rigcheck.parts.hinge.ears import BOX, PLANT, has_plates, in_double_shear, plate_gap
from rigcheck.parts.lug.checks import lug_pin
from rigcheck.tables import shapes
from rigcheck.tables.shapes import Shape
from rigcheck.wording.plain import Plain
from rigcheck.wording.scale import Scale

_HINGE = ("barrel_length", "gap", "pin", "barrel_wall", "weld", "weld_length")
_LUG = ("plate", "hole", "edge", "width", "weld")


def detail_data(assessment: Assessment, *, scale: Scale) -> Plain:
    """Sizes of hinge or its ears, lugs, post base, rail and cross-member end.

    Args:
        assessment: The answer for one rig.
        scale: Units of the output.

    Returns:
        Plain dict, lengths in the unit of the output.
    """
    rig = assessment.solution.rig
    return {
        "unit": scale.label("length"),
        "electrode": str(rig.value("weld.electrode")),
        "hinge": _hinge(rig, scale=scale),
        "ears": _ears(rig, scale=scale),
        "box_ear": _ear(rig, BOX, scale=scale),
        "plant_ear": _ear(rig, PLANT, scale=scale),
        "hanger_lug": _lug(rig, "hanger", scale=scale),
        "perch_lug": _lug(rig, "perch", scale=scale),
        "post": _post(rig, scale=scale),
        "rail": _rail(assessment, scale=scale),
        "cross_member": _member(rig, scale=scale),
    }


def _length(value: Any, scale: Scale) -> float | None:
    return scale.one(value, dimension="length")


def _optional(rig: Rig, key: str, *, scale: Scale) -> float | None:
    return _length(rig.number(key), scale) if rig.has(key) else None


def _hinge(rig: Rig, *, scale: Scale) -> Plain | None:
    if has_plates(rig) or not all(rig.has(f"hinge.{key}") for key in ("barrels", "barrel_length", "pin")):
        return None
    found: Plain = {key: _optional(rig, f"hinge.{key}", scale=scale) for key in _HINGE}
    found["barrels"] = int(rig.value("hinge.barrels"))
    found["on_box"] = found["barrels"] // 2
    theirs = rig.number_or("hinge.plant_barrel_length", rig.number("hinge.barrel_length"))
    found["plant_barrel_length"] = _length(theirs, scale)
    found["pin_steel"], found["barrel_steel"] = str(rig.value("hinge.pin_steel")), str(rig.value("hinge.barrel_steel"))
    found["retained"] = bool(rig.value("hinge.pin_retained"))
    return found


def _ears(rig: Rig, *, scale: Scale) -> Plain | None:
    """The pin of a hinge of ears or the bar of a center pivot, and the plates that it goes through."""
    if not has_plates(rig) or not rig.has("hinge.pin") or any(rig.value(ear) is None for ear in (BOX, PLANT)):
        return None
    return {
        "double": in_double_shear(rig),
        "pivot": pivots(rig),
        "gap": _length(plate_gap(rig), scale),
        "pin": _optional(rig, "hinge.pin", scale=scale),
        "pin_steel": str(rig.value("hinge.pin_steel")),
        "retained": bool(rig.value("hinge.pin_retained")),
        **{side: _length(rig.number(f"{ear}.plate"), scale) for side, ear in (("box", BOX), ("plant", PLANT))},
        "reach": _length(max(float(rig.number(f"{ear}.stand_off")) for ear in (BOX, PLANT)), scale),
    }


def _ear(rig: Rig, key: str, *, scale: Scale) -> Plain | None:
    if not has_plates(rig) or rig.value(key) is None:
        return None
    found: Plain = {name: _optional(rig, f"{key}.{name}", scale=scale) for name in _LUG}
    found["arm"], found["foot"] = (
        _optional(rig, f"{key}.stand_off", scale=scale),
        _length(lug_foot(rig, key=key), scale),
    )
    found["run"] = _length(lug_run(rig, key=key), scale)
    found["steel"], found["through"] = str(rig.value(f"{key}.steel")), False
    found["pin"] = _optional(rig, "hinge.pin", scale=scale)
    return found


def _lug(rig: Rig, end: str, *, scale: Scale) -> Plain | None:
    key = f"{end}.lug"
    if not rig.has(key):
        return None
    found: Plain = {name: _optional(rig, f"{key}.{name}", scale=scale) for name in _LUG}
    found["arm"], found["foot"] = _length(lug_arm(rig, end=end), scale), _length(lug_foot(rig, key=key), scale)
    found["run"] = _length(lug_run(rig, key=key), scale)
    found["steel"], found["through"] = str(rig.value(f"{key}.steel")), bool(rig.value(f"{key}.through"))
    pin = lug_pin(rig, end=end)
    found["pin"] = None if pin is None else _length(pin, scale)
    return found


def _outline(shape: Shape, *, scale: Scale) -> Plain:
    return {
        "shape": shape.name,
        "kind": shape.kind,
        "depth": _length(shape.depth, scale),
        "width": _length(shape.width, scale),
        "wall": _length(shape.t_nominal, scale),
        "round": shape.kind in ("pipe", "round tube", "round bar"),
        "hollow": shape.kind in ("hss", "tube", "pipe", "round tube"),
    }


def _post(rig: Rig, *, scale: Scale) -> Plain | None:
    if not rig.has("perch.post.shape"):
        return None
    found = _outline(shapes.find(rig.value("perch.post.shape")), scale=scale)
    found["weld"], found["steel"] = _optional(rig, "perch.post.weld", scale=scale), str(rig.value("perch.post.steel"))
    found["free_length"] = _optional(rig, "perch.post.free_length", scale=scale)
    return found


def _rail(assessment: Assessment, *, scale: Scale) -> Plain:
    rig, section = assessment.solution.rig, assessment.solution.section
    inch = float(np.asarray(_length(1.0, scale)))
    found: Plain = {
        "side_height": _optional(rig, "box.side_height", scale=scale),
        "side_sheet": _length(side_sheet(rig), scale),
        "floor": _optional(rig, "box.sheet", scale=scale),
        "strip": _optional(rig, "rail.effective_floor_width", scale=scale),
        "axis": _length(section.axis, scale),
        "area": float(section.area) * inch**2,
        "inertia": float(section.inertia) * inch**4,
        "steel": str(rig.value("rail.steel")),
        "stiffener": None,
        "seams": {key: _seam(rig, f"rail.{key}", scale=scale) for key in ("wall_seam", "floor_seam")},
    }
    if rig.has("rail.stiffener"):
        shape = shapes.find(rig.value("rail.stiffener"))
        centroid, depth, _ = stiffener_height(rig)
        low = _length(float(centroid) - 0.5 * depth, scale)
        found["stiffener"] = {**_outline(shape, scale=scale), "at": str(rig.value("rail.at")), "low": low}
    return found


def _seam(rig: Rig, key: str, *, scale: Scale) -> Plain | None:
    if not rig.has(f"{key}.made"):
        return None
    sizes = {name: _optional(rig, f"{key}.{name}", scale=scale) for name in ("leg", "length", "pitch")}
    return {"made": str(rig.value(f"{key}.made")), "sides": int(rig.value(f"{key}.sides")), **sizes}


def _member(rig: Rig, *, scale: Scale) -> Plain | None:
    if not rig.has("cross_member.shape"):
        return None
    shape = shapes.find(rig.value("cross_member.shape"))
    under = str(rig.value("cross_member.at")) == "under"
    run = run_length(rig, shape=shape, under=under)
    all_round = butts(rig, shape=shape, under=under)
    return {
        **_outline(shape, scale=scale),
        "under": under,
        "all_round": all_round,
        "run": None if run is None else _length(run, scale),
        "weld": _optional(rig, "cross_member.weld", scale=scale)
        if end_weld_known(rig, shape=shape, under=under)
        else None,
        "meets": met_by(rig, under=under, butt=all_round)[2],
        "steel": str(rig.value("cross_member.steel")),
    }
