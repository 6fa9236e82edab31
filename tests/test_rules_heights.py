"""Rules about heights: every branch, every limit, what they say when the plan does not, what following them does."""

from __future__ import annotations

import pytest
from changed import changed as replace
from comments import only, weights
from design_text import review_by
from slabwright.review.report import Comment
from slabwright.rulebook.remedy import Append
from slabwright.text.words import plain, words
from slabwright.units.quantity import Amount
from sloped import RECTANGLE, all_followed, design, followed, plane

FOOT, INCH = 0.3048, 0.0254
HOUSE = "run: [A, B], beside: building, name: house wall\nrest: lawn"
SLOPED = plane(RECTANGLE, 0, -0.02)


def says(comment: Comment) -> str:
    return plain(comment.says, "us", both=False)


@pytest.mark.parametrize(
    ("rule", "more"),
    [
        ("slab-below-fixed", "fixed: [{name: sill, kind: sill, at: A, height: 100}]"),
        ("door-step", "fixtures: [{kind: door, along: [A, B], sill: 100}]"),
        ("stated-fall", "  falls: [{along: [A, D], fall: 2 %}]"),
        ("greatest-fall", ""),
    ],
)
def test_corners_without_heights_are_named(rule: str, more: str) -> None:
    (silent,) = review_by(rule, design(RECTANGLE, {"A": 100, "C": 99.7}, HOUSE, more=more)).not_shown
    assert silent.add == ("heights.finish: the finish height at B, D, such as 99.90",)


# slab-below-fixed


def fixed(kind: str, above: float, asks: str = "", along: str = "along: [A, B]") -> str:
    """A slab at 100 along A-B with something fixed ``above`` ft higher."""
    slab = f", slab: {asks}" if asks else ""
    more = f"fixed: [{{name: the thing, kind: {kind}, {along}, height: {100 + above:.10f}{slab}}}]"
    return design(RECTANGLE, SLOPED, HOUSE, more=more)


def test_a_slab_over_a_sill_is_a_hold_by_gravity_and_told_the_inch_that_clears_it() -> None:
    flooded = fixed("sill", -0.02)
    comment = only(review_by("slab-below-fixed", flooded))
    assert (comment.weight, comment.limit.name) == ("hold", "flush_sill_at_least")
    assert plain(comment.says, "us") == "the slab stands over the thing at A, and rain runs in"
    assert weights(review_by("slab-below-fixed", fixed("sill", 0.0))) == [("caution", "sill_at_least")]
    assert all_followed("slab-below-fixed", flooded).comments == ()


@pytest.mark.parametrize(
    ("kind", "least", "weight", "name"),
    [
        ("siding", 2 / 12, "caution", "other_siding_at_least"),  # no code where it is not said to be of wood
        ("siding, material: wood", 2 / 12, "hold", "siding_at_least"),  # IRC R317.1(5), quoted
        ("siding, material: stucco", 2 / 12, "hold", "weep_screed_at_least"),
        ("siding, material: brick", 1 / 12, "caution", "brick_at_least"),  # common practice
        ("weep screed", 2 / 12, "hold", "weep_screed_at_least"),  # IRC R703.7.2.1, quoted
        ("sill", 1 / 12, "caution", "sill_at_least"),  # Beall, Masonry and Concrete, p. 285, read
        ("damp course", 0.150 / FOOT, "caution", "damp_course_at_least"),  # paving guidance, United Kingdom, practice
    ],
)
def test_a_fixed_thing_asks_what_is_usual_for_its_kind(kind: str, least: float, weight: str, name: str) -> None:
    assert review_by("slab-below-fixed", fixed(kind, least)).comments == ()
    short = fixed(kind, least - 0.01)  # heights are known to half a hundredth
    assert weights(review_by("slab-below-fixed", short)) == [(weight, name)]
    assert all_followed("slab-below-fixed", short).comments == ()


