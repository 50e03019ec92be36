"""Eyelets of the tie-downs: each mode by hand, what is not described, and which way stronger goes."""

import tomllib
from pathlib import Path

import numpy as np
import pytest

from rigcheck.assessment.assess import Assessment, assess
from rigcheck.case import check_case, read_case
from rigcheck.case.reading.read import read_case_text
from rigcheck.case.rig import Rig, varied

ROOT = Path(__file__).parents[2]
CASE = ROOT / "cases" / "larkspur-bar.toml"
EYELET = "eyelet of tie-down 1"


def found(**changes: float) -> Assessment:
    rig = Rig(read_case(CASE))
    return assess(varied(rig, {f"haul.tie_down.0.eyelet.{key}": value for key, value in changes.items()}))


def use(answer: Assessment, mode: str) -> float:
    return float(next(w.utilization for w in answer.worst if w.check.part == EYELET and w.check.mode == mode))


def pull(answer: Assessment) -> float:
    """Hardest pull of the first strap over the working rows."""
    return float(next(w.demand for w in answer.worst if w.check.mode == "working load limit"
                      and w.check.part.startswith("tie-down 1")))  # fmt: skip


def test_bearing_by_hand():
    """1.25 Fy/Nd times pin times plate: 1.25 x 36000 / 3 x 5/8 x 3/8 (ASME BTH-1 Eq. 3-53, from memory)."""
    answer = found()
    expected = pull(answer) / (1.25 * 36000.0 / 3.0 * 0.625 * 0.375)
    assert use(answer, "bearing on what goes through it") == pytest.approx(expected, rel=1e-12)


def test_the_plate_round_the_hole_by_hand():
    """Pin 5/8 in in a hole of 13/16, plate 3/8, counted 2 in wide, 1 in to the edge (ASME BTH-1 3-45 to 3-50, memory).

    C_r = 1 - 0.275 sqrt(1 - (10/13)^2) = 0.8243; b_e = (2 - 13/16) / 2 = 0.59375 in, its limits above it;
    F_u / (1.20 x 3) = 16,111 psi.
    """
    answer, clear, stress = found(), 0.59375, 58.0e3 / 3.6
    fit = 1.0 - 0.275 * np.sqrt(1.0 - (10.0 / 13.0) ** 2)
    tension = fit * stress * 2.0 * 0.375 * clear
    splitting = fit * stress * 0.375 * (1.13 * clear + 0.92 * clear / (1.0 + clear / 0.8125))
    plane = clear + 0.3125 * (1.0 - np.cos(np.radians(55.0 * 10.0 / 13.0)))
    allowed = {
        "tension beside the hole": tension,
        "single-plane fracture beyond the hole": splitting,
        "double-plane shear beyond the hole": 0.70 * stress * 2.0 * plane * 0.375,
    }
    for mode, by_hand in allowed.items():
        assert use(answer, mode) == pytest.approx(pull(answer) / by_hand, rel=1e-9), mode


def test_root_bends_over_the_edge_distance():
    """M = T x 1 in on a plate 3/8 by 2 1/2 in: at most 1.25 Fy S / 3 (ASME BTH-1 3-2.3, from memory)."""
    answer = found()
    modulus = 0.375 * 2.5**2 / 6.0
    assert use(answer, "bending at its root") >= pull(answer) * 1.0 / (1.25 * 36000.0 * modulus / 3.0) * (1.0 - 1e-9)
    assert use(found(stand_off=2.0), "bending at its root") > 1.9 * use(answer, "bending at its root")


MODES = ("tension beside the hole", "single-plane fracture beyond the hole", "double-plane shear beyond the hole")


@pytest.mark.parametrize("mode", MODES)
def test_a_thicker_plate_is_used_less(mode):
    assert use(found(plate=0.5), mode) < use(found(), mode)


@pytest.mark.parametrize("mode", MODES[1:])
def test_a_hole_nearer_the_side_than_the_edge_tears_out_there(mode):
    """A plate of 1.6 in: 0.8 in to the side, however far the edge beyond the hole is."""
    far, near = (use(found(width=1.6, edge=edge, stand_off=1.0), mode) for edge in (1.2, 0.8))
    assert far == pytest.approx(near, rel=1e-12)
    assert use(found(width=1.6, edge=0.7, stand_off=1.0), mode) > near


def test_a_plate_wider_than_twice_its_edge_counts_as_no_wider():
    wide, narrow = (use(found(width=width, stand_off=1.0), "tension beside the hole") for width in (4.0, 2.0))
    assert wide == pytest.approx(narrow, rel=1e-12)


def test_weld_takes_force_and_couple():
    """Two runs 2 1/2 in long, pulled along them 1 in above: sqrt((T/L)^2 + (6 T a / (2 d^2))^2)."""
    answer = found()
    weld = next(w for w in answer.worst if w.check.part == EYELET and w.check.mode == "weld, force per inch")
    shear, couple = pull(answer) / 5.0, 3.0 * pull(answer) * 1.0 / 2.5**2
    assert float(weld.demand) == pytest.approx((shear**2 + couple**2) ** 0.5, rel=1e-9)


def test_eyelets_that_are_not_described_are_told():
    """Tollgate Riffle with bare straps."""
    case = tomllib.loads((ROOT / "cases" / "tollgate-riffle.toml").read_text(encoding="utf-8"))
    for strap in case["haul"]["tie_down"]:
        del strap["eyelet"]
    answer = assess(Rig(check_case(case)))
    assert "eyelet of tie-down 1" in answer.not_assessed
    assert not [w for w in answer.worst if w.check.part.startswith("eyelet")]


