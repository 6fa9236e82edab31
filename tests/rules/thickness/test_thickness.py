"""What the rules on thickness have in common."""

from __future__ import annotations

import pytest
from design_text import pad
from judged import ended, worked_apart
from slabwright.plan.given import RuleEnds

EACH = (
    "base-depth", "base-step", "depth-over-footings", "form-board", "least-thickness", "thickened-edge-under-wheels",
    "wall-line-load", "wheel-load",
)  # fmt: skip


@pytest.mark.parametrize("rule", EACH)
def test_published_numbers_come_out(rule: str) -> None:
    assert worked_apart(rule) == {}


@pytest.mark.parametrize(
    ("rule", "text"),
    [
        ("base-depth", ""),
        ("base-step", ""),
        ("depth-over-footings", ""),
        ("form-board", ""),
        ("wall-line-load", "mix: {strength: 4000 psi}\nsite: {soil: {support: 100 pci}}"),
        ("wheel-load", "mix: {strength: 4000 psi}\nsite: {soil: {support: 100 pci}}"),
    ],
)
def test_where_something_is_missing_nothing_is_judged(rule: str, text: str) -> None:
    assert isinstance(ended(rule, pad(text)), RuleEnds)
