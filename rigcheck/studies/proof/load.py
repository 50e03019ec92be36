"""A proof load as a batch of rigs, and every part at it held against yield and every link against its proof load."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rigcheck.analysis.rows import Check, worst
from rigcheck.analysis.solve import solve
from rigcheck.arrays.types import Array, Mask
from rigcheck.case.models.case import Fitting
from rigcheck.case.rig import Rig, varied
from rigcheck.case.schema.sections import changed
from rigcheck.loads.measured import level_arm
from rigcheck.loads.pieces import BOUNDS
from rigcheck.loads.shape import side_at_tail
from rigcheck.parts.registry import hung_checks
from rigcheck.strength.bases import DESIGN_FACTOR_B
from rigcheck.studies.field.model import pooled
from rigcheck.studies.vary.case import with_values
from rigcheck.tables.load_cases import PLUGGED

LINK_PROOF = 1.25
"""Most that a proof load may put on rated hardware, over its working load limit. Source: 29 CFR 1926.251(a)(4) (seen);
125 % test of hoists, ASME HST-3 (seen)."""
LINK_BREAK = 0.5
"""The same over its breaking strength. Source: chain is proof-tested at half its breaking force, ASTM A391 (memory)."""
_STIFF = BOUNDS.index("stiff")  # a symmetric load bends both rails of it alike


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """Every part at a batch of proof loads, shapes (...).

    Attributes:
        utilization: The highest over links against their proof load and steel against yield. [1]
        part: What that is, an array of texts.
        tension: Either line, static. [lbf]
        tail_deflection: Fall of the tail from its unloaded place. [in]
        stopped: True where the box is not held at all.
    """

    utilization: Array
    part: NDArray[np.str_]
    tension: Array
    tail_deflection: Array
    stopped: Mask


def loaded(rig: Rig, *, depths: Array, bags: Array, at: Array) -> Rig:
    """The level, empty rig with water behind a blocked tail and bags on planks across its sides.

    Args:
        rig: One rig.
        depths: Water at the tail, square to the floor, shape (...). [in]
        bags: Weight of the bags, shape (...). [lbf]
        at: Middle of the pile along the floor, shape (...). [in]

    Returns:
        Rigs of shape (...), steel on the lifting basis; what was weighed without the bags is carried on with them.

    Source: docs/method.md#proof.
    """
    pile = Fitting(name="proof bags", weight=1.0, at=0.0)
    case = with_values(rig.case, {"basis": "lifting"})
    case = changed(case, {"fitting": (*case.fitting, pile)})
    number = len(case.fitting) - 1
    height = side_at_tail(rig)
    changes = {f"fitting.{number}.weight": bags, f"fitting.{number}.at": at, f"fitting.{number}.height": height}
    if rig.has("measured.empty_weight"):
        changes["measured.empty_weight"] = rig.number("measured.empty_weight") + bags
    if rig.has("measured.tail_lift"):
        share = level_arm(rig, s=at, n=height) / rig.number("measured.tail_lift_at")
        changes["measured.tail_lift"] = rig.number("measured.tail_lift") + bags * share
    return varied(pooled(Rig(case, rig.varied), depths=depths), changes)


def held(rig: Rig) -> Held:
    """Hold every described part of rigs made by `loaded`.

    Links against 1.25 times their working value and half their breaking strength. Steel against its allowable value of
    the lifting basis times the design factor 3.0, which is yielding (and rupture over 1.2), and against its nominal
    strength. Deflection limits and the hoist's full rating are left out.

    Args:
        rig: Rigs of shape (...).

    Returns:
        The parts at their worst.

    Source: docs/method.md#proof.
    """
    solution = solve(rig, only=frozenset({PLUGGED}))
    allowed = solution.allowed & solution.states(PLUGGED)[:, None]
    uses, names = [], []
    for check in hung_checks(solution):
        if check.snag or check.unit == "length":
            continue
        use = worst(check, allowed=allowed, shape=solution.shape).utilization
        uses.append(use / _relief(check))
        names.append(f"{check.part}, {check.mode}")
    stacked = np.stack(np.broadcast_arrays(*uses), axis=-1)
    row = int(np.flatnonzero(solution.states(PLUGGED))[0])
    return Held(
        utilization=stacked.max(-1),
        part=np.asarray(names)[stacked.argmax(-1)],
        tension=0.5 * solution.held.total[..., row],
        tail_deflection=solution.sag.tail_deflection[..., solution.sagged.place(row, _STIFF), :].mean(-1),
        stopped=np.asarray(solution.held.dead[..., row] | (solution.held.total[..., row] < 0.0)),
    )


def _relief(check: Check) -> float:
    """How many times the capacity of a check its part may see at a proof load."""
    if check.group == "line":
        return LINK_BREAK if check.ultimate else LINK_PROOF
    return 1.0 if check.ultimate else DESIGN_FACTOR_B
