"""One design of a batch as the assessment of a rig of its own, for whoever tells people of one rig."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields, is_dataclass, replace
from typing import Any

import numpy as np

from rigcheck.analysis.rows import Check, Flag, Worst
from rigcheck.assessment.assess import Assessment
from rigcheck.case.rig import Rig
from rigcheck.loads.folded import folded_rows
from rigcheck.loads.pieces import Row
from rigcheck.loads.states import Life, life
from rigcheck.loads.steel import dead_loads

_PLACED = 3  # axes of a check or finding of one design: state, bound, side
_TOLD = ("layout", "pose", "service", "held", "demand", "give")


class OtherRowsError(Exception):
    """A design has other load cases by itself than in its batch."""


def single(found: Assessment, index: int, *, rig: Rig, like: Assessment) -> Assessment:
    """One design of a batch.

    Args:
        found: The assessment of the batch, of shape (design,).
        index: Which design.
        rig: That design as a rig of its own.
        like: The assessment of a single rig of the same parts, whose arrays tell which axes are those of one design.

    Returns:
        What an assessment of the rig by itself gives, apart from the rails' forces and deflections, which stay those
        of the batch.

    Raises:
        OtherRowsError: By itself it has other load cases than in the batch.
    """
    batch, alone = found.solution, like.solution
    lived = life(rig, batch=())
    rows = _rows(rig, lived=lived, road=batch.road is not None)
    if [row.state for row in rows] != [row.state for row in batch.rows]:
        raise OtherRowsError
    solution = replace(
        batch,
        rig=rig,
        life=lived,
        rows=rows,
        **{name: _part(getattr(batch, name), getattr(alone, name), index) for name in _TOLD},
    )
    flags = [replace(flag, where=flag.where[index]) for flag in found.flags]
    return Assessment(
        solution=solution,
        worst=[_worst(one, index) for one in found.worst],
        made_by=found.made_by,
        flags=_held(flags),
        not_assessed=found.not_assessed,
        governing=np.asarray(found.governing[index]),
        utilization=np.asarray(found.utilization[index]),
        stopped=np.asarray(found.stopped[index]),
    )


def _rows(rig: Rig, *, lived: Life, road: bool) -> tuple[Row, ...]:
    """Rows of the state axis as they are told of one rig: a batch leaves out what differs between its designs."""
    if not road:
        return lived.loads.rows
    dead, lumps = dead_loads(rig, pieces=lived.pieces)
    return (*lived.loads.rows, *folded_rows(rig, dead=dead, lumps=lumps))


def _held(flags: Sequence[Flag]) -> list[Flag]:
    return [flag for flag in flags if flag.where.any()]


def _worst(one: Worst, index: int) -> Worst:
    batch = np.shape(one.state)
    at = {each.name: np.broadcast_to(getattr(one, each.name), batch)[index] for each in fields(one)
          if each.name != "check"}  # fmt: skip
    return Worst(check=_check(one.check, index), **at)


def _check(check: Check, index: int) -> Check:
    placed = {name: getattr(check, name) for name in ("demand", "capacity", "where")}
    own = {name: values[index] for name, values in placed.items() if np.ndim(values) > _PLACED}
    return replace(check, **own) if own else check


def _part(batch: Any, alone: Any, index: int) -> Any:
    """A record of arrays, of one design: each array that has an axis more than that of a single rig at that index."""
    if isinstance(batch, np.ndarray):
        return batch[index] if batch.ndim > np.ndim(alone) else batch
    if isinstance(batch, tuple) and isinstance(alone, tuple) and len(batch) == len(alone):
        return tuple(_part(one, other, index) for one, other in zip(batch, alone, strict=True))
    if not is_dataclass(batch) or isinstance(batch, type) or type(batch) is not type(alone):
        return batch
    own = {one.name: _part(getattr(batch, one.name), getattr(alone, one.name), index) for one in fields(batch)}
    return replace(batch, **own)
