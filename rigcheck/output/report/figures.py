"""Parts of a report that come from studies: charts with their captions, or the sentence that says why there is none."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from rigcheck.output.charts import curve_chart, fold_chart, rail_chart, use_chart
from rigcheck.output.html_page import facts, figure, items, paragraph, table, words
from rigcheck.output.report.tables import demand_and_allowable, down, place, up, verdict
from rigcheck.output.report.words import NOT_THERE
from rigcheck.output.working.html import working_html
from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import bound_sentence, case_word, number, percent, state_word

LONG = 52  # letters of a formula that still fit into a column of paper
_CURVES, _HIGHEST = 6, 3.0  # curves in a chart; use beyond which a curve is left out


def pulls_part(packet: PlainView) -> str:
    """Worst line pull of each state as bars."""
    unit = packet["result"]["units"]["force"]
    worst = [
        {"state": state_word(one["state"]), "force": one["line"]["force"], "words": up(one["line"]["force"], unit)}
        for one in packet["result"]["worst_loads"]
        if one["line"] is not None
    ]
    if not worst:
        return ""
    most = max(worst, key=lambda one: float(one["force"]))
    caption = (
        "Largest pull of one line in each state, as it is. See which state loads the lines most and how far the others "
        "stay below it; the checks multiply each by its own dynamic factor."
    )
    label = f"Bars of the largest line pull by state; the longest is {most['state']} with {most['words']}."
    return figure(use_chart(worst, unit=unit), caption=caption, label=label, kind="tall")


def rail_part(packet: PlainView) -> str:
    """Diagrams of the most stressed rail."""
    found, units = packet["rail_diagrams"], packet["result"]["units"]
    if found is None:
        return paragraph(NOT_THERE["rail"])
    side = f", {found['side']} rail" if found["side"] else ", both rails alike"
    caption = (
        f"N, V and M of the most stressed rail: {place({**found, 'side': None}, unit=units['length'])}{side}, loads "
        f"with their dynamic factor ({found['dynamic_factor']}); {bound_sentence(found['bound'])}. See the jump in N, "
        "V and M where the line pulls above the neutral axis, and that M closes to nothing at the tail."
    )
    shape = found["shape"]
    if shape is not None:
        caption += (
            f" Last panel: fall of the rail from its unloaded place in the state {place(shape, unit=units['length'])}, "
            "unfactored loads, with the stretch of the line as far as it is described."
        )
        if not shape["give_known"]:
            caption += " The stretch of some links is not described, so the tail drops further than shown."
    values = [
        ("Largest fiber stress", f"{up(found['stress'], units['stress'])} at {_length(found['stress_at'], units)}"),
        ("Largest moment", up(max(map(abs, found["moment"])), units["moment"])),
        ("Largest shear", up(max(map(abs, found["shear"])), units["force"])),
        ("Largest axial force", up(max(map(abs, found["axial"])), units["force"])),
    ]
    parts, length = found["stress_parts"], units["length"]
    values += [
        ("Axial force, moment there", f"{number(parts['axial'], unit=units['force'])}, "
                                      f"{number(parts['moment'], unit=units['moment'])}"),
        ("Section of the rail", f"A = {number(parts['area'], digits=4)} {length}2, I = "
                                f"{number(parts['inertia'], digits=4)} {length}4"),
        ("Fiber from the neutral axis", number(parts["fiber"], unit=length, digits=4)),
    ]  # fmt: skip
    if shape is not None:
        values += [
            ("Sag between hinge and hanger", up(shape["sag"], units["length"])),
            ("Drop of the tail", up(shape["tail_deflection"], units["length"])),
        ]
    hanger = _length(found["hanger"], units)
    label = f"Panels along the rail: largest moment {values[1][1]}; the hanger stands at {hanger}."
    return figure(rail_chart(found, units=units), caption=caption, label=label, kind="tall") + facts(values)


def fold_part(packet: PlainView) -> str:
    """The fold: sentences and angles that matter; its curve stands in the appendix."""
    found = packet["fold"]
    if found is None:
        return paragraph(NOT_THERE["fold"])
    units, pull = found["units"], found["pull"]
    text = paragraph(found["headline"], kind="answer") + "".join(paragraph(sentence) for sentence in found["why"])
    angles, line = found["angles"], found["line"]
    values = [
        ("Folded to", number(found["to"], unit="deg")),
        ("Weight counted", up(found["weight"], units["force"])),
        ("Dead center", "none in reach" if angles["dead_point"] is None else number(angles["dead_point"], unit="deg")),
        (
            "Balance point",
            "not reached" if angles["over_center"] is None else number(angles["over_center"], unit="deg"),
        ),
        ("Largest pull, both lines", f"{up(pull['largest'], units['force'])} on each"),
        ("Largest pull, one alone", up(pull["largest_alone"], units["force"])),
        ("Weakest link allows", f"{down(pull['allowed'], units['force'])} ({pull['weakest_link']})"),
        ("Line deployed, folded", f"{_length(line['deployed'], units)}, {_length(line['folded'], units)}"),
        ("Shortest needed, possible", f"{_length(line['shortest'], units)}, {_length(line['least'], units)}"),
        ("Take-up, hoist lift", f"{_length(line['take_up'], units)}, {_length(line['lift'], units)}"),
        ("Re-rigs", "unknown" if line["re_hooks"] is None else str(line["re_hooks"])),
    ]
    return text + facts(values)


def fold_curves(packet: PlainView) -> str:
    """The curve of the fold, and how it was counted."""
    found = packet["fold"]
    if found is None:
        return paragraph(NOT_THERE["fold"])
    units, pull = found["units"], found["pull"]
    caption = (
        "Pull of each line and length of the line while the box is folded, unfactored. See where the pull peaks, "
        "whether it runs away toward dead center, and whether the line must become shorter than its links allow. "
        "A gap is "
        "where no line holds."
    )
    label = f"Line pull over the fold angle; the largest is {up(pull['largest'], units['force'])} on each of two lines."
    text = figure(fold_chart(found), caption=caption, label=label)
    return text + "<h3>How it was counted</h3>" + items(found["assumptions"])


def _length(value: float | None, units: PlainView) -> str:
    return "not described" if value is None else number(value, unit=units["length"])


def length_part(packet: PlainView) -> str:
    """The length curve, where a study gave one."""
    found = packet["length"]
    if found is None:
        return paragraph(NOT_THERE["length"])
    text = "".join(paragraph(sentence) for sentence in found["answer"])
    low = [one for one in found["parts"] if any(use is not None and use <= _HIGHEST for use in one["utilization"])]
    shown = low[:_CURVES]
    beyond = [one["part"] for one in found["parts"] if one not in low]
    if beyond:
        text += paragraph(f"Beyond {100.0 * _HIGHEST:g} % at every length and so not drawn: {', '.join(beyond)}.")
    most = 100.0 * _HIGHEST
    curves = {
        "x": {"title": f"Length of the box, {found['unit']}", "values": found["values"]},
        "y": {"title": "Utilization, %"},
        "lines": {
            one["part"]: [None if use is None or 100.0 * use > most else 100.0 * use for use in one["utilization"]]
            for one in shown
        },
        "level": 100.0,
        "now": found["now"],
    }
    label = "Utilization of the parts over the length of the box; the thick level line is 100 %."
    caption = (
        f"The {len(shown)} parts that come highest, at {len(found['values'])} lengths and straight between. "
        "The thick line is 100 %, the dashed upright line the box as it is; each curve is named at its "
        "end. See which part sets the length. "
        f"What is beyond {most:g} % is left out; a finding that stops the rig does not show here."
    )
    text += figure(curve_chart(curves, name="length"), caption=caption, label=label, kind="tall")
    return text + "<h3>What moves along</h3>" + items(found["rules"])


def neighbors_part(packet: PlainView) -> str:
    """The case with one input moved."""
    found = packet["neighbors"]
    if found is None:
        return ""
    rows = [
        (
            one["what"],
            percent(one["utilization"]),
            "OVER" if one["over"] else "not over",
            f"{one['part']}, {one['mode']}, {state_word(one['state'])}",
            "; ".join(one["stops"]) or "-",
        )
        for one in found
    ]
    heads = ("Moved", "Highest utilization", "Verdict", "By", "Stopped by")
    marked = [i for i, one in enumerate(found) if one["over"]]
    caption = "The same rig with one input moved by what a tape may miss"
    return table(heads, rows=rows, caption=caption, numbers=(1,), marked=marked)


def haul_part(packet: PlainView) -> str:
    """The road: sentences, the highest check of each part that carries, what to do before."""
    found = packet["haul"]
    if found is None:
        return paragraph(NOT_THERE["haul"])
    text = paragraph(found["headline"], kind="answer") + "".join(paragraph(sentence) for sentence in found["why"])
    if found["alone"]["not_assessed"]:
        text += "<h3>NOT assessed</h3>" + items(found["alone"]["not_assessed"])
    tops = [one for one in _highest_of_each(found) if one["demand"]]
    if tops:
        caption = "Checks of the folded box, each part at its worst; what carries nothing stands in the appendix"
        text += _road_checks(tops, caption=caption)
    return text + "<h3>Before the road</h3>" + items(found["before_the_road"])


def _highest_of_each(found: PlainView) -> list[PlainView]:
    first = {one["part"]: place for place, one in reversed(list(enumerate(found["checks"])))}
    return [one for place, one in enumerate(found["checks"]) if first[one["part"]] == place]


def _road_checks(checks: Sequence[PlainView], *, caption: str) -> str:
    heads = ("Part: mode", "Utilization", "Verdict", "Demand", "Allowable", "When")
    rows = [
        (
            f"{one['part']}: {one['mode']}",
            percent(one["utilization"]),
            verdict(one),
            *demand_and_allowable(one),
            one["row"],
        )
        for one in checks
    ]
    marked = [i for i, one in enumerate(checks) if one["verdict"] == "over"]
    return table(heads, rows=rows, caption=caption, numbers=(1, 3, 4), marked=marked)


def haul_rows(packet: PlainView) -> str:
    """The road row by row, what carries nothing, findings, and how it was counted."""
    found = packet["haul"]
    if found is None:
        return paragraph(NOT_THERE["haul"])
    text, idle = _road_rows(found), [one for one in _highest_of_each(found) if not one["demand"]]
    if idle:
        text += _road_checks(idle, caption="What carries nothing in any row")
    if found["findings"]:
        told = list(dict.fromkeys((one["stops"], one["text"]) for one in found["findings"]))
        text += "<h3>Findings</h3>" + items(f"{'STOPS: ' if stops else ''}{finding}" for stops, finding in told)
    return text + "<h3>How it was counted</h3>" + items(found["yardstick"])


def _road_rows(found: PlainView) -> str:
    force = found["units"]["force"]
    rows = []
    for one in found["rows"]:
        if not one["held"]:
            rows.append((one["row"], "NOTHING holds it", "-", "-", "-"))
            continue
        pulls = [max(values, default=None) for values in (one["tie_downs"], one["stops"], list(one["line"].values()))]
        most = [up(value, force) if value else "-" for value in pulls]
        rows.append((one["row"], *most, up(one["hinge_most"], force)))
    heads = ("Load case", "Highest-loaded tie-down", "Highest-loaded stop", "Highest-loaded line", "One hinge group")
    return table(heads, rows=rows, caption="What holds it, case by case, unfactored forces", numbers=(1, 2, 3, 4))


def working_part(packet: PlainView) -> str:
    """The worked calculation, where there is one."""
    found = packet["working"]
    if found is None:
        return paragraph(NOT_THERE["working"])
    note = "Results carry five digits here; elsewhere four, demands rounded up and allowables down."
    return paragraph(note, kind="note") + _worked_list(packet) + working_html(_foldable(found))


def _worked_list(packet: PlainView) -> str:
    """What is worked and, of what is over or tight, what is not."""
    sections = [one for one in packet["working"]["sections"] if one["steps"]]
    rows = [
        (f"{place}. {one['part']}", one["title"], "-" if one["utilization"] is None else percent(one["utilization"]))
        for place, one in enumerate(packet["working"]["sections"], start=1)
        if one in sections
    ]
    text = table(("Worked under", "Check", "Utilization"), rows=rows, numbers=(2,))
    done = {one["title"] for one in sections}
    left = [
        f"{row['part']}: {row['mode']}, {percent(row['utilization'])}, {case_word(row)}"
        for row in packet["result"]["checks"]
        if row["verdict"] in ("over", "tight") and f"{row['part']}: {row['mode']}" not in done
    ]
    if left:
        text += "<h3>Over or tight, and not worked out by hand here</h3>" + items(left)
        text += paragraph("`rigcheck working --part` works out the highest of each part and no more.", kind="note")
    return text


def _foldable(found: Any) -> Any:
    """The same calculation with long formulas as text, which breaks over lines where MathML would leave the page."""
    if isinstance(found, Mapping):
        if {"text", "mathml"} <= found.keys() and len(found["text"]) > LONG:
            return {**found, "mathml": f"<code>{words(found['text'])}</code>"}
        return {key: _foldable(value) for key, value in found.items()}
    return [_foldable(one) for one in found] if isinstance(found, list | tuple) else found


def _difference(value: float) -> str:
    """A relative difference; what is only rounding is told as such."""
    return "under 0.0001 %" if value < 1e-6 else f"{number(100.0 * value, digits=2, rounding='up')} %"


def _compared(pairs: Sequence[PlainView]) -> list[tuple[str, PlainView, float]]:
    """What is told of the compared quantities: name, pair and difference; of the many torques the largest alone."""
    torques = [pair for pair in pairs if pair["quantity"] == "torque across"]
    told = [(pair["name"], pair, pair["difference"]) for pair in pairs if pair["quantity"] != "torque across"]
    if torques:
        most = max(torques, key=lambda pair: abs(pair["ours"]))
        name = f"{most['name']}, the largest of {len(torques)}"
        told.append((name, most, max(pair["difference"] for pair in torques)))
    return told


def confirm_part(packet: PlainView) -> str:
    """The second opinion, quantity by quantity."""
    found = packet["confirm"]
    if found is None:
        return paragraph(NOT_THERE["confirm"])
    text = paragraph(found["text"])
    for one in found["rows"]:
        rows = [
            (
                name,
                "with factor" if pair["factored"] else "as it is",
                number(pair["ours"], unit=pair["unit"]),
                number(pair["frame"], unit=pair["unit"]),
                _difference(difference),
            )
            for name, pair, difference in _compared(one["comparisons"])
        ]
        heads = ("Quantity", "Loads", "Closed form", "Frame", "Difference")
        text += table(heads, rows=rows, caption=one["label"], numbers=(2, 3, 4))
    return text
