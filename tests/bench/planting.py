"""Put a fault into the functions that live in this process, and find what uses a name that stands outside of them."""

import ast
import gc
from collections.abc import Iterator, Sequence
from functools import cache
from pathlib import Path
from types import CodeType, FunctionType

from tests.bench.faults import Spot, with_fault


def function_of(spot: Spot, *, source: str) -> tuple[str, int] | None:
    """Qualified name and first line of the outermost function in whose body a fault is; None outside of functions."""

    def look(nodes: Sequence[ast.AST], path: str) -> tuple[str, int] | None:
        for node in nodes:
            if isinstance(node, ast.ClassDef):
                if inside := look(node.body, f"{path}{node.name}."):
                    return inside
            elif isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
                if (node.body[0].lineno, node.body[0].col_offset) <= (spot.line, spot.column) and spot.line <= (
                    node.end_lineno or 0
                ):
                    return f"{path}{node.name}", min([node.lineno, *(one.lineno for one in node.decorator_list)])
            elif isinstance(node, ast.If | ast.Try | ast.With):
                inner = [one for one in ast.iter_child_nodes(node) if isinstance(one, ast.stmt)]
                if inside := look(inner, path):
                    return inside
        return None

    return look(ast.parse(source).body, "")


def users(spot: Spot, *, source: str) -> set[int]:
    """Lines of a module where a name stands that a statement outside functions gives a value to."""
    parsed = ast.parse(source)
    names = {
        target.id
        for node in parsed.body
        if isinstance(node, ast.Assign | ast.AnnAssign) and node.lineno <= spot.line <= (node.end_lineno or 0)
        for target in (node.targets if isinstance(node, ast.Assign) else [node.target])
        if isinstance(target, ast.Name)
    }
    return {node.lineno for node in ast.walk(parsed) if isinstance(node, ast.Name) and node.id in names}


def _codes(code: CodeType) -> Iterator[CodeType]:
    for inner in code.co_consts:
        if isinstance(inner, CodeType):
            yield inner
            yield from _codes(inner)


def put_in(spot: Spot, *, tree: Path) -> bool:
    """Put a fault into the functions that live in this process; False where it is in none."""
    path = tree / spot.module
    source = path.read_text(encoding="utf-8")
    key = function_of(spot, source=source)
    if key is None:
        return False
    try:
        compiled = compile(with_fault(source, spot), str(path), "exec", dont_inherit=True)
    except SyntaxError:
        return False
    new = [code for code in _codes(compiled) if (code.co_qualname, code.co_firstlineno) == key]
    living = living_functions().get((str(path), *key), [])
    if not new or not living:
        return False
    try:
        for function in living:
            function.__code__ = new[0]
    except ValueError:
        return False
    return True


@cache
def living_functions() -> dict[tuple[str, str, int], list[FunctionType]]:
    """Every function in this process, by file, qualified name and first line; looked for once."""
    living: dict[tuple[str, str, int], list[FunctionType]] = {}
    for thing in gc.get_objects():
        if isinstance(thing, FunctionType):
            code = thing.__code__
            living.setdefault((code.co_filename, code.co_qualname, code.co_firstlineno), []).append(thing)
    return living
