"""Plan view with splay, and the cross-section of the box with water and bed, to scale."""

from __future__ import annotations

from rigcheck.output.drawing.sheet import Frame, Sheet
from rigcheck.output.drawing.side import bar_length
from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import number

_TALLEST = 360.0  # two of them stand on one page of paper


def plan_view(drawing: PlainView) -> tuple[str, str]:
    """The deployed rig from above, the tail to the right, left side up.

    Args:
        drawing: Drawing data of a rig.

    Returns:
        SVG and caption.
    """
    box, pose, unit = drawing["box"], drawing["deployed"], drawing["units"]["length"]
    half, held_by = 0.5 * box["width"] + box["side_sheet"], drawing["hinge"].get("held_by", "hinge groups")
    reach = max(half, *(0.5 * drawing[part]["spacing"] for part in ("hinge", "hanger", "perch")))
    head, tail = pose["corners"][0][0], pose["corners"][1][0]
    perch_x, hanger_x = drawing["perch"]["downstream"], pose["hanger"][0]
    frame = Frame(
        left=min(head, perch_x, 0.0), right=max(tail, perch_x), low=-reach, high=reach, margin=(104.0, 56.0, 92.0, 74.0)
    )
    sheet = Sheet("plan", frame, tallest=_TALLEST)
    _plan_box(sheet, drawing=drawing, half=half)
    _plan_traps(sheet, drawing=drawing)
    sheet.line((frame.left, 0.0), (frame.right, 0.0), kind="level")
    for sign in (1.0, -1.0):
        hinge = (0.0, sign * 0.5 * drawing["hinge"]["spacing"])
        hanger = (hanger_x, sign * 0.5 * drawing["hanger"]["spacing"])
        perch = (perch_x, sign * 0.5 * drawing["perch"]["spacing"])
        sheet.line(hanger, perch, kind="rope")
        sheet.dot(hanger)
        sheet.dot(perch)
        sheet.dot(hinge, radius=4.5, fill="solid")

    def across(part: str, x: float, *, off: float, word: str) -> None:
        y = 0.5 * drawing[part]["spacing"]
        sheet.dimension((x, -y), (x, y), off=off, text=f"{word} {number(2.0 * y, unit=unit)}")

    across("perch", frame.left, off=24.0, word="perches")
    across("hanger", frame.right, off=-26.0, word="hangers")
    inner, x = 0.5 * box["width"], tail - 0.12 * (tail - head)
    sheet.dimension((x, -inner), (x, inner), off=0.0, text=f"{number(box['width'], unit=unit)} inside")
    if box.get("stretches"):
        first = box["stretches"][0]["head"]
        x = head + 0.04 * (tail - head)
        sheet.dimension((x, -0.5 * first), (x, 0.5 * first), off=0.0, text=f"{number(first, unit=unit)} inside")
    sheet.dimension((tail, -reach), (hanger_x, -reach), off=26.0, text=number(tail - hanger_x, unit=unit))
    sheet.dimension((hanger_x, -reach), (0.0, -reach), off=26.0, text=f"hanger {number(hanger_x, unit=unit)}, level")
    splay = number(pose["splay"], unit="deg", digits=2)
    middle = (0.5 * (hanger_x + perch_x), 0.25 * (drawing["hanger"]["spacing"] + drawing["perch"]["spacing"]))
    sheet.label(middle, f"line, splay {splay}", toward=(0.5, -0.86))
    y = 0.5 * drawing["hinge"]["spacing"]
    sheet.label((0.0, y), f"{held_by} {number(2.0 * y, unit=unit)} apart", toward=(0.5, -0.86))
    sheet.scale_bar(*bar_length(unit, span=frame.right - frame.left))
    apart = {part: number(drawing[part]["spacing"], unit=unit) for part in ("hinge", "hanger", "perch")}
    describe = (
        f"From above: box {number(box['width'], unit=unit)} wide inside, {held_by} "
        f"{apart['hinge']} apart, hangers {apart['hanger']} apart, perches {apart['perch']} apart, "
        f"lines splayed {splay}."
    )
    caption = (
        "Plan to scale, left side of the box up, tail to the right. Lengths along the box are level ones, a little "
        f"shorter than on the floor. Filled circles are the {held_by}, open circles hangers and "
        "perches. See how far the lines leave the plane of the rails: splay squeezes or spreads the rails and pulls "
        "the lugs sideways."
    )
    return sheet.svg(title="Plan view with the splay of the lines", describe=describe), caption


