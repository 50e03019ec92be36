"""The screen of the materials list: one screen of 45 lines, or with everything."""

from __future__ import annotations

from collections.abc import Sequence

from rigcheck.output.hoist_words import rating_text
from rigcheck.output.materials.view import PLACES
from rigcheck.output.rig_words import rig_line
from rigcheck.output.screen import Column, Look, Page
from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import number, percent

LINES, WIDE = 45, 80
_MORE = "`--all`: how each length was counted, every weld, the cautions in full."
_SHORT = (
    "This is a check, not a certificate or a permission; order to the drawing.",
    "Rated and marked parts only: what is stamped on a part beats every list.",
)
_NAME, _STOCK, _CUT, _STEEL = 20, 13, 21, 10  # letters
_LEAST = 4  # rows of a list that stay when room is short


def materials_screen(told: PlainView, *, look: Look | None = None, whole: bool = False) -> str:
    """The list on a screen.

    Args:
        told: The result, of `materials_result`.
        look: Width and color.
        whole: Everything, however long.

    Returns:
        Text; every value in it stands in the result.
    """
    look = look or Look()
    if whole:
        return _whole(told, look=look)
    rows = [len(told["pieces"]), len(told["hardware"]), len(told["not_described"])]
    while True:
        text = _short(told, look=look, rows=rows)
        most = max(range(3), key=lambda i: rows[i])
        if text.count("\n") <= LINES or rows[most] <= _LEAST:
            return text
        rows[most] -= 1


def _head(page: Page, told: PlainView) -> None:
    page.line(told["title"], style="head")
    rig_line(page, told)


def _short(told: PlainView, *, look: Look, rows: Sequence[int]) -> str:
    page, force = Page(look), told["units"]["force"]
    _head(page, told)
    page.heading("Cut")
    shown = told["pieces"][: rows[0]]
    for one in shown:
        page.line(_cut_line(one, unit=force))
    _left(page, len(told["pieces"]) - len(shown), "pieces")
    sums = told["sums"]
    page.line(f" Steel: box {_pounds(sums['box'], force)}, welded to it {_pounds(sums['on_box'], force)}, on the plant"
              f" {_pounds(sums['on_plant'], force)}.")  # fmt: skip
    page.line(f" The empty box with allowance, mats and fittings: {_pounds(sums['empty_box'], force)}.")
    page.heading(f"Weld ({told['electrode']})")
    for one in told["weld_sums"]:
        page.line(f" {one['leg_words']} leg: {one['length_words']}, electrodes {_light(one['electrodes'], force)}")
    if not told["weld_sums"]:
        page.line("  No weld is described with its leg and length.")
    page.heading("Buy")
    bought = told["hardware"][: rows[1]]
    for one in bought:
        page.line(_clip(f" {one['count']:2} {_hardware(one, unit=force)}", look.width))
    _left(page, len(told["hardware"]) - len(bought), "parts")
    page.heading("Not described, so not in the list")
    missing = told["not_described"][: rows[2]]
    page.items(("-", text) for text in missing)
    _left(page, len(told["not_described"]) - len(missing), "entries")
    page.line()
    for text in _SHORT:
        page.line(text)
    page.line(_MORE)
    rig_line(page, told)
    return page.text()


def _left(page: Page, count: int, what: str) -> None:
    if count > 0:
        page.line(f"  ... and {count} more {what}")


def _clip(text: str, width: int) -> str:
    return text if len(text) <= width else f"{text[: width - 3]}..."


def _pounds(value: float | None, unit: str) -> str:
    """A weight to the pound, or to four digits in newtons."""
    return number(
        value if value is None or unit != "lbf" else round(value), unit=unit, digits=6 if unit == "lbf" else 4
    )


def _light(value: float | None, unit: str) -> str:
    return number(value, unit=unit, digits=2, rounding="up")


def _cut_line(one: PlainView, *, unit: str) -> str:
    name, shape, steel = one["name"][:_NAME], one["shape"][:_STOCK], (one["steel"] or "-")[:_STEEL]
    weight = _pounds(one["weight"], unit)
    return f" {one['count']:2} {name:{_NAME}} {shape:{_STOCK}} {one['cut']:>{_CUT}} {weight:>7} {steel}".rstrip()


def _hardware(one: PlainView, *, unit: str) -> str:
    text = one["name"] + (f", {one['size_words']}" if one["size_words"] else "")
    if one["least"] is not None:
        return f"{text}: {rating_text(one['least'], one['most'], unit=unit)}"
    if one["utilization"] is None:
        return f"{text}: not assessed"
    if one["demand"] is None:
        return f"{text}: {percent(one['utilization'])}"
    demand = number(one["demand"], unit=unit, rounding="up")
    allowable = number(one["allowable"], unit=unit, rounding="down")
    return f"{text}: {demand} / {allowable}, {percent(one['utilization'])}"


def _whole(told: PlainView, *, look: Look) -> str:
    page, force = Page(look), told["units"]["force"]
    _head(page, told)
    for place, heading in PLACES.items():
        own = [one for one in told["pieces"] if one["place"] == place]
        if not own:
            continue
        page.heading(f"Cut: {heading}, {_pounds(told['sums'][place], force)}")
        columns = (Column("No.", number=True), Column("Piece", share=3), Column("Shape, thickness", share=3),
                   Column("Cut", share=3), Column("Weight", number=True), Column("Steel", share=2))  # fmt: skip
        page.table(columns, rows=[
            ((str(one["count"]), one["name"], one["shape"], one["cut"], _pounds(one["weight"], force),
              one["steel"] or "not given"), "") for one in own
        ])  # fmt: skip
    page.heading("How the lengths were counted")
    page.items(("-", f"{one['name']}: {one['deduction']}") for one in told["pieces"])
    page.heading("What the empty box weighs beside its pieces")
    page.items((_pounds(one["weight"], force), f"{one['name']} ({one['source']})") for one in told["carried"])
    page.line(f"The empty box: {_pounds(told['sums']['empty_box'], force)}.")
    page.heading(f"Welds, {told['electrode']}")
    kinds = (Column("Leg", share=0), Column("Runs", number=True), Column("Weld", share=5),
               Column("Length", share=3), Column("Electrodes", number=True))  # fmt: skip
    page.table(kinds, rows=[
        ((one["leg_words"], str(one["count"]), one["name"], one["length_words"], _light(one["electrodes"], force)), "")
        for one in told["welds"]
    ])  # fmt: skip
    page.line(f"Weld metal {_light(told['sums']['weld_metal'], force)}, electrodes"
              f" {_light(told['sums']['electrodes'], force)}.")  # fmt: skip
    page.heading("Hardware: highest amplified demand / allowable, or the window of its mark")
    page.items((str(one["count"]), _hardware(one, unit=force)) for one in told["hardware"])
    page.heading("Not described, so not in the list")
    page.items(("-", text) for text in told["not_described"])
    page.heading("How it was counted")
    page.items(("-", text) for text in told["assumed"])
    page.heading("Cautions")
    page.items(("-", text) for text in told["cautions"])
    return page.text()
