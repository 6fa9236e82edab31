"""The rule `fiber-claims`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, reason, weights
from design_text import review_by
from judged import judged
from slabs.steel import floor, slab
from slabwright.rulebook.conclusion import Margin
from slabwright.text.words import plain
from slabwright.units.quantity import System


@pytest.mark.parametrize(
    ("fiber", "found"),
    [
        # 1.5 lb/yd3: UFGS 03300N (read), which is 0.89 kg/m3
        ("kind: micro synthetic, dose: 1.5 lb/yd3", []),
        ("kind: micro synthetic, dose: 0.89 kg/m3", []),
        ("kind: micro synthetic, dose: 0.88 kg/m3", [("note", "dose_at_least")]),
        ("kind: micro synthetic, dose: 1 lb/yd3", [("note", "dose_at_least")]),
        ("kind: micro synthetic, dose: 0.4 lb/yd3", [("caution", "least_dose_at_least")]),
        ("kind: macro synthetic, dose: 3 lb/yd3", []),  # no dose is printed for it
        ("kind: micro synthetic, dose: 2 lb/yd3, in_place_of: joints", [("caution", "saved_by_fine_at_most")]),
        ("kind: micro synthetic, dose: 2 lb/yd3, in_place_of: thickness", [("caution", "saved_by_fine_at_most")]),
        ("kind: macro synthetic, dose: 3 lb/yd3, in_place_of: steel", [("note", "saved_by_coarse_at_most")]),
        ("kind: steel, dose: 40 lb/yd3, in_place_of: steel", [("note", "saved_by_coarse_at_most")]),
    ],
)
def test_fiber_by_kind_dose_and_claim(fiber: str, found: list[tuple[str, str]]) -> None:
    assert weights(review_by("fiber-claims", floor(f"{{fiber: {{{fiber}}}}}"))) == found


@pytest.mark.parametrize(
    ("dose", "unit", "system", "to_pass"),
    [
        ("1 lb/yd3", "ft", "us", "order 1.5 lb/yd3: 0.5 lb/yd3 more"),
        ("0.4 kg/m3", "m", "metric", "order 0.9 kg/m3: 0.5 kg/m3 more"),  # 0.89 kg/m3, to the next 100 g
    ],
)
def test_fine_fiber_is_ordered_by_the_whole_dose(dose: str, unit: str, system: System, to_pass: str) -> None:
    fiber = f"{{fiber: {{kind: micro synthetic, dose: {dose}}}}}"
    assert advice(only(review_by("fiber-claims", floor(fiber, unit=unit, length="7"))), system) == to_pass


@pytest.mark.parametrize(
    ("saved", "says"),
    [
        ("joints", "fiber does not tell the slab where to crack, and joints do"),
        ("steel", "fiber does not hold an open crack shut, and steel does"),
        ("thickness", "fiber does not make a thin slab carry more"),
    ],
)
def test_what_fine_fiber_does_not_replace(saved: str, says: str) -> None:
    # NRMCA CIP 24 and UFGS 03300N (read): no fewer joints, no strength, no curl control, no bar replacement
    fiber = f"{{fiber: {{kind: micro synthetic, dose: 2 lb/yd3, in_place_of: {saved}}}}}"
    comment = only(review_by("fiber-claims", floor(fiber)))

    assert plain(comment.says, "us") == says
    assert plain(comment.to_pass, "us") == f"draw the {saved} as if there were no fiber, and leave in_place_of out"


def test_no_fiber_claims_nothing() -> None:
    assert reason(review_by("fiber-claims", floor("none"))) == "no fiber is written (reinforcement.fiber)"


@pytest.mark.parametrize(("claim", "shown"), [("", 0), (", in_place_of: steel", 1)])
def test_fiber_claims_a_claim_that_amendments_let_pass_is_met(claim: str, shown: float) -> None:
    (first, _) = judged(
        "fiber-claims", slab(f"fiber: {{kind: micro synthetic, dose: 2 lb/yd3{claim}}}"), saved_by_fine_at_most=1
    )

    assert isinstance(first, Margin)
    assert first.shown.si == shown
