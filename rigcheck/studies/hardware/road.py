"""Choose tie-downs by the tables of the rule of the road, and say what mark a snub line needs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from rigcheck.analysis.folded import Folded
from rigcheck.parts.fold.checks import SNUB, snub_pull
from rigcheck.parts.tie_down.checks import blocked_forward, strap_name
from rigcheck.quantities import write
from rigcheck.strength.connections import tiedown as rules
from rigcheck.studies.hardware.base import Base, pick
from rigcheck.studies.hardware.record import Choice, Size
from rigcheck.studies.hardware.steel import fraction
from rigcheck.tables import tiedown
from rigcheck.tables.loader import load

_GRADE = "70"  # transport chain, the grade made for tying down; common practice
_STEP = 50.0  # lb: marks and breaking strengths are told in such steps
_SHORT = "leaves the aggregate working load limit short of what the rule asks for, with all alike"


def road_choices(base: Base, *, parts: frozenset[str] | None = None) -> list[Choice]:
    """The smallest listed tie-down for each of the case, and the mark of the snub line.

    Args:
        base: The rig as it is.
        parts: The checks' words for the parts wanted; all of them where not said.

    Source: Tables to 49 CFR 393.108 (seen); docs/method.md#hardware.
    """
    found = [*_tie_downs(base), *_snub_line(base)]
    return [one for one in found if parts is None or one.part in parts]


def _tie_downs(base: Base) -> list[Choice]:
    """Webbing where it is enough for every tie-down, else chain for all: kinds with unlike stretch do not share."""
    road = base.found.solution.road
    if road is None or not base.rig.value("haul.tie_down") or bool(road.restraint.unrestrained.all()):
        return []
    kinds = {"webbing": _webbing(), "chain": _chain()}
    for table in kinds:
        sizes = [_strap_sizes(base, road, kinds[table], index=i) for i in range(road.strap.shape[-1])]
        picked = [pick(one, max_utilization=base.max_utilization) for one in sizes]
        if all(chosen is not None for chosen, _ in picked):
            break
    return [_choice(base, road, index=i, table=table, picked=one) for i, one in enumerate(picked)]


def _webbing() -> list[tuple[str, float]]:
    rows = load("tiedown_wll")["webbing"]["row"]
    return [(f"{fraction(row['width_in'])} webbing", tiedown.webbing_limit(row["width_in"]).value) for row in rows]


def _chain() -> list[tuple[str, float]]:
    rows = load("tiedown_wll")["chain"]["row"]
    return [
        (f"{fraction(row['size_in'])} grade {_GRADE} chain", tiedown.chain_limit(row["size_in"], grade=_GRADE).value)
        for row in rows
        if f"g{_GRADE}_wll_lb" in row
    ]


def _most(road: Folded, *, index: int, breaking: bool) -> float:
    """Largest pull of one of a kind in the rows held against breaking strength, or in the others. [lbf]"""
    rows = np.array([row.ultimate == breaking for row in road.rows]) & ~road.restraint.unrestrained
    return float(np.max(road.strap[rows, index], initial=0.0))


def strap_needs(road: Folded, *, index: int) -> tuple[float, float]:
    """What one of a kind of tie-downs must be marked, and at what it may break no earlier. [lbf]

    Args:
        road: The folded rows of one rig.
        index: Which of `haul.tie_down`.

    Source: largest pulls of the rows held against working load limits, and against breaking strength.
    """
    return _most(road, index=index, breaking=False), _most(road, index=index, breaking=True)


def marks_together(road: Folded) -> float:
    """What all marks must come to as the rule of the road counts them. [lbf]

    Args:
        road: The folded rows of one rig.

    Source: 49 CFR 393.106(d) (seen).
    """
    return float(np.max(rules.least_aggregate(road.service.weight[..., 0])))


def _strap_sizes(base: Base, road: Folded, kind: Sequence[tuple[str, float]], *, index: int) -> list[Size]:
    pull, thrown = (_most(road, index=index, breaking=breaking) for breaking in (False, True))
    key = f"haul.tie_down.{index}"
    sizes = []
    for words, limit in kind:
        breaks = max(_STEP * np.ceil(thrown / base.max_utilization / _STEP), limit)
        tag = f"WLL {_pounds(limit)}, breaking at {_pounds(breaks)} or more"
        use = max(pull / limit, thrown / breaks)
        together = _together(base, road, limit=limit)
        sizes.append(
            Size(words=words, tag=tag, use=use, fits=together <= base.max_utilization, why_not=_SHORT,
                 changes={f"{key}.wll": limit, f"{key}.mbf": float(breaks)})
        )  # fmt: skip
    return sizes


def _together(base: Base, road: Folded, *, limit: float) -> float:
    """Use of the rules that count all tie-downs together, were each of them of one limit."""
    ties = base.rig.value("haul.tie_down")
    counts, kinds = [strap.count for strap in ties], [strap.kind for strap in ties]
    limits, weight = np.full(len(ties), limit), road.service.weight[..., 0]
    uses = [rules.least_aggregate(weight) / rules.aggregate_limit(limits, counts=counts, kinds=kinds)]
    if not base.rig.value("hinge.pin_retained"):
        down = rules.hold_down(limits, counts=counts, down=-road.held_by.way[..., 0, : len(ties), 2])
        uses.append(np.where(down > 0.0, rules.least_hold_down(weight) / np.where(down > 0.0, down, 1.0), np.inf))
    return float(np.max(uses))


def _choice(base: Base, road: Folded, *, index: int, table: str, picked: tuple[Size | None, Size | None]) -> Choice:
    chosen, smaller = picked
    strap = base.rig.value("haul.tie_down")[index]
    name = strap_name(base.rig, index)
    block = load("tiedown_wll")["webbing" if chosen is None else table]
    needs = _most(road, index=index, breaking=False) / base.max_utilization
    notes = [] if index else ["what is marked goes before the table; the weakest part of each tie-down counts"]
    if chosen is None:
        notes.append("no listed size carries it, or the sum of their limits stays short: use more of them")
    asked, there = _asked(base, road), sum(one.count for one in base.rig.value("haul.tie_down"))
    if not index and asked > there:
        notes.append(f"the rule asks for {asked} tie-downs and there {'is' if there == 1 else 'are'} {there}")
    return Choice(
        part=name,
        count=strap.count,
        now=f"marked {write(strap.wll, dimension='force')}",
        use_now=base.use(name),
        chosen=chosen,
        smaller=smaller,
        source=f"{block['source']}; {block['clause']} ({block['known']})",
        listed=True,
        needs=0.0 if chosen is not None else needs,
        note="; ".join(notes),
    )


def _asked(base: Base, road: Folded) -> int:
    """How many tie-downs the rule asks for."""
    weight, blocked = road.service.weight[..., 0], blocked_forward(base.rig)
    return int(rules.least_number(road.envelope.length, weight=weight, blocked=blocked))


def _snub_line(base: Base) -> list[Choice]:
    solution = base.found.solution
    most = float(np.max(snub_pull(solution), initial=0.0))
    if most <= 0.0:
        return []
    rig, known = base.rig, base.rig.has("fold.snub_wll")
    marked = float(rig.number("fold.snub_wll")) if known else 0.0
    needs = float(_STEP * np.ceil(most / base.max_utilization / _STEP))
    choice = Choice(
        part=SNUB,
        count=1,
        now=f"marked {write(marked, dimension='force')}" if known else "no mark known",
        use_now=base.use(SNUB) if known else 0.0,
        chosen=None,
        smaller=None,
        source="no published table: choose by the mark on the part",
        listed=False,
        needs=needs,
        note="pulled at the hangers and square to their distance from the hinge; pulled at a slant it needs more",
    )
    return [choice if needs <= marked else replace(choice, by_mark={"fold.snub_wll": needs})]


def _pounds(value: float) -> str:
    return write(value, dimension="force", digits=6, rounding="down")
