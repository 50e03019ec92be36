"""Imports run one way, and nothing slow loads before it is needed."""

import ast
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
PACKAGE = ROOT / "rigcheck"
LAYERS = (
    ("quantities", "tables", "arrays"),
    ("wording",),
    ("case",),
    ("loads",),
    ("statics",),
    ("strength",),
    ("analysis",),
    ("parts",),
    ("assessment",),
    ("studies",),
    ("library",),
    ("crosscheck",),
    ("calculation",),
    ("output",),
    ("cli", "page"),
    ("__main__",),
)
RANK = {room: rank for rank, rooms in enumerate(LAYERS) for room in rooms}
HEAVY = ("scipy", "sympy", "matplotlib", "anastruct", "Pynite", "pandas")
WITHOUT_NUMPY = ("rigcheck.quantities", "rigcheck.tables", "rigcheck.cli")


def module_name(path: Path) -> str:
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


FILES = {module_name(path): path for path in sorted(PACKAGE.rglob("*.py"))}


def room(module: str) -> str:
    parts = module.split(".")
    return parts[1] if len(parts) > 1 else ""


def imports(module: str, *, everywhere: bool) -> Iterator[tuple[int, str]]:
    """Line and full name of what a module imports; only at module level unless `everywhere`."""
    path = FILES[module]
    base = module if path.stem == "__init__" else module.rpartition(".")[0]
    pending: list[ast.AST] = [ast.parse(path.read_text(encoding="utf-8"))]
    while pending:
        node = pending.pop()
        if isinstance(node, ast.Import):
            yield from ((node.lineno, alias.name) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            above = base.rsplit(".", node.level - 1)[0] if node.level else ""
            origin = ".".join(part for part in (above, node.module or "") if part)
            # "from package import module" names a module as often as a function
            yield from ((node.lineno, f"{origin}.{alias.name}") for alias in node.names)
        elif not everywhere and isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)):
            continue
        elif not everywhere and isinstance(node, ast.If) and "TYPE_CHECKING" in ast.unparse(node.test):
            pending.extend(node.orelse)
        else:
            pending.extend(ast.iter_child_nodes(node))


def in_package(name: str) -> str:
    """The package module that an imported name lies in, or an empty text."""
    while name and name not in FILES:
        name = name.rpartition(".")[0]
    return name if name.split(".")[0] == "rigcheck" else ""


def test_every_room_has_its_layer():
    assert {room(module) for module in FILES} - {""} <= set(RANK)


@pytest.mark.parametrize("module", [module for module in FILES if room(module)])
def test_no_import_runs_upward(module):
    for line, name in imports(module, everywhere=True):
        target = in_package(name)
        if target and room(target):
            assert RANK[room(target)] <= RANK[room(module)], f"{FILES[module]}:{line} imports {name}"


@pytest.mark.parametrize("module", FILES)
def test_slow_libraries_load_inside_the_function_that_needs_them(module):
    for line, name in imports(module, everywhere=False):
        assert name.split(".")[0] not in HEAVY, f"{FILES[module]}:{line} imports {name}"


@pytest.mark.parametrize(
    ("solver", "where"),
    [("Pynite", "rigcheck.crosscheck.frame_model"), ("anastruct", "rigcheck.crosscheck.braced_post")],
)
def test_one_module_alone_loads_a_frame_solver(solver, where):
    found = {module for module in FILES for _, name in imports(module, everywhere=True) if name.split(".")[0] == solver}
    assert found == {where}


@pytest.mark.parametrize("module", [module for module in FILES if room(module) in ("statics", "strength")])
def test_statics_and_strength_know_no_case(module):
    seen, pending = set(), [module]
    while pending:
        here = pending.pop()
        if here not in seen:
            seen.add(here)
            pending += [target for _, name in imports(here, everywhere=True) if (target := in_package(name))]
    assert not [name for name in seen if room(name) == "case"]


def test_no_imports_lead_in_a_circle():
    below = {
        module: {in_package(name) for _, name in imports(module, everywhere=True)} - {module, ""} for module in FILES
    }
    while below:
        free = {module for module, lower in below.items() if not lower & below.keys()}
        assert free, "each of these needs another of them: " + ", ".join(sorted(below))
        below = {module: lower for module, lower in below.items() if module not in free}


def test_nothing_but_the_second_opinion_leads_to_the_space_frame():
    """Output and commands reach it through output/check/confirm.py, which `check --confirm` and the report load."""
    names = ("frame", "frame_box", "frame_built", "frame_model", "frame_parts", "frame_skewed", "second_opinion")
    frame = {f"rigcheck.crosscheck.{name}" for name in names}
    led = {module for module in FILES for _, name in imports(module, everywhere=True) if in_package(name) in frame}
    assert led - frame == {"rigcheck.output.check.confirm"}
    shown = {module for module in FILES for _, name in imports(module, everywhere=True)
             if in_package(name) == "rigcheck.output.check.confirm"}  # fmt: skip
    assert shown == {"rigcheck.cli.check_files", "rigcheck.output.report.packet"}


@pytest.mark.parametrize("start", WITHOUT_NUMPY)
def test_help_and_tables_do_without_numpy(start):
    if start not in FILES:
        pytest.skip(f"{start} is not written yet")
    seen, pending = set(), [start]
    while pending:
        module = pending.pop()
        if module in seen:
            continue
        seen.add(module)
        for line, name in imports(module, everywhere=False):
            assert name.split(".")[0] != "numpy", f"{FILES[module]}:{line} imports {name}, reached from {start}"
            target = in_package(name)
            while target:
                pending.append(target)
                target = target.rpartition(".")[0]


def test_tables_load_without_numpy_in_fact():
    code = "import sys, rigcheck.tables; sys.exit(bool({'numpy', 'rich'} & set(sys.modules)))"
    assert subprocess.run([sys.executable, "-c", code], cwd=ROOT, check=False).returncode == 0


def test_the_walk_sees_an_upward_import(tmp_path, monkeypatch):
    low = tmp_path / "rigcheck" / "tables" / "bad.py"
    low.parent.mkdir(parents=True)
    low.write_text("def f():\n    from ..check import run\n    import scipy\n")
    monkeypatch.setitem(FILES, "rigcheck.tables.bad", low)
    assert sorted(imports("rigcheck.tables.bad", everywhere=True)) == [(2, "rigcheck.check.run"), (3, "scipy")]
    assert list(imports("rigcheck.tables.bad", everywhere=False)) == []


@pytest.mark.parametrize("name", ["Array", "Mask", "Plain", "PlainView"])
def test_a_type_that_all_rooms_share_is_written_once(name):
    homes = [
        module
        for module, path in FILES.items()
        if re.search(rf"^{name}\b[^(\n]* = ", path.read_text(encoding="utf-8"), re.M)
    ]
    assert len(homes) == 1, homes
