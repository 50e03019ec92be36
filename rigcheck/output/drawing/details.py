"""Detail drawings of the joints to scale: hinge, lugs, post base, rail section, end of a cross-member."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from rigcheck.output.drawing.detail_callouts import Callout, Weld, callouts, reach, room
from rigcheck.output.drawing.sheet import Frame, Sheet
from rigcheck.output.shop_words import size_words
from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import number

Picture = tuple[str, str]

WIDE = 340.0  # the picture's own units: two stand beside each other on paper
_SHARE = 0.42  # of the width for the drawing itself, the rest for its words


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
        ("hinge", _hinge),
        ("rail", _rail),
        ("cross_member", _member),
    )
    return [draw(found[key], found) for key, draw in drawers if found[key] is not None]


def _size(value: float | None, unit: str) -> str:
    """A size as a drawing has it."""
    return size_words(value, unit=unit)


def _bare(value: float | None, unit: str) -> str:
    """A size for a weld symbol, without its unit."""
    return "?" if value is None else _size(value, unit).removesuffix(f" {unit}")


def _sheet(name: str, *, box: tuple[float, float, float, float], entries: Sequence[Callout],
           dims: tuple[float, float] = (44.0, 30.0)) -> tuple[Sheet, float]:  # fmt: skip
    """A sheet with room for the drawing at the left and its words at the right, and where the words begin."""
    probe = Sheet(name, Frame(left=0.0, right=1.0, low=0.0, high=1.0), wide=WIDE)
    words = reach(entries, small=probe.small) + 8.0
    right = max(words + 22.0, 30.0)
    least = max(room(entries, small=probe.small) + 12.0, 120.0)
    left, below = dims
    frame = Frame(left=box[0], right=box[1], low=box[2], high=box[3], margin=(left, 16.0, right, below))
    across, up = max(box[1] - box[0], 1e-9), max(box[3] - box[2], 1e-9)
    scale = min((WIDE - left - right) / across, (300.0 - 16.0 - below) / up)
    spare = max(least - (16.0 + below + scale * up), 0.0)
    frame = Frame(left=box[0], right=box[1], low=box[2], high=box[3],
                  margin=(left, 16.0 + 0.5 * spare, right, below + 0.5 * spare))  # fmt: skip
    return Sheet(name, frame, wide=WIDE, tallest=300.0 + spare), WIDE - words


def _finish(sheet: Sheet, entries: Sequence[Callout], *, x: float, title: str, caption: str) -> Picture:
    callouts(sheet, entries, x=x)
    told = "; ".join(one.what if isinstance(one.what, str) else _spoken(one.what) for one in entries)
    return sheet.svg(title=title, describe=f"{title}: {told}."), caption


def _spoken(weld: Weld) -> str:
    parts = [f"fillet weld, leg {weld.leg}", f"length {weld.length}" if weld.length else "",
             "both sides" if weld.both else "", "all round" if weld.around else ""]  # fmt: skip
    return ", ".join(part for part in parts if part)


def _rectangle(left: float, right: float, low: float, high: float) -> tuple[tuple[float, float], ...]:
    return (left, low), (right, low), (right, high), (left, high)


def _hanger_lug(one: PlainView, found: PlainView) -> Picture:
    return _lug(one, found, name="hanger-lug", on="rail or stiffener", title="Hanger lug")


def _perch_lug(one: PlainView, found: PlainView) -> Picture:
    return _lug(one, found, name="perch-lug", on="face of the post", title="Perch lug, turned upright")


def _lug(one: PlainView, found: PlainView, *, name: str, on: str, title: str) -> Picture:
    unit = found["unit"]
    half, foot, arm, top = 0.5 * one["width"], 0.5 * one["foot"], one["arm"], one["arm"] + one["edge"]
    wide = 1.25 * max(half, foot)
    entries = [
        Callout((0.35 * half, top - 0.2 * one["edge"]), f"plate {_size(one['plate'], unit)}, {one['steel']}"),
        Callout((0.5 * one["hole"], arm), f"hole {_size(one['hole'], unit)}"),
        Callout((0.6 * wide, -0.2 * arm), f"{on}{', through' if one['through'] else ''}"),
    ]
    if one["weld"] is not None:
        weld = Weld(leg=_bare(one["weld"], unit), length=_bare(one["run"], unit), both=True, tail=found["electrode"])
        entries.append(Callout((0.8 * foot, 0.0), weld))
    else:
        entries.append(Callout((0.8 * foot, 0.0), "weld not described"))
    sheet, x = _sheet(name, box=(-wide, wide, -0.4 * arm, top), entries=entries)
    sheet.shape(*_rectangle(-wide, wide, -0.4 * arm, 0.0), kind="thin", fill="steel")
    neck = min(arm, 0.6 * arm)
    sheet.shape((-foot, 0.0), (foot, 0.0), (half, neck), (half, top), (-half, top), (-half, neck), fill="white")
    sheet.disk((0.0, arm), radius=0.5 * one["hole"])
    sheet.dimension((-wide, 0.0), (-wide, arm), off=14.0, text=_bare(arm, unit))
    sheet.dimension((-wide, arm), (-wide, top), off=14.0, text=_bare(one["edge"], unit))
    sheet.dimension((foot, -0.4 * arm), (-foot, -0.4 * arm), off=16.0, text=f"foot {_bare(one['foot'], unit)}")
    caption = (
        f"{title}, face of the plate, to scale; width at the hole {_size(one['width'], unit)}. See hole and edge along "
        "the pull, and that the weld runs on both faces."
    )
    return _finish(sheet, entries, x=x, title=title, caption=caption)


def _post(one: PlainView, found: PlainView) -> Picture:
    unit, half, deep = found["unit"], 0.5 * one["width"], 0.5 * one["depth"]
    wall = one["wall"]
    told = f"{one['shape']}, {one['steel']}"
    weld: str | Weld = "base weld not described"
    if one["weld"] is not None:
        weld = Weld(leg=_bare(one["weld"], unit), around=True, tail=found["electrode"])
    entries = [Callout((0.6 * half, deep - 0.5 * wall), told), Callout((half, -0.4 * deep), weld)]
    leg = one["weld"] or 0.0
    out = max(half, deep) + leg
    sheet, x = _sheet("post-base", box=(-half - leg, half + leg, -deep - leg, deep + leg), entries=entries)
    if one["round"]:
        sheet.disk((0.0, 0.0), radius=half + leg, fill="dark", kind="thin")
        sheet.disk((0.0, 0.0), radius=half, fill="steel")
        if one["hollow"]:
            sheet.disk((0.0, 0.0), radius=half - wall)
    else:
        if leg:
            sheet.shape(*_rectangle(-half - leg, half + leg, -deep - leg, deep + leg), kind="thin", fill="dark")
        sheet.shape(*_rectangle(-half, half, -deep, deep), fill="steel")
        if one["hollow"]:
            sheet.shape(*_rectangle(wall - half, half - wall, wall - deep, deep - wall), kind="steel", fill="white")
    sheet.line((-out, 0.0), (out, 0.0), kind="level")
    sheet.line((0.0, -out), (0.0, out), kind="level")
    sheet.dimension((half, -deep - leg), (-half, -deep - leg), off=16.0, text=_bare(one["width"], unit))
    sheet.dimension((-half - leg, -deep), (-half - leg, deep), off=18.0, text=_bare(one["depth"], unit))
    caption = (
        "Base of a perch post cut level, with its weld group (dark), to scale; up is across the plant, right is "
        "downstream. See that the weld is taken as a line all round the outline."
    )
    return _finish(sheet, entries, x=x, title="Post base and weld group", caption=caption)


def _hinge(one: PlainView, found: PlainView) -> Picture:
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
        Callout((whole - 0.3 * (spans[-1][1] - spans[-1][0]), 0.75 * out), f"barrel wall {_size(wall, unit)}"),
        Callout((whole + 0.7 * past, 0.0), f"pin {_size(one['pin'], unit)}{'' if one['retained'] else ', NOT kept'}"),
        Callout((0.5 * (mine[0] + mine[1]), -1.3 * out), "box"),
        Callout((0.6 * whole, 1.5 * out), "plant"),
    ]
    if one["weld"] is not None:
        weld = Weld(leg=_bare(one["weld"], unit), length=_bare(one["weld_length"], unit), tail=found["electrode"])
        entries.append(Callout((mine[1] - 0.2 * (mine[1] - mine[0]), -out), weld))
    else:
        entries.append(Callout((mine[1], -out), "weld not described"))
    sheet, x = _sheet("hinge", box=(-past, whole + past, -1.7 * out, 1.7 * out), entries=entries, dims=(20.0, 64.0))
    sheet.shape(*_rectangle(-past, whole + past, 1.2 * out, 1.7 * out), kind="ghost")
    sheet.shape(*_rectangle(-past, whole + past, -1.7 * out, -1.2 * out), kind="thin", fill="steel")
    for left, right, ours in spans:
        ends = (-1.2 * out, out) if ours else (-out, 1.2 * out)
        sheet.shape(*_rectangle(left, right, *ends), fill="steel" if ours else "white")
    half = 0.5 * one["pin"]
    sheet.shape(*_rectangle(-past, whole + past, -half, half), kind="hidden")
    sheet.line((-past, 0.0), (whole + past, 0.0), kind="level")
    low = -1.7 * out
    sheet.dimension((mine[1], low), (mine[0], low), off=14.0, text=_bare(mine[1] - mine[0], unit))
    sheet.dimension((whole, low), (0.0, low), off=46.0, text=f"{_bare(whole, unit)} over all")
    caption = (
        f"One hinge group along its pin, to scale: {one['barrels']} barrels, {one['on_box']} of them on the box "
        "(gray), "
        f"gaps of {_size(one['gap'], unit)}; pin {one['pin_steel']}, {'' if one['retained'] else 'not '}retained; "
        "barrels "
        f"{one['barrel_steel']}. The weld length is that of one barrel, both runs added. See which barrels pull on "
        "which side, and what keeps the pin from leaving."
    )
    return _finish(sheet, entries, x=x, title="Hinge group", caption=caption)


def _seam_words(seam: PlainView | None, unit: str, electrode: str) -> str | Weld:
    if seam is None:
        return "seam not described"
    if seam["made"] == "bent":
        return "bent, no seam"
    stitched = seam["length"] is not None and seam["pitch"] is not None
    length = f"{_bare(seam['length'], unit)} - {_bare(seam['pitch'], unit)}" if stitched else ""
    return Weld(leg=_bare(seam["leg"], unit), length=length, both=seam["sides"] == 2, tail=electrode)


def _rail(one: PlainView, found: PlainView) -> Picture:
    unit, high, floor = found["unit"], one["side_height"], one["floor"]
    thick, strip, stiff = max(one["side_sheet"], 0.02 * high), max(one["strip"], 0.25 * high), one["stiffener"]
    plate = max(floor, 0.02 * high)
    entries = [
        Callout((0.0, 0.45 * high), f"side {_size(one['side_sheet'], unit)}"),
        Callout((-0.5 * strip, -0.5 * plate), f"floor {_size(floor, unit)}, {_size(one['strip'], unit)} counted"),
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
    sheet, x = _sheet("rail-section", box=(-strip, right, low, tall), entries=entries, dims=(52.0, 14.0))
    sheet.shape(*_rectangle(-strip, thick, -plate, 0.0), kind="thin", fill="dark")
    sheet.shape(*_rectangle(0.0, thick, 0.0, high), kind="thin", fill="dark")
    if stiff is not None:
        wall, ends = stiff["wall"], (inner, inner + stiff["width"], bottom, bottom + stiff["depth"])
        sheet.shape(*_rectangle(*ends), kind="steel", fill="steel")
        if stiff["hollow"] and not stiff["round"]:
            sheet.shape(
                *_rectangle(ends[0] + wall, ends[1] - wall, ends[2] + wall, ends[3] - wall), kind="thin", fill="white"
            )
    sheet.line((-strip, one["axis"]), (right, one["axis"]), kind="level")
    sheet.dimension((-strip, 0.0), (-strip, high), off=34.0, text=_bare(high, unit))
    sheet.dimension((-strip, 0.0), (-strip, one["axis"]), off=10.0, text=number(one["axis"], digits=3))
    caption = (
        "Right rail cut across, looking downstream, to scale (sheet drawn thick enough to be seen); the chain "
        "line is the"
        f" neutral axis, {number(one['axis'], unit=unit, digits=3)} above the floor. A = "
        f"{number(one['area'], digits=3)}"
        f" {unit}2, I = {number(one['inertia'], digits=3)} {unit}4 about it. See which seams carry its shear flow."
    )
    return _finish(sheet, entries, x=x, title="Rail section", caption=caption)


def _member(one: PlainView, found: PlainView) -> Picture:
    unit, deep, wide = found["unit"], one["depth"], one["width"]
    run = one["run"] or 1.5 * wide
    weld: str | Weld = "end weld not described"
    if one["weld"] is not None:
        leg = _bare(one["weld"], unit)
        weld = Weld(leg=leg, around=True, tail=found["electrode"]) if one["all_round"] else Weld(
            leg=leg, length=_bare(run, unit), both=True, tail=found["electrode"])  # fmt: skip
    entries = [
        Callout((0.3 * run, 0.14 * deep if one["under"] else -0.14 * deep), one["meets"]),
        Callout((0.6 * run, 0.0), weld),
        Callout((0.9 * run, -0.6 * deep if one["under"] else 0.6 * deep), f"{one['shape']}, {one['steel']}"),
    ]
    low, high = (-deep, 0.3 * deep) if one["under"] else (-0.3 * deep, deep)
    body = (-deep, 0.0) if one["under"] else (0.0, deep)
    sheet, x = _sheet("member-end", box=(0.0, 1.4 * run, low, high), entries=entries, dims=(44.0, 34.0))
    other = (0.0, 0.3 * deep) if one["under"] else (-0.3 * deep, 0.0)
    sheet.shape(*_rectangle(0.0, 1.4 * run, *other), kind="thin", fill="dark")
    sheet.shape(*_rectangle(0.0, 1.4 * run, *body), kind="edge", fill="steel")
    if one["weld"] is not None and not one["all_round"]:
        sheet.line((0.0, 0.0), (run, 0.0), kind="force")
        sheet.dimension((run, low), (0.0, low), off=16.0, text=f"run {_bare(run, unit)}")
    sheet.dimension((0.0, body[0]), (0.0, body[1]), off=16.0, text=_bare(deep, unit))
    caption = (
        "End of a cross-member seen along the box, to scale along the weld; the thick line is one of its two runs. See "
        "where the run ends, and what it is welded to."
    )
    return _finish(sheet, entries, x=x, title="End of a cross-member", caption=caption)
