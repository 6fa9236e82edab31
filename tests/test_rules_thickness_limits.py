"""Rules about thickness: what is written with a thicker slab, which edges are named, and how deep they are asked."""

from __future__ import annotations

import pytest
from comments import only
from design_text import pad, review_by
from slabwright.text.words import plain
from slabwright.units.quantity import Amount

INCH = 0.0254
GROUND = "site: {soil: {support: 100 pci}}\nmix: {strength: 4000 psi}\n"


# wheel-load


def truck(more: str, thick: str = "6 in", axle: str = "16000 lb", near: str = "false", unit: str = "ft") -> str:
    load = f"{{vehicle: truck, axle: {axle}, wheels_per_axle: 2, tire_pressure: 80 psi, passes: 40000{near}}}"
    load = load.replace("40000false", "40000, near_edge: false").replace("40000true", "40000, near_edge: true")
    side = "20" if unit == "ft" else "6"
    return pad(f"{GROUND}loads: [{load}]\n{more}", use="vehicle pad", thick=thick, unit=unit, side=side)


CUTS = (
    "joints: [{name: J1, kind: saw cut, from: [FROM], to: [TO], depth: D1}, "
    "{name: J2, kind: saw cut, from: [LOW], to: [HIGH], depth: D2}]"
)


@pytest.mark.parametrize(
    ("unit", "depths", "thick", "deeper"),
    [  # a quarter of the slab (ACI 302.1R, quoted), in the next eighth or 5 mm; a cut that is as deep stays
        ("ft", ("1 in", "1 5/8 in"), 6.25, {"joints[0].depth": 1.625}),
        ("ft", ("1 1/2 in", "1 1/2 in"), 6.25, {"joints[0].depth": 1.625, "joints[1].depth": 1.625}),
        ("m", ("30 mm", "40 mm"), 155 / 25.4, {"joints[0].depth": 40 / 25.4}),
        ("m", ("30 mm", "39 mm"), 155 / 25.4, {"joints[0].depth": 40 / 25.4, "joints[1].depth": 40 / 25.4}),
    ],
)
def test_wheel_load_cuts_are_deepened_with_the_slab(
    unit: str, depths: tuple[str, str], thick: float, deeper: dict[str, float]
) -> None:
    """8,000 lb inside: 6 1/4 in bear 1.81 times the stress and 6 in 1.69, 155 mm 1.74 and 150 mm 1.64; 1.7 is asked.

    By the printed form (Huang, ch. 4), as ``by_hand`` in test_rules_thickness.py works it.
    """
    far, third = ("20", "10") if unit == "ft" else ("6", "3")
    cuts = CUTS.replace("FROM", f"{third}, 0").replace("TO", f"{third}, {far}").replace("LOW", f"0, {third}")
    cuts = cuts.replace("HIGH", f"{far}, {third}").replace("D1", depths[0]).replace("D2", depths[1])
    comment = only(review_by("wheel-load", truck(cuts, "4 in" if unit == "ft" else "100 mm", unit=unit)))
    edits = {edit.path: edit.value.si / INCH for edit in comment.remedies[0].edits if isinstance(edit.value, Amount)}
    assert edits == pytest.approx({"thickness.design": thick, **deeper})


@pytest.mark.parametrize(
    ("edges", "named"),
    [
        ("edges: [{rest: gravel}]", "all its edges"),
        ("edges: [{run: [[0, 0], [20, 0]], beside: gravel, name: lane, wheels_cross: true}, {rest: lawn}]", "lane"),
        (
            "edges: [{run: [[0, 0], [20, 0]], beside: gravel, name: lane, wheels_cross: true}, "
            "{run: [[20, 0], [20, 20]], beside: gravel, name: alley, wheels_cross: true}, "
            "{run: [[20, 20], [0, 20]], beside: gravel, name: back lane, wheels_cross: true}, {rest: lawn}]",
            "lane, alley, back lane",
        ),
    ],
)
def test_wheel_load_names_the_edges_that_are_made_deep(edges: str, named: str) -> None:
    near = "true" if named == "all its edges" else ""
    comment = only(review_by("wheel-load", truck(edges, axle="9000 lb", near=near)))
    told = [plain(one.says, "us", both=False) for one in comment.remedies]
    assert any(f" deep at {named}, brought back over 3'-0\"" in one for one in told), told
