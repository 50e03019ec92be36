"""Two shipped rigs show what the top of their file says."""

from pathlib import Path

import numpy as np
import pytest

from rigcheck.case import read_case
from rigcheck.case.rig import Rig
from rigcheck.check.assess import assess

CASES = Path(__file__).parents[2] / "cases"


@pytest.fixture
def governing(request):
    found = assess(Rig(read_case(CASES / f"{request.param}.toml")))
    over = [one for one in found.worst if float(one.utilisation) > 1.0]
    return found, over


@pytest.mark.parametrize("governing", ["tollgate-riffle"], indirect=True)
def test_the_count_of_tie_downs_governs(governing):
    found, over = governing
    assert [(one.check.part, one.check.mode) for one in over] == [("tie-downs", "number")]
    assert (float(over[0].demand), float(over[0].capacity)) == (3.0, 2.0)
    assert not np.any(found.stopped)


@pytest.mark.parametrize("governing", ["magpie-landing"], indirect=True)
def test_only_the_lost_line_is_too_much(governing):
    found, over = governing
    assert [(one.check.part, one.check.mode) for one in over] == [
        ("line link 2: swivel, pulled in the shop", "breaking strength")
    ]
    assert found.solution.rows[int(over[0].state)].state == "line_lost"
    assert not np.any(found.stopped)
