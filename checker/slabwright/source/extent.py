"""Where the value that stands at a place ends, for those who mark it: hosts of repositories and editors."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

import yaml

from slabwright.source.files import read_text
from slabwright.source.place import Place
from slabwright.source.problem import UnreadableError

_LOADER: Any = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
_LINE_END = re.compile("\r\n|\r|\n")  # as the reading counts lines

_Ends = Mapping[tuple[int, int], tuple[int, int]]


def end(place: Place) -> tuple[int, int]:
    """The line and column just behind the value at ``place``; of what is no value, behind its line.

    Both are 0 where the file cannot be read, or has no such line.
    """
    try:
        status = Path(place.file).stat()
        lines, ends = _read(place.file, status.st_mtime_ns, status.st_size)
    except (OSError, ValueError, UnreadableError):
        return 0, 0
    found = ends.get((place.line, place.column))
    if found is not None and found != (place.line, place.column):
        return found
    line = lines[place.line - 1].rstrip() if 0 < place.line <= len(lines) else ""
    return (place.line, len(line) + 1) if len(line) >= place.column else (0, 0)


@lru_cache(maxsize=4)
def _read(file: str, saved: int, size: int) -> tuple[list[str], _Ends]:
    """The lines of a file as it was saved, and where each value in it begins and ends; of two at one place the first
    that ends."""
    text = read_text(Path(file))
    ends: dict[tuple[int, int], tuple[int, int]] = {}
    opened: list[tuple[int, int]] = []
    try:
        for event in yaml.parse(text, Loader=_LOADER) if file.endswith((".yaml", ".yml")) else ():
            mark: Any = event.start_mark
            last: Any = event.end_mark
            if isinstance(event, yaml.CollectionStartEvent):
                opened.append((mark.line + 1, mark.column + 1))
            elif isinstance(event, yaml.CollectionEndEvent):
                ends.setdefault(opened.pop(), (last.line + 1, last.column + 1))
            elif isinstance(event, yaml.ScalarEvent):
                ends.setdefault((mark.line + 1, mark.column + 1), (last.line + 1, last.column + 1))
    except (yaml.YAMLError, RecursionError):  # what came before the trouble is known
        pass
    return _LINE_END.split(text), ends
