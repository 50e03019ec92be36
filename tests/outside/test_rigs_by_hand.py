"""Whole rigs and closed cases that were worked by hand before there was any code."""

import math

import numpy as np

from rigcheck.loads.pieces import BOUNDS, Lump, Row
from rigcheck.statics.balance import balance
from rigcheck.statics.geometry import Layout, pose
from rigcheck.statics.resultant import resultant
from tests.outside.values import check, inputs
from tests.statics.random_rigs import Bare, hang, section_of

STIFF = BOUNDS.index("stiff")
Weights = list[tuple[float, float, float]]


def layout(
    pitch: float, *, length: float, hanger: tuple[float, float], perch: tuple[float, float], half: float
) -> Layout:
    """A rig with hinge at floor level; hangers, perches, rails and hinges at the same half spacing."""
    numbers = {
        "pitch": math.atan(pitch / 12.0), "length": length, "hinge_height": 0.0, "hinge_spacing": 2.0 * half,
        "hanger_s": hanger[0], "hanger_n": hanger[1], "hanger_spacing": 2.0 * half, "perch_x": perch[0],
        "perch_z": perch[1], "perch_spacing": 2.0 * half, "rail_spacing": 2.0 * half,
    }  # fmt: skip
    return Layout(**{key: np.asarray(value) for key, value in numbers.items()})


def lumps(weights: Weights) -> list[Lump]:
    return [Lump(weight=weight, s=s, n=n) for weight, s, n in weights]


def over_level(points: Layout, *, degrees: float) -> float:
    """Fold angle at which the floor stands so many degrees over level."""
    return math.radians(degrees) + float(points.pitch)


def center_x(bare: Bare) -> float:
    s, _, n = bare.resultant.center[0]
    angle = float(bare.pose.angle[0])
    return float(s * math.cos(angle) - n * math.sin(angle))


def test_rig_1_line_rating():
    points = layout(1.75, length=120.0, hanger=(78.0, 8.0), perch=(4.0, 44.0), half=16.0)
    steel = [
        (106.8, 60.0, 0.0),
        (57.0, 60.0, 4.0),
        (40.0, 60.0, 8.0),
        (150.0, 60.0, 1.0),
        (25.0, 118.0, 2.0),
        (30.0, 4.0, 2.0),
    ]
    packed = hang(points, [Row(state="packed", lumps=lumps([*steel, (2083.3, 60.0, 4.0)]))], section=section_of())
    empty = hang(points, [Row(state="empty", lumps=lumps(steel))], section=section_of())
    r_x, _, r_z = packed.balance.hinge[0, STIFF].sum(0)
    check("hand-1-weight", packed.resultant.weight[0])
    check("hand-1-cg", center_x(packed))
    check("hand-1-arm", packed.pose.arm[0])
    check("hand-1-tension", packed.balance.tension[0, STIFF, 0])
    check("hand-1-empty", empty.balance.tension[0, STIFF, 0])
    check("hand-1-rx", r_x)
    check("hand-1-rz", r_z)
    check("hand-1-side", np.linalg.norm(packed.balance.hinge[0, STIFF, 0]))


def test_rig_4_perch_weld():
    points = layout(1.5, length=84.0, hanger=(56.0, 6.0), perch=(-4.0, 42.0), half=13.0)
    weights = [
        (59.8, 42.0, 0.0),
        (29.9, 42.0, 3.0),
        (21.0, 42.0, 6.0),
        (70.0, 42.0, 1.0),
        (12.0, 83.0, 2.0),
        (875.0, 42.0, 3.0),
    ]
    bare = hang(points, [Row(state="packed", lumps=lumps(weights))], section=section_of())
    r_x, _, r_z = bare.balance.hinge[0, STIFF].sum(0)
    check("hand-4-weight", bare.resultant.weight[0])
    check("hand-4-arm", bare.pose.arm[0])
    check("hand-4-tension", bare.balance.tension[0, STIFF, 0])
    check("hand-4-rx", r_x)
    check("hand-4-rz", r_z)


STEEL_9: Weights = [(56.9, 48.0, 0.0), (24.4, 48.0, 3.0), (20.8, 48.0, 6.0), (18.0, 95.0, 2.0)]
EMPTY_9: Weights = [*STEEL_9, (37.3, 48.0, 0.5)]


def rig_9(perch_x: float = 18.0) -> Layout:
    return layout(1.5, length=96.0, hanger=(60.0, 6.0), perch=(perch_x, 36.0), half=15.0)


def pull(points: Layout, weights: Weights, *, degrees: float) -> float:
    """Tension in one line at an angle over level; moment over arm, for it is wanted near the dead point too."""
    row = Row(state="folding", lumps=lumps(weights), fold=over_level(points, degrees=degrees))
    bare = hang(points, [row], section=section_of())
    tension = float(bare.resultant.moment[0, 1] / bare.pose.arm[0] / 2.0)
    if not bare.balance.dead[0]:
        np.testing.assert_allclose(bare.balance.tension[0, STIFF], tension, rtol=1e-12)
    return tension


