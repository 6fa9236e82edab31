"""Steps poured with the slab count towards the door or the old slab that they lead up to."""

from __future__ import annotations

import tempfile
from pathlib import Path

import pytest
from comments import weights
from design_text import plan_of, review_by
from slabwright.design.read import read_design
from slabwright.text.words import plain
from slabwright.units.quantity import System

PLAN = """
format: 1
job: {{name: Test stoop}}
units: {{plan: ft, height: ft}}
use: patio
points: {{A: [0, 0], B: [12, 0], C: [12, 10], D: [0, 10]}}
outline: [A, B, C, D]
edges: [{{run: [A, B], beside: {beside}}}]
heights: {{finish: {{A: 100, B: 100, C: 99.8, D: 99.8}}}}
thickness: {{design: 4 in, steps: [{{name: flight, width: 4 ft, tread: 12 in, riser: 7 in, count: {count}{leads}}}]}}
{more}
"""
DOOR = "fixtures: [{kind: door, name: back door, along: [[2, 0], [5, 0]], sill: 101.5}]"  # 18 in above the slab


def stoop(count: int, leads: str = ", leads_to: back door", beside: str = "lawn", more: str = DOOR) -> str:
    return PLAN.format(count=count, leads=leads, beside=beside, more=more)


@pytest.mark.parametrize(
    ("text", "left", "expected"),
    [  # 18 in of sill; risers of 7 in. IRC R311.3.2, quoted: 7 3/4 in; Beall p. 285: 1 in
        (stoop(2), 4, []),
        (stoop(1), 11, [("hold", "step_at_most")]),
        (stoop(2, leads=""), 18, [("caution", "bare_step_at_most")]),
        (stoop(2, leads=", leads_to: front door"), 18, [("caution", "bare_step_at_most")]),
        (stoop(3), 4, []),  # the third climbs onto the sill
    ],
)
def test_the_step_left_at_a_door(text: str, left: float, expected: list[tuple[str, str]]) -> None:
    report = review_by("door-step", text)
    assert weights(report) == expected
    for comment in report.comments:
        assert comment.shown.si == pytest.approx(left * 0.0254)


def test_what_brings_a_door_right_makes_the_flight_even() -> None:
    """18 in in risers of 7 3/4 in at most are three of 6 in; the third is the step onto the sill."""
    comment = review_by("door-step", stoop(1)).comments[0]
    assert plain(comment.to_pass, "us", both=False) == (
        "make it 3 risers of 6 in: pour 2 of them, the last is the step to the sill"
    )
    assert review_by("door-step", stoop(2).replace("riser: 7 in", "riser: 6 in")).comments == ()


@pytest.mark.parametrize(
    ("count", "leads", "expected"),
    [  # an old slab 18 in higher; 7 3/4 in recalled
        (2, ", leads_to: old terrace", []),
        (2, "", [("caution", "step_at_most")]),
    ],
)
def test_the_step_left_at_an_existing_slab(count: int, leads: str, expected: list[tuple[str, str]]) -> None:
    beside = "existing slab, name: old terrace, ground: 101.5, planned_step: true"
    report = review_by("trip-at-existing-slab", stoop(count, leads, beside, ""))
    assert weights(report) == expected


def test_a_plan_knows_how_high_steps_lead() -> None:
    """Two risers of 7 in."""
    plan = plan_of(stoop(2))
    assert plan.flights.poured_rise("back door") == pytest.approx(14 * 0.0254)
    assert plan.flights.poured_rise("") == plan.flights.poured_rise("front door") == 0.0


@pytest.mark.parametrize(("leads", "asked"), [(", leads_to: back dor", 1), (", leads_to: back door", 0), ("", 0)])
def test_steps_that_lead_nowhere_are_asked_about(leads: str, asked: int) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "stoop.slab.yaml"
        path.write_text(stoop(2, leads), encoding="utf-8")
        questions = [one for one in read_design(path)[1] if "leads to" in one.wrong]
    assert len(questions) == asked
    assert all(one.place.line for one in questions)


