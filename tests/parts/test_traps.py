"""A trap as a member across the floor, its welds, what it does to the twist of a box, and what is refused by name."""

import tomllib
from copy import deepcopy
from math import asin, pi, sqrt

import numpy as np
import pytest
from scipy.integrate import quad

from rigcheck.analysis.across import members_across
from rigcheck.analysis.solve import solve
from rigcheck.assessment.assess import assess
from rigcheck.case.errors import CaseError
from rigcheck.case.reading.read import check_case, read_case_text
from rigcheck.case.rig import Rig, varied
from rigcheck.crosscheck.second_opinion import confirm_governing, worst_difference
from rigcheck.loads.traps import traps
from rigcheck.output.haul.words import trap_words
from rigcheck.parts.floor.checks import floor_load
from rigcheck.parts.registry import not_assessed
from rigcheck.parts.trap.checks import carries
from rigcheck.strength.bases import BASES
from rigcheck.strength.members.trough import allowed, half_pipe, vee
from rigcheck.wording.scale import Scale
from tests.loads.test_traps import BARE, GATE, PIPE, PLATE
from tests.statics.random_rigs import FOLDING, rig_of

WELDED = PIPE + 'steel = "A36"\nweld = "1/8 in"\nweld_length = "13.5 in"\n'
CLOSED = WELDED + 'cover = "1/8 in"\n'


def test_a_half_pipe_bends_and_shears_as_quadrature_has_it():
    found = half_pipe(2.0, wall=0.125)
    low = quad(lambda r: 2.0 * r**2, 2.0, 2.125)[0] / (0.5 * pi * (2.125**2 - 4.0))
    second = quad(lambda r: 0.5 * pi * r**3, 2.0, 2.125)[0] - 0.5 * pi * (2.125**2 - 4.0) * low**2
    assert float(found.modulus) == pytest.approx(second / low)
    # thin: V Q/(I t) of half the ring above the level of its centroid, 2 r/pi below the edges
    level = asin(2.0 / pi)
    q = quad(lambda a: 2.0 / pi - np.sin(a), 0.0, level)[0]
    i = quad(lambda a: (np.sin(a) - 2.0 / pi) ** 2, 0.0, pi)[0]
    assert float(found.area / found.sheared) == pytest.approx(pi * q / i, rel=1e-4)


def test_an_angle_bends_about_its_own_level_axis():
    leg, t = 3.0, 0.02  # thin, where I = t b^3/12 for both legs together, S = I/(b/(2 sqrt 2)), Q/(I t) A = 3/sqrt 2
    found = vee(leg, wall=t)
    assert float(found.modulus) == pytest.approx(t * leg**3 / 12.0 / (leg / (2.0 * sqrt(2.0))), rel=0.02)
    q = quad(lambda x: x / sqrt(2.0), 0.0, 0.5)[0]
    assert float(found.area / found.sheared) == pytest.approx(2.0 * q / (1.0 / 12.0))


def test_only_a_closed_trap_is_stiff_in_torsion():
    thin, closed = half_pipe(2.0, wall=0.125), half_pipe(2.0, wall=0.125, cover=0.125)
    r = 2.0625
    assert float(thin.constant) == pytest.approx(pi * r * 0.125**3 / 3.0)
    # Bredt: 4 A^2 over the length of wall and chord by their thickness
    assert float(closed.constant) == pytest.approx(4.0 * (0.5 * pi * r**2) ** 2 / ((pi * r + 2.0 * r) / 0.125))
    assert float(closed.twisted) == pytest.approx(2.0 * 0.5 * pi * r**2 * 0.125)
    assert float(closed.constant) > 300.0 * float(thin.constant)
    may = allowed(thin, fy=36000.0, basis=BASES["lifting"])
    assert float(may.moment) == pytest.approx(36000.0 * float(thin.modulus) / 3.0)
    slack = half_pipe(6.0, wall=0.01)  # D/t of 1,202: it buckles at 0.33 E/(D/t)
    held = allowed(slack, fy=36000.0, basis=BASES["lifting"])
    assert float(held.moment) == pytest.approx(0.33 * 29.0e6 / 1202.0 * float(slack.modulus) / 3.0)


def test_a_welded_trap_joins_the_rails_and_one_that_is_not_described_does_not():
    bare, open_, closed = (members_across(rig_of(BARE + text)) for text in (PIPE, WELDED, CLOSED))
    assert open_.at.shape[-1] == bare.at.shape[-1] + 1
    assert (float(open_.at[-1]), float(open_.torsion[-1])) == pytest.approx((22.5, pi * 2.0625 * 0.125**3 / 3.0))
    assert float(closed.torsion[-1]) == pytest.approx(float(half_pipe(2.0, wall=0.125, cover=0.125).constant))
    missing = [one.id for one in not_assessed(assess(rig_of(BARE + PIPE)).solution)]
    assert "trap.0.weld" in missing


