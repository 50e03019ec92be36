"""What people type, where it has one meaning only, is read as the plain form beside it; the rest is refused by name."""

import pytest

from rigcheck.quantities import QuantityError, read

SAME = [
    ("2,000 lb", "2000 lb", "force"), ("12,345.5 lb", "12345.5 lb", "force"),
    ("1,234,567 psi", "1234567 psi", "stress"),
    ("2200 lbs.", "2200 lb", "force"), ("93in.", "93 in", "length"), ("14ga.", "14 ga", "thickness"),
    ("ga 14", "14 ga", "thickness"), ("#14 ga", "14 ga", "thickness"), ("14 gage", "14 ga", "thickness"),
    ("31½ in", "31 1/2 in", "length"), ("½ in", "1/2 in", "length"), ("7 ft 9½ in", "7 ft 9 1/2 in", "length"),
    ("7' - 9 1/2\"", "7 ft 9 1/2 in", "length"), ("7 ft, 9 in", "7 ft 9 in", "length"),
    ("7 ft. 9 in.", "7 ft 9 in", "length"), ("7\u2019 9\u201d", "7 ft 9 in", "length"),
    ("7\u2032 9\u2033", "7 ft 9 in", "length"), ("93\u00a0in", "93 in", "length"),
    ("1\u20131/2 in", "1-1/2 in", "length"),
    ("\u22122 in", "-2 in", "length"),
]  # fmt: skip


@pytest.mark.parametrize(("typed", "plain", "dimension"), SAME, ids=[one for one, _, _ in SAME])
def test_what_people_type_is_read_as_the_plain_form(typed, plain, dimension):
    assert read(typed, dimension=dimension) == read(plain, dimension=dimension)


@pytest.mark.parametrize(
    ("typed", "write"), [("93,5 in", "93.5 in"), ("2,5 in", "2.5 in"), ("12,3456 in", "12.3456 in")]
)
def test_a_decimal_comma_is_refused_by_name_and_the_advice_reads(typed, write):
    with pytest.raises(QuantityError, match="decimal comma") as caught:
        read(typed, dimension="length")
    assert caught.value.accepted == (write,)
    read(write, dimension="length")


@pytest.mark.parametrize("typed", ["2 T", "2T"])
def test_a_capital_t_is_never_taken_for_either(typed):
    with pytest.raises(QuantityError, match="ton or a tonne"):
        read(typed, dimension="force")


@pytest.mark.parametrize(
    ("typed", "dimension"),
    [("2,00 lb x", "force"), ("1,2,3 in", "length"), ("20,00,000 lb", "force"), ("# 14", "thickness"),
     ("14 #", "force"), ("7 ft, 19 in", "length"), ("7 - 9 in", "length"), ("half in", "length"),
     ("ga", "thickness")],
)  # fmt: skip
def test_what_may_mean_two_things_stays_refused(typed, dimension):
    with pytest.raises(QuantityError):
        read(typed, dimension=dimension)


ALSO = [
    ("36 IN", "36 in", "length"), ("36 Inches", "36 in", "length"), ("3FT", "3 ft", "length"),
    ("3 Ft 6 In", "3 ft 6 in", "length"), ("914 MM", "914 mm", "length"), ("12 GA", "12 ga", "thickness"),
    ("12 Ga.", "12 ga", "thickness"), ("2000 LB", "2000 lb", "force"), ("2,000 POUNDS", "2000 lb", "force"),
    ("2 kips", "2 kip", "force"), ("1 TON", "1 ton", "force"), ("10 KN", "10 kN", "force"),
    ("36 KSI", "36 ksi", "stress"),
    ("45 degrees", "45 deg", "angle"), ("8 percent", "8 %", "fraction"), ("220 GPM", "220 gpm", "flow"),
    ("220 gal/min", "220 gpm", "flow"), ("1 1/2 in per ft", "1 1/2 in/ft", "pitch"),
    ('1 1/2"/ft', "1 1/2 in/ft", "pitch"),
    ("125 lb/cu ft", "125 lb/ft3", "density"), ("125 lb/ft^3", "125 lb/ft3", "density"),
    ("125 lb per cubic foot", "125 lb/ft3", "density"), ("4 cubic yards per hour", "4 yd3/h", "feed"),
    ("4 yd3/hr", "4 yd3/h", "feed"), ("75 MPH", "75 mph", "speed"), ("1.4 lb/sq ft", "1.4 lb/ft2", "area load"),
]  # fmt: skip


@pytest.mark.parametrize(("typed", "plain", "dimension"), ALSO, ids=[one for one, _, _ in ALSO])
def test_capitals_and_words_of_units_are_read(typed, plain, dimension):
    assert read(typed, dimension=dimension) == read(plain, dimension=dimension)


@pytest.mark.parametrize(("typed", "dimension"), [("250 mpa", "stress"), ("250 MPA", "stress"), ("1 M", "length")])
def test_a_unit_whose_capitals_tell_it_from_another_is_not_guessed_at(typed, dimension):
    with pytest.raises(QuantityError, match="spelled"):
        read(typed, dimension=dimension)
