"""Roof water that a downspout puts on the slab leaves where water may.

What is compared
    The way of the water from the spot of each downspout, down the finish surface, counted where it ends in a low spot,
    on a level part or over an edge that takes no water. Over a walk that freezes, the length of the way too, with 2 ft.
Why it matters
    A downspout gathers the rain of half a roof in one spot, fifty times what falls there from the sky. A dip that would
    dry by noon stays full, the silt of the roof settles in it, and across a walk it is a band of ice from first frost.
When it does not apply
    No downspout lands on the slab.
How to put it right
    Carry the spout on to a spot from which the water leaves, or lay a pipe under the slab before the pour.
Where sources differ
    None is known that gives a number for a slab; gutter makers ask that the water is led away from the wall. The 2 ft
    over a walk are common practice.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from slabwright.plan.plan import Plan
from slabwright.plan.things import PlannedFixture, Trail
from slabwright.rulebook.kit import (
    APPLIES,
    Cite,
    Finding,
    Limit,
    Limits,
    Margin,
    Relevance,
    Spot,
    Words,
    compared,
    does_not_apply,
    heights_not_shown,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, count, length

TITLE = "Downspouts land where the water leaves"
LIMITS = (
    Limit("astray_at_most", "0", Kind.COUNT, "hold", Cite("common-practice"), ("0", "4"),
          "ends of a downspout's water where it stands or may not leave"),
    Limit("way_over_walk_at_most", "2 ft", Kind.LENGTH, "caution", Cite("common-practice"), ("0 ft", "20 ft"),
          "way of roof water over a walk that freezes"),
)  # fmt: skip
WORKED = ()
ON_SLAB = 0.005  # m
TRIED = 40  # nearest points that a downspout might be carried on to
REACH = 0.61  # m, 2 ft: a downspout further from the slab does not land on it


def _spouts(plan: Plan) -> list[PlannedFixture]:
    spouts = [one for one in plan.fixtures.all if one.fixture.kind == "downspout"]
    return [one for one in spouts if one.fixture.at and plan.site.away((one.fixture.at,)) <= REACH]


def relevant(plan: Plan) -> Relevance:
    """A downspout lands on a slab whose heights are known."""
    if not any(one.fixture.kind == "downspout" for one in plan.fixtures.all):
        return does_not_apply("no downspout is drawn")
    if not _spouts(plan):
        return does_not_apply("no downspout lands on it")
    return APPLIES if plan.finish.surface else heights_not_shown(plan)


def _well(plan: Plan, way: Trail) -> bool:
    """Whether a way ends over an edge, in a drain or in an opening that may take water."""
    return way.to in plan.water.outlets


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """Each downspout by where its water ends, and over a walk by how far it runs."""
    spouts = _spouts(plan)
    icy = plan.design.use == "walk" and plan.design.site.freezing in ("moderate", "severe")
    for one, way in zip(spouts, plan.water.ways_from([one.at for one in spouts]), strict=True):
        at, well = Spot(one.name, one.fixture.place, way.xy), _well(plan, way)
        says = words("the water of {spout} ends at {to}, which takes none", spout=one.name, to=way.to)
        if way.to.startswith("low spot") or way.to == "level surface":
            says = words("the water of {spout} stays on the slab", spout=one.name)
        to_pass = words("lead the water of {spout} under the slab in a pipe", spout=one.name)
        aside = None if well else _aside(plan, one)
        if aside:
            to_pass = words("carry {spout} on to {point}, {away} off: from there its water leaves by {to}",
                            spout=one.name, point=aside[0], away=length(aside[1]), to=aside[2])  # fmt: skip
        yield compared(limits, ("astray_at_most",), at, count(0 if well else 1), says, to_pass)
        if icy and well:
            yield _over_walk(limits, one, at)


def _aside(plan: Plan, spout: PlannedFixture) -> tuple[str, float, str] | None:
    """The nearest named point from which water leaves well: its name, how far off it is, m, and where water goes."""
    points = {
        name: (point.x, point.y) for name, point in plan.design.points.items() if plan.site.away((point,)) < ON_SLAB
    }
    near = sorted(points, key=lambda name: round(math.dist(spout.at, points[name]), 6))[:TRIED]
    for name, way in zip(near, plan.water.ways_from([points[name] for name in near]), strict=True):
        if _well(plan, way):
            return name, math.dist(spout.at, points[name]), way.to
    return None


def _over_walk(limits: Limits, one: PlannedFixture, at: Spot) -> Finding | Margin:
    run = length(sum(math.dist(start, end) for start, end in pairwise(at.shape)))
    says: Words = words("the water of {spout} freezes across the walk", spout=one.name)
    to_pass = words("lead the water of {spout} under the walk in a pipe: {run} of it", spout=one.name, run=run)
    return compared(limits, ("way_over_walk_at_most",), at, run, says, to_pass)
