"""The things a worked plan is made of; rules read them and never make them.

All numbers are SI (meters, m2, m3, heights in meters, slopes as rise over run). Heights are
elevations, larger is higher.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import accumulate, pairwise
from typing import Literal, NamedTuple

import shapely

from slabwright.design.model import (
    Bars,
    Channel,
    Edge,
    Fixed,
    Fixture,
    HeightLine,
    Isolation,
    Joint,
    Mesh,
    Part,
    Reinforcement,
    Steps,
    Use,
)
from slabwright.design.uses import Called
from slabwright.source.place import Place
from slabwright.units.quantity import Amount, meets

XY = tuple[float, float]


INDOORS = ("garage floor", "shop floor")
VEHICLES = ("driveway", "vehicle pad", "garage floor")
WALKED = ("walk", "patio")


class Area(NamedTuple):
    """What of the slab has one use and one design thickness: a part of the file, or what no part covers."""

    name: str  # "the slab", "the rest of the slab", "the ramp"
    use: Use  # whose limits it takes
    called: Called  # the use as written
    thickness: Amount  # design thickness, as typed
    thickness_path: str  # the key it is written under, or would be
    polygon: shapely.Geometry  # a polygon, or several apart
    part: Part | None  # None: what no part covers
    place: Place

    @property
    def carries_vehicles(self) -> bool:
        """Whether its use is one of vehicles."""
        return self.use in VEHICLES

    def from_line(self, line: Sequence[XY]) -> float:
        """How far it lies from a line, m."""
        return float(shapely.LineString(line).distance(self.polygon))


class Bed(NamedTuple):
    """One reinforcement of the file and the areas it lies in."""

    steel: Reinforcement
    areas: tuple[Area, ...]


class Laid(NamedTuple):
    """One mat, bars or mesh, in the areas of one thickness that it lies in."""

    kind: Literal["bars", "mesh"]
    name: str  # "the bars", "the mesh of the apron"
    mat: Bars | Mesh
    diameter: float  # of its bars or wires, m
    thickness: float  # design thickness of the slab there, m
    areas: tuple[Area, ...]

    @property
    def thickness_path(self) -> str:
        """The key under which that thickness is written."""
        return self.areas[0].thickness_path


class WheelSpot(NamedTuple):
    """A place of the slab that wheels may stand on, where it is the thinnest of its kind."""

    kind: Literal["interior", "edge", "corner"]
    name: str  # "inside panel P2", "at the edge along the street"
    thickness: float  # drawn there, m
    crossed: bool  # wheels are known to drive there, and not only to stray
    locked: bool  # something hands part of the load over to the concrete beside it
    free: bool  # it lies at the outline, and the file may say that wheels keep away from there
    pieces: tuple[EdgePiece, ...]  # the edge, or the two edges of a corner
    area: str  # the name of the area it lies in
    thickness_path: str  # the key under which the thickness of that area is written


class CornerAngle(NamedTuple):
    """A corner of a panel and the angle inside it, degrees."""

    at: XY
    degrees: float


class Panel(NamedTuple):
    """A piece of slab between joints, edges and openings; sides are those of its smallest rectangle."""

    name: str  # P1, P2, ... in reading order
    polygon: shapely.Polygon
    long_side: float
    short_side: float
    aspect: float
    area: float
    thickness: float  # m: design thickness, or the mean of finish minus base where shot; thickened edges not counted
    volume: float  # m3, thickened edges included
    corners: tuple[CornerAngle, ...]
    neighbors: tuple[str, ...]
    place: Place  # the outline, or the first joint that bounds it
    ring: tuple[XY, ...]  # its outer line, first and last point equal
    areas: tuple[Area, ...] = ()  # of which it holds more than a sliver

    @property
    def uses(self) -> frozenset[Use]:
        """The uses of what it holds."""
        return frozenset(area.use for area in self.areas)

    @property
    def drawn(self) -> float:
        """The least design thickness of what it holds, m."""
        return min(area.thickness.si for area in self.areas)


class JointEnd(NamedTuple):
    """Where a joint stops."""

    at: XY
    meets: Literal["edge", "opening", "crossing", "joint end", "joint side", "nothing"]
    other: str = ""  # the joint it meets
    gap: float = 0.0  # how far the typed end was moved to meet it, m


class PlannedJoint(NamedTuple):
    """A joint as it lies on the plan: ends brought to what they nearly touch, cut to the slab."""

    joint: Joint
    line: tuple[XY, ...]
    length: float
    ends: tuple[JointEnd, JointEnd]

    @property
    def name(self) -> str:
        """The joint's name in the file."""
        return self.joint.name

    @property
    def counts(self) -> bool:
        """Whether it cracks the slab where drawn: pattern lines do not."""
        return self.joint.kind != "pattern"


