"""In which order the panels are placed: each against a fresh edge, back towards the way out, and where it can stop.

Several orders are tried: in strips both ways across the slab, by the distance from the way out, and panel to panel. The
one is kept that boxes nobody in, begins no panel away from what is placed, can stop at the most joints that part the
slab, backs towards the way out, and lets the oldest fresh edge wait least, in this order.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely

from slabwright.design.outline import Corner
from slabwright.geometry.xy import XY
from slabwright.plan.plan import Plan
from slabwright.plan.shape import point_name
from slabwright.proposals.stopping import Stop, stops_from

NEAR = 0.05  # m: a panel touches an edge this near
_SHUT = ("building", "wall")
_GREEDY = 60  # panels at most that an order is looked for panel to panel


@dataclass(frozen=True, slots=True)
class Turn:
    """One panel. Volumes in m3; ``waited`` is what is placed between the oldest fresh edge it joins and itself."""

    panel: str
    placed: float  # with all before it
    beside: tuple[str, ...]  # panels placed before, whose edge must still be fresh
    waited: float


@dataclass(frozen=True, slots=True)
class Placing:
    """The order of panels. ``out`` says in words where the way out is, ``why`` why placing starts where it does."""

    start: str
    why: str
    out: str
    turns: tuple[Turn, ...]
    stops: tuple[Stop, ...]  # joint lines at which whole panels before are placed, by volume
    boxed_in: tuple[str, ...]  # panels with no way out over what is not placed yet, and no open edge
    apart: tuple[str, ...]  # panels that join no fresh edge though they will be joined

    @property
    def longest_wait(self) -> Turn:
        """The turn whose fresh edge waited longest, the first of equals."""
        return max(self.turns, key=lambda turn: round(turn.waited, 6))

    def last_before(self, volume: float) -> Stop | None:
        """The furthest stop that ``volume`` m3 reaches."""
        reached = [stop for stop in self.stops if stop.placed <= volume * (1 + 1e-9)]
        return reached[-1] if reached else None


@dataclass(frozen=True)
class _Floor:
    """The panels as a graph: which touch, which must be joined fresh, and which lie at the way out."""

    plan: Plan
    corner: XY
    out: frozenset[int]  # panels at the way out
    open_sided: frozenset[int]  # panels with an edge that one can step off

    @cached_property
    def number(self) -> Mapping[str, int]:
        return {panel.name: at for at, panel in enumerate(self.plan.panels.all)}

    @cached_property
    def at_corner(self) -> int:
        """The panel at the corner that is furthest from the way out."""
        corner = shapely.Point(self.corner)
        return int(np.argmin(shapely.distance([panel.polygon for panel in self.plan.panels.all], corner)))

    @cached_property
    def beside(self) -> list[list[int]]:
        return [[self.number[name] for name in panel.neighbors] for panel in self.plan.panels.all]

    @cached_property
    def fresh(self) -> list[list[int]]:
        """Neighbors that are joined fresh: those in the same part between joints at which a pour ends."""
        sections = self.plan.concrete.sections
        if len(sections) == 1:
            return self.beside
        parts = shapely.STRtree([one.polygon for one in sections])
        inner, of = parts.query(shapely.points(self.middles), predicate="within")
        section = dict(zip(inner.tolist(), of.tolist(), strict=True))
        return [
            [other for other in others if section.get(other) == section.get(at)]
            for at, others in enumerate(self.beside)
        ]  # fmt: skip

    @cached_property
    def volumes(self) -> list[float]:
        return [float(one) for one in self.plan.concrete.panel_volumes]

    @cached_property
    def middles(self) -> np.ndarray:
        return np.array([panel.polygon.representative_point().coords[0] for panel in self.plan.panels.all])

    @cached_property
    def far(self) -> list[float]:
        """Way from each panel to the way out over the panels between, m."""
        far = [math.inf] * len(self.beside)
        heap = [(0.0, at) for at in self.out]
        for _, at in heap:
            far[at] = 0.0
        while heap:
            way, at = heapq.heappop(heap)
            for other in self.beside[at] if way <= far[at] else ():
                longer = way + math.dist(self.middles[at], self.middles[other])
                if longer < far[other] - 1e-9:
                    far[other] = longer
                    heapq.heappush(heap, (longer, other))
        return far


def placing(plan: Plan) -> Placing:
    """The best order found for the panels of a plan; ties go to the one tried first."""
    corner, why, out, at_out = _start(plan)
    floor = _Floor(plan, corner, at_out, _open_sided(plan))
    lines = _both_sides(floor)
    best: tuple[tuple[float, ...], list[int], tuple[Stop, ...]] | None = None
    for order in _orders(floor):
        stops = _kept(order, lines)
        score = _score(floor, order, len(stops))
        if best is None or score < best[0]:
            best = score, order, stops
    assert best is not None  # strips are always tried
    _, order, stops = best
    names = [plan.panels.all[at].name for at in order]
    turns, placed = [], 0.0
    for at, (beside, waited) in zip(order, _joined(floor, order), strict=True):
        placed += floor.volumes[at]
        fresh = tuple(plan.panels.all[other].name for other in beside)
        turns.append(Turn(plan.panels.all[at].name, placed, fresh, waited))
    boxed = _boxed(floor, order, floor.out | floor.open_sided)
    apart = tuple(names[at] for at in _apart(floor, order))
    start = _corner_of(floor, order[0])
    if start != _corner_of(floor, floor.at_corner):
        why = "from there it goes on without a break"
    boxed_in = tuple(plan.panels.all[at].name for at in boxed)
    return Placing(start, why, out, tuple(turns), stops, boxed_in, apart)


def _start(plan: Plan) -> tuple[XY, str, str, frozenset[int]]:
    """The corner that placing starts at, why, where the way out is, and the panels that lie at it."""
    corners = [(c.at.x, c.at.y) for c in plan.design.outline]
    pieces = [(piece.beside, shapely.LineString(piece.line)) for piece in plan.edges.pieces]
    spots = [(spot.x, spot.y) for spot in plan.design.order.truck_spots] if plan.design.order else []
    streets = [line for beside, line in pieces if beside == "street"]
    doors = [
        shapely.LineString([(p.x, p.y) for p in one.fixture.along])
        for one in plan.fixtures.all
        if one.fixture.kind in ("door", "gate") and len(one.fixture.along) > 1
    ]
    free = [line for beside, line in pieces if beside not in _SHUT]
    if spots:
        goal, why, out = shapely.MultiPoint(spots), "furthest from where the truck can stand", "the truck"
    elif streets:
        goal, why, out = shapely.union_all(streets), "furthest from the street", "the street"
    elif not free and doors:
        goal, why, out = max(doors, key=lambda door: door.length), "furthest from the widest door", "the door"
    elif free and len(free) < len(pieces):
        goal, why, out = shapely.union_all(free), "away from the open edges", "an open edge"
    else:
        first = corners[0]
        far = max(corners, key=lambda at: round(math.dist(at, first), 3))
        why = "no edge is a street and no place of the truck is given, so this is the first corner of the outline"
        return first, why, "the far end", _nearest(plan, shapely.Point(far))
    away = shapely.distance(goal, shapely.points(corners))
    if away.max() < NEAR:
        away = shapely.distance(goal.centroid, shapely.points(corners))
    return corners[int(np.argmax(np.round(away, 3)))], why, out, _nearest(plan, goal)


def _corner_of(floor: _Floor, first: int) -> str:
    """The corner of the slab at the panel that comes first, or the nearest one, by its name."""
    polygon = floor.plan.panels.all[first].polygon

    def away(corner: Corner) -> tuple[float, float]:
        at = (corner.at.x, corner.at.y)
        return round(polygon.distance(shapely.Point(at)), 3), math.dist(at, floor.corner)

    return point_name(min(floor.plan.design.outline, key=away).at)


def _nearest(plan: Plan, goal: shapely.Geometry) -> frozenset[int]:
    """The panels that touch a place, or the nearest one."""
    away = shapely.distance([panel.polygon for panel in plan.panels.all], goal)
    return frozenset(np.flatnonzero(away < max(NEAR, float(away.min()) + NEAR)).tolist())


def _open_sided(plan: Plan) -> frozenset[int]:
    """Panels with an edge that one can step off: neither a building nor a wall stands there."""
    free = [shapely.LineString(piece.line) for piece in plan.edges.pieces if piece.beside not in _SHUT]
    if not free:
        return frozenset()
    shared = shapely.intersection(
        [panel.polygon.buffer(NEAR / 2) for panel in plan.panels.all], shapely.union_all(free)
    )  # fmt: skip
    return frozenset(np.flatnonzero(shapely.length(shared) > 4 * NEAR).tolist())


def _orders(floor: _Floor) -> Iterator[list[int]]:
    """Orders worth trying."""
    box = shapely.get_coordinates(shapely.minimum_rotated_rectangle(floor.plan.shape.slab))
    sides = sorted(np.diff(box, axis=0)[:2].tolist(), key=lambda side: -math.hypot(*side))
    for side in sides:
        along = np.array(side) / math.hypot(*side)
        yield from _strips(floor, along)
    yield sorted(range(len(floor.beside)), key=lambda at: (-round(floor.far[at], 3), at))
    if len(floor.beside) <= _GREEDY:
        yield _panel_to_panel(floor)


def _strips(floor: _Floor, along: np.ndarray) -> Iterator[list[int]]:
    """Strips square to a direction, from the start on; in each all one way, the other, or there and back."""
    middle = shapely.get_coordinates(floor.plan.shape.slab.centroid)[0]
    forward = along if (middle - floor.corner) @ along >= 0 else -along
    across = np.array([-forward[1], forward[0]])
    if (middle - floor.corner) @ across < 0:
        across = -across
    ahead, aside = floor.middles @ forward, floor.middles @ across
    extents = [np.ptp(shapely.get_coordinates(panel.polygon) @ forward) for panel in floor.plan.panels.all]
    half = 0.5 * float(np.median(extents))
    rows: list[list[int]] = []
    for at in np.argsort(ahead, kind="stable").tolist():
        if rows and ahead[at] <= ahead[rows[-1][0]] + half:
            rows[-1].append(at)
        else:
            rows.append([at])
    for ways in ((1, 1), (-1, -1), (1, -1)):
        yield [at for number, row in enumerate(rows) for at in sorted(row, key=lambda k: aside[k] * ways[number % 2])]


def _panel_to_panel(floor: _Floor) -> list[int]:
    """From the furthest panel always on to a fresh edge, the last one first, and never across the way out."""
    count = len(floor.beside)
    left = set(range(count))
    order: list[int] = []
    fresh: set[int] = set()
    while left:
        tried = [at for at in left if at in fresh] or list(left)
        kept = [at for at in tried if _connected(floor, left - {at})] or tried
        last = set(floor.fresh[order[-1]]) if order else set()
        at = max(kept, key=lambda one: (one in last, floor.far[one] if floor.far[one] < math.inf else -1.0, -one))
        order.append(at)
        left.discard(at)
        fresh.update(floor.fresh[at])
    return order


def _connected(floor: _Floor, left: set[int]) -> bool:
    """Whether every panel not placed is reached from the way out over panels not placed."""
    reached = [at for at in floor.out if at in left]
    seen = set(reached)
    while reached:
        for other in floor.beside[reached.pop()]:
            if other in left and other not in seen:
                seen.add(other)
                reached.append(other)
    return len(seen) == len(left)


def _boxed(floor: _Floor, order: Sequence[int], out: frozenset[int]) -> list[int]:
    """Panels from which no way over later ones leads to ``out``; looked at from the last one back."""
    free: set[int] = set()
    boxed = []
    for at in reversed(order):
        if at in out or any(other in free for other in floor.beside[at]):
            free.add(at)
        else:
            boxed.append(at)
    return boxed


def _apart(floor: _Floor, order: Sequence[int]) -> list[int]:
    """Turns that join no fresh edge though a neighbor to be joined was placed or another part of it was begun."""
    turn = {at: number for number, at in enumerate(order)}
    begun: set[int] = set()
    found = []
    for number, at in enumerate(order):
        if floor.fresh[at] and not any(turn[other] < number for other in floor.fresh[at]) and at in begun:
            found.append(number)
        if at not in begun:
            begun |= _part(floor, at)
    return found


def _part(floor: _Floor, at: int) -> set[int]:
    """All panels that are joined fresh with one, itself too."""
    part, ahead = {at}, [at]
    while ahead:
        for other in floor.fresh[ahead.pop()]:
            if other not in part:
                part.add(other)
                ahead.append(other)
    return part


def _joined(floor: _Floor, order: Sequence[int]) -> Iterator[tuple[list[int], float]]:
    """For each turn the panels whose fresh edge it joins, oldest first, and how much was placed since the oldest."""
    done: dict[int, float] = {}
    placed = 0.0
    for at in order:
        beside = sorted((other for other in floor.fresh[at] if other in done), key=lambda other: done[other])
        yield beside, placed - done[beside[0]] if beside else 0.0
        placed += floor.volumes[at]
        done[at] = placed


def _score(floor: _Floor, order: Sequence[int], stops: int) -> tuple[float, ...]:
    """How bad an order is, worst kind of fault first."""
    longest = max(waited for _, waited in _joined(floor, order))
    return (
        len(_boxed(floor, order, floor.out | floor.open_sided)),
        len(_apart(floor, order)),
        -stops,
        len(_boxed(floor, order, floor.out)),
        round(longest, 6),
    )


def _kept(order: Sequence[int], lines: Sequence[tuple[Stop, np.ndarray]]) -> tuple[Stop, ...]:
    """The stops at which an order has placed just the panels on one side of them, one for each such moment.

    With each stop come the numbers of the panels before it.
    """
    turn = np.empty(len(order), dtype=int)
    turn[np.array(order)] = np.arange(len(order))
    found: dict[int, Stop] = {}
    for stop, before in lines:
        if len(before) not in found and turn[before].max() == len(before) - 1:
            found[len(before)] = stop
    return tuple(found[count] for count in sorted(found))


def _both_sides(floor: _Floor) -> list[tuple[Stop, np.ndarray]]:
    """Every line of joints that parts the slab, as it looks from either side, with the numbers of the panels before."""
    names = list(floor.number)
    stops = [
        one for stop in stops_from(floor.plan, floor.corner) for one in (stop, stop.from_other_side(names))
    ]  # fmt: skip
    return [(stop, np.array([floor.number[name] for name in stop.before])) for stop in stops]
