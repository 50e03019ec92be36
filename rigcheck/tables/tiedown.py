"""Road tie-down rules and default working load limits, 49 CFR 393 subpart I."""

from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any

from rigcheck.tables.errors import TableError
from rigcheck.tables.loader import load, row_by_size

DIRECTIONS = ("forward", "rearward", "lateral")
BASES = ("breaking strength", "working load limit")
CREDITS = MappingProxyType(
    {
        "to anchor": "credit_vehicle_anchor_to_cargo_anchor",
        "over, same side": "credit_over_or_around_back_to_same_side",
        "over, other side": "credit_over_or_around_to_other_side",
    }
)
FIBERS = MappingProxyType(
    {
        "manila": "manila_rope",
        "polypropylene": "polypropylene_rope",
        "polyester": "polyester_rope",
        "nylon": "nylon_rope",
        "double braided nylon": "double_braided_nylon_rope",
    }
)


@dataclass(frozen=True, slots=True)
class Rule:
    """One number of the rule with its place.

    Attributes:
        value: The number. [1 or lbf]
        source: Document.
        clause: Place in it.
        known: "seen" or "memory".
    """

    value: float
    source: str
    clause: str
    known: str


def _rule(value: float, block: dict[str, Any], *, known: str = "") -> Rule:
    return Rule(float(value), block["source"], block["clause"], known or block["known"])


@cache
def acceleration(direction: str, *, basis: str) -> Rule:
    """Return the acceleration that securement must hold, one direction at a time. [g]

    Args:
        direction: "forward", "rearward" or "lateral".
        basis: "breaking strength" or "working load limit": what it is held against.

    Raises:
        TableError: No such direction or basis.

    Source: 49 CFR 393.102(a) (seen).
    """
    if direction not in DIRECTIONS:
        raise TableError("direction", direction, DIRECTIONS)
    if basis not in BASES:
        raise TableError("basis", basis, BASES)
    block = load("tiedown_wll")["accel_breaking_strength" if basis == BASES[0] else "accel_wll"]
    return _rule(block[f"{direction}_g"], block)


@cache
def hold_down() -> Rule:
    """Return the least downward force over the weight of an article that no structure contains.

    Source: 49 CFR 393.102(b) (seen).
    """
    block = load("tiedown_wll")["vertical"]
    return _rule(block["min_downward_force_fraction_of_weight"], block)


@cache
def aggregate_fraction() -> Rule:
    """Return the least sum of credited working load limits over the weight.

    Source: 49 CFR 393.106(d) (seen).
    """
    block = load("tiedown_wll")["aggregate_wll"]
    return _rule(block["min_fraction_of_article_weight"], block)


@cache
def credit(kind: str) -> Rule:
    """Return the share of a tie-down's working load limit that counts toward the sum.

    Args:
        kind: "to anchor", "over, same side" or "over, other side".

    Raises:
        TableError: No such way of tying.

    Source: 49 CFR 393.106(d)(1)-(3) (seen).
    """
    if kind not in CREDITS:
        raise TableError("way of tying", kind, CREDITS)
    block = load("tiedown_wll")["aggregate_wll"]
    return _rule(block[CREDITS[kind]], block)


@cache
def chain_limit(size: float, *, grade: str = "30") -> Rule:
    """Return the default working load limit of a tie-down chain; unmarked chain counts as grade 30. [lbf]

    Args:
        size: Trade size, as listed. [in]
        grade: "30", "43", "70", "80" or "100".

    Raises:
        TableError: Not listed; lists what is.
    """
    block = load("tiedown_wll")["chain"]
    grades = tuple(mark.removeprefix("g") for mark in block["marks"])
    if grade not in grades:
        raise TableError("chain grade", grade, grades)
    rows = [row for row in block["row"] if f"g{grade}_wll_lb" in row]
    row = row_by_size(rows, key="size_in", size=size, what=f"grade {grade} tie-down chain")
    return _rule(row[f"g{grade}_wll_lb"], block)


@cache
def webbing_limit(width: float) -> Rule:
    """Return the default working load limit of synthetic webbing. [lbf]

    Args:
        width: Width, as listed. [in]

    Raises:
        TableError: Not listed; lists what is.
    """
    block = load("tiedown_wll")["webbing"]
    return _rule(row_by_size(block["row"], key="width_in", size=width, what="webbing")["wll_lb"], block)


@cache
def wire_rope_limit(diameter: float) -> Rule:
    """Return the default working load limit of tie-down wire rope, 6x37 with fiber core. [lbf]

    Args:
        diameter: Diameter, as listed. [in]

    Raises:
        TableError: Not listed; lists what is.
    """
    block = load("tiedown_wll")["wire_rope_6x37_fc"]
    row = row_by_size(block["row"], key="diameter_in", size=diameter, what="tie-down wire rope")
    return _rule(row["wll_lb"], block, known=row["known"])


@cache
def fiber_rope_limit(fiber: str, *, diameter: float) -> Rule:
    """Return the default working load limit of fiber rope; unmarked rope counts as polypropylene. [lbf]

    Args:
        fiber: One of `FIBERS`.
        diameter: Diameter, as listed. [in]

    Raises:
        TableError: Not listed; lists what is.
    """
    if fiber not in FIBERS:
        raise TableError("fiber rope", fiber, FIBERS)
    block = load("tiedown_wll")[FIBERS[fiber]]
    return _rule(row_by_size(block["row"], key="diameter_in", size=diameter, what=f"{fiber} rope")["wll_lb"], block)
