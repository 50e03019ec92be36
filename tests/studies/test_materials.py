"""Pieces, welds and hardware to buy, worked by hand from the drawing of a shipped box and from a hinge of ears.

Steel is 490 lb/ft3, 490/1728 = 0.283565 lb/in3; a fillet's metal is 1.1 times its flat triangle, of 0.6 of the rod.
"""

from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest

from rigcheck.analysis.links.capacity import links
from rigcheck.case.models.case import Brace
from rigcheck.case.reading.read import read_case, read_case_text
from rigcheck.case.rig import Rig
from rigcheck.loads.take_off import Cut
from rigcheck.studies.hoist_window.study import HoistWindow
from rigcheck.studies.materials import study
from rigcheck.studies.materials.welds import weld_runs
from rigcheck.studies.vary.case import with_values
from tests.parts.test_ears import EARS

TOLLGATE = Rig(read_case(Path(__file__).parents[2] / "cases" / "tollgate-riffle.toml"))
POUND = 490.0 / 1728.0  # of a cubic inch


def attached(rig):
    found = list(study._attached(rig))
    return {one.name: one for one in found if not isinstance(one, str)}, [one for one in found if isinstance(one, str)]


@pytest.mark.parametrize(
    ("name", "stock", "count", "length", "across", "pounds"),
    [
        # five barrels of 1 3/4 in and four gaps of 1/16 in: 9 in of 1 in round, 0.7854 in2, two of them
        ("hinge pins", "1 in round", 2, 9.0, None, 2 * 0.785398 * 9.0 * POUND),
        # bore 1 in, wall 1/4 in: 1 1/2 in outside, pi/4 (1.5^2 - 1^2) = 0.98175 in2; two of five on the box
        ("hinge barrels, box", "1 1/2 in bored", 4, 1.75, None, 4 * 0.981748 * 1.75 * POUND),
        ("hinge barrels, plant", "1 1/2 in bored", 6, 1.75, None, 6 * 0.981748 * 1.75 * POUND),
        # hole 1 1/4 in off the tube and as much steel beyond it, on a foot of 4 in
        ("hanger lugs", "1/2 in plate", 2, 4.0, 2.5, 2 * 0.5 * 4.0 * 2.5 * POUND),
        ("perch lugs", "1/2 in plate", 2, 4.0, 2.5, 2 * 0.5 * 4.0 * 2.5 * POUND),
        # no stand-off is said: as far off as the edge, 1 in, on its width of 2 1/2 in
        ("eyelets, tie-down 1", "3/8 in plate", 1, 2.5, 2.0, 0.375 * 2.5 * 2.0 * POUND),
        ("eyelets, tie-down 2", "3/8 in plate", 1, 2.5, 2.0, 0.375 * 2.5 * 2.0 * POUND),
        # HSS4x4x5/16 is 14.83 lb/ft in the manual
        ("perch posts", "HSS4x4x5/16", 2, 14.0, None, 2 * 14.83 * 14.0 / 12.0),
    ],
)
def test_pieces_of_a_box_by_hand(name, stock, count, length, across, pounds):
    one = attached(TOLLGATE)[0][name]
    assert (one.stock, one.count) == (stock, count)
    assert (one.length, one.across) == (pytest.approx(length), across)
    assert one.weight == pytest.approx(pounds, rel=1e-5)


def test_the_pin_of_ears_goes_through_ears_and_gaps():
    """Ears of 5/8 in on the box and two of 3/8 in on the plant, a gap at both faces: 0.625 + 0.75 + 0.125 = 1.5 in."""
    rig = Rig(read_case_text(EARS))
    pieces, missing = attached(rig)
    assert pieces["hinge pins"].length == pytest.approx(1.5)
    assert pieces["hinge pins"].weight == pytest.approx(2 * 0.785398 * 1.5 * POUND, rel=1e-5)
    assert (pieces["hinge ears, box"].count, pieces["hinge ears, plant"].count) == (2, 4)
    # edge 1 3/4 in and stand-off 2 in by the foot of 5 in
    assert (pieces["hinge ears, plant"].length, pieces["hinge ears, plant"].across) == (5.0, 3.75)
    assert not [name for name in missing if "hinge" in name]
    bare = Rig(with_values(rig.case, {"hinge.plant_ear": None}))
    pieces, missing = attached(bare)  # without the ears of the plant nobody knows how long the pin is
    assert "hinge pins" not in pieces and {"hinge pins", "hinge ears, plant"} <= set(missing)


