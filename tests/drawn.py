"""Reviews by the published rules with what a drawing needs, for tests of pages and plans."""

from __future__ import annotations

from functools import cache
from typing import Any

from slabwright.drawing import content
from slabwright.plan.plan import Plan
from slabwright.review import run
from slabwright.review.report import Report
from slabwright.rulebook import limits, loading


@cache
def published() -> tuple[Any, Any]:
    """The rules, and the limits in force."""
    rules = loading.load_rules()
    return rules, limits.resolve(rules)


def reviewed(plan: Plan) -> Report:
    """The review of a plan, drawn."""
    rules, in_force = published()
    return content.drawn(run.review(plan, rules, in_force), plan)
