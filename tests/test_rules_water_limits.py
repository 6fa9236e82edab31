"""Rules about water just under and just over what they let pass, in feet and in meters."""

from __future__ import annotations

import pytest
from comments import advice, only, weights
from design_text import review_by
from slabwright.text.words import plain
from sloped import RECTANGLE, design, plane

FOOT = 0.3048
LEVEL = dict.fromkeys(RECTANGLE, 100.0)


# fall-from-building: within 36 in of a door 1.5 % is let pass, 60 in where the way in is accessible (recalled)


@pytest.mark.parametrize(
    ("site", "bend", "limits"),
    [  # 1.6 % to the bend, 2.5 % from there on; beyond what lies before a door the code asks 2 %
        ("", 35.0, []),
        ("", 38.0, ["code_away_at_least"]),
        ("site: {accessible_route: [[10, 0], [10, 12]]}", 59.0, []),
        ("site: {accessible_route: [[10, 0], [10, 12]]}", 62.0, ["code_away_at_least"]),
    ],
)
def test_fall_from_building_before_a_door_less_is_let_pass(site: str, bend: float, limits: list[str]) -> None:
    y = bend / 12
    points = {**RECTANGLE, "P": (0, y), "Q": (20, y)}
    heights = {name: 100 - 0.016 * min(at, y) - 0.025 * max(0.0, at - y) for name, (_, at) in points.items()}
    text = design(
        points, heights, "run: [A, B], beside: building, name: barn\nrest: lawn", "A B Q C D P",
        "  lines: [{kind: grade break, along: [P, Q]}]",
    )  # fmt: skip
    door = "fixtures: [{kind: door, name: door, along: [A, B]}]"
    report = review_by("fall-from-building", f"{text}\n{door}\n{site}")
    assert [one.limit.name for one in report.comments] == limits


@pytest.mark.parametrize(
    ("unit", "run", "expected"),
    [  # a valley 6 ft or 2 m before the wall, level along itself: 2 % of its length, told to the half foot or 100 mm
        ("ft", 20.2, "let it fall 4 7/8 in over 20'-0\", or set a drain at its low end"),
        ("ft", 20.6, "let it fall 5 in over 20'-6\", or set a drain at its low end"),
        ("m", 20.04, "let it fall 250 mm over 20 m, or set a drain at its low end"),
        ("m", 20.15, "let it fall 252 mm over 20.1 m, or set a drain at its low end"),
    ],
)
def test_fall_from_building_the_low_line_is_told_over_a_length_people_say(unit: str, run: float, expected: str) -> None:
    y = 6 if unit == "ft" else 2
    points = {"A": (0, 0), "B": (run, 0), "C": (run, 12), "D": (0, 12), "V1": (0, y), "V2": (run, y)}
    heights = {"A": 100.3, "B": 100.3, "C": 100.3, "D": 100.3, "V1": 100.0, "V2": 100.0}
    edges = (
        "run: [A, B], beside: building, name: barn\nrun: [B, V2], beside: wall\nrun: [D, V1], beside: wall\nrest: lawn"
    )
    text = design(points, heights, edges, "A B V2 C D V1", "  lines: [{name: v, kind: valley, along: [V1, V2]}]",
                  unit=unit)  # fmt: skip
    found = [one for one in review_by("fall-from-building", text).comments if one.at.name.startswith("low line")]
    assert [plain(one.says, "us") for one in found] == ["the low line before barn is level along itself"]
    assert [
        plain(one.decide, "us" if unit == "ft" else "metric", both=False) if one.decide else "" for one in found
    ] == [expected]


# ground-dams-edge: half an inch of lip; wheels and accessible ways may leave flush (common practice)


@pytest.mark.parametrize(
    ("beside", "use", "more", "flush"),
    [
        ("gravel", "driveway", "", True),
        ("gravel", "driveway", ", wheels_cross: false", False),
        ("gravel", "driveway", ", wheels_cross: true", True),
        ("gravel", "patio", "", False),
        ("lawn", "driveway", "", False),
        ("lawn", "driveway", ", wheels_cross: true", True),
    ],
)
def test_ground_dams_edge_gravel_that_vehicles_drive_over_may_be_flush(
    beside: str, use: str, more: str, flush: bool
) -> None:
    edges = f"run: [C, D], beside: {beside}, ground: 99.76{more}\nrest: wall"
    report = review_by("ground-dams-edge", design(RECTANGLE, plane(RECTANGLE, 0, -0.02), edges, use=use))
    assert [one.limit.name for one in report.comments] == ([] if flush else ["lip_above_ground_at_least"])


@pytest.mark.parametrize(
    ("way", "flush"),
    [
        ("[[10, 0], [10, 6], [10, 12]]", True),
        ("[[10, 12], [10, 6], [10, 0]]", True),
        ("[[0, 6], [10, 12], [20, 6]]", False),  # it passes there, and does not leave
        ("[[10, 0], [10, 11.1]]", True),  # within a foot of the edge it leaves over it
        ("[[10, 0], [10, 10.9]]", False),
    ],
)
def test_ground_dams_edge_an_accessible_way_leaves_flush_at_either_end(way: str, flush: bool) -> None:
    edges = "run: [C, D], beside: lawn, ground: 99.76\nrest: wall"
    text = design(RECTANGLE, plane(RECTANGLE, 0, -0.02), edges, use="walk") + f"\nsite: {{accessible_route: {way}}}"
    assert bool(review_by("ground-dams-edge", text).comments) is not flush


