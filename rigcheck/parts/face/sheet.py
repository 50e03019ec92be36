"""Bare sheet under a hanger lug, hinge barrels or an eyelet: the side wall or the floor bends under them."""

from __future__ import annotations

import numpy as np

from rigcheck.analysis.post_model import lug_run
from rigcheck.analysis.rows import Check
from rigcheck.analysis.solve import Solution
from rigcheck.arrays.guarded import UNLIMITED, divide
from rigcheck.arrays.memory import per_row
from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.loads.shape import thinnest_side
from rigcheck.loads.sizes import side_sheet, stiffener_on_top
from rigcheck.parts.cross_member.forces import head_shape, in_box
from rigcheck.parts.face.checks import lug_stands_on
from rigcheck.parts.hinge.checks import knuckle
from rigcheck.parts.lug.checks import hoist_rating
from rigcheck.parts.rail.checks import rail_described, thrown_back
from rigcheck.strength.bases import BASES, ULTIMATE, Basis
from rigcheck.strength.connections.sheets import plastic_moment, push_between_edges, push_on_free_edge
from rigcheck.tables import steel

CLAUSE = "yield lines of a plate (memory); own derivation, docs/method.md#bare-sheet"
_ROAD_STRESS = 0.5  # of yield, along the wall of a box on the road; assumption, more than its straps and weight come to


def _box_yield(rig: Rig) -> float:
    return steel.grade(str(rig.value("box.steel"))).fy


def eyelet_per_pound(rig: Rig, *, key: str, arm: Array, height: Array, basis: Basis) -> Array:
    """Use of the side wall under an eyelet for a pound of its strap, in the worst of all directions, shape (...).

    Args:
        rig: The rig.
        key: The eyelet's table.
        arm: From the wall to the hole, shape (...). [in]
        height: Of the eyelet above the floor, shape (...). [in]
        basis: Basis of allowable strength.

    Source: docs/method.md#bare-sheet.
    """
    moment = plastic_moment(thinnest_side(rig), fy=_box_yield(rig), stressed=_ROAD_STRESS) / basis.face
    run = lug_run(rig, key=key)
    most = push_between_edges(moment)
    if not stiffener_on_top(rig):
        up = np.clip(height, 0.0, rig.number("box.side_height"))
        most = np.minimum(most, push_on_free_edge(moment, foot=run, arm=up))
    return np.hypot(divide(1.0, most, where_zero=UNLIMITED), divide(arm, 0.5 * run * most, where_zero=UNLIMITED))


def sheet_checks(solution: Solution) -> list[Check]:
    """Side wall under a hanger lug that no stiffener carries, floor sheet under barrels that no member carries.

    Args:
        solution: The statics.

    Returns:
        Checks; none where both stand on tubes, or are not described.

    Source: docs/method.md#bare-sheet.
    """
    rig = solution.rig
    chosen, rating = BASES[str(rig.value("basis"))], hoist_rating(rig)
    checks: list[Check] = []
    on_wall = rail_described(rig) and lug_stands_on(rig, end="hanger") is None  # no [rail] is not assessed by itself
    if rig.value("hanger.lug") is not None and on_wall:
        pulls = [(solution.demand.tension, basis, False) for basis in solution.bases()]
        if rating is not None:
            pulls.append((per_row(rating), chosen, True))
        checks += [_hanger_row(solution, pull, basis=basis, snag=snag) for pull, basis, snag in pulls]
    if rig.has("hinge.barrel_length") and rig.has("hinge.pin") and head_shape(rig) is None:
        checks += [_barrel_row(solution, basis=basis) for basis in solution.bases()]
    return checks


def _row(part: str, mode: str, use: Array, *, group: str, basis: Basis, snag: bool = False) -> Check:
    ultimate = basis is ULTIMATE
    more = " (strength)" if ultimate else ", hoist at its full rating" if snag else ""
    return Check(part=part, group=group, mode=mode + more, unit="number", demand=use, capacity=np.ones(()),
                 basis=f"{basis.title}, sum of shares", clause=CLAUSE, ultimate=ultimate, snag=snag)  # fmt: skip


def _hanger_row(solution: Solution, pull: Array, *, basis: Basis, snag: bool) -> Check:
    """The wall stands on the floor as a cantilever: T |u_y| n_H + T |u_n| e about its foot, T |u_s| e about its height.

    e is from the middle of the wall to the hole. A stiffener elsewhere than at the top does not help it.
    """
    rig, at = solution.rig, solution.pose
    wall, hole = side_sheet(rig), solution.layout.hanger_n
    yields = min(_box_yield(rig), steel.grade(str(rig.value("rail.steel"))).fy)
    stress = solution.bent.everywhere(solution.peaks.stress * thrown_back(solution))
    moment = plastic_moment(per_row(wall), fy=_box_yield(rig), stressed=stress / yields) / basis.face
    run, up = lug_run(rig, key="hanger.lug"), np.clip(hole, 0.0, rig.number("box.side_height"))
    aside = np.abs(0.5 * solution.layout.hanger_spacing - 0.5 * (rig.number("box.width") + wall))[..., None]
    about_foot = np.abs(at.uy * hole[..., None]) + np.abs(at.u_n) * aside
    bent = divide(about_foot[..., None, None], moment * per_row(run + 2.0 * up), where_zero=UNLIMITED)
    thrust = push_on_free_edge(moment, foot=per_row(run), arm=per_row(np.maximum(up, run)))
    turned = divide((np.abs(at.u_s) * aside)[..., None, None], per_row(0.5 * run) * thrust, where_zero=UNLIMITED)
    use = np.asarray(np.abs(pull) * (bent + turned))
    return _row("side wall under the hanger lug", "bent", use, group="hanger", basis=basis, snag=snag)


def _barrel_row(solution: Solution, *, basis: Basis) -> Check:
    """One barrel on the free edge of the floor: half a plate under its force square to the floor, m l under its turn.

    Square to the floor pi m, or what spreads to the wall beside it if that is more; along the floor the force turns the
    sheet with half of the barrel and the height of the pin, over the length of the barrel.
    """
    rig, hinge = solution.rig, solution.demand.hinge
    along, square = (np.abs(part) / knuckle(rig).carrying for part in in_box(solution, hinge))
    moment = per_row(plastic_moment(rig.number("box.sheet"), fy=_box_yield(rig), stressed=_ROAD_STRESS)) / basis.face
    length = per_row(rig.number("hinge.barrel_length"))
    arm = np.maximum(np.abs(rig.number("hinge.height")), 0.5 * rig.number("hinge.pin"))
    use = divide(square, 0.5 * push_between_edges(moment), where_zero=UNLIMITED)
    use = use + divide(along * per_row(arm), moment * length, where_zero=UNLIMITED)
    return _row("floor sheet under the hinge barrels", "bent", use, group="hinge", basis=basis)
