"""The part of a report on the plant under the box: its weights, tipping, feet, cures, and the road."""

from __future__ import annotations

from rigcheck.output.html_page import items, paragraph, table
from rigcheck.output.plant.words import ASSUMPTIONS, cure_lines, plant_headline, ratio_words, road_lines
from rigcheck.output.report.tables import down, up
from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import number, state_word, variant_words


def plant_part(packet: PlainView) -> str:
    """Everything about the plant; one sentence where the case says nothing of it."""
    result = packet["result"]
    plant = result["plant"]
    if plant is None:
        return paragraph("Tipping of the plant is not assessed: the case does not describe it.")
    found = {**plant, "units": result["units"]}
    text = f"<p><strong>{plant_headline(found)}</strong></p>" + _weights(found, result=result)
    if found["tipping"]:
        text += _tipping(found) + items(cure_lines(found)) + _feet(found)
    text += "<h3>On the road, level and at rest</h3>" + items(road_lines(found))
    return text + "<h3>What this takes as given</h3>" + items(ASSUMPTIONS)


def _weights(found: PlainView, *, result: PlainView) -> str:
    """The take-off of the whole: the plant as stated, the empty box as taken off."""
    force, length = found["units"]["force"], found["units"]["length"]
    empty = result["empty"]
    own = ", ".join(number(one, unit=length) for one in found["cg"])
    box = ", ".join(f"{axis} {number(empty['cg'][axis], unit=length)}" for axis in ("s", "y", "n"))
    rows = [
        ("plant, as stated in the case", number(found["weight"], unit=force), f"x, y, z from the hinge: {own}"),
        ("empty box, by its take-off", number(empty["weight"], unit=force), f"on the box: {box}"),
    ]
    return table(("What", "Weight", "Center of gravity"), rows=rows, caption="Take-off of plant and box", numbers=(1,))


def _tipping(found: PlainView) -> str:
    length = found["units"]["length"]
    rows = []
    for one in found["tipping"]:
        more = variant_words(one["variant"], unit=length, short=True)
        rows.append(
            (
                one["words"],
                ratio_words(one["ratio"]),
                ratio_words(one["level"]),
                one["verdict"].upper() if one["verdict"] == "over" else one["verdict"],
                f"{state_word(one['state'])}{f', {more}' if more else ''}",
            )
        )
    heads = ("Way", "On its slopes", "Level ground", "Verdict", "Load case")
    asked = number(found["needed"], digits=3)
    text = table(
        heads, rows=rows, numbers=(1, 2),
        caption=f"Stabilizing over overturning moment, the lowest of all load cases; {asked} is asked",
    )  # fmt: skip
    ways = [one["words"] for one in found["tipping"]]
    states = list(dict.fromkeys(state for one in found["tipping"] for state in one["by_state"]))
    by_state = [
        (state_word(state), *(ratio_words(one["by_state"].get(state)) for one in found["tipping"])) for state in states
    ]
    return text + table(
        ("Load case", *ways),
        rows=by_state,
        caption="The same, case by case",
        numbers=tuple(range(1, len(ways) + 1)),
    )


def _feet(found: PlainView) -> str:
    force, length = found["units"]["force"], found["units"]["length"]
    rows = [
        (
            one["name"],
            ", ".join(number(x, unit=length) for x in one["at"]),
            down(one["least"], force),
            up(one["most"], force),
            "-" if one["state"] is None else state_word(one["state"]),
        )
        for one in found["feet"]
    ]
    rocking = ", over all ways to stand on three of them" if len(rows) > 3 else ""
    note = "" if found["stands"] else "; load cases in which it tips are left out"
    return table(
        ("Foot", "x, y, z of its sole", "Least", "Most", "Most in"), rows=rows, numbers=(2, 3),
        caption=f"What each foot pushes with{rocking}, unfactored loads{note}",
    )  # fmt: skip
