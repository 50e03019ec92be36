"""Reading a case: what it gives, and what each kind of mistake is answered with."""

import datetime
import math
import tracemalloc
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings

from rigcheck.assessment.assess import assess
from rigcheck.case import CaseError, check_case, defaulted_keys, read_case, read_case_text
from rigcheck.case.rig import Rig
from tests.support.strategies import mangled_cases, starter_cases
from tests.support.whole_rig import starter_text

SMALL = """
title = "Cutbank Two"
[box]
length = "8 ft 4 in"
width = "22 in"
side_height = "6 in"
pitch = "1 1/2 in/ft"
sheet = "14 ga"
[hanger]
at = "66 in"
height = "6 in"
spacing = "24 in"
[perch]
downstream = "-10 in"
height = "58 in"
spacing = "30 in"
[[line.link]]
kind = "rated part"
wll = "2000 lb"
"""


def problems_of(text: str) -> list[str]:
    with pytest.raises(CaseError) as caught:
        read_case_text(text, name="box.toml")
    return [str(problem) for problem in caught.value.problems]


def test_a_small_case() -> None:
    case = read_case_text(SMALL)
    assert case.box.length == 100.0
    assert case.box.sheet == 0.0747
    assert case.box.pitch == math.atan(0.125)
    assert case.line.link[0].wll == 2000.0
    assert case.hinge.spacing is None
    assert case.factors.hung == 1.33
    assert case.water is None
    assert case.hanger.lug is None


def test_the_units_do_not_change_the_case() -> None:
    metric = SMALL
    for us, si in (
        ("8 ft 4 in", "2540 mm"),
        ("22 in", "558.8 mm"),
        ('"6 in"', '"15.24 cm"'),
        ("1 1/2 in/ft", "12.5 %"),
        ("14 ga", "0.0747 in"),
        ("66 in", "1.6764 m"),
        ("24 in", "609.6 mm"),
        ("-10 in", "-254 mm"),
        ("58 in", "1473.2 mm"),
        ("30 in", "762 mm"),
        ("2000 lb", "907.18474 kg"),
    ):
        assert us in metric
        metric = metric.replace(us, si)
    assert read_case_text(metric) == read_case_text(SMALL)


def test_defaults_stay_known_with_their_source() -> None:
    found = {one.path: one for one in defaulted_keys(read_case_text(SMALL + "[factors]\nsurge = 1.8\n"))}
    assert found["factors.hung"].value == "1.33"
    assert "ASCE 7" in found["factors.hung"].source
    assert found["hinge.spacing"].value.startswith("as box.width;")
    assert found["line.link[1].count"].value == "1"
    assert "factors.surge" not in found
    assert "box.length" not in found
    assert "line.link[1].modulus" not in found
    assert "line.link[1].name" not in found


def test_a_rope_says_that_its_stretch_was_taken_over() -> None:
    rope = 'kind = "wire rope"\nmbf = "9000 lb"\ntermination = "clips"'
    text = SMALL.replace('kind = "rated part"\nwll = "2000 lb"', rope)
    assert "line.link[1].modulus" in {one.path for one in defaulted_keys(read_case_text(text))}


