"""The rule `street-water-kept-out`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, limits_broken, only, told, weights
from design_text import review_by
from slabs.water import slope_to, with_sections
from slabwright.text.words import plain
from sloped import RECTANGLE, VALLEY, design, plane

FOOT = 0.3048
STREET = (
    "run: [C, D], beside: street, name: mill street, ground: {gutter}\n"
    "run: [A, B], beside: building, name: garage\n"
    "rest: bed"
)
BEHIND_THE_GUTTER = (
    "raise the slab a few feet behind the gutter, before it goes on to garage, to 99.63 ft at least, and best to "
    "100.00 ft"
)
HUMP = "  lines: [{name: crest, kind: ridge, along: [V1, V2]}]"


def _along(part: float) -> float:
    """The slope along 20 ft by which ``part`` of a slab 12 ft wide that falls 2 % across leaves at its end.

    Water that leaves at the end comes from the triangle below the line of fall through the corner: for a slope s along
    it is 12 ft x 12 s / 0.02 / 2, as long as that line meets the side.
    """
    return 0.02 * 20 / 12 / (2 * (1 - part)) if part > 0.5 else 0.02 * 2 * part * 20 / 12


def drive(gutter: float, crest: float, wall: float, street: float) -> str:
    heights = {"A": wall, "B": wall, "V1": crest, "V2": crest, "C": street, "D": street}
    return design(VALLEY, heights, STREET.format(gutter=gutter), more=HUMP, use="driveway")


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
    assert advice(comment) == "raise V2 by about 3 5/8 in, to 100.00 ft"


def test_where_the_drive_rises_all_the_way_the_garage_is_the_crest() -> None:
    comment = only(review_by("street-water-kept-out", drive(99.50, 99.65, 99.80, 99.52)))
    assert comment.shown.si == pytest.approx(0.30 * FOOT)
    assert comment.weight == "note"


@pytest.mark.parametrize(
    ("wheels", "found"),
    [
        ("wheels_cross: true", ["lip_high_crest_at_least"]),
        ("name: drain at the door", ["lip_high_crest_at_least"]),  # all of the slab falls to it
        ("wheels_cross: false", []),
    ],
)
def test_a_drain_at_the_garage_door_is_filled_by_the_street(wheels: str, found: list[str]) -> None:
    edges = f"run: [C, D], beside: street, ground: 99.5\nrun: [A, B], beside: trench drain, {wheels}\nrest: bed"
    heights = {"A": 99.0, "B": 99.0, "V1": 99.3, "V2": 99.3, "C": 99.5, "D": 99.5}
    comments = review_by("street-water-kept-out", design(VALLEY, heights, edges, use="driveway")).comments
    assert [one.limit.name for one in comments] == found


@pytest.mark.parametrize(
    ("wheels", "crest", "found"),
    [  # gutter at 99.50 ft; the lip of a dropped curb, 1 1/2 in or 0.125 ft, and a curb, 6 in (common practice)
        ("true", 99.52, ["lip_high_crest_at_least"]),
        ("true", 99.63, ["curb_high_crest_at_least"]),
        ("true", 100.0, []),
        ("false", 99.52, []),
    ],
)
def test_a_channel_in_a_ramp_is_filled_by_the_street_before_the_garage_floor(
    wheels: str, crest: float, found: list[str]
) -> None:
    points = {**VALLEY, "H1": (0, 10), "H2": (20, 10)}
    heights = {"A": 99.05, "B": 99.05, "V1": 99.0, "V2": 99.0, "H1": crest, "H2": crest, "C": 99.52, "D": 99.52}
    edges = (
        "run: [C, D], beside: street, ground: 99.5\n"
        f"run: [A, B], beside: existing slab, name: garage floor, ground: 99.1, wheels_cross: {wheels}\nrest: wall"
    )
    more = "  lines: [{kind: grade break, along: [H1, H2]}]\nchannels: [{along: [V1, V2], width: 6 in, rim: 99.0}]"
    text = design(points, heights, edges, "A B V2 H2 C D H1 V1", more=more, use="driveway")
    assert limits_broken(review_by("street-water-kept-out", text)) == found


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


@pytest.mark.parametrize(
    ("gutter", "says"),
    [
        (99.81, "nothing on the slab keeps the water of the gutter from garage"),
        (99.80, "nothing on the slab keeps the water of the gutter from garage"),
        (99.79, "street water that rises about 1/8 in in the gutter runs in to garage"),
    ],
)
def test_a_crest_at_the_gutter_keeps_nothing_out(gutter: float, says: str) -> None:
    heights = {"A": 99.8, "B": 99.8, "C": 99.7, "D": 99.7}
    comment = only(review_by("street-water-kept-out", design(RECTANGLE, heights, STREET.format(gutter=gutter))))

    assert told(comment)[0] == says
    assert comment.shown.si == pytest.approx((99.8 - gutter) * FOOT, abs=1e-9)


@pytest.mark.parametrize(("unit", "such"), [("ft", "99.30"), ("m", "99.850")])
def test_the_first_of_two_streets_is_asked_about(unit: str, such: str) -> None:
    edges = (
        "run: [B, C], beside: street, name: side street\nrun: [C, D], beside: street, name: mill street\n"
        "run: [A, B], beside: building\nrest: bed"
    )
    (silent,) = review_by("street-water-kept-out", design(RECTANGLE, slope_to(0, -0.02), edges, unit=unit)).not_shown

    assert silent.add == (f"edges, ground: the height of the gutter beside side street, such as {such}",)
    assert silent.place.path == "edges[0]"


def test_only_a_gutter_among_what_is_fixed_stands_for_the_street() -> None:
    heights = {"A": 99.8, "B": 99.8, "C": 99.7, "D": 99.7}
    fixed = "fixed: [{name: sill, kind: sill, along: [A, B], height: 99.0}]"
    text = design(RECTANGLE, heights, STREET.format(gutter=99.5)) + f"\n{fixed}"

    assert only(review_by("street-water-kept-out", text)).shown.si == pytest.approx(0.3 * FOOT)


@pytest.mark.parametrize(
    ("wall", "street", "floor", "told"),
    [  # over a gutter at 99.5 ft a lip of 1 1/2 in lies at 99.625 ft, a curb of 6 in at 100.00
        (99.8, 99.7, "", "raise the crest before garage to 100.00 ft"),
        (99.6, 99.55, "", "raise the crest before garage to 99.63 ft at least, and best to 100.00 ft"),
        (99.8, 99.7, "fixed: [{name: sill, kind: sill, along: [w0, w7], height: 99.9}]",  # no crest goes over it
         "lay a trench drain before garage: the slab is highest there already"),
    ],
)  # fmt: skip
def test_a_crest_that_no_point_makes_is_told_its_height(wall: float, street: float, floor: str, told: str) -> None:
    """Eight points along the wall, each too low: more than heights of six."""
    xs = [0, 3, 6, 9, 12, 15, 18, 20]
    points = {f"w{k}": (x, 0) for k, x in enumerate(xs)} | {"C": (20, 12), "D": (0, 12)}
    heights = {**dict.fromkeys(points, wall), "C": street, "D": street}
    edges = "run: [C, D], beside: street, ground: 99.5\n" + "\n".join(
        f"run: [w{k}, w{k + 1}], beside: building, name: garage" for k in range(7)
    )
    text = design(points, heights, edges + "\nrest: bed", " ".join(points))

    assert advice(only(review_by("street-water-kept-out", f"{text}\n{floor}"))) == told


def test_a_crest_two_feet_behind_the_street_is_raised_where_it_is() -> None:
    """Eight points along it, each too low: more than heights of six."""
    ridge = {f"w{k}": (x, 10) for k, x in enumerate([0, 3, 6, 9, 12, 15, 18, 20])}
    heights = {"A": 99.2, "B": 99.2, **dict.fromkeys(ridge, 99.6), "C": 99.55, "D": 99.55}
    line = f"  lines: [{{name: crest, kind: ridge, along: [{', '.join(ridge)}]}}]"
    text = design({**RECTANGLE, **ridge}, heights, STREET.format(gutter=99.5), "A B w7 C D w0", line, use="driveway")
    comment = only(review_by("street-water-kept-out", text))

    assert advice(comment) == "raise the crest before garage to 99.63 ft at least, and best to 100.00 ft"


def test_a_side_drain_that_begins_at_the_street_is_no_way_in() -> None:
    """Along a drive that falls across to it: its head lies at the gutter, and all of the water comes to it."""
    edges = "run: [C, D], beside: street, ground: 99.5\nrun: [B, C], beside: trench drain\nrest: bed"
    text = design(RECTANGLE, plane(RECTANGLE, -0.02, 0.0), edges, use="driveway")
    assert review_by("street-water-kept-out", text).does_not_apply


@pytest.mark.parametrize(
    ("line", "corner", "says"),
    [
        (HUMP, 99.5, "raise V1 by 12 5/8 in, to 100.00 ft"),
        ("", 99.5, BEHIND_THE_GUTTER),
        ("", 99.6, BEHIND_THE_GUTTER),  # the street comes in at its far end, D
    ],
)
def test_the_mouth_of_a_drive_is_not_raised_over_the_street(line: str, corner: float, says: str) -> None:
    """A lip of 6 in at the street would stop every car: the drawn line behind it makes the crest, or a person does."""
    heights = {"A": 98.9, "B": 98.9, "V1": 98.95, "V2": 98.95, "C": corner, "D": 99.5}
    text = design(VALLEY, heights, STREET.format(gutter=99.5), more=line, use="driveway")
    comment = only(review_by("street-water-kept-out", text))
    assert advice(comment).split(";")[0].replace("about ", "") == says


@pytest.mark.parametrize(
    ("crest", "found"),
    [(10.020, "metric_lip_high_crest_at_least"), (10.025, "curb_high_crest_at_least"), (10.153, "")],
)
def test_a_dropped_curb_of_metric_work_has_a_lip_of_25_mm(crest: float, found: str) -> None:
    """25 mm at a dropped curb, 30 mm in other countries (common practice); a curb of 6 in is 152 mm."""
    text = (
        "format: 1\njob: {name: Drive}\nunits: {plan: m, height: m}\nuse: driveway\n"
        "points: {A: [0, 0], B: [4, 0], C: [4, 6], D: [0, 6], M: [0, 5], N: [4, 5]}\noutline: [A, B, N, C, D, M]\n"
        "edges: [{run: [C, D], beside: street, ground: 10}, {run: [A, B], beside: building, name: garage}, "
        f"{{rest: lawn}}]\nheights:\n  finish: {{A: 9.9, B: 9.9, M: {crest}, N: {crest}, C: 10, D: 10}}\n"
        "  lines: [{kind: ridge, along: [M, N]}]\nthickness: {design: 120 mm}\n"
    )
    assert limits_broken(review_by("street-water-kept-out", text)) == [found] * bool(found)
