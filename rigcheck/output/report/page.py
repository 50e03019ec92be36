"""The report that goes to the reviewing engineer: one HTML file made from the packet and nothing else."""

from __future__ import annotations

from collections.abc import Callable

from rigcheck.output.html_page import items, page, paragraph, running, running_head, section, table, words
from rigcheck.output.report.body import (
    body_part,
    choices_part,
    details_part,
    drawings_part,
    findings_part,
    governing_part,
    loads_part,
    weights_part,
)
from rigcheck.output.report.decision import decision, identity
from rigcheck.output.report.figures import (
    confirm_part,
    fold_curves,
    fold_part,
    haul_part,
    haul_rows,
    length_part,
    neighbors_part,
    pulls_part,
    rail_part,
    working_part,
)
from rigcheck.output.report.formulas import formulas_part
from rigcheck.output.report.loads import contents_table, free_body_table, plant_table, sharing_table, states_table
from rigcheck.output.report.plant import plant_part
from rigcheck.output.report.tables import assumptions_table, grouped_checks, inputs_table, sources_table
from rigcheck.output.report.words import BEFORE, MARKS, REVIEW_FIELDS, SHARING
from rigcheck.wording.plain import PlainView

_HASH = 12  # letters of the case file's hash at the foot of every printed page
_LETTERS = "ABCDEFGHIJKLMNOP"


def report_html(packet: PlainView) -> str:
    """The whole report.

    Args:
        packet: Everything it shows, of `rigcheck.output.report.data.report_data`.

    Returns:
        HTML; no value in it that is not in the packet.
    """
    title = packet["result"]["title"]
    named = [(name, f"{place}. {heading}", make, "") for place, (name, heading, make) in enumerate(BODY, start=2)]
    ends = [
        (name, f"Appendix {_LETTERS[i]}. {heading}", make, "apart")
        for i, (name, heading, make) in enumerate(APPENDICES)
    ]
    first = section("verdict", heading="1. Decision", body=decision(packet), kind="first")
    body = "".join(
        section(name, heading=heading, body=make(packet), kind=kind) for name, heading, make, kind in [*named, *ends]
    )
    head = f'<header><h1 dir="auto">{words(title)}</h1>{identity(packet)}</header>'
    every = [("verdict", "1. Decision"), *((name, heading) for name, heading, *_ in [*named, *ends])]
    style = running(title, mark=_mark(packet["result"]))
    style += "".join(running_head(name, heading) for name, heading, *_ in ends)
    return page(title, body=f"{head}<main>{first}{_contents(every)}{body}</main>", style=style)


def _contents(every: list[tuple[str, str]]) -> str:
    entries = "".join(f'<li><a href="#{words(name)}">{words(heading)}</a></li>' for name, heading in every)
    note = "Every page of an appendix carries its letter at its head."
    return f'<nav aria-label="Contents"><h2>Contents</h2><ol>{entries}</ol>{paragraph(note, kind="note")}</nav>'


def _mark(result: PlainView) -> str:
    """Revision and hash, so that a loose sheet can be told from that of another run."""
    source, revision = result["input"], result["revision"]
    told = [f"revision {revision}"] if revision else []
    return ", ".join([*told, f"sha256 {source['sha256'][:_HASH]}" if source else "not read from a file"])


def _all_checks(packet: PlainView) -> str:
    return paragraph(BEFORE, kind="note") + grouped_checks(packet)


def _all_loads(packet: PlainView) -> str:
    result = packet["result"]
    text = "<h3>The ways of sharing</h3>" + items(SHARING)
    text += contents_table(packet) + states_table(result) + sharing_table(result) + plant_table(result)
    return text + free_body_table(packet["drawing"], units=result["units"])


def _curves(packet: PlainView) -> str:
    text = "<h3>Rail</h3>" + rail_part(packet) + "<h3>Fold</h3>" + fold_curves(packet)
    text += "<h3>Pull of the lines</h3>" + pulls_part(packet)
    return text + "<h3>How long a box, and sensitivity</h3>" + length_part(packet) + neighbors_part(packet)


def _assumptions(packet: PlainView) -> str:
    text = paragraph("DEFAULTED marks what the case did not give. Check each of them before anything else.")
    return text + assumptions_table(packet["result"], meanings=packet["meanings"])


def _inputs(packet: PlainView) -> str:
    text = inputs_table(packet["inputs"])
    return f"{text}<h3>The file itself</h3><pre>{words(packet['case_text'])}</pre>"


def _sources(packet: PlainView) -> str:
    text = paragraph(
        "Source checked: read in public text. Source not checked: not read, to be verified. Derivation: worked out "
        "here. Own: a choice of our own, no document behind it. Case file: as the case states it, to be checked "
        "against the part itself."
    )
    return text + sources_table(packet["sources"])


def _limits(packet: PlainView) -> str:
    text = paragraph(MARKS)
    for part in packet["limits"]:
        text += f"<h3>{words(part['heading'])}</h3>" + "".join(paragraph(one) for one in part["text"])
        text += table(part["columns"], rows=part["rows"]) if part["rows"] else ""
    return text


def _cautions(packet: PlainView) -> str:
    return items(packet["result"]["cautions"])


def _review(packet: PlainView) -> str:
    fields = "".join(f"<div><dt>{words(one)}</dt><dd></dd></div>" for one in REVIEW_FIELDS)
    ruled = '<div class="ruled"></div>' * 6
    text = paragraph("For the licensed engineer who reviews this. Nothing here is filled in by the program.")
    return f'{text}<dl class="blank">{fields}</dl><h3>Remarks</h3>{ruled}<h3>Seal</h3><div class="seal"></div>'


Part = tuple[str, str, Callable[[PlainView], str]]
BODY: tuple[Part, ...] = (
    ("drawings", "The rig, to scale", drawings_part),
    ("body", "Free body of the governing case", body_part),
    ("details", "Details of the joints", details_part),
    ("governing", "Governing checks", governing_part),
    ("loads", "Design loads and wind", loads_part),
    ("weights", "Weights and water", weights_part),
    ("fold", "Folding", fold_part),
    ("haul", "Parked and on the road", haul_part),
    ("plant", "The plant under the box", plant_part),
    ("findings", "Findings, and what is not assessed", findings_part),
    ("choices", "Choices that carry most", choices_part),
    ("cautions", "Cautions", _cautions),
    ("review", "Review", _review),
)
APPENDICES: tuple[Part, ...] = (
    ("checks", "All checks, part by part", _all_checks),
    ("states", "Loads of every state", _all_loads),
    ("curves", "Curves", _curves),
    ("road", "The road, case by case", haul_rows),
    ("working", "Worked calculation", working_part),
    ("formulas", "Formulas of the method that are cited", formulas_part),
    ("assumptions", "Assumptions", _assumptions),
    ("inputs", "Inputs as entered", _inputs),
    ("sources", "Sources", _sources),
    ("confirm", "Independent frame check", confirm_part),
    ("limits", "Limits of the method", _limits),
)
