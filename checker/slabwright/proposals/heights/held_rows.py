"""Rows of what stands at the slab, beside it and under it: fixed heights, doors, edges, drains, the base as shot."""

from __future__ import annotations

import math
import re
from collections.abc import Collection, Iterator, Sequence

import shapely

from slabwright.design.outline import SOFT_GROUND
from slabwright.formulas.units import FOOT, INCH
from slabwright.geometry.shape.distances import nearest_on
from slabwright.geometry.xy import XY
from slabwright.plan.edges import EdgePiece
from slabwright.plan.fixed import FixedMatch
from slabwright.plan.fixtures import PlannedFixture
from slabwright.proposals.heights.asking import BEFORE_DOOR, SMALL, Asking
from slabwright.proposals.heights.program import Row
from slabwright.units.quantity import Kind

GROWS = (*SOFT_GROUND, "property line")
PAVED = ("existing slab", "asphalt")
HUNG = {
    "weep screed": "weep_screed_at_least", "damp course": "damp_course_at_least", "siding": "other_siding_at_least",
    "vent": "wall_opening_at_least", "window": "wall_opening_at_least", "hose bib": "wall_opening_at_least",
}  # fmt: skip
BASE = "the base as shot"
STREET_LIP = "no bump from the street"
BRICK = re.compile(r"brick|weep", re.IGNORECASE)


def rows(asking: Asking, crossed: Collection[str]) -> Iterator[Row]:
    """Fixed heights, doors, the edges with what water has ``crossed``, drains, and the base as it was shot."""
    yield from _fixed(asking)
    yield from _doors(asking)
    yield from _edges(asking, crossed)
    yield from _drains(asking)
    yield from _base(asking)


def _fixed(asking: Asking) -> Iterator[Row]:
    for match in asking.plan.fixed.matches:
        name = match.fixed.name
        for direction, distance, side in match.asks:
            if (direction == "least") == (side == 1):
                yield from asking.below(name, "fixed", match.at, match.height - side * distance, 1.0)
            else:
                yield from asking.above(name, "fixed", match.at, match.height - side * distance, 1.0)
        usual = _usual(asking, match)
        if match.fixed.slab is None and usual is not None:
            yield from asking.below(name, "fixed", match.at, match.height - usual, 1.0)


def _usual(asking: Asking, match: FixedMatch) -> float | None:
    """The distance usual for its kind, m; None where another rule judges it, or a channel takes the water."""
    kind, plan = match.fixed.kind, asking.plan
    if plan.channels.near(match.at):
        return None if kind in ("sill", "damp course") else _hung(asking, match)
    if kind == "sill":
        if any(plan.doors.reaches(one, match.at, 0.3) and one.fixture.sill for one in plan.doors.all):
            return None
        name = "drive_sill_at_least" if plan.areas.at(match.at).use == "driveway" else "sill_at_least"
        return asking.value("slab-below-fixed", name, 0.0)
    return _hung(asking, match)


def _hung(asking: Asking, match: FixedMatch) -> float | None:
    name = HUNG.get(match.fixed.kind)
    if name is None:
        return None
    brick = match.fixed.material == "brick" or (not match.fixed.material and BRICK.search(match.fixed.name))
    return asking.value("slab-below-fixed", "brick_at_least" if brick and name.startswith("other") else name, 0.0)


