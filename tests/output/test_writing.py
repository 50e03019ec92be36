"""Writing that goes wrong: nothing half-written, the old file intact, a sentence and no traceback."""

import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from rigcheck.cli import main
from rigcheck.cli.output import OutputError, write_file
from tests.support.powerless import powerless
from tests.support.said import SAID
from tests.support.whole_rig import starter_text

ROOT = Path(__file__).parents[2]
NEW = "new text " * 20_000


@pytest.fixture
def old(tmp_path: Path) -> Path:
    place = tmp_path / "page.html"
    place.write_text("old")
    return place


@pytest.fixture
def case(tmp_path: Path) -> Path:
    (tmp_path / "in").mkdir()
    place = tmp_path / "in" / "rig.toml"
    place.write_text(starter_text())
    return place


def intact(old: Path) -> bool:
    """The old file stands as it was, and nothing else lies beside it."""
    return old.read_text() == "old" and not list(old.parent.glob(".rigcheck-*"))


def run(code: str, *arguments: str, **more: object) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-c", code, *arguments]
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False, **more)  # type: ignore


@pytest.mark.skipif(sys.platform != "linux", reason="limits of another kind")
def test_a_disk_that_fills_up_on_the_way_leaves_the_old_file(old):
    def small() -> None:
        import resource

        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (65_536, 65_536))

    code = (
        "import sys; from pathlib import Path; from rigcheck.cli.output import OutputError, write_file\n"
        "try: write_file(Path(sys.argv[1]), text='new text ' * 20_000, force=True)\n"
        "except OutputError as error: sys.exit(str(error))"
    )
    done = run(code, str(old), preexec_fn=small)
    assert done.returncode == 1 and f"{old}: cannot be written: " in done.stderr and "Traceback" not in done.stderr
    assert intact(old)


@pytest.mark.parametrize("step", ["write", "flush", "close"])
def test_no_room_at_any_step(step, old, monkeypatch):
    made = os.fdopen

    def full(*arguments: object, **more: object):
        file = made(*arguments, **more)  # type: ignore[call-overload]

        class Full:
            def __enter__(self):
                return self

            def __exit__(self, *_: object) -> None:
                file.close()
                if step == "close":
                    raise OSError(28, "No space left on device")

            def __getattr__(self, name: str):
                if name == step:
                    raise OSError(28, "No space left on device")
                return getattr(file, name)

        return Full()

    monkeypatch.setattr(os, "fdopen", full)
    with pytest.raises(OutputError, match=r"page.html: cannot be written: No space left on device"):
        write_file(old, text=NEW, force=True)
    assert intact(old)


