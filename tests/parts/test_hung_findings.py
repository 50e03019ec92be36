"""Where findings of the hung box hold, and what a part of a line counts for, each against numbers written out."""

import numpy as np
import pytest

from rigcheck.analysis.rows import Flag
from rigcheck.analysis.solve import Solution, solve
from rigcheck.assessment.assess import assess
from rigcheck.case.rig import Rig, varied
from rigcheck.parts.fold.checks import line_reach
from rigcheck.parts.line.checks import link_checks
from rigcheck.parts.line.geometry import hung_flags, line_cuts, steel_flags
from rigcheck.parts.line.reach import reach_flags
from rigcheck.parts.lug.checks import hoist_rating
from tests.statics.random_rigs import PLAIN, rig_of, varied_rig

PULLEY = """
[[line.link]]
kind = "lever hoist"
wll = "1000 lb"
rated_to_suspend = true
carries = "{carries}"
"""
KEPT = """
[[line.link]]
kind = "come-along"
wll = "2500 lb"
mbf = "10000 lb"
rated_to_suspend = false
[[line.backup]]
kind = "chain"
size = "5/16 in"
grade = "80"
"""


def flag(found: list[Flag], code: str) -> Flag:
    (one,) = (one for one in found if one.code == code)
    return one


def everywhere(solution: Solution, one: Flag) -> np.ndarray:
    return np.broadcast_to(one.where, solution.shape) & solution.allowed[..., None]


def test_the_hinge_is_lifted_where_it_is_pulled_down_and_nowhere_else() -> None:
    """Its force is that of the plant on the box: negative upward means that the plant must hold the box down."""
    solution = solve(varied_rig(PLAIN, 12, seed=5))
    lifted = everywhere(solution, flag(hung_flags(solution), "hinge_uplift"))
    up = solution.demand.hinge[..., 2]
    hung = np.broadcast_to(solution.hung[:, None, None] & solution.allowed[..., None], solution.shape)
    clear = hung & (np.abs(up) > 1.0)
    assert (clear & (up < 0.0)).any() and (clear & (up > 0.0)).any()
    assert np.array_equal(lifted[clear], up[clear] < 0.0)
    assert not lifted[~hung].any()


def test_what_no_line_can_hold_stops_the_rig_and_what_is_only_said_does_not() -> None:
    stops = {one.code for one in hung_flags(solve(rig_of(PLAIN))) if one.stops}
    assert stops == {"dead_point", "line_slack", "splay_rolls_box"}


def test_lines_whose_splay_rolls_a_limp_box_stop_it() -> None:
    """Side pull of a line at s_H 71, n_H 30, h 30 in rolls the box by 2 x 71 x 30/30 u_y/d = 142 u_y/d of its pull.

    Over 0.95 of it nothing is left to share by. The pull's arm about the hinge is d = s_H u_n - n_H u_s.
    """
    spacing = np.array([35.0, 80.0, 90.0, 93.0, 96.0, 100.0, 140.0])
    solution = solve(
        varied(rig_of(PLAIN), {"perch.spacing": spacing, "hanger.height": 30.0}), only=frozenset({"empty"})
    )
    rolled = everywhere(solution, flag(hung_flags(solution), "splay_rolls_box"))
    at = solution.pose
    own = 142.0 * at.uy / (71.0 * at.u_n - (30.0 - solution.layout.hinge_height[..., None]) * at.u_s)
    assert (own > 0.95).any() and (own < 0.95).any()
    assert np.array_equal(rolled.any((-2, -1)), own > 0.95)


