"""One rail as a beam: pinned at the hinge, held by its line at the hanger, free beyond; exact N, V and M."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rigcheck.arrays.memory import side_by_side
from rigcheck.arrays.types import Array
from rigcheck.loads.pieces import Loads
from rigcheck.statics.balance import Balance
from rigcheck.statics.beam import Terms, evaluate, in_order, join, segments
from rigcheck.statics.geometry import SIDE, Layout, Pose
from rigcheck.statics.kinked import joined_stretches, rolled_hinge
from rigcheck.statics.resultant import box_components, spread

SHARES = ("limp left", "limp right", "even")  # stiff, loose and one-line boxes bend both rails alike
LEAN = np.array([1.0, -1.0, 0.0])
"""How far each share leans: what the left rail carries over the half is +1, of the right one -1."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Section:
    """What the rail is made of, all shapes (...).

    Attributes:
        area: Cross-section. [in2]
        inertia: About the axis that the floor constrains. [in4]
        axis: Neutral axis above the floor. [in]
        top: Highest fiber above the floor. [in]
        bottom: Lowest fiber above the floor. [in]
        modulus: Young's modulus. [psi]
    """

    area: Array
    inertia: Array
    axis: Array
    top: Array
    bottom: Array
    modulus: Array


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class RailForces:
    """Everything on one rail, share axis in the order of `SHARES`.

    Attributes:
        moment: Terms of the bending moment, sagging positive, shape (..., state, share, term).
        shear: Terms whose derivative is the shear force (forces only, no couples).
        axial: Terms whose value is minus the axial force (orders: 0 force, 1 force per length, 2 its slope).
        stations: Sorted discontinuities, shape (..., state, share, station). [in]
        pull: The rail's part of the line tension, shape (..., state, share). [lbf]
        hinge_s: Plant on rail, along the floor, shape (..., state, share). [lbf]
        hinge_n: Plant on rail, square to the floor. [lbf]
    """

    moment: Terms
    shear: Terms
    axial: Terms
    stations: Array
    pull: Array
    hinge_s: Array
    hinge_n: Array


def _pull(balance: Balance, *, lean: Array) -> Array:
    """Line pull that enters each rail: what its own loads ask for in a limp box, else half, (..., state, share)."""
    return np.asarray(0.5 * (balance.total[..., None] + balance.rail_split[..., None] * lean))


def _spacing(layout: Layout, *, at: Array) -> Array:
    """Between the rails where loads (..., state, 1, load) act."""
    if layout.along is None:
        return layout.rail_spacing[..., None, None, None]
    return layout.along.spacing(at, axes=3)


def _turning(layout: Layout, *, at: Array, b: Array) -> Array:
    """Force that a rail askew gets from the other one for each unit of couple about the axis across, b'/b. [1/in]"""
    assert layout.along is not None
    return np.asarray(layout.along.slope(at, axes=3) / b)


def _strip_terms(loads: Loads, *, layout: Layout, pose: Pose, axis: Array, lean: Array) -> tuple[Terms, Terms, Terms]:
    """Moment, shear and axial terms of the strips, whole-length ones joined, (..., state, share, term, 4)."""
    t = {name: value[..., None, :] for name, value in loads.strip.items()}
    whole = spread(loads)
    g_s, g_n = (part[..., None, None] for part in box_components(loads.gravity, pose=pose))
    g_y = loads.gravity[..., 1, None, None]
    b = _spacing(layout, at=0.5 * (t["start"] + t["end"]))
    lean = lean[..., None]
    across = 0.5 * g_n + lean * (t["y"] * g_n - whole.centroid_n[..., None, :] * g_y) / b
    along = g_s * (0.5 + lean * t["y"] / b)
    span = t["end"] - t["start"]
    safe = np.where(span > 0.0, span, 1.0)
    w_slope = np.where(span > 0.0, t["w_end"] - t["w_start"], 0.0) / safe
    n_slope = np.where(span > 0.0, t["n_end"] - t["n_start"], 0.0) / safe
    live = span > 0.0
    w0, w1 = np.where(live, t["w_start"], 0.0), np.where(live, t["w_end"], 0.0)
    off0 = t["n_start"] - axis[..., None, None, None]
    off1 = off0 + n_slope * span
    c2 = w_slope * n_slope
    zero = np.zeros(np.broadcast_shapes(across.shape, along.shape, w0.shape))

    k = loads.partial
    length = layout.length[..., None, None, None] + np.zeros((*zero.shape[:-1], 1))
    at = np.concatenate(
        [(t["start"] + zero)[..., :k], (t["end"] + zero)[..., :k], np.zeros_like(length), length], axis=-1
    )

    def ends(first: tuple[Array, ...], last: tuple[Array, ...]) -> Terms:
        start = side_by_side(*(c + zero for c in first))
        stop = side_by_side(*(-c + zero for c in last))
        whole = [part[..., k:, :].sum(-2, keepdims=True) for part in (start, stop)]
        return Terms(at=at, coefficient=np.concatenate([start[..., :k, :], stop[..., :k, :], *whole], axis=-2))

    shear = ends((zero, zero, across * w0, across * w_slope), (zero, zero, across * w1, across * w_slope))
    couple = ends(
        (zero, along * w0 * off0, along * (w0 * n_slope + w_slope * off0), 2.0 * along * c2),
        (zero, along * w1 * off1, along * (w1 * n_slope + w_slope * off1), 2.0 * along * c2),
    )
    axial = ends((zero, along * w0, along * w_slope, zero), (zero, along * w1, along * w_slope, zero))
    if layout.along is not None and layout.along.flared:
        turns = _turning(layout, at=0.5 * (t["start"] + t["end"]), b=b) * g_s * lean * t["y"] / b
        handed = ends(
            (zero, zero, turns * w0 * off0, turns * (w0 * n_slope + w_slope * off0)),
            (zero, zero, turns * w1 * off1, turns * (w1 * n_slope + w_slope * off1)),
        )
        shear = Terms(shear.at, shear.coefficient + handed.coefficient)
    return Terms(shear.at, shear.coefficient + couple.coefficient), shear, axial


