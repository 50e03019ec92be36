"""A tail leg and a second pair of lines against plane frames of an outside solver, on random level rigs.

Each rail with its line and its support is a plane frame: in a box that does not twist with half of all loads, in a limp
one with what the lever rule gives it. The frame is loaded with what comes on after the support was set.
"""

from itertools import pairwise

import numpy as np
import pytest
from anastruct import SystemElements

from rigcheck.analysis.solve import Solution
from rigcheck.case.rig import Rig, varied
from rigcheck.statics.rail import SHARES
from rigcheck.studies.props.propped import Extra, Share, second_pair, share_of, states_of, tail_leg
from rigcheck.studies.vary.case import with_values
from tests.statics.random_rigs import PLAIN, rig_of

RIGS = 6
RIGID = 1e5
EVEN = SHARES.index("even")
ROWS = {"packed": {}, "lopsided": {"packed_side": "left"}, "cleanout": {"person_side": "left"}}


def rigs() -> Rig:
    """Level rigs without lumps, lines in the side view over the rails, drawn over the trade's range."""
    draw = np.random.default_rng(8)
    case = with_values(
        rig_of(PLAIN).case,
        {"water": None, "fitting": (), "box.pitch": 0.0, "bed.depth": 0.0}
        | {"plant.cross_slope": 0.0, "plant.fore_aft_slope": 0.0},
    )
    length = draw.uniform(80.0, 150.0, RIGS)
    apart = np.full(RIGS, case.hanger.spacing)
    return varied(Rig(case), {
        "box.length": length,
        "rail.spacing": apart,
        "hinge.height": draw.uniform(-2.0, 4.0, RIGS),
        "hanger.at": length * draw.uniform(0.45, 0.75, RIGS),
        "hanger.height": draw.uniform(3.0, 11.0, RIGS),
        "perch.downstream": draw.uniform(-15.0, 10.0, RIGS),
        "perch.height": draw.uniform(40.0, 90.0, RIGS),
        "perch.spacing": apart,
        "line.link.1.length": draw.uniform(20.0, 80.0, RIGS),
    })  # fmt: skip


def place(solution: Solution, state: str) -> int:
    """The last row of a state in which the left side carries more; the person then stands at the tail."""
    wanted = ROWS.get(state, {})
    return max(
        i
        for i, row in enumerate(solution.rows)
        if row.state == state and all(row.variant.get(key) == value for key, value in wanted.items())
    )


def added(solution: Solution, i: int, *, state: str, share: int) -> tuple[float, float]:
    """What comes on one rail after the empty box stood on its support: evenly along it [lbf/in], and at its tail [lbf].

    Contents are level with the floor and even along it, so that their weight is all that the frame needs; the person
    stands on one side of the box.
    """
    points, row, dry = solution.layout, place(solution, state), place(solution, "empty")
    length, half = float(points.length[i]), 0.5 * float(points.rail_spacing[i])
    heavy = solution.life.loads.demand()
    weights = {name: np.asarray(heavy.strip[name][i]) for name in ("w_start", "y")}
    still = np.asarray(solution.life.loads.strip["w_start"][i, dry]).sum()
    lean = {0: 1.0, 1: -1.0, EVEN: 0.0}[share]
    along = (weights["w_start"][row] * 0.5 * (1.0 + lean * weights["y"][row] / half)).sum() - 0.5 * still
    lump, at = heavy.lump["weight"][i, row], heavy.lump["s"][i, row]
    assert np.allclose(at[lump > 0.0], length)
    tail = (lump * 0.5 * (1.0 + lean * heavy.lump["y"][i, row] / half)).sum()
    return float(along), float(tail)


def frame(
    solution: Solution, i: int, *, extra: Extra, far: tuple[float, float], load: tuple[float, float]
) -> tuple[float, float]:
    """Change of the line's tension and force of the support when the load comes on, by the frame."""
    points, section = solution.layout, solution.section

    def of(values: np.ndarray) -> float:
        return float(np.broadcast_to(values, (RIGS,))[i])

    length = of(points.length)
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
    line = tie(hanger, perch, give=float(solution.give[i, 0]))
    post = tie(held(of(extra.s), of(extra.n)), list(far), give=of(extra.give))
    for node in ([0.0, 0.0], perch, list(far)):
        system.add_support_hinged(system.find_node_id(node))
    for one in rails:
        system.q_load(q=-load[0], element_id=one)
    if load[1]:
        system.point_load(system.find_node_id([length, rise]), Fy=-load[1])
    system.solve()
    line_force, post_force = (float(system.get_element_results(element_id=one)["Nmax"]) for one in (line, post))
    return line_force, post_force


def compared(solution: Solution, *, extra: Extra, fars: list[tuple[float, float]], sign: float) -> Share:
    ours = share_of(solution, extra=extra)
    before = 0.5 * (solution.held.total[..., place(solution, "empty")])
    for state in ROWS:
        row = place(solution, state)
        for share in (EVEN, 0, 1):
            half = 0.5 * (solution.demand.total + {EVEN: 0.0, 0: 1.0, 1: -1.0}[share] * solution.demand.rail_split)
            unit = 0.5 * per_pound(solution, extra=extra)
            for i, far in enumerate(fars):
                load = added(solution, i, state=state, share=share)
                line, post = frame(solution, i, extra=extra, far=far, load=load)
                assert sign * post > 0.0
                assert ours.heavy[i, row, share] == pytest.approx(sign * post, rel=1e-5), (state, SHARES[share])
                tension = half[i, row] + ours.heavy[i, row, share] * unit[i]
                assert tension - before[i] == pytest.approx(line, rel=1e-5, abs=1e-4), (state, SHARES[share])
    assert not ours.slack.any() and (ours.heavy[:, place(solution, "packed"), EVEN] > 50.0).all()
    return ours


def per_pound(solution: Solution, *, extra: Extra) -> np.ndarray:
    """Change of both tensions together for a pound of the support on either side, from moments about the hinge."""
    rise = extra.n - solution.layout.hinge_height
    arm = extra.s * extra.direction[..., 2] - rise * extra.direction[..., 0]
    return np.asarray(-2.0 * arm / solution.pose.arm[:, 0])


def test_a_tail_leg() -> None:
    solution = states_of(rigs())
    give = np.linspace(1e-5, 4e-4, RIGS)
    extra = tail_leg(solution.rig, at=solution.layout.length - 7.0, give=give)
    foot = [(float(s), -60.0 - float(n)) for s, n in zip(extra.s, solution.layout.hinge_height, strict=True)]
    compared(solution, extra=extra, fars=foot, sign=-1.0)


def test_a_second_pair_of_lines() -> None:
    solution = states_of(rigs())
    points = solution.layout
    at = (points.length - 6.0, points.hanger_n + 1.0)
    perch = (points.perch_x + 12.0, points.perch_z + 5.0)
    extra = second_pair(solution, hanger=at, perch=perch, give=2.0 * solution.give[:, 0])
    compared(solution, extra=extra, fars=list(zip(perch[0].tolist(), perch[1].tolist(), strict=True)), sign=1.0)
