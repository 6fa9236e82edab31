"""The plan review as a sheet of text: verdict first, numbered comments by weight, then all else that was looked at.

Each comment has the same labelled lines: where, shown, asked, working, to pass, source, rule.
The same words come out with and without colour.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TextIO

from slabwright.review.report import Comment, Report
from slabwright.rulebook.kit import WEIGHTS, Weight
from slabwright.text.sheet import LABEL, Line, Sheet, Tone, fitting_width, put, stream_encoding, together
from slabwright.text.words import filled
from slabwright.text.working import sentence, step_rows
from slabwright.writers.sheet_words import (
    WEIGHED,
    asked_in_words,
    besides,
    by_need,
    by_rule,
    looser,
    margin,
    settled,
    tightest,
    verdict,
    where,
)

IN_FULL = 5  # comments of one rule and weight printed in full; the rest are counted
QUESTIONS_IN_FULL = 20
TIGHTEST = 4
INDENT = 4  # columns in front of the labels of a comment

LOCAL_CODE = (
    "The adopted local code and licensed practice govern. This review compares a plan with the limits it names; "
    "it does not see the ground, the mix as delivered, or the work on the day."
)

_TONES: dict[str, Tone] = {"hold": "hold", "caution": "caution", "note": "note", "met": "met"}


def write(report: Report, stream: TextIO, width: int | None = None, only: str = "") -> None:
    """Write the review sheet to a stream, set for its width and its encoding."""
    put(sheet(report, fitting_width(stream, width), stream_encoding(stream), only), stream)


def sheet(report: Report, width: int = 80, encoding: str = "utf-8", only: str = "") -> list[Line]:
    """The lines of the review sheet; ``only`` names the one group of rules that was looked at, if it was one."""
    page = Sheet(width, encoding)
    _head(page, report, only)
    for weight in WEIGHTS:
        _comments(page, report, weight)
    _crashes(page, report)
    _not_shown(page, report)
    _questions(page, report)
    _accepted(page, report)
    _variance_troubles(page, report)
    _looser(page, report)
    _met(page, report)
    _foot(page, report)
    return page.lines


def comments_only(report: Report, width: int = 80, encoding: str = "utf-8") -> list[Line]:
    """The comments without the rest of the sheet, and what was not shown: for a design judged by one rule."""
    page = Sheet(width, encoding)
    for weight in WEIGHTS:
        _comments(page, report, weight)
    _crashes(page, report)
    _not_shown(page, report)
    return page.lines


def _head(page: Sheet, report: Report, only: str) -> None:
    page.rule(heavy=True)
    page.paragraph("SLAB PLAN REVIEW", tone="strong")
    page.rule()
    page.labelled("Job", report.job, indent=0)
    page.labelled("File", report.file, indent=0)
    page.labelled("Use", report.use, indent=0)
    page.labelled("Pour", f"{report.pour:%Y-%m-%d}" if report.pour else "no date given", indent=0)
    page.labelled("Limits", ", then ".join(("published", *report.layers)), indent=0)
    if only:
        page.labelled("Only", f"the rules of group {only}; no other group was looked at", indent=0)
    page.labelled("Verdict", verdict(report), indent=0, tone=_TONES.get(report.verdict, "met"), label_tone="strong")
    if besides(report):
        page.labelled("Besides", besides(report), indent=0)
    page.rule(heavy=True)


def _comments(page: Sheet, report: Report, weight: Weight) -> None:
    standing = [c for c in report.comments if c.weight == weight and c.variance is None]
    if not standing:
        return
    one, many, asks = WEIGHED[weight]
    page.heading(f"{(one if len(standing) == 1 else many).upper()} ({len(standing):,}): {asks}", tone=weight)
    for rule, comments in by_rule(standing):
        for comment in comments[:IN_FULL]:
            page.blank()
            _comment(page, comment, report)
        _folded(page, rule, comments[IN_FULL:])


def _folded(page: Sheet, rule: str, rest: Sequence[Comment]) -> None:
    if rest:
        page.blank()
        numbers = f"number {rest[0].number}" if len(rest) == 1 else f"numbers {rest[0].number} to {rest[-1].number}"
        page.paragraph(f"and {len(rest):,} more by {rule} ({numbers}); --json lists them all", indent=4, hang=2)


def _comment(page: Sheet, comment: Comment, report: Report) -> None:
    shown, asked, fill = settled(comment, report)
    page.numbered(f"{comment.number}.", sentence(filled(comment.says, fill, report.system)), mark_tone=comment.weight)
    page.labelled("where", where(comment.at.name, str(comment.at.place)))
    page.labelled("shown", together(shown))
    page.labelled("asked", asked_in_words(together(asked), comment.asked, comment.limit, report.system))
    room = page.width - INDENT - LABEL
    rows = [row for step in comment.working for row in step_rows(step, fill, room, report.system)]
    if rows:
        page.rows("working", rows)
    page.labelled("to pass", sentence(filled(comment.to_pass, fill, report.system)))
    page.labelled("source", comment.limit.citation)
    page.labelled("rule", f"{comment.rule}: {comment.title}")


def _crashes(page: Sheet, report: Report) -> None:
    if not report.crashes:
        return
    page.heading(f"NOT JUDGED ({len(report.crashes)}): the rule itself failed; a hold", tone="hold")
    for crash in report.crashes:
        page.blank()
        page.paragraph(crash.rule, indent=4, tone="strong")
        page.labelled("where", str(crash.place))
        page.labelled("failed", crash.what)


def _not_shown(page: Sheet, report: Report) -> None:
    if not report.not_shown:
        return
    page.heading(f"NOT SHOWN ({len(report.not_shown)}): add it and review again")
    for (add, place), entries in by_need(report).items():
        page.blank()
        page.rows("add", add)
        page.labelled("where", place)
        page.labelled("for", ", ".join(entry.rule for entry in entries))


def _questions(page: Sheet, report: Report) -> None:
    if not report.questions:
        return
    page.heading(f"QUESTIONS ON THE FILE ({len(report.questions):,}): read as typed; confirm or mend")
    page.blank()
    for question in report.questions[:QUESTIONS_IN_FULL]:
        page.paragraph(f"{question.place}: {question.asks}", indent=4, hang=2)
    rest = len(report.questions) - QUESTIONS_IN_FULL
    if rest > 0:
        page.paragraph(f"and {rest:,} more; --json lists them all", indent=4, hang=2)


def _accepted(page: Sheet, report: Report) -> None:
    accepted = [c for c in report.comments if c.variance is not None]
    if not accepted:
        return
    page.heading(f"ACCEPTED BY VARIANCE ({len(accepted):,}): these do not count")
    for rule, comments in by_rule(accepted):
        for comment in comments[:IN_FULL]:
            page.blank()
            _variance(page, comment, report)
        _folded(page, rule, comments[IN_FULL:])


def _variance(page: Sheet, comment: Comment, report: Report) -> None:
    shown, asked, fill = settled(comment, report)
    page.numbered(f"{comment.number}.", sentence(filled(comment.says, fill, report.system)))
    page.labelled("where", where(comment.at.name, str(comment.at.place)))
    page.labelled("shown", together(shown))
    page.labelled("asked", asked_in_words(together(asked), comment.asked, comment.limit, report.system))
    if comment.variance is not None:
        note = comment.variance
        page.labelled("accepted", f"by {note.accepted_by} on {note.date}: {note.reason} ({note.place})")
    page.labelled("rule", f"{comment.rule}: {comment.title} (a {comment.weight} without the variance)")


def _variance_troubles(page: Sheet, report: Report) -> None:
    if not report.variance_troubles:
        return
    page.heading(f"VARIANCES THAT DO NOTHING ({len(report.variance_troubles)})")
    page.blank()
    for trouble in report.variance_troubles:
        page.paragraph(f"{trouble.rule}, {trouble.place}: {trouble.what}", indent=4, hang=2)


def _looser(page: Sheet, report: Report) -> None:
    if not report.looser:
        return
    page.heading(f"LIMITS SET LOOSER THAN PUBLISHED ({len(report.looser)})")
    page.blank()
    for rule, limit in report.looser:
        page.paragraph(looser(rule, limit, report.system), indent=4, hang=2)


def _met(page: Sheet, report: Report) -> None:
    if not report.met:
        return
    page.heading(f"MET ({len(report.met)})", tone="met")
    page.blank()
    closest = tightest(report)[:TIGHTEST]
    if closest:
        page.rows("tightest", [margin(met, report) for met in closest])
    rest = [met.rule for met in report.met if met not in closest]
    if rest:
        page.labelled("and also" if closest else "met", ", ".join(rest))


def _foot(page: Sheet, report: Report) -> None:
    if report.does_not_apply:
        page.heading(f"DOES NOT APPLY ({len(report.does_not_apply)})")
        page.blank()
        by_reason: dict[str, list[str]] = {}
        for entry in report.does_not_apply:
            by_reason.setdefault(entry.reason, []).append(entry.rule)
        for reason, rules in sorted(by_reason.items()):
            page.standing(f"{reason}: {', '.join(rules)}", indent=4, hang=2)
    if report.cautions:
        page.heading("ON THE DAY")
        page.blank()
        for caution in report.cautions:
            page.standing(caution, indent=4, hang=2)
    page.blank()
    page.rule()
    page.standing(LOCAL_CODE)
