"""Tension of single lines from load cells, sideways pulls and sag, and whether a pair of them makes sense."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from rigcheck.arrays.types import Array
from rigcheck.studies.field.lines import drawn_out, hung_pull, plain_pull, resting_pull, sag_pull, stiff_pull
from rigcheck.studies.field.model import Model
from rigcheck.studies.field.readings import Readings, SidePull
from rigcheck.studies.field.record import TENSION_OF, Remark, Result, What, best, number, result_of

DISTRUST = 0.15  # two sideways pulls that differ by more than this are both distrusted; common practice, no source
ALIKE = (0.8, 1.25)  # left over right of a pair of lines; common practice, no source
LONG_PULL = 0.05  # offset over span from which on a pull is more than a test
READS_HIGH = 0.05  # share by which a box that does not twist may make the pulled line read high before it is said


def line_tensions(model: Model, *, readings: Readings, water: float, remarks: list[Remark]) -> list[Result]:
    """Tension of single lines: load cells, sideways pulls, sag.

    Args:
        model: What the case alone expects.
        readings: The readings.
        water: Moment of the water of a fill. [lbf*in]
        remarks: What must be said is added to it.

    Returns:
        One result a reading, called left, right or each tension.

    Source: docs/method.md#side-pull, #sag.
    """
    carried = readings.lines_carry and readings.tail_lift
    lifted = readings.tail_lift[-1] * (readings.at or 0.0) if carried else 0.0
    expected = 0.5 * (model.moment + water - lifted) / model.arm if model.arm > 0.0 else 0.0
    like = Result(what=What.TENSION, how="", value=0.0, error=0.0, expected=expected, dimension="force")
    found = []
    for cell in readings.load_cell:
        pairs = [(cell.force, readings.scale_error * cell.force)]
        named = replace(like, what=TENSION_OF[cell.side], how="load cell")
        found.append(result_of(lambda f: np.asarray(f), pairs, like=named))
    for side in ("left", "right", "each"):
        pulls = [one for one in readings.side_pull if one.side == side]
        if pulls:
            found += _pulled(model, pulls=pulls, readings=readings, like=replace(like, what=TENSION_OF[side]),
                             remarks=remarks)  # fmt: skip
    found += _sagging(model, readings=readings, like=like, remarks=remarks)
    _pair_check(found, remarks=remarks)
    return found


def _pulled(
    model: Model, *, pulls: list[SidePull], readings: Readings, like: Result, remarks: list[Remark]
) -> list[Result]:
    """Tension of one line from sideways pulls at one or more offsets."""
    k = model.stiffness
    rests = readings.rests and k is not None
    if readings.rests and k is None:
        remarks.append(Remark(code="stretch_unknown", text="the stretch of a link is not described, so the stretch of"
                              " the pulled line is not taken off: the true tension is lower than shown"))  # fmt: skip

    def tension(force: Array, offset: Array, span: Array) -> Array:
        if rests:
            return resting_pull(force, offset=offset, span=span, stiffness=k or 0.0)
        return hung_pull(force, offset=offset, span=span)

    how = "sideways pull, box resting, stretch taken off" if rests else "sideways pull, box hanging"
    found = []
    for one in pulls:
        pairs = [
            (one.force, readings.scale_error * one.force),
            (one.offset, readings.tape_error),
            (one.span, readings.tape_error),
        ]
        found.append(result_of(tension, pairs, like=replace(like, how=f"{how}, {one.offset:.4g} in aside")))
        _pull_remarks(model, pull=one, readings=readings, value=found[-1].value, remarks=remarks)
    offsets = sorted({one.offset for one in pulls})
    if len(pulls) >= 2 and len(offsets) >= 2:
        _two_offsets(pulls, results=found, remarks=remarks)
    return found


def _pull_remarks(model: Model, *, pull: SidePull, readings: Readings, value: float, remarks: list[Remark]) -> None:
    if pull.offset > LONG_PULL * pull.span:
        remarks.append(Remark(code="long_pull", text=f"{pull.offset:.4g} in is far to pull a line of {pull.span:.4g} in"
                              " aside: half of that will do"))  # fmt: skip
    if value <= 0.0:
        remarks.append(Remark(code="pull_means_nothing", spoils=True, text="the stretch of the line explains more"
                              " than the whole pull: stiffness, offset or scale is wrong"))  # fmt: skip
    k = model.stiffness
    if readings.rests or k is None:
        return
    if k <= pull.force / pull.offset:
        return
    low = number(stiff_pull(pull.force, offset=pull.offset, span=pull.span, stiffness=k))
    if value - low > READS_HIGH * value:
        remarks.append(Remark(code="stiff_box_reads_high", text="on a box that does not twist, the pulled line takes"
                              f" load off the other one: then it held {max(low, 0.0):.0f} lb and not {value:.0f} lb; a"
                              " smaller offset tells more"))  # fmt: skip


def _two_offsets(pulls: list[SidePull], *, results: list[Result], remarks: list[Remark]) -> None:
    first, second = min(pulls, key=lambda one: one.offset), max(pulls, key=lambda one: one.offset)
    a, b = (results[pulls.index(one)].value for one in (first, second))
    if abs(a - b) <= DISTRUST * max(abs(a), abs(b), 1e-9):
        return
    plain = [plain_pull(one.force, offset=one.offset, span=one.span) for one in (first, second)]
    there = number(drawn_out(plain, offsets=[first.offset, second.offset]))
    remarks.append(Remark(
        code="offsets_disagree", spoils=True,
        text=f"two offsets give {a:.0f} and {b:.0f} lb, more than 15 % apart: distrust both; if stretch is the cause,"
        f" the tension with no pull at all is near {max(there, 0.0):.0f} lb",
    ))  # fmt: skip


def _sagging(model: Model, *, readings: Readings, like: Result, remarks: list[Remark]) -> list[Result]:
    if readings.sag is None:
        return []
    weight = readings.line_weight if readings.line_weight is not None else model.line_weight
    if weight is None:
        remarks.append(Remark(code="line_weight_unknown", text="the weight of the line is not known, so its sag tells"
                              " nothing; give --line-weight"))  # fmt: skip
        return []
    spans = [one.span for one in readings.side_pull] or [model.line_length]
    pairs = [(readings.sag, readings.tape_error), (spans[0], readings.tape_error)]
    named = replace(like, what=What.EACH, how="sag of the line off a string")
    one = result_of(lambda s, long: sag_pull(weight, span=long, sag=s, angle=model.line_angle), pairs, like=named)
    if not one.usable:
        expected = number(sag_pull(weight, span=spans[0], sag=like.expected or 1.0, angle=model.line_angle))
        remarks.append(Remark(code="sag_too_small", text=f"a sag of {readings.sag:.3g} in cannot be read well enough"
                              f" for a tension (at that of the case it is {expected:.2g} in)"))  # fmt: skip
    return [one]


def _pair_check(lines: list[Result], *, remarks: list[Remark]) -> None:
    left, right = (best([one for one in lines if one.what is what]) for what in (What.LEFT, What.RIGHT))
    if left is None or right is None or right.value <= 0.0:
        return
    ratio = left.value / right.value
    if not ALIKE[0] <= ratio <= ALIKE[1]:
        remarks.append(Remark(code="lines_unequal", text=f"the left line pulls {ratio:.2f} times as hard as the right"
                              " one: the box is twisted, its load is off the middle, or the lines are not equally"
                              " long"))  # fmt: skip
