"""The worked calculation: each governing part by hand, its algebra derived and held to the engine's own numbers."""

from rigcheck.views.working.calculation import PARTS, UnknownStateError, working, working_result
from rigcheck.views.working.html import working_html
from rigcheck.views.working.pages import Section, Step
from rigcheck.views.working.screen import working_screen
from rigcheck.views.working.sheet import DisagreementError

__all__ = [
    "PARTS",
    "DisagreementError",
    "Section",
    "Step",
    "UnknownStateError",
    "working",
    "working_html",
    "working_result",
    "working_screen",
]
