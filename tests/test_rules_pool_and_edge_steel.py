"""Steel at a pool, steel of an edge beam, hoops and base plates: branches, limits, and sums by hand."""

from __future__ import annotations

import pytest
from comments import advice, only, weights
from design_text import pad, plan_of, review_by
from slabwright.sheets.card import card
from slabwright.sheets.order import order
from slabwright.source.problem import UnreadableError
from slabwright.text.words import plain

FOOT, INCH = 0.3048, 0.0254
MESH = "mesh: {style: 6x6 W2.9, held_by: chairs, top_cover: 1 1/2 in}"


def at_pool(steel: str, edges: str = "{run: [[0, 0], [8, 0]], beside: pool, name: coping}, {rest: lawn}") -> str:
    return pad(f"edges: [{edges}]\n{steel}")


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


def test_the_card_of_the_day_waits_for_the_electrician() -> None:
    def lines(bonded: str) -> str:
        text = at_pool(f"reinforcement: {{{MESH}{bonded}}}") + 'pour: {start: "07:00", until: "15:00", rate: 5 yd3/h}\n'
        sheet = card.card(plan_of(text))
        return " ".join(
            plain(cell, "us", both=False) if not isinstance(cell, str) else cell
            for section in sheet.sections for table in section.tables for row in table.rows for cell in row
            if isinstance(cell, str) or hasattr(cell, "template")
        )  # fmt: skip

    assert "the electrician has bonded the steel" in lines(", bonded: true")
    assert "electrician" not in lines("")


def test_water_may_not_be_sent_into_a_pool() -> None:
    text = pad(
        "edges: [{run: [A, B], beside: pool, name: coping}, {rest: lawn, ground: 99}]\n"
        "points: {A: [0, 0], B: [8, 0], C: [8, 8], D: [0, 8]}\n"
        "heights: {finish: {A: 100, B: 100, C: 100.16, D: 100.16}}",
        outline="[A, B, C, D]",
    )
    (share,) = plan_of(text).water.shares
    assert (share.to, share.allowed) == ("coping", False)
    assert review_by("water-ends-where-it-may", text).comments


# edge beams


def beam(layers: str, more: str = "") -> str:
    run = f"{{run: [[0, 0], [24, 0]], depth: 12 in, taper: 1 ft, bars: [{layers}]}}"
    return pad(more, side="24").replace(
        "thickness: {design: 4 in}", f"thickness: {{design: 4 in, thickened_edges: [{run}]}}"
    )


@pytest.mark.parametrize(
    ("lap", "expected"),
    [  # #5: 40 x 5/8 in = 25 in; class B in 4,000 psi 31 in (read in the table of the code)
        ("24 in", [("caution", "diameters_at_least")]),
        ("25 in", [("note", "part_of_class_b_at_least")]),
        ("31 in", []),
    ],
)
def test_bars_of_an_edge_beam_lap_by_their_own_size(lap: str, expected: list[tuple[str, str]]) -> None:
    layer = f'{{count: 2, size: "#5", cover: 3 in, lap: {lap}}}'
    mat = 'reinforcement: {bars: {size: "#3", spacing: 18 in, lap: 22 in}}'
    for more in ("", mat):
        text = beam(layer, f"mix: {{strength: 4000 psi}}\n{more}")
        assert weights(review_by("steel-laps", text)) == expected


@pytest.mark.parametrize(
    ("layer", "expected"),
    [
        ("at: bottom, cover: 3 in", []),
        ("cover: 2 in", [("caution", "cover_on_ground_at_least")]),  # at the bottom where nothing is said
        ("at: top, cover: 1 1/2 in", []),
        ("at: top, cover: 1 in", [("caution", "cover_outdoors_at_least")]),
    ],
)
def test_cover_of_an_edge_beam_by_where_it_lies(layer: str, expected: list[tuple[str, str]]) -> None:
    assert weights(review_by("steel-position", beam(f'{{count: 2, size: "#4", {layer}}}'))) == expected


def test_what_an_edge_beam_leaves_open_is_asked() -> None:
    text = beam('{count: 2, size: "#4"}')
    assert review_by("steel-laps", text).not_shown[0].add[0].startswith("thickness.thickened_edges, bars, lap")
    assert review_by("steel-position", text).not_shown[0].add[0].startswith("thickness.thickened_edges, bars, cover")


def test_the_order_lists_the_bars_of_the_edge_apart_with_their_laps() -> None:
    """Two bars 24 ft less 3 in at both ends, 23.5 ft; from 20 ft stock each needs one lap of 31 in: 26.083 ft."""
    mat = 'reinforcement: {bars: {size: "#5", spacing: 18 in, lap: 25 in}}'
    sheet = order.order_sheet(plan_of(beam('{count: 2, size: "#5", cover: 3 in, lap: 31 in}', mat)), None, None)
    rows = {row[0]: row for row in sheet.table("bars").rows}
    assert set(rows) == {"#5", "#5 edges"}
    _, pieces, lap, used, *_ = rows["#5 edges"]
    assert pieces == 4
    assert lap.si == pytest.approx(31 * INCH)
    assert used.si == pytest.approx(2 * (23.5 * 12 + 31) * INCH)


def test_filler_through_the_slab_parts_the_bars_of_the_edge() -> None:
    filler = "isolation: {material: foam, depth: full}"
    joint = f"joints: [{{from: [12, 0], to: [12, 24], kind: formed strip, depth: 4 in, {filler}}}]"
    sheet = order.order_sheet(plan_of(beam('{count: 2, size: "#5", lap: 31 in}', joint)), None, None)
    (row,) = sheet.table("bars").rows
    assert row[3].si == pytest.approx(4 * 11.5 * FOOT)  # 12 ft less 3 in at both ends, and no lap


# hoops and plates


@pytest.mark.parametrize(
    ("anchor", "expected"),
    [  # 6 diameters
        ("along: [[2, 1], [6, 1]], size: 2 in", []),
        ("along: [[2, 1], [6, 0.9]], size: 2 in", [("caution", "edge_in_diameters_at_least")]),
        ("at: [4, 0.75], size: 1/2 in, plate: 8 in", []),  # bolts 9 - 4 = 5 in off
        ("at: [4, 0.5], size: 1/2 in, plate: 8 in", [("caution", "edge_in_diameters_at_least")]),  # 6 - 4 = 2 in
        ("at: [4, 4], size: 1/2 in, embedment: 2 5/8 in", []),
        ("at: [4, 4], size: 1/2 in, embedment: 3 in", [("caution", "depth_part_at_most")]),  # 3/4 of 4 in
    ],
)
def test_legs_bolts_and_depth_of_anchors(anchor: str, expected: list[tuple[str, str]]) -> None:
    assert weights(review_by("anchors-from-edge", pad(f"fixtures: [{{kind: anchor, {anchor}}}]"))) == expected


@pytest.mark.parametrize(
    ("fixture", "wrong"),
    [
        ("{kind: post, at: [1, 1], plate: 8 in}", '"plate" belongs to an anchor'),
        ("{kind: anchor, size: 1 in}", "this anchor does not say where it is"),
    ],
)
def test_fixtures_that_are_refused(fixture: str, wrong: str) -> None:
    with pytest.raises(UnreadableError) as refused:
        plan_of(pad(f"fixtures: [{fixture}]"))
    assert wrong in str(refused.value)
