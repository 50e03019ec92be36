"""What the user describes: models, reading, errors, starter, glossary."""

from rigcheck.case.errors import CaseError, Problem
from rigcheck.case.models.case import Case
from rigcheck.case.reading.read import check_case, read_case, read_case_text
from rigcheck.case.schema.keys import Defaulted, Entry, defaulted_keys, glossary

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
