"""Random edits at the page: `python -m tests.bench.page_soak [COUNT [SEED [MINUTES]]]`, 5,000, 1 and 60 where not said.

Each answer must be of the numbers that were sent, each fact that comes later too, each save must read as what stands on
the page with no other key changed, no outside edit may be lost, an edit on both sides must stay as it was chosen, and
neither the server nor its worker may grow by more than a fifth. What was done is told every 250 edits.
"""

from __future__ import annotations

import http.client
import json
import os
import random
import re
import sys
import tempfile
import time
import tomllib
from contextlib import closing
from dataclasses import replace
from pathlib import Path
from typing import Any

from rigcheck.page.changes import Changes, changes_of, hash_of, laid_over
from rigcheck.page.rowing import carried_out
from rigcheck.page.typed import BadRequestError
from tests.page.draws import drawn_change
from tests.page.running import Running, case_in, page_of

LEAK = 1.20
LATER = 40  # edits between two looks at what comes later


def main(count: int, seed: int, minutes: float) -> None:
    """Edit."""
    draw = random.Random(seed)
    with tempfile.TemporaryDirectory() as folder:
        os.environ["XDG_STATE_HOME"] = folder
        with page_of(case_in(Path(folder))) as page:
            page.wait = 300.0  # it may be the last on a busy machine
            told = _edits(page, draw, count, until=time.monotonic() + 60.0 * minutes)
    print(f"seed {seed}: {told}", flush=True)


def _edits(page: Running, draw: random.Random, count: int, *, until: float) -> dict[str, Any]:
    changes, back = Changes(page.base), []
    told: dict[str, Any] = {"edits": 0}
    warm, unread = (0.0, 0.0), False
    for number in range(count):
        if time.monotonic() > until:
            break
        what = draw.choices(("type", "undo", "rows", "save", "outside"), (70, 12, 8, 8, 2))[0]
        if unread and back and draw.random() < 0.6:
            what = "undo"  # as somebody would
        told[what] = told.get(what, 0) + 1
        told["edits"] += 1
        if what == "undo" and back:
            onto = changes.base
            answer = page.ask("/live", changes=back.pop().plain, onto=onto, form=True)
            changes = changes_of(answer["changes"])
        elif what == "save":
            changes, back = _save(page, changes, back)
        elif what == "outside":
            changes = _outside(page, changes, draw)
        else:
            back.append(changes)
            changes = _typed(page, changes, draw) if what != "rows" else _rowed(page, changes, draw)
        data = laid_over(page.desk.copy(changes).data, changes)
        answer = page.ask("/live", changes=changes.plain)
        assert answer["hash"] == hash_of(data), "an answer of other numbers"
        unread = answer["word"] == "no answer"
        told[answer["word"]] = told.get(answer["word"], 0) + 1
        if number % LATER == 0 and not unread:
            told["facts"] = told.get("facts", 0) + _facts(page, changes, answer, most=draw.randint(1, 14))
        if number == min(300, count // 5):
            warm = _memory(page)
        if number % 250 == 249:
            print(f"{told}, grown {_grown(page, warm)}", flush=True)
    grown = _grown(page, warm)
    assert max(grown) <= LEAK, f"grew {grown} times"
    return {**told, "grown": grown}


def _facts(page: Running, changes: Changes, answer: dict[str, Any], *, most: int) -> int:
    """Read some of what comes later and then give it up; each fact names the numbers that it is for."""
    grip = next((one for one in answer["grips"] if one["key"] == "hanger.at"), None)
    body = json.dumps({"token": page.desk.token, "changes": changes.plain, "frame": answer.get("frame"), "grip": grip})
    count = 0
    with closing(http.client.HTTPConnection("127.0.0.1", page.port, timeout=300)) as line:
        line.request("POST", "/later", body, page.headers(Host=None))
        for raw in line.getresponse():
            fact = json.loads(raw)
            assert fact["kind"] != "bug", fact
            if fact["kind"] == "end" or count == most:
                break
            assert fact["hash"] == answer["hash"], "a stale fact"
            count += 1
    return count


def _typed(page: Running, changes: Changes, draw: random.Random) -> Changes:
    data = laid_over(page.desk.copy(changes).data, changes)
    return replace(changes, typed={**changes.typed, **drawn_change(draw, data, most=2)})


def _rowed(page: Running, changes: Changes, draw: random.Random) -> Changes:
    do = draw.choice(("up line.link 2", "down fitting 1", "drop fitting 2", "add fitting", "describe tail_leg",
                      "out tail_leg", "out perch.lug", "describe perch.lug", "drop haul.tie_down 2"))  # fmt: skip
    try:
        return carried_out(changes, do=do, data=page.desk.copy(changes).data)
    except BadRequestError:
        return changes


def _save(page: Running, changes: Changes, back: list[Changes]) -> tuple[Changes, list[Changes]]:
    wanted = laid_over(page.desk.copy(changes).data, changes)
    before = page.path.read_bytes()
    done = page.ask("/save", changes=changes.plain)
    if done["code"] == "saved":
        assert tomllib.loads(page.path.read_text(encoding="utf-8")) == wanted, "the file is not the page"
        return Changes(done["base"]), back
    assert done["code"] == "refused" and page.path.read_bytes() == before, done
    return Changes(page.base), []


def _outside(page: Running, changes: Changes, draw: random.Random) -> Changes:
    """Somebody else turns a key; the page must not write over it, and keeps both when it takes the file up."""
    if changes.base != page.base:
        return changes
    text = page.path.read_text(encoding="utf-8")
    mark = f"edit {draw.randint(0, 10**9)}"
    own = draw.random() < 0.5  # the same key as on the page
    if own:
        changes = replace(changes, typed={**changes.typed, "title": f"mine {mark}"})
        text = re.sub(r"^title = .*$", f'title = "theirs {mark}"', text, count=1, flags=re.MULTILINE)
    page.path.write_text(text + f"# {mark}\n", encoding="utf-8")
    assert page.ask("/save", changes=changes.plain)["code"] in ("conflict", "refused")
    assert mark in page.path.read_text(encoding="utf-8"), "an edit was lost"
    side = draw.choice(("mine", "theirs")) if own else "mine"
    told = page.ask("/draft", changes=changes.plain, do="merge", take={"title": side})
    merged = changes_of(told["changes"])
    wanted = laid_over(page.desk.copy(changes).data, changes)
    if side == "theirs":
        wanted["title"] = f"theirs {mark}"
    assert laid_over(page.desk.copy(merged).data, merged) == wanted, "a change was lost"
    return merged


def _grown(page: Running, warm: tuple[float, float]) -> tuple[float, ...]:
    """Memory of the server and of its worker over what they had when warm."""
    now = _memory(page)
    return tuple(round(one / before, 3) if before else 1.0 for one, before in zip(now, warm, strict=True))


def _memory(page: Running) -> tuple[float, float]:
    worker = page.desk.errands._worker
    return _resident("self"), 0.0 if worker is None or worker.poll() is not None else _resident(str(worker.pid))


def _resident(process: str) -> float:
    for line in Path(f"/proc/{process}/status").read_text(encoding="utf-8").splitlines():
        if line.startswith("VmRSS"):
            return float(line.split()[1])
    return 0.0


if __name__ == "__main__":
    given = sys.argv[1:]
    main(int(given[0]) if given else 5000, int(given[1]) if len(given) > 1 else 1,
         float(given[2]) if len(given) > 2 else 60.0)  # fmt: skip
