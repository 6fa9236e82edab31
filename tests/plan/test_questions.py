"""What the worked plan asks: steep finish, typed falls that the heights do not give, allowances counted twice."""

from __future__ import annotations

import tempfile
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from design_text import pad, plan_of
from slabwright.design.heights import Heights, StatedFall
from slabwright.design.model import Order
from slabwright.design.point import Point
from slabwright.design.read import read_design, read_text
from slabwright.plan import questions
from slabwright.plan.finish import Facet
from slabwright.plan.plan import Plan
from slabwright.source.place import Place
from slabwright.units.quantity import Kind, read

FILE = "bay.slab.yaml"
BARE = plan_of(pad("")).design  # a square of 8 ft
YARD = 0.9144**3  # m3; 1 yd is 0.9144 m by definition


def a_plan(
    facets: tuple[Facet, ...] = (),
    stated: tuple[StatedFall, ...] = (),
    worked: float | None = None,
    order: Order | None = None,
) -> Any:
    """A plan with nothing but these to ask about, and the fall that its heights give along any line."""
    points = {"A": Point(0.0, 0.0, "A"), "B": Point(3.0, 0.0, "B")}
    return SimpleNamespace(
        design=BARE._replace(order=order, points=points, plan_unit="ft", heights=Heights(falls=stated)),
        system="us",
        edges=SimpleNamespace(pieces=()),
        channels=SimpleNamespace(all=()),
        flights=SimpleNamespace(all=(), unplaced=()),
        joints=SimpleNamespace(all=(), layout=SimpleNamespace(unused=())),
        finish=SimpleNamespace(surface=None, missing=(), facets=facets),
        shape=SimpleNamespace(corners=()),
        falls=SimpleNamespace(along=lambda start, end: worked),
        concrete=SimpleNamespace(quantities=SimpleNamespace(net=10 * YARD)),
        place=lambda *paths: Place(FILE, 8, 1, paths[0]),
    )


def facet(slope: float) -> Facet:
    return Facet(((0.0, 0.0), (3.0, 0.0), (1.5, 2.0)), (0.0, 0.0, 1.0), slope, 3.0)


def asked(plan: Any) -> list[tuple[Place, str]]:
    return [(problem.place, f"{problem.wrong}: {problem.write}") for problem in questions.ask(plan)]


def test_a_plan_without_doubts_asks_nothing() -> None:
    assert asked(a_plan(facets=(facet(0.02),))) == []


@pytest.mark.parametrize(("slope", "count"), [(0.25, 0), (0.26, 1)])
def test_a_finish_steeper_than_a_quarter_is_asked_about(slope: float, count: int) -> None:
    assert len(asked(a_plan(facets=(facet(0.02), facet(slope))))) == count


def test_the_steepest_part_is_named_by_its_corners() -> None:
    ((place, text),) = asked(a_plan(facets=(facet(0.4), facet(0.5))))
    assert place.path == "heights.finish"
    assert text.startswith("the finish falls 50 %")
    assert "between A, B, (4.92 ft, 6.56 ft)" in text  # 1.5 and 2.0 m over 0.3048; the plan is in feet


def a_fall(typed: str) -> StatedFall:
    return StatedFall(
        (Point(0, 0, "A"), Point(3, 0, typed="(9.84 ft, 0 ft)")), read(typed, Kind.SLOPE), Place(FILE, 30, 5)
    )


@pytest.mark.parametrize(
    ("typed", "worked", "words"),
    [
        ("2 %", 0.02, None),
        ("1/4 in/ft", 0.02, None),  # 2.08 %: the trade takes the two for one
        ("2 %", 0.01, None),
        ("2 %", 0.005, "by the heights it falls 0.5 %"),
        ("2 %", -0.02, "by the heights it rises 2 %"),
        ("2 %", None, None),
    ],
)
def test_a_typed_fall_is_held_against_the_heights(typed: str, worked: float | None, words: str | None) -> None:
    found = asked(a_plan(stated=(a_fall(typed),), worked=worked))
    assert len(found) == (words is not None)
    for place, text in found:
        assert place.line == 30
        assert f"a fall of {typed}" in text
        assert "from A to (9.84 ft, 0 ft)" in text
        assert words is not None
        assert words in text


