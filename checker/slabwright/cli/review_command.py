"""``review`` on the command line: which files, in which forms, and where each part of the answer goes.

A plain review loads nothing for what it is not asked for: a copy put right takes 60 ms, pages 45, what changed 14.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable, Sequence
from io import StringIO
from itertools import chain
from pathlib import Path
from typing import IO, TYPE_CHECKING, Any

from slabwright.cli import many_files
from slabwright.cli.asked import settings_of
from slabwright.cli.guarding import guard
from slabwright.cli.many_files import Asked, Outcome
from slabwright.review import reviewing
from slabwright.source.files import STANDARD, is_folder
from slabwright.source.problem import Problem, refuse
from slabwright.text.outputs import keep, put_data, wrote
from slabwright.text.screen import fitting_width, in_color, put, stream_encoding
from slabwright.text.sheet import plain
from slabwright.writers import problem_list, summary

if TYPE_CHECKING:
    import argparse

    from slabwright.review.reviewing import Settings


def review(arguments: argparse.Namespace) -> int:
    """Review everything named on the command line; 2 when a file cannot be read, else 1 when a hold stands."""
    settings = settings_of(arguments)
    _named(arguments)
    _own_options(arguments)
    if arguments.put_right:
        from slabwright.cli import putting_right  # 60 ms

        return putting_right.put_right(arguments, settings)
    if arguments.why is not None:
        from slabwright.cli import why  # 3 ms

        return why.tell(arguments, settings)
    if arguments.as_built:
        from slabwright.cli import as_built  # 11 ms

        return as_built.tell(arguments, settings)
    once = _review
    if arguments.against:
        from slabwright.cli import comparing  # 14 ms

        comparing.whole_only(arguments)
        once = comparing.compare
    if arguments.watch:
        from slabwright.cli import watching  # 1 ms

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
    for option in ("heights", "joints", "thickness"):
        if getattr(arguments, option) and not arguments.put_right:
            refuse("", f"--{option} belongs to --put-right", f"review FILE --put-right OUT.slab.yaml --{option}")
    looked_at_once = ("why", "as_built", "against", "watch", "csv", "sheet", "sarif", "page", "only")
    for option, typed, others in (
        ("put_right", "--put-right OUT.slab.yaml", looked_at_once),
        ("why", "--why NUMBER", ("as_built", "against", "watch", "json", "csv", "sheet", "sarif", "page", "only")),
        ("as_built", "--as-built", ("against", "watch", "csv", "sheet", "sarif", "only")),
    ):
        if getattr(arguments, option) in (None, False):
            continue
        name, write = typed.partition(" ")[0], f"review FILE {typed} by itself"
        for other in others:
            if getattr(arguments, other):
                refuse("", f"{name} and --{other.replace('_', '-')} do not go together", write)
        if option != "put_right" and (len(arguments.files) != 1 or is_folder(Path(arguments.files[0]))):
            refuse("", f"{name} looks at one design at a time", f"review FILE {typed}")


def _review(arguments: argparse.Namespace, settings: Settings) -> int:
    """One review of everything named, or of everything that a commit concerns."""
    reviewing.forget()  # files may have been saved since this process last read them
    untracked: list[Problem] = []
    if arguments.hook:
        from slabwright.cli import hooking  # 3 ms

        paths, slips, untracked = hooking.touched(arguments.files, settings)
        if not (paths or slips or untracked):
            return many_files.FINE
    else:
        paths, slips = many_files.walked(arguments.files)
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


class _Given:
    """What the outcomes of all designs come to, added up as they come."""

    def __init__(self, status: int) -> None:
        self.status = status
        self.rows: list[summary.Row] = []
        self.sheets: list[str] = []  # as plain text
        self.results: list[dict[str, Any]] = []  # of SARIF
        self.notices: list[dict[str, Any]] = []

    def add(self, one: Outcome) -> None:
        """Add one; what several designs lack alike is a result once."""
        known = self.results if one.status > many_files.HOLD else []
        self.results += [new for new in one.results if new not in known]
        self.notices += one.notices
        self.sheets.append(one.plain)
        self.rows.append(summary.Row(one.file, one.verdict, *one.counts, one.status > 0, one.cautions_count, one.job))
        self.status = max(self.status, one.status)


def _give(
    outcomes: Iterable[Outcome],
    arguments: argparse.Namespace,
    asked: Asked,
    paths: Sequence[Path],
    alone: bool = False,
    untracked: int = 0,
) -> int:
    """Write each part where it belongs."""
    if not asked.data:
        return _given(outcomes, arguments, asked, paths, alone, untracked, StringIO())
    from tempfile import TemporaryFile  # 4 ms

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
    told: set[Problem] = set()
    given = _Given(many_files.UNREADABLE if untracked else many_files.FINE)
    pages = None
    if arguments.page and not alone:
        from slabwright.cli.page_folder import PageFolder  # 44 ms

        pages = PageFolder(Path(arguments.page))
    for one in outcomes:
        many_files.tell_once(one.problems, told)
        if asked.data:
            _put_data(one, alone, not given.rows, data)
        elif asked.sheet:
            _put_sheet(one, alone)
        if one.page and pages is not None:
            pages.add(one.file, one.page)
        elif one.page:
            keep(Path(arguments.page), one.page, "--page")
        given.add(one)
    if asked.data:
        if not alone:
            data.write("\n]\n" if given.rows else "[]\n")
        data.seek(0)
        while some := data.read(1 << 20):
            put_data(some)
    if arguments.csv:
        put_data(summary.as_csv(given.rows, ";" if asked.settings.comma else ","))
    if pages is not None:
        pages.index(given.rows)
        if asked.sheet:
            wrote(pages.index_file)
    if asked.sheet and not alone:
        if arguments.hook:
            put(summary.kept_back(given.rows, asked.width, asked.encoding, untracked), sys.stdout)
        else:
            put(summary.table(given.rows, asked.width, asked.encoding), sys.stdout)
    if arguments.sheet:
        texts = given.sheets if alone else [*given.sheets, plain(summary.table(given.rows))]
        keep(Path(arguments.sheet), "\n".join(texts), "--sheet")
    if arguments.sarif:
        from slabwright.cli import sarif_file  # 16 ms

        whole = given.status <= many_files.HOLD
        sarif_file.put(arguments, paths, asked.settings, given.results, given.notices, whole)
    return given.status


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
