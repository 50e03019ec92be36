"""A starter case holds what was typed and nothing else, and never reads as if more were known."""

import io
import json
import sys
import tomllib

import pytest

from rigcheck.case.questions import JOB, not_known, of_link
from rigcheck.case.starter import field_at, starter_text
from rigcheck.cli import main
from tests.support.said import NEEDED, options
from tests.support.whole_rig import starter_text as whole_text


def leaves(data, path=""):
    """Every value of a case with its key, repeated tables counted from 1."""
    if isinstance(data, dict):
        for name, value in data.items():
            yield from leaves(value, f"{path}.{name}" if path else name)
    elif isinstance(data, list) and data and isinstance(data[0], dict):
        for number, value in enumerate(data, start=1):
            yield from leaves(value, f"{path}[{number}]")
    else:
        yield path, data


def typed(value):
    return {True: "yes", False: "no"}[value] if isinstance(value, bool) else str(value)


def answer(monkeypatch, answers):
    """Answer each question of the dialogue by its key; what is not among the answers is not known."""
    asked = []

    class Answers(io.StringIO):
        def readline(self, *_):
            path = sys.stderr.getvalue().rpartition("\n")[2]
            sys.stderr.write("\n")
            key = next((one for one in answers if path.startswith(f"{one}:")), None)
            number = next((n for n in range(1, 9) if path.startswith(f"link {n} of a line")), None)
            key = f"line.link[{number}].kind" if number else key
            foot = next((n for n in range(1, 9) if path.startswith(f"foot {n} that the plant")), None)
            key = f"plant.foot[{foot}].downstream" if foot else key
            asked.append(key or path.partition(":")[0])
            return f"{answers.get(key, ('', 'I don’t know', '?')[len(asked) % 3])}\n"

    monkeypatch.setattr(sys, "stdin", Answers())
    monkeypatch.setattr(sys, "stderr", io.StringIO())
    return asked


def most():
    """All that a whole rig says but for its road, its posts and the weld of its hinge."""
    data = dict(leaves(tomllib.loads(whole_text())))
    left_out = ("haul", "perch.post", "hinge.weld")
    return {key: typed(value) for key, value in data.items() if not key.startswith(left_out)}


@pytest.mark.parametrize("answers", [NEEDED, most()], ids=["least", "most"])
def test_every_value_in_the_file_was_typed_and_the_rig_is_not_called_whole(answers, tmp_path, capsys):
    place = tmp_path / "mine.toml"
    assert main(["new", str(place), *options(answers)]) == 0
    data = tomllib.loads(place.read_text(encoding="utf-8"))
    assert {key: typed(value) for key, value in leaves(data)} == answers
    capsys.readouterr()
    code = main(["check", str(place), "--json"])
    found = json.loads(capsys.readouterr().out)
    # over where what was said is over by itself; never within or tight, since the rest is not assessed
    assert code == {"over": 1, "incomplete": 3}[found["verdict"]]
    assert not found["complete"] and found["missing"]


def test_asked_in_the_order_of_the_job_it_takes_i_do_not_know(tmp_path, monkeypatch):
    place = tmp_path / "asked.toml"
    asked = answer(monkeypatch, NEEDED | {"water.flow": "185 gpm", "hanger.lug.plate": "3/8 in"})
    assert main(["new", str(place), "--ask"]) == 0
    told = sys.stderr.getvalue()
    data = tomllib.loads(place.read_text(encoding="utf-8"))
    # of the lug only its plate is known: it is left out whole, so that it is not assessed
    assert "Without it [hanger.lug] cannot be counted" in told
    assert {key: typed(value) for key, value in leaves(data)} == NEEDED | {"water.flow": "185 gpm"}
    order = [asked.index(key) for key in ("box.length", "hinge.pin", "hanger.at", "perch.height", "line.link[1].kind",
                                          "water.flow")]  # fmt: skip
    assert order == sorted(order)


