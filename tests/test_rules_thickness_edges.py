"""Rules about thickness at the edges of their numbers: tables' ends, metric steps, more than one of a kind."""

from __future__ import annotations

import math
import re

import pytest
from design_text import pad, plan_of, review_by, rule_named
from judged import asked_at, ended, finding, judged, margin, worked_apart
from slabwright.formulas.units import FOOT, INCH, PCI, POUND_FORCE, PSI
from slabwright.formulas.wheel_thickness import Wheel, WheelPlace, wheel_stress
from slabwright.plan.given import DoesNotApply, RuleEnds
from slabwright.rulebook.conclusion import Finding
from slabwright.text.words import written
from slabwright.units.quantity import Amount, System

EACH = (
    "base-depth", "base-step", "depth-over-footings", "form-board", "least-thickness", "thickened-edge-under-wheels",
    "wall-line-load", "wheel-load",
)  # fmt: skip
SQUARE = "points: {A: [0, 0], B: [10, 0], C: [10, 10], D: [0, 10]%s}\n"
CORNERS = "[A, B, C, D]"


@pytest.mark.parametrize("rule", EACH)
def test_published_numbers_come_out(rule: str) -> None:
    assert worked_apart(rule) == {}


@pytest.mark.parametrize(
    ("rule", "text"),
    [
        ("base-depth", ""),
        ("base-step", ""),
        ("depth-over-footings", ""),
        ("form-board", ""),
        ("wall-line-load", "mix: {strength: 4000 psi}\nsite: {soil: {support: 100 pci}}"),
        ("wheel-load", "mix: {strength: 4000 psi}\nsite: {soil: {support: 100 pci}}"),
    ],
)
def test_where_something_is_missing_nothing_is_judged(rule: str, text: str) -> None:
    assert isinstance(ended(rule, pad(text)), RuleEnds)


def lowered(one: Finding) -> dict[str, float]:
    """Points named in the advice, and the heights to write there, m."""
    told = one.to_pass.values
    names = {key.removeprefix("name"): str(value) for key, value in told.items() if key.startswith("name")}
    heights = {number: told[f"to{number}"] for number in names}
    return {names[number]: value.si for number, value in heights.items() if isinstance(value, Amount)}


# base-depth


@pytest.mark.parametrize(("unit", "such"), [("ft", "A: 99.50"), ("m", "A: 99.850")])
def test_base_shots_are_asked_for_in_the_unit_of_the_heights(unit: str, such: str) -> None:
    assert review_by("base-step", pad("", unit=unit)).not_shown[0].add[-1].endswith(f"such as {such}")


def shot(shorts: dict[str, float], t: str = "100 mm", more: str = "") -> str:
    """A slab of 100 mm, finished at 1.000 m, that is so many mm short over each base shot."""
    points = SQUARE % "".join(f", {name}: [{x}, {y}]" for name, (x, y) in MORE.items())
    base = ", ".join(f"{name}: {0.9 + short / 1000:.4f}" for name, short in shorts.items())
    finish = "{A: 1.000, B: 1.000, C: 1.000, D: 1.000}"
    return pad(f"{points}heights: {{finish: {finish}, base: {{{base}}}}}{more}", unit="m", outline=CORNERS, thick=t)


MORE = {"E": (5, 0), "F": (10, 5), "G": (5, 10)}


def test_the_mean_is_brought_back_everywhere_and_a_spot_only_where_it_is_thin() -> None:
    """ACI 117-90: 1/4 in (6.35 mm) is left alone at a spot; for the mean every shortfall counts."""
    mean, spot = judged("base-depth", shot({"A": 30, "B": 20, "C": 20, "D": 5}))

    assert isinstance(mean, Finding)
    assert isinstance(spot, Finding)
    assert (mean.limit.name, spot.limit.name) == ("mean_short_at_most", "spot_short_at_most")
    assert set(lowered(mean)) == {f"the base at {name}" for name in "ABCD"}
    assert set(lowered(spot)) == {f"the base at {name}" for name in "ABC"}
    assert list(lowered(mean).values()) == [pytest.approx(0.9)] * 4


def test_a_spot_with_the_whole_depth_is_left_as_it_is() -> None:
    mean, _ = judged("base-depth", shot({"A": 30, "B": 20, "C": 20, "D": 0}))

    assert isinstance(mean, Finding)
    assert set(lowered(mean)) == {f"the base at {name}" for name in "ABC"}


