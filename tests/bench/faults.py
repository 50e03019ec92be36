"""Single faults that a slip of the hand leaves in a module: where each is, what stands there then, and its kind."""

import ast
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

PHYSICS = {29.0e6, 11.2e6}
"""Large numbers that are physics and not guards."""
KINDS = ("constant", "sign", "extreme", "logic", "comparison", "term", "entry", "index", "finding", "unit")
_EXTREMES = {"maximum": "minimum", "minimum": "maximum", "max": "min", "min": "max"}
_COMPARED: dict[type[ast.cmpop], str] = {
    ast.Lt: ">", ast.Gt: "<", ast.LtE: ">=", ast.GtE: "<=", ast.Eq: "!=", ast.NotEq: "==",
    ast.In: "not in", ast.NotIn: "in", ast.Is: "is not", ast.IsNot: "is",
}  # fmt: skip
_SIGNS: dict[type[ast.operator], str] = {ast.Add: "-", ast.Sub: "+", ast.Div: "*"}
_LOGIC: dict[type[ast.operator], str] = {ast.BitAnd: "|", ast.BitOr: "&"}
_TERMS = (ast.Add, ast.Sub, ast.Mult, ast.Div, ast.BitAnd, ast.BitOr)
_SIDES = {"left": "right", "right": "left"}
_UNITS = {
    "length": "force", "force": "length", "moment": "force", "angle": "length", "stress": "force", "speed": "length",
    "lb": "in", "in": "lb", "ft": "in", "deg": "in", "psi": "lb", "mph": "ft", "lb in": "lb", "lb/in": "lb",
}  # fmt: skip
_WORDS = (ast.JoinedStr, ast.List, ast.ListComp, ast.Tuple, ast.Dict)


@dataclass(frozen=True)
class Spot:
    """One fault: where it is and what takes the place of what is there.

    Attributes:
        module: Its file.
        line: Where it begins, counted from 1.
        column: Byte of that line.
        end_line: Where it ends.
        end: Byte of that line.
        kind: One of `KINDS`, or "named".
        put: What takes its place.
        value: The number that is moved; zero for all but a constant.
        text: The line in which it begins.
    """

    module: str
    line: int
    column: int
    end_line: int
    end: int
    kind: str
    put: str
    value: float
    text: str


def spots(module: str, *, tree: Path, kinds: tuple[str, ...] = ("constant",)) -> Iterator[Spot]:
    """Yield the faults of some kinds that a module can have."""
    source = (tree / module).read_text(encoding="utf-8")
    lines = source.splitlines()
    parsed = ast.parse(source)
    parents = {child: node for node in ast.walk(parsed) for child in ast.iter_child_nodes(node)}
    silent = set(_silent(parsed))
    for node in ast.walk(parsed):
        if node in silent or not hasattr(node, "lineno"):
            continue
        for kind, put in _faults(node, parents=parents, source=source):
            if kind in kinds:
                yield Spot(
                    module=module,
                    line=node.lineno,
                    column=node.col_offset,
                    end_line=node.end_lineno or node.lineno,
                    end=node.end_col_offset or 0,
                    kind=kind,
                    put=put,
                    value=float(node.value) if kind == "constant" and isinstance(node, ast.Constant) else 0.0,
                    text=lines[node.lineno - 1].strip(),
                )


def named(path: Path, *, tree: Path) -> list[Spot]:
    """The faults of a list: module, what is found in it once, and what takes its place; what is not there is said."""
    chosen = []
    for row in tomllib.loads(path.read_text(encoding="utf-8"))["fault"]:
        source = (tree / row["module"]).read_text(encoding="utf-8")
        before, found, after = source.partition(row["find"])
        if not found or row["find"] in after:
            print(f"not there once any more, in {row['module']}: {row['find']}")
            continue
        lines, ends = before.split("\n"), (before + found).split("\n")
        chosen.append(
            Spot(
                module=row["module"],
                line=len(lines),
                column=len(lines[-1].encode()),
                end_line=len(ends),
                end=len(ends[-1].encode()),
                kind="named",
                put=row["put"],
                value=0.0,
                text=source.splitlines()[len(lines) - 1].strip(),
            )
        )
    return chosen


def with_fault(source: str, spot: Spot) -> str:
    """The source of a module with one fault in it."""
    lines = source.splitlines(keepends=True)
    # columns count bytes of the line
    before = lines[spot.line - 1].encode()[: spot.column].decode()
    after = lines[spot.end_line - 1].encode()[spot.end :].decode()
    return "".join([*lines[: spot.line - 1], before + spot.put + after, *lines[spot.end_line :]])


def _silent(parsed: ast.Module) -> Iterator[ast.AST]:
    """What no answer comes from: docstrings, types, decorators, lists of names, imports."""
    for node in ast.walk(parsed):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            every = (*node.args.args, *node.args.kwonlyargs, *node.args.posonlyargs, node.args.vararg, node.args.kwarg)
            roots = [*node.decorator_list, node.returns, *(one.annotation for one in every if one)]
        elif isinstance(node, ast.AnnAssign):
            roots = [node.annotation]
        elif isinstance(node, ast.ClassDef):
            roots = [*node.decorator_list, *node.bases]
        elif isinstance(node, ast.Expr):
            roots = [node.value] if isinstance(node.value, ast.Constant) else []
        elif isinstance(node, ast.Assign):
            roots = [node.value] if ast.unparse(node.targets[0]) == "__all__" else []
        elif isinstance(node, ast.Call) and ast.unparse(node.func) in ("isinstance", "cast"):
            roots = list(node.args[1:])
        else:
            continue
        yield from (inner for root in roots if root is not None for inner in ast.walk(root))


