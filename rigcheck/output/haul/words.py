"""What the haul study says in words: rows, sentences, the list before the road, and its own cautions."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from rigcheck.case.rig import Rig
from rigcheck.loads.traps import stands_left
from rigcheck.output.instructions import stop_words
from rigcheck.quantities import plain_text
from rigcheck.tables.load_cases import PARKED
from rigcheck.wording.plain import PlainView
from rigcheck.wording.scale import Scale
from rigcheck.wording.words import number, percent

TOWARD = {
    "+x": "toward the tail side",
    "-x": "toward the head side",
    "+y": "to the left",
    "-y": "to the right",
}
YARDSTICK = (
    "A hinged box is arguably equipment of the vehicle and not cargo: the tie-down rule (49 CFR 393) is a yardstick"
    " here, and whoever inspects the road decides.",
    "The hinge takes all that its one turn leaves it, side pushes included; straps are counted along their own line,"
    " without the preload of their ratchets, and one that goes over the box as one leg.",
    "Not looked at: the box bent sideways, the anchors and the frame of the vehicle, chafe over edges.",
)
HAUL_CAUTIONS = (
    "The rule is that of US commercial vehicles, 10,001 lb and over; other vehicles follow state law.",
    "Canada, its provinces and other countries differ: some hold the same accelerations against the working limit, and"
    " gear without a mark may count for nothing there. Ask which rule applies before driving.",
    "Check every strap again after the first 50 miles (80 km), and whenever the load or the road has changed.",
)


def row_words(row: PlainView, *, speeds: Mapping[str, str]) -> str:
    """A row of the study in a table: which way, how hard, against what."""
    variant = row["variant"]
    if row["state"] == PARKED:
        by = "on lines and stops" if variant["held_by"] == "lines" else "on tie-downs and stops"
        return f"parked, {speeds['parked']} {TOWARD[variant['wind_to']]}, {by}"
    if "wind_to" in variant:
        return f"road wind {speeds['road']} {TOWARD[variant['wind_to']]}"
    return str(row["dynamic_factor"])


def headline(found: PlainView) -> str:
    """What the road alone comes to, in one line."""
    alone = found["alone"]
    lead = f"The road alone: {alone['verdict'].upper()}"
    stops = list(dict.fromkeys(stop_words(one["code"]) for one in found["findings"] if one["stops"]))
    parts = []
    if stops:
        by = ", ".join(stops)
        parts.append(f"stopped by {by}" if alone["verdict"] == "over" else f"as it stands nothing holds it ({by})")
    row = found["checks"][0] if found["checks"] else None
    if row is not None and (not stops or row["verdict"] == "over"):
        parts.append(f"{row['part']}, {row['mode']}, {percent(row['utilization'])}")
    if alone["not_assessed"]:
        parts.append(f"{len(alone['not_assessed'])} of its parts not assessed")
    return f"{lead}: {'; '.join(parts)}" if parts else lead


def why(found: PlainView) -> list[str]:
    """Sentences on what governs, on the lean, and on what straps are needed."""
    units = found["units"]
    sentences = [
        f"{one['text'][:1].upper()}{one['text'][1:]}." for one in found["findings"] if one["stops"]
    ]  # fmt: skip
    if found["checks"]:
        row = found["checks"][0]
        demand = number(row["demand"], unit=row["unit"], rounding="up")
        capacity = number(row["capacity"], unit=row["unit"], rounding="down")
        if (row["part"], row["mode"]) == ("tie-downs", "number"):
            sentences.append(f"The rule of the road asks for at least {demand} tie-down(s); described: {capacity}.")
        else:
            sentences.append(
                f"{row['part'][:1].upper()}{row['part'][1:]} comes to {demand} of {capacity} ({row['mode']},"
                f" {percent(row['utilization'])}): {row['row']}."
            )
    lean = found["lean"]
    leans = "outward, its tail wanting down" if lean["outward"] else "inward, past its hinge"
    text = f"At rest the folded box leans {leans}"
    if lean["lift_off"] is not None:
        speed = number(lean["lift_off"], unit=lean["speed_unit"], rounding="down", digits=2)
        text += f"; its weight alone keeps it there up to a gust of {speed}, and a lean is not a latch"
    sentences.append(f"{text}.")
    for one in found["tie_downs"]:
        sentences.append(f"{one['name'][:1].upper()}{one['name'][1:]}: {_need(one, unit=units['force'])}.")
    return sentences


def _need(strap: PlainView, *, unit: str) -> str:
    """What one of these straps must be marked for."""
    pull, broken = strap["pull"], strap["pull_breaking_set"]
    if max(pull, broken) <= 0.0:
        return "pulls in no load case; a stop takes its side, or the box never turns that way"
    text = f"each of {strap['count']} needs a working load limit of at least {number(pull, unit=unit, rounding='up')}"
    if broken > 0.0:
        text += f" and a breaking strength of at least {number(broken, unit=unit, rounding='up')}"
    return text


def trap_words(rig: Rig, *, scale: Scale) -> list[str]:
    """What of the traps is counted on the road; none of a box without."""
    if not rig.value("trap"):
        return []
    weights = [0.5 * (one.w_start + one.w_end) * (np.asarray(one.end) - one.start) for one in stands_left(rig)]
    left = number(scale.one(float(sum(weights)), dimension="force"), unit=scale.label("force"), rounding="up")
    return [f"drain the traps as far as the case says: {left} of what stands in them is counted on the road"]


def before_the_road(found: PlainView) -> list[str]:
    """What must be unloaded, slackened, pinned or strapped before driving off."""
    force = found["units"]["force"]
    left = number(found["left_over"]["weight"], unit=force, rounding="up")
    share = plain_text(100.0 * found["left_over"]["share"], digits=3)
    todo = [f"shovel and wash out the bed: only {share} % of it ({left}) is counted on the road"]
    if found["mats"]["weight"]:
        mats = number(found["mats"]["weight"], unit=force, rounding="up")
        todo.append(f"mats are counted wet and in place ({mats}); tie them in, or take them out")
    todo.append(
        "take the pull off the hoists and lines, then tie them up so that nothing swings: they are not tie-downs"
    )
    if not found["hinge_kept"]:
        todo.append("pin the hinge against jumping out: the case states nothing that holds its pin")
    todo += [
        f"{one['name']}: {one['count']} on, tight, edges padded, hooks latched" for one in found["tie_downs"]
    ]  # fmt: skip
    if not found["tie_downs"]:
        todo.append("tie the box down: nothing described does")
    if not found["stops"]:
        todo.append("give the folded box a stop to lean on, or straps both ways: nothing described pushes back")
    if found["height"] is None:
        todo.append("measure the overall width and height: the case does not place the hinge above the road")
    todo.append("take off or tie whatever is loose: troughs, lips, hoses, tools, stones in the channels")
    return todo
