"""What the drawings show as plain numbers: the rig's points deployed and folded, its sizes, the forces in one state."""

from __future__ import annotations

from typing import Any

import numpy as np

from rigcheck.analysis.post_model import post_axis
from rigcheck.analysis.solve import Solution
from rigcheck.assessment.assess import Assessment
from rigcheck.case.rig import Rig
from rigcheck.loads.contents import packed_depth
from rigcheck.loads.gate import gate
from rigcheck.loads.shape import Reach, divided, reaches, width_at
from rigcheck.loads.sharing import pivots
from rigcheck.loads.steel import cross_member_count, side_sheet, stiffener_height
from rigcheck.loads.traps import Trap, traps
from rigcheck.parts.plant.checks import FEET_KEYS, feet_of, not_described
from rigcheck.statics.geometry import Layout, pose
from rigcheck.statics.restraint import STOP_WAY
from rigcheck.tables import shapes
from rigcheck.tables.load_cases import FOLDING
from rigcheck.wording.plain import Plain
from rigcheck.wording.scale import Scale

_BOX = ("length", "width", "side_height")
_AXES = ("x", "y", "z")


def drawing_data(assessment: Assessment, *, scale: Scale) -> Plain:
    """Points, sizes and forces for the drawings, in the units of the output.

    Args:
        assessment: The answer for one rig.
        scale: Units of the output.

    Returns:
        Plain dict; points are [x, z] from the hinge axis, x downstream, z up; what is not described is null.
    """
    solution = assessment.solution
    rig, layout = solution.rig, solution.layout
    to = rig.value("fold.to")
    return {
        "units": {"length": scale.label("length"), "force": scale.label("force")},
        "box": _box(rig, layout=layout, scale=scale),
        "hinge": {
            "height": _length(layout.hinge_height, scale),
            "spacing": _length(layout.hinge_spacing, scale),
            **({"held_by": "ears of the pivot"} if pivots(rig) else {}),
            "above_ground": _optional(rig, "hinge.above_ground", scale=scale),
        },
        "hanger": {
            "at": _length(layout.hanger_s, scale),
            "height": _length(layout.hanger_n, scale),
            "spacing": _length(layout.hanger_spacing, scale),
        },
        "perch": {
            "downstream": _length(layout.perch_x, scale),
            "height": _length(layout.perch_z, scale),
            "spacing": _length(layout.perch_spacing, scale),
        },
        "post": _post(rig, scale=scale),
        "plant": _plant(rig, scale=scale),
        "deployed": box_pose(layout, fold=0.0, scale=scale, rig=rig),
        "folded": None if to is None else box_pose(layout, fold=float(to), scale=scale, rig=rig),
        "tie_downs": _tie_downs(rig, layout=layout, scale=scale),
        "stops": _stops(rig, layout=layout, scale=scale),
        "forces": _forces(solution, row=_heaviest(solution), scale=scale),
        "forces_folded": None if to is None else _forces(solution, row=_last_fold(solution), scale=scale),
    }


def _length(value: Any, scale: Scale) -> float | None:
    return scale.one(value, dimension="length")


def _optional(rig: Rig, key: str, *, scale: Scale) -> float | None:
    return _length(rig.number(key), scale) if rig.has(key) else None


def _box(rig: Rig, *, layout: Layout, scale: Scale) -> Plain:
    found: Plain = {name: _length(rig.number(f"box.{name}"), scale) for name in _BOX}
    found["pitch"] = scale.one(layout.pitch, dimension="pitch")
    found["sheet"] = _length(rig.number("box.sheet"), scale)
    found["side_sheet"] = _length(side_sheet(rig), scale)
    found["channels"] = int(rig.value("box.channels"))
    found["divider_height"] = _length(rig.number_or("box.divider_height", rig.number("box.side_height")), scale)
    found["rail_spacing"] = _length(layout.rail_spacing, scale)
    found["bed"] = _length(rig.number("bed.depth"), scale)
    found["packed"] = _length(packed_depth(rig), scale)
    found["lip"] = _optional(rig, "water.lip", scale=scale)
    if divided(rig):
        found["stretches"] = [_stretch(one, scale=scale) for one in reaches(rig)]
    if rig.value("trap"):
        found["traps"] = [_trap(rig, one, scale=scale) for one in traps(rig)]
    held = gate(rig)
    if held is not None:
        sizes = {"at": held.at, "height": held.height, "opening": rig.number("gate.0.opening"),
                 "width": width_at(rig, held.at)}  # fmt: skip
        found["gate"] = {name: _length(value, scale) for name, value in sizes.items()}
    found["stiffener"] = found["cross_member"] = None
    if rig.has("rail.stiffener"):
        center, depth, width = stiffener_height(rig)
        place = str(rig.value("rail.at"))
        low = center - depth / 2.0
        found["stiffener"] = {
            "shape": shapes.find(rig.value("rail.stiffener")).name,
            "at": place,
            "depth": _length(depth, scale),
            "width": _length(width, scale),
            "low": _length(low, scale),
        }
    if rig.has("cross_member.shape"):
        shape = shapes.find(rig.value("cross_member.shape"))
        found["cross_member"] = {
            "shape": shape.name,
            "depth": _length(shape.depth, scale),
            "width": _length(shape.width, scale),
            "spacing": _length(rig.number("cross_member.spacing"), scale),
            "count": int(cross_member_count(rig)),
            "at": str(rig.value("cross_member.at")),
        }
    return found


