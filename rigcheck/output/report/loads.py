"""Tables of a report on loads: worst of each state, ways of sharing, forces on the plant, free body of the box."""

from __future__ import annotations

from collections.abc import Collection

from rigcheck.output.html_page import paragraph, table
from rigcheck.output.report.bodies import nothing
from rigcheck.output.report.tables import place, up
from rigcheck.quantities.units import SPOKEN
from rigcheck.tables.load_cases import EMPTY
from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import bound_word, number, state_word

_WORST = {
    "line pull": "line",
    "hinge force": "hinge",
    "hinge lifted least or down most": "hinge down",
    "hinge lifted most or down least": "hinge up",
}


def worst_table(result: PlainView) -> str:
    """The worst of each state."""
    units = result["units"]
    force, length = units["force"], units["length"]

    def pull(found: PlainView | None, state: str) -> str:
        return "-" if found is None else f"{up(found['force'], force)}\n{_sharing(found, state=state)}"

    def rail(found: PlainView | None, unit: str) -> str:
        return "-" if found is None else up(found["value"], unit)

    heads = ("Load case", "Weight", "One line", "One hinge group", "Hinge uplift", "Rail moment", "Sag", "Tail drop")
    return table(
        heads,
        rows=[
            (
                state_word(one["state"]),
                up(one["weight"], force),
                *(pull(one[key], one["state"]) for key in ("line", "hinge", "uplift")),
                rail(one["rail_moment"], units["moment"]),
                rail(one["sag"], length),
                rail(one["tail_deflection"], length),
            )
            for one in result["worst_loads"]
        ],
        caption="The worst of each state: unfactored, rail moment with its dynamic factor",
        numbers=(1, 2, 3, 4, 5, 6, 7),
    )


def _sharing(found: PlainView, *, state: str) -> str:
    return ", ".join(text for text in (bound_word(found["bound"], state=state), found["side"] or "") if text)


def heaviest_rows(result: PlainView) -> list[PlainView]:
    """Of each state the row in which a line pulls most."""

    def pull(row: PlainView) -> float:
        return max((value or 0.0 for one in row["bounds"] for value in one["line"].values()), default=0.0)

    found: dict[str, PlainView] = {}
    for row in result["states"]:
        if row["state"] not in found or pull(row) > pull(found[row["state"]]):
            found[row["state"]] = row
    return list(found.values())


def sharing_table(result: PlainView) -> str:
    """Line and hinge forces for every way of sharing, in the heaviest row of each state."""
    units = result["units"]
    force, length = units["force"], units["length"]
    rows = []
    for row in heaviest_rows(result):
        for i, one in enumerate(row["bounds"]):
            on = f", on the {one['on']}" if one["on"] else ""
            rows.append(
                (
                    f"{place(row, unit=length)}" if i == 0 else "",
                    f"{bound_word(one['bound'], state=row['state']) or '-'}{on}",
                    *(up(one["line"][side], force) for side in ("left", "right")),
                    *(_vector(one["hinge"][side]) for side in ("left", "right")),
                )
            )
    heads = ("Load case", "Sharing", "Line left", "Line right", "Hinge left", "Hinge right")
    spoken = SPOKEN.get(force, force)
    caption = f"Every way of sharing, unfactored; hinge forces on the box, x / y / z in {spoken}"
    return table(heads, rows=rows, caption=caption, numbers=(2, 3, 4, 5))


def _vector(force: PlainView | None) -> str:
    if force is None:
        return "-"
    return " / ".join(up(force[axis], "") for axis in "xyz")  # away from zero, as everywhere


def states_table(result: PlainView) -> str:
    """Weight, center of gravity and dynamic factor of the heaviest row of each state."""
    units = result["units"]
    rows = [
        (
            place(row, unit=units["length"]),
            up(row["weight"], units["force"]),
            *(number(row["cg"][axis], unit=units["length"]) for axis in "syn"),
            number(row["fold_deg"], unit="deg"),
            number(row["lever_arm"], unit=units["length"]),
            row["dynamic_factor"],
        )
        for row in heaviest_rows(result)
    ]
    heads = ("Load case", "Weight", "Center s", "Center y", "Center n", "Folded", "Lever arm", "Dynamic factor")
    caption = "What each state weighs and where (s from the hinge along the floor, y to the left, n above the floor)"
    return table(heads, rows=rows, caption=caption, numbers=(1, 2, 3, 4, 5, 6))


def contents_table(packet: PlainView) -> str:
    """What each state is made of: the empty box, and what lies on it with its dynamic factor."""
    unit, length = packet["result"]["units"]["force"], packet["result"]["units"]["length"]
    own = {one["name"] for state in packet["contents"] if state["state"] == EMPTY for one in state["pieces"]}
    rows = []
    for state in packet["contents"]:
        empty = sum(one["weight"] for one in state["pieces"] if one["name"] in own)
        on_it: dict[tuple[str, float], float] = {}
        for one in state["pieces"]:
            if one["name"] not in own:
                key = (one["name"], one["factor"])
                on_it[key] = on_it.get(key, 0.0) + one["weight"]
        told = [
            f"{name} {up(weight, unit)}{'' if factor == 1.0 else f' (x {number(factor, digits=3)})'}"
            for (name, factor), weight in on_it.items()
        ]
        whole = empty + sum(on_it.values())
        rows.append((place(state, unit=length), up(empty, unit), "; ".join(told) or "-", up(whole, unit)))
    heads = ("Load case", "Empty box", "What lies on it (its dynamic factor)", "All of it")
    return table(heads, rows=rows, caption="What each load case is made of, unfactored", numbers=(1, 3))


