"""The rule `drive-grade-by-garage`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import only, weights
from design_text import review_by
from judged import judged
from slabs.heights import HOUSE_BY_BED
from slabwright.rulebook.conclusion import Margin
from slabwright.rulebook.remedy import Write
from sloped import design

FOOT = 0.3048
LONG = {
    "A": (0, 0), "B": (12, 0), "E": (0, 8), "F": (12, 8), "G": (0, 30), "H": (12, 30), "C": (12, 90), "D": (0, 90),
}  # fmt: skip
LONG_DRIVE = {"A": (0, 0), "B": (12, 0), "C": (12, 60), "D": (0, 60), "E": (0, 20.1), "F": (12, 20.1)}


def drive(near: float, middle: float, far: float) -> str:
    """A drive of 90 ft with folds 8 and 30 ft from the garage; the slope of each of its three parts."""
    first = 100 - 8 * near
    second = first - 22 * middle
    heights = {"A": 100.0, "B": 100.0, "E": first, "F": first, "G": second, "H": second}
    heights |= dict.fromkeys("CD", second - 60 * far)
    more = "  lines: [{kind: grade break, along: [E, F]}, {kind: grade break, along: [G, H]}]"
    return design(LONG, heights, "run: [A, B], beside: building, name: garage\nrest: bed", more=more, use="driveway")


def long_drive(by_garage: float, beyond: float, use: str = "driveway", edges: str = HOUSE_BY_BED) -> str:
    """60 ft from the garage to the street, folded 20.1 ft from the garage."""
    fold = 100 - 20.1 * by_garage
    end = fold - 39.9 * beyond
    heights = {"A": 100.0, "B": 100.0, "E": fold, "F": fold, "C": end, "D": end}
    more = "  lines: [{name: fold, kind: grade break, along: [E, F]}]"
    return design(LONG_DRIVE, heights, edges, more=more, use=use)


# drive-grade-by-garage: 10 % within 20 ft


@pytest.mark.parametrize(
    ("near", "middle", "far"),
    [(0.12, 0.12, 0.05), (0.12, 0.12, 0.02), (-0.12, -0.12, 0.05)],
)
def test_drive_grade_by_garage_takes_the_mean_of_twenty_feet(near: float, middle: float, far: float) -> None:
    """30 ft at 12 %; 8 ft of it followed by 2 % are 6 % in the mean of 20 ft, which is a level bay."""
    comment = only(review_by("drive-grade-by-garage", drive(near, middle, far)))
    assert comment.shown.si == pytest.approx(0.12)
    assert review_by("drive-grade-by-garage", drive(near, near / 6, far)).comments == ()


def test_drive_grade_by_garage_tells_the_steepest_spot_of_each_building() -> None:
    text = drive(0.12, 0.02, 0.05).replace("rest: bed", "run: [C, D], beside: building, name: barn}\n  - {rest: bed")
    found = judged("drive-grade-by-garage", text)
    assert [(one.at.name, round(one.shown.si, 6)) for one in found] == [("garage", 0.06), ("barn", 0.05)]


@pytest.mark.parametrize(
    ("by_garage", "beyond", "expected"),
    [  # 10 %: Barrington Hills IL, the lowest of the municipal grades that were read; 5 % of it is given
        (0.10, 0.14, []),
        (-0.10, 0.14, []),
        (0.106, 0.02, [("caution", "by_garage_at_most")]),
        (-0.106, 0.02, [("caution", "by_garage_at_most")]),  # rising from the door is as steep as falling
    ],
)
def test_a_drive_is_gentle_before_the_garage(by_garage: float, beyond: float, expected: list[tuple[str, str]]) -> None:
    assert weights(review_by("drive-grade-by-garage", long_drive(by_garage, beyond))) == expected


def test_the_drive_is_eased_before_the_garage() -> None:
    """10 % of 20.1 ft lies 2.01 ft under 100 ft: the fold is raised to that, and what lies beyond it stays."""
    (remedy,) = only(review_by("drive-grade-by-garage", long_drive(0.12, 0.02))).remedies
    new = {edit.path: edit.value.si / FOOT for edit in remedy.edits if isinstance(edit, Write)}
    assert new.keys() == {"heights.finish.E", "heights.finish.F"}
    assert all(97.99 <= height < 98.01 for height in new.values())


def test_the_part_is_eased_that_lies_in_the_middle_of_the_twenty_feet() -> None:
    """12 ft at 18 % and 8 ft at 2 % are 11.6 % on the mean; at 10 % the fold lies 1.20 ft under 100 ft."""
    points = {"A": (20, 30), "B": (32, 30), "F": (32, 42), "C": (32, 80), "D": (20, 80), "E": (20, 42)}
    heights = {"A": 100.0, "B": 100.0, **dict.fromkeys("EF", 97.84), **dict.fromkeys("CD", 97.08)}
    line = "  lines: [{kind: grade break, along: [E, F]}]"
    text = design(points, heights, HOUSE_BY_BED, "A B F C D E", line, use="driveway")
    (remedy,) = only(review_by("drive-grade-by-garage", text)).remedies
    new = {edit.path: edit.value.si / FOOT for edit in remedy.edits if isinstance(edit, Write)}
    assert new.keys() == {"heights.finish.E", "heights.finish.F"}
    assert all(98.8 <= height < 98.83 for height in new.values())


def test_twenty_feet_and_no_further() -> None:
    """2 % over 20.1 ft and 14 % from there on, and the other way round."""
    assert review_by("drive-grade-by-garage", long_drive(0.02, 0.14)).comments == ()
    assert weights(review_by("drive-grade-by-garage", long_drive(0.14, 0.02))) == [("caution", "by_garage_at_most")]


@pytest.mark.parametrize(("near", "told"), [(0.112, False), (0.12, True)])
def test_six_meters_are_looked_at_on_a_metric_drive(near: float, told: bool) -> None:
    """5.5 m at 11.2 or 12 %, and level from there: 10.3 and 11 % in the mean of 6 m, of which 10.5 % are let pass."""
    points = {"A": (0, 0), "B": (4, 0), "F": (4, 5.5), "C": (4, 15), "D": (0, 15), "E": (0, 5.5)}
    heights = {**dict.fromkeys("AB", 100.0), **dict.fromkeys("CDEF", 100 - 5.5 * near)}
    line = "  lines: [{kind: grade break, along: [E, F]}]"
    text = design(points, heights, HOUSE_BY_BED, "A B F C D E", line, unit="m", use="driveway")
    assert bool(review_by("drive-grade-by-garage", text).comments) is told


def test_only_drives_at_buildings_have_a_stretch_before_the_garage() -> None:
    (patio,) = review_by("drive-grade-by-garage", long_drive(0.2, 0.2, use="patio")).does_not_apply
    assert patio.reason == "the slab is not a driveway"
    (bare,) = review_by("drive-grade-by-garage", long_drive(0.2, 0.2, edges="rest: bed")).does_not_apply
    assert bare.reason == "no edge is beside a building"


def test_a_level_bay_before_the_garage_has_no_fall() -> None:
    (met,) = judged("drive-grade-by-garage", long_drive(0.0, 0.05))

    assert isinstance(met, Margin)
    assert met.shown.si == 0
