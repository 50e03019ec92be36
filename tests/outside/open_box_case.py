"""A box as its case file says it, for models that take no number from the engine: sizes, sections and static loads.

Only the reading of a text with a unit into inches is shared with the package. Weights, depths of water and section
properties are worked here anew, by other means where there are any (strips summed instead of closed forms).
"""

import math
import tomllib
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import numpy as np
from scipy.optimize import brentq

from rigcheck.quantities import read
from tests.outside.values import DATA

RECORD = DATA / "open_box.toml"
MESH = 2.0  # largest element of the record [in]
HALVED = "larkspur-bar"  # the box that is solved once more with elements of half that size
STEEL = 490.0 / 1728.0  # weight of steel [lbf/in3]; 490 lb/ft3, AISC Manual (memory)
WATER = 62.4 / 1728.0  # weight of water [lbf/in3]
GRAVITY = 9.80665 / 0.0254  # [in/s2]
DESIGN_WALL = 0.93  # design wall of an HSS or pipe over its nominal wall, AISC 360 B4.2
PIPES = {"1": (1.315, 0.133), "1-1/4": (1.660, 0.140), "1-1/2": (1.900, 0.145), "2": (2.375, 0.154)}  # ASME B36.10, STD


@dataclass(frozen=True)
class Section:
    """A straight member: area, second moments, torsion constant, and how it stands.

    Attributes:
        area: Area. [in2]
        upright: Second moment for bending up and down. [in4]
        flat: Second moment for bending sideways. [in4]
        torsion: St Venant torsion constant. [in4]
        depth: Overall depth. [in]
        width: Overall width. [in]
        centroid: Centroid above the bottom face. [in]
        heavy: Area that weighs, of the nominal wall where the wall counted for strength is less. [in2]
    """

    area: float
    upright: float
    flat: float
    torsion: float
    depth: float
    width: float
    centroid: float
    heavy: float


def _chord(depth: float, width: float, radius: float, height: np.ndarray) -> np.ndarray:
    """Width of a rectangle with rounded corners at a height from its middle."""
    into = np.clip(np.abs(height) - (0.5 * depth - radius), 0.0, radius)
    cut = radius - np.sqrt(np.maximum(radius**2 - into**2, 0.0))
    return np.where(np.abs(height) <= 0.5 * depth, width - 2.0 * cut, 0.0)


def _tube_bending(depth: float, width: float, wall: float) -> tuple[float, float]:
    """Area and second moment of a tube, outside corners 2 t and inside corners t, summed over 20,000 strips."""
    height = (np.arange(20000) + 0.5) / 20000 * depth - 0.5 * depth
    strip = depth / 20000
    outer = _chord(depth, width, 2.0 * wall, height)
    inner = _chord(depth - 2.0 * wall, width - 2.0 * wall, wall, height)
    net = outer - inner
    return float(np.sum(net) * strip), float(np.sum(net * height**2) * strip)


def tube(depth: float, width: float, wall: float) -> Section:
    """A rectangular tube; torsion by Bredt, 4 A^2 t / p on the middle line with corners 1.5 t."""
    area, upright = _tube_bending(depth, width, wall)
    _, flat = _tube_bending(width, depth, wall)
    corner = 1.5 * wall
    b, d = width - wall, depth - wall
    enclosed = b * d - (4.0 - math.pi) * corner**2
    around = 2.0 * (b + d) - (8.0 - 2.0 * math.pi) * corner
    return Section(area, upright, flat, 4.0 * enclosed**2 * wall / around, depth, width, 0.5 * depth, area)


def round_tube(outside: float, wall: float) -> Section:
    """A round tube."""
    inside = outside - 2.0 * wall
    second = math.pi / 64.0 * (outside**4 - inside**4)
    area = math.pi / 4.0 * (outside**2 - inside**2)
    return Section(area, second, second, 2.0 * second, outside, outside, 0.5 * outside, area)


def angle(upright: float, flat: float, wall: float) -> Section:
    """An angle, one leg up and one leg flat against what it carries, which is on top of it."""
    legs = [(wall, upright, 0.5 * wall, 0.5 * upright), (flat - wall, wall, 0.5 * (flat + wall), upright - 0.5 * wall)]
    area = sum(b * d for b, d, _, _ in legs)
    x, y = (sum(b * d * at[k] for b, d, *at in legs) / area for k in (0, 1))
    tall = sum(b * d**3 / 12.0 + b * d * (yc - y) ** 2 for b, d, _, yc in legs)
    wide = sum(d * b**3 / 12.0 + b * d * (xc - x) ** 2 for b, d, xc, _ in legs)
    return Section(area, tall, wide, (upright + flat - wall) * wall**3 / 3.0, upright, flat, y, area)