def test_runs_of_weld_by_hand():
    """158 in of rail in 2 in stitches 3 1/2 in apart: 156/3.5 = 44.6, so 45 on each rail.

    A lug through its tube has four runs, another two. A tube of 4 in by 4 in has 16 in all round.
    """
    runs, missing = weld_runs(TOLLGATE)
    assert {(one.key, one.name.partition(",")[0]): (one.leg, one.count, one.run) for one in runs} == {
        ("rail.wall_seam.leg", "stiffener to side wall"): (0.125, 90, 2.0),
        ("rail.floor_seam.leg", "side wall to floor"): (0.125, 2, 158.0),
        # 158/8.75 = 18.06: 18 and the one at the head; two ends each, two runs an end
        ("cross_member.weld", "ends of the cross-members"): (0.1875, 76, 6.0),
        ("cross_member.weld", "ends of the end tubes"): (0.1875, 8, 6.0),
        ("hinge.weld", "hinge barrels"): (0.25, 10, 3.5),
        ("hanger.lug.weld", "hanger lugs"): (0.25, 8, 4.0),
        ("perch.lug.weld", "perch lugs"): (0.25, 4, 4.0),
        ("haul.tie_down.0.eyelet.weld", "eyelet of tie-down 1"): (0.1875, 2, 2.5),
        ("haul.tie_down.1.eyelet.weld", "eyelet of tie-down 2"): (0.1875, 2, 2.5),
        ("perch.post.weld", "perch post bases"): (0.375, 2, 16.0),
    }
    for one in runs:
        assert one.deposit == pytest.approx(1.1 * 0.5 * one.leg**2 * one.count * one.run * POUND)
        assert one.electrode == pytest.approx(one.deposit / 0.6)
    assert len(missing) == 2 and missing[0] == "welds of the post caps" and "fittings" in missing[1]
    angle = Rig(with_values(TOLLGATE.case, {"perch.post.shape": "L3x3x1/4", "rail.wall_seam.made": None}))
    assert {"base welds of the perch posts", "weld of stiffener to side wall"} <= set(weld_runs(angle)[1])


@pytest.mark.parametrize(
    ("changes", "key", "run"),
    [
        ({"rail.wall_seam.sides": 2}, "rail.wall_seam.leg", (0.125, 180, 2.0)),
        ({"rail.floor_seam.sides": 2}, "rail.floor_seam.leg", (0.125, 4, 158.0)),
        # 86 in of stitches 3 1/2 in apart leave room for just 24 spaces of 3 1/2 in
        ({"box.length": 86.0}, "rail.wall_seam.leg", (0.125, 50, 2.0)),
        ({"box.length": 86.0, "rail.wall_seam.pitch": None}, "rail.wall_seam.leg", None),
        # a barrel of 1 3/4 in has 3 1/2 in of weld along both its sides and no more
        ({"hinge.weld_length": 4.0}, "hinge.weld", (0.25, 10, 3.5)),
        ({"perch.post.shape": "Pipe3STD"}, "perch.post.weld", (0.375, 2, np.pi * 3.5)),
        ({"rail.at": "under"}, "cross_member.weld", (0.1875, 38, 8.0)),  # against it all round, 2 in by 2 in
        ({"hanger.lug.weld": None}, "hanger.lug.weld", None),
    ],
)
def test_a_run_of_weld_follows_its_keys(changes, key, run):
    runs, _ = weld_runs(Rig(with_values(TOLLGATE.case, changes)))
    one = next((one for one in runs if one.key == key), None)
    assert (run is None) == (one is None)
    if one is not None:
        assert (one.leg, one.count, one.run) == pytest.approx(run)


def test_ears_are_welded_on_both_faces():
    """One on each side of the box in 5/16 in by 3 in, two on each side of the plant in 1/4 in by 5 in."""
    runs = {one.key: (one.leg, one.count, one.run) for one in weld_runs(Rig(read_case_text(EARS)))[0]}
    assert runs["hinge.ear.weld"] == (0.3125, 4, 3.0) and runs["hinge.plant_ear.weld"] == (0.25, 8, 5.0)
    bare = Rig(with_values(Rig(read_case_text(EARS)).case, {"hinge.ear.weld": None}))
    assert "welds of the hinge ears, box" in weld_runs(bare)[1]


def test_a_post_past_its_lug_and_its_brace_by_hand():
    """A foot 12 in aside and 30 in under the lug, the top 5 in under it: 12, 25 and 27.73 in, at 4.32 lb/ft."""
    brace = Brace(foot_downstream=-12.0, foot_below=30.0, top_below=5.0, shape="HSS2x2x3/16")
    rig = Rig(with_values(TOLLGATE.case, {"perch.post.past_lug": 2.0, "perch.post.brace": brace}))
    pieces, missing = attached(rig)
    assert pieces["perch posts"].length == pytest.approx(16.0)
    assert pieces["knee braces"].length == pytest.approx(27.7308, rel=1e-5)
    assert pieces["knee braces"].weight == pytest.approx(2 * 27.7308 * 4.32 / 12.0, rel=1e-3)
    assert missing == ["caps of the perch posts: thickness"]
    assert "welds of the knee braces" in weld_runs(rig)[1]


