"""Some hundred broken case files, made from good ones by one mistake each, with what must be said about it."""

import re
import tomllib
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from rigcheck.case import glossary
from tests.support.extreme_rigs import KINDS, starter_data, toml_of

ROOT = Path(__file__).parents[3]
PATHS = {one.path for one in glossary()}
REQUIRED = {one.path for one in glossary() if one.required}
OTHER_UNIT = {"length": "12 lb", "force": "12 in", "angle": "12 psi", "speed": "12 lb", "flow": "12 mph"}
RETYPED: dict[str, Any] = {
    "a bare number": 8, "a flag": True, "a list": ["8 ft"], "a table": {"ft": 8}, "nothing": "", "words": "eight feet",
}  # fmt: skip
EXTREME = {"huge": "1e300 ", "tiny": "-1e300 ", "endless": "9" * 4000 + " ", "beyond": "1e999 "}


@dataclass(frozen=True)
class Broken:
    """One broken file.

    Attributes:
        name: What is wrong, for the name of the test.
        raw: Its bytes.
        key: Key path that a complaint must name; empty where there is none.
        says: Words that must stand in the complaints.
    """

    name: str
    raw: bytes
    key: str = ""
    says: tuple[str, ...] = ()


def places(data: Any, above: str = "") -> Iterator[tuple[Any, str, str]]:
    """Holder, key and path of every key in a case, repeated tables counted from 1."""
    for key, value in data.items():
        path = f"{above}{key}"
        yield data, key, path
        if isinstance(value, dict):
            yield from places(value, f"{path}.")
        elif isinstance(value, list) and value and isinstance(value[0], dict):
            for number, one in enumerate(value):
                yield from places(one, f"{path}[{number + 1}].")


def plain(path: str) -> str:
    """A path without the numbers of repeated tables."""
    return re.sub(r"\[\d+\]", "", path)


def _each(mistake: Callable[[Any, str, str], tuple[str, tuple[str, ...]] | None], *, name: str) -> Iterator[Broken]:
    """The starter with a mistake at every key, where there is one to make."""
    for number in range(len(list(places(starter_data())))):
        data = starter_data()
        holder, key, path = list(places(data))[number]
        told = mistake(holder, key, path)
        if told is not None:
            yield Broken(f"{name} {path}", toml_of(data).encode(), *told)


def _drop(holder: Any, key: str, path: str) -> tuple[str, tuple[str, ...]] | None:
    if plain(path) not in REQUIRED and path not in ("box", "hanger", "perch", "line", "line.link"):
        return None
    del holder[key]
    return path, ("is missing", "write ")


def _misspell(holder: Any, key: str, path: str) -> tuple[str, tuple[str, ...]] | None:
    if plain(path)[:-1] in PATHS:  # what is left is a key too
        return None
    wrong = key[:-1] if len(key) > 3 else key + key[-1]
    holder[wrong] = holder.pop(key)
    above = path.rpartition(".")[0]
    return f"{above}.{wrong}".lstrip("."), ("there is no such key", f"nearest: {key}" if len(key) > 3 else "")


def _retype(kind: str) -> Callable[[Any, str, str], tuple[str, tuple[str, ...]] | None]:
    def mistake(holder: Any, key: str, path: str) -> tuple[str, tuple[str, ...]] | None:
        span = KINDS.spans.get(plain(path))
        if span is None or (span.dimension == "number" and kind == "a bare number"):
            return None
        holder[key] = RETYPED[kind]
        quoted = kind in ("nothing", "words") and span.dimension == "number"
        return path, ("no quotes, no unit" if quoted else "write ",)

    return mistake


def _other_unit(holder: Any, key: str, path: str) -> tuple[str, tuple[str, ...]] | None:
    span = KINDS.spans.get(plain(path))
    if span is None or span.dimension not in OTHER_UNIT:
        return None
    holder[key] = OTHER_UNIT[span.dimension]
    return path, (f"is not a{'n' if span.dimension == 'angle' else ''} {span.dimension}", "write ")


def _extreme(how: str) -> Callable[[Any, str, str], tuple[str, tuple[str, ...]] | None]:
    def mistake(holder: Any, key: str, path: str) -> tuple[str, tuple[str, ...]] | None:
        if plain(path) not in KINDS.spans or not isinstance(holder[key], str):
            return None
        unit = re.sub(r"^[-0-9./ ]+", "", holder[key]).split()[-1]
        holder[key] = EXTREME[how] + unit
        return path, ("must be " if how in ("huge", "tiny") and unit != "ga" else "write ",)

    return mistake


