"""What stands beside each stretch of the outline."""

import itertools
import math
import re
from bisect import bisect_left
from collections.abc import Iterator, Sequence
from functools import cached_property
from typing import ClassVar, NamedTuple

import numpy as np

from slabwright.design.model import Design
from slabwright.design.outline import Edge, Isolation
from slabwright.design.point import Point
from slabwright.geometry.shape.distances import nearest_on, spot_on
from slabwright.geometry.shape.edges import Layout, lay_runs
from slabwright.geometry.shape.outline import Ring, distances_along, stretch
from slabwright.geometry.xy import XY
from slabwright.plan.finish import Finish
from slabwright.plan.shape import ON_EDGE, Shape, point_name
from slabwright.plan.view import PlanView
from slabwright.source.place import Place
from slabwright.source.problem import Problems
from slabwright.units.quantity import length, show

Line = list[XY]
Marks = Sequence[tuple[float, str]]  # distances along the outline, and the names of the points there


GOES_DOWN = 0.05  # m, 2 in: a step whose foot lies so much lower all along leads down from the slab
CLOSE = 0.003  # m, 1/8 in: heights no further apart are alike, as forms are set (common practice)
_ROOFED = r"(?i)garage|house|kitchen|shop|barn|shed|hall|floor"  # an old slab under a roof
_OPEN = r"(?i)apron|drive|walk|patio|yard|path|terrace|ramp|deck|pad\b|court|lane"

BESIDE = 0.1  # m, 4 in: a line drawn so near runs along the edge (common practice)
SLABS = ("existing slab", "asphalt", "step")  # their height may stand under ``fixed``
DAMS = frozenset({"building", "wall", "step", "curb"})
ROADSIDE = frozenset({"curb", "street"})
FIXED_FACES = frozenset({"building", "wall", "step", "curb", "existing slab", "pool"})
TAKES_WATER: dict[str, bool | None] = {
    "building": False,
    "wall": False,
    "step": False,
    "curb": False,
    "existing slab": None,
    "property line": False,
    "asphalt": True,
    "street": True,
    "lawn": True,
    "bed": True,
    "gravel": True,
    "open ground": True,
    "trench drain": True,
    "pool": False,
}


LEVEL = 1e-6  # slope under which nothing falls


class EdgePiece(NamedTuple):
    """A stretch of the outline with one thing beside it."""

    name: str  # "workshop wall" or "edge B-C (lawn)"
    edge: Edge | None  # None: nothing said about this stretch
    beside: str  # as in the file, "" when nothing is said
    line: tuple[XY, ...]
    length: float
    isolation: Isolation | None
    fixed_face: bool  # something that cannot move stands against it
    dams: bool  # water cannot pass it at all
    takes_water: bool | None  # may water be sent here; None: not said
    ground: tuple[float, ...] | None  # height beside at each point of ``line``, m
    finish: tuple[float, ...] | None  # finish height at each point of ``line``, m
    place: Place

    @property
    def wheels_cross(self) -> bool | None:
        """Whether vehicles drive over it: as the file says, else at asphalt and streets they do; None: not said."""
        said = self.edge.wheels_cross if self.edge else None
        return True if said is None and self.beside in ("asphalt", "street") else said

    @property
    def floor(self) -> bool:
        """Whether an old slab beside it is a floor under a roof."""
        return self.beside == "existing slab" and self.edge is not None and is_roofed(self.edge.name)

    @property
    def ground_follows(self) -> bool:
        """Whether the ground beside is dressed to the slab, however high that comes to lie."""
        return self.edge is not None and self.edge.ground_below is not None

    @property
    def lets_water_out(self) -> bool:
        """Whether the file sends water over it, and nothing dams it."""
        return bool(self.takes_water) and not self.dams

    @property
    def crosses_one_height(self) -> bool:
        """Whether the file gives one height beside a run along which the slab passes from under it to over it.

        Few things that stand still are level while the slab along them is not: it is the height of their middle.
        """
        one = self.edge is not None and len(self.edge.ground) == 1 and self.ground is not None
        if not one or not self.finish or not self.ground:
            return False
        return min(self.finish) < self.ground[0] - CLOSE and max(self.finish) > self.ground[0] + CLOSE


