"""Choose for each link and steel part the smallest standard size that passes, the rest of the rig as it is."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from rigcheck.analysis.links.capacity import HOISTS, LinkStrength, links
from rigcheck.analysis.rows import worst
from rigcheck.assessment.assess import Assessment, assess
from rigcheck.case.errors import CaseError
from rigcheck.case.models.case import Link
from rigcheck.case.rig import Rig, varied
from rigcheck.parts.line.checks import link_checks
from rigcheck.quantities import write
from rigcheck.studies.decisive import decisive
from rigcheck.studies.hardware.links import Listed, listed, strength_with
from rigcheck.studies.hardware.record import Choice, Size
from rigcheck.studies.hardware.steel import (
    Steel,
    described,
    fraction,
    now_words,
    shape_source,
    shaped,
    step_source,
    stepped,
)  # fmt: skip
from rigcheck.studies.hoist_window.study import HoistWindow, hoist_windows
from rigcheck.studies.sieve import sieve
from rigcheck.studies.spread.few import Few, few_uses
from rigcheck.studies.vary.batch import Judged, judge, kept
from rigcheck.studies.vary.case import Value, other_box, with_values
from rigcheck.tables import shapes


@dataclass(frozen=True, slots=True)
class Base:
    """The rig as it is.

    Attributes:
        rig: One rig.
        found: Its assessment.
        judged: The same as studies read it.
        max_utilization: Utilization that no choice may exceed. [1]
    """

    rig: Rig
    found: Assessment
    judged: Judged
    max_utilization: float
    _windows: dict[bool, tuple[HoistWindow, ...]] = field(default_factory=dict, init=False, repr=False, compare=False)

    @staticmethod
    def of(rig: Rig, found: Assessment, *, max_utilization: float) -> Base:
        """From an assessment that is there already."""
        return Base(rig, found, kept(found), max_utilization)

    def windows(self, *, sure: bool) -> tuple[HoistWindow, ...]:
        """The window of every hoist, looked for once; `sure` as `hoist_windows` has it."""
        if sure not in self._windows:
            self._windows[sure] = hoist_windows(self.found, max_utilization=self.max_utilization, sure=sure)
        return self._windows[sure]

    def use(self, *parts: str) -> float:
        """Highest utilization of some parts; below 0 where nothing checks them."""
        rows = [i for i, row in enumerate(self.judged.rows) if row.part in parts]
        return float(self.judged.use[0, rows].max()) if rows else -1.0

    def places(self, parts: Iterable[str]) -> tuple[int, ...]:
        """Rows in which the modes of some parts are at their worst."""
        names = set(parts)
        return decisive(self.found, checks=(one for one in self.found.worst if one.check.part in names))


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
    return [*wanted, *_steel(base, parts=parts, sure=sure)]


def pick(sizes: Sequence[Size], *, max_utilization: float) -> tuple[Size | None, Size | None]:
    """The first size that passes, and the one before it.

    Args:
        sizes: Smallest first, with their utilizations.
        max_utilization: Utilization that must not be exceeded. [1]

    Returns:
        The size and the next smaller one; None where there is none.
    """
    for i, size in enumerate(sizes):
        if size.fits and size.use is not None and size.use <= max_utilization:
            return size, sizes[i - 1] if i else None
    return None, None


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
    accident = np.array([one.ultimate for one in solution.rows])[:, None]
    uses = [
        float(worst(check, allowed=solution.allowed & (accident if check.on_accidents else ~accident),
                    shape=solution.shape).utilization)
        for check in link_checks(other)
        if check.part == strength.label
    ]  # fmt: skip
    return max(uses)


def _now(link: Link) -> str:
    size = link.diameter if link.kind == "wire rope" else link.size
    words = f"{fraction(size)} {link.kind}" if size is not None else link.kind
    return words if link.wll is None else f"{words} marked {write(link.wll, dimension='force')}"


# steel: numbers as one batch over the candidates of all parts, names of shapes one by one


def _steel(base: Base, *, parts: frozenset[str] | None, sure: bool) -> list[Choice]:
    there = [part for part in described(base.rig) if base.use(*part.parts) >= 0.0]
    wanted = [part for part in there if parts is None or parts & set(part.parts)]
    numeric = [part for part in wanted if not part.shaped]
    found = {part.key: sizes for part, sizes in zip(numeric, _stepped(base, numeric, sure=sure), strict=True)}
    choices = []
    for part in wanted:
        if part.shaped:
            chosen, smaller, source = _shape(base, part, sure=sure)
        else:
            chosen, smaller = pick(found[part.key], max_utilization=base.max_utilization)
            source = step_source(part)
        note = "" if chosen is not None else "no size tried passes: more must change than this"
        if chosen is not None and "measured" in chosen.changes:
            note = "the box must be weighed anew with it; it is counted by its take-off here"
        choices.append(
            Choice(part=part.part, count=part.count, now=now_words(base.rig, part), use_now=base.use(*part.parts),
                   chosen=chosen, smaller=smaller, source=source, listed=part.shaped or bool(part.gauges), note=note)
        )  # fmt: skip
    return choices


def _stepped(base: Base, parts: Sequence[Steel], *, sure: bool) -> list[list[Size]]:
    """Sizes of numeric parts with their utilizations: first in the rows that decide, then the choice in all."""
    if not parts:
        return []
    tried = [(part, _built(base, part, stepped(part))) for part in parts]
    names = frozenset(name for part in parts for name in part.parts)
    if not sure:
        larger = [
            (part, [one for one in sizes if _number(one, part.key) > base.rig.number(part.key)])
            for part, sizes in tried
        ]
        return _tried(base, larger, few=sieve(base.found, parts=names))
    known = _tried(base, tried, places=base.places(names))
    final = [
        (part, [size for size in pick(sizes, max_utilization=base.max_utilization) if size is not None])
        for part, sizes in zip(parts, known, strict=True)
    ]
    checked = _tried(base, final, places=None)
    found: list[list[Size]] = []
    again: list[tuple[int, Steel, list[Size]]] = []
    for part, sizes, looked in zip(parts, known, checked, strict=True):
        real = {size.words: size for size in looked}
        told = [real.get(size.words, size) for size in sizes]
        if pick(told, max_utilization=base.max_utilization)[0] != (looked[0] if looked else None):
            again.append((len(found), part, sizes))
        found.append(told)
    if again:
        for (place, _, _), told in zip(again, _tried(base, [(p, s) for _, p, s in again], places=None), strict=True):
            found[place] = told
    return found


def _built(base: Base, part: Steel, sizes: Sequence[Size]) -> list[Size]:
    """Sizes with what they change beside the part: another size in a box that was weighed makes it another box."""
    more = other_box(base.rig.case, part.key)
    return [replace(size, changes={**size.changes, **more}) for size in sizes]


def _tried(
    base: Base, parts: Sequence[tuple[Steel, Sequence[Size]]], *, places: Sequence[int] | None = None,
    few: Few | None = None,
) -> list[list[Size]]:  # fmt: skip
    """Batches in which each design changes one size of one part: one for the box as weighed, one for other boxes."""
    found: dict[str, list[Size]] = {}
    for scale in (False, True):
        group = [one for one in parts if one[1] and bool(other_box(base.rig.case, one[0].key)) == scale]
        if not group:
            continue
        more = other_box(base.rig.case, group[0][0].key)
        start = Rig(with_values(base.rig.case, more), base.rig.varied)
        wanted = [(part, size) for part, sizes in group for size in sizes]
        changes = {}
        for part, _ in group:
            now = float(start.number(part.key))
            changes[part.key] = np.array([_number(size, part.key) if one is part else now for one, size in wanted])
        batch = varied(start, changes)
        if few is not None:
            uses, _ = few_uses(batch, few)
            for i, (part, size) in enumerate(wanted):
                here = [float(np.broadcast_to(uses[name], (len(wanted),))[i]) for name in part.parts if name in uses]
                found.setdefault(part.key, []).append(replace(size, use=max(here, default=0.0)))
            continue
        judged = judge(batch, places=places)
        for i, (part, size) in enumerate(wanted):
            use, misfit = _part_use(judged, i, part.parts)
            found.setdefault(part.key, []).append(replace(size, use=use, fits=size.fits and not misfit))
    return [found.get(part.key, []) for part, _ in parts]


def _number(size: Size, key: str) -> float:
    value = size.changes[key]
    assert isinstance(value, float)
    return value


_WEIGHED = "contradicts what was weighed"
_FIT = ("pin_does_not_fit", "shackle_too_narrow", "weld_too_small")


def _part_use(judged: Judged, design: int, parts: tuple[str, ...]) -> tuple[float, bool]:
    """Utilization of parts of one size in one design, and whether it does not go together with its neighbors."""
    rows = [i for i, row in enumerate(judged.rows) if row.part in parts]
    misfit = any(one.where[design] for one in judged.findings if one.code in _FIT and one.about in parts)
    return float(judged.use[design, rows].max(initial=-1.0)), misfit


def _shape(base: Base, part: Steel, *, sure: bool) -> tuple[Size | None, Size | None, str]:
    """The lightest listed shape that passes.

    A shape is a name and not a number, so the batch cannot carry it: the names are tried from the lightest up, in the
    rows that decide, and the first that passes is looked at in all.
    """
    sizes = _built(base, part, shaped(base.rig, part))
    if not sizes:
        return None, None, "its kind of shape is not in the tables"
    source = shape_source(sizes, steel=part)
    decide = sieve(base.found, parts=frozenset(part.parts))

    def tried(size: Size, few: Few | None) -> Size:
        rig = Rig(with_values(base.rig.case, size.changes))
        try:
            if few is None:
                uses = [float(one.utilization) for one in assess(rig).worst if one.check.part in part.parts]
            else:
                uses = [float(use) for name, use in few_uses(rig, few)[0].items() if name in part.parts]
        except CaseError:  # no box with it can weigh what was weighed
            return replace(size, fits=False, why_not=_WEIGHED)
        return replace(size, use=max(uses, default=0.0))

    def passes(size: Size) -> bool:
        return pick([size], max_utilization=base.max_utilization)[0] is not None

    if not sure:
        weight = shapes.find(str(base.rig.value(part.key))).weight_per_length
        sizes = [size for size in sizes if shapes.find(str(size.changes[part.key])).weight_per_length > weight]
        if not sizes:
            return None, None, source
        few = sizes[bisect_left(sizes, True, hi=len(sizes) - 1, key=lambda size: passes(tried(size, decide))) :]
        return pick([tried(few[0], decide)], max_utilization=base.max_utilization)[0], None, source
    before: Size | None = None
    for size in sizes:
        if passes(tried(size, decide)):
            looked = tried(size, None)
            if passes(looked):
                return looked, None if before is None else tried(before, None), source
        before = size
    return None, None, source
