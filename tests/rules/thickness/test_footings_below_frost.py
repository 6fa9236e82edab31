"""The rule `footings-below-frost`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import weights
from design_text import pad, review_by


@pytest.mark.parametrize(("footing", "found"), [("42 in", []), ("41 in", [("caution", "below_frost_at_least")])])
def test_footings_go_below_frost(footing: str, found: list[tuple[str, str]]) -> None:
    """IRC R403.1.4.1, recalled: the depth is the building office's."""
    more = f"site: {{frost_depth: 42 in}}\nfixtures: [{{kind: post, at: [4, 4], footing: {footing}}}]"
    assert weights(review_by("footings-below-frost", pad(more))) == found
