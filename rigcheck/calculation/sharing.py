"""The six equations of the whole box in symbols, and what each way of sharing adds to them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any

from rigcheck.calculation import writing
from rigcheck.calculation.pages import Formula

AXES = "xyz"


def named(name: str) -> Any:
    """The symbol of this name; symbols of one name are one symbol."""
    from sympy import Symbol

    return Symbol(name, real=True)


@dataclass(frozen=True, slots=True)
class Equations:
    """Six sums that vanish: fore and aft, across, up, roll, pitch, yaw; arms of the lines written d, r and q.

    Attributes:
        sums: The six expressions.
    """

    sums: tuple[Any, ...]

    @property
    def shown(self) -> list[Formula]:
        """The equations as they are printed."""
        from sympy import Integer

        return [writing.formula(Integer(0), one) for one in self.sums]

    def tensions(self, share: Any) -> tuple[Any, ...]:
        """Left and right tension from pitch balance and one more expression that vanishes."""
        from sympy import expand

        left, right = named("T_L"), named("T_R")
        found = _solved((self.sums[4], share), unknown=(left, right))
        return tuple(expand(found[one]) for one in (left, right))

    def thrust(self) -> Any:
        """Side force of the plant on the box, of tensions and loads."""
        return _solved((self.sums[1],), unknown=(named("Y"),))[named("Y")]

    def hinge(self) -> dict[str, Any]:
        """Hinge forces by name, of tensions and loads: fore and aft with yaw, up with roll."""
        return dict(_hinge_forces(self.sums))


@cache
def _solved(sums: tuple[Any, ...], *, unknown: tuple[Any, ...]) -> Mapping[Any, Any]:
    """What makes some sums vanish; the same ones are asked for again and again."""
    from sympy import linsolve

    (found,) = linsolve(list(sums), list(unknown))  # linear in the unknowns, so that one answer is all there is
    return MappingProxyType(dict(zip(unknown, found, strict=True)))


@cache
def _hinge_forces(sums: tuple[Any, ...]) -> Mapping[str, Any]:
    """Hinge forces by name from the six sums, each once for all sections that need them."""
    from sympy import expand, factor_terms

    c = named("c")
    told: dict[str, Any] = {}
    for letter, pair in (("X", (0, 5)), ("Z", (2, 3))):
        unknown = (named(f"{letter}_L"), named(f"{letter}_R"))
        found = _solved(tuple(sums[k] for k in pair), unknown=unknown)
        for one in unknown:
            plain = expand(found[one])
            half = plain.coeff(c, 0)  # what both groups share alike; the rest is a couple over their spacing
            told[str(one)] = factor_terms(half) + factor_terms(expand((plain - half) * c)) / c
    return MappingProxyType(told)


@cache
def six_equations() -> Equations:
    """Forces and moments about the middle of the hinge axis, from positions and directions by vector products.

    The arms of a line, r x u, are written d = x_H u_z - z_H u_x, r = y_H u_z - z_H u_y and q = x_H u_y - y_H u_x.
    """
    from sympy import Matrix

    u, r_h = [named(f"u_{axis}") for axis in AXES], [named("x_H"), named("y_H"), named("z_H")]
    arms = (
        (r_h[1] * u[2] - r_h[2] * u[1], named("r")),
        (r_h[2] * u[0] - r_h[0] * u[2], -named("d")),
        (r_h[0] * u[1] - r_h[1] * u[0], named("q")),
    )
    force, moment = (Matrix([named(f"{letter}_{axis}") for axis in AXES]) for letter in "GM")
    thrust, c = named("Y"), named("c")
    for sign, letter in ((1, "L"), (-1, "R")):
        tension = named(f"T_{letter}")
        direction, at = Matrix([u[0], sign * u[1], u[2]]), Matrix([r_h[0], sign * r_h[1], r_h[2]])
        hinge = Matrix([named(f"X_{letter}"), 0, named(f"Z_{letter}")])
        turned = Matrix([_short(one, arms) for one in at.cross(direction)])
        force = force + tension * direction + hinge
        moment = moment + tension * turned + Matrix([0, sign * c / 2, 0]).cross(hinge)
    force = force + Matrix([0, thrust, 0])
    return Equations((*force, *moment))


def _short(product: Any, arms: Sequence[tuple[Any, Any]]) -> Any:
    """An arm by its letter, with its sign."""
    for written, letter in arms:
        if product in (written, -written):
            return letter if product == written else -letter
    raise LookupError(f"no arm is {product}")


@dataclass(frozen=True, slots=True)
class Share:
    """What a way of sharing adds.

    Attributes:
        expression: What vanishes, of T_L, T_R and symbols of the sheet.
        note: The sharing in words.
    """

    expression: Any
    note: str

    @property
    def shown(self) -> list[Formula]:
        """The added equation as it is printed."""
        from sympy import Integer

        return [writing.formula(Integer(0), self.expression)]


def share_of(bound: str, *, unsplit: bool = False) -> Share:
    """The equation that a bound adds.

    Args:
        bound: limp, stiff, loose, left or right.
        unsplit: Whether a loose box has no arm in roll here.

    Returns:
        The equation and its words; limp needs k (the grip of unlike lines), D and b.
    """
    left, right = named("T_L"), named("T_R")
    if bound == "limp":
        return Share(
            (left - right) * named("k") - named("D") * named("b"),
            "Limp box: each line holds what the lever rule puts on its own rail.",
        )
    if bound == "loose" and not unsplit:
        return Share(
            named("M_x") + named("r") * (left - right),
            "Worn hinge: it gives no couple in roll, Z_L = Z_R, so that the lines take the roll alone.",
        )
    if bound == "left":
        return Share(right, "All of it on the left line.")
    if bound == "right":
        return Share(left, "All of it on the right line.")
    alike = "Stiff box: both lines alike, the hinge takes the roll."
    return Share(left - right, alike if bound == "stiff" else f"{alike} (The lines have no arm in roll here.)")


@cache
def lever_rule() -> tuple[Any, list[Formula]]:
    """Pitch moment of a load on the left rail less that on the right one, by the lever rule at y = b/2 and -b/2.

    A side force W g_y at the height n is the couple that the floor, as a deep beam, hands to the rails.

    Returns:
        Expression in W, s, y, n, n_h, g_s, g_y, g_n and b, and the two shares it follows from.
    """
    from sympy import expand, factor_terms

    weight, s, y, n, axis, b = (named(name) for name in ("W", "s", "y", "n", "n_h", "b"))
    g_s, g_y, g_n = (named(name) for name in ("g_s", "g_y", "g_n"))
    moments, shown = [], []
    for sign, letter in ((1, "L"), (-1, "R")):
        across = weight * (g_n / 2 + sign * (y * g_n - n * g_y) / b)
        along = weight * g_s * (b / 2 + sign * y) / b
        shown += [writing.formula(named(f"f_n{letter}"), across), writing.formula(named(f"f_s{letter}"), along)]
        moments.append((n - axis) * along - s * across)
    return factor_terms(expand(moments[0] - moments[1])), shown


def total(terms: Sequence[Any]) -> Any:
    """A sum as it was written, nothing put together."""
    from sympy import Add, Integer

    return Add(*terms, evaluate=False) if len(terms) > 1 else terms[0] if terms else Integer(0)
