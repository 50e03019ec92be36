"""Ratings of shackles, hooks, turnbuckles, eyebolts and chain."""

from dataclasses import dataclass, replace
from functools import cache

from rigcheck.tables.errors import TableError
from rigcheck.tables.loader import load, row_by_size

TON = 2000.0
"""Short ton. [lbf]"""
CHAIN_GRADES = ("30", "43", "70", "80", "100")
SHACKLE_GRADES = ("carbon", "alloy")
TURNBUCKLE_ENDS = ("jaw", "eye", "hook")
_NEAR = 1e-6  # in: two sizes within this are one


@dataclass(frozen=True, slots=True)
class Rating:
    """Listed rating of one part; a mark on the part itself always goes before it.

    Attributes:
        kind: "shackle", "hook", "turnbuckle", "eyebolt" or "chain".
        size: Trade size, thread or, for a hook, 0. [in]
        grade: Grade or end.
        wll: Working load limit, pulled in line. [lbf]
        design_factor: Least breaking force over `wll`.
        mbf: Least breaking force. [lbf]
        lifting_allowed: False where the maker bars lifting and holding up.
        pin_diameter: Pin of a shackle, else 0. [in]
        inside_width: Inside width at the pin of a shackle, or throat opening of a hook, else 0. [in]
        source: Document.
        clause: Place in it.
        known: "seen" or "memory".
        note: What else to mind.
    """

    kind: str
    size: float
    grade: str
    wll: float
    design_factor: float
    mbf: float
    lifting_allowed: bool
    pin_diameter: float
    inside_width: float
    source: str
    clause: str
    known: str
    note: str = ""


@cache
def shackle(size: float, *, grade: str = "carbon") -> Rating:
    """Return a shackle by the diameter of its body.

    The table states a design factor of 6 for carbon and 5 for alloy shackles; the 5 that every maker must hold is
    taken for both.

    Args:
        size: Body diameter, as listed. [in]
        grade: "carbon" or "alloy".

    Raises:
        TableError: Not listed; lists what is.
    """
    data = load("shackles")
    block = data["anchor_shackle"]
    if grade not in SHACKLE_GRADES:
        raise TableError("shackle grade", grade, SHACKLE_GRADES)
    rows = [row for row in block["row"] if f"{grade}_wll_lb" in row]
    row = row_by_size(rows, key="size_in", size=size, what=f"{grade} shackle")
    factor = min(
        block[f"stated_design_factor_{grade}"], data["design_factor_b30_26"]["min_design_factor_up_to_150_ton"]
    )
    wll = float(row[f"{grade}_wll_lb"])
    return Rating(
        kind="shackle",
        size=row["size_in"],
        grade=grade,
        wll=wll,
        design_factor=factor,
        mbf=wll * factor,
        lifting_allowed=True,
        pin_diameter=_down_to_sixteenth(row["pin_diameter_in"]),
        inside_width=row["inside_width_at_pin_in"],
        source=block["source"],
        clause=block["clause"],
        known=block["known"],
        note=block["note"],
    )


def _down_to_sixteenth(printed: float) -> float:
    """Undo the rounding up of a pin printed to two decimals, such as 0.63 for 5/8. [in]"""
    return min(printed, round(printed * 16.0) / 16.0)


def shackle_sizes(grade: str = "carbon") -> tuple[float, ...]:
    """Return the listed body diameters of a shackle grade. [in]

    Args:
        grade: "carbon" or "alloy".
    """
    return tuple(row["size_in"] for row in load("shackles")["anchor_shackle"]["row"] if f"{grade}_wll_lb" in row)


def unmarked_shackle(size: float) -> float:
    """Return the working load of a shackle without a mark, 3 D^2 short tons: far below a marked one. [lbf]

    Args:
        size: Body diameter. [in]

    Source: NAVEDTRA 14251, chapter 6 (seen).
    """
    return 3.0 * size**2 * TON


@cache
def shackle_without_mark(size: float) -> Rating:
    """Return a shackle of which neither mark nor grade is known, by the rule for unmarked ones.

    Args:
        size: Body diameter, as listed. [in]

    Raises:
        TableError: Not listed; lists what is.

    Source: NAVEDTRA 14251, chapter 6 (seen).
    """
    block = load("shackles")["unmarked_shackle_rule_of_thumb"]
    body = shackle(size)
    wll = unmarked_shackle(size)
    return replace(
        body, grade="", wll=wll, mbf=wll * body.design_factor, source=block["source"], clause=block["clause"],
        known=block["known"], note=block["note"],
    )  # fmt: skip


