"""A rig described in full, of any size, for tests that need one to change."""

from collections.abc import Mapping
from math import sin
from typing import Any

from rigcheck.case.errors import CaseError, Problem, printable_line
from rigcheck.case.reading.read import read_case_text
from rigcheck.case.schema.keys import glossary, toml_text
from rigcheck.quantities import QuantityError, plain_text, read

_HEAD = """\
# A case for rigcheck. Every number carries its unit; what stands after # is a remark.
"""
Keys = Mapping[str, Any]


def starter_text(
    *,
    title: str = "Larkspur Bar, fold-up box",
    length: str = "9 ft 4 in",
    width: str = "26 in",
    side_height: str = "6 1/2 in",
    pitch: str = "1 1/2 in/ft",
    sheet: str = "10 ga",
    flow: str = "190 gpm",
) -> str:
    """The text of a case with every load-path part described.

    Positions and spacings follow from the length and width; all other sizes are fixed and meant to be replaced.

    Args:
        title: What the rig is called.
        length: Hinge to tail, with its unit.
        width: Inside width, with its unit.
        side_height: Floor to top of the side, with its unit.
        pitch: Fall toward the tail, with its unit.
        sheet: Thickness of the sheet, with its unit.
        flow: Water, with its unit.

    Raises:
        CaseError: If a choice cannot be read, or makes no readable case.
    """
    problems: list[Problem] = []
    along = _inches(length, "box.length", problems)
    across = _inches(width, "box.width", problems)
    side = _inches(side_height, "box.side_height", problems)
    if problems:
        raise CaseError(problems)
    box = {
        "length": length, "width": width, "side_height": side_height, "pitch": pitch, "sheet": sheet, "channels": 1,
        "steel": "A572-50",
    }  # fmt: skip
    tables: list[tuple[str, Keys]] = [
        ("", {"title": title, "revision": "A", "basis": "lifting"}),
        ("[plant]", {"cross_slope": "2 deg"}),
        ("[box]", box),
        *_fabric(along, across),
        *_hinge_and_hanger(along, across, side, above_ground=_clear_of_ground(along, pitch)),
        *_perch(along, across),
        *_line(),
        *_use(flow, along, across, side),
    ]
    meanings = {entry.path: entry.meaning for entry in glossary()}
    text = _HEAD + "".join(_table(opening, keys, meanings=meanings) for opening, keys in tables)
    read_case_text(text, name="starter")
    return text


def _fabric(along: float, across: float) -> list[tuple[str, Keys]]:
    tube = "HSS2x2x1/4"
    return [
        ("[rail]", {"stiffener": "HSS4x4x1/4", "at": "top", "effective_floor_width": "2 in", "steel": "A500C"}),
        ("[rail.wall_seam]", {"made": "stitch", "leg": "1/8 in", "length": "2 in", "pitch": "3 1/2 in"}),
        ("[rail.floor_seam]", {"made": "continuous", "leg": "1/8 in"}),
        (
            "[cross_member]",
            {
                "shape": tube,
                "spacing": _text(along / 12.0),
                "at": "under",
                "steel": "A500C",
                "weld": "1/4 in",
                "weld_length": "10 in",
            },
        ),
        ("[end_tube]", {"shape": "HSS4x4x5/16", "head": True, "tail": True}),
        ("[mat]", {"weight": "1.6 lb/ft2", "coverage": "85 %"}),
        ("[[fitting]]", {"name": "tail trough", "weight": "16 lb", "at": _text(along)}),
        ("[[fitting]]", {"name": "head flare", "weight": "28 lb", "at": "5 in", "height": "3 in"}),
    ]


def _clear_of_ground(along: float, pitch: str) -> str:
    """Height of the pin at which the tail is clear of the ground."""
    try:
        drop = along * sin(read(pitch, dimension="pitch"))
    except QuantityError:  # told where the whole case is read
        drop = 0.0
    return _text(max(31.0, drop + 12.0))


def _hinge_and_hanger(along: float, across: float, side: float, *, above_ground: str) -> list[tuple[str, Keys]]:
    hinge = {
        "height": "0 in", "spacing": _text(across - 2.0), "barrels": 5, "barrel_length": "1 3/4 in", "gap": "1/16 in",
        "pin": "1 1/8 in", "pin_steel": "1018 cold drawn", "barrel_wall": "5/16 in", "barrel_steel": "A36",
        "barrel_on": "nose", "weld": "1/4 in", "weld_length": "3 1/2 in", "above_ground": above_ground,
        "aligned": False, "pin_retained": True,
    }  # fmt: skip
    return [
        ("[hinge]", hinge),
        ("[hanger]", {"at": _text(0.7 * along), "height": _text(side), "spacing": _text(across + 3.5)}),
        ("[hanger.lug]", _lug(foot="6 in")),
    ]


