"""The smallest standard size of every link and steel part, and what they come to when all are bought at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rigcheck.assessment.assess import Assessment, assess
from rigcheck.case.rig import Rig
from rigcheck.case.tacks import must_be_finished
from rigcheck.studies.hardware.base import Base
from rigcheck.studies.hardware.choices import choices_for
from rigcheck.studies.hardware.record import AS_IT_IS, Choice, Hardware, Size
from rigcheck.studies.hardware.road import road_choices
from rigcheck.studies.hardware.steel import described
from rigcheck.studies.vary.case import Value, with_values

_ROUNDS = 6  # at most so many times parts are made larger for what the others became
_ROUNDING = 1e-9
_WALLS = {
    "hanger.lug": ("rail",),
    "perch.lug": ("perch.post",),
    "hinge": ("box", "cross_member", "end_tube"),
    "cross_member": ("rail",),
}
"""What a part is welded to: its weld is no stronger than the wall behind it."""


def hardware(rig: Rig, *, max_utilization: float | None = None) -> Hardware:
    """The smallest standard size of every link and steel part.

    Args:
        rig: One rig.
        max_utilization: Utilization that no choice may exceed; `factors.tight_above` of the case where not said. [1]

    Returns:
        The shopping list. Each choice is made with everything else as it is in the case.

    Source: docs/method.md#hardware.
    """
    must_be_finished(rig.case)
    limit = float(rig.number("factors.tight_above")) if max_utilization is None else max_utilization
    base = Base.of(rig, assess(rig), max_utilization=limit)
    choices = [*choices_for(base), *road_choices(base)]
    settled, after = _settled(base, choices)
    top = after.worst[int(after.governing)]
    return Hardware(
        choices=tuple(choices),
        max_utilization=limit,
        settled=tuple(settled),
        together=float(after.utilization),
        governs=(top.check.part, top.check.mode, after.solution.rows[int(top.state)].state),
        stops=tuple(dict.fromkeys(flag.code for flag in after.flags if flag.stops)),
        not_assessed=tuple(after.not_assessed),
    )


def _settled(start: Base, choices: Sequence[Choice]) -> tuple[list[Choice], Assessment]:
    """All choices made at once, and the parts that must be larger then because others became smaller."""
    rig, max_utilization, stopped = start.rig, start.max_utilization, _stops(start.found)
    changes: dict[str, Value] = {}
    for choice in choices:
        changes |= choice.changes
    sizes = {part.part: part.parts for part in described(rig)}
    parts = [sizes.get(choice.part, (choice.part,)) for choice in choices]
    larger: dict[str, Choice] = {}
    restored: set[str] = set()
    for _ in range(_ROUNDS):
        now = Rig(with_values(rig.case, changes))
        base = Base.of(now, assess(now), max_utilization=max_utilization)
        short = frozenset(
            name for names in parts for name in names if base.use(name) > max_utilization * (1.0 + _ROUNDING)
        )
        found = [*choices_for(base, parts=short), *road_choices(base, parts=short)] if short else []
        more = [choice for choice in found if choice.changes]
        helped = {name for choice in more for name in sizes.get(choice.part, (choice.part,))}
        stuck = short - helped
        if _stops(base.found) - stopped:  # sections of other sizes met a post, or let the box roll
            stuck |= {part.part for part in described(rig) if part.shaped}
        back = [choice for choice in _as_they_are(rig, choices, beside=stuck) if choice.part not in restored]
        restored |= {choice.part for choice in back}
        more += back
        for choice in more:
            larger[choice.part] = choice
            changes |= choice.changes
        if not more:
            break
    return list(larger.values()), base.found


def _stops(found: Assessment) -> frozenset[str]:
    return frozenset(flag.code for flag in found.flags if flag.stops)


def _as_they_are(rig: Rig, choices: Sequence[Choice], *, beside: frozenset[str]) -> list[Choice]:
    """Neighbors of parts that no size helps any more, left as they are in the case: a weld needs a wall behind it."""
    keys = {part.part: part.key for part in described(rig)}
    sections = {part.key for part in described(rig) if part.shaped}
    homes = {_home(part.key) for part in described(rig) if beside & set(part.parts)}
    behind = homes.union(*(_WALLS.get(home, ()) for home in homes))
    found = []
    for choice in choices:
        key = keys.get(choice.part, "")
        shaped = key in sections
        if choice.chosen is None or (choice.part in beside and not shaped) or _home(key) not in behind:
            continue
        size = Size(words=f"{choice.now}{AS_IT_IS}", changes={key: rig.value(key)}, use=choice.use_now)
        found.append(replace(choice, chosen=size, smaller=None))
    return found


def _home(key: str) -> str:
    return key.rpartition(".")[0]
