"""What people see: on narrow and wide screens, piped, without color, in any locale and on old consoles."""

import io
import os
import re
import subprocess
import sys
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path

import pytest

from rigcheck.cli import main
from rigcheck.wording.cautions import CAUTIONS
from tests.support.lot import worked_once
from tests.support.whole_rig import starter_text

ROOT = Path(__file__).parents[2]
TITLE = "Größe 9, Ёлка, 箱"
COMMANDS = ("check --all", "fold --all", "haul --all", "length --points 9 --all", "card --all", "proof --all")
ONE_SCREEN = ("check", "fold", "card")
SLOW = ("hardware --all", "props --all", "spread --samples 10 --all", "working --part line --part hinge")
WITHOUT_FILE = ("tables", "tables rope_6x19_fc_ips")
CONSOLES = ("cp437", "cp850", "cp1252", "ascii", "latin-1", "utf-8", "utf-16")


@pytest.fixture(scope="module")
def case(tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("rig") / "rig.toml"
    place.write_text(starter_text(title=TITLE), encoding="utf-8")
    return place


def words_of(command: str, case: Path) -> list[str]:
    name, *more = command.split()
    return [name, *more] if command in WITHOUT_FILE else [name, str(case), *more]


def shown(words: list[str], *, encoding: str = "utf-8", newline: str = "\n") -> tuple[int, bytes, bytes]:
    """Exit code and bytes of stdout and stderr of a command on a console of some encoding."""
    out, err = (io.TextIOWrapper(io.BytesIO(), encoding=encoding, newline=newline) for _ in range(2))
    with redirect_stdout(out), redirect_stderr(err):
        code = main(words)
    found = []
    for stream in (out, err):
        stream.flush()
        found.append(stream.buffer.getvalue())  # type: ignore[attr-defined]
    return code, *found


@pytest.mark.parametrize("command", (*COMMANDS, *ONE_SCREEN, *WITHOUT_FILE))
def test_every_line_fits_60_80_and_120_letters(command, case):
    with worked_once():
        screens = [(width, *shown([*words_of(command, case), "--width", str(width)])) for width in (60, 80, 120)]
    for width, code, out, err in screens:
        lines = out.decode().splitlines()
        assert code in (0, 1, 3) and err == b"" and lines
        assert max(map(len, lines)) <= width, max(lines, key=len)
        assert all(line.isprintable() and line == line.rstrip() for line in lines)


@pytest.mark.parametrize("command", SLOW)
def test_every_line_of_the_slower_commands_fits_60_letters_and_breaks_no_word(command, case):
    with worked_once():
        code, out, err = shown([*words_of(command, case), "--width", "60"])
        whole = shown([*words_of(command, case), "--width", "120"])[1].decode()
    lines = out.decode().splitlines()
    assert code in (0, 1, 3) and err == b"" and lines
    assert max(map(len, lines)) <= 60, max(lines, key=len)
    assert all(line.isprintable() and line == line.rstrip() for line in lines)
    if command != "working --part line --part hinge":  # which breaks its formulas between their terms
        known = set(re.findall(r"[A-Za-z]+", whole))
        assert not set(re.findall(r"[A-Za-z]+", out.decode())) - known


@pytest.mark.parametrize("width", [1, 20, 40, 100_000])
def test_absurd_widths_are_borne(width, case):
    code, out, _ = shown(["check", str(case), "--all", "--width", str(width)])
    assert code in (0, 1, 3) and CAUTIONS[0].split()[-1] in out.decode()


@pytest.mark.parametrize("command", COMMANDS)
def test_people_see_the_cautions_last(command, case):
    _, out, _ = shown(words_of(command, case))
    assert " ".join(out.decode().split()).endswith(CAUTIONS[-1])


@pytest.mark.parametrize("encoding", CONSOLES)
def test_a_console_of_any_code_page_shows_what_it_can(encoding, case):
    expected = shown(["check", str(case)])[1].decode()
    code, out, err = shown(["check", str(case)], encoding=encoding, newline="\r\n")
    told = out.decode(encoding)
    assert code in (0, 1, 3) and err == b""
    assert told.replace("\r\n", "\n") == expected.encode(encoding, "replace").decode(encoding)
    assert told.splitlines()[0].count("?") == sum(not can(letter, encoding) for letter in TITLE)


def can(letter: str, encoding: str) -> bool:
    return letter.encode(encoding, "ignore") != b"" if encoding != "utf-16" else True


@pytest.mark.parametrize("encoding", CONSOLES)
def test_complaints_are_readable_on_any_console(encoding, tmp_path):
    place = tmp_path / "Größe.toml"
    place.write_text('title = "Größe"\n"länge" = 3\n', encoding="utf-8")
    code, out, err = shown(["check", str(place)], encoding=encoding)
    told = err.decode(encoding)
    assert code == 2 and out == b"" and "ge: there is no such key" in told and "box: is missing" in told


@pytest.mark.parametrize("encoding", CONSOLES)
def test_json_is_utf_8_whatever_the_console(encoding, case):
    _, out, _ = shown(["check", str(case), "--json"], encoding=encoding)
    assert TITLE in out.decode("utf-8")


@pytest.mark.parametrize(
    "environment",
    [
        {"LC_ALL": "C", "LANG": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"},
        {"LC_ALL": "POSIX", "PYTHONUTF8": "0", "PYTHONIOENCODING": "cp437"},
        {"LC_ALL": "xx_XX.nothing", "TERM": ""},
        {"TERM": "dumb", "NO_COLOR": "1", "COLUMNS": "not a number"},
        {"COLUMNS": "0", "LINES": "0"},
        {"COLUMNS": "60", "PYTHONWARNINGS": "error"},
        {"PYTHONOPTIMIZE": "2"},
    ],
    ids=lambda found: " ".join(f"{key}={value}" for key, value in found.items()),
)
def test_any_environment_gives_the_same_verdict(environment, case):
    command = [sys.executable, "-m", "rigcheck", "check", str(case), "--all"]
    done = subprocess.run(command, cwd=ROOT, env={**os.environ, **environment}, capture_output=True, check=False)
    assert done.returncode == shown(["check", str(case)])[0] and done.stderr == b""
    assert b"\x1b" not in done.stdout and CAUTIONS[0].encode() in b" ".join(done.stdout.split())


@pytest.mark.skipif(os.name == "nt", reason="terminals of another kind")
@pytest.mark.parametrize(("more", "colored"), [({}, True), ({"NO_COLOR": "1"}, False), ({"TERM": "dumb"}, False)])
def test_color_at_a_terminal_only_where_it_is_wanted(more, colored, case):
    import pty

    environment = {key: value for key, value in os.environ.items() if key not in ("NO_COLOR", "COLUMNS")}
    main_end, end = pty.openpty()
    command = [sys.executable, "-m", "rigcheck", "check", str(case)]
    with subprocess.Popen(command, cwd=ROOT, env={**environment, "TERM": "xterm", **more}, stdout=end) as process:
        os.close(end)
        told = b""
        while True:
            try:
                part = os.read(main_end, 65_536)
            except OSError:  # the other end is closed
                break
            if not part:
                break
            told += part
        assert process.wait(60) in (0, 1, 3)
    os.close(main_end)
    assert (b"\x1b[" in told) is colored and b"Nobody under a hung box" in told
