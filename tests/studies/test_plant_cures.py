"""What keeps a plant from tipping, on a body of four feet and two weights, with every moment worked by hand.

Feet stand 50 in ahead and behind and 40 in to either side. The plant of 1,000 lb is over their middle, the box of
603.8 lb somewhere beyond them; 1.5 is asked. Nothing leans.
"""

from types import SimpleNamespace

import numpy as np
import pytest

from rigcheck.parts.plant.checks import GROUP, Standing
from rigcheck.statics.tipping import edges
from rigcheck.studies.plant import cures, study
from rigcheck.studies.plant.cures import least_ballast, least_move
from rigcheck.studies.plant.record import Ballast, FootLoad, Move, PlantStudy, Tipping
from rigcheck.studies.remedies import plant as remedy

PLANT, BOX, ASKED = 1000.0, 603.8, 1.5
FEET = np.array([[50.0, 40.0, -30.0], [50.0, -40.0, -30.0], [-50.0, 40.0, -30.0], [-50.0, -40.0, -30.0]])


def numbers(**values):
    """A rig of some numbers."""
    told = {key.replace("__", "."): value for key, value in values.items()}
    return SimpleNamespace(number=lambda key: np.asarray(told[key]), value=lambda key: told.get(key))


def standing(x, y=0.0, *, feet=FEET):
    weights = np.array([[0.0, 0.0, -PLANT], [0.0] * 3, [0.0, 0.0, -BOX], [0.0] * 3, [0.0] * 3])[None]
    places = np.array([[0.0] * 3, [0.0] * 3, [x, y, 20.0], [0.0] * 3, [0.0] * 3])[None]
    moment = np.cross(places, weights)
    pulls = np.array([[[0.0, 0.0, -1.0], [0.0] * 3]])
    return Standing(rows=np.array([0]), feet=feet, base=edges(feet), force=weights, moment=moment, pulls=pulls)


def ballast(body, *, height=-5.0, needed=ASKED, even=True):
    rig = numbers(plant__cg_height=height, plant__weight=PLANT)
    return least_ballast(SimpleNamespace(rig=rig), body=body, needed=needed, even=even)


@pytest.mark.parametrize(("height", "level"), [(-5.0, 0.0), (12.0, 12.0)])
def test_ballast_stands_where_least_does(height, level):
    """The box is 70 in past the tail feet: 1.5 x 603.8 x 70 - 1000 x 50 = 13,399 lb in, 134 lb at 100 in from them."""
    found = ballast(standing(120.0), height=height)
    assert found.weight == pytest.approx(133.99) and found.feet == (2, 3)
    assert found.at == (-50.0, 0.0, level)


def test_ballast_off_the_middle_where_the_sides_are_not_alike():
    """The box is 65.31 in past the left feet: 1.5 x 603.8 x 65.31 - 1000 x 40 = 19,151 lb in over 80 in."""
    found = ballast(standing(0.0, 105.31), even=False)
    assert found.weight == pytest.approx(19151.27 / 80.0) and found.feet == (1, 3)  # midway between the right feet


def test_no_ballast_where_what_it_holds_one_way_it_turns_the_other():
    """Over both feet of one side only: nothing is gained about the edge that they stand on."""
    feet = np.array([[50.0, 40.0, -30.0], [50.0, -40.0, -30.0], [-50.0, 0.0, -30.0]])
    assert ballast(standing(120.0, feet=feet)).feet == (2,)
    assert ballast(standing(120.0), needed=1.5, even=True) is not None
    leaning = standing(120.0)
    leaning.force[:, 1] = [0.0, 0.0, 0.0]
    leaning.force[:, 1, 0], leaning.pulls[:, 1, 0] = (
        20.0 * PLANT,
        20.0,
    )  # on a slope so steep that every pound turns over more than it holds
    assert ballast(leaning) is None


@pytest.mark.parametrize(
    ("way", "place", "feet", "inches"),
    [
        # 1000 (50 + d) = 1.5 x 603.8 (70 - d) at d = 7.03 in, so 8 in
        ("downstream", (120.0, 0.0), (0, 1), 8.0),
        ("upstream", (-120.0, 0.0), (2, 3), 8.0),
        # 1000 (40 + d) = 1.5 x 603.8 (65.31 - d) at d = 10.05 in, so 11 in
        ("left", (0.0, 105.31), (0, 2), 11.0),
        ("right", (0.0, -105.31), (1, 3), 11.0),
    ],
)
def test_feet_go_outward_until_nothing_tips_that_way(way, place, feet, inches):
    found = least_move(standing(*place), way=way, others=[way], needed=ASKED, even=False)
    assert (found.way, found.feet, found.by) == (way, feet, inches)
    # alike on both sides, the feet of both go outward; ahead and behind it makes no difference
    found = least_move(standing(*place), way=way, others=[way], needed=ASKED, even=True)
    assert (found.feet, found.by) == ((0, 1, 2, 3) if way in ("left", "right") else feet, inches)


