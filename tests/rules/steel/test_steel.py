"""What the rules on steel have in common."""

from __future__ import annotations

import pytest
from design_text import pad, plan_of, review_by
from slabs.steel import JOINT, MESH, RULES, at_pool, bars_key, beam, mesh_key, review, slab
from slabwright.sheets.card import card
from slabwright.sheets.order import order
from slabwright.source.problem import UnreadableError
from slabwright.text.words import plain

FOOT, INCH = 0.3048, 0.0254


@pytest.mark.parametrize("rule", RULES)
@pytest.mark.parametrize("steel", ["none", "{fiber: {kind: micro synthetic, dose: 1.5 lb/yd3}}"])
def test_rules_on_steel_do_not_apply_without_bars_and_mesh(rule: str, steel: str) -> None:
    assert review(rule, steel).does_not_apply


@pytest.mark.parametrize(
    ("rule", "key"),
    [("steel-at-joints", "at_joints"), ("steel-laps", "lap"), ("steel-position", "top_cover")],
)
def test_what_is_missing_is_asked_of_the_bars_first(rule: str, key: str) -> None:
    (entry,) = review_by(rule, slab(f"{bars_key()}, {mesh_key()}", more=JOINT)).not_shown

    assert entry.add[0].startswith(f"reinforcement.bars.{key}: ")
    assert entry.place.path == "reinforcement.bars"


# bonding


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


# edge beams


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
