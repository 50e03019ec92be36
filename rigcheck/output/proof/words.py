"""The proof load in words: the recipe step by step, what to look at, whom to ask, and what it comes to."""

from __future__ import annotations

from math import ceil

from rigcheck.output.rig_words import missing_words
from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import number, percent, state_word

WHOM_TO_ASK = (
    "A licensed engineer: reviews this load and the plant that carries it, before anything is put on.",
    "The authority that has the say where the plant works (construction, general industry or mine rules, federal, state"
    " or provincial): ask which rule applies and whether it wants this test, a witness or a record.",
    "29 CFR 1926.251(a)(4): custom lifting accessories are marked with their load and proof-tested to 125 % of it"
    " before use. Where that rule applies the agency holds that calculation does not replace the test (letter, 2003).",
    "The maker of hoist and rigging, where its instructions limit a test load.",
)
LOOK_AT = (
    "lugs: hole round, plate straight, weld toes free of cracks (dye after the test)",
    "hinge: barrels closed, pin straight and turning, no gap opened",
    "hoist: no creep under load (mark the chain or rope at the body), hooks not opened, latches shut",
    "rope and chain: clips not slipped (mark behind each clip), links not stretched, shackle pins turning",
    "perch posts plumb, base welds and brace ends free of cracks",
    "rails: no wave in the top edge between cross-members, no dent at the hangers",
    "floor and end plate: no seam opened",
)


def proof_headline(found: PlainView) -> str:
    """The verdict in one line."""
    word, force = f"The proof load alone: {found['alone']['verdict'].upper()}", found["units"]["force"]
    target = number(found["target"], unit=force, rounding="up")
    if not found["reachable"]:
        got = number(found["reached_tension"], unit=force, rounding="down")
        where = f"it gets to {got}" if found["reached"] > 0.0 else "not even the first hundredth of the load"
        return f"{word}: a proof load of {target} a line cannot be reached; {where}, then {found['limit']}"
    last = found["steps"][-1]
    if found["check"]["over"]:
        return f"{word}: the check of this rig is over; put that right before any proof load is hung in it"
    missing = len(found["not_assessed"])
    more = f"; {missing_words(missing)}" if missing else ""
    use = percent(last["utilization"])
    return f"{word}: a proof load of {target} a line can be reached; highest utilization {use}{more}"


def proof_why(found: PlainView) -> list[str]:
    """Sentences on the target, on what water alone proves, and on what an even load does not."""
    force = found["units"]["force"]

    def up(key: str) -> str:
        return number(found[key], unit=force, rounding="up")

    sentences = [
        f"One line is pulled most in load case {state_word(found['state'])}, {up('working')} static; 125 % of that is"
        f" {up('target')}, put on both. Empty each carries {number(found['empty'], unit=force)}; at rest, with both"
        f" alike, {up('even')} at most.",
    ]
    share = percent(found["water_tension"] / found["target"])
    if found["needs_bags"]:
        sentences.append(
            f"Brim-full of water alone it carries {number(found['water_tension'], unit=force, rounding='down')}, which"
            f" is {share} of the target: water weighs half of packed gravel and runs to the tail. The rest is"
            " sandbags on planks across both sides, not in the water, where they would lose half their weight."
        )
    else:
        sentences.append("Water alone reaches the target; no sandbags are needed.")
    if not found["reachable"]:
        sentences.append(
            "If that part cannot be made stronger, the rig cannot be proof-tested for this state: lower the load it is"
            " marked for (a lower bed, lower sides, an overflow notch) and work out the proof load again."
        )
    if found["check"]["over"]:
        sentences.append("The check of the case is over: a proof load does not cure that, and may break the rig.")
    return sentences


def recipe(found: PlainView) -> list[str]:
    """What to do, in order."""
    length = found["units"]["length"]
    at = number(found["bags_at"], unit=length)
    out = number(found["keep_out"], unit=length, rounding="up")
    return [
        "Ask first (below). Keep a record: date, loads, readings, who watched.",
        "Plant level and chocked, box clean and empty with its wet mats in, deployed at its pitch, lines set alike."
        " Put timber blocking under the tail, close below it, so that nothing falls far.",
        "Read and write down: tail height, a string line from hinge to tail, the gap at each lug and barrel, the"
        " marks on hoists and clips; a tail lift or a load cell for `rigcheck field`.",
        "Block the tail with a plate to the top of the sides. Fill from a hose, not by hand; drain by the tail.",
        f"Put on the four steps of the table. Lay the bags on planks across both sides, middle of the pile {at} from"
        " the hinge along the floor; weigh a few of them. Lift the box on blocking while people lay bags, or lay them"
        " by machine.",
        f"Nobody within {out} of the hinge line, under or in line with the box while it hangs loaded; after each step"
        " wait, listen, and compare the fall of the tail with the table.",
        "Stop at any crack, creep, slip, or a fall of the tail clearly over the table; unload with the box blocked.",
        "Hold the last step for 10 minutes. Then unload, bags first, and read everything again: lugs, barrels, tail."
        " A permanent deformation, or a crack, is a fail.",
    ]


def step_cells(step: PlainView, *, bag: float, units: PlainView) -> list[str]:
    """One row of the table of steps."""
    force, length = units["force"], units["length"]
    bags = number(step["bags"], unit=force) if step["bags"] > 0.0 else "-"
    count = f"{ceil(step['bags'] / bag - 1e-9)}" if step["bags"] > 0.0 else "-"
    return [
        percent(step["share"]),
        number(step["depth"], unit=length),
        bags,
        count,
        number(step["line"], unit=force, rounding="up"),
        number(step["tail_fall"], unit=length, digits=2),
        percent(step["utilization"]),
    ]
