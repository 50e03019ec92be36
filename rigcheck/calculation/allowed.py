"""What a section allows, clause by clause, and shares of several actions taken together."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import Any

from rigcheck.calculation.run import Run
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.quantities.measures import AREA, FORCE, INERTIA, LENGTH, MODULUS, MOMENT, NUMBER, STRESS
from rigcheck.strength.bases import Basis
from rigcheck.strength.members import compression, interaction
from rigcheck.strength.members import shapes as members
from rigcheck.tables.shapes import Shape
from rigcheck.tables.steel import Grade

_PROPERTIES = {
    "area": ("A", AREA, "area"),
    "depth": ("d", LENGTH, "height"),
    "width": ("b", LENGTH, "width"),
    "t_design": ("t", LENGTH, "wall"),
    "sx": ("S_x", MODULUS, "elastic modulus, level axis,"),
    "zx": ("Z_x", MODULUS, "plastic modulus, level axis,"),
    "rx": ("r_x", LENGTH, "radius of gyration, level axis,"),
    "sy": ("S_y", MODULUS, "elastic modulus, upright axis,"),
    "zy": ("Z_y", MODULUS, "plastic modulus, upright axis,"),
    "ry": ("r_y", LENGTH, "radius of gyration, upright axis,"),
    "r_min": ("r", LENGTH, "least radius of gyration"),
    "j": ("J", INERTIA, "torsion constant"),
    "torsion_c": ("C", MODULUS, "torque over the largest shear stress"),
    "h_over_t": ("lambda_h", NUMBER, "flat height over wall"),
    "b_over_t": ("lambda_b", NUMBER, "flat width over wall"),
}


@dataclass(slots=True, kw_only=True)
class Member:
    """A section of one steel; what it allows is told by running its strength functions.

    Attributes:
        sheet: Where it is written.
        basis: Basis of allowable strength.
        shape: The section.
        metal: Its steel.
        length: Between its ends. [in]
        word: What it is called.
        letter: Stands below the symbols of its section.
    """

    sheet: Sheet
    basis: Basis
    shape: Shape
    metal: Grade
    length: float
    word: str
    letter: str = "c"

    @property
    def run(self) -> Run:
        """Runs on its sheet."""
        return Run(self.sheet)

    def fy(self) -> Any:
        """Yield stress."""
        return self.run.given("F_y", self.metal.fy, STRESS, f"yield stress of the {self.word}, {self.metal.key}")

    def reach(self, length: float) -> Any:
        """A length that counts for buckling."""
        return self.run.given(f"L_{self.letter}", length, LENGTH, f"length of the {self.word} that counts for buckling")

    def section(self) -> members.Section:
        """The section with the symbols of its properties."""
        own = {name: (f"{symbol}{self.letter}" if "_" in symbol else f"{symbol}_{self.letter}", measure,
                      f"{words} of the {self.word}, {self.shape.name}")
               for name, (symbol, measure, words) in _PROPERTIES.items()}  # fmt: skip
        section: members.Section = self.run.record(members.Section, members.section_of([self.shape]), symbols=own)
        return section

    def moment(self, about: str, *, name: str, words: str) -> Symbol:
        """Allowable moment about the level ("x") or the upright ("y") axis."""
        make = partial(
            members.moment_strength, self.section(), about=about, fy=self.fy(), basis=self.run.basis(self.basis),
            length=self.reach(self.length),
        )  # fmt: skip
        return self.run.tell(make, name, f"Allowed bending {words}", MOMENT, tail=about)

    def shear(self, along: str, *, name: str, reach: float, words: str) -> Symbol:
        """Allowable shear along the height ("y") or the width ("x"); `reach` is from largest to zero shear. [in]"""
        long = self.run.given("L_v", reach, LENGTH, f"length of the {self.word} from largest to zero shear")
        make = partial(
            members.shear_strength, self.section(), along=along, fy=self.fy(), basis=self.run.basis(self.basis),
            length=long,
        )  # fmt: skip
        return self.run.tell(make, name, f"Allowed shear {words}".rstrip(), FORCE, tail=along)

    def torsion(self, *, name: str) -> Symbol:
        """Allowable torsion over the member's length."""
        make = partial(
            members.torsion_strength, self.section(), fy=self.fy(), basis=self.run.basis(self.basis),
            length=self.reach(self.length),
        )  # fmt: skip
        return self.run.tell(make, name, "Allowed torsion", MOMENT, tail="t")

    def push(self, *, name: str, effective: Any) -> Symbol:
        """Allowable push by the column curve about the least radius; `effective` is its effective length."""
        long = self.run.symbol(effective)
        make = partial(
            members.compression_strength, self.section(), length=long, fy=self.fy(), basis=self.run.basis(self.basis)
        )
        return self.run.tell(make, name, "Allowed compression", FORCE)

    def pull(self, *, name: str) -> Symbol:
        """Allowable pull, yielding of the section or rupture of it, no holes."""
        fu = self.run.given("F_u", self.metal.fu, STRESS, f"tensile strength of the {self.word}")
        make = partial(members.tension, self.section(), fy=self.fy(), fu=fu, basis=self.run.basis(self.basis))
        return self.run.tell(make, name, "Allowed pull", FORCE)


