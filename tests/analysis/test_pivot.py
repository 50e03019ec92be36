"""A box on a center pivot against six equations of its own, set up here from the free body and solved by numpy.

Unknown on a free pivot: three forces at one place, the couple that keeps it from swinging sideways, two tensions. On a
seized one the couple about the line along the plant is unknown too, and the lines' sharing is said. Points, directions
and sums of the loads are worked out here; only the loads themselves and the angles of the fold are read.
"""

from functools import cache

import numpy as np
import pytest

from rigcheck.analysis.solve import solve
from rigcheck.case.reading.read import read_case_text
from rigcheck.case.rig import Rig, varied
from rigcheck.loads.pieces import BOUNDS
from rigcheck.tables.load_cases import ids
from tests.support.pivot_rig import changed

DRAWN = 30
LEFT, RIGHT = 4, 5
AT_SIDE = ('weight = "31 lb"\nat = "4 in"', 'weight = "61 lb"\nat = "14 in"\nacross = "-9 in"')
KEYS = {
    "box.length": (88.0, 112.0), "box.pitch": (0.04, 0.16), "hinge.height": (-2.0, 4.0), "hinge.spacing": (5.0, 12.0),
    "hanger.at": (52.0, 74.0), "hanger.height": (3.0, 9.0), "hanger.spacing": (22.0, 32.0),
    "perch.downstream": (-26.0, 20.0), "perch.height": (44.0, 96.0), "perch.spacing": (20.0, 46.0),
    "fitting.0.weight": (10.0, 90.0), "fitting.0.across": (-12.0, 12.0), "fitting.1.weight": (10.0, 120.0),
    "bed.depth": (0.0, 4.0), "person.weight": (150.0, 300.0), "plant.cross_slope": (0.0, 0.08),
}  # fmt: skip


@cache
def drawn(off_level: float = 0.0):
    """Every state of rigs by lot, as one batch."""
    lot = np.random.default_rng(2611)
    keys = {key: lot.uniform(low, high, DRAWN) for key, (low, high) in KEYS.items()}
    rig = varied(Rig(read_case_text(changed(AT_SIDE))), {**keys, "hinge.off_level": np.full(DRAWN, off_level)})
    return rig, solve(rig)


def added_up(rig, solution, *, roll=0.0):
    """Force and moment of every hung row's loads about the pivot, shapes (design, state, 3), the box turned by roll."""
    loads = solution.life.loads
    angle = loads.fold - rig.number("box.pitch")[..., None]
    up = rig.number("hinge.height")[..., None, None]
    cos, sin = np.cos(angle)[..., None], np.sin(angle)[..., None]

    def about(s, y, n, force):
        flat = np.stack(np.broadcast_arrays(s * cos - (n - up) * sin, y, s * sin + (n - up) * cos), axis=-1)
        x, across, z = np.moveaxis(flat, -1, 0)
        turned = np.stack([x, across * np.cos(roll) - z * np.sin(roll), across * np.sin(roll) + z * np.cos(roll)], -1)
        return np.broadcast_to(force, turned.shape).sum(-2), np.cross(turned, force).sum(-2)

    gravity = loads.gravity[..., None, :]
    lump, strip, push = loads.lump, loads.strip, loads.push
    parts = [about(lump["s"], lump["y"], lump["n"], lump["weight"][..., None] * gravity)]
    span = strip["end"] - strip["start"]
    for share, weight in ((0.5 - 0.5 / np.sqrt(3.0), 0.5), (0.5 + 0.5 / np.sqrt(3.0), 0.5)):  # Gauss, exact to s^3
        at = {name: strip[f"{name}_start"] + share * (strip[f"{name}_end"] - strip[f"{name}_start"]) for name in "wn"}
        heavy = weight * span * at["w"]
        parts.append(about(strip["start"] + share * span, strip["y"], at["n"], heavy[..., None] * gravity))
    shove = np.stack([push["fx"], push["fy"], push["fz"]], axis=-1)
    parts.append(about(push["s"], push["y"], push["n"], shove))
    return sum(force for force, _ in parts), sum(moment for _, moment in parts)


def lines(rig, solution, *, roll=0.0):
    """Hanger of either line and direction to its perch, shapes (design, state, 3)."""
    angle = solution.life.loads.fold - rig.number("box.pitch")[..., None]
    s, n = (rig.number(f"hanger.{key}")[..., None] for key in ("at", "height"))
    n = n - rig.number("hinge.height")[..., None]
    found = []
    for side in (1.0, -1.0):
        x, z = s * np.cos(angle) - n * np.sin(angle), s * np.sin(angle) + n * np.cos(angle)
        y = side * rig.number("hanger.spacing")[..., None] / 2.0 + 0.0 * x
        at = np.stack([x, y * np.cos(roll) - z * np.sin(roll), y * np.sin(roll) + z * np.cos(roll)], axis=-1)
        perch = np.stack([rig.number("perch.downstream"), side * rig.number("perch.spacing") / 2.0,
                          rig.number("perch.height")], axis=-1)[..., None, :]  # fmt: skip
        way = perch - at
        found.append((at, way / np.linalg.norm(way, axis=-1, keepdims=True)))
    return found


