"""Frame connections beyond the printed examples, and lugs on every basis."""

from dataclasses import replace

import numpy as np
import pytest

from rigcheck.strength.bases import BASES, FRAME, LIFTING, ULTIMATE
from rigcheck.strength.connections import bth1, lugs
from rigcheck.strength.connections import pinned_plates as connections

PLATE = bth1.PinPlate(
    thickness=0.5, width=4.25, edge=2.766, hole=1.03125, pin=1.0, edge_radius=0.0, fy=50.0e3, fu=65.0e3
)


def test_loose_pins():
    def strength(pin):
        return connections.pin_connected(replace(PLATE, hole=1.0625, pin=pin), basis=ULTIMATE)

    beyond = 2.766 - 0.53125
    # 1/32 in: nothing off; 1/16 in: 0.95 on the shear; looser: the lifting factor, on both
    assert strength(1.03125).shear == pytest.approx(0.6 * 65.0e3 * (beyond + 0.515625))
    assert strength(1.0).shear == pytest.approx(0.95 * 0.6 * 65.0e3 * (beyond + 0.5))
    assert strength(1.0).tension == strength(1.03125).tension == pytest.approx(65.0e3 * (1.0625 + 0.53125))
    factor = 1.0 - 0.275 * np.sqrt(1.0 - (0.8 / 1.0625) ** 2)
    assert strength(0.8).shear == pytest.approx(factor * 0.6 * 65.0e3 * (beyond + 0.4))
    assert strength(0.8).tension == pytest.approx(factor * strength(1.0).tension)
    assert strength(0.99).shear == pytest.approx(0.95 * 0.6 * 65.0e3 * (beyond + 0.495))
    assert (strength(1.03125).within_limits, strength(1.0).within_limits) == (1.0, 0.0)
    # just over each step of the fit
    assert strength(1.03115).shear == pytest.approx(0.95 * 0.6 * 65.0e3 * (beyond + 1.03115 / 2.0))
    assert strength(0.9996).tension < 0.96 * strength(1.0).tension


def test_working_width():
    wide = connections.pin_connected(replace(PLATE, width=9.0), basis=FRAME)
    assert wide.effective_width == pytest.approx(2.0 * 0.5 + 0.63)


def test_proportions():
    assert connections.pin_connected(PLATE, basis=FRAME).within_limits == 1.0
    working = 1.609375
    edge = 1.33 * working + 0.515625
    assert connections.pin_connected(replace(PLATE, edge=edge), basis=FRAME).within_limits == 1.0
    assert connections.pin_connected(replace(PLATE, edge=edge - 0.01), basis=FRAME).within_limits == 0.0
    thick = replace(PLATE, width=4.25, thickness=0.49)
    assert connections.pin_connected(thick, basis=FRAME).within_limits == 1.0
    # w >= 2 be + d fails where all of the width beside a loose hole is counted; here the fit rules already
    assert connections.pin_connected(replace(PLATE, pin=0.9), basis=FRAME).within_limits == 0.0


@pytest.mark.parametrize("basis", BASES.values(), ids=BASES)
def test_a_lug_takes_the_clauses_of_its_basis(basis):
    found = lugs.lug_strength(PLATE, basis=basis)
    lifting = bth1.pin_plate(PLATE, basis=basis)
    assert found.splitting == lifting.splitting
    assert found.capacity == min(found.tension, found.splitting, found.shear, found.bearing)
    if basis is LIFTING:
        assert (found.tension, found.shear, found.bearing) == (
            lifting.tension,
            lifting.double_shear,
            lifting.bearing,
        )
    else:
        frame = connections.pin_connected(PLATE, basis=basis)
        assert (found.shear, found.bearing) == (frame.shear, frame.bearing)
        assert found.tension == min(frame.tension, frame.gross)
    assert found.within_limits == 1.0


def test_plates_bent_both_ways():
    flat = lugs.flat_plate_moment(0.375, width=2.0, fy=36.0e3, basis=FRAME)
    assert flat == pytest.approx(36.0e3 * 2.0 * 0.375**2 / 4.0 / 1.67)
    lifting = lugs.flat_plate_moment(0.375, width=2.0, fy=36.0e3, basis=LIFTING)
    assert lifting == pytest.approx(1.25 * 12.0e3 * 2.0 * 0.375**2 / 6.0)
    upright = lugs.upright_plate_moment(0.375, depth=2.0, fy=36.0e3, basis=LIFTING, length=1.0)
    assert upright == pytest.approx(1.10 * 12.0e3 * 0.375 * 4.0 / 6.0)
    rolls = lugs.upright_plate_moment(0.05, depth=2.0, fy=36.0e3, basis=FRAME, length=30.0)
    assert rolls < 0.2 * lugs.upright_plate_moment(0.05, depth=2.0, fy=36.0e3, basis=FRAME, length=0.0)
    # wider than tall: the same plate on the flat
    narrow = lugs.flat_plate_moment(2.0, width=0.05, fy=36.0e3, basis=FRAME)
    assert narrow == pytest.approx(36.0e3 * 0.05 * 4.0 / 4.0 / 1.67)
