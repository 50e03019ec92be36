"""The study of spread as one plain dict, `rigcheck.spread/2`, and its screen made from that alone."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rigcheck.case.models.case import Case
from rigcheck.output.check.result import Source
from rigcheck.output.instructions import stop_words
from rigcheck.output.rig_words import answer_style, opening, rig_line
from rigcheck.output.screen import Column, Look, Page
from rigcheck.quantities import System, convert
from rigcheck.studies.spread.study import QUANTILES, Part, Spread
from rigcheck.studies.spread.trial import Tried
from rigcheck.studies.spread.unknowns import Unknown
from rigcheck.wording.cautions import CAUTIONS
from rigcheck.wording.marks import marked
from rigcheck.wording.plain import Plain
from rigcheck.wording.scale import Scale, ratio
from rigcheck.wording.words import number, percent

SCHEMA = "rigcheck.spread/2"
MATTERS = 0.1  # a rank correlation under this is noise or nearly nothing


def spread_result(found: Spread, *, case: Case, source: Source | None = None, system: System = "us") -> Plain:
    """Everything the study found, ready for JSON.

    Args:
        found: The study.
        case: The case it was made from.
        source: The file the case came from.
        system: Units of every number in it.

    Returns:
        The result; no NaN and no infinity in it.
    """
    scale = Scale(system)
    names = [one.variable.name for one in found.unknowns]
    ordered = sorted(zip(names, found.highest.matters, strict=True), key=lambda one: -abs(one[1]))
    return {
        "schema": SCHEMA,
        "title": case.title,
        "input": None if source is None else {"file": source.file, "sha256": source.sha256},
        "samples": found.samples,
        "seed": found.seed,
        "unknowns": [_unknown(one, scale=scale, system=system) for one in found.unknowns],
        "chance_over": found.over,
        "chance_over_at_most": found.over_most,
        "stopped": dict(found.stopped),
        "quantiles": list(QUANTILES),
        "highest": _part(found.highest, names=names),
        "parts": [_part(one, names=names) for one in found.parts],
        "matters": [{"key": key, "rank_correlation": value} for key, value in ordered],
        "tried": None if found.tried is None else _tried(found.tried),
        "complete": not found.not_assessed,
        "not_assessed": list(found.not_assessed),
        "cautions": list(CAUTIONS),
    }


def _unknown(one: Unknown, *, scale: Scale, system: System) -> Plain:
    dimension = one.variable.dimension
    middle = one.variable.value
    wide = scale.one(middle + one.deviation, dimension=dimension) or 0.0
    return {
        "key": one.variable.name,
        "meaning": one.variable.meaning,
        "unit": convert(0.0, dimension=dimension, system=system)[1],
        "case": scale.one(middle, dimension=dimension),
        "low": scale.one(one.low, dimension=dimension),
        "high": scale.one(one.high, dimension=dimension),
        "shape": "normal" if one.deviation > 0.0 else "even",
        "deviation": wide - (scale.one(middle, dimension=dimension) or 0.0) if one.deviation > 0.0 else None,
        "source": marked(one.source),
        "clipped": one.clipped,
    }


def _tried(found: Tried) -> Plain:
    return {
        "samples": found.samples,
        "rows": found.rows,
        "kept": found.kept,
        "short_at_most": max(found.short.values(), default=0.0),
    }


def _part(one: Part, *, names: list[str]) -> Plain:
    return {
        "part": one.name,
        "chance_over": one.over,
        "now": ratio(one.now),
        "utilization": [ratio(value) for value in one.quantiles],
        "matters": dict(zip(names, one.matters, strict=True)),
    }


def spread_screen(found: Mapping[str, Any], *, look: Look | None = None) -> str:
    """The whole screen.

    Args:
        found: The result of the study.
        look: Width and color.

    Returns:
        Text; every value in it stands in the result.
    """
    page = Page(look or Look())
    opening(page, found)
    page.line()
    page.line(_chance(found), style=answer_style(found, over=found["chance_over"] > 0.0))
    rig_line(page, found)
    for code, share in found["stopped"].items():
        page.line(f"Stopped by {stop_words(code)} in {_share(share)} of them.")
    first = found["matters"][0] if found["matters"] else None
    if first is not None and abs(first["rank_correlation"]) >= MATTERS:
        page.line(f"Measure {first['key']} first: it moves the highest utilization most.")
    page.heading("Chance of each part that it is over, and its utilization over the samples, in %", keep=15, least=6)
    heads = [f"{100.0 * q:g} %" for q in found["quantiles"]]
    columns = [Column("part", share=4), Column("over", number=True), Column("now", number=True),
               *(Column(head, number=True) for head in heads), Column("most by", share=3)]  # fmt: skip
    page.table(columns, rows=[_line(one) for one in [found["highest"], *found["parts"]]])
    page.line(
        "now: in the case as it is. A column such as 95 %: so many of the samples are at this utilization or under it."
    )
    page.heading("Which unknown matters most (rank correlation with the highest utilization)", keep=7)
    page.items((f"{one['rank_correlation']:+.2f}", one["key"]) for one in found["matters"])
    page.heading("What was taken as not known well")
    page.items(("-", _unknown_words(one)) for one in found["unknowns"])
    page.line(f"{found['samples']:,} samples, Latin hypercube, seed {found['seed']}; unknowns are taken as independent"
              " of each other.")  # fmt: skip
    page.line(_rows_looked_at(found))
    if found["not_assessed"]:
        page.heading("NOT ASSESSED, so not in any of these chances", keep=4)
        page.items(("-", text) for text in found["not_assessed"])
    page.heading("Cautions")
    page.items(("-", text) for text in found["cautions"])
    page.close(_chance(found), rest="--all adds: every part, what was taken as not known well, how it was sampled.",
               style=answer_style(found, over=found["chance_over"] > 0.0))  # fmt: skip
    return page.text()


def _chance(found: Mapping[str, Any]) -> str:
    most = _share(found["chance_over_at_most"])
    if found["chance_over"] == 0.0:
        what = "Nothing" if found["complete"] else "Nothing checked"
        return f"{what} is over in any of {found['samples']:,} samples; the chance is under {most} (95 % sure)."
    return f"Something is over in {_share(found['chance_over'])} of the samples (at most {most}, 95 % sure)."


def _rows_looked_at(found: Mapping[str, Any]) -> str:
    tried = found["tried"]
    if tried is None:
        return "Every sample was checked in every load case, variant, load sharing and fold angle."
    return (
        f"{tried['samples']:,} samples were checked in all {tried['rows']} load cases and fold angles, the"
        f" others in the {tried['kept']} that can govern a part. Those fell short of all of them by"
        f" {_share(tried['short_at_most'])} of a utilization at most, and those found in them are raised by as much;"
        " --whole checks every sample in all load cases."
    )


def _share(value: float) -> str:
    return f"{number(100.0 * value, digits=3, rounding='up')} %"


def _line(one: Mapping[str, Any]) -> tuple[list[str], str]:
    names = sorted(one["matters"], key=lambda key: -abs(one["matters"][key]))
    most = names[0] if names and abs(one["matters"][names[0]]) >= MATTERS else "-"
    shares = [_share(one["chance_over"]), percent(one["now"]), *map(percent, one["utilization"])]
    cells = [one["part"], *(share.removesuffix(" %") for share in shares), most]
    return cells, "over" if one["chance_over"] > 0.0 else ""


def _unknown_words(one: Mapping[str, Any]) -> str:
    low, high = number(one["low"], unit=one["unit"]), number(one["high"], unit=one["unit"])
    bell = one["shape"] == "normal"
    shape = f", normal, standard deviation {number(one['deviation'], unit=one['unit'])}" if bell else ""
    clipped = ", cut at what a case allows" if one["clipped"] else ""
    middle = number(one["case"], unit=one["unit"])
    return f"{one['key']}: {low} to {high}{shape}{clipped}; in the case {middle} ({one['source']})"
