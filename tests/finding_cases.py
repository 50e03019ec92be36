"""A small change of the starter for each finding of a check that raises it."""

from copy import deepcopy
from typing import Any

from tests.extreme_rigs import Data, starter_data

GONE = object()
Changes = dict[str, Any]

PULL_ONLY: Changes = {"line.link.2.suspends": False}
KEEPER = [{"kind": "rated part", "wll": "4000 lb"}]
FOLDABLE: Changes = {"line.link.1.length": "6 in", "line.link.2.travel": "110 in"}  # before any other change
NO_STRAPS: Changes = {"haul.tie_down": GONE}
STRAP = {"wll": "1000 lb", "mbf": "3000 lb", "from": ["0 in", "13 in", "0 in"], "to": ["0 in", "40 in", "0 in"]}

RAISED_BY: dict[str, Changes] = {
    "bend_off_table": {"line.link.1.bend_over": "3/8 in"},
    "box_fouls_post": {"perch.forward": "30 in", "perch.spacing": "24 in"},
    "clips_reversed": {"line.link.1.ends": "clips reversed"},
    "clips_uncounted": {"line.link.1.clips": GONE},
    "dead_point": {"perch.height": "0.8 in"},
    "floor_strip_wide": {"rail.floor_strip": "12 in"},
    "fold_falls_outward": {"perch.forward": "20 in", "perch.height": "36 in"},
    "fold_slack_inward": {"fold.to": "110 deg"},
    "give_unknown": {},
    "hanger_off_cross_member": {"cross_member.spacing": "56 in"},
    "hanger_on_bare_sheet": {"rail.stiffener": GONE},
    "hinge_uplift": {},
    "hoists_are_not_tiedowns": {},
    "keeper_drop": {**PULL_ONLY, "line.keeper": KEEPER, "line.keeper_slack": "1 in"},
    "line_cuts_cross_member": {"hanger.height": "-6 in", "hanger.spacing": "20 in", "perch.spacing": "20 in",
                               "cross_member.spacing": "2 in"},
    "line_cuts_floor": {"hanger.height": "-2 in", "hanger.spacing": "20 in", "perch.spacing": "20 in"},
    "line_cuts_post": {"perch.forward": "74 in", "perch.spacing": "29.5 in"},
    "line_cuts_side_wall": {"hanger.height": "1/2 in", "hanger.spacing": "24 in", "perch.spacing": "50 in"},
    "line_flat": {"perch.height": "15 in"},
    "line_length_unknown": {"line.link.1.length": GONE},
    "line_slack": {"perch.height": "-40 in"},
    "line_too_short": {"line.link.2.closed_length": "120 in"},
    "lug_outside_clause": {"basis": "frame", "hanger.lug.pin": "3/8 in"},
    "measured": {"measured.dry_weight": "380 lb"},
    "no_roll_arm": {"box.pitch": "0 deg", "hanger.height": "10 in", "hanger.spacing": "30 in", "perch.height": "40 in",
                    "perch.spacing": "120 in"},
    "no_tie_downs": NO_STRAPS,
    "parked_falls_inward": {**NO_STRAPS, "fold.to": "95 deg", "haul.stop.0.direction": "rearward"},
    "parked_falls_outward": {**NO_STRAPS, "perch.forward": "20 in", "perch.height": "36 in"},
    "parked_needs_tie_downs": {"fold.to": "110 deg"},
    "perch_below_hanger": {"perch.height": "-40 in"},
    "person_on_hung_box": {},
    "pin_does_not_fit": {"hanger.lug.pin": GONE, "hanger.lug.hole": "1/2 in"},
    "post_slender": {"perch.post.shape": "tube 1x1x.083"},
    "pull_only_holds": PULL_ONLY,
    "rehook_needed": {"line.link.2.travel": "5 in"},
    "road_unrestrained": {"haul.tie_down": [STRAP], "haul.stop": GONE},
    "shackle_too_narrow": {"hanger.lug.plate": "1 in"},
    "splay_rolls_box": {"hanger.height": "40 in", "perch.spacing": "200 in"},
    "tie_down_weakest_part": {},
    "too_few_clips": {"line.link.1.clips": 1},
    "travel_unknown": {"line.link.2.travel": GONE},
    "water_over_sides": {"water.flow": "9000 gpm"},
    "water_ponds": {"box.pitch": "0 deg", "hanger.at": "110 in", "rail.stiffener": GONE},
    "weld_too_small": {"hanger.lug.weld": "1/16 in"},
}  # fmt: skip


def changed(changes: Changes) -> Data:
    """The starter, made to fold without a new hook, with some keys put, put in anew, or left out.

    Args:
        changes: Key path, repeated tables counted from 0, to a value as in a file or `GONE`.
    """
    data = deepcopy(starter_data())
    for path, value in (FOLDABLE | changes).items():
        *way, last = path.split(".")
        here: Any = data
        for step in way:
            here = here[int(step)] if step.isdigit() else here.setdefault(step, {})
        if value is GONE:
            del here[last]
        else:
            here[last] = value
    return data
