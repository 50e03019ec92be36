"""Random legal rigs over the whole space of cases, as they stand in a file: plain ones, and ones at every limit."""

import re
import tomllib
from collections.abc import Iterator
from copy import deepcopy
from dataclasses import dataclass
from functools import cache
from math import cos, sin
from random import Random
from typing import Any, NamedTuple

from rigcheck.case import CaseError, check_case, glossary
from rigcheck.case.schema.keys import toml_text
from rigcheck.quantities import DIMENSIONS, Dimension, QuantityError, exact, read
from rigcheck.tables import hardware, rope, shapes, steel
from tests.support.whole_rig import starter_text

Data = dict[str, Any]
TRIES = 60
STARTED = 0.3  # share of the cases that come from the starter


class Span(NamedTuple):
    """What a numeric key takes: dimension, least and most in inside units, a plain value, and whether least is out."""

    dimension: Dimension
    least: float
    most: float
    plain: float
    above: bool


@dataclass(frozen=True)
class Kinds:
    """Keys of a case by what they hold, all read off the glossary."""

    spans: dict[str, Span]
    wholes: dict[str, tuple[int, int]]
    choices: dict[str, tuple[str, ...]]


def _kinds() -> Kinds:
    found = Kinds({}, {}, {})
    for one in glossary():
        head = one.kind.partition(",")[0]
        if head in DIMENSIONS:
            limits = re.fullmatch(r"[a-z ]+, (at least|over) (.+), at most (.+)", one.kind)
            assert limits is not None, one
            low, high = (_value(text, head) for text in limits.groups()[1:])
            plain = _plain(one.example.strip('"'), head)
            found.spans[one.path] = Span(head, low, high, plain, limits[1] == "over")
        elif head == "whole number":
            least, most = (int(text) for text in re.findall(r"[0-9]+", one.kind))
            found.wholes[one.path] = (least, most)
        elif one.kind.startswith('"'):
            found.choices[one.path] = tuple(re.findall(r'"([^"]*)"', one.kind))
    return found


def _value(text: str, dimension: Dimension) -> float:
    return read(float(text) if dimension == "number" else text, dimension=dimension)


def _plain(text: str, dimension: Dimension) -> float:
    try:
        return _value(text, dimension)
    except QuantityError:  # an example of a key that has none
        return 1.0


KINDS = _kinds()
SHAPES = (
    *shapes.listed_names()[::9], "bar 2x1/4", "bar 1/4x2", "round 3/4", "angle 1-1/2x1-1/2x1/8", "angle 3x2x1/4",
    "tube 1x1x.083", "tube 2x1x14ga", "round tube 1-1/2x.120", "pipe 2 XS", "HSS4x2x1/8", "tube 6x6x.035", "round 6",
)  # fmt: skip
STEELS = steel.names()


class Maker:
    """Draws values; `wild` is how often one comes from the whole legal range, its ends included."""

    def __init__(self, rng: Random, *, wild: float) -> None:
        self.rng = rng
        self.wild = wild

    def often(self, share: float) -> bool:
        return self.rng.random() < share

    def number(
        self, path: str, *, low: float = -1e9, high: float = 1e9, mild: tuple[float, float] | None = None
    ) -> Any:
        """A value of a key as in a file, between its limits and two more."""
        span = KINDS.spans[path]
        least, most = max(low, span.least), min(high, span.most)
        assert least <= most, (path, least, most)
        near = mild or tuple(sorted((0.5 * span.plain, 2.0 * span.plain)))
        inner = max(near[0], least), min(near[1], most)
        if self.often(self.wild) or inner[0] >= inner[1]:
            value = self._anywhere(least, most)
        else:
            value = self.rng.uniform(*inner)
        if span.above and value <= span.least:
            value = min(span.least + 1e-3, most)
        return self.text(path, value)

    def text(self, path: str, value: float) -> Any:
        dimension = KINDS.spans[path].dimension
        return value if dimension == "number" else exact(value, dimension=dimension)

    def _anywhere(self, least: float, most: float) -> float:
        how = self.rng.randrange(6)
        if how == 0:
            return least
        if how == 1:
            return most
        if how == 2 and most > least >= 0.0:  # small numbers as often as large ones
            floor = max(least, 1e-4 * most)
            return min(max(floor * (most / floor) ** self.rng.random(), least), most)
        return self.rng.uniform(least, most)

    def whole(self, path: str, *, most: int = 99) -> int:
        low, high = KINDS.wholes[path]
        return self.rng.randint(low, min(high, most))

    def choice(self, path: str) -> str:
        return self.rng.choice(KINDS.choices[path])

    def flag(self) -> bool:
        return self.often(0.5)

    def some(self, table: str, *names: str, share: float = 0.5) -> Data:
        """Keys of a table that stand alone, each with some luck."""
        found: Data = {}
        for name in names:
            path = f"{table}.{name}"
            if not self.often(share):
                continue
            if path in KINDS.spans:
                found[name] = self.number(path)
            elif path in KINDS.wholes:
                found[name] = self.whole(path)
            elif path in KINDS.choices:
                found[name] = self.choice(path)
            elif name.endswith("steel"):
                found[name] = self.rng.choice(STEELS)
            else:
                found[name] = self.flag()
        return found


