"""Findings of the fold: where nothing holds the box, a line shorter than its links, re-hooks, posts in the way."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rigcheck.analysis.clearance import fouls
from rigcheck.analysis.items import Item
from rigcheck.analysis.missing import Missing
from rigcheck.analysis.rows import Check, Flag
from rigcheck.analysis.solve import Solution
from rigcheck.arrays.types import Array, Mask
from rigcheck.case.rig import Rig
from rigcheck.tables.link_kinds import HOISTS
from rigcheck.tables.load_cases import EMPTY, FOLDING, WIND_HUNG
from rigcheck.wording.marks import Mark, Sourced

Count = NDArray[np.intp]

HOLDS = ("held", "held_from_behind", "slack_inward", "falls_outward", "dead_point")
HELD, BEHIND, SLACK, OUTWARD, DEAD = range(len(HOLDS))
SNUB = Item.SNUB
_BALANCED = 1e-9  # a moment under this share of the largest in the fold counts as balance, and as held
_LENGTH = 1e-6  # in


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class LineReach:
    """How short the links let the line be, and how much its hoists take up, shapes (...).

    Attributes:
        least: Links pin to pin and hoists closed, in a row. [in]
        take_up: What the hoists take off the line without a new hook; zero where no lift is described. [in]
        unmeasured: Links in the line without a length, so that `least` is low.
        lift_unknown: True where no hoist or turnbuckle says how far it takes up.
    """

    least: Array
    take_up: Array
    unmeasured: tuple[str, ...]
    lift_unknown: bool


def line_reach(rig: Rig) -> LineReach:
    """Shortest line and take-up from the links of the case.

    Links that ride in one part or on the lead are not in a row with the line; a hoist among them takes up
    so many times as much as the line shortens.

    Args:
        rig: The rig, one or a batch.

    Returns:
        Shortest length and take-up.

    Source: own geometry, docs/method.md#line-length.
    """
    parts = int(rig.value("line.parts"))
    least, take_up = np.zeros(()), np.zeros(())
    unmeasured: list[str] = []
    lifted = False
    for i, link in enumerate(rig.value("line.link")):
        key = f"line.link.{i}"
        in_row = parts == 1 or link.carries == "line"
        device = link.kind in HOISTS or rig.has(f"{key}.lift")
        length = f"{key}.headroom" if device and rig.has(f"{key}.headroom") else f"{key}.length"
        if in_row and rig.has(length):
            least = least + link.count * rig.number(length)
        elif in_row:
            unmeasured.append(f"link {i + 1}: {link.name or link.kind}")
        if rig.has(f"{key}.lift"):
            lifted = True
            take_up = take_up + link.count * rig.number(f"{key}.lift") / (1.0 if in_row else float(parts))
    return LineReach(least, take_up, tuple(unmeasured), not lifted)


def holding(moment: Array, *, arm: Array, dead: Mask) -> Count:
    """What the lines do at each fold angle, as an index into `HOLDS`.

    Weight outward (M > 0) is held by lines with an arm above the hinge (d > 0); weight inward (M < 0) by the same
    lines from the other side (d < 0). M > 0 with d < 0 falls outward; M < 0 with d > 0 goes slack and falls inward.

    Args:
        moment: Moment of the weight about the hinge, positive outward, shape (..., angle). [lbf*in]
        arm: Lever arm of the lines, shape (..., angle). [in]
        dead: Where the arm is too short to give a tension, shape (..., angle).

    Returns:
        Index, shape (..., angle). At a dead point a box that leans inward with the arm still positive is slack.

    Source: own derivation, docs/method.md#fold.
    """
    least = _BALANCED * np.abs(moment).max(-1, keepdims=True)
    inward = moment < -least
    behind = arm < 0.0
    return np.select(
        [inward & ~behind, dead, inward, behind & (moment > least)], [SLACK, DEAD, BEHIND, OUTWARD], default=HELD
    )


def kept(hold: Count, *, moment: Array, snub: bool) -> Mask:
    """Where the box stays put: held by its lines, or leaning inward on a snub line.

    Args:
        hold: From `holding`, shape (..., angle).
        moment: Moment of the weight about the hinge, shape (..., angle). [lbf*in]
        snub: Whether there is a snub line.

    Returns:
        Mask, shape (..., angle).
    """
    least = _BALANCED * np.abs(moment).max(-1, keepdims=True)
    return np.asarray(_by_lines(hold) | ((moment < -least) & snub))


def _by_lines(hold: Count) -> Mask:
    return np.asarray((hold == HELD) | (hold == BEHIND))


def re_hooks(need: Array, *, reach: LineReach) -> Count:
    """New holds that a take-up needs beyond the first, shape of `need`; zero where no lift is described."""
    known = reach.take_up > 0.0
    times = np.where(known, need, 0.0) / np.where(known, reach.take_up, 1.0)
    return np.maximum(np.ceil(times - _LENGTH) - 1.0, 0.0).astype(np.intp)


def snub_checks(solution: Solution) -> list[Check]:
    """The snub line against its rating, where the lines go slack in the fold; nothing where it has no rating.

    It holds what the lines do not: F = -M / r, M the moment of the weight about the hinge (negative inward) and r the
    distance of the hangers from it, times the factor of folding.

    Args:
        solution: The statics.

    Returns:
        One check, or none.

    Source: own derivation, docs/method.md#fold.
    """
    rig = solution.rig
    if not rig.has("fold.snub_wll"):
        return []
    alone, pull = _on_snub_line(solution), snub_pull(solution)
    return [
        Check(
            part=SNUB, key="fold.snub", group="fold", mode="working load limit", unit="force",
            demand=pull[..., None, None],
            capacity=rig.number("fold.snub_wll")[..., None, None, None], where=alone[..., None, None],
            basis="marked working load limit; one line at the hangers, pulling square to their distance from the hinge",
            clause=Sourced("mark on the part, case file; docs/method.md#fold", mark=Mark.CASE_FILE),
        )
    ]  # fmt: skip


def snub_pull(solution: Solution) -> Array:
    """What the snub line holds where it holds alone, with the factor of folding, else nothing, shape (..., state)."""
    moment = np.where(_on_snub_line(solution), solution.service.moment[..., 1], 0.0)
    radius = np.where(solution.pose.radius > 0.0, solution.pose.radius, 1.0)
    return np.asarray(np.maximum(-moment, 0.0) / radius * solution.rig.number("factors.folding")[..., None])


def snub_not_assessed(solution: Solution) -> list[Missing]:
    """A snub line that the fold needs and that has no rating."""
    if solution.rig.has("fold.snub_wll") or not np.any(_on_snub_line(solution)):
        return []
    text = "snub line: the case has no rating for it (fold.snub_wll); `fold` says what it must hold"
    return [Missing(text, id="fold.snub_wll", group="fold")]


def _on_snub_line(solution: Solution) -> Mask:
    """Where the weight leans inward and the lines do not hold it, so that the snub line must, shape (..., state)."""
    rows = aloft(solution)
    if not (rows.any() and solution.rig.value("fold.snub")):
        return np.zeros_like(solution.held.dead)
    moment = np.where(rows, solution.service.moment[..., 1], 0.0)
    hold = holding(moment, arm=solution.pose.arm, dead=solution.held.dead)
    return np.asarray(rows & (moment < 0.0) & ((hold == SLACK) | (hold == DEAD)))


def fold_flags(solution: Solution) -> list[Flag]:
    """What the fold sweep raises; nothing where the case does not fold.

    Args:
        solution: The statics.

    Returns:
        Findings on the rows of the state folding; without a fold, whether the links fit into the line at all.
    """
    rows = solution.states(FOLDING)
    if not rows.any():
        return _hung_too_short(solution)
    snub = bool(solution.rig.value("fold.snub"))
    at, column = solution.pose, np.s_[..., None, None]
    moment = np.where(rows, solution.service.moment[..., 1], 0.0)
    hold = holding(moment, arm=at.arm, dead=solution.held.dead)
    flags = [
        Flag(code="fold_falls_outward", stops=True, where=(rows & (hold == OUTWARD))[column],
             text="the lines have passed the hinge axis while the weight still leans outward: the box falls outward"),
        Flag(code="fold_slack_inward", stops=not snub, where=(rows & (hold == SLACK))[column],
             text="past the balance point the lines go slack: "
             + ("only the snub line keeps the box from falling inward" if snub
                else "without a snub line the box falls inward")),
        Flag(code="hinge_uplift", where=_lifted(solution, rows=_held(solution, hold)),
             text="on the way up the hinge is lifted: the pin must be held down,"
             " an open hook or a gravity-seated pin jumps out"),
        *_length_flags(solution, rows=rows),
    ]  # fmt: skip
    flags += [
        Flag(code="box_fouls_post", stops=True, where=(rows & struck)[column],
             text=f"in the fold the box strikes the {part}")
        for part, struck in fouls(solution.rig, layout=solution.layout, at=at)
    ]  # fmt: skip
    return flags


def aloft(solution: Solution) -> NDArray[np.bool_]:
    """Rows of the box on its way up with both lines whole, in still air and in wind, shape (state,)."""
    windy = [row.state == WIND_HUNG and row.variant.get("while") == FOLDING for row in solution.rows]
    return solution.states(FOLDING) | np.array(windy, dtype=np.bool_)


def _held(solution: Solution, hold: Count) -> Mask:
    """Where the lines hold the box on its way up, in wind too, shape (..., state)."""
    windy = aloft(solution) & ~solution.states(FOLDING)
    return np.asarray((solution.states(FOLDING) & _by_lines(hold)) | (windy & ~solution.demand.lifted))


def _lifted(solution: Solution, *, rows: Mask) -> Mask:
    """Where the plant must hold the hinge down, shape (..., state, bound, side)."""
    least = _BALANCED * solution.service.weight[..., None, None]
    return np.asarray(rows[..., None, None] & (solution.demand.hinge[..., 2] < -least))


def _hung_too_short(solution: Solution) -> list[Flag]:
    """Whether the links are longer than the line of a box that hangs and is not folded."""
    reach, rows = line_reach(solution.rig), solution.states(EMPTY)
    short = rows & (solution.pose.line_length < reach.least[..., None] - _LENGTH)
    least = f"{float(np.max(reach.least)):.4g} in" if reach.least.size == 1 else "their shortest"
    text = f"the links are longer than the line, {least} pin to pin: the box hangs lower than drawn"
    return [Flag(code="line_too_short", stops=True, where=short[..., None, None], text=text)]


def _length_flags(solution: Solution, *, rows: NDArray[np.bool_]) -> list[Flag]:
    reach = line_reach(solution.rig)
    line = solution.pose.line_length
    deployed = line[..., np.flatnonzero(rows)[:1]]
    short = rows & (line < reach.least[..., None] - _LENGTH)
    least = f"{float(np.max(reach.least)):.4g} in" if reach.least.size == 1 else "its shortest"
    partial = f" (not counting {', '.join(reach.unmeasured)})" if reach.unmeasured else ""
    more = rows & (deployed - line > reach.take_up[..., None] + _LENGTH) & (not reach.lift_unknown)
    flags = [
        Flag(code="line_too_short", stops=True, where=short[..., None, None],
             text=f"the fold needs the line shorter than its links let it be, {least} pin to pin{partial}"),
        Flag(code="rehook_needed", where=more[..., None, None],
             text="the fold takes up more line than the hoist lifts: hold the box with another line or a block"
             " while the hoist is hooked anew"),
    ]  # fmt: skip
    if reach.lift_unknown:
        shorter = rows & (deployed - line > _LENGTH)
        text = "no link says how far it takes up, so re-hooks of the fold are not counted"
        flags.append(Flag(code="lift_unknown", text=text, where=shorter[..., None, None]))
    if reach.unmeasured:
        text = f"no length for {', '.join(reach.unmeasured)}: the shortest line is longer than the one checked"
        flags.append(Flag(code="line_length_unknown", where=rows[:, None, None], text=text))
    return flags
