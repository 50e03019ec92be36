"""Units and their exact factors to inch, pound-force, psi, radian and second.

Source of the factors: international yard and pound (1 in = 25.4 mm, 1 lb = 0.45359237 kg), standard
gravity 9.80665 m/s2, US gallon = 231 in3, imperial gallon = 4.54609 L; all exact by definition.
"""

from collections.abc import Mapping
from fractions import Fraction
from typing import Literal, get_args

Dimension = Literal[
    "length",
    "thickness",
    "area",
    "angle",
    "pitch",
    "force",
    "moment",
    "stress",
    "area load",
    "linear weight",
    "stiffness",
    "density",
    "flow",
    "feed",
    "speed",
    "fraction",
    "number",
]
System = Literal["us", "si"]
Rounding = Literal["nearest", "up", "down"]

DIMENSIONS: tuple[Dimension, ...] = get_args(Dimension)

_MM = Fraction(5, 127)  # inch
_M = 1000 * _MM
_N = Fraction(10**13, 44482216152605)  # pound-force
_KG = Fraction(10**8, 45359237)  # pound-force, the weight of 1 kg under standard gravity
_LITRE = _M**3 / 1000
_US_GALLON = Fraction(231)
_IMPERIAL_GALLON = Fraction("4.54609") * _LITRE
_FT = Fraction(12)
_YD = Fraction(36)
_HOUR = Fraction(3600)

_LENGTH: dict[str, Fraction] = {
    "in": Fraction(1), "inch": Fraction(1), "inches": Fraction(1), '"': Fraction(1), "\u2033": Fraction(1),
    "ft": _FT, "foot": _FT, "feet": _FT, "'": _FT, "\u2032": _FT,
    "mm": _MM, "cm": 10 * _MM, "m": _M,
}  # fmt: skip
_FORCE: dict[str, Fraction] = {
    "lb": Fraction(1), "lbf": Fraction(1), "lbs": Fraction(1), "kip": Fraction(1000),
    "ton": Fraction(2000), "tons": Fraction(2000), "short ton": Fraction(2000), "short tons": Fraction(2000),
    "N": _N, "kN": 1000 * _N, "kg": _KG, "kgf": _KG, "t": 1000 * _KG, "tonne": 1000 * _KG, "tonnes": 1000 * _KG,
}  # fmt: skip
_PRESSURE: dict[str, Fraction] = {
    "psi": Fraction(1), "lb/in2": Fraction(1), "lb/ft2": 1 / _FT**2, "psf": 1 / _FT**2,
    "Pa": _N / _M**2, "kPa": 1000 * _N / _M**2, "MPa": _N / _MM**2,
}  # fmt: skip
_VOLUME_RATE: dict[str, Fraction] = {
    "in3/s": Fraction(1), "gpm": _US_GALLON / 60, "US gpm": _US_GALLON / 60, "imp gpm": _IMPERIAL_GALLON / 60,
    "cfs": _FT**3, "ft3/s": _FT**3, "ft3/min": _FT**3 / 60, "cfm": _FT**3 / 60, "ft3/h": _FT**3 / _HOUR,
    "yd3/h": _YD**3 / _HOUR, "L/s": _LITRE, "L/min": _LITRE / 60, "m3/s": _M**3, "m3/h": _M**3 / _HOUR,
}  # fmt: skip

UNITS: dict[str, Mapping[str, Fraction]] = {
    "length": _LENGTH,
    "thickness": _LENGTH,
    "area": {"in2": Fraction(1), "ft2": _FT**2, "mm2": _MM**2, "cm2": 100 * _MM**2, "m2": _M**2},
    "force": _FORCE,
    "moment": {
        "lbf*in": Fraction(1), "lb*in": Fraction(1), "lb-in": Fraction(1), "in-lb": Fraction(1),
        "lbf*ft": _FT, "lb*ft": _FT, "lb-ft": _FT, "ft-lb": _FT, "kip*in": Fraction(1000), "kip*ft": 1000 * _FT,
        "N*m": _N * _M, "kN*m": 1000 * _N * _M,
    },
    "stress": {**_PRESSURE, "ksi": Fraction(1000), "N/mm2": _N / _MM**2, "GPa": 1000 * _N / _MM**2},
    "area load": {**_PRESSURE, "kg/m2": _KG / _M**2, "kN/m2": 1000 * _N / _M**2, "N/m2": _N / _M**2},
    "linear weight": {
        "lbf/in": Fraction(1), "lb/in": Fraction(1), "lb/ft": 1 / _FT, "lbf/ft": 1 / _FT, "plf": 1 / _FT,
        "kg/m": _KG / _M, "N/m": _N / _M, "kN/m": 1000 * _N / _M,
    },
    "stiffness": {
        "lbf/in": Fraction(1), "lb/in": Fraction(1), "kip/in": Fraction(1000), "lb/ft": 1 / _FT,
        "N/mm": _N / _MM, "kN/mm": 1000 * _N / _MM, "kN/m": 1000 * _N / _M, "N/m": _N / _M,
    },
    "density": {
        "lbf/in3": Fraction(1), "lb/in3": Fraction(1), "lb/ft3": 1 / _FT**3, "pcf": 1 / _FT**3, "lb/yd3": 1 / _YD**3,
        "kg/m3": _KG / _M**3, "t/m3": 1000 * _KG / _M**3, "kN/m3": 1000 * _N / _M**3,
    },
    "flow": _VOLUME_RATE,
    "feed": _VOLUME_RATE,
    "speed": {
        "in/s": Fraction(1), "ft/s": _FT, "mph": 5280 * _FT / _HOUR, "m/s": _M, "km/h": 1000 * _M / _HOUR,
    },
    "fraction": {"%": Fraction(1, 100)},
}  # fmt: skip

