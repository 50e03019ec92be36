"""A rig governed folded, parked or on the road, is drawn so: its free body closes from the points and forces shown."""

import pytest

from rigcheck.assessment.assess import assess
from rigcheck.case.reading.read import read_case
from rigcheck.case.rig import Rig
from rigcheck.output.drawing.body import free_body_view
from rigcheck.output.drawing.data import drawing_data
from rigcheck.output.drawing.free_body_data import governing_body
from rigcheck.output.report.bodies import folded_body_table
from rigcheck.studies.vary.case import with_values
from rigcheck.wording.scale import Scale
from tests.output.test_labels import CASES, collisions

WEAK = {"parked": (300.0, 90_000.0), "hauling": (90_000.0, 100.0)}  # straps' working load limit and breaking strength


@pytest.fixture(scope="module", params=list(WEAK))
def governed(request):
    case = read_case(next(path for path in CASES if path.stem == "larkspur-bar"))
    wll, mbf = WEAK[request.param]
    weak = {f"haul.tie_down.{i}.{key}": value for i in range(3) for key, value in (("wll", wll), ("mbf", mbf))}
    found = assess(Rig(with_values(case, weak)))
    return request.param, found, governing_body(found, scale=Scale())


def test_it_is_the_case_that_governs(governed):
    state, found, body = governed
    top = found.worst[int(found.governing)]
    assert body["governs"] and body["state"] == state
    assert (body["part"], body["mode"]) == (top.check.part, top.check.mode)
    strap = next(one for one in body["folded"]["members"] if one["name"] == body["part"])
    assert strap["force"] == pytest.approx(float(top.demand))  # there is one of each


def test_its_forces_close_where_they_are_drawn(governed):
    _, _, body = governed
    shown = body["folded"]
    forces = [(body["cg"], {"x": 0.0, "y": 0.0, "z": -shown["weight"]}), (body["cg"], shown["acceleration"])]
    forces += [(shown["wind_at"], shown["wind"])] if shown["wind_at"] else []
    forces += [(one["at"], one["vector"]) for one in shown["members"]]
    forces += [((0.0, 0.0), shown["hinge"][side]) for side in ("left", "right")]
    for axis in "xyz":
        assert sum(force[axis] for _, force in forces) == pytest.approx(0.0, abs=1e-9 * shown["weight"])
    turns = [at[1] * force["x"] - at[0] * force["z"] for at, force in forces]
    assert sum(turns) == pytest.approx(0.0, abs=1e-9 * max(map(abs, turns)))
    assert max(map(abs, turns)) > 1.0


def test_the_rule_of_the_road_throws_it_by_its_share_of_the_weight(governed):
    """49 CFR 393.102(a): 0.8 g forward, 0.5 g rearward or sideways against breaking strength; a lean of 2 degrees."""
    state, _, body = governed
    share = {axis: abs(value) / body["folded"]["weight"] for axis, value in body["folded"]["acceleration"].items()}
    if state == "hauling":
        assert sorted(share.values())[-1] in (pytest.approx(0.8), pytest.approx(0.5))
    else:
        assert share["x"] == pytest.approx(0.0349, abs=2e-4)  # tan 2 degrees


def test_picture_and_table_tell_it(governed):
    state, found, body = governed
    picture, caption = free_body_view(body, drawing=drawing_data(found, scale=Scale()))
    assert collisions(picture) == [] and "tie-down" in picture and "Rz" in picture
    assert ("lean" in picture) == (state == "parked") and "governing case" in caption
    told = folded_body_table(body, units={"force": "lbf", "moment": "lbf*in", "length": "in"})
    assert all(one["name"] in told for one in body["folded"]["members"])
