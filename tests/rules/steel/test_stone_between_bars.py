"""The rule `stone-between-bars`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, slot_shown, weights
from design_text import review_by
from judged import findings
from slabs.steel import asked, bars, bars_key, mesh, mesh_key, review, slab

INCH = 0.0254


@pytest.mark.parametrize(
    ("steel", "stone", "thickness", "found"),
    [
        # ACI 318-19 sec. 26.4.2.1 (quoted): three quarters of the clear space; over the steel alike (practice)
        (bars(spacing="2 1/2 in"), "1 1/2 in", "6 in", []),  # 2 in clear between #4
        (bars(spacing="2 1/4 in"), "1 1/2 in", "6 in", [("hold", "part_between_at_most")]),
        (bars(top_cover="1 in"), "3/4 in", "6 in", []),
        (bars(top_cover="1 in"), "1 in", "6 in", [("caution", "part_of_cover_at_most")]),
        (bars(top_cover="4 in"), "1 in", "6 in", [("caution", "part_of_cover_at_most")]),  # 1 in below
        (bars(top_cover="4 1/2 in"), "3/4 in", "6 in", []),  # 1/2 in below: that is steel-position's
        (bars(top_cover="1/2 in"), "1 in", "6 in", []),  # too little cover in any case
        (mesh(), "1 in", "6 in", []),
        (mesh("2x2 W1.4"), "1 1/2 in", "6 in", [("hold", "part_between_at_most")]),
        (mesh("2x2 W0.7"), "1 1/2 in", "6 in", [("hold", "part_between_at_most")]),  # a wire of 0.094 in
    ],
)
def test_stone_between_bars(steel: str, stone: str, thickness: str, found: list[tuple[str, str]]) -> None:
    report = review("stone-between-bars", steel, thickness, f"mix: {{aggregate: {stone}}}")

    assert weights(report) == found


@pytest.mark.parametrize(
    ("unit", "cover", "found"),
    [
        ("m", "32 mm", []),  # common practice in metric trades: stone as large as the cover
        ("m", "31.9 mm", [("caution", "metric_part_of_cover_at_most")]),
        ("ft", "42 mm", [("caution", "part_of_cover_at_most")]),  # 3/4 of 42 mm is 31.5 mm
    ],
)
def test_stone_between_bars_of_metric_plans(unit: str, cover: str, found: list[tuple[str, str]]) -> None:
    design = slab(bars_key(top_cover=cover), "180 mm", "mix: {aggregate: 32 mm}", "shop floor", unit=unit)
    assert weights(review_by("stone-between-bars", design)) == found


def test_stone_between_bars_names_a_usual_stone_or_the_room_it_needs() -> None:
    stone = "mix: {aggregate: 1 1/2 in}"
    tight = only(review("stone-between-bars", bars(spacing="2 1/4 in"), "6 in", stone))
    assert advice(tight) == "order stone of 1 1/4 in or less"  # 3/4 of 1 3/4 in is 1 5/16 in

    cover = only(review("stone-between-bars", bars(top_cover="3/4 in"), "6 in", "mix: {aggregate: 3/4 in}"))
    assert advice(cover) == "order stone of 1/2 in or less"  # 3/4 of 3/4 in is 9/16 in


def test_stone_between_bars_asks_for_the_stone() -> None:
    (entry,) = review("stone-between-bars", mesh()).not_shown

    assert entry.add[0].startswith("mix.aggregate: ")


@pytest.mark.parametrize(
    ("clear", "write"),
    [("3/4 in", "3/8 in"), ("0.79 in", "3/8 in"), ("1 in", "1/2 in"), ("0.99 in", "3/8 in"), ("1/10 in", "")],
)
def test_stone_between_bars_the_smallest_stone_sold_is_three_eighths(clear: str, write: str) -> None:
    # half of 3/4 in is 3/8 in, of 1 in 1/2 in; usual sizes: ACI 304.2R
    design = slab(bars_key(top_cover=clear), "8 in", "mix: {aggregate: 3/4 in}", "shop floor")
    found = findings("stone-between-bars", design, part_of_cover_at_most=0.5)
    if not write:
        assert not found  # too little cover in any case
        return
    (finding,) = found

    assert slot_shown(finding, "write") == write


@pytest.mark.parametrize(
    ("steel", "stone", "clear"),
    [
        # between, over and under, as far as they are short of 4/3 of the stone
        (bars_key("#4", "2 in", top_cover="2 in"), "1 1/2 in", [1.5]),
        (bars_key("#4", "12 in", top_cover="1 3/4 in"), "1 1/2 in", [1.75]),
        (bars_key("#4", "12 in", top_cover="2 in"), "1 in", []),  # 2 in under it: 5 - 2 - 1
        (bars_key("#4", "12 in", top_cover="2 1/2 in"), "1 1/4 in", [1.5]),
        (bars_key("#4", "12 in", top_cover="3 in"), "1 in", []),  # less than the weather asks in any case
        (bars_key("#4", "12 in", top_cover="4 1/2 in"), "3/8 in", []),
    ],
)
def test_stone_between_bars_the_room_between_over_and_under_bars(steel: str, stone: str, clear: list[float]) -> None:
    found = findings("stone-between-bars", slab(steel, "5 in", f"mix: {{aggregate: {stone}}}"))

    assert [one.says.values["c"].si / INCH for one in found] == pytest.approx(clear)  # type: ignore[union-attr]
    assert [asked(one) / INCH for one in found] == pytest.approx([0.75 * max(one, 0.0) for one in clear])


def test_stone_between_bars_of_a_mat_and_between_wires_of_another() -> None:
    # 18 in between bars let any stone pass; of 2 in between wires of 0.134 in, three quarters are 1.4 in
    steel = f"{bars_key()}, {mesh_key('2x2 W1.4')}"
    found = findings("stone-between-bars", slab(steel, "6 in", "mix: {aggregate: 1 1/2 in}"))

    assert [one.at.name for one in found] == ["the mesh"]
    assert asked(found[0]) / INCH == pytest.approx(1.4, abs=0.005)


def test_no_stone_under_three_eighths_is_ordered() -> None:
    design = slab(bars_key(top_cover="0.7 in"), "8 in", "mix: {aggregate: 3/4 in}", "shop floor")
    (found,) = findings("stone-between-bars", design, part_of_cover_at_most=0.5)
    assert found.remedies == ()
