"""The box held fast while the hoist pulls its full rating: what holds it, so that the lines pull just that."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.loads.pieces import Lump, Row, Strip
from rigcheck.tables.load_cases import SNAGGED

PULLERS = ("lever hoist", "come-along")
LINES = {"one line": 1.0, "both lines": 2.0}
FACTOR = "hoist at its full rating, box held fast, no factor"


def full_pull(rig: Rig) -> Array | None:
    """Tension of a line whose strongest hoist pulls its full rating, shape (...); None without a rated hoist. [lbf]"""
    parts = int(rig.value("line.parts"))
    gain = {"line": 1.0, "part": float(parts), "lead": parts * float(rig.value("line.sheave_efficiency"))}
    pulls = [
        rig.number(f"line.link.{i}.wll") * gain[link.carries]
        for i, link in enumerate(rig.value("line.link"))
        if link.kind in PULLERS and rig.has(f"line.link.{i}.wll")
    ]
    return np.max(np.stack(np.broadcast_arrays(*pulls)), axis=0) if pulls else None


def line_arm(rig: Rig) -> Array:
    """Lever arm of either line of the deployed box about the hinge axis, shape (...). [in]"""
    angle = -rig.number("box.pitch")
    s, n = rig.number("hanger.at"), rig.number("hanger.height") - rig.number("hinge.height")
    x, z = s * np.cos(angle) - n * np.sin(angle), s * np.sin(angle) + n * np.cos(angle)
    to_x, to_z = rig.number("perch.downstream") - x, rig.number("perch.height") - z
    to_y = 0.5 * (rig.number("perch.spacing") - rig.number("hanger.spacing"))
    length = np.sqrt(to_x**2 + to_y**2 + to_z**2)
    return np.asarray((x * to_z - z * to_x) / np.where(length > 0.0, length, 1.0))


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
        turn = np.maximum(count * pull * line_arm(rig) - own, 0.0)
        bounds = frozenset(sides) if word == "one line" else frozenset({"stiff"})
        per_inch = turn / level(0.5 * length, 0.0) / length
        along = Strip(start=0.0, end=length, w_start=per_inch, w_end=per_inch, n_start=0.0, n_end=0.0, whole=True,
                      name="what holds the box along its floor")  # fmt: skip
        tail = Lump(weight=turn / level(length, 0.0), s=length, name="what holds the box at its tail")
        for held, strips, more in (("at the tail", [*dead], [tail]), ("along the floor", [*dead, along], [])):
            variant: dict[str, str | float] = {"pulled_by": word, "held": held}
            rows.append(Row(state=SNAGGED, variant=variant, strips=strips, lumps=[*lumps, *more], bounds=bounds,
                            factor=FACTOR))  # fmt: skip
    return rows
