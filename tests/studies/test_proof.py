"""The proof load reaches its target, steps by step, and says when and why it cannot; nothing past yield on the way."""

import json
from pathlib import Path

import numpy as np
import pytest

from rigcheck.analysis.solve import solve
from rigcheck.case.reading.read import read_case
from rigcheck.case.rig import Rig, varied
from rigcheck.cli import main
from rigcheck.loads.measured import first_moment, level_arm
from rigcheck.loads.steel import take_off
from rigcheck.output.check.worst import worst_loads
from rigcheck.studies.field.model import pooled, water_moment
from rigcheck.studies.proof.load import held, loaded
from rigcheck.studies.proof.study import FROM_TAIL, STEPS, Proof, proof, split
from rigcheck.studies.vary.case import with_values
from rigcheck.wording.scale import Scale
from tests.statics.random_rigs import PLAIN, STRUCTURES, rig_of, varied_rig

LINK_PROOF, LINK_BREAK = 1.25, 0.5
"""Of the working load limit: 125 %, 29 CFR 1926.251(a)(4) (seen). Of the breaking force: half, ASTM A391 (memory)."""

CASES = Path(__file__).parents[2] / "cases"
GOOD, WEAK = "larkspur-bar", "magpie-landing"


def shipped(name: str) -> Rig:
    return Rig(read_case(CASES / f"{name}.toml"))


@pytest.fixture(scope="module")
def good() -> Proof:
    return proof(shipped(GOOD))


@pytest.fixture(scope="module")
def weak() -> Proof:
    return proof(shipped(WEAK))


def tension(rig: Rig) -> np.ndarray:
    """Either line of a fill, from the engine's own row."""
    found = solve(rig, only=frozenset({"plugged"}))
    return 0.5 * found.held.total[..., int(np.flatnonzero(found.states("plugged"))[0])]


@pytest.mark.parametrize("text", STRUCTURES.values(), ids=STRUCTURES)
def test_the_water_is_that_of_the_state_plugged_on_random_rigs(text):
    rig = varied_rig(text, 30, seed=2)
    depths = np.random.default_rng(1).uniform(0.0, 1.0, 30) * rig.number("box.side_height")
    found = solve(pooled(rig, depths=depths), only=frozenset({"empty", "plugged"}))
    dry, full = (int(np.flatnonzero(found.states(name))[0]) for name in ("empty", "plugged"))
    moment = found.service.moment[..., 1]
    np.testing.assert_allclose(
        water_moment(rig, depths=depths), moment[..., full] - moment[..., dry], rtol=1e-9, atol=1e-6
    )


@pytest.mark.parametrize("name", [GOOD, WEAK, "windlass-flat"])
def test_target_is_125_percent_of_the_largest_pull_that_the_check_tells_of_one_line(name):
    """29 CFR 1926.251(a)(4) (seen): 125 % of the working load; the pull is that of the check's own list of states."""
    found = proof(shipped(name))
    told = worst_loads(found.assessment.solution, scale=Scale("us"))
    aside = {"line_broken", "parked", "hauling", "snagged"}
    pulls = {one["state"]: one["line"]["force"] for one in told if one["line"] and one["state"] not in aside}
    assert found.working == pytest.approx(max(pulls.values()))
    assert pulls[found.state] == pytest.approx(found.working) and found.working >= pulls["folding"]
    assert found.target == pytest.approx(1.25 * found.working)
    assert found.even <= found.working


def test_the_steps_go_up_evenly_to_the_target_in_the_engine(good):
    rig = shipped(GOOD)
    depths, bags = (np.array([getattr(one, name) for one in good.steps]) for name in ("depth", "bags"))
    pulls = tension(loaded(rig, depths=depths, bags=bags, at=np.full(STEPS, good.bags_at)))
    np.testing.assert_allclose(pulls, [one.tension for one in good.steps], rtol=1e-9)
    even = good.empty + np.arange(1, STEPS + 1) / STEPS * (good.target - good.empty)
    np.testing.assert_allclose(pulls, even, rtol=1e-6)
    assert good.steps[-1].tension == pytest.approx(good.target, rel=1e-6)
    assert good.bags_at == float(rig.number("box.length")) - 12.0  # a foot from the tail, where everything holds
    falls = [one.tail_deflection for one in good.steps]
    assert falls == sorted(falls) and falls[0] > 0.0