def extreme_case(rng: Random) -> Data:
    """A legal case.

    Args:
        rng: Where chance comes from; the same state gives the same case.

    Returns:
        Keys and values as in a file.
    """
    for _ in range(TRIES):
        if rng.random() < STARTED:
            data = _thinned(rng)
        else:
            data = _drawn(Maker(rng, wild=rng.choice((0.0, 0.0, 0.1, 0.3, 1.0))))
        try:
            check_case(data)
        except CaseError:
            continue
        return data
    raise AssertionError(f"no legal case in {TRIES} tries: the drawing has to follow the rules of the case")


def _thinned(rng: Random) -> Data:
    """The starter, its sizes moved and some of what it may leave out left out: rigs that nearly work."""
    data = nudged(starter_data(), rng=rng, keys=frozenset(KINDS.spans), share=rng.choice((0.1, 0.5, 1.0)))
    data["basis"] = rng.choice(KINDS.choices["basis"])
    required = {one.path for one in glossary() if one.required}
    for table in list(data):
        if table in ("title", "box", "hanger", "perch", "line"):
            continue
        if rng.random() < 0.15:
            del data[table]
    for holder, step, path in list(quantities(data)):
        if path not in required and isinstance(holder, dict) and rng.random() < 0.1:
            del holder[step]
    return data


def _drawn(make: Maker) -> Data:
    box = _box(make)
    along, wide, side = (_value(box[name], "length") for name in ("length", "width", "side_height"))
    data: Data = {"title": "Drawn by lot", "basis": make.choice("basis"), "box": box}
    data["hanger"] = _hanger(make, along=along, wide=wide, side=side)
    data["perch"] = _perch(make, along=along, wide=wide)
    data["hinge"] = _hinge(make, box)
    data["line"] = _line(make)
    data["rail"] = {
        **make.some("rail", "at", "steel", "sag_limit", "tail_limit"),
        "effective_floor_width": make.number("rail.effective_floor_width", high=0.5 * wide, mild=(0.0, 3.0)),
        **({"spacing": make.number("rail.spacing", low=wide - 2.0, high=wide + 12.0)} if make.often(0.5) else {}),
        **({"stiffener": make.rng.choice(SHAPES)} if make.often(0.7) else {}),
    }
    if make.often(0.7):
        data["cross_member"] = {
            "shape": make.rng.choice(SHAPES),
            "spacing": make.number("cross_member.spacing", mild=(10.0, 40.0)),
            **make.some("cross_member", "at", "steel", "weld"),
        }
    if make.often(0.5):
        data["end_tube"] = {"shape": make.rng.choice(SHAPES), **make.some("end_tube", "head", "tail")}
    if make.often(0.6):
        data["mat"] = {"weight": make.number("mat.weight"), **make.some("mat", "coverage")}
    data["fitting"] = [_fitting(make, along=along, wide=wide, side=side) for _ in range(make.rng.choice((0, 0, 1, 3)))]
    _use(make, data, along=along, side=side)
    if make.often(0.15):
        data["tail_leg"] = {
            "at": make.number("tail_leg.at", high=along, mild=(0.8 * along, along)),
            **make.some("tail_leg", "gap", "stiffness", "capacity"),
        }
    if make.often(0.15):
        data["second_line"] = {
            "at": make.number("second_line.at", high=along, mild=(0.7 * along, along)),
            "downstream": make.number("second_line.downstream", mild=(-60.0, -30.0)),
            **make.some("second_line", "height", "perch_height", "slack"),
            "link": [_link(make, "second_line.link", parts=1) for _ in range(make.rng.choice((0, 0, 1, 2)))],
        }
    _joined(make, data)
    return {name: value for name, value in data.items() if value != {}}


