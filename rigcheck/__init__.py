"""Statics and part-by-part checks of a hinged, line-hung mobile sluice box.

`import rigcheck` loads nothing; a name of the library loads it when it is asked for. See docs/library.md.
"""

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from rigcheck.library import (
        Assessment,
        CaseError,
        Judged,
        LoadCell,
        Readings,
        Rig,
        SidePull,
        Verdict,
        bed_mark,
        check,
        check_batch,
        field,
        fold,
        hardware,
        haul,
        length,
        materials,
        number,
        plant,
        proof,
        props,
        read_case,
        read_case_text,
        remedied,
        remedies,
        spread,
        varied,
        verdict,
        verdicts,
    )

__version__ = "0.1.0"
__all__ = [
    "Assessment",
    "CaseError",
    "Judged",
    "LoadCell",
    "Readings",
    "Rig",
    "SidePull",
    "Verdict",
    "bed_mark",
    "check",
    "check_batch",
    "field",
    "fold",
    "hardware",
    "haul",
    "length",
    "materials",
    "number",
    "plant",
    "proof",
    "props",
    "read_case",
    "read_case_text",
    "remedied",
    "remedies",
    "spread",
    "varied",
    "verdict",
    "verdicts",
]


def __getattr__(name: str) -> Any:
    """A name of the library, once it is asked for."""
    if name not in __all__:
        raise AttributeError(f"module 'rigcheck' has no attribute {name!r}")
    from rigcheck import library

    return getattr(library, name)


def __dir__() -> list[str]:
    """What the library offers."""
    return [*__all__, "__version__"]