@pytest.mark.parametrize(
    ("hanger", "n", "perch", "cut"),
    [
        (60.0, 5.0, 2.0, True),  # crosses the side at 5 in, under its top at 7 in
        (60.0, 8.0, 2.0, False),  # over it
        (60.0, -2.0, 2.0, False),  # under the floor
        (104.0, 5.0, 110.0, False),  # past the tail of 105 in
        (4.0, 5.0, -60.0, False),  # before the head
    ],
)
def test_the_side_wall_is_cut_between_floor_and_top_and_between_head_and_tail(
    hanger: float, n: float, perch: float, cut: bool
) -> None:
    """Level box, hanger half an inch inside the wall of 27 in, perch as far outside: the line passes it half way."""
    wall = float(rig_of(PLAIN).number("box.sheet"))
    rig = varied(
        rig_of(PLAIN),
        {
            "box.pitch": 0.0, "hanger.at": hanger, "hanger.height": n - 0.01, "hanger.spacing": 27.0 + wall - 1.0,
            "perch.downstream": perch, "perch.height": n + 0.01, "perch.spacing": 27.0 + wall + 1.0,
        },
    )  # fmt: skip
    solution = solve(rig)
    cuts = dict(line_cuts(rig, layout=solution.layout, at=solution.pose))
    assert bool(cuts["side wall"][solution.hung][0]) == cut


def cut(what: str, **changes: float) -> bool:
    """Whether the line runs through a part; level box, pin in the floor, keys with two underscores for dots."""
    plain = {"box.pitch": 0.0, "hinge.height": 0.0}
    rig = varied(rig_of(PLAIN + POST), plain | {key.replace("__", "."): value for key, value in changes.items()})
    solution = solve(rig)
    cuts = dict(line_cuts(rig, layout=solution.layout, at=solution.pose))
    return bool(np.any(cuts[what][..., solution.hung]))


POST = '[perch.post]\nshape = "HSS3x3x1/4"\nfree_length = "20 in"\n'
WALL = 0.1046  # 12 ga


@pytest.mark.parametrize(
    ("half", "inside"), [(13.4998, False), (13.5002, True), (13.5 + WALL - 0.0002, True), (13.5 + WALL + 0.0002, False)]
)
def test_a_line_that_starts_in_the_wall_is_cut_by_it(half: float, inside: bool) -> None:
    """The wall of a box 27 in wide stands from 13 1/2 in off the middle on, and is of 12 ga."""
    wide = {"hanger__spacing": 2.0 * half, "perch__spacing": 2.0 * half}
    assert cut("side wall", hanger__at=60.0, hanger__height=5.0, **wide) is inside
    assert not cut("side wall", hanger__at=60.0, hanger__height=7.01, **wide)


@pytest.mark.parametrize(
    ("along", "half", "through"),
    [
        (60.749, 13.0, True),  # a tube of 1 1/2 in at 60 in, the fourth from the head
        (60.751, 13.0, False),
        (59.251, 13.0, True),
        (59.249, 13.0, False),
        (60.0, 13.5 + WALL - 0.01, True),  # it ends with the outer face of the sides
        (60.0, 13.5 + WALL + 0.01, False),
        (105.749, 13.0, True),  # the last one, at 105 in; none stands at 120 in
        (119.9, 13.0, False),
    ],
)
def test_a_line_straight_up_from_below_runs_through_a_cross_member(along: float, half: float, through: bool) -> None:
    wide = {"hanger__spacing": 2.0 * half, "perch__spacing": 2.0 * half}
    assert cut("cross-member", hanger__at=along, perch__downstream=along, hanger__height=-5.0, **wide) is through


def test_a_slanted_line_runs_through_the_member_it_meets_and_not_the_one_it_starts_at() -> None:
    """From 5 in under the floor to 58 in over it, 63 in: the member's middle, 0.8546 in under it, is at 4.1454/63.

    From 60 in along it is then 0.0658 of the way: at 76 in with the perch 243.2 in farther, a member with its faces at
    74 1/4 and 75 3/4 in; at 75 in with it 228 in farther.
    """
    at = {"hanger__at": 60.0, "hanger__height": -5.0, "hanger__spacing": 26.0, "perch__spacing": 26.0}
    for farther, through in ((243.2, False), (228.0, True)):
        assert cut("cross-member", perch__downstream=60.0 + farther, perch__height=58.0, **at) is through


