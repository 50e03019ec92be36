"""Which stops keep the folded box from moving the way the vehicle drives (49 CFR 393.110: fewer straps then)."""

import pytest

from rigcheck.parts.tie_down.checks import blocked_forward
from tests.support.road_rig import BACK, STOP, road_rig

FORWARD = {"head": "upstream", "tail": "downstream", "left": "left", "right": "right"}
"""The way the vehicle drives, by what goes first; upstream is toward the head."""
AGAINST = {"upstream": "downstream", "downstream": "upstream", "left": "right", "right": "left"}


@pytest.mark.parametrize("direction", ["upstream", "downstream", "left", "right", "up", "down"])
@pytest.mark.parametrize("leading", FORWARD)
def test_a_stop_blocks_what_it_pushes_against(leading: str, direction: str) -> None:
    rig = road_rig(BACK, stops=({**STOP, "direction": direction},), leading_end=leading)
    assert blocked_forward(rig) is (AGAINST[FORWARD[leading]] == direction)
    assert not blocked_forward(road_rig(BACK, leading_end=leading))
