"""What lies on the box in each state, piece by piece, as plain data."""

from __future__ import annotations

from rigcheck.assessment.assess import Assessment
from rigcheck.calculation.box_loads import loads_of
from rigcheck.tables.load_cases import load_case
from rigcheck.wording.plain import Plain
from rigcheck.wording.scale import Scale


def contents_of_states(assessment: Assessment, *, scale: Scale) -> list[Plain]:
    """The loads of each state in the row in which the lines together pull most, or which weighs most at a dead point.

    Args:
        assessment: The answer for one rig.
        scale: Units of the output.

    Returns:
        State, variant, and for each load its name, weight as it is, factor and center; on the road only the box itself
        is looked at, which the state before it has.
    """
    solution = assessment.solution
    best: dict[str, int] = {}
    for i, row in enumerate(solution.rows):
        if load_case(row.state).folded or row.pushes:
            continue
        rank = (float(solution.held.total[i]), float(solution.service.weight[i]))
        before = best.get(row.state)
        if before is None or rank > (float(solution.held.total[before]), float(solution.service.weight[before])):
            best[row.state] = i
    return [
        {
            "state": solution.rows[i].state,
            "variant": scale.variant(solution.rows[i].variant),
            "pieces": [
                {
                    "name": load.name,
                    "weight": scale.one(load.weight, dimension="force"),
                    "factor": factored.gain,
                    **{axis: scale.one(getattr(load, axis), dimension="length") for axis in "syn"},
                }
                for load, factored in zip(
                    loads_of(solution, index=i, factored=False),
                    loads_of(solution, index=i, factored=True),
                    strict=True,
                )
            ],
        }
        for i in best.values()
    ]
