"""A length as a tape reads it, and what the page takes from other rooms."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigcheck.assessment.assess import assess
from rigcheck.case import read_case
from rigcheck.case.rig import Rig
from rigcheck.output.check.checks import checks
from rigcheck.output.drawing.data import drawing_data
from rigcheck.output.drawing.grips import grip_places
from rigcheck.output.drawing.shapes import side_frame
from rigcheck.output.drawing.side import side_view
from rigcheck.quantities import read
from rigcheck.quantities.shop import tape_of, tape_text
from rigcheck.wording.scale import Scale
from tests.output.old_words import old_words, strings
from tests.output.report_reader import read as parsed
from tests.page.running import ROOT


@pytest.mark.parametrize(
    ("inches", "tape", "text"),
    [(106.25, "ft in", "8 ft 10 1/4 in"), (96.0, "ft in", "8 ft"), (0.125, "ft in", "1/8 in"), (0.0, "in", "0 in"),
     (-14.5, "in", "-14 1/2 in"), (-14.0, "ft in", "-1 ft 2 in"), (96.26, "mm", "2445 mm"), (96.26, "m", "2.445 m"),
     (96.26, "cm", "244.5 cm"), (11.99, "ft in", "1 ft"), (-0.01, "in", "0 in")],
)  # fmt: skip
def test_a_length_is_written_for_the_tape(inches, tape, text):
    assert tape_text(inches, tape=tape) == text


@pytest.mark.parametrize(
    ("text", "tape"),
    [("8 ft 10 in", "ft in"), ("8'", "ft in"), ("96 in", "in"), ('1 1/2"', "in"), ("2440 mm", "mm"), ("2.4m", "m"),
     ("24 cm", "cm"), ("", "in")],
)  # fmt: skip
def test_a_length_keeps_the_units_of_its_file(text, tape):
    assert tape_of(text) == tape


@given(st.integers(-4000, 4000), st.sampled_from(["ft in", "in"]))
def test_what_is_written_is_read_back(eighths, tape):
    assert read(tape_text(eighths / 8.0, tape=tape), dimension="length") == eighths / 8.0


@pytest.fixture(scope="module")
def found():
    return assess(Rig(read_case(ROOT / "cases" / "sawpit-bend.toml")))


def test_ten_rows_are_the_first_of_all(found):
    every = checks(found, scale=Scale(), tight_above=0.85)
    assert checks(found, scale=Scale(), tight_above=0.85, most=10) == every[:10] and len(every) > 50


def test_a_picture_stands_still_in_a_given_frame(found):
    drawing = drawing_data(found, scale=Scale())
    frame = side_frame(drawing)
    assert side_view(drawing, frame=frame) == side_view(drawing)
    drawing["perch"]["height"] += 20.0
    moved = side_view(drawing, frame=frame)[0]
    assert side_frame(drawing) != frame and moved.split(">")[0] == side_view(drawing, frame=frame)[0].split(">")[0]


def test_a_grip_moves_by_its_key(found):
    """The hanger of a longer reach stands where the grip's way says: place of the key plus way times the change."""
    rig = found.solution.rig
    drawing = drawing_data(found, scale=Scale())
    frame = side_frame(drawing)
    before = {one["key"]: one for one in grip_places(drawing, frame=frame)}
    from rigcheck.studies.vary.case import with_values

    for key, grip in before.items():
        value = float(rig.number(key)) + 0.5
        other = drawing_data(assess(Rig(with_values(rig.case, {key: value}))), scale=Scale())
        now = {one["key"]: one for one in grip_places(other, frame=frame)}[key]
        wanted = [at + 0.5 * way for at, way in zip(grip["at"], grip["way"], strict=True)]
        assert now["at"] == pytest.approx(wanted, abs=0.02)


def test_no_old_word_stands_on_the_page(page):
    """The page as it opens, what it tells of a rig, and the sentences of its scripts."""
    _, first = page.get()
    told = strings(page.ask("/live", changes={"base": page.base}))
    shown = [text for page in (first, *told) for texts in parsed(page).texts.values() for text in texts]
    for script in (ROOT / "rigcheck" / "page" / "static").glob("*.js"):
        shown += re.findall(r"[\"'`]([^\"'`\n]* [^\"'`\n]*)[\"'`]", script.read_text(encoding="utf-8"))
    assert [one for text in shown for one in old_words(text)] == []
