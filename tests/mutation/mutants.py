"""Small faults that may be put into a module: every place, every way, one at a time."""

import ast
from collections import Counter
from collections.abc import Iterator
from copy import deepcopy
from dataclasses import dataclass
from pathlib import Path

BOUNDARY = {ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt}
NEGATED = {
    ast.Lt: ast.GtE, ast.LtE: ast.Gt, ast.Gt: ast.LtE, ast.GtE: ast.Lt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.In: ast.NotIn, ast.NotIn: ast.In, ast.Is: ast.IsNot, ast.IsNot: ast.Is,
}  # fmt: skip
SWAPPED = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.FloorDiv: ast.Mult,
    ast.Mod: ast.Mult, ast.Pow: ast.Mult, ast.BitOr: ast.BitAnd, ast.BitAnd: ast.BitOr,
}  # fmt: skip
OTHER_NAME = {"min": "max", "max": "min", "any": "all", "all": "any", "floor": "ceil", "ceil": "floor"}
DEFAULTS = {"bool": "False", "float": "0.0", "int": "0", "str": "''", "tuple": "()", "list": "[]", "dict": "{}"}


@dataclass(frozen=True)
class Mutant:
    """One fault in one place. The name stays the same when lines move."""

    room: str
    path: str
    function: str
    first_line: int | None  # of the function, its decorators among it; None for what runs at import
    line: int
    operator: str
    name: str
    place: int
    number: int


def mutants_of(source: str, path: str, room: str) -> list[Mutant]:
    """All mutants of a module."""
    tree = ast.parse(source)
    found: list[Mutant] = []
    names: Counter[str] = Counter()
    for place, (node, function, first) in enumerate(_places(tree)):
        for number, (operator, changed) in enumerate(_changes(node, function)):
            where = function.name if function else "module"
            name = f"{path} {where}: {_short(node)} -> {_short(changed)}"
            names[name] += 1
            name = name if names[name] == 1 else f"{name} (no. {names[name]})"
            found.append(Mutant(room, path, where, first, node.lineno, operator, name, place, number))
    return found


def mutated(source: str, mutant: Mutant) -> str | None:
    """The module with the fault in it; None where it would not even be Python."""
    tree = ast.parse(source)
    node, function, _ = list(_places(tree))[mutant.place]
    changed = list(_changes(node, function))[mutant.number][1]
    _put(tree, node, changed)
    try:
        text = ast.unparse(ast.fix_missing_locations(tree))
        compile(text, "mutant", "exec")
    except (SyntaxError, ValueError):
        return None
    return text


def _put(tree: ast.AST, old: ast.AST, new: ast.AST) -> None:
    for parent in ast.walk(tree):
        for field, value in ast.iter_fields(parent):
            if value is old:
                setattr(parent, field, new)
                return
            if isinstance(value, list):
                for at, item in enumerate(value):
                    if item is old:
                        value[at] = new
                        return


def _places(tree: ast.Module) -> Iterator[tuple[ast.AST, ast.FunctionDef | None, int | None]]:
    """Every node that runs, with the function around it; annotations, decorators and docstrings left out."""

    def walk(node: ast.AST, function: ast.FunctionDef | None, first: int | None) -> Iterator:
        if isinstance(node, ast.FunctionDef):
            lines = [node.lineno, *(decorator.lineno for decorator in node.decorator_list)]
            inner = (node, min(lines)) if function is None else (function, first)
            for default in (*node.args.defaults, *(d for d in node.args.kw_defaults if d is not None)):
                yield from walk(default, function, first)
            for item in node.body:
                yield from walk(item, *inner)
            return
        if isinstance(node, ast.ClassDef):
            for item in node.body:
                yield from walk(item, function, first)
            return
        if isinstance(node, ast.AnnAssign):
            if node.value is not None:
                yield from walk(node.value, function, first)
            return
        if isinstance(node, ast.Import | ast.ImportFrom) or _is_words(node):
            return
        if function is None and isinstance(node, ast.BinOp) and isinstance(node.op, ast.BitOr):
            return  # the name of a type
        yield node, function, first
        for child in ast.iter_child_nodes(node):
            yield from walk(child, function, first)

    for item in tree.body:
        yield from walk(item, None, None)


def _is_words(node: ast.AST) -> bool:
    if isinstance(node, ast.Expr):
        return isinstance(node.value, ast.Constant)
    if isinstance(node, ast.If):
        return isinstance(node.test, ast.Name) and node.test.id == "TYPE_CHECKING"
    return isinstance(node, ast.Subscript) and isinstance(node.value, ast.Name) and node.value.id == "Literal"


