"""Detail drawings of the joints to scale: hinge, lugs, post base, rail section, end of a cross-member."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from rigcheck.output.drawing.detail_callouts import Callout, Weld
from rigcheck.output.drawing.detail_hinge import ear_pin, hinge_group
from rigcheck.output.drawing.detail_sheet import Picture, bare, detail_sheet, finish, rectangle, size
from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import number


def details(found: PlainView) -> list[Picture]:
    """Every joint that the case describes, with its caption.

    Args:
        found: Sizes, of `detail_data`.

    Returns:
        SVG and caption of each, in the order of the load path.
    """
    drawers: Sequence[tuple[str, Callable[[PlainView, PlainView], Picture]]] = (
        ("hanger_lug", _hanger_lug),
        ("perch_lug", _perch_lug),
        ("post", _post),
        ("hinge", hinge_group),
        ("box_ear", _box_ear),
        ("plant_ear", _plant_ear),
        ("ears", ear_pin),
        ("rail", _rail),
        ("cross_member", _member),
    )
    return [draw(found[key], found) for key, draw in drawers if found[key] is not None]


def _hanger_lug(one: PlainView, found: PlainView) -> Picture:
    return _lug(one, found, name="hanger-lug", on="rail or stiffener", title="Hanger lug")


def _perch_lug(one: PlainView, found: PlainView) -> Picture:
    return _lug(one, found, name="perch-lug", on="face of the post", title="Perch lug, turned upright")


def _box_ear(one: PlainView, found: PlainView) -> Picture:
    return _lug(one, found, name="box-ear", on="head of the box", title="Hinge ear of the box")


def _plant_ear(one: PlainView, found: PlainView) -> Picture:
    return _lug(one, found, name="plant-ear", on="frame of the plant", title="Hinge ear of the plant")


def _lug(one: PlainView, found: PlainView, *, name: str, on: str, title: str) -> Picture:
    unit = found["unit"]
    half, foot, arm, top = 0.5 * one["width"], 0.5 * one["foot"], one["arm"], one["arm"] + one["edge"]
    wide = 1.25 * max(half, foot)
    entries = [
        Callout((0.35 * half, top - 0.2 * one["edge"]), f"plate {size(one['plate'], unit)}, {one['steel']}"),
        Callout((0.5 * one["hole"], arm), f"hole {size(one['hole'], unit)}"),
        Callout((0.6 * wide, -0.2 * arm), f"{on}{', through' if one['through'] else ''}"),
    ]
    if one["weld"] is not None:
        weld = Weld(leg=bare(one["weld"], unit), length=bare(one["run"], unit), both=True, tail=found["electrode"])
        entries.append(Callout((0.8 * foot, 0.0), weld))
    else:
        entries.append(Callout((0.8 * foot, 0.0), "weld not described"))
    sheet, x = detail_sheet(name, box=(-wide, wide, -0.4 * arm, top), entries=entries)
    sheet.shape(*rectangle(-wide, wide, -0.4 * arm, 0.0), kind="thin", fill="steel")
    neck = min(arm, 0.6 * arm)
    sheet.shape((-foot, 0.0), (foot, 0.0), (half, neck), (half, top), (-half, top), (-half, neck), fill="white")
    sheet.disk((0.0, arm), radius=0.5 * one["hole"])
    sheet.dimension((-wide, 0.0), (-wide, arm), off=14.0, text=bare(arm, unit))
    sheet.dimension((-wide, arm), (-wide, top), off=14.0, text=bare(one["edge"], unit))
    sheet.dimension((foot, -0.4 * arm), (-foot, -0.4 * arm), off=16.0, text=f"foot {bare(one['foot'], unit)}")
    pin = "" if one["pin"] is None else f", pin {size(one['pin'], unit)}"
    caption = (
        f"{title}, face of the plate, to scale; width at the hole {size(one['width'], unit)}{pin}. See hole and edge "
        "along the pull, and that the weld runs on both faces."
    )
    return finish(sheet, entries, x=x, title=title, caption=caption)


def _post(one: PlainView, found: PlainView) -> Picture:
    unit, half, deep = found["unit"], 0.5 * one["width"], 0.5 * one["depth"]
    wall = one["wall"]
    told = f"{one['shape']}, {one['steel']}"
    weld: str | Weld = "base weld not described"
    if one["weld"] is not None:
        weld = Weld(leg=bare(one["weld"], unit), around=True, tail=found["electrode"])
    entries = [Callout((0.6 * half, deep - 0.5 * wall), told), Callout((half, -0.4 * deep), weld)]
    leg = one["weld"] or 0.0
    out = max(half, deep) + leg
    sheet, x = detail_sheet("post-base", box=(-half - leg, half + leg, -deep - leg, deep + leg), entries=entries)
    if one["round"]:
        sheet.disk((0.0, 0.0), radius=half + leg, fill="dark", kind="thin")
        sheet.disk((0.0, 0.0), radius=half, fill="steel")
        if one["hollow"]:
            sheet.disk((0.0, 0.0), radius=half - wall)
    else:
        if leg:
            sheet.shape(*rectangle(-half - leg, half + leg, -deep - leg, deep + leg), kind="thin", fill="dark")
        sheet.shape(*rectangle(-half, half, -deep, deep), fill="steel")
        if one["hollow"]:
            sheet.shape(*rectangle(wall - half, half - wall, wall - deep, deep - wall), kind="steel", fill="white")
    sheet.line((-out, 0.0), (out, 0.0), kind="level")
    sheet.line((0.0, -out), (0.0, out), kind="level")
    sheet.dimension((half, -deep - leg), (-half, -deep - leg), off=16.0, text=bare(one["width"], unit))
    sheet.dimension((-half - leg, -deep), (-half - leg, deep), off=18.0, text=bare(one["depth"], unit))
    caption = (
        "Base of a perch post cut level, with its weld group (dark), to scale; up is across the plant, right is "
        "downstream. See that the weld is taken as a line all round the outline."
    )
    return finish(sheet, entries, x=x, title="Post base and weld group", caption=caption)


def _seam_words(seam: PlainView | None, unit: str, electrode: str) -> str | Weld:
    if seam is None:
        return "seam not described"
    if seam["made"] == "bent":
        return "bent, no seam"
    stitched = seam["length"] is not None and seam["pitch"] is not None
    length = f"{bare(seam['length'], unit)} - {bare(seam['pitch'], unit)}" if stitched else ""
    return Weld(leg=bare(seam["leg"], unit), length=length, both=seam["sides"] == 2, tail=electrode)


def _rail(one: PlainView, found: PlainView) -> Picture:
    unit, high, floor = found["unit"], one["side_height"], one["floor"]
    thick, strip, stiff = max(one["side_sheet"], 0.02 * high), max(one["strip"], 0.25 * high), one["stiffener"]
    plate = max(floor, 0.02 * high)
    entries = [
        Callout((0.0, 0.45 * high), f"side {size(one['side_sheet'], unit)}"),
        Callout((-0.5 * strip, -0.5 * plate), f"floor {size(floor, unit)}, {size(one['strip'], unit)} counted"),
        Callout((0.0, 0.0), _seam_words(one["seams"]["floor_seam"], unit, found["electrode"])),
    ]
    low, right = -plate, thick
    if stiff is not None:
        inner = 0.5 * (thick - stiff["width"]) if stiff["at"] in ("cap", "under") else thick
        bottom = stiff["low"] - (plate - floor if stiff["at"] == "under" else 0.0)
        right, low = max(right, inner + stiff["width"]), min(low, bottom)
        entries.append(
            Callout((inner + stiff["width"], bottom + 0.7 * stiff["depth"]), f"{stiff['shape']}, {one['steel']}")
        )
        entries.append(
            Callout((thick, max(bottom, 0.0) if stiff["at"] != "cap" else high),
                    _seam_words(one["seams"]["wall_seam"], unit, found["electrode"]))
        )  # fmt: skip
    tall = max(high, (stiff["low"] + stiff["depth"]) if stiff is not None else high)
    sheet, x = detail_sheet("rail-section", box=(-strip, right, low, tall), entries=entries, dims=(52.0, 14.0))
    sheet.shape(*rectangle(-strip, thick, -plate, 0.0), kind="thin", fill="dark")
    sheet.shape(*rectangle(0.0, thick, 0.0, high), kind="thin", fill="dark")
    if stiff is not None:
        wall, ends = stiff["wall"], (inner, inner + stiff["width"], bottom, bottom + stiff["depth"])
        sheet.shape(*rectangle(*ends), kind="steel", fill="steel")
        if stiff["hollow"] and not stiff["round"]:
            sheet.shape(
                *rectangle(ends[0] + wall, ends[1] - wall, ends[2] + wall, ends[3] - wall), kind="thin", fill="white"
            )
    sheet.line((-strip, one["axis"]), (right, one["axis"]), kind="level")
    sheet.dimension((-strip, 0.0), (-strip, high), off=34.0, text=bare(high, unit))
    sheet.dimension((-strip, 0.0), (-strip, one["axis"]), off=10.0, text=number(one["axis"], digits=4))
    caption = (
        "Right rail cut across, looking downstream, to scale (sheet drawn thicker, so that it shows); the chain line is"
        f" the neutral axis, {number(one['axis'], unit=unit, digits=4)} above the floor. A = "
        f"{number(one['area'], digits=4)}"
        f" {unit}2, I = {number(one['inertia'], digits=4)} {unit}4 about it. See which seams carry its shear flow."
    )
    return finish(sheet, entries, x=x, title="Rail section", caption=caption)


def _member(one: PlainView, found: PlainView) -> Picture:
    unit, deep, wide = found["unit"], one["depth"], one["width"]
    run = one["run"] or 1.5 * wide
    weld: str | Weld = "end weld not described"
    if one["weld"] is not None:
        leg = bare(one["weld"], unit)
        weld = Weld(leg=leg, around=True, tail=found["electrode"]) if one["all_round"] else Weld(
            leg=leg, length=bare(run, unit), both=True, tail=found["electrode"])  # fmt: skip
    entries = [
        Callout((0.3 * run, 0.14 * deep if one["under"] else -0.14 * deep), one["meets"]),
        Callout((0.6 * run, 0.0), weld),
        Callout((0.9 * run, -0.6 * deep if one["under"] else 0.6 * deep), f"{one['shape']}, {one['steel']}"),
    ]
    low, high = (-deep, 0.3 * deep) if one["under"] else (-0.3 * deep, deep)
    body = (-deep, 0.0) if one["under"] else (0.0, deep)
    sheet, x = detail_sheet("member-end", box=(0.0, 1.4 * run, low, high), entries=entries, dims=(44.0, 34.0))
    other = (0.0, 0.3 * deep) if one["under"] else (-0.3 * deep, 0.0)
    sheet.shape(*rectangle(0.0, 1.4 * run, *other), kind="thin", fill="dark")
    sheet.shape(*rectangle(0.0, 1.4 * run, *body), kind="edge", fill="steel")
    if one["weld"] is not None and not one["all_round"]:
        sheet.line((0.0, 0.0), (run, 0.0), kind="force")
        sheet.dimension((run, low), (0.0, low), off=16.0, text=f"run {bare(run, unit)}")
    sheet.dimension((0.0, body[0]), (0.0, body[1]), off=16.0, text=bare(deep, unit))
    caption = (
        "End of a cross-member seen along the box, to scale along the weld; the thick line is one of its two runs. See "
        "where the run ends, and what it is welded to."
    )
    return finish(sheet, entries, x=x, title="End of a cross-member", caption=caption)
