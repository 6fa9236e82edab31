"""What a change to a design did, against a git revision or another version of the file.

Both versions are judged by the limits in force now, so that only the design's own changes show.
"""

from __future__ import annotations

import tempfile
from dataclasses import replace
from pathlib import Path

from slabwright.cli import git
from slabwright.design.shots import readings_of
from slabwright.review import changes, reviewing
from slabwright.review.changes import Effect
from slabwright.review.reviewing import Judged, Settings
from slabwright.source.files import BYTES_AT_MOST
from slabwright.source.place import Place
from slabwright.source.problem import Problem, UnreadableError, refuse


def effect(path: Path, against: str, settings: Settings) -> tuple[Effect, Judged]:
    """The design as it is, reviewed, and what changed in it since a git revision or another file.

    Raises :class:`UnreadableError` when the design cannot be read, or ``against``
    is neither.
    """
    now = reviewing.judge(path, settings)
    house = reviewing.house_of(path)
    earlier = Path(against)
    if earlier.is_file():
        try:
            then = reviewing.judge(earlier, settings, house=house)
        except UnreadableError as error:
            return changes.nothing_before(against, now.report, "could not be read as a design", error.problems), now
        return changes.compare(against, then.report, now.report), now
    with tempfile.TemporaryDirectory(prefix="slabwright-") as folder:
        try:
            copy = _checked_out(path, against, Path(folder))
            if copy is None:
                return changes.nothing_before(against, now.report, "was not there"), now
            then = reviewing.judge(copy, settings, house=house)
        except UnreadableError as error:
            if not all(one.place.file.startswith(folder) for one in error.problems):
                raise
            moved = tuple(_moved(one, Path(folder), f"{against}:", path.parent) for one in error.problems)
            return changes.nothing_before(against, now.report, "could not be read as a design", moved), now
        return changes.compare(against, then.report, now.report), now


def _moved(problem: Problem, folder: Path, revision: str, to: Path) -> Problem:
    """A problem in a file taken out into a folder, told of the file as the revision has it."""
    file = to / Path(problem.place.file).relative_to(folder)
    return replace(problem, place=problem.place._replace(file=f"{revision}{file}"))


def _checked_out(path: Path, revision: str, folder: Path) -> Path | None:
    """A copy of the design, and of the readings it names, as a git revision has them; None where it has none.

    Nothing else is taken out, and nothing is written outside ``folder``.
    """
    real = path.resolve()
    here = real.parent
    commit = git.ask(here, "rev-parse", "--verify", "--quiet", "--end-of-options", f"{revision}^{{commit}}")
    if commit is None:
        wrong = f"{revision} is neither a file nor a git revision here"
        raise UnreadableError((Problem(Place(""), wrong, "--against HEAD~1, or --against and another design"),))
    sha = commit.decode("ascii").strip()
    copy = folder / real.name
    text = _file_in(here, sha, real.name, copy)
    if text is None:
        return None
    copy.write_bytes(text)
    for target in readings_of(copy):
        name = target.relative_to(folder)
        if ".." not in name.parts and (readings := _file_in(here, sha, name.as_posix(), target)) is not None:
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(readings)
    return copy


def _file_in(here: Path, sha: str, name: str, copy: Path) -> bytes | None:
    """The bytes of a file in a commit, by its path from the folder ``here``; None where it has none.

    Raises :class:`UnreadableError`, told of ``copy``, for what git cannot give.
    """
    entry = git.ask(here, "ls-tree", "-z", sha, "--", name)
    if entry == b"":
        return None
    mode, kind, blob, *_ = [*(entry or b"").replace(b"\t", b" ").decode("utf-8", "replace").split(" "), "", "", ""]
    if kind and (kind, mode) not in {("blob", "100644"), ("blob", "100755"), ("blob", "100664")}:
        refuse(str(copy), "this was no ordinary file in that revision", "--against and another revision")
    size = git.ask(here, "cat-file", "-s", blob) if blob else None
    if size is not None and int(size) > BYTES_AT_MOST:
        refuse(str(copy), f"this held {int(size) / 1e6:,.0f} MB in that revision; at most 8 MB is read",
               "--against and another revision")  # fmt: skip
    found = git.ask(here, "cat-file", "blob", blob) if size is not None else None
    if found is None:
        write = "git fetch what is missing yourself, or --against and another design"
        refuse(str(copy), "git does not have this file of that revision on this computer", write)
    return found
