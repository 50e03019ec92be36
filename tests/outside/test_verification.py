"""The committed page says what the declared values and the code say."""

import re

import pytest

from tests.bench import mutate
from tests.outside import values, verification


def test_page_is_up_to_date():
    trouble = verification.gather()
    assert not trouble, trouble
    committed = verification.PAGE.read_text(encoding="utf-8")
    shown = {}
    for name, declared in values.declarations().items():
        row = re.search(rf"^\| `{re.escape(name)}` \|(?:[^|\n]|(?<=\\)\|)*\|[^|\n]*\| ([^ |\n]+) \|", committed, re.M)
        assert row is not None, f"{name} is not on the page; run python -m tests.outside.verification"
        shown[name] = row[1]
        last_digit = 10.0**-declared.decimals
        assert abs(float(row[1]) - values.results[name]) <= 0.5001 * last_digit, f"{name} has changed"
    assert verification.page(shown) == committed, "run python -m tests.outside.verification"


def test_check_refuses_a_value_outside_its_tolerance():
    name, declared = next(iter(values.declarations().items()))
    before = dict(values.results)
    with pytest.raises(AssertionError, match=re.escape(name)):
        values.check(name, declared.number + 1.01 * declared.tolerance + 1e-9 * abs(declared.number))
    with pytest.raises(AssertionError, match=re.escape(name)):
        values.check(name, float("nan"))
    values.results.clear()
    values.results.update(before)


@pytest.mark.parametrize(("printed", "places"), [("45.0", 1), ("105", 0), (".83", 2), ("1.2e3", -2), ("0.0000107", 7)])
def test_decimals_of_a_printed_number(printed, places):
    assert values.decimals(printed) == places


def test_no_tolerance_lets_everything_pass():
    for declared in values.declarations().values():
        assert declared.tolerance <= 0.05 * abs(declared.number), declared.id
        assert declared.source and declared.clause and declared.known in ("seen", "memory"), declared.id


def test_constants_that_may_move_unnoticed_are_few_and_explained():
    moved, caught = verification.noticed()
    assert moved > 300
    assert moved - caught <= 0.05 * moved
    for row in verification.measured("mutation"):
        alive = int(row["changed"]) - int(row["caught"])
        places = re.findall(r"line (\d+), ", row["survivors"])
        assert len(places) == alive, row["module"]
        for told in row["survivors"].split("; ") if alive else []:
            assert re.fullmatch(r"(line \d+, [\d.e+-]+(, )?)+: .{20,}", told), told


def test_what_was_drawn_by_lot_is_told_with_its_survivors():
    for row in verification.measured("sample"):
        moved, caught = int(row["changed"]), int(row["caught"])
        assert 0 < moved <= int(row["of"]), row["rooms"]
        assert "constants" in row["rooms"] or moved - caught <= 0.05 * moved, row["rooms"]
        told = [] if row["survivors"] == "none" else row["survivors"].split("; ")
        places = [re.findall(r"line (\d+), ", one) for one in told]
        assert sum(map(len, places)) == moved - caught, row["rooms"]
        for one in told:
            assert re.fullmatch(r"((\w+\.py )?line \d+, [\w.+-]+(, )?)+: .{20,}", one), one


def test_every_module_of_strength_and_statics_with_a_constant_was_moved():
    listed = {row["module"] for row in verification.measured("mutation")}
    top = verification.PAGE.parents[1]
    for room in ("strength", "statics"):
        for path in (top / "rigcheck" / room).rglob("*.py"):
            module = str(path.relative_to(top))
            assert module in listed or not any(mutate.spots(module)), module
