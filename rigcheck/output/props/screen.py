"""The screen of the comparison of further supports, made from its result alone."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from rigcheck.output.props.words import between
from rigcheck.output.rig_words import answer_style, opening, rig_line
from rigcheck.output.screen import Column, Look, Page
from rigcheck.tables.load_cases import ids, load_case
from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import percent, state_word

_SHOWN = 14  # parts in the table of uses
_LEAST = 0.05  # a part used less than this however the box is held is left out
_TABLES = (
    ("Largest pull of one line", ("line",), "force"),
    ("Largest force of one leg, or of one second line", ("extra",), "force"),
    ("Largest force at one hinge group", ("hinge",), "force"),
    ("Largest uplift at one hinge group", ("uplift",), "force"),
    ("Largest moment of a rail, sagging over hogging", ("sagging", "hogging"), "moment"),
    ("Tail deflection, under unfactored loads", ("tail_deflection",), "length"),
)


def props_screen(found: PlainView, *, look: Look | None = None) -> str:
    """The whole screen.

    Args:
        found: The result of the study.
        look: Width and color.

    Returns:
        Text; every value in it stands in the result.
    """
    page = Page(look or Look())
    every = found["arrangements"]
    opening(page, found)
    page.line()
    over = all(one["verdict"] == "over" for one in every)
    page.line(found["headline"], style=answer_style({"complete": True, **found}, over=over))
    rig_line(page, found)
    page.line()
    for sentence in found["answer"]:
        page.line(sentence)
    tried = [one["name"] for one in every if not one["described"]]
    if tried:
        page.line(f"The case describes no {' and no '.join(tried)}: that is where one would try it first.")
    for one in every:
        if one["line_slack"]:
            page.line(f"The {one['name']}, when firm, takes so much that a line hangs slack.", style="tight")
    for place, (heading, keys, quantity) in enumerate(_TABLES):
        _table(page, found, heading=heading, keys=keys, unit=found["units"][quantity], keep=0 if place else 9)
    others = ", ".join(state_word(state) for state in found["states"] if not load_case(state).shown_propped)
    page.line(f"The load cases {others} are compared too; --json has their values.")
    _parts(page, every)
    page.heading("NOT counted", keep=6)
    page.items(("-", f"{one['name']}: {text}") for one in every for text in one["not_counted"])
    page.heading("What this takes as given")
    page.items(("-", text) for text in found["assumptions"])
    page.heading("Cautions")
    page.items(("-", text) for text in found["cautions"])
    page.close(found["headline"], rest="--all adds: support, hinge, rail and tail in each load case; assumptions.",
               style=answer_style({"complete": True, **found}, over=over))  # fmt: skip
    return page.text()


def _table(page: Page, found: PlainView, *, heading: str, keys: Sequence[str], unit: str, keep: int = 0) -> None:
    """One quantity, state by state; the hung box is left out where it has no such thing."""
    every = [one for one in found["arrangements"] if keys != ("extra",) or one["name"] != "hung"]
    page.heading(f"{heading}, with the support flexible to rigid", keep=keep)
    rows = [
        (
            [
                state_word(state),
                *("\n".join(between(one["values"][state][key], unit=unit) for key in keys) for one in every),
            ],
            "",
        )
        for state in ids(lambda case: case.shown_propped)
    ]
    page.table((Column("Load case"), *(Column(one["name"], share=2) for one in every)), rows=rows)


def _parts(page: Page, every: Sequence[PlainView]) -> None:
    """Each part at its worst, the most used first."""
    worst = [_by_part(one) for one in every]
    names = {name for uses in worst for name, use in uses.items() if (use["utilization"] or 9.0) >= _LEAST}

    def height(name: str) -> float:
        return max(9.0 if one["utilization"] is None else one["utilization"] for one in _of(worst, name))

    page.heading("Utilization of each part, the worst of all load cases compared", keep=11)
    rows = []
    for name in sorted(names, key=lambda name: (-height(name), name))[:_SHOWN]:
        cells = [_cell(uses.get(name)) for uses in worst]
        rows.append(([name, *cells], "over" if height(name) > 1.0 else ""))
    page.table((Column("Part", share=3), *(Column(one["name"], share=2) for one in every)), rows=rows)
    if len(names) > _SHOWN:
        page.line(f"{len(names) - _SHOWN} more parts have a lower utilization; --json tells all.")


def _of(worst: Sequence[Mapping[str, PlainView]], name: str) -> list[PlainView]:
    return [uses[name] for uses in worst if name in uses]


def _by_part(one: PlainView) -> dict[str, PlainView]:
    """The worst mode of each part; parts come the highest use first."""
    found: dict[str, PlainView] = {}
    for use in one["parts"]:
        found.setdefault(use["part"], use)
    return found


def _cell(use: PlainView | None) -> str:
    return "-" if use is None else f"{percent(use['utilization'])}\n{state_word(use['state'])}"
