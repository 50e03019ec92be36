"""The shop card as one plain dict: the rig's limits in shop words, taken from a result and the case."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import ceil
from typing import Any

import numpy as np

from rigcheck.analysis.folded import Folded
from rigcheck.assessment.assess import Assessment
from rigcheck.case.rig import Rig
from rigcheck.output.bed_words import bed_paragraph, bed_plain
from rigcheck.output.card.words import (
    BEFORE_HANG,
    BEFORE_HAUL,
    KEEP_OUT,
    NEVER,
    PLANT_FEET,
    PLANT_UNKNOWN,
    RECHECKS,
    STOP,
)
from rigcheck.output.drawing.data import drawing_data
from rigcheck.output.hoist_words import hoist_plain, rating_text
from rigcheck.output.rig_words import missing_words
from rigcheck.parts.plant.checks import not_described
from rigcheck.parts.tie_down.checks import strap_name
from rigcheck.quantities import System
from rigcheck.studies.bed_mark.study import BedMark
from rigcheck.studies.hardware.road import marks_together, strap_needs
from rigcheck.studies.hoist_window.study import HoistWindow, hoist_windows
from rigcheck.tables.rope import clip_count
from rigcheck.wording.cautions import CAUTIONS
from rigcheck.wording.plain import Plain
from rigcheck.wording.scale import Scale
from rigcheck.wording.words import number, percent, state_word

Pairs = list[list[str]]

SCHEMA = "rigcheck.card/2"
_NOTHING = 0.5  # lb: a pull under this is rounding
_TOLD = 12  # parts that are over; the card is one page


def card_data(
    assessment: Assessment,
    *,
    result: Mapping[str, Any],
    bed: BedMark,
    fold: Mapping[str, Any] | None,
    system: System = "us",
) -> Plain:
    """Everything on the card, ready for JSON.

    Args:
        assessment: The answer for one rig.
        result: Its result, in the same units.
        bed: Its bed mark, asked for where nothing is over.
        fold: Its fold study, None where the case says nothing of folding.
        system: Units of every number.

    Returns:
        The card.
    """
    rig, scale = assessment.solution.rig, Scale(system)
    over = result["verdict"] == "over"
    mark = None if over else bed_plain(bed, scale=scale)
    first, second = _first(result, mark=mark)
    return {
        "schema": SCHEMA,
        "title": result["title"],
        "revision": result["revision"],
        "by": result["by"],
        "input": result["input"],
        "verdict": result["verdict"],
        "tight": result["tight"],
        "complete": result["complete"],
        "headline": result["headline"],
        "over": _over(result) if over else [],
        "units": result["units"],
        "hang": _hang(result),
        "bed": mark,
        "first": first,
        "second": second,
        "box": _box(rig, result=result, scale=scale),
        "tags": [] if over else _tags(assessment, result=result, scale=scale),
        "steel": [] if over else _steel(rig, scale=scale),
        "folding": [] if over else _folding(rig, fold=fold, scale=scale),
        "road": [] if over else _road(rig, road=assessment.solution.road, scale=scale),
        "keep_out": scale.one(rig.number("box.length") + KEEP_OUT, dimension="length"),
        "not_assessed": list(result["not_assessed"]),
        "never": list(NEVER),
        "stop": [] if over else list(STOP),
        "before_hang": [] if over else [*BEFORE_HANG, PLANT_UNKNOWN if not_described(rig) else PLANT_FEET],
        "before_haul": [] if over else list(BEFORE_HAUL),
        "rechecks": RECHECKS,
        "cautions": list(CAUTIONS),
        "drawing": drawing_data(assessment, scale=scale),
    }


def _first(result: Mapping[str, Any], *, mark: Plain | None) -> tuple[str, str]:
    """The large line, and the small one behind it."""
    if mark is None:
        return "DO NOT HANG this box as it is described.", "No bed mark, no least sizes and no folding list are given."
    said = bed_paragraph(mark)
    if not result["complete"]:
        missing = missing_words(len(result["not_assessed"]))
        return f"INCOMPLETE: {missing}. Do not hang the box before that is done.", f"As far as checked: {said}"
    return mark["text"], said.removeprefix(mark["text"]).strip()


def _over(result: Mapping[str, Any]) -> list[str]:
    """What is over, the worst first, each part once."""
    stops = [one for one in result["findings"] if one["stops"]]
    told = list(dict.fromkeys(f"{one['text'][:1].upper()}{one['text'][1:]}" for one in stops))
    rows: dict[str, str] = {}
    for row in result["checks"]:
        if row["verdict"] == "over":
            use = percent(row["utilization"])
            rows.setdefault(row["part"], f"{row['part']}: {row['mode']}, {use}, in {state_word(row['state'])}")
    every = [*told, *rows.values()]
    more = len(every) - _TOLD
    return [*every[:_TOLD], f"{more} more; `rigcheck check` lists all."] if more > 0 else every


def _hang(result: Mapping[str, Any]) -> str:
    """The sentence that comes before everything else."""
    if result["verdict"] == "over":
        return "What is over stands below; `rigcheck check` lists all of it. Mend it and check again."
    if not result["complete"]:
        return "What is not assessed stands below, the most decisive first: describe it and check again."
    tight = " Some parts are tight." if result["tight"] else ""
    return f"Nothing that was checked is over.{tight} The limits below hold for the rig as described and no other."


def _box(rig: Rig, *, result: Mapping[str, Any], scale: Scale) -> Pairs:
    def length(key: str) -> str:
        return number(scale.one(rig.number(key), dimension="length"), unit=scale.label("length"), digits=4)

    unit = result["units"]["force"]
    pulls = [float(one["line"]["force"]) for one in result["worst_loads"] if one["line"]]
    deployed = next(row for row in result["states"] if row["fold_deg"] == 0.0)
    pitch = number(scale.one(rig.number("box.pitch"), dimension="pitch"), unit=result["units"]["pitch"])
    hardest = number(max(pulls, default=0.0), unit=unit, rounding="up")
    line = number(deployed["line_length"], unit=scale.label("length"), digits=4)
    downstream = float(rig.number("perch.downstream"))
    way = "straight over it"
    if downstream:
        way = f"{length('perch.downstream').lstrip('-')} {'upstream' if downstream < 0.0 else 'downstream'} of it"
    return [
        ["Empty weight", number(result["empty"]["weight"], unit=unit, rounding="up")],
        ["Longest box", f"{length('box.length')}, as built; do not lengthen, widen or raise the sides"],
        ["Inside width, sides", f"{length('box.width')}, {length('box.side_height')}"],
        ["Running pitch", f"{pitch} with both lines {line} pin to pin"],
        ["Perch lugs", f"{length('perch.height')} above the hinge axis, {way}"],
        ["Hangers", f"{length('hanger.at')} from the hinge along the floor"],
        ["Highest pull of one line", f"{hardest}, before factors" if pulls else "none can be given: dead center"],
    ]


def _tags(assessment: Assessment, *, result: Mapping[str, Any], scale: Scale) -> list[Plain]:
    """Least rating of each link of a line; None where nothing was held against it."""
    rig = assessment.solution.rig
    wear = float(np.max(rig.number("line.wear")))
    unit = scale.label("force")
    windows = {one.index: one for one in hoist_windows(assessment)}
    found: list[Plain] = []
    for place, link in enumerate(assessment.solution.links):
        if place in windows:
            found.append(_hoist(windows[place], count=rig.value("line.link")[place].count, scale=scale))
            continue
        described = rig.value("line.link")[place]
        rows = [row for row in result["checks"] if row["part"] == link.label and row["mode"] == "working load limit"]
        need = max((row["utilization"] or 0.0 for row in rows), default=0.0)
        working = scale.one(link.working, dimension="force") or 0.0
        by_breaking = link.kind == "wire rope" and not rig.has(f"line.link.{place}.wll") and link.ultimate is not None
        held = working
        if by_breaking and link.ultimate is not None:
            held = scale.one(link.ultimate, dimension="force") or 0.0
        else:
            way = link.rating.working[0]
            held *= float(np.max(way.start)) / float(np.max(way.value)) if float(np.max(way.value)) else 1.0
        least = need * held / (1.0 - wear)
        what = "breaking force, what its ends keep of it," if by_breaking else "working load limit on the tag"
        clips = ""
        if described.termination == "clips" and described.diameter:
            rule = clip_count(described.diameter)
            space = scale.one(rule.spacing, dimension="length")
            apart = number(space, unit=scale.label("length"), rounding="up")
            clips = f"{rule.forged} forged clips at each eye, {apart} apart or more, tightened after the first load"
        found.append(
            {
                "link": link.label,
                "least": least if rows else None,
                "text": f"{what} {_tens(least, unit=unit)} or more" if rows else "not assessed",
                "most": None,
                "more": clips,
                "count": described.count,
            }
        )
    return found


def _hoist(window: HoistWindow, *, count: int, scale: Scale) -> Plain:
    """A hoist: from what the line needs to what it may break at most when the box is snagged."""
    (one,) = hoist_plain([window], scale=scale)
    return {
        "link": one["part"],
        "least": one["least"],
        "text": f"working load limit on the tag {rating_text(one['least'], one['most'], unit=scale.label('force'))}",
        "most": one["most"],
        "more": "marked for holding a hung load",
        "count": count,
    }


def _tens(value: float, *, unit: str) -> str:
    """A rating to look for, rounded up to the next ten."""
    return number(ceil(value / 10.0 - 1e-9) * 10.0, unit=unit, rounding="up")


def _steel(rig: Rig, *, scale: Scale) -> Pairs:
    """Sizes of the steel that carries, as built; not described is said."""

    def size(key: str) -> str:
        if not rig.has(key):
            return "NOT described"
        return number(scale.one(rig.number(key), dimension="length"), unit=scale.label("length"), digits=4)

    found: Pairs = []
    for part, name in (("hanger.lug", "Hanger lugs"), ("perch.lug", "Perch lugs")):
        if rig.value(part) is None:
            found.append([name, "NOT described"])
            continue
        edge, plate = size(f"{part}.edge"), size(f"{part}.plate")
        weld, run = size(f"{part}.weld"), size(f"{part}.weld_length")
        found.append([name, f"hole center to edge {edge}, plate {plate}, weld leg {weld}, {run} on each face"])
    found.append(["Hinge", _hinge_words(rig, size=size)])
    if rig.value("perch.post") is None:
        found.append(["Perch posts", "NOT described"])
    else:
        shape = rig.value("perch.post.shape")
        found.append(["Perch posts", f"{shape}, base weld leg {size('perch.post.weld')} all round"])
    return found


def _hinge_words(rig: Rig, *, size: Callable[[str], str]) -> str:
    """Pin, and the barrels or ears that it goes through."""
    if rig.value("hinge.kind") != "ears":
        pin, wall, leg = (size(f"hinge.{key}") for key in ("pin", "barrel_wall", "weld"))
        return f"pin {pin}, barrel wall {wall}, weld leg {leg}"
    told = [f"pin {size('hinge.pin')} in {rig.value('hinge.shear') or 'single'} shear"]
    for key, where in (("hinge.ear", "box"), ("hinge.plant_ear", "plant")):
        if rig.value(key) is None:
            told.append(f"ears of the {where} NOT described")
        else:
            told.append(f"ears of the {where} {size(f'{key}.plate')}, weld leg {size(f'{key}.weld')}")
    return "; ".join(told)


def _folding(rig: Rig, *, fold: Mapping[str, Any] | None, scale: Scale) -> list[str]:
    if fold is None:
        return ["Folding is not described: do not fold this box on its lines."]
    angle = number(fold["to"], unit="deg", rounding="down")
    if fold["verdict"] == "over":
        return ["Do NOT fold this box on its lines as described.", f"{fold['headline']}."]
    pull = fold["pull"]
    found = [
        f"Ratchet up {angle} from the deployed box and no further.",
        f"Pull on each line up to {number(pull['largest'], unit=fold['units']['force'], rounding='up')}, on one alone "
        f"up to {number(pull['largest_alone'], unit=fold['units']['force'], rounding='up')}; work both lines together.",
    ]
    if fold["line"]["re_hooks"]:
        found.append(f"Re-hooks on the way: {fold['line']['re_hooks']}; hold the box another way meanwhile.")
    if fold["angles"]["slack"]:
        first = number(fold["angles"]["slack"][0], unit="deg", rounding="down")
        found.append(f"From {first} the lines go slack: snub line on before that, nobody on the far side.")
    return [*found, "Latch or pin the folded box before leaving it."]


def _road(rig: Rig, *, road: Folded | None, scale: Scale) -> list[str]:
    """Each tie-down with what it pulls on the road, which is what its mark must carry."""
    straps = rig.value("haul.tie_down") or ()
    count = sum(one.count for one in straps)
    if not count or road is None:
        return ["No tie-down is described: not for the road as it is."]
    unit = scale.label("force")

    def force(pounds: float) -> str:
        return number(scale.one(pounds, dimension="force"), unit=unit, rounding="up")

    found = []
    for i, strap in enumerate(straps):
        pull, breaking = strap_needs(road, index=i)
        what = f"{strap.count} of them, each marked" if strap.count > 1 else "marked"
        if max(pull, breaking) <= _NOTHING:
            found.append(f"{strap_name(rig, i)}: nothing pulls it; it counts toward number and sum.")
            continue
        parts = f", breaking at {force(breaking)} or more" if breaking > pull else ""
        found.append(f"{strap_name(rig, i)}: {what} {force(pull)} or more{parts}.")
    found.append(f"All {count} marks, as the rule counts them, come to {force(marks_together(road))} or more.")
    stops = len(rig.value("haul.stop") or ())
    if stops:
        found.append(f"Stops the folded box leans on: {stops}.")
    return [*found, "Hoists are not tie-downs."]