@pytest.mark.parametrize(("shots", "told"), [("ABCDEF", 6), ("ABCDEFG", 0)])
def test_six_heights_are_told_and_no_more(shots: str, told: int) -> None:
    mean, _ = judged("base-depth", shot(dict.fromkeys(shots, 15.0)))

    assert isinstance(mean, Finding)
    assert len(lowered(mean)) == told


# base-step


def steps(base: str, places: str) -> str:
    return pad(f"{SQUARE % f', {places}'}heights: {{base: {{{base}}}}}", outline=CORNERS)


@pytest.mark.parametrize(("apart", "near"), [(1.95, True), (2.0, True), (2.01, False)])
def test_shots_are_near_up_to_two_feet(apart: float, near: bool) -> None:
    text = steps("E: 99.6, F: 99.2", f"E: [5, 5], F: [5, {5 + apart}]")

    assert (ended("base-step", text) is None) is near


def test_steps_are_told_the_worst_first_and_every_one() -> None:
    """Changes of 0.10 ft at E, 0.30 ft at G, and 0.05 ft at I."""
    places = "E: [2, 2], F: [2, 3], G: [8, 2], H: [8, 3], I: [5, 8], J: [5, 9]"
    found = judged("base-step", steps("E: 99.60, F: 99.50, G: 99.60, H: 99.30, I: 99.60, J: 99.55", places))

    assert [round(one.shown.si / FOOT, 4) for one in found] == [0.30, 0.10, 0.05]
    assert [isinstance(one, Finding) for one in found] == [True, False, False]
    assert [one.at.shape[0] for one in found] == [
        pytest.approx((x * FOOT, y * FOOT)) for x, y in ((8, 2), (2, 2), (5, 8))
    ]


def test_of_two_steps_alike_at_one_shot_the_first_is_told() -> None:
    text = steps("E: 99.60, F: 99.40, G: 99.40", "E: [5, 5], F: [5, 6], G: [5, 3.9]")
    first, second = plan_of(text).concrete.base_steps(2 * FOOT)

    assert first.change == second.change
    assert finding("base-step", text).at.shape == (first.high, first.low)


# depth-over-footings


def test_every_hard_thing_is_judged_for_itself() -> None:
    things = "[{name: pipe, at: [2, 2], depth: 4 in}, {name: pier, at: [5, 5], depth: 3 in}]"
    text = pad("", side="10").replace("{design: 4 in}", f"{{design: 4 in, over: {things}}}")
    pipe, pier = judged("depth-over-footings", text)

    assert not isinstance(pipe, Finding)
    assert isinstance(pier, Finding)
    assert (pipe.shown.si, pier.shown.si) == (0.0, pytest.approx(1 * INCH))
    assert pier.limit.name == "short_at_most"


# form-board


def test_a_board_that_is_dug_below_is_not_compared() -> None:
    def boards(said: str) -> str:
        text = pad("").replace("{design: 4 in}", f"{{design: 4 in, {said}}}")
        end = ended("form-board", text)
        return end.reason if isinstance(end, DoesNotApply) else f"{judged('form-board', text)[0].shown.si / INCH:g} in"

    assert boards("form_board: 2x4") == "0.5 in"
    assert boards("form_board: 2x4, dug_below_form: true") == "0 in"
    assert boards("dug_below_form: true") == "the base is dug below the form boards"


def test_metric_forms_are_as_deep_as_the_slab() -> None:
    text = pad("", unit="m").replace("{design: 4 in}", "{design: 120 mm, form_board: 100 mm}")
    one = finding("form-board", text)

    assert one.to_pass.values["deeper"].si == pytest.approx(0.120)  # type: ignore[union-attr]
    assert one.remedies[1].says.values["off"].si == pytest.approx(0.020)  # type: ignore[union-attr]


# least-thickness


def axle(pounds: float) -> str:
    return f"loads: [{{vehicle: van, axle: {pounds} lb, wheels_per_axle: 2}}]"


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


# thickened-edge-under-wheels


