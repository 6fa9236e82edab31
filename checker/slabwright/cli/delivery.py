"""``review`` on the command line: which files, in which forms, and where each part of the answer goes."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Sequence
from itertools import chain
from pathlib import Path
from tempfile import TemporaryFile
from typing import IO, TYPE_CHECKING, Any

from slabwright.cli import many_files
from slabwright.cli.guarding import guard
from slabwright.cli.many_files import Asked, Outcome
from slabwright.review import reviewing
from slabwright.source.files import STANDARD, is_folder
from slabwright.source.problem import Problem, UnreadableError, refuse
from slabwright.text.outputs import keep, put_data, wrote
from slabwright.text.sheet import fitting_width, in_color, plain, put, stream_encoding
from slabwright.writers import problem_list, summary

if TYPE_CHECKING:
    import argparse

    from slabwright.review.reviewing import Settings
    from slabwright.rulebook.kit import Limits, Rule


def review(arguments: argparse.Namespace, settings: Settings) -> int:
    """Review everything named on the command line; 2 when a file cannot be read, else 1 when a hold stands."""
    _named(arguments)
    if arguments.put_right:
        from slabwright.cli import putting_right

        return putting_right.put_right(arguments, settings)
    _own_options(arguments)
    if arguments.why is not None:
        from slabwright.cli import why

        return why.tell(arguments, settings)
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


def _named(arguments: argparse.Namespace) -> None:
    """Refuse a command without files, and forms that a hook has no use for."""
    if not arguments.hook:
        if not arguments.files:
            refuse("", "review needs a design or a folder", "slabwright review FILE")
        return
    for option in ("against", "put_right", "as_built", "why", "watch", "page"):
        if getattr(arguments, option):
            typed = f"--{option.replace('_', '-')}"
            refuse("", f"--hook and {typed} do not go together", f"one of the two; {typed} with the names of designs")


def _own_options(arguments: argparse.Namespace) -> None:
    """Refuse what the ways to look at one design have no use for, and their own options without them."""
    for option in ("gap", "seed"):
        if getattr(arguments, option) is not None and not arguments.as_built:
            refuse("", f"--{option} belongs to --as-built", f"review FILE --as-built --{option} ...")
    for option, typed, others in (
        ("why", "--why NUMBER", ("as_built", "against", "watch", "json", "csv", "sheet", "sarif", "page", "only")),
        ("as_built", "--as-built", ("against", "watch", "csv", "sheet", "sarif", "only")),
    ):
        if getattr(arguments, option) in (None, False):
            continue
        name, write = typed.partition(" ")[0], f"review FILE {typed} by itself"
        for other in others:
            if getattr(arguments, other):
                refuse("", f"{name} and --{other.replace('_', '-')} do not go together", write)
        if len(arguments.files) != 1 or is_folder(Path(arguments.files[0])):
            refuse("", f"{name} looks at one design at a time", f"review FILE {typed}")


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
    """One review of everything named, or of everything that a commit concerns."""
    reviewing.forget()  # files may have been saved since this process last read them
    untracked: list[Problem] = []
    if arguments.hook:
        from slabwright.cli import hooking

        paths, slips, untracked = hooking.touched(arguments.files, settings)
        if not (paths or slips or untracked):
            return many_files.FINE
    else:
        paths, slips = _walked(arguments.files)
    alone = not arguments.hook and len(arguments.files) == 1 and not is_folder(Path(arguments.files[0]))
    if arguments.page:
        _page_for(arguments.page, alone)
    guard(arguments, paths)
    if arguments.sheet or arguments.sarif:
        paths = list(dict.fromkeys(map(many_files.near, paths)))
    asked = Asked(
        settings,
        sheet=not (arguments.json or arguments.csv or STANDARD in (arguments.sarif, arguments.sheet, arguments.page)),
        plain=bool(arguments.sheet),
        data=arguments.json,
        sarif=bool(arguments.sarif),
        page=bool(arguments.page),
        passes=arguments.passes,
        blocking=arguments.hook,
        level=arguments.level,
        width=fitting_width(sys.stdout, arguments.width),
        encoding=stream_encoding(sys.stdout),
        color=in_color(sys.stdout),
    )
    if alone:
        return _give([many_files.outcome(paths[0], asked)], arguments, asked, paths, alone=True)
    told = [one for path in slips if (one := many_files.slip(path, asked)) is not None]
    outcomes: Iterable[Outcome] = chain(told, many_files.judged(paths, asked, arguments.jobs))
    if arguments.hook:
        outcomes = sorted(outcomes, key=lambda one: one.status <= many_files.HOLD)  # what cannot be read comes first
    if untracked:
        problem_list.write(untracked, sys.stderr)
    return _give(outcomes, arguments, asked, paths, untracked=len(untracked))


def _walked(names: Sequence[str]) -> tuple[list[Path], list[Path]]:
    """The designs that files and folders give, and the files of folders that only a slip keeps from being one."""
    found = many_files.designs(names)
    slips = {path: None for path in found if many_files.misnamed(path.name) and str(path) not in names}
    return [path for path in found if path not in slips], list(slips)


def _changes(arguments: argparse.Namespace, settings: Settings) -> int:
    """What changed in every design named since another version of it; the status is that of the review now.

    Of a folder, or several files, only designs that changed are told, and they end in a table.
    """
    from slabwright.cli import asking_git, comparing
    from slabwright.text.json_values import json_text
    from slabwright.writers import effect as writer

    reviewing.forget()
    paths, slips = _walked(arguments.files)
    guard(arguments, paths)
    alone = len(arguments.files) == 1 and not is_folder(Path(arguments.files[0]))
    width, encoding = fitting_width(sys.stdout, arguments.width), stream_encoding(sys.stdout)
    asked = Asked(settings, sheet=not arguments.json, data=arguments.json, level=arguments.level, width=width,
                  encoding=encoding)  # fmt: skip
    status, rows, told = many_files.FINE, [], set[Problem]()
    entries: list[str] = []
    with asking_git.compared(paths, arguments.files, arguments.against, every=alone) as found:
        for path in slips:
            if (slip := many_files.slip(path, asked)) is not None:
                problem_list.write(slip.problems, sys.stderr)
                status = slip.status
                entries.append(slip.data)
        for one in comparing.told(found.pairs, asked, arguments.jobs, alone):
            fresh = [problem for problem in one.problems if problem not in told]
            told.update(fresh)
            if fresh:
                sys.stdout.flush()
                problem_list.write(fresh, sys.stderr)
            status = max(status, one.status)
            rows.append(one.row)
            entries.append(one.data)
            if one.sheet:
                put([*one.sheet, ()], sys.stdout)
    rows += [summary.ChangeRow(name, "-", "gone") for name in found.gone]
    if arguments.json and alone:
        put_data(entries[0] if status <= many_files.HOLD else "")
    elif arguments.json:
        entries += [json_text(writer.gone_data(name, arguments.against)) for name in found.gone]
        put_data("[\n" + ",\n".join(entry.rstrip("\n") for entry in entries) + "\n]\n")
    elif not alone:
        put(summary.changes(rows, found.same, arguments.against, width, encoding), sys.stdout)
    return status


def _give(
    outcomes: Iterable[Outcome],
    arguments: argparse.Namespace,
    asked: Asked,
    paths: Sequence[Path],
    alone: bool = False,
    untracked: int = 0,
) -> int:
    """Write each part where it belongs."""
    with TemporaryFile("w+", encoding="utf-8", errors="replace", newline="") as data:
        return _given(outcomes, arguments, asked, paths, alone, untracked, data)


def _given(
    outcomes: Iterable[Outcome],
    arguments: argparse.Namespace,
    asked: Asked,
    paths: Sequence[Path],
    alone: bool,
    untracked: int,
    data: IO[str],
) -> int:
    """Write each part: to the screen as it comes, to files when all are there, JSON when all of it is in ``data``."""
    told: set[Problem] = set()  # a firm file that cannot be read is told once, not for every design
    rows: list[summary.Row] = []
    kept: list[str] = []
    pages = None
    if arguments.page and not alone:
        from slabwright.cli.page_folder import PageFolder

        pages = PageFolder(Path(arguments.page))
    results: list[dict[str, Any]] = []
    notices: list[dict[str, Any]] = []
    status = many_files.UNREADABLE if untracked else many_files.FINE
    for one in outcomes:
        fresh = [problem for problem in one.problems if problem not in told]
        told.update(fresh)
        if fresh:
            sys.stdout.flush()
            problem_list.write(fresh, sys.stderr)
        if asked.data:
            _put_data(one, alone, not rows, data)
        elif asked.sheet:
            _put_sheet(one, alone)
        kept.append(one.plain)
        if one.page and pages is not None:
            pages.add(one.file, one.page)
        elif one.page:
            keep(Path(arguments.page), one.page, "--page")
        results += one.results if one.status <= many_files.HOLD else [new for new in one.results if new not in results]
        notices += one.notices
        rows.append(summary.Row(one.file, one.verdict, *one.counts, one.status > 0, one.cautions_count, one.job))
        status = max(status, one.status)
    if asked.data:
        if not alone:
            data.write("\n]\n" if rows else "[]\n")
        data.seek(0)
        while some := data.read(1 << 20):
            put_data(some)
    if arguments.csv:
        put_data(summary.as_csv(rows, ";" if asked.settings.comma else ","))
    if pages is not None:
        pages.index(rows)
        if asked.sheet:
            wrote(pages.index_file)
    if asked.sheet and not alone:
        if arguments.hook:
            put(summary.kept_back(rows, asked.width, asked.encoding, untracked), sys.stdout)
        else:
            put(summary.table(rows, asked.width, asked.encoding), sys.stdout)
    if arguments.sheet:
        keep(Path(arguments.sheet), "\n".join(kept if alone else [*kept, plain(summary.table(rows))]), "--sheet")
    if arguments.sarif:
        whole = status <= many_files.HOLD
        _put_sarif(arguments, _rules(paths, asked), results, notices, whole)
    return status


def _page_for(name: str, alone: bool) -> None:
    """Refuse a page that could not be what its name says, before anything is reviewed; several go into a folder."""
    path = Path(name)
    page = path.suffix.lower() in {".html", ".htm"}
    if alone and not page and name != STANDARD:
        refuse(name, "a page is an HTML file", f"--page {path.with_suffix('.html').name}")
    if not alone and (page or name == STANDARD or (path.exists() and not is_folder(path))):
        wrong = "a page holds the review of one design, and the pages of several go into a folder"
        refuse(name, wrong, f"--page {'pages' if name == STANDARD else path.with_suffix('').name}")


def _put_sheet(one: Outcome, alone: bool) -> None:
    """The sheet of a design, if it has one."""
    if one.sheet:
        put(list(one.sheet), sys.stdout)
    sys.stdout.write(one.text)
    if not alone and (one.sheet or one.text):
        sys.stdout.write("\n")


def _put_data(one: Outcome, alone: bool, first: bool, stream: IO[str]) -> None:
    """A report as JSON: as it is for a file alone, as an entry of a list among many."""
    if not alone:
        stream.write(("[\n" if first else ",\n") + one.data.rstrip("\n"))
    elif one.status <= many_files.HOLD:
        stream.write(one.data)


def _put_sarif(
    arguments: argparse.Namespace,
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
    text = sarif.as_sarif(rules, results, notices, whole, release, arguments.only or "", arguments.rule_pages or "")
    if arguments.sarif == "-":
        put_data(text)
    else:
        keep(Path(arguments.sarif), text, "--sarif")


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
