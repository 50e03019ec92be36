"""Ask for a case, question by question, on stderr; what is not known is left out."""

from __future__ import annotations

import sys
from dataclasses import replace

from rigcheck.case.errors import CaseError, Problem
from rigcheck.case.questions import (
    FEET,
    FEWEST_FEET,
    JOB,
    KIND,
    LINKS,
    MOST_FEET,
    NOT_OF,
    OF_EARS,
    OF_FOOT,
    not_known,
    of_link,
)
from rigcheck.case.schema.keys import find_field, toml_text
from rigcheck.case.starter import field_at, problems_of
from rigcheck.cli.output import complain

_OPENING = (
    "What is asked for is written as you say it, with its unit. Press Enter, or say: I don't know, and it is left out;",
    "then that part is not assessed, and the verdict says so. Ctrl-C ends without a file.",
)
_MOST_LINKS = 12


def ask(known: dict[str, str]) -> dict[str, str]:
    """Ask for what is not known yet, in the order of the job.

    Args:
        known: What was given already, key by key.

    Returns:
        That with the answers.

    Raises:
        CaseError: The answers ended before all that is needed was given.
    """
    found = dict(known)
    for line in _OPENING:
        complain(line)
    aside: set[str] = set()
    for path in JOB:
        if path in NOT_OF.get(found.get(KIND, ""), OF_EARS):
            continue
        if path == LINKS:
            _links(found)
        elif path == FEET:
            _feet(found)
        elif path not in found and _table(path) not in aside:
            _asked(path, found, aside=aside)
    for problem in _lacking(found):
        _asked(problem.key, found, aside=aside, why=problem.why)
    return found


def _table(path: str) -> str:
    return path.rpartition(".")[0]


def _asked(path: str, found: dict[str, str], *, aside: set[str], why: str = "") -> None:
    """Ask one key; a part whose needed key is not known is left out whole, so that it is not assessed."""
    table, field = _table(path), field_at(path)
    begun = [given for given in found if table and given.startswith(f"{table}.")]
    wanted = bool(why) or (field is not None and field.required)
    must = wanted and _every_file_has(table)
    if _one(path, found, needed=must, why=why) or must or not (wanted and begun):
        return
    for given in begun:
        del found[given]
    aside.add(table)
    complain(f"  Without it [{table}] cannot be counted: all of it is left out, and that part is not assessed.")


def _every_file_has(table: str) -> bool:
    """Whether a case cannot be read without this table."""
    steps = table.split(".") if table else []
    every = [find_field(tuple(steps[:count]))[1] for count in range(1, len(steps) + 1)]
    return all(one is not None and one.required for one in every)


def _links(found: dict[str, str]) -> None:
    """The links of one line, from the hanger up to the perch."""
    if any(given.startswith(f"{LINKS}[") for given in found):
        return
    for number in range(1, _MOST_LINKS + 1):
        path = f"{LINKS}[{number}]"
        end = "" if number == 1 else "; Enter when the perch lug is reached"
        what = f"link {number} of a line, from the hanger up{end}"
        if not _one(f"{path}.kind", found, needed=number == 1, what=what):
            return
        for key in of_link(found[f"{path}.kind"]):
            _one(f"{path}.{key}", found, needed=False)
        while lacking := [one for one in _lacking(found) if one.key.startswith(f"{path}.")]:
            for problem in lacking:
                found.pop(problem.key, None)
                _one(problem.key, found, needed=True, why=problem.why)


def _feet(found: dict[str, str]) -> None:
    """What the plant stands on; of fewer than make a base none is kept."""
    if any(given.startswith(f"{FEET}[") for given in found):
        return
    here: dict[str, str] = {}
    for number in range(1, MOST_FEET + 1):
        path = f"{FEET}[{number}]"
        end = "" if number == 1 else "; Enter when that is all of them"
        what = f"foot {number} that the plant stands on at work, level from the hinge, negative upstream{end}"
        if not _one(f"{path}.downstream", found, needed=False, what=what):
            break
        if not _one(f"{path}.across", found, needed=False):
            del found[f"{path}.downstream"]
            break
        here |= {f"{path}.{key}": "" for key in OF_FOOT}
    if here and len(here) < FEWEST_FEET * len(OF_FOOT):
        for given in here:
            del found[given]
        complain(f"  A plant stands on {FEWEST_FEET} feet at least: none is written, and tipping is not assessed.")


def _lacking(found: dict[str, str]) -> list[Problem]:
    """Keys that are needed and that nobody gave, those of tables that are there."""
    return [one for one in problems_of(found) if field_at(one.key) is not None]


def _one(path: str, found: dict[str, str], *, needed: bool, why: str = "", what: str = "") -> bool:
    """Ask one question until it is answered with something that reads, or left out; tell whether it was answered."""
    field = field_at(path)
    if field is None:
        return False
    if why:
        complain(f"{path} {why}")
    text = what or f"{path}: {field.about.meaning}"
    example = toml_text(field.about.example).strip('"')
    while True:
        choices = f"{field.kind.words()}" if field.kind is not None and len(field.kind.words()) < 160 else ""
        told = f" ({choices}; such as {example})" if choices else f" (such as {example})"
        sys.stderr.write(f"{text}{told}{' [needed]' if needed else ''}: ")
        sys.stderr.flush()
        line = sys.stdin.readline()
        if not_known(line):
            if not needed:
                return False
            if not line:
                raise CaseError(problems_of(found) or [Problem("answers", path, "is needed; the answers ended before")])
            complain("  This one is needed before anything can be computed: measure it, or read it off the tag.")
            continue
        tried = {**found, path: line.strip()}
        wrong = [one for one in problems_of(tried) if one.key == path]
        if not wrong:
            found[path] = line.strip()
            return True
        for problem in wrong:
            complain(f"  {replace(problem, file='that')}")