@pytest.mark.parametrize(
    ("asks", "above", "name", "way"),
    [
        ("at least 1 in below", 1 / 12, "", ""),
        ("at least 1 in below", 0.9 / 12, "stated_room_at_least", "high"),
        ("at most 2 in below", 2 / 12, "", ""),
        ("at most 2 in below", 2.1 / 12, "stated_excess_at_most", "low"),
        ("1 in to 3 in below", 0.5 / 12, "stated_room_at_least", "high"),
        ("1 in to 3 in below", 3.5 / 12, "stated_excess_at_most", "low"),
        ("1 in to 3 in below", 2 / 12, "", ""),
        ("level", 0.0, "", ""),
        ("level", 0.02, "stated_excess_at_most", "low"),
        ("level", -0.02, "stated_room_at_least", "high"),
        ("at least 2 in above", -2 / 12, "", ""),
        ("at least 2 in above", -1.9 / 12, "stated_room_at_least", "low"),
        ("1 in to 2 in above", -2.5 / 12, "stated_excess_at_most", "high"),
        ("not above", -0.01, "stated_room_at_least", "high"),
        ("not below", 0.01, "stated_excess_at_most", "low"),
    ],
)
@pytest.mark.parametrize("along", ["along: [A, B]", "at: [4, 0]"])
def test_what_the_file_says_a_fixed_thing_asks(asks: str, above: float, name: str, way: str, along: str) -> None:
    text = fixed("slab", above, asks, along)
    report = review_by("slab-below-fixed", text)
    assert weights(report) == ([("hold", name)] if name else [])
    for comment in report.comments:
        assert says(comment).startswith(f"the slab is too {way} for the thing at ")
        assert abs(comment.shown.si) == pytest.approx(abs(above) * FOOT)
    if asks != "level":  # which leaves no room to write a hundredth in
        assert all_followed("slab-below-fixed", text).comments == ()


def test_the_worst_spot_of_a_fixed_line_is_told_and_all_short_ones_are_put_right() -> None:
    more = "fixed: [{name: siding, kind: siding, along: [A, B], height: [100.15, 100.05]}]"
    text = design(RECTANGLE, SLOPED, HOUSE, more=more)
    comment = only(review_by("slab-below-fixed", text))
    assert comment.shown.si == pytest.approx(0.05 * FOOT)  # at B
    assert [comment.to_pass.values[slot] for slot in ("name1", "name2")] == ["A", "B"]
    assert all_followed("slab-below-fixed", text).comments == ()


def test_fixed_things_that_ask_nothing_or_meet_nothing() -> None:
    (silent,) = review_by("slab-below-fixed", fixed("gutter", 1.0)).not_shown
    assert silent.add == ("fixed, slab: what the thing asks of the slab, such as at least 1 in below",)
    none = review_by("slab-below-fixed", design(RECTANGLE, SLOPED, HOUSE))
    (asked,) = none.not_shown  # one question at a house, none at a garage
    assert asked.add[0].startswith("fixed: the height of the siding, weep screed or damp course along ")
    garage = review_by("slab-below-fixed", design(RECTANGLE, SLOPED, HOUSE, use="driveway"))
    assert garage.does_not_apply[0].reason == "no fixed heights are given"
    far = review_by("slab-below-fixed", fixed("siding", 0.0, along="at: [10, -4]"))
    assert far.does_not_apply[0].reason == "no fixed height lies at the slab"


# door-step


def door(step: float, more: str = "", along: str = "[A, B]", use: str = "patio") -> str:
    """A door ``step`` ft above a slab at 100."""
    one = f"fixtures: [{{kind: door, name: back door, along: {along}, sill: {100 + step:.10f}{more}}}]"
    return design(RECTANGLE, SLOPED, HOUSE, more=one, use=use)


EXIT, SWINGS = ", required_exit: true", ", swings_over: true"


