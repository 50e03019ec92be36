"""Lugs of hanger and perch by hand, over states and fold; fit of shackle and hole; more metal is never worse."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from rigcheck.analysis.rows import Check
from rigcheck.analysis.solve import Solution, solve
from rigcheck.arrays.guarded import divide
from rigcheck.case.reading.read import read_case_text
from rigcheck.case.rig import Rig, varied
from rigcheck.parts.lug import checks as lugs
from rigcheck.parts.lug.checks import lug_checks, lug_flags, lug_pin, lug_pull, lugs_not_assessed
from rigcheck.strength.bases import FRAME
from rigcheck.strength.connections.bth1 import PinPlate
from rigcheck.strength.connections.lugs import lug_strength
from tests.parts.test_steel_details import RIG, row

TEXT = RIG.format(basis="frame", sheet="12 ga", barrel="2 in")
LIFTING = RIG.format(basis="lifting", sheet="12 ga", barrel="2 in")
FOLDING = '[fold]\nto = "75 deg"\n'
PERCH_LUG = """
[perch.lug]
plate = "1/2 in"
hole = "11/16 in"
edge = "1 1/4 in"
width = "3 in"
foot = "5 in"
stand_off = "1 1/4 in"
weld = "1/4 in"
weld_length = "5 in"
steel = "A36"
"""


def lug_rig(text: str = TEXT, *, more: str = "", **keys: str) -> Rig:
    """The trial rig with other keys in its hanger lug."""
    head, tail = text.split("[hanger.lug]")
    own, rest = tail.split("[perch]", 1)
    kept = [line for line in own.splitlines() if line.split(" = ")[0] not in keys]
    lines = [*kept, *(f"{key} = {value}" for key, value in keys.items() if value)]
    return Rig(read_case_text(head + "[hanger.lug]" + "\n".join(lines) + "\n[perch]" + rest + more))


def uses(check: Check, solution: Solution) -> np.ndarray:
    """Use in every row, nothing where balance asks the line to push."""
    use = np.maximum(divide(check.demand, check.capacity), 0.0)
    return np.broadcast_to(use, np.broadcast_shapes(use.shape, solution.shape))


def codes(solution: Solution) -> dict[str, bool]:
    return {flag.code: flag.stops for flag in lug_flags(solution)}


def test_bearing_and_tension_on_the_hole_by_hand():
    """Plate 1/2 in, shackle pin 5/8 in, A36: bearing 1.8 Fy d t/2; beside the hole 2 t + 0.63 in on either side."""
    solution = solve(lug_rig(hole='"0.65 in"'))  # within 1/32 in of the pin
    bearing = row(lug_checks(solution), "hanger lug", "bearing")
    assert float(np.max(bearing.capacity)) == pytest.approx(1.8 * 36000.0 * 0.625 * 0.5 / 2.0, rel=1e-6)
    tension = row(lug_checks(solution), "hanger lug", "tension beside")
    effective = min(2.0 * 0.5 + 0.63, (3.0 - 0.65) / 2.0)  # D5.1 (seen)
    expected = min(58000.0 * 2.0 * 0.5 * effective / 2.0, 36000.0 * 3.0 * 0.5 / 1.67)
    assert float(np.max(tension.capacity)) == pytest.approx(expected, rel=1e-6)
    np.testing.assert_allclose(tension.demand, solution.demand.tension, rtol=1e-12)


def test_the_full_rating_is_that_of_the_strongest_hoist_and_of_nothing_else():
    """A hoist of 1,500 lb beside a rated part of 5,000 lb pulls 1,500 lb; the stronger of two hoists pulls 2,000."""
    part = '[[line.link]]\nkind = "rated part"\nwll = "5000 lb"\n'
    hoist = '[[line.link]]\nkind = "lever hoist"\nwll = "1500 lb"\nrated_to_suspend = true\n'
    rated = [lugs.hoist_rating(Rig(read_case_text(TEXT.replace("[weld]", more + "[weld]"))))
             for more in (part + hoist, part, hoist + hoist.replace("1500", "2000"))]  # fmt: skip
    assert [None if one is None else float(one) for one in rated] == [1500.0, None, 2000.0]


def test_every_mode_is_held_against_a_hoist_at_its_full_rating():
    """A snagged box: whatever the line carries, the hoist's rating stands on each mode, against its own capacity."""
    hoist = '[[line.link]]\nkind = "lever hoist"\nwll = "1500 lb"\nrated_to_suspend = true\n'
    rig = Rig(read_case_text(TEXT.replace("[weld]", hoist + "[weld]")))
    rows = {check.mode: check for check in lug_checks(solve(rig)) if check.part == "hanger lug"}
    modes = [mode for mode, check in rows.items() if not check.snag and not check.ultimate]
    assert len(modes) == 5
    for mode in modes:
        full, plain = rows[f"{mode}, hoist at its full rating"], rows[mode]
        assert full.snag and np.array_equal(full.capacity, plain.capacity)
        if full.unit == "force":
            assert np.all(full.demand == 1500.0), mode