def filler_depth(isolation: Isolation | None, thickness: float) -> float | None:
    """How deep filler stands between the slab, ``thickness`` m thick there, and what is beside it, m.

    0 where none is drawn, or where a cut is drawn in its place: a cut leaves the slab bearing on the face.
    None where the file names the filler and not its depth.
    """
    if isolation is None or is_cut(isolation):
        return 0.0
    if isolation.full_depth:
        return thickness
    return isolation.depth.si if isolation.depth else None


def _no_higher(ground: Sequence[float] | None, finish: Sequence[float] | None) -> bool:
    """Whether what stands beside a stretch comes up no higher than the slab, as a retaining wall under it."""
    if not ground or not finish:
        return False
    return all(beside < top + CLOSE for beside, top in zip(ground, finish, strict=True))


def is_roofed(name: str) -> bool:
    """Whether a slab of that name lies under a roof: a garage floor does, a garage apron does not."""
    return bool(re.search(_ROOFED, name)) and not re.search(_OPEN, name)


def is_cut(isolation: Isolation) -> bool:
    """Whether a cut is drawn in place of filler."""
    return isolation.material.casefold().endswith((" cut", "sawcut", "groove"))


class Edges(PlanView):
    """The outline in stretches with one thing beside each.

    The height beside a stretch is that of ``ground``, or of a slab under ``fixed`` that runs along it.

    Making one raises :class:`UnreadableError` when an edge run does not lie on the outline, or lies over another.
    """

    SECTIONS: ClassVar[frozenset[str]] = frozenset({"edges", "heights", "fixed"})
    _design: Design
    _shape: Shape
    _finish: Finish

    def __post_init__(self) -> None:
        self._layout, self._whose = _laid(self._design, self._shape.ring)

    @property
    def buildings(self) -> tuple[EdgePiece, ...]:
        """The stretches beside a building."""
        return tuple(piece for piece in self.pieces if piece.beside == "building")

    def at_building(self, at: XY) -> bool:
        """Whether a point lies on an edge beside a building."""
        return any(piece.beside == "building" for piece in self.at(at))

    def let_water_out(self, at: XY) -> bool:
        """Whether water may leave over an edge at a point."""
        return any(piece.lets_water_out for piece in self.at(at))

    @cached_property
    def pieces(self) -> tuple[EdgePiece, ...]:
        """The whole outline in order, in stretches with one thing beside each."""
        return tuple(self._pieces())

    def at(self, at: XY) -> tuple[EdgePiece, ...]:
        """The stretches of the outline that a point lies on, to half a centimeter: two at a corner, none inside."""
        return tuple(piece for piece in self.pieces if nearest_on(piece.line, at)[0] < ON_EDGE)

    def flares(self, ring: Sequence[XY]) -> bool:
        """Whether a ring is the wing of an approach: a triangle with one side along a curb or a street."""
        corners = _corners(ring)
        if len(corners) != 3:
            return False
        sides = itertools.pairwise((*corners, corners[0]))
        return any(piece.beside in ROADSIDE and piece in self.at(b) for a, b in sides for piece in self.at(a))

    def _pieces(self) -> Iterator[EdgePiece]:
        design, ring = self._design, self._shape.ring
        rest = next((edge for edge in design.edges if not edge.run), None)
        marks = _corner_marks(design.edges, self._shape)
        given = [(h.at.x, h.at.y) for h in design.heights.finish]
        off_ring = distances_along(ring, given)
        spots = [at for at, (_, off) in zip(given, off_ring, strict=True) if off < ON_EDGE]
        for piece in self._layout.pieces:
            if piece.run is not None:
                index, first = self._whose[piece.run]
                edge = design.edges[index]
                size = piece.end - piece.start
                yield self._piece(edge, first, _with_spots(spots, _line(piece.xy)), size, _run_label(edge, first))
            else:
                for line, size, label in _split_at_corners(
                    ring, marks, len(self._shape.corners), piece.start, piece.end
                ):
                    yield self._piece(rest, 0, _with_spots(spots, line), size, label)

    def _piece(self, edge: Edge | None, first: int, line: Line, size: float, label: str) -> EdgePiece:
        beside = edge.beside if edge else ""
        name = edge.name if edge and edge.name else f"edge {label}" + (f" ({beside})" if beside else "")
        finish = self._finish.along_rim(line)
        ground = _ground(edge, first, line, finish)
        if ground is None and beside in SLABS:
            ground = self._fixed_beside(line, finish)
        down = (
            beside == "step"
            and ground
            and finish
            and all(g < f - GOES_DOWN for g, f in zip(ground, finish, strict=True))
        )
        takes = edge.takes_water if edge else None
        flush = beside == "curb" and (ground is not None or takes)  # water runs over it
        over = beside == "wall" and bool(takes) and _no_higher(ground, finish)
        dams = beside in DAMS and not (down or flush or over)
        if takes is None and down:  # what comes to the head of a flight runs down it
            takes = True
        elif edge and takes is None and dams == (beside in DAMS):  # a curb of known height may be overrun: not said
            sends = edge.falls_to_slab is not None and edge.falls_to_slab.si > LEVEL
            dry = beside == "existing slab" and (sends or is_roofed(edge.name))
            takes = False if dry else TAKES_WATER[beside]
        return EdgePiece(
            name=name,
            edge=edge,
            beside=beside,
            line=tuple(line),
            length=size,
            isolation=edge.isolation if edge else None,
            fixed_face=beside in FIXED_FACES,
            dams=dams,
            takes_water=takes,
            ground=ground,
            finish=finish,
            place=edge.place if edge else self._design.place("edges", "outline"),
        )

    def _fixed_beside(self, line: Line, finish: Sequence[float] | None) -> tuple[float, ...] | None:
        """Heights beside a stretch where a slab under ``fixed`` runs along all of it, or ends at both its ends, m.

        What the file says that it asks of the slab is judged as that. One height for a stretch along which the slab
        passes from under it to over it is that of its middle, and tells nothing of its ends.
        """
        free = [one for one in self._design.fixed if one.kind == "slab" and one.slab is None]
        lines = [[((p.x, p.y), one.height[k % len(one.height)].si) for k, p in enumerate(one.along)] for one in free]
        spots = [one[0] for one in lines if len(one) == 1]
        lines.append([(end, z) for end in (line[0], line[-1]) for at, z in spots if math.dist(end, at) < BESIDE])
        for known in lines:
            met = [nearest_on([at for at, _ in known], at) for at in line]
            if len(known) < 2 or max(off for off, _, _ in met) > BESIDE:
                continue
            levels = [level for _, level in known]
            beside = tuple(levels[k] + share * (levels[k + 1] - levels[k]) for _, k, share in met)
            level = max(levels) - min(levels) < CLOSE
            if not (level and finish and min(finish) < levels[0] - CLOSE and max(finish) > levels[0] + CLOSE):
                return beside
        return None


