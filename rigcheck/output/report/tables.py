"""Tables of a report: checks, take-off, assumptions, inputs, sources."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from rigcheck.analysis.items import AT_MID_WIDTH
from rigcheck.output.check.why import NO_SIDE
from rigcheck.output.check.words import is_ratio
from rigcheck.output.html_page import items, paragraph, table
from rigcheck.tables.load_cases import LINE_BROKEN, load_case
from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import bound_word, case_word, number, percent, ratio_words, variant_words

GROUPS = {
    "line": "Lines",
    "fold": "Snub line",
    "hinge": "Hinge",
    "hanger": "Hangers and their lugs",
    "perch": "Perches, their lugs and posts",
    "rail": "Rails",
    "floor": "Floor and cross-members",
    "road": "On the road",
    "plant": "The plant under the box",
    "envelope": "Legal height and width on the road",
}


def up(value: float | None, unit: str) -> str:
    """A demand."""
    return number(value, unit=unit, rounding="up")


def down(value: float | None, unit: str) -> str:
    """A capacity."""
    return number(value, unit=unit, rounding="down")


def demand_and_allowable(row: PlainView) -> tuple[str, str]:
    """Demand and allowable of a row, each for its own column; an interaction by its ratio, the same on every page."""
    if is_ratio(row):
        return f"ratio {ratio_words(row['demand'])}", "1"
    return up(row["demand"], row["unit"]), down(row["capacity"], row["unit"])


def verdict(row: PlainView) -> str:
    """The verdict as a word; over stands out without color."""
    word = str(row["verdict"]).replace("_", " ")
    return word.upper() if word == "over" else word


def place(row: PlainView, *, unit: str) -> str:
    """State, bound, side and variant of a row."""
    more = variant_words(row["variant"], unit=unit, short=True)
    side = "" if row.get("group") in NO_SIDE or row.get("part") in AT_MID_WIDTH else row.get("side") or ""
    parts = (case_word(row), bound_word(row.get("bound"), state=row["state"]), side, more)
    return ", ".join(dict.fromkeys(part for part in parts if part))  # a line that broke is state and sharing in one


def short_table(
    rows: Sequence[PlainView], *, units: PlainView, caption: str, bases: Sequence[str], clauses: Sequence[str]
) -> str:
    """Checks with numbers in place of the words for factors and clause."""

    def cited(row: PlainView) -> str:
        return f"F{bases.index(factors(row)) + 1}, S{clauses.index(row['clause']) + 1}"

    heads = (
        "Part: mode",
        "Utilization",
        "Verdict",
        "Demand",
        "Allowable",
        "Load case, sharing, side",
        "Factors, source",
    )
    return table(
        heads,
        rows=[
            (
                f"{row['part']}: {row['mode']}",
                "-" if row["verdict"] == "not_assessed" else percent(row["utilization"]),
                verdict(row),
                *demand_and_allowable(row),
                place(row, unit=units["length"]),
                cited(row),
            )
            for row in rows
        ],
        caption=caption,
        numbers=(1, 3, 4),
        marked=[i for i, row in enumerate(rows) if row["verdict"] == "over"],
    )


def factors(row: PlainView) -> str:
    """What a demand was multiplied by and a capacity divided by, in words."""
    return f"{row['dynamic_factor'] or 'static load'}; {row['basis']}"


def grouped_checks(packet: PlainView) -> str:
    """All working checks, part by part; accidents stand under headings of their own; the words for factors follow."""
    result = packet["result"]
    bases = list(dict.fromkeys(factors(row) for row in result["checks"]))
    clauses = [one["source"] for one in packet["sources"]]
    working = [row for row in result["checks"] if row["capacity_basis"] == "working"]
    strength = [row for row in result["checks"] if row["capacity_basis"] != "working"]
    lost = [row for row in strength if row["state"] == LINE_BROKEN]
    hauled = [row for row in strength if load_case(row["state"]).folded]
    other = [row for row in strength if row not in lost and row not in hauled]
    found: list[tuple[str, list[PlainView]]] = []
    for group in [*GROUPS, *sorted({row["group"] for row in working} - set(GROUPS))]:
        rows = [row for row in working if row["group"] == group]
        if rows:
            found.append((GROUPS.get(group, group.replace("_", " ")), rows))
    found += [
        ("On the road, the set checked against breaking and nominal strength", hauled),
        ("If one line breaks, against strength", lost),
        ("If one hinge group lets go, against strength", other),
    ]
    text = "".join(
        short_table(rows, units=result["units"], caption=caption, bases=bases, clauses=clauses)
        for caption, rows in found
        if rows
    )
    numbered = [f"F{i + 1}: {words}" for i, words in enumerate(bases)]
    text += f"<h3>Factors</h3>{items(numbered, kind='codes')}"
    return text + paragraph("S numbers stand under Sources.")


def take_off_table(result: PlainView) -> str:
    """Weight of the empty box, line by line."""
    units = result["units"]

    def row(name: str, weight: float, at: PlainView, source: str) -> tuple[str, ...]:
        spots = (number(at[axis], unit=units["length"]) for axis in "syn")
        return (name, up(weight, units["force"]), *spots, source)

    rows = [row(one["piece"], one["weight"], one, one["source"]) for one in result["take_off"]]
    rows.append(row("the empty box", result["empty"]["weight"], result["empty"]["cg"], "sum"))
    heads = ("Piece", "Weight", "s", "y", "n", "Where the weight comes from")
    caption = "Take-off of the empty box"
    return table(heads, rows=rows, caption=caption, numbers=(1, 2, 3, 4), marked=(len(rows) - 1,))


def assumptions_table(result: PlainView, *, meanings: Mapping[str, str]) -> str:
    """Every default and every factor that is a choice, with what its key means."""
    alike: dict[tuple[str, str, str, str, str], list[str]] = {}
    for one in result["assumptions"]:
        before, bracket, rest = one["key"].partition("[")
        count, _, after = rest.partition("]")
        key = f"{before}[{{}}]{after}" if bracket else one["key"]
        mark = "DEFAULTED" if one["defaulted"] else "stated"
        meaning = meanings.get(one["key"], "")
        alike.setdefault((key, meaning, _unquoted(one["value"]), mark, one["source"]), []).append(count)
    rows = [(key.format(", ".join(counts)), *rest) for (key, *rest), counts in alike.items()]
    return table(("Key", "What it is", "Value", "Given?", "Where it comes from"), rows=rows)


def _unquoted(value: str) -> str:
    """A value without the quotes that a case file puts round it."""
    return value[1:-1] if len(value) > 1 and value[0] == value[-1] == '"' else value


def inputs_table(inputs: Iterable[PlainView]) -> str:
    """Every key as entered and as read."""
    rows = [(one["key"], one["entered"], one["read_as"] or "the same") for one in inputs]
    return table(("Key", "As entered", "Read as"), rows=rows)


def sources_table(sources: Iterable[PlainView]) -> str:
    """Sources with their mark."""
    rows = [
        (f"S{i + 1}", one["source"], one["known"] or "NO MARK", ", ".join(one["used_for"]))
        for i, one in enumerate(sources)
    ]
    return table(("No.", "Source and clause", "Mark", "Used for"), rows=rows)
