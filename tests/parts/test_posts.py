"""Post checks on a whole rig: by hand, one way only, and what is not described."""

import numpy as np
import pytest

from rigcheck.analysis.links.capacity import perch_share
from rigcheck.analysis.post_model import lug_force, post_give, post_of
from rigcheck.analysis.rows import Check
from rigcheck.analysis.solve import Solution, solve
from rigcheck.case.reading.read import read_case_text
from rigcheck.case.rig import Rig, varied
from rigcheck.parts.post.checks import post_checks, post_flags, post_loads, post_not_assessed
from rigcheck.statics.post import lug_give, post_forces

TOGETHER = "bending, axial, shear and torsion together"

BOX = """
title = "Wren Gully, trial"
[box]
length = "104 in"
width = "25 in"
side_height = "6 in"
pitch = "1 1/2 in/ft"
sheet = "12 ga"
[hinge]
spacing = "24 in"
[hanger]
at = "68 in"
height = "6 in"
spacing = "27 in"
[perch]
downstream = "-6 in"
height = "57 in"
spacing = "31 in"
[line]
[[line.link]]
kind = "lever hoist"
wll = "1500 lb"
rated_to_suspend = true
[weld]
hand = "tested"
"""
POST = """
[perch.post]
shape = "{shape}"
free_length = "48 in"
steel = "A500B"
weld = "3/16 in"
lug_offset = "{offset}"
"""
BRACE = """
[perch.post.brace]
foot_downstream = "{downstream}"
foot_below = "48 in"
top_below = "9 in"
shape = "HSS1-1/2x1-1/2x1/8"
steel = "A500B"
"""


def rig_of(*parts: str, shape: str = "HSS3x3x3/16", offset: str = "0 in", downstream: str = "-20 in") -> Rig:
    text = BOX + "".join(parts).format(shape=shape, offset=offset, downstream=downstream)
    return Rig(read_case_text(text, name="trial.toml"))


def found(rig: Rig) -> tuple[Solution, dict[tuple[str, str], Check]]:
    solution = solve(rig)
    return solution, {(row.part, row.mode): row for row in post_checks(solution)}


def use(row: Check) -> np.ndarray:
    return np.asarray(row.demand / row.capacity)


def test_free_post_by_hand_in_one_state():
    solution, rows = found(rig_of(POST))
    i = int(np.flatnonzero(solution.states("packed"))[0])
    at = solution.pose
    pull = solution.demand.tension[i, 1, 0]  # stiff, left
    fore, across, push = pull * at.ux[i], pull * at.uy[i], pull * at.uz[i]
    euler = np.pi**2 * 29.0e6 * 2.46 / (2.0 * 48.0) ** 2
    grow = 1.0 / (1.0 - 1.15 * 3.0 * push / euler)  # BTH-1 3-2.4, F'e (memory)
    assert grow > 1.0
    row = rows["perch post", "bending fore and aft"]
    assert row.demand[i, 1, 0] == pytest.approx(abs(fore) * 48.0 * grow)
    # compact: 1.10 of the yield moment at most, Z/S is 1.20
    assert row.capacity.ravel()[0] == pytest.approx(1.10 * 46.0e3 * 1.64 / 3.0)
    assert rows["perch post", "bending across"].demand[i, 1, 0] == pytest.approx(abs(across) * 48.0 * grow)
    moment, side = abs(fore) * 48.0, abs(across) * 48.0
    per_inch = np.hypot(moment / 12.0 + side / 12.0 + push / 12.0, np.hypot(fore, across) / 12.0)
    weld = rows["perch post base weld", "force per inch"]
    assert weld.demand[i, 1, 0] == pytest.approx(per_inch)
    # weld metal 1547 lb/in; the wall beside it yields in shear at 46 ksi x 0.174 / (3 sqrt 3) = 1540
    assert weld.capacity.ravel()[0] == pytest.approx(46.0e3 * 0.174 / (3.0 * np.sqrt(3.0)))
    load = post_loads(solution)
    assert (load.at, load.foot) == ("post base", None)
    assert load.force[i, 1, 0] == pytest.approx([-fore, -across, -push])
    assert load.moment[i, 1, 0] == pytest.approx([48.0 * across, -48.0 * fore, 0.0])
    top = rows["perch post", "deflection of its top"]
    still = solution.held.tension[i, 1, 0]
    bent = still * np.hypot(at.ux[i], at.uy[i]) * 48.0**3 / (3.0 * 29.0e6 * 2.46)
    assert top.demand[i, 1, 0] == pytest.approx(bent)
    assert top.capacity.ravel()[0] == pytest.approx(
        48.0 / 60.0
    )  # a sixtieth of its length, a yardstick of our own, no source


