"""What the wind does to the box: speed, pressure, coefficient, area and force, as the checks count them."""

from __future__ import annotations

import numpy as np

from rigcheck.case.rig import Rig
from rigcheck.loads.folded import outside_width
from rigcheck.loads.pieces import Push
from rigcheck.loads.wind import LEVEL_SHAPE, PARKED_SHAPE, ROAD_SHAPE, face_push, hung_pushes, outline, pressure
from rigcheck.wording.plain import Plain
from rigcheck.wording.scale import Scale

_SQUARE_FOOT, _SQUARE_METRE = 144.0, 0.0254**2


def wind_data(rig: Rig, *, scale: Scale) -> list[Plain]:
    """A row for each wind and each face that it meets.

    Args:
        rig: One rig, no batch.
        scale: Units of the output.

    Returns:
        Rows; the folded box only where the case folds.

    Source: docs/method.md#wind; docs/method.md#wind-hung.
    """
    length, seen_from = float(rig.number("box.length")), outline(rig, width=outside_width(rig))
    width, height = float(seen_from.width), float(seen_from.height)
    pitch = float(rig.number("box.pitch"))
    hung = hung_pushes(rig, angle=np.asarray(-pitch), width=outside_width(rig))
    floor = max(LEVEL_SHAPE, PARKED_SHAPE * abs(float(np.sin(pitch))))
    face = length * width
    press = float(pressure(rig.number("wind.hung"))) * floor * face
    rows = [
        _row(rig, "hung", "floor, square to it", shape=floor, area=face, force=press),
        _row(rig, "hung", "side", shape=PARKED_SHAPE, area=length * height, force=_across(hung["+y"]["down"])),
    ]
    if rig.value("fold.to") is not None:
        angle = float(rig.number("fold.to")) - pitch
        for key, shape in (("parked", PARKED_SHAPE), ("road", ROAD_SHAPE)):
            stress = pressure(rig.number(f"wind.{key}")) * shape
            found = face_push(stress, length=np.asarray(length), width=np.asarray(width), height=np.asarray(height),
                              angle=np.asarray(angle))  # fmt: skip
            seen = face * abs(float(np.sin(angle)))
            rows.append(_row(rig, key, "floor as the wind sees it", shape=shape, area=seen, force=_square(found["+x"])))
            rows.append(_row(rig, key, "side", shape=shape, area=length * height, force=_across(found["+y"])))
    return [_plain(one, scale=scale) for one in rows]


def _square(push: Push) -> float:
    return float(np.hypot(push.fx, push.fz))


def _across(push: Push) -> float:
    return float(abs(np.asarray(push.fy)))


def _row(rig: Rig, key: str, face: str, *, shape: float, area: float, force: float) -> Plain:
    speed = rig.number(f"wind.{key}")
    return {"key": f"wind.{key}", "face": face, "speed": float(speed), "pressure": float(pressure(speed)),
            "coefficient": shape, "area": area, "force": force}  # fmt: skip


def _plain(row: Plain, *, scale: Scale) -> Plain:
    return {
        **row,
        "speed": scale.one(row["speed"], dimension="speed"),
        "speed_unit": scale.label("speed"),
        "pressure": scale.one(row["pressure"], dimension="area load"),
        "pressure_unit": scale.label("area load"),
        "area": row["area"] / _SQUARE_FOOT if scale.system == "us" else row["area"] * _SQUARE_METRE,
        "area_unit": "ft2" if scale.system == "us" else "m2",
        "force": scale.one(row["force"], dimension="force"),
    }
