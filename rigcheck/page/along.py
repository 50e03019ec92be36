"""The whole check of numbers that differ in one length, as one batch through the engine: ladders and strip."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from rigcheck.assessment.assess import assess
from rigcheck.assessment.single import OtherRowsError, single
from rigcheck.case.errors import CaseError
from rigcheck.case.models.case import Case
from rigcheck.case.reading.read import check_case
from rigcheck.case.rig import Rig
from rigcheck.page.answer import Answer, answer_of, answered
from rigcheck.page.changes import hash_of
from rigcheck.quantities import System
from rigcheck.studies.vary.case import with_values


def answers_along(
    numbers: Sequence[Mapping[str, Any]], *, key: str, like: Answer, name: str, system: System
) -> list[Answer]:
    """Answers to numbers that differ in one key, each what the numbers are answered by themselves.

    Args:
        numbers: As the reader takes them.
        key: What differs, such as `hanger.at`.
        like: The answer to numbers that differ from all of them in that key alone.
        name: What problems call the file.
        system: Units of the answers.

    Returns:
        An answer to each; its problems where it cannot be read.
    """
    found: list[Answer | Case] = [_read(one, name=name) for one in numbers]
    cases = {i: one for i, one in enumerate(found) if isinstance(one, Case) and _moved(one, key=key, like=like)}
    told: dict[int, Answer] = {}
    if len(cases) > 1:
        told = _batch(cases, numbers=numbers, key=key, like=like, system=system)
    return [
        one if isinstance(one, Answer) else told.get(i)
        or answered(numbers[i], hash=hash_of(numbers[i]), name=name, system=system)
        for i, one in enumerate(found)
    ]  # fmt: skip


def _read(numbers: Mapping[str, Any], *, name: str) -> Answer | Case:
    try:
        return check_case(numbers, name=name)
    except CaseError as error:
        return Answer(hash_of(numbers), problems=error.problems)


def _moved(case: Case, *, key: str, like: Answer) -> bool:
    """Whether nothing but the key tells a case from the one that is answered."""
    return like.case is not None and with_values(like.case, {key: float(Rig(case).number(key))}) == case


def _batch(
    cases: Mapping[int, Case], *, numbers: Sequence[Mapping[str, Any]], key: str, like: Answer, system: System
) -> dict[int, Answer]:
    """Answers to some of the numbers; none where they cannot be worked out together."""
    assert like.case is not None and like.found is not None
    rigs = {i: Rig(case) for i, case in cases.items()}
    values = np.array([float(rig.number(key)) for rig in rigs.values()])
    try:
        batch = assess(Rig(like.case, {key: values}))
        alone = [single(batch, place, rig=rig, like=like.found) for place, rig in enumerate(rigs.values())]
    except (CaseError, OtherRowsError):
        return {}
    return {
        i: answer_of(found, case=cases[i], hash=hash_of(numbers[i]), system=system)
        for i, found in zip(rigs, alone, strict=True)
    }
