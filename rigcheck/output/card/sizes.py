"""The rig as it was checked, for the last page of a card: sizes, marks to look for on the tags, folding, road."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import ceil
from typing import Any

import numpy as np

from rigcheck.analysis.folded import Folded
from rigcheck.assessment.assess import Assessment
from rigcheck.case.rig import Rig
from rigcheck.loads.sharing import pivots
from rigcheck.output.hoist_words import hoist_plain, rating_text
from rigcheck.output.shop_words import length_words, pitch_words, size_words
from rigcheck.parts.hinge.ears import has_plates
from rigcheck.parts.tie_down.checks import strap_name
from rigcheck.studies.hardware.road import marks_together, strap_needs
from rigcheck.studies.hoist_window.study import HoistWindow, hoist_windows
from rigcheck.tables.rope import clip_count
from rigcheck.wording.plain import Plain
from rigcheck.wording.scale import Scale, ratio
from rigcheck.wording.words import number

Pairs = list[list[str]]

SLIGHT = 0.5  # lb: a pull under this is rounding
_NAME = 44  # letters of a strap; a longer name stands whole in the packet


def box_sizes(rig: Rig, *, result: Mapping[str, Any], scale: Scale) -> Pairs:
    """The box as it was built: names with their sizes."""

    def length(key: str) -> str:
        return length_words(scale.one(rig.number(key), dimension="length"), unit=scale.label("length"))

    unit = result["units"]["force"]
    pulls = [float(one["line"]["force"]) for one in result["worst_loads"] if one["line"]]
    deployed = next(row for row in result["states"] if row["fold_deg"] == 0.0)
    pitch = pitch_words(scale.one(rig.number("box.pitch"), dimension="pitch") or 0.0, unit=result["units"]["pitch"])
    hardest = number(max(pulls, default=0.0), unit=unit, rounding="up")
    line = length_words(deployed["line_length"], unit=scale.label("length"))
    downstream = float(rig.number("perch.downstream"))
    most = " at the widest and the highest place" if rig.value("stretch") else ""
    way = "straight over it"
    if downstream:
        way = f"{length('perch.downstream').lstrip('-')} {'upstream' if downstream < 0.0 else 'downstream'} of it"
    return [
        ["Empty weight", number(result["empty"]["weight"], unit=unit, rounding="up")],
        ["Longest box", f"{length('box.length')}, as built; do not lengthen, widen or raise the sides"],
        ["Inside width, sides", f"{length('box.width')}, {length('box.side_height')}{most}"],
        ["Running pitch", f"{pitch} with both lines {line} pin to pin"],
        ["Perch lugs", f"{length('perch.height')} above the hinge axis, {way}"],
        ["Hangers", f"{length('hanger.at')} from the hinge along the floor"],
        ["Highest pull of a line", f"{hardest}, unfactored" if pulls else "none can be given: dead center"],
    ]


def tags(assessment: Assessment, *, scale: Scale) -> list[Plain]:
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
        held_to = [one for one in assessment.worst if one.check.key == link.key and not one.check.ultimate]
        need = max((ratio(one.utilization) or 0.0 for one in held_to), default=0.0)
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
            apart = length_words(space, unit=scale.label("length"), rounding="up")
            clips = f"{rule.forged} forged clips at each eye, {apart} apart or more, tightened after the first load"
        found.append(
            {
                "link": link.label,
                "hoist": False,
                "least": least if held_to else None,
                "text": f"{what} {tens(least, unit=unit)} or more" if held_to else "not assessed",
                "window": None,
                "most": None,
                "more": clips,
                "count": described.count,
            }
        )
    return found


def _hoist(window: HoistWindow, *, count: int, scale: Scale) -> Plain:
    """A hoist: from what the line needs to what it may break at most when the box is snagged."""
    (one,) = hoist_plain([window], scale=scale)
    window_words = rating_text(one["least"], one["most"], unit=scale.label("force"))
    return {
        "link": one["part"],
        "hoist": True,
        "least": one["least"],
        "text": f"working load limit on the tag {window_words}",
        "window": window_words,
        "most": one["most"],
        "more": "marked for holding a hung load",
        "count": count,
    }


def shortened(text: str, *, most: int) -> str:
    """A text of so many letters at most; what is cut is marked."""
    return text if len(text) <= most else f"{text[: most - 3].rstrip()}..."


def tens(value: float, *, unit: str) -> str:
    """A rating to look for, rounded up to the next ten."""
    return number(ceil(value / 10.0 - 1e-9) * 10.0, unit=unit, rounding="up")


def steel_sizes(rig: Rig, *, scale: Scale) -> Pairs:
    """Sizes of the steel that carries, as built; not described is said."""

    def size(key: str) -> str:
        if not rig.has(key):
            return "NOT described"
        return size_words(scale.one(rig.number(key), dimension="length"), unit=scale.label("length"))

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
    if not has_plates(rig):
        pin, wall, leg = (size(f"hinge.{key}") for key in ("pin", "barrel_wall", "weld"))
        return f"pin {pin}, barrel wall {wall}, weld leg {leg}"
    pivot = pivots(rig)
    told = [f"pin {size('hinge.pin')} in {rig.value('hinge.shear') or 'single'} shear"]
    if pivot:
        told = [f"center pivot, bar {size('hinge.pin')}"]
    for key, plates in (
        ("hinge.ear", "ears of the box"),
        ("hinge.plant_ear", f"{'lug' if pivot else 'ears'} of the plant"),
    ):
        if rig.value(key) is None:
            told.append(f"{plates} NOT described")
        else:
            told.append(f"{plates} {size(f'{key}.plate')}, weld leg {size(f'{key}.weld')}")
    return "; ".join(told)


def folding(rig: Rig, *, fold: Mapping[str, Any] | None, snub: float, scale: Scale) -> list[str]:
    """How far the box may be folded, what its lines pull and what its snub line holds."""
    if fold is None:
        return ["Folding is not described: do not fold this box on its lines."]
    angle = number(fold["to"], unit="deg", rounding="down")
    if fold["alone"]["verdict"] == "over":
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
    if snub > SLIGHT:
        found.append(f"Snub line: {tens(snub, unit=fold['units']['force'])} or more on the tag.")
    return [*found, "Latch or pin the folded box before leaving it."]


def road(rig: Rig, *, road: Folded | None, scale: Scale) -> list[str]:
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
        name = shortened(strap_name(rig, i), most=_NAME)
        if max(pull, breaking) <= SLIGHT:
            found.append(f"{name}: nothing pulls it; it counts toward number and sum.")
            continue
        parts = f", breaking at {force(breaking)} or more" if breaking > pull else ""
        found.append(f"{name}: {what} {force(pull)} or more{parts}.")
    found.append(f"All {count} marks, as the rule counts them, come to {force(marks_together(road))} or more.")
    stops = len(rig.value("haul.stop") or ())
    if stops:
        found.append(f"Stops the folded box leans on: {stops}.")
    return [*found, "Hoists are not tie-downs."]
