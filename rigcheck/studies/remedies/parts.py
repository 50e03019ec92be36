"""Parts that may cure a rig: the smallest size that carries, a weaker hoist, a snub line, a strap more, a brace."""

from __future__ import annotations

import numpy as np

from rigcheck.analysis.links.capacity import links
from rigcheck.analysis.rows import OVER
from rigcheck.parts.fold.checks import SNUB
from rigcheck.parts.tie_down.checks import TIE_DOWNS, strap_name
from rigcheck.studies.hardware.base import Base
from rigcheck.studies.hardware.choices import choices_for
from rigcheck.studies.hardware.road import road_choices
from rigcheck.studies.hardware.steel import described
from rigcheck.studies.remedies.moves import PART, POST, SHAPE, brace
from rigcheck.studies.remedies.record import Step
from rigcheck.tables.link_kinds import HOISTS
from rigcheck.tables.load_cases import load_case

_FIT = frozenset({"pin_does_not_fit", "shackle_too_narrow"})
BY_PARTS_ALONE = _FIT | {"pull_only_holds"}
"""Stops that a part may cure by itself, and no change of where things stand."""
BY_PARTS = BY_PARTS_ALONE | {"fold_slack_inward"}
"""Stops that a part may cure by itself."""
_MARK_STEP = 50.0  # lb
ROOM = 1.05  # least width of a hoist's window, most over least, that a shop finds a hoist for; our own rule


def stopped(base: Base) -> bool:
    """Whether something stops that no part cures, so that parts by themselves need not be looked for."""
    return any(stop.code not in BY_PARTS for stop in base.judged.stops)


def part_steps(base: Base) -> list[Step]:
    """For each part that is over, the smallest size that carries its load; a knee brace for a post that is over."""
    judged = base.judged
    over = {row.part for i, row in enumerate(judged.rows) if judged.use[0, i] > OVER}
    hoists = {link.label for link in links(base.rig) if link.kind in HOISTS}
    held = {link.label for link in links(base.rig)}
    pull_only = held & {stop.about for stop in judged.stops if stop.code == "pull_only_holds"}
    sizes = {steel.part: frozenset(steel.parts) for steel in described(base.rig)}
    found = []
    wanted = frozenset(over | pull_only)
    for choice in [*choices_for(base, parts=wanted, sure=False), *road_choices(base, parts=wanted - {SNUB})]:
        if not choice.changes:
            continue
        changes = {key: value for key, value in choice.changes.items() if key != "measured"}
        words = f"{choice.part}: one that is marked for holding a load up"
        roomier = None
        if choice.chosen is not None:
            words = f"{choice.part}: {choice.chosen.words}"
        elif choice.part in over:
            mark = choice.needs if choice.most else _mark(choice.needs)
            words = f"{choice.part}: one marked {mark:,.0f} lb{_window(mark, most=choice.most)}"
            rated = [key for key in changes if key.endswith(".wll")]
            changes |= dict.fromkeys(rated, mark)
            if 0.0 < choice.most < ROOM * mark:
                stronger = _mark(ROOM * mark)
                told = f"{choice.part}: one marked {mark:,.0f} to {stronger:,.0f} lb"
                roomier = Step(
                    family=choice.part, words=told, changes={**changes, **dict.fromkeys(rated, stronger)}, effort=PART,
                    clears=frozenset({choice.part}),
                )  # fmt: skip
        shaped = any(isinstance(value, str) for key, value in changes.items() if not key.endswith(".grade"))
        fits = _FIT if choice.chosen is not None else frozenset()
        clears = sizes.get(choice.part, frozenset({choice.part}))
        if choice.part in hoists and any(key.endswith(".wll") for key in changes):
            clears |= _snagged(base)  # by what the hoist pulls a snagged box with
        found.append(
            Step(family=choice.part, words=words, changes=changes, effort=SHAPE if shaped else PART, clears=clears,
                 lifts=frozenset(stop.code for stop in judged.stops if stop.about in clears) | fits, roomier=roomier)
        )  # fmt: skip
    found += [*_weaker_hoists(base), *_snub_line(base, over=over), *_for_the_road(base, over=over)]
    if over & POST and (step := brace(base.rig)) is not None:
        found.append(step)
    return found


def _snagged(base: Base) -> frozenset[str]:
    """Parts that a snagged box is over in, or that the full rating of a hoist is."""
    judged = base.judged
    return frozenset(
        row.part
        for i, row in enumerate(judged.rows)
        if judged.use[0, i] > OVER and (row.snag or load_case(judged.state_of(0, i)).full_pull)
    )


def _weaker_hoists(base: Base) -> list[Step]:
    """For a hoist stronger than what it hangs on: one that still carries the load and cannot break its anchors."""
    snagged = _snagged(base)
    if not snagged:
        return []
    return [
        Step(family=window.part, effort=PART, words=f"{window.part}: one marked {window.most:,.0f} lb and no more",
             clears=snagged,
             changes={f"line.link.{window.index}.{key}": value
                      for key, value in (("wll", window.most), ("mbf", None), ("proof", None))})
        for window in base.windows(sure=False)
        if window.most is not None and not window.empty and window.most < window.marked
    ]  # fmt: skip


def _snub_line(base: Base, *, over: set[str]) -> list[Step]:
    """A snub line where the box falls inward past its balance point, or a stronger one."""
    if SNUB in over:
        mark = _mark(base.use(SNUB) * float(base.rig.number("fold.snub_wll")))
        words = f"{SNUB}: one marked {mark:,.0f} lb or more"
        return [Step(family=SNUB, words=words, changes={"fold.snub_wll": mark}, effort=PART, clears=frozenset({SNUB}))]
    if any(stop.code == "fold_slack_inward" for stop in base.judged.stops):
        words = "ease the box past its balance point with a snub line that holds it"
        lifts = frozenset({"fold_slack_inward"})
        return [Step(family=SNUB, words=words, changes={"fold.snub": True}, effort=PART, lifts=lifts)]
    return []


def _for_the_road(base: Base, *, over: set[str]) -> list[Step]:
    """One strap more where the straps are over."""
    straps = base.rig.case.haul.tie_down
    tied = over & {TIE_DOWNS, *(strap_name(base.rig, i) for i in range(len(straps)))}
    return [
        Step(family=f"haul.tie_down.{i}", effort=PART, clears=frozenset(tied),
             words=f"{strap.name or f'tie-down {i + 1}'}: {strap.count + 1} of them side by side",
             changes={f"haul.tie_down.{i}.count": strap.count + 1})
        for i, strap in enumerate(straps)
        if tied
    ]  # fmt: skip


def _window(mark: float, *, most: float) -> str:
    """What is said behind the least mark that is enough; the most is 0 where none is known."""
    if not most:
        return " or more"
    return f", not over {most:,.0f} lb" if most >= mark + 1.0 else ", no less and no more"


def _mark(pounds: float) -> float:
    """The least mark of its step that is enough."""
    return float(_MARK_STEP * np.ceil(pounds / _MARK_STEP))
