"""Words in a drawing cross no line, dimension or other words, and are printed at 8 pt or more: every shipped case.

What is measured are the boxes of the texts and the strokes of the picture as it is written; a picture keeps its
proportions on paper and on a phone, so that one measure stands for both. A real browser is asked for all of them.
"""

import json
import random
import re
from functools import cache
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import pytest

from rigcheck.assessment.assess import assess
from rigcheck.case import read_case, read_case_text
from rigcheck.case.rig import Rig
from rigcheck.output.check.result import water
from rigcheck.output.drawing import labels
from rigcheck.output.drawing.body import free_body_view
from rigcheck.output.drawing.card import WIDE, card_view
from rigcheck.output.drawing.data import drawing_data
from rigcheck.output.drawing.detail_data import detail_data
from rigcheck.output.drawing.details import details
from rigcheck.output.drawing.free_body_data import governing_body
from rigcheck.output.drawing.plan import cross_section, plan_view
from rigcheck.output.drawing.side import side_view
from rigcheck.output.html_style import STYLE
from rigcheck.wording.scale import Scale
from tests.output.picture_reader import SVG, boxes
from tests.output.report_reader import CHROMIUM, measured_labels
from tests.parts.test_ears import EARS

CASES = sorted((Path(__file__).parents[2] / "cases").glob("*.toml"))
POINTS = 72.0
PAPER = 182.0 / 25.4 * POINTS  # width of what is printed on A4, the narrower paper: 210 mm less margins of 14 mm


def meets(box, start, end) -> bool:
    """Whether a stroke passes through a box, by halving it until it is a point."""
    left, top, right, bottom = box
    steps = max(int(max(abs(end[0] - start[0]), abs(end[1] - start[1])) / 0.5), 1)
    for i in range(steps + 1):
        x, y = (start[k] + (end[k] - start[k]) * i / steps for k in range(2))
        if left < x < right and top < y < bottom:
            return True
    return False


def strokes(root):
    for one in root.iter():
        if one.tag in (f"{SVG}polyline", f"{SVG}polygon"):
            points = [tuple(map(float, pair.split(","))) for pair in (one.get("points") or "").split()]
            yield from pairwise([*points, points[0]] if one.tag == f"{SVG}polygon" else points)


def collisions(svg: str) -> list[tuple[str, object]]:
    root = ElementTree.fromstring(svg)
    told, lines, found = boxes(root), list(strokes(root)), []
    for i, (text, box) in enumerate(told):
        for other, beside in told[:i]:
            if box[0] < beside[2] and beside[0] < box[2] and box[1] < beside[3] and beside[1] < box[3]:
                found.append((text, other))
        near = [
            (a, b) for a, b in lines
            if all(min(a[k], b[k]) < box[k + 2] and max(a[k], b[k]) > box[k] for k in range(2))
        ]  # fmt: skip
        found += [(text, line) for line in near if meets(box, *line)]
    return found


@cache
def pictures(path, system) -> dict[str, tuple[str, str]]:
    """Every picture of the packet of a shipped case by its name."""
    return pictures_of(Rig(read_case(path)), system)


def pictures_of(rig, system) -> dict[str, tuple[str, str]]:
    """Every picture of a packet and its card by its name, with how it is shown: whole, half, detail, sketch or card."""
    found, scale = assess(rig), Scale(system)
    drawing = drawing_data(found, scale=scale)
    made = {"side": (side_view(drawing)[0], "whole"), "sketch": (side_view(drawing, bare=True)[0], "sketch")}
    body = governing_body(found, scale=scale)
    if body is not None:
        made["body"] = (free_body_view(body, drawing=drawing)[0], "whole")
    made["card"] = (card_view(drawing), "card")
    if drawing["folded"] is not None:
        made["folded"] = (side_view(drawing, folded=True)[0], "whole")
    made["plan"] = (plan_view(drawing)[0], "half")
    made["section"] = (cross_section(drawing, water=water(found, scale=scale))[0], "half")
    for i, (picture, _) in enumerate(details(detail_data(found, scale=scale))):
        made[f"detail {i + 1}"] = (picture, "detail")
    return made


