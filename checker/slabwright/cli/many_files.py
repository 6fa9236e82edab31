"""Reviewing files and folders of designs on all cores.

Designs are judged in chunks by workers that share nothing; outcomes come in the order of the files, whichever worker is
done first. One file that cannot be read, or on which the program itself fails, never hides the others.
"""

import os
import re
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any, NamedTuple

from slabwright.cli import workers
from slabwright.review import firm, reviewing
from slabwright.review.reviewing import Judged, Settings, UnsettledError
from slabwright.source.files import FIRM_FILE, is_folder
from slabwright.source.place import Place
from slabwright.source.problem import Problem, UnreadableError
from slabwright.text.sheet import Line, plain
from slabwright.writers import problem_list, terminal
from slabwright.writers.terminal import Level

FINE, HOLD, UNREADABLE, FAILED = 0, 1, 2, 3

SUFFIX = ".slab.yaml"
_DESIGN_LIKE = re.compile(r"([^.].*?)[. _-]slab[. _-]?ya?ml(?:\.(?:txt|ya?ml))?", re.IGNORECASE)
_FIRM_LIKE = re.compile(r"\.?slabwright[. _-]?ya?ml(?:\.(?:txt|ya?ml))?", re.IGNORECASE)

AT_ONCE = workers.CHUNK_AT_MOST  # designs judged at once
BYTES_AT_ONCE = 100_000  # of their files: a design of sixty lines has two thousand


class Asked(NamedTuple):
    """What a run asks of every design, and in which forms it wants the answer; every worker gets it."""

    settings: Settings
    sheet: bool = False  # as set for standard output
    plain: bool = False  # as a sheet to keep
    data: bool = False
    sarif: bool = False
    page: bool = False
    passes: bool = False
    blocking: bool = False  # sheets only of designs that keep a commit back
    level: Level = "usual"
    width: int = 80
    encoding: str = "utf-8"
    color: bool = False


class Outcome(NamedTuple):
    """What became of one file: problems that keep it from being read, or the parts asked for of its review."""

    file: str
    status: int
    verdict: str  # hold | caution | note | met | unreadable | not judged | failed
    job: str = ""
    counts: tuple[int, int, int, int] = (0, 0, 0, 0)  # holds, cautions, notes, rules not shown
    problems: tuple[Problem, ...] = ()
    sheet: tuple[Line, ...] = ()
    text: str = ""  # the same sheet where no color is wanted
    plain: str = ""
    data: str = ""
    page: str = ""
    cautions_count: str = ""  # where nothing but cautions makes it fail: who says that they count
    results: tuple[dict[str, Any], ...] = ()
    notices: tuple[dict[str, Any], ...] = ()


def designs(names: Sequence[str]) -> list[Path]:
    """The design files named, those of a folder in order of their paths; each once.

    Folders whose names start with a dot are not walked, and links to folders are not followed. A folder that may not
    be entered stands among them, and so does a file of a folder that only a slip keeps from being read here
    (:func:`misnamed`): both are told, and count as not readable.

    Raises :class:`UnreadableError` for a folder without any.
    """
    found: dict[Path, None] = {}
    for name in names:
        path = Path(name)
        if is_folder(path):
            inside = _walked(path)
            if not inside:
                wrong = f"there is no design ({SUFFIX}) in this folder"
                raise UnreadableError(
                    (
                        Problem(
                            Place(str(path)),
                            wrong,
                            "a folder of designs, or a design file; slabwright begin writes one",
                        ),
                    )
                )
            found.update(dict.fromkeys(inside))
        else:
            found[path] = None
    return list(found)


def _walked(folder: Path) -> list[Path]:
    inside: list[Path] = []

    def closed(error: OSError) -> None:
        inside.append(Path(error.filename))

    for here, below, files in os.walk(folder, onerror=closed):
        below[:] = [name for name in below if not name.startswith(".")]
        inside.extend(Path(here) / name for name in files if is_design(name) or misnamed(name))
    return sorted(inside)


