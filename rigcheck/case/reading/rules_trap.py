"""Rules on traps, troughs and gates, one function a rule."""

from collections.abc import Iterator
from itertools import combinations
from math import floor, sqrt

from rigcheck.case.models.box import Box, EndTube
from rigcheck.case.models.case import Case
from rigcheck.case.models.trap import Gate, Trap
from rigcheck.case.reading.rules import Broken, Rule
from rigcheck.quantities import write
from rigcheck.tables import shapes

_ROUND = 1e-6  # in; sizes that differ by rounding count as the same
_SIZES = {"half pipe": "diameter", "angle": "leg", "plate": "height"}


def _inches(value: float) -> str:
    return write(value, dimension="length")


def trap_has_its_size(trap: Trap) -> Iterator[Broken]:
    """A half pipe has a diameter, an angle a leg, a plate a height, and no trap has what is of another kind."""
    own = _SIZES[trap.kind]
    for kind, name in _SIZES.items():
        if name == own and getattr(trap, name) is None:
            yield Broken(name, f"is missing; a trap that is {_a(trap.kind)} needs it")
        elif name != own and getattr(trap, name) is not None:
            yield Broken(name, f"is of a trap that is {_a(kind)}, and this one is {_a(trap.kind)}")
    if trap.kind == "plate":
        for name in ("weld", "weld_length", "cover"):
            if getattr(trap, name) is not None:
                yield Broken(name, "is of a half pipe or an angle; a plate counts with its weight alone")


def _a(kind: str) -> str:
    return f"{'an' if kind == 'angle' else 'a'} {kind}"


def deep(trap: Trap) -> float:
    """How deep material can stand in it. [in]"""
    if trap.kind == "plate":
        return trap.height or 0.0
    if trap.kind == "half pipe":
        return 0.5 * (trap.diameter or 0.0)
    return max((trap.leg or 0.0) - trap.wall, 0.0) / sqrt(2.0)


def ends(trap: Trap) -> tuple[float, float]:
    """Where it begins and ends along the floor, over its walls. [in]"""
    if trap.kind == "plate":
        return trap.at, trap.at + trap.wall
    half = 0.5 * (trap.diameter or 0.0) + trap.wall if trap.kind == "half pipe" else (trap.leg or 0.0) / sqrt(2)
    return trap.at - half, trap.at + half


def trap_can_hold(trap: Trap) -> Iterator[Broken]:
    """What is left in a trap is no deeper than the trap, and an angle has room between its legs."""
    if trap.drained_to is not None and trap.drained_to > deep(trap) + _ROUND:
        why = f"{_inches(trap.drained_to)} is deeper than the trap ({_inches(deep(trap))})"
        yield Broken("drained_to", why, (_inches(deep(trap)),))
    if trap.leg is not None and trap.leg < 2.0 * trap.wall:
        yield Broken("leg", f"{_inches(trap.leg)} leaves no room between legs of {_inches(trap.wall)}")


def trap_in_floor(trap: Trap, box: Box) -> Iterator[Broken]:
    """A trap lies in the floor from edge to edge: not over the hinge line, nor over the tail."""
    start, end = ends(trap)
    if end - start > box.length:
        yield Broken("at", f"the trap is {_inches(end - start)} long, more than the box ({_inches(box.length)})")
    elif start < -_ROUND:
        yield Broken("at", f"puts the trap over the hinge line: it begins {_inches(-start)} before the floor does")
    elif end > box.length + _ROUND:
        why = f"puts the trap over the tail: it ends at {_inches(end)} and the floor at {_inches(box.length)}"
        yield Broken("at", f"{why}; count a trough behind the lip as floor, or write it, full, as a [[fitting]]")
    if trap.height is not None and trap.height > box.side_height + _ROUND:
        yield Broken("height", f"{_inches(trap.height)} is higher than the sides ({_inches(box.side_height)})")


def trap_welded_on_floor(trap: Trap, box: Box) -> Iterator[Broken]:
    """The welds at both ends of a trap meet in the middle at most, and a cover is welded that far."""
    half = 0.5 * box.width
    if trap.weld_length is not None and trap.weld_length > half + _ROUND:
        yield Broken("weld_length", f"{_inches(trap.weld_length)} is more than half of the floor", (_inches(half),))


def cover_is_welded(case: Case) -> Iterator[Broken]:
    """A cover closes a trap where both edges are welded from side to side: half of the floor from either end."""
    for place, trap in enumerate(case.trap):
        if trap.cover is None or trap.kind == "plate":
            continue
        half = 0.5 * _wide(case, trap.at)
        if trap.weld is None or trap.weld_length is None or trap.weld_length < half - _ROUND:
            why = f"closes nothing unless welded from side to side; write weld, and weld_length = {_inches(half)}"
            yield Broken(f"trap.{place}.cover", f"{why}, or leave it out")


def _wide(case: Case, s: float) -> float:
    """Inside width at a station. [in]"""
    start, width = 0.0, case.box.width
    for one in case.stretch:
        head = width if one.width is None and start > 0.0 else (one.width or case.box.width)
        tail = head if one.width_tail is None else one.width_tail
        if s <= start + one.length:
            return head + (tail - head) * (s - start) / one.length
        start, width = start + one.length, tail
    return width


