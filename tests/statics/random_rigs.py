"""Random rigs over the legal space: bare layouts with random loads, and whole cases with their numbers varied."""

from dataclasses import dataclass

import numpy as np

from rigcheck.analysis.bending import Bending, Rails
from rigcheck.case.reading.read import read_case_text
from rigcheck.case.rig import Rig, varied
from rigcheck.loads.pieces import BOUNDS, Loads, Lump, Push, Row, Strip, stack
from rigcheck.statics.balance import Balance, balance
from rigcheck.statics.deflection import Deflection
from rigcheck.statics.geometry import Layout, Pose, pose
from rigcheck.statics.grillage import Across, grillage
from rigcheck.statics.rail import Section
from rigcheck.statics.resultant import Resultant, resultant

PLAIN = """
title = "Teasel Gulch, plain box"
[box]
length = "8 ft 9 in"
width = "27 in"
side_height = "7 in"
pitch = "1 3/8 in/ft"
sheet = "12 ga"
[rail]
stiffener = "HSS1-1/2x1-1/2x1/8"
effective_floor_width = "2 in"
[cross_member]
shape = "HSS1-1/2x1-1/2x1/8"
spacing = "15 in"
[mat]
weight = "2 lb/ft2"
[[fitting]]
name = "tail lip"
weight = "19 lb"
at = "8 ft 7 in"
across = "1 in"
height = "2 in"
[hinge]
spacing = "25 in"
[hanger]
at = "5 ft 11 in"
height = "7 1/2 in"
spacing = "30 in"
[perch]
downstream = "-8 in"
height = "58 in"
spacing = "35 in"
[line]
wear = "5 %"
[[line.link]]
kind = "shackle"
size = "1/2 in"
grade = "carbon"
[[line.link]]
kind = "wire rope"
table = "rope_6x19_fc_ips"
diameter = "7/16 in"
termination = "mechanical splice"
thimble = true
length = "40 in"
[water]
flow = "190 gpm"
lip = "4 1/4 in"
feed = "4 yd3/h"
fall = "11 in"
[bed]
depth = "1 1/2 in"
density = "128 lb/ft3"
[plant]
cross_slope = "1.5 deg"
"""
CHANNELS = PLAIN.replace('sheet = "12 ga"', 'sheet = "12 ga"\nchannels = 2').replace("Teasel", "Burdock")
ANGLE_UNDER = PLAIN.replace('stiffener = "HSS1-1/2x1-1/2x1/8"', 'stiffener = "HSS2x1x1/8"\nat = "bottom"').replace(
    "Teasel", "Sedge"
)
FOLDING = PLAIN.replace("Teasel", "Yarrow") + '[fold]\nto = "70 deg"\n'
STRUCTURES = {"plain": PLAIN, "channels": CHANNELS, "low stiffener": ANGLE_UNDER, "folding": FOLDING}


def rig_of(text: str, name: str = "random") -> Rig:
    return Rig(read_case_text(text, name=name))


def varied_rig(text: str, count: int, *, seed: int) -> Rig:
    """A batch of rigs with every number that the statics see drawn over the trade's range."""
    draw = np.random.default_rng(seed)

    def some(low: float, high: float) -> np.ndarray:
        return draw.uniform(low, high, count)

    length, width, side = some(60.0, 168.0), some(18.0, 48.0), some(5.0, 14.0)
    changes = {
        "box.length": length,
        "box.width": width,
        "box.side_height": side,
        "box.pitch": np.arctan(some(0.0, 3.0) / 12.0),
        "hinge.height": some(-2.0, 4.0),
        "hinge.spacing": width * some(0.6, 1.1),
        "hanger.at": length * some(0.35, 0.95),
        "hanger.height": some(-1.0, 1.0) + side * some(0.3, 1.3),
        "hanger.spacing": width + some(0.5, 8.0),
        "perch.downstream": some(-20.0, 18.0),
        "perch.height": some(24.0, 100.0),
        "perch.spacing": width + some(0.5, 30.0),
        "bed.depth": some(0.0, 4.0),
        "water.flow": some(0.0, 2000.0),
        "water.lip": some(1.0, 5.0),
        "plant.cross_slope": np.radians(some(0.0, 4.0)),
        "fitting.0.at": length * some(0.0, 1.0),
        "fitting.0.weight": some(0.0, 90.0),
    }
    return varied(rig_of(text), changes)


@dataclass(frozen=True)
class Bare:
    """A layout, its loads and what holds them."""

    layout: Layout
    loads: Loads
    pose: Pose
    resultant: Resultant
    balance: Balance
    section: Section


def hang(layout: Layout, rows: list[Row], *, section: Section, batch: tuple[int, ...] = ()) -> Bare:
    """Statics of given rows on a given layout."""
    loads = stack(rows, batch=batch)
    at = pose(layout, fold=loads.fold)
    force = resultant(loads, layout=layout, pose=at)
    return Bare(layout, loads, at, force, balance(force, layout=layout, pose=at), section)


