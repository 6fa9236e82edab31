"""What goes out of the program beside sheets: data on standard output, and whole files.

No file is written over that this program reads: a design, readings, amendments, a firm file, a rule. None is written
through a symbolic link, and none is left half written.
"""

from __future__ import annotations

import errno
import io
import os
import re
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, redirect_stdout
from pathlib import Path, PurePath
from typing import Any, NoReturn, TextIO

from slabwright.source.files import BYTES_AT_MOST, FIRM_FILE, STANDARD
from slabwright.source.problem import refuse
from slabwright.text.letters import spell, visible
from slabwright.text.screen import stream_encoding

WINDOWS = os.name == "nt"
READ = (".yaml", ".yml", ".csv", ".py")  # designs, firm files and amendments; readings; a firm's own rules

# Of amendments too. A kept sheet quotes such a line further in.
_DESIGN = rb"""(?m)^(?:\xef\xbb\xbf)?(?:\{\s*)?["']?format["']?\s*:\s*["']?1\b"""


class Pipe(io.FileIO):
    """Standard output or error. When its reader has left, what is written goes nowhere, and the work goes on."""

    gone = False

    def write(self, data: Any, /) -> int:
        """Write some bytes; how many."""
        if not self.gone:
            try:
                return super().write(data)
            except OSError as error:
                if not _nobody_reads(error):
                    raise
                self.gone = True
        return memoryview(data).nbytes


def _nobody_reads(error: OSError) -> bool:
    """Whether a write failed since its reader has left; Windows says that an argument is wrong."""
    return isinstance(error, BrokenPipeError) or (WINDOWS and error.errno == errno.EINVAL)


def reader_gone() -> bool:
    """Whether whoever read standard output has left."""
    buffer = getattr(sys.stdout, "buffer", None)
    return bool(getattr(getattr(buffer, "raw", buffer), "gone", False))


_claimed: list[TextIO] = []


@contextmanager
def claimed(by_data: bool) -> Iterator[None]:
    """Keep standard output for data alone, where ``by_data``: what people read goes to standard error meanwhile."""
    if not by_data:
        yield
        return
    _claimed.append(sys.stdout)
    try:
        with redirect_stdout(sys.stderr):
            yield
    finally:
        _claimed.pop()


def put_data(text: str) -> None:
    """Data goes out in UTF-8, whatever the terminal is set to."""
    stream = _claimed[-1] if _claimed else sys.stdout
    raw = getattr(stream, "buffer", None)
    if raw is None:
        stream.write(text)
    else:
        stream.flush()
        raw.write(text.encode("utf-8", "replace"))
        raw.flush()


def wrote(path: Path, after: str = "") -> None:
    """Say which file was written, and what may come next."""
    if str(path) != STANDARD:
        say(f"wrote {path}{after}")


def say(line: str) -> None:
    """One line for people, in letters that standard output can spell."""
    print(spell(visible(line), stream_encoding(sys.stdout)))


def fit(path: Path, option: str, new: bool = False) -> None:
    """Refuse what no output may be, whatever the command reads; a ``new`` file may be a design."""
    if str(path) == STANDARD:
        return
    if WINDOWS and (trap := windows_trap(path)):
        refuse(str(path), trap, f"{option} with another name")
    if path.name.lower() == FIRM_FILE:
        refuse(str(path), "this is the name of a firm file", f"{option} with another name")
    if not new and path.suffix.lower() in READ:
        wrong = f"{path.suffix} files are read here, as designs, settings, readings or rules; none is written over"
        refuse(str(path), wrong, f"{option} with a name that ends otherwise, as in {path.stem or 'review'}.txt")
    here = Path.cwd()
    typed = path.parents if not path.is_absolute() else [one for one in path.parents if here in one.parents]
    for one in (path, *typed):
        if _is_link(one):
            which = "this is a link" if one is path else f"{one} is a link"
            refuse(str(path), f"{which}, and nothing is written through one", f"{option} with the name it leads to")
    if not new and path.is_file() and _holds_a_design(path):
        refuse(str(path), "a design, or local amendments, stand in this file", f"{option} with another name")


