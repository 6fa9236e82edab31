"""What a page says, ready to be set: comments, margins, needs and sources as plain words."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from slabwright.review.report import Comment, Met, Report
from slabwright.rulebook.in_force import WEIGHTS
from slabwright.source.place import Place
from slabwright.text.letters import together
from slabwright.text.words import Step, filled
from slabwright.text.working import Fill, sentence, step_parts
from slabwright.units.amount import Amount, Kind
from slabwright.units.quantity import System, same, show_pair
from slabwright.writers.sheet_words import (
    WEIGHED,
    asked_in_words,
    by_need,
    by_rule,
    looser,
    looser_than,
    passes,
    said,
    settled,
    tightest,
)

Sources = Mapping[str, tuple[int, Mapping[str, None]]]
"""A number and the rules for every citation."""

IN_FULL = 20  # comments of one rule and weight with their working; more get a line each
IN_A_LINE = 500  # and of still more only the number is told
QUESTIONS = 40
MARGINS = 6


@dataclass(frozen=True, slots=True)
class Remark:
    """One comment in words; ``placed`` is whether it has a place on the plan."""

    number: int
    weight: str
    placed: bool
    says: str
    name: str
    where: str  # on the plan
    place: str  # in the file, for the plan desk
    shown: str
    asked: str
    sums: tuple[tuple[str, ...], ...]  # each: what, formula, numbers, result
    to_pass: str
    source: int  # its number in the list of sources
    rule: str
    title: str
    accepted: str  # who accepted it, when and why; empty without a variance


@dataclass(frozen=True, slots=True)
class OfRule:
    """The comments of one rule: the first with everything, the next in a line each, and the number of the rest."""

    rule: str
    full: tuple[Remark, ...]
    short: tuple[Remark, ...]
    more: int


@dataclass(frozen=True, slots=True)
class OfWeight:
    """Comments under one heading."""

    weight: str
    heading: str
    asks: str
    rules: tuple[OfRule, ...]


@dataclass(frozen=True, slots=True)
class Kept:
    """A rule that is met; ``left`` is how near the plan comes to its limit, as a share of it (at most 1).

    A rule that compares nothing here has no margin: ``left`` is None and the rest is empty.
    """

    rule: str
    title: str
    name: str = ""
    shown: str = ""
    asked: str = ""
    left: float | None = None
    says: str = ""
    tight: bool = False  # one of the few with the least to spare
    source: int | None = None


@dataclass(frozen=True, slots=True)
class Parts:
    """Everything on the page but the drawing."""

    sections: tuple[OfWeight, ...]
    accepted: OfWeight | None
    not_shown: tuple[tuple[tuple[str, ...], str, str], ...]  # what to add, where, for which rules
    questions: tuple[tuple[str, str], ...]
    more_questions: int
    looser: tuple[str, ...]
    looser_than: str
    met: tuple[tuple[str, tuple[Kept, ...]], ...]  # group, its rules
    does_not_apply: tuple[tuple[str, str], ...]  # reason, rules
    sources: tuple[tuple[int, str, str], ...]  # number, source, rules
    left_out: int  # comments that are not on the page


def parts(report: Report) -> Parts:
    """The words of a whole page."""
    sources = _sources(report)
    standing = [comment for comment in report.comments if comment.variance is None]
    sections = tuple(
        _section(report, sources, weight, f"{one if len(found) == 1 else many}".capitalize(), asks, found)
        for weight in WEIGHTS
        for one, many, asks in (WEIGHED[weight],)
        if (found := [comment for comment in standing if comment.weight == weight])
    )
    others = [comment for comment in report.comments if comment.variance is not None]
    accepted = (
        _section(report, sources, "accepted", "Accepted by variance", "these do not count", others) if others else None
    )
    told = (*sections, *((accepted,) if accepted else ()))
    close = tightest(report)[:MARGINS]
    return Parts(
        sections=sections,
        accepted=accepted,
        not_shown=tuple(
            (add, _near(entries[0].place, report), ", ".join(entry.rule for entry in entries))
            for (add, _), entries in by_need(report).items()
        ),
        questions=tuple((_near(question.place, report), question.asks) for question in report.questions[:QUESTIONS]),
        more_questions=max(0, len(report.questions) - QUESTIONS),
        looser_than=looser_than(report),
        looser=tuple(looser(rule, limit, report.system) for rule, limit in report.looser),
        met=tuple(
            (group, tuple(_kept(met, report, sources, met in close) for met in report.met if met.group == group))
            for group in dict.fromkeys(met.group for met in report.met)
        ),
        does_not_apply=tuple(_not_applying(report)),
        sources=tuple((number, source, ", ".join(rules)) for source, (number, rules) in sources.items()),
        left_out=sum(one.more for section in told for one in section.rules),
    )


def _section(
    report: Report, sources: Sources, weight: str, heading: str, asks: str, comments: Sequence[Comment]
) -> OfWeight:
    rules = tuple(
        OfRule(
            rule,
            tuple(_remark(comment, report, sources) for comment in found[:IN_FULL]),
            tuple(_remark(comment, report, sources) for comment in found[IN_FULL : IN_FULL + IN_A_LINE]),
            max(0, len(found) - IN_FULL - IN_A_LINE),
        )
        for rule, found in by_rule(comments)
    )
    return OfWeight(weight, f"{heading} ({len(comments):,})", asks, rules)


def _remark(comment: Comment, report: Report, sources: Sources) -> Remark:
    shown, asked, fill = settled(comment, report)
    return Remark(
        number=comment.number,
        weight=comment.weight,
        placed=any(all(map(math.isfinite, at)) for at in comment.at.shape),
        says=sentence(filled(comment.told, fill, report.system)),
        name=comment.at.name,
        where=comment.at.name or _near(comment.at.place, report),
        place=_near(comment.at.place, report),
        shown=together(shown),
        asked=asked_in_words(together(asked), comment.asked, comment.limit, report.system),
        sums=tuple(_sum(step, fill, report.system) for step in comment.working),
        to_pass=passes(comment, fill, report.system),
        source=sources[comment.limit.citation][0],
        rule=comment.rule,
        title=comment.title,
        accepted=_accepted(comment, report),
    )


def _accepted(comment: Comment, report: Report) -> str:
    note = comment.variance
    if note is None:
        return ""
    text = f"by {note.accepted_by} on {note.date}: {note.reason} ({_near(note.place, report)})"
    return f"{text}; a {comment.weight} without the variance"


def _near(place: Place, report: Report) -> str:
    """A place; in the design itself without the folders, which stand once at the head of the page."""
    text = str(place)
    return re.split(r"[/\\]", report.file)[-1] + text.removeprefix(report.file) if place.file == report.file else text


def _sum(step: Step, fill: Fill, system: System) -> tuple[str, ...]:
    """One line of arithmetic, nothing said twice."""
    return tuple(step_parts(step, fill, system))


def _kept(met: Met, report: Report, sources: Sources, tight: bool) -> Kept:
    source = sources[met.limit.citation][0] if met.limit else None
    if met.shown is None or met.asked is None or met.limit is None or met.slack is None:
        return Kept(met.rule, met.title, source=source)
    shown, asked = map(
        together, show_pair(said(met.shown, report.file), said(met.asked, report.file), report.system)
    )  # fmt: skip
    exactly = same(met.shown.si, met.asked.si)
    return Kept(
        rule=met.rule,
        title=met.title,
        name=met.at.name if met.at else "",
        shown=shown,
        asked=f"at {met.limit.direction} {asked}",
        left=None if not met.asked.si else 0.0 if exactly else min(1.0, max(0.0, met.slack)),
        says="exactly the limit" if exactly else _to_spare(met.slack, met.asked),
        tight=tight,
        source=source,
    )


def _to_spare(slack: float, asked: Amount) -> str:
    """How much of a limit is left, in whole percent; of nothing and of things that are counted there is no share."""
    if slack <= 0.0:
        return "none: within tolerance"
    if not asked.si or asked.kind is Kind.COUNT:
        return ""
    return f"{100 * slack:.0f}\u00a0% of the limit" if slack <= 2.0 else "over 200\u00a0% of the limit"


def _not_applying(report: Report) -> Iterator[tuple[str, str]]:
    by_reason = sorted(report.does_not_apply, key=lambda entry: entry.reason)
    for reason, entries in groupby(by_reason, key=lambda entry: entry.reason):
        yield reason, ", ".join(entry.rule for entry in entries)


def _sources(report: Report) -> Sources:
    """Every document behind a limit that was compared with, numbered as they come up, and the rules that rest on it."""
    rests: dict[str, tuple[int, dict[str, None]]] = {}
    judged: list[Comment | Met] = [*report.comments, *report.met]
    for one in judged:
        if one.limit is not None:
            rests.setdefault(one.limit.citation, (len(rests) + 1, {}))[1][one.rule] = None
    return rests
