"""Rules that keep a case within what a shop can build: pairs of numbers that cannot both be true, one function a rule.

The distances are our own, wide of anything that is built; common practice, no source.
"""

from collections.abc import Iterator
from math import cos, sin

from rigcheck.case.models.box import Box, Fitting, Rail
from rigcheck.case.models.support import Hanger, Hinge, Link, Perch
from rigcheck.case.models.use import Haul, Stop, TieDown
from rigcheck.case.reading.rules import Broken, Rule
from rigcheck.quantities import write

_ROUND = 1e-6  # in; sizes that differ by rounding count as the same
_ASIDE = 24.0  # in: how far beside, before, over or under the box something on it may be
_BEYOND = 36.0  # in: how far past its tail
_RAIL_OUT = 12.0  # in: how much wider apart than the sides the middles of two rails may be
_RAIL_IN = 2.0  # in: how much closer
_ALONG, _ACROSS, _UP = 120.0, 72.0, 168.0  # in: reach of a plant beyond the box, from its middle, above the hinge
_MOST_FACTOR = 10.0  # breaking force over mark; no standard asks for more than 8, and that for lifting people
_NEAR_HINGE = 0.02  # of the box's length: a line that pulls nearer to the hinge than this holds nothing up
_TIMES = 5.0  # marked over listed working load limit, of the best grade made in that size; no maker comes near it


def _inches(value: float) -> str:
    return write(value, dimension="length")


def strip_on_floor(rail: Rail, box: Box) -> Iterator[Broken]:
    """The strips of floor counted with both rails are no more than the floor."""
    if rail.effective_floor_width > 0.5 * box.width + _ROUND:
        yield Broken(
            "effective_floor_width",
            f"{_inches(rail.effective_floor_width)} is more than half of the floor of {_inches(box.width)}",
        )


def rails_at_sides(rail: Rail, box: Box) -> Iterator[Broken]:
    """The rails stand at the sides of the box."""
    if rail.spacing is not None and not -_RAIL_IN - _ROUND <= rail.spacing - box.width <= _RAIL_OUT + _ROUND:
        why = f"{_inches(rail.spacing)} puts the rails off the sides of a box {_inches(box.width)} wide"
        yield Broken("spacing", why)


def barrels_near_each_other(hinge: Hinge) -> Iterator[Broken]:
    """The gap between two barrels is no more than half a barrel."""
    if hinge.barrel_length is not None and hinge.gap > 0.5 * hinge.barrel_length + _ROUND:
        why = f"{_inches(hinge.gap)} is more than half a barrel of {_inches(hinge.barrel_length)}"
        yield Broken("gap", why)


def hinge_groups_apart(hinge: Hinge, box: Box) -> Iterator[Broken]:
    """The two hinge groups do not run into each other."""
    if hinge.barrels is None or hinge.barrel_length is None:
        return
    group = hinge.barrels * hinge.barrel_length + (hinge.barrels - 1) * hinge.gap
    spacing = box.width if hinge.spacing is None else hinge.spacing
    if group > spacing + _ROUND:
        why = f"of {_inches(hinge.barrel_length)} make a hinge group of {_inches(group)}"
        yield Broken("barrels", f"{hinge.barrels} {why}, wider than from one group to the other ({_inches(spacing)})")


def tail_over_ground(hinge: Hinge, box: Box) -> Iterator[Broken]:
    """The floor of the box at its tail is above the ground."""
    if hinge.above_ground is None:
        return
    drop = box.length * sin(box.pitch) + hinge.height * cos(box.pitch)
    if drop > hinge.above_ground + _ROUND:
        why = f"{_inches(hinge.above_ground)} puts the tail under the ground, its floor {_inches(drop)} below the pin;"
        why += " leave it out where the ground falls away under the tail"
        yield Broken("above_ground", why)


def hanger_at_sides(hanger: Hanger, box: Box) -> Iterator[Broken]:
    """The hole of the hanger is about as high as the box."""
    if not -_ASIDE - _ROUND <= hanger.height <= box.side_height + _BEYOND + _ROUND:
        yield Broken("height", f"{_inches(hanger.height)} is off the box, whose sides are {_inches(box.side_height)}")


def hanger_off_hinge(hanger: Hanger, box: Box) -> Iterator[Broken]:
    """The hanger is far enough from the hinge for its line to hold the box."""
    least = _NEAR_HINGE * box.length
    if hanger.at < least - _ROUND:
        why = f"{_inches(hanger.at)} is at the hinge; on a box of {_inches(box.length)} it is {_inches(least)} or more"
        yield Broken("at", f"{why} away, or its line holds nothing up")


def fitting_beside_box(fitting: Fitting, box: Box) -> Iterator[Broken]:
    """A fitting is on the box, or within reach of its sides."""
    if abs(fitting.across) > 0.5 * box.width + _ASIDE + _ROUND:
        yield Broken("across", f"{_inches(fitting.across)} is off the box, {_inches(box.width)} wide")
    if not -_ASIDE - _ROUND <= fitting.height <= box.side_height + _BEYOND + _ROUND:
        yield Broken("height", f"{_inches(fitting.height)} is off the box, whose sides are {_inches(box.side_height)}")


def post_behind_lug(perch: Perch) -> Iterator[Broken]:
    """A post reaches as far below the hole of its lug as half of the lug's width."""
    if perch.post is None or perch.lug is None:
        return
    if perch.post.free_length < 0.5 * perch.lug.width - _ROUND:
        why = f"{_inches(perch.post.free_length)} leaves no post behind a lug {_inches(perch.lug.width)} wide"
        yield Broken("post.free_length", why)