def _joined(make: Maker, data: Data) -> None:
    """How rails, hinge, posts and lugs are joined; drawn last."""
    for name in ("wall_seam", "floor_seam"):
        if make.often(0.5):
            seam: Data = {"leg": make.number(f"rail.{name}.leg"), **make.some(f"rail.{name}", "sides")}
            seam["made"] = "continuous"
            if make.often(0.5):
                pitch = make.number(f"rail.{name}.pitch", mild=(2.0, 12.0))
                most = _value(pitch, "length")
                run = make.number(f"rail.{name}.length", high=most, mild=(0.3 * most, most))
                seam |= {"made": "stitch", "pitch": pitch, "length": run}
            data["rail"][name] = seam
    data["hinge"] |= make.some("hinge", "barrel_on", "plant_barrel_length", "plant_barrel_wall", share=0.3)
    if "post" in data["perch"]:
        data["perch"]["post"] |= make.some("perch.post", "cap", "past_lug")
    for end in ("hanger", "perch"):
        if "lug" in data[end]:
            data[end]["lug"] |= make.some(f"{end}.lug", "through", share=0.3)


def _box(make: Maker) -> Data:
    box: Data = {
        "length": make.number("box.length", mild=(60.0, 170.0)),
        "width": make.number("box.width", mild=(14.0, 50.0)),
        "side_height": make.number("box.side_height", mild=(4.0, 16.0)),
        "pitch": make.number("box.pitch", mild=(0.0, 0.3)),
        "sheet": make.number("box.sheet", mild=(0.05, 0.2)),
        **make.some("box", "side_sheet", "divider_sheet", "allowance", "steel"),
    }
    width, side = _value(box["width"], "length"), _value(box["side_height"], "length")
    box["channels"] = make.whole("box.channels", most=max(1, int((width - 1e-6) / 2.1)))
    if make.often(0.4):
        box["divider_height"] = make.number("box.divider_height", high=side)
    return box


def _lug(make: Maker, end: str) -> Data:
    table = f"{end}.lug"
    hole = make.number(f"{table}.hole", high=4.0, mild=(0.3, 1.5))
    size = _value(hole, "length")
    lug: Data = {
        "plate": make.number(f"{table}.plate"),
        "hole": hole,
        "edge": make.number(f"{table}.edge", low=0.5001 * size, high=12.0 * size, mild=(0.8 * size, 4.0 * size)),
        "width": make.number(f"{table}.width", low=1.0001 * size, high=20.0 * size, mild=(1.5 * size, 5.0 * size)),
        **make.some(table, "weld", "steel", "turned", share=0.6),
    }
    foot = _value(lug["width"], "length")
    if make.often(0.3):
        lug["foot"] = make.number(f"{table}.foot", mild=(foot, 2.0 * foot))
        foot = _value(lug["foot"], "length")
    if make.often(0.6) and foot >= 0.25:
        lug["weld_length"] = make.number(f"{table}.weld_length", high=foot, mild=(0.5 * foot, foot))
    if make.often(0.5):
        lug["stand_off"] = make.number(f"{table}.stand_off", low=0.5001 * size, mild=(0.6 * size, 3.0))
    if make.often(0.5):
        lug["pin"] = make.number(f"{table}.pin", high=size, mild=(0.7 * size, size))
    return lug


def _hanger(make: Maker, *, along: float, wide: float, side: float) -> Data:
    hanger: Data = {
        "at": make.number("hanger.at", high=0.999 * along, mild=(0.45 * along, 0.9 * along)),
        "height": make.number("hanger.height", low=-24.0, high=side + 36.0, mild=(-2.0, side + 3.0)),
        "spacing": make.number("hanger.spacing", low=0.51 * wide, high=wide + 48.0, mild=(wide, wide + 8.0)),
    }
    if make.often(0.7):
        hanger["lug"] = _lug(make, "hanger")
    return hanger


