"""The worked calculation: each governing part by hand, its algebra derived and held to the engine's own numbers."""

from rigcheck.calculation.calculation import PARTS, UnknownStateError, working, working_result
from rigcheck.calculation.pages import Section, Step
from rigcheck.calculation.sheet import DisagreementError

__all__ = [
    "PARTS",
    "DisagreementError",
    "Section",
    "Step",
    "UnknownStateError",
    "working",
    "working_result",
]
