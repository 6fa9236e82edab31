"""Rules about the drawing itself: taped lengths, and corners that fold two ways."""

from __future__ import annotations

import math

import pytest
from comments import only, weights
from design_text import plan_of, review_by
from slabwright.plan import questions
from slabwright.source.problem import UnreadableError
from slabwright.text.words import plain
from sloped import RECTANGLE, design, plane

FOOT, INCH = 0.3048, 0.0254


def taped(*lengths: str, points: dict[str, tuple[float, float]] | None = None) -> str:
    points = points or RECTANGLE
    return "\n".join(
        [design(points, plane(points, 0, -0.02), "rest: bed"), "measured:", *(f"  - {{{one}}}" for one in lengths)]
    )


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
    told = plain(comment.to_pass, "us", both=False)
    assert told == "tape it again; if 20'-0\" is right, write that, else move B by 1 in on the plan"


def test_no_lengths_are_asked_for() -> None:
    report = review_by("measured-sides", design(RECTANGLE, plane(RECTANGLE, 0, 0), "rest: bed"))
    assert report.does_not_apply[0].reason == "no taped lengths are written (measured)"


def test_a_tape_between_one_point_is_refused() -> None:
    with pytest.raises(UnreadableError) as refused:
        plan_of(taped("from: A, to: A, length: 3 ft"))
    (problem,) = refused.value.problems
    assert (problem.wrong, problem.write) == ("this length begins and ends at one point", "another point")


# four-corner-warp


@pytest.mark.parametrize(
    ("raised", "expected"),
    [  # C raised by d lifts the middle of A-C by d/2 and leaves that of B-D: 1/4 in is 0.020833 ft, so d = 0.041667 ft
        (0.0, []),
        (0.0416, []),
        (0.0418, [("caution", "difference_at_most")]),
        (-0.0418, [("caution", "difference_at_most")]),
    ],
)
def test_four_corners_in_a_plane_fold_one_way(raised: float, expected: list[tuple[str, str]]) -> None:
    heights = plane(RECTANGLE, 0.01, -0.02)
    heights["C"] += raised
    report = review_by("four-corner-warp", design(RECTANGLE, heights, "rest: bed"))
    assert weights(report) == expected


@pytest.mark.parametrize("mirrored", [False, True])
def test_a_twisted_curve_is_told_by_the_point_that_is_known(mirrored: bool) -> None:
    """A walk that bends a quarter circle, its inner edge a hollow: points along the arcs have no names."""
    turn = math.sqrt(0.5)
    points = {"A": (12, 0), "B": (16, 0), "M": (16 * turn, 16 * turn), "C": (0, 16), "D": (0, 12)}
    points["N"] = (12 * turn, 12 * turn)
    heights = {"A": 98.66, "B": 98.60, "M": 98.80, "C": 99.10, "D": 99.16, "N": 98.55}
    outline = "A, B, {arc_to: C, through: M}, D, {arc_to: A, through: N}"
    drawn = {name: (y, x) for name, (x, y) in points.items()} if mirrored else points
    comment = only(review_by("four-corner-warp", design(drawn, heights, "rest: bed", outline)))
    assert plain(comment.says, "us") == "the slab is twisted along its curve, most near D"
    assert plain(comment.to_pass, "us") == "give more heights along both sides of the curve"


def test_both_middles_of_a_warp_are_named() -> None:
    comment = only(
        review_by("four-corner-warp", design(RECTANGLE, {"A": 100, "B": 99.8, "C": 100, "D": 99.8}, "rest: bed"))
    )
    assert comment.shown.si == pytest.approx(0.2 * FOOT, abs=1e-9)
    middles = {
        frozenset((told["first"], told["last"])): told["height"]
        for told in (remedy.says.values for remedy in comment.remedies)
    }
    assert middles.keys() == {frozenset("AC"), frozenset("BD")}
    assert middles[frozenset("AC")].si == pytest.approx(100 * FOOT)  # type: ignore[union-attr]
    assert middles[frozenset("BD")].si == pytest.approx(99.8 * FOOT)  # type: ignore[union-attr]


@pytest.mark.parametrize("ends", ["[A, C]", "[B, D]"])
def test_a_drawn_fold_settles_it(ends: str) -> None:
    heights = {"A": 100, "B": 99.8, "C": 100, "D": 99.8}
    more = f"  lines: [{{name: fold, kind: grade break, along: {ends}}}]"
    report = review_by("four-corner-warp", design(RECTANGLE, heights, "rest: bed", more=more))
    assert report.comments == ()
    assert report.met[0].shown is not None
    assert report.met[0].shown.si == 0


