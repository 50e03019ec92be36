"""The screen of the study of the plant, made from its result alone; one screen of 45 lines of 80 letters."""

from __future__ import annotations

from rigcheck.output.plant.words import ratio_words, road_lines
from rigcheck.output.rig_words import answer_style, opening, rig_line
from rigcheck.output.screen import Column, Look, Page
from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import number, state_word, variant_words

_LEANS = ("low_side", "low_end", "held_by")  # the column says that it stands on its slopes
FEET = 4  # feet on the screen, the most loaded ones


def plant_screen(found: PlainView, *, look: Look | None = None) -> str:
    """The whole screen.

    Args:
        found: The result of the study.
        look: Width and color.

    Returns:
        Text; every value in it stands in the result.
    """
    page = Page(look or Look())
    opening(page, found)
    bad = found["over"] or any(one["stops"] for one in found["findings"])
    page.line(found["headline"], style="incomplete" if found["not_given"] else answer_style(found, over=bad))
    rig_line(page, found)
    for line in found["cures"]:
        page.line(line)
    if found["tipping"]:
        _tipping(page, found)
        _feet(page, found)
    page.heading("On the road, level and at rest", keep=8)
    for line in road_lines(found):
        page.line(line)
    said = [one for one in found["findings"] if one["code"] == "snag_tips_plant"]
    for text in dict.fromkeys(one["text"] for one in said):
        page.line(f"Finding: {text}.")
    page.heading("Cautions")
    page.items(("-", text) for text in found["cautions"])
    page.close(found["headline"], rest="--all adds: the cautions in full. How it is counted: docs/method.md#tipping.",
               style="incomplete" if found["not_given"] else answer_style(found, over=bad))  # fmt: skip
    return page.text()


def _tipping(page: Page, found: PlainView) -> None:
    page.heading("Stabilizing over overturning moment, the lowest of all load cases", keep=12, least=4)
    rows = [
        (
            [one["words"], ratio_words(one["ratio"]), ratio_words(one["level"]), _case(one, found=found)],
            "" if one["verdict"] == "within" else "over",
        )
        for one in found["tipping"]
    ]
    columns = (Column("Way", share=0), Column("Sloping", number=True), Column("Level", number=True),
               Column("Load case", share=1))  # fmt: skip
    page.table(columns, rows=rows)


def _case(one: PlainView, *, found: PlainView) -> str:
    told = {key: value for key, value in (one["variant"] or {}).items() if key not in _LEANS}
    words = variant_words(told, unit=found["units"]["length"], short=True)
    return f"{state_word(one['state'])}{f', {words}' if words else ''}"


def _feet(page: Page, found: PlainView) -> None:
    force = found["units"]["force"]
    feet = sorted(found["feet"], key=lambda one: -float(one["most"]))
    more = f"; {len(feet) - FEET} more in --json" if len(feet) > FEET else ""
    rocking = ", rocking on any three" if len(feet) > 3 else ""
    page.heading(f"What each foot carries, least to most{rocking}{more}", keep=12, least=4)
    rows = [
        (
            [
                one["name"],
                number(one["least"], unit=force, digits=3, rounding="down"),
                number(one["most"], unit=force, digits=3, rounding="up"),
                "-" if one["state"] is None else state_word(one["state"]),
            ],
            "",
        )
        for one in feet[:FEET]
    ]
    columns = (Column("Foot", share=2), Column("Least", number=True), Column("Most", number=True),
               Column("Most in", share=1))  # fmt: skip
    page.table(columns, rows=rows)
    if not found["stands"]:
        page.line("Load cases in which it tips are left out: no three feet hold it then.", style="over")
