"""Checks and findings of the folded box: straps and stops, the counting rules, rails by hand, size on the road."""

import numpy as np
import pytest

from rigcheck.analysis.rail_section import rail_section
from rigcheck.analysis.rows import worst
from rigcheck.case.rig import Rig
from rigcheck.case.schema.sections import changed
from rigcheck.parts.tie_down.checks import blocked_forward, folded_checks, folded_flags, folded_not_assessed
from tests.support.road_rig import BACK, STOP, hold, road_rig, row

RIGHT = {**BACK, "from": ["80 in", "-13 in", "0 in"], "to": ["-60 in", "-13 in", "80 in"]}


def table(found, before=0):
    """Worst of every check by part and mode."""
    strength = np.array([False] * before + [one.ultimate for one in found.rows])[:, None]
    allowed = np.concatenate([np.ones((before, 5), dtype=bool), found.allowed])
    shape = (*found.restraint.turn.shape[:-1], before + len(found.rows), 5, 2)
    return {
        (check.part, check.mode): worst(
            check, allowed=allowed & (strength if check.ultimate else ~strength), shape=shape
        )
        for check in folded_checks(found, before=before)
    }


def raised(found, before=0):
    """Codes of the findings that hold somewhere, with whether they stop."""
    return {flag.code: flag.stops for flag in folded_flags(found, before=before) if flag.where.any()}


def test_strap_is_held_against_its_limit_and_its_strength():
    found = hold(road_rig(BACK, RIGHT, stops=(STOP,), hinge_above_road="50 in"))
    rows = table(found)
    limit, strength = rows["tie-down 1", "working load limit"], rows["tie-down 1", "breaking strength"]
    assert float(limit.capacity) == 900.0
    assert float(strength.capacity) == 2700.0
    away = row(found, "hauling", direction="rearward", set="breaking")
    assert int(strength.state) == away
    assert float(strength.demand) == found.strap[away, 0]
    working = [one.variant.get("set") != "breaking" for one in found.rows]
    assert float(limit.demand) == found.strap[working, 0].max()
    assert ("stop 1", "compression, breaking set") in rows


def test_no_breaking_strength_leaves_that_set_unassessed():
    strap = {key: value for key, value in BACK.items() if key != "mbf"}
    rig = road_rig(strap, stops=({k: v for k, v in STOP.items() if k != "capacity"},))
    assert ("tie-down 1", "breaking strength") not in table(hold(rig))
    assert not [part for part, _ in table(hold(rig)) if part.startswith("stop")]
    text = " | ".join(folded_not_assessed(rig))
    assert "tie-down 1: no breaking strength given" in text
    assert "stop 1: no capacity given" in text
    assert folded_not_assessed(road_rig(BACK, stops=(STOP,), hinge_above_road="50 in")) == ["eyelet of tie-down 1"]
    bare = Rig(changed(rig.case, {"fold": changed(rig.case.fold, {"to": None})}))
    assert ["fold.to" in one for one in folded_not_assessed(bare)] == [True]


def test_rules_of_the_road():
    found = hold(road_rig(BACK, {**RIGHT, "kind": "over, other side", "count": 2}))
    rows = table(found)
    weight = found.service.weight[0]
    # half credit for the one from box to anchor, full for the two that go over
    assert float(rows["tie-downs", "aggregate working load limit"].capacity) == 0.5 * 900.0 + 2.0 * 900.0
    assert float(rows["tie-downs", "aggregate working load limit"].demand) == pytest.approx(0.5 * weight)
    assert float(rows["tie-downs", "number"].capacity) == 3.0
    assert float(rows["tie-downs", "number"].demand) == 1.0  # upright it is under 5 ft long and light
    assert float(rows["tie-downs", "hold-down"].demand) == pytest.approx(0.2 * weight)
    assert float(rows["tie-downs", "hold-down"].capacity) == 0.0  # level straps pull nothing down


def test_hold_down_counts_what_pulls_down():
    steep = {**BACK, "to": ["-60 in", "13 in", "0 in"]}  # 60 out and 80 down in 100
    assert float(table(hold(road_rig(steep)))["tie-downs", "hold-down"].capacity) == pytest.approx(0.8 * 900.0)
    kept = road_rig(steep, more="[hinge]\npin_retained = true\n")
    assert ("tie-downs", "hold-down") not in table(hold(kept))


