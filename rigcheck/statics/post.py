"""Force at a perch lug followed down its post, free or knee-braced, to the plant."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from rigcheck.arrays.memory import side_by_side
from rigcheck.arrays.types import Array

_HALVINGS = 36  # leaves a bracket of 5e-11 rad about a buckling load


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Post:
    """An upright post, fixed at its base, lug at its top, all shapes (...).

    Attributes:
        length: Base to lug. [in]
        fore: E I against bending fore and aft. [lbf*in2]
        across: E I against bending across. [lbf*in2]
        axial: E A. [lbf]
        twist: G J. [lbf*in2]
        offset: Lug left of the post axis. [in]
        joint: Height over the base at which the brace meets the post, the lug's own where there is none. [in]
        lean: Brace direction, post to foot, downstream part. [1]
        drop: Brace direction, post to foot, upward part (negative: the foot is lower). [1]
        brace: Force along the brace for an inch of its stretch, E A over its length; 0 for none. [lbf/in]
        reach: Hole of the lug downstream of the post axis. [in]
    """

    length: Array
    fore: Array
    across: Array
    axial: Array
    twist: Array
    offset: Array
    joint: Array
    lean: Array
    drop: Array
    brace: Array
    reach: Array = field(default_factory=lambda: np.zeros(()))


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class PostForces:
    """What a post carries, shapes (...) unless said; moments are those about its axis at that height.

    Attributes:
        base_force: Post on plant at the base, x, y, z, shape (..., 3). [lbf]
        base_moment: Post on plant at the base, about x, y, z, right-handed, shape (..., 3). [lbf*in]
        foot_force: Brace on plant at its foot, x, y, z, shape (..., 3). [lbf]
        brace_pull: Tension of the brace. [lbf]
        joint_fore: Moment fore and aft where the brace meets the post. [lbf*in]
        joint_across: Moment across there. [lbf*in]
        top_fore: Moment fore and aft just under the lug. [lbf*in]
        top_across: Moment across just under the lug. [lbf*in]
        upper_push: Compression over the brace. [lbf]
        lower_push: Compression under it. [lbf]
        upper_shear: Shear fore and aft over the brace. [lbf]
        lower_shear: Shear fore and aft under it. [lbf]
        shear_across: Shear across. [lbf]
        torque: Torsion. [lbf*in]
    """

    base_force: Array
    base_moment: Array
    foot_force: Array
    brace_pull: Array
    joint_fore: Array
    joint_across: Array
    top_fore: Array
    top_across: Array
    upper_push: Array
    lower_push: Array
    upper_shear: Array
    lower_shear: Array
    shear_across: Array
    torque: Array


def sway_at_joint(post: Post) -> Array:
    """Movement fore and aft at the joint for a pound at the lug, h^2 (3 L - h)/(6 E I), shape (...). [in/lbf]

    By reciprocity it is also that of the lug for a pound at the joint.
    """
    return np.asarray(post.joint**2 * (3.0 * post.length - post.joint) / (6.0 * post.fore))


def brace_pull(post: Post, *, force: Array) -> Array:
    """Tension of the knee brace under a force at the lug.

    Force method, one redundant: k = E A/L of the brace, e its direction from post to foot, h the joint's height, and
    M = -reach F_z the moment with which the lug arrives at the top.
    X = -k (e_x [F_x h^2 (3 L - h)/(6 E I) + M h^2/(2 E I)] + e_z F_z h/(E A))
    / (1 + k [e_x^2 h^3/(3 E I) + e_z^2 h/(E A)]).

    Args:
        post: The post, shapes (...).
        force: On the lug, x, y, z, shape (..., 3). [lbf]

    Returns:
        Tension, shape (...). [lbf]

    Source: force method, any text on statically indeterminate frames; docs/method.md#knee-brace.
    """
    squash = post.joint / post.axial
    turned = -post.reach * force[..., 2] * post.joint**2 / (2.0 * post.fore)
    moved = post.lean * (force[..., 0] * sway_at_joint(post) + turned) + post.drop * force[..., 2] * squash
    soft = post.lean**2 * post.joint**3 / (3.0 * post.fore) + post.drop**2 * squash
    return np.asarray(-post.brace * moved / (1.0 + post.brace * soft))


def post_forces(post: Post, *, force: Array) -> PostForces:
    """Follow a force at the lug down the post.

    M = r x F with r = (reach, offset, length) from the base to the lug; below the joint the brace adds its pull.

    Args:
        post: The post, shapes (...).
        force: On the lug, x, y, z, shape (..., 3). [lbf]

    Returns:
        Forces and moments, shapes (...).

    Source: statics; docs/method.md#post.
    """
    f_x, f_y, f_z = force[..., 0], force[..., 1], force[..., 2]
    pull = brace_pull(post, force=force)
    x, z = pull * post.lean, pull * post.drop
    top, top_fore = post.offset * f_z, -post.reach * f_z
    torque = post.reach * f_y - post.offset * f_x
    zero = np.zeros_like(x)
    moment = [top - post.length * f_y, post.length * f_x + top_fore + post.joint * x, torque]
    return PostForces(
        base_force=side_by_side(f_x + x, f_y, f_z + z),
        base_moment=side_by_side(*moment),
        foot_force=side_by_side(-x, zero, -z),
        brace_pull=pull,
        joint_fore=(post.length - post.joint) * f_x + top_fore,
        joint_across=top - (post.length - post.joint) * f_y,
        top_fore=top_fore,
        top_across=top,
        upper_push=-f_z,
        lower_push=-(f_z + z),
        upper_shear=f_x,
        lower_shear=f_x + x,
        shear_across=f_y,
        torque=torque,
    )


def tip_movement(post: Post, *, force: Array) -> Array:
    """How far the top of the post moves, in bending and axially; the lug's own turn with the post is left out.

    Args:
        post: The post, shapes (...).
        force: On the lug, x, y, z, shape (..., 3). [lbf]

    Returns:
        Movement, x, y, z, shape (..., 3). [in]

    Source: F L^3/(3 E I), M L^2/(2 E I); docs/method.md#post.
    """
    f_x, f_y, f_z = force[..., 0], force[..., 1], force[..., 2]
    pull = brace_pull(post, force=force)
    length = post.length
    turned = -post.reach * f_z * length**2 / (2.0 * post.fore)
    fore = f_x * length**3 / (3.0 * post.fore) + turned + pull * post.lean * sway_at_joint(post)
    # a moment of +x leans the top to -y
    across = (f_y * length**3 / 3.0 - post.offset * f_z * length**2 / 2.0) / post.across
    down = (f_z * length + pull * post.drop * post.joint) / post.axial
    return side_by_side(fore, across, down)


def lug_give(post: Post, *, pull: Array) -> Array:
    """How far the lug moves along a pull, for a pound of it, everything counted.

    Twice the strain energy of a unit pull: both bendings, axial, brace, and torsion from the lug's offset.

    Args:
        post: The post, shapes (...).
        pull: Unit vector of the pull on the lug, shape (..., 3). [1]

    Returns:
        Movement along the pull per pound, never negative, shape (...). [in/lbf]

    Source: Castigliano / Clapeyron; docs/method.md#post-give.
    """
    f_x, f_y, f_z = pull[..., 0], pull[..., 1], pull[..., 2]
    moved = tip_movement(post, force=pull)
    length, top = post.length, post.offset * f_z
    across = (top**2 * length - top * f_y * length**2 + f_y**2 * length**3 / 3.0) / post.across
    turned = (post.reach * f_y - post.offset * f_x) ** 2 * length / post.twist
    # the lug rides down as the top turns downstream
    arrives = -post.reach * f_z
    brace = brace_pull(post, force=pull) * post.lean * post.joint**2 / 2.0
    leans = (f_x * length**2 / 2.0 + arrives * length + brace) / post.fore
    return np.asarray(f_x * moved[..., 0] + f_z * moved[..., 2] + arrives * leans + across + turned)


def hold_at_joint(post: Post) -> Array:
    """Force with which the brace holds the joint for an inch of sway, the post's own squash counted, shape (...).

    k e_x^2/(1 + k e_z^2 h/(E A)). [lbf/in]

    Source: own derivation, docs/method.md#knee-brace.
    """
    squash = post.brace * post.drop**2 * post.joint / post.axial
    return np.asarray(post.brace * post.lean**2 / (1.0 + squash))


def buckling_left(angle: Array, *, height: Array, hold: Array) -> Array:
    """What is left of a post held sideways part of the way up when pushed: positive until it buckles.

    With theta = L sqrt(P/(E I)), r = h/L, c = kappa L^3/(E I), kappa the sideways stiffness at h:
    cos theta - (c/theta^2) (r cos theta - [sin theta - sin((1 - r) theta) (2 - cos(r theta))]/theta).

    Args:
        angle: theta, shape (...). [rad]
        height: r, shape (...). [1]
        hold: c, shape (...). [1]

    Returns:
        Shape (...). [1]

    Source: own derivation from E I v'' = -M in both parts, docs/method.md#knee-brace.
    """
    over = np.sin((1.0 - height) * angle) * (2.0 - np.cos(height * angle))
    return np.asarray(np.cos(angle) - hold / angle**2 * (height * np.cos(angle) - (np.sin(angle) - over) / angle))


def euler_fore(post: Post) -> Array:
    """Push at the lug at which the post buckles fore and aft, fixed at its base and held by the brace at the joint.

    The least root of `buckling_left`. One sideways spring lifts no buckling load over the next one of the free post,
    so theta lies between pi/2 and 3 pi/2, once; the lower end of the last bracket is taken.

    Args:
        post: The post, shapes (...).

    Returns:
        Elastic buckling load, shape (...). [lbf]

    Source: own derivation; pi^2 E I/(2 L)^2 without a brace; docs/method.md#knee-brace.
    """
    height = post.joint / post.length
    hold = hold_at_joint(post) * post.length**3 / post.fore
    low = np.pi / 2.0 + 0.0 * (height + hold)
    high = low + np.pi
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        stands = buckling_left(middle, height=height, hold=hold) > 0.0
        low, high = np.where(stands, middle, low), np.where(stands, high, middle)
    return np.asarray((low / post.length) ** 2 * post.fore)


def euler_across(post: Post) -> Array:
    """Push at the lug at which the post buckles across, where no brace holds it, shape (...). [lbf]

    Source: pi^2 E I/(2 L)^2, AISC 360-22 Eq. (E3-4).
    """
    return np.asarray(np.pi**2 * post.across / (2.0 * post.length) ** 2)
