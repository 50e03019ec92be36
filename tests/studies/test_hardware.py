"""What the study of hardware chooses passes, the next smaller does not, and what no table lists is said."""

import json
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from rigcheck.analysis.links.capacity import links
from rigcheck.analysis.solve import solve
from rigcheck.assessment.assess import assess
from rigcheck.case.models.case import Case
from rigcheck.case.reading.read import read_case
from rigcheck.case.rig import Rig
from rigcheck.output.hardware.view import hardware_result, hardware_screen
from rigcheck.output.screen import Look
from rigcheck.studies.hardware import sized
from rigcheck.studies.hardware.base import Base, pick
from rigcheck.studies.hardware.choices import choices_for
from rigcheck.studies.hardware.lightest import lightest
from rigcheck.studies.hardware.record import Choice, Hardware, Size
from rigcheck.studies.hardware.road import _together, road_choices
from rigcheck.studies.hardware.steel import PARTS, described, fraction, stepped
from rigcheck.studies.hardware.study import hardware
from rigcheck.studies.vary.case import with_values
from rigcheck.tables.shapes import Shape, find, listed_names

from .rigs import SOUND, case_of, rig_of

ROOT = Path(__file__).parents[2]
MISFIT = {"pin_does_not_fit", "shackle_too_narrow", "weld_too_small"}
LINKS = """
[[line.link]]
kind = "lever hoist"
wll = "2500 lb"
rated_to_suspend = true
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
side_angle = "0 deg"
[[line.link]]
kind = "shackle"
size = "1/2 in"
grade = "carbon"
[water]"""
MANY = SOUND.replace('[[line.link]]\nkind = "shackle"\nsize = "1/2 in"\ngrade = "carbon"\n[water]', LINKS.lstrip())
BRACED = MANY.replace(
    "[line]\n",
    """[perch.post.brace]
foot_downstream = "-16 in"
foot_below = "38 in"
top_below = "5 in"
shape = "HSS2x2x1/4"
[end_tube]
shape = "HSS3x3x1/4"
[line]
""",
)
STARVED = SOUND.replace('height = "6 in"', 'height = "12 in"')


def use_in(case: Case, part: str) -> tuple[float, bool]:
    """Use of the parts of one size in a case checked anew, and whether they do not go with their neighbors."""
    parts = next((one.parts for one in described(Rig(case)) if one.part == part), (part,))
    found = assess(Rig(case))
    uses = [float(one.utilization) for one in found.worst if one.check.part in parts]
    heads = tuple(f"{one}:" for one in parts)
    misfit = any(flag.code in MISFIT and flag.text.startswith(heads) for flag in found.flags)
    return max(uses), misfit


@cache
def bought(text: str) -> Hardware:
    return counted(text)[0]


@cache
def counted(text: str) -> tuple[Hardware, Counter[str]]:
    """The list, with how often a rig was worked out for it: in all rows, in the rows that decide, and rows in all."""
    count: Counter[str] = Counter()

    def counting(name: str, real: Callable[..., Any]) -> Callable[..., Any]:
        def asked(rig: Rig, *arguments: Any, **more: Any) -> Any:
            found = real(rig, *arguments, **more)
            shape = getattr(found, "solution", found).shape
            count[name] += 1
            count["rows"] += int(np.prod(shape[:-2]))
            return found

        return asked

    with pytest.MonkeyPatch.context() as patch:
        for module in ("hardware.study", "hardware.lightest", "vary.batch"):
            patch.setattr(f"rigcheck.studies.{module}.assess", counting("whole", assess))
        patch.setattr("rigcheck.studies.spread.few.solve", counting("few", solve))
        patch.setattr("rigcheck.studies.hoist_window.study.solve", counting("few", solve))
        return hardware(rig_of(text)), count


