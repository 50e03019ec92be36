"""The statics against an independent plane-frame solver on fifty random rigs; what the comparison refuses."""

from dataclasses import replace

import numpy as np
import pytest

pytest.importorskip("anastruct")

from rigcheck.check.assess import assess
from rigcheck.check.solve import Solution, solve
from rigcheck.statics.rail import SHARES
from rigcheck.studies.frame import Band, FrameError, Points, Rail, mesh, solve_frame
from rigcheck.studies.second_opinion import Confirmation, confirm, confirm_governing, worst_difference
from tests.statics.random_rigs import CHANNELS, FOLDING, PLAIN, STRUCTURES, rig_of, varied_rig
from tests.whole_rig import starter_text

NOTHING = Points(*(np.zeros(0),) * 4)


def drawn(text: str, *, count: int, seed: int) -> list[Confirmation]:
    """One random row and share of each of so many rigs."""
    solution = solve(varied_rig(text, count, seed=seed))
    draw = np.random.default_rng(seed)
    found = []
    for i in range(count):
        live = [row for row in solution.bent.rows if not solution.held.dead[i, row]]
        found.append(confirm(solution, state=int(draw.choice(live)), share=int(draw.integers(3)), design=(i,)))
    return found


@pytest.mark.parametrize(("name", "seed"), [("plain", 1), ("channels", 2), ("low stiffener", 3), ("folding", 4)])
def test_fifty_random_rigs(name, seed):
    """Line tension, hinge force, peak moment, sag and tail drop within half a percent."""
    found = drawn(STRUCTURES[name], count=13, seed=seed)
    apart = [(one.label, row) for one in found for row in one.comparisons if row.difference > 0.005]
    assert not apart
    names = {row.name for one in found for row in one.comparisons}
    assert {"line tension", "hinge force x", "hinge force z", "peak rail moment"} <= names
    assert {"sag", "tail drop"} <= names or name == "folding"
    assert all(one.ok and one.imbalance < 0.05 for one in found)


def test_every_state_of_one_rig():
    solution = solve(rig_of(CHANNELS))
    states = {solution.rows[row].state: row for row in solution.bent.rows}
    assert len(states) >= 9
    for row in states.values():
        found = confirm(solution, state=row, share=SHARES.index("limp left"))
        assert found.ok, (found.label, found.comparisons)


def test_a_rig_whose_posts_give():
    solution = solve(rig_of(starter_text()))
    assert np.all(solution.give > 0.0)
    states = {solution.rows[row].state: row for row in solution.sagged.rows}
    found = [confirm(solution, state=row, share=0) for row in states.values()]
    assert worst_difference(found) < 0.005


def test_governing_rows_of_an_assessment():
    found = confirm_governing(assess(rig_of(PLAIN)))
    assert 1 <= len(found) <= 3
    assert len({(one.state, one.share) for one in found}) == len(found)
    assert worst_difference(found) == max(one.worst for one in found) < 0.005
    with pytest.raises(ValueError, match="nothing"):
        worst_difference([])


def test_governing_rows_of_one_design_in_a_batch():
    assessment = assess(varied_rig(PLAIN, 3, seed=6))
    found = confirm_governing(assessment, design=(1,))
    assert worst_difference(found) < 0.005
    tension = assessment.solution.demand.tension[1]
    largest = max(one.comparisons[0].ours for one in found)
    assert largest >= 0.5 * tension[:, :3].max()


@pytest.mark.parametrize("factor", [1.01, 0.99])
@pytest.mark.parametrize("part", ["tension", "peak", "sag", "hinge", "drop"])
def test_an_error_of_one_percent_is_noticed(part, factor):
    solution = solve(rig_of(PLAIN))
    row = next(i for i in solution.sagged.rows if solution.rows[i].state == "packed")
    assert confirm(solution, state=row).ok
    wrong = nudged(solution, part=part, factor=factor)
    assert not confirm(wrong, state=row).ok


def nudged(solution: Solution, *, part: str, factor: float) -> Solution:
    if part == "tension":
        return replace(solution, demand=replace(solution.demand, total=factor * solution.demand.total))
    if part == "hinge":
        return replace(solution, demand=replace(solution.demand, hinge=factor * solution.demand.hinge))
    if part == "peak":
        return replace(solution, peaks=replace(solution.peaks, max_moment=factor * solution.peaks.max_moment))
    name = {"sag": "sag", "drop": "tail_drop"}[part]
    return replace(solution, sag=replace(solution.sag, **{name: factor * getattr(solution.sag, name)}))


