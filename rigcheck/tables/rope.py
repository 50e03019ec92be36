"""Strength, ends, bends, clips and stretch of wire rope."""

from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from typing import Any, Literal, get_args

from rigcheck.tables.errors import TableError
from rigcheck.tables.loader import load, row_by_size

RopeEnd = Literal[
    "clips",
    "clips reversed",
    "mechanical splice",
    "hand splice",
    "swaged socket",
    "poured socket",
    "wedge socket",
    "none",
]
"""Words for what a rope ends in; "none" is a rope whose rating already counts its ends."""
ENDS: tuple[str, ...] = get_args(RopeEnd)
EYES: tuple[RopeEnd, ...] = ("clips", "clips reversed", "mechanical splice", "hand splice")
"""Ends of rope that make an eye, which goes round a pin or a thimble."""

WEIGHT_COEFFICIENT = 1.87 / 12.0
"""Weight of rope over diameter squared where no weight is listed: the heaviest row of the tables. [lbf/in3]"""

_CONSTRUCTIONS = {
    # table: area factor, modulus and stretch factor that stand for it
    "rope_6x19_fc_ips": ("f_6x19_seale_fc", "m_6x19_fc_psi", None),
    "rope_6x7_fc": ("f_6x7_fc", "m_6x7_fc_psi", None),
    "rope_6x19_6x36_iwrc": ("f_6x19_seale_iwrc", "m_6x37_iwrc_psi", "galvanized_6x19_iwrc"),
    "cable_7x19_galvanized": ("f_6x19_seale_iwrc", "m_6x37_iwrc_psi", "galvanized_7x19"),
    "cable_7x19_stainless": ("f_6x19_seale_iwrc", "m_6x37_iwrc_psi", "stainless_302_7x19"),
    "cable_7x7": ("f_6x7_fc", "m_6x7_fc_psi", "galvanized_7x7"),
}
_FIBER_CORE = ("rope_6x19_fc_ips", "rope_6x7_fc")


@dataclass(frozen=True, slots=True)
class RopeRow:
    """One rope of one table.

    Attributes:
        table: Table name.
        column: Strength column; empty where the table has one only.
        diameter: Nominal diameter. [in]
        mbf: Minimum breaking force, new and without ends. [lbf]
        weight_per_length: Weight. [lbf/in]
        weight_estimated: True where the table lists no weight.
        fiber_core: True for a fiber core.
        stainless: True for stainless wire.
        source: Document.
        clause: Place in it.
        known: "seen" or "memory".
    """

    table: str
    column: str
    diameter: float
    mbf: float
    weight_per_length: float
    weight_estimated: bool
    fiber_core: bool
    stainless: bool
    source: str
    clause: str
    known: str


@dataclass(frozen=True, slots=True)
class Termination:
    """What a rope end keeps of the rope's strength.

    Attributes:
        ends: One of `ENDS`.
        efficiency: Strength kept, as a fraction.
        accepted: False for an end that nothing may hang from.
        source: Document.
        clause: Place in it.
        known: "seen" or "memory".
    """

    ends: str
    efficiency: float
    accepted: bool
    source: str
    clause: str
    known: str


@dataclass(frozen=True, slots=True)
class AxialStiffness:
    """Area times modulus of a rope; low for stretch, high for what a mismatch of length puts into it.

    Attributes:
        low: Lower value. [lbf]
        high: Upper value. [lbf]
        source: Documents.
        known: "seen" or "memory".
    """

    low: float
    high: float
    source: str
    known: str


@dataclass(frozen=True, slots=True)
class ClipRule:
    """Clips that an eye needs.

    Attributes:
        diameter: Rope diameter of the row used, the next one up. [in]
        forged: Number of drop-forged clips.
        other: Number of clips of other material.
        spacing: Least spacing, center to center. [in]
        source: Document.
        clause: Place in it.
        known: "seen" or "memory".
    """

    diameter: float
    forged: int
    other: int
    spacing: float
    source: str
    clause: str
    known: str