@pytest.mark.parametrize(
    ("volume", "more", "asks"),
    [
        ("10 yd3", {}, False),  # net: the allowance is still to come
        ("10.5 yd3", {}, True),  # net and 5 %
        ("10.75 yd3", {}, True),  # the same, rounded up to the next quarter
        ("11 yd3", {}, False),  # more than rounding explains
        ("11 yd3", {"step": read("1 yd3", Kind.VOLUME), "truck": read("11.5 yd3", Kind.VOLUME)}, True),
        ("10.5 yd3", {"truck": read("10 yd3", Kind.VOLUME)}, False),  # two trucks, on top or not
        ("10.5 yd3", {"truck": None}, False),
        ("10.5 yd3", {"allowance_inside": True}, False),
        ("10.5 yd3", {"allowance": None}, False),
        ("10 yd3", {"allowance": read("0 %", Kind.SHARE)}, False),
    ],
)
def test_an_order_that_seems_to_hold_its_allowance_is_asked_about(
    volume: str, more: dict[str, Any], asks: bool
) -> None:
    amount = read(volume, Kind.VOLUME, Place(FILE, 44, 18))
    order = Order(
        **{"volume": amount, "allowance": read("5 %", Kind.SHARE), "truck": read("11 yd3", Kind.VOLUME)} | more
    )
    found = asked(a_plan(order=order))
    assert len(found) == asks
    for place, text in found:
        assert place.line == 44
        assert "the net volume of 10.00 yd3" in text
        assert "allowance_inside: yes" in text


def test_an_order_without_a_volume_asks_nothing() -> None:
    assert asked(a_plan(order=Order())) == []


@pytest.mark.parametrize(
    ("line", "asked"),
    [
        ("lines: [{kind: valley, name: swale, along: [A, A]}]", "the valley swale runs from A to A, and so nowhere"),
        ("lines: [{kind: valley, name: swale, along: [A, C]}]", ""),
        ("falls: [{along: [B, B], fall: 2 %}]", "this fall runs from B to B, and so nowhere"),
    ],
)
def test_a_line_that_ends_where_it_begins_is_asked_about(line: str, asked: str) -> None:
    text = (
        "format: 1\njob: {name: Pad}\nunits: {plan: ft, height: ft}\nuse: patio\nthickness: {design: 4 in}\n"
        "points: {A: [0, 0], B: [8, 0], C: [8, 8], D: [0, 8]}\noutline: [A, B, C, D]\n"
        f"heights: {{finish: {{A: 100.0, B: 100.0, C: 99.8, D: 99.8}}, {line}}}\n"
    )
    _, found = read_text(Path(FILE), text)
    assert [one.wrong for one in found] == [asked][: bool(asked)]


SQUARE = "points: {A: [0, 0], B: [8, 0], C: [8, 8], D: [0, 8], A2: [0, 0], M: [4, 0], N: [4, 8]}\n"
CORNERS = {"A": 100.0, "B": 100.0, "C": 99.8, "D": 99.8}


def asked_of(heights: dict[str, float], more: str = "", sections: str = "") -> list[str]:
    """What is asked about a square of 8 ft with these finish heights."""
    finish = ", ".join(f"{name}: {z}" for name, z in heights.items())
    text = pad(f"{SQUARE}{sections}heights: {{finish: {{{finish}}}{more}}}", outline="[A, B, C, D]")
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "pad.slab.yaml"
        path.write_text(text, encoding="utf-8")
        design, read = read_design(path)
    return [one.wrong for one in (*read, *questions.ask(Plan(design)))]


def test_two_heights_at_one_spot_are_asked_about() -> None:
    assert asked_of(CORNERS | {"A2": 100.0}) == []
    assert asked_of(CORNERS | {"A2": 100.1}) == [
        "A and A2 are one spot, and their finish heights are 100.0 ft and 100.1 ft"
    ]


@pytest.mark.parametrize(("kind", "middle", "lies"), [("valley", 0.2, "high"), ("ridge", -0.2, "low")])
def test_a_fold_of_the_other_kind_is_asked_about(kind: str, middle: float, lies: str) -> None:
    line = f", lines: [{{name: fold, kind: {kind}, along: [M, N]}}]"
    wrong = CORNERS | {"M": 100 + middle, "N": 99.8 + middle}
    right = CORNERS | {"M": 100 - middle, "N": 99.8 - middle}
    assert asked_of(wrong, line) == [f"fold is written as a {kind}, and by the heights it lies {lies}"]
    assert asked_of(right, line) == []
    assert asked_of(CORNERS | {"M": 100.0, "N": 99.8}, line) == []  # a plane: neither


