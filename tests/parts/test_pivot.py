"""A center pivot: bar, ears, lug and the member across by hand from forces put on it; play and findings."""

import re
from pathlib import Path

import numpy as np
import pytest

from rigcheck.analysis.solve import solve
from rigcheck.assessment.assess import assess
from rigcheck.case import CaseError, read_case
from rigcheck.case.reading.read import read_case_text
from rigcheck.case.rig import Rig, varied
from rigcheck.parts.cross_member.forces import head_member
from rigcheck.parts.hinge.pivot import pivot_checks
from rigcheck.strength.bases import BASES
from rigcheck.strength.connections.lugs import plate_torsion
from rigcheck.tables import shapes
from tests.support.lot import call
from tests.support.pivot_rig import HINGE, changed

TEASEL = Path(__file__).parents[2] / "cases" / "teasel-cut.toml"
BACKUP = ("[water]", '[[line.backup]]\nkind = "chain"\nsize = "3/8 in"\ngrade = "80"\nlength = "6 ft"\n\n[water]')
STAYS = ('[fold]\nto = "101 deg"', '[fold]\nto = "0 deg"')


def rig_of(*pairs):
    return Rig(read_case_text(changed(*pairs)))


def rows_under(rig, left, right):
    """Demand and capacity of each row under one force on either ear, on the lifting basis, in the first row."""
    solution = solve(rig, only=frozenset({"empty"}))
    hinge = np.broadcast_to([left, right], (*solution.shape, 3))
    checks = pivot_checks(solution, hinge, stress=np.zeros(()), basis=BASES["lifting"])

    def first(values):
        return np.broadcast_to(values, solution.shape)[0, 0].max()

    return {(one.part, one.mode): (first(one.demand), first(one.capacity)) for one in checks}


def test_a_bar_whose_ears_pull_alike():
    """1,600 lb in all: 800 an ear, half of 7 in less a quarter of the lug of 2 in away; 1018 cold drawn, 54 ksi."""
    rows = rows_under(rig_of(), (480.0, 0.0, 640.0), (480.0, 0.0, 640.0))
    assert rows["pivot bar", "bending between ears and lug"] == (
        pytest.approx(800 * (3.5 - 0.5)), pytest.approx(1.25 * 54_000 * np.pi * 1.5**3 / 32 / 3))  # fmt: skip
    assert rows["pivot bar", "shear"][0] == pytest.approx(800)


def test_a_bar_is_bent_by_the_ear_that_pulls_more():
    rows = rows_under(rig_of(), (1000.0, 0.0, 0.0), (-200.0, 0.0, 0.0))
    assert rows["pivot bar", "bending between ears and lug"][0] == pytest.approx(1000 * 3.0)
    assert rows["pivot ear", "bearing on the pin"][0] == pytest.approx(1000)


def test_the_lug_at_its_hole_has_the_pressure_of_the_couples_at_its_edge():
    """Ears at 3.5 in: X 1,000 and 400, Z 500 and -100: couples 600 x 3.5 about z and about x, 6 C/t on top of F."""
    rows = rows_under(rig_of(), (1000.0, 0.0, 500.0), (400.0, 0.0, -100.0))
    force, couple = np.hypot(1400, 400), 600 * 3.5 * np.sqrt(2.0)
    told = rows["pivot lug", "bearing on the pin"]
    assert told == (pytest.approx(force + 6 * couple / 2.0), pytest.approx(1.25 * 36_000 * 1.5 * 2.0 / 3))
    assert rows["pivot lug", "tension beside the hole"][0] == pytest.approx(force + 3 * couple)


