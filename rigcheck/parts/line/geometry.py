"""Findings of the hung geometry: dead point, slack, flat line, lines through steel, uplift, bare hanger."""

from __future__ import annotations

import numpy as np

from rigcheck.analysis.rows import Flag
from rigcheck.analysis.solve import Solution
from rigcheck.arrays.types import Array, Mask
from rigcheck.case.rig import Rig, varied
from rigcheck.loads.measured import measured_words
from rigcheck.loads.pieces import BOUNDS, SHARED
from rigcheck.loads.shape import reaches
from rigcheck.loads.steel import cross_member_count, estimate, side_sheet
from rigcheck.statics.balance import LEAST_GRIP, line_per_rail
from rigcheck.statics.geometry import Layout, Pose
from rigcheck.tables import shapes
from rigcheck.tables.load_cases import TOWING

NEAR_MEMBER = 6.0  # in: a hanger further than this from a cross-member hangs on bare rail; our own rule
FLAT_LINE = np.radians(20.0)  # common practice, no source
_SLACK = 1e-9


def hung_flags(solution: Solution) -> list[Flag]:
    """Everything that the pose and the balance of a hung box raise."""
    at, held = solution.pose, solution.demand
    weight = solution.service.weight[..., None, None]
    column = np.s_[..., None, None]
    hung = solution.hung[:, None, None]
    lift = held.hinge[..., 2]
    # a box that leans inward on a snub line needs no tension from the lines it passes the hinge axis with
    snubbed = ~solution.hung & (solution.service.moment[..., 1] < 0.0) & bool(solution.rig.value("fold.snub"))
    return [
        Flag(code="dead_point", stops=True, where=(held.dead & ~snubbed)[column],
             text="the line passes through the hinge axis, or nearly: no tension in it can hold the box"),
        Flag(code="line_slack", stops=True, where=hung & (held.tension < -_SLACK * weight),
             text="balance asks the line to push, which a line cannot do: it goes slack and the box is not held"),
        Flag(code="one_line_slack", where=hung & _one_slack(solution),
             text="a load so far to one side leaves the other line slack: one line carries all of it, the hinge what"
             " roll is left, and a line that hangs slack snaps tight when the load moves"),
        Flag(code="wind_slack", where=held.lifted[column],
             text="in a gust of `wind.hung` the empty box is blown off its lines or over its balance point: they go"
             " slack and snap tight again, several times the load; fold and strap it before such a wind, and snub it on"
             " the way up"),
        Flag(code="perch_below_hanger", where=hung & (at.uz <= 0.0)[column],
             text="the perch is not above the hanger, so the line pulls the box down"),
        Flag(code="line_flat", where=hung & ((at.line_angle < FLAT_LINE) & (at.uz > 0.0))[column],
             text="the line lies flatter than 20 degrees: small errors in height change the pull a great deal"
             " (flatter than 15 degrees, ask an engineer before building)"),
        Flag(code="hinge_uplift", where=hung & (lift < -_SLACK * weight),
             text="the hinge is lifted: the pin must be held down, an open hook or a gravity-seated pin jumps out"),
        Flag(code="slack_and_snap", where=_thrown_up(solution)[column],
             text="bounced up as hard as down, the towed box weighs nothing for a moment: the lines go slack and snap"
             " tight again, and a quarter inch of slack is several times the load; tie the box down onto its lines"),
        Flag(code="splay_rolls_box", stops=True, where=hung & clamped(solution)[column],
             text="the lines splay so far at such a height that their own side pull rolls a box that is free to"
             " twist: how they share cannot be told"),
        Flag(code="no_roll_arm", where=hung & held.unsplit[column],
             text="the lines have no arm against roll, so a worn hinge cannot be balanced by them"),
    ]  # fmt: skip


def _one_slack(solution: Solution) -> Mask:
    """Where both lines hold the box and one of them hangs slack, shape (..., state, bound, side)."""
    total = solution.demand.total
    pulls = (total > _SLACK * solution.service.weight)[..., None, None]
    return np.asarray(pulls & ~solution.alone[..., None] & (solution.demand.tension <= 0.0))


