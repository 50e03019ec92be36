"""The frozen hashes: one small text file a command, a line for each call."""

import gc
import tempfile
from collections.abc import Iterator
from pathlib import Path

from tests.contract import arrays
from tests.contract.calls import CASES, COMMANDS, answer, calls, hashed
from tests.contract.once import asked_once
from tests.support.lot import call

FOLDER = Path(__file__).parent / "frozen"
PLAIN = {"tables": ("tables",), "tables-json": ("tables", "--json"), "new": ("new", "--no-ask", "--title", "Frozen")}
"""Calls without a case, by the name of their line."""
SUBJECTS = (*COMMANDS, "plain", "arrays")


def found(
    subjects: tuple[str, ...] = SUBJECTS, cases: tuple[str, ...] = tuple(CASES)
) -> Iterator[tuple[str, str, str]]:
    """Work everything out anew: subject, name and hash of each answer.

    Args:
        subjects: Commands, `plain` for the calls without a case, `arrays` for the random rigs.
        cases: Names of shipped cases.
    """
    commands = [name for name in COMMANDS if name in subjects]
    with tempfile.TemporaryDirectory() as holder:
        for case in cases if commands else ():
            with asked_once():
                for command in commands:
                    for asked in calls(command, case=case):
                        yield command, asked.name, hashed(answer(asked, folder=Path(holder)))
    if "plain" in subjects:
        for name, words in PLAIN.items():
            yield "plain", name, hashed("\n".join(map(str, call(*words))))
    if "arrays" in subjects:
        for batch in arrays.BATCHES:
            gc.collect()  # commands turn it off, and a batch is large
            gc.collect()  # commands turn it off, and a batch is large
            yield from (("arrays", name, value) for name, value in arrays.lines(batch))


def stored(subject: str) -> dict[str, str]:
    """Hashes of a subject as they were frozen, by name."""
    path = FOLDER / f"{subject}.txt"
    rows = path.read_text(encoding="utf-8").splitlines() if path.exists() else []
    return {name: value for value, _, name in (row.partition(" ") for row in rows)}


def store(subject: str, *, hashes: dict[str, str]) -> None:
    """Freeze the hashes of a subject."""
    FOLDER.mkdir(exist_ok=True)
    text = "".join(f"{value} {name}\n" for name, value in sorted(hashes.items()))
    (FOLDER / f"{subject}.txt").write_text(text, encoding="utf-8")