def walked(names: Sequence[str]) -> tuple[list[Path], list[Path]]:
    """The designs that files and folders give, and the files of folders that only a slip keeps from being one."""
    found = designs(names)
    slips = {path: None for path in found if misnamed(path.name) and str(path) not in names}
    return [path for path in found if path not in slips], list(slips)


def is_design(name: str) -> bool:
    """Whether a file of this name is a design, as a folder is walked."""
    return name.endswith(SUFFIX) and not name.startswith(".")


def misnamed(name: str) -> str:
    """The name that a file was meant to have, where only a slip keeps it from being read here; else nothing.

    >>> misnamed("pad.slab.yml"), misnamed("Pad.Slab.YAML.txt"), misnamed("slabwright.yaml")
    ('pad.slab.yaml', 'Pad.slab.yaml', '.slabwright.yaml')
    >>> misnamed("pad.slab.yaml"), misnamed(".slabwright.yaml"), misnamed("prices.yaml")
    ('', '', '')
    """
    if name != FIRM_FILE and _FIRM_LIKE.fullmatch(name):
        return FIRM_FILE
    like = _DESIGN_LIKE.fullmatch(name)
    return f"{like[1]}{SUFFIX}" if like and not name.endswith(SUFFIX) else ""


def slip(path: Path, asked: Asked) -> Outcome | None:
    """What is told of a file that only a slip in its name keeps from being read; None of all others."""
    meant = misnamed(path.name)
    if not meant:
        return None
    if meant == FIRM_FILE:
        wrong = f"this file holds for no design, for the name of a firm file is {FIRM_FILE}"
    else:
        wrong = f"this file is passed over, for the name of a design ends in {SUFFIX}"
    problem = Problem(Place(str(path)), wrong, f"the name {meant}")
    return _unjudged(path, (problem,), asked, UNREADABLE)


def near(path: Path) -> Path:
    """The same file by its path from the working folder, if it is in it: what is printed is then alike everywhere."""
    try:
        return path.resolve().relative_to(Path.cwd()) if path.is_absolute() else Path(os.path.normpath(path))
    except (OSError, RuntimeError, ValueError):
        return path


def judged(paths: Sequence[Path], asked: Asked, jobs: int | None = None) -> Iterator[Outcome]:
    """The outcomes of all files, in their order, with progress on standard error if that is a terminal."""
    found = workers.in_order(outcomes, paths, (asked,), jobs, prepare, _lost)
    return workers.told(found, len(paths), sys.stderr)


def prepare(asked: Asked, *_: object) -> None:
    """Load what every worker needs, before they part."""
    try:
        reviewing.in_force(*reviewing.layers(asked.settings, firm.Firm()))
    except UnreadableError:
        return  # every design tells it


def _lost(path: Path, asked: Asked) -> Outcome:
    """What is told of a file whose worker was ended from outside, twice."""
    wrong = "reviewing this file ended the program that did it; it may take more memory than there is"
    return _unjudged(
        path, (Problem(Place(str(path)), wrong, "a design with fewer points and shots"),), asked, FAILED, "failed"
    )


def outcome(path: Path, asked: Asked) -> Outcome:
    """Review the one file that was named. A failure of the program is not caught."""
    try:
        one = reviewing.judge(path, asked.settings, figured=asked.data, advise=asked.level != "brief")
    except UnreadableError as error:
        return _unjudged(path, error.problems, asked, UNREADABLE, whose(error))
    return _parts(path, asked, one, alone=True)


def outcomes(paths: Sequence[Path], asked: Asked) -> Iterator[Outcome]:
    """Review some of many files, in order; a failure of the program is an outcome too."""
    for some in at_once(paths):
        judged = reviewing.judge_each(some, asked.settings, figured=asked.data, advise=asked.level != "brief")
        for path, one in zip(some, judged, strict=True):
            yield _outcome(path, asked, one)