def _on_box(at: tuple[float, float, float], box: Box, *, key: str) -> Iterator[Broken]:
    s, y, n = at
    along = -_ASIDE - _ROUND <= s <= box.length + _BEYOND + _ROUND
    across = abs(y) <= 0.5 * box.width + _ASIDE + _ROUND
    if not (along and across and -_ASIDE - _ROUND <= n <= box.side_height + _BEYOND + _ROUND):
        where = ", ".join(_inches(one) for one in at)
        yield Broken(key, f"({where}) is off the box; along the floor, left of the middle, above the floor")


def tie_down_on_box(strap: TieDown, box: Box) -> Iterator[Broken]:
    """A tie-down hooks to the box at one end."""
    yield from _on_box(strap.start, box, key="from")


def tie_down_breaks_near_its_mark(strap: TieDown) -> Iterator[Broken]:
    """A tie-down breaks at no more than ten times its working load limit."""
    yield from _breaking(strap)


def stop_on_box(stop: Stop, box: Box) -> Iterator[Broken]:
    """A stop touches the box."""
    yield from _on_box(stop.at, box, key="at")


def tie_down_on_plant(strap: TieDown, haul: Haul, box: Box) -> Iterator[Broken]:
    """A tie-down hooks to the plant at its other end, above the road."""
    x, y, z = strap.end
    where = ", ".join(_inches(one) for one in strap.end)
    if abs(x) > box.length + _ALONG + _ROUND or abs(y) > _ACROSS + _ROUND or abs(z) > _UP + _ROUND:
        yield Broken("to", f"({where}) is off the plant; downstream, left and up from the hinge")
    elif haul.hinge_above_road is not None and z < -haul.hinge_above_road - _ROUND:
        yield Broken("to", f"({where}) is under the road, {_inches(haul.hinge_above_road)} below the hinge")


def _breaking(part: Link | TieDown) -> Iterator[Broken]:
    if part.wll is not None and part.mbf is not None and part.mbf > _MOST_FACTOR * part.wll:
        pounds = write(part.wll, dimension="force")
        yield Broken(
            "mbf", f"is more than {_MOST_FACTOR:g} times the mark ({pounds}); one of the two is not of this part"
        )


def _mark(link: Link) -> Iterator[Broken]:
    yield from _breaking(link)
    most = None if link.wll is None else _most_listed(link)
    if link.wll is not None and most is not None and link.wll > most:
        pounds = write(link.wll, dimension="force")
        why = f"{pounds} is more than {_TIMES:g} times what a {link.kind} of {_inches(link.size or 0.0)} is made for"
        yield Broken("wll", f"{why}; look at the mark")


def _most_listed(link: Link) -> float | None:
    """The highest mark that a part of this size can have; None where no table knows the size."""
    from rigcheck.tables import hardware  # tables are read only by the cases that use them
    from rigcheck.tables.errors import TableError

    size, grades = link.size, {"shackle": hardware.SHACKLE_GRADES, "chain": hardware.CHAIN_GRADES}
    if size is None:
        return None
    listed: list[float] = []
    for grade in grades.get(link.kind, ("",)):
        try:
            if link.kind == "shackle":
                listed.append(_TIMES * hardware.shackle(size, grade=grade).wll)
            elif link.kind == "chain":
                listed.append(_TIMES * hardware.chain(size, grade=grade).wll)
            elif link.kind == "turnbuckle":
                listed.append(_TIMES * hardware.turnbuckle(size, end="jaw").wll)
            elif link.kind == "eyebolt":
                listed.append(_TIMES * hardware.eyebolt(size).wll)
        except TableError:
            continue
    return max(listed, default=None)


def link_mark_fits_size(link: Link) -> Iterator[Broken]:
    """The mark of a link is at most five times what is made in its size, and a tenth of what breaks it at least."""
    yield from _mark(link)


def backup_mark_fits_size(link: Link) -> Iterator[Broken]:
    """The mark of a backup link is at most five times what is made in its size, a tenth of what breaks it at least."""
    yield from _mark(link)


def second_link_mark_fits_size(link: Link) -> Iterator[Broken]:
    """The mark of a second line's link is at most five times what is made in its size, a tenth of what breaks it."""
    yield from _mark(link)


RULES: tuple[Rule, ...] = (
    Rule(("rail", "box"), strip_on_floor),
    Rule(("rail", "box"), rails_at_sides),
    Rule(("hinge",), barrels_near_each_other),
    Rule(("hinge", "box"), hinge_groups_apart),
    Rule(("hinge", "box"), tail_over_ground),
    Rule(("hanger", "box"), hanger_at_sides),
    Rule(("hanger", "box"), hanger_off_hinge),
    Rule(("fitting", "box"), fitting_beside_box),
    Rule(("perch",), post_behind_lug),
    Rule(("haul.tie_down", "box"), tie_down_on_box),
    Rule(("haul.tie_down", "haul", "box"), tie_down_on_plant),
    Rule(("haul.tie_down",), tie_down_breaks_near_its_mark),
    Rule(("haul.stop", "box"), stop_on_box),
    Rule(("line.link",), link_mark_fits_size),
    Rule(("line.backup",), backup_mark_fits_size),
    Rule(("second_line.link",), second_link_mark_fits_size),
)
