"""What the rules in force on heights and water ask of the heights of a slab, as rows of a linear program.

The directions in which parts fall, and the ways water takes, are those of the surface that is looked at; the search
looks again at the surface that it finds. What the rows leave out the review finds, which judges every proposal.
"""

from __future__ import annotations

import heapq
import math
import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from itertools import pairwise
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from slabwright.design.outline import SOFT
from slabwright.geometry.shape.nearest import nearest_on
from slabwright.geometry.xy import XY
from slabwright.plan.areas import Area
from slabwright.plan.edges import EdgePiece
from slabwright.plan.falls import WallFall
from slabwright.plan.fixed import FixedMatch
from slabwright.plan.fixtures import PlannedFixture
from slabwright.plan.plan import Plan
from slabwright.plan.routes import RouteStretch
from slabwright.plan.shape import ON_EDGE
from slabwright.plan.walls import BeforeWall
from slabwright.proposals.carried import Carried
from slabwright.proposals.program import Floats, Row, Sort
from slabwright.rulebook.in_force import InForce, Limits
from slabwright.units.quantity import Amount, Kind, show

FOOT, INCH = 0.3048, 0.0254
WITHIN = 10 * FOOT  # of a building, `fall-from-building`
BEFORE_DOOR, BEFORE_ACCESSIBLE_DOOR = 36 * INCH, 60 * INCH
AT_WALL = 1e-6  # m: a fall that begins so near to a wall begins at it; at a corner the next facet is an inch away
BY_GARAGE = 20 * FOOT
SMALL = 0.0929 / 4  # m2: a smaller facet is a fold, not a fall
WAY_OUT = 0.002  # fall along the way out of the water, so that no low spot is left
KEPT_OFF = 0.0  # fall away from an edge that takes no water: it may run along it
CLIMB = 50.0  # a meter climbed on the way out weighs as much as so many along it
WAYS = 16  # directions in which a greatest fall is looked at
GROWS = (*SOFT, "property line")
PAVED = ("existing slab", "asphalt")
STEEPEST = {
    "patio": "patio_at_most", "walk": "walk_at_most", "driveway": "driveway_at_most",
    "vehicle pad": "vehicle_pad_at_most", "garage floor": "garage_floor_at_most", "shop floor": "shop_floor_at_most",
    "equipment pad": "equipment_pad_at_most", "pool deck": "pool_deck_at_most",
}  # fmt: skip
HUNG = {
    "weep screed": "weep_screed_at_least", "damp course": "damp_course_at_least", "siding": "other_siding_at_least",
    "vent": "wall_opening_at_least", "window": "wall_opening_at_least", "hose bib": "wall_opening_at_least",
}  # fmt: skip
BASE = "the base as shot"
IN_PLANE = "four corners in a plane"
STREET_LIP = "no bump from the street"
BRICK = re.compile(r"brick|weep", re.IGNORECASE)


class Way(NamedTuple):
    """A facet, and a unit vector off a building over it."""

    facet: int
    x: float
    y: float


