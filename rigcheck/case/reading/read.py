"""Read a case file: all of its problems in one go, or a case that can be used."""

import re
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from rigcheck.case.errors import CaseError, Problem, printable
from rigcheck.case.models.case import Case
from rigcheck.case.reading import (
    rules_layout,
    rules_line,
    rules_parts,
    rules_plant,
    rules_sense,
    rules_stretch,
    rules_trap,
)
from rigcheck.case.reading.rules import Rule, broken_rules
from rigcheck.case.reading.tables import Found, read_section
from rigcheck.case.tacks import by_tacks

LARGEST_FILE = 1024 * 1024  # bytes
DEEPEST_KEY = 16  # names in one dotted key; a case has four at most, and the TOML reader takes memory by their square
MOST_TOLD = 100  # problems; whoever has more mends these first
_NAME = r"""(?:[A-Za-z0-9_-]+|"[^"\n]*"|'[^'\n]*')[ \t]*"""
_DEEP = re.compile(rf"(?:^|[\[{{,])[ \t]*{_NAME}(?:\.[ \t]*{_NAME}){{{DEEPEST_KEY}}}", re.MULTILINE)
RULES: tuple[Rule, ...] = (
    *rules_parts.RULES,
    *rules_line.RULES,
    *rules_plant.RULES,
    *rules_sense.RULES,
    *rules_layout.RULES,
    *rules_stretch.RULES,
    *rules_trap.RULES,
)


def read_case(path: str | Path) -> Case:
    """Read a case file.

    Args:
        path: The file.

    Returns:
        The case, every number in inch, pound-force, psi, radian, second.

    Raises:
        CaseError: With every problem found.
    """
    return read_case_bytes(file_bytes(path), name=file_name(path), place=Path(path))


def file_name(path: str | Path) -> str:
    """What problems call a file."""
    return printable(Path(path).name or str(path))


def file_bytes(path: str | Path) -> bytes:
    """Everything in a case file, read once, so that a pipe will do.

    Args:
        path: The file.

    Raises:
        CaseError: It cannot be read, or is too large for a case.
    """
    place = Path(path)
    try:
        with place.open("rb") as file:
            raw = file.read(LARGEST_FILE + 1)
    except (OSError, ValueError) as error:
        raise CaseError([Problem(file_name(path), "", _why_unreadable(place, error))]) from None
    if len(raw) > LARGEST_FILE:
        raise CaseError([Problem(file_name(path), "", "the file is larger than 1 MiB, which no case is")])
    return raw


def read_case_bytes(raw: bytes, *, name: str, place: Path | None = None) -> Case:
    """Read a case from the bytes of its file.

    Args:
        raw: The bytes.
        name: What the problems call the file.
        place: The file itself, for what it names beside it; None where it is in none.

    Raises:
        CaseError: With every problem found.
    """
    if raw[:2] in (b"\xff\xfe", b"\xfe\xff"):
        raise CaseError([Problem(name, "", "the file is UTF-16 text; save it as UTF-8")])
    if b"\0" in raw:
        raise CaseError([Problem(name, "", "the file is not text; a case is a TOML text file")])
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        why = f"the file is not UTF-8 text (byte {error.start + 1}); save it as UTF-8"
        raise CaseError([Problem(name, "", why)]) from None
    try:
        return read_case_text(text, name=name, place=place)
    except CaseError as error:
        # where things stand in the file matters only when something is wrong with it
        from rigcheck.case.reading.positions import with_lines

        raise CaseError(with_lines(error.problems, text=text)) from None


def read_case_text(text: str, *, name: str = "case", place: Path | None = None) -> Case:
    """Read a case from its text.

    Args:
        text: The TOML text.
        name: What the problems call the file.
        place: The file itself, for what it names beside it; None where it is in none.

    Raises:
        CaseError: With every problem found.
    """
    if not text.strip():
        raise CaseError([Problem(name, "", "the file is empty; `rigcheck new` writes a case to start from")])
    return check_case(_parsed(text, name), name=name, place=place)


def check_case(data: Mapping[str, Any], *, name: str = "case", place: Path | None = None) -> Case:
    """Turn parsed data into a case.

    Args:
        data: Keys and values as in a file, quantities as text.
        name: What the problems call the file.
        place: The file itself, for what it names beside it; None where it is in none.

    Raises:
        CaseError: With every problem found.
    """
    return _checked(data, name=name) if "fed_by" not in data else _fed(data, name=name, place=place, before=())


def _fed(data: Mapping[str, Any], *, name: str, place: Path | None, before: tuple[Path, ...]) -> Case:
    """A case with the one that feeds it; `before` are the files that led here."""
    from rigcheck.case.fed import with_feeding
    from rigcheck.case.reading.fed import KEY, fed  # only a box that is fed pays for it

    here = () if place is None else (place.resolve(),)

    def read(other: Path) -> tuple[bytes, Case]:
        if other.resolve() in (*before, *here):
            raise CaseError([Problem(file_name(other), KEY, "leads back to itself; no box feeds itself")])
        raw = file_bytes(other)
        told = _parsed(raw.decode("utf-8-sig", errors="replace"), file_name(other))
        if "fed_by" in told:
            return raw, _fed(told, name=file_name(other), place=other, before=(*before, *here))
        return raw, read_case_bytes(raw, name=file_name(other))

    told, other = fed(data, name=name, folder=None if place is None else place.parent, read=read)
    case = _checked(told, name=name)
    return case if other is None else with_feeding(case, other=other)


def _checked(data: Mapping[str, Any], *, name: str) -> Case:
    found = Found([], {})
    case = read_section(Case, data, found=found)
    problems = broken_rules(RULES, parts=found.parts, file=name)
    if found.failures:
        from rigcheck.case.reading.problems import problems_of  # the wording loads only when something is wrong

        problems = [*problems_of(found.failures[: MOST_TOLD + 1], file=name), *problems]
    if case is None or problems:
        more = max(len(found.failures) - MOST_TOLD - 1, 0) + len(problems) - MOST_TOLD
        if more > 0:
            problems = [*problems[:MOST_TOLD], Problem(name, "", f"{more:,} more problems; mend these first")]
        raise CaseError(problems)
    return by_tacks(case)


def _parsed(text: str, name: str) -> dict[str, Any]:
    deep = _DEEP.search(text)
    if deep:
        line = text.count("\n", 0, deep.end()) + 1
        raise CaseError([Problem(name, "", f"line {line}: a key of more than {DEEPEST_KEY} names, which no case has")])
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        from rigcheck.case.reading.syntax import syntax_problem  # the wording loads only when something is wrong

        raise CaseError([syntax_problem(text, error=error, name=name)]) from None
    except RecursionError:
        why = "lists or tables are nested too deep"
    except (ValueError, OverflowError) as error:
        why = f"the file is not valid TOML: {printable(str(error))}"
    raise CaseError([Problem(name, "", why)])


def _why_unreadable(place: Path, error: Exception) -> str:
    if isinstance(error, FileNotFoundError):
        named = place.with_name(f"{place.name}.toml")
        return (
            f"there is no such file; there is {printable(named.name)}" if named.is_file() else "there is no such file"
        )
    if isinstance(error, IsADirectoryError) or (isinstance(error, PermissionError) and _is_folder(place)):
        return "this is a folder, not a file"
    if isinstance(error, PermissionError):
        return "the file may not be read (permission)"
    reason = error.strerror if isinstance(error, OSError) and error.strerror else "its name cannot be used"
    return f"the file cannot be read: {printable(reason)}"


def _is_folder(place: Path) -> bool:
    try:
        return place.is_dir()
    except (OSError, ValueError):
        return False
