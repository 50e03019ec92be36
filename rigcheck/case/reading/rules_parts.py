"""Rules between the keys of box, hinge, hanger, perch and what they go through, one function a rule."""

from collections.abc import Iterator
from math import hypot

from rigcheck.case.models.box import Box, Fitting, Seam
from rigcheck.case.models.props import SecondLine, TailLeg
from rigcheck.case.models.support import Hanger, Hinge, Lug, Perch
from rigcheck.case.models.use import Bed, Fold, Measured, TieDown, Water, Weld
from rigcheck.case.reading.rules import Broken, Rule
from rigcheck.case.tacks import TACKED
from rigcheck.quantities import Bare, write

_WIDEST, _FARTHEST = 20.0, 12.0  # times its hole: width and edge of a lug; our own rule, common practice
_MIDDLE = 0.5  # of the box's width: the ears of a center pivot stand no farther apart; our own rule
_APART = 2.0  # in; perches nearer than this are one
_OF_PLATES = ("ears", "center pivot")  # a pin or bar goes through plates on edge
_ROUND = 1e-6  # in; sizes that differ by rounding count as the same


def _inches(value: float) -> str:
    return write(value, dimension="length")


def hanger_on_box(hanger: Hanger, box: Box) -> Iterator[Broken]:
    """The hanger sits on the box, before its tail."""
    if hanger.at >= box.length:
        yield Broken("at", f"{_inches(hanger.at)} is at or past the tail of the box ({_inches(box.length)})")


def bed_in_box(bed: Bed, box: Box) -> Iterator[Broken]:
    """Settled gravel is no deeper than the sides."""
    if bed.depth > box.side_height:
        yield Broken("depth", f"{_inches(bed.depth)} is deeper than the sides ({_inches(box.side_height)})")


def divider_in_box(box: Box) -> Iterator[Broken]:
    """Dividers are no higher than the sides."""
    if box.divider_height is not None and box.divider_height > box.side_height:
        yield Broken(
            "divider_height", f"{_inches(box.divider_height)} is higher than the sides ({_inches(box.side_height)})"
        )


def channels_wide_enough(box: Box) -> Iterator[Broken]:
    """A channel is wider than two inches."""
    if box.width / box.channels <= 2.0:
        yield Broken("channels", f"{box.channels} leave channels of only {_inches(box.width / box.channels)}")


def barrels_go_together(hinge: Hinge) -> Iterator[Broken]:
    """Barrels, their length and the pin are described together or not at all."""
    if hinge.kind in _OF_PLATES:
        return
    together = {"barrels": hinge.barrels, "barrel_length": hinge.barrel_length, "pin": hinge.pin}
    left_out = [name for name, value in together.items() if value is None]
    if 0 < len(left_out) < len(together):
        given = [name for name in together if name not in left_out]
        yield Broken(left_out[0], f"is missing: {', '.join(given)} and {', '.join(left_out)} go together")


def ears_or_barrels(hinge: Hinge) -> Iterator[Broken]:
    """A hinge has barrels or ears, not both, and its pin goes through every ear."""
    if hinge.kind not in _OF_PLATES:
        if hinge.ear is not None or hinge.plant_ear is not None:
            yield Broken("kind", 'is not "ears", but ears are described; write kind = "ears"')
        return
    barrel = ("barrels", "barrel_length", "barrel_wall", "plant_barrel_length", "plant_barrel_wall", "weld",
              "weld_length")  # fmt: skip
    for name in barrel:
        if getattr(hinge, name) is not None:
            yield Broken(name, "is of a hinge of barrels; what an ear has stands in [hinge.ear] and [hinge.plant_ear]")
    for name in ("ear", "plant_ear"):
        ear = getattr(hinge, name)
        if ear is None:
            continue
        if hinge.pin is not None and hinge.pin > ear.hole + _ROUND:
            yield Broken(f"{name}.hole", f"{_inches(ear.hole)} does not take a pin of {_inches(hinge.pin)}")
        if 2.0 * ear.edge <= ear.hole or ear.width <= ear.hole:
            yield Broken(f"{name}.edge", "leaves no metal round the hole")
        if ear.stand_off < 0.5 * ear.hole:
            yield Broken(f"{name}.stand_off", "puts the hole into what the ear is welded to")