class Stretch(NamedTuple):
    """A part of the slab between expansion joints; sides are those of its smallest rectangle."""

    polygon: shapely.Polygon
    long_side: float
    short_side: float

    @property
    def run(self) -> float:
        """Its length along its middle, round turns, m: that of the strip with the same area and the same rim."""
        half, area = self.polygon.exterior.length / 2, shapely.Polygon(self.polygon.exterior).area
        return float(half + max(half**2 - 4 * area, 0.0) ** 0.5) / 2


class Placement(NamedTuple):
    """A part of the slab between joints at which placing can stop, placed in one go, and the concrete it takes."""

    polygon: shapely.Polygon
    volume: float  # m3, thickened edges included


class BaseStep(NamedTuple):
    """Two base shots near each other: the base is ``high`` at the one, and the slab thinner by ``change`` m there."""

    high: XY
    low: XY
    high_base: float  # height of the base at ``high``, m
    change: float
    run: float  # distance between them, m


class ThicknessChange(NamedTuple):
    """Where two areas of different thickness meet: the line, and how much of it no joint runs along."""

    thin: Area
    thick: Area
    line: tuple[XY, ...]
    step: float  # m
    taper: float  # m, over which the thin side comes down to the thick one
    away: float  # m of the line that lie away from every joint

    @property
    def part(self) -> Part:
        """The part of the file that ends there, or the one under which a taper is written."""
        parts = [area.part for area in (self.thick, self.thin) if area.part]
        return max(parts, key=lambda part: part.taper.si if part.taper else -1.0)


class BaseHole(NamedTuple):
    """The base shot over which the slab is deepest, thickened edges left aside."""

    at: XY
    base: float  # height of the base there, m
    deeper: float  # than at the next deepest shot, m


class InsideCorner(NamedTuple):
    """A corner where the slab turns around something: outline corners over 180 degrees inside, and opening corners."""

    name: str  # "corner E" or "corner 2 of planter"
    at: XY
    degrees: float  # inside the concrete
    joint_distance: float  # of a joint that counts, to it or to a side of some inches there; inf without joints
    corner_bars: bool
    place: Place
    ways: tuple[XY, XY]  # into the slab, straight on from either side that meets there and as long (chords of arcs)


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


class Facet(NamedTuple):
    """One triangle of the finish surface."""

    corners: tuple[XY, XY, XY]
    heights: tuple[float, float, float]
    slope: float
    downhill: XY  # unit vector, (0, 0) when level
    area: float


class Pond(NamedTuple):
    """Standing water."""

    name: str  # "low spot 1"
    level: float
    depth: float
    area: float
    volume: float
    outline: tuple[tuple[XY, ...], ...]  # closed rings
    deepest: XY
    against: tuple[str, ...]  # names of the edge pieces it stands against


class WaterShare(NamedTuple):
    """Part of the slab's area whose water leaves over one edge, into one drain, or stays."""

    to: str  # name of the edge piece, drain, opening or pond; "level surface" where it has no fall
    kind: Literal["edge", "drain", "opening", "pond", "level"]
    beside: str  # for edges
    share: float
    allowed: bool | None  # None: the file does not say
    place: Place
    shape: tuple[XY, ...]


class DamLine(NamedTuple):
    """A stretch of an edge that water cannot pass, where the slab falls to it."""

    edge: EdgePiece
    ends: tuple[XY, XY]  # the higher first
    run: float  # m
    slope: float  # along it


class Trail(NamedTuple):
    """The way water takes from one spot."""

    xy: tuple[XY, ...]
    to: str


class Depths(NamedTuple):
    """Finish minus base, where both are known."""

    least: float
    least_at: XY
    most: float
    most_at: XY
    mean: float
    covered: float  # share of the slab's area that has both surfaces
    shots: int
    mean_drawn: float  # mean thickness drawn there, thickened edges left aside, m


class Ground(NamedTuple):
    """Existing ground less the bottom of the base, where both are known: where it is raised and where it is dug."""

    fill: float  # greatest depth of fill, m
    fill_at: XY
    cut: float  # greatest depth dug, m
    cut_at: XY
    covered: float  # share of the slab's area where both are known
    panel_fills: tuple[float, ...]  # greatest in each panel, m; nan where nothing is known
    panel_cuts: tuple[float, ...]


