"""Both tensions and all hinge forces from the six equations of the whole box and the way of sharing."""

from __future__ import annotations

from dataclasses import dataclass, replace

from rigcheck.analysis.rows import SIDES
from rigcheck.calculation import askew, writing
from rigcheck.calculation.algebra import put
from rigcheck.calculation.free_body import AXES, Body, what_presses, where_the_box_stands
from rigcheck.calculation.off_level import off_level_roll
from rigcheck.calculation.sharing import Equations, lever_rule, named, share_of, six_equations, total
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.loads.pieces import BOUNDS, SHARED
from rigcheck.loads.sharing import pivots
from rigcheck.quantities.measures import AREA, FORCE, LENGTH, MOMENT, NUMBER, TWIST
from rigcheck.wording.words import bound_sentence

_BALANCE = "statics, docs/method.md#balance"
_LOST = "docs/method.md#line-broken"
_PIVOT = "docs/method.md#center-pivot"
_JUMP = "An undamped step overshoots what it settles at by as much as it jumped."
_LETTERS = ("L", "R")
_SHARED = [i for i, bound in enumerate(BOUNDS) if bound in SHARED]
_PLACE = ("a", "x_H", "z_H", "u_x", "u_y", "u_z", "d")
LEAST_GRIP = 0.05  # of the plain lever rule, as in the balance of the whole box


@dataclass(frozen=True, slots=True)
class Shown:
    """Under which heading a part of the whole box stands already, empty where it does not.

    Attributes:
        place: Where hanger, perch and line stand at this fold.
        loads: What presses on the box in this row.
    """

    place: str = ""
    loads: str = ""


def whole_box(
    sheet: Sheet, spot: Spot, *, factored: bool = True, hinge: bool = False, shown: Shown | None = None
) -> Body:
    """Work out tensions, and hinge forces where asked, from the free body.

    Args:
        sheet: Where it is written.
        spot: The row and the way of sharing.
        factored: Whether the loads carry their dynamic factors.
        hinge: Whether the hinge forces are wanted.
        shown: What another section shows already, so that it is only recalled.

    Returns:
        The symbols.
    """
    body = Body(factored=factored, parted=spot.row.ultimate and factored)
    shown = shown or Shown()
    with sheet.silence(bool(shown.place)):
        where_the_box_stands(sheet, spot, body=body)
    told = "Hanger, line and its arm at this fold"
    if shown.place and not sheet.quiet:
        sheet.recall(*(body.place[name] for name in _PLACE))
        sheet.note(f"{told}: worked under {shown.place!r}.")
    with sheet.silence(bool(shown.loads)):
        what_presses(sheet, spot, body=body)
    if shown.loads and not sheet.quiet:
        sheet.recall(*body.force, *body.moment)
        sheet.note(f"{told}; weights and what they turn about the hinge: worked under {shown.loads!r}.")
    equations = six_equations()
    _show_equations(sheet, spot, equations)
    if spot.bound_key == "limp":
        body.difference = _difference(sheet, spot, body=body)
    _tensions(sheet, spot, body=body, equations=equations)
    if hinge:
        _hinge(sheet, spot, body=body, equations=equations)
    return body


def _show_equations(sheet: Sheet, spot: Spot, equations: Equations) -> None:
    """The free body in equations."""
    side = "left and right hinge group at y = c/2 and -c/2, lines at y = y_H and -y_H"
    sheet.given("c", spot.whole.layout.hinge_spacing, LENGTH, "between the hinge groups")
    sheet.equations(
        "Free body of the whole box: forces and moments about the middle of the hinge axis vanish",
        equations.shown,
        note=f"Unknown: tensions T_L and T_R, hinge forces X, Z on either side and one thrust Y ({side}); in order"
        " fore and aft, across, up, roll, pitch, yaw. Short for the arms of a line: d as above,"
        " r = u_z*y_H - u_y*z_H (roll), q = u_y*x_H - u_x*y_H (yaw).",
        clause=_BALANCE,
    )


