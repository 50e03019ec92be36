"""Strength of the links of a line: working and breaking capacity of each, and how much each gives."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rigcheck.analysis.links.rating import rated
from rigcheck.analysis.links.ways import Rated, Remark, least
from rigcheck.arrays.types import Array
from rigcheck.case.models.case import Link
from rigcheck.case.rig import Rig
from rigcheck.strength.connections.links import lead_share, part_share, worn
from rigcheck.tables import hardware, rope
from rigcheck.tables.link_kinds import HOISTS, LINK_KINDS

BAND_END = 5.0  # degrees: a pull within this of the plane of a shackle counts as in line; WAC 296-155-33905 (seen)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class LinkStrength:
    """One link of the line.

    Attributes:
        key: Where it stands in the case, such as "line.link.1".
        label: What the tables call it, such as "line link 2: lever hoist".
        kind: Kind of link.
        share: What it carries over the tension of the line. [1]
        working: Working load limit or allowable, wear and ends counted, side pull not, shape (...). [lbf]
        ultimate: Breaking strength where one is published, shape (...). [lbf]
        basis: How the working capacity comes about, in words.
        clause: Source of the numbers.
        side_angle: Declared pull off its own plane. [deg]
        at_lug: True where it hangs on a lug and so sees the splay of the line.
        rated_to_suspend: False for a device that may pull but not hold.
        give: Length it gives per pound of line tension, None where not described, shape (...). [in/lbf]
        remarks: What must be said about it.
        rating: How its strengths come about.
    """

    key: str
    label: str
    kind: str
    share: float
    working: Array
    ultimate: Array | None
    basis: str
    clause: str
    side_angle: float
    at_lug: bool
    rated_to_suspend: bool
    give: Array | None
    remarks: tuple[Remark, ...]
    rating: Rated

    @property
    def unknown(self) -> str:
        """Why nothing can be held against it, empty where it can."""
        return self.rating.unknown


def side_fraction(angle: Array) -> Array:
    """What a shackle keeps of its rating when pulled off its plane, by bands.

    Args:
        angle: Off the plane of the bow, shape (...). [deg]

    Returns:
        Fraction kept, shape (...).

    Source: shackle side-load chart (seen); bands of WAC 296-155-33905(4) (seen).
    """
    bands = [BAND_END, 45.0, 90.0]
    kept = [hardware.shackle_side_fraction(band) for band in bands]
    return np.select([np.abs(angle) <= band + 1e-9 for band in bands], kept, default=0.0)


SECOND = "second_line.link"
_WORDS = {"line.link": "line link", "line.backup": "backup link", SECOND: "second line link"}


def links(rig: Rig, *, table: str = "line.link", called: str = "") -> list[LinkStrength]:
    """Every link of one line, hanger to perch.

    Args:
        rig: The rig, one or a batch.
        table: Which links: `line.link`, `line.backup` or `second_line.link`.
        called: What each is called, where other than by its table.

    Returns:
        Strengths in the order of the case file.

    Source: docs/method.md#links.
    """
    found = rig.value(table) or ()
    word = called or _WORDS[table]
    last = len(found) - 1
    return [
        _strength(
            rig, f"{table}.{i}", link=link, label=f"{word} {i + 1}: {link.name or link.kind}", at_lug=i in (0, last)
        )
        for i, link in enumerate(found)
    ]


def _strength(rig: Rig, key: str, *, link: Link, label: str, at_lug: bool) -> LinkStrength:
    rating = rated(rig, key=key, link=link)
    basis, remarks = rating.basis, rating.remarks
    most_worn = float(np.max(rig.number("line.wear")))
    if most_worn > 0.0:
        basis = f"{basis}, less {100.0 * most_worn:.3g} % wear"
    pull_only, why = _pull_only(link)
    if pull_only:
        remarks = (*remarks, Remark("pull_only_holds", why))
    return LinkStrength(
        key=key,
        label=label,
        kind=link.kind,
        share=_share(rig, link),
        working=worn(least(rating.working), wear=rig.number("line.wear")),
        ultimate=worn(least(rating.ultimate), wear=rig.number("line.wear")) if rating.ultimate else None,
        basis=basis,
        clause=rating.clause,
        side_angle=float(np.degrees(link.side_angle or 0.0)),
        at_lug=at_lug and link.kind == "shackle",
        rated_to_suspend=not pull_only,
        give=_give(rig, key, link=link),
        remarks=remarks,
        rating=rating,
    )


def _share(rig: Rig, link: Link) -> float:
    parts = int(rig.value("line.parts"))
    carries = link.carries
    if parts == 1 or carries == "line":
        return 1.0
    one = part_share(parts) if carries == "part" else lead_share(parts, efficiency=rig.value("line.sheave_efficiency"))
    return float(one)


def perch_share(rig: Rig) -> float:
    """Pull on the perch over the tension of the line: all its parts, and the lead where there is one. [1]"""
    parts = int(rig.value("line.parts"))
    if parts == 1:
        return 1.0
    return 1.0 + 1.0 / (parts * float(rig.value("line.sheave_efficiency")))


def _pull_only(link: Link) -> tuple[bool, str]:
    if link.kind in HOISTS and not link.rated_to_suspend:
        return True, f"the {link.kind} is not marked for holding a hung load: it may pull, it may not hold"
    grade = hardware.chain_grade(link.grade) if link.kind == "chain" and link.grade else ""
    if grade in hardware.CHAIN_GRADES and not hardware.chain_lifts(grade):
        return True, f"grade {grade} is not for overhead lifting: it may tie down, it may not hold the box up"
    return False, ""


def _give(rig: Rig, key: str, *, link: Link) -> Array | None:
    """Stretch per pound of line tension of all alike in a row, None where it is not described.

    Short forged parts are rigid beside rope.
    """
    share = _share(rig, link) * link.count
    if rig.has(f"{key}.stiffness"):
        return share / rig.number(f"{key}.stiffness")
    if LINK_KINDS[link.kind].stiff:
        return np.zeros(())
    if link.kind == "wire rope" and rig.has(f"{key}.length"):
        length = rig.number(f"{key}.length")
        if rig.has(f"{key}.area") and rig.has(f"{key}.modulus"):
            return share * length / (rig.number(f"{key}.area") * rig.number(f"{key}.modulus"))
        if link.table and link.diameter:
            return np.asarray(share * length / rope.rope_stiffness(link.table, diameter=link.diameter).low)
    return None