def _thrown_up(solution: Solution) -> Mask:
    """Rows of towing whose factor down, turned upward about the weight, leaves no net weight, shape (..., state)."""
    up = 2.0 - solution.rig.number("towing.vertical")[..., None]
    return np.asarray(solution.states(TOWING) & (up <= _SLACK))


def clamped(solution: Solution) -> Mask:
    """Rows in which the limp split is held to its least grip and so is not in balance any more, shape (..., state)."""
    points = solution.layout
    plain = (points.rail_spacing / points.hanger_spacing)[..., None]
    ratio = line_per_rail(points, pose=solution.pose)
    return np.asarray((ratio >= plain / LEAST_GRIP * (1.0 - 1e-9)) & ~solution.held.dead)


def _crossing(first: Array, *, last: Array, level: Array) -> tuple[Array, Mask]:
    """Fraction of the line at which a coordinate passes a level, and whether it does."""
    step = last - first
    moves = np.abs(step) > 0.0
    t = np.where(moves, level - first, 0.0) / np.where(moves, step, 1.0)
    return t, moves & (t >= 0.0) & (t <= 1.0) & ((first - level) * (last - level) < 0.0)


def perch_in_box(layout: Layout, *, at: Pose) -> tuple[Array, Array]:
    """Perch in box coordinates s and n, shapes (..., state)."""
    x, z = layout.perch_x[..., None], layout.perch_z[..., None]
    s = x * at.along[..., 0] + z * at.along[..., 1]
    n = x * at.normal[..., 0] + z * at.normal[..., 1] + layout.hinge_height[..., None]
    return s, n


def line_cuts(rig: Rig, *, layout: Layout, at: Pose) -> list[tuple[str, Mask]]:
    """Whether the line runs through side wall, floor, cross-member or post, shapes (..., state).

    Of a box in stretches each is looked at where it is, as wide as at its head and as at its tail.

    Args:
        rig: The rig.
        layout: Its points.
        at: The pose of each row.

    Returns:
        Part and where it is cut.

    Source: own geometry, docs/method.md#line-through-steel.
    """
    every = reaches(rig)
    if not every[0].part:
        return _cuts(rig, layout=layout, at=at, ends=(np.zeros(()), layout.length))
    found: dict[str, Mask] = {}
    for one in every:
        for width in (one.head,) if one.straight else (one.head, one.tail):
            here = varied(one.rig, {"box.width": width})
            for part, cut in _cuts(here, layout=layout, at=at, ends=(one.start, one.end)):
                found[part] = cut | found[part] if part in found else cut
    return list(found.items())


def _cuts(rig: Rig, *, layout: Layout, at: Pose, ends: tuple[Array, Array]) -> list[tuple[str, Mask]]:
    """The same of a box that is alike between two stations."""
    s0, n0 = layout.hanger_s[..., None], layout.hanger_n[..., None]
    y0, y1 = 0.5 * layout.hanger_spacing[..., None], 0.5 * layout.perch_spacing[..., None]
    s1, n1 = perch_in_box(layout, at=at)
    half, wall = 0.5 * rig.number("box.width")[..., None], side_sheet(rig)[..., None]
    head, length = (end[..., None] for end in ends)
    side = rig.number("box.side_height")[..., None]

    def point(t: Array) -> tuple[Array, Array, Array]:
        return s0 + t * (s1 - s0), y0 + t * (y1 - y0), n0 + t * (n1 - n0)

    t, crosses = _crossing(y0, last=y1, level=half + 0.5 * wall)
    s, _, n = point(t)
    through = crosses & (n < side) & (n > 0.0) & (s > head) & (s < length)
    inside = (np.abs(y0 - half - 0.5 * wall) < 0.5 * wall) & (n0 < side) & (n0 > 0.0)
    inside = inside & (s0 >= head) & (s0 <= length)
    cuts = [("side wall", through | inside)]
    t, crosses = _crossing(n0, last=n1, level=np.zeros_like(n0))
    s, y, _ = point(t)
    inboard = (np.abs(y) < half + wall) & (s > head) & (s < length)
    cuts.append(("floor", crosses & inboard))
    if rig.has("cross_member.shape"):
        cuts.append(("cross-member", _cuts_member(rig, layout=layout, ends=(s0, y0, n0, s1, y1, n1))))
    if rig.has("perch.post.shape"):
        shape = shapes.find(rig.value("perch.post.shape"))
        drop = layout.perch_z[..., None] - at.hanger_z
        near = np.hypot(layout.perch_x[..., None] - at.hanger_x, y1 - y0) < 0.5 * max(shape.depth, shape.width)
        cuts.append(("post", near & (drop > 0.0)))
    return cuts