def test_hardware_to_buy_is_what_the_case_has(monkeypatch):
    """The two straps and three links of each line, with their marks; a window is that of the hoist and of no backup."""
    backup = {"line.backup": TOLLGATE.value("line.link")[:2]}
    rig = Rig(with_values(TOLLGATE.case, backup))
    window = HoistWindow(part="", index=1, marked=3000.0, needs=900.0, least=1000.0, most=3500.0, limit=())
    monkeypatch.setattr(study, "hoist_windows", lambda found: [window])
    solution = SimpleNamespace(rig=rig, links=links(rig), backup=links(rig, table="line.backup"))
    bought = list(study._hardware(SimpleNamespace(solution=solution, worst=[])))
    assert [(one.key, one.count, one.wll, one.mbf) for one in bought] == [
        ("line.link.0", 2, None, None), ("line.link.1", 2, 3000.0, 12000.0), ("line.link.2", 2, None, None),
        ("line.backup.0", 2, None, None), ("line.backup.1", 2, 3000.0, 12000.0),
        ("haul.tie_down.0", 1, 1600.0, 4800.0), ("haul.tie_down.1", 1, 1600.0, 4800.0),
    ]  # fmt: skip
    assert [one.size for one in bought[:3]] == [0.5, None, 0.5]
    assert [one.key for one in bought if one.least is not None] == ["line.link.1"]


def test_a_part_to_buy_is_told_where_it_is_used_most():
    def checked(use, ultimate, unit="force"):
        check = SimpleNamespace(key="haul.tie_down.0", unit=unit, ultimate=ultimate)
        return SimpleNamespace(check=check, utilization=np.array(use), demand=np.array(use * 10.0), capacity=10.0)

    other = SimpleNamespace(check=SimpleNamespace(key="haul.tie_down.1"), utilization=np.array(0.9))
    worst = [checked(0.3, False), checked(0.5, True), other]
    found = SimpleNamespace(solution=SimpleNamespace(rig=TOLLGATE), worst=worst)
    one = study._bought(found, key="haul.tie_down.0", name="strap", count=1)
    assert (one.utilization, one.demand, one.allowable, one.ultimate) == (0.5, 5.0, 10.0, True)
    found.worst = [checked(-1.0, False), other]  # asked in no row, and of another part
    one = study._bought(found, key="haul.tie_down.0", name="strap", count=1)
    assert (one.utilization, one.demand) == (None, None)


@pytest.mark.parametrize(
    ("cut", "stock", "sheet", "across"),
    [
        # 10 gauge is 0.1345 in; half an inch is no gauge
        ({"key": "box.sheet", "sheet": np.array(0.1345), "across": np.array(22.0)}, "10 ga sheet", 0.1345, 22.0),
        ({"key": "box.sheet", "sheet": np.array(0.5), "across": np.array(22.0)}, "1/2 in plate", 0.5, 22.0),
        ({"key": "cross_member.shape", "stock": "HSS2x2x3/16"}, "HSS2x2x3/16", None, None),
    ],
)
def test_what_a_piece_is_cut_from(cut, stock, sheet, across):
    told = Cut(name="piece", count=np.array(3), length=np.array(30.0), steel="A36", **cut)
    one = study._cut(SimpleNamespace(weight=np.array(12.0)), told)
    assert (one.stock, one.sheet, one.across) == (stock, sheet, across)
    assert (one.count, one.length, one.weight, one.steel) == (3, 30.0, 12.0, "A36")


def test_what_is_described_is_a_piece_and_what_is_not_is_missing():
    pin, lug = object(), object()
    assert study._split(iter([pin, "posts", lug, "end tubes"])) == ([pin, lug], ["posts", "end tubes"])


def test_the_list_has_the_pieces_of_the_box_and_those_welded_to_it(monkeypatch):
    """Of two lines of the take-off one is cut from something; hardware is left out here."""
    sheet = Cut(name="floor", key="box.sheet", sheet=np.array(0.1345), count=1, length=np.array(158.0), steel="A36")
    every = [SimpleNamespace(name="floor", weight=90.0, cut=sheet, source=""),
             SimpleNamespace(name="mats", weight=60.0, cut=None, source="case")]  # fmt: skip
    monkeypatch.setattr(study, "estimate", lambda rig: every)
    monkeypatch.setattr(study, "take_off", lambda rig: every)
    monkeypatch.setattr(study, "_hardware", lambda found: iter(()))
    told = study.materials(SimpleNamespace(solution=SimpleNamespace(rig=TOLLGATE)))
    assert [one.name for one in told.pieces][:2] == ["floor", "hinge pins"] and len(told.pieces) == 9
    assert [(one.name, one.weight, one.source) for one in told.carried] == [("mats", 60.0, "case")]
    assert told.empty == 150.0 and "caps of the perch posts: thickness" in told.missing and len(told.welds) == 10
    heavier = [SimpleNamespace(name="box", weight=170.0, cut=None, source="measured")]
    monkeypatch.setattr(study, "take_off", lambda rig: heavier)  # a scale found 20 lb more
    assert study.materials(SimpleNamespace(solution=SimpleNamespace(rig=TOLLGATE))).carried[-1].weight == 20.0