def test_weld_under_the_pull_by_hand():
    """Two runs 5 in long, 1/2 in apart; the pull 1 1/4 in over them: elastic vector sum at the worst end of a run."""
    solution = solve(lug_rig())
    pull = lug_pull(solution, end="hanger")
    weld = row(lug_checks(solution), "hanger lug weld", "force per inch")
    i = next(k for k, one in enumerate(solution.rows) if one.state == "packed")
    along, out, aside = (float(abs(part[i])) for part in (pull.along, pull.out, pull.aside))
    length, arm = 5.0, 1.25
    # along the run: P/2L and M/(2 L^2/6); across: the plate's thickness is the arm of the couple aside
    bent = along * arm / (2.0 * length**2 / 6.0)
    rocked = aside * arm * 0.25 / (2.0 * length * 0.25**2)
    worst = np.sqrt(
        (along / (2.0 * length)) ** 2 + (aside / (2.0 * length)) ** 2 + (out / (2.0 * length) + bent + rocked) ** 2
    )
    demand = np.broadcast_to(weld.demand, solution.shape)[i]
    np.testing.assert_allclose(demand, solution.demand.tension[i] * worst, rtol=1e-9)


def test_every_angle_of_the_fold_is_looked_at():
    """Rows of the fold have their own pull; swung by over 30 degrees it meets the side of the plate."""
    high = TEXT.replace('height = "57 in"', 'height = "70 in"').replace('downstream = "-6 in"', 'downstream = "12 in"')
    solution = solve(lug_rig(high, more=FOLDING))
    fold = [k for k, one in enumerate(solution.rows) if one.state == "folding"]
    assert len(fold) >= 181
    pull = lug_pull(solution, end="hanger")
    angle = np.arctan2(pull.out[fold], pull.along[fold])
    assert np.ptp(angle) > np.radians(30.0)
    first = np.arctan2(solution.pose.u_n[0], solution.pose.u_s[0])
    swing = np.abs(angle - first)
    assert np.array_equal(pull.swung[fold], np.minimum(swing, 2.0 * np.pi - swing) > np.radians(30.0))
    narrow = solve(lug_rig(high, more=FOLDING, width='"1 1/2 in"', weld_length='"1 1/2 in"'))
    check = row(lug_checks(narrow), "hanger lug", "double-plane shear")
    capacity = np.broadcast_to(check.capacity, narrow.shape)
    swung = lug_pull(narrow, end="hanger").swung
    assert swung.any() and not swung.all()
    straight, across = capacity[~swung].min(), capacity[swung].max()
    near = PinPlate(
        thickness=0.5, width=1.5, edge=0.75, hole=0.6875, pin=0.625, edge_radius=0.0, fy=36000.0, fu=58000.0
    )
    assert across == pytest.approx(float(lug_strength(near, basis=FRAME).shear), rel=1e-9)
    assert across < straight


@pytest.mark.parametrize(("degrees", "swung"), [(-152.0, False), (-148.0, True), (150.0, False), (148.0, True)])
def test_a_pull_that_turns_past_the_weld_counts_the_short_way(monkeypatch, degrees, swung):
    """From 179 degrees over the weld to -152 is a turn of 29 and not of 331; to -148 one of 33. Limit 30."""
    solution = solve(lug_rig())
    turns = iter([degrees, 179.0])

    def pulled(at, *, end, turned):
        angle = np.radians(next(turns)) + 0.0 * at.uy
        return np.cos(angle), np.sin(angle), 0.0 * angle

    monkeypatch.setattr(lugs, "_turned", pulled)
    assert np.all(lug_pull(solution, end="hanger").swung == swung)


def test_side_pull_and_splay_bend_the_plate_on_the_flat():
    """Turned out of the side view by a right angle the plate takes the whole level pull on its weak axis."""
    straight, turned = (lug_pull(solve(lug_rig(turned=angle)), end="hanger") for angle in ('"0 deg"', '"90 deg"'))
    np.testing.assert_allclose(turned.aside, np.abs(straight.along), rtol=1e-9, atol=1e-12)
    np.testing.assert_allclose(np.abs(turned.along), straight.aside, rtol=1e-9, atol=1e-12)
    np.testing.assert_allclose(straight.along**2 + straight.out**2 + straight.aside**2, 1.0, rtol=1e-12)


