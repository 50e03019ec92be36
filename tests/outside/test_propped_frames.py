"""A tail leg and a second pair of lines against plane frames of an outside solver, on random level rigs."""

from itertools import pairwise

import numpy as np
import pytest
from anastruct import SystemElements

from rigcheck.case.rig import Rig, varied
from rigcheck.check.solve import Solution
from rigcheck.studies.propped import STATES, Extra, Supported, second_pair, states_of, supported, tail_leg
from rigcheck.studies.vary_case import with_values
from tests.statics.random_rigs import PLAIN, rig_of

RIGS = 6
PACKED = STATES.index("packed")
RIGID = 1e5


def rigs() -> Rig:
    """Level rigs without lumps, lines in the side view, drawn over the trade's range."""
    draw = np.random.default_rng(8)
    case = with_values(rig_of(PLAIN).case, {"water": None, "fitting": (), "plant.cross_slope": 0.0, "box.pitch": 0.0})
    length = draw.uniform(80.0, 150.0, RIGS)
    return varied(Rig(case), {
        "box.length": length,
        "hinge.height": draw.uniform(-2.0, 4.0, RIGS),
        "hanger.at": length * draw.uniform(0.45, 0.75, RIGS),
        "hanger.height": draw.uniform(3.0, 11.0, RIGS),
        "perch.forward": draw.uniform(-15.0, 10.0, RIGS),
        "perch.height": draw.uniform(40.0, 90.0, RIGS),
        "perch.spacing": np.full(RIGS, case.hanger.spacing),
        "line.link.1.length": draw.uniform(20.0, 80.0, RIGS),
    })  # fmt: skip


def frame(solution: Solution, i: int, *, extra: Extra, far: tuple[float, float]) -> tuple[float, float]:
    """Change of the line's tension and force of the support when the packed load comes on, by the frame."""
    points, section = solution.layout, solution.section
    row = [one.state for one in solution.life.loads.rows].index

    def of(values: np.ndarray) -> float:
        return float(np.broadcast_to(values, (RIGS,))[i])

    weight = solution.service.weight[i]
    length = of(points.length)
    load = 0.5 * float(weight[row("packed")] - weight[row("dry")]) / length
    rise = of(section.axis) - of(points.hinge_height)
    bending, axial = of(section.modulus * section.inertia), of(section.modulus * section.area)
    system = SystemElements()

    def bar(first: list[float], last: list[float], *, stiff: float = 1.0) -> int:
        return int(system.add_element([first, last], EA=axial * stiff, EI=bending * stiff))

    def tie(first: list[float], last: list[float], *, give: float) -> int:
        return int(system.add_truss_element([first, last], EA=float(np.hypot(*np.subtract(last, first))) / give))

    stops = sorted({0.0, of(points.hanger_s), of(extra.s), length})
    rails = [bar([a, rise], [b, rise]) for a, b in pairwise(stops)]
    bar([0.0, 0.0], [0.0, rise], stiff=RIGID)

    def held(s: float, n: float) -> list[float]:
        here = [s, n - of(points.hinge_height)]
        if abs(here[1] - rise) > 1e-9:
            bar([s, rise], here, stiff=RIGID)
        return here

    hanger = held(of(points.hanger_s), of(points.hanger_n))
    perch = [of(points.perch_x), of(points.perch_z)]
    line = tie(hanger, perch, give=float(solution.give[i, row("packed")]))
    post = tie(held(of(extra.s), of(extra.n)), list(far), give=of(extra.give))
    for place in ([0.0, 0.0], perch, list(far)):
        system.add_support_hinged(system.find_node_id(place))
    for one in rails:
        system.q_load(q=-load, element_id=one)
    system.solve()
    line_force, post_force = (float(system.get_element_results(element_id=one)["Nmax"]) for one in (line, post))
    return line_force, post_force


def compared(solution: Solution, *, extra: Extra, fars: list[tuple[float, float]], sign: float) -> Supported:
    ours = supported(solution, extra=extra)
    for i, far in enumerate(fars):
        line, post = frame(solution, i, extra=extra, far=far)
        assert sign * post == pytest.approx(ours.extra[i, PACKED], rel=1e-5)
        assert line == pytest.approx(ours.tension[i, PACKED] - ours.tension[i, 0], rel=1e-5)
    assert not ours.slack.any() and (ours.extra[:, PACKED] > 50.0).all()
    return ours


def test_a_tail_leg():
    solution = states_of(rigs())
    give = np.linspace(1e-5, 4e-4, RIGS)
    extra = tail_leg(solution.rig, at=solution.layout.length - 7.0, give=give)
    foot = [(float(s), -60.0 - float(n)) for s, n in zip(extra.s, solution.layout.hinge_height, strict=True)]
    compared(solution, extra=extra, fars=foot, sign=-1.0)


def test_a_second_pair_of_lines():
    solution = states_of(rigs())
    points = solution.layout
    at = (points.length - 6.0, points.hanger_n + 1.0)
    perch = (points.perch_x + 12.0, points.perch_z + 5.0)
    extra = second_pair(solution, hanger=at, perch=perch, give=2.0 * solution.give[:, 0])
    compared(solution, extra=extra, fars=list(zip(perch[0].tolist(), perch[1].tolist(), strict=True)), sign=1.0)