@pytest.fixture(scope="module")
def welded():
    return assess(rig_of(BARE + CLOSED))


def test_a_trap_spans_with_what_stands_in_it_and_the_floor_beside_it(welded):
    """Packed, by hand, with the factor 1.33: w from the slot and from half of what is left of the bay."""
    solution = welded.solution
    (trap,) = traps(solution.rig)
    row = next(i for i, one in enumerate(solution.rows) if one.state == "packed")
    found = carries(solution, trap)
    normal = solution.pose.normal[row]
    down = -(solution.life.loads.gravity[row, 0] * normal[0] + solution.life.loads.gravity[row, 2] * normal[1])
    span = 27.0 + 0.1046
    own = 0.5 * pi * 4.0 * 27.0 * 160.0 / 1728.0
    steel = (0.5 * pi * (2.125**2 - 4.0) * 27.0 + pi * 4.0 * 0.125 + 4.25 * 27.0 * 0.125) * 490.0 / 1728.0
    beside = float(solution.life.loads.strip["w_start"][row].max())  # gravel 7 in deep is the heaviest on the floor
    assert beside == pytest.approx(7.0 * 27.0 * 128.0 / 1728.0)
    bed = beside / 27.0 * max(0.5 * (15.0 + 4.0), 0.625 * 15.0) * span
    moment = float(found.moment[row].max())
    assert moment > 1.33 * down * (own + steel + bed) * span / 8.0
    assert moment < 1.25 * 1.33 * down * (own + steel + bed) * span / 8.0  # and floor, mats, members and water


def test_its_end_welds_carry_shear_and_torque_as_two_runs(welded):
    rows = {worst.check.part: worst for worst in welded.worst if not worst.check.ultimate}
    weld, seam = rows["trap 1 end weld"], rows["trap 1 cover weld"]
    found = carries(welded.solution, traps(welded.solution.rig)[0])
    place = (int(weld.state), int(weld.bound), int(weld.side))
    shear, torque = (
        float(np.broadcast_to(getattr(found, name), welded.solution.shape)[place]) for name in ("shear", "torque")
    )
    # two runs of 13.5 in, 4 1/8 in apart: V/2L square to the floor and T/(4.125 L) more on one of them
    assert float(weld.demand) == pytest.approx(shear / 27.0 + torque / (4.125 * 13.5))
    place = (int(seam.state), int(seam.bound), int(seam.side))
    torque = float(np.broadcast_to(found.torque, welded.solution.shape)[place])
    assert torque > 0.0
    assert float(seam.demand) == pytest.approx(torque / (pi * 2.0625**2))
    # 1/8 in leg, E70, shop: 0.6 x 70 x 0.707/8 x 0.85/3.6 = 0.876 kip/in; the floor, 12 ga of unknown steel, has less
    assert float(weld.capacity) < 876.7


REFUSED = (
    (PIPE.replace('"22.5 in"', '"1 in"'), "trap[1].at: puts the trap over the hinge line"),
    (PIPE.replace('"22.5 in"', '"104.5 in"'), "trap[1].at: puts the trap over the tail"),
    (PIPE.replace('"22.5 in"', '"17 in"'), "trap[1].at: puts the trap where cross-member 2 lies"),
    (PIPE + PIPE.replace('"22.5 in"', '"23 in"'), "trap[2].at: puts trap 2 over trap 1, which lies from 20.38 in"),
    (PIPE.replace('"4 in"', '"4 in"\nleg = "2 in"'), "trap[1].leg: is of a trap that is an angle, and"),
    (PIPE.replace("half pipe", "angle"), "trap[1].leg: is missing; a trap that is an angle needs it"),
    (PIPE + 'drained_to = "3 in"\n', "trap[1].drained_to: 3 in is deeper than the trap (2 in)"),
    (PIPE + 'cover = "12 ga"\n', "trap[1].cover: closes nothing unless welded from side to side"),
    (WELDED.replace('"13.5 in"', '"15 in"'), "trap[1].weld_length: 15 in is more than half of the floor"),
    (PLATE + 'weld = "1/8 in"\n', "trap[1].weld: is of a half pipe or an angle"),
    (PLATE.replace('"2 in"', '"8 in"'), "trap[1].height: 8 in is higher than the sides (7 in)"),
    (GATE.replace('"5 in"', '"7 1/4 in"'), "gate[1].height: 7.25 in is higher than the sides (7 in)"),
    (GATE.replace('"1 in"', '"5 in"'), "gate[1].opening: 5 in leaves no plate below its top (5 in)"),
    (GATE.replace('"24 in"', '"106 in"'), "gate[1].at: 106 in is not on the floor"),
    (GATE + GATE.replace('"24 in"', '"40 in"'), "gate[2].at: is of a further gate"),
    ("[[trough]]\nwall = 1\n", 'trough: is written as a [[trap]]; write holds = "water and sand" in it'),
)  # fmt: skip


