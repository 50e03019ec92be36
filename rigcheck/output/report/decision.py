"""The first page of a report, which decides: what was checked, by what, the answer, and what it stands on."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import partial
from math import sqrt

from rigcheck.output.bed_words import bed_paragraph
from rigcheck.output.check.first_screen import fixes
from rigcheck.output.check.words import demand_allowable
from rigcheck.output.drawing.side import side_view
from rigcheck.output.hoist_words import hoist_sentence
from rigcheck.output.html_page import facts, items, paragraph, table, words
from rigcheck.output.report.tables import place, up
from rigcheck.tables.load_cases import load_case
from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import case_word, percent

Worst = tuple[float, float | None, PlainView]  # amplified, unfactored, the row

FIVE = 5  # parts shown
MISSING, STOPS, FIXES = 5, 3, 3  # entries on the page; the rest stands in its own section
STANDARDS = {
    "bth": "ASME BTH-1-2020, design category B (source not checked)",
    "aisc": "AISC 360-22, allowable strength (source checked)",
    "road": "49 CFR 393.100 to 393.136 (source checked)",
    "hardware": "ASME B30.9, B30.10, B30.21, B30.26 (source not checked)",
    "wind": "ASCE 7-16 wind pressure (source checked)",
}
"""Documents with their editions, as far as they were read; every clause with its own mark stands under Sources."""
_LEADS = {"lifting": ("bth", "aisc"), "frame": ("aisc",)}  # design basis first, with what it leaves to the other


def decision(packet: PlainView) -> str:
    """The page.

    Args:
        packet: Everything that a report shows.

    Returns:
        HTML that fits one page of paper.
    """
    result = packet["result"]
    text = f'<p class="verdict">{words(result["headline"])}</p>'
    text += "".join(paragraph(sentence) for sentence in result["why"][:1])
    picture, _ = side_view(packet["drawing"], bare=True)
    sketch = f'<div class="sketch">{picture}</div>'
    text += f'<div class="pair"><div>{sketch}</div><div>{_five(result)}</div></div>'
    text += design_loads(result)
    left, right = _marks(result) + _missing(result), _open(packet)
    return f'{text}<div class="flow">{left}{right}</div>' + _standards(result)


def highest(checks: Iterable[PlainView], *, most: int | None = None) -> list[PlainView]:
    """The highest check of each part, the highest part first; legal height and width stand outside of the ranking."""
    found: dict[str, PlainView] = {}
    for row in checks:
        if row["verdict"] != "not_assessed" and row["group"] != "envelope":
            found.setdefault(row["part"], row)
    return list(found.values())[:most]


def _five(result: PlainView) -> str:
    rows = highest(result["checks"], most=FIVE)
    heads = ("Highest five parts: mode", "Utiliz.", "Demand / allowable", "Load case")
    told = [
        (
            f"{row['part']}: {row['mode']}",
            percent(row["utilization"]),
            demand_allowable(row),
            case_word(row),
        )
        for row in rows
    ]
    marked = [i for i, row in enumerate(rows) if row["verdict"] == "over"]
    return table(heads, rows=told, numbers=(1,), marked=marked)


def _size(vector: PlainView | None, *, axes: str = "xyz") -> float:
    return 0.0 if vector is None else sqrt(sum(float(vector[axis]) ** 2 for axis in axes))


def _worst(rows: Sequence[PlainView], *, part: str) -> Worst | None:
    """Largest amplified force at a hinge group or a perch, the same unfactored, and the row it is in."""
    found = [
        (_size(row["with_factor"][part][side]), _size(row[part][side]), {**row, "side": side})
        for row in rows
        for side in ("left", "right")
    ]
    return max(found, key=lambda one: one[0], default=None)


def _lifted(rows: Sequence[PlainView]) -> Worst | None:
    found = [
        (-row["with_factor"]["hinge"][side]["z"], -row["hinge"][side]["z"], {**row, "side": side})
        for row in rows
        for side in ("left", "right")
    ]
    top = max(found, key=lambda one: one[0], default=None)
    return top if top is not None and top[0] > 0.0 else None


def accident_states(result: PlainView) -> set[str]:
    """States that stand for an accident, such as a broken line."""
    return {row["state"] for row in result["checks"] if row["accident"]}


def design_loads(result: PlainView) -> str:
    """What lines, hinge and posts carry at most: at work, hoist at its full rating, something broken."""
    units, apart = result["units"], accident_states(result)
    rows = [row for row in result["plant_loads"] if row["state"] not in apart and not load_case(row["state"]).full_pull]
    pulled = [row for row in result["plant_loads"] if load_case(row["state"]).full_pull]
    broken = [row for row in result["plant_loads"] if row["state"] in apart]
    told = []
    for name, find, unit in LOADS:
        top, label = find(rows), units[unit]
        if top is None:
            continue
        amplified, plain, row = top
        others = (find(among) for among in (pulled, broken))
        told.append(
            (
                name,
                "-" if plain is None else up(plain, label),
                up(amplified, label),
                place(row, unit=units["length"]),
                *("-" if one is None else up(one[0], label) for one in others),
            )
        )
    heads = ("Design loads on the plant", "At work, unfactored", "Amplified", "Load case", "Hoist at full rating",
             "If one part breaks")  # fmt: skip
    weight = up(max(one["weight"] for one in result["worst_loads"] if one["weight"] is not None), units["force"])
    empty = up(result["empty"]["weight"], units["force"])
    text = table(heads, rows=told, numbers=(1, 2, 4, 5)) if told else ""
    note = f"Empty box {empty}, heaviest {weight}, both unfactored. Amplified: each load times its own dynamic "
    note += "(impact) factor, those of people apart; the factors stand with each load case in Appendix B."
    return text + paragraph(note, kind="note")


def _bases(rows: Sequence[PlainView]) -> Worst | None:
    """Largest amplified moment at a post base."""
    found = [
        (_size(row["posts"]["moment"][side], axes="xy"), None, {**row, "side": side})
        for row in rows
        if row["posts"] is not None
        for side in ("left", "right")
    ]
    return max(found, key=lambda one: one[0], default=None)


LOADS: tuple[tuple[str, Callable[[Sequence[PlainView]], Worst | None], str], ...] = (
    ("perch, all parts of one line", partial(_worst, part="perch"), "force"),
    ("one hinge group", partial(_worst, part="hinge"), "force"),
    ("one hinge group, uplift", _lifted, "force"),
    ("post base, moment", _bases, "moment"),
)


def _marks(result: PlainView) -> str:
    text = ""
    if result["bed_mark"]:
        text += paragraph(bed_paragraph(result["bed_mark"]))
    for one in result["hoists"] or ():
        text += paragraph(hoist_sentence(one, unit=result["units"]["force"]))
    return text


def _few(entries: Sequence[str], *, most: int, where: str) -> str:
    shown = list(entries[:most])
    if len(entries) > most:
        shown.append(f"and {len(entries) - most} more, under {where}")
    return items(shown)


def _open(packet: PlainView) -> str:
    """What stops it, what fixes it and what does not fix it alone."""
    result, text = packet["result"], ""
    stops = list(dict.fromkeys(one["text"] for one in result["findings"] if one["stops"]))
    if stops:
        text += "<h3>Stopped by</h3>" + _few(stops, most=STOPS, where="Findings")
    for title, texts in fixes(packet["fixes"][:FIXES]) if packet["fixes"] is not None else ():
        text += f"<h3>{words(title)}</h3>" + items(texts)
    return text


def _missing(result: PlainView) -> str:
    """What nobody could assess."""
    if result["not_assessed"]:
        return "<h3>Not assessed</h3>" + _few(result["not_assessed"], most=MISSING, where="Findings")
    return "<h3>Not assessed</h3>" + paragraph(
        "No part of the load path is left out; what no check covers stands under Cautions and limits."
    )


def _standards(result: PlainView) -> str:
    leads = _LEADS.get(result["basis"], ("aisc",))
    told = [STANDARDS[one] for one in (*leads, "road", "hardware", "wind")]
    return paragraph(f"Design basis and standards: {'; '.join(told)}.", kind="note")


def identity(packet: PlainView) -> str:
    """What a reader needs to tell this run from another."""
    result = packet["result"]
    source = result["input"]
    return facts(
        [
            ("Case file", source["file"] if source else "not read from a file"),
            ("Revision, entered by", f"{result['revision'] or 'not given'}, {result['by'] or 'not given'}"),
            ("Printed", packet["made"] or "date not given"),
            ("Program", f"rigcheck {packet['program']}"),
            ("SHA-256 of the file", source["sha256"] if source else "-"),
            *((("Note", result["note"]),) if result["note"] else ()),
        ]
    )
