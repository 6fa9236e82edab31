"""Rules about steel at the edges of their numbers: just met and just not, in both systems of units."""

from __future__ import annotations

import pytest
from design_text import pad, review_by
from judged import findings, judged, margins
from slabwright.review.report import Comment
from slabwright.rulebook.conclusion import Finding, Margin
from slabwright.units.quantity import Amount, System, show

FOOT, INCH = 0.3048, 0.0254
PSI = 0.45359237 * 9.80665 / INCH**2  # Pa, exact by the definitions of the pound and the inch


def slab(
    steel: str,
    thick: str = "5 in",
    more: str = "",
    use: str = "patio",
    unit: str = "ft",
    size: tuple[float, float] = (12, 9),
) -> str:
    x, y = size
    outline = f"[[0, 0], [{x}, 0], [{x}, {y}], [0, {y}]]"
    return pad(f"reinforcement: {{{steel}}}\n{more}", use, unit, outline=outline, thick=thick)


def bars(size: str = "#4", spacing: str = "18 in", **more: str) -> str:
    return (
        f'bars: {{size: "{size}", spacing: {spacing}'
        + "".join(f", {key}: {value}" for key, value in more.items())
        + "}"
    )


def mesh(style: str = "6x6 W2.9", **more: str) -> str:
    return f"mesh: {{style: {style}" + "".join(f", {key}: {value}" for key, value in more.items()) + "}"


def slot(said: Finding | Comment, name: str, system: System = "us") -> str:
    """One value of the advice, as it is printed."""
    value = said.to_pass.values[name]
    return show(value, system, both=False) if isinstance(value, Amount) else str(value)


def asked(said: Finding | Margin) -> float:
    assert said.asked is not None
    return said.asked.si


JOINT = "joints: [{kind: saw cut, from: [6, 0], to: [6, 9], depth: 1 1/4 in}]"


@pytest.mark.parametrize(
    ("rule", "key"),
    [("steel-at-joints", "at_joints"), ("steel-laps", "lap"), ("steel-position", "top_cover")],
)
def test_what_is_missing_is_asked_of_the_bars_first(rule: str, key: str) -> None:
    (entry,) = review_by(rule, slab(f"{bars()}, {mesh()}", more=JOINT)).not_shown

    assert entry.add[0].startswith(f"reinforcement.bars.{key}: ")
    assert entry.place.path == "reinforcement.bars"


# bar-spacing


@pytest.mark.parametrize(
    ("size", "thick", "thin"),
    [
        ("#5", "149 mm", True),
        ("#5", "151 mm", False),
        ("#6", "151 mm", True),
        ("#6", "199 mm", True),
        ("#6", "201 mm", False),
    ],
)
def test_bar_spacing_how_thick_a_slab_is_for_its_bars(size: str, thick: str, thin: bool) -> None:
    # #4 under 6 in, #5 under 8 in, sold as 150 and 200 mm: common practice
    found = [one.limit.name for one in findings("bar-spacing", slab(bars(size), thick))]

    assert bool(found) is thin


@pytest.mark.parametrize(
    ("steel", "thick", "unit", "write"),
    [
        # 20M has 300 mm2 and 10M 100, 25M 500 and 15M 200 (CSA bars): as much steel
        (bars("20M", "450 mm"), "125 mm", "m", "150 mm"),
        (bars("25M", "400 mm"), "160 mm", "m", "160 mm"),
        (bars("20 mm", "400 mm"), "125 mm", "m", "140 mm"),  # 400 x 144 / 400
        (bars("12 mm", "500 mm"), "75 mm", "m", "370 mm"),  # 5 x 75 mm is 375 mm
        (bars("#7", "18 in"), "6 in", "ft", "9 in"),  # 18 x 0.31 / 0.60 is 9.3 in
    ],
)
def test_bar_spacing_as_much_steel_in_thinner_bars(steel: str, thick: str, unit: str, write: str) -> None:
    (finding,) = findings("bar-spacing", slab(steel, thick, unit=unit, size=(4, 3)))

    assert slot(finding, "write", "metric" if unit == "m" else "us") == write


