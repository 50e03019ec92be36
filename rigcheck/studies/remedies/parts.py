"""Parts that may cure a rig: the smallest size that carries, a weaker hoist, a snub line, a strap more, a brace."""

from __future__ import annotations

import numpy as np

from rigcheck.analysis.links.capacity import links
from rigcheck.analysis.rows import OVER
from rigcheck.parts.fold.checks import SNUB
from rigcheck.studies.hardware.choices import Base, choices_for
from rigcheck.studies.hardware.road import road_choices
from rigcheck.studies.hoist_window.study import hoist_windows
from rigcheck.studies.remedies.moves import PART, SHAPE, brace
from rigcheck.studies.remedies.record import Step

BY_PARTS = frozenset({"pull_only_holds", "fold_slack_inward", "pin_does_not_fit", "shackle_too_narrow"})
"""Stops that a part may cure by itself."""
_MARK_STEP = 50.0  # lb


def part_steps(base: Base) -> list[Step]:
    """For each part that is over, the smallest size that carries its load; a knee brace for a post that is over."""
    judged = base.judged
    over = {row.part for i, row in enumerate(judged.rows) if judged.use[0, i] > OVER}
    held = {link.label for link in links(base.rig)}
    pull_only = held & {stop.about for stop in judged.stops if stop.code == "pull_only_holds"}
    found = []
    wanted = frozenset(over | pull_only)
    for choice in [*choices_for(base, parts=wanted, sure=False), *road_choices(base, parts=wanted - {SNUB})]:
        if not choice.changes:
            continue
        changes = {key: value for key, value in choice.changes.items() if key != "measured"}
        words = f"{choice.part}: one that is marked for holding a load up"
        if choice.chosen is not None:
            words = f"{choice.part}: {choice.chosen.words}"
        elif choice.part in over:
            mark = choice.needs if choice.most else _mark(choice.needs)
            words = f"{choice.part}: one marked {mark:,.0f} lb" + (
                f", not over {choice.most:,.0f} lb" if choice.most else " or more"
            )
            changes |= {key: mark for key in changes if key.endswith(".wll")}
        shaped = any(isinstance(value, str) for key, value in changes.items() if not key.endswith(".grade"))
        found.append(Step(family=choice.part, words=words, changes=changes, effort=SHAPE if shaped else PART))
    found += [*_weaker_hoists(base), *_snub_line(base, over=over), *_for_the_road(base, over=over)]
    if any(part.startswith("perch post") for part in over) and (step := brace(base.rig)) is not None:
        found.append(step)
    return found


def _weaker_hoists(base: Base) -> list[Step]:
    """For a hoist stronger than what it hangs on: one that still carries the load and cannot break its anchors."""
    if max((float(base.judged.use[0, i]) for i, row in enumerate(base.judged.rows) if row.snag), default=0.0) <= OVER:
        return []
    return [
        Step(family=window.part, effort=PART, words=f"{window.part}: one marked {window.most:,.0f} lb and no more",
             changes={f"line.link.{window.index}.{key}": value
                      for key, value in (("wll", window.most), ("mbf", None), ("proof", None))})
        for window in hoist_windows(base.found, max_utilization=base.max_utilization, sure=False)
        if window.most is not None and not window.empty and window.most < window.marked
    ]  # fmt: skip


def _snub_line(base: Base, *, over: set[str]) -> list[Step]:
    """A snub line where the box falls inward past its balance point, or a stronger one."""
    if SNUB in over:
        mark = _mark(base.use(SNUB) * float(base.rig.number("fold.snub_wll")))
        words = f"{SNUB}: one marked {mark:,.0f} lb or more"
        return [Step(family=SNUB, words=words, changes={"fold.snub_wll": mark}, effort=PART)]
    if any(stop.code == "fold_slack_inward" for stop in base.judged.stops):
        words = "ease the box past its balance point with a snub line that holds it"
        return [Step(family=SNUB, words=words, changes={"fold.snub": True}, effort=PART)]
    return []


def _for_the_road(base: Base, *, over: set[str]) -> list[Step]:
    """One strap more where the straps are over."""
    found: list[Step] = []
    if any(part.startswith("tie-down") for part in over):
        for i, strap in enumerate(base.rig.case.haul.tie_down):
            name = strap.name or f"tie-down {i + 1}"
            found.append(
                Step(family=f"haul.tie_down.{i}", words=f"{name}: {strap.count + 1} of them side by side", effort=PART,
                     changes={f"haul.tie_down.{i}.count": strap.count + 1})
            )  # fmt: skip
    return found


def _mark(pounds: float) -> float:
    """The least mark of its step that is enough."""
    return float(_MARK_STEP * np.ceil(pounds / _MARK_STEP))
