"""The mirror image of a row: across and the middle of a point turn their sign, left and right change, no more."""

import tomllib
from math import atan, cos, radians, sin

import pytest

from rigcheck.case.models.case import Case
from rigcheck.case.models.plant import Foot
from rigcheck.case.models.use import Stop, TieDown
from rigcheck.page.changes import Changes, laid_over
from rigcheck.page.form import Shown, form_html
from rigcheck.page.mirror import has_sides, mirrored, twins
from rigcheck.page.rowing import carried_out, together
from rigcheck.page.typed import BadRequestError
from rigcheck.quantities import read
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


def test_a_strap_without_ends_is_put_at_the_tail_to_be_dragged():
    """sawpit-bend is 89 in long, 6 in high and 23 in wide, and folds by 70 deg."""
    changes = carried_out(Changes(), do="add haul.tie_down", data=DATA)
    assert 'value="place haul.tie_down 3"' in form_html(Shown(data=laid_over(DATA, changes)))
    assert 'value="place haul.tie_down 1"' not in form_html(Shown(data=DATA))
    placed = carried_out(changes, do="place haul.tie_down 3", data=DATA).typed
    assert placed["haul.tie_down[3].from"] == "7 ft 5 in, 11 1/2 in, 6 in"
    turn = radians(70.0) - atan(1.625 / 12.0)  # it falls 1 5/8 in a foot
    lift = 6.0 - read(DATA["hinge"].get("height", "0 in"), dimension="length")
    x = read(placed["haul.tie_down[3].to"].split(", ")[0], dimension="length")
    assert x == pytest.approx(89.0 * cos(turn) - lift * sin(turn), abs=0.07)
    assert placed["haul.tie_down[3].to"].split(", ")[1:] == ["11 1/2 in", "0 in"]


@pytest.mark.parametrize(
    ("typed", "why"), [({"fold": None}, "how far"), ({"box.length": "9"}, "readable first")]
)  # fmt: skip
def test_a_strap_is_put_nowhere_on_a_rig_that_is_not_known(typed, why):
    changes = carried_out(Changes(typed=typed), do="add haul.tie_down", data=DATA)
    with pytest.raises(BadRequestError, match=why):
        carried_out(changes, do="place haul.tie_down 3", data=DATA)


def test_straps_of_a_case_that_mirror_each_other_are_known_however_their_lengths_are_written():
    rows = DATA["haul"]["tie_down"]
    assert twins(TieDown, rows) == {1: 2, 2: 1}
    away = {**rows[1], "to": ["1 in", "2 in", "3 in"]}
    assert twins(TieDown, [rows[0], away, rows[1]]) == {1: 3, 3: 1}
    written = [text.replace("11 in", "0.9166666666666666 ft") for text in rows[1]["from"]]
    assert twins(TieDown, [rows[0], {**rows[1], "from": written}]) == {1: 2, 2: 1}
    assert twins(TieDown, [rows[0], {**rows[1], "mbf": "1 lb"}]) == {}


def test_what_is_typed_into_a_row_goes_into_its_mirror_image_too_and_nothing_else():
    typed = {
        "haul.tie_down[1].from": "80 in, 1 ft 2 in, 6 in", "haul.tie_down[1].name": "blue", "bed.depth": "1 in",
        "haul.tie_down[1].wll": None,
    }  # fmt: skip
    new = together(Changes(typed=typed), twin="haul.tie_down 1 2", data=DATA).typed
    assert dict(new) == {**typed, "haul.tie_down[2].from": "80 in, -1 ft 2 in, 6 in", "haul.tie_down[2].wll": None}


@pytest.mark.parametrize(
    "twin", ["haul.tie_down 1 1", "haul.tie_down 1 3", "line.link 1 2", "box 1 2", "haul.tie_down"]
)
def test_rows_that_cannot_go_together_are_refused(twin):
    with pytest.raises(BadRequestError):
        together(Changes(), twin=twin, data=DATA)