@pytest.mark.parametrize(
    ("inches", "more", "expected"),
    [  # IRC R311.3, quoted: 7 3/4 in at any door, 1 1/2 in at the required exit that swings over; Beall p. 285: 1 in
        (7.75, "", []),
        (7.85, "", [("caution", "bare_step_at_most")]),  # heights are known to half a hundredth of a foot
        (7.85, EXIT, [("hold", "step_at_most")]),
        (7.75, EXIT + ", swings_over: false", []),
        (1.5, EXIT + SWINGS, []),
        (1.6, EXIT + SWINGS, [("hold", "exit_step_at_most")]),
        (1.6, EXIT, []),
        (1.6, SWINGS, [("caution", "swing_step_at_most")]),
        (1.0, "", []),
        (0.9, "", [("caution", "weather_step_at_least")]),
        (0.0, "", [("caution", "weather_step_at_least")]),
        (-0.1, "", [("hold", "sill_above_at_least")]),
    ],
)
def test_door_step(inches: float, more: str, expected: list[tuple[str, str]]) -> None:
    text = door(inches / 12, more)
    report = review_by("door-step", text)
    assert weights(report) == expected
    assert [comment.shown.si for comment in report.comments] == pytest.approx([inches * INCH] * len(expected))
    if not any(name in ("bare_step_at_most", "step_at_most") for _, name in expected):  # those pour steps
        assert all_followed("door-step", text).comments == ()


def test_a_high_door_counts_its_risers() -> None:
    comment = only(review_by("door-step", door(20 / 12)))  # 20 / 7.75 = 2.6
    assert [one.result.si for one in comment.working] == pytest.approx([20 * INCH, 3])


def test_steps_to_a_narrow_door_are_as_wide_as_people_walk() -> None:
    """A door of 2'-6" gets steps of 3 ft, three risers of 6 5/8 in for 20 in, treads of 12 in (common practice)."""
    more = "fixtures: [{kind: door, name: back door, along: [[2, 0], [4.5, 0]], sill: 101.6667}]"
    (comment,) = review_by("door-step", design(RECTANGLE, plane(RECTANGLE, 0.0, -0.02), HOUSE, more=more)).comments
    (steps,) = comment.remedies[0].edits
    assert isinstance(steps, Append)
    entry = {key: value.si for key, value in steps.entry if isinstance(value, Amount)}
    assert entry == pytest.approx({"width": 3 * FOOT, "tread": 12 * INCH, "riser": 6.625 * INCH, "count": 2})


def test_a_door_is_looked_at_over_its_whole_width() -> None:
    # the slab rises 0.09 ft along the wall: 2 in below the sill at one jamb, 0.9 in at the other
    more = "fixtures: [{kind: door, name: back door, along: [[2, 0], [11, 0]], sill: 100.1867}]"
    comment = only(review_by("door-step", design(RECTANGLE, plane(RECTANGLE, 0.01, -0.02), HOUSE, more=more)))
    assert comment.shown.si == pytest.approx((0.1867 - 0.11) * FOOT)


def test_under_a_roof_no_rain_blows_in() -> None:
    assert review_by("door-step", door(0.5 / 12, use="shop floor")).comments == ()
    assert weights(review_by("door-step", door(-0.5 / 12, use="shop floor"))) == [("hold", "sill_above_at_least")]


def test_doors_that_cannot_be_judged() -> None:
    assert review_by("door-step", design(RECTANGLE, SLOPED, HOUSE)).does_not_apply[0].reason == "no door is drawn"
    far = door(0.1, along="[[5, -9], [8, -9]]")
    assert review_by("door-step", far).does_not_apply[0].reason == "no door stands at the slab"
    bare = design(RECTANGLE, SLOPED, HOUSE, more="fixtures: [{kind: door, along: [A, B]}]")
    (silent,) = review_by("door-step", bare).not_shown
    assert silent.add == ("fixtures, sill: the height of the sill of door, such as 100.00",)


# trip-at-existing-slab


def walk(above: float, more: str = "") -> str:
    """A slab at 100 along A-B that stands ``above`` ft over an old walk at B and is flush at A."""
    ground = f"[100, {100 - above:.10f}]"
    return design(
        RECTANGLE, SLOPED, f"run: [A, B], beside: existing slab, name: old walk, ground: {ground}{more}\nrest: lawn"
    )


