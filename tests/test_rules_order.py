"""The rule about the order: every branch, every limit at and beside it, both unit systems, and what is said in full."""

from __future__ import annotations

import math

import pytest
from comments import only, weights
from design_text import pad, plan_of, review_by, told_by
from slabwright.formulas.units import YARD3
from slabwright.review.report import Comment, Report
from slabwright.text.words import plain
from slabwright.units.quantity import Amount


def design(order: str = "", thickness: str = "{design: 4 in}", site: str = "", unit: str = "ft") -> str:
    """A slab of 9 by 9 ft (1 yd3 at 4 in) four times over: 18 by 18 ft, 4 yd3 net."""
    size = 18 if unit == "ft" else 6
    return "\n".join([
        "format: 1",
        "job: {name: Test slab}",
        f"units: {{plan: {unit}, height: {unit}}}",
        "use: patio",
        f"points: {{A: [0, 0], B: [{size}, 0], C: [{size}, {size}], D: [0, {size}]}}",
        "outline: [A, B, C, D]",
        site,
        f"thickness: {thickness}",
        f"order: {{{order}}}" if order else "",
    ])  # fmt: skip


def review(order: str, thickness: str = "{design: 4 in}", site: str = "", unit: str = "ft") -> Report:
    return review_by("ordered-volume", design(order, thickness, site, unit))


def write(comment: Comment) -> float:
    """What it says to order, yd3."""
    amount = comment.to_pass.values["write"]
    assert isinstance(amount, Amount)
    return amount.si / YARD3


SHOT = "site: {base: {material: crushed stone, thickness: 4 in, shot_after_compaction: true}}"
INSIDE = ", allowance_inside: true"


def test_the_slab_of_these_tests_is_four_yards() -> None:
    # 9 x 9 ft at 4 in is a yard exactly: 81 ft2 x 4 in / 324
    assert plan_of(design()).concrete.quantities.net == pytest.approx(4 * YARD3)


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
    assert (thin.weight, thin.asked.si / YARD3) == ("caution", pytest.approx(4.16 + hose + hopper, abs=1e-4))
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
    assert plain(comment.to_pass, "metric", both=False) == "order 3.80 m3"


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
    assert plain(comment.to_pass, "us", both=False) == "order 4.75 yd3, and the allowance on top"


def test_a_small_slab_may_round_up_past_a_fifth_without_a_note() -> None:
    tiny = design("volume: 0.95 yd3").replace("18", "6")

    assert plan_of(tiny).concrete.quantities.net == pytest.approx(36 * 4 / 324 * YARD3)  # 0.444 yd3
    assert not review_by("ordered-volume", tiny).comments


@pytest.mark.parametrize("order", ["", "truck: 10 yd3"])
def test_ordered_volume_asks_for_the_order(order: str) -> None:
    (entry,) = review(order).not_shown

    assert entry.add == ("order.volume: concrete ordered, such as 12 yd3",)
    assert entry.place.path == ("order" if order else "")


INCH = 0.0254
UPSIDE_DOWN = "points: {A: [0, 0], B: [8, 0], C: [8, 8], D: [0, 8]}\n"


def yard(more: str) -> str:
    """680 ft2 at 4 in, 8.395 yd3: the pad of the trade's own example."""
    return pad(more, outline="[[0, 0], [34, 0], [34, 20], [0, 20]]")


def slab_of(net: int, more: str) -> str:
    """So many cubic yards at 4 in: 81 ft2 each."""
    return pad(more, outline=f"[[0, 0], [27, 0], [27, {3 * net}], [0, {3 * net}]]")


def square(more: str, side: str, unit: str = "ft", thick: str = "4 in") -> str:
    return pad(more, unit=unit, side=side, thick=thick)


# a base at the finish, and a hair on either side of it


