"""A small sound design as text, with sections replaced, for tests of reading. Tests import it by name."""

from __future__ import annotations

from pathlib import Path

from slabwright.design.read import read_design
from slabwright.source.problem import Problem, UnreadableError
from slabwright.text.words import written

SECTIONS = {
    "format": "1",
    "job": "{name: Pad}",
    "units": "{plan: ft, height: ft}",
    "use": "patio",
    "points": "{A: [0, 0], B: [12, 0], C: [12, 10], D: [0, 10]}",
    "outline": "[A, B, C, D]",
    "thickness": "{design: 4 in}",
}


def text_of(**changes: str | None) -> str:
    """The sound design with sections replaced, added or left out (None); one that starts with a line end is a block."""
    sections = {key: value for key, value in {**SECTIONS, **changes}.items() if value is not None}
    return "".join(f"{key}:{value if value.startswith(chr(10)) else ' ' + value}\n" for key, value in sections.items())


def saved(folder: Path, **changes: str | None) -> Path:
    """The design of :func:`text_of` in a file of ``folder``."""
    path = folder / "pad.slab.yaml"
    path.write_text(text_of(**changes), encoding="utf-8")
    return path


def told(problems: tuple[Problem, ...]) -> list[tuple[int, int, str, str]]:
    """Line, column, what is wrong and what to write, of each."""
    return [(each.place.line, each.place.column, each.wrong, each.write) for each in problems]


def refused(path: Path) -> list[tuple[int, int, str, str]]:
    """What is told about a file that cannot be read; fails when it can."""
    try:
        read_design(path)
    except UnreadableError as reason:
        return told(reason.problems)
    raise AssertionError(f"{path.name} was read")


def asked(path: Path) -> list[tuple[int, int, str, str]]:
    """What is asked about a file that can be read, as a review in feet and inches puts it."""
    found = told(read_design(path)[1])
    return [(line, column, written(wrong, "us"), written(write, "us")) for line, column, wrong, write in found]