def six(rig, solution, *, seized=None, roll=0.0):
    """X, Y, Z, couple about z, T_L, T_R of every row on a free pivot; with a split seized, the roll couple as well."""
    force, moment = added_up(rig, solution, roll=roll)
    (at_l, u_l), (at_r, u_r) = lines(rig, solution, roll=roll)
    size = 6 if seized is None else 7
    matrix, right = np.zeros((*force.shape[:-1], size, size)), np.zeros((*force.shape[:-1], size, 1))
    for axis in range(3):
        matrix[..., axis, axis] = 1.0
    matrix[..., 5, 3] = 1.0
    for place, at, way in ((LEFT, at_l, u_l), (RIGHT, at_r, u_r)):
        matrix[..., :3, place] = way
        matrix[..., 3:6, place] = np.cross(at, way)
    right[..., :3, 0], right[..., 3:6, 0] = -force, -moment
    if seized is not None:
        matrix[..., 3, 6] = 1.0
        matrix[..., 6, LEFT], matrix[..., 6, RIGHT] = 1.0, -1.0
        right[..., 6, 0] = seized
    return np.linalg.solve(matrix, right)[..., 0]


def hung(solution):
    """Rows of the lines, none of the folded box, in which they hold it and both pull."""
    count = len(solution.life.loads.rows)
    live = ~(solution.held.dead | solution.held.lifted)[..., :count]
    return count, live


def couples(solution, bound, count):
    """Force at the pivot, and its couples about x and z, from what either ear takes."""
    hinge = solution.held.hinge[..., :count, BOUNDS.index(bound), :, :]
    half = solution.layout.hinge_spacing[..., None] / 2.0
    return (hinge.sum(-2), half * (hinge[..., 0, 2] - hinge[..., 1, 2]), -half * (hinge[..., 0, 0] - hinge[..., 1, 0]))


def test_a_free_pivot_against_its_own_six_equations():
    rig, solution = drawn()
    count, live = hung(solution)
    answer = six(rig, solution)
    both = live & (answer[..., LEFT] > 0.0) & (answer[..., RIGHT] > 0.0)
    weight = solution.service.weight[..., :count]
    force, roll, yaw = couples(solution, "loose", count)
    seen = set()
    for row, one in enumerate(solution.life.loads.rows):
        if "loose" in one.bounds and both[:, row].any():
            seen.add(one.state)
    assert seen == set(ids(lambda case: not case.folded)) - {"snagged"}  # held fast: no row of a free pivot alone
    tension = solution.held.tension[..., :count, BOUNDS.index("loose"), :]
    tight = 1e-9 * weight
    assert np.all(np.abs(tension - answer[..., LEFT:6])[both] <= 1e-9 * weight[both][:, None])
    assert np.all(np.abs(force - answer[..., :3])[both] <= 1e-9 * weight[both][:, None])
    assert np.all((np.abs(roll) <= 100.0 * tight)[both])
    assert np.all((np.abs(yaw - answer[..., 3]) <= 100.0 * tight)[both])
    assert both.sum() > 30 * 100
    slack = live & ~both & (solution.held.total[..., :count] > 0.0)
    assert np.all(tension[slack].min(-1) <= 1e-9 * weight[slack])  # a line does not push: it is slack, the bar bears


@pytest.mark.parametrize("bound", ["limp", "stiff"])
def test_a_seized_pivot_against_its_own_equations(bound):
    rig, solution = drawn()
    count, live = hung(solution)
    tension = solution.held.tension[..., :count, BOUNDS.index(bound), :]
    split = tension[..., 0] - tension[..., 1]
    answer = six(rig, solution, seized=split)
    force, roll, yaw = couples(solution, bound, count)
    weight = solution.service.weight[..., :count]
    tight = 1e-9 * weight
    for mine, theirs, arm in ((tension[..., 0], answer[..., LEFT], 1.0), (roll, answer[..., 6], 100.0),
                              (yaw, answer[..., 3], 100.0)):  # fmt: skip
        assert np.all((np.abs(mine - theirs) <= arm * tight)[live])
    assert np.all((np.abs(force - answer[..., :3]) <= tight[..., None])[live])
    if bound == "stiff":
        assert np.all((np.abs(split) <= tight)[live])


