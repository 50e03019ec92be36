"""What one link is rated: its mark, its table, its grade, its ends and its eye, and what is not known of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from rigcheck.case.models import Link
from rigcheck.case.rig import Rig
from rigcheck.strength.arrays import Array
from rigcheck.tables import hardware, rope

MOST_OVER = 1.5
"""A mark over so many times the highest published rating of its size is asked about. Source: a bound of our own, over
the spread of the makers' tables seen."""
EYES = ("clips", "clips reversed", "mechanical splice", "hand splice")
"""Ends of rope that make an eye, which goes round a pin or a thimble."""
_INLINE = ("shackle", "eyebolt")  # kinds whose pull off their line a published table reduces


@dataclass(frozen=True, slots=True)
class Factor:
    """Something that a strength is multiplied or divided by.

    Attributes:
        symbol: As the worked calculation writes it.
        value: The factor, shape (...). [1]
        words: What it is.
        divides: True where the strength is divided by it.
    """

    symbol: str
    value: Array | float
    words: str
    divides: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Way:
    """One way in which a strength is known; the least of all ways holds.

    Attributes:
        symbol: "WLL" or "MBF".
        start: Mark or published force, shape (...). [lbf]
        words: What that is.
        factors: What it is multiplied and divided by.
    """

    symbol: str
    start: Array
    words: str
    factors: tuple[Factor, ...] = ()

    @property
    def value(self) -> Array:
        """The strength, shape (...). [lbf]"""
        value = np.asarray(self.start, dtype=np.float64)
        for one in self.factors:
            value = value / one.value if one.divides else value * one.value
        return np.asarray(value)


@dataclass(frozen=True, slots=True)
class Assumed:
    """What was taken for something that the case does not say.

    Attributes:
        word: Key of the link.
        value: What was taken, in words.
        source: Where that comes from.
    """

    word: str
    value: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Rated:
    """The rating of one link, new and pulled in its plane.

    Attributes:
        working: Ways to its working value.
        ultimate: Ways to its breaking strength; none where none is published.
        basis: How the working value comes about, in words.
        clause: Source of the numbers.
        remarks: Codes and sentences for what must be said about it.
        assumed: What was taken for what the case does not say.
        unknown: Why nothing can be held against it, empty where it can.
    """

    working: tuple[Way, ...]
    ultimate: tuple[Way, ...]
    basis: str
    clause: str
    remarks: tuple[tuple[str, str], ...] = ()
    assumed: tuple[Assumed, ...] = ()
    unknown: str = ""


def least(ways: Sequence[Way]) -> Array:
    """The least of some ways, shape (...). [lbf]"""
    value = ways[0].value
    for way in ways[1:]:
        value = np.minimum(value, way.value)
    return value


def rated(rig: Rig, key: str, *, link: Link) -> Rated:
    """Rate one link.

    Args:
        rig: The rig, one or a batch.
        key: Where the link stands, such as `line.link.1`.
        link: What the case says of it.

    Source: docs/method.md#links.
    """
    return _rope(rig, key, link=link) if link.kind == "wire rope" else _part(rig, key, link=link)


def published(link: Link) -> hardware.Rating | None:
    """The table's rating of a link that names its size, that of an unmarked one where mark and grade are missing."""
    if link.size is None:
        return None
    if link.kind == "shackle":
        bare = link.grade is None and link.wll is None
        return hardware.shackle_without_mark(link.size) if bare else _shackle(link.size, link.grade)
    if link.kind == "chain" and link.grade:
        return hardware.chain(link.size, grade=link.grade)
    if link.kind == "turnbuckle":
        return hardware.turnbuckle(link.size, end=link.end or "hook")
    return hardware.eyebolt(link.size) if link.kind == "eyebolt" else None


def _shackle(size: float, grade: str | None) -> hardware.Rating:
    return hardware.shackle(size, grade=grade or "carbon")