ONE_MISTAKE = [
    (
        '"8 ft 4 in"',
        '"8"',
        'box.toml: box.length: "8" has no unit; write "8 ft", "6 ft 8 in" or "2440 mm"',
    ),
    ('"8 ft 4 in"', "100", "box.length: 100 is a bare number and this key needs a unit"),
    ('"8 ft 4 in"', "nan", "box.length: nan is a bare number"),
    ('"8 ft 4 in"', "true", "box.length: true is not a text with a unit"),
    ('"8 ft 4 in"', '["8 ft"]', "box.length: a list is not a text with a unit"),
    ('"8 ft 4 in"', "{ft = 8}", "box.length: a table is not a text with a unit"),
    ('"8 ft 4 in"', "2024-01-02", "box.length: 2024-01-02 is not a text with a unit"),
    ('"8 ft 4 in"', "0x" + "f" * 9000, "box.length: a very large number without a unit"),
    ('"8 ft 4 in"', '"500 ft"', 'box.length: "500 ft" must be at most 400 in'),
    ('"8 ft 4 in"', '"8 lb"', 'box.length: "8 lb" is not a length'),
    ('"22 in"', '"0 in"', 'box.width: "0 in" must be at least 6 in'),
    ('"2000 lb"', '"0 lb"', 'line.link[1].wll: "0 lb" must be at least 10 lb'),
    ('width = "22 in"', "", 'box.width: is missing; write for example width = "30 in"'),
    ('title = "Cutbank Two"', "", "title: is missing; write for example title ="),
    ('title = "Cutbank Two"', "title = 5", 'title: 5 is not a text; write "in quotes"'),
    ('title = "Cutbank Two"', 'title = " "', "title: the text is empty"),
    ('title = "Cutbank Two"', 'title = "a\\u001b[2J"', 'title: "a?[2J" has letters that do not print'),
    ("[hanger]", "[box.hanger]", "hanger: is missing; write the table [hanger] with at, height, spacing"),
    ("[box]", "[[box]]", "box: a list stands where the table [box] belongs; write [box]"),
    ("[[line.link]]", "[line.link]", "line.link: a table stands where a list of tables belongs; write [[line.link]]"),
    ('"rated part"', '"rated parts"', "nearest: rated part"),
    (
        '"rated part"',
        '"lever hoist"',
        "line.link[1].rated_to_suspend: is missing; is it marked for holding a hung load?",
    ),
    ('"14 ga"', '"13 ga"', 'box.sheet: "13 ga" is not in the sheet gauge table'),
    ('"66 in"', '"100 in"', "hanger.at: 100 in is at or past the tail of the box (100 in)"),
]


@pytest.mark.parametrize(("old", "new", "said"), ONE_MISTAKE, ids=[one[2][:40] for one in ONE_MISTAKE])
def test_one_mistake(old: str, new: str, said: str) -> None:
    assert old in SMALL
    found = problems_of(SMALL.replace(old, new))
    assert any(said in line for line in found), found
    assert all(line.startswith("box.toml: ") and "\n" not in line for line in found)