def plant_table(result: PlainView) -> str:
    """What the box hands to the plant."""
    rows = []
    for one in result["plant_loads"]:
        loads = one["with_factor"]
        rows.append(
            (
                place(one, unit=result["units"]["length"]) + (f", on the {one['on']}" if one["on"] else ""),
                *(_vector(loads[part][side]) for part in ("hinge", "perch") for side in ("left", "right")),
                ", ".join(_WORST.get(what, what) for what in one["worst_for"]),
            )
        )
    heads = ("Load case", "Hinge left", "Hinge right", "Perch left", "Perch right", "Worst for")
    unit = SPOKEN.get(result["units"]["force"], result["units"]["force"])
    caption = f"Forces of the box on the plant that act together, with the dynamic factors, x / y / z in {unit}"
    return table(heads, rows=rows, caption=caption, numbers=(1, 2, 3, 4)) + _posts_table(result)


def _posts_table(result: PlainView) -> str:
    """Force and moment at the base of each post in the rows in which they are largest."""
    loads = [one for one in result["plant_loads"] if one["posts"] is not None]
    if not loads:
        return paragraph(
            "No perch post is described: the plant must take the forces at the perch lugs at their height above it."
        )
    unit = {key: SPOKEN.get(result["units"][key], result["units"][key]) for key in ("force", "moment")}
    rows = []
    for state in dict.fromkeys(one["state"] for one in loads):
        members = [one for one in loads if one["state"] == state]
        one, side = max(
            ((one, side) for one in members for side in ("left", "right")),
            key=lambda found: _size(found[0]["posts"]["moment"][found[1]]),
        )
        foot = one["posts"]["brace_foot"]
        rows.append(
            (
                place({**one, "side": side}, unit=result["units"]["length"]),
                _vector(one["posts"]["force"][side]),
                _vector(one["posts"]["moment"][side]),
                "-" if foot is None else _vector(foot[side]),
            )
        )
    heads = ("State, side", f"Force, {unit['force']}", f"Moment, {unit['moment']}", "Foot of the brace")
    caption = "Post bases, where the moment is largest in each state, with the dynamic factors, x / y / z"
    note = (
        "Of the post on the plant: force, and right-handed moment about x, y and z at the middle of the base. About y "
        "it tips the post fore and aft, about x across. The post's own weight is left out."
    )
    return table(heads, rows=rows, caption=caption, numbers=(1, 2, 3)) + paragraph(note, kind="note")


def _size(vector: PlainView) -> float:
    return sum(float(vector[axis]) ** 2 for axis in "xyz")


def worst_plant_table(result: PlainView, *, apart: Collection[str]) -> str:
    """Of what the plant carries the rows that are worst, at work and when something breaks.

    Args:
        result: The result.
        apart: States that stand for an accident.
    """
    loads = result["plant_loads"]
    chosen: list[PlainView] = []
    for own in ([one for one in loads if one["state"] not in apart], [one for one in loads if one["state"] in apart]):
        for measure in (_pull_on_perch, _on_hinge, _uplift):
            if own:
                top = max(own, key=measure)
                chosen += [top] if top not in chosen else []
    short = {**result, "plant_loads": chosen}
    return plant_table(short) if chosen else ""


def _pull_on_perch(row: PlainView) -> float:
    return max(_size(row["with_factor"]["perch"][side]) for side in ("left", "right"))


def _on_hinge(row: PlainView) -> float:
    return max(_size(row["with_factor"]["hinge"][side]) for side in ("left", "right"))


def _uplift(row: PlainView) -> float:
    """Largest push of the box up on the plant."""
    return max(float(row["with_factor"]["hinge"][side]["z"]) for side in ("left", "right"))


def free_body_table(drawing: PlainView, *, units: PlainView) -> str:
    """The sums of forces and moments on the box in the drawn states."""
    force, moment = units["force"], units["moment"]
    text = ""
    for key, words in (("forces", "deployed, the heaviest state"), ("forces_folded", "folded")):
        found = drawing[key]
        if found is None or found["line"] <= 0.0:
            continue

        def forces(part: str, found: PlainView = found) -> tuple[str, str]:
            return up(found[part]["x"], force), up(found[part]["z"], force)

        rows = [
            ("loads", *forces("load"), up(found["load_moment"], moment)),
            ("both lines", *forces("line_on_box"), up(found["line_moment"], moment)),
            ("hinge", *forces("hinge"), "0 (through the axis)"),
            (
                "residual",
                *(number(nothing(found["left_over"][axis], found["weight"]), unit=force) for axis in "xz"),
                number(nothing(found["left_over"]["moment"], found["load_moment"]), unit=moment),
            ),
        ]
        state = place(found, unit=units["length"])
        caption = f"Free body of the box, {words}, {state}: unfactored, both sides together"
        heads = ("On the box", "Level x", "Upward z", "Moment about the hinge")
        text += table(heads, rows=rows, caption=caption, numbers=(1, 2, 3))
    return text + paragraph(
        "The moment counts positive when it turns the tail down. What the lines and the hinge do to the plant is the "
        "same with the signs turned; the moment of the loads is what the plant must take against tipping downstream, "
        "about the hinge axis.",
        kind="note",
    )
