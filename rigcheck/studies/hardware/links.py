"""Standard sizes of the links of a line, from the published tables, each with what it keeps of its rating."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from rigcheck.analysis.links.capacity import LinkStrength, links
from rigcheck.case.models.case import Link
from rigcheck.case.rig import Rig
from rigcheck.parts.lug.checks import lug_pin
from rigcheck.quantities import write
from rigcheck.studies.hardware.record import Size
from rigcheck.studies.hardware.steel import fraction
from rigcheck.studies.vary.case import Value, with_values
from rigcheck.tables import hardware, rope
from rigcheck.tables.errors import TableError
from rigcheck.tables.loader import load

_LIFTS = "80"  # chain grade proposed in place of one that may not hold a load up
_UNMARKED: Mapping[str, Value] = {"wll": None, "mbf": None, "proof": None}


@dataclass(frozen=True, slots=True)
class Listed:
    """Sizes of one kind of link, smallest first.

    Attributes:
        sizes: The sizes.
        source: Table with clause.
        note: What else to mind.
    """

    sizes: tuple[Size, ...]
    source: str
    note: str = ""


def listed(rig: Rig, *, table: str, index: int) -> Listed | None:
    """Sizes a link can have; None for what no published table rates.

    Args:
        rig: One rig.
        table: `line.link` or `line.backup`.
        index: Which link.
    """
    link: Link = rig.value(table)[index]
    build = _KINDS.get(link.kind)
    found = None if build is None else build(link, f"{table}.{index}")
    if found is None or link.kind != "shackle" or table != "line.link":
        return found
    return replace(found, sizes=tuple(_fitting(rig, size, index=index) for size in found.sizes))


def strength_with(rig: Rig, size: Size, *, table: str, index: int) -> LinkStrength:
    """Strength of a link made of another size."""
    return links(Rig(with_values(rig.case, size.changes)), table=table)[index]


def _fitting(rig: Rig, size: Size, *, index: int) -> Size:
    """Whether a shackle goes with the lug it hangs on: its pin through the hole, the plate inside it."""
    last = len(rig.value("line.link")) - 1
    for end, place in (("hanger", 0), ("perch", last)):
        if index != place or rig.value(f"{end}.lug") is None:
            continue
        changes = {**size.changes, f"{end}.lug.pin": None}
        new = Rig(with_values(rig.case, changes))
        pin, plate, hole = lug_pin(new, end=end), rig.number(f"{end}.lug.plate"), rig.number(f"{end}.lug.hole")
        room = hardware.shackle(new.value(f"line.link.{index}.size"), grade=new.value(f"line.link.{index}.grade") or
                                "carbon").inside_width  # fmt: skip
        fits = pin is not None and bool(pin <= hole) and bool(plate < room)
        size = replace(size, changes=changes, fits=size.fits and fits)
    return size


def _pounds(value: float) -> str:
    return write(value, dimension="force", digits=6, rounding="down")


def _rating(found: hardware.Rating) -> str:
    return f"{found.source}; {found.clause} ({found.known})"


def _shackle(link: Link, key: str) -> Listed | None:
    grade = link.grade or "carbon"
    ratings = [hardware.shackle(size, grade=grade) for size in hardware.shackle_sizes(grade)]
    if not ratings:  # a grade that is known by its mark alone
        return None
    told: dict[str, Value] = {} if link.grade else {f"{key}.grade": grade}
    sizes = tuple(
        Size(words=f"{fraction(one.size)} {grade} shackle", changes={f"{key}.size": one.size, **told, **_bare(key)},
             tag=f"WLL {one.wll / hardware.TON:.3g} ton ({_pounds(one.wll)})")
        for one in ratings
    )  # fmt: skip
    return Listed(sizes, _rating(ratings[0]), "a ton on a shackle is 2,000 lb unless its maker says otherwise")


def _bare(key: str) -> dict[str, Value]:
    return {f"{key}.{name}": value for name, value in _UNMARKED.items()}


def _wire_rope(link: Link, key: str) -> Listed | None:
    if link.table is None:
        return None
    sizes = []
    source = ""
    for diameter in rope.diameters(link.table):
        try:
            row = rope.rope(link.table, diameter=diameter, column=link.column or "")
        except TableError:  # this strength is not listed at this diameter
            continue
        changes: dict[str, Value] = {f"{key}.diameter": diameter, **_bare(key)}
        changes |= {f"{key}.{name}": None for name in ("area", "modulus", "stiffness")}
        words = f"{fraction(diameter)} rope, {link.table.replace('_', ' ')}"
        if link.termination in ("clips", "clips reversed"):
            try:
                clips = rope.clip_count(diameter).forged
            except TableError:
                continue
            changes[f"{key}.clips"] = clips
            words += f", {clips} clips at each eye"
        tag = f"MBF {_pounds(row.mbf)}"
        sizes.append(Size(words=words, changes=changes, tag=tag))
        source = f"{row.source}; {row.clause} ({row.known})"
    return Listed(tuple(sizes), source) if sizes else None


def _chain(link: Link, key: str) -> Listed | None:
    if link.grade is None:
        return None
    mark = hardware.chain_grade(link.grade)
    allowed = mark not in hardware.CHAIN_GRADES or hardware.chain_lifts(mark)
    mark = mark if allowed else _LIFTS
    ratings = [hardware.chain(size, grade=mark) for size in hardware.chain_sizes(mark)]
    if not ratings:  # a grade that is known by its mark alone
        return None
    sizes = tuple(
        Size(words=f"{fraction(one.size)} grade {mark} chain", tag=f"WLL {_pounds(one.wll)}, grade {mark} on the links",
             changes={f"{key}.size": one.size, f"{key}.grade": mark, **_bare(key)})
        for one in ratings
    )  # fmt: skip
    note = "" if allowed else f"grade {link.grade} is not for holding up a load; grade {mark} is listed instead"
    return Listed(sizes, _rating(ratings[0]), note)


def _turnbuckle(link: Link, key: str) -> Listed:
    end = link.end or "hook"
    block = load("turnbuckles_eyebolts")["turnbuckle_hook" if end == "hook" else "turnbuckle_jaw_or_eye"]
    ratings = [hardware.turnbuckle(row["thread_in"], end=end) for row in block["row"]]
    sizes = tuple(
        Size(words=f"{fraction(one.size)} turnbuckle, {end} end", changes={f"{key}.size": one.size, **_bare(key)},
             tag=f"WLL {_pounds(one.wll)}")
        for one in ratings
    )  # fmt: skip
    return Listed(sizes, _rating(ratings[0]))


def _eyebolt(link: Link, key: str) -> Listed:
    ratings = [hardware.eyebolt(size) for size in hardware.eyebolt_sizes()]
    told: dict[str, Value] = {} if link.side_angle == 0.0 else {f"{key}.shoulder": True}
    sizes = tuple(
        Size(words=f"{fraction(one.size)} shoulder eyebolt", changes={f"{key}.size": one.size, **told, **_bare(key)},
             tag=f"WLL {_pounds(one.wll)} in line")
        for one in ratings
    )  # fmt: skip
    return Listed(sizes, _rating(ratings[0]))


def _hook(link: Link, key: str) -> Listed:
    grade = link.grade or "carbon"
    block = load("shackles")["hook_eye"]
    ratings = sorted(row[f"{grade}_wll_ton"] * hardware.TON for row in block["row"])
    sizes = tuple(
        Size(words=f"{grade} eye hook with latch", tag=f"WLL {wll / hardware.TON:.3g} ton ({_pounds(wll)})",
             changes={f"{key}.wll": wll, f"{key}.mbf": None, f"{key}.proof": None})
        for wll in ratings
    )  # fmt: skip
    return Listed(sizes, f"{block['source']}; {block['clause']} ({block['known']})")


_KINDS: Mapping[str, Callable[[Link, str], Listed | None]] = {
    "shackle": _shackle,
    "wire rope": _wire_rope,
    "chain": _chain,
    "turnbuckle": _turnbuckle,
    "eyebolt": _eyebolt,
    "hook": _hook,
}