def standing_on(what: str, *, without: str = "", **stiffener: str) -> Assessment:
    """The first strap's eyelet on something, those of the others on the bare side; the stiffener maybe another one."""
    text = CASE.read_text(encoding="utf-8")
    for name, other in stiffener.items():
        known = f'stiffener = "{name.replace("_", "/")}"'
        assert known in text
        text = text.replace(known, f'stiffener = "{other}"')
    for known in ("stiffener", "cross-member"):
        text = text.replace(f'eyelet_on = "{known}"\n', "")
    text = text.replace("[[haul.tie_down]]", f'[[haul.tie_down]]\neyelet_on = "{what}"', 1)
    for line in text.splitlines():
        if without and line.startswith(without):
            text = text.replace(line + "\n", "")
    return assess(Rig(read_case_text(text)))


def test_an_eyelet_on_a_tube_bends_its_wall():
    """HSS2x2x1/4, 0.233 in, plate 3/8 x 2 1/2 in: no fan, 2 l/B / (1 - b/B) on a face of 2 in, over 3.

    A500C yields at 50 ksi and breaks at 62; no more than 0.8 F_u counts under a plate (AISC 360 chapter K, memory).
    """
    answer = standing_on("stiffener")
    pulled = 0.8 * 62.0e3 * 0.233**2 / 3.0 * 2.0 * (2.5 / 2.0) / (1.0 - 0.375 / 2.0)
    bent = 0.5 * 2.5 * pulled
    expected = pull(answer) * np.hypot(1.0 / pulled, 1.0 / bent)
    assert use(answer, "wall of the tube under it bent") == pytest.approx(expected, rel=1e-9)
    assert "eyelet_on_bare_sheet" in {flag.code for flag in answer.flags}  # the others still do
    bare = standing_on("side wall")
    assert not any("tube under it bent" in w.check.mode for w in bare.worst if w.check.part == EYELET)


def test_the_wider_wall_of_a_flat_tube_counts_under_an_eyelet():
    """HSS3x2x1/4, and nobody says on which wall it stands: as above on a face of 3 in."""
    answer = standing_on("stiffener", HSS2x2x1_4="HSS3x2x1/4")
    pulled = 0.8 * 62.0e3 * 0.233**2 / 3.0 * 2.0 * (2.5 / 3.0) / (1.0 - 0.375 / 3.0)
    expected = pull(answer) * np.hypot(1.0 / pulled, 1.0 / (0.5 * 2.5 * pulled))
    assert use(answer, "wall of the tube under it bent") == pytest.approx(expected, rel=1e-9)


def test_an_eyelet_on_the_leg_of_an_angle_is_not_assessed():
    """No clause speaks about an angle's leg: it is told, and no row of a face is made."""
    answer = standing_on("stiffener", HSS2x2x1_4="angle 2x2x1/4")
    assert "stiffener under the eyelet of tie-down 1 (an angle's leg, no tube)" in answer.not_assessed
    assert not any("wall of the tube" in one.check.mode for one in answer.worst if one.check.part == EYELET)
    assert not any("eyelet of tie-down 1 (an angle" in str(one) for one in standing_on("stiffener").not_assessed)


def test_an_eyelet_on_what_is_not_there_is_told():
    missing = standing_on("stiffener", without='stiffener = "').not_assessed
    assert "stiffener under the eyelet of tie-down 1 (not described)" in missing


def altered(old: str, new: str, *, which: int) -> Assessment:
    """The case with a line of the eyelet of one tie-down changed."""
    head, *straps = CASE.read_text(encoding="utf-8").split("[[haul.tie_down]]")
    assert old in straps[which - 1]
    straps[which - 1] = straps[which - 1].replace(old, new, 1)
    return assess(Rig(read_case_text("[[haul.tie_down]]".join([head, *straps]))))


def test_pin_and_weld_of_an_eyelet_that_nobody_knows_are_told_by_their_number():
    pin, weld = 'pin = "5/8 in"', 'weld = "3/16 in"'
    assert "eyelet of tie-down 2 (what goes through it is not known)" in altered(pin, "", which=2).not_assessed
    assert "weld of the eyelet of tie-down 2" in altered(weld, "", which=2).not_assessed


def test_a_plate_slotted_through_its_tube_bends_two_walls():
    """AISC 360-22 K1 (memory): a through plate has twice the face strength of one on a single face."""
    one = found()
    two = altered("[haul.tie_down.eyelet]", "[haul.tie_down.eyelet]\nthrough = true", which=1)
    mode = "wall of the tube under it bent"
    assert use(two, mode) == pytest.approx(0.5 * use(one, mode), rel=1e-9)


def test_the_side_wall_behind_the_weld_shears_on_one_face():
    """A wall of 12 ga in 50 ksi beside each run: 50,000 x 0.1046 / (3 sqrt 3); the weld metal holds more."""
    bare = standing_on("side wall").worst
    weld = next(w for w in bare if w.check.part == EYELET and w.check.mode == "weld, force per inch")
    assert float(weld.capacity) == pytest.approx(50.0e3 * 0.1046 / (3.0 * np.sqrt(3.0)), rel=1e-9)


def test_both_runs_share_the_plate_between_them():
    """A plate of 1/8 in, half of it beside each run: 36,000 x 1/16 / (3 sqrt 3), under what the side wall stands."""
    thin = found(plate=0.125).worst
    weld = next(w for w in thin if w.check.part == EYELET and w.check.mode == "weld, force per inch")
    assert float(weld.capacity) == pytest.approx(36.0e3 * 0.0625 / (3.0 * np.sqrt(3.0)), rel=1e-9)
