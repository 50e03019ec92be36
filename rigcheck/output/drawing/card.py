"""The picture of the shop card: the rig from its side with four sizes, in type that is read at arm's length."""

from __future__ import annotations

from dataclasses import replace

from rigcheck.output.drawing.shapes import (
    draw_box,
    draw_cross_members,
    draw_plant,
    draw_stand,
    on_box,
    perch_of,
    side_frame,
)
from rigcheck.output.drawing.sheet import SMALL, Sheet
from rigcheck.output.drawing.words import side_words
from rigcheck.output.shop_words import length_words
from rigcheck.wording.plain import PlainView

WIDE, TALLEST = 248.0, 250.0  # printed a point a unit
TYPE = 14.6  # of its words
_MARGIN = (80.0, 52.0, 18.0, 78.0)


def card_view(drawing: PlainView) -> str:
    """The rig as it hangs: length of the box, place of the hanger, height and place of the perch.

    Args:
        drawing: Drawing data of a rig.

    Returns:
        SVG.
    """
    pose = drawing["deployed"]
    frame = replace(side_frame(drawing), margin=_MARGIN)
    sheet = Sheet("sketch", frame, type=TYPE / SMALL, wide=WIDE, tallest=TALLEST)
    draw_plant(sheet, drawing=drawing, named=False)
    draw_stand(sheet, drawing=drawing, named=False)
    draw_cross_members(sheet, drawing=drawing, pose=pose)
    draw_box(sheet, drawing=drawing, pose=pose, folded=False)
    _sizes(sheet, drawing=drawing, pose=pose)
    return sheet.svg(title="Side view of the box as it hangs", describe=side_words(drawing, pose=pose, forces=None))


def _sizes(sheet: Sheet, *, drawing: PlainView, pose: PlainView) -> None:
    unit, box, (x, z) = drawing["units"]["length"], drawing["box"], perch_of(drawing)
    head, tail = on_box(pose, drawing, s=0.0, n=0.0), on_box(pose, drawing, s=box["length"], n=0.0)
    foot = on_box(pose, drawing, s=drawing["hanger"]["at"], n=0.0)
    sheet.dimension(tail, head, off=64.0, text=length_words(box["length"], unit=unit))
    sheet.dimension(foot, head, off=36.0, text=length_words(drawing["hanger"]["at"], unit=unit))
    left = sheet.frame.left
    sheet.dimension((left, 0.0), (left, z), off=34.0 if z >= 0.0 else -34.0, text=length_words(abs(z), unit=unit))
    if abs(x) > 0.0:
        ends = ((x, z), (0.0, z)) if x < 0.0 else ((0.0, z), (x, z))
        sheet.dimension(*ends, off=30.0, text=length_words(abs(x), unit=unit))
    else:
        middle = (0.5 * (pose["hanger"][0] + x), 0.5 * (pose["hanger"][1] + z))
        sheet.label(middle, f"line {length_words(pose['line_length'], unit=unit)}", toward=(0.5, -0.86))
