"""Force at a perch lug followed down its post: moments by vector product, the brace as one redundant by integration."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

from rigcheck.analysis.post_model import post_of
from rigcheck.calculation import writing
from rigcheck.calculation.algebra import integral
from rigcheck.calculation.book import Book
from rigcheck.calculation.lug_pull import direction, pull_on
from rigcheck.calculation.pages import Formula
from rigcheck.calculation.sharing import named
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.quantities.measures import FORCE, LENGTH, MOMENT, NUMBER, PER_LENGTH, RIGIDITY
from rigcheck.statics.post import Post

_POST = "statics, docs/method.md#post"
_BRACE = "force method, docs/method.md#knee-brace"


@dataclass(frozen=True, slots=True)
class Carried:
    """What a post carries, symbols.

    Attributes:
        lug: Force of the line on the lug, x, y, z.
        base_force: Post on plant at its base.
        base_moment: Post on plant at its base.
        length: Base to lug.
        offset: Lug left of the post axis; 0 where it is on it.
        reach: Hole of the lug downstream of the post axis; 0 where no lug is described.
        joint: Height of the brace's joint; None without a brace.
        brace: Tension of the brace; None without one.
        post: The post as a beam.
    """

    lug: tuple[Any, ...]
    base_force: tuple[Any, ...]
    base_moment: tuple[Any, ...]
    length: Symbol
    offset: Any
    reach: Any
    joint: Symbol | None
    brace: Symbol | None
    post: Post


@cache
def sway() -> tuple[Any, ...]:
    """Movement fore and aft at the joint for a pound at the lug, a pound at the joint, a pound-inch at the top.

    Times E I, each by integration of M m over the post below the joint.
    """
    from sympy import Symbol, factor

    length, joint, s = named("L"), named("h"), Symbol("s", real=True)
    at_lug = integral((length - s) * (joint - s), over=s, start=0, end=joint)
    at_joint = integral((joint - s) ** 2, over=s, start=0, end=joint)
    at_top = integral(joint - s, over=s, start=0, end=joint)
    return factor(at_lug), factor(at_joint), factor(at_top)


@cache
def redundant() -> tuple[Any, list[Formula]]:
    """Tension of the brace, solved from the movement of its joint, and the equation it is solved from."""
    from sympy import Integer, factor, linsolve

    pull, spring = named("X"), named("k_b")
    lean, drop = named("e_x"), named("e_z")
    at_lug, at_joint, at_top = sway()
    stiff, axial = named("EI"), named("EA")
    fore = (named("Q_x") * at_lug - named("rho") * named("Q_z") * at_top + pull * lean * at_joint) / stiff
    down = (named("Q_z") + pull * drop) * named("h") / axial
    closing = pull + spring * (lean * fore + drop * down)
    ((found,),) = linsolve([closing], [pull])
    return factor(found), [writing.formula(Integer(0), closing)]


def follow_down(book: Book, sheet: Sheet, spot: Spot) -> Carried:
    """From the line to the base of the post."""
    from sympy import Integer, Matrix

    solution = spot.solution
    pull = pull_on(book, sheet, spot, end="perch")
    post = post_of(solution.rig)
    sign = 1 if spot.side == 0 else -1
    lug = _on_the_lug(sheet, spot, pull=pull, sign=sign)
    length = sheet.given("L", post.length, LENGTH, "post, base to lug")
    outward = float(post.offset)
    offset: Any = Integer(0)
    if outward != 0.0:
        offset = sheet.given("o", sign * outward, LENGTH, "lug left of the post axis")
    stands_out = float(post.reach)
    reach: Any = Integer(0)
    if stands_out != 0.0 or float(post.brace) > 0.0:
        reach = sheet.given("rho", stands_out, LENGTH, "hole of the lug downstream of the post axis")
    joint = brace = None
    force = list(lug)
    turn = Matrix([reach, offset, length]).cross(Matrix(lug))
    if float(post.brace) > 0.0:
        joint, brace, lean, drop = _brace(sheet, post)
        force = [lug[0] + brace * lean, lug[1], lug[2] + brace * drop]
        turn = turn + Matrix([0, 0, joint]).cross(Matrix([brace * lean, 0, brace * drop]))
    words = ("fore and aft", "across", "up")
    base = tuple(
        sheet.find(f"Post on the plant, {told}", f"B_{axis}", one, FORCE, clause=_POST)
        for axis, told, one in zip("xyz", words, force, strict=True)
    )
    about = ("across (about x)", "fore and aft (about y)", "torsion (about z)")
    moment = tuple(
        sheet.find(
            f"Moment at the base, {told}",
            f"M_b{axis}",
            one,
            MOMENT,
            clause=_POST,
            note="r x F, r from the base to the lug." if axis == "x" else "",
        )
        for axis, told, one in zip("xyz", about, turn, strict=True)
    )
    return Carried(lug, base, moment, length, offset, reach, joint, brace, post)


def _on_the_lug(sheet: Sheet, spot: Spot, *, pull: Symbol, sign: int) -> tuple[Symbol, ...]:
    """Each line pulls its lug toward its hanger."""
    direction(sheet, spot)
    if not sheet.knows("u_x"):
        pose, i = spot.solution.pose, spot.index
        for axis, value in zip("xyz", (pose.ux[i], pose.uy[i], pose.uz[i]), strict=True):
            sheet.given(f"u_{axis}", value, NUMBER, "direction of the line from hanger to perch")
    signs = (1, sign, 1)
    words = ("downstream", "to the left", "up")
    return tuple(
        sheet.find(
            f"Force of the line on the lug, {told}",
            f"Q_{axis}",
            -pull * one * named(f"u_{axis}"),
            FORCE,
            clause=_POST,
            note="Each line pulls its lug toward its hanger." if axis == "x" else "",
        )
        for axis, one, told in zip("xyz", signs, words, strict=True)
    )


def _brace(sheet: Sheet, post: Post) -> tuple[Symbol, Symbol, Symbol, Symbol]:
    """Tension of the knee brace: its stretch is what its joint moves away from its foot."""
    joint = sheet.given("h", post.joint, LENGTH, "height of the brace's joint")
    lean = sheet.given("e_x", post.lean, NUMBER, "brace from post to foot, downstream")
    drop = sheet.given("e_z", post.drop, NUMBER, "brace from post to foot, up")
    sheet.given("k_b", post.brace, PER_LENGTH, "force of the brace for an inch of its stretch, E A over its length")
    sheet.given("EI", post.fore, RIGIDITY, "E I of the post fore and aft")
    sheet.given("EA", post.axial, FORCE, "E A of the post")
    expression, closing = redundant()
    pull = sheet.find(
        "Tension of the knee brace",
        "X",
        expression,
        FORCE,
        derivation=closing,
        clause=_BRACE,
        note="X = -k_b (e_x moved along + e_z moved up); the movements per pound are integrals of M m/(E I) over the"
        " post below the joint: h^2 (3 L - h)/6 from the lug, h^3/3 from the joint, h^2/2 for the moment that the lug"
        " brings along. A plane frame gives the same.",
    )
    return joint, pull, lean, drop