def _highest(link: Link) -> float:
    """The highest rating published for a link of this size, 0 where none is. [lbf]"""
    if link.kind == "wire rope" and link.table and link.diameter:
        row = rope.rope(link.table, diameter=link.diameter, column=link.column or "")
        return row.mbf / hardware.least_design_factor(link.kind)
    if link.size is None:
        return 0.0
    if link.kind == "shackle" and link.grade is None:
        grades = [one for one in hardware.SHACKLE_GRADES if link.size in hardware.shackle_sizes(one)]
        return max(hardware.shackle(link.size, grade=one).wll for one in grades)
    if link.kind == "turnbuckle" and link.end is None:
        return hardware.turnbuckle(link.size, end="jaw").wll
    listed = published(link)
    if listed is None:
        return 0.0
    return max(listed.wll, hardware.eyebolt_most(link.size)) if link.kind == "eyebolt" else listed.wll


def _mark(
    rig: Rig, key: str, *, link: Link, otherwise: float, remarks: list[tuple[str, str]]
) -> tuple[Array, str, str]:
    """The mark of a link, its words, and how its basis tells it; what is published where nobody marks it so high."""
    mark, most = rig.number(f"{key}.wll"), MOST_OVER * _highest(link)
    odd = (mark > most) & (most > 0.0)
    if not np.any(odd):
        return mark, "working load limit marked on it", "marked working load limit"
    remarks.append(
        ("mark_over_size", f"marked over {MOST_OVER:g} times the {most / MOST_OVER:,.0f} lb that is published for its"
         f" size: what is on the tag? {otherwise:,.0f} lb is taken until that is known")
    )  # fmt: skip
    words = "published for its size, as its mark is too high for it"
    return np.where(odd, np.minimum(otherwise, mark), mark), f"working load limit {words}", words


def _broken_under(
    rig: Rig, key: str, *, link: Link, factor: float, rating: Array, remarks: list[tuple[str, str]]
) -> bool:
    """Whether a stated breaking force is under what a standard asks of a rated load; says so."""
    low = bool(np.any(rig.number(f"{key}.mbf") < factor * rating * (1.0 - 1e-9)))
    if low:
        remarks.append(
            ("design_factor_low", f"its breaking force is under {factor:g} times its working load limit, the least"
             " design factor of its standard: the breaking force over that factor is taken")
        )  # fmt: skip
    return low


def _part(rig: Rig, key: str, *, link: Link) -> Rated:
    """A forged part, a chain, a hoist."""
    listed, marked, broken = published(link), rig.has(f"{key}.wll"), rig.has(f"{key}.mbf")
    factor = hardware.least_design_factor(link.kind)
    remarks: list[tuple[str, str]] = []
    aside = _aside(link)
    kept = () if aside is None else (Factor("k_e", aside, f"left of it at {_angle_words(link)}"),)
    working: list[Way] = []
    basis, clause = f"breaking force / {factor:g}", "least design factor of its standard (memory)"
    if marked:
        start, words, basis = _mark(rig, key, link=link, remarks=remarks,
                                    otherwise=_highest(link) if listed is None else listed.wll)  # fmt: skip
        working.append(Way("WLL", start, words, kept))
        clause = "mark on the part, case file"
    elif listed is not None:
        words = f"working load limit listed for its size ({listed.known})"
        working.append(Way("WLL", np.asarray(listed.wll), words, kept))
        basis, clause = f"listed working load limit ({listed.known})", f"{listed.source}; {listed.clause}"
    if broken:
        rating = working[0].start if working else np.zeros(())
        if _broken_under(rig, key, link=link, factor=factor, rating=rating, remarks=remarks):
            basis = f"breaking force / {factor:g}, under its mark"
        over = Factor("f_d", factor, "least design factor of its standard", divides=True)
        working.append(Way("MBF", rig.number(f"{key}.mbf"), "breaking force published for it", (over, *kept)))
    unknown, told = _unknown(link)
    return Rated(
        working=tuple(working),
        ultimate=_breaking(rig, key, link=link, listed=listed, kept=kept),
        basis=basis,
        clause=clause,
        remarks=(*remarks, *told),
        assumed=_assumed(link),
        unknown=unknown,
    )


