"""The rule `least-thickness`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, places, weights
from design_text import pad, review_by
from judged import finding, judged, margin
from slabs.thickness import axle, design
from slabwright.formulas.units import INCH
from slabwright.rulebook.conclusion import Finding
from slabwright.text.words import plain


def loaded(pounds: int) -> str:
    return f"loads: [{{vehicle: van, axle: {pounds} lb, wheels_per_axle: 2}}]"


@pytest.mark.parametrize(
    ("use", "thickness", "more", "found"),
    [
        ("driveway", "4 in", "", []),  # trade article on parking: 4 in as practical least
        ("driveway", "3 7/8 in", "", [("hold", "cars_at_least")]),
        ("garage floor", "3 1/2 in", "", [("hold", "cars_at_least")]),
        ("shop floor", "3 1/2 in", "", []),  # IBC 1910.1: 3-1/2 in
        ("shop floor", "3 3/8 in", "", [("hold", "floor_at_least")]),
        ("patio", "4 in", "", []),  # UFGS 03300N par. 3.8.3: 4 in
        ("walk", "3 1/2 in", "", [("caution", "walked_at_least")]),
        ("equipment pad", "3 1/2 in", "", [("caution", "walked_at_least")]),
        ("patio", "4 in", loaded(4000), []),
        ("patio", "4 in", loaded(4001), [("caution", "loaded_at_least")]),  # builders' magazine: 5 to 6 in
        ("driveway", "5 in", loaded(10600), []),  # specification CP-3.4: light up to 10,600 lb
        ("driveway", "5 in", loaded(10601), [("caution", "trucks_at_least")]),
        ("driveway", "6 in", loaded(18000), []),
        (
            "driveway",
            "5 in",
            "site: {right_of_way: true}",
            [("caution", "right_of_way_at_least")],
        ),  # Richardson TX: 6 in
        ("driveway", "6 in", "site: {right_of_way: true}", []),
        ("walk", "4 in", "site: {right_of_way: true}", []),  # a public walk without vehicles
        ("walk", "4 in", "site: {right_of_way: true}\n" + loaded(3000), [("caution", "right_of_way_at_least")]),
    ],
)
def test_least_thickness(use: str, thickness: str, more: str, found: list[tuple[str, str]]) -> None:
    assert weights(review_by("least-thickness", design(thickness, more, use))) == found


@pytest.mark.parametrize("use", ["driveway", "patio"])
def test_a_thickness_is_told_as_it_is_typed(use: str) -> None:
    said = plain(only(review_by("least-thickness", design("3.5 in", use=use))).says, "us", both=False)
    assert said.startswith("3.5 in is thin for ")


def test_least_thickness_writes_what_passes_every_limit_at_once() -> None:
    comment = only(review_by("least-thickness", design("3 in", loaded(12000), "driveway")))

    assert comment.limit.name == "cars_at_least"  # the hold
    assert advice(comment) == "make the slab 6 in thick: 3 in more"
    assert comment.working[0].result.si == pytest.approx((3 / 4) ** 2)
    assert not review_by("least-thickness", design("6 in", loaded(12000), "driveway")).comments


@pytest.mark.parametrize(
    ("use", "thickness", "met"),
    [("patio", "100 mm", True), ("patio", "99 mm", False), ("driveway", "100 mm", True), ("shop floor", "85 mm", False),
     ("shop floor", "89 mm", True)],
)  # fmt: skip
def test_least_thickness_lets_metric_plans_write_100_mm(use: str, thickness: str, met: bool) -> None:
    # UFGS 03300N par. 3.8.3 prints 4 in (100 mm); IBC 1910.1 prints 3-1/2 in (89 mm)
    assert (review_by("least-thickness", design(thickness, use=use, unit="m")).comments == ()) is met


@pytest.mark.parametrize(("use", "thickness", "told"), [
    ("shop floor", "85 mm", "90 mm thick: 5 mm more"),  # no form is set to 89 mm (common practice)
    ("shop floor", "60 mm", "90 mm thick: 30 mm more"),
    ("driveway", "80 mm", "100 mm thick: 20 mm more"),
])  # fmt: skip
def test_a_metric_slab_is_made_as_thick_as_forms_are_set(use: str, thickness: str, told: str) -> None:
    comment = only(review_by("least-thickness", design(thickness, use=use, unit="m")))
    assert plain(comment.to_pass, "metric") == f"make the slab {told}"


@pytest.mark.parametrize("use", ["driveway", "walk"])
def test_a_slab_that_is_driven_over_all_over_is_made_thicker_whole(use: str) -> None:
    """Six inches in the right of way: a town's sheet, read."""
    lane = "edges: [{run: [A, B], beside: street, name: lane, wheels_cross: true}, {rest: lawn}]\n"
    comment = only(review_by("least-thickness", design("4 in", f"site: {{right_of_way: true}}\n{lane}", use)))

    assert advice(comment) == "make the slab 6 in thick: 2 in more"
    assert comment.decide is not None
    assert "make the slab 6 in thick, with base, forms, joints" in plain(comment.decide, "us", both=False)