class LineRun(NamedTuple):
    """A height line on the plan with the finish height at each of its points."""

    line: HeightLine
    xy: tuple[XY, ...]
    heights: tuple[float, ...]

    @property
    def low_end(self) -> XY:
        """The lower of its two ends."""
        return self.xy[0] if self.heights[0] < self.heights[-1] else self.xy[-1]


class Face(NamedTuple):
    """Something that cannot move beside the slab, or filler that is drawn."""

    at: Spot
    filler: Isolation | None
    thickness: float  # of the slab along it, the greatest, m
    length: float  # m


class LaidFlight(NamedTuple):
    """Where a flight lies on the plan."""

    nosings: tuple[tuple[XY, XY], ...]  # of every riser that is poured, from the foot up
    treads: tuple[tuple[XY, ...], ...]  # and the tread or landing behind each, as a ring of four corners
    way: tuple[XY, ...]  # the walking line, from the middle of the foot up to the back of the last tread
    top: tuple[XY, XY]  # the back of the last tread: the line of the next riser, where one is left


class Tread(NamedTuple):
    """A tread or landing of a flight as it stands on the plan."""

    ring: tuple[XY, ...]
    top: float  # height of its nosing, m
    landing: bool


class Flight(NamedTuple):
    """A flight of steps poured with the slab."""

    steps: Steps
    risers: tuple[float, ...]  # all that are climbed, from the foot up, the one onto what stands there counted, m
    poured: tuple[float, ...]  # those with a tread behind them that is poured, m
    at: XY | None  # the middle of what it leads up to
    door: bool  # it leads up to a door
    to: Place  # of what it leads up to, else its own
    ends: bool  # whether the heights at both its ends are known
    foot: float | None = None  # height at its foot, m
    laid: LaidFlight | None = None  # None where the file does not say where it lies

    @property
    def name(self) -> str:
        """Its name in the file."""
        return self.steps.name

    @property
    def treads(self) -> tuple[Tread, ...]:
        """Its treads and landings from the foot up; empty where it is not known where, or how high, they stand."""
        if self.laid is None or self.foot is None:
            return ()
        tops = accumulate(self.poured, initial=self.foot)
        landings = {landing.after for landing in self.steps.landings}
        return tuple(
            Tread(ring, top, number in landings)
            for number, (ring, top) in enumerate(zip(self.laid.treads, list(tops)[1:], strict=True), start=1)
        )

    @property
    def goings(self) -> tuple[float, ...]:
        """How deep the tread or landing behind each poured riser is, m."""
        deep = {landing.after: landing.depth.si for landing in self.steps.landings}
        return tuple(deep.get(number, self.steps.tread.si) for number in range(1, len(self.poured) + 1))

    @property
    def parts(self) -> tuple[tuple[float, ...], ...]:
        """Its risers from landing to landing: each a flight of its own to those who walk it."""
        ends = sorted({landing.after for landing in self.steps.landings if landing.after < len(self.risers)})
        return tuple(self.risers[a:b] for a, b in pairwise((0, *ends, len(self.risers))))

    @property
    def volume(self) -> float:
        """Concrete of the flight, solid below each tread, m3; 0 where it is not of this pour."""
        if not self.steps.same_pour:
            return 0.0
        if not self.steps.landings:
            under = sum(sum(self.poured[: k + 1]) for k in range(len(self.poured)))
            return self.steps.width.si * self.steps.tread.si * under
        return self.steps.width.si * sum(going * sum(self.poured[: k + 1]) for k, going in enumerate(self.goings))


class OpenSide(NamedTuple):
    """The open side of a tread or landing, where the ground beside it lies deepest below it."""

    flight: Flight
    side: Literal["left", "right", "far"]  # seen on the way up
    tread: Tread
    number: int  # of the riser that the tread lies behind, counted from the foot
    line: tuple[XY, XY]
    at: XY
    ground: float  # the lowest within 36 in of it, m

    @property
    def drop(self) -> float:
        """How deep one falls there, m."""
        return self.tread.top - self.ground


class FixedMatch(NamedTuple):
    """One spot where a fixed height meets the slab: the heights there."""

    fixed: Fixed
    at: XY
    height: float  # of the fixed thing
    slab: float  # finish height of the slab there (nearest point of the slab)

    @property
    def asks(self) -> tuple[tuple[Literal["least", "most"], float, int], ...]:
        """Each distance the file asks for: least or most, m, and 1 where the slab lies below the thing, -1 above."""
        low, high = (self.fixed.slab.low, self.fixed.slab.high) if self.fixed.slab else (None, None)
        found: list[tuple[Literal["least", "most"], float, int]] = []
        if high is not None:
            found.append(("least", -high, 1) if high <= 0 else ("most", high, -1))
        if low is not None:
            found.append(("most", -low, 1) if low <= 0 else ("least", low, -1))
        return tuple(found)

    @property
    def kept(self) -> bool:
        """Whether the slab keeps each distance that the file asks for here; true where it asks for none."""
        return all(
            meets(side * (self.height - self.slab), distance, direction) for direction, distance, side in self.asks
        )


