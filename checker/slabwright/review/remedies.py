"""Remedies tried: applied to the text of the design in memory, read again and judged again before they are told.

What comes with a remedy that holds, and weighs less, is told with it. Where none holds and the rule leaves nothing to a
person, the advice of another comment is told that settles both, or one that only trades its comment for others that are
no holds; else what has to be settled together is named.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from slabwright.review.anew import judged_again
from slabwright.review.in_order import in_order
from slabwright.review.likewise import at_once, told_at
from slabwright.review.one_height import clash, merged
from slabwright.review.report import Comment, Conclusions, Report
from slabwright.review.run import comment_on
from slabwright.review.thicker import Thicker, thicker, with_thickness
from slabwright.review.trials import Applied, Bench, Outcome, Trial, apply, settles, trial_of, with_it
from slabwright.rulebook.remedy import Edit, Remedy
from slabwright.text.words import Words, words

PLACES = 6  # of a comment that are tried one by one where nothing settles all at once
WORK = 6000  # comments tried times panels, facets and comments: a few seconds, also on a floor of thousands of panels
ORDER = "ordered-volume"  # the rule that tells that an order is short
HEIGHTS = ("water", "heights")  # groups of comments that new heights settle
ANEW = {  # what a person does where no single change is enough, by the group of the comment
    "thickness": "make it thicker there",
    "joints": "lay the joints out anew there, as slabwright propose joints does",
    "heights": "set the heights anew there, as slabwright propose heights does",
    "water": "set the heights anew there, as slabwright propose heights does",
}


class _Advisor:
    """Tries the remedies of a report; each set of edits is judged once, whichever comments name it."""

    def __init__(self, report: Report, bench: Bench) -> None:
        self._standing = [one for one in report.comments if one.variance is None]
        self._bench = bench
        self.applied: dict[tuple[Edit, ...], Applied] = {}

    def on(self, comment: Comment) -> tuple[Comment, Applied | None]:
        """The comment with the advice that holds, and what the design is with it; None where nothing was found.

        Advice settles all its places at once; where none does, that of each place is tried by itself.
        """
        told, after = self._on_all(comment)
        if told.tried or not comment.others:
            return told, after
        apart = [self._on_all(place)[0] for place in comment.places[:PLACES]]
        design = self._bench.plan.design
        own = [(one.at.name, one.remedies[0]) for one in apart if one.tried]
        ways = [at_once(own, design)] if len(own) == len(comment.places) else []
        for way in (*ways, *(one for _, one in own)):
            trial = trial_of(self._after(way), comment, self._bench)
            if trial.outcome is Outcome.HOLDS:
                says = trial.told(way.says, comment)
                return comment._replace(to_pass=says, tried=True, remedies=(way,)), self._after(way)
        if not own:
            return told, after
        to_pass = told_at([(one.at.name, one.to_pass) for one in apart], design.system)
        return comment._replace(to_pass=to_pass, remedies=()), None

    def _on_all(self, comment: Comment) -> tuple[Comment, Applied | None]:
        """The comment with the first of its remedies that holds for all its places."""
        held: tuple[Remedy, Trial] | None = None
        trials = []
        for remedy, trial in self._trials(comment):
            if trial.outcome is Outcome.UNTRIED and held is None:
                return comment._replace(to_pass=remedy.says), None
            trials.append((remedy, trial))
            if trial.outcome is Outcome.HOLDS and (held is None or trial.burden < held[1].burden):
                held = remedy, trial
                if not trial.brings:
                    break
        if held is not None:
            remedy, trial = held
            says = trial.told(remedy.says, comment)
            return comment._replace(to_pass=says, tried=True, remedies=(remedy,)), self._after(remedy)
        for remedy in self._of_its_group(comment):
            after = self._after(remedy)
            trial = trial_of(after, comment, self._bench)
            if trial.outcome is Outcome.HOLDS and not trial.brings:
                return comment._replace(to_pass=remedy.says, tried=True, remedies=(remedy,)), after
        if comment.decide:
            way = next((one for one, trial in trials if one.leads and trial.gone), None)
            return comment._replace(to_pass=comment.decide, remedies=()), self._after(way) if way else None
        return self._otherwise(comment, trials), None

    def _trials(self, comment: Comment) -> Iterator[tuple[Remedy, Trial]]:
        """What may settle a comment, tried; what makes the order short is tried once more with more ordered."""
        for remedy in self._remedies(comment):
            after = self._after(remedy)
            trial = trial_of(after, comment, self._bench)
            yield remedy, trial
            if trial.outcome is not Outcome.HOLDS and trial.gone and (ordered := _ordered(after, trial, self._bench)):
                says = words(f"{remedy.says.template}, and {ordered.says.template.replace('{write}', '{ordered}')}",
                             **remedy.says.values, ordered=ordered.says.values["write"])  # fmt: skip
                both = Remedy(says, (*remedy.edits, *ordered.edits), remedy.leads)
                yield both, trial_of(self._after(both), comment, self._bench)

    def borrows(self, comment: Comment) -> bool:
        """Whether a comment that leaves it to a person may be settled by what another asks."""
        return comment.decide is not None and any(True for _ in self._of_its_group(comment))

    def _of_its_group(self, comment: Comment) -> Iterator[Remedy]:
        """What other comments of the group ask first, where new heights settle it and a person would have to decide."""
        if comment.group in HEIGHTS and comment.decide is not None:
            for other in self._standing:
                if other.group == comment.group and other.number != comment.number:
                    yield from (one for one in other.remedies[:1] if one.edits)

    def _otherwise(self, comment: Comment, trials: Sequence[tuple[Remedy, Trial]]) -> Comment:
        """A comment that no remedy of its own settles, and that leaves nothing to a person."""
        for other in self._standing:
            for remedy in other.remedies[:1] if other.group == comment.group and other is not comment else ():
                trial = trial_of(self._after(remedy), comment, self._bench)
                if remedy.edits and trial.outcome is Outcome.HOLDS:
                    return comment._replace(to_pass=trial.told(remedy.says, comment), tried=True, remedies=(remedy,))
        for remedy, trial in trials:
            if comment.group not in ANEW and trial.gone and not trial.brings:  # what else it speaks of is done with too
                return comment._replace(to_pass=remedy.says, remedies=(remedy,))
            if trial.outcome is Outcome.TRADES:
                return comment._replace(to_pass=trial.told(remedy.says, comment), remedies=(remedy,))
        return comment._replace(to_pass=self._together(comment, trials), remedies=())

    def _together(self, comment: Comment, trials: Sequence[tuple[Remedy, Trial]]) -> Words:
        """What has to be settled at once where no remedy works alone: what stands in its way, or at its place."""
        came = [(rule, finding.at.name) for _, trial in trials for rule, finding in trial.brings]
        here = [(one.rule, one.at.name) for one in self._standing if one.at.name == comment.at.name]
        others = list(dict.fromkeys(pair for pair in came + here if pair != (comment.rule, comment.at.name)))
        anew = ANEW.get(comment.group, "draw it anew there")
        if not others:
            return words(f"no single change settles it: {anew}, and review again")
        told = "; ".join(f"{rule} at {at}" for rule, at in others[:3])
        return words(f"no single change settles it: {anew}, and settle {{others}} with it", others=told)

    def _remedies(self, comment: Comment) -> Iterator[Remedy]:
        """Its own remedies, then those of other comments on the same thing that change the same sections."""
        yield from comment.remedies
        sections = {one.sections for one in comment.remedies}
        for other in self._standing:
            if other.at.name == comment.at.name and other.number != comment.number:
                yield from (one for one in other.remedies if one.edits and one.sections in sections)

    def _after(self, remedy: Remedy) -> Applied:
        if remedy.edits not in self.applied:
            self.applied[remedy.edits] = apply(remedy, self._bench)
        return self.applied[remedy.edits]


def _ordered(after: Applied, trial: Trial, bench: Bench) -> Remedy | None:
    """What is ordered for the slab as a remedy leaves it, where that makes the order short."""
    short = next((one for rule, one in trial.brings if rule == ORDER), None)
    if short is None or short.limit.direction != "least":
        return None
    rule = next(one for one in bench.rules if one.name == ORDER)
    anew = judged_again(comment_on(0, rule, short), with_it(bench, after))
    return next((way for one in anew for way in one.remedies if way.edits), None)


def advised(report: Report, bench: Bench) -> Report:
    """The report with the advice of standing comments tried, and the first alternative told that holds.

    An alternative that brings nothing else is told before one that does, and of several that do the one that brings
    least, be it one that another comment on the same thing names; and of comments that one remedy settles together
    each tells the number of the first. The heaviest comments are tried; those beyond :data:`WORK` keep their first
    remedy, not tried.
    """
    size = len(bench.plan.panels.all) + len(bench.plan.finish.facets) + 4 * len(report.comments)
    left = max(1, WORK // (1 + size))
    advisor = _Advisor(report, bench)
    comments: list[Comment] = []
    leads: list[tuple[int, Applied]] = []
    led: list[tuple[Comment, Applied]] = []
    changed: list[Thicker] = []
    for comment in report.comments:
        own = any(one.edits for one in comment.remedies)
        tries = comment.variance is None and (own or advisor.borrows(comment)) and left > 0
        left -= tries
        told, after = advisor.on(comment) if tries else (comment, None)
        if comment.variance is None:
            lead = next((number for number, one in leads if one.now and settles(one.now, comment, bench)), None)
            told = told._replace(settled_by=lead)
            if lead is None and after is not None:
                changed += filter(None, [thicker(comment, after, bench)])
                leads.append((comment.number, after))
                if any(one.leads for one in (told.remedies if told.tried else comment.remedies)):
                    led.append((comment, after))
        comments.append(told)
    told_of = _at_one_height([_led(one, led, bench) for one in comments], bench)
    if left > 0:
        told_of = with_thickness(told_of, report.comments, changed, bench)
    alone = report._replace(comments=told_of)
    return in_order(alone, report, bench, advisor.applied) if left > 0 else alone


def _at_one_height(told: list[Comment], bench: Bench) -> tuple[Comment, ...]:
    """The comments, so that no two of them give one point two heights."""
    for later in range(len(told)):
        for first in range(later):
            if points := clash(told[first], told[later]):
                told = _one_way(told, first, later, points, bench)
    return tuple(told)


def _one_way(told: Sequence[Comment], at: int, at_later: int, points: Sequence[str], bench: Bench) -> list[Comment]:
    """One way to settle two comments: that of the later, or both together; else the later waits for the first."""
    found, first, later = list(told), told[at], told[at_later]
    after = apply(later.remedies[0], bench)
    if first.weight == later.weight and after.now and settles(after.now, first, bench):
        return _pointed(found, (first, later), at_later, after.now, bench)
    for add in (False, True):
        both = merged(first.remedies[0], later.remedies[0], bench.plan.design, add)
        if both is None:
            continue
        after = apply(both, bench)
        trials = [trial_of(after, one, bench) for one in (first, later)]
        if after.now and all(one.outcome is Outcome.HOLDS and not one.brings for one in trials):
            for number in (at, at_later):
                found[number] = found[number]._replace(to_pass=both.says, tried=True, remedies=(both,))
            return _pointed(found, (first, later), at, after.now, bench)
    wait = words("do first what number {number} asks, which moves {points} too, and review again",
                 number=str(first.number), points=", ".join(points[:3]))  # fmt: skip
    found = [one._replace(settled_by=None) if one.settled_by == later.number else one for one in found]
    found[at_later] = later._replace(to_pass=wait, tried=False, remedies=())
    return found


def _pointed(
    told: Sequence[Comment], two: tuple[Comment, Comment], lead: int, now: Conclusions, bench: Bench
) -> list[Comment]:
    """The comments, where the one at ``lead`` now speaks for ``two`` and for what either of them settled."""
    numbers = [one.number for one in two]
    return [
        one._replace(settled_by=told[lead].number if settles(now, one, bench) else None)
        if place != lead and (one.number in numbers or one.settled_by in numbers)
        else one
        for place, one in enumerate(told)
    ]


def _led(told: Comment, led: Sequence[tuple[Comment, Applied]], bench: Bench) -> Comment:
    """A comment as told; of its weight, one that a later remedy leads and settles tells the number of that."""
    if told.variance is not None or told.settled_by is not None:
        return told
    for one, after in led:
        later = one.number > told.number and one.weight == told.weight
        if later and after.now and settles(after.now, told, bench):
            return told._replace(settled_by=one.number)
    return told
