"""The grade of a way in changes little enough at each break that a car does not touch the ground.

What is compared
    On lines straight in from each edge that wheels cross, compares the change of grade between two stretches with 8 %
    and 12 %. Where the slab meets what stands beside, and `falls_to_slab` says how that falls, it compares the change
    with 9 % and 12 %. Stretches with less than 6 ft between them count as meeting; what is under 1 ft long is a lip.
    The worst of each sort is reported.
Why it matters
    On a crest the car sits down on its belly, in a sag its nose or its hitch digs in. The scratches in the new drive
    all start at one line, and the low car of the family parks in the street.
When it does not apply
    No vehicles are meant for it, or no wheels cross an edge.
How to put it right
    Put a stretch of 6 ft or more between the two grades that takes half of the change, or bring the height of the
    break nearer to the line between its neighbors.
Where sources differ
    A state manual says that a change of 3 % in 11 ft suits most vehicles and that 6 to 8 % can work; Australia puts 2 m
    at half the grade at each end; a highway department allows 9 % at the gutter. Crews count 10 to 12 % over a crest
    and 8 to 10 % in a sag for low cars: so over 12 %, and over 9 % at an edge, is a caution, and over 8 % a note. How a
    drive meets a level garage floor is judged by `drive-grade-by-garage`.
"""

from __future__ import annotations

import math

from slabwright.formulas import slopes
from slabwright.formulas.units import FOOT
from slabwright.rulebook.kit import *

TITLE = "No break that a car scrapes on"
LIMITS = (
    Limit("change_at_most", "12 %", Kind.SLOPE, "caution", Cite("common-practice"), ("6 %", "20 %"),
          "change of grade on a way in that any car may scrape on"),
    Limit("usual_change_at_most", "8 %", Kind.SLOPE, "note", Cite("txdot-roadway"), ("3 %", "15 %"),
          "change of grade on a way in that most cars pass"),
    Limit("at_edge_at_most", "9 %", Kind.SLOPE, "caution", Cite("highway-index-gutter"), ("4 %", "15 %"),
          "change of grade where the slab meets a street or a floor"),
)  # fmt: skip
LEVEL = 0.0016  # m, 1/16 in: less is not set
TRANSITION = {"us": 6 * FOOT, "metric": 1.8}  # m, `cement-association-profiles`, rounded
WORKED = (
    Worked("up 2 % and then down 10 %", slope(0.12), lambda: slopes.grade_break(0.02, -0.10), 1e-12, Cite("geometry")),
)


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The worst of each sort on the ways in over each edge."""
    _end_without_ways(plan)
    told: list[GradeBreak] = []
    for one in plan.wheels.grade_breaks:
        if any(_met_again(before, one) for before in told):
            continue
        told.append(one)
        at = plan.spot(f"{one.kind} on the way in over {one.edge}", "heights.finish", "heights", shape=(one.at,))
        lighter = limits.at_edge_at_most if one.kind == "edge" else limits.usual_change_at_most
        shown = slope(slopes.grade_break(one.before, one.after))
        most = min(lighter.value.si, limits.change_at_most.value.si)
        yield compare(
            at, shown, limits.change_at_most, lighter, give=fall_give(plan, lighter.value, TRANSITION[plan.home]),
            says=lambda: _says(plan, one),
            working=lambda: step("change of grade", "grade after - grade before", _numbers(one), shown),
            remedy=lambda: new_heights(plan, _moved(plan, one, shown.si - most)),
            decide=lambda: _stretch_between(plan, one, shown.si, most),
        )  # fmt: skip


def _met_again(before: GradeBreak, one: GradeBreak) -> bool:
    """Whether it is the same fold, or the same edge, met by cars coming the other way."""
    return before.kind == one.kind and math.dist(before.at, one.at) < FOOT


def _end_without_ways(plan: Plan) -> None:
    if not plan.carries_vehicles:
        does_not_apply("no vehicles are meant for it")
    if not any(piece.wheels_cross for piece in plan.edges.pieces):
        if plan.edges.pieces and all(piece.wheels_cross is False or piece.dams for piece in plan.edges.pieces):
            does_not_apply("no wheels cross an edge")
        where = "edges, wheels_cross: true for the edge that vehicles drive on and off over"
        not_shown(where, place=plan.place("edges", "loads"))
    needs_heights(plan)
    if not plan.wheels.grade_breaks:
        does_not_apply("the ways in are of one grade")


def _says(plan: Plan, one: GradeBreak) -> Words:
    says = "a car coming in over {edge} scrapes where the grade changes at {point}"
    if one.kind == "edge":
        says = "a car coming in over {edge} scrapes at {point}, where one grade meets the other"
    return words(says, edge=one.edge, point=plan.shape.name_at(one.at))


def _numbers(one: GradeBreak) -> Words:
    ways = ["up" if grade >= 0 else "down" for grade in (one.before, one.after)]
    return words(f"{ways[1]} {{a}} - {ways[0]} {{b}}", b=slope(abs(one.before)), a=slope(abs(one.after)))


def _stretch_between(plan: Plan, one: GradeBreak, change: float, most: float) -> Words:
    """The stretches to put between the two grades."""
    half = (one.before + one.after) / 2
    run = length(TRANSITION[plan.home] * (math.ceil(change / most - 1e-9) - 1))
    if abs(half) * run.si < LEVEL:
        return words("put {run} between the two grades, level from end to end", run=run)
    return words("put {run} between the two grades that {way} {fall} in all", run=run,
                 way="rise" if half >= 0 else "fall", fall=depth(slopes.fall(run.si, abs(half))))  # fmt: skip


def _moved(plan: Plan, one: GradeBreak, over: float) -> tuple[NewHeight, ...]:
    """The height of the break, or of the end of its stretch, that keeps the limit."""
    (first, second), up = one.lengths, one.after > one.before
    if one.gap:
        return ()
    if one.kind != "edge":
        at, off = one.at, over / (1 / first + 1 / second)
    elif one.inner:  # the edge itself stays
        at, off, up = one.inner, over * max(first, second), not up
    else:
        return ()
    now = plan.finish.at(at)
    return () if now is None else plan.grades.moved([(at, now + off if up else now - off)], up=up)
