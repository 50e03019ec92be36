"""A proof load of water and sandbags: 125 % of the largest pull of one line, in four steps, no part past yield."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rigcheck.analysis.solve import Solution
from rigcheck.arrays.types import Array
from rigcheck.assessment.assess import Assessment, assess
from rigcheck.case.rig import Rig
from rigcheck.case.tacks import must_be_finished
from rigcheck.loads.measured import first_moment, level_arm
from rigcheck.loads.shape import side_at_tail
from rigcheck.loads.steel import take_off
from rigcheck.studies.field.model import water_moment
from rigcheck.studies.proof.load import Held, held, loaded

TARGET = 1.25  # of the largest static pull of one line; 29 CFR 1926.251(a)(4) (seen)
STEPS = 4  # common practice, no source
BAG = 50.0  # lbf; a filled sandbag, assumption
FROM_TAIL = 12.0  # in: middle of the pile from the tail, as near as a pile lies; assumption
KEEP_OUT = 36.0  # in beyond the length of the box; common practice, no source
_PLACES = 9  # places of the pile that are tried, from the tail to the hangers
_SHARES = np.linspace(0.0, 1.0, 101)  # of the load put on, where not all of it can be held
_BISECTIONS = 50


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step of the recipe.

    Attributes:
        share: Of the load to be put on. [1]
        depth: Water at the blocked tail, square to the floor. [in]
        bags: Weight of sandbags. [lbf]
        tension: Either line, static. [lbf]
        tail_deflection: Fall of the tail from where it hangs empty. [in]
        utilization: Highest, links against 1.25 times their limit, steel against yield. [1]
        part: What that is.
    """

    share: float
    depth: float
    bags: float
    tension: float
    tail_deflection: float
    utilization: float
    part: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """The recipe and what it rests on.

    Attributes:
        assessment: The check of the rig.
        state: State in which one line is pulled most.
        working: That pull, static, over every state at work, fold and share of the lines that the check looks at. [lbf]
        even: Either line in the heaviest state at rest when both carry alike. [lbf]
        target: Tension to be proved. [lbf]
        empty: Either line with the box empty. [lbf]
        brim: Water at the tail when full, square to the floor. [in]
        water_tension: Either line with the box full of water alone. [lbf]
        bags_at: Middle of the pile of bags, along the floor. [in]
        bag: One bag. [lbf]
        steps: The recipe, as far as everything holds at the target or not.
        reachable: Whether every part holds at the target.
        reached: Highest share of the load at which every part holds. [1]
        reached_tension: Either line there. [lbf]
        limit: Part that would be first past yield or proof load, empty where none is.
    """

    assessment: Assessment
    state: str
    working: float
    even: float
    target: float
    empty: float
    brim: float
    water_tension: float
    bags_at: float
    bag: float
    steps: list[Step]
    reachable: bool
    reached: float
    reached_tension: float
    limit: str


def proof(rig: Rig, *, bag: float = BAG, bags_at: float | None = None) -> Proof:
    """Work out the recipe for one rig.

    Args:
        rig: One rig, with a lever arm in every hung state.
        bag: Weight of one sandbag. [lbf]
        bags_at: Middle of the pile along the floor; where everything holds, as near the tail as it lies, if None. [in]

    Returns:
        The recipe.

    Raises:
        ValueError: If the lines have no arm about the hinge.

    Source: docs/method.md#proof.
    """
    must_be_finished(rig.case)
    assessment = assess(rig)
    solution = assessment.solution
    rest = np.flatnonzero(solution.cases(lambda case: case.at_rest))
    arm = float(solution.pose.arm[rest[0]])
    if bool(solution.held.dead[rest[0]]) or arm <= 0.0:
        raise ValueError("the lines have no lever arm about the hinge")
    even = 0.5 * float(solution.service.moment[rest, 1].max()) / arm
    top, working = largest_pull(solution)
    brim = float(side_at_tail(rig))
    dry = float(first_moment(rig, pieces=take_off(rig)))
    water = float(water_moment(rig, depths=np.asarray(brim)))
    shares = np.arange(1, STEPS + 1) / STEPS
    wanted = dry + shares * (2.0 * TARGET * working * arm - dry)
    place, found = _placed(rig, wanted=wanted, dry=dry, brim=brim, at=bags_at)
    depths, bags = split(rig, moment=wanted - dry, brim=brim, at=np.asarray(place))
    good = bool((~found.stopped & (found.utilization <= 1.0)).all())
    share, tension, limit = (1.0, float(found.tension[-1]), "") if good else _reach(
        rig, dry=dry, wanted=float(wanted[-1]), brim=brim, at=place
    )  # fmt: skip
    empty = held(loaded(rig, depths=np.zeros(()), bags=np.zeros(()), at=np.asarray(place)))
    return Proof(
        assessment=assessment,
        state=solution.rows[top].state,
        working=working,
        even=even,
        target=TARGET * working,
        empty=0.5 * dry / arm,
        brim=brim,
        water_tension=0.5 * (dry + water) / arm,
        bags_at=place,
        bag=bag,
        steps=[
            Step(share=float(shares[i]), depth=float(depths[i]), bags=float(bags[i]), tension=float(found.tension[i]),
                 tail_deflection=float(found.tail_deflection[i] - empty.tail_deflection),
                 utilization=float(found.utilization[i]), part=str(found.part[i]))
            for i in range(STEPS)
        ],
        reachable=good,
        reached=share,
        reached_tension=tension,
        limit=limit,
    )  # fmt: skip