@pytest.mark.parametrize(
    ("pounds", "name", "asked"),
    [
        (3999.5, "cars_at_least", 4), (4000, "cars_at_least", 4), (4000.5, "loaded_at_least", 5),
        (10600, "loaded_at_least", 5), (10600.5, "trucks_at_least", 6),
    ],
)  # fmt: skip
def test_axles_are_heavy_from_their_very_pound(pounds: float, name: str, asked: float) -> None:
    """4,000 lb: common practice; 10,600 lb: specification CP-3.4, read."""
    one = margin("least-thickness", pad(axle(pounds), use="driveway", thick="12 in"))

    assert one.asked is not None
    assert (one.limit.name, one.asked.si) == (name, pytest.approx(asked * INCH))


def test_of_cautions_alike_the_thickest_is_told() -> None:
    one = finding("least-thickness", pad("site: {right_of_way: true}\n" + axle(6000), use="walk", thick="4 in"))

    assert one.asked is not None
    assert (one.limit.name, one.asked.si) == ("right_of_way_at_least", pytest.approx(6 * INCH))


@pytest.mark.parametrize(("thick", "met"), [("6 in", True), ("5 1/2 in", False)])
def test_a_walk_is_held_to_the_thickness_where_cars_cross_it(thick: str, met: bool) -> None:
    """A walk 5 ft wide, 4 in, that a drive crosses between joints 5 and 10 ft along: six inches there."""
    points = "points: {A: [0, 0], P: [5, 0], Q: [10, 0], B: [20, 0], C: [20, 5], R: [10, 5], S: [5, 5], D: [0, 5]}\n"
    edges = (
        "edges: [{run: [P, Q], beside: street, wheels_cross: true}, {run: [R, S], beside: existing slab, "
        "wheels_cross: true}, {rest: lawn}]\n"
    )
    joints = "joints: [{from: P, to: S, kind: saw cut, depth: 1 in}, {from: Q, to: R, kind: saw cut, depth: 1 in}]\n"
    text = pad(points + edges + joints + "site: {right_of_way: true}\n" + axle(3000), use="walk",
               outline="[A, P, Q, B, C, R, S, D]")  # fmt: skip
    thickened = f"{{design: 4 in, thickened_edges: [{{run: [P, Q], depth: {thick}, width: 5 ft, taper: 1 ft}}]}}"

    said = judged("least-thickness", text.replace("{design: 4 in}", thickened))[0]
    assert isinstance(said, Finding) is not met
    if isinstance(said, Finding):
        assert said.limit.name == "right_of_way_at_least"
        assert "where wheels cross from" in said.to_pass.template
        assert said.decide is not None
        assert "make it 6 in thick where wheels cross" in plain(said.decide, "us", both=False)


@pytest.mark.parametrize(
    ("at_street", "found"),
    [  # a drive of 5 in with an approach of 6 in at the street, as it is poured all over: the town's part is 6 in
        ("6 in", []),
        ("5 1/2 in", ["the approach"]),
    ],
)
def test_of_a_drive_in_parts_what_meets_the_street_lies_in_the_right_of_way(at_street: str, found: list[str]) -> None:
    points = "points: {A: [0, 0], B: [10, 0], Q: [10, 20], C: [10, 26], D: [0, 26], P: [0, 20]}\n"
    parts = f"parts: [{{name: approach, corners: [P, Q, C, D], thickness: {at_street}}}]\n"
    edges = "edges: [{run: [C, D], beside: street}, {rest: lawn}]\nsite: {right_of_way: true}"
    text = pad(f"{points}{parts}{edges}", "driveway", outline="[A, B, Q, C, D, P]", thick="5 in")
    assert places(review_by("least-thickness", text)) == found
    everywhere = text.replace("beside: street", "beside: lawn")  # nothing shows which part it is
    assert len(review_by("least-thickness", everywhere).comments) == 1 + len(found)


@pytest.mark.parametrize(
    ("unit", "kilonewtons", "name"), [("m", 18, "cars"), ("m", 18.1, "loaded"), ("ft", 17.8, "loaded")]
)
def test_an_axle_is_heavy_from_eighteen_kilonewtons_on_a_metric_plan(unit: str, kilonewtons: float, name: str) -> None:
    """4,000 lb are 17.79 kN (NIST SP 811); 18 kN is the round number next to it (common practice)."""
    load = f"loads: [{{vehicle: pickup, axle: {kilonewtons} kN, wheels_per_axle: 2}}]"

    assert (
        margin("least-thickness", pad(load, use="driveway", thick="300 mm", unit=unit)).limit.name == f"{name}_at_least"
    )


def test_what_a_town_asks_of_walks_is_asked_of_metric_ones_too() -> None:
    """75 mm for a path by the profiles of a cement association, 4 in by UFGS 03300N."""
    metric = design("75 mm", unit="m")

    assert finding("least-thickness", metric).limit.name == "preferred_path_at_least"
    assert finding("least-thickness", metric, walked_at_least="5 in").limit.name == "walked_at_least"
