"""What a published rule says of a design when it is asked at once, and with other limits than the published ones."""

from __future__ import annotations

from pathlib import Path

from design_text import plan_of, rule_named
from slabwright.plan.given import NotShown, RuleEnds
from slabwright.plan.plan import Plan
from slabwright.rulebook import limits, loading
from slabwright.rulebook.conclusion import Finding, Margin
from slabwright.rulebook.in_force import Limits
from slabwright.rulebook.limits import Amendment, Amendments
from slabwright.rulebook.rule import Rule
from slabwright.units.quantity import Amount, read


def in_force(name: str, **values: str | float) -> Limits:
    """The limits of one rule, some of them amended: as amendments write them, or in SI."""
    rule = rule_named(name)
    kinds = {limit.name: limit.kind for limit in rule.limits}
    laid = tuple(
        Amendment(name, limit, "a test", read(to, kinds[limit]) if isinstance(to, str) else Amount(to, kinds[limit]))
        for limit, to in values.items()
    )
    return limits.resolve((rule,), [Amendments("job", "a test", laid)])[name]


def judged(name: str, design: str | Plan, **values: str | float) -> list[Finding | Margin]:
    """All that a rule says of a design, also what a report leaves out; ``values`` are limits by name."""
    plan = plan_of(design) if isinstance(design, str) else design
    return list(rule_named(name).judge(plan, in_force(name, **values).held_to(plan.home)))


def findings(name: str, design: str | Plan, **values: str | float) -> list[Finding]:
    """What falls short."""
    return [one for one in judged(name, design, **values) if isinstance(one, Finding)]


def margins(name: str, design: str | Plan, **values: str | float) -> list[Margin]:
    """What is met."""
    return [one for one in judged(name, design, **values) if isinstance(one, Margin)]


def finding(name: str, design: str, **values: str | float) -> Finding:
    """The one thing a rule says of a design, which falls short."""
    (one,) = judged(name, design, **values)
    assert isinstance(one, Finding)
    return one


def margin(name: str, design: str, **values: str | float) -> Margin:
    """The one thing a rule says of a design, which is met."""
    (one,) = judged(name, design, **values)
    assert isinstance(one, Margin)
    return one


def ended(name: str, design: str) -> RuleEnds | None:
    """How a rule ends that has nothing to judge in a design; None where it judges."""
    rule, plan = rule_named(name), plan_of(design)
    try:
        next(iter(rule.judge(plan, Limits(dict(rule.in_force)).held_to(plan.home))), None)
    except RuleEnds as end:
        return end
    return None


def asked_at(name: str, design: str) -> tuple[list[str], str]:
    """The keys that a rule asks for, and the path of the place where it asks."""
    found = ended(name, design)
    assert isinstance(found, NotShown)
    return [one.partition(":")[0] for one in found.add], found.place.path


def file_of(rule: Rule) -> Path:
    """Where a rule's file is, on this computer."""
    return Path(rule.judge.__code__.co_filename)


def worked_apart(name: str) -> dict[str, float]:
    """The published numbers that a rule, loaded anew, does not come to, and what it comes to instead."""
    every = loading.examine(file_of(rule_named(name))).worked
    ours = {one.what: one.ours() for one in every}
    return {one.what: ours[one.what] for one in every if not abs(ours[one.what] - one.printed.si) <= one.within}
