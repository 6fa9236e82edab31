"""``review --against``: what changed in each of some designs, on all cores, in order."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from slabwright.cli import asking_git, many_files, workers
from slabwright.cli.asking_git import Pair
from slabwright.cli.many_files import FAILED, FINE, HOLD, UNREADABLE, Asked
from slabwright.source.place import Place
from slabwright.source.problem import Problem, UnreadableError
from slabwright.writers import effect as writer
from slabwright.writers import summary

if TYPE_CHECKING:
    from slabwright.review.changes import Effect
    from slabwright.review.reviewing import Judged
    from slabwright.text.sheet import Line

AT_ONCE = 16  # designs, each twice


@dataclass(frozen=True, slots=True)
class Told:
    """What is told of one design: its line in the table, problems, and the sheet and data asked for."""

    status: int
    row: summary.ChangeRow
    problems: tuple[Problem, ...] = ()
    sheet: tuple[Line, ...] = ()
    data: str = ""


def told(pairs: Sequence[Pair], asked: Asked, jobs: int | None, alone: bool) -> Iterator[Told]:
    """What is told of every design, in their order."""
    found = workers.in_order(_told, pairs, (asked, alone), jobs, many_files.prepare, _lost)
    return workers.told(found, len(pairs), sys.stderr)


def _told(pairs: Sequence[Pair], asked: Asked, alone: bool) -> Iterator[Told]:
    for some in (pairs[at : at + AT_ONCE] for at in range(0, len(pairs), AT_ONCE)):
        for pair, one in zip(some, asking_git.effects(some, asked.settings), strict=True):
            yield _refused(pair, one, asked) if isinstance(one, Exception) else _one(pair, *one, asked, alone)


def _one(pair: Pair, effect: Effect, now: Judged, asked: Asked, alone: bool) -> Told:
    from slabwright.text.json_values import json_text

    sheet = asked.sheet and (alone or (writer.tells(effect) and asked.level != "brief"))
    return Told(
        HOLD if now.holds else FINE,
        writer.row(effect, str(pair.now)),
        effect.problems,
        tuple(writer.sheet(effect, asked.width, asked.encoding)) if sheet else (),
        json_text(writer.as_data(effect)) if asked.data else "",
    )


def _refused(pair: Pair, error: Exception, asked: Asked) -> Told:
    """Of a design that cannot be judged as it is."""
    if isinstance(error, UnreadableError):
        return _unjudged(pair, error.problems, asked, UNREADABLE, many_files.whose(error))
    what = f"the program itself failed, and the file is not judged: {type(error).__name__}: {error}"
    return _unjudged(pair, (Problem(Place(str(pair.now)), what),), asked, FAILED, "failed")


def _lost(pair: Pair, asked: Asked, alone: bool) -> Told:
    wrong = "reviewing this file ended the program that did it; it may take more memory than there is"
    problem = Problem(Place(str(pair.now)), wrong, "a design with fewer points and shots")
    return _unjudged(pair, (problem,), asked, FAILED, "failed")


def _unjudged(pair: Pair, problems: tuple[Problem, ...], asked: Asked, status: int, verdict: str) -> Told:
    from slabwright.text.json_values import json_text
    from slabwright.writers import as_json

    data = json_text(as_json.unread_data(str(pair.now), problems, verdict)) if asked.data else ""
    return Told(status, summary.ChangeRow(str(pair.now), "-", verdict), problems, data=data)
