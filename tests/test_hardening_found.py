"""What rigs drawn by lot and mangled files brought to light, one test each."""

from pathlib import Path

import pytest

from rigcheck.case.starter import starter_text
from rigcheck.cli import main


def without(text: str, *heads: str) -> str:
    """A case without some of its tables."""
    parts = text.split("\n\n")
    return "\n\n".join(part for part in parts if part.split("\n")[0] not in heads)


@pytest.fixture
def starter(tmp_path: Path) -> Path:
    return tmp_path / "rig.toml"


@pytest.mark.parametrize("command", ["check", "fold", "haul"])
def test_a_box_without_any_lump_of_weight(command, starter, capsys):
    """Nobody to stand on the floor and no end tube leave a fold without a single lump."""
    starter.write_text(without(starter_text(), "[[fitting]]", "[end_tube]"))
    assert main([command, str(starter)]) in (0, 1), capsys.readouterr().err
