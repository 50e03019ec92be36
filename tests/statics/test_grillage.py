"""The open box as a grillage: by hand, at its limits, in rest, mirrored, in a batch, and against a frame of beams."""

import itertools
from types import SimpleNamespace

import numpy as np
import pytest
from scipy.integrate import solve_bvp

from rigcheck.analysis.across import members_across, own_torsion, rail_twist
from rigcheck.analysis.solve import solve
from rigcheck.case.rig import varied
from rigcheck.loads.pieces import BOUNDS, Lump, Row, Strip
from rigcheck.statics.deflection import _heads
from rigcheck.statics.grillage import Across, grillage, joined, pulled, ties
from rigcheck.statics.pair import pair_peaks
from tests.statics.random_rigs import PLAIN, hang, layout_of, pairs_of, rig_of, section_of, tubes_at_ends

G = 11.2e6  # psi, AISC 360-22 list of symbols (memory)
LENGTH, HANGER, SPACING, BENDING = 100.0, 60.0, 25.0, 29.0e6 * 4.0
LEFT, RIGHT, STIFF, LIMP = (BOUNDS.index(name) for name in ("left", "right", "stiff", "limp"))


def one(at: list[float], torsion: list[float], *, bending: float = BENDING, unlike: float = 1000.0):
    """Torques and slope for so many pounds more of pull on the left rail than on the right one."""
    across = Across(at=np.array(at), torsion=np.array(torsion))
    box = grillage(across, spacing=np.asarray(SPACING), bending=np.asarray(bending), length=np.asarray(LENGTH))
    turn, left = pulled(across.at, hanger=np.asarray(HANGER), length=np.asarray(LENGTH))
    found = ties(box, turn=unlike * turn[None], left=unlike * np.atleast_1d(left))
    return found.torque[0], float(found.head[0])


def test_one_tube_at_the_head_carries_all_that_is_out_of_balance():
    """1,000 lb more on the left rail is 500 over the mean: 500 x 60 = 30,000 lb in, through the one tube.

    The slopes differ at the head by t b/(G J) = 30,000 x 25 / (11.2e6 x 2) = 0.033482.
    """
    torque, head = one([0.0], [2.0])
    assert torque == pytest.approx([30000.0])
    assert head == pytest.approx(30000.0 * 25.0 / (11.2e6 * 2.0))


def test_two_tubes_by_hand():
    """Tubes at 0 (J 1) and at 100 (J 3); EI 1.16e8, G J/b 448,000 and 1,344,000 lb in.

    t_1 + t_2 = 30,000; at the head t_1 = 448,000 D_0. Before the tubes act M_L - M_R is -1,000 s to the hanger and
    -60,000 beyond, its area to the tail -(60^2/2 x 1,000 + 60,000 x 40) = -4.2e6. The head's couple adds 2 t_1 x 100.
    Slopes at the tail: D_0 + (-4.2e6 + 200 t_1)/1.16e8 = t_2 / 1,344,000.
    With t_1 = 448,000 D_0: D_0 (1 + 200 x 448,000/1.16e8 + 448,000/1,344,000) = 4.2e6/1.16e8 + 30,000/1,344,000,
    D_0 = (0.0362069 + 0.0223214)/(1 + 0.7724138 + 0.3333333) = 0.0585283/2.1057471 = 0.0277946.
    """
    torque, head = one([0.0, 100.0], [1.0, 3.0])
    assert head == pytest.approx(0.0277946, rel=1e-5)
    assert torque == pytest.approx([448000.0 * 0.0277946, 30000.0 - 448000.0 * 0.0277946], rel=1e-5)


def test_with_stiff_rails_each_member_has_its_share_of_the_torsion_constants():
    torque, _ = one([0.0, 20.0, 55.0, 100.0], [0.7, 0.2, 0.4, 1.1], bending=1e16)
    assert torque == pytest.approx(30000.0 * np.array([0.7, 0.2, 0.4, 1.1]) / 2.4, rel=1e-6)


