"""``slabwright teach``: which of its pages is asked for, and where an exercise is written."""

from __future__ import annotations

import argparse
import random
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import NoReturn

from slabwright.rulebook.kit import Limits, Rule
from slabwright.rulebook.limits import nearest
from slabwright.source.place import Place
from slabwright.source.problem import Problem, UnreadableError
from slabwright.teaching import lesson
from slabwright.teaching.exercise import Exercise, exercise
from slabwright.text.outputs import keep_new, say
from slabwright.text.sheet import fitting_width, put, stream_encoding

NUMBERS = 1000  # an exercise without a number gets one below this


def teach(arguments: argparse.Namespace, rules: Sequence[Rule], limits: Mapping[str, Limits], group: str) -> int:
    """Print the page asked for; ``group`` is the group of an exercise, checked, or empty.

    Raises :class:`UnreadableError` for a rule that is not there and options that do not go
    together.
    """
    width, encoding = fitting_width(sys.stdout, arguments.width), stream_encoding(sys.stdout)
    if arguments.exercise:
        return _exercise(arguments, rules, limits, group, width, encoding)
    for name in ("group", "seed", "answer", "out"):
        if getattr(arguments, name) not in (None, False):
            _wrong(f"--{name} belongs to an exercise", f"slabwright teach --exercise --{name} ...")
    if arguments.rule is None:
        put(lesson.groups_page(rules, width, encoding), sys.stdout)
        return 0
    named = {rule.name: rule for rule in rules}
    rule = named.get(arguments.rule)
    if rule is None:
        near = nearest(arguments.rule, named)
        _wrong(f"there is no rule {arguments.rule!r}", near or "slabwright rulebook lists them all")
    put(lesson.rule_page(rule, limits[rule.name], width, encoding), sys.stdout)
    return 0


def _exercise(
    arguments: argparse.Namespace,
    rules: Sequence[Rule],
    limits: Mapping[str, Limits],
    group: str,
    width: int,
    encoding: str,
) -> int:
    if arguments.rule is not None:
        _wrong("an exercise is made of a group of rules, not of one", "slabwright teach --exercise --group joints")
    if arguments.answer and arguments.seed is None:
        _wrong("--answer needs the number of the exercise", "--seed with the number in its first line")
    number = arguments.seed if arguments.seed is not None else random.randrange(1, NUMBERS)
    made = exercise(number, group, rules, limits)
    if made is None:
        _wrong(f"no fault of {group or 'any group'} shows under these limits", "another group, or no --amendments")
    if arguments.answer:
        put(lesson.answer_page(made, width, encoding), sys.stdout)
    elif arguments.out in {None, "-"}:
        _print(made)
    else:
        _write(made, Path(arguments.out))
    return 0


def _print(made: Exercise) -> None:
    """A design goes out in UTF-8, whatever the terminal is set to: it is a file to be read again."""
    raw = getattr(sys.stdout, "buffer", None)
    if raw is None:
        sys.stdout.write(made.text)
        return
    sys.stdout.flush()
    raw.write(made.text.encode("utf-8"))
    raw.flush()


def _write(made: Exercise, path: Path) -> None:
    """Write the design and the rod readings it names; nothing is overwritten."""
    files = {path: made.text, **{path.parent / name: text for name, text in made.readings.items()}}
    keep_new(files, "--out")
    say(f"wrote {' and '.join(map(str, files))}; next: slabwright review {path}, when you have looked yourself")


def _wrong(wrong: str, write: str, file: str = "") -> NoReturn:
    """Refuse something named on the command line."""
    raise UnreadableError((Problem(Place(file), wrong, write),))
