"""Rules judge plans one after the other, and cannot disturb each other; what they may not conclude is a crash."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Mapping, Sequence
from pathlib import Path

from slabwright.plan.given import DoesNotApply, NotShown, RuleEnds
from slabwright.plan.plan import Plan
from slabwright.plan.watched import EVERYTHING, Watched
from slabwright.review.each_pour import judge_days
from slabwright.review.report import Conclusions, Crash, Met, NotApplying, NotShownEntry
from slabwright.rulebook.conclusion import Finding, Margin
from slabwright.rulebook.in_force import Limits
from slabwright.rulebook.rule import Rule
from slabwright.source.place import Place
from slabwright.text.words import told, written
from slabwright.units import quantity
from slabwright.units.quantity import Amount, Kind

# Kinds whose numbers may be compared with each other, by what they have in common.
_SAME = (
    {Kind.LENGTH, Kind.DEPTH, Kind.HEIGHT},
    {Kind.VOLUME, Kind.SMALL_VOLUME},
    {Kind.STRESS, Kind.PRESSURE},
    {Kind.SLOPE, Kind.SHARE, Kind.RATIO, Kind.COUNT},
)
EQUAL = 1e-9  # margins that differ by less, as a share, are alike


class _DefectError(Exception):
    """A rule concluded something that cannot stand."""


def conclude(plans: Sequence[tuple[Plan, Conclusions]], rules: Sequence[Rule], limits: Mapping[str, Limits]) -> None:
    """Let the rules judge some plans, and add what they conclude on each to the conclusions beside it.

    Each rule goes over all plans before the next one does: its code, and that of the geometry it is the first to ask
    for, is then still at hand in the processor, which saves a tenth of the time on many small plans.

    A rule that fails, or concludes what cannot stand, becomes a :class:`Crash` at a line of the
    rule file; what it had found before stays.
    """
    for rule in rules:
        own = limits[rule.name]
        for plan, seen in plans:
            _conclude(plan, rule, own, seen)


def conclude_again(
    plan: Plan,
    changed: Collection[str],
    before: Conclusions,
    rules: Sequence[Rule],
    limits: Mapping[str, Limits],
    names: Collection[str] | None = None,
) -> Conclusions:
    """What the rules conclude on an edited plan, of whose file only the ``changed`` sections read otherwise.

    Rules that looked at none of these conclude as they did ``before``, at the places of the file as it was; so do,
    where ``names`` are given, those of other names.
    """
    now, order = Conclusions(), {rule.name: number for number, rule in enumerate(rules)}
    for rule in rules:
        if (names is None or rule.name in names) and not before.read[rule.name].isdisjoint(changed):
            _conclude(plan, rule, limits[rule.name], now)
    now.add_others(before, order)
    return now


def _conclude(plan: Plan, rule: Rule, limits: Limits, seen: Conclusions) -> None:
    """Let one rule conclude, on each pour where it looks at its day."""
    if rule.each_pour and plan.design.pours:
        judge_days(plan, rule, limits, seen, _judge)
        seen.read[rule.name] = set(EVERYTHING)
    else:
        _judge(plan, rule, limits, seen)
        if rule.each_pour:
            seen.read[rule.name].add("pour")


def _judge(plan: Plan, rule: Rule, limits: Limits, seen: Conclusions) -> None:
    """Let one rule conclude, and add what it concludes to ``seen``."""
    limits = limits.held_to(plan.home)
    tightest: Margin | None = None
    least, found = math.inf, False
    watched = Watched(plan)
    seen.read[rule.name] = watched.read
    try:
        for conclusion in rule.judge(watched, limits):
            _sound(conclusion, limits)
            if isinstance(conclusion, Finding):
                found = True
                seen.found.append((rule, conclusion))
            elif (slack := conclusion.slack) < least - EQUAL:  # of equal margins the first is told
                tightest, least = conclusion, slack
        if not found and tightest is None:
            raise _DefectError("judge came to no conclusion, and silence is never met")
    except RuleEnds as end:
        if found or tightest is not None:
            seen.crashes.append(_crash(rule, _DefectError("judge ended the rule after it had come to a conclusion")))
        else:
            _end(plan, rule, end, seen)
        return
    except (Exception, SystemExit) as error:
        seen.crashes.append(_crash(rule, error))
        return
    if found:
        return
    if tightest is None:
        seen.met.append(Met(rule.name, rule.group, rule.title))
    else:
        asked = tightest.asked or tightest.limit.value
        seen.met.append(
            Met(rule.name, rule.group, rule.title, tightest.at, tightest.shown, asked, tightest.limit, least)
        )


def _end(plan: Plan, rule: Rule, end: RuleEnds, seen: Conclusions) -> None:
    """Add what it means that a rule ended without judging."""
    if isinstance(end, NotShown):
        at = end.place if end.place.file else Place(plan.design.file)
        add = tuple(written(one, plan.system) for one in end.add)
        seen.not_shown.append(NotShownEntry(rule.name, rule.group, rule.title, add, at))
    elif isinstance(end, DoesNotApply):
        seen.does_not_apply.append(NotApplying(rule.name, rule.group, rule.title, told(end.reason, plan.system)))


def _sound(conclusion: object, limits: Limits) -> None:
    """Raise unless the conclusion is a Finding that falls short of, or a Margin that keeps, a limit of this rule."""
    if not isinstance(conclusion, (Finding, Margin)):
        raise _DefectError(f"judge yielded {_kind_of(conclusion)}, which is neither a Finding nor a Margin")
    limit = conclusion.limit
    if not limits.includes(limit):
        raise _DefectError(f"{limit.name} is not a limit in force for this rule")
    asked = conclusion.asked or limit.value
    if not _comparable(conclusion.shown, asked):
        raise _DefectError(f"a {conclusion.shown.kind} was compared with a {asked.kind} ({limit.name})")
    told = _told(conclusion) if isinstance(conclusion, Finding) else ()
    if not (math.isfinite(conclusion.shown.si) and math.isfinite(asked.si) and all(map(math.isfinite, told))):
        raise _DefectError(f"a value without end was worked out at {conclusion.at.name} ({limit.name})")
    if conclusion.give < 0:
        raise _DefectError(f"a limit was made stricter than it is ({limit.name})")
    give = conclusion.give if limit.direction == "least" else -conclusion.give
    met = quantity.meets(conclusion.shown.si + give, asked.si, limit.direction)
    if met == isinstance(conclusion, Finding):
        said, is_so = ("to fall short", "met") if met else ("to be met", "not met")
        raise _DefectError(f"{conclusion.at.name} was said {said}, but {limit.name} is {is_so} there")


def _told(finding: Finding) -> Iterator[float]:
    """Every number that a finding prints, beside the two it compares."""
    for said in (finding.says, finding.to_pass, *(step.numbers for step in finding.working)):
        yield from (value.si for value in said.values.values() if isinstance(value, Amount))
    yield from (step.result.si for step in finding.working)


def _comparable(shown: Amount, asked: Amount) -> bool:
    return shown.kind is asked.kind or any({shown.kind, asked.kind} <= same for same in _SAME)


def _kind_of(thing: object) -> str:
    return "nothing" if thing is None else f"a {type(thing).__name__}"


def _crash(rule: Rule, error: BaseException) -> Crash:
    """Where in the rule file the rule stopped, and at what."""
    import traceback  # 1 ms

    frames = traceback.extract_tb(error.__traceback__)
    own_code = rule.judge.__code__.co_filename
    lines = [frame.lineno for frame in frames if frame.filename == own_code]
    if isinstance(error, _DefectError):
        line, what = rule.judge.__code__.co_firstlineno, str(error)
    else:
        line = (lines or [None])[-1] or rule.judge.__code__.co_firstlineno
        what = f"{type(error).__name__}: {error}".rstrip(": ")
        if frames and frames[-1].filename != own_code:
            what += f" (in {Path(frames[-1].filename).name}, line {frames[-1].lineno})"
    return Crash(rule.name, rule.group, Place(rule.file, line), what)
