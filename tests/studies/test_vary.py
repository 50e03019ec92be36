"""The varied key: found by its path, refused where nothing reads it, carried by the batch as by the case itself."""

import numpy as np
import pytest

from rigcheck.assessment.assess import assess
from rigcheck.case.errors import CaseError
from rigcheck.case.reading.read import read_case_text
from rigcheck.case.rig import Rig, varied
from rigcheck.studies.vary.batch import complete, judge
from rigcheck.studies.vary.case import broken, design, with_values
from rigcheck.studies.vary.follow import moved
from rigcheck.studies.vary.variable import must_matter, value_of, variable, watched
from tests.support.whole_rig import starter_text

from .rigs import SOUND, case_of, rig_of

CASE = case_of()
RIG = rig_of()


@pytest.mark.parametrize(
    ("path", "key", "name"),
    [
        ("box.length", "box.length", "box.length"),
        ("line.link[2].length", "line.link.1.length", "line.link[2].length"),
        ("fitting.at", "fitting.0.at", "fitting[1].at"),
        ("perch.post.free_length", "perch.post.free_length", "perch.post.free_length"),
    ],
)
def test_a_key_is_found_by_its_path(path, key, name):
    found = variable(CASE, path)
    assert (found.key, found.name) == (key, name)
    assert found.value == RIG.value(key)


@pytest.mark.parametrize(
    ("path", "message"),
    [
        ("box.lenght", "not a numeric key of a case; nearest: box.length"),
        ("box", "not a numeric key"),
        ("box.channels", "not a numeric key"),
        ("box.steel", "not a numeric key"),
        ("line.link.length", r"is one of 3; write line.link\[1\] to line.link\[3\]"),
        ("line.link[4].length", "is one of 3"),
        ("line.link[1].length", "is not in the case"),
        ("end_tube.shape", "not a numeric key|part that the case does not describe"),
        ("mat.weight", "part that the case does not describe"),
        ("", "not a numeric key"),
        ("box..length", "not a numeric key"),
        ("__class__.x", "not a numeric key"),
    ],
)
def test_what_is_no_key_is_refused_with_a_reason(path, message):
    with pytest.raises(CaseError, match=message):
        variable(CASE, path)


def test_values_are_read_as_in_a_case_and_kept_to_its_limits():
    length = variable(CASE, "box.length")
    assert value_of(length, "7 ft 1 in", option="--to") == 85.0
    with pytest.raises(CaseError, match="has no unit"):
        value_of(length, "85", option="--to")
    with pytest.raises(CaseError, match="outside what this key accepts"):
        value_of(length, "90 ft", option="--to")
    assert value_of(variable(CASE, "factors.hung"), "1.5", option="--to") == 1.5
    with pytest.raises(CaseError, match="is not a number"):
        value_of(variable(CASE, "factors.hung"), "one", option="--to")


def test_a_key_that_no_check_reads_is_refused():
    _, carried = watched(RIG)
    must_matter(variable(CASE, "box.length"), carried)
    text = SOUND.replace("[hinge]", '[hinge]\nabove_ground = "50 in"')
    with pytest.raises(CaseError, match="cannot be varied"):
        must_matter(variable(case_of(text), "hinge.above_ground"), watched(rig_of(text))[1])


def _numeric(carried: frozenset[str], rig: Rig) -> list[str]:
    """Carried keys that a person can vary, with a value to move."""
    found = []
    for key in sorted(carried):
        steps = key.split(".")
        path = "".join(f"[{int(step) + 1}]" if step.isdigit() else f".{step}" for step in steps).removeprefix(".")
        try:
            one = variable(rig.case, path)
        except CaseError:
            continue
        found.append(one.key)
    return found


def test_the_batch_carries_every_key_as_a_rewritten_case_does():
    text = SOUND + '[fold]\nto = "40 deg"\n'
    rig = rig_of(text)
    _, carried = watched(rig)
    keys = _numeric(carried, rig)
    assert len(keys) > 60
    states = frozenset({"running", "packed", "plugged", "towing"})
    values = {key: float(rig.number(key)) for key in keys}
    moves = {key: value * 1.013 + (0.003 if value == 0.0 else 0.0) for key, value in values.items()}
    batch = varied(rig, {key: np.array([moves[key] if one == key else values[key] for one in keys]) for key in keys})
    together = judge(batch, only=states)
    for i in range(len(keys)):
        case = with_values(rig.case, {keys[i]: moves[keys[i]]})
        alone = judge(varied(Rig(case), {"box.length": np.reshape(Rig(case).number("box.length"), (1,))}), only=states)
        one = dict(zip(alone.rows, alone.use[0], strict=True))
        other = dict(zip(together.rows, together.use[i], strict=True))
        assert set(one) <= set(other), keys[i]
        for row, use in other.items():
            expected = one.get(row, min(use, 0.0))  # a check that the case by itself does not have asks for nothing
            assert np.isclose(use, expected, rtol=1e-9, atol=1e-12), (keys[i], row)


