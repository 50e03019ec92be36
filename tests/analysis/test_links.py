"""Links of a line: marks, tables, ends, bends, wear, parts of line, side pull, stretch."""

import numpy as np
import pytest

from rigcheck.analysis.links.capacity import LinkStrength, links, perch_share, side_fraction
from rigcheck.analysis.rail_section import rail_section
from rigcheck.case import read_case_text
from rigcheck.case.rig import Rig, varied

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
downstream = "-6 in"
height = "70 in"
spacing = "31 in"
[line]
{line}
"""
HOIST = '[[line.link]]\nkind = "lever hoist"\nwll = "1900 lb"\nrated_to_suspend = true\n'


TABLE_ROPE = 'kind = "wire rope"\ntable = "rope_6x19_fc_ips"\ndiameter = "3/8 in"\n'


def rig_with(*rows: str, line: str = "") -> Rig:
    text = RIG.format(line=line) + "".join(f"[[line.link]]\n{row}\n" for row in rows)
    return Rig(read_case_text(text, name="links.toml"))


def only(row: str, *, line: str = "") -> LinkStrength:
    return links(rig_with(row, line=line))[0]


def test_rope_over_five_is_the_published_load():
    """3/8 in 6x19 fiber core, 12 200 lb over 5 is 2 440 lb (engineering data page, seen)."""
    rope = only('kind = "wire rope"\ntable = "rope_6x19_fc_ips"\ndiameter = "3/8 in"\ntermination = "none"')
    assert float(rope.working) == pytest.approx(2440.0)
    assert rope.ultimate is not None and float(rope.ultimate) == pytest.approx(12200.0)


def test_clips_keep_four_fifths():
    """Army TM 5-3810-305-10 Table 4: 0.80 (seen)."""
    rope = only(f'{TABLE_ROPE}termination = "clips"\nclips = 3\nthimble = true')
    assert float(rope.working) == pytest.approx(0.80 * 2440.0) and not rope.unknown


def test_tight_bend_keeps_half():
    """D/d = 1 keeps 0.50 (Wire Rope Users Manual curve, from memory)."""
    rope = only(
        'kind = "wire rope"\ntable = "rope_6x19_fc_ips"\ndiameter = "3/8 in"\ntermination = "none"\n'
        'bend_diameter = "3/8 in"'
    )
    assert float(rope.working) == pytest.approx(1220.0)


def test_a_mark_on_a_rope_counts_whole():
    """A mark holds the ends of the rope already."""
    assert float(only('kind = "wire rope"\nwll = "2100 lb"').working) == pytest.approx(2100.0)


@pytest.mark.parametrize(("ends", "kept"), [("hand splice", 0.80), ("mechanical splice", 0.90), ("clips", 0.80)])
def test_a_rope_of_unknown_size_keeps_at_its_ends_what_thick_rope_keeps(ends, kept):
    """Over 1/2 in a hand splice keeps 0.80, over 1 in a sleeve 0.90 (least of the published ranges)."""
    unknown = only(f'kind = "wire rope"\nmbf = "9000 lb"\ntermination = "{ends}"\nthimble = true')
    assert float(unknown.working) == pytest.approx(kept * 1800.0)
    thin = only(f'kind = "wire rope"\nmbf = "9000 lb"\ntermination = "{ends}"\nthimble = true\ndiameter = "3/8 in"')
    assert float(thin.working) >= float(unknown.working)


def test_a_bend_of_a_rope_of_unknown_size_keeps_half():
    """As if round a pin of its own size, the sharpest bend of the curve."""
    rope = only('kind = "wire rope"\nmbf = "9000 lb"\ntermination = "none"\nbend_diameter = "5/8 in"')
    assert float(rope.working) == pytest.approx(900.0)
    assert "not known" in rope.basis


def test_wear_comes_off_every_capacity():
    shackle = only('kind = "shackle"\nsize = "1/2 in"\ngrade = "carbon"', line='wear = "10 %"')
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
    assert chain.rated_to_suspend


@pytest.mark.parametrize("grade", ["30", "43", "70", "Grade 70"])
@pytest.mark.parametrize("known", ['size = "5/16 in"', 'wll = "4700 lb"', 'size = "5/16 in"\nwll = "4700 lb"'])
def test_chain_that_is_not_alloy_may_not_hold_whatever_else_is_known_of_it(grade, known):
    """Makers bar proof coil, high test and transport chain from lifting (seen); ASME B30.9 asks for alloy (memory)."""
    assert not only(f'kind = "chain"\n{known}\ngrade = "{grade}"').rated_to_suspend


@pytest.mark.parametrize("grade", ["80", "100"])
def test_alloy_chain_may_hold(grade):
    chain = only(f'kind = "chain"\nwll = "4000 lb"\ngrade = "{grade}"')
    assert chain.rated_to_suspend and not chain.unknown


@pytest.mark.parametrize("grade", ["", 'grade = "odd"\n'])
@pytest.mark.parametrize("known", ['wll = "4700 lb"', 'size = "5/16 in"\nwll = "4700 lb"'])
def test_chain_without_a_grade_is_not_assessed_whatever_its_mark(grade, known):
    if grade and "size" in known:
        return  # a size is looked up by its grade, and the reader refuses it
    assert "grade 80 or 100" in only(f'kind = "chain"\n{grade}{known}').unknown


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
        'kind = "wire rope"\nmbf = "9000 lb"\nwll = "1800 lb"\ntermination = "none"\n'
        'length = "40 in"\narea = "0.05 in2"\nmodulus = "12000000 psi"'
    )
    assert rope.give is not None and float(rope.give) == pytest.approx(40.0 / (0.05 * 12.0e6))


def test_hoist_without_stiffness_is_told_as_unknown():
    assert only('kind = "lever hoist"\nwll = "1900 lb"\nrated_to_suspend = true').give is None


def test_rail_has_the_modulus_of_steel():
    """29 000 ksi, AISC Design Examples V16.0 (seen)."""
    assert float(rail_section(rig_with('kind = "rated part"\nwll = "900 lb"')).modulus) == 29.0e6


@pytest.mark.parametrize(
    ("size", "pounds"),
    [
        ("1/4 in", 420.0),
        ("3/8 in", 1000.0),
        ("1/2 in", 1840.0),
        ("5/8 in", 2940.0),
        ("3/4 in", 4340.0),
        ("1 in", 7880.0),
    ],
)
def test_an_eyebolt_has_what_the_standard_asks_of_every_maker(size, pounds):
    """ASTM A489 minimum breaking strength over 5 (memory)."""
    bolt = only(f'kind = "eyebolt"\nsize = "{size}"\nside_angle = "0 deg"')
    assert float(bolt.working) == pounds
    assert bolt.ultimate is not None and float(bolt.ultimate) == pytest.approx(5.0 * pounds)
    marked = only(f'kind = "eyebolt"\nsize = "{size}"\nside_angle = "0 deg"\nwll = "{1.4 * pounds} lb"')
    assert float(marked.working) == pytest.approx(1.4 * pounds) and not marked.remarks


def test_an_eyebolt_without_an_angle_keeps_the_least_of_its_table():
    """Shoulder eyebolts keep 25 % at 90 deg, the least of the angular loading table (seen)."""
    bolt = only('kind = "eyebolt"\nsize = "1/2 in"\nshoulder = true')
    assert float(bolt.working) == pytest.approx(0.25 * 1840.0)
    assert [(one.word, ": 25 % is kept" in one.value) for one in bolt.rating.assumed] == [("side_angle", True)]
    assert only('kind = "eyebolt"\nsize = "1/2 in"').unknown


def test_a_plain_eyebolt_is_for_pulls_along_its_bolt():
    """Plain eyebolts are for in-line pull only (maker's page, seen)."""
    plain = only('kind = "eyebolt"\nsize = "1/2 in"\nshoulder = false\nside_angle = "45 deg"')
    assert plain.unknown and [remark.code for remark in plain.remarks] == ["eyebolt_pulled_aside"]
    assert only('kind = "eyebolt"\nsize = "1/2 in"\nside_angle = "45 deg"').unknown
    seated = only('kind = "eyebolt"\nsize = "1/2 in"\nshoulder = true\nside_angle = "45 deg"')
    assert float(seated.working) == pytest.approx(0.30 * 1840.0) and not seated.unknown


def test_a_shackle_without_mark_and_grade_is_an_unmarked_one():
    """3 D^2 short tons: 3 x 1/4 x 2 000 = 1 500 lb for 1/2 in (NAVEDTRA 14251, chapter 6, seen)."""
    shackle = only('kind = "shackle"\nsize = "1/2 in"')
    assert float(shackle.working) == pytest.approx(1500.0)
    assert [one.word for one in shackle.rating.assumed] == ["grade"]
    assert float(only('kind = "shackle"\nsize = "1/2 in"\nwll = "4000 lb"').working) == 4000.0


@pytest.mark.parametrize("ends", ["clips", "mechanical splice", "hand splice"])
def test_an_eye_of_which_nothing_is_known_keeps_half(ends):
    """D/d = 1 keeps 0.50, the least of the curve (Wire Rope Users Manual, memory)."""
    clips = "clips = 3\n" if ends == "clips" else ""
    bare, over = (only(f'{TABLE_ROPE}termination = "{ends}"\n{clips}{more}') for more in ("", "thimble = true"))
    assert float(bare.working) == pytest.approx(0.5 * float(over.working))
    assert [(one.word, "50 %" in one.value) for one in bare.rating.assumed] == [("bend_diameter", True)]
    assert not over.rating.assumed
    socket = only(f'{TABLE_ROPE}termination = "poured socket"')
    assert float(socket.working) == pytest.approx(2440.0) and not socket.rating.assumed


def test_a_rope_of_a_table_needs_ends():
    assert "bare rope" in only(f'{TABLE_ROPE}termination = "none"').unknown
    assert "bare rope" in only('kind = "wire rope"\nmbf = "9000 lb"\ntermination = "none"').unknown
    assert not only(f'{TABLE_ROPE}termination = "none"\nwll = "2000 lb"').unknown


def test_clips_are_counted():
    """3 forged clips to 1/2 in of rope (29 CFR 1918 App. II Table 1, seen)."""
    assert "not counted" in only(f'{TABLE_ROPE}termination = "clips"').unknown
    assert "diameter" in only('kind = "wire rope"\nmbf = "9000 lb"\ntermination = "clips"\nclips = 9').unknown
    for clips, codes in ((1, ["too_few_clips"]), (2, ["too_few_clips"]), (3, [])):
        assert [remark.code for remark in only(f'{TABLE_ROPE}termination = "clips"\nclips = {clips}').remarks] == codes


@pytest.mark.parametrize(
    "row",
    [
        'kind = "hook"\nwll = "2000 lb"',
        'kind = "rated part"\nwll = "2000 lb"',
        'kind = "turnbuckle"\nsize = "1/2 in"\nend = "jaw"',
        'kind = "chain"\nsize = "5/16 in"\ngrade = "80"',
        f'{TABLE_ROPE}termination = "clips"\nclips = 3',
        'kind = "lever hoist"\nwll = "2000 lb"\nrated_to_suspend = true',
        'kind = "come-along"\nwll = "2000 lb"\nrated_to_suspend = true',
    ],
)
def test_a_pull_off_its_line_is_not_assessed_where_nothing_is_published(row):
    for angle, known in (("0 deg", True), ("1 deg", False), ("90 deg", False)):
        assert (only(f'{row}\nside_angle = "{angle}"').unknown == "") == known


def test_all_alike_in_a_row_give_together():
    """Three springs of 9 000 lb/in in a row give 3/9 000 in for each pound."""
    chain = only('kind = "chain"\nsize = "5/16 in"\ngrade = "80"\nstiffness = "9000 lb/in"\ncount = 3')
    assert chain.give is not None and float(chain.give) == pytest.approx(3.0 / 9000.0)


@pytest.mark.parametrize(
    ("row", "published"),
    [
        ('kind = "shackle"\nsize = "1/2 in"', 4000.0),  # 2 short tons, carbon (seen)
        ('kind = "shackle"\nsize = "1/2 in"\ngrade = "alloy"', 6600.0),  # 3.3 short tons (seen)
        ('kind = "chain"\nsize = "5/16 in"\ngrade = "80"', 4500.0),  # supplier chart (seen)
        ('kind = "turnbuckle"\nsize = "1/2 in"\nend = "jaw"', 2200.0),  # ASTM F1145 (seen)
        ('kind = "eyebolt"\nsize = "1/2 in"\nside_angle = "0 deg"', 1840.0),  # ASTM A489 (memory)
        (f'{TABLE_ROPE}termination = "none"', 2440.0),  # 12 200 lb over 5 (seen)
    ],
)
def test_a_mark_that_nobody_publishes_is_asked_about_and_not_believed(row, published):
    odd = only(f'{row}\nwll = "{4.0 * published} lb"')
    assert [remark.code for remark in odd.remarks] == ["mark_over_size"]
    assert float(odd.working) == pytest.approx(published)
    plain = only(f'{row}\nwll = "{published} lb"')
    assert float(plain.working) == pytest.approx(published) and not plain.remarks


@pytest.mark.parametrize(("mark", "asked"), [(5990.0, False), (6010.0, True)])
def test_a_mark_is_asked_about_from_one_and_a_half_times_what_is_published(mark, asked):
    """1.5 x 2 short tons of a 1/2 in carbon shackle is 6 000 lb."""
    shackle = only(f'kind = "shackle"\nsize = "1/2 in"\ngrade = "carbon"\nwll = "{mark} lb"')
    assert float(shackle.working) == pytest.approx(4000.0 if asked else mark)


@pytest.mark.parametrize(
    ("row", "factor"),
    [
        ('kind = "lever hoist"\nrated_to_suspend = true', 4.0),  # ASME HST-3 (memory)
        ('kind = "hook"', 4.0),  # ASME B30.10 (memory)
        ('kind = "shackle"', 5.0),  # ASME B30.26 (memory)
        ('kind = "chain"\ngrade = "80"', 4.0),  # ASME B30.9 (memory)
        ('kind = "wire rope"', 5.0),  # ASME B30.9 (memory)
    ],
)
def test_a_mark_is_no_more_than_its_breaking_force_over_the_factor_of_its_standard(row, factor):
    low = only(f'{row}\nwll = "2000 lb"\nmbf = "2000 lb"')
    assert float(low.working) == pytest.approx(2000.0 / factor)
    assert [remark.code for remark in low.remarks] == ["design_factor_low"]
    enough = only(f'{row}\nwll = "2000 lb"\nmbf = "{2000.0 * factor} lb"')
    assert float(enough.working) == pytest.approx(2000.0) and not enough.remarks


def test_a_factor_of_the_case_under_that_of_the_standard_is_not_used():
    """Rope 5 (ASME B30.9, memory)."""
    text = RIG.format(line="") + f'[[line.link]]\n{TABLE_ROPE}termination = "poured socket"\n'
    for stated, used in ((3.0, 5.0), (5.0, 5.0), (6.0, 6.0)):
        rope = links(Rig(read_case_text(f"{text}[factors]\nrope_design = {stated}\n", name="links.toml")))[0]
        assert float(rope.working) == pytest.approx(12200.0 / used)
        assert [remark.code for remark in rope.remarks] == (["design_factor_low"] if stated < used else [])


def test_a_stricter_factor_for_chain_holds_and_a_laxer_one_does_not():
    """Chain 4 (ASME B30.9, memory): 18 000 lb of 5/16 in grade 80 (seen) over 6 is 3 000 lb."""
    text = RIG.format(line="") + '[[line.link]]\nkind = "chain"\nsize = "5/16 in"\ngrade = "80"\n'
    for stated, allowed in ((3.0, 4500.0), (4.0, 4500.0), (6.0, 3000.0)):
        chain = links(Rig(read_case_text(f"{text}[factors]\nchain_design = {stated}\n", name="links.toml")))[0]
        assert float(chain.working) == pytest.approx(allowed)
        assert [remark.code for remark in chain.remarks] == (["design_factor_low"] if stated < 4.0 else [])


def test_a_remark_holds_of_the_designs_that_earn_it():
    """A batch of two marks, 2 000 lb and 9 000 lb over a breaking force of 10 000 lb; 4 of HST-3, from memory."""
    rig = rig_with('kind = "lever hoist"\nrated_to_suspend = true\nwll = "2000 lb"\nmbf = "10000 lb"')
    (hoist,) = links(varied(rig, {"line.link.0.wll": np.array([2000.0, 9000.0])}))
    assert [(remark.code, remark.where.tolist()) for remark in hoist.remarks] == [("design_factor_low", [False, True])]
