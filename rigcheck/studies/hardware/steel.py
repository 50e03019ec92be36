"""Sizes of the steel parts: listed shapes and sheet gauges, and pins, plates and welds in shop steps of our own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache

from rigcheck.analysis.items import Item
from rigcheck.case.rig import Rig
from rigcheck.loads.shape import divided
from rigcheck.loads.traps import traps
from rigcheck.parts.joint.checks import turn_name
from rigcheck.parts.stretches import in_stretch
from rigcheck.studies.hardware.record import Size
from rigcheck.tables import shapes
from rigcheck.tables.materials import gauge
from rigcheck.tables.shape_names import label
from rigcheck.tables.shapes import Shape

STEPS = "shop steps, not from a table"
_SIXTEENTH, _EIGHTH = 1.0 / 16.0, 1.0 / 8.0


@dataclass(frozen=True, slots=True)
class Steel:
    """A steel part whose size can be chosen.

    Attributes:
        key: Key of the case that holds the size.
        part: The checks' word for the part, by which it is listed.
        count: How many the rig has.
        words: What a size is called, with a place for it.
        least: Smallest size. [in]
        most: Largest size. [in]
        step: Between sizes. [in]
        gauges: Gauge numbers to choose from, thin to thick; none where sizes go in steps.
        also: The checks' words for other parts of the same size, and for the faces that something stands on.
    """

    key: str
    part: str
    count: int
    words: str
    least: float = 0.0
    most: float = 0.0
    step: float = _SIXTEENTH
    gauges: tuple[int, ...] = ()
    also: tuple[str, ...] = ()

    @property
    def parts(self) -> tuple[str, ...]:
        """All parts that have this size."""
        return (self.part, *self.also)

    @property
    def shaped(self) -> bool:
        """Whether the size is the name of a shape."""
        return self.key.endswith((".shape", ".stiffener"))


PARTS: tuple[Steel, ...] = (
    Steel("hinge.pin", Item.HINGE_PIN, 2, "{} round bar", 3.0 / 8.0, 3.0, _EIGHTH),
    Steel("hinge.barrel_wall", Item.BARREL, 2, "barrel wall {}", _EIGHTH, 0.75),
    Steel("hinge.weld", Item.BARREL_WELD, 2, "{} fillet on each barrel", _EIGHTH, 0.5),
    Steel("hanger.lug.plate", Item.HANGER_LUG, 2, "{} plate", 3.0 / 16.0, 1.0),
    Steel("hanger.lug.weld", Item.HANGER_LUG_WELD, 2, "{} fillet", _EIGHTH, 0.5),
    Steel("perch.lug.plate", Item.PERCH_LUG, 2, "{} plate", 3.0 / 16.0, 1.0),
    Steel("perch.lug.weld", Item.PERCH_LUG_WELD, 2, "{} fillet", _EIGHTH, 0.5),
    Steel("perch.post.shape", Item.POST, 2, "{} post", also=(Item.PERCH_LUG_FACE, Item.BRACE_FACE)),
    Steel("perch.post.weld", Item.POST_WELD, 2, "{} fillet all round", _EIGHTH, 0.5),
    Steel("perch.post.brace.shape", Item.BRACE, 2, "{} knee brace"),
    Steel("cross_member.shape", Item.CROSS_MEMBER, 1, "{} cross-members", also=(Item.HANGER_MEMBER,)),
    Steel(
        "cross_member.weld",
        Item.CROSS_MEMBER_WELD,
        1,
        "{} fillet at each end",
        _EIGHTH,
        0.5,
        also=(Item.HANGER_MEMBER_WELD, Item.HEAD_MEMBER_WELD),
    ),
    Steel("end_tube.shape", Item.HEAD_MEMBER, 1, "{} end tubes", also=(Item.BARREL_FACE,)),
    Steel("rail.stiffener", Item.RAIL, 2, "{} stiffeners", also=(Item.HANGER_LUG_FACE,)),
    Steel("box.sheet", Item.FLOOR, 1, "{} sheet", gauges=(18, 16, 14, 12, 11, 10, 9, 8, 7)),
)


def described(rig: Rig) -> list[Steel]:
    """Steel parts whose size the case gives; the first cross-member is the end tube where there is one at the head."""
    tube = rig.has("end_tube.shape") and bool(rig.value("end_tube.head"))
    found = []
    for part in PARTS:
        if not rig.has(part.key) or (part.part is Item.HEAD_MEMBER and not tube):
            continue
        if part.key == "cross_member.shape" and not tube:
            part = replace(part, also=(*part.also, Item.HEAD_MEMBER, Item.BARREL_FACE))
        found.append(_in_stretches(part, rig) if divided(rig) else part)
    return [*found, *_of_traps(rig)]


def _of_traps(rig: Rig) -> list[Steel]:
    """Wall of each trap below the floor, and the welds along its edges."""
    found = []
    for one in traps(rig):
        if not one.below:
            continue
        found.append(Steel(f"{one.key}.wall", one.part, 1, f"{{}} wall of {one.part}", _EIGHTH, 0.375))
        if rig.has(f"{one.key}.weld"):
            found.append(
                Steel(f"{one.key}.weld", f"{one.part} end weld", 1, f"{{}} fillet along both edges of {one.part}",
                      _EIGHTH, 0.375, also=(f"{one.part} cover weld",))
            )  # fmt: skip
    return found


def _in_stretches(part: Steel, rig: Rig) -> Steel:
    """A part with its names in every stretch, and the members where the sides turn with what lies across."""
    numbers = range(len(rig.value("stretch")))
    more = [in_stretch(name, number) for name in part.parts for number in numbers]
    if part.key in ("cross_member.shape", "end_tube.shape"):
        more += [turn_name(number) for number in numbers]
    return replace(part, also=(*part.also, *more))


def stepped(steel: Steel) -> list[Size]:
    """Sizes of a part that are numbers, smallest first."""
    if steel.gauges:
        sheets = [gauge(number) for number in steel.gauges]
        return [
            Size(words=steel.words.format(f"{sheet.number} ga ({sheet.thickness:g} in)"), tag=f"{sheet.number} ga",
                 changes={steel.key: sheet.thickness})
            for sheet in sheets
        ]  # fmt: skip
    count = round((steel.most - steel.least) / steel.step) + 1
    values = [steel.least + i * steel.step for i in range(count)]
    return [Size(words=steel.words.format(fraction(value)), changes={steel.key: value}) for value in values]


def shaped(rig: Rig, steel: Steel) -> list[Size]:
    """Listed shapes of the same kind as the one of the case, lightest first; none where its kind is not listed."""
    now = shapes.find(str(rig.value(steel.key)))
    alike = sorted((one for one in _listed() if _family(one) == _family(now)), key=lambda one: one.weight_per_length)
    return [Size(words=steel.words.format(one.name), changes={steel.key: one.name}) for one in alike]


def step_source(steel: Steel) -> str:
    """Where sizes that are numbers come from."""
    if not steel.gauges:
        return STEPS
    first = gauge(steel.gauges[0])
    return f"{first.source}; {first.clause} ({first.known})"


def shape_source(sizes: Sequence[Size], *, steel: Steel) -> str:
    """Table of listed shapes with clause."""
    first = shapes.find(str(sizes[0].changes[steel.key]))
    return f"{first.source}; {first.clause} ({first.known})"


@cache
def _listed() -> tuple[Shape, ...]:
    return tuple(shapes.find(name) for name in shapes.listed_names())


def _family(shape: Shape) -> tuple[str, bool]:
    """Kind of a shape, and whether it is as wide as deep."""
    return shape.kind, shape.depth == shape.width


def fraction(inches: float) -> str:
    """A size as a shop writes it, in thirty-seconds; in plain figures where it is on no such step."""
    return f"{label(inches).replace('-', ' ')} in"


def now_words(rig: Rig, steel: Steel) -> str:
    """What the case has."""
    value = rig.value(steel.key)
    if isinstance(value, str):
        return value
    return fraction(value)
