"""Steel grades and electrodes."""

import pytest

from rigcheck.tables import TableError, steel
from rigcheck.tables.loader import load


def test_every_name_is_found_and_none_is_below_unknown():
    scrap = steel.lowest()
    assert steel.names()[0] == "unknown"
    for name in steel.names():
        found = steel.grade(name)
        assert found.key == name
        assert found.fu > found.fy >= scrap.fy
        assert found.fu >= scrap.fu


def test_unknown_is_32_and_45_ksi():
    scrap = steel.grade(" Unknown ")
    assert (scrap.fy, scrap.fu, scrap.known) == (32000.0, 45000.0, "memory")


@pytest.mark.parametrize(
    ("name", "fy", "fu"),
    [
        ("A36", 36, 58),
        ("a500b", 46, 58),
        ("A500B round", 42, 58),
        ("A500C round", 46, 62),
        ("1018  Cold Drawn", 54, 64),
    ],
)
def test_grades(name, fy, fu):
    found = steel.grade(name)
    assert (found.fy, found.fu) == (fy * 1000.0, fu * 1000.0)
    assert found.source and found.clause


def test_keys_are_unique():
    keys = [row["key"] for row in load("steel_grades")["grade"]]
    assert len(set(keys)) == len(keys)


def test_misspelt_steel_names_the_nearest():
    with pytest.raises(TableError, match=r'no steel "A63"; nearest: A36'):
        steel.grade("A63")


@pytest.mark.parametrize(("name", "fexx"), [("E60", 60), ("e70", 70), ("E7018", 70), ("E70 ", 70), ("E8018", 80)])
def test_electrodes(name, fexx):
    assert steel.electrode(name).fexx == fexx * 1000.0


@pytest.mark.parametrize("name", ["E7", "E701811", "E70xx", "70", "", "E90"])
def test_unknown_electrode(name):
    with pytest.raises(TableError, match="E60, E70, E80"):
        steel.electrode(name)


def test_elastic_constants():
    assert steel.elastic_modulus() == 29.0e6
    assert steel.shear_modulus() == 11.2e6
