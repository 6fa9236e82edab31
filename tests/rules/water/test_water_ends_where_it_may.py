"""The rule `water-ends-where-it-may`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, says, weights
from design_text import pad, plan_of, review_by
from slabs.water import V_LINE, slope_to
from slabwright.text.words import plain
from sloped import RECTANGLE, VALLEY, all_followed, design, plane

FOOT = 0.3048


def strip(part: float) -> tuple[float, float]:
    """Slopes at which ``part`` of 20 by 12 ft leaves over B-C and the rest over C-D."""
    return -0.02 * part * 2 * 20 / 12, -0.02


@pytest.mark.parametrize(
    ("edge", "expected"),
    [
        ("beside: property line", [("caution", "lot_line_share_at_most")]),
        ("beside: property line, takes_water: false", [("hold", "barred_share_at_most")]),
        ("beside: property line, takes_water: true", []),
        ("beside: lawn, takes_water: false", [("hold", "barred_share_at_most")]),
        ("beside: lawn", []),
        ("beside: street", []),
    ],
)
def test_water_over_an_edge_by_what_is_said_of_it(edge: str, expected: list[tuple[str, str]]) -> None:
    text = design(RECTANGLE, slope_to(0, -0.02), f"run: [C, D], {edge}, name: far side\nrest: lawn")
    report = review_by("water-ends-where-it-may", text)
    assert weights(report) == expected
    for comment in report.comments:
        assert comment.shown.si == pytest.approx(1.0)
        assert comment.working[0].result.si == pytest.approx(240 * FOOT**2)


@pytest.mark.parametrize(
    ("name", "fall", "found"), [("garage floor", 0.02, 1), ("garage floor", -0.02, 0), ("garage apron", 0.02, 0)]
)
def test_water_may_not_run_to_an_old_floor_under_a_roof(name: str, fall: float, found: int) -> None:
    """Its lip of half an inch turns no water away: it runs along the door, and the wind drives it in."""
    edges = f"run: [A, B], beside: existing slab, name: {name}, planned_step: true, ground: 100.04\nrest: lawn"
    comments = review_by("water-ends-where-it-may", design(RECTANGLE, slope_to(0.0, fall), edges)).comments
    assert [one.weight for one in comments] == ["hold"] * found
    for one in comments:
        assert says(one) == "water runs to garage floor, which takes none"
        assert plain(one.to_pass, "us").startswith("let the slab fall away from garage floor")


def test_a_valley_that_ends_at_a_silent_property_line_is_a_hold() -> None:
    heights = {"A": 100.2, "B": 100.0, "C": 100.0, "D": 100.2, "V1": 100.08, "V2": 99.88}
    edges = "run: [B, C], beside: property line, name: lot line\nrest: lawn"
    comment = only(review_by("water-ends-where-it-may", design(VALLEY, heights, edges, more=V_LINE)))
    assert (comment.weight, comment.limit.name) == ("hold", "barred_share_at_most")
    assert says(comment) == "a valley ends at lot line, which takes no water"
    assert advice(comment).startswith("stand a curb along lot line, or catch the water of ")


def test_a_hair_over_one_percent_falls_short_and_the_tip_of_a_corner_does_not() -> None:
    # falls k across for 1 along: over 12 ft the water of a strip 12 k ft wide, in the mean half of it, leaves sideways
    edges = "run: [B, C], beside: property line, takes_water: false\nrest: lawn"
    for part, expected in ((0.0099, []), (0.0101, [("hold", "barred_share_at_most")])):
        k = part * 2 * 20 / 12
        report = review_by("water-ends-where-it-may", design(RECTANGLE, slope_to(-0.02 * k, -0.02), edges))
        assert weights(report) == expected


def test_a_slab_with_no_way_out_is_told_so_once() -> None:
    edges = "run: [C, D], beside: property line\nrest: wall"
    comment = only(review_by("water-ends-where-it-may", design(RECTANGLE, slope_to(0, -0.02), edges)))
    assert (comment.weight, comment.limit.name, comment.shown.si) == ("hold", "ways_out_at_least", 0)
    assert says(comment) == "nothing at the slab takes its water"


def test_an_edge_of_which_nothing_is_said_is_asked_about() -> None:
    text = design(RECTANGLE, slope_to(0, -0.02), "run: [C, D], beside: existing slab, name: old walk\nrest: lawn")
    (silent,) = review_by("water-ends-where-it-may", text).not_shown
    assert silent.add == ("edges, takes_water: whether water may leave over old walk, true or false",)
    text = design(RECTANGLE, slope_to(0, -0.02), "run: [A, B], beside: lawn")
    (silent,) = review_by("water-ends-where-it-may", text).not_shown
    assert silent.add == ("edges: what stands beside C-D, such as lawn",)


@pytest.mark.parametrize("slope", [(-0.01, -0.02), (0.0, -0.03), (0.0, 0.0)])
def test_raised_as_told_the_edge_sheds_nothing(slope: tuple[float, float]) -> None:
    edges = "run: [C, D], beside: property line, takes_water: false, name: lot line\nrest: lawn"
    text = design(RECTANGLE, slope_to(*slope), edges)
    assert all_followed("water-ends-where-it-may", text).comments == ()


# water-ends-where-it-may: an edge is not raised over an old slab beside it


@pytest.mark.parametrize(("ground", "raised"), [(99.9, False), (99.77, False), (101.0, True), (99.7, True)])
def test_water_ends_where_it_may_raises_no_edge_over_an_old_slab(ground: float, raised: bool) -> None:
    """C and D, 0.24 ft under A and B, have to come up to 1 % over them: past an old slab between, and not past one
    that lies lower already or higher still."""
    edges = (
        "run: [C, D], beside: property line, takes_water: false, name: lot\n"
        f"run: [B, C], beside: existing slab, name: old, ground: [90, {ground}]\nrest: lawn"
    )
    report = review_by("water-ends-where-it-may", design(RECTANGLE, plane(RECTANGLE, 0, -0.02), edges))
    assert weights(report) == [("hold", "barred_share_at_most")]
    comment = only(report)
    assert bool(comment.remedies) is raised


@pytest.mark.parametrize(("part", "asked"), [(0.0099, False), (0.0101, True)])
def test_water_ends_where_it_may_is_asked_from_a_hundredth_on(part: float, asked: bool) -> None:
    edges = "run: [C, D], beside: lawn\nrun: [A, B], beside: wall\nrun: [D, A], beside: wall"
    report = review_by("water-ends-where-it-may", design(RECTANGLE, slope_to(*strip(part)), edges))

    assert [one.add for one in report.not_shown] == (
        [("edges: what stands beside B-C, such as lawn",)] if asked else []
    )


def test_an_edge_that_is_barred_is_judged_whatever_is_not_said_of_others() -> None:
    edges = (
        "run: [C, D], beside: lawn, takes_water: false, name: far\nrun: [A, B], beside: wall\nrun: [D, A], beside: wall"
    )
    report = review_by("water-ends-where-it-may", design(RECTANGLE, slope_to(*strip(0.3)), edges))

    assert weights(report) == [("hold", "barred_share_at_most")]
    assert only(report).shown.si == pytest.approx(0.7)


def test_a_low_spot_does_not_stand_in_for_an_edge_that_is_barred() -> None:
    """A pit in the middle keeps some water; of the edges nothing is said."""
    points = {**RECTANGLE, "M": (10, 6), **{f"Q{k}": xy for k, xy in enumerate([(8, 4), (12, 4), (12, 8), (8, 8)])}}
    heights = {**slope_to(0, -0.02), "M": 99.5} | {f"Q{k}": 100 - 0.02 * points[f"Q{k}"][1] for k in range(4)}
    line = "  lines: [{kind: ridge, along: [Q0, Q1, Q2, Q3, Q0]}]"
    text = design(points, heights, "run: [A, B], beside: wall", more=line)
    report = review_by("water-ends-where-it-may", text)

    assert [one.add for one in report.not_shown] == [("edges: what stands beside C-D, such as lawn",)]
    lawn = review_by("water-ends-where-it-may", text.replace("run: [A, B], beside: wall", "rest: lawn"))
    assert lawn.comments == ()  # water that stays leaves over nothing


def test_edges_of_which_nothing_is_said_are_asked_about_up_to_six() -> None:
    """All falls to the east side, of which each stretch is shorter than the one before it."""
    ys = [0, 2, 3.9, 5.6, 7.1, 8.4, 9.5, 10.4, 11]
    points = {"A": (0, 0), **{f"p{k}": (20, y) for k, y in enumerate(ys)}, "D": (0, 11)}
    heights = {name: 100 - 0.02 * x for name, (x, _) in points.items()}
    text = design(points, heights, "run: [A, p0], beside: wall", " ".join(points))
    (silent,) = review_by("water-ends-where-it-may", text).not_shown

    assert silent.add == tuple(f"edges: what stands beside p{k}-p{k + 1}, such as lawn" for k in range(6))
    named = "run: [p0, p1], beside: existing slab, name: old\nrun: [A, p0], beside: wall"
    (silent,) = review_by("water-ends-where-it-may", design(points, heights, named, " ".join(points))).not_shown
    assert silent.add[0] == "edges, takes_water: whether water may leave over old, true or false"
    assert silent.place.path == "edges[0]"


def test_an_edge_that_takes_most_hides_none_that_takes_nothing() -> None:
    edges = "run: [B, C], beside: bed, takes_water: false, name: bed side\nrest: lawn"
    comment = only(review_by("water-ends-where-it-may", design(RECTANGLE, slope_to(*strip(0.2)), edges)))

    assert (comment.at.name, comment.shown.si) == ("bed side", pytest.approx(0.2))
    assert comment.working[0].result.si == pytest.approx(48 * FOOT**2)


@pytest.mark.parametrize(
    ("kind", "along", "expected"),
    [
        ("valley", "V1, E", ("hold", "barred_share_at_most")),
        ("valley", "V1, V2", ("caution", "lot_line_share_at_most")),  # half a foot short of it
        ("grade break", "V1, E", ("caution", "lot_line_share_at_most")),
    ],
)
def test_water_ends_where_it_may_only_a_valley_ends_at_it(kind: str, along: str, expected: tuple[str, str]) -> None:
    points = {**RECTANGLE, "E": (20, 6), "V1": (0, 6), "V2": (19.5, 6)}
    heights = {"A": 100.2, "B": 99.9, "C": 99.9, "D": 100.2, "V1": 100.08, "V2": 99.78, "E": 99.77}
    edges = "run: [B, E, C], beside: property line, name: lot line\nrun: [A, B], beside: lawn\nrest: wall"
    line = f"  lines: [{{name: swale, kind: {kind}, along: [{along}]}}]"
    report = review_by("water-ends-where-it-may", design(points, heights, edges, "A B E C D", more=line))

    assert weights(report) == [expected]


# bonding


def test_water_may_not_be_sent_into_a_pool() -> None:
    text = pad(
        "edges: [{run: [A, B], beside: pool, name: coping}, {rest: lawn, ground: 99}]\n"
        "points: {A: [0, 0], B: [8, 0], C: [8, 8], D: [0, 8]}\n"
        "heights: {finish: {A: 100, B: 100, C: 100.16, D: 100.16}}",
        outline="[A, B, C, D]",
    )
    (share,) = plan_of(text).water.shares
    assert (share.to, share.allowed) == ("coping", False)
    assert review_by("water-ends-where-it-may", text).comments


@pytest.mark.parametrize(
    ("falls", "expected"), [("", []), (", falls_to_slab: 2 %", [("hold", "barred_share_at_most")])]
)
def test_an_old_slab_that_falls_this_way_takes_no_water(falls: str, expected: list[tuple[str, str]]) -> None:
    edges = f"run: [C, D], beside: existing slab, name: old patio, ground: 99.5{falls}\nrest: lawn, takes_water: true"
    report = review_by("water-ends-where-it-may", design(RECTANGLE, slope_to(0, -0.02), edges))
    assert weights(report) == expected
    assert bool(report.not_shown) is not bool(expected)  # else it is asked whether water may leave over it


POOL = "openings: [{name: pool, holds: pool, corners: [[6, 3], [14, 3], [14, 9], [6, 9]]MORE}]"


@pytest.mark.parametrize(
    ("fall", "more", "found"),
    [
        (-0.02, "", ["caution"]),  # to the pool from the house, and away from it beyond
        (0.0, "", []),  # a level deck is told by `least-fall`
        (-0.02, ", takes_water: true", []),  # its rim is a gutter
    ],
)
def test_a_deck_falls_away_from_its_pool(fall: float, more: str, found: list[str]) -> None:
    """COMAR 10.17.01.22, read: decks of pools fall away from the water."""
    for unit, run in (("ft", FOOT), ("m", 0.3)):  # a foot before the rim
        deck = design(RECTANGLE, slope_to(0.0, fall), "rest: lawn", use="pool deck", unit=unit)
        comments = review_by("water-ends-where-it-may", f"{deck}\n{POOL.replace('MORE', more)}").comments
        assert [one.weight for one in comments] == found
        for one in comments:
            assert one.shown.si == pytest.approx(0.02)
            assert one.working[0].result.si == pytest.approx(0.02 * run)


def test_a_channel_along_the_rim_keeps_the_deck_out_of_the_pool() -> None:
    text = design(RECTANGLE, slope_to(0.0, -0.02), "rest: lawn", use="pool deck")
    text += "\n" + POOL.replace("MORE", "") + "\nchannels: [{along: [[6, 2.8], [14, 2.8]], width: 4 in}]"
    assert review_by("water-ends-where-it-may", text).comments == ()


def test_a_pool_with_round_ends_is_judged_by_its_whole_rim() -> None:
    """Each chord of an arc is shorter than what counts; all of them together are not."""
    ring = "[[8, 4], [12, 4], {arc_to: [12, 8], through: [14, 6]}, [8, 8], {arc_to: [8, 4], through: [6, 6]}]"
    text = design(RECTANGLE, slope_to(-0.02, 0.0), "rest: lawn", use="pool deck")
    text += f"\nopenings: [{{name: pool, holds: pool, corners: {ring}}}]"
    assert [one.weight for one in review_by("water-ends-where-it-may", text).comments] == ["caution"]


# water-ends-where-it-may: a deck with one far corner over the coping


@pytest.mark.parametrize(("c", "d", "found"), [
    (100.12, 99.8, [0.01]),  # 0.12 ft over the coping 12 ft away; folded along B-D the deck falls away all along A-B
    (99.8, 100.12, [0.01]),
    (99.9, 99.8, []),
])  # fmt: skip
def test_a_deck_falls_away_from_its_pool_folded_either_way(c: float, d: float, found: list[float]) -> None:
    heights = {"A": 100.0, "B": 100.0, "C": c, "D": d}
    text = design(RECTANGLE, heights, "run: [A, B], beside: pool, name: coping\nrest: lawn", use="pool deck")
    comments = review_by("water-ends-where-it-may", text).comments
    assert [one.shown.si for one in comments] == pytest.approx(found)
    drawn = text.replace(
        "thickness:", "  lines: [{kind: valley, along: [%s]}]\nthickness:" % ("B, D" if d < c else "A, C")
    )
    assert review_by("water-ends-where-it-may", drawn).comments == ()  # drawn so, it can fold no other way


def test_a_rim_is_judged_on_both_sides_of_a_height_on_it() -> None:
    """East of M the deck comes down 0.12 ft in 12 ft to the coping, west of it it falls away."""
    points = {**RECTANGLE, "M": (10, 0), "N": (10, 12)}
    heights = {"A": 100.0, "M": 100.0, "B": 100.0, "C": 100.12, "N": 100.0, "D": 99.8}
    text = design(points, heights, "run: [A, B], beside: pool, name: coping\nrest: lawn", use="pool deck")
    comment = only(review_by("water-ends-where-it-may", text))
    assert comment.shown.si == pytest.approx(0.01)


def test_a_level_edge_is_raised_as_a_whole() -> None:
    """A strip of 2 by 30 ft, 6 in down to a carport: 1 % over 30 ft is 0.30 ft above the far end, at both corners."""
    strip = {"A": (0, 0), "B": (2, 0), "C": (2, 30), "D": (0, 30)}
    heights = {"A": 100, "B": 100, "C": 99.5, "D": 99.5}
    edges = (
        "run: [A, B], beside: street\nrun: [C, D], beside: existing slab, name: carport, takes_water: false\nrest: lawn"
    )
    comment = only(review_by("water-ends-where-it-may", design(strip, heights, edges)))
    new = {edit.path.rpartition(".")[2]: edit.value.si for edit in comment.remedies[0].edits}
    assert new == pytest.approx({"C": 100.3 * FOOT, "D": 100.3 * FOOT})


def test_at_an_old_slab_no_curb_is_told() -> None:
    """People walk from the one to the other (common practice)."""
    edges = "run: [A, B], beside: existing slab, name: patio, takes_water: false, ground: 100\nrest: lawn"
    comment = only(review_by("water-ends-where-it-may", design(RECTANGLE, slope_to(0, 0.02), edges)))
    told = advice(comment)
    assert told == "let the slab fall away from patio, or lay a trench drain along it"


@pytest.mark.parametrize(("deep", "raised"), [(0.6, True), (1.2, False)])
def test_no_edge_is_raised_by_more_than_a_foot(deep: float, raised: bool) -> None:
    """Down to a dead channel: 1 % over the 12 ft is 0.12 ft over the far end, so that 0.72 and 1.32 ft are lacking."""
    edges = (
        "run: [C, D], beside: trench drain, name: channel, takes_water: false\nrun: [A, B], beside: street\nrest: wall"
    )
    heights = {"A": 100.0, "B": 100.0, "C": 100.0 - deep, "D": 100.0 - deep}
    comment = only(review_by("water-ends-where-it-may", design(RECTANGLE, heights, edges)))
    assert bool(comment.remedies) is raised
    if not raised:
        assert advice(comment).startswith("lead channel to an outlet and write takes_water: true")
