"""What goes out of the program beside sheets: data on standard output, and whole files."""

from __future__ import annotations

import os
import sys
import tempfile
from pathlib import Path

from slabwright.source.problem import refuse


def put_data(text: str) -> None:
    """Data goes out in UTF-8, whatever the terminal is set to."""
    raw = getattr(sys.stdout, "buffer", None)
    if raw is None:
        sys.stdout.write(text)
    else:
        sys.stdout.flush()
        raw.write(text.encode("utf-8", "replace"))
        raw.flush()


def keep(path: Path, text: str, option: str) -> None:
    """Write a file whole or not at all: what was there stays until the new text is complete.

    Raises :class:`UnreadableError` when it cannot be written.
    """
    try:
        if path.exists() and not path.is_file():  # a device or a pipe is written to as it is
            path.write_text(text, encoding="utf-8", errors="replace", newline="\n")
            return
        with tempfile.NamedTemporaryFile(
            "w",
            encoding="utf-8",
            errors="replace",
            newline="\n",
            dir=path.parent,
            prefix=f".{path.name}.",
            delete=False,
        ) as stream:
            stream.write(text)
        scratch = Path(stream.name)
        mask = os.umask(0)
        os.umask(mask)
        scratch.chmod(path.stat().st_mode & 0o777 if path.exists() else 0o666 & ~mask)
        scratch.replace(path)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        refuse(str(path), f"it cannot be written: {reason}", f"{option} with another name")