@pytest.mark.parametrize(("low", "through"), [(-WALL - 0.751, True), (-WALL - 0.749, False)])
def test_a_line_that_starts_over_the_middle_of_a_member_does_not_run_through_it(low: float, through: bool) -> None:
    """Its middle is the sheet and half of 1 1/2 in under the floor."""
    at = {"hanger__at": 60.0, "perch__downstream": 60.0, "hanger__spacing": 26.0, "perch__spacing": 26.0}
    assert cut("cross-member", hanger__height=low, **at) is through


@pytest.mark.parametrize(("aside", "through"), [(1.49, True), (1.51, False)])
def test_a_line_beside_the_axis_of_its_post_runs_through_it(aside: float, through: bool) -> None:
    """Half of a post of 3 in, along the box or across it."""
    at = {"hanger__at": 60.0, "hanger__spacing": 30.0, "hanger__height": 7.0}
    assert cut("post", perch__downstream=60.0 + aside, perch__spacing=30.0, **at) is through
    assert cut("post", perch__downstream=60.0, perch__spacing=30.0 + 2.0 * aside, **at) is through
    assert not cut("post", perch__downstream=60.0 + aside, perch__spacing=30.0, perch__height=3.0, **at)  # hangs up


@pytest.mark.parametrize(("angle", "flat"), [(19.99, True), (20.01, False)])
def test_a_line_under_twenty_degrees_is_flat(angle: float, flat: bool) -> None:
    """Level box, hanger 60 in from the pin and 7 in up, perch straight over the pin and as far apart."""
    rise = 60.0 * np.tan(np.radians(angle))
    rig = varied(
        rig_of(PLAIN),
        {
            "box.pitch": 0.0, "hinge.height": 0.0, "hanger.at": 60.0, "hanger.height": 7.0, "hanger.spacing": 30.0,
            "perch.downstream": 0.0, "perch.height": 7.0 + rise, "perch.spacing": 30.0,
        },
    )  # fmt: skip
    solution = solve(rig)
    assert everywhere(solution, flag(hung_flags(solution), "line_flat")).any() == flat


@pytest.mark.parametrize(("away", "far"), [(5.99, False), (6.01, True), (-5.99, False), (-6.01, True)])
def test_a_hanger_wants_a_cross_member_within_six_inches(away: float, far: bool) -> None:
    """Cross-members 15 in apart from the head: one stands at 60 in."""
    solution = solve(varied(rig_of(PLAIN), {"hanger.at": 60.0 + away, "cross_member.spacing": 15.0}))
    assert bool(np.all(flag(steel_flags(solution), "hanger_off_cross_member").where)) == far


def test_past_the_last_cross_member_the_last_one_counts() -> None:
    """11 in apart in 105 in the last stands at 99 in: a hanger before the tail is within 6 in of it."""
    spaced = {"cross_member.spacing": 11.0}
    near, far = (solve(varied(rig_of(PLAIN), spaced | {"hanger.at": at})) for at in (104.95, 104.9999))
    assert not np.any(flag(steel_flags(near), "hanger_off_cross_member").where)
    assert not np.any(flag(steel_flags(far), "hanger_off_cross_member").where)


def test_links_alike_in_a_row_all_add_to_the_shortest_line() -> None:
    """Three shackles of 2 in and a hoist no shorter than 14 in: 20 in, and two lifts of 40 in."""
    hoist = PULLEY.format(carries="line") + 'headroom = "14 in"\nlift = "40 in"\n'
    start, rest = PLAIN.split("[[line.link]]", 1)
    shackles = '[[line.link]]\nkind = "shackle"\nsize = "1/2 in"\ngrade = "carbon"\ncount = 3\nlength = "2 in"\n'
    rig = rig_of(start + shackles + hoist + rest[rest.index("[water]") :])
    found = line_reach(rig)
    assert float(found.least) == pytest.approx(20.0)
    assert float(found.take_up) == pytest.approx(40.0)


