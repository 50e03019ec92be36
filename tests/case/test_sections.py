"""Sections: declared once, read whole, frozen, copied with changes."""

import copy
import pickle

import pytest

from rigcheck.case import CaseError, check_case, read_case_text
from rigcheck.case.models.case import Case, Fitting, Line, Measured, TieDown
from rigcheck.case.schema.sections import changed, fields_of, stated
from tests.case.test_reading import SMALL, problems_of


def test_a_section_is_not_changed():
    case = read_case_text(SMALL)
    with pytest.raises(AttributeError, match=r"Box.length: a section is not changed"):
        case.box.length = 3.0
    with pytest.raises(AttributeError, match="not changed"):
        del case.box.length
    with pytest.raises(AttributeError, match="not changed"):
        case.box.color = "red"


def test_a_changed_copy_leaves_the_old_one_and_counts_as_given():
    box = read_case_text(SMALL).box
    other = changed(box, {"channels": 3})
    assert (box.channels, other.channels) == (1, 3)
    assert stated(other) == stated(box) | {"channels"}
    assert "channels" not in stated(box)
    assert other != box
    assert changed(other, {"channels": 1}) == box
    assert hash(changed(other, {"channels": 1})) == hash(box)
    assert other != "box"


def test_copies_are_equal():
    case = read_case_text(SMALL)
    for other in (copy.copy(case), copy.deepcopy(case), pickle.loads(pickle.dumps(case))):
        assert other == case
        assert stated(other) == stated(case)
        assert other.line.link[0].wll == 2000.0


def test_a_section_from_values_inside_takes_them_and_its_defaults():
    pile = Fitting(name="sand", weight=40.0, at=12.0)
    assert (pile.weight, pile.across, pile.height) == (40.0, 0.0, 0.0)
    assert stated(pile) == {"name", "weight", "at"}
    assert repr(Measured()).startswith("Measured(empty_weight=None, ")
    with pytest.raises(TypeError, match="Fitting has no key wight"):
        Fitting(name="sand", wight=40.0, at=12.0)
    with pytest.raises(TypeError, match="Fitting needs the key at"):
        Fitting(name="sand", weight=40.0)


def test_what_is_declared():
    case, line, strap = fields_of(Case), fields_of(Line), fields_of(TieDown)
    assert next(iter(case)) == "title"
    assert case["box"].required and not case["bed"].required and not case["water"].required
    assert case["water"].optional and not case["bed"].optional
    assert line["link"].repeated and line["link"].least == 1 and line["backup"].least == 0
    assert strap["start"].word == "from" and strap["kind"].word == "kind"
    assert strap["start"].kind is not None and strap["start"].section is None
    assert case is fields_of(Case)


def test_the_word_of_the_file_and_not_the_name_inside():
    strap = '[[haul.tie_down]]\nwll = "1000 lb"\nto = ["1 in", "2 in", "3 in"]\n'
    assert "start" not in "".join(problems_of(SMALL + strap))
    found = problems_of(SMALL + strap + 'start = ["1 in", "2 in", "3 in"]\n')
    assert any("haul.tie_down[1].from: is missing" in line for line in found)
    assert any("haul.tie_down[1].start: there is no such key" in line for line in found)


def test_nothing_stands_for_an_optional_key_only():
    data = {"title": "x", "note": None, "water": None, "basis": None, "bed": None}
    with pytest.raises(CaseError) as caught:
        check_case(data)
    wrong = {problem.key for problem in caught.value.problems}
    assert {"basis", "bed"} <= wrong
    assert not {"note", "water"} & wrong


def test_rules_look_into_a_list_that_stands_for_a_table_and_into_a_table_that_stands_for_a_list():
    found = problems_of(SMALL + '[[bed]]\ndepth = "9 in"\n')
    assert any("bed: a list stands where the table [bed] belongs" in line for line in found)
    assert any("bed[1].depth: 9 in is deeper than the sides" in line for line in found)
    found = problems_of(SMALL.replace("[[line.link]]", "[line.link]").replace('wll = "2000 lb"', ""))
    assert any("line.link: a table stands" in line for line in found)
    assert any("line.link.wll: is missing" in line for line in found)


def test_an_empty_list_of_links_and_a_row_that_is_no_table():
    data = {"line": {"link": []}, "fitting": [5]}
    with pytest.raises(CaseError) as caught:
        check_case(data)
    found = [str(problem) for problem in caught.value.problems]
    assert "case: line.link: needs at least one; write [[line.link]]" in found
    assert any(line.startswith("case: fitting[1]: 5 stands where the table [[fitting]] belongs") for line in found)
