"""The study of one variable as one plain dict, `rigcheck.length/2`; its screen reads only this."""

from __future__ import annotations

from rigcheck.case.models.case import Case
from rigcheck.output.check.result import Source
from rigcheck.quantities import System, convert, write
from rigcheck.studies.length.record import Band, Limit, Sweep
from rigcheck.wording.cautions import CAUTIONS
from rigcheck.wording.plain import Plain
from rigcheck.wording.scale import Scale, ratio

SCHEMA = "rigcheck.length/2"
_LARGEST = {
    "box.length": "Longest box",
    "box.width": "Widest box",
    "box.side_height": "Highest sides",
    "bed.depth": "Deepest bed",
    "hanger.at": "Hanger furthest from the hinge",
    "perch.height": "Highest perch",
}


def length_result(found: Sweep, *, case: Case, source: Source | None = None, system: System = "us") -> Plain:
    """Everything the study found, ready for JSON.

    Args:
        found: The study.
        case: The case it was made from.
        source: The file the case came from.
        system: Units of every number in it.

    Returns:
        The result; no NaN and no infinity in it.
    """
    scale, dimension = Scale(system), found.variable.dimension

    def value(number: float) -> float | None:
        return scale.one(number, dimension=dimension)

    unit = convert(0.0, dimension=dimension, system=system)[1]
    told: Plain = {
        "schema": SCHEMA,
        "title": case.title,
        "input": None if source is None else {"file": source.file, "sha256": source.sha256},
        "vary": found.variable.name,
        "meaning": found.variable.meaning,
        "unit": unit,
        "now": value(found.variable.value),
        "range": {
            "from": value(float(found.values[0])),
            "to": value(float(found.values[-1])),
            "scanned": int(found.values.size),
        },
        "rules": list(found.words),
        "passes": found.whole,
        "bands": [_band(band, scale=scale, found=found) for band in found.bands],
        "blockers": [
            {"part": one.part, "mode": one.mode, "state": one.state, "least_utilization": _use(one.least),
             "at": value(one.at), "touched": one.moves}
            for one in found.blockers
        ],
        "governs": [
            {"from": value(one.low), "to": value(one.high), "part": one.part, "mode": one.mode, "state": one.state,
             "stop": one.stop or None}
            for one in found.reigns
        ],
        "values": [value(float(one)) for one in found.values],
        "pass_at": [bool(one) for one in found.passes],
        "parts": parts(found),
        "stops": [
            {"code": stop.code, "text": stop.text, "at": [bool(one) for one in stop.where]}
            for stop in found.judged.stops
        ],
        "complete": not found.judged.not_assessed,
        "not_assessed": list(found.judged.not_assessed),
        "cautions": list(CAUTIONS),
    }  # fmt: skip
    told["answer"] = answer(found, system=system)
    return told


def parts(found: Sweep) -> list[Plain]:
    """Utilization of each part over the values scanned, its modes put together, the highest part first."""
    groups: dict[str, list[int]] = {}
    for i, row in enumerate(found.judged.rows):
        groups.setdefault(row.part, []).append(i)
    series = {part: found.judged.use[:, rows].max(-1) for part, rows in groups.items()}
    order = sorted(series, key=lambda part: -float(series[part].max()))
    return [{"part": part, "utilization": [ratio(use) for use in series[part]]} for part in order]


def _use(value: float | None) -> float | None:
    return None if value is None else ratio(value)


def _band(band: Band, *, scale: Scale, found: Sweep) -> Plain:
    dimension = found.variable.dimension

    def limit(one: Limit | None) -> Plain | None:
        if one is None:
            return None
        return {"part": one.part, "mode": one.mode, "state": one.state, "utilization": _use(one.use),
                "stops": one.use is None}  # fmt: skip

    return {
        "low": scale.one(band.low, dimension=dimension),
        "high": scale.one(band.high, dimension=dimension),
        "below": limit(band.below),
        "above": limit(band.above),
    }


def answer(found: Sweep, *, system: System) -> list[str]:
    """The answer in sentences, what cannot be cured first."""
    name, dimension = found.variable.name, found.variable.dimension

    def ends(value: float, *, up: bool) -> str:
        return write(value, dimension=dimension, system=system, digits=5, rounding="up" if up else "down")

    low, high = ends(float(found.values[0]), up=True), ends(float(found.values[-1]), up=False)
    largest = _LARGEST.get(found.variable.key, f"Largest {name}")
    told = []
    if found.blockers:
        told.append(f"Nothing passes every check from {low} to {high}: {len(found.blockers)} of them "
                    f"{'is' if len(found.blockers) == 1 else 'are'} over at every value, listed below.")  # fmt: skip
    elif not found.bands:
        told.append(f"Nothing passes every check from {low} to {high}; what governs where is listed below.")
    if not found.bands:
        if found.blockers:
            told.append("Nothing passes with those set aside either.")
        return told
    last = found.bands[-1]
    many = "pass" if largest.endswith("sides") else "passes"
    aside = ", with those set aside" if found.blockers else f" that {many} every check"
    if last.above is None:
        told.append(f"{largest}{aside}: {ends(last.high, up=False)} or more; the range looked at ends there.")
    else:
        told.append(f"{largest}{aside}: {ends(last.high, up=False)}. Beyond it, {_limit_words(last.above)}.")
    for band in found.bands:
        if band is not last or band.below is not None:
            below = "where the range begins" if band.below is None else f"below it, {_limit_words(band.below)}"
            told.append(f"Passes from {ends(band.low, up=True)} ({below}) to {ends(band.high, up=False)}.")
    if len(found.bands) > 1:
        told.append("Between these bands something is over.")
    return told


def _limit_words(limit: Limit) -> str:
    if limit.use is None:
        return f"{limit.part.replace('_', ' ')} stops it in {limit.state}"
    return f"{limit.part} ({limit.mode}) is over in {limit.state}"