def _trap(rig: Rig, one: Trap, *, scale: Scale) -> Plain:
    """One trap as plan and side view draw it."""
    places = {name: _length(getattr(one, name), scale) for name in ("at", "size", "wall", "deep", "opening", "width")}
    return {"name": rig.value(f"{one.key}.name") or one.part, "kind": one.kind, **places}


def _stretch(one: Reach, *, scale: Scale) -> Plain:
    """One stretch of the box as plan and side view draw it."""
    stiffener: Plain | None = None
    if one.rig.has("rail.stiffener"):
        center, depth, _ = stiffener_height(one.rig)
        stiffener = {"low": _length(center - depth / 2.0, scale), "depth": _length(depth, scale)}
    places = {name: _length(getattr(one, name), scale) for name in ("start", "end", "head", "tail")}
    side = _length(one.rig.number("box.side_height"), scale)
    return {**places, "side_height": side, "stiffener": stiffener}


def _post(rig: Rig, *, scale: Scale) -> Plain | None:
    if rig.value("perch.post") is None:
        return None
    shape = shapes.find(rig.value("perch.post.shape"))
    brace: Plain | None = None
    if rig.value("perch.post.brace") is not None:
        keys = ("foot_downstream", "foot_below", "top_below")
        brace = {key: _length(rig.number(f"perch.post.brace.{key}"), scale) for key in keys}
    return {
        "shape": shape.name,
        "axis": _length(post_axis(rig), scale),
        "depth": _length(shape.depth, scale),
        "free_length": _length(rig.number("perch.post.free_length"), scale),
        "brace": brace,
    }


def _plant(rig: Rig, *, scale: Scale) -> Plain | None:
    """Feet of the plant and its center of gravity in the side view; None where feet or their level are not given."""
    feet = rig.value("plant.foot")
    if not feet or any(key in FEET_KEYS for key in not_described(rig)):
        return None
    soles = feet_of(rig)
    given = rig.has("plant.cg_downstream") and rig.has("plant.cg_height")
    return {
        "feet": [
            {"name": one.name or f"foot {i + 1}", "at": [_length(soles[i, 0], scale), _length(soles[i, 2], scale)]}
            for i, one in enumerate(feet)
        ],
        "cg": [_length(rig.number(f"plant.cg_{axis}"), scale) for axis in ("downstream", "height")] if given else None,
        "weight": scale.one(rig.number("plant.weight"), dimension="force") if rig.has("plant.weight") else None,
    }


def box_pose(layout: Layout, *, fold: float, scale: Scale, rig: Rig) -> Plain:
    """Points and directions of the box at one fold angle, in the units of the output."""
    at = pose(layout, fold=np.array([fold]))
    along, normal = at.along[0], at.normal[0]
    n_h = float(layout.hinge_height)

    def point(s: float, n: float) -> list[float | None]:
        x, z = (float(s * along[i] + (n - n_h) * normal[i]) for i in range(2))
        return [_length(x, scale), _length(z, scale)]

    length, side = float(layout.length), float(rig.number("box.side_height"))
    return {
        "fold_deg": scale.one(fold, dimension="angle"),
        "floor_deg": scale.one(at.angle[0], dimension="angle"),
        "along": [float(along[0]), float(along[1])],
        "normal": [float(normal[0]), float(normal[1])],
        "corners": [point(0.0, 0.0), point(length, 0.0), point(length, side), point(0.0, side)],
        "hanger": point(float(layout.hanger_s), float(layout.hanger_n)),
        "line_length": _length(at.line_length[0], scale),
        "line_angle": scale.one(at.line_angle[0], dimension="angle"),
        "splay": scale.one(at.splay[0], dimension="angle"),
        "lever_arm": _length(at.arm[0], scale),
    }