@pytest.mark.parametrize(
    ("inches", "more", "expected"),
    [  # 1991 ADA 4.5.2 and ABA 303.3, read: 1/4 in upright, 1/2 in beveled; 7 3/4 in, IRC R311.7.5.1, quoted
        (0.25, "", []),
        (0.5, "", []),
        (0.6, "", [("caution", "private_lip_at_most")]),
        (0.6, ", wheels_cross: true", []),
        (0.85, ", wheels_cross: true", [("note", "wheel_lip_at_most")]),
        (7.75, ", planned_step: true", []),
        (7.85, ", planned_step: true", [("caution", "step_at_most")]),
    ],
)
@pytest.mark.parametrize("side", [1, -1])
def test_trip_at_existing_slab(inches: float, more: str, expected: list[tuple[str, str]], side: int) -> None:
    text = walk(side * inches / 12, more)
    report = review_by("trip-at-existing-slab", text)
    assert weights(report) == expected
    for comment in report.comments:
        assert says(comment) == f"the slab stands {'above' if side == 1 else 'below'} the existing slab at B"
        ways = [remedy.says.values["way"] for remedy in comment.remedies if "way" in remedy.says.values]
        assert set(ways) == {"lower" if side == 1 else "higher"}
    assert all_followed("trip-at-existing-slab", text).comments == ()


def test_a_lip_at_the_shared_end_of_two_stretches_is_told_once() -> None:
    edges = "run: [A, H, B], beside: existing slab, name: old walk, ground: [100, 99.9, 100]\nrest: lawn"
    text = design({**RECTANGLE, "H": (12, 0)}, {**SLOPED, "H": 100.0}, edges)
    assert says(only(review_by("trip-at-existing-slab", text))) == "the slab stands above the existing slab at H"
    assert all_followed("trip-at-existing-slab", text).comments == ()


def test_existing_slabs_that_cannot_be_judged() -> None:
    none = review_by("trip-at-existing-slab", design(RECTANGLE, SLOPED, HOUSE))
    assert none.does_not_apply[0].reason == "no edge is beside an existing slab or asphalt"
    bare = design(RECTANGLE, SLOPED, "run: [A, B], beside: existing slab, name: old walk\nrest: lawn")
    (silent,) = review_by("trip-at-existing-slab", bare).not_shown
    assert silent.add == ("edges, ground: the height of the slab beside old walk, such as 99.60",)
    bare = design(RECTANGLE, {"A": 100}, "run: [A, B], beside: existing slab, ground: 100\nrest: lawn")
    assert review_by("trip-at-existing-slab", bare).not_shown


# stated-fall


def arrow(stated: str, drop: float, run: float = 12.0, along: str = "[A, D]") -> str:
    """A slab ``run`` ft deep that drops ``drop`` ft, with a fall typed on it."""
    points = {"A": (0.0, 0.0), "B": (20.0, 0.0), "C": (20.0, run), "D": (0.0, run)}
    heights = {"A": 100.0, "B": 100.0, "C": 100 - drop, "D": 100 - drop}
    return design(points, heights, "rest: lawn", more=f"  falls: [{{along: {along}, fall: {stated}}}]")


@pytest.mark.parametrize(
    ("stated", "drop", "run", "expected"),
    [
        ("2 %", 0.24, 12, []),
        ("2 %", 0.219, 10, []),  # 0.19 %, 0.23 in
        ("1/4 in/ft", 0.24, 12, []),  # 2.083 % and 2 %: one to the trade
        ("1/8 in/ft", 0.6, 60, []),  # 1.042 % and 1 %: 0.3 in apart over 60 ft, yet within 5 %
        ("1 %", 0.0121 * 5, 5, [("hold", "difference_at_most")]),
        ("1 %", 0.0119 * 5, 5, []),  # 0.19 %, 0.11 in
        ("1 %", 0.0119 * 12, 12, [("hold", "height_difference_at_most")]),  # 0.19 % over 12 ft is 0.27 in
        ("2 %", -0.24, 12, [("hold", "difference_at_most")]),  # uphill
        ("2 %", 0.0, 12, [("hold", "difference_at_most")]),
    ],
)
def test_stated_fall(stated: str, drop: float, run: float, expected: list[tuple[str, str]]) -> None:
    text = arrow(stated, drop, run)
    assert weights(review_by("stated-fall", text)) == expected
    for comment in review_by("stated-fall", text).comments:
        assert comment.to_pass.values["point"] == "D"
        changed = followed(text, _numbered(comment))
        assert review_by("stated-fall", changed).comments == ()