def _point_terms(at: Array, *, f_s: Array, f_n: Array, height: Array) -> tuple[Terms, Terms, Terms]:
    """Moment, shear and axial terms of forces at points a `height` above the neutral axis, shapes (..., point, 4)."""
    zero = np.zeros(np.broadcast_shapes(at.shape, f_s.shape, f_n.shape, height.shape))
    place = at + zero
    moment = side_by_side(f_s * height + zero, f_n + zero, zero, zero)
    shear = side_by_side(zero, f_n + zero, zero, zero)
    axial = side_by_side(f_s + zero, zero, zero, zero)
    return Terms(place, moment), Terms(place, shear), Terms(place, axial)


def _lump_terms(loads: Loads, *, layout: Layout, pose: Pose, axis: Array, lean: Array) -> tuple[Terms, Terms, Terms]:
    g_s, g_n = (part[..., None, None] for part in box_components(loads.gravity, pose=pose))
    g_y = loads.gravity[..., 1, None, None]
    lean = lean[..., None]
    lump = {name: value[..., None, :] for name, value in loads.lump.items()}
    push = {name: value[..., None, :] for name, value in loads.push.items()}
    b, b_push = (_spacing(layout, at=some["s"]) for some in (lump, push))
    along_x, along_z = pose.along[..., 0, None, None], pose.along[..., 1, None, None]
    p_s = push["fx"] * along_x + push["fz"] * along_z
    p_n = -push["fx"] * along_z + push["fz"] * along_x
    f_s = np.concatenate(
        [lump["weight"] * g_s * (0.5 + lean * lump["y"] / b), p_s * (0.5 + lean * push["y"] / b_push)], axis=-1
    )
    f_n = np.concatenate(
        [
            lump["weight"] * (0.5 * g_n + lean * (lump["y"] * g_n - lump["n"] * g_y) / b),
            0.5 * p_n + lean * (push["y"] * p_n - push["n"] * push["fy"]) / b_push,
        ],
        axis=-1,
    )
    at = np.concatenate([lump["s"], push["s"]], axis=-1)
    if layout.along is not None and layout.along.flared:
        unlike = np.concatenate(
            [lump["weight"] * g_s * lean * lump["y"] * lump["n"] / b, p_s * lean * push["y"] * push["n"] / b_push],
            axis=-1,
        )
        f_n = f_n + unlike * _turning(layout, at=at, b=_spacing(layout, at=at))
    height = np.concatenate([lump["n"], push["n"]], axis=-1) - axis[..., None, None, None]
    return _point_terms(at, f_s=f_s, f_n=f_n, height=height)


def rail_forces(
    loads: Loads, *, layout: Layout, pose: Pose, balance: Balance, axis: Array, lean: Array = LEAN
) -> RailForces:
    """Loads, line and hinge of each rail as Macaulay terms about the neutral axis.

    Args:
        loads: Stacked rows.
        layout: Points of the rig, shapes (...).
        pose: The box at each row's fold angle.
        balance: Line tensions.
        axis: Neutral axis above the floor, shape (...). [in]
        lean: The shares wanted, shape (share,) or one by one for each row (state, share); all of them where not said.

    Returns:
        Terms with share axis limp left, limp right, even.

    Source: own derivation, docs/method.md#rail.
    """
    pull = _pull(balance, lean=lean)
    return _held_rails(loads, layout=layout, pose=pose, axis=axis, lean=lean, pull=pull)


