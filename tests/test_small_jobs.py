"""Small jobs as crews draw them: one slip is told once, where it is, however the job is drawn."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from design_text import plan_of, review_by
from example_reviews import IN_FORCE, RULES, reviewed
from slabwright.review import run
from slabwright.text.words import plain
from turning import drawing_of, turned

WATER = ("fall-from-building", "ground-dams-edge", "least-fall", "standing-water", "water-ends-where-it-may")
FILLER = "isolation: {material: foam, thickness: 1/2 in, depth: full}"


def told(text: str, *rules: str) -> list[tuple[str, str, str]]:
    """Rule, weight and place of what some rules say of a design, in the order of the rules."""
    chosen = [rule for rule in RULES if rule.name in rules]
    report = run.review(plan_of(text), chosen, IN_FORCE)
    assert not report.crashes
    return [(one.rule, one.weight, one.at.name) for one in report.comments]


def patio(edges: str, finish: str, more: str = "", outline: str = "[A, B, C, D]", use: str = "patio") -> str:
    return f"""format: 1
job: {{name: Small job}}
units: {{plan: ft, height: ft}}
use: {use}
points: {{A: [0, 0], B: [20, 0], C: [20, 14], D: [0, 14]}}
outline: {outline}
edges: [{edges}]
heights: {{finish: {{{finish}}}}}
thickness: {{design: 4 in}}
{more}"""


# --- what is cast in the slab ---

LOOPS = """joints: [{name: J1, kind: saw cut, from: [10, 0], to: [10, 14], depth: 1 in},
  {name: J2, kind: saw cut, from: [0, 7], to: [20, 7], depth: 1 1/2 in}]
