"""Both ends of tie-downs as they are taken hold of on the picture of the folded rig; left and right go together."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from rigcheck.case.models.use import TieDown
from rigcheck.output.drawing.sheet import Frame, Sheet
from rigcheck.page.typed import text_of
from rigcheck.quantities import System
from rigcheck.quantities.shop import tape_of
from rigcheck.wording.plain import Plain, PlainView

_SLOTS = (0, 2)  # of a point those that a side view shows: along and up
_NEAR = 1e-6  # in


def tie_grips(
    drawing: PlainView, *, ties: Sequence[TieDown], frame: Frame, data: Mapping[str, Any], system: System, per: float
) -> list[Plain]:
    """A grip for each end of each tie-down, or of a pair that mirrors each other.

    Args:
        drawing: Drawing data of a rig that folds.
        ties: Its tie-downs.
        frame: What the view shows.
        data: The numbers as they stand on the page.
        system: Units of the drawing.
        per: Units of the drawing in an inch.
    """
    sheet = Sheet("side", frame)
    pose, rows = drawing["folded"], data.get("haul", {}).get("tie_down", ())
    level = ((1.0, 0.0), (0.0, 1.0))
    found, done = [], set()
    for number, tie in enumerate(ties):
        if number in done or number >= len(rows):
            continue
        pair = [number, *_mirror(ties, number)]
        done |= set(pair)
        names = " and ".join(ties[one].name or f"tie-down {one + 1}" for one in pair)
        drawn = drawing["tie_downs"][number]
        points = {end: sheet.place((drawn[end][0], drawn[end][1])) for end in ("from", "to")}
        for end, point, ways, where in (("from", tie.start, (pose["along"], pose["normal"]), "on the box"),
                                        ("to", tie.end, level, "on the plant")):  # fmt: skip
            other = points["to" if end == "from" else "from"]
            texts = [[text_of(each) for each in rows[one][end]] for one in pair]
            found.append({
                "key": f"haul.tie_down[{number + 1}].{end}",
                "keys": [f"haul.tie_down[{one + 1}].{end}" for one in pair],
                "texts": texts,
                "slots": list(_SLOTS),
                "name": f"{names}, {where}: along and up",
                "line": False,
                "beside": [0.0, 0.0],
                "at": list(points[end]),
                "ways": [[way[0] * sheet.scale * per, -way[1] * sheet.scale * per] for way in ways],
                "values": [point[slot] for slot in _SLOTS],
                "ends": [[*points[end], True], [*other, False]],
                "tape": tape_of(texts[0][0], system=system),
                "least": None,
                "most": None,
            })  # fmt: skip
    return found


def _mirror(ties: Sequence[TieDown], number: int) -> list[int]:
    """The tie-down that is the mirror image of one, if there is any."""
    one = ties[number]
    for place, other in enumerate(ties[number + 1 :], number + 1):
        ends = ((one.start, other.start), (one.end, other.end))
        if all(abs(a[0] - b[0]) + abs(a[2] - b[2]) + abs(a[1] + b[1]) < _NEAR and abs(a[1]) > _NEAR for a, b in ends):
            return [place]
    return []