class Asking:
    """The rows that one plan asks of the heights of its points, for a surface that they carry."""

    def __init__(
        self,
        plan: Plan,
        limits: Mapping[str, Limits],
        on: Carried,
        drawn: bool,
        widened: Sequence[str],
        crests: Sequence[XY] = (),
    ):
        self.plan = plan
        self.crests = list(crests)  # where the crest before a street was lowest in earlier rounds, and is now
        self.on = on
        self._limits = {name: own.held_to(plan.home) for name, own in limits.items()}
        self._by_drawn = drawn  # facets keep the direction in which they fall; else that of the way out
        self._crossed = set(widened)  # edges that water came to in an earlier round
        self.n = on.terms.shape[1]
        self.next, self.roots, self._far = self._ways_out()
        self._walls = self._wall_facets() if plan.outdoors else {}

    def rows(self) -> list[Row]:
        """All of them; a row without any point that could move is left out."""
        found = [*self._fixed(), *self._doors(), *self._edges(), *self._drains(), *self._base(), *self._steepest()]
        found += self._in_plane()
        if self.plan.outdoors:
            found += [*self._away(), *self._least(), *self._valleys(), *self._low_lines(), *self._kept_off()]
            found += [*self._tree(), *self._crest()]
        return [row for row in found if np.abs(row.terms).max(initial=0.0) > 1e-9]

    @property
    def crossed(self) -> frozenset[str]:
        """Edges that the water of the surface comes to."""
        return frozenset(self._crossed | self._wet)

    def _limit(self, rule: str, name: str) -> InForce | None:
        own = self._limits.get(rule)
        return own.get(name) if own is not None else None

    def _value(self, rule: str, name: str, otherwise: float) -> float:
        limit = self._limit(rule, name)
        return otherwise if limit is None or limit.weight == "note" else limit.value.si

    def _shown(self, si: float, kind: Kind) -> str:
        return show(Amount(si, kind), self.plan.system, both=False)

    def _at(self, at: XY) -> tuple[Floats, float] | None:
        return self.on.place(at, self.plan.shape.slab)

    def _above(
        self, group: str, sort: Sort, at: XY, height: float, shift: float = 0.0, sure: bool = True
    ) -> Iterator[Row]:
        """The slab at a place at ``height`` at least."""
        if (found := self._at(at)) is not None:
            yield Row(group, sort, found[0], height - found[1], shift, sure)

    def _below(
        self, group: str, sort: Sort, at: XY, height: float, shift: float = 0.0, sure: bool = True
    ) -> Iterator[Row]:
        """The slab at a place at ``height`` at most."""
        if (found := self._at(at)) is not None:
            yield Row(group, sort, -found[0], found[1] - height, -shift, sure)

    def _falls(self, group: str, facet: int, way: Floats, slope: float, sure: bool = True) -> Row:
        """A facet that falls at least ``slope`` along a unit vector; below zero it rises no more than that."""
        terms, rest, run = self.on.fall(facet, way)
        return Row(group, "asked", terms, slope * run - rest, sure=sure)

    # fixed heights -------------------------------------------------------------------------------------------------

    def _fixed(self) -> Iterator[Row]:
        for match in self.plan.fixed.matches:
            name = match.fixed.name
            for direction, distance, side in match.asks:
                if (direction == "least") == (side == 1):
                    yield from self._below(name, "fixed", match.at, match.height - side * distance, 1.0)
                else:
                    yield from self._above(name, "fixed", match.at, match.height - side * distance, 1.0)
            usual = self._usual(match)
            if match.fixed.slab is None and usual is not None:
                yield from self._below(name, "fixed", match.at, match.height - usual, 1.0)

    def _usual(self, match: FixedMatch) -> float | None:
        """The distance usual for its kind, m; None where another rule judges it, or a channel takes the water."""
        kind, plan = match.fixed.kind, self.plan
        if plan.channels.near(match.at):
            return None if kind in ("sill", "damp course") else self._hung(match)
        if kind == "sill":
            if any(plan.doors.reaches(one, match.at, 0.3) and one.fixture.sill for one in plan.doors.all):
                return None
            name = "drive_sill_at_least" if plan.areas.at(match.at).use == "driveway" else "sill_at_least"
            return self._value("slab-below-fixed", name, 0.0)
        return self._hung(match)

    def _hung(self, match: FixedMatch) -> float | None:
        name = HUNG.get(match.fixed.kind)
        if name is None:
            return None
        brick = match.fixed.material == "brick" or (not match.fixed.material and BRICK.search(match.fixed.name))
        return self._value("slab-below-fixed", "brick_at_least" if brick and name.startswith("other") else name, 0.0)

    # doors ---------------------------------------------------------------------------------------------------------

    def _doors(self) -> Iterator[Row]:
        plan = self.plan
        for door in plan.doors.all:
            sill = door.fixture.sill
            if sill is None or door.slab is None:
                continue
            up, name = plan.flights.poured_rise(door.name), f"the step at {door.name}"
            least = 0.0
            vehicles, accessible = plan.doors.for_vehicles(door), plan.doors.accessible(door)
            if plan.outdoors and not plan.doors.drained(door):
                lip = "low_lip_at_least" if vehicles or accessible else "weather_step_at_least"
                least = max(least, self._value("door-step", lip, 0.0))
            most = math.inf
            if accessible:
                most = self._value("accessible-route", "step_at_most", math.inf)
            elif not vehicles:
                swings = bool(door.fixture.swings_over)
                most = self._value("door-step", "swing_step_at_most" if swings else "bare_step_at_most", math.inf)
            for at in (door.at, *((p.x, p.y) for p in door.fixture.along)):
                yield from self._below(name, "asked", at, sill.si - up - least, 1.0)
                if math.isfinite(most):
                    yield from self._above(name, "asked", at, sill.si - up - most, 1.0)
        for door in plan.doors.for_people:
            yield from self._landing(door)
        free = self._value("leaf-clears-slab", "free_gap_at_least", 0.0)
        for leaf in (one for one in plan.fixtures.all if one.fixture.kind in ("door", "gate")):
            swept, bottom = plan.doors.leaf(leaf.fixture), leaf.fixture.bottom or leaf.fixture.sill
            swings = leaf.fixture.swings_over or leaf.fixture.swings_over is None
            if swept is not None and bottom is not None and swings:
                least = 0.0 if plan.doors.accessible(leaf) else free
                yield from self._below(f"the leaf of {leaf.name}", "fixed", swept.at, bottom.si - least, 1.0)

    def _landing(self, door: PlannedFixture) -> Iterator[Row]:
        accessible, most = self.plan.doors.accessible(door), self._value("door-landing", "slope_at_most", math.inf)
        out = BEFORE_DOOR
        if accessible:
            most = self._value("door-landing", "accessible_slope_at_most", most)
            out = 60 * INCH if door.fixture.swings_over else 48 * INCH
        found = self.plan.doors.landing(door.fixture, out)
        if found is None or not math.isfinite(most):
            return
        name = f"{self._shown(most, Kind.SLOPE)} on the landing at {door.name}"
        for facet in found.facets:
            if self.on.surface.areas[facet] > SMALL:
                yield from self._no_steeper(name, facet, most)

    # edges ---------------------------------------------------------------------------------------------------------

    def _edges(self) -> Iterator[Row]:
        plan = self.plan
        fixed = {match.fixed.name for match in plan.fixed.matches if match.asks}
        for piece in plan.edges.pieces:
            if piece.ground is None or piece.ground_follows:
                continue
            stations = list(zip(piece.line, piece.ground, strict=True))
            held = self._beside(piece) in fixed
            stepped = piece.edge and piece.edge.planned_step
            street = self._limit("exposed-edge", "street_lip_at_most")
            if street and piece.beside == "street" and piece.wheels_cross and not stepped:
                for at, ground in stations:
                    yield from self._below(STREET_LIP, "asked", at, ground + street.value.si, 1.0, sure=False)
            if piece.beside in PAVED and not held:
                yield from self._flush(piece, stations)
            wet = piece.name in self.crossed and piece.takes_water is not False and not piece.dams
            if plan.outdoors and wet:
                aim = self._lip(piece)
                only = len(plan.exits.outlets) == 1
                for at, ground in stations:
                    yield from self._above(self._beside(piece), "fixed", at, ground + aim, 1.0, sure=only)
            most = self._drop(piece)
            for at, ground in stations if math.isfinite(most) else ():
                yield from self._below(f"a drop of {self._shown(most, Kind.DEPTH)} at {piece.name}", "asked", at,
                                       ground + most)  # fmt: skip

    def _beside(self, piece: EdgePiece) -> str:
        """What stands beside an edge; where a fixed height is given all along it too, that is the same thing."""
        for match in self.plan.fixed.matches:
            own = [piece in self.plan.edges.at((p.x, p.y)) for p in match.fixed.along]
            if piece.beside != "building" and match.asks and all(own):
                return match.fixed.name
        if piece.edge and piece.edge.name:
            return piece.edge.name
        return f"the {piece.beside} beside {piece.name.removeprefix('edge ').partition(' (')[0]}"

    def _lip(self, piece: EdgePiece) -> float:
        plan, least = self.plan, self._value("ground-dams-edge", "lip_at_least", 0.0)
        route = plan.design.site.accessible_route
        leaves = any(nearest_on(piece.line, (end.x, end.y))[0] < FOOT for end in (route[:1] + route[-1:]))
        driven = piece.beside == "gravel" and plan.carries_vehicles and piece.wheels_cross is not False
        if piece.beside in GROWS and not (leaves or driven or piece.wheels_cross):
            return max(least, self._value("ground-dams-edge", "lip_above_ground_at_least", 0.0))
        return least

    def _flush(self, piece: EdgePiece, stations: Sequence[tuple[XY, float]]) -> Iterator[Row]:
        plan, site = self.plan, self.plan.design.site
        on_way = any(piece in plan.edges.at((point.x, point.y)) for point in site.accessible_route)
        said = bool(piece.edge and piece.edge.wheels_cross)
        wheels = said or (piece.wheels_cross and plan.carries_vehicles)
        name = "wheel_lip_at_most" if wheels else "private_lip_at_most"
        if piece.edge and piece.edge.planned_step:
            name = "step_at_most"
        elif on_way or (site.right_of_way and not wheels):
            name = "upright_lip_at_most"
        most = self._value("trip-at-existing-slab", name, math.inf)
        for at, ground in stations if math.isfinite(most) else ():
            yield from self._above(self._beside(piece), "fixed", at, ground - most, 1.0)
            yield from self._below(self._beside(piece), "fixed", at, ground + most, 1.0)

    def _drop(self, piece: EdgePiece) -> float:
        if piece.beside in ("building", "trench drain", "pool") or (piece.edge and piece.edge.guard):
            return math.inf
        guard = "guard_drop_at_most" if self.plan.system == "us" else "metric_drop_at_most"
        most = self._value("exposed-edge", guard, math.inf)
        near = any(self.plan.doors.near(at, BEFORE_DOOR) for at in piece.line)
        if piece.beside in SOFT and near and not self.plan.flights.up_to(piece.name):
            most = min(most, self._value("exposed-edge", "door_drop_at_most", math.inf))
        return most

    # drains --------------------------------------------------------------------------------------------------------

    def _drains(self) -> Iterator[Row]:
        least = self._value("outlet-below", "usual_drop_at_least", 0.0)
        for drain in (one for one in self.plan.fixtures.all if one.fixture.kind == "drain"):
            rim, outlet, pipe = drain.fixture.rim, drain.fixture.outlet, drain.fixture.pipe
            if rim is not None:
                name = f"the rim of {drain.name}"
                yield from self._above(name, "fixed", drain.at, rim.si, 1.0)
                most = self._value("standing-water", "rim_below_at_most", math.inf)
                if math.isfinite(most):
                    yield from self._below(name, "fixed", drain.at, rim.si + most, 1.0)
            elif outlet is not None:
                fall = self._value("outlet-below", "pipe_fall_at_least", 0.0) * pipe.si if pipe else 0.0
                name = f"the outlet of {drain.name}"
                yield from self._above(name, "fixed", drain.at, outlet.si + max(least, fall), 1.0)

        below = self._value("standing-water", "rim_below_at_most", math.inf)
        for channel in self.plan.channels.all:
            name = f"the rim of {channel.name}"
            for at, high in zip(channel.line, channel.rims, strict=True) if channel.channel.rim else ():
                if high is not None:
                    yield from self._above(name, "fixed", at, high, 1.0)
                    if math.isfinite(below):
                        yield from self._below(name, "fixed", at, high + below, 1.0)

    def _base(self) -> Iterator[Row]:
        """Depth enough over every shot on the prepared base."""
        short = self._value("base-depth", "spot_short_preferred_at_most", 0.0)
        for spot in self.plan.design.heights.base:
            if self.plan.shape.slab.covers(shapely.Point(spot.at.x, spot.at.y)):
                at = (spot.at.x, spot.at.y)
                top = self.plan.finish.at(at)
                drawn = self.plan.thickness.shot_at(at, None if top is None else top - spot.height.si)
                yield from self._above(BASE, "fixed", at, spot.height.si + drawn - short, 1.0)

    def _in_plane(self) -> Iterator[Row]:
        """Both ways to fold a four-corner piece alike where its diagonals cross."""
        most = self._value("four-corner-warp", "difference_at_most", math.inf)
        for fold in self.plan.finish.folds if math.isfinite(most) else ():
            a, b, c, d = fold.corners
            found = [self._at(corner) for corner in fold.corners]
            if self.plan.joints.run_along(a, c) or self.plan.joints.run_along(b, d) or None in found:
                continue
            shares = np.zeros(4)
            for first, last in ((0, 2), (1, 3)):
                size = math.dist(fold.corners[first], fold.corners[last])
                along = math.dist(fold.corners[first], fold.at) / size
                sign = 1.0 if first == 0 else -1.0
                shares[[first, last]] = sign * (1 - along), sign * along
            known = [one for one in found if one is not None]
            terms = np.sum([share * own for share, (own, _) in zip(shares, known, strict=True)], axis=0)
            rest = float(sum(share * own for share, (_, own) in zip(shares, known, strict=True)))
            yield Row(IN_PLANE, "asked", terms, -most - rest, sure=False)
            yield Row(IN_PLANE, "asked", -terms, -most + rest, sure=False)

    # greatest falls ------------------------------------------------------------------------------------------------

    def _steepest(self) -> Iterator[Row]:
        for area in self.plan.areas.all:
            yield from self._steepest_in(area)
        if self.plan.areas.used("driveway"):
            yield from self._by_garage()
        yield from self._route()

    def _steepest_in(self, area: Area) -> Iterator[Row]:
        plan, use = self.plan, area.use
        if use == "walk" and plan.design.site.accessible_route:
            return
        name = STEEPEST.get(area.called, STEEPEST[use])
        if use == "walk" and plan.design.site.right_of_way:
            name = "public_walk_at_most"
        most = self._value("greatest-fall", name, math.inf)
        if math.isfinite(most):
            group = f"{self._shown(most, Kind.SLOPE)} at most on the {area.called}"
            for facet in self._facets():
                x, y = self.on.surface.corners[facet].mean(axis=0).tolist()
                if not plan.areas.several or plan.areas.at((x, y)) is area:
                    yield from self._no_steeper(group, facet, most)

    def _no_steeper(self, group: str, facet: int, most: float) -> Iterator[Row]:
        for k in range(WAYS):
            way = np.array([math.cos(2 * math.pi * k / WAYS), math.sin(2 * math.pi * k / WAYS)])
            yield self._falls(group, facet, way, -most * math.cos(math.pi / WAYS))

    def _by_garage(self) -> Iterator[Row]:
        most = self._value("drive-grade-by-garage", "by_garage_at_most", math.inf)
        walls = [piece.line for piece in self.plan.edges.pieces if piece.beside == "building"]
        if not math.isfinite(most) or not walls:
            return
        group = f"{self._shown(most, Kind.SLOPE)} at most before the building"
        for facet in self._facets():
            x, y = self.on.surface.corners[facet].mean(axis=0).tolist()
            if min(nearest_on(line, (x, y))[0] for line in walls) < BY_GARAGE:
                yield from self._no_steeper(group, facet, most)

    def _route(self) -> Iterator[Row]:
        plan, site = self.plan, self.plan.design.site
        if site.accessible_route:
            across = self._value("accessible-route", "cross_at_most", math.inf)
            running = self._value("accessible-route", "running_at_most", math.inf)
            for stretch in plan.routes.over(site.accessible_route):
                yield from self._along(stretch, "across the accessible way", across, True)
                yield from self._along(stretch, "along the accessible way", running, False)
        elif plan.areas.used("walk"):
            name = "public_cross_at_most" if site.right_of_way else "cross_at_most"
            across = self._value("walk-cross-slope", name, math.inf)
            for stretch in plan.routes.along_sides:
                yield from self._along(stretch, "across the walk", across, True)

    def _along(self, stretch: RouteStretch, what: str, most: float, across: bool) -> Iterator[Row]:
        (ax, ay), (bx, by) = stretch.shape
        size = math.dist((ax, ay), (bx, by))
        if not math.isfinite(most) or size < ON_EDGE:
            return
        way = np.array([bx - ax, by - ay]) / size
        if across:
            way = np.array([-way[1], way[0]])
        for facet in stretch.facets:
            for sign in (1.0, -1.0):
                yield self._falls(f"{self._shown(most, Kind.SLOPE)} at most {what}", facet, sign * way, -most)

    # water ---------------------------------------------------------------------------------------------------------

    def _facets(self) -> list[int]:
        surface = self.on.surface
        least = min(SMALL, self.plan.shape.area / 40)
        return [int(facet) for facet in np.nonzero(surface.areas > least)[0]]

    @cached_property
    def _before_walls(self) -> tuple[BeforeWall, ...]:
        return self.plan.walls.before(WITHIN, BEFORE_DOOR, BEFORE_ACCESSIBLE_DOOR)

    def _wall_facets(self) -> dict[Way, tuple[str, float, bool]]:
        """For each facet that has to fall away from a building, and each way off it: the wall and how much it asks.

        With it, whether it lies at the wall; further out a low line could come before it.
        """
        plan, limit = self.plan, self._limit("fall-from-building", "code_away_at_least")
        asked: dict[Way, tuple[str, float, bool]] = {}
        if limit is None:
            return asked
        door = self._value("fall-from-building", "door_away_at_least", 0.0)
        us = plan.home == "us" or limit.layer != "published"
        open_fall = limit.value.si if us else self._value("fall-from-building", "plain_away_at_least", 0.0)
        feet = {fall.at: line.foot for line in plan.wall_falls.lines(WITHIN) for fall in line.falls}
        low_lines = self._drawn_low_lines()
        for wall in self._before_walls:
            for falls, slope in ((wall.falls, open_fall), (wall.door_falls, door)):
                for fall in falls:
                    foot = feet.get(fall.at)
                    if foot is None or self._beyond(foot, fall, low_lines):
                        continue
                    size = math.dist(foot, fall.at)
                    x, y = (fall.at[0] - foot[0]) / size, (fall.at[1] - foot[1]) / size
                    for facet in plan.finish.facets_at(fall.at):
                        key = Way(facet, round(x, 6), round(y, 6))
                        before = asked.get(key, ("", -1.0, False))
                        at_wall = before[2] or fall.distance < AT_WALL
                        if self.on.surface.areas[facet] > 1e-4:
                            asked[key] = wall.edge.name, max(slope, before[1]), at_wall
        return asked

    def _drawn_low_lines(self) -> list[shapely.Geometry]:
        valleys = [shapely.LineString([(p.x, p.y) for p in line.along]) for line in self.plan.design.heights.lines
                   if line.kind == "valley"]  # fmt: skip
        valleys += [shapely.LineString(one.line) for one in self.plan.channels.all]
        return [*valleys, *(shapely.Point(one.at).buffer(0.3) for one in self.plan.fixtures.all
                            if one.fixture.kind == "drain")]  # fmt: skip

    def _beyond(self, foot: XY, fall: WallFall, low_lines: Sequence[shapely.Geometry]) -> bool:
        """Whether a low line that is drawn lies between the wall and a fall."""
        way = shapely.LineString([foot, fall.at])
        return any(way.intersects(line) and line.distance(shapely.Point(foot)) > FOOT for line in low_lines)

    def _away(self) -> Iterator[Row]:
        for way, (name, slope, at_wall) in self._walls.items():
            group = f"{self._shown(slope, Kind.SLOPE)} away from {name}"
            yield self._falls(group, way.facet, np.array([way.x, way.y]), slope, at_wall)

    def _least(self) -> Iterator[Row]:
        least = self._value("least-fall", "usual_slope_at_least", self._value("least-fall", "slope_at_least", 0.0))
        walls = {way.facet for way in self._walls}
        group = f"a fall of {self._shown(least, Kind.SLOPE)} everywhere"
        for facet in self._facets():
            if facet not in walls:
                yield self._falls(group, facet, self._way(facet), least, sure=False)

    def _way(self, facet: int) -> Floats:
        """The direction in which a facet is to fall: as it does, or as the way out leads."""
        gradient = self.on.surface.gradients[facet]
        size = float(np.hypot(*gradient))
        if self._by_drawn and size > 0.002:
            return np.asarray(-gradient / size)
        corners = self.on.surface.mesh.triangles[facet]
        xy, far = self.on.surface.mesh.xy[corners], self._far[corners]
        if np.isfinite(far).all():
            sides = np.stack([xy[1] - xy[0], xy[2] - xy[0]])
            uphill = np.linalg.solve(sides, far[1:] - far[0])
            if np.hypot(*uphill) > 1e-3:
                return np.asarray(-uphill / np.hypot(*uphill))
        if size > 1e-6:
            return np.asarray(-gradient / size)
        return self._off_wall(xy.mean(axis=0))

    def _off_wall(self, at: Floats) -> Floats:
        """Away from the nearest building, or from the middle of the slab."""
        walls = [shapely.LineString(piece.line) for piece in self.plan.edges.pieces if piece.beside == "building"]
        start = shapely.shortest_line(shapely.union_all(walls), shapely.Point(at)) if walls else None
        off = at - np.array(start.coords[0] if start is not None else self.plan.shape.slab.centroid.coords[0])
        size = float(np.hypot(*off))
        return off / size if size > 1e-6 else np.array([1.0, 0.0])

    def _valleys(self) -> Iterator[Row]:
        hold = self._value("valley-fall", "slope_at_least", 0.0)
        least = max(hold, self._value("valley-fall", "hand_formed_slope_at_least", hold))
        for line in self.plan.design.heights.lines:
            if line.kind != "valley":
                continue
            group = f"{self._shown(least, Kind.SLOPE)} along {line.name or 'the valley'}"
            vertices = [self.on.surface.nearest_vertex((p.x, p.y)) for p in line.along]
            for (p, a), (q, b) in pairwise(zip(line.along, vertices, strict=True)):
                run = math.dist((p.x, p.y), (q.x, q.y))
                trench = self.plan.water.drained_along([(p.x, p.y), (q.x, q.y)]) > 0.9
                if run < ON_EDGE or trench:
                    continue
                upper, lower = (a, b) if self._far[a] >= self._far[b] else (b, a)
                terms = self.on.terms[upper] - self.on.terms[lower]
                rest = float(self.on.rest[upper] - self.on.rest[lower])
                yield Row(group, "asked", terms, least * run - rest, sure=False)

    def _low_lines(self) -> Iterator[Row]:
        us = self.plan.home == "us"
        plain = self._value("fall-from-building", "low_line_at_least" if us else "plain_away_at_least", 0.0)
        drain = self._value("fall-from-building", "low_line_to_drain_at_least", 0.0)
        for wall in self._before_walls:
            for line in wall.low_lines:
                slope = drain if line.to_drain else plain
                first, last = self._at(line.xy[0]), self._at(line.xy[-1])
                if first is not None and last is not None:
                    group = f"{self._shown(slope, Kind.SLOPE)} along the low line before {wall.edge.name}"
                    yield Row(group, "asked", first[0] - last[0], slope * line.run - (first[1] - last[1]), sure=False)

    def _kept_off(self) -> Iterator[Row]:
        """Facets at an edge that takes no water fall away from it."""
        mesh = self.on.surface.mesh
        for piece in self.plan.edges.pieces:
            if piece.dams or piece.takes_water is not False:
                continue
            line = shapely.LineString(piece.line)
            on_edge = shapely.distance(line, shapely.points(mesh.xy)) < ON_EDGE
            for facet in np.nonzero(on_edge[mesh.triangles].sum(axis=1) == 2)[0].tolist():
                corners = mesh.triangles[facet]
                (a, b), (c,) = mesh.xy[corners[on_edge[corners]]], mesh.xy[corners[~on_edge[corners]]]
                square = np.array([a[1] - b[1], b[0] - a[0]]) / np.hypot(*(b - a))
                square = square if (c - a) @ square > 0 else -square
                yield self._falls(f"water kept off {piece.name}", facet, square, KEPT_OFF)

    # ways out ------------------------------------------------------------------------------------------------------

    def _outlets(self) -> dict[int, float]:
        """Vertices where water may leave, each with how far it would have to be raised for that, m."""
        surface, plan = self.on.surface, self.plan
        found: dict[int, float] = {}
        rim = np.unique(surface.mesh.rim)
        marks = shapely.points(surface.mesh.xy[rim])
        takers = [piece for piece in plan.edges.pieces if piece.takes_water and not piece.dams]
        takers = takers or [piece for piece in plan.edges.pieces if piece.takes_water is None and not piece.dams]
        for piece in takers:
            near = shapely.distance(shapely.LineString(piece.line), marks) < ON_EDGE
            for vertex in rim[near].tolist():
                lift = 0.0
                if piece.ground is not None and not piece.ground_follows:
                    _, side, share = nearest_on(piece.line, tuple(surface.mesh.xy[vertex].tolist()))
                    beside = piece.ground[side] + share * (piece.ground[side + 1] - piece.ground[side])
                    lift = max(0.0, beside + self._lip(piece) - float(surface.z[vertex]))
                found[vertex] = min(found.get(vertex, math.inf), lift)
        for opening, ring in zip(plan.design.openings, plan.shape.opening_rings, strict=True):
            if opening.takes_water:
                for vertex in rim[shapely.distance(ring.polygon, marks) < ON_EDGE].tolist():
                    found[vertex] = 0.0
        for fixture in plan.design.fixtures:
            if fixture.kind == "drain" and fixture.at is not None:
                vertex = surface.nearest_vertex((fixture.at.x, fixture.at.y), 2 * ON_EDGE)
                if vertex >= 0:
                    found[vertex] = 0.0
        for channel in plan.channels.all:
            on = shapely.dwithin(shapely.LineString(channel.line), shapely.points(surface.mesh.xy), ON_EDGE)
            found.update(dict.fromkeys(np.flatnonzero(on).tolist(), 0.0))
        return found

    def _ways_out(self) -> tuple[dict[int, int], frozenset[int], Floats]:
        """For each vertex the next on its way out, the vertices where water leaves, and how far out each is.

        Short ways first, climbing dear; no way leads through a vertex at a building.
        """
        surface = self.on.surface
        outlets = self._outlets()
        z, xy = surface.z, surface.mesh.xy
        beside: dict[int, list[int]] = {}
        for a, b in surface.mesh.edges.tolist():
            beside.setdefault(a, []).append(b)
            beside.setdefault(b, []).append(a)
        walls = [shapely.LineString(piece.line) for piece in self.plan.edges.pieces if piece.beside == "building"]
        at_wall: NDArray[np.bool_] = np.zeros(len(z), dtype=bool)
        if walls:
            at_wall = shapely.distance(shapely.union_all(walls), shapely.points(xy)) < ON_EDGE
        far = np.full(len(z), np.inf)
        onward: dict[int, int] = {}
        queue: list[tuple[float, int, int]] = [(CLIMB * lift, vertex, -1) for vertex, lift in sorted(outlets.items())]
        heapq.heapify(queue)
        roots = set()
        while queue:
            cost, vertex, to = heapq.heappop(queue)
            if math.isfinite(far[vertex]):
                continue
            far[vertex] = cost
            if to >= 0:
                onward[vertex] = to
            else:
                roots.add(vertex)
            if at_wall[vertex] and vertex not in outlets:
                continue
            for other in beside[vertex]:
                if not math.isfinite(far[other]):
                    run = float(np.hypot(*(xy[other] - xy[vertex])))
                    climb = max(0.0, float(z[vertex] - z[other]) + WAY_OUT * run)
                    heapq.heappush(queue, (cost + run + CLIMB * climb, other, vertex))
        self._wet = self._wet_edges(roots, onward)
        return onward, frozenset(roots), far

    def _wet_edges(self, roots: set[int], onward: Mapping[int, int]) -> set[str]:
        """Edges that water comes to: by the surface as it falls, or where ways out end all along them.

        A corner where two edges meet lets water out over one of them, so it takes two ends to make an edge wet.
        """
        names: Counter[str] = Counter()
        for vertex in set(onward.values()) & roots:
            x, y = self.on.surface.mesh.xy[vertex].tolist()
            names.update({piece.name for piece in self.plan.edges.at((x, y)) if piece.takes_water and not piece.dams})
        by_ways = {name for name, ends in names.items() if ends > 1}
        if not self._by_drawn:
            return by_ways
        return by_ways | {one.to for one in self.plan.water.bare_shares if one.kind == "edge" and one.share > 0.01}

    def _crest(self) -> Iterator[Row]:
        """The crest that keeps the water of a street from the building, where the lowest way between them has it."""
        plan = self.plan
        streets = [piece for piece in plan.edges.pieces if piece.beside == "street"]
        walls = [piece for piece in plan.edges.pieces if piece.beside == "building"]
        gutters = [one.si for fixed in plan.design.fixed if fixed.kind == "gutter" for one in fixed.height]
        gutters = gutters or [low for piece in streets for low in piece.ground or ()]
        crest = plan.water.crest(streets, walls) if gutters and streets and walls else None
        if crest is not None:
            self.crests += [] if crest.at in self.crests else [crest.at]
            crests = ("crest_at_least", "lip_high_crest_at_least", "curb_high_crest_at_least")
            least = max(self._value("street-water-kept-out", name, 0.0) for name in crests)
            group = f"a crest {self._shown(least, Kind.DEPTH)} above the street"
            for at in self.crests:
                found = self._at(at)
                if found is not None:
                    yield Row(group, "asked", found[0], min(gutters) + least - found[1], sure=False)

    def _tree(self) -> Iterator[Row]:
        surface = self.on.surface
        for vertex, to in self.next.items():
            run = float(np.hypot(*(surface.mesh.xy[vertex] - surface.mesh.xy[to])))
            terms = self.on.terms[vertex] - self.on.terms[to]
            rest = float(self.on.rest[vertex] - self.on.rest[to])
            yield Row("a way out for the water", "asked", terms, WAY_OUT * run - rest, sure=False)
