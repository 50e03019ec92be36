"""A box that is only tacked: every weld of it as the tacks in it are, whatever the finished weld will be."""

from __future__ import annotations

from math import floor
from typing import Any

from rigcheck.case.errors import CaseError, Problem
from rigcheck.case.models.box import CrossMember, Seam
from rigcheck.case.models.case import Case
from rigcheck.case.models.stretch import Stretch, StretchJoint
from rigcheck.case.models.support import Hinge, Lug
from rigcheck.case.models.trap import Trap
from rigcheck.case.models.use import Weld
from rigcheck.case.schema.sections import changed

TACKED = "tacked"


def is_tacked(case: Case) -> bool:
    """Whether the box is held by tacks, so that it hangs empty and for trial alone."""
    return case.weld.made == TACKED


def must_be_finished(case: Case, *, name: str = "case") -> None:
    """Refuse a box that is only tacked where a question is about a finished one.

    Args:
        case: The case.
        name: What the problem calls its file.

    Raises:
        CaseError: It is only tacked.
    """
    if is_tacked(case):
        why = (
            '"tacked" is a box hung empty for trial, which has no bed, no fold and no road; `rigcheck check` judges '
            'that hang, and this asks about the finished box: made = "finished"'
        )
        raise CaseError([Problem(name, "weld.made", why)])


def by_tacks(case: Case) -> Case:
    """The case with the welds of the box as its tacks are; the same case where it is finished.

    A run of weld of length L counts as floor(L / spacing) tacks, one at least, side by side at its middle, which is
    less than they hold where they are spread; no leg counts for more than a tack's. Seams are stitches. What is welded
    all round is not counted. Perch, post and plant are taken as finished, as they are described.

    Source: docs/method.md#tacks.
    """
    weld = case.weld
    if weld.made != TACKED:
        return case
    new: dict[str, Any] = {"stretch": tuple(_stretch(one, weld) for one in case.stretch)}
    new["trap"] = tuple(_trap(one, weld) for one in case.trap)
    seams = {"wall_seam": case.rail.wall_seam, "floor_seam": case.rail.floor_seam}
    rail = changed(case.rail, {name: _seam(seam, weld) for name, seam in seams.items() if seam is not None})
    if case.cross_member is not None:
        new["cross_member"] = _member(case.cross_member, weld, all_round=case.rail.at == "under")
    if weld.lugs == TACKED:
        new["hinge"] = _hinge(case.hinge, weld)
    if weld.lugs == TACKED and case.hanger.lug is not None:
        new["hanger"] = changed(case.hanger, {"lug": _lug(case.hanger.lug, weld)})
    return changed(case, {**new, "rail": rail})


def tacks_of(length: float, weld: Weld) -> float:
    """Length of the tacks in a run of weld. [in]"""
    assert weld.tack is not None and weld.tack_spacing is not None
    return min(length, max(floor(length / weld.tack_spacing + 1e-9), 1) * weld.tack)


def _leg(leg: float | None, weld: Weld) -> float | None:
    assert weld.tack_leg is not None
    return None if leg is None else min(leg, weld.tack_leg)


def _run(length: float | None, weld: Weld) -> float | None:
    return None if length is None else tacks_of(length, weld)


def _seam(seam: Seam, weld: Weld) -> Seam:
    if seam.made == "bent":
        return seam
    assert weld.tack is not None and weld.tack_spacing is not None
    share = seam.length / seam.pitch if seam.length is not None and seam.pitch is not None else 1.0
    length = min(weld.tack, share * weld.tack_spacing)
    return changed(seam, {"made": "stitch", "leg": _leg(seam.leg, weld), "length": length,
                          "pitch": weld.tack_spacing, "sides": 1})  # fmt: skip


def _member(member: CrossMember, weld: Weld, *, all_round: bool) -> CrossMember:
    """Under a stiffener below the floor the ends are welded all round, which no length of a run describes."""
    run = weld.tack if member.weld_length is None else _run(member.weld_length, weld)
    return changed(member, {"weld": None if all_round else _leg(member.weld, weld), "weld_length": run})


def _trap(trap: Trap, weld: Weld) -> Trap:
    """Tacks close no cell: a covered trap counts as not welded, by its weight alone."""
    leg = None if trap.cover is not None else _leg(trap.weld, weld)
    return changed(trap, {"weld": leg, "weld_length": _run(trap.weld_length, weld)})


def _lug(lug: Lug, weld: Weld) -> Lug:
    return changed(lug, {"weld": _leg(lug.weld, weld), "weld_length": _run(lug.weld_length, weld)})


def _hinge(hinge: Hinge, weld: Weld) -> Hinge:
    """Both runs of a barrel stand as one length; an ear of the box has one on each face."""
    both = None if hinge.weld_length is None else 2.0 * tacks_of(0.5 * hinge.weld_length, weld)
    new: dict[str, Any] = {"weld": _leg(hinge.weld, weld), "weld_length": both}
    ear = hinge.ear
    if ear is not None:
        run = _run(ear.weld_length, weld)
        new["ear"] = changed(ear, {"weld": _leg(ear.weld, weld), "weld_length": run})
    return changed(hinge, new)


def _stretch(stretch: Stretch, weld: Weld) -> Stretch:
    """A welded joint by its tacks up each side wall alone; bolts are what they are."""
    joint = stretch.joint
    if joint is None or joint.made != "welded":
        return stretch
    high = joint.weld_length if joint.weld_length is not None else stretch.side_height
    run = weld.tack if high is None else tacks_of(high, weld)
    new: StretchJoint = changed(
        joint, {"leg": _leg(joint.leg, weld), "weld_length": run, "stiffener": False, "floor": False}
    )
    return changed(stretch, {"joint": new})
