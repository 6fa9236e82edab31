"""Problems in a file as text: what is wrong and where, that line with a caret, and what to write instead."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache
from pathlib import Path
from typing import TextIO

from slabwright.source.files import STANDARD, standard_input
from slabwright.source.place import Place
from slabwright.source.problem import PROBLEMS_AT_MOST, Problem, UnreadableError
from slabwright.text.screen import fitting_width, put, stream_encoding
from slabwright.text.sheet import Line, Sheet

IN_FULL = 50
LARGEST_QUOTED = 5_000_000  # bytes; no line of a larger file is quoted

_LINE_END = re.compile("\r\n|\r|\n")  # as the reading counts lines


def write(problems: Sequence[Problem], stream: TextIO) -> None:
    """Write the problems to a stream."""
    put(listed(problems, fitting_width(stream), stream_encoding(stream)), stream)


def listed(problems: Sequence[Problem], width: int = 80, encoding: str = "utf-8") -> list[Line]:
    """The lines of the list; of very many problems the first 50 and a count of the rest.

    The first line of each, ``file:line:column: what is wrong``, is left whole however long, so that editors can
    read it. A place without a file is the command line.
    """
    page = Sheet(width, encoding)
    for problem in problems[:IN_FULL]:
        page.whole(f"{problem.place if problem.place.file else 'slabwright'}: {problem.wrong}", tone="strong")
        source = source_line(problem.place)
        if source.strip():
            page.quoted(source, problem.place.column, indent=4)
        if problem.write:
            page.paragraph(f"write: {problem.write}", indent=2, hang=7)
    rest = len(problems) - IN_FULL
    if rest > 0:
        least = "at least " if len(problems) >= PROBLEMS_AT_MOST else ""
        page.whole(f"and {least}{rest:,} more; settle these first")
    return page.lines


def source_line(place: Place) -> str:
    """The line of the file a place points into; empty when it cannot be read, or the place is the whole file."""
    if (place.line, place.column, place.path) == (1, 1, ""):
        lines = _lines(place.file)
        return lines[0] if len(lines) == 1 else ""
    lines = _lines(place.file)
    return lines[place.line - 1] if 0 < place.line <= len(lines) else ""


def forget() -> None:
    """Read quoted files anew next time: they may have been saved since."""
    _lines.cache_clear()


@lru_cache(maxsize=4)
def _lines(file: str) -> tuple[str, ...]:
    try:
        path = Path(file)
        if file == STANDARD:
            return tuple(_LINE_END.split(standard_input().decode("utf-8-sig", "replace")))
        if not path.is_file() or path.stat().st_size > LARGEST_QUOTED:
            return ()
        data = path.read_bytes()
    except (OSError, ValueError, UnreadableError):
        return ()
    return tuple(_LINE_END.split(data.decode("utf-8-sig", "replace")))
