"""Unit weights of what a box carries and is made of, and sheet gauges."""

from dataclasses import dataclass
from functools import cache

from rigcheck.tables.errors import TableError
from rigcheck.tables.loader import load

IN3_PER_FT3 = 1728.0
IN2_PER_FT2 = 144.0


@dataclass(frozen=True, slots=True)
class Gauge:
    """Sheet of one gauge number.

    Attributes:
        number: Gauge number.
        thickness: Nominal thickness. [in]
        weight_per_area: Weight. [psi]
        source: Document.
        clause: Place in it.
        known: "seen" or "memory".
    """

    number: int
    thickness: float
    weight_per_area: float
    source: str
    clause: str
    known: str


@dataclass(frozen=True, slots=True)
class Material:
    """Unit weight of one material.

    Attributes:
        name: Name in the table.
        unit_weight: Weight per volume. [lbf/in3]
        source: Document.
        clause: Place in it.
        known: "seen" or "memory".
    """

    name: str
    unit_weight: float
    source: str
    clause: str
    known: str


@cache
def gauge(number: int) -> Gauge:
    """Return uncoated carbon steel sheet of a manufacturers' standard gauge.

    Args:
        number: Gauge number.

    Raises:
        TableError: Not in the table; lists the numbers.
    """
    block = load("sheet_gauge")["manufacturers_standard"]
    for row in block["row"]:
        if row["gauge"] == number:
            return Gauge(
                number=number,
                thickness=row["thickness_in"],
                weight_per_area=row["weight_lb_per_ft2"] / IN2_PER_FT2,
                source=block["source"],
                clause=block["clause"],
                known=block["known"],
            )
    raise TableError("sheet gauge", str(number), (str(row["gauge"]) for row in block["row"]))


@cache
def gauge_of(thickness: float) -> int | None:
    """Return the gauge number of a sheet; None where no listed gauge has just this thickness.

    Args:
        thickness: Of the sheet. [in]
    """
    rows = load("sheet_gauge")["manufacturers_standard"]["row"]
    return next((int(row["gauge"]) for row in rows if abs(row["thickness_in"] - thickness) < 1e-6), None)


def sheet_density() -> float:
    """Return the weight of gauge sheet over its nominal thickness. [lbf/in3]

    It stands 2.4 % above solid steel, as the gauge weights count what the mill rolls over.
    """
    return float(load("sheet_gauge")["manufacturers_standard"]["lb_per_ft2_per_in"]) / IN2_PER_FT2


def materials() -> tuple[str, ...]:
    """Return every name that `material` accepts."""
    return tuple(row["name"] for row in load("unit_weights")["material"])


@cache
def material(name: str) -> Material:
    """Return the unit weight of a material by its name in the table.

    Args:
        name: One of `materials`.

    Raises:
        TableError: Not in the table; lists the names.
    """
    for row in load("unit_weights")["material"]:
        if row["name"] == name.strip().casefold():
            return Material(
                name=row["name"],
                unit_weight=row["unit_weight_lb_per_ft3"] / IN3_PER_FT3,
                source=row["source"],
                clause=row["clause"],
                known=row["known"],
            )
    raise TableError("material", name, materials())


def steel_density() -> float:
    """Return the weight of solid steel. [lbf/in3]"""
    return material("steel").unit_weight


def specific_gravity(name: str) -> float:
    """Return the specific gravity of a mineral or metal grain.

    Args:
        name: Name in the table, such as "quartz".

    Raises:
        TableError: Not in the table; lists the names.
    """
    rows = load("unit_weights")["solid"]
    for row in rows:
        if row["name"] == name.strip().casefold():
            return float(row["specific_gravity"])
    raise TableError("solid", name, (row["name"] for row in rows))
