"""Rules about what moves under and beside a slab, and what comes onto it: every branch and every limit."""

from __future__ import annotations

import pytest
from comments import weights
from design_text import pad, review_by
from slabwright.text.words import plain

HOUSE = "points: {A: [0, 0], B: [8, 0], C: [8, 8], D: [0, 8]}\n"


def beside(filled: str, more: str = "", pour: str = "2026-06-16") -> str:
    job = f"job: {{name: Test pad{f', pour: {pour}' if pour else ''}}}\n"
    edge = f"edges: [{{run: [A, B], beside: building, name: house{filled}{more}}}, {{rest: lawn}}]"
    return pad(job + HOUSE + edge, outline="[A, B, C, D]")


@pytest.mark.parametrize(
    ("day", "found"),
    [
        # two years, 730 days, before the pour on 2026-06-16: common practice
        ("2024-06-16", []),
        ("2024-06-17", [("caution", "age_at_least")]),
        ("2026-06-15", [("caution", "age_at_least")]),
        ("2026-07-01", [("caution", "age_at_least")]),  # it is still to be filled
    ],
)
def test_fresh_backfill_settles_for_two_years(day: str, found: list[tuple[str, str]]) -> None:
    assert weights(review_by("fresh-backfill", beside(f", backfilled: {day}"))) == found


def test_fresh_backfill_that_was_compacted_holds_and_a_day_of_the_pour_is_asked_for() -> None:
    fresh = ", backfilled: 2026-03-02"

    assert review_by("fresh-backfill", beside(fresh, ", backfill_compacted: true")).does_not_apply
    assert review_by("fresh-backfill", beside("")).does_not_apply
    assert review_by("fresh-backfill", beside(fresh, pour="")).not_shown[0].add[0].startswith("job.pour:")


@pytest.mark.parametrize(
    ("base", "found"),
    [
        ("old_paving: concrete, separated: true", []),
        ("old_paving: concrete, separated: false", [("caution", "stuck_slabs_at_most")]),
    ],
)
def test_over_old_paving_wants_film_between(base: str, found: list[tuple[str, str]]) -> None:
    """Common practice."""
    assert weights(review_by("over-old-paving", pad(f"site: {{base: {{{base}}}}}"))) == found


def test_over_old_paving_asks_what_lies_between_and_takes_asphalt_for_a_base() -> None:
    def ended(base: str) -> str:
        report = review_by("over-old-paving", pad(f"site: {{base: {{{base}}}}}"))
        return "".join((*(one.add[0] for one in report.not_shown), *(one.reason for one in report.does_not_apply)))

    assert ended("old_paving: concrete").startswith("site.base.separated:")
    assert "asphalt" in ended("old_paving: asphalt")
    assert "no old paving" in ended("thickness: 4 in")


def wire(y: float, height: str = "", more: str = "", path: str = "[[4, 60], [4, 12]]") -> str:
    hangs = f", height: {height}" if height else ""
    way = f"truck_path: {path}, " if path else ""
    return pad(f"site: {{{way}wires: [{{name: drop, along: [[-20, {y}], [30, {y}]]{hangs}}}]}}\n{more}")


@pytest.mark.parametrize(("height", "found"), [("14 ft", []), ("13.9 ft", [("caution", "over_truck_at_least")])])
def test_a_wire_over_the_truck(height: str, found: list[tuple[str, str]]) -> None:
    """A mixer stands some 14 ft tall: common practice."""
    assert weights(review_by("overhead-wires", wire(30, height))) == found


@pytest.mark.parametrize(
    ("y", "order", "found"),
    [
        # 20 ft from power lines: 29 CFR 1926.1408, recalled; the slab ends at 8 ft
        (28, "method: pump", []),
        (27.9, "method: pump", [("caution", "boom_clear_at_least")]),
        (4, "method: pump, hose: 4 in", [("caution", "boom_clear_at_least")]),
    ],
)
def test_a_wire_near_a_boom(y: float, order: str, found: list[tuple[str, str]]) -> None:
    assert weights(review_by("overhead-wires", wire(y, "18 ft", f"order: {{{order}}}", path=""))) == found


def test_wires_that_nothing_comes_near() -> None:
    line_pump = wire(20, "18 ft", "order: {method: pump, hose: 2 1/2 in}", path="")

    assert review_by("overhead-wires", line_pump).does_not_apply  # its hose lies on the ground
    assert review_by("overhead-wires", wire(70, "18 ft")).does_not_apply
    assert review_by("overhead-wires", pad("")).does_not_apply
    assert "drop" in review_by("overhead-wires", wire(30)).not_shown[0].add[0]


