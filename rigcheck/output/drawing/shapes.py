"""The rig as shapes of a side view: plant, post, box and line, each with its word."""

from __future__ import annotations

from math import cos, pi, sin

from rigcheck.loads.traps import ANGLE, PLATE
from rigcheck.output.drawing.labels import Point
from rigcheck.output.drawing.sheet import Frame, Sheet
from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import number

_ARC = 12  # sides of the polygon that stands for a half pipe


def corners_of(pose: PlainView) -> list[Point]:
    """Corners of the box in the side view."""
    return [(corner[0], corner[1]) for corner in pose["corners"]]


def on_box(pose: PlainView, drawing: PlainView, *, s: float, n: float) -> Point:
    """A point of the box in the side view."""
    lift = n - drawing["hinge"]["height"]
    x, z = (s * pose["along"][i] + lift * pose["normal"][i] for i in range(2))
    return x, z


def perch_of(drawing: PlainView) -> Point:
    """The hole of the perch lug in the side view."""
    return drawing["perch"]["downstream"], drawing["perch"]["height"]


def post_ends(drawing: PlainView) -> tuple[Point, Point]:
    """Perch lug, and the foot of the post or of the dashed line that stands for one."""
    x, z = perch_of(drawing)
    post = drawing["post"]
    return (x, z), (post["axis"], z - post["free_length"]) if post else (x, min(0.0, z))


def side_frame(drawing: PlainView, *, folded: bool = False) -> Frame:
    """What a side view shows of the world: all of the rig, its plant and its ground."""
    points = [(0.0, 0.0), *corners_of(drawing["deployed"]), *post_ends(drawing)]
    if folded:
        points += corners_of(drawing["folded"])
        points += [(one["to"][0], one["to"][1]) for one in drawing["tie_downs"]]
    ground = drawing["hinge"]["above_ground"]
    if ground is not None:
        points.append((0.0, -ground))
    points += [(one["at"][0], one["at"][1]) for one in _feet(drawing)]
    post = drawing["post"]
    if post and post["brace"]:
        z = perch_of(drawing)[1]
        points.append((post["axis"] + post["brace"]["foot_downstream"], z - post["brace"]["foot_below"]))
    points += outline(drawing)
    xs, zs = [point[0] for point in points], [point[1] for point in points]
    margin = (96.0, 60.0, 60.0, 84.0) if not folded else (96.0, 60.0, 70.0, 60.0)
    return Frame(left=min(xs), right=max(xs), low=min(zs), high=max(zs), margin=margin)


def outline(drawing: PlainView) -> list[Point]:
    """The plant under post and hinge as far as it must be: a wall behind the hinge, as high as the post's foot."""
    post = drawing["post"]
    if not post or _feet(drawing):  # a plant that is described is drawn by its feet
        return []
    x, foot = post_ends(drawing)[1]
    half, near = 1.5 * post["depth"], -0.4 * post["depth"]  # the wall stands clear of the barrels
    back = min(x, near) - half
    deck = foot - 0.9 * post["depth"]
    front = [(x + half, foot), (x + half, deck), (near, deck)] if x + half > near else [(x + half, foot), (near, foot)]
    low = -1.5 * post["depth"]
    if foot <= low:  # a post that stands below the hinge
        return []
    return [(back, foot), *front, (near, low), (back, low)]


def draw_plant(sheet: Sheet, *, drawing: PlainView, named: bool = True) -> None:
    """Outline of the plant, post with its lug, ground."""
    behind = outline(drawing)
    if behind:
        sheet.shape(*behind, kind="ghost")
    (hole, z), (x, foot) = post_ends(drawing)
    post = drawing["post"]
    half = 0.5 * post["depth"] if post else 0.0
    if post:
        sheet.line((x + half, z), (hole, z), kind="edge")  # the lug, from the face of its post to its hole
        sheet.shape((x - half, z), (x + half, z), (x + half, foot), (x - half, foot), kind="steel", fill="steel")
        sheet.line((x - 3.0 * half, foot), (x + 3.0 * half, foot), kind="ground")
        if post["brace"]:
            one = (x, z - post["brace"]["top_below"])
            sheet.line(one, (x + post["brace"]["foot_downstream"], z - post["brace"]["foot_below"]), kind="edge")
    else:
        sheet.line((x, z), (x, foot), kind="hidden")
    ground = drawing["hinge"]["above_ground"]
    if ground is not None:
        sheet.line((sheet.frame.left, -ground), (sheet.frame.right, -ground), kind="ground")
        if named:
            sheet.label((sheet.frame.right, -ground), "ground", toward=(-0.6, 0.8))


def _feet(drawing: PlainView) -> list[PlainView]:
    """Feet of the plant; none where they are not described."""
    return list(drawing["plant"]["feet"]) if drawing["plant"] else []