def test_each_way_of_a_flat_tube_grows_with_its_own_stiffness():
    """HSS3x2x1/4, 3 in fore and aft: Ix 2.13 and Iy 1.11 in4 (AISC Manual Table 1-11, memory), B1 as above."""
    solution, rows = found(rig_of(POST, shape="HSS3x2x1/4"))
    i = int(np.flatnonzero(solution.states("packed"))[0])
    at, pull = solution.pose, solution.demand.tension[i, 1, 0]
    for mode, part, inertia in (("fore and aft", at.ux[i], 2.13), ("across", at.uy[i], 1.11)):
        euler = np.pi**2 * 29.0e6 * inertia / (2.0 * 48.0) ** 2
        grow = 1.0 / (1.0 - 1.15 * 3.0 * pull * at.uz[i] / euler)
        bent = rows["perch post", f"bending {mode}"].demand[i, 1, 0]
        assert bent == pytest.approx(abs(pull * part) * 48.0 * grow, rel=2e-3), mode


def test_lines_pull_their_perches_together_and_downstream():
    solution, _ = found(rig_of(POST))
    force = lug_force(solution.pose, pull=np.ones(solution.shape))[0, 1]
    assert np.all(force[:, 0] > 0.0)  # the hanger is downstream of the perch
    assert force[0, 1] < 0.0 < force[1, 1]  # the hangers are closer together than the perches
    assert np.all(force[:, 2] < 0.0)


def test_hoist_at_its_full_rating_by_hand():
    solution, rows = found(rig_of(POST))
    i = int(np.flatnonzero(solution.states("packed"))[0])
    weld = rows["perch post base weld", "force per inch, hoist at its full rating"]
    at = solution.pose
    bent = (abs(at.ux[i]) + abs(at.uy[i])) * 48.0 / 12.0 + at.uz[i] / 12.0
    by_hand = 1500.0 * np.hypot(bent, np.hypot(at.ux[i], at.uy[i]) / 12.0)
    assert weld.snag
    assert np.broadcast_to(weld.demand, solution.shape)[i, 1, 0] == pytest.approx(by_hand)
    assert ("perch post", "bending, axial, shear and torsion together, hoist at its full rating") in rows


def test_both_bases_have_their_rows():
    _, rows = found(rig_of(POST))
    accidents = [row for row in rows.values() if row.on_accidents]
    assert {(row.part, row.mode) for row in accidents} == {
        ("perch post", f"{TOGETHER} (strength)"),
        ("perch post base weld", "force per inch (strength)"),
    }
    weld, strength = rows["perch post base weld", "force per inch"], accidents[1]
    # the wall in shear, 0.60 x 46 ksi x 0.174, under the weld metal's 5,569
    assert strength.capacity == pytest.approx(0.6 * 46.0e3 * 0.174)
    assert weld.capacity == pytest.approx(46.0e3 * 0.174 / (3.0 * np.sqrt(3.0)))


def test_together_is_never_less_than_its_parts():
    _, rows = found(rig_of(POST, offset="3 in"))
    together = use(rows["perch post", TOGETHER])
    for name in ("bending fore and aft", "bending across", "axial", "shear", "torsion from the lug's offset"):
        assert np.all(together >= use(rows["perch post", name]) - 1e-12), name


def test_torsion_by_hand():
    solution, rows = found(rig_of(POST, offset="-2 1/2 in"))
    row = rows["perch post", "torsion from the lug's offset"]
    turned = np.abs(solution.demand.tension * solution.pose.ux[:, None, None] * 2.5)
    assert row.demand == pytest.approx(turned)
    without = found(rig_of(POST))[1]
    assert ("perch post", "torsion from the lug's offset") not in without


def test_outward_lug_is_not_the_same_as_an_inward_one():
    """Splayed inward pull bends the post inward; a lug set outward bends it back."""
    outward = use(found(rig_of(POST, offset="1 in"))[1]["perch post", "bending across"]).max()
    inward = use(found(rig_of(POST, offset="-1 in"))[1]["perch post", "bending across"]).max()
    assert outward < inward


def test_mirrored_sides_are_used_alike():
    solution, rows = found(rig_of(POST, offset="2 in"))
    packed = solution.states("towing")
    both = use(rows["perch post", TOGETHER])[packed][:, 1]
    assert both[:, 0] == pytest.approx(both[:, 1])


def test_brace_of_the_braced_post():
    solution, rows = found(rig_of(POST, BRACE))
    brace = rows["knee brace", "axial, pinned ends"]
    packed = solution.states("packed")
    assert np.all(brace.demand[packed][:, :3] > 0.0)
    load = post_loads(solution)
    force = lug_force(solution.pose, pull=solution.demand.tension)
    assert load.force + load.foot == pytest.approx(force)
    free = found(rig_of(POST))[1]
    fore = ("perch post", "bending fore and aft")
    assert np.all(use(rows[fore])[packed][:, :3] < use(free[fore])[packed][:, :3])
    # upstream foot: the brace is pulled, and what is pulled does not buckle
    pushed = found(rig_of(POST, BRACE, downstream="20 in"))[1]["knee brace", "axial, pinned ends"]
    assert np.all(pushed.capacity[packed][:, :3] < brace.capacity[packed][:, :3])


