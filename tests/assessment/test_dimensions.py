"""Every check says in what its demand and its capacity are: a force is no moment, whatever the number is.

The dimension of each mode is what mechanics has it be, written down here by hand and not taken from the code: a pin
bends by a moment and shears by a force, a weld carries a force an inch, an interaction has none.
"""

import re
from pathlib import Path
from random import Random

import pytest

from rigcheck.assessment.assess import assess
from rigcheck.case import CaseError, check_case, read_case
from rigcheck.case.rig import Rig
from tests.support.extreme_rigs import Maker, _drawn

CASES = sorted((Path(__file__).parents[2] / "cases").glob("*.toml"))
DRAWN = (1, 4, 5, 6, 9, 10, 56)
"""Seeds of rigs that have what no shipped case has: braces, a stiffener pushed by the wall, held-down straps."""
BY_WORDS = (
    ("knee brace", "^(box snagged|anchor match)", "force"),
    ("weld|seam", "^(box snagged|anchor match)|per inch|shear flow", "line"),
    ("", "^(box snagged|anchor match)", "number"),  # a hoist at its rating against the whole part
    ("", "per inch", "line"),
    ("", "together|both ways|^wall of|^number|^axial$|with bending, hinge|^bent$", "number"),
    ("perch post$", "^shear$", "number"),  # both ways, added as squares
    ("", "deflection|droop|movement|^sag |^overall ", "length"),
    ("floor sheet|side wall", "bending", "stress"),
    ("rail", "^stress|buckling", "stress"),
    ("", "tipping|bending|torsion|twist|sideways|pushed outward", "moment"),
    ("", "axial|bearing|tear-out|tension|torn|fracture|splitting|shear|thrust|^push|compression|screening", "force"),
    ("", "working load|breaking strength|hold-down", "force"),
)
"""Part, mode, dimension; the first that fits."""
MORE = re.compile(r", (hoist at its full rating|other hinge group lost)$")


def dimension(part: str, mode: str) -> str:
    plain = MORE.sub("", mode.replace(" (strength)", ""))
    fits = (name for who, what, name in BY_WORDS if re.search(who, part) and re.search(what, plain))
    return next(fits, f"no dimension is known of {part}, {plain!r}")


@pytest.mark.parametrize("name", ["larkspur-bar", "sawpit-bend"])
def test_a_row_of_a_snagged_box_names_the_clause_of_its_mode_as_well(name: str) -> None:
    rows = {(one.check.part, one.check.mode): one.check for one in assess(rig_called(name)).worst}
    plain = {(part, mode): (part, MORE.sub("", mode)) for part, mode in rows if rows[part, mode].snag}
    same = [(one, other) for one, other in plain.items() if one != other and other in rows]
    assert len(same) > 5
    for one, other in same:
        assert rows[one].clause.startswith(rows[other].clause), one


@pytest.mark.parametrize("name", ["larkspur-bar", "sawpit-bend"])
def test_only_what_a_hoist_at_its_rating_pulls_at_is_held_to_the_rule_of_anchors(name: str) -> None:
    told = [one.check for one in assess(rig_called(name)).worst if "HST-3" in one.check.clause]
    assert told and all(check.snag for check in told)


def rig_called(name: str) -> Rig:
    if not name.isdigit():
        return Rig(read_case(next(one for one in CASES if one.stem == name)))
    try:
        return Rig(check_case(_drawn(Maker(Random(int(name)), wild=0.0))))
    except CaseError:
        pytest.skip("the lot draws another rig now")


@pytest.mark.parametrize("name", [*(one.stem for one in CASES), *map(str, DRAWN)])
def test_each_check_has_the_dimension_of_its_mode(name: str) -> None:
    found = {(one.check.part, one.check.mode): one.check.unit for one in assess(rig_called(name)).worst}
    assert found
    assert found == {(part, mode): dimension(part, mode) for part, mode in found}
