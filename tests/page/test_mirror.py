"""The mirror image of a row: across and the middle of a point turn their sign, left and right change, no more."""

import tomllib

import pytest

from rigcheck.case.models.case import Case
from rigcheck.case.models.plant import Foot
from rigcheck.case.models.use import Stop, TieDown
from rigcheck.page.changes import Changes, laid_over
from rigcheck.page.form import Shown, form_html
from rigcheck.page.mirror import has_sides, mirrored
from rigcheck.page.rowing import carried_out
from rigcheck.page.typed import BadRequestError
from tests.page.running import CASE, ROOT

DATA = tomllib.loads((ROOT / "cases" / CASE).read_text(encoding="utf-8"))


def test_the_right_strap_of_a_case_is_the_mirror_image_of_its_left_one():
    left, right = DATA["haul"]["tie_down"]
    changes = carried_out(Changes(), do="mirror haul.tie_down 1", data=DATA)
    assert changes.rows == {"haul.tie_down": (1, 2, 0)}
    new = laid_over(DATA, changes)["haul"]["tie_down"]
    assert new[:2] == [left, right] and new[2] == {key: value for key, value in right.items() if key != "name"}


def test_what_was_typed_is_mirrored_and_not_what_stood_there():
    changes = Changes(typed={"haul.tie_down[1].from": "80 in, 1 ft 2 in, 6 in"})
    new = laid_over(DATA, carried_out(changes, do="mirror haul.tie_down 1", data=DATA))["haul"]["tie_down"]
    assert new[2]["from"] == ["80 in", "-1 ft 2 in", "6 in"]


def test_sides_change():
    assert mirrored(Stop, {"at": ["8 ft", "-9 in", "7 in"], "direction": "left"}) == {
        "at": "8 ft, 9 in, 7 in", "direction": "right"}  # fmt: skip
    assert mirrored(Stop, {"at": ["8 ft", "+9 in", "7 in"], "direction": "up"})["at"] == "8 ft, -9 in, 7 in"
    assert mirrored(Foot, {"name": "left jack", "downstream": "-10 in", "across": "32 in"}) == {
        "downstream": "-10 in", "across": "-32 in"}  # fmt: skip
    assert has_sides(TieDown) and not has_sides(Case)


@pytest.mark.parametrize("do", ["mirror line.link 1", "mirror haul.tie_down 3", "mirror haul.tie_down", "mirror box 1"])
def test_what_has_no_sides_has_no_mirror(do):
    with pytest.raises(BadRequestError):
        carried_out(Changes(), do=do, data=DATA)
    assert f'value="{do}"' not in form_html(Shown(data=DATA))
