"""What a rigger would refuse never reads within and complete: one-key changes of shipped cases (refused.toml)."""

from typing import Any

import pytest

from tests.support.refused import BASES, CHANGES, SORTS, brought, news, put, steps, told_of_base


@pytest.mark.parametrize("name", BASES)
def test_a_base_reads_well_but_for_what_it_says(name: str) -> None:
    """From a base that is over by itself every change would seem to be caught."""
    found = told_of_base(name)
    known = tuple(BASES[name]["not_assessed"])
    assert not (found.over or found.stopped or found.refused), found
    assert [one for one in found.incomplete if not any(words in one for words in known)] == []


@pytest.mark.parametrize("change", CHANGES, ids=[one["id"] for one in CHANGES])
def test_what_a_rigger_refuses_is_not_within(change: dict[str, Any]) -> None:
    new = news(change)
    assert brought(change, new=new), f"{change['key']} = {change.get('to')}: {change['why']}: {new}"


def test_the_list_is_long_and_says_why() -> None:
    assert len(CHANGES) >= 60
    assert len({one["id"] for one in CHANGES}) == len(CHANGES)
    assert {one["base"] for one in CHANGES} == set(BASES)
    assert all(one["why"] and one["source"] and one["expected"] in SORTS for one in CHANGES)
    assert {one["expected"] for one in CHANGES} == set(SORTS)


def test_a_key_path_is_read_as_people_write_it() -> None:
    assert steps("haul.tie_down[2].eyelet.plate") == ["haul", "tie_down", 1, "eyelet", "plate"]
    data = {"line": {"link": [{"wll": "1 lb"}, {"wll": "2 lb", "mbf": "9 lb"}]}}
    put(data, path="line.link[2].wll", value="3 lb")
    put(data, path="line.link[2].mbf")
    put(data, path="fold.to", value="9 deg")
    assert data == {"line": {"link": [{"wll": "1 lb"}, {"wll": "3 lb"}]}, "fold": {"to": "9 deg"}}