HeightAsked = Literal["steepest", "door step", "base", "lip", "away", "low line", "outlet"]


class Held(NamedTuple):
    """Something that cannot move and binds the heights of the slab."""

    name: str
    place: Place
    moves: bool  # whether it may be asked to: what serves a required exit or an accessible way is not
    hung: bool  # it belongs to a building


class Tight(NamedTuple):
    """How much of one thing can be asked of the heights, and what allows no more; no less, of what is asked at most."""

    amount: float  # a slope, or a depth in m; below zero where it cannot but be the other way round
    run: float  # over which it is asked, m; 1 for each place where it is a depth
    held: tuple[Held, ...]
    label: str  # of what is asked: the wall, the valley, the door
    others: tuple[tuple[HeightAsked, str], ...]  # what else is asked that allows no more
    at: tuple[XY, ...]  # between these places, from the one that lies higher by it


class HeldRoom(NamedTuple):
    """How far a held thing, alone, could be raised and brought down, m; inf where nothing ends it."""

    held: Held
    up: float
    down: float

    @property
    def change(self) -> float:
        """How far it has to move so that all can hold, m: above zero raised; 0 where it may stay."""
        return self.up if self.up < 0 else -self.down if self.down < 0 else 0.0


class PlannedFixture(NamedTuple):
    """A fixture on the plan; ``inside`` when concrete surrounds it."""

    fixture: Fixture
    name: str  # "post 1" when the file gives none
    at: XY
    inside: bool
    slab: float | None  # finish height there


class PlannedChannel(NamedTuple):
    """A channel on the plan."""

    channel: Channel
    line: tuple[XY, ...]
    rims: tuple[float | None, ...]  # at each point: as typed, else the finish there; None where neither is known
    inverts: tuple[float, ...]  # of the bottom at each point; empty where none is typed
    outlets: tuple[int, ...]  # numbers of the points at which it lets out; empty where nothing tells
    length: float  # on the slab, m
    inside: bool  # concrete is on both its sides

    @property
    def name(self) -> str:
        """Its name in the file."""
        return self.channel.name

    @property
    def middle(self) -> XY:
        """The middle of its line."""
        at = shapely.LineString(self.line).interpolate(0.5, normalized=True)
        return float(at.x), float(at.y)

    def volume(self, thickness: float) -> float:
        """Concrete that it adds to a slab ``thickness`` m thick, m3; below zero where it takes more than its bed adds.

        A trench as wide as channel and bed goes down below the slab to the bottom of the bed, and the channel itself
        is empty. 0 where its depth is not known.
        """
        if not self.inverts or None in self.rims:
            return 0.0
        width, bed = self.channel.width.si, self.channel.bed.si if self.channel.bed else 0.0
        deep = [rim - bottom for rim, bottom in zip(self.rims, self.inverts, strict=True) if rim is not None]
        runs = [math.dist(a, b) for a, b in pairwise(self.line)]
        means = [(a + b) / 2 for a, b in pairwise(deep)]
        section = [(width + 2 * bed) * max(mean + bed - thickness, 0.0) - width * mean for mean in means]
        on_slab = min(1.0, self.length / sum(runs))
        return on_slab * sum(one * run for one, run in zip(section, runs, strict=True))


class WallFall(NamedTuple):
    """How one facet within reach of a building falls: ``away`` is positive away from the wall."""

    edge: EdgePiece
    at: XY
    away: float  # slope component away from the wall
    distance: float  # of its near end from the wall, m
    far: float = 0.0  # distance of its far end, m
    passes: float = 0.0  # slope along a short return of the building to its outside corner; 0 elsewhere

    @property
    def run(self) -> float:
        """How long it is, m."""
        return self.far - self.distance


class WallLine(NamedTuple):
    """A line on the slab square to a building: its falls one after the other, and where it first meets a low line."""

    edge: EdgePiece
    foot: XY  # on the wall
    falls: tuple[WallFall, ...]
    low: XY | None  # where it falls no more; None where it falls all the way, or never
    before: int  # how many of its falls lie before that


class LowLine(NamedTuple):
    """A low line before a wall, from where it is met down to where its water leaves it."""

    xy: tuple[XY, ...]
    run: float  # m
    top: float  # finish heights at its ends, m
    low: float
    to_drain: bool  # it ends in a drain

    @property
    def slope(self) -> float:
        """How it falls along itself."""
        return (self.top - self.low) / self.run


