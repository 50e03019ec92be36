"""What rigs drawn by lot and mangled files brought to light, one test each."""

import json
import os
import threading
import time
from hashlib import sha256
from pathlib import Path

import pytest

from rigcheck.assessment.assess import assess
from rigcheck.case import CaseError, Problem
from rigcheck.cli import main
from rigcheck.crosscheck.frame import FrameError
from tests.support.extreme_rigs import toml_of
from tests.support.finding_cases import GONE, changed
from tests.support.whole_rig import starter_text

ROPE = 'kind = "wire rope"\nmbf = "90000 lb"\n'


def without(text: str, *heads: str) -> str:
    """A case without some of its tables."""
    parts = text.split("\n\n")
    return "\n\n".join(part for part in parts if part.split("\n")[0] not in heads)


@pytest.fixture
def starter(tmp_path: Path) -> Path:
    return tmp_path / "rig.toml"


@pytest.mark.parametrize("command", ["check", "fold", "haul"])
def test_a_box_without_any_lump_of_weight(command, starter, capsys):
    """Nobody to stand on the floor and no end tube leave a fold without a single lump."""
    starter.write_text(without(starter_text(), "[[fitting]]", "[end_tube]"))
    assert main([command, str(starter)]) in (0, 1, 3), capsys.readouterr().err


def test_as_many_links_and_fittings_as_a_case_may_have(starter, capsys):
    links = '[[line.link]]\nkind = "rated part"\nwll = "9000 lb"\n' * 96
    lumps = '[[fitting]]\nname = "lamp"\nweight = "1 lb"\nat = "9 in"\n' * 98
    starter.write_text(f"{starter_text()}\n{links}{lumps}")
    assert main(["check", str(starter), "--json"]) in (0, 1, 3), capsys.readouterr().err
    starter.write_text(f"{starter_text()}\n{links}{lumps}{lumps}")
    assert main(["check", str(starter)]) == 2
    assert ": fitting: stands there 198 times; a case has at most 100 of a kind" in capsys.readouterr().err


MEASURED = '\n[measured]\ntail_lift = "900 lb"\ntail_lift_at = "100 in"\n'


@pytest.mark.parametrize("command", ["check", "fold", "haul"])
def test_what_no_such_box_can_weigh_is_said_under_the_name_of_the_file(command, starter, capsys):
    starter.write_text(starter_text() + MEASURED)
    assert main([command, str(starter)]) == 2
    assert ": measured.tail_lift: 900 lb at 100 in gives " in capsys.readouterr().err


def test_it_does_not_keep_other_files_from_being_checked(starter, tmp_path, capsys):
    starter.write_text(starter_text() + MEASURED)
    other = tmp_path / "other.toml"
    other.write_text(starter_text())
    assert main(["check", str(starter), str(other)]) == 2
    out, err = capsys.readouterr()
    assert "2 files: 1 unusable, 1 " in " ".join(out.split()) and ": measured.tail_lift" in err


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no named pipes here")
def test_a_case_from_a_pipe_is_read_once(tmp_path, capsys):
    pipe, raw = tmp_path / "pipe.toml", starter_text().encode()
    os.mkfifo(pipe)
    writer = threading.Thread(target=pipe.write_bytes, args=(raw,))
    writer.start()
    assert main(["check", str(pipe), "--json"]) in (0, 1, 3)
    writer.join(10)
    assert json.loads(capsys.readouterr().out)["input"]["sha256"] == sha256(raw).hexdigest()


@pytest.mark.parametrize(
    ("link", "key", "cure"),
    [
        ('kind = "shackle"\nsize = "9/16 in"\nwll = "2000 lb"', "size", "leave size out where the part is marked"),
        ('kind = "shackle"\nsize = "1/2 in"\ngrade = "tin"\nwll = "900 lb"', "size", "leave size out"),
        ('kind = "chain"\nsize = "9/32 in"\ngrade = "30"\nwll = "2000 lb"', "size", "leave size out"),
        ('kind = "turnbuckle"\nsize = "0.3 in"\nwll = "2000 lb"', "size", "leave size out"),
        ('kind = "eyebolt"\nsize = "0.3 in"\nwll = "2000 lb"', "size", "leave size out"),
        ('kind = "eyebolt"\nsize = "0.3 in"', "size", "or give wll as marked"),
        (
            f'{ROPE}table = "rope_6x7_fc"\ncolumn = "ips"\ndiameter = "5/8 in"\ntermination = "none"',
            "column",
            'write "eip"',
        ),
        (f'{ROPE}diameter = "5 in"\ntermination = "clips"', "diameter", "clip rule for rope of"),
    ],
)
def test_a_marked_part_of_a_size_that_no_table_has(link, key, cure, starter, capsys):
    starter.write_text(f"{starter_text()}\n[[line.link]]\n{link}\n")
    assert main(["check", str(starter)]) == 2
    err = capsys.readouterr().err
    assert f": line.link[5].{key}: " in err and cure in err