def traps_apart(case: Case) -> Iterator[Broken]:
    """No two traps lie in one place, and none under the joint of two stretches."""
    for (i, one), (j, other) in combinations(enumerate(case.trap), 2):
        (a, b), (c, d) = ends(one), ends(other)
        if max(a, c) < min(b, d) - _ROUND:
            yield Broken(f"trap.{j}.at", f"puts trap {j + 1} over trap {i + 1}, which lies {_from_to(a, b)}")
    place = 0.0
    for number, stretch in enumerate(case.stretch[:-1], start=1):
        place += stretch.length
        for i, trap in enumerate(case.trap):
            a, b = ends(trap)
            if a < place - _ROUND and b > place + _ROUND:
                why = f"puts the trap over the joint of stretches {number} and {number + 1}, at {_inches(place)}"
                yield Broken(f"trap.{i}.at", why)


def _from_to(start: float, end: float) -> str:
    return f"from {_inches(max(start, 0.0))} to {_inches(end)}"


def _members(case: Case) -> Iterator[tuple[float, float, str]]:
    """What lies across under the floor: from, to, and its name. [in]"""
    tube, member, length = case.end_tube, case.cross_member, case.box.length
    if isinstance(tube, EndTube):
        width = shapes.find(tube.shape).width
        if tube.head:
            yield 0.0, width, "the end tube at the head"
        if tube.tail:
            yield length - width, length, "the end tube at the tail"
    if member is not None and member.at == "under":
        half = 0.5 * shapes.find(member.shape).width
        for number in range(floor(length / member.spacing + 1e-9) + 1):
            middle = min(max(number * member.spacing, half), length - half)
            yield middle - half, middle + half, f"cross-member {number + 1}"


def trap_clears_members(case: Case) -> Iterator[Broken]:
    """A trap below the floor passes between the members across under the floor."""
    for i, trap in enumerate(case.trap):
        start, end = ends(trap)
        if trap.kind == "plate":
            continue
        for a, b, name in _members(case):
            if max(a, start) < min(b, end) - _ROUND:
                why = f"puts the trap where {name} lies, {_from_to(a, b)}; it lies {_from_to(start, end)}"
                yield Broken(f"trap.{i}.at", f"{why}: move it, or give the cross-members another spacing")
                break


def trap_cuts_floor(case: Case) -> Iterator[Broken]:
    """A trap below the floor cuts it, so that no strip of floor counts with the rails."""
    cut = any(trap.kind != "plate" and trap.cover is None for trap in case.trap)
    if cut and case.rail.effective_floor_width > 0.0:
        why = "counts a strip of floor with each rail, but a trap cuts the floor from side to side"
        yield Broken("rail.effective_floor_width", why, ("0 in",))


def gate_holds_back(gate: Gate, box: Box) -> Iterator[Broken]:
    """A gate stands on the floor, no higher than the sides, with its slot below its top."""
    if not 0.0 < gate.at <= box.length + _ROUND:
        yield Broken("at", f"{_inches(gate.at)} is not on the floor (over 0 in to {_inches(box.length)})")
    if gate.height > box.side_height + _ROUND:
        why = f"{_inches(gate.height)} is higher than the sides ({_inches(box.side_height)})"
        yield Broken("height", f"{why}: what it holds back runs over them", (_inches(box.side_height),))
    if gate.opening >= gate.height:
        yield Broken("opening", f"{_inches(gate.opening)} leaves no plate below its top ({_inches(gate.height)})")


def gate_under_every_side(case: Case) -> Iterator[Broken]:
    """What stands behind a gate is no higher than the sides of any stretch that it stands in."""
    for i, gate in enumerate(case.gate):
        start = 0.0
        for number, one in enumerate(case.stretch, start=1):
            side = case.box.side_height if one.side_height is None else one.side_height
            if start < gate.at - _ROUND and gate.height > side + _ROUND:
                why = f"{_inches(gate.height)} is higher than the sides of stretch {number} ({_inches(side)})"
                yield Broken(f"gate.{i}.height", why, (_inches(side),))
            start += one.length


def one_gate(case: Case) -> Iterator[Broken]:
    """A box has one gate."""
    for i in range(1, len(case.gate)):
        yield Broken(f"gate.{i}.at", "is of a further gate; what stands between two gates is not looked at")


RULES: tuple[Rule, ...] = (
    Rule(("trap",), trap_has_its_size),
    Rule(("trap",), trap_can_hold),
    Rule(("trap", "box"), trap_in_floor),
    Rule(("trap", "box"), trap_welded_on_floor),
    Rule(("",), cover_is_welded),
    Rule(("",), traps_apart),
    Rule(("",), trap_clears_members),
    Rule(("",), trap_cuts_floor),
    Rule(("gate", "box"), gate_holds_back),
    Rule(("",), gate_under_every_side),
    Rule(("",), one_gate),
)
