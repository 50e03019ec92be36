"""The hung box beside a tail leg and a second pair of lines: what is compared, what counts, what is said."""

import json
from pathlib import Path

import numpy as np
import pytest

from rigcheck.analysis.rows import worst
from rigcheck.assessment.assess import assess
from rigcheck.case.errors import CaseError
from rigcheck.case.models.case import Link, SecondLine, TailLeg
from rigcheck.case.reading.read import read_case_text
from rigcheck.case.rig import Rig
from rigcheck.cli import main
from rigcheck.output.props.screen import props_screen
from rigcheck.output.props.view import props_result
from rigcheck.output.screen import Look
from rigcheck.studies.props.options import HUNG, LEG, PAIR
from rigcheck.studies.props.propped import states_of
from rigcheck.studies.props.study import Arrangement, props
from rigcheck.studies.remedies.props import prop_remedies
from rigcheck.studies.remedies.record import applied
from rigcheck.studies.remedies.study import remedies
from rigcheck.studies.vary.case import with_values

from .rigs import SOUND, case_of, rig_of

STATES = ("empty", "running", "surge", "plugged", "packed", "lopsided", "cleanout", "digout", "iced", "towing")
ROOT = Path(__file__).parents[2]
LEG_KEYS = '[tail_leg]\nat = "85 in"\nstiffness = "6000 lb/in"\ncapacity = "900 lb"\n'
PAIR_KEYS = '[second_line]\nat = "78 in"\ndownstream = "-19 in"\nperch_height = "70 in"\n'


def named(rig: Rig) -> dict[str, Arrangement]:
    return {one.name: one for one in props(rig)}


@pytest.fixture(scope="module")
def found() -> dict[str, Arrangement]:
    return named(rig_of(SOUND + LEG_KEYS + PAIR_KEYS))


@pytest.mark.parametrize("text", [SOUND, (ROOT / "cases" / "cinder-fork.toml").read_text(encoding="utf-8")])
def test_the_hung_box_is_the_one_that_check_judges(text):
    rig = Rig(read_case_text(text))
    checked = assess(rig)
    solution = checked.solution
    rows = solution.states(*STATES) & ~np.array([row.ultimate for row in solution.rows])
    hung = {(use.part, use.mode): use for use in named(rig)[HUNG].uses}
    compared = 0
    for one in checked.worst:
        if one.check.on_accidents or one.check.group in ("road", "fold"):
            continue
        there = worst(one.check, allowed=solution.allowed & rows[:, None], shape=solution.shape)
        if float(there.utilization) < 0.0:
            continue
        compared += 1
        use = hung[one.check.part, one.check.mode]
        assert use.utilization == pytest.approx(float(there.utilization), rel=1e-9), use.part
        if not use.snag:
            assert use.state == solution.rows[int(there.state)].state
    assert compared > 20


def test_supports_take_load_off_the_lines_and_a_leg_bends_the_rail_the_other_way(found):
    hung = found[HUNG].values
    for name in (LEG, PAIR):
        for state in ("running", "plugged", "packed", "cleanout"):
            here = found[name].values[state]
            assert 0.0 < here["extra"][0] < here["extra"][1]
            assert here["line"][0] < here["line"][1] < hung[state]["line"][1]
            if state in ("plugged", "packed"):  # on two lines; on one the twist of the open box outweighs it
                assert here["sagging"][1] > hung[state]["sagging"][1]
            assert here["tail_deflection"][1] <= hung[state]["tail_deflection"][1] + 1e-12
    assert found[LEG].values["towing"]["extra"] == (0.0, 0.0)
    assert found[LEG].values["towing"]["line"] == pytest.approx(hung["towing"]["line"], rel=1e-9)
    assert found[PAIR].values["towing"]["extra"][0] > 0.0


def test_forces_at_the_hinge_are_those_of_the_hung_box(found):
    """The most of either hinge group, and what lifts it, over every way of sharing of a state."""
    solution = states_of(rig_of())
    hinge, allowed = (
        solution.demand.hinge,
        np.broadcast_to(solution.allowed[..., None], solution.demand.hinge.shape[:-1]),
    )
    for state in ("empty", "packed", "towing"):
        forces = hinge[solution.states(state)][allowed[solution.states(state)]]
        values = found[HUNG].values[state]
        assert values["hinge"][1] == pytest.approx(np.linalg.norm(forces, axis=-1).max())
        assert values["uplift"][1] == pytest.approx(max(-forces[:, 2].min(), 0.0))


