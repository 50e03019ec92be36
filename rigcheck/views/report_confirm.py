"""The second opinion as a plain dict: every quantity from both methods and how far they differ."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, cast

from rigcheck.check.assess import Assessment
from rigcheck.quantities import Dimension
from rigcheck.studies.frame import FrameError
from rigcheck.studies.second_opinion import LIMIT, Confirmation, confirm_governing, worst_difference
from rigcheck.views.scale import Scale

Plain = dict[str, Any]

NOTHING = "Second opinion: no state in which the lines hold the box bends a rail, so there was nothing to compare."
NOT_HAD = "Second opinion: none could be had ({}). Nothing here is confirmed by a frame."


def not_had(why: Exception) -> Plain:
    """What stands in place of a second opinion where the frame's own answer does not hold together.

    Args:
        why: What the frame says of itself.
    """
    return {"largest_difference": None, "limit": LIMIT, "agrees": None, "rows": [], "text": NOT_HAD.format(why)}


def second_opinion(assessment: Assessment, *, scale: Scale) -> Plain:
    """The second opinion on the governing rows of a rig, or why there is none.

    Args:
        assessment: The answer for one rig.
        scale: Units of the output.
    """
    try:
        return confirm_result(confirm_governing(assessment), scale=scale)
    except FrameError as error:
        return not_had(error)


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
