"""The quick check of structure agrees with the thorough one, on the benchmark's own designs too."""

from __future__ import annotations

import importlib.util
from collections.abc import Iterator
from itertools import islice
from pathlib import Path
from types import ModuleType
from typing import Any

import jsonschema_rs
import pytest
from checkout import ROOT
from jsonschema import Draft202012Validator
from slabwright.design import schema_gate
from slabwright.design.read import read_design
from slabwright.design.schema_gate import schema_named
from slabwright.source.problem import UnreadableError


@pytest.fixture(scope="module")
def repository() -> ModuleType:
    """The benchmark's generator of designs."""
    spec = importlib.util.spec_from_file_location("repository", ROOT / "tests" / "benchmarks" / "repository.py")
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def broken(text: str) -> Iterator[str]:
    """The text with one line left out, doubled in value or named otherwise, line by line.

    Of every fourth of them each way comes in turn.
    """
    lines = text.splitlines(keepends=True)
    for at, line in enumerate(lines):
        yield "".join(lines[:at] + lines[at + 1 :])
        yield "".join([*lines[:at], line.replace(": ", ": 7", 1), *lines[at + 1 :]])
        yield "".join([*lines[:at], line.replace(": ", "s: ", 1), *lines[at + 1 :]])


def test_the_quick_structure_check_agrees_with_the_thorough_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen: list[Any] = []
    real = schema_gate.structure_check.check

    def kept(plain: Any, *rest: Any) -> None:
        seen.append(plain)
        real(plain, *rest)

    monkeypatch.setattr(schema_gate.structure_check, "check", kept)
    path = tmp_path / "pad.slab.yaml"
    sound = (ROOT / "example_designs" / "jobs" / "trailer_bay.slab.yaml").read_text(encoding="utf-8")
    for text in (sound, *islice(broken(sound), 0, None, 4)):
        path.write_text(text, encoding="utf-8")
        try:
            read_design(path)
        except UnreadableError:
            continue
    schema = schema_named("design")
    quick, thorough = jsonschema_rs.Draft202012Validator(schema), Draft202012Validator(schema)
    answers = [(quick.is_valid(plain), thorough.is_valid(plain)) for plain in seen]
    assert {one for one, _ in answers} == {True, False}
    assert [at for at, (one, other) in enumerate(answers) if one != other] == []


def test_the_generated_repository_is_what_it_says(repository: ModuleType, tmp_path: Path) -> None:
    paths = repository.write_repository(tmp_path, designs=100, broken=0.05)
    lengths = [len(path.read_text(encoding="utf-8").splitlines()) for path in paths]
    assert min(lengths) >= 20 and max(lengths) <= 60
    unread = 0
    for path in paths:
        try:
            read_design(path)
        except UnreadableError:
            unread += 1
    assert unread == 5
    assert repository.reference(paths[:3]) > 0
