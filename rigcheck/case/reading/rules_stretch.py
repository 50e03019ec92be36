"""Rules on a box in stretches, one function a rule."""

from collections.abc import Iterator

from rigcheck.case.models.box import Box, Rail
from rigcheck.case.models.case import Case
from rigcheck.case.models.stretch import Stretch, StretchJoint
from rigcheck.case.reading.rules import Broken, Rule
from rigcheck.case.schema.sections import stated
from rigcheck.quantities import write

_ROUND = 1e-6  # in; sizes that differ by rounding count as the same
_MEET = 1.0 / 16.0 + _ROUND  # in; widths that differ by less at a joint meet; our own rule
_LEVEL = 0.25 + _ROUND  # in; stiffeners farther apart in height do not meet; our own rule
_ABOVE = 3.0  # in; a flange stands up over the sides by no more; our own rule
_OF_BOLTS = ("count", "size", "grade", "pitch", "first", "flange", "gauge")
_STEEPEST = 1.0  # a side runs out by as much as it runs along at most, 45 degrees; our own rule


def _inches(value: float) -> str:
    return write(value, dimension="length")


def widths(box: Box, stretches: tuple[Stretch, ...]) -> list[tuple[float, float]]:
    """Inside width at the head and at the tail of every stretch. [in]"""
    found: list[tuple[float, float]] = []
    for one in stretches:
        head = one.width if one.width is not None else (found[-1][1] if found else box.width)
        found.append((head, head if one.width_tail is None else one.width_tail))
    return found


def stretches_make_the_box(case: Case) -> Iterator[Broken]:
    """The stretches of a box add up to its length, and its widest and highest place are those of [box]."""
    box, every = case.box, case.stretch
    if not every:
        return
    whole = sum(one.length for one in every)
    if abs(whole - box.length) > _MEET:
        why = f"{_inches(box.length)} is not the sum of the stretches, which are {_inches(whole)} together"
        yield Broken("box.length", why, (_inches(whole),))
    widest = max(max(both) for both in widths(box, every))
    if abs(widest - box.width) > _ROUND:
        why = f"{_inches(box.width)} is not the widest place of the box; a stretch is {_inches(widest)} wide"
        yield Broken("box.width", why, (_inches(widest),))
    highest = max(box.side_height if one.side_height is None else one.side_height for one in every)
    if abs(highest - box.side_height) > _ROUND:
        why = f"{_inches(box.side_height)} is not the highest side; a stretch has {_inches(highest)}"
        yield Broken("box.side_height", why, (_inches(highest),))


def stretches_meet(case: Case) -> Iterator[Broken]:
    """A stretch begins as wide as the one before it ends, and its sides run out no steeper than one to one."""
    both = widths(case.box, case.stretch)
    for place, (one, (head, tail)) in enumerate(zip(case.stretch, both, strict=True)):
        before = both[place - 1][1] if place else head
        if abs(head - before) > _MEET:
            why = f"{_inches(head)} is not where the stretch before it ends, {_inches(before)} wide; a box that steps"
            yield Broken(f"stretch.{place}.width", f"{why} in or out at a joint is not looked at", (_inches(before),))
        if abs(tail - head) > 2.0 * _STEEPEST * one.length:
            why = f"{_inches(tail)} makes the sides run out steeper than 45 degrees over {_inches(one.length)}"
            yield Broken(f"stretch.{place}.width_tail", why)


def stretches_hold_what_is_in_them(case: Case) -> Iterator[Broken]:
    """Bed and dividers are no higher than the sides of any stretch, and the strips of floor no wider than its floor."""
    for place, (one, both) in enumerate(zip(case.stretch, widths(case.box, case.stretch), strict=True)):
        side = case.box.side_height if one.side_height is None else one.side_height
        for what, value in (("bed.depth", case.bed.depth), ("box.divider_height", case.box.divider_height or 0.0)):
            if value > side + _ROUND:
                why = f"{_inches(side)} is lower than {what} ({_inches(value)})"
                yield Broken(f"stretch.{place}.side_height", why)
        strip = case.rail.effective_floor_width
        if strip > 0.5 * min(both) + _ROUND:
            yield Broken("rail.effective_floor_width", f"{_inches(strip)} is more than half of the narrowest floor")


def stretch_without_further_support(case: Case) -> Iterator[Broken]:
    """A box in stretches hangs on its two lines alone."""
    for name in ("tail_leg", "second_line"):
        if case.stretch and getattr(case, name) is not None:
            yield Broken(name, "is not looked at on a box in stretches; leave one of the two out")


def stretch_with_rails(rail: Rail, case: Case) -> Iterator[Broken]:
    """The rails of a box in stretches stand at its sides, and have a [rail] table where a stretch has a stiffener."""
    if not case.stretch:
        return
    if rail.spacing is not None and any(abs(tail - head) > _ROUND for head, tail in widths(case.box, case.stretch)):
        yield Broken("spacing", "cannot be one number where the sides run apart; leave it out, rails follow the sides")
    if "rail" not in stated(case) and any(one.stiffener is not None for one in case.stretch):
        yield Broken("stiffener", "stands in a stretch, but there is no [rail] table; write one")


def joint_is_whole(case: Case) -> Iterator[Broken]:
    """A joint between stretches is welded or bolted, with what that takes, and the first stretch has none."""
    sides = [case.box.side_height if one.side_height is None else one.side_height for one in case.stretch]
    for place, one in enumerate(case.stretch):
        at = f"stretch.{place}.joint"
        if one.joint is not None and place == 0:
            yield Broken(at, "is of the first stretch, which joins nothing before it but the hinge")
        elif one.joint is not None:
            yield from _joint(one.joint, at=at, before=sides[place - 1], side=sides[place])


def _joint(joint: StretchJoint, *, at: str, before: float, side: float) -> Iterator[Broken]:
    for name in _OF_BOLTS if joint.made == "welded" else ():
        if getattr(joint, name) is not None:
            yield Broken(f"{at}.{name}", "is of bolts, but the joint is welded")
    for name in ("leg",) if joint.made == "welded" else ("count", "size", "pitch", "first"):
        if getattr(joint, name) is None:
            yield Broken(f"{at}.{name}", f"is missing; a joint that is {joint.made} needs it")
    if joint.stiffener and abs(side - before) > _LEVEL:
        yield Broken(f"{at}.stiffener", "cannot be: the sides are not alike high, so the stiffeners do not meet")
    low = min(before, side)
    if joint.weld_length is not None and joint.weld_length > low + _ROUND:
        why = f"{_inches(joint.weld_length)} is longer than the lower side wall ({_inches(low)})"
        yield Broken(f"{at}.weld_length", why, (_inches(low),))
    if joint.count is not None and joint.pitch is not None and joint.first is not None:
        top = joint.first + (joint.count - 1) * joint.pitch
        if top > max(before, side) + _ABOVE:
            yield Broken(f"{at}.pitch", f"puts the highest bolt {_inches(top)} above the floor, off the sides")
        if joint.size is not None and joint.pitch < 2.0 * joint.size:
            yield Broken(f"{at}.pitch", f"{_inches(joint.pitch)} is less than two diameters")


RULES: tuple[Rule, ...] = (
    Rule(("",), stretches_make_the_box),
    Rule(("",), stretches_meet),
    Rule(("",), stretches_hold_what_is_in_them),
    Rule(("",), stretch_without_further_support),
    Rule(("rail", ""), stretch_with_rails),
    Rule(("",), joint_is_whole),
)