def buckling(sheet: Sheet, *, slenderness: Any, words: str = "") -> Symbol:
    """Elastic buckling stress of a column by its length over its radius of gyration, which counts as pi at least."""
    slender = sheet.find(f"Length over radius of gyration{words}", "lambda", slenderness, NUMBER)
    run = Run(sheet)
    make = partial(compression.euler_stress, run.symbol(slender))
    return run.tell(make, "F_E", f"Elastic buckling stress{words}", STRESS, rounding="nearest")


def column_allows(
    sheet: Sheet, heading: str, name: str, *, elastic: Symbol, fy: Symbol, basis: Basis, engine: Any = None
) -> Symbol:
    """Allowed stress of a push by its elastic buckling stress, under lifting not over that of BTH-1 either."""
    run = Run(sheet)
    make = partial(compression.allowable_stress, run.symbol(elastic), fy=run.symbol(fy), basis=run.basis(basis))
    return run.tell(make, name, heading, STRESS, engine=engine)


def growth(sheet: Sheet, heading: str, name: str, *, push: Any, euler: Any, basis: Basis) -> Symbol:
    """How far a push makes a moment grow."""
    below = name.partition("_")[2]
    whole = sheet.find("Buckling force in the plane of the moment", f"P_E{below}", euler, FORCE)
    run = Run(sheet)
    if not push.is_Symbol:
        push = sheet.find("Compression", f"P_m{below}", push, FORCE, rounding="up")
    make = partial(
        compression.moment_amplifier, run.symbol(push), euler=run.symbol(whole),
        second_order=run.basis(basis).second_order,
    )  # fmt: skip
    return run.tell(make, name, heading, NUMBER, rounding="up")


def together(
    sheet: Sheet,
    basis: Basis,
    *,
    axial: Symbol | None,
    bending: tuple[Symbol, ...],
    shear: Symbol | None,
    torsion: Symbol | None = None,
    engine: float | None = None,
) -> Symbol:
    """Utilization under everything at once, of the shares of each.

    Args:
        sheet: Where it is written.
        basis: Basis of allowable strength.
        axial: Share of axial force; None where the clause has none.
        bending: Shares of bending, two at most.
        shear: Share of shear; None where there is none.
        torsion: Share of torsion; None where there is none.
        engine: What the check has.
    """
    run = Run(sheet)
    shares = [0.0 if one is None else run.symbol(one) for one in (axial, *bending, *([None] * (2 - len(bending))))]
    cut, turned = (0.0 if one is None else run.symbol(one) for one in (shear, torsion))
    make = partial(
        interaction.member, shares[0], major=shares[1], minor=shares[2], shear=cut, torsion=turned, basis=basis
    )
    return run.tell(make, "U", "Utilization", NUMBER, rounding="up", engine=engine)
