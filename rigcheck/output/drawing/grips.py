"""Where the parts of a side view that can be moved stand in the picture, and which way each goes when its key grows."""

from __future__ import annotations

from typing import Any

from rigcheck.output.drawing.labels import Point
from rigcheck.output.drawing.sheet import Frame, Sheet
from rigcheck.wording.plain import PlainView

KEYS = ("hanger.at", "perch.height", "perch.downstream", "box.length", "bed.depth")
"""Keys that a side view can be moved by; the bed is not shown folded, and stretches make up the length of their box."""
LOCKED = "The tail is not dragged: the lengths of the stretches make up that of the box; write them in the form."
"""Why the tail of a box in stretches has no grip."""
_ON = (0.0, 0.0)
_BED_AT = 0.3  # of the length: where the bed line is taken hold of


def grip_places(drawing: PlainView, *, frame: Frame, folded: bool = False) -> list[dict[str, Any]]:
    """Every key that a side view can be moved by.

    Args:
        drawing: Drawing data of a rig.
        frame: What the view shows.
        folded: The view of the folded box, which shows no bed.

    Returns:
        Key, word, whether the line goes with it, how far beside its place it is taken hold of (in radii of a grip),
        place, what a unit of the key moves it by, and the ends of the stroke that goes with it (true: the end moves
        too); all in the picture's own units, per unit of length of the drawing.
    """
    sheet, pose = Sheet("side", frame), drawing["folded" if folded else "deployed"]
    along, normal = pose["along"], pose["normal"]
    box, hinge = drawing["box"], drawing["hinge"]["height"]

    def at(s: float, n: float) -> Point:
        return s * along[0] + (n - hinge) * normal[0], s * along[1] + (n - hinge) * normal[1]

    hanger = (pose["hanger"][0], pose["hanger"][1])
    perch = (drawing["perch"]["downstream"], drawing["perch"]["height"])
    length, bed = box["length"], min(box["bed"], box["side_height"])
    found = (
        ("hanger along the box", hanger, along, _ON, ((hanger, True), (perch, False))),
        ("perch up and down", perch, (0.0, 1.0), (0.0, -2.1), ((perch, True), (hanger, False))),
        ("perch along", perch, (1.0, 0.0), (-2.1, 0.0), ((perch, True), (hanger, False))),
        ("tail of the box", at(length, 0.0), along, (1.1, 0.5), ((at(0.0, 0.0), False), (at(length, 0.0), True))),
        ("bed line", at(_BED_AT * length, bed), normal, _ON, ((at(0.0, bed), True), (at(length, bed), True))),
    )
    return [
        {
            "key": key,
            "name": name,
            "line": any(end == hanger for end, _ in ends),
            "beside": list(beside),
            "at": _rounded(sheet.place(point)),
            "way": _rounded((way[0] * sheet.scale, -way[1] * sheet.scale), digits=4),
            "ends": [[*_rounded(sheet.place(end)), moves] for end, moves in ends],
        }
        for key, (name, point, way, beside, ends) in zip(KEYS, found, strict=True)
        if not (folded and key == "bed.depth") and not (key == "box.length" and box.get("stretches"))
    ]


def _rounded(point: Point, *, digits: int = 2) -> list[float]:
    return [round(value, digits) + 0.0 for value in point]
