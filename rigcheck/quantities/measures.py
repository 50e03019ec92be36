"""What a number measures, as powers of force and length: forces, lengths, moments, stresses, bare numbers, angles."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Measure:
    """A quantity as powers of force and length.

    Attributes:
        force: Power of force.
        length: Power of length.
        angle: True for an angle, shown in degrees.
    """

    force: float = 0
    length: float = 0
    angle: bool = False


NUMBER = Measure()
ANGLE = Measure(angle=True)
LENGTH, AREA, MODULUS, INERTIA = (Measure(0, power) for power in (1, 2, 3, 4))
FORCE, MOMENT, TWIST = (Measure(1, power) for power in (0, 1, 2))
PER_LENGTH, STRESS = Measure(1, -1), Measure(1, -2)
RIGIDITY = Measure(1, 2)
