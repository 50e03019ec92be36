"""Tables and section geometry against other published figures for the same thing."""

from math import radians, sin

from rigcheck.strength.connections import tiedown as rules
from rigcheck.tables import geometry, hardware, materials, rope, shapes, steel, tiedown
from tests.outside.values import check, inputs

POUND_PER_TONNE = 1000.0 / 0.45359237
FRACTIONS = {0.25: "1-4", 0.3125: "5-16", 0.375: "3-8", 0.4375: "7-16", 0.5: "1-2", 0.625: "5-8", 0.75: "3-4"}


def test_two_leg_chain_slings():
    for grade in ("80", "100"):
        for size, label in ((0.28125, "9-32"), (0.3125, "5-16"), (0.375, "3-8"), (0.5, "1-2")):
            single = hardware.chain(size, grade=grade).wll
            for angle in (60, 45):
                check(f"chain-sling-{label}-g{grade}-{angle}", 2.0 * single * sin(radians(angle)))


def test_chain_breaking_load():
    check("chain-breaking-3-8-g80", hardware.chain(0.375, grade="80").mbf)


def test_rope_strength():
    check("rope-safe-load-3-8", rope.rope("rope_6x19_fc_ips", diameter=0.375).mbf / rope.design_factor("wire rope"))
    for diameter in (0.1875, 0.25, 0.3125, 0.375):
        check(f"cable-7x19-{diameter:g}", rope.rope("cable_7x19_galvanized", diameter=diameter).mbf)
    for diameter in (0.25, 0.3125, 0.375, 0.5):
        check(f"rope-6x19-fc-{diameter:g}", rope.rope("rope_6x19_fc_ips", diameter=diameter).mbf)


def test_rope_slings():
    for diameter in (0.25, 0.3125, 0.375, 0.5, 0.625):
        row = rope.rope("rope_6x19_6x36_iwrc", diameter=diameter, column="ips")
        kept = rope.termination_efficiency("mechanical splice", diameter=diameter, fiber_core=row.fiber_core)
        check(f"rope-sling-{diameter:g}", row.mbf * kept / rope.design_factor("wire rope"))


def test_shackles():
    for size, label in FRACTIONS.items():
        check(f"shackle-{label}", hardware.shackle(size).wll / hardware.TON)
    check("shackle-7-8", hardware.shackle(0.875).wll)
    check("shackle-unmarked-5-8", hardware.unmarked_shackle(inputs("unmarked_shackle_navy")["d_in"]))
    for angle in (45, 90):
        check(f"shackle-side-{angle}", hardware.shackle_side_fraction(angle))


def test_turnbuckles_and_eyebolts():
    for size in (0.5, 0.625, 0.75):
        check(f"turnbuckle-{FRACTIONS[size]}", hardware.turnbuckle(size, end="jaw").wll / POUND_PER_TONNE)
    for size, label in ((0.25, "1-4"), (0.375, "3-8"), (0.5, "1-2"), (0.625, "5-8"), (0.75, "3-4"), (1.0, "1")):
        bolt = hardware.eyebolt(size)
        check(f"eyebolt-a489-{label}", bolt.wll)
        assert bolt.mbf == 5.0 * bolt.wll
    for angle in (15, 30, 45, 90):
        check(f"eyebolt-angle-{angle}", hardware.eyebolt_angle_fraction(angle))


def test_tubes_of_the_worked_examples():
    for example, depth, width, wall, names in (
        ("f7b", 10.0, 6.0, 0.174, ("area", "zx", "sx", "j")),
        ("f8b", 8.0, 8.0, 0.174, ("ix",)),
        ("d4", 6.0, 4.0, 0.349, ("area",)),
        ("e9", 12.0, 10.0, 0.349, ("area",)),
        ("e10", 12.0, 8.0, 0.174, ("area",)),
        ("h5c", 6.0, 4.0, 0.233, ("area", "zx", "j")),
    ):
        found = geometry.rectangular_tube(depth, width=width, wall=wall)
        for name in names:
            check(f"tube-{example}-{name}", getattr(found, name))
        if example in ("f7b", "e9", "e10", "h5c"):
            check(f"tube-{example}-ry", (found.iy / found.area) ** 0.5)


def test_tubes_of_the_shape_list():
    small = geometry.rectangular_tube(2.0, width=2.0, wall=0.116)
    for name in ("area", "ix", "zx", "j", "torsion_c"):
        check(f"tube-2x2x1-8-{name}", getattr(small, name))
    flat = geometry.rectangular_tube(4.0, width=2.0, wall=0.233)
    for name in ("area", "ix", "iy", "zx", "zy", "j", "torsion_c"):
        check(f"tube-4x2x1-4-{name}", getattr(flat, name))
    check("hss-f6-ix", shapes.find("HSS3-1/2x3-1/2x1/8").ix)


def test_sheet_and_plate():
    for number in (16, 14, 12, 10):
        check(f"sheet-{number}ga", materials.gauge(number).weight_per_area * 144.0)
    check("sheet-10ga-thickness", materials.gauge(10).thickness * materials.sheet_density() * 144.0)
    check("plate-weight", materials.steel_density() * 144.0)


def test_steels_of_the_worked_examples():
    check("steel-A572-50-fy", steel.grade("A572-50").fy / 1000.0)
    check("steel-A572-50-fu", steel.grade("A572-50").fu / 1000.0)
    check("steel-A500C-fy", steel.grade("A500C").fy / 1000.0)
    check("steel-A500C-fu", steel.grade("A500C").fu / 1000.0)
    check("steel-A53B-fy", steel.grade("A53B").fy / 1000.0)


def test_tie_down_example():
    given = inputs("tiedown_3_65m_600kg")
    weight = given["weight_kg"] / 0.45359237
    number = rules.least_number(given["length_m"] / 0.0254, weight=weight, blocked=given["blocked_forward"])
    check("tiedown-number", number)
    check("tiedown-aggregate", tiedown.aggregate_fraction().value * given["weight_kg"])
