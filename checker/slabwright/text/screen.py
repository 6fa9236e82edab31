"""Where a sheet is shown: the width and the letters of a stream, and its lines written there, in color where it fits.

Tones of a line turn into color on a terminal, and into nothing everywhere else.
"""

import os
import sys
from typing import Literal, TextIO

from slabwright.text.sheet import USUAL, Line, Tone, plain

When = Literal["auto", "always", "never"]

NARROWEST = 60
WIDEST = 100

# Only bold, red and magenta: of the eight colors every terminal has, these read on white and on black alike.
_COLORS: dict[Tone, str] = {
    "": "",
    "strong": "bold",
    "hold": "bold red",
    "caution": "bold magenta",
    "note": "bold",
    "met": "bold",
}


def stream_encoding(stream: TextIO) -> str:
    """The encoding of a stream; UTF-8 where it has none of its own."""
    return getattr(stream, "encoding", None) or "utf-8"


def fitting_width(stream: TextIO, asked: int | None = None) -> int:
    """Columns to set for: ``asked``, else those of the terminal between 60 and 100, else 80."""
    if asked is not None:
        return max(NARROWEST, asked)
    if not _is_terminal(stream):
        return USUAL
    from shutil import get_terminal_size  # 2 ms, for what it knows of archives

    return min(WIDEST, max(NARROWEST, get_terminal_size((USUAL, 24)).columns))


def screen(asked: int | None = None) -> tuple[int, str]:
    """Columns to set for and the encoding of what is printed; ``asked`` as in :func:`fitting_width`."""
    return fitting_width(sys.stdout, asked), stream_encoding(sys.stdout)


_when: list[When] = ["auto"]


def color(when: When) -> None:
    """Say when color is wanted from now on; ``auto`` leaves it to the stream and the environment."""
    _when[0] = when


def in_color(stream: TextIO) -> bool:
    """Whether color belongs on this stream.

    What ``--color`` says comes first; then nobody asked for none (``NO_COLOR``), and somebody asked for it
    (``FORCE_COLOR``), or it is a terminal that can.
    """
    if _when[0] != "auto":
        return _when[0] == "always"
    if os.environ.get("NO_COLOR"):
        return False
    forced = os.environ.get("FORCE_COLOR", "")
    if forced:
        return forced != "0"
    return _is_terminal(stream) and os.environ.get("TERM") != "dumb"


def _is_terminal(stream: TextIO) -> bool:
    return bool(getattr(stream, "isatty", lambda: False)())


def put(lines: list[Line], stream: TextIO) -> None:
    """Write the lines: with color on a terminal that takes it, as plain text anywhere else."""
    if not in_color(stream):
        stream.write(plain(lines))
        return
    from rich.console import Console  # costs 70 ms: only where color is wanted
    from rich.text import Text

    page = Text(no_wrap=True, overflow="ignore")
    for line in lines:
        for run in line:
            page.append(run.text, _COLORS[run.tone])
        page.append("\n")
    forced = None if _is_terminal(stream) else True
    console = Console(
        file=stream, highlight=False, markup=False, emoji=False, no_color=False, force_terminal=forced,
        color_system="auto" if forced is None else "standard",
    )  # fmt: skip
    console.print(page, soft_wrap=True, end="")