def link_choices(text: str) -> list[Choice]:
    """Choices for the links alone."""
    rig = rig_of(text)
    labels = frozenset(link.label for link in links(rig))
    return choices_for(Base.of(rig, assess(rig), max_utilization=0.85), parts=labels)


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
        assert use <= found.max_utilization and not misfit, one.part
        if one.smaller is None:
            continue
        smaller += 1
        less = with_values(case, one.smaller.changes)
        use, misfit = use_in(less, one.part)
        assert use > found.max_utilization or misfit or lug_misfit(less), one.part
        if one.smaller.use is not None:
            assert use == pytest.approx(one.smaller.use, rel=1e-9), one.part
    assert smaller >= 3


def kind_of(part: str) -> str:
    return part.partition(": ")[2] if part.startswith("line link") else part


def test_the_next_smaller_fails_of_every_kind():
    """At several reserves, so that of each kind some size stands between one that passes and the smallest listed."""
    case = case_of(BRACED)
    found = assess(Rig(case))
    sizes = {one.part: one.parts for one in described(Rig(case))}
    kinds: dict[str, set[str]] = {}  # with the parts of each
    failed: set[str] = set()
    for max_utilization in (0.45, 0.85, 0.7, 0.3):
        left = {name for kind, parts in kinds.items() if kind not in failed for name in parts}
        base = Base.of(Rig(case), found, max_utilization=max_utilization)
        for one in choices_for(base, parts=frozenset(left) if kinds else None):
            kind = kind_of(one.part)
            kinds.setdefault(kind, set()).update(sizes.get(one.part, (one.part,)))
            if kind in failed or one.chosen is None or one.smaller is None:
                continue
            use, misfit = use_in(with_values(case, one.chosen.changes), one.part)
            assert use == pytest.approx(one.chosen.use, rel=1e-9) and use <= max_utilization and not misfit, one.part
            less = with_values(case, one.smaller.changes)
            use, misfit = use_in(less, one.part)
            assert use > max_utilization or misfit or lug_misfit(less), one.part
            failed.add(kind)
    # a hoist is known by its mark alone; of these welds of this rig either every listed leg passes or none does
    assert kinds.keys() - failed <= {"lever hoist", "cross-member end weld", "hinge barrel weld"}
    assert {part.part for part in PARTS} <= kinds.keys()


def test_every_link_and_steel_part_has_a_line():
    found = bought(MANY)
    parts = [one.part for one in found.choices]
    assert len([part for part in parts if part.startswith("line link")]) == 8
    assert {"hinge pin", "hanger lug weld", "perch post", "rail", "floor sheet"} <= set(parts)


def test_what_no_table_lists_says_the_least_mark_that_would_do():
    stout = MANY.replace('stiffener = "HSS2x2x3/16"', 'stiffener = "HSS2x2x1/4"\nsteel = "A500C"')
    stout = stout.replace("[cross_member]\n", '[end_tube]\nshape = "HSS3x3x1/4"\n[cross_member]\nsteel = "A500C"\n')
    stout = stout.replace("[hinge]\n", '[hinge]\nheight = "-1 5/8 in"\n')
    rig, choices = rig_of(stout), link_choices(stout)
    found = replace(bought(MANY), choices=tuple(choices))
    hoist = next(one for one in choices if "lever hoist" in one.part)
    assert hoist.chosen is None and not hoist.listed and "no published table" in hoist.source
    uses = [use_in(with_values(rig.case, {"line.link.2.wll": mark}), hoist.part)[0]
            for mark in (hoist.needs, hoist.needs - 10.0)]  # fmt: skip
    assert uses[0] <= found.max_utilization < uses[1]  # marks are told in steps of ten pounds
    assert "mark" in hardware_screen(hardware_result(found, case=rig.case))