def _breaking(
    rig: Rig, key: str, *, link: Link, listed: hardware.Rating | None, kept: tuple[Factor, ...]
) -> tuple[Way, ...]:
    """Ways to the breaking strength of a forged part, a chain or a hoist."""
    if rig.has(f"{key}.mbf"):
        return (Way("MBF", rig.number(f"{key}.mbf"), "breaking force published for it", kept),)
    marked = rig.has(f"{key}.wll")
    known = listed is not None or (marked and link.kind in ("shackle", "turnbuckle"))
    ways = []
    if listed is not None:
        words = f"breaking force listed for its size ({listed.known})"
        ways.append(Way("MBF", np.asarray(listed.mbf), words, kept))
    if marked and known:
        factor = hardware.least_design_factor(link.kind) if listed is None else listed.design_factor
        by_mark = Factor("f_d", factor, "published design factor")
        ways.append(Way("WLL", rig.number(f"{key}.wll"), "working load limit marked on it", (by_mark, *kept)))
    return tuple(ways)


def _aside(link: Link) -> float | None:
    """What an eyebolt keeps of its rating at its angle; None for what is pulled in line or told elsewhere."""
    if link.kind != "eyebolt":
        return None
    if link.side_angle is None:
        return hardware.eyebolt_least_fraction()
    return hardware.eyebolt_angle_fraction(float(np.degrees(link.side_angle)), shoulder=bool(link.shoulder))


def _angle_words(link: Link) -> str:
    return "the worst angle" if link.side_angle is None else f"{np.degrees(link.side_angle):.3g} deg"


def _assumed(link: Link) -> tuple[Assumed, ...]:
    if link.kind == "shackle" and link.grade is None and link.wll is None and link.size is not None:
        source = hardware.shackle_without_mark(link.size).source
        return (Assumed("grade", "neither mark nor grade: 3 D^2 short tons", source),)
    if link.kind == "eyebolt" and link.side_angle is None and link.shoulder:
        least_kept = hardware.eyebolt_least_fraction()
        return (Assumed("side_angle", f"the worst listed angle: {100.0 * least_kept:g} % is kept",
                        "angular loading table of shoulder eyebolts (seen)"),)  # fmt: skip
    return ()


def _unknown(link: Link) -> tuple[str, tuple[tuple[str, str], ...]]:
    """Why a part cannot be assessed, and what stops it."""
    if link.kind == "chain":
        grade = hardware.chain_grade(link.grade) if link.grade else ""
        if grade not in hardware.CHAIN_GRADES:
            said = f'"{link.grade}" is no grade of the tables' if link.grade else "its grade is not stated"
            return f"{said}: only alloy chain, grade 80 or 100, may hold a load up", ()
    turned = float(np.degrees(link.side_angle or 0.0))
    if link.kind == "eyebolt":
        if link.side_angle is None:
            return ("" if link.shoulder else "neither its angle nor a shoulder is stated"), ()
        if _aside(link) == 0.0:
            told = f"pulled {turned:.3g} deg off its bolt, an eyebolt that is for pulls along its bolt alone"
            if link.shoulder is None:
                return f"pulled {turned:.3g} deg off its bolt, and no shoulder is stated", ()
            return told, (("eyebolt_pulled_aside", told),)
    if turned > 0.0 and link.kind not in _INLINE:
        return f"pulled {turned:.3g} deg off its line, for which nothing is published", ()
    return "", ()


def bend_ratio(link: Link) -> float:
    """Pin over rope diameter where the eye of a rope goes round a pin, one where the rope's diameter is not known."""
    return float(link.bend_over / link.diameter) if link.bend_over and link.diameter else 1.0


