"""The welds that a case describes, run by run, with their metal and the electrodes for them."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from rigcheck.analysis.post_model import lug_run
from rigcheck.case.rig import Rig
from rigcheck.loads.steel import cross_member_count
from rigcheck.loads.traps import traps
from rigcheck.parts.cross_member.welds import ROUND, butts, end_weld_known, run_length
from rigcheck.parts.hinge.ears import has_plates, plates_of
from rigcheck.studies.materials.record import WeldRun
from rigcheck.tables import shapes
from rigcheck.tables.materials import steel_density
from rigcheck.tables.shapes import Shape

CONVEX = 1.1
"""Weld metal over the flat triangle of a fillet. Source: common practice, no published source."""
DEPOSITED = 0.6
"""Share of a covered electrode that ends up in the weld; the rest is stub, slag and spatter. Wire wastes less.
Source: common practice, no published source."""
_SEAMS = (("wall_seam", "stiffener to side wall"), ("floor_seam", "side wall to floor"))
_MEMBERS = (("cross_member", "ends of the cross-members"), ("end_tube", "ends of the end tubes"))


def weld_metal(leg: float, *, length: float) -> float:
    """Weight of a fillet's metal, w = 1.1 a^2/2 L times the density of steel. [lbf]

    Args:
        leg: Leg. [in]
        length: Length of the run. [in]

    Source: geometry; the 1.1 is common practice, no source; docs/method.md#materials.
    """
    return CONVEX * 0.5 * leg**2 * length * steel_density()


def _run(key: str, name: str, *, leg: float, count: int, run: float) -> WeldRun:
    deposit = weld_metal(leg, length=count * run)
    return WeldRun(key=key, name=name, leg=leg, count=count, run=run, deposit=deposit, electrode=deposit / DEPOSITED)


def weld_runs(rig: Rig) -> tuple[list[WeldRun], list[str]]:
    """Every weld that the case describes, and those that it does not.

    Args:
        rig: The rig, no batch.

    Returns:
        Runs in the order box, hinge, lugs, posts, eyelets; what is not described, in words.

    Source: docs/method.md#materials.
    """
    runs: list[WeldRun] = []
    missing: list[str] = []
    for found in (_seams(rig), _members(rig), _traps(rig), _hinge(rig), _lugs(rig), _posts(rig)):
        for one in found:
            (missing if isinstance(one, str) else runs).append(one)  # type: ignore[arg-type]  # each goes to its list
    if len(rig.value("stretch")) > 1:
        missing.append("joints between the stretches: their welds, flanges and bolts")
    missing.append("welds that have no key: dividers, floor to cross-members and end tubes, fittings")
    return runs, missing


def _seams(rig: Rig) -> Iterator[WeldRun | str]:
    length = float(rig.number("box.length"))
    for seam, name in _SEAMS:
        key = f"rail.{seam}"
        if seam == "wall_seam" and not rig.has("rail.stiffener"):
            continue
        made = rig.value(f"{key}.made")
        if made == "bent":
            continue
        if made is None or not rig.has(f"{key}.leg"):
            yield f"weld of {name}"
            continue
        sides, leg = int(rig.value(f"{key}.sides")), float(rig.number(f"{key}.leg"))
        if made == "continuous":
            yield _run(f"{key}.leg", f"{name}, continuous", leg=leg, count=2 * sides, run=length)
            continue
        if not (rig.has(f"{key}.length") and rig.has(f"{key}.pitch")):
            yield f"weld of {name}"
            continue
        stitch, pitch = float(rig.number(f"{key}.length")), float(rig.number(f"{key}.pitch"))
        count = int(np.floor(max(length - stitch, 0.0) / pitch + 1e-9)) + 1
        yield _run(f"{key}.leg", f"{name}, stitches", leg=leg, count=2 * sides * count, run=stitch)


def _around(shape: Shape) -> float | None:
    """Length of a weld all round a shape; None for an angle, whose outline is neither ring nor rectangle. [in]"""
    if shape.kind == "angle":
        return None
    return float(np.pi * shape.depth) if shape.kind in ROUND else 2.0 * (shape.depth + shape.width)


def _members(rig: Rig) -> Iterator[WeldRun | str]:
    for table, name in _MEMBERS:
        if not rig.has(f"{table}.shape"):
            continue
        shape = shapes.find(rig.value(f"{table}.shape"))
        tubes = table == "end_tube"
        under = tubes or str(rig.value("cross_member.at")) == "under"
        ends = sum(bool(rig.value(f"end_tube.{end}")) for end in ("head", "tail"))
        count = 2 * ends if tubes else 2 * int(cross_member_count(rig))
        if not count:
            continue
        if not rig.has("cross_member.shape") or not end_weld_known(rig, shape=shape, under=under):
            yield f"weld at the {name}"
            continue
        leg = float(rig.number("cross_member.weld"))
        if butts(rig, shape=shape, under=under):
            yield _run("cross_member.weld", f"{name}, all round", leg=leg, count=count, run=_around(shape) or 0.0)
        else:
            run = run_length(rig, shape=shape, under=under)
            yield _run("cross_member.weld", f"{name}, two runs each", leg=leg, count=2 * count, run=float(run or 0.0))


def _traps(rig: Rig) -> Iterator[WeldRun | str]:
    """Two runs at either end of a trap below the floor; what runs on between them is not described."""
    for one in traps(rig):
        if not one.below:
            yield f"welds of {one.part}, a plate on the floor"
        elif not (rig.has(f"{one.key}.weld") and rig.has(f"{one.key}.weld_length")):
            yield f"welds of {one.part}"
        else:
            leg, run = float(rig.number(f"{one.key}.weld")), float(rig.number(f"{one.key}.weld_length"))
            yield _run(f"{one.key}.weld", f"{one.part}, along both edges from either side", leg=leg, count=4, run=run)


def _ears(rig: Rig) -> Iterator[WeldRun | str]:
    for key, name, count in plates_of(rig):
        if not (rig.has(key) and rig.has(f"{key}.weld")):
            yield f"welds of the {name}"
            continue
        leg, run = float(rig.number(f"{key}.weld")), float(lug_run(rig, key=key))
        yield _run(f"{key}.weld", f"{name}, both faces", leg=leg, count=2 * count, run=run)


def _hinge(rig: Rig) -> Iterator[WeldRun | str]:
    if has_plates(rig):
        yield from _ears(rig)
        return
    if not all(rig.has(f"hinge.{key}") for key in ("barrels", "barrel_length", "weld", "weld_length")):
        yield "welds of the hinge barrels"
        return
    run = min(float(rig.number("hinge.weld_length")), 2.0 * float(rig.number("hinge.barrel_length")))
    count = 2 * int(rig.value("hinge.barrels"))
    yield _run("hinge.weld", "hinge barrels, box and plant", leg=float(rig.number("hinge.weld")), count=count, run=run)


def _lugs(rig: Rig) -> Iterator[WeldRun | str]:
    lugs = [("hanger.lug", "hanger lugs", 2), ("perch.lug", "perch lugs", 2)]
    for i, strap in enumerate(rig.value("haul.tie_down") or ()):
        if strap.eyelet is not None:
            lugs.append((f"haul.tie_down.{i}.eyelet", f"eyelet of tie-down {i + 1}", int(strap.count)))
    for key, name, count in lugs:
        if not (rig.has(key) and rig.has(f"{key}.weld")):
            yield f"welds of the {name}"
            continue
        faces = 4 if rig.value(f"{key}.through") else 2
        leg, run = float(rig.number(f"{key}.weld")), float(lug_run(rig, key=key))
        yield _run(f"{key}.weld", f"{name}, both faces", leg=leg, count=count * faces, run=run)


def _posts(rig: Rig) -> Iterator[WeldRun | str]:
    if not rig.has("perch.post"):
        return
    around = _around(shapes.find(rig.value("perch.post.shape")))
    if around is None or not rig.has("perch.post.weld"):
        yield "base welds of the perch posts"
    else:
        leg = float(rig.number("perch.post.weld"))
        yield _run("perch.post.weld", "perch post bases, all round", leg=leg, count=2, run=around)
    if rig.has("perch.post.brace"):
        yield "welds of the knee braces"
    if rig.value("perch.post.cap"):
        yield "welds of the post caps"