def test_a_tighter_reserve_never_buys_less():
    rig = rig_of(MANY)
    some, more = bought(MANY).choices, choices_for(Base.of(rig, assess(rig), max_utilization=0.4))
    both = [(one.chosen, two.chosen) for one, two in zip(some, more, strict=True)]
    assert sum(None not in pair for pair in both) > 3
    for one, two in zip(some, more, strict=True):
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
    device = 'kind = "come-along"\nwll = "2500 lb"\nrated_to_suspend = false\n[[line.link]]\n'
    text = SOUND.replace('kind = "wire rope"', f'{device}kind = "wire rope"', 1)
    found = next(one for one in link_choices(text) if "come-along" in one.part)
    assert "not marked for holding" in found.note
    case = case_of(text)
    assert [flag.code for flag in assess(Rig(case)).flags if flag.stops] == ["pull_only_holds"]
    assert not any(flag.stops for flag in assess(Rig(with_values(case, found.changes))).flags)


@pytest.mark.parametrize("text", [SOUND, STARVED], ids=["sound", "deep box"])
def test_all_choices_at_once_are_checked_together_and_made_larger_where_they_must(text):
    rig = rig_of(text)
    found = bought(text)
    case = rig.case
    for one in [*found.choices, *found.settled]:
        case = with_values(case, one.changes)
    after = assess(Rig(case))
    assert float(after.utilization) == pytest.approx(found.together, rel=1e-12)
    chosen = {one.part for one in found.choices if one.chosen is not None}
    for one in after.worst:
        assert one.check.part not in chosen or float(one.utilization) <= found.max_utilization * (1.0 + 1e-9), (
            one.check.part
        )


ROUNDS = 7  # the list itself and six of making parts larger, as the method has it


@pytest.mark.parametrize("text", [SOUND, MANY, STARVED], ids=["sound", "many links", "deep box"])
def test_a_list_takes_no_more_looks_than_it_has_candidates(text):
    """Counted, since time hangs on what else the machine does: each bound is of the worst that the search may do.

    A shape is tried by outline, of which the listed squares have 7 and the oblong ones 16, each at most with the two
    walls beside the answer; a hoist's window takes at most 5 passes and as many looks at what came of it.
    """
    case, (_, count) = case_of(text), counted(text)
    shaped = sum(part.shaped for part in described(Rig(case)))
    assert count["few"] <= ROUNDS * (shaped * (16 + 2) + 10)
    assert count["whole"] <= ROUNDS * (1 + 3 * shaped + 8)
    rows = len(assess(Rig(case)).solution.rows)
    assert count["rows"] <= 110 * rows  # these take 41, 48 and 53 times those of the rig, shipped cases 45 to 111


class Fake:
    """Shapes with the use that each has in the rows that decide and in all; counts what is looked at."""

    def __init__(self, few: dict[str, float], *, whole: dict[str, float] | None = None) -> None:
        self.part = next(part for part in PARTS if part.key == "perch.post.shape")
        names = sorted(few, key=lambda name: find(name).weight_per_length)
        self.sizes = [Size(words=name, changes={self.part.key: name}) for name in names]
        self.few, self.whole = few, few | (whole or {})
        self.rough: set[int] = set()
        self.looked: set[int] = set()

    def roughly(self, at: int) -> Size:
        if at in self.looked:
            return self.wholly(at)
        self.rough.add(at)
        return replace(self.sizes[at], use=self.few[self.sizes[at].words])

    def wholly(self, at: int) -> Size:
        self.looked.add(at)
        return replace(self.sizes[at], use=self.whole[self.sizes[at].words])

    def passes(self, size: Size) -> bool:
        return size.use is not None and size.use <= 0.85

    def hopeless(self, size: Size) -> bool:
        return size.use is not None and size.use > 1.02 * 0.85


def by_outline(strength: Callable[[Shape], float]) -> dict[str, float]:
    shapes = [find(name) for name in listed_names()]
    return {one.name: 1.0 / strength(one) for one in shapes if one.kind == "hss" and one.depth == one.width}


