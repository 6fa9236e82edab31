"""The rule `fill-depth`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import only
from design_text import pad, review_by
from judged import finding
from slabs.base import ground, hill
from slabwright.text.words import plain
from slabwright.units.quantity import Amount

INCH = 0.0254


@pytest.mark.parametrize(
    ("inches", "material", "held"),
    [
        # IRC R506.2.1 (2009): 8 in of earth, 24 in of clean sand or gravel unless more is approved, quoted
        (8, "earth", False),
        (9, "earth", True),
        (9, "", True),
        (20, "clean gravel", False),
        (24, "clean gravel", False),
        (25, "clean gravel", True),
        (9, "clayey gravel", True),  # fines keep it from draining
    ],
)
def test_fill_depth_by_material(inches: float, material: str, held: bool) -> None:
    more = f", fill: {{material: {material}}}" if material else ""
    report = review_by("fill-depth", hill(100, 100 - (8 + inches) / 12, more))

    assert [comment.weight for comment in report.comments] == (["hold"] if held else [])
    if held:
        assert report.comments[0].shown.si == pytest.approx(inches * INCH)


def test_fill_depth_follows_shots_on_the_base_where_there_are_any() -> None:
    shot = hill(100, 98.5).replace("  existing", "  base: {A: 99.0, B: 99.0, C: 99.0, D: 99.0}\n  existing")
    fill = review_by("fill-depth", shot).met[0].shown  # stone down to 98.67 ft, ground at 98.50: 2 in

    assert fill is not None
    assert fill.si == pytest.approx(2 * INCH)


def test_fill_depth_takes_thin_layers_and_does_not_guess_the_ground() -> None:
    thick = only(review_by("fill-depth", pad("site: {fill: {lift: 11 in}}")))
    earth = only(review_by("fill-depth", pad("site: {fill: {lift: 10 in}}")))
    existing = "heights: {finish: {A: 100}, existing: {A: 99, B: 99, C: 99}}"
    ground = pad(f"points: {{A: [0, 0], B: [8, 0], C: [8, 8], D: [0, 8]}}\n{existing}", outline="[A, B, C, D]")

    assert (thick.weight, thick.limit.name) == ("caution", "lift_at_most")
    assert (earth.weight, earth.limit.name) == ("note", "earth_lift_at_most")
    assert review_by("fill-depth", pad("site: {fill: {material: clean sand, lift: 10 in}}")).met
    assert review_by("fill-depth", pad("")).does_not_apply
    assert review_by("fill-depth", pad("site: {fill: {material: earth}}")).does_not_apply
    assert "heights.finish" in review_by("fill-depth", ground).not_shown[0].add[0]
    assert "heights.finish" in review_by("even-ground", ground).not_shown[0].add[0]


@pytest.mark.parametrize(
    ("material", "told"),
    [  # IRC R506.2.1 (2009): fill free of vegetation and foreign material, quoted
        ("topsoil", True), ("sod from the lawn", True), ("peat", True), ("sandy topsoil", True),
        ("clay", False), ("gravel", False), ("earth, topsoil stripped", False),
    ],
)  # fmt: skip
def test_what_rots_is_no_fill(material: str, told: bool) -> None:
    said = review_by("fill-depth", pad(f'site: {{fill: {{material: "{material}", lift: 6 in}}}}')).comments

    assert [(one.weight, one.limit.name) for one in said] == [("caution", "rotting_at_most")] * told
    for one in said:
        assert plain(one.to_pass, "us") == (
            f"strip the {material} out, and fill with clean gravel in layers, each compacted"
        )


@pytest.mark.parametrize(
    ("base", "fill", "thick"),
    [("4 in", 8.95, 5.0), ("4 in", 8.2, 4.25), ("4 in", 12.3, 8.375), ("", 8.9, 1.0)],
)
def test_fill_depth_asks_for_so_much_more_base(base: str, fill: float, thick: float) -> None:
    """8 in of earth may lie there; the rest is stone, in whole eighths of an inch."""
    down = 4 if base else 0  # in of base
    low = round(100 - (4 + down + fill) / 12, 8)
    text = ground(f"A: {low}, B: {low}, C: {low}, D: {low}", base=base)
    values = [finding("fill-depth", text).to_pass.values[slot] for slot in ("thick", "off")]
    assert [one.si / INCH for one in values if isinstance(one, Amount)] == pytest.approx([thick, thick - down])
    deeper = ground(f"A: {low}, B: {low}, C: {low}, D: {low}", base=f"{thick} in")
    assert not review_by("fill-depth", deeper).comments