def test_rows_without_rails_and_dead_points_are_refused():
    solution = solve(rig_of(FOLDING))
    without = next(i for i in range(len(solution.rows)) if i not in solution.bent.rows)
    with pytest.raises(ValueError, match="no rail forces"):
        confirm(solution, state=without)
    dead = replace(solution, held=replace(solution.held, dead=np.ones_like(solution.held.dead)))
    with pytest.raises(ValueError, match="dead point"):
        confirm(dead, state=solution.bent.rows[0])


# the frame itself, by cases that need no code of ours


def bar(**changes) -> Rail:
    numbers = {
        "length": 100.0, "axis": 3.0, "hinge_n": 3.0, "hanger": (80.0, 3.0), "perch": (80.0, 50.0), "out_of_plane": 0.0,
        "angle": 0.0, "axial": 6e7, "bending": 3e8, "give": 0.0,
    }  # fmt: skip
    return Rail(**(numbers | changes))


def test_frame_of_a_beam_on_a_pin_and_an_upright_line():
    nodes = mesh(100.0, at=[80.0])
    band = Band(0.0, 100.0, (3.0, 3.0), (0.0, 0.0), (-6.0, -6.0))
    found = solve_frame(bar(), bands=[band], points=NOTHING, nodes=nodes)
    assert found.tension == pytest.approx(600.0 * 50.0 / 80.0)
    assert found.hinge == pytest.approx([0.0, 225.0], abs=1e-3)
    # even load, one overhang: M at the second support w a^2 / 2, in the span w (l + a)^2 (l - a)^2 / 8 l^2
    assert found.moment.min() * found.moment.max() < 0.0
    peaks = sorted((abs(found.moment.min()), abs(found.moment.max())))
    assert peaks[0] == pytest.approx(6.0 * 20.0**2 / 2.0, rel=1e-6)
    assert peaks[1] == pytest.approx(6.0 * 100.0**2 * 60.0**2 / (8.0 * 80.0**2), rel=1e-3)
    tip = 6.0 * 20.0 * (4.0 * 20.0**2 * 80.0 - 80.0**3 + 3.0 * 20.0**3) / (24.0 * 3e8)
    assert found.fall[-1] == pytest.approx(tip, rel=1e-3)
    assert found.imbalance < 1e-2


def test_frame_holds_a_load_off_the_axis_and_a_line_that_gives():
    """A push of 50 lbf along the box, 4 in over the axis: T = 50 x 4 / 80, and the tail goes by give x T x 100 / 80."""
    nodes = mesh(100.0, at=[80.0, 40.0])
    points = Points(np.array([40.0]), np.array([7.0]), np.array([50.0]), np.array([0.0]))
    soft = solve_frame(bar(give=1e-2), bands=[], points=points, nodes=nodes)
    hard = solve_frame(bar(), bands=[], points=points, nodes=nodes)
    assert soft.tension == pytest.approx(50.0 * 4.0 / 80.0, rel=1e-5)
    assert soft.fall[-1] - hard.fall[-1] == pytest.approx(1e-2 * 2.5 * 100.0 / 80.0, rel=1e-4)
    assert soft.hinge == pytest.approx([-50.0, -2.5], rel=1e-5)


def test_splay_draws_the_line_tighter():
    nodes = mesh(100.0, at=[80.0])
    points = Points(np.array([80.0]), np.array([3.0]), np.array([0.0]), np.array([-100.0]))
    straight = solve_frame(bar(give=1e-3), bands=[], points=points, nodes=nodes)
    splayed = solve_frame(bar(give=1e-3, out_of_plane=50.0), bands=[], points=points, nodes=nodes)
    assert straight.tension == pytest.approx(100.0, rel=1e-6)
    assert splayed.tension == pytest.approx(100.0 * np.sqrt(2.0), rel=1e-6)
    # T gives give x T along the line, and the hanger moves by 1 / cos of that
    assert splayed.fall[-1] / straight.fall[-1] == pytest.approx(2.0, rel=1e-4)


def test_a_mechanism_is_refused():
    """A line through the hinge axis holds nothing; the solver alone would answer with a movement of miles."""
    nodes = mesh(100.0, at=[80.0])
    band = Band(0.0, 100.0, (3.0, 3.0), (0.0, 0.0), (-6.0, -6.0))
    with pytest.raises(FrameError):
        solve_frame(bar(perch=(-30.0, 0.0)), bands=[band], points=NOTHING, nodes=nodes)


def test_nothing_on_the_rail_is_nothing_in_it():
    nodes = mesh(100.0, at=[80.0])
    found = solve_frame(bar(), bands=[], points=NOTHING, nodes=nodes)
    assert found.tension == 0.0 and not found.moment.any() and not found.fall.any()
