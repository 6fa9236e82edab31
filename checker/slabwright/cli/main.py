"""The command line: ``slabwright review``, ``rulebook``, ``teach``, ``draw``, ``order``, ``begin`` and the rest.

Nothing a user does ends in a traceback: problems in files go to standard error with their place
and a remedy. Help answers at once, for each command loads what it needs when it runs.
"""

from __future__ import annotations

import argparse
import atexit
import gc
import io
import os
import signal
import sys
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from types import FrameType
from typing import BinaryIO, cast

from slabwright.cli import commands, first_words
from slabwright.cli.arguments import parser
from slabwright.cli.options import UNREADABLE
from slabwright.source.files import STANDARD, standard_input
from slabwright.source.problem import Problem, UnreadableError, refuse
from slabwright.text import letters, outputs, screen

FINE, FAILED, STOPPED = 0, 3, 130

# Objects made before Python looks for cycles among them: a review makes many records and hardly any cycles, and at the
# usual 700 the looking takes a sixth of its time.
CYCLES_AFTER = 200_000


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command; returns the exit status."""
    gc.set_threshold(CYCLES_AFTER, 20, 50)
    atexit.register(gc.freeze)  # the end frees all; to look for cycles first takes a thirtieth of a review
    _open_streams()
    with _ends_like_ctrl_c():
        return _guarded(argv)


@contextmanager
def _ends_like_ctrl_c() -> Iterator[None]:
    """Let a request to end (SIGTERM) do what Ctrl-C does: nothing is left half written."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return

    def stop(number: int, frame: FrameType | None) -> None:
        raise KeyboardInterrupt

    before = signal.signal(signal.SIGTERM, stop)
    try:
        yield
    finally:
        signal.signal(signal.SIGTERM, before)


def _guarded(argv: Sequence[str] | None) -> int:
    """Run one command, and say in one line what kept it from its end."""
    try:
        status = _run(argv)
        sys.stdout.flush()
        return status
    except KeyboardInterrupt:
        print("\nstopped", file=sys.stderr)
        return STOPPED
    except OSError as error:
        return _failed(f"could not go on: {error.strerror or error}")
    except RecursionError:
        return _failed("could not go on: the file is nested too deep")
    except MemoryError:
        return _failed("could not go on: not enough memory")
    except Exception as error:
        return _failed(_located(error))


def _open_streams() -> None:
    """Give a closed standard output or error (``>&-``) somewhere to go, and let a reader leave when it has enough."""
    for name in ("stdout", "stderr"):
        stream = getattr(sys, name)
        if stream is None:
            setattr(sys, name, os.fdopen(os.open(os.devnull, os.O_WRONLY), "w", encoding="utf-8"))
        elif stream is getattr(sys, f"__{name}__") and not stream.isatty():
            raw = outputs.Pipe(stream.fileno(), "wb", closefd=False)
            buffered = isinstance(stream.buffer, io.BufferedWriter)
            piped = io.TextIOWrapper(
                cast(BinaryIO, io.BufferedWriter(raw) if buffered else raw),
                encoding=stream.encoding,
                errors=stream.errors,
                line_buffering=stream.line_buffering,
                write_through=stream.write_through,
            )
            setattr(sys, name, piped)


def _run(argv: Sequence[str] | None) -> int:
    whole = parser()
    if "_ARGCOMPLETE" in os.environ:  # a shell asks what may come next
        from slabwright.cli import completing  # 4 ms

        completing.offer(whole)
    try:
        words = first_words.look(sys.argv[1:] if argv is None else argv, whole)
        arguments, unknown = whole.parse_known_args(words)
        if arguments.command == "review":  # files may stand on both sides of an option
            arguments.files += [word for word in unknown if not word.startswith("-")]
            unknown = [word for word in unknown if word.startswith("-")]
        first_words.look_at_options(unknown, words, whole)
        if arguments.version:
            return _version()
        if arguments.command is None:
            first_words.tell(sys.stderr)
            return UNREADABLE
        screen.color(arguments.color)
        with outputs.claimed(_standard(arguments)):
            return commands.named(arguments.command)(arguments)
    except UnreadableError as error:
        return _refused(error.problems)


def _standard(arguments: argparse.Namespace) -> bool:
    """Whether standard output is for a file's text alone; - may be read once, and written once.

    Raises :class:`UnreadableError` for more than that.
    """
    standard_input.cache_clear()
    given = {name: [value] if isinstance(value, str) else value or [] for name, value in vars(arguments).items()
             if isinstance(value, str | list)}  # fmt: skip
    read = [name for name in _READ for value in given.get(name, ()) if value == STANDARD]
    written = [name for name in _WRITTEN if STANDARD in given.get(name, ())]
    if len(read) > 1 or (read and len(given.get("files", ())) > 1):
        refuse("", "- is standard input, and it can be read once, as one file", "the names of the other files")
    if read and (getattr(arguments, "watch", False) or getattr(arguments, "hook", False)):
        refuse("", "standard input is no file that could be watched or committed", "the name of a file")
    if len(written) + sum(bool(getattr(arguments, name, False)) for name in ("json", "csv")) > 1:
        refuse("", "only one thing can go to standard output", "a file for each of the others")
    return bool(written)


_READ = ("file", "files", "amendments", "prices", "as_shot", "against", "check")
_WRITTEN = ("out", "sheet", "page", "sarif", "put_right")


def _version() -> int:
    from slabwright.cli.release import release  # 8 ms

    number = release()
    print(f"slabwright {number}" if number else "slabwright, from a checkout that is not installed")
    return FINE


def _refused(problems: Sequence[Problem]) -> int:
    """Print the problems of a file, with its lines, to standard error."""
    from slabwright.writers import problem_list  # 4 ms of a help page

    sys.stdout.flush()
    problem_list.write(problems, sys.stderr)
    return UNREADABLE


def _failed(what: str) -> int:
    sys.stderr.write(letters.spell(letters.visible(f"slabwright: {what}"), screen.stream_encoding(sys.stderr)) + "\n")
    return FAILED


def _located(error: Exception) -> str:
    """A defect of the program in one line: what, and where in the program."""
    at = error.__traceback__
    while at is not None and at.tb_next is not None:
        at = at.tb_next
    where = f"{Path(at.tb_frame.f_code.co_filename).name}, line {at.tb_lineno}" if at is not None else "nowhere"
    return f"the program itself failed, and the file is not judged: {type(error).__name__}: {error} ({where})"