def _cuts_member(rig: Rig, *, layout: Layout, ends: tuple[Array, ...]) -> Mask:
    s0, y0, n0, s1, y1, n1 = ends
    shape = shapes.find(rig.value("cross_member.shape"))
    under = str(rig.value("cross_member.at")) == "under"
    low = -rig.number("box.sheet") - shape.depth if under else rig.number("box.side_height")
    middle = (low + 0.5 * shape.depth)[..., None]
    t, crosses = _crossing(n0, last=n1, level=middle)
    s, y = s0 + t * (s1 - s0), y0 + t * (y1 - y0)
    spacing = rig.number("cross_member.spacing")[..., None]
    index = np.clip(np.round(s / spacing), 0.0, cross_member_count(rig)[..., None] - 1.0)
    half = (0.5 * rig.number("box.width") + side_sheet(rig))[..., None]
    return crosses & (np.abs(s - index * spacing) < 0.5 * shape.width) & (np.abs(y) < half)


def steel_flags(solution: Solution) -> list[Flag]:
    """Lines through steel, and hangers without a cross-member under them."""
    rig, points = solution.rig, solution.layout
    flags = [
        Flag(code="line_cuts_" + part.replace(" ", "_").replace("-", "_"), stops=True, where=cut[..., None, None],
             text=f"the line runs through the {part}: it will saw, and the drawn geometry is not the real one")
        for part, cut in line_cuts(rig, layout=points, at=solution.pose)
    ]  # fmt: skip
    for text in () if rig.varied else measured_words(rig, estimated=estimate(rig)):
        flags.append(Flag(code="measured", text=text, where=np.asarray(True)))
    if rig.has("cross_member.spacing"):
        spacing = rig.number("cross_member.spacing")
        index = np.clip(np.round(points.hanger_s / spacing), 0.0, cross_member_count(rig) - 1.0)
        far = np.abs(points.hanger_s - index * spacing) > NEAR_MEMBER
        text = f"no cross-member within {NEAR_MEMBER:g} in of the hanger: the pull twists bare rail and wall"
        flags.append(Flag(code="hanger_off_cross_member", text=text, where=far[..., None, None, None]))
    return flags


def water_flags(solution: Solution) -> list[Flag]:
    """Running water over the sides, and pitch lost to sag."""
    wet = solution.cases(lambda case: case.water_runs)
    over = solution.life.contents.overtops[..., None, None, None]
    level = [i for i, bound in enumerate(BOUNDS) if bound in SHARED]
    rise = solution.sagged.on_bounds(solution.sag.rise)[..., level, :].max((-2, -1))
    ponds = wet & (solution.layout.pitch[..., None] - rise <= 0.0) & ~solution.held.dead
    return [
        Flag(code="water_over_sides", where=over & wet[:, None, None],
             text="the running water stands higher than the sides: it spills, and the load is held to the side height"),
        Flag(code="water_ponds", where=ponds[..., None, None],
             text="sag and stretch take away all the pitch somewhere along the box: water stands there"),
    ]  # fmt: skip