def _corners(ring: Sequence[XY]) -> list[XY]:
    """The points of a ring, open or closed, at which it turns."""
    around = list(ring[:-1] if ring[0] == ring[-1] else ring)
    triples = zip([around[-1], *around[:-1]], around, [*around[1:], around[0]], strict=True)
    return [b for a, b, c in triples if nearest_on((a, c), b)[0] > ON_EDGE]


def _laid(design: Design, ring: Ring) -> tuple[Layout, tuple[tuple[int, int], ...]]:
    """Every run of the file laid along the outline, and (edge index, first run point index) of each."""
    problems = Problems()
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
            wrong = f"{point_name(point)} of the run {run_name(edge)} is {off} off the outline"
            write = "use points that lie on the outline, in the order of the outline"
            if opening := _opening_at(design, point):
                wrong = f"the run {run_name(edge)} lies along the opening {opening}, and edges are those of the outline"
                write = f"holds and isolation in the entry of openings for {opening}"
            if not opening or (edge.place, wrong) not in [(one.place, one.wrong) for one in problems]:
                problems.add(edge.place, wrong, write)
    problems.raise_if_any()
    return layout, tuple(whose)


def _opening_at(design: Design, point: Point) -> str:
    """Name of the opening at whose corner a point lies; empty for none."""
    corners = ((opening.name, corner.at) for opening in design.openings for corner in opening.corners)
    return next((name for name, at in corners if math.dist((at.x, at.y), (point.x, point.y)) < ON_EDGE), "")


