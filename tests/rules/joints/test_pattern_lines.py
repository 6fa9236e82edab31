"""The rule `pattern-lines`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, reason, slot_shown, weights
from design_text import pad, review_by
from judged import findings
from slabs.joints import box, jointed_slab, joints, timed_cut


def line(depth: str, at: float = 4) -> str:
    return f"name: P{at:g}, from: [{at}, 0], to: [{at}, 8], kind: pattern" + (f", depth: {depth}" if depth else "")


@pytest.mark.parametrize(
    ("thick", "unit", "side", "write"),
    [
        ("5 in", "ft", 12, "1 1/4 in"),  # a quarter: ACI 330R first editions (read)
        ("5 1/4 in", "ft", 12, "1 3/8 in"),
        ("2 1/2 in", "ft", 12, "5/8 in"),
        ("110 mm", "m", 4, "30 mm"),
        ("75 mm", "m", 4, "20 mm"),
    ],
)
def test_pattern_lines_a_pattern_line_is_made_a_joint_that_is_deep_enough(
    thick: str, unit: str, side: float, write: str
) -> None:
    line = "{name: P, kind: pattern, from: [1, 0], to: [1, %s]%s}"
    drawn = pad(joints(line % (side, "")), unit=unit, thick=thick, outline=box(side, side))
    (finding,) = findings("pattern-lines", drawn)

    assert (slot_shown(finding, "names"), slot_shown(finding, "write", "metric" if unit == "m" else "us")) == (
        "P",
        write,
    )
    done = drawn.replace("pattern", "saw cut").replace(f"{side}]}}]\n", f"{side}], depth: {write}}}]\n")
    assert weights(review_by("joint-depth", done)) == []


@pytest.mark.parametrize(("thick", "unit", "write"), [("3 1/2 in", "ft", "1 in"), ("90 mm", "m", "25 mm")])
def test_pattern_lines_of_a_walk_are_made_joints_an_inch_deep(thick: str, unit: str, write: str) -> None:
    """An inch at least in walks (UFGS 03300N, read); 25 mm in metric. A quarter of the slab is less."""
    line = joints("{name: P, kind: pattern, from: [4, 0], to: [4, 4]}")
    (finding,) = findings("pattern-lines", pad(line, unit=unit, thick=thick, outline=box(12, 4), use="walk"))
    assert slot_shown(finding, "write", "metric" if unit == "m" else "us") == write


def test_pattern_lines_alone_are_no_joints() -> None:
    comment = only(review_by("pattern-lines", jointed_slab(line("3/8 in"))))

    assert (comment.weight, comment.limit.name, comment.shown.si) == ("caution", "joints_at_least", 0)
    assert advice(comment) == "make P4 a saw cut 1 in deep"
    assert review_by("pattern-lines", jointed_slab(line("3/8 in") + " | " + timed_cut("6 h"))).comments == ()


def test_a_small_slab_may_have_pattern_lines_alone() -> None:
    # 24 x 4 in = 8 ft: lower end of ACI 302.1R-96, quoted
    assert review_by("pattern-lines", jointed_slab(line("3/8 in"), size=(8, 8))).comments == ()
    assert len(review_by("pattern-lines", jointed_slab(line("3/8 in"), size=(8.01, 8))).comments) == 1


@pytest.mark.parametrize(
    ("depth", "found"), [("1 in", []), ("1 1/8 in", [("note", "part_of_thickness_at_most")]), ("", [])]
)
def test_a_pattern_line_a_quarter_deep_is_a_joint(depth: str, found: list[tuple[str, str]]) -> None:
    # t/4: ACI 330R first editions (read)
    assert weights(review_by("pattern-lines", jointed_slab(line(depth) + " | " + timed_cut("6 h")))) == found


def test_a_plain_slab_has_no_pattern() -> None:
    assert reason(review_by("pattern-lines", jointed_slab(timed_cut("6 h")))) == "there are no pattern lines"
