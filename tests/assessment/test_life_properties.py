"""Over the whole life of the box: more weight never pulls less, sides mirror, weights add up."""

from pathlib import Path

import numpy as np
import pytest

from rigcheck.analysis.solve import Solution, solve
from rigcheck.case import read_case
from rigcheck.case.rig import Rig, varied
from rigcheck.loads.pieces import BOUNDS

CASES = sorted((Path(__file__).parents[2] / "cases").glob("*.toml"))
COUNT = 4


@pytest.fixture(scope="module", params=CASES, ids=lambda path: path.stem)
def rigs(request) -> Rig:
    """A batch of rigs drawn around a shipped case."""
    rig = Rig(read_case(request.param))
    draw = np.random.default_rng(len(request.param.stem))
    around = {
        key: rig.number(key) * draw.uniform(0.94, 1.06, COUNT)
        for key in ("box.length", "box.side_height", "hanger.at", "perch.height", "box.pitch", "bed.density")
    }
    return varied(rig, around)


@pytest.fixture(scope="module")
def drawn(rigs) -> Solution:
    return solve(rigs)


def pulls(solution: Solution) -> np.ndarray:
    """Sum of both lines in every row that the lines hold from the outside, shape (rig, row); zero elsewhere."""
    rows = len(solution.life.loads.rows)
    held = (solution.pose.arm > 0.05 * solution.pose.radius)[..., :rows]
    return np.where(held, solution.held.total[..., :rows], 0.0)


def more(rig: Rig, key: str, factor: float) -> Rig:
    return varied(rig, {key: rig.number(key) * factor})


@pytest.mark.parametrize(
    "key", ["bed.density", "bed.depth", "person.weight", "mat.weight", "fitting.0.weight", "water.flow"]
)
def test_more_weight_never_pulls_less_in_any_state_before_the_balance_point(rigs, drawn, key):
    before = drawn
    after = solve(more(rigs, key, 1.15))
    outward = before.service.moment[..., : len(before.life.loads.rows), 1] > 0.0
    old, new = pulls(before), pulls(after)
    least = 1e-9 * np.abs(old).max()
    standing = outward & (
        np.abs(before.fold[..., : old.shape[-1]]) < 1e-9
    )  # a deployed box: every weight leans outward
    assert np.all(new[standing] >= old[standing] - least)
    assert np.any(new > old + least)


def test_a_deeper_lip_never_lightens_a_plugged_box(rigs):
    lips = [0.2, 0.4, 0.6, 0.8, 1.0, 1.3]
    side = rigs.number("box.side_height")
    totals = []
    for share in lips:
        found = solve(varied(rigs, {"water.lip": share * side}), only=frozenset({"plugged"}))
        totals.append(found.service.weight[..., found.states("plugged")])
    steps = np.diff(np.stack(totals), axis=0)
    assert np.all(steps >= -1e-9 * totals[0].max())
    assert np.any(steps > 0.0)


def test_weights_add_up(rigs):
    """Cleanout pulls and hinge forces with no person, one and two stand at even steps, the lines sharing alike."""
    weight = rigs.number("person.weight")
    level = varied(rigs, {"plant.fore_aft_slope": 0.0})  # else the worse end may change with the person
    found = [solve(varied(level, {"person.weight": weight * n}), only=frozenset({"cleanout"})) for n in (0.0, 1.0, 2.0)]
    alike = BOUNDS.index("stiff")
    hinge = [each.held.hinge[..., alike, :, :] for each in found]
    for zero, one, two in (
        [each.held.tension[..., alike, :] for each in found],
        [force[..., [0, 2]] for force in hinge],
        [force[..., 1].sum(-1) for force in hinge],  # side thrust bears on one barrel end or the other
    ):
        np.testing.assert_allclose(two - one, one - zero, atol=1e-8 * (1.0 + np.abs(two).max()))


MIRROR = {"left": "right", "right": "left", "+y": "-y", "-y": "+y"}


def test_sides_mirror_in_every_state(rigs):
    """A rig alike on both sides: the row with everything on the other side swaps the lines and the hinge groups."""
    assert not any(float(np.max(np.abs(rigs.number(f"fitting.{i}.across")))) for i in range(len(rigs.value("fitting"))))
    found = solve(varied(rigs, {"fitting.0.across": 1e-9}))  # off the middle: no mirror image is left out
    rows = found.life.loads.rows

    def name(variant: dict[str, object], *, swap: bool) -> tuple[tuple[str, str], ...]:
        return tuple(sorted((key, str(MIRROR.get(str(v), v) if swap else v)) for key, v in variant.items()))

    place = {}
    for i, row in enumerate(rows):
        place.setdefault((row.state, name(dict(row.variant), swap=False)), []).append(i)
    seen: dict[object, int] = {}
    pairs = []
    for i, row in enumerate(rows):
        key = (row.state, name(dict(row.variant), swap=True))
        own = (row.state, name(dict(row.variant), swap=False))
        turn = seen.get(own, 0)
        seen[own] = turn + 1
        pairs.append((i, place[key][turn]))
    one, other = (np.array(side) for side in zip(*pairs, strict=True))
    counted = found.allowed[: len(rows), :, None]  # ways of sharing that a row has
    tension, hinge = found.held.tension[..., : len(rows), :, :], found.held.hinge[..., : len(rows), :, :, :]
    tension, hinge = tension * counted, hinge * counted[..., None]
    bounds = [0, 1, 2, 4, 3]  # all on the left becomes all on the right
    least = 1e-7 * np.abs(tension).max()
    np.testing.assert_allclose(tension[..., one, :, :], tension[..., other, :, ::-1][..., bounds, :], atol=least)
    turned = hinge[..., other, :, ::-1, :][..., bounds, :, :] * np.array([1.0, -1.0, 1.0])
    np.testing.assert_allclose(hinge[..., one, :, :, :], turned, atol=1e-8 * np.abs(hinge).max())
