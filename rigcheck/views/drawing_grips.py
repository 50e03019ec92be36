"""Where the parts of a side view that can be moved stand in the picture, and which way each goes when its key grows."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rigcheck.views.drawing import Frame, Sheet
from rigcheck.views.drawing_labels import Point

Plain = Mapping[str, Any]
_BED_AT = 0.3  # of the length: where the bed line is taken hold of


def grip_places(drawing: Plain, *, frame: Frame) -> list[dict[str, Any]]:
    """Every key that a side view of the deployed box can be moved by.

    Args:
        drawing: Drawing data of a rig.
        frame: What the view shows.

    Returns:
        Key, word, place, what a unit of the key moves it by, and the ends of the stroke that goes with it (true: the
        end moves too); all in the picture's own units, per unit of length of the drawing.
    """
    sheet, pose = Sheet("side", frame), drawing["deployed"]
    along, normal = pose["along"], pose["normal"]
    box, hinge = drawing["box"], drawing["hinge"]["height"]

    def at(s: float, n: float) -> Point:
        return s * along[0] + (n - hinge) * normal[0], s * along[1] + (n - hinge) * normal[1]

    hanger = (pose["hanger"][0], pose["hanger"][1])
    perch = (drawing["perch"]["downstream"], drawing["perch"]["height"])
    length, bed = box["length"], min(box["bed"], box["side_height"])
    found = (
        ("hanger.at", "hanger along the box", hanger, along, ((hanger, True), (perch, False))),
        ("perch.height", "perch up and down", perch, (0.0, 1.0), ((perch, True), (hanger, False))),
        ("perch.downstream", "perch along", perch, (1.0, 0.0), ((perch, True), (hanger, False))),
        ("box.length", "tail of the box", at(length, 0.0), along, ((at(0.0, 0.0), False), (at(length, 0.0), True))),
        ("bed.depth", "bed line", at(_BED_AT * length, bed), normal, ((at(0.0, bed), True), (at(length, bed), True))),
    )
    return [
        {
            "key": key,
            "name": name,
            "at": _rounded(sheet.place(point)),
            "way": _rounded((way[0] * sheet.scale, -way[1] * sheet.scale), digits=4),
            "ends": [[*_rounded(sheet.place(end)), moves] for end, moves in ends],
        }
        for key, name, point, way, ends in found
    ]


def _rounded(point: Point, *, digits: int = 2) -> list[float]:
    return [round(value, digits) + 0.0 for value in point]
