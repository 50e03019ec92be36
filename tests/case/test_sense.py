"""Numbers that cannot both be true are refused, and those at the edge of what is built are read.

The distances are our own, common practice, no source; they are written out here as in the sentence of each rule.
"""

import tomllib
from pathlib import Path
from typing import Any

import pytest

from rigcheck.case import CaseError, check_case
from tests.support.refused import Data, put

CASE = Path(__file__).parents[2] / "cases" / "larkspur-bar.toml"  # 106 in long, 28 in wide, sides 7 in
# 1 5/8 in/ft: the sine of its angle is 1.625 / sqrt(12^2 + 1.625^2), the cosine 12 over it; the floor is 1 1/2 in
# above the pin axis.
BELOW = 106.0 * 0.1341919 - 1.5 * 0.9909554
LUMP = {"name": "lump", "weight": "20 lb", "at": "20 in"}
STRAP = {"wll": "3300 lb", "from": ["90 in", "12 in", "7 in"], "to": ["-40 in", "13 in", "34 in"]}
STOP = {"at": ["92 in", "0 in", "7 in"], "direction": "up"}


def data() -> Data:
    return tomllib.loads(CASE.read_text(encoding="utf-8"))


def link(kind: str, **keys: Any) -> dict[str, Any]:
    return {"kind": kind, "length": "2 in", **keys}


EDGES: list[tuple[str, Any, Any, str]] = [
    # key, a value that is read, one that is refused, and where the problem stands
    ("rail.effective_floor_width", "14 in", "14.1 in", "rail.effective_floor_width"),  # half of 28 in
    ("rail.spacing", "40 in", "40.1 in", "rail.spacing"),  # 12 in over the width
    ("rail.spacing", "26 in", "25.9 in", "rail.spacing"),  # 2 in under it
    ("hinge.gap", "7/8 in", "0.9 in", "hinge.gap"),  # half of a barrel of 1 3/4 in
    ("hinge.spacing", "9 in", "8.9 in", "hinge.barrels"),  # 5 x 1 3/4 + 4 x 1/16 = 9 in
    ("hinge.above_ground", f"{BELOW + 0.01:.3f} in", f"{BELOW - 0.01:.3f} in", "hinge.above_ground"),
    ("hanger.height", "43 in", "43.1 in", "hanger.height"),  # 36 in over the sides
    ("hanger.height", "-24 in", "-24.1 in", "hanger.height"),
    ("hanger.at", "2.13 in", "2.11 in", "hanger.at"),  # a fiftieth of 106 in is 2.12 in
    ("fitting[1].across", "38 in", "38.1 in", "fitting[1].across"),  # 24 in past half of 28 in
    ("fitting[1].across", "-38 in", "-38.1 in", "fitting[1].across"),
    ("fitting[1].height", "43 in", "43.1 in", "fitting[1].height"),
    ("fitting[1].height", "-24 in", "-24.1 in", "fitting[1].height"),
    ("perch.post.free_length", "1 1/2 in", "1.4 in", "perch.post.free_length"),  # half of a lug 3 in wide
    ("haul.tie_down[3].from", ["142 in", "0 in", "0 in"], ["142.1 in", "0 in", "0 in"], "haul.tie_down[3].from"),
    ("haul.tie_down[3].from", ["-24 in", "38 in", "43 in"], ["-24.1 in", "0 in", "0 in"], "haul.tie_down[3].from"),
    ("haul.tie_down[3].from", ["9 in", "-38 in", "-24 in"], ["9 in", "-38.1 in", "0 in"], "haul.tie_down[3].from"),
    ("haul.stop[1].at", ["142 in", "38 in", "43 in"], ["20 in", "0 in", "43.1 in"], "haul.stop[1].at"),
    ("haul.stop[1].at", ["142 in", "38 in", "43 in"], ["20 in", "0 in", "-24.1 in"], "haul.stop[1].at"),
    ("haul.tie_down[3].to", ["226 in", "72 in", "168 in"], ["226.1 in", "0 in", "0 in"], "haul.tie_down[3].to"),
    ("haul.tie_down[3].to", ["-226 in", "-72 in", "-28 in"], ["0 in", "72.1 in", "0 in"], "haul.tie_down[3].to"),
    ("haul.tie_down[3].to", ["9 in", "0 in", "168 in"], ["9 in", "0 in", "168.1 in"], "haul.tie_down[3].to"),
    (
        "haul.tie_down[3].to",
        ["9 in", "0 in", "-28 in"],
        ["9 in", "0 in", "-28.1 in"],
        "haul.tie_down[3].to",
    ),
    ("line.link[1].wll", "33000 lb", "33001 lb", "line.link[1].wll"),  # 5 x 6,600 lb, alloy 1/2 in
    ("line.link[2].mbf", "26000 lb", "26001 lb", "line.link[2].mbf"),  # ten times 2600 lb
    ("haul.tie_down[1].mbf", "33000 lb", "33001 lb", "haul.tie_down[1].mbf"),  # ten times 3300 lb
    ("line.link[1].length", "1/4 in", "0.24 in", "line.link[1].length"),
    ("line.link[2].headroom", "3 in", "2.9 in", "line.link[2].headroom"),
    ("line.link[2].lift", "1 in", "0.9 in", "line.link[2].lift"),
    ("line.link[2].stiffness", "200 lb/in", "199 lb/in", "line.link[2].stiffness"),
    ("bed.density", "90 lb/ft3", "89 lb/ft3", "bed.density"),
    ("ice.density", "45 lb/ft3", "44 lb/ft3", "ice.density"),
    ("water.solids_density", "60 lb/ft3", "59 lb/ft3", "water.solids_density"),
    ("person.weight", "100 lb", "99 lb", "person.weight"),
    ("wind.parked", "30 mph", "29 mph", "wind.parked"),
    ("wind.road", "30 mph", "29 mph", "wind.road"),
]


