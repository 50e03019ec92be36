"""The picture of a box in stretches: drawn as the record says, its tail not dragged, and said why."""

import tomllib
from pathlib import Path

import pytest

from rigcheck.output.drawing.grips import LOCKED
from rigcheck.page.answer import answered
from rigcheck.page.picture import picture

ROOT = Path(__file__).parents[2]


@pytest.mark.parametrize(("name", "locked"), [("tests/outside/data/hazel-apron", True), ("cases/larkspur-bar", False)])
def test_the_tail_of_a_box_in_stretches_has_no_grip_and_a_reason(name, locked):
    data = tomllib.loads((ROOT / f"{name}.toml").read_text(encoding="utf-8"))
    answer = answered(data, hash="x", name=name, system="us")
    shown = picture(answer, view="side", system="us", data=data)
    keys = {grip["key"] for grip in shown["grips"]}
    assert ("box.length" in keys) is not locked and {"hanger.at", "perch.height", "bed.depth"} <= keys
    assert (LOCKED in shown["caption"]) is locked