def draw_stand(sheet: Sheet, *, drawing: PlainView, named: bool = True) -> None:
    """The plant on its feet, dashed, with its center of gravity; of feet behind one another the first is named."""
    feet = _feet(drawing)
    if not feet:
        return
    at = {(one["at"][0], one["at"][1]): one["name"] for one in reversed(feet)}
    xs = [x for x, _ in at]
    sheet.line((min(*xs, 0.0), 0.0), (max(*xs, 0.0), 0.0), kind="hidden")
    for (x, z), name in at.items():
        sheet.line((x, 0.0), (x, z), kind="hidden")
        sheet.wedge((x, z), along=(0.0, 1.0))
        if named:
            sheet.label((x, z), name, toward=(0.0, -1.0))
    plant = drawing["plant"]
    if plant["cg"] is not None:
        where = (plant["cg"][0], plant["cg"][1])
        sheet.center_of_gravity(where)
        weight = number(plant["weight"], unit=drawing["units"]["force"]) if plant["weight"] is not None else ""
        if named:
            sheet.label(where, f"plant {weight}".strip(), toward=(-0.4, 0.9))


def draw_cross_members(sheet: Sheet, *, drawing: PlainView, pose: PlainView) -> None:
    """Every cross-member, cut through."""
    one = drawing["box"]["cross_member"]
    if one is None:
        return
    low = -drawing["box"]["sheet"] - one["depth"] if one["at"] == "under" else drawing["box"]["side_height"]
    for i in range(one["count"]):
        s = min(i * one["spacing"], drawing["box"]["length"])
        half = 0.5 * one["width"]
        corners = [(s - half, low), (s + half, low), (s + half, low + one["depth"]), (s - half, low + one["depth"])]
        sheet.shape(*(on_box(pose, drawing, s=a, n=n) for a, n in corners), kind="thin", fill="steel")


def _outline_of(one: PlainView) -> list[Point]:
    """A trap cut along the box, by s and n."""
    at, deep, half = one["at"], one["deep"], 0.5 * one["opening"]
    if one["kind"] == PLATE:
        return [(at, 0.0), (at + one["wall"], 0.0), (at + one["wall"], deep), (at, deep)]
    if one["kind"] == ANGLE:
        return [(at - half, 0.0), (at, -deep), (at + half, 0.0)]
    turns = (pi * i / _ARC for i in range(_ARC + 1))
    return [(at - half * cos(turn), -half * sin(turn)) for turn in turns]


def draw_traps(sheet: Sheet, *, drawing: PlainView, pose: PlainView, named: bool = True) -> None:
    """Traps and gate cut along the box, with their names."""
    box = drawing["box"]
    for one in box.get("traps") or ():
        points = [on_box(pose, drawing, s=s, n=n) for s, n in _outline_of(one)]
        sheet.shape(*points, kind="thin", fill="bed" if one["kind"] != PLATE else "steel")
        if named:
            sheet.label(points[len(points) // 2], one["name"], toward=(-0.4, -0.9))
    one = box.get("gate")
    if one:
        ends = (on_box(pose, drawing, s=one["at"], n=n) for n in (one["opening"], one["height"]))
        sheet.line(*ends, kind="steel")
        if named:
            sheet.label(on_box(pose, drawing, s=one["at"], n=one["height"]), "gate", toward=(0.4, 0.9))


def draw_box(sheet: Sheet, *, drawing: PlainView, pose: PlainView, folded: bool) -> None:
    """Box with bed and stiffener, line and hinge, with their words."""
    box = drawing["box"]
    every = box.get("stretches") or ()
    if not every:
        sheet.shape(*corners_of(pose), kind="edge", fill="white")

    def part(one: PlainView, low: float, high: float) -> list[tuple[float, float]]:
        ends = ((one["start"], low), (one["end"], low), (one["end"], high), (one["start"], high))
        return [on_box(pose, drawing, s=s, n=n) for s, n in ends]

    for one in every:
        sheet.shape(*part(one, 0.0, one["side_height"]), kind="edge", fill="white")
    if box["bed"] and not folded:
        depth = min(box["bed"], box["side_height"])
        ends = ((0.0, 0.0), (box["length"], 0.0), (box["length"], depth), (0.0, depth))
        sheet.shape(*(on_box(pose, drawing, s=s, n=n) for s, n in ends), kind="thin", fill="bed")
    for one in every:
        if one["stiffener"] is not None:
            low = one["stiffener"]["low"]
            sheet.shape(*part(one, low, low + one["stiffener"]["depth"]), kind="thin", fill="steel")
    one = box["stiffener"]
    if one is not None and not every:
        low, high = one["low"], one["low"] + one["depth"]
        ends = ((0.0, low), (box["length"], low), (box["length"], high), (0.0, high))
        sheet.shape(*(on_box(pose, drawing, s=s, n=n) for s, n in ends), kind="thin", fill="steel")
    draw_traps(sheet, drawing=drawing, pose=pose, named=not folded)
    hanger = (pose["hanger"][0], pose["hanger"][1])
    sheet.line(hanger, perch_of(drawing), kind="rope")
    for point in (hanger, perch_of(drawing)):
        sheet.dot(point, fill="white")
    sheet.dot((0.0, 0.0), radius=4.5, fill="solid")
    sheet.label((0.0, 0.0), "hinge", toward=(-0.9, 0.4))
    sheet.label(hanger, "hanger", toward=(0.6, -0.8))
    sheet.label(perch_of(drawing), "perch", toward=(0.9, -0.4))
