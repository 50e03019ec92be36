"""Every hint of an error is obeyed, and what it was about is then accepted: over all keys and all kinds of value."""

import re
import tomllib
from collections.abc import Iterator
from copy import deepcopy
from typing import Any

import pytest

from rigcheck.case import CaseError, check_case, glossary
from rigcheck.case.errors import Problem
from rigcheck.case.reading.read import read_case_bytes
from rigcheck.case.schema.keys import find_field, kind_of, toml_text
from rigcheck.case.schema.kinds import RefusedError
from rigcheck.quantities import Bare, one_of
from tests.robustness.broken.corpus import places, plain
from tests.support.extreme_rigs import starter_data

WRONG = (
    8, 8.5, -3, True, "8", "1/2", "8 lb", "8 ft", "9 psi", "93,5 in", "2 T", "eight", "", " ", "HSS9x9x9", "A-36",
    "1e300 in", "-1e300 in", ["8 ft"], ["8 ft", 3, "x"], {"ft": 8}, "perhaps", "lever hoists", "1e9 lb", "900 ga",
    "0 in", "5 MPa",
)  # fmt: skip
ENTRIES = {one.path: one for one in glossary()}
KEYS = [path for _, _, path in places(starter_data())]
SWAP = re.compile(r"(.)(.)$")


def told(data: Any) -> list[Problem]:
    """Problems of a case, none of one that reads."""
    try:
        check_case(data)
    except CaseError as error:
        return list(error.problems)
    return []


def obeyed(form: str) -> Any:
    """A form as the error shows it, put behind the = of a file."""
    return tomllib.loads(f"x = {one_of((form,))}")["x"]


def written(data: Any, above: str = "") -> str:
    """A case as people write it, a line for each key."""
    own = "".join(f"{key} = {toml_text(value)}\n" for key, value in data.items() if not tables_of(value))
    for key, value in data.items():
        for table in tables_of(value):
            opening = f"[[{above}{key}]]" if isinstance(value, list) else f"[{above}{key}]"
            own += f"\n{opening}\n{written(table, f'{above}{key}.')}"
    return own


def tables_of(value: Any) -> list[dict[str, Any]]:
    rows = value if isinstance(value, list) else [value]
    return rows if rows and all(isinstance(one, dict) for one in rows) else []


def holder_of(data: Any, path: str) -> tuple[Any, str]:
    return next((holder, key) for holder, key, here in places(data) if here == path)


@pytest.mark.parametrize("path", ENTRIES)
def test_what_a_kind_accepts_instead_is_accepted(path: str) -> None:
    """The forms that a refused value is answered with are between the limits of the key and of its kind."""
    _, field = find_field(tuple(path.split(".")))
    assert field is not None
    kind = kind_of(field)
    assert kind is not None
    for wrong in WRONG:
        try:
            kind.read(wrong)
        except RefusedError as error:
            assert str(error), (wrong, "says nothing")
            for form in error.accepted:
                kind.read(obeyed(form))
            for word in error.nearest:
                kind.read(word)
            limits = re.search(r"must be (?:at least|at most) (.+)$", error.why)
            if limits:
                bare = re.fullmatch(r"[-0-9.]+", limits[1])
                kind.read(obeyed(Bare(limits[1]) if bare else limits[1]))


def test_a_case_is_written_as_it_is() -> None:
    assert tomllib.loads(written(starter_data())) == starter_data()


def misspelt(key: str) -> Iterator[str]:
    yield key.upper()
    yield f"{key}s"
    if len(key) > 3:
        yield key[:-1]
        yield SWAP.sub(r"\2\1", key)


@pytest.mark.parametrize("path", KEYS)
def test_the_nearest_of_a_misspelt_key_is_the_key_and_then_the_case_reads(path: str) -> None:
    key = path.rpartition(".")[2]
    for wrong in misspelt(key):
        data = starter_data()
        holder, _ = holder_of(data, path)
        if wrong == key or f"{plain(path).rpartition('.')[0]}.{wrong}".lstrip(".") in ENTRIES or wrong in holder:
            continue
        holder[wrong] = holder.pop(key)
        about = f"{path.rpartition('.')[0]}.{wrong}".lstrip(".")
        (problem,) = [one for one in told(data) if one.key == about]
        assert problem.nearest[0] == key, (wrong, problem)
        holder[problem.nearest[0]] = holder.pop(wrong)
        assert told(data) == []


