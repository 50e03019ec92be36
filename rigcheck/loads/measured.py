"""Put what was weighed over the estimate: the whole empty box, and its first moment about the hinge."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from rigcheck.arrays.types import Array
from rigcheck.case.errors import CaseError, Problem
from rigcheck.case.rig import Rig
from rigcheck.loads.take_off import Piece
from rigcheck.quantities import write

EVEN_LIMIT = 1.0 / 6.0
"""A load along the whole box that is linear and nowhere negative has its center this share of the length off the middle
at most. Source: derivation, docs/method.md#measured."""
_LEAST_SHARE = 0.01  # where only some designs of a batch contradict the scale, their steel keeps this share


def level_arm(rig: Rig, *, s: Array | float, n: Array | float) -> Array:
    """How far downstream of the hinge axis a point of the deployed box stands, measured level.

    x = s cos(beta) + (n - n_h) sin(beta).

    Args:
        rig: The rig, one or a batch.
        s: Along the floor from the hinge, shape (...). [in]
        n: Above the floor, shape (...). [in]

    Returns:
        Level distance, shape (...). [in]

    Source: own derivation, docs/method.md#measured.
    """
    pitch = rig.number("box.pitch")
    return np.asarray(s * np.cos(pitch) + (n - rig.number("hinge.height")) * np.sin(pitch))


def total(pieces: Sequence[Piece]) -> Array:
    """Weight of some pieces, shape (...). [lbf]"""
    return np.asarray(sum((piece.weight for piece in pieces), start=np.zeros(())))


def first_moment(rig: Rig, *, pieces: Sequence[Piece]) -> Array:
    """Moment of the deployed pieces about the hinge axis, sum of W x, shape (...). [lbf*in]

    Source: own derivation, docs/method.md#measured.
    """
    parts = (piece.weight * level_arm(rig, s=piece.s, n=piece.n) for piece in pieces)
    return np.asarray(sum(parts, start=np.zeros(())))


def corrected(rig: Rig, *, pieces: list[Piece]) -> list[Piece]:
    """The take-off held to what was weighed; the take-off itself where nothing was.

    A weighed total scales all that was not weighed by itself. A tail lift fixes the moment about the hinge: what runs
    the whole length and was not weighed by itself moves along the floor until the moment agrees.

    Args:
        rig: The rig, one or a batch.
        pieces: The estimate.

    Returns:
        Pieces whose sources say what was measured.

    Raises:
        CaseError: Where no box could weigh that; of a batch, where none of its designs could.

    Source: own derivation, docs/method.md#measured.
    """
    if rig.has("measured.empty_weight"):
        pieces = _scaled(rig, pieces=pieces)
    if rig.has("measured.tail_lift"):
        pieces = _moved(rig, pieces=pieces)
    return pieces


def _scaled(rig: Rig, *, pieces: list[Piece]) -> list[Piece]:
    known, rest = total([p for p in pieces if p.weighed]), total([p for p in pieces if not p.weighed])
    weighed = rig.number("measured.empty_weight")
    share = (weighed - known) / rest
    if np.all(share <= 0.0):
        raise CaseError([_refusal("empty_weight", f"{_pounds(weighed)} leaves nothing for the steel: mats and fittings"
                                  f" of the case alone weigh {_pounds(known)}")])  # fmt: skip
    share = np.maximum(share, _LEAST_SHARE)
    words = f" x {float(share):.4g}" if share.ndim == 0 else ""
    return [
        piece if piece.weighed
        else replace(piece, weight=piece.weight * share, source=f"measured: weighed box; {piece.source}{words}")
        for piece in pieces
    ]  # fmt: skip


def _moved(rig: Rig, *, pieces: list[Piece]) -> list[Piece]:
    length, pitch = rig.number("box.length"), rig.number("box.pitch")
    moment = rig.number("measured.tail_lift") * rig.number("measured.tail_lift_at")
    loose = total([p for p in pieces if p.spread and not p.weighed])
    move = (moment - first_moment(rig, pieces=pieces)) / (loose * np.cos(pitch))
    limit = EVEN_LIMIT * length * total([p for p in pieces if p.spread]) / loose
    if np.all(np.abs(move) > limit * (1.0 + 1e-9)):
        raise CaseError([_refusal("tail_lift", _why_not(rig, pieces=pieces, moment=moment))])
    move = np.clip(move, -limit, limit)
    words = f", moved {float(move):.4g} in along" if move.ndim == 0 else ""
    return [
        replace(piece, s=piece.s + move, source=f"measured: tail lift{words}; {piece.source}")
        if piece.spread and not piece.weighed
        else piece
        for piece in pieces
    ]


def _why_not(rig: Rig, *, pieces: list[Piece], moment: Array) -> str:
    estimate = first_moment(rig, pieces=pieces)
    place = rig.number("measured.tail_lift_at")
    heavy = float(np.max(moment)) > float(np.max(estimate))
    text = (
        f"{_pounds(rig.number('measured.tail_lift'))} at {_inches(place)} gives {_ratio(moment, estimate)} times the"
        f" moment of the take-off (which asks for {_pounds(estimate / place)} there): no even spread of the steel"
        " does that"
    )
    ways = [] if rig.has("measured.empty_weight") else ["weigh the whole box too (measured.empty_weight)"]
    if heavy:
        missing = np.maximum(moment - estimate, 0.0) / place
        ways.append(f"list what hangs near the tail and is missing ({_pounds(missing)} or more) as a [[fitting]]")
    ways.append("check scale, distance and whether both lines were slack")
    return f"{text}; {', or '.join(ways)}"


def measured_words(rig: Rig, *, estimated: list[Piece]) -> list[str]:
    """What was measured beside what the estimate was, in sentences; none where nothing was measured.

    Args:
        rig: One rig, not a batch.
        estimated: Its take-off before anything measured was put over it.

    Returns:
        Sentences for people, in US units.
    """
    found: list[str] = []
    pieces = estimated
    if rig.has("measured.empty_weight"):
        weighed, before = rig.number("measured.empty_weight"), total(estimated)
        found.append(
            f"the empty box counts as weighed, {_pounds(weighed)}; the take-off came to {_pounds(before)}"
            f" (measured is {_ratio(weighed, before)} times the estimate)"
        )
        pieces = _scaled(rig, pieces=estimated)
    if rig.has("measured.tail_lift"):
        lift, place = rig.number("measured.tail_lift"), rig.number("measured.tail_lift_at")
        before = first_moment(rig, pieces=pieces) / place
        found.append(
            f"the moment of the empty box counts as measured by a tail lift of {_pounds(lift)} at {_inches(place)};"
            f" the take-off asked for {_pounds(before)} there (measured is {_ratio(lift, before)} times the estimate)"
        )
    return found


def _refusal(key: str, why: str) -> Problem:
    return Problem("case", f"measured.{key}", why)


def _pounds(value: Array) -> str:
    return write(float(np.max(value)), dimension="force")


def _inches(value: Array) -> str:
    return write(float(np.max(value)), dimension="length")


def _ratio(measured: Array, estimate: Array) -> str:
    return f"{float(np.max(measured)) / float(np.max(estimate)):.3g}"
