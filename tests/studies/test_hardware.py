"""What the study of hardware chooses passes, the next smaller does not, and what no table lists is said."""

import json
from functools import cache

import pytest

from rigcheck.case.models import Case
from rigcheck.case.rig import Rig
from rigcheck.check.assess import assess
from rigcheck.strength.links import links
from rigcheck.studies.hardware import hardware
from rigcheck.studies.hardware_choices import Base, choices_for, pick
from rigcheck.studies.hardware_result import Choice, Hardware, Size
from rigcheck.studies.hardware_steel import PARTS, described, fraction, stepped
from rigcheck.studies.vary_case import with_values
from rigcheck.views.hardware_view import hardware_result, hardware_screen
from rigcheck.views.screen import Look

from .rigs import SOUND, case_of, rig_of

MISFIT = {"pin_does_not_fit", "shackle_too_narrow", "weld_too_small", "weld_too_large"}
LINKS = '''
[[line.link]]
kind = "lever hoist"
wll = "2500 lb"
suspends = true
[[line.link]]
kind = "chain"
size = "3/8 in"
grade = "80"
[[line.link]]
kind = "turnbuckle"
size = "3/4 in"
end = "jaw"
[[line.link]]
kind = "hook"
wll = "4000 lb"
[[line.link]]
kind = "eyebolt"
size = "3/4 in"
[[line.link]]
kind = "shackle"
size = "1/2 in"
[water]'''
MANY = SOUND.replace('[[line.link]]\nkind = "shackle"\nsize = "1/2 in"\n[water]', LINKS.lstrip())
STARVED = SOUND.replace('height = "6 in"', 'height = "12 in"')


def use_in(case: Case, part: str) -> tuple[float, bool]:
    """Use of the parts of one size in a case checked anew, and whether they do not go with their neighbours."""
    parts = next((one.parts for one in described(Rig(case)) if one.part == part), (part,))
    found = assess(Rig(case))
    uses = [float(one.utilisation) for one in found.worst if one.check.part in parts]
    heads = tuple(f"{one}:" for one in parts)
    misfit = any(flag.code in MISFIT and flag.text.startswith(heads) for flag in found.flags)
    return max(uses), misfit


@cache
def bought(text: str) -> Hardware:
    return hardware(rig_of(text))


def link_choices(text: str) -> list[Choice]:
    """Choices for the links alone."""
    rig = rig_of(text)
    labels = frozenset(link.label for link in links(rig))
    return choices_for(Base.of(rig, assess(rig), reserve=0.85), parts=labels)


def lug_misfit(case: Case) -> bool:
    return any(flag.code in ("pin_does_not_fit", "shackle_too_narrow") for flag in assess(Rig(case)).flags)


@pytest.mark.parametrize("text", [SOUND, MANY, STARVED], ids=["sound", "many links", "deep box"])
def test_each_choice_passes_and_the_next_smaller_does_not(text):
    case = case_of(text)
    found = bought(text)
    made = [one for one in found.choices if one.chosen is not None]
    assert len(made) >= 10
    smaller = 0
    for one in made:
        assert one.chosen is not None and one.chosen.use is not None
        use, misfit = use_in(with_values(case, one.chosen.changes), one.part)
        assert use == pytest.approx(one.chosen.use, rel=1e-9), one.part
        assert use <= found.reserve and not misfit, one.part
        if one.smaller is None:
            continue
        smaller += 1
        less = with_values(case, one.smaller.changes)
        use, misfit = use_in(less, one.part)
        assert use > found.reserve or misfit or lug_misfit(less), one.part
        if one.smaller.use is not None:
            assert use == pytest.approx(one.smaller.use, rel=1e-9), one.part
    assert smaller >= 3


def test_every_link_and_steel_part_has_a_line():
    found = bought(MANY)
    parts = [one.part for one in found.choices]
    assert len([part for part in parts if part.startswith("line link")]) == 8
    assert {"hinge pin", "hanger lug weld", "perch post", "rail", "floor sheet"} <= set(parts)


def test_what_no_table_lists_says_the_least_mark_that_would_do():
    rig = rig_of(MANY)
    found = bought(MANY)
    hoist = next(one for one in found.choices if "lever hoist" in one.part)
    assert hoist.chosen is None and not hoist.listed and "no published table" in hoist.source
    case = with_values(rig.case, {"line.link.2.wll": hoist.needs})
    assert use_in(case, hoist.part)[0] == pytest.approx(found.reserve, rel=1e-9)
    assert "mark" in hardware_screen(hardware_result(found, case=rig.case))


