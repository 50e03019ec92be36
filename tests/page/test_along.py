"""Answers worked out together for numbers that differ in one key are those that each of them gets by itself."""

import copy
import tomllib

import pytest

from rigcheck.page.along import answers_along
from rigcheck.page.answer import answered
from tests.page.running import ROOT


def test_what_differs_in_more_than_the_key_is_answered_by_itself():
    own = tomllib.loads((ROOT / "cases" / "larkspur-bar.toml").read_text(encoding="utf-8"))

    def changed(at: str, **more: dict[str, str]) -> dict:
        data = copy.deepcopy(own)
        data["hanger"]["at"] = at
        for table, keys in more.items():
            data[table] |= keys
        return data

    numbers = [changed("78 in"), changed("82 in"), changed("80 in", bed={"depth": "3 in"}), changed("many inches")]
    like = answered(own, hash="own", name="own", system="us")
    found = answers_along(numbers, key="hanger.at", like=like, name="own", system="us")
    alone = [answered(one, hash="x", name="own", system="us") for one in numbers]
    assert [one.word for one in found] == [one.word for one in alone] and found[3].word == "no answer"
    for one, other in zip(found[:3], alone[:3], strict=True):
        assert one.told["governing"]["part"] == other.told["governing"]["part"]
        assert one.told["highest_utilization"] == pytest.approx(other.told["highest_utilization"], rel=1e-12)
    used = [one.told["highest_utilization"] for one in found[:3]]
    assert len(set(used)) == 3
