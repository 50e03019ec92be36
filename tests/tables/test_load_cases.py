"""One record a load case: each once, and a made-up one that every command takes."""

import json
from pathlib import Path

import pytest

from rigcheck.assessment.assess import assess
from rigcheck.case import read_case
from rigcheck.case.rig import Rig
from rigcheck.cli import main
from rigcheck.loads import states
from rigcheck.loads.contents import bed_layer
from rigcheck.loads.filling import Layer, even
from rigcheck.loads.shape import reaches
from rigcheck.tables import load_cases
from rigcheck.tables.load_cases import LOAD_CASES, LoadCase, ids, load_case
from rigcheck.wording.words import bound_word, state_opening, state_word

CASE = Path(__file__).parents[2] / "cases" / "larkspur-bar.toml"
PLANT = CASE.with_name("heron-shelf.toml")  # with its plant and tie-downs described
MADE_UP = LoadCase(id="silted", opening="With silt to half its sides", words="silted up", hung=True, propped=True,
                   shown_propped=True, at_rest=True, measurable=True)  # fmt: skip
SILT = 3600.0 / 1728.0 * 2.0  # lbf/in3; far heavier than gravel, so that it governs


def silted(parts):
    """Half the side height of something very heavy over the bed."""
    rig = parts.rig
    half = 0.5 * rig.number("box.side_height")
    (box,) = reaches(rig)
    heavy = even(box, Layer(name="silt", bottom=rig.number("bed.depth"), depth=(half, half), density=SILT))
    return [states._hung(parts, MADE_UP.id, strips=[*bed_layer(rig), *heavy])]


@pytest.fixture
def one_more(monkeypatch):
    """The life of the box has one load case more: a record, a function, an entry."""
    monkeypatch.setattr(load_cases, "LOAD_CASES", (*LOAD_CASES[:9], MADE_UP, *LOAD_CASES[9:]))
    monkeypatch.setitem(states.LEVEL, MADE_UP.id, silted)


def test_each_load_case_stands_once_and_has_its_words():
    assert len({*ids(lambda case: True)}) == len(LOAD_CASES) == 16
    assert all(case.opening and case.name for case in LOAD_CASES)
    assert {*states.LEVEL} == {*ids(lambda case: case.hung)}
    assert not any(case.hung and (case.folded or case.moving) for case in LOAD_CASES)
    assert all(case.hung for case in LOAD_CASES if case.measurable or case.at_rest or case.left_alone)


def test_a_word_that_is_no_load_case_says_itself():
    plain = load_case("spring_melt")
    assert plain.name == "spring melt" and plain.opening == "In the load case spring melt"
    assert not plain.hung and not plain.folded


def test_a_made_up_load_case_is_solved_broken_and_governs(one_more):
    found = assess(Rig(read_case(CASE)))
    rows = found.solution.rows
    assert any(row.state == "silted" for row in rows)
    assert any(row.state == "line_broken" and row.variant["while"] == "silted" for row in rows)
    assert {load.name for row in rows if row.state == "silted" for load in row.strips} == {
        "empty box along its length", "bed", "silt"
    }  # fmt: skip
    assert rows[int(found.worst[int(found.governing)].state)].state in ("silted", "line_broken")
    assert (state_word("silted"), state_opening("silted")) == ("silted up", "With silt to half its sides")
    assert bound_word("limp", state="silted")


@pytest.mark.parametrize(
    ("command", "case", "said"),
    [
        ("check --json", CASE, "silted"),
        ("check --all", CASE, "silted up"),
        ("props", CASE, "silted up"),
        ("proof --json", CASE, "silted"),
        ("field --json --state silted --load-cell 900lb", CASE, "silted"),
        ("working --json --state silted --part line", CASE, "silt"),
        ("card --json", CASE, "silted"),
        ("spread --samples 20 --json", CASE, ""),
        ("fold", CASE, ""),
        ("haul", PLANT, ""),
        ("plant --json", PLANT, "silted"),
    ],
)
def test_commands_take_the_made_up_load_case(command, case, said, one_more, capsys):
    name, *more = command.split()
    code = main([name, str(case), *more])
    out = capsys.readouterr().out
    assert code in (0, 1, 3), out
    assert said in out
    if "--json" in more:
        json.loads(out)
