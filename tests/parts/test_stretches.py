"""A box in stretches: cut into like ones it is the box it was; a taper against exact integrals; joints by hand."""

import copy
import tomllib
from functools import cache
from itertools import pairwise
from math import cos, radians, tan
from pathlib import Path

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

from rigcheck.assessment.assess import assess
from rigcheck.case.errors import CaseError
from rigcheck.case.reading.read import check_case
from rigcheck.case.rig import Rig
from rigcheck.loads.contents import contents, packed_gravel, pool_layer
from rigcheck.loads.depths import Contents
from rigcheck.loads.pieces import Strip
from rigcheck.loads.shape import reaches
from rigcheck.loads.steel import take_off
from rigcheck.parts.floor.checks import floor_load
from rigcheck.parts.joint.forces import Cut, bolt_forces, weld_force, weld_group
from rigcheck.parts.stretches import rail_views
from rigcheck.statics.beam import evaluate
from rigcheck.strength.bases import BASES
from rigcheck.strength.connections.bolts import bolt_strength, pulled_flange
from rigcheck.studies.hardware.steel import described
from rigcheck.studies.props.study import props

ROOT = Path(__file__).parents[2]
ALIKE = "larkspur-bar"
FLARED = "thistle-apron"


@cache
def _read(name: str) -> dict:
    folder = ROOT / "tests" / "outside" / "data" if name == FLARED else ROOT / "cases"
    return tomllib.loads((folder / f"{name}.toml").read_text(encoding="utf-8"))


def data_of(name: str) -> dict:
    return copy.deepcopy(_read(name))


def weight_and_center(strips: list[Strip]) -> tuple[float, float]:
    weight = first = 0.0
    for one in strips:
        start, span = float(one.start), float(one.end) - float(one.start)
        w0, w1 = float(one.w_start), float(one.w_end)
        weight += 0.5 * (w0 + w1) * span
        first += 0.5 * (w0 + w1) * span * start + (w0 + 2.0 * w1) * span**2 / 6.0
    return weight, first / weight


@pytest.fixture(scope="module")
def both():
    """A box of two channels as it is, and cut into four stretches of unlike length that are all alike."""
    data = data_of(ALIKE)
    whole = Rig(check_case(data_of(ALIKE)))
    length = float(whole.number("box.length"))
    data["stretch"] = [{"length": f"{share * length} in"} for share in (0.13, 0.27, 0.4, 0.2)]
    return assess(whole), assess(Rig(check_case(data)))


def close(one, other, *, within=1e-9):
    one, other = np.broadcast_arrays(one, other)
    return np.abs(one - other).max() <= within * np.abs(one).max()


def test_a_box_cut_into_like_stretches_is_the_box_it_was_in_every_state(both):
    """To 1e-9; a leaning pool to 1e-4, whose water rolls the box with its mean height in every strip, not with each.

    Roll is looked at in five places of every part of a rail, and a cut rail has more parts.
    """
    one, other = (found.solution for found in both)
    assert [row.state for row in one.rows] == [row.state for row in other.rows]
    pool = np.array(["plugged" in (row.state, row.variant.get("while")) for row in one.rows])
    for name in ("tension", "hinge", "total", "rail_split"):
        mine, theirs = getattr(one.demand, name), getattr(other.demand, name)
        assert close(mine[~pool], theirs[~pool]), name
        assert name == "rail_split" or close(mine[pool], theirs[pool], within=1e-4), name
    for name in ("weight", "center", "force", "moment"):
        assert close(getattr(one.service, name), getattr(other.service, name)), name
    bent, sagged = (np.array([pool[row] for row, _ in some.pairs]) for some in (one.bent, one.sagged))
    for name in ("max_moment", "max_shear", "max_axial", "stress", "compression"):
        mine, theirs = getattr(one.peaks, name), getattr(other.peaks, name)
        assert close(mine[~bent], theirs[~bent]), name
        assert close(mine[bent], theirs[bent], within=1e-4), name
    for name in ("sag", "tail_deflection", "tail_bend", "stretch", "rise"):
        assert close(getattr(one.sag, name)[~sagged], getattr(other.sag, name)[~sagged]), name
    assert close(one.bent.forces.ties.all[~bent], other.bent.forces.ties.all[~bent])
    assert close(one.road.stress, other.road.stress)
    assert close(one.sag.roll, other.sag.roll, within=1e-4)


