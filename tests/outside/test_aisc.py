"""AISC 360-22 worked examples, printed in the Design Examples V16.0."""

from dataclasses import replace

import numpy as np
import pytest

from rigcheck.strength.bases import FRAME, ULTIMATE, allowable, allowable_moment
from rigcheck.strength.connections import pinned_plates as connections
from rigcheck.strength.connections.bth1 import PinPlate
from rigcheck.strength.members import compression, flexure, interaction, shear
from rigcheck.strength.members import shapes as members
from rigcheck.tables import geometry, shapes
from tests.outside.values import check, inputs

KIP = 1000.0


def test_d7_plate_on_a_pin():
    example = "aisc_d7_pin_connected"
    given = inputs(example)
    plate = PinPlate(
        thickness=given["t_in"],
        width=given["w_in"],
        edge=given["a_in"] + given["hole_d_in"] / 2.0,
        hole=given["hole_d_in"],
        pin=given["pin_d_in"],
        edge_radius=0.0,
        fy=given["fy_ksi"] * KIP,
        fu=given["fu_ksi"] * KIP,
    )
    nominal = connections.pin_connected(plate, basis=ULTIMATE)
    allowed = connections.pin_connected(plate, basis=FRAME)
    check(f"{example}.be_in", nominal.effective_width)
    check(f"{example}.rupture_pn_kip", nominal.tension / KIP)
    check(f"{example}.rupture_asd_kip", allowed.tension / KIP)
    check(f"{example}.shear_pn_kip", nominal.shear / KIP)
    check(f"{example}.shear_asd_kip", allowed.shear / KIP)
    check(f"{example}.bearing_rn_kip", nominal.bearing / KIP)
    check(f"{example}.bearing_asd_kip", allowed.bearing / KIP)
    check(f"{example}.yield_pn_kip", nominal.gross / KIP)
    check(f"{example}.yield_asd_kip", allowed.gross / KIP)
    check(f"{example}.asf_in2", nominal.shear / (0.6 * given["fu_ksi"] * KIP))
    check(f"{example}.cr", nominal.shear / (0.6 * given["fu_ksi"] * KIP * 2.75))
    assert allowed.capacity == allowed.bearing  # the example finds bearing governing
    assert nominal.within_limits == 1.0


def test_f6_square_tube_from_its_name():
    example = "aisc_f6_square_hss_beam"
    section = members.section_of([shapes.find("HSS3-1/2x3-1/2x1/8")])
    moment = members.moment_strength(section, about="x", fy=inputs(example)["fy_ksi"] * KIP, basis=FRAME, length=90.0)
    check(f"{example}.asd_moment_hss_3_5x3_5x1_8_kip_ft", moment[0] / 12.0 / KIP)
    check(f"{example}.i_hss_in4", section.ix[0])


def _f7() -> flexure.Bend:
    given = inputs("aisc_f7b_noncompact_flange")
    return flexure.Bend(
        modulus=given["sx_in3"],
        plastic=given["zx_in3"],
        depth=10.0,
        width=6.0,
        thickness=0.174,
        web_ratio=given["h_over_t"],
        flange_ratio=given["b_over_t"],
        area=given["ag_in2"],
        radius=given["ry_in"],
        torsion=given["j_in4"],
        fy=given["fy_ksi"] * KIP,
        length=given["lb_in"],
        gradient=given["cb"],
    )


def _flange_edge(low: float, *, high: float, wanted: float, bend: flexure.Bend) -> float:
    """Flange ratio at which the nominal moment leaves a level, found by halving."""
    for _ in range(60):
        middle = (low + high) / 2.0
        moment = flexure.box_flexure(replace(bend, flange_ratio=middle)).nominal
        low, high = (middle, high) if moment >= wanted * (1.0 - 1.0e-12) else (low, middle)
    return low


def test_f7b_flange_that_is_not_compact():
    example = "aisc_f7b_noncompact_flange"
    bend = _f7()
    found = flexure.box_flexure(bend)
    check(f"{example}.mn_flb_kip_in", flexure.box_flexure(replace(bend, length=0.0)).nominal / KIP)
    check(f"{example}.mn_kip_ft", found.nominal / 12.0 / KIP)
    check(f"{example}.asd_kip_ft", allowable_moment(found, basis=FRAME) / 12.0 / KIP)
    short, long = flexure.box_lateral_lengths(bend)
    check(f"{example}.lp_in", short)
    check(f"{example}.lr_in", long)
    stocky = replace(bend, flange_ratio=10.0, length=0.0)
    plastic = flexure.box_flexure(stocky).nominal
    check(f"{example}.mp_kip_in", plastic / KIP)
    first_yield = bend.fy * bend.modulus
    check(f"{example}.lambda_p", _flange_edge(10.0, high=40.0, wanted=plastic, bend=stocky))
    check(f"{example}.lambda_r", _flange_edge(10.0, high=40.0, wanted=first_yield, bend=stocky))


