"""The plant under the box: free body against statics by hand and against hinge and line forces, rows, findings."""

import json
from pathlib import Path

import numpy as np
import pytest

from rigcheck.analysis.solve import solve
from rigcheck.assessment.assess import assess
from rigcheck.case.errors import CaseError
from rigcheck.case.reading.read import read_case, read_case_text
from rigcheck.case.rig import Rig, varied
from rigcheck.cli import main
from rigcheck.output.plant.screen import plant_screen
from rigcheck.output.plant.view import plant_result
from rigcheck.output.screen import Look
from rigcheck.parts.plant import checks
from rigcheck.parts.plant.checks import at_work, is_even, standing, worst_edge
from rigcheck.statics.tipping import WAYS, footing
from rigcheck.studies.plant.study import plant_study

CASES = Path(__file__).parents[2] / "cases"
HERON = (CASES / "heron-shelf.toml").read_text(encoding="utf-8")
TAIL = WAYS.index("downstream")


@pytest.fixture(scope="module")
def heron():
    return assess(Rig(read_case_text(HERON)))


@pytest.fixture(scope="module")
def study(heron):
    return plant_study(heron)


def moments_by_hand(solution, row):
    """About the two tail jacks (x = -7, 43 in below the hinge), from what the row weighs, where, and how it leans."""
    x, z = solution.service.center[row, 0], solution.service.center[row, 2] + 1.5  # pin 1 1/2 in below the floor
    pitch = np.arctan(1.75 / 12.0)
    at_x, at_z = x * np.cos(pitch) + z * np.sin(pitch), -x * np.sin(pitch) + z * np.cos(pitch)
    slope = float(solution.rows[row].gravity[0])
    weight = solution.service.weight[row]
    plant, box = slope * 2780 * (43 - 5), slope * weight * (at_z + 43)
    holds = 2780 * (51 - 7) + max(-plant, 0.0) + max(-box, 0.0)
    return holds, weight * (at_x + 7) + max(plant, 0.0) + max(box, 0.0)


@pytest.mark.parametrize("state", ["empty", "packed", "digout", "plugged", "lopsided"])
def test_the_free_body_is_that_of_the_hand(heron, state):
    solution = heron.solution
    body = standing(solution, rows=at_work(solution))
    holds, turns = worst_edge(body.moments(), base=body.base, way=TAIL)
    for place, row in enumerate(body.rows):
        if solution.rows[row].state == state:
            assert (holds[place], turns[place]) == pytest.approx(moments_by_hand(solution, row))
            # nothing pushes at the box in these rows: all its moment is that of its weight at its place
            assert np.abs(body.moment[place, 4]).max() < 1e-6 * np.abs(body.moment[place, 2]).max()


def test_line_and_hinge_forces_hand_the_plant_the_same_loads(heron):
    """What lines and hinge put on the plant, bound by bound, has the force and moment of the loads of the box."""
    solution = heron.solution
    rows = solution.hung & ~solution.states("line_broken")
    body = standing(solution, rows=rows)
    box_force, box_moment = body.force[:, 2:].sum(-2), body.moment[:, 2:].sum(-2)
    pose, at = solution.pose, body.rows
    tension, hinge = solution.held.tension[at], solution.held.hinge[at]
    side = np.array([1.0, -1.0])
    pull = np.stack([pose.ux[at, None] + 0 * side, pose.uy[at, None] * side, pose.uz[at, None] + 0 * side], -1)
    perch = np.stack([-23.0 + 0 * side, 0.5 * 38.0 * side, 90.0 + 0 * side], -1)
    knuckle = np.stack([0 * side, 0.5 * 24.5 * side, 0 * side], -1)
    for bound in range(3):
        on_perch = -tension[:, bound, :, None] * pull
        on_hinge = -hinge[:, bound]
        force = (on_perch + on_hinge).sum(-2)
        moment = np.cross(perch, on_perch).sum(-2) + np.cross(knuckle, on_hinge).sum(-2)
        ok = solution.allowed[at, bound]
        size = np.abs(box_moment).max()
        assert force[ok] == pytest.approx(box_force[ok], abs=1e-6 * np.abs(box_force).max())
        assert moment[ok] == pytest.approx(box_moment[ok], abs=1e-6 * size)