def _doors(asking: Asking) -> Iterator[Row]:
    plan = asking.plan
    for door in plan.doors.all:
        sill = door.fixture.sill
        if sill is None or door.slab is None:
            continue
        up, name = plan.flights.poured_rise(door.name), f"the step at {door.name}"
        least = 0.0
        vehicles, accessible = plan.doors.for_vehicles(door), plan.doors.accessible(door)
        if plan.outdoors and not plan.doors.dry(door):
            lip = "low_lip_at_least" if vehicles or plan.doors.low_threshold(door) else "weather_step_at_least"
            least = max(least, asking.value("door-step", lip, 0.0))
        most = math.inf
        if accessible:
            most = asking.value("accessible-route", "step_at_most", math.inf)
        elif not vehicles:
            swings = bool(door.fixture.swings_over)
            most = asking.value("door-step", "swing_step_at_most" if swings else "bare_step_at_most", math.inf)
        for at in (door.at, *((p.x, p.y) for p in door.fixture.along)):
            yield from asking.below(name, "asked", at, sill.si - up - least, 1.0)
            yield from asking.above(name, "asked", at, sill.si - up - most, 1.0)
    for door in plan.doors.for_people:
        yield from _landing(asking, door)
    free = asking.value("leaf-clears-slab", "free_gap_at_least", 0.0)
    for leaf in (one for one in plan.fixtures.all if one.fixture.kind in ("door", "gate")):
        swept, bottom = plan.doors.leaf(leaf.fixture), leaf.fixture.bottom or leaf.fixture.sill
        swings = leaf.fixture.swings_over or leaf.fixture.swings_over is None
        if swept is not None and bottom is not None and swings:
            least = 0.0 if plan.doors.low_threshold(leaf) else free
            yield from asking.below(f"the leaf of {leaf.name}", "fixed", swept.at, bottom.si - least, 1.0)


def _landing(asking: Asking, door: PlannedFixture) -> Iterator[Row]:
    accessible, most = asking.plan.doors.accessible(door), asking.value("door-landing", "slope_at_most", math.inf)
    out = BEFORE_DOOR
    if accessible:
        most = asking.value("door-landing", "accessible_slope_at_most", most)
        out = 60 * INCH if door.fixture.swings_over else 48 * INCH
    found = asking.plan.doors.landing(door.fixture, out)
    if found is None or not math.isfinite(most):
        return
    name = f"{asking.shown(most, Kind.SLOPE)} on the landing at {door.name}"
    for facet in found.facets:
        if asking.on.surface.areas[facet] > SMALL:
            yield from asking.no_steeper(name, facet, most)


def _edges(asking: Asking, crossed: Collection[str]) -> Iterator[Row]:
    plan = asking.plan
    fixed = {match.fixed.name for match in plan.fixed.matches if match.asks}
    for piece in plan.edges.pieces:
        if piece.ground is None or piece.ground_follows:
            continue
        stations = list(zip(piece.line, piece.ground, strict=True))
        held = _beside(asking, piece) in fixed
        stepped = piece.edge and piece.edge.planned_step
        street = asking.limit("exposed-edge", "street_lip_at_most")
        if street and piece.beside == "street" and piece.wheels_cross and not stepped:
            for at, ground in stations:
                yield from asking.below(STREET_LIP, "asked", at, ground + street.value.si, 1.0, sure=False)
        if piece.beside in PAVED and not held:
            yield from _flush(asking, piece, stations)
        wet = piece.name in crossed and piece.takes_water is not False and not piece.dams
        if plan.outdoors and wet:
            aim = lip(asking, piece)
            only = len(plan.exits.outlets) == 1
            for at, ground in stations:
                yield from asking.above(_beside(asking, piece), "fixed", at, ground + aim, 1.0, sure=only)
        most = _drop(asking, piece)
        for at, ground in stations if math.isfinite(most) else ():
            yield from asking.below(f"a drop of {asking.shown(most, Kind.DEPTH)} at {piece.name}", "asked", at,
                                   ground + most)  # fmt: skip


def _beside(asking: Asking, piece: EdgePiece) -> str:
    """What stands beside an edge; where a fixed height is given all along it too, that is the same thing."""
    for match in asking.plan.fixed.matches:
        own = [piece in asking.plan.edges.at((p.x, p.y)) for p in match.fixed.along]
        if piece.beside != "building" and match.asks and all(own):
            return match.fixed.name
    if piece.edge and piece.edge.name:
        return piece.edge.name
    return f"the {piece.beside} beside {piece.name.removeprefix('edge ').partition(' (')[0]}"


