"""The body of a report, short enough to be read: drawings, details, the highest checks, loads, fold, road, findings."""

from __future__ import annotations

from rigcheck.output.drawing.body import free_body_view
from rigcheck.output.drawing.details import details
from rigcheck.output.drawing.plan import cross_section, plan_view
from rigcheck.output.drawing.side import side_view
from rigcheck.output.html_page import facts, figure, items, paragraph, table
from rigcheck.output.report.bodies import body_table, folded_body_table
from rigcheck.output.report.decision import accident_states, highest
from rigcheck.output.report.loads import worst_plant_table, worst_table
from rigcheck.output.report.tables import assumptions_table, factors, short_table, take_off_table, up
from rigcheck.output.report.words import AXES, POUNDS
from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import number, state_word

NO_FORCES = "No forces are drawn: the line passes through the hinge axis or nearly, so none is known."
MOST = 20  # rows of the table of highest checks: two pages at most
CHOICES = ("plant.cross_slope", "plant.fore_aft_slope", "wind.", "factors.", "person.weight", "box.allowance")
"""Keys of the choices that carry most; all of them stand in the appendix."""
_JOINTS = (
    (("hanger_lug",), "hanger lug"), (("perch_lug",), "perch lug"), (("post",), "post base"),
    (("hinge", "ears"), "hinge"), (("cross_member",), "cross-member"),
)  # fmt: skip
"""Joints that have a drawing, by its keys, and their words where it is missing."""
_WINDS = {"wind.hung": "box as it hangs", "wind.parked": "folded and parked", "wind.road": "folded, on the road"}


def drawings_part(packet: PlainView) -> str:
    """The rig to scale, sizes only; the folded box; plan and section."""
    drawing = packet["drawing"]
    made = [(side_view(drawing), "")]
    if drawing["folded"] is not None:
        made.append((side_view(drawing, folded=True), ""))
    made += [(plan_view(drawing), "half"), (cross_section(drawing, water=packet["result"]["water"]), "half")]
    text = "".join(figure(picture, caption=caption, kind=kind) for (picture, caption), kind in made)
    if drawing["forces"] is None:
        text += paragraph(f"Of the deployed box: {NO_FORCES}")
    return text + paragraph(AXES, kind="note")


def body_part(packet: PlainView) -> str:
    """Free body of the governing case, with its sums."""
    body, units = packet["body"], packet["result"]["units"]
    if body is None:
        return paragraph(NO_FORCES)
    picture, caption = free_body_view(body, drawing=packet["drawing"])
    text = (
        ""
        if body["governs"]
        else paragraph("What governs is a count or a size, no force on the box; drawn is the highest check of forces.")
    )
    made = body_table if body["folded"] is None else folded_body_table
    return text + figure(picture, caption=caption) + made(body, units=units)


def details_part(packet: PlainView) -> str:
    """Detail drawings, two beside each other, and what has none."""
    found = packet["details"]
    made = details(found)
    told = "".join(figure(picture, caption=caption, kind="detail") for picture, caption in made)
    left = [word for keys, word in _JOINTS if all(found[key] is None for key in keys)]
    more = paragraph(f"Not described, or of a kind that has no drawing: {', '.join(left)}.") if left else ""
    note = (
        "Sizes as the case has them; weld symbols: leg before, length - pitch behind the triangle, circle = all round."
    )
    return f'<div class="grid">{told}</div>{more}' + paragraph(note, kind="note")


def governing_part(packet: PlainView) -> str:
    """The highest check of each part, and all that is over or tight."""
    result = packet["result"]
    urgent = [row for row in result["checks"] if row["verdict"] in ("over", "tight")]
    tops = highest(result["checks"])
    rows = urgent[:MOST] if len(urgent) >= MOST else [*urgent, *(row for row in tops if row not in urgent)][:MOST]
    rows = [row for row in result["checks"] if row in rows]
    share = number(100.0 * result["tight_above"], digits=3)
    caption = f"All that is over or tight (above {share} %), then the highest of each part, {len(rows)} rows"
    left = len(urgent) - sum(row in rows for row in urgent)
    more = paragraph(f"{left} more rows are over or tight: Appendix A has all of them.") if left > 0 else ""
    bases = list(dict.fromkeys(factors(row) for row in result["checks"]))
    clauses = [one["source"] for one in packet["sources"]]
    note = paragraph("F numbers stand under the tables of Appendix A, S numbers under Sources.", kind="note")
    return short_table(rows, units=result["units"], caption=caption, bases=bases, clauses=clauses) + more + note


def loads_part(packet: PlainView) -> str:
    """Design loads: worst of each state, what the plant carries, wind; the rest stands in the appendix."""
    result = packet["result"]
    return worst_table(result) + worst_plant_table(result, apart=accident_states(result)) + wind_table(packet)


def weights_part(packet: PlainView) -> str:
    """Take-off and water."""
    return take_off_table(packet["result"]) + water_part(packet["result"])


def wind_table(packet: PlainView) -> str:
    """Speed, pressure, coefficient, area and force of each wind."""
    unit = packet["result"]["units"]["force"]
    rows = [
        (
            f"{_WINDS[one['key']]}, {one['face']} ({one['key']})",
            number(one["speed"], unit=one["speed_unit"], digits=3),
            number(one["pressure"], unit=one["pressure_unit"], digits=3),
            number(one["coefficient"], digits=3),
            number(one["area"], unit=one["area_unit"], digits=3),
            up(one["force"], unit),
        )
        for one in packet["wind"]
    ]
    heads = ("Wind on", "Speed", "Pressure q", "Coefficient C", "Area A", "Force q C A")
    caption = "Wind: q = 0.00256 V^2 in lb/ft2 and mph (ASCE 7, K = 1), force q C A, unfactored"
    return table(heads, rows=rows, caption=caption, numbers=(1, 2, 3, 4, 5))


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


def findings_part(packet: PlainView) -> str:
    """Findings with their states, what is not assessed, and whether the frame confirmed."""
    result, text = packet["result"], ""
    text += "".join(paragraph(sentence) for sentence in result["why"])
    if result["not_assessed"]:
        text += "<h3>NOT assessed: parts on the load path that the case does not describe well enough</h3>"
        text += items(result["not_assessed"])
    if result["findings"]:
        text += "<h3>Findings, and the states in which they hold</h3>" + items(findings_told(result))
    if result["confirm"]:
        text += paragraph(result["confirm"]["text"])
    return text or paragraph("None.")


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


def choices_part(packet: PlainView) -> str:
    """Choices that carry most: factors, slopes, wind, people."""
    result = packet["result"]
    own = [one for one in result["assumptions"] if one["key"].startswith(CHOICES)]
    count = len(result["defaulted"])
    text = paragraph(f"{count} inputs were not given and took defaults. The choices that carry most stand here, all in "
                     "the appendix on assumptions, marked DEFAULTED.")  # fmt: skip
    pounds = POUNDS if result["units"]["force"] == "lbf" else ""
    short = {**result, "assumptions": own}
    return (
        text
        + assumptions_table(short, meanings=packet["meanings"])
        + (paragraph(pounds, kind="note") if pounds else "")
    )
