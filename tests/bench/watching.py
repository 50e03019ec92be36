"""Which lines of the package run while it is watched, and every cache that would hide some."""

import functools
import sys
import threading
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path
from types import CodeType, FrameType
from typing import Any

ENOUGH = 100
"""Calls of one function in one test after which its lines are no longer watched."""


class Watch:
    """Lines of the package that run while it is on."""

    def __init__(self, top: Path) -> None:
        self._top = str(top / "rigcheck") + "/"
        self._tree = str(top) + "/"
        self._left: dict[int, set[int]] = {}
        self._kept: dict[int, CodeType] = {}
        self._calls: dict[int, int] = {}
        self._foreign: set[int] = set()

    def start(self) -> None:
        """Forget what ran and watch."""
        self._left.clear()
        self._calls.clear()
        threading.settrace(self._call)
        sys.settrace(self._call)

    def stop(self) -> dict[str, int]:
        """One bit a line that ran, by module."""
        sys.settrace(None)
        threading.settrace(None)  # type: ignore[arg-type]
        ran: dict[str, int] = defaultdict(int)
        for key, left in list(self._left.items()):
            code = self._kept[key]
            module = code.co_filename.removeprefix(self._tree)
            for line in _lines(code) - left:
                ran[module] |= 1 << line
        return dict(ran)

    def _call(self, frame: FrameType, _event: str, _value: Any) -> Any:
        code = frame.f_code
        key = id(code)
        if key in self._foreign:
            return None
        left = self._left.get(key)
        if left is None:
            # kept, so that its id is not given to another
            self._kept[key] = code
            if not code.co_filename.startswith(self._top):
                self._foreign.add(key)
                return None
            left = self._left[key] = set(_lines(code))
            self._calls[key] = 0
        self._calls[key] += 1
        if not left or self._calls[key] > ENOUGH:
            return None
        left.discard(code.co_firstlineno)
        return self._line

    def _line(self, frame: FrameType, _event: str, _value: Any) -> Any:
        left = self._left.get(id(frame.f_code))
        if left is not None:
            left.discard(frame.f_lineno)
        return self._line


@functools.cache
def _lines(code: CodeType) -> frozenset[int]:
    return frozenset(line for _, _, line in code.co_lines() if line)


class Caches:
    """Every cache of a function in the package and its tests."""

    def __init__(self) -> None:
        self._modules = 0
        self._caches: list[Any] = []

    def clear(self) -> None:
        """Empty them."""
        if len(sys.modules) != self._modules:
            self._modules = len(sys.modules)
            self._caches = list({id(one): one for one in _caches()}.values())
        for cache in self._caches:
            cache.cache_clear()


def _caches() -> Iterator[Any]:
    for name, module in list(sys.modules.items()):
        if not name.startswith(("rigcheck", "tests.")) or name.startswith("tests.bench"):
            continue
        inside = list(vars(module).values())
        for one in [*inside, *(member for each in inside if isinstance(each, type) for member in vars(each).values())]:
            inner = getattr(one, "__func__", one)
            if isinstance(inner, functools._lru_cache_wrapper):
                yield inner
