"""Tables of forces on the box in the governing case, hung or folded."""

from __future__ import annotations

from collections.abc import Iterable

from rigcheck.output.drawing.body import title
from rigcheck.output.drawing.folded_body import thrown_by
from rigcheck.output.html_page import paragraph, table
from rigcheck.output.report.tables import place, up
from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import number

Row = tuple[str, ...]


def body_table(body: PlainView, *, units: PlainView) -> str:
    """All forces on the box in the governing case, and that they close."""
    loads, force = body["loads"], units["force"]
    plain, heavy = body["unfactored"], body["amplified"]

    def three(vector: PlainView) -> tuple[str, ...]:
        return tuple(up(vector[axis], force) for axis in "xyz")

    rows = [("loads", *three(loads["force"]), "-")]
    for part in ("line", "hinge"):
        for side in ("left", "right"):
            rows.append((f"{side} {part}", *three(plain[part][side]), " / ".join(three(heavy[part][side]))))
    noise = {axis: nothing(loads["residual"][axis], body["weight"]) for axis in "xyz"}
    rows.append(("sum", *three(noise), "-"))
    turn = up(loads["moment"], units["moment"])
    held = up(loads["line_moment"], units["moment"])
    left = number(nothing(loads["residual"]["moment"], loads["moment"]), unit=units["moment"])
    caption = f"{title(body)}, {place(body, unit=units['length'])}: forces on the box"
    heads = ("On the box", "Level x, unfactored", "Across y", "Up z", f"Amplified x / y / z ({body['dynamic_factor']})")
    note = (
        f"About the hinge axis, unfactored: loads {turn}, lines {held}, sum {left}. The hinge force is that of "
        "the plant "
        "on the box; z below zero holds the box down."
    )
    return table(heads, rows=rows, caption=caption, numbers=(1, 2, 3, 4)) + paragraph(note, kind="note")


def folded_body_table(body: PlainView, *, units: PlainView) -> str:
    """All forces on the folded box in the governing case, and that they close."""
    found, force = body["folded"], units["force"]

    def row(name: str, vector: PlainView) -> Row:
        return (name, *(up(vector[axis], force) for axis in "xyz"))

    carrying = [one for one in found["members"] if one["force"] > 0.0]
    rows = [row("weight", {"x": 0.0, "y": 0.0, "z": -found["weight"]}), row(thrown_by(body), found["acceleration"])]
    rows += [row("wind", found["wind"])] if found["wind_at"] is not None else []
    rows += [row(one["name"], one["vector"]) for one in carrying]
    rows += [row(f"{side} hinge", found["hinge"][side]) for side in ("left", "right")]
    rows.append(row("sum", {axis: nothing(found["residual"][axis], found["weight"]) for axis in "xyz"}))
    caption = f"{title(body)}, {place(body, unit=units['length'])}: forces on the folded box ({body['dynamic_factor']})"
    turn, held = (up(found[key], units["moment"]) for key in ("moment", "held_moment"))
    left = number(nothing(found["residual"]["moment"], found["moment"]), unit=units["moment"])
    note = (
        f"About the hinge axis: loads {turn}, what holds {held}, sum {left}; positive turns the tail down and out. "
        "Level x runs from head to tail. The hinge force is that of the plant on the box; z below zero holds it down."
        f"{_idle(found['members'])}"
    )
    return table(
        ("On the box", "Level x", "Across y", "Up z"), rows=rows, caption=caption, numbers=(1, 2, 3)
    ) + paragraph(note, kind="note")


def _idle(members: Iterable[PlainView]) -> str:
    """What carries nothing in this case."""
    names = [one["name"] for one in members if one["force"] <= 0.0]
    return f" Carrying nothing in this case: {', '.join(names)}." if names else ""


def nothing(value: float | None, beside: float | None) -> float | None:
    """Rounding noise as zero."""
    if value is None or beside is None:
        return value
    return 0.0 if abs(value) < 1e-9 * max(abs(beside), 1.0) else value
