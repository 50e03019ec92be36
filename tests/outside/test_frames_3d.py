"""How both lines share, against a space frame: soft in torsion it is the limp bound, stiffer it lies between."""

from itertools import pairwise

import numpy as np
import pytest

from rigcheck.loads.pieces import BOUNDS, Lump, Row
from rigcheck.statics.geometry import SIDE, Layout
from tests.statics.random_rigs import Bare, hang, layout_of, section_of

LIMP, STIFF, LOOSE = (BOUNDS.index(name) for name in ("limp", "stiff", "loose"))
STATIONS = (12.0, 45.0, 71.0, 88.0, 107.0)
Loads = list[tuple[float, float, float]]  # station, +1 left rail or -1 right rail, weight
LOPSIDED: Loads = [(12.0, 1.0, 60.0), (45.0, 1.0, 240.0), (88.0, 1.0, 150.0), (45.0, -1.0, 90.0), (107.0, -1.0, 55.0)]


def space_frame(layout: Layout, loads: Loads, *, torsion: float) -> np.ndarray:
    """Line tensions, left and right, of two rails with cross-members at hinge, hangers and tail as a space frame.

    Rails run at hinge level. The cross-member at the hangers stands on posts at hanger height and carries the hangers
    at its ends, so that line force reaches the rails by the lever rule. Torsion constant alike for everything.
    """
    pynite = pytest.importorskip("Pynite")
    model = pynite.FEModel3D()
    model.add_material("steel", 29e6, 11.2e6, 0.3, 0.0)
    model.add_section("rail", 2.0, 40.0, 40.0, torsion)
    model.add_section("stiff", 20.0, 4000.0, 4000.0, torsion)
    model.add_section("line", 0.1, 1.0, 1.0, 1.0)
    angle = -float(layout.pitch)
    cos, sin = np.cos(angle), np.sin(angle)

    def node(name: str, s: float, y: float, n: float) -> str:
        model.add_node(name, s * cos - n * sin, y, s * sin + n * cos)
        return name

    def member(name: str, i: str, j: str, section: str) -> None:
        model.add_member(name, i, j, "steel", section)

    half, hang_half, hinge_half = (
        0.5 * float(value) for value in (layout.rail_spacing, layout.hanger_spacing, layout.hinge_spacing)
    )
    rise = float(layout.hanger_n - layout.hinge_height)
    for letter, side in zip("LR", SIDE, strict=True):
        previous = node(f"{letter}0", 0.0, side * half, 0.0)
        for s in STATIONS:
            here = node(f"{letter}{s:g}", s, side * half, 0.0)
            member(f"rail {here}", previous, here, "rail")
            previous = here
        node(f"{letter}hinge", 0.0, side * hinge_half, 0.0)
        top = node(f"{letter}top", float(layout.hanger_s), side * half, rise)
        member(f"{letter} post", f"{letter}{float(layout.hanger_s):g}", top, "stiff")
        end = node(f"{letter}hanger", float(layout.hanger_s), side * hang_half, rise)
        member(f"{letter} overhang", top, end, "stiff")
        perch = f"{letter}perch"
        model.add_node(perch, float(layout.perch_x), 0.5 * side * float(layout.perch_spacing), float(layout.perch_z))
        member(f"{letter} line", end, perch, "line")
        model.def_releases(f"{letter} line", Rxi=True, Ryi=True, Rzi=True, Ryj=True, Rzj=True)
        model.def_support(perch, True, True, True, True, True, True)
        model.def_support(f"{letter}hinge", True, letter == "L", True, False, False, False)
    member("hanger", "Ltop", "Rtop", "stiff")
    member("tail", "L107", "R107", "rail")
    member("head left", "L0", "Lhinge", "stiff")
    member("head", "Lhinge", "Rhinge", "stiff")
    member("head right", "Rhinge", "R0", "stiff")
    for s, side, weight in loads:
        model.add_node_load(f"{'L' if side > 0 else 'R'}{s:g}", "FZ", -weight)
    model.analyze_linear(check_statics=False)
    return np.array([-model.members[f"{letter} line"].max_axial() for letter in "LR"])


