"""The rail beyond its fiber stress: compression with bending, top edge, side wall, hanger from the side, all of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import Enum
from typing import Any

import numpy as np

from rigcheck.analysis.rail_section import YOUNG
from rigcheck.calculation.allowed import Member, buckling, column_allows, growth, together
from rigcheck.calculation.book import Book
from rigcheck.calculation.free_body import Body
from rigcheck.calculation.pages import Section
from rigcheck.calculation.rail_cut import Beam, beam_of, cut_at
from rigcheck.calculation.rail_edge import edge_allows
from rigcheck.calculation.rail_hanger import aside_share, twist_share_of, wall_holds, wall_pull, wall_shear
from rigcheck.calculation.rail_station import section_of_rail, station_of
from rigcheck.calculation.sharing import named
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.parts.rail.strength import column_of, rail_metal
from rigcheck.parts.rail.ways import RailWay
from rigcheck.quantities.measures import FORCE, INERTIA, LENGTH, NUMBER, STRESS
from rigcheck.tables import shapes, steel

_BEAM = "docs/method.md#rail-as-a-beam-column"
_LOST = "docs/method.md#line-broken, docs/method.md#rail-as-a-beam-column"
_THROWN = "The box is thrown back by its own mass, so that its rails bend O times as much."
_BENT = (RailWay.COLUMN, RailWay.EDGE, RailWay.SHEAR)  # nothing is left of these where bending is not worked out


def rail_strength_section(book: Book) -> Section:
    """The rail in what governs it beside fiber stress."""
    spot = book.spot(lambda check: check.way in _MAKERS, road=False)
    if spot is None or (spot.check.way in _BENT and not spot.bends):
        return book.missing("rail-strength", "no rail is bent in these states")
    sheet = book.sheet()
    work = Work(book, sheet, spot, book.whole_box(sheet, spot))
    _MAKERS[spot.check.way](work)
    return book.section("rail-strength", spot, sheet)


@dataclass(slots=True)
class Work:
    """What the makers share."""

    book: Book
    sheet: Sheet
    spot: Spot
    body: Body
    _beam: Beam | None = None

    @property
    def bends(self) -> bool:
        """Whether bending is worked out in this row, as the box hangs."""
        return self.spot.bends

    @property
    def tension(self) -> Symbol:
        """Tension of this side's line; nothing in a stretch that it does not pull on."""
        tension = self.body.tension[self.spot.side]
        return tension if self.spot.hangs else 0 * tension

    def beam(self) -> Beam:
        """The rail's section and its balance, once."""
        if self._beam is None:
            sheet, spot, station = self.sheet, self.spot, station_of(self.spot)
            with self.book.once(
                sheet, ("rail section", spot.solution.here.number), words="Section of the rail"
            ) as before:
                section_of_rail(sheet, spot)
            if before:
                sheet.recall(*(named(name) for name in ("A", "n_0", "I")))
            with self.book.once(sheet, station.beam, words="Balance of this rail") as before:
                self._beam = beam_of(sheet, spot, body=self.body, station=station)
            if before:
                sheet.recall(*self._beam.pull, self._beam.along, self._beam.square)
        return self._beam

    def peaks(self, name: str) -> Any:
        """One rail's values at every station the engine looked at."""
        at = station_of(self.spot)
        return getattr(self.spot.solution.peaks, name)[at.pair, at.side]

    def thrown(self, value: Any) -> Any:
        """What bends this rail at the first peak after a line has parted."""
        body = self.body
        if not body.parted:
            return value
        return value * (body.tension[0] + body.tension[1]) / (body.after[0] + body.after[1])

    def share(self, demand: Any, capacity: Symbol, *, name: str, words: str) -> Symbol:
        """One action over what it is allowed."""
        return self.sheet.find(f"Share of {words}", name, demand / capacity, NUMBER, rounding="up")

    def fy(self) -> Symbol:
        """Yield stress of the rail."""
        words = "yield stress, the lower of stiffener and sheet"
        return self.sheet.once("F_y", rail_metal(self.spot.solution.rig), STRESS, words)

    def divisor(self) -> Symbol:
        """Divisor for yielding."""
        return self.sheet.once("Omega_y", self.spot.basis.yielding, NUMBER, "divisor for yielding and buckling")

    def stiffener(self) -> Member | None:
        """The stiffener as a member between cross-members, of the rail's own yield stress."""
        rig = self.spot.solution.rig
        if not rig.has("rail.stiffener"):
            return None
        metal = steel.grade(str(rig.value("rail.steel")))
        metal = replace(metal, fy=rail_metal(rig), key="the lower of stiffener and sheet")
        length = float(rig.number_or("cross_member.spacing", rig.number("box.length")))
        shape = shapes.find(rig.value("rail.stiffener"))
        return Member(
            sheet=self.sheet, basis=self.spot.basis, shape=shape, metal=metal, length=length, word="stiffener"
        )


