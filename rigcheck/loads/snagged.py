"""The box held fast while the hoist pulls its full rating: what holds it, so that the lines pull just that."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.loads.pieces import Lump, Push, Row, Strip
from rigcheck.loads.sharing import pivots
from rigcheck.loads.slopes import WAYS
from rigcheck.tables.link_kinds import HOISTS
from rigcheck.tables.load_cases import SNAGGED

LINES = {"one line": 1.0, "both lines": 2.0}
FACTOR = "hoist at its full rating, box held fast, no factor"


def full_pull(rig: Rig) -> Array | None:
    """Tension of a line whose strongest hoist pulls its full rating, shape (...); None without a rated hoist. [lbf]"""
    parts = int(rig.value("line.parts"))
    gain = {"line": 1.0, "part": float(parts), "lead": parts * float(rig.value("line.sheave_efficiency"))}
    pulls = [
        rig.number(f"line.link.{i}.wll") * gain[link.carries]
        for i, link in enumerate(rig.value("line.link"))
        if link.kind in HOISTS and rig.has(f"line.link.{i}.wll")
    ]
    return np.max(np.stack(np.broadcast_arrays(*pulls)), axis=0) if pulls else None


def line_arms(rig: Rig) -> tuple[Array, Array, Array]:
    """Moments of a pound in the deployed box's left line: pitch about the hinge axis, roll, yaw, shapes (...). [in]"""
    angle = -rig.number("box.pitch")
    s, n = rig.number("hanger.at"), rig.number("hanger.height") - rig.number("hinge.height")
    x, z = s * np.cos(angle) - n * np.sin(angle), s * np.sin(angle) + n * np.cos(angle)
    to_x, to_z = rig.number("perch.downstream") - x, rig.number("perch.height") - z
    to_y = 0.5 * (rig.number("perch.spacing") - rig.number("hanger.spacing"))
    length = np.sqrt(to_x**2 + to_y**2 + to_z**2)
    divisor = np.where(length > 0.0, length, 1.0)
    y = 0.5 * rig.number("hanger.spacing")
    moments = (x * to_z - z * to_x, y * to_z - z * to_y, x * to_y - y * to_x)
    pitch, roll, yaw = (np.asarray(moment / divisor) for moment in moments)
    return pitch, roll, yaw


def snagged_rows(rig: Rig, *, dead: Sequence[Strip], lumps: Sequence[Lump], sides: Sequence[str]) -> list[Row]:
    """The empty box held at its tail, and all along, by just what the hoist pulls against; none without a hoist.

    The lines turn the box by k T d, its own weight by M: a hold at x gives R = (k T d - M) / x, down. Held at the
    tail, the farthest from the hinge that it can be, it is bent most between hinge and tail; held along its whole
    length (frozen in, buried) the hinge is pressed instead of lifted.

    Args:
        rig: The rig, one or a batch.
        dead: The empty box.
        lumps: Its lumps.
        sides: Lines that pull alone, in turn.

    Returns:
        Rows on level ground, for one line alone and for both together.

    Source: own derivation, docs/method.md#snagged.
    """
    pull = full_pull(rig)
    if pull is None:
        return []
    length, angle = rig.number("box.length"), -rig.number("box.pitch")
    arm, roll, yaw = line_arms(rig)
    free = pivots(rig)
    lift = -rig.number("hinge.height")  # of the floor over the hinge axis

    def level(s: Array, n: Array | float) -> Array:
        return np.asarray(s * np.cos(angle) - (n + lift) * np.sin(angle))

    own = np.zeros(())
    for strip in dead:
        start, span = np.asarray(strip.start), np.asarray(strip.end) - strip.start
        w0, w1 = np.asarray(strip.w_start), np.asarray(strip.w_end)
        weight = 0.5 * (w0 + w1) * span
        own = own + weight * level(start + (w0 + 2.0 * w1) * span**2 / 6.0 / weight, strip.n_start)
    for lump in lumps:
        own = own + lump.weight * level(np.asarray(lump.s), np.asarray(lump.n))
    rows = []
    for word, count in LINES.items():
        turn = np.maximum(count * pull * arm - own, 0.0)
        bounds = frozenset(sides) if word == "one line" else frozenset({"stiff"})
        per_inch = turn / level(0.5 * length, 0.0) / length
        along = Strip(start=0.0, end=length, w_start=per_inch, w_end=per_inch, n_start=0.0, n_end=0.0, whole=True,
                      name="what holds the box along its floor")  # fmt: skip
        tail = Lump(weight=turn / level(length, 0.0), s=length, name="what holds the box at its tail")
        at_tail = (("at the tail", [*dead], [tail]),) if word != "one line" or not free else ()
        for held, strips, more in (*at_tail, ("along the floor", [*dead, along], [])):
            variant: dict[str, str | float] = {"pulled_by": word, "held": held}
            row = Row(state=SNAGGED, variant=variant, strips=strips, lumps=[*lumps, *more], bounds=bounds,
                      factor=FACTOR)  # fmt: skip
            rows += (
                _kept_level(row, rig=rig, roll=pull * roll, yaw=pull * yaw) if free and word == "one line" else [row]
            )
    return rows


def _kept_level(row: Row, *, rig: Rig, roll: Array, yaw: Array) -> list[Row]:
    """A box on a center pivot, pulled by one line: what it is buried in keeps it from rolling and swinging.

    Held at its tail alone it rolls, and the line never pulls its full rating.

    Args:
        row: Held all along its floor.
        rig: The rig.
        roll: Moment of the left line about the level line along the plant, shape (...). [lbf*in]
        yaw: The same about the upright one.

    Returns:
        The row once for each line that pulls.
    """
    half, middle = 0.5 * rig.number("box.width"), 0.5 * rig.number("box.length")
    rows = []
    for side in sorted(row.bounds):
        down, aft = (WAYS[side] * moment / (2.0 * half) for moment in (roll, yaw))
        pushes = [Push(fx=aft, fz=-down, s=middle, y=half), Push(fx=-aft, fz=down, s=middle, y=-half)]
        variant = {**row.variant, "pulled_side": side}
        rows.append(replace(row, variant=variant, bounds=frozenset({side}), pushes=pushes))
    return rows
