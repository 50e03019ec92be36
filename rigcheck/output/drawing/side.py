"""Side views of the rig to scale, deployed and folded, with the forces on the box as arrows."""

from __future__ import annotations

from math import cos, hypot, radians, sin

from rigcheck.output.drawing.shapes import (
    corners_of,
    draw_box,
    draw_cross_members,
    draw_plant,
    draw_stand,
    on_box,
    outline,
    perch_of,
    side_frame,
)
from rigcheck.output.drawing.sheet import Frame, Sheet
from rigcheck.output.drawing.words import side_caption, side_words, slant
from rigcheck.output.shop_words import pitch_words
from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import number

_LONGEST, _SHORTEST = 88.0, 26.0  # force arrows, picture units
_LARGE = 1.5  # type of the picture on a card, over the usual one


def side_view(
    drawing: PlainView, *, folded: bool = False, bare: bool = False, frame: Frame | None = None
) -> tuple[str, str]:
    """The rig from its right-hand side, the tail to the right.

    Args:
        drawing: Drawing data of a rig.
        folded: The folded box instead of the deployed one; the deployed one is then a ghost.
        bare: For a card: larger type, four numbers.
        frame: What of the world is shown, so that a picture stands still while the rig is moved; that of the rig where
            not said.

    Returns:
        SVG and caption.
    """
    pose = drawing["folded" if folded else "deployed"]
    forces = drawing["forces_folded"] if folded else None
    name = "side-folded" if folded else "sketch" if bare else "side"
    sheet = Sheet(name, frame or side_frame(drawing, folded=folded), type=_LARGE if bare else 1.0)
    draw_plant(sheet, drawing=drawing)
    draw_stand(sheet, drawing=drawing)
    if folded:
        sheet.shape(*corners_of(drawing["deployed"]), kind="ghost")
        _fold_arc(sheet, drawing=drawing)
    else:
        draw_cross_members(sheet, drawing=drawing, pose=pose)
    draw_box(sheet, drawing=drawing, pose=pose, folded=folded)
    if folded:
        _restraints(sheet, drawing=drawing)
    if forces is not None:
        _arrows(sheet, forces=forces, pose=pose, drawing=drawing)
    if bare:
        _four_numbers(sheet, drawing=drawing, pose=pose)
    else:
        _dimensions(sheet, drawing=drawing, pose=pose, folded=folded)
    _bar(sheet, drawing=drawing)
    title = f"Side view, box {'folded' if folded else 'deployed'}"
    picture = sheet.svg(title=title, describe=side_words(drawing, pose=pose, forces=forces))
    if not folded:
        caption = (
            "Side view to scale, tail to the right. See that the rig measures as it is drawn, and how the line passes "
            "the hinge: its lever arm about the pin is what holds the box."
        )
        if outline(drawing) and not bare:
            caption += " The dashed outline is the plant as far as it must be there; its shape is not described."
        return picture, caption
    return picture, side_caption(drawing, forces=forces, folded=folded)


def bar_length(unit: str, *, span: float) -> tuple[float, str]:
    """A round length for a scale bar, about a sixth of what is shown."""
    steps = (100.0, 200.0, 250.0, 500.0, 1000.0) if unit == "mm" else (3.0, 6.0, 12.0, 24.0, 36.0, 48.0)
    length = max((step for step in steps if step <= span / 5.0), default=steps[0])
    return length, number(length, unit=unit)


def _restraints(sheet: Sheet, *, drawing: PlainView) -> None:
    """Tie-downs and stops of the folded box, where the case describes them."""
    for one in drawing["tie_downs"]:
        start, end = (one["from"][0], one["from"][1]), (one["to"][0], one["to"][1])
        sheet.line(start, end, kind="strap")
        sheet.dot(start, radius=2.4)
        sheet.dot(end, radius=2.4, fill="solid")
        sheet.label((0.7 * end[0] + 0.3 * start[0], 0.7 * end[1] + 0.3 * start[1]), one["name"])
    for one in drawing["stops"]:
        at = (one["at"][0], one["at"][1])
        sheet.wedge(at, along=(one["way"][0], one["way"][1]))
        sheet.label(at, one["name"], toward=(-one["way"][0], 0.0))


