"""A joint of two stretches under what runs through the rail on either side of it, and the member where sides turn."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import Enum
from functools import partial
from typing import Any

import numpy as np

from rigcheck.calculation import askew
from rigcheck.calculation.allowed import Member
from rigcheck.calculation.book import Book
from rigcheck.calculation.member_loads import of_the_floor, under_the_floor
from rigcheck.calculation.pages import Section
from rigcheck.calculation.rail_cut import cut_at
from rigcheck.calculation.rail_station import Station
from rigcheck.calculation.rail_strength import Work
from rigcheck.calculation.run import Run
from rigcheck.calculation.sharing import named
from rigcheck.calculation.sheet import Sheet, Symbol
from rigcheck.calculation.spot import Spot
from rigcheck.calculation.weld_line import weld_allows
from rigcheck.parts.joint.checks import member_at, turns_of, weld_joints
from rigcheck.parts.joint.forces import Cut, weld_group
from rigcheck.parts.joint.forces import cut_at as cut_of
from rigcheck.parts.joint.ways import JointWay
from rigcheck.parts.stretches import rail_views
from rigcheck.quantities.measures import FORCE, LENGTH, MODULUS, MOMENT, NUMBER, PER_LENGTH, STRESS
from rigcheck.strength.connections.bolts import LOWEST, bolt_strength, pulled_flange
from rigcheck.tables import steel

_JOINT = "docs/method.md#stretches"


def joint_section(book: Book) -> Section:
    """The joint, or the member where the sides turn, with the highest use."""
    spot = book.spot(lambda check: check.way in _MAKERS, road=False)
    if spot is None or not spot.bends:
        return book.missing("joint", "no joint of stretches is described, or no rail is bent in these states")
    sheet = book.sheet()
    _MAKERS[spot.check.way](book, sheet, spot)
    return book.section("joint", spot, sheet)


@dataclass(frozen=True, slots=True)
class _Through:
    """What runs through the rail on the worse side of a joint: N, V, M about its own neutral axis, and its work."""

    work: Work
    axial: Symbol
    shear: Symbol
    moment: Symbol

    def about(self, height: Any, *, name: str = "M_c", words: str) -> Symbol:
        """Moment about another height over the floor."""
        expression = self.moment + self.axial * (height - named("n_0"))
        return self.work.sheet.find(f"Moment about {words}", name, expression, MOMENT, clause=_JOINT)


def _through(book: Book, sheet: Sheet, spot: Spot, *, at: float, ranked: Callable[[Cut], Any]) -> _Through:
    """Cut the rail just before or just behind a station, whichever asks for more."""
    whole, number = spot.whole, spot.solution.here.number
    assert number is not None and whole.layout.along is not None
    pair = whole.bent.place(spot.index, spot.bound)
    cut = cut_of(whole, at=np.asarray(at))
    behind = int(np.argmax(np.asarray(ranked(cut))[:, pair, spot.side])) if number else 1
    stretch = number - 1 + behind
    view = rail_views(whole)[stretch]
    here = Spot(whole, replace(spot.found, check=replace(spot.check, seen=view)), spot.scale)
    axial, shear, floor = (float(part[behind, pair, spot.side]) for part in (cut.pull, cut.shear, cut.moment))
    moment = floor + axial * float(view.section.axis)
    station = Station(
        pair=pair, side=spot.side, limp=spot.bound_key == "limp", at_head=False, x=at,
        before=behind == 0, amid=False, moment=moment, axial=axial, shear=shear, stress=0.0,
    )  # fmt: skip
    work = Work(book, sheet, here, book.whole_box(sheet, here))
    beam = work.beam()
    sheet.note(f"Just {'before' if station.before else 'behind'} the station, in stretch {stretch + 1}.")
    return _Through(work, *cut_at(sheet, here, beam=beam, station=station))


def _ranked_weld(spot: Spot, number: int) -> Callable[[Cut], Any]:
    group = weld_group(spot.whole.rig, number)
    values = {name: float(getattr(group, name)) for name in ("length", "center", "inertia", "far", "upright")}

    def ranked(cut: Cut) -> Any:
        out = np.abs(cut.pull) / values["length"]
        out = out + np.abs(cut.moment + cut.pull * values["center"]) * values["far"] / values["inertia"]
        return np.hypot(out, cut.shear / values["upright"])

    return ranked


def _weld(book: Book, sheet: Sheet, spot: Spot) -> None:
    """Weld as lines: up the side wall, round the stiffener, along the strip of floor."""
    from sympy import Abs, sqrt

    rig, number = spot.whole.rig, _number(spot)
    run = _through(book, sheet, spot, at=_station(spot), ranked=_ranked_weld(spot, number))
    group = weld_group(rig, number)
    center = sheet.given("c_m", group.center, LENGTH, "middle of the weld above the floor")
    moment = run.about(center, words="the middle of the weld")
    length = sheet.given("l_w1", group.length, LENGTH, "length of the weld, wall and what else is welded")
    inertia = sheet.given("I_w", group.inertia, MODULUS, "second moment of its lines")
    far = sheet.given("r_w", group.far, LENGTH, "its farthest line from the middle")
    upright = sheet.given("l_v", group.upright, LENGTH, "length up the side wall, which takes the shear")
    out = sheet.find(
        "Force per inch square to the joint", "f_n", Abs(run.axial) / length + Abs(moment) * far / inertia, PER_LENGTH,
        clause="welds as lines (memory)",
    )  # fmt: skip
    whole = run.work.thrown(sqrt(out**2 + (run.shear / upright) ** 2))
    demand = sheet.find(
        "Force per inch of the weld", "f", whole, PER_LENGTH, rounding="up", engine=spot.of(spot.check.demand),
        clause=_JOINT,
    )  # fmt: skip
    joints = [
        (name, replace(joint, **{key: float(np.max(getattr(joint, key))) for key in ("leg", "length", "thickness")}))
        for name, joint in weld_joints(rig, number)
    ]
    allowed = weld_allows(
        sheet,
        joints,
        basis=spot.basis,
        hand=str(rig.value("weld.hand")),
        engine=spot.of(spot.check.capacity),
        below="j",
    )
    book.use(sheet, spot, demand=demand, capacity=allowed)


def _number(spot: Spot) -> int:
    number = spot.solution.here.number
    assert number is not None
    return number


def _station(spot: Spot) -> float:
    along = spot.whole.layout.along
    assert along is not None
    return float(along.pieces[_number(spot)].start)


def _row_of_bolts(spot: Spot) -> tuple[int, float, float, float]:
    """Bolts in the row, their pitch, the row's middle above the floor, and its farthest bolt over its squares."""
    rig, key = spot.whole.rig, f"stretch.{_number(spot)}.joint"
    count, pitch = int(rig.value(f"{key}.count")), float(rig.number(f"{key}.pitch"))
    half = 0.5 * (count - 1)
    square = sum((i - half) ** 2 for i in range(count)) * pitch**2
    return count, pitch, float(rig.number(f"{key}.first")) + half * pitch, half * pitch / square


