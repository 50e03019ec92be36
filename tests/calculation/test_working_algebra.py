"""The pieces of algebra by themselves: against closed forms and the engine's functions, and how they are written."""

import math
from xml.etree import ElementTree

import numpy as np
import pytest
import sympy

from rigcheck.calculation import writing
from rigcheck.calculation.measures import Units
from rigcheck.calculation.pin import _pin_moment
from rigcheck.calculation.post_forces import redundant, sway
from rigcheck.calculation.rail_loads import _integrals
from rigcheck.calculation.sharing import lever_rule, named, share_of, six_equations
from rigcheck.calculation.sheet import DisagreementError, Sheet
from rigcheck.calculation.weld import _worst_direction
from rigcheck.calculation.weld_line import line_properties
from rigcheck.quantities.measures import FORCE, LENGTH, MOMENT, NUMBER, STRESS
from rigcheck.statics.post import Post, brace_pull
from rigcheck.strength.connections.weld_lines import rectangle, ring, two_verticals


def same(one, other) -> bool:
    return sympy.simplify(one - other) == 0


def test_pitch_is_the_moment_of_the_loads_against_both_lines():
    pitch = six_equations().sums[4]
    assert same(pitch, named("M_y") - named("d") * (named("T_L") + named("T_R")))


def test_stiff_box_shares_alike_and_one_line_carries_all():
    left, right = six_equations().tensions(share_of("stiff").expression)
    assert same(left, named("M_y") / (2 * named("d"))) and same(left, right)
    left, right = six_equations().tensions(share_of("right").expression)
    assert left == 0 and same(right, named("M_y") / named("d"))


def test_hinge_forces_put_back_into_the_equations_leave_nothing():
    equations = six_equations()
    found = {named(name): value for name, value in equations.hinge().items()} | {named("Y"): equations.thrust()}
    for place in (0, 1, 2, 3, 5):
        assert sympy.simplify(equations.sums[place].subs(found)) == 0


def test_lever_rule_takes_a_load_on_the_left_rail_wholly_there():
    rule, _ = lever_rule()
    there = rule.subs({named("y"): named("b") / 2, named("g_y"): 0, named("g_s"): 0})
    assert same(there, -named("W") * named("s") * named("g_n"))


def test_pin_moment_is_the_integral_of_an_even_pull():
    p, outer, gap, inner = (named(name) for name in ("P_b", "t_o", "g", "t_i"))
    assert same(_pin_moment(), p / 2 * (outer / 2 + gap + inner / 4))


@pytest.mark.parametrize(
    ("kind", "group"),
    [("two uprights", two_verticals(1.7, depth=3.1)), ("rectangle", rectangle(1.7, depth=3.1)), ("ring", ring(3.1))],
)
def test_weld_properties_by_integration_are_those_of_the_engine(kind, group):
    values = {named("b_w"): 1.7, named("d_w"): 3.1}
    found = [float(sympy.sympify(one).subs(values)) for one in line_properties(kind)]
    assert found == pytest.approx([float(group.length), float(group.ix), float(group.iy)], rel=1e-12)


def test_worst_direction_of_a_barrel_weld_is_the_golden_ratio():
    worst, over_angles = _worst_direction()
    assert float(worst) == pytest.approx((1.0 + math.sqrt(5.0)) / 2.0, rel=1e-14)
    angle = next(iter(over_angles.free_symbols))
    swept = sympy.lambdify(angle, over_angles, "numpy")(np.linspace(0.0, np.pi, 100_001))
    assert float(swept.max()) == pytest.approx(float(worst), rel=1e-8)


def test_knee_brace_is_that_of_the_engine():
    at_lug, at_joint, at_top = sway()
    length, joint = named("L"), named("h")
    assert same(at_lug, joint**2 * (3 * length - joint) / 6) and same(at_joint, joint**3 / 3)
    assert same(at_top, joint**2 / 2)
    values = {"L": 48.0, "h": 37.0, "EI": 9.0e7, "EA": 6.0e7, "e_x": 0.6, "e_z": -0.8, "k_b": 4.0e5,
              "Q_x": 811.0, "Q_z": -530.0, "rho": 2.9}  # fmt: skip
    post = Post(
        length=np.asarray(48.0), fore=np.asarray(9.0e7), across=np.asarray(5.0e7), axial=np.asarray(6.0e7),
        twist=np.asarray(4.0e7), offset=np.asarray(0.0), joint=np.asarray(37.0), lean=np.asarray(0.6),
        drop=np.asarray(-0.8), brace=np.asarray(4.0e5), reach=np.asarray(2.9),
    )  # fmt: skip
    told = float(brace_pull(post, force=np.array([811.0, 0.0, -530.0])))
    found = redundant()[0].subs({named(name): value for name, value in values.items()})
    assert float(found) == pytest.approx(told, rel=1e-12)