def test_every_check_of_the_cut_box_is_that_of_the_whole_and_its_joints_are_missing(both):
    one, other = both
    most: list[dict] = [{}, {}]
    for found, table in zip(both, most, strict=True):
        for row in found.worst:
            key = row.check.part.partition(", stretch")[0], row.check.mode
            table[key] = max(table.get(key, -1.0), float(row.utilization))
    assert most[0].keys() == most[1].keys()
    assert {key: use for key, use in most[0].items() if abs(use - most[1][key]) > 1e-9 * max(use, 1.0)} == {}
    joints = {f"stretch.{i}.joint" for i in (1, 2, 3)}
    assert {one_.id for one_ in other.not_assessed} == {one_.id for one_ in one.not_assessed} | joints


def flat(width: float, tail: float) -> Rig:
    """The flared case with another taper and a pitch of ten degrees."""
    data = data_of(FLARED)
    data["box"]["pitch"] = "10 deg"
    data["box"]["width"] = f"{max(width, tail)} in"
    data["stretch"][0] |= {"width": f"{width} in", "width_tail": f"{tail} in"}
    data["stretch"][1] |= {"width": f"{tail} in"}
    data["rail"]["effective_floor_width"] = "0 in"
    return Rig(check_case(data))


def test_gravel_in_a_taper_is_its_exact_volume_and_center():
    rig = flat(21.0, 33.0)
    strips = [one for one in packed_gravel(rig) if one.reach == 0]
    weight, center = weight_and_center(strips)
    density = float(rig.number("bed.density"))
    # 21 to 33 in over 27 in, 10 in deep: 27 x 27 x 10 in3, center 27 (21 + 2 x 33)/(3 x 54)
    assert weight == pytest.approx(27.0 * 27.0 * 10.0 * density, rel=1e-12)
    assert center == pytest.approx(27.0 * (21.0 + 66.0) / (3.0 * 54.0), rel=1e-12)


def pool_of(found: Contents, rig: Rig, reach: int) -> tuple[float, float]:
    """Volume and first moment of all water over the bed in a stretch, by quadrature of its depth times its width."""
    one = reaches(rig)[reach]
    start, end, length = float(one.start), float(one.end), float(rig.number("box.length"))
    run = found.along[reach].running
    surface, bed = float(found.pool.surface), float(rig.number("bed.depth"))

    def depth(s: float) -> float:
        here = float(run[0]) + (s - start) / (end - start) * (float(run[1]) - float(run[0]))
        return max(here, surface - bed - (length - s) * tan(radians(10.0)))

    def width(s: float) -> float:
        return float(one.head) + (s - start) / (end - start) * (float(one.tail) - float(one.head))

    meet = float(found.along[reach].pool_start)
    volume = quad(lambda s: depth(s) * width(s), start, end, points=[meet])[0]
    return volume, quad(lambda s: s * depth(s) * width(s), start, end, points=[meet])[0]


@pytest.mark.parametrize(("width", "tail", "reach"), [(21.0, 33.0, 0), (33.0, 21.0, 0), (21.0, 33.0, 1)])
def test_a_pool_in_a_taper_is_its_exact_integral(width, tail, reach):
    rig = flat(width, tail)
    rig = Rig(rig.case, {"water.lip": np.asarray(8.0), "box.pitch": np.asarray(radians(10.0))})
    found = contents(rig)
    weight, center = weight_and_center([one for one in pool_layer(rig, found) if one.reach == reach])
    volume, first = pool_of(found, rig, reach)
    assert weight == pytest.approx(volume * float(found.density), rel=1e-9)
    assert center == pytest.approx(first / volume, rel=1e-9)


