"""The open box on one line, against shell models that take nothing from the engine; see open_box_shell.py."""

from pathlib import Path

import numpy as np
import pytest

from rigcheck.loads.pieces import BOUNDS
from tests.outside.open_box_case import HALVED, MESH, angle, files, lever_arm, pull_of_what_is_gone, read_box, tube
from tests.outside.open_box_compare import beside, names, recorded, solved

pytest.importorskip("Pynite")

from tests.outside.open_box_found import Found, results
from tests.outside.open_box_shell import COMBOS, build, solve

BOXES = Path(__file__).parent / "boxes"
pytestmark = pytest.mark.filterwarnings("ignore")  # PyNite's own


@pytest.fixture(scope="module")
def coarse() -> dict[str, Found]:
    """A small box of coarse elements, solved here and now."""
    shell = build(read_box(BOXES / "finch-light.toml"), size=4.0)
    solve(shell)
    return {state: results(shell, state) for state in COMBOS}


def test_record_is_what_the_model_gives(coarse):
    for state, found in coarse.items():
        model = recorded()["finch-light", state, "ends", MESH]
        assert found.tension == pytest.approx(model["tension"], rel=1e-3)
        assert found.roll[-1] == pytest.approx(model["roll_tail"], rel=0.10)
        np.testing.assert_allclose(list(found.torque.values()), model["torque"], rtol=0.06)
        assert found.worst(found.top, 0)[0] == pytest.approx(model["top_left"][0], rel=0.08)


def test_halving_the_elements_changes_little():
    for state in COMBOS:
        whole, half = (recorded()[HALVED, state, "ends", size] for size in (MESH, 0.5 * MESH))
        np.testing.assert_allclose(half["torque"], whole["torque"], rtol=0.04)
        assert half["roll_tail"] == pytest.approx(whole["roll_tail"], rel=0.05)
        for side in ("left", "right"):
            assert half[f"top_{side}"][0] == pytest.approx(whole[f"top_{side}"][0], rel=0.05)
            assert half[f"foot_{side}"][0] == pytest.approx(whole[f"foot_{side}"][0], rel=0.10)


def test_boxes_are_those_asked_for():
    assert len(names()) >= 8
    assert names() == [path.stem for path in files()]
    texts = {path.stem: path.read_text(encoding="utf-8") for path in files()}
    assert sum('shape = "angle' in text for text in texts.values()) >= 2
    assert sum("[end_tube]" not in text for text in texts.values()) >= 1
    assert any('shape = "pipe' in text for text in texts.values())


def test_virtual_turn_about_the_hinge_gives_the_line():
    """Turn the box a little about its hinge: what the loads of every node give is what the line takes."""
    for name in ("finch-light", "sawpit-bend"):
        (path,) = (one for one in files() if one.stem == name)
        box = read_box(path)
        shell = build(box, size=4.0)
        arm = lever_arm(box)
        for state, cases in COMBOS.items():
            work = 0.0
            for (node, case), (force_s, force_n, turn) in shell.loads.items():
                if case in cases:
                    here = shell.model.nodes[node]
                    work += here.X * force_n - (here.Y - box.hinge_n) * force_s + turn
            found, row = solved(name, state)
            whole = -work / arm + pull_of_what_is_gone(box)
            assert found.held.tension[row].sum(-1)[-2:] == pytest.approx(whole, rel=0.01)
            assert recorded()[name, state, "ends", MESH]["tension"] == pytest.approx(-work / arm, rel=0.005)


def test_sections_of_the_models_are_the_published_ones():
    """HSS2x1-1/2x3/16: A 1.02, Ix 0.495, Iy 0.313, J 0.664 (AISC Manual, memory); L3x3x1/4: A 1.44, I 1.23 (memory)."""
    one = tube(2.0, 1.5, 0.174)
    found = [one.area, one.upright, one.flat, one.torsion]
    np.testing.assert_allclose(found, [1.02, 0.495, 0.313, 0.664], rtol=3e-3)
    np.testing.assert_allclose([angle(3, 3, 0.25).area, angle(3, 3, 0.25).upright], [1.44, 1.23], rtol=0.02)


@pytest.mark.parametrize("state", COMBOS)
@pytest.mark.parametrize("box", names())
def test_line_pulls_alike(box, state):
    assert beside(box, state).tension == pytest.approx(1.0, abs=0.01)


@pytest.mark.parametrize("state", COMBOS)
@pytest.mark.parametrize("box", names())
def test_rail_stress_on_the_safe_side(box, state):
    """With an eighth of the width of floor counted with each rail; the other rail is never the worse of both."""
    ours = beside(box, state)
    assert 1.1 <= ours.near <= 1.6
    assert ours.near * ours.shown[1] >= max(ours.shown[1:3])


@pytest.mark.parametrize("box", names())
def test_stress_that_governs_a_rail_is_safe(box):
    both = [beside(box, state) for state in COMBOS]
    assert max(one.near * one.shown[1] for one in both) >= 0.95 * max(max(one.shown[1:3]) for one in both)


@pytest.mark.parametrize("box", names())
def test_less_floor_with_the_rail_is_safer(box):
    """Two inches, as the shipped cases say, against the same models."""
    for state in COMBOS:
        found, row = solved(box, state, strip="2 in")
        rails = found.bent.on_bounds(found.peaks.stress)[row, BOUNDS.index("left")]
        assert rails[0] >= 0.999 * beside(box, state).near * beside(box, state).shown[1]


@pytest.mark.parametrize("state", COMBOS)
@pytest.mark.parametrize("box", names())
def test_torque_of_every_member(box, state):
    """Within 25 % of its own, or of a member at an end of the box within 10 % of the box's largest.

    At the ends of the walls, whose feet give way there, a model of beams has more and not less: sawpit-bend's tail
    tube, whose torque is less than a third of the largest, is 29 % high at clean-out, 9 % of that largest.
    """
    ours = beside(box, state)
    np.testing.assert_allclose(ours.torque[~ours.at_end], 1.0, atol=0.25)
    room = np.maximum(0.25, 0.10 * ours.shown[3] / ours.model_torque)
    assert np.all(ours.torque >= 0.75) and np.all(ours.torque <= 1.0 + room)


@pytest.mark.parametrize("state", COMBOS)
@pytest.mark.parametrize("box", names())
def test_roll(box, state):
    assert beside(box, state).roll == pytest.approx(1.0, abs=0.30)
