"""The rule `step-sizes`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, weights
from design_text import review_by
from slabs.heights import LEVEL, porch, slab, stoop
from slabwright.rulebook.remedy import Append
from slabwright.text.words import plain
from slabwright.units.quantity import Amount, System
from sloped import design, followed


@pytest.mark.parametrize(
    ("flight", "ground", "expected"),
    [  # IRC 2018 R311.7.5.1 and R311.7.5.2, quoted: 7 3/4 in and 10 in; IBC 1011.5.2, quoted: 4 in
        ("tread: 12 in, riser: 6 in, count: 2", 101.5, []),
        ("tread: 10 in, riser: 7 3/4 in, count: 1", 101.2917, []),
        ("tread: 9 in, riser: 6 in, count: 2", 101.5, [("caution", "tread_at_least")]),
        ("tread: 9 in, riser: 6 in, count: 1", 101.0, [("caution", "tread_at_least")]),
        ("tread: 9 in, riser: 6 in, count: 1, landings: [{after: 1, depth: 40 in}]", 101.0, []),  # nobody treads on one
        ("tread: 12 in, riser: 6 in, count: 2", 101.7, [("caution", "riser_at_most")]),  # 8.4 in onto the porch
        ("tread: 12 in, riser: 9 in, count: 1", 101.5, [("caution", "riser_at_most")]),
        ("tread: 12 in, riser: 3 in, count: 5", 101.5, [("caution", "riser_at_least")]),
        ("tread: 12 in, riser: 6 in, count: 2, tread_slope: 1/8 in/ft", 101.5, []),
        ("tread: 12 in, riser: 6 in, count: 2, tread_slope: 3 %", 101.5, [("caution", "tread_slope_at_most")]),
        ("", 100.5, []),
        ("", 100.71, [("caution", "riser_at_most")]),  # 8 1/2 in
        ("", 100.25, [("caution", "riser_at_least")]),  # 3 in
    ],
)
def test_risers_and_treads(flight: str, ground: float, expected: list[tuple[str, str]]) -> None:
    report = review_by("step-sizes", porch(flight, ground))
    assert weights(report) == expected
    if expected == [("caution", "tread_slope_at_most")]:
        assert plain(report.comments[0].to_pass, "us", both=False) == "let the treads shed 1 % to the front"


@pytest.mark.parametrize(
    ("flight", "ground", "expected"),
    [  # heights typed to 0.01 ft are known to 0.005 ft, 0.06 in: so much is let pass over 7 3/4 in and under 4 in
        ("", 100.65, []),  # 7.80 in
        ("", 100.6525, [("caution", "riser_at_most")]),  # 7.83 in
        ("", 100.3295, []),  # 3.954 in
        ("", 100.325, [("caution", "riser_at_least")]),  # 3.90 in
        ("tread: 12 in, riser: 7.8 in, count: 1", 101.3, []),
        ("tread: 12 in, riser: 7.83 in, count: 1", 101.305, [("caution", "riser_at_most")]),
        ("tread: 12 in, riser: 3.95 in, count: 4", 101.6458, []),
        ("tread: 12 in, riser: 3.9 in, count: 4", 101.625, [("caution", "riser_at_least")]),
    ],
)
def test_a_riser_is_judged_as_closely_as_heights_are_typed(
    flight: str, ground: float, expected: list[tuple[str, str]]
) -> None:
    assert weights(review_by("step-sizes", porch(flight, ground))) == expected


@pytest.mark.parametrize(
    ("riser", "ground", "system", "expected"),
    [  # 19 in in thirds are 6.33 in, to an eighth 6 3/8; 500 mm in thirds are 166.7 mm, to 5 mm 165
        ("9 1/2 in", 100 + 19 / 12, "us", "make 19 in in 3 risers of 6 3/8 in, and pour 2 of them"),
        ("250 mm", 100.5, "metric", "make 500 mm in 3 risers of 165 mm, and pour 2 of them"),
    ],
)
def test_a_rise_is_divided_evenly(riser: str, ground: float, system: System, expected: str) -> None:
    text = porch(f"tread: 12 in, riser: {riser}, count: 1", ground)
    if system == "metric":
        text = text.replace("ft, height: ft", "m, height: m").replace("12 in", "300 mm").replace("4 ft", "1.2 m")
        text = text.replace("design: 4 in", "design: 100 mm")
    comment = review_by("step-sizes", text).comments[0]
    assert plain(comment.to_pass, system, both=False) == expected


def test_a_flight_up_to_a_door_holds_and_the_public_is_asked_less() -> None:
    assert review_by("step-sizes", stoop(1)).comments == ()  # what is left to the sill is judged by `door-step`
    high = stoop(1).replace("riser: 7 in", "riser: 9 in")
    assert weights(review_by("step-sizes", high)) == [("hold", "door_riser_at_most")]
    public = porch("tread: 12 in, riser: 7 1/2 in, count: 1", 101.25, site="site: {right_of_way: true}")
    assert weights(review_by("step-sizes", public)) == [("caution", "public_riser_at_most")]


# step-sizes: as many risers as it takes, and one more from a hair over that


@pytest.mark.parametrize(("inches", "risers"), [(15.5, 2), (15.6, 3)])
@pytest.mark.parametrize("drawn", [False, True])
def test_step_sizes_divides_a_rise_into_whole_risers(inches: float, risers: int, drawn: bool) -> None:
    """Two risers of 7 3/4 in (IRC R311.7.5.1, quoted) climb 15 1/2 in, and not a tenth more."""
    text = slab(LEVEL, edges=f"run: [A, B], beside: step, name: porch, ground: {100 + inches / 12:.7f}\nrest: bed")
    if drawn:
        steps = "steps: [{name: flight, width: 4 ft, tread: 12 in, riser: 8 in, count: 1, leads_to: porch}]"
        text = text.replace("{design: 4 in}", "{design: 4 in, " + steps + "}")
    (comment, *_) = review_by("step-sizes", text).comments
    each = {2: "7 3/4 in", 3: "5 1/4 in"}[risers]
    assert f"{risers} risers of {each}" in advice(comment)


def test_step_sizes_single_steps_need_the_finish_and_flights_do_not() -> None:
    """A step at an edge is judged by heights; a flight that is drawn has its risers typed."""
    step = "run: [A, B], beside: step, name: porch, ground: 101\nrest: bed"
    bare = slab({"A": 100.0}, edges=step)
    (asked,) = review_by("step-sizes", bare).not_shown
    assert asked.add[0].startswith("heights.finish")
    flight = "{design: 4 in, steps: [{name: flight, width: 4 ft, tread: 12 in, riser: 9 in, count: 2}]}"
    assert weights(review_by("step-sizes", bare.replace("{design: 4 in}", flight))) == [("caution", "riser_at_most")]


@pytest.mark.parametrize(("foot", "found"), [("[[4, 12], [8, 12]]", 0), ("[[4, 16], [8, 16]]", 1)])
def test_an_edge_where_a_laid_flight_stands_is_no_step_of_its_own(foot: str, found: int) -> None:
    """Two treads of 12 in from 12 ft come up to the edge at 10 ft; from 16 ft they end 4 ft before it."""
    steps = f"steps: [{{name: garden steps, width: 4 ft, tread: 12 in, riser: 5 in, count: 2, foot: {foot}, "
    steps += "climbs_to: [6, 0], foot_height: 98.55}]"
    text = stoop(2, beside="bed", more="").replace("edges: [", "edges: [{run: [C, D], beside: step, ground: 98.55}, ")
    start, end = text.index("steps: ["), text.index("]}", text.index("steps: ["))
    assert len(review_by("step-sizes", text[:start] + steps + text[end + 1 :]).comments) == found


@pytest.mark.parametrize(("height", "found"), [("100.60", []), ("100.90", [("caution", "riser_at_most")])])
def test_a_porch_whose_height_stands_under_fixed(height: str, found: list[tuple[str, str]]) -> None:
    """7.2 in is a step, 10.8 in is none (IRC R311.7.5.1, quoted)."""
    edges = "run: [A, B], beside: step, name: porch\nrest: bed"
    text = slab(LEVEL, f"fixed: [{{name: porch floor, kind: slab, along: [A, B], height: {height}}}]", edges=edges)
    assert weights(review_by("step-sizes", text)) == found


@pytest.mark.parametrize(("unit", "such"), [("ft", "100.00"), ("m", "100.000")])
def test_the_first_of_two_steps_of_unknown_height_is_asked_about(unit: str, such: str) -> None:
    edges = "run: [A, B], beside: step, name: porch\nrun: [C, D], beside: step, name: terrace\nrest: bed"
    (asked,) = review_by("step-sizes", slab(LEVEL, edges=edges, unit=unit)).not_shown
    assert asked.add == (f"edges, ground: the height at the step beside porch, such as {such}",)
    assert asked.place.path == "edges[0]"


@pytest.mark.parametrize(("down", "risers"), [(15.5, "2 risers of 7 3/4 in"), (15.6, "3 risers of 5 1/4 in")])
def test_a_step_down_that_is_too_high_is_told_how_many_risers_it_makes(down: float, risers: str) -> None:
    """7 3/4 in: IRC R311.7.5.1, quoted."""
    text = slab(LEVEL, edges=f"run: [A, B], beside: step, name: yard, ground: {100 - down / 12:.7f}\nrest: bed")
    (comment,) = review_by("step-sizes", text).comments
    assert advice(comment).replace("about ", "").endswith(risers)


def test_a_short_tread_on_a_metric_job_is_made_300_mm_deep() -> None:
    text = porch("tread: 200 mm, riser: 150 mm, count: 2", 100.45).replace("ft, height: ft", "m, height: m")
    comment = review_by("step-sizes", text.replace("4 ft", "1.2 m").replace("design: 4 in", "design: 100 mm")).comments[
        0
    ]
    assert advice(comment, "metric") == "make the treads 300 mm deep"


@pytest.mark.parametrize(
    ("ground", "advised"),
    [  # 8 1/2 in: the slab comes up by the odd fraction; 14 in: nobody raises a slab by half a step
        (100.71, "raise"),
        (100.80, "raise"),  # less than 2 in over the 7 3/4
        (99.29, "lower A by about 13/16 in, to 99.93 ft; lower B"),  # 7 3/4 in over 99.29 ft are 99.936
        (100.83, "pour steps up to porch: 2 risers of 5 in, the last onto it"),
        (101.17, "pour steps up to porch: 2 risers of 7 in, the last onto it"),
    ],
)
def test_a_step_that_is_little_too_high_is_put_right_with_the_height_of_the_slab(ground: float, advised: str) -> None:
    text = porch("", ground)
    (comment,) = review_by("step-sizes", text).comments
    assert advice(comment).startswith(advised)
    if advised.startswith(("raise", "lower")):
        assert review_by("step-sizes", followed(text, comment)).comments == ()


def test_the_slab_is_brought_nearer_where_a_step_is_too_high_and_only_there() -> None:
    """8.52 in at A and 6 in at B: 7 3/4 in (IRC R311.7.5.1, quoted) under 100.71 ft are 100.064 ft."""
    text = porch("", 100.71).replace("ground: 100.71", "ground: [100.71, 100.5]")
    (comment,) = review_by("step-sizes", text).comments
    assert advice(comment) == "raise A by about 13/16 in, to 100.07 ft"


@pytest.mark.parametrize(
    ("name", "long", "steps"),
    [("name: porch, ", 20, 4), ("name: porch, ", 3.5, 3.5), ("", 20, None)],
)
def test_steps_up_to_a_porch_are_as_wide_as_people_walk(name: str, long: float, steps: float | None) -> None:
    """20 in are three risers of 6 5/8 in, the last onto the porch; treads of 12 in: common practice."""
    points = {"A": (0, 0), "B": (long, 0), "C": (long, 12), "D": (0, 12)}
    edges = f"run: [A, B], beside: step, {name}ground: {100 + 20 / 12:.7f}\nrest: bed"
    (comment,) = review_by("step-sizes", design(points, dict.fromkeys(points, 100.0), edges)).comments
    found = [edit for remedy in comment.remedies for edit in remedy.edits if isinstance(edit, Append)]
    assert [{key: value.si for key, value in edit.entry if isinstance(value, Amount)} for edit in found] == [
        pytest.approx({"width": wide * 0.3048, "tread": 12 * 0.0254, "riser": 6.625 * 0.0254, "count": 2})
        for wide in ([steps] if steps else [])
    ]


@pytest.mark.parametrize(
    ("unit", "site", "least", "found"),
    [  # 36 in, 48 in where the public goes, 900 mm: common practice
        ("ft", "", "36 in", "landing_at_least"),
        ("ft", "site: {right_of_way: true}", "48 in", "public_landing_at_least"),
        ("m", "", "900 mm", "metric_landing_at_least"),
    ],
)
def test_a_landing_within_a_flight_is_as_deep_as_people_need(unit: str, site: str, least: str, found: str) -> None:
    number, of = least.split()
    rows = ((float(number), []), (float(number) - 10, [found]))
    for deep, told in rows:
        flight = f"tread: 12 in, riser: 6 in, count: 3, landings: [{{after: 1, depth: {deep} {of}}}]"
        text = porch(flight, 102 if unit == "ft" else 100.6, site=site)
        text = text if unit == "ft" else text.replace("ft, height: ft", "m, height: m").replace("4 ft", "1.2 m")
        comments = [one for one in review_by("step-sizes", text).comments if "landing" in one.limit.name]
        assert [one.limit.name for one in comments] == told
        for comment in comments:
            assert comment.working[0].result.si == pytest.approx(10 * (0.0254 if of == "in" else 0.001))


@pytest.mark.parametrize(
    ("beside", "down", "expected"),
    [  # nobody steps into a bed, and soil an inch under a slab is no step: common practice; 7 3/4 in: IRC R311.7.5.1
        ("bed", 13.0, []),
        ("lawn", 13.0, [("caution", "riser_at_most")]),
        ("lawn", 1.0, []),
        ("gravel", 1.0, []),
        ("step", 1.0, [("caution", "riser_at_least")]),
    ],
)
def test_a_planned_step_down_to_soft_ground(beside: str, down: float, expected: list[tuple[str, str]]) -> None:
    ground = f"ground: {100 - down / 12:.7f}, planned_step: true"
    edges = (
        f"run: [A, B], beside: {beside}, name: low side, {ground}\nrun: [C, D], beside: step, ground: 100.5\nrest: bed"
    )
    assert weights(review_by("step-sizes", slab(LEVEL, edges=edges))) == expected
