"""What one rule compares on a design: every finding and every margin, also those that a report leaves out."""

from __future__ import annotations

from design_text import plan_of, rule_named
from slabwright.plan.plan import Plan
from slabwright.rulebook import limits
from slabwright.rulebook.conclusion import Finding, Margin
from slabwright.rulebook.in_force import Limits
from slabwright.rulebook.limits import Amendment, Amendments
from slabwright.units.quantity import Amount


def in_force(name: str, **values: float) -> Limits:
    """The limits of one rule, some of them set to ``values`` (SI) by amendments."""
    rule = rule_named(name)
    kinds = {limit.name: limit.kind for limit in rule.limits}
    laid = tuple(
        Amendment(name, limit, "a test", Amount(value, kinds[limit], f"{value:g}")) for limit, value in values.items()
    )
    return limits.resolve((rule,), [Amendments("test.yaml", "job", "a test", laid)])[name]


def comparisons(name: str, design: str | Plan, **values: float) -> list[Finding | Margin]:
    """All that a rule says of a design with some limits amended, in order."""
    plan = plan_of(design) if isinstance(design, str) else design
    return list(rule_named(name).judge(plan, in_force(name, **values)))


def findings(name: str, design: str | Plan, **values: float) -> list[Finding]:
    """What falls short."""
    return [one for one in comparisons(name, design, **values) if isinstance(one, Finding)]


def margins(name: str, design: str | Plan, **values: float) -> list[Margin]:
    """What is met."""
    return [one for one in comparisons(name, design, **values) if isinstance(one, Margin)]
