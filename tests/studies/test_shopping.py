"""What is offered in place of a part, in words and numbers, from made-up windows and uses; sizes from the tables."""

from dataclasses import dataclass, field
from types import SimpleNamespace

import numpy as np
import pytest

from rigcheck.analysis.rows import Check
from rigcheck.case.models.case import EndTube, Link
from rigcheck.case.rig import Rig
from rigcheck.studies import decisive as rows
from rigcheck.studies.hardware import choices, road, sized
from rigcheck.studies.hardware import study as bought
from rigcheck.studies.hardware.choices import _hoist, _now, _unlisted
from rigcheck.studies.hardware.links import listed
from rigcheck.studies.hardware.steel import PARTS, described, stepped
from rigcheck.studies.hoist_window.study import HoistWindow
from rigcheck.studies.props import study as props
from rigcheck.studies.props.options import LEG, PAIR, Option, options
from rigcheck.studies.props.propped import Propped
from rigcheck.studies.remedies import parts as part_words
from rigcheck.studies.remedies.props import _words
from rigcheck.studies.vary.batch import Finding, Judged, RowKey
from rigcheck.studies.vary.case import with_values
from tests.support.stand_in import Selects

from .rigs import rig_of

RIG = rig_of()
KEY = "line.link.1"


def base(use):
    return SimpleNamespace(use=lambda *parts: use, max_utilization=0.8)


@pytest.mark.parametrize(("use", "needs", "bought"), [(1.2, 1500.0, True), (0.4, 500.0, False), (-1.0, 0.0, False)])
def test_what_no_table_lists_needs_its_mark_in_proportion(use, needs, bought):
    """Marked 1,000 lb and used to 120 % where 80 % is allowed: 1,500 lb."""
    link = Link(kind="rated part", wll=1000.0, count=3)
    strength = SimpleNamespace(label="rated part", unknown="", working=np.array(950.0))
    found = _unlisted(base(use), link=link, strength=strength, key=KEY)
    assert found.needs == pytest.approx(needs) and found.count == 6 and found.now == "rated part marked 1000 lb"
    marks = {f"{KEY}.wll": pytest.approx(needs), f"{KEY}.mbf": None, f"{KEY}.proof": None}
    assert found.changes == (marks if bought else {})


def window(*, marked=2000.0, least=1500.0, most=3000.0, limit=("perch post", "bending")):
    return HoistWindow(part="hoist", index=1, marked=marked, needs=least, least=least, most=most, limit=limit)


@pytest.mark.parametrize(
    ("inside", "mark"),
    [(window(), None), (window(marked=1000.0), 1500.0), (window(marked=4000.0), 3000.0),
     (window(marked=1000.0, most=None, limit=()), 1500.0), (window(least=3500.0), None)],
)  # fmt: skip
def test_a_hoist_gets_the_nearest_mark_inside_its_window(inside, mark):
    found = _hoist(base(0.5), link=Link(kind="lever hoist", wll=inside.marked), window=inside, key=KEY)
    assert found.changes.get(f"{KEY}.wll") == mark
    assert (found.needs, found.most, found.count) == (inside.least, inside.most or 0.0, 2)  # one on each line


@pytest.mark.parametrize(
    ("inside", "note"),
    [
        (window(), ""),
        (window(least=3500.0), "no hoist fits: the line needs 3500 lb and a snagged box stands no more than 3000 lb"
         " (perch post, bending): stronger anchors first"),
        (window(most=0.0), "no hoist fits: perch post (bending) is over however little it pulls: a stronger one of that"
         " first"),
        (window(most=None, limit=()), "a stronger hoist asks for stronger lugs, posts and welds, and none is"
         " described"),
    ],
)  # fmt: skip
def test_why_no_hoist_fits_is_told(inside, note):
    link = Link(kind="lever hoist", wll=2000.0, rated_to_suspend=True)
    assert _hoist(base(0.5), link=link, window=inside, key=KEY).note == note


def test_a_device_that_may_only_pull_is_replaced_even_inside_its_window():
    link = Link(kind="come-along", wll=2000.0, rated_to_suspend=False)
    found = _hoist(base(0.5), link=link, window=window(), key=KEY)
    assert found.changes == {f"{KEY}.rated_to_suspend": True} and "not marked for holding" in found.note


