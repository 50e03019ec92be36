"""States, bounds, variants and numbers as a welder reads them; demands rounded up, capacities down, plain ASCII."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from rigcheck.quantities import Rounding, plain_text
from rigcheck.quantities.units import LARGER, SPOKEN
from rigcheck.quantities.writing import grouped
from rigcheck.tables.load_cases import SNAGGED, load_case

_MOST, _BEYOND = 10.0, "over 1,000 %"  # a utilization past which no digit tells more
DIGITS = {"in": 3, "mm": 3, "deg": 3, "in/ft": 3, "mm/m": 3}

_BOUNDS = {
    "limp": "free to twist",
    "stiff": "torsionally rigid",
    "loose": "hinge free in roll",
    "one_line": "one line alone",
    "lost": "one line broken",
}
_BOUND_SENTENCES = {
    "limp": "the box free to twist, each line holding its own side",
    "stiff": "the box torsionally rigid, both lines sharing alike",
    "loose": "the box torsionally rigid on a hinge that is free in roll",
    "one_line": "one line carrying all of it, as when one is let go for leveling",
    "lost": "one line broken",
}

_VARIANTS = {  # in a sentence, in a table
    "low_side": ("the plant leaning {}", "leans {}"),
    "low_end": ("its {} end low", "{} end low"),
    "gust": ("the gust pressing {}", "gust {}"),
    "pulled_by": ("pulled by {}", "{}"),
    "held": ("held {}", "held {}"),
    "pulled_side": ("on the {}", "{}"),
    "person_side": ("weight on the {} rail", "person {}"),
    "person_s": ("{} from the hinge", "at {}"),
    "packed_side": ("the {} side packed", "packed {}"),
    "traps": ("its traps {}", "traps {}"),
    "fold_deg": ("folded up by {}", "at {}"),
    "while": ("while {}", "while {}"),
    "fore_aft": ("pulled {}", "{}"),
    "side": ("thrown {}", "{}"),
    "direction": ("pushed {}", "{}"),
    "set": ("{} set", "{} set"),
    "wind_to": ("wind toward {}", "wind to {}"),
}


def state_word(state: str) -> str:
    """A load case in a table."""
    return load_case(state).name


def case_word(row: Mapping[str, Any], *, short: bool = False) -> str:
    """The load case of a check: one of a hoist pulled to its full rating is of a snagged box, wherever it stood then.

    Args:
        row: The check, as in a result.
        short: For a narrow column, without the load case whose place it had.
    """
    word, snagged = state_word(row["state"]), state_word(SNAGGED)
    return word if not row.get("snag") or word == snagged else snagged if short else f"{snagged} ({word})"


def state_opening(state: str) -> str:
    """How a sentence about a state begins."""
    return load_case(state).opening


def bound_word(bound: str | None, *, state: str = "") -> str:
    """A way of sharing in two or three words; none where the lines share nothing."""
    return "" if bound is None or load_case(state).folded else _BOUNDS.get(bound, bound.replace("_", " "))


def bound_sentence(bound: str | None, *, state: str = "") -> str:
    """A way of sharing in a clause; empty where the lines share nothing."""
    return "" if bound is None or load_case(state).folded else _BOUND_SENTENCES.get(bound, bound.replace("_", " "))


def number(value: float | None, *, unit: str = "", rounding: Rounding = "nearest", digits: int | None = None) -> str:
    """A number with its unit, thousands marked.

    Args:
        value: In the unit of the result; None for what has no value.
        unit: Label as in the result.
        rounding: "up" for a demand, "down" for a capacity.
        digits: Significant digits; by unit when not given.

    Returns:
        Text such as `1,908 lb`; `-` for no value.
    """
    if value is None:
        return "-"
    digits = DIGITS.get(unit, 4) if digits is None else digits
    if unit in LARGER and abs(value) >= 1000.0:
        value, unit = value / 1000.0, LARGER[unit]
    text = plain_text(value, digits=digits, rounding=rounding)
    return f"{grouped(text)} {SPOKEN.get(unit, unit)}".rstrip()


def percent(utilization: float | None) -> str:
    """A utilization in whole per cent, rounded up; the word for one without meaning, and no digits past ten times."""
    if utilization is None:
        return "beyond"
    return _BEYOND if utilization > _MOST else f"{math.ceil(100.0 * utilization - 1e-9):,} %"


def ratio_words(value: float | None) -> str:
    """An interaction ratio in hundredths, rounded up; the word for one without meaning."""
    return "beyond" if value is None else f"{math.ceil(100.0 * value - 1e-9) / 100.0:,.2f}"


def variant_words(variant: Mapping[str, Any] | None, *, unit: str, short: bool = False) -> str:
    """What tells a row from others of its state, in words.

    Args:
        variant: As in the result.
        unit: Label of length.
        short: For a table and not for a sentence.
    """
    return ", ".join(_variant(key, value, unit=unit, short=short) for key, value in (variant or {}).items()).replace(
        ", at ", " at "
    )


def _variant(key: str, value: Any, *, unit: str, short: bool) -> str:
    if isinstance(value, str) or value is None:
        text = state_word(str(value)) if key == "while" else str(value)
    elif key.endswith("_deg"):
        text = number(value, unit="deg")
    else:
        text = number(value, unit=unit if key.endswith(("_s", "_x", "_y", "_n", "_z")) else "")
    plain = f"{key.replace('_', ' ')} {{}}"
    return _VARIANTS.get(key, (plain, plain))[short].format(text.replace("_", " "))