def tables() -> tuple[str, ...]:
    """Return the names of the rope tables."""
    return tuple(_CONSTRUCTIONS)


def columns(table: str) -> tuple[str, ...]:
    """Return the strength columns of a rope table; one empty name where there is one column only.

    Args:
        table: One of `tables`.
    """
    keys = dict.fromkeys(key for row in _block(table)["row"] for key in row)
    return tuple(key.removesuffix("mbf_lb").rstrip("_") for key in keys if key.endswith("mbf_lb"))


def diameters(table: str) -> tuple[float, ...]:
    """Return the diameters that a rope table lists. [in]

    Args:
        table: One of `tables`.
    """
    return tuple(row["diameter_in"] for row in _block(table)["row"])


def _block(table: str) -> dict[str, Any]:
    if table not in _CONSTRUCTIONS:
        raise TableError("rope table", table, tables())
    block: dict[str, Any] = load("wire_rope")[table]
    return block


@cache
def rope(table: str, *, diameter: float, column: str = "") -> RopeRow:
    """Return one rope by table, diameter and, where the table has several, strength column.

    Args:
        table: One of `tables`.
        diameter: Nominal diameter, exactly as listed. [in]
        column: One of `columns`.

    Raises:
        TableError: No such table, diameter or column; lists what there is.
    """
    block = _block(table)
    row = row_by_size(block["row"], key="diameter_in", size=diameter, what=f"{table} diameter")
    wanted = column.strip().casefold()
    listed = [name for name in columns(table) if f"{name}_mbf_lb".lstrip("_") in row]
    if wanted not in listed:
        raise TableError(f"{table} strength column at {diameter:g} in", column, listed)
    weight = row.get("weight_lb_per_ft")
    return RopeRow(
        table=table,
        column=wanted,
        diameter=row["diameter_in"],
        mbf=float(row[f"{wanted}_mbf_lb".lstrip("_")]),
        weight_per_length=WEIGHT_COEFFICIENT * diameter**2 if weight is None else weight / 12.0,
        weight_estimated=weight is None,
        fiber_core=table in _FIBER_CORE,
        stainless="stainless" in f"{table} {wanted}",
        source=block["source"],
        clause=block["clause"],
        known=row.get("known", block["known"]),
    )


def termination(ends: str, *, diameter: float, fiber_core: bool = True, stainless: bool = False) -> Termination:
    """Return what an end keeps of the rope's strength, at the low end of the published range.

    Args:
        ends: One of `ENDS`.
        diameter: Rope diameter. [in]
        fiber_core: Core of the rope; the lower value where it is not known.
        stainless: Wire of the rope.

    Raises:
        TableError: No such end; lists the words.
    """
    if ends not in ENDS:
        raise TableError("rope end", ends, ENDS)
    if ends == "none":
        return Termination(ends, 1.0, True, "the rating given already counts its ends", "none", "seen")
    core = "fc" if fiber_core else "iwrc"
    hand = "hand_tucked_splice_half_in_stainless" if stainless else "hand_tucked_splice_half_in_carbon"
    key = {
        "clips": "wire_rope_clips",
        "clips reversed": "wire_rope_clips_reversed",
        "mechanical splice": f"mechanical_sleeve_splice_up_to_1in_{core}",
        "hand splice": hand,
        "swaged socket": f"swaged_socket_{core}",
        "poured socket": f"spelter_or_resin_socket_{core}",
        "wedge socket": "wedge_socket_low",
    }[ends]
    if ends == "mechanical splice" and diameter > 1.0:
        key = "mechanical_sleeve_splice_over_1in"
    if ends == "hand splice" and diameter > 0.5 and not stainless:
        key = "hand_tucked_splice_over_half_in"
    data = load("wire_rope")
    block = data["termination_efficiency"]
    if key not in block:
        block = data["termination_efficiency_more"]
    return Termination(
        ends=ends,
        efficiency=float(block[key]),
        accepted=ends != "clips reversed",
        source=block["source"],
        clause=block["clause"],
        known=block["known"],
    )


