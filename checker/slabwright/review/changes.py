"""What became of every comment between two reviews: settled, brought, left, no longer judged, accepted.

Comments are matched by their rule and the thing on the plan they name.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from slabwright.review.report import Comment, Report
from slabwright.source.problem import Problem


@dataclass(frozen=True, slots=True)
class Change:
    """One comment before and after; None where there is none. ``why`` tells what else became of it."""

    before: Comment | None
    after: Comment | None
    why: str = ""

    @property
    def comment(self) -> Comment:
        """The later of the two."""
        one = self.after or self.before
        assert one is not None
        return one


@dataclass(frozen=True, slots=True)
class Effect:
    """What changed in one design since ``against``."""

    against: str
    before: Report | None  # None: not there, or not readable
    after: Report
    fixed: tuple[Change, ...] = ()  # judged now, and nothing found
    broke: tuple[Change, ...] = ()
    left: tuple[Change, ...] = ()
    unjudged: tuple[Change, ...] = ()  # a comment then, and now the rule cannot tell
    accepted: tuple[Change, ...] = ()  # still there, now under a variance
    no_before: str = ""  # why there is nothing to compare with
    renamed_from: str = ""  # the name it had before, where it had another
    problems: tuple[Problem, ...] = ()  # that keep the earlier version from being read


NOT_THERE = "was not there"


def nothing_before(against: str, now: Report, why: str, problems: tuple[Problem, ...] = ()) -> Effect:
    """Nothing to compare with: every comment is new."""
    broke = [Change(None, one) for one in _standing(now)]
    return Effect(against, None, now, broke=_as_one(broke), no_before=why, problems=problems)


def compare(against: str, before: Report, after: Report) -> Effect:
    """What became of every comment that stands in one of two reviews; those under a variance do not stand."""
    then, now, accepted = _by_thing(_standing(before)), _by_thing(_standing(after)), _by_thing(_accepted(after))
    fixed: list[Change] = []
    broke: list[Change] = []
    left: list[Change] = []
    unjudged: list[Change] = []
    waved: list[Change] = []
    for key in dict.fromkeys([*now, *then]):
        for was, is_now in _pairs(then.get(key, []), now.get(key, [])):
            if is_now is not None:
                change = Change(was, is_now, "" if was else _silent(before, is_now.rule))
                (left if was else broke).append(change)
            elif was is not None and key in accepted:
                waved.append(Change(was, accepted[key][0]))
            elif was is not None:
                why = _silent(after, was.rule)
                (unjudged if why else fixed).append(Change(was, None, why))
    return Effect(
        against,
        before,
        after,
        fixed=_as_one(fixed),
        broke=_as_one(broke),
        left=_as_one(left),
        unjudged=_as_one(unjudged),
        accepted=_as_one(waved),
    )


def _as_one(changes: Sequence[Change]) -> tuple[Change, ...]:
    """Changes of the places of one comment as one, the worst place first."""
    alike: dict[tuple[object, ...], list[Change]] = {}
    for one in changes:
        key = one.before and one.before.number, one.after and one.after.number, one.why
        alike.setdefault(key, []).append(one)
    return tuple(_led(sorted(ones, key=lambda one: one.comment.slack)) for ones in alike.values())


def _led(changes: Sequence[Change]) -> Change:
    before = tuple(one.before for one in changes if one.before)
    after = tuple(one.after for one in changes if one.after)
    return Change(_spoken_for(before), _spoken_for(after), changes[0].why)


def _spoken_for(places: Sequence[Comment]) -> Comment | None:
    """The worst of some places of a comment, speaking for all of them."""
    if not places:
        return None
    return places[0]._replace(alike=tuple(places) if len(places) > 1 else ())


def _standing(report: Report) -> list[Comment]:
    return [place for comment in report.comments if comment.variance is None for place in comment.places]


def _accepted(report: Report) -> list[Comment]:
    return [place for comment in report.comments if comment.variance is not None for place in comment.places]


def _by_thing(comments: Sequence[Comment]) -> dict[tuple[str, str], list[Comment]]:
    found: dict[tuple[str, str], list[Comment]] = {}
    for comment in comments:
        found.setdefault((comment.rule, comment.at.name), []).append(comment)
    return found


def _pairs(then: list[Comment], now: list[Comment]) -> Iterator[tuple[Comment | None, Comment | None]]:
    """Comments of one rule on one thing, those by the same limit together, then the rest in order."""
    rest = list(then)
    unmatched = []
    for comment in now:
        same = next((one for one in rest if one.limit.name == comment.limit.name), None)
        if same is None:
            unmatched.append(comment)
        else:
            rest.remove(same)
            yield same, comment
    for comment in unmatched:
        yield (rest.pop(0) if rest else None), comment
    for one in rest:
        yield one, None


def _silent(report: Report, rule: str) -> str:
    """Why a rule could not say anything; empty when it judged."""
    if any(entry.rule == rule for entry in report.not_shown):
        return "not shown in the file"
    reason = next((entry.reason for entry in report.does_not_apply if entry.rule == rule), None)
    if reason is not None:
        return f"does not apply: {reason}"
    return "the rule itself failed" if any(entry.rule == rule for entry in report.crashes) else ""