def _inches(written: str) -> float:
    written = written.strip()
    if written.endswith("ga"):
        return read(f"{written[:-2].strip()} ga", dimension="thickness")
    whole, _, part = written.replace("-", " ").rpartition(" ")
    return float(Fraction(whole or "0") + Fraction(part))


def section(name: str) -> Section:
    """Properties of a shape by its name, from its sizes."""
    text = name.strip()
    kinds: dict[str, Callable[[list[float]], Section]] = {
        "HSS": lambda d: replace(tube(d[0], d[1], DESIGN_WALL * d[2]), heavy=tube(*d).area),
        "round tube": lambda d: round_tube(d[0], d[1]),
        "tube": lambda d: tube(d[0], d[1], d[2]),
        "angle": lambda d: angle(d[0], d[1], d[2]),
        "L": lambda d: angle(d[0], d[1], d[2]),
    }
    if text.startswith("pipe"):
        outside, wall = PIPES[text.split()[1]]
        return replace(round_tube(outside, DESIGN_WALL * wall), heavy=round_tube(outside, wall).area)
    for kind, made in kinds.items():
        if text.startswith(kind):
            return made([_inches(part) for part in text[len(kind) :].split("x")])
    raise ValueError(f"no section for {name}")


def files() -> list[Path]:
    """The case files that are modeled."""
    return sorted((Path(__file__).parent / "boxes").glob("*.toml"))


class Written:
    """A case file by key path, each value read to inch, pound and radian when asked for."""

    def __init__(self, tree: Mapping[str, Any]) -> None:
        self.tree = tree

    def raw(self, path: str, default: Any = None) -> Any:
        """What stands at a path, or the default."""
        here: Any = self.tree
        for key in path.split("."):
            if not isinstance(here, Mapping) or key not in here:
                return default
            here = here[key]
        return here

    def number(self, path: str, dimension: Any = "length", default: float | None = None) -> float:
        """A number with its unit read."""
        found = self.raw(path)
        if found is not None:
            return read(found, dimension=dimension)
        if default is None:
            raise KeyError(path)
        return default


@dataclass(frozen=True)
class Cross:
    """A member across the box: what it is called, its station and its section."""

    name: str
    at: float
    section: Section


@dataclass(frozen=True)
class Box:
    """Sizes of one box; lengths in inches, `loads` in pounds. Left is +1, right -1.

    Attributes:
        floor_load: Weight on each square inch of inside floor and its height above the floor, by load case.
        lumps: (load case, weight, s, y, n), y None where it lies across the whole floor.
        gone: Cross-members whose place an end tube takes.
    """

    name: str
    length: float
    width: float
    side: float
    pitch: float
    sheet: float
    side_sheet: float
    divider_sheet: float
    divider_height: float
    channels: int
    allowance: float
    stiffener: Section | None
    cap: bool
    crosses: tuple[Cross, ...]
    gone: tuple[Cross, ...]
    hinge_n: float
    hinge_half: float
    hanger: tuple[float, float, float]
    lug: float
    perch: tuple[float, float, float]
    floor_load: tuple[tuple[str, float, float], ...]
    lumps: tuple[tuple[str, float, float, float | None, float], ...]


def _water_depth(flow: float, width: float, slope: float, roughness: float) -> float:
    """The larger of Manning's normal depth and critical depth. [in]"""
    feet, rate = width / 12.0, flow / 1728.0

    def short(depth: float) -> float:
        y = depth / 12.0
        return 1.486 / roughness * feet * y * (feet * y / (feet + 2.0 * y)) ** (2.0 / 3.0) * math.sqrt(slope) - rate

    critical = 12.0 * ((rate / feet) ** 2 / (GRAVITY / 12.0)) ** (1.0 / 3.0)
    return max(critical, float(brentq(short, 1e-6, 500.0)))


def _contents(case: Written, width: float, pitch: float, channels: int) -> tuple[list[Any], list[Any]]:
    """Mats, bed, running water as floor loads; feed, person and fittings as lumps."""
    floor: list[Any] = []
    lumps: list[Any] = []
    if case.raw("mat"):
        cover = case.number("mat.coverage", "fraction", 1.0)
        floor.append(("dead", case.number("mat.weight", "area load") * cover, 0.5))
    bed = case.number("bed.depth", default=0.0)
    floor.append(("bed", bed * case.number("bed.density", "density", 125.0 / 1728.0), 0.5 * bed))
    if case.raw("water"):
        flow = case.number("water.flow", "flow")
        grains = case.number("water.feed", "feed", 0.0) * case.number("water.solids_density", "density", 100.0 / 1728.0)
        heavy = case.number("water.solids_sg", "number", 2.65)
        solids = grains / (heavy * WATER)
        mixed = WATER * (1.0 + solids / (solids + flow) * (heavy - 1.0))
        depth = _water_depth((flow + solids) / channels, width / channels, math.sin(pitch),
                             case.number("water.roughness", "number", 0.035))  # fmt: skip
        depth = min(depth, case.number("box.side_height") - bed)
        floor.append(("water", depth * mixed, bed + 0.5 * depth))
        speed = math.sqrt(2.0 * GRAVITY * case.number("water.fall", default=0.0))
        lumps.append(("water", mixed / GRAVITY * (flow + solids) * speed, 12.0, None, 0.0))
    for one in case.raw("fitting", []):
        part = Written(one)
        off = part.number("across") if "across" in one else None
        height = part.number("height", default=0.0)
        lumps.append(("dead", part.number("weight", "force"), part.number("at"), off, height))
    person = case.number("person.weight", "force", 250.0) * int(case.raw("person.people", 1))
    lumps.append(("person", person, case.number("box.length"), 0.5 * case.number("box.width"), 0.0))
    return floor, lumps