@pytest.mark.parametrize(
    ("parts", "carries", "pull"),
    [(1, "line", 1000.0), (3, "line", 1000.0), (3, "part", 3000.0), (3, "lead", 2700.0)],
)
def test_a_hoist_in_a_part_or_on_the_lead_pulls_the_line_that_much_harder(
    parts: int, carries: str, pull: float
) -> None:
    """1,000 lb in one of three parts is 3,000 lb on the line; on the lead, sheaves that keep 90 %, 2,700 lb."""
    line = f'[line]\nparts = {parts}\nsheave_efficiency = "90 %"\n'
    text = PLAIN.replace("[line]\n", line).replace("[water]\n", PULLEY.format(carries=carries) + "[water]\n")
    rating = hoist_rating(rig_of(text))
    assert rating is not None and float(rating) == pytest.approx(pull)


def kept() -> Rig:
    start, rest = PLAIN.split("[[line.link]]", 1)
    return rig_of(start + KEPT + rest[rest.index("[water]") :] + '[fold]\nto = "70 deg"\n')


def test_a_pull_only_device_is_held_to_its_rating_where_no_backup_holds() -> None:
    """Beside a backup it carries in the fold and on one line, and nothing where the lines are set and left."""
    solution = solve(kept())
    device = [one for one in link_checks(solution) if one.part.startswith("line link 1")]
    assert {one.ultimate for one in device} == {False, True}
    for one in device:
        where = np.broadcast_to(one.where, solution.shape)
        assert where[solution.states("folding")].all()
        running = where[solution.states("running")]
        alone = np.broadcast_to(solution.alone[..., None], solution.shape)[solution.states("running")]
        assert np.array_equal(running, alone) and alone.any() and not alone.all()


def test_a_link_without_a_breaking_strength_is_told_where_a_line_is_broken() -> None:
    tag = '[[line.link]]\nkind = "rated part"\nwll = "3000 lb"\n[water]\n'
    told = assess(rig_of(PLAIN.replace("[water]\n", tag))).not_assessed
    assert [(one.id, one.accident) for one in told if one.group == "line"] == [("line.link.2.mbf", True)]
    assert not [one for one in assess(rig_of(PLAIN)).not_assessed if one.group == "line"]


def reaching(links: str, *, parts: int = 1) -> list[Flag]:
    """Findings of a box 60 in above whose hangers, straight up, its lines hang: 60 in from hole to hole."""
    start, rest = PLAIN.replace("[line]\n", f"[line]\nparts = {parts}\n").split("[[line.link]]", 1)
    rig = varied(
        rig_of(start + links + rest[rest.index("[water]") :]),
        {
            "box.pitch": 0.0, "hinge.height": 0.0, "hanger.at": 50.0, "hanger.height": 7.0, "hanger.spacing": 30.0,
            "perch.downstream": 50.0, "perch.height": 67.0, "perch.spacing": 30.0,
        },
    )  # fmt: skip
    solution = solve(rig)
    assert solution.pose.line_length[solution.hung] == pytest.approx(60.0)
    return [one for one in reach_flags(solution) if everywhere(solution, one).any()]


def hoist(travel: str) -> str:
    return PULLEY.format(carries="line") + f'headroom = "14 in"\n{travel}'


SHACKLE = '[[line.link]]\nkind = "shackle"\nsize = "1/2 in"\ngrade = "carbon"\nlength = "2 in"\n'


@pytest.mark.parametrize(
    ("links", "short"),
    [
        (SHACKLE + hoist('lift = "43.1 in"\n'), False),  # 2 + 14 + 43.1 is 59.1 in, within an inch of 60
        (SHACKLE + hoist('lift = "42.9 in"\n'), True),
        (SHACKLE + hoist(""), False),  # nobody said how far it goes
        (SHACKLE + SHACKLE, True),  # the hoist forgotten
        (SHACKLE.replace('length = "2 in"\n', "") + hoist('lift = "9 in"\n'), False),  # nobody measured the shackle
    ],
)
def test_links_reach_from_hanger_to_perch_or_the_rig_is_stopped(links: str, short: bool) -> None:
    found = reaching(links)
    assert [(one.code, one.stops) for one in found] == ([("line_does_not_reach", True)] if short else [])


def test_nobody_knows_how_long_a_line_of_several_parts_can_be() -> None:
    assert not reaching(SHACKLE + SHACKLE, parts=2)
