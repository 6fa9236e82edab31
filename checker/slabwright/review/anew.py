"""A comment worked anew on the design with other remedies in it, and how that is told."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from slabwright.review.concluding import conclude
from slabwright.review.likewise import told_as_one
from slabwright.review.report import Comment, Conclusions, listed
from slabwright.review.run import comment_on
from slabwright.review.trials import Bench
from slabwright.text.words import Words, words


def judged_again(comment: Comment, bench: Bench) -> Iterator[Comment]:
    """What its rule says in its places on another design."""
    seen, names = Conclusions(), {one.at.name for one in comment.places}
    conclude([(bench.plan, seen)], [one for one in bench.rules if one.name == comment.rule], bench.limits)
    comments = [comment_on(comment.number, rule, finding) for rule, finding in seen.found]
    for one in told_as_one(comments, bench.plan.design):
        if not names.isdisjoint(place.at.name for place in one.places):
            yield one


def numbered(numbers: Sequence[int]) -> str:
    """The numbers of some comments in words."""
    return f"number{'s' if len(numbers) > 1 else ''} {listed(list(map(str, numbers)))}"


def with_done(numbers: str, says: Words, told: str = "with {numbers_done} done, ") -> Words:
    """A sentence that holds once some numbers are done."""
    return words(told + says.template, **says.values, numbers_done=numbers)


def waits_for(numbers: str) -> Words:
    """What is told of a comment that has to be looked at again in the next review."""
    return words("do first what stands under {numbers_done}, and review again", numbers_done=numbers)