def windows_trap(path: PurePath) -> str:
    """What Windows would write to in place of a file of this name; nothing for most names.

    >>> from pathlib import PureWindowsPath
    >>> windows_trap(PureWindowsPath("jobs/con.html")), windows_trap(PureWindowsPath("C:/jobs/review.txt"))
    ('this is the name of a device on Windows', '')
    >>> windows_trap(PureWindowsPath("pad.slab.yaml::$DATA"))
    'Windows writes a name with a colon into the file before the colon'
    >>> windows_trap(PureWindowsPath("shots.csv."))
    'Windows drops the dot or blank at the end, and writes another file'
    """
    for part in path.parts[1:] if path.anchor else path.parts:
        if re.fullmatch(_DEVICE, part.partition(".")[0].rstrip()):
            return "this is the name of a device on Windows"
        if ":" in part:
            return "Windows writes a name with a colon into the file before the colon"
        if part not in {".", ".."} and part.endswith((".", " ")):
            return "Windows drops the dot or blank at the end, and writes another file"
    return ""


_DEVICE = "(?i)con|prn|aux|nul|conin\\$|conout\\$|(?:com|lpt)[0-9¹²³]"


def _is_link(path: Path) -> bool:
    try:
        return path.is_symlink()
    except (OSError, ValueError):  # writing it tells
        return False


def _holds_a_design(path: Path) -> bool:
    try:
        with path.open("rb") as stream:
            return re.search(_DESIGN, stream.read(BYTES_AT_MOST)) is not None
    except OSError:  # writing it tells
        return False


def keep(path: Path, content: str | bytes, option: str) -> None:
    """Write a file whole or not at all: what was there stays until the new text is complete.

    Raises :class:`UnreadableError` when it cannot be written, or is nothing to write over.
    """
    fit(path, option)
    if str(path) == STANDARD:
        put_data(content if isinstance(content, str) else content.decode("utf-8", "replace"))
        return
    try:
        if path.exists() and not path.is_file():  # a device or a pipe is written to as it is
            handle = os.open(path, os.O_WRONLY | getattr(os, "O_NOFOLLOW", 0))
            with os.fdopen(handle, "wb") as stream:
                stream.write(_encoded(content))
        else:
            _put_in_place(path, content)
    except (OSError, ValueError) as error:
        _cannot(path, error, option)


def keep_new(files: Mapping[Path, str], option: str) -> None:
    """Write new files, all of them or none; nothing is overwritten.

    Raises :class:`UnreadableError` when one is there already or cannot be written.
    """
    if any(str(path) == STANDARD for path in files):
        put_data("".join(files.values()))
        return
    made: list[Path] = []
    path = Path()
    try:
        for path in files:
            fit(path, option, new=True)
            path.open("x").close()  # nobody else can take the name from here on
            made.append(path)
        for path, text in files.items():
            _put_in_place(path, text)
    except BaseException as error:
        for one in made:
            one.unlink(missing_ok=True)
        if isinstance(error, FileExistsError):
            write = f"{option} with a new name; nothing is overwritten"
            refuse(str(path), "there is a file of this name already", write)
        if isinstance(error, OSError | ValueError):
            _cannot(path, error, option)
        raise


def _encoded(content: str | bytes) -> bytes:
    return content if isinstance(content, bytes) else content.encode("utf-8", "replace")


def _put_in_place(path: Path, content: str | bytes) -> None:
    """Let complete content take the place of a file; Windows lets none that another program has open."""
    scratch = _scratch(path, content)
    try:
        scratch.replace(path)
    except BaseException:
        scratch.unlink(missing_ok=True)
        raise


def _scratch(path: Path, content: str | bytes) -> Path:
    """A file beside ``path`` with this content and the rights that ``path`` has; none is left where it fails."""
    import tempfile  # 3 ms of a help page that writes nothing

    handle, name = tempfile.mkstemp(dir=path.parent, prefix=".slabwright.")
    scratch = Path(name)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(_encoded(content))
        mask = os.umask(0)
        os.umask(mask)
        scratch.chmod(path.stat().st_mode & 0o777 if path.exists() else 0o666 & ~mask)
    except BaseException:
        scratch.unlink(missing_ok=True)
        raise
    return scratch


def _cannot(path: Path, error: Exception, option: str) -> NoReturn:
    reason = getattr(error, "strerror", None) or str(error)
    refuse(str(path), f"it cannot be written: {reason}", f"{option} with another name")
