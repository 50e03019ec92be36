"""The rows in which a rig is over, on a solution that is made up: what is kept of checks, findings, rails and road."""

from types import SimpleNamespace

import numpy as np
import pytest

from rigcheck.parts.registry import ROAD, plain_builders
from rigcheck.studies import sieve as module
from rigcheck.studies.spread.few import FACES, RAILS
from tests.support.stand_in import Rows

BUILDERS = plain_builders()
PLAIN = next(i for i, one in enumerate(BUILDERS) if one not in RAILS)
RAIL = next(i for i, one in enumerate(BUILDERS) if one in RAILS and one not in FACES)
FACE = next(i for i, one in enumerate(BUILDERS) if one in FACES)
HUNG = ("running", "empty", "packed", "folding", "folding")  # the two of the folded box stand behind them


@pytest.fixture
def sieved(monkeypatch):
    def run(*checks, flags=(), parts=None, road=True, strained=((0, 0), (2, 0))):
        rows = [SimpleNamespace(state=state) for state in (*HUNG, "parked", "parked")]
        solution = Rows(
            rows=rows, life=SimpleNamespace(loads=SimpleNamespace(rows=rows[:5])), shape=(7, 1, 1),
            bent=SimpleNamespace(pairs=[(0, 0), (1, 0), (2, 0), (3, 0)]),
            sagged=SimpleNamespace(pairs=[(1, 0), (2, 0)]),
            road=SimpleNamespace(rows=["first", "second"]) if road else None,
        )  # fmt: skip
        monkeypatch.setattr(module, "twins", lambda rows: {0: 1})
        monkeypatch.setattr(module, "flanks", lambda rows: {3: (2, 4)})
        monkeypatch.setattr(module, "strained", lambda solution: set(strained))
        monkeypatch.setattr(
            module, "states_of", lambda row: (row.state, "running" if row.state == "empty" else row.state)
        )
        worst = [
            SimpleNamespace(check=SimpleNamespace(part=part, group=group), utilization=np.array(use),
                            state=np.array(row), bound=np.array(0))
            for _, part, group, use, row in checks
        ]  # fmt: skip
        held = [
            SimpleNamespace(stops=stops, where=np.isin(np.arange(7), where)[:, None, None]) for stops, where in flags
        ]
        made_by = [builder for builder, *_ in checks]
        found = SimpleNamespace(solution=solution, worst=worst, made_by=made_by, flags=held)
        few = module.sieve(found, parts=parts)
        whole = [*few.keep.hung, *(5 + row for row in few.keep.road)]
        places = {builder: {whole[at] for at, _ in some} for builder, some in few.places.items()}
        return few, places, [{whole[at] for at, _ in some} for some in (few.keep.bent, few.keep.sagged)]

    return run


def test_checks_that_are_over_are_looked_at_where_they_are_worst(sieved):
    few, places, _ = sieved((PLAIN, "pin", "hinge", 1.2, 2), (PLAIN, "lug", "lug", 0.9, 0))
    assert places == {PLAIN: {2}} and not few.road
    assert few.keep.hung[: few.stops] == (1, 3, 4)  # a box at rest and both ends of the fold
    _, places, _ = sieved((PLAIN, "pin", "hinge", 1.2, 2), (PLAIN, "lug", "lug", 0.9, 0), parts=frozenset({"lug"}))
    assert places == {PLAIN: {0}}  # asked for by name, over or not
    _, places, _ = sieved(
        (PLAIN, "lug", "lug", -1.0, 0), (PLAIN, "pin", "lug", 0.3, 2), parts=frozenset({"lug", "pin"})
    )
    assert places == {PLAIN: {2}}  # what applies nowhere is looked at nowhere


def test_those_furthest_over_are_looked_at_where_there_are_many(sieved, monkeypatch):
    monkeypatch.setattr(module, "_MOST_PLACES", 1)
    some = [(PLAIN, "a", "", 1.1, 0), (PLAIN, "b", "", 1.5, 2), (RAIL, "c", "", 1.2, 2)]
    assert sieved(*some)[1] == {PLAIN: {2}, RAIL: {2}}  # a row that is looked at anyway serves another check as well


def test_rails_that_bend_where_a_check_asks_are_kept(sieved):
    _, places, (bent, sagged) = sieved((RAIL, "rail", "rail", 1.2, 2))
    assert places == {RAIL: {2}} and (bent, sagged) == ({2}, {2})
    few, _, (bent, _) = sieved((RAIL, "rail", "rail", 1.2, 3))  # a peak between two angles of the fold
    assert bent == {3} and [few.keep.hung[row] for row in few.keep.flanks] == [3] and {2, 4} <= set(few.keep.hung)
    # where no check asks, one that is at rest: statics want one to work with
    assert sieved((PLAIN, "pin", "hinge", 1.2, 2))[2] == [{1}, {1}]


@pytest.mark.parametrize(
    ("row", "strained", "bent"),
    [
        (4, ((0, 0), (2, 0)), {0, 2}),  # none of its state is bent: all that are strained most
        (4, ((3, 0), (2, 0)), {3}),
        (4, ((3, 1), (2, 0)), {2}),  # under the same bound
        (2, ((0, 0), (3, 0)), {2}),  # it is bent itself
    ],
)
def test_a_face_where_no_rail_is_bent_keeps_those_that_stand_for_it(sieved, row, strained, bent):
    assert sieved((FACE, "hanger lug face", "face", 1.2, row), strained=strained)[2][0] == bent


def test_rows_of_the_road_are_kept_with_their_twins(sieved):
    few, places, _ = sieved((ROAD, "strap", "road", 1.2, 5))
    assert few.keep.road == (0, 1) and few.road and not few.keep.road_bent and places == {}
    few, _, _ = sieved((ROAD, "strap", "road", 1.2, 6))
    assert few.keep.road == (1,)  # it is nobody's twin
    assert sieved((ROAD, "rail", "rail", 1.2, 6))[0].keep.road_bent
    assert not sieved((ROAD, "strap", "road", 1.2, 6), (RAIL, "rail", "rail", 1.2, 2))[0].keep.road_bent


@pytest.mark.parametrize(
    ("flags", "road", "stops"),
    [
        ([(True, [2])], (), (1, 2, 3, 4)),  # hung: its row is looked at, the road is not
        ([(False, [2, 6])], (), (1, 3, 4)),  # only said
        ([(True, [6])], (0, 1), (1, 3, 4)),  # it stops the folded box: all of the road
    ],
)
def test_findings_that_stop_are_looked_for_where_they_hold(sieved, flags, road, stops):
    few, _, _ = sieved((PLAIN, "pin", "hinge", 1.2, 0), flags=flags)
    assert few.keep.road == road and tuple(sorted(few.keep.hung[: few.stops])) == stops
    few, _, _ = sieved((PLAIN, "pin", "hinge", 1.2, 0), flags=flags, parts=frozenset({"pin"}))
    assert few.keep.road == () and few.keep.hung[: few.stops] == (1,)  # asked for parts alone
