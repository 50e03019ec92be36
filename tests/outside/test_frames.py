"""The statics against a space frame of an outside solver, built from the case alone; what the comparison refuses."""

from dataclasses import fields, replace
from pathlib import Path

import numpy as np
import pytest

pytest.importorskip("Pynite")

from rigcheck.analysis.solve import Solution, solve
from rigcheck.assessment.assess import assess
from rigcheck.case import read_case
from rigcheck.case.rig import Rig
from rigcheck.crosscheck import frame as frame_module
from rigcheck.crosscheck import second_opinion
from rigcheck.crosscheck.frame import Answer, FrameError, solve_frame
from rigcheck.crosscheck.frame_box import YOUNG, Box, Loading, Tie, angle_of, framed, lever
from rigcheck.crosscheck.frame_model import Held, mesh
from rigcheck.crosscheck.second_opinion import LIMIT, QUANTITIES, confirm, confirm_governing, worst_difference
from rigcheck.loads.pieces import BOUNDS
from tests.statics.random_rigs import FOLDING, STRUCTURES, rig_of, varied_rig

CASES = sorted((Path(__file__).parents[2] / "cases").glob("*.toml"))
WALKED = ("larkspur-bar", "tollgate-riffle")


def solution_of(name: str) -> Solution:
    return solve(Rig(read_case(CASES[0].parent / f"{name}.toml")))


def walk(solution: Solution) -> list[tuple[int, int]]:
    """The first row of every state, and of every state in which a line parts, under each of its bounds."""
    first: dict[tuple[str, object], int] = {}
    for i, row in enumerate(solution.life.loads.rows):
        if not solution.held.dead[i]:
            first.setdefault((row.state, row.variant.get("while")), i)
    return [(i, bound) for i in first.values() for bound in np.flatnonzero(solution.allowed[i])]


@pytest.mark.parametrize("name", WALKED)
def test_every_state_under_every_bound_it_has(name):
    solution = solution_of(name)
    found = [confirm(solution, state=state, bound=int(bound)) for state, bound in walk(solution)]
    apart = [(one.label, pair) for one in found for pair in one.comparisons if pair.difference > LIMIT]
    assert not apart
    assert {one.bound for one in found} == set(range(len(BOUNDS)))
    assert {one.row.state for one in found} >= {
        "empty",
        "running",
        "packed",
        "lopsided",
        "cleanout",
        "towing",
        "line_broken",
    }
    assert {pair.quantity for one in found for pair in one.comparisons} == set(QUANTITIES)
    alone = [one for one in found if BOUNDS[one.bound] in ("left", "right") and one.row.state == "running"]
    torques = [abs(pair.frame) for one in alone for pair in one.comparisons if pair.quantity == "torque across"]
    # the box is held by what twists in it; what a tube stands in the place of does not
    twisting = [tie.twist > 0.0 for tie in framed(solution.rig).ties] * len(alone)
    assert len(alone) == 2 and any(twisting) and [torque > 100.0 for torque in torques] == twisting


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_what_governs_each_shipped_case(path):
    assessment = assess(Rig(read_case(path)))
    found = confirm_governing(assessment)
    assert 1 <= len(found) <= 4
    assert worst_difference(found) == max(one.worst for one in found) <= LIMIT
    worst = assessment.worst[int(assessment.governing)]
    hung = int(worst.state) < len(assessment.solution.life.loads.rows)
    dead = hung and bool(assessment.solution.held.dead[int(worst.state)])
    assert not hung or dead or (int(worst.state), int(worst.bound)) in {(one.state, one.bound) for one in found}


def test_nothing_confirmed_is_an_error():
    with pytest.raises(ValueError, match="nothing"):
        worst_difference([])


@pytest.mark.parametrize("name", list(STRUCTURES))
def test_random_rigs_of_a_batch(name):
    """A random row and bound of each of some random designs, leveled or folding."""
    solution = solve(varied_rig(STRUCTURES[name], 4, seed=11))
    draw = np.random.default_rng(11)
    for i in range(4):
        live = [row for row in range(len(solution.life.loads.rows)) if not solution.held.dead[i, row]]
        state = int(draw.choice(live))
        found = confirm(
            solution, state=state, bound=int(draw.choice(np.flatnonzero(solution.allowed[state]))), design=(i,)
        )
        assert found.ok, (found.label, [pair for pair in found.comparisons if pair.difference > LIMIT])