def _on_the_folded_box(rig: Rig, at: Any, *, layout: Layout) -> list[float]:
    """A point of the box, given by s, y and n, where the folded box has it: x and z. [in]"""
    found = pose(layout, fold=np.array([float(rig.value("fold.to"))]))
    s, _, n = (float(value) for value in at)
    lift = n - float(layout.hinge_height)
    return [float(s * found.along[0][i] + lift * found.normal[0][i]) for i in range(2)]


def _tie_downs(rig: Rig, *, layout: Layout, scale: Scale) -> list[Plain]:
    """Where the tie-downs run in the side view, folded."""
    if rig.value("fold.to") is None:
        return []
    return [
        {
            "name": one.name or f"tie-down {i}",
            "from": [_length(value, scale) for value in _on_the_folded_box(rig, one.start, layout=layout)],
            "to": [_length(one.end[axis], scale) for axis in (0, 2)],
        }
        for i, one in enumerate(rig.value("haul.tie_down"), start=1)
    ]


def _stops(rig: Rig, *, layout: Layout, scale: Scale) -> list[Plain]:
    """Where the stops touch in the side view, folded, and which way they push; those that push across are left out."""
    if rig.value("fold.to") is None:
        return []
    return [
        {
            "name": f"stop {i}",
            "at": [_length(value, scale) for value in _on_the_folded_box(rig, one.at, layout=layout)],
            "way": [float(way[0]), float(way[2])],
        }
        for i, one in enumerate(rig.value("haul.stop"), start=1)
        for way in (STOP_WAY[one.direction],)
        if way[0] or way[2]
    ]


def _heaviest(solution: Solution) -> int:
    """Row of the deployed box, working loads, in which the lines together pull most."""
    usable = solution.hung & ~solution.held.dead
    rows = [i for i, row in enumerate(solution.rows) if usable[i] and not row.ultimate]
    return max(rows or [0], key=lambda i: float(solution.held.total[i]))


def _last_fold(solution: Solution) -> int | None:
    rows = [i for i, row in enumerate(solution.rows) if row.state == FOLDING]
    return max(rows, key=lambda i: float(solution.fold[i])) if rows else None


def _forces(solution: Solution, *, row: int | None, scale: Scale) -> Plain | None:
    """Free body of the box in one row under the loads as they are, both sides together, with what is left over."""
    if row is None or bool(solution.held.dead[row]):
        return None
    at, held, load = solution.pose, solution.held, solution.service
    total = float(held.total[row])
    pull = total * np.array([float(at.ux[row]), 0.0, float(at.uz[row])])  # both lines alike in the side view
    hinge = held.hinge[row, 1].sum(0)
    left = load.force[row] + pull + hinge
    turn = float(load.moment[row, 1]) - total * float(at.arm[row])
    center, n_h = load.center[row], float(solution.layout.hinge_height)
    along, normal = at.along[row], at.normal[row]
    place = [float(center[0] * along[i] + (center[2] - n_h) * normal[i]) for i in range(2)]

    def force(values: Any) -> dict[str, float | None]:
        return {axis: scale.one(value, dimension="force") for axis, value in zip(_AXES, values, strict=True)}

    return {
        "state": solution.rows[row].state,
        "variant": scale.variant(solution.rows[row].variant),
        "weight": scale.one(load.weight[row], dimension="force"),
        "load": force(load.force[row]),
        "load_moment": scale.one(load.moment[row, 1], dimension="moment"),
        "cg": [_length(value, scale) for value in place],
        "line": scale.one(total, dimension="force"),
        "line_on_box": force(pull),
        "line_moment": scale.one(-total * float(at.arm[row]), dimension="moment"),
        "lever_arm": _length(at.arm[row], scale),
        "hinge": force(hinge),
        "left_over": {"x": force(left)["x"], "z": force(left)["z"], "moment": scale.one(turn, dimension="moment")},
    }