def test_other_ways_that_are_over_are_left_aside_and_no_new_one_may_come():
    """40 in to the left of its feet the box is over that way as well: 1.5 x 603.8 x 50 = 45,285 against 40,000."""
    body = standing(120.0, 90.0)
    assert least_move(body, way="downstream", others=["downstream", "left"], needed=ASKED, even=False).by == 8.0
    assert least_move(body, way="downstream", others=["downstream"], needed=ASKED, even=False).by is None


def test_feet_are_told_in_the_row_in_which_they_carry_most(monkeypatch):
    """Three feet, the nose one 100 in ahead: with 1,000 lb at 25 and at 50 in from the others it has 250 and 500 lb."""
    monkeypatch.setattr(study, "is_even", lambda solution: False)
    feet = np.array([[0.0, 40.0, -30.0], [0.0, -40.0, -30.0], [-100.0, 0.0, -30.0]])
    force = np.array([[[0.0, 0.0, -1000.0]], [[0.0, 0.0, -1000.0]]])
    moment = np.cross(np.array([[[-25.0, 0.0, 0.0]], [[-50.0, 0.0, 0.0]]]), force)
    body = Standing(rows=np.array([4, 7]), feet=feet, base=edges(feet), force=force, moment=moment,
                    pulls=np.zeros((2, 2, 3)))  # fmt: skip
    rig = numbers(plant__foot=[SimpleNamespace(name=name) for name in ("left", None, "nose")])
    told, stands = study._feet(SimpleNamespace(rows=list(range(9)), rig=rig), body=body)
    assert stands and [one.name for one in told] == ["left", "foot 2", "nose"]
    assert [(one.least, one.most, one.most_row) for one in told] == [
        (pytest.approx(250.0), pytest.approx(375.0), 4), (pytest.approx(250.0), pytest.approx(375.0), 4),
        (pytest.approx(250.0), pytest.approx(500.0), 7),
    ]  # fmt: skip


def a_study(**more):
    feet = tuple(FootLoad(name=name, at=(0.0, 0.0, 0.0), least=0.0, most=0.0, most_row=None) for name in "abcd")
    row = SimpleNamespace(state="packed")
    tipping = tuple(
        Tipping(way=way, words=words, ratio=1.2, level=None, row=row, level_row=row, by_state={})
        for way, words in (("downstream", "toward the tail"), ("left", "sideways"))
    )
    return PlantStudy(missing=(), needed=ASKED, tipping=tipping, feet=feet, folded=None, bare=None, **more)


RIG = numbers(
    plant__weight=PLANT, plant__cg_downstream=-51.0, plant__cg_across=0.0, plant__cg_height=-5.0, box__length=89.0,
    **{f"plant__foot__{i}__downstream": FEET[i, 0] for i in range(4)},
    **{f"plant__foot__{i}__across": FEET[i, 1] for i in range(4)},
)  # fmt: skip


def found(*uses):
    worst = [SimpleNamespace(check=SimpleNamespace(group=group), utilization=np.array(use)) for group, use in uses]
    return SimpleNamespace(solution=SimpleNamespace(rig=RIG), worst=worst)


