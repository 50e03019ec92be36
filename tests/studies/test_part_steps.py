"""Parts that may cure a rig, and moves of the perch, on answers that are made up: what is offered for what."""

from types import SimpleNamespace

import numpy as np
import pytest

from rigcheck.parts.fold.checks import BEHIND, HELD, SLACK
from rigcheck.studies.fold import remedy as perch
from rigcheck.studies.fold import study as fold
from rigcheck.studies.hardware.record import Choice, Size
from rigcheck.studies.remedies import parts
from rigcheck.studies.remedies.record import Step

FITS = {"pin_does_not_fit", "shackle_too_narrow"}


def choice(part, *, chosen=None, by_mark=None, needs=0.0, most=0.0):
    size = None if chosen is None else Size(words=f"{chosen} of it", changes={f"{part}.size": chosen})
    return Choice(part=part, count=1, now="", use_now=1.2, chosen=size, smaller=None, source="", listed=True,
                  needs=needs, most=most, by_mark=by_mark or {})  # fmt: skip


def step(name):
    return Step(family=name, words=name, changes={}, effort=1.0)


@pytest.fixture
def steps(monkeypatch):
    def run(*choices, over=(), stops=(), road=(), weaker=(), knee=None):
        rows = [SimpleNamespace(part=part, snag=part == "rail") for part in over]
        found = [SimpleNamespace(code=code, about=about) for code, about in stops]
        judged = SimpleNamespace(
            rows=rows, use=np.full((1, len(rows)), 1.2), stops=found, state_of=lambda *at: "packed"
        )
        hoist, rated = (
            SimpleNamespace(label=name, kind=kind) for name, kind in (("hoist", "lever hoist"), ("r", "rated part"))
        )
        monkeypatch.setattr(parts, "links", lambda rig: [hoist, rated])
        monkeypatch.setattr(parts, "described", lambda rig: [SimpleNamespace(part="pin", parts=("pin", "pin face"))])
        monkeypatch.setattr(parts, "choices_for", lambda base, **more: list(choices))
        monkeypatch.setattr(parts, "road_choices", lambda base, **more: list(road))
        monkeypatch.setattr(parts, "_weaker_hoists", lambda base: list(weaker))
        monkeypatch.setattr(parts, "brace", lambda rig: knee)
        case = SimpleNamespace(haul=SimpleNamespace(tie_down=()))
        told = parts.part_steps(SimpleNamespace(judged=judged, rig=SimpleNamespace(case=case), use=lambda *of: 1.2))
        return {one.family: one for one in told}

    return run


def test_a_size_that_carries_is_offered_with_all_parts_that_have_it(steps):
    """And with what a size may lift: what stops the rig about one of them, and that it does not go with its lug."""
    found = steps(choice("pin", chosen="3/4 in"), road=[choice("strap", chosen="2 in")], over=["pin", "strap"],
                  stops=[("cracked", "pin face"), ("clash", "post")])  # fmt: skip
    assert found.keys() == {"pin", "strap"} and found["pin"].words == "pin: 3/4 in of it"
    assert found["pin"].clears == {"pin", "pin face"} and found["pin"].lifts == {"cracked", *FITS}
    assert found["strap"].clears == {"strap"} and found["strap"].lifts == FITS
    assert found["pin"].effort == 6.0 > steps(choice("pin", chosen=0.75), over=["pin"])["pin"].effort == 3.0  # of names


def test_a_part_that_is_known_by_its_mark_alone(steps):
    """Needs 1,210 lb: 1,250 in steps of fifty, where no window ends it."""
    mark = {"r.wll": 1210.0, "r.mbf": None}
    found = steps(choice("r", by_mark=mark, needs=1210.0), over=["r", "rail"])["r"]
    assert found.words == "r: one marked 1,250 lb or more" and found.changes == {"r.wll": 1250.0, "r.mbf": None}
    assert found.clears == {"r"} and found.roomier is None and found.lifts == frozenset()


@pytest.mark.parametrize(
    ("most", "words", "roomier"),
    [
        (2000.0, "hoist: one marked 1,210 lb, not over 2,000 lb", None),
        # under 5 % of room: one of 1.05 x 1,210 = 1,270.5, so 1,300 lb, can be bought once what it pulls at is stronger
        (1240.0, "hoist: one marked 1,210 lb, not over 1,240 lb", "hoist: one marked 1,210 to 1,300 lb"),
    ],
)
def test_a_hoist_with_another_mark_clears_what_it_pulls_at_as_well(steps, most, words, roomier):
    offered = choice("hoist", by_mark={"hoist.wll": 1210.0}, needs=1210.0, most=most)
    found = steps(offered, over=["hoist", "rail", "pin"])["hoist"]
    assert found.words == words and found.clears == {"hoist", "rail"}  # the rail is over while the box is snagged
    assert (found.roomier and found.roomier.words) == roomier
    if roomier:
        assert found.roomier.changes == {"hoist.wll": 1300.0} and found.roomier.clears == {"hoist"}