def _bent(work: Work) -> Symbol:
    """Stress ratio of the worse edge at its worst station, bending grown by the push between hinge and hanger."""
    from sympy import Abs, pi, sqrt

    sheet, spot, solution = work.sheet, work.spot, work.spot.solution
    beam, section = work.beam(), solution.section
    x, axial = work.peaks("x"), work.peaks("axial")
    inner = np.where(x <= float(solution.layout.hanger_s), -axial, -np.inf)
    push: Any = 0 * work.tension
    if inner.max() > 0.0:
        (force,) = cut_at(
            sheet, spot, beam=beam, station=station_of(spot, place=int(inner.argmax())), want="N", tail="_1"
        )
        push = work.thrown(-force)
    push = sheet.find("Largest compression between hinge and hanger", "P_r", push, FORCE, rounding="up", clause=_BEAM)
    area, inertia = named("A"), named("I")
    e = sheet.given("E", YOUNG, STRESS, "modulus of elasticity")
    span = work.body.place["s_H"]
    softest, radius = inertia, None
    if solution.layout.along is not None:
        least, bending = column_of(solution)
        softest = sheet.given("I_m", float(bending) / YOUNG, INERTIA, "least second moment of any stretch, as askew")
        radius = sheet.given("r_r", least, LENGTH, "least radius of gyration of any stretch")
    grown = growth(
        sheet, "Growth of the moments", "B_r", push=push, euler=pi**2 * e * softest / span**2, basis=spot.basis
    )
    fy, divisor = work.fy(), work.divisor()
    if radius is None:
        radius = sheet.find("Radius of gyration", "r_r", sqrt(inertia / area), LENGTH)
    words = ", hinge to hanger, in the plane that the floor leaves free"
    elastic = buckling(sheet, slenderness=span / radius, words=words)
    allowed_push = column_allows(
        sheet, "Allowed stress in compression", "F_p", elastic=elastic, fy=fy, basis=spot.basis
    )
    allowed = sheet.find("Allowed stress", "F_a", fy / divisor, STRESS, rounding="down")
    place, top, curve = _worst_edge(work, grow=sheet.value(grown), column=sheet.value(allowed_push))
    n, m = cut_at(sheet, spot, beam=beam, station=station_of(spot, place=place), want=("N", "M"))
    fiber = sheet.given(
        "n_e",
        float(section.top if top else section.bottom),
        LENGTH,
        f"{'top' if top else 'bottom'} edge above the floor",
    )
    straight = work.thrown(n) / area / (allowed_push if curve else allowed)
    along = sheet.find("Share of the axial force", "R_n", straight, NUMBER, clause=_BEAM)
    turned = -grown * work.thrown(m) * (fiber - named("n_0")) / (inertia * allowed)
    across = sheet.find("Share of bending at that edge, amplified (B1)", "R_m", turned, NUMBER, clause=_BEAM)
    return sheet.find(
        "Compression with bending",
        "R_b",
        Abs(along + across),
        NUMBER,
        rounding="up",
        clause="AISC 360-22 Eq. (H2-1) (seen)",
    )


def _worst_edge(work: Work, *, grow: float, column: float) -> tuple[int, bool, bool]:
    """Station, whether its top edge counts, and whether the column curve does, where the stress ratio is largest."""
    section, spot = work.spot.solution.section, work.spot
    plain = rail_metal(spot.solution.rig) / spot.basis.yielding
    axial, moment = work.peaks("axial") / float(section.area), work.peaks("moment") / float(section.inertia)
    ratios = {}
    for curve in (False, True):
        straight = np.where(axial < 0.0, axial / column, axial / plain) if curve else axial / plain
        for top in (True, False):
            lever = float(section.axis - (section.top if top else section.bottom))
            ratios[top, curve] = np.abs(straight + grow * moment * lever / plain)
    top, curve = max(ratios, key=lambda key: float(ratios[key].max()))
    place = int(ratios[top, curve].argmax())
    return place, top, curve and bool(axial[place] < 0.0)