def test_stiff_rails_on_even_members_gain_what_the_rule_says_at_the_hanger():
    """DM = dT s_H (L - s_H)/L with many equal members: 500 x 60 x 40/100 = 12,000 lb in, hogging."""
    at = (np.arange(400) + 0.5) * LENGTH / 400
    torque, _ = one(list(at), [0.01] * 400, bending=1e16)
    gained = -500.0 * HANGER + torque[at < HANGER].sum()
    assert gained == pytest.approx(-12000.0, rel=1e-3)


def test_a_member_without_stiffness_does_nothing_and_a_rigid_one_lets_no_slope_differ():
    with_it, head = one([0.0, 30.0, 100.0], [1.0, 0.0, 3.0])
    without, same = one([0.0, 100.0], [1.0, 3.0])
    assert with_it[[0, 2]] == pytest.approx(without, rel=1e-12)
    assert (with_it[1], head) == pytest.approx((0.0, same))
    rigid, head = one([0.0, 100.0], [1e9, 1e9])
    # no difference at either end: area -4.2e6 + 200 t_1 = 0
    assert rigid == pytest.approx([21000.0, 9000.0], rel=1e-6)
    assert head == pytest.approx(0.0, abs=1e-9)


def test_nothing_joins_is_said_and_gives_no_torque():
    across = Across(at=np.zeros(1), torsion=np.zeros(1))
    assert not joined(across)
    box = grillage(across, spacing=np.asarray(SPACING), bending=np.asarray(BENDING), length=np.asarray(LENGTH))
    found = ties(box, turn=np.ones((1, 1)), left=np.ones(1))
    assert (found.torque, found.head) == (0.0, 0.0)


def hung(*, lean: float = 0.0, section=None):
    strip = Strip(start=0.0, end=107.0, w_start=6.0, w_end=9.0, n_start=2.0, n_end=2.0, y=lean)
    rows = [Row(state="running", strips=[strip], lumps=[Lump(weight=180.0, s=95.0, y=lean)])]
    return hang(layout_of(), rows, section=section_of() if section is None else section)


@pytest.mark.parametrize("bound", [STIFF, LEFT, RIGHT])
def test_both_rails_and_their_members_are_at_rest(bound):
    bent, _ = pairs_of(hung(lean=4.0), bounds=(BOUNDS[bound],))
    assert bent.forces.curves.beyond[0] == pytest.approx([0.0, 0.0], abs=1e-7)
    bare, base = hung(lean=4.0), bent.forces.unheld
    pull_s, pull_n = bent.forces.pull_s[0], bent.forces.pull_n[0]
    total = float(bare.balance.total[0])
    assert pull_n.sum() == pytest.approx(total * float(bare.pose.u_n[0]))
    assert pull_s.sum() == pytest.approx(total * float(bare.pose.u_s[0]))
    unlike = (pull_n[0] - pull_n[1]) * base.left_of_n + (pull_s[0] - pull_s[1]) * base.left_of_s
    before = 0.5 * (base.left[0] + float(np.ravel(unlike)[0]))
    assert bent.forces.ties.torque[0].sum() == pytest.approx(-before)


def test_a_pound_of_unlike_pull_turns_the_rails_by_its_area():
    """Hinge 0.5, hangers 7 and neutral axis 3.4 in over the floor, hangers at 71 in; members at 30, 71 and 90 in.

    Square to the floor M_L - M_R is -s to the hanger and -71 beyond: 30^2/2 = 450, 71^2/2 = 2,520.5, 19 x 71 more.
    Along it 2.9 from the hinge on and 3.6 more past the hanger: 2.9 x 30 = 87, 205.9, 2.9 x 90 + 3.6 x 19 = 329.4.
    """
    across = Across(at=np.array([30.0, 71.0, 90.0]), torsion=np.ones(3))
    bent, _ = pairs_of(hung(), bounds=("left",), across=across)
    base = bent.forces.unheld
    assert np.ravel(base.turn_of_n) == pytest.approx([-450.0, -2520.5, -3869.5])
    assert np.ravel(base.turn_of_s) == pytest.approx([87.0, 205.9, 329.4])
    assert (np.ravel(base.left_of_n), np.ravel(base.left_of_s)) == (pytest.approx([-71.0]), pytest.approx([6.5]))


