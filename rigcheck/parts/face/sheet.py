"""Bare sheet under a hanger lug, hinge barrels or an eyelet: the side wall or the floor bends under them."""

from __future__ import annotations

import numpy as np

from rigcheck.analysis.items import Item
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
from rigcheck.parts.face.ways import SheetWay
from rigcheck.parts.hinge.checks import knuckle
from rigcheck.parts.lug.checks import hoist_rating
from rigcheck.parts.rail.checks import rail_described, thrown_back
from rigcheck.strength.bases import BASES, ULTIMATE, Basis
from rigcheck.strength.connections.sheets import (
    floor_under_barrel,
    push_between_edges,
    push_on_free_edge,
    sheet_carries,
    wall_under_lug,
)
from rigcheck.tables import steel

CLAUSE = "yield lines of a plate (memory); own derivation, docs/method.md#bare-sheet"
ROAD_STRESS = 0.5  # of yield, along the wall of a box on the road; assumption, more than its straps and weight come to


_ITEMS = {SheetWay.UNDER_LUG: Item.SIDE_WALL_UNDER_LUG, SheetWay.UNDER_BARRELS: Item.FLOOR_UNDER_BARRELS}


def box_yield(rig: Rig) -> float:
    """Yield stress of the box's sheet. [psi]"""
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
    moment = sheet_carries(thinnest_side(rig), fy=box_yield(rig), stressed=ROAD_STRESS, basis=basis)
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


def _row(way: SheetWay, use: Array, *, group: str, basis: Basis, snag: bool = False) -> Check:
    ultimate = basis is ULTIMATE
    more = " (strength)" if ultimate else ", hoist at its full rating" if snag else ""
    words = f"{basis.title}, sum of shares"
    return Check(part=_ITEMS[way], group=group, mode=f"bent{more}", unit="number", demand=use, capacity=np.ones(()),
                 basis=words, clause=CLAUSE, ultimate=ultimate, snag=snag, way=way)  # fmt: skip


def wall_stress(solution: Solution) -> Array:
    """Stress along the side wall over its yield stress, the lesser of wall and rail, shape (..., state, bound, side).

    Args:
        solution: The statics.
    """
    rig = solution.rig
    yields = min(box_yield(rig), steel.grade(str(rig.value("rail.steel"))).fy)
    return solution.bent.everywhere(solution.peaks.stress * thrown_back(solution)) / yields


def wall_arms(solution: Solution) -> tuple[Array, Array]:
    """How high the hole of a hanger lug bends the wall, and how far it stands out from its middle, shapes (...). [in]

    Args:
        solution: The statics.
    """
    rig = solution.rig
    up = np.clip(solution.layout.hanger_n, 0.0, rig.number("box.side_height"))
    return up, np.abs(0.5 * solution.layout.hanger_spacing - 0.5 * (rig.number("box.width") + side_sheet(rig)))


def _hanger_row(solution: Solution, pull: Array, *, basis: Basis, snag: bool) -> Check:
    """The wall stands on the floor as a cantilever: T |u_y| n_H + T |u_n| e about its foot, T |u_s| e about its height.

    e is from the middle of the wall to the hole. A stiffener elsewhere than at the top does not help it.
    """
    rig, at = solution.rig, solution.pose
    sheet = per_row(side_sheet(rig))
    moment = sheet_carries(sheet, fy=box_yield(rig), stressed=wall_stress(solution), basis=basis)
    up, aside = wall_arms(solution)
    bends = np.abs(at.uy * solution.layout.hanger_n[..., None]) + np.abs(at.u_n) * aside[..., None]
    turns = np.abs(at.u_s * aside[..., None])
    use = wall_under_lug(
        pull, moment=moment, foot=per_row(lug_run(rig, key="hanger.lug")), height=per_row(up),
        bends=bends[..., None, None], turns=turns[..., None, None],
    )  # fmt: skip
    return _row(SheetWay.UNDER_LUG, use, group="hanger", basis=basis, snag=snag)


def barrel_arm(rig: Rig) -> Array:
    """Arm of a force along the floor on the sheet under a barrel, the height of the pin or half its diameter. [in]"""
    return np.maximum(np.abs(rig.number("hinge.height")), 0.5 * rig.number("hinge.pin"))


def _barrel_row(solution: Solution, *, basis: Basis) -> Check:
    """One barrel on the free edge of the floor: half a plate under its force square to the floor, m l under its turn.

    Square to the floor pi m, or what spreads to the wall beside it if that is more; along the floor the force turns the
    sheet with half of the barrel and the height of the pin, over the length of the barrel.
    """
    rig, hinge = solution.rig, solution.demand.hinge
    along, square = (np.abs(part) / knuckle(rig).carrying for part in in_box(solution, hinge))
    sheet = per_row(rig.number("box.sheet"))
    moment = sheet_carries(sheet, fy=box_yield(rig), stressed=ROAD_STRESS, basis=basis)
    use = floor_under_barrel(
        square, along=along, moment=moment, length=per_row(rig.number("hinge.barrel_length")),
        arm=per_row(barrel_arm(rig)),
    )  # fmt: skip
    return _row(SheetWay.UNDER_BARRELS, use, group="hinge", basis=basis)