def test_the_frame_takes_nothing_from_the_solution_but_loads_and_give():
    """With section, points, pose, service resultants and members of the solution gone, the frame says the same."""
    solution = solution_of("larkspur-bar")
    state, bound = next(i for i, row in enumerate(solution.rows) if row.state == "running"), BOUNDS.index("left")
    nothing = dict.fromkeys(("section", "layout", "pose", "service", "across", "links", "backup", "road"))
    known = {one.name for one in fields(solution)}
    bare = replace(solution, **{name: value for name, value in nothing.items() if name in known})
    frame = [pair.frame for pair in confirm(bare, state=state, bound=bound).comparisons]
    assert frame == [pair.frame for pair in confirm(solution, state=state, bound=bound).comparisons]
    assert len(frame) > 20


@pytest.mark.parametrize("name", WALKED)
def test_how_near_a_dead_center_a_box_hangs_is_told_by_the_box_alone(name):
    solution = solution_of(name)
    box, pose = framed(solution.rig), solution.pose
    rows = range(solution.before_road)
    told = [lever(box, angle=angle_of(box, row=solution.rows[i])) for i in rows]
    assert told == pytest.approx([abs(pose.arm[i]) / pose.radius[i] for i in rows], rel=1e-9)


@pytest.mark.parametrize(("near", "compared"), [(0.0, True), (1e3, False)])
def test_falls_and_roll_are_not_compared_near_a_dead_center(monkeypatch, near, compared):
    solution = solution_of("larkspur-bar")
    state, bound = next(i for i, row in enumerate(solution.rows) if row.state == "running"), BOUNDS.index("left")
    monkeypatch.setattr(second_opinion, "NEAR_DEAD", near)
    found = {pair.quantity for pair in confirm(solution, state=state, bound=bound).comparisons}
    assert ("roll" in found, "tail drop" in found) == (compared, compared) and "sag" in found


def nudged(solution: Solution, *, part: str, factor: float) -> Solution:
    """The solution with one of its numbers a little wrong."""
    if part in ("tension", "hinge"):
        return replace(solution, demand=replace(solution.demand, **{part: factor * getattr(solution.demand, part)}))
    if part == "peak":
        return replace(solution, peaks=replace(solution.peaks, max_moment=factor * solution.peaks.max_moment))
    if part == "torque":
        ties = solution.bent.forces.ties
        forces = replace(solution.bent.forces, ties=replace(ties, torque=factor * ties.torque))
        return replace(solution, bent=replace(solution.bent, forces=forces))
    return replace(solution, sag=replace(solution.sag, **{part: factor * getattr(solution.sag, part)}))


@pytest.mark.parametrize("factor", [1.01, 0.99])
@pytest.mark.parametrize("part", ["tension", "hinge", "peak", "torque", "sag", "tail_deflection", "roll"])
def test_an_error_of_one_percent_is_noticed(part, factor):
    solution = solution_of("larkspur-bar")
    state, bound = next(i for i, row in enumerate(solution.rows) if row.state == "running"), BOUNDS.index("right")
    assert confirm(solution, state=state, bound=bound).ok
    assert not confirm(nudged(solution, part=part, factor=factor), state=state, bound=bound).ok


def test_rows_that_no_frame_can_hold_are_refused():
    solution = solve(rig_of(FOLDING))
    limp, left = BOUNDS.index("limp"), BOUNDS.index("left")
    with pytest.raises(ValueError, match="does not hang"):
        confirm(solution, state=len(solution.life.loads.rows), bound=limp)
    packed = next(i for i, row in enumerate(solution.rows) if row.state == "packed")
    with pytest.raises(ValueError, match="not held so"):
        confirm(solution, state=packed, bound=left)
    dead = replace(solution, held=replace(solution.held, dead=np.ones_like(solution.held.dead)))
    with pytest.raises(ValueError, match="dead point"):
        confirm(dead, state=packed, bound=limp)


# the frame itself, by cases that need no code of ours