def _fold_arc(sheet: Sheet, *, drawing: PlainView) -> None:
    """The way of the tail's floor corner from deployed to folded, as a dashed arc with the angle."""
    start, end = drawing["deployed"]["floor_deg"], drawing["folded"]["floor_deg"]
    radius = 0.42 * drawing["box"]["length"]
    steps = 24
    arc = [
        (radius * cos(radians(a)), radius * sin(radians(a)))
        for a in (start + (end - start) * i / steps for i in range(steps + 1))
    ]
    sheet.line(*arc, kind="hidden")
    fold = number(drawing["folded"]["fold_deg"], unit="deg", digits=3)
    sheet.label(arc[steps // 2], f"folded {fold}", toward=(0.7, -0.7))


def _arrow_length(value: float, *, most: float) -> float:
    return max(_SHORTEST, _LONGEST * abs(value) / most) if most > 0.0 else _SHORTEST


def _arrows(sheet: Sheet, *, forces: PlainView, pose: PlainView, drawing: PlainView) -> None:
    unit = drawing["units"]["force"]
    hinge, line = forces["hinge"], forces["line"]
    most = max(abs(forces["weight"]), abs(line), abs(hinge["x"]), abs(hinge["z"]))

    def words(sign: str, value: float) -> str:
        return f"{sign} {number(abs(value), unit=unit, rounding='up')}"

    where = (forces["cg"][0], forces["cg"][1])
    sheet.center_of_gravity(where)
    down = (forces["load"]["x"], forces["load"]["z"])
    sheet.arrow(where, along=down, length=_arrow_length(forces["weight"], most=most), text=words("W", hypot(*down)))
    hanger, perch = (pose["hanger"][0], pose["hanger"][1]), perch_of(drawing)
    if line <= 0.0:
        return  # the lines are slack, and what holds the box instead is not known here
    if line > 1e-9 * most:
        pull = (perch[0] - hanger[0], perch[1] - hanger[1])
        room = 0.42 * hypot(*pull) * sheet.scale
        length = min(_arrow_length(line, most=most), max(room, _SHORTEST))
        sheet.arrow(hanger, along=pull, length=length, text=words("T, both lines", line))
        sheet.arrow(perch, along=(-pull[0], -pull[1]), length=length, text=words("T on perches", line))
    for axis, along in (("x", (1.0, 0.0)), ("z", (0.0, 1.0))):
        value = hinge[axis]
        if abs(value) > 1e-6 * most:
            sign = 1.0 if value > 0.0 else -1.0
            text = words("Rx" if axis == "x" else "Rz", value)
            # a push from the left or from below stands on the free side of the hinge
            sheet.arrow(
                (0.0, 0.0), along=(sign * along[0], sign * along[1]), length=_arrow_length(value, most=most),
                text=text, into=(sign > 0.0),
            )  # fmt: skip


def _dimensions(sheet: Sheet, *, drawing: PlainView, pose: PlainView, folded: bool) -> None:
    unit, box = drawing["units"]["length"], drawing["box"]

    def words(value: float) -> str:
        return number(value, unit=unit, digits=4)

    hanger, perch = (pose["hanger"][0], pose["hanger"][1]), perch_of(drawing)
    middle = (0.5 * (hanger[0] + perch[0]), 0.5 * (hanger[1] + perch[1]))
    sheet.label(middle, f"line {words(pose['line_length'])}, {slant(pose)}", toward=(0.5, -0.86))
    if folded:
        top = max(pose["corners"], key=lambda corner: float(corner[1]))
        sheet.dimension((top[0], 0.0), (top[0], top[1]), off=-24.0, text=f"{words(top[1])} over hinge")
        return
    head, tail = on_box(pose, drawing, s=0.0, n=0.0), on_box(pose, drawing, s=box["length"], n=0.0)
    sheet.dimension(tail, head, off=66.0, text=f"box {words(box['length'])}")
    foot = on_box(pose, drawing, s=drawing["hanger"]["at"], n=0.0)
    sheet.dimension(foot, head, off=42.0, text=f"hanger at {words(drawing['hanger']['at'])}")
    brim = on_box(pose, drawing, s=box["length"], n=box["side_height"])
    sheet.dimension(tail, brim, off=-14.0, text=words(box["side_height"]))
    left = sheet.frame.left
    sheet.dimension((left, 0.0), (left, perch[1]), off=34.0 if perch[1] >= 0.0 else -34.0, text=words(abs(perch[1])))
    if abs(perch[0]) > 0.0:
        ends = ((perch[0], perch[1]), (0.0, perch[1])) if perch[0] < 0.0 else ((0.0, perch[1]), (perch[0], perch[1]))
        sheet.dimension(*ends, off=30.0, text=words(abs(perch[0])))
    sheet.line((left, 0.0), (0.35 * box["length"], 0.0), kind="level")
    pitch = pitch_words(box["pitch"], unit="in/ft" if unit == "in" else "mm/m")
    sheet.label(on_box(pose, drawing, s=0.93 * box["length"], n=0.0), f"falls {pitch}", toward=(0.0, 1.0))
    ground = drawing["hinge"]["above_ground"]
    if ground is not None:
        sheet.dimension((left, -ground), (left, 0.0), off=34.0, text=words(ground))


def _four_numbers(sheet: Sheet, *, drawing: PlainView, pose: PlainView) -> None:
    """Length of the box, place of the hanger, height and place of the perch."""
    unit, box, perch = drawing["units"]["length"], drawing["box"], perch_of(drawing)
    head, tail = on_box(pose, drawing, s=0.0, n=0.0), on_box(pose, drawing, s=box["length"], n=0.0)
    foot = on_box(pose, drawing, s=drawing["hanger"]["at"], n=0.0)
    sheet.dimension(tail, head, off=84.0, text=f"box {number(box['length'], unit=unit, digits=4)}")
    sheet.dimension(foot, head, off=46.0, text=f"hanger {number(drawing['hanger']['at'], unit=unit, digits=4)}")
    left, height = sheet.frame.left, number(abs(perch[1]), unit=unit, digits=4)
    sheet.dimension((left, 0.0), (left, perch[1]), off=34.0 if perch[1] >= 0.0 else -34.0, text=height)
    if abs(perch[0]) > 0.0:
        ends = ((perch[0], perch[1]), (0.0, perch[1])) if perch[0] < 0.0 else ((0.0, perch[1]), (perch[0], perch[1]))
        sheet.dimension(*ends, off=30.0, text=number(abs(perch[0]), unit=unit, digits=4))


def _bar(sheet: Sheet, *, drawing: PlainView) -> None:
    length, text = bar_length(drawing["units"]["length"], span=sheet.frame.right - sheet.frame.left)
    sheet.scale_bar(length, text)