def run_name(edge: Edge) -> str:
    """A run as a person would say it: ``A-B-C``."""
    return "-".join(point_name(p) for p in edge.run)


def _run_label(edge: Edge, first: int) -> str:
    return f"{point_name(edge.run[first])}-{point_name(edge.run[first + 1])}"


def _corner_marks(edges: Sequence[Edge], shape: Shape) -> Marks:
    """Distances along the outline of its typed corners, then of the points of runs, each with the name there."""
    points = (*(c.at for c in shape.corners), *(p for e in edges for p in e.run))
    at = distances_along(shape.ring, [(p.x, p.y) for p in points])
    return [(along, point_name(point)) for (along, _), point in zip(at, points, strict=True)]


def _split_at_corners(
    ring: Ring, marks: Marks, corners: int, start: float, end: float
) -> Iterator[tuple[Line, float, str]]:
    """The stretch between two distances, cut at every typed corner, each with its length and the names of its ends.

    The first ``corners`` of ``marks`` are those of the outline.
    """
    total = ring.length
    if end <= start:
        end += total
    inner = {distance + turn * total: name for distance, name in marks for turn in (0, 1)}
    turns = {distance + turn * total for distance, _ in marks[:corners] for turn in (0, 1)}
    cuts = [start, *sorted(d for d in turns if start + 1e-6 < d < end - 1e-6), end]
    order = {distance: number for number, distance in enumerate(inner)}
    known = sorted(inner)

    def name_at(distance: float) -> str:
        after = bisect_left(known, distance)
        nearest = min(known[max(after - 1, 0) : after + 1], key=lambda d: (abs(d - distance), order[d]))
        return inner[nearest]

    for low, high in itertools.pairwise(cuts):
        if high - low > 1e-6:
            whole = math.isclose(high - low, total, rel_tol=1e-5)
            line = _line(stretch(ring, low % total, high if whole else high % total))
            yield line, high - low, f"{name_at(low)}-{name_at(high)}"


def _line(xy: np.ndarray) -> Line:
    return [(x, y) for x, y in xy.tolist()]


def _stations(line: Sequence[XY]) -> list[float]:
    """Distance of every point of a line from its first."""
    return list(itertools.accumulate((math.dist(a, b) for a, b in itertools.pairwise(line)), initial=0.0))


def _ground(
    edge: Edge | None, first: int, line: Sequence[XY], finish: Sequence[float] | None
) -> tuple[float, ...] | None:
    """Height beside a piece at each of its points; ``line`` may run against the order the run was typed in."""
    if edge and edge.ground_below and finish:
        return tuple(top - edge.ground_below.si for top in finish)
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
    left, right = min(x for x, _ in line) - ON_EDGE, max(x for x, _ in line) + ON_EDGE
    bottom, top = min(y for _, y in line) - ON_EDGE, max(y for _, y in line) + ON_EDGE
    for x, y in spots:
        if not (left <= x <= right and bottom <= y <= top):
            continue
        off, part, share = nearest_on(line, (x, y))
        along = stations[part] + share * (stations[part + 1] - stations[part])
        if off < ON_EDGE and min(abs(along - station) for station in stations) > ON_EDGE:
            added.append((along, spot_on(line[part], line[part + 1], (x, y))[0]))
    return [at for _, at in sorted(added)] if len(added) > len(line) else line
