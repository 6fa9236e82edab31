"""Rules about outlets, floors, streets, downspouts and storms: branches, limits, and arithmetic from outside."""

from __future__ import annotations

import pytest
from comments import only, weights
from design_text import plan_of, review_by
from slabwright.text.words import plain
from sloped import RECTANGLE, VALLEY, design, plane

FOOT, INCH = 0.3048, 0.0254
V_LINE = "  lines: [{name: valley, kind: valley, along: [V1, V2]}]"


def with_sections(text: str, *sections: str) -> str:
    return "\n".join([text, *sections])


# outlet-below


def drained(drain: str, heights: dict[str, float] | None = None) -> str:
    heights = heights or dict.fromkeys(RECTANGLE, 100.0)
    return with_sections(design(RECTANGLE, heights, "rest: curb"), f"fixtures: [{{kind: drain, {drain}}}]")


@pytest.mark.parametrize(
    ("outlet", "pipe", "expected"),
    [  # rim 99.90 ft. 1 in = 0.0833 ft is the least drop, 1 % of 40 ft = 0.40 ft the least fall (common practice)
        (99.95, "", [("hold", "drop_at_least")]),
        (99.90, "", [("hold", "drop_at_least")]),  # level with the rim nothing runs
        (99.82, "", [("caution", "usual_drop_at_least")]),
        (99.81, "", []),
        (99.81, ", pipe: 40 ft", [("caution", "pipe_fall_at_least")]),
        (99.53, ", pipe: 40 ft", [("caution", "pipe_fall_at_least")]),
        (99.52, ", pipe: 40 ft", []),  # 0.95 %: a twentieth is let pass
        (99.95, ", pipe: 40 ft", [("hold", "drop_at_least")]),  # one comment, not two
    ],
)
def test_a_drain_needs_a_drop_and_its_pipe_a_fall(outlet: float, pipe: str, expected: list[tuple[str, str]]) -> None:
    report = review_by("outlet-below", drained(f"at: [6, 6], rim: 99.90, outlet: {outlet}{pipe}"))
    assert weights(report) == expected


def test_a_drain_is_told_the_outlet_that_serves_both() -> None:
    comment = only(
        review_by("outlet-below", drained("name: yard drain, at: [6, 6], rim: 99.90, outlet: 99.95, pipe: 40 ft"))
    )
    # 1 % of 40 ft is 0.40 ft, more than the inch: 99.90 - 0.40 = 99.50 ft, 0.45 ft = 5.4 in lower
    assert plain(comment.to_pass, "us", both=False) == "let yard drain out about 5 3/8 in lower, at 99.50 ft"
    assert plain(comment.says, "us", both=False) == "yard drain lets out above its own rim"


def test_without_a_rim_the_slab_there_counts() -> None:
    comment = only(review_by("outlet-below", drained("at: [6, 6], outlet: 99.99")))
    assert comment.shown.si == pytest.approx(0.01 * FOOT)


def test_what_a_drain_lacks_is_asked_for() -> None:
    (silent,) = review_by("outlet-below", drained("name: yard drain, at: [6, 6]")).not_shown
    assert silent.add == ("fixtures, outlet: the height where the pipe of yard drain lets out, such as 98.60",)
    text = drained("name: yard drain, at: [6, 6], outlet: 98.60", {"A": 100.0})
    (silent,) = review_by("outlet-below", text).not_shown
    assert silent.add == ("fixtures, rim: the height of the rim of yard drain, such as 99.20",)


def test_no_drain_no_outlet() -> None:
    report = review_by("outlet-below", design(RECTANGLE, plane(RECTANGLE, 0, 0), "rest: curb"))
    assert report.does_not_apply[0].reason == "no drain is drawn"


# floor-falls-to-door

DOOR = "run: [C, D], beside: open ground, name: door, takes_water: true\nrest: building"


