"""What the field study comes to, in sentences, from its result alone."""

from __future__ import annotations

from rigcheck.output.rig_words import missing_words
from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import number, percent

QUANTITIES = {
    "moment": "moment about the hinge",
    "tension": "each line",
    "left tension": "left line",
    "right tension": "right line",
    "each tension": "one line",
    "weight": "whole empty box",
    "scale": "scale and tape",
}


def field_headline(found: PlainView) -> str:
    """The verdict in one line."""
    word = str(found["verdict"]).replace("_", " ").upper()
    if found["refused"]:
        return f"{word}: the readings and the case contradict each other, nothing can be stored"
    wrong = [one for one in found["results"] if one["usable"] and not one["agrees"]]
    if not wrong:
        text = "the case agrees with what was read, within its uncertainty"
    else:
        worst = max(wrong, key=lambda one: abs(one["value"] - one["expected"]) / max(one["uncertainty"], 1e-9))
        text = f"{QUANTITIES[worst['what']]} is {worst['ratio']:.2f} times the calculated one"
    after = found["check"]["after"]
    use = (after or found["check"]["before"])["utilization"]
    told = "" if use is None else f"; highest utilization {percent(use)}{' with what was measured' if after else ''}"
    missing = len(found["not_assessed"])
    more = f"; nothing checked is over, {missing_words(missing)}" if found["verdict"] == "incomplete" else ""
    return f"{word}: {text}{told}{more}"


def field_why(found: PlainView) -> list[str]:
    """Sentences on where the estimate was wrong, the measured pull, and what the check says then."""
    sentences = [_explained(one, found["units"]) for one in found["explanations"][:3]]
    if found["contents"] is not None:
        sentences.append(
            f"What lies in the box weighs {found['contents']:.2f} times what the case puts in for the state"
            f" {found['state']}: look at bed.depth and bed.density."
        )
    line = found["line"]
    if line is not None:
        sentences.append(
            f"The measured pull of a line with its uncertainty and the dynamic factor {line['dynamic_factor']:.3g} is"
            f" {number(line['demand'], unit=found['units']['force'], rounding='up')};"
            f" {line['weakest_link']} allows {number(line['allowed'], unit=found['units']['force'], rounding='down')}."
        )
    before, after = found["check"]["before"], found["check"]["after"]
    if after is not None:
        sentences.append(
            f"With what was measured the highest utilization is {percent(after['utilization'])} ({after['governs']});"
            f" with the case as it stands {percent(before['utilization'])} ({before['governs']})."
        )
    return sentences


def _explained(one: PlainView, units: PlainView) -> str:
    if one["missing_weight"] is not None:
        weight = one["missing_weight"]
        size = number(abs(weight), unit=units["force"], digits=3)
        at = number(one["at"], unit=units["length"])
        verb = "were missing" if weight > 0.0 else "were too much"
        return f"As if {one['what']}, {size} at {at} from the hinge, {verb} in the take-off."
    both = [("moment", one["times_by_moment"]), ("weight", one["times_by_weight"])]
    told = " and ".join(f"{value:.2f} times by the {name}" for name, value in both if value is not None)
    return f"Or as if it were {one['what']}, {told} as heavy as estimated."
