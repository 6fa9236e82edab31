"""The rule `downspout-lands`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, told, weights
from design_text import review_by
from slabs.water import RIDGE, slope_to, with_sections
from slabwright.text.words import plain
from sloped import RECTANGLE, design, plane

FOOT = 0.3048
LOT = "run: [B, C], beside: property line, name: lot line, takes_water: false\nrest: bed"
ROOF = {"A": 99.8, "B": 99.8, "C": 99.8, "D": 99.8, "R1": 100.0, "R2": 100.0}


def gabled(spout: str, more: dict[str, tuple[float, float]], use: str = "patio", site: str = "") -> str:
    """20 by 12 ft with a ridge across its middle: what lands east of it leaves over the lot line, and may not."""
    points = {**RECTANGLE, "R1": (10, 0), "R2": (10, 12), **more}
    text = design(points, ROOF, LOT, more=RIDGE, use=use)
    return f"{text}\nfixtures: [{{kind: downspout, name: roof spout, at: {spout}}}]\n{site}"


def carried_to(text: str) -> str:
    """The point that a downspout is carried on to, and "" where it is led away in a pipe."""
    (comment,) = review_by("downspout-lands", text).comments
    return str(comment.to_pass.values.get("point", ""))


def spout(at: str, heights: dict[str, float], edges: str, use: str = "patio", site: str = "") -> str:
    text = design(RECTANGLE, heights, edges, use=use)
    return with_sections(text, f"fixtures: [{{kind: downspout, name: roof spout, at: {at}}}]", site)


def test_a_downspout_is_carried_to_the_nearest_point_from_which_its_water_may_leave() -> None:
    """W lies beyond the ridge, 4 ft off; E is nearer and no better; N lies off the slab."""
    text = gabled("[12, 6]", {"E": (13, 6), "W": (8, 6), "FAR": (7, 6)})

    assert told(only(review_by("downspout-lands", text))) == (
        "the water of roof spout ends at lot line, which takes none",
        "carry roof spout on to W, 4'-0\" off: from there its water leaves by edge D-A (bed)",
    )


@pytest.mark.parametrize(("off", "unit"), [(0.05, "ft"), (0.5, "ft"), (1.0, "ft"), (0.005, "m"), (0.25, "m")])
def test_downspout_lands_on_no_point_off_the_slab(off: float, unit: str) -> None:
    """North of a ridge at y = 2 water may not leave, south of it may. OFF is nearer than W, and south of the slab."""
    points = {**RECTANGLE, "R1": (0, 2), "R2": (20, 2), "OFF": (10, -off), "W": (6, 1)}
    heights = {"A": 99.8, "B": 99.8, "C": 99.6, "D": 99.6, "R1": 100.0, "R2": 100.0}
    edges = "run: [C, D], beside: property line, takes_water: false\nrest: bed"
    spout = "fixtures: [{kind: downspout, at: [10, 2.5]}]"

    assert carried_to(design(points, heights, edges, more=RIDGE, unit=unit) + f"\n{spout}") == "W"


@pytest.mark.parametrize(("bad", "found"), [(39, "W"), (40, "")])
def test_downspout_lands_on_one_of_forty_points(bad: int, found: str) -> None:
    """So many points east of the ridge are nearer; corners and the ends of the ridge are farther off than W."""
    east = {f"E{k}": (14 + 0.05 * k, 6.0) for k in range(bad)}

    assert carried_to(gabled("[15, 6]", {**east, "W": (9.5, 6)})) == found


def test_the_nearer_of_two_points_is_taken_and_of_two_alike_the_first() -> None:
    """Told apart from three thousandths of a millimeter on, and not by what turning the drawing does to a number."""
    for gap, found in ((3e-6, "NEAR"), (2e-7, "FIRST")):
        points = {"FIRST": (8 - gap / FOOT, 6.0), "NEAR": (8.0, 6.0)}
        assert carried_to(gabled("[12, 6]", points)) == found


@pytest.mark.parametrize(("feet", "lands"), [(1.99, True), (2.01, False)])
def test_downspout_lands_within_two_feet_of_the_slab(feet: float, lands: bool) -> None:
    report = review_by("downspout-lands", gabled(f"[5, {12 + feet}]", {}))

    assert bool(report.met) is lands
    assert [one.reason for one in report.does_not_apply] == (
        [] if lands else ["no downspout or sump outlet lands on it"]
    )


@pytest.mark.parametrize(
    ("use", "freezing", "expected"),
    [
        ("walk", "severe", [("caution", "way_over_walk_at_most")]),
        ("walk", "moderate", [("caution", "way_over_walk_at_most")]),
        ("walk", "none", []),
        ("patio", "severe", []),
    ],
)
def test_the_way_of_roof_water_counts_over_walks_that_freeze(
    use: str, freezing: str, expected: list[tuple[str, str]]
) -> None:
    """From (5, 6) down to the bed at x = 0: 5 ft, over 2 ft (common practice)."""
    report = review_by("downspout-lands", gabled("[5, 6]", {}, use, f"site: {{freezing: {freezing}}}"))

    assert weights(report) == expected
    for comment in report.comments:
        assert comment.shown.si == pytest.approx(5 * FOOT)
        assert told(comment) == (
            "the water of roof spout freezes across the walk",
            "lead the water of roof spout under the slab in a pipe: 5'-0\" of it",
        )


def test_a_pipe_under_the_slab_is_told_to_the_next_half_foot() -> None:
    """From (5.1, 6) down to the bed at x = 0 it is 5'-1 1/4"."""
    (comment,) = review_by("downspout-lands", gabled("[5.1, 6]", {}, "walk", "site: {freezing: severe}")).comments
    assert told(comment)[1] == "lead the water of roof spout under the slab in a pipe: 5'-6\" of it"