@pytest.mark.parametrize(("text", "told"), REFUSED, ids=[told[:40] for _, told in REFUSED])
def test_what_cannot_be_is_refused_by_name(text, told):
    with pytest.raises(CaseError) as raised:
        read_case_text(BARE + text, name="case")
    assert any(told in str(problem) for problem in raised.value.problems), raised.value.problems


def test_a_trap_in_a_narrow_box_that_is_longer_than_it_is_refused():
    text = BARE.replace('length = "8 ft 9 in"', 'length = "12 in"')
    with pytest.raises(CaseError, match="more than the box"):
        read_case_text(text + PIPE.replace('"4 in"', '"12 in"').replace('"22.5 in"', '"6 in"'), name="case")


def test_no_strip_of_floor_counts_where_a_trap_cuts_it():
    with pytest.raises(CaseError, match="a trap cuts the floor from side to side"):
        read_case_text(BARE.replace('floor_width = "0 in"', 'floor_width = "2 in"') + PIPE, name="case")
    assert read_case_text(BARE.replace('floor_width = "0 in"', 'floor_width = "2 in"') + CLOSED, name="case")


def test_traps_in_a_box_cut_into_like_stretches_do_what_they_do_in_the_whole_box():
    data = tomllib.loads(BARE + CLOSED + PLATE + GATE)
    data["rail"]["wall_seam"] = data["rail"]["floor_seam"] = {"made": "continuous", "leg": "1/8 in"}
    cut = deepcopy(data)
    cut["stretch"] = [{"length": "41 in"}, {"length": "64 in"}]
    one, other = (assess(Rig(check_case(each))) for each in (data, cut))
    assert [row.state for row in one.solution.rows] == [row.state for row in other.solution.rows]
    for name in ("tension", "hinge"):
        a, b = getattr(one.solution.demand, name), getattr(other.solution.demand, name)
        level = np.array(["plugged" not in (row.state, row.variant.get("while")) for row in one.solution.rows])
        assert np.abs(a - b)[level].max() <= 1e-9 * np.abs(a).max()
    uses = [{(w.check.part, w.check.mode): float(w.utilization) for w in each.worst if "trap" in w.check.part}
            for each in (one, other)]  # fmt: skip
    assert uses[0] == pytest.approx(uses[1], rel=1e-9)


def test_a_space_frame_of_the_box_has_the_torque_of_a_closed_trap(welded):
    """Built from the case alone, with a solver of others: lines, hinge, rails and torques, within half a percent."""
    assert worst_difference(confirm_governing(welded)) < 0.005


def test_what_counts_as_drained_is_to_be_drained():
    text = CLOSED + 'drained_to = "1/2 in"\n'
    rig = rig_of(FOLDING.replace('floor_width = "2 in"', 'floor_width = "0 in"') + text)
    (flag,) = (one for one in assess(rig).flags if one.code == "trap_drained")
    assert "trap 1 counted as drained" in flag.text and not flag.stops
    # a segment half an inch deep of a circle of 2 in, 27 in long: 15.6 lb of water and sand or concentrate when full
    left = (4.0 * np.arccos(0.75) - 1.5 * sqrt(1.75)) * 27.0 * 160.0 / 1728.0
    (told,) = trap_words(rig, scale=Scale("us"))
    assert left == pytest.approx(2.266, abs=1e-3) and "2.267 lb" in told
    assert trap_words(rig_of(BARE), scale=Scale("us")) == []


def test_what_stands_below_the_floor_does_not_press_on_the_sheet_and_what_lies_behind_a_plate_does():
    heavy = {"trap.0.density": np.asarray(300.0 / 1728.0)}
    for text, presses in ((WELDED, False), (PLATE, True)):
        one, other = (
            floor_load(solve(rig)).pressure for rig in (rig_of(BARE + text), varied(rig_of(BARE + text), heavy))
        )
        assert bool(np.any(other > one * (1.0 + 1e-9))) is presses
