"""The fold of a rig worked by hand: dead point, balance point, free swing, largest pull, where the lines go slack."""

import math

import numpy as np

from rigcheck.loads.pieces import Lump, Row, stack
from rigcheck.parts.fold.checks import HELD, SLACK, holding
from rigcheck.statics.balance import balance
from rigcheck.statics.geometry import Layout, pose
from rigcheck.statics.resultant import resultant
from rigcheck.studies.fold.study import dead_angle, free_arc, over_center_angle
from tests.outside.values import check

FLOOR = 96.0 * 28.0 * 0.0747 * 0.2836
WEIGHTS = [(FLOOR, 48.0, 0.0), (24.4, 48.0, 3.0), (20.8, 48.0, 6.0), (37.3, 48.0, 0.5), (18.0, 95.0, 2.0)]
PITCH = math.atan(1.5 / 12.0)


def rig_9(perch_x: float, perch_z: float = 36.0) -> Layout:
    numbers = {
        "pitch": PITCH, "length": 96.0, "hinge_height": 0.0, "hinge_spacing": 28.0, "hanger_s": 60.0, "hanger_n": 6.0,
        "hanger_spacing": 30.0, "perch_x": perch_x, "perch_z": perch_z, "perch_spacing": 30.0, "rail_spacing": 28.0,
    }  # fmt: skip
    return Layout(**{key: np.asarray(value) for key, value in numbers.items()})


def folded(points: Layout, *, floor: np.ndarray):
    """Loads, pose and balance with the floor so many degrees over level."""
    lumps = [Lump(weight=weight, s=s, n=n) for weight, s, n in WEIGHTS]
    loads = stack([Row(state="folding", lumps=lumps, fold=math.radians(one) + PITCH) for one in floor], batch=())
    at = pose(points, fold=loads.fold)
    force = resultant(loads, layout=points, pose=at)
    return force, at, balance(force, layout=points, pose=at)


def over_level(fold: np.ndarray) -> float:
    return float(np.degrees(fold)) - math.degrees(PITCH)


def test_dead_point_and_balance_point():
    force, _, _ = folded(rig_9(18.0), floor=np.array([0.0]))
    check("fold-9-dead", over_level(dead_angle(rig_9(18.0))))
    check("fold-9-over", over_level(over_center_angle(rig_9(18.0), center=force.center[0])))
    check("fold-9-plumb", over_level(dead_angle(rig_9(0.0))))


def test_free_swing():
    force, _, _ = folded(rig_9(-8.0), floor=np.array([0.0]))
    check("fold-9-arc-8", np.degrees(free_arc(rig_9(-8.0), center=force.center[0])))
    check("fold-9-arc-12", np.degrees(free_arc(rig_9(-12.0), center=force.center[0])))


def test_pull_of_one_line_worked_alone():
    _, _, held = folded(rig_9(18.0), floor=np.array([56.0]))
    check("fold-9-peak", held.total[0])


def test_where_the_lines_go_slack():
    floor = np.linspace(85.0, 91.0, 6001)
    force, at, held = folded(rig_9(-8.0), floor=floor)
    hold = holding(force.moment[:, 1], arm=at.arm, dead=held.dead)
    assert hold[0] == HELD
    check("fold-9-slack", floor[np.argmax(hold == SLACK)])
