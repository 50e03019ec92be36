"""A small change of the starter for each finding of a check that raises it, and the table of findings in the docs.

    python -m tests.support.finding_cases

writes anew which findings stop a rig and what raises them; when they fire is written by hand.
"""

import re
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np

from rigcheck.assessment.assess import assess
from rigcheck.case import check_case, read_case
from rigcheck.case.rig import Rig
from tests.support.extreme_rigs import Data, starter_data

ROOT = Path(__file__).parents[2]
TABLE = ROOT / "docs" / "method.md"
CODE = re.compile(r"[a-z]+(?:_[a-z]+)*")
CASES = sorted((ROOT / "cases").glob("*.toml"))

GONE = object()
Changes = dict[str, Any]

PULL_ONLY: Changes = {"line.link.2.rated_to_suspend": False}
BACKUP = [{"kind": "rated part", "wll": "4000 lb"}]
NO_STRAPS: Changes = {"haul.tie_down": GONE}
STRAP = {"wll": "1000 lb", "mbf": "3000 lb", "from": ["0 in", "13 in", "0 in"], "to": ["0 in", "40 in", "0 in"]}

FEET = [{"downstream": x, "across": y, "height": "-46 in"} for x in ("-9 in", "-104 in") for y in ("29 in", "-29 in")]
PLANT: Changes = {"plant.weight": "2900 lb", "plant.cg_downstream": "-52 in", "plant.cg_height": "-3 in",
                  "plant.foot": FEET}  # fmt: skip
WHEELS = {"axle": "-56 in", "tongue": "-180 in", "track": "62 in"}

DRAINED = {"kind": "plate", "at": "20 in", "height": "1 in", "wall": "1/8 in", "drained_to": "0 in"}
WELDED = {"made": "welded", "leg": "3/16 in"}

EAR = {"plate": "5/8 in", "hole": "1 9/16 in", "edge": "2 in", "width": "4 in", "stand_off": "2 in", "weld": "5/16 in",
       "weld_length": "3 in", "steel": "A36"}  # fmt: skip
WIDE = {**EAR, "hole": "1 5/8 in"}
LUG = {**EAR, "plate": "2 in", "edge": "2 1/2 in", "width": "7 in", "stand_off": "2 1/2 in", "weld": "1/2 in",
       "weld_length": "7 in"}  # fmt: skip
PIVOT: Changes = {
    "hinge": {"kind": "center pivot", "height": "-1 1/2 in", "spacing": "7 in", "pin": "1 1/2 in", "ear": EAR,
              "plant_ear": LUG, "above_ground": "46 in"},
}  # fmt: skip

