"""The rule `steel-bonded`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, weights
from design_text import pad, review_by
from slabs.steel import MESH, at_pool

# bonding


@pytest.mark.parametrize(
    ("steel", "expected"),
    [
        (f"reinforcement: {{{MESH}, bonded: true}}", []),
        (f"reinforcement: {{{MESH}, bonded: false}}", [("caution", "unbonded_at_most")]),
    ],
)
def test_steel_at_a_pool_is_bonded_or_told(steel: str, expected: list[tuple[str, str]]) -> None:
    assert weights(review_by("steel-bonded", at_pool(steel))) == expected


def test_where_nobody_says_it_is_asked_and_it_stays_the_work_of_the_electrician() -> None:
    (silent,) = review_by("steel-bonded", at_pool(f"reinforcement: {{{MESH}}}")).not_shown
    assert silent.add == ("reinforcement, bonded: whether the electrician bonds the steel near the pool, such as true",)
    comment = only(review_by("steel-bonded", at_pool(f"reinforcement: {{{MESH}, bonded: false}}")))
    assert advice(comment) == "have the electrician bond the steel and test it before it is covered"
    assert not comment.remedies  # nothing that could be written settles it


@pytest.mark.parametrize(
    ("design", "reason"),
    [
        (at_pool(f"reinforcement: {{{MESH}}}", "{rest: lawn}"), "no pool is drawn"),
        (at_pool("reinforcement: none"), "no steel lies near the pool"),
        (at_pool(""), "no steel lies near the pool"),
    ],
)
def test_where_bonding_does_not_apply(design: str, reason: str) -> None:
    (entry,) = review_by("steel-bonded", design).does_not_apply
    assert entry.reason == reason


def test_a_pool_in_an_opening_counts_and_a_far_edge_beam_does_not() -> None:
    hole = "openings: [{name: plunge pool, holds: pool, corners: [[8, 8], [12, 8], [12, 12], [8, 12]]}]\n"
    beam = (
        "thickness: {{design: 4 in, thickened_edges: [{{run: {run}, depth: 10 in, taper: 1 ft, bars: [{layer}]}}]}}\n"
    )
    text = pad(hole, side="20").replace("thickness: {design: 4 in}\n", "")
    layer = 'count: 2, size: "#4"'
    near = text.replace("[[8, 8], [12, 8]", "[[8, 3], [12, 3]") + beam.format(
        run="[[0, 0], [20, 0]]", layer=f"{{{layer}}}"
    )
    far = text + beam.format(run="[[0, 0], [20, 0]]", layer=f"{{{layer}}}")  # 8 ft off
    assert review_by("steel-bonded", near).not_shown
    assert review_by("steel-bonded", far).does_not_apply[0].reason == "no steel lies near the pool"


def test_two_pools_are_told_by_the_first() -> None:
    holes = "{name: plunge pool, holds: pool, corners: [[2, 2], [5, 2], [5, 5], [2, 5]]}, "
    holes += "{name: spa, holds: pool, corners: [[10, 2], [13, 2], [13, 5], [10, 5]]}"
    text = pad(f"openings: [{holes}]\nreinforcement: {{{MESH}, bonded: false}}", side="20")
    assert only(review_by("steel-bonded", text)).at.name == "plunge pool"