def test_water_comes_first_and_alone_reaches_less_than_half(good):
    assert good.steps[-1].depth == pytest.approx(good.brim)
    full = tension(pooled(shipped(GOOD), depths=np.asarray(good.brim)))
    assert good.water_tension == pytest.approx(float(full), rel=1e-9)
    assert good.water_tension < 0.5 * good.working


def test_a_load_that_water_reaches_needs_no_bags():
    rig = rig_of(PLAIN)
    full = float(water_moment(rig, depths=np.asarray(7.0)))
    depths, bags = split(rig, moment=np.array([0.0, 0.3, 0.999, 1.2]) * full, brim=7.0, at=np.asarray(93.0))
    np.testing.assert_allclose(water_moment(rig, depths=depths[1:3]), np.array([0.3, 0.999]) * full, rtol=1e-9)
    assert depths[0] < 1e-6 and depths[3] == 7.0 and (bags[:3] == 0.0).all()
    arm = float(level_arm(rig, s=93.0, n=7.0))
    assert bags[3] * arm == pytest.approx(0.2 * full)


def test_what_was_weighed_stays_the_weight_without_the_bags():
    plain = rig_of(PLAIN)
    moment = 1.05 * float(first_moment(plain, pieces=take_off(plain)))
    case = with_values(plain.case, {"measured.empty_weight": 260.0, "measured.tail_lift": moment / 90.0,
                                    "measured.tail_lift_at": 90.0})  # fmt: skip
    rig = Rig(case)
    bags = np.array([0.0, 200.0, 700.0])
    pulls = tension(loaded(rig, depths=np.full(3, 4.0), bags=bags, at=np.full(3, 93.0)))
    solution = solve(rig, only=frozenset({"empty"}))
    arm = float(solution.pose.arm[0])
    water = float(water_moment(rig, depths=np.asarray(4.0)))
    np.testing.assert_allclose(2.0 * arm * pulls, moment + water + bags * level_arm(rig, s=93.0, n=7.0), rtol=1e-9)


def test_a_rig_that_cannot_reach_it_says_how_far_it_gets_and_what_stops_it(weak):
    assert not weak.reachable and 0.0 < weak.reached < 1.0
    assert "swivel" in weak.limit
    rig = shipped(WEAK)
    moment = float(first_moment(rig, pieces=take_off(rig)))
    arm = float(weak.assessment.solution.pose.arm[0])
    for share, holds in ((weak.reached, True), (weak.reached + 0.01, False)):
        add = np.asarray(share * (2.0 * arm * weak.target - moment))
        depth, bags = split(rig, moment=add, brim=weak.brim, at=np.asarray(weak.bags_at))
        found = held(loaded(rig, depths=depth, bags=bags, at=np.asarray(weak.bags_at)))
        assert bool(found.utilization <= 1.0) is holds
    swivel = 1650.0 / 4.0 * 0.96 * LINK_PROOF  # a quarter of what it was pulled to, less 4 % wear
    assert weak.reached_tension <= swivel < weak.reached_tension + 0.011 * weak.target


def test_use_of_a_link_and_of_steel_at_the_proof_load(good):
    rig = shipped(GOOD)
    last = good.steps[-1]
    link = min(good.assessment.solution.links, key=lambda one: float(one.working))
    assert last.utilization >= last.tension / (LINK_PROOF * float(link.working)) * (1.0 - 1e-9)
    breaking = min(float(one.ultimate) for one in good.assessment.solution.links if one.ultimate is not None)
    assert last.utilization >= last.tension / (LINK_BREAK * breaking) * (1.0 - 1e-9)
    thin = Rig(with_values(rig.case, {"hinge.pin": 0.4}))
    load = loaded(thin, depths=np.asarray(last.depth), bags=np.asarray(last.bags), at=np.asarray(good.bags_at))
    found = held(load)
    assert "hinge pin" in str(found.part)
    working = solve(load, only=frozenset({"plugged"}))
    from rigcheck.analysis.rows import worst
    from rigcheck.parts.hinge.checks import hinge_checks

    bending = next(one for one in hinge_checks(working) if one.mode == "bending across the gaps")
    use = float(worst(bending, allowed=working.allowed, shape=working.shape).utilization)
    assert float(found.utilization) >= use / 3.0 * (1.0 - 1e-9)  # design factor of category B, ASME BTH-1 (memory)