def least_design_factor(kind: str) -> float:
    """Return the least breaking force over rated load that a standard allows a kind of link.

    Args:
        kind: As the case file names it, such as "lever hoist".
    """
    return float(load("shackles")["least_design_factor"][kind.replace(" ", "_").replace("-", "_")])


def shackle_side_fraction(angle_deg: float) -> float:
    """Return what a screw-pin or bolt shackle keeps of its rating when pulled sideways.

    By bands, each at the value of its far end; past 90 degrees nothing is left, as the maker must authorize it.

    Args:
        angle_deg: Angle of the pull off the plane of the bow. [deg]

    Source: shackle side-load chart at 45 and 90 degrees (seen); bands of WAC 296-155-33905(4) (seen, the
    percentages by band from memory).
    """
    chart = load("shackles")["side_load_reduction"]
    first_band = 5.0
    if abs(angle_deg) <= first_band:
        return float(chart["remaining_fraction_of_wll"][0])
    return _step(abs(angle_deg), angles=chart["angle_from_inline_deg"], fractions=chart["remaining_fraction_of_wll"])


def hook(rating: float, *, grade: str = "carbon") -> Rating:
    """Return an eye hook by its rating; its listed sizes are not reliable.

    Args:
        rating: Working load limit as listed. [lbf]
        grade: "carbon" or "alloy".

    Raises:
        TableError: Not listed; lists the ratings.
    """
    block = load("shackles")["hook_eye"]
    if grade not in SHACKLE_GRADES:
        raise TableError("hook grade", grade, SHACKLE_GRADES)
    ratings = [row[f"{grade}_wll_ton"] * TON for row in block["row"]]
    for row, wll in zip(block["row"], ratings, strict=True):
        if abs(wll - rating) <= 0.5:
            return Rating(
                kind="hook",
                size=0.0,
                grade=grade,
                wll=wll,
                design_factor=block["design_factor_eye_hook"],
                mbf=wll * block["design_factor_eye_hook"],
                lifting_allowed=True,
                pin_diameter=0.0,
                inside_width=row["throat_opening_in"],
                source=block["source"],
                clause=block["clause"],
                known=block["known"],
                note=block["note"],
            )
    raise TableError(f"{grade} hook rated", f"{rating:g} lb", (f"{wll:g} lb" for wll in ratings), nearest=())


@cache
def turnbuckle(size: float, *, end: str) -> Rating:
    """Return a turnbuckle by thread and weaker end.

    Args:
        size: Thread diameter, as listed. [in]
        end: "jaw", "eye" or "hook"; a hook end governs the whole.

    Raises:
        TableError: Not listed; lists what is.
    """
    data = load("turnbuckles_eyebolts")
    if end not in TURNBUCKLE_ENDS:
        raise TableError("turnbuckle end", end, TURNBUCKLE_ENDS)
    block = data["turnbuckle_hook" if end == "hook" else "turnbuckle_jaw_or_eye"]
    row = row_by_size(block["row"], key="thread_in", size=size, what=f"turnbuckle with {end} end")
    older = {one["thread_in"]: one["recommended_load_lb"] for one in data["turnbuckle_aashto_m269"]["row"]}
    lower = older.get(row["thread_in"])
    note = block["note"]
    if lower is not None and lower < row["wll_lb"]:
        note = f"AASHTO M 269-77 recommends {lower} lb for this thread; go by the mark on the body"
    factor = data["turnbuckle_jaw_or_eye"]["design_factor"]
    return Rating(
        kind="turnbuckle",
        size=row["thread_in"],
        grade=end,
        wll=float(row["wll_lb"]),
        design_factor=factor,
        mbf=row["wll_lb"] * factor,
        lifting_allowed=True,
        pin_diameter=0.0,
        inside_width=0.0,
        source=block["source"],
        clause=block["clause"],
        known=row.get("known", block["known"]),
        note=note,
    )


@cache
def eyebolt(size: float) -> Rating:
    """Return an eyebolt, pulled along its axis, by thread: what the standard asks of every maker.

    Args:
        size: Thread diameter, as listed. [in]

    Raises:
        TableError: Not listed; lists what is.
    """
    data = load("turnbuckles_eyebolts")
    block = data["eyebolt_a489"]
    row = row_by_size(block["row"], key="diameter_in", size=size, what="eyebolt")
    return Rating(
        kind="eyebolt",
        size=row["diameter_in"],
        grade="",
        wll=float(row["wll_lb"]),
        design_factor=row["mbf_lb"] / row["wll_lb"],
        mbf=float(row["mbf_lb"]),
        lifting_allowed=True,
        pin_diameter=0.0,
        inside_width=0.0,
        source=block["source"],
        clause=block["clause"],
        known=block["known"],
        note=data["eyebolt_angle"]["note"],
    )


