"""Drawings are to scale, keep inside their picture, keep labels apart, and draw the forces that balance."""

import json
import re
from math import atan, cos, hypot, pi, sin
from pathlib import Path
from xml.etree import ElementTree

import pytest

from rigcheck.assessment.assess import assess
from rigcheck.case import read_case
from rigcheck.case.rig import Rig
from rigcheck.output.check.result import water
from rigcheck.output.drawing.data import drawing_data
from rigcheck.output.drawing.plan import cross_section, plan_view
from rigcheck.output.drawing.sheet import WIDE, Frame, Sheet
from rigcheck.output.drawing.side import bar_length, side_view
from rigcheck.wording.scale import Scale
from tests.output.conftest import assessed
from tests.output.picture_reader import SVG, boxes

CASES = sorted((Path(__file__).parents[2] / "cases").glob("*.toml"))


def pictures(assessment, *, system="us"):
    scale = Scale(system)
    drawing = drawing_data(assessment, scale=scale)
    made = [side_view(drawing), plan_view(drawing), cross_section(drawing, water=water(assessment, scale=scale))]
    if drawing["folded"] is not None:
        made.append(side_view(drawing, folded=True))
    return made


def text_boxes(svg: str) -> list[tuple[float, float, float, float]]:
    """Left, top, right, bottom of every text."""
    return [box for _, box in boxes(ElementTree.fromstring(svg))]


def test_one_scale_for_both_directions():
    sheet = Sheet("a", Frame(left=-10.0, right=90.0, low=-20.0, high=40.0))
    (x0, y0), (x1, y1) = sheet.place((0.0, 0.0)), sheet.place((30.0, 40.0))
    assert hypot(x1 - x0, y1 - y0) == pytest.approx(50.0 * sheet.scale)
    assert x1 > x0 and y1 < y0


def test_labels_at_one_point_do_not_cover_each_other():
    sheet = Sheet("a", Frame(left=0.0, right=100.0, low=0.0, high=60.0))
    for word in ("hinge", "hanger", "perch", "W 1,234 lb", "T 987 lb", "falls 1.62 in/ft"):
        sheet.label((50.0, 30.0), word)
    boxes = text_boxes(sheet.svg(title="t", describe="d"))
    assert len(boxes) == 6
    for i, one in enumerate(boxes):
        for other in boxes[:i]:
            apart = one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]
            assert apart, (one, other)


def test_text_of_a_label_is_escaped():
    sheet = Sheet("a", Frame(left=0.0, right=100.0, low=0.0, high=60.0))
    sheet.label((50.0, 30.0), '<script>"&')
    svg = sheet.svg(title="<t>", describe='"d"')
    assert "<script" not in svg and "<t>" not in svg
    assert '<script>"&' in [one.text for one in ElementTree.fromstring(svg).iter(f"{SVG}text")]


def test_an_arrow_points_where_its_force_points():
    for along, into in (((1.0, 0.0), False), ((0.0, -2.0), False), ((3.0, 4.0), True)):
        sheet = Sheet("a", Frame(left=0.0, right=100.0, low=0.0, high=60.0))
        sheet.arrow((50.0, 30.0), along=along, length=50.0, text="F", into=into)
        tip = re.search(r'<polygon points="([\d.]+),([\d.]+)', sheet.svg(title="t", describe="d"))
        assert tip is not None
        x, y = sheet.place((50.0, 30.0))
        reach = 0.0 if into else 50.0 / hypot(*along)
        assert float(tip[1]) == pytest.approx(x + reach * along[0], abs=0.06)
        assert float(tip[2]) == pytest.approx(y - reach * along[1], abs=0.06)


def test_corners_follow_from_pitch_and_fold():
    rig = assessed(box={"pitch": "1 1/2 in/ft", "length": "100 in"}, hinge={"height": "2 in"})
    found = drawing_data(rig, scale=Scale())
    angle = -atan(1.5 / 12.0)
    x, z = found["deployed"]["corners"][1]
    assert x == pytest.approx(100.0 * cos(angle) + 2.0 * sin(angle))
    assert z == pytest.approx(100.0 * sin(angle) - 2.0 * cos(angle))
    turned = angle + 40.0 * pi / 180.0
    x, z = found["folded"]["corners"][1]
    assert x == pytest.approx(100.0 * cos(turned) + 2.0 * sin(turned))
    assert z == pytest.approx(100.0 * sin(turned) - 2.0 * cos(turned))


