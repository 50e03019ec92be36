"""What the engine gives for the boxes of the shell models, beside what the record says."""

import re
import tomllib
from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np

from rigcheck.analysis.solve import Solution, solve
from rigcheck.case import read_case_text
from rigcheck.case.rig import Rig
from rigcheck.loads.pieces import BOUNDS
from tests.outside.open_box_case import MESH, RECORD, files, pull_of_what_is_gone, read_box

STATES = {"running": "running", "cleanout": "cleanout"}
LEVEL = {
    "plant": {"cross_slope": "0 deg", "fore_aft_slope": "0 deg"},
    "factors": {"hung": 1.0, "step_down": 1.0},
}
"""The models are of static loads on a plant that stands level."""


@cache
def recorded() -> dict[tuple[str, str, str, float], dict[str, Any]]:
    """Every model by box, state, joint and size of element."""
    models = tomllib.loads(RECORD.read_text(encoding="utf-8"))["model"]
    return {(one["box"], one["state"], one["joint"], one["mesh"]): one for one in models}


def _static(text: str) -> str:
    """The case file without dynamic factor and slope."""
    for table, keys in LEVEL.items():
        lines = "".join(
            f"{key} = {value if isinstance(value, float) else repr(value)}\n" for key, value in keys.items()
        )
        lines = lines.replace("'", '"')
        if re.search(rf"(?m)^\[{table}\]\s*$", text):
            raise ValueError(f"[{table}] stands in the case already")
        text += f"\n[{table}]\n{lines}"
    return text


@cache
def solved(box: str, state: str, strip: str | None = None) -> tuple[Solution, int]:
    """The engine's answer for one state of one box, and which row is that of the model.

    Args:
        box: Name of its file.
        state: Of the model.
        strip: Width of floor counted with each rail instead of the one in the file.
    """
    (path,) = (one for one in files() if one.stem == box)
    text = _static(path.read_text(encoding="utf-8"))
    if strip is not None:
        text = re.sub('effective_floor_width = "[^"]*"', f'effective_floor_width = "{strip}"', text)
    rig = Rig(read_case_text(text, name=path.name))
    found = solve(rig, only=frozenset({STATES[state]}))
    for place, row in enumerate(found.rows):
        at_tail = abs(float(row.variant.get("person_s", found.layout.length)) - float(found.layout.length)) < 1e-6
        if row.state == STATES[state] and row.variant.get("person_side", "left") == "left" and at_tail:
            return found, place
    raise LookupError(f"{box}: no row for {state}")


@dataclass(frozen=True)
class Beside:
    """Ours over the model's, one box in one state.

    Attributes:
        tension: Pull of the line; ours weighs the cross-members too that an end tube takes the place of.
        near: Largest stress of the rail under the line.
        far: Largest stress of the other rail.
        torque: Of each member across.
        model_torque: The model's own torque of each. [lbf in]
        at_end: Which of them stand within the height of a side from an end of the box.
        roll: Of the tail.
        shown: The model's own figures: tension [lbf], near and far stress [psi], largest torque [lbf in], roll [deg].
    """

    tension: float
    near: float
    far: float
    torque: np.ndarray
    model_torque: np.ndarray
    at_end: np.ndarray
    roll: float
    shown: tuple[float, float, float, float, float]


def stress(model: dict[str, Any], side: str) -> float:
    """Largest nominal stress of a rail in the record, sideways bending of its stiffener with it. [psi]"""
    return max(abs(model[f"{fiber}_{side}"][0]) for fiber in ("inner", "outer", "foot"))


@cache
def beside(box: str, state: str, joint: str = "ends") -> Beside:
    """The engine over the record."""
    model = recorded()[box, state, joint, MESH]
    found, row = solved(box, state)
    bound = BOUNDS.index("left")
    rails = found.bent.on_bounds(found.peaks.stress)[row, bound]
    pair = found.bent.place(row, bound)
    torque = np.abs(found.bent.forces.ties.torque[pair])
    roll = float(np.ravel(found.sag.roll[found.sagged.place(row, bound)])[0])
    near, far = stress(model, "left"), stress(model, "right")
    (path,) = (one for one in files() if one.stem == box)
    tension = model["tension"] + pull_of_what_is_gone(read_box(path))
    tubes = [i for i, name in enumerate(model["members"]) if "tube" in name]
    order = [i for i in range(len(model["members"])) if i not in tubes] + tubes  # ours: cross-members before end tubes
    theirs = np.abs(model["torque"])[order]
    at, side = found.across.at, float(found.rig.number("box.side_height"))
    there = found.across.torsion > 0.0  # a tube takes the place of the cross-member that it would overlap
    return Beside(
        tension=float(found.held.tension[row, bound, 0]) / tension,
        near=float(rails[0]) / near,
        far=float(rails[1]) / far,
        torque=torque[there] / theirs,
        model_torque=theirs,
        at_end=(np.minimum(at, float(found.layout.length) - at) < side)[there],
        roll=roll / abs(model["roll_tail"]),
        shown=(tension, near, far, float(theirs.max()), float(np.degrees(abs(model["roll_tail"])))),
    )


def names() -> list[str]:
    """Boxes of the record."""
    return list(dict.fromkeys(box for box, _, _, _ in recorded()))
