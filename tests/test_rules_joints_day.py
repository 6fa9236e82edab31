"""Loads that end at a joint, and joints that are sealed; every expected number worked by hand beside its case."""

from __future__ import annotations

import pytest
from comments import only, weights
from design_text import pad, plan_of, review_by
from slabwright.text.words import plain

# 40 ft x 20 ft x 4 in: 9.877 yd3
BULKHEAD = "joints: [{name: stop, kind: construction joint, from: [20, 0], to: [20, 20], depth: 4 in}]\n"
LONG = "[[0, 0], [40, 0], [40, 20], [0, 20]]"


def terrace(apart: str, joints: str = "", volume: str = "11 yd3", truck: str = "6 yd3", rate: str = "12 yd3/h") -> str:
    """Two loads, the first of which is placed in half an hour."""
    pour = f"pour: {{rate: {rate}{f', trucks_apart: {apart}' if apart else ''}}}\n"
    return pad(joints + pour + f"order: {{volume: {volume}, truck: {truck}}}", outline=LONG)


@pytest.mark.parametrize(
    ("apart", "expected"),
    [
        ("60 min", []),  # 30 min of nothing: more of a stop makes a construction joint, Beall p. 31 (read)
        ("61 min", [("note", "usual_gap_at_most")]),
        ("90 min", [("note", "usual_gap_at_most")]),  # over 60 min a cold joint: common practice
        ("91 min", [("caution", "gap_at_most")]),
        ("10 min", []),
    ],
)
def test_the_gap_between_two_loads(apart: str, expected: list[tuple[str, str]]) -> None:
    assert weights(review_by("loads-end-at-joint", terrace(apart))) == expected


def test_an_interval_that_joins_the_loads_is_told() -> None:
    said = plain(only(review_by("loads-end-at-joint", terrace("95 min"))).to_pass, "us", both=False)
    # 6 of 11 yd3 are a part of 9.877 yd3 of slab: 5.387 yd3
    assert said == "have trucks come 1 h apart; or plan construction joints with 5.39 yd3 of slab between them"


@pytest.mark.parametrize(
    ("joints", "met"),
    [
        (BULKHEAD, True),  # two halves of 4.94 yd3, each within a load
        (BULKHEAD.replace("construction joint", "formed strip"), True),
        (BULKHEAD.replace("construction joint", "formed strip").replace("depth: 4 in", "depth: 1 in"), False),
        (BULKHEAD.replace("construction joint", "saw cut").replace("depth: 4 in", "depth: 1 in"), False),
        (
            BULKHEAD.replace("construction joint, ", "saw cut, isolation: {material: foam, depth: full}, "),
            True,
        ),
        (BULKHEAD.replace("20, 0", "10, 0").replace("20, 20", "10, 20"), False),  # three quarters are over a load
        (BULKHEAD.replace("to: [20, 20]", "to: [20, 10]"), False),  # parts nothing
    ],
)
def test_a_joint_at_which_a_load_can_end_takes_the_gap_away(joints: str, met: bool) -> None:
    assert bool(review_by("loads-end-at-joint", terrace("95 min", joints)).met) is met


def test_sections_hold_all_of_the_slab() -> None:
    plan = plan_of(terrace("95 min", BULKHEAD.replace("20, 0", "10, 0").replace("20, 20", "10, 20")))
    yards = [part.volume / 0.9144**3 for part in plan.panels.sections]
    assert sorted(yards) == pytest.approx([200 / 81, 600 / 81])  # 81 ft2 of 4 in are a cubic yard
    assert sum(part.volume for part in plan_of(terrace("")).panels.sections) == pytest.approx(800 / 81 * 0.9144**3)


def test_loads_that_nobody_spaces_are_not_judged() -> None:
    assert review_by("loads-end-at-joint", terrace("")).does_not_apply
    assert review_by("loads-end-at-joint", pad("")).does_not_apply
    one = review_by("loads-end-at-joint", terrace("95 min", volume="5 yd3"))
    assert one.does_not_apply[0].reason == "it comes in one load"
    (entry,) = review_by("loads-end-at-joint", pad("pour: {trucks_apart: 40 min}")).not_shown
    assert [add.split(":")[0] for add in entry.add] == ["pour.rate", "order.truck", "order.volume"]
    half = pad("pour: {trucks_apart: 40 min}\norder: {volume: 11 yd3, truck: 6 yd3}", outline=LONG)
    assert [add.split(":")[0] for add in review_by("loads-end-at-joint", half).not_shown[0].add] == ["pour.rate"]


CUT = "{kind: saw cut, from: [%s, 0], to: [%s, 20], depth: 1 in%s}"


def cuts(*sealed: str) -> str:
    """A saw cut each four feet."""
    return f"joints: [{', '.join(CUT % (4 * k, 4 * k, one) for k, one in enumerate(sealed, 1))}]\n"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (pad(cuts(", sealed: true", ""), "vehicle pad", outline=LONG), 1),  # not said counts as open
        (pad(cuts(", sealed: false", ", sealed: false"), "driveway", outline=LONG), 2),
        (pad(cuts(", sealed: true", ", sealed: true"), "driveway", outline=LONG), 0),
        (pad("site: {deicing_salt: true}\n" + cuts(", sealed: true", ""), outline=LONG), 1),
        (
            pad(cuts(", isolation: {material: foam, sealed: true}", ", sealed: true"), "driveway", outline=LONG),
            0,
        ),
    ],
)  # fmt: skip
def test_open_joints_are_counted(text: str, expected: int) -> None:
    report = review_by("joints-sealed", text)
    shown = report.comments[0].shown if report.comments else report.met[0].shown
    assert shown is not None
    assert shown.si == expected
    assert weights(report) == ([("note", "open_joints_at_most")] if expected else [])


def test_many_open_joints_are_named_in_part() -> None:
    comment = only(review_by("joints-sealed", pad(cuts(", sealed: false", *[""] * 8), "driveway", outline=LONG)))
    named = "joints J1, J2, J3, J4, J5, J6, J7, J8 and 1 more"
    assert plain(comment.to_pass, "us", both=False) == f"seal {named}: 180'-0\" of it"


def test_joints_that_neither_wheels_nor_salt_come_to() -> None:
    assert review_by("joints-sealed", pad(cuts(", sealed: false"), outline=LONG)).does_not_apply
    assert review_by("joints-sealed", pad("", "driveway")).does_not_apply
    tooled = cuts("", "").replace("saw cut", "tooled groove")  # rounded, and left open on walks
    salted = review_by("joints-sealed", pad("site: {deicing_salt: true}\n" + tooled, "walk", outline=LONG))
    assert salted.does_not_apply[0].reason.startswith("no joint is drawn")
    (entry,) = review_by("joints-sealed", pad(cuts("", ""), "driveway", outline=LONG)).not_shown
    assert entry.add[0].startswith("joints, sealed")