@pytest.mark.parametrize(
    "link",
    [
        'kind = "shackle"\nwll = "2000 lb"',
        'kind = "chain"\nsize = "9/32 in"\nwll = "2000 lb"',
        'kind = "chain"\ngrade = "odd"\nwll = "2000 lb"',
        'kind = "turnbuckle"\nwll = "2000 lb"',
        'kind = "eyebolt"\nwll = "2000 lb"\nside_angle = "90 deg"',
        'kind = "wire rope"\nwll = "2000 lb"',
        'kind = "wire rope"\nmbf = "9000 lb"\ntermination = "clips"',
        'kind = "wire rope"\ndiameter = "6 in"\nmbf = "90000 lb"\ntermination = "hand splice"\n'
        'bend_diameter = "1/16 in"',
    ],
)
@pytest.mark.parametrize("command", ["check", "fold", "haul", "card"])
def test_a_part_known_by_its_mark_alone(command, link, starter, capsys):
    for where in ("link", "backup"):
        starter.write_text(f"{starter_text()}\n[[line.{where}]]\n{link}\n")
        assert main([command, str(starter)]) in (0, 1, 3), capsys.readouterr().err


@pytest.mark.parametrize(
    ("kind", "told"),
    [
        ("chain", '"tin" is no grade of the tables: only alloy chain'),  # no mark makes such a chain hold a load up
        ("shackle", "by its mark: at least"),
    ],
)
def test_hardware_knows_no_sizes_of_a_grade_that_no_table_has(kind, told, starter, capsys):
    starter.write_text(f'{starter_text()}\n[[line.link]]\nkind = "{kind}"\ngrade = "tin"\nwll = "2000 lb"\n')
    assert main(["hardware", str(starter)]) in (0, 1, 3), capsys.readouterr().err
    assert told in " ".join(capsys.readouterr().out.split())


@pytest.mark.parametrize(
    "change",
    [
        {"fitting": [{"name": "motor", "weight": "1200 lb", "at": "-24 in"}]},  # worst uphill of the hinge
        {
            "hinge.above_ground": GONE,
            "perch.height": "-60 in",
            "perch.spacing": "120 in",
            "hanger.height": "30 in",
        },  # lines that pull from below
        {"hanger.height": "0 in"},  # worst just uphill of the hanger
    ],
    ids=["behind the hinge", "from below", "low hanger"],
)
def test_the_worked_calculation_agrees_with_the_check(change, starter, capsys):
    starter.write_text(toml_of(changed(change)))
    assert main(["working", str(starter)]) in (0, 1, 3), capsys.readouterr().err


@pytest.mark.parametrize("at", ["-20 in", "60 in", "9 ft 4 in", "130 in"])
def test_the_frame_confirms_a_rig_with_a_fitting_anywhere(at, starter, capsys):
    """Behind the hinge the rail bends there too; past the tail the drop is still that of the tail."""
    starter.write_text(toml_of(changed({"fitting": [{"name": "motor", "weight": "400 lb", "at": at}]})))
    assert main(["check", str(starter), "--confirm"]) in (0, 1, 3), capsys.readouterr().err


@pytest.mark.parametrize("words", ["check --confirm", "report --json"])
def test_a_rig_that_the_frame_cannot_follow_is_told_and_not_confirmed(words, starter, capsys, monkeypatch):
    def lost(*_: object, **__: object) -> None:
        raise FrameError("the frame leaves 16.3 lbf of 2.13e+03 lbf over")

    monkeypatch.setattr("rigcheck.crosscheck.second_opinion.solve_frame", lost)
    starter.write_text(starter_text())
    name, option = words.split()
    assert main([name, str(starter), option]) in (0, 1, 3)
    told = " ".join(capsys.readouterr().out.split())
    assert "Independent frame check: none could be had (the frame leaves 16.3 lbf of" in told
    assert "Nothing here is confirmed" in told


@pytest.mark.parametrize(
    ("line", "key", "said"),
    [
        ("length = 9 ft 4 in", "box.length", 'stands in quotes; write length = "9 ft 4 in"'),
        ("length = ten feet  # about", "box.length", 'stands in quotes; write length = "ten feet"'),
        ('length = "9 ft 4 in', "box.length", "the quote at the end of the text is missing"),
        ('length "9 ft 4 in"', "box.length", "there is no = between a key and its value"),
        ("length =", "box.length", "there is nothing behind the ="),
        ('length = "9 ft" 4 in', "box.length", "something stands behind the value"),
        ('length = "9 ft"\nlength = "10 ft"', "box.length", "stands there twice, the second time in line "),
        ("[line]", "line", "stands there twice, the second time in line "),
    ],
)
def test_a_slip_of_the_pen_is_told_by_key_and_line(line, key, said, starter, capsys):
    text = starter_text(length="9 ft 4 in").splitlines()
    at = next(i for i, one in enumerate(text) if one.startswith("length"))
    starter.write_text("\n".join([*text[:at], line, *text[at + 1 :]]))
    assert main(["check", str(starter)]) == 2
    err = capsys.readouterr().err
    assert f": {key}: " in err and said in err and err.count("\n") == 1, err


