"""The rule `base-shots`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import weights
from design_text import pad, review_by, told_by


@pytest.mark.parametrize(("shots", "says", "more"), [("ABC", "3 shots stand for 400 ft2 of slab", 1)])
def test_few_shots_are_told_how_many_more(shots: str, says: str, more: int) -> None:
    points = "points: {A: [0, 0], B: [20, 0], C: [20, 20], D: [0, 20]}\n"
    base = "heights: {base: {" + ", ".join(f"{name}: 99" for name in shots) + "}}\n"
    site = "site: {base: {shot_after_compaction: true}}\n"
    text = pad(points + base + site, outline="[A, B, C, D]")

    assert told_by("base-shots", text) == (says, f"shoot {more} more, midway between the others and where water runs")


@pytest.mark.parametrize(
    ("shots", "long", "found"),
    [  # 1 shot per 100 ft2, and 5 % of it more: common practice
        (4, 20, []),
        (4, 21, []),
        (4, 21.1, [("note", "usual_area_at_most")]),
        (3, 20, [("note", "usual_area_at_most")]),
    ],
)
def test_base_shots_per_area(shots: int, long: float, found: list[tuple[str, str]]) -> None:
    names = dict(zip("ABCD", ("[0, 0]", f"[{long}, 0]", f"[{long}, 20]", "[0, 20]"), strict=True))
    points = "points: {" + ", ".join(f"{name}: {at}" for name, at in names.items()) + "}\n"
    base = "heights: {base: {" + ", ".join(f"{name}: 99" for name in "ABCD"[:shots]) + "}}\n"
    site = "site: {base: {shot_after_compaction: true}}\n"

    assert weights(review_by("base-shots", pad(points + base + site, outline="[A, B, C, D]"))) == found


def test_base_shots_too_few_are_a_caution() -> None:
    """900 ft2 and three shots: 300 ft2 each, over the 200 of common practice."""
    points = "points: {A: [0, 0], B: [30, 0], C: [30, 30], D: [0, 30]}\n"
    site = "site: {base: {shot_after_compaction: true}}\nheights: {base: {A: 99, B: 99, C: 99}}\n"
    assert weights(review_by("base-shots", pad(points + site, outline="[A, B, C, D]"))) == [
        ("caution", "area_of_a_shot_at_most")
    ]


def test_base_shots_only_where_the_order_rests_on_them() -> None:
    site = "site: {base: {shot_after_compaction: true}}"

    assert "heights.base" in review_by("base-shots", pad(site, side="20")).not_shown[0].add[0]
    assert review_by("base-shots", pad(site.replace("true", "false"), side="20")).does_not_apply
    assert review_by("base-shots", pad(site)).does_not_apply  # 64 ft2 at 4 in: less than a yard
    assert review_by("base-shots", pad("")).does_not_apply


@pytest.mark.parametrize(("x", "found"), [(8, []), (7.9, [("note", "to_a_corner_at_most")])])
def test_a_corner_far_from_every_shot_is_named(x: float, found: list[tuple[str, str]]) -> None:
    """20 by 20 ft, six shots, the last of them x ft along: 12 ft from the far corners (common practice)."""
    shots = "[0, 0]", "[0, 20]", "[0, 10]", "[4, 10]", f"[{x}, 0]", f"[{x}, 20]"
    names = dict(zip("PQRSTU", shots, strict=True))
    points = ", ".join(f"{name}: {at}" for name, at in {**names, "V": "[20, 0]", "W": "[20, 20]"}.items())
    base = f"base: {{{', '.join(f'{name}: 99.6' for name in names)}}}"
    text = pad(
        f"points: {{{points}}}\nheights: {{finish: {{P: 100, V: 100, W: 100, Q: 100}}, {base}}}\n"
        "site: {base: {material: crushed stone, thickness: 4 in, shot_after_compaction: true}}",
        outline="[P, V, W, Q]",
    )
    assert weights(review_by("base-shots", text)) == found


@pytest.mark.parametrize(("unit", "such"), [("ft", "A: 99.50"), ("m", "A: 99.850")])
def test_base_shots_are_asked_for_in_the_unit_of_the_heights(unit: str, such: str) -> None:
    assert review_by("base-step", pad("", unit=unit)).not_shown[0].add[-1].endswith(f"such as {such}")
