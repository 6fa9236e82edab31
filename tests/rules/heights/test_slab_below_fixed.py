"""The rule `slab-below-fixed`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import only, says, weights
from design_text import review_by
from judged import findings, judged
from slabs.heights import ALL_LEVEL, HOUSE, HOUSE_BY_BED, LEVEL, SLOPED, slab, told_values
from slabwright.rulebook.conclusion import Margin
from slabwright.text.words import plain
from slabwright.units.quantity import Amount
from sloped import RECTANGLE, all_followed, design

FOOT = 0.3048
HALL = "{kind: door, name: hall, along: [[0, 0], [3, 0]], sill: 100.02}"


def fixed(kind: str, above: float, asks: str = "", along: str = "along: [A, B]") -> str:
    """A slab at 100 along A-B with something fixed ``above`` ft higher."""
    slab = f", slab: {asks}" if asks else ""
    more = f"fixed: [{{name: the thing, kind: {kind}, {along}, height: {100 + above:.10f}{slab}}}]"
    return design(RECTANGLE, SLOPED, HOUSE, more=more)


def below(*fixed: str, heights: dict[str, float] | None = None) -> str:
    listed = ", ".join(f"{{{one}}}" for one in fixed)
    return slab(heights or ALL_LEVEL, f"fixed: [{listed}]", edges=HOUSE_BY_BED)


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
    ("kind", "found"),
    [  # the US code of dwellings names wood and stucco; elsewhere both are siding (common practice)
        ("siding, material: wood", "other_siding_at_least"),
        ("siding, material: stucco", "other_siding_at_least"),
        ("siding, material: brick", "brick_at_least"),
    ],
)
def test_no_us_code_asks_anything_of_a_metric_job(kind: str, found: str) -> None:
    text = fixed(kind, 0.02).replace("plan: ft, height: ft", "plan: m, height: m").replace("4 in", "100 mm")
    assert weights(review_by("slab-below-fixed", text)) == [("caution", found)]


@pytest.mark.parametrize(
    ("more", "found"),
    [
        ("", [("caution", "damp_course_at_least")]),
        (f"fixtures: [{HALL}]", [("caution", "damp_course_at_least")]),
        (f"fixtures: [{HALL}]\nsite: {{accessible_route: [[1.5, 0], [1.5, 12]]}}", []),  # nobody rolls up 150 mm
        ("channels: [{along: [A, B], width: 4 in}]", []),
    ],
)
def test_a_damp_course_at_a_level_door_or_behind_a_channel_asks_nothing(
    more: str, found: list[tuple[str, str]]
) -> None:
    """150 mm: paving guidance, United Kingdom, practice; 2.4 in are drawn."""
    text = fixed("damp course", 0.2, along="along: [[0, 0], [3, 0]]")
    assert weights(review_by("slab-below-fixed", f"{text}\n{more}")) == found


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
        (work,) = comment.working
        first, second = (one.si for one in work.numbers.values.values() if isinstance(one, Amount))
        assert work.result.si == pytest.approx(first - second) == comment.shown.si
        assert work.formula.startswith("fixed height") is ((first > second) is (above > 0))
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
    assert asked.add[0].startswith("fixed: the height of the siding, weep screed or damp course along house wall, ")
    walls = HOUSE.replace("rest:", "run: [B, C], beside: building, name: annex\nrest:")
    assert review_by("slab-below-fixed", design(RECTANGLE, SLOPED, walls)).not_shown[0].add == asked.add
    garage = review_by("slab-below-fixed", design(RECTANGLE, SLOPED, HOUSE, use="driveway"))
    assert garage.does_not_apply[0].reason == "no fixed heights are given"
    far = review_by("slab-below-fixed", fixed("siding", 0.0, along="at: [10, -4]"))
    assert far.does_not_apply[0].reason == "no fixed height lies at the slab"


def test_slab_below_fixed_asks_of_the_first_that_says_nothing() -> None:
    first, second = "name: gutter, kind: gutter, at: A, height: 100", "name: plaque, kind: other, at: B, height: 101"
    (asked,) = review_by("slab-below-fixed", below(first, second)).not_shown
    assert "gutter" in asked.add[0]
    assert asked.place.path == "fixed[0]"


@pytest.mark.parametrize(("off", "judged"), [(0.9, False), (1.1, True)])
def test_a_sill_within_a_foot_of_a_drawn_door_is_the_sill_of_that_door(off: float, judged: bool) -> None:
    """0.3 m is 0.984 ft; the door has a sill of its own, which other rules judge."""
    fixed = f"name: sill, kind: sill, at: [{7 + off}, 0], height: 100.05"
    text = below(fixed) + "\nfixtures: [{kind: door, along: [[4, 0], [7, 0]], sill: 100.5}]"
    assert bool(review_by("slab-below-fixed", text).comments) is judged


@pytest.mark.parametrize(("sill", "found"), [(100.0, []), (99.99, ["flush_sill_at_least"])])
def test_a_sill_under_a_canopy_may_be_flush_and_no_lower(sill: float, found: list[str]) -> None:
    """No rain blows to it; water on the slab still runs in over a sill that lies lower (geometry)."""
    fixed = f"name: back door, kind: sill, along: [[4, 0], [7, 0]], height: {sill}"
    text = below(fixed) + "\nfixtures: [{kind: door, along: [[4, 0], [7, 0]], canopy: true}]"
    assert [name for _, name in weights(review_by("slab-below-fixed", text))] == found


def test_slab_below_fixed_heeds_the_file_before_what_is_usual() -> None:
    """A sill asks 1 in by its kind; here the file asks half an inch."""
    sill = "name: sill, kind: sill, at: A, height: 100.05"  # 0.6 in
    assert review_by("slab-below-fixed", below(f"{sill}, slab: at least 0.5 in below")).comments == ()
    assert weights(review_by("slab-below-fixed", below(sill))) == [("caution", "sill_at_least")]
    told_and_silent = below(f"{sill}, slab: at least 0.5 in below", "name: plaque, kind: other, at: B, height: 101")
    assert review_by("slab-below-fixed", told_and_silent).met


@pytest.mark.parametrize(
    ("asks", "above", "room", "excess", "met"),
    [  # with half an inch to spare asked for on top of an inch, and half an inch too much allowed
        ("at least 1 in below", 1.5, 0.5, 0, True),
        ("at least 1 in below", 1.4, 0.5, 0, False),
        ("at most 2 in below", 2.5, 0, 0.5, True),
        ("at most 2 in below", 2.6, 0, 0.5, False),
        ("at least 1 in above", -1.5, 0.5, 0, True),
        ("at least 1 in above", -1.4, 0.5, 0, False),
    ],
)
def test_slab_below_fixed_with_room_on_top(asks: str, above: float, room: float, excess: float, met: bool) -> None:
    text = below(f"name: walk, kind: slab, at: A, height: {100 + above / 12:.10f}, slab: {asks}")
    values = {"stated_room_at_least": f"{room} in", "stated_excess_at_most": f"{excess} in"}
    assert all(isinstance(one, Margin) for one in judged("slab-below-fixed", text, **values)) is met


@pytest.mark.parametrize(
    ("heights", "worst", "expected"),
    [  # siding asks 2 in, 0.1667 ft: 100.1 less that is 99.9333, written 99.93
        ({**ALL_LEVEL, "A": 100.05}, "A", {"A": "99.93 ft", "B": "99.93 ft"}),
        ({**ALL_LEVEL, "B": 100.05}, "B", {"A": "99.93 ft", "B": "99.93 ft"}),
        ({**ALL_LEVEL, "A": 99.93}, "B", {"B": "99.93 ft"}),
        ({**ALL_LEVEL, "B": 99.90}, "A", {"A": "99.93 ft"}),
    ],
)
def test_slab_below_fixed_moves_what_is_short_and_tells_the_worst(
    heights: dict[str, float], worst: str, expected: dict[str, str]
) -> None:
    comment = only(
        review_by(
            "slab-below-fixed", below("name: siding, kind: siding, along: [A, B], height: 100.1", heights=heights)
        )
    )
    assert comment.says.values["point"] == worst
    values = told_values(comment)
    assert {values[f"name{k}"]: values[f"to{k}"] for k in (1, 2) if f"name{k}" in values} == expected


@pytest.mark.parametrize(
    ("height", "asks", "worst", "expected"),
    [  # at most 2 in, 0.1667 ft, below: 100.3 less that is 100.1333, written 100.14
        ("[100.1, 100.3]", "at most 2 in below", "B", {"B": "100.14 ft"}),
        ("[100.3, 100.1]", "at most 2 in below", "A", {"A": "100.14 ft"}),
        ("[99.9, 99.7]", "at most 2 in above", "B", {"B": "99.86 ft"}),
        ("[99.9, 99.7]", "at least 2 in above", "A", {"A": "100.07 ft"}),
    ],
)
def test_slab_below_fixed_moves_what_is_too_far_off(
    height: str, asks: str, worst: str, expected: dict[str, str]
) -> None:
    text = below(f"name: walk, kind: slab, along: [A, B], height: {height}, slab: {asks}")
    comment = only(review_by("slab-below-fixed", text))
    assert comment.says.values["point"] == worst
    values = told_values(comment)
    assert {values[f"name{k}"]: values[f"to{k}"] for k in (1, 2) if f"name{k}" in values} == expected
    assert all_followed("slab-below-fixed", text).comments == ()


def test_slab_below_fixed_moves_a_long_side_as_one() -> None:
    """Eight points along the siding, all 1 in too high: more than are named one by one."""
    points = {**RECTANGLE, **{f"S{k}": (2.5 * k, 0.0) for k in range(1, 8)}}
    side = " ".join(f"S{k}" for k in range(1, 8))
    more = "fixed: [{name: siding, kind: siding, along: [A, B], height: 100.0833333333}]"
    text = design(points, dict.fromkeys(points, 100.0), "rest: bed", f"A {side} B C D", more=more)
    assert told_values(only(review_by("slab-below-fixed", text))) == {"off": "about 1 1/8 in", "way": "lower"}


# stated things at a fixed height


@pytest.mark.parametrize(("sill", "limit"), [(99.996, "sill_at_least"), (99.994, "flush_sill_at_least")])
def test_slab_below_fixed_rain_runs_in_over_a_sill_by_half_a_step(sill: float, limit: str) -> None:
    """Heights typed to 0.01 ft are known to 0.005 ft: a slab higher than that over the sill lets the rain in."""
    fixed = f"fixed: [{{name: back door, kind: sill, along: [A, B], height: {sill}}}]"
    comment = only(review_by("slab-below-fixed", slab(LEVEL, fixed, edges=HOUSE)))
    assert comment.limit.name == limit


@pytest.mark.parametrize(("asks", "way"), [("at least 3 in below", "lower"), ("at least 3 in above", "higher")])
def test_slab_below_fixed_the_whole_slab_moves_the_way_that_is_asked(asks: str, way: str) -> None:
    """100 beside a thing at 100: it misses all of the 3 in, 0.25 ft."""
    fixed = f"fixed: [{{name: curb, kind: slab, along: [A, B], height: 100.0, slab: {asks}}}]"
    comment = only(review_by("slab-below-fixed", slab(LEVEL, fixed, edges=HOUSE)))
    assert f"set the whole slab 3 in {way}" in [plain(one.says, "us", both=False) for one in comment.remedies]


@pytest.mark.parametrize(
    ("name", "level", "more", "found"),
    [
        ("garage floor", 99.95, "", ["caution"]),  # rain on the drive is blown in
        ("garage floor", 100.0, "", []),
        ("garage apron", 99.95, "", []),  # lies in the rain too
        (
            "garage floor",
            99.95,
            "\nfixtures: [{kind: door, name: big door, along: [[4, 0], [16, 0]], sill: 99.95}]",
            [],
        ),
    ],
)
def test_no_slab_in_the_open_stands_over_a_floor(name: str, level: float, more: str, found: list[str]) -> None:
    """A door that is drawn is judged by `door-step`."""
    fixed = f"fixed: [{{name: {name}, kind: slab, along: [A, B], height: {level}}}]{more}"
    comments = review_by("slab-below-fixed", slab(LEVEL, fixed, edges=HOUSE, use="driveway")).comments
    assert [one.weight for one in comments] == found
    for one in comments:
        assert says(one) == "the slab stands over garage floor at A, and rain runs in"


@pytest.mark.parametrize(
    ("asks", "way"), [("at least 3 in below", "2 1/2 in lower"), ("at least 3 in above", "3 5/8 in higher")]
)
def test_slab_below_fixed_leaves_to_a_person_which_way_it_is(asks: str, way: str) -> None:
    """It lies 0.05 ft below the curb: 0.25 ft less or more than that."""
    fixed = f"fixed: [{{name: curb, kind: slab, along: [A, B], height: 100.05, slab: {asks}}}]"
    (one,) = findings("slab-below-fixed", slab(LEVEL, fixed, edges=HOUSE))

    assert one.decide is not None
    assert plain(one.decide, "us", both=False).replace("about ", "").startswith(f"set the slab {way} there")


@pytest.mark.parametrize(
    ("beside", "keeps"),
    [  # ground is graded along with a slab; nobody moves an old slab, a street or a house with it (common practice)
        ("beside: lawn", "there and keep its fall: the ground beside it goes along"),
        ("beside: existing slab, name: old walk", "there, and let it meet old walk as now"),
        ("beside: street, name: Mill Lane", "there, and let it meet Mill Lane as now"),
        ("beside: wall", "there and keep its fall"),
        (
            "beside: street, name: Mill Lane\nrun: [C, D], beside: existing slab, name: old walk",
            "there, and let it meet Mill Lane and old walk as now",
        ),
        (
            "beside: street, name: Mill Lane\nrun: [C, D], beside: existing slab, name: old walk\n"
            "run: [D, A], beside: existing slab, name: terrace",
            "there, and let it meet the paving beside it as now",
        ),
    ],
)
def test_what_lies_beside_the_slab_goes_along_only_where_it_can(beside: str, keeps: str) -> None:
    first = {0: "[B, C, D, A]", 1: "[B, C]", 2: "[B, C]"}[beside.count("\n")]
    edges = f"run: [A, B], beside: building, name: house\nrun: {first}, {beside}"
    more = "fixed: [{name: siding, kind: siding, material: wood, along: [A, B], height: 100.00}]"
    comment = only(review_by("slab-below-fixed", design(RECTANGLE, SLOPED, edges, more=more)))
    assert comment.decide is not None
    assert plain(comment.decide, "us", both=False) == (
        f"set the slab about 2 in lower {keeps}; or settle with the owner what else keeps siding dry"
    )