def loaded_rails(loads: Loads, *, layout: Layout, pose: Pose, axis: Array, stations: Array) -> RailForces:
    """Both rails under their own loads by the lever rule, held at the hinge against forces alone: no line pulls.

    Args:
        loads: Stacked rows.
        layout: Points of the rig, shapes (...).
        pose: The box at each row's fold angle.
        axis: Neutral axis above the floor, shape (...). [in]
        stations: Further places at which a rail is to be known, shape (..., station). [in]

    Returns:
        Terms with a side axis, left and right, in place of the share.

    Source: own derivation, docs/method.md#grillage.
    """
    pull = np.zeros((*loads.fold.shape, len(SIDE)))
    return _held_rails(loads, layout=layout, pose=pose, axis=axis, lean=SIDE, pull=pull, stations=stations)


def _held_rails(
    loads: Loads, *, layout: Layout, pose: Pose, axis: Array, lean: Array, pull: Array, stations: Array | None = None
) -> RailForces:
    strips = _strip_terms(loads, layout=layout, pose=pose, axis=axis, lean=lean)
    points = _lump_terms(loads, layout=layout, pose=pose, axis=axis, lean=lean)
    shape = pull.shape
    held = _point_terms(
        np.broadcast_to(layout.hanger_s[..., None, None], shape)[..., None],
        f_s=(pull * pose.u_s[..., None])[..., None],
        f_n=(pull * pose.u_n[..., None])[..., None],
        height=(layout.hanger_n - axis)[..., None, None, None],
    )
    loaded = [join(a, b, c) for a, b, c in zip(strips, points, held, strict=True)]
    far = layout.length[..., None, None, None]
    beyond = np.maximum(far, loaded[0].at.max(-1, initial=0.0, keepdims=True))
    hinge_n = -evaluate(loaded[1], x=beyond, integrals=-1)
    hinge_s = -evaluate(loaded[2], x=beyond)
    unlike = layout.along is not None and layout.along.flared and stations is not None
    if layout.along is not None and unlike:
        hinge_n = rolled_hinge(loaded[0], along=layout.along, hinge_n=hinge_n, beyond=beyond)
    pin = _point_terms(
        np.zeros((*shape, 1)),
        f_s=hinge_s,
        f_n=hinge_n,
        height=(layout.hinge_height - axis)[..., None, None, None],
    )
    parts = [join(a, b) for a, b in zip(loaded, pin, strict=True)]
    if layout.along is not None:
        parts = joined_stretches(parts, along=layout.along, unlike=unlike)
    if stations is not None:
        none = np.zeros((*stations.shape[:-1], 1, 1, stations.shape[-1]))
        more = _point_terms(stations[..., None, None, :] + none, f_s=none, f_n=none, height=none)
        parts = [join(a, b) for a, b in zip(parts, more, strict=True)]
    # strips that run the whole length and the pin put a term at the hinge and at the tail of every rail
    order = np.argsort(parts[0].at, axis=-1, kind="stable")
    moment, shear, axial = (in_order(part, order=order) for part in parts)
    return RailForces(
        moment=moment,
        shear=shear,
        axial=axial,
        stations=moment.at,
        pull=pull,
        hinge_s=hinge_s[..., 0],
        hinge_n=hinge_n[..., 0],
    )


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Curves:
    """What runs through rails, piece by piece; pieces of no length in every rail are left out.

    Attributes:
        start: Where each piece begins, shape (..., state, rail, piece). [in]
        span: Its length. [in]
        moment: Bending moment, sagging positive, and its derivatives at the start, shape (..., piece, 4).
        axial: Minus the axial force and its derivatives.
        shear: Shear force and its derivatives, shape (..., piece, 3).
        beyond: Moment beyond all that acts, zero by equilibrium, shape (..., state, rail). [lbf*in]
    """

    start: Array
    span: Array
    moment: Array
    axial: Array
    shear: Array
    beyond: Array


def curves(forces: RailForces) -> Curves:
    """Rails as one polynomial for each piece between two discontinuities.

    Args:
        forces: Terms of the rails.

    Returns:
        The pieces.
    """
    every = (forces.moment, forces.axial, forces.shear)
    shape = np.broadcast_shapes(*(terms.coefficient.shape for terms in every))
    coefficient = np.stack([np.broadcast_to(terms.coefficient, shape) for terms in every])
    found = segments(Terms(np.broadcast_to(forces.stations, shape[:-1]), coefficient))
    span = np.broadcast_to(found.span, found.derivative.shape[1:-1])
    long = (span > 0.0).reshape(-1, span.shape[-1]).any(0)
    moment, axial, shear = found.derivative[..., long, :]
    start = np.broadcast_to(found.start, span.shape)
    beyond = evaluate(forces.moment, x=forces.stations[..., -1:])[..., 0]
    return Curves(start[..., long], span[..., long], moment, axial, shear[..., 1:], beyond)
