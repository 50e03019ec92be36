"""Say in sentences what a fold comes to: whether it is reached, what stands in the way, what would help."""

from __future__ import annotations

from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import number, percent

HOLD_WORDS = {
    "held": "held",
    "held_from_behind": "held from behind",
    "slack_inward": "lines slack",
    "falls_outward": "falls outward",
    "dead_point": "dead center",
}


def deg(angle: float | None) -> str:
    """An angle to a tenth of a degree."""
    return "-" if angle is None else f"{angle:.1f} deg"


def fold_headline(found: PlainView) -> str:
    """What the fold alone comes to, in one line."""
    word = f"The fold alone: {found['alone']['verdict'].upper()}"
    if not found["reachable"]:
        reached = deg(found["angles"]["reached"])
        return f"{word}: cannot be folded to {deg(found['to'])}; as it stands it gets to {reached}"
    how = "held by its lines all the way"
    if found["angles"]["slack"]:
        how = "past its balance point on a snub line"
    text = f"{word}: can be folded to {deg(found['to'])}, {how}"
    struck = found["clearance"]["struck"]
    if struck:
        return f"{text}, but the {struck[0]['by']} strikes the {struck[0]['part']}"
    if found["checks"] and found["checks"][0]["verdict"] != "within":
        row = found["checks"][0]
        return f"{text}; {row['part']}, {row['mode']}, {percent(row['utilization'])}"
    stops = [one for one in found["findings"] if one["stops"]]
    return f"{text}; stopped by {stops[0]['code'].replace('_', ' ')}" if stops else text


def fold_why(found: PlainView) -> list[str]:
    """Sentences on what stands in the way, what would help, and what the lines carry."""
    sentences = [_obstacle(found)] if found["obstacle"] else []
    length = found["units"]["length"]
    sentences += [_struck(one) for one in found["clearance"]["struck"]]
    if not found["reachable"]:
        sentences += [remedy_sentence(one, unit=length) for one in found["remedies"]]
        if not found["remedies"]:
            sentences.append("No height and no set-back of the perches alone, within ten feet, makes it reachable.")
    sentences.append(_pull(found))
    return sentences


def _obstacle(found: PlainView) -> str:
    angles, line, length = found["angles"], found["line"], found["units"]["length"]
    reached, dead, over = deg(angles["reached"]), deg(angles["dead_point"]), deg(angles["over_center"])
    first = deg(angles["over_center_between"][0])
    if found["obstacle"] == "line_too_short":
        return (
            f"Past {reached} the line would have to be shorter than its links: "
            f"down to {number(line['shortest'], unit=length, rounding='down')}, "
            f"where they come to {number(line['least'], unit=length, rounding='up')} pin to pin."
        )
    if found["obstacle"] == "slack_inward":
        arc = f" through {deg(angles['free_arc'])}, unless it strikes something first" if angles["free_arc"] else ""
        return (
            f"At {over}, on ground that leans that way at {first}, the weight comes over the hinge, the lines go slack"
            f" and the box falls inward{arc}; "
            "only a snub line (fold.snub) could ease it down."
        )
    if found["obstacle"] == "falls_outward":
        return "The lines pull on the wrong side of the hinge axis: the perches stand too low to hold the box at all."
    text = f"Past {reached} the lines pull so near the hinge axis that no pull can be given for them"
    if 0.0 <= angles["dead_point"] < angles["over_center"]:
        text += (
            f": they pass through it at {dead}, before the weight comes over the hinge at {over}, "
            "so the pull grows without limit"
        )
    return text + "."


def _struck(one: PlainView) -> str:
    first, last = one["between"]
    span = f"at {deg(first)}" if first == last else f"between {deg(first)} and {deg(last)}"
    what = f"the line runs through the {one['part']}" if one["by"] == "line" else f"the box strikes the {one['part']}"
    return f"In the fold, {span}, {what}."


def remedy_sentence(one: PlainView, *, unit: str) -> str:
    """One move of the perches, or a snub line, with what it leads to."""
    move = number(abs(one["move"]), unit=unit, digits=5)
    value = number(one["value"], unit=unit, digits=5)
    up = one["move"] > 0.0
    also = " and add a snub line (fold.snub)" if one["needs_snub"] else ""
    if one["key"] == "fold.snub":
        way, also = "Ease it over with a snub line (fold.snub = true)", ""
    elif one["key"] == "perch.height":
        way = f"{'Raise' if up else 'Lower'} the perches {move} (perch.height {value})"
    else:
        way = f"Move the perches {move} {'toward the tail' if up else 'back'} (perch.downstream {value})"
    use = f"{percent(one['utilization'])} in {one['governs']}"
    holds = "" if one["lines_hold"] else "; the lines are over their rating there"
    return f"{way}{also}: then the fold is reached, with at most {use}{holds}. Run `check` with it before building."


def _pull(found: PlainView) -> str:
    pull, force = found["pull"], found["units"]["force"]
    alone = found["one_line"]
    demand = pull["largest_alone_demand"] if alone else pull["largest_demand"]
    how = "worked one after the other" if alone else "worked together"
    near = " short of dead center" if found["obstacle"] == "dead_point" else ""
    return (
        f"With the lines {how} one pulls up to {number(demand, unit=force, rounding='up')}{near} "
        f"(at {deg(found['angles']['largest_pull'])}, x {found['dynamic_factor']:.4g} counted); "
        f"{pull['weakest_link']} allows {number(pull['allowed'], unit=force, rounding='down')}."
    )
