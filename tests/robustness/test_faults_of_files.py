"""What stands in the way when files are read and written: devices, pipes, links, two writers, a kill, a keyboard."""

import csv
import json
import os
import signal
import stat
import subprocess
import sys
import threading
import time
from functools import partial
from html.parser import HTMLParser
from pathlib import Path

import pytest

from rigcheck.case import CaseError
from rigcheck.case.reading.read import read_case_bytes
from rigcheck.cli import main
from rigcheck.page.saving import NotSavedError, write_over
from tests.support.whole_rig import starter_text

ROOT = Path(__file__).parents[2]
ANSWERED = (0, 1, 3)
FIELD = ("--weight", "400 lb")
WRITERS = ("card", "field", "report --no-working --no-length")
unix = pytest.mark.skipif(os.name == "nt", reason="files of another kind")


@pytest.fixture
def case(tmp_path: Path) -> Path:
    place = tmp_path / "rig.toml"
    place.write_text(starter_text())
    return place


def words(command: str, case: Path, output: Path, *more: str) -> list[str]:
    name, *options = command.split()
    return [name, str(case), *options, *(FIELD if name == "field" else ()), "--output", str(output), *more]


def left_behind(folder: Path) -> list[str]:
    return [one for one in os.listdir(folder) if one.startswith(".rigcheck-")]


@unix
@pytest.mark.parametrize("command", WRITERS)
@pytest.mark.parametrize("force", [(), ("--force",)])
def test_a_device_or_a_pipe_is_never_written_to_or_replaced(command, force, case, tmp_path, capsys):
    """As root a device would else be replaced by a page, for every program of the machine."""
    pipe, link = tmp_path / "pipe", tmp_path / "link"
    os.mkfifo(pipe)
    link.symlink_to(pipe)
    places = [pipe, link]
    if os.geteuid() == 0:
        places.append(tmp_path / "null")
        os.mknod(places[-1], stat.S_IFCHR | 0o666, os.makedev(1, 3))
    before = [one.stat().st_rdev for one in places], [stat.S_IFMT(one.stat().st_mode) for one in places]
    for place in places:
        assert main(words(command, case, place, *force)) == 2
        out, err = capsys.readouterr()
        assert out == "" and err == f"{place}: this is a device or a pipe, not a file; name a file\n"
    assert before == ([one.stat().st_rdev for one in places], [stat.S_IFMT(one.stat().st_mode) for one in places])
    assert link.is_symlink() and left_behind(tmp_path) == []


@unix
@pytest.mark.parametrize("command", WRITERS[:2])
def test_force_writes_through_a_link_and_keeps_the_mode(command, case, tmp_path, capsys):
    (tmp_path / "far").mkdir()
    real, link, second = tmp_path / "far" / "page", tmp_path / "link", tmp_path / "second"
    real.write_text("old")
    real.chmod(0o640)
    link.symlink_to(Path("far") / "page")
    second.symlink_to(link)
    assert main(words(command, case, second)) == 2 and real.read_text() == "old"
    assert main(words(command, case, second, "--force")) in ANSWERED, capsys.readouterr().err
    assert link.is_symlink() and second.is_symlink() and not real.is_symlink()
    assert real.read_text() != "old" and stat.S_IMODE(real.stat().st_mode) == 0o640
    assert left_behind(tmp_path) == left_behind(real.parent) == []


@unix
def test_a_link_that_leads_to_itself_or_nowhere(case, tmp_path, capsys):
    loop, far, lost = tmp_path / "loop", tmp_path / "far", tmp_path / "lost"
    loop.symlink_to(loop)
    lost.symlink_to(tmp_path / "gone" / "page")
    far.symlink_to(tmp_path / "new")
    for place in (loop, lost):
        assert main(words("card", case, place, "--force")) == 2
        assert capsys.readouterr().err.startswith(f"{place}: cannot be written: ")
        assert place.is_symlink()
    assert main(words("card", case, far, "--force")) in ANSWERED
    assert far.is_symlink() and (tmp_path / "new").read_text().startswith("<!")


@unix
def test_a_pipe_put_there_while_the_page_was_made_is_left_alone(case, tmp_path, capsys, monkeypatch):
    place = tmp_path / "page"
    monkeypatch.setattr(os, "fsync", lambda _: os.mkfifo(place))
    assert main(words("card", case, place, "--force")) == 2
    assert "this is a device or a pipe" in capsys.readouterr().err and stat.S_ISFIFO(place.stat().st_mode)
    assert left_behind(tmp_path) == []


@unix
def test_a_page_saves_into_no_pipe(tmp_path):
    pipe = tmp_path / "rig.toml"
    os.mkfifo(pipe)
    with pytest.raises(NotSavedError, match="a device or a pipe"):
        write_over(pipe, b"title = 'x'\n")
    assert stat.S_ISFIFO(pipe.stat().st_mode) and left_behind(tmp_path) == []


