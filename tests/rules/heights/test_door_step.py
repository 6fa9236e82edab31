"""The rule `door-step`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, places, weights
from design_text import review_by
from slabs.heights import ALL_LEVEL, HOUSE, HOUSE_BY_BED, SLOPED, doors, stoop
from slabwright.rulebook.remedy import Append
from slabwright.text.words import plain
from slabwright.units.quantity import Amount
from sloped import RECTANGLE, all_followed, design, plane

FOOT, INCH, EXIT, SWINGS = 0.3048, 0.0254, ", required_exit: true", ", swings_over: true"


def door(step: float, more: str = "", along: str = "[A, B]", use: str = "patio") -> str:
    """A door ``step`` ft above a slab at 100."""
    one = f"fixtures: [{{kind: door, name: back door, along: {along}, sill: {100 + step:.10f}{more}}}]"
    return design(RECTANGLE, SLOPED, HOUSE, more=one, use=use)


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
        (1.6, SWINGS, [("note", "swing_step_at_most")]),
        (1.0, "", []),
        (0.9, "", [("caution", "weather_step_at_least")]),
        (0.0, "", [("caution", "weather_step_at_least")]),
        (-0.1, "", [("hold", "sill_above_at_least")]),
        (0.0, ", canopy: true", []),
        (-0.1, ", canopy: true", [("hold", "sill_above_at_least")]),
        (7.85, ", canopy: true", [("caution", "bare_step_at_most")]),
    ],
)
def test_door_step(inches: float, more: str, expected: list[tuple[str, str]]) -> None:
    text = door(inches / 12, more)
    report = review_by("door-step", text)
    assert weights(report) == expected
    assert [comment.shown.si for comment in report.comments] == pytest.approx([inches * INCH] * len(expected))
    if not any(name in ("bare_step_at_most", "step_at_most") for _, name in expected):  # those pour steps
        assert all_followed("door-step", text).comments == ()


@pytest.mark.parametrize(
    ("end", "told"),
    [  # a door of 20 ft, flush, with a slot along so much of it: three quarters will do (common practice)
        (20, ""),
        (14.1, ""),
        (13.9, "carry slot on along the whole width of back door"),
        (1, "carry slot on along the whole width of back door"),
    ],
)
def test_a_channel_lies_along_most_of_the_door(end: float, told: str) -> None:
    """Its ends reach about a foot to each side, as rain at a corner finds its way."""
    slot = f"\nchannels: [{{name: slot, along: [[0, 0], [{end}, 0]], width: 4 in}}]"
    report = review_by("door-step", door(0.0) + slot)
    assert weights(report) == ([("caution", "weather_step_at_least")] if told else [])
    assert [advice(one) for one in report.comments] == ([told] if told else [])
    said = ["rain can blow in at back door, past the end of slot"] if told else []
    assert [plain(one.says, "us") for one in report.comments] == said


def test_where_the_slab_stands_above_the_sill_a_longer_channel_is_no_way_out() -> None:
    """A sill 0.1 ft under the slab, and 1 in over it (Beall p. 285): 100 - 0.1 - 0.0833 is 99.8167 ft."""
    slot = "\nchannels: [{name: slot, along: [[0, 0], [1, 0]], width: 4 in}]"
    comment = only(review_by("door-step", door(-0.1) + slot))
    assert plain(comment.says, "us") == "the slab stands above the sill of back door"
    assert advice(comment).endswith("lower B by about 2 1/4 in, to 99.81 ft")


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


@pytest.mark.parametrize(
    ("text", "left", "expected"),
    [  # 18 in of sill; risers of 7 in. IRC R311.3.2, quoted: 7 3/4 in; Beall p. 285: 1 in
        (stoop(2), 4, []),
        (stoop(1), 11, [("hold", "step_at_most")]),
        (stoop(2, leads=""), 18, [("caution", "bare_step_at_most")]),
        (stoop(2, leads=", leads_to: front door"), 18, [("caution", "bare_step_at_most")]),
        (stoop(3), 4, []),  # the third climbs onto the sill
    ],
)
def test_the_step_left_at_a_door(text: str, left: float, expected: list[tuple[str, str]]) -> None:
    report = review_by("door-step", text)
    assert weights(report) == expected
    for comment in report.comments:
        assert comment.shown.si == pytest.approx(left * 0.0254)


def test_what_brings_a_door_right_makes_the_flight_even() -> None:
    """18 in in risers of 7 3/4 in at most are three of 6 in; the third is the step onto the sill."""
    comment = review_by("door-step", stoop(1)).comments[0]
    assert advice(comment) == ("make it 3 risers of 6 in: pour 2 of them, the last is the step to the sill")
    written = {edit.path: edit.value.si for edit in comment.remedies[0].edits}
    assert written == {"thickness.steps[0].riser": pytest.approx(6 * INCH), "thickness.steps[0].count": 2}
    assert review_by("door-step", stoop(2).replace("riser: 7 in", "riser: 6 in")).comments == ()


# door-step: 7 3/4 in, 1 1/2 in at the required exit (IRC R311.3, quoted), 1 in for the rain (Beall, p. 285, read)


def test_door_step_asks_for_the_sill_that_is_lacking() -> None:
    gate = "kind: gate, along: [[15, 0], [18, 0]]"
    given, far = "kind: door, name: far door, at: [3, -9], sill: 100.2", "kind: door, name: barn door, at: [9, -9]"
    first, second = "kind: door, name: back door, at: [3, 0]", "kind: door, name: side door, at: [9, 0]"
    (asked,) = review_by("door-step", doors(gate, first, second)).not_shown
    assert "back door" in asked.add[0] and asked.add[0].endswith("such as 100.00")
    assert asked.place.path == "fixtures[1]"
    (asked,) = review_by("door-step", doors(given, second)).not_shown  # the first has one, and stands elsewhere
    assert "side door" in asked.add[0]
    assert asked.place.path == "fixtures[1]"
    (asked,) = review_by("door-step", doors(far, second)).not_shown
    assert "side door" in asked.add[0]
    (elsewhere,) = review_by("door-step", doors(given, far)).does_not_apply
    assert elsewhere.reason == "no door stands at the slab"


def test_door_step_goes_on_after_a_door_without_a_sill() -> None:
    report = review_by(
        "door-step", doors("kind: door, at: [3, 0]", "kind: door, name: high door, at: [9, 0], sill: 101")
    )
    assert places(report) == ["high door"]


def test_door_step_of_a_metric_design_is_asked_for_in_meters() -> None:
    text = "\n".join([design(RECTANGLE, ALL_LEVEL, HOUSE_BY_BED, unit="m"), "fixtures: [{kind: door, at: [3, 0]}]"])
    assert review_by("door-step", text).not_shown[0].add[0].endswith("such as 100.000")


@pytest.mark.parametrize(("inches", "risers"), [(15.5, 2), (15.6, 3), (23.25, 3)])
def test_door_step_counts_whole_risers(inches: float, risers: int) -> None:
    """Two risers of 7 3/4 in climb 15.5 in, and not a third."""
    text = doors(f"kind: door, at: [3, 0], sill: {100 + inches / 12:.10f}", heights=ALL_LEVEL)
    comment = only(review_by("door-step", text))
    step, flight = comment.working
    assert f": {risers} risers of " in plain(comment.to_pass, "us")
    assert (step.result.si, flight.result.si) == (pytest.approx(inches * INCH), risers)
    climbed = flight.numbers.values["h"]
    assert isinstance(climbed, Amount)
    assert climbed.si == pytest.approx(inches * INCH)


@pytest.mark.parametrize(("sill", "above"), [(100.0, False), (99.99, True)])
def test_door_step_tells_rain_from_a_slab_above_the_sill(sill: float, above: bool) -> None:
    comment = only(review_by("door-step", doors(f"kind: door, at: A, sill: {sill}", heights=ALL_LEVEL)))
    assert ("above" in comment.says.template) is above


def test_door_step_moves_only_what_is_too_low() -> None:
    """The door stands from A to B: 9 in over A, where 7 3/4 are asked, and 6 in over B."""
    heights = {"A": 100.0, "B": 100.25, "C": 100.0, "D": 99.75}
    comment = only(review_by("door-step", doors("kind: door, along: [A, B], sill: 100.75", heights=heights)))
    assert advice(comment).startswith("pour steps up to door: 2 risers of 4 1/2 in")
    # 100.75 ft less 7 3/4 in is 100.1042 ft, written 100.11
    assert plain(comment.remedies[1].says, "us", both=False) == "raise A by about 1 3/8 in, to 100.11 ft"


def test_door_step_over_poured_steps_moves_the_slab_by_what_is_left() -> None:
    """A sill 18 in up and one riser of 7 in: 11 in are left, 3 1/4 too many; a rise of 0.2708 ft, written 0.28."""
    steps = "{design: 4 in, steps: [{name: flight, width: 4 ft, tread: 12 in, riser: 7 in, count: 1, leads_to: door}]}"
    text = doors("kind: door, name: door, at: A, sill: 101.5", heights=ALL_LEVEL).replace("{design: 4 in}", steps)
    comment = only(review_by("door-step", text))
    assert comment.shown.si == pytest.approx(11 * INCH)
    assert plain(comment.remedies[1].says, "us", both=False).endswith("to 100.28 ft")


@pytest.mark.parametrize("risers", ["riser: 7 in, count: 1", "risers: [7 in]"])
def test_steps_that_are_drawn_are_made_more_and_no_others_are_poured_beside_them(risers: str) -> None:
    """18 in up to the sill by risers of 7 3/4 in at most are three, each 6 in."""
    steps = f"{{design: 4 in, steps: [{{name: flight, width: 4 ft, tread: 12 in, {risers}, leads_to: door}}]}}"
    text = doors("kind: door, name: door, at: A, sill: 101.5", heights=ALL_LEVEL).replace("{design: 4 in}", steps)
    comment = only(review_by("door-step", text))
    assert comment.decide is not None
    assert plain(comment.decide, "us", both=False) == "make flight 3 risers of 6 in, the last onto the sill"
    assert not any(isinstance(edit, Append) for one in comment.remedies for edit in one.edits)


def test_of_two_flights_to_a_door_the_first_is_made_even() -> None:
    """One riser of 7 in leaves 11 in of the 18 in, by either flight."""
    steps = "width: 4 ft, tread: 12 in, riser: 7 in, count: 1, leads_to: back door}"
    text = stoop(1).replace("steps: [", f"steps: [{{name: side flight, {steps}, ")
    assert {edit.path for edit in review_by("door-step", text).comments[0].remedies[0].edits} == {
        "thickness.steps[0].riser",
        "thickness.steps[0].count",
    }


def test_steps_to_a_metric_door_have_treads_of_300_mm() -> None:
    more = "fixtures: [{kind: door, name: back door, along: [[2, 0], [4, 0]], sill: 30.5}]"
    heights = {name: height - 70 for name, height in SLOPED.items()}
    (comment,) = review_by("door-step", design(RECTANGLE, heights, HOUSE, more=more, unit="m")).comments
    (steps,) = comment.remedies[0].edits
    assert isinstance(steps, Append)
    entry = {key: value.si for key, value in steps.entry if isinstance(value, Amount)}
    assert entry["tread"] == pytest.approx(0.3)


def test_a_door_on_an_accessible_way_is_held_by_its_threshold_alone() -> None:
    """9 in of step there are judged along the way."""
    text = door(9 / 12, along="[[4, 0], [7, 0]]") + "\nsite: {accessible_route: [[5.5, 12], [5.5, 0]]}"
    assert review_by("door-step", text).comments == ()


@pytest.mark.parametrize(("inches", "raised"), [(11.7, True), (11.9, False)])
def test_a_slab_is_brought_up_to_a_door_by_four_inches_at_most(inches: float, raised: bool) -> None:
    """Over the 7 3/4 in that a step may have: common practice."""
    comment = only(review_by("door-step", door(inches / 12)))
    assert any(plain(remedy.says, "us").startswith("raise ") for remedy in comment.remedies) is raised


@pytest.mark.parametrize(
    ("inches", "more", "left_to"),
    [(7.85, "", "pour steps up to back door"), (1.6, EXIT + SWINGS, "pour a landing as wide as back door, ")],
)
def test_a_step_at_an_exit_that_swings_out_takes_a_landing_and_any_other_takes_steps(
    inches: float, more: str, left_to: str
) -> None:
    comment = only(review_by("door-step", door(inches / 12, more)))
    assert comment.decide is not None
    assert plain(comment.decide, "us", both=False).startswith(left_to)


def test_a_slab_too_near_under_a_sill_may_be_set_lower_as_a_whole() -> None:
    """Half an inch below the sill, where an inch keeps the rain out (Beall, p. 285); in whole hundredths of a foot."""
    comment = only(review_by("door-step", door(0.5 / 12)))
    told = [plain(remedy.says, "us", both=False).replace("about ", "") for remedy in comment.remedies]
    assert told[-1] == "set the whole slab 5/8 in lower"


@pytest.mark.parametrize(
    ("asks", "at", "inches", "expected"),
    [  # 1/2 in is what access standards let a threshold be; 1/4 in against the rain there (common practice)
        ("at most 1/2 in below", "[A, B]", 0.5, []),
        ("between 1/4 in and 1/2 in below", "[A, B]", 0.5, []),
        ("at most 1/2 in below", "[A, B]", 0.1, [("caution", "low_lip_at_least")]),
        ("at most 2 in below", "[A, B]", 0.5, [("caution", "weather_step_at_least")]),
        ("at least 1 in below", "[A, B]", 0.5, [("caution", "weather_step_at_least")]),
        ("at most 1/2 in below", "[C, D]", 0.5, [("caution", "weather_step_at_least")]),  # of another door
    ],
)
def test_a_sill_that_asks_for_the_slab_right_under_it_has_a_low_threshold(
    asks: str, at: str, inches: float, expected: list[tuple[str, str]]
) -> None:
    sill = f"fixed: [{{name: sill, kind: sill, along: {at}, height: {100 + inches / 12:.6f}, slab: {asks}}}]"
    assert weights(review_by("door-step", f"{door(inches / 12)}\n{sill}")) == expected


@pytest.mark.parametrize(
    ("name", "along", "inches", "more", "expected"),
    [  # 7 3/4 in at any door, IRC R311.3.2, quoted; a sill as wide as a door, or called one, is the sill of a door
        ("slider sill", "[[4, 0], [12, 0]]", 7.75, "", []),
        ("slider sill", "[[4, 0], [12, 0]]", 8.0, "", [("caution", "bare_step_at_most")]),
        ("kitchen sill", "[[4, 0], [7, 0]]", 8.0, "", [("caution", "bare_step_at_most")]),
        ("back door", "A", 8.0, "", [("caution", "bare_step_at_most")]),  # at one spot
        ("sill", "A", 8.0, "", []),
        ("Terrassentür", "[[2, 0], [18, 0]]", 8.0, "", [("caution", "bare_step_at_most")]),
        ("workshop sill", "[[4, 0], [7, 0]]", 8.0, "", []),  # of a shop, whose doors are for vehicles
        ("sill plate", "[A, B]", 8.0, "", []),  # all along the house
        ("slider sill", "[[4, 0], [12, 0]]", 8.0, "thickness", []),  # steps are drawn
        ("slider sill", "[[4, -9], [12, -9]]", 8.0, "", []),  # not at the slab
        ("slider sill", "[[4, 0], [12, 0]]", 8.0, "door", [("caution", "bare_step_at_most")]),  # told of the door
    ],
)
def test_a_sill_with_no_door_drawn_is_held_to_the_riser(
    name: str, along: str, inches: float, more: str, expected: list[tuple[str, str]]
) -> None:
    text = design(RECTANGLE, SLOPED, HOUSE)
    if more == "thickness":
        steps = "steps: [{name: steps, width: 8 ft, tread: 12 in, riser: 4 in, count: 1}]"
        text = text.replace("thickness: {", f"thickness: {{{steps}, ")
    if more == "door":
        text += f"\nfixtures: [{{kind: door, name: slider, along: {along}, sill: {100 + inches / 12:.6f}}}]"
    key = "along" if along.startswith("[") else "at"
    sill = f"fixed: [{{name: {name}, kind: sill, {key}: {along}, height: {100 + inches / 12:.6f}}}]"
    report = review_by("door-step", f"{text}\n{sill}")
    assert weights(report) == expected
    assert [one.shown.si for one in report.comments] == pytest.approx([inches * INCH] * len(expected))
    if expected:
        assert advice(only(report)).startswith("pour steps up to")


@pytest.mark.parametrize(("wide", "found"), [(8, []), (7, [("note", "swing_step_at_most")])])
def test_a_wide_leaf_on_a_yard_is_a_gate_for_vehicles(wide: int, found: list[tuple[str, str]]) -> None:
    """Two inches under the leaves of a barn, 8 ft wide as the door of one car is (common practice), or 7."""
    more = (
        f"fixtures: [{{kind: door, name: barn, along: [[2, 0], [{2 + wide}, 0]], sill: 100.1667, swings_over: true}}]"
    )
    text = design(RECTANGLE, plane(RECTANGLE, 0, -0.02), "run: [A, B], beside: building\nrest: lawn", use="vehicle pad")

    assert weights(review_by("door-step", f"{text}\n{more}")) == found


def test_the_slab_is_lowered_under_the_steps_that_are_poured_up_to_a_door() -> None:
    """One riser of 7 in, and 1/2 in left to the sill where an inch keeps rain out (Beall, p. 285): 1/2 in lower."""
    comment = only(review_by("door-step", stoop(2).replace("101.5", f"{100 + 7.5 / 12}")))
    assert advice(comment) == "lower A by about 5/8 in, to 99.95 ft; lower B by about 5/8 in, to 99.95 ft"


@pytest.mark.parametrize(
    ("riser", "under", "shown"),
    [
        ("170 mm", 0.0, None),  # by hand: foot 99.498 + 2 x 0.170 = 99.838 m, 170 mm under the threshold
        ("170 mm", 0.1, None),  # the bed of the steps is no step, however low it lies
        ("150 mm", 0.0, 0.210),
        ("150 mm", 0.1, 0.210),
    ],
)
def test_the_last_step_is_from_the_top_tread_of_a_flight_that_has_a_foot(
    riser: str, under: float, shown: float | None
) -> None:
    points = {"A": (0, 0), "B": (1.2, 0), "T": (1.2, 6.6), "C": (1.2, 7.2), "D": (0, 7.2), "S": (0, 6.6)}
    heights = {"A": 99.3, "B": 99.3, "T": 99.498, "C": 99.498 - under, "D": 99.498 - under, "S": 99.498}
    text = design(points, heights, "run: [C, D], beside: building, name: house\nrest: lawn, takes_water: true",
                  "A B T C D S", unit="m", use="walk", more="fixtures:\n  - {kind: door, name: front door, along: "
                  "[[0.2, 7.2], [1.0, 7.2]], sill: 100.008, swings_over: false}")  # fmt: skip
    steps = (f"{{name: front steps, width: 1.2 m, tread: 300 mm, riser: {riser}, count: 3, foot: [S, T], "
             "leads_to: front door}")  # fmt: skip
    text = text.replace("thickness: {design: 4 in}", f"thickness: {{design: 100 mm, steps: [{steps}]}}")
    comments = review_by("door-step", text).comments
    assert [one.shown.si for one in comments] == ([] if shown is None else [pytest.approx(shown)])
    if shown:
        told = advice(comments[0], "metric")
        assert told.startswith("make it 3 risers of 170 mm: pour 2 of them")