def test_under_one_a_foot_lifts_and_over_it_none_does(heron):
    solution = heron.solution
    body = standing(solution, rows=at_work(solution))
    found = body.moments()
    tips = (found.overturning > found.stabilizing).any(-1)
    stands = footing(body.force.sum(-2), moment=body.moment.sum(-2), feet=body.feet).stands
    assert tips.any() and not tips.all() and np.array_equal(stands, ~tips)


def test_between_one_and_what_is_asked_is_over_and_does_not_stop():
    """Tail jacks 6 in farther out: a ratio between 1 and 1.5."""
    found = assess(Rig(read_case_text(HERON.replace('downstream = "-7 in"', 'downstream = "-1 in"'))))
    (row,) = (one for one in found.worst if one.check.mode == "tipping toward the tail")
    assert 1.0 < float(row.utilization) < 1.5 and not np.any(found.stopped) and bool(found.over)


def test_another_factor_is_asked_where_the_case_says_so(heron):
    """Over two the demand is the same, the allowable is a half of what holds for two thirds of it."""
    two = assess(Rig(read_case_text(f"{HERON}\n[factors]\ntipping = 2.0\n")))
    first, second = (next(w for w in one.worst if w.check.group == "plant") for one in (heron, two))
    assert float(second.capacity) == pytest.approx(0.75 * float(first.capacity))


def test_not_described_is_said_and_makes_nothing_incomplete():
    found = assess(Rig(read_case(CASES / "larkspur-bar.toml")))
    (flag,) = (flag for flag in found.flags if flag.code == "tipping_not_assessed")
    assert "plant: tipping not assessed" in flag.text and "plant.weight" in flag.text and not flag.stops
    assert not any(one.check.group == "plant" for one in found.worst) and found.not_assessed == []


@pytest.mark.parametrize(
    ("gone", "named"),
    [('weight = "2780 lb"\n', "plant.weight"), ('cg_height = "-5 in"\n', "plant.cg_height"),
     ('cg_downstream = "-51 in"\n', "plant.cg_downstream"), ('above_ground = "43 in"\n', "hinge.above_ground")],
)  # fmt: skip
def test_what_is_not_given_is_named(gone, named):
    assert gone in HERON
    found = assess(Rig(read_case_text(HERON.replace(gone, "", 1))))
    (flag,) = (flag for flag in found.flags if flag.code == "tipping_not_assessed")
    assert named in flag.text and not any(one.check.group == "plant" for one in found.worst)


def test_a_plant_that_is_not_alike_on_both_sides_loads_both():
    """Its weight 6 in to the left: rows lean both ways, each side has its own, and the left is the nearer one."""
    found = assess(Rig(read_case_text(HERON.replace('cg_height = "-5 in"', 'cg_height = "-5 in"\ncg_across = "6 in"'))))
    assert not is_even(found.solution)
    uses = {one.check.mode: float(one.utilization) for one in found.worst if one.check.group == "plant"}
    assert uses["tipping to the left"] > uses["tipping to the right"] > 0.0
    mirrored = HERON.replace('cg_height = "-5 in"', 'cg_height = "-5 in"\ncg_across = "-6 in"')
    other = assess(Rig(read_case_text(mirrored)))
    back = {one.check.mode: float(one.utilization) for one in other.worst if one.check.group == "plant"}
    assert back["tipping to the right"] == pytest.approx(uses["tipping to the left"])


def test_one_side_stands_for_both_where_they_are_alike(monkeypatch):
    """WAYS are downstream, upstream, left, right; the rows of a rig alike on both sides load its left one."""

    def said() -> dict[int, str]:
        return {index: way.value for index, way in checks.ways(None).items()}

    monkeypatch.setattr(checks, "is_even", lambda solution: True)
    assert said() == {0: "toward the tail", 1: "upstream", 2: "sideways"}
    monkeypatch.setattr(checks, "is_even", lambda solution: False)
    assert said() == {0: "toward the tail", 1: "upstream", 2: "to the left", 3: "to the right"}


def test_a_batch_is_its_rigs():
    rig = Rig(read_case_text(HERON))
    weights, feet = np.array([2780.0, 4100.0]), np.array([-7.0, 3.0])
    keys = {"plant.weight": weights, "plant.foot.0.downstream": feet, "plant.foot.1.downstream": feet}
    whole = assess(varied(rig, keys))
    for i in range(2):
        alone = assess(varied(rig, {key: values[i] for key, values in keys.items()}))
        for one, two in zip(whole.worst, alone.worst, strict=True):
            if one.check.group == "plant":
                assert float(one.utilization[i]) == pytest.approx(float(two.utilization))
        assert bool(whole.over[i]) == bool(alone.over)


