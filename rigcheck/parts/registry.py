"""Every check and finding of the hung box, in the order in which a welder walks the rig."""

from __future__ import annotations

from collections.abc import Callable

from rigcheck.analysis.rows import Check, Flag
from rigcheck.analysis.solve import Solution
from rigcheck.parts.cross_member.checks import member_checks
from rigcheck.parts.face.checks import face_checks, face_flags
from rigcheck.parts.floor.checks import floor_checks
from rigcheck.parts.fold.checks import fold_flags, snub_checks
from rigcheck.parts.further_support.findings import prop_flags
from rigcheck.parts.hinge.checks import hinge_checks
from rigcheck.parts.line.checks import line_flags, link_checks
from rigcheck.parts.line.geometry import hung_flags, steel_flags, water_flags
from rigcheck.parts.line.reach import reach_flags
from rigcheck.parts.lug.checks import lug_checks, lug_flags
from rigcheck.parts.plant.checks import plant_checks, plant_flags
from rigcheck.parts.post.checks import post_checks, post_flags
from rigcheck.parts.rail.checks import rail_checks
from rigcheck.parts.rail.roll import roll_flags
from rigcheck.parts.rail.seams import seam_checks, seam_flags
from rigcheck.parts.rail.side_walls import side_wall_checks
from rigcheck.parts.rail.strength import rail_strength_checks, rail_strength_flags
from rigcheck.parts.usual import usual_flags

CHECKS: tuple[Callable[[Solution], list[Check]], ...] = (
    link_checks,
    snub_checks,
    hinge_checks,
    lug_checks,
    face_checks,
    post_checks,
    rail_checks,
    rail_strength_checks,
    seam_checks,
    member_checks,
    floor_checks,
    side_wall_checks,
    plant_checks,
)
FLAGS: tuple[Callable[[Solution], list[Flag]], ...] = (
    hung_flags,
    steel_flags,
    water_flags,
    line_flags,
    lug_flags,
    face_flags,
    post_flags,
    rail_strength_flags,
    seam_flags,
    roll_flags,
    reach_flags,
    fold_flags,
    prop_flags,
    plant_flags,
    usual_flags,
)


def hung_checks(solution: Solution) -> list[Check]:
    """Every part of the hung box in every mode."""
    return [row for build in CHECKS for row in build(solution)]


def all_flags(solution: Solution) -> list[Flag]:
    """Everything that must be said of the hung box and of its fold."""
    return [flag for build in FLAGS for flag in build(solution)]
