"""All advice of a sheet, done in the order of its numbers as a foreman does it in one evening.

Each remedy was tried alone. Where all of them at once leave a comment, or bring what nobody was told of, each is tried
again on the design with those before it done. One that does not hold there is worked anew and says so, or its comment
tells the number that settles it by then, or the one that has to be done before the next review.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from slabwright.review.anew import judged_again, numbered, waits_for, with_done
from slabwright.review.likewise import edits_of
from slabwright.review.report import Comment, Conclusions, Report
from slabwright.review.trials import (
    Applied,
    Bench,
    Outcome,
    Trial,
    apply,
    came,
    gone,
    panels_named,
    settles,
    trial_of,
    with_it,
)
from slabwright.rulebook.remedy import Drop, Edit, Remedy, Write, together_told
from slabwright.text.words import Value, Words, words
from slabwright.units.quantity import Amount, same

ANEW = 3  # ways tried of a comment that is worked anew


class _Evening(NamedTuple):
    """What was done so far, and the design with it; a number that settles others is told by the first that does."""

    done: tuple[tuple[Comment, Remedy], ...]
    bench: Bench
    passed: tuple[tuple[int, Conclusions], ...] = ()  # by number: what the rules conclude once it is done


def in_order(report: Report, given: Report, bench: Bench, tried: Mapping[tuple[Edit, ...], Applied]) -> Report:
    """The report with advice that holds when all of it is done.

    ``given`` has every remedy of each comment, and ``tried`` what the design is with each that was tried alone.
    """
    done = [(one, one.remedies[0]) for one in report.comments if followed(one)]
    if len(done) < 2 or _at_once(report, done, bench, tried):
        return report
    evening = _Evening((), bench)
    asking = {one.number for one, _ in done}
    every = {one.number: one for one in given.comments}
    told: dict[int, Comment] = {}
    for comment in report.comments:
        told[comment.number], lead = comment, comment.settled_by
        if comment.variance is not None or (lead is not None and (lead > comment.number or lead not in asking)):
            continue
        if evening.passed and settles(evening.bench.concluded, comment, bench):
            lead = next(number for number, now in evening.passed if settles(now, comment, bench))
            told[comment.number] = comment._replace(settled_by=lead)
            continue
        comment = comment._replace(settled_by=None)
        if followed(comment):
            step = _next(comment, every[comment.number], evening, bench)
            comment, evening = (comment, step) if step else (_waits(comment, evening), evening)
        told |= {comment.number: comment} | {one.number: one for one, _ in evening.done}
    return report._replace(comments=tuple(told.values()))


def followed(comment: Comment) -> bool:
    """Whether its advice changes the file: another's does not settle it, and it is not left to a person."""
    left = comment.settled_by is not None or comment.variance is not None
    return not left and bool(comment.remedies) and bool(comment.remedies[0].edits)


def _at_once(
    report: Report,
    done: Sequence[tuple[Comment, Remedy]],
    bench: Bench,
    tried: Mapping[tuple[Edit, ...], Applied],
) -> bool:
    """Whether all that is told holds at once, in whatever order."""
    remedies = [remedy for _, remedy in done]
    asked = bench.concluded.read.values()
    most = max(remedies, key=lambda one: sum(not read.isdisjoint(one.sections) for read in asked))
    after = _after(remedies, bench, with_it(bench, tried.get(most.edits, Applied(None))))
    if after.now is None or any(_clash(one, [other for _, other in done[:at]]) for at, (_, one) in enumerate(done)):
        return False
    numbers = {one.number for one, _ in done}
    told = [one for one in report.comments if one.number in numbers or one.settled_by in numbers]
    if not all(gone(after.now, one, bench) for one in told):
        return False
    rests = " ".join(str(one.to_pass.values.get("rest_of_it", "")) for one, _ in done)
    spoken = {(one.rule, place.at.name) for one, _ in done for place in one.places}
    return not any(
        finding.limit.weight == "hold"
        or (rule, finding.at.name) in spoken
        or (finding.limit.weight == "caution" and rule not in rests)
        for rule, finding in came(bench.concluded, after.now)
    )


def _after(remedies: Sequence[Remedy], bench: Bench, near: Bench) -> Applied:
    """The design with some remedies applied; ``near`` is with some of them."""
    return apply(Remedy(words(""), edits_of(remedies, bench.plan.design)), bench, near)


def _clash(remedy: Remedy, done: Sequence[Remedy]) -> bool:
    """Whether it writes something else where what was done has written."""
    written: dict[str, Value | tuple[Value, ...]] = {
        edit.path: edit.value for one in done for edit in one.edits if isinstance(edit, Write)
    }
    return any(
        edit.path in written and not _alike(edit.value, written[edit.path])
        for edit in remedy.edits
        if isinstance(edit, Write)
    )


def _alike(one: Value | tuple[Value, ...], other: Value | tuple[Value, ...]) -> bool:
    if isinstance(one, tuple) and isinstance(other, tuple):
        return len(one) == len(other) and all(map(_alike, one, other))
    return same(one.si, other.si) if isinstance(one, Amount) and isinstance(other, Amount) else one == other