@pytest.mark.parametrize("bound", ["left", "right", "stiff"])
def test_nothing_known_is_a_tube_at_the_head_or_one_at_the_tail(bound):
    """All that is out of balance goes through the one tube; both ways are worked through a tube that is there."""
    bare, peaks = hung(lean=4.0), {}
    for name, at, torsion in (("head", 0.0, 2.0), ("tail", 107.0, 2.0), ("neither", 0.0, 0.0)):
        bent, _ = pairs_of(bare, bounds=(bound,), across=Across(at=np.array([at]), torsion=np.array([torsion])))
        peaks[name] = pair_peaks(bent.forces, section=bare.section, known=name != "neither")
    for kind in ("stress", "max_moment"):
        head, tail, neither = (getattr(peaks[name], kind) for name in ("head", "tail", "neither"))
        assert np.abs(head / tail - 1.0).max() > 0.02
        assert neither == pytest.approx(np.maximum(head, tail))


def test_a_mirrored_box_mirrors_rails_and_members():
    for bound, other in ((LEFT, RIGHT), (STIFF, STIFF)):
        one, sag = pairs_of(hung(lean=5.0), bounds=(BOUNDS[bound],), give=1e-5)
        two, other_sag = pairs_of(hung(lean=-5.0), bounds=(BOUNDS[other],), give=1e-5)
        assert one.forces.ties.torque == pytest.approx(-two.forces.ties.torque)
        assert sag.tail_deflection == pytest.approx(other_sag.tail_deflection[..., ::-1])
        assert sag.roll == pytest.approx(other_sag.roll)


def test_no_torsion_is_the_limp_box():
    """J to nothing: the split that the limp box has needs no member, every other one bends no rail but at the ends."""
    bare = hung(lean=4.0)
    bent, _ = pairs_of(bare, bounds=("limp", "stiff"), across=tubes_at_ends(bare.layout, torsion=1e-12))
    limp, stiff = bent.forces.ties.torque
    assert np.all(limp == 0.0)
    assert abs(stiff.sum()) > 100.0  # what the stiff split leaves open has to go somewhere
    free, _ = pairs_of(bare, bounds=("limp",))
    assert free.forces.curves.moment == pytest.approx(bent.forces.curves.moment[:1], rel=1e-9)


def test_a_batch_is_its_rigs_one_by_one():
    spacing = np.array([9.0, 15.0, 31.0])
    rig = varied(rig_of(PLAIN), {"cross_member.spacing": spacing})
    many = solve(rig, only=frozenset({"empty"}))
    for i, each in enumerate(spacing):
        alone = solve(varied(rig_of(PLAIN), {"cross_member.spacing": np.asarray(each)}), only=frozenset({"empty"}))
        count = alone.bent.forces.ties.torque.shape[-1]
        assert many.bent.forces.ties.torque[i, :, :count] == pytest.approx(alone.bent.forces.ties.torque, rel=1e-9)
        assert many.peaks.stress[i] == pytest.approx(alone.peaks.stress, rel=1e-9)
        assert many.sag.roll[i] == pytest.approx(alone.sag.roll, rel=1e-9)


def test_against_a_frame_of_beams():
    """Two rails and four tubes of unlike torsion constants as beams in space: PyNiteFEA; one line holds.

    The rails have no torsion constant, so that the tubes pass torsion alone. Loads are square to the floor.
    """
    pynite = pytest.importorskip("Pynite")
    at, constants = [0.0, 33.0, 60.0, 100.0], [0.5, 0.9, 0.3, 1.4]
    load = {15.0: 120.0, 80.0: 260.0}
    model = pynite.FEModel3D()
    model.add_material("steel", 29.0e6, G, 0.3, 0.284)
    model.add_section("rail", 2.0, 4.0, 4.0, 1e-9)
    for k, constant in enumerate(constants):
        model.add_section(f"tube{k}", 1.0, 0.5, 0.5, constant)
    stations = sorted({*at, *load, HANGER, LENGTH})
    for side, z in (("L", 0.5 * SPACING), ("R", -0.5 * SPACING)):
        for x in stations:
            model.add_node(f"{side}{x:g}", x, 0.0, z)
        for a, b in itertools.pairwise(stations):
            model.add_member(f"{side}{a:g}-{b:g}", f"{side}{a:g}", f"{side}{b:g}", "steel", "rail")
        model.def_support(f"{side}0", True, True, True, False, False, False)
        for x, force in load.items():
            model.add_node_load(f"{side}{x:g}", "FY", -force)
    for k, x in enumerate(at):
        model.add_member(f"tube{k}", f"L{x:g}", f"R{x:g}", "steel", f"tube{k}")
    model.def_support(f"L{HANGER:g}", False, True, False, False, False, False)
    model.analyze(check_statics=False)
    theirs = [abs(model.members[f"tube{k}"].torque(0.0)) for k in range(4)]
    pull = 2.0 * sum(x * force for x, force in load.items()) / HANGER
    assert model.nodes[f"L{HANGER:g}"].RxnFY["Combo 1"] == pytest.approx(pull, rel=1e-6)
    torque, _ = one(at, constants, unlike=pull)
    assert np.abs(torque) == pytest.approx(theirs, rel=1e-4)
    # moment of the left rail just uphill of the hanger: hinge, loads and the tubes before it
    hinge = sum(load.values()) - pull
    ours = hinge * HANGER - 120.0 * (HANGER - 15.0) + torque[:2].sum()
    assert abs(model.members["L33-60"].moment("Mz", 27.0)) == pytest.approx(abs(ours), rel=1e-4)


