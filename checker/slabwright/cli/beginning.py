"""``begin``: eight questions asked on a terminal, or options, become a design to start from."""

from __future__ import annotations

import argparse
import shlex
import sys
from itertools import count
from pathlib import Path
from typing import Any

from slabwright.design.starter.answers import QUESTIONS, Answers, Question, Said, answered
from slabwright.design.starter.written import starter
from slabwright.source.problem import UnreadableError, refuse
from slabwright.text.outputs import keep_new, put_data, wrote
from slabwright.text.screen import put, screen
from slabwright.text.sheet import Sheet

FINE = 0
ANSWER = 8  # columns before an answer
SUFFIX = ".slab.yaml"


def begin(arguments: argparse.Namespace) -> int:
    """Write a design to start from; what no option says is asked on a terminal where use or size is not said.

    Raises :class:`UnreadableError` for an option that cannot be read, or a file that may not be written.
    """
    if arguments.survey:
        return _from_survey(arguments)
    given: dict[str, str | None] = {question.option: getattr(arguments, question.option) for question in QUESTIONS}
    lacking = [option for option in ("use", "size") if given[option] is None]
    if lacking and not _on_terminal():
        options = " and ".join(f"--{option}" for option in lacking)
        wrong = f"{options} {'are' if len(lacking) > 1 else 'is'} not given, and nobody can be asked here"
        refuse("", wrong, '--use driveway --size "20 ft x 40 ft", or run slabwright begin on a terminal')
    out = Path(arguments.out) if arguments.out else None
    if lacking:
        answers = _asked(given)
        out = out or _free_name(answers)
    else:
        answers = answered(given)
    return _written(design(answers), None if out is None else str(out))


def _from_survey(arguments: argparse.Namespace) -> int:
    """A design from what was surveyed or drawn; what a survey shows is not asked, nor taken from an option."""
    from slabwright.exchange.begun import begin_from  # numpy and shapely, that a size does without

    for question in QUESTIONS:
        if question.option != "use" and getattr(arguments, question.option) is not None:
            refuse("", f"--{question.option} does not go with --from", f"leave --{question.option} out")
    return _written(begin_from(Path(arguments.survey), arguments.use or "", arguments.units or ""), arguments.out)


def _written(text: str, name: str | None) -> int:
    if name is None:
        put_data(text)
        return FINE
    out = Path(name)
    keep_new({out: text}, "--out")
    wrote(out, f"; next: slabwright review {_typed(out)}")
    return FINE


def design(answers: Answers) -> str:
    """The text of a design; joints round inside corners are laid out as ``propose joints`` does."""
    text = starter(answers)
    if not answers.outline.inside_corners():
        return text
    from slabwright.proposals import joints  # with the rules 0.2 s, that a plain rectangle does without
    from slabwright.rulebook import limits, loading

    rules = loading.load_rules()
    done = joints.propose(Path(f"starter{SUFFIX}"), text, rules, limits.resolve(rules), answers.outline.system)
    return text if done is None else done.bench.text


def _on_terminal() -> bool:
    return sys.stdin is not None and sys.stdin.isatty() and sys.stdout.isatty()


def _asked(given: dict[str, str | None]) -> Answers:
    """Ask what is not given, one question after the other, each until its answer can be read."""
    left = sum(given[question.option] is None for question in QUESTIONS)
    questions = "1 question" if left == 1 else f"{left} questions"
    _say(f"{questions}; Enter takes the answer in brackets. Ctrl-C stops, and no file is written.")
    said: dict[str, Any] = {}
    number = count(1)
    for question in QUESTIONS:
        typed = given[question.option]
        if typed is None:
            said[question.field] = _ask(question, said, f"{next(number)} of {left}")
        else:
            said[question.field] = question.read(typed, said)
    return Answers(**said)


def _ask(question: Question, said: Said, number: str) -> Any:
    usual = question.usual(said)
    print()
    if question.field == "walls":
        print(said["outline"].picture)
    _say(f"{number}: {question.words(said)}", hang=ANSWER)
    while True:
        try:
            typed = input(f"{' ' * ANSWER}[{usual}] ").strip()
        except EOFError:
            raise KeyboardInterrupt from None  # nobody answers any more: as if stopped
        try:
            return question.read(typed or usual, said)
        except UnreadableError as error:
            for problem in error.problems:
                _say(problem.wrong, indent=ANSWER)
                if problem.write:
                    _say(f"write: {problem.write}", indent=ANSWER, hang=len("write: "))


def _say(text: str, indent: int = 0, hang: int = 0) -> None:
    page = Sheet(*screen())
    page.paragraph(text, indent=indent, hang=hang)
    put(page.lines, sys.stdout)


def _free_name(answers: Answers) -> Path:
    """A name in this folder that no file has, after the use."""
    stem = answers.use.replace(" ", "_")
    names = (Path(f"{stem}{SUFFIX}") if number == 1 else Path(f"{stem}_{number}{SUFFIX}") for number in count(1))
    return next(name for name in names if not name.exists() and not name.is_symlink())


def _typed(path: Path) -> str:
    """A name as a shell takes it."""
    return shlex.quote(str(path))
