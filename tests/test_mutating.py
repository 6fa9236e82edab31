"""A change is made where it should be, and a program that is loaded already runs it."""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterator
from importlib.machinery import ModuleSpec, SourceFileLoader
from importlib.util import module_from_spec
from pathlib import Path
from types import ModuleType

import mutating
import pytest
from checkout import ROOT

TEXT = '''"""Sides of a slab."""
from functools import cache
from typing import NamedTuple

LONG: int = 12
TITLE = "of 3"
WORKED = (1 + 1,)


class Side(NamedTuple):
    length: float = 4.0

    def halves(self) -> float:
        return self.length / 2


def ratio(long: float = 6.0, short: float = 3.0) -> float | None:
    return long / short if short > 0 else None


@cache
def longest(times: int) -> int:
    return LONG * times
'''


@pytest.fixture
def module(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[ModuleType]:
    """A module loaded from a file, as the catalogue loads a rule."""
    path = tmp_path / "sides.py"
    path.write_text(TEXT, encoding="utf-8")
    monkeypatch.setattr(SourceFileLoader, "get_code", SourceFileLoader.get_code)  # put back afterwards
    monkeypatch.setattr(Path, "read_bytes", Path.read_bytes)
    monkeypatch.setattr(sys, "dont_write_bytecode", True)
    yield loaded_from(path)


def loaded_from(path: Path) -> ModuleType:
    loader = SourceFileLoader("sides", str(path))
    made = module_from_spec(ModuleSpec("sides", loader, origin=str(path)))
    made.__file__ = str(path)
    loader.exec_module(made)
    return made


def put_in(module: ModuleType, was: str, now: str) -> None:
    assert TEXT.count(was) == 1
    mutating.put_in(TEXT.replace(was, now), mutating.loaded(Path(str(module.__file__))))


def test_a_function_taken_from_the_module_before_runs_the_change(module: ModuleType) -> None:
    taken = module.ratio
    put_in(module, "long / short", "long * short")
    assert taken(6.0, 3.0) == 18.0
    assert module.ratio is taken


def test_a_changed_default_counts(module: ModuleType) -> None:
    taken = module.ratio
    put_in(module, "short: float = 3.0", "short: float = 2.0")
    assert taken() == 3.0  # 6 / 2


def test_a_changed_value_of_the_module_counts_also_where_answers_are_kept(module: ModuleType) -> None:
    taken = module.longest
    assert taken(2) == 24
    put_in(module, "LONG: int = 12", "LONG: int = 13")
    for cache in mutating.caches((str(Path(str(module.__file__)).parent),)):
        cache.cache_clear()
    assert taken(2) == 26
    assert module.LONG == 13


def test_a_value_taken_by_another_module_is_replaced_there(module: ModuleType) -> None:
    other = ModuleType("other")
    other.__dict__.update(LONG=module.LONG, length=12, __builtins__=__builtins__)
    mutating.remember_modules()
    put_in(module, "LONG: int = 12", "LONG: int = 13")
    assert (other.LONG, other.length) == (13, 12)


def test_a_method_runs_the_change_and_its_class_stays_the_same(module: ModuleType) -> None:
    side = module.Side(10.0)
    put_in(module, "self.length / 2", "self.length / 4")
    assert side.halves() == 2.5
    assert isinstance(side, module.Side)


def test_loading_the_file_again_loads_the_change(module: ModuleType) -> None:
    put_in(module, "LONG: int = 12", "LONG: int = 13")
    path = Path(str(module.__file__))
    assert loaded_from(path).LONG == 13
    assert b"LONG: int = 13" in path.read_bytes()
    assert path.read_text(encoding="utf-8") == TEXT


def test_types_titles_and_checks_are_left_out() -> None:
    """The lines of the text above: ``: int`` of LONG, TITLE, WORKED, and the types and the cache of the functions."""
    lines = TEXT.splitlines()
    left_out = sorted(mutating.left_out(ast.parse(TEXT)))
    words = [lines[row - 1][column:end] for (row, column), (last, end) in left_out if row == last]
    assert words == [
        "int", 'TITLE = "of 3"', "WORKED = (1 + 1,)", "float", "float", "float", "float", "float | None",
        "cache", "int", "int",
    ]  # fmt: skip


def test_a_check_that_lengths_agree_is_left_out_and_the_leave_to_differ_is_not() -> None:
    for strict, stretches in (("True", 1), ("False", 0)):
        assert len(mutating.left_out(ast.parse(f"pairs = zip(a, b, strict={strict})"))) == stretches


def test_a_change_is_named_by_the_function_it_stands_in() -> None:
    lines = TEXT.splitlines()
    assert [(name, lines[inside[0] - 1].strip()) for name, inside in mutating.functions_of(ast.parse(TEXT))] == [
        ("Side.halves", "def halves(self) -> float:"),
        ("ratio", "def ratio(long: float = 6.0, short: float = 3.0) -> float | None:"),
        ("longest", "def longest(times: int) -> int:"),
    ]


def test_every_change_that_does_nothing_is_in_a_function_that_is_there_and_has_its_reason() -> None:
    for file, told in mutating.reasons().items():
        functions = {name for name, _ in mutating.functions_of(ast.parse((ROOT / file).read_text(encoding="utf-8")))}
        for key, reason in told.items():
            function, operator, occurrence = key.split()
            assert function in functions | {"module"} and f"core/{operator}" in mutating.OPERATORS, (file, key)
            assert occurrence.isdecimal() and reason.endswith("."), (file, key)


def test_changes_that_run_alike_are_one() -> None:
    path = Path("sides.py")
    same = mutating.fingerprint(TEXT, path)
    assert mutating.fingerprint(TEXT.replace("LONG: int = 12", "LONG: int  =  (12)"), path) == same
    assert mutating.fingerprint(TEXT.replace("LONG: int = 12", "LONG: int = 13"), path) != same
    assert mutating.fingerprint("1 +", path) is None


def test_a_change_is_told_by_its_line() -> None:
    changed = TEXT.replace("long / short if", "long * short if")
    before, after = (f"return long {sign} short if short > 0 else None" for sign in "/*")
    assert mutating.difference(TEXT, changed) == (18, before, after)


def test_lines_that_run_when_the_file_is_loaded_are_told_from_those_of_functions() -> None:
    """A constant, a default and a decorator run when the file is loaded, a body when it is called."""
    lines, inside = TEXT.splitlines(), mutating.inside_functions(TEXT)
    assert [lines[number - 1].strip() for number in sorted(inside)] == [
        "return self.length / 2",
        "return long / short if short > 0 else None",
        "return LONG * times",
    ]