RAISED_BY: dict[str, Changes] = {
    "barrel_on_bare_sheet": {"end_tube.head": False, "cross_member": GONE},
    "bend_off_table": {"line.link.1.bend_diameter": "3/8 in"},
    "box_fouls_post": {"perch.downstream": "30 in", "perch.spacing": "24 in"},
    "box_rolls": {"rail.roll_reported": "0.01 deg"},
    "box_rolls_over": {"rail.roll_reported": "0.01 deg", "rail.roll_limit": "0.01 deg"},
    "clips_reversed": {"line.link.1.termination": "clips reversed"},
    "clips_uncounted": {"line.link.1.clips": GONE},
    "dead_point": {"perch.height": "0.8 in"},
    "floor_strip_wide": {"rail.effective_floor_width": "12 in"},
    "design_factor_low": {"line.link.2.mbf": "3000 lb"},
    "eyebolt_pulled_aside": {
        "line.link": [{"kind": "eyebolt", "size": "3/4 in", "shoulder": False, "side_angle": "45 deg"},
                      {"kind": "rated part", "wll": "4000 lb"}]},
    "eyelet_on_bare_sheet": {"haul.tie_down.0.eyelet_on": "side wall"},
    "face_outside_clause": {"perch.post.shape": "tube 4x4x.083"},
    "fold_falls_outward": {"perch.downstream": "20 in", "perch.height": "36 in"},
    "fold_slack_inward": {"fold.to": "110 deg"},
    "gentler_than_usual": {"factors.hung": 1.1},
    "unlikely_value": {"water.flow": "2 gpm"},
    "give_unknown": {"line.link.2.stiffness": GONE},
    "hanger_off_cross_member": {"cross_member.spacing": "56 in"},
    "hanger_on_bare_sheet": {"rail.stiffener": GONE},
    "hinge_uplift": {},
    "hoists_are_not_tiedowns": {},
    "joint_at_hanger": {"stretch": [{"length": "78 in"}, {"length": "34 in", "joint": WELDED}]},
    "backup_drop": {**PULL_ONLY, "line.backup": BACKUP, "line.backup_slack": "1 in"},
    "line_does_not_reach": {"line.link.2.lift": "60 in"},
    "line_cuts_cross_member": {"hanger.height": "-6 in", "hanger.spacing": "20 in", "perch.spacing": "20 in",
                               "cross_member.spacing": "2 in"},
    "line_cuts_floor": {"hanger.height": "-2 in", "hanger.spacing": "20 in", "perch.spacing": "20 in"},
    "line_cuts_post": {"perch.downstream": "74 in", "perch.spacing": "29.5 in"},
    "line_cuts_side_wall": {"hanger.height": "1/2 in", "hanger.spacing": "24 in", "perch.spacing": "50 in"},
    "line_flat": {"perch.height": "15 in"},
    "line_length_unknown": {"line.link.1.length": GONE},
    "line_slack": {"hinge.above_ground": GONE, "perch.height": "-40 in"},
    "line_too_short": {"line.link.2.headroom": "120 in"},
    "lug_on_bare_sheet": {"rail.at": "bottom"},
    "lug_outside_clause": {"basis": "frame", "hanger.lug.pin": "3/8 in"},
    "mark_over_size": {"line.link.0.wll": "9000 lb"},
    "measured": {"measured.empty_weight": "380 lb"},
    "no_roll_arm": {"box.pitch": "0 deg", "hanger.height": "10 in", "hanger.spacing": "30 in", "perch.height": "40 in",
                    "perch.spacing": "120 in"},
    "no_tie_downs": NO_STRAPS,
    "one_line_slack": {"person.weight": "1000 lb"},
    "parked_falls_inward": {**NO_STRAPS, "fold.to": "95 deg", "haul.stop.0.direction": "upstream"},
    "parked_falls_outward": {**NO_STRAPS, "perch.downstream": "20 in", "perch.height": "36 in"},
    "parked_needs_tie_downs": {"fold.to": "120 deg"},
    "perch_below_hanger": {"hinge.above_ground": GONE, "perch.height": "-40 in"},
    "person_on_hung_box": {},
    "pivot_keep_even": PIVOT,
    "pivot_leans": PIVOT,
    "pivot_line_broken": PIVOT,
    "pivot_rolls": {**PIVOT, "person.weight": "1000 lb"},
    "pivot_single": PIVOT,
    "pivot_swings": {**PIVOT, "hinge.ear": WIDE, "hinge.plant_ear": {**LUG, "hole": "1 3/4 in"}},
    "pivot_swings_some": {**PIVOT, "hinge.plant_ear": {**LUG, "hole": "1 5/8 in"}},
    "plant_tips": {**PLANT, "plant.weight": "1100 lb"},
    "pin_does_not_fit": {"hanger.lug.pin": GONE, "hanger.lug.hole": "1/2 in"},
    "post_slender": {"perch.post.shape": "tube 1x1x.083", "perch.post.free_length": "90 in"},
    "prop_not_counted": {"tail_leg.at": "100 in"},
    "pull_only_holds": PULL_ONLY,
    "rehook_needed": {"line.link.2.lift": "5 in"},
    "road_unrestrained": {"haul.tie_down": [STRAP], "haul.stop": GONE},
    "shackle_too_narrow": {"hanger.lug.plate": "1 in"},
    "slack_and_snap": {},
    "snag_tips_plant": PLANT,
    "splay_rolls_box": {"hanger.height": "40 in", "perch.spacing": "200 in"},
    "stitch_gap_wide": {"rail.wall_seam.pitch": "14 1/8 in"},
    "stitch_short": {"rail.wall_seam.length": "1 in"},
    "tacked": {"weld.made": "tacked", "weld.tack": "3/4 in", "weld.tack_leg": "1/8 in", "weld.tack_spacing": "12 in"},
    "tie_down_weakest_part": {},
    "tipping_not_assessed": {},
    "tongue_heavy": {**PLANT, "plant.cg_downstream": "-84 in", "plant.wheels": WHEELS},
    "tongue_lifts": {**PLANT, "plant.wheels": WHEELS},
    "tongue_light": {**PLANT, "plant.cg_downstream": "-64 in", "plant.wheels": WHEELS},
    "too_few_clips": {"line.link.1.clips": 1},
    "trap_drained": {"trap": [DRAINED]},
    "lift_unknown": {"line.link.2.lift": GONE},
    "water_over_sides": {"water.flow": "9000 gpm"},
    "water_ponds": {"box.pitch": "0 deg", "hanger.at": "110 in", "rail.stiffener": GONE},
    "wind_slack": {},
    "weld_longer_than_ear": {"hinge.plant_barrel_length": "1 1/2 in"},
    "weld_too_small": {"hanger.lug.weld": "1/16 in"},
}  # fmt: skip


