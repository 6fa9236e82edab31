"""The rule `even-risers`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

from fractions import Fraction

import pytest
from comments import advice, limits_broken, only
from design_text import review_by
from slabs.heights import LEVEL, porch, slab, stoop
from slabwright.text.words import plain
from sloped import RECTANGLE, plane


@pytest.mark.parametrize(
    ("flight", "ground", "expected"),
    [  # IRC 2018 R311.7.5.1, quoted: 3/8 in between the highest and the lowest
        ("riser: 6 in, count: 2", 101.5, []),
        ("riser: 6 in, count: 3", 101.5, []),  # the third climbs onto the porch
        ("riser: 6 in, count: 2", 101.53, []),
        ("riser: 6.16 in, count: 3", 101.5, []),  # reckoned from its foot, 2 ft out and 1/2 in lower than at the wall
        ("riser: 6 in, count: 2", 101.56, ["spread_at_most"]),  # 6.72 in
        ("riser: 6 in, count: 3", 101.56, ["spread_at_most"]),
        ("risers: [5 in, 6 1/2 in, 6 1/2 in]", 101.5, []),  # the bottom one, where the paving slopes
        ("risers: [6 in, 5 in, 7 in]", 101.5, ["spread_at_most"]),
        ("risers: [6 in, 6 in, 6 in]", 101.56, ["spread_at_most"]),  # alike as typed, and not as they climb
        ("risers: [5 in, 6 1/2 in]", 100.9583, ["spread_at_most"]),  # of two none is left to compare the upper with
        ("riser: 6 in, count: 1", 100.5, []),
    ],
)
def test_even_risers(flight: str, ground: float, expected: list[str]) -> None:
    report = review_by("even-risers", porch(f"tread: 12 in, {flight}", ground))
    assert limits_broken(report) == expected
    assert bool(report.does_not_apply) is ("count: 1" in flight)


def test_one_riser_for_all_makes_them_alike() -> None:
    comment = review_by("even-risers", porch("tread: 12 in, riser: 6 in, count: 2", 101.58)).comments[0]
    assert advice(comment) == "make all 3 risers 6 5/16 in, the last onto what they lead to"
    assert review_by("even-risers", porch("tread: 12 in, riser: 6 5/16 in, count: 2", 101.58)).comments == ()


def test_metric_risers_are_made_alike_to_a_millimeter() -> None:
    """500 mm in three are 166.7 mm."""
    text = porch("tread: 300 mm, riser: 150 mm, count: 2", 100.5).replace("ft, height: ft", "m, height: m")
    text = text.replace("4 ft", "1.2 m").replace("design: 4 in", "design: 100 mm")
    comment = review_by("even-risers", text).comments[0]
    assert advice(comment, "metric") == ("make all 3 risers 167 mm, the last onto what they lead to")


def test_risers_that_the_file_types_are_left_to_a_person() -> None:
    comment = review_by("even-risers", porch("tread: 12 in, risers: [6 in, 5 in, 7 in]")).comments[0]
    assert advice(comment) == "make all 3 risers 6 in"


@pytest.mark.parametrize(
    ("risers", "told"),
    [  # 7 3/4 in is the most of IRC R311.7.5.1; lower than 4 1/2 in they are made fewer where that goes
        ("[7 in, 8 1/2 in]", "make both risers 7 3/4 in"),
        ("[9 1/2 in, 11 1/4 in]", "divide 20 3/4 in into 3 risers of about 6 7/8 in"),
        ("[4 in, 5 in]", "make both risers 4 1/2 in"),
        ("[3 1/2 in, 5 in]", "make both risers 4 1/4 in"),
        ("[3 in, 4 1/2 in]", "make one riser of 7 1/2 in"),
        ("[3 in, 4 3/4 in, 4 in, 3 3/4 in]", "divide 15 1/2 in into 2 risers of 7 3/4 in"),
        ("[4 1/2 in, 5 1/2 in, 5 in]", "make all 3 risers 5 in"),
        # from its foot, 2 ft out and 1/2 in lower than at the wall
        ("[4 1/4 in, 4 3/4 in, 4 in]", "divide about 13 1/2 in into 2 risers of about 6 3/4 in"),
    ],
)
def test_risers_are_made_alike_in_a_number_that_people_can_step(risers: str, told: str) -> None:
    up = sum(float(Fraction(one)) if " " not in one else int(one.split()[0]) + float(Fraction(one.split()[1]))
             for one in risers.strip("[]").replace(" in", "").split(", "))  # fmt: skip
    comment = review_by("even-risers", porch(f"tread: 12 in, risers: {risers}", 100 + up / 12)).comments[0]
    assert advice(comment) == told


def test_metric_risers_are_made_alike_in_a_number_that_people_can_step() -> None:
    """540 mm are no two risers of 270 mm, for DIN 18065 allows 200 mm, and three of 180 mm."""
    text = porch("tread: 300 mm, risers: [250 mm, 290 mm]", 100.54).replace("ft, height: ft", "m, height: m")
    comment = only(review_by("even-risers", text.replace("4 ft", "1.2 m").replace("design: 4 in", "design: 100 mm")))
    assert plain(comment.to_pass, "metric", both=False) == "divide 540 mm into 3 risers of 180 mm"


# even-risers: the bottom riser may differ where the paving at its foot slopes more than 1 %


@pytest.mark.parametrize(("fall", "told"), [(0.009, True), (0.011, False)])
def test_even_risers_the_bottom_one_differs_only_on_paving_that_slopes(fall: float, told: bool) -> None:
    """Three risers of 5, 6 1/2 and 6 1/2 in up to a porch of 18 in; 3/8 in are let pass (IRC R311.7.5.1, quoted)."""
    heights = plane(RECTANGLE, 0, -fall)
    steps = "{design: 4 in, steps: [{name: flight, width: 4 ft, tread: 12 in, risers: [5 in, 6 1/2 in, 6 1/2 in], "
    text = slab(heights, edges="run: [A, B], beside: step, name: porch, ground: 101.5\nrest: bed")
    text = text.replace("{design: 4 in}", steps + "leads_to: porch}]}")
    assert bool(review_by("even-risers", text).comments) is told


@pytest.mark.parametrize(("along", "across", "told"), [(0.02, 0.0, False), (0.0, 0.02, True), (0.008, 0.02, True)])
def test_even_risers_with_its_foot_drawn_only_a_slope_along_it_excuses_the_bottom_one(
    along: float, across: float, told: bool
) -> None:
    """Three of 5, 6 1/2 and 6 1/2 in from a foot in the middle of the slab: paving that falls straight away is even."""
    heights = plane(RECTANGLE, -along, -across)
    steps = "{design: 4 in, steps: [{name: flight, width: 4 ft, tread: 12 in, risers: [5 in, 6 1/2 in, 6 1/2 in], "
    top = 101.5 - 10 * along - 2 * across
    text = slab(heights, edges=f"run: [A, B], beside: step, name: porch, ground: {top}\nrest: bed")
    text = text.replace("{design: 4 in}", steps + "foot: [[8, 2], [12, 2]], leads_to: porch}]}")
    assert bool(review_by("even-risers", text).comments) is told


def test_even_risers_a_foot_that_reaches_off_the_slab_excuses_no_bottom_riser() -> None:
    """Its right end lies 3 ft beyond the slab, where no height is known; 5 in and 6 1/2 in are 1 1/2 in apart."""
    steps = "{design: 4 in, steps: [{name: flight, width: 5 ft, tread: 12 in, risers: [5 in, 6 1/2 in, 6 1/2 in], "
    text = slab(LEVEL, edges="run: [A, B], beside: step, name: porch, ground: 101.5\nrest: bed")
    text = text.replace("{design: 4 in}", steps + "foot: [[18, 2], [23, 2]], leads_to: porch}]}")
    assert [one.limit.name for one in review_by("even-risers", text).comments] == ["spread_at_most"]


@pytest.mark.parametrize(("porch", "told"), [(101.535, False), (101.5375, True)])
def test_even_risers_half_a_step_of_the_heights_is_let_pass(porch: float, told: bool) -> None:
    """Two risers of 6 in and what is left: 3/8 in (IRC R311.7.5.1, quoted) and 0.06 in more; 0.42 and 0.45 in."""
    text = slab(LEVEL, edges=f"run: [A, B], beside: step, name: porch, ground: {porch}\nrest: bed")
    steps = "{design: 4 in, steps: [{name: flight, width: 4 ft, tread: 12 in, riser: 6 in, count: 2, leads_to: porch}]}"
    assert bool(review_by("even-risers", text.replace("{design: 4 in}", steps)).comments) is told


@pytest.mark.parametrize(("unit", "found"), [("ft", "door_spread_at_most"), ("m", "spread_at_most")])
def test_a_flight_up_to_a_door_is_held_by_the_us_code(unit: str, found: str) -> None:
    """Two risers of 7 in, and 4 in left to the sill."""
    text = stoop(2)
    if unit == "m":
        text = text.replace("ft, height: ft", "m, height: m").replace("101.5", "100.46")
    assert limits_broken(review_by("even-risers", text)) == [found]