def largest_shear(work: Work) -> Symbol:
    """Largest shear of the rail."""
    from sympy import Abs

    sheet, spot, beam = work.sheet, work.spot, work.beam()
    place = int(np.abs(work.peaks("shear")).argmax())
    (shear,) = cut_at(sheet, spot, beam=beam, station=station_of(spot, place=place), want="V", tail="_2")
    return sheet.find("Largest shear", "V_r", Abs(work.thrown(shear)), FORCE, rounding="up", clause=_BEAM)


def _sheared(work: Work) -> tuple[Symbol, Symbol]:
    """Largest shear of the rail, and what its side wall alone carries."""
    return largest_shear(work), wall_shear(work.sheet, work.spot, fy=work.fy())


def _together(work: Work) -> None:
    sheet, spot = work.sheet, work.spot
    bent, shear = [], None
    if work.bends:
        bent.append(_bent(work))
        demand, capacity = _sheared(work)
        shear = work.share(demand, capacity, name="R_v", words="shear in the side wall")
    else:
        sheet.note("Of the rail only what the hanger does to it is worked out in this row.")
    twist, torque = twist_share_of(sheet, spot, body=work.body, stiffener=work.stiffener(), fy=work.fy())
    turned = work.share(twist, torque, name="R_t", words="torsion at the hanger")
    pushed, across = aside_share(sheet, spot, body=work.body, stiffener=work.stiffener(), fy=work.fy())
    aside = work.share(pushed, across, name="R_s", words="sideways bending at the hanger")
    shares = (*bent, aside)
    together(sheet, spot.basis, axial=None, bending=shares, shear=shear, torsion=turned, engine=spot.utilization)


def _push(work: Work) -> None:
    sheet, spot = work.sheet, work.spot
    sheet.find(
        "Utilization", "U", _bent(work), NUMBER, rounding="up", engine=spot.utilization, clause=spot.check.clause
    )


def _edge(work: Work) -> None:
    """Largest compressive stress of the top edge against what the U-frames hold it to."""
    sheet, spot, beam = work.sheet, work.spot, work.beam()
    station = station_of(spot, ranked=lambda fibers: -fibers[1])
    n, m = cut_at(sheet, spot, beam=beam, station=station, want=("N", "M"))
    top = sheet.given("n_t", spot.solution.section.top, LENGTH, "highest fiber above the floor")
    stress = m * (top - named("n_0")) / named("I") - n / named("A")
    pressed = sheet.find("Compressive stress of the top edge", "sigma_c", stress, STRESS, clause=_BEAM)
    if sheet.value(pressed) < 0.0:
        pressed = 0 * pressed
    demand = sheet.find(
        "The same, as it counts",
        "sigma",
        work.thrown(pressed),
        STRESS,
        rounding="up",
        note=_THROWN if work.body.parted else "",
        engine=spot.of(spot.check.demand),
        against=rail_metal(spot.solution.rig),
        clause=_LOST if work.body.parted else _BEAM,
    )
    capacity = edge_allows(sheet, spot, fy=work.fy())
    work.book.use(sheet, spot, demand=demand, capacity=capacity)


def _wall(work: Work) -> None:
    demand = wall_pull(work.sheet, work.spot, body=work.body)
    work.book.use(work.sheet, work.spot, demand=demand, capacity=wall_holds(work.sheet, work.spot))


def _shear(work: Work) -> None:
    demand, capacity = _sheared(work)
    work.book.use(work.sheet, work.spot, demand=demand, capacity=capacity)


def _twist(work: Work) -> None:
    found = twist_share_of(work.sheet, work.spot, body=work.body, stiffener=work.stiffener(), fy=work.fy())
    work.book.use(work.sheet, work.spot, demand=found[0], capacity=found[1])


def _aside(work: Work) -> None:
    found = aside_share(work.sheet, work.spot, body=work.body, stiffener=work.stiffener(), fy=work.fy())
    work.book.use(work.sheet, work.spot, demand=found[0], capacity=found[1])


_MAKERS: dict[Enum | None, Callable[[Work], None]] = {
    RailWay.TOGETHER: _together,
    RailWay.COLUMN: _push,
    RailWay.EDGE: _edge,
    RailWay.WALL: _wall,
    RailWay.SHEAR: _shear,
    RailWay.TORSION: _twist,
    RailWay.SIDEWAYS: _aside,
}
WAYS = tuple(_MAKERS)
"""Ways that this section works."""
