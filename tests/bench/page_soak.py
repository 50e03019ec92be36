"""Random edits at the page: `python -m tests.bench.page_soak [COUNT [SEED]]`, 5,000 and 1 where not said.

Each answer must be of the numbers that were sent, each save must read as what stands on the page with no other key
changed, no outside edit may be lost, and the server must not grow by more than a fifth.
"""

from __future__ import annotations

import os
import random
import sys
import tempfile
import tomllib
from dataclasses import replace
from pathlib import Path
from typing import Any

from rigcheck.page.changes import Changes, changes_of, hash_of, laid_over
from rigcheck.page.rowing import carried_out
from rigcheck.page.typed import BadRequestError
from tests.page.draws import drawn_change
from tests.page.running import Running, case_in, page_of

LEAK = 1.20


def main(count: int, seed: int) -> None:
    """Edit."""
    draw = random.Random(seed)
    with tempfile.TemporaryDirectory() as folder:
        os.environ["XDG_STATE_HOME"] = folder
        with page_of(case_in(Path(folder))) as page:
            told = _edits(page, draw, count)
    print(f"{count} edits, seed {seed}: {told}")


def _edits(page: Running, draw: random.Random, count: int) -> dict[str, Any]:
    changes, back = Changes(page.base), []
    told: dict[str, Any] = {}
    warm, unread = 0.0, False
    for number in range(count):
        what = draw.choices(("type", "undo", "rows", "save", "outside"), (70, 12, 8, 8, 2))[0]
        if unread and back and draw.random() < 0.6:
            what = "undo"  # as somebody would
        told[what] = told.get(what, 0) + 1
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
        if number == min(300, count // 5):
            warm = _memory()
    grown = _memory() / warm if warm else 1.0
    assert grown <= LEAK, f"grew {grown:.2f} times"
    return {**told, "grown": round(grown, 3)}


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
    page.path.write_text(text + f"# {mark}\n", encoding="utf-8")
    assert page.ask("/save", changes=changes.plain)["code"] in ("conflict", "refused")
    assert mark in page.path.read_text(encoding="utf-8"), "an edit was lost"
    told = page.ask("/draft", changes=changes.plain, do="merge")
    merged = changes_of(told["changes"])
    old, new = page.desk.copy(changes), page.desk.copy(merged)
    assert laid_over(new.data, merged) == laid_over(old.data, changes), "a change was lost"
    return merged


def _memory() -> float:
    for line in Path("/proc/self/status").read_text(encoding="utf-8").splitlines():
        if line.startswith("VmRSS"):
            return float(line.split()[1])
    return 0.0


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 5000, int(sys.argv[2]) if len(sys.argv) > 2 else 1)
