"""Checks and findings of the folded box: straps, stops, rails, and the counting rules of the road."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from rigcheck.analysis.folded import Folded, twins
from rigcheck.analysis.items import Item
from rigcheck.analysis.missing import Missing
from rigcheck.analysis.rows import LEGAL, Check, Flag
from rigcheck.arrays.memory import side_by_side
from rigcheck.arrays.types import Array, Mask
from rigcheck.case.rig import Rig
from rigcheck.loads.folded import FORWARD
from rigcheck.parts.tie_down.eyelets import eyelet_checks, eyelets_not_assessed
from rigcheck.parts.tie_down.ways import RoadWay
from rigcheck.statics.restraint import STOP_WAY
from rigcheck.strength.bases import BASES
from rigcheck.strength.connections import tiedown as rules
from rigcheck.tables import steel, tiedown
from rigcheck.tables.load_cases import PARKED

TIE_DOWNS = Item.TIE_DOWNS
"""All of them together, as the rule of the road counts them."""
_LEGAL = Item.LEGAL_SIZE
_SIZES = (RoadWay.WIDTH, RoadWay.HEIGHT)
_STILL = 1e-9  # an uplift under this share of the weight is rounding
Kind = TypeVar("Kind", np.float64, np.bool_)


def _behind(values: NDArray[Kind], *, before: int) -> NDArray[Kind]:
    """Values of the folded rows, shape (..., state), behind rows of nothing, as (..., state, 1, 1)."""
    nothing = np.zeros((*values.shape[:-1], before), dtype=values.dtype)
    return np.concatenate([nothing, values], axis=-1)[..., None, None]


def folded_checks(found: Folded, *, before: int) -> list[Check]:
    """Straps, stops, rails and the rules of the road.

    Args:
        found: The folded rows.
        before: How many rows stand before them on the state axis.

    Returns:
        Checks over the whole state axis. A strap without a breaking strength has none for the breaking set.

    Source: 49 CFR 393.102, 393.106, 393.108, 393.110 (seen); docs/method.md#folded.
    """
    checks = [
        *_strap_checks(found, before=before),
        *_eyelet_checks(found, before=before),
        *_stop_checks(found, before=before),
        *_rail_checks(found, before=before),
        *_rule_checks(found, before=before),
    ]
    strength = np.concatenate([np.zeros(before, dtype=np.bool_), [row.ultimate for row in found.rows]])
    return [check for check in checks if np.any(check.where[..., 0, 0] & (strength == check.ultimate))]


def strap_name(rig: Rig, index: int) -> str:
    """What the tables call a tie-down."""
    name = rig.value(f"haul.tie_down.{index}.name")
    return f"tie-down {index + 1}" + (f": {name}" if name else "")


def _strap_checks(found: Folded, *, before: int) -> list[Check]:
    rig = found.rig
    checks = []
    for i, strap in enumerate(rig.value("haul.tie_down")):
        words = "one of them, pull along the strap; the rest at the hinge"
        if strap.kind != "to anchor":
            words += "; over the box counted as one leg from its box point to its anchor"
        for ultimate, key, mode in ((False, "wll", "working load limit"), (True, "mbf", "breaking strength")):
            if not rig.has(f"haul.tie_down.{i}.{key}"):
                continue
            checks.append(
                Check(part=strap_name(rig, i), group="road", mode=mode, unit="force", ultimate=ultimate,
                      way=RoadWay.STRAP, key=f"haul.tie_down.{i}",
                      demand=_behind(found.strap[..., i], before=before),
                      capacity=rig.number(f"haul.tie_down.{i}.{key}")[..., None, None, None],
                      basis=words, where=_behind(~found.restraint.unrestrained, before=before),
                      clause=f"49 CFR 393.102(a)({1 if ultimate else 2}), 393.108 (seen)")
            )  # fmt: skip
    return checks


def _eyelet_checks(found: Folded, *, before: int) -> list[Check]:
    if not found.strap.shape[-1]:
        return []
    pulls = [_behind(found.strap[..., i], before=before) for i in range(found.strap.shape[-1])]
    where = _behind(~found.restraint.unrestrained, before=before)
    return eyelet_checks(found.rig, pull=side_by_side(*pulls), where=where)


def _stop_checks(found: Folded, *, before: int) -> list[Check]:
    rig = found.rig
    return [
        Check(part=f"stop {i + 1}", group="road", unit="force", way=RoadWay.STOP,
              key=f"haul.stop.{i}",
              mode=RoadWay.STOP.value + (", breaking set" if ultimate else ""),
              demand=_behind(found.stop[..., i], before=before), ultimate=ultimate,
              capacity=rig.number(f"haul.stop.{i}.capacity")[..., None, None, None],
              basis="most it may push, as given, for both sets", clause="49 CFR 393.102(a) (seen), 393.104(c) (seen)",
              where=_behind(~found.restraint.unrestrained, before=before))
        for i in range(len(rig.value("haul.stop")))
        if rig.has(f"haul.stop.{i}.capacity")
        for ultimate in (False, True)
    ]  # fmt: skip


def _rail_checks(found: Folded, *, before: int) -> list[Check]:
    rig = found.rig
    basis = BASES[str(rig.value("basis"))]
    fy = min(steel.grade(str(rig.value(key))).fy for key in ("rail.steel", "box.steel"))
    return [
        Check(part=Item.RAIL, group="rail", mode="stress, folded" + (" (strength)" if ultimate else ""), unit="stress",
              demand=_behind(found.stress, before=before), capacity=np.asarray(fy / divisor), ultimate=ultimate,
              basis=f"Fy {fy / 1000.0:g} ksi / {divisor:g} ({name}); bending in its own plane only", clause=clause,
              where=_behind(~found.restraint.unrestrained, before=before))
        for divisor, ultimate, name, clause in (
            (basis.yielding, False, basis.name, basis.source),
            (1.0, True, "first yield", "AISC 360-22 H2-1 (seen)"),
        )
    ]  # fmt: skip


def _limits(rig: Rig) -> Array:
    return rig.column("haul.tie_down", "wll")


def blocked_forward(rig: Rig) -> bool:
    """Whether a stop pushes the box rearward, so that it cannot move the way the vehicle drives."""
    x, y = FORWARD[str(rig.value("haul.leading_end"))]
    ways = [STOP_WAY[stop.direction] for stop in rig.value("haul.stop")]
    return any(way[0] * x + way[1] * y < 0.0 for way in ways)


def _rule_checks(found: Folded, *, before: int) -> list[Check]:
    """The counting rules of the road, and size where the height of the hinge over the road is known."""
    rig, size = found.rig, found.envelope
    weight = found.service.weight[..., 0]
    road = _behind(found.rows_where("hauling"), before=before)
    ties = rig.value("haul.tie_down")
    counts, kinds = rig.column("haul.tie_down", "count"), [strap.kind for strap in ties]
    rows: list[tuple[str, RoadWay, str, Array, Array, str, str]] = []
    if ties:
        blocked = blocked_forward(rig)
        down = -found.held_by.way[..., 0, : len(ties), 2]
        fraction = tiedown.aggregate_fraction().value
        rows += [
            (TIE_DOWNS, RoadWay.NUMBER, "number", rules.least_number(size.length, weight=weight, blocked=blocked),
             counts.sum(-1),
             f"by length along the vehicle and weight, {'' if blocked else 'not '}blocked forward",
             "49 CFR 393.110 (seen)"),
            (TIE_DOWNS, RoadWay.SUM, "force", rules.least_aggregate(weight),
             rules.aggregate_limit(_limits(rig), counts=counts, kinds=kinds),
             f"{fraction:g} of the weight; half credit for a tie-down from box to anchor", "49 CFR 393.106(d) (seen)"),
        ]  # fmt: skip
        if not rig.value("hinge.pin_retained"):
            rows.append(
                (TIE_DOWNS, RoadWay.HOLD_DOWN, "force", rules.least_hold_down(weight),
                 rules.hold_down(_limits(rig), counts=counts, down=down),
                 "a fifth of the weight, by the straps alone: the hinge pin is not kept from jumping out",
                 "49 CFR 393.102(b) (seen)")
            )  # fmt: skip
    if rig.has("haul.hinge_above_road"):
        rows += [
            (_LEGAL, RoadWay.WIDTH, "length", size.width, np.asarray(rules.WIDEST),
             "box, hangers and perches; the plant itself is not known here", "23 CFR 658.15 (memory); permits differ"),
            (_LEGAL, RoadWay.HEIGHT, "length", size.height, np.asarray(rules.HIGHEST),
             "folded box and perches over the road", "state law, commonest limit (memory); ask on every route"),
        ]  # fmt: skip
    return [
        Check(part=part, group=LEGAL if way in _SIZES else "road", mode=way.value, unit=unit, way=way,
              demand=np.asarray(demand)[..., None, None, None],
              capacity=np.asarray(capacity)[..., None, None, None], basis=basis, clause=clause, where=road)
        for part, way, unit, demand, capacity, basis, clause in rows
    ]  # fmt: skip


def folded_flags(found: Folded, *, before: int) -> list[Flag]:
    """What must be said of the parked and of the hauled box.

    Args:
        found: The folded rows.
        before: How many rows stand before them on the state axis.

    Returns:
        Findings over the whole state axis.
    """
    road = found.rows_where("hauling")
    free = found.restraint.unrestrained
    outward = found.restraint.turn > 0.0
    alone = free & found.rows_where(PARKED, held_by="lines")
    rescued = np.zeros_like(alone)
    for lined, strapped in twins(found.rows).items():
        rescued[..., lined] = ~free[..., strapped]
    lost = alone & ~rescued
    leans = "the parked, folded box is held by nothing and falls"
    cure = ": lines pull one way and a stop pushes one way, and a lean is not a latch; pin it or strap it"
    weight = found.service.weight
    lifted = (found.restraint.hinge[..., 2] < -_STILL * weight[..., None]).any(-1) & ~free
    table: Sequence[tuple[str, bool, Mask, str]] = (
        ("hinge_uplift", False, lifted,
         "folded, the hinge is lifted: the pin must be held down, an open hook or a gravity-seated pin jumps out"),
        ("parked_falls_outward", True, lost & outward, f"{leans} outward, over the tail side, in this wind{cure}"),
        ("parked_falls_inward", True, lost & ~outward, f"{leans} inward, past its hinge, in this wind{cure}"),
        ("parked_needs_tie_downs", False, alone & rescued,
         "parked in this wind, lines and stops alone do not hold the folded box: leave the tie-downs on"),
        ("road_unrestrained", True, free & road,
         "on the road nothing described resists the turn of the box about its hinge: no strap, no stop acts that way"),
        ("no_tie_downs", True, road & (len(found.rig.value("haul.tie_down")) == 0),
         "no tie-down is described: the rule of the road asks for at least one, and hoists do not count"),
        ("hoists_are_not_tiedowns", False, road,
         "hoists and lines are not tie-downs: on the road they are counted as slack"),
        ("tie_down_weakest_part", False, road & (len(found.rig.value("haul.tie_down")) > 0),
         "the limit given for a tie-down must be that of its weakest part: strap, hook, tensioner, eyelet or anchor"),
    )  # fmt: skip
    return [
        Flag(code=code, text=text, stops=stops, where=_behind(np.asarray(where), before=before))
        for code, stops, where, text in table
    ]


def described(rig: Rig) -> bool:
    """Whether the case says anything of what holds the folded box."""
    return bool(rig.value("haul.tie_down") or rig.value("haul.stop"))


def folded_not_assessed(rig: Rig) -> list[Missing]:
    """What of the parked and hauled box the case does not describe."""
    if not rig.has("fold.to"):
        text = "parked and hauling: fold.to is not given, so the folded position is not known"
        return [Missing(text, id="fold.to", group="road")]
    if not described(rig):
        text = "parked and hauling: no tie-down and no stop is described"
        return [Missing(text, id="haul.tie_down", group="road")]
    unsaid = "no breaking strength given, so the breaking-strength set of the road is not assessed"
    missing = [
        Missing(f"{strap_name(rig, i)}: {unsaid}", id=f"haul.tie_down.{i}.mbf", group="road")
        for i in range(len(rig.value("haul.tie_down")))
        if not rig.has(f"haul.tie_down.{i}.mbf")
    ]
    missing += eyelets_not_assessed(rig)
    return missing + [
        Missing(f"stop {i + 1}: no capacity given", id=f"haul.stop.{i}.capacity", group="road")
        for i in range(len(rig.value("haul.stop")))
        if not rig.has(f"haul.stop.{i}.capacity")
    ]
