"""Rules between keys, one function a rule; each says which parts of the case it needs."""

from collections.abc import Callable, Iterator, Mapping
from math import hypot
from typing import Any, NamedTuple

from pydantic import BaseModel

from rigcheck.case.errors import Problem, key_path
from rigcheck.case.models_box import Box, Fitting
from rigcheck.case.models_support import Hanger, Hinge, Line, Link, Lug, Perch
from rigcheck.case.models_use import Bed, Measured, TieDown, Water
from rigcheck.quantities import write

Location = tuple[str | int, ...]


class Broken(NamedTuple):
    """A broken rule: the key it hangs on, below the first part the rule needs, and what is wrong."""

    key: str
    why: str
    accepted: tuple[str, ...] = ()


class _Rule(NamedTuple):
    needs: tuple[str, ...]
    test: Callable[..., Iterator[Broken]]


_RULES: list[_Rule] = []
_Test = Callable[..., Iterator[Broken]]


def rule(*needs: str) -> Callable[[_Test], _Test]:
    """Register a rule for every part with the first path (repeated tables as "line.link"), given the other parts."""

    def register(test: _Test) -> _Test:
        _RULES.append(_Rule(needs, test))
        return test

    return register


def broken_rules(parts: Mapping[Location, BaseModel], *, file: str) -> list[Problem]:
    """Every broken rule among the parts that are there.

    Args:
        parts: Location to a valid section of the case.
        file: What the problems call the file.
    """
    by_path: dict[str, list[tuple[Location, Any]]] = {}
    for location, part in parts.items():
        words = ".".join(step for step in location if isinstance(step, str))
        by_path.setdefault(words, []).append((location, part))
    problems = []
    for needs, test in _RULES:
        others = [by_path[path][0][1] for path in needs[1:] if path in by_path]
        if len(others) < len(needs) - 1:
            continue
        for location, part in by_path.get(needs[0], ()):
            for found in test(part, *others):
                path = key_path((*location, *found.key.split("."))) if found.key else key_path(location)
                problems.append(Problem(file, path, found.why, found.accepted))
    return problems


def _inches(value: float) -> str:
    return write(value, dimension="length")


@rule("hanger", "box")
def hanger_on_box(hanger: Hanger, box: Box) -> Iterator[Broken]:
    """The hanger sits on the box, before its tail."""
    if hanger.at >= box.length:
        yield Broken("at", f"{_inches(hanger.at)} is at or past the tail of the box ({_inches(box.length)})")


@rule("bed", "box")
def bed_in_box(bed: Bed, box: Box) -> Iterator[Broken]:
    """Settled gravel is no deeper than the sides."""
    if bed.depth > box.side_height:
        yield Broken("depth", f"{_inches(bed.depth)} is deeper than the sides ({_inches(box.side_height)})")


@rule("box")
def divider_in_box(box: Box) -> Iterator[Broken]:
    """Dividers are no higher than the sides."""
    if box.divider_height is not None and box.divider_height > box.side_height:
        yield Broken(
            "divider_height", f"{_inches(box.divider_height)} is higher than the sides ({_inches(box.side_height)})"
        )


@rule("box")
def channels_wide_enough(box: Box) -> Iterator[Broken]:
    """A channel is wider than two inches."""
    if box.width / box.channels <= 2.0:
        yield Broken("channels", f"{box.channels} leave channels of only {_inches(box.width / box.channels)}")


@rule("hinge", "box")
def hinge_groups_near_box(hinge: Hinge, box: Box) -> Iterator[Broken]:
    """The hinge groups are somewhere about the box."""
    if hinge.spacing is not None and hinge.spacing > 2.0 * box.width:
        yield Broken("spacing", f"{_inches(hinge.spacing)} is more than twice the width of the box")


@rule("hinge")
def barrels_go_together(hinge: Hinge) -> Iterator[Broken]:
    """Barrels, their length and the pin are described together or not at all."""
    together = {"barrels": hinge.barrels, "barrel_length": hinge.barrel_length, "pin": hinge.pin}
    left_out = [name for name, value in together.items() if value is None]
    if 0 < len(left_out) < len(together):
        given = [name for name in together if name not in left_out]
        yield Broken(left_out[0], f"is missing: {', '.join(given)} and {', '.join(left_out)} go together")


@rule("fitting", "box")
def fitting_near_box(fitting: Fitting, box: Box) -> Iterator[Broken]:
    """A fitting is on the box, or within reach of its ends."""
    if not -24.0 <= fitting.at <= box.length + 36.0:
        yield Broken("at", f"{_inches(fitting.at)} is off the box (-24 in to {_inches(box.length + 36.0)})")


def _lug(lug: Lug) -> Iterator[Broken]:
    if lug.hole >= lug.width:
        yield Broken("hole", f"{_inches(lug.hole)} leaves nothing of the width ({_inches(lug.width)})")
    if lug.edge <= lug.hole / 2.0:
        yield Broken("edge", f"{_inches(lug.edge)} leaves nothing beyond the hole ({_inches(lug.hole)})")
    if lug.pin is not None and lug.pin > lug.hole:
        yield Broken("pin", f"{_inches(lug.pin)} does not go through the hole ({_inches(lug.hole)})")