PLATE = 'plate = "3/8 in"\nhole = "11/16 in"\nedge = "1 1/4 in"\nwidth = "3 in"\n'
ADDED = [
    ("[hinge]\nbarels = 5", "hinge.barels: there is no such key; nearest: barrels"),
    ("[hinge]\nbarrels = 5", "hinge.barrel_length: is missing: barrels and barrel_length, pin go together"),
    ("[hinge]\nbarrels = true", "hinge.barrels: true is not a whole number from 2 to 15"),
    ("[hinge]\nbarrels = 5.0", "hinge.barrels: 5.0 is not a whole number from 2 to 15"),
    (
        '[hinge]\nbarrels = 5\npin = "3/4 in"\nbarrel_length = "1 1/2 in"\nweld_length = "3 1/8 in"',
        "hinge.weld_length: 3.125 in is more than both sides of a barrel of 1.5 in",
    ),
    ('[fold]\nto = "92 deg"\nsnub_wll = "300 lb"', "fold.snub_wll: is the rating of a snub line, but snub is false"),
    ('[hinge]\naligned = "no"', 'hinge.aligned: "no" is not true or false'),
    ('[hinge]\npin_steel = "A-36"', "nearest: A36"),
    ('[rail]\nstiffener = "HSS9x9x9"', 'rail.stiffener: "HSS9x9x9"'),
    ("cross_slope = 2\n[hinge]", "there is no such key"),
    ('[hinge]\ncross_slope = "2 deg"', "hinge.cross_slope: there is no such key; nearest: plant.cross_slope"),
    ("[xyzzy]", "xyzzy: there is no such key; this table has title"),
    ('[bed]\ndepth = "7 in"', "bed.depth: 7 in is deeper than the sides (6 in)"),
    ("[factors]\nhung = 0.9", "factors.hung: 0.9 must be at least 1"),
    ('[factors]\nhung = "1.33"', 'factors.hung: "1.33" is not a bare number (no quotes, no unit)'),
    ("[factors]\nhung = inf", "factors.hung: inf is not a finite number"),
    (
        '[[haul.tie_down]]\nwll = "1000 lb"\nfrom = ["9 ft"]\nto = ["1 in","2 in","3 in"]',
        "haul.tie_down[1].from: a list",
    ),
    ('[[haul.stop]]\nat = ["1 in","2 in","3 lb"]\ndirection = "up"', 'haul.stop[1].at: "3 lb" is not a length'),
    ('[measured]\ntail_lift = "90 lb"', "measured.tail_lift_at: is missing; it goes with tail_lift"),
    ('[measured]\ntail_lift_at = "90 in"', "measured.tail_lift: is missing; it goes with tail_lift_at"),
    ('[[fitting]]\nname = "spout"\nweight = "9 lb"\nat = "-30 in"', "fitting[1].at: -30 in is off the box"),
    ('[[line.link]]\nkind = "chain"', "line.link[2].size: is missing; this kind of link (chain) needs size and grade"),
    ('[[line.link]]\nkind = "hook"', "line.link[2].wll: is missing; a hook is known only by the load marked on it"),
    ('[[line.link]]\nkind = "shackle"\nsize = "0.4 in"', "line.link[2].size: no carbon shackle"),
    ('[[line.link]]\nkind = "wire rope"', "line.link[2].diameter: is missing; a rope needs table and diameter"),
    (
        '[[line.link]]\nkind = "wire rope"\nmbf = "9000 lb"',
        "line.link[2].termination: is missing; how are its eyes made?",
    ),
    (
        '[[line.link]]\nkind = "wire rope"\ntermination = "clips"\ndiameter = "3/8 in"\ntable = "rope_9x9"',
        'line.link[2].table: no rope table "rope_9x9"',
    ),
    ('[[line.link]]\nkind = "rated part"\nwll = "900 lb"\nmbf = "800 lb"', "line.link[2].mbf: is under wll"),
    ('[[line.link]]\nkind = "rated part"\nwll = "900 lb"\ncarries = "lead"', "line.parts: is 1, so link 2 cannot"),
    ('[[line.backup]]\nkind = "come-along"', "line.backup[1].wll: is missing"),
    (
        '[hanger.lug]\nplate = "3/8 in"\nhole = "2 in"\nedge = "1 in"\nwidth = "2 in"',
        "hanger.lug.hole: 2 in leaves nothing of the width (2 in)",
    ),
    (
        '[perch.lug]\nplate = "3/8 in"\nhole = "2 in"\nedge = "1 in"\nwidth = "3 in"',
        "perch.lug.edge: 1 in leaves nothing beyond the hole (2 in)",
    ),
    ('[rail.wall_seam]\nmade = "continuous"', "rail.wall_seam.leg: is missing; a continuous weld needs it"),
    ('[rail.wall_seam]\nmade = "bent"', "rail.wall_seam.made: bent is for side and floor out of one sheet"),
    (
        '[rail.floor_seam]\nmade = "stitch"\nleg = "1/8 in"\nlength = "2 in"',
        "rail.floor_seam.pitch: is missing; a stitch",
    ),
    (
        '[rail.floor_seam]\nmade = "stitch"\nleg = "1/8 in"\nlength = "5 in"\npitch = "4 in"',
        "rail.floor_seam.length: 5 in is more than the pitch (4 in)",
    ),
    (
        '[rail.floor_seam]\nmade = "continuous"\nleg = "1/8 in"\npitch = "4 in"',
        "rail.floor_seam.pitch: is that of stitches, but the seam is continuous",
    ),
    (
        f'[hanger.lug]\n{PLATE}weld_length = "5 in"',
        "hanger.lug.weld_length: 5 in on one face is longer than the plate it runs along (3 in, its width; say foot",
    ),
    (
        f'[perch.lug]\n{PLATE}foot = "4 in"\nweld_length = "4 1/8 in"',
        "perch.lug.weld_length: 4.125 in on one face is longer than the plate it runs along (4 in, its foot)",
    ),
    (
        f'[hanger.lug]\n{PLATE}stand_off = "0.01 in"',
        "hanger.lug.stand_off: 0.01 in from the weld to the middle of the hole puts the weld inside the hole",
    ),
    (
        '[[haul.tie_down]]\nwll = "1000 lb"\nfrom = ["1 in","2 in","3 in"]\nto = ["1 in","2 in","3 in"]\n'
        f'[haul.tie_down.eyelet]\n{PLATE}weld_length = "3 1/8 in"',
        "haul.tie_down[1].eyelet.weld_length: 3.125 in on one face is longer than the plate",
    ),
]


