"""What the section of a post allows: plain formulas where the clause comes to them, else the clause's number."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rigcheck.arrays.guarded import UNLIMITED
from rigcheck.calculation.algebra import least
from rigcheck.calculation.allowed import Clause, buckling, column_allows, or_told
from rigcheck.calculation.measures import AREA, FORCE, LENGTH, MODULUS, MOMENT, NUMBER, STRESS
from rigcheck.calculation.sharing import named
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.parts.post.checks import FREE_END
from rigcheck.strength.bases import SHEAR_YIELD, Basis
from rigcheck.strength.members import shapes as members
from rigcheck.strength.members.compression import ELASTIC_MODULUS
from rigcheck.tables import shapes, steel

_BEND = "AISC 360-22 F7, F8, F11; ASME BTH-1 3-2.3 (memory)"
_PUSH = "AISC 360-22 E3, E7, K 2.0; ASME BTH-1 3-2.2 (memory)"
_CUT = "AISC 360-22 G; ASME BTH-1 3-2.3.6 (memory)"


@dataclass(frozen=True, slots=True)
class Strengths:
    """Allowable values of a post, symbols."""

    fore: Symbol
    across: Symbol
    push: Symbol
    pull: Symbol
    shear_fore: Symbol
    shear_across: Symbol
    torque: Symbol


def strengths(sheet: Sheet, spot: Spot, *, twisted: bool) -> Strengths:
    """Everything the section allows on the basis of the check; torsion is written down only where there is any."""
    rig, basis = spot.solution.rig, spot.basis
    shape = shapes.find(rig.value("perch.post.shape"))
    metal = steel.grade(str(rig.value("perch.post.steel")))
    section = members.section_of([shape])
    length = float(rig.number("perch.post.free_length"))

    def one(values: Any) -> float:
        return float(values.reshape(-1)[0])

    fy = sheet.given("F_y", metal.fy, STRESS, f"yield stress of the post, {metal.key}")
    sheet.given("F_u", metal.fu, STRESS, "tensile strength")
    sheet.given("A_p", shape.area, AREA, f"area, {shape.name}")
    sheet.given("Omega_y", basis.yielding, NUMBER, "divisor for yielding and buckling")
    shearing = sheet.given("Omega_v", basis.shear, NUMBER, "divisor for shear")
    found = [
        _moment(
            sheet,
            spot,
            about,
            (s, z),
            one(members.moment_strength(section, about=about, fy=metal.fy, basis=basis, length=length)),
        )
        for about, s, z in (("x", shape.sx, shape.zx), ("y", shape.sy, shape.zy))
    ]
    push = _push(
        sheet,
        one(members.compression_strength(section, length=FREE_END * length, fy=metal.fy, basis=basis)),
        radius=shape.r_min,
        basis=basis,
    )
    pull = _pull(sheet, spot, one(members.tension(section, fy=metal.fy, fu=metal.fu, basis=basis)))
    cuts = []
    for name, along, ratio, words in (
        ("V_f", "y", shape.h_over_t, "fore and aft"),
        ("V_a", "x", shape.b_over_t, "across"),
    ):
        told = one(members.shear_strength(section, along=along, fy=metal.fy, basis=basis, length=length))
        flat = sheet.given(
            f"h_{name[-1]}", ratio * shape.t_design, LENGTH, f"flat height of the walls {words}", listed=False
        )
        wall = sheet.given("t_p", shape.t_design, LENGTH, "wall of the post", listed=False)
        cuts.append(
            or_told(
                sheet,
                f"Allowed shear {words}",
                name,
                SHEAR_YIELD * fy * 2 * flat * wall / shearing,
                by=Clause(_CUT, told),
                lists=(flat, wall),
            )
        )
    constant = sheet.given("C_p", shape.torsion_c, MODULUS, "torsion constant of the section", listed=False)
    told = one(members.torsion_strength(section, fy=metal.fy, basis=basis, length=length))
    with sheet.silence(not twisted):
        torque = or_told(
            sheet,
            "Allowed torsion",
            "T_a",
            SHEAR_YIELD * fy * constant / shearing,
            by=Clause("AISC 360-22 H3.1 (memory)", told),
            measure=MOMENT,
            lists=(constant,),
        )
    return Strengths(found[0], found[1], push, pull, cuts[0], cuts[1], torque)


def _moment(sheet: Sheet, spot: Spot, about: str, moduli: tuple[float, float], told: float) -> Symbol:

    name, words = ("M_af", "fore and aft") if about == "x" else ("M_aa", "across")
    letter, heading = name[-1], f"Allowed bending {words}"
    s = sheet.given(f"S_{letter}", moduli[0], MODULUS, f"elastic modulus {words}", listed=False)
    z = sheet.given(f"Z_{letter}", moduli[1], MODULUS, f"plastic modulus {words}", listed=False)
    fy, divisor, basis = named("F_y"), named("Omega_y"), spot.basis
    if basis.compact_limit >= UNLIMITED:
        return or_told(sheet, heading, name, fy * z / divisor, by=Clause(_BEND, told), measure=MOMENT, lists=(z,))
    limit = sheet.given(
        "c_m", basis.compact_limit, NUMBER, "most moment over the yield moment on this basis", listed=False
    )
    expression = least(fy * z, limit * fy * s) / divisor
    return or_told(sheet, heading, name, expression, by=Clause(_BEND, told), measure=MOMENT, lists=(s, z, limit))


def _push(sheet: Sheet, told: float, *, radius: float, basis: Basis) -> Symbol:
    """Column stress about the least radius, the post free at its top."""
    k = sheet.given("K", FREE_END, NUMBER, "effective length factor, free at the top")
    r = sheet.given("r_p", radius, LENGTH, "least radius of gyration")
    modulus = sheet.given("E", ELASTIC_MODULUS, STRESS, "modulus of elasticity")
    fy, area, divisor, length = named("F_y"), named("A_p"), named("Omega_y"), named("L")
    elastic = buckling(sheet, slenderness=k * length / r, e=modulus)
    stress = column_allows(sheet, fy=fy, elastic=elastic, basis=basis, divisor=divisor)
    return or_told(sheet, "Allowed push", "P_a", stress * area, by=Clause(_PUSH, told))


def _pull(sheet: Sheet, spot: Spot, told: float) -> Symbol:

    over = sheet.given("Omega_r", spot.basis.rupture, NUMBER, "divisor for rupture", listed=False)
    fy, fu, area, divisor = named("F_y"), named("F_u"), named("A_p"), named("Omega_y")
    with sheet.silence():
        return sheet.find(
            "Allowed pull in the post", "P_t", least(fy * area / divisor, fu * area / over), FORCE, engine=told
        )
