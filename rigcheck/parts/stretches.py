"""The same solution as the parts of a box in stretches see it: each stretch as if the whole box were like it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import wraps
from typing import TypeVar

import numpy as np

from rigcheck.analysis.here import Here
from rigcheck.analysis.missing import Missing
from rigcheck.analysis.rail_section import rail_section
from rigcheck.analysis.rows import Check, Flag
from rigcheck.analysis.solve import Solution
from rigcheck.arrays.types import Array, Mask
from rigcheck.loads.filling import PARTS
from rigcheck.loads.pieces import Loads
from rigcheck.loads.shape import Reach, at_station, reaches

NEAR = 6.0  # in: hangers this near to a stretch count as standing in it too; as a member must be near a hanger
_TOUCH = 1e-6  # in
Told = TypeVar("Told", Check, Flag)
_INNER: dict[object, object] = {}


def _holds_hanger(one: Reach, hanger: Array) -> bool:
    return bool(np.any((hanger >= one.start - NEAR) & (hanger <= one.end + NEAR)))


def _in(one: Reach, loads: Loads) -> Loads:
    """Loads along the floor of one stretch alone, for each inch as heavy as they press where it is narrowest.

    What lies on a floor that widens is divided by its own width, so that it counts as on the widest.
    """
    strip = loads.strip
    start, end = (value[..., None, None] for value in (one.start, one.end))
    inside = (strip["start"] >= start - _TOUCH) & (strip["end"] <= end + _TOUCH)
    over = (strip["start"] <= start + _TOUCH) & (strip["end"] >= end - _TOUCH)
    here = (inside | over) & (strip["on_floor"] > 0.0)
    wide = one.rig.number("box.width")[..., None, None]
    length = np.where(one.length > 0.0, one.length, 1.0)[..., None, None]

    def pressing(name: str, at: str) -> Array:
        share = np.clip((strip[at] - start) / length, 0.0, 1.0)
        width = one.head[..., None, None] + share * (one.tail - one.head)[..., None, None]
        return np.asarray(np.where(here, strip[name] * wide / width, 0.0))

    first, last = pressing("w_start", "start"), pressing("w_end", "end")
    if not one.straight:
        heaviest = _heaviest(one, loads, pressed=np.maximum(first, last) * strip["gain"])
        first, last = np.where(heaviest, first, 0.0), np.where(heaviest, last, 0.0)
    return replace(loads, strip={**strip, "w_start": first, "w_end": last})


def _heaviest(one: Reach, loads: Loads, *, pressed: Array) -> Mask:
    """Loads of that part of a widening stretch in which most lies on the floor, shape (..., state, load).

    What lies in such a stretch is cut into parts behind each other, which do not add up at any one place.
    """
    strip = loads.strip
    start, length = (value[..., None, None, None] for value in (one.start, one.length))
    low = start + length * np.arange(PARTS)[:, None] / PARTS
    high = low + length / PARTS
    begins, ends = (strip[name][..., None, :] for name in ("start", "end"))
    there = (begins < high - _TOUCH) & (ends > low + _TOUCH)
    most = (there * pressed[..., None, :]).sum(-1).argmax(-1)
    return np.asarray(np.take_along_axis(there, most[..., None, None], axis=-2)[..., 0, :])


def _view(solution: Solution, one: Reach, *, apart: Array, here: Here) -> Solution:
    """The solution for one stretch.

    Args:
        solution: That of the whole box.
        one: The stretch.
        apart: Between the rails, shape (...). [in]
        here: What stands in it.
    """
    length = solution.rig.number("box.length")
    pieces = [
        replace(piece, weight=piece.weight * length / one.length)
        for piece in solution.life.pieces
        if not piece.spread or piece.reach == one.number
    ]
    none_at_hanger, none_at_hinge = not here.hanger, not here.head
    demand, held = solution.demand, solution.held
    if none_at_hanger:
        demand, held = (replace(of, tension=np.zeros_like(of.tension)) for of in (demand, held))
    if none_at_hinge:
        demand, held = (replace(of, hinge=np.zeros_like(of.hinge)) for of in (demand, held))
    return replace(
        solution,
        rig=one.rig,
        life=replace(solution.life, pieces=pieces, loads=_in(one, solution.life.loads)),
        layout=replace(solution.layout, rail_spacing=apart),
        demand=demand,
        held=held,
        section=rail_section(one.rig),
        peaks=solution.each[one.number],
        here=here,
    )


def _widest(solution: Solution, one: Reach) -> Array:
    assert solution.layout.along is not None
    piece = solution.layout.along.pieces[one.number]
    return np.maximum(piece.head, piece.tail)


def rail_views(solution: Solution) -> list[Solution]:
    """One view for each stretch, with hinge, hangers and tail where they stand."""
    if "rail" not in solution.views:
        every, found = reaches(solution.rig), []
        for one in every:
            hanger = _holds_hanger(one, solution.layout.hanger_s)
            here = Here(head=one.number == 0, hanger=hanger, tail=one is every[-1], whole=solution.rig,
                        name=in_stretch("", one.number), number=one.number)  # fmt: skip
            apart = solution.layout.rail_spacing if hanger else _widest(solution, one)
            found.append(_view(solution, one, apart=apart, here=here))
        solution.views["rail"] = found
    return solution.views["rail"]


def member_views(solution: Solution) -> list[Solution]:
    """One view for each stretch as wide as at its widest, then those of the members at hinge, hangers and tail."""
    if "member" not in solution.views:
        along = solution.layout.along
        assert along is not None
        every = reaches(solution.rig)
        nothing = Here(head=False, hanger=False, tail=False, whole=solution.rig)
        found = [
            _view(solution, one, apart=_widest(solution, one),
                  here=replace(nothing, name=in_stretch("", one.number), number=one.number))
            for one in every
        ]  # fmt: skip
        places = (
            (every[0], along.first, replace(nothing, head=True, bay=False)),
            (at_station(solution.rig, solution.layout.hanger_s), solution.layout.rail_spacing,
             replace(nothing, hanger=True, bay=False)),
            (every[-1], along.last, replace(nothing, tail=True, bay=False)),
        )  # fmt: skip
        found += [_view(solution, one, apart=apart, here=here) for one, apart, here in places]
        solution.views["member"] = found
    return solution.views["member"]


def place_views(solution: Solution) -> list[Solution]:
    """The stretch at the hinge with nothing at its hangers, and that at the hangers with nothing at its hinge."""
    if "place" not in solution.views:
        along, every = solution.layout.along, reaches(solution.rig)
        assert along is not None
        hanger = at_station(solution.rig, solution.layout.hanger_s)
        nothing = Here(head=False, hanger=False, tail=False, whole=solution.rig)
        solution.views["place"] = [
            _view(solution, every[0], apart=along.first, here=replace(nothing, head=True, number=0)),
            _view(solution, hanger, apart=solution.layout.rail_spacing,
                  here=replace(nothing, hanger=True, number=hanger.number)),
        ]  # fmt: skip
    return solution.views["place"]


def in_stretch(part: str, number: int) -> str:
    """What a part is called in one stretch."""
    return f"{part}, stretch {number + 1}"


def _named(row: Told, view: Solution) -> Told:
    if not isinstance(row, Check):
        return row
    return replace(row, part=row.part + view.here.name, name=row.part, seen=view)


def _once(rows: list[Told]) -> list[Told]:
    """Findings of one code and wording as one, wherever any of them holds; checks as they are."""
    found: dict[object, Told] = {}
    for row in rows:
        if isinstance(row, Check):
            found[id(row)] = row
            continue
        key, before = (row.code, row.text, row.stops, row.about), None
        before = found.get(key)
        found[key] = row if before is None else replace(row, where=np.asarray(before.where | row.where))
    return list(found.values())


def by_stretch(
    build: Callable[[Solution], list[Told]], views: Callable[[Solution], list[Solution]]
) -> Callable[[Solution], list[Told]]:
    """A builder that looks at each stretch of a box that is in stretches, rows that carry nothing left out.

    Args:
        build: Builder of checks or findings of one box that is alike all along.
        views: Which views of it.
    """

    @wraps(build)
    def each(solution: Solution) -> list[Told]:
        if solution.layout.along is None or solution.here.whole is not None:
            return build(solution)
        found = [_named(row, view) for view in views(solution) for row in build(view)]
        return _once([row for row in found if not isinstance(row, Check) or np.any(row.demand)])

    _INNER[each] = build
    return each


def missing_by_stretch(
    build: Callable[[Solution], list[Missing]], views: Callable[[Solution], list[Solution]]
) -> Callable[[Solution], list[Missing]]:
    """What is not assessed in any of the views, each once."""

    @wraps(build)
    def each(solution: Solution) -> list[Missing]:
        if solution.layout.along is None or solution.here.whole is not None:
            return build(solution)
        found: Mapping[str, Missing] = {one.id: one for view in views(solution) for one in build(view)}
        return list(found.values())

    _INNER[each] = build
    return each


def inner(build: Callable[..., object]) -> object:
    """The builder of a box that is alike all along, of one that looks at each stretch; others are their own."""
    return _INNER.get(build, build)
