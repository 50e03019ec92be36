"""What detail drawings share: a sheet with room for its words, sizes as a drawing has them."""

from __future__ import annotations

from collections.abc import Sequence

from rigcheck.output.drawing.detail_callouts import Callout, Weld, callouts, reach, room
from rigcheck.output.drawing.sheet import Frame, Sheet
from rigcheck.output.shop_words import size_words

Picture = tuple[str, str]

WIDE = 340.0  # the picture's own units: two stand beside each other on paper


def size(value: float | None, unit: str) -> str:
    """A size as a drawing has it."""
    return size_words(value, unit=unit)


def bare(value: float | None, unit: str) -> str:
    """A size for a weld symbol, without its unit."""
    return "?" if value is None else size(value, unit).removesuffix(f" {unit}")


def detail_sheet(name: str, *, box: tuple[float, float, float, float], entries: Sequence[Callout],
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


def finish(sheet: Sheet, entries: Sequence[Callout], *, x: float, title: str, caption: str) -> Picture:
    """The picture with its callouts, and its caption."""
    callouts(sheet, entries, x=x)
    told = "; ".join(one.what if isinstance(one.what, str) else _spoken(one.what) for one in entries)
    return sheet.svg(title=title, describe=f"{title}: {told}."), caption


def _spoken(weld: Weld) -> str:
    parts = [f"fillet weld, leg {weld.leg}", f"length {weld.length}" if weld.length else "",
             "both sides" if weld.both else "", "all round" if weld.around else ""]  # fmt: skip
    return ", ".join(part for part in parts if part)


def rectangle(left: float, right: float, low: float, high: float) -> tuple[tuple[float, float], ...]:
    """Corners of an upright rectangle."""
    return (left, low), (right, low), (right, high), (left, high)
