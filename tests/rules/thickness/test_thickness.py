"""What the rules on thickness have in common."""

from __future__ import annotations

import pytest
from design_text import pad
from judged import ended
from slabwright.plan.given import RuleEnds


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
