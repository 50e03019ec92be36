"""Fillet welds: worked examples of the AISC Design Examples and the handbook table of weld groups."""

import numpy as np

from rigcheck.strength.bases import FRAME, LIFTING, allowable
from rigcheck.strength.connections import weld_lines, welds
from tests.outside.values import check, inputs

KIP = 1000.0


def test_j1_long_end_loaded_fillets():
    example = "aisc_j1_fillet_longitudinal"
    given = inputs(example)
    leg, length, count = given["leg_in"], given["length_in"], given["welds"]
    angle = np.deg2rad(given["theta_deg"])
    per_inch = welds.fillet_nominal(leg, electrode=given["fexx_ksi"] * KIP, angle=angle)
    factor = 1.2 - 0.002 * length / leg  # Eq. (J2-1); no weld of a rig is so long, and the engine has no such factor
    total = per_inch * factor * length * count
    base = welds.base_metal_nominal(given["base_t_in"], fu=given["base_fu_ksi"] * KIP) * length * count
    check(f"{example}.kds", welds.direction_factor(angle))
    check(f"{example}.rn_kip_per_in", per_inch / KIP)
    check(f"{example}.rn_kip", total / KIP)
    check(f"{example}.asd_kip", allowable(total, divisor=FRAME.weld) / KIP)
    check(f"{example}.base_rn_kip", base / KIP)
    check(f"{example}.base_asd_kip", allowable(base, divisor=FRAME.rupture) / KIP)


def test_j2a_fillet_at_an_angle():
    example = "aisc_j2a_fillet_at_angle"
    given = inputs(example)
    angle = np.deg2rad(given["theta_deg"])
    per_inch = welds.fillet_nominal(given["leg_in"], electrode=given["fexx_ksi"] * KIP, angle=angle)
    both = given["sides"] * allowable(per_inch, divisor=FRAME.weld)
    check(f"{example}.kds", welds.direction_factor(angle))
    check(f"{example}.rn_kip_per_in", per_inch / KIP)
    check(f"{example}.asd_kip_per_in_both", both / KIP)
    check(f"{example}.length_in", given["pa_kip"] * KIP / both)


def test_strength_and_limits_per_inch():
    joint = welds.Joint(leg=1.0 / 16.0, length=6.0, electrode=70.0e3, thickness=1.0, fy=36.0e3, fu=58.0e3)
    check("e70_per_sixteenth", welds.fillet_allowable(joint, basis=FRAME) / KIP)
    wall = welds.base_metal_allowable(0.116, fy=46.0e3, fu=58.0e3, basis=FRAME)
    check("base_metal_yield_per_inch", welds.base_metal_yield(0.116, fy=46.0e3) / KIP)
    check("base_metal_hss_frame", wall / KIP)
    check("base_metal_hss_lifting", welds.base_metal_allowable(0.116, fy=46.0e3, fu=58.0e3, basis=LIFTING) / KIP)
    check("base_metal_a36_frame", welds.base_metal_allowable(0.25, fy=36.0e3, fu=58.0e3, basis=FRAME) / KIP)
    check("smallest_leg_quarter", welds.smallest_leg(0.25))


def test_groups_of_the_handbook_table():
    groups = {
        "verticals": weld_lines.two_verticals(2.0, depth=5.0),
        "channel": weld_lines.channel(3.0, depth=6.0),
        "rectangle": weld_lines.rectangle(4.0, depth=6.0),
        "circle": weld_lines.ring(2.0),
    }
    for name, group in groups.items():
        check(f"weld_line_{name}_s", group.sx)
        check(f"weld_line_{name}_ip", group.ip)
    check("weld_line_channel_centroid", -groups["channel"].x.min())
