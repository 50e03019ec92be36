"""What the study of the plant says in sentences."""

from __future__ import annotations

from collections.abc import Sequence

from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import number, state_word

PLANT_CAUTIONS = (
    "Wind on the plant, people on it, full hoppers and soft ground are not counted.",
    "Take ballast off for the road, or weigh the tongue with it.",
)
ASSUMPTIONS = (
    "plant and box are one body on its feet: line and hinge forces act inside it; unfactored loads, no dynamic factor",
    "each weight, and what the slope and the wind make of it, counts on the side to which it turns by itself",
    "ballast stands no higher than the hinge axis or the plant's own center of gravity, whichever is higher",
    "the coupling takes no roll; the road is level and nothing moves",
)


def ratio_words(ratio: float | None) -> str:
    """A ratio rounded down, a large one as such."""
    if ratio is None:
        return "no tipping"
    return "over 20" if ratio > 20.0 else number(ratio, digits=3, rounding="down")


def plant_headline(found: PlainView) -> str:
    """What standing comes to, in one line."""
    if found["not_given"]:
        return f"PLANT: tipping not assessed; the case does not give {', '.join(found['not_given'])}"
    turning = [one for one in found["tipping"] if one["ratio"] is not None]
    if not turning:
        return "PLANT: nothing turns it over"
    worst = min(turning, key=lambda one: float(one["ratio"]))
    said = f"{ratio_words(worst['ratio'])} {worst['words']} in {state_word(worst['state'])}"
    if worst["ratio"] < 1.0:
        return f"TIPS: ratio {said}; under 1 plant and box go over"
    word = "OVER" if worst["ratio"] < found["needed"] else "STANDS"
    return f"{word}: lowest ratio {said}; {number(found['needed'], digits=3)} is asked"


def cure_lines(found: PlainView) -> list[str]:
    """What keeps it from tipping; nothing where nothing is over."""
    units, lines = found["units"], []
    if not found["over"]:
        return []
    ballast = found["ballast"]
    if ballast is None:
        lines.append("No ballast over the feet brings every ratio to what is asked.")
    else:
        weight = number(ballast["weight"], unit=units["force"], digits=3, rounding="up")
        over = " and ".join(ballast["over"])
        where = f"midway between {over}" if len(ballast["over"]) > 1 else f"over {over}"
        lines.append(f"Least ballast at work: {weight} {where}.")
    for one in found["moves"]:
        feet = _and(one["feet"])
        if one["by"] is None:
            lines.append(f"Moving {feet} outward alone does not cure tipping {one['words']}.")
        else:
            by = number(one["by"], unit=units["length"], rounding="up")
            lines.append(f"Or {feet} {by} farther {one['outward']}, against tipping {one['words']}.")
    return lines


def road_lines(found: PlainView) -> list[str]:
    """Tongue and axle, with the box folded and without it."""
    road, force = found["road"], found["units"]["force"]
    lines = []
    for key, words in (("folded", "Box folded"), ("bare", "Without the box")):
        one = road[key]
        if one is None:
            continue
        gross, axle, tongue, left, right = (
            number(one[name], unit=force, digits=3) for name in ("gross", "axle", "tongue", "left", "right")
        )
        sides = "" if left == right else f" (left {left}, right {right})"
        share = f"{100.0 * one['share']:.1f} %"
        lines.append(
            f"{words}: gross {gross}, axle {axle}{sides}, tongue {tongue}, {share}{_judged(one['share'], road)}."
        )
    if not lines:
        return ["Not assessed: the case gives no [plant.wheels], or no weight of the plant."]
    guide = " to ".join(f"{100.0 * one:.0f}" for one in road["guidance"])
    return [
        *lines,
        f"Common towing guidance: {guide} % on the tongue; under {100.0 * road['light']:.0f} % it may sway.",
    ]


def _judged(share: float, road: PlainView) -> str:
    low, high = road["guidance"]
    if share <= 0.0:
        return ": LIFTS"
    if share < road["light"]:
        return ": TOO LIGHT"
    return ": light" if share < low else ": heavy" if share > high else ""


def _and(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
