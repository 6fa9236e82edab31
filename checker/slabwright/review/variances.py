"""Shortfalls accepted on purpose: which comments a design's variances cover, and which variances do nothing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from slabwright.design.model import Variance
from slabwright.review.report import Crash, NotApplying, NotShownEntry, VarianceNote, VarianceTrouble
from slabwright.rulebook.conclusion import Finding
from slabwright.rulebook.rule import Rule
from slabwright.source.alike import most_like

# What may be left out before the name of a thing; ``wall`` must not cover every wall, nor ``1`` every low spot.
KINDS = ("panel", "joint", "corner", "inside corner", "edge", "valley", "ridge", "grade break", "stall")


def covers(variance: Variance, rule: str, thing: str) -> bool:
    """Whether a variance speaks of this rule at this thing: ``P3`` and ``panel P3`` both name the panel P3."""
    at, name = _plain(variance.at), _plain(thing)
    return variance.rule == rule and (not at or at == name or name in {f"{kind} {at}" for kind in KINDS})


def _plain(name: str) -> str:
    return " ".join(name.casefold().split())


def note(variances: Sequence[Variance], today: date, rule: str, thing: str) -> VarianceNote | None:
    """The first variance still running that covers this shortfall; one is in force through its ``until`` day."""
    for variance in variances:
        if covers(variance, rule, thing) and not _expired(variance, today):
            return VarianceNote(variance.reason, variance.accepted_by, variance.date.isoformat(), variance.place)
    return None


def _expired(variance: Variance, today: date) -> bool:
    return variance.until is not None and variance.until < today


def troubles(
    variances: Sequence[Variance],
    today: date,
    rules: Sequence[Rule],
    found: Sequence[tuple[Rule, Finding]],
    silent: Sequence[NotApplying | NotShownEntry | Crash],
) -> Iterator[VarianceTrouble]:
    """Variances that do nothing, each with the reason: expired, or matching no shortfall.

    ``found`` is every shortfall; ``silent`` holds the rules that could not be judged.
    """
    if not variances:
        return
    names = [rule.name for rule in rules]
    states = {entry.rule: _STATES[type(entry)] for entry in silent}
    for variance in variances:
        things = [finding.at.name for rule, finding in found if rule.name == variance.rule]
        if _expired(variance, today):
            what = f"it ran until {variance.until} and covers nothing any more"
        elif variance.rule not in names:
            near = most_like(variance.rule, names)
            what = f"there is no rule {variance.rule!r}" + (f"; {near} is the nearest" if near else "")
        elif any(covers(variance, variance.rule, thing) for thing in things):
            continue
        elif things:
            listed = ", ".join(things[:5]) + (f" and {len(things) - 5} more" if len(things) > 5 else "")
            what = f"nothing falls short at {variance.at!r}; {variance.rule} falls short at {listed}"
        else:
            what = f"there is no shortfall to accept: {variance.rule} {states.get(variance.rule, 'is met')}"
        yield VarianceTrouble(variance.rule, variance.place, what)


_STATES: dict[type, str] = {
    NotApplying: "does not apply here",
    NotShownEntry: "is not shown in the file",
    Crash: "stopped before it could judge",
}
