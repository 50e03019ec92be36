"""A small share of the frozen outputs; `python -m tests.contract.compare` holds all of them to what they were."""

import pytest

from tests.contract import arrays
from tests.contract.calls import CASES, COMMANDS, Call, answer, calls, hashed
from tests.contract.frozen import PLAIN, stored
from tests.contract.once import asked_once
from tests.support.lot import call

ANEW = "where this was meant: python -m tests.contract.write, and a line under Results change"
SLOW = {"hardware", "report", "spread", "length"}
"""Commands that only the whole comparison runs."""
SHARE = {"tollgate-riffle": "us", "cinder-fork": "si"}
"""Cases of the share, each in one system of units."""


@pytest.mark.parametrize("case", SHARE)
def test_commands_answer_as_they_did(case, tmp_path):
    chosen = [
        asked
        for command in COMMANDS
        if command not in SLOW
        for asked in calls(command, case=case)
        if asked.units == SHARE[case] and asked.options not in ("--remedies", "--confirm")
    ]
    assert {asked.form for asked in chosen} == {"screen", "json", "html"}
    with asked_once():
        wrong = [asked.name for asked in chosen if _differs(asked, folder=tmp_path)]
    assert wrong == [], ANEW


def _differs(asked: Call, *, folder) -> bool:
    return stored(asked.command)[asked.name] != hashed(answer(asked, folder=folder))


@pytest.mark.parametrize("name", PLAIN)
def test_calls_without_a_case_answer_as_they_did(name):
    assert hashed("\n".join(map(str, call(*PLAIN[name])))) == stored("plain")[name], ANEW


def test_a_batch_of_random_rigs_is_as_it_was():
    batch = arrays.BATCHES[0]
    frozen = {name: value for name, value in stored("arrays").items() if name.startswith(f"{batch}/")}
    assert dict(arrays.lines(batch)) == frozen, ANEW


def test_every_answer_is_frozen():
    for command in COMMANDS:
        assert set(stored(command)) == {asked.name for case in CASES for asked in calls(command, case=case)}


def test_another_number_gives_another_hash():
    assert hashed("0.85") != hashed("0.86")