def changed(changes: Changes) -> Data:
    """The starter with some keys put, put in anew, or left out.

    Args:
        changes: Key path, repeated tables counted from 0, to a value as in a file or `GONE`.
    """
    data = starter_data()
    for path, value in changes.items():
        *way, last = path.split(".")
        here: Any = data
        for step in way:
            here = here[int(step)] if step.isdigit() else here.setdefault(step, {})
        if value is GONE:
            del here[last]
        else:
            here[last] = value
    return data


@cache
def raised_by_cases() -> dict[str, set[str]]:
    """Codes that the shipped cases raise."""
    return {path.stem: {flag.code for flag in assess(Rig(read_case(path))).flags} for path in CASES}


@cache
def raised(code: str) -> dict[str, bool]:
    """Codes that the change for a code raises, and whether they stop; those of the unchanged case for no code."""
    found = assess(Rig(check_case(changed(RAISED_BY.get(code, {}))))).flags
    return {flag.code: flag.stops for flag in found if np.any(flag.where)}


def stops(code: str) -> str:
    """Whether a finding stops a rig, as the table says it."""
    if code == "fold_slack_inward":
        return "unless snubbed"
    found = {raised(other)[code] for other in RAISED_BY if code in raised(other)}
    assert len(found) == 1, code
    return "yes" if found.pop() else "no"


def raised_where(code: str) -> str:
    """The shipped cases that raise a code, or else the change of the starter that does, as the table says it."""
    shipped = [stem for stem, codes in raised_by_cases().items() if code in codes]
    if len(shipped) == len(CASES):
        return "every shipped case"
    return ", ".join(f"`{stem}`" for stem in shipped) or change_in_words(code)


def change_in_words(code: str) -> str:
    """The change of the starter that raises a code."""

    def value(given: object) -> str:
        if given is GONE:
            return "left out"
        return (
            "other" if isinstance(given, list | dict) else str(given).lower() if isinstance(given, bool) else str(given)
        )

    told = ", ".join(f"`{numbered(key)}` {value(given)}" for key, given in RAISED_BY[code].items())
    return f"starter with {told}" if told else "starter"


def numbered(key: str) -> str:
    """A key path with repeated tables counted from 1, as people write it."""
    return re.sub(r"\.(\d+)", lambda found: f"[{int(found[1]) + 1}]", key)


def _section() -> tuple[str, str, str]:
    """The page before the rows of the findings, the rows, and what comes after them."""
    text = TABLE.read_text(encoding="utf-8")
    start = text.index("\n| `", text.index("\n# Findings\n")) + 1
    end = re.compile(r"^(?!\| `)", re.M).search(text, start)
    assert end is not None
    return text[:start], text[start : end.start()], text[end.start() :]


def rows() -> dict[str, list[str]]:
    """Code to the other cells of its row: stops, fires when, raised by."""
    lines = _section()[1].splitlines()
    cells = [line.strip("| ").split(" | ") for line in lines]
    found = {row[0].strip("`"): row[1:] for row in cells}
    assert len(found) == len(lines)
    return found


def main() -> None:
    before, _, after = _section()
    told = rows()
    made = [f"| `{code}` | {stops(code)} | {told[code][1]} | {raised_where(code)} |\n" for code in sorted(told)]
    TABLE.write_text(before + "".join(made) + after, encoding="utf-8")


if __name__ == "__main__":
    main()
