"""The plant under the box: whether plant and box together stand on their feet, and what the tongue carries."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rigcheck.analysis.items import Item
from rigcheck.analysis.rows import Check, Flag
from rigcheck.analysis.solve import Solution, layout
from rigcheck.arrays.guarded import UNLIMITED, divide
from rigcheck.arrays.memory import side_by_side, zeros
from rigcheck.arrays.types import Array, Mask
from rigcheck.case.fed import feeding
from rigcheck.case.rig import Rig
from rigcheck.loads.contents import taken_along
from rigcheck.loads.pieces import Row, stack
from rigcheck.loads.slopes import ground
from rigcheck.loads.steel import dead_loads, take_off
from rigcheck.loads.take_off import Piece
from rigcheck.parts.plant.other_box import OtherBox, other_box
from rigcheck.parts.plant.ways import TipWay
from rigcheck.statics.geometry import pose
from rigcheck.statics.resultant import resultant
from rigcheck.statics.tipping import WAYS, Edges, Moments, OnWheels, about_edges, edges, moments, on_wheels

GROUP = "plant"
PART = Item.PLANT
TIPS = "plant_tips"
LIGHT, GUIDED, HEAVY = 0.08, 0.10, 0.15
"""Share of gross on the tongue: below the first it sways; the others are what towing guidance asks for.