embedded: [{name: loops, kind: heating tubes, size: 5/8 in, top_cover: %s, %s}]
"""


@pytest.mark.parametrize(
    ("cover", "where", "weights"),
    [
        ("2 in", "corners: [[1, 1], [19, 1], [19, 13], [1, 13]]", []),  # half an inch under the deeper cut
        ("1 3/4 in", "corners: [[1, 1], [19, 1], [19, 13], [1, 13]]", ["caution"]),  # a quarter
        ("1 3/4 in", "corners: [[1, 1], [19, 1], [19, 6], [1, 6]]", []),  # only under the cut of 1 in
        ("1 1/2 in", "along: [[5, 1], [5, 6]]", []),  # under no cut: the cover in the weather, ACI 318-11 (recalled)
        ("1 1/4 in", "along: [[5, 1], [5, 6]]", ["caution"]),
    ],
)
def test_tubes_are_held_against_the_cuts_over_them_and_the_top(cover: str, where: str, weights: list[str]) -> None:
    report = review_by("tubes-in-slab", patio("{rest: lawn}", "A: 100", LOOPS % (cover, where)))
    assert [one.weight for one in report.comments] == weights


def test_loops_written_as_a_buried_line_are_asked_about_and_not_dug_for() -> None:
    """Heating loops in the concrete have no operator to call; an oil line of the same depth has."""
    buried = "site: {buried: [{name: %s, along: [[2, 2], [18, 2]], depth: 2 in}]}\n"
    loops = review_by("buried-lines", patio("{rest: lawn}", "A: 100", buried % "radiant tubes"))
    assert not loops.comments and "embedded" in loops.not_shown[0].add[0]
    line = review_by("buried-lines", patio("{rest: lawn}", "A: 100", buried % "heating oil line"))
    assert [one.weight for one in line.comments] == ["hold"]


# --- one fault, told once ---


@pytest.mark.parametrize(("old", "expected"), [
    ("99.85", [("ground-dams-edge", "hold", "old terrace")]),  # it dams a slab that lies lower, and trips people too
    ("99.60", [("trip-at-existing-slab", "caution", "old terrace")]),  # the slab stands over it
])  # fmt: skip
def test_a_height_at_an_old_slab_is_told_once(old: str, expected: list[tuple[str, str, str]]) -> None:
    edges = f"{{run: [A, B], beside: building, {FILLER}}}, {{run: [C, D], beside: existing slab, name: old terrace, "
    text = patio(f"{edges}ground: {old}}}, {{rest: lawn}}", "A: 100, B: 100, C: 99.72, D: 99.72")
    assert told(text, "ground-dams-edge", "trip-at-existing-slab") == expected


def test_one_height_of_an_old_walk_beside_a_slab_that_falls_along_it_is_asked_for_at_each_end() -> None:
    """The old walk falls too: half the fall of 3 in is no lip."""
    edge = "{run: [B, C], beside: existing slab, name: old walk, ground: %s}, {rest: lawn}"
    finish = "A: 100, B: 100, C: 99.75, D: 99.75"
    middle = patio(edge % "99.875", finish)
    assert told(middle, "ground-dams-edge", "trip-at-existing-slab") == []
    assert "at each end" in review_by("trip-at-existing-slab", middle).not_shown[0].add[0]
    assert told(patio(edge % "[99.875, 99.75]", finish), "trip-at-existing-slab") == [
        ("trip-at-existing-slab", "caution", "old walk")
    ]


@pytest.mark.parametrize(("filler", "weights"), [(FILLER, []), ("isolation: none", ["note"]), ("name: slot", [])])
def test_a_slab_cast_tight_against_a_trench_drain_is_noted(filler: str, weights: list[str]) -> None:
    """Makers of channels ask for filler, and many are cast in tight: a note, and only where the file says it."""
    edges = f"{{run: [A, B], beside: building, {FILLER}}}, {{run: [C, D], beside: trench drain, {filler}}}"
    report = review_by("isolation-full-depth", patio(edges, "A: 100"))
    assert [one.weight for one in report.comments] == weights


def test_a_rim_that_stands_proud_is_told_as_that() -> None:
    """A patio that falls 2 % off the house; over its middle the drain stands 1 1/2 in up (by arithmetic)."""
    edges = f"{{run: [A, B], beside: building, {FILLER}}}, {{rest: lawn}}"
    rim = "fixtures: [{kind: drain, at: [10, 7], rim: %s}]\n"
    finish = "A: 100, B: 100, C: 99.72, D: 99.72"
    (comment,) = [
        one for rule in (*WATER, "greatest-fall", "four-corner-warp")
        for one in review_by(rule, patio(edges, finish, rim % "99.985")).comments
    ]  # fmt: skip
    assert plain(comment.says, "us") == "the rim of drain stands 1 1/2 in above the finish and keeps the water out"
    assert not review_by("standing-water", patio(edges, finish, rim % "99.86")).comments


def test_planes_to_a_drain_off_the_middle_fold_to_it() -> None:
    """Four planes screeded to a drain have their folds on the lines from it to the corners."""
    finish = "A: 100, B: 100, C: 99.95, D: 99.95"
    text = patio("{rest: lawn}", finish, "fixtures: [{kind: drain, at: [9, 9], rim: 99.75}]\n")
    assert not review_by("four-corner-warp", text).comments
    spot = text.replace("fixtures: [{kind: drain, at: [9, 9], rim: 99.75}]\n", "").replace(
        "D: 99.95}", "D: 99.95, M: 99.75}"
    )
    assert review_by("four-corner-warp", spot.replace("D: [0, 14]}", "D: [0, 14], M: [9, 9]}")).comments


# --- the same job, drawn otherwise ---

CORNERS = {
    "the lowest corner lies at the house and the lawn": patio(
        f"{{run: [A, B], beside: building, {FILLER}}}, {{run: [B, C], beside: lawn, ground: 99.5}}, "
        "{run: [C, D], beside: wall}, {run: [D, A], beside: wall}",
        "A: 100.0, B: 99.62, C: 99.90, D: 100.05",
    ),
    "it lies between two edges that take no water": patio(
        f"{{run: [A, B], beside: building, {FILLER}}}, {{run: [B, C], beside: property line, takes_water: false}}, "
        "{run: [C, D], beside: curb}, {run: [D, A], beside: lawn}",
        "A: 100.0, B: 100.0, C: 99.70, D: 99.74",
    ),
    "a basin spills at a corner of gravel and curb": patio(
        f"{{run: [A, B], beside: building, {FILLER}}}, {{run: [B, C], beside: curb}}, "
        "{run: [C, D], beside: gravel}, {run: [D, A], beside: curb}",
        "A: 100.4, B: 100.4, C: 100.0, D: 100.1, M: 99.9",
    ).replace("D: [0, 14]}", "D: [0, 14], M: [10, 7]}"),
}  # fmt: skip


def rounds() -> Iterator[str]:
    """The four corners from each of them, either way round."""
    for start in range(4):
        corners = "ABCD"[start:] + "ABCD"[:start]
        yield from (f"[{', '.join(way)}]" for way in (corners, corners[::-1]))


@pytest.mark.parametrize("name", CORNERS)
def test_a_corner_of_an_open_and_a_barred_edge_is_judged_alike_from_wherever_the_outline_starts(name: str) -> None:
    """Water leaves at a corner that an open edge reaches, and at no other."""
    found = {tuple(sorted(told(CORNERS[name].replace("[A, B, C, D]", way, 1), *WATER))) for way in rounds()}
    assert len(found) == 1 and found != {()}


def test_parts_and_ways_in_are_judged_alike_however_the_plan_is_turned() -> None:
    """Corners of a part lie a hair off a turned outline; a way in grazes the wall round which an apron bends."""
    shop = """format: 1
job: {name: Shop with a lift bay}
units: {plan: ft, height: ft}
use: vehicle pad
points: {A: [0, 0], B: [40, 0], C: [40, 10], K: [10, 10], D: [10, 40], E: [0, 40], P: [24, 0], Q: [24, 10]}
outline: [A, B, C, K, D, E]
parts: [{name: lift bay, corners: [P, B, C, Q], thickness: 8 in}]
edges: [{run: [A, B], beside: gravel, name: yard, wheels_cross: true}, {run: [C, K, D], beside: building}, {rest: lawn}]
heights: {finish: {A: 99.70, B: 99.70, C: 99.90, K: 99.90, D: 99.90, E: 99.70}}
thickness: {design: 6 in}
joints: [{name: J1, kind: construction joint, from: P, to: Q}]
"""
    rules = tuple(rule for rule in RULES if rule.name in ("thickness-change", "grade-break", "wheel-load"))
    for degrees in (0, 37, 201.5):
        report = reviewed(turned(drawing_of(shop), degrees), rules, IN_FORCE)
        reasons = {one.rule: one.reason for one in report.does_not_apply}
        assert reasons["thickness-change"] == "every change of thickness sits at a joint"
        assert reasons["grade-break"] == "the ways in are of one grade"