@pytest.mark.parametrize(
    ("link", "words"),
    [
        (Link(kind="shackle", size=0.5, grade="carbon"), "1/2 in shackle"),
        (Link(kind="wire rope", diameter=0.375), "3/8 in wire rope"),
        (Link(kind="shackle", size=0.625, wll=6500.0), "5/8 in shackle marked 6500 lb"),
        (Link(kind="lever hoist", wll=1500.0), "lever hoist marked 1500 lb"),
    ],
)
def test_what_there_is_now_is_told_with_size_and_mark(link, words):
    assert _now(link) == words


@pytest.mark.parametrize(
    ("link", "size", "tag"),
    [
        # a 1/2 in shackle of carbon steel is marked 2 tons, RR-C-271 and every maker's table
        (Link(kind="shackle", size=0.25, grade="carbon"), "1/2 in carbon shackle", "WLL 2 ton (4000 lb)"),
        # 3/8 in chain of grade 80 holds 7,100 lb, ASTM A391
        (Link(kind="chain", size=0.25, grade="80"), "3/8 in grade 80 chain", "WLL 7100 lb, grade 80 on the links"),
        # 1/2 in rope 6x19 of improved plow steel with fiber core breaks at 10.7 tons of 2,000 lb
        (Link(kind="wire rope", table="rope_6x19_fc_ips", diameter=0.25, termination="mechanical splice"),
         "1/2 in rope, rope 6x19 fc ips", "MBF 21400 lb"),
    ],
)  # fmt: skip
def test_sizes_are_those_of_the_tables(link, size, tag):
    rig = Rig(with_values(RIG.case, {"line.backup": (link,)}))
    found = listed(rig, table="line.backup", index=0)
    one = next(one for one in found.sizes if one.words == size)
    assert one.tag == tag and found.source
    assert one.changes["line.backup.0.wll"] is None  # the mark is that of the old part


def test_a_rope_of_another_size_stretches_as_its_own_table_says():
    """What was stated of the old one, its steel and its stretch, is left out."""
    rope = Link(kind="wire rope", table="rope_6x19_fc_ips", diameter=0.25, stiffness=9000.0, termination="clips")
    found = listed(Rig(with_values(RIG.case, {"line.backup": (rope,)})), table="line.backup", index=0)
    one = next(one for one in found.sizes if one.words.startswith("1/2 in"))
    assert {key: one.changes[f"line.backup.0.{key}"] for key in ("area", "modulus", "stiffness")} == {
        "area": None, "modulus": None, "stiffness": None,
    }  # fmt: skip
    assert one.changes["line.backup.0.clips"] == 3 and one.words.endswith("3 clips at each eye")  # 29 CFR 1926 H-20


def test_why_there_is_no_strap_is_told(monkeypatch):
    ties = (SimpleNamespace(count=1, wll=100.0, kind="strap", name="ratchet strap"),)
    one = SimpleNamespace(rig=SimpleNamespace(value=lambda key: ties), use=lambda *parts: 1.4, max_utilization=0.8)
    monkeypatch.setattr(road, "strap_name", lambda rig, index: "tie-down 1")
    monkeypatch.setattr(road, "_most", lambda found, *, index, breaking: 4000.0)
    monkeypatch.setattr(road, "_asked", lambda base, found: 2)
    found = road._choice(one, None, index=0, table="chain", picked=(None, None))
    assert (found.now, found.needs, found.use_now) == ("marked 100 lb", 5000.0, 1.4)
    assert "no listed size carries it" in found.note and "asks for 2 tie-downs and there is 1" in found.note


@pytest.mark.parametrize(
    ("most", "words"), [(0.0, " or more"), (1200.0, ", not over 1,200 lb"), (1000.5, ", no less and no more")]
)
def test_the_window_of_a_mark_in_words(most, words):
    assert part_words._window(1000.0, most=most) == words