def _perch(make: Maker, *, along: float, wide: float) -> Data:
    perch: Data = {
        "downstream": make.number("perch.downstream", mild=(-30.0, 20.0)),
        "height": make.number("perch.height", mild=(0.25 * along, 0.9 * along)),
        "spacing": make.number("perch.spacing", low=0.51 * wide, mild=(wide + 1.0, wide + 14.0)),
    }
    if make.often(0.7):
        perch["lug"] = _lug(make, "perch")
    if make.often(0.7):
        least = 0.501 * _value(perch["lug"]["width"], "length") if "lug" in perch else 0.0
        tall = make.number("perch.post.free_length", low=max(3.0, least), mild=(20.0, 90.0))
        free = _value(tall, "length")
        perch["post"] = {
            "shape": make.rng.choice(SHAPES),
            "free_length": tall,
            **make.some("perch.post", "steel", "weld", share=0.7),
        }
        if make.often(0.3):
            perch["post"]["lug_offset"] = make.number("perch.post.lug_offset", mild=(-3.0, 3.0))
        if make.often(0.4):
            top = make.rng.uniform(0.0, 0.95 * free)
            forward = make.rng.choice((-1.0, 1.0)) * make.rng.uniform(0.5, 60.0)
            perch["post"]["brace"] = {
                "foot_downstream": make.text("perch.post.brace.foot_downstream", forward),
                "foot_below": make.number("perch.post.brace.foot_below", low=top + 0.5, mild=(top + 5.0, top + 80.0)),
                "top_below": make.text("perch.post.brace.top_below", top),
                "shape": make.rng.choice(SHAPES),
                **make.some("perch.post.brace", "steel"),
            }
    return perch


def _hinge(make: Maker, box: Data) -> Data:
    long, wide = _value(box["length"], "length"), _value(box["width"], "length")
    pitch = _value(box["pitch"], "pitch")
    hinge = make.some("hinge", "pin_steel", "barrel_wall", "barrel_steel", "weld", "weld_length", "aligned",
                      "pin_retained", share=0.6)  # fmt: skip
    if make.often(0.4):
        hinge["height"] = make.number("hinge.height", mild=(-3.0, 6.0))
    if make.often(0.6):
        hinge["spacing"] = make.number("hinge.spacing", low=0.26 * wide, high=2.0 * wide, mild=(0.6 * wide, 1.1 * wide))
    low = long * sin(pitch) + _value(hinge.get("height", "0 in"), "length") * cos(pitch)
    if make.often(0.6) and low < 399.0:
        hinge["above_ground"] = make.number("hinge.above_ground", low=low + 0.01, mild=(low + 2.0, low + 40.0))
    if make.often(0.7):
        hinge |= _barrels(make, room=_value(str(hinge.get("spacing", box["width"])), "length"))
        if "weld_length" in hinge:
            del hinge["weld_length"]
            most = 2.0 * _value(hinge["barrel_length"], "length")
            if most >= 0.25:
                hinge["weld_length"] = make.number("hinge.weld_length", high=most, mild=(0.5 * most, most))
    return hinge


def _barrels(make: Maker, *, room: float) -> Data:
    """Barrels of one hinge group, no longer together than its room."""
    number = make.whole("hinge.barrels")
    most = room / (number + 0.5 * (number - 1)) - 1e-3
    length = make.number("hinge.barrel_length", high=min(most, 40.0))
    gap = make.number("hinge.gap", high=min(0.5 * _value(length, "length"), 2.0))
    return {"barrels": number, "barrel_length": length, "gap": gap, "pin": make.number("hinge.pin")}


def _link(make: Maker, table: str, *, parts: int) -> Data:
    kind = make.choice(f"{table}.kind")
    link: Data = {"kind": kind, **make.some(table, "length", "proof", "side_angle", "stiffness", share=0.4)}
    if make.often(0.2):
        link["count"] = make.whole(f"{table}.count")
    if parts > 1:
        link["carries"] = make.choice(f"{table}.carries")
    if kind in ("lever hoist", "come-along"):
        link["rated_to_suspend"] = make.often(0.7)
        link |= make.some(table, "lift", "headroom", share=0.7)
    if kind in ("lever hoist", "come-along", "rated part", "hook") or make.often(0.3):
        link |= _marked(make, table)
    if kind == "wire rope":
        link |= _rope(make, table)
    elif kind == "chain":
        link["grade"] = make.rng.choice(("30", "43", "70", "80", "100"))
        link["size"] = exact(make.rng.choice(hardware.chain_sizes(link["grade"])), dimension="length")
    elif kind == "shackle":
        link["grade"] = make.rng.choice(("carbon", "alloy"))
        link["size"] = exact(make.rng.choice(hardware.shackle_sizes(link["grade"])), dimension="length")
    elif kind in ("turnbuckle", "eyebolt"):
        link["size"] = make.rng.choice(("1/2 in", "5/8 in", "3/4 in"))
        if kind == "turnbuckle":
            link["end"] = make.choice(f"{table}.end")
            link |= make.some(table, "lift")
    if "wll" in link and (make.often(0.3) or _value(link["wll"], "force") > 2000.0):  # a mark does without a size
        link.pop("size", None)
    return link


