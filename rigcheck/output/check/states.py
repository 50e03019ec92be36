"""The result's rows of statics: line and hinge forces of every state, and the rails bent by them."""

from __future__ import annotations

from collections.abc import Iterable

from rigcheck.analysis.bending import ALONE_AT
from rigcheck.analysis.rows import SIDES, bound_names
from rigcheck.analysis.solve import Solution
from rigcheck.parts.line.built import as_built
from rigcheck.parts.rail.roll import roll
from rigcheck.wording.plain import Plain
from rigcheck.wording.scale import Scale

_AXES = ("x", "y", "z")


def vectors(values: list[list[float]]) -> dict[str, dict[str, float]]:
    """Forces of the left and the right side by their components."""
    return {side: dict(zip(_AXES, one, strict=True)) for side, one in zip(SIDES, values, strict=True)}


def told_rows(solution: Solution, *, also: Iterable[int]) -> list[int]:
    """Rows that the result tells: all, but of the fold sweep only some angles and those that a check names."""
    named = set(also)
    return [i for i, row in enumerate(solution.rows) if row.told or i in named]


def states(solution: Solution, *, scale: Scale, rows: list[int]) -> list[Plain]:
    """Line and hinge forces under static loads; after one line has parted, at rest again.

    Args:
        solution: The statics of one rig.
        scale: Units of the output.
        rows: Which rows.

    Returns:
        One entry per row; forces are null at a dead point.
    """
    held, at = solution.held, solution.pose
    tension = scale.many(held.tension[rows], dimension="force")
    hinge = scale.many(held.hinge[rows], dimension="force")
    twist = scale.many(held.twist[rows], dimension="moment")
    weight = scale.many(solution.service.weight[rows], dimension="force")
    center = scale.many(solution.service.center[rows], dimension="length")
    places = {
        "fold_deg": scale.many(solution.fold[rows], dimension="angle"),
        "line_length": scale.many(at.line_length[rows], dimension="length"),
        "lever_arm": scale.many(at.arm[rows], dimension="length"),
        "line_angle": scale.many(at.line_angle[rows], dimension="angle"),
        "splay": scale.many(at.splay[rows], dimension="angle"),
    }
    built = as_built(solution)
    known = built is not None and not any(link.give is None for link in solution.links)
    hangs = {row: i for i, row in enumerate(built.rows)} if built is not None and known else {}
    rolls = scale.many(roll(solution)[rows][..., 0], dimension="angle")
    found: list[Plain] = []
    for i, index in enumerate(rows):
        row, dead = solution.rows[index], bool(held.dead[index])
        bounds: list[Plain] = []
        for b, (name, on) in enumerate(bound_names(row.ultimate)):
            if not solution.allowed[index, b]:
                continue
            entry: Plain = {
                "bound": name,
                "on": on,
                "line": dict.fromkeys(SIDES) if dead else dict(zip(SIDES, tension[i][b], strict=True)),
                "hinge": dict.fromkeys(SIDES) if dead else vectors(hinge[i][b]),
                "twist": None if dead else twist[i][b],
            }
            if name == "stiff":
                here = None if dead or built is None else hangs.get(index)
                entry["take_up_to_carry_all"] = entry["as_built"] = None
                if built is not None and here is not None:
                    entry["take_up_to_carry_all"] = scale.one(built.take_up[here], dimension="length")
                    lines = scale.many(built.tension[here], dimension="force")
                    entry["as_built"] = dict(zip(SIDES, lines, strict=True))
            if (index, b) in solution.sagged.pairs and ALONE_AT[b]:
                entry["roll"] = None if dead else rolls[i][b]
            bounds.append(entry)
        found.append(
            {
                "state": row.state,
                "variant": scale.variant(row.variant),
                "weight": weight[i],
                "cg": dict(zip(("s", "y", "n"), center[i], strict=True)),
                **{key: values[i] for key, values in places.items()},
                "dynamic_factor": row.factor,
                "accident": row.ultimate,
                "bounds": bounds,
            }
        )
    return found


def rail(solution: Solution, *, scale: Scale, rows: list[int]) -> list[Plain]:
    """Rail forces under the loads with their factors, and deflections under the loads as they are.

    Args:
        solution: The statics of one rig.
        scale: Units of the output.
        rows: Which rows, of those whose rails are bent.

    Returns:
        One entry per row, bound and side; deflections are null where the box is not hung at rest.
    """
    peaks, sag = solution.peaks, solution.sag
    numbers = {
        "max_moment": scale.many(peaks.max_moment, dimension="moment"),
        "max_shear": scale.many(peaks.max_shear, dimension="force"),
        "max_axial": scale.many(peaks.max_axial, dimension="force"),
        "stress": scale.many(peaks.stress, dimension="stress"),
        "stress_at": scale.many(peaks.stress_at, dimension="length"),
    }
    shapes = {
        "sag": scale.many(sag.sag, dimension="length"),
        "tail_deflection": scale.many(sag.tail_deflection, dimension="length"),
    }
    left = solution.layout.pitch - sag.rise
    still = {pair: i for i, pair in enumerate(solution.sagged.pairs)}
    found: list[Plain] = []
    for i, (index, bound) in enumerate(solution.bent.pairs):
        if solution.held.dead[index] or index not in rows:
            continue
        row, at_rest = solution.rows[index], still.get((index, bound))
        name, on = bound_names(row.ultimate)[bound]
        for side, word in enumerate(SIDES):
            entry: Plain = {"state": row.state, "variant": scale.variant(row.variant), "bound": name, "on": on}
            entry["side"] = word
            entry.update({key: values[i][side] for key, values in numbers.items()})
            entry.update({key: None if at_rest is None else values[at_rest][side] for key, values in shapes.items()})
            entry["pitch_left"] = None if at_rest is None else scale.one(left[at_rest, side], dimension="pitch")
            found.append(entry)
    return found
