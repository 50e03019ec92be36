"""The single faults that tests are tried against: one of each kind, and the source with it still reads."""

import ast

import pytest

from tests.bench.faults import KINDS, spots, with_fault

SOURCE = '''"""Not a "lb"."""

def f(a: "lb", b, c=("left", "lb")):
    flags.append(a)
    if a < b and not c:
        return [max(a, b), -a]
    return a[0] * 2.0 - b.sum(-1)
'''
MADE = {
    "constant": ["2.02"],
    "sign": ["(a)", "((a[0] * 2.0) + (b.sum(-1)))"],
    "extreme": ["min(a, b)"],
    "logic": ["((a < b) or (not c))"],
    "comparison": ["((a) > (b))", "(c)"],
    "term": ["(2.0)", "(a[0])", "(a[0] * 2.0)"],
    "entry": ["[-a]", "[max(a, b)]"],
    "index": ["'right'", "1"],
    "finding": ["pass"],
    "unit": ["'in'"],
}


@pytest.mark.parametrize("kind", KINDS)
def test_each_kind_is_found_where_it_is_and_nowhere_else(kind, tmp_path):
    (tmp_path / "module.py").write_text(SOURCE)
    found = list(spots("module.py", tree=tmp_path, kinds=(kind,)))
    assert sorted(one.put for one in found) == sorted(MADE[kind])
    for one in found:
        changed = with_fault(SOURCE, one)
        assert changed != SOURCE and one.put in changed and one.text in SOURCE
        ast.parse(changed)
