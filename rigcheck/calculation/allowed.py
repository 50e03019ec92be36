"""What a section allows, clause by clause, and shares of several actions taken together."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rigcheck.arrays.guarded import UNLIMITED
from rigcheck.calculation.algebra import least, most
from rigcheck.calculation.measures import AREA, FORCE, LENGTH, MODULUS, MOMENT, NUMBER, STRESS, Measure
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.strength.bases import LIFTING_BUCKLING, SHEAR_YIELD, Basis
from rigcheck.strength.members import shapes as members
from rigcheck.strength.members.compression import ELASTIC_MODULUS
from rigcheck.strength.members.interaction import TORSION_COUNTS
from rigcheck.tables.shapes import Shape
from rigcheck.tables.steel import Grade

_BEND = "AISC 360-22 F7, F8, F11; ASME BTH-1 3-2.3 (memory)"
_PUSH = "AISC 360-22 E3, E7; ASME BTH-1 3-2.2 (memory)"
_PULL = "AISC 360-22 D2 (seen); ASME BTH-1 3-2.1 (memory)"
_LIFTED = "ASME BTH-1 3-2.2 (memory)"
_CUT = "AISC 360-22 G; ASME BTH-1 3-2.3.6 (memory)"
_BUCKLED = 1.0e-6  # share of the buckling load that is left, under which the growth is held at a million


@dataclass(frozen=True, slots=True)
class Clause:
    """A clause worked out in full by the check.

    Attributes:
        text: Source.
        value: What it gives. [inside units]
    """

    text: str
    value: float


def or_told(
    sheet: Sheet,
    heading: str,
    name: str,
    expression: Any,
    *,
    by: Clause,
    measure: Measure = FORCE,
    lists: tuple[Symbol, ...] = (),
) -> Symbol:
    """A plain formula where it gives the clause's number; that number where slender walls or buckling lower it.

    Args:
        sheet: Where it is written.
        heading: What it is.
        name: Its symbol.
        expression: The plain formula.
        by: What the clause gives in full.
        measure: What it is.
        lists: Symbols told with it.
    """
    if abs(sheet.value(expression) - by.value) <= 1e-9 * abs(by.value):
        if not sheet.quiet:
            sheet.recall(*lists)
        return sheet.find(heading, name, expression, measure, rounding="down", engine=by.value, clause=by.text)
    return sheet.given(name, by.value, measure, f"{heading[0].lower()}{heading[1:]}, slenderness counted: {by.text}")


def _one(values: Any) -> float:
    return float(values.reshape(-1)[0])


@dataclass(slots=True, kw_only=True)
class Member:
    """A section of one steel, written down as far as it is asked about.

    Attributes:
        sheet: Where it is written.
        basis: Basis of allowable strength.
        shape: The section.
        metal: Its steel.
        length: Between its ends. [in]
        word: What it is called.
    """

    sheet: Sheet
    basis: Basis
    shape: Shape
    metal: Grade
    length: float
    word: str

    def fy(self) -> Symbol:
        """Yield stress."""
        return self.sheet.once("F_y", self.metal.fy, STRESS, f"yield stress of the {self.word}, {self.metal.key}")

    def _divisor(self) -> Symbol:
        return self.sheet.once("Omega_y", self.basis.yielding, NUMBER, "divisor for yielding and buckling")

    def moment(self, about: str, *, name: str, words: str) -> Symbol:
        """Allowable moment about the level ("x") or the upright ("y") axis."""
        level = about == "x"
        section = members.section_of([self.shape])
        told = _one(
            members.moment_strength(section, about=about, fy=self.metal.fy, basis=self.basis, length=self.length)
        )
        fy, divisor, letter = self.fy(), self._divisor(), name.rpartition("_")[2]
        elastic, plastic = (self.shape.sx, self.shape.zx) if level else (self.shape.sy, self.shape.zy)
        s = self.sheet.given(f"S_{letter}", elastic, MODULUS, f"elastic modulus {words}", listed=False)
        z = self.sheet.given(f"Z_{letter}", plastic, MODULUS, f"plastic modulus {words}", listed=False)
        expression: Any = fy * z / divisor
        lists: tuple[Symbol, ...] = (z,)
        if self.basis.compact_limit < UNLIMITED:
            solid = self.shape.kind in ("bar", "round bar")
            most = self.basis.solid_limit if solid else self.basis.compact_limit
            limit = self.sheet.once("c_m", most, NUMBER, "most moment over the yield moment on this basis")
            expression, lists = least(fy * z, limit * fy * s) / divisor, (s, z)
        heading = f"Allowed bending {words}"
        return or_told(self.sheet, heading, name, expression, by=Clause(_BEND, told), measure=MOMENT, lists=lists)

    def shear(self, along: str, *, name: str, reach: float, words: str) -> Symbol:
        """Allowable shear along the height ("y") or the width ("x"); `reach` is from largest to zero shear. [in]"""
        section = members.section_of([self.shape])
        told = _one(members.shear_strength(section, along=along, fy=self.metal.fy, basis=self.basis, length=reach))
        ratio = self.shape.h_over_t if along == "y" else self.shape.b_over_t
        divisor = self.sheet.once("Omega_v", self.basis.shear, NUMBER, "divisor for shear")
        flat = self.sheet.given(
            f"h_{name[-1]}", ratio * self.shape.t_design, LENGTH, f"flat height of the walls {words}", listed=False
        )
        wall = self.sheet.given("t_c", self.shape.t_design, LENGTH, f"wall of the {self.word}", listed=False)
        expression = SHEAR_YIELD * self.fy() * 2 * flat * wall / divisor
        heading = f"Allowed shear {words}".rstrip()
        return or_told(self.sheet, heading, name, expression, by=Clause(_CUT, told), lists=(flat, wall))

    def torsion(self, *, name: str) -> Symbol:
        """Allowable torsion over the member's length."""
        section = members.section_of([self.shape])
        told = _one(members.torsion_strength(section, fy=self.metal.fy, basis=self.basis, length=self.length))
        divisor = self.sheet.once("Omega_v", self.basis.shear, NUMBER, "divisor for shear")
        constant = self.sheet.given(
            "C_c", self.shape.torsion_c, MODULUS, f"torsion constant of the {self.word}", listed=False
        )
        expression = SHEAR_YIELD * self.fy() * constant / divisor
        clause = Clause("AISC 360-22 H3 (memory)", told)
        return or_told(self.sheet, "Allowed torsion", name, expression, by=clause, measure=MOMENT, lists=(constant,))

    def push(self, *, name: str, effective: Any) -> Symbol:
        """Allowable push by the column curve about the least radius; `effective` is its effective length."""
        section = members.section_of([self.shape])
        sheet = self.sheet
        told = _one(
            members.compression_strength(section, length=sheet.value(effective), fy=self.metal.fy, basis=self.basis)
        )
        area = sheet.once("A_c", self.shape.area, AREA, f"area, {self.shape.name}")
        r = sheet.given("r_c", self.shape.r_min, LENGTH, "least radius of gyration")
        e = sheet.once("E", ELASTIC_MODULUS, STRESS, "modulus of elasticity")
        fy, divisor = self.fy(), self._divisor()
        elastic = buckling(sheet, slenderness=effective / r, e=e)
        return or_told(
            sheet,
            "Allowed push",
            name,
            column_allows(sheet, fy=fy, elastic=elastic, basis=self.basis, divisor=divisor) * area,
            by=Clause(_PUSH, told),
        )

    def pull(self, *, name: str) -> Symbol:
        """Allowable pull, yielding of the section or rupture of it, no holes."""
        section = members.section_of([self.shape])
        told = _one(members.tension(section, fy=self.metal.fy, fu=self.metal.fu, basis=self.basis))
        area = self.sheet.once("A_c", self.shape.area, AREA, f"area, {self.shape.name}")
        fu = self.sheet.once("F_u", self.metal.fu, STRESS, "tensile strength")
        over = self.sheet.once("Omega_r", self.basis.rupture, NUMBER, "divisor for rupture")
        expression = least(self.fy() * area / self._divisor(), fu * area / over)
        return self.sheet.find("Allowed pull", name, expression, FORCE, rounding="down", engine=told, clause=_PULL)