@pytest.mark.parametrize("parts", [(POST,), (POST, BRACE)], ids=["free", "braced"])
def test_more_metal_or_weld_never_raises_the_use(parts):
    walls = ("HSS3x3x1/8", "HSS3x3x3/16", "HSS3x3x1/4")
    before = None
    for shape in walls:
        rows = found(rig_of(*parts, shape=shape, offset="1 in"))[1]
        now = {key: use(row).max() for key, row in rows.items() if row.part == "perch post"}
        if before is not None:
            assert all(now[key] <= before[key] + 1e-9 for key in now), shape
        before = now
    rig = rig_of(*parts, offset="1 in")
    legs = varied(rig, {"perch.post.weld": np.array([0.125, 0.1875, 0.25, 0.3125])})
    welds = [row for row in post_checks(solve(legs)) if row.part == "perch post base weld"]
    assert {row.ultimate for row in welds} == {False, True}
    for row in welds:
        worst = np.broadcast_to(use(row), (4, *solve(rig).shape)).max((-3, -2, -1))
        assert np.all(np.diff(worst) <= 1e-12) and worst[0] > worst[1]


def test_a_longer_post_is_always_used_more():
    longer = varied(rig_of(POST, offset="1 in"), {"perch.post.free_length": np.array([40.0, 48.0, 60.0, 75.0])})
    row = next(one for one in post_checks(solve(longer)) if (one.part, one.mode) == ("perch post", TOGETHER))
    assert np.all(np.diff(use(row).max((-3, -2, -1))) > 0.0)


def test_one_case_is_its_row_in_the_batch():
    rig = rig_of(POST, BRACE, offset="1 in")
    many = solve(varied(rig, {"perch.post.free_length": np.array([44.0, 48.0, 55.0])}))
    one = solve(rig)
    for row, alone in zip(post_checks(many), post_checks(one), strict=True):
        full = np.broadcast_to(use(row), many.shape)[1]
        assert full == pytest.approx(np.broadcast_to(use(alone), one.shape)), row.mode


def test_a_braced_post_is_held_at_base_joint_and_lug_and_pulled_below_its_brace():
    """The worst of three places bends it, and a steep brace lifts what is below: F over Fy A / 3, A 1.89 in2."""
    rig = rig_of(POST, BRACE, downstream="12 in")
    solution, rows = found(rig)
    carried = post_forces(post_of(rig), force=lug_force(solution.pose, pull=solution.demand.tension) * perch_share(rig))
    fore = rows["perch post", "bending fore and aft"].demand
    for part in (carried.base_moment[..., 1], carried.joint_fore, carried.top_fore):
        assert np.all(fore >= np.abs(part) * (1.0 - 1e-9))
    lifted = np.maximum(-np.minimum(carried.upper_push, carried.lower_push), 0.0) / (46.0e3 * 1.89 / 3.0)
    axial = rows["perch post", "axial"].demand
    assert np.all(axial >= lifted * 0.99)


@pytest.mark.parametrize("offset", ["0 in", "2 in", "-2 in"])
def test_give_is_that_of_the_post_along_the_line(offset):
    rig = rig_of(POST, offset=offset)
    solution = solve(rig)
    at = solution.pose
    pull = np.array([-at.ux[0], -at.uy[0], -at.uz[0]])
    give = post_give(rig, at)
    assert give.shape == at.ux.shape
    assert give[0] == pytest.approx(lug_give(post_of(rig), pull=pull) * perch_share(rig) ** 2)
    assert np.all(post_give(rig_of(), at) == 0.0)


def test_what_is_not_described():
    bare = solve(rig_of())
    assert post_checks(bare) == []
    assert post_not_assessed(bare) == ["perch post", "perch post base weld"]
    load = post_loads(bare)
    assert (load.at, load.foot) == ("perch lug", None)
    assert np.all(load.moment == 0.0)
    no_weld = solve(rig_of(POST.replace('weld = "3/16 in"\n', "")))
    assert post_not_assessed(no_weld) == ["perch post base weld"]
    assert not any(row.part == "perch post base weld" for row in post_checks(no_weld))
    assert post_not_assessed(solve(rig_of(POST, BRACE))) == ["ends of the knee brace"]
    assert post_not_assessed(solve(rig_of(POST))) == []
    assert post_not_assessed(solve(rig_of(POST, shape="angle 3x3x1/4"))) == ["perch post base weld"]


def test_flags_of_a_thin_weld_and_a_thin_post():
    assert post_flags(solve(rig_of(POST))) == []
    thin = rig_of(POST.replace("3/16 in", "1/8 in"), shape="HSS3x3x5/16")
    assert [flag.code for flag in post_flags(solve(thin))] == ["weld_too_small"]
    assert [flag.code for flag in post_flags(solve(rig_of(POST, shape="tube 1x1x.083")))] == ["post_slender"]


@pytest.mark.parametrize("shape", ["pipe 2-1/2 std", "HSS3x2x1/4", "bar 3x1", "round 2", "round tube 2-1/2x.120"])
def test_every_family_of_shapes_gives_numbers(shape):
    _, rows = found(rig_of(POST, offset="1 in", shape=shape))
    for row in rows.values():
        assert np.all(np.isfinite(use(row))) and use(row).max() > 0.0, row.mode
