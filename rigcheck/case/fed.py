"""The box that feeds another one, read with it."""

from __future__ import annotations

from math import cos, sin

from rigcheck.case.models.case import Case
from rigcheck.case.schema.sections import changed

_READ = "read"  # beside the keys of [fed_by]: the other case as it was read


def with_feeding(case: Case, *, other: Case) -> Case:
    """The case with the one that feeds it.

    Args:
        case: A case with a table [fed_by].
        other: The case that it names, as it was read.
    """
    assert case.fed_by is not None
    return changed(case, {"fed_by": changed(case.fed_by, {_READ: other})})


def feeding(case: Case) -> Case | None:
    """The case of the box that feeds this one; None where none does."""
    found: Case | None = None if case.fed_by is None else case.fed_by.__dict__.get(_READ)
    return found


def fall(other: Case, *, below: float, hinge_height: float) -> float:
    """How far water falls from the lip of one box onto the head of the next. [in]

    The lip of the other box, its floor where it has none, deployed on level ground, over the floor of this one at its
    hinge.

    Args:
        other: The box that feeds.
        below: Hinge axis of this box below that of the other. [in]
        hinge_height: Hinge axis of this box above its floor. [in]

    Source: geometry; docs/method.md#fed-by.
    """
    lip = 0.0 if other.water is None or other.water.lip is None else other.water.lip
    over = lip - (other.hinge.height or 0.0)
    at_lip = over * cos(other.box.pitch) - other.box.length * sin(other.box.pitch)
    return at_lip + below + hinge_height
