"""A drawing measures what it says: each dimension its words, both sides alike, a tube its wall, a pull along its line.

What is drawn is taken down in inches, before it becomes a picture; sizes are those typed into the case.
"""

import re
from fractions import Fraction
from math import hypot

import pytest

from rigcheck.assessment.assess import assess
from rigcheck.output.check.result import water
from rigcheck.output.drawing.body import free_body_view
from rigcheck.output.drawing.card import card_view
from rigcheck.output.drawing.data import drawing_data
from rigcheck.output.drawing.detail_data import detail_data
from rigcheck.output.drawing.details import details
from rigcheck.output.drawing.free_body_data import governing_body
from rigcheck.output.drawing.plan import cross_section, plan_view
from rigcheck.output.drawing.sheet import Sheet
from rigcheck.output.drawing.side import bar_length, side_view
from rigcheck.wording.scale import Scale
from tests.output.conftest import assessed
from tests.parts.test_ears import changed

CALLS = ("arrow", "column", "dimension", "dot", "line", "shape")
REAL = {name: getattr(Sheet, name) for name in CALLS}


@pytest.fixture(scope="module")
def drawn():
    """What every drawing of two rigs puts on its sheet: rig, sheet, kind of stroke, points and the rest."""
    capped = assessed(
        box={"length": "110 in", "width": "26 in", "side_height": "6 1/2 in"},
        rail={"stiffener": "HSS2x2x1/4", "at": "cap"},
        hanger={"at": "78 in", "height": "9 in", "spacing": "30 in"},
        bed={"depth": "1 in"},
        water={"lip": "4 in"},
    )
    taken: list[tuple] = []
    with pytest.MonkeyPatch.context() as patch:
        for rig, found in (("capped", capped), ("ears", assess(changed()))):
            for name in CALLS:
                patch.setattr(Sheet, name, noted(taken, rig=rig, name=name, real=REAL[name]))
            drawing = drawing_data(found, scale=Scale())
            plan_view(drawing)
            cross_section(drawing, water=water(found, scale=Scale()))
            side_view(drawing)
            side_view(drawing, bare=True)
            card_view(drawing)
            side_view(drawing, folded=True)
            free_body_view(governing_body(found, scale=Scale()), drawing=drawing)
            details(detail_data(found, scale=Scale()))
    return taken


def noted(taken, *, rig, name, real):
    """A method of a sheet that takes down what it is called with."""

    def call(sheet, *points, **more):
        taken.append((rig, sheet.name, name, points, more))
        return real(sheet, *points, **more)

    return call


def inches(text: str) -> float:
    """The one length in the words of a dimension, as a tape reads it."""
    found = re.search(
        r"(?:(\d+) ft ?)?(?:([\d,.]+)(?![\d/,.]))?(?: ?(\d+/\d+))?(?= |$)", text[re.search(r"\d", text).start() :]
    )
    feet, whole, part = (one or "0" for one in found.groups())
    return 12.0 * int(feet) + float(whole.replace(",", "")) + float(Fraction(part))


def test_every_dimension_says_how_long_it_is(drawn):
    seen = set()
    for rig, sheet, call, (*ends,), more in drawn:
        if call == "dimension":
            (x0, z0), (x1, z1) = ends
            long = hypot(x1 - x0, z1 - z0)
            # a mark of the tape is 1/16 in; other numbers have three digits or more
            assert inches(more["text"]) == pytest.approx(long, abs=0.035, rel=6e-3), (rig, sheet, more["text"], long)
            seen.add(sheet)
    assert seen >= {"plan", "section", "side", "sketch", "side-folded", "body", "hanger-lug", "perch-lug", "post-base",
                    "rail-section", "member-end", "hinge", "box-ear", "plant-ear"}  # fmt: skip


@pytest.mark.parametrize(("sheet", "across"), [("plan", 1), ("section", 0), ("hanger-lug", 0), ("post-base", 0)])
def test_both_sides_are_drawn_alike(drawn, sheet, across):
    for rig in ("capped", "ears"):
        strokes = [
            points for one, name, call, points, _ in drawn
            if (one, name) == (rig, sheet) and call in ("line", "shape", "dot")
        ]  # fmt: skip
        points = [tuple(round(value, 6) + 0.0 for value in point) for stroke in strokes for point in stroke]
        mirrored = [tuple((-value if i == across else value) + 0.0 for i, value in enumerate(one)) for one in points]
        assert sorted(points) == sorted(mirrored) and len(points) > 3


def boxes_on(drawn, sheet, *, rig="capped"):
    """Left, right, low and high of each closed outline on a sheet, in the order drawn."""
    found = []
    for one, name, call, points, _ in drawn:
        if (one, name, call) == (rig, sheet, "shape"):
            xs, zs = zip(*points, strict=True)
            found.append((min(xs), max(xs), min(zs), max(zs)))
    return found