def test_f8b_slender_flange():
    example = "aisc_f8b_slender_flange"
    given = inputs(example)
    modulus = given["i_in4"] / (given["depth_in"] / 2.0)
    bend = replace(
        _f7(),
        modulus=modulus,
        plastic=1.15 * modulus,
        depth=given["depth_in"],
        width=given["depth_in"],
        thickness=given["t_in"],
        web_ratio=given["b_over_t"],
        flange_ratio=given["b_over_t"],
        fy=given["fy_ksi"] * KIP,
    )
    effective = flexure.box_effective_modulus(bend)
    found = flexure.box_flexure(bend)
    lost = (modulus - effective) * given["depth_in"] / (given["t_in"] * (given["depth_in"] - given["t_in"]) ** 2)
    check(f"{example}.ineffective_in", lost)
    check(f"{example}.i_eff_in4", effective * given["depth_in"] / 2.0)
    check(f"{example}.se_in3", effective)
    check(f"{example}.mn_kip_ft", found.nominal / 12.0 / KIP)
    check(f"{example}.asd_kip_ft", allowable_moment(found, basis=FRAME) / 12.0 / KIP)


def test_g4_shear_of_a_tube():
    example = "aisc_g4_hss_shear"
    given = inputs(example)
    fy = given["fy_ksi"] * KIP
    ratio = given["h_in"] / given["t_in"]
    nominal = shear.box_shear(ratio, thickness=given["t_in"], fy=fy)
    factor = shear.web_factor(ratio, fy=fy, plate_factor=given["kv"])
    check(f"{example}.vn_kip", nominal / KIP)
    check(f"{example}.asd_kip", allowable(nominal, divisor=FRAME.shear) / KIP)
    check(f"{example}.cv2", factor)
    check(f"{example}.aw_in2", nominal / (0.6 * fy * factor))
    ratios = np.linspace(50.0, 70.0, 20001)
    buckles = shear.web_factor(ratios, fy=fy, plate_factor=given["kv"]) < 1.0
    check(f"{example}.limit", ratios[np.argmax(buckles)])


def test_g5_shear_of_a_round_tube():
    example = "aisc_g5_round_hss_shear"
    given = inputs(example)
    tube = {"ratio": given["d_over_t"], "diameter": given["d_in"]}
    fy = given["fy_ksi"] * KIP
    by_length = shear.round_shear_stress(**tube, fy=1.0e9, length=given["lv_in"])
    by_wall = shear.round_shear_stress(**tube, fy=1.0e9, length=1.0e9)
    held = shear.round_shear_stress(**tube, fy=fy, length=given["lv_in"])
    nominal = shear.round_shear(given["ag_in2"], **tube, fy=fy, length=given["lv_in"])
    check(f"{example}.fcr_a_ksi", by_length / KIP)
    check(f"{example}.fcr_b_ksi", by_wall / KIP)
    check(f"{example}.fcr_ksi", held / KIP)
    check(f"{example}.vn_kip", nominal / KIP)
    check(f"{example}.asd_kip", allowable(nominal, divisor=FRAME.shear) / KIP)


def test_h1b_axial_force_with_bending():
    given = inputs("aisc_h1b_interaction")
    found = interaction.axial_and_bending(
        given["pr_kip"] / given["pc_kip"],
        major=given["mrx_kip_ft"] / given["mcx_kip_ft"],
        minor=given["mry_kip_ft"] / given["mcy_kip_ft"],
    )
    check("aisc_h1b_interaction.interaction", found)