def box(**changes) -> Box:
    """Rails 30 in apart at the height of hinge and hangers, lines straight up; E I of a rail 2.9e8."""
    numbers = {
        "length": 100.0, "spacing": 30.0, "axis": 3.0, "area": 2.0, "inertia": 10.0, "pitch": 0.0, "hinge_n": 3.0,
        "hinge_spacing": 24.0, "hanger": (80.0, 3.0), "hanger_spacing": 32.0, "perch": (80.0, 50.0),
        "perch_spacing": 32.0, "ties": (),
    }  # fmt: skip
    return Box(**(numbers | changes))


def loads(*points: tuple[float, float, float, float, float, float]) -> Loading:
    """Station, y, n, and force along, to the left and square to the floor."""
    table = np.array(points, dtype=np.float64).reshape(-1, 6)
    return Loading(table[:, 0], table[:, 1], table[:, 2], table[:, 3:])


def even(total: float) -> Loading:
    """An even load in the middle of the box at the height of the rails, by two points in each of 60 cells."""
    s = np.concatenate([(np.arange(60) + 0.5 + sign * 0.5 / np.sqrt(3.0)) / 0.6 for sign in (-1.0, 1.0)])
    return loads(*[(at, 0.0, 3.0, 0.0, 0.0, -total / 120.0) for at in s])


def solved(frame: Box, loading: Loading, **held) -> Answer:
    nodes = mesh(frame.length, hanger=frame.hanger[0], at=[tie.s for tie in frame.ties])
    how = Held(**({"lines": "both", "twist": "none"} | held))
    return solve_frame(frame, held=how, angle=0.0, nodes=nodes, loads={"one": loading})["one"].proven()


def test_beam_on_a_pin_and_two_upright_lines():
    """Even load, one overhang: T = W L / 2 l; M w a^2 / 2 at the hanger, w (l + a)^2 (l - a)^2 / 8 l^2 in the span."""
    found = solved(box(), even(1200.0))
    assert found.tension == pytest.approx([1200.0 * 50.0 / 80.0 / 2.0] * 2, rel=1e-6)
    assert found.hinge[:, 2] == pytest.approx([225.0, 225.0], rel=1e-6)
    assert found.peak == pytest.approx([6.0 * 100.0**2 * 60.0**2 / (8.0 * 80.0**2)] * 2, rel=1e-4)
    assert found.moment[0].min() == pytest.approx(-6.0 * 20.0**2 / 2.0, rel=1e-4)
    tip = 6.0 * 20.0 * (4.0 * 20.0**2 * 80.0 - 80.0**3 + 3.0 * 20.0**3) / (24.0 * YOUNG * 10.0)
    assert found.fall[:, -1] == pytest.approx([tip, tip], rel=1e-3)
    assert found.imbalance < 1e-3


def test_load_on_one_side_of_a_limp_box():
    """400 lb at (40, y 15): 200 lb at the hanger and 200 at the hinge of the left rail; the arms are 15 over 16 and 12.

    Lines: T_L + T_R = 200 and (T_L - T_R) 16 = 200 x 15. Hinge: z_L + z_R = 200 and (z_L - z_R) 12 = 200 x 15.
    """
    found = solved(box(), loads((40.0, 15.0, 3.0, 0.0, 0.0, -400.0)))
    assert found.tension == pytest.approx([193.75, 6.25], rel=1e-5)
    assert found.hinge[:, 2] == pytest.approx([225.0, -25.0], rel=1e-5)
    assert found.peak == pytest.approx([400.0 * 80.0 / 4.0, 0.0], rel=1e-5, abs=1e-2)


def test_stiff_rails_on_one_line_twist_their_members_by_their_torsion_constants():
    """All on the left line: 500 lb at the middle, T = 500 x 50 / 80 = 312.5, moments about the hinge 12,500 a rail.

    The left rail has T (15 + 16) / 30 = 322.92 lb of it, the right one T (15 - 16) / 30 = -10.42 lb. What the right
    rail lacks, 12,500 + 10.42 x 80 = 13,333 lbf*in, comes through members of 1 : 3.
    """
    ties = (Tie(10.0, 1.0e6), Tie(90.0, 3.0e6))
    found = solved(
        box(inertia=1.0e5, ties=ties), loads((50.0, 0.0, 3.0, 0.0, 0.0, -500.0)), lines="left", twist="as built"
    )
    assert found.tension == pytest.approx([312.5, 0.0], rel=1e-5)
    assert found.torque == pytest.approx([0.25 * 13333.33, 0.75 * 13333.33], rel=2e-3)
    # they twist by t b / G J, and the box rolls by that over its length
    turn = 0.25 * 13333.33 * 30.0 / 1.0e6
    assert found.fall[1, -1] - found.fall[0, -1] == pytest.approx(100.0 * turn, rel=5e-3)


