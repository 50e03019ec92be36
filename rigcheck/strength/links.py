"""Strength of the links of a line: working and breaking capacity of each, and how much each gives."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from rigcheck.case.models import Link
from rigcheck.case.rig import Rig
from rigcheck.strength.arrays import Array
from rigcheck.tables import hardware, rope

HOISTS = ("lever hoist", "come-along")
BAND_END = 5.0  # degrees: a pull within this of the plane of a shackle counts as in line; WAC 296-155-33905 (seen)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class LinkStrength:
    """One link of the line.

    Attributes:
        label: What the tables call it, such as "line link 2: lever hoist".
        kind: Kind of link.
        share: What it carries over the tension of the line. [1]
        working: Working load limit or allowable, wear and ends counted, side pull not, shape (...). [lbf]
        ultimate: Breaking strength where one is published, shape (...). [lbf]
        basis: How the working capacity comes about, in words.
        clause: Source of the numbers.
        side_angle: Declared pull off its own plane. [deg]
        at_lug: True where it hangs on a lug and so sees the splay of the line.
        suspends: False for a device that may pull but not hold.
        give: Length it gives per pound of line tension, None where not described, shape (...). [in/lbf]
        remarks: Codes and sentences for what must be said about it.
    """

    label: str
    kind: str
    share: float
    working: Array
    ultimate: Array | None
    basis: str
    clause: str
    side_angle: float
    at_lug: bool
    suspends: bool
    give: Array | None
    remarks: tuple[tuple[str, str], ...] = field(default=())


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


_WORDS = {"line.link": "line link", "line.keeper": "keeper link", "second_line.link": "second line link"}


def links(rig: Rig, *, table: str = "line.link") -> list[LinkStrength]:
    """Every link of one line, hanger to perch.

    Args:
        rig: The rig, one or a batch.
        table: Which links: `line.link`, `line.keeper` or `second_line.link`.

    Returns:
        Strengths in the order of the case file.

    Source: docs/method.md#links.
    """
    found = rig.value(table) or ()
    word = _WORDS[table]
    last = len(found) - 1
    return [
        _strength(
            rig, f"{table}.{i}", link=link, label=f"{word} {i + 1}: {link.name or link.kind}", at_lug=i in (0, last)
        )
        for i, link in enumerate(found)
    ]


def _strength(rig: Rig, key: str, *, link: Link, label: str, at_lug: bool) -> LinkStrength:
    kept = 1.0 - rig.number("line.wear")
    working, ultimate, basis, clause, remarks = _capacity(rig, key, link=link)
    fraction = _bolt_fraction(link)
    worn = float(np.max(rig.number("line.wear")))
    if worn > 0.0:
        basis = f"{basis}, less {100.0 * worn:.3g} % wear"
    pull_only, why = _pull_only(link)
    if pull_only:
        remarks = (*remarks, ("pull_only", why))
    return LinkStrength(
        label=label,
        kind=link.kind,
        share=_share(rig, link),
        working=working * kept * fraction,
        ultimate=None if ultimate is None else ultimate * kept * fraction,
        basis=basis,
        clause=clause,
        side_angle=float(np.degrees(link.side_angle)),
        at_lug=at_lug and link.kind == "shackle",
        suspends=not pull_only,
        give=_give(rig, key, link=link),
        remarks=remarks,
    )


def _bolt_fraction(link: Link) -> float:
    """What an eyebolt keeps at its declared angle; others keep all (a shackle's side pull is counted per state)."""
    if link.kind != "eyebolt":
        return 1.0
    return hardware.eyebolt_angle_fraction(float(np.degrees(link.side_angle)))


def _share(rig: Rig, link: Link) -> float:
    parts = int(rig.value("line.parts"))
    carries = link.carries
    if parts == 1 or carries == "line":
        return 1.0
    return 1.0 / parts if carries == "part" else 1.0 / (parts * float(rig.value("line.sheave_efficiency")))


def perch_share(rig: Rig) -> float:
    """Pull on the perch over the tension of the line: all its parts, and the lead where there is one. [1]"""
    parts = int(rig.value("line.parts"))
    if parts == 1:
        return 1.0
    return 1.0 + 1.0 / (parts * float(rig.value("line.sheave_efficiency")))


def _pull_only(link: Link) -> tuple[bool, str]:
    if link.kind in HOISTS and not link.suspends:
        return True, f"the {link.kind} is not marked for holding a hung load: it may pull, it may not hold"
    if link.kind == "chain" and link.grade and link.size:
        rating = hardware.chain(link.size, grade=link.grade)
        if not rating.lifting_allowed:
            return True, f"{rating.note}: it may tie down, it may not hold the box up"
    return False, ""


Capacity = tuple[Array, Array | None, str, str, tuple[tuple[str, str], ...]]


def _capacity(rig: Rig, key: str, *, link: Link) -> Capacity:
    if link.kind == "wire rope":
        return _rope(rig, key, link=link)
    rating = _listed(link)
    marked = rig.has(f"{key}.wll")
    if marked:
        working = rig.number(f"{key}.wll")
        basis, clause = "marked working load limit", "mark on the part, case file"
    elif rating is not None:
        working = np.asarray(rating.wll)
        basis, clause = f"listed working load limit ({rating.known})", f"{rating.source}; {rating.clause}"
    else:
        working = rig.number(f"{key}.mbf") / rig.number("factors.chain_design")
        basis, clause = "breaking force over the chain design factor", "ASME B30.9 (memory)"
    ultimate: Array | None = None
    if rig.has(f"{key}.mbf"):
        ultimate = rig.number(f"{key}.mbf")
    elif rating is not None:
        ultimate = np.minimum(rating.mbf, working * rating.design_factor) if marked else np.asarray(rating.mbf)
    elif link.kind in ("shackle", "turnbuckle") and marked:
        ultimate = working * 5.0  # ASME B30.26 least design factor for rigging hardware (memory)
    return working, ultimate, basis, clause, ()


def _listed(link: Link) -> hardware.Rating | None:
    """The table's rating of a link that names its size, None where it does not."""
    if link.size is None:
        return None
    if link.kind == "shackle":
        return hardware.shackle(link.size, grade=link.grade or "carbon")
    if link.kind == "chain" and link.grade:
        return hardware.chain(link.size, grade=link.grade)
    if link.kind == "turnbuckle":
        return hardware.turnbuckle(link.size, end=link.end or "hook")
    if link.kind == "eyebolt":
        return hardware.eyebolt(link.size)
    return None


def bend_ratio(link: Link) -> float:
    """Pin over rope diameter where the eye of a rope goes round a pin, one where the rope's diameter is not known."""
    return float(link.bend_over / link.diameter) if link.bend_over and link.diameter else 1.0


def _rope(rig: Rig, key: str, *, link: Link) -> Capacity:
    row = None
    if link.table and link.diameter:
        row = rope.rope(link.table, diameter=link.diameter, column=link.column or "")
    remarks: list[tuple[str, str]] = []
    efficiency, words = 1.0, ""
    if link.ends:
        core = row.fibre_core if row else True
        size = link.diameter or np.inf  # thick ropes keep the least
        end = rope.termination(link.ends, diameter=size, fibre_core=core, stainless=bool(row and row.stainless))
        efficiency, words = end.efficiency, f" x {end.efficiency:g} ({link.ends}, {end.source})"
        remarks += _clip_remarks(link, accepted=end.accepted)
    if link.bend_over:
        ratio = bend_ratio(link)
        bend = rope.bend_efficiency(ratio)
        told = f"bent over {ratio:.3g} diameters" if link.diameter else "bent, its diameter not known"
        efficiency, words = efficiency * bend, f"{words} x {bend:.3g} ({told})"
        if not rope.bend_in_table(ratio):
            remarks.append(
                ("bend_off_table", "the rope goes round a pin thinner than itself: no strength is published")
            )
    breaking: Array | None = None
    clause = "case file"
    if rig.has(f"{key}.mbf"):
        breaking = rig.number(f"{key}.mbf") * efficiency
    elif row is not None:
        breaking = np.asarray(row.mbf * efficiency)
        clause = f"{row.source}; {row.clause} ({row.known})"
    if rig.has(f"{key}.wll"):
        return (
            rig.number(f"{key}.wll") * efficiency,
            breaking,
            f"marked working load limit{words}",
            clause,
            tuple(remarks),
        )
    if breaking is None:
        raise ValueError(f"{key}: a rope needs a table, a breaking force or a mark")
    factor = rig.number("factors.rope_design")
    basis = f"breaking force{words} / {float(np.max(factor)):g}"
    return breaking / factor, breaking, basis, clause, tuple(remarks)


def _clip_remarks(link: Link, *, accepted: bool) -> list[tuple[str, str]]:
    found: list[tuple[str, str]] = []
    if not accepted:
        found.append(("clips_reversed", "reversed clips crush the live end: nothing may hang from them"))
    if link.ends == "clips" and link.diameter:
        need = rope.clip_count(link.diameter).forged
        if link.clips is None:
            found.append(("clips_uncounted", f"the number of clips is not stated; this rope needs {need} at each eye"))
        elif link.clips < need:
            found.append(("too_few_clips", f"{link.clips} clips at an eye that needs {need}"))
    return found


def _give(rig: Rig, key: str, *, link: Link) -> Array | None:
    """Stretch per pound of line tension; short forged parts are rigid beside rope, None where it is not described."""
    share = _share(rig, link)
    if rig.has(f"{key}.stiffness"):
        return share / rig.number(f"{key}.stiffness")
    if link.kind in ("shackle", "hook", "eyebolt", "turnbuckle", "rated part"):
        return np.zeros(())
    if link.kind == "wire rope" and rig.has(f"{key}.length"):
        length = rig.number(f"{key}.length")
        if rig.has(f"{key}.area") and rig.has(f"{key}.modulus"):
            return share * length / (rig.number(f"{key}.area") * rig.number(f"{key}.modulus"))
        if link.table and link.diameter:
            return np.asarray(share * length / rope.rope_stiffness(link.table, diameter=link.diameter).low)
    return None
