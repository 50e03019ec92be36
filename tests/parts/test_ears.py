"""A hinge of ears: pin, plates, roots and welds by hand from forces that are put on it, and what is not described."""

from pathlib import Path

import numpy as np
import pytest

from rigcheck.analysis.solve import solve
from rigcheck.assessment.assess import assess
from rigcheck.case import CaseError
from rigcheck.case.reading.read import read_case_text
from rigcheck.case.rig import Rig, varied
from rigcheck.parts.hinge.ears import ear_checks
from rigcheck.strength.bases import BASES

CASES = Path(__file__).parents[2] / "cases"
BARRELS = (CASES / "larkspur-bar.toml").read_text(encoding="utf-8")
HINGE = """\
[hinge]
kind = "ears"
height = "-1 1/2 in"
spacing = "27 1/2 in"
gap = "1/16 in"
pin = "1 in"
pin_steel = "1018 cold drawn"
barrel_on = "nose"
shear = "double"
pin_retained = true
above_ground = "34 in"

[hinge.ear]
plate = "5/8 in"
hole = "1 1/16 in"
edge = "1 3/4 in"
width = "3 1/2 in"
stand_off = "1 3/4 in"
weld = "5/16 in"
weld_length = "3 in"
steel = "A36"

[hinge.plant_ear]
plate = "3/8 in"
hole = "1 1/16 in"
edge = "1 3/4 in"
width = "3 1/2 in"
foot = "5 in"
stand_off = "2 in"
weld = "1/4 in"
weld_length = "5 in"
steel = "A36"

"""
EARS = BARRELS[: BARRELS.index("[hinge]")] + HINGE + BARRELS[BARRELS.index("[hanger]") :]


def changed(*pairs):
    text = EARS
    for old, new in pairs:
        assert old in text
        text = text.replace(old, new)
    return Rig(read_case_text(text))


@pytest.fixture(scope="module")
def found():
    return assess(changed())


def rows_under(rig, *, x=0.0, y=0.0, z=0.0):
    """Demand and capacity of each row under one force on each side, on the lifting basis, in the first row."""
    solution = solve(rig, only=frozenset({"empty"}))
    hinge = np.broadcast_to([x, y, z], (*solution.shape, 3))
    checks = ear_checks(solution, hinge, stress=np.zeros(()), basis=BASES["lifting"])

    def first(values):
        return float(np.broadcast_to(values, solution.shape)[0, 0, 0])

    return {(one.part, one.mode): (first(one.demand), first(one.capacity)) for one in checks}


def test_a_pin_in_double_shear():
    """1,600 lb: half of it a quarter of 5/8, a gap of 1/16 and half of 3/8 from the middle of the box's ear."""
    rows = rows_under(changed(), x=1600.0)
    assert rows["hinge ear pin", "bending across the gaps"][0] == pytest.approx(800 * (5 / 32 + 1 / 16 + 3 / 16))
    assert rows["hinge ear pin", "shear"][0] == pytest.approx(800)
    # 1018 cold drawn, 54 ksi: 1.25 Fy S / 3, S = pi/32
    assert rows["hinge ear pin", "bending across the gaps"][1] == pytest.approx(1.25 * 54_000 * np.pi / 32 / 3)


def test_a_pin_in_single_shear_takes_the_whole_couple_of_the_lap():
    rows = rows_under(changed(('shear = "double"', 'shear = "single"')), z=1600.0)
    assert rows["hinge ear pin", "bending across the gaps"][0] == pytest.approx(1600 * (0.5 * (5 / 8 + 3 / 8) + 1 / 16))
    assert rows["hinge ear pin", "shear"][0] == pytest.approx(1600)


def test_plates_at_the_hole():
    """Bearing 1.25 Fy d t / 3; the plant's ears share in double shear."""
    rows = rows_under(changed(), x=-900.0, z=1200.0)
    assert rows["hinge ear", "bearing on the pin"] == (
        pytest.approx(1500),
        pytest.approx(1.25 * 36_000 * 1.0 * 5 / 8 / 3),
    )
    plant = rows["plant hinge ear", "bearing on the pin"]
    assert plant == (pytest.approx(750), pytest.approx(1.25 * 36_000 * 1.0 * 3 / 8 / 3))


def test_the_root_of_the_plant_ear():
    """In plant axes: 1,000 lb out, 600 up with 2 in, 200 aside with 2 in; half of the first two on each of two ears.

    Root 5 x 3/8: flat 1.25 Fy S / 3 with S = 5 (3/8)^2/6; pull Fy A / 3. Upright L d/t^2 = 71 is past 0.08 E/Fy = 64
    (AISC F11.2), where the lifting basis allows 1.10 Fy S / 3 (ASME BTH-1 3-2.3, memory).
    """
    rows = rows_under(changed(), x=1000.0, y=200.0, z=600.0)
    flat = 1.25 * 36_000 * 5 * (3 / 8) ** 2 / 6 / 3
    upright = 1.10 * 36_000 * (3 / 8) * 5**2 / 6 / 3
    pull = 36_000 * 5 * 3 / 8 / 3
    use = 200 * 2 / flat + 300 * 2 / upright + 500 / pull
    assert rows["plant hinge ear", "bending both ways with tension at the weld root"][0] == pytest.approx(use, rel=1e-3)


