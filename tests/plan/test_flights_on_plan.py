"""Flights of steps on the plan: nosings by hand, landings, concrete in closed form, rods, and what is asked about."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely
from comments import advice, only, weights
from design_text import plan_of, review_by
from slabwright.drawing.content import drawing
from slabwright.plan import questions
from slabwright.plan.flight import Flight
from slabwright.plan.plan import Plan
from slabwright.sheets.card import checklist
from slabwright.sheets.order.order import order_sheet
from slabwright.sheets.stake import stake
from slabwright.sheets.stake.staked import Bench, stakes
from slabwright.source.problem import UnreadableError
from slabwright.text.words import plain
from slabwright.units.quantity import Kind, height, read

FOOT, INCH = 0.3048, 0.0254


def yard(steps: str, sill: str = "103.00", edges: str = "rest: lawn, ground: 99", more: str = "") -> str:
    """A slab 16 ft square at 100 ft that falls nowhere, with a door in the middle of its first side."""
    return f"""format: 1
job: {{name: Test steps}}
units: {{plan: ft, height: ft}}
use: patio
points: {{A: [0, 0], B: [16, 0], C: [16, 16], D: [0, 16]}}
outline: [A, B, C, D]
edges: [{{run: [A, B], beside: building, name: house}}, {{{edges}}}]
heights: {{finish: {{A: 100, B: 100, C: 100, D: 100}}}}
fixtures: [{{kind: door, name: door, along: [[6, 0], [10, 0]], sill: {sill}}}]
thickness:
  design: 4 in
  steps: [{{name: steps, width: 4 ft, tread: 12 in, {steps}}}]
{more}"""


def flight_of(steps: str, **more: str) -> Flight:
    (flight,) = plan_of(yard(steps, **more)).flights.all
    return flight


def feet(points: object) -> list[tuple[float, float]]:
    return [(round(x / FOOT, 6) + 0.0, round(y / FOOT, 6) + 0.0) for x, y in points]  # type: ignore[attr-defined]


def asked(plan: Plan) -> list[str]:
    return [one.wrong for one in questions.ask(plan)]


# where it lies


def test_each_nosing_lies_a_tread_behind_the_one_before() -> None:
    flight = flight_of("riser: 6 in, count: 5, foot: [[6, 5], [10, 5]], leads_to: door")
    assert flight.laid is not None
    # 36 in up to the sill in risers of 6 in: the sixth is left, onto the sill
    assert (len(flight.risers), len(flight.poured)) == (6, 5)
    assert [sorted(feet(one)) for one in flight.laid.nosings] == [[(6, y), (10, y)] for y in (5, 4, 3, 2, 1)]
    assert sorted(feet(flight.laid.top)) == [(6, 0), (10, 0)]
    assert feet(flight.laid.way) == [(8, y) for y in (5, 4, 3, 2, 1, 0)]


@pytest.mark.parametrize("turned", [0, 30, 90, 215])
def test_a_flight_climbs_square_to_its_foot_however_it_lies(turned: float) -> None:
    c, s = math.cos(math.radians(turned)), math.sin(math.radians(turned))
    (ax, ay), (bx, by), (px, py) = ((8 + x * c - y * s, 8 + x * s + y * c) for x, y in ((-2, 0), (2, 0), (1, 3)))
    flight = flight_of(f"riser: 6 in, count: 3, foot: [[{ax}, {ay}], [{bx}, {by}]], climbs_to: [{px}, {py}]")
    assert flight.laid is not None
    (x0, y0), *_, (x1, y1) = flight.laid.way
    assert (x1 - x0, y1 - y0) == pytest.approx((-3 * FOOT * s, 3 * FOOT * c), abs=1e-9)
    for tread in flight.laid.treads:
        assert shapely.Polygon(tread).area == pytest.approx(4 * FOOT**2)


@pytest.mark.parametrize(("turns", "side"), [("left", -1), ("right", 1)])
def test_at_a_landing_that_turns_the_next_riser_stands_at_its_side(turns: str, side: int) -> None:
    """Up in y from (8, 4): two risers, a landing 4 ft square, then two treads to the left or the right of it."""
    flight = flight_of(
        "riser: 6 in, count: 4, foot: [[6, 4], [10, 4]], climbs_to: [8, 10], "
        f"landings: [{{after: 2, depth: 4 ft, turns: {turns}}}]"
    )
    assert flight.laid is not None
    assert feet(flight.laid.way) == [(8, 4), (8, 5), (8, 7), (8 + 2 * side, 7), (8 + 3 * side, 7), (8 + 4 * side, 7)]
    assert sorted(feet(flight.laid.nosings[2])) == [(8 + 2 * side, 5), (8 + 2 * side, 9)]
    rings = [shapely.Polygon(tread) for tread in flight.laid.treads]
    assert float(shapely.union_all(rings).area) == pytest.approx(sum(ring.area for ring in rings))  # none overlap
    assert all(a.distance(b) < 1e-9 for a, b in pairwise(rings))


# concrete


@pytest.mark.parametrize(
    ("steps", "cubic_feet"),
    [
        ("riser: 6 in, count: 3", 4 * 1 * (0.5 + 1.0 + 1.5)),
        ("riser: 6 in, count: 3, landings: [{after: 2, depth: 5 ft}]", 4 * (0.5 + 5 * 1.0 + 1.5)),
        ("riser: 6 in, count: 3, landings: [{after: 3, depth: 42 in}]", 4 * (0.5 + 1.0 + 3.5 * 1.5)),
        ("risers: [5 in, 7 in], landings: [{after: 1, depth: 4 ft}]", 4 * (4 * 5 + 12) / 12),
        ("riser: 6 in, count: 3, same_pour: false", 0.0),
    ],
)
def test_concrete_solid_below_treads_and_landings(steps: str, cubic_feet: float) -> None:
    plan = plan_of(yard(steps))
    assert plan.concrete.quantities.steps == pytest.approx(cubic_feet * FOOT**3)
    assert plan.concrete.quantities.net == pytest.approx((16 * 16 / 3 + cubic_feet) * FOOT**3)


# rules


@pytest.mark.parametrize(
    ("landing", "more", "expected"),
    [
        ("36 in", "", []),
        ("35 1/2 in", "", [("caution", "landing_at_least")]),
        ("42 in", "site: {right_of_way: true}", [("caution", "public_landing_at_least")]),  # the width, 48 in
    ],
)
def test_a_landing_is_no_tread(landing: str, more: str, expected: list[tuple[str, str]]) -> None:
    steps = f"tread: 12 in, riser: 6 in, count: 4, landings: [{{after: 2, depth: {landing}}}]"
    text = yard(steps, more=more).replace("tread: 12 in, tread", "tread")
    assert weights(review_by("step-sizes", text)) == expected


def test_a_short_landing_is_told_its_depth() -> None:
    comment = only(review_by("step-sizes", yard("riser: 6 in, count: 4, landings: [{after: 2, depth: 30 in}]")))
    assert advice(comment).replace("\u00a0", " ") == "make the landing 36 in deep"


def test_rails_and_even_risers_are_judged_from_landing_to_landing() -> None:
    whole = "risers: [7 in, 7 in, 7 in, 6 in, 6 in], handrail: false"
    parted = f"{whole}, landings: [{{after: 3, depth: 4 ft}}]"
    assert [len(part) for part in flight_of(parted).parts] == [3, 2]
    assert weights(review_by("even-risers", yard(whole))) == [("caution", "spread_at_most")]
    assert not review_by("even-risers", yard(parted)).comments
    assert only(review_by("step-handrail", yard(whole))).shown.si == 5
    assert not review_by("step-handrail", yard(parted)).comments


# heights


def test_rods_on_nosings_of_a_flight_that_climbs_to_the_slab_from_the_lawn() -> None:
    """From 98.50 on the lawn up to the slab at 100: two poured risers of 6 in, and the slab is the third step."""
    steps = "riser: 6 in, count: 2, foot: [[6, 18], [10, 18]], foot_height: 98.50, leads_to: lawn, handrail: true"
    plan = plan_of(yard(steps, edges="rest: lawn, name: lawn, ground: 98.5"))
    (flight,) = plan.flights.all
    assert flight.foot == pytest.approx(98.5 * FOOT)
    assert flight.risers == pytest.approx([6 * INCH] * 3)
    bench = Bench("hydrant", height(100 * FOOT), read("4.00 ft", Kind.HEIGHT))
    sheet = stake.sheet(stakes(plan, bench))
    rows = [[getattr(cell, "text", cell) for cell in row][-2:] for row in sheet.table("steps").rows]
    assert rows == [["99.00", "5.00"], ["99.50", "4.50"]]  # the line of sight is at 104.00 ft
    labels = [pin.label for pin in stakes(plan, bench).pins]
    assert labels.count("foot of steps") == labels.count("top of steps") == 2


@pytest.mark.parametrize(
    ("said", "lawn", "foot"),
    [
        (", foot_height: 98.8", "rest: lawn", 98.8),
        ("", "rest: lawn", None),
        ("", "rest: lawn, ground: 98.85", 98.8),  # two risers of 7.2 in up to the slab at 100
        ("", "rest: lawn, ground_below: 14 in", 98.8),
        ("", "rest: lawn, ground: 98.1", 98.2),  # the riser onto the slab not counted
        ("", "rest: lawn, ground: 97.8", None),  # half a riser off: which of them is wrong, nobody can tell
        (", leads_to: lawn", "rest: lawn, name: lawn, ground: 98.8", 98.8),
    ],
)
def test_a_pin_at_the_foot_of_steps_beside_the_slab_is_never_at_the_height_of_the_slab(
    said: str, lawn: str, foot: float | None
) -> None:
    plan = plan_of(yard(f"riser: 7.2 in, count: 2, foot: [[6, 17], [10, 17]]{said}", edges=lawn))
    bench = Bench("hydrant", height(100 * FOOT), read("4.00 ft", Kind.HEIGHT))
    found = [one for one in stakes(plan, bench).pins if one.label == "foot of steps"]
    assert [one.finish for one in found] == [foot and pytest.approx(foot * FOOT)] * 2
    assert [one.base for one in found] == [None, None]


# questions and refusals


@pytest.mark.parametrize(
    ("steps", "question"),
    [
        ("riser: 6 in, count: 5, foot: [[6, 5], [10, 5]], leads_to: door", ""),
        ("riser: 6 in, count: 5, foot: [[6, 5], [10, 5]]", "nothing says which way steps climbs from its foot"),
        ("riser: 6 in, count: 5, foot: [[6, 5], [9, 5]], leads_to: door", "steps is 4 ft wide, and its foot 3'-0\""),
        ("riser: 6 in, count: 5, foot: [[6, 8], [10, 8]], leads_to: door", "steps ends 3'-0\" from door"),
    ],
)
def test_what_does_not_fit_is_asked(steps: str, question: str) -> None:
    assert [one for one in asked(plan_of(yard(steps))) if "steps" in one] == ([question] if question else [])


@pytest.mark.parametrize(
    ("steps", "wrong"),
    [
        ("riser: 6 in, count: 3, landings: [{after: 4, depth: 4 ft}]", "there is no riser 4"),
        ("riser: 6 in, count: 3, landings: [{after: 2, depth: 4 ft}, {after: 2, depth: 3 ft}]", "two landings lie"),
        ("riser: 6 in, count: 3, climbs_to: [1, 1]", '"climbs_to" needs a foot'),
        ("riser: 6 in, count: 3, foot: [[1, 1], [1, 1]]", "this nosing begins and ends at one point"),
    ],
)
def test_flights_that_are_refused(steps: str, wrong: str) -> None:
    with pytest.raises(UnreadableError) as refused:
        plan_of(yard(steps))
    assert wrong in str(refused.value)


# drawing


def test_a_flight_is_drawn_up_its_walking_line() -> None:
    (steps,) = drawing(plan_of(yard("riser: 6 in, count: 5, foot: [[6, 5], [10, 5]], leads_to: door")), ("steps",))[
        "steps"
    ]
    assert (steps["risers"], len(steps["nosings"])) == (6, 5)
    assert steps["way"][-1] == pytest.approx([8 * FOOT, 0.0])
    assert drawing(plan_of(yard("riser: 6 in, count: 5, leads_to: door")), ("steps",))["steps"] == []


# water


def trough(steps: str) -> Plan:
    """A court 16 ft square that falls 2 in from each side of its last edge to the middle of it, walled all round.

    Water leaves over 4 ft of that edge alone, in its middle.
    """
    edges = """edges:
  - {run: [Q, P], beside: lawn, name: lawn, ground: 99}
  - {rest: wall}