@pytest.mark.parametrize(
    ("keys", "code", "stops"),
    [
        ({"hole": '"0.62 in"'}, "pin_does_not_fit", True),
        ({"hole": '"0.64 in"'}, None, False),
        ({"plate": '"13/16 in"'}, "shackle_too_narrow", True),
        ({"plate": '"3/4 in"'}, None, False),
        ({"weld": '"1/16 in"'}, "weld_too_small", False),
        ({"hole": '"3/4 in"'}, "lug_outside_clause", False),
    ],
)
def test_shackle_must_fit_hole_and_plate(keys, code, stops):
    """A 1/2 in shackle: pin 5/8 in, 13/16 in between its ears."""
    found = codes(solve(lug_rig(**keys)))
    wanted = {"pin_does_not_fit", "shackle_too_narrow"}
    if code in wanted:
        assert found[code] is stops
    else:
        assert not wanted & set(found)
    if code is not None:
        assert code in found


def test_pin_is_that_of_the_shackle_unless_stated():
    assert float(lug_pin(lug_rig(), end="hanger")) == 0.625
    assert float(lug_pin(lug_rig(pin='"9/16 in"'), end="hanger")) == 0.5625
    other = Rig(
        read_case_text(TEXT.replace('kind = "shackle"\nsize = "1/2 in"', 'kind = "rated part"\nwll = "2 tons"'))
    )
    assert lug_pin(other, end="hanger") is None
    missing = lugs_not_assessed(solve(other))
    assert missing == ["hanger lug (pin not known)", "perch lug", "perch lug weld"]
    assert not any("hole" in check.mode for check in lug_checks(solve(other)))


def test_what_is_not_described():
    assert lugs_not_assessed(solve(lug_rig())) == ["perch lug", "perch lug weld"]
    assert lugs_not_assessed(solve(lug_rig(weld="", weld_length="", more=PERCH_LUG))) == ["hanger lug weld"]
    parts = {check.part for check in lug_checks(solve(lug_rig(weld="", weld_length="")))}
    assert parts == {"hanger lug"}


def test_a_weld_holds_no_longer_than_the_plate_it_runs_along():
    """A study that varies the weld alone gets no more of it than the foot offers, whatever the rules of a file say."""
    fits, beyond = (
        solve(varied(lug_rig(), {"hanger.lug.foot": 3.0, "hanger.lug.weld_length": run})) for run in (3.0, 5.0)
    )
    for one, other in zip(lug_checks(fits), lug_checks(beyond), strict=True):
        assert uses(one, fits) == pytest.approx(uses(other, beyond)), one.mode


COUNT = 40
KEYS = ("plate", "edge", "width", "weld", "weld_length", "foot", "pin")


def drawn(seed: int) -> dict[str, np.ndarray]:
    """Lugs of all proportions, thin, wide, with much and with no play."""
    draw = np.random.default_rng(seed)

    def some(low: float, high: float) -> np.ndarray:
        return draw.uniform(low, high, COUNT)

    hole = some(0.3, 1.2)
    return {
        "hole": hole, "pin": hole * some(0.5, 1.0), "plate": some(0.1, 1.2), "edge": hole * some(0.6, 3.0),
        "width": hole * some(1.1, 8.0), "weld": some(0.06, 0.5), "weld_length": some(0.5, 8.0), "foot": some(0.5, 8.0),
    }  # fmt: skip


@pytest.fixture(scope="module", params=[TEXT, LIFTING], ids=["frame", "lifting"])
def folding_box(request) -> Solution:
    """The statics, which do not depend on the lugs."""
    return solve(lug_rig(request.param, more=FOLDING + PERCH_LUG))


@pytest.mark.parametrize("key", KEYS)
@settings(max_examples=3, deadline=None)
@given(seed=st.integers(0, 2**31))
@example(seed=621)  # a weld of 1 in on a plate as thick: its root goes from lying to standing
def test_more_metal_never_raises_the_use(folding_box, key, seed):
    """Thicker, wider, longer plate, longer or stouter weld, larger pin in the same hole; swung pulls with them."""
    before = drawn(seed)
    more = before[key] * np.random.default_rng(seed + 1).uniform(1.0, 2.0, COUNT)
    after = before | {key: np.minimum(more, before["hole"]) if key == "pin" else more}
    thin, stout = (
        replace(
            folding_box,
            rig=varied(folding_box.rig, {f"{end}.lug.{k}": v for end in ("hanger", "perch") for k, v in lug.items()}),
        )
        for lug in (before, after)
    )
    seen = 0
    for one, other in zip(lug_checks(thin), lug_checks(stout), strict=True):
        was, now = uses(one, thin), uses(other, stout)
        assert np.all(now <= was * (1.0 + 1e-9) + 1e-9), (one.part, one.mode)
        seen += bool(np.any(now < 0.999 * was))
    assert seen


def test_stronger_steel_of_the_same_kind_never_raises_the_use():
    """A36 and a plate half as strong again with the same ratio of Fu to Fy would be; here unknown and A36."""
    weak, strong = (solve(lug_rig(steel=f'"{grade}"')) for grade in ("unknown", "A36"))
    for one, other in zip(lug_checks(weak), lug_checks(strong), strict=True):
        assert np.all(uses(other, strong) <= uses(one, weak) + 1e-12), one.mode
