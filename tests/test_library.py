"""The library as others use it: its names, that it loads late, and every line of docs/library.md."""

import re
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

import rigcheck
from rigcheck import library
from rigcheck.case import CaseError

ROOT = Path(__file__).parents[1]
PAGE = ROOT / "docs" / "library.md"
CASE = ROOT / "cases" / "larkspur-bar.toml"


def test_names_are_sorted_and_those_of_the_library():
    assert rigcheck.__all__ is library.__all__
    assert rigcheck.__all__ == sorted(rigcheck.__all__)
    assert set(dir(rigcheck)) >= set(rigcheck.__all__)


@pytest.mark.parametrize("name", rigcheck.__all__)
def test_every_name_is_there_and_says_what_it_is(name):
    public = getattr(rigcheck, name)
    assert public is getattr(library, name) and callable(public) and public.__doc__


def test_a_name_that_is_not_offered_is_an_error():
    with pytest.raises(AttributeError, match="nothing_of_the_kind"):
        _ = rigcheck.nothing_of_the_kind


def test_the_import_loads_nothing():
    code = "import sys, rigcheck; sys.exit(len([name for name in sys.modules if name.startswith('rigcheck.')]))"
    assert subprocess.run([sys.executable, "-c", code], cwd=ROOT, check=False).returncode == 0


def test_a_room_that_is_loaded_stands_in_the_way_of_no_name():
    code = (
        "import pkgutil, rigcheck\nfor one in pkgutil.iter_modules(rigcheck.__path__):\n"
        "    assert one.name not in rigcheck.__all__, one.name"
    )
    assert subprocess.run([sys.executable, "-c", code], cwd=ROOT, check=False).returncode == 0


def test_a_batch_says_of_each_rig_what_it_says_alone():
    rig = rigcheck.read_case(CASE)
    depths = np.array([0.5, 1.5, 9.0]) * float(rig.number("bed.depth"))
    rigs = rigcheck.varied(rig, {"bed.depth": depths})
    words = rigcheck.verdicts(rigs, found=rigcheck.check_batch(rigs))
    alone = [rigcheck.verdict(rigcheck.check(rigcheck.varied(rig, {"bed.depth": depth}))).word for depth in depths]
    assert words.tolist() == alone and len(set(alone)) > 1


def test_a_batch_with_a_part_that_nobody_describes_is_incomplete_at_best():
    text = re.sub(r"\n\[cross_member\].*?(?=\n\[)", "", CASE.read_text(encoding="utf-8"), flags=re.S)
    rig = rigcheck.read_case_text(text)
    rigs = rigcheck.varied(rig, {"bed.depth": np.array([0.1, 0.2])})
    found = rigcheck.check_batch(rigs)
    assert found.not_assessed and set(rigcheck.verdicts(rigs, found=found).tolist()) <= {"incomplete", "over"}


def test_what_cannot_be_read_is_told_in_full():
    with pytest.raises(CaseError) as told:
        rigcheck.read_case_text('title = "none"\n[box]\nlength = "9 lb"\n')
    assert len(told.value.problems) > 1


def test_lines_of_the_page_run(monkeypatch, capsys):
    blocks = re.findall(r"^```python\n(.*?)^```$", PAGE.read_text(encoding="utf-8"), re.M | re.S)
    whole = "".join(blocks)
    assert whole.count("10_000") == 1
    monkeypatch.chdir(ROOT)
    exec(compile(whole.replace("10_000", "8"), str(PAGE), "exec"), {})
    told = capsys.readouterr().out.splitlines()
    assert told[0] == "within" and re.fullmatch(r"\{.*\}", told[-2])


def test_a_rig_with_a_remedy_is_better():
    rig = rigcheck.read_case(ROOT / "cases" / "tollgate-riffle.toml")
    best = rigcheck.remedies(rig, most=1)[0]
    before, after = (float(rigcheck.check(one).utilization) for one in (rig, rigcheck.remedied(rig, remedy=best)))
    assert after < before
