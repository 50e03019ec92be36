"""The report that goes to the reviewing engineer: one HTML file made from the packet and nothing else."""

from __future__ import annotations

from collections.abc import Callable

from rigcheck.output.bed_words import bed_paragraph
from rigcheck.output.drawing.plan import cross_section, plan_view
from rigcheck.output.drawing.side import side_view
from rigcheck.output.hoist_words import hoist_sentence
from rigcheck.output.html_page import facts, figure, items, page, paragraph, running, section, table, words
from rigcheck.output.report.figures import (
    confirm_part,
    fold_part,
    haul_part,
    length_part,
    neighbors_part,
    pulls_part,
    rail_part,
    working_part,
)
from rigcheck.output.report.loads import (
    contents_table,
    free_body_table,
    plant_table,
    sharing_table,
    states_table,
    worst_table,
)
from rigcheck.output.report.plant import plant_part
from rigcheck.output.report.tables import (
    assumptions_table,
    checks_table,
    grouped_checks,
    inputs_table,
    sources_table,
    take_off_table,
)
from rigcheck.output.report.words import AXES, BEFORE, MARKS, POUNDS, REVIEW_FIELDS, SHARING
from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import number, state_word

_TOP = 8  # governing checks shown when fewer are tight or over
_HASH = 12  # letters of the case file's hash at the foot of every printed page


def report_html(packet: PlainView) -> str:
    """The whole report.

    Args:
        packet: Everything it shows, of `rigcheck.output.report.data.report_data`.

    Returns:
        HTML; no value in it that is not in the packet.
    """
    title = packet["result"]["title"]
    body, contents = "", ""
    for place, (name, heading, make, kind) in enumerate(SECTIONS, start=1):
        body += section(name, heading=f"{place}. {heading}", body=make(packet), kind=kind)
        contents += f'<li><a href="#{words(name)}">{words(heading)}</a></li>'
    head = f'<header><h1 dir="auto">{words(title)}</h1>{facts(identity(packet["result"]))}</header>'
    return page(
        title,
        body=f'{head}<nav aria-label="Contents"><ol>{contents}</ol></nav><main>{body}</main>',
        style=running(title, mark=_mark(packet["result"])),
    )


def _mark(result: PlainView) -> str:
    """Revision and hash, so that a loose sheet can be told from that of another run."""
    source, revision = result["input"], result["revision"]
    told = [f"revision {revision}"] if revision else []
    return ", ".join([*told, f"sha256 {source['sha256'][:_HASH]}" if source else "not read from a file"])


def identity(result: PlainView) -> list[tuple[str, str]]:
    """What a reader needs to tell this run from another."""
    source = result["input"]
    return [
        ("Case file", source["file"] if source else "not read from a file"),
        ("Revision", result["revision"] or "not given"),
        ("Entered by", result["by"] or "not given"),
        ("Note", result["note"] or "-"),
        ("SHA-256 of the file", source["sha256"] if source else "-"),
        ("Basis of steel", _basis(result["basis"])),
        ("Program", f"rigcheck {result['program']}" if result.get("program") else "rigcheck"),
        ("Units", ", ".join(f"{key.replace('_', ' ')} {unit}" for key, unit in result["units"].items())),
    ]


def _basis(basis: str) -> str:
    known = {
        "lifting": "lifting: ASME BTH-1 design category B, design factor 3.0",
        "frame": "frame: AISC 360 allowable strength",
    }
    return known.get(basis, basis)


def _verdict(packet: PlainView) -> str:
    result = packet["result"]
    text = f'<p class="verdict">{words(result["headline"])}</p>'
    text += "".join(paragraph(sentence) for sentence in result["why"])
    if result["bed_mark"]:
        text += paragraph(bed_paragraph(result["bed_mark"]))
    for one in result["hoists"] or ():
        text += paragraph(hoist_sentence(one, unit=result["units"]["force"]))
    if result["confirm"]:
        text += paragraph(result["confirm"]["text"])
    if result["not_assessed"]:
        text += "<h3>NOT assessed: parts on the load path that the case does not describe well enough</h3>"
        text += items(result["not_assessed"])
    if result["findings"]:
        text += "<h3>Findings, and the states in which they hold</h3>" + items(findings_told(result))
    count = len(result["defaulted"])
    text += paragraph(f"{count} inputs were not given and took defaults; they are marked under Assumptions.")
    pounds = f"{POUNDS} " if result["units"]["force"] == "lbf" else ""
    return text + paragraph(f"{pounds}{BEFORE}", kind="note")


def findings_told(result: PlainView) -> list[str]:
    """Each finding once, with its states."""
    states: dict[tuple[bool, str], list[str]] = {}
    for one in result["findings"]:
        word = state_word(one["state"]) if one["state"] else "any state"
        states.setdefault((one["stops"], one["text"]), []).append(word)
    return [
        f"{'STOPS: ' if stops else ''}{text} ({', '.join(dict.fromkeys(words))})"
        for (stops, text), words in states.items()
    ]


