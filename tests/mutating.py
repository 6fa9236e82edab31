"""Small changes to a source file, one at a time, and how each is put into a program that is loaded already.

The changes are made by the operators of cosmic-ray (``pip install -e '.[mutants]'``). No file is ever written: a
changed module lives in the memory of one child process only.
"""

from __future__ import annotations

import ast
import copy
import functools
import gc
import marshal
import warnings
from collections import Counter
from collections.abc import Iterator, Mapping
from importlib.machinery import SourceFileLoader
from itertools import accumulate
from pathlib import Path
from types import CodeType, FunctionType
from typing import Any, NamedTuple

import yaml
from checkout import ROOT

REASONS = ROOT / "tests" / "data" / "mutants_that_change_nothing.yaml"

# What is changed. Each arithmetic sign becomes its opposite once, not every other sign: one wrong sign is as good as
# ten. Left out: decorators, names of exceptions, names of variables, bit signs (here they join types and mappings).
OPERATORS = (
    *(f"core/ReplaceBinaryOperator_{pair}" for pair in (
        "Add_Sub", "Sub_Add", "Mul_Div", "Div_Mul", "FloorDiv_Div", "Mod_Mul", "Pow_Mul")),
    *(f"core/ReplaceComparisonOperator_{pair}" for pair in (
        "Lt_LtE", "LtE_Lt", "Gt_GtE", "GtE_Gt", "Lt_GtE", "LtE_Gt", "Gt_LtE", "GtE_Lt", "Eq_NotEq", "NotEq_Eq",
        "Is_IsNot", "IsNot_Is")),
    "core/ReplaceUnaryOperator_USub_UAdd", "core/ReplaceUnaryOperator_Delete_Not", "core/AddNot",
    "core/ReplaceTrueWithFalse", "core/ReplaceFalseWithTrue", "core/ReplaceAndWithOr", "core/ReplaceOrWithAnd",
    "core/ReplaceBreakWithContinue", "core/ReplaceContinueWithBreak", "core/NumberReplacer",
    "core/ZeroIterationForLoop",
)  # fmt: skip
CHECKS = {"TITLE", "WORKED"}  # a rule's title, and its published numbers, which are checks themselves


class Mutant(NamedTuple):
    """One change to one file: where, the line before and after, and the whole changed text."""

    file: str
    function: str  # the function it stands in, with its class; "module" outside of any
    operator: str
    occurrence: int  # of the operator in that function, from 0
    line: int
    was: str
    now: str
    text: str

    @property
    def key(self) -> str:
        """What tells it from every other of its file, whatever the lines around it are."""
        return f"{self.function} {self.operator} {self.occurrence}"


def mutants(path: Path, file: str) -> Iterator[Mutant]:
    """Every change to the file at ``path``, in order of lines; ``file`` is its name in the repository."""
    from cosmic_ray.ast import ast_nodes, get_ast
    from cosmic_ray.plugins import get_operator

    text = path.read_text(encoding="utf-8")
    tree = ast.parse(text)
    kept, functions = left_out(tree), functions_of(tree)
    starts = list(accumulate((len(line) for line in text.splitlines(keepends=True)), initial=0))
    nodes = list(ast_nodes(get_ast(text)))
    seen, counts = {fingerprint(text, path)}, Counter[tuple[str, str]]()
    found: list[Mutant] = []
    for name in OPERATORS:
        operator = get_operator(name)()
        for node in nodes:
            for index, (start, _) in enumerate(operator.mutation_positions(node)):
                if any(first <= start < last for first, last in kept):
                    continue
                place = (
                    next((one for one, lines in functions if start[0] in lines), "module"),
                    name.removeprefix("core/"),
                )
                occurrence = counts[place]
                counts[place] += 1
                (row, column), (last, end) = node.start_pos, node.end_pos
                new = operator.mutate(_copied(node), index).get_code(include_prefix=False)
                changed = text[: starts[row - 1] + column] + new + text[starts[last - 1] + end :]
                mark = fingerprint(changed, path)
                if mark is None or mark in seen:
                    continue
                seen.add(mark)
                found.append(Mutant(file, *place, occurrence, *difference(text, changed), changed))
    yield from sorted(found, key=lambda mutant: (mutant.line, mutant.now))