def at_once(paths: Sequence[Path]) -> Iterator[list[Path]]:
    """Files of which all can be held in memory at once: a few small ones, or one that is not small."""
    together: list[Path] = []
    size = 0
    for path in paths:
        own = _size(path)
        if together and (len(together) == AT_ONCE or size + own > BYTES_AT_ONCE):
            yield together
            together, size = [], 0
        together.append(path)
        size += own
    if together:
        yield together


def _size(path: Path) -> int:
    try:
        return path.stat().st_size
    except (OSError, ValueError):  # reading it tells
        return 0


def _outcome(path: Path, asked: Asked, one: Judged | Exception) -> Outcome:
    """What became of one of many files."""
    failure = one
    if not isinstance(one, Exception):
        try:
            return _parts(path, asked, one, alone=False)
        except Exception as error:
            failure = error
    if isinstance(failure, UnreadableError):
        return _unjudged(path, failure.problems, asked, UNREADABLE, whose(failure))
    what = f"the program itself failed, and the file is not judged: {type(failure).__name__}: {failure}"
    return _unjudged(path, (Problem(Place(str(path)), what),), asked, FAILED, "failed")


def tell_once(problems: Sequence[Problem], told: set[Problem]) -> None:
    """Tell the problems that are not among those ``told``: a firm file is told once, not for every design."""
    fresh = [problem for problem in problems if problem not in told]
    told.update(fresh)
    if fresh:
        sys.stdout.flush()
        problem_list.write(fresh, sys.stderr)


def whose(error: UnreadableError) -> str:
    """The verdict on a design that cannot be judged: it cannot be read, or what it is to be judged by cannot."""
    return "not judged" if isinstance(error, UnsettledError) else "unreadable"


def _unjudged(
    path: Path, problems: tuple[Problem, ...], asked: Asked, status: int, verdict: str = "unreadable"
) -> Outcome:
    """The outcome of a file without a review."""
    from slabwright.text.json_values import json_text  # with sarif 9 ms
    from slabwright.writers import as_json, sarif

    return Outcome(
        str(path),
        status,
        verdict,
        problems=problems,
        plain=plain(problem_list.listed(problems)) if asked.plain else "",
        data=json_text(as_json.unread_data(str(path), problems, verdict)) if asked.data else "",
        results=tuple(sarif.unread(problems)) if asked.sarif and status == UNREADABLE else (),
        notices=tuple(sarif.failed(problems)) if asked.sarif and status == FAILED else (),
    )


def _parts(path: Path, asked: Asked, one: Judged, alone: bool) -> Outcome:
    """The parts of a finished review that were asked for.

    Among many, a design without a comment has no sheet on the screen: its line in the summary says it all.
    """
    report, group = one.report, asked.settings.only
    page = ""
    if asked.page:
        from slabwright.drawing import content  # with the page 50 ms
        from slabwright.writers import page as pages

        page = pages.page(content.drawn(report, one.plan), group)
    data = ""
    results: tuple[dict[str, Any], ...] = ()
    notices: tuple[dict[str, Any], ...] = ()
    if asked.data:
        from slabwright.text.json_values import json_text  # 3 ms
        from slabwright.writers import as_json

        brief = asked.level == "brief"
        data = json_text(as_json.brief_data(report)) if brief else as_json.as_json(report)
    if asked.sarif:
        from slabwright.writers import sarif  # 6 ms

        results, notices = tuple(sarif.results_of(report, asked.passes)), tuple(sarif.notices_of(report))
    told = asked.sheet and (one.holds if asked.blocking else alone or report.verdict != "met")
    lines = terminal.sheet(report, asked.width, asked.encoding, group, asked.level) if told else []
    return Outcome(
        str(path),
        HOLD if one.holds else FINE,
        report.verdict,
        report.job,
        (report.holds, report.counted("caution"), report.counted("note"), len(report.not_shown)),
        sheet=tuple(lines) if asked.color else (),
        text="" if asked.color else plain(lines),
        plain=plain(terminal.sheet(report, only=group, level="full")) if asked.plain else "",
        data=data,
        page=page,
        cautions_count="" if report.holds or not one.holds else "--strict" if asked.settings.strict else "firm file",
        results=results,
        notices=notices,
    )