def street(points: str, edges: str, thick: str, load: str = axle(6000)) -> str:
    text = pad(f"points: {points}\nedges: {edges}\n{load}", use="vehicle pad", outline=CORNERS)
    return text.replace("{design: 4 in}", f"{{design: 6 in, thickened_edges: [{thick}]}}")


FAR = "{A: [30, 20], B: [42, 24], C: [38, 36], D: [26, 32]}"  # askew, and far from the origin
ALONG = "[{run: [A, B], beside: street, name: street end}, {rest: lawn}]"


@pytest.mark.parametrize(
    ("run", "met"), [("[A, B]", True), ("[B, C]", False), ("[D, A]", False), ("[B, C, D, A]", False)]
)
def test_the_depth_is_taken_along_the_edge_itself(run: str, met: bool) -> None:
    """1 1/4 of 6 in is 7 1/2 in. An edge between two thick ones is not thick itself."""
    text = street(FAR, ALONG, f"{{run: {run}, depth: 7 1/2 in, width: 0.5 in, taper: 3 ft}}")
    edge, _ = judged("thickened-edge-under-wheels", text)

    assert isinstance(edge, Finding) is not met
    assert edge.shown.si == pytest.approx((7.5 if met else 6) * INCH)


@pytest.mark.parametrize(
    ("run", "depth"),
    [("[A, B]", 6), ("[B, C]", 6), ("[A, B, C]", 7.5)],
)
def test_an_edge_round_a_corner_is_as_deep_as_its_shallowest_side(run: str, depth: float) -> None:
    edges = "[{run: [A, B, C], beside: street, name: street end}, {rest: lawn}]"
    text = street(FAR, edges, f"{{run: {run}, depth: 7 1/2 in, width: 0.5 in, taper: 3 ft}}")
    edge, _ = judged("thickened-edge-under-wheels", text)

    assert edge.shown.si == pytest.approx(depth * INCH)


def test_every_edge_and_every_thickened_edge_is_judged() -> None:
    edges = "[{run: [A, B], beside: street, name: front}, {run: [C, D], beside: street, name: back}, {rest: lawn}]"
    thick = (
        "{run: [A, B], depth: 8 in, taper: 3 ft}, {run: [B, C], depth: 6 in, taper: 1 ft}, "
        "{run: [D, A], depth: 8 in, taper: 2 ft}"
    )
    found = judged("thickened-edge-under-wheels", street(FAR, edges, thick))

    assert [(one.at.name, isinstance(one, Finding)) for one in found] == [
        ("front", False), ("back", True), ("thickened edge 1", False), ("thickened edge 3", True),
    ]  # fmt: skip
    assert found[3].shown.si == pytest.approx(2 * FOOT)


def test_what_is_not_met_by_a_factor_of_the_town() -> None:
    """1 1/2 times 6 in where amendments ask that."""
    text = street(FAR, ALONG, "{run: [A, B], depth: 8 in, taper: 3 ft}")
    edge, _ = judged("thickened-edge-under-wheels", text, part_of_thickness_at_least="1.5")

    assert isinstance(edge, Finding)
    assert edge.asked is not None
    assert edge.asked.si == pytest.approx(9 * INCH)


# wall-line-load


def wall(
    along: str = "[[10, 5], [10, 15]]", thick: str = "6 in", strength: str = "4000 psi", k: str = "100 pci"
) -> str:
    load = f"line_loads: [{{name: partition, along: {along}, load: 9000 lb/ft}}]"
    ground = f"site: {{soil: {{support: {k}}}}}" if k else "site: {soil: {kind: clay}}"
    mix = f"mix: {{strength: {strength}}}\n" if strength else ""
    return pad(f"{mix}{ground}\n{load}", use="shop floor", side="20", thick=thick)


def army(t: float, rupture: float, k: float, edge: bool = False) -> float:
    """TM 5-809-12 app. B (recalled): lb/ft from in, psi and pci."""
    r = rupture / 9
    return (9.9256 if edge else 12.8) * r * t**2 * (k / (19000 * r * t**3)) ** 0.25


def carried(text: str, **values: str) -> float:
    """What a slab carries under its one wall, lb/ft."""
    one = finding("wall-line-load", text, **values)
    assert one.asked is not None
    return one.asked.si * FOOT / POUND_FORCE