def _changes(node: ast.AST, function: ast.FunctionDef | None) -> Iterator[tuple[str, ast.AST]]:
    if isinstance(node, ast.Compare):
        yield from _compared(node)
    elif isinstance(node, ast.BinOp | ast.AugAssign) and type(node.op) in SWAPPED:
        yield "arithmetic", _like(node, op=SWAPPED[type(node.op)]())
        if isinstance(node, ast.AugAssign):
            yield "dropped statement", ast.Pass()
    elif isinstance(node, ast.UnaryOp):
        yield ("not" if isinstance(node.op, ast.Not) else "arithmetic"), deepcopy(node.operand)
    elif isinstance(node, ast.Constant):
        yield from _constant(node)
    elif isinstance(node, ast.BoolOp):
        yield "and, or", _like(node, op=ast.Or() if isinstance(node.op, ast.And) else ast.And())
    elif isinstance(node, ast.IfExp | ast.If | ast.While):
        yield from _tested(node)
    elif isinstance(node, ast.Return) and function is not None:
        yield from _returned(node, function)
    elif _may_go(node):
        yield "dropped statement", ast.Pass()
    elif isinstance(node, ast.Call):
        yield from _called(node)
    elif isinstance(node, ast.Slice):
        yield from _sliced(node)


def _may_go(node: ast.AST) -> bool:
    """Can the module run without the statement?"""
    called = isinstance(node, ast.Expr) and not isinstance(node.value, ast.Yield | ast.YieldFrom)
    return called or isinstance(node, ast.Continue | ast.Break)


def _like(node: ast.AST, **changed: object) -> ast.AST:
    new = deepcopy(node)
    for field, value in changed.items():
        setattr(new, field, value)
    return new


def _compared(node: ast.Compare) -> Iterator[tuple[str, ast.AST]]:
    for at, op in enumerate(node.ops):
        for operator, table in (("boundary", BOUNDARY), ("negation", NEGATED)):
            if type(op) in table:
                yield operator, _like(node, ops=[*node.ops[:at], table[type(op)](), *node.ops[at + 1 :]])


def _constant(node: ast.Constant) -> Iterator[tuple[str, ast.AST]]:
    value = node.value
    if isinstance(value, bool):
        yield "constant", ast.Constant(not value)
    elif isinstance(value, int):
        yield "constant", ast.Constant(value + 1)
        yield "constant", ast.Constant(value - 1)
    elif isinstance(value, float):
        yield "constant", ast.Constant(2 * value if value else 1.0)


def _tested(node: ast.IfExp | ast.If | ast.While) -> Iterator[tuple[str, ast.AST]]:
    if not isinstance(node.test, ast.Compare | ast.UnaryOp):
        yield "negation", _like(node, test=ast.UnaryOp(ast.Not(), deepcopy(node.test)))
    if isinstance(node, ast.If) and not node.orelse:
        yield "dropped statement", ast.Pass()


def _returned(node: ast.Return, function: ast.FunctionDef) -> Iterator[tuple[str, ast.AST]]:
    if node.value is None or (isinstance(node.value, ast.Constant) and node.value.value is None):
        return
    kind = ast.unparse(function.returns).split("[")[0] if function.returns else "None"
    default = ast.parse(DEFAULTS.get(kind, "None"), mode="eval").body
    if ast.unparse(default) != ast.unparse(node.value):
        yield "returned", ast.Return(default)


def _called(node: ast.Call) -> Iterator[tuple[str, ast.AST]]:
    func = node.func
    name = func.id if isinstance(func, ast.Name) else func.attr if isinstance(func, ast.Attribute) else ""
    if name in OTHER_NAME:
        other = OTHER_NAME[name]
        new = ast.Name(other, ast.Load()) if isinstance(func, ast.Name) else _like(func, attr=other)
        yield "min, max", _like(node, func=new)
    if not name[:1].isupper():  # a record without one of its fields is no fault that could stay
        for at, keyword in enumerate(node.keywords):
            if keyword.arg is not None:
                yield "dropped keyword", _like(node, keywords=node.keywords[:at] + node.keywords[at + 1 :])


def _sliced(node: ast.Slice) -> Iterator[tuple[str, ast.AST]]:
    if node.lower is not None:
        yield "slice", _like(node, lower=None)
    if node.upper is not None:
        yield "slice", _like(node, upper=None)


def _short(node: ast.AST) -> str:
    if isinstance(node, ast.If | ast.While):
        return f"{type(node).__name__.lower()} {ast.unparse(node.test)}"
    return " ".join(ast.unparse(node).split())


def mutants_in(root: Path, rooms: tuple[str, ...]) -> Iterator[Mutant]:
    """All mutants of the rooms of a checkout, in the order of their files."""
    package = root / "src" / "barkwright"
    for room in rooms:
        for file in sorted((package / room).rglob("*.py")):
            yield from mutants_of(file.read_text(encoding="utf-8"), str(file.relative_to(package)), room)
