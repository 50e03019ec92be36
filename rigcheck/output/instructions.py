"""What to do about each finding: one line of the first screen a code; what is wrong is said by the finding itself."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

TODO: Mapping[str, str] = MappingProxyType(
    {
        "backup_drop": "Snug the backup: no more than 1/4 in of slack in it.",
        "barrel_on_bare_sheet": "Put a tube or cross-member at the head; weld the hinge barrels to it.",
        "bend_off_table": "Take the rope over a thimble or pin at least as thick as the rope.",
        "box_fouls_post": "Move the perches: the folding box strikes a post, brace or lug.",
        "box_rolls": "Let neither line go by itself: on one line the box rolls.",
        "box_rolls_over": "Join the rails by closed tubes: on one line the box rolls over.",
        "clips_reversed": "Turn the rope clips: saddle on the live rope, U-bolt on the dead end.",
        "clips_uncounted": "Count the rope clips and state them.",
        "dead_point": "Move perch or hanger: through the hinge pin the line holds nothing.",
        "design_factor_low": "Replace the part whose breaking strength is low for its mark.",
        "eyebolt_pulled_aside": "Use a shouldered, seated eyebolt, or pull along the bolt.",
        "eyelet_on_bare_sheet": "Weld tie-down eyelets to a stiffener or tube, not to bare sheet.",
        "face_outside_clause": "Ask the engineer about the tube wall under a lug: outside AISC 360 K.",
        "fold_falls_outward": "Do not fold on these lines: the box falls outward. Move the perches.",
        "fold_slack_inward": "Snub the box past its balance point: the lines go slack there.",
        "floor_strip_wide": "Count less floor with the rail: at most box width / 8.",
        "gentler_than_usual": "Check a stated value that is gentler than usual: see --all.",
        "give_unknown": "State the stretch of every link; the tail goes down more than shown.",
        "hanger_off_cross_member": "Put a cross-member within 6 in of the hangers.",
        "hanger_on_bare_sheet": "Put a stiffener on the rail where the hanger pulls.",
        "hinge_uplift": "Retain the hinge pin: the hinge is lifted; no open hook, no loose pin.",
        "hoists_are_not_tiedowns": "Strap the box for the road: hoists and lines do not count there.",
        "lift_unknown": "State how far the hoist lifts, to count re-rigs of the fold.",
        "joint_at_hanger": "Move the joint of the stretches away from the hangers.",
        "line_cuts_cross_member": "Move hanger or perch: the line runs through a cross-member.",
        "line_cuts_floor": "Move hanger or perch: the line runs through the floor.",
        "line_cuts_post": "Move hanger or perch: the line runs down along its post.",
        "line_cuts_side_wall": "Move hanger or perch: the line runs through a side wall.",
        "line_does_not_reach": "Add a link or chain: let out all the way the line is too short.",
        "line_flat": "Raise the perch: the line is flatter than 20 degrees.",
        "line_length_unknown": "Measure every link pin to pin and state it.",
        "line_slack": "Change the layout: balance asks a line to take compression.",
        "line_too_short": "Shorten the links or raise the perch: they are longer than the line.",
        "lug_on_bare_sheet": "Weld the hanger lug to the stiffener, not to the side wall.",
        "lug_outside_clause": "Change the lug: its proportions are outside the clause.",
        "mark_over_size": "Check a mark that is far over what is made in that size.",
        "measured": "Compare the measured weight with the take-off: --all.",
        "no_roll_arm": "Spread the lines: they do not help a worn hinge against roll.",
        "no_tie_downs": "State the tie-downs: nothing holds the box on the road.",
        "one_line_slack": "Expect one line slack under a load far to one side.",
        "parked_falls_inward": "Add straps or a stop: parked in wind it falls in, past its hinge.",
        "parked_falls_outward": "Add straps: parked in wind the folded box falls outward.",
        "parked_needs_tie_downs": "Leave the tie-downs on when it is parked folded.",
        "perch_below_hanger": "Raise the perch: it is not above the hanger.",
        "person_on_hung_box": "Block the box before anybody is on it; no hoist holds people.",
        "pin_does_not_fit": "Drill the lug, or use a thinner pin: it does not go through.",
        "pivot_keep_even": "Keep both lines even: on its center pivot the box rolls with them.",
        "pivot_leans": "Strap or rest the box where its lines do not keep it from rolling.",
        "pivot_line_broken": "Put a backup beside each line: with one broken the box rolls over.",
        "pivot_rolls": "Spread or raise the lines: a load to one side rolls the box over.",
        "pivot_single": "Chain the head to the plant: one pivot bar carries it alone.",
        "pivot_swings": "Drill the pivot closer or make its lug longer: the box swings.",
        "pivot_swings_some": "Expect the tail to swing: the pivot bar has play in its holes.",
        "post_slender": "Use a stiffer post: it is slender beyond the usual limit.",
        "prop_not_counted": "Count on no tail leg or second line: no check does.",
        "pull_only_holds": "Replace the pull-only puller by a hoist that is marked for holding.",
        "rehook_needed": "Hold the box by a block or another line while the hoist is re-rigged.",
        "road_unrestrained": "Add a strap or a stop: on the road nothing holds the box from turning.",
        "shackle_too_narrow": "Use a wider shackle or a thinner lug: the plate does not go in.",
        "slack_and_snap": "Tie the box down onto its lines before towing: they go slack and snap.",
        "splay_rolls_box": "Splay the lines less: how they share cannot be told.",
        "stitch_gap_wide": "Close the gaps of the stitch welds.",
        "stitch_short": "Make the stitches 1 1/2 in or four legs long at least.",
        "tacked": "Hang it for trial only where nothing is over: empty, nobody on or under it.",
        "tie_down_weakest_part": "State the limit of a tie-down by its weakest part.",
        "plant_tips": "Widen the stance or take weight off: the plant tips under its box.",
        "snag_tips_plant": "Stop pulling when the box is caught: the hoist could tip the plant.",
        "tipping_not_assessed": "State the plant's weight and feet: tipping is not assessed.",
        "tongue_heavy": "Move weight back: the tongue is heavier than its limit.",
        "tongue_lifts": "Move weight forward: the tongue lifts off the hitch.",
        "tongue_light": "Move weight forward: the tongue is light for towing.",
        "too_few_clips": "Put on as many rope clips as the rope's size asks for.",
        "trap_drained": "Drain the traps before folding, towing, hauling: they count as drained.",
        "unlikely_value": "Measure again what hardly any rig has: see --all.",
        "water_over_sides": "Raise the sides or cut the flow: water runs over them.",
        "water_ponds": "Pitch the box more: water ponds where it sags.",
        "weld_longer_than_ear": "State the weld of a hinge ear no longer than the ear.",
        "weld_too_small": "Weld the lug or post base with the least leg for its plate.",
        "wind_slack": "Fold and strap the box before wind; snub it on the way up.",
    }
)  # fmt: skip
"""Code of a finding to what is done about it."""

IN_FULL = frozenset({"pivot_keep_even"})
"""Findings that the first screen tells with their numbers, beside the bed mark."""

STOPS: Mapping[str, str] = MappingProxyType(
    {
        "box_fouls_post": "the folding box strikes a post",
        "box_rolls_over": "the box rolls over on one line",
        "clips_reversed": "rope clips sit the wrong way round",
        "dead_point": "a line passes through the hinge pin (dead center)",
        "eyebolt_pulled_aside": "an eyebolt is pulled off its bolt",
        "floor_strip_wide": "more floor is counted with the rail than works",
        "fold_falls_outward": "the folding box falls outward",
        "fold_slack_inward": "past its balance point nothing holds the folding box",
        "line_cuts_cross_member": "a line runs through a cross-member",
        "line_cuts_floor": "a line runs through the floor",
        "line_cuts_post": "a line runs down along its post",
        "line_cuts_side_wall": "a line runs through a side wall",
        "line_does_not_reach": "the line does not reach",
        "line_slack": "balance asks a line to take compression",
        "line_too_short": "the links are longer than the line",
        "no_tie_downs": "no tie-down holds the box on the road",
        "parked_falls_inward": "parked in wind the box falls in, past its hinge",
        "parked_falls_outward": "parked in wind the box falls outward",
        "pin_does_not_fit": "a pin is thicker than its hole",
        "pivot_line_broken": "with one line broken the box rolls over on its center pivot",
        "pivot_rolls": "a load to one side rolls the box on its center pivot",
        "pivot_swings": "the box swings about on its center pivot",
        "plant_tips": "the plant tips under its box",
        "tongue_lifts": "the tongue lifts off the hitch",
        "pull_only_holds": "a pull-only come-along holds the box",
        "road_unrestrained": "nothing keeps the box from turning on the road",
        "shackle_too_narrow": "a lug is too thick for its shackle",
        "splay_rolls_box": "splayed lines roll the box",
        "too_few_clips": "a rope has too few clips",
    }
)
"""Code of a finding that stops a rig to what it says in a clause."""


def stop_words(code: str) -> str:
    """A finding that stops a rig, in a clause; what is no such code is left as it is."""
    return STOPS.get(code, code.replace("_", " "))