def test_the_boxs_own_torsion_is_that_of_its_sheets_and_the_tubes_that_turn_with_them():
    """27 in floor of 12 ga, two 7 in sides of it; HSS1-1/2x1-1/2x1/8 below the top edge, 5.5 in of wall under it.

    Sheets (27 + 14) x 0.1046^3/3 = 0.0156407. D = 29e6 x 0.1046^3/(12 x 0.91) = 3,039.3; D/h = 552.60; J_s 0.316 of
    the table: l = 52.5 sqrt(552.60/(11.2e6 x 0.316)) = 0.656010, share 1 - tanh(l)/l = 0.1224190 of 0.632: 0.0773688.
    Another J_s of the stiffener hardly moves it: the wall turns it by so much whatever it is.
    """
    rig = rig_of(PLAIN)
    found = own_torsion(rig, spacing=np.asarray(27.1046))
    whole = float(found.torsion.sum()) * 27.1046 / 105.0
    assert whole == pytest.approx(0.0156407 + 0.0773688, rel=1e-4)
    # four places, each for a quarter of the length and in its middle
    assert found.at == pytest.approx(105.0 * np.array([0.125, 0.375, 0.625, 0.875]))


def test_a_tube_stands_in_the_place_of_the_cross_member_it_would_overlap():
    text = PLAIN + '[end_tube]\nshape = "HSS2x1-1/2x1/8"\n'
    found = members_across(rig_of(text))
    assert found.torsion[0] == 0.0 and found.torsion[1] > 0.0  # 105 in at 15 in: one at the head, one at the tail
    assert found.torsion[7] == 0.0 and np.all(found.torsion[8:] == found.torsion[-1])
    assert found.at[[0, 8]].tolist() == [0.75, 0.75]  # none stands out over an end


@pytest.mark.parametrize(("spacing", "there"), [(102.74, True), (102.76, False)])
def test_two_tubes_an_inch_and_a_half_wide_overlap_nearer_than_that(spacing, there):
    """The tail's tube ends at 105 in, its middle is at 104.25; half of both widths is 1.5 in: 102.75."""
    text = PLAIN + '[end_tube]\nshape = "HSS2x1-1/2x1/8"\n'
    found = members_across(varied(rig_of(text), {"cross_member.spacing": np.asarray(spacing)}))
    assert bool(found.torsion[1] > 0.0) is there


def test_where_nothing_is_known_across_the_rails_have_the_worse_of_both_ends():
    """The same one-line row with all of it on a tube at the head, or at the tail, is never worse."""
    text = PLAIN[: PLAIN.index("[cross_member]")] + PLAIN[PLAIN.index("[mat]") :]
    bare = solve(rig_of(text), only=frozenset({"empty"}))
    for end, other in (("head", "tail"), ("tail", "head")):
        tube = f'[end_tube]\nshape = "HSS2x2x1/4"\n{other} = false\n{end} = true\n'
        with_it = solve(rig_of(text + tube), only=frozenset({"empty"}))
        assert bare.bent.pairs == with_it.bent.pairs
        lighter = with_it.demand.total[0] / bare.demand.total[0]  # the tube weighs something
        place = bare.bent.place(0, LEFT)
        assert bare.peaks.stress[place, 0] * lighter >= 0.97 * with_it.peaks.stress[place, 0]