def turning(points: Layout, *, weights: Weights, low: float, high: float, which: str) -> float:
    """Angle over level in degrees at which the lever arm, or the moment of the weight, changes sign."""
    for _ in range(60):
        middle = 0.5 * (low + high)
        at = pose(points, fold=np.array([over_level(points, degrees=middle)]))
        row = Row(state="folding", lumps=lumps(weights), fold=over_level(points, degrees=middle))
        loads = hang(points, [row], section=section_of()).loads
        value = at.arm[0] if which == "arm" else resultant(loads, layout=points, pose=at).moment[0, 1]
        low, high = (middle, high) if value > 0.0 else (low, middle)
    return 0.5 * (low + high)


def test_rig_9_folding():
    points = rig_9()
    running = [*STEEL_9, (93.3, 48.0, 1.0), (404.4, 48.0, 1.0), (97.1, 48.0, 2.5)]
    check("hand-9-running", pull(points, running, degrees=-math.degrees(float(points.pitch))))
    check("hand-9-fold-7", pull(points, EMPTY_9, degrees=-math.degrees(float(points.pitch))))
    for degrees in (20, 40, 50, 54, 55, 56, 57):
        check(f"hand-9-fold+{degrees}", pull(points, EMPTY_9, degrees=degrees))
    dead = turning(points, weights=EMPTY_9, low=40.0, high=80.0, which="arm")
    check("hand-9-dead", dead)
    check("hand-9-over", turning(points, weights=EMPTY_9, low=60.0, high=110.0, which="moment"))
    lengths = pose(points, fold=np.array([0.0, over_level(points, degrees=dead)])).line_length
    check("hand-9-line", lengths[0])
    check("hand-9-line-short", lengths[1])
    behind = rig_9(-8.0)
    check("hand-9-behind", pull(behind, EMPTY_9, degrees=85.0))
    check("hand-9-behind-hung", pull(behind, EMPTY_9, degrees=-math.degrees(float(points.pitch))))


def test_level_box():
    points = layout(0.0, length=90.0, hanger=(40.0, 0.0), perch=(0.0, 40.0), half=12.0)
    bare = hang(points, [Row(state="empty", lumps=lumps([(1000.0, 50.0, 0.0)]))], section=section_of())
    r_x, _, r_z = bare.balance.hinge[0, STIFF].sum(0)
    check("hand-level-tension", bare.balance.total[0])
    check("hand-level-rx", r_x)
    check("hand-level-rz", r_z)


def test_dead_point_under_a_plumb_perch():
    points = layout(0.0, length=90.0, hanger=(60.0, 6.0), perch=(0.0, 50.0), half=12.0)
    check("hand-plumb-dead", turning(points, weights=[(1.0, 50.0, 0.0)], low=40.0, high=120.0, which="arm"))


def test_lever_rule_of_a_limp_box():
    points = layout(1.25, length=90.0, hanger=(60.0, 6.0), perch=(-5.0, 50.0), half=12.0)
    row = Row(state="lopsided", lumps=[Lump(weight=500.0, s=45.0, n=3.0, y=6.0)])
    held = hang(points, [row], section=section_of()).balance
    check("hand-limp-heavy", held.tension[0, 0, 0] / held.total[0])


def slung(weight: float, *, high: float, apart: float) -> float:
    """Tension of one of two lines that hang a weight at the hangers, splayed each by so much out of the side view."""
    points = layout(0.0, length=90.0, hanger=(60.0, 0.0), perch=(60.0, high), half=10.0)
    wide = Layout(
        **{name: getattr(points, name) for name in Layout.__dataclass_fields__}
        | {"perch_spacing": np.asarray(20.0 + 2.0 * apart)}
    )
    row = [Row(state="empty", lumps=[Lump(weight=weight, s=60.0)])]
    loads = hang(wide, row, section=section_of()).loads
    at = pose(wide, fold=loads.fold)
    held = balance(resultant(loads, layout=wide, pose=at), layout=wide, pose=at)
    return float(held.tension[0, STIFF, 0])


def test_slings():
    for i, degrees in enumerate((90.0, 60.0, 45.0, 30.0)):
        assert inputs("two_leg_sling_1000lb")["angle_from_horizontal_deg"][i] == degrees
        apart = 40.0 / math.tan(math.radians(degrees)) if degrees < 90.0 else 0.0
        check(f"hand-sling-{degrees:g}", slung(1000.0, high=40.0, apart=apart))
    given = inputs("sling_length_over_height")
    length, high = given["sling_length_ft"] * 12.0, given["height_ft"] * 12.0
    check("hand-sling-length", slung(given["load_lb"], high=high, apart=math.sqrt(length**2 - high**2)))
