"""A slab is the same slab however it is drawn: turned, mirrored, shifted, raised, renamed, or in other units.

The conclusions of every rule on every example are compared with those on the example as it stands. The expected
values are the example's own; what is asserted is that the way of drawing changes none of them.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache
from pathlib import Path

import corpus
import pytest
from example_reviews import DESIGNS, JOBS, drawing_in, name_of, reviewed
from slabwright.plan.plan import Plan
from slabwright.review.report import Report
from slabwright.units.quantity import Kind
from turning import (
    Drawing,
    drawing_of,
    mirrored,
    other_units,
    raised,
    renamed,
    shifted,
    shuffled,
    started_elsewhere,
    turned,
    walked_back,
)

FAR = (412_345.678, 1_234_567.891)  # m, as survey grids have it
HIGHER = 12.345  # m

WAYS: dict[str, Callable[[Drawing], Drawing]] = {
    "a quarter turn": lambda drawing: turned(drawing, 90),
    "turned by 37 degrees": lambda drawing: turned(drawing, 37),
    "mirrored": mirrored,
    "mirrored and walked back": lambda drawing: walked_back(mirrored(drawing)),
    "walked back": walked_back,
    "shifted far": lambda drawing: shifted(drawing, *FAR),
    "raised": lambda drawing: raised(drawing, HIGHER),
    "renamed and begun elsewhere": lambda drawing: started_elsewhere(renamed(drawing)),
    "begun two corners on": lambda drawing: started_elsewhere(drawing, 2),
    "listed in another order": shuffled,
    "in the other units": other_units,
    "all at once": lambda drawing: shifted(
        turned(shuffled(walked_back(mirrored(renamed(other_units(raised(drawing, HIGHER)))))), 201.5), 17.3, -55.1
    ),
    "turned, begun elsewhere, raised": lambda drawing: started_elsewhere(turned(raised(drawing, HIGHER), 37), 2),
    "mirrored, turned a quarter, shifted far": lambda drawing: shifted(turned(mirrored(drawing), 90), *FAR),
}
TOGETHER = [way for way in WAYS if "," in way or way == "all at once"]  # each way is in one of these


@pytest.fixture(autouse=True)
def _one_code(monkeypatch: pytest.MonkeyPatch) -> None:
    """A job in other units is judged by another code; here it is the way of drawing that is tried."""
    monkeypatch.setattr(Plan, "home", "us")


@cache
def as_it_stands(path: Path) -> Report:
    """The review of an example by that one code: not the one that the tests of other files keep, nor for them."""
    return reviewed(drawing_in(path))


def comments(report: Report, height: float = 0.0) -> list[tuple[str, str, str, float]]:
    """Rule, weight, limit and what is shown, of every comment, heights brought down by ``height``."""
    found = []
    for one in report.comments:
        shown = one.shown.si - height if one.shown.kind == Kind.HEIGHT else one.shown.si
        found.append((one.rule, one.weight, one.limit.name, shown))
    return sorted(found)


def silent(report: Report) -> tuple[set[str], set[str], set[str]]:
    """Rules that are met, not shown, and do not apply."""
    return (
        {one.rule for one in report.met},
        {one.rule for one in report.not_shown},
        {one.rule for one in report.does_not_apply},
    )


@pytest.mark.long
@pytest.mark.parametrize(
    ("path", "way"),
    [(path, way) for path in DESIGNS for way in TOGETHER] + [(path, way) for path in JOBS for way in WAYS],
    ids=lambda value: name_of(value) if isinstance(value, Path) else value,
)
def test_conclusions_do_not_hang_on_how_the_slab_is_drawn(path: Path, way: str) -> None:
    before, after = as_it_stands(path), reviewed(WAYS[way](drawing_in(path)))
    assert before.crashes == after.crashes == ()
    assert silent(after) == silent(before)
    height = HIGHER if "raised" in way or way == "all at once" else 0.0
    was, now = comments(before), comments(after, height)
    assert [one[:3] for one in now] == [one[:3] for one in was]
    assert [one[3] for one in now] == pytest.approx([one[3] for one in was], rel=1e-6, abs=1e-6)
    margins = {one.rule: one.slack for one in before.met if one.slack is not None}
    assert {one.rule: one.slack for one in after.met if one.slack is not None} == pytest.approx(
        margins, rel=1e-6, abs=1e-6
    )


# Shapes with more ways to go wrong than the smallest examples: four corners that are not in a plane, arcs, openings,
# drains, thick edges, ground along runs, rod readings on a grid.
SPECIMENS = {
    "warped": """
format: 1
job: {name: Warped court}
units: {plan: ft, height: ft}
use: patio
points: {A: [0, 0], B: [24, 0], C: [24, 20], D: [0, 20]}
outline: [A, B, C, D]
edges:
  - {run: [A, B], beside: building, isolation: {material: foam, depth: full}}
  - {run: [D, A], beside: property line}
  - {run: [B, C], beside: lawn, ground: [99.80, 99.10]}
  - {run: [C, D], beside: street, ground: 98.90}
heights: {finish: {A: 100.00, B: 99.98, C: 99.40, D: 99.75}}
fixed: [{name: sill, kind: sill, along: [A, B], height: 100.10, slab: at least 1 in below}]
thickness: {design: 5 in, thickened_edges: [{run: [C, D], depth: 8 in, width: 6 in, taper: 2 ft}]}
joints:
  - {from: [12, 0], to: [12, 20], kind: saw cut, depth: 1 1/4 in}
  - {from: [0, 10], to: [24, 10], kind: saw cut, depth: 1 1/8 in}
