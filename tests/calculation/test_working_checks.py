"""Whatever can govern a rig is worked by hand: each kind of check, from the shipped cases and from rigs by lot."""

import re
from collections.abc import Iterator
from functools import cache
from random import Random

import pytest

from rigcheck.analysis.rows import Check
from rigcheck.assessment.assess import Assessment, assess
from rigcheck.calculation import working
from rigcheck.calculation.book import Book
from rigcheck.calculation.calculation import GOVERNING, parts_of, section_by, worked_by
from rigcheck.case import CaseError, check_case
from rigcheck.case.rig import Rig
from rigcheck.parts.trap.ways import TrapWay
from tests.calculation.working_rigs import NAMES, VARIANTS, changed, shipped
from tests.parts.test_traps import BARE, CLOSED
from tests.statics.random_rigs import rig_of
from tests.support.extreme_rigs import extreme_case

ODD = (1, 3, 26, 38, 57, 66, 68, 87)  # a load at the hinge, a stocky rail, a rail with next to no push
NOT_BY_HAND = {
    ("rail", "sag between hinge and hanger"),
    ("rail", "tail deflection"),
    ("rail", "stress, folded"),
    ("perch post", "deflection of its top"),
    ("snub line", "working load limit"),
}
PARTS_NOT_BY_HAND = ("knee brace face", "side wall", "rail stiffener")


def kind(check: Check) -> tuple[str, str]:
    part = re.sub(r"link \d+.*|\d+.*", "", check.own_name).strip()
    return part, check.mode.replace(" (strength)", "")


@cache
def by_lot(seed: int) -> Assessment | None:
    try:
        return assess(Rig(check_case(extreme_case(Random(f"single {seed}")))))
    except CaseError:
        return None


def every() -> Iterator[tuple[str, Assessment]]:
    yield from ((name, shipped(name)) for name in NAMES)
    yield from ((name, changed(name)) for name in VARIANTS)


def section_of(assessment: Assessment, check: Check):
    book = Book(assessment, among=lambda one: one is check)
    return section_by(book, str(worked_by(check)))


def agrees(step) -> bool:
    if step.engine is None:
        return True
    size = max(abs(step.result), abs(step.engine))
    return abs(step.result - step.engine) <= 1e-9 * size or size < 1e-6  # what is nothing but rounding is nothing


def comes_to(section, use: float) -> bool:
    """Whether a step of it comes to the use; that of the pin goes on with its other mode."""
    return any(
        step.result == pytest.approx(use, rel=1e-9) for step in section.steps if step.heading.startswith("Utilization")
    )


def test_each_kind_of_check_is_worked_or_named_as_not_worked():
    seen: dict[tuple[str, str], int] = {}
    for _, assessment in every():
        for one in assessment.worst:
            found = kind(one.check)
            if worked_by(one.check) is None:
                assert found in NOT_BY_HAND or found[0].startswith(("eyelet", *PARTS_NOT_BY_HAND)), found
                continue
            seen[found] = seen.get(found, 0) + 1
            if seen[found] in (1, 9, 23):  # three rigs for each
                section = section_of(assessment, one.check)
                assert section.steps, found
                assert all(agrees(step) for step in section.steps), found
                assert comes_to(section, section.utilization), found
    assert len(seen) >= 55


@pytest.mark.parametrize("seed", ODD)
def test_rails_of_odd_rigs_are_worked(seed):
    assessment = by_lot(seed)
    assert assessment is not None
    for one in assessment.worst:
        if one.check.part == "rail" and worked_by(one.check) is not None:
            section = section_of(assessment, one.check)  # refuses to be where the algebra does not give the check's
            assert section.steps or "no rail is bent" in section.intro


@pytest.mark.parametrize("name", NAMES)
def test_what_governs_a_shipped_case_and_all_over_half_is_worked_by_hand(name):
    assessment = shipped(name)
    highest = max(float(one.utilization) for one in assessment.worst)
    sections = {section.title: section for section in working(assessment)}
    asked = [one for one in assessment.worst if float(one.utilization) > 0.5 or float(one.utilization) == highest]
    assert len(asked) > 10
    for one in asked:
        section = sections[f"{one.check.part}: {one.check.mode}"]
        assert section.utilization == pytest.approx(float(one.utilization))
        assert comes_to(section, float(one.utilization))
        assert "Not worked by hand" not in section.intro


def test_what_governs_stands_by_itself_where_no_part_has_it():
    post = shipped("kestrel-bench")
    weld, *_ = (one for one in working(post) if one.title.startswith("perch post base weld"))
    assert weld.part == "weld"
    found = working(changed("snub line governs"))
    parts = parts_of(changed("snub line governs").solution.rig)
    assert [section.part for section in found[: len(parts) + 1]] == [*parts, GOVERNING]
    last = found[len(parts)]
    assert last.title == "snub line: working load limit" and "Not worked by hand" in last.intro
    assert last.steps[-1].result == pytest.approx(last.utilization, rel=1e-9) and last.verdict == "over"


def test_traps_their_end_welds_and_the_seams_of_a_closed_one_are_worked():
    assessment = assess(rig_of(BARE + CLOSED))
    of_traps = [one for one in assessment.worst if isinstance(one.check.way, TrapWay)]
    assert {one.check.way for one in of_traps} == set(TrapWay)
    for one in of_traps:
        section = section_of(assessment, one.check)
        assert all(agrees(step) for step in section.steps)
        assert comes_to(section, float(one.utilization))
