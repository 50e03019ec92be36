"""Say in sentences what a further support is, and what it comes to beside the hung box."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rigcheck.case.rig import Rig
from rigcheck.output.instructions import stop_words
from rigcheck.studies.props.options import LEG, PAIR
from rigcheck.wording.plain import PlainView
from rigcheck.wording.scale import Scale
from rigcheck.wording.words import number, percent, state_word


def support_words(rig: Rig, *, name: str, scale: Scale) -> str:
    """What an arrangement is, with its places.

    Args:
        rig: A rig whose case describes it.
        name: `hung`, `tail leg` or `second pair`.
        scale: Units of the output.
    """

    def place(key: str, *, otherwise: str = "") -> str:
        found = key if rig.has(key) or not otherwise else otherwise
        return number(scale.one(rig.number(found), dimension="length"), unit=scale.label("length"), digits=5)

    if name == LEG:
        stiff = "as stiff as it may be"
        if rig.has("tail_leg.stiffness"):
            value = scale.one(rig.number("tail_leg.stiffness"), dimension="stiffness")
            stiff = number(value, unit=scale.label("stiffness"))
        return f"a leg under each rail {place('tail_leg.at')} from the hinge, {stiff} with what it stands on"
    if name == PAIR:
        height = place("second_line.perch_height", otherwise="perch.height")
        downstream = scale.one(rig.number("second_line.downstream"), dimension="length") or 0.0
        away = number(abs(downstream), unit=scale.label("length"), digits=5)
        side = "downstream of" if downstream > 0.0 else "behind"
        return (
            f"a second pair of lines {place('second_line.at')} from the hinge, to perches {away} {side} the hinge axis"
            f" and {height} up"
        )
    return "on its two lines alone"


def headline(found: PlainView) -> str:
    """What each comes to in the states compared, in one line."""
    told = "In the load cases compared: " + "; ".join(
        f"{one['name']} {one['verdict']} at {percent(one['highest_utilization'])}" for one in found["arrangements"]
    )
    stops = ", ".join(stop_words(code) for code in found["stops"])
    return f"{told}; stopped by {stops}" if stops else told


def answer(one: PlainView, *, hung: PlainView, units: Mapping[str, str]) -> str:
    """What one arrangement comes to, beside the hung box."""
    state = max(hung["values"], key=lambda name: hung["values"][name]["line"][1] or 0.0)
    here, before = one["values"][state], hung["values"][state]
    force, moment = units["force"], units["moment"]
    most = max(here["sagging"][1], here["hogging"][1])
    top = max(before["sagging"][1], before["hogging"][1])
    governs = one["governing"]
    who = "the leg takes" if one["name"] == LEG else "a second line takes"
    return (
        f"With {one['words']}: {state_word(state)}, a line carries {between(here['line'], unit=force)} instead of"
        f" {number(before['line'][1], unit=force, rounding='up')} and {who} {between(here['extra'], unit=force)};"
        f" a rail bends with up to {number(most, unit=moment, rounding='up')} instead of"
        f" {number(top, unit=moment, rounding='up')}. Of all load cases compared the highest is {governs['part']},"
        f" {governs['mode']}, {percent(governs['utilization'])} in {state_word(governs['state'])}."
    )


def between(ends: Any, *, unit: str = "") -> str:
    """Least and most of a demand; one number where they are alike."""
    low, high = number(ends[0], unit=unit), number(ends[1], unit=unit, rounding="up")
    if number(ends[0], unit=unit, rounding="up") == high:
        return high
    figure, _, spoken = low.partition(" ")
    return f"{figure if spoken == high.partition(' ')[2] else low} to {high}"
