"""What one load does to the part of a rail uphill of a station: along the floor, square to it, about the axis."""

from __future__ import annotations

from functools import cache
from typing import Any

from rigcheck.calculation.algebra import integral, put
from rigcheck.calculation.box_loads import Load
from rigcheck.calculation.sharing import named
from rigcheck.calculation.sheet import Sheet
from rigcheck.quantities.measures import LENGTH, MOMENT, NUMBER, PER_LENGTH, STRESS

Terms = tuple[Any, Any, Any]

_RAIL = "statics, docs/method.md#rail"


def point_terms(sheet: Sheet, *, k: int, load: Load, station: float, shares: tuple[Any, Any]) -> Terms:
    """A weight at a point uphill of the station.

    Args:
        sheet: Where it is written.
        k: Number of the load in the table.
        load: The load.
        station: Station. [in]
        shares: Of each pound, along the floor and square to it.

    Returns:
        Force along the floor, force square to it, moment about the neutral axis at the station.
    """
    weight, x, axis = named(f"W_{k}"), named("x"), named("n_0")
    s = named(f"s_{k}") if load.s != 0.0 else 0
    n = named(f"n_{k}") if load.n != 0.0 else 0
    along, across = weight * shares[0], weight * shares[1]
    moment = sheet.find(
        f"Moment of {load.name} about the station",
        f"M_{k}",
        across * (x - s) + along * (n - axis),
        MOMENT,
        clause=_RAIL,
    )
    return along, across, moment


@cache
def _integrals(kind: str) -> Terms:
    """Weight of a strip from its start to e, and what it turns about x and about the neutral axis, by integration.

    Args:
        kind: `even` where weight and height do not change along it, `linear` otherwise.

    Returns:
        Integrals of w, of w (x - s) and of w (n - n_0) from o to e.
    """
    from sympy import factor

    x, axis, start, end, s = (named(name) for name in ("x", "n_0", "o", "e", "s"))
    if kind == "even":
        w: Any = named("w")
        n: Any = named("n")
    else:
        w = named("w") + named("w_d") * (s - start)
        n = named("n") + named("n_d") * (s - start)
    parts = (w, w * (x - s), w * (n - axis))
    return tuple(factor(integral(one, over=s, start=start, end=end)) for one in parts)


def strip_terms(sheet: Sheet, *, k: int, load: Load, station: float, shares: tuple[Any, Any]) -> Terms:
    """The part of a strip that lies uphill of the station.

    Args:
        sheet: Where it is written.
        k: Number of the load in the table.
        load: The load.
        station: Station. [in]
        shares: Of each pound, along the floor and square to it.

    Returns:
        Force along the floor, force square to it, moment about the neutral axis at the station.
    """
    if load.strip is None:
        raise ValueError(f"{load.name} is not a strip")
    start, end, w0, w1, n0, n1 = load.strip
    span = end - start
    even = w0 == w1 and n0 == n1
    stop = min(end, station)
    values: dict[str, Any] = {
        "o": 0 if start == 0.0 else sheet.given(f"o_{k}", start, LENGTH, f"where {load.name} begins"),
        "e": named("x") if stop == station else sheet.given(f"e_{k}", stop, LENGTH, f"where {load.name} ends"),
        "w": sheet.given(f"w_{k}", w0, PER_LENGTH, f"{load.name} per length{'' if even else ' where it begins'}"),
        "n": 0
        if n0 == 0.0
        else sheet.given(f"h_{k}", n0, LENGTH, f"its middle above the floor{'' if even else ' there'}"),
    }
    if not even:
        values["w_d"] = (
            0 if w0 == w1 else sheet.given(f"w_d{k}", (w1 - w0) / span, STRESS, "its change along the floor")
        )
        values["n_d"] = 0 if n0 == n1 else sheet.given(f"h_d{k}", (n1 - n0) / span, NUMBER, "change of its height")
    weight, turned, lifted = (
        put(one, {named(name): value for name, value in values.items()})
        for one in _integrals("even" if even else "linear")
    )
    along, across = weight * shares[0], weight * shares[1]
    moment = sheet.find(
        f"Moment of {load.name} about the station, integrated from its start",
        f"M_{k}",
        shares[1] * turned + shares[0] * lifted,
        MOMENT,
        clause=_RAIL,
    )
    return along, across, moment