def test_one_bad_file_answers_machines_as_several_do(case, tmp_path, capsys):
    bad = tmp_path / "bad.toml"
    bad.write_text(starter_text().replace("[bed]", "[bedd]"))
    assert main(["check", str(bad), "--json"]) == 2
    alone = capsys.readouterr()
    assert main(["check", str(bad), str(case), "--json"]) == 2
    beside = capsys.readouterr()
    assert json.loads(alone.out) == json.loads(beside.out)[0] and alone.err == beside.err
    assert json.loads(alone.out)["verdict"] == "unusable"
    assert "bad.toml: line " in alone.err and "bedd: there is no such key" in alone.err
    assert main(["check", str(tmp_path / "none.toml"), "--json", "--units", "si"]) == 2
    assert json.loads(capsys.readouterr().out)["problems"][0]["why"] == "there is no such file"
    assert main(["check", str(bad)]) == 2 and capsys.readouterr().out == ""


def test_field_tells_no_verdict_before_its_file_stands(case, tmp_path, capsys):
    for more in ((), ("--json",)):
        for place in (tmp_path / "no" / "such" / "folder.toml", tmp_path, case):
            assert main(words("field", case, place, *more)) == 2
            assert capsys.readouterr().out == ""
        empty = ["field", str(case), "--state", "packed", "--load-cell", "900 lb", "-o", str(tmp_path / "x"), *more]
        assert main(empty) == 2 and capsys.readouterr().out == ""


@unix
@pytest.mark.parametrize("command", ["field", "page"])
def test_a_kill_on_the_way_leaves_the_old_case(command, case, tmp_path):
    """Of `report` and `card` tests/output/test_writing.py tells the same."""
    old = tmp_path / "old.toml"
    old.write_text(starter_text())
    run = {
        "field": "from rigcheck.cli import main; main(sys.argv[1:])",
        "page": "from pathlib import Path; from rigcheck.page.saving import write_over\n"
        "write_over(Path(sys.argv[1]), b'new' * 90000)",
    }[command]
    given = words("field", case, old, "--force") if command == "field" else [str(old)]
    for step in ("fsync", "chmod", "replace"):
        code = f"import os, signal, sys; os.{step} = lambda *_, **__: os.kill(os.getpid(), signal.SIGKILL)\n{run}"
        done = subprocess.run([sys.executable, "-c", code, *given], cwd=ROOT, capture_output=True, check=False)
        assert done.returncode == -signal.SIGKILL, done.stderr
        assert old.read_text() == starter_text()
        if command == "field":
            assert done.stdout == b""


@unix
def test_of_two_writers_one_whole_page_stays(case, tmp_path):
    """Both begin at once; without --force one of them is told that there is a file already."""
    code = (
        "import sys; from pathlib import Path; from rigcheck.cli.output import OutputError, write_file\n"
        "sys.stdin.readline()\n"
        "try: write_file(Path(sys.argv[1]), text=sys.argv[2] * 200_000, force=sys.argv[3] == 'force')\n"
        "except OutputError as error: sys.exit(str(error))"
    )
    for force in ("", "force"):
        place = tmp_path / f"page{force}"
        both = [
            subprocess.Popen(
                [sys.executable, "-c", code, str(place), letter, force], cwd=ROOT, stdin=subprocess.PIPE,
                stderr=subprocess.PIPE, text=True,
            )
            for letter in "ab"
        ]  # fmt: skip
        for one in both:
            assert one.stdin is not None
            one.stdin.write("\n")
            one.stdin.flush()
        told = sorted((one.communicate()[1].strip(), one.returncode) for one in both)
        assert place.read_text() in ("a" * 200_000, "b" * 200_000)
        assert [code for _, code in told] == ([0, 0] if force else [0, 1])
        assert force or told[1][0].endswith("there is a file already; --force replaces it")
    assert left_behind(tmp_path) == []


@unix
@pytest.mark.parametrize("words_of", [["check"], ["check", "--json"]])
def test_a_reader_that_went_away_changes_no_exit_code(words_of, case):
    code = main([words_of[0], str(case)])
    read, write = os.pipe()
    os.close(read)
    command = [sys.executable, "-m", "rigcheck", words_of[0], str(case), str(case), *words_of[1:]]
    done = subprocess.run(command, cwd=ROOT, stdout=write, stderr=subprocess.PIPE, check=False)
    os.close(write)
    assert (done.returncode, done.stderr) == (code, b"")


