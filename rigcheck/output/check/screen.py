"""The screen of a check: verdict, what governs and why, parts, loads, rails, weights, findings, assumptions."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby
from typing import Any

from rigcheck.output.bed_words import bed_paragraph
from rigcheck.output.check.first_screen import source_line
from rigcheck.output.screen import Column, Look, Page
from rigcheck.tables.load_cases import LINE_BROKEN
from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import bound_word, case_word, number, percent, state_word, variant_words

LOW = 0.5  # parts used less than this are told in one line each


def check_screen(result: PlainView, *, look: Look | None = None, whole: bool = False) -> str:
    """The whole screen of a check.

    Args:
        result: The result.
        look: Width and color.
        whole: Tell every mode of every part, and not only the worst of those that are little used.

    Returns:
        Text; every value in it stands in the result.
    """
    page = Page(look or Look())
    if not page.look.whole:
        from rigcheck.output.check.first_screen import first_screen  # the whole screen does without

        first_screen(page, result)
        return page.text()
    _head(page, result)
    _verdict(page, result)
    _checks(page, result, whole=whole)
    _loads(page, result)
    _rails(page, result)
    _water(page, result)
    _take_off(page, result)
    _findings(page, result)
    _assumptions(page, result)
    cautions(page, result)
    return page.text()


def cautions(page: Page, result: PlainView) -> None:
    """The cautions, which end everything people read."""
    page.heading("Cautions")
    page.items(("-", text) for text in result["cautions"])


def _head(page: Page, result: PlainView) -> None:
    page.line(result["title"], style="head")
    page.line(source_line(result))
    if result["note"]:
        page.line(result["note"])


def _verdict(page: Page, result: PlainView) -> None:
    page.line()
    page.line(result["headline"], style=result["verdict"])
    page.line()
    for sentence in result["why"]:
        page.line(sentence)
    if result["not_assessed"]:
        page.heading("NOT assessed: parts on the load path that the case does not describe well enough")
        page.items(("-", text) for text in result["not_assessed"])
    stopping = [one for one in result["findings"] if one["stops"]]
    if stopping:
        page.heading("What stops it, whatever the numbers say")
        _tell(page, stopping, result=result)
    if result.get("remedies"):
        from rigcheck.output.remedies.view import remedy_lines  # only where something is over

        page.heading("What fixes it, the fewest changes first, each by a whole check; then what does not fix it alone")
        page.items(("-", line) for line in remedy_lines(result["remedies"], most=None))
    if result["bed_mark"]:
        page.line()
        page.line(bed_paragraph(result["bed_mark"]))
    if result["confirm"] and result["confirm"].get("text"):
        page.line()
        page.line(result["confirm"]["text"])


def _heading_of(row: PlainView) -> str:
    if row["capacity_basis"] == "working":
        return "Every part and mode at its worst"
    return "If one line breaks (against strength)" if row["state"] == LINE_BROKEN else "Other cases against strength"


def _checks(page: Page, result: PlainView, *, whole: bool) -> None:
    columns = (Column("Util.", number=True), Column("Verdict", share=0), Column("Part: mode", share=5),
               Column("Demand / allowable", share=0), Column("Load case, sharing, side", share=4))  # fmt: skip
    order = sorted(result["checks"], key=lambda row: (row["capacity_basis"] != "working", row["state"] != LINE_BROKEN))
    for heading, group in groupby(order, key=_heading_of):
        rows = list(group)
        page.heading(heading)
        low = [row for row in rows if row["utilization"] is not None and row["utilization"] <= LOW]
        full = [row for row in rows if row not in low]
        if full:
            page.table(columns, rows=[(_check_cells(row, result=result), row["verdict"]) for row in full])
        told = low if whole else _worst_of_part(low, beside=full)
        if told:
            page.line(f"{'The rest, ' if full else ''}{percent(LOW)} of capacity or less:")
            page.items((f"{percent(row['utilization']):>4}", _low_line(row)) for row in told)
        if len(told) < len(low):
            page.line(f"{len(low) - len(told)} more modes of the same parts are lower; --all prints them.")


def _worst_of_part(rows: Sequence[PlainView], *, beside: Sequence[PlainView]) -> list[PlainView]:
    """The worst row of each part that has none among the others; rows come the highest use first."""
    seen = {row["part"] for row in beside}
    kept = []
    for row in rows:
        if row["part"] not in seen:
            seen.add(row["part"])
            kept.append(row)
    return kept


def _demand_of_capacity(row: PlainView) -> str:
    demand = number(row["demand"], unit=row["unit"], rounding="up")
    capacity = number(row["capacity"], unit=row["unit"], rounding="down")
    value, _, unit = demand.partition(" ")
    same = unit == capacity.partition(" ")[2]
    return f"{value if same else demand} of {capacity}"


def _check_cells(row: PlainView, *, result: PlainView) -> list[str]:
    word = row["verdict"].replace("_", " ")
    return [
        "-" if word == "not assessed" else percent(row["utilization"]),
        word.upper() if word == "over" else word,
        f"{row['part']}: {row['mode']}",
        _demand_of_capacity(row),
        _place(row, result=result),
    ]


def _low_line(row: PlainView) -> str:
    state = "" if row["state"] == LINE_BROKEN else f", {case_word(row)}"
    return f"{row['part']}: {row['mode'].replace(' (strength)', '')}, {_demand_of_capacity(row)}{state}"


def _place(row: PlainView, *, result: PlainView) -> str:
    words = variant_words(row["variant"], unit=result["units"]["length"], short=True)
    state = case_word(row)
    joint = " " if words.startswith("at ") else ", "
    return f"{state}{joint if words else ''}{words}; {_bound_side(row, state=row['state'])}"


def _loads(page: Page, result: PlainView) -> None:
    unit = result["units"]["force"]
    page.heading("Static loads, the worst of each state (without dynamic factors)")

    def cell(found: PlainView | None, state: str) -> str:
        if found is None:
            return "-"
        return f"{number(found['force'], unit=unit, rounding='up')}\n{_bound_side(found, state=state)}"

    rows = []
    for one in result["worst_loads"]:
        weight = number(one["weight"], unit=unit, rounding="up")
        cells = (cell(one[key], one["state"]) for key in ("line", "hinge", "uplift"))
        rows.append(([state_word(one["state"]), weight, *cells], ""))
    heads = ("One line", "One hinge group", "Hinge uplift")
    columns = (Column("Load case"), Column("Weight", number=True), *(Column(head, share=2) for head in heads))
    page.table(columns, rows=rows)
    rolls = [
        (bound["roll"], row["state"], bound) for row in result["states"] for bound in row["bounds"] if bound.get("roll")
    ]
    if rolls:
        most, state, bound = max(rolls, key=lambda one: float(one[0]))
        told = f"{number(most, unit=result['units']['angle'], rounding='up')} in {state_word(state)}"
        page.line(f"The box rolls {told} ({bound_word(bound['bound'], state=state)}, {bound['on']}).")


def _bound_side(found: PlainView, *, state: str) -> str:
    return ", ".join(text for text in (bound_word(found["bound"], state=state), found["side"]) if text)


def _rails(page: Page, result: PlainView) -> None:
    units = result["units"]
    page.heading("Rail, the worst of each state (moment with the dynamic factor, shape under static loads)")

    def cell(found: PlainView | None, unit: str, *, rounding: Any = "up") -> str:
        return "-" if found is None else f"{number(found['value'], unit=unit, rounding=rounding)}"

    rows = []
    for one in result["worst_loads"]:
        moment = one["rail_moment"]
        if moment is None:
            continue
        rows.append(
            (
                [
                    state_word(one["state"]),
                    f"{cell(moment, units['moment'])}\n{_bound_side(moment, state=one['state'])}",
                    cell(one["sag"], units["length"]),
                    cell(one["tail_deflection"], units["length"]),
                    cell(one["pitch_left"], units["pitch"], rounding="down"),
                ],
                "",
            )
        )
    heads = ("Sag", "Tail drop", "Pitch left")
    columns = (Column("Load case"), Column("Largest moment", share=2), *(Column(head, number=True) for head in heads))
    page.table(columns, rows=rows)


def _water(page: Page, result: PlainView) -> None:
    found, length = result["water"], result["units"]["length"]
    page.heading("Water")
    if found["flow"] is None:
        page.line("No water described; plain water is taken behind a shut outlet.")
    else:
        depths = [f"critical {number(found['critical_depth'], unit=length)}"]
        if found["normal_depth"] is not None:
            depths.insert(0, f"normal {number(found['normal_depth'], unit=length)}")
        flow = number(found["flow"], unit=result["units"]["flow"])
        density = number(found["density"], unit=result["units"]["density"])
        surge = number(found["surge_depth"], unit=length, rounding="up")
        page.line(
            f"{flow}: depth {', '.join(depths)}; {found['loaded_by']} sets the load."
            f" Froude {number(found['froude'], digits=3)}. Weight of the water with its solids {density}."
            f" A surge stands {surge} over the bed."
        )
    tail = number(found["pool"]["depth_tail"], unit=length, rounding="up")
    page.line(f"Outlet shut: the pool stands {tail} over the bed at the tail.")


def _take_off(page: Page, result: PlainView) -> None:
    units = result["units"]

    def place(one: PlainView) -> str:
        axes = ("s", "y", "n") if one["y"] else ("s", "n")
        return ", ".join(f"{axis} {number(one[axis], unit=units['length'])}" for axis in axes)

    page.heading("Weight of the empty box (s from the hinge, y to the left, n above the floor)")
    rows = [
        ([one["piece"], number(one["weight"], unit=units["force"]), place(one)], "") for one in result["take_off"]
    ]  # fmt: skip
    empty = result["empty"]
    rows.append((["all of it", number(empty["weight"], unit=units["force"]), place(empty["cg"])], "head"))
    page.table((Column("Piece", share=3), Column("Weight", number=True), Column("Where", share=2)), rows=rows)


def _findings(page: Page, result: PlainView) -> None:
    others = [one for one in result["findings"] if not one["stops"]]
    if others:
        page.heading("Findings")
        _tell(page, others, result=result)


def _tell(page: Page, findings: Sequence[PlainView], *, result: PlainView) -> None:
    told: dict[tuple[str, str], list[PlainView]] = {}
    for one in findings:
        told.setdefault((one["code"], one["text"]), []).append(one)
    every = {one["state"] for one in result["states"]}
    for (_, text), places in told.items():
        stops = places[0]["stops"]
        mark = "STOPS:" if stops else "-"
        page.items([(mark, f"{text} ({_states(places, every=every)})")], style="stops" if stops else "")


def _states(places: Sequence[PlainView], *, every: set[str]) -> str:
    states = [one["state"] for one in places]
    if set(states) == every:
        return "in every state"
    where = _bound_side(places[0], state=states[0])
    return f"in {', '.join(state_word(state) for state in states)}{f'; first {where}' if where else ''}"


def _assumptions(page: Page, result: PlainView) -> None:
    page.heading("Assumptions: defaults that this result took, and factors that are a choice")
    alike: dict[tuple[str, str, str], list[str]] = {}
    for one in result["assumptions"]:
        key, number_of = _without_number(one["key"])
        alike.setdefault((key, one["value"], one["source"]), []).append(number_of)
    rows = []
    for (key, value, source), numbers in alike.items():
        rows.append(([f"{key.format(','.join(numbers))} = {value}", source], ""))
    page.table((Column("Key = value", share=4), Column("Where it comes from", share=5)), rows=rows)


def _without_number(key: str) -> tuple[str, str]:
    """A key path with a gap for the number of its repeated table, and that number: links alike share one line."""
    before, bracket, rest = key.partition("[")
    count, _, after = rest.partition("]")
    return (f"{before}[{{}}]{after}", count) if bracket else (key, "")