def lip(asking: Asking, piece: EdgePiece) -> float:
    """How far the slab stands above the ground beside an edge, m, so that water gets off it."""
    plan, least = asking.plan, asking.value("ground-dams-edge", "lip_at_least", 0.0)
    route = plan.design.site.accessible_route
    leaves = any(nearest_on(piece.line, (end.x, end.y))[0] < FOOT for end in (route[:1] + route[-1:]))
    driven = piece.beside == "gravel" and plan.carries_vehicles and piece.wheels_cross is not False
    if piece.beside in GROWS and not (leaves or driven or piece.wheels_cross):
        return max(least, asking.value("ground-dams-edge", "lip_above_ground_at_least", 0.0))
    return least


def _flush(asking: Asking, piece: EdgePiece, stations: Sequence[tuple[XY, float]]) -> Iterator[Row]:
    plan, site = asking.plan, asking.plan.design.site
    on_way = any(piece in plan.edges.at((point.x, point.y)) for point in site.accessible_route)
    said = bool(piece.edge and piece.edge.wheels_cross)
    wheels = said or (piece.wheels_cross and plan.carries_vehicles)
    name = "wheel_lip_at_most" if wheels else "private_lip_at_most"
    if piece.edge and piece.edge.planned_step:
        name = "floor_lip_at_most" if wheels else "step_at_most"
    elif on_way or (site.right_of_way and not wheels):
        name = "upright_lip_at_most"
    most = asking.value("trip-at-existing-slab", name, math.inf)
    for at, ground in stations:
        yield from asking.above(_beside(asking, piece), "fixed", at, ground - most, 1.0)
        yield from asking.below(_beside(asking, piece), "fixed", at, ground + most, 1.0)


def _drop(asking: Asking, piece: EdgePiece) -> float:
    if piece.beside in ("building", "trench drain", "pool") or (piece.edge and piece.edge.guard):
        return math.inf
    guard = "guard_drop_at_most" if asking.plan.home == "us" else "metric_drop_at_most"
    most = asking.value("exposed-edge", guard, math.inf)
    near = any(asking.plan.doors.near(at, BEFORE_DOOR) for at in piece.line)
    if piece.beside in SOFT_GROUND and near and not asking.plan.flights.up_to(piece.name):
        most = min(most, asking.value("exposed-edge", "door_drop_at_most", math.inf))
    return most


def _drains(asking: Asking) -> Iterator[Row]:
    least = asking.value("outlet-below", "usual_drop_at_least", 0.0)
    below = asking.value("standing-water", "rim_below_at_most", math.inf)
    for drain in (one for one in asking.plan.fixtures.all if one.fixture.kind == "drain"):
        rim, outlet, pipe = drain.fixture.rim, drain.fixture.outlet, drain.fixture.pipe
        if rim is not None:
            name = f"the rim of {drain.name}"
            yield from asking.above(name, "fixed", drain.at, rim.si, 1.0)
            yield from asking.below(name, "fixed", drain.at, rim.si + below, 1.0)
        elif outlet is not None:
            fall = asking.value("outlet-below", "pipe_fall_at_least", 0.0) * pipe.si if pipe else 0.0
            name = f"the outlet of {drain.name}"
            yield from asking.above(name, "fixed", drain.at, outlet.si + max(least, fall), 1.0)
    for channel in asking.plan.channels.all:
        name = f"the rim of {channel.name}"
        for at, high in zip(channel.line, channel.rims, strict=True) if channel.channel.rim else ():
            if high is not None:
                yield from asking.above(name, "fixed", at, high, 1.0)
                yield from asking.below(name, "fixed", at, high + below, 1.0)


def _base(asking: Asking) -> Iterator[Row]:
    """Depth enough over every shot on the prepared base."""
    short = asking.value("base-depth", "spot_short_preferred_at_most", 0.0)
    for spot in asking.plan.design.heights.base:
        if asking.plan.shape.slab.covers(shapely.Point(spot.at.x, spot.at.y)):
            at = (spot.at.x, spot.at.y)
            top = asking.plan.finish.at(at)
            drawn = asking.plan.thickness.shot_at(at, None if top is None else top - spot.height.si)
            yield from asking.above(BASE, "fixed", at, spot.height.si + drawn - short, 1.0)