@pytest.mark.parametrize(
    ("part", "sizes"),
    [
        ("hinge pin", [3 / 8 + i / 8 for i in range(22)]),  # 3/8 to 3 in by eighths
        ("hanger lug", [3 / 16 + i / 16 for i in range(14)]),  # plate of 3/16 to 1 in by sixteenths
        ("hinge barrel", [1 / 8 + i / 16 for i in range(11)]),
        ("perch lug weld", [1 / 8 + i / 16 for i in range(7)]),  # fillets of 1/8 to 1/2 in
    ],
)
def test_sizes_that_no_table_lists_go_in_shop_steps(part, sizes):
    (steel,) = (one for one in PARTS if one.part == part)
    assert [size.changes[steel.key] for size in stepped(steel)] == pytest.approx(sizes)


@pytest.mark.parametrize(("kept", "use"), [(False, 2.0), (True, 0.5)])
def test_straps_of_one_limit_hold_down_a_fifth_of_the_weight_where_the_pin_may_jump_out(kept, use):
    """49 CFR 393.102(b): 200 of 1,000 lb; two straps of 1,000 lb that pull down by a twentieth hold 100.

    Together their limits must come to half of the weight, 500 lb, and come to 1,000, each counted half since it is
    tied to the plant at one end and to the box at the other, 393.106(d).
    """
    ties = (SimpleNamespace(count=1, kind="to anchor"),) * 2
    told = {"haul.tie_down": ties, "hinge.pin_retained": kept}
    way = np.array([[[0.6, 0.3, -0.05], [0.6, -0.3, -0.05]]])
    folded = SimpleNamespace(service=SimpleNamespace(weight=np.array([1000.0])), held_by=SimpleNamespace(way=way))
    one = SimpleNamespace(rig=SimpleNamespace(value=told.get))
    assert road._together(one, folded, limit=1000.0) == pytest.approx(use)


def test_a_strap_breaks_no_earlier_than_at_fifties_over_what_it_is_thrown_with(monkeypatch):
    """Thrown with 4,130 lb where 80 % is allowed: 5,162.5, so 5,200 lb; pulled by 1,000 where 2,000 is allowed."""
    monkeypatch.setattr(road, "_most", lambda found, *, index, breaking: 4130.0 if breaking else 1000.0)
    monkeypatch.setattr(road, "_together", lambda base, found, *, limit: 0.7 if limit > 1500.0 else 0.9)
    kinds = [("1 in webbing", 1000.0), ("2 in webbing", 2000.0), ("4 in webbing", 6000.0)]
    small, middle, large = road._strap_sizes(SimpleNamespace(max_utilization=0.8), None, kinds, index=0)
    assert [one.changes["haul.tie_down.0.mbf"] for one in (small, middle, large)] == [5200.0, 5200.0, 6000.0]
    assert [one.use for one in (small, middle, large)] == pytest.approx([1.0, 4130.0 / 5200.0, 4130.0 / 6000.0])
    assert [one.fits for one in (small, middle, large)] == [False, True, True]


def test_a_mark_is_told_in_fifties_rounded_up():
    assert [part_words._mark(pounds) for pounds in (1000.0, 1000.1, 49.0)] == [1000.0, 1050.0, 50.0]


def test_further_supports_are_tried_where_one_would_try_them():
    """A leg at 96 % of 89 in, 85.4, to the inch; a pair midway between 62 in and the tail, 75.5 rounded up."""
    found = {one.name: one.rig for one in options(RIG)}
    assert float(found[LEG].number("tail_leg.at")) == 85.0
    assert float(found[PAIR].number("second_line.at")) == 76.0
    assert float(found[PAIR].number("second_line.downstream")) == -7.0 - 12.0
    far = Rig(with_values(RIG.case, {"hanger.at": 88.0}))  # no leg stands before the hangers
    assert float(next(one for one in options(far) if one.name == LEG).rig.number("tail_leg.at")) == 88.0


def test_further_supports_in_words():
    leg, pair = options(RIG)
    assert _words(leg) == (
        "stand a leg under each rail 85 in from the hinge that gives no more than an inch under 5,000 lb"
    )
    start = "hang the box on a second pair of lines 76 in from the hinge, like the first, to perches"
    assert _words(pair) == f"{start} 19 in behind the hinge axis and 61 in up"
    ahead = Rig(with_values(pair.rig.case, {"second_line.downstream": 10.0, "second_line.perch_height": 70.0}))
    assert _words(Option(PAIR, ahead, True)) == f"{start} 10 in downstream of the hinge axis and 70 in up"


