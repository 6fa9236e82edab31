"""The rule `tubes-in-slab`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import limits_broken, only
from design_text import pad, review_by
from slabwright.text.words import plain

ALONG = "kind: heating tubes, along: [[1, 1], [6, 1]]"


def tubes(*each: str, more: str = "", unit: str = "ft", thick: str = "4 in", use: str = "patio") -> str:
    listed = ", ".join(f"{{name: tubes {n}, {one}}}" for n, one in enumerate(each, 1))
    return pad(f"embedded: [{listed}]\n{more}", unit=unit, thick=thick, use=use)


def test_tubes_in_slab_asks_of_the_first() -> None:
    (asked,) = review_by("tubes-in-slab", tubes(ALONG, ALONG)).not_shown
    assert asked.place.path == "embedded[0]"
    (met,) = review_by("tubes-in-slab", tubes(ALONG, f"{ALONG}, top_cover: 2 in")).met  # of one more is known
    assert met.at is not None and met.at.name == "tubes 2"


@pytest.mark.parametrize(
    ("use", "unit", "cover", "limit"),
    [  # 1 1/2 in in the weather and 3/4 in indoors (ACI 318-11, recalled): 38 and 19 mm
        ("patio", "ft", "1 1/2 in", ""), ("patio", "ft", "1 7/16 in", "cover_outdoors_at_least"),
        ("shop floor", "ft", "3/4 in", ""), ("shop floor", "ft", "11/16 in", "cover_indoors_at_least"),
        ("patio", "m", "38 mm", ""), ("patio", "m", "37 mm", "cover_outdoors_at_least"),
        ("shop floor", "m", "19 mm", ""), ("shop floor", "m", "18 mm", "cover_indoors_at_least"),
    ],
)  # fmt: skip
def test_tubes_in_slab_cover(use: str, unit: str, cover: str, limit: str) -> None:
    thick = "4 in" if unit == "ft" else "100 mm"
    report = review_by("tubes-in-slab", tubes(f"{ALONG}, top_cover: {cover}", unit=unit, thick=thick, use=use))
    assert limits_broken(report) == ([limit] if limit else [])
    foot = 0.3048 if unit == "ft" else 1.0
    assert [one.at.shape for one in report.comments] == [((foot, foot), (6 * foot, foot))] * len(report.comments)


@pytest.mark.parametrize(
    ("unit", "thick", "tube", "to"),
    [  # a cut of 1 1/4 in or 30 mm and 1/2 in of room, in the next 1/4 in or 5 mm; the tube has to fit under that
        ("ft", "4 in", "top_cover: 1 1/2 in, size: 3/4 in", "1 3/4 in"),
        ("ft", "4 in", "top_cover: 1 1/2 in, size: 2 1/4 in", "1 3/4 in"),
        ("ft", "4 in", "top_cover: 1 1/2 in, size: 2 3/8 in", ""),
        ("ft", "3 in", "top_cover: 1 1/2 in", "1 3/4 in"),
        ("ft", "2 3/4 in", "top_cover: 1 1/2 in", "1 3/4 in"),  # of no size, an inch
        ("ft", "2 5/8 in", "top_cover: 1 1/2 in", ""),
        ("m", "100 mm", "top_cover: 40 mm, size: 20 mm", "45 mm"),
    ],
)
def test_tubes_in_slab_are_laid_lower_where_there_is_room(unit: str, thick: str, tube: str, to: str) -> None:
    cut, far = ("1 1/4 in", "8") if unit == "ft" else ("30 mm", "8")
    joint = f"joints: [{{name: J, kind: saw cut, from: [4, 0], to: [4, {far}], depth: {cut}}}]"
    text = tubes(f"{ALONG}, {tube}", more=joint, unit=unit, thick=thick)
    (comment,) = (one for one in review_by("tubes-in-slab", text).comments if one.limit.name.startswith("room"))
    system = "us" if unit == "ft" else "metric"
    told = [plain(one.says, system, both=False) for one in comment.remedies]
    assert told == ([f"lay tubes 1 {to} below the top"] if to else [])


@pytest.mark.parametrize(
    ("cover", "says"),
    [
        ("1 1/8 in", "joint J is cut into tubes 1"),
        ("1 1/4 in", "joint J is cut into tubes 1"),
        ("1 1/2 in", "joint J is cut down to 1/4 in over tubes 1"),
    ],
)
def test_tubes_in_slab_the_deepest_cut_over_them_is_told(cover: str, says: str) -> None:
    cuts = ", ".join(
        f"{{name: {name}, kind: {kind}, from: [{x}, 0], to: [{x}, 8], depth: {deep}}}"
        for name, kind, x, deep in (
            ("I", "saw cut", 3, "1 in"),
            ("J", "saw cut", 4, "1 1/4 in"),
            ("K", "pattern", 5, "2 in"),
            ("L", "saw cut", 7, "2 in"),
        )
    )
    text = tubes(f"{ALONG}, top_cover: {cover}", more=f"joints: [{cuts}]")
    comment = next(one for one in review_by("tubes-in-slab", text).comments if one.limit.name.startswith("room"))
    assert plain(comment.says, "us", both=False) == says


@pytest.mark.parametrize(("size", "told"), [("1 5/16 in", False), ("1 3/8 in", True)])
def test_tubes_in_slab_take_a_third_of_the_thickness(size: str, told: bool) -> None:
    """4 in: 1 1/3 in (ACI 318-11, recalled)."""
    report = review_by("tubes-in-slab", tubes(f"{ALONG}, size: {size}"))
    assert limits_broken(report) == (["part_of_thickness_at_most"] if told else [])
    if told:
        assert only(report).working[0].result.si == pytest.approx(1.375 / 4)


@pytest.mark.parametrize(
    ("steel", "size", "told"),
    [  # two wires of 0.192 in from 1 1/2 in down end at 1.88 in, two bars of 1/2 in from 2 in at 3 in
        ("{mesh: {style: 6x6 W2.9, top_cover: 1 1/2 in}}", "3/4 in", "under the steel, 2 in below the top"),
        ('{bars: {size: "#4", spacing: 18 in, top_cover: 2 in}}', "3/4 in", "under the steel, 3 in below the top"),
        ('{bars: {size: "#4", spacing: 18 in, top_cover: 2 1/4 in}}', "3/4 in", "1 1/2 in below the top"),
    ],
)
def test_tubes_are_laid_under_the_steel_that_they_would_meet(steel: str, size: str, told: str) -> None:
    text = tubes(f"{ALONG}, top_cover: 1 in, size: {size}", more=f"reinforcement: {steel}", thick="5 in")
    (comment,) = review_by("tubes-in-slab", text).comments
    assert plain(comment.to_pass, "us") == f"lay tubes 1 {told}"


def test_tubes_have_no_room_under_bars_near_the_bottom() -> None:
    """Bars from 2 1/2 in to 3 1/2 in and a tube of 3/4 in want 4 1/4 in."""
    steel = 'reinforcement: {bars: {size: "#4", spacing: 18 in, top_cover: 2 1/4 in}}'
    (comment,) = review_by("tubes-in-slab", tubes(f"{ALONG}, top_cover: 1 in, size: 1 1/4 in", more=steel)).comments
    assert plain(comment.to_pass, "us").startswith("thicken the slab")
