"""What presses on the floor in each state, and the floor sheet as strips between its supports."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rigcheck.analysis.items import Item
from rigcheck.analysis.missing import Missing
from rigcheck.analysis.rows import Check
from rigcheck.analysis.solve import Solution
from rigcheck.arrays.types import Array
from rigcheck.case.rig import Rig
from rigcheck.loads.steel import cross_member_count
from rigcheck.parts.floor.ways import FOOT, FloorWay
from rigcheck.strength.bases import BASES
from rigcheck.strength.members.strips import foot_moment, strip_allows, strip_moment, strip_sag, strip_stress, with_foot
from rigcheck.tables import steel
from rigcheck.tables.load_cases import load_case
from rigcheck.wording.marks import OWN_YARDSTICK

FLOOR_SAG = 60.0  # span over this is the most sag of the sheet; a yardstick of our own, mats still lie on it
_OFF_FLOOR = ("side_walls", "rail_stiffeners")


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class FloorLoad:
    """What presses square to the floor, shapes (..., state).

    Attributes:
        pressure: With the dynamic factor, at the station where most lies on the floor. [psi]
        still: The same without it. [psi]
        person: One person on the bare sheet, without it, zero in states without people and on packed gravel. [lbf]
        people: All of them, with the dynamic factor. [lbf]
        people_still: All of them, without it. [lbf]
        people_at: Where they stand along the floor, meaningless where there are none. [in]
    """

    pressure: Array
    still: Array
    person: Array
    people: Array
    people_still: Array
    people_at: Array


def floor_load(solution: Solution) -> FloorLoad:
    """Pressure on the floor in each state: contents, floor, mats, cross-members, dividers and their allowance.

    Strips that lie on part of the width only (a packed channel, a bank) are spread over all of it; the same gravel over
    the whole floor is a state of its own and presses as hard everywhere. Side walls and rails stand beside the floor,
    and what stands in a trap below it is carried across by the trap.

    Args:
        solution: The statics.

    Returns:
        Loads, shapes (..., state).

    Source: geometry; docs/method.md#floor.
    """
    rig, loads = solution.rig, solution.life.loads
    strip = loads.strip
    w = np.where(strip["end"] > strip["start"], np.maximum(strip["w_start"], strip["w_end"]), 0.0) * strip["on_floor"]
    least = np.where(w > 0.0, strip["gain"], 1.0e12).min(-1)
    beside = [piece.weight for piece in solution.life.pieces if piece.spread and piece.id in _OFF_FLOOR]
    off = (np.sum(np.broadcast_arrays(*beside), axis=0) / rig.number("box.length"))[..., None]
    normal = solution.pose.normal[..., : len(loads.rows), :]
    held_fast = np.array([load_case(row.state).full_pull for row in loads.rows])  # what holds it is not on the floor
    down = np.maximum(-(loads.gravity[..., 0] * normal[..., 0] + loads.gravity[..., 2] * normal[..., 1]), 0.0)
    down = np.where(held_fast, 0.0, down)
    width = rig.number("box.width")[..., None]
    still, factored = w.sum(-1) - off, (w * strip["gain"]).sum(-1) - off * np.minimum(least, 1.0e3)
    on_box = np.array([row.manned for row in loads.rows])
    # on packed gravel nobody's boot reaches the sheet, and where it is dug bare no gravel lies on it
    bare = np.array([not load_case(str(row.variant.get("while", row.state))).floor_bare for row in loads.rows])
    # people come after all other lumps; where only the road is looked at there are no rows
    last = np.array([max(len(row.lumps) - 1, 0) for row in loads.rows], dtype=np.intp)
    one = rig.number("person.weight")[..., None] * on_box * down
    crowd = float(rig.value("person.people"))
    lumps = loads.lump["s"]
    one_each = (..., np.arange(len(last)), last)
    stand = lumps[one_each] if lumps.shape[-1] else np.zeros(lumps.shape[:-1])
    gain = loads.lump["gain"][one_each] if lumps.shape[-1] else np.ones(lumps.shape[:-1])

    def on_all(values: Array) -> Array:
        """Nothing lies on the floor of the folded box on the road, the last rows."""
        more = np.zeros((*values.shape[:-1], len(solution.rows) - values.shape[-1]))
        return np.concatenate([values, more], axis=-1)

    return FloorLoad(
        pressure=on_all(np.maximum(factored, 0.0) * down / width),
        still=on_all(np.maximum(still, 0.0) * down / width),
        person=on_all(one * bare * min(crowd, 1.0)),
        people=on_all(one * gain * crowd),
        people_still=on_all(one * crowd),
        people_at=on_all(stand),
    )


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Spans:
    """How the floor sheet spans.

    Attributes:
        span: Between supports, shape (...). [in]
        count: Number of spans in a row, shape (...).
        overhang: Sheet past the last support, held by nothing, shape (...). [in]
        words: The same in words.
    """

    span: Array
    count: Array
    overhang: Array
    words: str


def floor_spans(rig: Rig) -> Spans | None:
    """Supports of the floor: cross-members under it, or both side walls where they run over the top; None unknown."""
    if not rig.has("cross_member.shape"):
        return None
    if str(rig.value("cross_member.at")) == "top":
        width = rig.number("box.width")
        return Spans(width, np.ones_like(width), np.zeros_like(width), "one span, side wall to side wall")
    spacing, members = rig.number("cross_member.spacing"), cross_member_count(rig)
    past = np.maximum(rig.number("box.length") - (members - 1.0) * spacing, 0.0)
    tube = rig.has("end_tube.shape") and bool(rig.value("end_tube.tail"))
    return Spans(spacing, np.maximum(members - 1.0, 1.0), 0.0 * past if tube else past, "between cross-members")


def floor_not_assessed(solution: Solution) -> list[Missing]:
    """The floor where its spans are not known."""
    text = "floor sheet (spans unknown)"
    return [] if floor_spans(solution.rig) else [Missing(text, id="floor.spans", group="floor")]


def _column(value: Array) -> Array:
    return np.asarray(value)[..., None]


def floor_checks(solution: Solution) -> list[Check]:
    """Floor sheet under what lies on it and under a foot, and how far it sags.

    It is held to the declared basis like the rest; a foot counts with its weight at rest.

    Args:
        solution: The statics.

    Returns:
        Checks; none where the spans are not known. A parted line changes nothing on the floor, so accidents have none.

    Source: docs/method.md#floor; clauses beside each row.
    """
    rig = solution.rig
    spans = floor_spans(rig)
    if spans is None:
        return []
    load = floor_load(solution)
    checks = _strength_rows(rig, load, spans=spans)
    span, sheet = _column(spans.span), _column(rig.number("box.sheet"))
    sag = strip_sag(load.still, span=span, spans=_column(spans.count), thickness=sheet)
    checks.append(
        Check(part=Item.FLOOR, group="floor", mode=FloorWay.SAG.value, unit="length", way=FloorWay.SAG,
              demand=sag[..., None, None], capacity=(span / FLOOR_SAG)[..., None, None],
              basis=f"{spans.words}, span / {FLOOR_SAG:g}, static load, no pull of the sheet as a membrane",
              clause=OWN_YARDSTICK, at_rest=True)
    )  # fmt: skip
    return checks


def _strength_rows(rig: Rig, load: FloorLoad, *, spans: Spans) -> list[Check]:
    metal = steel.grade(str(rig.value("box.steel")))
    sheet, span = _column(rig.number("box.sheet")), _column(spans.span)
    count = _column(spans.count)
    basis = BASES[str(rig.value("basis"))]
    allowed = strip_allows(sheet, fy=metal.fy, basis=basis)[..., None, None]
    load_alone = strip_moment(load.pressure, span=span, spans=count, overhang=_column(spans.overhang))
    width = _column(rig.number("box.width"))
    with_boot = with_foot(load_alone, foot=foot_moment(load.person, foot=FOOT, span=span, floor=width, spans=count))
    text = f"{basis.title}; steel {metal.key}, {spans.words}, no pull as a membrane"
    rows = ((FloorWay.LOAD, load_alone), (FloorWay.BOOT, with_boot))
    return [
        Check(part=Item.FLOOR, group="floor", mode=way.value, unit="stress", way=way,
              demand=strip_stress(moment, thickness=sheet)[..., None, None], capacity=allowed, basis=text,
              clause="AISC 360-22 F11 (memory); continuous-beam tables (memory); ASME BTH-1 3-2.3 (memory)",
              where=np.asarray(load.person > 0.0)[..., None, None] if way is FloorWay.BOOT else np.asarray(True))
        for way, moment in rows
    ]  # fmt: skip
