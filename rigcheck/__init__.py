"""Statics and part-by-part checks of a hinged, line-hung mobile sluice box.

`import rigcheck` loads nothing; a name of the library loads it when it is asked for. See docs/library.md.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from rigcheck.library import *  # noqa: F403

__version__ = "0.1.0"


def __getattr__(name: str) -> Any:
    """A name of the library, once it is asked for; `__all__` is the library's own list of them."""
    missing = AttributeError(f"module 'rigcheck' has no attribute {name!r}")
    if name.startswith("__") and name != "__all__":
        raise missing
    library = import_module("rigcheck.library")
    if name != "__all__" and name not in library.__all__:
        raise missing
    return getattr(library, name)


def __dir__() -> list[str]:
    """What the library offers."""
    return [*import_module("rigcheck.library").__all__, "__version__"]
