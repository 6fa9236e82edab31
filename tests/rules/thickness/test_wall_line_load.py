"""The rule `wall-line-load`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import math
import re

import pytest
from comments import added, advice, only, reason
from design_text import pad, review_by
from judged import asked_at, ended, finding, judged
from slabs.thickness import dug
from slabwright.formulas.units import INCH, PCI, POUND_FORCE, PSI
from slabwright.plan.given import DoesNotApply
from slabwright.rulebook.conclusion import Finding
from slabwright.text.words import written
from slabwright.units.quantity import Amount, System

FOOT = 0.3048
POUND_PER_FOOT = 0.45359237 * 9.80665 / FOOT  # N/m, NIST SP 811


def wall(
    along: str = "[[10, 5], [10, 15]]",
    thick: str = "6 in",
    strength: str = "4000 psi",
    k: str = "100 pci",
    load: str = "9000 lb/ft",
) -> str:
    line = f"line_loads: [{{name: partition, along: {along}, load: {load}}}]"
    ground = f"site: {{soil: {{support: {k}}}}}" if k else "site: {soil: {kind: clay}}"
    mix = f"mix: {{strength: {strength}}}\n" if strength else ""
    return pad(f"{mix}{ground}\n{line}", use="shop floor", side="20", thick=thick)


def army(t: float, rupture: float, k: float, edge: bool = False) -> float:
    """TM 5-809-12 app. B (recalled): lb/ft from in, psi and pci."""
    r = rupture / 9
    return (9.9256 if edge else 12.8) * r * t**2 * (k / (19000 * r * t**3)) ** 0.25


def carried(text: str, **values: str) -> float:
    """What a slab carries under its one wall, lb/ft."""
    one = finding("wall-line-load", text, **values)
    assert one.asked is not None
    return one.asked.si * FOOT / POUND_FORCE


def walled(
    load: str,
    thickness: str = "6 in",
    strength: str = "4000 psi",
    support: str = "100 pci",
    along: str = "[[10, 5], [10, 15]]",
) -> str:
    return wall(along, thickness, strength, support, load)


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
    ("thick", "rupture", "k", "inside"),
    [
        (4, 550, 25, True),
        (3.9, 550, 25, True),
        (3, 400.5, 25, True),
        (2.9, 550, 100, False),
        (4, 399.5, 100, False),
        (4, 550, 24.5, False),
    ],
)
def test_where_the_form_begins_to_hold(thick: float, rupture: float, k: float, inside: bool) -> None:
    text = wall(thick=f"{thick} in", strength=f"{(rupture / 9) ** 2:.4f} psi", k=f"{k} pci")

    assert isinstance(ended("wall-line-load", text), DoesNotApply) is not inside
    if inside:
        assert carried(text) == pytest.approx(army(thick, rupture, k), rel=1e-6)


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


@pytest.mark.parametrize(
    ("thickness", "rupture", "pounds"),
    [
        # TM 5-809-12 Table 3-2 (read), k 100 pci; the formula behind it meets the table within 5 lb/ft
        ("4 in", 550, 425),
        ("5 in", 600, 600),
        ("6 in", 650, 805),
        ("7 in", 700, 1030),
        ("8 in", 600, 1080),
        ("10 in", 550, 1340),
    ],
)
def test_walls_of_the_army_table(thickness: str, rupture: int, pounds: int) -> None:
    strength = f"{(rupture / 9) ** 2:.4f} psi"  # the table is built on 9 root f'c, its own note

    light = review_by("wall-line-load", walled(f"{pounds - 6} lb/ft", thickness, strength))
    heavy = review_by("wall-line-load", walled(f"{pounds + 6} lb/ft", thickness, strength))

    assert light.comments == ()
    assert (only(heavy).weight, only(heavy).limit.name) == ("caution", "part_of_table_at_most")
    assert only(heavy).asked.si == pytest.approx(pounds * POUND_PER_FOOT, abs=5 * POUND_PER_FOOT)


@pytest.mark.parametrize(
    ("along", "pounds"), [("[[1, 3], [1, 17]]", 331), ("[[3, 3], [3, 17]]", 425), ("[[0, 9], [9, 9]]", 425)]
)
def test_a_wall_along_an_edge_has_less_under_it(along: str, pounds: int) -> None:
    # 9.9256 in place of 12.8 at a free edge (TM 5-809-12 app. B, recalled): check th-wall-edge-4in-550
    strength = f"{(550 / 9) ** 2:.4f} psi"
    comment = only(review_by("wall-line-load", walled("2000 lb/ft", "4 in", strength, along=along)))

    assert comment.asked.si == pytest.approx(pounds * POUND_PER_FOOT, abs=5 * POUND_PER_FOOT)


@pytest.mark.parametrize(
    ("thickness", "strength", "support"),
    [("2 3/4 in", "4000 psi", "100 pci"), ("6 in", "1900 psi", "100 pci"), ("6 in", "4000 psi", "20 pci")],
)
def test_where_the_form_does_not_hold_nothing_is_claimed(thickness: str, strength: str, support: str) -> None:
    outside = "the slab, the concrete or the ground is weaker than the form for walls holds for"
    assert reason(review_by("wall-line-load", walled("500 lb/ft", thickness, strength, support))) == outside


def test_past_the_table_its_last_value_is_taken() -> None:
    # 700 psi, 10 in, 300 pci are the ends: stronger, thicker and stiffer count as that
    ends = only(review_by("wall-line-load", walled("9000 lb/ft", "10 in", "6049.4 psi", "300 pci")))
    past = only(review_by("wall-line-load", walled("9000 lb/ft", "12 in", "8000 psi", "500 pci")))

    assert past.asked.si == pytest.approx(ends.asked.si, rel=1e-4)
    assert advice(past) == "give the partition a footing of its own"


def test_a_wall_needs_the_mix() -> None:
    assert added(review_by("wall-line-load", walled("400 lb/ft", strength="", support=""))) == (
        "mix.strength: compressive strength at 28 days, on cylinders, such as 4000 psi",
    )
    assert reason(review_by("wall-line-load", dug("E: 99"))) == "no wall is written (line_loads)"
