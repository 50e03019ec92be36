"""Text with units: the grammar, what it refuses, the way back, and every factor against another library."""

import math
import subprocess
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigcheck.quantities import (
    DIMENSIONS,
    Dimension,
    QuantityError,
    accepted_forms,
    accepted_units,
    convert,
    exact,
    plain_text,
    read,
    write,
)
from tests.support.strategies import FINITE, WITH_UNIT, feet_and_inches

LENGTHS = [
    ("6 ft 8 in", 80.0),
    ("1 1/2 in", 1.5),
    ("8'", 96.0),
    ("8' 6\"", 102.0),
    ("6'-8 1/2\"", 80.5),
    ('6"', 6.0),
    ("6\u2033", 6.0),
    ("8\u2032 6\u2033", 102.0),
    ("1-1/2 in", 1.5),
    ("3/8 in", 0.375),
    ("6 ft 8 1/2 in", 80.5),
    ("0 ft 0 in", 0.0),
    ("-9 in", -9.0),
    ("-1 1/2 in", -1.5),
    ("-1 ft 6 in", -18.0),
    ("2.54 cm", 1.0),
    ("2540 mm", 100.0),
    ("1.27 m", 50.0),
    (".5 in", 0.5),
    ("  5 in\t", 5.0),
    ("80in", 80.0),
    ("1e2 in", 100.0),
]
OTHERS: list[tuple[Dimension, str, float]] = [
    ("thickness", "14 ga", 0.0747),
    ("thickness", "10 gauge", 0.1345),
    ("thickness", "3/16 in", 0.1875),
    ("pitch", "12 in/ft", math.pi / 4),
    ("pitch", "100 %", math.pi / 4),
    ("pitch", "1000 mm/m", math.pi / 4),
    ("pitch", "45 deg", math.pi / 4),
    ("pitch", "1 1/2 in/ft", math.atan(0.125)),
    ("angle", "-90 deg", -math.pi / 2),
    ("force", "3/4 ton", 1500.0),
    ("force", "2 kip", 2000.0),
    ("force", "0.45359237 kg", 1.0),
    ("force", "4.4482216152605 N", 1.0),
    ("density", "172.8 lb/ft3", 0.1),
    ("density", "2700 lb/yd3", 2700.0 / 46656.0),
    ("flow", "60 gpm", 231.0),
    ("flow", "1 cfs", 1728.0),
    ("feed", "1 yd3/h", 46656.0 / 3600.0),
    ("speed", "60 mph", 1056.0),
    ("area load", "144 psf", 1.0),
    ("moment", "1 lb*ft", 12.0),
    ("stress", "36 ksi", 36000.0),
    ("fraction", "8 %", 0.08),
]
REFUSED = [
    ("8", "has no unit"),
    ("1 1/2", "has no unit"),
    ("0", "has no unit"),
    ("6 ft 14 in", "under 12"),
    ("3/0 in", "divides by zero"),
    ("1 0/0 in", "divides by zero"),
    ("1 3/2 in", "under 1"),
    ("1e400 in", "too large"),
    ("1e-900 in", "too small"),
    ("nan", "not a number"),
    ("nan in", "not a number"),
    ("inf in", "not a number"),
    ("", "empty"),
    ("   ", "empty"),
    ("\u0663 in", "not a number"),
    ("6 in 8 ft", "unit of length"),
    ("6 ft 8", "unit of length"),
    ("6 ft -8 in", "unit of length"),
    ("6 ft 8 in 2 in", "unit of length"),
    ("6.5 ft 2 in", "unit of length"),
    ("--5 in", "not a number"),
    ("+5 in", "not a number"),
    ("5 in\n", "not a number"),
    ("5 psi", "not a length"),
    ("5 M", 'spelled "m"'),
    ("5 furlong", "unit of length"),
    ("in", "not a number"),
    ("9" * 70 + " in", "longer than"),
]


@pytest.mark.parametrize(("text", "inches"), LENGTHS)
def test_lengths(text: str, inches: float) -> None:
    assert read(text, dimension="length") == inches


@pytest.mark.parametrize(("dimension", "text", "value"), OTHERS)
def test_other_dimensions(dimension: Dimension, text: str, value: float) -> None:
    assert read(text, dimension=dimension) == pytest.approx(value, rel=1e-15)


@pytest.mark.parametrize(("text", "why"), REFUSED)
def test_refused_lengths_say_why_and_what_to_write(text: str, why: str) -> None:
    with pytest.raises(QuantityError, match=why) as caught:
        read(text, dimension="length")
    assert '"6 ft 8 in"' in str(caught.value)


