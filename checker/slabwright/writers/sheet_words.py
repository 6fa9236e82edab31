"""How a review sheet says things: verdict, amounts, limits, arithmetic and margins as plain words."""

from __future__ import annotations

from collections.abc import Callable

from slabwright.quantity import Amount, System, same, show, show_pair
from slabwright.report import Comment, Met, Report
from slabwright.rulekit import WEIGHTS, InForce, Step, Weight
from slabwright.words import Value, filled
from slabwright.writers.sheet_text import GLUE, columns, together

WEIGHED: dict[Weight, tuple[str, str, str]] = {
    "hold": ("hold", "holds", "settle before concrete is ordered"),
    "caution": ("caution", "cautions", "think twice"),
    "note": ("note", "notes", "worth knowing"),
}

Fill = Callable[[Value], str]


def said(amount: Amount, file: str) -> Amount:
    """An amount as this sheet prints it: as typed only if it was typed in the design reviewed.

    A limit typed in inches by whoever set it is shown in the design's own system first.
    """
    typed_here = amount.place is not None and amount.place.file == file
    return amount if typed_here else plain_amount(amount)


def plain_amount(amount: Amount) -> Amount:
    """An amount without the words it was typed in."""
    return Amount(amount.si, amount.kind)


def verdict(report: Report) -> str:
    """The verdict in one line: comments counted by weight, and what they ask."""
    counts = {weight: report.counted(weight) for weight in WEIGHTS}
    parts = [counted(counts[weight], *WEIGHED[weight][:2]) for weight in WEIGHTS if counts[weight]]
    if report.crashes:
        parts.insert(1 if counts["hold"] else 0, counted(len(report.crashes), "rule failed", "rules failed"))
    if report.holds:
        line = f"{', '.join(parts)}: settle before concrete is ordered"
    elif parts:
        asks = WEIGHED["caution"][2] if counts["caution"] else WEIGHED["note"][2]
        line = f"no holds, {', '.join(parts)}: {asks}"
    elif report.met:
        line = "no comments: what the file shows is met"
    else:
        line = "no comments, and nothing met either: nothing could be judged"
    return line


def besides(report: Report) -> str:
    """What the verdict does not count: rules the file says too little for, and shortfalls accepted on purpose."""
    accepted = sum(1 for comment in report.comments if comment.variance is not None)
    parts = []
    if report.not_shown:
        parts.append(f"{counted(len(report.not_shown), 'rule', 'rules')} not shown in the file")
    if accepted:
        parts.append(f"{accepted:,} accepted by variance")
    return ", ".join(parts)


def counted(number: int, one: str, many: str) -> str:
    """A number and its noun: ``1 hold``, ``5,000 holds``."""
    return f"{number:,} {one if number == 1 else many}"


def settled(comment: Comment, report: Report) -> tuple[str, str, Fill]:
    """What is shown and what is asked, told apart, and a way to write amounts that keeps to the same two texts."""
    pair = (said(comment.shown, report.file), said(comment.asked, report.file))
    shown, asked = show_pair(*pair, report.system)
    texts = dict(zip(pair, (shown, asked), strict=True))

    def fill(value: Value) -> str:
        if not isinstance(value, Amount):
            return str(value)
        return together(texts.get(value) or show(said(value, report.file), report.system))

    return shown, asked, fill


def sentence(words: str) -> str:
    """The words with a capital in front."""
    return words[:1].upper() + words[1:]


def where(name: str, place: str) -> str:
    """The thing on the plan and its place in the file."""
    return f"{name}, {place}" if name else place


def asked_in_words(value: str, asked: Amount, limit: InForce, system: System) -> str:
    """The limit as it applies here, what it is, and who set it when it is not the published one.

    ``value`` is the asked amount as text. Where it is worked from the limit (36 thicknesses of 5 in), the limit's own
    value stands behind it.
    """
    text = f"at {limit.direction} {value}"
    if asked.kind != limit.value.kind or not same(asked.si, limit.value.si):
        text += f", for a limit of {together(show(plain_amount(limit.value), system))}"
    if limit.meaning:
        text += f": {limit.meaning}"
    if limit.layer != "published":
        text += f"; set by {limit.set_by}"
        if limit.looser:
            text += ", LOOSER THAN PUBLISHED"
        if limit.published is not None and not same(limit.published.si, limit.value.si):
            text += f" (published: {together(show(plain_amount(limit.published), system))})"
        if limit.published_weight not in (None, limit.weight):
            text += f" (published: a {limit.published_weight})"
    return text


def step_rows(step: Step, fill: Fill, room: int) -> list[str]:
    """One line of arithmetic: on one row if it fits, else broken before an equals sign and set in."""

    def short(value: Value) -> str:
        return fill(value).partition(" (")[0] if isinstance(value, Amount) else str(value)

    parts = [step.what, step.formula, filled(step.numbers, short), fill(step.result)]
    kept = [part for number, part in enumerate(parts) if part and part not in parts[:number]]
    rows = [kept[0]]
    for part in kept[1:]:
        longer = f"{rows[-1]} = {part}"
        if columns(longer) <= room - (2 if len(rows) > 1 else 0):
            rows[-1] = longer
        else:
            rows.append(f"= {part}")
    return [rows[0], *(f"{GLUE}{GLUE}{row}" for row in rows[1:])]


def margin(met: Met, report: Report) -> str:
    """A rule that is met: what is shown against its limit, and where it is tightest."""
    if met.shown is None or met.asked is None or met.limit is None:
        return met.rule
    name = f" ({met.at.name})" if met.at is not None and met.at.name else ""
    pair = (said(met.shown, report.file), said(met.asked, report.file))
    shown, asked = map(together, show_pair(*pair, report.system))
    if same(met.shown.si, met.asked.si):
        return f"{met.rule}: {shown}, exactly the limit{name}"
    return f"{met.rule}: {shown} against at {met.limit.direction} {asked}{name}"