SLOPES: dict[str, Fraction] = {"in/ft": 1 / _FT, "mm/m": Fraction(1, 1000), "%": Fraction(1, 100)}


class Bare(str):
    """A form that stands in a file as it is, without quotes: a number, true, a list, a whole line."""

    __slots__ = ()


ACCEPTED: dict[str, tuple[str, ...]] = {
    "length": ("8 ft", "6 ft 8 in", "1 1/2 in", "2440 mm"),
    "thickness": ("14 ga", "3/16 in", "0.0747 in", "1.9 mm"),
    "area": ("0.05 in2", "32 mm2"),
    "angle": ("30 deg", "0.5 rad"),
    "pitch": ("1 1/2 in/ft", "7 deg", "125 mm/m", "12 %"),
    "force": ("1500 lb", "3/4 ton", "2 kN", "110 kg"),
    "moment": ("500 lb*ft", "6000 lb*in", "0.7 kN*m"),
    "stress": ("36 ksi", "13000000 psi", "250 MPa"),
    "area load": ("1.4 lb/ft2", "7 kg/m2", "0.07 kPa"),
    "linear weight": ("1.5 lb/ft", "2.2 kg/m"),
    "stiffness": ("12500 lb/in", "2200 kN/m"),
    "density": ("125 lb/ft3", "2000 kg/m3"),
    "flow": ("220 gpm", "14 L/s", "50 m3/h"),
    "feed": ("4 yd3/h", "3 m3/h"),
    "speed": ("75 mph", "120 km/h"),
    "fraction": ("8 %",),
    "number": (Bare("2"), Bare("0.035")),
}

# what a number is shown in: dimension -> (US unit, SI unit)
SHOWN: dict[str, tuple[str, str]] = {
    "length": ("in", "mm"),
    "thickness": ("in", "mm"),
    "area": ("in2", "mm2"),
    "angle": ("deg", "deg"),
    "pitch": ("in/ft", "mm/m"),
    "force": ("lbf", "N"),
    "moment": ("lbf*in", "N*m"),
    "stress": ("psi", "MPa"),
    "area load": ("lb/ft2", "kPa"),
    "linear weight": ("lb/ft", "N/m"),
    "stiffness": ("lbf/in", "N/mm"),
    "density": ("lb/ft3", "kg/m3"),
    "flow": ("gpm", "L/s"),
    "feed": ("yd3/h", "m3/h"),
    "speed": ("mph", "km/h"),
    "fraction": ("%", "%"),
    "number": ("", ""),
}
SPOKEN = {"lbf": "lb", "lbf*in": "lb*in", "lbf/in": "lb/in"}
LARGER = {"N": "kN", "N*m": "kN*m"}  # from 1000 up

# what `exact` writes: the inside unit of each dimension
INSIDE: dict[str, str] = {
    "length": "in", "thickness": "in", "area": "in2", "angle": "rad", "pitch": "rad", "force": "lbf",
    "moment": "lbf*in", "stress": "psi", "area load": "psi", "linear weight": "lbf/in", "stiffness": "lbf/in",
    "density": "lbf/in3", "flow": "in3/s", "feed": "in3/s", "speed": "in/s",
}  # fmt: skip


def accepted_forms(dimension: Dimension) -> tuple[str, ...]:
    """Examples of what `read` takes for a dimension."""
    return ACCEPTED[dimension]


def accepted_units(dimension: Dimension) -> tuple[str, ...]:
    """Every unit spelling that `read` takes for a dimension."""
    if dimension == "angle":
        return ("deg", "\u00b0", "rad")
    if dimension == "pitch":
        return (*SLOPES, "deg", "\u00b0", "rad")
    extra = ("ga", "gauge") if dimension == "thickness" else ()
    return (*UNITS.get(dimension, {}), *extra)