def _pulled(spot: Spot) -> Callable[[Cut], Any]:
    count, _, center, share = _row_of_bolts(spot)
    return lambda cut: np.maximum(cut.pull, 0.0) / count + np.abs(cut.moment + cut.pull * center) * share


def _bolt_pull(sheet: Sheet, spot: Spot, run: _Through) -> Symbol:
    """Pull of the bolt that has most of it."""
    from sympy import Abs

    count, pitch, center, _ = _row_of_bolts(spot)
    middle = sheet.given("c_b", center, LENGTH, "middle of the row of bolts above the floor")
    moment = run.about(middle, words="the middle of the row")
    many = sheet.given("m_b", count, NUMBER, "bolts in the row")
    apart = sheet.given("p_b", pitch, LENGTH, "pitch of the bolts")
    pulled = run.axial / many if sheet.value(run.axial) > 0.0 else 0 * run.axial
    # y_far / sum y^2 of n bolts a pitch p apart: 6 / (n (n + 1) p)
    most = pulled + Abs(moment) * 6 / (many * (many + 1) * apart)
    return sheet.find(
        "Pull of the bolt that has most", "T_b", most, FORCE,
        note="N/n where it pulls, and M y/sum y^2 about the middle of the row: 6/(n (n + 1) p) for the last of them.",
        clause="elastic bolt group (memory), docs/method.md#stretches",
    )  # fmt: skip


