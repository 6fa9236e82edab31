"""The rule `over-old-paving`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import weights
from design_text import pad, review_by


@pytest.mark.parametrize(
    ("base", "found"),
    [
        ("old_paving: concrete, separated: true", []),
        ("old_paving: concrete, separated: false", [("caution", "stuck_slabs_at_most")]),
    ],
)
def test_over_old_paving_wants_film_between(base: str, found: list[tuple[str, str]]) -> None:
    """Common practice."""
    assert weights(review_by("over-old-paving", pad(f"site: {{base: {{{base}}}}}"))) == found


def test_over_old_paving_asks_what_lies_between_and_takes_asphalt_for_a_base() -> None:
    def ended(base: str) -> str:
        report = review_by("over-old-paving", pad(f"site: {{base: {{{base}}}}}"))
        return "".join((*(one.add[0] for one in report.not_shown), *(one.reason for one in report.does_not_apply)))

    assert ended("old_paving: concrete").startswith("site.base.separated:")
    assert "asphalt" in ended("old_paving: asphalt")
    assert "no old paving" in ended("thickness: 4 in")