@pytest.mark.parametrize(
    ("thick", "strength", "k", "expected"),
    [
        ("6 in", "4000 psi", "100 pci", army(6, 9 * math.sqrt(4000), 100)),
        ("10 in", "8000 psi", "400 pci", army(10, 700, 300)),  # the ends of the table
        ("11 in", "4000 psi", "299 pci", army(10, 9 * math.sqrt(4000), 299)),
        ("9.9 in", "4000 psi", "300.5 pci", army(9.9, 9 * math.sqrt(4000), 300)),
        ("6 in", "6040 psi", "25 pci", army(6, 9 * math.sqrt(6040), 25)),
        ("6 in", "6060 psi", "25 pci", army(6, 700, 25)),
    ],
)
def test_a_wall_is_carried_by_the_formula_up_to_the_ends_of_the_table(
    thick: str, strength: str, k: str, expected: float
) -> None:
    assert carried(wall(thick=thick, strength=strength, k=k)) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize(
    ("along", "edge"),
    [
        ("[[5, 1.5], [15, 1.5]]", True),
        ("[[5, 2.5], [15, 2.5]]", False),
        ("[[0, 9], [4, 9]]", False),  # half of it within 2 ft of an edge, and half is not more than half
        ("[[0, 9], [3.9, 9]]", True),
        ("[[0, 9], [3, 9]]", True),
        ("[[0, 9], [5, 9]]", False),
    ],
)
def test_a_wall_stands_at_an_edge_where_more_than_half_of_it_is_within_two_feet(along: str, edge: bool) -> None:
    one = finding("wall-line-load", wall(along))

    assert carried(wall(along)) == pytest.approx(army(6, 9 * math.sqrt(4000), 100, edge), rel=1e-9)
    (step,) = one.working
    assert ("edge" in step.what) is edge
    assert ("9.93" in step.formula) is edge
    assert step.numbers.values["r"].si == pytest.approx(math.sqrt(4000) * PSI)  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("system", "units"), [("us", (PSI, INCH, PCI, POUND_FORCE / FOOT)), ("metric", (1e6, 1e-3, 1e6, 1e3))]
)
@pytest.mark.parametrize("along", ["[[10, 5], [10, 15]]", "[[5, 1], [15, 1]]"])
def test_the_formula_gives_what_is_printed_beside_it(
    along: str, system: System, units: tuple[float, float, float, float]
) -> None:
    """The numbers put into the form as it is printed in either system: lb/ft, or kN/m."""
    one = finding("wall-line-load", wall(along))
    (step,) = one.working
    form = re.match(r"([\d.]+) r t\^2 \(k / \(([\d,.]+) r t\^3\)\)\^0\.25", written(step.formula, system))
    assert form
    factor, divisor = (float(text.replace(",", "")) for text in form.groups())
    r, t, k = (step.numbers.values[name].si / unit for name, unit in zip("rtk", units[:3], strict=True))  # type: ignore[union-attr]

    assert factor * r * t**2 * (k / (divisor * r * t**3)) ** 0.25 == pytest.approx(step.result.si / units[3], rel=2e-3)


def test_a_part_of_the_table_is_taken_where_that_is_asked() -> None:
    half = carried(wall(), part_of_table_at_most="1/2")

    assert half == pytest.approx(army(6, 9 * math.sqrt(4000), 100) / 2, rel=1e-9)


@pytest.mark.parametrize(
    ("thick", "strength", "k", "inside"),
    [
        ("4 in", f"{(550 / 9) ** 2:.4f} psi", "25 pci", True),
        ("3.9 in", f"{(550 / 9) ** 2:.4f} psi", "25 pci", True),
        ("2.9 in", "4000 psi", "100 pci", False),
        ("4 in", f"{(399.5 / 9) ** 2:.4f} psi", "100 pci", False),
        ("4 in", "4000 psi", "24.5 pci", False),
    ],
)
def test_where_the_form_begins_to_hold(thick: str, strength: str, k: str, inside: bool) -> None:
    text = wall(thick=thick, strength=strength, k=k)

    assert isinstance(ended("wall-line-load", text), DoesNotApply) is not inside
    if inside:
        assert carried(text) == pytest.approx(army(float(thick.split()[0]), 550, 25), rel=1e-6)


