"""The rule `leaf-clears-slab`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import math

import pytest
from comments import advice, only, places, weights
from design_text import plan_of, review_by
from slabs.heights import ALL_LEVEL, HOUSE_BY_BED, slab, told_values, walk_slab
from slabwright.text.words import plain
from sloped import RECTANGLE, design, plane

FOOT = 0.3048
HANGS = "hinge: [[0, 6]]"


def leaves(*more: str, site: str = "", use: str = "patio") -> str:
    """Gates 4 ft wide on a level slab at 100 ft, one after the other along it, with more said of each."""
    listed = [
        f"{{kind: gate, name: gate {k}, along: [[{5 * k}, 6], [{5 * k + 4}, 6]], {one}}}" for k, one in enumerate(more)
    ]
    return slab(ALL_LEVEL, f"fixtures: [{', '.join(listed)}]", site, use=use)


def gate(more: str, heights: dict[str, float] | None = None, site: str = "") -> str:
    fixture = f"fixtures: [{{kind: gate, name: gate, along: [[8, 6], [12, 6]], swings_over: true, {more}}}]"
    return walk_slab(heights or plane(RECTANGLE, 0, -0.05), fixture, site)


# leaf-clears-slab: 1 in free, 1 1/2 in where frost lifts (common practice)


@pytest.mark.parametrize(
    ("said", "swings"),
    [
        ("", False),
        (HANGS, True),
        ("swings_over: true", True),
        ("opens_to: [1, 4]", True),
        ("swings_over: false, opens_to: [1, 4]", False),
        (f"swings_over: false, {HANGS}", False),
        ("swings_over: false", False),
    ],
)
def test_leaf_clears_slab_of_leaves_that_swing_over_it(said: str, swings: bool) -> None:
    report = review_by("leaf-clears-slab", leaves(", ".join(filter(None, [said, "bottom: 99.9"]))))
    assert bool(report.does_not_apply) is not swings
    assert len(report.comments) == swings  # its underside lies 0.1 ft lower than the slab: it strikes wherever it hangs


def test_leaf_clears_slab_asks_of_the_first_leaf() -> None:
    still, first, second = "swings_over: false", "swings_over: true", "swings_over: true, bottom: 100"
    (asked,) = review_by("leaf-clears-slab", leaves(still, first, second, still)).not_shown
    assert len(asked.add) == 2
    assert all("gate 1" in one for one in asked.add)
    assert asked.place.path == "fixtures[1]"
    assert asked.add[1].endswith("such as 98.00")
    metric = leaves("swings_over: true").replace("plan: ft, height: ft", "plan: m, height: m")
    assert review_by("leaf-clears-slab", metric).not_shown[0].add[1].endswith("such as 98.000")


def test_leaf_clears_slab_goes_on_after_a_leaf_that_cannot_be_judged() -> None:
    low = "hinge: [[10, 6]], bottom: 99.9"
    far = "hinge: [[5, 6]], bottom: 99.9"
    text = leaves(HANGS, far, low).replace("[[5, 6], [9, 6]]", "[[5, 40], [9, 40]]").replace("[[5, 6]]", "[[5, 40]]")
    assert places(review_by("leaf-clears-slab", text)) == ["gate 2"]


@pytest.mark.parametrize(
    ("site", "use", "limit"),
    [
        ("site: {freezing: severe}", "patio", "frost_gap_at_least"),
        ("site: {freezing: moderate}", "patio", "frost_gap_at_least"),
        ("site: {freezing: severe}", "shop floor", "free_gap_at_least"),  # no frost lifts it
        ("", "patio", "free_gap_at_least"),
    ],
)
def test_leaf_clears_slab_asks_more_where_frost_lifts(site: str, use: str, limit: str) -> None:
    text = leaves(f"{HANGS}, bottom: 100.02", site=site, use=use)
    assert weights(review_by("leaf-clears-slab", text)) == [("caution", "free_gap_at_least")]
    over_an_inch = leaves(f"{HANGS}, bottom: 100.09", site=site, use=use)
    expected = [("note", limit)] if limit == "frost_gap_at_least" else []
    assert weights(review_by("leaf-clears-slab", over_an_inch)) == expected


@pytest.mark.parametrize(
    ("bottom", "strikes", "write", "more"),
    [  # an inch over 100 ft is 100.0833 ft, written 100.09
        (99.99, True, "100.09 ft", "about 1 1/4 in"),
        (100.0, False, "100.09 ft", "about 1 1/8 in"),
        (100.01, False, "100.09 ft", "about 15/16 in"),
    ],
)
def test_leaf_clears_slab_strikes_only_from_below(bottom: float, strikes: bool, write: str, more: str) -> None:
    text = leaves(f"{HANGS}, bottom: {bottom}, sill: 110").replace("kind: gate", "kind: door")  # hangs lower than that
    comment = only(review_by("leaf-clears-slab", text))
    assert ("strikes" in comment.says.template) is strikes
    assert (told_values(comment)["write"], told_values(comment)["more"]) == (write, more)


# leaf-clears-slab: RECTANGLE is 20 x 12 ft; the gate hangs at (8, 6) and is 4 ft wide, along x


@pytest.mark.parametrize(
    ("more", "highest"),
    [  # z = 100 - 0.05 y: 99.70 ft under the closed leaf, 0.20 ft more or less 4 ft up or down the slope
        ("hinge: [[8, 6]], opens_to: [10, 12]", 99.70),
        ("hinge: [[8, 6]], opens_to: [10, 0]", 99.90),
        ("hinge: [[8, 6]]", 99.90),
        ("hinge: [[8, 6], [12, 6]], opens_to: [10, 0]", 99.80),  # two leaves, half as long
        ("hinge: [[12, 6]], opens_to: [10, 0]", 99.90),
    ],
)
def test_the_highest_spot_under_a_swing(more: str, highest: float) -> None:
    plan = plan_of(gate(f"{more}, bottom: 100"))
    leaf = plan.doors.leaf(plan.design.fixtures[0])
    assert leaf is not None
    assert leaf.slab == pytest.approx(highest * FOOT, abs=1e-6)


def test_a_ridge_half_way_round_a_swing_is_found() -> None:
    """Level but for a spot 2 ft from the hinge, at 45 degrees: seen neither closed nor open."""
    x, y = 8 + 2 * math.cos(math.pi / 4), 6 + 2 * math.sin(math.pi / 4)
    points = {**RECTANGLE, "S": (round(x, 6), round(y, 6))}
    text = design(points, {**dict.fromkeys(RECTANGLE, 100.0), "S": 100.1}, "rest: bed", use="walk")
    fixture = "fixtures: [{kind: gate, along: [[8, 6], [12, 6]], hinge: [[8, 6]], opens_to: [10, 12], bottom: 100.05}]"
    comment = only(review_by("leaf-clears-slab", "\n".join([text, fixture])))
    assert (comment.weight, comment.shown.si) == ("hold", pytest.approx(-0.05 * FOOT, abs=1e-4))
    assert plain(comment.says, "us", both=False) == "gate strikes the slab at S"


@pytest.mark.parametrize(
    ("bottom", "site", "expected"),
    [  # 1 in = 0.0833 ft; 1 1/2 in = 0.125 ft where frost lifts (common practice). Highest spot: 99.70 ft.
        (99.69, "", [("hold", "gap_at_least")]),
        (99.70, "", [("caution", "free_gap_at_least")]),
        (99.77, "", [("caution", "free_gap_at_least")]),
        (99.784, "", []),
        (99.784, "site: {freezing: none}", []),
        (99.784, "site: {freezing: moderate}", [("note", "frost_gap_at_least")]),
        (99.81, "site: {freezing: severe}", [("note", "frost_gap_at_least")]),
        (99.825, "site: {freezing: severe}", []),
        (99.73, "site: {freezing: severe, accessible_route: [[10, 12], [10, 6]]}", []),  # its threshold is low
    ],
)
def test_a_gate_clears_the_slab(bottom: float, site: str, expected: list[tuple[str, str]]) -> None:
    text = gate(f"hinge: [[8, 6]], opens_to: [10, 12], bottom: {bottom}", site=site)
    assert weights(review_by("leaf-clears-slab", text)) == expected


def test_a_door_hangs_at_its_sill_and_swings_over_the_slab_alone() -> None:
    door = (
        "fixtures: [{kind: door, name: back door, along: [[8, 0], [11, 0]], sill: 100.05, swings_over: true, "
        "hinge: [[8, 0]]}]"
    )
    comment = only(
        review_by("leaf-clears-slab", walk_slab(plane(RECTANGLE, 0, -0.02), door, edges=HOUSE_BY_BED, use="patio"))
    )
    assert comment.shown.si == pytest.approx(0.05 * FOOT, abs=1e-6)  # closest at the sill itself
    # an inch over 100.00 ft is 100.0833 ft, written 100.09: 0.04 ft = 0.48 in over the sill
    assert advice(comment) == "hang back door about 1/2 in higher, its underside at 100.09 ft"


def test_what_a_leaf_lacks_is_asked_for() -> None:
    (silent,) = review_by("leaf-clears-slab", gate("size: 4 ft")).not_shown
    assert silent.add == (
        "fixtures, hinge: the end of the width that gate hangs at, such as [[6, 0]]",
        "fixtures, bottom: the height of the underside of gate, such as 98.00",
    )
    spot = "fixtures: [{kind: gate, at: [8, 6], swings_over: true, hinge: [[8, 6]], bottom: 100}]"
    (silent,) = review_by("leaf-clears-slab", walk_slab(plane(RECTANGLE, 0, 0), spot)).not_shown
    assert silent.add == (
        "fixtures, along: the two ends of the width of gate, such as [[6, 0], [9, 0]]; "
        "or its width, such as 3 ft, and its middle (at)",
    )
    (silent,) = review_by("leaf-clears-slab", gate("hinge: [[8, 6]], bottom: 100", {"A": 100.0})).not_shown
    assert silent.add[0].startswith("heights.finish")


def test_leaves_that_do_not_swing_over_the_slab() -> None:
    still = walk_slab(plane(RECTANGLE, 0, 0), "fixtures: [{kind: gate, along: [[8, 6], [12, 6]], swings_over: false}]")
    reason = review_by("leaf-clears-slab", still).does_not_apply[0].reason
    assert reason == "no door or gate is said to swing over the slab"
    beside = "fixtures: [{kind: gate, along: [[8, -6], [12, -6]], hinge: [[8, -6]], bottom: 100, opens_to: [8, -20]}]"
    reason = review_by("leaf-clears-slab", walk_slab(plane(RECTANGLE, 0, 0), beside)).does_not_apply[0].reason
    assert reason == "no leaf swings over the slab"


def test_a_leaf_over_a_threshold_that_is_low_on_purpose_only_must_not_strike() -> None:
    """The file asks for the slab 1/2 in under the sill at most, as access standards do; the leaf hangs 3/4 in over."""
    low = leaves(f"{HANGS}, bottom: 100.0625")
    fixed = "fixed: [{name: sill, kind: sill, along: [[0, 6], [4, 6]], height: 100.04, slab: at most 1/2 in below}]"
    assert weights(review_by("leaf-clears-slab", low)) == [("caution", "free_gap_at_least")]
    assert weights(review_by("leaf-clears-slab", f"{low}\n{fixed}")) == []
    assert weights(review_by("leaf-clears-slab", f"{low}\n{fixed}".replace("100.0625", "99.99"))) == [
        ("hold", "gap_at_least")
    ]


@pytest.mark.parametrize(("bottom", "found"), [("99.89", 1), ("99.894", 1), ("99.896", 0), ("99.91", 0)])
def test_a_leaf_without_a_hinge_is_told_only_where_it_strikes_at_either_end(bottom: str, found: int) -> None:
    """A slab that falls 5 % along a gate, from 100.00 ft at its corner to 99.90 at the one end and 99.70 at the other.

    Hung at the upper end the leaf sweeps up to the corner, hung at the lower end no higher than 99.90 ft, and heights
    typed to 0.01 ft are known to half of that.
    """
    heights = {"A": 100, "B": 99, "C": 99, "D": 100}
    fixture = f"fixtures: [{{kind: gate, along: [[2, 0], [6, 0]], swings_over: true, bottom: {bottom}}}]"
    comments = review_by("leaf-clears-slab", walk_slab(heights, fixture, "")).comments
    assert [comment.weight for comment in comments] == ["hold"] * found


@pytest.mark.parametrize(("bottom", "told"), [(99.30, "strikes"), (99.45, "asks"), (99.60, "clears")])
def test_a_leaf_that_hangs_at_either_end_is_told_met_or_asked_about(bottom: float, told: str) -> None:
    """z = 100 - 0.05 (x + y): from (8, 6) the highest is 99.50 ft at (8, 2), from (12, 6) 99.38 ft on the arc.

    An inch over 99.50 ft is 99.5833 ft, which is what is told to make it pass.
    """
    report = review_by("leaf-clears-slab", gate(f"bottom: {bottom}", plane(RECTANGLE, -0.05, -0.05)))
    assert ("strikes" if report.comments else "asks" if report.not_shown else "clears") == told
    if report.comments:
        assert told_values(only(report))["write"] == "99.59 ft"
