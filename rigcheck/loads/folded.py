"""The folded box as rows: parked in the wind, and every direction of the road one at a time."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

import numpy as np

from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.loads.contents import left_over, taken_along
from rigcheck.loads.pieces import Lump, Push, Row, Strip
from rigcheck.loads.slopes import Ground, ground
from rigcheck.loads.steel import side_sheet
from rigcheck.loads.traps import left_in_some
from rigcheck.loads.wind import PARKED_SHAPE, ROAD_SHAPE, TOWARD, wind_push
from rigcheck.tables import tiedown
from rigcheck.tables.load_cases import HAULING, PARKED

STIFF = frozenset({"stiff"})  # a folded box is held by hinge, straps and stops; lines share alike
FORWARD: Mapping[str, tuple[float, float]] = MappingProxyType(
    {"head": (-1.0, 0.0), "tail": (1.0, 0.0), "left": (0.0, 1.0), "right": (0.0, -1.0)}
)
"""The way the vehicle drives, in the plant's x and y; x runs from head to tail."""
SETS = MappingProxyType({"breaking": tiedown.BASES[0], "working": tiedown.BASES[1]})


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class _Weight:
    """What the folded box weighs."""

    strips: Sequence[Strip]
    lumps: Sequence[Lump]
    fold: Array


def vehicle_ways(leading_end: str) -> dict[str, tuple[float, float]]:
    """Where the vehicle's own directions point in the plant's x and y.

    Args:
        leading_end: "head", "tail", "left" or "right".

    Returns:
        Unit vectors for forward, rearward, left and right of the driver.
    """
    x, y = FORWARD[leading_end]
    return {"forward": (x, y), "rearward": (-x, -y), "left": (-y, x), "right": (y, -x)}


def outside_width(rig: Rig) -> Array:
    """Box over its side walls, shape (...). [in]"""
    return np.asarray(rig.number("box.width") + 2.0 * side_sheet(rig))


def folded_rows(rig: Rig, *, dead: Sequence[Strip], lumps: Sequence[Lump]) -> list[Row]:
    """Parked and hauling; none where the case does not fold.

    Args:
        rig: The rig, one or a batch.
        dead: The empty box with its wet mats.
        lumps: Its lumps.

    Returns:
        Rows for the stiff bound only. What straps or lines hold in a parked row is in its variant. Where something is
        left in traps, wind is tried with them full and drained: weight holds the box against it.

    Source: 49 CFR 393.102 (seen) for the road; ASCE 7 (seen) for the wind; docs/method.md#folded.
    """
    if not rig.has("fold.to"):
        return []
    full = _Weight(strips=[*dead, *taken_along(rig)], lumps=lumps, fold=rig.number("fold.to"))
    rows = [*_parked(rig, weight=full), *_rule_rows(rig, weight=full), *_own_rows(rig, weight=full)]
    if left_in_some(rig):
        drained = replace(full, strips=[*dead, *left_over(rig)])
        lighter = [*_parked(rig, weight=drained), *_road_winds(rig, weight=drained)]
        rows += [replace(row, variant={**row.variant, "traps": "drained"}) for row in lighter]
    return rows


def _row(weight: _Weight, *, state: str, variant: Mapping[str, str | float], factor: str) -> Row:
    return Row(
        state=state,
        variant=variant,
        strips=weight.strips,
        lumps=weight.lumps,
        fold=weight.fold,
        bounds=STIFF,
        factor=factor,
        bend=False,
    )


def _winds(rig: Rig, *, key: str, shape: float) -> dict[str, Push]:
    angle = rig.number("fold.to") - rig.number("box.pitch")
    return wind_push(rig, speed=rig.number(key), factor=shape, angle=angle, width=outside_width(rig))


def _parked(rig: Rig, *, weight: _Weight) -> list[Row]:
    """The service gust from four sides, once on the lines and stops alone and once on the tie-downs and stops alone.

    The ground leans with the wind, and both ways across it: what turns the box lies between these.
    """
    winds = _winds(rig, key="wind.parked", shape=PARKED_SHAPE)
    ways = ("lines", "tie-downs") if rig.value("haul.tie_down") else ("lines",)
    factor = f"static, gust x {PARKED_SHAPE:g} (flat face)"
    on = ground(rig, lumps=weight.lumps)
    return [
        replace(
            _row(weight, state=PARKED, variant={"wind_to": toward, "held_by": way, **words}, factor=factor),
            gravity=gravity,
            pushes=[winds[toward]],
        )
        for way in ways
        for toward in TOWARD
        for gravity, words in _lean_with(toward, on=on)
    ]


def _lean_with(toward: str, *, on: Ground) -> list[tuple[tuple[Array, Array, float], dict[str, str]]]:
    """Gravity and the words for it with the ground leaning with a wind, and either way across it."""
    downwind = -1.0 if toward.startswith("-") else 1.0
    along_x = toward in ("+x", "-x")
    both = (1.0, -1.0) if (on.leans_across if along_x else on.leans_along) else (1.0,)
    found = []
    for other in both:
        tail, left = (downwind, other) if along_x else (other, downwind)
        words = on.words("left" if left > 0.0 else "right", np.asarray(tail))
        if on.leans_along:  # the same in every design
            words["low_end"] = "tail" if tail > 0.0 else "head"
        found.append(((tail * on.along, left * on.across, -1.0), words))
    return found


def _rule_rows(rig: Rig, *, weight: _Weight) -> list[Row]:
    """49 CFR 393.102(a): one direction at a time with the weight; the load is thrown the way the vehicle was going."""
    ways = vehicle_ways(str(rig.value("haul.leading_end")))
    names = {"forward": "forward", "rearward": "rearward", "left": "lateral", "right": "lateral"}
    rows = []
    for word, basis in SETS.items():
        for way, (x, y) in ways.items():
            g = tiedown.acceleration(names[way], basis=basis).value
            variant = {"direction": way, "set": word}
            row = _row(weight, state=HAULING, variant=variant, factor=f"{g:g} g {way} with 1 g down ({basis})")
            rows.append(replace(row, gravity=(g * x, g * y, -1.0), ultimate=word == "breaking"))
    return rows


def _own_rows(rig: Rig, *, weight: _Weight) -> list[Row]:
    """Our own vertical factors, and the wind of the road, all held against working values."""
    down, up = rig.number("factors.road_down"), rig.number("factors.road_up")
    rows = [
        replace(
            _row(weight, state=HAULING, variant={"direction": word, "set": "working"}, factor=f"x {_most(g)} {text}"),
            gravity=(0.0, 0.0, sign * g),
        )
        for word, g, sign, text in (("down", down, -1.0, "down (road)"), ("up", up, 1.0, "net up (road)"))
    ]
    return [*rows, *_road_winds(rig, weight=weight)]


def _road_winds(rig: Rig, *, weight: _Weight) -> list[Row]:
    """The wind of the road from four sides on the weight as it is."""
    winds, rows = _winds(rig, key="wind.road", shape=ROAD_SHAPE), []
    for toward in TOWARD:
        variant = {"wind_to": toward, "set": "working"}
        row = _row(weight, state=HAULING, variant=variant, factor=f"static, road wind x {ROAD_SHAPE:g}")
        rows.append(replace(row, pushes=[winds[toward]]))
    return rows


def _most(values: Array) -> str:
    return f"{float(np.max(values)):.4g}"
