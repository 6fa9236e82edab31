"""Plans and reviews of designs written as text in a test."""

from __future__ import annotations

import tempfile
from functools import cache
from pathlib import Path

from checkout import ROOT
from comments import only, told
from slabwright.design.read import read_design
from slabwright.plan.plan import Plan
from slabwright.review import run
from slabwright.review.report import Report
from slabwright.rulebook import limits, loading
from slabwright.rulebook.rule import Rule
from slabwright.units.quantity import System


def plan_of(text: str) -> Plan:
    """The worked plan of a design written as YAML."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "pad.slab.yaml"
        path.write_text(text, encoding="utf-8")
        design, _ = read_design(path)
    return Plan(design)


@cache
def rule_named(name: str) -> Rule:
    """One published rule."""
    path = next((ROOT / "rules").glob(f"*/{name.replace('-', '_')}.py"))
    return loading.examine(path)


def review_by(name: str, design: str | Plan) -> Report:
    """The review of a design by one published rule alone; the rule must not fail in itself."""
    rule = rule_named(name)
    plan = plan_of(design) if isinstance(design, str) else design
    report = run.review(plan, (rule,), limits.resolve((rule,)))
    assert not report.crashes, report.crashes[0]
    return report


def pad(
    more: str, use: str = "patio", unit: str = "ft", side: str = "8", outline: str = "", thick: str = "4 in"
) -> str:
    """A square slab of ``side`` (in ``unit``) on which only ``more``, whole sections of YAML, says anything else.

    ``thick`` is one thickness, or the whole section in braces.
    """
    outline = outline or f"[[0, 0], [{side}, 0], [{side}, {side}], [0, {side}]]"
    return "\n".join(
        [
            "format: 1",
            "job: {name: Test pad}" if "job:" not in more else "",
            f"units: {{plan: {unit}, height: {unit}}}",
            f"use: {use}",
            f"outline: {outline}",
            f"thickness: {thick if ':' in thick else f'{{design: {thick}}}'}",
            more,
            "",
        ]
    )


def told_by(rule: str, design: str, system: System = "us") -> tuple[str, str]:
    """The same of the one comment that a published rule has on a design."""
    return told(only(review_by(rule, design)), system)
