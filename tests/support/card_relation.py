"""The card of a rig and the commands whose numbers stand on it: the same numbers, or rounded to the careful side."""

import json
import re
from math import ceil
from pathlib import Path
from typing import Any

from rigcheck.analysis.links.capacity import links
from rigcheck.assessment.assess import assess
from rigcheck.case import check_case
from rigcheck.case.rig import Rig
from rigcheck.parts.fold.checks import SNUB
from rigcheck.studies.hardware.base import Base
from rigcheck.studies.hardware.choices import choices_for
from rigcheck.studies.hardware.road import road_choices
from rigcheck.tables.link_kinds import HOISTS
from tests.support.extreme_rigs import Data, toml_of
from tests.support.lot import call, worked_once

OVER = "no numbers on the card of a rig that is over"
SLIGHT = 1.0  # lb: a pull that no mark is told for


def card_apart(data: Data, *, folder: Path) -> list[str]:
    """Where the card says another number than `check`, `haul` and the list of hardware.

    Args:
        data: The case as in a file.
        folder: Where its file goes.

    Returns:
        What is apart; that alone in brackets where the card has no numbers.
    """
    file = folder / "rig.toml"
    file.write_text(toml_of(data), encoding="utf-8")
    with worked_once(cures=False):
        card, check = (_json(name, file) for name in ("card", "check"))
        if card["verdict"] == "over":
            return [f"[{OVER}]"]
        road = _json("haul", file)["tie_downs"] if data.get("haul", {}).get("tie_down") else []
    base = Base.of(Rig(check_case(data)), assess(Rig(check_case(data))), max_utilization=check["tight_above"])
    apart = [] if card["bed"] == check["bed_mark"] else [f"bed mark {card['bed']} and {check['bed_mark']}"]
    return [*apart, *_hoists(card, check, base=base), *_straps(card, road), *_snub(card, check, base=base)]


def _json(name: str, file: Path) -> Any:
    code, out, told = call(name, str(file), "--json")
    assert code in (0, 1, 3), told
    return json.loads(out)


def _hoists(card: Any, check: Any, *, base: Base) -> list[str]:
    tags = {one["link"]: (one["least"], one["most"]) for one in card["tags"] if one["hoist"]}
    windows = {one["part"]: (one["least"], one["most"]) for one in check["hoists"]}
    labels = frozenset(link.label for link in links(base.rig) if link.kind in HOISTS)
    bought = choices_for(base, parts=labels) if labels else []
    listed = {one.part: (one.needs, one.most or None) for one in bought if one.part in windows}
    return [] if tags == windows == listed else [f"hoists: card {tags}, check {windows}, hardware {listed}"]


def _straps(card: Any, road: Any) -> list[str]:
    apart = []
    for one in road:
        line = next(text for text in card["road"] if text.startswith(one["name"][:20]))
        told = re.search(r"marked ([\d,.]+) lb", line)
        mark = float(told[1].replace(",", "")) if told else 0.0
        most = max(one["pull"], one["pull_breaking_set"])
        if most > SLIGHT and not one["pull"] <= mark <= 1.01 * one["pull"] + SLIGHT:
            apart.append(f"{one['name']}: card {mark}, haul {one['pull']}")
    return apart


def _snub(card: Any, check: Any, *, base: Base) -> list[str]:
    told = [re.search(r"Snub line: ([\d,]+) lb", line) for line in card["folding"]]
    marks = [float(one[1].replace(",", "")) for one in told if one]
    demands = [row["demand"] for row in check["checks"] if row["part"] == SNUB]
    fold = check["fold"]["pull"]["snub_demand"] if check["fold"] else 0.0
    needs = [one.needs * base.max_utilization for one in road_choices(base) if one.part == SNUB]
    mark = max(marks, default=0.0)
    wanted = 10.0 * ceil(fold / 10.0 - 1e-9) if fold > SLIGHT else 0.0
    apart = [] if mark == wanted else [f"snub line: card {mark}, fold {fold}"]
    apart += [f"snub line: check {one}, fold {fold}" for one in demands if abs(one - fold) > 1e-9 * fold]
    return apart + [f"snub line: hardware {one}, fold {fold}" for one in needs if not fold <= one <= fold + 50.0]
