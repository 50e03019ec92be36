"""Cases that are one rig get one answer: in other units, in another order, written out, in a mirror, in a batch."""

import tomllib
from math import isclose
from pathlib import Path
from random import Random

import pytest

from rigcheck.assessment.assess import assess
from rigcheck.case import CaseError, check_case
from rigcheck.case.rig import Rig
from tests.support.card_relation import card_apart
from tests.support.extreme_rigs import Data, Maker, _drawn
from tests.support.lot import batch_of, unlike_its_row
from tests.support.relations import SAME, SAME_ANSWER, STATED, answer, differences
from tests.support.scaled import KEPT_IN_INCHES, lighter, plain_rig, scaled

CASES = Path(__file__).parents[2] / "cases"
SHIPPED = ("heron-shelf", "larkspur-bar", "lower-hatch", "tollgate-riffle")
"""One with a plant, one with nothing over, one with a backup, one with splayed lines; the rest by night."""


def shipped(name: str) -> Data:
    return tomllib.loads((CASES / f"{name}.toml").read_text(encoding="utf-8"))


@pytest.mark.parametrize("relation", SAME_ANSWER)
@pytest.mark.parametrize("name", SHIPPED)
def test_a_shipped_case_is_the_same_rig(name: str, relation: str) -> None:
    data = shipped(name)
    other = SAME_ANSWER[relation](data)
    assert other != data or relation == "keys turned round"
    assert differences(data, other) == []


@pytest.mark.parametrize("relation", SAME_ANSWER)
def test_a_drawn_case_is_the_same_rig(relation: str) -> None:
    for seed in range(3):
        data = plain_case(seed)
        assert differences(data, SAME_ANSWER[relation](data)) == [], seed


def plain_case(seed: int | str) -> Data:
    """A rig of plain sizes, drawn by lot, that can be read."""
    rng = Random(f"plain {seed}")
    while True:
        data = _drawn(Maker(rng, wild=0.0))
        data.pop("measured", None)
        try:
            check_case(data)
        except CaseError:
            continue
        return data


def test_a_rig_built_larger_of_lighter_steel_is_used_alike() -> None:
    """All but what a boot and the law have in inches; 1.25 is what keeps the density of a bed a readable one."""
    data = plain_rig()
    mine, codes, _ = answer(data)
    with lighter(by=1.25):
        theirs, other_codes, _ = answer(scaled(data, by=1.25))
    apart = {key[:2] for key in mine.keys() | theirs.keys() if not isclose(mine[key], theirs[key], rel_tol=SAME)}
    assert apart == KEPT_IN_INCHES and len(mine) > 140
    assert codes - STATED == other_codes - STATED


def test_the_card_says_the_numbers_of_the_others(tmp_path: Path) -> None:
    """Bed mark, window of the hoist, marks of straps and snub line: a hoist, three straps and a snub line in a gust."""
    assert card_apart(shipped("larkspur-bar"), folder=tmp_path) == []


def test_a_difference_is_seen() -> None:
    data, other = shipped("larkspur-bar"), shipped("larkspur-bar")
    other["bed"]["density"] = "127 lb/ft3"
    other["fitting"][0]["across"] = "3 in"
    assert any("line link" in one for one in differences(data, other))
    assert answer(data)[0] != answer(other)[0]


def test_a_batch_is_its_members() -> None:
    batch, cases = batch_of(2, size=4)
    found = assess(batch)
    for row in range(4):
        assert unlike_its_row(found, row=row, alone=assess(Rig(cases[row]))) == []
