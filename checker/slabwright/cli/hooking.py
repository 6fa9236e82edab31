"""``review --hook``: from the files that a commit changes to every design that rests on one of them.

A design rests on its readings, the firm file that holds for it, and the amendments and rules that this names. One of
them that git does not track would be missing wherever the commit goes.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from slabwright.cli import git
from slabwright.cli.many_files import SUFFIX, is_design, misnamed
from slabwright.design.shots import SUFFIXES, readings_of
from slabwright.named_tuple import NamedTuple
from slabwright.review import reviewing
from slabwright.review.reviewing import Settings
from slabwright.source.files import FIRM_FILE
from slabwright.source.place import Place
from slabwright.source.problem import Problem, UnreadableError

_MAY_MATTER = (".yaml", ".yml", ".py", *SUFFIXES)


class Touched(NamedTuple):
    """What a commit concerns: designs to review, names that are slips, and what git does not track."""

    designs: list[Path]
    slips: list[Path]
    untracked: list[Problem]


def touched(names: Sequence[str], settings: Settings) -> Touched:
    """What the files ``names`` that a commit changes concern, and those that it deletes."""
    here = Path.cwd()
    root = git.top(here)
    tracked = dict.fromkeys(root / name for name in git.listed(git.ask(root, "ls-files", "-z"))) if root else {}
    changed = {_absolute(Path(name)) for name in names} | set(_deleted(root, tracked) if root else ())
    slips = [path for path in sorted(changed) if misnamed(path.name) and os.path.lexists(path)]
    designs = {path for path in changed if is_design(path.name) and os.path.lexists(path)}
    others = {path for path in changed if not is_design(path.name) and path.suffix.lower() in _MAY_MATTER}
    if others:
        resting = _Resting(others, settings)
        known = tracked or (_absolute(path) for path in here.rglob(f"*{SUFFIX}"))
        designs |= {one for one in known if is_design(one.name) and os.path.lexists(one) and resting.on_one(one)}
    ordered = sorted(designs)
    told = _untracked(ordered, root, tracked, settings) if root else []
    return Touched([_near(path) for path in ordered], [_near(path) for path in slips], told)


def _absolute(path: Path) -> Path:
    """The path from the root, with links in its folders followed, as git names it; the file itself may be a link."""
    return Path(os.path.realpath(path.parent)) / path.name


def _near(path: Path) -> Path:
    """The same path from the working folder, if it is in it."""
    here = Path(os.path.realpath(Path.cwd()))
    return path.relative_to(here) if path.is_relative_to(here) else path


def _deleted(root: Path, tracked: Mapping[Path, None]) -> Iterator[Path]:
    """What the commit takes away: pre-commit names no file that is gone."""
    compared = ("--name-only", "--no-renames", "--diff-filter=D", "-z", "--end-of-options")
    since, until = os.environ.get("PRE_COMMIT_FROM_REF"), os.environ.get("PRE_COMMIT_TO_REF")
    if since and until:
        gone = git.ask(root, "diff-tree", "-r", *compared, since, until)
    else:
        gone = git.ask(root, "diff-index", "--cached", *compared, "HEAD")
    yield from (root / name for name in git.listed(gone))
    yield from (path for path in tracked if path.suffix.lower() in _MAY_MATTER and not os.path.lexists(path))


class _Resting:
    """Which designs rest on one of some files."""

    def __init__(self, changed: set[Path], settings: Settings) -> None:
        self._changed = changed
        self._houses = {path.parent for path in changed if path.name == FIRM_FILE}
        self._readings = [path.name for path in changed if path.suffix.lower() in SUFFIXES]
        self._all = any(path in changed for path in _of_settings(settings)) or self._in_rules(settings.rules)
        self._by_house: dict[Path | None, bool] = {}

    def on_one(self, design: Path) -> bool:
        """Whether ``design`` rests on one of the files."""
        if self._all or any(folder in design.parents for folder in self._houses):
            return True
        house = reviewing.firm_file_of(design)
        if house not in self._by_house:
            self._by_house[house] = house is not None and self._rests_on_house(house)
        if self._by_house[house]:
            return True
        return bool(self._readings) and any(
            _absolute(one) in self._changed for one in readings_of(design, self._readings)
        )

    def _rests_on_house(self, house: Path) -> bool:
        try:
            rests = any(path in self._changed for path in _of_house(house))
            return rests or self._in_rules(reviewing.house_at(house).rules)
        except UnreadableError:  # it may have named what is gone; the review tells
            return True

    def _in_rules(self, folder: Path | None) -> bool:
        """Whether one of the files stands, or stood, in a folder of rules."""
        rules = folder and Path(os.path.realpath(folder))
        return rules is not None and any(rules in path.parents for path in self._changed)


def _of_settings(settings: Settings) -> Iterator[Path]:
    yield from map(_absolute, settings.amendments)
    if settings.rules is not None:
        yield from _rule_files(settings.rules)


def _of_house(house: Path) -> Iterator[Path]:
    """The firm file, its amendments and its rule files, also those that are gone or new."""
    says = reviewing.house_at(house)
    yield _absolute(house)
    yield from map(_absolute, says.amendments)
    if says.rules is not None:
        yield from _rule_files(says.rules)


def _rule_files(folder: Path) -> Iterator[Path]:
    yield from (_absolute(path) for path in sorted(folder.glob("*/*.py")))
    yield _absolute(folder / "sources.yaml")


def _untracked(designs: Sequence[Path], root: Path, tracked: Mapping[Path, None], settings: Settings) -> list[Problem]:
    """What some designs rest on that stands in the repository and git does not track, each told once."""
    told: dict[Path, Problem] = {}
    houses = {house for design in designs if (house := reviewing.firm_file_of(design)) is not None}
    for house in sorted(houses):
        try:
            for path in _of_house(house):
                _note(path, "the firm file", root, tracked, told)
        except UnreadableError:  # the review tells
            continue
    for path in _of_settings(settings):
        _note(path, "this command", root, tracked, told)
    for design in designs:
        for path in readings_of(design, SUFFIXES):
            _note(_absolute(path), str(_near(design)), root, tracked, told)
    return list(told.values())


def _note(path: Path, who: str, root: Path, tracked: Mapping[Path, None], told: dict[Path, Problem]) -> None:
    if path in tracked or path in told or root not in path.parents or not os.path.lexists(path):
        return
    shown = _near(path)
    wrong = f"git does not track this file, which {who} reads: whoever gets the commit is without it"
    told[path] = Problem(Place(str(shown)), wrong, f"git add {shown}")