def test_ballast_and_moves_as_changes_of_the_case(monkeypatch):
    """134 lb is told as 140: the center of gravity of 1,140 lb lies (1000 x 51 + 140 x 50)/1140 = 50.877 in back."""
    told = a_study(
        ballast=Ballast(weight=133.99, at=(-50.0, 0.0, 0.0), feet=(2, 3)),
        moves=(Move(way="downstream", feet=(0, 1), by=8.0), Move(way="left", feet=(0, 1, 2, 3), by=3.0),
               Move(way="right", feet=(1, 3), by=None)),
    )  # fmt: skip
    monkeypatch.setattr(remedy, "plant_study", lambda assessment: told)
    heavier, back, out = (ladder[0] for ladder in remedy.plant_ladders(found((GROUP, 1.2), ("line", 0.4))))
    assert heavier.changes == pytest.approx({
        "plant.weight": 1140.0, "plant.cg_downstream": -50.87719, "plant.cg_across": 0.0, "plant.cg_height": -4.385965,
    })  # fmt: skip
    assert heavier.words == "put 140 lb of ballast on the plant at work, midway between c and d"
    assert back.changes == {"plant.foot.0.downstream": 58.0, "plant.foot.1.downstream": 58.0}
    assert back.words == "set a and b 8 in farther out, against tipping toward the tail"
    assert out.changes == {f"plant.foot.{i}.across": way for i, way in enumerate((43.0, -43.0, 43.0, -43.0))}
    assert out.words == "set a and b and c and d 3 in farther out, against tipping sideways"
    # for ranking: a fifth of a hundredth for each hundredth of the plant's weight, half for each of the box's length
    assert [one.effort for one in (heavier, back, out)] == pytest.approx([2.8, 50.0 * 8.0 / 89.0, 50.0 * 3.0 / 89.0])


def test_feet_of_the_right_side_go_to_the_right():
    one = remedy._move(Move(way="right", feet=(1, 3), by=3.0), study=a_study_of("right"), found=found())
    assert one.changes == {"plant.foot.1.across": -43.0, "plant.foot.3.across": -43.0}


def a_study_of(way):
    told = a_study()
    row = told.tipping[0].row
    tipping = (Tipping(way=way, words=way, ratio=1.2, level=None, row=row, level_row=row, by_state={}),)
    return PlantStudy(missing=(), needed=ASKED, tipping=tipping, feet=told.feet, folded=None, bare=None)


def test_a_plant_that_does_not_tip_is_left_alone(monkeypatch):
    monkeypatch.setattr(remedy, "plant_study", lambda assessment: pytest.fail("nothing tips"))
    assert remedy.plant_ladders(found((GROUP, 0.99), ("line", 1.4))) == []


def test_a_place_that_would_tip_it_the_other_way_is_left_out(monkeypatch):
    """Asked for 1: 10 lb in are missing about one edge, 5 to spare about the other.

    A pound over the first foot gives 1 and takes 1 off the other: 10 are needed and 5 may be. Over the second it gives
    a half and takes nothing: 20.
    """
    gives = np.array([[1.0, 0.0], [0.5, 0.0], [0.1, 0.0]])[:, None, :]
    takes = np.array([[0.0, 1.0], [0.0, 0.0], [0.0, 0.0]])[:, None, :]
    unit = SimpleNamespace(stabilizing=gives, overturning=takes)
    now = SimpleNamespace(stabilizing=np.array([[20.0, 5.0]]), overturning=np.array([[30.0, 0.0]]))
    monkeypatch.setattr(cures, "moments", lambda *given, **more: unit)
    body = SimpleNamespace(feet=FEET[:2], force=np.zeros((1, 5, 3)), base=None, moments=lambda: now,
                           pulls=np.zeros((1, 2, 3)))  # fmt: skip
    found = ballast(body, needed=1.0, even=False)
    assert (found.weight, found.feet) == (pytest.approx(20.0), (1,))


@pytest.mark.parametrize(
    ("place", "inches"), [(347.28, 116.0), (1000.0, None)]
)  # at 115.05 in; at 425 in, past ten feet
def test_feet_go_no_further_than_ten_feet(place, inches):
    assert least_move(standing(place), way="downstream", others=["downstream"], needed=ASKED, even=False).by == inches


def test_feet_stand_in_pairs_and_one_in_the_middle_by_itself():
    assert study._twins(FEET) == [1, 0, 3, 2]
    assert study._twins(np.array([[0.0, 40.0, -30.0], [-100.0, 0.0, -30.0], [0.0, -40.0, -30.0]])) == [2, 1, 0]


@pytest.mark.parametrize("beside", [(-101.0, 40.0, -30.0), (-100.0, 40.4, -30.0), (-100.0, 40.0, -30.3)])
def test_feet_that_stand_close_to_others_have_their_own_twin(beside):
    """A hundredth farther out one way than the pair at (-100, 40, -30)."""
    pairs = np.array([(-100.0, 40.0, -30.0), beside])
    feet = np.concatenate([pairs, pairs * [1.0, -1.0, 1.0]])
    assert study._twins(feet) == [2, 3, 0, 1]
