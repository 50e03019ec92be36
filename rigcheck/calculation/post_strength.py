"""What the section of a post allows."""

from __future__ import annotations

from dataclasses import dataclass

from rigcheck.calculation.allowed import Member
from rigcheck.calculation.sharing import named
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.parts.post.checks import FREE_END
from rigcheck.quantities.measures import LENGTH, NUMBER
from rigcheck.tables import shapes, steel


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
    rig = spot.solution.rig
    length = float(rig.number("perch.post.free_length"))
    post = Member(
        sheet=sheet, basis=spot.basis, shape=shapes.find(rig.value("perch.post.shape")),
        metal=steel.grade(str(rig.value("perch.post.steel"))), length=length, word="post", letter="p",
    )  # fmt: skip
    fore, across = (
        post.moment(about, name=name, words=words) for about, name, words in
        (("x", "M_af", "fore and aft"), ("y", "M_aa", "across"))
    )  # fmt: skip
    k = sheet.given("K", FREE_END, NUMBER, "effective length factor, free at the top")
    push = post.push(name="P_a", effective=sheet.find("Effective length", "L_c", k * named("L"), LENGTH))
    with sheet.silence():
        pull = post.pull(name="P_t")
    cuts = [
        post.shear(along, name=name, reach=length, words=words)
        for name, along, words in (("V_f", "y", "fore and aft"), ("V_a", "x", "across"))
    ]
    with sheet.silence(not twisted):
        torque = post.torsion(name="T_a")
    return Strengths(fore, across, push, pull, cuts[0], cuts[1], torque)
