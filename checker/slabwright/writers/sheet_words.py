"""How a review sheet says things: verdict, amounts, limits, arithmetic and margins as plain words."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from slabwright.review.report import Comment, Met, NotShownEntry, Report
from slabwright.rulebook.in_force import WEIGHTS, InForce, Weight
from slabwright.text.letters import together
from slabwright.text.words import Value, filled, told
from slabwright.text.working import Fill, counted, plain_amount, sentence
from slabwright.units.quantity import Amount, Kind, System, area, cube_strength, depth, same, show, show_pair, volume

WEIGHED: dict[Weight, tuple[str, str, str]] = {
    "hold": ("hold", "holds", "settle before concrete is ordered"),
    "caution": ("caution", "cautions", "think twice"),
    "note": ("note", "notes", "worth knowing"),
}


def said(amount: Amount, file: str) -> Amount:
    """An amount as this sheet prints it: as typed only if it was typed in the design reviewed, or as a strength class.

    A limit typed in inches by whoever set it is shown in the design's own system first.
    """
    typed_here = amount.place is not None and amount.place.file == file
    return amount if typed_here else _class_or_plain(amount)


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


def resting(comments: Sequence[Comment]) -> str:
    """One line for the comments that rest on a height that looks misread."""
    counts = Counter(comment.weight for comment in comments)
    parts = [counted(counts[weight], *WEIGHED[weight][:2]) for weight in WEIGHTS if counts[weight]]
    rules = ", ".join(dict.fromkeys(comment.rule for comment in comments))
    rest = "rests" if len(comments) == 1 else "rest"
    return f"{', '.join(parts)} {rest} on {comments[0].rests_on}, asked about below: {rules}"


def in_numbers(report: Report) -> str:
    """The job in one line: area, thickness, concrete needed and ordered, loads."""
    size = report.size
    if size is None:
        return ""

    def show_one(amount: Amount) -> str:
        return show(amount, report.system, both=False)

    thick = [show_one(depth(one)) for one in size.thicknesses]
    told = " and ".join(thick) if len(thick) < 3 else f"{thick[0]} to {thick[-1]}"
    parts = [f"{report.use}, {show_one(area(size.area))}, {told} thick"]
    needed = f"{show_one(volume(size.net))} of concrete"
    if size.ordered is not None:
        needed += f", {show_one(volume(size.ordered))} ordered"
        if size.loads:
            needed += f" in {counted(size.loads, 'load', 'loads')}"
    return "; ".join([*parts, needed])


def besides(report: Report) -> str:
    """What the verdict does not count: questions, rules the file says too little for, what is accepted on purpose."""
    accepted = sum(1 for comment in report.comments if comment.variance is not None)
    parts = []
    if report.questions:
        parts.append(f"{counted(len(report.questions), 'question', 'questions')} on the file")
    if report.not_shown:
        parts.append(f"{counted(len(report.not_shown), 'rule', 'rules')} not shown in the file")
    if accepted:
        parts.append(f"{accepted:,} accepted by variance")
    return ", ".join(parts)


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


def where(name: str, place: str) -> str:
    """The thing on the plan and its place in the file."""
    return ", ".join(filter(None, (name, place)))


def asked_in_words(value: str, asked: Amount, limit: InForce, system: System) -> str:
    """The limit as it applies here, what it is, and who set it when it is not the published one.

    ``value`` is the asked amount as text. Where it is worked from the limit (36 thicknesses of 5 in), the limit's own
    value stands behind what it is: ``longest side of a panel, in thicknesses, at most 36``.
    """
    text = f"at {limit.direction} {value}"
    if limit.meaning:
        text += f": {told(limit.meaning, system)}"
    if asked.kind != limit.value.kind or not same(asked.si, limit.value.si):
        own = limit.value if limit.value.kind is Kind.RATIO else plain_amount(limit.value)  # 1/4 as it is written
        text += f", at {limit.direction} {together(show(own, system))}"
    if limit.layer != "published":
        text += f"; set by {limit.set_by}"
        if limit.looser:
            text += f", LOOSER THAN {limit.stated.upper()}"
        if limit.published is not None and not same(limit.published.si, limit.value.si):
            text += f" ({limit.stated}: {together(show(plain_amount(limit.published), system))})"
        if limit.published_weight not in (None, limit.weight):
            text += f" ({limit.stated}: a {limit.published_weight})"
    return text


def passes(comment: Comment, fill: Fill, system: System) -> str:
    """What would make a comment pass; of one that is settled with another, the number of that."""
    if comment.settled_by is not None:
        return f"What is done for number {comment.settled_by} settles it"
    return sentence(filled(comment.to_pass, fill, system))


def margin(met: Met, report: Report) -> str:
    """A rule that is met: what is shown against its limit, and where it is tightest."""
    if met.shown is None or met.asked is None or met.limit is None:
        return met.rule
    name = f" ({met.at.name})" if met.at is not None and met.at.name else ""
    pair = (said(met.shown, report.file), said(met.asked, report.file))
    shown, asked = map(together, show_pair(*pair, report.system))
    if same(met.shown.si, met.asked.si):
        return f"{met.rule}: {shown}, exactly the limit{name}"
    near = ", near enough" if met.slack is not None and met.slack < 0 else ""  # by what a rule gives
    return f"{met.rule}: {shown} against at {met.limit.direction} {asked}{near}{name}"


def tightest(report: Report) -> list[Met]:
    """Rules that are met and have a margin, the smallest first.

    A limit of none at all (no loose ends) is kept or not; it has no margin. Margins that differ by a hair of floating
    point are alike, and stay in the order of the rules.
    """
    measured = [one for one in report.met if one.slack is not None and one.asked is not None and one.asked.si]
    return sorted(measured, key=lambda one: round(one.slack or 0.0, 9))


def by_rule(comments: Iterable[Comment]) -> list[tuple[str, list[Comment]]]:
    """Comments by rule, rules in the order in which they first come up."""
    rules: dict[str, list[Comment]] = {}
    for comment in comments:
        rules.setdefault(comment.rule, []).append(comment)
    return list(rules.items())


def by_need(report: Report) -> dict[tuple[tuple[str, ...], str], list[NotShownEntry]]:
    """What the file does not say, by what to add and where, and the rules that wait for it.

    Each thing is asked for once, however many rules want it and whatever they give for an example; things that the
    same rules want are asked for together.
    """
    waiting: dict[str, list[tuple[str, NotShownEntry]]] = {}
    for entry in report.not_shown:
        for add in entry.add:
            waiting.setdefault(add.partition(", such as ")[0], []).append((add, entry))
    together: dict[tuple[str, ...], list[str]] = {}
    for thing, asked in waiting.items():
        together.setdefault(tuple(entry.rule for _, entry in asked), []).append(thing)
    return {
        (tuple(waiting[thing][0][0] for thing in things), str(waiting[things[0]][0][1].place)): [
            entry for _, entry in waiting[things[0]]
        ]
        for things in together.values()
    }


def _class_or_plain(value: Amount) -> Amount:
    """A strength class as the class it is, with both its numbers; any other amount without what was typed."""
    return value if cube_strength(value) else plain_amount(value)


def looser_than(report: Report) -> str:
    """What the limits that are looser are looser than."""
    return "the rules state" if any(limit.own for _, limit in report.looser) else "published"


def looser(rule: str, limit: InForce, system: System) -> str:
    """A limit that asks less than the published one: both, who set it, and why."""
    value, published = show(_class_or_plain(limit.value), system), ""
    if limit.published is not None and not same(limit.published.si, limit.value.si):
        value, published = show_pair(_class_or_plain(limit.value), _class_or_plain(limit.published), system)
    text = f"{rule}: {told(limit.meaning, system) or limit.name}, at {limit.direction} {together(value)}"
    text += f" in place of {together(published)}" if published else ""
    if limit.published_weight not in (None, limit.weight):
        text += f"; a {limit.weight} in place of a {limit.published_weight}"
    text += f"; set by {limit.set_by}" + (f" ({limit.place})" if limit.place else "")
    return text + (f": {limit.reason}" if limit.reason else "")