def pivot_at_mid_width(hinge: Hinge, box: Box) -> Iterator[Broken]:
    """The ears of a center pivot stand on either side of the plant's lug, inside the box; its keys are of no other."""
    if hinge.kind != "center pivot":
        if hinge.off_level is not None:
            yield Broken("off_level", 'is of a center pivot; write kind = "center pivot"')
        return
    if hinge.shear is not None:
        yield Broken("shear", "is of a hinge of ears; the bar of a center pivot has an ear of the box at both its ends")
    if hinge.spacing is None:
        return
    plates = sum(ear.plate for ear in (hinge.ear, hinge.plant_ear) if ear is not None)
    if hinge.spacing < plates - _ROUND:
        why = (
            f"{_inches(hinge.spacing)} leaves no room for ear and lug, {_inches(plates)} together from middle to middle"
        )
        yield Broken("spacing", why)
    if hinge.spacing > _MIDDLE * box.width + _ROUND:
        why = f"{_inches(hinge.spacing)} is no pivot at mid-width of a box {_inches(box.width)} wide; it is"
        yield Broken("spacing", f"{why} {_inches(_MIDDLE * box.width)} at most")


def weld_on_barrel(hinge: Hinge) -> Iterator[Broken]:
    """The weld on a barrel, both sides together, is no longer than twice the barrel."""
    weld, barrel = hinge.weld_length, hinge.barrel_length
    if weld is not None and barrel is not None and weld > 2.0 * barrel + _ROUND:
        yield Broken("weld_length", f"{_inches(weld)} is more than both sides of a barrel of {_inches(barrel)}")


def snub_line_is_there(fold: Fold) -> Iterator[Broken]:
    """A snub line that has a rating is there."""
    if fold.snub_wll is not None and not fold.snub:
        yield Broken("snub_wll", "is the rating of a snub line, but snub is false", (Bare("snub = true"),))


def fitting_near_box(fitting: Fitting, box: Box) -> Iterator[Broken]:
    """A fitting is on the box, or within reach of its ends."""
    if not -24.0 <= fitting.at <= box.length + 36.0:
        yield Broken("at", f"{_inches(fitting.at)} is off the box (-24 in to {_inches(box.length + 36.0)})")


def _lug(lug: Lug) -> Iterator[Broken]:
    foot = lug.width if lug.foot is None else lug.foot
    if lug.weld_length is not None and lug.weld_length > foot + _ROUND:
        what = "foot" if lug.foot is not None else "width; say foot where the plate is longer at its weld"
        yield Broken(
            "weld_length",
            f"{_inches(lug.weld_length)} on one face is longer than the plate it runs along ({_inches(foot)}, its "
            f"{what}); the run on the other face counts without being written",
            (_inches(foot),),
        )
    if 0.0 < lug.stand_off < 0.5 * lug.hole - _ROUND:
        yield Broken(
            "stand_off",
            f"{_inches(lug.stand_off)} from the weld to the middle of the hole puts the weld inside the hole "
            f"({_inches(lug.hole)})",
            (_inches(lug.edge),),
        )
    if lug.hole >= lug.width:
        yield Broken("hole", f"{_inches(lug.hole)} leaves nothing of the width ({_inches(lug.width)})")
    for key, size, most in (("width", lug.width, _WIDEST), ("edge", lug.edge, _FARTHEST)):
        if size > most * lug.hole + _ROUND:
            why = f"{_inches(size)} is more than {most:g} times its hole ({_inches(lug.hole)}); no lug is cut so"
            yield Broken(key, why)
    if lug.edge <= lug.hole / 2.0:
        yield Broken("edge", f"{_inches(lug.edge)} leaves nothing beyond the hole ({_inches(lug.hole)})")
    if lug.pin is not None and lug.pin > lug.hole:
        yield Broken("pin", f"{_inches(lug.pin)} does not go through the hole ({_inches(lug.hole)})")


