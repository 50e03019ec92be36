"""The longest box passes and a little longer fails; pockets are found; what no value cures is said and set aside."""

import json

import numpy as np
import pytest

from rigcheck.assessment.assess import assess
from rigcheck.case.errors import CaseError
from rigcheck.case.rig import Rig
from rigcheck.output.length.screen import length_screen
from rigcheck.output.length.view import length_result
from rigcheck.output.plot import plot
from rigcheck.output.screen import Look
from rigcheck.studies.length import study as length
from rigcheck.studies.length.study import sweep
from rigcheck.studies.vary.batch import judge
from rigcheck.studies.vary.case import design, with_values
from rigcheck.studies.vary.follow import moved
from rigcheck.studies.vary.variable import variable

from .rigs import SOUND, case_of, rig_of

STATES = frozenset({"running", "packed"})
CLOSE = 1e-4  # of its value an end is known to, as docs/method.md#length says


def study(rig: Rig, key: str = "box.length", **more):
    return sweep(rig, variable=variable(rig.case, key), **more)


def anew(rig: Rig, value: float, key: str = "box.length"):
    """The rig at one value, written out as a case and checked by itself."""
    return assess(Rig(design(moved(rig, key=key, values=np.asarray(value)).rig, 0)))


def test_the_longest_box_passes_and_a_hundredth_longer_fails():
    rig = rig_of()
    found = study(rig)
    assert found.whole and not found.blockers
    longest = found.bands[-1]
    assert longest.above is not None
    assert not bool(anew(rig, longest.high).over)
    over = anew(rig, 1.01 * longest.high)
    assert bool(over.over)
    assert longest.above.value - longest.high <= 1.01 * CLOSE * longest.above.value


def random_sound(count: int, *, seed: int) -> list[Rig]:
    draw = np.random.default_rng(seed)
    ranges = {
        "box.width": (20.0, 34.0), "box.side_height": (5.0, 9.0), "perch.height": (40.0, 75.0),
        "perch.downstream": (-14.0, 10.0), "bed.depth": (0.5, 3.0), "box.pitch": (0.05, 0.2), "hinge.pin": (0.7, 1.3),
        "hanger.at": (48.0, 70.0), "perch.post.weld": (0.2, 0.4), "cross_member.spacing": (7.0, 16.0),
    }  # fmt: skip
    return [
        Rig(with_values(case_of(), {key: float(draw.uniform(*ends)) for key, ends in ranges.items()}))
        for _ in range(count)
    ]


def longest_holds(count: int, *, seed: int) -> int:
    """Assert on random rigs that the longest box passes and one a hundredth longer fails; how many had a limit.

    Two states only, the same in the search and in the check of its answer, to keep it short.
    """
    limited, states = 0, frozenset({"packed"})
    for rig in random_sound(count, seed=seed):
        found = study(rig, points=7, only=states)
        if not found.bands or found.bands[-1].above is None:
            continue
        limited += 1
        high = found.bands[-1].high
        ends = judge(moved(rig, key="box.length", values=np.array([high, 1.01 * high])).rig, only=states)
        aside = frozenset(row for row in ends.rows if any(
            (row.part, row.mode) == (one.part, one.mode) for one in found.blockers))  # fmt: skip
        codes = frozenset(one.part for one in found.blockers)
        assert list(ends.passes(aside=aside, stops_aside=codes)) == [True, False]
    return limited


def test_longest_passes_and_longer_fails_on_random_rigs():
    """Two hundred of them, in all states: `python -m tests.bench.length_rigs`."""
    assert longest_holds(16, seed=5) > 8


