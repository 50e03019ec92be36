"""Lines against their ratings: every link in every state, backups, pull-only devices, one parted line."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from rigcheck.analysis.links.capacity import LinkStrength, side_fraction
from rigcheck.analysis.missing import Missing
from rigcheck.analysis.rows import Check, Flag
from rigcheck.analysis.solve import Solution
from rigcheck.arrays.types import Array, Mask
from rigcheck.parts.lug.checks import lug_pull
from rigcheck.strength.connections.links import link_pull, pulled_aside
from rigcheck.tables.link_kinds import HOISTS
from rigcheck.tables.load_cases import FOLDING

_STOPS = frozenset({"clips_reversed", "too_few_clips", "eyebolt_pulled_aside"})  # nothing may hang from these
BACKUP_DROP = 0.25  # in: more slack than this is a drop and not a load; design limit of our own


def _set_rows(solution: Solution) -> Mask:
    """Rows in which the lines are set and left at their running length, shape (state, bound, side).

    A backup is cut to that length: in the fold, and parked folded on the lines, it hangs slack.
    """
    aloft = np.array([row.variant.get("while") == FOLDING for row in solution.rows], dtype=np.bool_)
    aloft |= solution.cases(lambda case: case.backup_slack)
    return np.asarray(~aloft[:, None, None] & ~solution.alone[..., None])


def _kept_rows(solution: Solution) -> Mask:
    """Rows that a backup must hold: set and left, and those where one line parts while it is, (state, bound, side)."""
    parted = np.array([row.ultimate and row.variant.get("while", FOLDING) != FOLDING for row in solution.rows],
                      dtype=np.bool_)  # fmt: skip
    return np.asarray(_set_rows(solution) | parted[:, None, None])


def _pulled_aside(solution: Solution, link: LinkStrength, *, ends: Sequence[str]) -> Array:
    """Fraction of a shackle's rating left by the pull off its plane, shape (..., state, 1, 1).

    A shackle on a lug stands in the plane of that lug, wherever the lug is turned.

    Args:
        solution: The statics.
        link: The link.
        ends: Lugs that it hangs on.
    """
    square = np.zeros_like(solution.pose.uy)
    if link.kind != "shackle":
        return np.ones_like(square)[..., None, None]
    for end in ends:
        turned = solution.rig.has(f"{end}.lug")
        square = np.maximum(square, lug_pull(solution, end=end).aside if turned else np.abs(solution.pose.uy))
    angle = np.maximum(np.degrees(np.arcsin(np.clip(square, 0.0, 1.0))), link.side_angle)
    return side_fraction(angle)[..., None, None]


def _on_lugs(links: Sequence[LinkStrength]) -> list[tuple[LinkStrength, tuple[str, ...]]]:
    """Each link with the lugs it hangs on: the first on the hanger, the last on the perch."""
    last = len(links) - 1
    ends = [tuple(end for end, at in (("hanger", 0), ("perch", last)) if i == at) for i in range(len(links))]
    return list(zip(links, ends, strict=True))


def link_checks(solution: Solution) -> list[Check]:
    """Every link against its rating, and against strength for the accident that one line parts.

    Args:
        solution: The statics.

    Returns:
        Checks; a link without a published strength has none for the accident.
    """
    tension = solution.demand.tension
    checks: list[Check] = []
    spanned = bool(solution.backup)
    for link, ends in [*_on_lugs(solution.links), *_on_lugs(solution.backup)]:
        if link.unknown:
            continue
        aside = _pulled_aside(solution, link, ends=ends)
        where = np.asarray(True)
        if link.kind in HOISTS:  # it pulls its own rating where the box is snagged
            where = ~solution.cases(lambda case: case.full_pull)[:, None, None]
        if link in solution.backup:
            where = _kept_rows(solution)
        elif spanned and not link.rated_to_suspend:
            where = where & ~_set_rows(solution)
        side = "" if np.all(aside == 1.0) else ", side pull counted"
        for capacity, ultimate in ((link.working, False), (link.ultimate, True)):
            if capacity is None:
                continue
            checks.append(
                Check(
                    part=link.label,
                    key=link.key,
                    group="line",
                    mode="breaking strength" if ultimate else "working load limit",
                    unit="force",
                    demand=link_pull(tension, share=link.share),
                    capacity=pulled_aside(capacity[..., None, None, None], kept=aside),
                    basis=("published breaking strength" if ultimate else link.basis) + side,
                    clause=link.clause,
                    ultimate=ultimate,
                    where=where,
                )
            )
    return checks


def unrated(solution: Solution) -> list[Missing]:
    """Links without a published breaking strength, which the accident of a parted line cannot be held against."""
    return [
        Missing(f"{link.label}, if one line breaks (no breaking force known)", id=f"{link.key}.mbf", group="line",
                accident=True)
        for link in (*solution.links, *solution.backup)
        if link.ultimate is None and not link.unknown
    ]  # fmt: skip


def links_not_assessed(solution: Solution) -> list[Missing]:
    """Links of which too little is known, and those that the accident of a parted line cannot be held against."""
    missing = [
        Missing(f"{link.label} ({link.unknown})", id=link.key, group="line")
        for link in (*solution.links, *solution.backup)
        if link.unknown
    ]
    return [*missing, *(unrated(solution) if any(row.ultimate for row in solution.rows) else ())]


def forbidden(solution: Solution) -> Mask:
    """Rows with people on a box that a hoist or come-along holds and no backup, shape (state, bound, side)."""
    manned = np.array([row.manned and not row.ultimate for row in solution.rows], dtype=np.bool_)
    manned &= int(solution.rig.value("person.people")) > 0
    kept = _set_rows(solution) if solution.backup else np.zeros((), dtype=np.bool_)
    return np.asarray(manned[:, None, None] & ~kept)


def line_flags(solution: Solution) -> list[Flag]:
    """What must be said of the lines themselves."""
    flags: list[Flag] = []
    set_rows = _set_rows(solution)
    for link in [*solution.links, *solution.backup]:
        for remark in link.remarks:
            code, text = remark.code, remark.text
            if code == "pull_only_holds":
                cleared = bool(solution.backup) and link not in solution.backup
                free = ~solution.cases(lambda case: case.full_pull)[:, None, None]
                where = (~set_rows if cleared else np.asarray(True)) & free
                tail = "; the backup holds only what is set and left" if cleared else ""
                flags.append(
                    Flag(
                        code="pull_only_holds",
                        text=f"{link.label}: {text}{tail}",
                        where=where,
                        stops=True,
                        about=link.label,
                    )
                )
            else:
                stops = code in _STOPS
                where = remark.where[..., None, None, None]
                flags.append(Flag(code=code, text=f"{link.label}: {text}", where=where, stops=stops, about=link.label))
    slack = solution.rig.number("line.backup_slack")
    if solution.backup:
        text = (
            f"the backup has more than {BACKUP_DROP:g} in of slack: if the device lets go the box drops before it"
            " holds, and a drop is several times the load"
        )
        flags.append(Flag(code="backup_drop", text=text, where=(slack > BACKUP_DROP)[..., None, None, None]))
    if any(link.kind in HOISTS for link in solution.links):
        text = (
            "a person on a box held by a hoist or come-along, a case that the cautions forbid: no such device may hold"
            " people; block the box mechanically first"
        )
        flags.append(Flag(code="person_on_hung_box", text=text, where=forbidden(solution)))
    loose = [link.label for link in solution.links if link.give is None]
    if loose:
        text = f"stretch not described for {', '.join(loose)}: taken as rigid, so the tail drops further than shown"
        flags.append(Flag(code="give_unknown", text=text, where=np.asarray(True)))
    return flags
