"""What a change to a design did, as a sheet of text and as data: settled, brought and left, each before and after."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from slabwright.review.changes import NOT_THERE
from slabwright.review.report import Comment, Report
from slabwright.text.json_values import Data, amount_data
from slabwright.text.letters import together
from slabwright.text.sheet import Line, Sheet, Tone
from slabwright.text.words import plain
from slabwright.text.working import plain_amount, sentence
from slabwright.units.quantity import System, show_pair
from slabwright.writers.sheet_words import verdict
from slabwright.writers.summary import ChangeRow

if TYPE_CHECKING:
    from slabwright.review.changes import Change, Effect

VERSION = 1

_PARTS: tuple[tuple[str, str, str, Tone], ...] = (
    ("broke", "BROKE", "new since then", "hold"),
    ("left", "LEFT", "there then and now", "caution"),
    ("unjudged", "NO LONGER JUDGED", "a comment then, and now nobody can tell", "caution"),
    ("accepted", "ACCEPTED", "there still, now under a variance", "note"),
    ("fixed", "FIXED", "judged again and met", "met"),
)


def sheet(effect: Effect, width: int = 80, encoding: str = "utf-8") -> list[Line]:
    """The lines of the sheet."""
    page = Sheet(width, encoding)
    page.rule(heavy=True)
    page.paragraph("WHAT CHANGED", tone="strong")
    page.rule()
    page.labeled("Job", effect.after.job, indent=0)
    page.labeled("File", effect.after.file, indent=0)
    was = f", where it was {effect.renamed_from}" if effect.renamed_from else ""
    page.labeled("Against", f"{effect.against}{was}", indent=0)
    page.labeled("Then", verdict(effect.before) if effect.before else effect.no_before, indent=0)
    page.labeled("Now", verdict(effect.after), indent=0)
    page.labeled("Changed", in_words(effect), indent=0, label_tone="strong")
    page.rule(heavy=True)
    for name, head, means, tone in _PARTS:
        changes: Sequence[Change] = getattr(effect, name)
        if changes:
            page.heading(f"{head} ({len(changes):,}): {means}", tone=tone)
        for change in changes:
            page.blank()
            _change(page, change, effect.after)
    return page.lines


def tells(effect: Effect) -> bool:
    """Whether a comment came, went or changed its standing."""
    return bool(effect.no_before or any(getattr(effect, name) for name, *_ in _PARTS if name != "left"))


def row(effect: Effect, file: str) -> ChangeRow:
    """The line of one design in the table of several."""
    if effect.before is not None:
        then = effect.before.verdict
    else:
        then = "new" if effect.no_before == NOT_THERE else "unreadable"
    counts = tuple(len(getattr(effect, name)) for name, *_ in _PARTS)
    return ChangeRow(file, then, effect.after.verdict, counts, effect.renamed_from)


def gone_data(file: str, against: str) -> Data:
    """What stands for a design of which nothing is left."""
    return {"effect": VERSION, "file": file, "against": against, "gone": True}


def in_words(effect: Effect) -> str:
    """The effect in one line."""
    counts = [f"{len(getattr(effect, name)):,} {head.lower()}" for name, head, _, _ in _PARTS if getattr(effect, name)]
    return ", ".join(counts) or "no comment then, none now"


def _change(page: Sheet, change: Change, report: Report) -> None:
    one = change.comment
    page.paragraph(sentence(plain(one.told, report.system)), indent=2, tone="strong")
    at = f"{one.at.name}, " if one.at.name else ""
    page.labeled("where", f"{at}{one.at.place}" if change.after else f"{at}line {one.at.place.line} then")
    for label, comment in (("then", change.before), ("now", change.after)):
        if comment is not None:
            page.labeled(label, _shown(comment, report))
        elif change.why:
            page.labeled(label, change.why)
    if change.after and change.after.variance is None:
        page.labeled("to pass", sentence(plain(change.after.to_pass, report.system)))
    page.labeled("rule", f"{one.rule}: {one.title}")


def _shown(comment: Comment, report: Report) -> str:
    shown, asked = show_pair(plain_amount(comment.shown), plain_amount(comment.asked), report.system)
    return f"{together(shown)} against at {comment.limit.direction} {together(asked)}, a {comment.weight}"


def as_data(effect: Effect) -> Data:
    """The effect as plain data, by ``schemas/effect.schema.json``."""
    return {
        "effect": VERSION,
        "job": effect.after.job,
        "file": effect.after.file,
        "against": effect.against,
        "renamed_from": effect.renamed_from or None,
        "then": _counts(effect.before) if effect.before else None,
        "now": _counts(effect.after),
        "no_before": effect.no_before or None,
        **{
            name: [_change_data(change, effect.after.system) for change in getattr(effect, name)] for name, *_ in _PARTS
        },
    }


def _counts(report: Report) -> Data:
    return {
        "verdict": report.verdict,
        "holds": report.holds,
        "cautions": report.counted("caution"),
        "notes": report.counted("note"),
    }


def _change_data(change: Change, system: System) -> Data:
    one = change.comment
    return {
        "rule": one.rule,
        "thing": one.at.name,
        "others": [other.at.name for other in one.others],
        "then": _side(change.before, system) if change.before else None,
        "now": _side(change.after, system) if change.after else None,
        "why": change.why or None,
    }


def _side(comment: Comment, system: System) -> Data:
    return {
        "weight": comment.weight,
        "limit": comment.limit.name,
        "shown": amount_data(comment.shown, system),
        "asked": amount_data(comment.asked, system),
        "line": comment.at.place.line,
    }
