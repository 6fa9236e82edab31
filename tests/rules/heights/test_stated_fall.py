"""The rule `stated-fall`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import math

import pytest
from changed import changed as replace
from comments import advice, only, places, weights
from design_text import review_by
from slabs.heights import ALL_LEVEL, HOUSE, SLOPED, told_values
from slabwright.review.report import Comment
from slabwright.text.words import plain, words
from slabwright.units.quantity import Amount
from sloped import RECTANGLE, design, followed

FOOT = 0.3048


def arrow(stated: str, drop: float, run: float = 12.0, along: str = "[A, D]") -> str:
    """A slab ``run`` ft deep that drops ``drop`` ft, with a fall typed on it."""
    points = {"A": (0.0, 0.0), "B": (20.0, 0.0), "C": (20.0, run), "D": (0.0, run)}
    heights = {"A": 100.0, "B": 100.0, "C": 100 - drop, "D": 100 - drop}
    return design(points, heights, "rest: lawn", more=f"  falls: [{{along: {along}, fall: {stated}}}]")


def _numbered(comment: Comment) -> Comment:
    """The comment with its heights under the slots that lists of heights use."""
    values = comment.to_pass.values
    names = [values[slot] for slot in ("point", "point1") if slot in values]
    listed = " ".join(f"{{name{k}}} {{to{k}}}" for k in range(len(names)))
    slots = {f"name{k}": name for k, name in enumerate(names)} | {f"to{k}": values["to"] for k in range(len(names))}
    return replace(comment, to_pass=words(listed, **slots))


def arrows(*falls: str, heights: dict[str, float] | None = None, depth_ft: float = 12.0, unit: str = "ft") -> str:
    points = {"A": (0.0, 0.0), "B": (20.0, 0.0), "C": (20.0, depth_ft), "D": (0.0, depth_ft)}
    listed = ", ".join(f"{{{one}}}" for one in falls)
    return design(points, heights or ALL_LEVEL, "rest: lawn", more=f"  falls: [{listed}]", unit=unit)


@pytest.mark.parametrize(
    ("stated", "drop", "run", "expected"),
    [
        ("2 %", 0.24, 12, []),
        ("2 %", 0.219, 10, []),  # 0.19 %, 0.23 in
        ("1/4 in/ft", 0.24, 12, []),  # 2.083 % and 2 %: one to the trade
        ("8 %", 0.996, 12, []),  # 8.3 %: 0.3 % and 0.43 in apart, and within 5 % of each other
        ("8 %", 1.02, 12, [("hold", "difference_at_most")]),  # 8.5 %, of which 5 % are 0.43 %
        ("1/8 in/ft", 0.6, 60, []),  # 1.042 % and 1 %: 0.3 in apart over 60 ft, yet within 5 %
        ("1 %", 0.0151 * 5, 5, [("hold", "difference_at_most")]),
        ("1/4 in/ft", 0.16, 7, []),  # 2.286 and 2.083 %: half of a hundredth is 0.07 % of 7 ft
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


# stated-fall: 0.2 %, or 1/4 in over the run; within 5 % of each other they are one (common practice)


@pytest.mark.parametrize("off", ["[[0, 40], [9, 40]]", "[A, [0, 40]]", "[[0, 40], A]", "[[5, 5], [5, 5]]"])
def test_stated_fall_goes_on_after_a_fall_off_the_slab_or_of_no_length(off: str) -> None:
    text = arrows(f"along: {off}, fall: 2 %", "along: [A, D], fall: 2 %")
    assert places(review_by("stated-fall", text)) == ["fall A-D"]


@pytest.mark.parametrize(
    ("run", "fall", "to"),
    [  # a hundredth of a foot is too coarse where half of it is over a quarter of 0.2 % of the run
        (10.0, "2.044 %", 99.80),  # 0.0044 ft off, and 0.005 ft are a quarter of 0.2 % of 10 ft
        (8.0, "2.055 %", 99.8356),  # 0.0044 ft off, and 0.004 ft
        (1.3, "2 %", 99.974),
    ],
)
def test_stated_fall_writes_hundredths_where_the_run_is_long_enough(run: float, fall: str, to: float) -> None:
    comment = only(review_by("stated-fall", arrows(f"along: [A, D], fall: {fall}", depth_ft=run)))
    height = comment.to_pass.values["to"]
    assert isinstance(height, Amount)
    assert height.si / FOOT == pytest.approx(to, abs=1e-6)


def test_stated_fall_over_a_height_difference_is_written_in_hundredths() -> None:
    """1.19 % where 1 % is written: within 0.2 %, and 0.19 % of 12.37 ft is 0.28 in."""
    heights = {"A": 100.0, "B": 100.0, "C": 100 - 0.0119 * 12.37, "D": 100 - 0.0119 * 12.37}
    comment = only(review_by("stated-fall", arrows("along: [A, D], fall: 1 %", heights=heights, depth_ft=12.37)))
    assert comment.limit.name == "height_difference_at_most"
    assert comment.shown.si == pytest.approx(0.0019 * 12.37 * FOOT)
    assert told_values(comment)["to"] == "99.88 ft"  # 99.8763


@pytest.mark.parametrize(
    ("heights", "first", "last", "worked_fall", "to"),
    [
        (dict.fromkeys("ABCD", 0.0), "A", "D", 0.0, -0.24),  # a job whose own datum is nought
        ({"A": 0.0, "B": 0.0, "C": 0.5, "D": 0.5}, "D", "A", 0.5 / 12, -0.24),
        ({"A": 0.5, "B": 0.5, "C": 0.0, "D": 0.0}, "A", "D", 0.5 / 12, 0.26),
        ({"A": 0.0, "B": 0.0, "C": -0.5, "D": -0.5}, "A", "D", 0.5 / 12, -0.24),
    ],
)
def test_stated_fall_about_a_datum_of_nought(
    heights: dict[str, float], first: str, last: str, worked_fall: float, to: float
) -> None:
    comment = only(review_by("stated-fall", arrows("along: [A, D], fall: 2 %", heights=heights)))
    values = comment.to_pass.values
    assert (values["first"], values["last"]) == (first, last)
    assert [one.si for one in (values["worked"], values["to"]) if isinstance(one, Amount)] == pytest.approx(
        [worked_fall, to * FOOT]
    )
    assert [step.result.si for step in comment.working] == pytest.approx(
        [0.24 * FOOT, (heights["A"] - heights["D"]) * FOOT]
    )
    assert values["verb"] == ("lower" if to < heights["D"] else "raise")
    retyped = comment.remedies[-1]
    assert plain(retyped.says, "us").endswith(f" from {first} to {last}")
    assert [edit.path.rpartition(".")[2] for edit in retyped.edits] == ["fall", "along"][: 2 if first == "D" else 1]


def test_a_far_edge_that_slipped_as_a_whole_is_moved_as_a_whole() -> None:
    """2 % of 12 ft are 0.24 ft. Where C and D both lie 3 ft low they go up together."""
    fall = "along: [A, D], fall: 2 %"
    both = only(review_by("stated-fall", arrows(fall, heights={"A": 100, "B": 100, "C": 96.76, "D": 96.76})))
    alone = only(review_by("stated-fall", arrows(fall, heights={"A": 100, "B": 100, "C": 99.76, "D": 96.76})))

    assert advice(both).startswith("raise D and C by 36 in, to 99.76 ft; or write 27 %")
    assert advice(alone).startswith("raise D by 36 in, to 99.76 ft; or write 27 %")
    assert [edit.path for edit in both.remedies[0].edits] == ["heights.finish.D", "heights.finish.C"]
    assert [[edit.path for edit in one.edits] for one in both.remedies[1:]] == [
        ["heights.finish.D"],
        ["heights.falls[0].fall"],
    ]


@pytest.mark.parametrize(("far", "moved"), [("CD", "DC"), ("CEFD", "DCEF"), ("CEFGD", "D")])
@pytest.mark.parametrize("turn", [0, 30, 120])
def test_a_far_edge_is_moved_with_up_to_four_points_however_it_lies(far: str, moved: str, turn: float) -> None:
    """A slab of 20 by 12 ft on a plan that lies any way; 2 % of 12 ft are 0.24 ft."""
    drawn = {"A": (0.0, 0.0), "B": (20.0, 0.0)}
    drawn |= {name: (20 - 20 * number / (len(far) - 1), 12.0) for number, name in enumerate(far)}
    across, up = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    points = {name: (30 + x * across - y * up, 50 + x * up + y * across) for name, (x, y) in drawn.items()}
    heights = {"A": 100.0, "B": 100.0, **dict.fromkeys(far, 96.76)}
    fall = "  falls: [{along: [A, D], fall: 2 %}]"
    comment = only(review_by("stated-fall", design(points, heights, "rest: lawn", f"A B {' '.join(far)}", more=fall)))
    edits = [edit.path for edit in comment.remedies[0].edits]
    assert edits == [f"heights.finish.{name}" for name in moved]


def test_a_fall_typed_between_corners_moves_the_edge_that_it_ends_on() -> None:
    """2 % of 12 ft are 0.24 ft; the middle of C-D has no height of its own, and its corners go down together."""
    low = only(review_by("stated-fall", arrow("2 %", 0.06, along="[[10, 0], [10, 12]]")))
    told = "lower C and D by about 2 1/8 in, to 99.76 ft; or write 0.5 % from (10.00 ft, 0.00 ft)"
    assert advice(low).startswith(told)
    assert [[edit.path for edit in one.edits] for one in low.remedies] == [
        ["heights.finish.C", "heights.finish.D"],
        ["heights.falls[0].fall"],
    ]
    # C and D at two heights: no point is level with the end, and none is moved for it
    askew = {"A": 100, "B": 100, "C": 99.90, "D": 99.98}
    alone = only(review_by("stated-fall", arrows("along: [[10, 0], [10, 12]], fall: 2 %", heights=askew)))
    assert [[edit.path for edit in one.edits] for one in alone.remedies] == [["heights.falls[0].fall"]]