def _next(comment: Comment, given: Comment, evening: _Evening, bench: Bench) -> _Evening | None:
    """The evening with the advice of a comment done; None where none of it holds by then."""
    first = comment.remedies[0]
    tried = _tried(first, comment, evening, bench)
    if tried is not None:
        after, trial = tried
        if trial.gone and (step := _spoken_anew(comment, first, trial, evening, bench)):
            return step
        if _serves(trial, comment):
            return _with(evening, comment._replace(to_pass=_seen(comment, first, trial)), first, after)
    for remedy in _anew(comment, evening):
        tried = _tried(remedy, comment, evening, bench)
        if (
            tried is not None
            and _serves(tried[1], comment)
            and all(rule != comment.rule for rule, _ in tried[1].brings)
        ):
            return _by_then(evening, comment, remedy, *tried)
    made = {edit for _, one in evening.done for edit in one.edits}
    for remedy in (one for one in given.remedies if one.edits != first.edits and not made.issuperset(one.edits)):
        tried = _tried(remedy, comment, evening, bench)
        if tried is not None and _serves(tried[1], comment):
            return _by_then(evening, comment, remedy, *tried)
    return None


def _tried(remedy: Remedy, comment: Comment, evening: _Evening, bench: Bench) -> tuple[Applied, Trial] | None:
    """A remedy on top of what was done; None where it writes something else there."""
    done = [one for _, one in evening.done]
    if _clash(remedy, done):
        return None
    after = _after([*done, remedy], bench, evening.bench)
    return after, trial_of(after, comment, bench, evening.bench)


def _serves(trial: Trial, comment: Comment) -> bool:
    """Whether it holds, or no worse than alone: what only traded its comment alone may do so by then."""
    return trial.outcome is Outcome.HOLDS or (trial.outcome is Outcome.TRADES and not comment.tried)


def _seen(comment: Comment, remedy: Remedy, trial: Trial) -> Words:
    """What is told of a remedy, with what comes of it by then if nobody was told of that."""
    told = str(comment.to_pass.values.get("rest_of_it", ""))
    unsaid = any(one.limit.weight != "note" and rule not in told for rule, one in trial.brings)
    return trial.told(remedy.says, comment, of_its_own=True) if unsaid else comment.to_pass


def _by_then(evening: _Evening, comment: Comment, remedy: Remedy, after: Applied, trial: Trial) -> _Evening:
    """The evening with another remedy of a comment, which says what has to be done before it."""
    says = trial.told(with_done(_before(comment, evening), remedy.says), comment)
    return _with(evening, comment._replace(to_pass=says, remedies=(remedy,)), remedy, after)


def _with(evening: _Evening, comment: Comment, remedy: Remedy, after: Applied) -> _Evening:
    """The evening with one thing more."""
    return _made(evening, (*evening.done, (comment, remedy)), comment.number, after)


def _made(evening: _Evening, done: tuple[tuple[Comment, Remedy], ...], number: int, after: Applied) -> _Evening:
    assert after.now is not None  # it holds
    return _Evening(done, with_it(evening.bench, after), (*evening.passed, (number, after.now)))


def _spoken_anew(comment: Comment, remedy: Remedy, trial: Trial, evening: _Evening, bench: Bench) -> _Evening | None:
    """The evening with it, where a comment that was done before speaks again and another value settles it.

    An order is worked anew for a slab that is made thicker later on; its comment tells both.
    """
    again = {(rule, finding.at.name) for rule, finding in trial.brings}
    which = [
        at for at, (one, _) in enumerate(evening.done) if any((one.rule, it.at.name) in again for it in one.places)
    ]
    if len(which) != 1:
        return None
    early, before = evening.done[which[0]]
    first, last = evening.done[: which[0]], evening.done[which[0] + 1 :]
    rest = [*(one for _, one in (*first, *last)), remedy]
    without = _after(rest, bench, evening.bench)
    if without.now is None:
        return None
    others = _made(evening, (*first, *last, (comment, remedy)), comment.number, without)
    for way in _anew(early, others):
        after = _after([*rest, way], bench, others.bench)
        trials = [trial_of(after, one, bench, evening.bench) for one in (early, comment)]
        if not _clash(way, rest) and all(map(_serves, trials, (early, comment))):
            told = together_told([before.says, with_done(numbered([comment.number]), way.says)])
            early = early._replace(to_pass=told, remedies=(way,))
            return _made(evening, (*first, (early, way), *last, (comment, remedy)), comment.number, after)
    return None


def _anew(comment: Comment, evening: _Evening) -> Iterator[Remedy]:
    """The remedies of a comment as its rule words them once other things are done."""
    if panels_named(comment) and any("joints" in one.sections for _, one in evening.done):
        return  # panels are named by their order, so that the drawing would show another
    left_out = {_listed(edit) for _, one in evening.done for edit in one.edits if isinstance(edit, Drop)}
    for one in judged_again(comment, evening.bench):
        for remedy in one.remedies[:ANEW]:  # of a list with less in it the numbers are not those of the file
            if remedy.edits and left_out.isdisjoint(map(_listed, remedy.edits)):
                yield remedy


def _listed(edit: Edit) -> str:
    """The list in which an edit changes or leaves out an entry."""
    head, bracket, _ = edit.path.partition("[")
    return head if bracket else ""


def _before(comment: Comment, evening: _Evening) -> str:
    """The numbers of what was done before that changed what the rule of a comment looks at."""
    read = evening.bench.concluded.read[comment.rule]
    near = [one.number for one, remedy in evening.done if not read.isdisjoint(remedy.sections)]
    return numbered(near or [one.number for one, _ in evening.done])


def _waits(comment: Comment, evening: _Evening) -> Comment:
    """A comment whose advice does not hold by then: it is looked at again in the next review."""
    return comment._replace(to_pass=waits_for(_before(comment, evening)), tried=False, remedies=())