def test_a_device_that_may_only_pull_is_replaced_and_clears_itself_alone(steps):
    offered = choice("hoist", by_mark={"hoist.rated_to_suspend": True})
    found = steps(offered, over=["rail"], stops=[("pull_only_holds", "hoist")])["hoist"]
    assert found.words == "hoist: one that is marked for holding a load up"
    assert found.clears == {"hoist"} and found.lifts == {"pull_only_holds"}


def test_nothing_is_offered_where_nothing_changes_and_the_rest_is_added(steps):
    assert steps(choice("pin"), over=["pin"]) == {}
    assert steps(over=["rail"], weaker=[step("weaker")]).keys() == {"weaker"}


def test_sizes_are_looked_for_of_what_is_over_and_of_what_may_only_pull(monkeypatch):
    asked = []
    monkeypatch.setattr(parts, "choices_for", lambda base, *, parts, sure: asked.append((parts, sure)) or [])
    monkeypatch.setattr(parts, "road_choices", lambda base, *, parts: asked.append(parts) or [])
    monkeypatch.setattr(parts, "links", lambda rig: [SimpleNamespace(label="hoist", kind="come-along")])
    monkeypatch.setattr(parts, "described", lambda rig: [])
    monkeypatch.setattr(parts, "_weaker_hoists", lambda base: [])
    monkeypatch.setattr(parts, "_snub_line", lambda base, over: [])
    rows = [SimpleNamespace(part=part, snag=False) for part in ("pin", "snub line", "lug")]
    stops = [SimpleNamespace(code="pull_only_holds", about=about) for about in ("hoist", "nothing in this line")]
    judged = SimpleNamespace(rows=rows, use=np.array([[1.2, 1.1, 0.4]]), stops=stops, state_of=lambda *at: "packed")
    case = SimpleNamespace(haul=SimpleNamespace(tie_down=()))
    assert parts.part_steps(SimpleNamespace(judged=judged, rig=SimpleNamespace(case=case))) == []
    assert asked == [({"pin", "snub line", "hoist"}, False), {"pin", "hoist"}]


def test_one_strap_more_is_offered_under_its_name(monkeypatch):
    straps = (SimpleNamespace(name="left ratchet strap", count=1), SimpleNamespace(name=None, count=2))
    rig = SimpleNamespace(case=SimpleNamespace(haul=SimpleNamespace(tie_down=straps)))
    monkeypatch.setattr(parts, "strap_name", lambda rig, index: f"strap {index}")
    one, two = parts._for_the_road(SimpleNamespace(rig=rig), over={"strap 1", "pin"})
    assert (one.words, one.changes) == ("left ratchet strap: 2 of them side by side", {"haul.tie_down.0.count": 2})
    assert (two.words, two.clears) == ("tie-down 2: 3 of them side by side", {"strap 1"})
    assert parts._for_the_road(SimpleNamespace(rig=rig), over={"pin"}) == []


def test_a_brace_is_offered_for_a_post_that_is_over(steps):
    knee = step("brace")
    assert steps(over=["perch post"], knee=knee) == steps(over=["perch post base weld"], knee=knee) == {"brace": knee}
    assert steps(over=["rail"], knee=knee) == steps(over=["perch post"], knee=None) == {}


@pytest.mark.parametrize(
    ("from_inches", "move"),
    [(120.0, 119.125), (120.5, None), (1.0, 0.125), (3.3, 3.375)],  # to the eighth, and ten feet at the most
)
def test_a_perch_is_moved_by_eighths_and_no_further_than_ten_feet(monkeypatch, from_inches, move):
    """It works from so far on; below an inch more than that it was never tried by the inch."""
    limit = from_inches if move is None or from_inches == 3.3 else from_inches - 1.0 + 0.125

    def works(study, *, key, moves, snub, rated):
        return np.abs(moves) >= limit

    monkeypatch.setattr(perch, "workable", works)
    found = perch._nearest(None, key="perch.height", snub=False, rated=True)
    assert (None if found is None else abs(found)) == move