def _words(given: Any) -> Callable[[Any, str, str], tuple[str, tuple[str, ...]] | None]:
    """Choices and flags answered with something else."""

    def mistake(holder: Any, key: str, path: str) -> tuple[str, tuple[str, ...]] | None:
        if plain(path) not in KINDS.choices and not isinstance(holder[key], bool):
            return None
        holder[key] = given
        return path, ("write ",)

    return mistake


def _text() -> str:
    return (ROOT / "cases" / "larkspur-bar.toml").read_text(encoding="utf-8")


def _titled(text: str, letters: str) -> str:
    """A file whose title begins with some letters."""
    return re.sub(r'^title *= *"', lambda found: found[0] + letters, text, count=1, flags=re.M)


def _path_in(lines: list[str], i: int) -> str:
    """The key path of a line, found by what else would stand there once the file is read."""
    marked = lines[i].partition("=")[0] + '= "marked"'
    data = tomllib.loads("\n".join([*lines[:i], marked, *lines[i + 1 :]]))
    return next(path for holder, key, path in places(data) if holder[key] == "marked")


def _syntax() -> Iterator[Broken]:
    """TOML that does not parse, from a good file."""
    text = _text()
    lines = text.splitlines()
    keyed = [i for i, line in enumerate(lines) if re.match(r"[a-z_]+ *= *\"", line)]
    for i in keyed[:: max(1, len(keyed) // 14)]:
        key = _path_in(lines, i)
        for name, new in (
            ("quote lost", lines[i].replace('"', "", 1)),
            ("equals lost", lines[i].replace("=", " ", 1)),
            ("key doubled", f"{lines[i]}\n{lines[i]}"),
            ("value lost", lines[i].partition("=")[0] + "="),
        ):
            raw = "\n".join([*lines[:i], new, *lines[i + 1 :]])
            wrong = i + 2 if name == "key doubled" else i + 1
            why = "stands there twice" if name == "key doubled" else "not valid TOML"
            yield Broken(f"{name} in line {i + 1}", raw.encode(), key, (why, f"line {wrong}"))
    heads = [i for i, line in enumerate(lines) if re.match(r"\[[a-z]", line)]
    for i in heads[::4]:
        for name, new in (("bracket lost", lines[i].replace("]", "", 1)), ("table doubled", f"{lines[i]}\n{lines[i]}")):
            if name == "table doubled" and lines[i].startswith("[["):
                continue
            raw = "\n".join([*lines[:i], new, *lines[i + 1 :]])
            why = "stands there twice" if name == "table doubled" else "the bracket that closes"
            yield Broken(f"{name} in line {i + 1}", raw.encode(), lines[i].strip("[]"), (why,))
    for share in range(1, 10):
        first = text.index('"') + 1
        cut = text[: first + share * (len(text) - first) // 10]
        cut = cut[: cut.rindex('"')] + '"half a tex'  # always in the middle of a text
        yield Broken(f"torn off after {share} tenths", cut.encode(), says=("not valid TOML",))


def _bytes() -> Iterator[Broken]:
    """Files that are no text, or text with something hidden in it."""
    text = _text()
    for name, raw, says in (
        ("empty", b"", "is empty"),
        ("blank", b" \n\t\n", "is empty"),
        ("only a mark", "\ufeff".encode(), "is empty"),
        ("only remarks", b"# nothing\n# here\n", "title: is missing"),
        ("NUL", text.replace("lb", "l\0b", 1).encode(), "not text"),
        ("UTF-16", text.encode("utf-16"), "UTF-16 text; save it as UTF-8"),
        ("UTF-16, the other way", b"\xfe\xff" + text.encode("utf-16-be"), "UTF-16 text; save it as UTF-8"),
        ("Latin-1", _titled(text, "\xdc").encode("latin-1"), "not UTF-8 text"),
        ("half a letter", text.encode() + b"# \xc3", "not UTF-8 text"),
        ("an archive", b"PK\x03\x04" + bytes(range(256)) * 40, "not "),
        ("a program", b"\x7fELF\x02\x01\x01\x00" * 50, "not text"),
        ("a page", b"<html><body>box</body></html>", "not valid TOML"),
        ("JSON", b'{"title": "x", "box": {}}', "not valid TOML"),
        ("YAML", b"title: x\nbox:\n  length: 8\n", "not valid TOML"),
        ("too large", b"# filler\n" * 200_000 + text.encode(), "larger than 1 MiB"),
    ):
        yield Broken(name, raw, says=(says,))
    for name, letter in (("ESC", "\x1b[2J"), ("BEL", "\x07"), ("DEL", "\x7f"), ("CR", "\r")):
        raw = _titled(text, letter).encode()
        yield Broken(f"raw {name} in a text", raw, says=("not valid TOML",))
    for name, letter in (("ESC", "\\u001b[2J"), ("NEL", "\\u0085"), ("turned about", "\\u202e"), ("line", "\\u2028")):
        raw = _titled(text, f"A{letter}B").encode()
        yield Broken(f"{name} written out in a text", raw, "title", ("letters that do not print",))
    yield Broken("ESC in a key", f'"\\u001b[31mtitel" = "x"\n{text}'.encode(), says=("there is no such key",))
    yield Broken("a key of blanks", f'" " = "x"\n{text}'.encode(), says=("there is no such key",))
    yield Broken("a key of nothing", f'"" = "x"\n{text}'.encode(), says=("there is no such key",))
    yield Broken("a key without end", f"{'k' * 60_000} = 1\n{text}".encode(), says=("there is no such key",))


def _shapes() -> Iterator[Broken]:
    """Tables where lists belong, nesting without end, more of everything than fits."""
    text = _text()
    for depth in (50, 500, 20_000):
        for name, opening in (("lists", "a = " + "[" * depth), ("tables", "a = " + "{a=" * depth)):
            yield Broken(f"{depth} {name} deep, left open", f"{opening}\n{text}".encode(), says=("",))
    yield Broken("90 lists deep", f"deep = {'[' * 90}{']' * 90}\n{text}".encode(), "deep", ("no such key",))
    yield Broken("a path of 20 000 steps", f"{text}\n[{'a.' * 20_000}b]\nc = 1\n".encode(), says=("",))
    many = "".join(f"k{i}=0\n" for i in range(90_000))
    says = ("there is no such key", "89,900 more problems")
    yield Broken("90 000 keys too many", f"{many}{text}".encode(), "k0", says)
    too_many = "a case has at most 100 of a kind"
    for kind, words in (("shackel", "nearest: shackle"), ("rated part", "line.link[99].wll: is missing")):
        links = f'[[line.link]]\nkind="{kind}"\n' * 20_000
        raw = f"{text}\n{links}".encode()
        yield Broken(f"20 000 links: {kind}", raw, "line.link", (words, too_many))
    lumps = '[[fitting]]\nname="x"\nweight="1 lb"\nat="1 in"\n' * 20_000
    yield Broken("20 000 fittings", f"{text}\n{lumps}".encode(), "fitting", (too_many,))
    data = starter_data()
    for key, given in (
        ("box", []), ("box", "8 ft"), ("box", 3), ("line", []), ("line", {"link": {}}), ("line", {"link": []}),
        ("fitting", {"name": "x"}), ("fitting", ["x"]), ("haul", [{}]), ("title", 3), ("title", ["x"]),
        ("hanger", True), ("perch", {}),
    ):  # fmt: skip
        raw = toml_of({**data, key: given}).encode()
        yield Broken(f"{key} given as {given!r}", raw, key)
    for key, when in (("title", "2024-05-06"), ("revision", "12:30:00"), ("by", "2024-05-06T07:08:09Z")):
        raw = f"{key} = {when}\n" + toml_of({one: value for one, value in data.items() if one != key})
        yield Broken(f"{key} given as a date", raw.encode(), key, ("is not a text",))
    for spelling in ("nan", "inf", "-inf", "1e400", "0x" + "f" * 5000, "9" * 4000):
        yield Broken(f"factor {spelling[:9]}", f"{text}\n[factors]\nhung = {spelling}\n".encode(), says=("",))


def corpus() -> list[Broken]:
    """Every broken file."""
    found = [
        *_each(_drop, name="dropped"),
        *_each(_misspell, name="misspelt"),
        *_each(_other_unit, name="unit of something else"),
        *(one for kind in RETYPED for one in _each(_retype(kind), name=kind)),
        *(one for how in EXTREME for one in _each(_extreme(how), name=how)),
        *(one for given in ("perhaps", 3, ["left"]) for one in _each(_words(given), name=f"{given!r} for")),
        *_syntax(),
        *_bytes(),
        *_shapes(),
    ]
    assert len({one.name for one in found}) == len(found)
    return found