def test_a_leg_is_held_to_what_it_may_carry():
    leg = next(one for one in options(RIG) if one.name == LEG)
    force = np.array([[[300.0, 450.0]]])
    found = SimpleNamespace(take=lambda: force)
    assert props._own_checks(leg, found, aside=0.0) == []  # nobody says
    strong = Option(LEG, Rig(with_values(leg.rig.case, {"tail_leg.capacity": 900.0})), True)
    (check,) = props._own_checks(strong, found, aside=0.0)
    assert (check.unit, check.capacity.tolist()) == ("force", [[[900.0]]]) and check.demand is force


def test_a_support_takes_each_rail_by_itself_where_the_box_is_limp_and_alike_where_not():
    share = SimpleNamespace(heavy=np.array([[1.0, 2.0, 3.0]]), still=np.array([[4.0, 5.0, 6.0]]))
    found = SimpleNamespace(share=share, even=SimpleNamespace(allowed=np.ones((1, 3))))
    assert Propped.take(found).tolist() == [[[1.0, 2.0], [3.0, 3.0], [3.0, 3.0]]]
    assert Propped.take(found, heavy=False).tolist() == [[[4.0, 5.0], [6.0, 6.0], [6.0, 6.0]]]


def test_a_limp_box_is_judged_by_its_own_supports_and_any_other_by_alike_ones(monkeypatch):
    """One row, five ways of sharing of which three are of both lines; the limp one is the first."""

    def solved(uses, name):
        row = SimpleNamespace(state=name, ultimate=False)
        allowed = np.array([[True, True, True, False, False]])
        return SimpleNamespace(rows=[row], allowed=allowed, shape=(1, 5, 1), uses=uses)

    def check(part, uses, **more):
        demand = np.array(uses)[None, :, None]
        return Check(part=part, mode="m", unit="force", demand=demand, capacity=np.array(1.0), basis="", clause="",
                     **{"group": "line", **more})  # fmt: skip

    def checks(solution):
        plant, lost = check("plant", [2.0] * 5, group="plant"), check("pin", [2.0] * 5, ultimate=True)
        return [check("pin", solution.uses), plant, lost]

    monkeypatch.setattr(props, "hung_checks", checks)
    soft = (False, solved([0.2, 0.9, 0.9, 0.9, 0.9], "limp"), solved([0.9, 0.3, 0.4, 0.9, 0.9], "even"), [])
    firm = (True, solved([0.3, 0.9, 0.9, 0.9, 0.9], "limp"), solved([0.9, 0.1, 0.1, 0.9, 0.9], "even"),
            [check("leg", [0.7, 0.1, 0.1, 0.8, 0.8])])  # fmt: skip
    found = [(one.part, one.utilization, one.state, one.firm) for one in props._uses([soft, firm])]
    assert found == [("leg", 0.7, "even", True), ("pin", 0.4, "even", False)]
    found = [(one.part, one.utilization, one.state, one.firm) for one in props._uses([firm])]
    assert found == [("leg", 0.7, "even", True), ("pin", 0.3, "limp", True)]


def test_between_soft_and_firm(monkeypatch):
    monkeypatch.setattr(props, "compared_states", lambda: ("packed",))
    monkeypatch.setattr(props, "QUANTITIES", ("line",))
    assert props._between([{"packed": {"line": 3.0}}, {"packed": {"line": 2.0}}]) == {"packed": {"line": (2.0, 3.0)}}


def test_links_of_both_lines_and_steel_are_chosen_in_this_order(monkeypatch):
    monkeypatch.setattr(choices, "_links", lambda base, *, table, parts, sure: [(table, parts, sure)])
    monkeypatch.setattr(choices, "steel_choices", lambda base, *, parts, sure: ["steel"])
    assert choices.choices_for(None) == [("line.link", None, True), ("line.backup", None, True), "steel"]