def buckling(sheet: Sheet, *, slenderness: Any, e: Symbol, words: str = "") -> Symbol:
    """Elastic buckling stress of a column by its length over its radius of gyration, which counts as pi at least."""
    from sympy import pi

    stocky = sheet.value(slenderness) < float(pi)
    return sheet.find(
        f"Elastic buckling stress{words}",
        "F_E",
        e if stocky else pi**2 * e / slenderness**2,
        STRESS,
        note="So stocky that its length over its radius counts as pi." if stocky else "",
        clause="AISC 360-22 Eq. (E3-4) (seen)",
    )


def column(sheet: Sheet, *, fy: Symbol, elastic: Symbol) -> Symbol:
    """Column stress from the elastic buckling stress."""
    inelastic = sheet.value(fy / elastic) <= 2.25
    return sheet.find(
        "Column stress",
        "F_n",
        0.658 ** (fy / elastic) * fy if inelastic else 0.877 * elastic,
        STRESS,
        clause="AISC 360-22 Eq. (E3-2) (seen)" if inelastic else "AISC 360-22 Eq. (E3-3) (memory)",
    )


def column_allows(sheet: Sheet, *, fy: Symbol, elastic: Symbol, basis: Basis, divisor: Symbol) -> Any:
    """Allowed stress of a push: the column stress over its divisor, under lifting not over that of BTH-1 either."""
    from sympy import Integer, sqrt

    stress = column(sheet, fy=fy, elastic=elastic)
    if not basis.lifting_members:
        return stress / divisor
    if sheet.value(fy / (2 * elastic)) <= 1.0:
        x = sheet.find(
            "Slenderness over that of elastic buckling", "x_c", sqrt(fy / (2 * elastic)), NUMBER, clause=_LIFTED
        )
        lifted = (1 - x**2 / 2) * fy / (1 + Integer(9) / 40 * x - Integer(3) / 40 * x**3)
    else:
        lifted = elastic / LIFTING_BUCKLING
    own = sheet.find("Column stress of a lifting device", "F_l", lifted, STRESS, clause=_LIFTED)
    return least(stress, own) / divisor