def _rope(rig: Rig, key: str, *, link: Link) -> Rated:
    row = None
    if link.table and link.diameter:
        row = rope.rope(link.table, diameter=link.diameter, column=link.column or "")
    remarks: list[tuple[str, str]] = []
    factors, assumed, words = _rope_factors(link, row=row, remarks=remarks)
    least_factor = hardware.least_design_factor(link.kind)
    breaking: Way | None = None
    clause = "case file"
    if rig.has(f"{key}.mbf"):
        breaking = Way("MBF", rig.number(f"{key}.mbf"), "breaking force of the rope", factors)
    elif row is not None:
        breaking = Way("MBF", np.asarray(row.mbf), "breaking force of the rope", factors)
        clause = f"{row.source}; {row.clause} ({row.known})"
    if rig.has(f"{key}.wll"):
        start, told, basis = _mark(rig, key, link=link, otherwise=_highest(link), remarks=remarks)
        working, basis = [Way("WLL", start, told, factors)], f"{basis}{words}"
        if rig.has(f"{key}.mbf") and breaking is not None:
            _broken_under(rig, key, link=link, factor=least_factor, rating=start, remarks=remarks)
            over = Factor("f_d", least_factor, "least design factor of wire rope", divides=True)
            working.append(Way("MBF", breaking.start, breaking.words, (*factors, over)))
    elif breaking is not None:
        stated = rig.number("factors.rope_design")
        if np.any(stated < least_factor):
            remarks.append(
                ("design_factor_low", f"factors.rope_design is under {least_factor:g}, the least of the standard"
                 f" (ASME B30.9): {least_factor:g} is used")
            )  # fmt: skip
        factor = np.maximum(stated, least_factor)
        over = Factor("f_d", factor, "design factor of wire rope", divides=True)
        working = [Way("MBF", breaking.start, breaking.words, (*factors, over))]
        basis = f"breaking force{words} / {float(np.max(factor)):g}"
    else:
        raise ValueError(f"{key}: a rope needs a table, a breaking force or a mark")
    return Rated(
        working=tuple(working),
        ultimate=() if breaking is None else (breaking,),
        basis=basis,
        clause=clause,
        remarks=tuple(remarks),
        assumed=assumed,
        unknown=_rope_unknown(link),
    )


def _rope_factors(
    link: Link, *, row: rope.RopeRow | None, remarks: list[tuple[str, str]]
) -> tuple[tuple[Factor, ...], tuple[Assumed, ...], str]:
    """What the ends and the eyes of a rope leave of it."""
    factors: list[Factor] = []
    assumed: list[Assumed] = []
    words = ""
    if link.ends and link.ends != "none":
        core = row.fibre_core if row else True
        size = link.diameter or np.inf  # thick ropes keep the least
        end = rope.termination(link.ends, diameter=size, fibre_core=core, stainless=bool(row and row.stainless))
        factors.append(Factor("e_t", end.efficiency, f"kept by its ends: {link.ends}"))
        words = f" x {end.efficiency:g} ({link.ends}, {end.source})"
        remarks += _clip_remarks(link, accepted=end.accepted)
    eye = link.ends in EYES
    if link.bend_over or (eye and not link.thimble):
        ratio = bend_ratio(link)
        bend = rope.bend_efficiency(ratio)
        told = (
            f"bent over {ratio:.3g} diameters" if link.diameter and link.bend_over else "bent, over what is not known"
        )
        factors.append(Factor("e_b", bend, f"kept when {told}"))
        words = f"{words} x {bend:.3g} ({told})"
        if not link.bend_over:
            taken = f"neither thimble nor pin: {100.0 * bend:g} % is kept, the least published"
            assumed.append(Assumed("bend_over", taken, "D/d curve (memory)"))
        if not rope.bend_in_table(ratio):
            remarks.append(
                ("bend_off_table", "the rope goes round a pin thinner than itself: no strength is published")
            )
    return tuple(factors), tuple(assumed), words


def _rope_unknown(link: Link) -> str:
    """Why a rope cannot be assessed."""
    if link.ends == "none" and link.wll is None:
        return "its breaking force is that of bare rope and its ends are not described"
    if link.ends == "clips" and link.clips is None:
        return "its clips are not counted"
    if link.ends == "clips" and link.diameter is None:
        return "its diameter is not known, so nobody can tell how many clips it needs"
    turned = float(np.degrees(link.side_angle or 0.0))
    return f"pulled {turned:.3g} deg off its line, for which nothing is published" if turned > 0.0 else ""


def _clip_remarks(link: Link, *, accepted: bool) -> list[tuple[str, str]]:
    found: list[tuple[str, str]] = []
    if not accepted:
        found.append(("clips_reversed", "reversed clips crush the live end: nothing may hang from them"))
    if link.ends == "clips" and link.diameter:
        need = rope.clip_count(link.diameter).forged
        if link.clips is None:
            found.append(("clips_uncounted", f"the number of clips is not stated; this rope needs {need} at each eye"))
        elif link.clips < need:
            found.append(("too_few_clips", f"{link.clips} clips at an eye that needs {need}: nothing may hang from it"))
    return found
