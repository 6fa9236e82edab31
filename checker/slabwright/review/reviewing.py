"""One design reviewed under the firm's settings and the command's: what every way of running ``review`` shares."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple, TypeVar

from slabwright.design.read import read_text
from slabwright.plan.plan import Plan
from slabwright.review import firm, remedies, run, trust
from slabwright.rulebook import limits, loading
from slabwright.source import files

if TYPE_CHECKING:
    from slabwright.review.report import Report
    from slabwright.rulebook.kit import Limits, Rule
    from slabwright.source.problem import Problem
    from slabwright.units.quantity import System

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Settings:
    """What a command asks of every design it reviews; a firm file may add to it."""

    amendments: tuple[Path, ...] = ()
    rules: Path | None = None
    system: System | None = None  # None: as the design says
    only: str = ""  # the one group of rules to look at
    strict: bool = False
    both: bool = False  # the other unit system beside each number


@dataclass(frozen=True, slots=True)
class Judged:
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
    run.conclude([(one.plan, one.concluded)], one.rules, one.limits)
    return _finished(one, settings, figured, advise)


def judge_each(paths: Sequence[Path], settings: Settings, figured: bool = True) -> list[Judged | Exception]:
    """The same of several designs at once; in place of one that cannot be judged stands what :func:`judge` raises."""
    begun = [_caught(_begun, path, settings) for path in paths]
    alike: dict[int, list[_Begun]] = {}
    for one in begun:
        if isinstance(one, _Begun):
            alike.setdefault(id(one.limits), []).append(one)
    for ones in alike.values():
        run.conclude([(one.plan, one.concluded) for one in ones], ones[0].rules, ones[0].limits)
    return [one if isinstance(one, Exception) else _caught(_finished, one, settings, figured) for one in begun]


class _Begun(NamedTuple):
    """A design read and laid out, what it is to be judged by, and what the rules conclude."""

    path: Path
    text: str
    plan: Plan
    questions: tuple[Problem, ...]
    rules: tuple[Rule, ...]
    limits: Mapping[str, Limits]
    strict: bool
    concluded: run.Conclusions


def _begun(path: Path, settings: Settings, house: firm.Firm | None = None) -> _Begun:
    text = files.read_text(path)
    design, questions = read_text(path, text)
    house = house_of(path) if house is None else house
    laid, own = layers(settings, house)
    rules, in_force_by_rule = in_force(laid, own)
    design = design._replace(system=limits.shown_in(settings.system, design.system, read_in(laid, own), settings.both))
    strict = settings.strict or house.strict
    return _Begun(path, text, Plan(design), tuple(questions), rules, in_force_by_rule, strict, run.Conclusions())


def _finished(one: _Begun, settings: Settings, figured: bool, advise: bool = False) -> Judged:
    report = run.report(one.plan, one.rules, one.limits, one.concluded, one.questions, figured=figured)
    if advise:
        bench = remedies.Bench(one.path, one.text, one.plan, one.rules, one.limits, one.concluded)
        report = remedies.advised(report, bench)
    return Judged(only(report, settings.only) if settings.only else report, one.plan, one.strict)


def _caught(work: Callable[..., T], *given: Any) -> T | Exception:
    """What some work comes to, or the exception that it ends in."""
    try:
        return work(*given)
    except Exception as error:
        return error


def house_of(path: Path) -> firm.Firm:
    """What the firm file that holds for a design says; each firm file is read once."""
    found = firm.find(path) if path.is_symlink() else _firm_file(path.absolute().parent)
    return _house(found) if found else firm.Firm()


def layers(settings: Settings, house: firm.Firm) -> tuple[tuple[Path, ...], Path | None]:
    """The amendments and the folder of own rules that hold: those of the command lie over those of the firm.

    Raises :class:`UnreadableError` for rules of the firm that are not trusted here.
    """
    return (*house.amendments, *settings.amendments), _own_rules(settings.rules, house)


@lru_cache(maxsize=64)
def _own_rules(asked: Path | None, house: firm.Firm) -> Path | None:
    return trust.own_rules(asked, house)


@lru_cache(maxsize=256)
def _firm_file(folder: Path) -> Path | None:
    return firm.above(folder)


@lru_cache(maxsize=64)
def _house(path: Path) -> firm.Firm:
    return firm.read(path)


@lru_cache(maxsize=16)
def in_force(amendments: tuple[Path, ...], own: Path | None) -> tuple[tuple[Rule, ...], Mapping[str, Limits]]:
    """The rules and the limits in force, read once for each set of amendments and rules."""
    rules = loading.load_rules(own)
    return rules, limits.resolve(rules, read_in(amendments, own))


@lru_cache(maxsize=16)
def read_in(amendments: tuple[Path, ...], own: Path | None) -> tuple[limits.Amendments, ...]:
    """The files of amendments, each read once for a set of rules."""
    rules = loading.load_rules(own) if amendments else ()
    return tuple(limits.read_amendments(path, rules) for path in amendments)


def forget() -> None:
    """Read firm files, amendments and rules anew next time: they may have been saved since."""
    _firm_file.cache_clear()
    _house.cache_clear()
    _own_rules.cache_clear()
    in_force.cache_clear()
    read_in.cache_clear()


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