PORCH = "step, name: porch, ground: {ground}"


def porch(flight: str, ground: float = 101.5, use: str = "patio", site: str = "") -> str:
    """A slab at 100 with a flight up to a porch, or none."""
    text = stoop(2, beside=PORCH.format(ground=ground), more=site)
    start, end = text.index(", steps: ["), text.index("]}", text.index(", steps: ["))
    steps = f", steps: [{{name: flight, width: 4 ft, {flight}, leads_to: porch}}]" if flight else ""
    return text[:start] + steps + text[end + 1 :].replace("use: patio", f"use: {use}")


@pytest.mark.parametrize(
    ("flight", "ground", "expected"),
    [  # IRC 2018 R311.7.5.1 and R311.7.5.2, quoted: 7 3/4 in and 10 in; IBC 1011.5.2, quoted: 4 in
        ("tread: 12 in, riser: 6 in, count: 2", 101.5, []),
        ("tread: 10 in, riser: 7 3/4 in, count: 1", 101.2917, []),
        ("tread: 9 in, riser: 6 in, count: 2", 101.5, [("caution", "tread_at_least")]),
        ("tread: 12 in, riser: 9 in, count: 1", 101.5, [("caution", "riser_at_most")]),
        ("tread: 12 in, riser: 3 in, count: 5", 101.5, [("caution", "riser_at_least")]),
        ("tread: 12 in, riser: 6 in, count: 2, tread_slope: 1/8 in/ft", 101.5, []),
        ("tread: 12 in, riser: 6 in, count: 2, tread_slope: 3 %", 101.5, [("caution", "tread_slope_at_most")]),
        ("", 100.5, []),
        ("", 100.71, [("caution", "riser_at_most")]),  # 8 1/2 in
        ("", 100.25, [("caution", "riser_at_least")]),  # 3 in
    ],
)
def test_risers_and_treads(flight: str, ground: float, expected: list[tuple[str, str]]) -> None:
    assert weights(review_by("step-sizes", porch(flight, ground))) == expected


@pytest.mark.parametrize(
    ("flight", "ground", "expected"),
    [  # heights typed to 0.01 ft are known to 0.005 ft, 0.06 in: so much is let pass over 7 3/4 in and under 4 in
        ("", 100.65, []),  # 7.80 in
        ("", 100.6525, [("caution", "riser_at_most")]),  # 7.83 in
        ("", 100.3295, []),  # 3.954 in
        ("", 100.325, [("caution", "riser_at_least")]),  # 3.90 in
        ("tread: 12 in, riser: 7.8 in, count: 1", 101.3, []),
        ("tread: 12 in, riser: 7.83 in, count: 1", 101.305, [("caution", "riser_at_most")]),
        ("tread: 12 in, riser: 3.95 in, count: 4", 101.6458, []),
        ("tread: 12 in, riser: 3.9 in, count: 4", 101.625, [("caution", "riser_at_least")]),
    ],
)
def test_a_riser_is_judged_as_closely_as_heights_are_typed(
    flight: str, ground: float, expected: list[tuple[str, str]]
) -> None:
    assert weights(review_by("step-sizes", porch(flight, ground))) == expected


@pytest.mark.parametrize(
    ("riser", "ground", "system", "expected"),
    [  # 19 in in thirds are 6.33 in, to an eighth 6 3/8; 500 mm in thirds are 166.7 mm, to 5 mm 165
        ("9 1/2 in", 100 + 19 / 12, "us", "make 19 in in 3 risers of 6 3/8 in, and pour 2 of them"),
        ("250 mm", 100.5, "metric", "make 500 mm in 3 risers of 165 mm, and pour 2 of them"),
    ],
)
def test_a_rise_is_divided_evenly(riser: str, ground: float, system: System, expected: str) -> None:
    text = porch(f"tread: 12 in, riser: {riser}, count: 1", ground)
    if system == "metric":
        text = text.replace("ft, height: ft", "m, height: m").replace("12 in", "300 mm").replace("4 ft", "1.2 m")
        text = text.replace("design: 4 in", "design: 100 mm")
    comment = review_by("step-sizes", text).comments[0]
    assert plain(comment.to_pass, system, both=False) == expected