def _copied(node: Any) -> Any:
    """A copy of a node and of its children, as deep as an operator changes it."""
    made = copy.copy(node)
    if hasattr(node, "children"):
        made.children = [copy.copy(child) for child in node.children]
    return made


def functions_of(tree: ast.Module) -> list[tuple[str, range]]:
    """The functions of a file with their lines, inner ones first.

    >>> functions_of(ast.parse("class A:\\n    def f(self):\\n        return 1\\n"))
    [('A.f', range(2, 4))]
    """

    def inside(node: ast.AST, above: str) -> Iterator[tuple[str, range]]:
        for child in ast.iter_child_nodes(node):
            if isinstance(child, ast.FunctionDef | ast.ClassDef):
                name = f"{above}{child.name}"
                yield from inside(child, f"{name}.")
                if isinstance(child, ast.FunctionDef):
                    yield name, range(child.lineno, (child.end_lineno or 0) + 1)

    return list(inside(tree, ""))


def reasons() -> dict[str, dict[str, str]]:
    """By file and by :attr:`Mutant.key`, why a change changes nothing that anyone can see: each was looked at."""
    return yaml.safe_load(REASONS.read_text(encoding="utf-8")) or {}


Position = tuple[int, int]


def left_out(tree: ast.Module) -> list[tuple[Position, Position]]:
    """Stretches of a file that are not changed: annotations, decorators, ``strict=True``, what :data:`CHECKS` names."""
    found: list[ast.AST] = []
    for node in ast.walk(tree):
        match node:
            case ast.FunctionDef():
                found += [*node.decorator_list, *([node.returns] if node.returns else [])]
            case ast.ClassDef():
                found += node.decorator_list
            case ast.arg(annotation=ast.expr() as annotation) | ast.AnnAssign(annotation=annotation):
                found.append(annotation)
            case ast.Assign(targets=[ast.Name(id=name)]) if name in CHECKS:
                found.append(node)
            case ast.keyword(arg="strict", value=ast.Constant(value=True)):  # fails where lengths differ: a check
                found.append(node)
    return [((node.lineno, node.col_offset), (node.end_lineno, node.end_col_offset)) for node in found]  # type: ignore[attr-defined]


def inside_functions(text: str) -> set[int]:
    """The lines that run when a function is called; all others run when the file is loaded, by whichever test is first.

    >>> sorted(inside_functions("A = 1\\ndef f(a=A):\\n    b = a\\n    return b\\nB = f()\\n"))
    [3, 4]
    """
    functions = [node for node in ast.walk(ast.parse(text)) if isinstance(node, ast.FunctionDef)]
    return {line for one in functions for line in range(one.body[0].lineno, (one.end_lineno or 0) + 1)}


def fingerprint(text: str, path: Path) -> bytes | None:
    """The same for two texts that run alike; None for one that is no Python."""
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # "is" with a number, and such
            return marshal.dumps(_without_columns(compile(text, str(path), "exec", dont_inherit=True)))
    except SyntaxError:
        return None


def _without_columns(code: CodeType) -> CodeType:
    inner = tuple(_without_columns(one) if isinstance(one, CodeType) else one for one in code.co_consts)
    return code.replace(co_consts=inner, co_linetable=b"")


def difference(text: str, changed: str) -> tuple[int, str, str]:
    """The first line that differs: its number, as it was, as it is now."""
    lines = zip(text.splitlines(), changed.splitlines(), strict=False)
    return next((number, was.strip(), now.strip()) for number, (was, now) in enumerate(lines, 1) if was != now)


# putting it in


