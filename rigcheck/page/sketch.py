"""A rig that stands for none, not to scale: where each of the first numbers is measured, and which way is plus."""

from __future__ import annotations

from html import escape

from rigcheck.page.typed import location_of

_LINES = (
    '<path class="part" d="M118 196L452 244L455 222L121 174z"/>'
    '<path class="part" d="M150 60h14v132h-14z"/><path class="rope" d="M166 66L352 214"/>'
    '<circle class="pin" cx="118" cy="192" r="5"/><circle cx="166" cy="66" r="4"/><circle cx="352" cy="214" r="4"/>'
    '<path class="ground" d="M20 296H500"/>'
)
_WORDS = ((74, 214, "hinge"), (176, 66, "perch"), (330, 242, "hanger"), (418, 262, "tail"), (250, 124, "line"))
_Measure = tuple[float, float, float, float, float, float, str]  # one end, the other, where the words begin
_SIDE: dict[str, _Measure] = {
    "box.length": (112, 262, 446, 310, 262, 306, "length, along the floor"),
    "box.side_height": (474, 246, 477, 224, 484, 240, "side height"),
    "hanger.at": (114, 232, 349, 265, 130, 256, "hanger from the hinge, along the floor"),
    "hanger.height": (356, 227, 353, 207, 372, 190, "hanger over the floor"),
    "perch.height": (60, 192, 60, 66, 66, 120, "perch over the hinge"),
    "perch.downstream": (118, 42, 166, 42, 172, 40, "perch from the hinge, plus is downstream"),
    "hinge.above_ground": (36, 192, 36, 296, 42, 288, "hinge over the ground"),
    "box.pitch": (250, 205, 330, 216, 210, 196, "pitch: falls this way"),
}
_ABOVE: dict[str, _Measure] = {
    "box.width": (470, 358, 470, 432, 476, 398, "width, inside"),
    "hinge.spacing": (96, 364, 96, 426, 4, 398, "hinge groups"),
    "hanger.spacing": (352, 346, 352, 444, 358, 398, "hangers apart"),
    "perch.spacing": (166, 338, 166, 452, 172, 398, "perches apart"),
}
KEYS = (*_SIDE, *_ABOVE)
"""Keys whose measure the sketch shows."""


def sketch_svg() -> str:
    """The sketch: each measure in a group of its own, so that the one asked for can be drawn bold."""
    above = (
        '<path class="part" d="M118 358H458V432H118z"/><path class="rope" d="M166 338L352 346M166 452L352 444"/>'
        '<circle class="pin" cx="118" cy="364" r="4"/><circle class="pin" cx="118" cy="426" r="4"/>'
    )
    words = "".join(f'<text x="{x}" y="{y}">{word}</text>' for x, y, word in _WORDS)
    measures = "".join(_measure(key, one) for key, one in (_SIDE | _ABOVE).items())
    return (
        '<svg class="sketch" viewBox="0 0 560 480" role="img" aria-label="A rig from the side and from above, not to '
        'scale, with the place of each measure">'
        f"{_LINES}{above}{words}{measures}"
        '<text x="20" y="18">From the side, not to scale; downstream is to the right</text>'
        '<text x="20" y="476">From above</text></svg>'
    )


def _measure(key: str, one: _Measure) -> str:
    location_of(key)  # a key that was renamed is found out here
    x0, y0, x1, y1, x, y, said = one
    return (
        f'<g class="measure" data-key="{key}"><path d="M{x0:g} {y0:g}L{x1:g} {y1:g}"/>'
        f'<circle cx="{x0:g}" cy="{y0:g}" r="2.5"/><circle cx="{x1:g}" cy="{y1:g}" r="2.5"/>'
        f'<text x="{x:g}" y="{y:g}">{escape(said)}</text></g>'
    )
