"""How the range of a key is scanned and a bracket drawn in, on answers that are made up, by hand."""

import numpy as np
import pytest

from rigcheck.studies.length import study
from rigcheck.studies.length.study import _Scan
from rigcheck.studies.vary.batch import Finding, Judged, RowKey
from rigcheck.studies.vary.variable import variable

from .rigs import rig_of

RIG = rig_of()


def scan(values, excess, *, sure=True):
    excess = np.array(excess, dtype=float)
    return _Scan(np.array(values, dtype=float), excess <= 0.0, np.full(excess.shape, sure), excess)


def judged(use, *, stops=(), state=None, states=("empty", "running", "packed", "plugged")):
    use = np.array(use, dtype=float)
    rows = tuple(RowKey(f"part {i}", "mode", "line", False, False) for i in range(use.shape[1]))
    state = np.zeros(use.shape, dtype=np.intp) if state is None else np.array(state)
    findings = tuple(
        Finding(code, f"{code} it is", np.array(where), frozenset(names), True, "") for code, where, names in stops
    )
    return Judged(rows, use, state, states, findings, ())


@pytest.mark.parametrize(
    ("key", "low", "high"),
    [
        ("fitting.weight", 6.8, 27.2),  # 17 lb, three fifths of it to either side
        ("perch.downstream", -19.0, 5.0),  # of -7 in that would be 4.2 in: a foot at the least
        ("box.length", 35.6, 142.4),  # 89 in
    ],
)
def test_the_range_is_three_fifths_to_either_side_and_a_foot_at_the_least(key, low, high):
    found = study._range(RIG, variable(RIG.case, key), span=(None, None), hanger="fraction")
    assert found == pytest.approx((low, high))


@pytest.mark.parametrize(
    ("span", "ends"), [((70.0, None), (70.0, 142.4)), ((None, 100.0), (35.6, 100.0)), ((70.0, 100.0), (70.0, 100.0))]
)
def test_an_end_that_is_given_is_the_end(span, ends):
    assert study._range(RIG, variable(RIG.case, "box.length"), span=span, hanger="fraction") == pytest.approx(ends)


def test_a_straight_line_between_logarithms_tells_where_in_a_bracket_to_look():
    """From 10 to 20 with -1 and 3: a quarter of the way, 12.5.

    Two fifths of how closely an end is to be known (1e-4 of 20, so 8e-4) and 3 % of the bracket (0.3) to either side,
    and the middle.
    """
    looked = study._inside(scan([10.0, 20.0], [-1.0, 3.0]))
    np.testing.assert_allclose(looked, [12.2, 12.5 - 8e-4, 12.5 + 8e-4, 12.8, 15.0], rtol=1e-12)
    falling = study._inside(scan([10.0, 20.0], [3.0, -1.0]))
    np.testing.assert_allclose(falling, [15.0, 17.2, 17.5 - 8e-4, 17.5 + 8e-4, 17.8], rtol=1e-12)
    # what would lie outside the bracket is left out
    np.testing.assert_allclose(study._inside(scan([10.0, 20.0], [-0.1, 99.9]))[0], 10.01 - 8e-4)


def test_a_bracket_with_a_stop_at_an_end_is_cut_into_even_steps():
    np.testing.assert_allclose(study._inside(scan([10.0, 27.0], [-1.0, np.inf])), np.arange(11.0, 27.0))


@pytest.mark.parametrize(("width", "wide"), [(2.01e-3, True), (1.99e-3, False)])
def test_an_end_is_known_to_a_ten_thousandth_of_its_value(width, wide):
    assert bool(study._inside(scan([20.0, 20.0 + width], [-0.1, 0.1])).size) is wide


def test_what_is_looked_at_more_is_put_in_its_place():
    """What fails in some states fails; what passes in some is not sure."""
    found = study._merged(scan([1.0, 3.0], [-1.0, 1.0]), np.array([2.0, 4.0]), (np.array([True, False]),
                          np.array([-0.5, 2.0])), sure=False)  # fmt: skip
    assert found.values.tolist() == [1.0, 2.0, 3.0, 4.0] and found.excess.tolist() == [-1.0, -0.5, 1.0, 2.0]
    assert found.good.tolist() == [True, True, False, False] and found.sure.tolist() == [True, False, True, True]


def test_just_past_the_last_band_is_looked_at_closely():
    """Four hundredths of 50 in sixteen steps of 0.125: 50.125 to 52, no further than the range, none seen twice."""
    beyond = study._beyond(scan([40.0, 50.0, 60.0], [-1.0, -0.2, 1.0]))
    np.testing.assert_allclose(beyond, 50.0 + 0.125 * np.arange(1, 17))
    np.testing.assert_allclose(study._beyond(scan([50.0, 51.0], [-1.0, 1.0])), 50.0 + 0.125 * np.arange(1, 8))
    assert study._beyond(scan([50.0, 60.0], [-1.0, -0.5])).size == 0  # it passes to the end
    assert study._beyond(scan([50.0, 60.0], [1.0, 0.5])).size == 0


