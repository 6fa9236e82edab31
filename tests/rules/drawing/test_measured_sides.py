"""The rule `measured-sides`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import math

import pytest
from comments import advice, only, weights
from design_text import plan_of, review_by
from judged import finding, judged
from slabwright.source.problem import UnreadableError
from slabwright.text.words import plain
from sloped import RECTANGLE, design, plane

INCH = 0.0254


def taped(*lengths: str, points: dict[str, tuple[float, float]] | None = None) -> str:
    points = points or RECTANGLE
    return "\n".join(
        [design(points, plane(points, 0, -0.02), "rest: bed"), "measured:", *(f"  - {{{one}}}" for one in lengths)]
    )


def taped_long(side: float, off: float) -> str:
    """A slab ``side`` ft long whose long side A-B is taped ``off`` in longer."""
    points = {"A": (0, 0), "B": (side, 0), "C": (side, 12), "D": (0, 12)}
    text = design(points, plane(points, 0, -0.02), "rest: bed")
    return f"{text}\nmeasured: [{{from: A, to: B, length: {side * 12 + off:.6f} in}}]"


# measured-sides: RECTANGLE is 20 x 12 ft, its diagonal sqrt(20^2 + 12^2) = 23.3238 ft


@pytest.mark.parametrize(
    ("off", "expected"),
    [  # 1/4 in and 1/2 in up to 20 ft (layout guide; common practice)
        (0.0, []),
        (0.25, []),
        (0.2501, [("caution", "fine_difference_at_most")]),
        (0.5, [("caution", "fine_difference_at_most")]),
        (0.5001, [("hold", "difference_at_most")]),
        (12.0, [("hold", "difference_at_most")]),
    ],
)
@pytest.mark.parametrize("way", [1, -1])
def test_a_taped_side_agrees_within_a_quarter_inch(off: float, way: int, expected: list[tuple[str, str]]) -> None:
    text = taped(f"from: A, to: B, length: {240 + way * off} in")
    assert weights(review_by("measured-sides", text)) == expected


@pytest.mark.parametrize(("off", "expected"), [(1.0, []), (1.01, ["caution"]), (2.0, ["caution"]), (2.01, ["hold"])])
def test_a_longer_tape_may_be_off_by_more(off: float, expected: list[str]) -> None:
    """80 ft is four times 20 ft: 1 in for the caution, 2 in for the hold."""
    long = {"A": (0, 0), "B": (80, 0), "C": (80, 60), "D": (0, 60)}
    report = review_by("measured-sides", taped(f"from: A, to: B, length: {960 + off} in", points=long))
    assert [one.weight for one in report.comments] == expected


def test_a_racked_rectangle_shows_in_its_diagonals() -> None:
    """One long side shifted along itself by e makes the diagonals differ by about 2 L e / sqrt(L^2 + W^2)."""
    shift = 1.0  # in
    long, short = (math.hypot(240 + way * shift, 144) for way in (1, -1))
    assert long - short == pytest.approx(2 * 240 * shift / math.hypot(240, 144), rel=1e-4)
    report = review_by(
        "measured-sides",
        taped("from: A, to: B, length: 20 ft", "from: B, to: C, length: 12 ft", f"from: A, to: C, length: {long} in",
              f"from: B, to: D, length: {short} in"),
    )  # fmt: skip
    assert [(one.at.name, one.weight) for one in report.comments] == [("A-C", "hold"), ("B-D", "hold")]
    assert [one.shown.si for one in report.comments] == pytest.approx([0.858 * INCH] * 2, abs=0.002 * INCH)
    assert [plain(one.says, "us", both=False).split()[7:10] for one in report.comments] == [["about", "7/8", "in"]] * 2


def test_what_is_said_of_a_tape() -> None:
    comment = only(review_by("measured-sides", taped("from: A, to: B, length: 20'-1\"")))
    assert plain(comment.says, "us", both=False) == "the tape from A to B reads 1 in longer than the plan"
    told = advice(comment)
    assert told == "tape it again; if 20'-0\" is right, write that, else move B by 1 in on the plan"


def test_no_lengths_are_asked_for() -> None:
    report = review_by("measured-sides", design(RECTANGLE, plane(RECTANGLE, 0, 0), "rest: bed"))
    assert report.does_not_apply[0].reason == "no taped lengths are written (measured)"


def test_a_tape_between_one_point_is_refused() -> None:
    with pytest.raises(UnreadableError) as refused:
        plan_of(taped("from: A, to: A, length: 3 ft"))
    (problem,) = refused.value.problems
    assert (problem.wrong, problem.write) == ("this length begins and ends at one point", "another point")


@pytest.mark.parametrize(
    ("side", "most"),
    [  # 1/4 in in 20 ft: layout guides; as much more over a longer tape, no less over a shorter: common practice
        (6, 0.25),
        (19.5, 0.25),
        (20, 0.25),
        (20.5, 0.25 * 20.5 / 20),
        (40, 0.5),
        (50, 0.625),
    ],
)
def test_measured_sides_by_the_length_of_the_tape(side: float, most: float) -> None:
    (one,) = judged("measured-sides", taped_long(side, 0))
    assert one.asked is not None
    assert one.asked.si == pytest.approx(most * INCH, rel=1e-9)
    assert one.limit.name == "fine_difference_at_most"
    caution = finding("measured-sides", taped_long(side, most + 0.001))
    hold = finding("measured-sides", taped_long(side, 2 * most + 0.001))
    assert [one.asked.si for one in (caution, hold) if one.asked] == pytest.approx([most * INCH, 2 * most * INCH])
    assert (caution.limit.weight, hold.limit.weight) == ("caution", "hold")


@pytest.mark.parametrize(("off", "way"), [(1.0, "longer"), (-1.0, "shorter")])
def test_measured_sides_tell_which_way_the_tape_is_off(off: float, way: str) -> None:
    one = finding("measured-sides", taped_long(20, off))
    assert (one.says.values["way"], one.says.values["first"], one.says.values["last"]) == (way, "A", "B")
    assert one.to_pass.values["last"] == "B"
    assert one.shown.si == pytest.approx(INCH)
