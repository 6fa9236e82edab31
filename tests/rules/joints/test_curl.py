"""The rule `curl`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import only, reason
from design_text import review_by
from slabs.joints import jointed_slab


@pytest.mark.parametrize(
    ("side", "thickness", "index"),
    [(8, "4 in", 1.0), (15, "4 in", 3.515625), (15, "6 in", 2.34375), (20, "10 in", 2.5)],
)
def test_curl_grows_with_the_square_of_the_side(side: float, thickness: str, index: float) -> None:
    # L^2 / t over 8 ft x 8 ft / 4 in, by hand; 2.5: common practice; checks jt-curl-8ft-4in, -15ft-4in, -15ft-6in
    report = review_by("curl", jointed_slab(use="shop floor", size=(side, side), thickness=thickness))

    if index > 2.5:
        assert only(report).shown.si == pytest.approx(index)
        assert only(report).weight == "caution"
    else:
        assert report.comments == ()
        assert report.met[0].slack == pytest.approx(1 - index / 2.5, abs=1e-6)


def test_curl_in_metric_is_told_by_panels_of_2_4_m() -> None:
    # (4.8 / 2.4)^2 x 100 / 80, by hand
    slab = jointed_slab(use="shop floor", size=(4.8, 4.8), thickness="80 mm", unit="m")
    assert only(review_by("curl", slab)).shown.si == pytest.approx(5.0)


@pytest.mark.parametrize("use", ["garage floor", "patio", "vehicle pad"])
def test_only_shop_floors_are_asked_to_lie_flat(use: str) -> None:
    assert reason(review_by("curl", jointed_slab(use=use, size=(20, 20)))) == "the slab is not a shop floor"
