"""Accessible stalls: their size and slope against hand arithmetic, and how they are read and drawn."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from design_text import plan_of, review_by
from example_reviews import example, review_of
from judged import findings
from slabwright.drawing import content
from slabwright.drawing.svg.plan_svg import plan_svg
from slabwright.source.problem import UnreadableError
from slabwright.text.words import plain
from snippets import refused, saved

FOOT, INCH = 0.3048, 0.0254


def lot(x: float, y: float, stalls: str = "{corners: [[0, 0], [8, 0], [8, 18], [0, 18]]}", more: str = "") -> str:
    """Twenty by eighteen feet that falls ``x`` to the right and ``y`` up the sheet."""
    drop = {"A": 0.0, "B": 20 * x, "C": 20 * x + 18 * y, "D": 18 * y}
    heights = ", ".join(f"{name}: {100 - down:.8f}" for name, down in drop.items())
    return f"""\
format: 1
job: {{name: Test lot}}
units: {{plan: ft, height: ft}}
use: vehicle pad
points: {{A: [0, 0], B: [20, 0], C: [20, 18], D: [0, 18]}}
outline: [A, B, C, D]
stalls: [{stalls}]
edges: [{{rest: asphalt}}]
heights: {{finish: {{{heights}}}{more}}}
thickness: {{design: 5 in}}
"""


@pytest.mark.parametrize(
    ("x", "y", "over"),
    [  # straight downhill: sqrt(x2 + y2) against 1/48 = 2.0833 % (2010 ADA 502.4, quoted)
        (0.0, 1 / 48, False),
        (0.0, 1 / 48 + 1e-5, True),
        (0.0147, 0.0147, False),  # 2.079 %
        (0.0148, 0.0148, True),  # 2.093 %
        (-0.015, 0.015, True),  # 2.121 %
    ],
)
def test_the_slope_of_a_stall_is_that_straight_downhill(x: float, y: float, over: bool) -> None:
    report = review_by("stall-slope", lot(x, y))
    assert [(one.weight, one.at.name) for one in report.comments] == [("hold", "stall 1")] * over, report
    shown = report.comments[0].shown if over else report.met[0].shown
    assert shown is not None
    assert shown.si == pytest.approx(math.hypot(x, y), abs=1e-9)


def test_an_aisle_between_two_stalls_is_told_once() -> None:
    aisle = "aisle: [[8, 0], [12, 0], [12, 18], [8, 18]]"
    stalls = f"{{corners: [[0, 0], [8, 0], [8, 18], [0, 18]], {aisle}}}, "
    stalls += f"{{corners: [[12, 0], [20, 0], [20, 18], [12, 18]], {aisle}}}"
    assert len(review_by("stall-slope", lot(0, 0.03, stalls)).comments) == 3


@pytest.mark.parametrize(
    ("unit", "told"),
    [  # drawn at 1.5 %, to be built: 1.8 in of 10 ft, and a tape has eighths; 45 mm of 3 m
        ("ft", "let stall 1 fall 1 3/4 in over 10'-0\" at most, along and across put together"),
        ("m", "let stall 1 fall 45 mm over 3 m at most, along and across put together"),
    ],
)
def test_what_a_stall_may_fall_is_told_on_a_tape_and_no_more(unit: str, told: str) -> None:
    (one,) = findings("stall-slope", lot(0, 0.03).replace("plan: ft, height: ft", f"plan: {unit}, height: {unit}"))

    assert one.decide is not None
    assert plain(one.decide, "us" if unit == "ft" else "metric", both=False) == told


def test_the_steepest_place_of_a_stall_is_told() -> None:
    """Level to y = 12 ft, then 3 in 100: a stall to 18 ft falls 3 %, in its last third; one to 12 ft not at all."""
    fold = ", lines: [{kind: grade break, along: [[0, 12], [20, 12]]}]"
    text = lot(0, 0, "{name: far, corners: [[0, 0], [8, 0], [8, 18], [0, 18]]}, "
                     "{name: near, corners: [[10, 0], [18, 0], [18, 12], [10, 12]]}", fold)  # fmt: skip
    text = text.replace("C: 100.00000000, D: 100.00000000", "C: 99.82, D: 99.82, [0, 12]: 100, [20, 12]: 100")
    text = text.replace("D: [0, 18]}", "D: [0, 18], E: [0, 12], F: [20, 12]}").replace(
        "[0, 12]: 100, [20, 12]", "E: 100, F"
    )
    text = text.replace("along: [[0, 12], [20, 12]]", "along: [E, F]")
    (far,) = review_by("stall-slope", text).comments
    assert (far.at.name, far.shown.si) == ("stall far", pytest.approx(0.03))
    ((x, y),) = [one.at for name, one in plan_of(text).stalls.steepest.items() if name == "stall far"]  # type: ignore[misc]
    assert 0 <= x <= 8 * FOOT and 12 * FOOT <= y <= 18 * FOOT
    assert "it falls most at (" in plain(far.says, "us")


@pytest.mark.parametrize(
    ("kind", "stall", "aisle", "expected"),
    [  # inches; 2010 ADA 502.2 and 502.3: 96, 132 and 60 quoted, a van's 96 by 96 recalled
        ("car", 96, 60, []),
        ("car", 95, 60, ["car_width_at_least"]),
        ("car", 96, 59, ["aisle_width_at_least"]),
        ("van", 132, 60, []),
        ("van", 131, 60, ["van_width_at_least"]),
        ("van", 96, 96, []),
        ("van", 96, 95, ["van_width_at_least"]),
        ("van", 95, 96, ["van_by_wide_aisle_at_least"]),
    ],
)
@pytest.mark.parametrize("slant", [0.0, 6.0])
def test_the_size_of_a_stall(kind: str, stall: float, aisle: float, expected: list[str], slant: float) -> None:
    """Slanted, a stall is a parallelogram: square to its long sides it measures base x height / long side."""
    stretch = math.hypot(slant, 18) / 18
    a, b = stall / 12 * stretch, (stall + aisle) / 12 * stretch
    text = lot(0, 0.01).replace("B: [20, 0], C: [20, 18]", "B: [34, 0], C: [34, 18]")
    corners = f"[[0, 0], [{a}, 0], [{a + slant}, 18], [{slant}, 18]]"
    beside = f"[[{a}, 0], [{b}, 0], [{b + slant}, 18], [{a + slant}, 18]]"
    text = text.replace("{corners: [[0, 0], [8, 0], [8, 18], [0, 18]]}",
                        f"{{kind: {kind}, corners: {corners}, aisle: {beside}}}")  # fmt: skip
    assert [one.limit.name for one in review_by("stall-size", text).comments] == expected
    (planned,) = plan_of(text).stalls.all
    assert planned.space.width == pytest.approx(stall * INCH)
    assert planned.space.length == pytest.approx(18 * stretch * FOOT)


def test_an_aisle_short_or_apart_is_told_and_one_not_drawn_is_asked_for() -> None:
    bare = review_by("stall-size", lot(0, 0.01)).not_shown
    assert [one.add for one in bare] == [
        ("stalls, aisle: the corners of the access aisle beside the stall, such as [B, E, F, C]",)
    ]
    stall = "{corners: [[0, 0], [8, 0], [8, 18], [0, 18]], aisle: [[9, 0], [14, 0], [14, 12], [9, 12]]}"
    two = review_by(
        "stall-size", lot(0, 0.01, "{corners: [[0, 0], [8, 0], [8, 18], [0, 18]]}, {corners: [A, B, C, D]}")
    )
    assert two.not_shown[0].place.path == "stalls[0]"
    comments = review_by("stall-size", lot(0, 0.01, stall)).comments
    assert comments[0].working[0].result.si == pytest.approx(12 / 18)
    names = [one.limit.name for one in comments]
    assert names == ["part_of_stall_at_least", "apart_at_most"]  # 12 of 18 ft, and a foot away
    narrow = stall.replace("9,", "8,").replace("14,", "12.5,").replace(" 12]", " 18]")
    (comment,) = review_by("stall-size", lot(0, 0.01, narrow)).comments
    assert plain(comment.to_pass, "us", both=False).endswith(' 60 in wide: 6" more')


def test_a_stall_off_the_slab_or_without_an_area_is_refused(tmp_path: Path) -> None:
    with pytest.raises(UnreadableError) as told:
        plan_of(lot(0, 0.01, "{corners: [[0, 30], [8, 30], [8, 48], [0, 48]]}, {corners: [[0, 0], [8, 0]]}"))
    assert [one.wrong for one in told.value.problems] == [
        "stall 1 does not lie on the slab", "the corners of stall 2 enclose no area",
    ]  # fmt: skip
    assert refused(saved(tmp_path, stalls="[{name: x, corners: [A, B, C]}, {name: X, corners: [A, B, C]}]"))


def test_a_stall_and_its_aisle_are_drawn() -> None:
    path = example("stall-slope", "meets")
    plan = plan_of(path.read_text(encoding="utf-8"))
    text = plan_svg(content.drawn(review_of(path), plan))
    assert text.count('class="line stall"') == 2
    assert "library stall" in text and "access aisle" in text