@pytest.mark.parametrize(("base", "judged"), [(99.99, True), (100.0, False), (100.1, False)])
@pytest.mark.parametrize("rule", ["ordered-volume", "room-before-truck"])
def test_an_order_is_judged_where_any_concrete_fits_over_the_base(rule: str, base: float, judged: bool) -> None:
    """64 ft2 with 0.01 ft, nothing, and less than nothing between base and finish."""
    heights = ", ".join(f"{name}: 100" for name in "ABCD"), ", ".join(f"{name}: {base}" for name in "ABCD")
    text = UPSIDE_DOWN + f"heights: {{finish: {{{heights[0]}}}, base: {{{heights[1]}}}}}\n"
    report = review_by(rule, pad(text + "order: {volume: 1 yd3, truck: 5 yd3}", outline="[A, B, C, D]"))

    assert bool(report.met or report.comments) is judged
    assert bool(report.does_not_apply) is not judged


# last-load


@pytest.mark.parametrize(
    ("net", "order", "says", "to_pass"),
    [
        # 12 yd3 in tens: 2 left, 3 asked
        (12, "volume: 12 yd3, truck: 10 yd3", "truck 2 comes for 2.00 yd3", "order 13.00 yd3"),
        # 13 yd3 for a slab of 10 is far more than it takes
        (10, "volume: 12 yd3, truck: 10 yd3", "truck 2 comes for 2.00 yd3",
         "bring the need down by 2.00 yd3, to 1 full truck"),
        # 11 yd3 and 10 % on top come as 12.1: 0.9 yd3 more to come, 0.818 to order
        (12, "volume: 11 yd3, truck: 10 yd3, allowance: 10 %", "truck 2 comes for 2.10 yd3", "order 12.00 yd3"),
        (12, "volume: 12 yd3, truck: 10 yd3, step: 0.1 yd3, short_load: 2.75 yd3", "truck 2 comes for 2.00 yd3",
         "order 12.80 yd3"),
        # a truck of 2 yd3 can bring no 3: it is asked to come full
        (7, "volume: 7 yd3, truck: 2 yd3", "truck 4 comes for 1.00 yd3", "order 8.00 yd3"),
        # 3.1 and 3 yd3 are sold as 6.25: a third truck for 0.05
        (6, "volume: 4 yd3, truck: 3.1 yd3", "truck 2 comes for 0.90 yd3",
         "have 2 loads alike brought, about 2.00 yd3 each"),
        # 10 % on top: 5.55 yd3 bring 3 yd3 in the second truck, 5.75 come as 6.33
        (6, "volume: 3.7 yd3, truck: 3.1 yd3, allowance: 10 %", "truck 2 comes for 0.97 yd3",
         "have 2 loads alike brought, about 2.04 yd3 each"),
    ],
)  # fmt: skip
def test_a_last_load_is_told_what_to_order(net: int, order: str, says: str, to_pass: str) -> None:
    assert told_by("last-load", slab_of(net, f"order: {{{order}}}")) == (says, to_pass)


def test_a_last_load_in_metric_is_ordered_by_tenths() -> None:
    """8.13 m3 in sixes: 2.13 left, 2.29 (3 yd3) asked: 8.294 m3 and up."""
    text = square("order: {volume: 8.13 m3, truck: 6 m3}", "9", "m", "100 mm")

    assert told_by("last-load", text, "metric") == (
        "truck 2 comes for 2.13 m3", "order 8.30 m3"
    )  # fmt: skip


def test_two_trucks_are_judged_and_one_is_not() -> None:
    assert review_by("last-load", yard("order: {volume: 10 yd3, truck: 5 yd3}")).met
    assert review_by("last-load", yard("order: {volume: 5 yd3, truck: 5 yd3}")).does_not_apply


# load-age