def test_the_lap_bends_the_ears_of_a_single_shear():
    """A force without thrust: flat bending is F times the lap alone, on the box's and on the plant's ear."""
    one = rows_under(changed(('shear = "double"', 'shear = "single"')), x=1000.0)
    flat = 1.25 * 36_000 * 5 * (3 / 8) ** 2 / 6 / 3
    pull = 36_000 * 5 * 3 / 8 / 3
    use = 1000 * (0.5 + 1 / 16) / flat + 1000 / pull
    assert one["plant hinge ear", "bending both ways with tension at the weld root"][0] == pytest.approx(use, rel=1e-3)


def test_the_weld_of_the_plant_ear():
    """Two lines of 5 in: out 500/10; 300 up with 2 in: M y / Ix = 600 x 2.5 / (5^3/6); 300/10 along; no thrust."""
    rows = rows_under(changed(), x=1000.0, z=600.0)
    square = 500 / 10 + 600 * 2.5 / (5**3 / 6)
    assert rows["plant hinge ear weld", "force per inch"][0] == pytest.approx(np.hypot(square, 300 / 10))


def test_the_lap_twists_the_weld_of_a_single_shear():
    """600 lb up on the plant's ear, 9/16 in beside the box's: a moment in the weld's plane, Ip = d (3 b^2 + d^2)/6."""
    rows = rows_under(changed(('shear = "double"', 'shear = "single"')), z=600.0)
    polar = 5 * (3 * (3 / 8) ** 2 + 5**2) / 6
    across, up = 600 * 9 / 16 * 2.5 / polar, 600 / 10 + 600 * 9 / 16 * (3 / 16) / polar
    square = 600 * 2 * 2.5 / (5**3 / 6)
    worst = rows["plant hinge ear weld", "force per inch"][0]
    assert worst == pytest.approx(np.sqrt(across**2 + up**2 + square**2))


def test_the_worst_corner_of_the_weld_whichever_way_the_lap_turns_it():
    """100 lb of thrust with 2 in, 600 lb up with 2 in and the lap of 9/16 in: all corners of two runs, both ways."""
    rows = rows_under(changed(('shear = "double"', 'shear = "single"')), y=100.0, z=600.0)
    half, end, area = 3 / 16, 2.5, 2 * 5.0
    upright, flat = 2 * 5.0**3 / 12, area * half**2
    corners = []
    for x in (half, -half):
        for y in (end, -end):
            for turn in (600 * 9 / 16, -600 * 9 / 16):
                aside, up = 100 / area - turn * y / (upright + flat), 600 / area + turn * x / (upright + flat)
                corners.append(np.sqrt(aside**2 + up**2 + (600 * 2 * y / upright + 100 * 2 * x / flat) ** 2))
    assert rows["plant hinge ear weld", "force per inch"][0] == pytest.approx(max(corners))


@pytest.mark.parametrize("shape", ["HSS3x3x1/4", "HSS4x3x1/4", "HSS3x2x1/4"])
def test_the_worst_face_where_it_is_not_said(shape):
    """Not knowing which face the ear stands on is never better than any of them."""
    tube = ('shape = "HSS3x3x1/4"', f'shape = "{shape}"')
    faces = [rows_under(changed(tube, ('barrel_on = "nose"', f'barrel_on = "{on}"')), x=900.0, z=500.0) for on in
             ("nose", "top", "under")]  # fmt: skip
    unsaid = rows_under(changed(tube, ('barrel_on = "nose"\n', "")), x=900.0, z=500.0)
    for part in (("hinge ear", "bending both ways with tension at the weld root"), ("hinge ear weld", "force per inch"),
                 ("hinge ear face", "wall of the tube under it bent")):  # fmt: skip
        assert unsaid[part][0] >= max(one[part][0] for one in faces) - 1e-9


def test_a_wider_face_is_weaker_where_it_is_not_said():
    """Nobody says on which face of HSS4x3x1/4 the ear stands: the 4 in one bends sooner than one of HSS3x3x1/4."""
    unsaid = ('barrel_on = "nose"\n', "")
    face = ("hinge ear face", "wall of the tube under it bent")
    narrow = rows_under(changed(unsaid), x=900.0, z=500.0)[face][0]
    wide = rows_under(changed(unsaid, ('shape = "HSS3x3x1/4"', 'shape = "HSS4x3x1/4"')), x=900.0, z=500.0)[face][0]
    assert wide > 1.05 * narrow


def test_the_tube_is_checked_under_the_ear_of_the_box_alone():
    """What stands on the plant bends no wall of the box, whether or not the other ear is described."""
    face = ("hinge ear face", "wall of the tube under it bent")
    at_plant, at_box = HINGE[HINGE.index("[hinge.plant_ear]") :], HINGE[HINGE.index("[hinge.ear]") :]
    without_plant = rows_under(changed((at_plant, "")), x=900.0, z=500.0)
    assert without_plant[face][0] == pytest.approx(rows_under(changed(), x=900.0, z=500.0)[face][0])
    assert face not in rows_under(changed((at_box, at_plant)), x=900.0, z=500.0)


