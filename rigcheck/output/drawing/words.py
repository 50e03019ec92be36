"""What a drawing says in words: its text alternative and its caption."""

from __future__ import annotations

from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import number, state_opening, variant_words

_CHOSEN = " Drawn is the state in which both lines together pull most."


def slant(pose: PlainView) -> str:
    """How the line lies, hanger to perch."""
    angle = pose["line_angle"]
    return f"{number(abs(angle), unit='deg', digits=3)} {'above' if angle >= 0.0 else 'below'} level"


def _state(forces: PlainView, *, unit: str) -> str:
    more = variant_words(forces["variant"], unit=unit)
    opening = state_opening(forces["state"])
    return f"{opening[0].lower()}{opening[1:]}{f' ({more})' if more else ''}"


def side_words(drawing: PlainView, *, pose: PlainView, forces: PlainView | None) -> str:
    """A side view for those who do not see it."""
    length, force = drawing["units"]["length"], drawing["units"]["force"]
    perch = {key: number(drawing["perch"][key], unit=length) for key in ("height", "downstream")}
    text = (
        f"Box {number(drawing['box']['length'], unit=length)} long on a hinge at the left; hanger "
        f"{number(drawing['hanger']['at'], unit=length)} along the floor; perch {perch['height']} above the hinge and "
        f"{perch['downstream']} downstream of it; line {number(pose['line_length'], unit=length)} long, {slant(pose)}."
    )
    if forces is None:
        return text

    def size(value: float) -> str:
        return number(value, unit=force, rounding="up")

    if forces["line"] <= 0.0:
        return f"{text} Forces {_state(forces, unit=length)}: weight {size(forces['weight'])}, the lines slack."
    return (
        f"{text} Forces {_state(forces, unit=length)}: weight {size(forces['weight'])}, both lines together "
        f"{size(forces['line'])}, hinge {size(forces['hinge']['x'])} level and {size(forces['hinge']['z'])} upward."
    )


def side_caption(drawing: PlainView, *, forces: PlainView | None, folded: bool) -> str:
    """What a side view shows and what to look for in it."""
    unit = drawing["units"]["length"]
    where = "folded; the deployed box is dashed" if folded else "deployed, tail to the right"
    text = f"Side view to scale, box {where}."
    if forces is None:
        return (
            f"{text} See how the line points at the hinge. No forces are drawn: the line passes through the hinge axis "
            "or nearly, so none is known."
        )
    if forces["line"] <= 0.0:
        return (
            f"{text} The lines are slack there: only the weight is drawn{_held(drawing)}. See to which side of the "
            "hinge the weight falls, and what stands against that."
        )
    chosen, held = ("", _held(drawing)) if folded else (_CHOSEN, "")
    return (
        f"{text}{chosen} Thick arrows are the forces on the box {_state(forces, unit=unit)}, unfactored (no dynamic "
        "factor), both sides together, to a scale of their own: W at the center of gravity, T of both lines along "
        "them, R of the plant at both hinge groups; the arrow at the perch is what the lines do to the plant"
        f"{held}{_standing(drawing)}. See that they balance: the sums stand in the table below."
    )


def _standing(drawing: PlainView) -> str:
    """What of the plant is drawn."""
    return "; black triangles under the dashed plant are its feet" if drawing["plant"] else ""


def _held(drawing: PlainView) -> str:
    """What is drawn beside the forces, in words."""
    told = [
        words
        for words, there in (
            ("dash-dotted lines are tie-downs, each to its black anchor", drawing["tie_downs"]),
            ("black triangles are stops and point the way they push", drawing["stops"]),
        )
        if there
    ]
    if not told:
        return "; no tie-down and no stop is described"
    return f"; {', '.join(told)}, with their forces under Parked and on the road"