def test_a_pocket_that_fails_between_two_bands_is_found(monkeypatch):
    """The judge is replaced by one that fails between 60 and 66.5 in and past 95 in."""
    rig = rig_of()
    real = length.judge

    def pocketed(batch, **more):
        found = real(batch, **more)
        values = np.broadcast_to(batch.number("box.length"), len(found.use))
        use = found.use.copy()
        use[:, 0] = np.where(((values > 60.0) & (values < 66.5)) | (values > 95.0), 1.5, use[:, 0])
        return type(found)(found.rows, use, found.state, found.states, (), found.not_assessed)

    monkeypatch.setattr(length, "judge", pocketed)
    found = study(rig, span=(50.0, 110.0), only=STATES)
    assert len(found.bands) == 2
    ends = [(band.low, band.high) for band in found.bands]
    np.testing.assert_allclose(ends, [(50.0, 60.0), (66.5, 95.0)], rtol=2.0 * CLOSE)
    told = length_result(found, case=rig.case)
    assert any("Between these bands" in sentence for sentence in told["answer"])


def test_a_hanger_that_passes_near_each_cross_member_only_has_a_band_at_each():
    """A weak rail is twisted by a hanger far from a cross-member: real pockets, by the engine itself."""
    weak = with_values(case_of(), {
        "rail.stiffener": "HSS1-1/2x1-1/2x1/8", "cross_member.spacing": 16.0, "cross_member.shape": "HSS3x3x1/4",
        "cross_member.weld": 0.25, "box.sheet": 0.1875, "box.side_sheet": 0.1345, "hanger.spacing": 30.0,
        "perch.spacing": 35.0, "hinge.pin": 2.0, "hinge.barrel_wall": 0.5, "hinge.weld": 0.375,
    })  # fmt: skip
    rig = Rig(weak)
    found = study(rig, "hanger.at", span=(45.0, 70.0), points=51)
    assert len(found.bands) >= 3 and not found.blockers
    for member in (48.0, 64.0):
        assert any(abs(0.5 * (band.low + band.high) - member) < 8.0 for band in found.bands)
    for band in found.bands:
        assert not bool(anew(rig, band.low, "hanger.at").over) and not bool(anew(rig, band.high, "hanger.at").over)
        for limit, out in ((band.below, -1.0), (band.above, 1.0)):
            if limit is not None:
                assert bool(anew(rig, limit.value, "hanger.at").over)
                end = band.low if out < 0.0 else band.high
                assert abs(limit.value - end) <= 1.01 * CLOSE * limit.value
    gaps = [0.5 * (one.high + two.low) for one, two in zip(found.bands, found.bands[1:], strict=False)]
    assert all(bool(anew(rig, gap, "hanger.at").over) for gap in gaps)


def test_states_that_were_left_out_of_the_brackets_still_decide(monkeypatch):
    """The rough look sees only a pass; the look in all states finds the fault, and the bracket is cut again."""
    rig = rig_of()
    real = length.judge

    def hidden(batch, *, only=None, **more):
        found = real(batch, only=STATES, **more)
        values = np.broadcast_to(batch.number("box.length"), len(found.use))
        use = found.use.copy()
        limit = 90.0 if only is None else 92.0
        use[:, 0] = np.where(values > limit, 1.5, use[:, 0])
        return type(found)(found.rows, use, found.state, found.states, (), found.not_assessed)

    monkeypatch.setattr(length, "judge", hidden)
    found = study(rig, span=(50.0, 110.0), points=9)
    assert found.bands[-1].high == pytest.approx(90.0, rel=2.0 * CLOSE)


def test_what_no_length_cures_is_named_and_the_rest_is_answered_apart():
    text = SOUND.replace(
        'kind = "wire rope"',
        'kind = "lever hoist"\nwll = "9000 lb"\nrated_to_suspend = true\n[[line.link]]\nkind = "wire rope"',
    ).replace('weld = "3/16 in"\nweld_length = "4 in"', 'weld = "1/8 in"\nweld_length = "2 in"')
    rig = rig_of(text)
    found = study(rig, only=STATES)
    assert found.blockers and not found.whole
    assert all("full rating" in one.mode for one in found.blockers)
    assert found.bands, "the rest has an answer of its own"
    told = length_result(found, case=rig.case)
    assert told["passes"] is False
    assert told["answer"][0].startswith("Nothing passes every check")
    assert "set aside" in told["answer"][1]