class BeforeWall(NamedTuple):
    """The slab before one wall: its falls up to the first low line that is drained, and those low lines."""

    edge: EdgePiece
    falls: tuple[WallFall, ...]
    door_falls: tuple[WallFall, ...]  # near a door
    low_lines: tuple[LowLine, ...]


class ReachedWall(NamedTuple):
    """A wall that water of the slab touches on its way."""

    name: str
    share: float  # of the slab whose water it is
    at: XY


class Crest(NamedTuple):
    """The highest point of the lowest way over the slab from some edges to others, and the edge it leads to."""

    at: XY
    height: float
    wall: str


class Fold(NamedTuple):
    """A four-corner piece of the finish surface that can fold along either diagonal."""

    names: tuple[str, str, str, str]  # corners in order round it; the surface folds from the first to the third
    corners: tuple[XY, XY, XY, XY]
    at: XY  # where the diagonals cross
    height: float  # there, folded as the surface is
    other_height: float  # there, folded the other way


class ValleyEnd(NamedTuple):
    """The last stretch of a valley before its low end, as a gutter."""

    length: float
    running: float  # slope along it
    sides: tuple[float, float]  # slope down to it from either side


class Leaf(NamedTuple):
    """The highest spot of the slab that the leaves of a door or gate swing over."""

    at: XY
    slab: float  # finish height there


class Landing(NamedTuple):
    """The slab before a door, as wide as the door."""

    shape: tuple[XY, ...]  # closed
    slope: float  # of its steepest part
    depth: float  # how far the slab reaches straight out from the door, m
    facets: tuple[int, ...]  # of the mesh of the finish surface


class RouteStretch(NamedTuple):
    """A stretch of a way over the slab between two folds."""

    shape: tuple[XY, XY]
    running: float  # slope along the way
    cross: float  # slope square to it
    facets: tuple[int, ...]  # of the mesh of the finish surface


class Ramp(NamedTuple):
    """Stretches of a way, one after the other, that are steeper than a walk may be."""

    stretches: tuple[RouteStretch, ...]
    level: tuple[float, float]  # how far the way is level before it and after it, on the slab, m
    at_end: tuple[bool, bool]  # whether it begins where the way begins, and ends where that ends


class GradeBreak(NamedTuple):
    """Where the grade of a way in changes: between two stretches that a car is on at once.

    Grades are rise over run going in; beyond the slab a stretch has no length.
    """

    edge: str  # the edge that wheels come in over
    kind: Literal["crest", "sag", "edge"]  # edge: one of the two stretches lies beyond the slab
    at: XY
    before: float
    after: float
    lengths: tuple[float, float]  # of the two stretches on the slab, m
    gap: float  # between the two stretches, m; 0 where they meet
    inner: XY | None  # at an edge: where its stretch on the slab ends at a fold; None where that is an edge too


class FallPart(NamedTuple):
    """A connected part of the finish surface, chosen by its slope."""

    name: str
    area: float
    least: float  # flattest slope in it
    most: float  # steepest slope in it
    fall: XY  # mean fall, pointing downhill
    outline: tuple[XY, ...]  # closed
    facets: tuple[int, ...]  # of the mesh of the finish surface
    others: int = 0  # smaller parts told together with it, their slopes in ``least`` and ``most``

    @property
    def run(self) -> float:
        """How far it reaches along its fall, m; where it is level, the square root of its area."""
        x, y = self.fall
        size = math.hypot(x, y)
        if size < 1e-9:
            return math.sqrt(self.area)
        along = [(px * x + py * y) / size for px, py in self.outline]
        return max(along) - min(along)


class Spot(NamedTuple):
    """The thing a finding speaks of: its name, its shape on the plan (meters), and its place in the file.

    ``shape`` is one point, a line of two or more, or a closed ring when first and last are equal.
    """

    name: str
    place: Place
    shape: tuple[tuple[float, float], ...] = ()


class NewHeight(NamedTuple):
    """A height to write at a point in place of the one there now."""

    name: str
    old: float
    new: float


class Quantities(NamedTuple):
    """Volumes, m3."""

    net: float
    slab: float  # between the surfaces, or area times design thickness where the base is not shot
    thickened_edges: float
    steps: float
    from_surfaces: bool
    channels: float = 0.0  # what channels take off, and the concrete under and beside them adds


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


def is_cut(isolation: Isolation) -> bool:
    """Whether a cut is drawn in place of filler."""
    return isolation.material.casefold().endswith((" cut", "sawcut", "groove"))