@pytest.mark.parametrize("system", ["us", "si"])
@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_no_words_cross_a_line_or_other_words(path, system):
    found = {name: hits for name, (svg, _) in pictures(path, system).items() if (hits := collisions(svg))}
    assert found == {}


@pytest.mark.parametrize("shear", ["single", "double"])
def test_no_words_cross_a_line_where_the_hinge_is_one_of_ears(shear):
    rig = Rig(read_case_text(EARS.replace('shear = "double"', f'shear = "{shear}"')))
    made = pictures_of(rig, "us")
    assert len([name for name in made if name.startswith("detail")]) == 8
    assert {name: hits for name, (svg, _) in made.items() if (hits := collisions(svg))} == {}


def test_the_measure_finds_words_on_a_line_and_on_words():
    text = '<text x="50" y="20" font-size="10" text-anchor="middle">{}</text>'
    line = '<polyline points="0,17 100,17"/>'
    head = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 40">'
    assert len(collisions(f"{head}{text.format('one')}{line}</svg>")) == 1
    assert len(collisions(f"{head}{text.format('one')}{text.format('two')}</svg>")) == 1
    assert collisions(f"{head}{text.format('one')}</svg>") == []


def test_looking_at_near_places_first_finds_the_best_of_all(monkeypatch):
    draw = random.Random(3)

    def point():
        return draw.uniform(0.0, 300.0), draw.uniform(0.0, 200.0)

    for _ in range(60):
        words = [(x, y, x + 60.0, y + 14.0) for x, y in (point() for _ in range(draw.randint(0, 25)))]
        strokes = [(point(), point()) for _ in range(draw.randint(0, 12))]
        along = (point(), point()) if draw.random() < 0.5 else None
        label = labels.Label(point(), "8 ft 10 in", 12.0, False, None if along else (0.0, 1.0), along)
        room = labels.Room((300.0, 200.0), words, words, strokes)
        near = room.find(label)
        with monkeypatch.context() as patch:
            patch.setattr(labels, "_RINGS", (labels._AWAY,))
            assert room.find(label).cost == near.cost


def inches(rule: str, what: str) -> float:
    printed = STYLE[STYLE.index("@media print") :]
    return float(re.search(re.escape(rule) + r"\{[^}]*" + what + r":([\d.]+)in", printed)[1])


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_words_are_printed_at_8_points_or_more(path):
    tall = {"whole": inches("figure svg", "max-height"), "half": inches("figure.half svg", "max-height"),
            "detail": 99.0, "card": 99.0, "sketch": inches(".sketch svg", "max-height")}  # fmt: skip
    wide = {"whole": inches("figure svg", "max-width") * POINTS, "detail": 0.5 * (PAPER - 10.0), "sketch": 0.46 * PAPER}
    wide["card"] = WIDE
    wide["half"] = wide["whole"]
    for name, (svg, kind) in pictures(path, "us").items():
        root = ElementTree.fromstring(svg)
        across, up = map(float, (root.get("viewBox") or "").split()[2:])
        scale = min(wide[kind] / across, tall[kind] * POINTS / up)
        least = min(float(one.get("font-size", "0")) for one in root.iter(f"{SVG}text"))
        assert least * scale >= (14.0 if kind == "card" else 8.0), (name, least * scale)


@pytest.mark.skipif(not CHROMIUM, reason="no chromium here to render the drawings with")
def test_a_real_browser_finds_no_words_on_words_or_lines_on_a_phone(tmp_path):
    every = [svg for path in CASES for svg, _ in pictures(path, "us").values()]
    page = "".join(f"<figure>{svg}</figure>" for svg in every)
    assert json.loads(measured_labels(page, folder=tmp_path, width=390)) == []
