"""The rule `panel-spacing`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, weights
from design_text import review_by
from slabs.joints import box, cut, design, rectangle
from slabwright.text.words import plain

FOOT, INCH = 0.3048, 0.0254


@pytest.mark.parametrize(
    ("thickness", "stone", "feet"),
    [
        ("4 in", "1/2 in", 8),
        ("4 in", "3/4 in", 10),
        ("6 in", "1/2 in", 12),
        ("6 in", "3/4 in", 15),
        ("5 in", "3/8 in", 10),
    ],
)
def test_panel_spacing_keeps_the_published_table(thickness: str, stone: str, feet: int) -> None:
    # Beall, Masonry and Concrete, Fig. 2-15: spacing by thickness and stone, read
    mix = f"mix: {{aggregate: {stone}}}"
    side = f"{feet} ft"
    longer = f"{feet} ft 1 in"

    met = review_by("panel-spacing", design(rectangle(side, side), thickness, more=mix, use="shop floor"))
    short = review_by("panel-spacing", design(rectangle(longer, side), thickness, more=mix, use="shop floor"))

    assert not met.comments
    assert met.met[0].slack == pytest.approx(0, abs=1e-9)
    assert only(short).weight == "note"
    assert only(short).asked.si == pytest.approx(feet * FOOT)


@pytest.mark.parametrize(
    ("thickness", "side", "use", "limit"),
    [
        ("4 in", "30 ft", "patio", "thicknesses_at_most"),  # ACI 302.1R-96: 12 ft at most; the floor cracked
        ("4 in", "15 ft", "shop floor", "thicknesses_at_most"),  # the same
        ("4 in", "12 ft 1 in", "patio", "thicknesses_at_most"),
        ("8 in", "15 ft 1 in", "patio", "side_outdoors_at_most"),  # ACI 330R sec. 2.7: 15 ft
        ("8 in", "18 ft 1 in", "shop floor", "side_indoors_at_most"),  # ACI 302.1R-96: 18 ft
        ("3 in", "12 ft", "driveway", "thicknesses_at_most"),  # regional guide: a lengthwise joint is needed
        ("6 in", "16 ft", "driveway", "side_outdoors_at_most"),  # the same
    ],
)
def test_panel_spacing_holds(thickness: str, side: str, use: str, limit: str) -> None:
    report = review_by("panel-spacing", design(rectangle(side, side), thickness, use=use))

    assert weights(report) == [("hold", limit)]


@pytest.mark.parametrize(("side", "use"), [("15 ft", "patio"), ("18 ft", "shop floor")])
def test_panel_spacing_is_met_at_the_cap(side: str, use: str) -> None:
    assert not review_by("panel-spacing", design(rectangle(side, side), "8 in", use=use)).comments


def test_panel_spacing_between_the_multiples_is_a_note_and_names_its_arithmetic() -> None:
    comment = only(review_by("panel-spacing", design(rectangle("12 ft", "9 ft"), "4 in")))

    assert (comment.weight, comment.limit.name) == ("note", "preferred_thicknesses_at_most")
    assert comment.shown.si == pytest.approx(12 * FOOT)
    assert plain(comment.says, "us") == "panel P1 is long for its thickness"
    assert [plain(step.numbers, "us", both=False) for step in comment.working] == ["30 x 4 in", "12'-0\" / 2"]
    assert advice(comment) == "cut it across its long side into 2 bays of 6'-0\""


def test_panel_spacing_cuts_a_large_panel_both_ways_into_bays_that_pass() -> None:
    comment = only(review_by("panel-spacing", design(rectangle("32 ft", "24 ft"), "4 in")))

    assert advice(comment) == "cut it into 4 by 3 bays of 8'-0\" by 8'-0\""


@pytest.mark.parametrize(
    ("size", "cuts", "told"),
    [  # 30 times 4 in is 10 ft; each panel cut in two would be one cut more for each of them
        ((40, 10), {"J1": (13.5, 0), "J2": (26.5, 0)}, "space joints J1, J2 and 1 more evenly, in 4 bays of 10'-0\""),
        ((30, 10), {"J2": (19.5, 0), "J1": (9, 0)}, "space joints J2 and J1 evenly, in 3 bays of 10'-0\""),
        ((24, 10), {"J1": (12, 0)}, "space joint J1 and 1 more evenly, in 3 bays of 8'-0\""),  # 10 ft cut, not 20
        ((26, 13), {"J1": (12, 0)},  # 10 ft and 13 ft to cut, not 26 and 13
         "space joint J1 and 1 more evenly, in 3 bays of 8'-8\"; cut the slab across them into 2 bays of 6'-6\""),
        ((60, 12), {f"J{n}": (15 * n, 0) for n in range(1, 4)} | {"J4": (0, 6)},
         "space joints J1, J2, J3 and 3 more evenly, in 7 bays of about 8'-6 7/8\""),
        ((66, 10), {f"J{n}": (13.2 * n, 0) for n in range(1, 5)},
         "space joints J1, J2, J3, 1 like them and 2 more evenly, in 7 bays of about 9'-5 1/8\""),
    ],
)  # fmt: skip
def test_cuts_are_spaced_anew_where_that_cuts_less(
    size: tuple[float, float], cuts: dict[str, tuple[float, float]], told: str
) -> None:
    drawn = "\n".join(cut(name, (x, y), (x or size[0], y or size[1])) for name, (x, y) in cuts.items())
    text = design(box(*size), joints=drawn, use="shop floor")

    assert plain(review_by("panel-spacing", text).comments[0].to_pass, "us", both=False) == told


@pytest.mark.parametrize(
    ("joints", "more"),
    [
        (cut("J1", (12, 0), (12, 10), "construction joint"), ""),  # it ends a day's pour
        (cut("J1", (12, 0), (14, 10)) + "\n" + cut("J2", (2, 0), (2, 10)), ""),  # not square to each other
        (cut("J1", (12, 0), (12, 10)) + "\n" + cut("J2", (12, 5), (24, 5)), ""),  # one ends on the other
        (cut("J1", (12, 0), (12, 10)), "fixtures: [{kind: post, name: post, at: [12, 5]}]\n"),  # laid to a post
    ],
)
def test_cuts_that_have_to_stay_are_not_spaced_anew(joints: str, more: str) -> None:
    said = review_by("panel-spacing", design(box(24, 10), joints=joints, more=more, use="shop floor")).comments[0]

    assert plain(said.to_pass, "us", both=False).startswith("cut it ")


def test_panel_spacing_takes_19_mm_stone_for_three_quarters() -> None:
    metric = design("[[0, 0], [3, 0], [3, 3], [0, 3]]", "100 mm", more="mix: {aggregate: 19 mm}", unit="m")

    assert not review_by("panel-spacing", metric).comments
    assert review_by("panel-spacing", metric.replace("19 mm", "16 mm")).comments[0].weight == "note"


def test_panel_spacing_goes_by_the_thickness_drawn_where_shots_show_less() -> None:
    corners = "A: [0, 0], B: [9, 0], C: [9, 9], D: [0, 9]"
    heights = "heights: {finish: {A: 1, B: 1, C: 1, D: 1}, base: {A: 0.75, B: 0.75, C: 0.75, D: 0.75}}"
    report = review_by("panel-spacing", design("[A, B, C, D]", "4 in", more=f"points: {{{corners}}}\n{heights}"))

    assert report.met[0].asked.si == pytest.approx(30 * 4 * INCH)  # 3 in are told as too thin, and once is enough


@pytest.mark.parametrize("steel", ["", "bars: {size: '#3', spacing: 18 in}"])
def test_panel_spacing_steel_makes_it_no_longer(steel: str) -> None:
    more = f"reinforcement: {{{steel}}}" if steel else ""

    assert only(review_by("panel-spacing", design(rectangle("12 ft", "9 ft"), "4 in", more=more))).weight == "note"
    assert only(review_by("panel-spacing", design(rectangle("13 ft", "9 ft"), "4 in", more=more))).weight == "hold"


def test_panel_spacing_proposes_nine_bays_of_eight_feet() -> None:
    comment = only(review_by("panel-spacing", design(rectangle("24 ft", "24 ft"), "4 in")))

    assert advice(comment) == "cut it into 3 by 3 bays of 8'-0\" by 8'-0\""


@pytest.mark.parametrize(
    ("side", "found"),
    [
        (3.15, []),  # 30 times 100 mm, and a twentieth: bays are laid out in round numbers
        (3.16, [("note", "preferred_thicknesses_at_most")]),
        (3.6, [("note", "preferred_thicknesses_at_most")]),
        (3.61, [("caution", "metric_thicknesses_at_most")]),  # nothing is let go of what is no mere preference
    ],
)
def test_panel_spacing_of_a_metric_plan_lets_only_the_preferred_length_go(
    side: float, found: list[tuple[str, str]]
) -> None:
    slab = design(f"[[0, 0], [{side}, 0], [{side}, 3], [0, 3]]", "100 mm", unit="m")

    assert weights(review_by("panel-spacing", slab)) == found