def test_a_flight_up_to_a_door_holds_and_the_public_is_asked_less() -> None:
    high = stoop(1).replace("riser: 7 in", "riser: 9 in")
    assert weights(review_by("step-sizes", high)) == [("hold", "door_riser_at_most")]
    public = porch("tread: 12 in, riser: 7 1/2 in, count: 1", 101.25, site="site: {right_of_way: true}")
    assert weights(review_by("step-sizes", public)) == [("caution", "public_riser_at_most")]


@pytest.mark.parametrize(
    ("flight", "ground", "expected"),
    [  # IRC 2018 R311.7.5.1, quoted: 3/8 in between the highest and the lowest
        ("riser: 6 in, count: 2", 101.5, []),
        ("riser: 6 in, count: 3", 101.5, []),  # the third climbs onto the porch
        ("riser: 6 in, count: 2", 101.53, []),
        ("riser: 6 in, count: 2", 101.56, ["spread_at_most"]),  # 6.72 in
        ("riser: 6 in, count: 3", 101.56, ["spread_at_most"]),
        ("risers: [5 in, 6 1/2 in, 6 1/2 in]", 101.5, []),  # the bottom one, where the paving slopes
        ("risers: [6 in, 5 in, 7 in]", 101.5, ["spread_at_most"]),
    ],
)
def test_even_risers(flight: str, ground: float, expected: list[str]) -> None:
    report = review_by("even-risers", porch(f"tread: 12 in, {flight}", ground))
    assert [comment.limit.name for comment in report.comments] == expected


def test_one_riser_for_all_makes_them_alike() -> None:
    comment = review_by("even-risers", porch("tread: 12 in, riser: 6 in, count: 2", 101.58)).comments[0]
    assert plain(comment.to_pass, "us", both=False) == "make all 3 risers 6 5/16 in, the last onto what they lead to"
    assert review_by("even-risers", porch("tread: 12 in, riser: 6 5/16 in, count: 2", 101.58)).comments == ()


@pytest.mark.parametrize(
    ("flight", "ground", "outcome"),
    [  # IRC 2018 R311.7.8, quoted: four or more
        ("riser: 6 in, count: 2", 101.5, "met"),
        ("riser: 6 in, count: 3, handrail: no", 102.0, "comments"),
        ("riser: 6 in, count: 3, handrail: yes", 102.0, "does_not_apply"),
        ("riser: 6 in, count: 3", 102.0, "not_shown"),
    ],
)
def test_a_handrail_from_four_risers(flight: str, ground: float, outcome: str) -> None:
    report = review_by("step-handrail", porch(f"tread: 12 in, {flight}", ground))
    assert [name for name in ("met", "comments", "does_not_apply", "not_shown") if getattr(report, name)] == [outcome]


@pytest.mark.parametrize(
    ("count", "ground", "treads"),
    [(3, 101.5, 2), (2, 101.5, 2), (1, 101.5, 1), (2, 101.0, 1)],  # the last riser onto the porch has no tread
)
def test_the_concrete_of_a_flight_is_that_of_its_treads(count: int, ground: float, treads: int) -> None:
    """A stair of n treads 12 in deep and n risers of 6 in, 4 ft wide: 4 x 1 x 0.5 x (1 + ... + n) ft3."""
    plan = plan_of(porch(f"tread: 12 in, riser: 6 in, count: {count}", ground))
    assert plan.concrete.quantities.steps == pytest.approx(4 * 0.5 * treads * (treads + 1) / 2 * 0.3048**3)