@pytest.mark.parametrize(("added", "said"), ADDED, ids=[one[1][:40] for one in ADDED])
def test_one_mistake_in_what_is_added(added: str, said: str) -> None:
    found = problems_of(f"{SMALL}\n{added}\n")
    assert any(said in line for line in found), found


def test_all_problems_at_once_with_rules_of_the_parts_that_can_be_used() -> None:
    text = (
        SMALL.replace('"22 in"', '"wide"').replace('"66 in"', '"66"')
        + '[bed]\ndepth = "9 in"\n[[line.link]]\nkind = "hook"\n'
    )
    found = "\n".join(
        problems_of(text + '[perch.lug]\nplate = "3/8 in"\nhole = "2 in"\nedge = "1 in"\nwidth = "3 in"\n')
    )
    for path in ("box.width", "hanger.at", "line.link[2].wll", "perch.lug.edge"):
        assert f"box.toml: {path}: " in found
    assert "bed.depth" not in found  # the box it would be compared with cannot be used


def test_a_rule_holds_although_another_table_is_unusable() -> None:
    found = problems_of(SMALL.replace('"24 in"', '"wide"') + '[bed]\ndepth = "9 in"\n')
    assert any("hanger.spacing" in line for line in found)
    assert any("bed.depth: 9 in is deeper than the sides" in line for line in found)


def test_syntax_errors_say_where() -> None:
    assert "not valid TOML" in problems_of("title = \n[box")[0]
    assert "line 1" in problems_of("title = \n[box")[0]


@pytest.mark.parametrize("text", ["", " \n\t", "\ufeff"])
def test_empty_file(tmp_path: Path, text: str) -> None:
    path = tmp_path / "empty.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(CaseError, match=r"empty.toml: the file is empty"):
        read_case(path)


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        (b'title = "a\0b"', "not text"),
        (b"\x7fELF\x00\x01", "not text"),
        (b'title = "\xff\xfe"', "not UTF-8 text \\(byte 10\\)"),
        (b"#" * (1024 * 1024 + 1), "larger than 1 MiB"),
    ],
)
def test_files_that_are_no_case(tmp_path: Path, raw: bytes, said: str) -> None:
    path = tmp_path / "bad.toml"
    path.write_bytes(raw)
    with pytest.raises(CaseError, match=f"bad.toml: .*{said}"):
        read_case(path)


def test_a_byte_order_mark_is_passed_over(tmp_path: Path) -> None:
    path = tmp_path / "marked.toml"
    path.write_text("\ufeff" + SMALL, encoding="utf-8")
    assert read_case(path).title == "Cutbank Two"


def test_missing_file_and_folder(tmp_path: Path) -> None:
    with pytest.raises(CaseError, match=r"none.toml: there is no such file"):
        read_case(tmp_path / "none.toml")
    with pytest.raises(CaseError, match="a folder, not a file"):
        read_case(tmp_path)
    with pytest.raises(CaseError, match="cannot be read"):
        read_case("a\0b")


