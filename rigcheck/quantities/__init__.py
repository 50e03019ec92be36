"""Text with units to inch, pound-force, psi, radian and second, and back; the only room that knows a factor."""

from rigcheck.quantities.reading import QuantityError, one_of, read
from rigcheck.quantities.units import DIMENSIONS, Bare, Dimension, Rounding, System, accepted_forms, accepted_units
from rigcheck.quantities.writing import convert, exact, plain_text, tape, write

__all__ = [
    "DIMENSIONS",
    "Bare",
    "Dimension",
    "QuantityError",
    "Rounding",
    "System",
    "accepted_forms",
    "accepted_units",
    "convert",
    "exact",
    "one_of",
    "plain_text",
    "read",
    "tape",
    "write",
]