def test_a_pull_only_device_is_set_aside_by_name():
    text = SOUND.replace(
        'kind = "wire rope"',
        'kind = "come-along"\nwll = "750 lb"\nrated_to_suspend = false\n[[line.link]]\nkind = "wire rope"',
    )
    rig = rig_of(text)
    found = study(rig, only=STATES)
    assert [one.part for one in found.blockers if one.least is None] == ["pull_only_holds"]
    assert found.bands and not found.whole
    screen = length_screen(length_result(found, case=rig.case), look=Look(80))
    assert "STOPS" in screen and "passes" not in screen.split("Values scanned")[1].split("values were")[0]


@pytest.mark.parametrize("key", ["box.width", "box.side_height", "bed.depth", "hanger.at", "perch.height", "line.wear"])
def test_any_key_can_be_asked_for(key):
    rig = rig_of()
    found = study(rig, key, points=9, only=STATES)
    assert found.values[0] < found.variable.value < found.values[-1] or key == "line.wear"
    for band in found.bands:
        for value in (band.low, band.high):
            batch = moved(rig, key=key, values=np.array([value])).rig
            assert bool(judge(batch, only=STATES).passes()[0])
    assert [one.low for one in found.reigns] == sorted(one.low for one in found.reigns)


def test_ends_must_be_in_order_and_keep_the_rules_of_a_case():
    rig = rig_of()
    with pytest.raises(CaseError, match="is not under --to"):
        study(rig, span=(90.0, 80.0))
    with pytest.raises(CaseError, match="at or past the tail"):
        study(rig, span=(40.0, 80.0), hanger="fixed")
    assert study(rig, hanger="fixed", points=5, only=STATES).values[0] > 62.0


def test_the_governing_parts_cover_the_range():
    found = study(rig_of(), points=9, only=STATES)
    assert found.reigns[0].low == found.values[0] and found.reigns[-1].high == found.values[-1]


def test_how_far_apart_the_scanned_values_are_is_told_of_the_widest_gap():
    """Every ten inches and the 89 in that it has."""
    counts: list[int] = []
    found = study(rig_of(), span=(50.0, 110.0), points=7, only=STATES, done=counts.append)
    # eight of the scan; an end of a band by a straight line takes a third of what even steps would
    assert sum(counts) <= 40
    assert list(found.values) == [50.0, 60.0, 70.0, 80.0, 89.0, 90.0, 100.0, 110.0] and found.closest == 10.0


def test_the_result_is_json_and_the_screen_reads_at_60_columns():
    rig = rig_of()
    for system in ("us", "si"):
        told = length_result(study(rig, points=9, only=STATES), case=rig.case, system=system)
        json.dumps(told, allow_nan=False)
        screen = length_screen(told, look=Look(60))
        assert screen.isascii() and max(map(len, screen.splitlines())) <= 60
        assert screen.rstrip().endswith(told["cautions"][-1].split()[-1])
    assert told["unit"] == "mm" and told["now"] == pytest.approx(89.0 * 25.4)


def test_an_answer_is_rounded_to_the_side_that_passes():
    rig = rig_of()
    found = study(rig, points=9, only=STATES)
    told = length_result(found, case=rig.case)
    printed = float(told["answer"][0].split(": ")[1].split(" in")[0])
    assert printed <= found.bands[-1].high


def test_a_plot_puts_curves_where_their_values_are():
    lines = plot([0.0, 1.0], curves=[[0.0, 1.5], [None, None]], width=40, top=1.5, line=1.0)
    assert lines[0].rstrip().endswith("a") and lines[-2].split("|")[1].startswith("a")
    assert "b" not in "".join(lines)
    assert [line for line in lines if line.startswith(" 100 %")] == [lines[5]]
