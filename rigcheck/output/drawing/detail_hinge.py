"""Detail drawings of the hinge: barrels on their pin, or ears."""

from __future__ import annotations

from rigcheck.output.drawing.detail_callouts import Callout, Weld
from rigcheck.output.drawing.detail_sheet import Picture, bare, detail_sheet, finish, rectangle, size
from rigcheck.wording.plain import PlainView


def hinge_group(one: PlainView, found: PlainView) -> Picture:
    """One hinge group of barrels, along its pin."""
    unit, wall = found["unit"], one["barrel_wall"]
    out = 0.5 * one["pin"] + (wall or 0.5 * one["pin"])
    spans, x0 = [], 0.0
    for i in range(one["barrels"]):
        long = one["barrel_length"] if i % 2 else one["plant_barrel_length"]
        spans.append((x0, x0 + long, bool(i % 2)))
        x0 += long + one["gap"]
    whole, past = x0 - one["gap"], 0.08 * x0
    mine = next((span for span in spans if span[2]), spans[0])
    entries = [
        Callout((whole - 0.3 * (spans[-1][1] - spans[-1][0]), 0.75 * out), f"barrel wall {size(wall, unit)}"),
        Callout((whole + 0.7 * past, 0.0), f"pin {size(one['pin'], unit)}{'' if one['retained'] else ', NOT kept'}"),
        Callout((0.5 * (mine[0] + mine[1]), -1.3 * out), "box"),
        Callout((0.6 * whole, 1.5 * out), "plant"),
    ]
    if one["weld"] is not None:
        weld = Weld(leg=bare(one["weld"], unit), length=bare(one["weld_length"], unit), tail=found["electrode"])
        entries.append(Callout((mine[1] - 0.2 * (mine[1] - mine[0]), -out), weld))
    else:
        entries.append(Callout((mine[1], -out), "weld not described"))
    sheet, x = detail_sheet(
        "hinge", box=(-past, whole + past, -1.7 * out, 1.7 * out), entries=entries, dims=(20.0, 64.0)
    )
    sheet.shape(*rectangle(-past, whole + past, 1.2 * out, 1.7 * out), kind="ghost")
    sheet.shape(*rectangle(-past, whole + past, -1.7 * out, -1.2 * out), kind="thin", fill="steel")
    for left, right, ours in spans:
        ends = (-1.2 * out, out) if ours else (-out, 1.2 * out)
        sheet.shape(*rectangle(left, right, *ends), fill="steel" if ours else "white")
    half = 0.5 * one["pin"]
    sheet.shape(*rectangle(-past, whole + past, -half, half), kind="hidden")
    sheet.line((-past, 0.0), (whole + past, 0.0), kind="level")
    low = -1.7 * out
    sheet.dimension((mine[1], low), (mine[0], low), off=14.0, text=bare(mine[1] - mine[0], unit))
    sheet.dimension((whole, low), (0.0, low), off=46.0, text=f"{bare(whole, unit)} over all")
    caption = (
        f"One hinge group along its pin, to scale: {one['barrels']} barrels, {one['on_box']} of them on the box "
        "(gray), "
        f"gaps of {size(one['gap'], unit)}; pin {one['pin_steel']}, {'' if one['retained'] else 'not '}retained; "
        "barrels "
        f"{one['barrel_steel']}. The weld length is that of one barrel, both runs added. See which barrels pull on "
        "which side, and what keeps the pin from leaving."
    )
    return finish(sheet, entries, x=x, title="Hinge group", caption=caption)


def ear_pin(one: PlainView, found: PlainView) -> Picture:
    """The pin of a hinge of ears, or the bar of a center pivot, from the end of the box: the plates it goes through."""
    unit, gap, far = found["unit"], one["gap"] or 0.0, one["reach"]
    plates = [("box", one["box"]), ("plant", one["plant"])]
    if one["double"]:
        plates = [plates[0 if one["pivot"] else 1], *plates[:: -1 if one["pivot"] else 1]]
    spans, at = [], 0.0
    for side, thick in plates:
        spans.append((at, at + thick, side))
        at += thick + gap
    whole, half = spans[-1][1], 0.5 * one["pin"]
    past = 0.6 * one["pin"]
    top, low = half + 0.6 * one["pin"], -half - 0.6 * one["pin"]
    box = next(span for span in spans if span[2] == "box")
    plant = next(span for span in spans[::-1] if span[2] == "plant")
    ours, theirs = ("ears", "lug") if one["pivot"] else ("ear", "ears" if one["double"] else "ear")
    entries = [
        Callout((0.5 * (box[0] + box[1]), 0.7 * far), f"{ours} of the box {size(one['box'], unit)}"),
        Callout((plant[1] - 0.3 * one["plant"], -0.7 * far), f"{theirs} of the plant {size(one['plant'], unit)}"),
        Callout((whole + 0.7 * past, 0.0), f"pin {size(one['pin'], unit)}{'' if one['retained'] else ', NOT kept'}"),
    ]
    sheet, x = detail_sheet("ear-pin", box=(-past, whole + past, -far, far), entries=entries)
    for start, end, side in spans:
        ends = (low, far) if side == "box" else (-far, top)
        sheet.shape(*rectangle(start, end, *ends), kind="edge", fill="steel" if side == "box" else "white")
    sheet.shape(*rectangle(-past, whole + past, -half, half), kind="hidden")
    sheet.dimension((whole, -far), (0.0, -far), off=16.0, text=f"{bare(whole, unit)} over all")
    shear = "double" if one["double"] else "single"
    kept = f"gaps of {size(gap, unit)}; pin {one['pin_steel']}, {'' if one['retained'] else 'not '}retained."
    if one["pivot"]:
        caption = (
            f"Bar of the center pivot, to scale across: {kept} The ears of the box are gray, the lug of the plant "
            "stands between them at mid-width. See how free the bar is in its holes, and what keeps it from leaving."
        )
        return finish(sheet, entries, x=x, title="Center pivot", caption=caption)
    caption = (
        f"Pin of one hinge group, to scale across: {shear} shear, {kept} The ear of the box is gray. See which ear "
        "stands beside which, and what keeps the pin from leaving."
    )
    return finish(sheet, entries, x=x, title="Hinge of ears", caption=caption)