@pytest.mark.parametrize(
    "given_value", [8, 8.0, True, False, None, [8], {"ft": 8}, float("nan"), pytest.param(10**5000, id="huge")]
)
def test_only_text_is_a_quantity(given_value: object) -> None:
    with pytest.raises(QuantityError):
        read(given_value, dimension="length")


@pytest.mark.parametrize(
    "given_value", ["2", "2 in", True, None, float("nan"), float("inf"), pytest.param(10**5000, id="huge"), [2]]
)
def test_only_a_finite_number_is_a_number(given_value: object) -> None:
    with pytest.raises(QuantityError):
        read(given_value, dimension="number")


def test_a_number_needs_no_unit() -> None:
    assert read(2, dimension="number") == 2.0
    assert read(0.035, dimension="number") == 0.035


def test_bare_fraction_is_refused() -> None:
    with pytest.raises(QuantityError, match='"8 %"'):
        read("0.08", dimension="fraction")


@pytest.mark.parametrize("text", ["13 ga", "1/2 ga", "14.5 ga", "0 ga"])
def test_gauge_outside_the_table(text: str) -> None:
    with pytest.raises(QuantityError, match="gauge table"):
        read(text, dimension="thickness")


def test_gauge_is_a_thickness_only() -> None:
    with pytest.raises(QuantityError, match="not a length"):
        read("14 ga", dimension="length")


@given(feet_and_inches())
def test_feet_and_inches(pair: tuple[str, float]) -> None:
    text, inches = pair
    assert read(text, dimension="length") == inches


@given(st.sampled_from(DIMENSIONS), FINITE)
def test_exact_text_reads_back_to_the_same_float(dimension: Dimension, value: float) -> None:
    text = exact(value, dimension=dimension)
    assert read(value if dimension == "number" else text, dimension=dimension) == value


@given(
    st.sampled_from(WITH_UNIT),
    st.floats(1e-3, 1e5),
    st.sampled_from(["us", "si"]),
)
def test_short_text_reads_back_to_its_digits(dimension: Dimension, value: float, system: str) -> None:
    if dimension in ("angle", "pitch"):
        value = math.atan(value) * 0.99
    short = write(value, dimension=dimension, system=system, digits=6)  # type: ignore[arg-type]
    assert read(short, dimension=dimension) == pytest.approx(value, rel=1e-5)


@given(st.text(max_size=70), st.sampled_from(DIMENSIONS))
def test_any_text_is_read_or_refused(text: str, dimension: Dimension) -> None:
    try:
        value = read(text, dimension=dimension)
    except QuantityError as error:
        assert error.accepted == accepted_forms(dimension)
    else:
        assert math.isfinite(value)


@given(st.floats(-1e12, 1e12).filter(lambda x: abs(x) > 1e-9), st.integers(1, 8))
def test_demand_rounds_up_and_capacity_down(value: float, digits: int) -> None:
    slack = 1e-8 * abs(value)
    assert abs(float(plain_text(value, digits=digits, rounding="up"))) >= abs(value) - slack
    assert abs(float(plain_text(value, digits=digits, rounding="down"))) <= abs(value) + slack


@pytest.mark.parametrize(
    ("value", "options", "text"),
    [
        (96.0, {"dimension": "length"}, "96 in"),
        (96.0, {"dimension": "length", "system": "si"}, "2438 mm"),
        (1234.01, {"dimension": "force", "rounding": "up"}, "1235 lb"),
        (1234.99, {"dimension": "force", "rounding": "down"}, "1234 lb"),
        (1234.0, {"dimension": "force", "rounding": "up"}, "1234 lb"),
        (1000.0, {"dimension": "force", "system": "si"}, "4.448 kN"),
        (100.0, {"dimension": "force", "system": "si"}, "444.8 N"),
        (0.08, {"dimension": "fraction"}, "8 %"),
        (math.radians(30), {"dimension": "angle"}, "30 deg"),
        (0.0, {"dimension": "length"}, "0 in"),
        (-0.0, {"dimension": "length"}, "0 in"),
        (2.5, {"dimension": "number"}, "2.5"),
        (1e-9, {"dimension": "length", "digits": 1}, "0.000000001 in"),
    ],
)
def test_short_text(value: float, options: dict[str, object], text: str) -> None:
    assert write(value, **options) == text  # type: ignore[arg-type]