@pytest.mark.parametrize("needs", [0.2, 0.6, 1.3, 2.9, 5.0, 50.0])
def test_the_lightest_shape_is_found_by_outlines(needs):
    """Held to a search through all of them, which takes up to 29 looks."""
    uses = {name: needs * use for name, use in by_outline(lambda one: one.sx).items()}
    fake = Fake(uses)
    chosen, smaller = lightest(fake)
    names = [one.words for one in fake.sizes]
    passing = [name for name in names if uses[name] <= 0.85]
    assert (chosen.words if chosen else None) == (passing[0] if passing else None)
    if chosen and names.index(chosen.words):
        assert smaller.words == names[names.index(chosen.words) - 1]
    assert len(fake.rough) <= 7 + 8 and len(fake.looked) <= 2


def test_a_shape_that_is_over_in_all_rows_is_no_answer():
    uses = by_outline(lambda one: one.sx)
    first = lightest(Fake(uses))[0]
    fake = Fake(uses, whole={first.words: 0.86})
    chosen, _ = lightest(fake)
    passing = [one.words for one in fake.sizes if uses[one.words] <= 0.85 and one.words != first.words]
    assert chosen.words == passing[0] and chosen.use == uses[passing[0]]


def test_a_size_that_is_over_in_all_rows_is_no_answer_and_those_behind_it_are_looked_at(monkeypatch):
    """Pins that pass from 1 in on in the rows that decide, and from 1 5/8 in on in all."""
    part = next(part for part in PARTS if part.part == "hinge pin")
    sizes = stepped(part)
    inches = [float(one.changes[part.key]) for one in sizes]
    known = [replace(one, use=1.0 if size < 1.0 else 0.8) for one, size in zip(sizes, inches, strict=True)]
    rounds = []

    def in_all(_, parts, **__):
        rounds.append([one.changes[part.key] for one in parts[0][1]])
        return [[replace(one, use=1.0 if one.changes[part.key] < 1.625 else 0.7) for one in parts[0][1]]]

    monkeypatch.setattr(sized, "_tried", in_all)
    base = SimpleNamespace(max_utilization=0.85)
    (found,) = sized._surely(base, [(part, sizes)], known=[known])
    chosen, smaller = pick(found, max_utilization=0.85)
    assert (chosen.changes[part.key], chosen.use) == (1.625, 0.7)
    assert (smaller.changes[part.key], smaller.use) == (1.5, 1.0)
    assert rounds == [[0.875, 1.0], [1.125, 1.25, 1.375, 1.5], [1.625, 1.75, 1.875, 2.0]]


def test_picking_takes_the_first_that_passes_and_fits():
    sizes = [Size(words=str(i), changes={}, use=use, fits=fits) for i, (use, fits) in
             enumerate([(2.0, True), (0.9, True), (0.8, False), (0.7, True), (0.6, True)])]  # fmt: skip
    chosen, smaller = pick(sizes, max_utilization=0.85)
    assert chosen is sizes[3] and smaller is sizes[2]
    assert pick(sizes[:3], max_utilization=0.85) == (None, None)


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


def blown(speed: float, **more: float) -> Case:
    """Larkspur Bar in a gust, so that its straps have something to hold. [mph]"""
    case = read_case(ROOT / "cases" / "larkspur-bar.toml")
    return with_values(case, {"wind.parked": 17.6 * speed, **more})


def of_road(case: Case, *, max_utilization: float = 0.85) -> list[Choice]:
    return road_choices(Base.of(Rig(case), assess(Rig(case)), max_utilization=max_utilization))


def all_alike(case: Case, size: Size) -> float:
    """Use of the rules that count all straps, were all of them of this size."""
    limit = next(value for key, value in size.changes.items() if key.endswith("wll"))
    changes = {f"haul.tie_down.{i}.wll": limit for i in range(len(case.haul.tie_down))}
    found = assess(Rig(with_values(case, {**changes, **{key.replace("wll", "mbf"): None for key in changes}})))
    counted = [one for one in found.worst if one.check.part == "tie-downs" and one.check.unit == "force"]
    return max(float(one.utilization) for one in counted)


