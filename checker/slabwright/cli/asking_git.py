"""What a change to a design did: the comments it settled, brought and left, against another version of the file.

Both versions are judged by the limits in force now, so that only the design's own changes show. Comments are matched
by their rule and the thing on the plan they name.
"""

from __future__ import annotations

import subprocess
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from slabwright.review import reviewing
from slabwright.review.report import Comment, Report
from slabwright.review.reviewing import Judged, Settings
from slabwright.source.place import Place
from slabwright.source.problem import Problem, UnreadableError


@dataclass(frozen=True, slots=True)
class Change:
    """One comment before and after; None where there is none. ``why`` tells what else became of it."""

    before: Comment | None
    after: Comment | None
    why: str = ""

    @property
    def comment(self) -> Comment:
        """The later of the two."""
        one = self.after or self.before
        assert one is not None
        return one


@dataclass(frozen=True, slots=True)
class Effect:
    """What changed in one design since ``against``."""

    against: str
    before: Report | None  # None: not there, or not readable
    after: Report
    fixed: tuple[Change, ...] = ()  # judged now, and nothing found
    broke: tuple[Change, ...] = ()
    left: tuple[Change, ...] = ()
    unjudged: tuple[Change, ...] = ()  # a comment then, and now the rule cannot tell
    accepted: tuple[Change, ...] = ()  # still there, now under a variance
    no_before: str = ""  # why there is nothing to compare with
    problems: tuple[Problem, ...] = ()  # that keep the earlier version from being read


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
            return _nothing(against, now, "could not be read as a design", error.problems), now
        return compare(against, then.report, now.report), now
    with tempfile.TemporaryDirectory(prefix="slabwright-") as folder:
        copy = _checked_out(path, against, Path(folder))
        if copy is None:
            return _nothing(against, now, "was not there"), now
        try:
            then = reviewing.judge(copy, settings, house=house)
        except UnreadableError as error:
            shown = f"{against}:{path}"
            moved = tuple(
                replace(one, place=one.place._replace(file=one.place.file.replace(str(copy), shown)))
                for one in error.problems
            )
            return _nothing(against, now, "could not be read as a design", moved), now
        return compare(against, then.report, now.report), now


def _nothing(against: str, now: Judged, why: str, problems: tuple[Problem, ...] = ()) -> Effect:
    """Nothing to compare with: every comment is new."""
    broke = tuple(Change(None, one) for one in _standing(now.report))
    return Effect(against, None, now.report, broke=broke, no_before=why, problems=problems)


def compare(against: str, before: Report, after: Report) -> Effect:
    """What became of every comment that stands in one of two reviews; those under a variance do not stand."""
    then, now, accepted = _by_thing(_standing(before)), _by_thing(_standing(after)), _by_thing(_accepted(after))
    fixed: list[Change] = []
    broke: list[Change] = []
    left: list[Change] = []
    unjudged: list[Change] = []
    waved: list[Change] = []
    for key in dict.fromkeys([*now, *then]):
        for was, is_now in _pairs(then.get(key, []), now.get(key, [])):
            if is_now is not None:
                change = Change(was, is_now, "" if was else _silent(before, is_now.rule))
                (left if was else broke).append(change)
            elif was is not None and key in accepted:
                waved.append(Change(was, accepted[key][0]))
            elif was is not None:
                why = _silent(after, was.rule)
                (unjudged if why else fixed).append(Change(was, None, why))
    return Effect(
        against,
        before,
        after,
        fixed=tuple(fixed),
        broke=tuple(broke),
        left=tuple(left),
        unjudged=tuple(unjudged),
        accepted=tuple(waved),
    )


def _standing(report: Report) -> list[Comment]:
    return [comment for comment in report.comments if comment.variance is None]


def _accepted(report: Report) -> list[Comment]:
    return [comment for comment in report.comments if comment.variance is not None]


def _by_thing(comments: Sequence[Comment]) -> dict[tuple[str, str], list[Comment]]:
    found: dict[tuple[str, str], list[Comment]] = {}
    for comment in comments:
        found.setdefault((comment.rule, comment.at.name), []).append(comment)
    return found


def _pairs(then: list[Comment], now: list[Comment]) -> Iterator[tuple[Comment | None, Comment | None]]:
    """Comments of one rule on one thing, those by the same limit together, then the rest in order."""
    rest = list(then)
    unmatched = []
    for comment in now:
        same = next((one for one in rest if one.limit.name == comment.limit.name), None)
        if same is None:
            unmatched.append(comment)
        else:
            rest.remove(same)
            yield same, comment
    for comment in unmatched:
        yield (rest.pop(0) if rest else None), comment
    for one in rest:
        yield one, None


def _silent(report: Report, rule: str) -> str:
    """Why a rule could not say anything; empty when it judged."""
    if any(entry.rule == rule for entry in report.not_shown):
        return "not shown in the file"
    reason = next((entry.reason for entry in report.does_not_apply if entry.rule == rule), None)
    if reason is not None:
        return f"does not apply: {reason}"
    return "the rule itself failed" if any(entry.rule == rule for entry in report.crashes) else ""


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
