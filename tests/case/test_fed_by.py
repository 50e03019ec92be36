"""Two boxes one after the other: what the second takes from the first, what is refused, and the plant under both."""

import re
from math import atan, cos, sin
from pathlib import Path

import numpy as np
import pytest

from rigcheck.analysis.solve import solve
from rigcheck.assessment.assess import assess
from rigcheck.case import CaseError, read_case
from rigcheck.case.fed import feeding
from rigcheck.case.reading.read import read_case_text
from rigcheck.case.rig import Rig
from rigcheck.parts.plant.checks import at_work, standing
from rigcheck.studies.plant.study import plant_study

HERON = (Path(__file__).parents[2] / "cases" / "heron-shelf.toml").read_text(encoding="utf-8")
PLANT = HERON[HERON.index("[plant]") : HERON.index("[box]")]
FED = '[fed_by]\ncase = "upper.toml"\ndownstream = "104 in"\nbelow = "21 in"\n\n'
WATER = HERON[HERON.index("[water]") : HERON.index("[bed]")]


def lower_text(*, water: str = "") -> str:
    return HERON.replace(WATER, f"{FED}{water}")


def upper_text() -> str:
    return HERON.replace(PLANT, "")


@pytest.fixture
def files(tmp_path):
    """Both boxes in one folder; what is written there is read anew."""

    def write(*, upper: str | None = None, lower: str | None = None) -> Path:
        if upper != "":
            (tmp_path / "upper.toml").write_text(upper_text() if upper is None else upper, encoding="utf-8")
        (tmp_path / "lower.toml").write_text(lower_text() if lower is None else lower, encoding="utf-8")
        return tmp_path / "lower.toml"

    return write


def refused(path: Path) -> str:
    with pytest.raises(CaseError) as told:
        read_case(path)
    return str(told.value)


def test_flow_and_feed_are_those_of_the_other_box_and_they_fall_from_its_lip(files):
    case = read_case(files())
    other = feeding(case)
    assert other is not None and other == read_case_text(upper_text())
    for key in ("flow", "feed", "solids_density", "solids_sg"):
        assert getattr(case.water, key) == getattr(other.water, key)
    # lip 4 1/2 in and pin 1 1/2 in under the floor, 101 in down a floor that falls 1 3/4 in/ft; pin of this box as deep
    pitch = atan(1.75 / 12.0)
    lip = other.water.lip
    assert case.water.fall == pytest.approx((lip + 1.5) * cos(pitch) - 101.0 * sin(pitch) + 21.0 - 1.5, abs=1e-6)


def test_each_box_is_checked_by_itself(files):
    """The second box gives what it gives with the same water written into it."""
    path = files()
    fed = assess(Rig(read_case(path)), only=frozenset({"running"}))
    fall = read_case(path).water.fall
    alone = HERON.replace('fall = "14 in"', f'fall = "{fall} in"').replace('lip = "4 1/2 in"\n', "")
    same = assess(Rig(read_case_text(alone)), only=frozenset({"running"}))
    np.testing.assert_allclose(fed.solution.demand.tension, same.solution.demand.tension, rtol=1e-9)


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"upper": ""}, 'lower.toml: line .*: fed_by.case: "upper.toml" cannot be used: upper.toml: there is no such'),
        (
            {"upper": upper_text().replace('width = "25 in"', 'width = "25"')},
            "cannot be used: upper.toml: line .*box.w",
        ),
        ({"upper": lower_text().replace("upper.toml", "lower.toml")}, "leads back to itself"),
        ({"upper": HERON}, "describes the plant"),
        ({"upper": upper_text().replace(WATER, "")}, r"has no \[water\]"),
        ({"lower": lower_text(water='[water]\nflow = "90 gpm"\n\n')}, "water.flow: comes from the box that feeds"),
        ({"lower": lower_text().replace('"upper.toml"', '"../upper.toml"')}, "is not the name of a file in the folder"),
        ({"lower": lower_text().replace('below = "21 in"', 'below = "-30 in"')}, "fed_by.below: puts the lip"),
        ({"lower": lower_text().replace('below = "21 in"', 'below = "21"')}, "fed_by.below"),
        ({"lower": lower_text().replace('case = "upper.toml"\n', "")}, "fed_by.case: is missing"),
    ],
)
def test_what_does_not_fit_is_refused_by_file_and_key(files, change, told):
    assert re.search(told, refused(files(**change)))


def test_a_text_without_a_file_names_no_other_file():
    with pytest.raises(CaseError, match=r"fed_by\.case: names a file beside this one"):
        read_case_text(lower_text())


def test_the_other_box_may_be_written_in_other_units(files):
    case = read_case(files(upper=upper_text().replace('width = "25 in"', 'width = "635 mm"')))
    assert feeding(case).box.width == pytest.approx(25.0)


def test_the_plant_carries_both_boxes_whatever_is_in_the_other_one(files):
    """About the tail jacks, 7 in upstream of this hinge: the other box, 104 in upstream and 21 in up, by hand."""
    rig = Rig(read_case(files()))
    solution = solve(rig)
    both = standing(solution, rows=at_work(solution)).moments()
    alone = standing(solve(Rig(read_case_text(HERON))), rows=at_work(solution)).moments()
    upper = solve(Rig(feeding(rig.case)))
    rows = np.flatnonzero(upper.cases(lambda case: case.on_feet))
    s, n = upper.service.center[rows, 0], upper.service.center[rows, 2] + 1.5
    e_s, e_n = upper.pose.along[rows], upper.pose.normal[rows]
    x = s * e_s[:, 0] + n * e_n[:, 0] - 104.0
    body = standing(solution, rows=at_work(solution))
    edge = int(np.flatnonzero(body.base.live & (body.base.way == 0))[0])
    # straight down it holds by W (-7 - x) where it stands upstream of the jacks; the least of all that is counted
    flat = standing(solution, rows=at_work(solution), level=True).moments()
    least = float((upper.service.weight[rows] * (-7.0 - x)).min())
    before = standing(solve(Rig(read_case_text(HERON))), rows=at_work(solution), level=True).moments()
    more = (flat.stabilizing - flat.overturning) - (before.stabilizing - before.overturning)
    hung = [i for i, row in enumerate(body.rows) if solution.rows[row].state == "empty"]  # alike in both
    assert hung
    np.testing.assert_allclose(more[hung, edge], least, rtol=1e-6)
    assert (both.stabilizing >= alone.stabilizing - 1e-6)[hung].all()


def test_the_feet_and_the_road_take_both_boxes(files):
    lower = plant_study(assess(Rig(read_case(files()))), cures=False)
    heavier = plant_study(assess(Rig(read_case_text(HERON))), cures=False)
    upper = assess(Rig(read_case_text(upper_text()))).solution
    gross = lower.folded.gross - heavier.folded.gross
    hauled = [i for i, row in enumerate(upper.rows) if row.state == "hauling"]
    assert gross == pytest.approx(float(upper.service.weight[hauled[0]]), rel=1e-6)
    assert max(one.most for one in lower.feet) > max(one.most for one in heavier.feet)
