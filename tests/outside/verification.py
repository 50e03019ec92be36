"""Write docs/verification.md from the declared values and what our code gives for them.

Run ``python -m tests.outside.verification`` from the top of the repository. Five more data files feed the page and
are kept by hand or by the scripts that measure them, each a list of rows whose entries are text:

- ``comparisons.toml``: ``[[comparison]]`` what, against, cases, largest, limit, test
- ``mutation.toml``: ``[[mutation]]`` module, state, changed, caught, survivors
- ``samples.toml``: ``[[sample]]`` rooms, state, seed, of, changed, caught, survivors
- ``benchmarks.toml``: ``[[benchmark]]`` what, size, time, budget
- ``runs.toml``: ``[[run]]`` what, size, found, command

A sixth, ``open_box.toml``, is written by ``python -m tests.outside.open_box_run``; what the engine gives beside it is
worked out as the page is.
"""

import importlib
import inspect
import sys
import tomllib
from collections import Counter
from collections.abc import Mapping
from pathlib import Path

from tests.outside import open_box_compare, values
from tests.outside.values import DATA, Declared, declarations

PAGE = Path(__file__).parents[2] / "docs" / "verification.md"

_MORE = (
    (
        "comparison",
        "Against other libraries",
        "The same question put to an independent program, over many drawn cases.",
        ("what", "against", "cases", "largest", "limit", "test"),
        ("what", "against", "cases", "largest difference", "limit", "test"),
    ),
    (
        "mutation",
        "Do the tests notice?",
        "Every numeric constant of a module moved up by 1 %, one at a time; a test must turn red. The state is the hash"
        " of the source that was run (`python -m tests.bench.mutate`); a module that has changed since keeps its row"
        " until it is run again, and `--stale` names it.",
        ("module", "state", "changed", "caught", "survivors"),
        ("module", "state", "constants changed", "caught", "not caught, and why"),
    ),
    (
        "sample",
        "Do the tests notice? Drawn by lot",
        "The same for rooms of which only so many places were tried as are told here, drawn by lot over all of the room"
        " with the seed named (`python -m tests.bench.mutate --sample --seed`). Any fault (`--faults`) is, each kind in"
        " its turn: a constant 1 % up, a wrong sign, the larger for the smaller, `and` for `or`, a comparison turned"
        " round, a term or an entry of a list left out, the wrong index or side, a finding that is not added, the wrong"
        " unit. Of the other places nothing is known, and rooms that are not named here or above were not tried. The"
        " state is the hash of all sources of the room.",
        ("rooms", "state", "seed", "of", "changed", "caught", "survivors"),
        ("room", "state", "seed", "places there are", "changed", "caught", "not caught, and why"),
    ),
    (
        "run",
        "Long runs",
        "Drawn by lot, fuzzed or built, too long for the ordinary tests. What a run found became a test of its own.",
        ("what", "size", "found", "command"),
        ("what", "size", "found", "command"),
    ),
    (
        "benchmark",
        "Time",
        "Measured on two ordinary cores.",
        ("what", "size", "time", "budget"),
        ("what", "size", "time", "budget"),
    ),
)
_OPEN_BOX = (
    "Shell models of ten boxes (floor, walls and dividers as shells, tubes as beams), built from their case files alone"
    " and solved by PyNiteFEA with everything on the left line: static loads, plant level, running and at clean-out"
    " with the person at the tail beside that line (`tests/outside/open_box_shell.py`, written down by"
    " `python -m tests.outside.open_box_run`). Ours is the engine's figure over the model's. Stress is the nominal one,"
    " with the stiffener's sideways bending; torque is that of every member across, least and greatest share. The line"
    " of the models is told with the cross-members that an end tube takes the place of, which the engine weighs."
)
_FILES = {
    "comparison": "comparisons",
    "mutation": "mutation",
    "sample": "samples",
    "run": "runs",
    "benchmark": "benchmarks",
}


def gather() -> dict[str, str]:
    """Run every outside check and return what went wrong, by test or by id; `values.results` then holds ours."""
    values.results.clear()
    trouble: dict[str, str] = {}
    for path in sorted(Path(__file__).parent.glob("test_*.py")):
        module = importlib.import_module(f"tests.outside.{path.stem}")
        if getattr(module, "check", None) is not values.check:
            continue
        for name, function in inspect.getmembers(module, inspect.isfunction):
            if not name.startswith("test_") or inspect.signature(function).parameters:
                continue
            if hasattr(function, "hypothesis") or function.__module__ != module.__name__:
                continue
            try:
                function()
            except AssertionError as problem:
                trouble[f"{path.stem}.{name}"] = str(problem)
    for name in declarations():
        if name not in values.results:
            trouble.setdefault(name, "declared and never checked")
    return trouble


