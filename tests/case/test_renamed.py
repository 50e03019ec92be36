"""Keys, words, options and load cases that have a new name: the old one is refused with the new one named."""

import tomllib
from copy import deepcopy
from typing import Any

import pytest

from rigcheck.case import CaseError, check_case
from rigcheck.cli.entry import main
from rigcheck.studies.vary.variable import variable
from tests.support.whole_rig import starter_text

LINK = {"kind": "lever hoist", "wll": "2200 lb", "rated_to_suspend": True, "lift": "60 in", "headroom": "14 in"}
ROPE = {"kind": "wire rope", "mbf": "9000 lb", "termination": "hand splice", "bend_diameter": "1 in"}
BRACE = {"foot_downstream": "-24 in", "foot_below": "40 in", "top_below": "8 in", "shape": "L2x2x1/4"}
ADDED = {
    "drag": {}, "ice": {"full": False}, "measured": {}, "factors": {}, "mat": {"weight": "1.6 lb/ft2"},
    "line": {"link": [LINK, ROPE], "backup": [deepcopy(LINK), deepcopy(ROPE)]},
    "second_line": {"at": "75 in", "downstream": "-50 in", "link": [deepcopy(LINK), deepcopy(ROPE)]},
}  # fmt: skip

KEYS = [
    ("factors.reserve", "tight_above", "80 %"),
    ("factors.line_lost", "line_broken", 2.5),
    ("perch.forward", "downstream", "-30 in"),
    ("perch.post.brace.foot_forward", "foot_downstream", "-24 in"),
    ("second_line.forward", "downstream", "-50 in"),
    ("hinge.keeper", "pin_retained", True),
    ("line.keeper_slack", "backup_slack", "1/8 in"),
    ("measured.dry_weight", "empty_weight", "600 lb"),
    ("mat.cover", "coverage", "80 %"),
    ("ice.cover", "depth", "2 in"),
    ("water.solids_gravity", "solids_sg", 2.7),
    ("rail.floor_strip", "effective_floor_width", "1 in"),
    ("rail.roll_told", "roll_reported", "1 deg"),
    ("haul.travel", "leading_end", "head"),
    *(
        (f"{table}.{row}.{old}", new, value)
        for table in ("line.link", "line.backup", "second_line.link")
        for row, old, new, value in (
            (0, "travel", "lift", "60 in"), (0, "closed_length", "headroom", "14 in"),
            (0, "suspends", "rated_to_suspend", True), (1, "ends", "termination", "hand splice"),
            (1, "bend_over", "bend_diameter", "1 in"),
        )
    ),
]  # fmt: skip
TABLES = [("drag", "towing", {"vertical": 2.5}), ("line.keeper", "backup", [LINK])]
WORDS = [
    ("haul.leading_end", "head first", "head"), ("haul.leading_end", "tail first", "tail"),
    ("haul.leading_end", "left first", "left"), ("haul.leading_end", "right first", "right"),
    ("haul.stop.0.direction", "forward", "downstream"), ("haul.stop.0.direction", "rearward", "upstream"),
    ("haul.stop.0.direction", "+x", "downstream"), ("haul.stop.0.direction", "-x", "upstream"),
    ("haul.stop.0.direction", "+y", "left"), ("haul.stop.0.direction", "-y", "right"),
    ("haul.stop.0.direction", "+z", "up"), ("haul.stop.0.direction", "-z", "down"),
]  # fmt: skip


@pytest.fixture
def data() -> dict[str, Any]:
    whole = tomllib.loads(starter_text())
    del whole["line"]
    for table, keys in deepcopy(ADDED).items():
        whole.setdefault(table, {}).update(keys)
    whole["towing"] = whole.pop("drag") | {"vertical": 2.0}
    whole["perch"]["post"]["brace"] = dict(BRACE)
    check_case(whole)
    return whole


def table_of(data: Any, path: str) -> tuple[Any, str]:
    *above, last = path.split(".")
    for step in above:
        data = data[int(step)] if step.isdigit() else data[step]
    return data, last


def told(data: Any) -> list[str]:
    with pytest.raises(CaseError) as caught:
        check_case(data)
    return [str(one) for one in caught.value.problems]


@pytest.mark.parametrize(("old", "new", "value"), KEYS, ids=[old for old, _, _ in KEYS])
def test_an_old_key_is_refused_and_the_line_to_write_instead_reads(data, old, new, value):
    table, last = table_of(data, old)
    table.pop(new, None)
    table[last] = value
    (problem,) = told(data)  # and no second problem of a key that is missing
    assert "has a new name" in problem
    advice = tomllib.loads(problem.partition("; write ")[2])
    assert advice == {new: value}
    del table[last]
    table.update(advice)
    check_case(data)


@pytest.mark.parametrize(("old", "new", "value"), TABLES)
def test_an_old_table_is_refused_with_its_new_name(data, old, new, value):
    table, last = table_of(data, old)
    table.pop(new, None)
    table[last] = value
    (problem,) = told(data)
    opening = problem.partition("; write ")[2]
    assert opening == (f"[[line.{new}]]" if isinstance(value, list) else f"[{new}]")
    del table[last]
    table[new] = value
    check_case(data)


@pytest.mark.parametrize(("key", "old", "new"), WORDS)
def test_an_old_word_is_refused_and_the_new_one_reads(data, key, old, new):
    table, last = table_of(data, key)
    table[last] = old
    (problem,) = told(data)
    assert tomllib.loads(problem.partition("; write ")[2]) == {last: new}
    table[last] = new
    check_case(data)


def test_an_old_word_under_an_old_key_is_answered_with_both_new_ones(data):
    data["haul"]["travel"] = "tail first"
    del data["haul"]["leading_end"]
    (problem,) = told(data)
    assert problem.endswith('haul.travel: has a new name, haul.leading_end; write leading_end = "tail"')


@pytest.mark.parametrize("old", ["perch.forward", "line.link[1].travel"])
def test_an_old_key_after_vary_is_told_its_new_name(data, old):
    with pytest.raises(CaseError, match="has a new name; write"):
        variable(check_case(data), old)


def test_an_old_option_and_an_old_load_case_are_told_their_new_names(tmp_path, capsys):
    place = tmp_path / "box.toml"
    place.write_text(starter_text())
    assert main(["hardware", str(place), "--reserve", "80"]) == 2
    assert "--max-utilization" in capsys.readouterr().err
    for old, new in (("dry", "empty"), ("cleanup", "cleanout"), ("dragging", "towing"), ("line_lost", "line_broken")):
        assert main(["working", str(place), "--part", "line", "--state", old]) == 2
        assert f"--state: {old}: has a new name; write {new}" in capsys.readouterr().err
