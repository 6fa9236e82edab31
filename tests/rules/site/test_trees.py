"""The rule `trees`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, limits_broken, only
from design_text import pad, review_by
from slabwright.text.words import plain


@pytest.mark.parametrize(
    ("height", "away", "limit"),
    [
        # advice page, read: 8 to 10 ft from trees under 30 ft tall, 20 ft from those over 50 ft
        (20, 8, None),
        (20, 7.9, "small_tree_at_least"),
        (30, 8, None),
        (31, 9.9, "middling_tree_at_least"),
        (50, 10, None),
        (51, 19.9, "tall_tree_at_least"),
        (60, 20, None),
    ],
)
def test_trees(height: float, away: float, limit: str | None) -> None:
    report = review_by("trees", pad(f"site: {{trees: [{{at: [{8 + away}, 4], height: {height} ft}}]}}"))

    assert limits_broken(report) == ([limit] if limit else [])
    assert review_by("trees", pad("")).does_not_apply


@pytest.mark.parametrize(("pit", "found"), [(4, []), (3, ["pit_at_least"])])
def test_a_tree_may_stand_in_a_pit_of_four_feet(pit: float, found: list[str]) -> None:
    low, high = 4 - pit / 2, 4 + pit / 2
    corners = f"[[{low}, {low}], [{high}, {low}], [{high}, {high}], [{low}, {high}]]"
    text = pad(f"openings: [{{corners: {corners}, holds: tree}}]\nsite: {{trees: [{{at: [4, 4], height: 30 ft}}]}}")
    assert limits_broken(review_by("trees", text)) == found


def test_trees_without_a_name_are_counted() -> None:
    """32 ft: 10 ft are asked, common to both figures of the advice page; 12 ft the other way is enough."""
    trees = "{at: [20, 4], height: 32 ft}, {at: [-9.5, 4], height: 32 ft}"
    comment = only(review_by("trees", pad(f"site: {{trees: [{trees}]}}")))

    assert (comment.at.name, comment.at.place.path) == ("tree 2", "site.trees[1]")
    assert plain(comment.says, "us", both=False) == "tree 2, 32 ft tall, stands 9'-6\" from the slab"
    assert advice(comment) == 'keep the slab 10 ft from tree 2: 6" more'


def test_street_trees_beside_a_public_walk_are_a_note() -> None:
    text = pad("site: {right_of_way: true, trees: [{at: [14, 4], height: 60 ft}]}", use="walk")
    assert [(one.weight, one.limit.name) for one in review_by("trees", text).comments] == [
        ("note", "street_tree_at_least")
    ]