def _lug(foot: str) -> Keys:
    return {
        "plate": "1/2 in", "hole": "11/16 in", "edge": "1 1/2 in", "width": "3 in", "foot": foot, "weld": "1/4 in",
        "weld_length": foot, "steel": "A36", "stand_off": "1 1/2 in", "pin": "5/8 in",
    }  # fmt: skip


def _eyelet() -> Keys:
    return {
        "plate": "3/8 in", "hole": "13/16 in", "edge": "1 1/16 in", "width": "2 1/2 in", "weld": "3/16 in",
        "weld_length": "2 1/2 in", "steel": "A36", "pin": "5/8 in",
    }  # fmt: skip


def _perch(along: float, across: float) -> list[tuple[str, Keys]]:
    height = 0.86 * along
    post = {"shape": "HSS4x4x1/4", "free_length": "24 in", "steel": "A500B", "weld": "5/16 in", "cap": True}
    brace = {
        "foot_downstream": "-14 in",
        "foot_below": "24 in",
        "top_below": "6 in",
        "shape": "HSS2x2x3/16",
        "steel": "A500B",
    }
    return [
        ("[perch]", {"downstream": _text(-0.3 * along), "height": _text(height), "spacing": _text(across + 9.0)}),
        ("[perch.lug]", _lug(foot="4 in")),
        ("[perch.post]", post),
        ("[perch.post.brace]", brace),
    ]


def _line() -> list[tuple[str, Keys]]:
    shackle = {"kind": "shackle", "size": "1/2 in", "grade": "carbon", "length": "2 in"}
    rope = {
        "kind": "wire rope", "table": "rope_6x19_fc_ips", "diameter": "5/8 in", "termination": "clips", "clips": 3,
        "bend_diameter": "2 1/2 in", "length": "14 in",
    }  # fmt: skip
    hoist = {
        "kind": "lever hoist", "wll": "3000 lb", "mbf": "12000 lb", "rated_to_suspend": True, "lift": "13 ft",
        "headroom": "13 in", "stiffness": "24000 lb/in",
    }  # fmt: skip
    return [
        ("[line]", {"parts": 1, "wear": "5 %"}),
        ("[[line.link]]", {**shackle, "name": "shackle at the hanger"}),
        ("[[line.link]]", rope),
        ("[[line.link]]", hoist),
        ("[[line.link]]", {**shackle, "name": "shackle at the perch"}),
    ]


def _use(flow: str, along: float, across: float, side: float) -> list[tuple[str, Keys]]:
    half = 0.5 * across
    straps = [
        {
            "name": f"{name} strap",
            "wll": "1600 lb",
            "mbf": "4800 lb",
            "from": [_text(0.8 * along), _text(y), _text(side)],
            "to": [_text(-0.35 * along), _text(1.2 * y), "10 in"],
            "kind": "to anchor",
            "count": 1,
            "eyelet_on": "stiffener",
        }
        for name, y in (("left", half), ("right", -half))
    ]
    return [
        ("[water]", {"flow": flow, "roughness": 0.035, "lip": _text(0.7 * side), "feed": "3 yd3/h", "fall": "9 in"}),
        ("[bed]", {"depth": "1 in", "density": "128 lb/ft3"}),
        ("[person]", {"weight": "250 lb", "people": 1}),
        ("[ice]", {"full": True}),
        ("[wind]", {"parked": "90 mph", "road": "75 mph"}),
        ("[towing]", {"vertical": 2.0, "fore_aft": 0.5, "side": 0.3}),
        ("[fold]", {"to": "84 deg", "one_line": True, "snub": False}),
        ("[haul]", {"leading_end": "head", "left_over": "15 %", "hinge_above_road": "25 in"}),
        *(table for strap in straps for table in (("[[haul.tie_down]]", strap), ("[haul.tie_down.eyelet]", _eyelet()))),
        (
            "[[haul.stop]]",
            {"at": [_text(0.8 * along), "0 in", _text(side)], "direction": "downstream", "capacity": "2500 lb"},
        ),
        ("[weld]", {"electrode": "E70", "hand": "shop"}),
    ]


def _table(opening: str, keys: Keys, *, meanings: Mapping[str, str]) -> str:
    section = opening.strip("[]")
    lines = [f"\n{opening}"] if opening else [""]
    for name, value in keys.items():
        path = f"{section}.{name}" if section else name
        lines.append(f"{f'{name} = {toml_text(value)}':<44}# {meanings[path]}")
    return "\n".join(lines) + "\n"


def _inches(text: str, path: str, problems: list[Problem]) -> float:
    try:
        return read(text, dimension="length")
    except QuantityError as error:
        problems.append(Problem("starter", path, printable_line(error.why), error.accepted))
        return 0.0


def _text(inches: float) -> str:
    """To the nearest quarter inch, as a tape reads it."""
    return f"{plain_text(round(4.0 * inches) / 4.0, digits=9)} in"
