"""Cases that must get the answer of another one: mirrored, in other units, in another order, written out.

Each takes a case as in a file and gives another; `differences` says where their answers part.
"""

import tomllib
from collections.abc import Mapping
from copy import deepcopy
from typing import Any

import numpy as np

from rigcheck.assessment.assess import Assessment, assess
from rigcheck.case import CaseError, check_case, defaulted_keys
from rigcheck.case.rig import Rig
from rigcheck.quantities import Dimension
from tests.support.extreme_rigs import KINDS, Data, _value, quantities

SI: dict[Dimension, tuple[str, float]] = {
    "length": ("mm", 25.4),
    "thickness": ("mm", 25.4),
    "force": ("N", 4.4482216152605),
    "stress": ("MPa", 0.006894757293168361),
    "stiffness": ("N/mm", 0.1751268352464764),
    "speed": ("m/s", 0.0254),
    "area load": ("Pa", 6894.757293168361),
    "area": ("mm2", 645.16),
    "density": ("kg/m3", 27679.904710191),
    "flow": ("L/s", 0.016387064),
}
"""Unit and how many of it an inch, a pound-force and so on is: 25.4 mm, 0.45359237 kg x 9.80665 m/s2, exact."""
SAME = 1e-9
POINTS = {("haul", "tie_down"): ("from", "to"), ("haul", "stop"): ("at",)}
_OTHER = {"left": "right", "right": "left"}


def in_si(data: Data) -> Data:
    """The same case in units of the SI wherever its kind has one."""
    new = deepcopy(data)
    for holder, step, path in list(quantities(new)):
        dimension = _dimension(path)
        if dimension in SI:
            unit, times = SI[dimension]
            holder[step] = f"{_value(holder[step], dimension) * times!r} {unit}"
    return new


def _dimension(path: str) -> Dimension:
    return KINDS.spans[path].dimension


def turned_round(data: Any) -> Any:
    """The same case with the keys of every table in the opposite order; rows of a list keep theirs."""
    if isinstance(data, Mapping):
        return {key: turned_round(value) for key, value in reversed(data.items())}
    return [turned_round(one) for one in data] if isinstance(data, list) else data


def written_out(data: Data) -> Data:
    """The same case with every default that stood written into it; those that a case cannot say are left out."""
    new = deepcopy(data)
    for one in defaulted_keys(check_case(data)):
        trial = deepcopy(new)
        *way, last = _steps(one.path)
        here: Any = trial
        for step in way:
            here = here[step] if isinstance(step, int) else here.setdefault(step, {})
        here[last] = _parsed(one.value)
        try:
            check_case(trial)
        except CaseError:  # a value in words, such as "as box.width"
            continue
        new = trial
    return new


def _steps(path: str) -> list[str | int]:
    found: list[str | int] = []
    for name in path.split("."):
        word, bracket, number = name.partition("[")
        found += [word, int(number[:-1]) - 1] if bracket else [word]
    return found


def _parsed(text: str) -> Any:
    try:
        return tomllib.loads(f"value = {text}")["value"]
    except tomllib.TOMLDecodeError:
        return text


def mirrored(data: Data) -> Data:
    """The case seen in a mirror: what stands left stands right, and the other way round."""
    new = deepcopy(data)
    for rows, key in ((new.get("fitting", []), "across"), (new.get("plant", {}).get("foot", []), "across")):
        for row in rows:
            if key in row:
                row[key] = _turned(row[key])
    if "cg_across" in new.get("plant", {}):
        new["plant"]["cg_across"] = _turned(new["plant"]["cg_across"])
    haul = new.get("haul", {})
    for (_, table), names in POINTS.items():
        for row in haul.get(table, []):
            for name in names:
                row[name] = [row[name][0], _turned(row[name][1]), row[name][2]]
    for row in haul.get("stop", []):
        row["direction"] = _OTHER.get(row["direction"], row["direction"])
    if "leading_end" in haul:
        haul["leading_end"] = _OTHER.get(haul["leading_end"], haul["leading_end"])
    return new


def _turned(text: str) -> str:
    return f"{-_value(text, 'length')!r} in"


def uses(found: Assessment) -> dict[tuple[str, str, bool, bool], float]:
    """The highest utilization of each part and mode."""
    told: dict[tuple[str, str, bool, bool], float] = {}
    for one in found.worst:
        key = one.check.part, one.check.mode, one.check.snag, one.check.on_accidents
        told[key] = max(told.get(key, -1.0), float(np.max(one.utilization)))
    return told


def answer(data: Data) -> tuple[dict[tuple[str, str, bool, bool], float], set[str], list[str]]:
    """Utilizations, findings and what is not assessed of one case; no utilization of a rig that a finding stops."""
    found = assess(Rig(check_case(data)))
    told = {} if bool(found.stopped) else uses(found)
    return told, {flag.code for flag in found.flags}, [repr(one) for one in found.not_assessed]


STATED = {"gentler_than_usual"}
"""Findings on what is stated; a default is no statement."""


def differences(data: Data, other: Data, *, same: float = SAME) -> list[str]:
    """Where the answers to two cases part.

    Args:
        data: A case as in a file.
        other: Another that must get the same answer.
        same: How far utilizations may be apart, as a share.

    Of a rig that stops only the findings are compared. Near a dead center the pull of a line has no limit, and which
    way of sharing is left there is decided by the last digit of a number: seed "rel 10" of extreme rigs, 6 in wide and
    19 ft long, has a cross-member used 17,663 times in one picture and 15,895 times in its mirror.
    """
    (mine, codes, missing), (theirs, other_codes, other_missing) = answer(data), answer(other)
    wrong = [f"checks: {sorted(mine.keys() ^ theirs.keys())}"] if mine.keys() != theirs.keys() else []
    wrong += [
        f"{key[0]}, {key[1]}: {mine[key]!r} and {theirs[key]!r}"
        for key in mine.keys() & theirs.keys()
        if not np.isclose(mine[key], theirs[key], rtol=same, atol=1e-9)
    ]
    apart = (codes ^ other_codes) - STATED
    wrong += [f"findings: {sorted(apart)}"] if apart else []
    return wrong + (["what is not assessed"] if missing != other_missing else [])


SAME_ANSWER = {"in SI": in_si, "keys turned round": turned_round, "written out": written_out, "mirrored": mirrored}
"""Name of a relation to what makes the other case."""
