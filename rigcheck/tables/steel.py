"""Strengths of steel grades and weld electrodes."""

from dataclasses import dataclass
from functools import cache

from rigcheck.tables.errors import TableError
from rigcheck.tables.loader import load

UNKNOWN = "unknown"
KSI = 1000.0


@dataclass(frozen=True, slots=True)
class Grade:
    """Least strengths of one steel.

    Attributes:
        key: Short name a person writes.
        name: Name in the standard.
        fy: Yield strength. [psi]
        fu: Tensile strength. [psi]
        source: Document.
        clause: Place in it.
        known: "seen" or "memory".
        note: What else to mind.
    """

    key: str
    name: str
    fy: float
    fu: float
    source: str
    clause: str
    known: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Electrode:
    """Weld metal of one electrode class.

    Attributes:
        key: Class, such as "E70".
        fexx: Tensile strength. [psi]
        source: Document.
        clause: Place in it.
        known: "seen" or "memory".
    """

    key: str
    fexx: float
    source: str
    clause: str
    known: str


@cache
def _grades() -> dict[str, Grade]:
    return {
        row["key"]: Grade(
            key=row["key"],
            name=row["name"],
            fy=row["fy_ksi"] * KSI,
            fu=row["fu_ksi"] * KSI,
            source=row["source"],
            clause=row["clause"],
            known=row["known"],
            note=row.get("note", ""),
        )
        for row in load("steel_grades")["grade"]
    }


def names() -> tuple[str, ...]:
    """Return every steel name that `grade` accepts, "unknown" first."""
    return (UNKNOWN, *_grades())


@cache
def lowest() -> Grade:
    """Return what scrap of unknown grade is taken as.

    The lowest yield and the lowest tensile strength of the whole table, each by itself, so that no steel of the
    table is taken too strong: 32 ksi and 45 ksi, as-welded tube of grade 1010.

    Source: steel_grades table; taking the lowest is an assumption.
    """
    grades = _grades().values()
    by_yield = min(grades, key=lambda one: one.fy)
    by_tensile = min(grades, key=lambda one: one.fu)
    return Grade(
        key=UNKNOWN,
        name="unknown steel, taken at the lowest grade of the table",
        fy=by_yield.fy,
        fu=by_tensile.fu,
        source="; ".join(dict.fromkeys((by_yield.source, by_tensile.source))),
        clause="lowest of the table (assumption)",
        known="seen" if by_yield.known == by_tensile.known == "seen" else "memory",
        note="a mill certificate or a test raises it; nothing else does",
    )


@cache
def grade(name: str) -> Grade:
    """Return one steel by its short name, upper or lower case alike; "unknown" gives `lowest`.

    Args:
        name: One of `names`.

    Raises:
        TableError: Not in the table; lists the names.
    """
    wanted = " ".join(name.split()).casefold()
    if wanted == UNKNOWN:
        return lowest()
    for key, found in _grades().items():
        if key.casefold() == wanted:
            return found
    raise TableError("steel", name, names())


@cache
def electrodes() -> tuple[str, ...]:
    """Return every electrode class that `electrode` accepts."""
    return tuple(row["key"] for row in load("steel_grades")["electrode"])


@cache
def electrode(name: str) -> Electrode:
    """Return the weld metal of an electrode class such as "E70" or "E7018".

    Args:
        name: Class; what follows the two strength digits does not change the strength.

    Raises:
        TableError: Not in the table; lists the classes.
    """
    wanted = name.strip().upper()
    for row in load("steel_grades")["electrode"]:
        tail = wanted.removeprefix(row["key"])
        if tail != wanted and (not tail or tail.isdigit()) and len(tail) <= 2:
            return Electrode(
                key=row["key"],
                fexx=row["fexx_ksi"] * KSI,
                source=row["source"],
                clause=row["clause"],
                known=row["known"],
            )
    raise TableError("electrode", name, electrodes())


def elastic_modulus() -> float:
    """Return Young's modulus of steel. [psi]"""
    return float(load("steel_grades")["elastic"]["e_ksi"]) * KSI


def shear_modulus() -> float:
    """Return the shear modulus of steel. [psi]"""
    return float(load("steel_grades")["elastic"]["g_ksi"]) * KSI