@pytest.mark.parametrize(("key", "read", "refused", "where"), EDGES)
def test_the_edge_is_read_and_what_is_past_it_is_refused(key: str, read: Any, refused: Any, where: str) -> None:
    inside, outside = data(), data()
    put(inside, path=key, value=read)
    put(outside, path=key, value=refused)
    check_case(inside)
    with pytest.raises(CaseError) as caught:
        check_case(outside)
    assert [one.key for one in caught.value.problems] == [where]


@pytest.mark.parametrize(
    ("marked", "refused"),
    [
        (link("chain", size="3/8 in", grade="80", wll="44000 lb"), "44001 lb"),  # 5 x 8,800 lb, grade 100
        (link("eyebolt", size="1/2 in", wll="9200 lb"), "9201 lb"),  # 5 x 1,840 lb
        (link("turnbuckle", size="1/2 in", end="jaw", wll="11000 lb"), "11001 lb"),  # 5 x 2,200 lb
    ],
)
def test_a_mark_is_held_to_the_best_grade_made_in_that_size(marked: dict[str, Any], refused: str) -> None:
    inside, outside = data(), data()
    put(inside, path="line.link[1]", value=marked)
    put(outside, path="line.link[1]", value={**marked, "wll": refused})
    check_case(inside)
    with pytest.raises(CaseError, match="more than 5 times what"):
        check_case(outside)


@pytest.mark.parametrize("table", ["line.backup", "second_line.link"])
def test_marks_of_backup_and_second_line_are_looked_at_too(table: str) -> None:
    case = data()
    case["second_line"] = {"at": "99 in", "downstream": "-30 in", "perch_height": "70 in"}
    put(case, path=table, value=[link("eyebolt", size="1/2 in", wll="9201 lb", length="60 in")])
    with pytest.raises(CaseError) as caught:
        check_case(case)
    assert [one.key for one in caught.value.problems] == [f"{table}[1].wll"]


def test_a_tail_over_a_bank_may_hang_below_the_pin() -> None:
    put(case := data(), path="hinge.above_ground")
    check_case(case)
