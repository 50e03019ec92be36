"""The free body of the folded box to scale: weight, acceleration and wind, straps, stops, lines and hinge."""

from __future__ import annotations

from math import hypot

from rigcheck.output.drawing.folded_body_data import LINE, STOP, STRAP
from rigcheck.output.drawing.labels import Point
from rigcheck.output.drawing.sheet import Sheet
from rigcheck.tables.load_cases import PARKED
from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import number

_LONGEST, _SHORTEST = 92.0, 26.0  # force arrows, picture units
_NOTHING = 1e-6  # share of the largest force under which none is drawn
_SAME_PLACE, _SAME_WAY = 0.02, 0.999  # of the size of the box, and cosine: what the side view shows as one
_WORDS = {STRAP: ("tie-down", "tie-downs"), STOP: ("stop", "stops"), LINE: ("line", "both lines")}


def folded_arrows(sheet: Sheet, *, body: PlainView, cg: Point, unit: str) -> None:
    """Draw every force on the folded box that the side view shows.

    Args:
        sheet: Where the box is drawn already.
        body: The governing case, folded.
        cg: Its center of gravity.
        unit: Label of force.
    """
    found = body["folded"]
    hinge = {axis: sum(found["hinge"][side][axis] for side in ("left", "right")) for axis in "xz"}
    held = together([one for one in found["members"] if one["force"] > 0.0], size=_size(body))
    shown = [found["weight"], _flat(found["acceleration"]), _flat(found["wind"]), *map(abs, hinge.values())]
    most = max(*shown, *(one[2] for one in held), 1e-9)

    def draw(at: Point, way: Point, words: str, *, into: bool = False) -> None:
        size = hypot(*way)
        if size > _NOTHING * most:
            text = f"{words} {number(size, unit=unit, rounding='up')}"
            sheet.arrow(at, along=way, length=max(_SHORTEST, _LONGEST * size / most), text=text, into=into)

    sheet.center_of_gravity(cg)
    draw(cg, (0.0, -found["weight"]), "W")
    draw(cg, (found["acceleration"]["x"], found["acceleration"]["z"]), thrown_by(body))
    if found["wind_at"] is not None:
        at = (found["wind_at"][0], found["wind_at"][1])
        draw(at, (found["wind"]["x"], found["wind"]["z"]), "wind", into=True)
    for at, way, _, kind, words in held:
        draw(at, way, words, into=kind == STOP)
    for axis, along in (("x", (1.0, 0.0)), ("z", (0.0, 1.0))):
        value = hinge[axis]
        draw((0.0, 0.0), (value * along[0], value * along[1]), f"R{axis}", into=value > 0.0)


def thrown_by(body: PlainView) -> str:
    """What presses sideways beside the wind: on the road an acceleration, parked what the plant leans."""
    return "lean" if body["state"] == PARKED else "acceleration"


Held = tuple[Point, Point, float, str, str]  # where, force in the side view, its size, kind, words


def together(members: list[PlainView], *, size: float) -> list[Held]:
    """What carries, with what the side view shows at one place and in one way as one force.

    Args:
        members: Those that carry.
        size: Of the box.
    """
    groups: list[list[PlainView]] = []
    for one in members:
        beside = (group for group in groups if _alike(group[0], one, size=size))
        group = next(beside, None)
        if group is None:
            groups.append([one])
        else:
            group.append(one)
    found: list[Held] = []
    for group in groups:
        way = sum(one["vector"]["x"] for one in group), sum(one["vector"]["z"] for one in group)
        kind = group[0]["kind"]
        single, several = _WORDS[kind]
        told = f"{several} {', '.join(str(one['number']) for one in group)}" if len(group) > 1 else ""
        words = group[0]["name"] if kind == LINE else f"{single} {group[0]['number']}"
        words = several if kind == LINE and len(group) > 1 else told or words
        found.append(((group[0]["at"][0], group[0]["at"][1]), way, hypot(*way), kind, words))
    return found


def _alike(one: PlainView, other: PlainView, *, size: float) -> bool:
    ways = [(member["vector"]["x"], member["vector"]["z"]) for member in (one, other)]
    cosine = ways[0][0] * ways[1][0] + ways[0][1] * ways[1][1]
    apart = hypot(one["at"][0] - other["at"][0], one["at"][1] - other["at"][1])
    straight = cosine >= _SAME_WAY * hypot(*ways[0]) * hypot(*ways[1])
    return one["kind"] == other["kind"] and apart <= _SAME_PLACE * size and straight


def _flat(vector: PlainView) -> float:
    return hypot(vector["x"], vector["z"])


def _size(body: PlainView) -> float:
    xs, zs = ([corner[i] for corner in body["pose"]["corners"]] for i in range(2))
    return float(max(max(xs) - min(xs), max(zs) - min(zs)))
