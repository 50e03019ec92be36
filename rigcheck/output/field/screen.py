"""The screen of the field study: what was measured, where the case was wrong, the lines to paste, cautions."""

from __future__ import annotations

from rigcheck.output.field.words import QUANTITIES
from rigcheck.output.rig_words import opening
from rigcheck.output.screen import Column, Look, Page
from rigcheck.quantities import Rounding
from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import number, percent, state_word


def field_screen(found: PlainView, *, look: Look | None = None) -> str:
    """The whole screen.

    Args:
        found: The result of the study.
        look: Width and color.

    Returns:
        Text; every value in it stands in the result.
    """
    page = Page(look or Look())
    opening(page, found, more=f"; load case {state_word(found['state'])}")
    page.line()
    page.line(found["headline"], style=found["verdict"])
    page.line()
    for sentence in found["why"]:
        page.line(sentence)
    page.heading("Measured, static", keep=13, least=2)
    _results(page, found)
    if found["findings"]:
        page.heading("Findings", keep=8)
        page.items(("!!" if one["spoils"] else "-", one["text"]) for one in found["findings"])
    if found["explanations"]:
        page.heading("What in the take-off could explain it", keep=7)
        _explanations(page, found)
    _store(page, found)
    page.heading("Assumptions")
    page.items(("-", text) for text in found["assumptions"])
    page.heading("Cautions")
    page.items(("-", text) for text in found["cautions"])
    page.close(found["headline"], rest="--all adds: assumptions and cautions in full.", style=found["verdict"])
    return page.text()


def _results(page: Page, found: PlainView) -> None:
    columns = (Column("What", share=3), Column("Measured", number=True), Column("+-", number=True),
               Column("Calculated", number=True), Column("Ratio", number=True), Column("How", share=5))  # fmt: skip
    rows = []
    for one in found["results"]:
        unit = one["unit"]
        rounding: Rounding = "nearest" if one["what"] == "scale" else "up"
        cells = [
            QUANTITIES[one["what"]],
            number(one["value"], unit=unit, rounding=rounding),
            number(one["uncertainty"], unit=unit, rounding="up", digits=2),
            number(one["expected"], unit=unit),
            f"{one['ratio']:.2f}" if one["usable"] else "-",
            one["how"] + ("" if one["usable"] else "; NOT usable, too uncertain"),
        ]
        rows.append((cells, "" if one["agrees"] or not one["usable"] else "tight"))
    page.table(columns, rows=rows)


def _explanations(page: Page, found: PlainView) -> None:
    columns = (Column("What", share=1), Column("by moment", number=True), Column("by weight", number=True),
               Column("equivalent point weight", number=True), Column("at", number=True))  # fmt: skip
    units, rows = found["units"], []
    for one in found["explanations"]:
        times = [f"x {value:.2f}" if value is not None else "-"
                 for value in (one["times_by_moment"], one["times_by_weight"])]  # fmt: skip
        lump = number(one["missing_weight"], unit=units["force"], digits=3)
        rows.append(([one["what"], *times, lump, number(one["at"], unit=units["length"])], ""))
    page.table(columns, rows=rows)


def _store(page: Page, found: PlainView) -> None:
    page.heading("For the case file", keep=9, least=5)
    if found["store"]:
        page.line("[measured]")
        for key, text in found["store"].items():
            page.line(f'{key} = "{text}"')
        after = found["check"]["after"]
        page.line()
        weight = number(after["empty_weight"], unit=found["units"]["force"])
        use = percent(after["utilization"])
        page.line(f"With these lines every check counts with {weight} of empty box; highest utilization {use}.")
    elif found["refused"]:
        page.line(f"Nothing to store: {'; '.join(found['refused'])}.")
    else:
        page.line("Nothing to store: [measured] holds what was read on the empty box (--state empty).")
