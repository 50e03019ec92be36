"""The materials list as one plain dict, `rigcheck.materials/1`, and as rows of a spreadsheet."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rigcheck.assessment.assess import Assessment
from rigcheck.output.check.result import Source
from rigcheck.output.rig_words import beside
from rigcheck.quantities import Dimension, System, tape
from rigcheck.studies.materials.record import BOX, ON_BOX, ON_PLANT, Bought, CutPiece, Materials, WeldRun
from rigcheck.studies.materials.study import materials
from rigcheck.studies.materials.welds import CONVEX, DEPOSITED
from rigcheck.wording.cautions import CAUTIONS
from rigcheck.wording.marks import marked
from rigcheck.wording.plain import Plain
from rigcheck.wording.scale import Scale, ratio

SCHEMA = "rigcheck.materials/1"
PLACES = {
    BOX: "the box, as its take-off weighs it",
    ON_BOX: "welded to the box, inside its allowance",
    ON_PLANT: "on the plant, in no weight of the box",
}
ASSUMED = (
    f"Weld metal: flat fillets of the leg and {100.0 * (CONVEX - 1.0):.0f} % for their crown; electrodes:"
    f" {100.0 * DEPOSITED:.0f} % of a covered one ends up in the weld (common practice, no source; wire wastes less).",
    "Lengths are those that the weight is counted with: no kerf, no root gap, no bend allowance. Where a cross-member"
    " and an end tube stand at one place both are listed, as both are weighed.",
    "A stated thickness or bore is taken as it stands. Order what the drawing shows, not what this list rounds.",
)
CSV_HEADS = ("list", "item", "key", "shape", "steel", "count", "length_in", "across_in", "thickness_in", "weight_lb",
             "leg_in", "weld_length_in", "weld_metal_lb", "electrodes_lb", "marked_lb", "least_mark_lb", "most_mark_lb",
             "demand_lb", "allowable_lb", "utilization", "note")  # fmt: skip
_UNKNOWN = "unknown"


def materials_result(found: Assessment, *, source: Source | None = None, system: System = "us") -> Plain:
    """The list, ready for JSON.

    Args:
        found: The assessment of one rig, no batch.
        source: The file the case came from.
        system: Units of its numbers; lengths stand in shop form as well.

    Returns:
        The result; no NaN and no infinity in it.
    """
    listed, scale = materials(found), Scale(system)
    rig = found.solution.rig
    return {
        "schema": SCHEMA,
        "title": rig.case.title,
        "input": None if source is None else {"file": source.file, "sha256": source.sha256},
        **beside(found),
        "units": {key: scale.units()[key] for key in ("force", "length")},
        "electrode": str(rig.value("weld.electrode")),
        "pieces": [_piece(one, scale=scale) for one in listed.pieces],
        "carried": [
            {"name": one.name, "weight": _force(scale, one.weight), "source": marked(one.source)}
            for one in listed.carried
        ],
        "welds": [_weld(one, scale=scale) for one in listed.welds],
        "weld_sums": _by_leg(listed, scale=scale),
        "hardware": [_bought(one, scale=scale) for one in listed.bought],
        "sums": _sums(listed, scale=scale),
        "not_described": list(listed.missing),
        "assumed": list(ASSUMED),
        "cautions": list(CAUTIONS),
    }


def _force(scale: Scale, value: float | None) -> float | None:
    return None if value is None else scale.one(value, dimension="force")


def _length(scale: Scale, value: float | None) -> float | None:
    return None if value is None else scale.one(value, dimension="length")


def shop_length(value: float, *, scale: Scale) -> str:
    """A length for a tape in the units of the output: feet, inches and sixteenths, or whole millimeters."""
    if scale.system == "us":
        return tape(value)
    dimension: Dimension = "length"
    return f"{scale.one(value, dimension=dimension) or 0.0:,.0f} {scale.label(dimension)}"


def _cut_words(one: CutPiece, *, scale: Scale) -> str:
    long = shop_length(one.length, scale=scale)
    return long if one.across is None else f"{long} x {shop_length(one.across, scale=scale)}"


def _piece(one: CutPiece, *, scale: Scale) -> Plain:
    return {
        "key": one.key,
        "name": one.name,
        "place": one.place,
        "shape": one.stock,
        "thickness": _length(scale, one.sheet),
        "count": one.count,
        "length": _length(scale, one.length),
        "across": _length(scale, one.across),
        "cut": _cut_words(one, scale=scale),
        "weight": _force(scale, one.weight),
        "steel": one.steel or None,
        "steel_known": one.steel not in ("", _UNKNOWN),
        "deduction": one.deduction,
    }


def _weld(one: WeldRun, *, scale: Scale) -> Plain:
    return {
        "key": one.key,
        "name": one.name,
        "leg": _length(scale, one.leg),
        "leg_words": shop_length(one.leg, scale=scale),
        "count": one.count,
        "run": _length(scale, one.run),
        "length": _length(scale, one.length),
        "length_words": shop_length(one.length, scale=scale),
        "weld_metal": _force(scale, one.deposit),
        "electrodes": _force(scale, one.electrode),
    }


def _by_leg(listed: Materials, *, scale: Scale) -> list[Plain]:
    legs = sorted({one.leg for one in listed.welds})
    found = []
    for leg in legs:
        own = [one for one in listed.welds if one.leg == leg]
        length = sum(one.length for one in own)
        found.append(
            {
                "leg": _length(scale, leg),
                "leg_words": shop_length(leg, scale=scale),
                "length": _length(scale, length),
                "length_words": shop_length(length, scale=scale),
                "weld_metal": _force(scale, sum(one.deposit for one in own)),
                "electrodes": _force(scale, sum(one.electrode for one in own)),
            }
        )
    return found


def _bought(one: Bought, *, scale: Scale) -> Plain:
    return {
        "key": one.key,
        "name": one.name,
        "count": one.count,
        "size": _length(scale, one.size),
        "size_words": None if one.size is None else shop_length(one.size, scale=scale),
        "wll": _force(scale, one.wll),
        "mbf": _force(scale, one.mbf),
        "least": _force(scale, one.least),
        "most": _force(scale, one.most),
        "demand": _force(scale, one.demand),
        "allowable": _force(scale, one.allowable),
        "utilization": None if one.utilization is None else ratio(one.utilization),
        "capacity_basis": "ultimate" if one.ultimate else "working",
    }


def _sums(listed: Materials, *, scale: Scale) -> Plain:
    carried = sum(one.weight for one in listed.carried)
    return {
        **{place: _force(scale, listed.weight(place)) for place in PLACES},
        "carried": _force(scale, carried),
        "empty_box": _force(scale, listed.empty),
        "weld_metal": _force(scale, sum(one.deposit for one in listed.welds)),
        "electrodes": _force(scale, sum(one.electrode for one in listed.welds)),
    }


def csv_rows(told: Mapping[str, Any]) -> list[list[Any]]:
    """Rows of a spreadsheet, the heads first; the units of the heads are those of the result.

    Args:
        told: The result, of `materials_result`.
    """
    inch, pound = told["units"]["length"], {"lbf": "lb"}.get(told["units"]["force"], told["units"]["force"])
    heads = [name.removesuffix("_in") + f"_{inch}" if name.endswith("_in") else name for name in CSV_HEADS]
    heads = [name.removesuffix("_lb") + f"_{pound}" if name.endswith("_lb") else name for name in heads]
    rows: list[dict[str, Any]] = []
    for one in told["pieces"]:
        rows.append({"list": one["place"], "item": one["name"], "key": one["key"], "shape": one["shape"],
                     "steel": one["steel"], "count": one["count"], "length_in": one["length"],
                     "across_in": one["across"], "thickness_in": one["thickness"], "weight_lb": one["weight"],
                     "note": one["deduction"]})  # fmt: skip
    for one in told["carried"]:
        rows.append({"list": "carried", "item": one["name"], "weight_lb": one["weight"], "note": one["source"]})
    for one in told["welds"]:
        rows.append({"list": "weld", "item": one["name"], "key": one["key"], "count": one["count"],
                     "leg_in": one["leg"], "length_in": one["run"], "weld_length_in": one["length"],
                     "weld_metal_lb": one["weld_metal"], "electrodes_lb": one["electrodes"],
                     "steel": told["electrode"]})  # fmt: skip
    for one in told["hardware"]:
        rows.append({"list": "hardware", "item": one["name"], "key": one["key"], "count": one["count"],
                     "thickness_in": one["size"], "marked_lb": one["wll"], "least_mark_lb": one["least"],
                     "most_mark_lb": one["most"], "demand_lb": one["demand"], "allowable_lb": one["allowable"],
                     "utilization": one["utilization"], "note": one["capacity_basis"]})  # fmt: skip
    rows += [{"list": "not described", "item": text} for text in told["not_described"]]
    rows += [{"list": "caution", "item": text} for text in told["cautions"]]
    return [heads, *([_plain_cell(row.get(name)) for name in CSV_HEADS] for row in rows)]


def _plain_cell(value: Any) -> Any:
    """A cell as a spreadsheet takes it: text never read as a formula."""
    if isinstance(value, float):
        return round(value, 4)
    return f"'{value}" if isinstance(value, str) and value[:1] in ("=", "+", "-", "@") else value