@pytest.mark.parametrize(
    ("pour", "order", "says", "to_pass"),
    [
        # 10 yd3 at 12 yd3/h are out in 50 min, the third waits 2 x 20; 40 and 50 min are just in time
        ("haul: 40 min, rate: 12 yd3/h, trucks_apart: 30 min", "volume: 30 yd3, truck: 10 yd3",
         "the oldest of 3 loads is 2 h 10 min old when it is out", "have trucks come 50 min apart"),
        # 8 yd3 at 10.2 yd3/h: 47.06 min
        ("haul: 40 min, rate: 10.2 yd3/h, trucks_apart: 40 min", "volume: 16 yd3, truck: 8 yd3",
         "the oldest of 2 loads is 1 h 34 min old when it is out", "have trucks come 48 min apart"),
        # 41 min and 50 are too long: 49 min at 12 yd3/h are 9.8 yd3
        ("haul: 41 min, rate: 12 yd3/h", "volume: 10 yd3, truck: 10 yd3",
         "the load is 1 h 31 min old when it is out", "bring 9.80 yd3 at a time, or place faster"),
        ("haul: 41 min, rate: 12 yd3/h", "volume: 20 yd3, truck: 10 yd3",
         "the oldest of 2 loads is 1 h 31 min old when it is out", "bring 9.80 yd3 at a time, or place faster"),
        # half an hour at 6 yd3/h: 3 yd3, and no truck before it is empty
        ("haul: 60 min, rate: 6 yd3/h, trucks_apart: 20 min", "volume: 18 yd3, truck: 6 yd3",
         "the oldest of 3 loads is 3 h 20 min old when it is out",
         "bring 3.00 yd3 at a time, 30 min apart, or place faster"),
        ("haul: 60 min, rate: 6 yd3/h, trucks_apart: 30 min", "volume: 18 yd3, truck: 6 yd3",
         "the oldest of 3 loads is 3 h old when it is out", "bring 3.00 yd3 at a time, or place faster"),
        # 5 min at 6 yd3/h: half a yard, and 4 min: less
        ("haul: 85 min, rate: 6 yd3/h", "volume: 2 yd3, truck: 10 yd3",
         "the load is 1 h 45 min old when it is out", "bring 0.50 yd3 at a time, or place faster"),
        ("haul: 86 min, rate: 6 yd3/h", "volume: 2 yd3, truck: 10 yd3",
         "the load is 1 h 46 min old when it is out",
         "find a plant that is nearer, or have setting retarded and the time waived"),
        # 7.9 min at 10 yd3/h: 1.317 yd3, told as what is not more
        ("haul: 82.1 min, rate: 10 yd3/h", "volume: 2 yd3, truck: 10 yd3",
         "the load is 1 h 34 min old when it is out", "bring 1.30 yd3 at a time, or place faster"),
        # 9 yd3 and 10 % on top: 9.9 yd3, 59.4 min
        ("haul: 40 min, rate: 10 yd3/h", "volume: 9 yd3, truck: 10 yd3, allowance: 10 %",
         "the load is 1 h 39 min old when it is out", "bring 8.30 yd3 at a time, or place faster"),
    ],
)  # fmt: skip
def test_load_age_an_old_load_is_told_what_helps(pour: str, order: str, says: str, to_pass: str) -> None:
    """90 min: ASTM C94, quoted. Closed form: haul, waits of all trucks before it, and its own discharge."""
    assert told_by("load-age", yard(f"pour: {{{pour}}}\norder: {{{order}}}")) == (says, to_pass)


def test_smaller_loads_and_the_gap_they_are_told_pass_together() -> None:
    text = "pour: {haul: 60 min, rate: 6 yd3/h, trucks_apart: 30 min}\norder: {volume: 18 yd3, truck: 3 yd3}"

    assert review_by("load-age", yard(text)).met


def test_load_age_in_metric_loads_are_told_in_twentieths_of_a_cubic_meter() -> None:
    """Two hours less 50 min at 5 m3/h: 5.83 m3."""
    text = "pour: {haul: 50 min, rate: 5 m3/h}\norder: {volume: 8 m3, truck: 8 m3}"

    assert told_by("load-age", square(text, "9", "m", "100 mm"), "metric") == (
        "the load is 2 h 26 min old when it is out", "bring 5.80 m3 at a time, or place faster"
    )  # fmt: skip


# ordered-volume


@pytest.mark.parametrize(
    ("order", "limit"),
    [
        # 36 ft2 at 4 in are 0.444 yd3, 0.462 with the least spare
        ("volume: 0.47 yd3", None),
        ("volume: 0.455 yd3", "with_spare_at_least"),
        # with the usual 5 % 0.467 yd3, and half a yard over it is no waste (common practice)
        ("volume: 0.96 yd3", None),
        ("volume: 0.97 yd3", "part_of_net_at_most"),
        # with 8 % on top 0.48 yd3 is usual, and half a yard comes as 0.54
        ("volume: 0.94 yd3, allowance: 8 %", None),
        ("volume: 0.95 yd3, allowance: 8 %", "part_of_net_at_most"),
    ],
)
def test_ordered_volume_of_a_small_slab_is_held_to_the_step_of_the_plant(order: str, limit: str | None) -> None:
    found = review_by("ordered-volume", square(f"order: {{{order}}}", "6"))

    assert [comment.limit.name for comment in found.comments] == ([limit] if limit else [])


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

    assert [comment.limit.name for comment in found.comments] == ([limit] if limit else [])
    if limit:
        assert plain(found.comments[0].to_pass, "metric", both=False).startswith("order 0.20 m3")


