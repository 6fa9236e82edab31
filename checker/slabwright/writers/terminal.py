"""The plan review as a sheet of text: verdict first, numbered comments by weight, then all else that was looked at.

Each comment has the same labeled lines: where, shown, asked, working, to pass, source, rule.
The same words come out with and without color.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from slabwright.review.report import LOCAL_CODE, Comment, Report, days_of, listed
from slabwright.rulebook.in_force import WEIGHTS, InForce, Weight
from slabwright.text.letters import together
from slabwright.text.sheet import LABEL, Line, Sheet, Tone
from slabwright.text.words import filled, plain
from slabwright.text.working import counted, sentence, step_rows
from slabwright.writers.sheet_words import (
    WEIGHED,
    asked_in_words,
    besides,
    by_need,
    by_rule,
    in_numbers,
    looser,
    looser_than,
    margin,
    passes,
    resting,
    settled,
    tightest,
    verdict,
    where,
)

IN_FULL = 5  # comments of one rule and weight printed in full; the rest are counted
QUESTIONS_IN_FULL = 20
TIGHTEST = 4
STOPS = 3  # holds told at the head of a sheet
PUT_RIGHT = {"heights": ("water", "heights"), "joints": ("joints",), "thickness": ("thickness",)}  # by groups of rules
FEW = 2  # looser limits of one rule told one by one
KEYS = 5  # keys named that the file lacks
INDENT = 4  # columns in front of the labels of a comment

_TONES: dict[str, Tone] = {"hold": "hold", "caution": "caution", "note": "note", "met": "met"}


Level = Literal["brief", "usual", "full"]


def sheet(
    report: Report, width: int = 80, encoding: str = "utf-8", only: str = "", level: Level = "usual"
) -> list[Line]:
    """The lines of the review sheet; ``only`` names the one group of rules that was looked at, if it was one.

    ``brief`` is one line for each comment. ``usual`` is half a page where the job is sound: the comments, and a line
    for all else. ``full`` tells everything that was looked at.
    """
    page = Sheet(width, encoding)
    if level == "brief":
        _brief(page, report)
        return page.lines
    _head(page, report, only, level)
    if level == "usual":
        _misread(page, report)
        _stops(page, report)
    for weight in WEIGHTS:
        _comments(page, report, weight, level)
    _crashes(page, report)
    if level == "full":
        _not_shown(page, report)
    _questions(page, report)
    _accepted(page, report)
    _variance_troubles(page, report)
    _looser(page, report, level)
    if level == "full":
        _met(page, report)
        _not_applying(page, report)
        _on_the_day(page, report)
    else:
        _besides(page, report)
    page.blank()
    page.rule()
    page.standing(LOCAL_CODE)
    return page.lines


def comments_only(report: Report, width: int = 80, encoding: str = "utf-8") -> list[Line]:
    """The comments without the rest of the sheet, and what was not shown: for a design judged by one rule."""
    page = Sheet(width, encoding)
    for weight in WEIGHTS:
        _comments(page, report, weight, "full")
    _crashes(page, report)
    _not_shown(page, report)
    return page.lines


def _brief(page: Sheet, report: Report) -> None:
    """The verdict, then one line for each comment that stands."""
    page.paragraph(f"{report.file}: {verdict(report)}", tone=_TONES.get(report.verdict, "met"), hang=2)
    for crash in report.crashes:
        page.paragraph(f"not judged: {crash.rule}, {crash.place}: {crash.what}", indent=2, hang=2, tone="hold")
    rest = [comment for comment in report.comments if comment.rests_on and comment.variance is None]
    if rest:
        page.paragraph(resting(rest), indent=2, hang=2)
    for comment in report.comments:
        if comment.variance is None and not comment.rests_on:
            _, _, fill = settled(comment, report)
            says = filled(comment.told, fill, report.system)
            page.paragraph(f"{comment.weight} {comment.number}, {comment.rule}: {says}", indent=2, hang=2)
    for question in report.questions:
        page.paragraph(f"question, line {question.place.line}: {question.asks}", indent=2, hang=2)


def _head(page: Sheet, report: Report, only: str, level: Level) -> None:
    page.rule(heavy=True)
    page.paragraph("SLAB PLAN REVIEW", tone="strong")
    page.rule()
    page.labeled("Verdict", verdict(report), indent=0, tone=_TONES.get(report.verdict, "met"), label_tone="strong")
    if besides(report):
        page.labeled("Besides", besides(report), indent=0)
    page.labeled("Job", report.job, indent=0)
    page.labeled("File", report.file, indent=0)
    if level == "full":
        page.labeled("Use", report.use, indent=0)
        page.labeled("Pour", days_of(report), indent=0)
        page.labeled("Limits", ", then ".join(("published", *report.layers)), indent=0)
    elif report.layers:
        page.labeled("Limits", ", then ".join(("published", *report.layers)), indent=0)
    if report.size:
        page.labeled("Size", in_numbers(report), indent=0)
    if only:
        page.labeled("Only", f"the rules of group {only}; numbers are those of the whole review", indent=0)
    page.rule(heavy=True)


def _misread(page: Sheet, report: Report) -> None:
    """The height that looks misread, and how many comments rest on it: these are told with ``--full``."""
    rest = [comment for comment in report.comments if comment.rests_on and comment.variance is None]
    if rest:
        page.heading("A HEIGHT LOOKS MISREAD: look at it first", tone=_TONES[rest[0].weight])
        page.paragraph(resting(rest), indent=4)


def _stops(page: Sheet, report: Report) -> None:
    """The first things that stop the job, where there are more than fit at a glance."""
    standing = [one for one in report.comments if one.variance is None and not one.rests_on]
    holds = [comment for comment in standing if comment.weight == "hold" and comment.settled_by is None]
    first = [comments[0] for _, comments in by_rule(holds)]
    if len(first) <= STOPS:
        return
    page.heading("STOPS IT FIRST", tone="hold")
    for comment in first[:STOPS]:
        _, _, fill = settled(comment, report)
        page.numbered(f"{comment.number}.", sentence(filled(comment.told, fill, report.system)), mark_tone="hold")


def _comments(page: Sheet, report: Report, weight: Weight, level: Level) -> None:
    standing = [c for c in report.comments if c.weight == weight and c.variance is None]
    if level != "full":
        standing = [comment for comment in standing if not comment.rests_on]
    if not standing:
        return
    one, many, asks = WEIGHED[weight]
    page.heading(f"{(one if len(standing) == 1 else many).upper()} ({len(standing):,}): {asks}", tone=weight)
    for rule, comments in by_rule(standing):
        for comment in comments[:IN_FULL]:
            if level == "full" or comment is not standing[0]:
                page.blank()
            if level == "full" or comment.settled_by is None:
                comment_lines(page, comment, report, level)
            else:
                _settled(page, comment, report)
        _folded(page, rule, comments[IN_FULL:])


def _settled(page: Sheet, comment: Comment, report: Report) -> None:
    """A comment that the remedy of one before it settles: what it says, and that."""
    _, _, fill = settled(comment, report)
    says = sentence(filled(comment.says, fill, report.system))
    page.numbered(f"{comment.number}.", says + _where(comment), mark_tone=comment.weight)
    page.labeled("to pass", passes(comment, fill, report.system))


def _folded(page: Sheet, rule: str, rest: Sequence[Comment]) -> None:
    if rest:
        page.blank()
        numbers = f"number {rest[0].number}" if len(rest) == 1 else f"numbers {rest[0].number} to {rest[-1].number}"
        page.paragraph(f"and {len(rest):,} more by {rule} ({numbers}); --json lists them all", indent=4, hang=2)


def comment_lines(page: Sheet, comment: Comment, report: Report, level: Level) -> None:
    """One comment; all of it at the level ``full``."""
    shown, asked, fill = settled(comment, report)
    says = sentence(filled(comment.says, fill, report.system))
    limit = asked_in_words(together(asked), comment.asked, comment.limit, report.system)
    room = page.width - INDENT - LABEL
    if level == "full":
        page.numbered(f"{comment.number}.", says, mark_tone=comment.weight)
        page.labeled("where", where(comment.at.name, str(comment.at.place)))
        if comment.others:
            page.labeled("likewise", listed([where(one.at.name, str(one.at.place)) for one in comment.others]))
        page.labeled("shown", together(shown))
        page.labeled("asked", limit)
        steps = comment.working
    else:
        page.numbered(f"{comment.number}.", says + _where(comment), mark_tone=comment.weight)
        if comment.weight != "note":
            page.labeled("shown", f"{together(shown)}; asked is {_short(limit)}")
        steps = comment.working[-1:] if comment.weight != "note" else ()
    rows = [row for step in steps for row in step_rows(step, fill, room, report.system)]
    if rows:
        page.rows("working", rows)
    page.labeled("to pass", sentence(filled(comment.to_pass, fill, report.system)))
    if level == "full":
        page.labeled("source", comment.limit.citation)
        page.labeled("rule", f"{comment.rule}: {comment.title}")
    else:
        page.labeled("rule", f"{comment.rule}; {comment.limit.citation.partition(' (')[0]}")


def _short(limit: str) -> str:
    """What is asked without the limit that it was worked from, which ``--full`` tells."""
    asked, _, meaning = limit.partition(": ")
    meaning, who, set_by = meaning.partition("; set by ")
    return f"{asked}: {meaning.partition(', at ')[0]}{who}{set_by}" if meaning else limit


def _where(comment: Comment) -> str:
    """Where a comment points: the thing, unless the sentence names it, and its line; then where else it is so."""
    line = f"line {comment.at.place.line}" if comment.at.place.line > 1 else ""
    told = plain(comment.says, "us", both=False)
    name = "" if comment.at.name.removeprefix("the ") in told else comment.at.name
    both = where(name, line)
    return (f" ({both})" if both else "") + (f"; likewise {comment.likewise}" if comment.likewise else "")


def _crashes(page: Sheet, report: Report) -> None:
    if not report.crashes:
        return
    page.heading(f"NOT JUDGED ({len(report.crashes)}): the rule itself failed; a hold", tone="hold")
    for crash in report.crashes:
        page.blank()
        page.paragraph(crash.rule, indent=4, tone="strong")
        page.labeled("where", str(crash.place))
        page.labeled("failed", crash.what)


def _not_shown(page: Sheet, report: Report) -> None:
    if not report.not_shown:
        return
    page.heading(f"NOT SHOWN ({len(report.not_shown)}): add it and review again")
    for (add, place), entries in by_need(report).items():
        page.blank()
        page.rows("add", add)
        page.labeled("where", place)
        page.labeled("for", ", ".join(entry.rule for entry in entries))


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
    page.numbered(f"{comment.number}.", sentence(filled(comment.told, fill, report.system)))
    page.labeled("where", where(comment.at.name, str(comment.at.place)))
    page.labeled("shown", together(shown))
    page.labeled("asked", asked_in_words(together(asked), comment.asked, comment.limit, report.system))
    if comment.variance is not None:
        note = comment.variance
        page.labeled("accepted", f"by {note.accepted_by} on {note.date}: {note.reason} ({note.place})")
    page.labeled("rule", f"{comment.rule}: {comment.title} (a {comment.weight} without the variance)")


def _variance_troubles(page: Sheet, report: Report) -> None:
    if not report.variance_troubles:
        return
    page.heading(f"VARIANCES THAT DO NOTHING ({len(report.variance_troubles)})")
    page.blank()
    for trouble in report.variance_troubles:
        page.paragraph(f"{trouble.rule}, {trouble.place}: {trouble.what}", indent=4, hang=2)


def _looser(page: Sheet, report: Report, level: Level) -> None:
    idle = {one.rule for one in report.does_not_apply} if level == "usual" else set()
    told = [(rule, limit) for rule, limit in report.looser if rule not in idle]
    if not told:
        return
    page.heading(f"LIMITS SET LOOSER THAN {looser_than(report).upper()} ({len(told)})")
    page.blank()
    by_file: dict[tuple[str, str, str], list[InForce]] = {}
    for rule, limit in told:
        by_file.setdefault((rule, limit.set_by, limit.place.file if limit.place else ""), []).append(limit)
    for (rule, set_by, file), limits in by_file.items():
        if level == "usual" and len(limits) > FEW:
            page.paragraph(f"{rule}: {len(limits)} limits, set by {set_by} ({file})", indent=4, hang=2)
            continue
        for limit in limits:
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
        page.labeled("and also" if closest else "met", ", ".join(rest))


def _not_applying(page: Sheet, report: Report) -> None:
    if not report.does_not_apply:
        return
    page.heading(f"DOES NOT APPLY ({len(report.does_not_apply)})")
    page.blank()
    by_reason: dict[str, list[str]] = {}
    for entry in report.does_not_apply:
        by_reason.setdefault(entry.reason, []).append(entry.rule)
    for reason, rules in sorted(by_reason.items()):
        page.standing(f"{reason}: {', '.join(rules)}", indent=4, hang=2)


def _on_the_day(page: Sheet, report: Report) -> None:
    if not report.cautions:
        return
    page.heading("ON THE DAY")
    page.blank()
    for caution in report.cautions:
        page.standing(caution, indent=4, hang=2)


def _weighs(comment: Comment) -> bool:
    return comment.weight != "note"


def _besides(page: Sheet, report: Report) -> None:
    """A line for each of the things that --full tells, and how a copy is put right."""
    told = [one for one in report.comments if one.variance is None]
    page.heading("ALSO LOOKED AT (--full tells all of it)")
    if report.not_shown:
        keys = list(dict.fromkeys(add.partition(":")[0] for (adds, _) in by_need(report) for add in adds))
        more = f" and {len(keys) - KEYS:,} more" if len(keys) > KEYS else ""
        page.labeled(
            "not shown", f"{counted(len(report.not_shown), 'rule', 'rules')}; add {'; '.join(keys[:KEYS])}{more}"
        )
    if report.met:
        closest = tightest(report)[:1]
        page.labeled("met", counted(len(report.met), "rule", "rules") + (
            f"; the closest is {margin(closest[0], report)}" if closest else ""))  # fmt: skip
    if report.does_not_apply:
        page.labeled("set aside", f"{counted(len(report.does_not_apply), 'rule does', 'rules do')} not apply here")
    if report.cautions:
        page.labeled("that day", f"{counted(len(report.cautions), 'caution', 'cautions')} for those who do the work")
    asked = [name for name, groups in PUT_RIGHT.items() if any(_weighs(one) and one.group in groups for one in told)]
    if any(one.tried for one in told):
        options = " ".join(["--put-right OUT", *(f"--{name}" for name in asked)])
        page.labeled("put right", f"{options} writes a copy with the advice that holds")