def test_ground_that_takes_water_and_stands_high_is_asked_about() -> None:
    """All water goes to C-D; beside it the lawn lies low, and the height of the side at B-C was typed from the slab."""
    sides = "edges: [{{run: [C, D], beside: lawn, takes_water: true, ground: 99.7}}, {{run: [D, A, B], beside: bed}}, "
    side = sides + "{{run: [B, C], beside: lawn, takes_water: {takes}, ground: [{ground}, {ground}]}}]\n"
    wrong = "edge B-C (lawn) is said to take water, and the ground there stands about 8 3/8 in above the slab at C"
    assert asked_of(CORNERS, sections=side.format(takes="true", ground=100.5)) == [wrong]
    assert asked_of(CORNERS, sections=side.format(takes="false", ground=100.5)) == []
    assert asked_of(CORNERS, sections=side.format(takes="true", ground=99.7)) == []


@pytest.mark.parametrize(
    ("top", "steps", "asks"),
    [  # a walk 4 ft wide, level to y = 24 ft and on to 32 ft; a flight of 3 risers of 6 in, 18 in in all
        (18, "", True),
        (18, ", leads_to: porch", False),
        (18, ", foot: [S, T], climbs_to: [2, 26]", False),
        (8, "", False),  # 8 in in 8 ft is a ramp
        (0, "", False),
    ],
)
def test_a_flight_drawn_as_a_slope_is_asked_about(top: float, steps: str, asks: bool) -> None:
    """Over 12 % and half of the flight's own rise: 18 in in 8 ft are 19 % (common practice)."""
    text = (
        "format: 1\njob: {name: Walk}\nunits: {plan: ft, height: in}\nuse: walk\n"
        "points: {A: [0, 0], B: [4, 0], T: [4, 24], C: [4, 32], D: [0, 32], S: [0, 24]}\n"
        "outline: [A, B, T, C, D, S]\nedges: [{run: [C, D], beside: building, name: porch}, {rest: lawn}]\n"
        f"heights: {{finish: {{A: 0, B: 0, S: 0, T: 0, C: {top}, D: {top}}}}}\n"
        "thickness: {design: 4 in, steps: [{name: flight, width: 4 ft, tread: 14 in, riser: 6 in, count: 3"
        f"{steps}}}]}}\n"
    )
    found = [
        one for one in questions.ask(plan_of(text)) if "nothing says where the 3 risers of flight stand" in one.wrong
    ]
    assert len(found) == asks
    for one in found:
        assert one.place.line == 9
        assert one.wrong.startswith("the finish slopes 18 in between ")
        assert one.write.startswith("foot: the line of the lowest nosing")


SLOT = "{A: [0, 0], B: [8.5, 0], C: [8.5, 8], D: [9.5, 8], E: [9.5, 0], F: [18, 0], G: [18, 24], H: [0, 24]}"


@pytest.mark.parametrize(
    ("heights", "names", "write"),
    [  # 4 1/2 in over 24 ft: at 8 ft, a third of the way up, 1 1/2 in higher
        (
            "A: 99.625, B: 99.625, E: 99.625, F: 99.625, G: 100, H: 100",
            "C, D",
            "in one plane with the others: C 99.75 ft, D 99.75 ft",
        ),
        ("A: 99.625, B: 99.625, C: 99.85, D: 99.85, E: 99.625, F: 99.625, G: 100", "H", "write what is meant"),
        ("A: 99.625, G: 100", "", ""),  # too few to know whether any is forgotten
    ],
)
def test_corners_whose_height_was_forgotten_are_asked_for_by_name(heights: str, names: str, write: str) -> None:
    text = pad(f"points: {SLOT}\nheights: {{finish: {{{heights}}}}}", outline="[A, B, C, D, E, F, G, H]")
    told = [(one.wrong, one.write) for one in questions.ask(plan_of(text)) if "no finish height" in one.wrong]
    wrong = f"no finish height is written at {names}, so that neither water nor falls are judged"
    assert told == ([(wrong, write)] if names else [])


def test_of_many_corners_without_a_height_the_first_are_named() -> None:
    corners = ", ".join(f"[{k}, {k * k / 10}]" for k in range(12))
    text = pad(
        "points: {A: [0, 0], B: [11, 12.1], C: [10, 10]}\nheights: {finish: {A: 1, B: 1, C: 1}}", outline=f"[{corners}]"
    )
    (found,) = [one.wrong for one in questions.ask(plan_of(text)) if "no finish height" in one.wrong]
    assert found.count("(") == 6
    assert " and 3 more, so" in found
