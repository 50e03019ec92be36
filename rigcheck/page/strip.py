"""The strip along the box: the highest utilization with the hanger at each place, as a small chart and a sentence."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rigcheck.output.html_page import words
from rigcheck.wording.words import percent

_WIDE, _TALL, _BASE, _LEFT, _RIGHT = 520.0, 84.0, 66.0, 8.0, 60.0
_MOST = 1.4  # utilization at the top of the chart
_HIGH = _BASE - 14.0


@dataclass(frozen=True, slots=True)
class Place:
    """The hanger at one place.

    Attributes:
        at: Along the box, 0 at the hinge and 1 at the tail.
        text: The place as it would be typed.
        use: The highest utilization; None where it has no meaning as a number.
        word: The verdict.
        stopped: Whether a finding stops the rig there.
    """

    at: float
    text: str
    use: float | None
    word: str
    stopped: bool


def strip_html(places: Sequence[Place], *, now: float, whole: bool) -> str:
    """The chart and what it says.

    Args:
        places: Those that are worked out, in their order.
        now: Where the hanger is, 0 to 1 along the box.
        whole: Whether these are all.
    """
    free = [one for one in places if not one.stopped and one.use is not None]
    best = min(free, key=lambda one: one.use or 0.0, default=None)
    least = f": lowest {percent(best.use)} at {best.text}" if best is not None else ""
    said = f"Highest utilization with the hanger at each place along the box{least}"
    struck = "; struck through: stopped there" if any(one.stopped for one in places) else ""
    width = max((_WIDE - _RIGHT) / 24.0 - 2.0, 4.0)
    bars = "".join(_bar(one, width=width) for one in places)
    limit, end = _BASE - _HIGH / _MOST, _WIDE - 46.0
    return (
        f'<svg viewBox="0 0 {_WIDE:g} {_TALL:g}" role="img" aria-label="{words(said)}">{bars}'
        f'<path d="M4 {limit:.1f}H{end:g}" class="limit"/><text x="{end + 3:g}" y="{limit + 4:.1f}">100 %</text>'
        f'<path d="M4 {_BASE:g}H{end:g}" class="floor"/>'
        f'<path d="M{_across(now):.1f} {_BASE + 2:g}l-6 9h12z" class="now"/>'
        f'<text x="4" y="{_TALL - 3:g}">hinge</text><text x="{_WIDE - 74:g}" y="{_TALL - 3:g}">tail</text></svg>'
        f"<p>{words(said)}{struck}{'' if whole else '; being worked out'}.</p>"
    )


def _across(at: float) -> float:
    return _LEFT + at * (_WIDE - _RIGHT)


def _bar(one: Place, *, width: float) -> str:
    beyond = _MOST if one.stopped or one.word == "over" else 0.0  # without a check nothing is used
    high = min(beyond if one.use is None else one.use, _MOST) / _MOST * _HIGH
    x = _across(one.at) - 0.5 * width
    kind = "stopped" if one.stopped else one.word
    bar = f'<rect x="{x:.1f}" y="{_BASE - high:.1f}" width="{width:.1f}" height="{high:.1f}" class="{kind}"/>'
    return f'{bar}<path d="M{x:.1f} {_BASE:g}l{width:.1f} {-high:.1f}" class="hatch"/>' if one.stopped else bar
