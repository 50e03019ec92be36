"""Road tie-down rules."""

import pytest

from rigcheck.tables import TableError, hardware, tiedown
from rigcheck.tables.loader import load


def test_accelerations():
    strength = [tiedown.acceleration(way, basis="breaking strength").value for way in tiedown.DIRECTIONS]
    limit = [tiedown.acceleration(way, basis="working load limit").value for way in tiedown.DIRECTIONS]
    assert strength == [0.8, 0.5, 0.5]
    assert limit == [0.435, 0.5, 0.25]
    with pytest.raises(TableError, match="lateral"):
        tiedown.acceleration("up", basis="breaking strength")
    with pytest.raises(TableError, match="working load limit"):
        tiedown.acceleration("forward", basis="proof")


def test_fractions_and_credits():
    assert tiedown.hold_down().value == 0.2
    assert tiedown.aggregate_fraction().value == 0.5
    assert [tiedown.credit(kind).value for kind in tiedown.CREDITS] == [0.5, 0.5, 1.0]
    with pytest.raises(TableError, match="to anchor"):
        tiedown.credit("round about")


def test_rule_chain_is_the_chain_of_the_makers_but_for_one_named_size():
    for row in load("tiedown_wll")["chain"]["row"]:
        for grade in hardware.CHAIN_GRADES:
            if f"g{grade}_wll_lb" not in row:
                continue
            # the rule's 1/4 in alloy row is the 7 mm chain that is sold as 9/32
            size = 0.28125 if row["size_in"] == 0.25 and grade in ("80", "100") else row["size_in"]
            assert tiedown.chain_limit(row["size_in"], grade=grade).value == hardware.chain(size, grade=grade).wll
    with pytest.raises(TableError, match="grade 70"):
        tiedown.chain_limit(0.3, grade="70")
    with pytest.raises(TableError, match="30, 43, 70, 80, 100"):
        tiedown.chain_limit(0.375, grade="8")


def test_webbing_and_ropes():
    assert tiedown.webbing_limit(2.0).value == 2000.0
    assert tiedown.wire_rope_limit(0.375).value == 3000.0
    assert tiedown.wire_rope_limit(0.875).known == "memory"
    assert tiedown.fiber_rope_limit("polypropylene", diameter=0.5).value == 625.0
    with pytest.raises(TableError, match="nylon"):
        tiedown.fiber_rope_limit("hemp", diameter=0.5)
