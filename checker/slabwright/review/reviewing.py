"""One design reviewed under the firm's settings and the command's: what every way of running ``review`` shares."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache, partial, wraps
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple, ParamSpec, TypeVar

from slabwright.design.differing import differing
from slabwright.design.read import read_text
from slabwright.plan.plan import Plan
from slabwright.review import firm, run, trust
from slabwright.review.concluding import conclude, conclude_again
from slabwright.review.likewise import as_one
from slabwright.review.report import Conclusions
from slabwright.rulebook import limits, loading
from slabwright.source import files
from slabwright.source.problem import Problem, UnreadableError

if TYPE_CHECKING:
    from slabwright.plan.plan import Spot
    from slabwright.review.report import Report
    from slabwright.rulebook.in_force import Limits
    from slabwright.rulebook.rule import Rule
    from slabwright.units.quantity import System

P = ParamSpec("P")
T = TypeVar("T")


def _remembered(size: int) -> Callable[[Callable[P, T]], Callable[P, T]]:
    """Keep what a function gives, and what it refuses: settings that cannot be read are not read for every design."""

    def around(work: Callable[P, T]) -> Callable[P, T]:
        tried = lru_cache(maxsize=size)(partial(_or_why, work))
        _KEPT.append(tried.cache_clear)

        @wraps(work)
        def asked(*given: P.args, **named: P.kwargs) -> T:
            one: T | UnreadableError = tried(*given, **named)  # type: ignore[arg-type]  # all that is asked is hashable
            if isinstance(one, UnreadableError):
                raise UnreadableError(one.problems)
            return one

        return asked

    return around


def _or_why(work: Callable[..., T], *given: Any) -> T | UnreadableError:
    try:
        return work(*given)
    except UnreadableError as error:
        return error


_KEPT: list[Callable[[], None]] = []


class Settings(NamedTuple):
    """What a command asks of every design it reviews; a firm file may add to it."""

    amendments: tuple[Path, ...] = ()
    rules: Path | None = None
    system: System | None = None  # None: as the design says
    only: str = ""  # the one group of rules to look at
    strict: bool = False
    both: bool = False  # the other unit system beside each number
    comma: bool = False  # a decimal comma in what people read


class Judged(NamedTuple):
    """A finished review, the plan it is of, and whether cautions count in it."""

    report: Report
    plan: Plan
    strict: bool

    @property
    def holds(self) -> bool:
        """Whether something stands that has to be settled first."""
        return bool(self.report.holds or (self.strict and self.report.counted("caution")))


def judge(
    path: Path,
    settings: Settings,
    house: firm.Firm | None = None,
    figured: bool = True,
    advise: bool = False,
) -> Judged:
    """Read and review one design.

    ``house`` stands in for the firm file that holds for it; ``figured`` adds the figures of the plan that JSON
    prints, ``advise`` tries the remedies of every comment before they are told.

    Raises :class:`UnreadableError` when it, or a file its review rests on, cannot be read.
    """
    one = _begun(path, settings, house)
    conclude([(one.plan, one.concluded)], one.rules, one.limits)
    return _finished(one, settings, figured, advise)


def judge_each(
    paths: Sequence[Path], settings: Settings, figured: bool = True, advise: bool = False
) -> list[Judged | Exception]:
    """The same of several designs at once; in place of one that cannot be judged stands what :func:`judge` raises."""
    begun = [_caught(_begun, path, settings) for path in paths]
    _conclude(begun)
    return [one if isinstance(one, Exception) else _caught(_finished, one, settings, figured, advise) for one in begun]


def judge_versions(
    pairs: Sequence[tuple[Path, Path | None]], settings: Settings
) -> list[tuple[Judged | Exception, Judged | Exception | None]]:
    """Several designs as they are and as they were, both by the firm file that holds now; None where nothing was.

    What a version that was shares with the one that is, is worked once.
    """
    now = [_caught(_begun, path, settings) for path, _ in pairs]
    then = [
        _caught(_begun, path, settings, house_of(one.path), one) if path and not isinstance(one, Exception) else None
        for (_, path), one in zip(pairs, now, strict=True)
    ]
    _conclude(now)
    return [
        (_judged_or_why(one, settings), None if was is None else _judged_or_why(_as_it_was(was, one), settings))
        for one, was in zip(now, then, strict=True)
    ]


def _judged_or_why(one: _Begun | Exception, settings: Settings) -> Judged | Exception:
    return one if isinstance(one, Exception) else _caught(_finished, one, settings, False)


def _as_it_was(one: _Begun | Exception, like: _Begun | Exception) -> _Begun | Exception:
    """The version that was with what the rules conclude on it, at the places of its own file."""
    if isinstance(one, Exception) or isinstance(like, Exception):
        return one
    design, other = one.plan.design, like.plan.design.file
    concluded = conclude_again(one.plan, one.differs, like.concluded, one.rules, one.limits)

    def placed(at: Spot) -> Spot:
        return at._replace(place=design.place(at.place.path)) if at.place.file == other else at

    found = [(rule, finding._replace(at=placed(finding.at))) for rule, finding in concluded.found]
    met = [margin._replace(at=margin.at and placed(margin.at)) for margin in concluded.met]
    asked = [
        entry._replace(place=design.place(entry.place.path)) if entry.place.file == other else entry
        for entry in concluded.not_shown
    ]
    return one._replace(concluded=replace(concluded, found=found, met=met, not_shown=asked))


def _conclude(begun: Iterable[_Begun | Exception]) -> None:
    """Let the rules go over all designs that are held to the same limits at once."""
    alike: dict[int, list[_Begun]] = {}
    for one in begun:
        if isinstance(one, _Begun):
            alike.setdefault(id(one.limits), []).append(one)
    for ones in alike.values():
        conclude([(one.plan, one.concluded) for one in ones], ones[0].rules, ones[0].limits)


class UnsettledError(UnreadableError):
    """A design is not judged, and nothing is wrong with it: its firm file, amendments or rules cannot be read."""


class _Begun(NamedTuple):
    """A design read and laid out, what it is to be judged by, and what the rules conclude."""

    path: Path
    text: str
    plan: Plan
    questions: tuple[Problem, ...]
    rules: tuple[Rule, ...]
    limits: Mapping[str, Limits]
    strict: bool
    concluded: Conclusions
    differs: frozenset[str] = frozenset()  # the sections in which it differs from the one whose views it took over


def _begun(path: Path, settings: Settings, house: firm.Firm | None = None, like: _Begun | None = None) -> _Begun:
    """A design before the rules; its plan takes over from one much like it what rests on nothing that differs."""
    text = files.read_text(path)
    design, questions = read_text(path, text)
    try:
        house = house_of(path) if house is None else house
        laid, own = layers(settings, house)
        rules, in_force_by_rule = in_force(laid, own)
        amended = read_in(laid, own)
    except UnreadableError as error:
        raise UnsettledError(error.problems) from None
    system = limits.shown_in(settings.system, design.system, amended, settings.both, settings.comma)
    design = design._replace(system=system)
    strict = settings.strict or house.strict
    differs = differing(design, like.plan.design) if like else frozenset()
    plan = like.plan.edited(design, differs) if like else Plan(design)
    return _Begun(path, text, plan, tuple(questions), rules, in_force_by_rule, strict, Conclusions(), differs)


def _finished(one: _Begun, settings: Settings, figured: bool, advise: bool = False) -> Judged:
    report = run.report(one.plan, one.rules, one.limits, one.concluded, one.questions, figured=figured)
    report = as_one(report, one.plan.design)
    if advise:
        from slabwright.review import remedies, trials  # 5 ms

        bench = trials.Bench(one.path, one.text, one.plan, one.rules, one.limits, one.concluded)
        report = remedies.advised(report, bench)
    return Judged(only(report, settings.only) if settings.only else report, one.plan, one.strict)


def _caught(work: Callable[..., T], *given: Any) -> T | Exception:
    """What some work comes to, or the exception that it ends in, without its frames: they keep others in memory."""
    try:
        return work(*given)
    except Exception as error:
        return error.with_traceback(None)


def firm_file_of(path: Path) -> Path | None:
    """The firm file that holds for a design; each folder is looked through once."""
    linked = os.path.islink(path)  # noqa: PTH114  # of a path that may not be looked at it says no
    return firm.find(path) if linked else _firm_file(path.absolute().parent)


def house_of(path: Path) -> firm.Firm:
    """What the firm file that holds for a design says."""
    found = firm_file_of(path)
    return house_at(found) if found else firm.Firm()


def layers(settings: Settings, house: firm.Firm) -> tuple[tuple[Path, ...], Path | None]:
    """The amendments and the folder of own rules that hold: those of the command lie over those of the firm.

    Raises :class:`UnreadableError` for rules of the firm that are not trusted here.
    """
    return (*house.amendments, *settings.amendments), _own_rules(settings.rules, house)


@_remembered(64)
def _own_rules(asked: Path | None, house: firm.Firm) -> Path | None:
    return trust.own_rules(asked, house)


@_remembered(256)
def _firm_file(folder: Path) -> Path | None:
    return firm.above(folder)


@_remembered(64)
def house_at(path: Path) -> firm.Firm:
    """What a firm file says; each is read once."""
    return firm.read(path)


@_remembered(16)
def in_force(amendments: tuple[Path, ...], own: Path | None) -> tuple[tuple[Rule, ...], Mapping[str, Limits]]:
    """The rules and the limits in force, read once for each set of amendments and rules."""
    rules = _rules(own)
    return rules, limits.resolve(rules, read_in(amendments, own))


@_remembered(16)
def read_in(amendments: tuple[Path, ...], own: Path | None) -> tuple[limits.Amendments, ...]:
    """The files of amendments, each read once for a set of rules."""
    rules = _rules(own) if amendments else ()
    return tuple(limits.read_amendments(path, rules) for path in amendments)


@_remembered(4)
def _rules(own: Path | None) -> tuple[Rule, ...]:
    return loading.load_rules(own)


def forget() -> None:
    """Read firm files, amendments and rules anew next time: they may have been saved since."""
    for clear in _KEPT:
        clear()


def only(report: Report, group: str) -> Report:
    """The report with what the rules of one group concluded; numbers stay as they are in the full review."""
    judged = (report.comments, report.met, report.not_shown, report.does_not_apply, report.crashes)
    of_group = {entry.rule for entries in judged for entry in entries if entry.group == group}
    return report._replace(
        comments=tuple(entry for entry in report.comments if entry.group == group),
        met=tuple(entry for entry in report.met if entry.group == group),
        not_shown=tuple(entry for entry in report.not_shown if entry.group == group),
        does_not_apply=tuple(entry for entry in report.does_not_apply if entry.group == group),
        crashes=tuple(entry for entry in report.crashes if entry.group == group),
        variance_troubles=tuple(entry for entry in report.variance_troubles if entry.rule in of_group),
        looser=tuple((rule, limit) for rule, limit in report.looser if rule in of_group),
    )
