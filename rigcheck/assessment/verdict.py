"""The one word for a rig, which every command takes from here."""

from __future__ import annotations

from dataclasses import dataclass

from rigcheck.assessment.assess import Assessment

WORDS = ("within", "tight", "incomplete", "over")
"""From the mildest to the gravest."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """What a rig comes to.

    Attributes:
        word: over, incomplete, tight or within; the gravest that holds.
        tight: Something is used more than the tight_above allows, whether or not a graver word stands before it.
        complete: Every part of the load path is assessed.
    """

    word: str
    tight: bool
    complete: bool


def rig_word(*, over: bool, complete: bool, tight: bool) -> str:
    """The gravest word that holds: over, then incomplete, then tight, then within."""
    if over:
        return "over"
    if not complete:
        return "incomplete"
    return "tight" if tight else "within"


def verdict(found: Assessment) -> Verdict:
    """The verdict on one rig.

    Args:
        found: Its assessment, no batch.

    Returns:
        The verdict; that of every command, card, report and summary.
    """
    tight = float(found.utilization) > float(found.solution.rig.number("factors.tight_above"))
    complete = not found.not_assessed
    return Verdict(rig_word(over=bool(found.over), complete=complete, tight=tight), tight=tight, complete=complete)