def _faults(node: ast.AST, *, parents: dict[ast.AST, ast.AST], source: str) -> Iterator[tuple[str, str]]:
    """Kind of each fault of one node, and what takes its place."""

    def text(inner: ast.AST) -> str:
        return f"({ast.get_source_segment(source, inner)})"

    if isinstance(node, ast.Constant):
        yield from _of_constant(node, parents)
    elif isinstance(node, ast.BinOp):
        yield from _of_operation(node, text(node.left), text(node.right))
    elif isinstance(node, ast.UnaryOp):
        yield from _of_one(node, text(node.operand))
    elif isinstance(node, ast.BoolOp):
        word = " or " if isinstance(node.op, ast.And) else " and "
        yield "logic", f"({word.join(map(text, node.values))})"
    elif isinstance(node, ast.Compare) and len(node.ops) == 1:
        yield "comparison", f"({text(node.left)} {_COMPARED[type(node.ops[0])]} {text(node.comparators[0])})"
    elif isinstance(node, ast.Call):
        name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
        if name in _EXTREMES:
            called, whole = (ast.get_source_segment(source, one) or "" for one in (node.func, node))
            yield "extreme", called.removesuffix(name) + _EXTREMES[name] + whole.removeprefix(called)
    elif isinstance(node, ast.List | ast.Set) and len(node.elts) > 1:
        opened, closed = ("[", "]") if isinstance(node, ast.List) else ("{", "}")
        for left_out in range(len(node.elts)):
            rest = [ast.get_source_segment(source, one) or "" for i, one in enumerate(node.elts) if i != left_out]
            yield "entry", opened + ", ".join(rest) + closed
    elif isinstance(node, ast.Expr | ast.AugAssign):
        yield from _of_statement(node)


def _of_one(node: ast.UnaryOp, operand: str) -> Iterator[tuple[str, str]]:
    if isinstance(node.op, ast.USub) and not isinstance(node.operand, ast.Constant):
        yield "sign", operand
    elif isinstance(node.op, ast.Not | ast.Invert):
        yield "comparison", operand


def _of_constant(node: ast.Constant, parents: dict[ast.AST, ast.AST]) -> Iterator[tuple[str, str]]:
    parent = parents[node]
    if isinstance(node.value, str):
        if node.value in _SIDES:
            yield "index", repr(_SIDES[node.value])
        elif node.value in _UNITS and not isinstance(parent, ast.Subscript | ast.JoinedStr):
            yield "unit", repr(_UNITS[node.value])
        return
    if isinstance(node.value, bool) or not isinstance(node.value, int | float):
        return
    above = parents.get(parent)
    picked = isinstance(parent, ast.Subscript) or (isinstance(parent, ast.Tuple) and isinstance(above, ast.Subscript))
    if picked and isinstance(node.value, int) and node.value in (0, 1, 2):
        yield "index", "1" if node.value == 0 else "0"
    if _counts(node, parent):
        yield "constant", repr(float(node.value) * 1.01)


def _counts(node: ast.Constant, parent: ast.AST) -> bool:
    """Tell whether moving this number would change an answer."""
    assert isinstance(node.value, int | float)
    in_arithmetic = isinstance(parent, ast.BinOp)
    if isinstance(parent, ast.BinOp) and isinstance(parent.op, ast.Pow) and parent.right is node:
        return False
    if isinstance(node.value, int) and not in_arithmetic:
        return False
    size = abs(float(node.value))
    return size in PHYSICS or 1.0e-5 <= size <= 1.0e5


def _of_operation(node: ast.BinOp, left: str, right: str) -> Iterator[tuple[str, str]]:
    words = any(
        isinstance(side, _WORDS) or (isinstance(side, ast.Constant) and isinstance(side.value, str))
        for side in (node.left, node.right)
    )
    if type(node.op) in _SIGNS and not words:
        yield "sign", f"({left} {_SIGNS[type(node.op)]} {right})"
    if type(node.op) in _LOGIC:
        yield "logic", f"({left} {_LOGIC[type(node.op)]} {right})"
    if isinstance(node.op, _TERMS):
        yield "term", left
        if not isinstance(node.op, ast.Sub | ast.Div):
            yield "term", right


def _of_statement(node: ast.Expr | ast.AugAssign) -> Iterator[tuple[str, str]]:
    """What adds a finding, a caution, a check or a part to a list."""
    if isinstance(node, ast.AugAssign):
        added = isinstance(node.op, ast.Add | ast.BitOr | ast.BitAnd)
    else:
        called = node.value.func if isinstance(node.value, ast.Call) else None
        added = isinstance(called, ast.Attribute) and called.attr in ("append", "extend", "add", "update")
    if added:
        yield "finding", "pass"
