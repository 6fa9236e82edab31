"""What a change to a design did, against a git revision or another version of the file.

Both versions are judged by the limits in force now, so that only the design's own changes show.
"""

from __future__ import annotations

import subprocess
import tempfile
from dataclasses import replace
from pathlib import Path

from slabwright.review import changes, reviewing
from slabwright.review.changes import Effect
from slabwright.review.reviewing import Judged, Settings
from slabwright.source.place import Place
from slabwright.source.problem import Problem, UnreadableError


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
        copy = _checked_out(path, against, Path(folder))
        if copy is None:
            return changes.nothing_before(against, now.report, "was not there"), now
        try:
            then = reviewing.judge(copy, settings, house=house)
        except UnreadableError as error:
            shown = f"{against}:{path}"
            moved = tuple(
                replace(one, place=one.place._replace(file=one.place.file.replace(str(copy), shown)))
                for one in error.problems
            )
            return changes.nothing_before(against, now.report, "could not be read as a design", moved), now
        return changes.compare(against, then.report, now.report), now


def _checked_out(path: Path, revision: str, folder: Path) -> Path | None:
    """A copy of the design, and of the readings it names, as a git revision has them; None where it has none."""
    here = path.resolve().parent
    commit = _git(here, "rev-parse", "--verify", "--quiet", "--end-of-options", f"{revision}^{{commit}}")
    if commit is None:
        wrong = f"{revision} is neither a file nor a git revision here"
        raise UnreadableError((Problem(Place(""), wrong, "--against HEAD~1, or --against and another design"),))
    sha = commit.decode("ascii").strip()
    text = _git(here, "show", f"{sha}:./{path.name}")
    if text is None:
        return None
    copy = folder / path.name
    copy.write_bytes(text)
    listed = _git(here, "ls-tree", "-r", "-z", "--name-only", sha, ".") if b".csv" in text else b""
    for name in (listed or b"").split(b"\0"):
        relative = Path(name.decode("utf-8", "surrogateescape"))
        if relative.suffix == ".csv" and relative.name.encode("utf-8", "surrogateescape") in text:
            readings = _git(here, "show", f"{sha}:./{relative}")
            target = folder / relative
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(readings or b"")
    return copy


def _git(folder: Path, *command: str) -> bytes | None:
    """What git prints; None when it refuses.

    Raises :class:`UnreadableError` when there is no git.
    """
    try:
        done = subprocess.run(["git", "-C", str(folder), *command], capture_output=True, check=False)
    except OSError:
        wrong = "--against a revision needs git, and there is none on this computer"
        raise UnreadableError((Problem(Place(""), wrong, "--against and another design"),)) from None
    return done.stdout if done.returncode == 0 else None
