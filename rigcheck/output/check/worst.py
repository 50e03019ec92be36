"""The worst of each state: line pull, hinge force, uplift, rail moment, sag, pitch left; and what the plant carries."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from rigcheck.analysis.bending import Bending
from rigcheck.analysis.links.capacity import perch_share
from rigcheck.analysis.rows import SIDES, bound_names
from rigcheck.analysis.solve import Solution
from rigcheck.arrays.types import Array
from rigcheck.output.check.states import vectors
from rigcheck.parts.post.checks import PlantLoads, post_loads
from rigcheck.quantities import Dimension
from rigcheck.statics.geometry import SIDE
from rigcheck.wording.plain import Plain
from rigcheck.wording.scale import Scale

_KEYS = ("weight", "line", "hinge", "uplift", "rail_moment", "sag", "tail_deflection", "pitch_left")
_NOISE = 1e-9  # an upward force under this share of the weight is rounding


def _where(solution: Solution, *, row: int, bound: int, side: int, scale: Scale) -> Plain:
    found = solution.rows[row]
    name, on = bound_names(found.ultimate)[bound]
    return {"bound": name, "on": on, "side": SIDES[side], "variant": scale.variant(found.variant)}


def _largest(values: Array, *, rows: list[int], allowed: NDArray[np.bool_]) -> tuple[int, int, int]:
    """Row, bound and side at which values of shape (state, bound, side) are largest among some rows."""
    part = np.where(allowed[rows][..., None], values[rows], -np.inf)
    index, bound, side = np.unravel_index(int(part.argmax()), part.shape)
    return rows[int(index)], int(bound), int(side)


def _live_rows(solution: Solution) -> dict[str, list[int]]:
    """Rows of each state, those at a dead point left out."""
    found: dict[str, list[int]] = {}
    for i, row in enumerate(solution.rows):
        members = found.setdefault(row.state, [])
        if not solution.held.dead[i]:
            members.append(i)
    return found


def worst_loads(solution: Solution, *, scale: Scale) -> list[Plain]:
    """One entry per state: its worst values under static loads; the rail moment with the dynamic factor.

    Args:
        solution: The statics of one rig.
        scale: Units of the output.

    Returns:
        Entries in the order of the box's life; null where a state has no such value.
    """
    held = solution.held
    size = np.sqrt((held.hinge**2).sum(-1))
    found: list[Plain] = []
    for state, rows in _live_rows(solution).items():
        entry: Plain = {"state": state, **dict.fromkeys(_KEYS)}
        found.append(entry)
        if not rows:
            continue
        weight = float(solution.service.weight[rows].max())
        entry["weight"] = scale.one(weight, dimension="force")
        for key, values in (("line", held.tension), ("hinge", size), ("uplift", -held.hinge[..., 2])):
            i, b, s = _largest(values, rows=rows, allowed=solution.allowed)
            if float(values[i, b, s]) > _NOISE * weight:
                force = scale.one(values[i, b, s], dimension="force")
                entry[key] = {"force": force, **_where(solution, row=i, bound=b, side=s, scale=scale)}
        entry.update(_rail_worst(solution, rows=rows, scale=scale))
    return found


def _rail_worst(solution: Solution, *, rows: list[int], scale: Scale) -> Plain:
    left = solution.layout.pitch - solution.sag.rise
    wanted: tuple[tuple[str, Array, Bending, Dimension, float], ...] = (
        ("rail_moment", solution.peaks.max_moment, solution.bent, "moment", 1.0),
        ("sag", solution.sag.sag, solution.sagged, "length", 1.0),
        ("tail_deflection", solution.sag.tail_deflection, solution.sagged, "length", 1.0),
        ("pitch_left", left, solution.sagged, "pitch", -1.0),
    )
    found: Plain = {}
    for key, values, bending, dimension, sign in wanted:
        places = [place for place, (row, _) in enumerate(bending.pairs) if row in rows]
        if not places:
            continue
        part = sign * values[places]
        index, side = (int(number) for number in np.unravel_index(int(part.argmax()), part.shape))
        row, bound = bending.pairs[places[index]]
        where = _where(solution, row=row, bound=bound, side=side, scale=scale)
        found[key] = {"value": scale.one(values[places[index], side], dimension=dimension), **where}
    return found


def _on_perch(tension: Array, *, solution: Solution) -> Array:
    """Force of the lines on the perches in plant axes, shape (..., state, bound, side, 3). [lbf]"""
    at = solution.pose
    even = np.ones_like(SIDE)
    direction = np.stack([at.ux[..., None] * even, at.uy[..., None] * SIDE, at.uz[..., None] * even], axis=-1)
    pull = tension * perch_share(solution.rig)  # all parts of line, and the lead
    return np.asarray(-pull[..., None] * direction[..., None, :, :])


def _posts(loads: PlantLoads, *, at: tuple[int, int], scale: Scale) -> Plain | None:
    """What each post hands to the plant at its base, and its brace at the foot; None where no post is described."""
    if loads.at != "post base":
        return None
    return {
        "force": vectors(scale.many(loads.force[at], dimension="force")),
        "moment": vectors(scale.many(loads.moment[at], dimension="moment")),
        "brace_foot": None if loads.foot is None else vectors(scale.many(loads.foot[at], dimension="force")),
    }


def plant_loads(solution: Solution, *, scale: Scale) -> list[Plain]:
    """What the box hands to the plant at both hinge groups and both perches, in the worst rows of each state.

    Args:
        solution: The statics of one rig.
        scale: Units of the output.

    Returns:
        Entries of forces that act together; on the plant, in x, y, z; as they are and with the dynamic factors, with
        these also at the base of each post.
    """
    held, demand = solution.held, solution.demand
    perch = _on_perch(held.tension, solution=solution), _on_perch(demand.tension, solution=solution)
    worst_of = (
        ("line pull", demand.tension),
        ("hinge force", np.sqrt((demand.hinge**2).sum(-1))),
        ("hinge lifted least or down most", demand.hinge[..., 2]),
        ("hinge lifted most or down least", -demand.hinge[..., 2]),
    )
    posts = post_loads(solution)
    found: list[Plain] = []
    for state, rows in _live_rows(solution).items():
        chosen: dict[tuple[int, int], list[str]] = {}
        for what, values in worst_of if rows else ():
            i, b, _ = _largest(values, rows=rows, allowed=solution.allowed)
            chosen.setdefault((i, b), []).append(what)
        for (i, b), whats in chosen.items():
            name, on = bound_names(solution.rows[i].ultimate)[b]

            def forces(hinge: Array, perches: Array, i: int = i, b: int = b) -> Plain:
                return {
                    "hinge": vectors(scale.many(-hinge[i, b], dimension="force")),
                    "perch": vectors(scale.many(perches[i, b], dimension="force")),
                }

            found.append(
                {
                    "state": state,
                    "variant": scale.variant(solution.rows[i].variant),
                    "bound": name,
                    "on": on,
                    "worst_for": whats,
                    **forces(held.hinge, perch[0]),
                    "dynamic_factor": solution.rows[i].factor,
                    "with_factor": forces(demand.hinge, perch[1]),
                    "posts": _posts(posts, at=(i, b), scale=scale),
                }
            )
    return found
