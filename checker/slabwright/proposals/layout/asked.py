"""What the rules in force ask of a layout of joints, as numbers and places."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from slabwright.formulas.units import FOOT
from slabwright.geometry.joints.panels import cut
from slabwright.geometry.xy import XY
from slabwright.plan.plan import Plan
from slabwright.review.concluding import conclude
from slabwright.review.report import Conclusions
from slabwright.rulebook.conclusion import Finding, bare
from slabwright.rulebook.in_force import InForce, Limits
from slabwright.rulebook.rule import Rule
from slabwright.units.quantity import Amount, Kind, meets

Floats = NDArray[np.float64]

AT_CORNERS = ("inside-corner-joint", "joints-line-up")  # rules that name the places which joints must come to
POSTS = ("post", "column")
OF_SIDES = ("panel-spacing", "curl", "walk-joints")  # rules on how long a panel may be
NO_LIMIT = 1e6
GRID = {"us": 0.1524, "metric": 0.15}  # m, 6 in or 150 mm
NARROW, USUAL_BAY, RIBBON = 4 * FOOT, 5 * FOOT, 2 * FOOT  # m, as the rule on aspect has them


class Must(NamedTuple):
    """A place that a joint has to come to, or that one should where it is only a wish (a drain)."""

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
    limits = {name: own.held_to(plan.home) for name, own in limits.items()}
    slab, corners = plan.shape.slab, limits.get("panel-corners")
    weights = ("hold", "caution", "note") if notes else ("hold", "caution")
    sharpest = _tightest(corners, ("angle_at_least", "preferred_angle_at_least"), weights, max, 0.0)
    whole = cut(slab, []).panels[0]
    aspects = limits.get("panel-aspect")
    return Asked(
        slab=slab,
        longest=longest(plan, rules, limits, weights),
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


def longest(plan: Plan, rules: Sequence[Rule], limits: Mapping[str, Limits], weights: Sequence[str]) -> float:
    """The longest side that a panel may have by every rule in force of some weights, m.

    The rules are asked themselves, of the slab without its cuts: which limit holds for its use and thickness is theirs
    to choose. A slab of several parts is asked about as one of each use, as thin as its thinnest part.
    """
    left, low, right, high = plan.shape.slab.bounds
    most = [math.hypot(right - left, high - low)]
    strip = 1.1 * 2 * plan.shape.area / plan.shape.perimeter  # a long strip of a walk may be jointed in squares
    for one in _alike(plan):
        sides = {f"panel {panel.name}": panel.long_side for panel in one.panels.all}
        for rule in (rule for rule in rules if rule.name in OF_SIDES):
            for name, limit, asked, shown in _compared(one, rule, limits[rule.name]):
                if limit.weight in weights and rule.name == "walk-joints":
                    most.append(max(limit.value.si, strip))
                elif limit.weight in weights and asked.kind is Kind.LENGTH:
                    most.append(asked.si)
                elif limit.weight in weights:  # curl grows as the square of the side
                    most.append(sides[name] * math.sqrt(asked.si / shown.si))
    return min(most)


def _alike(plan: Plan) -> Iterator[Plan]:
    """The plan, or one for each use of its parts as if all of it were used so and as thin as its thinnest part."""
    if not plan.areas.several:
        yield plan
        return
    thinnest = min((area.thickness for area in plan.areas.all), key=lambda one: one.si)
    thickness = plan.design.thickness._replace(design=thinnest)
    for use in plan.areas.uses:
        design = plan.design._replace(use=use, parts=(), thickness=thickness)
        yield plan.edited(design, {"use", "parts", "thickness"})


def _compared(plan: Plan, rule: Rule, limits: Limits) -> Iterator[tuple[str, InForce, Amount, Amount]]:
    """What a rule compares and with which limits, as asked and as shown: asked again without those it has named."""
    left = dict(limits)
    while left:
        seen = Conclusions()
        with bare():
            conclude([(plan, seen)], [rule], {rule.name: limits})
        told = [(one.at.name, one.limit, one.asked or one.limit.value, one.shown) for _, one in seen.found]
        told += [
            (one.at.name, one.limit, one.asked, one.shown)
            for one in seen.met
            if one.at is not None and one.limit is not None and one.asked is not None and one.shown is not None
        ]
        new = [one for one in told if one[1].name in left]
        yield from new
        if not new:
            return
        for _, limit, _, _ in new:
            left.pop(limit.name, None)
        limits = Limits({
            name: one if name in left else one._replace(value=Amount(NO_LIMIT, one.value.kind))
            for name, one in limits.items()
        })  # fmt: skip


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
    seen = Conclusions()
    conclude([(plan, seen)], [rule for rule in rules if rule.name in AT_CORNERS], limits)
    found = [_named(rule.name, finding, ways, limits) for rule, finding in seen.found if finding.at.shape]
    for one in plan.fixtures.all:
        if not one.inside or (one.fixture.kind not in (*POSTS, "drain") and not one.fixture.box_out):
            continue
        known = limits.get("fixtures-isolated"), limits.get("column-box-out")
        near = [of.joint_distance_at_most.value.si for of in known if of is not None]
        wish = one.fixture.kind not in POSTS and not one.fixture.box_out
        found.append(Must(one.at, (), min(near, default=FOOT), wish))
    return found


def _named(rule: str, finding: Finding, ways: Mapping[XY, tuple[XY, XY]], limits: Mapping[str, Limits]) -> Must:
    at = finding.at.shape[0]
    of = limits[rule]
    within = of.distance_at_most if rule == "inside-corner-joint" else of.offset_at_most
    return Must(at, ways.get(at, ()), within.value.si)