def test_a_box_off_level_against_the_turned_box():
    """Turned by 2 degrees about the line along the plant, every point and line anew: the split has its first order.

    What a turn also does to the pitch is left out there, the more the less alike the lines pull.
    """
    rig, solution = drawn(float(np.radians(2.0)))
    count, live = hung(solution)
    level = six(rig, solution)
    total = solution.held.total[..., :count]
    turned = [six(rig, solution, roll=roll) for roll in np.radians([2.0, -2.0])]
    split = [one[..., LEFT] - one[..., RIGHT] for one in (level, *turned)]
    farther = np.where(split[0] >= 0.0, np.maximum(*split[1:]), np.minimum(*split[1:]))
    tension = solution.held.tension[..., :count, BOUNDS.index("loose"), :]
    mine = tension[..., 0] - tension[..., 1]
    loads = solution.life.loads
    use = live & np.array(["loose" in row.bounds for row in loads.rows]) & (loads.fold < 0.2) & (total > 0.0)
    use &= (np.abs(split[0]) < 0.5 * total) & (np.abs(mine) < 0.99 * total)
    moved = np.abs(mine - split[0])[use] / total[use]
    assert use.sum() > 3000 and moved.max() > 0.03
    assert np.abs(mine - farther)[use].max() < 0.02 * total[use].max()
    assert (np.abs(mine - farther)[use] / total[use]).max() < 0.03


@pytest.mark.parametrize("bound", ["limp", "stiff", "loose"])
def test_a_seized_pivot_is_the_pair_of_hinges_at_its_ears(bound):
    """Ears at the same distance instead of the pivot: the same answer to the last digit, off level left out."""
    level = ("pin_retained = true", 'pin_retained = true\noff_level = "0 deg"')
    text = changed(AT_SIDE, level)
    pair = text.replace('kind = "center pivot"', 'kind = "ears"').replace('off_level = "0 deg"\n', "")
    only = frozenset(ids(lambda case: case.hung)) | {"towing"}
    pivot, ears = (solve(Rig(read_case_text(one)), only=only) for one in (text, pair))
    assert [row.variant for row in pivot.rows] == [row.variant for row in ears.rows]
    at = BOUNDS.index(bound)
    for name in ("tension", "hinge", "roll"):
        mine, theirs = (getattr(one.demand, name)[:, at] for one in (pivot, ears))
        assert np.array_equal(mine, theirs)


def test_a_load_that_is_alike_on_both_sides_is_shared_by_halves():
    flat = ('cross_slope = "2 deg"', 'cross_slope = "0 deg"')
    text = changed(("pin_retained = true", 'pin_retained = true\noff_level = "0 deg"'))
    text = text.replace(*flat) if flat[0] in text else f'{text}\n[plant]\ncross_slope = "0 deg"\n'
    solution = solve(Rig(read_case_text(text)), only=frozenset({"empty", "running", "packed", "iced"}))
    tension = solution.held.tension[:, :3]
    assert np.allclose(tension[..., 0], tension[..., 1], rtol=1e-12)
    assert np.abs(solution.held.roll[:, :3]).max() < 1e-9 * solution.service.weight.max()


def test_a_box_on_a_pivot_never_hangs_on_one_line_but_where_it_is_caught():
    solution = drawn()[1]
    rows = [row for row in solution.life.loads.rows if row.state != "snagged"]
    assert not any(row.bounds & {"left", "right"} for row in rows)


def test_a_line_that_breaks_puts_the_load_on_its_backup_at_once():
    solution = drawn()[1]
    count = len(solution.life.loads.rows)
    broken = solution.states("line_broken")[:count] & ~solution.held.dead[..., :count]
    level = BOUNDS.index("loose")
    for name, rest in (("tension", (slice(None),)), ("hinge", (slice(None), slice(None)))):
        rose, was = (getattr(one, name)[..., :count, level, *rest] for one in (solution.demand, solution.held))
        assert np.allclose(rose[broken], 2.0 * was[broken])


def test_what_a_caught_box_is_buried_in_keeps_it_from_rolling_and_swinging():
    """One hoist at its full rating: all of its roll and yaw is held along the floor, none of it by the bar."""
    solution = solve(Rig(read_case_text(changed())), only=frozenset({"empty", "snagged"}))
    rows = [row for row in solution.rows if row.variant.get("pulled_by") == "one line"]
    assert [row.variant["held"] for row in rows] == ["along the floor"]
    at = solution.rows.index(rows[0]), BOUNDS.index("left")
    hinge = solution.demand.hinge[at]
    assert float(solution.demand.tension[(*at, 0)]) == pytest.approx(2600.0)
    assert np.allclose(hinge[0, [0, 2]], hinge[1, [0, 2]], atol=1e-6)