@pytest.mark.parametrize("path", [path for path in KEYS if ENTRIES.get(plain(path)) and ENTRIES[plain(path)].required])
def test_what_a_missing_key_is_to_be_written_as_is_taken(path: str) -> None:
    data = starter_data()
    holder, key = holder_of(data, path)
    was = holder.pop(key)
    (problem,) = [one for one in told(data) if one.key == path]
    holder |= tomllib.loads(problem.sentence.partition("write for example ")[2])
    assert all("is not" not in one.sentence for one in told(data) if one.key == path)
    holder[key] = was
    assert told(data) == []


@pytest.mark.parametrize("path", [path for path in KEYS if plain(path) in ENTRIES])
def test_a_wrong_value_in_a_file_is_told_with_its_line_and_a_hint_that_helps(path: str) -> None:
    """File, line, key, what was given, and what is accepted; one accepted form at least leaves nothing to say."""
    data = starter_data()
    holder, key = holder_of(data, path)
    was = holder[key]
    for wrong in (True, 8, ["x"], "12 zz"):
        holder[key] = wrong
        text = written(data)
        try:
            read_case_bytes(text.encode(), name="box.toml")
            continue
        except CaseError as error:
            problem = next(one for one in error.problems if one.key.startswith(path))
        line = text.splitlines()[problem.line - 1]
        assert str(problem).startswith(f"box.toml: line {problem.line}: {path}") and re.match(rf"\W*{key}\b", line)
        shown = {True: "true", 8: "8"}.get(wrong if isinstance(wrong, bool | int) else "", "")
        assert shown in problem.why, problem
        forms = [obeyed(form) for form in (*problem.accepted, *problem.nearest)]
        assert forms or "must be" in problem.why or "whole number from" in problem.why, problem
        fine = []
        for form in forms:
            holder[key] = form
            fine.append(not any(one.key.startswith(path) and "is not" in one.why for one in told(data)))
        assert all(fine), problem
    holder[key] = was


TABLES = [
    ("box", lambda table: [table]), ("hinge", lambda table: [table]), ("line", lambda table: [table]),
    ("line.link", lambda rows: rows[0]), ("fitting", lambda rows: rows[0]),
]  # fmt: skip


@pytest.mark.parametrize(("path", "wrong"), TABLES, ids=[path for path, _ in TABLES])
def test_brackets_of_a_table_are_told_as_they_are_typed(path: str, wrong: Any) -> None:
    data = starter_data()
    holder, key = holder_of(data, path)
    was = holder[key]
    holder[key] = wrong(deepcopy(was))
    (problem,) = [one for one in told(data) if one.key == path]
    (form,) = problem.accepted
    assert problem.sentence.endswith(f"write {form}") and form.strip("[]") == path
    assert form.startswith("[[") == isinstance(was, list)


SIZES = [
    ({"kind": "shackle", "size": "0.4 in"}, "size"), ({"kind": "chain", "size": "0.3 in", "grade": "80"}, "size"),
    ({"kind": "eyebolt", "size": "0.41 in", "side_angle": "0 deg"}, "size"),
    ({"kind": "turnbuckle", "size": "0.55 in", "end": "jaw"}, "size"),
    ({"kind": "wire rope", "table": "rope_6x19_fc_ip", "diameter": "3/8 in", "termination": "none"}, "table"),
    ({"kind": "wire rope", "table": "rope_6x19_fc_ips", "diameter": "0.4 in", "termination": "none"}, "diameter"),
]  # fmt: skip


@pytest.mark.parametrize(("link", "key"), SIZES, ids=[f"{link['kind']} {key}" for link, key in SIZES])
def test_the_nearest_size_of_a_link_is_one_that_the_table_has(link: dict[str, Any], key: str) -> None:
    data = starter_data()
    data["line"]["link"].append(dict(link))
    row = len(data["line"]["link"])
    (problem,) = told(data)
    assert problem.key.startswith(f"line.link[{row}]"), problem
    nearest = re.search(r"nearest: ([^,;]+)", problem.sentence)
    assert nearest, problem
    data["line"]["link"][-1][key] = nearest[1]
    assert told(data) == []