def test_nobody_is_told_to_touch_a_wire() -> None:
    for comment in review_by("overhead-wires", wire(20, "12 ft", "order: {method: pump}")).comments:
        assert not comment.remedies
        assert "utility" in plain(comment.to_pass, "us")


@pytest.mark.parametrize(
    ("soil", "base", "use", "freezing", "found"),
    [
        # 2 ft of granular soil over soil that swells: a soils report, read; 1 ft over frost heave: common practice
        ("kind: expansive clay", "4 in", "garage floor", "none", [("caution", "over_swelling_at_least")]),
        ("kind: expansive clay", "4 in", "driveway", "none", [("note", "outdoors_over_swelling_at_least")]),
        ("kind: expansive clay, replaced: 20 in", "4 in", "garage floor", "none", []),
        (
            "kind: expansive clay, replaced: 19 in",
            "4 in",
            "garage floor",
            "none",
            [("caution", "over_swelling_at_least")],
        ),
        ("kind: frost-susceptible silt", "6 in", "driveway", "severe", [("caution", "over_frost_heave_at_least")]),
        ("kind: frost-susceptible silt", "12 in", "driveway", "severe", []),
    ],
)
def test_heaving_soil_wants_ground_that_keeps_still(
    soil: str, base: str, use: str, freezing: str, found: list[tuple[str, str]]
) -> None:
    site = f"site: {{freezing: {freezing}, soil: {{{soil}}}, base: {{material: crushed stone, thickness: {base}}}}}"
    assert weights(review_by("heaving-soil", pad(site, use=use))) == found


@pytest.mark.parametrize("soil", ["non-expansive clay", "low-swelling clay", "silty sand", "frost-susceptible silt"])
def test_heaving_soil_leaves_quiet_soil_and_ground_that_does_not_freeze(soil: str) -> None:
    site = f"site: {{freezing: none, soil: {{kind: {soil}}}}}"
    assert review_by("heaving-soil", pad(site)).does_not_apply


def test_heaving_soil_leaves_what_a_report_settles() -> None:
    assert review_by("heaving-soil", pad("site: {soil: {kind: expansive clay, report: true}}")).does_not_apply


@pytest.mark.parametrize(
    ("above", "found"),
    [
        ("uphill: 20 ft", []),
        ("uphill: 21 ft", [("caution", "uphill_at_most")]),
        ("eave: 4 ft", []),
        ("eave: 14 ft, uphill: 30 ft", [("caution", "eave_at_most"), ("caution", "uphill_at_most")]),
    ],
)
def test_run_on_from_a_lawn_and_a_roof(above: str, found: list[tuple[str, str]]) -> None:
    """Common practice."""
    edges = f"{HOUSE}edges: [{{run: [A, B], beside: lawn, {above}}}, {{rest: lawn}}]"
    assert sorted(weights(review_by("run-on", pad(edges, outline="[A, B, C, D]")))) == found


def test_run_on_is_no_matter_where_a_swale_takes_it() -> None:
    edges = f"{HOUSE}edges: [{{run: [A, B], beside: lawn, uphill: 90 ft, swale: true}}, {{rest: lawn}}]"
    assert review_by("run-on", pad(edges, outline="[A, B, C, D]")).does_not_apply


@pytest.mark.parametrize(("footing", "found"), [("42 in", []), ("41 in", [("caution", "below_frost_at_least")])])
def test_footings_go_below_frost(footing: str, found: list[tuple[str, str]]) -> None:
    """IRC R403.1.4.1, recalled: the depth is the building office's."""
    more = f"site: {{frost_depth: 42 in}}\nfixtures: [{{kind: post, at: [4, 4], footing: {footing}}}]"
    assert weights(review_by("footings-below-frost", pad(more))) == found


@pytest.mark.parametrize(
    ("at", "joint", "found"),
    [
        # 6 diameters of 1/2 in are 3 in: ACI 318-19 sec. 17.9.2, recalled
        ("[4, 0.25]", "", []),
        ("[4, 0.24]", "", [("caution", "edge_in_diameters_at_least")]),
        ("[4, 4]", "joints: [{from: [4.1, 0], to: [4.1, 8], kind: saw cut, depth: 1 in}]",
         [("caution", "edge_in_diameters_at_least")]),
    ],
)  # fmt: skip
def test_anchors_keep_six_diameters_from_edges_and_joints(at: str, joint: str, found: list[tuple[str, str]]) -> None:
    more = f"fixtures: [{{kind: anchor, at: {at}, size: 1/2 in}}]\n{joint}"
    assert weights(review_by("anchors-from-edge", pad(HOUSE + more, outline="[A, B, C, D]"))) == found
