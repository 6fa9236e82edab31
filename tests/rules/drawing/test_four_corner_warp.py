"""The rule `four-corner-warp`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import math

import pytest
from comments import only, weights
from design_text import plan_of, review_by
from judged import finding, judged
from slabwright.plan import questions
from slabwright.rulebook.conclusion import Margin
from slabwright.text.words import plain
from sloped import RECTANGLE, design, plane

FOOT = 0.3048


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


@pytest.mark.parametrize(
    ("edges", "fold", "limit"),
    [  # a board of 16 ft reaches over the 10 ft from the old paving to the form, or to the line M-N (common practice)
        ("run: [B, C], beside: existing slab\nrest: lawn", "", "long_difference_at_most"),
        ("run: [B, C], beside: lawn\nrest: lawn", "", "difference_at_most"),
        ("run: [B, C], beside: existing slab\nrest: lawn", "[M, N]", "long_difference_at_most"),
        ("run: [D, A], beside: existing slab\nrest: lawn", "[M, N]", "difference_at_most"),
    ],
)
def test_a_twist_up_to_old_paving_is_struck_off_from_it(edges: str, fold: str, limit: str) -> None:
    """A patio, 10 ft from old paving to the form; or 20 ft, with a line drawn 10 ft off, twisted beyond it alone."""
    points: dict[str, tuple[float, float]] = {"A": (0, 0), "B": (10, 0), "C": (10, 9), "D": (0, 9)}
    outline, more, heights = "A B C D", "", {"A": 100, "B": 99.8, "C": 100, "D": 99.8}
    if fold:
        points = {"A": (-10, 0), "M": (0, 0), "B": (10, 0), "C": (10, 9), "N": (0, 9), "D": (-10, 9)}
        heights = {"A": 100, "M": 100, "B": 99.8, "C": 100, "N": 99.8, "D": 99.8}
        outline, more = "A M B C N D", f"  lines: [{{name: fold, kind: grade break, along: {fold}}}]"
    comment = only(review_by("four-corner-warp", design(points, heights, edges, outline, more=more)))
    assert comment.limit.name == limit


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


@pytest.mark.parametrize(
    ("raised", "higher", "lower"),
    [(0.1, 99.93, 99.88), (-0.1, 99.88, 99.83)],  # A-C in the middle moves by half of what C does; B-D stays
)
def test_four_corner_warp_takes_the_lower_fold_from_the_higher(raised: float, higher: float, lower: float) -> None:
    heights = plane(RECTANGLE, 0, -0.02)
    heights["C"] += raised
    (step,) = only(review_by("four-corner-warp", design(RECTANGLE, heights, "rest: bed"))).working
    shown = [step.numbers.values[slot] for slot in "hl"]
    assert [one.si / FOOT for one in shown] == pytest.approx([higher, lower])  # type: ignore[union-attr]
    assert step.result.si == pytest.approx(0.05 * FOOT)


def test_four_corner_warp_outlines_the_whole_piece() -> None:
    heights = plane(RECTANGLE, 0, -0.02)
    heights["C"] += 0.1
    at = finding("four-corner-warp", design(RECTANGLE, heights, "rest: bed")).at
    assert len(at.shape) == 5
    assert at.shape[0] == at.shape[4]
    assert {(round(x / FOOT), round(y / FOOT)) for x, y in at.shape} == set(RECTANGLE.values())


def test_four_corner_warp_of_a_slab_of_three_corners() -> None:
    """Three heights always lie in a plane: nothing can fold two ways."""
    points = {"A": (0, 0), "B": (20, 0), "C": (20, 12)}
    (one,) = judged("four-corner-warp", design(points, {"A": 100, "B": 99.5, "C": 99.9}, "rest: bed", "A B C"))
    assert isinstance(one, Margin)
    assert (one.shown.si, one.at.place.path) == (0.0, "heights.finish")


@pytest.mark.parametrize(
    ("width", "expected"),
    [(9.9, [("note", "long_difference_at_most")]), (10.1, [("caution", "difference_at_most")])],
)
def test_a_long_piece_winds_evenly_between_its_forms(width: float, expected: list[tuple[str, str]]) -> None:
    """A drive whose crossfall turns is struck off across; twice as long as wide it is long (common practice)."""
    points = {"A": (0.0, 0.0), "B": (20.0, 0.0), "C": (20.0, width), "D": (0.0, width)}
    heights = {**plane(points, 0.01, -0.02), "C": 100.1}
    assert weights(review_by("four-corner-warp", design(points, heights, "rest: bed"))) == expected


@pytest.mark.parametrize(
    ("use", "long", "width", "weight"),
    [
        ("driveway", 20, 12, "note"),
        ("driveway", 18, 16, "note"),  # a board of 16 ft reaches from form to form, no longer one (common practice)
        ("driveway", 18, 16.1, "caution"),
        ("walk", 6, 5, "note"),
        ("patio", 20, 12, "caution"),
    ],
)
def test_a_drive_winds_evenly_between_its_forms(use: str, long: float, width: float, weight: str) -> None:
    points = {"A": (0.0, 0.0), "B": (long, 0.0), "C": (long, width), "D": (0.0, width)}
    heights = {**plane(points, 0.01, -0.02), "C": 100.1}
    text = design(points, heights, "rest: bed", use=use)
    assert [one.weight for one in review_by("four-corner-warp", text).comments] == [weight]


def test_a_corner_of_a_wide_drive_has_no_two_forms() -> None:
    """Squares of 12 ft with the folds between them drawn, one twisted: in two rows two of its sides lie inside."""
    lane = {"A": (0.0, 0.0), "M": (12.0, 0.0), "O": (12.0, 12.0), "N": (12.0, 24.0), "D": (0.0, 24.0), "W": (0.0, 12.0)}
    wide = lane | {"B": (24.0, 0.0), "S": (24.0, 12.0), "C": (24.0, 24.0)}
    across, along = "{kind: grade break, along: [W, O]}", "{kind: grade break, along: [M, O, N]}"
    rest = "{kind: grade break, along: [O, S]}"
    for points, outline, lines, weight in (
        (wide, "A M B S C N D W", f"{across}, {along}, {rest}", "caution"),
        (lane, "A M O N D W", across, "note"),
    ):
        heights = {**plane(points, 0.0, -0.02), "A": 100.1}
        text = design(points, heights, "rest: bed", outline, f"  lines: [{lines}]", use="driveway")
        assert [one.weight for one in review_by("four-corner-warp", text).comments] == [weight]


YARD = """\
format: 1
job: {{name: Yard}}
units: {{plan: m, height: m}}
use: vehicle pad
points: {{A: [0, 0], M: [6, 0], B: [13, 0], C: [13, 6], N: [6, 6], D: [0, 6], G: [3, 2], H: [9.5, 4]}}
outline: [A, M, B, C, N, D]
edges:
  - {{rest: wall, takes_water: false}}
heights: {{finish: {{A: 10, M: 10, B: 10, C: 10, N: 10, D: 10, G: 9.94, H: 9.94}}}}
thickness: {{design: 150 mm}}
fixtures:
  - {{kind: drain, name: west gully, at: {at}}}
  - {{kind: drain, name: east gully, at: H}}
"""


@pytest.mark.parametrize(("at", "expected"), [("G", 0), ("A", 1)])
def test_a_piece_between_gullies_falls_to_them_either_way(at: str, expected: int) -> None:
    """Level at its rims, folded by the ridge between two gullies: each drains its half (common practice)."""
    yard = YARD.format(at=at).replace("at: H", "at: H" if at == "G" else "at: B")
    assert len(review_by("four-corner-warp", yard).comments) == expected
