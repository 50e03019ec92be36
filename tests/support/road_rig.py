"""A small folded rig for the tests of parking and hauling, with straps and stops as each test wants them."""

from typing import Any

import numpy as np

from rigcheck.analysis.folded import Folded, folded
from rigcheck.analysis.rail_section import rail_section
from rigcheck.analysis.solve import layout
from rigcheck.case.reading.read import read_case_text
from rigcheck.case.rig import Rig, varied
from rigcheck.loads.steel import take_off

HEAD = """
title = "Teasel Bar, folded box for tests"
[box]
length = "110 in"
width = "26 in"
side_height = "6 in"
pitch = "0 deg"
sheet = "12 ga"
[hanger]
at = "70 in"
height = "6 in"
spacing = "29 in"
[perch]
downstream = "-12 in"
height = "64 in"
spacing = "31 in"
[line]
[[line.link]]
kind = "shackle"
size = "1/2 in"
grade = "carbon"
[bed]
depth = "1 1/2 in"
[rail]
stiffener = "HSS1-1/2x1-1/2x1/8"
"""
BACK = {"wll": "900 lb", "mbf": "2700 lb", "from": ["80 in", "13 in", "0 in"], "to": ["-60 in", "13 in", "80 in"]}
STOP = {"at": ["90 in", "0 in", "0 in"], "direction": "downstream", "capacity": "1500 lb"}


def _value(value: Any) -> str:
    if isinstance(value, list):
        return "[" + ", ".join(f'"{one}"' for one in value) + "]"
    return str(value).lower() if isinstance(value, bool | int | float) else f'"{value}"'


def _table(opening: str, keys: dict[str, Any]) -> str:
    return f"{opening}\n" + "".join(f"{key} = {_value(value)}\n" for key, value in keys.items())


def road_rig(
    *straps: dict[str, Any], stops: tuple[dict[str, Any], ...] = (), fold: str = "90 deg", more: str = "", **haul: Any
) -> Rig:
    """The rig with these straps and stops, folded so far."""
    text = HEAD + more + _table("[fold]", {"to": fold}) + _table("[haul]", haul)
    text += "".join(_table("[[haul.tie_down]]", strap) for strap in straps)
    text += "".join(_table("[[haul.stop]]", stop) for stop in stops)
    return Rig(read_case_text(text, name="test"))


def hold(rig: Rig, **changes: Any) -> Folded:
    """Statics of its folded rows; changes are key paths with two underscores for dots, over one batch."""
    keys = {key.replace("__", "."): np.asarray(value, dtype=np.float64) for key, value in changes.items()}
    rig = varied(rig, keys) if keys else rig
    batch = np.broadcast_shapes(*(value.shape for value in keys.values())) if keys else ()
    found = folded(rig, layout=layout(rig), pieces=take_off(rig), section=rail_section(rig), batch=batch)
    assert found is not None
    return found


def row(found: Folded, state: str, **variant: str) -> int:
    """Index of the one row with this variant."""
    places = np.flatnonzero(found.rows_where(state, **variant))
    assert len(places) == 1
    return int(places[0])
