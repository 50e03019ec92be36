"""What is asked of somebody who describes a rig for the first time, in the order of the job."""

from __future__ import annotations

import re

EAR_KEYS = tuple(
    f"hinge.{ear}.{key}"
    for ear in ("ear", "plant_ear")
    for key in ("plate", "hole", "edge", "width", "stand_off", "weld", "weld_length", "steel")
)
JOB = (
    "title",
    "box.length", "box.width", "box.side_height", "box.pitch", "box.sheet", "box.steel",
    "rail.stiffener", "cross_member.shape", "cross_member.spacing", "cross_member.weld", "end_tube.shape",
    "hinge.height", "hinge.spacing", "hinge.kind", "hinge.barrels", "hinge.barrel_length",
    "hinge.pin", "hinge.pin_steel", "hinge.barrel_wall", "hinge.weld", "hinge.weld_length",
    *EAR_KEYS,
    "hinge.shear", "hinge.pin_retained", "hinge.above_ground",
    "hanger.at", "hanger.height", "hanger.spacing",
    "hanger.lug.plate", "hanger.lug.hole", "hanger.lug.edge", "hanger.lug.width", "hanger.lug.weld",
    "hanger.lug.weld_length", "hanger.lug.stand_off",
    "perch.downstream", "perch.height", "perch.spacing",
    "perch.lug.plate", "perch.lug.hole", "perch.lug.edge", "perch.lug.width", "perch.lug.weld",
    "perch.lug.weld_length", "perch.lug.stand_off",
    "perch.post.shape", "perch.post.free_length", "perch.post.weld",
    "line.link",
    "water.flow", "bed.depth", "fold.to",
    "plant.weight", "plant.cg_downstream", "plant.cg_height", "plant.foot",
    "plant.wheels.axle", "plant.wheels.tongue", "plant.wheels.track",
)  # fmt: skip
"""Keys in the order they are asked; `line.link` stands for the links of a line, one after the other, `plant.foot`
for the feet of the plant."""

LINKS = "line.link"
KIND = "hinge.kind"
OF_BARRELS = frozenset({"hinge.barrels", "hinge.barrel_length", "hinge.barrel_wall", "hinge.weld", "hinge.weld_length"})
"""Asked of a hinge that is not said to be one of plates."""
OF_EARS = frozenset({*EAR_KEYS, "hinge.shear"})
"""Asked of a hinge of ears alone."""
NOT_OF = {"ears": OF_BARRELS, "center pivot": OF_BARRELS | {"hinge.shear"}}
"""Not asked of a kind of hinge; what is of ears of no other."""
FEET = "plant.foot"
OF_FOOT = ("downstream", "across")
FEWEST_FEET, MOST_FEET = 3, 8
"""As the rules of a case have it."""
_HOIST = ("wll", "mbf", "rated_to_suspend", "lift", "headroom")
_OF_LINK = {
    "shackle": ("size", "grade", "wll", "mbf", "length"),
    "wire rope": ("table", "diameter", "termination", "clips", "bend_diameter", "wll", "mbf", "length"),
    "chain": ("grade", "size", "wll", "mbf", "length"),
    "turnbuckle": ("size", "end", "wll", "mbf", "length"),
    "eyebolt": ("size", "wll", "mbf", "length"),
    "lever hoist": _HOIST,
    "come-along": _HOIST,
}
_OF_OTHER = ("wll", "mbf", "length")
_UNKNOWN = re.compile(r"\s*(?:\?+|-+|unknown|no idea|(?:i\s+)?do(?:n'?t|\s+not)\s+know)\s*[.!]?\s*", re.I)


def of_link(kind: str) -> tuple[str, ...]:
    """Keys that are asked of a kind of link."""
    return _OF_LINK.get(kind, _OF_OTHER)


def not_known(answer: str) -> bool:
    """Whether an answer says that it is not known; an empty one says so too."""
    return not answer.strip() or _UNKNOWN.fullmatch(answer.replace("\u2019", "'")) is not None
