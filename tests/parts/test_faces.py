"""What lugs, braces and barrels stand on: the face of a tube by hand, and what is said where there is none."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from rigcheck.analysis.post_model import post_axis, post_of
from rigcheck.analysis.rows import Check
from rigcheck.analysis.solve import Solution, solve
from rigcheck.assessment.assess import Assessment, assess
from rigcheck.case.reading.read import read_case_text
from rigcheck.case.rig import Rig, varied
from rigcheck.loads.pieces import BOUNDS
from rigcheck.output.drawing.data import drawing_data
from rigcheck.parts.face.checks import face_checks, face_flags, faces_not_assessed
from rigcheck.parts.hinge.checks import hinge_checks
from rigcheck.parts.lug.checks import lug_pull
from rigcheck.wording.scale import Scale
from tests.parts.test_lugs import PERCH_LUG
from tests.parts.test_steel_details import RIG, row

CASES = Path(__file__).parents[2] / "cases"
POST = '[perch.post]\nshape = "{shape}"\nfree_length = "{free}"\nsteel = "A500B"\nweld = "1/4 in"\n'


def rig_of(
    shape: str = "HSS4x4x1/8",
    *,
    basis: str = "frame",
    free: str = "24 in",
    lug: str = "",
    post: str = "",
    rail: str = "",
    hinge: str = "",
) -> Rig:
    text = RIG.format(basis=basis, sheet="12 ga", barrel="2 in").replace("[hinge]", f"[hinge]\n{hinge}")
    text = text.replace("[rail]", f"[rail]\n{rail}")
    return Rig(read_case_text(text + PERCH_LUG + lug + POST.format(shape=shape, free=free) + post))


def use(check: Check, solution: Solution) -> np.ndarray:
    return np.broadcast_to(check.demand / check.capacity, solution.shape)


def said(rig: Rig) -> list[str]:
    return [str(one) for one in faces_not_assessed(solve(rig))]


def test_a_perch_lug_on_its_post_by_hand():
    """HSS4x4x1/8 closed by a cap, plate 1/2 x 5 x 1 1/4 in: K1-12 over 1.50, moments of the stand-off added."""
    solution = solve(rig_of(post="cap = true\n"))
    face = row(face_checks(solution), "perch lug face", "wall of the post bent")
    i, stiff = next(k for k, one in enumerate(solution.rows) if one.state == "packed"), BOUNDS.index("stiff")
    tension, pull = solution.demand.tension[i, stiff, 0], lug_pull(solution, end="perch")
    turned, aside, out = abs(pull.along[i]), pull.aside[i], abs(pull.out[i])
    # the post under the lug: pushed by u_z T and bent by the lug's arm, 2 + 1 1/4 in, fore and aft
    area, modulus = 1.77, 2.20  # AISC Manual Table 1-12, HSS4x4x1/8
    stress = tension * (turned / area + turned * 3.25 / modulus)
    factor = np.sqrt(1.0 - (stress * 1.67 / 46.0e3) ** 2)
    unit = 46.0e3 * 0.116**2 / 1.50
    push = unit / 0.875 * (2.0 * 5.0 / 4.0 + 4.0 * np.sqrt(0.875) * factor)
    across = unit * (0.5 * 5.0 * 1.125 / 0.875 + np.sqrt(2.0 * 4.0 * 0.5 * 1.125 / 0.875) * factor)
    expected = tension * (out / push + turned * 1.25 / (0.5 * 5.0 * push) + aside * 1.25 / across)
    assert use(face, solution)[i, stiff, 0] == pytest.approx(expected, rel=5e-3)


def highest(found: Assessment, part: str) -> float:
    return max(float(one.utilization) for one in found.worst if one.check.part == part)


def worst(rig: Rig, part: str) -> float:
    return highest(assess(rig), part)


def test_thin_posts_that_held_their_moment_are_over_at_their_face():
    """Short posts: tube 8x8x14ga and HSS4x4x1/8 with an open top both hold their bending, and dent at their lug."""
    thin = assess(rig_of("tube 8x8x14ga", basis="lifting", free="14 in"))
    assert bool(thin.over)
    assert highest(thin, "perch lug face") > 1.8 > 1.0 > highest(thin, "perch post")
    small = assess(rig_of("HSS4x4x1/8", basis="lifting", free="14 in"))
    assert highest(small, "perch lug face") > 1.0 > highest(small, "perch post")
    assert highest(small, "perch lug face") > highest(small, "perch post base weld")
    assert any(flag.code == "face_outside_clause" for flag in thin.flags)


def test_a_plate_through_the_post_a_cap_and_a_longer_post_each_help():
    plain = worst(rig_of(), "perch lug face")
    long = worst(rig_of(post='past_lug = "6 in"\n'), "perch lug face")
    capped = worst(rig_of(post="cap = true\n"), "perch lug face")
    through = worst(rig_of(lug="through = true\n"), "perch lug face")
    assert long == pytest.approx(capped)
    assert capped < 0.9 * plain
    assert through == pytest.approx(0.5 * plain)
    halfway = worst(rig_of(post='past_lug = "1 1/2 in"\n'), "perch lug face")
    assert capped < halfway < plain


def test_a_stouter_post_wall_and_a_longer_foot_never_raise_it():
    uses = [worst(rig_of(f"HSS4x4x{wall}"), "perch lug face") for wall in ("1/8", "3/16", "1/4", "3/8")]
    assert uses == sorted(uses, reverse=True)
    feet = solve(
        varied(rig_of(), {"perch.lug.foot": np.array([2.0, 3.0, 4.0]), "perch.lug.weld_length": np.array(4.0)})
    )
    face = row(face_checks(feet), "perch lug face", "wall of the post bent")
    most = np.broadcast_to(face.demand, feet.shape).max((-3, -2, -1))
    assert most[0] > most[1] > most[2]


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"shape": "L4x4x1/4"}, "face of the perch post under its lug (an angle's leg, no tube)"),
        ({"lug": 'turned = "40 deg"\n'}, "face of the perch post under its lug (the lug stands askew)"),
        ({"post": 'lug_offset = "3 in"\n'}, "face of the perch post under its lug (the lug is off the post)"),
    ],
)
def test_what_no_clause_speaks_about_is_named(changes, sentence):
    found = said(rig_of(**changes))
    assert sentence in found
    assert not any(one.part == "perch lug face" for one in face_checks(solve(rig_of(**changes))))


@pytest.mark.parametrize(("turned", "named"), [("14.9 deg", False), ("15.1 deg", True), ("75.1 deg", False)])
def test_a_lug_that_is_nearly_square_counts_as_square(turned, named):
    assert bool(said(rig_of(lug=f'turned = "{turned}"\n'))) is named


def test_a_lug_a_quarter_turn_round_stands_square_again():
    assert said(rig_of(lug='turned = "90 deg"\n')) == said(rig_of())


def test_a_round_post_may_be_turned_and_a_solid_one_has_no_face():
    assert said(rig_of("pipe 4 sch 40", lug='turned = "40 deg"\n')) == []
    assert row(face_checks(solve(rig_of("pipe 4 sch 40"))), "perch lug face", "wall of the post bent")
    assert said(rig_of("bar 3x3")) == []
    assert not [one for one in face_checks(solve(rig_of("bar 3x3"))) if one.part == "perch lug face"]


def test_a_knee_brace_presses_on_the_face_of_its_post():
    brace = (
        '[perch.post.brace]\nfoot_downstream = "-16 in"\nfoot_below = "24 in"\ntop_below = "8 in"\n'
        'shape = "{}"\nsteel = "A500B"\n'
    )
    braced = rig_of(post=brace.format("HSS2x2x1/8"))
    assert worst(braced, "knee brace face") > 0.0
    assert worst(braced, "knee brace face") > worst(
        rig_of("HSS4x4x1/4", post=brace.format("HSS2x2x1/8")), "knee brace face"
    )
    assert "an angle, no tube" in said(rig_of(post=brace.format("L2x2x1/4")))[0]


def test_the_barrel_on_the_member_at_the_hinge_by_hand():
    """HSS2x1x1/8 across, barrel 2 in, 1 in pin, 1/2 in wall, welds 1/4 in: foot 2 x 1/2 in on a face 2 in high."""
    solution = solve(rig_of(hinge='barrel_on = "nose"\n'))
    face = row(hinge_checks(solution), "hinge barrel face", "wall of the tube under it bent")
    assert face.unit == "number" and np.all(np.isfinite(face.demand))
    worse = row(hinge_checks(solve(rig_of())), "hinge barrel face", "wall of the tube under it bent, whichever face")
    assert np.all(worse.demand >= face.demand * (1.0 - 1e-9))
    unit = 46.0e3 * 0.116**2 / 1.50
    most = unit / 0.75 * (2.0 + 4.0 * np.sqrt(0.75))  # no stress of its own
    square = np.abs(solution.demand.hinge[..., 0]).max() * 0.9
    assert face.demand.max() > square / most


def test_the_end_thrust_turns_the_barrel_along_the_tube():
    """As above, 1,000 lb along the pin alone: arm 1/2 + 1/2 in on a foot 2 in long, which holds half a length of pull.

    The tube's own stress leaves a little less than all of its face.
    """
    plain = solve(rig_of(hinge='barrel_on = "nose"\n'), only=frozenset({"empty"}))
    thrust = np.broadcast_to([0.0, 1000.0, 0.0], plain.demand.hinge.shape)
    solution = replace(plain, demand=replace(plain.demand, hinge=thrust))
    face = row(hinge_checks(solution), "hinge barrel face", "wall of the tube under it bent")
    most = 46.0e3 * 0.116**2 / 1.50 / 0.75 * (2.0 + 4.0 * np.sqrt(0.75))
    expected = 1000.0 * (0.5 + 0.5) / (0.5 * 2.0 * most)
    assert expected <= face.demand.min() and face.demand.max() < 1.25 * expected


@pytest.mark.parametrize(("shape", "tube"), [("L4x4x1/4", "HSS2x2x1/8"), ("HSS4x4x1/4", "L2x2x1/4")])
def test_an_angle_under_a_brace_or_for_one_is_not_assessed(shape, tube):
    """Post or brace: where either is an angle no clause speaks about the face between them."""
    brace = (
        f'[perch.post.brace]\nfoot_downstream = "-12 in"\nfoot_below = "20 in"\ntop_below = "8 in"\nshape = "{tube}"\n'
    )
    assert any("knee brace (an angle" in one for one in said(rig_of(shape, post=brace)))
    assert not any(
        "knee brace (an angle" in one for one in said(rig_of("HSS4x4x1/4", post=brace.replace(tube, "HSS2x2x1/8")))
    )


def test_barrels_on_the_leg_of_an_angle_are_not_assessed():
    """No clause speaks about an angle's leg under a barrel; a tube there is checked."""
    text = (CASES / "larkspur-bar.toml").read_text(encoding="utf-8")
    assert 'shape = "HSS3x3x1/4"' in text
    for shape, named in (("HSS3x3x1/4", False), ("angle 3x3x1/4", True)):
        rig = Rig(read_case_text(text.replace('shape = "HSS3x3x1/4"', f'shape = "{shape}"')))
        assert ("hinge.barrel.face" in {one.id for one in faces_not_assessed(solve(rig))}) is named


def test_what_stands_on_bare_sheet_is_said():
    codes = {flag.code for flag in face_flags(solve(rig_of(rail='at = "bottom"')))}
    assert "lug_on_bare_sheet" in codes
    assert "lug_on_bare_sheet" not in {flag.code for flag in face_flags(solve(rig_of()))}


def test_the_post_stands_where_its_lug_says():
    """Hole 6 in upstream of the hinge, stand-off 1 1/4 in, post 4 in: axis at 9 1/4 in, drawn and struck there."""
    rig = rig_of()
    assert float(post_axis(rig)) == pytest.approx(-6.0 - 1.25 - 2.0)
    drawn = drawing_data(assess(rig), scale=Scale("us"))
    assert drawn["perch"]["downstream"] == pytest.approx(-6.0)
    assert drawn["post"]["axis"] == pytest.approx(-9.25)
    reach = float(post_of(rig).reach)  # the arm with which the lug bends its post
    assert drawn["perch"]["downstream"] - drawn["post"]["axis"] == pytest.approx(reach)