@pytest.mark.parametrize(("ground", "told"), [(99.7225, False), (99.7245, True)])
def test_ground_dams_edge_half_a_step_of_the_heights_is_let_pass(ground: float, told: bool) -> None:
    """1/2 in is 0.0417 ft under 99.76: 99.7183, and 0.005 ft more."""
    edges = f"run: [C, D], beside: lawn, ground: {ground}\nrest: wall"
    assert bool(review_by("ground-dams-edge", design(RECTANGLE, plane(RECTANGLE, 0, -0.02), edges)).comments) is told


# outlet-below: the bottom of a channel


@pytest.mark.parametrize(
    ("inverts", "says"),
    [  # it lets out at its lower end where the file names none, and at its last where it is level
        ("[99.00, 98.95]", "the bottom of slot hardly falls to B"),
        ("[98.95, 99.00]", "the bottom of slot hardly falls to A"),
        ("[99.00, 99.00]", "the bottom of slot hardly falls to B"),
    ],
)
def test_outlet_below_a_channel_lets_out_at_its_lower_end(inverts: str, says: str) -> None:
    text = design(RECTANGLE, LEVEL, "rest: curb") + (
        f"\nchannels: [{{name: slot, along: [A, B], width: 4 in, rim: 100.0, invert: {inverts}}}]"
    )
    found = [one for one in review_by("outlet-below", text).comments if one.limit.name.endswith("bottom_fall_at_least")]
    assert [plain(one.says, "us") for one in found] == [says]


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
    assert [one.limit.name for one in report.comments] == limits


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
    """One rim for all of it at 99.97: 0.03 ft over the finish at P, and 0.03 under it at Q: what stands up is told."""
    points = {**RECTANGLE, "P": (0, 6), "Q": (20, 6)}
    heights = {**dict.fromkeys(points, 100.0), "P": 99.94}
    text = design(points, heights, "rest: curb", "A B Q C D P") + (
        "\nchannels: [{name: slot, along: [P, Q], width: 4 in, rim: 99.97}]"
    )
    comment = only(review_by("standing-water", text))
    assert comment.at.shape == ((0.0, pytest.approx(6 * FOOT)),)
    assert comment.shown.si == pytest.approx(0.03 * FOOT)
    assert comment.remedies == ()


def test_standing_water_along_a_curb_the_lower_end_goes_down() -> None:
    """2 % to a curb 20 ft long and level along it: 0.5 % of that is 0.1 ft, from 99.76 at its end."""
    text = design(RECTANGLE, plane(RECTANGLE, -0.0001, -0.02), "run: [C, D], beside: curb, name: kerb line\nrest: lawn")
    comment = only(review_by("standing-water", text.replace("kerb line", "curb line")))
    assert comment.limit.name == "along_dam_at_least"
    assert advice(comment) == "lower C by about 1 1/8 in, to 99.66 ft"


# street-water-kept-out: a slab falls from the street where more than half of its water leaves it


@pytest.mark.parametrize(("part", "judged"), [(0.48, False), (0.52, True)])
def test_street_water_kept_out_of_a_slab_that_falls_from_the_street(part: float, judged: bool) -> None:
    """The part of 20 by 12 ft that runs to the old walk along B-C; the rest runs to the street along C-D."""
    edges = (
        "run: [C, D], beside: street, ground: 99.5\nrun: [B, C], beside: existing slab, name: walk, ground: 99\n"
        "rest: lawn"
    )
    heights = plane(RECTANGLE, -0.02 * part * 2 * 20 / 12 if part <= 0.3 else -_along(part), -0.02)
    report = review_by("street-water-kept-out", design(RECTANGLE, heights, edges))
    assert bool(report.comments or report.met) is judged


def _along(part: float) -> float:
    """The slope along 20 ft by which ``part`` of a slab 12 ft wide that falls 2 % across leaves at its end.

    Water that leaves at the end comes from the triangle below the line of fall through the corner: for a slope s along
    it is 12 ft x 12 s / 0.02 / 2, as long as that line meets the side.
    """
    return 0.02 * 20 / 12 / (2 * (1 - part)) if part > 0.5 else 0.02 * 2 * part * 20 / 12


# valley-fall: a drain within 0.6 m takes the water of the end (common practice)


@pytest.mark.parametrize(("off", "told"), [(0.59, "let it fall"), (0.61, "turn it round")])
def test_valley_fall_a_drain_near_the_end_takes_its_water(off: float, told: str) -> None:
    points = {**RECTANGLE, "V1": (0, 6), "V2": (20, 6)}
    heights = {**dict.fromkeys("ABCD", 30.5), "V1": 30.0, "V2": 29.99}
    edges = "run: [B, V2, C], beside: wall, name: back wall\nrest: lawn"
    text = design(points, heights, edges, "A B V2 C D", "  lines: [{kind: valley, along: [V1, V2]}]", unit="m")
    comment = only(review_by("valley-fall", f"{text}\nfixtures: [{{kind: drain, at: [{20 - off}, 6]}}]"))
    assert comment.decide is not None
    assert plain(comment.decide, "metric").startswith(told)


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