def ours(declared: Declared) -> str:
    """Our value, rounded to the digits of the printed one."""
    number = round(values.results[declared.id], declared.decimals)
    return f"{number + 0.0:.{max(declared.decimals, 0)}f}"


def page(shown: Mapping[str, str]) -> str:
    """Return the whole page.

    Args:
        shown: Our value by id, as text.
    """
    every = list(declarations().values())
    wider = sum(1 for one in every if one.reason)
    known = Counter(one.known for one in every)
    lines = [
        "# Verification",
        "",
        "Values that this project did not produce, beside what it gives for them. Written by"
        " `python -m tests.outside.verification`; a test fails when the page and the code part.",
        "",
        f"- {len(every)} values in {len({one.topic for one in every})} topics, every one within its tolerance.",
        f"- {known['seen']} were read in the document named; {known['memory']} are from memory of it and marked so.",
        f"- {len(every) - wider} agree to the last printed digit; {wider} have a wider tolerance, with its reason.",
        "",
    ]
    topics: dict[str, list[Declared]] = {}
    for one in every:
        topics.setdefault(one.topic, []).append(one)
    for title, members in topics.items():
        lines += [f"## {title}", "", *_check_table(members, shown), ""]
    lines += ["## The open box on one line", "", _OPEN_BOX, "", *_open_boxes(), ""]
    for key, title, text, keys, headings in _MORE:
        lines += [f"## {title}", "", text, "", *_noticed(key), *_more_table(key, keys, headings), ""]
    return "\n".join(lines)


def _open_boxes() -> list[str]:
    head = ("box", "state", "line, lbf", "ours", "rail under it, psi", "ours", "other rail, psi", "ours",
            "largest torque across, lbf in", "ours", "roll at the tail, deg", "ours")  # fmt: skip
    rows = []
    for box in open_box_compare.names():
        for state in open_box_compare.STATES:
            ours = open_box_compare.beside(box, state)
            line, near, far, torque, roll = ours.shown
            torques = f"{ours.torque.min():.2f} to {ours.torque.max():.2f}"
            rails = (f"{near:.0f}", f"{ours.near:.2f}", f"{far:.0f}", f"{ours.far:.2f}")
            twist = (f"{torque:.0f}", torques, f"{roll:.1f}", f"{ours.roll:.2f}")
            rows.append((box, state, f"{line:.0f}", f"{ours.tension:.3f}", *rails, *twist))
    return _table(head, rows)


def _check_table(members: list[Declared], shown: Mapping[str, str]) -> list[str]:
    head = ("id", "what", "printed", "ours", "unit", "tolerance", "source", "clause", "known")
    rows = [
        (
            f"`{one.id}`",
            one.what,
            one.printed,
            shown[one.id],
            one.unit,
            f"{one.tolerance:.3g}" + (f" ({one.reason})" if one.reason else ""),
            one.source,
            one.clause,
            one.known,
        )
        for one in members
    ]
    return _table(head, rows)


def measured(key: str) -> list[dict[str, str]]:
    """Rows of one of the three further data files."""
    path = DATA / f"{_FILES[key]}.toml"
    return list(tomllib.loads(path.read_text(encoding="utf-8")).get(key, [])) if path.exists() else []


def noticed(key: str = "mutation") -> tuple[int, int]:
    """How many constants were moved, and of how many a test took notice."""
    rows = measured(key)
    return sum(int(row["changed"]) for row in rows), sum(int(row["caught"]) for row in rows)


def _noticed(key: str) -> list[str]:
    moved, caught = noticed(key) if key in ("mutation", "sample") else (0, 0)
    if not moved:
        return []
    missed = 100.0 * (moved - caught) / moved
    return [f"- {moved} tried, {caught} noticed, {moved - caught} not ({missed:.1f} %).", ""]


def _more_table(key: str, keys: tuple[str, ...], headings: tuple[str, ...]) -> list[str]:
    rows = measured(key)
    if not rows:
        return ["Not recorded yet."]
    return _table(headings, [tuple(str(row.get(one, "")) for one in keys) for row in rows])


def _table(head: tuple[str, ...], rows: list[tuple[str, ...]]) -> list[str]:
    def line(cells: tuple[str, ...]) -> str:
        return "| " + " | ".join(cell.replace("|", "\\|").replace("\n", " ") for cell in cells) + " |"

    return [line(head), "|" + "---|" * len(head), *(line(row) for row in rows)]


def main() -> int:
    """Write the page unless something is wrong."""
    trouble = gather()
    for name, text in trouble.items():
        print(f"{name}: {text}", file=sys.stderr)
    if trouble:
        return 1
    PAGE.write_text(page({name: ours(one) for name, one in declarations().items()}), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