def test_the_lug_at_its_root():
    """7 x 2 in of A36, hole 2.5 in off: thrust 100, X 1,400, Z 400, couples of 2,100 about z and about x.

    Flat 1.25 Fy S/3, S = 7 x 2^2/6; upright 1.10 Fy S/3, S = 2 x 7^2/6; pull Fy A/3; torsion Fy/(3 sqrt 3) times
    alpha l t^2, alpha between 0.267 of l/t = 3 and 0.282 of 4 (handbook table, memory).
    """
    rows = rows_under(rig_of(), (1000.0, 100.0, 500.0), (400.0, 0.0, -100.0))
    flat, upright = 1.25 * 36_000 * 7 * 4 / 6 / 3, 1.10 * 36_000 * 2 * 49 / 6 / 3
    torsion = 36_000 / (3 * np.sqrt(3.0)) * 0.2754 * 7 * 4
    use = (100 * 2.5 + 2100) / flat + 400 * 2.5 / upright + 1400 / (36_000 * 14 / 3) + 2100 / torsion
    told = rows["pivot lug", "bending both ways, tension and torsion at the weld root"][0]
    assert told == pytest.approx(use, rel=1e-3)


@pytest.mark.parametrize(("ratio", "factor"), [(1.0, 0.208), (1.5, 0.231), (2.0, 0.246), (3.0, 0.267), (6.0, 0.299)])
def test_torsion_of_a_rectangle(ratio, factor):
    """Largest stress T/(alpha l t^2); alpha of Saint-Venant's series as handbooks print it (memory)."""
    allowed = plate_torsion(0.75, width=0.75 * ratio, fy=36_000.0, basis=BASES["lifting"])
    exact = 36_000 / (3 * np.sqrt(3.0)) * factor * 0.75**3 * ratio
    assert float(allowed) == pytest.approx(exact, rel=0.004)


def test_the_weld_of_the_lug():
    """Two runs of 7 in, 2 in apart: forces, Z h, thrust h with the yaw couple, the roll couple in their plane."""
    rows = rows_under(rig_of(), (1000.0, 100.0, 500.0), (400.0, 0.0, -100.0))
    area, upright, flat = 14.0, 2 * 7.0**3 / 12, 14.0
    corners = []
    for x in (1.0, -1.0):
        for y in (3.5, -3.5):
            for roll in (2100.0, -2100.0):
                aside = 100 / area - roll * y / (upright + flat)
                up = 400 / area + roll * x / (upright + flat)
                out = 1400 / area + 400 * 2.5 * y / upright + (100 * 2.5 + 2100) * x / flat
                corners.append(np.sqrt(aside**2 + up**2 + out**2))
    assert rows["pivot lug weld", "force per inch"][0] == pytest.approx(max(corners))


def test_the_member_across_the_head_is_a_beam_on_two_rails():
    """Statics of each row anew: ends R at the rails hold the ears' forces; moment R (b - c)/2 under an ear."""
    solution = solve(rig_of(), only=frozenset({"empty", "lopsided"}))
    b, c = float(solution.layout.rail_spacing), float(solution.layout.hinge_spacing)
    carried = head_member(solution, shape=shapes.find("HSS3x3x1/4"))
    hinge = solution.demand.hinge
    e_n = solution.pose.normal[:, None, None, :]
    square = hinge[..., 0] * e_n[..., 0] + hinge[..., 2] * e_n[..., 1]
    # moments about the right rail and about the left one
    left = (square[..., 0] * (b + c) / 2 + square[..., 1] * (b - c) / 2) / b
    right = (square[..., 0] * (b - c) / 2 + square[..., 1] * (b + c) / 2) / b
    reach, over = (b - c) / 2, abs(float(solution.layout.hinge_height) + 0.1345 + 1.5)
    thrust = np.abs(hinge[..., 1]).max(-1)
    for side, end in ((0, left), (1, right)):
        bent = np.abs(end) * reach + thrust * over
        floor = carried.upright[..., side] - bent
        assert np.allclose(floor, floor[:, :1])  # what the floor adds is the same whatever the hinge does
        assert np.all(floor > -1e-9)
        fixed = np.abs(end) * reach * (1 - reach / b) + thrust * over
        assert np.allclose(carried.end[..., side], fixed)