def test_line_that_gives_drops_the_tail():
    """T gives T x give along the line, and the tail goes by that times 100 / 80."""
    stiff, soft = (solved(box(), even(1200.0), give=give) for give in (1e-4, 1e-2))
    drop = (1e-2 - 1e-4) * 375.0 * 100.0 / 80.0
    assert soft.fall[:, -1] - stiff.fall[:, -1] == pytest.approx([drop, drop], rel=1e-3)


def test_splay_draws_the_lines_tighter():
    """50 in of rise and 50 in out: T is the upright part times the root of two, and both pulls across cancel."""
    found = solved(box(perch_spacing=132.0), even(1200.0))
    assert found.tension == pytest.approx([375.0 * np.sqrt(2.0)] * 2, rel=1e-5)
    assert solved(box(perch_spacing=132.0), even(1200.0), lines="alike").tension == pytest.approx(
        found.tension, rel=1e-5
    )


def test_push_across_is_rolled_and_turned_into_the_hinge():
    """60 lb to the left at (50, n 13): 10 in over the hinge axis, which the floor at n 0 makes no difference to.

    Roll 600 lbf*in about the hinge: even lines leave it all to the hinge, 600 / 24 = 25 lb up and down. Yaw
    60 x 50 = 3,000 lbf*in: 125 lb fore and aft. A push to the left bears on the left group.
    """
    found = solved(box(), loads((50.0, 0.0, 13.0, 0.0, 60.0, 0.0)), lines="alike", twist="rigid")
    assert found.tension == pytest.approx([0.0, 0.0], abs=1e-3)
    assert found.hinge[:, 1] == pytest.approx([-60.0, 0.0], abs=1e-6)
    assert found.hinge[:, 2] == pytest.approx([25.0, -25.0], rel=1e-4)
    assert found.hinge[:, 0] == pytest.approx([125.0, -125.0], rel=1e-4)


def test_worn_hinge_leaves_the_roll_to_the_lines():
    """400 lb at (40, y 6) roll 2,400 lbf*in: T_L - T_R = 2,400 / 16 = 150 of T_L + T_R = 200; hinges carry alike."""
    ties = (Tie(0.0, 1e7), Tie(100.0, 1e7))
    found = solved(box(ties=ties), loads((40.0, 6.0, 3.0, 0.0, 0.0, -400.0)), rolls=True, twist="as built")
    assert found.tension == pytest.approx([175.0, 25.0], rel=1e-5)
    assert found.hinge[:, 2] == pytest.approx([100.0, 100.0], rel=1e-5)


@pytest.mark.parametrize(
    ("changes", "held"),
    [({"perch": (-30.0, 0.0)}, {}), ({}, {"lines": "left"})],
    ids=["lines through the hinge axis", "one line and nothing across"],
)
def test_a_mechanism_is_refused(changes, held):
    """The solver alone would answer with a movement of miles."""
    with pytest.raises(FrameError):
        solved(box(**changes), even(1200.0), **held)


def test_nothing_on_the_box_is_nothing_in_it():
    found = solved(box(), loads())
    assert not found.tension.any() and not found.moment.any() and not found.fall.any() and not found.hinge.any()


def test_a_load_that_a_frame_was_not_solved_for_is_left_over(monkeypatch):
    # 900 lbf an inch farther out: 900 lbf*in about one axis alone, over the length of the box
    asked = []
    real = frame_module._left_over
    monkeypatch.setattr(
        frame_module,
        "_left_over",
        lambda model, loads, *, found: asked.append((model, loads, found)) or real(model, loads, found=found),
    )
    own = box()
    solved(own, even(900.0))
    model, given, found = asked[-1]
    moved = replace(given, s=given.s + 1.0)
    assert real(model, given, found=found) < 1e-3
    assert real(model, moved, found=found) == pytest.approx(900.0 / own.length, rel=1e-3)