def test_a_move_is_clear_where_neither_the_box_nor_a_line_strikes(monkeypatch):
    """Of three moves the box strikes with the first and a line with the second, somewhere on the way."""
    way = np.zeros((3, 4))
    struck, cut = (np.zeros((3, 4), dtype=bool) for _ in range(2))
    struck[0, 2] = cut[1, 3] = True
    monkeypatch.setattr(perch, "varied", lambda rig, values: rig)
    monkeypatch.setattr(perch, "layout", lambda rig: None)
    monkeypatch.setattr(perch, "pose", lambda points, *, fold: SimpleNamespace(arm=way))
    monkeypatch.setattr(perch, "fouls", lambda rig, *, layout, at: [("post", struck)])
    monkeypatch.setattr(perch, "line_cuts", lambda rig, *, layout, at: [("rim", cut)])
    study = SimpleNamespace(
        assessment=SimpleNamespace(solution=SimpleNamespace(rig=None)), sweep=SimpleNamespace(fold=way[0])
    )
    assert perch._clear(study, key="perch.height", values=np.arange(3.0)).tolist() == [False, False, True]


@pytest.mark.parametrize(
    ("moment", "one_line", "good"), [(36200.0, False, True), (36500.0, False, False), (36200.0, True, False)]
)
def test_the_weakest_link_holds_the_largest_pull_of_the_fold(moment, one_line, good):
    """Half of 36,200 lb in at 40 in, with a factor of 1.1: 498 lb, against 500 and against 200 at a quarter."""
    weak = [SimpleNamespace(working=np.array(500.0), share=1.0), SimpleNamespace(working=np.array(200.0), share=0.25)]
    rig = SimpleNamespace(value=lambda key: one_line, number=lambda key: np.asarray(1.1))
    study = SimpleNamespace(assessment=SimpleNamespace(solution=SimpleNamespace(rig=rig, links=weak)))
    moments, arms = np.array([moment, 0.5 * moment, moment]), np.array([40.0, 40.0, 1e-3])
    dead = np.array([False, False, True])  # no pull is told there
    assert bool(perch._within(study, moment=moments, arm=arms, dead=dead)) is good


def test_a_perch_beside_the_hinge_leaves_a_number(monkeypatch):
    """The arm is under a twentieth of the radius all the way round: 0.05 x 30 in of line over 1 in of perch."""
    monkeypatch.setattr(fold, "dead_angle", lambda layout: np.asarray(0.5))
    monkeypatch.setattr(fold, "pose", lambda layout, *, fold: SimpleNamespace(line_length=np.full(fold.shape, 30.0)))
    sweep = SimpleNamespace(
        fold=np.array([0.0, 0.2, 0.4]), tension=np.array([5.0, 9.0, 7.0]), refused=np.full(3, False)
    )
    layout = SimpleNamespace(perch_x=np.asarray(1.0), perch_z=np.asarray(0.0))
    starts = fold._peak_starts(layout, sweep=sweep, end=np.array([0.4]))
    assert starts.tolist() == [0.2, 0.0, 0.4]  # where it pulls most, and both ends


@pytest.mark.parametrize(
    ("hold", "dead", "good", "told"),
    [
        # the weight comes over the hinge at 1.2, on ground that leans by 0.1 at 1.1, and the line is dead at 2
        ([HELD, SLACK, SLACK, BEHIND], 2.0, [1, 1, 0, 1], (1.1, 2.0, 1.0)),
        ([HELD, SLACK, SLACK, BEHIND], 2.0, [1, 1, 1, 0], (1.1, 2.0, 1.1)),  # no further than where it falls
        ([HELD, SLACK, SLACK, SLACK], 9.0, [1, 1, 1, 1], (1.1, 3.0, 3.0)),  # dead past the end: slack to the end
        ([HELD, SLACK, SLACK, SLACK], 0.5, [1, 1, 1, 1], (1.1, 3.0, 3.0)),  # dead before it: never held behind
        ([HELD, HELD, HELD, HELD], 2.0, [1, 1, 0, 0], (3.0, 3.0, 1.0)),  # not slack anywhere
    ],
)
def test_where_a_fold_falls_and_how_far_it_gets(monkeypatch, hold, dead, good, told):
    monkeypatch.setattr(fold, "dead_angle", lambda layout: np.asarray(dead))
    monkeypatch.setattr(fold, "over_center_angle", lambda layout, *, center: np.asarray(1.2))
    monkeypatch.setattr(fold, "free_arc", lambda layout, *, center, lean: np.asarray(0.7))
    sweep = SimpleNamespace(fold=np.arange(4.0), hold=np.array(hold))
    found = fold._angles(None, center=None, sweep=sweep, good=np.array(good, dtype=bool), peak=np.asarray(0.0),
                         lean=np.asarray(0.1))  # fmt: skip
    assert (float(found.slack_from), float(found.slack_to), float(found.reached)) == pytest.approx(told)
    assert float(found.free_arc) == (0.7 if SLACK in hold else 0.0)