@pytest.mark.parametrize(("at", "span"), [(8.0, 20.0), (5.0, 20.0)])
def test_fixed_end_moments_of_two_loads(at, span):
    """Alike or not, a built-in beam has R e (1 - e/L) at its end, R its end force when free (beam tables, memory)."""
    for sign in (1.0, -1.0):
        fixed = at * (span - at) ** 2 / span**2 + sign * (span - at) * at**2 / span**2
        end = (span - at) / span + sign * at / span
        assert fixed == pytest.approx(end * at * (1 - at / span))


def test_the_shipped_case_is_tight_on_its_bar_and_complete():
    found = assess(Rig(read_case(TEASEL)))
    assert not bool(found.over) and found.not_assessed == []
    highest = max(found.worst, key=lambda one: float(one.utilization))
    assert highest.check.part == "pivot bar" and 0.85 < float(highest.utilization) <= 1.0
    assert {one.check.part for one in found.worst if one.check.group == "hinge"} == {
        "pivot bar", "pivot ear", "pivot ear weld", "pivot ear face", "pivot lug", "pivot lug weld"}  # fmt: skip
    codes = {flag.code for flag in found.flags if flag.stops}
    assert not codes


def stops(*pairs):
    found = assess(rig_of(*pairs))
    return {flag.code for flag in found.flags if flag.stops}


def test_a_broken_line_rolls_the_box_over_where_no_backup_is_taut():
    assert "pivot_line_broken" in stops(STAYS)
    assert "pivot_line_broken" in stops(BACKUP)  # on the way up it hangs slack
    assert "pivot_line_broken" not in stops(BACKUP, STAYS)


def test_a_backup_with_more_slack_than_a_hand_leaves_does_not_count():
    slack = ('wear = "2 %"', 'wear = "2 %"\nbackup_slack = "1 in"')
    assert "pivot_line_broken" in stops(BACKUP, STAYS, slack)


def test_a_load_so_far_to_a_side_that_a_line_goes_slack_stops_the_rig():
    """Four people of 300 lb on one side of the empty box, lines 21 in apart on rails 28 in apart."""
    crowd = ("[water]", '[person]\npeople = 4\nweight = "300 lb"\n\n[water]')
    near = ('spacing = "30 in"', 'spacing = "21 in"')
    assert "pivot_rolls" in stops(crowd, near)
    assert "pivot_rolls" not in stops()


def test_what_is_said_of_every_pivot():
    codes = {flag.code for flag in assess(rig_of()).flags}
    assert {"pivot_keep_even", "pivot_single", "pivot_swings_some"} <= codes and "gentler_than_usual" not in codes
    level = ("pin_retained = true", 'pin_retained = true\noff_level = "1 deg"')
    assert "gentler_than_usual" in {flag.code for flag in assess(rig_of(level)).flags}


def test_a_backup_is_held_against_twice_its_share_on_strength():
    checked = assess(rig_of(BACKUP, STAYS))
    found = [one for one in checked.worst if one.check.part.startswith("backup") and one.check.ultimate]
    assert found and all(checked.solution.rows[int(one.state)].state == "line_broken" for one in found)
    solution = checked.solution
    broken = solution.states("line_broken")
    assert float(found[0].demand) == pytest.approx(2.0 * solution.held.tension[broken][:, :3].max(), rel=1e-9)


def test_a_loose_bar_lets_the_box_swing():
    """1 1/2 in of bar in 1 7/8 in of lug and ear: 3/8 / 2 + 3/8 / 7 = 0.241 rad, 13.8 degrees; the limit is 5."""
    wide = ('hole = "1 9/16 in"', 'hole = "1 7/8 in"')
    found = assess(rig_of(wide, wide))
    flag = next(flag for flag in found.flags if flag.code == "pivot_swings")
    assert flag.stops and "14 degrees" in flag.text
    assert "pivot_swings" not in stops()


