"""The study of hardware as one plain dict, `rigcheck.hardware/2`, and its screen made from that alone."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rigcheck.analysis.rows import OVER
from rigcheck.case.models.case import Case
from rigcheck.output.check.result import Source
from rigcheck.output.hoist_words import rating_text
from rigcheck.output.instructions import stop_words
from rigcheck.output.rig_words import answer_style, opening, rig_line
from rigcheck.output.screen import Column, Look, Page
from rigcheck.quantities import System, convert
from rigcheck.studies.hardware.record import AS_IT_IS, Choice, Hardware, Size
from rigcheck.wording.cautions import CAUTIONS
from rigcheck.wording.marks import marked
from rigcheck.wording.plain import Plain
from rigcheck.wording.scale import Scale, ratio
from rigcheck.wording.words import percent, state_word

SCHEMA = "rigcheck.hardware/2"


def hardware_result(found: Hardware, *, case: Case, source: Source | None = None, system: System = "us") -> Plain:
    """The shopping list, ready for JSON.

    Args:
        found: The study.
        case: The case it was made from.
        source: The file the case came from.
        system: Units of its numbers; sizes and tags stay in words of the trade.

    Returns:
        The result; no NaN and no infinity in it.
    """
    scale = Scale(system)
    return {
        "schema": SCHEMA,
        "title": case.title,
        "input": None if source is None else {"file": source.file, "sha256": source.sha256},
        "units": {"force": convert(0.0, dimension="force", system=system)[1]},
        "max_utilization": found.max_utilization,
        "choices": [_choice(one, scale=scale) for one in found.choices],
        "settled": [_choice(one, scale=scale) for one in found.settled],
        "together": {
            "utilization": None if found.stops else ratio(found.together),
            "highest_utilization": ratio(found.together),
            "part": found.governs[0],
            "mode": found.governs[1],
            "state": found.governs[2],
            "stops": list(found.stops),
            "over": bool(found.stops) or found.together > OVER,
        },
        "complete": not found.not_assessed,
        "not_assessed": list(found.not_assessed),
        "cautions": list(CAUTIONS),
    }


def _choice(one: Choice, *, scale: Scale) -> Plain:
    return {
        "part": one.part,
        "count": one.count,
        "now": one.now,
        "utilization_now": ratio(one.use_now),
        "chosen": _size(one.chosen),
        "next_smaller": _size(one.smaller),
        "needs_rating": scale.one(one.needs, dimension="force") if one.needs > 0.0 else None,
        "most_rating": scale.one(one.most, dimension="force") if one.most > 0.0 else None,
        "from_table": one.listed,
        "source": marked(one.source),
        "note": one.note,
    }


def _size(size: Size | None) -> Plain | None:
    if size is None or size.use is None:
        return None
    return {
        "words": size.words,
        "tag": size.tag,
        "utilization": ratio(size.use),
        "fits": size.fits,
        "why_not": None if size.fits else size.why_not,
        "changes": {key: value for key, value in size.changes.items() if isinstance(value, str | float | None)},
    }


def hardware_screen(found: Mapping[str, Any], *, look: Look | None = None) -> str:
    """The whole screen of the shopping list.

    Args:
        found: The result of the study.
        look: Width and color.

    Returns:
        Text; every value in it stands in the result.
    """
    page = Page(look or Look())
    opening(page, found)
    rig_line(page, found)
    page.line()
    most = percent(found["max_utilization"])
    page.line(f"Smallest standard size of each part at {most} utilization at most, each with the"
              " rest of the rig as it is in the case.")  # fmt: skip
    page.heading("Shopping list", keep=26, least=5)
    columns = [Column("no", number=True), Column("part", share=4), Column("now", share=3), Column("util.", number=True),
               Column("buy", share=6), Column("util.", number=True)]  # fmt: skip
    page.table(columns, rows=[_line(one, unit=found["units"]["force"]) for one in found["choices"]])
    _smaller(page, found)
    notes = [("-", f"{one['part']}: {one['note']}") for one in found["choices"] if one["note"]]
    if notes:
        page.heading("To mind")
        page.items(notes)
    _together(page, found)
    page.heading("Where the sizes come from")
    page.items(("-", text) for text in dict.fromkeys(one["source"] for one in found["choices"]))
    if found["not_assessed"]:
        page.heading("NOT ASSESSED, so nothing is chosen for", keep=4)
        page.items(("-", text) for text in found["not_assessed"])
    page.heading("Cautions")
    page.items(("-", text) for text in found["cautions"])
    rest = "--all adds: why not the next smaller, notes, where the sizes come from."
    page.close(f"With all of these: {_after(found)}", rest=rest,
               style=answer_style(found, over=found["together"]["over"]))  # fmt: skip
    return page.text()


def _line(one: Mapping[str, Any], *, unit: str) -> tuple[list[str], str]:
    chosen = one["chosen"]
    if chosen is not None:
        buy, tag, use = chosen["words"], chosen["tag"], percent(chosen["utilization"])
    elif one["needs_rating"] is not None:
        buy, tag, use = "by its mark", rating_text(one["needs_rating"], one["most_rating"], unit=unit), "-"
    else:
        buy, tag, use = "nothing tried passes", "", "-"
    style = "" if chosen is not None else "over" if one["needs_rating"] is None else "tight"
    told = f"{buy}: {tag}" if tag and tag not in buy else buy
    return [str(one["count"]), one["part"], one["now"], percent(one["utilization_now"]), told, use], style


def _smaller(page: Page, found: Mapping[str, Any]) -> None:
    """Why not smaller."""
    texts = []
    for one in found["choices"]:
        small = one["next_smaller"]
        if one["chosen"] is None:
            continue
        if small is None:
            texts.append(("-", f"{one['part']}: the smallest size looked at"))
        else:
            why = f"would be at {percent(small['utilization'])}" if small["fits"] else small["why_not"]
            texts.append(("-", f"{one['part']}: {small['words']} {why}"))
    page.heading("Why not the next smaller")
    page.items(texts)


def _together(page: Page, found: Mapping[str, Any]) -> None:
    all_in = found["together"]
    page.heading("With all of these bought at once", keep=9)
    unit = found["units"]["force"]
    for one in found["settled"]:
        _, part, _, _, buy, use = _line(one, unit=unit)[0]
        then = "then stays as it is" if buy.endswith(AS_IT_IS) else "must then be larger"
        page.line(f"{part} {then}: {buy.removesuffix(AS_IT_IS)}{f' (utilization {use})' if use != '-' else ''}.")
    page.line(_after(found), style=answer_style(found, over=all_in["over"]))


def _after(found: Mapping[str, Any]) -> str:
    """What the rig comes to with all of the list bought."""
    all_in = found["together"]
    fine = "nothing is over" if found["complete"] else "INCOMPLETE: nothing checked is over"
    word = "OVER" if all_in["over"] else fine
    stops = f"; {', '.join(map(stop_words, all_in['stops']))}" if all_in["stops"] else ""
    highest = (
        f"{all_in['part']}, {all_in['mode']}, {percent(all_in['highest_utilization'])}, {state_word(all_in['state'])}"
    )
    return f"{word}: the highest is {highest}{stops}."
