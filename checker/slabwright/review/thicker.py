"""Comments that rest on a thickness which another comment changes.

A slab that is made thicker bears longer panels, wants deeper edges and takes more concrete. What such a comment asks is
worked for the slab as it will be, and tells the number that comes first; or that number settles it.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import NamedTuple

from slabwright.review.anew import judged_again, numbered, waits_for, with_done
from slabwright.review.report import Comment
from slabwright.review.trials import Applied, Bench, Outcome, apply, settles, trial_of
from slabwright.text.words import plain

AS_HIGH = ("heights", "water")  # groups of comments that do not rest on a thickness
WAYS = 3  # ways tried of a comment that is worked anew


class Thicker(NamedTuple):
    """A comment whose advice changes a thickness, and the design with it."""

    number: int
    bench: Bench
    slab: bool  # whether a part of the slab gets thicker, and not an edge alone


def thicker(comment: Comment, after: Applied, bench: Bench) -> Thicker | None:
    """The comment as one whose advice changes a thickness, if it does."""
    text, now, plan = after
    if comment.group != "thickness" or text is None or now is None or plan is None:
        return None
    slab = plan.areas.thicknesses != bench.plan.areas.thicknesses
    if not slab and plan.design.thickness == bench.plan.design.thickness:
        return None
    return Thicker(comment.number, bench._replace(text=text, plan=plan, concluded=now), slab)


def with_thickness(
    told: Sequence[Comment], given: Sequence[Comment], first: Sequence[Thicker], bench: Bench
) -> tuple[Comment, ...]:
    """The comments, where those that rest on a thickness wait for what changes it.

    ``given`` are the same as their rules made them.
    """
    asks = {one.number: _ask(one, bench) for one in given}
    found, left = {one.number: one for one in told}, [one.number for one in told]
    slabs = {one.number for one in first if one.slab}
    while left:
        comment = found[left.pop(0)]
        for one in first:
            lead = found[one.number]
            if (lead.number > comment.number and comment.number in slabs) or not _rests(comment, lead, one):
                continue  # of two that make the slab thicker the later waits
            again = _anew(comment, asks[comment.number], lead, one, bench)
            if again is not None:
                found[comment.number] = again
                led = [other for other in found.values() if other.settled_by == comment.number]
                found |= {other.number: other._replace(settled_by=_lead(other, one, bench)) for other in led}
                left += [other.number for other in led if found[other.number].settled_by is None]
                break
    return tuple(found.values())


def _lead(comment: Comment, first: Thicker, bench: Bench) -> int | None:
    """The number of what changes the thickness, if that settles a comment too."""
    return first.number if settles(first.bench.concluded, comment, bench) else None


def _rests(comment: Comment, lead: Comment, first: Thicker) -> bool:
    """Whether a comment may rest on a thickness that another changes, which is told before it or weighs the same."""
    settled = comment.settled_by is not None or lead.settled_by is not None
    if comment.number == lead.number or settled or comment.variance or comment.rests_on:
        return False
    before = lead.number < comment.number or lead.weight == comment.weight
    return before and comment.group not in AS_HIGH and (first.slab or not comment.remedies)


def _anew(comment: Comment, asks: str, lead: Comment, first: Thicker, bench: Bench) -> Comment | None:
    """The comment as it is once the thickness is changed; None where it ``asks`` the same then."""
    if settles(first.bench.concluded, comment, bench):
        return comment._replace(settled_by=lead.number)
    now = next(judged_again(comment, first.bench), None)
    if now is None or (now.weight == comment.weight and _ask(now, first.bench) == asks):
        return None
    left, number = not (lead.remedies and lead.remedies[0].edits), numbered([lead.number])
    says = partial(with_done, number, told="settle {numbers_done} first; then ") if left else partial(with_done, number)
    for remedy in now.remedies[:WAYS]:
        trial = trial_of(apply(remedy, first.bench), now, first.bench)
        if remedy.edits and trial.outcome is Outcome.HOLDS:
            way = says(trial.told(remedy.says, now))
            return comment._replace(to_pass=way, tried=not left, remedies=() if left else (remedy,))
    told = says(now.decide) if now.decide else waits_for(number)
    return comment._replace(to_pass=told, tried=False, remedies=())


def _ask(comment: Comment, bench: Bench) -> str:
    """What a comment asks before it is tried."""
    first = comment.remedies[0].says if comment.remedies else comment.decide or comment.to_pass
    return plain(first, bench.plan.design.system)
