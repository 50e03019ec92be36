"""Every unit that a case may be written in has the size that NIST SP 811, table B.8, gives it (from memory, in SI).

A kilogram and a tonne are weights here, at 9.80665 m/s2. The sizes are told in m, N, Pa, N m, N/m, N/m3, m3/s, m/s.
"""

import pytest

from rigcheck.quantities import read
from rigcheck.quantities.units import INSIDE, UNITS

G, POUND, INCH = 9.80665, 4.4482216152605, 0.0254
LENGTHS = {'in inch inches " \u2033': INCH, "ft foot feet ' \u2032": 0.3048, "mm": 1e-3, "cm": 1e-2, "m": 1.0}
PRESSURES = {"psi lb/in2": 6894.757293168, "lb/ft2 psf": 47.88025898, "Pa": 1.0, "kPa": 1e3, "MPa": 1e6}
FLOWS = {
    "in3/s": 1.6387064e-5, "gpm US_gpm": 6.309019640e-5, "imp_gpm": 4.54609e-3 / 60.0, "cfs ft3/s": 2.8316846592e-2,
    "ft3/min cfm": 4.719474432e-4, "ft3/h": 7.86579072e-6, "yd3/h": 0.764554857984 / 3600.0, "L/s": 1e-3,
    "L/min": 1e-3 / 60.0, "m3/s": 1.0, "m3/h": 1.0 / 3600.0,
}  # fmt: skip
SIZES = {
    "length": LENGTHS,
    "thickness": LENGTHS,
    "area": {"in2": 6.4516e-4, "ft2": 9.290304e-2, "mm2": 1e-6, "cm2": 1e-4, "m2": 1.0},
    "force": {
        "lb lbf lbs": POUND, "kip": 4448.2216152605, "ton tons short_ton short_tons": 8896.443230521,
        "N": 1.0, "kN": 1e3, "kg kgf": G, "t tonne tonnes": 9806.65,
    },
    "moment": {
        "lbf*in lb*in lb-in in-lb": 0.1129848290276, "lbf*ft lb*ft lb-ft ft-lb": 1.3558179483314,
        "kip*in": 112.9848290276, "kip*ft": 1355.8179483314, "N*m": 1.0, "kN*m": 1e3,
    },
    "stress": {**PRESSURES, "ksi": 6.894757293168e6, "N/mm2": 1e6, "GPa": 1e9},
    "area load": {**PRESSURES, "kg/m2": G, "kN/m2": 1e3, "N/m2": 1.0},
    "linear weight": {"lbf/in lb/in": 175.1268352, "lb/ft lbf/ft plf": 14.59390294, "kg/m": G, "N/m": 1.0, "kN/m": 1e3},
    "stiffness": {
        "lbf/in lb/in": 175.1268352, "kip/in": 175126.8352, "lb/ft": 14.59390294, "N/mm kN/m": 1e3, "kN/mm": 1e6,
        "N/m": 1.0,
    },
    "density": {
        "lbf/in3 lb/in3": 27679.90471 * G, "lb/ft3 pcf": 16.01846337 * G, "lb/yd3": 0.5932764213 * G, "kg/m3": G,
        "t/m3": 9806.65, "kN/m3": 1e3,
    },
    "flow": FLOWS,
    "feed": FLOWS,
    "speed": {"in/s": INCH, "ft/s": 0.3048, "mph": 0.44704, "m/s": 1.0, "km/h": 1.0 / 3.6},
}  # fmt: skip


@pytest.mark.parametrize("dimension", SIZES)
def test_each_unit_has_its_published_size(dimension: str) -> None:
    sizes = {one.replace("_", " "): size for names, size in SIZES[dimension].items() for one in names.split(" ")}
    assert sizes.keys() == UNITS[dimension].keys()
    inside = sizes[INSIDE[dimension]]
    for unit, size in sizes.items():
        assert read(f"3 {unit}", dimension=dimension) == pytest.approx(3.0 * size / inside, rel=1e-8), unit


def test_the_other_units() -> None:
    assert UNITS.keys() == {*SIZES, "fraction"}
    assert read("7 %", dimension="fraction") == 0.07
    # slopes: 1 1/2 in/ft and 12.5 % are 1 in 8, 7.125 degrees
    for text in ("1 1/2 in/ft", "125 mm/m", "12.5 %"):
        assert read(text, dimension="pitch") == pytest.approx(0.12435499, rel=1e-7)