def _difference(sheet: Sheet, spot: Spot, *, body: Body) -> Symbol:
    """What the loads of the left rail turn about the hinge more than those of the right one."""
    from sympy import cos, expand, factor_terms, sin

    place, solution, i = body.place, spot.whole, spot.index
    a, g_x, g_z = place["a"], place["g_x"], place["g_z"]
    rule, shares = lever_rule()
    place["g_s"] = sheet.find("Acceleration along the floor", "g_s", g_x * cos(a) + g_z * sin(a), NUMBER, clause=AXES)
    place["g_n"] = sheet.find(
        "Acceleration square to the floor", "g_n", g_z * cos(a) - g_x * sin(a), NUMBER, clause=AXES
    )
    place["b"] = askew.rails_at_hangers(sheet, spot)
    sheet.equations(
        "One load on two rails: the lever rule at y = b/2 and -b/2, and how their moments about the hinge differ",
        [*shares, writing.formula(named("D_W"), rule)],
        note="f_s along the floor, f_n square to it, L left, R right; a side force at a height is a couple.",
        clause=_BALANCE,
    )

    told = None if bool(solution.demand.dead[i]) else solution.demand.rail_split[i] * solution.pose.arm[i]
    against = abs(sheet.value(body.moment[1]))
    heading = "Moment of the left rail's loads less that of the right one's"
    if askew.askew(spot) is not None:
        terms = total(askew.difference_terms(sheet, spot, body=body))
        engine = told if body.factored else None
        return sheet.find(heading, "D", terms, MOMENT, engine=engine, clause=askew.STRETCHES, against=against)

    def summed(name: str, axes: str, words: str) -> Symbol:
        terms = []
        for k, (weight, load) in enumerate(zip(body.weights, body.loads, strict=True), start=1):
            if all(getattr(load, axis) != 0.0 for axis in axes):
                factors = [named(f"{axis}_{k}") for axis in axes]
                terms.append(weight * factors[0] * factors[1])
        with sheet.silence(not terms):
            return sheet.find(f"Sum over the loads of {words}", name, total(terms), TWIST)

    s_y, y_n, s_n = summed("J_sy", "sy", "W s y"), summed("J_yn", "yn", "W y n"), summed("J_sn", "sn", "W s n")
    y_all = sheet.find("Sum over the loads of W y", "J_y", named("W") * named("y_G"), MOMENT)
    # D_W is linear in the products W s y, W y n, W s n and W y, so that the sum of D_W is D_W with their sums in it
    weight, s, y, n = (named(name) for name in ("W", "s", "y", "n"))
    rule = rule.subs(named("b"), place["b"])
    whole = expand(rule).subs({weight * s * y: s_y, weight * y * n: y_n, weight * s * n: s_n}).subs(weight * y, y_all)
    # the wind acts in the middle of the box: only its side force, a couple like any other, tells the rails apart
    sideways = [2 * n_w * s_w * p_y / place["b"] for _, p_y, _, s_w, n_w in body.gusts]
    return sheet.find(
        heading,
        "D",
        total([factor_terms(whole), *sideways]),
        MOMENT,
        engine=told if body.factored else None,
        clause=_BALANCE,
        against=against,
    )


def _tensions(sheet: Sheet, spot: Spot, *, body: Body, equations: Equations) -> None:
    """Both tensions from pitch balance and the way of sharing."""
    solution, i = spot.whole, spot.index
    held = solution.demand if body.factored else solution.held
    bound = spot.bound_key
    unsplit = bool(held.unsplit[i])
    if bound == "loose" and not unsplit:
        _roll_arm(sheet, body)
        if pivots(spot.whole.rig):
            body.place["M_o"] = off_level_roll(sheet, spot, body=body)
    if bound == "limp":
        _grip(sheet, spot, body=body)
    share = share_of(bound, unsplit=unsplit)
    if bound == "limp":
        share = replace(share, expression=put(share.expression, {named("b"): body.place["b"]}))
    if "M_o" in body.place:
        share = replace(
            share,
            expression=put(share.expression, {named("M_x"): named("M_x") + body.place["M_o"]}),
            note="Free pivot: it gives no couple in roll, so that the lines take the roll alone, the box off level.",
        )
    slack = [side for side, pull in enumerate(held.tension[i, spot.bound]) if float(pull) == 0.0]
    if bound in ("limp", "loose") and len(slack) == 1:
        share = replace(
            share_of(SIDES[1 - slack[0]]),
            note=f"{share.note} That asks the {SIDES[slack[0]]} line to take compression: it is slack, the other"
            " carries all, and the hinge takes what roll is left.",
        )
    after = "a" if body.parted else ""
    found = []
    for side, expression in enumerate(equations.tensions(share.expression)):
        words = f"Tension of the {SIDES[side]} line{', the other gone and at rest' if body.parted else ''}"
        found.append(
            sheet.find(
                words,
                f"T_{_LETTERS[side]}{after}",
                expression,
                FORCE,
                clause=_BALANCE,
                rounding="up",
                note=share.note if side == 0 else "",
                derivation=share.shown if side == 0 else (),
                against=float(held.total[i]),
                engine=None if body.parted else held.tension[i, spot.bound, side],
            )
        )
    if body.parted:
        body.after = (found[0], found[1])
        found = _peaks(sheet, spot, body=body)
    body.tension = (found[0], found[1])