@pytest.mark.parametrize(
    ("fall", "expected"),
    [  # 1/8 in/ft usual, 1 % least; 0.2 % level to a screed (common practice). IRC R309.1 prints no number.
        (0.0, [("hold", "fall_at_least")]),
        (0.0018, [("hold", "fall_at_least")]),
        (0.0019, [("caution", "usual_fall_at_least")]),  # a twentieth is let pass
        (0.0094, [("caution", "usual_fall_at_least")]),
        (0.0095, []),
        (0.01, []),
        (0.125 / 12, []),
    ],
)
def test_a_floor_falls_to_its_door(fall: float, expected: list[tuple[str, str]]) -> None:
    text = design(RECTANGLE, plane(RECTANGLE, 0, -fall), DOOR, use="garage floor")
    assert weights(review_by("floor-falls-to-door", text)) == expected


@pytest.mark.parametrize(("use", "unit"), [("shop floor", "ft"), ("garage floor", "m")])
def test_where_the_us_code_does_not_ask_a_level_floor_is_a_caution(use: str, unit: str) -> None:
    text = design(RECTANGLE, plane(RECTANGLE, 0, 0), DOOR, use=use, unit=unit)
    assert weights(review_by("floor-falls-to-door", text)) == [("caution", "usual_fall_at_least")]


def test_a_shop_floor_whose_edges_only_could_take_water_is_level_on_purpose() -> None:
    level = design(RECTANGLE, plane(RECTANGLE, 0, 0), "rest: lawn", use="shop floor")
    (closed,) = review_by("floor-falls-to-door", level).does_not_apply
    assert closed.reason == "nothing is drawn that takes water off this floor"


def test_a_level_floor_is_told_to_fall_to_the_door() -> None:
    comment = only(
        review_by("floor-falls-to-door", design(RECTANGLE, plane(RECTANGLE, 0, 0), DOOR, use="garage floor"))
    )
    # 1 % of 12 ft: 0.12 ft = 1.44 in
    told = plain(comment.to_pass, "us", both=False)
    assert told == "lower C by about 1 1/2 in, to 99.88 ft; lower D by about 1 1/2 in, to 99.88 ft"
    assert plain(comment.says, "us", both=False) == "the whole slab is level"


def test_a_shop_floor_that_falls_to_its_back_wall_keeps_its_water() -> None:
    text = design(RECTANGLE, plane(RECTANGLE, 0, 0.02), DOOR, use="shop floor")
    comment = only(review_by("floor-falls-to-door", text))
    assert (comment.weight, comment.limit.name) == ("hold", "kept_share_at_most")
    assert comment.shown.si == pytest.approx(1.0)  # all of one plane runs to the wall


def test_a_garage_floor_that_falls_to_its_back_wall_is_told_once() -> None:
    text = design(RECTANGLE, plane(RECTANGLE, 0, 0.02), DOOR, use="garage floor")
    assert weights(review_by("floor-falls-to-door", text)) == [("hold", "kept_share_at_most")]
    assert review_by("standing-water", text).does_not_apply


def test_a_floor_whose_water_nothing_takes() -> None:
    level = plane(RECTANGLE, 0, 0)
    (closed,) = review_by(
        "floor-falls-to-door", design(RECTANGLE, level, "rest: building", use="shop floor")
    ).does_not_apply
    assert closed.reason == "nothing is drawn that takes water off this floor"
    (silent,) = review_by(
        "floor-falls-to-door", design(RECTANGLE, level, "rest: building", use="garage floor")
    ).not_shown
    assert silent.add == ("edges, takes_water: true for the edge under the vehicle door, or a drain under fixtures",)


@pytest.mark.parametrize("use", ["patio", "driveway", "equipment pad"])
def test_other_slabs_are_no_floors(use: str) -> None:
    report = review_by("floor-falls-to-door", design(RECTANGLE, plane(RECTANGLE, 0, 0), DOOR, use=use))
    assert report.does_not_apply[0].reason == "the slab is not a floor under a roof"


# street-water-kept-out

STREET = (
    "run: [C, D], beside: street, name: mill street, ground: {gutter}\n"
    "run: [A, B], beside: building, name: garage\n"
    "rest: bed"
)
HUMP = "  lines: [{name: crest, kind: ridge, along: [V1, V2]}]"


def drive(gutter: float, crest: float, wall: float, street: float) -> str:
    heights = {"A": wall, "B": wall, "V1": crest, "V2": crest, "C": street, "D": street}
    return design(VALLEY, heights, STREET.format(gutter=gutter), more=HUMP, use="driveway")