def test_h5c_torsion_with_shear_and_bending():
    example = "aisc_h5c_torsion_shear_bending"
    given = inputs(example)
    fy, wall = given["fy_ksi"] * KIP, given["t_in"]
    tube = geometry.rectangular_tube(6.0, width=4.0, wall=wall)
    ratios = {"web_ratio": 6.0 / wall - 3.0, "flange_ratio": 4.0 / wall - 3.0}
    bend = flexure.Bend(
        modulus=tube.sx,
        plastic=given["zx_in3"],
        depth=6.0,
        width=4.0,
        thickness=wall,
        **ratios,
        area=given["ag_in2"],
        radius=given["ry_in"],
        torsion=given["j_in4"],
        fy=fy,
        length=96.0,
    )
    nominal_shear = shear.box_shear(given["h_in"] / wall, thickness=wall, fy=fy)
    shear_allowed = allowable(nominal_shear, divisor=FRAME.shear)
    torsion = allowable(shear.box_torsion(tube.torsion_c, ratio=ratios["web_ratio"], fy=fy), divisor=FRAME.shear)
    moment = allowable_moment(flexure.box_flexure(bend), basis=FRAME)
    check(f"{example}.aw_in2", nominal_shear / (0.6 * fy))
    check(f"{example}.vc_kip", shear_allowed / KIP)
    check(f"{example}.mc_kip_in", moment / KIP)
    check(f"{example}.tc_kip_in", torsion / KIP)
    check(f"{example}.lp_in", flexure.box_lateral_lengths(bend)[0])
    half = given["w_kip_per_ft"] * given["span_ft"] / 2.0
    twist = half * given["e_in"]
    at_support = interaction.member(
        0.0, major=0.0, minor=0.0, shear=half * KIP / shear_allowed, torsion=twist * KIP / torsion, basis=FRAME
    )
    both = interaction.with_torsion(0.0, bending=0.0, shear=half * KIP / shear_allowed, torsion=twist * KIP / torsion)
    assert at_support >= both  # a part is never under the worse of shear and torsion alone
    check(f"{example}.interaction_support", both)
    # the example looks where torsion has fallen to a fifth of its allowable value
    left = 1.0 - 2.0 * 0.725 / given["span_ft"]
    shear_share, torsion_share = left * half * KIP / shear_allowed, left * twist * KIP / torsion
    at_x = interaction.with_torsion(0.0, bending=58.2 * KIP / moment, shear=shear_share, torsion=torsion_share)
    check(f"{example}.interaction_at_x", at_x)


def test_e9_tube_column():
    example = "aisc_e9_hss_column"
    given = inputs(example)
    fy = given["fy_ksi"] * KIP
    slenderness = given["lc_in"] / given["ry_in"]
    walls = np.array([given["b_over_t"], given["h_over_t"]])
    nominal = compression.box_compression(slenderness, area=given["ag_in2"], thickness=0.465, walls=walls, fy=fy)
    check(f"{example}.fe_ksi", compression.euler_stress(slenderness) / KIP)
    check(f"{example}.fn_ksi", compression.column_stress(slenderness, fy=fy) / KIP)
    check(f"{example}.pn_kip", nominal / KIP)
    check(f"{example}.asd_kip", allowable(nominal, divisor=FRAME.yielding) / KIP)
    ratios = np.linspace(30.0, 40.0, 10001)
    share = compression.effective_ratio(
        ratios, stress=fy, fy=fy, wall=(1.40, 0.20, 1.38)
    )  # AISC 360-22 Tables B4.1a, E7.1
    check(f"{example}.lambda_r", ratios[np.argmax(share < 1.0)])


def test_e10_tube_column_with_slender_walls():
    example = "aisc_e10_hss_slender"
    given = inputs(example)
    fy = given["fy_ksi"] * KIP
    slenderness = np.array(given["lc_ft"]) * 12.0 / given["ry_in"]
    walls = np.array([given["b_over_t"], given["h_over_t"]])
    nominal = compression.box_compression(
        slenderness, area=given["ag_in2"], thickness=given["t_in"], walls=walls, fy=fy
    )
    stress = compression.column_stress(slenderness, fy=fy)
    for index in range(3):
        check(f"{example}.fn_ksi.{index}", stress[index] / KIP)
        check(f"{example}.ae_in2.{index}", nominal[index] / stress[index])
        check(f"{example}.pn_kip.{index}", nominal[index] / KIP)
        check(f"{example}.asd_kip.{index}", nominal[index] / KIP / FRAME.yielding)


def test_elastic_constants_are_those_of_the_tables():
    from rigcheck.tables import steel

    assert steel.elastic_modulus() == pytest.approx(29.0e6, rel=1e-12)  # AISC 360-22: 29,000 and 11,200 ksi
    assert compression.euler_stress(100.0) == pytest.approx(np.pi**2 * 2900.0, rel=1e-12)
    assert steel.shear_modulus() == pytest.approx(11.2e6, rel=1e-12)
