"""Load a library that draws as well as it computes without the plotting it brings along."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from types import ModuleType

_PLOTTING = ("matplotlib", "matplotlib.pyplot", "matplotlib.patches")


class _Empty(ModuleType):
    """A module of nothing, which any name can be taken from as long as nobody uses it."""

    def __getattr__(self, name: str) -> object:
        if name.startswith("__"):
            raise AttributeError(name)
        return _nothing


def _nothing(*_: object, **__: object) -> None:
    raise RuntimeError("plotting was left out when the frame solver was loaded")


@contextmanager
def without_plots() -> Iterator[None]:
    """Let what is imported inside find plotting modules that are empty; none where plotting is loaded already.

    The frame solver imports a plotting library for drawings of walls: more than half of the time that it takes to
    load, for something that no frame here draws. Afterwards whoever imports plotting gets the real one.
    """
    left_out = {} if "matplotlib" in sys.modules else {name: _Empty(name) for name in _PLOTTING}
    sys.modules.update(left_out)
    try:
        yield
    finally:
        for name, module in left_out.items():
            if sys.modules.get(name) is module:
                del sys.modules[name]
