"""The rule `lot-cover`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from design_text import pad, review_by, told_by


@pytest.mark.parametrize(
    ("covered", "share"),
    [(2336, None), (2337, 0.300125), (2736, 0.35)],  # 64 ft2 of slab on 8,000 ft2; towns set 10 to 75 %, read
)
def test_lot_cover(covered: float, share: float | None) -> None:
    lot = f"site: {{lot: {{area: 8000 ft2, covered: {covered} ft2, cover_at_most: 30 %}}}}"
    comments = review_by("lot-cover", pad(lot)).comments

    assert [(one.weight, one.shown.si) for one in comments] == (
        [("caution", pytest.approx(share / 0.3))] if share else []
    )


def test_lot_cover_invents_no_limit() -> None:
    (asked,) = review_by("lot-cover", pad("site: {lot: {area: 8000 ft2, covered: 7000 ft2}}")).not_shown

    assert [one.split(":")[0] for one in asked.add] == ["site.lot.cover_at_most"]


def test_lot_cover_asks_for_what_is_there() -> None:
    assert "site.lot.covered" in review_by("lot-cover", pad("site: {lot: {area: 8000 ft2}}")).not_shown[0].add[0]
    assert review_by("lot-cover", pad("site: {lot: {covered: 800 ft2}}")).does_not_apply
    assert review_by("lot-cover", pad("")).does_not_apply


@pytest.mark.parametrize(
    ("covered", "less"),
    [  # 64 ft2 of slab, 2,400 ft2 are 30 % of 8,000 ft2
        ("2337 ft2", "leave 1 ft2 of paving out, here or elsewhere on the lot, or ask the town what counts"),
        ("2340.5 ft2", "leave 5 ft2 of paving out, here or elsewhere on the lot, or ask the town what counts"),
    ],
)
def test_what_is_over_is_left_out_in_whole_feet(covered: str, less: str) -> None:
    assert (
        told_by("lot-cover", pad(f"site: {{lot: {{area: 8000 ft2, covered: {covered}, cover_at_most: 30 %}}}}"))[1]
        == less
    )


def test_what_is_over_is_left_out_in_whole_square_meters() -> None:
    """36 m2 of slab and 266.5 are 2.5 m2 more than 30 % of 1,000."""
    text = pad(
        "site: {lot: {area: 1000 m2, covered: 266.5 m2, cover_at_most: 30 %}}", unit="m", side="6", thick="100 mm"
    )

    assert told_by("lot-cover", text, "metric") == (
        "with this slab 30.3 % of the lot is covered, and the town allows 30 %",
        "leave 3 m2 of paving out, here or elsewhere on the lot, or ask the town what counts",
    )
