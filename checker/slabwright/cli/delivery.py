"""``review`` on the command line: which files, in which forms, and where each part of the answer goes."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from slabwright.cli import many_files
from slabwright.cli.guarding import guard
from slabwright.cli.many_files import Asked, Outcome
from slabwright.review import reviewing
from slabwright.source.files import is_folder
from slabwright.source.problem import Problem, UnreadableError, refuse
from slabwright.text.outputs import keep, put_data
from slabwright.text.sheet import fitting_width, in_color, plain, put, stream_encoding
from slabwright.writers import problem_list, summary

if TYPE_CHECKING:
    import argparse

    from slabwright.review.reviewing import Settings
    from slabwright.rulebook.kit import Limits, Rule


def review(arguments: argparse.Namespace, settings: Settings) -> int:
    """Review everything named on the command line; 2 when a file cannot be read, else 1 when a hold stands."""
    if arguments.put_right:
        from slabwright.cli import putting_right

        return putting_right.put_right(arguments, settings)
    if arguments.as_built:
        from slabwright.cli import as_built

        return as_built.tell(arguments, settings)
    once = _changes if arguments.against else _review
    if arguments.against:
        _whole_only(arguments)
    if arguments.watch:
        from slabwright.cli import watching

        return watching.watch(lambda: once(arguments, settings), arguments.files, settings)
    return once(arguments, settings)


def _whole_only(arguments: argparse.Namespace) -> None:
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


def _review(arguments: argparse.Namespace, settings: Settings) -> int:
    """One review of everything named."""
    reviewing.forget()  # files may have been saved since this process last read them
    paths = many_files.designs(arguments.files)
    alone = len(arguments.files) == 1 and not is_folder(Path(arguments.files[0]))
    if arguments.page:
        _page_for(Path(arguments.page), alone)
    guard(arguments, paths)
    if arguments.sheet or arguments.sarif:
        paths = list(dict.fromkeys(map(many_files.near, paths)))
    asked = Asked(
        settings,
        sheet=not (arguments.json or arguments.sarif == "-"),
        plain=bool(arguments.sheet),
        data=arguments.json,
        sarif=bool(arguments.sarif),
        page=bool(arguments.page),
        passes=arguments.passes,
        level=arguments.level,
        width=fitting_width(sys.stdout, arguments.width),
        encoding=stream_encoding(sys.stdout),
        color=in_color(sys.stdout),
    )
    if alone:
        return _give([many_files.outcome(paths[0], asked)], arguments, asked, paths, alone=True)
    return _give(many_files.judged(paths, asked, arguments.jobs), arguments, asked, paths)


def _changes(arguments: argparse.Namespace, settings: Settings) -> int:
    """What changed in every design named since another version of it; the status is that of the review now."""
    from slabwright.cli import asking_git
    from slabwright.text.json_values import json_text
    from slabwright.writers import effect as page

    reviewing.forget()
    paths = many_files.designs(arguments.files)
    guard(arguments, paths)
    status, entries = many_files.FINE, []
    for path in paths:
        try:
            found, now = asking_git.effect(path, arguments.against, settings)
        except UnreadableError as error:
            if not any(problem.place.file for problem in error.problems):
                raise  # nothing is wrong with a file, but with the command
            sys.stdout.flush()
            problem_list.write(error.problems, sys.stderr)
            status = many_files.UNREADABLE
            continue
        status = max(status, many_files.HOLD if now.holds else many_files.FINE)
        if found.problems:
            sys.stdout.flush()
            problem_list.write(found.problems, sys.stderr)
        if arguments.json:
            entries.append(page.as_data(found))
        else:
            width = fitting_width(sys.stdout, arguments.width)
            put([*page.sheet(found, width, stream_encoding(sys.stdout)), ()], sys.stdout)
    if arguments.json and arguments.files == [str(path) for path in paths] and len(entries) == 1:
        put_data(json_text(entries[0]))
    elif arguments.json:
        put_data(json_text(entries))
    return status


def _give(
    outcomes: Iterable[Outcome], arguments: argparse.Namespace, asked: Asked, paths: Sequence[Path], alone: bool = False
) -> int:
    """Write each part where it belongs: to the screen as it comes, to files when all are there."""
    told: set[Problem] = set()  # a firm file that cannot be read is told once, not for every design
    rows: list[summary.Row] = []
    kept: list[str] = []
    results: list[dict[str, Any]] = []
    notices: list[dict[str, Any]] = []
    status = many_files.FINE
    for one in outcomes:
        fresh = [problem for problem in one.problems if problem not in told]
        told.update(fresh)
        if fresh:
            sys.stdout.flush()
            problem_list.write(fresh, sys.stderr)
        if asked.data:
            _put_data(one, alone, first=not rows)
        elif asked.sheet:
            _put_sheet(one, alone)
        kept.append(one.plain)
        if one.page:
            keep(Path(arguments.page), one.page, "--page")
        results += one.results
        notices += one.notices
        rows.append(summary.Row(one.file, one.verdict, *one.counts))
        status = max(status, one.status)
    if asked.data and not alone:
        put_data("\n]\n")
    if asked.sheet and not alone:
        put(summary.table(rows, asked.width, asked.encoding), sys.stdout)
    if arguments.sheet:
        keep(Path(arguments.sheet), "\n".join(kept if alone else [*kept, plain(summary.table(rows))]), "--sheet")
    if arguments.sarif:
        _put_sarif(arguments.sarif, _rules(paths, asked), results, notices, status <= many_files.HOLD)
    return status


def _page_for(path: Path, alone: bool) -> None:
    """Refuse a page that could not be what its name says, before anything is reviewed."""
    if not alone:
        wrong, write = "a page holds the review of one design", "review FILE --page FILE.html, once for each"
    elif path.suffix.lower() not in {".html", ".htm"}:
        wrong, write = "a page is an HTML file", f"--page {path.with_suffix('.html').name}"
    else:
        return
    refuse(str(path), wrong, write)


def _put_sheet(one: Outcome, alone: bool) -> None:
    """The sheet of a design, if it has one."""
    if one.sheet:
        put(list(one.sheet), sys.stdout)
    sys.stdout.write(one.text)
    if not alone and (one.sheet or one.text):
        sys.stdout.write("\n")


def _put_data(one: Outcome, alone: bool, first: bool) -> None:
    """A report as JSON: as it is for a file alone, as an entry of a list among many."""
    if not alone:
        put_data(("[\n" if first else ",\n") + one.data.rstrip("\n"))
    elif one.status <= many_files.HOLD:
        put_data(one.data)


def _put_sarif(
    file: str,
    rules: Sequence[tuple[Rule, Limits]],
    results: Sequence[dict[str, Any]],
    notices: Sequence[dict[str, Any]],
    whole: bool,
) -> None:
    from importlib.metadata import PackageNotFoundError, version

    from slabwright.writers import sarif

    try:
        release = version("slabwright")
    except PackageNotFoundError:
        release = ""
    text = sarif.as_sarif(rules, results, notices, whole, release)
    if file == "-":
        put_data(text)
    else:
        keep(Path(file), text, "--sarif")


def _rules(paths: Sequence[Path], asked: Asked) -> list[tuple[Rule, Limits]]:
    """The rules that any of the designs is judged by, with the limits of the first that has each."""
    found: dict[str, tuple[Rule, Limits]] = {}
    for path in paths:
        try:
            rules, limits = reviewing.in_force(*reviewing.layers(asked.settings, reviewing.house_of(path)))
        except UnreadableError:
            continue
        for rule in rules:
            found.setdefault(rule.name, (rule, limits[rule.name]))
    return list(found.values())