def _drawings(packet: PlainView) -> str:
    drawing = packet["drawing"]
    made = [side_view(drawing)]
    if drawing["folded"] is not None:
        made.append(side_view(drawing, folded=True))
    made += [plan_view(drawing), cross_section(drawing, water=packet["result"]["water"])]
    tall = len(made) - 2
    text = "".join(
        figure(picture, caption=caption, kind="" if place < tall else "half")
        for place, (picture, caption) in enumerate(made)
    )
    text += free_body_table(drawing, units=packet["result"]["units"])
    return text + paragraph(AXES, kind="note")


def _governing(packet: PlainView) -> str:
    result = packet["result"]
    urgent = [row for row in result["checks"] if row["verdict"] in ("over", "tight")]
    rows = urgent if len(urgent) >= _TOP else result["checks"][:_TOP]
    highest = number(100.0 * result["tight_above"], digits=3)
    caption = f"Every check that is over or tight (above {highest} %), or the {_TOP} highest"
    return checks_table(rows, units=result["units"], caption=caption)


def _all_checks(packet: PlainView) -> str:
    return grouped_checks(packet)


def _loads(packet: PlainView) -> str:
    result = packet["result"]
    text = take_off_table(result) + contents_table(packet) + water_part(result)
    text += states_table(result) + worst_table(result) + pulls_part(packet)
    text += "<h3>The ways of sharing</h3>" + items(SHARING)
    return text + sharing_table(result) + plant_table(result)


def _length(packet: PlainView) -> str:
    return length_part(packet) + neighbors_part(packet)


def water_part(result: PlainView) -> str:
    """Depths of water in sentences."""
    found, length = result["water"], result["units"]["length"]
    if found["flow"] is None:
        text = paragraph("No water is described; plain water is taken behind a shut outlet.")
    else:
        normal = found["normal_depth"]
        text = facts(
            [
                ("Flow", number(found["flow"], unit=result["units"]["flow"])),
                ("Normal depth", "none" if normal is None else number(normal, unit=length)),
                ("Critical depth", number(found["critical_depth"], unit=length)),
                ("Load by", f"{found['loaded_by']}, {number(found['depth'], unit=length, rounding='up')}"),
                ("Froude number", number(found["froude"], digits=3)),
                ("Water with solids", number(found["density"], unit=result["units"]["density"])),
                ("Surge over the bed", number(found["surge_depth"], unit=length, rounding="up")),
                ("Force of the feed", number(found["feed_force"], unit=result["units"]["force"], rounding="up")),
            ]
        )
    tail = number(found["pool"]["depth_tail"], unit=length, rounding="up")
    return f"<h3>Water</h3>{text}" + paragraph(f"Outlet shut: the pool stands {tail} over the bed at the tail.")


def _assumptions(packet: PlainView) -> str:
    text = paragraph("DEFAULTED marks what the case did not give. Check each of them before anything else.")
    return text + assumptions_table(packet["result"], meanings=packet["meanings"])


def _inputs(packet: PlainView) -> str:
    text = inputs_table(packet["inputs"])
    return f"{text}<h3>The file itself</h3><pre>{words(packet['case_text'])}</pre>"


def _sources(packet: PlainView) -> str:
    text = paragraph(
        "Seen: read in public text. Memory: not read, to be verified. Derivation: worked out here. Own: a choice of "
        "our own, no document behind it. Case file: as the case states it, to be held against the part itself."
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
    ruled = '<div class="ruled"></div>' * 8
    text = paragraph("For the licensed engineer who reviews this. Nothing here is filled in by the program.")
    return f'{text}<dl class="blank">{fields}</dl><h3>Remarks</h3>{ruled}<h3>Seal</h3><div class="seal"></div>'


SECTIONS: tuple[tuple[str, str, Callable[[PlainView], str], str], ...] = (
    ("verdict", "Verdict and what governs", _verdict, ""),
    ("drawings", "The rig, to scale", _drawings, ""),
    ("governing", "Governing checks", _governing, ""),
    ("checks", "All checks, part by part", _all_checks, ""),
    ("loads", "Loads in each state, and the take-off", _loads, ""),
    ("fold", "Folding", fold_part, ""),
    ("rail", "Rail: axial force, shear, moment, shape", rail_part, ""),
    ("length", "How long a box, and the rig moved a little", _length, ""),
    ("haul", "Parked and on the road", haul_part, ""),
    ("plant", "The plant under the box", plant_part, ""),
    ("working", "Worked calculation", working_part, "apart"),
    ("assumptions", "Assumptions", _assumptions, ""),
    ("inputs", "Inputs as entered", _inputs, ""),
    ("sources", "Sources", _sources, ""),
    ("confirm", "Second opinion", confirm_part, ""),
    ("limits", "Limits of the method", _limits, ""),
    ("cautions", "Cautions", _cautions, ""),
    ("review", "Review", _review, "apart"),
)