def test_a_leg_that_may_give_way_is_no_better_than_none():
    rig = rig_of(SOUND + '[tail_leg]\nat = "85 in"\n')
    both = named(rig)
    uses = {(use.part, use.mode): use.utilization for use in both[LEG].uses}
    for use in both[HUNG].uses:
        assert uses[use.part, use.mode] >= use.utilization - 1e-12
    for state in STATES:
        assert both[LEG].values[state]["line"][1] == pytest.approx(both[HUNG].values[state]["line"][1], rel=1e-9)
        assert both[LEG].values[state]["extra"][0] == 0.0


def test_the_support_itself_is_held_against_what_is_known_of_it(found):
    leg = next(use for use in found[LEG].uses if use.part == "tail leg")
    most = max(found[LEG].values[state]["extra"][1] for state in STATES)
    assert leg.utilization == pytest.approx(most / 900.0, rel=1e-9) and leg.firm
    second = [use for use in found[PAIR].uses if use.group == "props"]
    assert sorted(use.part.partition(":")[0] for use in second) == [f"second line link {i}" for i in (1, 2, 3)]
    own = Link(kind="rated part", wll=500.0, stiffness=9000.0)
    pair = SecondLine(at=78.0, downstream=-19.0, perch_height=70.0, link=(own,))
    with_own = named(Rig(with_values(case_of(), {"second_line": pair})))[PAIR]
    (use,) = (use for use in with_own.uses if use.group == "props")
    most = max(with_own.values[state]["extra"][1] for state in STATES)
    assert use.part == "second line link 1: rated part"
    assert use.utilization == pytest.approx(most / (500.0 * 0.95), rel=1e-9)  # 5 % wear, as on every line


def test_a_gap_and_a_slack_second_pair_take_less_when_soft():
    tight = named(Rig(with_values(case_of(), {"tail_leg": TailLeg(at=85.0, stiffness=6000.0)})))[LEG]
    loose = named(Rig(with_values(case_of(), {"tail_leg": TailLeg(at=85.0, stiffness=6000.0, gap=0.05)})))[LEG]
    for state in ("running", "packed"):
        low, high = loose.values[state]["extra"]
        assert low < tight.values[state]["extra"][0]
        assert high == pytest.approx(tight.values[state]["extra"][1], rel=1e-9)  # firm: somebody jacked it snug


def test_a_check_counts_on_neither_and_says_so():
    plain, described = assess(rig_of()), assess(rig_of(SOUND + LEG_KEYS + PAIR_KEYS))
    assert float(described.utilization) == pytest.approx(float(plain.utilization), rel=1e-12)
    (flag,) = (flag for flag in described.flags if flag.code == "prop_not_counted")
    assert "rigcheck props" in flag.text and "tail leg" in flag.text and "second pair" in flag.text and not flag.stops
    assert not any(flag.code == "prop_not_counted" for flag in plain.flags)


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ('[tail_leg]\nat = "8 ft"\n', "tail_leg.at: 96 in is past the tail of the box"),
        ('[tail_leg]\nat = "80 in"\nstiffnes = "1 lb/in"\n', "tail_leg.stiffnes: there is no such key; nearest: stiff"),
        ('[second_line]\nat = "92 in"\ndownstream = "-20 in"\n', "second_line.at: 92 in is past the tail of the box"),
        ('[second_line]\nat = "80 in"\n', "second_line.downstream: is missing"),
        ('[second_line]\nat = "80 in"\ndownstream = "-6 in"\n',
         "second_line.downstream: puts the second perch on the first"),
        (
            '[second_line]\nat = "80 in"\ndownstream = "0 in"\nperch_height = "0.1 in"\n',
            "second_line.downstream: puts the second perch at the hinge",
        ),
        ('[second_line]\nat = "80 in"\ndownstream = "-20 in"\n[[second_line.link]]\nkind = "hook"\n',
         "second_line.link[1].wll: is missing"),
        ('[second_line]\nat = "80 in"\ndownstream = "-20 in"\n[[second_line.link]]\nkind = "hook"\nwll = "900 lb"\n'
         'carries = "lead"\n', 'second_line.link[1].carries: is "lead"'),
    ],
)  # fmt: skip
def test_mistakes_are_told_with_their_key(keys, said):
    with pytest.raises(CaseError) as caught:
        read_case_text(SOUND + keys, name="box.toml")
    assert any(said in str(problem) for problem in caught.value.problems), caught.value.problems