def test_a_folder_that_may_not_be_written(old, monkeypatch):
    def locked(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("tempfile.mkstemp", locked)
    with pytest.raises(OutputError, match=r"page.html: cannot be written: Permission denied"):
        write_file(old, text=NEW, force=True)
    assert intact(old)


@pytest.mark.skipif(not hasattr(os, "geteuid"), reason="permissions of another kind")
@pytest.mark.parametrize("command", ["new", "card", "report --no-working --no-length"])
def test_a_read_only_folder_in_fact(command, case, capsys):
    name, *more = command.split()
    once = case.parent / "once"
    assert main([name, *(SAID if name == "new" else [str(case), *more, "--output"]), str(once)]) in (0, 1, 3)
    capsys.readouterr()  # all that it needs is loaded now: whom permissions bind may not be able to read it
    with powerless() as folder:
        copied, locked = folder / "rig.toml", folder / "locked"
        copied.write_text(starter_text())
        locked.mkdir()
        (locked / "old.html").write_text("old")
        locked.chmod(0o555)
        place = locked / ("rig.toml" if name == "new" else "old.html")
        words = [str(place), *SAID] if name == "new" else [str(copied), *more, "--output", str(place), "--force"]
        code = main([name, *words])
        left = sorted(one.name for one in locked.iterdir())
        assert (locked / "old.html").read_text() == "old" and left == ["old.html"]
        locked.chmod(0o755)
    assert code == 2
    assert f"{place}: cannot be written: Permission denied" in capsys.readouterr().err


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A file system of 16 KiB, with an old page on it."""
    place = tmp_path / "disk"
    place.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", "size=16k", "none", str(place)]
    if sys.platform != "linux" or subprocess.run(mount, capture_output=True, check=False).returncode:
        pytest.skip("no file system may be mounted here")
    (place / "page.html").write_text("old")
    yield place
    subprocess.run(["umount", str(place)], check=True)


@pytest.mark.parametrize("command", ["card", "report --no-working --no-length"])
def test_a_disk_that_is_full_in_fact(command, small_disk, case, capsys):
    name, *more = command.split()
    old = small_disk / "page.html"
    assert main([name, str(case), *more, "--output", str(old), "--force"]) == 2
    assert f"{old}: cannot be written: No space left on device" in capsys.readouterr().err
    assert intact(old)
    other = small_disk / "other.html"
    assert main([name, str(case), *more, "--output", str(other)]) == 2
    assert not other.exists() and intact(old)


@pytest.mark.skipif(os.name == "nt", reason="signals of another kind")
def test_a_report_killed_as_soon_as_it_begins_to_write(case, old):
    """Whenever the kill comes, under the name stands the old page or the whole new one."""
    command = [
        sys.executable,
        "-m",
        "rigcheck",
        "report",
        str(case),
        "--no-working",
        "--no-length",
        "--output",
        str(old),
        "--force",
    ]
    killed = 0
    for _ in range(3):
        if killed:
            break
        with subprocess.Popen(command, cwd=ROOT, stderr=subprocess.DEVNULL) as process:
            while process.poll() is None:
                if any(one.startswith(".rigcheck-") for one in os.listdir(old.parent)):
                    process.kill()
                    break
                time.sleep(5e-4)
        killed += process.returncode == -signal.SIGKILL
        text = old.read_text()
        assert text == "old" or text.endswith("</html>\n") or text.endswith("</html>")
        for left in old.parent.glob(".rigcheck-*"):
            left.unlink()
        old.write_text("old")
    assert killed, "no kill came in time to tell anything"


@pytest.mark.parametrize("how", [KeyboardInterrupt, SystemExit, MemoryError])
def test_an_interrupt_on_the_way_leaves_the_old_file_and_nothing_else(how, old, monkeypatch):
    def stopped(_: int) -> None:
        raise how

    monkeypatch.setattr(os, "fsync", stopped)
    with pytest.raises(how):
        write_file(old, text=NEW, force=True)
    assert intact(old)


@pytest.mark.skipif(os.name == "nt", reason="signals of another kind")
@pytest.mark.parametrize("name", ["SIGKILL", "SIGTERM", "SIGHUP"])
def test_a_program_that_is_killed_on_the_way_leaves_the_old_file(name, old):
    # a process that ignores a hang-up hands that down
    heard = "" if name == "SIGKILL" else f"signal.signal(signal.{name}, signal.SIG_DFL)\n"
    code = (
        "import os, signal, sys; from pathlib import Path; from rigcheck.cli.output import write_file\n"
        f"os.fsync = lambda _: os.kill(os.getpid(), signal.{name})\n{heard}"
        "write_file(Path(sys.argv[1]), text='new text ' * 20_000, force=True)"
    )
    assert run(code, str(old)).returncode == -getattr(signal, name)
    assert old.read_text() == "old"


@pytest.mark.skipif(os.name == "nt", reason="signals of another kind")
@pytest.mark.parametrize("command", ["card", "report --no-working --no-length"])
def test_a_command_killed_while_it_works_has_touched_nothing(command, case, tmp_path):
    old = tmp_path / "page.html"
    old.write_text("old")
    code = (
        "import os, signal, sys; from rigcheck.cli import main; from rigcheck.cli import output\n"
        "def stop(*_, **__): os.kill(os.getpid(), signal.SIGKILL)\n"
        "output._put = stop\n"
        "main(sys.argv[1:])"
    )
    done = run(code, *command.split(), str(case), "--output", str(old), "--force")
    assert done.returncode == -signal.SIGKILL, done.stderr
    assert old.read_text() == "old"


@pytest.mark.parametrize("command", ["card", "report"])
@pytest.mark.parametrize("force", [[], ["--force"]])
def test_the_case_itself_is_never_written_over(command, force, case, capsys):
    link = case.parent / "link.toml"
    link.symlink_to(case)
    for place in (case, link, case.parent / ".." / "in" / "rig.toml"):
        assert main([command, str(case), "--output", str(place), *force]) == 2
        assert "this is the case itself; name another file" in capsys.readouterr().err
    assert case.read_text() == starter_text()


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no full device here")
@pytest.mark.parametrize("words", ["check --json", "fold", "haul --json", "tables", "new"])
def test_a_full_disk_behind_stdout_is_2_for_every_command(words, case):
    name, *more = words.split()
    with Path("/dev/full").open("wb") as full:
        command = [sys.executable, "-m", "rigcheck", name, *{"tables": [], "new": SAID}.get(name, [str(case)]), *more]
        done = subprocess.run(command, cwd=ROOT, stdout=full, stderr=subprocess.PIPE, check=False)
    assert done.returncode == 2 and b"the output cannot be written" in done.stderr and b"Traceback" not in done.stderr


@pytest.mark.skipif(os.name == "nt", reason="a shell of another kind")
@pytest.mark.parametrize(
    ("words", "closed"),
    [*(("check", closed) for closed in (">&-", "2>&-", "<&-", "<&- >&- 2>&-")), ("check --json", ">&-"),
     ("check --json", "2>&- <&-"), ("fold", "<&- >&- 2>&-")],
)  # fmt: skip
def test_closed_streams_change_no_verdict(words, closed, case, capfd):
    name, *more = words.split()
    verdict = main([name, str(case)])
    capfd.readouterr()
    command = f'"{sys.executable}" -m rigcheck {name} "{case}" {" ".join(more)} {closed}'
    done = subprocess.run(command, shell=True, cwd=ROOT, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (verdict, "")
    if more and ">&-" not in closed.replace("2>&-", ""):
        assert json.loads(done.stdout)["schema"] == "rigcheck.result/2"


@pytest.mark.skipif(os.name == "nt", reason="a shell of another kind")
def test_a_complaint_never_lands_on_stdout(tmp_path):
    command = f'"{sys.executable}" -m rigcheck check "{tmp_path}/none.toml" 2>&-'
    done = subprocess.run(command, shell=True, cwd=ROOT, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout) == (2, "")