def _plan_box(sheet: Sheet, *, drawing: PlainView, half: float) -> None:
    box, pose = drawing["box"], drawing["deployed"]
    if box.get("stretches"):
        _plan_stretches(sheet, drawing=drawing)
        return
    head, tail = pose["corners"][0][0], pose["corners"][1][0]
    sheet.shape((head, -half), (tail, -half), (tail, half), (head, half), kind="edge", fill="white")
    one = box["cross_member"]
    for i in range(one["count"] if one else 0):
        x = head + min(i * one["spacing"], box["length"]) * pose["along"][0]
        sheet.line((x, -half), (x, half), kind="hidden")
    for i in range(1, box["channels"]):
        y = box["width"] * (i / box["channels"] - 0.5)
        sheet.line((head, y), (tail, y), kind="steel")


def _plan_traps(sheet: Sheet, *, drawing: PlainView) -> None:
    """Slots of the traps in the floor, plates and gate as lines across."""
    box, pose = drawing["box"], drawing["deployed"]
    head, level = pose["corners"][0][0], pose["along"][0]
    for one in box.get("traps") or ():
        half, y = 0.5 * one["opening"] * level, 0.5 * one["width"]
        x = head + one["at"] * level
        if half > 0.0:
            sheet.shape((x - half, -y), (x + half, -y), (x + half, y), (x - half, y), kind="thin", fill="bed")
        else:
            sheet.line((x, -y), (x, y), kind="steel")
    one = box.get("gate")
    if one:
        x, y = head + one["at"] * level, 0.5 * one["width"]
        sheet.line((x, -y), (x, y), kind="steel")


def _plan_stretches(sheet: Sheet, *, drawing: PlainView) -> None:
    """Each stretch over its sides, the members across as wide as it is where they lie."""
    box, pose, wall = drawing["box"], drawing["deployed"], drawing["box"]["side_sheet"]
    head, level = pose["corners"][0][0], pose["along"][0]
    parts = box["stretches"]
    for part in parts:
        near, far = (head + part[end] * level for end in ("start", "end"))
        first, last = (0.5 * part[end] + wall for end in ("head", "tail"))
        sheet.shape((near, -first), (far, -last), (far, last), (near, first), kind="edge", fill="white")
        for i in range(1, box["channels"]):
            share = i / box["channels"] - 0.5
            sheet.line((near, share * part["head"]), (far, share * part["tail"]), kind="steel")
    one = box["cross_member"]
    for i in range(one["count"] if one else 0):
        s = min(i * one["spacing"], box["length"])
        part = next((part for part in parts if s <= part["end"]), parts[-1])
        t = (s - part["start"]) / (part["end"] - part["start"])
        y = 0.5 * (part["head"] + (part["tail"] - part["head"]) * t) + wall
        sheet.line((head + s * level, -y), (head + s * level, y), kind="hidden")