def walls(outer, inner):
    return inner[0] - outer[0], outer[1] - inner[1], inner[2] - outer[2], outer[3] - inner[3]


def test_a_tube_is_drawn_with_its_wall(drawn):
    # HSS2x2x1/4 on top of a side 6 1/2 in high; HSS4x4x1/4 with a base weld of 5/16 in all round
    outer, inner = boxes_on(drawn, "rail-section")[-2:]
    assert (outer[1] - outer[0], outer[2], outer[3] - outer[2]) == pytest.approx((2.0, 6.5, 2.0))
    assert walls(outer, inner) == pytest.approx((0.25,) * 4)
    weld, post, hollow = boxes_on(drawn, "post-base")
    assert walls(weld, post) == pytest.approx((0.3125,) * 4)
    assert walls(post, hollow) == pytest.approx((0.25,) * 4)


def test_a_capping_tube_sits_over_the_middle_of_its_side(drawn):
    # a side of 10 ga, 0.1345 in, is drawn 0.006 of the width thick: 0.156 in, from 13 to 13.156 in off the middle
    caps = [one for one in boxes_on(drawn, "section") if one[2:] == pytest.approx((6.5, 8.5))]
    assert sorted(one[:2] for one in caps) == [pytest.approx((-14.078, -12.078)), pytest.approx((12.078, 14.078))]


def test_levels_of_the_section(drawn):
    (told,) = (
        points[0] for one, name, call, points, _ in drawn if (one, name, call) == ("capped", "section", "column")
    )
    levels = {text.split(" to ")[0]: (point[1], inches(text)) for point, text in told}
    # gravel to the top of the sides, 6 1/2 in, and no heap; lip 4 in; bed 1 in; the water over it
    assert set(levels) == {"packed", "lip", "water", "bed"}
    assert all(drawn == pytest.approx(said, rel=2e-3) for drawn, said in levels.values())
    assert [levels[one][1] for one in ("packed", "lip", "bed")] == [6.5, 4.0, 1.0]


def test_a_pull_is_drawn_along_the_line_and_the_pin_through_all_barrels(drawn):
    count = 0
    for rig, sheet, call, points, more in drawn:
        if call == "arrow" and more["text"].startswith("T"):
            rope = next(
                points for one, name, call, points, rest in drawn
                if (one, call) == (rig, "line") and rest.get("kind") == "rope"
                and name == ("side-folded" if sheet == "side-folded" else "side")
            )  # fmt: skip
            (x0, z0), (x1, z1) = rope
            way = more["along"]
            turn = way[0] * (z1 - z0) - way[1] * (x1 - x0)
            assert abs(turn) < 1e-6 * hypot(*way) * hypot(x1 - x0, z1 - z0)
            # it pulls the hanger toward the perch, and the perch toward the hanger
            away = 1.0 if points[0] == pytest.approx(rope[0]) else -1.0
            assert away * (way[0] * (x1 - x0) + way[1] * (z1 - z0)) > 0.0
            count += 1
    assert count >= 2
    barrels = boxes_on(drawn, "hinge")
    left, right = min(one[0] for one in barrels[2:-1]), max(one[1] for one in barrels[2:-1])
    assert barrels[-1][0] < left and barrels[-1][1] > right
    assert barrels[-1][3] - barrels[-1][2] == pytest.approx(1.125)  # the pin
    *plates, pin = boxes_on(drawn, "ear-pin", rig="ears")
    assert len(plates) == 3 and pin[0] < min(one[0] for one in plates) and pin[1] > max(one[1] for one in plates)


@pytest.mark.parametrize(
    ("unit", "span", "length"),
    [("mm", 505.0, 100.0), ("mm", 1300.0, 250.0), ("mm", 9000.0, 1000.0), ("in", 16.0, 3.0), ("in", 62.0, 12.0),
     ("in", 181.0, 36.0)],
)  # fmt: skip
def test_the_bar_is_the_longest_round_length_within_a_fifth(unit, span, length):
    assert bar_length(unit, span=span)[0] == length


def test_a_line_over_the_hinge_is_named_at_its_middle(monkeypatch):
    told = []
    monkeypatch.setattr(Sheet, "label", lambda _, point, text, **__: told.append((point, text)))
    card_view(drawing_data(assessed(perch={"downstream": "0 in"}), scale=Scale()))
    places = {text: point for point, text in told}
    (name,) = [text for text in places if text.startswith("line ")]
    hanger, perch = places["hanger"], places["perch"]
    assert places[name] == pytest.approx([0.5 * (hanger[i] + perch[i]) for i in range(2)])
