"""What the page answers to the numbers on it: the whole check, told short, or why they cannot be read."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from rigcheck.assessment.assess import Assessment, assess
from rigcheck.case.errors import CaseError, Problem
from rigcheck.case.models.case import Case
from rigcheck.case.reading.read import check_case
from rigcheck.case.rig import Rig
from rigcheck.output.check.checks import checks, findings, highest, over_beside
from rigcheck.output.check.result import assumptions
from rigcheck.output.check.why import headline, why
from rigcheck.output.rig_words import rig_plain
from rigcheck.quantities import System
from rigcheck.wording.plain import Plain
from rigcheck.wording.scale import Scale

ROWS = 10
NO_ANSWER = "no answer"


@dataclass(frozen=True, slots=True)
class Answer:
    """The whole check of the numbers on a page.

    Attributes:
        hash: Name of the numbers it is for.
        problems: Why there is no answer; then nothing else is there.
        case: The case.
        found: Its assessment.
        told: The part of its result that the page shows.
        needed: Keys that a blank rig still needs before there can be an answer.
    """

    hash: str
    problems: Sequence[Problem] = ()
    case: Case | None = None
    found: Assessment | None = None
    told: Mapping[str, Any] | None = None
    needed: Sequence[str] = ()

    @property
    def word(self) -> str:
        """The verdict; "no answer" where the numbers cannot be read."""
        return NO_ANSWER if self.told is None else str(self.told["verdict"])


def answered(data: Mapping[str, Any], *, hash: str, name: str, system: System) -> Answer:
    """Run the whole check.

    Args:
        data: The numbers on the page as the reader takes them.
        hash: Their name.
        name: What problems call the file.
        system: Units of the answer.

    Returns:
        The answer, or the problems.
    """
    try:
        case = check_case(data, name=name)
        found = assess(Rig(case))
    except CaseError as error:
        return Answer(hash, problems=error.problems)
    return answer_of(found, case=case, hash=hash, system=system)


def answer_of(found: Assessment, *, case: Case, hash: str, system: System) -> Answer:
    """The answer that an assessment gives.

    Args:
        found: Of one rig.
        case: What it is of.
        hash: Name of the numbers.
        system: Units of the answer.
    """
    return Answer(hash, case=case, found=found, told=told_short(found, system=system))


def told_short(found: Assessment, *, system: System) -> Plain:
    """What the page shows of a result, by the same functions as the whole of it.

    Args:
        found: The assessment of one rig.
        system: Units of every number.

    Returns:
        Keys of the result `rigcheck.result/2`, of its checks only those nearest their limit.
    """
    rig, scale = found.solution.rig, Scale(system)
    tight_above = float(rig.number("factors.tight_above"))
    rows = checks(found, scale=scale, tight_above=tight_above, most=ROWS)
    governing = highest(rows)
    stopped = bool(found.stopped)
    told: Plain = {
        "title": rig.case.title,
        **rig_plain(found),
        "stopped": stopped,
        "highest_utilization": None if governing is None else governing["utilization"],
        "units": scale.units(),
        "checks": rows,
        "governing": None if governing is None else {**governing, **({"utilization": None} if stopped else {})},
        "findings": findings(found, scale=scale),
        "assumptions": [one for one in assumptions(found) if one["defaulted"]],
    }
    told["headline"] = headline(told)
    told["why"] = why(told, over_beside=over_beside(found, row=told["governing"]))
    return told
