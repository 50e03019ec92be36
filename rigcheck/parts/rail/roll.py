"""How far the open box rolls when one line carries all: what twists it, and where that must be said or stops a rig."""

from __future__ import annotations

import numpy as np

from rigcheck.analysis.across import CLOSED, least_own_constant, tubes
from rigcheck.analysis.bending import ALONE_AT
from rigcheck.analysis.rows import Flag
from rigcheck.analysis.solve import Solution
from rigcheck.arrays.guarded import divide
from rigcheck.arrays.types import Array
from rigcheck.parts.rail.checks import of_rail
from rigcheck.statics.geometry import most_apart
from rigcheck.statics.grillage import SHEAR_MODULUS, joined
from rigcheck.tables import shapes
from rigcheck.tables.load_cases import FOLDING

UNJOINED = "twist of the box on one line (nothing that joins the rails is described)"


def roll(solution: Solution) -> Array:
    """Roll of the box on one line under the loads as they are, shape (..., state, bound, side), else 0. [rad]"""
    alone = np.array([ALONE_AT[bound] for _, bound in solution.sagged.pairs], dtype=np.bool_)
    return solution.sagged.of_pairs(np.where(alone, solution.sag.roll, 0.0)) + fold_roll(solution)


def fold_roll(solution: Solution) -> Array:
    """The same of the box on its way up, whose sag is not worked out, 0 elsewhere and where its rails are not bent.

    The box's own resistance to twist, J_k = J L/(n b) at each of n places, takes a couple t_k where the box twists by
    phi' = t_k/(G J_k): the roll from the hinge on is the sum of phi' L/n. The factor of the loads is taken off again.

    Source: own derivation, docs/method.md#the-boxs-own-torsion.
    """
    own = solution.bent.forces.ties.own
    rising = solution.states(FOLDING)[:, None] & solution.alone
    if not own.shape[-1] or not rising.any():
        return np.zeros(solution.shape)
    turn = own * (most_apart(solution.layout) / (SHEAR_MODULUS * least_own_constant(solution.rig)))[..., None, None]
    most = solution.bent.of_pairs(np.abs(np.cumsum(turn, axis=-1)).max(-1))
    factor = np.abs(divide(solution.held.total, solution.demand.total))[..., None, None]
    return np.asarray(np.where(rising[..., None], most * factor, 0.0))


def closed_across(solution: Solution) -> bool:
    """Whether a closed tube or pipe joins the rails anywhere."""
    rig = solution.rig
    kinds = [shape.kind for shape, _ in tubes(rig).values()]
    if rig.has("cross_member.shape"):
        kinds.append(shapes.find(rig.value("cross_member.shape")).kind)
    return any(kind in CLOSED for kind in kinds)


def rails_joined(solution: Solution) -> bool:
    """Whether anything described joins the rails."""
    return bool(joined(solution.across).all())


@of_rail
def roll_flags(solution: Solution) -> list[Flag]:
    """The box rolls further than is told, or further than it may, on one line or with one line parted."""
    rig = solution.rig
    if not rails_joined(solution):
        return []
    found = roll(solution)
    told, most = (rig.number(f"rail.{key}")[..., None, None, None] for key in ("roll_reported", "roll_limit"))
    why = "" if closed_across(solution) else (
        "; nothing closed joins its rails, only open sections: a tube across at either end twists far less"
    )  # fmt: skip
    words = (("box_rolls", False, told, "hung on one line, the box rolls, one rail lower than the other, further than"),
             ("box_rolls_over", True, most, "hung on one line, the box rolls so far that it spills and its lines and"
              " hinge work out of true, further than"))  # fmt: skip
    return [
        Flag(code=code, stops=stops, where=found > limit,
             text=f"{text} {float(np.degrees(np.max(limit))):.3g} degrees{why}")
        for code, stops, limit, text in words
    ]  # fmt: skip
