"""One line parts: in every state that holds a load, and on the way up."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from rigcheck.loads.pieces import ALONE, SHARED, Row
from rigcheck.loads.sharing import pivots
from rigcheck.loads.slopes import EASY, STEEP, WAYS, Ground, every_way, sided
from rigcheck.tables.load_cases import LINE_BROKEN

FOLD_LOST = 5  # at every so many angles of the fold a line is let part


def line_broken(level: Mapping[str, Sequence[Row]], *, swept: Sequence[Row], on: Ground) -> list[Row]:
    """Each side in turn parts in each of some states.

    The loads are those of the row it happens in, without their own dynamic factor: the jump has its own. The plant
    leans toward the load that stands on one side, which leaves the line on the other side the least share before it
    must carry all; it leans to either end, and the rails are bent on the steep ground alone. On a center pivot
    nothing but a backup keeps the box from rolling then: it takes its own side's share at once, but on the way up it
    hangs slack.

    Args:
        level: State to its rows on level ground.
        swept: Rows of the fold, the plant leaning in them already.
        on: The ground.

    Returns:
        The rows.

    Source: docs/method.md#line-broken.
    """
    jump = f"x {float(np.max(on.rig.number('factors.line_broken'))):.4g}"
    free = pivots(on.rig)
    factor = f"one line breaks and its backup takes over, load {jump}" if free else f"one line breaks, jump {jump}"
    found: list[Row] = []
    for rows in level.values():
        for row in rows:
            side = sided(row)
            lows = (side,) if side else (("left",) if on.even else tuple(WAYS))
            bare = _parted(row, factor=factor, bounds=SHARED if free else ALONE)
            found += every_way(bare, on=on, lows=lows, ends=(STEEP,))
            if on.leans_along:
                found += every_way(replace(bare, bend=False), on=on, lows=lows, ends=(EASY,))
    return found + _on_the_way_up(swept, factor=factor, on=on)


def _on_the_way_up(swept: Sequence[Row], *, factor: str, on: Ground) -> list[Row]:
    rows = [row for row in swept if row.sweep][::FOLD_LOST]
    if not rows:
        return []
    bounds = SHARED if pivots(on.rig) else ALONE
    bare = replace(_parted(rows[0], factor=factor, bounds=bounds), bend=False, sweep=False)
    found = []
    for row in rows:
        for low in on.sides if on.leans_across else on.sides[:1]:
            variant = {"while": row.state, **row.variant} | ({"low_side": low} if on.leans_across else {})
            gravity = (row.gravity[0], WAYS[low] * on.across, row.gravity[2])
            found.append(replace(bare, variant=variant, fold=row.fold, gravity=gravity, told=row.told))
    return found


def _parted(row: Row, *, factor: str, bounds: frozenset[str]) -> Row:
    return replace(
        row,
        state=LINE_BROKEN,
        variant={"while": row.state, **row.variant},
        strips=[replace(strip, gain=np.ones(())) for strip in row.strips],
        lumps=[replace(lump, gain=1.0) for lump in row.lumps],
        bounds=bounds,
        factor=factor,
        ultimate=True,
    )
