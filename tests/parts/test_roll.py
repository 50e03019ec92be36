"""The roll of the open box on one line: told, stopped, and what it says where nothing closed joins the rails."""

from pathlib import Path

import numpy as np
import pytest

from rigcheck.analysis.solve import solve
from rigcheck.assessment.assess import assess
from rigcheck.case import read_case
from rigcheck.case.rig import Rig, varied
from rigcheck.loads.pieces import BOUNDS
from rigcheck.parts.rail.roll import UNJOINED, roll, roll_flags
from tests.statics.random_rigs import PLAIN, rig_of

CASES = Path(__file__).parents[2] / "cases"
ANGLES = PLAIN.replace('shape = "HSS1-1/2x1-1/2x1/8"', 'shape = "L2x2x1/8"')
BARE = PLAIN[: PLAIN.index("[cross_member]")] + PLAIN[PLAIN.index("[mat]") :]
FEW = frozenset({"empty", "running"})


def codes(text: str, **limits: str) -> dict[str, str]:
    lines = "".join(f'{key} = "{value}"\n' for key, value in limits.items())
    rig = rig_of(text.replace("[rail]\n", f"[rail]\n{lines}"))
    found = solve(rig, only=FEW)
    return {flag.code: flag.text for flag in roll_flags(found) if np.any(flag.where & found.allowed[..., None])}


def test_roll_is_the_fall_of_one_rail_below_the_other():
    found = solve(rig_of(PLAIN), only=FEW)
    place = found.sagged.place(0, BOUNDS.index("left"))
    drop = found.sag.tail_deflection[place]
    assert float(found.sag.roll[place]) >= abs(drop[0] - drop[1]) / float(found.layout.rail_spacing) * (1.0 - 1e-9)
    shared = [BOUNDS.index(name) for name in ("limp", "stiff", "loose")]
    assert np.all(roll(found)[:, shared] == 0.0)


def test_a_box_of_angles_rolls_over_and_says_why():
    """Angles 2x2x1/8 twist five hundred times as easily as the tube: no box to work one line of."""
    found = codes(ANGLES)
    assert set(found) == {"box_rolls", "box_rolls_over"}
    assert "nothing closed joins its rails" in found["box_rolls_over"]
    assert assess(rig_of(ANGLES), only=FEW).stopped


def test_told_over_the_one_limit_and_stopped_over_the_other():
    solution = solve(rig_of(PLAIN), only=FEW)
    most = float(np.degrees(roll(solution).max()))
    assert 0.2 < most < 4.9
    assert codes(PLAIN, roll_reported=f"{most * 1.01:.6f} deg") == {}
    assert set(codes(PLAIN, roll_reported=f"{most * 0.99:.6f} deg")) == {"box_rolls"}
    assert set(codes(PLAIN, roll_reported="0 deg", roll_limit=f"{most * 0.99:.6f} deg")) == {
        "box_rolls",
        "box_rolls_over",
    }
    assert "closed" not in codes(PLAIN, roll_reported="0 deg")["box_rolls"]


def test_nothing_across_is_not_assessed_by_name():
    found = assess(rig_of(BARE), only=FEW)
    assert UNJOINED in found.not_assessed
    assert not any(flag.code.startswith("box_rolls") for flag in found.flags)


def test_stronger_tubes_never_roll_it_further():
    before = None
    for shape in ("HSS1-1/2x1-1/2x1/8", "HSS2x2x1/8", "HSS2x2x1/4", "HSS3x3x1/4"):
        now = roll(solve(rig_of(PLAIN.replace('shape = "HSS1-1/2x1-1/2x1/8"', f'shape = "{shape}"')), only=FEW)).max()
        assert before is None or now < before
        before = now


def test_a_batch_of_limits_is_each_alone():
    rig = varied(rig_of(PLAIN), {"rail.roll_limit": np.radians([0.1, 5.0])})
    found = solve(rig, only=FEW)
    stops = next(flag for flag in roll_flags(found) if flag.stops)
    assert np.broadcast_to(stops.where, found.shape).any((-3, -2, -1)).tolist() == [True, False]


@pytest.mark.parametrize("side", ["left", "right"])
def test_with_a_line_parted_it_rolls_as_on_one_line(side):
    """The loads at rest are those of the same row on one line."""
    found = solve(rig_of(PLAIN))
    bound = BOUNDS.index(side)
    calm = next(i for i, row in enumerate(found.rows) if row.state == "running" and row.variant["low_side"] == "left")
    lost = next(
        i for i, row in enumerate(found.rows)
        if row.state == "line_broken" and row.variant["while"] == "running" and row.variant["low_side"] == "left"
    )  # fmt: skip
    assert roll(found)[lost, bound, 0] == pytest.approx(roll(found)[calm, bound, 0])


def test_the_roll_on_the_way_up_begins_with_that_of_the_empty_box():
    """Deployed, on one line, the folding box is the empty one; its roll by places is that of its integrated shape."""
    rig = varied(Rig(read_case(CASES / "larkspur-bar.toml")), {"bed.depth": np.asarray(0.0)})  # no bed is left over
    found = solve(rig, only=frozenset({"empty", "folding"}))
    rolls = roll(found)
    rising = found.states("folding") & (rolls > 0.0).any((-2, -1))
    empty = rolls[found.states("empty")].max()
    first = int(np.flatnonzero(rising)[0])
    assert found.fold[first] == pytest.approx(0.0)
    assert rolls[first].max() == pytest.approx(empty, rel=0.02)
    assert rolls[rising].max() < 1.1 * empty
