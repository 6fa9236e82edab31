"""The rule `steel-held-up`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, places, weights
from slabs.steel import RULES, bars, mesh, review
from slabwright.text.words import plain


def test_one_rule_asks_for_the_steel_of_a_plan_that_says_nothing() -> None:
    asking = [rule for rule in RULES if review(rule, "").not_shown]

    assert asking == ["steel-held-up"]
    assert review("steel-held-up", "").not_shown[0].add[0].startswith("reinforcement: ")


@pytest.mark.parametrize(
    ("steel", "found"),
    [
        # ACI 302.1R-15 sec. 5.2.4 (quoted): no hooking up, no walking in
        (bars(held_by="nothing"), [("hold", "held_part_at_least")]),
        (mesh(held_by="hooked up by hand"), [("hold", "held_part_at_least")]),
        (bars(held_by="chairs"), []),
        (bars(held_by="stakes", support_spacing="4 ft"), []),  # 4 ft for #4 bars, common practice
        (bars(held_by="chairs", support_spacing="4 ft 1 in"), [("caution", "bar_supports_at_most")]),
        (mesh(held_by="concrete blocks", support_spacing="3 ft"), []),  # 3 ft, Florida code by a supplier (practice)
        (mesh(held_by="concrete blocks", support_spacing="3 ft 1 in"), [("note", "mesh_supports_at_most")]),
    ],
)
def test_steel_held_up(steel: str, found: list[tuple[str, str]]) -> None:
    assert weights(review("steel-held-up", steel)) == found


@pytest.mark.parametrize(
    ("held_by", "says"),
    [
        ("nothing", "nothing holds the bars up"),
        ("hooked up by hand", "the bars hooked up by hand will sink back as soon as somebody steps there"),
    ],
)
def test_steel_held_up_says_which(held_by: str, says: str) -> None:
    assert plain(only(review("steel-held-up", bars(held_by=held_by))).says, "us") == says


def test_steel_held_up_asks_what_holds_it() -> None:
    (entry,) = review("steel-held-up", bars()).not_shown

    assert entry.add[0].startswith("reinforcement.bars.held_by: what holds the steel")
    (entry,) = review("steel-held-up", bars()[:-1] + ", " + mesh()[1:]).not_shown
    assert entry.add[0].startswith("reinforcement.bars.held_by: ")  # of two mats the first


@pytest.mark.parametrize(
    ("steel", "system", "met"),
    [  # 3 ft for mesh and #3, 4 ft from #4 up, 1 m on metric plans: common practice
        (bars("#3", held_by="chairs", support_spacing="3 ft"), "ft", True),
        (bars("#3", held_by="chairs", support_spacing="4 ft"), "ft", False),
        (bars("10 mm", held_by="chairs", support_spacing="1 m"), "m", True),
        (bars("10 mm", held_by="chairs", support_spacing="1.05 m"), "m", False),
        (bars("12 mm", held_by="chairs", support_spacing="1.2 m"), "m", True),
    ],
)
def test_thin_steel_wants_its_supports_closer(steel: str, system: str, met: bool) -> None:
    assert bool(review("steel-held-up", steel, unit=system).comments) is not met


def test_steel_held_up_counts_the_chairs() -> None:
    comment = only(review("steel-held-up", mesh(held_by="nothing")))

    # 12 ft by 9 ft, from rim to rim: four rows of five
    assert advice(comment) == "set the mesh on chairs every 3 ft both ways, about 20 of them"
    assert not review("steel-held-up", mesh(held_by="chairs", support_spacing="3 ft")).comments


def test_bars_and_mesh_are_judged_each_by_itself() -> None:
    both = bars(held_by="chairs")[:-1] + ", " + mesh(held_by="nothing")[1:]

    assert places(review("steel-held-up", both)) == ["the mesh"]
