"""The command: one address, an end without a trace, and plain words for what cannot be had."""

import os
import signal
import socket
import subprocess
import sys

import pytest

from tests.page.running import ROOT, case_in

ENV = {**os.environ, "PYTHONPATH": str(ROOT), "OPENBLAS_NUM_THREADS": "1"}


def run(*words: str, cwd=ROOT) -> subprocess.Popen[str]:
    command = [sys.executable, "-m", "rigcheck", "page", *words]
    return subprocess.Popen(command, cwd=cwd, env=ENV, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)


@pytest.mark.parametrize("end", [signal.SIGINT])
def test_one_address_is_printed_and_ctrl_c_ends_it_in_order(tmp_path, end):
    running = run(str(case_in(tmp_path)), "--no-open")
    address = running.stdout.readline()
    assert address.startswith("http://127.0.0.1:") and "/?key=" in address
    running.send_signal(end)
    out, err = running.communicate(timeout=20)
    assert running.returncode == 0 and out == err == ""


def test_a_case_that_cannot_be_read_gets_no_page(tmp_path):
    path = case_in(tmp_path)
    path.write_text(path.read_text(encoding="utf-8").replace('"7 ft 5 in"', '"7"'), "utf-8")
    running = run(str(path), "--no-open")
    out, err = running.communicate(timeout=30)
    assert running.returncode == 2 and out == "" and "box.length" in err and "Traceback" not in err


def test_a_busy_port_is_told(tmp_path):
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        running = run(str(case_in(tmp_path)), "--no-open", "--port", str(taken.getsockname()[1]))
        out, err = running.communicate(timeout=30)
    assert running.returncode == 2 and out == "" and "cannot be had" in err and "Traceback" not in err


def test_a_check_loads_none_of_it():
    code = (
        "import sys; from rigcheck.cli import main; main(['check', 'cases/larkspur-bar.toml']);"
        "sys.exit(bool({'starlette', 'uvicorn', 'tomlkit', 'anyio'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, env=ENV, capture_output=True, check=False)
    assert done.returncode == 0