Source: common practice, no published source.
"""


FOOT_KEY, LEVEL_KEY = FEET_KEYS = ("plant.foot", "hinge.above_ground or the height of each plant.foot")


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Standing:
    """Plant and box as one free body.

    Attributes:
        rows: Rows of the solution that it is of, shape (row,).
        feet: Soles in plant axes, shape (..., foot, 3). [in]
        base: Edges of the base.
        force: Plant's weight down and along the slope, the box's weight down and along the slope, what pushes the
            box; shape (..., row, 5, 3). [lbf]
        moment: Of each about the middle of the hinge axis, shape (..., row, 5, 3). [lbf*in]
        pulls: Gravity of the rows, down and along the slope, shape (..., row, 2, 3). [g]
        other: The box that feeds this one; None where none does.
    """

    rows: NDArray[np.intp]
    feet: Array
    base: Edges
    force: Array
    moment: Array
    pulls: Array
    other: OtherBox | None = None

    def moments(self) -> Moments:
        """About each edge; of the box that feeds this one whatever in it does most to tip the plant over that edge."""
        found = moments(self.force, moment=self.moment, feet=self.feet, base=self.base)
        if self.other is None:
            return found
        force, moment = self.loaded(self.other.weight, at=self.other.at)
        turn = about_edges(force, moment=moment, feet=self.feet[..., None, :, :], base=self.base)
        least = turn.reshape(*turn.shape[:-1], -1, 2).min(-2)
        live = self.base.live[..., None, :, None]
        return Moments(
            stabilizing=found.stabilizing + np.where(live, np.maximum(least, 0.0), 0.0).sum(-1),
            overturning=found.overturning + np.where(live, np.maximum(-least, 0.0), 0.0).sum(-1),
        )

    def loaded(self, weight: Array, *, at: Array) -> tuple[Array, Array]:
        """Force and moment of weights on the plant, down and along the slope each, shapes (..., row, load, 3)."""
        force = weight[:, None, None] * self.pulls[..., None, :, :]
        moment = np.cross(at[:, None, :], force)
        shape = (*force.shape[:-3], -1, 3)
        return force.reshape(shape), moment.reshape(shape)


def not_described(rig: Rig) -> tuple[str, ...]:
    """Keys that are needed to tell whether the plant tips and that the case does not give."""
    needed = [f"plant.{key}" for key in ("weight", "cg_downstream", "cg_height") if not rig.has(f"plant.{key}")]
    feet = rig.value("plant.foot")
    if not feet:
        needed.append(FOOT_KEY)
    elif not rig.has("hinge.above_ground") and not all(rig.has(f"plant.foot.{i}.height") for i in range(len(feet))):
        needed.append(LEVEL_KEY)
    return tuple(needed)


def feet_of(rig: Rig) -> Array:
    """Where the soles of the feet are in plant axes, shape (..., foot, 3). [in]"""
    ground = -rig.number_or("hinge.above_ground", 0.0)
    places = [f"plant.foot.{i}" for i in range(len(rig.value("plant.foot")))]
    axes = [
        np.stack(np.broadcast_arrays(*(rig.number(f"{one}.{key}") for one in places)), axis=-1)
        for key in ("downstream", "across")
    ]
    height = np.stack(np.broadcast_arrays(*(rig.number_or(f"{one}.height", ground) for one in places)), axis=-1)
    return side_by_side(*axes, height)


def standing(solution: Solution, *, rows: Mask, level: bool = False, feet: Array | None = None) -> Standing:
    """Plant and box as one free body in some rows, under the loads as they are.

    Line and hinge forces act between the two and do not enter.

    Args:
        solution: The statics.
        rows: Which rows, shape (state,).
        level: On level ground instead of the slopes of the rows.
        feet: Other feet than those of the case, shape (..., foot, 3). [in]

    Returns:
        The free body.

    Source: own derivation, docs/method.md#tipping.
    """
    rig, at = solution.rig, np.flatnonzero(rows)
    gravity = _gravity(solution)[..., at, :]
    found, points = solution.service, solution.pose
    along, normal = points.along[..., at, :], points.normal[..., at, :]
    s, y, n = (found.center[..., at, axis] for axis in range(3))
    up = n - solution.layout.hinge_height[..., None]
    arm = side_by_side(s * along[..., 0] + up * normal[..., 0], y, s * along[..., 1] + up * normal[..., 1])
    weight = found.weight[..., at]
    pushed = found.force[..., at, :] - weight[..., None] * gravity
    push_moment = found.moment[..., at, :] - np.cross(arm, weight[..., None] * gravity)
    parts = gravity[..., None, :] * np.array([[0.0, 0.0, 1.0], [0.0 if level else 1.0, 0.0 if level else 1.0, 0.0]])
    cg = side_by_side(*(rig.number(f"plant.cg_{axis}") for axis in ("downstream", "across", "height")))
    own = rig.number("plant.weight")[..., None, None, None] * parts
    box = weight[..., None, None] * parts
    own_moment = np.cross(cg[..., None, None, :], own)
    shape = np.broadcast_shapes(own.shape[:-2], box.shape[:-2])

    def together(*each: Array) -> Array:
        return np.concatenate([np.broadcast_to(one, (*shape, *one.shape[-2:])) for one in each], axis=-2)

    soles = feet_of(rig) if feet is None else feet
    return Standing(
        rows=at,
        feet=soles,
        base=edges(soles),
        force=together(own, box, pushed[..., None, :]),
        moment=together(own_moment, np.cross(arm[..., None, :], box), push_moment[..., None, :]),
        pulls=parts,
        other=other_box(rig),
    )


def _gravity(solution: Solution) -> Array:
    """Gravity of every row, shape (..., state, 3). [g]"""
    hung = solution.life.loads.gravity
    rest = solution.rows[hung.shape[-2] :]
    if not rest:
        return hung
    behind = zeros(solution.shape[:-3], len(rest), 3)
    for i, row in enumerate(rest):
        for axis in range(3):
            behind[..., i, axis] = row.gravity[axis]
    return np.concatenate([np.broadcast_to(hung, (*behind.shape[:-2], *hung.shape[-2:])), behind], axis=-2)


def ways(solution: Solution) -> dict[int, TipWay]:
    """Ways to tip that are looked at, by their index into `WAYS`.

    A rig alike on both sides has the rows of one side alone, and its other side would look better than it is: there
    one side stands for both.
    """
    found = {way: TipWay[word.upper()] for way, word in enumerate(WAYS)}
    if is_even(solution):
        del found[WAYS.index("right")]
        found[WAYS.index("left")] = TipWay.SIDEWAYS
    return found


def is_even(solution: Solution) -> bool:
    """Whether box and plant are alike on both sides, so that the rows load one of them alone."""
    _, lumps = dead_loads(solution.rig, pieces=solution.life.pieces)
    return ground(solution.rig, lumps=lumps).even


def at_work(solution: Solution) -> Mask:
    """Rows in which the plant stands on its feet, shape (state,)."""
    return solution.cases(lambda case: case.on_feet)


def worst_edge(found: Moments, *, base: Edges, way: int) -> tuple[Array, Array]:
    """Stabilizing and overturning moment about the edge of one way that is nearest to tipping, shapes (..., state).

    Args:
        found: About every edge.
        base: The edges.
        way: Index into `WAYS`.
    """
    this = (base.live & (base.way == way))[..., None, :]
    use = np.where(this, divide(found.overturning, found.stabilizing, where_zero=UNLIMITED), -1.0)
    at = use.argmax(-1)[..., None]
    shape = use.shape
    holds = np.take_along_axis(np.broadcast_to(found.stabilizing, shape), at, axis=-1)[..., 0]
    turns = np.take_along_axis(np.where(this, found.overturning, 0.0), at, axis=-1)[..., 0]
    return holds, turns


def _on_every_row(values: Array, *, rows: NDArray[np.intp], count: int) -> Array:
    """Values of some rows on the whole state axis, with axes for bound and side."""
    whole = zeros(values.shape[:-1], count)
    whole[..., rows] = values
    return whole[..., None, None]


def _at_work(solution: Solution) -> tuple[Standing, Moments]:
    """Plant and box in every row in which the plant stands on its feet, and how near each edge is to tipping."""
    body = standing(solution, rows=at_work(solution))
    return body, body.moments()


def _snagged(solution: Solution) -> Mask:
    return solution.cases(lambda case: case.full_pull)


def _pulled_down(solution: Solution) -> tuple[Standing, Moments]:
    """The same while the hoists pull as hard as they can."""
    body = standing(solution, rows=_snagged(solution))
    return body, body.moments()


def plant_checks(solution: Solution) -> list[Check]:
    """Tipping over the feet every way; nothing where the case does not describe the plant.

    Source: own derivation, docs/method.md#tipping.
    """
    rig, rows = solution.rig, at_work(solution)
    if not_described(rig) or not rows.any():
        return []
    body, found = solution.once(_at_work)
    count = len(solution.rows)
    needed = rig.number("factors.tipping")
    checks = []
    for way, tips in ways(solution).items():
        if not (body.base.live & (body.base.way == way)).any():
            continue
        holds, turns = worst_edge(found, base=body.base, way=way)
        least = float(np.max(needed))
        checks.append(
            Check(
                part=PART,
                group=GROUP,
                mode=f"tipping {tips.value}",
                way=tips,
                unit="moment",
                demand=_on_every_row(turns, rows=body.rows, count=count),
                capacity=_on_every_row(holds / needed[..., None], rows=body.rows, count=count),
                basis=f"stabilizing moment over {least:.4g} (assumption), plant and box as one body, static load",
                clause="own derivation, docs/method.md#tipping",
                where=rows[:, None, None],
                at_rest=True,
            )
        )
    return checks


def plant_flags(solution: Solution) -> list[Flag]:
    """What must be said of the plant: that it tips, that nobody knows whether it does, what its tongue carries."""
    rig = solution.rig
    found = _tongue_flags(solution)
    missing = not_described(rig)
    if missing:
        text = f"plant: tipping not assessed; the case does not give {', '.join(missing)}"
        return [Flag(code="tipping_not_assessed", text=text, where=np.asarray(True)), *found]
    told = (
        (TIPS, at_work(solution), "plant and box tip over their feet {}", True),
        ("snag_tips_plant", _snagged(solution), "a box held fast by the ground, not by the plant, tips the plant "
         "{} before the hoist pulls its full rating: stop when a foot lifts", False),
    )  # fmt: skip
    for code, rows, text, stops in told:
        if not rows.any():
            continue
        body, turned = solution.once(_at_work if code == TIPS else _pulled_down)
        for way, toward in ways(solution).items():
            holds, turns = worst_edge(turned, base=body.base, way=way)
            tips = _on_every_row(turns - holds, rows=body.rows, count=len(solution.rows)) > 0.0
            if tips.any():
                found.append(Flag(code=code, text=text.format(toward.value), where=tips, stops=stops))
    return found


def trailer(rig: Rig, *, pieces: list[Piece], batch: tuple[int, ...] = (), box: bool = True) -> OnWheels | None:
    """What tongue and axles carry, with the folded box on the plant or without it.

    Args:
        rig: The rig, one or a batch.
        pieces: Take-off of the empty box.
        batch: Shape of the batch of designs.
        box: With the box.

    Returns:
        Loads; None where the case gives no wheels or no weight of the plant, or where the box does not fold.

    Source: own derivation, docs/method.md#tongue.
    """
    keys = ("plant.weight", "plant.cg_downstream", "plant.wheels.axle")
    if not all(rig.has(key) for key in keys) or (box and not rig.has("fold.to")):
        return None
    plant = (rig.number("plant.weight"), rig.number("plant.cg_downstream"), rig.number("plant.cg_across"))
    weights, xs, ys = ([one] for one in plant)
    if box:
        boxes = [(_folded_weight(rig, pieces=pieces, batch=batch), 0.0)]
        other = feeding(rig.case)
        if other is not None and rig.case.fed_by is not None:
            if other.fold.to is None:
                return None  # one of the boxes does not fold
            feeds = Rig(other)
            boxes.append((_folded_weight(feeds, pieces=take_off(feeds), batch=()), rig.case.fed_by.downstream))
        for (weight, x, y), apart in boxes:
            weights.append(weight)
            xs.append(x - apart)
            ys.append(y)
    weight, x, y = (np.stack(np.broadcast_arrays(*one), axis=-1) for one in (weights, xs, ys))
    axle, tongue, track = (rig.number(f"plant.wheels.{key}") for key in ("axle", "tongue", "track"))
    return on_wheels(weight, x=x, y=y, axle=axle, tongue=tongue, track=track)


def _folded_weight(rig: Rig, *, pieces: list[Piece], batch: tuple[int, ...]) -> tuple[Array, Array, Array]:
    """Weight of the folded box on the road, and its place along and across from the middle of its hinge, (...)."""
    dead, lumps = dead_loads(rig, pieces=pieces)
    row = Row(state="hauling", strips=[*dead, *taken_along(rig)], lumps=lumps, fold=rig.number("fold.to"))
    loads, points = stack([row], batch=batch), layout(rig)
    found = resultant(loads, layout=points, pose=pose(points, fold=loads.fold))
    safe = np.where(found.weight > 0.0, found.weight, 1.0)
    # a weight W at (x, y) turns about the hinge's middle by (-W y, W x)
    return found.weight[..., 0], (found.moment[..., 1] / safe)[..., 0], (-found.moment[..., 0] / safe)[..., 0]


def _tongue_flags(solution: Solution) -> list[Flag]:
    """What is wrong with the tongue's share, with the box folded on the plant and without it."""
    rows = solution.states("hauling")
    where = (rows if rows.any() else np.ones_like(rows))[:, None, None]
    flags = []
    for box, words in ((True, "with the box folded"), (False, "without the box")):
        found = trailer(solution.rig, pieces=solution.life.pieces, batch=solution.shape[:-3], box=box)
        if found is None:
            continue
        share = np.asarray(found.share)
        told = (
            ("tongue_lifts", share <= 0.0, "the tongue lifts off the hitch", True),
            ("tongue_light", (share > 0.0) & (share < LIGHT), f"the tongue carries under {LIGHT:.0%} of gross and the "
             "trailer may sway", False),
            ("tongue_heavy", share > HEAVY, f"the tongue carries over {HEAVY:.0%} of gross: see what the hitch and the "
             "towing vehicle may carry", False),
        )  # fmt: skip
        for code, wrong, text, stops in told:
            if wrong.any():
                here = wrong[..., None, None, None] & where
                flags.append(Flag(code=code, text=f"on the road {words} {text}", where=here, stops=stops))
    return flags
