"""Choose for each link and steel part the smallest standard size that passes, the rest of the rig as it is."""

from __future__ import annotations

from dataclasses import replace

from rigcheck.analysis.links.capacity import LinkStrength, links
from rigcheck.analysis.rows import worst
from rigcheck.case.models.case import Link
from rigcheck.parts.line.checks import link_checks
from rigcheck.quantities import write
from rigcheck.studies.hardware.base import Base, pick
from rigcheck.studies.hardware.links import Listed, listed, strength_with
from rigcheck.studies.hardware.record import Choice
from rigcheck.studies.hardware.sized import steel_choices
from rigcheck.studies.hardware.steel import fraction
from rigcheck.studies.hoist_window.study import HoistWindow
from rigcheck.studies.vary.case import Value
from rigcheck.tables.link_kinds import HOISTS


def choices_for(base: Base, *, parts: frozenset[str] | None = None, sure: bool = True) -> list[Choice]:
    """The smallest size of some links and steel parts.

    Args:
        base: The rig as it is.
        parts: The checks' words for the parts wanted; all of them where not said. A size that serves several parts is
            chosen for all of them.
        sure: Look at each choice in all states, and for the lightest of all shapes. Else a steel part is chosen by the
            rows that decide as the rig is, a shape by halving among the heavier ones; its use is that of these rows.
    """
    wanted = [*_links(base, table="line.link", parts=parts, sure=sure),
              *_links(base, table="line.backup", parts=parts, sure=sure)]  # fmt: skip
    return [*wanted, *steel_choices(base, parts=parts, sure=sure)]


# links: the pull does not depend on their size, so each size is held against the statics that are there


def _links(base: Base, *, table: str, parts: frozenset[str] | None, sure: bool) -> list[Choice]:
    found = []
    strengths = links(base.rig, table=table)
    pulled = table == "line.link" and any(
        one.kind in HOISTS and (parts is None or one.label in parts) for one in strengths
    )
    windows = {one.index: one for one in base.windows(sure=sure)} if pulled else {}
    for index, strength in enumerate(strengths):
        if parts is not None and strength.label not in parts:
            continue
        link: Link = base.rig.value(table)[index]
        if index in windows:
            found.append(_hoist(base, link=link, window=windows[index], key=f"{table}.{index}"))
            continue
        options = listed(base.rig, table=table, index=index)
        if options is None:
            found.append(_unlisted(base, link=link, strength=strength, key=f"{table}.{index}"))
        else:
            found.append(_listed_link(base, options, link=link, place=(table, index), strength=strength))
    return found


def _unlisted(base: Base, *, link: Link, strength: LinkStrength, key: str) -> Choice:
    """A link that no table lists: the least mark that would do; what is there stays where it is strong enough."""
    use = base.use(strength.label)
    marked = link.wll if link.wll is not None else 0.0
    needs = max(use, 0.0) / base.max_utilization * (marked or float(strength.working))
    by_mark = _marked(key, needs) if needs > marked else {}
    note = f"not assessed: {strength.unknown}" if strength.unknown else ""
    return Choice(
        part=strength.label, count=2 * link.count, now=_now(link), use_now=use, chosen=None, smaller=None,
        source="no published table: choose by the mark on the part", listed=False, needs=needs, note=note,
        by_mark=by_mark,
    )  # fmt: skip


def _marked(key: str, pounds: float) -> dict[str, Value]:
    """Keys of a part of another mark: what breaks it, and at what it was proved, is no longer known."""
    return {f"{key}.wll": pounds, f"{key}.mbf": None, f"{key}.proof": None}


def _hoist(base: Base, *, link: Link, window: HoistWindow, key: str) -> Choice:
    """A hoist: a mark inside its window, the one that is there where that is inside."""
    inside = max(window.marked, window.least)
    inside = inside if window.most is None else min(inside, window.most)
    by_mark = _marked(key, inside) if inside != window.marked and not window.empty else {}
    if link.rated_to_suspend is False:
        by_mark[f"{key}.rated_to_suspend"] = True
    notes = (
        ["this device is not marked for holding a load up: buy one that is"] if link.rated_to_suspend is False else []
    )
    part, mode = window.limit or ("", "")
    if window.most == 0.0:
        notes.append(f"no hoist fits: {part} ({mode}) is over however little it pulls: a stronger one of that first")
    elif window.empty and window.most is not None:
        notes.append(
            f"no hoist fits: the line needs {write(window.least, dimension='force')} and a snagged box stands no"
            f" more than {write(window.most, dimension='force')} ({part}, {mode}): stronger anchors first"
        )
    elif window.most is None:
        notes.append("a stronger hoist asks for stronger lugs, posts and welds, and none is described")
    return Choice(
        part=window.part, count=2 * link.count, now=_now(link), use_now=base.use(window.part), chosen=None,
        smaller=None, source="no published table: choose by the mark on the part", listed=False, needs=window.least,
        most=window.most or 0.0, note="; ".join(notes), by_mark=by_mark,
    )  # fmt: skip


def _listed_link(base: Base, options: Listed, *, link: Link, place: tuple[str, int], strength: LinkStrength) -> Choice:
    table, index = place
    sizes = [
        replace(size, use=_link_use(base, strength_with(base.rig, size, table=table, index=index), place=place))
        for size in options.sizes
    ]
    chosen, smaller = pick(sizes, max_utilization=base.max_utilization)
    note = options.note
    if chosen is None:
        strong = next((size for size in sizes if size.use is not None and size.use <= base.max_utilization), None)
        note = f"not assessed: {strength.unknown}" if strength.unknown else "no listed size carries it"
        note = note if strong is None else (
            f"{strong.words} carries it but does not go with the lug: its pin must go through the hole"
            " and the plate must go between its legs"
        )  # fmt: skip
    return Choice(
        part=strength.label, count=2 * link.count, now=_now(link), use_now=base.use(strength.label), chosen=chosen,
        smaller=smaller, source=options.source, listed=True, note=note,
    )  # fmt: skip


def _link_use(base: Base, strength: LinkStrength, *, place: tuple[str, int]) -> float | None:
    """Utilization of a link of another strength under the pull that is there, None where it cannot be assessed."""
    if strength.unknown:
        return None
    table, index = place
    solution = base.found.solution
    name = "links" if table == "line.link" else "backup"
    row = list(getattr(solution, name))
    row[index] = strength
    other = replace(solution, links=row) if name == "links" else replace(solution, backup=row)
    uses = [
        float(worst(check, allowed=solution.looked_at(on_accidents=check.on_accidents),
                    shape=solution.shape).utilization)
        for check in link_checks(other)
        if check.key == strength.key
    ]  # fmt: skip
    return max(uses)


def _now(link: Link) -> str:
    size = link.diameter if link.kind == "wire rope" else link.size
    words = f"{fraction(size)} {link.kind}" if size is not None else link.kind
    return words if link.wll is None else f"{words} marked {write(link.wll, dimension='force')}"
