"""The free body of the governing case to scale: the box alone, with every force that acts on it in the side view."""

from __future__ import annotations

from math import hypot
from typing import Any

from rigcheck.output.drawing.folded_body import folded_arrows
from rigcheck.output.drawing.sheet import Frame, Sheet
from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import number, state_opening, variant_words

_LONGEST, _SHORTEST = 92.0, 26.0  # force arrows, picture units
_TALLEST = 430.0


def free_body_view(body: PlainView, *, drawing: PlainView) -> tuple[str, str]:
    """The box of the governing case with weight, line pull and hinge forces.

    Args:
        body: The governing case, of `governing_body`; a parked or hauled box with what holds it folded.
        drawing: Drawing data of the rig.

    Returns:
        SVG and caption.
    """
    pose, unit = body["pose"], drawing["units"]
    corners = [(one[0], one[1]) for one in pose["corners"]]
    hanger, cg = (pose["hanger"][0], pose["hanger"][1]), (body["cg"][0], body["cg"][1])
    held = [] if body["folded"] is None else [one["at"] for one in body["folded"]["members"] if one["force"] > 0.0]
    points = [(0.0, 0.0), hanger, cg, *corners, *((at[0], at[1]) for at in held)]
    xs, zs = [point[0] for point in points], [point[1] for point in points]
    frame = Frame(left=min(xs), right=max(xs), low=min(zs), high=max(zs), margin=(130.0, 120.0, 130.0, 120.0))
    sheet = Sheet("body", frame, tallest=_TALLEST)
    sheet.shape(*corners, kind="edge", fill="white")
    sheet.dot((0.0, 0.0), radius=4.5, fill="solid")
    sheet.dot(hanger)
    if body["folded"] is None:
        _arrows(sheet, body=body, hanger=hanger, perch=_perch(drawing), cg=cg, unit=unit["force"])
    else:
        folded_arrows(sheet, body=body, cg=cg, unit=unit["force"])
    low = min(zs)
    if abs(cg[0]) > 1e-9:
        ends = ((cg[0], low), (0.0, low)) if cg[0] > 0.0 else ((0.0, low), (cg[0], low))
        sheet.dimension(*ends, off=104.0, text=f"x = {number(abs(cg[0]), unit=unit['length'], digits=4)}")
    told, arm = _told(body, unit=unit), number(body["lever_arm"], unit=unit["length"], digits=4)
    describe = f"The box alone with the forces on it {told}."
    caption = f"{title(body)} to scale: {body['part']}, {body['mode']}; {told}. "
    if body["folded"] is None:
        caption += (
            "Forces are unfactored, "
            "both sides together as the side view shows them; each side by itself, and amplified, stands in the table. "
            f"The scale of the arrows is their own. The lines pull at a lever arm of {arm} about the hinge axis. See "
            "that the moments balance: weight times x is the pull times that arm where nothing "
            "but weight acts."
        )
    else:
        caption += (
            "Forces as the side view shows them, what stands behind one another as one; across the box, and each by "
            "itself, they stand in the table. Accelerations are those of the rule or the factor of the load case, and "
            "nothing is multiplied afterwards. Straps only pull and stops only push; preload is not counted."
        )
    return sheet.svg(title=title(body), describe=describe), caption


def title(body: PlainView) -> str:
    """What it is the free body of: what governs, or the highest check of forces where that is none."""
    return "Free body of the governing case" if body["governs"] else "Free body of the highest check of forces"


def _perch(drawing: PlainView) -> tuple[float, float]:
    x, z = drawing["perch"]["downstream"], drawing["perch"]["height"]
    return float(x), float(z)


def _told(body: PlainView, *, unit: PlainView) -> str:
    """The case in a clause."""
    opening = state_opening(body["state"])
    more = variant_words(body["variant"], unit=unit["length"])
    return f"{opening[0].lower()}{opening[1:]}{f' ({more})' if more else ''}"


def _arrows(sheet: Sheet, *, body: PlainView, hanger: Any, perch: Any, cg: Any, unit: str) -> None:
    found, load = body["unfactored"], body["loads"]["force"]
    pull = sum(found["tension"].values())
    hinge = {axis: sum(found["hinge"][side][axis] for side in ("left", "right")) for axis in "xz"}
    most = max(hypot(load["x"], load["z"]), abs(pull), abs(hinge["x"]), abs(hinge["z"]), 1e-9)

    def long(value: float) -> float:
        return float(max(_SHORTEST, _LONGEST * abs(value) / most))

    def words(sign: str, value: float) -> str:
        return f"{sign} {number(abs(value), unit=unit, rounding='up')}"

    sheet.center_of_gravity(cg)
    down = (load["x"], load["z"])
    sheet.arrow(cg, along=down, length=long(hypot(*down)), text=words("W", hypot(*down)))
    if pull > 1e-9 * most:
        along = (perch[0] - hanger[0], perch[1] - hanger[1])
        sheet.arrow(hanger, along=along, length=long(pull), text=words("T, both lines", pull))
    for axis, along in (("x", (1.0, 0.0)), ("z", (0.0, 1.0))):
        value = hinge[axis]
        if abs(value) > 1e-6 * most:
            sign = 1.0 if value > 0.0 else -1.0
            sheet.arrow(
                (0.0, 0.0), along=(sign * along[0], sign * along[1]), length=long(value),
                text=words(f"R{axis}", value), into=sign > 0.0,
            )  # fmt: skip