def eyebolt_sizes() -> tuple[float, ...]:
    """Return the listed threads of eyebolts. [in]"""
    return tuple(row["diameter_in"] for row in load("turnbuckles_eyebolts")["eyebolt_a489"]["row"])


def eyebolt_most(size: float) -> float:
    """Return the highest published rating of an eyebolt of a thread, that of a maker; 0 where none is listed. [lbf]

    Args:
        size: Thread diameter. [in]
    """
    data = load("turnbuckles_eyebolts")
    listed = [
        row["rated_inline_lb"] for row in data["eyebolt_supplier"]["row"] if abs(row["diameter_in"] - size) < _NEAR
    ]
    return float(max(listed, default=0.0))


def eyebolt_angle_fraction(angle_deg: float, *, shoulder: bool = True) -> float:
    """Return what an eyebolt keeps of its rating when pulled off its axis, in the plane of the eye.

    Between listed angles the value of the next one up holds. A plain shank is for in-line pull only.

    Args:
        angle_deg: Angle of the pull off the bolt axis. [deg]
        shoulder: Shoulder pattern, seated.

    Source: hardware maker's angular loading table for shoulder eyebolts (seen).
    """
    chart = load("turnbuckles_eyebolts")["eyebolt_angle"]
    angles, fractions = chart["angle_from_bolt_axis_deg"], chart["remaining_fraction"]
    if not shoulder and abs(angle_deg) > angles[1]:
        return 0.0
    return _step(abs(angle_deg), angles=angles, fractions=fractions)


def eyebolt_least_fraction() -> float:
    """Return the least that an eyebolt with a seated shoulder keeps at any listed angle."""
    return float(min(load("turnbuckles_eyebolts")["eyebolt_angle"]["remaining_fraction"]))


def _step(angle: float, *, angles: list[float], fractions: list[float]) -> float:
    for listed, fraction in zip(angles, fractions, strict=True):
        if angle <= listed + 1e-9:
            return float(fraction)
    return 0.0


def chain_grade(text: str) -> str:
    """Return the grade of a chain as the tables write it, "80" for "Grade 80", "G80" or "80".

    Args:
        text: As written.
    """
    return text.strip().casefold().removeprefix("grade").strip().removeprefix("g")


def chain_lifts(grade: str) -> bool:
    """Tell whether a load may hang from a chain of a grade.

    Args:
        grade: One of `CHAIN_GRADES`.

    Source: supplier chart and chain makers' cautions (seen); ASME B30.9, alloy chain alone (memory).
    """
    return bool(load("chain")["overhead_lifting"][f"g{grade}_allowed"])


@cache
def chain(size: float, *, grade: str) -> Rating:
    """Return a chain by trade size and grade.

    Args:
        size: Trade size, as listed. [in]
        grade: "30", "43", "70", "80" or "100".

    Raises:
        TableError: Not listed; lists what is.
    """
    data = load("chain")
    block = data["wll"]
    mark = chain_grade(grade)
    if mark not in CHAIN_GRADES:
        raise TableError("chain grade", grade, CHAIN_GRADES)
    rows = [row for row in block["row"] if f"g{mark}_wll_lb" in row]
    row = row_by_size(rows, key="size_in", size=size, what=f"grade {mark} chain")
    factor = data["ratios"][f"breaking_over_wll_g{mark}"]
    lifting = chain_lifts(mark)
    return Rating(
        kind="chain",
        size=row["size_in"],
        grade=mark,
        wll=float(row[f"g{mark}_wll_lb"]),
        design_factor=factor,
        mbf=row[f"g{mark}_wll_lb"] * factor,
        lifting_allowed=lifting,
        pin_diameter=0.0,
        inside_width=0.0,
        source=block["source"],
        clause=block["clause"],
        known=block["known"],
        note=block["note"] if lifting else f"grade {mark} is not for overhead lifting",
    )


def chain_sizes(grade: str) -> tuple[float, ...]:
    """Return the listed trade sizes of a chain grade. [in]

    Args:
        grade: One of `CHAIN_GRADES`.
    """
    return tuple(row["size_in"] for row in load("chain")["wll"]["row"] if f"g{grade}_wll_lb" in row)
