"""The exit code of a study follows from its own answer and from the whole rig, whichever is graver."""

from pathlib import Path
from types import SimpleNamespace

import pytest

from rigcheck.cli import main
from rigcheck.output import rig_words
from rigcheck.output.proof import view as proof_view
from rigcheck.output.spread import view as spread_view
from rigcheck.studies.proof import study as proof_study
from rigcheck.studies.spread import study as spread_study

CASE = str(next((Path(__file__).parents[2] / "cases").glob("larkspur-bar.toml")))


@pytest.fixture
def answered(monkeypatch):
    """Lets `proof` or `spread` answer what is given, without working anything out."""

    def put(found):
        for module, name in ((rig_words, "checked"), (proof_study, "proof"), (spread_study, "spread")):
            monkeypatch.setattr(module, name, lambda *_, **__: SimpleNamespace())
        monkeypatch.setattr(rig_words, "beside", lambda _: {})
        monkeypatch.setattr(proof_view, "proof_result", lambda *_, **__: found)
        monkeypatch.setattr(spread_view, "spread_result", lambda *_, **__: found)

    return put


@pytest.mark.parametrize(
    ("alone", "rig", "code"),
    [("over", "within", 1), ("within", "over", 1), ("over", "incomplete", 1), ("within", "incomplete", 3),
     ("tight", "tight", 0)],
)  # fmt: skip
def test_proof(answered, capsys, alone, rig, code):
    answered({"alone": {"verdict": alone}, "verdict": rig})
    assert main(["proof", CASE, "--json"]) == code


@pytest.mark.parametrize(
    ("chance", "complete", "code"), [(0.0, True, 0), (0.0, False, 3), (0.001, True, 1), (0.001, False, 1)]
)
def test_spread(answered, capsys, chance, complete, code):
    answered({"chance_over": chance, "complete": complete})
    assert main(["spread", CASE, "--json"]) == code
