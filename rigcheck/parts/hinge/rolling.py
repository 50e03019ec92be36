"""What must be said of a box that is free to roll on a center pivot: what levels it, and what no longer holds it."""

from __future__ import annotations

import numpy as np

from rigcheck.analysis.rows import Flag
from rigcheck.analysis.solve import Solution, layout
from rigcheck.arrays.guarded import divide
from rigcheck.arrays.types import Array, Mask
from rigcheck.case.rig import Rig
from rigcheck.loads.pieces import BOUNDS
from rigcheck.loads.sharing import OFF_LEVEL, pivots
from rigcheck.parts.hinge.pivot import BAR, play
from rigcheck.parts.line.checks import BACKUP_DROP
from rigcheck.statics.geometry import pose
from rigcheck.tables.load_cases import FOLDING

_LOOSE = BOUNDS.index("loose")
_NOTHING = 1e-9
_LEVEL = 1e-6  # rad: a box that is folded by less stays where it hangs, its backups as taut as they are


def roll_per_inch(rig: Rig) -> Array:
    """Roll of the deployed box for an inch on one of its lines, the other left as it is, shape (...). [rad/in]

    1/(2 a), a = |y_H u_z - z_H u_y| the arm of a line about the level line along the plant through the pivot.

    Source: own derivation, docs/method.md#center-pivot.
    """
    points = layout(rig)
    at = pose(points, fold=np.zeros((*points.length.shape, 1)))
    arm = (at.hanger_y * at.uz - at.hanger_z * at.uy)[..., 0]
    return divide(0.5, np.abs(arm), where_zero=0.0)


def left_to_the_bar(solution: Solution) -> Mask:
    """Rows in which two lines that only pull leave a roll to the bar of a free pivot, shape (..., state)."""
    held = solution.held
    reach = solution.service.weight * np.maximum(solution.layout.hinge_spacing[..., None], 1.0)
    folded = solution.cases(lambda case: case.folded)
    rolls = np.abs(held.roll[..., _LOOSE]) > _NOTHING * reach
    return np.asarray(rolls & (solution.allowed[:, _LOOSE] | folded) & ~held.dead)


def kept_by_backup(solution: Solution) -> Mask:
    """Rows with one line broken in which a backup stands beside it and is taut, shape (..., state).

    One with more slack than a hand leaves lets the box roll and drop before it holds.
    """
    taut = bool(solution.backup) & (solution.rig.number("line.backup_slack") <= BACKUP_DROP)
    rising = np.array([row.variant.get("while") == FOLDING for row in solution.rows], dtype=np.bool_)
    return np.asarray(~(rising & (solution.fold > _LEVEL)) & taut[..., None])


def pivot_flags(solution: Solution) -> list[Flag]:
    """What rolls or swings a box on a center pivot; nothing of any other hinge."""
    rig = solution.rig
    if not pivots(rig):
        return []
    broken = solution.accidents & ~kept_by_backup(solution)
    each = float(np.degrees(np.max(roll_per_inch(rig))))
    return [
        Flag(code="pivot_line_broken", stops=True, where=broken[..., None, None], about=BAR,
             text="with one line or hoist broken nothing keeps the box from rolling over on its center pivot, and no"
             f" backup with {BACKUP_DROP:g} in of slack or less holds that side"),
        Flag(code="pivot_single", where=solution.hung[:, None, None], about=BAR,
             text="one bar carries the head of the box, and no other hinge group holds it if that bar or its retention"
             " lets go: chain the head to the plant"),
        *_of_off_level(rig),
        Flag(code="pivot_keep_even", where=solution.hung[:, None, None], about=BAR,
             text=f"leveling: 1 in of line is {each:.2g} degrees of roll on one line alone of a center pivot; work both"
             " together, keep them even, and level the box empty"),
        *_of_play(solution),
    ]  # fmt: skip


def _of_off_level(rig: Rig) -> list[Flag]:
    """A box that is said to stand truer than is usual."""
    stated = rig.number_or("hinge.off_level", OFF_LEVEL)
    gentle = stated < OFF_LEVEL * (1.0 - _NOTHING)
    if not gentle.any():
        return []
    text = (
        f"hinge.off_level is stated gentler than the usual {np.degrees(OFF_LEVEL):.2g} deg (what an eye sees, an"
        " assumption): the verdict rests on it; have a reason that an engineer accepts"
    )
    return [Flag(code="gentler_than_usual", text=text, where=gentle[..., None, None, None])]


def _of_play(solution: Solution) -> list[Flag]:
    """What the bar lets the box do before it bears at the edges of its holes; nothing where these are not described."""
    rig, free = solution.rig, play(solution.rig)
    if free is None:
        return []
    most, told = (rig.number(f"rail.{key}") for key in ("roll_limit", "roll_reported"))
    angle, tail = float(np.degrees(np.max(free))), float(np.max(free * rig.number("box.length")))
    leans = left_to_the_bar(solution) & (free <= most)[..., None]
    blown = np.array([row.may_lift for row in solution.rows], dtype=np.bool_)
    at_work = solution.hung & ~blown
    return [
        Flag(code="pivot_swings", stops=True, where=(free > most)[..., None, None, None], about=BAR,
             text=f"the bar of the pivot tilts {angle:.2g} degrees in its holes before it bears: until then nothing but"
             f" its own weight keeps the box from swinging sideways, {tail:.2g} in at its tail"),
        Flag(code="pivot_swings_some", where=((free > told) & (free <= most))[..., None, None, None], about=BAR,
             text=f"the bar of the pivot tilts {angle:.2g} degrees in its holes before it bears, which lets the tail"
             f" swing {tail:.2g} in to either side"),
        Flag(code="pivot_rolls", stops=True, where=(leans & at_work)[..., None, None], about=BAR,
             text="a load so far to one side rolls the box on its center pivot until the bar bears at the edges of the"
             " lug: one line hangs slack, and snaps tight when the load moves"),
        Flag(code="pivot_leans", where=(leans & ~at_work)[..., None, None], about=BAR,
             text="the lines, which only pull, do not keep the box from rolling here: it rolls until its bar bears at"
             " the edges of the lug, which is checked for it; hold it by straps or a rest"),
    ]  # fmt: skip
