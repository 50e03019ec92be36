"""Box against posts and braces at their very edges, each by its own arithmetic.

A level box 105 in long and 27 in wide with sides of 7 in and 1 1/2 in stiffeners outside: 27/2 + 12 ga + 1 1/2 in wide.
Posts of 3 x 3 in, so that half of one is 1 1/2 in; braces of 2 x 2 in.
"""

import numpy as np
import pytest

from rigcheck.analysis.clearance import envelope, fouls, side_clearance
from rigcheck.analysis.solve import layout
from rigcheck.case.rig import Rig, varied
from rigcheck.statics.geometry import pose
from tests.statics.random_rigs import PLAIN, rig_of

POST = '[perch.post]\nshape = "HSS3x3x1/4"\nfree_length = "20 in"\n'
BRACE = """[perch.post.brace]
foot_downstream = "-18 in"
foot_below = "19 in"
top_below = "5 in"
shape = "HSS2x2x1/8"
"""
LEVEL = {
    "box.pitch": 0.0, "hinge.height": 0.0, "hanger.at": 60.0, "perch.downstream": 62.0, "perch.height": 40.0,
    "perch.spacing": 30.0,
}  # fmt: skip
WALL = 0.1046  # 12 ga


def struck(rig: Rig, *, fold: float, **changes: float) -> dict[str, bool]:
    """What is struck with the box folded up so far; changes are key paths with two underscores for dots."""
    rig = varied(rig, LEVEL | {key.replace("__", "."): value for key, value in changes.items()})
    points = layout(rig)
    at = pose(points, fold=np.radians([fold]))
    return {part: bool(np.ravel(hit)[0]) for part, hit in fouls(rig, layout=points, at=at)}


@pytest.mark.parametrize(("offset", "gap"), [(0.0, 17.5 - 1.5), (1.0, 17.5 - 1.0 - 1.5), (-2.0, 17.5 + 2.0 - 1.5)])
def test_gap_between_side_and_post(offset: float, gap: float) -> None:
    """Perches 35 in apart, half a post and the lug's offset nearer."""
    rig = varied(rig_of(PLAIN + POST), {"perch.post.lug_offset": offset})
    assert float(side_clearance(rig, layout=layout(rig))) == pytest.approx(gap - 13.5 - WALL - 1.5, abs=1e-4)


def test_gap_to_a_lug_whose_post_nobody_described() -> None:
    rig = rig_of(PLAIN)
    assert float(side_clearance(rig, layout=layout(rig))) == pytest.approx(17.5 - 13.5 - WALL - 1.5, abs=1e-4)


@pytest.mark.parametrize(("long", "hit"), [(31.49, False), (31.51, True)])
def test_a_post_reaches_down_to_the_top_of_the_sides(long: float, hit: bool) -> None:
    """Lugs 40 in up, sides 7 in: 33 in less half a post."""
    assert struck(rig_of(PLAIN + POST), fold=0.0, perch__post__free_length=long)["perch posts"] is hit


@pytest.mark.parametrize(("along", "hit"), [(-1.49, True), (-1.51, False), (106.49, True), (106.51, False)])
def test_a_post_stands_before_the_head_or_past_the_tail(along: float, hit: bool) -> None:
    """Half a post off either end; without a lug the hole stands on the axis of the post."""
    found = struck(rig_of(PLAIN + POST), fold=0.0, perch__post__free_length=45.0, perch__downstream=along)
    assert found["perch posts"] is hit


@pytest.mark.parametrize(("along", "hit"), [(-1.99, True), (-2.01, False)])
def test_a_flat_post_reaches_as_far_as_its_longer_side(along: float, hit: bool) -> None:
    """HSS4x2x1/4, and nobody says which way it stands: half of 4 in."""
    rig = rig_of(PLAIN + POST.replace("HSS3x3x1/4", "HSS4x2x1/4"))
    found = struck(rig, fold=0.0, perch__post__free_length=45.0, perch__downstream=along)
    assert found["perch posts"] is hit


def test_a_cap_stands_over_both_faces_of_the_side() -> None:
    """A tube 2 in wide on an edge of 12 ga: half of what is left over hangs out on the outer face, 1.9 / 2 in."""
    text = PLAIN.replace('stiffener = "HSS1-1/2x1-1/2x1/8"', 'stiffener = "HSS2x2x1/8"\nat = "cap"')
    low, high, half = envelope(rig_of(text))
    assert float(half) == pytest.approx(13.5 + WALL + 0.5 * (2.0 - WALL), abs=1e-4)
    assert float(high) == pytest.approx(9.0)
    assert float(low) == pytest.approx(-WALL - 1.5, abs=1e-4)  # the cross-members


def hangers(**changes: float) -> bool:
    """Whether the hangers strike the posts: square up, 60 in over the pin, as far upstream as they are high."""
    plain = {"perch__downstream": 0.0, "perch__height": 70.0, "perch__post__free_length": 20.0, "hanger__height": 0.0}
    found = struck(rig_of(PLAIN + POST), fold=90.0, **{**plain, "hanger__spacing": 30.0, **changes})
    return found["perch posts, by the hangers"]


@pytest.mark.parametrize(
    ("changes", "hit"),
    [
        ({"hanger__spacing": 32.98}, True),  # 1 1/2 in beside the axis of the post, 15 in off the middle
        ({"hanger__spacing": 33.02}, False),
        ({"hanger__spacing": 27.02}, True),
        ({"hanger__spacing": 26.98}, False),
        ({"perch__post__lug_offset": 1.0, "perch__spacing": 32.0, "hanger__spacing": 32.98}, True),
        ({"perch__post__lug_offset": 1.0, "perch__spacing": 32.0, "hanger__spacing": 33.02}, False),
        ({"hanger__height": 1.49}, True),
        ({"hanger__height": 1.51}, False),
        ({"hanger__height": -1.51}, False),
        ({"perch__height": 60.01}, True),  # the hangers 60 in up are between lug and foot
        ({"perch__height": 59.99}, False),
        ({"perch__height": 79.99}, True),
        ({"perch__height": 80.01}, False),
    ],
)
def test_hangers_pass_their_own_posts(changes: dict[str, float], hit: bool) -> None:
    assert hangers(**changes) is hit


def brace(**changes: float) -> bool:
    plain = {"perch__post__brace__foot_below": 33.0, "perch__post__brace__top_below": 5.0}
    return struck(rig_of(PLAIN + POST + BRACE), fold=0.0, **{**plain, **changes})["braces of the perch posts"]


@pytest.mark.parametrize(
    ("changes", "hit"),
    [
        ({"perch__post__brace__foot_below": 32.001}, True),  # 33 in down to the sides, less half a brace
        ({"perch__post__brace__foot_below": 31.999}, False),
        ({"perch__spacing": 2.0 * (13.5 + WALL + 1.5 + 1.0) - 0.002}, True),  # half a brace beside the stiffeners
        ({"perch__spacing": 2.0 * (13.5 + WALL + 1.5 + 1.0) + 0.002}, False),
        ({"perch__spacing": 2.0 * (13.5 + WALL + 1.5 + 1.0 + 0.5) - 0.002, "perch__post__lug_offset": 0.5}, True),
        ({"perch__spacing": 2.0 * (13.5 + WALL + 1.5 + 1.0 + 0.5) + 0.002, "perch__post__lug_offset": 0.5}, False),
    ],
)
def test_a_brace_reaches_the_box_where_it_is_low_and_near_enough(changes: dict[str, float], hit: bool) -> None:
    assert brace(**changes) is hit
