"""What is done with reduced readings: where the take-off was wrong, what to store, what the check then says."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from rigcheck.assessment.assess import Assessment, assess
from rigcheck.case.errors import CaseError
from rigcheck.case.models.case import Measured
from rigcheck.case.rig import Rig
from rigcheck.case.tacks import must_be_finished
from rigcheck.loads.measured import first_moment, level_arm, total
from rigcheck.loads.steel import take_off
from rigcheck.loads.take_off import Piece
from rigcheck.quantities import read, write
from rigcheck.studies.field.readings import Readings
from rigcheck.studies.field.reduce import Reduced, reduce
from rigcheck.studies.vary.case import with_values
from rigcheck.tables.load_cases import EMPTY

FACTORS = (0.5, 2.0)  # a piece that would have to weigh less or more than this share of its estimate explains nothing
_DIGITS = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class Explanation:
    """One thing in the take-off, or beside it, that could explain what was read.

    Attributes:
        what: A piece of the take-off, or a lump that is missing in it.
        by_moment: How many times as heavy it would have to be for the moment; None where no moment was read.
        by_weight: The same for the weight.
        weight: A missing lump, or how much too heavy the take-off is where negative. [lbf]
        at: Where along the floor it sits. [in]
    """

    what: str
    by_moment: float | None = None
    by_weight: float | None = None
    weight: float | None = None
    at: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldStudy:
    """Readings, what they come to, and what the check says with them.

    Attributes:
        rig: The rig of the case as it stands.
        reduced: The readings reduced.
        explanations: What could explain the difference, the likeliest first; none where the case agrees.
        contents: How many times as heavy as in the case what lies in the box is; None where it cannot be told.
        store: Keys and texts for the case file; empty where nothing can be stored.
        refused: Why the readings cannot be stored.
        before: The check of the case as it stands.
        after: The check with what was measured; None where nothing can be stored.
        allowed: Tension of a line that its weakest link allows. [lbf]
        weakest: That link.
        line_demand: Upper end of the measured tension times the dynamic factor of a hung box; None where none. [lbf]
    """

    rig: Rig
    reduced: Reduced
    explanations: list[Explanation]
    contents: float | None
    store: dict[str, str]
    refused: list[str]
    before: Assessment
    after: Assessment | None
    allowed: float
    weakest: str
    line_demand: float | None

    @property
    def over(self) -> bool:
        """Whether the check with what was measured, or the measured pull itself, is over."""
        last = self.after or self.before
        return bool(last.over) or (self.line_demand is not None and self.line_demand > self.allowed)


def field(rig: Rig, *, readings: Readings) -> FieldStudy:
    """Study the readings of one rig.

    Args:
        rig: One rig.
        readings: Readings without `problems`.

    Returns:
        The study.

    Source: docs/method.md.
    """
    if readings.state != EMPTY:
        must_be_finished(rig.case)
    reduced = reduce(rig, readings=readings)
    spoilt = [one.text for one in reduced.remarks if one.spoils]
    store = {} if spoilt else _store(reduced)
    refused: list[str] = []
    after = None
    if store:
        try:
            after = assess(Rig(with_values(rig.case, {"measured": stored(store)})))
        except CaseError as error:
            refused, store = [problem.why for problem in error.problems], {}
    before = assess(rig)
    allowed, weakest = _weakest(before)
    pull = reduced.tension
    factor = float(rig.number("factors.hung"))
    return FieldStudy(
        rig=rig,
        reduced=reduced,
        explanations=list(_explanations(reduced)),
        contents=_contents(rig, reduced),
        store=store,
        refused=spoilt + refused,
        before=before,
        after=after,
        allowed=allowed,
        weakest=weakest,
        line_demand=None if pull is None else (pull.value + pull.error) * factor,
    )


def _weakest(assessment: Assessment) -> tuple[float, str]:
    links = [(float(np.min(one.working)) / one.share, one.label) for one in assessment.solution.links]
    return min(links)


def stored(keys: dict[str, str]) -> Measured:
    """The section `measured` that a case file with these keys has."""
    values = {name: read(text, dimension="length" if name.endswith("_at") else "force") for name, text in keys.items()}
    return Measured(**values)


def _store(reduced: Reduced) -> dict[str, str]:
    """Keys of `[measured]`, which are of the empty box; demands rounded up."""
    readings, model = reduced.readings, reduced.model
    if readings.state != EMPTY:
        return {}
    keys = {}
    if reduced.weight is not None:
        keys["empty_weight"] = write(reduced.weight.value, dimension="force", digits=_DIGITS, rounding="up")
    if reduced.moment is not None and reduced.moment.value > 0.0:
        place = readings.at if readings.tail_lift and readings.at else float(
            level_arm(model.bare, s=model.bare.number("box.length"), n=0.0)
        )  # fmt: skip
        place = read(write(place, dimension="length", digits=_DIGITS), dimension="length")
        lift = reduced.moment.value / place
        keys["tail_lift"] = write(lift, dimension="force", digits=_DIGITS, rounding="up")
        keys["tail_lift_at"] = write(place, dimension="length", digits=_DIGITS)
    return keys


def _differences(reduced: Reduced) -> tuple[float | None, float | None]:
    """What is missing in the take-off: moment and weight, None where not read or within the uncertainty."""
    moment, weight = reduced.moment, reduced.weight
    told = any(one is not None and not one.agrees for one in (moment, weight))
    if reduced.readings.state != EMPTY or not told:
        return None, None
    return (
        None if moment is None else moment.value - moment.expected,
        None if weight is None else weight.value - weight.expected,
    )


def _explanations(reduced: Reduced) -> Iterator[Explanation]:
    """A lump that is missing, then single pieces that were estimated wrong, the smallest change first."""
    moment, weight = _differences(reduced)
    if moment is None and weight is None:
        return
    bare = reduced.model.bare
    pitch, length = float(bare.number("box.pitch")), float(bare.number("box.length"))
    if moment is not None and weight is not None and abs(weight) > 1e-9:
        at = moment / weight / np.cos(pitch)
        if 0.0 <= at <= 1.1 * length:
            yield Explanation(what="an equivalent point weight", weight=weight, at=float(at))
    elif moment is not None:
        tail = float(level_arm(bare, s=length, n=0.0))
        yield Explanation(what="an equivalent point weight at the tail", weight=moment / tail, at=length)
    pieces = reduced.model.pieces
    groups = {"all the steel alike": [one for one in pieces if not one.weighed], **{one.name: [one] for one in pieces}}
    found = []
    for name, group in groups.items():
        by_moment, by_weight = _factors(bare, group, moment=moment, weight=weight)
        factors = [one for one in (by_moment, by_weight) if one is not None]
        if factors and all(FACTORS[0] <= one <= FACTORS[1] for one in factors):
            found.append(Explanation(what=name, by_moment=by_moment, by_weight=by_weight))
    yield from sorted(found, key=_oddness)


def _factors(
    bare: Rig, group: list[Piece], *, moment: float | None, weight: float | None
) -> tuple[float | None, float | None]:
    """How many times as heavy some pieces would have to be, by the moment and by the weight."""
    heavy, turn = float(total(group)), float(first_moment(bare, pieces=group))
    return (
        None if moment is None or turn <= 0.0 else 1.0 + moment / turn,
        None if weight is None or heavy <= 0.0 else 1.0 + weight / heavy,
    )


def _oddness(one: Explanation) -> float:
    """How much a piece would have to change, and how far moment and weight disagree about it."""
    factors = [factor for factor in (one.by_moment, one.by_weight) if factor is not None]
    logs = [float(np.log(factor)) for factor in factors]
    return max(abs(log) for log in logs) + (abs(logs[0] - logs[1]) if len(logs) == 2 else 0.0)


def _contents(rig: Rig, reduced: Reduced) -> float | None:
    """What lies in the box over what the case puts in, the empty box as in the case, measured values counted."""
    if reduced.readings.state == EMPTY or reduced.moment is None:
        return None
    dry = float(first_moment(rig, pieces=take_off(rig)))
    expected = reduced.model.moment - reduced.model.empty_moment
    return (reduced.moment.value - dry) / expected if expected > 0.0 else None