def ours(layout: Layout, loads: Loads) -> Bare:
    half = 0.5 * float(layout.rail_spacing)
    lumps = [Lump(weight=weight, s=s, y=side * half, n=float(layout.hinge_height)) for s, side, weight in loads]
    return hang(layout, [Row(state="lopsided", lumps=lumps)], section=section_of())


def box(**changes: float) -> Layout:
    """Lines in upright planes, rails at hinge and floor level; hinge, rails and hangers at three spacings."""
    return layout_of(
        **({"hinge_height": 0.0, "perch_spacing": 29.0, "hinge_spacing": 24.0, "rail_spacing": 26.0} | changes)
    )


def test_even_load_pulls_both_lines_alike():
    loads = [(45.0, side, 200.0) for side in (1.0, -1.0)]
    for torsion in (1e-7, 1.0, 1e4):
        found = space_frame(box(), loads, torsion=torsion)
        np.testing.assert_allclose(found, ours(box(), loads).balance.tension[0, STIFF], rtol=1e-4)


@pytest.mark.parametrize("pitch", [0.0, 0.12, 0.24])
@pytest.mark.parametrize("hanger_n", [1.0, 7.0])
def test_soft_box_is_the_limp_bound(pitch, hanger_n):
    layout = box(pitch=pitch, hanger_n=hanger_n)
    found = space_frame(layout, LOPSIDED, torsion=1e-7)
    limp = ours(layout, LOPSIDED).balance.tension[0, LIMP]
    assert limp[0] > 1.3 * limp[1]
    np.testing.assert_allclose(found, limp, rtol=0.01)


@pytest.mark.parametrize("hanger_n", [7.0, 12.0])
def test_soft_box_with_splayed_lines(hanger_n):
    """The side pull of unlike lines acts at the height of the hangers, and so rolls the box between its rails."""
    layout = box(perch_spacing=45.0, hanger_n=hanger_n)
    found = space_frame(layout, LOPSIDED, torsion=1e-7)
    bare = ours(layout, LOPSIDED)
    roll = 2.0 * layout.hanger_s * layout.hanger_n * bare.pose.uy / (bare.pose.arm * layout.hanger_spacing)
    assert float(roll[0]) > 0.04
    by_hand = (
        bare.resultant.rail_difference * layout.rail_spacing / (bare.pose.arm * layout.hanger_spacing * (1.0 - roll))
    )
    np.testing.assert_allclose(found, 0.5 * (bare.balance.total[0] + by_hand * SIDE), rtol=0.01)


@pytest.mark.parametrize("hanger_n", [7.0, 12.0])
def test_limp_bound_with_splayed_lines(hanger_n):
    layout = box(perch_spacing=45.0, hanger_n=hanger_n)
    found = space_frame(layout, LOPSIDED, torsion=1e-7)
    np.testing.assert_allclose(found, ours(layout, LOPSIDED).balance.tension[0, LIMP], rtol=0.01)


@pytest.mark.parametrize("torsion", [0.3, 10.0, 1e5])
def test_stiffer_boxes_lie_between_the_bounds(torsion):
    layout = box()
    held = ours(layout, LOPSIDED).balance.tension[0, [LIMP, STIFF, LOOSE]]
    found = space_frame(layout, LOPSIDED, torsion=torsion)
    slack = 0.01 * held.max()
    assert np.all(found >= held.min(0) - slack) and np.all(found <= held.max(0) + slack)
    assert found.sum() == pytest.approx(float(held[0].sum()), rel=1e-3)


def test_the_stiffer_the_box_the_more_alike_the_lines():
    apart = [-np.diff(space_frame(box(), LOPSIDED, torsion=torsion))[0] for torsion in (1e-7, 0.3, 10.0, 1e5)]
    assert all(more > less for more, less in pairwise(apart))
