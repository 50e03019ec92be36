"""What a rope is rated: its ends, its eyes, its clips, and what is not known of them."""

from __future__ import annotations

import numpy as np

from rigcheck.analysis.links.ways import Assumed, Factor, Rated, Remark, Way, broken_under, highest, low_factor, mark_of
from rigcheck.case.models.case import Link
from rigcheck.case.rig import Rig
from rigcheck.tables import hardware, rope


def bend_ratio(link: Link) -> float:
    """Pin over rope diameter where the eye of a rope goes round a pin, one where the rope's diameter is not known."""
    return float(link.bend_diameter / link.diameter) if link.bend_diameter and link.diameter else 1.0


def rated_rope(rig: Rig, *, key: str, link: Link) -> Rated:
    """Rate one rope.

    Args:
        rig: The rig, one or a batch.
        key: Where the link stands, such as `line.link.1`.
        link: What the case says of it.

    Source: docs/method.md#links.
    """
    row = None
    if link.table and link.diameter:
        row = rope.rope(link.table, diameter=link.diameter, column=link.column or "")
    remarks: list[Remark] = []
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
        start, told, basis = mark_of(rig, key=key, link=link, otherwise=highest(link), remarks=remarks)
        working, basis = [Way("WLL", start, told, factors)], f"{basis}{words}"
        if rig.has(f"{key}.mbf") and breaking is not None:
            broken_under(rig, key=key, factor=least_factor, rating=start, remarks=remarks)
            over = Factor("f_d", least_factor, "least design factor of wire rope", divides=True)
            working.append(Way("MBF", breaking.start, breaking.words, (*factors, over)))
    elif breaking is not None:
        remarks += low_factor(rig, key="factors.rope_design", least_factor=least_factor)
        factor = np.maximum(rig.number("factors.rope_design"), least_factor)
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
    link: Link, *, row: rope.RopeRow | None, remarks: list[Remark]
) -> tuple[tuple[Factor, ...], tuple[Assumed, ...], str]:
    """What the ends and the eyes of a rope leave of it."""
    factors: list[Factor] = []
    assumed: list[Assumed] = []
    words = ""
    if link.termination and link.termination != "none":
        core = row.fiber_core if row else True
        size = link.diameter or np.inf  # thick ropes keep the least
        end = rope.termination(link.termination, diameter=size, fiber_core=core, stainless=bool(row and row.stainless))
        factors.append(Factor("e_t", end.efficiency, f"kept by its ends: {link.termination}"))
        words = f" x {end.efficiency:g} ({link.termination}, {end.source})"
        remarks += _clip_remarks(link, accepted=end.accepted)
    eye = link.termination in rope.EYES
    if link.bend_diameter or (eye and not link.thimble):
        ratio = bend_ratio(link)
        bend = rope.bend_efficiency(ratio)
        told = (
            f"bent over {ratio:.3g} diameters"
            if link.diameter and link.bend_diameter
            else "bent, over what is not known"
        )
        factors.append(Factor("e_b", bend, f"kept when {told}"))
        words = f"{words} x {bend:.3g} ({told})"
        if not link.bend_diameter:
            taken = f"neither thimble nor pin: {100.0 * bend:g} % is kept, the least published"
            assumed.append(Assumed("bend_diameter", taken, "D/d curve (memory)"))
        if not rope.bend_in_table(ratio):
            text = "the rope goes round a pin thinner than itself: no strength is published"
            remarks.append(Remark("bend_off_table", text))
    return tuple(factors), tuple(assumed), words


def _rope_unknown(link: Link) -> str:
    """Why a rope cannot be assessed."""
    if link.termination == "none" and link.wll is None:
        return "its breaking force is that of bare rope and its ends are not described"
    if link.termination == "clips" and link.clips is None:
        return "its clips are not counted"
    if link.termination == "clips" and link.diameter is None:
        return "its diameter is not known, so nobody can tell how many clips it needs"
    turned = float(np.degrees(link.side_angle or 0.0))
    return f"pulled {turned:.3g} deg off its line, for which nothing is published" if turned > 0.0 else ""


def _clip_remarks(link: Link, *, accepted: bool) -> list[Remark]:
    found: list[Remark] = []
    if not accepted:
        found.append(Remark("clips_reversed", "reversed clips crush the live end: nothing may hang from them"))
    if link.termination == "clips" and link.diameter:
        need = rope.clip_count(link.diameter).forged
        if link.clips is None:
            text = f"the number of clips is not stated; this rope needs {need} at each eye"
            found.append(Remark("clips_uncounted", text))
        elif link.clips < need:
            text = f"{link.clips} clips at an eye that needs {need}: nothing may hang from it"
            found.append(Remark("too_few_clips", text))
    return found
