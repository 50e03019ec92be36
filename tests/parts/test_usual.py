"""What a user states gentler than usual is told: the usual values stand here by hand, with their sources."""

import pytest

from rigcheck.assessment.assess import assess
from rigcheck.case import read_case
from rigcheck.case.rig import Rig, varied
from rigcheck.case.usual import usual_keys
from tests.support.finding_cases import ROOT

DEG = 0.017453292519943295
MPH = 17.6
PCF = 1.0 / 1728.0
USUAL = {
    "plant.cross_slope": 2.0 * DEG,  # common practice, no source
    "plant.fore_aft_slope": 2.0 * DEG,  # common practice, no source
    "box.allowance": 0.08,  # common practice, no source
    "water.roughness": 0.035,  # coarse, stony bed, open-channel texts (from memory)
    "bed.density": 118.0 * PCF,  # loose wet gravel, 118 to 120 lb/ft3, aggregate suppliers' tables
    "bed.side_pressure": 0.5,  # 1 - sin 30 deg, earth at rest (from memory)
    "person.weight": 250.0,  # common practice, no source
    "person.people": 1.0,  # somebody always climbs on; common practice, no source
    "ice.full": 1.0,  # an outlet that freezes shut; common practice, no source
    "wind.parked": 90.0 * MPH,  # service gust (from memory)
    "wind.hung": 40.0 * MPH,  # 29 CFR 1926.968 (from memory)
    "wind.road": 75.0 * MPH,  # common practice, no source
    "towing.vertical": 2.0,  # 2 to 3, common practice, no source
    "towing.fore_aft": 0.5,  # common practice, no source
    "towing.side": 0.3,  # common practice, no source
    "fold.one_line": 1.0,  # one person works both hoists; common practice, no source
    "haul.left_over": 0.15,  # common practice, no source
    "factors.hung": 1.33,  # hangers, older ASCE 7 impact list (from memory)
    "factors.step_down": 1.5,  # common practice, no source
    "factors.surge": 2.0,  # load let go at once: energy balance
    "factors.surge_depth": 3.0,  # common practice, no source
    "factors.folding": 1.1,  # pendant crane, older ASCE 7 impact list (from memory)
    "factors.line_broken": 2.0,  # undamped step: energy balance
    "factors.tipping": 1.5,  # restoring over overturning at work; common practice, no source
    "factors.road_down": 1.5,  # common practice, no source
    "factors.road_up": 0.5,  # common practice, no source
}
CASE = read_case(ROOT / "cases" / "larkspur-bar.toml")


def test_every_key_with_a_usual_value_has_it_by_hand_and_no_other():
    assert {key.path: key.value for key in usual_keys()} == pytest.approx(USUAL, rel=1e-12)


@pytest.mark.parametrize("path", sorted(USUAL))
def test_a_value_one_per_cent_under_the_usual_is_told_and_the_usual_is_not(path):
    from rigcheck.parts.usual import usual_flags

    rig = varied(Rig(CASE), {path: [0.99 * USUAL[path], USUAL[path], 1.01 * USUAL[path]]})

    class Solved:
        pass

    solved = Solved()
    solved.rig = rig
    (flag,) = usual_flags(solved)
    assert flag.where[..., 0, 0, 0].tolist() == [True, False, False]
    assert path in flag.text


def test_a_dynamic_factor_of_one_is_told_beside_the_verdict():
    rig = varied(Rig(CASE), {"factors.hung": 1.0})
    assert [flag.text for flag in assess(rig).flags if flag.code == "gentler_than_usual"]
    assert not [flag for flag in assess(Rig(CASE)).flags if flag.code == "gentler_than_usual"]
