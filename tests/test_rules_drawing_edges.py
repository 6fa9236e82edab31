"""Rules about the drawing at their edges: a tape up to 20 ft and over, and which fold is the higher."""

from __future__ import annotations

import pytest
from comments import only
from design_text import review_by
from judged import finding, judged
from slabwright.rulebook.conclusion import Margin
from sloped import RECTANGLE, design, plane

FOOT, INCH = 0.3048, 0.0254


def taped(side: float, off: float) -> str:
    """A slab ``side`` ft long whose long side A-B is taped ``off`` in longer."""
    points = {"A": (0, 0), "B": (side, 0), "C": (side, 12), "D": (0, 12)}
    text = design(points, plane(points, 0, -0.02), "rest: bed")
    return f"{text}\nmeasured: [{{from: A, to: B, length: {side * 12 + off:.6f} in}}]"


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
    (one,) = judged("measured-sides", taped(side, 0))
    assert one.asked is not None
    assert one.asked.si == pytest.approx(most * INCH, rel=1e-9)
    assert one.limit.name == "fine_difference_at_most"
    caution = finding("measured-sides", taped(side, most + 0.001))
    hold = finding("measured-sides", taped(side, 2 * most + 0.001))
    assert [one.asked.si for one in (caution, hold) if one.asked] == pytest.approx([most * INCH, 2 * most * INCH])
    assert (caution.limit.weight, hold.limit.weight) == ("caution", "hold")


@pytest.mark.parametrize(("off", "way"), [(1.0, "longer"), (-1.0, "shorter")])
def test_measured_sides_tell_which_way_the_tape_is_off(off: float, way: str) -> None:
    one = finding("measured-sides", taped(20, off))
    assert (one.says.values["way"], one.says.values["first"], one.says.values["last"]) == (way, "A", "B")
    assert one.to_pass.values["last"] == "B"
    assert one.shown.si == pytest.approx(INCH)


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