def _bolts(book: Book, sheet: Sheet, spot: Spot) -> None:
    from sympy import Abs

    rig, key = spot.whole.rig, f"stretch.{_number(spot)}.joint"
    count, pulled = _row_of_bolts(spot)[0], _pulled(spot)
    grade, size = rig.value(f"{key}.grade") or LOWEST, rig.number(f"{key}.size")
    holds = bolt_strength(size, grade=grade, basis=spot.basis)

    def ranked(cut: Cut) -> Any:
        return pulled(cut) / float(holds.tension) + np.abs(cut.shear) / count / float(holds.shear)

    run = _through(book, sheet, spot, at=_station(spot), ranked=ranked)
    pull = _bolt_pull(sheet, spot, run)
    cut = sheet.find("Shear of each", "V_b", Abs(run.shear) / named("m_b"), FORCE)
    tell, basis = Run(sheet), Run(sheet).basis(spot.basis)
    diameter = tell.given("D_b", size, LENGTH, "diameter of the bolts")
    make = partial(bolt_strength, diameter, grade=grade, basis=basis)
    held = tell.tell(lambda: make().tension, "T_a", "Allowed pull of a bolt", FORCE, engine=float(holds.tension))
    shear = tell.tell(lambda: make().shear, "V_a", "Allowed shear of a bolt", FORCE, engine=float(holds.shear))
    use = run.work.thrown(pull / held + cut / shear)
    sheet.find(
        "Utilization, both shares added", "U", use, NUMBER, rounding="up", engine=spot.utilization,
        clause=spot.check.clause,
    )  # fmt: skip


def _flange(book: Book, sheet: Sheet, spot: Spot) -> None:
    rig, key = spot.whole.rig, f"stretch.{_number(spot)}.joint"
    run = _through(book, sheet, spot, at=_station(spot), ranked=_pulled(spot))
    pull = run.work.thrown(_bolt_pull(sheet, spot, run))
    told = spot.of(spot.check.demand)
    demand = sheet.find("Pull on the flange", "P_f", pull, FORCE, rounding="up", engine=told, clause=_JOINT)
    tell = Run(sheet)
    thick = tell.given("t_f", rig.number(f"{key}.flange"), LENGTH, "flange")
    strip = tell.given("p_f", rig.number(f"{key}.pitch"), LENGTH, "length of flange that a bolt has")
    gauge = tell.given("g_f", rig.number(f"{key}.gauge"), LENGTH, "from the wall to the middle of the bolts")
    fy = tell.given("F_y", steel.grade(str(rig.value(f"{key}.flange_steel"))).fy, STRESS, "yield stress of the flange")
    make = partial(pulled_flange, thick, strip=strip, gauge=gauge, fy=fy, basis=tell.basis(spot.basis))
    held = tell.tell(make, "P_a", "Pull of a bolt that the flange takes", FORCE, engine=spot.of(spot.check.capacity))
    book.use(sheet, spot, demand=demand, capacity=held)


def _turn(book: Book, sheet: Sheet, spot: Spot) -> None:
    """The member across where the sides turn: M times the change of half the spacing's slope, the floor over it."""
    from sympy import Abs

    number, rig, along = _number(spot), spot.whole.rig, spot.whole.layout.along
    assert along is not None
    at = dict(turns_of(spot.whole))[number]
    axes = [float(along.pieces[k].axis) for k in (max(number - 1, 0), number)]

    def ranked(cut: Cut) -> Any:
        return np.stack([np.abs(cut.moment[k] + cut.pull[k] * axis) for k, axis in enumerate(axes)])

    run = _through(book, sheet, spot, at=float(at), ranked=ranked)
    before = float(along.pieces[number - 1].slope) if number else 0.0
    more = sheet.given("d_k", abs(float(along.pieces[number].slope) - before), NUMBER,
                       "change of the slope of the rails' spacing")  # fmt: skip
    bent = sheet.find(
        "What of it the rails cannot carry round the turn", "M_k", run.work.thrown(Abs(run.moment) * more / 2), MOMENT,
        clause=_JOINT,
    )  # fmt: skip
    carried = of_the_floor(sheet, spot).upright if under_the_floor(rig) else 0
    demand = sheet.find(
        "Moment of the member", "M_m", bent + carried, MOMENT, rounding="up", engine=spot.of(spot.check.demand),
        clause=_JOINT,
    )  # fmt: skip
    bar = member_at(rig, at)
    assert bar is not None
    metal = steel.grade(str(rig.value("cross_member.steel")) if rig.has("cross_member.shape") else "unknown")
    length = askew.spacing_at(along, float(at))
    part = Member(sheet=sheet, basis=spot.basis, shape=bar, metal=metal, length=length, word="member across")
    book.use(sheet, spot, demand=demand, capacity=part.moment("x", name="M_a", words="about the level axis"))


_MAKERS: dict[Enum | None, Callable[[Book, Sheet, Spot], None]] = {
    JointWay.WELD: _weld,
    JointWay.BOLTS: _bolts,
    JointWay.FLANGE: _flange,
    JointWay.TURN: _turn,
}
WAYS = tuple(_MAKERS)
"""Ways that this section works."""