def layout_of(**changes: float | np.ndarray) -> Layout:
    """An invented layout; keywords replace its numbers."""
    numbers = {
        "pitch": 0.12, "length": 107.0, "hinge_height": 0.5, "hinge_spacing": 24.0, "hanger_s": 71.0, "hanger_n": 7.0,
        "hanger_spacing": 29.0, "perch_x": -7.0, "perch_z": 55.0, "perch_spacing": 33.0, "rail_spacing": 26.0,
    }  # fmt: skip
    return Layout(**{key: np.asarray(value, dtype=np.float64) for key, value in (numbers | changes).items()})


def section_of(**changes: float | np.ndarray) -> Section:
    numbers = {"area": 1.9, "inertia": 11.0, "axis": 3.4, "top": 8.0, "bottom": -0.1, "modulus": 29.0e6} | changes
    return Section(**{key: np.asarray(value, dtype=np.float64) for key, value in numbers.items()})


def random_layout(count: int, *, seed: int) -> Layout:
    draw = np.random.default_rng(seed)

    def some(low: float, high: float) -> np.ndarray:
        return draw.uniform(low, high, count)

    length, width = some(60.0, 168.0), some(18.0, 48.0)
    return layout_of(
        pitch=np.arctan(some(0.0, 3.0) / 12.0), length=length, hinge_height=some(-2.0, 4.0),
        hinge_spacing=width * some(0.6, 1.1), hanger_s=length * some(0.35, 0.95), hanger_n=some(-1.0, 14.0),
        hanger_spacing=width + some(0.5, 8.0), perch_x=some(-20.0, 18.0), perch_z=some(24.0, 100.0),
        perch_spacing=width + some(0.5, 30.0), rail_spacing=width,
    )  # fmt: skip


def random_rows(layout: Layout, count: int, *, seed: int, leaning: bool = True, fold: float = 0.0) -> list[Row]:
    """Two rows: one of everything in random places, one of a few lumps; both with pushes."""
    draw = np.random.default_rng(seed)
    length = layout.length

    def some(low: float, high: float) -> np.ndarray:
        return draw.uniform(low, high, count)

    aside = 1.0 if leaning else 0.0
    start = length * some(0.0, 0.8)
    full = Strip(
        start=0.0, end=length, w_start=some(0.5, 20.0), w_end=some(0.5, 20.0), n_start=some(-1.0, 5.0),
        n_end=some(-1.0, 5.0), y=aside * some(-9.0, 9.0),
    )  # fmt: skip
    part = Strip(
        start=start, end=start + (length - start) * some(0.0, 1.0), w_start=some(0.0, 15.0), w_end=some(0.0, 15.0),
        n_start=some(0.0, 6.0), n_end=some(0.0, 6.0), y=aside * some(-9.0, 9.0),
    )  # fmt: skip
    lumps = [
        Lump(weight=some(1.0, 300.0), s=length * some(0.0, 1.0), y=aside * some(-14.0, 14.0), n=some(-2.0, 9.0))
        for _ in range(3)
    ]
    push = Push(
        fx=some(-60.0, 60.0), fy=aside * some(-60.0, 60.0), fz=some(-60.0, 60.0), s=length * some(0.0, 1.0),
        y=aside * some(-14.0, 14.0), n=some(-2.0, 9.0),
    )  # fmt: skip
    gravity = (some(-0.3, 0.3), aside * some(-0.3, 0.3), -some(0.7, 2.0))
    return [
        Row(state="running", strips=[full, part], lumps=lumps, pushes=[push], gravity=gravity, fold=fold),
        Row(state="empty", lumps=lumps[:2], fold=fold),
    ]


def tubes_at_ends(layout: Layout, *, torsion: float = 1.0) -> Across:
    """A tube across the head and one across the tail."""
    at = np.stack(np.broadcast_arrays(0.0 * layout.length, layout.length), axis=-1)
    return Across(at=at, torsion=np.full(2, torsion))


def pairs_of(
    bare: Bare, *, bounds: tuple[str, ...], give: np.ndarray | float = 0.0, across: Across | None = None
) -> tuple[Bending, Deflection]:
    """Both rails of every row under some ways of sharing, and their deflection, the first way of every row first."""
    across = across if across is not None else tubes_at_ends(bare.layout)
    box = grillage(
        across, spacing=bare.layout.rail_spacing, bending=bare.section.modulus * bare.section.inertia,
        length=bare.layout.length,
    )  # fmt: skip
    count = len(bare.loads.rows)
    rails = Rails(bare.layout, bare.pose, bare.section, box, count)
    pairs = [(row, BOUNDS.index(name)) for name in bounds for row in range(count)]
    bent = rails.bend(pairs, loads=bare.loads, balance=bare.balance)
    return bent, rails.sag(bent, balance=bare.balance, give=np.broadcast_to(give, bare.balance.total.shape))
