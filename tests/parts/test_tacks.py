"""A box that is only tacked: its welds by hand, its verdict, and who refuses it."""

import re
from pathlib import Path

import numpy as np
import pytest

import rigcheck
from rigcheck.assessment.assess import assess
from rigcheck.assessment.verdict import verdict
from rigcheck.case import CaseError, read_case_text
from rigcheck.case.rig import Rig
from rigcheck.output.bed_words import bed_plain
from rigcheck.output.card.data import card_data
from rigcheck.output.check.result import Source, result
from rigcheck.studies.bed_mark.study import bed_mark
from rigcheck.wording.scale import Scale

FOLDER = Path(__file__).parents[2] / "cases"
TACKS = {"made": "tacked", "tack": "1 in", "tack_leg": "1/8 in", "tack_spacing": "3 in"}


def tacked(name: str = "sawpit-bend", **keys: str) -> Rig:
    text = (FOLDER / f"{name}.toml").read_text(encoding="utf-8")
    lines = "".join(f'{key} = "{value}"\n' for key, value in {**TACKS, **keys}.items())
    text = text.replace("[weld]\n", f"[weld]\n{lines}") if "[weld]\n" in text else f"{text}\n[weld]\n{lines}"
    return Rig(read_case_text(text))


def test_a_run_of_weld_counts_as_the_tacks_in_it():
    """Tacks of 1/2 to 1 in at a foot or more: common practice, no source.

    By hand: a lug of 4 in holds one tack of 3/4 in where they are 12 in apart; a barrel's 3 in are two runs of
    1 1/2 in; an end run of 4 in holds two tacks of 1 in where they are 2 in apart.
    """
    wide = tacked("larkspur-bar", tack="3/4 in", tack_spacing="12 in")
    described = Rig(read_case_text((FOLDER / "larkspur-bar.toml").read_text(encoding="utf-8")))
    assert described.value("hanger.lug.weld_length") >= 2.0 and described.value("hinge.weld_length") >= 1.5
    assert wide.value("hanger.lug.weld_length") == 0.75 and wide.value("hinge.weld_length") == 1.5
    assert wide.value("hanger.lug.weld") == wide.value("hinge.weld") == 0.125
    seam = wide.value("rail.wall_seam")
    assert (seam.made, seam.length, seam.pitch, seam.sides) == ("stitch", 0.75, 12.0, 1)
    assert wide.value("perch.lug.weld_length") == described.value("perch.lug.weld_length")
    close = tacked("larkspur-bar", tack="1 in", tack_spacing="2 in")
    length = described.value("cross_member.weld_length")
    assert close.value("cross_member.weld_length") == min(int(length / 2.0), length)
    assert tacked("larkspur-bar", lugs="finished").value("hanger.lug") == described.value("hanger.lug")


def test_it_is_judged_hung_empty_alone_and_never_complete():
    found = assess(tacked(lugs="finished"))
    assert {row.state for row in found.solution.rows} == {"empty"} and found.solution.road is None
    assert not bool(found.over) and verdict(found).word == "incomplete"
    assert [one.id for one in found.not_assessed] == ["weld.made"]
    assert {flag.code for flag in found.flags if "tack" in flag.code} == {"tacked"}
    finished = assess(Rig(read_case_text((FOLDER / "sawpit-bend.toml").read_text(encoding="utf-8"))),
                      only=frozenset({"empty"}))  # fmt: skip
    before = {(one.check.part, one.check.mode): float(one.utilization) for one in finished.worst if not one.check.snag}
    after = {(one.check.part, one.check.mode): float(one.utilization) for one in found.worst}
    assert set(after) == set(before)
    assert all(after[name] >= before[name] - 1e-9 for name in after)
    seam = next(name for name in after if name[0] == "seam of side wall and floor")
    assert after[seam] == pytest.approx(3.0 * before[seam], rel=1e-9)  # 1 in of weld in each 3 in where all was weld


def test_tacks_on_the_lugs_alone_do_not_hold():
    found = assess(tacked())
    assert float(found.utilization) > 2.0
    assert found.worst[int(np.argmax([float(one.utilization) for one in found.worst]))].check.part == "hanger lug weld"


def test_it_has_no_bed_mark_and_a_card_of_its_own():
    rig = tacked(lugs="finished")
    found = assess(rig)
    bed = bed_mark(rig, found=found)
    told = bed_plain(bed, scale=Scale("us"))
    assert told["depth"] is None and "only tacked" in told["text"]
    answer = result(found, source=Source(file="x.toml", sha256="0" * 64), system="us")
    card = card_data(found, result=answer, bed=bed, fold=None)
    assert card["first"] == "TRIAL HANG ONLY" and "nobody on it or under it" in card["below"]
    assert not any(card[name] for name in ("tags", "folding", "road", "before_haul"))
    assert [point[0] for point in card["points"]] == ["Keep out", "Nobody"]


@pytest.mark.parametrize("ask", ["fold", "haul", "hardware", "proof", "props", "spread", "plant"])
def test_what_asks_about_the_finished_box_refuses_it(ask):
    with pytest.raises(CaseError, match=r"weld\.made"):
        getattr(rigcheck, ask)(tacked(lugs="finished"))


def test_what_cures_it_is_not_looked_for():
    assert rigcheck.remedies(tacked()) == []


@pytest.mark.parametrize(
    ("keys", "key"),
    [({"made": "finished"}, "weld.tack"), ({"tack": "4 in"}, "weld.tack"), ({"made": "glued"}, "weld.made")],
)
def test_tacks_that_cannot_be_are_refused_by_name(keys, key):
    with pytest.raises(CaseError, match=re.escape(key)):
        tacked(**keys)