def test_states_that_are_near_on_either_side_of_a_flip_are_looked_at_inside_it():
    """Over 0.6 at the last that passes or the first that fails; far from there, however high, decides nothing."""
    state = np.tile([1, 2, 3], (4, 1))
    use = [[0.1, 0.1, 0.9], [0.7, 0.1, 0.5], [0.1, 1.3, 0.5], [0.1, 0.1, 2.0]]
    found = study._near_states(judged(use, state=state), np.array([True, True, False, False]))
    assert found == {"running", "packed"}
    stopped = judged(use, state=state, stops=[("line_slack", [False] * 3 + [True], ["folding"])])
    assert study._near_states(stopped, np.array([True, True, False, False])) == {"running", "packed", "folding"}


def test_what_is_over_at_every_value_is_set_aside_with_where_it_is_least():
    found, aside, codes = study._blockers(judged([[1.5, 1.2, 0.3], [1.5, 0.9, 0.3], [1.1, 1.3, 0.3]]), np.arange(3.0))
    (blocker,) = found
    assert (blocker.part, blocker.least, blocker.at, blocker.moves) == ("part 0", 1.1, 2.0, True)
    assert [row.part for row in aside] == ["part 0"] and codes == frozenset()


@pytest.mark.parametrize("code", ["dead_point", "line_slack", "hinge_uplift"])
def test_a_stop_under_which_forces_mean_nothing_is_never_set_aside(code):
    always = [
        (code, [True, True], ["running"]),
        ("clash", [True, False], ["packed"]),
        ("clash", [False, True], ["run"]),
    ]
    found, _, codes = study._blockers(judged([[0.5], [0.5]], stops=always), np.arange(2.0))
    assert codes == {"clash"} and [one.part for one in found] == ["clash"]


def test_what_ends_a_band_is_what_is_highest_beside_it_apart_from_what_was_set_aside():
    values = scan([1.0, 2.0, 3.0, 4.0], [1.0, -1.0, -1.0, 1.0])
    beside = judged([[1.9, 1.2, 0.4], [1.9, 0.5, 1.4]])  # at 1 and at 4
    asked = []

    def look(some):
        asked.append(some.tolist())
        return beside

    (band,) = study._bands(values, look=look, aside=frozenset(beside.rows[:1]), stops_aside=frozenset())
    assert asked == [[1.0, 4.0]] and (band.low, band.high) == (2.0, 3.0)
    assert (band.below.part, band.below.use, band.below.value) == ("part 1", 1.2, 1.0)
    assert (band.above.part, band.above.use, band.above.value) == ("part 2", 1.4, 4.0)


def test_bands_that_reach_the_ends_of_the_range_have_nothing_beyond_them():
    """Passing at 1, over at 2, passing at 3 and 4."""
    beside = judged([[0.5], [1.2], [0.5]])  # at 1, at 2, which ends both bands, and at 4
    first, last = study._bands(scan([1.0, 2.0, 3.0, 4.0], [-1.0, 1.0, -1.0, -1.0]), look=lambda some: beside,
                               aside=frozenset(), stops_aside=frozenset())  # fmt: skip
    assert (first.low, first.high, first.below, first.above.value) == (1.0, 1.0, None, 2.0)
    assert (last.low, last.high, last.below.value, last.above) == (3.0, 4.0, 2.0, None)


def test_who_governs_from_where_to_where():
    found = study._reigns(
        judged(
            [[0.5, 0.4], [0.6, 0.4], [0.6, 0.9], [0.6, 0.9]], stops=[("clash", [False, False, False, True], ["run"])]
        ),
        np.arange(4.0),
    )
    assert [(one.low, one.high, one.part, one.stop) for one in found] == [
        (0.0, 1.0, "part 0", ""), (2.0, 2.0, "part 1", ""), (3.0, 3.0, "part 1", "clash"),
    ]  # fmt: skip


def test_a_finding_beside_a_band_names_itself():
    beside = judged([[0.5]], stops=[("clash", [True], ["packed", "empty"])])
    limit = study._limit(beside, 0, 7.0, aside=frozenset(), stops_aside=frozenset())
    assert (limit.part, limit.state, limit.use, limit.value) == ("clash", "empty, packed", None, 7.0)
    assert study._limit(beside, 0, 7.0, aside=frozenset(), stops_aside=frozenset({"clash"})).part == "part 0"


def test_a_bracket_is_closed_in_some_states_and_believed_in_all():
    """Passing ends at 15.3; some states say 16. The look in all states has the last word."""
    looks = []

    def look(values, states):
        looks.append(states)
        limit = 15.3 if states is None else 16.0
        excess = (values - limit) / 10.0
        return excess <= 0.0, excess

    found = study._closed(scan([10.0, 20.0], [-0.53, 0.47]), states=frozenset({"running"}), look=look)
    last = found.values[found.good].max()
    assert 15.3 - 2e-3 <= last <= 15.3 and None in looks and frozenset({"running"}) in looks
    assert found.sure[np.searchsorted(found.values, last)]
