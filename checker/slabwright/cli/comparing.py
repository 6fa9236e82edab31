"""``review --against``: what changed in each of some designs, on all cores, in order."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from slabwright.cli import asking_git, many_files, workers
from slabwright.cli.asking_git import Pair
from slabwright.cli.guarding import guard
from slabwright.cli.many_files import FAILED, FINE, HOLD, UNREADABLE, Asked
from slabwright.review import reviewing
from slabwright.review.changes import Effect
from slabwright.review.reviewing import Judged, Settings
from slabwright.source.files import is_folder
from slabwright.source.place import Place
from slabwright.source.problem import Problem, UnreadableError, refuse
from slabwright.text.json_values import json_text
from slabwright.text.outputs import put_data
from slabwright.text.screen import put, screen
from slabwright.text.sheet import Line
from slabwright.writers import as_json, problem_list, summary
from slabwright.writers import effect as writer

AT_ONCE = 16  # designs, each twice


@dataclass(frozen=True, slots=True)
class Told:
    """What is told of one design: its line in the table, problems, and the sheet and data asked for."""

    status: int
    row: summary.ChangeRow
    problems: tuple[Problem, ...] = ()
    sheet: tuple[Line, ...] = ()
    data: str = ""


def whole_only(arguments: argparse.Namespace) -> None:
    """Refuse forms that hold a whole review, where only what changed is asked for."""
    forms = (
        ("page", "a page holds", "--page FILE.html"),
        ("sheet", "a kept sheet holds", "--sheet FILE"),
        ("sarif", "SARIF holds", "--sarif FILE"),
    )
    for name, holds, option in forms:
        given = getattr(arguments, name)
        if given:
            wrong = f"{holds} a whole review, not what changed"
            refuse(str(given), wrong, f"review FILE {option} without --against")


def compare(arguments: argparse.Namespace, settings: Settings) -> int:
    """What changed in every design named since another version of it; the status is that of the review now.

    Of a folder, or several files, only designs that changed are told, and they end in a table.
    """
    reviewing.forget()
    paths, slips = many_files.walked(arguments.files)
    guard(arguments, paths)
    alone = len(arguments.files) == 1 and not is_folder(Path(arguments.files[0]))
    width, encoding = screen(arguments.width)
    asked = Asked(settings, sheet=not arguments.json, data=arguments.json, level=arguments.level, width=width,
                  encoding=encoding)  # fmt: skip
    status, rows, told = FINE, [], set[Problem]()
    entries: list[str] = []
    with asking_git.compared(paths, arguments.files, arguments.against, every=alone) as found:
        for path in slips:
            if (slip := many_files.slip(path, asked)) is not None:
                problem_list.write(slip.problems, sys.stderr)
                status = slip.status
                entries.append(slip.data)
        for one in _each(found.pairs, asked, arguments.jobs, alone):
            many_files.tell_once(one.problems, told)
            status = max(status, one.status)
            rows.append(one.row)
            entries.append(one.data)
            if one.sheet:
                put([*one.sheet, ()], sys.stdout)
    rows += [summary.ChangeRow(name, "-", "gone") for name in found.gone]
    if arguments.json and alone:
        put_data(entries[0] if status <= HOLD else "")
    elif arguments.json:
        entries += [json_text(writer.gone_data(name, arguments.against)) for name in found.gone]
        put_data("[\n" + ",\n".join(entry.rstrip("\n") for entry in entries) + "\n]\n")
    elif not alone:
        put(summary.changes(rows, found.same, arguments.against, width, encoding), sys.stdout)
    return status


def _each(pairs: Sequence[Pair], asked: Asked, jobs: int | None, alone: bool) -> Iterator[Told]:
    """What is told of every design, in their order."""
    found = workers.in_order(_told, pairs, (asked, alone), jobs, many_files.prepare, _lost)
    return workers.told(found, len(pairs), sys.stderr)


def _told(pairs: Sequence[Pair], asked: Asked, alone: bool) -> Iterator[Told]:
    for some in (pairs[at : at + AT_ONCE] for at in range(0, len(pairs), AT_ONCE)):
        for pair, one in zip(some, asking_git.effects(some, asked.settings), strict=True):
            yield _refused(pair, one, asked) if isinstance(one, Exception) else _one(pair, *one, asked, alone)


def _one(pair: Pair, effect: Effect, now: Judged, asked: Asked, alone: bool) -> Told:
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
    data = json_text(as_json.unread_data(str(pair.now), problems, verdict)) if asked.data else ""
    return Told(status, summary.ChangeRow(str(pair.now), "-", verdict), problems, data=data)