def test_a_tighter_reserve_never_buys_less():
    rig = rig_of(MANY)
    some, more = bought(MANY), hardware(rig, reserve=0.4)
    for one, two in zip(some.choices, more.choices, strict=True):
        if one.chosen is not None and two.chosen is not None and one.chosen.use is not None:
            assert two.chosen.use is not None and two.chosen.use <= 0.4
            assert two.chosen.use <= one.chosen.use + 1e-12


def test_a_shackle_that_does_not_go_with_its_lug_is_not_chosen():
    thick = SOUND.replace('[hanger.lug]\nplate = "1/2 in"', '[hanger.lug]\nplate = "15/16 in"')
    first = link_choices(thick)[0]
    assert first.part.startswith("line link 1")
    assert first.chosen is None and "does not go with the lug" in first.note
    wide = thick.replace('hole = "11/16 in"', 'hole = "7/8 in"', 1)
    chosen = link_choices(wide)[0].chosen
    assert chosen is not None and chosen.words.startswith("5/8 in")
    assert not lug_misfit(with_values(case_of(wide), chosen.changes))


def test_chain_that_may_not_hold_a_load_is_replaced_by_one_that_may():
    text = MANY.replace('size = "3/8 in"\ngrade = "80"', 'size = "3/8 in"\ngrade = "70"')
    chain = next(one for one in link_choices(text) if "chain" in one.part)
    assert chain.chosen is not None and "grade 80" in chain.chosen.tag and "grade 70 is not" in chain.note


def test_a_pull_only_device_is_to_be_replaced():
    text = MANY.replace('kind = "lever hoist"\nwll = "2500 lb"\nsuspends = true',
                        'kind = "come-along"\nwll = "2500 lb"\nsuspends = false')  # fmt: skip
    found = hardware(rig_of(text))
    device = next(one for one in found.choices if "come-along" in one.part)
    assert "not marked for holding" in device.note
    assert found.stops == ()


@pytest.mark.parametrize("text", [SOUND, STARVED], ids=["sound", "deep box"])
def test_all_choices_at_once_are_checked_together_and_made_larger_where_they_must(text):
    rig = rig_of(text)
    found = bought(text)
    case = rig.case
    for one in [*found.choices, *found.settled]:
        case = with_values(case, one.changes)
    after = assess(Rig(case))
    assert float(after.utilisation) == pytest.approx(found.together, rel=1e-12)
    chosen = {one.part for one in found.choices if one.chosen is not None}
    for one in after.worst:
        assert one.check.part not in chosen or float(one.utilisation) <= found.reserve * (1.0 + 1e-9), one.check.part


def test_picking_takes_the_first_that_passes_and_fits():
    sizes = [Size(words=str(i), changes={}, use=use, fits=fits) for i, (use, fits) in
             enumerate([(2.0, True), (0.9, True), (0.8, False), (0.7, True), (0.6, True)])]  # fmt: skip
    chosen, smaller = pick(sizes, reserve=0.85)
    assert chosen is sizes[3] and smaller is sizes[2]
    assert pick(sizes[:3], reserve=0.85) == (None, None)


def test_sizes_are_written_as_a_shop_writes_them():
    assert [fraction(value) for value in (0.5, 1.0, 1.1875, 0.1345)] == ["1/2 in", "1 in", "1 3/16 in", "0.1345 in"]
    for part in PARTS:
        if not part.shaped:
            values = [size.changes[part.key] for size in stepped(part)]
            assert values == sorted(values) and len(set(values)) == len(values) > 5


def test_the_list_is_json_and_reads_at_80_columns_without_brands():
    rig = rig_of(MANY)
    found = hardware_result(bought(MANY), case=rig.case)
    json.dumps(found, allow_nan=False)
    screen = hardware_screen(found, look=Look(80))
    assert screen.isascii() and max(map(len, screen.splitlines())) <= 80
    shackle = found["choices"][0]["chosen"]
    assert "ton (" in shackle["tag"] and shackle["tag"].startswith("WLL")
    assert all(isinstance(one, dict) for one in found["choices"])
    assert not any(isinstance(one, Choice) for one in found["choices"])
