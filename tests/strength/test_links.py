"""Links of a line: marks, tables, ends, bends, wear, parts of line, side pull, stretch."""

import numpy as np
import pytest

from rigcheck.case import read_case_text
from rigcheck.case.rig import Rig
from rigcheck.strength.links import LinkStrength, links, perch_share, side_fraction
from rigcheck.strength.rail_section import rail_section

RIG = """
title = "links"
[box]
length = "9 ft 1 in"
width = "27 in"
side_height = "7 in"
pitch = "1 1/2 in/ft"
sheet = "12 ga"
[hanger]
at = "6 ft"
height = "8 in"
spacing = "29 in"
[perch]
forward = "-6 in"
height = "70 in"
spacing = "31 in"
[line]
{line}
"""
HOIST = '[[line.link]]\nkind = "lever hoist"\nwll = "1900 lb"\nsuspends = true\n'


def rig_with(*rows: str, line: str = "") -> Rig:
    text = RIG.format(line=line) + "".join(f"[[line.link]]\n{row}\n" for row in rows)
    return Rig(read_case_text(text, name="links.toml"))


def only(row: str, *, line: str = "") -> LinkStrength:
    return links(rig_with(row, line=line))[0]


def test_rope_over_five_is_the_published_load():
    """3/8 in 6x19 fibre core, 12 200 lb over 5 is 2 440 lb (engineering data page, seen)."""
    rope = only('kind = "wire rope"\ntable = "rope_6x19_fc_ips"\ndiameter = "3/8 in"\nends = "none"')
    assert float(rope.working) == pytest.approx(2440.0)
    assert rope.ultimate is not None and float(rope.ultimate) == pytest.approx(12200.0)


def test_clips_keep_four_fifths():
    """Army TM 5-3810-305-10 Table 4: 0.80 (seen)."""
    rope = only('kind = "wire rope"\ntable = "rope_6x19_fc_ips"\ndiameter = "3/8 in"\nends = "clips"\nclips = 3')
    assert float(rope.working) == pytest.approx(0.80 * 2440.0)


def test_tight_bend_keeps_half():
    """D/d = 1 keeps 0.50 (Wire Rope Users Manual curve, from memory)."""
    rope = only(
        'kind = "wire rope"\ntable = "rope_6x19_fc_ips"\ndiameter = "3/8 in"\nends = "none"\nbend_over = "3/8 in"'
    )
    assert float(rope.working) == pytest.approx(1220.0)


def test_a_mark_on_a_rope_counts_whole():
    """A mark holds the ends of the rope already."""
    assert float(only('kind = "wire rope"\nwll = "2100 lb"').working) == pytest.approx(2100.0)


@pytest.mark.parametrize(("ends", "kept"), [("hand splice", 0.80), ("mechanical splice", 0.90), ("clips", 0.80)])
def test_a_rope_of_unknown_size_keeps_at_its_ends_what_thick_rope_keeps(ends, kept):
    """Over 1/2 in a hand splice keeps 0.80, over 1 in a sleeve 0.90 (least of the published ranges)."""
    unknown = only(f'kind = "wire rope"\nmbf = "9000 lb"\nends = "{ends}"')
    assert float(unknown.working) == pytest.approx(kept * 1800.0)
    thin = only(f'kind = "wire rope"\nmbf = "9000 lb"\nends = "{ends}"\ndiameter = "3/8 in"')
    assert float(thin.working) >= float(unknown.working)


def test_a_bend_of_a_rope_of_unknown_size_keeps_half():
    """As if round a pin of its own size, the sharpest bend of the curve."""
    rope = only('kind = "wire rope"\nmbf = "9000 lb"\nends = "none"\nbend_over = "5/8 in"')
    assert float(rope.working) == pytest.approx(900.0)
    assert "not known" in rope.basis


def test_wear_comes_off_every_capacity():
    shackle = only('kind = "shackle"\nsize = "1/2 in"', line='wear = "10 %"')
    assert float(shackle.working) == pytest.approx(3600.0)  # 2 short tons, listed (seen), less a tenth
    assert "10 % wear" in shackle.basis


def test_marked_shackle_breaks_at_five_times_its_mark():
    """Least design factor of rigging hardware, ASME B30.26 (from memory)."""
    shackle = only('kind = "shackle"\nwll = "2100 lb"')
    assert float(shackle.working) == 2100.0
    assert shackle.ultimate is not None and float(shackle.ultimate) == pytest.approx(10500.0)


def test_chain_by_grade():
    """5/16 in grade 80: 4 500 lb, breaking four times that (seen)."""
    chain = only('kind = "chain"\nsize = "5/16 in"\ngrade = "80"')
    assert float(chain.working) == 4500.0
    assert chain.ultimate is not None and float(chain.ultimate) == pytest.approx(18000.0)
    assert chain.suspends


def test_transport_chain_may_not_hold():
    assert not only('kind = "chain"\nsize = "5/16 in"\ngrade = "70"').suspends


@pytest.mark.parametrize(("carries", "share"), [("line", 1.0), ("part", 1.0 / 3.0), ("lead", 1.0 / (3.0 * 0.95))])
def test_parts_of_line(carries, share):
    row = f'kind = "rated part"\nwll = "900 lb"\ncarries = "{carries}"'
    assert only(row, line="parts = 3").share == pytest.approx(share)
    if carries == "line":
        assert only(row).share == 1.0  # one part: everything carries the whole line


def test_perch_carries_all_parts_and_the_lead():
    row = 'kind = "rated part"\nwll = "900 lb"'
    assert perch_share(rig_with(row, line="parts = 3")) == pytest.approx(1.0 + 1.0 / (3.0 * 0.95))
    assert perch_share(rig_with(row)) == 1.0


def test_only_the_ends_of_the_line_hang_on_lugs():
    shackle = 'kind = "shackle"\nsize = "1/2 in"'
    found = links(rig_with(shackle, shackle, shackle))
    assert [one.at_lug for one in found] == [True, False, True]
    assert [one.label for one in found] == [f"line link {i}: shackle" for i in (1, 2, 3)]


def test_side_pull_by_bands():
    """Whole to 5 degrees, 70 % to 45, 50 % to 90 (WAC 296-155-33905 bands, seen; percentages from memory)."""
    kept = side_fraction(np.array([0.0, 4.96, 5.0, 5.02, 44.9, 45.0, 45.2, 89.9, 90.0, 90.5]))
    assert kept.tolist() == [1.0, 1.0, 1.0, 0.7, 0.7, 0.7, 0.5, 0.5, 0.5, 0.0]


def test_rope_stretch_is_length_over_area_and_modulus():
    rope = only(
        'kind = "wire rope"\nmbf = "9000 lb"\nends = "none"\n'
        'length = "40 in"\narea = "0.05 in2"\nmodulus = "12000000 psi"'
    )
    assert rope.give is not None and float(rope.give) == pytest.approx(40.0 / (0.05 * 12.0e6))


def test_hoist_without_stiffness_is_told_as_unknown():
    assert only('kind = "lever hoist"\nwll = "1900 lb"\nsuspends = true').give is None


def test_rail_has_the_modulus_of_steel():
    """29 000 ksi, AISC Design Examples V16.0 (seen)."""
    assert float(rail_section(rig_with('kind = "rated part"\nwll = "900 lb"')).modulus) == 29.0e6
