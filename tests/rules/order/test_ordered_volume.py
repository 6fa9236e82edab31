"""The rule `ordered-volume`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import math

import pytest
from comments import advice, limits_broken, only, weights
from design_text import pad, plan_of, review_by, told_by
from slabs.order import design, square
from slabwright.formulas.units import YARD3
from slabwright.review.report import Comment, Report
from slabwright.text.words import plain
from slabwright.units.quantity import Amount

SHOT = "site: {base: {material: crushed stone, thickness: 4 in, shot_after_compaction: true}}"
INSIDE = ", allowance_inside: true"


def review(order: str, thickness: str = "{design: 4 in}", site: str = "", unit: str = "ft") -> Report:
    return review_by("ordered-volume", design(order, thickness, site, unit))


def write(comment: Comment) -> float:
    """What it says to order, yd3."""
    amount = comment.to_pass.values["write"]
    assert isinstance(amount, Amount)
    return amount.si / YARD3


@pytest.mark.parametrize(
    ("order", "site", "found"),
    [
        # under the net volume it leaves a hole; 4 % over it is the least that suppliers print (NRMCA CIP 8), 3 % on a
        # base that was shot; the allowance inside the order
        ("volume: 4.16 yd3, allowance: 8 %" + INSIDE, "", []),
        ("volume: 4.13 yd3, allowance: 8 %" + INSIDE, "", [("caution", "with_spare_at_least")]),
        # on top of it: 4.169, 4.147 and 3.996 yd3 come
        ("volume: 3.86 yd3, allowance: 8 %", "", []),
        ("volume: 3.82 yd3, allowance: 8 %", "", [("caution", "with_spare_at_least")]),
        ("volume: 3.70 yd3, allowance: 8 %", "", [("hold", "part_of_net_at_least")]),
        # none written
        ("volume: 4.16 yd3", "", []),
        ("volume: 4.13 yd3", "", [("caution", "with_spare_at_least")]),
        ("volume: 4.12 yd3", SHOT, []),
        ("volume: 4.09 yd3", SHOT, [("caution", "with_spare_on_shots_at_least")]),
        ("volume: 4 yd3", "", [("caution", "with_spare_at_least")]),
        ("volume: 3.99 yd3", "", [("hold", "part_of_net_at_least")]),
        ("volume: 3.99 yd3", SHOT, [("hold", "part_of_net_at_least")]),
        # over 1.2 times net (common practice)
        ("volume: 4.8 yd3, allowance: 8 %" + INSIDE, "", []),
        ("volume: 4.83 yd3, allowance: 8 %" + INSIDE, "", [("note", "part_of_net_at_most")]),
        ("volume: 4.6 yd3, allowance: 8 %", "", [("note", "part_of_net_at_most")]),
    ],
)
def test_ordered_volume(order: str, site: str, found: list[tuple[str, str]]) -> None:
    assert weights(review(order, site=site)) == found


@pytest.mark.parametrize(
    ("more", "hose", "hopper"),
    [
        # pi d2/4 L: 0.126 yd3 in 100 ft of 2-1/2 in, 0.323 in 4 in; hopper 1/4 to 1/2 yd3 of a small pump (practice)
        (", method: chute", 0.0, 0.0),
        (", method: pump", 0.0, 0.25),
        (", method: pump, hose: 2 1/2 in, hose_length: 100 ft", 0.1263, 0.25),
        (", method: pump, left_in_hopper: 0.5 yd3, hose: 4 in, hose_length: 100 ft", 0.3232, 0.5),
        (", method: pump, left_in_hopper: 0 yd3", 0.0, 0.0),
        (", method: pump, hose: 4 in", 0.0, 0.25),
    ],
)
def test_ordered_volume_counts_what_stays_in_hopper_and_hose(more: str, hose: float, hopper: float) -> None:
    hole = only(review("volume: 3 yd3, allowance: 5 %" + INSIDE + more))
    thin = only(review(f"volume: {4.01 + hose} yd3, allowance: 5 %" + INSIDE + more))

    assert (hole.weight, hole.asked.si / YARD3) == ("hold", pytest.approx(4 + hose, abs=1e-4))
    asked = max(4.16, 4 + hose + hopper)  # 4 % over 4 yd3, and all that stays behind
    assert (thin.weight, thin.asked.si / YARD3) == ("caution", pytest.approx(asked, abs=1e-4))
    for comment in (hole, thin):
        assert write(comment) == pytest.approx(math.ceil((4.2 + hose + hopper) * 4 - 1e-6) / 4)


def test_a_written_allowance_that_is_too_thin_is_not_what_is_advised() -> None:
    """1 % on top of 4 yd3 leaves less than 4 %: what is advised comes to 4.16 yd3 or more."""
    comment = only(review("volume: 4 yd3, allowance: 1 %" + INSIDE))
    assert write(comment) == pytest.approx(4.25)


@pytest.mark.parametrize(
    ("order", "written"),
    [
        ("volume: 3 yd3, allowance: 5 %" + INSIDE, 4.25),
        ("volume: 3 yd3, allowance: 5 %" + INSIDE + ", step: 1 yd3", 5.0),
        ("volume: 3 yd3, allowance: 5 %, step: 0.1 yd3", 4.0),
        ("volume: 3 yd3, step: 0.5 yd3", 4.5),
        ("volume: 4.1 yd3", 4.25),
        ("volume: 9 yd3, allowance: 5 %" + INSIDE, 4.25),
    ],
)
def test_ordered_volume_rounds_up_to_what_the_plant_sells_and_that_passes(order: str, written: float) -> None:
    comment = only(review(order))
    assert write(comment) == pytest.approx(written)

    after = f"volume: {written} yd3" + order.partition("yd3")[2]
    assert not review(after).comments


def test_ordered_volume_in_metric_rounds_up_to_tenths() -> None:
    comment = only(review("volume: 3 m3, allowance: 5 %" + INSIDE, "{design: 100 mm}", unit="m"))

    assert comment.asked.si == pytest.approx(36 * 0.1)
    assert advice(comment, "metric") == "order 3.80 m3"


def test_ordered_volume_tells_when_thickened_edges_or_steps_were_left_out() -> None:
    edges = "{design: 4 in, thickened_edges: [{run: [A, B], depth: 12 in, taper: 3 ft}]}"
    steps = "{design: 4 in, steps: [{width: 8 ft, tread: 12 in, riser: 7 in, count: 3}]}"
    order = "volume: 4 yd3, allowance: 3 %" + INSIDE
    for thickness in (edges, steps):
        says = only(review(order, thickness)).says.template
        assert says == "{comes} covers area times thickness, and leaves out thickened edges and steps"
    assert "leaves little" in only(review(order)).says.template
    assert only(review(order.replace("4 yd3", "3 yd3"), edges)).says.template == "{comes} is less than the slab takes"


def test_ordered_volume_shows_the_sum() -> None:
    edges = "{design: 4 in, thickened_edges: [{run: [A, B], depth: 12 in, taper: 3 ft}]}"
    comment = only(review("volume: 3 yd3, allowance: 10 %", edges))
    net, needed, comes = comment.working

    # wedge along 18 ft: 8 in at the edge, nothing 3 ft in, less nothing at its two ends, 18 ft3
    assert net.result.si / YARD3 == pytest.approx(4 + 18 * 3 * (8 / 12) / 2 / 27, rel=1e-3)
    assert needed.result.si == net.result.si
    assert comes.result.si / YARD3 == pytest.approx(3.3)
    assert advice(comment) == "order 4.75 yd3, and the allowance on top"


def test_a_small_slab_may_round_up_past_a_fifth_without_a_note() -> None:
    tiny = design("volume: 0.95 yd3").replace("18", "6")

    assert plan_of(tiny).concrete.quantities.net == pytest.approx(36 * 4 / 324 * YARD3)  # 0.444 yd3
    assert not review_by("ordered-volume", tiny).comments


@pytest.mark.parametrize("order", ["", "truck: 10 yd3"])
def test_ordered_volume_asks_for_the_order(order: str) -> None:
    (entry,) = review(order).not_shown

    assert entry.add == ("order.volume: concrete ordered, such as 12 yd3",)
    assert entry.place.path == ("order" if order else "")


@pytest.mark.parametrize(
    ("order", "limit"),
    [
        # 1 m2 at 100 mm and 8 % is 0.108 m3; half a yard, 0.382 m3, over it is no waste
        ("volume: 0.49 m3, allowance: 8 %, allowance_inside: true", None),
        ("volume: 0.50 m3, allowance: 8 %, allowance_inside: true", "part_of_net_at_most"),
        ("volume: 0.1 m3, allowance: 8 %, allowance_inside: true", "with_spare_at_least"),
    ],
)
def test_ordered_volume_of_a_small_slab_in_metric_is_held_to_tenths(order: str, limit: str | None) -> None:
    found = review_by("ordered-volume", square(f"order: {{{order}}}", "1", "m", "100 mm"))

    assert limits_broken(found) == ([limit] if limit else [])
    if limit:
        assert plain(found.comments[0].to_pass, "metric", both=False).startswith("order 0.20 m3")


@pytest.mark.parametrize(
    ("side", "order", "limit"),
    [
        # 36 ft2 at 4 in are 0.444 yd3, 0.462 with the least spare
        ("6", "volume: 0.47 yd3", None),
        ("6", "volume: 0.455 yd3", "with_spare_at_least"),
        # with the usual 5 % 0.467 yd3, and half a yard over it is no waste (common practice)
        ("6", "volume: 0.96 yd3", None),
        ("6", "volume: 0.97 yd3", "part_of_net_at_most"),
        # with 8 % on top 0.48 yd3 is usual, and half a yard comes as 0.54
        ("6", "volume: 0.94 yd3, allowance: 8 %", None),
        ("6", "volume: 0.95 yd3, allowance: 8 %", "part_of_net_at_most"),
        # 324 ft2 at 4 in are 4 yd3: with 8 %, a quarter yard in the hopper of a pump (practice) and half a yard 5.07
        ("18", "volume: 5.06 yd3, allowance: 8 %, allowance_inside: true, method: pump", None),
        ("18", "volume: 5.08 yd3, allowance: 8 %, allowance_inside: true, method: pump", "part_of_net_at_most"),
        # 4 yd3 and the hopper are 4.25, 4 % over 4 yd3 are 4.16; the hopper is emptied before a hole is left
        ("18", "volume: 4.22 yd3, method: pump", "with_hopper_at_least"),
        ("18", "volume: 4.24 yd3, method: pump", None),  # within half a percent of 4 yd3
        ("18", "volume: 4 yd3, method: pump", "with_hopper_at_least"),
        ("18", "volume: 4.12 yd3, method: pump, left_in_hopper: 0.1 yd3", "with_spare_at_least"),
        ("18", "volume: 4.16 yd3, method: pump, left_in_hopper: 0.1 yd3", None),
        ("18", "volume: 3.99 yd3, method: pump", "part_of_net_at_least"),
    ],
)
def test_ordered_volume_is_held_to_the_step_of_the_plant_and_what_stays_in_the_hopper_counts_on_every_side(
    side: str, order: str, limit: str | None
) -> None:
    found = review_by("ordered-volume", square(f"order: {{{order}}}", side))

    assert limits_broken(found) == ([limit] if limit else [])


@pytest.mark.parametrize(
    ("order", "says"),
    [  # 4 yd3; 0.323 in the hose and 1/4 in the hopper; 4 % over 4 yd3 are 4.16
        ("volume: 3.95 yd3", "is less than the slab takes"),
        ("volume: 4.05 yd3, method: pump, hose: 4 in, hose_length: 100 ft", "fills the slab and not the hose"),
        ("volume: 4.4 yd3, method: pump, hose: 4 in, hose_length: 100 ft", "leaves nothing for the hopper of the pump"),
        ("volume: 4.1 yd3", "covers the slab and leaves little for a base that is not quite level"),
    ],
)  # fmt: skip
def test_ordered_volume_says_what_it_does_not_fill(order: str, says: str) -> None:
    comment = only(review(order))
    assert plain(comment.says, "us", both=False).endswith(says)
    assert ("hose" in comment.working[-1].formula or "stays" in comment.working[-1].formula) is ("hose" in order)


@pytest.mark.parametrize(
    ("volume", "says"),
    [
        ("4.2", "covers the slab as thick as it is drawn, and the base lies lower"),
        ("3.9", "is less than the slab takes"),
    ],
)
def test_ordered_volume_between_finish_and_a_base_that_lies_low(volume: str, says: str) -> None:
    """0.4 ft from base to finish are 4.8 yd3, where 4 in are drawn."""
    heights = "heights: {finish: {A: 100, B: 100, C: 100, D: 100}, base: {A: 99.6, B: 99.6, C: 99.6, D: 99.6}}"
    comment = only(review(f"volume: {volume} yd3", site=heights))
    assert comment.asked.si / YARD3 == pytest.approx(4.8)
    assert plain(comment.says, "us", both=False).endswith(says)


@pytest.mark.parametrize(
    ("text", "of"),
    [
        (design("volume: 4.9 yd3"), "part x net volume"),
        (square("order: {volume: 0.97 yd3}", "6"), "what is usual + what is left of a small order"),
    ],
)
def test_ordered_volume_shows_what_is_far_more_than_is_taken(text: str, of: str) -> None:
    comment = only(review_by("ordered-volume", text))
    assert (comment.limit.name, comment.working[-1].formula) == ("part_of_net_at_most", of)


def test_ordered_volume_that_just_fills_the_slab_left_out_the_edges() -> None:
    """4 yd3 of slab, and a thickened edge of 2/3 yd3 on top."""
    edge = "{design: 4 in, thickened_edges: [{run: [A, B], depth: 12 in, taper: 3 ft}]}"
    points = "points: {A: [0, 0], B: [18, 0], C: [18, 18], D: [0, 18]}"
    for ordered, left_out in (("3.95", False), ("4", True)):
        order = f"order: {{volume: {ordered} yd3, allowance: 5 %, allowance_inside: true, method: pump}}"
        text = pad(f"{points}\n{order}", outline="[A, B, C, D]").replace("{design: 4 in}", edge)
        assert ("leaves out thickened edges" in told_by("ordered-volume", text)[0]) is left_out


@pytest.mark.parametrize("deep", [6, 10])
def test_a_shot_on_the_bottom_of_a_thickened_edge_is_not_ordered_twice(deep: int) -> None:
    """18 by 18 ft at 6 in is 162 ft3; 4 in more, 1 ft wide and 2 ft tapered out, is 0.667 ft2 over 18 ft: 12 ft3."""
    base = f"A: {100 - deep / 12:.6f}, B: {100 - deep / 12:.6f}, C: 99.5, D: 99.5"
    shot = f"heights: {{finish: {{A: 100, B: 100, C: 100, D: 100}}, base: {{{base}}}}}"
    thick = "{design: 6 in, thickened_edges: [{run: [A, B], depth: 10 in, width: 12 in, taper: 2 ft}]}"
    net = plan_of(design("volume: 7 yd3", thick, shot)).concrete.quantities.net
    assert net / YARD3 == pytest.approx(174 / 27, rel=1e-4)
