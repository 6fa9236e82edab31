"""The rule `standing-water`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import math

import pytest
from comments import advice, limits_broken, only, says, told, weights
from design_text import review_by
from judged import judged
from slabs.water import GARDEN, slope_to
from slabwright.text.words import plain
from sloped import RECTANGLE, VALLEY, all_followed, design, plane

FOOT = 0.3048


def yard(depth: float, half: float = 2.0, more: str = "") -> str:
    """A yard 20 ft square with a pyramid ``depth`` ft deep and 2 ``half`` ft wide in its middle, all else at 1 %."""
    points = {"A": (0, 0), "B": (20, 0), "C": (20, 20), "D": (0, 20), "M": (10, 10)}
    points |= {f"Q{k}": (10 + half * x, 10 + half * y) for k, (x, y) in enumerate([(-1, -1), (1, -1), (1, 1), (-1, 1)])}
    heights = {**dict.fromkeys("ABCD", 99.9), **dict.fromkeys(("Q0", "Q1", "Q2", "Q3"), 100.0), "M": 100.0 - depth}
    line = "  lines: [{name: rim, kind: ridge, along: [Q0, Q1, Q2, Q3, Q0]}]\n"
    return design(points, heights, GARDEN, more=line + more)


def waffle(low: list[float], more: str = "") -> str:
    """A strip 4 ft wide with a pit of each depth (ft) along it, 2 ft apart between ridges at 100."""
    size = len(low)
    points = {"A": (0, 0), "B": (2 * size + 4, 0), "C": (2 * size + 4, 4), "D": (0, 4)}
    points |= {f"M{k}": (2 * k + 3, 2) for k in range(size)}
    points |= {f"R{k}{side}": (2 * k + 2, y) for k in range(size + 1) for side, y in (("s", 0), ("n", 4))}
    heights = {**dict.fromkeys(points, 100.0), **{f"M{k}": 100 - depth for k, depth in enumerate(low)}}
    ridges = [f"    - {{name: r{k}, kind: ridge, along: [R{k}s, R{k}n]}}" for k in range(size + 1)]
    return design(points, heights, "rest: lawn", more="\n".join(["  lines:", *ridges, more]))


@pytest.mark.parametrize(
    ("depth", "half", "expected"),
    [  # common practice: over 1/8 in a caution; over 1/4 in, or 10 ft2 as well, a hold
        (0.125 / 12, 3.0, []),
        (0.126 / 12, 1.5, [("caution", "shallow_depth_at_most")]),
        (0.126 / 12, 1.6, [("hold", "area_at_most")]),  # 3.2 ft square is 10.24 ft2
        (0.250 / 12, 1.5, [("caution", "shallow_depth_at_most")]),
        (0.251 / 12, 1.0, [("hold", "depth_at_most")]),
    ],
)
def test_standing_water_by_depth_and_area(depth: float, half: float, expected: list[tuple[str, str]]) -> None:
    report = review_by("standing-water", yard(depth, half))
    assert weights(report) == expected
    shown = [comment.shown.si for comment in report.comments]
    if expected and expected[0][1] == "area_at_most":
        assert shown == pytest.approx([(2 * half * FOOT) ** 2])
    else:
        assert shown == pytest.approx([depth * FOOT] * len(expected))


def test_a_drain_at_the_lowest_point_empties_it() -> None:
    assert weights(review_by("standing-water", yard(0.1))) == [("hold", "depth_at_most")]
    assert review_by("standing-water", yard(0.1, more="fixtures: [{kind: drain, at: M}]")).comments == ()


def test_standing_water_names_the_wall_it_stands_against() -> None:
    edges = (
        "run: [C, D], beside: building, name: barn\nrun: [B, C], beside: wall\nrun: [D, A], beside: wall\nrest: lawn"
    )
    comment = only(review_by("standing-water", design(RECTANGLE, slope_to(0, -0.01), edges)))
    assert says(comment).startswith("water stands at ") and "against edge B-C (wall), barn" in says(comment)
    assert comment.shown.si == pytest.approx(0.12 * FOOT)  # 1 % over 12 ft


@pytest.mark.parametrize("depth", [0.02, 0.1, 0.3])
def test_standing_water_followed_is_met_and_falls(depth: float) -> None:
    report = all_followed("standing-water", yard(depth))
    assert report.comments == ()


def test_many_low_spots_are_told_in_nine() -> None:
    # a waffle: 11 of the inner points of a grid stand an inch or so low, each deeper than the one before
    points = {"A": (0, 0), "B": (26, 0), "C": (26, 4), "D": (0, 4)} | {f"M{k}": (2 * k + 3, 2) for k in range(11)}
    points |= {f"R{k}{side}": (2 * k + 2, y) for k in range(12) for side, y in (("s", 0), ("n", 4))}
    heights = {**dict.fromkeys(points, 100.0), **{f"M{k}": 99.9 - 0.01 * k for k in range(11)}}
    lines = "  lines:\n" + "\n".join(f"    - {{name: r{k}, kind: ridge, along: [R{k}s, R{k}n]}}" for k in range(12))
    report = review_by("standing-water", design(points, heights, GARDEN, more=lines))
    assert len(report.comments) == 9
    last = next(one for one in report.comments if "more" in one.at.name)
    assert last.at.name == "low spot at M2 and 2 more"  # the 8 largest are M10 to M3, of the rest M2 is the deepest
    assert says(last) == "water stands at M2, and in 2 more places"
    assert advice(last) == "put a drain at M2, its rim at 99.88 ft"


def test_where_no_water_can_leave_how_high_it_stands_is_not_judged() -> None:
    text = design(RECTANGLE, slope_to(0, -0.02), "rest: wall")
    assert review_by("standing-water", text).does_not_apply[0].reason == "no edge, drain or opening takes water at all"


def test_under_a_roof_only_the_rims_of_drains_are_judged() -> None:
    garage = yard(0.1).replace("use: patio", "use: garage floor")
    assert review_by("standing-water", garage).does_not_apply
    drain = "\nfixtures: [{kind: drain, name: floor drain, at: M, rim: 99.94}]"
    assert weights(review_by("standing-water", garage + drain)) == [("hold", "rim_above_at_most")]


@pytest.mark.parametrize(
    ("rim", "at", "expected"),
    [  # the finish lies at 99.90 ft in the middle; common practice: flush to 1/4 in low, over 1/2 in low wants a dish
        (99.90, "M", []),
        (99.91, "M", [("hold", "rim_above_at_most")]),
        (99.88, "M", []),
        (99.85, "M", [("caution", "rim_below_at_most")]),
        (100.01, "Q0", [("caution", "idle_rim_above_at_most")]),  # no water comes to the ridge
    ],
)
def test_the_rim_of_a_drain_lies_flush_or_a_little_low(rim: float, at: str, expected: list[tuple[str, str]]) -> None:
    fixtures = "fixtures: [{kind: drain, at: M}]" if at != "M" else "fixtures: []"
    more = fixtures[:-1] + (", " if at != "M" else "") + f"{{kind: drain, name: tried, at: {at}, rim: {rim}}}]"
    report = review_by("standing-water", yard(0.1, more=more))
    assert weights(report) == expected
    for comment in report.comments:
        finish = 99.90 if at == "M" else 100.0
        assert comment.shown.si == pytest.approx(abs(rim - finish) * FOOT)
        assert ("above the finish" in says(comment)) is (rim > finish)
        assert plain(comment.working[0].numbers, "us", both=False) == (
            f"{rim} ft - {finish:.10f} ft" if rim > finish else f"{finish:.10f} ft - {rim} ft"
        )


def test_a_rim_is_set_flush() -> None:
    fixture = "fixtures: [{kind: drain, name: yard drain, at: M, rim: 99.95}]"
    comment = only(review_by("standing-water", yard(0.1, more=fixture)))
    assert advice(comment) == "set the rim of yard drain flush, at 99.90 ft"
    ((edit,),) = [remedy.edits for remedy in comment.remedies]
    assert edit.path == "fixtures[0].rim"


def test_near_a_building_an_eighth_of_an_inch_is_too_much() -> None:
    heights = {**dict.fromkeys("ABCD", 100.0), "V1": 100.0, "V2": 100.0, "M": 99.985}
    lines = "  lines: [{name: dip, kind: valley, along: [V1, M, V2]}]"
    points = {**VALLEY, "M": (10, 6)}
    edges = "run: [A, B], beside: building, name: house\nrest: lawn"
    comments = review_by("standing-water", design(points, heights, edges, more=lines)).comments
    assert [(one.weight, one.limit.name) for one in comments] == [("hold", "depth_by_building_at_most")]
    garden = design(points, heights, "rest: lawn", more=lines)
    assert limits_broken(review_by("standing-water", garden)) == ["area_at_most"]


@pytest.mark.parametrize(("off", "near"), [(9.9, True), (10.1, False)])
def test_a_low_spot_within_ten_feet_of_a_building_is_near_it(off: float, near: bool) -> None:
    # 10 ft: common practice
    points = {"A": (0, 0), "B": (20, 0), "C": (20, 30), "D": (0, 30), "M": (10, off + 5)}
    points |= {"Q0": (5, off), "Q1": (15, off), "Q2": (15, off + 10), "Q3": (5, off + 10)}
    heights = {**dict.fromkeys(points, 100.0), "M": 99.985}
    lines = "  lines: [{name: rim, kind: ridge, along: [Q0, Q1, Q2, Q3, Q0]}]"
    text = design(points, heights, "run: [A, B], beside: building, name: house\nrest: lawn", more=lines)
    limits = limits_broken(review_by("standing-water", text))
    assert ("depth_by_building_at_most" in limits) is near


@pytest.mark.parametrize(("along", "expected"), [(0.0, 1), (0.0046, 1), (0.0049, 0), (0.005, 0)])
def test_water_that_comes_to_a_curb_runs_along_it(along: float, expected: int) -> None:
    """SDDC-TEA parking tutorial: 0.5 % is the lowest grade of concrete; a twentieth less is let pass."""
    edges = "run: [C, D], beside: curb, name: kerb\nrest: lawn"
    comments = review_by("standing-water", design(RECTANGLE, slope_to(-along, -0.02), edges)).comments
    told = [one for one in comments if one.limit.name == "along_dam_at_least"]
    assert len(told) == expected
    for comment in told:
        assert comment.shown.si == pytest.approx(along, abs=1e-9)


# standing-water: rims of drains, 1/2 in below the finish at most, and no higher (common practice)


@pytest.mark.parametrize(
    ("rim", "limits"),
    [  # heights typed to 0.01 ft: half a step above is let pass, below none; 1/2 in is 0.0417 ft
        (99.804, []), (99.806, ["rim_above_at_most"]), (99.7585, []), (99.758, ["rim_below_at_most"]),
    ],
)  # fmt: skip
def test_standing_water_a_rim_stands_as_little_above_as_heights_are_known(rim: float, limits: list[str]) -> None:
    points = {**RECTANGLE, "M": (10, 6)}
    text = design(points, {**dict.fromkeys("ABCD", 100.0), "M": 99.8}, "rest: curb")
    report = review_by("standing-water", f"{text}\nfixtures: [{{kind: drain, name: yard, at: M, rim: {rim}}}]")
    assert limits_broken(report) == limits


@pytest.mark.parametrize(("up", "told"), [(-0.05, False), (0.006, False), (0.007, True), (0.02, True)])
def test_standing_water_a_rim_that_stands_up_in_a_slope_is_looked_at(up: float, told: bool) -> None:
    """The slab lies at 99.8794 m there by its corners, and is brought to a rim within a quarter of an inch.

    A rim that lies lower has its dish, whose heights nobody types.
    """
    drain = f"fixtures: [{{kind: drain, name: yard, at: [10, 6], rim: {99.8794 + up:.4f}}}]"
    said = judged("standing-water", f"{design(RECTANGLE, slope_to(0, -0.0201), 'rest: lawn', unit='m')}\n{drain}")
    assert any("rim" in one.limit.name for one in said) is told


@pytest.mark.parametrize(
    ("up", "told"),
    [(0.20, True), (0.08, True), (0.06, False), (0.0, False), (-0.20, False)],
)
def test_standing_water_a_drain_that_the_slab_falls_away_from_is_told(up: float, told: bool) -> None:
    """A pyramid falls least toward its corners, by the height over 14.14 ft: 0.5 % of that is 0.0707 ft."""
    points = {"A": (0, 0), "B": (20, 0), "C": (20, 20), "D": (0, 20), "M": (10, 10)}
    text = design(points, {**dict.fromkeys("ABCD", 100.0), "M": 100 + up}, "rest: lawn")
    report = review_by("standing-water", f"{text}\nfixtures: [{{kind: drain, name: yard, at: M, rim: {100 + up}}}]")
    assert limits_broken(report) == (["away_from_drain_at_most"] if told else [])


@pytest.mark.parametrize("up", range(8))
def test_standing_water_a_drain_that_water_comes_to_from_any_of_eight_sides_is_left_alone(up: int) -> None:
    """The slab lies 0.2 ft lower at all but one of eight points 2 ft round a drain, and higher at that."""
    points = {"A": (0, 0), "B": (40, 0), "C": (40, 20), "D": (0, 20), "M": (12, 10)}
    ring = {f"P{k}": (12 + 2 * math.cos(k * math.pi / 4), 10 + 2 * math.sin(k * math.pi / 4)) for k in range(8)}
    heights = {**dict.fromkeys([*"ABCD", *ring], 99.8), "M": 100.0, f"P{up}": 100.1}
    drain = "fixtures: [{kind: drain, name: yard, at: M, rim: 100}]"
    plain_text = design({**points, **ring}, heights, "rest: lawn", "A B C D")
    told = limits_broken(review_by("standing-water", f"{plain_text}\n{drain}"))
    assert "away_from_drain_at_most" not in told
    lower = plain_text.replace(f"P{up}: 100.1", f"P{up}: 99.8")
    told = limits_broken(review_by("standing-water", f"{lower}\n{drain}"))
    assert "away_from_drain_at_most" in told


@pytest.mark.parametrize(("rim", "limits"), [(100.25, ["away_from_drain_at_most"]), (100.04, []), (99.85, [])])
def test_standing_water_a_channel_that_the_slab_falls_away_from_is_told(rim: float, limits: list[str]) -> None:
    """Over 10 ft to either side 0.25 ft are 2.5 % and 0.04 ft are 0.4 %."""
    points = {"A": (0, 0), "M": (10, 0), "B": (20, 0), "C": (20, 20), "N": (10, 20), "D": (0, 20)}
    text = design(points, dict.fromkeys("ABCD", 100.0), "rest: lawn")
    channel = f"channels: [{{name: yard, along: [M, N], width: 4 in, rim: {rim}}}]"
    report = review_by("standing-water", f"{text}\n{channel}")
    assert [one.limit.name for one in report.comments if one.limit.name.startswith("away")] == limits


@pytest.mark.parametrize("turned", [False, True])
def test_standing_water_a_channel_is_looked_at_square_to_it_at_its_middle(turned: bool) -> None:
    """A ridge of 4 % to both sides that falls 2 % along itself; the channel on it bends beyond its middle."""
    drawn = {"A": (0, 0), "M": (10, 0), "B": (20, 0), "C": (20, 30), "N": (10, 30), "D": (0, 30), "P": (10, 20)}
    heights = {name: 100 - 0.04 * abs(x - 10) - 0.02 * y for name, (x, y) in drawn.items()}
    points = {name: (y, -x) for name, (x, y) in drawn.items()} if turned else drawn
    text = design(points, heights, "rest: lawn", "A M B C N D", "  lines: [{kind: ridge, along: [M, P, N]}]")
    bend = "[20, -16]" if turned else "[16, 20]"
    channel = f"channels: [{{name: yard, along: [M, P, {bend}], width: 4 in, rim: [100, 99.6, 99.36]}}]"
    said = judged("standing-water", f"{text}\n{channel}")
    (fall,) = (one.shown.si for one in said if one.limit.name.startswith("away"))
    assert fall == pytest.approx(0.04)


@pytest.mark.parametrize(("away", "rims"), [(0.0099, 1), (0.0101, 0)])
def test_standing_water_a_rim_is_compared_with_the_finish_at_the_drain(away: float, rims: int) -> None:
    """Points nearer than a centimeter are one: 2 in too low there, and nothing said elsewhere."""
    points = {**RECTANGLE, "M": (10, 6)}
    text = design(points, {**dict.fromkeys("ABCD", 100.0), "M": 99.8}, "rest: curb", unit="m")
    drain = f"fixtures: [{{kind: drain, name: yard, at: [{10 + away}, 6], rim: 99.75}}]"
    report = review_by("standing-water", f"{text}\n{drain}")
    assert sum(one.limit.name == "rim_below_at_most" for one in report.comments) == rims


@pytest.mark.parametrize(
    ("rims", "paths"),
    [  # each rim has its own key; one for the whole channel is set where all finish heights ask the same
        ("[100.05, 100.0]", ["channels[0].rim[0]"]),
        ("[100.0, 100.05]", ["channels[0].rim[1]"]),
        ("100.05", ["channels[0].rim"]),
    ],
)
def test_standing_water_writes_the_rim_of_a_channel_where_it_stands_up(rims: str, paths: list[str]) -> None:
    points = {**RECTANGLE, "P": (0, 6), "Q": (20, 6)}
    text = design(points, dict.fromkeys(points, 100.0), "rest: curb", "A B Q C D P") + (
        f"\nchannels: [{{name: slot, along: [P, Q], width: 4 in, rim: {rims}}}]"
    )
    found = [one for one in review_by("standing-water", text).comments if one.limit.name.endswith("rim_above_at_most")]
    assert [edit.path for one in found for remedy in one.remedies for edit in remedy.edits] == paths


def test_standing_water_a_channel_is_held_where_it_lies_farthest_off() -> None:
    """One rim for all of it at 99.97: 0.03 ft over the finish at P, less at M, and 0.04 under it at Q: P is told."""
    points = {**RECTANGLE, "P": (0, 6), "M": (10, 6), "Q": (20, 6)}
    heights = {**dict.fromkeys(points, 100.0), "P": 99.94, "M": 99.95, "Q": 100.01}
    text = design(points, heights, "rest: curb", "A B Q C D P") + (
        "\nchannels: [{name: slot, along: [P, Q], width: 4 in, rim: 99.97}]"
    )
    comment = only(review_by("standing-water", text))
    assert comment.at.shape == ((0.0, pytest.approx(6 * FOOT)),)
    assert comment.shown.si == pytest.approx(0.03 * FOOT)
    assert comment.remedies == ()


def test_one_height_on_the_line_of_a_channel_is_enough_to_hold_its_rim() -> None:
    points = {**RECTANGLE, "M": (10, 6)}
    slot = "channels: [{name: slot, along: [[5, 6], [15, 6]], width: 4 in, rim: 100.05}]"
    report = review_by("standing-water", design(points, dict.fromkeys(points, 100.0), "rest: curb", more=slot))
    (found,) = (one for one in report.comments if one.limit.name.endswith("rim_above_at_most"))
    assert [edit.path for remedy in found.remedies for edit in remedy.edits] == ["channels[0].rim"]


def test_the_rim_of_a_channel_between_two_points_is_taken_from_both() -> None:
    """Rims at 100.00, 99.90 and 99.50: midway from the first to the second it lies at 99.95, on the finish there."""
    points = {**RECTANGLE, "P": (0, 6), "N": (5, 6), "M": (10, 6), "Q": (20, 6)}
    heights = {**dict.fromkeys(points, 100.0), "N": 99.95, "M": 99.90, "Q": 99.50}
    slot = "channels: [{name: slot, along: [P, M, Q], width: 4 in, rim: [100.0, 99.90, 99.50]}]"
    report = review_by("standing-water", design(points, heights, "rest: curb", "A B Q C D P", slot))
    assert not [one for one in report.comments if "rim" in one.limit.name]


def test_standing_water_along_a_curb_the_lower_end_goes_down() -> None:
    """2.1 % to a curb 20 ft long and level along it: 0.5 % of that is 0.1 ft, from 99.748 at its end."""
    text = design(RECTANGLE, plane(RECTANGLE, -0.001, -0.021), "run: [C, D], beside: curb, name: kerb line\nrest: lawn")
    comment = only(review_by("standing-water", text.replace("kerb line", "curb line")))
    assert comment.limit.name == "along_dam_at_least"
    assert advice(comment) == "lower C by about 1 in, to 99.64 ft"


@pytest.mark.parametrize(
    ("pits", "names"),
    [
        (8, []),
        (9, ["low spot at M0"]),
        (10, ["low spot at M1 and 1 more"]),
        (11, ["low spot at M2 and 2 more"]),
    ],
)
def test_standing_water_eight_low_spots_are_told_one_by_one_and_the_rest_together(pits: int, names: list[str]) -> None:
    """Each pit is deeper than the one before it, and wider: those told last are the first."""
    comments = review_by("standing-water", waffle([0.1 + 0.01 * k for k in range(pits)])).comments

    assert len(comments) == min(pits, 9)
    last = [comment for comment in comments if comment.at.name in names]
    assert [comment.at.name for comment in last] == names
    for comment in last:
        more = pits - 9
        together = {0: "", 1: ", and in 1 more place"}.get(more, f", and in {more} more places")
        assert plain(comment.says, "us") == f"water stands at M{more}{together}"
        # told alone it is raised, told with others it gets a drain
        assert advice(comment).startswith("put a drain at M" if more else "raise M0 by")


def test_a_low_spot_that_is_shallow_enough_is_met_by_its_depth() -> None:
    """An inch less 7/8: 1/8 in is let pass (common practice)."""
    (met,) = review_by("standing-water", waffle([0.0104])).met

    assert met.at is not None
    assert met.shown is not None
    assert (met.at.name, met.shown.si) == ("low spot at M0", pytest.approx(0.0104 * FOOT, abs=1e-6))


def test_a_moat_is_drawn_by_its_outer_shore() -> None:
    """A ring 0.1 ft deep round a hump that stays dry."""
    points = {"A": (0, 0), "B": (10, 0), "C": (10, 10), "D": (0, 10), "M": (5, 5)}
    points |= {f"Q{k}": xy for k, xy in enumerate([(3, 3), (7, 3), (7, 7), (3, 7)])}
    heights = {**dict.fromkeys("ABCD", 100.0), **{f"Q{k}": 99.9 for k in range(4)}, "M": 100.1}
    line = "  lines: [{name: bed, kind: valley, along: [Q0, Q1, Q2, Q3, Q0]}]"
    comment = only(review_by("standing-water", design(points, heights, "rest: lawn, ground: 90", more=line)))

    xs = [x / FOOT for x, _ in comment.at.shape]
    assert (min(xs), max(xs)) == pytest.approx((0, 10))


@pytest.mark.parametrize(
    ("walls", "against"),
    [
        (1, "edge A-B (wall)"),
        (2, "edge A-B (wall), edge B-C (wall)"),
        (3, "edge A-B (wall), edge B-C (wall), edge C-D (wall)"),
        (4, "edge A-B (wall), edge B-C (wall), edge C-D (wall)"),
    ],
)
def test_three_walls_are_named_that_hold_the_water(walls: int, against: str) -> None:
    """A level tray, its drain in the middle half a tenth of a foot too high."""
    points = {**RECTANGLE, "M": (10, 6)}
    corners = ["AB", "BC", "CD", "DA"]
    edges = "\n".join(f"run: [{a}, {b}], beside: wall" for a, b in corners[:walls])
    edges += "" if walls == 4 else "\nrest: lawn, ground: 100.05"
    heights = {**dict.fromkeys("ABCD", 100.0), "M": 100.05}
    text = design(points, heights, edges) + "\nfixtures: [{kind: drain, at: M}]"
    comments = review_by("standing-water", text).comments

    assert plain(comments[0].says, "us").partition(", against ")[2] == against


def test_standing_water_a_raised_low_point_falls_one_percent_to_where_the_water_spills() -> None:
    """A pit 0.1 ft deep, 5 ft and more from the edge: common practice."""
    points = {"A": (0, 0), "B": (10, 0), "C": (10, 10), "D": (0, 10), "M": (5, 5)}
    text = design(points, {**dict.fromkeys("ABCD", 100.0), "M": 99.9}, "rest: lawn, ground: 90")

    # root(50) ft to a corner, a hundredth of that is 0.0707 ft, written up to the next hundredth
    assert told(only(review_by("standing-water", text))) == (
        "water stands at M",
        "raise M by about 2 1/8 in, to 100.08 ft",
    )


@pytest.mark.parametrize(
    ("beside", "along", "expected"),
    [
        ("existing slab, ground: 100.3", 0.0, 1),  # a terrace above: its face holds the water as a wall does
        ("existing slab, ground: 100.3", 0.005, 0),
        ("existing slab, ground: 99.76, takes_water: true", 0.0, 0),  # flush: the water runs on over it
        ("step, ground: 100.3", 0.0, 1),
        ("wall, ground: 99.76, takes_water: true", 0.0, 0),  # the top of a wall under the edge: the water goes over it
        ("wall, ground: 99.78, takes_water: true", 0.0, 1),
        ("wall, ground: 99.76", 0.0, 1),  # nobody says that water may go over
        ("wall, takes_water: true", 0.0, 1),  # nor how high it stands
    ],
)
def test_water_that_comes_to_the_face_of_a_taller_slab_runs_along_it(beside: str, along: float, expected: int) -> None:
    edges = f"run: [C, D], beside: {beside}, name: upper terrace\nrest: lawn"
    comments = review_by("standing-water", design(RECTANGLE, slope_to(-along, -0.02), edges)).comments
    assert sum(one.limit.name == "along_dam_at_least" for one in comments) == expected


@pytest.mark.parametrize(("said", "found"), [("", ["along_dam_at_least"]), (", takes_water: true", [])])
def test_a_curb_that_takes_water_is_no_dam(said: str, found: list[str]) -> None:
    """The flush curb of a bus stop: its pad falls 2 % to it, level along it, and the water runs over into the road."""
    edges = f"run: [C, D], beside: curb, name: bus curb{said}\nrest: lawn"
    report = review_by("standing-water", design(RECTANGLE, plane(RECTANGLE, 0, -0.02), edges))

    assert limits_broken(report) == found


@pytest.mark.parametrize(("low", "told"), [(99.02, "raise C by"), (98.98, "put a drain at V1, its rim at 98.98 ft")])
def test_a_well_of_more_than_a_foot_is_told_its_drain(low: float, told: str) -> None:
    """A truck well that falls from the lot along A-B to a dock: nobody fills it up (common practice)."""
    heights = {"A": 100.0, "B": 100.0, "V1": low, "V2": low, "C": low + 0.1, "D": low + 0.1}
    edges = "run: [A, B], beside: asphalt, takes_water: true\nrest: wall"
    comment = only(review_by("standing-water", design(VALLEY, heights, edges, "A B V2 C D V1")))
    assert advice(comment).startswith(told)