def test_a_taper_is_what_fine_steps_of_straight_pieces_converge_to_by_the_square_of_their_length():
    exact = 27.0 * (21.0 + 66.0) / (3.0 * 54.0)
    errors = []
    for count in (4, 8, 16):
        ends = np.linspace(0.0, 27.0, count + 1)
        middles = 0.5 * (ends[:-1] + ends[1:])
        widths = 21.0 + 12.0 * middles / 27.0
        errors.append(abs((middles * widths).sum() / widths.sum() - exact))
    for coarse, fine in pairwise(errors):
        assert coarse / fine == pytest.approx(4.0, rel=0.01)
    rig = flat(21.0, 33.0)
    floor = next(one for one in take_off(rig) if one.reach == 0 and one.id == "floor")
    assert float(floor.s) == pytest.approx(exact, rel=1e-12)


def test_water_above_a_narrowing_is_never_deeper_than_is_counted():
    """Specific energy: choked at the narrow end, the flow above has E = 1.5 y_c there, and its depth is less."""
    rig = flat(33.0, 21.0)
    found = contents(rig)
    total = float(rig.number("water.flow"))
    gravity = 386.0886  # in/s2

    def energy(depth: float, width: float) -> float:
        return depth + (total / width) ** 2 / (2.0 * gravity * depth**2)

    critical = ((total / 21.0) ** 2 / gravity) ** (1.0 / 3.0)
    least = energy(critical, 21.0)
    assert least == pytest.approx(1.5 * critical, rel=1e-12)
    above = ((total / 33.0) ** 2 / gravity) ** (1.0 / 3.0)
    subcritical = brentq(lambda depth: energy(depth, 33.0) - least, above, 10.0 * least)
    counted = float(found.along[0].flow[0])
    assert counted >= subcritical
    assert counted >= 1.5 * critical / cos(radians(10.0)) * (1.0 - 1e-9)  # solids add to the flow, so more is counted
    wide = contents(flat(21.0, 33.0))
    assert float(wide.along[1].flow[0]) < float(wide.along[0].flow[0])


def test_a_weld_up_the_wall_and_bolts_in_a_flange_by_hand():
    rig = Rig(check_case(data_of(FLARED)))
    one = np.ones((2, 1, 1))
    cut = Cut(pull=800.0 * one, moment=-2000.0 * one, shear=300.0 * one)
    # weld 8 in up the wall, center 4 in: M about it -2000 + 800 x 4 = 1200; 800/8 + 6 x 1200/64 = 212.5, 300/8 = 37.5
    assert weld_force(cut, weld_group(rig, 1)) == pytest.approx(np.hypot(212.5, 37.5))
    # four bolts 2 in apart from 1 in: center 4 in, sum y2 = 2 (9 + 1) = 20; 800/4 + 1200 x 3/20 = 380, 300/4 = 75
    pull, shear = bolt_forces(rig, 1, cut=cut)
    assert pull == pytest.approx(380.0 * one)
    assert shear == pytest.approx(75.0 * one)


def test_bolts_and_flange_are_those_of_the_standard():
    """AISC 360-16 Table J3.2 (memory): A325 90 and 54 ksi over 2.00; 5/8 in has 0.3068 in2: 13.8 and 8.28 kip."""
    bolt = bolt_strength(0.625, grade="A325", basis=BASES["frame"])
    assert float(bolt.tension) == pytest.approx(13_806.0, rel=1e-3)
    assert float(bolt.shear) == pytest.approx(8_283.0, rel=1e-3)
    # 1/2 in flange, 2 in a bolt, 1 1/4 in off the wall: 36000 x 2 x 0.25/4/1.25/1.67 = 2156 lb
    held = pulled_flange(0.5, strip=2.0, gauge=1.25, fy=36_000.0, basis=BASES["frame"])
    assert float(held) == pytest.approx(2_155.7, rel=1e-3)


@pytest.mark.parametrize(
    ("change", "key"),
    [
        (lambda data: data["stretch"][1].update(length="70 in"), "box.length"),
        (lambda data: data["box"].update(width="40 in"), "box.width"),
        (lambda data: data["stretch"][1].update(side_height="12 in"), "box.side_height"),
        (lambda data: data["stretch"][1].update(width="30 in"), "stretch[2].width"),
        (lambda data: data["stretch"][0].update(joint={"made": "welded", "leg": "1/8 in"}), "stretch[1].joint"),
        (lambda data: data["stretch"][1]["joint"].update(made="welded"), "stretch[2].joint.count"),
        (lambda data: data["stretch"][1]["joint"].pop("first"), "stretch[2].joint.first"),
        (lambda data: data["rail"].update(spacing="33 in"), "rail.spacing"),
    ],
)
def test_what_does_not_fit_together_is_refused_by_its_key(change, key):
    data = data_of(FLARED)
    change(data)
    with pytest.raises(CaseError) as refused:
        check_case(data)
    assert key in {problem.key for problem in refused.value.problems}


