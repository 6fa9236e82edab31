"""What the rules in force ask of a layout of joints, as numbers and places."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from slabwright.formulas.joints import curl_index
from slabwright.formulas.units import FOOT
from slabwright.geometry.joints.panels import cut
from slabwright.plan.plan import Plan
from slabwright.plan.things import XY
from slabwright.review import run
from slabwright.rulebook.kit import Finding, InForce, Limits, Rule
from slabwright.units.quantity import meets

Floats = NDArray[np.float64]

AT_CORNERS = ("inside-corner-joint", "joints-line-up")  # rules that name the places which joints must come to
POSTS = ("post", "column")
LARGE_STONE = 0.019  # m: what is sold as 3/4 in
GRID = {"us": 0.1524, "metric": 0.15}  # m, 6 in or 150 mm
NARROW, USUAL_BAY, RIBBON = 4 * FOOT, 5 * FOOT, 2 * FOOT  # m, as the rule on aspect has them


class Must(NamedTuple):
    """A place that a joint has to come to, or that one should where it is only a wish (a drain)."""

    name: str
    at: XY
    ways: tuple[XY, ...]  # directions of cuts that start there
    within: float  # m
    wish: bool = False


class Asked(NamedTuple):
    """What a layout has to keep; lengths in m, angles in degrees."""

    slab: shapely.Polygon
    longest: float
    aspect: float
    ribbon_aspect: float
    walk: bool
    sharpest: float
    narrowest: float
    musts: tuple[Must, ...]
    kept: tuple[Floats, ...]  # lines of joints that stay as they are
    own_corners: tuple[XY, ...]  # corners of the slab that are sharper than a panel may be: no joint opens them
    grid: float  # m: lines lie on multiples of it where nothing else says where


def asked_of(
    plan: Plan, rules: Sequence[Rule], limits: Mapping[str, Limits], kept: Sequence[Floats], notes: bool
) -> Asked:
    """What is asked of the joints of a plan that has none but those that stay.

    With ``notes`` what the rules only note counts as well.
    """
    slab, corners = plan.shape.slab, limits.get("panel-corners")
    weights = ("hold", "caution", "note") if notes else ("hold", "caution")
    sharpest = _tightest(corners, ("angle_at_least", "preferred_angle_at_least"), weights, max, 0.0)
    whole = cut(slab, []).panels[0]
    aspects = limits.get("panel-aspect")
    return Asked(
        slab=slab,
        longest=longest(plan, limits, weights),
        aspect=_tightest(aspects, ("aspect_at_most", "preferred_aspect_at_most"), weights, min, math.inf),
        ribbon_aspect=_tightest(aspects, ("narrow_aspect_at_most",), weights, min, math.inf),
        walk=plan.areas.uses == ("walk",),
        sharpest=sharpest,
        narrowest=_tightest(corners, ("width_at_least",), weights, max, 0.0),
        musts=tuple(_musts(plan, rules, limits)),
        kept=tuple(kept),
        grid=GRID[plan.home],
        own_corners=tuple(at for at, angle in whole.corners if not meets(angle, sharpest, "least")),
    )


def longest(plan: Plan, limits: Mapping[str, Limits], weights: Sequence[str]) -> float:
    """The longest side that a panel may have by every rule in force of some weights, m."""
    t, stone = plan.areas.thicknesses[0], plan.design.mix.aggregate
    most = [math.inf]
    if spacing := limits.get("panel-spacing"):
        multiples = ["thicknesses_at_most", "preferred_thicknesses_at_most"]
        if stone and not meets(stone.si, LARGE_STONE, "least"):
            multiples += ["small_stone_thicknesses_at_most"]
        most += [spacing[name].value.si * t for name in multiples if spacing[name].weight in weights]
        cap = spacing.side_outdoors_at_most if plan.outdoors else spacing.side_indoors_at_most
        most += [cap.value.si] if cap.weight in weights else []
    if plan.areas.used("shop floor") and (curl := limits.get("curl")) and curl.curl_at_most.weight in weights:
        most += [math.sqrt(curl.curl_at_most.value.si / curl_index(1.0, t))]
    if plan.areas.used("walk") and (walk := limits.get("walk-joints")):
        side = walk.public_side_at_most if plan.design.site.right_of_way else walk.side_at_most
        width = 2 * plan.shape.area / plan.shape.perimeter  # of a long strip
        most += [max(side.value.si, 1.1 * width)] if side.weight in weights else []
    left, low, right, high = plan.shape.slab.bounds
    return min(*most, math.hypot(right - left, high - low))


def _tightest(
    limits: Limits | None,
    names: Sequence[str],
    weights: Sequence[str],
    tightest: Callable[[list[float]], float],
    free: float,
) -> float:
    of_weight: list[InForce] = [limits[name] for name in names if limits[name].weight in weights] if limits else []
    return tightest([limit.value.si for limit in of_weight]) if of_weight else free


def _musts(plan: Plan, rules: Sequence[Rule], limits: Mapping[str, Limits]) -> list[Must]:
    """Places that rules name on the slab as it is without joints, then fixtures."""
    ways = {corner.at: corner.ways for corner in plan.panels.inside_corners}
    seen = run.Conclusions()
    run.conclude([(plan, seen)], [rule for rule in rules if rule.name in AT_CORNERS], limits)
    found = [_named(rule.name, finding, ways, limits) for rule, finding in seen.found if finding.at.shape]
    for one in plan.fixtures.all:
        if not one.inside or (one.fixture.kind not in (*POSTS, "drain") and not one.fixture.box_out):
            continue
        known = limits.get("fixtures-isolated"), limits.get("column-box-out")
        near = [of.joint_distance_at_most.value.si for of in known if of is not None]
        wish = one.fixture.kind not in POSTS and not one.fixture.box_out
        found.append(Must(f"{one.name}", one.at, (), min(near, default=FOOT), wish))
    return found


def _named(rule: str, finding: Finding, ways: Mapping[XY, tuple[XY, XY]], limits: Mapping[str, Limits]) -> Must:
    at = finding.at.shape[0]
    of = limits[rule]
    within = of.distance_at_most if rule == "inside-corner-joint" else of.offset_at_most
    return Must(finding.at.name, at, ways.get(at, ()), within.value.si)
