"""The outline, its openings, and what stands beside each stretch of it."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import shapely

from slabwright.design.model import Corner, Design, Edge, Point
from slabwright.design.point import spot_name
from slabwright.geometry.shape.edges import Layout, lay_runs
from slabwright.geometry.shape.nearest import nearest_on, spot_on
from slabwright.geometry.shape.outline import Ring, build_ring, distance_along, distances_along, stretch
from slabwright.geometry.shape.ring_faults import ring_faults
from slabwright.geometry.surface.thickness import Thickening, deepest_along, thickening
from slabwright.plan.things import XY, EdgePiece
from slabwright.source.place import Place
from slabwright.source.problem import Problem, Problems
from slabwright.units.quantity import length, show

if TYPE_CHECKING:
    from slabwright.plan.plan import Plan

Line = list[XY]
Marks = Sequence[tuple[float, str]]  # distances along the outline, and the names of the points there

ON_EDGE = 0.005  # a point this near the outline lies on it, m

DAMS = frozenset({"building", "wall", "step", "curb"})
FIXED_FACES = frozenset({"building", "wall", "step", "curb", "existing slab"})
TAKES_WATER: dict[str, bool | None] = {
    "building": False,
    "wall": False,
    "step": False,
    "curb": False,
    "existing slab": None,
    "property line": False,
    "street": True,
    "lawn": True,
    "bed": True,
    "gravel": True,
    "open ground": True,
    "trench drain": True,
}


def corner_name(corner: Corner) -> str:
    """The name of a corner, or its place on the plan when it was typed as a pair of numbers."""
    return point_name(corner.at)


def point_name(point: Point) -> str:
    """The name of a point, or its numbers as typed when it has none (in metres where nobody typed them)."""
    return point.name or point.typed or spot_name(point.x, point.y, "m")


def _ring(corners: Sequence[Corner]) -> Ring:
    return build_ring([((c.at.x, c.at.y), (c.through.x, c.through.y) if c.through else None) for c in corners])


_FAULTS = {
    "repeated point": ("{a} and {b} are at the same spot", "leave one of them out, or correct its numbers"),
    "crosses itself": (
        "the side from {a} to {b} crosses the side from {c} to {d}",
        "list the corners in the order you would walk around the slab",
    ),
    "no area": ("the corners lie on one line and enclose nothing", "give at least three corners that are not in line"),
    "spike": ("the outline runs out to {a} and straight back", "take {a} out, or correct its numbers"),
    "not finite": ("{a} is too far away to be a corner of a slab", "write its distances in feet or metres"),
    "radius": ("the arc to {a} does not bend", "move the through point off the straight line, or write a plain corner"),
}


def _tell_faults(ring: Ring, corners: Sequence[Corner], what: str, place: Place, problems: Problems) -> None:
    for fault in ring_faults(ring):
        wrong, write = _FAULTS[fault.kind]
        names = [corner_name(corners[i]) for i in fault.corners]
        slots = dict(zip("abcd", [*names, *["?"] * (4 - len(names))], strict=True))
        at = corners[fault.corners[0]].place if fault.corners else place
        problems.add(at, f"{what}: {wrong.format(**slots)}", write.format(**slots))


def outline_ring(design: Design, problems: Problems) -> Ring:
    """The outline as a ring; faults go to ``problems``."""
    place = design.places.get("outline", Place(design.file))
    ring = _ring(design.outline)
    _tell_faults(ring, design.outline, "outline", place, problems)
    return ring


def opening_rings(design: Design, outline: Ring, problems: Problems) -> tuple[Ring, ...]:
    """One ring for each opening; faults, and openings that leave the slab or overlap, go to ``problems``."""
    rings: list[Ring] = []
    before = len(problems)
    for opening in design.openings:
        ring = _ring(opening.corners)
        _tell_faults(ring, opening.corners, f"opening {opening.name}", opening.place, problems)
        rings.append(ring)
    if len(problems) > before or not outline.polygon.is_valid:
        return tuple(rings)
    for number, (opening, ring) in enumerate(zip(design.openings, rings, strict=True)):
        if not outline.polygon.contains_properly(ring.polygon):
            problems.add(
                opening.place,
                f"opening {opening.name} reaches over the edge of the slab",
                "keep it inside the outline, or draw the notch with outline corners",
            )
        for other, earlier in zip(design.openings[:number], rings[:number], strict=True):
            if not ring.polygon.disjoint(earlier.polygon):
                problems.add(
                    opening.place,
                    f"openings {other.name} and {opening.name} overlap",
                    "draw them as one opening, or move one of them",
                )
    return tuple(rings)


@dataclass(frozen=True, slots=True)
class Laid:
    """The runs of the file laid along the outline: ``whose`` holds (edge index, first run point index) of each."""

    layout: Layout
    whose: tuple[tuple[int, int], ...]


def lay_edges(design: Design, ring: Ring, problems: Problems) -> Laid:
    """Lay every run of the file along the outline; runs off the outline or over another go to ``problems``."""
    whose: list[tuple[int, int]] = []
    runs: list[np.ndarray] = []
    for index, edge in enumerate(design.edges):
        for first in range(len(edge.run) - 1):
            whose.append((index, first))
            runs.append(np.array([[p.x, p.y] for p in edge.run[first : first + 2]]))
    layout = lay_runs(ring, runs)
    against = [fault.run for fault in layout.faults if fault.kind == "wrong way round?" and fault.distance > 0]
    if against:  # a side typed against the order of the outline, here an arc, is that side and not all the others
        for index in against:
            runs[index] = runs[index][::-1]
        layout = lay_runs(ring, runs)
    for fault in layout.faults:
        index, first = whose[fault.run]
        edge = design.edges[index]
        if fault.kind == "overlaps":
            other = design.edges[whose[fault.other][0]]
            if other is not edge:
                problems.add(
                    edge.place,
                    f"the run {run_name(edge)} lies over the run {run_name(other)}",
                    "let one run end where the next begins",
                )
        else:
            point = edge.run[first + max(fault.point, 0)]
            if fault.kind == "wrong way round?":
                continue
            off = show(length(fault.distance), design.system)
            problems.add(
                edge.place,
                f"{point_name(point)} of the run {run_name(edge)} is {off} off the outline",
                "use points that lie on the outline, in the order of the outline",
            )
    return Laid(layout, tuple(whose))


def run_name(edge: Edge) -> str:
    """A run as a person would say it: ``A-B-C``."""
    return "-".join(point_name(p) for p in edge.run)


def edge_pieces(plan: Plan) -> tuple[EdgePiece, ...]:
    """The whole outline in order, in stretches with one thing beside each."""
    return tuple(_pieces(plan))


def _pieces(plan: Plan) -> Iterator[EdgePiece]:
    design, ring, laid = plan.design, plan.ring, plan.laid
    rest = next((edge for edge in design.edges if not edge.run), None)
    marks = _corner_marks(design, ring)
    given = [(h.at.x, h.at.y) for h in design.heights.finish]
    spots = [at for at, (_, off) in zip(given, distances_along(ring, given), strict=True) if off < ON_EDGE]
    for piece in laid.layout.pieces:
        if piece.run is not None:
            index, first = laid.whose[piece.run]
            edge = design.edges[index]
            yield _piece(plan, edge, first, _with_spots(spots, _line(piece.xy)), _run_label(edge, first))
        else:
            for line, label in _split_at_corners(ring, marks, len(design.outline), piece.start, piece.end):
                yield _piece(plan, rest, 0, _with_spots(spots, line), label)


def _run_label(edge: Edge, first: int) -> str:
    return f"{point_name(edge.run[first])}-{point_name(edge.run[first + 1])}"


def _corner_marks(design: Design, ring: Ring) -> Marks:
    """Distances along the outline of its typed corners, then of the points of runs, each with the name there."""
    points = (*(c.at for c in design.outline), *(p for e in design.edges for p in e.run))
    at = distances_along(ring, [(p.x, p.y) for p in points])
    return [(along, point_name(point)) for (along, _), point in zip(at, points, strict=True)]


def _split_at_corners(ring: Ring, marks: Marks, corners: int, start: float, end: float) -> Iterator[tuple[Line, str]]:
    """The stretch between two distances, cut at every typed corner, each with the names of its two ends.

    The first ``corners`` of ``marks`` are those of the outline.
    """
    total = ring.length
    if end <= start:
        end += total
    inner = {distance + turn * total: name for distance, name in marks for turn in (0, 1)}
    turns = {distance + turn * total for distance, _ in marks[:corners] for turn in (0, 1)}
    cuts = [start, *sorted(d for d in turns if start + 1e-6 < d < end - 1e-6), end]

    def name_at(distance: float) -> str:
        nearest = min(inner, key=lambda d: abs(d - distance))
        return inner[nearest]

    for low, high in itertools.pairwise(cuts):
        if high - low > 1e-6:
            whole = math.isclose(high - low, total, rel_tol=1e-5)
            line = _line(stretch(ring, low % total, high if whole else high % total))
            yield line, f"{name_at(low)}-{name_at(high)}"


def _line(xy: np.ndarray) -> Line:
    return [(x, y) for x, y in xy.tolist()]


def _stations(line: Sequence[XY]) -> list[float]:
    """Distance of every point of a line from its first."""
    return list(itertools.accumulate((math.dist(a, b) for a, b in itertools.pairwise(line)), initial=0.0))


def _ground(edge: Edge | None, first: int, line: Sequence[XY]) -> tuple[float, ...] | None:
    """Height beside a piece at each of its points; ``line`` may run against the order the run was typed in."""
    if edge is None or not edge.ground:
        return None
    if len(edge.ground) == 1:
        return (edge.ground[0].si,) * len(line)
    start, end = edge.ground[first].si, edge.ground[first + 1].si
    begins = (edge.run[first].x, edge.run[first].y)
    if math.dist(line[0], begins) > math.dist(line[-1], begins):
        start, end = end, start
    along = _stations(line)
    return tuple(start + (end - start) * distance / along[-1] for distance in along)


def _with_spots(spots: Sequence[XY], line: Line) -> Line:
    """The stretch with a point added wherever a finish height is given on it, so that heights run straight between."""
    stations = _stations(line)
    added = list(zip(stations, line, strict=True))
    for x, y in spots:
        off, part, share = nearest_on(line, (x, y))
        along = stations[part] + share * (stations[part + 1] - stations[part])
        if off < ON_EDGE and min(abs(along - station) for station in stations) > ON_EDGE:
            added.append((along, spot_on(line[part], line[part + 1], (x, y))[0]))
    return [at for _, at in sorted(added)] if len(added) > len(line) else line


def _piece(plan: Plan, edge: Edge | None, first: int, line: Line, label: str) -> EdgePiece:
    ground = _ground(edge, first, line)
    beside = edge.beside if edge else ""
    name = edge.name if edge and edge.name else f"edge {label}" + (f" ({beside})" if beside else "")
    dams = beside in DAMS and not (beside == "curb" and ground is not None)
    takes = edge.takes_water if edge else None
    if edge and takes is None and dams == (beside in DAMS):  # a curb of known height may be overrun: not said
        takes = TAKES_WATER[beside]
    return EdgePiece(
        name=name,
        edge=edge,
        beside=beside,
        line=tuple(line),
        length=_stations(line)[-1],
        isolation=edge.isolation if edge else None,
        fixed_face=beside in FIXED_FACES,
        dams=dams,
        takes_water=takes,
        ground=ground,
        finish=plan.rim_heights(line),
        thickness=plan.thickness + _thickened(plan, line),
        place=edge.place if edge else plan.place("edges", "outline"),
    )


def _thickened(plan: Plan, line: Line) -> float:
    """The most that thickened edges add along a line, m."""
    return deepest_along(shapely.LineString(line), plan.edge_runs)[0] if plan.edge_runs else 0.0


def edges_at(plan: Plan, at: XY) -> tuple[EdgePiece, ...]:
    """The stretches of the outline that a point lies on: two where they meet, none inside the slab."""
    return tuple(piece for piece in plan.edges if nearest_on(piece.line, at)[0] < ON_EDGE)


def thickened_runs(plan: Plan) -> tuple[Thickening, ...]:
    """Thickened edges with the part of the slab that each thickens, metres."""
    runs = []
    for thick in plan.design.thickness.thickened_edges:
        distances = [distance_along(plan.ring, (p.x, p.y))[0] for p in thick.run]
        xy = np.vstack([_shorter(plan.ring, a, b) for a, b in itertools.pairwise(distances)])
        width = thick.width.si if thick.width else 0.0
        runs.append(thickening(plan.slab, xy, thick.depth.si - plan.thickness, width, thick.taper.si))
    return tuple(runs)


def _shorter(ring: Ring, start: float, end: float) -> np.ndarray:
    """The stretch from ``start`` to ``end`` in typed order, or the other way round when that is shorter."""
    forward = (end - start) % ring.length
    if forward <= ring.length / 2:
        return stretch(ring, start, end)
    return stretch(ring, end, start)[::-1]


def questions(plan: Plan) -> Iterator[Problem]:
    """Stretches of the outline about which nothing is said, while other edges are described."""
    bare = [p for p in plan.edges if p.edge is None]
    if bare and plan.design.edges:
        names = ", ".join(p.name.removeprefix("edge ") for p in bare[:4])
        yield Problem(
            plan.place("edges", "outline"),
            f"nothing is said about what stands beside {names}" + (" and more" if len(bare) > 4 else ""),
            "add a run for it, or one line `- {rest: open ground}`",
        )
