"""Both rails where they widen and narrow: pulls, couples and members across against closed forms and quadrature."""

from types import SimpleNamespace

import numpy as np
import pytest

from rigcheck.statics.beam import Terms, evaluate
from rigcheck.statics.grillage import Across, grillage, ties
from rigcheck.statics.grillage_along import grillage_along, pound_along, turn_of_loads
from rigcheck.statics.pair_along import held_along, open_spread, steps_of
from rigcheck.statics.rail import Curves
from tests.statics.flared_rails import AXIS, INERTIA, LENGTH, E, integral, rails, rolled, spacing, stiffness
from tests.statics.flared_rails import stretch as stretch_of

G = 11.2e6  # psi, AISC 360-22 list of symbols (memory)
HANGER, HINGE_N, HANGER_N = 60.0, -1.5, 9.0
STARTS = np.array([-5.0, 0.0, 14.0, 27.0, 40.0, 60.0, 75.0, 90.0])
SPANS = np.diff([*STARTS, LENGTH])
MEMBERS = np.array([14.0, 90.0, 40.0])
LAYOUT = SimpleNamespace(
    along=rails(), hanger_s=np.asarray(HANGER), hinge_height=np.asarray(HINGE_N), hanger_n=np.asarray(HANGER_N),
    rail_spacing=np.asarray(spacing(HANGER)),
)  # fmt: skip


def unloaded() -> Curves:
    """Rails without loads, shapes (row, side, piece)."""
    whole = (1, 2, len(STARTS))
    start, span = (np.broadcast_to(part, whole) for part in (STARTS, SPANS))
    return Curves(start, span, np.zeros((*whole, 4)), np.zeros((*whole, 4)), np.zeros((*whole, 3)), np.zeros((1, 2)))


def held(*, pull_s=(0.0, 0.0), pull_n=(0.0, 0.0), torque=(0.0, 0.0, 0.0)) -> Curves:
    pound = pound_along(LAYOUT, at=MEMBERS)
    found = SimpleNamespace(
        curves=unloaded(), layout=LAYOUT, box=SimpleNamespace(at=MEMBERS),
        left_of_n=pound.left_of_n, left_of_s=pound.left_of_s,
    )  # fmt: skip
    pulls = {"pull_s": np.array([pull_s]), "pull_n": np.array([pull_n])}
    return held_along(found, of=np.array([0]), torque=np.array([torque]), **pulls)


def near(value) -> object:
    return pytest.approx(value, rel=1e-9, abs=1e-9)


def test_a_line_on_one_rail_bends_both_by_the_lever_rule_of_each_place():
    """100 lb up on the left rail at 60 in: M_L + M_R = -100 s, M_L - M_R = -100 b_H b min(c, c_H); no load beyond."""
    run = held(pull_n=(100.0, 0.0))
    left, right = run.moment[0]
    on = STARTS >= 0.0
    assert left[:, 0] + right[:, 0] == near(-100.0 * on * np.minimum(STARTS, HANGER))
    reach = np.array([min(rolled(s), rolled(HANGER)) if s > 0.0 else 0.0 for s in STARTS])
    unlike = -100.0 * spacing(HANGER) * np.array([spacing(s) for s in STARTS]) * reach
    assert left[:, 0] - right[:, 0] == near(unlike)
    # straight in every piece, and nothing jumps: the slope is the rise to the next piece over its length
    for rail in run.moment[0]:
        assert rail[1:-1, 1] == near(np.diff(rail[1:, 0]) / SPANS[1:-1])
    assert run.shear[0, :, :, 0] == near(run.moment[0, :, :, 1])
    tail = run.moment[0, :, -1, 0] + SPANS[-1] * run.moment[0, :, -1, 1]
    assert run.beyond[0] == near(tail)


def test_a_line_along_one_rail_bends_it_about_the_neutral_axis_of_each_stretch():
    """100 lb along the floor at 9 in, held at the hinge 1.5 in under it: couples of 900 and 150 lb in."""
    run = held(pull_s=(100.0, 0.0))
    left, right = run.moment[0]
    on, there = (STARTS >= 0.0) * 1.0, (STARTS >= HANGER) * 1.0
    pulled = 100.0 * (on - there)  # tension from hinge to hanger, in the left rail alone
    axis = np.array([AXIS[stretch_of(s)] for s in STARTS])
    both = 100.0 * (HANGER_N * there - HINGE_N * on)
    assert left[:, 0] + right[:, 0] == near(both + pulled * axis)
    b = np.array([spacing(s) for s in STARTS])
    unlike = 100.0 * b * (HANGER_N / spacing(HANGER) * there - HINGE_N / 21.0 * on)
    assert left[:, 0] - right[:, 0] == near(unlike + pulled * axis)
    assert run.axial[0, 0, :, 0] == near(-pulled)
    assert not run.axial[0, 1].any()


def test_a_couple_of_a_member_goes_on_as_the_rails_stand_apart():
    """300 lb in on the left rail at 14 in and as much the other way on the right one: 300 b/b_14 beyond."""
    run = held(torque=(300.0, 0.0, -120.0))
    here = np.array([300.0 * (s >= 14.0) / spacing(14.0) - 120.0 * (s >= 40.0) / spacing(40.0) for s in STARTS])
    expected = here * [spacing(s) for s in STARTS]
    assert run.moment[0, 0, :, 0] == near(expected)
    assert run.moment[0, 1, :, 0] == near(-expected)
    end = spacing(LENGTH) * here[-1]
    assert run.beyond[0] == near([end, -end])


def test_a_couple_at_the_head_of_parallel_rails_is_the_same_everywhere():
    assert open_spread(STARTS, layout=SimpleNamespace(along=None)).tolist() == [1.0, 0.0]
    spread = open_spread(unloaded().start, layout=LAYOUT)
    assert spread[0, 0, :, 0] == near([spacing(s) / 25.0 for s in STARTS])


