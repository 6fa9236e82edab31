"""``slabwright teach``: which of its pages is asked for, and where an exercise is written."""

from __future__ import annotations

import argparse
import random
import sys
from collections.abc import Collection, Mapping, Sequence
from pathlib import Path
from typing import NamedTuple

from slabwright.rulebook.in_force import Limits
from slabwright.rulebook.rule import Rule
from slabwright.source.alike import most_like
from slabwright.source.problem import refuse
from slabwright.teaching import course, lesson
from slabwright.teaching.exercise import Exercise, class_of, exercise
from slabwright.teaching.marking import marked
from slabwright.text.outputs import keep_new, put_data, say
from slabwright.text.screen import put, screen

_OF_EXERCISES = ("group", "level", "seed", "answer", "hint", "check", "out")


def teach(arguments: argparse.Namespace, rules: Sequence[Rule], limits: Mapping[str, Limits], group: str) -> int:
    """Print the page asked for; ``group`` is the group of an exercise, checked, or empty.

    Raises :class:`UnreadableError` for a rule that is not there and options that do not go
    together.
    """
    width, encoding = screen(arguments.width)
    if arguments.lesson is not None:
        return _lesson(arguments, width, encoding)
    if arguments.class_of is not None:
        return _class(arguments, _By(rules, limits, group, width, encoding))
    if arguments.exercise is not None:
        return _exercise(arguments, _By(rules, limits, group, width, encoding))
    for name in _OF_EXERCISES:
        if getattr(arguments, name) not in (None, False):
            refuse("", f"--{name} belongs to an exercise", f"slabwright teach --exercise 205 --{name} ...")
    if arguments.rule is None:
        put(lesson.groups_page(rules, width, encoding), sys.stdout)
        return 0
    named = {rule.name: rule for rule in rules}
    rule = named.get(arguments.rule)
    if rule is None:
        refuse("", f"there is no rule {arguments.rule!r}", _rules_like(arguments.rule, named))
    put(lesson.rule_page(rule, limits[rule.name], width, encoding), sys.stdout)
    return 0


def _lesson(arguments: argparse.Namespace, width: int, encoding: str) -> int:
    """A lesson on the terminal, or as a page with its picture in a folder."""
    for name in ("rule", "exercise", "class_of", "group", "level", "seed", "hint", "check"):
        if getattr(arguments, name) is not None:
            refuse("", "a lesson goes with --answer or --out alone", f"slabwright teach --lesson {arguments.lesson}")
    if arguments.out is None:
        put(course.lesson_page(arguments.lesson, arguments.answer, width, encoding), sys.stdout)
        return 0
    path = _folder(arguments.out) / f"lesson-{arguments.lesson}.html"
    keep_new({path: course.lesson_html(arguments.lesson)}, "--out")
    say(f"wrote {path}; open it in a browser, or print it: the answers come on a sheet of their own")
    return 0


def _rules_like(word: str, names: Collection[str]) -> str:
    """Rules that have a word in their names, else the one nearest to it."""
    having = [name for name in names if word.lower().rstrip("s") in name.split("-")][:8]
    if len(having) > 1:
        return f"one of: {', '.join(having)}"
    return most_like(word, names) or "".join(having) or "slabwright rulebook lists them all"


class _By(NamedTuple):
    """What exercises are made by and of, and how wide and in which encoding they are printed."""

    rules: Sequence[Rule]
    limits: Mapping[str, Limits]
    group: str
    width: int
    encoding: str


def _exercise(arguments: argparse.Namespace, by: _By) -> int:
    made = exercise(_number(arguments), by.group, by.rules, by.limits)
    if made is None:
        refuse(
            "", f"no slip of {by.group or 'any group'} shows under these limits", "another group, or no --amendments"
        )
    if arguments.check is not None:
        return _check(made, Path(arguments.check), arguments.hint, by)
    if arguments.answer:
        put(lesson.answer_page(made, by.rules, by.width, by.encoding), sys.stdout)
    elif arguments.hint:
        put(lesson.hint_page(made, made.slips[0], arguments.hint, by.rules, by.width, by.encoding), sys.stdout)
    elif arguments.out in {None, "-"}:
        put_data(made.text)
    else:
        _write(made, arguments.out)
    return 0


def _number(arguments: argparse.Namespace) -> int:
    """The number of the exercise asked for; one by chance, of the level asked for, where none was."""
    if arguments.rule is not None:
        wrong = "an exercise is made of a group of rules, not of one"
        refuse("", wrong, "slabwright teach --exercise 205 --group joints")
    number: int = arguments.exercise
    for name in ("seed", "level") if number >= 0 else ("seed",):
        if getattr(arguments, name) is not None:
            refuse("", f"--{name} does not go with the number of an exercise", "--exercise with the number alone")
    for name in ("answer", "hint", "check"):
        if number < 0 and getattr(arguments, name):
            refuse("", f"--{name} needs the number of the exercise", "--exercise with the number in its first line")
    if arguments.check is not None and (arguments.answer or arguments.out is not None):
        refuse("", "--check goes with --hint alone", "slabwright teach --check FILE --exercise 205")
    return number if number >= 0 else (arguments.level or 1) * 100 + random.randrange(100)


def _check(made: Exercise, path: Path, hint: int | None, by: _By) -> int:
    """Mark a corrected file; 0 when every slip is found and nothing else is wrong, else 1."""
    result = marked(made, path, by.rules, by.limits)
    put(lesson.marked_page(made, result, by.width, by.encoding), sys.stdout)
    left = [slip for slip, fate in zip(made.slips, result.fates, strict=True) if fate != "found"]
    if hint and left:
        put(lesson.hint_page(made, left[0], hint, by.rules, by.width, by.encoding), sys.stdout)
    return 0 if result.right else 1


def _class(arguments: argparse.Namespace, by: _By) -> int:
    """The list of exercises for a class; with ``--answer`` the marking sheet."""
    if arguments.rule is not None or arguments.exercise is not None:
        refuse("", "a class gets a list of exercises, not one", "slabwright teach --class 12 --seed 7")
    for name in ("check", "hint", "out"):
        if getattr(arguments, name):
            refuse("", f"--{name} belongs to one exercise", f"slabwright teach --exercise 205 --{name} ...")
    if arguments.seed is None:
        refuse(
            "", "a class list needs a number to be made from", "--seed 7, or any other; the same makes the same list"
        )
    made = class_of(arguments.class_of, arguments.seed, arguments.level, by.group, by.rules, by.limits)
    if made is None:
        refuse("", f"there are not {arguments.class_of} different jobs for that", "a smaller class, or no --group")
    put(lesson.class_page(made, arguments.seed, arguments.answer, by.width, by.encoding), sys.stdout)
    return 0


def _write(made: Exercise, folder: str) -> None:
    """Write the design into a folder of its own; nothing is overwritten."""
    path = _folder(folder) / made.file
    keep_new({path: made.text}, "--out")
    say(f"wrote {path}; put it right with a pencil first, then in the file, then:")
    of_group = f" --group {made.group}" if made.group else ""
    say(f"slabwright teach --check {path} --exercise {made.number}{of_group}")


def _folder(name: str) -> Path:
    """A folder to write into, made if it is not there."""
    folder = Path(name)
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except (OSError, ValueError) as error:
        why = (getattr(error, "strerror", None) or "no folder").lower()
        refuse(name, f"the folder cannot be made: {why}", "--out with the name of a folder")
    return folder