def _crosses(case: Written, length: float) -> tuple[tuple[Cross, ...], tuple[Cross, ...]]:
    """End tubes at both ends and cross-members from the hinge on at their spacing, and those of them left out.

    None stands out over an end of the box, and none in the place of another: a tube takes the place of the cross-member
    that it would overlap.
    """
    found, gone = [], []
    if case.raw("end_tube"):
        one = section(case.raw("end_tube.shape"))
        if case.raw("end_tube.head", True):
            found.append(Cross("head tube", 0.5 * one.width, one))
        if case.raw("end_tube.tail", True):
            found.append(Cross("tail tube", length - 0.5 * one.width, one))
    tubes = tuple(found)
    if case.raw("cross_member"):
        one, spacing = section(case.raw("cross_member.shape")), case.number("cross_member.spacing")
        for k in range(math.floor(length / spacing + 1e-9) + 1):
            half = 0.5 * one.width
            at = min(max(k * spacing, half), length - half)
            there = all(abs(at - end.at) >= half + 0.5 * end.section.width for end in tubes)
            (found if there else gone).append(Cross(f"cross-member {k + 1}", at, one))
    return tuple(found), tuple(gone)


def lever_arm(box: Box) -> float:
    """Of the line about the hinge axis. [in]"""
    at, line = np.array(box.hanger)[[0, 2]], np.array(box.perch) - np.array(box.hanger)
    along, up = line[[0, 2]] / np.linalg.norm(line)
    return float(at[0] * up - (at[1] - box.hinge_n) * along)


def pull_of_what_is_gone(box: Box) -> float:
    """What the cross-members that an end tube takes the place of would pull on the line, if they weighed. [lbf]"""
    each = (box.width + 2.0 * box.side_sheet) * STEEL * (1.0 + box.allowance)
    return sum(one.section.heavy * each * one.at * math.cos(box.pitch) for one in box.gone) / lever_arm(box)


def read_box(path: Path) -> Box:
    """The box of a case file."""
    case = Written(tomllib.loads(path.read_text(encoding="utf-8")))
    length, width = case.number("box.length"), case.number("box.width")
    sheet = case.number("box.sheet", "thickness")
    side = case.number("box.side_height")
    pitch = case.number("box.pitch", "pitch")
    channels = int(case.raw("box.channels", 1))
    divider = case.number("box.divider_sheet", "thickness", sheet)
    floor, lumps = _contents(case, width - (channels - 1) * divider, pitch, channels)
    hinge_n = case.number("hinge.height", default=0.0)
    x, z = case.number("perch.downstream"), case.number("perch.height")
    stiffener = case.raw("rail.stiffener")
    crosses, gone = _crosses(case, length)
    return Box(
        name=path.stem,
        length=length,
        width=width,
        side=side,
        pitch=pitch,
        sheet=sheet,
        side_sheet=case.number("box.side_sheet", "thickness", sheet),
        divider_sheet=divider,
        divider_height=case.number("box.divider_height", default=side),
        channels=channels,
        allowance=case.number("box.allowance", "fraction", 0.08),
        stiffener=section(stiffener) if stiffener else None,
        cap=case.raw("rail.at", "top") == "cap",
        crosses=crosses,
        gone=gone,
        hinge_n=hinge_n,
        hinge_half=0.5 * case.number("hinge.spacing", default=width),
        hanger=(case.number("hanger.at"), 0.5 * case.number("hanger.spacing"), case.number("hanger.height")),
        lug=case.number("hanger.lug.width", default=2.0),
        perch=(
            x * math.cos(pitch) - z * math.sin(pitch),
            0.5 * case.number("perch.spacing"),
            x * math.sin(pitch) + z * math.cos(pitch) + hinge_n,
        ),
        floor_load=tuple(floor),
        lumps=tuple(lumps),
    )