@pytest.mark.parametrize(
    ("roof", "expected"),
    [
        ("", [("note", "way_over_patio_at_most")]),
        (", roof: 1000 ft2", [("note", "way_over_patio_at_most")]),
        (", roof: 1001 ft2", [("caution", "way_of_large_roof_at_most")]),
    ],
)
def test_the_water_of_a_large_roof_over_a_patio_is_a_caution(roof: str, expected: list[tuple[str, str]]) -> None:
    """From (9.5, 6) down to the bed at x = 0: 9.5 ft, over 8 ft (common practice)."""
    text = gabled("[9.5, 6]", {}).replace("name: roof spout", f"name: roof spout{roof}")
    assert weights(review_by("downspout-lands", text)) == expected


@pytest.mark.parametrize(("unit", "told_as"), [("ft", "in a pipe: 10'-0\" of it"), ("m", "in a pipe: 9.6 m of it")])
def test_the_pipe_under_a_patio_is_told_to_the_half_foot_or_the_decimeter(unit: str, told_as: str) -> None:
    """9.52 ft or m down to the bed at x = 0."""
    text = gabled("[9.52, 6]", {}).replace("plan: ft, height: ft", f"plan: {unit}, height: {unit}")
    comment = only(review_by("downspout-lands", text.replace("4 in", "100 mm" if unit == "m" else "4 in")))
    assert advice(comment, "metric" if unit == "m" else "us").endswith(told_as)


@pytest.mark.parametrize(("meters", "lands"), [("0.61", True), ("0.62", False)])
def test_downspout_lands_within_two_feet_in_metric_too(meters: str, lands: bool) -> None:
    text = design(RECTANGLE, slope_to(0, -0.02), "rest: bed", unit="m")
    report = review_by("downspout-lands", f"{text}\nfixtures: [{{kind: downspout, at: [-{meters}, 11]}}]")

    assert bool(report.met) is lands


def test_a_spout_lands_where_its_water_may_leave() -> None:
    away = plane(RECTANGLE, 0.02, 0)  # all of it runs off over A-D
    assert weights(review_by("downspout-lands", spout("[6, 6]", away, LOT))) == []
    towards = plane(RECTANGLE, 0.0, 0.0) | {"B": 99.6, "C": 99.6}
    comment = only(review_by("downspout-lands", spout("[10, 6]", towards, LOT)))
    assert (comment.weight, comment.limit.name) == ("hold", "astray_at_most")
    assert plain(comment.says, "us", both=False) == "the water of roof spout ends at lot line, which takes none"
    assert comment.at.shape[0] == pytest.approx((10 * FOOT, 6 * FOOT))
    assert comment.at.shape[-1] == pytest.approx((20 * FOOT, 6 * FOOT))


@pytest.mark.parametrize("heights", [plane(RECTANGLE, 0, 0), plane(RECTANGLE, 0, 0.02)])
def test_the_water_of_a_spout_may_not_stay(heights: dict[str, float]) -> None:
    comment = only(review_by("downspout-lands", spout("[10, 6]", heights, "run: [C, D], beside: bed\nrest: curb")))
    assert plain(comment.says, "us", both=False) == "the water of roof spout stays on the slab"


def test_roof_water_freezes_across_a_walk() -> None:
    across = plane(RECTANGLE, 0, -0.02)
    icy = spout("[10, 0]", across, "rest: bed", use="walk", site="site: {freezing: severe}")
    comment = only(review_by("downspout-lands", icy))
    assert (comment.weight, comment.limit.name) == ("caution", "way_over_walk_at_most")
    assert comment.shown.si == pytest.approx(12 * FOOT)  # straight across
    assert weights(review_by("downspout-lands", icy.replace("[10, 0]", "[10, 11]"))) == []
    assert weights(review_by("downspout-lands", icy.replace("severe", "none"))) == []


def test_a_spout_beside_the_slab_does_not_land_on_it() -> None:
    beside = spout("[10, -3]", plane(RECTANGLE, 0, -0.02), "rest: bed")
    assert review_by("downspout-lands", beside).does_not_apply[0].reason == "no downspout or sump outlet lands on it"
    near = spout("[10, 13]", plane(RECTANGLE, 0, -0.02), "rest: bed")
    assert weights(review_by("downspout-lands", near)) == []
    assert review_by("downspout-lands", near).met
