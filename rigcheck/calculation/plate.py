"""A plate that a pin pulls on: what it allows in every mode, as the check runs it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from rigcheck.calculation.run import Run
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.quantities.measures import FORCE, LENGTH, STRESS
from rigcheck.strength.bases import Basis
from rigcheck.strength.connections.bth1 import PinPlate
from rigcheck.strength.connections.lugs import lug_strength

MODES = {
    "tension": "tension beside the hole",
    "splitting": "single-plane fracture beyond the hole",
    "shear": "double-plane shear beyond the hole",
    "bearing": "bearing on the pin",
}
_SYMBOLS = {
    "thickness": ("t", LENGTH, "thickness"),
    "width": ("w", LENGTH, "width across the pull"),
    "edge": ("e", LENGTH, "hole center to the edge along the pull"),
    "hole": ("D_h", LENGTH, "hole"),
    "pin": ("D_p", LENGTH, "pin"),
    "edge_radius": ("r_e", LENGTH, "radius of the edge"),
    "fy": ("F_y", STRESS, "yield stress"),
    "fu": ("F_u", STRESS, "tensile strength"),
}


def plate_steps(sheet: Sheet, plate: PinPlate, *, basis: Basis, engine: Mapping[str, float]) -> dict[str, Symbol]:
    """Allowed pull in every mode.

    Args:
        sheet: Where it is written.
        plate: The plate.
        basis: Basis of allowable strength.
        engine: What the check has, by mode.

    Returns:
        Symbols by mode.
    """
    run = Run(sheet)
    told, divisors = run.record(PinPlate, plate, symbols=_SYMBOLS), run.basis(basis)

    def strength(mode: str) -> Callable[[], Any]:
        return lambda: getattr(lug_strength(told, basis=divisors), mode)

    return {
        mode: run.tell(strength(mode), f"P_{mode[:2]}", f"Allowed pull, {words}", FORCE, engine=engine.get(mode))
        for mode, words in MODES.items()
    }