def test_strip_that_grows_along_the_floor():
    weight, turned, _ = _integrals("linear")
    values = {"o": 3.0, "e": 11.0, "x": 11.0, "w": 2.0, "w_d": 0.5, "n": 1.0, "n_d": 0.1, "n_0": 4.0}
    numbers = {named(name): value for name, value in values.items()}
    assert float(weight.subs(numbers)) == pytest.approx(2.0 * 8.0 + 0.5 * 32.0)
    assert float(turned.subs(numbers)) == pytest.approx(2.0 * 32.0 + 0.5 * 8.0**3 / 6.0)


def test_text_puts_what_is_added_first_and_holds_negative_numbers_in_brackets():
    a, b = named("x_H"), named("z_H")
    expression = -a * b + sympy.sqrt(a) * sympy.cos(b)
    assert writing.text(expression) == "sqrt(x_H)*cos(z_H) - x_H*z_H"
    assert writing.text(expression, numbers={a: "4", b: "-7.5 deg"}) == "sqrt(4)*cos(-7.5 deg) - 4*(-7.5 deg)"
    assert writing.text(sympy.Min(a, b**2)) == "min(x_H, z_H^2)"
    assert writing.text(sympy.Abs(a), numbers={a: "-2"}) == "|(-2)|"


def test_markup_is_whole_mathml():
    stress = named("N") / named("A") - sympy.pi * named("M") ** 2
    found = writing.formula(named("sigma_t"), stress, numbers={named("M"): "-3"})
    tree = ElementTree.fromstring(found.mathml)
    assert tree.tag == "{http://www.w3.org/1998/Math/MathML}math"
    texts = "".join(tree.itertext())
    assert "\N{GREEK SMALL LETTER SIGMA}" in texts and "(-3)" in texts and "=" in texts


@pytest.mark.parametrize("factor", [1.0 + 1.2e-9, 1.0 - 1.2e-9])
def test_a_result_a_billionth_off_is_refused(factor):
    sheet = Sheet(Units())
    load = sheet.given("P", 800.0, FORCE, "load")
    arm = sheet.given("a", 12.5, LENGTH, "arm")
    sheet.find("Moment", "M", load * arm, MOMENT, engine=10000.0 * (1.0 + 5e-10))
    with pytest.raises(DisagreementError, match="Moment"):
        sheet.find("Moment", "M", load * arm, MOMENT, engine=10000.0 * factor)


def test_a_step_tells_symbols_numbers_and_answer():
    sheet = Sheet(Units("si"))
    load, arm = sheet.given("P", 800.0, FORCE, "load"), sheet.given("a", 12.5, LENGTH, "arm")
    sheet.find("Moment", "M", load * arm, MOMENT, rounding="up", clause="statics")
    (step,) = sheet.steps
    assert [(term.symbol.text, term.meaning, term.value) for term in step.terms] == [
        ("P", "load", "3,558.58 N"),
        ("a", "arm", "317.5 mm"),
    ]
    assert (step.equation.text, step.numbers.text) == ("M = P*a", "M = 3558.58*317.5")
    assert step.unit == "N*mm" and step.answer == "1,129,850 N*mm"
    assert step.result == pytest.approx(10000.0 * 25.4 * 4.4482216152605, rel=1e-14)


def test_what_was_shown_before_is_only_recalled():
    sheet = Sheet(Units())
    with sheet.silence():
        load = sheet.given("P", 800.0, FORCE, "load")
        half = sheet.find("Half of it", "H", load / 2, FORCE)
    assert sheet.steps == []
    sheet.recall(half)
    sheet.find("Again", "G", half / 3, NUMBER)
    assert [term.symbol.text for term in sheet.steps[0].terms] == ["H"]


LABELS = [(STRESS, "psi", "MPa"), (MOMENT, "lbf*in", "N*mm"), (NUMBER, "", "")]


@pytest.mark.parametrize(("measure", "us", "si"), LABELS)
def test_units_are_a_set_without_factors(measure, us, si):
    assert (Units("us").label(measure), Units("si").label(measure)) == (us, si)
    force, length = (Units("si").factor(one) for one in (FORCE, LENGTH))
    assert Units("si").factor(measure) == pytest.approx(force**measure.force * length**measure.length, rel=1e-15)
