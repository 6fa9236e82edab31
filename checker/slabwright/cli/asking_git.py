"""What a change to designs did, against a git revision or another version of a file.

Both versions are judged by the limits in force now, so that only the designs' own changes show.
"""

from __future__ import annotations

import hashlib
import os
import tempfile
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any, NoReturn

from slabwright.cli import git
from slabwright.cli.many_files import is_design
from slabwright.design.shots import readings_of
from slabwright.review import changes, reviewing
from slabwright.review.changes import Effect
from slabwright.review.reviewing import Judged, Settings
from slabwright.source.files import BYTES_AT_MOST, STANDARD, repository_of
from slabwright.source.problem import Problem, UnreadableError, refuse

ALIKE_AT_LEAST = 0.5  # part of the lines of a design that is the same one under another name, as git counts
_ASKED_AT_ONCE = 64  # files
_ORDINARY = {"100644", "100755", "100664"}


@dataclass(frozen=True, slots=True)
class Pair:
    """A design as it is and as it was; ``then`` is a copy in ``folder``, or the file compared with."""

    now: Path
    against: str
    then: Path | None = None
    folder: str = ""
    old: str = ""  # the path it had in the revision, from the working folder
    renamed: bool = False
    problems: tuple[Problem, ...] = ()  # that keep the earlier version from being taken out


@dataclass(frozen=True, slots=True)
class Compared:
    """The designs that differ from an earlier version, those that are gone, and how many are the same."""

    pairs: list[Pair]
    gone: list[str] = field(default_factory=list)
    same: int = 0


@contextmanager
def compared(paths: Sequence[Path], named: Sequence[str], against: str, every: bool) -> Iterator[Compared]:
    """What ``paths`` are compared with, taken out of git where ``against`` is a revision; gone afterwards.

    With ``every``, a design that did not change is compared too. ``named`` are the files and folders asked for:
    what is gone from them is told.

    Raises :class:`UnreadableError` when ``against`` is neither a file nor a revision.
    """
    if Path(against).is_file() or against == STANDARD:
        yield Compared([Pair(path, against, Path(against)) for path in paths])
        return
    with tempfile.TemporaryDirectory(prefix="slabwright-") as folder:
        whole = Compared([])
        same = 0
        for root, some in _by_repository(paths, named, against).items():
            one = _Revision(root, against)
            found = one.compared(some, [_absolute(Path(name)) for name in named], Path(folder), every)
            whole.pairs.extend(found.pairs)
            whole.gone.extend(found.gone)
            same += found.same
        order = {path: at for at, path in enumerate(paths)}
        whole.pairs.sort(key=lambda pair: order[pair.now])
        yield replace(whole, same=same)


def effects(pairs: Sequence[Pair], settings: Settings) -> Iterator[tuple[Effect, Judged] | Exception]:
    """What changed in each design, and its review as it is; in place of one that cannot be judged, why."""
    judged = reviewing.judge_versions([(pair.now, pair.then) for pair in pairs], settings)
    for pair, (now, then) in zip(pairs, judged, strict=True):
        yield now if isinstance(now, Exception) else _effect(pair, now, then)


def _effect(pair: Pair, now: Judged, then: Judged | Exception | None) -> tuple[Effect, Judged] | Exception:
    if isinstance(then, UnreadableError) or pair.problems:
        problems = then.problems if isinstance(then, UnreadableError) else pair.problems
        moved = tuple(_moved(one, pair) for one in problems)
        return changes.nothing_before(pair.against, now.report, "could not be read as a design", moved), now
    if isinstance(then, Exception):
        return then
    if then is None:
        return changes.nothing_before(pair.against, now.report, changes.NOT_THERE), now
    effect = changes.compare(pair.against, then.report, now.report)
    return (replace(effect, renamed_from=pair.old) if pair.renamed else effect), now


def _moved(problem: Problem, pair: Pair) -> Problem:
    """A problem in a file taken out into a folder, told of the file as the revision has it."""
    if not pair.folder or not problem.place.file.startswith(pair.folder):
        return problem
    file = Path(pair.old).parent / Path(problem.place.file).relative_to(pair.folder)
    return problem._replace(place=problem.place._replace(file=f"{pair.against}:{file}"))


