"""Every command on every shipped case: one screen, the verdict first and last, words of today, JSON of its schema."""

import json
from collections.abc import Iterator
from typing import NamedTuple

import pytest
from jsonschema import Draft202012Validator

from rigcheck.output.schemas import command_schema
from tests.contract.once import asked_once
from tests.contract.schemas import CASES, commands_of
from tests.output.old_words import old_words, strings
from tests.support.lot import call

LINES, WIDE = 45, 80
VERDICTS = ("OVER", "INCOMPLETE", "TIGHT", "WITHIN", "PLANT", "TIPS", "within", "tight", "over", "pass", "agree")


class Answer(NamedTuple):
    """One command on one case: exit code, screen, complaints, its JSON, and its screen with everything."""

    code: int
    lines: list[str]
    complaints: str
    json_code: int
    json_text: str
    whole: str


@pytest.fixture(scope="module", params=CASES, ids=lambda path: path.stem)
def answers(request: pytest.FixtureRequest) -> Iterator[dict[str, Answer]]:
    """What every command says of a case, which is worked out once."""
    path = str(request.param)
    found = {}
    with asked_once():
        for command in ("check", *commands_of(request.param)):
            name, *more = command.split()
            code, screen, complaints = call(name, path, *more, "--width", str(WIDE))
            json_code, text, _ = call(name, path, *more, "--json")
            _, whole, _ = call(name, path, *more, "--all") if name != "working" else (0, "", "")
            found[name] = Answer(code, screen.splitlines(), complaints, json_code, text, whole)
    yield found


def test_one_screen(answers: dict[str, Answer]) -> None:
    for name, answer in answers.items():
        assert not answer.complaints and answer.code in (0, 1, 3), (name, answer.complaints)
        assert 0 < len(answer.lines) <= LINES, (name, len(answer.lines))
        wide = max(answer.lines, key=len)
        assert len(wide) <= WIDE, (name, wide)
        assert all(line.isprintable() and line.isascii() for line in answer.lines), name
        assert "--all" in " ".join(answer.lines[-4:]), name


def test_the_verdict_stands_first_and_last(answers: dict[str, Answer]) -> None:
    for name, answer in answers.items():
        begin = " ".join(line for line in answer.lines[:12] if line)
        last = answer.lines[-1]
        assert any(word in begin for word in VERDICTS), (name, begin)
        assert any(word in last for word in VERDICTS) or "nothing is over" in last, (name, last)


def test_what_is_not_assessed_is_told_wherever_the_rig_is_not_complete(answers: dict[str, Answer]) -> None:
    missing = json.loads(answers["check"].json_text)["not_assessed"]
    for name, answer in answers.items():
        screen = " ".join(answer.lines)
        assert not missing or "INCOMPLETE" in screen or "OVER" in screen, name
    if missing:
        assert "NOT ASSESSED" in "\n".join(answers["check"].lines)


def test_no_old_word_is_told(answers: dict[str, Answer]) -> None:
    for name, answer in answers.items():
        assert old_words("\n".join(answer.lines)) == [] == old_words(answer.whole), name
        prose = [text for text in strings(json.loads(answer.json_text)) if " " in text]
        assert [one for text in prose for one in old_words(text)] == [], name


def test_json_has_the_exit_code_of_the_screen(answers: dict[str, Answer]) -> None:
    for name, answer in answers.items():
        assert answer.json_code == answer.code, name


def test_json_is_of_the_schema_of_its_command(answers: dict[str, Answer]) -> None:
    """That of `check` is tried in tests/output/test_check_schema.py, with its options."""
    for name, answer in answers.items():
        if name != "check":
            wrong = Draft202012Validator(command_schema(name)).iter_errors(json.loads(answer.json_text))
            assert [f"{name}: {one.json_path}: {one.message[:200]}" for one in wrong] == []


def test_a_schema_sees_a_key_that_goes_and_one_that_changes_its_type(answers: dict[str, Answer]) -> None:
    found = json.loads(answers["fold"].json_text)
    validator = Draft202012Validator(command_schema("fold"))
    assert not validator.is_valid({key: value for key, value in found.items() if key != "verdict"})
    assert not validator.is_valid({**found, "title": 3}) and not validator.is_valid({**found, "schema": "fold"})