def hanger_lug_has_metal(lug: Lug) -> Iterator[Broken]:
    """The hanger lug has metal around its hole, its hole clear of its weld, and no more weld than foot."""
    yield from _lug(lug)


def perch_lug_has_metal(lug: Lug) -> Iterator[Broken]:
    """The perch lug has metal around its hole, its hole clear of its weld, and no more weld than foot."""
    yield from _lug(lug)


def eyelet_has_metal(eyelet: Lug) -> Iterator[Broken]:
    """An eyelet has metal around its hole, its hole clear of its weld, and no more weld than foot."""
    yield from _lug(eyelet)


def _seam(seam: Seam) -> Iterator[Broken]:
    if seam.made != "bent" and seam.leg is None:
        yield Broken("leg", f"is missing; a {seam.made} weld needs it", ("1/8 in",))
    stitched = {"length": seam.length, "pitch": seam.pitch}
    for name, value in stitched.items():
        if seam.made == "stitch" and value is None:
            yield Broken(name, "is missing; a stitch weld needs leg, length and pitch")
        if seam.made != "stitch" and value is not None:
            yield Broken(name, f"is that of stitches, but the seam is {seam.made}", (Bare('made = "stitch"'),))
    if seam.length is not None and seam.pitch is not None and seam.length > seam.pitch + _ROUND:
        yield Broken("length", f"{_inches(seam.length)} is more than the pitch ({_inches(seam.pitch)})")


def wall_seam_is_whole(seam: Seam) -> Iterator[Broken]:
    """A seam of stiffener and side is welded: its leg is said, of stitches length and pitch too."""
    if seam.made == "bent":
        why = "bent is for side and floor out of one sheet; a stiffener is welded"
        yield Broken("made", why, ("continuous", "stitch"))
    yield from _seam(seam)


def floor_seam_is_whole(seam: Seam) -> Iterator[Broken]:
    """A seam of side and floor is bent from one sheet, or its leg is said, of stitches length and pitch too."""
    yield from _seam(seam)


def leg_under_box(leg: TailLeg, box: Box) -> Iterator[Broken]:
    """A leg stands under the box."""
    if leg.at > box.length:
        yield Broken("at", f"{_inches(leg.at)} is past the tail of the box ({_inches(box.length)})")


def second_hanger_on_box(pair: SecondLine, box: Box) -> Iterator[Broken]:
    """The hangers of a second pair of lines sit on the box."""
    if pair.at > box.length:
        yield Broken("at", f"{_inches(pair.at)} is past the tail of the box ({_inches(box.length)})")


def second_perch_apart(pair: SecondLine, perch: Perch) -> Iterator[Broken]:
    """A second pair of lines has perches of its own, off the hinge and off the first ones."""
    height = perch.height if pair.perch_height is None else pair.perch_height
    if hypot(pair.downstream, height) < 1.0:
        yield Broken("downstream", "puts the second perch at the hinge, where a line holds nothing")
    if hypot(pair.downstream - perch.downstream, height - perch.height) < _APART:
        yield Broken(
            "downstream", "puts the second perch on the first; a post that carries both pairs is not looked at"
        )


def perch_off_hinge(perch: Perch) -> Iterator[Broken]:
    """The perch is not at the hinge, where a line holds nothing."""
    if hypot(perch.downstream, perch.height) < 1.0:
        yield Broken("height", "puts the perch at the hinge, where a line holds nothing")


