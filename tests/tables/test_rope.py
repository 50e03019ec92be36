"""Wire rope look-ups."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigcheck.tables import TableError, rope

EVERY = [
    (table, column, diameter)
    for table in rope.tables()
    for column in rope.columns(table)
    for diameter in rope.diameters(table)
    if (table, column, diameter) != ("rope_6x7_fc", "ips", 0.625)  # not listed
]


def test_every_row_is_found_and_grows_with_diameter():
    last = {}
    for table, column, diameter in EVERY:
        row = rope.rope(table, diameter=diameter, column=column)
        assert row.mbf > last.get((table, column), 0.0)
        last[table, column] = row.mbf
        assert row.known in ("seen", "memory") and row.source


def test_weight_in_pounds_per_inch_and_estimated_on_the_heavy_side():
    heaviest = 0.0
    for table, column, diameter in EVERY:
        row = rope.rope(table, diameter=diameter, column=column)
        if not row.weight_estimated:
            heaviest = max(heaviest, row.weight_per_length / diameter**2)
    assert rope.rope("rope_6x19_fc_ips", diameter=0.5).weight_per_length == pytest.approx(0.42 / 12.0)
    bare = rope.rope("cable_7x19_stainless", diameter=0.25)
    assert bare.weight_estimated
    assert heaviest <= bare.weight_per_length / bare.diameter**2 <= 1.01 * heaviest


def test_a_row_keeps_its_own_mark_of_how_it_is_known():
    assert rope.rope("cable_7x19_galvanized", diameter=0.15625).known == "memory"
    assert rope.rope("cable_7x19_galvanized", diameter=0.1875).known == "seen"


def test_a_table_with_several_columns_must_be_told_which():
    with pytest.raises(TableError, match="ips, eips"):
        rope.rope("rope_6x19_6x36_iwrc", diameter=0.375)
    with pytest.raises(TableError, match="listed: eip"):
        rope.rope("rope_6x7_fc", diameter=0.625, column="ips")
    strong = rope.rope("rope_6x19_6x36_iwrc", diameter=0.375, column="EIPS")
    assert strong.mbf > rope.rope("rope_6x19_6x36_iwrc", diameter=0.375, column="ips").mbf


def test_diameters_and_tables_are_exact():
    with pytest.raises(TableError, match=r"nearest: 0.3125 in, 0.25 in|nearest: 0.25 in, 0.3125 in"):
        rope.rope("rope_6x19_fc_ips", diameter=0.28)
    with pytest.raises(TableError, match="cable_7x7"):
        rope.rope("cable_7x8", diameter=0.25)


@pytest.mark.parametrize(
    ("ends", "fiber", "iwrc"),
    [
        ("clips", 0.80, 0.80),
        ("clips reversed", 0.40, 0.40),
        ("mechanical splice", 0.925, 0.95),
        ("hand splice", 0.86, 0.86),
        ("swaged socket", 0.80, 0.95),
        ("poured socket", 1.0, 1.0),
        ("wedge socket", 0.75, 0.75),
        ("none", 1.0, 1.0),
    ],
)
def test_ends(ends, fiber, iwrc):
    assert rope.termination_efficiency(ends, diameter=0.375) == fiber
    assert rope.termination_efficiency(ends, diameter=0.375, fiber_core=False) == iwrc
    assert rope.termination(ends, diameter=0.375).accepted == (ends != "clips reversed")


def test_ends_of_thick_and_stainless_rope_keep_less():
    assert rope.termination_efficiency("mechanical splice", diameter=1.125, fiber_core=False) == 0.90
    assert rope.termination_efficiency("hand splice", diameter=0.625) == 0.80
    assert rope.termination_efficiency("hand splice", diameter=0.25, stainless=True) == 0.76
    with pytest.raises(TableError, match="wedge socket"):
        rope.termination("knot", diameter=0.25)


@pytest.mark.parametrize(
    ("ratio", "kept"),
    [(0.0, 0.5), (1.0, 0.5), (1.5, 0.575), (2.0, 0.65), (10.0, 0.86), (15.0, 0.89), (30.0, 0.95), (90.0, 0.95)],
)
def test_bends(ratio, kept):
    assert rope.bend_efficiency(ratio) == pytest.approx(kept)


@given(st.floats(0.0, 60.0), st.floats(0.0, 20.0))
def test_a_wider_bend_never_weakens(ratio, more):
    assert rope.bend_efficiency(ratio) <= rope.bend_efficiency(ratio + more) + 1e-12


def test_a_bend_tighter_than_the_table_is_marked():
    assert not rope.bend_in_table(0.99)
    assert rope.bend_in_table(1.0)


def test_stiffness():
    cable = rope.rope_stiffness("cable_7x19_galvanized", diameter=0.375)
    # the published stretch factor: percent = load x G / d^2
    assert cable.high == pytest.approx(100.0 * 0.375**2 / 0.0000140)
    fiber = rope.rope_stiffness("rope_6x19_fc_ips", diameter=0.5)
    assert (fiber.low, fiber.high) == pytest.approx((0.404 * 0.25 * 10.8e6, 0.404 * 0.25 * 12.0e6))
    for table in rope.tables():
        found = rope.rope_stiffness(table, diameter=1.0)
        assert 3.5e6 < found.low < found.high < 1.0e7
    with pytest.raises(TableError):
        rope.rope_stiffness("string", diameter=1.0)


def test_clips_take_the_next_row_up():
    assert (rope.clip_count(0.25).forged, rope.clip_count(0.5).forged) == (3, 3)
    assert (rope.clip_count(0.7).forged, rope.clip_count(0.7).diameter) == (4, 0.75)
    assert rope.clip_count(1.5).other == 8
    with pytest.raises(TableError, match="clip rule"):
        rope.clip_count(1.75)


def test_design_factors():
    assert [rope.design_factor(kind) for kind in ("wire rope", "alloy chain", "web")] == [5.0, 4.0, 5.0]
    with pytest.raises(TableError, match="alloy chain"):
        rope.design_factor("string")