@pytest.mark.parametrize(
    ("order", "limit"),
    [
        # 324 ft2 at 4 in are 4 yd3: with 8 %, a quarter yard in the hopper of a pump (practice) and half a yard 5.07
        ("volume: 5.06 yd3, allowance: 8 %, allowance_inside: true, method: pump", None),
        ("volume: 5.08 yd3, allowance: 8 %, allowance_inside: true, method: pump", "part_of_net_at_most"),
        # 4 % over 4 yd3 and the hopper: 4.41; the hopper is emptied before a hole is left
        ("volume: 4.38 yd3, method: pump", "with_spare_at_least"),
        ("volume: 4.41 yd3, method: pump", None),
        ("volume: 4 yd3, method: pump", "with_spare_at_least"),
        ("volume: 3.99 yd3, method: pump", "part_of_net_at_least"),
    ],
)
def test_ordered_volume_what_stays_in_the_hopper_counts_on_every_side(order: str, limit: str | None) -> None:
    found = review_by("ordered-volume", square(f"order: {{{order}}}", "18"))

    assert [comment.limit.name for comment in found.comments] == ([limit] if limit else [])


def test_ordered_volume_that_just_fills_the_slab_left_out_the_edges() -> None:
    """4 yd3 of slab, and a thickened edge of 2/3 yd3 on top."""
    edge = "{design: 4 in, thickened_edges: [{run: [A, B], depth: 12 in, taper: 3 ft}]}"
    points = "points: {A: [0, 0], B: [18, 0], C: [18, 18], D: [0, 18]}"
    for ordered, left_out in (("3.95", False), ("4", True)):
        order = f"order: {{volume: {ordered} yd3, allowance: 5 %, allowance_inside: true, method: pump}}"
        text = pad(f"{points}\n{order}", outline="[A, B, C, D]").replace("{design: 4 in}", edge)
        assert ("leaves out thickened edges" in told_by("ordered-volume", text)[0]) is left_out


# room-before-truck


@pytest.mark.parametrize(
    ("order", "says", "to_pass"),
    [
        # closed form: full trucks - stays behind - 8.395 yd3, times 324 / 680
        ("volume: 8.9 yd3, truck: 9 yd3, allowance: 8 %, allowance_inside: true",
         "about 5/16 in deeper than drawn, and truck 2 is needed",
         "shoot the base, and let its average lie no more than 1/4 in low; or keep truck 2 on call"),
        ("volume: 5 yd3, truck: 1 yd3, allowance: 5 %, allowance_inside: true",
         "5 trucks of 1 yd3 do not hold what the slab takes",
         "have truck 6 come, with at least the plant's least load"),
        # 10 % on top of 8 yd3 come in one truck; the allowance is for the same half inch, so it does not count
        ("volume: 8 yd3, truck: 9 yd3, allowance: 10 %", "about 5/16 in deeper than drawn, and truck 2 is needed",
         "shoot the base, and let its average lie no more than 1/4 in low; or keep truck 2 on call"),
        # and a quarter yard in the hopper (practice): 9 - 8.645 yd3
        ("volume: 8 yd3, truck: 9 yd3, allowance: 10 %, method: pump",
         "about 5/32 in deeper than drawn, and truck 2 is needed",
         "shoot the base, and let its average lie no more than 1/8 in low; or keep truck 2 on call"),
        # 100 ft of 4 in line hold 0.323 yd3: 8.731 + 0.573 are asked
        ("volume: 8 yd3, truck: 9 yd3, allowance: 10 %, method: pump, hose: 4 in, hose_length: 100 ft",
         "one truck of 9 yd3 does not hold what the slab takes",
         "have truck 2 come, with at least the plant's least load"),
        # a hose without its length holds nothing that is known
        ("volume: 8.9 yd3, truck: 9 yd3, hose: 4 in", "about 5/16 in deeper than drawn, and truck 2 is needed",
         "shoot the base, and let its average lie no more than 1/4 in low; or keep truck 2 on call"),
    ],
)  # fmt: skip
def test_room_before_truck_a_full_truck_is_told_what_to_plan_for(order: str, says: str, to_pass: str) -> None:
    assert told_by("room-before-truck", yard(f"order: {{{order}}}")) == (says, to_pass)