def test_a_chunked_batch_is_the_batch_and_one_case_is_its_row():
    batch = moved(RIG, key="box.length", values=np.linspace(60.0, 120.0, 45)).rig
    found = judge(batch, only=frozenset({"packed", "running"}))
    assert found.use.shape == (45, len(found.rows))
    for index in (0, 17, 44):
        alone = assess(Rig(design(batch, index)), only=complete(frozenset({"packed", "running"})))
        np.testing.assert_allclose(found.use[index], [float(one.utilization) for one in alone.worst], rtol=1e-9)
        assert bool(found.passes()[index]) == (not bool(alone.over))


def test_states_come_with_what_they_are_made_from():
    assert complete(frozenset({"packed"})) == {"packed", "empty"}
    assert {"running", "cleanout", "folding", "empty"} < complete(frozenset({"line_broken"}))


def test_length_moves_the_hanger_by_its_rule_and_the_tail_with_it():
    values = np.array([80.0, 100.0])
    share = moved(RIG, key="box.length", values=values).rig
    np.testing.assert_allclose(share.number("hanger.at"), 62.0 / 89.0 * values)
    np.testing.assert_allclose(share.number("fitting.0.at"), values - 2.0)
    fixed = moved(RIG, key="box.length", values=values, hanger="fixed").rig
    assert float(fixed.number("hanger.at")) == 62.0
    np.testing.assert_allclose(fixed.number("fitting.0.at"), values - 2.0)
    assert fixed.number("perch.height") == RIG.number("perch.height")


def test_a_fitting_before_the_hanger_keeps_its_place():
    text = SOUND.replace('at = "7 ft 3 in"', 'at = "8 in"')
    batch = moved(rig_of(text), key="box.length", values=np.array([80.0, 100.0])).rig
    assert float(batch.number("fitting.0.at")) == 8.0


def test_width_side_height_and_perch_height_take_along_what_stands_on_them():
    wide = moved(RIG, key="box.width", values=np.array([25.0])).rig
    assert [float(wide.number(f"{part}.spacing")[0]) for part in ("hinge", "hanger", "perch")] == [23.0, 28.0, 33.0]
    high = moved(RIG, key="box.side_height", values=np.array([8.0])).rig
    assert float(high.number("hanger.height")[0]) == 8.0
    up = moved(RIG, key="perch.height", values=np.array([70.0])).rig
    assert float(up.number("perch.post.free_length")[0]) == 47.0


def test_a_hanger_low_on_the_side_stays_where_it_is_when_the_sides_grow():
    known = '[hanger]\nat = "5 ft 2 in"\nheight = "6 in"'
    assert known in SOUND
    text = SOUND.replace(known, known.replace("6 in", "1 in"))
    grown = moved(rig_of(text), key="box.side_height", values=np.array([9.0]))
    assert float(grown.rig.number("hanger.height")) == 1.0
    assert "the hanger keeps its height above the floor" in grown.words


def test_a_weighed_box_is_another_box_when_it_changes():
    text = SOUND + '[measured]\nempty_weight = "400 lb"\n'
    changed = moved(rig_of(text), key="box.length", values=np.array([80.0]))
    assert changed.rig.case.measured.empty_weight is None
    assert any("weighed" in word for word in changed.words)
    kept = moved(rig_of(text), key="perch.height", values=np.array([70.0]))
    assert kept.rig.case.measured.empty_weight == 400.0


def test_a_case_is_rewritten_without_touching_the_old_one():
    new = with_values(CASE, {"line.link.1.diameter": 0.375, "perch.post.shape": "HSS3x3x1/4", "box.length": 99.0})
    assert (new.line.link[1].diameter, new.box.length) == (0.375, 99.0)
    assert new.perch.post is not None and new.perch.post.shape == "HSS3x3x1/4"
    assert CASE.line.link[1].diameter == 0.5
    assert new.line.link[0] == CASE.line.link[0]


def test_rules_between_keys_are_put_to_a_rewritten_case():
    assert broken(CASE, name="x") == []
    problems = broken(with_values(CASE, {"box.length": 50.0}), name="x")
    assert any("hanger.at" in str(one) for one in problems)


def test_the_starter_can_be_watched():
    _, carried = watched(Rig(read_case_text(starter_text())))
    assert {"box.length", "perch.post.brace.foot_below", "fold.to", "line.link.2.wll"} <= carried
