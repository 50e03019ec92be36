"""The screen of the haul study: verdict, sentences, checks, forces row by row, the list before the road, cautions."""

from __future__ import annotations

from collections.abc import Sequence

from rigcheck.output.check.words import demand_allowable
from rigcheck.output.rig_words import study_opening
from rigcheck.output.screen import Column, Look, Page
from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import number, percent


def haul_screen(found: PlainView, *, look: Look | None = None) -> str:
    """The whole screen.

    Args:
        found: The result of the study.
        look: Width and color.

    Returns:
        Text; every value in it stands in the result.
    """
    page = Page(look or Look())
    study_opening(page, found)
    if found["alone"]["not_assessed"]:
        page.heading("NOT ASSESSED on the road", keep=5)
        page.items(("-", text) for text in found["alone"]["not_assessed"])
    page.heading("The folded box", keep=6, least=2)
    page.items(("-", text) for text in _facts(found))
    _checks(page, found)
    page.heading("What holds it, load case by load case (pull of one strap of each kind, static)")
    _rows(page, found)
    if found["findings"]:
        page.heading("Findings")
        page.items(("STOPS" if one["stops"] else "-", _finding(one, rows=found["rows"])) for one in found["findings"])
    page.heading("Before the road", keep=11, least=4)
    page.items(("[ ]", text) for text in found["before_the_road"])
    page.heading("How it was counted")
    page.items(("-", text) for text in found["yardstick"])
    page.heading("Cautions")
    page.items(("-", text) for text in found["cautions"])
    page.close(found["headline"], rest="--all adds: every load case and what holds the box, findings, how counted.",
               style=found["alone"]["verdict"])  # fmt: skip
    return page.text()


def _facts(found: PlainView) -> list[str]:
    units = found["units"]

    def size(key: str) -> str:
        return number(found[key], unit=units["length"], rounding="up")

    s, n = (number(found["cg"][axis], unit=units["length"]) for axis in "sn")
    facts = [
        f"{number(found['weight'], unit=units['force'], rounding='up')}, center of gravity {s} from the hinge and {n}"
        f" above the floor, folded by {number(found['fold_deg'], unit='deg')}",
        f"{found['leading_end']} leading, {size('length_along_road')} long along the road,"
        f" {'' if found['blocked_forward'] else 'not '}blocked forward by a stop",
    ]
    if found["height"] is not None:
        facts.append(f"overall {size('width')} wide and {size('height')} high, perches included")
    return facts


def _checks(page: Page, found: PlainView) -> None:
    if not found["checks"]:
        return
    page.heading("Checks at their worst", keep=12, least=3)
    columns = (Column("Util.", number=True), Column("Verdict", share=0), Column("Part: mode", share=5),
               Column("Demand / allowable", share=4), Column("When", share=5))  # fmt: skip
    rows = []
    for one in found["checks"]:
        word = one["verdict"].upper() if one["verdict"] == "over" else one["verdict"]
        cells = [
            percent(one["utilization"]),
            word,
            f"{one['part']}: {one['mode']}",
            demand_allowable(one),
            one["row"],
        ]
        rows.append((cells, one["verdict"]))
    page.table(columns, rows=rows)


def _rows(page: Page, found: PlainView) -> None:
    force = found["units"]["force"]

    def most(values: Sequence[float], names: Sequence[str]) -> str:
        if not values or max(values) <= 0.0:
            return "-"
        largest = max(range(len(values)), key=lambda i: values[i])
        return f"{number(values[largest], unit=force, rounding='up')} ({names[largest]})"

    most_loaded = Column("Highest-loaded tie-down, stop or line", share=3)
    columns = (Column("Load case", share=4), Column("Tips", share=0), most_loaded,
               Column("One hinge group", number=True))  # fmt: skip
    rows: list[tuple[list[str], str]] = []
    for one in found["rows"]:
        way = "outward" if one["turn"] > 0.0 else "inward"
        if not one["held"]:
            rows.append(([one["row"], way, "NOTHING holds it", "-"], "over"))
            continue
        straps = [f"tie-down {i + 1}" for i in range(len(one["tie_downs"]))]
        stops = [f"stop {i + 1}" for i in range(len(one["stops"]))]
        lines = list(one["line"])
        values = [*one["tie_downs"], *one["stops"], *one["line"].values()]
        names = [*straps, *stops, *(f"{side} line" for side in lines)]
        hinge = number(one["hinge_most"], unit=force, rounding="up")
        rows.append(([one["row"], way, most(values, names), hinge], ""))
    page.table(columns, rows=rows)


def _finding(one: PlainView, *, rows: Sequence[PlainView]) -> str:
    where = one["rows"]
    road = [row["row"] for row in rows if row["state"] == "hauling"]
    if where == road:
        return f"{one['text']} (in every load case of the road)"
    return f"{one['text']} ({'; '.join(where)})"
