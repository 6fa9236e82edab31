"""What the source text of a rule file may hold; read only when a rule is examined or refused."""

from __future__ import annotations

import ast
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from slabwright.named_tuple import NamedTuple

MAY_IMPORT = ("slabwright.rulebook.kit", "slabwright.formulas")  # the kit holds all words a rule needs


class Fault(NamedTuple):
    """Something a rule file may not hold, and what to write instead."""

    line: int
    wrong: str
    write: str


@dataclass(frozen=True, slots=True)
class Source:
    """The text of a rule file, parsed."""

    tree: ast.Module

    def line_of(self, name: str, text: str = "") -> int:
        """The line of the top-level ``name`` (1 when there is none), or of the string ``text`` inside it.

        With ``name`` empty, ``text`` is looked for in the whole file.
        """
        node = self._top(name) if name else self.tree
        if node is None:
            return 1
        if text:
            inside = (n.lineno for n in ast.walk(node) if isinstance(n, ast.Constant) and n.value == text)
            return next(inside, getattr(node, "lineno", 1))
        return int(getattr(node, "lineno", 1))

    def _top(self, name: str) -> ast.stmt | None:
        for node in self.tree.body:
            if isinstance(node, ast.FunctionDef) and node.name == name:
                return node
            targets = node.targets if isinstance(node, ast.Assign) else [getattr(node, "target", None)]
            if any(isinstance(target, ast.Name) and target.id == name for target in targets):
                return node
        return None

    def faults(self) -> Iterator[Fault]:
        """Everything in the text that a rule file may not hold."""
        for statement in self.tree.body:
            if isinstance(statement, ast.Expr) and not isinstance(statement.value, ast.Constant):
                yield Fault(
                    statement.lineno,
                    "the file does something while it is loaded",
                    "only imports, names and functions: a rule is found by its place, it registers nowhere",
                )
            elif not isinstance(statement, _TOP_LEVEL):
                yield Fault(
                    statement.lineno, "a rule file holds only imports, names and functions", "move this into a function"
                )
        for node in ast.walk(self.tree):
            if isinstance(node, ast.ClassDef):
                yield Fault(node.lineno, f"the class {node.name}", "functions, and values of the plan")
            elif isinstance(node, ast.FunctionDef) and node.decorator_list:
                yield Fault(node.lineno, f"{node.name} is decorated", "a plain function: a rule keeps nothing")
            elif isinstance(node, ast.Global | ast.Nonlocal):
                yield Fault(node.lineno, "a rule keeps nothing between calls", "names of the function only")
            else:
                yield from self._imports(node)

    def _imports(self, node: ast.AST) -> Iterator[Fault]:
        modules: list[str] = []
        if isinstance(node, ast.Import):
            modules = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            modules = [f"{node.module}.{alias.name}" for alias in node.names]
        for module in modules:
            inside = module == "slabwright" or module.startswith("slabwright.")
            if inside and not any(module == may or module.startswith(f"{may}.") for may in MAY_IMPORT):
                yield Fault(
                    getattr(node, "lineno", 1),
                    f"a rule may not import {module}",
                    "the words of slabwright.rulebook.kit and the formulas of slabwright.formulas",
                )

    def unread_limits(self, names: Iterable[str]) -> Iterator[Fault]:
        """Limits that are declared and never compared with."""
        declared = self._top("LIMITS")
        inside = set(ast.walk(declared)) if declared else set()
        used: set[str] = set()
        for node in ast.walk(self.tree):
            if node in inside:
                continue
            if isinstance(node, ast.JoinedStr):  # a name put together from parts: any limit may be meant
                return
            if isinstance(node, ast.Attribute):
                if node.attr == "values" and isinstance(node.value, ast.Name) and node.value.id == "limits":
                    return  # all of them
                used.add(node.attr)
            elif isinstance(node, ast.Constant) and isinstance(node.value, str):
                used.add(node.value)
        for name in names:
            if name not in used:
                yield Fault(
                    self.line_of("LIMITS", name), f"nothing compares with the limit {name}", "use it, or drop it"
                )


_TOP_LEVEL = (
    ast.Import, ast.ImportFrom, ast.Assign, ast.AnnAssign, ast.FunctionDef, ast.Expr, ast.ClassDef, ast.If,
)  # fmt: skip


def parsed(raw: bytes) -> Source:
    """The bytes of a rule file; raises ``SyntaxError`` where they are not Python."""
    return Source(ast.parse(raw))
