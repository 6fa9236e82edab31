"""The text of a file: one that exists, is no larger than a design can be, and is UTF-8."""

from __future__ import annotations

import os
import stat
import sys
from functools import lru_cache
from itertools import islice
from pathlib import Path

from slabwright.source.alike import most_like
from slabwright.source.place import Place
from slabwright.source.problem import Problem, UnreadableError, refuse

SUFFIX = ".slab.yaml"  # of designs, by custom
LOOKED_AT = 2000  # names of a folder, for one that is meant
FIRM_FILE = ".slabwright.yaml"  # a firm's settings, in the folder of a design or above it
STANDARD = "-"  # standard input, where a file is read, and standard output, where one is written
BYTES_AT_MOST = 8_000_000
LEAST_READ = 65_536  # bytes; some systems say 0 for files that hold something


def is_folder(path: Path) -> bool:
    """Whether it is a folder; unlike ``Path.is_dir``, of a path that may not be looked at it says no."""
    return stat.S_ISDIR(_mode(path))


def is_ordinary(path: Path) -> bool:
    """Whether it is an ordinary file; of a path that may not be looked at it says no."""
    return stat.S_ISREG(_mode(path))


def repository_of(folder: Path) -> Path | None:
    """The root of the repository that a folder, given by its real path, stands in; None where it is in none."""
    return next((one for one in (folder, *folder.parents) if os.path.lexists(one / ".git")), None)


def _mode(path: Path) -> int:
    try:
        return path.stat().st_mode
    except (OSError, ValueError):
        return 0


def designs_in(folder: Path) -> list[Path]:
    """The designs that stand in a folder itself, in order of their names; none where it may not be looked into."""
    try:
        with os.scandir(folder) as entries:
            names = [one.name for one in islice(entries, LOOKED_AT)]
    except (OSError, ValueError):
        return []
    return [folder / name for name in sorted(names) if name.endswith(SUFFIX) and not name.startswith(".")]


def _there_is(path: Path) -> str:
    """What to write instead of the name of a file that is not there."""
    try:
        names = [one.name for one in islice(path.parent.iterdir(), LOOKED_AT)]
    except (OSError, ValueError):
        return "check the name and the folder"
    ending = "".join(path.suffixes[-2:]) if path.name.endswith(SUFFIX) else path.suffix
    alike = [name for name in names if name.endswith(ending or SUFFIX) and not name.startswith(".")]
    if near := most_like(path.name, alike):
        return str(path.parent / near)
    if ending not in ("", ".yaml", ".yml", SUFFIX):
        return "check the name and the folder"
    if designs := designs_in(path.parent):
        return f"a design of this folder, such as {designs[0]}"
    return "check the name and the folder; slabwright begin writes a design to start from"


def read_text(path: Path) -> str:
    """The text of a file, which must be UTF-8 (with or without a byte order mark) and at most 8 MB; - is the input.

    :raises UnreadableError: for a file that is missing, too large, or not text.
    """
    name = str(path)

    def refuse(wrong: str, write: str) -> UnreadableError:
        return UnreadableError((Problem(Place(name), wrong, write),))

    try:
        if str(path) == STANDARD:
            return _text(standard_input(), name)
        status = path.stat()
        if not stat.S_ISREG(status.st_mode):
            if stat.S_ISDIR(status.st_mode):
                os.scandir(path).close()
            kind = "a folder" if stat.S_ISDIR(status.st_mode) else "not an ordinary file"
            raise refuse(f"this is {kind}", "give the name of a file")
        if status.st_size > BYTES_AT_MOST:
            size = f"{status.st_size / 1e6:,.0f} MB"
            raise refuse(f"this file holds {size}; at most 8 MB is read", "check that it is the right file")
        with path.open("rb") as stream:
            raw = stream.read(max(status.st_size, LEAST_READ) + 1)  # a buffer of 8 MB takes longer than the file
    except FileNotFoundError:
        if path.is_symlink():
            raise refuse("this link leads to no file", "let it lead to a file that is there, or take it away") from None
        raise refuse("there is no such file", _there_is(path)) from None
    except PermissionError:
        closed = "folder may not be entered" if is_folder(path) else "file may not be opened"
        raise refuse(f"this {closed}", "ask for leave to read it") from None
    except (OSError, ValueError) as reason:
        what = getattr(reason, "strerror", None) or "its name is not possible"
        raise refuse(f"this file could not be opened: {str(what).lower()}", "check the name and the folder") from None
    return _text(raw, name)


@lru_cache(maxsize=1)
def standard_input() -> bytes:
    """What is piped or typed into the program, read once; no more of it than a file may hold.

    :raises UnreadableError: for more than that.
    """
    raw = sys.stdin.buffer.read(BYTES_AT_MOST + 1) if sys.stdin is not None else b""
    if len(raw) > BYTES_AT_MOST:
        wrong, write = "the input holds more than 8 MB", "check that it is the right file"
        refuse(STANDARD, wrong, write)
    return raw


def _text(raw: bytes, name: str) -> str:
    def refuse(wrong: str, write: str, line: int = 1, column: int = 1) -> UnreadableError:
        return UnreadableError((Problem(Place(name, line, column), wrong, write),))

    if raw.startswith((b"\xff\xfe", b"\xfe\xff")) or b"\x00" in raw[:4]:
        raise refuse("this file is not plain text, or is saved as UTF-16 or UTF-32", "save it again as UTF-8")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as reason:
        start = raw.rfind(b"\n", 0, reason.start) + 1
        line = raw.count(b"\n", 0, reason.start) + 1
        column = len(raw[start : reason.start].decode("utf-8", "replace")) + 1
        raise refuse("a letter here is not UTF-8", "save the file again as UTF-8", line, column) from None
