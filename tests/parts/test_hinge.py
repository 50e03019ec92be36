"""The hinge by hand: how its barrels share, pin, barrel, one group left alone; more metal never reads worse."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigcheck.analysis.solve import Solution, solve
from rigcheck.arrays.guarded import divide
from rigcheck.case.reading.read import read_case_text
from rigcheck.case.rig import Rig, varied
from rigcheck.loads.pieces import BOUNDS
from rigcheck.parts.face.checks import face_flags
from rigcheck.parts.hinge.checks import hinge_checks, hinge_not_assessed, knuckle
from rigcheck.tables import steel
from tests.parts.test_steel_details import RIG, row

WALL = "net section and tear-out of the barrel wall"
TEXT = RIG.format(basis="frame", sheet="12 ga", barrel="2 in")
LIFTING = RIG.format(basis="lifting", sheet="12 ga", barrel="2 in")


def hinge_rig(text: str = TEXT, **keys: str) -> Rig:
    """The trial rig with other keys in its hinge."""
    for key, value in keys.items():
        lines = [line for line in text.splitlines() if not line.startswith(f"{key} = ") or "weld" in line]
        text = "\n".join(lines).replace("[hinge]", f"[hinge]\n{key} = {value}")
    return Rig(read_case_text(text))


def without(*keys: str) -> Rig:
    """The trial rig without these keys of its hinge."""
    head, tail = TEXT.split("[hinge]")
    own, rest = tail.split("[hanger]", 1)
    kept = [line for line in own.splitlines() if line.split(" = ")[0] not in keys]
    return Rig(read_case_text(head + "[hinge]" + "\n".join(kept) + "\n[hanger]" + rest))


@pytest.mark.parametrize(
    ("barrels", "aligned", "carrying", "planes"),
    [(2, "false", 1, 1), (3, "false", 1, 2), (5, "false", 1, 2), (6, "false", 1, 1),
     (2, "true", 1, 1), (3, "true", 1, 2), (4, "true", 2, 1), (5, "true", 2, 2), (6, "true", 3, 1), (7, "true", 3, 2)],
)  # fmt: skip
def test_one_box_barrel_carries_unless_they_are_bored_in_line(barrels, aligned, carrying, planes):
    """Plant and box by turns: of an odd number the plant has both ends, of an even one a box barrel is held once."""
    shape = knuckle(hinge_rig(barrels=str(barrels), aligned=aligned))
    assert (shape.carrying, shape.planes) == (carrying, planes)


@pytest.mark.parametrize("count", [3, 4, 5, 6, 7])
def test_alignment_that_is_not_known_never_reads_better(count):
    known, unknown = (solve(hinge_rig(barrels=str(count), aligned=word)) for word in ("true", "false"))
    for one, other in zip(hinge_checks(known), hinge_checks(unknown), strict=True):
        assert (one.part, one.mode) == (other.part, other.mode)
        assert np.all(one.demand <= other.demand + 1e-9)


def test_pin_between_two_barrels_by_hand():
    """Barrels 2 in, gaps 1/8 in: half the force over 1 + 1/8 + 1/2 in; 1.6 Fy S/1.67 of a 1 in pin (F11, memory)."""
    solution = solve(hinge_rig(gap='"1/8 in"', pin_steel='"A36"'))
    force = np.hypot(solution.demand.hinge[..., 0], solution.demand.hinge[..., 2])
    bent = row(hinge_checks(solution), "hinge pin", "bending")
    np.testing.assert_allclose(bent.demand, force / 2.0 * 1.625, rtol=1e-12)
    assert float(np.max(bent.capacity)) == pytest.approx(1.6 * 36000.0 * np.pi / 32.0 / 1.67, rel=1e-6)
    cut = row(hinge_checks(solution), "hinge pin", "shear")
    np.testing.assert_allclose(cut.demand, force / 2.0, rtol=1e-12)
    assert float(np.max(cut.capacity)) == pytest.approx(0.6 * 36000.0 / 1.67 * np.pi / 4.0, rel=1e-6)


def test_pin_held_on_one_side_by_hand():
    """Two barrels of 2 in, 1/8 in apart, are a single lap: the force times half of their distance, one plane."""
    solution = solve(hinge_rig(LIFTING, barrels="2", gap='"1/8 in"', pin_steel='"A36"'))
    force = np.hypot(solution.demand.hinge[..., 0], solution.demand.hinge[..., 2])
    bent, cut = (row(hinge_checks(solution), "hinge pin", mode) for mode in ("bending", "shear"))
    np.testing.assert_allclose(bent.demand, force * 2.125 / 2.0, rtol=1e-12)
    np.testing.assert_allclose(cut.demand, force, rtol=1e-12)
    # lifting basis: 1.25 Fy S/3 and Fy/(3 root 3) (BTH-1, memory)
    assert float(np.max(bent.capacity)) == pytest.approx(1.25 * 36000.0 * np.pi / 32.0 / 3.0, rel=1e-6)
    assert float(np.max(cut.capacity)) == pytest.approx(36000.0 / (3.0 * np.sqrt(3.0)) * np.pi / 4.0, rel=1e-6)


def test_roll_of_a_stiff_box_comes_to_the_pin():
    """A lopsided box without twist: the couple over the spacing of the groups, up on one side, down on the other."""
    solution = solve(Rig(read_case_text(TEXT)))
    i = next(k for k, one in enumerate(solution.rows) if one.state == "lopsided")
    stiff = BOUNDS.index("stiff")
    lift = solution.held.hinge[i, stiff, :, 2]
    couple = solution.held.roll[i, stiff]
    assert abs(couple) > 1000.0
    assert lift[0] - lift[1] == pytest.approx(2.0 * couple / 24.0)
    # lines alike, splayed alike, have no moment about x: the hinge has all of that of the loads
    moment = solution.service.moment[i, 0]
    assert couple == pytest.approx(-moment, rel=1e-9)


def test_one_group_left_alone_has_the_sum_of_both():
    solution = solve(hinge_rig())
    alone = next(one for one in hinge_checks(solution) if one.mode == "shear (strength), other hinge group lost")
    both = solution.held.hinge.sum(-2)
    np.testing.assert_allclose(alone.demand[..., 0], np.hypot(both[..., 0], both[..., 2]) / 2.0, rtol=1e-12)
    assert alone.ultimate
    where = np.broadcast_to(alone.where, solution.shape)
    states = {one.state for one, on in zip(solution.rows, where[:, 0, 0], strict=True) if on}
    assert states == {"empty", "running"}


def test_what_is_not_described():
    bare = solve(without("barrels", "barrel_length", "pin"))
    assert hinge_not_assessed(bare) == ["hinge pin", "hinge barrel", "hinge barrel weld"]
    assert not hinge_checks(bare)
    found = hinge_not_assessed(solve(without("barrel_wall", "weld")))
    assert found == ["hinge barrel", "hinge barrel weld", "retention of the hinge pin"]
    parts = {one.part for one in hinge_checks(solve(without("barrel_wall", "weld")))}
    assert parts == {"hinge pin", "hinge barrel face"}
    assert hinge_not_assessed(solve(hinge_rig(pin_retained="true"))) == []


COUNT = 40
MORE = {
    "pin": ("hinge pin",),
    "barrel_wall": ("hinge barrel",),
    "weld": ("hinge barrel weld",),
    "weld_length": ("hinge barrel weld",),
    "barrel_length": ("hinge barrel",),
}


@pytest.fixture(scope="module", params=[TEXT, LIFTING], ids=["frame", "lifting"])
def box(request) -> Solution:
    """The statics, which do not depend on the sizes of the hinge."""
    return solve(Rig(read_case_text(request.param)))


@pytest.mark.parametrize("key", MORE)
@settings(max_examples=5, deadline=None)
@given(seed=st.integers(0, 2**31))
def test_more_metal_never_raises_the_use(box, key, seed):
    """Stouter pin, thicker or longer barrel, stouter or longer weld; a longer barrel bends its pin more."""
    draw = np.random.default_rng(seed)
    before = {
        "pin": draw.uniform(0.4, 2.0, COUNT), "barrel_wall": draw.uniform(0.08, 0.8, COUNT),
        "weld": draw.uniform(0.06, 0.5, COUNT), "weld_length": draw.uniform(0.5, 8.0, COUNT),
        "barrel_length": draw.uniform(0.5, 4.0, COUNT),
    }  # fmt: skip
    after = before | {key: before[key] * draw.uniform(1.0, 2.0, COUNT)}
    thin, stout = (
        hinge_checks(replace(box, rig=varied(box.rig, {f"hinge.{k}": v for k, v in sizes.items()})))
        for sizes in (before, after)
    )
    seen = 0
    for one, other in zip(thin, stout, strict=True):
        if one.part in MORE[key]:
            was, now = divide(one.demand, one.capacity), divide(other.demand, other.capacity)
            assert np.all(now <= was * (1.0 + 1e-9) + 1e-12), one.mode
            seen += bool(np.any(now < 0.999 * was))
    assert seen


def test_a_grade_that_is_not_known_is_the_weakest_listed():
    weakest = min(steel.grade(name).fy for name in steel.names())
    solution = solve(hinge_rig())
    cut = row(hinge_checks(solution), "hinge pin", "shear")
    assert float(np.max(cut.capacity)) <= 0.6 * weakest / 1.67 * np.pi / 4.0 * (1.0 + 1e-9)


def test_stronger_steel_never_raises_the_use():
    for key, grades in (("pin_steel", ("unknown", "A572-50")), ("barrel_steel", ("unknown", "A572-50"))):
        weak, strong = (solve(hinge_rig(**{key: f'"{grade}"'})) for grade in grades)
        for one, other in zip(hinge_checks(weak), hinge_checks(strong), strict=True):
            assert np.all(divide(other.demand, other.capacity) <= divide(one.demand, one.capacity) + 1e-12), one.mode


def test_ears_of_the_plant_of_another_size_by_hand():
    """Plant ears 1 in long of 1/4 in wall, box barrel 2 in: half the force each, the pin over 1/2 + 1/8 + 1/2 in."""
    sizes = {"plant_barrel_length": '"1 in"', "plant_barrel_wall": '"1/4 in"'}
    solution = solve(hinge_rig(gap='"1/8 in"', **sizes))
    rows = hinge_checks(solution)
    force = np.hypot(solution.demand.hinge[..., 0], solution.demand.hinge[..., 2])
    np.testing.assert_allclose(row(rows, "hinge pin", "bending").demand, force / 2.0 * 1.125, rtol=1e-12)
    bearing, own = (row(rows, part, "bearing on the pin") for part in ("plant hinge barrel", "hinge barrel"))
    np.testing.assert_allclose(bearing.demand, force / 2.0, rtol=1e-12)
    assert float(np.max(bearing.capacity)) == pytest.approx(1.8 * 36000.0 * 1.0 * 1.0 / 2.0)
    assert float(np.max(own.capacity)) == pytest.approx(1.8 * 36000.0 * 1.0 * 2.0 / 2.0)
    torn, stout = (row(rows, part, WALL) for part in ("plant hinge barrel", "hinge barrel"))
    assert float(np.max(torn.capacity)) < float(np.max(stout.capacity))
    weld = row(rows, "plant hinge barrel weld", "force per inch")
    # 4 in of weld said, an ear of 1 in has 2 in of it; 1.618 of the force an inch at worst
    still = np.abs(solution.demand.hinge[..., 1]) == 0.0
    assert still.any()
    assert weld.demand[still] == pytest.approx(0.5 * (1.0 + np.sqrt(5.0)) * force[still] / 2.0 / 2.0)


def test_half_of_the_pin_and_the_wall_are_the_barrels_arm_over_what_it_stands_on():
    """A pin 1.2 in thick in a wall of 1/2 in and one of 1 in in 0.6 in of wall: the middle 1.1 in over both faces."""
    solution = solve(hinge_rig())
    sizes = {"hinge.pin": np.array([1.0, 1.2, 1.0]), "hinge.barrel_wall": np.array([0.5, 0.5, 0.6])}
    rows = hinge_checks(replace(solution, rig=varied(solution.rig, sizes)))
    for part, mode in (("hinge barrel face", "wall of the tube"), ("hinge barrel weld", "force per inch")):
        low, one, other = row(rows, part, mode).demand
        np.testing.assert_allclose(one, other, rtol=1e-12)
        assert np.all(one >= low) and np.any(one > 1.01 * low), part


def test_a_weld_longer_than_an_ear_is_told_and_cut():
    short, long = (solve(hinge_rig(plant_barrel_length=f'"{ear} in"')) for ear in (1, 2))
    assert "weld_longer_than_ear" in {flag.code for flag in face_flags(short)}
    assert "weld_longer_than_ear" not in {flag.code for flag in face_flags(long)}


def test_ears_alike_add_no_rows_and_thin_ears_decide():
    parts = {one.part for one in hinge_checks(solve(hinge_rig()))}
    assert "plant hinge barrel" not in parts
    thin = hinge_checks(solve(hinge_rig(plant_barrel_wall='"1/16 in"')))
    torn, own = (row(thin, part, WALL) for part in ("plant hinge barrel", "hinge barrel"))
    assert float(np.max(torn.demand / torn.capacity)) > float(np.max(own.demand / own.capacity))
