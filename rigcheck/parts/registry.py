"""PARTS: what every part of the rig checks, finds and lacks, in the order in which a welder walks the rig.

Whoever asks for checks, findings or what nobody could assess reads this tuple; a part added here is in all of them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from enum import StrEnum

from rigcheck.analysis.folded import Folded
from rigcheck.analysis.missing import Missing, ranked
from rigcheck.analysis.rows import Check, Flag
from rigcheck.analysis.solve import Solution
from rigcheck.parts.cross_member.checks import member_checks, member_not_assessed
from rigcheck.parts.face.checks import face_checks, face_flags, faces_not_assessed
from rigcheck.parts.face.sheet import sheet_checks
from rigcheck.parts.floor.checks import floor_checks, floor_not_assessed
from rigcheck.parts.fold.checks import fold_flags, snub_checks, snub_not_assessed
from rigcheck.parts.further_support.findings import prop_flags
from rigcheck.parts.hinge.checks import hinge_checks, hinge_not_assessed
from rigcheck.parts.hinge.rolling import pivot_flags
from rigcheck.parts.joint.checks import joint_checks, joint_flags, joints_not_assessed
from rigcheck.parts.line.checks import line_flags, link_checks, links_not_assessed
from rigcheck.parts.line.geometry import hung_flags, steel_flags, water_flags
from rigcheck.parts.line.reach import reach_flags
from rigcheck.parts.lug.checks import lug_checks, lug_flags, lugs_not_assessed
from rigcheck.parts.plant.checks import plant_checks, plant_flags
from rigcheck.parts.post.checks import post_checks, post_flags, post_not_assessed
from rigcheck.parts.rail.checks import rail_checks
from rigcheck.parts.rail.roll import roll_flags
from rigcheck.parts.rail.seams import seam_checks, seam_flags, seams_not_assessed
from rigcheck.parts.rail.side_walls import side_wall_checks
from rigcheck.parts.rail.strength import rail_not_assessed, rail_strength_checks, rail_strength_flags
from rigcheck.parts.stretches import by_stretch, inner, member_views, missing_by_stretch, place_views, rail_views
from rigcheck.parts.tacks import tack_flags, tacked_not_assessed
from rigcheck.parts.tie_down.checks import folded_checks, folded_flags, folded_not_assessed
from rigcheck.parts.trap.checks import trap_checks, trap_flags, traps_not_assessed
from rigcheck.parts.unsaid import water_not_assessed
from rigcheck.parts.usual import built_flags, usual_flags

ROAD = -1
"""Stands for the checks of the folded box among the builders of checks."""

Checks = Callable[[Solution], list[Check]]
Findings = Callable[[Solution], list[Flag]]


class PartId(StrEnum):
    """What a part is known by; nothing is decided by how it is called."""

    WATER = "water"
    TACKS = "tacks"
    LINE = "line"
    SNUB = "snub"
    HINGE = "hinge"
    LUG = "lug"
    FACE = "face"
    POST = "post"
    RAIL = "rail"
    JOINT = "joint"
    CROSS_MEMBER = "cross_member"
    TRAP = "trap"
    FLOOR = "floor"
    SIDE_WALL = "side_wall"
    TIE_DOWN = "tie_down"
    FOLD = "fold"
    FURTHER_SUPPORT = "further_support"
    PLANT = "plant"
    STATED = "stated"


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """What one part of the rig brings.

    Attributes:
        id: What it is known by.
        checks: Builders of its checks on the hung box.
        findings: Builders of what must be said of it.
        can_stop: Those of them that can stop a rig.
        not_assessed: Builders of what nobody could assess of it.
        road_checks: Its checks on the folded box; the number says how many rows of the state axis stand before.
        road_findings: What must be said of it there.
    """

    id: PartId
    checks: tuple[Checks, ...] = ()
    findings: tuple[Findings, ...] = ()
    can_stop: frozenset[Findings] = frozenset()
    not_assessed: tuple[Callable[[Solution], list[Missing]], ...] = ()
    road_checks: Callable[..., list[Check]] | None = None
    road_findings: Callable[..., list[Flag]] | None = None


_RAIL_FLAGS = by_stretch(rail_strength_flags, rail_views)

PARTS: tuple[Part, ...] = (
    Part(id=PartId.WATER, not_assessed=(lambda solution: water_not_assessed(solution.rig),)),
    Part(id=PartId.TACKS, findings=(tack_flags,), not_assessed=(tacked_not_assessed,)),
    Part(
        id=PartId.LINE,
        checks=(link_checks,),
        findings=(hung_flags, steel_flags, water_flags, line_flags),
        can_stop=frozenset({hung_flags, steel_flags, line_flags}),
        not_assessed=(links_not_assessed,),
    ),
    Part(id=PartId.SNUB, checks=(snub_checks,), not_assessed=(snub_not_assessed,)),
    Part(
        id=PartId.HINGE,
        checks=(by_stretch(hinge_checks, place_views),),
        findings=(pivot_flags,),
        can_stop=frozenset({pivot_flags}),
        not_assessed=(hinge_not_assessed,),
    ),
    Part(
        id=PartId.LUG,
        checks=(by_stretch(lug_checks, place_views),),
        findings=(lug_flags,),
        can_stop=frozenset({lug_flags}),
        not_assessed=(lugs_not_assessed,),
    ),
    Part(
        id=PartId.FACE,
        checks=(by_stretch(face_checks, place_views), by_stretch(sheet_checks, place_views)),
        findings=(by_stretch(face_flags, place_views),),
        not_assessed=(missing_by_stretch(faces_not_assessed, place_views),),
    ),
    Part(id=PartId.POST, checks=(post_checks,), findings=(post_flags,), not_assessed=(post_not_assessed,)),
    Part(
        id=PartId.RAIL,
        checks=(
            by_stretch(rail_checks, rail_views),
            by_stretch(rail_strength_checks, rail_views),
            by_stretch(seam_checks, rail_views),
        ),
        findings=(_RAIL_FLAGS, by_stretch(seam_flags, rail_views), roll_flags),
        can_stop=frozenset({_RAIL_FLAGS, roll_flags}),
        not_assessed=(
            missing_by_stretch(rail_not_assessed, rail_views),
            missing_by_stretch(seams_not_assessed, rail_views),
        ),
    ),
    Part(id=PartId.JOINT, checks=(joint_checks,), findings=(joint_flags,), not_assessed=(joints_not_assessed,)),
    Part(
        id=PartId.CROSS_MEMBER, checks=(by_stretch(member_checks, member_views),), not_assessed=(member_not_assessed,)
    ),
    Part(id=PartId.TRAP, checks=(trap_checks,), findings=(trap_flags,), not_assessed=(traps_not_assessed,)),
    Part(id=PartId.FLOOR, checks=(by_stretch(floor_checks, rail_views),), not_assessed=(floor_not_assessed,)),
    Part(id=PartId.SIDE_WALL, checks=(by_stretch(side_wall_checks, rail_views),)),
    Part(
        id=PartId.TIE_DOWN,
        not_assessed=(lambda solution: folded_not_assessed(solution.rig),),
        road_checks=folded_checks,
        road_findings=folded_flags,
    ),
    Part(  # a line that does not reach at all is found on the way up as well
        id=PartId.FOLD, findings=(reach_flags, fold_flags), can_stop=frozenset({reach_flags, fold_flags})
    ),
    Part(id=PartId.FURTHER_SUPPORT, findings=(prop_flags,)),
    Part(id=PartId.PLANT, checks=(plant_checks,), findings=(plant_flags,), can_stop=frozenset({plant_flags})),
    Part(id=PartId.STATED, findings=(usual_flags, built_flags)),
)


def check_builders() -> tuple[Checks, ...]:
    """Builders of the checks of the hung box, in their order."""
    return tuple(build for part in PARTS for build in part.checks)


def plain_builders() -> tuple[object, ...]:
    """The same in the same order, each as it is called in its own room, whether or not it looks at stretches here."""
    return tuple(inner(build) for build in check_builders())


def stoppers() -> tuple[Findings, ...]:
    """Builders of the findings of the hung box that can stop a rig."""
    return tuple(build for part in PARTS for build in part.findings if build in part.can_stop)


def hung_checks(solution: Solution) -> list[Check]:
    """Every part of the hung box in every mode."""
    return [check for _, check in numbered_checks(solution)]


def numbered_checks(solution: Solution) -> Iterator[tuple[int, Check]]:
    """The same, each with the place of its builder among `check_builders`."""
    for builder, build in enumerate(check_builders()):
        for check in build(solution):
            yield builder, check


def all_flags(solution: Solution) -> list[Flag]:
    """Everything that must be said of the hung box and of its fold."""
    return [flag for part in PARTS for build in part.findings for flag in build(solution)]


def road_checks(road: Folded, *, before: int) -> list[Check]:
    """Every part of the folded box.

    Args:
        road: The folded box.
        before: Rows of the state axis that stand before its own.
    """
    return [row for part in PARTS if part.road_checks for row in part.road_checks(road, before=before)]


def road_flags(road: Folded, *, before: int) -> list[Flag]:
    """Everything that must be said of the folded box.

    Args:
        road: The folded box.
        before: Rows of the state axis that stand before its own.
    """
    return [flag for part in PARTS if part.road_findings for flag in part.road_findings(road, before=before)]


def not_assessed(solution: Solution) -> list[Missing]:
    """Load-path parts, and conditions, that nobody could assess as the case stands, the most decisive first."""
    return ranked(missing for part in PARTS for build in part.not_assessed for missing in build(solution))