def test_remedies_of_props_come_to_what_they_state():
    """Cinder Fork with nobody on it, over the day it packs."""
    text = (ROOT / "cases" / "cinder-fork.toml").read_text(encoding="utf-8")
    rig = Rig(read_case_text(f"{text}\n[person]\npeople = 0\n"))
    before = assess(rig)
    offered = {one.steps[0].family: one for one in prop_remedies(before)}
    assert set(offered) == {"tail_leg", "second_line"}
    solution = before.solution
    others = ~solution.states(*STATES)
    lost = np.array([row.ultimate for row in solution.rows])

    def elsewhere(check) -> float:
        rows = others & (lost if check.on_accidents else ~lost)
        return float(worst(check, allowed=solution.allowed & rows[:, None], shape=solution.shape).utilization)

    left = max(elsewhere(one.check) for one in before.worst)
    for family, name in (("tail_leg", LEG), ("second_line", PAIR)):
        one = offered[family]
        after = named(Rig(applied(rig.case, one)))[name]
        assert after.described
        assert one.utilization == pytest.approx(max(left, after.uses[0].utilization), rel=1e-9)
        assert one.cures and one.counted == "props" and one.utilization < float(before.utilization)
        assert float(assess(Rig(applied(rig.case, one))).utilization) == pytest.approx(float(before.utilization))
    assert any(one.counted == "props" for one in remedies(rig, found=before))


def test_what_stops_the_hung_box_is_cured_by_no_support():
    text = SOUND.replace('kind = "wire rope"\n', 'kind = "come-along"\nwll = "3000 lb"\nrated_to_suspend = false\n'
                         '[[line.link]]\nkind = "wire rope"\n', 1)  # fmt: skip
    rig = rig_of(text)
    every = props(rig)
    assert all(one.over and one.stops == ("pull_only_holds",) for one in every)
    told = props_result(every, rig=rig)
    assert all(one["verdict"] == "over" and one["utilization"] is None for one in told["arrangements"])
    assert "a pull-only come-along holds the box" in told["headline"]
    assert not any(one.cures for one in prop_remedies(assess(rig)))


@pytest.mark.parametrize(("system", "width"), [("us", 60), ("us", 100), ("si", 80)])
def test_the_screen_tells_what_the_json_holds(found, system, width):
    rig = rig_of(SOUND + LEG_KEYS + PAIR_KEYS)
    told = props_result(list(found.values()), rig=rig, system=system)
    json.dumps(told, allow_nan=False)
    screen = props_screen(told, look=Look(width))
    flat = " ".join(screen.split())
    assert screen.isascii() and max(map(len, screen.splitlines())) <= width
    assert all(" ".join(sentence.split()) in flat for sentence in (told["headline"], *told["answer"]))
    for text in (*told["assumptions"], *told["cautions"]):
        assert " ".join(text.split()) in flat
    assert "while the plant is towed" in flat and "NOT counted" in flat
    assert "describes no" not in flat and all(one["described"] for one in told["arrangements"])
    assert told["arrangements"][1]["values"]["towing"]["tail_deflection"] == [None, None]


def test_the_command_compares_what_one_would_try_first_where_nothing_is_described(capsys, tmp_path):
    case = ROOT / "cases" / "larkspur-bar.toml"
    assert main(["props", str(case)]) == 0
    assert "describes no tail leg and no second pair" in " ".join(capsys.readouterr().out.split())
    assert main(["props", str(case), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["schema"] == "rigcheck.props/2" and [one["name"] for one in told["arrangements"]] == [HUNG, LEG, PAIR]
    short = tmp_path / "short.toml"
    at_hinge = SOUND.replace('"-7 in"', '"12 in"').replace('"61 in"', '"1/2 in"')  # where the second perch would be
    short.write_text(at_hinge, encoding="utf-8")
    assert main(["props", str(short), "--json"]) in (0, 1, 3)
    assert [one["name"] for one in json.loads(capsys.readouterr().out)["arrangements"]] == [HUNG, LEG]
    assert main(["props", str(tmp_path / "none.toml")]) == 2