def termination_efficiency(ends: str, *, diameter: float, fiber_core: bool = True, stainless: bool = False) -> float:
    """Return the strength that an end keeps, as a fraction; see `termination`.

    Args:
        ends: One of `ENDS`.
        diameter: Rope diameter. [in]
        fiber_core: Core of the rope.
        stainless: Wire of the rope.
    """
    return termination(ends, diameter=diameter, fiber_core=fiber_core, stainless=stainless).efficiency


def bend_efficiency(ratio: float) -> float:
    """Return the strength that a rope keeps over a pin or thimble, as a fraction.

    Straight lines between the points of a curve that bends downward, so the value is never above the curve. Below
    the first ratio of the table it stays at the first value, and above the last at the last; see `bend_in_table`.

    Args:
        ratio: Diameter of the pin over diameter of the rope.

    Source: Wire Rope Users Manual, D/d efficiency figure (memory).
    """
    block = load("wire_rope")["bend_efficiency"]
    points = tuple(zip(block["d_over_d"], block["efficiency_fraction"], strict=True))
    for (low, least), (high, most) in pairwise(points):
        if ratio < high:
            return float(least + (most - least) * max(ratio - low, 0.0) / (high - low))
    return float(points[-1][1])


def bend_in_table(ratio: float) -> bool:
    """Tell whether a bend ratio is at or above the first one of the table; below it no value is published.

    Args:
        ratio: Diameter of the pin over diameter of the rope.
    """
    return bool(ratio >= load("wire_rope")["bend_efficiency"]["d_over_d"][0])


@cache
def rope_stiffness(table: str, *, diameter: float) -> AxialStiffness:
    """Return area times modulus of a rope after its bedding-in.

    Low: metallic area factor x d^2 x the modulus of the first fifth of the breaking force. High: the modulus above
    that, or 100 d^2 / G from the published stretch factor, whichever is more. Small cable has no listed area factor
    and is taken as the rope it resembles.

    Args:
        table: One of `tables`.
        diameter: Nominal diameter. [in]

    Source: Wire Rope Users Manual (memory); a rope maker's stretch factors (seen).
    """
    _block(table)
    area_key, modulus_key, stretch_key = _CONSTRUCTIONS[table]
    data = load("wire_rope")
    area = data["metallic_area_factor"][area_key] * diameter**2
    first, second = data["modulus"][modulus_key]
    high = area * second
    source = data["modulus"]["source"]
    if stretch_key:
        high = max(high, 100.0 * diameter**2 / data["stretch_g_factor"][stretch_key])
        source = f"{source}; {data['stretch_g_factor']['source']}"
    return AxialStiffness(low=area * first, high=high, source=source, known="memory")


def clip_count(diameter: float) -> ClipRule:
    """Return the clips that an eye needs; between listed diameters the next one up holds.

    Args:
        diameter: Rope diameter. [in]

    Raises:
        TableError: Thicker than the last row.
    """
    block = load("wire_rope")["clips"]
    for row in block["row"]:
        if diameter <= row["rope_diameter_in"] + 1e-6:
            return ClipRule(
                diameter=row["rope_diameter_in"],
                forged=row["clips_drop_forged"],
                other=row["clips_other_material"],
                spacing=row["spacing_in"],
                source=block["source"],
                clause=block["clause"],
                known=block["known"],
            )
    raise TableError(
        "clip rule for rope of", f"{diameter:g} in", (f"{r['rope_diameter_in']:g} in" for r in block["row"])
    )


def design_factor(kind: str) -> float:
    """Return the published design factor of a sling.

    Args:
        kind: "wire rope", "alloy chain" or "web".

    Raises:
        TableError: No such sling.
    """
    keys = {"wire rope": "wire_rope_sling", "alloy chain": "alloy_chain_sling", "web": "synthetic_web_sling"}
    if kind not in keys:
        raise TableError("sling", kind, keys)
    return float(load("wire_rope")["design_factor"][keys[kind]])