def test_bags_move_in_from_the_tail_where_the_overhang_would_not_hold():
    rig = shipped(GOOD)
    far = Rig(with_values(rig.case, {"hanger.at": 0.5 * rig.case.box.length, "rail.stiffener": None}))
    study = proof(far)
    tail = far.case.box.length - FROM_TAIL
    at_tail = proof(far, bags_at=tail)
    assert at_tail.steps[-1].utilization > 1.0 and at_tail.bags_at == tail
    assert study.bags_at < tail - 5.0 and study.steps[-1].utilization < at_tail.steps[-1].utilization


def test_a_batch_of_loads_is_its_rows():
    rig = shipped(GOOD)
    depths, bags, at = np.array([2.0, 6.0, 7.0]), np.array([0.0, 10.0, 600.0]), np.array([80.0, 90.0, 95.0])
    many = held(loaded(rig, depths=depths, bags=bags, at=at))
    for i in range(3):
        alone = held(loaded(rig, depths=depths[i], bags=bags[i], at=at[i]))
        assert float(alone.utilization) == pytest.approx(many.utilization[i], rel=1e-9)
        assert float(alone.tension) == pytest.approx(many.tension[i], rel=1e-9)
        assert str(alone.part) == str(many.part[i])


@pytest.mark.parametrize(("downstream", "height"), [(140.0, -8.0), (140.0, -40.0), (-9.0, 60.0)])
def test_lines_that_cannot_hold_the_box_stop_a_load(downstream, height):
    """At a dead point or beyond it, where they would have to push."""
    rig = varied(rig_of(PLAIN), {"perch.downstream": np.asarray(downstream), "perch.height": np.asarray(height)})
    found = held(loaded(rig, depths=np.asarray(3.0), bags=np.asarray(40.0), at=np.asarray(80.0)))
    assert bool(found.stopped) is (downstream > 0.0)


def test_no_arm_no_proof():
    rig = varied(rig_of(PLAIN), {"perch.downstream": np.asarray(140.0), "perch.height": np.asarray(-8.0)})
    with pytest.raises(ValueError, match="lever arm"):
        proof(rig)


def run(capsys, *arguments: str) -> tuple[int, str, str]:
    code = main(["proof", *arguments])
    out = capsys.readouterr()
    return code, out.out, out.err


@pytest.mark.parametrize(("name", "code"), [(GOOD, 0), (WEAK, 1), ("windlass-flat", 1)])
def test_exit_codes_and_json(capsys, name, code):
    got, out, err = run(capsys, str(CASES / f"{name}.toml"), "--json")
    found = json.loads(out)
    assert err == "" and found["schema"] == "rigcheck.proof/2"
    assert got == {"over": 1, "incomplete": 3}.get(found["alone"]["verdict"], 0)
    assert code == 0 or found["alone"]["verdict"] == "over"
    assert len(found["steps"]) == 4 and found["hold_minutes"] == 10
    assert found["keep_out"] == pytest.approx(shipped(name).case.box.length + 36.0)


@pytest.mark.parametrize("width", [60, 80, 120])
@pytest.mark.parametrize("name", [GOOD, WEAK])
def test_screen_fits_and_says_what_must_be_said(capsys, name, width):
    _, out, _ = run(capsys, str(CASES / f"{name}.toml"), "--all", "--width", str(width))
    flat = " ".join(out.split())
    assert out.isascii() and max(map(len, out.splitlines())) <= width
    assert "safe" not in out.lower().replace("mine-safety", "")
    for words in ("licensed engineer", "1926.251(a)(4)", "does not replace the test", "10 minutes", "Nobody within",
                  "fracture."):  # fmt: skip
        assert words in flat
    assert ("cannot be reached" in flat) is (name == WEAK)


def test_bags_can_be_placed_and_weighed(capsys):
    _, out, _ = run(capsys, str(CASES / f"{GOOD}.toml"), "--bags-at", "80 in", "--bag", "20 kg", "--json")
    found = json.loads(out)
    assert found["bags_at"] == 80.0 and found["bag"] == pytest.approx(44.0925, rel=1e-5)
    assert found["steps"][-1]["line"] == pytest.approx(found["target"], rel=1e-6)


@pytest.mark.parametrize(("option", "value"), [("--bag", "50"), ("--bag", "-3 lb"), ("--bags-at", "40 ft")])
def test_unusable_options_end_in_2(capsys, option, value):
    code, out, err = run(capsys, str(CASES / f"{GOOD}.toml"), option, value)
    assert code == 2 and out == "" and option in err