@rule("hanger.lug")
def hanger_lug_has_metal(lug: Lug) -> Iterator[Broken]:
    """There is metal around the hole of the hanger lug."""
    yield from _lug(lug)


@rule("perch.lug")
def perch_lug_has_metal(lug: Lug) -> Iterator[Broken]:
    """There is metal around the hole of the perch lug."""
    yield from _lug(lug)


@rule("perch")
def perch_off_hinge(perch: Perch) -> Iterator[Broken]:
    """The perch is not at the hinge, where a line holds nothing."""
    if hypot(perch.forward, perch.height) < 1.0:
        yield Broken("height", "puts the perch at the hinge, where a line holds nothing")


@rule("perch")
def brace_on_post(perch: Perch) -> Iterator[Broken]:
    """The brace meets the post between its base and its lug, above the foot of the brace."""
    post = perch.post
    if post is None or post.brace is None:
        return
    if post.brace.top_below >= post.free_length:
        yield Broken("post.brace.top_below", f"{_inches(post.brace.top_below)} is past the base of the post")
    if post.brace.foot_below <= post.brace.top_below:
        yield Broken("post.brace.foot_below", "puts the foot of the brace above its top")
    if post.brace.foot_forward == 0.0:
        yield Broken("post.brace.foot_forward", "puts the foot of the brace on the post")


@rule("line")
def lead_needs_parts(line: Line) -> Iterator[Broken]:
    """Only a line of several parts has parts and a lead."""
    if line.parts > 1:
        return
    for number, link in enumerate(line.link):
        if link.carries != "line":
            yield Broken(
                "parts", f'is 1, so link {number + 1} cannot carry a "{link.carries}"; a single line carries the line'
            )


def _rating(link: Link) -> Iterator[Broken]:
    rated = link.wll is not None
    if link.kind in ("come-along", "lever hoist"):
        if not rated:
            yield Broken("wll", f"is missing; a {link.kind} is known only by the load marked on it")
        if link.suspends is None:
            yield Broken("suspends", "is missing; is it marked for holding a hung load?", ("true", "false"))
    elif link.kind == "rated part" and not rated:
        yield Broken("wll", "is missing; a rated part is known only by the load marked on it")
    elif link.kind == "wire rope":
        yield from _rope(link)
    elif link.kind == "chain" and not rated and (link.size is None or link.grade is None):
        yield Broken("size" if link.size is None else "grade", "is missing; a chain needs size and grade, or wll")
    elif link.kind in ("shackle", "hook", "turnbuckle", "eyebolt") and not rated and link.size is None:
        yield Broken("size", f"is missing; this kind of link ({link.kind}) needs its size, or wll")
    if link.wll is not None and link.mbf is not None and link.mbf < link.wll:
        yield Broken("mbf", "is under wll; it is the force that breaks the link")


def _rope(link: Link) -> Iterator[Broken]:
    from_table = link.table is not None and link.diameter is not None
    if not from_table and link.mbf is None and link.wll is None:
        key = "diameter" if link.diameter is None else "table"
        yield Broken(key, "is missing; a rope needs table and diameter, or mbf, or wll")
    elif link.ends is None and link.wll is None:
        yield Broken(
            "ends", "is missing; how are its eyes made?", ("clips", "mechanical splice", "hand splice", "none")
        )
    if link.ends in ("clips", "clips reversed") and link.clips == 0:
        yield Broken("clips", "is 0 on a rope ended with clips")


@rule("line.link")
def link_has_rating(link: Link) -> Iterator[Broken]:
    """A link is rated by its mark or by a table."""
    yield from _rating(link)


@rule("line.keeper")
def keeper_has_rating(link: Link) -> Iterator[Broken]:
    """A keeper link is rated by its mark or by a table."""
    yield from _rating(link)


@rule("haul.tie_down")
def tie_down_breaks_above_limit(strap: TieDown) -> Iterator[Broken]:
    """A tie-down breaks above its working load limit."""
    if strap.mbf is not None and strap.mbf < strap.wll:
        yield Broken("mbf", "is under wll; it is the force that breaks it")


@rule("water", "box")
def lip_in_box(water: Water, box: Box) -> Iterator[Broken]:
    """The lip is no part of a tail that is closed far above the sides."""
    if water.lip is not None and water.lip > 2.0 * box.side_height:
        yield Broken("lip", f"{_inches(water.lip)} is more than twice the sides ({_inches(box.side_height)})")


@rule("measured", "box")
def tail_lift_on_box(measured: Measured, box: Box) -> Iterator[Broken]:
    """The tail-lift force and its place are given together, on the box."""
    if (measured.tail_lift is None) != (measured.tail_lift_at is None):
        names = ("tail_lift", "tail_lift_at") if measured.tail_lift is None else ("tail_lift_at", "tail_lift")
        yield Broken(names[0], f"is missing; it goes with {names[1]}")
    at = measured.tail_lift_at
    if at is not None and at > box.length + 36.0:
        yield Broken("tail_lift_at", f"{_inches(at)} is off the box ({_inches(box.length)})")
