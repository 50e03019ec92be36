"""How lines of equal unstrained length share the box, and what take-up on one of them makes it carry all."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rigcheck.analysis.solve import Solution
from rigcheck.arrays.types import Array
from rigcheck.loads.pieces import ALONE, BOUNDS
from rigcheck.parts.rail.roll import rails_joined
from rigcheck.statics.balance import line_per_rail
from rigcheck.statics.geometry import SIDE

_STIFF = BOUNDS.index("stiff")
_ALONE = tuple(i for i, bound in enumerate(BOUNDS) if bound in ALONE)


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Built:
    """Lines of the box as built, over the rows in which it hangs deployed and at rest on both.

    Attributes:
        rows: These rows.
        tension: Left and right, shape (..., row, side). [lbf]
        take_up: On one line, the least that makes either carry all, shape (..., row). [in]
    """

    rows: tuple[int, ...]
    tension: Array
    take_up: Array


def as_built(solution: Solution) -> Built | None:
    """Let the lines' give and the twist of the box tell how unlike the lines pull.

    With d the difference of the hangers' movement along their lines for even lines, d_1 what a pound more of pull on
    the left rail adds, r the difference of the lines over that of the rails and c the give of one line, lines of one
    length take T_L - T_R = -r d / (d_1 + c r^2); with J to nothing d_1 grows without bound and leaves the limp split,
    with a rigid box d and d_1 vanish and leave even lines. All comes onto one line when it is shorter by
    (+-d + d_1 T/r)/r + c T. The give of the lines as described counts; what is not described counts as rigid.

    Args:
        solution: The statics.

    Returns:
        The lines; None where no row has all of it on one line, or nothing that joins the rails is described.

    Source: own derivation, docs/method.md#as-built.
    """
    sagged = solution.sagged
    pairs = set(sagged.pairs)
    rows = tuple(row for row, bound in sagged.pairs if bound == _STIFF)
    alone = next((pair for pair in sagged.pairs if pair[1] in _ALONE and (pair[0], _STIFF) in pairs), None)
    if not rows or alone is None or not rails_joined(solution):
        return None
    moved = solution.sag.stretch[..., 1] - solution.sag.stretch[..., 0]  # left hanger's movement less the right one's
    ratio = line_per_rail(solution.layout, pose=solution.pose)
    first = sagged.place(*alone)
    unlike = SIDE[_ALONE.index(alone[1])] * solution.held.total[..., alone[0]] / ratio[..., alone[0]]
    safe = np.where(unlike == 0.0, 1.0, unlike)
    per_pound = (moved[..., first] - moved[..., sagged.place(alone[0], _STIFF)]) / safe
    even = moved[..., [sagged.place(row, _STIFF) for row in rows]]
    r, give, total = ratio[..., list(rows)], solution.give[..., list(rows)], solution.held.total[..., list(rows)]
    softness = per_pound[..., None] + give * r**2
    split = np.where(softness > 0.0, -r * even, 0.0) / np.where(softness > 0.0, softness, 1.0)
    split = np.clip(split, -np.abs(total), np.abs(total))  # a line does not push
    needed = (per_pound[..., None] * total / r - np.abs(even)) / r + give * total
    return Built(rows, 0.5 * (total[..., None] + split[..., None] * SIDE), np.maximum(needed, 0.0))
