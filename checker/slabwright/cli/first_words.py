"""What is said to somebody who writes no command yet, or a file in its place: the next useful thing."""

from __future__ import annotations

import argparse
import shlex
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TextIO

from slabwright.source.alike import most_like
from slabwright.source.files import SUFFIX, designs_in, is_ordinary
from slabwright.source.problem import refuse
from slabwright.text.letters import spell, visible
from slabwright.text.screen import stream_encoding

WORDS = 12  # at most, in the name of a file that nobody quoted


def tell(stream: TextIO) -> None:
    """Print what to run next: a design that stands here is named."""
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


def look(argv: Sequence[str], parser: argparse.ArgumentParser) -> Sequence[str]:
    """The words as they are meant; ``help`` is the option. Refuses a first word that is no command.

    A file in its place is to be reviewed, and a mistyped command has one near it. Raises :class:`UnreadableError`.
    """
    word = argv[0] if argv else ""
    commands = _commands(parser)
    if word == "help":
        return [*argv[1:2], "-h"] if argv[1:2] and argv[1] in commands else ["-h"]
    if word == "propose" and len(argv) > 1 and argv[1].endswith((".yaml", ".yml")):
        wrong = "propose wants to know what: heights or joints"
        refuse("", wrong, f"slabwright propose joints {argv[1]}, or propose heights")
    _look_at_spaces(argv)
    if not word or word.startswith("-") or word in commands:
        return argv
    if Path(word).suffix in (".yaml", ".yml") or "/" in word:
        refuse("", f'"{word}" is a file, and no command stands before it', f"slabwright review {word}")
    near = most_like(word.lower(), commands)
    return refuse(
        "", f'there is no command "{word}"', f"slabwright {near}" if near else f"one of: {', '.join(commands)}"
    )


def _look_at_spaces(argv: Sequence[str]) -> None:
    """Refuse a file whose name has spaces in it and that was typed without quotes."""
    for first in range(len(argv)):
        for last in range(first + 2, min(first + WORDS, len(argv)) + 1):
            name = " ".join(argv[first:last])
            if name.endswith((".yaml", ".yml")) and is_ordinary(Path(name)) and not is_ordinary(Path(argv[first])):
                wrong = f'"{name}" has spaces in its name, and reads as {last - first} names'
                refuse("", wrong, shlex.join(["slabwright", *argv[:first], name, *argv[last:]]))


def look_at_options(unknown: Sequence[str], argv: Sequence[str], parser: argparse.ArgumentParser) -> None:
    """Refuse what a command does not know, with the option that is meant; raises :class:`UnreadableError`."""
    if not unknown:
        return
    command = argv[0] if argv and argv[0] in _commands(parser) else ""
    said = f"slabwright {command}".strip()
    options = list(_commands(parser)[command]._option_string_actions) if command else ["--version", "-h"]
    if command and unknown[0].endswith((".yaml", ".yml")):
        wrong = f'{command} takes one design, and "{unknown[0]}" is one file more'
        refuse("", wrong, f"{said} FILE; a file of amendments stands behind an --amendments of its own")
    near = most_like(unknown[0].partition("=")[0], [one for one in options if one.startswith("--")])
    meant = f"; is {near} meant?" if near else ""
    refuse("", f"unrecognized arguments: {' '.join(unknown)}", f"{said} -h shows how it is written{meant}")


def _commands(parser: argparse.ArgumentParser) -> Mapping[str, argparse.ArgumentParser]:
    return next(action.choices for action in parser._actions if isinstance(action, argparse._SubParsersAction))