def test_every_wall_is_judged() -> None:
    along = "along: [[10, 5], [10, 15]]"
    walls = f"line_loads: [{{name: one, {along}, load: 1 lb/ft}}, {{name: two, {along}, load: 9000 lb/ft}}]"
    text = pad(f"mix: {{strength: 4000 psi}}\nsite: {{soil: {{support: 100 pci}}}}\n{walls}", side="20", thick="6 in")

    assert [(one.at.name, isinstance(one, Finding)) for one in judged("wall-line-load", text)] == [
        ("the one", False), ("the two", True),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("strength", "k", "keys"),
    [
        ("", "100 pci", ["mix.strength"]),
        ("", "", ["mix.strength"]),
    ],
)
def test_a_wall_asks_for_what_is_missing_alone(strength: str, k: str, keys: list[str]) -> None:
    assert asked_at("wall-line-load", wall(strength=strength, k=k))[0] == keys
    without_soil = wall(strength=strength, k=k).replace("site: {soil: {kind: clay}}\n", "")
    assert asked_at("wall-line-load", without_soil)[0] == keys


@pytest.mark.parametrize(
    ("psi", "pounds"), [(3500, 416), (3000, 393), (2500, 367)]
)  # the Army table carried on below its lowest column by the beam behind it (derived)
def test_a_wall_on_ordinary_concrete_is_judged(psi: int, pounds: int) -> None:
    assert carried(wall(thick="4 in", strength=f"{psi} psi")) == pytest.approx(pounds, abs=1)


def test_a_wall_stands_on_ground_that_nobody_tested() -> None:
    assert carried(wall(k="")) == pytest.approx(carried(wall(k="100 pci")))


@pytest.mark.parametrize(("unit", "grid"), [("ft", INCH / 4), ("m", 0.005)])
@pytest.mark.parametrize("load", ["1000 lb/ft", "1050 lb/ft", "1100 lb/ft"])
def test_the_slab_under_a_wall_is_written_to_the_next_step(unit: str, grid: float, load: str) -> None:
    along, side = ("[[10, 5], [10, 15]]", "20") if unit == "ft" else ("[[3, 1.5], [3, 4.5]]", "6")
    loads = f"line_loads: [{{name: partition, along: {along}, load: {load}}}]"
    ground = "mix: {strength: 4000 psi}\nsite: {soil: {support: 100 pci}}\n"
    one = finding("wall-line-load", pad(ground + loads, unit=unit, side=side, thick="6 in"))
    write = one.to_pass.values["write"]

    assert isinstance(write, Amount)
    pounds = float(load.split()[0])
    assert write.si / grid == pytest.approx(round(write.si / grid))
    assert army(write.si / INCH, 9 * math.sqrt(4000), 100) >= pounds
    assert army((write.si - grid) / INCH, 9 * math.sqrt(4000), 100) < pounds


# wheel-load


def test_the_published_wheel_is_that_of_the_source() -> None:
    """Huang, ch. 4: 10,000 lb on a circle of 6 in, 4 million psi, 100 pci, 10 in."""
    classic = Wheel(10000 * POUND_FORCE, 6 * INCH, 4e6 * PSI, 100 * PCI)
    edge, corner, *_ = (one.ours() for one in rule_named("wheel-load").worked)

    places: tuple[WheelPlace, WheelPlace] = ("edge", "corner")
    assert (edge, corner) == tuple(wheel_stress(place, classic, 10 * INCH) for place in places)


def wheels(thick: str, axle: str, pressure: str = "80 psi", near: str = "", unit: str = "ft", more: str = "") -> str:
    tires = pressure and f", tire_pressure: {pressure}"
    load = f"{{vehicle: truck, axle: {axle}, wheels_per_axle: 2, passes: 40000{tires}{near or ', near_edge: true'}}}"
    ground = "site: {soil: {support: 100 pci}}\nmix: {strength: 4000 psi}\n"
    side = "20" if unit == "ft" else "6"
    return pad(f"{ground}loads: [{load}{more}]", use="vehicle pad", side=side, thick=thick, unit=unit)


