"""What the section of a post allows, each written down when it is first asked for."""

from __future__ import annotations

from functools import cached_property

from rigcheck.calculation.allowed import Member
from rigcheck.calculation.sharing import named
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.parts.post.checks import FREE_END
from rigcheck.quantities.measures import LENGTH, NUMBER
from rigcheck.tables import shapes, steel


class Strengths:
    """Allowable values of a post, symbols."""

    def __init__(self, sheet: Sheet, spot: Spot) -> None:
        """The post of a check, on the basis of the check."""
        rig = spot.solution.rig
        self.sheet, self.length = sheet, float(rig.number("perch.post.free_length"))
        self.post = Member(
            sheet=sheet, basis=spot.basis, shape=shapes.find(rig.value("perch.post.shape")),
            metal=steel.grade(str(rig.value("perch.post.steel"))), length=self.length, word="post", letter="p",
        )  # fmt: skip

    def everything(self, *, twisted: bool) -> None:
        """Write all of them down; pull without a word, torsion only where there is any."""
        for name in ("fore", "across", "push", "shear_fore", "shear_across"):
            getattr(self, name)
        with self.sheet.silence():
            _ = self.pull
        if twisted:
            _ = self.torque

    @cached_property
    def fore(self) -> Symbol:
        """Bending fore and aft."""
        return self.post.moment("x", name="M_af", words="fore and aft")

    @cached_property
    def across(self) -> Symbol:
        """Bending across."""
        return self.post.moment("y", name="M_aa", words="across")

    @cached_property
    def push(self) -> Symbol:
        """Push, the post free at its top."""
        k = self.sheet.given("K", FREE_END, NUMBER, "effective length factor, free at the top")
        return self.post.push(name="P_a", effective=self.sheet.find("Effective length", "L_c", k * named("L"), LENGTH))

    @cached_property
    def pull(self) -> Symbol:
        """Pull."""
        return self.post.pull(name="P_t")

    @cached_property
    def shear_fore(self) -> Symbol:
        """Shear fore and aft."""
        return self.post.shear("y", name="V_f", reach=self.length, words="fore and aft")

    @cached_property
    def shear_across(self) -> Symbol:
        """Shear across."""
        return self.post.shear("x", name="V_a", reach=self.length, words="across")

    @cached_property
    def torque(self) -> Symbol:
        """Torsion."""
        return self.post.torsion(name="T_a")