@pytest.mark.parametrize(
    ("crest", "expected"),
    [  # gutter at 99.50 ft: no lower than that the crest keeps water out at all; the lip of a dropped curb 1 1/2 in, a
        # curb 6 in = 0.5 ft (common practice)
        (99.50, [("hold", "crest_at_least")]),
        (99.51, [("caution", "lip_high_crest_at_least")]),
        (99.63, [("note", "curb_high_crest_at_least")]),
        (99.999, [("note", "curb_high_crest_at_least")]),
        (100.0, []),
    ],
)
def test_the_crest_of_a_falling_drive_stands_over_the_gutter(crest: float, expected: list[tuple[str, str]]) -> None:
    report = review_by("street-water-kept-out", drive(99.50, crest, 99.40, 99.50))
    assert weights(report) == expected


def test_the_lowest_way_in_counts() -> None:
    """A ridge with a notch at one end lets the street in there."""
    heights = {"A": 99.4, "B": 99.4, "V1": 100.1, "V2": 99.7, "C": 99.52, "D": 99.52}
    comment = only(review_by("street-water-kept-out", design(VALLEY, heights, STREET.format(gutter=99.5), more=HUMP)))
    assert comment.at.name == "crest at V2"
    assert comment.shown.si == pytest.approx(0.2 * FOOT)
    assert plain(comment.to_pass, "us", both=False) == "raise V2 by about 3 5/8 in, to 100.00 ft"


def test_where_the_drive_rises_all_the_way_the_garage_is_the_crest() -> None:
    comment = only(review_by("street-water-kept-out", drive(99.50, 99.65, 99.80, 99.52)))
    assert comment.shown.si == pytest.approx(0.30 * FOOT)
    assert comment.weight == "note"


@pytest.mark.parametrize(
    ("wheels", "found"), [("wheels_cross: true", ["lip_high_crest_at_least"]), ("name: side drain", [])]
)
def test_a_drain_at_the_garage_door_is_filled_by_the_street(wheels: str, found: list[str]) -> None:
    edges = f"run: [C, D], beside: street, ground: 99.5\nrun: [A, B], beside: trench drain, {wheels}\nrest: bed"
    heights = {"A": 99.0, "B": 99.0, "V1": 99.3, "V2": 99.3, "C": 99.5, "D": 99.5}
    comments = review_by("street-water-kept-out", design(VALLEY, heights, edges, use="driveway")).comments
    assert [one.limit.name for one in comments] == found


def test_a_gutter_above_the_drive() -> None:
    comment = only(review_by("street-water-kept-out", drive(99.90, 99.80, 99.40, 99.52)))
    assert comment.shown.si == pytest.approx(-0.10 * FOOT)
    assert plain(comment.says, "us", both=False) == "nothing on the slab keeps the water of the gutter from garage"


def test_a_fixed_gutter_comes_before_the_ground_at_the_street() -> None:
    text = with_sections(
        drive(99.50, 100.0, 99.4, 99.52), "fixed: [{name: gutter, kind: gutter, along: [C, D], height: 99.60}]"
    )
    comment = only(review_by("street-water-kept-out", text))
    assert comment.shown.si == pytest.approx(0.40 * FOOT)


def test_where_street_water_cannot_come() -> None:
    fine = plane(RECTANGLE, 0, -0.02)
    report = review_by("street-water-kept-out", design(RECTANGLE, fine, "run: [A, B], beside: building\nrest: bed"))
    assert report.does_not_apply[0].reason == "it does not reach from a street to a building"
    edges = "run: [A, B], beside: building\nrun: [C, D], beside: street, name: mill street\nrest: bed"
    (silent,) = review_by("street-water-kept-out", design(RECTANGLE, fine, edges)).not_shown
    assert silent.add == ("edges, ground: the height of the gutter beside mill street, such as 99.30",)
    assert review_by("street-water-kept-out", design(RECTANGLE, fine, edges, use="shop floor")).does_not_apply


# downspout-lands


def spout(at: str, heights: dict[str, float], edges: str, use: str = "patio", site: str = "") -> str:
    text = design(RECTANGLE, heights, edges, use=use)
    return with_sections(text, f"fixtures: [{{kind: downspout, name: roof spout, at: {at}}}]", site)