""",
    "round": """
format: 1
job: {name: Rounded terrace}
units: {plan: in, height: ft}
use: patio
points: {A: [0, 0], B: [240, 0], C: [240, 120], Q: [205, 205], D: [120, 240], E: [0, 240], F: [60, 60]}
outline: [A, B, C, {arc_to: D, through: Q}, E]
openings:
  - {name: tree, corners: [F, [96, 60], [96, 96], [60, 96]], holds: tree, takes_water: true}
edges:
  - {run: [E, A], beside: wall}
  - {run: [A, B], beside: building, isolation: {material: felt, depth: full}}
  - {rest: bed, ground: 9.62}
heights:
  finish: {A: 10.00, B: 9.97, C: 9.80, D: 9.72, E: 9.90, V: 9.93, W: 9.70}
  lines: [{name: gutter, kind: valley, along: [V, W]}]
fixtures:
  - {kind: drain, at: [150, 150], size: 6 in, rim: 9.74}
  - {kind: post, at: [200, 60], size: 4 in}
thickness: {design: 4 in}
joints: [{along: [[0, 120], [60, 96]], kind: tooled groove, depth: 1 in}]
""".replace("F: [60, 60]}", "F: [60, 60], V: [120, 12], W: [128, 210]}"),
    "shot": """
format: 1
job: {name: Shot pad}
units: {plan: m, height: m}
use: vehicle pad
points: {A: [0, 0], B: [6, 0], C: [6, 4], D: [0, 4]}
outline: [A, B, C, D]
edges: [{rest: gravel, ground: 49.9}]
heights:
  finish: {A: 50.10, B: 50.02, C: 50.00, D: 50.06}
  base: shots.csv
  benches: {BM: 51.000}
thickness: {design: 120 mm}
""",
}
SHOTS = "setup,point,backsight,foresight,x,y\n1,BM,0.500,,,\n" + "".join(
    f"1,S{i}{j},,{1.5 + 0.014 * i + 0.009 * j + 0.006 * ((7 * i + 3 * j) % 5):.3f},{2 * i},{2 * j}\n"
    for i in range(4)
    for j in range(3)
)


@cache
def specimen(name: str) -> Drawing:
    drawing = drawing_of(SPECIMENS[name].replace("base: shots.csv", ""))
    if name == "shot":
        drawing.data["heights"]["base"] = "shots.csv"
        return Drawing(drawing.data, {"shots.csv": SHOTS})
    return drawing


@cache
def specimen_as_it_stands(name: str) -> Report:
    return reviewed(specimen(name))


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("name", SPECIMENS)
def test_awkward_slabs_are_judged_alike_however_they_are_drawn(name: str, way: str) -> None:
    before, after = specimen_as_it_stands(name), reviewed(WAYS[way](specimen(name)))
    assert before.crashes == after.crashes == ()
    assert silent(after) == silent(before)
    was, now = comments(before), comments(after, HIGHER if way in ("raised", "all at once") else 0.0)
    assert was
    assert [one[:3] for one in now] == [one[:3] for one in was]
    assert [one[3] for one in now] == pytest.approx([one[3] for one in was], rel=1e-6, abs=1e-6)
    for figure in ("area", "perimeter"):
        assert figure not in before.worked or after.worked[figure] == pytest.approx(before.worked[figure], rel=1e-6)


CORPUS = [  # of the corpus, where ties of heights, of ways out or of the diagonals of a rectangle hung on the drawing
    ("kidney_pool_deck", "kidney deck falls to the pool"),
    ("cellar_garage_ramp", ""),
    ("u_court_three_walls", "court without its channel"),
    ("mountain_pool_u_deck", "one side of the deck falls to the pool"),
    ("curved_pool_deck", "sod over the bow deck"),
    ("hill_drive_trench", "last feet of the hill drive to the door"),
    ("north_stoop", "step down from the stoop too high"),
    ("church_steps", "church flight with short treads"),
    ("terrasse_mit_lichtschaechten", "lichtschacht im wasser"),
]


def told_where(report: Report) -> list[tuple[str, str, str]]:
    """Rule, weight and place of every comment; an edge has one name whichever way it is walked, panels have none."""

    def plain(name: str) -> str:
        name = re.sub(r"\b[PJ]\d+\b|\([-\d., a-z]+\)", "", name)
        return re.sub(r"(\w+)-(\w+)", lambda ends: "-".join(sorted(ends.groups())), name)

    return sorted((one.rule, one.weight, plain(one.at.name)) for one in report.comments)


@pytest.mark.parametrize(("name", "fault"), CORPUS)
def test_comments_stand_at_the_same_places_however_a_slab_is_drawn(name: str, fault: str) -> None:
    path = corpus.sound()[name]
    slips = {one.name: one for one in corpus.faults() if one.design == name}
    drawing = drawing_of(corpus.text_with(slips[fault]) if fault else path.read_text(encoding="utf-8"), path.parent)
    before = told_where(reviewed(drawing))
    assert before
    for way in (started_elsewhere, lambda one: walked_back(mirrored(one)), lambda one: turned(one, 37)):
        assert told_where(reviewed(way(drawing))) == before
