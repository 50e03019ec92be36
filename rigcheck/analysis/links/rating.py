"""What one link is rated: its mark, its table, its grade, the angle of its pull, and what is not known of it."""

from __future__ import annotations

import numpy as np

from rigcheck.analysis.links.rope import rated_rope
from rigcheck.analysis.links.ways import (
    Assumed,
    Factor,
    Rated,
    Remark,
    Way,
    broken_under,
    highest,
    low_factor,
    mark_of,
    published,
)
from rigcheck.case.models.case import Link
from rigcheck.case.rig import Rig
from rigcheck.tables import hardware
from rigcheck.wording.marks import Mark, Sourced

_INLINE = ("shackle", "eyebolt")  # kinds whose pull off their line a published table reduces


def rated(rig: Rig, *, key: str, link: Link) -> Rated:
    """Rate one link.

    Args:
        rig: The rig, one or a batch.
        key: Where the link stands, such as `line.link.1`.
        link: What the case says of it.

    Source: docs/method.md#links.
    """
    return rated_rope(rig, key=key, link=link) if link.kind == "wire rope" else _part(rig, key, link=link)


def _part(rig: Rig, key: str, *, link: Link) -> Rated:
    """A forged part, a chain, a hoist."""
    listed, marked, broken = published(link), rig.has(f"{key}.wll"), rig.has(f"{key}.mbf")
    least_factor = hardware.least_design_factor(link.kind)
    factor = np.asarray(least_factor)
    if link.kind == "chain" and not marked:
        factor = np.maximum(rig.number("factors.chain_design"), least_factor)
    remarks: list[Remark] = []
    aside = _aside(link)
    kept = () if aside is None else (Factor("k_e", aside, f"left of it at {_angle_words(link)}"),)
    working: list[Way] = []
    basis, clause = f"breaking force / {float(np.max(factor)):g}", "least design factor of its standard (memory)"
    if marked:
        start, words, basis = mark_of(rig, key=key, link=link, remarks=remarks,
                                    otherwise=highest(link) if listed is None else listed.wll)  # fmt: skip
        working.append(Way("WLL", start, words, kept))
        clause = Sourced("mark on the part, case file", mark=Mark.CASE_FILE)
    elif listed is not None:
        words = f"working load limit listed for its size ({listed.known})"
        working.append(Way("WLL", np.asarray(listed.wll), words, kept))
        basis, clause = f"listed working load limit ({listed.known})", f"{listed.source}; {listed.clause}"
    over = Factor("f_d", factor, "design factor", divides=True)
    if listed is not None and link.kind == "chain" and not marked:
        remarks += low_factor(rig, key="factors.chain_design", least_factor=least_factor)
        working.append(Way("MBF", np.asarray(listed.mbf), "breaking force listed for its size", (over, *kept)))
    if broken:
        rating = working[0].start if working else np.zeros(())
        if broken_under(rig, key=key, factor=least_factor, rating=rating, remarks=remarks):
            basis = f"breaking force / {float(np.max(factor)):g}, under its mark"
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


def _unknown(link: Link) -> tuple[str, tuple[Remark, ...]]:
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
            if link.shoulder is None:
                return f"pulled {turned:.3g} deg off its bolt, and no shoulder is stated", ()
            text = f"pulled {turned:.3g} deg off its bolt, an eyebolt that is for pulls along its bolt alone"
            return text, (Remark("eyebolt_pulled_aside", text),)
    if turned > 0.0 and link.kind not in _INLINE:
        return f"pulled {turned:.3g} deg off its line, for which nothing is published", ()
    return "", ()
