"""The rule `air-in-troweled-floor`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

from comments import weights
from design_text import pad, review_by


def test_air_in_troweled_floor() -> None:
    def floor(air: str, finish: str = "trowel", use: str = "shop floor") -> list[tuple[str, str]]:
        return weights(review_by("air-in-troweled-floor", pad(f"mix: {{{air}}}\npour: {{finish: {finish}}}", use=use)))

    # ASCC Position Statement 1, read: no entrained air, total at most 3 %
    assert floor("air: 3 %") == []
    assert floor("air: 3.1 %") == [("caution", "air_at_most")]
    assert floor("air: 6 %", finish="broom") == []
    # a garage that freezes: decided at 6 %; a consultant's 4.5 % to aim at, read
    cold = "site: {freezing: severe}\npour: {finish: trowel}\nmix: {air: %s}"
    for air, found in (("4.5 %", []), ("6 %", [("note", "garage_preferred_at_most")]),
                       ("6.1 %", [("caution", "garage_at_most")])):  # fmt: skip
        assert weights(review_by("air-in-troweled-floor", pad(cold.replace("%s", air), use="garage floor"))) == found
    assert review_by("air-in-troweled-floor", pad("mix: {air: 6 %}", use="shop floor")).does_not_apply
    assert review_by("air-in-troweled-floor", pad("pour: {finish: trowel}")).does_not_apply  # a patio
    asked = review_by("air-in-troweled-floor", pad("pour: {finish: trowel}", use="shop floor")).not_shown
    assert "mix.air" in asked[0].add[0]