def test_drawn_forces_balance_and_are_those_of_the_result(assessment, us):
    found = drawing_data(assessment, scale=Scale())["forces"]
    for axis in "xz":
        total = found["load"][axis] + found["line_on_box"][axis] + found["hinge"][axis]
        assert total == pytest.approx(0.0, abs=1e-9 * found["weight"])
    assert found["line"] * found["lever_arm"] == pytest.approx(found["load_moment"])
    assert found["load_moment"] == pytest.approx(found["weight"] * found["cg"][0], rel=0.01)
    rows = [row for row in us["states"] if (row["state"], row["variant"]) == (found["state"], found["variant"])]
    bound = next(one for one in rows[0]["bounds"] if one["bound"] == "stiff")
    assert sum(bound["line"].values()) == pytest.approx(found["line"])
    assert sum(bound["hinge"][side]["z"] for side in ("left", "right")) == pytest.approx(found["hinge"]["z"])


def test_drawing_data_is_plain_json(assessment):
    found = drawing_data(assessment, scale=Scale())
    assert json.loads(json.dumps(found, allow_nan=False)) == found


@pytest.mark.parametrize("system", ["us", "si"])
def test_pictures_are_well_formed_and_say_in_words_what_they_show(assessment, system):
    for svg, caption in pictures(assessment, system=system):
        root = ElementTree.fromstring(svg)
        assert "See " in caption
        title, describe = root.find(f"{SVG}title"), root.find(f"{SVG}desc")
        assert title is not None and title.text and describe is not None and len(describe.text or "") > 60
        assert root.get("aria-labelledby") == f"{title.get('id')} {describe.get('id')}"
        for color in re.findall(r'(?:fill|stroke)="#([0-9a-f]+)"', svg):
            third = len(color) // 3
            assert color == color[:third] * 3, "a color that is not a gray"


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_nothing_leaves_the_picture(path):
    for svg, _ in pictures(assess(Rig(read_case(path)))):
        tall = float((ElementTree.fromstring(svg).get("viewBox") or "").split()[3])
        for left, top, right, bottom in text_boxes(svg):
            assert left >= -1.0 and right <= WIDE + 1.0 and top >= -1.0 and bottom <= tall + 1.0
        for run in re.findall(r'points="([^"]+)"', svg):
            for x, y in (pair.split(",") for pair in run.split()):
                assert -1.0 <= float(x) <= WIDE + 1.0 and -1.0 <= float(y) <= tall + 1.0


def test_no_forces_are_drawn_at_a_dead_point():
    found = assessed(perch={"downstream": "110 in", "height": "-4 in"})
    svg, _ = pictures(found)[0]
    assert drawing_data(found, scale=Scale())["forces"] is None
    assert not re.search(r">(T|W|Rx|Rz) [\d,]", svg)


def test_slack_lines_are_not_drawn_as_pulling():
    rig = Rig(read_case(next(path for path in CASES if path.stem == "larkspur-bar")))
    found = drawing_data(assess(rig), scale=Scale())
    assert found["forces_folded"]["line"] < 0.0, "the case was chosen because its lines are slack when folded"
    svg, caption = side_view(found, folded=True)
    assert "slack" in caption and re.search(r">W [\d,]", svg)
    assert not re.search(r">(T|Rx|Rz) [\d,]", svg)
    told = ElementTree.fromstring(svg).find(f"{SVG}desc").text
    assert told.endswith(", the lines slack.") and "both lines together" not in told


def test_scale_bar_is_a_round_length_and_not_too_long():
    assert bar_length("in", span=130.0) == (24.0, "24 in")
    assert bar_length("mm", span=3000.0)[0] == 500.0
    assert bar_length("in", span=1.0)[0] == 3.0
