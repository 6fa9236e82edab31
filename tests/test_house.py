"""The shape of the package: rooms that import one way, no circle anywhere, one list of what a rule may import."""

from __future__ import annotations

import ast
import shutil
import subprocess
import sys
import tomllib
from functools import cache
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest
from checkout import ROOT
from slabwright.rulebook import may_import

PACKAGE = ROOT / "checker" / "slabwright"
ROOT_MODULES = {"__init__", "__main__"}


def modules() -> dict[str, Path]:
    """Every module of the package by its dotted name."""
    found = {}
    for path in PACKAGE.rglob("*.py"):
        parts = path.relative_to(PACKAGE.parent).with_suffix("").parts
        found[".".join(part for part in parts if part != "__init__")] = path
    return found


def imports(path: Path, known: dict[str, Path]) -> set[str]:
    """The modules of the package that a file imports, inside functions and for type checkers too."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            assert node.level == 0, f"{path}: imports are written in full"
            full = {f"{node.module}.{alias.name}" for alias in node.names}
            found |= full & known.keys() or {node.module}
    return found & known.keys()


@cache
def graph() -> dict[str, set[str]]:
    known = modules()
    return {name: imports(path, known) - {name} for name, path in known.items()}


def circle(arrows: dict[str, set[str]]) -> list[str]:
    """The members of a circle, or nothing."""
    try:
        TopologicalSorter(arrows).prepare()
    except CycleError as error:
        return list(error.args[1])
    return []


def test_no_module_imports_itself_by_way_of_others() -> None:
    assert circle(graph()) == []


def test_no_room_imports_itself_by_way_of_others() -> None:
    rooms: dict[str, set[str]] = {}
    for name, others in graph().items():
        room = name.split(".")[1] if "." in name else name
        rooms.setdefault(room, set()).update(
            {one.split(".")[1] for one in others if "." in one and one.split(".")[1] != room}
        )
    assert circle(rooms) == []


def test_a_circle_is_seen() -> None:
    assert circle({"a": {"b"}, "b": {"c"}, "c": {"a"}}) != []


def test_the_root_holds_what_belongs_to_no_room() -> None:
    assert {path.stem for path in PACKAGE.glob("*.py")} == ROOT_MODULES


def test_what_a_rule_may_import_is_one_list() -> None:
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["importlinter"]
    contracts = settings["contracts"]
    (forbidden,) = [one["forbidden_modules"] for one in contracts if one["type"] == "forbidden"]
    known = modules()
    for name in known:
        allowed = any(name == may or name.startswith(f"{may}.") for may in may_import.MAY_IMPORT)
        barred = any(name == bar or name.startswith(f"{bar}.") for bar in forbidden)
        package = any(may.startswith(f"{name}.") for may in may_import.MAY_IMPORT)  # holds something allowed
        outside = name in {"slabwright", "slabwright.__main__"}
        assert allowed + barred == 1 or package or outside, name
    guide = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    for may in may_import.MAY_IMPORT:
        assert f"`{may}`" in guide


@pytest.mark.parametrize(
    ("file", "line"),
    [
        ("rules/water/least_fall.py", "from slabwright.review import run"),
        ("checker/slabwright/plan/edges.py", "from slabwright.review import report"),
        ("checker/slabwright/loose.py", "ROOM = None"),
    ],
)
def test_the_contract_is_broken_by_an_import_that_goes_back(tmp_path: Path, file: str, line: str) -> None:
    for part in ("rules", "checker"):
        shutil.copytree(ROOT / part, tmp_path / part, ignore=shutil.ignore_patterns("__pycache__", "*.egg-info"))
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    path = tmp_path / file
    path.write_text((path.read_text(encoding="utf-8") if path.exists() else "") + f"\n{line}\n", encoding="utf-8")
    tool = Path(sys.executable).with_name("lint-imports")
    run = subprocess.run(
        [str(tool), "--no-cache"],
        cwd=tmp_path, capture_output=True, text=True, env={"PYTHONPATH": str(tmp_path / "checker"), "PATH": "/usr/bin"},
    )  # fmt: skip
    assert run.returncode == 1
    assert "BROKEN" in run.stdout or "loose" in run.stdout + run.stderr


def _unexplained(source: str) -> list[str]:
    """The imports inside functions with no word beside them, or beside the one above, why they stand there."""
    lines, told = source.splitlines(), set[int]()
    found: list[str] = []
    inside = [
        node
        for function in ast.walk(ast.parse(source))
        if isinstance(function, ast.FunctionDef | ast.AsyncFunctionDef)
        for node in ast.walk(function)
        if isinstance(node, ast.Import | ast.ImportFrom)
    ]
    for node in sorted(inside, key=lambda node: node.lineno):
        if " # " in lines[node.lineno - 1] or node.lineno - 1 in told:
            told.add(node.end_lineno or node.lineno)
        else:
            found.append(lines[node.lineno - 1].strip())
    return found


def test_an_import_inside_a_function_says_what_it_saves() -> None:
    """They save time at the start, or a package that may be missing; ``cli/commands.py`` tells it for all commands."""
    paths = (path for path in modules().values() if path != PACKAGE / "cli" / "commands.py")
    found = {str(path.relative_to(PACKAGE)): _unexplained(path.read_text(encoding="utf-8")) for path in paths}
    assert {file: lines for file, lines in found.items() if lines} == {}
    assert _unexplained("def f():\n    import a\n    import b  # 9 ms\n    import c\n") == ["import a"]