@pytest.mark.parametrize("count", [3, 2])
def test_the_plant_is_asked_for_foot_by_foot(count, tmp_path, monkeypatch):
    """Fewer than three feet make no base: none of them is written then."""
    place = tmp_path / "asked.toml"
    said = {"plant.weight": "3100 lb", "plant.cg_downstream": "-55 in", "plant.cg_height": "-2 in"}
    said |= {"plant.wheels.axle": "-48 in", "plant.wheels.tongue": "-170 in", "plant.wheels.track": "63 in"}
    feet = {}
    for i, (x, y) in enumerate([("-8 in", "29 in"), ("-8 in", "-29 in"), ("-120 in", "0 in")][:count], 1):
        feet |= {f"plant.foot[{i}].downstream": x, f"plant.foot[{i}].across": y}
    answer(monkeypatch, NEEDED | {"hinge.above_ground": "46 in"} | said | feet)
    assert main(["new", str(place), "--ask"]) == 0
    data = {key: typed(value) for key, value in leaves(tomllib.loads(place.read_text(encoding="utf-8")))}
    kept = feet if count == 3 else {}
    assert data == NEEDED | {"hinge.above_ground": "46 in"} | said | kept


def test_a_hinge_is_asked_of_what_it_has(tmp_path, monkeypatch):
    """Ears are asked for where it is said to have them, barrels elsewhere; never both."""
    ear = {f"hinge.{ear}.{key}": value for ear in ("ear", "plant_ear") for key, value in
           (("plate", "1/2 in"), ("hole", "13/16 in"), ("edge", "1 1/4 in"), ("width", "2 1/2 in"),
            ("stand_off", "1 1/2 in"))}  # fmt: skip
    said = {"hinge.kind": "ears", "hinge.pin": "3/4 in", "hinge.shear": "double", **ear}
    place = tmp_path / "ears.toml"
    asked = answer(monkeypatch, NEEDED | said | {"hinge.barrels": "5"})
    assert main(["new", str(place), "--ask"]) == 0
    data = {key: typed(value) for key, value in leaves(tomllib.loads(place.read_text(encoding="utf-8")))}
    assert data == NEEDED | said and not any(key.startswith("hinge.barrel") for key in asked)
    asked = answer(monkeypatch, NEEDED)
    assert main(["new", str(tmp_path / "barrels.toml"), "--ask"]) == 0
    assert "hinge.barrels" in asked and not any("ear" in key for key in asked if key.startswith("hinge."))


def test_what_cannot_be_read_is_asked_again(monkeypatch, capsys):
    lines = ["Tern Gully", "8 fx", *list(NEEDED.values())[1:6]]
    monkeypatch.setattr(sys, "stdin", io.StringIO("\n".join(lines) + "\n"))
    assert main(["new", "--ask"]) == 2  # the answers end before all that is needed is given
    out, err = capsys.readouterr()
    assert out == "" and '"8 fx"' in err and err.count("box.length: hinge to tail") == 2
    assert "--set hanger.at=: hanger.at: is missing" in err and "--length" not in err


def test_without_a_terminal_what_is_needed_is_named_and_nothing_written(tmp_path, capsys):
    place = tmp_path / "none.toml"
    assert main(["new", str(place), "--length", "9 ft 5 in", "--width", "27 in"]) == 2
    out, err = capsys.readouterr()
    assert out == "" and not place.exists()
    for key in NEEDED.keys() - {"box.length", "box.width", "line.link[1].wll", "line.link[1].rated_to_suspend",
                                "line.link[1].headroom"}:  # fmt: skip
        assert f"{key}: is missing" in err


def test_the_rest_stands_as_commented_examples(capsys):
    text = starter_text(NEEDED)
    for line in ("# [perch.post]", "# shape = ", "# [[haul.tie_down]]", "# [fold]", "# to = "):
        assert f"\n{line}" in text
    assert main(["new", *options(NEEDED)]) == 0
    assert capsys.readouterr().out == text


@pytest.mark.parametrize(("pair", "said"), [("box.lenght=9 ft", "is no key"), ("nothing", "is not KEY=VALUE")])
def test_what_is_no_key_is_refused(pair, said, capsys):
    assert main(["new", *options(NEEDED), "--set", pair]) == 2
    assert said in capsys.readouterr().err


def test_every_question_is_about_a_key():
    assert all(field_at(path) for path in JOB if path not in ("line.link", "plant.foot"))
    kinds = ("shackle", "wire rope", "chain", "turnbuckle", "eyebolt", "lever hoist", "come-along", "hook")
    assert all(field_at(f"line.link[1].{key}") for kind in kinds for key in of_link(kind))


@pytest.mark.parametrize("words", ["", "  ", "?", "I don't know", "i do not know.", "don’t know", "unknown", "No idea"])
def test_words_for_not_knowing(words):
    assert not_known(words)
    assert not not_known("9 ft") and not not_known("no")