def test_a_stiffener_that_lags_behind_the_box_as_a_bar_on_its_wall_does():
    """G J psi'' = k (psi - phi' x) with free ends, solved by scipy; k = D/h of the wall below the tube."""
    rig = rig_of(PLAIN)
    length, sheet, j = 105.0, 0.1046, 0.316  # HSS1-1/2x1-1/2x1/8
    k = 29.0e6 * sheet**3 / (12.0 * (1.0 - 0.3**2)) / (7.0 - 1.5)
    rate = 1.0e-3
    found = solve_bvp(
        lambda x, y: np.stack([y[1], k * (y[0] - rate * x) / (11.2e6 * j)]), lambda a, b: np.array([a[1], b[1]]),
        np.linspace(-length / 2.0, length / 2.0, 201), np.zeros((2, 201)), tol=1e-8,
    )  # fmt: skip
    twist = 11.2e6 * j * float(found.sol(0.0)[1])
    # what the box's own places take at that rate: t = G (J/(n b)) L phi'
    own = own_torsion(rig, spacing=np.asarray(27.1046))
    couples = 11.2e6 * own.torsion * rate
    assert float(rail_twist(rig, own=couples[None, :], spacing=np.asarray(27.1046))[0]) == pytest.approx(
        twist, rel=2e-3
    )


def test_a_bare_wall_twists_as_a_thin_plate():
    """G phi' H t^3/3 of a wall 7 in high: 11.2e6 x 1e-3 x 7 x 0.1046^3/3 = 29.9 lbf*in."""
    rig = rig_of(PLAIN.replace('stiffener = "HSS1-1/2x1-1/2x1/8"\n', ""))
    own = own_torsion(rig, spacing=np.asarray(27.1046))
    found = rail_twist(rig, own=11.2e6 * own.torsion[None, :] * 1.0e-3, spacing=np.asarray(27.1046))
    assert float(found[0]) == pytest.approx(29.9, rel=2e-3)


def hung_on(left, right, *, own, alone):
    """Lines of a made-up pair: 1e-4 in/lb, 40 in off the hinge, 1.2 of the pull and 0.9 of the fall of a rail."""
    some = {"give": 1e-4, "per_rail": 1.2, "arm": 40.0, "per_line": 0.9, "dead": False, "own": own, "on": alone}
    return SimpleNamespace(tension=np.array([left, right]), **{name: np.asarray(value) for name, value in some.items()})


@pytest.mark.parametrize(
    ("hung", "heads"),
    [
        # 300 and 100 lb, each line its own rail: the heads differ by -1.2 (1e-4 x 200 + 0.02)/40 = -0.0012, their mean
        # is that of 200 lb a line, -(0.02 + 0.05)/40 = -0.00175
        (hung_on(300.0, 100.0, own=True, alone=0.0), (-0.00235, -0.00115)),
        # the members let the heads differ by 0.002
        (hung_on(300.0, 100.0, own=False, alone=0.0), (-0.00075, -0.00275)),
        # 400 lb on the left line alone: it moves by half of 40 x 0.002 x 0.9 + 0.02 = 0.092 more than the mean,
        # -(0.04 + 0.05 + 0.046)/40 = -0.0034
        (hung_on(400.0, 0.0, own=False, alone=1.0), (-0.0024, -0.0044)),
        # on the right line alone it moves by as much less: -(0.04 + 0.05 - 0.046)/40 = -0.0011
        (hung_on(0.0, 400.0, own=False, alone=-1.0), (-0.0001, -0.0021)),
    ],
)
def test_slopes_at_the_hinge_by_hand(hung, heads):
    """The hangers move along their lines by 0.05 in and by 0.01 more and less where the heads stay level."""
    found = _heads(np.asarray(0.05), apart=np.asarray(0.02), tied=np.asarray(0.002), hung=hung)
    assert found.tolist() == pytest.approx(heads)