def largest_pull(solution: Solution) -> tuple[int, float]:
    """Row of the largest static pull of one line among the states at work, folding included, and that pull. [lbf]

    Args:
        solution: The statics of one rig.

    Source: docs/method.md#proof.
    """
    live = solution.cases(lambda case: case.at_work) & ~(solution.accidents | solution.held.dead)
    pull = np.where((solution.allowed & live[:, None])[..., None], solution.held.tension, 0.0).max((-2, -1))
    top = int(pull.argmax())
    return top, float(pull[top])


def split(rig: Rig, *, moment: Array, brim: float, at: Array) -> tuple[Array, Array]:
    """Water first, up to the brim, then bags: depth at the tail [in] and weight of bags [lbf] for a moment.

    Args:
        rig: One rig.
        moment: To be added to the empty box about the hinge, shape (...). [lbf*in]
        brim: Most water at the tail, square to the floor. [in]
        at: Middle of the pile along the floor, shape (...). [in]

    Returns:
        Depth and bags, shapes (...).

    Source: exact integral of the level pool, bisected; docs/method.md#proof.
    """
    low, high = np.zeros_like(moment), np.full_like(moment, brim)
    for _ in range(_BISECTIONS):
        middle = 0.5 * (low + high)
        short = water_moment(rig, depths=middle) < moment
        low, high = np.where(short, middle, low), np.where(short, high, middle)
    full = water_moment(rig, depths=np.asarray(brim))
    arm = level_arm(rig, s=at, n=side_at_tail(rig))
    more = np.maximum(moment - full, 0.0)
    return high, np.asarray(np.where(more > 0.0, more / arm, 0.0))


def _placed(rig: Rig, *, wanted: Array, dry: float, brim: float, at: float | None) -> tuple[float, Held]:
    """Where the pile lies: nearest the tail where every step holds, else where the last one is best held."""
    length, hanger = float(rig.number("box.length")), float(rig.number("hanger.at"))
    tail = max(length - FROM_TAIL, 0.5 * length)
    places = np.array([at]) if at is not None else np.linspace(tail, min(hanger, tail), _PLACES)
    depths, bags = split(rig, moment=np.broadcast_to(wanted - dry, (len(places), STEPS)), brim=brim, at=places[:, None])
    found = held(loaded(rig, depths=depths, bags=bags, at=np.broadcast_to(places[:, None], bags.shape)))
    fine = (~found.stopped & (found.utilization <= 1.0)).all(-1)
    chosen = int(fine.argmax()) if fine.any() else int(found.utilization[:, -1].argmin())
    return float(places[chosen]), Held(
        utilization=found.utilization[chosen],
        part=found.part[chosen],
        tension=found.tension[chosen],
        tail_deflection=found.tail_deflection[chosen],
        stopped=found.stopped[chosen],
    )


def _reach(rig: Rig, *, dry: float, wanted: float, brim: float, at: float) -> tuple[float, float, str]:
    """Highest share of the load at which every part holds, the tension there, and what goes first beyond it."""
    depths, bags = split(rig, moment=_SHARES * (wanted - dry), brim=brim, at=np.asarray(at))
    found = held(loaded(rig, depths=depths, bags=bags, at=np.full_like(bags, at)))
    bad = found.stopped | (found.utilization > 1.0)
    first = int(bad.argmax()) if bad.any() else len(_SHARES) - 1
    last = max(first - 1, 0)
    limit = "the lines do not hold the box" if found.stopped[first] else str(found.part[first])
    return (0.0, 0.0, limit) if first == 0 else (float(_SHARES[last]), float(found.tension[last]), limit)