def _numbered(comment: Comment) -> Comment:
    """The comment with its one height under the slot that lists of heights use."""
    values = comment.to_pass.values
    return replace(comment, to_pass=words("{name1} {to1}", name1=values["point"], to1=values["to"]))


def test_a_stated_fall_can_be_written_as_the_heights_give_it() -> None:
    comment = only(review_by("stated-fall", arrow("2 %", -0.24)))
    worked, first, last = (comment.to_pass.values[slot] for slot in ("worked", "first", "last"))
    assert isinstance(worked, Amount)
    assert (worked.si, first, last) == (pytest.approx(0.02), "D", "A")  # it falls the other way
    again = arrow(f"{worked.si * 100:.6f} %", -0.24, along=f"[{first}, {last}]")
    assert review_by("stated-fall", again).comments == ()


def test_on_a_run_too_short_for_hundredths_the_height_is_told_finer() -> None:
    text = arrow("2 %", 0.0, 1.3)  # 0.026 ft
    comment = only(review_by("stated-fall", text))
    assert review_by("stated-fall", followed(text, _numbered(comment))).comments == ()


def test_no_fall_typed() -> None:
    report = review_by("stated-fall", design(RECTANGLE, SLOPED, HOUSE))
    assert report.does_not_apply[0].reason == "no fall is typed"


# greatest-fall


@pytest.mark.parametrize(
    ("use", "limit", "name", "weight"),
    [
        ("patio", 0.025, "comfortable_patio_at_most", "note"),
        ("patio", 0.04, "patio_at_most", "caution"),
        ("walk", 1 / 20, "level_walk_at_most", "note"),  # 2010 ADA 403.3, quoted
        ("walk", 1 / 12, "stepped_walk_at_most", "note"),  # 1991 ADA 4.8.2, read
        ("walk", 0.12, "walk_at_most", "caution"),  # common practice
        ("driveway", 0.12, "easy_driveway_at_most", "note"),
        ("driveway", 0.15, "driveway_at_most", "caution"),
        ("vehicle pad", 0.05, "vehicle_pad_at_most", "caution"),
        ("garage floor", 0.25 / 12, "garage_floor_at_most", "caution"),
        ("shop floor", 0.03, "shop_floor_at_most", "caution"),
        ("equipment pad", 0.25 / 12, "equipment_pad_at_most", "caution"),
        ("pool deck", 0.5 / 12, "pool_deck_at_most", "caution"),  # COMAR 10.17.01.22, read
        ("sport court", 0.025, "comfortable_patio_at_most", "note"),
        ("carport", 0.05, "vehicle_pad_at_most", "caution"),
    ],
)
def test_greatest_fall_by_use(use: str, limit: float, name: str, weight: str) -> None:
    at = review_by("greatest-fall", design(RECTANGLE, plane(RECTANGLE, 0.6 * limit, 0.8 * limit), HOUSE, use=use))
    assert name not in [comment.limit.name for comment in at.comments]
    over = design(RECTANGLE, plane(RECTANGLE, 0.64 * limit, 0.86 * limit), HOUSE, use=use)  # 7 % over: 5 are given
    assert weights(review_by("greatest-fall", over)) == [(weight, name)]
    assert all_followed("greatest-fall", over).comments == ()


@pytest.mark.parametrize("unit", ["ft", "m"])
def test_a_steep_yard_round_a_drain_is_made_flatter_as_it_lies(unit: str) -> None:
    points = {**RECTANGLE, "M": (10, 6)}
    heights = {**dict.fromkeys("ABCD", 100.0), "M": 99.5}
    text = design(points, heights, "rest: curb", more="fixtures: [{kind: drain, at: M}]", unit=unit)
    comment = only(review_by("greatest-fall", text))
    assert comment.shown.si == pytest.approx(0.5 / 6)  # steepest from the long sides
    assert comment.to_pass.values["name1"] == "M" and "name2" not in comment.to_pass.values
    assert all_followed("greatest-fall", text).comments == ()
