"""Tension of a line from a pull at its middle, or from its sag; and how an error of a reading carries through."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from rigcheck.arrays.types import Array

_STEP = 1e-6  # share of a reading by which it is moved to see what it does


def plain_pull(force: Array | float, *, offset: Array | float, span: Array | float) -> Array:
    """Tension by the usual formula, T = F l / (4 d).

    Args:
        force: Sideways pull at the middle of the line, shape (...). [lbf]
        offset: How far the middle moves, shape (...). [in]
        span: Pin to pin before the pull, shape (...). [in]

    Returns:
        Tension before the pull, to first order in d/l and without stretch, shape (...). [lbf]

    Source: own derivation, docs/method.md#side-pull.
    """
    return np.asarray(force * np.asarray(span) / (4.0 * np.asarray(offset)))


def hung_pull(force: Array | float, *, offset: Array | float, span: Array | float) -> Array:
    """Tension of a line that holds a freely hung, limp box: T = F sqrt(l^2 - 4 d^2) / (4 d).

    The line stays as long as it was and draws its end of the box up; the pull along the chord is what it was before.

    Args:
        force: Sideways pull at the middle of the line, shape (...). [lbf]
        offset: How far the middle stands off the straight line between the pins, under half the span, shape (...). [in]
        span: Pin to pin before the pull, shape (...). [in]

    Returns:
        Tension before the pull, shape (...). [lbf]

    Source: own derivation, docs/method.md#side-pull.
    """
    d, long = np.asarray(offset), np.asarray(span)
    return np.asarray(force * np.sqrt(np.maximum(long**2 - 4.0 * d**2, 0.0)) / (4.0 * d))


def stiff_pull(force: Array | float, *, offset: Array | float, span: Array | float, stiffness: Array | float) -> Array:
    """Tension of one of two like lines of a hung box that does not twist.

    Drawn aside, the line shortens and takes load off the other one: with f = F / 4 d,
    (f l - T)(k l - f T / k) = d^2 (k^2 - f^2)^2 / k^2, near enough T = f l - k d^2 / l.

    Args:
        force: Sideways pull at the middle of the line, shape (...). [lbf]
        offset: How far the middle stands off the straight line between the pins, shape (...). [in]
        span: Pin to pin before the pull, shape (...). [in]
        stiffness: Pull that one line takes for an inch of stretch, over F / 4 d, shape (...). [lbf/in]

    Returns:
        Tension before the pull, shape (...). [lbf]

    Source: own derivation, docs/method.md#side-pull.
    """
    d, long, k = np.asarray(offset), np.asarray(span), np.asarray(stiffness)
    f = np.asarray(force) / (4.0 * d)
    first, second = f / k, long * (k + f**2 / k)
    third = f * k * long**2 - d**2 * (k**2 - f**2) ** 2 / k**2
    root = np.sqrt(np.maximum(second**2 - 4.0 * first * third, 0.0))
    return np.asarray(2.0 * third / (second + root))


def resting_pull(
    force: Array | float, *, offset: Array | float, span: Array | float, stiffness: Array | float
) -> Array:
    """Tension of a line whose two ends do not move: the box rests on something while the line is pulled.

    The line stretches by sqrt(l^2 + 4 d^2) - l, near enough 2 d^2 / l, so that it reads high by AE 2 (d/l)^2:
    T = F sqrt(l^2 + 4 d^2) / (4 d) - k (sqrt(l^2 + 4 d^2) - l).

    Args:
        force: Sideways pull at the middle of the line, shape (...). [lbf]
        offset: How far the middle moves, shape (...). [in]
        span: Pin to pin, shape (...). [in]
        stiffness: Pull for an inch of stretch, AE / l for plain rope, shape (...). [lbf/in]

    Returns:
        Tension before the pull, shape (...). [lbf]

    Source: own derivation, docs/method.md#side-pull.
    """
    d, long = np.asarray(offset), np.asarray(span)
    drawn = np.sqrt(long**2 + 4.0 * d**2)
    stretch = 4.0 * d**2 / (drawn + long)
    return np.asarray(force * drawn / (4.0 * d) - stiffness * stretch)


def drawn_out(tensions: Sequence[Array | float], *, offsets: Sequence[Array | float]) -> Array:
    """Tension at no offset from readings at two: the part that grows with d^2 taken off.

    T = (T_1 d_2^2 - T_2 d_1^2) / (d_2^2 - d_1^2).

    Args:
        tensions: By `plain_pull`, two of shape (...). [lbf]
        offsets: Two different ones, shape (...). [in]

    Returns:
        Tension, shape (...). [lbf]

    Source: own derivation, docs/method.md#side-pull.
    """
    (first, second), (a, b) = tensions, (np.asarray(one) ** 2 for one in offsets)
    return np.asarray((first * b - second * a) / (b - a))


def sag_pull(weight: Array | float, *, span: Array | float, sag: Array | float, angle: Array | float) -> Array:
    """Tension of a line from how far its middle hangs off a string from pin to pin: T = w cos(a) l^2 / (8 s).

    Args:
        weight: Of the line per length, shape (...). [lbf/in]
        span: Pin to pin, shape (...). [in]
        sag: Square to the string, at the middle, shape (...). [in]
        angle: Line above level, shape (...). [rad]

    Returns:
        Tension, shape (...). [lbf]

    Source: flat parabola, any strength-of-materials text; docs/method.md#sag.
    """
    return np.asarray(weight * np.cos(angle) * np.asarray(span) ** 2 / (8.0 * np.asarray(sag)))


def carried_error(
    rule: Callable[..., Array], *, readings: Sequence[Array | float], errors: Sequence[Array | float]
) -> Array:
    """Uncertainty of a result from those of its readings, independent of each other: root of the sum of squares.

    Args:
        rule: The result as a function of the readings in order.
        readings: Their values, shapes (...); none of them zero.
        errors: Their uncertainties, in the units of the readings, shapes (...).

    Returns:
        Uncertainty, to first order, in the unit of the result, shape (...).

    Source: propagation of independent errors, any text on measurement; docs/method.md#uncertainty.
    """
    squares = np.zeros(())
    for i, (value, error) in enumerate(zip(readings, errors, strict=True)):
        step = np.abs(np.asarray(value)) * _STEP
        ends = [rule(*readings[:i], value + sign * step, *readings[i + 1 :]) for sign in (1.0, -1.0)]
        squares = squares + ((ends[0] - ends[1]) / (2.0 * step) * error) ** 2
    return np.asarray(np.sqrt(squares))
