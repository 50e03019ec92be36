"""The commands length, hardware and spread: exit codes, JSON, complaints on stderr."""

import json
from pathlib import Path

import pytest

from rigcheck.case import read_case
from rigcheck.case.rig import Rig
from rigcheck.cli import main

from .rigs import SOUND

CASES = sorted((Path(__file__).parents[2] / "cases").glob("*.toml"))
KEYS = ("box.width", "box.side_height", "bed.depth", "hanger.at", "perch.height")
# half a bed and gravel that packs lighter, so that no sample of a spread is over, and a stronger member at the hinge
STURDY = SOUND.replace('depth = "1 1/2 in"', 'depth = "1/2 in"').replace(
    'shape = "HSS2x2x3/16"\nspacing = "10 in"', 'shape = "HSS2x2x1/4"\nspacing = "9 in"'
)
WEAK = SOUND.replace('pin = "1 1/4 in"', 'pin = "5/16 in"')


@pytest.fixture
def case(tmp_path):
    def write(text: str) -> str:
        path = tmp_path / "rig.toml"
        path.write_text(text, encoding="utf-8")
        return str(path)

    return write


def test_length_answers_and_ends_with_the_cautions(case, capsys):
    assert main(["length", case(SOUND), "--points", "9", "--from", "70 in", "--to", "100 in", "--all"]) == 3
    out, err = capsys.readouterr()
    assert "Longest box that passes every check" in out and not err
    assert out.rstrip().endswith("brittle fracture.")


def test_length_where_nothing_passes_is_1(case, capsys):
    weak = case(WEAK)
    assert main(["length", weak, "--points", "5", "--from", "85 in", "--to", "100 in", "--json"]) == 1
    found = json.loads(capsys.readouterr().out)
    assert found["schema"] == "rigcheck.length/2" and found["passes"] is False
    assert found["blockers"] or not found["bands"]


@pytest.mark.parametrize(
    ("path", "key"),
    [(path, KEYS[i % 5]) for i, path in enumerate(CASES[::2])],
    ids=lambda value: value.stem if isinstance(value, Path) else value,
)
def test_width_sides_bed_hanger_and_perch_of_the_shipped_cases_can_be_varied(path, key, capsys):
    now = float(Rig(read_case(path)).number(key))
    low = 0.93 if key == "perch.height" else 0.85  # the post shortens with its lug, and stands behind all of it
    ends = [f"{share * now:.3f} in" for share in (low, 1.08)]
    code = main(["length", str(path), "--vary", key, "--from", ends[0], "--to", ends[1], "--points", "5", "--json"])
    found = json.loads(capsys.readouterr().out)
    assert code == (1 if not found["passes"] else 0 if found["complete"] else 3) and found["answer"]
    assert found["values"][0] == pytest.approx(low * now, abs=1e-3) and now in found["values"]
    for band in found["bands"]:
        assert found["values"][0] <= band["low"] <= band["high"] <= found["values"][-1]
        assert (band["above"] is None) == (band["high"] == found["values"][-1])


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (["length", "--vary", "box.lenth"], "nearest: box.length"),
        (["length", "--from", "70"], "has no unit"),
        (["length", "--from", "100 in", "--to", "70 in"], "is not under --to"),
        (["length", "--to", "50 in", "--hanger", "fixed"], "at or past the tail"),
        (["spread", "--vary", "box.length"], "not a key with its spread"),
        (["spread", "--vary", "hinge.gap=+-1"], "has no unit"),
    ],
)
def test_what_cannot_be_used_is_2_and_said_on_stderr(case, capsys, arguments, message):
    command, *options = arguments
    assert main([command, case(SOUND), *options]) == 2
    out, err = capsys.readouterr()
    assert message in err and not out


def test_hardware_lists_what_to_buy(case, capsys):
    assert main(["hardware", case(STURDY)]) == 3
    out, err = capsys.readouterr()
    assert "Shopping list" in out and "WLL" in out and not err
    assert main(["hardware", case(STURDY), "--json", "--max-utilization", "60"]) == 3
    found = json.loads(capsys.readouterr().out)
    assert found["max_utilization"] == 0.6 and len(found["choices"]) > 10


def test_spread_is_1_where_a_sample_is_over(case, capsys):
    assert main(["spread", case(STURDY), "--samples", "12"]) == 3
    assert "Nothing checked is over in any of 12 samples" in capsys.readouterr().out
    vary = ["--vary", "bed.depth=+-1/2 in", "--vary", "hinge.pin=normal 1/64 in", "--usual"]
    assert main(["spread", case(WEAK), "--samples", "12", *vary, "--json"]) == 1
    found = json.loads(capsys.readouterr().out)
    assert found["chance_over"] > 0.0
    assert [one["key"] for one in found["unknowns"]][:3] == ["bed.depth", "hinge.pin", "bed.density"]
