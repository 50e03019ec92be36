"""What follows where a value is said to be unknown, told beside it."""

from __future__ import annotations

from rigcheck.case.schema.keys import default_text
from rigcheck.case.schema.kinds import ShapeName, SteelName, Words
from rigcheck.case.schema.sections import MUST_BE_KNOWN, Field

DO = "unknown"
"""How the button that says so begins; the key follows."""


def may_be_unknown(field: Field) -> bool:
    """Whether somebody may say of a value that it is not known."""
    kind = field.kind
    if kind is None or field.required or isinstance(kind, Words | ShapeName):
        return False
    return field.about.lowest is not MUST_BE_KNOWN


def consequence(field: Field) -> str:
    """What stands for a value that is not known; nothing where its default does, which the empty field shows."""
    if not may_be_unknown(field):
        return ""
    if isinstance(field.kind, SteelName):
        return "the lowest grade is taken"
    if field.about.lowest is not None:
        lowest = {True: "yes", False: "no"}.get(field.about.lowest, field.about.lowest)
        return f"{lowest}, the lowest, is taken"
    if default_text(field) or field.about.derived:
        return ""
    return "not assessed"
