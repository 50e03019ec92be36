"""What is wrong with a file that is no TOML, in words of the shop: which line, which key, and how it is written."""

import re
import tomllib
from collections.abc import Sequence

from rigcheck.case.errors import LONGEST_SHOWN, Problem, printable, printable_line

_AT = re.compile(r" \(at (?:line (\d+), column \d+|end of document)\)$")
_HEAD = re.compile(r"\s*(\[\[?)\s*([A-Za-z_][A-Za-z0-9_.-]*)")
_KEYED = re.compile(r"\s*([A-Za-z0-9_-]+)\s*(?:=\s*(.*?)|[\"'].*)?\s*")
_BARE = re.compile(r"[^\"'\[{#][^\"'#]*")  # a value without quotes, up to a remark
_LONGEST_LINE = 100  # letters
_PLAINLY = (
    ("Expected '=' after a key", "there is no = between a key and its value"),
    ("Illegal character '\\n'", "the quote at the end of the text is missing"),
    ("Expected ']", "the bracket that closes the name of the table is missing"),
    ("Expected newline or end of document", "something stands behind the value"),
    ("Unterminated string", "the quote at the end of a text is missing"),
    ("Unclosed array", "the bracket at the end of a list is missing"),
    ("Unclosed inline table", "the brace at the end of a table is missing"),
)
_TWICE = ("Cannot overwrite a value", "Cannot declare ", "Duplicate inline table key")


def syntax_problem(text: str, *, error: tomllib.TOMLDecodeError, name: str) -> Problem:
    """Put what the TOML reader says into a problem.

    Args:
        text: The file.
        error: What the reader raised.
        name: What problems call the file.

    Returns:
        The problem, with its key where the line that the reader stopped at has one.
    """
    said = str(error).splitlines()[0] if str(error) else "syntax"
    found = _AT.search(said)
    what = said[: found.start()] if found else said
    lines = text.replace("\r\n", "\n").split("\n")
    number = int(found[1]) if found and found[1] else 0
    if not 0 < number <= len(lines):
        return Problem(name, "", f"the file is not valid TOML at its end: {_plainly(what)}")
    line, above = lines[number - 1], lines[: number - 1]
    key = _key(line, above=above)
    if key and what.startswith(_TWICE):
        return Problem(name, key, f"stands there twice, the second time in line {number}; leave one of them out")
    where = f"the file is not valid TOML in line {number}"
    keyed = _KEYED.fullmatch(line)
    if keyed and keyed[2] == "":
        return Problem(name, key, f"{where}: there is nothing behind the =")
    if keyed and keyed[2] and (bare := _BARE.match(keyed[2])) and not what.startswith("Cannot"):
        value = printable(bare[0].strip())
        why = f'{where}: a text or a number with a unit stands in quotes; write {keyed[1]} = "{value}"'
        return Problem(name, key, why)
    shown = printable_line(line.strip())
    shown = shown if len(shown) <= _LONGEST_LINE else shown[:_LONGEST_LINE] + "..."
    return Problem(name, key, f"{where}: {_plainly(what)}" + (f"; the line reads: {shown}" if shown else ""))


def _plainly(what: str) -> str:
    found = next((plain for start, plain in _PLAINLY if what.startswith(start)), what)
    return printable_line(found)[: 2 * LONGEST_SHOWN]


def _key(line: str, *, above: Sequence[str]) -> str:
    """The key path of a line that opens a table or begins with a key, as a person reads it; else nothing."""
    head = _HEAD.match(line)
    if head:
        return printable(head[2])
    keyed = _KEYED.fullmatch(line)
    if not keyed:
        return ""
    heads = [(one[1], one[2]) for one in map(_HEAD.match, above) if one]
    if not heads:
        return printable(keyed[1])
    path = ""
    for step in heads[-1][1].split("."):
        path = f"{path}.{step}".removeprefix(".")
        plain = re.sub(r"\[\d+\]", "", path)
        if ("[[", plain) in heads:
            path += f"[{heads.count(('[[', plain))}]"
    return f"{printable(path)}.{printable(keyed[1])}"
