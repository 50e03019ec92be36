"""Rules that keep the layout of lines, posts and further supports to what hangs a box, one function a rule.

The distances are our own, wide of anything that is built; common practice, no source.
"""

from collections.abc import Iterator
from math import cos, hypot, sin

from rigcheck.case.models.box import Box
from rigcheck.case.models.props import SecondLine, TailLeg
from rigcheck.case.models.support import Hanger, Hinge, Line, Perch
from rigcheck.case.reading.rules import Broken, Rule
from rigcheck.quantities import write

_ROUND = 1e-6  # in; sizes that differ by rounding count as the same
_NARROW, _NARROW_HINGE = 0.5, 0.25  # of the box's width: lines and hinge groups are at least so far apart
_OUT = 48.0  # in: how much wider apart than the box its hangers may be
_NEAR_HINGE = 0.02  # of the box's length: a line that pulls nearer to the hinge than this holds nothing up
_TOWARD_TAIL = 0.1  # of the box's length: a tail leg nearer to the hinge is none
_BY_HAND = 12.0  # in: what a backup may hang in a bow beside its line


def _inches(value: float) -> str:
    return write(value, dimension="length")


def _apart(spacing: float, box: Box, *, least: float, most: float) -> Iterator[Broken]:
    if spacing < least - _ROUND:
        limit = f"{_inches(least)} or more"
    elif spacing > most + _ROUND:
        limit = f"{_inches(most)} at most"
    else:
        return
    yield Broken("spacing", f"{_inches(spacing)} does not go with a box {_inches(box.width)} wide; it is {limit}")


def hangers_at_sides(hanger: Hanger, box: Box) -> Iterator[Broken]:
    """The hangers are left and right of the box's middle, so that the lines hold it level."""
    yield from _apart(hanger.spacing, box, least=_NARROW * box.width, most=box.width + _OUT)


def perches_at_sides(perch: Perch, box: Box) -> Iterator[Broken]:
    """The perches are left and right of the box's middle; how far the lines may splay outward the check says."""
    yield from _apart(perch.spacing, box, least=_NARROW * box.width, most=perch.spacing)


def hinge_groups_at_sides(hinge: Hinge, box: Box) -> Iterator[Broken]:
    """The hinge groups are left and right of the box's middle."""
    if hinge.spacing is not None and hinge.kind != "center pivot":
        yield from _apart(hinge.spacing, box, least=_NARROW_HINGE * box.width, most=2.0 * box.width)


def leg_off_hinge(leg: TailLeg, box: Box) -> Iterator[Broken]:
    """A tail leg stands far enough from the hinge to carry something."""
    if leg.at < _TOWARD_TAIL * box.length - _ROUND:
        yield Broken(
            "at", f"{_inches(leg.at)} is at the hinge and not under the tail of a box of {_inches(box.length)}"
        )


def second_hanger_off_hinge(second: SecondLine, box: Box) -> Iterator[Broken]:
    """The second pair of lines pulls far enough from the hinge to hold something."""
    if second.at < _NEAR_HINGE * box.length - _ROUND:
        yield Broken(
            "at", f"{_inches(second.at)} is at the hinge of a box of {_inches(box.length)}: it holds nothing up"
        )


def post_over_ground(perch: Perch, hinge: Hinge) -> Iterator[Broken]:
    """The base of a post is above the ground, and so is the foot of its brace."""
    if perch.post is None or hinge.above_ground is None:
        return
    high = perch.height + hinge.above_ground
    below = [("post.free_length", perch.post.free_length, "the base of the post")]
    if perch.post.brace is not None:
        below.append(("post.brace.foot_below", perch.post.brace.foot_below, "the foot of the brace"))
    for key, down, what in below:
        if down > high + _ROUND:
            why = f"{_inches(down)} puts {what} under the ground, which is {_inches(high)} below the perch lug"
            yield Broken(key, why)


def backup_beside_line(line: Line, hinge: Hinge, hanger: Hanger, perch: Perch, box: Box) -> Iterator[Broken]:
    """A backup is long enough for the shortest hoist and no longer than the line."""
    if not line.backup or any(link.length is None for link in line.backup):
        return
    long = sum(link.count * (link.length or 0.0) for link in line.backup)
    rise = hanger.height - hinge.height
    x = hanger.at * cos(box.pitch) + rise * sin(box.pitch)
    z = rise * cos(box.pitch) - hanger.at * sin(box.pitch)
    pins = hypot(perch.downstream - x, perch.height - z, 0.5 * (perch.spacing - hanger.spacing))
    least = min((link.headroom for link in line.link if link.headroom is not None), default=0.0)
    if long > pins + line.backup_slack + _BY_HAND:
        yield Broken(
            "backup",
            f"its links are {_inches(long)} together, longer than hanger and perch are apart ({_inches(pins)})",
        )
    if long < least - _ROUND:
        yield Broken("backup", f"its links are {_inches(long)} together and cannot span a hoist of {_inches(least)}")


RULES: tuple[Rule, ...] = (
    Rule(("hanger", "box"), hangers_at_sides),
    Rule(("perch", "box"), perches_at_sides),
    Rule(("hinge", "box"), hinge_groups_at_sides),
    Rule(("perch", "hinge"), post_over_ground),
    Rule(("tail_leg", "box"), leg_off_hinge),
    Rule(("second_line", "box"), second_hanger_off_hinge),
    Rule(("line", "hinge", "hanger", "perch", "box"), backup_beside_line),
)