def test_an_ear_on_an_angle_has_no_face_to_be_checked():
    """An angle's leg has no face that a clause speaks about: it is said not assessed, and has no row."""
    on_angle = assess(changed(('shape = "HSS3x3x1/4"', 'shape = "angle 3x3x1/4"')))
    assert "hinge ear face" not in {one.check.part for one in on_angle.worst}


def test_what_the_rows_are_counted_in(found):
    """A pin bends by a moment and shears by a force, holes take forces, a weld a force an inch, the rest has none."""
    force = ("shear", "bearing", "tension", "single-plane", "double-plane", "tear-out")
    for one in found.worst:
        if one.check.part.startswith(("hinge ear", "plant hinge ear")):
            mode = one.check.mode
            moment, line = mode.startswith("bending across"), mode.startswith("force per inch")
            expected = "moment" if moment else "line" if line else "force" if mode.startswith(force) else "number"
            assert one.check.unit == expected, (one.check.part, mode)


def test_lines_and_hinge_forces_are_those_of_barrels(found):
    other = solve(Rig(read_case_text(BARRELS)))
    assert np.array_equal(found.solution.demand.tension, other.demand.tension)
    assert np.array_equal(found.solution.demand.hinge, other.demand.hinge)


def test_a_described_hinge_of_ears_is_complete_and_within(found):
    assert found.not_assessed == [] and not bool(found.over)
    parts = {one.check.part for one in found.worst if one.check.group == "hinge"}
    assert parts == {"hinge ear pin", "hinge ear", "plant hinge ear", "hinge ear weld", "plant hinge ear weld",
                     "hinge ear face"}  # fmt: skip
    assert any("other hinge group lost" in one.check.mode for one in found.worst)


@pytest.mark.parametrize(
    ("pairs", "ids"),
    [
        ((('pin = "1 in"\n', ""),), {"hinge.pin", "hinge.ear", "hinge.plant_ear"}),
        ((("pin_retained = true\n", ""),), {"hinge.pin_retained"}),
        ((('weld = "5/16 in"\n', ""),), {"hinge.ear.weld"}),
        ((('weld = "1/4 in"\nweld_length = "5 in"\n', ""),), {"hinge.plant_ear.weld"}),
        ((('shape = "HSS3x3x1/4"', 'shape = "angle 3x3x1/4"'),), {"hinge.ear.face"}),
        (((HINGE[HINGE.index("[hinge.plant_ear]") :], ""),), {"hinge.pin", "hinge.plant_ear", "hinge.plant_ear.weld"}),
    ],
)
def test_what_is_not_described_is_named(pairs, ids):
    missing = {one.id for one in assess(changed(*pairs)).not_assessed if one.group == "hinge"}
    assert missing >= ids and all(one.startswith("hinge.") for one in missing)


@pytest.mark.parametrize(
    ("pairs", "said"),
    [
        ((('kind = "ears"', 'kind = "middle pivot"'),), "hinge.kind"),
        ((('kind = "ears"', 'kind = "center pivot"'),), "is no pivot at mid-width"),
        ((('kind = "ears"\n', ""),), 'write kind = "ears"'),
        ((('gap = "1/16 in"', 'gap = "1/16 in"\nbarrels = 5'),), "is of a hinge of barrels"),
        ((('pin = "1 in"\n', 'pin = "1 1/8 in"\n'),), "does not take a pin"),
        ((('stand_off = "1 3/4 in"', 'stand_off = "1/2 in"'),), "into what the ear is welded to"),
        ((('edge = "1 3/4 in"', 'edge = "1/2 in"'),), "no metal round the hole"),
    ],
)
def test_what_cannot_be_is_refused(pairs, said):
    with pytest.raises(CaseError, match=said):
        changed(*pairs)


def test_a_batch_is_its_rigs():
    rig, pins = changed(), np.array([0.75, 1.0])
    plates = np.array([0.5, 0.625])
    keys = {"hinge.pin": pins, "hinge.ear.plate": plates, "hinge.gap": np.array([0.25, 0.0])}
    only = frozenset({"empty", "packed"})
    whole = assess(varied(rig, keys), only=only)
    for i in range(2):
        alone = assess(varied(rig, {key: values[i] for key, values in keys.items()}), only=only)
        for one, two in zip(whole.worst, alone.worst, strict=True):
            if one.check.group == "hinge":
                assert float(one.utilization[i]) == pytest.approx(float(two.utilization)), one.check.mode


def test_double_shear_is_never_worse_than_single(found):
    single = assess(changed(('shear = "double"', 'shear = "single"')))
    uses = [{(w.check.part, w.check.mode): float(w.utilization) for w in one.worst if w.check.group == "hinge"}
            for one in (found, single)]  # fmt: skip
    assert all(uses[0][key] <= uses[1][key] + 1e-12 for key in uses[0])
    assert uses[0]["hinge ear pin", "shear"] == pytest.approx(0.5 * uses[1]["hinge ear pin", "shear"])