def _absolute(path: Path) -> Path:
    return Path(os.path.realpath(path))


def _by_repository(paths: Sequence[Path], named: Sequence[str], against: str) -> dict[Path, list[Path]]:
    """The designs by the root of the repository that each is in."""
    found: dict[Path, list[Path]] = {}
    for path in paths:
        root = repository_of(_absolute(path).parent)
        if root is None:
            _neither(against)
        found.setdefault(root, []).append(path)
    if not paths:
        root = repository_of(_absolute(Path(named[0])))
        found = {root: []} if root is not None else {}
    return found


def _neither(against: str) -> NoReturn:
    wrong = f"{against} is neither a file nor a git revision here"
    refuse("", wrong, "--against HEAD~1, or --against and another design")


class _Revision:
    """The files of one revision of a repository, by their paths from its root."""

    def __init__(self, root: Path, name: str) -> None:
        self._root, self._name = root, name
        commit = git.ask(root, "rev-parse", "--verify", "--quiet", "--end-of-options", f"{name}^{{commit}}")
        if commit is None:
            _neither(name)
        self._sha = commit.decode("ascii").strip()
        listed = git.listed(git.ask(root, "ls-tree", "-r", "-z", "--full-tree", self._sha))
        parted = (entry.partition("\t") for entry in listed)
        self._entries: Mapping[str, tuple[str, str]] = {
            path: (about.split(" ")[0], about.split(" ")[-1]) for about, _, path in parted
        }
        self._texts: dict[str, bytes] = {}
        self._refused: dict[str, str] = {}

    def compared(self, paths: Sequence[Path], named: Sequence[Path], folder: Path, every: bool) -> Compared:
        """The designs that differ; copies of what they were are put into ``folder``, and nothing outside it."""
        at = {path: _absolute(path).relative_to(self._root).as_posix() for path in paths}
        lost = [name for name in self._entries if is_design(Path(name).name) and not os.path.lexists(self._root / name)]
        new = [path for path in paths if at[path] not in self._entries]
        renamed = self._renamed(new, lost)
        changed = [path for path in paths if path in renamed or every or not self._same(path, at[path])]
        self._fetch(
            [self._entries[name][1] for path in changed if (name := renamed.get(path, at[path])) in self._entries]
        )
        pairs = [
            self._pair(path, renamed.get(path, at[path]), folder / f"{number}-{self._sha[:8]}-{self._root.name}")
            for number, path in enumerate(changed)
        ]
        below = [name for name in lost if any(self._root / name == one or one in (self._root / name).parents
                                              for one in named)]  # fmt: skip
        gone = [self._near(name) for name in below if name not in renamed.values()]
        return Compared(pairs, gone, len(paths) - len(changed))

    def _pair(self, path: Path, name: str, folder: Path) -> Pair:
        was_there = name in self._entries
        pair = Pair(path, self._name, folder=str(folder), old=self._near(name))
        if not was_there:
            return pair
        pair = replace(pair, renamed=self._root / name != _absolute(path))
        copy = folder / Path(name).name
        try:
            folder.mkdir(parents=True)
            copy.write_bytes(self._text(name, copy))
            for target in readings_of(copy):
                beside = target.relative_to(folder)
                reading = (Path(name).parent / beside).as_posix()
                if ".." not in beside.parts and reading in self._entries:
                    text = self._text(reading, target)
                    target.parent.mkdir(parents=True, exist_ok=True)
                    target.write_bytes(text)
        except UnreadableError as error:
            return replace(pair, problems=error.problems)
        return replace(pair, then=copy)

    def _near(self, name: str) -> str:
        """A path of the revision, from the working folder where it is in it."""
        path, here = self._root / name, _absolute(Path.cwd())
        return str(path.relative_to(here) if path.is_relative_to(here) else path)

    def _same(self, path: Path, name: str) -> bool:
        """Whether a design and its readings are as they were, whichever line ends they have."""
        entry = self._entries.get(name)
        if entry is None or not self._unchanged(path, entry[1]):
            return False
        for target in readings_of(path):
            real = _absolute(target)
            beside = self._entries.get(
                real.relative_to(self._root).as_posix() if real.is_relative_to(self._root) else ""
            )
            if real.exists() != (beside is not None) or (beside is not None and not self._unchanged(real, beside[1])):
                return False
        return True

    def _unchanged(self, path: Path, blob: str) -> bool:
        try:
            if path.stat().st_size > BYTES_AT_MOST:
                return False
            content = path.read_bytes()
        except OSError:
            return False
        kind: Callable[..., Any] = hashlib.sha1 if len(blob) == 40 else hashlib.sha256
        ways = [content, content.replace(b"\r\n", b"\n")] if b"\r\n" in content else [content]
        return any(kind(b"blob %d\0" % len(one) + one).hexdigest() == blob for one in ways)

    def _renamed(self, new: Sequence[Path], lost: Sequence[str]) -> dict[Path, str]:
        """The name that each new design had before, where one that is gone says nearly the same."""
        found: dict[Path, str] = {}
        if not new or not lost:
            return found
        self._fetch([self._entries[name][1] for name in lost])
        were = {name: _lines(self._texts.get(self._entries[name][1], b"")) for name in lost}
        weighed = sorted(
            ((alike, path.name == Path(name).name, path, name) for path in new for name, was in were.items()
             if (alike := _alike(_lines(_read(path)), was)) >= ALIKE_AT_LEAST),
            key=lambda one: (-one[0], not one[1], str(one[2]), one[3]),
        )  # fmt: skip
        for _, _, path, name in weighed:
            if path not in found and name not in found.values():
                found[path] = name
        return found

    def _fetch(self, blobs: Sequence[str]) -> None:
        """Have git print the files that are asked for and not too large; what it lacks is noted."""
        wanted = [blob for blob in dict.fromkeys(blobs) if blob not in self._texts and blob not in self._refused]
        for some in (wanted[at : at + _ASKED_AT_ONCE] for at in range(0, len(wanted), _ASKED_AT_ONCE)):
            asked = b"".join(blob.encode("ascii") + b"\n" for blob in some)
            sizes = (git.ask(self._root, "cat-file", "--batch-check", given=asked) or b"").decode("ascii", "replace")
            fit = []
            for line in sizes.splitlines():
                blob, kind, *size = line.split(" ")
                if size and int(size[0]) > BYTES_AT_MOST:
                    megabytes = f"{int(size[0]) / 1e6:,.0f} MB"
                    self._refused[blob] = f"this held {megabytes} in that revision; at most 8 MB is read"
                elif kind == "blob":
                    fit.append(blob)
            asked = b"".join(blob.encode("ascii") + b"\n" for blob in fit)
            rest = git.ask(self._root, "cat-file", "--batch", given=asked) or b""
            while rest:
                head, _, rest = rest.partition(b"\n")
                blob, _, length = head.decode("ascii", "replace").split(" ")
                self._texts[blob], rest = rest[: int(length)], rest[int(length) + 1 :]

    def _text(self, name: str, copy: Path) -> bytes:
        """The bytes of a file.

        Raises :class:`UnreadableError`, told of ``copy``, for what git cannot give.
        """
        mode, blob = self._entries[name]
        if mode not in _ORDINARY:
            refuse(str(copy), "this was no ordinary file in that revision", "--against and another revision")
        self._fetch([blob])
        if blob in self._refused:
            refuse(str(copy), self._refused[blob], "--against and another revision")
        if blob not in self._texts:
            write = "git fetch what is missing yourself, or --against and another design"
            refuse(str(copy), "git does not have this file of that revision on this computer", write)
        return self._texts[blob]


def _read(path: Path) -> bytes:
    try:
        return path.read_bytes() if path.stat().st_size <= BYTES_AT_MOST else b""
    except OSError:
        return b""


def _lines(text: bytes) -> Counter[bytes]:
    return Counter(text.split())


def _alike(one: Counter[bytes], other: Counter[bytes]) -> float:
    """The part of the words of two files that both have."""
    most = max(one.total(), other.total())
    return (one & other).total() / most if most else 0.0