def _marked(make: Maker, table: str) -> Data:
    """A mark, and now and then what breaks the part."""
    link: Data = {"wll": make.number(f"{table}.wll", mild=(500.0, 6000.0))}
    if make.often(0.4):
        mark = _value(link["wll"], "force")
        link["mbf"] = make.number(f"{table}.mbf", low=mark, high=10.0 * mark)
    return link


def _rope(make: Maker, table: str) -> Data:
    if make.often(0.3):  # known only by its tag
        link = make.some(table, "wll", "termination", "diameter", "bend_diameter", "modulus", "area", share=0.6)
        low = _value(link.get("wll", "10 lb"), "force")
        return link | {"mbf": make.number(f"{table}.mbf", low=low, high=10.0 * low if "wll" in link else 1e9)}
    name = make.rng.choice(rope.tables())
    link = {
        "table": name,
        "column": make.rng.choice(rope.columns(name)) or "ips",
        "diameter": exact(make.rng.choice(rope.diameters(name)), dimension="length"),
        "termination": make.choice(f"{table}.termination"),
        **make.some(table, "bend_diameter", "modulus", "area", "mbf"),
    }
    if len(rope.columns(name)) == 1:
        del link["column"]
    if link["termination"].startswith("clips") and make.often(0.7):
        link["clips"] = make.rng.randint(1, 9)
    return link


def _line(make: Maker) -> Data:
    parts = make.rng.choice((1, 1, 1, 2, 3, 6))
    links = [_link(make, "line.link", parts=parts) for _ in range(make.rng.choice((1, 2, 4)))]
    line: Data = {"parts": parts, "link": links, **make.some("line", "sheave_efficiency", "wear", "backup_slack")}
    if make.often(0.25):
        line["backup"] = [_link(make, "line.backup", parts=1) for _ in range(make.rng.choice((1, 2)))]
    return line


def _fitting(make: Maker, *, along: float, wide: float, side: float) -> Data:
    out = 0.5 * wide + 24.0
    lump = {
        "name": "lump",
        "weight": make.number("fitting.weight"),
        "at": make.number("fitting.at", low=-24.0, high=min(along + 36.0, 400.0), mild=(0.0, along)),
    }
    if make.often(0.5):
        lump["across"] = make.number("fitting.across", low=-out, high=out)
    if make.often(0.5):
        lump["height"] = make.number("fitting.height", low=-24.0, high=side + 36.0)
    return lump


def _use(make: Maker, data: Data, *, along: float, side: float) -> None:
    data["plant"] = make.some("plant", "cross_slope")
    if make.often(0.7):
        names = ("roughness", "feed", "solids_density", "solids_sg", "fall")
        data["water"] = {"flow": make.number("water.flow"), **make.some("water", *names)}
        if make.often(0.5):
            data["water"]["lip"] = make.number("water.lip", high=2.0 * side)
    data["bed"] = make.some("bed", "density", "heap", share=0.3)
    if make.often(0.8):
        data["bed"]["depth"] = make.number("bed.depth", high=side, mild=(0.0, 0.5 * side))
    data["person"] = make.some("person", "weight", "people", share=0.3)
    data["ice"] = make.some("ice", "full", "depth", "density", share=0.3)
    data["wind"] = make.some("wind", "parked", "road", share=0.3)
    data["towing"] = make.some("towing", "vertical", "fore_aft", "side", share=0.3)
    data["weld"] = make.some("weld", "electrode", "hand", share=0.3)
    names = tuple(path.partition(".")[2] for path in KINDS.spans if path.startswith("factors."))
    data["factors"] = make.some("factors", *names, share=0.2)
    if make.often(0.7):
        data["fold"] = {"to": make.number("fold.to", mild=(0.9, 1.9)), **make.some("fold", "one_line", "snub")}
        if data["fold"].get("snub") and make.often(0.5):
            data["fold"]["snub_wll"] = make.number("fold.snub_wll", mild=(200.0, 3000.0))
        data["haul"] = _haul(make, along=along)
    if make.often(0.15):
        data["measured"] = make.some("measured", "empty_weight")
        if make.often(0.7):
            far = min(along + 36.0, 400.0)
            data["measured"] |= {
                "tail_lift": make.number("measured.tail_lift"),
                "tail_lift_at": make.number("measured.tail_lift_at", high=far, mild=(0.6 * along, along)),
            }


