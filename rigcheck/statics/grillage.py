"""The open box as a grillage: two rails that bend, and what joins them across, which twists."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rigcheck.arrays.types import Array

SHEAR_MODULUS = 11.2e6  # of steel [psi]; AISC 360-22 list of symbols, G (memory)


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Across:
    """Members across the box, ends fixed to both rails; one that is not there has no torsion constant.

    Attributes:
        at: Their stations from the hinge, shape (..., member). [in]
        torsion: St Venant torsion constants, shape (..., member). [in4]
    """

    at: Array
    torsion: Array


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Grillage:
    """What of a box depends on the design alone: its equations, solved for every unit of its right-hand side.

    Attributes:
        at: Stations of the members, shape (..., member). [in]
        own: How many of them, the last ones, stand for the box's own resistance to twist.
        bending: E I of one rail while the other bends the other way, shape (...). [lbf*in2]
        torque: Torque of a member for a turn and for the moment left open, shape (..., member, member + 1).
        head: Difference of the slopes at the hinge for the same, shape (..., member + 1).
    """

    at: Array
    own: int
    bending: Array
    torque: Array
    head: Array


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Ties:
    """What the members do to the rails.

    Attributes:
        torque: Couple that a member puts on the left rail, and the other way round on the right one, sagging beyond it
            where positive, shape (..., case, member). [lbf*in]
        head: Slope of the left rail at the hinge less the right one's, shape (..., case). [rad]
        own: The same as `torque` from the box's own resistance to twist, place by place. [lbf*in]
    """

    torque: Array
    head: Array
    own: Array

    @property
    def all(self) -> Array:
        """Every couple, those of the box's own resistance last."""
        return np.concatenate([self.torque, self.own], axis=-1)


def grillage(across: Across, *, spacing: Array, bending: Array, length: Array, own: int = 0) -> Grillage:
    """Solve the box for unit right-hand sides.

    With D(s) = M_L - M_R before the members twist, D_0 the difference of the slopes at the hinge and t_k the couple of
    member k on the left rail, the members' law t_j = (G J_j / b)(slope_L - slope_R at s_j) and rest at the tail read

        b t_j - G J_j [D_0 + (2 / E I) sum t_k <s_j - s_k>] = G J_j int_0^s_j D ds / E I
        2 sum t_k = -D(L)

    The rows are divided by b + G J_j L / E I, so that a member of no stiffness has t_j = 0 and a rigid one no twist.

    Args:
        across: The members, padded with such of no torsion constant.
        spacing: Between the rails, shape (...). [in]
        bending: E I of one rail, shape (...). [lbf*in2]
        length: Of the box, shape (...). [in]
        own: How many of the members, the last ones, stand for the box's own resistance to twist.

    Returns:
        The answers. Where no member has a torsion constant all torques and slopes are nothing: see `joined`.

    Source: own derivation, docs/method.md#grillage.
    """
    at, stiff = np.broadcast_arrays(across.at, SHEAR_MODULUS * across.torsion)
    count = at.shape[-1]
    bend, b = bending[..., None], spacing[..., None]
    scale = b + stiff * length[..., None] / bend
    pull = stiff / scale
    shape = np.broadcast_shapes(pull.shape[:-1], b.shape[:-1])
    pull = np.broadcast_to(pull, (*shape, count))
    # the unknown slope is told in lengths of E I, so that all terms of the matrix are of one size
    matrix = np.zeros((*shape, count + 1, count + 1))
    apart = np.maximum(at[..., :, None] - at[..., None, :], 0.0)
    matrix[..., :count, :count] = np.eye(count) * (b / scale)[..., None] - 2.0 * (pull / bend)[..., None] * apart
    matrix[..., :count, count] = -pull * length[..., None] / bend
    matrix[..., count, :count] = 2.0
    loose = ~joined(across)
    matrix[..., count, count] = np.where(loose, 1.0, 0.0)
    answers = np.linalg.inv(matrix)
    right = np.concatenate([pull / bend, -np.ones((*shape, 1))], axis=-1)
    answers = np.where(loose[..., None, None], 0.0, answers * right[..., None, :])
    return Grillage(
        at=at,
        own=own,
        bending=bending,
        torque=answers[..., :count, :],
        head=answers[..., count, :] * (length / bending)[..., None],
    )


def joined(across: Across) -> NDArray[np.bool_]:
    """Whether anything with a torsion constant joins the rails, shape (...)."""
    return np.asarray((across.torsion > 0.0).any(-1))


def ties(box: Grillage, *, turn: Array, left: Array) -> Ties:
    """What the members do in any number of cases.

    Args:
        box: The box.
        turn: Integral of M_L - M_R from the hinge to each member, before the members twist, shape (..., case, member).
            [lbf*in2]
        left: M_L - M_R left open at the tail, shape (..., case). [lbf*in]

    Returns:
        Torques and slopes.

    Source: docs/method.md#grillage.
    """
    right = np.concatenate([turn, left[..., None]], axis=-1)
    every = np.einsum("...mr,...cr->...cm", box.torque, right)
    members = every.shape[-1] - box.own
    head = np.einsum("...r,...cr->...c", box.head, right)
    return Ties(torque=every[..., :members], head=head, own=every[..., members:])


def pulled(at: Array, *, hanger: Array, length: Array) -> tuple[Array, Array]:
    """Right-hand side for one pound more of pull square to the floor on the left rail than on the right one.

    The hinge holds it down: M_L - M_R = -s to the hanger and -s_H beyond.

    Args:
        at: Stations of the members, shape (..., member). [in]
        hanger: Station of the hangers, shape (...). [in]
        length: Of the box, shape (...). [in]

    Returns:
        `turn` and `left` of `ties`, shapes (..., member) and (...).
    """
    there = np.broadcast_to(hanger[..., None], at.shape)
    near = np.minimum(at, there)
    return -(0.5 * near**2 + there * (at - near)), -hanger + 0.0 * length