class Loaded(NamedTuple):
    """What this process holds of one source file: its functions, by name and first line, and its namespaces."""

    path: str
    functions: Mapping[tuple[str, int], list[FunctionType]]
    spaces: tuple[dict[str, Any], ...]


def loaded(path: Path) -> Loaded:
    """Find what is loaded of the file at ``path``, however often it was."""
    functions: dict[tuple[str, int], list[FunctionType]] = {}
    spaces: dict[int, dict[str, Any]] = {}
    for one in gc.get_objects():
        if isinstance(one, dict) and one.get("__file__") == str(path) and "__name__" in one:
            spaces[id(one)] = one
        elif isinstance(one, FunctionType) and one.__code__.co_filename == str(path):
            functions.setdefault(_name(one.__code__), []).append(one)
            spaces[id(one.__globals__)] = one.__globals__
    return Loaded(str(path), functions, tuple(spaces.values()))


def put_in(text: str, held: Loaded) -> None:
    """Make this process run ``text`` in place of the file: now, and whenever it loads the file again."""
    code = compile(text, held.path, "exec", dont_inherit=True)
    read = SourceFileLoader.get_code
    SourceFileLoader.get_code = lambda loader, name: code if loader.path == held.path else read(loader, name)  # type: ignore[method-assign, assignment]
    read_bytes = Path.read_bytes  # by which the text of a rule is examined
    Path.read_bytes = lambda path: text.encode() if str(path) == held.path else read_bytes(path)  # type: ignore[method-assign]
    for inner in _codes(code):
        for function in held.functions.get(_name(inner), ()):
            if function.__code__.co_freevars == inner.co_freevars:
                function.__code__ = inner
    for space in held.spaces:
        _run_again(code, space)


def _name(code: CodeType) -> tuple[str, int]:
    return code.co_qualname, code.co_firstlineno


def _codes(code: CodeType) -> Iterator[CodeType]:
    for one in code.co_consts:
        if isinstance(one, CodeType):
            yield one
            yield from _codes(one)


def _run_again(code: CodeType, space: dict[str, Any]) -> None:
    """Run a module anew in its own namespace: changed values are taken, functions and classes stay the same things.

    Functions got their new code already; their new defaults are taken here, and what other modules took from this one
    under its own name is replaced there too.
    """
    before = dict(space)
    exec(code, space)
    for name, old in before.items():
        new = space[name]
        if new is old or name.startswith("__"):
            continue
        plain = getattr(old, "__wrapped__", old)
        if isinstance(plain, FunctionType) and plain.__code__.co_filename == code.co_filename:
            fresh = getattr(new, "__wrapped__", new)
            plain.__defaults__, plain.__kwdefaults__ = fresh.__defaults__, fresh.__kwdefaults__
            space[name] = old
        elif isinstance(old, type) and old.__module__ == space["__name__"]:
            space[name] = old
        elif old is not None and not isinstance(old, bool):
            for other in _MODULES:
                if other is not space and other.get(name) is old:
                    other[name] = new


_MODULES: list[dict[str, Any]] = []


def remember_modules() -> None:
    """Note every namespace of a module of this project, for values that one takes from another."""
    _MODULES[:] = [
        one
        for one in gc.get_objects()
        if isinstance(one, dict) and "__builtins__" in one and "site-packages" not in str(one.get("__file__"))
    ]


KEPT = ("drawing_in", "checks", "_factor", "_registry", "rule_named", "page")  # read files that stay as they are


def caches(folders: tuple[str, ...], kept: tuple[str, ...] = ()) -> list[Any]:
    """Every cached function of the sources in ``folders`` whose answers may change; those named ``kept`` may not."""
    found = [one for one in gc.get_objects() if isinstance(one, functools._lru_cache_wrapper)]
    ours = [one for one in found if isinstance(one.__wrapped__, FunctionType)]
    inside = [one for one in ours if one.__wrapped__.__code__.co_filename.startswith(folders)]
    return [one for one in inside if one.__wrapped__.__name__ not in (*KEPT, *kept)]
