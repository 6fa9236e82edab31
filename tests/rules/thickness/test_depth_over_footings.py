"""The rule `depth-over-footings`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import only, reason
from design_text import pad, plan_of, review_by
from judged import judged
from slabwright.rulebook.conclusion import Finding
from slabwright.text.words import plain

INCH = 0.0254


def over(depth: str, thickness: str = "4 in", more: str = "") -> str:
    return f"""
format: 1
job: {{name: Test porch}}
units: {{plan: ft, height: ft}}
use: patio
points: {{A: [0, 0], B: [10, 0], C: [10, 8], D: [0, 8]}}
outline: [A, B, C, D]
thickness:
  design: {thickness}
  over: [{{name: old pier, at: [5, 0], depth: {depth}}}]
{more}
"""


def test_every_hard_thing_is_judged_for_itself() -> None:
    things = "[{name: pipe, at: [2, 2], depth: 4 in}, {name: pier, at: [5, 5], depth: 3 in}]"
    text = pad("", side="10").replace("{design: 4 in}", f"{{design: 4 in, over: {things}}}")
    pipe, pier = judged("depth-over-footings", text)

    assert not isinstance(pipe, Finding)
    assert isinstance(pier, Finding)
    assert (pipe.shown.si, pier.shown.si) == (0.0, pytest.approx(1 * INCH))
    assert pier.limit.name == "short_at_most"


@pytest.mark.parametrize(
    ("depth", "thickness", "weight"),
    [
        (
            "3 1/4 in",
            "4 in",
            "caution",
        ),  # ACI 117-10 sec. 4.5.4: any sample at least t - 3/4 in (quoted): th-tolerance-4in
        ("3.24 in", "4 in", "hold"),
        ("4 1/4 in", "5 in", "caution"),
        ("3 1/2 in", "5 in", "hold"),  # trade-magazine Q&A: 5 in cored at 3 1/2 in is refused
        ("3 3/4 in", "4 in", ""),  # ACI 117-90: -1/4 in (read)
        ("6 in", "4 in", ""),  # no limit on too much
    ],
)
def test_concrete_over_a_pier_counts_like_a_sample(depth: str, thickness: str, weight: str) -> None:
    assert [one.weight for one in review_by("depth-over-footings", over(depth, thickness)).comments] == [weight][
        : len(weight)
    ]


def test_over_a_thick_edge_the_whole_depth_is_asked() -> None:
    thick = over("4 in", more="  thickened_edges: [{run: [A, B], depth: 8 in, taper: 3 ft}]")

    comment = only(review_by("depth-over-footings", thick))

    assert comment.shown.si == pytest.approx(4 * INCH)
    assert plain(comment.to_pass, "us", both=False) == "take 4 in off the old pier, so that 8 in fits over it"


def test_nothing_below_is_nothing_to_judge() -> None:
    bare = over("4 in").replace("  over: [{name: old pier, at: [5, 0], depth: 4 in}]\n", "")

    assert plan_of(bare).design.thickness.over == ()
    assert reason(review_by("depth-over-footings", bare)) == "nothing hard is named below the slab (thickness.over)"
