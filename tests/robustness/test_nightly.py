"""The script of the night: a few of its steps, and that what is wrong is counted and said."""

from argparse import Namespace

import pytest

from tests.bench import nightly
from tests.bench.nightly import Kind, kinds, note, step, steps, summary, wrong_with


@pytest.mark.parametrize(("name", "many"), [("faults", 2), ("relations", 1), ("many", 1)])
def test_some_steps_of_a_night(name, many):
    kind = kinds()[name]
    for number in range(many):
        note(kind, step(name, "suite", number))
    assert (kind.steps, kind.wrong) == (many, [])
    assert kind.spent >= kind.slowest > 0.0 and kind.memory > 0.0
    assert f"{name}: {many} run in " in summary({name: kind}, seed="suite", minutes=1.0)


def test_a_step_that_fails_is_wrong_and_does_not_end_the_night(monkeypatch, capsys):
    def broken(_seed: str, number: int, _folder: object) -> list[str]:
        if number == 7:
            raise ZeroDivisionError("by nothing")
        return ["[fine]"]

    every = {"broken": Kind(1.0, broken)}
    monkeypatch.setattr(nightly, "kinds", lambda: every)
    for done in steps(every, given=Namespace(minutes=1.0, steps=3, workers=2, first=6, seed="suite")):
        note(every["broken"], done)
    kind = every["broken"]
    assert kind.wrong == ["broken 7: ZeroDivisionError: by nothing"] and kind.wrong[0] in capsys.readouterr().out
    assert (kind.steps, kind.counted) == (3, {"[fine]": 2})
    assert "1 wrong (fine: 2)" in summary(every, seed="suite", minutes=1.0)


@pytest.mark.parametrize(
    ("words", "code", "out", "told", "said"),
    [
        ("check", 70, "", "a bug", "exit code 70"),
        ("check", 2, "OVER", "rig.toml: no", "something on stdout"),
        ("check", 2, "", "", "without a word"),
        ("check", 0, "use nan", "", "a word that no screen shows"),
        ("fold", 0, "\x1b[2J", "", "letters that do not print"),
    ],
)
def test_each_sort_of_wrong_answer_is_seen(words, code, out, told, said):
    assert any(said in one for one in wrong_with(words, code, out, told, took=0.0))
    assert wrong_with(words, 0, "OVER", "", took=0.0) == []
    assert any("500 s" in one for one in wrong_with(words, 0, "OVER", "", took=500.0))
