"""What the user describes: models, reading, errors, starter, glossary."""

from rigcheck.case.errors import CaseError, Problem
from rigcheck.case.keys import Defaulted, Entry, defaulted_keys, glossary
from rigcheck.case.models import Case
from rigcheck.case.reading import check_case, read_case, read_case_text

__all__ = [
    "Case",
    "CaseError",
    "Defaulted",
    "Entry",
    "Problem",
    "check_case",
    "defaulted_keys",
    "glossary",
    "read_case",
    "read_case_text",
]