def test_unreadable_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def locked(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    path = tmp_path / "locked.toml"
    path.write_text(SMALL, encoding="utf-8")
    monkeypatch.setattr(Path, "open", locked)
    with pytest.raises(CaseError, match=r"locked.toml: the file may not be read \(permission\)"):
        read_case(path)


@pytest.mark.parametrize("opening", ["a = " + "[" * 30000, "a = " + "{a=" * 30000, "[" + "a." * 30000 + "b]\nc = 1"])
def test_deep_nesting_is_a_problem_and_no_crash(opening: str) -> None:
    assert problems_of(opening)


@pytest.mark.parametrize(
    "opening",
    [
        ".".join(["a"] * 40_000) + " = 1",
        "[" + " . ".join(["'a'"] * 400) + "]",
        "x = { " + ".".join(["a"] * 400) + " = 1 }",
    ],
)
def test_a_key_of_many_names_is_refused_before_it_is_read(opening: str) -> None:
    tracemalloc.start()
    try:
        assert problems_of(f"{SMALL}\n{opening}\n") == [
            f"box.toml: line {SMALL.count(chr(10)) + 2}: a key of more than 16 names, which no case has"
        ]
        most = tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()
    assert most < 4_000_000  # bytes; 1,547 MiB were taken for 20,000 names


def test_many_dots_in_a_text_are_no_key() -> None:
    assert read_case_text(SMALL.replace("Cutbank Two", "rev " + "1." * 40 + " to " + "a, b.c." * 9)).title


@pytest.mark.parametrize("number", ["9" * 5000, "1e999999", "-0x" + "f" * 9000])
def test_absurd_numbers_are_problems(number: str) -> None:
    assert problems_of(f"{SMALL}\n[factors]\nhung = {number}\n")


def test_values_that_no_file_holds_are_problems() -> None:
    with pytest.raises(CaseError):
        check_case({"title": "x", "box": datetime.date(2024, 1, 2), "line": {"link": None}})


@given(mangled_cases())
@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_a_mangled_case_is_a_case_or_a_list_of_problems(data: dict[str, object]) -> None:
    try:
        check_case(data)
    except CaseError as error:
        assert error.problems
        assert all(str(problem).isprintable() for problem in error.problems)


@given(starter_cases())
@settings(max_examples=25, deadline=None)
def test_starters_of_all_sizes_are_read(data: dict[str, object]) -> None:
    assert check_case(data).box.length > 0.0


def test_the_starter_describes_every_load_path_part() -> None:
    case = read_case_text(starter_text())
    assert case.hinge.pin is not None
    assert case.hinge.barrel_wall is not None
    assert case.hinge.weld_length is not None
    assert case.rail.stiffener is not None
    assert case.cross_member is not None
    for lug in (case.hanger.lug, case.perch.lug):
        assert lug is not None
        assert lug.weld_length is not None
    assert case.perch.post is not None
    assert case.perch.post.weld is not None
    assert case.haul.tie_down


def test_the_starter_has_nothing_over_and_little_to_say() -> None:
    found = assess(Rig(read_case_text(starter_text())))
    assert float(found.utilization) <= 0.85 and not bool(found.stopped)
    assert found.not_assessed == ["ends of the knee brace"]
    assert {flag.code for flag in found.flags} == {
        "hinge_uplift", "slack_and_snap", "person_on_hung_box", "hoists_are_not_tiedowns", "tie_down_weakest_part",
        "wind_slack", "tipping_not_assessed",
    }  # fmt: skip


@pytest.mark.parametrize(("length", "width"), [("6 ft 5 in", "17 in"), ("7 ft 8 in", "31 in"), ("10 ft 7 in", "22 in")])
def test_a_starter_of_another_size_has_nothing_over_either(length: str, width: str) -> None:
    found = assess(Rig(read_case_text(starter_text(length=length, width=width))))
    assert not bool(found.over)


@pytest.mark.parametrize(
    ("choice", "said"),
    [
        ({"length": "8"}, 'starter: box.length: "8" has no unit'),
        ({"pitch": "steep"}, "starter: box.pitch: "),
        ({"length": "4000 ft"}, "starter: box.length: "),
        ({"title": "a\nb"}, "starter: title: "),
    ],
)
def test_bad_choices_for_a_starter(choice: dict[str, str], said: str) -> None:
    with pytest.raises(CaseError, match=said):
        starter_text(**choice)


def test_a_starter_keeps_odd_titles() -> None:
    title = "6' 8\" \\ box"
    assert read_case_text(starter_text(title=title, width="2' 4\"")).title == title
