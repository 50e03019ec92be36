"""The materials list of a rig: what to cut, weld and buy for it, from the take-off and the case, nothing invented."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from rigcheck.analysis.post_model import lug_foot
from rigcheck.assessment.assess import Assessment
from rigcheck.case.rig import Rig
from rigcheck.loads.measured import total
from rigcheck.loads.steel import estimate, take_off
from rigcheck.loads.take_off import Cut, Piece
from rigcheck.parts.fold.checks import SNUB
from rigcheck.parts.hinge.ears import BOX as BOX_EAR
from rigcheck.parts.hinge.ears import has_plates, pins_of, plate_gap, plates_of
from rigcheck.parts.tie_down.checks import strap_name
from rigcheck.quantities import tape
from rigcheck.studies.hoist_window.study import HoistWindow, hoist_windows
from rigcheck.studies.materials.record import BOX, ON_BOX, ON_PLANT, Bought, Carried, CutPiece, Materials
from rigcheck.studies.materials.welds import weld_runs
from rigcheck.tables import shapes
from rigcheck.tables.link_kinds import HOISTS
from rigcheck.tables.materials import gauge_of, steel_density

_FULL = "full length, hinge line to lip; nothing taken off"
_WIDE = "inside width and both side sheets; nothing taken off for the joints"
_BLANK = "blank as sheared, hole and corners still in it"
_DEDUCTIONS = {
    "box.sheet": "inside width by full length; nothing taken off for bends or laps",
    "box.side_sheet": _FULL,
    "box.divider_sheet": _FULL,
    "rail.stiffener": _FULL,
    "cross_member.shape": _WIDE,
    "end_tube.shape": _WIDE,
    "trap": "developed width by inside width and both side sheets; the two plates at its ends are weighed with it",
    "trap.cover": "over the slot and both walls, by inside width",
    "gate": "its top less its slot, by inside width",
}
_SNUB = "fold.snub"
_BOTH = 2  # sides, each with its line


def materials(found: Assessment) -> Materials:
    """List what a rig is made of.

    Args:
        found: The assessment of one rig, no batch.

    Returns:
        The list; its box and what the box carries add up to the take-off.

    Source: docs/method.md#materials.
    """
    rig = found.solution.rig
    every = estimate(rig)
    runs, unwelded = weld_runs(rig)
    made, unmade = _split(_attached(rig))
    return Materials(
        pieces=(*(_cut(piece, piece.cut) for piece in every if piece.cut is not None), *made),
        carried=tuple(_carried(rig, every=every)),
        welds=tuple(runs),
        bought=tuple(_hardware(found)),
        empty=float(total(take_off(rig))),
        missing=(*unmade, *unwelded),
    )


def steel_weight(rig: Rig) -> float:
    """Weight of all steel that a case describes: the box by its take-off, and what is welded to box and plant. [lbf]

    Args:
        rig: One rig, no batch; what a scale found of its box is left aside.

    Source: docs/method.md#materials.
    """
    made, _ = _split(_attached(rig))
    box = (float(piece.weight) for piece in estimate(rig) if piece.cut is not None)
    return sum(box) + sum(piece.weight for piece in made)


def _split(found: Iterator[CutPiece | str]) -> tuple[list[CutPiece], list[str]]:
    pieces: list[CutPiece] = []
    missing: list[str] = []
    for one in found:
        if isinstance(one, str):
            missing.append(one)
        else:
            pieces.append(one)
    return pieces, missing


def _plate(thickness: float) -> str:
    """Sheet by its gauge where a gauge has just this thickness, else plate by its thickness."""
    number = gauge_of(thickness)
    return _thick("plate", thickness) if number is None else f"{number} ga sheet"


def _thick(what: str, thickness: float) -> str:
    """What it is with its thickness or diameter, in sixteenths where it is just that."""
    marks = 16.0 * thickness
    size = tape(thickness) if abs(marks - round(marks)) < 1e-6 else f"{thickness:.4g} in"
    return f"{size} {what}"


def _cut(piece: Piece, cut: Cut) -> CutPiece:
    sheet = None if cut.sheet is None else float(cut.sheet)
    return CutPiece(
        key=cut.key,
        name=cut.name,
        place=BOX,
        stock=cut.stock or _plate(sheet or 0.0),
        sheet=sheet,
        count=int(np.asarray(cut.count)),
        length=float(cut.length),
        across=None if cut.across is None else float(cut.across),
        weight=float(piece.weight),
        steel=cut.steel,
        deduction=_DEDUCTIONS[cut.key],
    )


def _carried(rig: Rig, *, every: list[Piece]) -> Iterator[Carried]:
    """What the empty box weighs beside its pieces, and what a scale found more or less than all of that."""
    for piece in every:
        if piece.cut is None:
            yield Carried(name=piece.name, weight=float(piece.weight), source=piece.source)
    more = float(total(take_off(rig)) - total(every))
    if abs(more) > 1e-9 * float(total(every)):
        yield Carried(name="the weighed box beside its geometry", weight=more, source="measured less estimate")


def _attached(rig: Rig) -> Iterator[CutPiece | str]:
    """Pieces welded to the box or the plant that the take-off does not weigh one by one."""
    yield from _hinge(rig)
    yield from _lug_blanks(rig)
    yield from _posts(rig)
    if not rig.has("cross_member.shape"):
        yield "cross-members"
    if not rig.has("end_tube.shape"):
        yield "end tubes"


def _ears(rig: Rig) -> Iterator[CutPiece | str]:
    """Ears of box and plant, and the pin through those of one side."""
    ears = tuple((key, name, ON_BOX if key == BOX_EAR else ON_PLANT, count) for key, name, count in plates_of(rig))
    for key, name, place, count in ears:
        if rig.has(key):
            yield _plate_blank(rig, key, name=name, place=place, count=count, note=_BLANK)
        else:
            yield name
    if not (rig.has("hinge.pin") and all(rig.has(key) for key, *_ in ears)):
        yield "hinge pins" if pins_of(rig) > 1 else "pivot bar"
        return
    pins = pins_of(rig)
    through = sum(count for *_, count in ears) // pins
    reach = sum(count // pins * float(rig.number(f"{key}.plate")) for key, _, _, count in ears)
    reach += (through - 1) * float(plate_gap(rig))
    yield _pin(
        rig, reach=reach, count=pins, note="over the ears and their gaps; add what the retainers need at the ends"
    )


def _pin(rig: Rig, *, reach: float, note: str, count: int = 2) -> CutPiece:
    """The pins of both sides, or the one bar of a center pivot, as long as what they go through."""
    pin = float(rig.number("hinge.pin"))
    return CutPiece(
        key="hinge.pin",
        name="hinge pins" if count > 1 else "pivot bar",
        place=ON_PLANT,
        stock=_thick("round", pin),
        sheet=pin,
        count=count,
        length=reach,
        weight=count * 0.25 * np.pi * pin**2 * reach * steel_density(),
        steel=str(rig.value("hinge.pin_steel")),
        deduction=note,
    )


def _hinge(rig: Rig) -> Iterator[CutPiece | str]:
    if has_plates(rig):
        yield from _ears(rig)
        return
    if not all(rig.has(f"hinge.{key}") for key in ("barrels", "barrel_length")):
        yield "hinge barrels"
        yield "hinge pins"
        return
    barrels, own = int(rig.value("hinge.barrels")), float(rig.number("hinge.barrel_length"))
    theirs = float(rig.number_or("hinge.plant_barrel_length", own))
    on_box = barrels // 2
    if rig.has("hinge.pin"):
        reach = on_box * own + (barrels - on_box) * theirs + (barrels - 1) * float(rig.number("hinge.gap"))
        yield _pin(rig, reach=reach, note="over the barrels and their gaps; add what the retainers need at the ends")
    else:
        yield "hinge pins"
    places = (
        ("box", ON_BOX, on_box, own, "barrel_wall"),
        ("plant", ON_PLANT, barrels - on_box, theirs, "plant_barrel_wall"),
    )
    for where, place, count, length, key in places:
        wall = rig.number_or(f"hinge.{key}", rig.number("hinge.barrel_wall")) if rig.has("hinge.barrel_wall") else None
        if wall is None or not rig.has("hinge.pin"):
            yield f"hinge barrels on the {where}: wall or bore"
            continue
        thick, bore = float(wall), float(rig.number("hinge.pin"))
        outside, ring = bore + 2.0 * thick, np.pi * (bore + thick) * thick
        yield CutPiece(
            key=f"hinge.{key}",
            name=f"hinge barrels, {where}",
            place=place,
            stock=_thick("bored", outside),
            sheet=outside,
            count=2 * count,
            length=length,
            weight=2.0 * count * ring * length * steel_density(),
            steel=str(rig.value("hinge.barrel_steel")) if where == "box" else "",
            deduction="bore as the pin; the running clearance is not described",
        )


def _lug_blanks(rig: Rig) -> Iterator[CutPiece | str]:
    lugs = [("hanger.lug", "hanger lugs", ON_BOX, _BOTH), ("perch.lug", "perch lugs", ON_PLANT, _BOTH)]
    for i, strap in enumerate(rig.value("haul.tie_down") or ()):
        lugs.append((f"haul.tie_down.{i}.eyelet", f"eyelets, tie-down {i + 1}", ON_BOX, int(strap.count)))
    for key, name, place, count in lugs:
        if not rig.has(key):
            yield name
            continue
        through = bool(rig.value(f"{key}.through"))
        note = "from the outer face of the tube; add the tube it goes through" if through else _BLANK
        yield _plate_blank(rig, key, name=name, place=place, count=count, note=note)


def _plate_blank(rig: Rig, key: str, *, name: str, place: str, count: int, note: str) -> CutPiece:
    """The rectangle that a plate with a hole is cut from, from what it is welded to."""
    plate, edge, off = (float(rig.number(f"{key}.{word}")) for word in ("plate", "edge", "stand_off"))
    wide = max(float(lug_foot(rig, key=key)), float(rig.number(f"{key}.width")))
    tall = (off or edge) + edge
    return CutPiece(
        key=key,
        name=name,
        place=place,
        stock=_plate(plate),
        sheet=plate,
        count=count,
        length=wide,
        across=tall,
        weight=count * plate * wide * tall * steel_density(),
        steel=str(rig.value(f"{key}.steel")),
        deduction=note,
    )


def _posts(rig: Rig) -> Iterator[CutPiece | str]:
    if not rig.has("perch.post"):
        yield "perch posts"
        return
    shape = shapes.find(rig.value("perch.post.shape"))
    length = float(rig.number("perch.post.free_length") + rig.number("perch.post.past_lug"))
    yield CutPiece(
        key="perch.post.shape",
        name="perch posts",
        place=ON_PLANT,
        stock=shape.name,
        count=_BOTH,
        length=length,
        weight=_BOTH * length * shape.weight_per_length,
        steel=str(rig.value("perch.post.steel")),
        deduction="base weld to perch lug, and what is past the lug; add what stands above that",
    )
    if rig.value("perch.post.cap"):
        yield "caps of the perch posts: thickness"
    if rig.has("perch.post.brace"):
        brace = shapes.find(rig.value("perch.post.brace.shape"))
        aside, foot, top = (
            float(rig.number(f"perch.post.brace.{key}")) for key in ("foot_downstream", "foot_below", "top_below")
        )
        run = float(np.hypot(aside, foot - top))
        yield CutPiece(
            key="perch.post.brace.shape",
            name="knee braces",
            place=ON_PLANT,
            stock=brace.name,
            count=_BOTH,
            length=run,
            weight=_BOTH * run * brace.weight_per_length,
            steel=str(rig.value("perch.post.brace.steel")),
            deduction="axis to axis; cut to fit at post and foot",
        )


def _hardware(found: Assessment) -> Iterator[Bought]:
    """Links of both lines, their backups, the snub line and the tie-downs, each where it is used most."""
    solution = found.solution
    rig = solution.rig
    windows = {one.index: one for one in hoist_windows(found)}
    for table, links in (("line.link", solution.links), ("line.backup", solution.backup)):
        for i, link in enumerate(links):
            told = rig.value(f"{table}.{i}")
            own = table == "line.link" and link.kind in HOISTS
            yield _bought(
                found,
                key=f"{table}.{i}",
                name=link.label,
                count=_BOTH * int(told.count),
                size=told.size or told.diameter,
                window=windows.get(i) if own else None,
            )
    if rig.value("fold.snub"):
        mark = float(rig.number("fold.snub_wll")) if rig.has("fold.snub_wll") else None
        yield replace(_bought(found, key=_SNUB, name=SNUB, count=1), wll=mark)
    for i, strap in enumerate(rig.value("haul.tie_down") or ()):
        yield _bought(found, key=f"haul.tie_down.{i}", name=strap_name(rig, i), count=int(strap.count))


def _bought(
    found: Assessment,
    *,
    key: str,
    name: str,
    count: int,
    size: float | None = None,
    window: HoistWindow | None = None,
) -> Bought:
    rig = found.solution.rig
    wll, mbf = (
        float(rig.number(f"{key}.{word}")) if key != _SNUB and rig.has(f"{key}.{word}") else None
        for word in ("wll", "mbf")
    )
    bare = Bought(
        key=key,
        name=name,
        count=count,
        size=size,
        wll=wll,
        mbf=mbf,
        least=None if window is None else window.least,
        most=None if window is None else window.most,
    )
    own = [one for one in found.worst if one.check.key == key and float(one.utilization) >= 0.0]
    if not own:
        return bare
    top = max(own, key=lambda one: float(one.utilization))
    force = top.check.unit == "force"
    return replace(
        bare,
        utilization=float(top.utilization),
        demand=float(top.demand) if force else None,
        allowable=float(top.capacity) if force else None,
        ultimate=top.check.ultimate,
    )