@pytest.mark.parametrize(
    ("speed", "max_utilization", "kind"), [(90.0, 0.85, "webbing"), (190.0, 0.85, "webbing"), (240.0, 0.5, "chain")]
)
def test_each_tie_down_passes_and_the_next_smaller_does_not(speed, max_utilization, kind):
    case = blown(speed)
    made = [one for one in of_road(case, max_utilization=max_utilization) if one.part.startswith("tie-down")]
    assert len(made) == 3 and all(one.chosen is not None and kind in one.chosen.words for one in made)
    assert all(kind in one.source for one in made)  # the table it stands in
    smaller = 0
    for one in made:
        assert one.chosen is not None and one.chosen.use is not None
        use, _ = use_in(with_values(case, one.chosen.changes), one.part)
        assert use == pytest.approx(one.chosen.use, rel=1e-9) and use <= max_utilization
        assert all_alike(case, one.chosen) <= max_utilization and "WLL" in one.chosen.tag
        if one.smaller is not None:
            smaller += 1
            less, _ = use_in(with_values(case, one.smaller.changes), one.part)
            assert less > max_utilization or all_alike(case, one.smaller) > max_utilization
    assert smaller or speed == 90.0


def test_straps_are_no_smaller_than_the_sum_of_their_limits_allows():
    heavy = with_values(blown(90.0), {"measured.empty_weight": None, "fitting.0.weight": 4500.0})
    made = [one for one in of_road(heavy) if one.part.startswith("tie-down")]
    held_back = [one for one in made if one.smaller is not None and not one.smaller.fits]
    for one in held_back:
        assert one.smaller is not None and all_alike(heavy, one.smaller) > 0.85
        use, _ = use_in(with_values(heavy, one.smaller.changes), one.part)
        assert "aggregate working load limit" in one.smaller.why_not and use == pytest.approx(one.smaller.use or 0.0)
    assert held_back


def test_an_open_hinge_pin_asks_the_straps_for_the_hold_down_as_well():
    """Were all straps of one limit, each rule that counts them together is used as a check of that case says."""
    for kept in (True, False):
        case = with_values(blown(90.0), {"hinge.pin_retained": kept})
        base = Base.of(Rig(case), assess(Rig(case)), max_utilization=0.85)
        for limit in (300.0, 2000.0):
            alike = Size(words="", tag="", changes={"haul.tie_down.0.wll": limit})
            use = _together(base, base.found.solution.road, limit=limit)
            assert use == pytest.approx(all_alike(case, alike), rel=1e-9)


def test_too_few_tie_downs_are_told():
    case = read_case(ROOT / "cases" / "tollgate-riffle.toml")
    first = of_road(case)[0]
    assert "the rule asks for 3 tie-downs and there are 2" in first.note


def test_a_snub_line_is_told_the_mark_it_needs():
    case = with_values(blown(90.0), {"fold.snub_wll": None})
    snub = next(one for one in of_road(case) if one.part == "snub line")
    assert snub.chosen is None and snub.needs > 0.0 and snub.now == "no mark known"
    marked = with_values(case, snub.changes)
    use, _ = use_in(marked, "snub line")
    assert use <= 0.85 < use * snub.needs / (snub.needs - 50.0 + 1e-9)
    strong = with_values(case, {"fold.snub_wll": 5000.0})
    assert next(one for one in of_road(strong) if one.part == "snub line").changes == {}


def test_the_list_of_a_rig_with_tie_downs_holds_them_and_settles():
    found = hardware(Rig(blown(90.0)))
    parts = [one.part for one in found.choices]
    assert [part for part in parts if part.startswith("tie-down")] and "snub line" in parts
    assert "webbing" in hardware_screen(hardware_result(found, case=blown(90.0)))
