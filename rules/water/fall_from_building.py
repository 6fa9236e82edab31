"""Within 10 ft of a building the slab falls away from it.

What is compared
    Along lines square to each building edge, out to 10 ft or to the first low line before that, the part of the fall
    that leads away from the wall. It is compared with 0.5 % and with the 2 % of the code.
Why it matters
    Water at a wall goes in: under the sill, into the crack at the filler, down the footing. The slab then settles or
    heaves there, and the fall turns back to the wall for good. Carpets and base plates rot before anyone looks outside.
When it does not apply
    No edge is beside a building, or no rain falls on the slab.
How to put it right
    Keep the height at the wall and lower the far side. Where that side cannot go down, lay a valley before 10 ft and
    give it a fall of its own, or a trench drain along the wall.
Where sources differ
    The residential code asks paving within 10 ft to fall at least 2 % away; later editions relax it at doors and ramps
    (recalled), and a door landing may fall at most 2 %. Where no code is adopted crews build 1 % there, and a town can
    say so by making the 2 % a caution. Under 0.5 %, the lowest grade published for concrete, water stands at the wall
    whatever the code says.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from slabwright.formulas import slopes
from slabwright.plan.plan import Plan
from slabwright.plan.things import NewHeight, WallFall
from slabwright.rulebook.kit import (
    APPLIES,
    Cite,
    Finding,
    InForce,
    Limit,
    Limits,
    Margin,
    Relevance,
    Worked,
    does_not_apply,
    heights_not_shown,
    spot,
    step,
    write_heights,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, depth, length, slope

TITLE = "Water runs away from the building"
WITHIN = 3.048  # m, `irc-r401.3-2006`
LIMITS = (
    Limit("away_at_least", "0.5 %", Kind.SLOPE, "hold", Cite("sddc-tea-parking"), ("0.1 %", "5 %"),
          "fall away from the wall that water still follows"),
    Limit("code_away_at_least", "2 %", Kind.SLOPE, "hold", Cite("irc-r401.3-2006", "exception"), ("0.5 %", "6 %"),
          "fall of paving away from the wall within {10 ft|3.05 m}"),
)  # fmt: skip
WORKED = (
    Worked("6 in in the first 10 ft of ground", slope(0.05), lambda: slopes.slope(6 * 0.0254, WITHIN), 1e-9,
           Cite("irc-r401.3-2006"), "wa-irc-5pct"),
)  # fmt: skip


def relevant(plan: Plan) -> Relevance:
    """Rain falls on it, a building stands at it, and every corner has a height."""
    if not plan.outdoors:
        return does_not_apply("no rain falls on it")
    if not any(piece.beside == "building" for piece in plan.edges.pieces):
        return does_not_apply("no edge is beside a building")
    return APPLIES if plan.finish.surface else heights_not_shown(plan)


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """The worst fall at each wall: stretches of one edge in one line are one."""
    by_wall: dict[tuple[str, float, float], list[WallFall]] = {}
    for fall in plan.falls.from_walls(WITHIN):
        (ax, ay), (bx, by) = fall.edge.line[0], fall.edge.line[-1]
        size = math.dist(fall.edge.line[0], fall.edge.line[-1])
        by_wall.setdefault((fall.edge.name, round((bx - ax) / size, 3), round((by - ay) / size, 3)), []).append(fall)
    for falls in by_wall.values():
        worst = min(falls, key=lambda fall: round(fall.away, 9))  # of equal falls the first
        limit = limits.broken(worst.away, "away_at_least", "code_away_at_least")
        if limit is None:
            yield Margin(spot(worst), slope(worst.away), limits.code_away_at_least)
        else:
            yield _finding(plan, falls, worst, limit, limits.code_away_at_least)


def _finding(plan: Plan, falls: list[WallFall], worst: WallFall, limit: InForce, code: InForce) -> Finding:
    at, shown, asked = spot(worst), slope(worst.away), max(limit.value.si, code.value.si)
    says = "the slab falls too little away from {wall}"
    if worst.away <= -1e-6:
        says = "water runs to {wall}"
    elif worst.away < 1e-6:
        says = "the slab does not fall away from {wall}"
    drop = depth(slopes.fall(WITHIN, asked))
    working = step(
        "fall over the distance", "slope x distance", words("{s} x {d}", s=slope(asked), d=length(WITHIN)), drop
    )
    return Finding(
        at=at,
        says=words(says, wall=at.name),
        shown=shown,
        limit=limit,
        working=(working,),
        to_pass=write_heights(
            _heights(plan, [fall for fall in falls if not code.met(fall.away)], asked),
            words("let the slab fall {drop} away from {wall} in {run}", drop=drop, wall=at.name, run=length(WITHIN)),
        ),
    )


def _heights(plan: Plan, falls: list[WallFall], asked: float) -> list[NewHeight]:
    """Heights for all stretches of a wall together; none where one of them needs more than heights."""
    found: dict[str, NewHeight] = {}
    for line in dict.fromkeys(fall.edge.line for fall in falls):
        heights = plan.grades.for_wall([fall for fall in falls if fall.edge.line == line], asked)
        if not heights:
            return []
        for one in heights:
            found[one.name] = min(one, found.get(one.name, one), key=lambda height: height.new)
    return list(found.values())
