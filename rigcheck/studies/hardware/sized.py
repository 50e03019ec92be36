"""Steel parts: numbers as one batch over the candidates of all parts, names of shapes by outline."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from rigcheck.case.rig import Rig, varied
from rigcheck.studies.hardware.base import Base, pick
from rigcheck.studies.hardware.lightest import Tries, heavier_roughly, lightest
from rigcheck.studies.hardware.record import Choice, Size
from rigcheck.studies.hardware.steel import (
    Steel,
    described,
    now_words,
    shape_source,
    shaped,
    step_source,
    stepped,
)  # fmt: skip
from rigcheck.studies.sieve import sieve
from rigcheck.studies.spread.few import Few, few_uses
from rigcheck.studies.vary.batch import Judged, judge
from rigcheck.studies.vary.case import other_box, with_values

_MORE = 4  # sizes of a part that are looked at in all rows at a time, once its first choice was over there


def steel_choices(base: Base, *, parts: frozenset[str] | None, sure: bool) -> list[Choice]:
    """The smallest size of some steel parts; arguments as `choices_for` has them."""
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
    return _surely(base, tried, known=_tried(base, tried, places=base.places(names)))


def _surely(
    base: Base, tried: Sequence[tuple[Steel, Sequence[Size]]], *, known: Sequence[list[Size]]
) -> list[list[Size]]:
    """Sizes as they are in the rows that decide; the first that passes, and the one before it, as they are in all.

    What does not pass in some rows does not pass in all, so that only what stands behind a choice that is over there is
    looked at again, a few sizes at a time.
    """
    found = [list(sizes) for sizes in known]
    looked: list[set[int]] = [set() for _ in tried]
    count = 2
    while True:
        wanted = [_open(sizes, looked=seen, base=base, count=count) for sizes, seen in zip(found, looked, strict=True)]
        if not any(wanted):
            return found
        chosen = [(part, [sizes[at] for at in places])
                  for (part, _), sizes, places in zip(tried, found, wanted, strict=True)]  # fmt: skip
        for sizes, seen, places, real in zip(found, looked, wanted, _tried(base, chosen), strict=True):
            for at, size in zip(places, real, strict=True):
                sizes[at] = size
            seen.update(places)
        count = _MORE


def _open(sizes: Sequence[Size], *, looked: set[int], base: Base, count: int) -> list[int]:
    """Places of the choice, the one before it and some behind it, unless both were looked at in all rows."""
    passing = [at for at, size in enumerate(sizes) if pick([size], max_utilization=base.max_utilization)[0] is not None]
    if not passing or (passing[0] in looked and (passing[0] == 0 or passing[0] - 1 in looked)):
        return []
    near = [at for at in (passing[0] - 1, *passing) if at >= 0 and at not in looked]
    return near[:count]


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


_FIT = ("pin_does_not_fit", "shackle_too_narrow", "weld_too_small")


def _part_use(judged: Judged, design: int, parts: tuple[str, ...]) -> tuple[float, bool]:
    """Utilization of parts of one size in one design, and whether it does not go together with its neighbors."""
    rows = [i for i, row in enumerate(judged.rows) if row.part in parts]
    misfit = any(one.where[design] for one in judged.findings if one.code in _FIT and one.about in parts)
    return float(judged.use[design, rows].max(initial=-1.0)), misfit


def _shape(base: Base, part: Steel, *, sure: bool) -> tuple[Size | None, Size | None, str]:
    """The lightest listed shape that passes, the one before it, and where they come from.

    A shape is a name and not a number, so the batch cannot carry it: the names are tried one by one, in the rows that
    decide, and what passes is looked at in all.
    """
    sizes = _built(base, part, shaped(base.rig, part))
    if not sizes:
        return None, None, "its kind of shape is not in the tables"
    tries, source = Tries(base, part, sizes), shape_source(sizes, steel=part)
    if not sure:
        return heavier_roughly(tries), None, source
    return *lightest(tries), source
