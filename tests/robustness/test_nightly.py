"""The script of the night: a few of its steps, and that what is wrong is counted and said."""

import pytest

from tests.bench.nightly import Kind, kinds, step, summary, wrong_with


@pytest.mark.parametrize(("name", "steps"), [("faults", 2), ("relations", 1), ("commands", 2)])
def test_some_steps_of_a_night(name, steps, tmp_path):
    kind = kinds()[name]
    for number in range(steps):
        step(name, kind, seed="suite", number=number, folder=tmp_path)
    assert (kind.steps, kind.wrong) == (steps, [])
    assert f"{name}: {steps} run in " in summary({name: kind}, seed="suite", minutes=1.0)


def test_a_step_that_fails_is_wrong_and_does_not_end_the_night(tmp_path, capsys):
    def broken(*_: object) -> list[str]:
        raise ZeroDivisionError("by nothing")

    kind = Kind(1.0, broken)
    step("broken", kind, seed="suite", number=7, folder=tmp_path)
    assert kind.wrong == ["broken 7: ZeroDivisionError: by nothing"] and kind.wrong[0] in capsys.readouterr().out
    assert "1 wrong" in summary({"broken": kind}, seed="suite", minutes=1.0)


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
