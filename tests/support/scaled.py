"""A rig and the same one built larger: every length, load and strength by the power of the scale that goes with it.

With lengths times k, stresses as they are and densities over k, weights and forces go with k squared, pressures stay.
Water of Froude's law runs with k to the 2.5, at Manning's n times k to the sixth part, and no utilization moves.
"""

import tomllib
from collections.abc import Iterator
from contextlib import contextmanager
from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest

from rigcheck.tables import materials, shapes
from rigcheck.tables.loader import load
from tests.support.extreme_rigs import KINDS, Data, _value, quantities
from tests.support.relations import POINTS, written_out

POWERS = {
    "length": (1.0, "in"),
    "thickness": (1.0, "in"),
    "area": (2.0, "in2"),
    "force": (2.0, "lbf"),
    "stiffness": (1.0, "lbf/in"),
    "density": (-1.0, "lbf/in3"),
    "flow": (2.5, "in3/s"),
}
"""Dimension to the power of the scale and a unit; stresses, pressures, angles, wind speeds and numbers stay."""
ROUGHNESS = 1.0 / 6.0
"""Power of Manning's n: V = 1.49/n R^(2/3) S^(1/2) and V goes with the root of a length."""
KEPT_IN_INCHES = {
    ("floor sheet", "bending under one boot print, 4 in wide, weight at rest"),
    ("legal height and width", "overall width"),
    ("legal height and width", "overall height"),
}
"""Part and mode that a boot or the law has in inches, whatever the box."""


def plain_rig() -> Data:
    """Larkspur Bar of parts that are known by their sizes alone, each default written out.

    Sheet of no gauge, tubes of no list, links of no table. Left out: mats, whose weight stands half an inch over the
    floor, and feed, which lands a foot from the hinge.
    """
    place = Path(__file__).parents[2] / "cases" / "larkspur-bar.toml"
    data: Data = tomllib.loads(place.read_text(encoding="utf-8"))
    data["box"] |= {"sheet": "0.13 in", "side_sheet": "0.1 in", "divider_sheet": "0.08 in"}
    data["rail"]["stiffener"] = data["cross_member"]["shape"] = "tube 2x2x0.24"
    data["end_tube"]["shape"], data["perch"]["post"]["shape"] = "tube 3x3x0.24", "tube 4x4x0.28"
    for link in data["line"]["link"]:
        if link["kind"] == "shackle":
            del link["size"], link["grade"]
            link |= {"kind": "rated part", "wll": "4000 lb", "stiffness": "90000 lb/in"}
    del data["mat"], data["water"]["feed"], data["water"]["fall"]
    return written_out(data)


def scaled(data: Data, *, by: float) -> Data:
    """The same rig so many times as large."""
    new = deepcopy(data)
    for holder, step, path in list(quantities(new)):
        dimension = KINDS.spans[path].dimension
        if dimension in POWERS:
            power, unit = POWERS[dimension]
            holder[step] = f"{_value(holder[step], dimension) * by**power!r} {unit}"
        elif path == "water.roughness":
            holder[step] *= by**ROUGHNESS
    for (table, rows), names in POINTS.items():
        for row in new.get(table, {}).get(rows, []):
            for name in names:
                row[name] = [f"{_value(text, 'length') * by!r} in" for text in row[name]]
    return _with_shapes(new, by=by)


def _with_shapes(data: Any, *, by: float) -> Any:
    if isinstance(data, dict):
        return {
            key: _larger(one, by=by) if key in ("shape", "stiffener") else _with_shapes(one, by=by)
            for key, one in data.items()
        }
    return [_with_shapes(one, by=by) for one in data] if isinstance(data, list) else data


def _larger(name: str, *, by: float) -> str:
    kind, sizes = name.split()
    return f"{kind} {'x'.join(f'{float(size) * by:g}' for size in sizes.split('x'))}"


@contextmanager
def lighter(*, by: float) -> Iterator[None]:
    """Steel and water of so much less weight, the two that no key of a case says."""
    with pytest.MonkeyPatch.context() as patch:
        for row in load("unit_weights")["material"]:
            if row["name"] in ("steel", "water, fresh"):
                patch.setitem(row, "unit_weight_lb_per_ft3", row["unit_weight_lb_per_ft3"] / by)
        _forget()
        yield
    _forget()


def _forget() -> None:
    materials.material.cache_clear()
    shapes.find.cache_clear()