@pytest.mark.parametrize(
    ("size", "unit", "areas"),
    [
        # ASTM A615 as the PCI handbook prints it, CSA bars; a bar named by its diameter has the area of the circle
        ("#6", "ft", ("0.20 in2", "0.44 in2")),
        ("#6", "m", ("129.03 mm2", "283.87 mm2")),
        ("20M", "m", ("100 mm2", "300 mm2")),
        ("20 mm", "m", ("113.1 mm2", "314.16 mm2")),
    ],
)
def test_bar_spacing_areas_of_bars_come_to_the_spacing_that_is_printed(
    size: str, unit: str, areas: tuple[str, str]
) -> None:
    (finding,) = findings("bar-spacing", slab(bars(size, "400 mm"), "125 mm", unit=unit, size=(4, 3)))
    step, (thinner, area) = finding.working[0], (float(one.split()[0]) for one in areas)

    assert (step.numbers.values["a"], step.numbers.values["b"]) == areas
    assert step.result.si == pytest.approx(0.4 * thinner / area, rel=5e-5)


# fiber-claims


@pytest.mark.parametrize(("claim", "shown"), [("", 0), (", in_place_of: steel", 1)])
def test_fiber_claims_a_claim_that_amendments_let_pass_is_met(claim: str, shown: float) -> None:
    (first, _) = judged(
        "fiber-claims", slab(f"fiber: {{kind: micro synthetic, dose: 2 lb/yd3{claim}}}"), saved_by_fine_at_most=1
    )

    assert isinstance(first, Margin)
    assert first.shown.si == shown


# steel-amount


@pytest.mark.parametrize(("steel", "strength"), [(bars("#3", "36 in"), 60000), (mesh("6x6 W1.4"), 65000)])
def test_steel_amount_the_steel_that_drags_a_slab_together(steel: str, strength: float) -> None:
    # F L w / (2 fs), F 1.5, w 12.5 lb/ft2 for an inch, fs two thirds of the yield strength (CRSI example, read):
    # 1.5 x 80 ft x 62.5 lb/ft2 / (2 x 2/3 fy)
    (finding,) = findings("steel-amount", slab(steel, size=(80, 9)))
    pounds_per_foot = 1.5 * 80 * 62.5 / 2

    assert asked(finding) == pytest.approx(pounds_per_foot / (2 / 3 * strength) * INCH**2 / FOOT, rel=1e-9)


def test_steel_amount_amendments_may_ask_for_more_than_the_drag() -> None:
    design = slab(bars("#3", "36 in"), size=(80, 9))
    once, twice = (findings("steel-amount", design, part_of_drag_at_least=part)[0] for part in (1, 2))

    assert asked(twice) == pytest.approx(2 * asked(once))
    assert once.working[0].result.si == pytest.approx(twice.working[0].result.si) == pytest.approx(asked(once))
    assert once.working[1].result.si == pytest.approx(2 * twice.working[1].result.si)


@pytest.mark.parametrize(
    ("feet", "write"),
    [(44, "16 in"), (64, "11 in"), (70, "10 in"), (46, "15 in"), (48, "14 1/2 in")],
)
def test_steel_amount_bars_are_laid_by_the_half_inch(feet: float, write: str) -> None:
    # #3 has 0.11 in2, and 8 in of slab ask for 0.001875 in2/ft for each foot: 704 in / feet, rounded down
    (finding,) = findings("steel-amount", slab(bars("#3", "36 in"), "8 in", size=(feet, 9)))

    assert slot(finding, "write") == write


# steel-at-joints


@pytest.mark.parametrize(("at_joints", "part"), [("stop", 0), ("half through", 0.5), ("run through", 1)])
def test_steel_at_joints_the_part_of_the_steel_that_goes_through(at_joints: str, part: float) -> None:
    (said,) = judged("steel-at-joints", slab(bars(at_joints=at_joints), more=JOINT))

    assert said.shown.si == part