def test_a_hoist_is_chosen_by_its_window_and_other_links_by_their_table(monkeypatch):
    kinds = (("hoist", "lever hoist"), ("shackle", "shackle"), ("swivel", "rated part"))
    told = [SimpleNamespace(label=label, kind=kind) for label, kind in kinds]
    monkeypatch.setattr(choices, "links", lambda rig, *, table: told)
    monkeypatch.setattr(choices, "_hoist", lambda base, *, link, window, key: f"{key} by {window.index}")
    monkeypatch.setattr(choices, "listed", lambda rig, *, table, index: "sizes" if index == 1 else None)
    monkeypatch.setattr(choices, "_listed_link", lambda base, sizes, *, link, place, strength: f"{place} of {sizes}")
    monkeypatch.setattr(choices, "_unlisted", lambda base, *, link, strength, key: f"{key} unlisted")
    one = SimpleNamespace(rig=SimpleNamespace(value=lambda key: [None] * 3),
                          windows=lambda *, sure: [SimpleNamespace(index=0)])  # fmt: skip
    found = choices._links(one, table="line.link", parts=None, sure=True)
    assert found == ["line.link.0 by 0", "('line.link', 1) of sizes", "line.link.2 unlisted"]
    assert choices._links(one, table="line.link", parts=frozenset({"swivel"}), sure=True) == found[2:]
    assert choices._links(one, table="line.backup", parts=None, sure=True)[0] == "line.backup.0 unlisted"


@dataclass(frozen=True)
class Solved(Selects):
    """The statics of three rows: the second has one line broken, the third is held in no way at all."""

    links: list[float]
    backup: list[float]
    rows: tuple[SimpleNamespace, ...] = tuple(SimpleNamespace(ultimate=lost) for lost in (False, True, False))
    allowed: np.ndarray = field(default_factory=lambda: np.array([[True], [True], [False]]))
    shape: tuple[int, ...] = (3, 1, 1)


def test_a_link_of_another_strength_is_used_by_the_pull_that_is_there(monkeypatch):
    """300 lb at work and 2,000 with one line broken, against 1,000 at work and 2,500 before it breaks: 30 and 80 %."""

    def checks(solution):
        for part, strength in (("hook", solution.links[0]), ("chain", solution.backup[0])):
            for ultimate, most in ((False, strength.working), (True, strength.ultimate)):
                demand = np.array([300.0, 2000.0, 9e9])[:, None, None]
                yield Check(part=part, key=part, group="line", mode="m", unit="force", demand=demand,
                            capacity=np.asarray(most), basis="", clause="", ultimate=ultimate)  # fmt: skip

    def strength(label, working, ultimate, unknown=""):
        return SimpleNamespace(key=label, unknown=unknown, working=working, ultimate=ultimate)

    monkeypatch.setattr(choices, "link_checks", checks)
    weak = strength("chain", 500.0, 2100.0)
    one = SimpleNamespace(found=SimpleNamespace(solution=Solved([strength("hook", 400.0, 2100.0)], [weak])))
    new = strength("hook", 1000.0, 2500.0)
    assert choices._link_use(one, new, place=("line.link", 0)) == pytest.approx(0.8)
    strong = strength("chain", 400.0, 9000.0)
    assert choices._link_use(one, strong, place=("line.backup", 0)) == pytest.approx(0.75)
    assert choices._link_use(one, strength("hook", 1.0, 1.0, "no mark"), place=("line.link", 0)) is None


@pytest.mark.parametrize("index", [0, 2])  # at the hanger lug and at the perch lug
def test_a_shackle_goes_with_the_lug_at_its_end(index):
    """Hole 11/16 in and plate 1/2 in: the pin of 5/8 in of a 1/2 in shackle goes through, that of 3/4 in does not.

    Between the legs of a 5/16 in shackle there are 17/32 in, of a 1/4 in one 15/32. RR-C-271 (memory).
    """
    sizes = {
        one.changes[f"line.link.{index}.size"]: one.fits for one in listed(RIG, table="line.link", index=index).sizes
    }
    assert [sizes[size] for size in (0.25, 0.3125, 0.375, 0.5, 0.625, 0.75)] == [False, True, True, True, False, False]


