"""Roof water that a downspout puts on the slab leaves where water may.

What is compared
    Follows the water from the spot of each downspout or sump outlet down the finish surface. It counts where it ends in
    a low spot, on a level part or over an edge that takes no water. Over a walk that freezes it also compares the
    length of the way with 2 ft; over a patio with 8 ft.
Why it matters
    A downspout gathers the rain of half a roof in one spot, fifty times what falls there from the sky. A dip that
    would dry by noon stays full, the silt of the roof settles in it, and across a walk it is a band of ice from
    first frost.
When it does not apply
    No downspout or sump outlet lands on the slab.
How to put it right
    Carry the spout on to a spot from which the water leaves, or lay a pipe under the slab before the pour.
Where sources differ
    None is known that gives a number for a slab; gutter makers ask that the water is led away from the wall. The 2
    ft over a walk and the 8 ft over a patio are common practice; over a drive nobody minds.
"""

from __future__ import annotations

import math
from itertools import pairwise

from slabwright.formulas.units import FOOT, FOOT2
from slabwright.rulebook.kit import *

TITLE = "Downspouts land where the water leaves"
LIMITS = (
    Limit("astray_at_most", "0", Kind.COUNT, "hold", Cite("common-practice"), ("0", "4"),
          "ends of a downspout's water where it stands or may not leave"),
    Limit("way_over_walk_at_most", "2 ft", Kind.LENGTH, "caution", Cite("common-practice"), ("0 ft", "20 ft"),
          "way of roof water over a walk that freezes"),
    Limit("way_over_patio_at_most", "8 ft", Kind.LENGTH, "note", Cite("common-practice"), ("0 ft", "30 ft"),
          "way of roof water over a patio"),
    Limit("way_of_large_roof_at_most", "8 ft", Kind.LENGTH, "caution", Cite("common-practice"), ("0 ft", "30 ft"),
          "way over a patio of the water of more than {1,000 ft2|93 m2} of roof"),
)  # fmt: skip
WORKED = ()
ON_SLAB = 0.005  # m
TRIED = 40  # nearest points that a downspout might be carried on to
LARGE_ROOF = 1000 * FOOT2  # m2, a whole house to one spout (common practice)
REACH = 0.61  # m, 2 ft: a downspout further from the slab does not land on it


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each downspout by where its water ends, and over a walk by how far it runs."""
    spouts = [one for one in plan.fixtures.all if one.fixture.kind in ("downspout", "sump outlet")]
    if not spouts:
        does_not_apply("no downspout or sump outlet is drawn")
    spouts = [one for one in spouts if one.fixture.at and meets(plan.site.away((one.fixture.at,)), REACH, "most")]
    if not spouts:
        does_not_apply("no downspout or sump outlet lands on it")
    needs_heights(plan)
    freezes = plan.design.site.freezing in ("moderate", "severe")
    for one, way in zip(spouts, plan.water.ways_from([one.at for one in spouts]), strict=True):
        at, well = Spot(one.name, one.fixture.place, way.xy), _leaves(plan, way)
        uses = {area.use for area in plan.areas.along(way.xy)}
        icy = freezes and "walk" in uses
        yield compare(
            at, count(0 if well else 1), limits.astray_at_most,
            says=lambda: _told(one.name, way.to),
            remedy=lambda: _aside(plan, one),
            decide=lambda: words("lead the water of {spout} under the slab in a pipe", spout=one.name),
        )  # fmt: skip
        if well and (icy or "patio" in uses):
            run = length(sum(math.dist(start, end) for start, end in pairwise(at.shape)))
            yield compare(
                at, run, limits[_limit(one, icy)],
                says=lambda: words("the water of {spout} freezes across the walk" if icy else
                                   "the water of {spout} runs over the patio", spout=one.name),
                decide=lambda: words("lead the water of {spout} under the slab in a pipe: {run} of it",
                                     spout=one.name, run=round_up(run, tape_step(plan, FOOT / 2, 0.1))),
            )  # fmt: skip


def _limit(spout: PlannedFixture, icy: bool) -> str:
    """The limit on the way of a spout's water."""
    roof = spout.fixture.roof
    large = roof is not None and not meets(roof.si, LARGE_ROOF, "most")
    return "way_over_walk_at_most" if icy else "way_of_large_roof_at_most" if large else "way_over_patio_at_most"


def _told(spout: str, to: str) -> Words:
    if to.startswith("low spot") or to == "level surface":
        return words("the water of {spout} stays on the slab", spout=spout)
    return words("the water of {spout} ends at {to}, which takes none", spout=spout, to=to)


def _leaves(plan: Plan, way: Trail) -> bool:
    """Whether a way ends over an edge, in a drain or in an opening that may take water."""
    return way.to in plan.exits.outlets


def _aside(plan: Plan, spout: PlannedFixture) -> list[Remedy]:
    """Carry a downspout on to the nearest named point from which its water leaves."""
    points = {
        name: (point.x, point.y) for name, point in plan.design.points.items() if plan.site.away((point,)) < ON_SLAB
    }
    near = sorted(points, key=lambda name: round(math.dist(spout.at, points[name]), 6))[:TRIED]
    for name, way in zip(near, plan.water.ways_from([points[name] for name in near]), strict=True):
        if _leaves(plan, way):
            away = length(math.dist(spout.at, points[name]))
            says = words("carry {spout} on to {point}, {away} off: from there its water leaves by {to}",
                         spout=spout.name, point=name, away=away, to=way.to)  # fmt: skip
            return [write(f"{spout.fixture.place.path}.at", name, says)]
    return []