def cross_section(drawing: PlainView, *, water: PlainView) -> tuple[str, str]:
    """The box cut across, looking downstream, with bed, running water and the levels that matter.

    Args:
        drawing: Drawing data of a rig.
        water: The result's block on water.

    Returns:
        SVG and caption.
    """
    box, unit = drawing["box"], drawing["units"]["length"]
    half, side = 0.5 * box["width"], box["side_height"]
    wall = max(box["side_sheet"], 0.006 * box["width"])  # thin sheet is drawn thick enough to be seen
    spacing, up = 0.5 * drawing["hanger"]["spacing"], drawing["hanger"]["height"]
    one = box["cross_member"]
    under = (one["depth"] if one and one["at"] == "under" else 0.0) + wall
    reach = max(half + wall, spacing)
    frame = Frame(
        left=-reach, right=reach, low=-under, high=max(side, up, box["packed"]) * 1.02, margin=(76.0, 62.0, 166.0, 70.0)
    )
    sheet = Sheet("section", frame, tallest=_TALLEST)
    bed = min(box["bed"], side)
    running = min(water["depth"] or 0.0, side - bed)
    if running > 0.0:
        sheet.shape((-half, bed), (half, bed), (half, bed + running), (-half, bed + running), kind="thin", fill="water")
    if bed > 0.0:
        sheet.shape((-half, 0.0), (half, 0.0), (half, bed), (-half, bed), kind="thin", fill="bed")
    _steel(sheet, drawing=drawing, wall=wall)
    for sign in (1.0, -1.0):
        sheet.dot((sign * spacing, up), radius=4.0)
    sheet.label((-spacing, up), "hanger", toward=(-0.3, -0.95))
    _levels(sheet, drawing=drawing, bed=bed, running=running, far=reach)
    sheet.dimension((half, side), (-half, side), off=-30.0, text=f"{number(box['width'], unit=unit)} inside")
    sheet.dimension((-reach, 0.0), (-reach, side), off=30.0, text=number(side, unit=unit))
    between = f"hangers {number(2.0 * spacing, unit=unit)}"
    sheet.dimension((-spacing, -under), (spacing, -under), off=-22.0, text=between)
    sheet.scale_bar(*bar_length(unit, span=frame.right - frame.left))
    flow = f"water {number(running, unit=unit)}" if running > 0.0 else "no running water described"
    describe = (
        f"Box {number(box['width'], unit=unit)} wide inside with sides {number(side, unit=unit)} high; bed "
        f"{number(bed, unit=unit)}, {flow}; packed gravel stands to {number(box['packed'], unit=unit)}."
    )
    caption = (
        "Cross-section to scale, looking downstream, left side on the left; sheet is drawn thicker than it is. Dotted "
        "is the settled bed, waved is running water at the depth that loads the box. See how much room is left for "
        "gravel above the running level: that is what the packed and lopsided states fill."
    )
    if box.get("stretches"):
        caption += " The box is drawn as wide and as high as at its widest and highest stretch."
    return sheet.svg(title="Cross-section with bed and water", describe=describe), caption


def _steel(sheet: Sheet, *, drawing: PlainView, wall: float) -> None:
    box = drawing["box"]
    half, side = 0.5 * box["width"], box["side_height"]
    outer = half + wall
    sheet.shape((-outer, -wall), (outer, -wall), (outer, 0.0), (-outer, 0.0), kind="thin", fill="dark")
    for sign in (1.0, -1.0):
        ends = ((sign * half, 0.0), (sign * outer, 0.0), (sign * outer, side), (sign * half, side))
        sheet.shape(*ends, kind="thin", fill="dark")
        one = box["stiffener"]
        if one is not None:
            inner = half - 0.5 * (one["width"] - wall) if one["at"] in ("cap", "under") else outer
            low, high = one["low"], one["low"] + one["depth"]
            far = inner + one["width"]
            ends = ((sign * inner, low), (sign * far, low), (sign * far, high), (sign * inner, high))
            sheet.shape(*ends, kind="steel", fill="steel")
    for i in range(1, box["channels"]):
        y = box["width"] * (i / box["channels"] - 0.5)
        sheet.line((y, 0.0), (y, box["divider_height"]), kind="edge")
    one = box["cross_member"]
    if one is not None:
        low = -wall - one["depth"] if one["at"] == "under" else side
        ends = ((-outer, low), (outer, low), (outer, low + one["depth"]), (-outer, low + one["depth"]))
        sheet.shape(*ends, kind="steel", fill="steel")


def _levels(sheet: Sheet, *, drawing: PlainView, bed: float, running: float, far: float) -> None:
    box, unit = drawing["box"], drawing["units"]["length"]
    half = 0.5 * box["width"]
    levels = [(box["packed"], "packed")]
    if box["lip"] is not None and box["lip"] < box["side_height"]:
        levels.append((box["lip"], "lip"))
    if running > 0.0:
        levels.append((bed + running, "water"))
    if bed > 0.0:
        levels.append((bed, "bed"))
    for level, _ in levels:
        sheet.line((-half, level), (half, level), kind="level")
    right, _ = sheet.place((far, 0.0))
    told = [((0.97 * half, level), f"{word} to {number(level, unit=unit)}") for level, word in levels]
    sheet.column(told, x=right + 26.0)