def test_steel_at_joints_mesh_is_judged_after_bars_that_stop() -> None:
    steel = f"{bars(at_joints='stop')}, {mesh(at_joints='run through')}"

    assert [one.at.name for one in findings("steel-at-joints", slab(steel, more=JOINT))] == ["the mesh"]


# steel-laps


@pytest.mark.parametrize(
    ("size", "fy", "fc", "inches"),
    [  # class B, 1.3 fy d / (25 root f'c): derived from ACI 318-14 sec. 25.4.2.2 and 25.5.2 (quoted), whole inches
        ("#3", 60000, 3000, 22), ("#4", 60000, 3000, 29), ("#5", 60000, 3000, 36),
        ("#3", 60000, 4000, 19), ("#4", 60000, 4000, 25), ("#5", 60000, 4000, 31),
        ("#4", 40000, 3000, 19),
    ],
)  # fmt: skip
def test_steel_laps_up_to_class_b_are_a_note(size: str, fy: float, fc: float, inches: float) -> None:
    mix = f"mix: {{strength: {fc} psi}}"
    (said,) = judged("steel-laps", slab(bars(size, yield_strength=f"{fy} psi", lap=f"{inches + 1} in"), more=mix))

    assert isinstance(said, Margin)
    assert asked(said) == pytest.approx(inches * INCH, abs=0.75 * INCH)
    assert said.limit.weight == "note"


# steel-position


@pytest.mark.parametrize(("cover", "whole"), [(1.5 * INCH, 0.038), (0.04, 0.04), (0.0401, 0.04), (0.03999, 0.039)])
def test_steel_position_a_metric_plan_takes_the_cover_in_whole_millimeters(cover: float, whole: float) -> None:
    design = slab(bars("12 mm", "300 mm", top_cover="20 mm"), "150 mm", unit="m", size=(4, 3))
    (finding,) = findings("steel-position", design, cover_outdoors_at_least=cover)

    assert asked(finding) == pytest.approx(whole, rel=1e-9)


@pytest.mark.parametrize(
    ("steel", "thick", "unit", "slots"),
    [
        # in the weather 1 1/2 in over #5: ACI 318-19 Table 20.5.1.3.1 (read); the middle at half the thickness
        (bars("#5", top_cover="1 3/8 in"), "4 in", "ft", {"write": "1 1/2 in"}),
        (bars("#6", top_cover="1 3/4 in"), "5 in", "ft", {"write": "2 in"}),
        # no room: the thickness at which the middle lies at half of it and the tolerance, 2 (1 1/2 + 1/2 - 3/4)
        (bars("#4", top_cover="1 3/8 in"), "2 in", "ft", {"t": "2 1/2 in", "write": "1 1/2 in"}),
        (bars("16 mm", "300 mm", top_cover="30 mm"), "60 mm", "m", {"t": "70 mm", "write": "38 mm"}),
        # deeper than the middle: as deep as there is room, to the eighth of an inch or the 5 mm
        (bars("#3", top_cover="3 in"), "4 1/4 in", "ft", {"write": "1 3/4 in"}),  # 2 1/8 - 3/8
        (bars("#4", top_cover="3 in"), "4 3/4 in", "ft", {"write": "1 7/8 in"}),  # 2 3/8 - 1/2
        (bars("#4", top_cover="3 in"), "4 1/2 in", "ft", {"write": "1 3/4 in"}),
        (bars("#5", top_cover="3 in"), "5 in", "ft", {"write": "1 7/8 in"}),  # 2 1/2 - 5/8
        (bars("10 mm", "300 mm", top_cover="75 mm"), "120 mm", "m", {"write": "50 mm"}),  # 60 - 10
        (bars("12 mm", "300 mm", top_cover="70 mm"), "120 mm", "m", {"write": "45 mm"}),  # 60 - 12
        # too little over it: as much as is asked
        (bars("#4", top_cover="1 in"), "6 in", "ft", {"write": "1 1/2 in"}),
        (bars("12 mm", "300 mm", top_cover="30 mm"), "150 mm", "m", {"write": "40 mm"}),
        # 5 mm steps miss what there is room for: 38 to 39 mm
        (bars("12 mm", "300 mm", top_cover="30 mm"), "62 mm", "m", {"write": "38 mm"}),
        # never less than the weather asks
        (bars("12 mm", "300 mm", top_cover="60 mm"), "102 mm", "m", {"write": "40 mm"}),
    ],
)  # fmt: skip
def test_steel_position_the_cover_that_has_room(steel: str, thick: str, unit: str, slots: dict[str, str]) -> None:
    design = slab(steel, thick, unit=unit, size=(4, 3))
    system: System = "metric" if unit == "m" else "us"

    for finding in findings("steel-position", design):
        assert {name: slot(finding, name, system) for name in ("t", "write") if name in finding.to_pass.values} == slots