heights: {finish: {A: 100.4, B: 100.4, C: 100.166667, D: 100.166667, P: 100, Q: 100}}
"""
    text = yard(steps).replace("D: [0, 16]}", "D: [0, 16], P: [6, 16], Q: [10, 16]}")
    start, end = text.index("edges:"), text.index("fixtures:")
    return plan_of(text[:start] + edges + text[end:])


def test_a_flight_that_stands_in_the_way_out_dams_the_water() -> None:
    """Up out of the court over the only way out: water stands to the brim of the lowest way over it, and there is none.

    Geometry: with all sides closed the level rises to the highest point of the court, 0.4 ft above its lowest.
    """
    free = trough("riser: 6 in, count: 5")
    assert not free.water.ponds
    assert [(row.to, row.share) for row in free.water.shares] == [("lawn", pytest.approx(1))]
    dammed = trough("riser: 6 in, count: 5, foot: [[6, 16], [10, 16]], climbs_to: [8, 20]")
    (pond,) = dammed.water.ponds
    assert pond.depth == pytest.approx(0.4 * FOOT, abs=1e-6)
    assert "steps" in pond.against


def test_water_runs_down_a_flight_that_descends_from_the_slab() -> None:
    down = trough("riser: 6 in, count: 2, foot: [[6, 18], [10, 18]], climbs_to: [8, 16], foot_height: 98.5")
    assert not down.water.ponds
    assert [(row.to, row.share) for row in down.water.shares] == [("lawn", pytest.approx(1))]


def test_no_water_runs_through_a_flight_on_the_slab() -> None:
    """A patio that falls 2 % off the house: ways of water go round the steps at the door, and none crosses them."""
    text = yard("riser: 6 in, count: 5, foot: [[6, 5], [10, 5]], leads_to: door", edges="rest: lawn, ground: 99")
    plan = plan_of(text.replace("C: 100, D: 100", "C: 99.68, D: 99.68"))
    body = shapely.box(6 * FOOT, 0, 10 * FOOT, 5 * FOOT).buffer(-0.01)
    assert plan.water.trails
    assert not any(shapely.LineString(way.xy).intersects(body) for way in plan.water.trails)
    assert sum(row.share for row in plan.water.shares) == pytest.approx(1)
    (way,) = plan.water.ways_from([(8 * FOOT, 2 * FOOT)])  # what falls on the steps ends like the rest
    assert way.to.startswith("edge C-D")


def test_water_of_an_upper_court_comes_down_the_steps_to_the_lower_one() -> None:
    """Half the court stands 18 in higher, and steps as wide as the court lead up to it: two risers and the last."""
    text = yard("riser: 6 in, count: 2, foot: [[0, 9], [16, 9]], climbs_to: [8, 0]", edges="rest: lawn, ground: 99")
    text = text.replace("width: 4 ft", "width: 16 ft").replace("{A: 100, B: 100, C: 100, D: 100}", "HEIGHTS")
    text = text.replace("D: [0, 16]}", "D: [0, 16], P: [0, 9], Q: [16, 9], R: [0, 7], S: [16, 7]}")
    plan = plan_of(
        text.replace("HEIGHTS", "{A: 101.6, B: 101.6, R: 101.4, S: 101.4, P: 99.9, Q: 99.9, C: 99.7, D: 99.7}")
    )
    assert not plan.water.ponds
    (way,) = plan.water.ways_from([(8 * FOOT, 3 * FOOT)])
    assert way.to.startswith("edge C-D")


# guards: 30 in, irc-guard; 34 in above nosings recalled


@pytest.mark.parametrize(
    ("steps", "expected"),
    [
        ("riser: 6 in, count: 5, foot: [[6, 5], [10, 5]], leads_to: door", []),  # exactly 30 in
        ("riser: 6 1/8 in, count: 5, foot: [[6, 5], [10, 5]], leads_to: door", [("hold", "guard_drop_at_most")]),
        ("riser: 7 in, count: 5, guard: 34 in, foot: [[6, 5], [10, 5]], leads_to: door", []),
        (
            "riser: 7 in, count: 5, guard: 30 in, foot: [[6, 5], [10, 5]], leads_to: door",
            [("hold", "guard_drop_at_most")],
        ),
        (
            "riser: 7 in, count: 5, guard: 34 in, foot: [[6, 8], [10, 8]], leads_to: door, "
            "landings: [{after: 5, depth: 4 ft}]",
            [("hold", "guard_drop_at_most")],
        ),
        ("riser: 7 in, count: 5", []),  # it is not said where it lies
        ("riser: 7 in, count: 5, leads_to: door", [("hold", "guard_drop_at_most")]),  # square before the door
        ("riser: 6 in, count: 5, leads_to: door", []),
    ],
)
def test_an_open_side_of_a_flight_is_judged_like_an_edge(steps: str, expected: list[tuple[str, str]]) -> None:
    text = yard(steps, sill="103.50", edges="rest: lawn, ground: 99.8")
    assert weights(review_by("exposed-edge", text)) == expected


def test_a_flight_without_a_foot_stands_square_before_a_door_as_wide_as_it_is() -> None:
    """Five treads of 1 ft before a door at y = 0."""
    placed, bare = (
        plan_of(yard(f"riser: 7 in, count: 5, {foot}leads_to: door", sill="103.50", edges="rest: lawn, ground: 99.8"))
        for foot in ("foot: [[6, 5], [10, 5]], ", "")
    )
    assert bare.flights.all[0].laid is None and not bare.flights.unplaced
    rings = [[sorted(tread.ring) for tread in plan.flights.standing[0].treads] for plan in (placed, bare)]
    assert np.array(rings[0]) == pytest.approx(np.array(rings[1]))


@pytest.mark.parametrize(("count", "asked"), [(4, False), (5, True)])
def test_a_high_flight_that_may_stand_anywhere_is_asked_for_its_foot(count: int, asked: bool) -> None:
    found = [one.wrong for one in questions.ask(plan_of(yard(f"riser: 7 in, count: {count}")))]
    assert any("nothing says where the foot of steps lies" in one for one in found) is asked


def test_a_wall_closes_the_side_of_a_flight() -> None:
    steps = "riser: 7 in, count: 5, foot: [[12, 5], [16, 5]], climbs_to: [14, 0]"
    comments = review_by("exposed-edge", yard(steps, edges="rest: lawn, ground: 96")).comments
    (open_both,) = (one for one in comments if "side of steps" in one.at.name)
    assert open_both.shown.si == pytest.approx(6.916667 * FOOT, abs=1e-5)  # down to the lawn, 4 ft below the slab
    walled = only(review_by("exposed-edge", yard(steps, edges="run: [B, C], beside: wall}, {rest: lawn, ground: 99.8")))
    assert (walled.at.name, walled.shown.si) == ("the right side of steps", pytest.approx(35 * INCH))


def test_steps_settle_the_drop_of_an_edge_for_their_width() -> None:
    """The slab stands 36 in above the lawn; steps all along that edge are the way down."""
    edges = "run: [C, D], beside: lawn, name: lawn, ground: 97}, {rest: wall"
    steps = "riser: 6 in, count: 5, foot: [[FROM, 21], [TO, 21]], climbs_to: [8, 16], foot_height: 97, guard: 36 in"
    wide = yard(steps.replace("FROM", "0").replace("TO", "16"), edges=edges).replace("width: 4 ft", "width: 16 ft")
    assert not review_by("exposed-edge", wide).comments
    narrow = yard(steps.replace("FROM", "6").replace("TO", "10"), edges=edges)
    assert weights(review_by("exposed-edge", narrow)) == [("hold", "guard_drop_at_most")]


# sheets


def test_the_parts_on_an_order_sheet_add_up_with_flights_and_channels() -> None:
    """By hand: a channel 8 ft long and 6 in wide leaves out 3 in of concrete over its width."""
    more = "parts: [{name: apron, corners: [[0, 12], [16, 12], [16, 16], [0, 16]], thickness: 6 in}]\n"
    more += "channels: [{name: drain channel, along: [[4, 8], [12, 8]], width: 6 in, rim: 100, invert: 99.75}]\n"
    plan = plan_of(yard("riser: 6 in, count: 3", more=more))
    tables = [table for section in order_sheet(plan).sections for table in section.tables]
    table = next(table for table in tables if table.key == "by_part")
    rows = {str(row[0]): row[-1].si for row in table.rows}
    assert rows["drain channel"] == pytest.approx(-8 * 0.5 * 0.25 * FOOT**3)
    assert sum(rows.values()) == pytest.approx(table.total[-1].si) == pytest.approx(plan.concrete.quantities.net)


def test_the_ramp_under_a_flight_is_no_fall() -> None:
    """Steps as wide as a walk lead from 99.9 ft up to 101.4 ft in 2 ft; the walk beside them falls 1.4 % and 3 %."""
    text = yard("riser: 6 in, count: 2, foot: [[0, 9], [16, 9]], climbs_to: [8, 0]", edges="rest: lawn, ground: 99.8")
    text = text.replace("width: 4 ft", "width: 16 ft").replace("{A: 100, B: 100, C: 100, D: 100}", "HEIGHTS")
    text = text.replace("D: [0, 16]}", "D: [0, 16], P: [0, 9], Q: [16, 9], R: [0, 7], S: [16, 7]}")
    text = text.replace("HEIGHTS", "{A: 101.6, B: 101.6, R: 101.4, S: 101.4, P: 99.9, Q: 99.9, C: 99.8, D: 99.8}")
    walk = text.replace("use: patio", "use: walk")
    assert not review_by("greatest-fall", walk).comments
    assert review_by("greatest-fall", walk.split("  steps:")[0]).comments


def test_riser_boards_are_looked_at_before_the_truck_comes() -> None:
    plan = plan_of(yard("risers: [5 in, 7 in]"))
    (steps,) = [plain(row[-1], "us") for row in checklist.section(plan).tables[0].rows if row[1] == "steps"]
    assert steps.startswith("steps: 2 riser boards of 5 in to 7 in;")
    apart = plan_of(yard("risers: [5 in, 7 in], same_pour: false"))
    assert not [row for row in checklist.section(apart).tables[0].rows if row[1] == "steps"]


# what a flight leads up to, and what lies under it

CHURCH = """format: 1
job: {{name: Test steps}}
units: {{plan: ft, height: ft}}
use: walk
points: {{A: [0, 0], B: [12, 0], C: [12, 14], D: [0, 14]}}
outline: [A, B, C, D]
edges: [{{run: [C, D], beside: step, name: landing}}, {{rest: lawn}}]
heights: {{finish: {{A: 100, B: 100, C: 100.21, D: 100.21}}}}
{fixed}
thickness:
  design: 5 in
  steps: [{{name: flight, width: 12 ft, tread: 12 in, {risers}, leads_to: landing}}]