def test_a_joint_or_its_flange_left_out_is_never_passed():
    data = data_of(FLARED)
    del data["stretch"][1]["joint"]["flange"]
    found = assess(Rig(check_case(data)), only=frozenset({"packed"}))
    assert "stretch.1.joint.flange" in {one.id for one in found.not_assessed}
    del data["stretch"][1]["joint"]
    found = assess(Rig(check_case(data)), only=frozenset({"packed"}))
    assert "stretch.1.joint" in {one.id for one in found.not_assessed}


def test_further_supports_and_a_floor_that_drops_are_refused_by_name():
    data = data_of(FLARED)
    data["stretch"][1]["step"] = "1 in"
    with pytest.raises(CaseError) as refused:
        check_case(data)
    assert [(one.key, "drops at a joint" in one.why) for one in refused.value.problems] == [("stretch[2].step", True)]
    with pytest.raises(CaseError, match="further support"):
        props(Rig(check_case(data_of(FLARED))))


def test_the_diagram_of_a_rail_is_the_rail_that_is_checked():
    """Terms for drawing, from the curves: the same moment at every piece's start and end, nothing beyond the tail."""
    solution = assess(Rig(check_case(data_of(FLARED))), only=frozenset({"packed"})).solution
    forces = solution.bent.forces
    terms = forces.terms(0, side=0)
    start = np.broadcast_to(forces.curves.start, forces.curves.moment.shape[:-1])[0, 0]
    value = forces.curves.moment[0, 0, :, 0]
    assert evaluate(terms.moment, x=start) == pytest.approx(value, abs=1e-6 * np.abs(value).max())
    assert evaluate(terms.moment, x=np.array([200.0])) == pytest.approx(0.0, abs=1e-6 * np.abs(value).max())
    force = forces.curves.shear[0, 0, :, 0]
    assert evaluate(terms.shear, x=start, integrals=-1) == pytest.approx(force, abs=1e-6 * np.abs(force).max())


def test_a_flared_rail_ends_without_a_moment_in_every_row_and_sharing():
    """Nothing acts beyond the tail, whatever the members across do: M(L) = 0 to a hundred-thousandth of the largest."""
    data = data_of(FLARED)
    data["box"]["channels"] = 3
    solution = assess(Rig(check_case(data))).solution
    assert np.abs(solution.peaks.end_moment).max() < 1e-5 * np.abs(solution.peaks.max_moment).max()
    assert np.nanmax(solution.demand.residual[: len(solution.life.loads.rows)]) < 1e-9 * solution.demand.total.max()


def test_hardware_knows_the_parts_of_every_stretch():
    """A size that is tried is held to what it does in each of them."""
    rig = Rig(check_case(data_of(FLARED)))
    checked = {row.check.part for row in assess(rig, only=frozenset({"packed"})).worst}
    known = {name for steel in described(rig) for name in steel.parts}
    told = {"rail", "cross-member", "floor sheet", "hanger cross-member"}
    assert {part for part in checked if part.partition(", stretch")[0] in told} <= known
    assert {part for part in checked if part.startswith("member where")} <= known


def test_a_widening_floor_is_pressed_by_what_lies_on_it_and_not_by_its_parts_together():
    """Packed 10 in deep at 128 lb/ft3 on a hung box: 1.33 x 0.741 = 0.985 psi, and a little steel, mats and water."""
    solution = assess(Rig(check_case(data_of(FLARED))), only=frozenset({"packed"})).solution
    view = rail_views(solution)[0]
    pressed = floor_load(view).pressure[solution.states("packed")]
    assert np.all(pressed > 1.33 * 10.0 * 128.0 / 1728.0 * 0.99) and np.all(pressed < 1.45)
