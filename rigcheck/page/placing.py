"""Put a strap that has no ends yet at the tail of the folded box, from where it is dragged to its place."""

from __future__ import annotations

from collections.abc import Mapping
from copy import deepcopy
from typing import Any

import numpy as np

from rigcheck.analysis.solve import layout
from rigcheck.case.errors import CaseError
from rigcheck.case.reading.read import check_case
from rigcheck.case.rig import Rig
from rigcheck.page.typed import BadRequestError, text_of
from rigcheck.quantities.shop import tape_of, tape_text
from rigcheck.statics.geometry import pose

DO, TABLE = "place", "haul.tie_down"
_ENDS = ("from", "to")


def lacks_an_end(row: Mapping[str, Any]) -> bool:
    """Whether a strap is not anywhere yet."""
    return any(end not in row for end in _ENDS)


def ends_at_the_tail(data: Mapping[str, Any]) -> dict[str, str]:
    """Ends of a strap on the left, from the tail's upper corner straight down or up to the height of the hinge.

    Args:
        data: The numbers on the page; straps without ends are left aside.

    Returns:
        Text of both ends as it would be typed.

    Raises:
        BadRequestError: The rest cannot be read, or does not fold.
    """
    rest = deepcopy(dict(data))
    rows = [row for row in rest.get("haul", {}).get("tie_down", []) if not lacks_an_end(row)]
    rest["haul"] = {**rest.get("haul", {}), "tie_down": rows}
    try:
        rig = Rig(check_case(rest))
    except CaseError:
        raise BadRequestError("the rest of the rig must be readable first") from None
    if not rig.has("fold.to"):
        raise BadRequestError("say first how far the box is folded (fold, to)")
    length, side, width = (float(rig.number(f"box.{key}")) for key in ("length", "side_height", "width"))
    at = pose(layout(rig), fold=np.array([float(rig.number("fold.to"))]))
    lift = side - float(rig.number("hinge.height"))
    level = float(length * at.along[0][0] + lift * at.normal[0][0])
    tape = tape_of(text_of(data.get("box", {}).get("length")))
    points = ((length, 0.5 * width, side), (level, 0.5 * width, 0.0))
    return {
        end: ", ".join(tape_text(value, tape=tape) for value in point) for end, point in zip(_ENDS, points, strict=True)
    }
