"""What the case alone expects to be read: weight, moment about the hinge and line tension in a state."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rigcheck.analysis.solve import Solution, solve
from rigcheck.arrays.types import Array
from rigcheck.case.models.case import Measured
from rigcheck.case.rig import Rig, varied
from rigcheck.loads.depths import Level, depths_in
from rigcheck.loads.filling import Layer, filled
from rigcheck.loads.pieces import BOUNDS, SHARED, Strip
from rigcheck.loads.shape import divided, reaches
from rigcheck.loads.steel import channel_width
from rigcheck.loads.take_off import Piece
from rigcheck.loads.water import level_pool
from rigcheck.studies.vary.case import with_values
from rigcheck.tables import rope
from rigcheck.tables.load_cases import EMPTY
from rigcheck.tables.materials import material

LEVEL = {"plant.cross_slope": 0.0, "plant.fore_aft_slope": 0.0}
"""What a reading is compared with stands level: the slopes of the case go either way and are an allowance of checks."""
_SHARED = [i for i, bound in enumerate(BOUNDS) if bound in SHARED]


@dataclass(frozen=True, slots=True, kw_only=True)
class Model:
    """Static expectations of one rig on level ground, its `measured` left out.

    Attributes:
        bare: The rig without anything measured, on level ground.
        pieces: Take-off of the empty box.
        empty_weight: Empty box. [lbf]
        empty_moment: Moment of the empty box about the hinge, sum of W x. [lbf*in]
        weight: Box and contents in the state. [lbf]
        moment: The same about the hinge. [lbf*in]
        lowest: Least tension of a line over the ways two lines can share it. [lbf]
        highest: Most. [lbf]
        arm: Lever arm of either line about the hinge axis, splay counted. [in]
        out_of_plane: Share of a line's pull that acts in side view, sqrt(u_x^2 + u_z^2).
        line_length: Pin to pin. [in]
        line_angle: Line above level. [rad]
        stiffness: Pull of one line for an inch of its give, post counted; None where a link's give is not known or
            nothing gives. [lbf/in]
        line_weight: Of the rope in the line per length, None where there is none in a table. [lbf/in]
    """

    bare: Rig
    pieces: list[Piece]
    empty_weight: float
    empty_moment: float
    weight: float
    moment: float
    lowest: float
    highest: float
    arm: float
    out_of_plane: float
    line_length: float
    line_angle: float
    stiffness: float | None
    line_weight: float | None

    @property
    def tension(self) -> float:
        """Either line when both carry alike. [lbf]"""
        return 0.5 * self.moment / self.arm


def model_of(rig: Rig, *, state: str) -> Model:
    """Solve the statics of the state and of the empty box on level ground.

    Args:
        rig: One rig.
        state: A hung state at rest.

    Returns:
        The expectations; the arm is zero at a dead point.

    Source: docs/method.md#level-ground.
    """
    bare = Rig(with_values(rig.case, {"measured": Measured(), **LEVEL}))
    solution = solve(bare, only=frozenset({EMPTY, state}))
    dry, here = (int(np.flatnonzero(solution.states(name))[0]) for name in (EMPTY, state))
    among = solution.held.tension[solution.states(state)][:, _SHARED, :]
    u_x, u_z = float(solution.pose.ux[here]), float(solution.pose.uz[here])
    return Model(
        bare=bare,
        pieces=solution.life.pieces,
        empty_weight=float(solution.service.weight[dry]),
        empty_moment=float(solution.service.moment[dry, 1]),
        weight=float(solution.service.weight[here]),
        moment=float(solution.service.moment[here, 1]),
        lowest=float(among.min()),
        highest=float(among.max()),
        arm=0.0 if bool(solution.held.dead[here]) else float(solution.pose.arm[here]),
        out_of_plane=float(np.hypot(u_x, u_z)),
        line_length=float(solution.pose.line_length[here]),
        line_angle=float(solution.pose.line_angle[here]),
        stiffness=_stiffness(solution, row=here),
        line_weight=_line_weight(bare),
    )


def _stiffness(solution: Solution, *, row: int) -> float | None:
    give = float(solution.give[row])
    known = all(link.give is not None for link in solution.links)
    return 1.0 / give if known and give > 0.0 else None


def _line_weight(rig: Rig) -> float | None:
    for link in rig.value("line.link"):
        if link.kind == "wire rope" and link.table and link.diameter:
            return float(rope.rope(link.table, diameter=link.diameter, column=link.column or "").weight_per_length)
    return None


def pooled(rig: Rig, *, depths: Array) -> Rig:
    """The empty box filled with clear water behind a blocked tail, as a batch of rigs in the state plugged.

    The plant stands level, nothing runs and no bed is in; the loads carry no dynamic factor.

    Args:
        rig: One rig.
        depths: Water at the tail, square to the floor, up to the sides, shape (...). [in]

    Returns:
        Rigs of shape (...) whose row `plugged` is that fill.

    Source: docs/method.md#water-fill.
    """
    level = {"water": None, "bed.depth": 0.0, "factors.hung": 1.0, **LEVEL}
    case = with_values(rig.case, level)
    kept = {key: value for key, value in rig.varied.items() if key not in level and not key.startswith("water.")}
    return varied(Rig(case, kept), {"water.lip": depths})


def water_moment(rig: Rig, *, depths: Array) -> Array:
    """Moment about the hinge of clear water behind a blocked tail, shape (...). [lbf*in]

    Args:
        rig: One rig.
        depths: Water at the tail, square to the floor, shape (...). [in]

    Source: exact integral of the level pool, docs/method.md#water-fill.
    """
    length, pitch, zero = rig.number("box.length"), rig.number("box.pitch"), np.zeros(())
    if divided(rig):
        return _moment_of(rig, strips=_still_water(rig, depths=np.asarray(depths)))
    pool = level_pool(length=length, pitch=pitch, crest=np.asarray(depths), head=zero, bed=zero, running=zero)
    span, head, tail = length - pool.start, pool.depth_start, pool.depth_tail
    area = 0.5 * span * (head + tail)
    along = area * pool.start + span**2 * (head + 2.0 * tail) / 6.0
    up = span * (head**2 + head * tail + tail**2) / 6.0
    wide = channel_width(rig) * int(rig.value("box.channels")) * material("water, fresh").unit_weight
    lift = up - rig.number("hinge.height") * area
    return np.asarray(wide * (along * np.cos(pitch) + lift * np.sin(pitch)))


def _still_water(rig: Rig, *, depths: Array) -> list[Strip]:
    """Clear water behind a blocked tail, stretch by stretch."""
    none = np.zeros(())
    level = Level(surface=depths, length=rig.number("box.length"), pitch=rig.number("box.pitch"))
    density = np.asarray(material("water, fresh").unit_weight)
    found: list[Strip] = []
    for one in reaches(rig):
        nothing = (none, none)
        deep = depths_in(one, bed=none, flow=nothing, run=nothing, surge=nothing, level=level)
        layer = Layer(name="water", bottom=0.0, depth=(deep.pool_depth, deep.pool[1]), density=density)
        found += filled(one, layer, start=deep.pool_start)
    return found


def _moment_of(rig: Rig, *, strips: list[Strip]) -> Array:
    """Moment about the hinge of weights along the floor, shape (...). [lbf*in]"""
    pitch, total = rig.number("box.pitch"), np.zeros(())
    for strip in strips:
        span, w0, w1 = np.asarray(strip.end) - strip.start, np.asarray(strip.w_start), np.asarray(strip.w_end)
        weight = 0.5 * (w0 + w1) * span
        along = weight * strip.start + (w0 + 2.0 * w1) * span**2 / 6.0
        n0, n1 = strip.n_start, strip.n_end
        up = span * (2.0 * w0 * n0 + w0 * n1 + w1 * n0 + 2.0 * w1 * n1) / 6.0 - rig.number("hinge.height") * weight
        total = total + along * np.cos(pitch) + up * np.sin(pitch)
    return np.asarray(total)
