"""Rigs for the worked calculation: the shipped cases, and one of them changed so that every branch is met."""

import tomllib
from copy import deepcopy
from functools import cache
from pathlib import Path
from typing import Any

from rigcheck.assessment.assess import Assessment, assess
from rigcheck.case import check_case
from rigcheck.case.rig import Rig

CASES = sorted((Path(__file__).parents[2] / "cases").glob("*.toml"))
NAMES = [path.stem for path in CASES]
BASE = "larkspur-bar"
ROPE = {"kind": "wire rope", "table": "rope_6x19_fc_ips", "diameter": "3/8 in", "length": "40 in",
        "termination": "clips", "clips": 3, "bend_diameter": "2 in"}  # fmt: skip
SHACKLE = {"kind": "shackle", "size": "1/2 in", "grade": "carbon", "length": "2 in"}
HOIST = {"kind": "lever hoist", "wll": "1500 lb", "rated_to_suspend": True, "lift": "60 in", "headroom": "13 in"}

Changes = dict[str, Any]

VARIANTS: dict[str, Changes] = {
    "as it is": {},
    "frame basis": {"basis": "frame"},
    "loose pins, frame basis": {"basis": "frame", "hanger.lug.hole": "1 in", "perch.lug.hole": "11/16 in"},
    "plant barrels": {"hinge.plant_barrel_wall": "3/16 in", "hinge.plant_barrel_length": "1 in"},
    "plant barrels, line-bored": {"hinge.plant_barrel_wall": "3/16 in", "hinge.barrels": 7, "hinge.aligned": True},
    "even barrels": {"hinge.barrels": 4},
    "line-bored": {"hinge.barrels": 7, "hinge.aligned": True},
    "no barrels described": {"hinge.barrels": None, "hinge.barrel_length": None, "hinge.pin": None, "hinge.weld": None},
    "snub line governs": {"fold.snub_wll": "10 lb"},
    "members on top": {"cross_member.at": "top", "cross_member.shape": "HSS2x2x1/8"},
    "round members": {"cross_member.shape": "Pipe1-1/4STD", "end_tube.shape": "Pipe1-1/4STD"},
    "few members": {"cross_member.spacing": "60 in"},
    "no stiffener": {"rail.stiffener": None, "rail.at": None},
    "stiffener below": {"rail.at": "under"},
    "low walls without a stiffener": {"rail.stiffener": None, "rail.at": None, "box.side_height": "3 in"},
    "barrels on bare sheet": {"end_tube": None, "cross_member.at": "top", "cross_member.shape": "HSS2x2x1/8"},
    "no lugs described": {"hanger.lug": None, "perch.lug": None},
    "no post described": {"perch.post": None},
    "thin hanger lug": {"hanger.lug.plate": "3/16 in", "hanger.lug.stand_off": "4 in"},
    "round hanger hole at the edge": {"hanger.lug.edge": "7/16 in"},
    "dead in every state": {"perch.downstream": "110 in", "perch.height": "-1 in"},
    "turned lugs": {"hanger.lug.turned": "20 deg", "perch.lug.turned": "-15 deg"},
    "splayed": {"perch.spacing": "60 in"},
    "lug outside the post": {"perch.post.lug_offset": "4 in"},
    "pipe post": {"perch.post.shape": "Pipe3-1/2STD"},
    "angle post": {"perch.post.shape": "L3x3x1/4"},
    "slender post": {"perch.post.free_length": "124 in"},
    "braced post": {
        "perch.post.brace": {
            "foot_downstream": "24 in",
            "foot_below": "40 in",
            "top_below": "8 in",
            "shape": "L2x2x1/4",
        }
    },
    "braced post, lug aside, frame": {
        "basis": "frame",
        "perch.post.lug_offset": "3 in",
        "perch.post.brace": {
            "foot_downstream": "-24 in",
            "foot_below": "40 in",
            "top_below": "8 in",
            "shape": "L2x2x1/4",
        },
    },
    "two parts of line": {
        "line.parts": 2,
        "line.link": [SHACKLE, {**HOIST, "carries": "lead"}, {**ROPE, "carries": "part"}],
    },
    "rope": {"line.link": [SHACKLE, HOIST, ROPE, SHACKLE]},
    "chain": {
        "line.link": [
            SHACKLE,
            {"kind": "chain", "grade": "80", "wll": "1700 lb", "mbf": "6800 lb", "length": "30 in"},
            SHACKLE,
        ]
    },
    "listed chain": {"line.link": [{"kind": "chain", "size": "9/32 in", "grade": "80", "length": "30 in"}]},
    "eyebolt": {
        "line.link": [
            {"kind": "eyebolt", "size": "1/2 in", "side_angle": "10 deg", "shoulder": True, "length": "2 in"},
            HOIST,
        ]
    },
    "unmarked shackle": {"line.link": [{"kind": "shackle", "size": "3/8 in", "length": "2 in"}, HOIST]},
    "hoist that breaks early": {"line.link": [SHACKLE, {**HOIST, "mbf": "3000 lb"}]},
    "turnbuckle": {"line.link": [{"kind": "turnbuckle", "size": "3/8 in", "end": "jaw", "length": "14 in"}, HOIST]},
    "side-pulled shackle": {"line.link": [{**SHACKLE, "side_angle": "30 deg"}, HOIST]},
    "marked shackle": {"line.link": [{**SHACKLE, "wll": "900 lb"}, HOIST]},
    "level ground": {"plant.cross_slope": "0 deg"},
    "hinge over the floor": {"hinge.height": "2 in"},
    "two channels": {"box.channels": 2},
    "weld by hand in the field": {"weld.hand": "field", "hanger.lug.weld_length": "1/2 in"},
}


@cache
def shipped(name: str) -> Assessment:
    """A shipped case."""
    return assess(Rig(check_case(_data(name))))


@cache
def changed(variant: str) -> Assessment:
    """The base case with a variant's keys."""
    data = _data(BASE)
    for path, value in VARIANTS[variant].items():
        *tables, key = path.split(".")
        here = data
        for table in tables:
            here = here.setdefault(table, {})
        if value is None:
            here.pop(key, None)
        else:
            here[key] = deepcopy(value)
    return assess(Rig(check_case(data)))


def _data(name: str) -> dict[str, Any]:
    path = next(path for path in CASES if path.stem == name)
    return tomllib.loads(path.read_text(encoding="utf-8"))
