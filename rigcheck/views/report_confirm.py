"""The second opinion as a plain dict: every quantity from both methods and how far they differ."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, cast

from rigcheck.quantities import Dimension
from rigcheck.studies.second_opinion import LIMIT, Confirmation, worst_difference
from rigcheck.views.scale import Scale

Plain = dict[str, Any]

NOTHING = "Second opinion: no state in which the lines hold the box bends a rail, so there was nothing to compare."


def confirm_result(confirmations: Sequence[Confirmation], *, scale: Scale) -> Plain:
    """What the second opinion found, ready for JSON.

    Args:
        confirmations: Both methods on the governing rows; may be none.
        scale: Units of the output.

    Returns:
        Rows with their comparisons, the largest difference, whether it is within the limit (null where there was
        nothing to compare), and a sentence.
    """
    if not confirmations:
        return {"largest_difference": None, "limit": LIMIT, "agrees": None, "rows": [], "text": NOTHING}
    worst = worst_difference(confirmations)
    agrees = worst <= LIMIT
    found: Plain = {"largest_difference": worst, "limit": LIMIT, "agrees": agrees, "rows": []}
    for one in confirmations:
        pairs = []
        for pair in one.comparisons:
            dimension = cast(Dimension, pair.kind)
            pairs.append(
                {
                    "name": pair.name,
                    "factored": pair.factored,
                    "ours": scale.one(pair.ours, dimension=dimension),
                    "frame": scale.one(pair.frame, dimension=dimension),
                    "unit": scale.label(dimension),
                    "difference": pair.difference,
                }
            )
        left = scale.one(one.imbalance, dimension="force")
        found["rows"].append({"label": one.label, "comparisons": pairs, "left_over": left})
    share = f"{100.0 * worst:.2g} %"
    found["text"] = (
        f"Second opinion: a plane frame of the same rail, line and loads differs by {share} at most, "
        + ("within" if agrees else "MORE than")
        + f" the {100.0 * LIMIT:g} % allowed. It checks the rail statics, not the capacities, the loads or the torsion."
    )
    return found