@pytest.mark.parametrize(
    ("order", "ordered"), [
        ("truck: 1 yd3, allowance: 5 %, allowance_inside: true", 9.25), ("truck: 9 yd3, allowance: 10 %", 8.5)
    ],
)  # fmt: skip
def test_the_trucks_that_are_planned_for_have_the_room(order: str, ordered: float) -> None:
    assert review_by("room-before-truck", yard(f"order: {{volume: {ordered} yd3, {order}}}")).met


def test_room_before_truck_that_is_just_filled_has_nothing_to_spare_in_metric() -> None:
    """100 m2 at 100 mm are 10 m3, all that a truck of 10 m3 holds."""
    order = "order: {volume: 10 m3, truck: 10 m3, allowance: 0 %}"

    assert told_by("room-before-truck", square(order, "10", "m", "100 mm"), "metric") == (
        "one truck of 10 m3 does not hold what the slab takes",
        "have truck 2 come, with at least the plant's least load",
    )


@pytest.mark.parametrize(("inches", "found"), [(0.499, [("note", "room_at_least")]), (0.501, [])])
def test_room_before_truck_half_an_inch_is_asked(inches: float, found: list[tuple[str, str]]) -> None:
    """Common practice. A truck that holds 680 ft2 of 4 in and so much more."""
    truck = 680 * (4 + inches) / 324
    order = f"order: {{volume: 9.25 yd3, truck: {truck:.6f} yd3, allowance: 8 %, allowance_inside: true}}"

    assert weights(review_by("room-before-truck", yard(order))) == found


# truck-reach and base-shots


def test_a_far_corner_is_named_with_its_distance_to_the_inch() -> None:
    comment = only(review_by("truck-reach", pad("order: {method: chute, truck_spots: [[0, 23]]}")))

    # (8, 0) is root(8^2 + 23^2) = 24.352 ft from the truck, to the inch 6 ft 4 in more than 18 ft
    assert plain(comment.says, "us", both=False) == "(8.00 ft, 0.00 ft) is 24'-4\" from the nearest truck"
    assert comment.working[0].result.si / (12 * INCH) == pytest.approx(6 + 4 / 12, abs=1e-4)


@pytest.mark.parametrize(("shots", "says", "more"), [("ABC", "3 shots stand for 400 ft2 of slab", 1)])
def test_few_shots_are_told_how_many_more(shots: str, says: str, more: int) -> None:
    points = "points: {A: [0, 0], B: [20, 0], C: [20, 20], D: [0, 20]}\n"
    base = "heights: {base: {" + ", ".join(f"{name}: 99" for name in shots) + "}}\n"
    site = "site: {base: {shot_after_compaction: true}}\n"
    text = pad(points + base + site, outline="[A, B, C, D]")

    assert told_by("base-shots", text) == (says, f"shoot {more} more, in the middle and where water runs")


@pytest.mark.parametrize("shots", ["A", "AB"])
def test_fewer_shots_than_a_surface_needs_are_asked_for_as_other_rules_do(shots: str) -> None:
    """One question for the base: `base-depth` asks the same in the same words."""
    points = "points: {A: [0, 0], B: [20, 0], C: [20, 20], D: [0, 20]}\n"
    heights = "heights: {finish: {A: 100, B: 100, C: 100, D: 100}, base: {"
    text = points + heights + ", ".join(f"{name}: 99.6" for name in shots) + "}}\n"
    text = pad(text + "site: {base: {shot_after_compaction: true}}\n", outline="[A, B, C, D]")
    ours, other = (review_by(rule, text).not_shown[0] for rule in ("base-shots", "base-depth"))

    assert (ours.add, ours.place.path) == (other.add, other.place.path)