def test_length_on_the_road_is_the_folded_length():
    flat, upright = (hold(road_rig(BACK, RIGHT, fold=fold)) for fold in ("8 deg", "90 deg"))
    assert float(table(flat)["tie-downs", "number"].demand) == 2.0
    assert float(table(upright)["tie-downs", "number"].demand) == 1.0
    assert float(upright.envelope.length) == pytest.approx(6.0 + 0.1046, abs=0.01)
    assert float(upright.envelope.above_hinge) == pytest.approx(110.0)
    across = hold(road_rig(BACK, leading_end="left", fold="8 deg"))
    assert float(across.envelope.length) == pytest.approx(26.0 + 2.0 * (0.1046 + 1.5), abs=0.01)
    assert float(across.envelope.width) > 110.0


def test_blocked_forward_is_a_stop_that_pushes_rearward():
    assert blocked_forward(road_rig(stops=(STOP,)))  # head first drives to -x, the stop pushes to +x
    assert not blocked_forward(road_rig(stops=(STOP,), leading_end="tail"))
    assert not blocked_forward(road_rig(stops=(STOP,), leading_end="left"))
    assert not blocked_forward(road_rig(BACK))


def test_width_and_height_only_where_the_hinge_is_placed():
    rows = table(hold(road_rig(BACK, hinge_above_road="55 in")))
    assert float(rows["legal height and width", "overall height"].demand) == pytest.approx(165.0)
    assert float(rows["legal height and width", "overall height"].utilization) > 1.0
    assert float(rows["legal height and width", "overall width"].demand) == 31.0
    assert ("legal height and width", "overall height") not in table(hold(road_rig(BACK)))


def test_rail_between_hinge_and_strap_by_hand():
    strap = {**BACK, "from": ["60 in", "13 in", "0 in"], "to": ["-60 in", "13 in", "60 in"]}
    found = hold(road_rig(strap))
    i = row(found, "hauling", direction="rearward", set="breaking")
    weight, (_, _, n) = found.service.weight[i], found.service.center[i]
    free, section = 50.0, rail_section(found.rig)
    w = 0.5 * weight / 110.0  # one rail's part, for an inch
    # upright and thrown to +x: half a g square to the floor, one g along it, toward the hinge
    moment = -0.5 * w * free**2 / 2.0 + w * free * (n - section.axis)
    axial = -w * free
    top = axial / section.area - moment * (section.top - section.axis) / section.inertia
    bottom = axial / section.area + moment * (section.axis - section.bottom) / section.inertia
    assert found.stress[i] == pytest.approx(float(max(abs(top), abs(bottom))), rel=1e-9)


def test_findings_of_a_bare_fold():
    codes = raised(hold(road_rig()))
    assert codes["no_tie_downs"]
    assert codes["road_unrestrained"]
    assert codes["parked_falls_inward"]
    assert codes["hoists_are_not_tiedowns"] is False
    assert "parked_falls_outward" not in codes  # the lines pull that way


def test_past_the_dead_point_the_lines_let_it_fall_outward():
    # hinge, perch and hanger are in line at atan2(36, 18) - atan2(6, 70) = 58.5 deg; the weight tips over at about 88
    found = hold(road_rig(stops=(STOP,), fold="80 deg"), perch__downstream=18.0, perch__height=36.0)
    codes = raised(found)
    assert codes["parked_falls_outward"]
    assert "parked_falls_inward" not in codes
    outward = next(flag for flag in folded_flags(found, before=0) if flag.code == "parked_falls_outward")
    # whichever way the plant leans
    upstream, downstream = (found.rows_where("parked", wind_to=to, held_by="lines") for to in ("-x", "+x"))
    assert upstream.any() and not outward.where[upstream].any()
    assert downstream.any() and outward.where[downstream].all()


def test_straps_rescue_the_parked_box():
    inward = {**BACK, "to": ["60 in", "13 in", "80 in"]}  # holds it from going past the hinge
    codes = raised(hold(road_rig(BACK, inward)))
    assert "parked_falls_inward" not in codes
    assert codes["parked_needs_tie_downs"] is False
    assert "road_unrestrained" not in codes


def test_rows_stand_behind_those_before_them():
    found = hold(road_rig(BACK, stops=(STOP,), hinge_above_road="50 in"))
    near, far = table(found), table(found, before=7)
    assert near.keys() == far.keys()
    for key, one in near.items():
        assert float(far[key].utilization) == float(one.utilization)
        assert int(far[key].state) == int(one.state) + 7
    assert raised(found) == raised(found, before=7)


def test_a_longer_box_never_relieves_its_straps():
    lengths = np.linspace(100.0, 140.0, 5)
    found = hold(road_rig(BACK, RIGHT, stops=(STOP,)), box__length=lengths)
    used = table(found)["tie-down 1", "working load limit"].utilization
    assert used.shape == (5,)
    assert (np.diff(used) > 0.0).all()