def test_leveling_is_told_by_check_card_and_field():
    """Teasel Cut: y_H = 11, hanger at (53, 8 1/4) turned by 1 5/8 in/ft, perch at (28, 52, 13): 1/(2 a) by hand."""
    tilt = np.arctan(1.625 / 12)
    x, z = 53 * np.cos(tilt) + 8.25 * np.sin(tilt), -53 * np.sin(tilt) + 8.25 * np.cos(tilt)
    way = np.array([28 - x, 13 - 11, 52 - z])
    u = way / np.linalg.norm(way)
    degrees = np.degrees(0.5 / (11 * u[2] - z * u[1]))
    told = f"{degrees:.2g}"
    field = ("field", str(TEASEL), "--tail-lift", "150 lb", "--at", "78 in")
    for words in (("check", str(TEASEL)), ("card", str(TEASEL)), field, ("check", str(TEASEL), "--all")):
        screen = re.sub(r"\s+", " ", call(*words)[1])
        assert re.search(rf"1 in of line is {told} deg", screen), words


@pytest.mark.parametrize(
    ("pairs", "ids"),
    [
        ((('pin = "1 1/2 in"\n', ""),), {"hinge.pin", "hinge.play", "hinge.ear", "hinge.plant_ear"}),
        ((('pin = "1 1/2 in"', 'pin = "unknown"'),), {"hinge.pin", "hinge.play"}),
        ((("pin_retained = true\n", ""),), {"hinge.pin_retained"}),
        ((('weld = "5/16 in"\nweld_length = "3 in"\n', ""),), {"hinge.ear.weld"}),
        ((('weld = "1/2 in"\nweld_length = "7 in"\n', ""),), {"hinge.plant_ear.weld"}),
        ((('shape = "HSS3x3x1/4"', 'shape = "angle 3x3x1/4"'),), {"hinge.ear.face"}),
        (((HINGE[HINGE.index("[hinge.plant_ear]") :], ""),), {"hinge.pin", "hinge.plant_ear", "hinge.play"}),
        (((HINGE[HINGE.index("[hinge.ear]") :], ""), ('spacing = "7 in"\n', "")), {"hinge.ear", "hinge.play"}),
    ],
)
def test_what_is_not_described_is_named(pairs, ids):
    missing = {one.id for one in assess(rig_of(*pairs)).not_assessed if one.group == "hinge"}
    assert missing >= ids


@pytest.mark.parametrize(
    ("pairs", "said"),
    [
        ((('spacing = "7 in"', 'spacing = "2 1/2 in"'),), "no room for ear and lug"),
        ((('spacing = "7 in"', 'spacing = "20 in"'),), "no pivot at mid-width"),
        ((('pin = "1 1/2 in"', 'pin = "1 1/2 in"\nbarrels = 5'),), "is of a hinge of barrels"),
        ((('pin = "1 1/2 in"', 'pin = "1 1/2 in"\nshear = "double"'),), "an ear of the box at both its ends"),
        ((('kind = "center pivot"', 'kind = "ears"\noff_level = "3 deg"'),), "is of a center pivot"),
    ],
)
def test_what_cannot_be_is_refused(pairs, said):
    with pytest.raises(CaseError, match=said):
        rig_of(*pairs)


def test_a_batch_is_its_rigs():
    rig, only = rig_of(), frozenset({"empty", "lopsided", "line_broken"})
    keys = {"hinge.pin": np.array([1.25, 1.5]), "hinge.plant_ear.plate": np.array([1.5, 2.0]),
            "hinge.spacing": np.array([6.0, 8.0]), "hinge.off_level": np.array([0.0, 0.06])}  # fmt: skip
    whole = assess(varied(rig, keys), only=only)
    for i in range(2):
        alone = assess(varied(rig, {key: values[i] for key, values in keys.items()}), only=only)
        for one, two in zip(whole.worst, alone.worst, strict=True):
            assert float(np.broadcast_to(one.utilization, 2)[i]) == pytest.approx(float(two.utilization)), (
                one.check.mode
            )
