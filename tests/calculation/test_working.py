"""The worked calculation on every shipped case and on changed ones: its algebra gives the engine's numbers."""

import math
import re
from dataclasses import replace

import numpy as np
import pytest

from rigcheck.assessment.assess import Assessment
from rigcheck.calculation import DisagreementError, UnknownStateError, working
from rigcheck.calculation.calculation import parts_of
from rigcheck.output.check.result import result
from rigcheck.output.report.tables import down, up
from rigcheck.output.working.words import outcome
from tests.calculation.working_rigs import NAMES, VARIANTS, changed, shipped

KNOWN = {"sqrt": math.sqrt, "cos": math.cos, "sin": math.sin, "asin": math.asin, "min": min, "max": max, "abs": abs,
         "ceil": math.ceil, "pi": math.pi}  # fmt: skip


def printed(text: str, *, unsigned: bool = False) -> float:
    """Value of the right side of a printed equation; unsigned, the size of what is added up in it."""
    right = text.partition(" = ")[2].replace("^", "**")
    right = re.sub(r"(\d) deg", rf"\1*{math.pi / 180.0!r}", right)
    right = re.sub(r"\|([^|]*)\|", r"abs(\1)", right)
    if unsigned:
        right = right.replace("-", "+")
    return float(eval(right, {"__builtins__": {}}, KNOWN))  # our own output, digits and signs only


def held(sections):
    """Every step that the engine has a number for."""
    return [step for section in sections for step in section.steps if step.engine is not None]


def agree(step) -> bool:
    size = max(abs(step.result), abs(step.engine))
    return abs(step.result - step.engine) <= 1e-9 * size or size < 1e-6


@pytest.mark.parametrize("name", NAMES)
def test_algebra_gives_the_numbers_of_the_check(name):
    found = working(shipped(name))
    parts = list(parts_of(shipped(name).solution.rig))
    assert [section.part for section in found][: len(parts)] == parts
    assert all(agree(step) for step in held(found))
    assert len(held(found)) >= 30


@pytest.mark.parametrize("name", NAMES)
def test_what_it_comes_to_is_the_highest_use_of_that_part(name):
    assessment = shipped(name)
    rows = [row for row in result(assessment)["checks"] if row["state"] not in ("parked", "hauling")]
    for section in working(assessment, ["line", "lug"]):
        parts = [row for row in rows if row["part"].startswith({"line": ("line link", "backup link"),
                                                                "lug": ("hanger lug", "perch lug")}[section.part])
                 and not row["part"].endswith(("weld", "face"))]  # fmt: skip
        assert section.utilization == pytest.approx(max(row["utilization"] for row in parts), rel=1e-12)
        assert section.steps[-1].result == pytest.approx(section.utilization, rel=1e-9)


@pytest.mark.parametrize("system", ["us", "si"])
@pytest.mark.parametrize("name", ["two-stone-pit", "fallow-ditch"])
def test_numbers_put_in_work_out_by_hand(name, system):
    steps = [step for section in working(shipped(name), system=system) for step in section.steps if step.numbers]
    assert len(steps) > 60
    for step in steps:
        value = printed(step.numbers.text) * (180.0 / math.pi if step.unit == "deg" else 1.0)
        size = max(abs(step.result), abs(printed(step.numbers.text, unsigned=True)))
        assert value == pytest.approx(step.result, abs=3e-5 * size), step.equation.text


@pytest.mark.parametrize("variant", VARIANTS)
def test_every_branch_agrees_with_the_check(variant):
    for states in (None, ["line_broken"]):
        found = working(changed(variant), states=states)
        assert all(agree(step) for step in held(found))
        assert any(section.steps for section in found)


HUNG = ("empty", "running", "surge", "plugged", "packed", "lopsided", "cleanout", "iced", "towing")


@pytest.mark.parametrize("state", HUNG)
def test_every_state_can_be_asked_for(state):
    for section in working(shipped("larkspur-bar"), states=[state]):
        if section.part not in ("ear", "brace", "road", "plant"):  # three not described, and a matter of the folded box
            assert section.steps and all(agree(step) for step in held([section]))


@pytest.mark.parametrize("name", ["kestrel-bench", "tollgate-riffle"])
@pytest.mark.parametrize("state", ["parked", "hauling"])
def test_on_the_road_hinge_and_post_go_on_from_the_forces_of_the_road(name, state):
    found = {section.part: section for section in working(shipped(name), states=[state])}
    assert found["line"].steps == () and "Nothing to work out" in found["line"].intro
    assert found["pin"].utilization is not None and all(agree(step) for step in held(found.values()))


def test_what_the_case_does_not_describe_has_no_steps_and_no_verdict():
    found = {section.part: section for section in working(changed("no post described"))}
    assert found["post"].steps == () and found["post"].verdict == "not_assessed"
    bare = {section.part: section for section in working(changed("no barrels described"))}
    assert bare["hinge"].steps and bare["hinge"].utilization is None and bare["pin"].steps == ()


def test_a_line_through_the_hinge_axis_is_told_and_not_worked():
    found = {section.part: section for section in working(changed("dead in every state"), states=["packed"])}
    for part in ("line", "hinge", "rail", "pin"):
        assert found[part].steps == () and "passes through the hinge axis" in found[part].intro
        assert found[part].utilization is None and found[part].verdict == "not_assessed"


def nudged(assessment: Assessment, **changes: float) -> Assessment:
    """The same answer with some of the engine's forces a millionth off."""
    demand = assessment.solution.demand
    wrong = {name: np.asarray(getattr(demand, name)) * factor for name, factor in changes.items()}
    return replace(assessment, solution=replace(assessment.solution, demand=replace(demand, **wrong)))


@pytest.mark.parametrize("what", ["tension", "hinge"])
def test_an_engine_that_says_otherwise_is_found_out(what):
    wrong = nudged(shipped("larkspur-bar"), **{what: 1.0 + 1e-6})
    with pytest.raises(DisagreementError, match="by the algebra"):
        working(wrong, ["line", "hinge"])


def test_parts_and_states_are_chosen():
    found = working(shipped("larkspur-bar"), ["post", "line"], states=["packed"])
    assert [section.part for section in found] == ["line", "post"]
    with pytest.raises(UnknownStateError, match="frozen is no state of this case; it has empty, "):
        working(shipped("larkspur-bar"), states=["frozen"])


def test_a_state_worked_once_is_recalled_and_not_worked_again():
    first, second = working(shipped("quarter-creek"), ["hinge", "pin"])
    assert "worked under 'hinge'" in " ".join(step.note for step in second.steps)
    assert len(second.steps) < len(first.steps) / 2


@pytest.mark.parametrize("name", NAMES)
def test_a_number_reads_the_same_wherever_it_stands(name):
    assessment = shipped(name)
    rows = {f"{row['part']}: {row['mode']}": row for row in result(assessment)["checks"]}
    for section in working(assessment):
        read: dict[str, str] = {}
        for step in section.steps:
            told = [(term.symbol.text, term.value) for term in step.terms]
            told += [(step.equation.text.partition(" = ")[0], step.answer)] if step.equation else []
            for symbol, text in told:
                assert read.setdefault(symbol, text) == text, (section.title, symbol)
        if section.unit:
            row = rows[section.title]
            told = up(row["demand"], row["unit"]), down(row["capacity"], row["unit"])
            assert outcome(section.plain()).startswith("Demand {}, allowable {}, as in the tables".format(*told))
