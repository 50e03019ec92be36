"""The rig as numbers: a case whose numeric keys may be arrays, so that one case is a batch of one."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cache
from types import MappingProxyType
from typing import Any, TypeVar

import numpy as np

from rigcheck.arrays.types import Array
from rigcheck.case.models.case import Case

Kept = TypeVar("Kept")
_NOTHING: Mapping[str, Array] = MappingProxyType({})


@cache
def _steps(key: str) -> tuple[str | int, ...]:
    """A key path as names and row numbers, split once."""
    return tuple(int(step) if step.isdigit() else step for step in key.split("."))


@dataclass(frozen=True, slots=True)
class Rig:
    """A case with some of its numeric keys replaced by arrays over a batch of designs.

    Attributes:
        case: What the user wrote.
        varied: Key path to values, shape (...); lengths [in], forces [lbf], angles [rad] and so on.
    """

    case: Case
    varied: Mapping[str, Array] = field(default_factory=lambda: _NOTHING)
    _known: dict[str, Any] = field(default_factory=dict, init=False, repr=False, compare=False)

    def value(self, key: str) -> Any:
        """What the case holds under a key path such as `hanger.lug.plate`; None where nothing is described."""
        if key in self._known:
            return self._known[key]
        here: Any = self.case
        for step in _steps(key):
            if here is None:
                break
            here = here[step] if isinstance(step, int) else getattr(here, step)
        self._known[key] = here
        return here

    def has(self, key: str) -> bool:
        """Whether the case describes this key, or a study varies it."""
        return key in self.varied or self.value(key) is not None

    def number(self, key: str) -> Array:
        """The value of a numeric key, shape () or the shape of the batch.

        Raises:
            KeyError: If the case does not describe the key; ask `has` first for what is optional.
        """
        if key in self.varied:
            return self.varied[key]
        found = self.value(key)
        if found is None:
            raise KeyError(key)
        return np.asarray(found, dtype=np.float64)

    def number_or(self, key: str, otherwise: Array | float) -> Array:
        """The value of a numeric key, or another where the case does not describe it."""
        return self.number(key) if self.has(key) else np.asarray(otherwise, dtype=np.float64)

    def once(self, name: str, build: Callable[[Rig], Kept]) -> Kept:
        """What is built from a rig, built once and kept with it."""
        key = f"({name})"  # no path of a case has brackets
        if key not in self._known:
            self._known[key] = build(self)
        kept: Kept = self._known[key]
        return kept

    def column(self, table: str, key: str) -> Array:
        """One key of every row of a repeated table, shape (..., row); shape (0,) where there are no rows."""
        rows = len(self.value(table) or ())
        if rows == 0:
            return np.zeros(0)
        return np.stack(np.broadcast_arrays(*(self.number(f"{table}.{i}.{key}") for i in range(rows))), axis=-1)


def varied(rig: Rig, changes: Mapping[str, Array | float]) -> Rig:
    """The same rig with numeric keys replaced.

    Args:
        rig: The rig to start from.
        changes: Key path to values in internal units, shape (...).

    Returns:
        A new rig; the old one is untouched.
    """
    merged = {**rig.varied, **{key: np.asarray(value, dtype=np.float64) for key, value in changes.items()}}
    return Rig(case=rig.case, varied=MappingProxyType(merged))