@pytest.mark.parametrize("ends", ["from: A, to: C", "from: B, to: D"])
def test_a_joint_along_a_diagonal_is_a_fold(ends: str) -> None:
    heights = {"A": 100, "B": 99.8, "C": 100, "D": 99.8}
    slab = design(RECTANGLE, heights, "rest: bed")
    assert review_by("four-corner-warp", f"{slab}\njoints: [{{kind: saw cut, {ends}}}]\n").comments == ()


def test_all_folds_are_told_at_once_and_the_same_however_the_plan_is_turned() -> None:
    points = {"A": (0, 0), "M": (20, 0), "B": (40, 0), "C": (40, 12), "N": (20, 12), "D": (0, 12)}
    heights = {"A": 100, "M": 99.8, "B": 99.5, "C": 99.8, "N": 100, "D": 99.8}
    turned = {name: (-y, x) for name, (x, y) in points.items()}
    told = []
    for drawn in (points, turned):
        comment = only(review_by("four-corner-warp", design(drawn, heights, "rest: bed", "A M B C N D")))
        told.append((plain(comment.says, "us"), plain(comment.to_pass, "us")))
        (remedy,) = comment.remedies
        assert len(remedy.edits) == 3  # either half, and the piece between their folds
    assert told[0] == told[1]
    assert told[0][0].startswith("the slab folds two ways between ")


@pytest.mark.parametrize(("rooms", "ends"), [(3, ""), (5, " and in 2 more places")])
def test_three_twisted_pieces_are_named_and_the_rest_are_counted(rooms: int, ends: str) -> None:
    """Rooms of a strip, parted by folds, each twisted by 0.1 ft."""
    stations = range(rooms + 1)
    heights = {f"A{n}": 100 - 0.1 * (n % 2) for n in stations} | {f"B{n}": 100 - 0.1 * ((n + 1) % 2) for n in stations}
    points = {f"{side}{n}": (20.0 * n, 0.0 if side == "A" else 12.0) for side in "AB" for n in stations}
    outline = " ".join([f"A{n}" for n in stations] + [f"B{n}" for n in reversed(stations)])
    folds = ", ".join(f"{{kind: grade break, along: [A{n}, B{n}]}}" for n in range(1, rooms))
    text = design(points, heights, "rest: bed", outline, more=f"  lines: [{folds}]")
    says = plain(only(review_by("four-corner-warp", text)).says, "us")
    assert says.count(";") == 2 and says.partition(" and in ")[2] == ends.removeprefix(" and in ")


def test_a_plane_is_told_of_as_a_whole() -> None:
    (met,) = review_by("four-corner-warp", design(RECTANGLE, plane(RECTANGLE, 0.01, -0.02), "rest: bed")).met
    assert met.at and met.at.name == "the whole slab"


def test_on_a_slab_with_a_bow_the_pieces_between_points_are_named_alone() -> None:
    """A room twisted by 0.2 ft, and beyond a fold a bow whose middle stands high."""
    points = {"A": (0, 0), "B": (12, 0), "C": (12, 10), "D": (0, 10), "M": (6, 13)}
    heights = {"A": 100, "B": 99.8, "C": 100, "D": 99.8, "M": 100.3}
    more = "  lines: [{name: fold, kind: grade break, along: [D, C]}]"
    text = design(points, heights, "rest: bed", "A, B, C, {arc_to: D, through: M}", more=more)
    comment = only(review_by("four-corner-warp", text))
    assert plain(comment.says, "us") == "the slab folds two ways between B, A, D and C"


def test_a_fold_is_drawn_between_heights_alone() -> None:
    points = {"A": (0, 0), "B": (20, 0), "C": (20, 12), "N": (10, 12), "D": (0, 12)}
    heights = {"A": 100, "B": 99.8, "C": 100, "D": 99.8}
    report = review_by("four-corner-warp", design(points, heights, "rest: bed", "A B C N D"))
    for remedy in only(report).remedies:
        assert {remedy.says.values["first"], remedy.says.values["last"]} <= heights.keys()


def test_a_height_in_the_middle_settles_it() -> None:
    points = {**RECTANGLE, "M": (10, 6)}
    heights = {"A": 100, "B": 99.8, "C": 100, "D": 99.8, "M": 99.9}
    assert review_by("four-corner-warp", design(points, heights, "rest: bed")).comments == ()


def test_only_the_rule_speaks_of_a_fold() -> None:
    plan = plan_of(design(RECTANGLE, {"A": 100, "B": 99.8, "C": 100, "D": 99.8}, "rest: bed"))
    assert list(questions.ask(plan)) == []


def test_corners_without_heights_do_not_fold() -> None:
    (silent,) = review_by("four-corner-warp", design(RECTANGLE, {"A": 100.0}, "rest: bed")).not_shown
    assert silent.add[0].startswith("heights.finish: the finish height at B, C, D")
