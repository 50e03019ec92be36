"""Allowable stresses of the lifting basis; the standard was not at hand, these are its values from memory."""

from dataclasses import replace

import numpy as np

from rigcheck.strength.bases import LIFTING, Flexure, allowable_moment
from rigcheck.strength.connections import bth1, pins, welds
from rigcheck.strength.connections import pinned_plates as connections
from rigcheck.strength.members import compression, interaction
from rigcheck.strength.members import shapes as members
from tests.outside.values import check

KSI = 1000.0
PLATE = bth1.PinPlate(thickness=0.25, width=40.0, edge=9.0, hole=6.0, pin=6.0, edge_radius=0.0, fy=36.0e3, fu=58.0e3)


def _bar(area: float) -> members.Section:
    names = [name for name in members.Section.__dataclass_fields__ if name not in ("family", "area")]
    return members.Section(family=np.array(members.BAR), area=np.array(area), **dict.fromkeys(names, np.array(1.0)))


def test_allowable_stresses():
    bar = {"fy": 36.0e3, "fu": 58.0e3, "basis": LIFTING}
    check("bth1_tension", members.tension(_bar(1.0), **bar) / KSI)
    check("bth1_rupture", members.tension(_bar(2.0), **bar, net=0.5) / KSI)
    pin = pins.pin_strength(1.0, **bar)
    check("bth1_shear", pin.shear / (np.pi / 4.0) / KSI)
    check("bth1_solid", pin.moment / (np.pi / 32.0) / KSI)
    one = np.array(1.0)
    compact = Flexure(nominal=1.2 * 36.0e3 * one, yield_moment=36.0e3 * one, compact=one, solid=0.0 * one)
    check("bth1_compact", allowable_moment(compact, basis=LIFTING) / KSI)
    check("bth1_bearing", connections.pin_bearing(1.0, thickness=1.0, fy=36.0e3, basis=LIFTING) / KSI)
    joint = welds.Joint(leg=0.25, length=6.0, electrode=70.0e3, thickness=2.0, fy=36.0e3, fu=58.0e3)
    check("bth1_weld", welds.fillet_allowable(joint, basis=LIFTING) / (0.25 / np.sqrt(2.0)) / KSI)


def test_plate_on_a_pin():
    check("bth1_clearance", bth1.clearance_factor(0.8, hole=1.0))
    check("bth1_clearance_close", bth1.clearance_factor(1.0, hole=1.1))
    check("bth1_thin_plate", bth1.effective_width(replace(PLATE, width=40.0)) / 0.25)


def test_columns_and_sums_of_members():
    column = replace(_bar(1.0), r_min=np.array(1.0))
    for name, length in (("short", 80.0), ("long", 150.0)):
        push = members.compression_strength(column, length=length, fy=36.0e3, basis=LIFTING)
        check(f"bth1_column_{name}", push / KSI)
    grown = 0.40 * compression.moment_amplifier(0.1, euler=1.0, second_order=LIFTING.second_order)
    none = {"minor": 0.0, "torsion": 0.0, "basis": LIFTING}
    check("bth1_interaction", interaction.member(0.1, major=grown, shear=0.0, **none))
    check("bth1_combined_shear", interaction.member(0.0, major=0.6, shear=0.5, **none))