def test_steps_of_a_cubic_in_two_pieces_by_hand():
    """1 + 2t + 3t2/2 + 4t3/6 over 2 in ends at 1 + 4 + 6 + 16/3 = 49/3, its slope 2 + 6 + 8 = 16, then 11 and 4."""
    derivative = np.array([[1.0, 2.0, 3.0, 4.0], [0.0, 5.0, 0.0, 6.0]])
    steps = steps_of(derivative, span=np.array([2.0, 3.0]))
    # the second one over 3 in ends at 15 + 6 x 27/6 = 42, its slope 5 + 6 x 9/2 = 32, then 18 and 6
    expected = [[1.0, 2.0, 3.0, 4.0], [-49.0 / 3.0, -11.0, -11.0, 2.0], [-42.0, -32.0, -18.0, -6.0]]
    assert steps == near(np.array(expected))
    drawn = Terms(np.array([0.0, 2.0, 5.0]), steps)
    assert evaluate(drawn, x=np.array([1.0, 3.0, 9.0])) == near([1.0 + 2.0 + 1.5 + 4.0 / 6.0, 6.0, 0.0])


def test_the_turn_of_loads_is_that_of_quadrature():
    whole = (1, 2, len(STARTS), 4)
    moment = np.random.default_rng(3).uniform(-500.0, 500.0, whole) / np.array([1.0, 10.0, 100.0, 1000.0])
    run = unloaded()
    run = Curves(run.start, run.span, moment, run.axial, run.shear, run.beyond)

    def unlike(s: float) -> float:
        k = int(np.searchsorted(STARTS, s, side="right") - 1)
        t, d = s - STARTS[k], moment[0, 0, k] - moment[0, 1, k]
        return float(d[0] + d[1] * t + d[2] * t**2 / 2.0 + d[3] * t**3 / 6.0)

    found = turn_of_loads(run, along=rails(), at=MEMBERS)[0]
    breaks = tuple(STARTS[1:])
    by_quadrature = [integral(lambda s: spacing(s) * unlike(s) / stiffness(s), x, breaks=breaks) for x in MEMBERS]
    assert found == pytest.approx(by_quadrature, rel=1e-9)


def test_a_pound_of_unlike_pull_turns_the_rails_as_quadrature_has_it():
    """Its moments as in the tests above, about the neutral axis: one pound of unlike push up to the hangers."""
    pound = pound_along(LAYOUT, at=MEMBERS)
    b_h, c_h = spacing(HANGER), rolled(HANGER)

    def of_n(s: float) -> float:
        return -(spacing(s) ** 2) * b_h * min(rolled(s), c_h) / stiffness(s)

    def of_s(s: float) -> float:
        unlike = spacing(s) * (HANGER_N / b_h * (s >= HANGER) - HINGE_N / 21.0) + AXIS[stretch_of(s)] * (s < HANGER)
        return spacing(s) * unlike / stiffness(s)

    for found, of in ((pound.turn_of_n, of_n), (pound.turn_of_s, of_s)):
        assert found == pytest.approx([integral(of, x, breaks=(HANGER,)) for x in MEMBERS], rel=1e-9)


def test_members_across_a_flared_box_keep_their_law_and_leave_the_tail_at_rest():
    """Loads leave M_L - M_R = 40 s: each torque is G J/b of the rails' unlike slopes there, all by quadrature."""
    along, torsion = rails(), np.array([0.8, 1.1, 0.5])
    turn = np.array([integral(lambda s: spacing(s) * 40.0 * s / stiffness(s), x) for x in MEMBERS])
    box = grillage_along(Across(at=MEMBERS, torsion=torsion), along=along)
    found = ties(box, turn=turn[None], left=np.array([40.0 * LENGTH]))
    torque, head = found.torque[0], float(found.head[0])

    def unlike(s: float) -> float:
        shares = torque / [spacing(x) for x in MEMBERS] * (s >= MEMBERS)
        return 40.0 * s + 2.0 * spacing(s) * float(shares.sum())

    assert unlike(LENGTH) == pytest.approx(0.0, abs=1e-6 * 40.0 * LENGTH)
    for x, j, t in zip(MEMBERS, torsion, torque, strict=True):
        turned = integral(lambda s: spacing(s) * unlike(s) / stiffness(s), x, breaks=tuple(MEMBERS))
        assert t == pytest.approx(G * j / spacing(x) * (21.0 * head + turned) / spacing(x), rel=1e-7)


def test_members_across_parallel_rails_of_one_section_are_those_of_the_undivided_box():
    across = Across(at=MEMBERS, torsion=np.array([0.8, 1.1, 0.5]))
    along = rails((24.0,) * 4)
    alike = [{name: getattr(piece, name) for name in ("start", "end", "head", "tail", "area", "axis", "modulus")}
             for piece in along.pieces]  # fmt: skip
    along = type(along)(tuple(type(along.pieces[0])(**one, inertia=np.asarray(INERTIA[0])) for one in alike), False)
    b, bend = np.asarray(24.0), np.asarray(E * INERTIA[0])
    whole = grillage(across, spacing=b, bending=bend, length=np.asarray(LENGTH))
    cut = grillage_along(across, along=along)
    turn, left = np.array([[1.0e5, 7.0e6, 2.0e6]]), np.array([5.0e3])
    mine, theirs = ties(cut, turn=turn * b / bend, left=left), ties(whole, turn=turn, left=left)
    assert mine.torque == pytest.approx(theirs.torque, rel=1e-9)
    assert mine.head == pytest.approx(theirs.head, rel=1e-9)