def test_a_key_in_the_second_of_a_kind_is_told_by_its_number(starter, capsys):
    starter.write_text(starter_text().replace('kind = "wire rope"', "kind = wire rope"))
    assert main(["check", str(starter)]) == 2
    assert ": line.link[2].kind: " in capsys.readouterr().err


def test_an_option_of_new_is_told_by_its_name(tmp_path, capsys):
    assert main(["new", str(tmp_path / "a.toml"), "--side-height", "7"]) == 2
    told = capsys.readouterr().err.splitlines()  # what is missing stands beside it
    assert any(line.startswith('--side-height: box.side_height: "7" has no unit') for line in told)


def test_a_file_named_without_its_ending_is_pointed_to(starter, capsys):
    starter.write_text(starter_text())
    assert main(["check", str(starter.with_suffix(""))]) == 2
    assert capsys.readouterr().err == "rig: there is no such file; there is rig.toml\n"


def test_nothing_is_nearest_to_itself(starter, capsys):
    starter.write_text(starter_text())
    assert main(["length", str(starter), "--vary", "title"]) == 2
    assert "nearest" not in capsys.readouterr().err


def test_the_list_of_commands_breaks_off_no_sentence(capsys):
    assert main(["--help"]) == 0
    assert "..." not in capsys.readouterr().out.replace("[ARGS]...", "")


@pytest.mark.parametrize("command", ["check", "hardware"])
def test_a_size_with_which_no_box_weighs_what_was_weighed_is_passed_over(command, starter, capsys, monkeypatch):
    """A scale that read far too little leaves room for the shapes that are there, and not for heavier ones."""
    small = "HSS1-1/2x1-1/2x1/8"
    tried = []

    def picky(rig, **more):
        if rig.case.rail.stiffener != small:
            tried.append(rig)
            raise CaseError([Problem("case", "measured.tail_lift", "no even spread of the steel does that")])
        return assess(rig, **more)

    monkeypatch.setattr("rigcheck.studies.hardware.lightest.assess", picky)
    monkeypatch.setattr("rigcheck.studies.remedies.trial.assess", picky)
    starter.write_text(toml_of(changed({"rail.stiffener": small, "box.length": "138 in"})))
    assert main([command, str(starter)]) == 1, capsys.readouterr().err
    assert tried


def test_ever_so_many_parts_that_are_over_are_not_tried_in_all_pairs(starter, capsys):
    starter.write_text(starter_text() + '\n[[line.link]]\nkind = "rated part"\nwll = "900 lb"\n' * 60)
    begun = time.process_time()
    assert main(["check", str(starter)]) == 1, capsys.readouterr().err
    assert "FIXES IT" in capsys.readouterr().out and time.process_time() - begun < 40.0


BARE = """
title = "nothing of it can be checked yet"
box = { length = "9 ft 3 in", width = "26 in", side_height = "7 in", pitch = "1 1/4 in/ft", sheet = "12 ga" }
hanger = { at = "6 ft", height = "7 in", spacing = "29 in" }
perch = { downstream = "20 in", height = "60 in", spacing = "36 in" }
line = { link = [{ kind = "chain", wll = "3000 lb" }] }
"""
"""A chain of no grade is not judged, and no other part is described."""


def test_a_rig_of_which_nothing_can_be_checked_is_incomplete_and_has_no_bed_mark(starter, capsys):
    starter.write_text(BARE)
    assert main(["check", str(starter)]) == 3
    told = capsys.readouterr().out
    assert "INCOMPLETE" in told and "No bed mark: no part of the rig can be checked yet." in told
    for command in ("card", "working", "materials"):
        assert main([command, str(starter)]) == 3, capsys.readouterr().err
    assert "stop feeding at" not in capsys.readouterr().out


@pytest.mark.parametrize("command", ["spread", "length", "hardware", "props", "report", "proof"])
def test_what_goes_on_from_checks_says_that_there_are_none(command, starter, capsys):
    starter.write_text(BARE)
    more = ["-o", str(starter.with_suffix(".html"))] if command == "report" else []
    assert main([command, str(starter), *more]) == 2
    assert "rig.toml: no part of it can be checked yet" in capsys.readouterr().err


def test_the_bed_mark_of_an_incomplete_rig_says_so(starter, capsys):
    starter.write_text(BARE.replace('kind = "chain"', 'kind = "shackle"'))
    assert main(["check", str(starter)]) == 3
    assert "Bed mark, all states, as far as checked: stop feeding at" in " ".join(capsys.readouterr().out.split())
