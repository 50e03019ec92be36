"""The screen of the proof load: target, steps, recipe, what to look at, whom to ask, cautions."""

from __future__ import annotations

from rigcheck.output.proof.words import step_cells
from rigcheck.output.rig_words import study_opening
from rigcheck.output.screen import Column, Look, Page
from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import number


def proof_screen(found: PlainView, *, look: Look | None = None) -> str:
    """The whole screen.

    Args:
        found: The result of the study.
        look: Width and color.

    Returns:
        Text; every value in it stands in the result.
    """
    page = Page(look or Look())
    study_opening(page, found)
    if found["not_assessed"]:
        page.heading("NOT ASSESSED, at the proof load neither", keep=5)
        page.items(("-", text) for text in found["not_assessed"])
    page.heading("Steps (water first, then bags; tail deflection from the empty box)", keep=11, least=4)
    _steps(page, found)
    page.heading("Recipe" if found["reachable"] else "Recipe, once the load can be reached: NOT as the rig stands",
                 keep=18, least=3)  # fmt: skip
    page.items((f"{i}.", text) for i, text in enumerate(found["recipe"], 1))
    page.heading("What to look at, before, at each step, after")
    page.items(("[ ]", text) for text in found["look_at"])
    page.heading("Whom to ask before")
    page.items(("-", text) for text in found["whom_to_ask"])
    page.heading("Assumptions")
    page.items(("-", text) for text in found["assumptions"])
    page.heading("Cautions")
    page.items(("-", text) for text in found["cautions"])
    page.close(found["headline"], rest="--all adds: the whole recipe, what to look at, whom to ask, assumptions.",
               style=found["alone"]["verdict"])  # fmt: skip
    return page.text()


def _steps(page: Page, found: PlainView) -> None:
    units = found["units"]
    bag = number(found["bag"], unit=units["force"])
    columns = (
        Column("Load", number=True), Column("Water at tail", number=True), Column("Bags", number=True),
        Column(f"of {bag}", number=True), Column("Each line", number=True), Column("Tail falls", number=True),
        Column("Util.", number=True),
    )  # fmt: skip
    rows = []
    for step in found["steps"]:
        over = step["utilization"] is None or step["utilization"] > 1.0
        rows.append((step_cells(step, bag=found["bag"], units=units), "over" if over else ""))
    page.table(columns, rows=rows)
    page.line("Utilization: rated hardware against its proof load, steel against yield. Highest:")
    page.items(("-", part) for part in dict.fromkeys(step["part"] for step in found["steps"]))