def test_the_keyboard_in_the_middle_of_several_files(case, capsys, monkeypatch):
    """No list that looks whole: what was ready is not told, and the exit code is none of a verdict."""
    from rigcheck.assessment.assess import assess

    turns = iter(range(9))

    def stopped(rig):
        if next(turns) == 1:
            raise KeyboardInterrupt
        return assess(rig)

    monkeypatch.setattr("rigcheck.assessment.assess.assess", stopped)
    for more in ((), ("--json",)):
        turns = iter(range(9))
        assert main(["check", *[str(case)] * 3, *more]) == 130
        assert capsys.readouterr() == ("", "")


@unix
def test_the_keyboard_while_a_pipe_says_nothing(tmp_path):
    pipe = tmp_path / "rig.toml"
    os.mkfifo(pipe)
    command = [sys.executable, "-m", "rigcheck", "check", str(pipe)]
    heard = partial(signal.signal, signal.SIGINT, signal.SIG_DFL)  # whatever this very process does with it
    process = subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, preexec_fn=heard)
    with process, pipe.open("wb"):  # it has opened the other end, and waits
        time.sleep(0.05)
        process.send_signal(signal.SIGINT)
        out, err = process.communicate(timeout=20)
    assert (process.returncode, out, err) == (130, b"", b"")


@unix
@pytest.mark.parametrize("command", ["card", "field"])
def test_a_case_from_a_pipe_is_read_once_by_what_writes_too(command, tmp_path, capsys):
    pipe, place = tmp_path / "pipe.toml", tmp_path / "page"
    os.mkfifo(pipe)
    writer = threading.Thread(target=pipe.write_bytes, args=(starter_text().encode(),))
    writer.start()
    assert main(words(command, pipe, place)) in ANSWERED, capsys.readouterr().err
    writer.join(10)
    assert place.exists() and not writer.is_alive()


@pytest.mark.parametrize("place", ["/dev/null", "/dev/full"])
def test_a_device_as_a_case(place, capsys):
    if not Path(place).exists():
        pytest.skip("no such device here")
    assert main(["check", place]) == 2
    out, err = capsys.readouterr()
    assert out == "" and err.startswith(f"{Path(place).name}: ") and err.count("\n") == 1


STRANGE = ("\x1b[2J", "\x9b2J", "\x07", "\u202e", "\u2066", "\u2028", "\u2029", "\x85", "\ufeff", "\u200b", "\udcff")
"""Codes that clear a terminal, ring, turn the direction of reading, end a line, or cannot be seen."""


@pytest.mark.parametrize("letters", STRANGE, ids=ascii)
def test_letters_that_do_not_print_are_in_no_name_of_a_case(letters, case):
    text = starter_text()
    fitting = '\n[[fitting]]\nname = "NAME"\nweight = "20 lb"\nat = "20 in"\n'
    link = '\n[[line.link]]\nkind = "rated part"\nwll = "9000 lb"\nname = "NAME"\n'
    for told in (text.replace('title = "', 'title = "NAME'), text + fitting, text + link):
        escaped = "".join(f"\\u{ord(letter):04x}" for letter in letters)
        if "\udcff" not in letters:
            with pytest.raises(CaseError, match="letters that do not print"):
                read_case_bytes(told.replace("NAME", f"x{escaped}y").encode(), name="rig.toml")
        with pytest.raises(CaseError):
            read_case_bytes(told.replace("NAME", f"x{letters}y").encode("utf-8", "surrogatepass"), name="rig.toml")


@unix
def test_letters_that_do_not_print_in_the_name_of_a_file_reach_no_output(tmp_path, capsys):
    letters = "".join(STRANGE)
    named, page = tmp_path / f"r{letters}\ng.toml", tmp_path / f"p{letters}\n.html"
    named.write_text(starter_text())
    for more in (["check"], ["check", "--json"], ["materials", "--csv"]):
        assert main([more[0], str(named), *more[1:]]) in ANSWERED
    assert main(["check", str(named), str(named)]) in ANSWERED
    assert main(words("card", named, page)) in ANSWERED
    assert main(words("card", named, page)) == 2
    out, err = capsys.readouterr()
    assert {letter for letter in out + err + page.read_text() if not letter.isprintable()} <= {"\n", "\xa0"}
    assert [line[:1] for line in err.splitlines()] == ["/", "/"]  # and none of them ends a line


HTML = "<script>alert(1)</script>&\"'=1+1"


