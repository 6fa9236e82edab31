"""No command writes over what it reads: outputs are held against inputs before anything is judged."""

from __future__ import annotations

import argparse
import os
import stat
import sys
from collections.abc import Iterator, Sequence
from contextlib import suppress
from pathlib import Path

from slabwright.review import firm
from slabwright.source.files import STANDARD
from slabwright.source.problem import UnreadableError, refuse
from slabwright.text.outputs import fit

OPTIONS = ("sheet", "sarif", "page", "out")  # of all commands, those that name a file to write

_Identity = tuple[int, int]


def guard(arguments: argparse.Namespace, designs: Sequence[Path]) -> None:
    """Refuse, before anything is judged, to write to what a command reads or to what no output may be.

    Raises :class:`UnreadableError` with the option that names such a file.
    """
    named = ((option, getattr(arguments, option, None)) for option in OPTIONS)
    given = [(Path(name), f"--{option}") for option, name in named if name and name != STANDARD]
    told: dict[_Identity, tuple[str, str]] = {}
    for path, option in given:
        fit(path, option)
        if (identity := _identity(path)) is not None:
            told[identity] = (str(path), option)
    if len({path.absolute() for path, _ in given}) < len(given):
        refuse(str(given[1][0]), "two outputs have this name", "a name of its own for each")
    if (identity := _printed_into()) is not None:
        told[identity] = ("", "the output")
    if not told:
        return
    texts = [path for path, _ in given if path.suffix.lower() == ".txt"]
    for one in _inputs(arguments, designs, texts):
        if (identity := _identity(one)) in told:
            name, option = told[identity]
            wrong = "this command reads this file" if name else f"this command reads {one}, and would print into it"
            refuse(name, wrong, f"{option} with the name of another file" if name else "> another file")


def _inputs(arguments: argparse.Namespace, designs: Sequence[Path], texts: Sequence[Path]) -> Iterator[Path]:
    """The files that a command reads; of readings those that have the name of one of ``texts``."""
    for option in ("amendments", "prices", "as_shot", "against", "survey"):
        value = getattr(arguments, option, None) or ()
        yield from map(Path, (value,) if isinstance(value, str) else value)
    seen: set[Path] = set()
    for design in designs:
        yield design
        if (found := firm.find(design)) is not None and found not in seen:
            seen.add(found)
            yield found
            with suppress(UnreadableError):  # the review tells
                yield from firm.read(found).amendments
        if texts:
            from slabwright.design.shots import readings_of  # 4 ms

            yield from readings_of(design, [path.name for path in texts])


def _identity(path: Path) -> _Identity | None:
    """What tells a file from all others, by whatever name; None where there is none."""
    try:
        status = path.stat()
    except (OSError, ValueError):
        return None
    return (status.st_dev, status.st_ino) if stat.S_ISREG(status.st_mode) else None


def _printed_into() -> _Identity | None:
    """The file that standard output goes into, if it is one."""
    try:
        status = os.fstat(sys.stdout.fileno())
    except (OSError, ValueError):  # a stream that is no file has no number
        return None
    return (status.st_dev, status.st_ino) if stat.S_ISREG(status.st_mode) else None
