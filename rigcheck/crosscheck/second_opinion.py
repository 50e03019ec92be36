"""The second opinion: the box of the case file solved anew as a space frame, and how far the answers differ."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal, get_args

import numpy as np

from rigcheck.analysis.rows import SIDES
from rigcheck.analysis.solve import Solution
from rigcheck.arrays.types import Array
from rigcheck.assessment.assess import Assessment
from rigcheck.crosscheck.frame import Answer, solve_frame
from rigcheck.crosscheck.frame_box import YOUNG, Box, Loading, angle_of, framed, joints, lever, loading, stations
from rigcheck.crosscheck.frame_model import Held, line_give, mesh
from rigcheck.loads.pieces import BOUNDS, Row
from rigcheck.parts.line.geometry import clamped
from rigcheck.statics.balance import DEAD_POINT

Quantity = Literal[
    "line tension", "hinge force", "peak rail moment", "torque across", "sag", "tail drop", "roll"
]  # fmt: skip
Kind = Literal["force", "moment", "length", "angle"]

_WITHIN = 9  # places in a part of the rail at which its sag is looked at
QUANTITIES: tuple[Quantity, ...] = get_args(Quantity)
LIMIT = 0.005  # more than half a percent is an error, not a footnote
FLOOR = 0.01  # differences are held against at least this share of what is large in the row
SMALL = {"roll": 0.1, "torque across": 0.1, "tail drop": 0.1}
"""The same share for what is a difference of large numbers, two falls, two slopes, or how far the tail goes down along
the line from hinge to hanger and how far it bows up again: the frame, whose rigid arms are stiff bars, has each of them
to some 3 parts in 10,000, measured on drawn rigs."""
SKEWED = {"roll": 0.3, "sag": 0.3, "tail drop": 0.3}
"""The same where the sides run apart: what moves there is told of quarters of a taper by the spacing amid them."""
NEAR_DEAD = 2.0
"""Times the lever arm of a dead point within which falls and roll are not compared: what goes along the line, such as
how far a rail is pushed together, comes out ten and more times as large at the hanger."""
_HOW = {
    "limp": Held("both", twist="none"),
    "stiff": Held("alike"),
    "loose": Held("both", rolls=True),
    "left": Held("left"),
    "right": Held("right"),
}


@dataclass(frozen=True, slots=True)
class Comparison:
    """One quantity from both methods.

    Attributes:
        name: What it is, with side, axis or member.
        quantity: What it is one of.
        kind: Dimension; the floor of the relative difference is taken within a kind.
        factored: True under the loads times their dynamic factors, False under the loads as they are.
        ours: From the closed forms. [lbf, lbf*in, in or rad]
        frame: From the frame.
        difference: Over max(|value|, 1 % of the largest of its kind, 1 % of what the whole load of the row would make
            of it; 10 % for roll, torque and tail drop). [1]
    """

    name: str
    quantity: Quantity
    kind: Kind
    factored: bool
    ours: float
    frame: float
    difference: float


@dataclass(frozen=True, slots=True)
class Confirmation:
    """Both methods on one row and one way of sharing.

    Attributes:
        state: Index of the row.
        bound: Index into `rigcheck.loads.pieces.BOUNDS`.
        label: Row and bound in words.
        comparisons: Every quantity compared.
        imbalance: Largest force that the frame leaves over. [lbf]
        row: The row itself.
    """

    state: int
    bound: int
    label: str
    comparisons: tuple[Comparison, ...]
    imbalance: float
    row: Row | None = None

    @property
    def worst(self) -> float:
        """Largest relative difference."""
        return max(one.difference for one in self.comparisons)

    @property
    def ok(self) -> bool:
        """Whether every difference is within half a percent."""
        return self.worst <= LIMIT


@dataclass(frozen=True, slots=True)
class _Pair:
    """A quantity from both methods, before it is known what is large in the row."""

    name: str
    quantity: Quantity
    kind: Kind
    factored: bool
    ours: float
    frame: float


def confirm(solution: Solution, *, state: int, bound: int, design: tuple[int, ...] = ()) -> Confirmation:
    """Build one row anew from the case file and its loads alone, solve it as a space frame and compare.

    Nothing of the solution goes into the frame but what weighs what and where, and what a line gives.

    Args:
        solution: The statics.
        state: Index of a row in which the lines hold the box, away from a dead point.
        bound: Index into BOUNDS of one that applies to it.
        design: Place in the batch; empty for a single case.

    Returns:
        The comparison. A row in which one line parts is compared before the dynamic peak.

    Raises:
        ValueError: If no line holds the box in the row, the bound does not apply, or it stands at a dead point.
        FrameError: If the frame's own answer does not hold together.
    """
    if not 0 <= state < solution.before_road:
        raise ValueError(f"row {state} does not hang on its lines")
    row, at = solution.rows[state], (*design, state)
    if not solution.allowed[state, bound] or bool((solution.held.lifted | solution.demand.lifted)[at]):
        raise ValueError(f"row {state} is not held so")
    if bool(solution.held.dead[at]) or (BOUNDS[bound] == "loose" and bool(solution.held.unsplit[at])):
        raise ValueError(f"row {state} stands at a dead point")
    if BOUNDS[bound] == "limp" and bool(clamped(solution)[at]):
        raise ValueError(f"in row {state} nobody can tell how the lines share")
    box = framed(solution.rig, design=design)
    give = float(np.broadcast_to(solution.give, solution.held.total.shape)[at])
    held = replace(_HOW[BOUNDS[bound]], give=give)
    known = bool(box.ties) or held.twist == "none"
    if not known:
        held = replace(held, twist="rigid")
    bent, still = (known and bool(one.slots[state, bound].any()) for one in (solution.bent, solution.sagged))
    found = _solved(box, row=row, held=held, still=still, design=design)
    pairs = _factored(solution, at=at, bound=bound, row=row, answer=found.heavy)
    if bent and found.known:
        pairs += _bent(solution, at=at, bound=bound, answer=found.heavy, box=box)
    if found.still is not None:
        flat = lever(box, angle=angle_of(box, row=row, design=design)) < NEAR_DEAD * DEAD_POINT
        pairs += _resting(solution, at=at, bound=bound, answer=found.still, nodes=found.nodes, box=box, flat=flat)
    words = ", ".join(f"{key.replace('_', ' ')} {value}" for key, value in row.variant.items())
    return Confirmation(
        state=state,
        bound=bound,
        label=f"{row.state}{f' ({words})' if words else ''}, {BOUNDS[bound]}",
        comparisons=tuple(_differences(pairs, loads=found.loads, box=box)),
        imbalance=found.imbalance,
        row=row,
    )


def confirm_governing(assessment: Assessment, *, design: tuple[int, ...] = ()) -> list[Confirmation]:
    """Confirm the row and bound that govern, and those with the largest tension, rail moment and sag.

    Args:
        assessment: The assessment.
        design: Place in the batch; empty for a single case.

    Returns:
        One confirmation per row and bound, without repeats.
    """
    solution = assessment.solution
    hung = solution.before_road
    usable = np.asarray(solution.allowed)[:hung] & ~solution.held.dead[design][:hung, None]
    usable &= ~(solution.held.lifted | solution.demand.lifted)[design][:hung, None]
    usable[:, BOUNDS.index("loose")] &= ~solution.held.unsplit[design][:hung]
    usable[:, BOUNDS.index("limp")] &= ~clamped(solution)[design][:hung]
    chosen: list[tuple[int, int]] = []
    worst = assessment.worst[int(assessment.governing[design])]
    state, bound = (int(np.broadcast_to(at, assessment.utilization.shape)[design]) for at in (worst.state, worst.bound))
    if state < hung and usable[state, bound]:
        chosen.append((state, bound))
    working = usable & ~solution.accidents[:hung, None]
    for values in (
        solution.demand.tension,
        solution.bent.on_bounds(solution.peaks.max_moment),
        solution.sagged.on_bounds(solution.sag.sag),
    ):
        ranked = np.where(working, np.abs(values[design][:hung]).max(-1), -1.0)
        best = np.unravel_index(int(ranked.argmax()), ranked.shape)
        if ranked[best] > 0.0:
            chosen.append((int(best[0]), int(best[1])))
    return [confirm(solution, state=state, bound=bound, design=design) for state, bound in dict.fromkeys(chosen)]


def worst_difference(confirmations: Sequence[Confirmation]) -> float:
    """Largest relative difference of several confirmations; nothing confirmed is an error."""
    if not confirmations:
        raise ValueError("nothing was confirmed")
    return max(one.worst for one in confirmations)


@dataclass(frozen=True, slots=True)
class _Solved:
    """The frame's answer under the factored loads, and how far both rails fall under the loads as they are.

    `known` is False where one line went slack and nothing described joins the rails: what lines and hinge carry is told
    then, and how the rails bend is anybody's guess.
    """

    heavy: Answer
    loads: Loading
    nodes: Array
    still: Answer | None
    imbalance: float
    known: bool


def _solved(box: Box, *, row: Row, held: Held, still: bool, design: tuple[int, ...]) -> _Solved:
    """The frame under the factored loads and under the loads as they are."""
    angle = angle_of(box, row=row, design=design)
    nodes = mesh(
        box.length,
        hanger=box.hanger[0],
        at=[*(tie.s for tie in (*box.ties, *box.own)), *joints(box), *stations(row, design=design)],
    )
    sets = {"heavy": loading(row, angle=angle, nodes=nodes, factored=True, design=design)}
    if still:
        sets["still"] = loading(row, angle=angle, nodes=nodes, factored=False, design=design)
    found, known = solve_frame(box, held=held, angle=angle, nodes=nodes, loads=sets), dict.fromkeys(sets, True)
    for name, pull in {name: one.tension for name, one in found.items()}.items():
        if held.lines == "both" and pull.min() < 0.0 < pull.max():
            # lines do not pull against each other's push: one is slack, and the hinge takes what roll is left
            alone = Held("left" if pull[0] * pull.sum() > 0.0 else "right", twist=_tied(box), give=held.give)
            found |= solve_frame(box, held=alone, angle=angle, nodes=nodes, loads={name: sets[name]})
            known[name] = bool(box.ties)
    for one in found.values():
        one.proven()
    return _Solved(
        heavy=found["heavy"],
        loads=sets["heavy"],
        nodes=nodes,
        still=found["still"] if known.get("still") else None,
        imbalance=max(one.imbalance for one in found.values()),
        known=known["heavy"],
    )


def _tied(box: Box) -> Literal["as built", "rigid"]:
    """Members as built; where none is known, any that do not twist, which the forces outside do not feel."""
    return "as built" if box.ties else "rigid"


def _factored(solution: Solution, *, at: tuple[int, ...], bound: int, row: Row, answer: Answer) -> list[_Pair]:
    """Lines and hinge under the factored loads; where one line has parted, before the peak."""
    held, here = solution.held if row.ultimate else solution.demand, (*at, bound)
    lines = [
        _Pair(f"line tension {side}", "line tension", "force", True, ours, frame)
        for side, ours, frame in zip(SIDES, held.tension[here], answer.tension, strict=True)
    ]
    return lines + [
        _Pair(f"hinge force {axis} {side}", "hinge force", "force", True, held.hinge[(*here, i, k)], answer.hinge[i, k])
        for i, side in enumerate(SIDES)
        for k, axis in enumerate("xyz")
    ]


def _bent(solution: Solution, *, at: tuple[int, ...], bound: int, answer: Answer, box: Box) -> list[_Pair]:
    """Largest moment of each rail and torque of everything across, under the factored loads and before any peak.

    A design of a batch with fewer cross-members than others has empty places between its last one and the tubes.
    """
    peaks = solution.bent.on_bounds(solution.peaks.max_moment)[(*at, bound)]
    pairs = [
        _Pair(f"peak rail moment {side}", "peak rail moment", "moment", True, ours, frame)
        for side, ours, frame in zip(SIDES, peaks, answer.peak, strict=True)
    ]
    torque = solution.bent.forces.ties.torque[(*at[:-1], solution.bent.place(at[-1], bound))]
    count = len(box.ties)
    there = np.concatenate([torque[: count - box.tubes], torque[len(torque) - box.tubes :]])
    frames = answer.torque[:count] if len(answer.torque) else np.zeros(count)  # nothing joins the rails of a limp box
    for k, (ours, frame) in enumerate(zip(there, frames, strict=True)):
        pairs.append(_Pair(f"torque of member {k + 1}", "torque across", "moment", True, ours, frame))
    return pairs


def _resting(
    solution: Solution, *, at: tuple[int, ...], bound: int, answer: Answer, nodes: Array, box: Box, flat: bool
) -> list[_Pair]:
    """Sag and tail drop of each rail, and roll, under the loads as they are.

    Args:
        solution: The statics.
        at: Place of the row.
        bound: Way of sharing.
        answer: Of the frame.
        nodes: Its stations.
        box: The box.
        flat: Whether its lines pull nearly through the hinge axis, by the box alone.
    """
    head = np.array([[np.interp(0.0, nodes, rail)] for rail in answer.fall])
    wider = box.apart(nodes) / box.apart(np.zeros(1))
    mean = head.mean(0)
    fall = answer.fall - mean - (head - mean) * wider  # a worn hinge lets it roll, as a whole
    sags = solution.sagged.on_bounds(solution.sag.sag)[(*at, bound)]
    pairs = [
        _Pair(f"sag {side}", "sag", "length", False, ours, _sag(one, slope=slope, nodes=nodes, hanger=box.hanger[0]))
        for side, ours, one, slope in zip(SIDES, sags, fall, _slopes(answer, fall=fall, nodes=nodes, box=box),
                                          strict=True)
    ]  # fmt: skip
    here = (*at[:-1], solution.sagged.place(at[-1], bound))
    past = nodes >= 0.0
    rolled = float((np.abs(fall[0] - fall[1]) / box.apart(nodes))[past].max())
    soft = solution.give[at] > line_give(box, give=solution.give[at])  # too soft a line to be told in the same numbers
    if soft or flat:
        return pairs
    pairs.append(_Pair("roll", "roll", "angle", False, solution.sag.roll[here], rolled))
    drops = solution.sag.tail_deflection[here]
    for side, ours, one in zip(SIDES, drops, fall, strict=True):
        drop = float(np.interp(box.length, nodes, one))
        pairs.append(_Pair(f"tail drop {side}", "tail drop", "length", False, ours, drop))
    return pairs


def _slopes(answer: Answer, *, fall: Array, nodes: Array, box: Box) -> Array:
    """Slope of each rail at both ends of every part, shape (2, part, 2): its turn, and the roll of the box where askew.

    The fall of a rail is that of the middle and half its spacing times the roll, whichever way either changes.
    """
    wide = box.apart(nodes)
    more = 0.5 * np.diff(wide) / np.diff(nodes)
    roll = (fall[0] - fall[1]) / wide
    ends = np.stack([roll[:-1], roll[1:]], axis=-1) * more[:, None]
    turned = np.stack([answer.slope[:, :-1], answer.slope[:, 1:]], axis=-1)
    return np.asarray(turned + np.array([1.0, -1.0])[:, None, None] * ends)


def _sag(fall: Array, *, slope: Array, nodes: Array, hanger: float) -> float:
    """Largest distance from the straight line hinge to hanger between them: a cubic in every part, by both its ends."""
    first, last = (int(np.abs(nodes - s).argmin()) for s in (0.0, hanger))
    s, w, turn = nodes[first : last + 1], fall[first : last + 1], slope[first:last]
    if len(s) < 2:
        return 0.0
    span, t = np.diff(s)[:, None], np.linspace(0.0, 1.0, _WITHIN)
    inside = (
        w[:-1, None] * (1.0 + 2.0 * t) * (1.0 - t) ** 2
        + w[1:, None] * t**2 * (3.0 - 2.0 * t)
        + span * t * (1.0 - t) * (turn[:, :1] * (1.0 - t) - turn[:, 1:] * t)
    )
    chord = w[0] + (w[-1] - w[0]) * (s[:-1, None] + span * t - s[0]) / (s[-1] - s[0])
    return float(np.abs(inside - chord).max())


def _differences(pairs: Sequence[_Pair], *, loads: Loading, box: Box) -> list[Comparison]:
    """How far both are apart, over what is large in the row: a small number of an extreme rig has no percent."""
    whole = float(np.abs(loads.force).sum())
    bent = whole * box.length / 8.0  # as an even load on a beam of that length
    fallen = 5.0 * whole * box.length**3 / (384.0 * 2.0 * YOUNG * box.inertia)  # the same, on both rails
    leant = whole * box.length**3 / (3.0 * YOUNG * box.inertia) / box.spacing  # one rail held at its end
    largest: dict[Kind, float] = {"force": whole, "moment": bent, "length": fallen, "angle": leant}
    for pair in pairs:
        largest[pair.kind] = max(largest[pair.kind], abs(pair.ours), abs(pair.frame))
    largest["angle"] = max(largest["angle"], largest["length"] / box.spacing)  # roll is a difference of falls
    least = SMALL if box.plain else {**SMALL, **SKEWED}
    found = []
    for pair in pairs:
        against = max(abs(pair.ours), abs(pair.frame), least.get(pair.quantity, FLOOR) * largest[pair.kind])
        apart = abs(pair.ours - pair.frame) / against if against else 0.0
        ours, frame = float(pair.ours), float(pair.frame)
        found.append(Comparison(pair.name, pair.quantity, pair.kind, pair.factored, ours, frame, float(apart)))
    return found
