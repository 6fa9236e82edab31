"""What is said to somebody who writes no command yet, or a file in its place: the next useful thing."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import TextIO

from slabwright.source.files import SUFFIX, designs_in
from slabwright.source.problem import refuse


def tell(stream: TextIO) -> None:
    """Print what to run next: a design that stands here is named."""
    import shlex

    from slabwright.text.sheet import spell, stream_encoding, visible

    here = designs_in(Path())
    named = shlex.quote(str(here[0])) if here else f"FILE{SUFFIX}"
    rows = [
        (f"slabwright review {named}", "checks a plan before the truck comes"),
        ("slabwright begin", "asks eight questions and writes a design"),
        ("slabwright teach", "tells what is checked, and why"),
        ("slabwright -h", "lists all commands"),
    ]
    if not here:  # nothing to review yet
        rows[:2] = rows[1::-1]
    wide = max(len(command) for command, _ in rows)
    lines = ["write one of these commands:", *(f"  {command:<{wide}}  {what}" for command, what in rows)]
    if len(here) > 1:
        lines.append(f"{len(here)} designs stand in this folder; slabwright review . checks all of them")
    encoding = stream_encoding(stream)
    stream.write("".join(spell(visible(line), encoding) + "\n" for line in lines))


def look(argv: Sequence[str], parser: argparse.ArgumentParser) -> None:
    """Refuse a first word that is no command: a file is to be reviewed, and a mistyped command has one near it.

    Raises :class:`UnreadableError`.
    """
    word = argv[0] if argv else ""
    commands = next(action.choices for action in parser._actions if isinstance(action, argparse._SubParsersAction))
    if not word or word.startswith("-") or word in commands:
        return
    if Path(word).suffix in (".yaml", ".yml") or "/" in word:
        refuse("", f'"{word}" is a file, and no command stands before it', f"slabwright review {word}")
    from difflib import get_close_matches

    near = get_close_matches(word.lower(), commands, 1)
    refuse("", f'there is no command "{word}"', f"slabwright {near[0]}" if near else f"one of: {', '.join(commands)}")
