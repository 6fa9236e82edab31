"""``review --watch``: review again whenever a design, its readings, the firm file or its amendments are saved."""

from __future__ import annotations

import re
import sys
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import NoReturn

from slabwright.review import firm
from slabwright.review.reviewing import Settings
from slabwright.source.files import is_folder, read_text
from slabwright.source.problem import UnreadableError, refuse
from slabwright.text.outputs import reader_gone
from slabwright.writers import problem_list

KINDS = (".yaml", ".yml", ".csv", ".py")  # designs, firm files and amendments; readings; a firm's own rules
_READINGS = re.compile(r"[^\s:,\[\]{}\"']+\.csv")


def folders(names: Sequence[str], settings: Settings) -> tuple[set[Path], set[Path]]:
    """The folders to look at: those of single files, and those to look through with all below them."""
    flat: set[Path] = set()
    deep: set[Path] = set()
    for name in names:
        path = Path(name)
        if is_folder(path):
            deep.add(path.resolve())
        else:
            flat.add(path.resolve().parent)
            below = ((path.parent / readings).resolve().parent for readings in _readings(path))
            flat |= {folder for folder in below if folder.is_relative_to(path.resolve().parent)}
        found = firm.above(path) if is_folder(path) else firm.find(path)
        if found:
            flat.add(found.parent)
            flat |= {one.resolve().parent for one in _amendments(found)}
    flat |= {path.resolve().parent for path in settings.amendments}
    deep |= {settings.rules.resolve()} if settings.rules else set()
    return set(filter(is_folder, flat)), set(filter(is_folder, deep))


def _readings(path: Path) -> list[str]:
    try:
        return _READINGS.findall(read_text(path))
    except UnreadableError:
        return []


def _amendments(found: Path) -> Sequence[Path]:
    try:
        return firm.read(found).amendments
    except UnreadableError:
        return ()


def saves(names: Sequence[str], settings: Settings) -> Iterator[None]:
    """Gives a turn after each save (many at once count as one), until it is interrupted.

    Raises :class:`UnreadableError` when the package that notices saves is not there.
    """
    try:
        import watchfiles  # installed where it is wanted
    except ImportError:
        _lacking()
    flat, deep = folders(names, settings)

    def matters(_: object, changed: str) -> bool:
        path = Path(changed)
        below = any(folder in path.parents for folder in deep)
        return path.suffix in KINDS and (below or path.parent in flat)

    recursive = bool(deep)
    for _ in watchfiles.watch(
        *(flat | deep), watch_filter=matters, recursive=recursive, debounce=400, step=50, raise_interrupt=True
    ):
        yield None


def _lacking() -> NoReturn:
    wrong = "--watch needs the package watchfiles, which is not installed here"
    refuse("", wrong, "pip install 'slabwright[watch]'")


def watch(review: Callable[[], int], names: Sequence[str], settings: Settings) -> int:
    """Review now and after each save until Ctrl-C; returns the status of the last review."""
    status = _once(review)
    try:
        for _ in () if reader_gone() else saves(names, settings):
            sys.stdout.write("\n")
            status = _once(review)
            if reader_gone():
                break
    except KeyboardInterrupt:
        print("\nno longer watching", file=sys.stderr)
    return status


def _once(review: Callable[[], int]) -> int:
    problem_list.forget()
    try:
        status = review()
    except UnreadableError as error:
        sys.stdout.flush()
        problem_list.write(error.problems, sys.stderr)
        status = 2
    print("watching for the next save; Ctrl-C ends it", file=sys.stderr)
    sys.stdout.flush()
    sys.stderr.flush()
    return status