def _haul(make: Maker, *, along: float) -> Data:
    def point(reach: float) -> list[str]:
        return [f"{make.rng.uniform(-reach, reach):.3f} in" for _ in range(3)]

    def strap() -> Data:
        wll = make.number("haul.tie_down.wll", mild=(500.0, 5000.0))
        mbf = make.number("haul.tie_down.mbf", low=_value(wll, "force"), high=10.0 * _value(wll, "force"))
        return {
            "wll": wll,
            "from": [f"{make.rng.uniform(0.0, along):.3f} in", *point(20.0)[1:]],
            "to": anchor(),
            **make.some("haul.tie_down", "kind", "count", "stiffness", share=0.4),
            **({"mbf": mbf} if make.often(0.6) else {}),
        }

    haul: Data = make.some("haul", "leading_end", "left_over")
    if make.often(0.5):
        haul["hinge_above_road"] = make.number("haul.hinge_above_road", mild=(30.0, 60.0))
    low = -_value(haul.get("hinge_above_road", "168 in"), "length")

    def anchor() -> list[str]:
        far = along + 120.0 if make.often(make.wild) else 80.0
        x, y = make.rng.uniform(-far, far), make.rng.uniform(-72.0, 72.0)
        return [f"{one:.3f} in" for one in (x, y, make.rng.uniform(max(low, -168.0), 168.0))]

    haul["tie_down"] = [strap() for _ in range(make.rng.choice((0, 0, 1, 2, 4)))]
    haul["stop"] = [
        {
            "at": [f"{make.rng.uniform(0.0, along):.3f} in", *point(20.0)[1:]],
            "direction": make.choice("haul.stop.direction"),
            **make.some("haul.stop", "capacity"),
        }
        for _ in range(make.rng.choice((0, 0, 1, 2)))
    ]
    return haul


@cache
def _starter() -> Data:
    return tomllib.loads(starter_text())


def starter_data() -> Data:
    """The starter as parsed from its file, a new one at each call."""
    return deepcopy(_starter())


def toml_of(data: Data) -> str:
    """The text of a case file, one line for each key at its top."""

    def inline(value: Any) -> str:
        if isinstance(value, dict):
            return "{" + ", ".join(f"{key} = {inline(one)}" for key, one in value.items()) + "}"
        if isinstance(value, list):
            return "[" + ", ".join(inline(one) for one in value) + "]"
        return toml_text(value)

    return "".join(f"{key} = {inline(value)}\n" for key, value in data.items())


def quantities(data: Any, above: str = "") -> Iterator[tuple[Any, str | int, str]]:
    """Holder, step and key path of every quantity in a case."""
    steps = data.items() if isinstance(data, dict) else enumerate(data)
    for step, inner in steps:
        path = f"{above}.{step}" if isinstance(step, str) else above
        if isinstance(inner, dict | list):
            yield from quantities(inner, path)
        elif path.strip(".") in KINDS.spans:
            yield data, step, path.strip(".")


def nudged(data: Data, *, rng: Random, keys: frozenset[str], share: float = 0.3) -> Data:
    """A legal case of the same structure with some of its quantities moved, each within its limits.

    Args:
        data: A legal case; left alone.
        rng: Where chance comes from.
        keys: Key paths that may move, repeated tables without their number.
        share: How many of them move.

    Returns:
        The case, or the same one again where none of a few tries was legal.
    """
    for _ in range(6):
        new = deepcopy(data)
        for holder, step, path in list(quantities(new)):
            if path not in keys or rng.random() > share:
                continue
            span = KINDS.spans[path]
            value = _value(holder[step], span.dimension)
            moved = value * rng.uniform(0.7, 1.4) + (rng.uniform(-1e-3, 1e-3) if value == 0.0 else 0.0)
            moved = min(max(moved, span.least + (1e-6 if span.above else 0.0)), span.most)
            holder[step] = moved if span.dimension == "number" else exact(moved, dimension=span.dimension)
        try:
            check_case(new)
        except CaseError:
            continue
        return new
    return deepcopy(data)