def test_a_tire_without_a_pressure_is_a_hard_one() -> None:
    """Tire tables (recalled): 110 psi on large motorhomes; 80 psi on pickups, 35 psi on cars (common practice)."""
    for axle, usual in (("6001 lb", "110 psi"), ("6000 lb", "80 psi"), ("4001 lb", "80 psi"), ("4000 lb", "35 psi")):
        (unsaid,), (said,) = (judged("wheel-load", wheels("6 in", axle, psi)) for psi in ("", usual))
        assert unsaid.shown.si == pytest.approx(said.shown.si, rel=1e-9)


def edge_spare(h: float, pounds: float, psi: float = 80, k: float = 100, fc: float = 4000) -> float:
    """Strength over stress at a free edge, in inches and pounds, from the printed form (Huang, ch. 4; ACI 318)."""
    a, e = math.sqrt(pounds / math.pi / psi), 57000 * math.sqrt(fc)
    ell = (e * h**3 / (12 * (1 - 0.15**2) * k)) ** 0.25
    return 7.5 * math.sqrt(fc) / (0.803 * pounds / h**2 * (4 * math.log10(ell / a) + 0.666 * a / ell - 0.034))


@pytest.mark.parametrize(("axle", "inches"), [(60000, 16.25), (69800, 17.5), (74000, 18.0), (76500, None)])
def test_a_plain_slab_is_told_up_to_eighteen_inches(axle: int, inches: float | None) -> None:
    told = finding("wheel-load", wheels("6 in", f"{axle} lb"))
    write = told.to_pass.values.get("deep")  # the edges that wheels run along; the inside asks for less

    assert (write is None) is (inches is None)
    if inches is None:
        assert edge_spare(18, axle / 2) < 1.7
        return
    assert isinstance(write, Amount)
    assert write.si == pytest.approx(inches * INCH)
    assert edge_spare(inches, axle / 2) >= 1.7 > edge_spare(inches - 0.25, axle / 2)


@pytest.mark.parametrize(
    ("text", "keys"),
    [
        ("site: {soil: {support: 100 pci}}\n", ["mix.strength"]),
    ],
)
def test_wheels_ask_for_what_is_missing_alone(text: str, keys: list[str]) -> None:
    assert asked_at("wheel-load", pad(text + axle(6000)))[0] == keys


@pytest.mark.parametrize(
    ("rule", "text", "place"),
    [
        ("wheel-load", "mix: {air: 6 %}\nsite: {soil: {kind: clay}}", "mix"),
        ("wheel-load", "site: {soil: {support: 100 pci}}", ""),
        ("wall-line-load", "mix: {air: 6 %}\nsite: {soil: {kind: clay}}", "mix"),
        ("wall-line-load", "site: {soil: {support: 100 pci}}", ""),
    ],
)
def test_the_first_thing_missing_is_asked_for_in_its_own_section(rule: str, text: str, place: str) -> None:
    walls = "line_loads: [{name: partition, along: [[2, 2], [6, 2]], load: 400 lb/ft}]"

    assert asked_at(rule, pad(f"{text}\n{axle(6000)}\n{walls}"))[1] == place


@pytest.mark.parametrize(
    ("edge", "town", "found"),
    [
        (", wheels_cross: true", "site: {right_of_way: true}\n", ["right_of_way_at_least"]),
        (", wheels_cross: true", "", []),  # 4 in for cars
        ("", "site: {right_of_way: true}\n", []),
    ],
)
def test_a_walk_that_a_drive_crosses_is_as_thick_as_the_drive(edge: str, town: str, found: list[str]) -> None:
    text = f"""format: 1
job: {{name: Test walk}}
units: {{plan: ft, height: ft}}
use: walk
{town}points: {{A: [0, 0], E: [15, 0], F: [25, 0], B: [40, 0], C: [40, 5], G: [25, 5], H: [15, 5], D: [0, 5]}}
outline: [A, E, F, B, C, G, H, D]
parts: [{{name: crossing, corners: [E, F, G, H], thickness: 4 in}}]
edges: [{{run: [E, F], beside: existing slab{edge}}}, {{rest: lawn}}]
heights: {{finish: {{A: 0, B: 0, C: 0.08, D: 0.08}}}}
thickness: {{design: 4 in}}
joints: [{{kind: formed strip, from: E, to: H}}, {{kind: formed strip, from: F, to: G}}]
"""
    report = review_by("least-thickness", text)
    assert [(one.limit.name, one.at.name) for one in report.comments] == [(name, "the crossing") for name in found]
