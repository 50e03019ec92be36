"""Killed at any moment, server or browser: the file is whole, old or new, and what was typed is there."""

import os
import random
import re
import signal
import threading
import time

import pytest

from rigcheck.page.changes import Changes
from rigcheck.page.saving import write_over
from tests.page.browsing import _FLAGS, chromium, until
from tests.page.running import case_in, page_of
from tests.page.test_command import ENV, run


@pytest.fixture(autouse=True)
def own_state(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    monkeypatch.setitem(ENV, "XDG_STATE_HOME", str(tmp_path / "state"))


@pytest.mark.skipif(not hasattr(os, "fork"), reason="no fork here")
def test_a_process_killed_while_it_writes_leaves_the_old_file_or_the_new_one(tmp_path):
    path, draw = tmp_path / "rig.toml", random.Random(4)
    texts = (b"a = 1\n" * 20_000, b"b = 2\n" * 30_000)
    path.write_bytes(texts[0])
    for _ in range(12):
        child = os.fork()
        if child == 0:
            while True:
                for text in texts:
                    write_over(path, text)
        time.sleep(draw.uniform(0.002, 0.02))
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        assert path.read_bytes() in texts


def test_a_server_killed_while_it_saves_leaves_a_whole_file(tmp_path):
    path = case_in(tmp_path)
    with run(str(path), "--no-open") as running, page_of(path) as page:  # the client turned to the other server
        address = running.stdout.readline().strip()
        page.port = int(address.split(":")[2].split("/")[0])
        page.host = f"127.0.0.1:{page.port}"
        page.desk.token = re.search(r'name="token" value="([^"]+)"', page.get("/" + address.rsplit("/", 1)[1])[1])[1]
        base, saves, files = page.base, [], {path.read_bytes()}

        def save_on():
            nonlocal base
            for number in range(10_000):
                typed = {"title": f"save {number}"}
                text = re.sub(rb"^title = .*$", f'title = "save {number}"'.encode(), path.read_bytes(), flags=re.M)
                files.add(text)
                try:
                    done = page.ask("/save", changes=Changes(base, typed).plain)
                except (OSError, AssertionError):
                    return
                saves.append(number)
                base = done["base"]

        saving = threading.Thread(target=save_on, daemon=True)
        saving.start()
        while len(saves) < 3:
            time.sleep(0.005)
        time.sleep(random.Random(9).uniform(0.0, 0.03))
        os.kill(running.pid, signal.SIGKILL)
        running.wait()
        saving.join(20.0)
    assert path.read_bytes() in files


def test_a_browser_killed_while_it_saves_leaves_a_whole_file_and_what_was_typed(tmp_path):
    path, where = case_in(tmp_path), chromium()
    before = path.read_bytes()
    after = before.replace(b'width = "23 in"', b'width = "24 in"')
    from playwright.sync_api import sync_playwright

    with page_of(path) as page:
        with sync_playwright() as driver:
            running = driver.chromium.launch(executable_path=where, args=_FLAGS)
            processes = running.new_browser_cdp_session().send("SystemInfo.getProcessInfo")["processInfo"]
            shown = running.new_page()
            shown.goto(page.address)
            until(shown, "document.querySelector('.grip')")
            shown.fill('[name="box.width"]', "24 in")
            shown.wait_for_timeout(1000)  # as long as may be lost
            kept = page.get()[1]
            shown.evaluate("document.getElementById('save').click()")
            os.kill(next(one["id"] for one in processes if one["type"] == "browser"), signal.SIGKILL)
        assert "1 change of" in kept
        time.sleep(0.5)  # a save that was on its way
        assert path.read_bytes() in (before, after)
        assert "24 in" in path.read_text(encoding="utf-8") or "1 change of" in page.get()[1]