def brace_on_post(perch: Perch) -> Iterator[Broken]:
    """The brace meets the post between its base and its lug, above the foot of the brace."""
    post = perch.post
    if post is None or post.brace is None:
        return
    if post.brace.top_below >= post.free_length:
        yield Broken("post.brace.top_below", f"{_inches(post.brace.top_below)} is past the base of the post")
    if post.brace.foot_below <= post.brace.top_below:
        yield Broken("post.brace.foot_below", "puts the foot of the brace above its top")
    if post.brace.foot_downstream == 0.0:
        yield Broken("post.brace.foot_downstream", "puts the foot of the brace on the post")


def tie_down_breaks_above_limit(strap: TieDown) -> Iterator[Broken]:
    """A tie-down breaks above its working load limit."""
    if strap.mbf is not None and strap.mbf < strap.wll:
        yield Broken("mbf", "is under wll; it is the force that breaks it")


def lip_in_box(water: Water, box: Box) -> Iterator[Broken]:
    """The lip is no part of a tail that is closed far above the sides."""
    if water.lip is not None and water.lip > 2.0 * box.side_height:
        yield Broken("lip", f"{_inches(water.lip)} is more than twice the sides ({_inches(box.side_height)})")


def tail_lift_on_box(measured: Measured, box: Box) -> Iterator[Broken]:
    """The tail-lift force and its place are given together, on the box."""
    if (measured.tail_lift is None) != (measured.tail_lift_at is None):
        names = ("tail_lift", "tail_lift_at") if measured.tail_lift is None else ("tail_lift_at", "tail_lift")
        yield Broken(names[0], f"is missing; it goes with {names[1]}")
    at = measured.tail_lift_at
    if at is not None and at > box.length + 36.0:
        yield Broken("tail_lift_at", f"{_inches(at)} is off the box ({_inches(box.length)})")


def tacks_are_described(weld: Weld) -> Iterator[Broken]:
    """Of a box that is tacked the length, leg and spacing of its tacks are said, and of no other."""
    for name, value in {"tack": weld.tack, "tack_leg": weld.tack_leg, "tack_spacing": weld.tack_spacing}.items():
        if weld.made == TACKED and value is None:
            yield Broken(name, "is missing; a box that is tacked needs length, leg and spacing of its tacks")
        if weld.made != TACKED and value is not None:
            yield Broken(name, "is that of tacks, but the box is finished", (Bare('made = "tacked"'),))
    if weld.tack is not None and weld.tack_spacing is not None and weld.tack > weld.tack_spacing + _ROUND:
        yield Broken("tack", f"{_inches(weld.tack)} is more than the spacing ({_inches(weld.tack_spacing)})")


RULES: tuple[Rule, ...] = (
    Rule(("hanger", "box"), hanger_on_box),
    Rule(("bed", "box"), bed_in_box),
    Rule(("box",), divider_in_box),
    Rule(("box",), channels_wide_enough),
    Rule(("hinge",), barrels_go_together),
    Rule(("hinge",), ears_or_barrels),
    Rule(("hinge", "box"), pivot_at_mid_width),
    Rule(("hinge",), weld_on_barrel),
    Rule(("fitting", "box"), fitting_near_box),
    Rule(("rail.wall_seam",), wall_seam_is_whole),
    Rule(("rail.floor_seam",), floor_seam_is_whole),
    Rule(("hanger.lug",), hanger_lug_has_metal),
    Rule(("perch.lug",), perch_lug_has_metal),
    Rule(("haul.tie_down.eyelet",), eyelet_has_metal),
    Rule(("perch",), perch_off_hinge),
    Rule(("tail_leg", "box"), leg_under_box),
    Rule(("second_line", "box"), second_hanger_on_box),
    Rule(("second_line", "perch"), second_perch_apart),
    Rule(("perch",), brace_on_post),
    Rule(("haul.tie_down",), tie_down_breaks_above_limit),
    Rule(("fold",), snub_line_is_there),
    Rule(("water", "box"), lip_in_box),
    Rule(("measured", "box"), tail_lift_on_box),
    Rule(("weld",), tacks_are_described),
)