def test_what_a_browser_or_a_spreadsheet_would_run_is_text(case, tmp_path, capsys):
    """Title, fitting, link and strap are named so; screen, JSON, HTML, SVG in it, and rows for a spreadsheet."""
    quoted = json.dumps(HTML)
    text = starter_text(title=HTML)
    text += f'\n[[fitting]]\nname = {quoted}\nweight = "20 lb"\nat = "20 in"\n'
    text += '\n[[fitting]]\nname = "=1+1"\nweight = "20 lb"\nat = "20 in"\n'
    text += f'\n[[line.link]]\nkind = "rated part"\nwll = "9000 lb"\nname = {quoted}\n'
    case.write_text(text)

    class Scripts(HTMLParser):
        found: list[str]

        def handle_starttag(self, tag, attrs):
            if tag == "script" or any(name.startswith("on") for name, _ in attrs):
                self.found.append(tag)

    for command in WRITERS[::2]:
        page = tmp_path / f"{command.split()[0]}.html"
        assert main(words(command, case, page)) in ANSWERED
        reader = Scripts()
        reader.found = []
        reader.feed(page.read_text())
        assert reader.found == [] and "<script>alert" not in page.read_text()
    capsys.readouterr()
    assert main(["check", str(case), "--json"]) in ANSWERED
    assert quoted in (told := capsys.readouterr().out) and json.loads(told)
    assert main(["materials", str(case), "--csv"]) in ANSWERED
    rows = list(csv.reader(capsys.readouterr().out.splitlines()))
    assert not any(cell[:1] in "=+-@" and cell[:1] and not _number(cell) for row in rows for cell in row)


def _number(cell: str) -> bool:
    try:
        float(cell)
    except ValueError:
        return False
    return True


SLOW = {
    "a dotted key of 80 KB": "a" + ".a" * 40_000 + " = 1\n",
    "a heading of 80 KB": "[a" + ".a" * 40_000 + "]\n",
    "a dotted key in a table in a list": "x = [{a" + ".a" * 40_000 + " = 1}]\n",
    "keys of 16 names under headings of 16": "".join(
        f"[{'.'.join(f'h{i}' if j == 15 else 'h' for j in range(16))}]\n{'k.' * 15}k = 1\n" for i in range(8_000)
    ),
    "lists 200 deep, again and again": "".join(f"k{i} = {'[' * 200}{']' * 200}\n" for i in range(2_000)),
    "tables 200 deep": "".join(f"k{i} = {'{a=' * 200}1{'}' * 200}\n" for i in range(1_200)),
    "a whole number of a million digits": "title = " + "9" * 1_000_000,
    "250 whole numbers of 4,000 digits": "".join(f"k{i} = {'9' * 4_000}\n" for i in range(250)),
    "a million digits behind the point": "title = 0." + "9" * 1_000_000,
    "a power without end": "title = 1e" + "9" * 1_000_000,
    "a quantity of a million digits": 'title = "t"\n[box]\nlength = "' + "9" * 1_000_000 + ' in"\n',
    "a quantity of many words": 'title = "t"\n[box]\nlength = "' + "1 1/2 " * 150_000 + ' in"\n',
    "opening brackets without end": "[" * 1_000_000,
    "quotes without end": 'a = "' + "['" * 400_000,
    "dots without names": "a" + " . " * 300_000 + " = 1",
    "line ends without end": "\r\n" * 500_000,
    "the same list of tables": "[[line.link]]\n" * 70_000,
    "a heading under each of them": "[[a.b]]\n[a.b.c]\n" * 60_000,
}


@pytest.mark.skipif(sys.platform != "linux", reason="limits of another kind")
def test_a_file_made_to_be_slow_takes_little_time_and_memory(tmp_path):
    """All of them one after the other in a process with 600 MB of addresses; each within 5 s of processor time."""
    import resource

    for name, text in SLOW.items():
        assert len(text) <= 1024 * 1024, name
    code = (
        "import json, sys, time; from pathlib import Path; from rigcheck.case import CaseError, read_case\n"
        "for place in sorted(Path(sys.argv[1]).iterdir()):\n"
        "    begun = time.process_time()\n"
        "    try: read_case(place); told = 'read'\n"
        "    except CaseError as error: told = str(error.problems[0])[:200]\n"
        "    print(json.dumps([place.name, time.process_time() - begun, told]), flush=True)\n"
    )
    for name, text in SLOW.items():
        (tmp_path / name).write_text(text, newline="")

    def frugal() -> None:
        resource.setrlimit(resource.RLIMIT_AS, (600_000_000, 600_000_000))
        resource.setrlimit(resource.RLIMIT_CPU, (60, 60))

    command = [sys.executable, "-c", code, str(tmp_path)]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False, preexec_fn=frugal)
    told = [json.loads(line) for line in done.stdout.splitlines()]
    assert done.returncode == 0 and len(told) == len(SLOW), done.stderr[-2000:] + str(told[-1:])
    print(*(f"{name}: {took:.2f} s: {why}" for name, took, why in told), sep="\n")
    assert [one for one in told if one[1] > 5.0] == []
    assert all(why.startswith(f"{name}: ") for name, _, why in told)