joints:
  - {{kind: saw cut, from: [6, 0], to: [6, 11], depth: 1 1/4 in}}
  - {{kind: saw cut, from: [0, 5.5], to: [12, 5.5], depth: 1 1/4 in}}
  - {{kind: formed strip, from: [0, 11], to: [12, 11], depth: 5 in}}
"""
LANDING = "fixed: [{name: landing, kind: other, along: [C, D], height: 102.21}]"


def test_a_fixed_height_at_its_edge_tells_a_flight_how_high_it_climbs() -> None:
    plan = plan_of(CHURCH.format(fixed=LANDING, risers="riser: 6 in, count: 4"))
    (flight,) = plan.flights.all
    # 24 in in risers of 6 in: the fourth climbs onto the landing, and three treads of 12 ft by 1 ft stand on each other
    assert (len(flight.risers), len(flight.poured)) == (4, 3)
    assert flight.volume == pytest.approx(12 * (0.5 + 1.0 + 1.5) * FOOT**3)
    elsewhere = LANDING.replace("name: landing", "name: weeps").replace("kind: other", "kind: siding")
    (unknown,) = plan_of(CHURCH.format(fixed=elsewhere, risers="riser: 6 in, count: 4")).flights.all
    assert not unknown.ends


def test_risers_typed_unlike_are_unlike_though_the_heights_would_even_them() -> None:
    text = CHURCH.format(fixed=LANDING, risers="risers: [6 in, 6 in, 6 in, 7 in]")
    (comment,) = review_by("even-risers", text).comments
    assert comment.shown.si == pytest.approx(INCH)
    assert not review_by("even-risers", CHURCH.format(fixed=LANDING, risers="riser: 6 in, count: 4")).comments


@pytest.mark.parametrize("rule", ["panel-aspect", "walk-joints"])
def test_a_strip_under_steps_is_no_panel_of_paving(rule: str) -> None:
    # four treads of a foot would lie on 3 ft of strip; without them the strip is 12 ft by 3 ft
    text = CHURCH.format(fixed=LANDING, risers="riser: 6 in, count: 4")
    bare = text.replace("  steps: ", "  # steps: ")
    assert [plain(one.at.name) for one in review_by(rule, text).comments if one.shown.si in (4, 12 * FOOT)] == []
    assert len(review_by(rule, bare).comments) == len(review_by(rule, text).comments) + 1


def test_water_runs_down_steps_that_lead_down_from_the_slab() -> None:
    def water(ground: str) -> list[str]:
        text = yard("riser: 6 in, count: 2, leads_to: door", edges="rest: lawn, takes_water: false")
        text = text.replace("rest: lawn", f"run: [C, D], beside: step, name: way down{ground}}}, {{rest: lawn")
        heights = "A: 100, B: 100, C: 99.68, D: 99.68"
        return weights(review_by("water-ends-where-it-may", text.replace("A: 100, B: 100, C: 100, D: 100", heights)))

    assert water(", ground: 98.7") == []
    assert [weight for weight, _ in water(", ground: 101.0")] == ["hold"]  # up to something: it holds water back


# down from the slab


@pytest.mark.parametrize(
    ("edge", "foot"),
    [
        ("beside: step, name: garden edge", "foot_height: 98.8"),
        ("beside: step, name: garden edge, ground: 98.8", "foot_height: 98.8"),
        ("beside: step, name: garden edge, ground: 99.4", "foot_height: 98.8"),  # the tread beside the slab
        ("beside: lawn, name: garden edge, ground: 98.8", "foot_height: 98.8"),
        ("beside: lawn, name: garden edge, ground: 98.8", ""),
    ],
)
def test_a_flight_from_the_lawn_up_to_an_edge_of_the_slab_ends_on_the_slab(edge: str, foot: str) -> None:
    """1.2 ft in two risers of 7.2 in: the second climbs onto the slab, and no filler is wanted over it."""
    filler = "isolation: {material: foam, thickness: 1/2 in, depth: full}"
    steps = f"riser: 7.2 in, count: 2, leads_to: garden edge, {foot}".rstrip(", ")
    text = yard(steps, edges=f"run: [C, D], {edge}}}, {{rest: lawn, ground: 98.8")
    text = text.replace("name: house", f"name: house, {filler}").replace("width: 4 ft", "width: 16 ft")
    (flight,) = plan_of(text).flights.all
    assert flight.foot == pytest.approx(98.8 * FOOT)
    assert flight.risers == pytest.approx([0.6 * FOOT, 0.6 * FOOT])
    for rule in ("even-risers", "step-sizes", "isolation-full-depth"):
        assert weights(review_by(rule, text)) == [], rule


def test_a_flight_that_is_its_own_step_edge_climbs_away_from_the_slab() -> None:
    """Nothing says how the ground rises beside it: that is asked, and no drop at its sides is made up."""
    text = yard(
        "riser: 6 in, count: 6, leads_to: steps",
        edges="run: [C, D], beside: step, name: steps}, {rest: lawn, ground: 99.8",
    )
    text = text.replace("width: 4 ft", "width: 16 ft")
    assert weights(review_by("exposed-edge", text)) == []
    assert ["nothing says where the foot of steps lies" in wrong for wrong in asked(plan_of(text))] == [True]


@pytest.mark.parametrize(
    ("steps", "cubic_feet"),
    [  # two risers of 7.2 in: one tread of 4 ft by 12 in and 0.6 ft, the second riser climbs onto the slab
        ("riser: 7.2 in, count: 2, foot: [[6, 17], [10, 17]], climbs_to: [8, 10], foot_height: 98.8", 2.4),
        ("riser: 7.2 in, count: 2, foot: [[6, 17], [10, 17]], foot_height: 98.8", 2.4),  # there is but one way up
        ("riser: 7.2 in, count: 2, foot: [[6, 17], [10, 17]]", 2.4),  # how deep the lawn lies there is not said
        ("riser: 7.2 in, count: 1, foot: [[6, 17], [10, 17]], foot_height: 98.8", 2.4),  # the face of the slab stands
        ("riser: 7.2 in, count: 2, foot: [[6, 19], [10, 19]], landings: [{after: 1, depth: 3 ft}]", 7.2),
        ("riser: 7.2 in, count: 2, foot: [[6, 19], [10, 19]], climbs_to: [8, 30]", 4 * 0.6 + 4 * 1.2),  # away from it
    ],
)
def test_a_flight_with_its_foot_beside_the_slab_comes_up_onto_it(steps: str, cubic_feet: float) -> None:
    flight = flight_of(steps, edges="rest: lawn, ground: 98.8")
    assert flight.volume == pytest.approx(cubic_feet * FOOT**3)
    assert flight.risers == pytest.approx([0.6 * FOOT] * len(flight.risers))


@pytest.mark.parametrize(("foot", "tread", "expected"), [
    (98.8, "12 in", []), (98.85, "12 in", ["even-risers"]), (98.8, "9 in", ["step-sizes"]),
])  # fmt: skip
def test_steps_up_onto_the_slab_are_judged_with_the_riser_onto_it(foot: float, tread: str, expected: list[str]) -> None:
    """A flight that stands beside an old slab settles the drop to it, for its width and short as its treads may be."""
    step = f"riser: 7.2 in, count: 2, foot: [[6, 17], [10, 17]], foot_height: {foot}"
    walk = f"run: [C, D], beside: existing slab, name: walk, ground: {foot}, planned_step: true"
    edges = f"{walk}}}, {{rest: bed, ground: 99.8"
    text = yard(step, edges=edges).replace("tread: 12 in", f"tread: {tread}")
    rules = ("even-risers", "step-sizes", "trip-at-existing-slab")
    assert [rule for rule in rules if weights(review_by(rule, text))] == expected


@pytest.mark.parametrize(
    ("foot", "treads"),
    [
        ("[[6, 2], [10, 2]]", 2),  # two treads out: the third riser climbs onto the porch
        ("[[6, 2.3], [10, 2.3]]", 2),
        ("[[6, 3], [10, 3]]", 3),  # three: a fourth is there already
    ],
)
def test_a_flight_to_a_porch_of_no_written_height_has_as_many_treads_as_its_foot_leaves_room_for(
    foot: str, treads: int
) -> None:
    text = yard(f"riser: 6 in, count: 3, foot: {foot}, leads_to: porch", edges="run: [A, B], beside: step, name: porch")
    (flight,) = plan_of(text.replace("{run: [A, B], beside: building, name: house}, ", "")).flights.all
    assert (len(flight.risers), len(flight.treads)) == (3, treads)


@pytest.mark.parametrize(("foot", "width", "expected"), [
    ("[[6, 20], [10, 20]]", "4 ft", []),  # its treads end a foot short of the slab, and it comes up there all the same
    ("[[7, 20], [9, 20]]", "2 ft", [("hold", "guard_drop_at_most")]),  # beside it one falls as before
    ("[[6, 26], [10, 26]]", "4 ft", [("hold", "guard_drop_at_most")]),  # too far out to reach
])  # fmt: skip
def test_a_flight_settles_the_drop_where_it_comes_up(foot: str, width: str, expected: list[tuple[str, str]]) -> None:
    text = yard(
        f"riser: 9 in, count: 4, foot: {foot}, climbs_to: [8, 10], foot_height: 97",
        edges="run: [E, F], beside: step, ground: 97}, {rest: lawn, ground: 99.9",
    )
    text = text.replace("D: [0, 16]}", "D: [0, 16], E: [10, 16], F: [6, 16]}")
    text = text.replace("[A, B, C, D]", "[A, B, C, E, F, D]")
    text = text.replace("D: 100}", "D: 100, E: 100, F: 100}").replace("width: 4 ft", f"width: {width}")
    comments = [one for one in review_by("exposed-edge", text).comments if one.at.name.startswith("edge")]
    assert [(one.weight, one.limit.name) for one in comments] == expected