def _peaks(sheet: Sheet, spot: Spot, *, body: Body) -> list[Symbol]:
    """First peak of the line that is left; the parted one stays slack."""
    solution, i = spot.whole, spot.index
    jump = sheet.given("j", solution.rig.number("factors.line_broken"), NUMBER, "jump of a load that comes at once")
    if spot.bound_key in SHARED:  # on a center pivot its backup takes over for a line
        body.place["j"] = jump
        return [
            sheet.find(
                f"Pull of the {SIDES[k]} line as its backup takes over", f"T_{letter}", jump * body.after[k], FORCE,
                engine=solution.demand.tension[i, spot.bound, k], rounding="up", clause=_PIVOT,
            )
            for k, letter in enumerate(_LETTERS)
        ]  # fmt: skip
    side = SIDES.index(spot.bound_key)
    least = _SHARED[int(solution.held.tension[i, _SHARED, side].argmin())]
    sharing = bound_sentence(BOUNDS[least])
    before = [
        sheet.given(f"T_{letter}b", solution.held.tension[i, least, k], FORCE,
                    f"{SIDES[k]} line before one parted, {sharing}: the least that the {SIDES[side]} one can have had")
        for k, letter in enumerate(_LETTERS)
    ]  # fmt: skip
    body.before, body.place["j"] = (before[0], before[1]), jump
    found = list(body.after)
    after = body.after[side]
    found[side] = sheet.find(
        f"First peak of the {SIDES[side]} line",
        f"T_{_LETTERS[side]}",
        after + (jump - 1) * (after - before[side]),
        FORCE,
        engine=solution.demand.tension[i, spot.bound, side],
        rounding="up",
        note=_JUMP,
        clause=_LOST,
    )
    return found


def _roll_arm(sheet: Sheet, body: Body) -> None:
    place = body.place
    if "r" not in place:
        place["r"] = sheet.find(
            "Arm of the left line in roll", "r", place["u_z"] * place["y_H"] - place["u_y"] * place["z_H"], LENGTH
        )


def _grip(sheet: Sheet, spot: Spot, *, body: Body) -> None:
    """What a pound of difference between the lines does to the difference between the rails."""
    place = body.place
    h = 2 * place["y_H"]
    full = place["d"] * h
    left = full - 2 * place["s_H"] * place["n_H"] * place["u_y"]
    whole = sheet.value(full)  # negative where the lines pull from below the hinge
    held = sheet.value(left) * whole < LEAST_GRIP * whole**2
    note = "Unlike lines pull the box aside at the height of the hangers, and that couple rolls it."
    if askew.askew(spot) is not None:
        left = askew.grip(sheet, spot, body=body)
        held = sheet.value(left) * whole < LEAST_GRIP * whole**2
    if held:
        left = LEAST_GRIP * full
        note = "Held to a twentieth of d h: the side pull of the splayed lines would leave less."
    place["k"] = sheet.find("Grip of unlike lines on the rails", "k", left, AREA, note=note, clause=_BALANCE)


def _hinge(sheet: Sheet, spot: Spot, *, body: Body, equations: Equations) -> None:
    """Hinge forces from what is left of the six equations."""
    solution, i, place = spot.whole, spot.index, body.place
    held = solution.demand if body.factored else solution.held
    _roll_arm(sheet, body)
    place["q"] = sheet.find(
        "Arm of the left line in yaw", "q", place["u_y"] * place["x_H"] - place["u_x"] * place["y_H"], LENGTH
    )
    solved = equations.hinge()
    if "M_o" in place:
        solved = {one: put(value, {named("M_x"): named("M_x") + place["M_o"]}) for one, value in solved.items()}
    lines = (named("T_L"), named("T_R"))
    found = []
    for side, letter in enumerate(_LETTERS):
        pair = []
        for k, (axis, words) in enumerate((("X", "fore and aft"), ("Z", "upward"))):
            name, heading = f"{axis}_{letter}", f"Hinge force on the box, {SIDES[side]} group, {words}"
            told = {
                "engine": held.hinge[i, spot.bound, side, 2 * k],
                "against": float(abs(held.hinge[i, spot.bound]).max()),
                "clause": _BALANCE,
            }
            if not body.parted:
                pair.append(sheet.find(heading, name, solved[name], FORCE, **told))
                continue
            after = sheet.find(
                f"{heading}, one line gone and at rest",
                f"{name}a",
                put(solved[name], dict(zip(lines, body.after, strict=True))),
                FORCE,
            )
            if spot.bound_key in SHARED:
                words = f"{heading}, as a backup takes over"
                pair.append(sheet.find(words, name, place["j"] * after, FORCE, **{**told, "clause": _PIVOT}))
                continue
            before = sheet.find(
                f"{heading}, before", f"{name}b", put(solved[name], dict(zip(lines, body.before, strict=True))), FORCE
            )
            pair.append(
                sheet.find(
                    f"{heading}, first peak",
                    name,
                    after + (place["j"] - 1) * (after - before),
                    FORCE,
                    **{**told, "note": _JUMP, "clause": _LOST},
                )
            )
        found.append((pair[0], pair[1]))
    body.hinge = (found[0], found[1])