@pytest.mark.parametrize(("cover", "short"), [("1 in", 0.5), ("1 3/8 in", 0.125)])
def test_steel_position_how_much_cover_is_short(cover: str, short: float) -> None:
    # 1 1/2 in in the weather: ACI 318-19 Table 20.5.1.3.1 (read)
    (finding,) = findings("steel-position", slab(bars(top_cover=cover), "6 in"))

    assert finding.working[0].result.si == pytest.approx(short * INCH)


def test_steel_position_a_cover_of_just_what_is_asked_is_not_raised() -> None:
    assert len(margins("steel-position", slab(bars(top_cover="1 1/2 in"), "6 in"))) == 2


# stone-between-bars


@pytest.mark.parametrize(
    ("clear", "write"),
    [("3/4 in", "3/8 in"), ("0.79 in", "3/8 in"), ("1 in", "1/2 in"), ("0.99 in", "3/8 in"), ("1/10 in", "")],
)
def test_stone_between_bars_the_smallest_stone_sold_is_three_eighths(clear: str, write: str) -> None:
    # half of 3/4 in is 3/8 in, of 1 in 1/2 in; usual sizes: ACI 304.2R
    design = slab(bars(top_cover=clear), "8 in", "mix: {aggregate: 3/4 in}", "shop floor")
    found = findings("stone-between-bars", design, part_of_cover_at_most=0.5)
    if not write:
        assert not found  # too little cover in any case
        return
    (finding,) = found

    assert slot(finding, "write") == write


@pytest.mark.parametrize(
    ("steel", "stone", "clear"),
    [
        # between, over and under, as far as they are short of 4/3 of the stone
        (bars("#4", "2 in", top_cover="2 in"), "1 1/2 in", [1.5]),
        (bars("#4", "12 in", top_cover="1 3/4 in"), "1 1/2 in", [1.75]),
        (bars("#4", "12 in", top_cover="2 in"), "1 in", []),  # 2 in under it: 5 - 2 - 1
        (bars("#4", "12 in", top_cover="2 1/2 in"), "1 1/4 in", [1.5]),
        (bars("#4", "12 in", top_cover="3 in"), "1 in", []),  # less than the weather asks in any case
        (bars("#4", "12 in", top_cover="4 1/2 in"), "3/8 in", []),
    ],
)
def test_stone_between_bars_the_room_between_over_and_under_bars(steel: str, stone: str, clear: list[float]) -> None:
    found = findings("stone-between-bars", slab(steel, "5 in", f"mix: {{aggregate: {stone}}}"))

    assert [one.says.values["c"].si / INCH for one in found] == pytest.approx(clear)  # type: ignore[union-attr]
    assert [asked(one) / INCH for one in found] == pytest.approx([0.75 * max(one, 0.0) for one in clear])


def test_stone_between_bars_of_a_mat_and_between_wires_of_another() -> None:
    # 18 in between bars let any stone pass; of 2 in between wires of 0.134 in, three quarters are 1.4 in
    steel = f"{bars()}, {mesh('2x2 W1.4')}"
    found = findings("stone-between-bars", slab(steel, "6 in", "mix: {aggregate: 1 1/2 in}"))

    assert [one.at.name for one in found] == ["the mesh"]
    assert asked(found[0]) / INCH == pytest.approx(1.4, abs=0.005)