def test_cures_do_what_they_say(study):
    """The ballast brings the ratio to just what is asked; an inch less of foot does not."""
    ballast = study.ballast
    assert ballast.feet == (2,)  # over the nose jack
    own, more = 2780.0, ballast.weight
    rig = Rig(read_case_text(HERON))
    at = {
        f"plant.cg_{axis}": (own * float(rig.number(f"plant.cg_{axis}")) + more * place) / (own + more)
        for axis, place in zip(("downstream", "across", "height"), ballast.at, strict=True)
    }
    with_it = plant_study(assess(varied(rig, {"plant.weight": own + more, **at})), cures=False)
    assert min(one.ratio for one in with_it.tipping if one.ratio) == pytest.approx(1.5, abs=1e-6)
    (move,) = study.moves
    assert move.feet == (0, 1)
    for by, enough in ((move.by, True), (move.by - 1.0, False)):
        keys = {f"plant.foot.{i}.downstream": -7.0 + by for i in move.feet}
        assert plant_study(assess(varied(rig, keys)), cures=False).over != enough


def test_level_ground_is_kinder_to_a_plant_that_tips(study):
    (tail,) = (one for one in study.tipping if one.way == "downstream")
    assert tail.ratio < tail.level < 1.0
    assert tail.row.state == "digout" and tail.by_state["empty"] > 1.5


def test_the_road_is_that_of_the_hand(heron, study):
    """Without the box 2780 (51 - 36) / 122 on the tongue; folded, the box's weight at its place behind the hinge."""
    assert float(study.bare.tongue) == pytest.approx(2780 * 15 / 122)
    road = heron.solution.road
    row = next(i for i, one in enumerate(road.rows) if one.variant.get("direction") == "forward")
    weight, (s, _, n) = road.service.weight[row], road.service.center[row]
    angle = np.radians(101.0) - np.arctan(1.75 / 12.0)
    x = s * np.cos(angle) - (n + 1.5) * np.sin(angle)
    assert float(study.folded.tongue) == pytest.approx((2780 * 15 + weight * (-36 - x)) / 122)
    assert {flag.code for flag in heron.flags} >= {"tongue_light"}


@pytest.mark.parametrize("width", [60, 80])
def test_the_screen_is_one_screen(heron, study, width):
    told = plant_result(study, assessment=heron)
    lines = plant_screen(told, look=Look(width)).splitlines()
    assert max(map(len, lines)) <= width
    assert width < 80 or len(lines) <= 45
    assert told["verdict"] == "over" and json.dumps(told, allow_nan=False)


def test_the_command_speaks_si_and_json(capsys):
    case = str(CASES / "heron-shelf.toml")
    assert main(["plant", case, "--json", "--units", "si"]) == 1
    told = json.loads(capsys.readouterr().out)
    assert told["schema"] == "rigcheck.plant/1" and told["units"]["force"] == "N"
    assert told["road"]["bare"]["tongue"] == pytest.approx(2780 * 15 / 122 * 4.4482216152605)
    assert main(["plant", str(CASES / "larkspur-bar.toml")]) == 0
    assert "tipping not assessed" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (('across = "-27 in"', 'across = "27 in"'), "within 6 in of one line"),
        (('[[plant.foot]]\nname = "nose jack"\ndownstream = "-131 in"\nacross = "0 in"\n', ""), "there are 2 feet"),
        (('tongue = "-158 in"', 'tongue = "-40 in"'), "a trailer needs 24 in"),
    ],
)
def test_a_plant_that_cannot_be_is_refused(change, said):
    assert change[0] in HERON
    text = HERON.replace(*change).replace('name = "left tail jack"\ndownstream = "-7 in"', 'downstream = "-7 in"')
    with pytest.raises(CaseError, match=said):
        read_case_text(text)


def test_a_described_plant_moves_no_other_number():
    bare = HERON[: HERON.index("[plant]")] + HERON[HERON.index("[box]") :]
    one, two = solve(Rig(read_case_text(bare))), solve(Rig(read_case_text(HERON)))
    assert np.array_equal(one.demand.tension, two.demand.tension)