def growth(sheet: Sheet, heading: str, name: str, *, push: Symbol, euler: Any, alpha: Symbol, clause: str) -> Symbol:
    """How far a push makes a moment grow."""
    from sympy import Integer

    share = sheet.value(alpha * push / euler)
    expression, note = 1 / (1 - alpha * push / euler), ""
    if share <= 0.0:
        expression, note = Integer(1), "No push, no growth."
    if share >= 1.0 - _BUCKLED:
        expression, note = Integer(1000000), "The push is all that it holds: no moment is small."
    return sheet.find(heading, name, expression, NUMBER, note=note, clause=clause)


def together(
    sheet: Sheet,
    *,
    axial: Any,
    bending: tuple[Symbol, ...],
    shear: Symbol | None,
    torsion: Symbol | None = None,
    basis: Basis,
) -> Any:
    """Shares of everything at once: axial force with bending, with shear and torsion, and either of these alone.

    Args:
        sheet: Where it is written.
        axial: Share of axial force; 0 where the clause has none.
        bending: Shares of bending.
        shear: Share of shear; None where there is none.
        torsion: Share of torsion; None where there is none.
        basis: Basis of allowable strength.

    Returns:
        Expression of the use.

    Source: AISC 360-22 H1.1, H3.2; ASME BTH-1 3-2.4, 3-2.5 (memory).
    """
    from sympy import sqrt, sympify

    bent = sum(bending)
    if sheet.value(axial) >= 0.2:
        plain = most(axial + 8 * bent / 9, axial / 2 + bent)
        clause = "AISC 360-22 Eq. (H1-1a) (seen), held up by (H1-1b)"
    else:
        plain, clause = sympify(axial) / 2 + bent, "AISC 360-22 Eq. (H1-1b) (memory)"
    terms = [sheet.find("Axial force with bending", "U_1", plain, NUMBER, rounding="up", clause=clause)]
    if shear is not None:
        terms.append(shear)
    if torsion is not None:
        terms.append(torsion)
        if sheet.value(torsion) > TORSION_COUNTS:
            cut = 0 if shear is None else shear
            terms.append(
                sheet.find(
                    "With shear and torsion",
                    "U_2",
                    axial + bent + (cut + torsion) ** 2,
                    NUMBER,
                    rounding="up",
                    clause="AISC 360-22 Eq. (H3-6) (seen)",
                )
            )
    if basis.lifting_members:
        cut = sum(one for one in (shear, torsion) if one is not None)
        whole = sqrt((axial + bent) ** 2 + cut**2) if cut != 0 else sympify(axial) + bent
        clause = "ASME BTH-1 3-2.4, 3-2.5 (memory)"
        terms.append(sheet.find("Sum for a lifting device", "U_3", whole, NUMBER, rounding="up", clause=clause))
    return most(*terms) if len(terms) > 1 else terms[0]