LOT = "run: [B, C], beside: property line, name: lot line, takes_water: false\nrest: bed"


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


# valley-flow


def stormy(rain: str, spouts: str = "", valley: tuple[float, float] = (99.8, 99.6)) -> str:
    """20 x 12 ft, both halves 6 ft wide and falling 0.2 ft to a valley that falls 0.2 ft in 20 ft."""
    heights = {"V1": valley[0], "V2": valley[1], "A": 100.0, "D": 100.0, "B": 99.8, "C": 99.8}
    edges = "run: [B, V2], beside: bed, takes_water: true\nrun: [V2, C], beside: bed, takes_water: true\nrest: curb"
    text = design(VALLEY, heights, edges, more=V_LINE)
    return with_sections(text, f"site: {{rain_in_an_hour: {rain}}}", f"fixtures: [{spouts}]" if spouts else "")


def by_hand(square_feet: float, inches: float) -> tuple[float, float]:
    """Spread and depth, ft, by the printed US forms.

    Runoff C i A / 43,200 ft3/s, A in ft2; gutter Q = 0.56/n Sx^1.67 SL^0.5 T^2.67 (HEC-22 eq. 4-2, as quoted).
    """
    side = 0.2 / 6
    cross = side * side / (side + side)
    flow = 0.95 * inches * square_feet / 43_200
    spread = (flow * 0.016 / (0.56 * cross**1.67 * 0.01**0.5)) ** (1 / 2.67)
    return spread, spread * cross


def test_the_storm_in_a_valley_by_hand() -> None:
    report = review_by("valley-flow", stormy("4 in", "{kind: downspout, at: [0.5, 6], roof: 6000 ft2}"))
    # Water on the sides runs 1 ft along for 3.33 ft across, so what starts in the last 1.8 ft by 6 ft of each side
    # leaves before it reaches the valley: 240 - 2 x 5.4 = 229.2 ft2 come through V2.
    spread, deep = by_hand(229.2 + 6000, 4)
    comments = {comment.limit.name: comment.shown.si for comment in report.comments}
    margins = {entry.limit.name: entry.shown.si for entry in report.met if entry.limit and entry.shown}
    assert comments["spread_at_most"] == pytest.approx(spread * FOOT, rel=0.003)
    assert {**margins, **comments}["depth_at_most"] == pytest.approx(deep * FOOT, rel=0.005)


def test_a_roof_that_drains_elsewhere_does_not_count() -> None:
    with_roof = review_by("valley-flow", stormy("4 in", "{kind: downspout, at: [20, 1], roof: 30000 ft2}"))
    assert with_roof.comments == ()
    assert with_roof.met[0].slack == pytest.approx(review_by("valley-flow", stormy("4 in")).met[0].slack)


def test_only_a_stated_rain_and_a_valley_that_flows_are_judged() -> None:
    dry = review_by("valley-flow", stormy("4 in").replace("site: {rain_in_an_hour: 4 in}", ""))
    assert dry.does_not_apply[0].reason == "no rain to be carried off is written (site.rain_in_an_hour)"
    level = review_by("valley-flow", stormy("4 in", valley=(99.6, 99.6)))
    assert level.does_not_apply[0].reason == "no valley falls between two sides"


def test_the_share_gathered_is_all_above_a_point() -> None:
    plan = plan_of(stormy("4 in"))
    low = (20 * FOOT, 6 * FOOT)
    assert plan.water.gathered(low) == pytest.approx(229.2 / 240, rel=1e-6)  # as above
    assert plan.water.gathered((0.0, 6 * FOOT)) == pytest.approx(0.0, abs=1e-9)  # the upper end
    assert plan.water.gathered((3.3 * FOOT, 3.3 * FOOT)) == 0.0  # no height is known there


# metric floors and pads


def test_ground_above_a_floor_under_a_roof_is_told() -> None:
    """Its water runs in, by gravity; level ground is let pass."""
    for ground, found in ((100.2, ["pad_above_ground_at_least"]), (100.0, []), (99.5, [])):
        text = design(RECTANGLE, plane(RECTANGLE, 0, 0), f"rest: lawn, ground: {ground}", use="shed base")
        assert list({one.limit.name for one in review_by("ground-dams-edge", text).comments}) == found