def test_what_is_bought_is_looked_at_together_and_a_part_is_put_back_once(monkeypatch):
    """The pin becomes too small for what the others came to, then the post is left as it is; the rest is in order."""
    looked = []
    uses = iter([{"pin": 1.2}, {"pin": 0.8}, {"pin": 0.8}])
    pin, post, more = (
        SimpleNamespace(part=part, changes={f"{part}.size": size})
        for part, size in (("pin", 1), ("post", 0), ("pin", 2))
    )

    def of(rig, found, *, max_utilization):
        use = next(uses, {"pin": 0.8})
        return SimpleNamespace(use=lambda *names: max(use.get(name, 0.1) for name in names), found=found)

    for name, answer in (("described", []), ("road_choices", []), ("_stops", frozenset()), ("assess", "assessed")):
        monkeypatch.setattr(bought, name, lambda *given, answer=answer, **more: answer)
    monkeypatch.setattr(bought, "Base", SimpleNamespace(of=of))
    monkeypatch.setattr(bought, "with_values", lambda case, changes: looked.append(dict(changes)))
    monkeypatch.setattr(bought, "Rig", lambda case: SimpleNamespace(case=case))
    monkeypatch.setattr(bought, "choices_for", lambda base, *, parts: [more] if parts == {"pin"} else [])
    monkeypatch.setattr(bought, "_as_they_are", lambda rig, choices, *, beside: [post] if len(looked) > 1 else [])
    start = SimpleNamespace(rig=SimpleNamespace(case=None), max_utilization=0.85, found=None)
    settled, found = bought._settled(start, [pin, SimpleNamespace(part="lug", changes={"lug.size": 5})])
    assert found == "assessed" and [one.part for one in settled] == ["pin", "post"]
    assert looked == [
        {"pin.size": 1, "lug.size": 5}, {"pin.size": 2, "lug.size": 5}, {"pin.size": 2, "lug.size": 5, "post.size": 0},
    ]  # fmt: skip


def test_parts_of_one_size_are_used_as_the_most_of_them_and_must_fit():
    rows_ = tuple(RowKey(part, "", "lug", False, False) for part in ("lug", "lug face", "pin"))
    misfit = Finding("pin_does_not_fit", "", np.array([False, True]), frozenset(), False, "lug")
    other = Finding("clash", "", np.array([True, True]), frozenset(), True, "lug")
    judged = Judged(rows_, np.array([[0.3, 0.8, 0.9], [0.4, 0.2, 0.9]]), np.zeros((2, 3), dtype=np.intp), ("empty",),
                    (misfit, other), ())  # fmt: skip
    assert sized._part_use(judged, 0, ("lug", "lug face")) == (0.8, False)
    assert sized._part_use(judged, 1, ("lug", "lug face")) == (0.4, True)
    assert sized._part_use(judged, 1, ("post",)) == (-1.0, False)


def test_the_first_cross_member_is_the_end_tube_where_there_is_one():
    head, face = "head cross-member", "hinge barrel face"
    plain = {one.key: one.parts for one in described(RIG)}
    assert plain["cross_member.shape"][-2:] == (head, face) and "end_tube.shape" not in plain
    assert plain["hinge.pin"] == ("hinge pin",) and plain["rail.stiffener"] == ("rail", "hanger lug face")
    tube = EndTube(shape="HSS3x3x1/4", head=True, tail=True)
    tubes = {one.key: one.parts for one in described(Rig(with_values(RIG.case, {"end_tube": tube})))}
    assert tubes["end_tube.shape"] == (head, face)
    assert tubes["cross_member.shape"] == ("cross-member", "hanger cross-member")


def test_rows_that_decide_hold_a_box_at_rest_and_the_fold():
    names = ("running", "empty", *("folding",) * 60, "snagged")
    hung = [SimpleNamespace(state=name) for name in names]
    solution = SimpleNamespace(life=SimpleNamespace(loads=SimpleNamespace(rows=hung)), shape=(len(hung) + 2, 1, 1))
    found = SimpleNamespace(solution=solution)

    def worst(row, use=0.5):
        return SimpleNamespace(state=np.array(row), utilization=np.array(use))

    assert rows.decisive(found, checks=[]) == (1, 2, 61)
    assert rows.decisive(found, checks=[worst(0), worst(62), worst(63), worst(9, -1.0)]) == (0, 1, 2, 61, 62)
    swept = rows.decisive(found, checks=[worst(9)])  # one of the fold: some of all its angles
    assert {1, 2, 9, 61} < set(swept) and len(swept) > 4 and set(swept) <= {1, *range(2, 62)}
    gaps = np.diff([row for row in swept if row >= 2])
    assert gaps.max() <= 20