def test_converted_unit_never_depends_on_size() -> None:
    assert convert(1.0, dimension="force", system="si")[1] == convert(1e6, dimension="force", system="si")[1] == "N"
    assert convert(12.5, dimension="stress") == (12.5, "psi")


@pytest.mark.parametrize("number", [math.nan, math.inf])
def test_what_is_not_finite_is_never_written(number: float) -> None:
    for writer in (write, exact):
        with pytest.raises(ValueError, match="finite"):
            writer(number, dimension="length")


@pytest.mark.parametrize("dimension", DIMENSIONS)
def test_the_accepted_forms_are_accepted(dimension: Dimension) -> None:
    for form in accepted_forms(dimension):
        assert math.isfinite(read(float(form) if dimension == "number" else form, dimension=dimension))


# The same unit in the spelling of pint; pint knows no pound of force by the name lb, so force is spelled out.
_PINT = {
    "in": "inch", '"': "inch", "\u2033": "inch", "'": "foot", "\u2032": "foot", "feet": "foot", "inches": "inch",
    "lb": "lbf", "lbs": "lbf", "ton": "2000 lbf", "tons": "2000 lbf", "short ton": "2000 lbf",
    "short tons": "2000 lbf", "kg": "kilogram_force", "kgf": "kilogram_force", "t": "1000 kilogram_force",
    "tonne": "1000 kilogram_force", "tonnes": "1000 kilogram_force", "kip": "1000 lbf",
    "psf": "lbf/foot**2", "lb/ft2": "lbf/foot**2", "lb/in2": "psi", "N/mm2": "N/mm**2", "kg/m2": "kilogram_force/m**2",
    "kN/m2": "kN/m**2", "N/m2": "N/m**2",
    "lbf*in": "lbf*inch", "lb*in": "lbf*inch", "lb-in": "lbf*inch", "in-lb": "lbf*inch", "lbf*ft": "lbf*foot",
    "lb*ft": "lbf*foot", "lb-ft": "lbf*foot", "ft-lb": "lbf*foot", "kip*in": "1000 lbf*inch", "kip*ft": "1000 lbf*foot",
    "lbf/in": "lbf/inch", "lb/in": "lbf/inch", "lb/ft": "lbf/foot", "lbf/ft": "lbf/foot", "plf": "lbf/foot",
    "kg/m": "kilogram_force/m", "kip/in": "1000 lbf/inch",
    "lbf/in3": "lbf/inch**3", "lb/in3": "lbf/inch**3", "lb/ft3": "lbf/foot**3", "pcf": "lbf/foot**3",
    "lb/yd3": "lbf/yard**3", "kg/m3": "kilogram_force/m**3", "t/m3": "1000 kilogram_force/m**3", "kN/m3": "kN/m**3",
    "in3/s": "inch**3/s", "gpm": "gallon/minute", "US gpm": "gallon/minute", "imp gpm": "imperial_gallon/minute",
    "cfs": "foot**3/s", "ft3/s": "foot**3/s", "ft3/min": "foot**3/minute", "cfm": "foot**3/minute",
    "ft3/h": "foot**3/hour", "yd3/h": "yard**3/hour", "L/s": "liter/s", "L/min": "liter/minute", "m3/s": "m**3/s",
    "m3/h": "m**3/hour", "in/s": "inch/s", "ft/s": "foot/s", "mph": "mile/hour", "km/h": "km/hour",
    "in2": "inch**2", "ft2": "foot**2", "mm2": "mm**2", "cm2": "cm**2", "m2": "m**2", "ft": "foot",
}  # fmt: skip
_INSIDE = {
    "length": "inch", "area": "inch**2", "force": "lbf", "moment": "lbf*inch", "stress": "psi", "area load": "psi",
    "linear weight": "lbf/inch", "stiffness": "lbf/inch", "density": "lbf/inch**3", "flow": "inch**3/s",
    "feed": "inch**3/s", "speed": "inch/s",
}  # fmt: skip


@pytest.mark.parametrize("dimension", sorted(_INSIDE))
def test_every_factor_against_pint(dimension: Dimension) -> None:
    pint = pytest.importorskip("pint")
    registry = pint.UnitRegistry()
    for unit in accepted_units(dimension):
        theirs = registry.Quantity(_PINT.get(unit, unit)).to(_INSIDE[dimension]).magnitude
        assert read(f"1 {unit}", dimension=dimension) == pytest.approx(theirs, rel=1e-12), unit


def test_reading_units_needs_no_numerics() -> None:
    code = "import sys, rigcheck.quantities; sys.exit('numpy' in sys.modules or 'tomllib' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
