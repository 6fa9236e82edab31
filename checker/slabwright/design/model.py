"""The frozen, typed design: what one design file says, every quantity in SI, with the place of each section.

Field names equal the keys of ``schemas/design.schema.json``; a test compares the two.
``Amount`` kinds are named in the comments. ``Point`` is ``(x, y)`` in meters, resolved from a
point name or a typed pair.
"""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from slabwright.design.costs import Dig, Prices
from slabwright.design.phrases import Asked
from slabwright.design.point import Point
from slabwright.design.pouring import Pour
from slabwright.design.site import Permit, Site
from slabwright.design.steel import Bar
from slabwright.design.uses import Called, Use
from slabwright.named_tuple import NamedTuple
from slabwright.source.place import NOWHERE, Place
from slabwright.units.quantity import Amount, System

Beside = Literal[
    "building", "wall", "curb", "step", "existing slab", "asphalt", "street", "lawn", "bed", "gravel", "open ground",
    "property line", "trench drain", "pool",
]  # fmt: skip
JointKind = Literal["saw cut", "early saw cut", "tooled groove", "formed strip", "construction joint", "pattern"]
FixtureKind = Literal[
    "drain", "post", "column", "cleanout", "meter", "valve", "downspout", "sump outlet", "anchor", "gate", "door"
]
Consistence = Literal["S1", "S2", "S3", "S4", "S5", "F1", "F2", "F3", "F4", "F5", "F6"]
CementType = Literal[
    "I", "I/II", "II", "II/V", "III", "V", "V with pozzolan",
    "IL", "IL (MS)", "IL (HS)", "IP", "IP (MS)", "IP (HS)", "IS", "IS (MS)", "IS (HS)", "IT", "IT (MS)", "IT (HS)",
    "GU", "MS", "HS", "CEM I", "CEM II", "CEM III", "CEM I-SR", "CEM III-SR", "CEM IV-SR",
]  # fmt: skip
LineKind = Literal["valley", "ridge", "grade break"]
Cladding = Literal["wood", "fiber cement", "stucco", "brick", "metal", "vinyl", "other"]
FixedKind = Literal[
    "sill", "siding", "weep screed", "damp course", "vent", "window", "hose bib", "slab", "gutter", "other"
]


class Job(NamedTuple):
    """``job``."""

    name: str
    pour: datetime.date | None = None
    number: str = ""
    revision: str = ""
    reviewed_by: str = ""
    notes: str = ""
    place: Place = NOWHERE


class Corner(NamedTuple):
    """One entry of an outline: a straight run to ``at``, or an arc to ``at`` through ``through``."""

    at: Point
    through: Point | None = None
    place: Place = NOWHERE


class Isolation(NamedTuple):
    """Filler between the slab and something else. ``depth`` None with ``full_depth`` True means ``depth: full``."""

    material: str
    thickness: Amount | None = None  # depth
    depth: Amount | None = None  # depth
    full_depth: bool = False
    sealed: bool | None = None  # held down and sealed at the top
    place: Place = NOWHERE


class Opening(NamedTuple):
    """A hole in the slab; its rim dams water unless ``takes_water``."""

    name: str
    corners: tuple[Corner, ...]
    holds: Literal["planter", "tree", "pit", "stair", "pool", "other"] = "other"
    takes_water: bool = False
    isolation: Isolation | None = None
    place: Place = NOWHERE


class Edge(NamedTuple):
    """What stands beside a run of the outline. ``run`` empty: every part of the outline no other edge names."""

    beside: Beside
    run: tuple[Point, ...] = ()
    name: str = ""
    takes_water: bool | None = None  # may water be sent there; None: by kind
    ground: tuple[Amount, ...] = ()  # heights beside the slab: one, or one for each point of the run
    tied: bool = False  # doweled or tied on purpose, so no isolation is wanted
    ground_beyond: Amount | None = None  # height: the lowest within 36 in of the edge
    guard: Amount | None = None  # depth: how high a guard stands along it
    backfilled: datetime.date | None = None  # the day the ground against a wall was filled back
    backfill_compacted: bool | None = None  # in thin layers
    planned_step: bool = False  # the difference in height to what stands beside is meant
    wheels_cross: bool | None = None  # vehicles drive on and off over it; None: over asphalt and streets they do
    falls_to_slab: Amount | None = None  # slope: of what stands beside, down to the slab
    uphill: Amount | None = None  # length of the ground beyond that sheds its rain to the slab
    eave: Amount | None = None  # length of the roof slope over a wall that drips without a gutter
    swale: bool = False  # a swale or drain beyond the edge leads that water past the slab
    existing_joints: tuple[Point, ...] = ()  # joints and cracks of what stands beside
    isolation: Isolation | None = None
    place: Place = NOWHERE


class HeightLine(NamedTuple):
    """A valley, ridge or grade break the surface folds along; heights run straight between its points."""

    name: str
    kind: LineKind
    along: tuple[Point, ...]
    place: Place = NOWHERE


class StatedFall(NamedTuple):
    """A fall as typed on the sketch, from the first point down to the second."""

    along: tuple[Point, Point]
    fall: Amount  # slope
    place: Place = NOWHERE


class SpotHeight(NamedTuple):
    """A height at a point of one surface."""

    at: Point
    height: Amount  # height
    place: Place = NOWHERE


class Closing(NamedTuple):
    """How a run of rod readings closed on its bench: ``error`` is last reading minus known height, m."""

    file: str
    bench: str
    error: float
    setups: int
    place: Place = NOWHERE


class Heights(NamedTuple):
    """``heights``. ``finish``, ``base`` and ``existing`` hold what was typed or reduced from a file of rod readings."""

    datum: str = ""
    finish: tuple[SpotHeight, ...] = ()
    base: tuple[SpotHeight, ...] = ()
    existing: tuple[SpotHeight, ...] = ()
    lines: tuple[HeightLine, ...] = ()
    falls: tuple[StatedFall, ...] = ()
    benches: Mapping[str, Amount] = MappingProxyType({})
    closings: tuple[Closing, ...] = ()
    place: Place = NOWHERE


class Fixed(NamedTuple):
    """A height that cannot move. ``along`` has one point (a spot) or more (a line on or beside the slab)."""

    name: str
    kind: FixedKind
    along: tuple[Point, ...]
    height: tuple[Amount, ...]  # height: one, or one for each point
    slab: Asked | None = None
    material: Cladding | None = None  # of siding
    place: Place = NOWHERE


class Fixture(NamedTuple):
    """Something in or on the slab.

    ``sill`` belongs to doors, ``swings_over``, ``hinge``, ``bottom`` and ``opens_to`` to doors and gates, ``rim`` to
    drains and boxes, ``outlet`` and ``pipe`` to drains, ``roof`` to downspouts; ``along`` is the width of a door or
    gate or the legs of an anchor, ``at`` the spot of everything else.
    """

    kind: FixtureKind
    name: str = ""
    at: Point | None = None
    along: tuple[Point, ...] = ()
    size: Amount | None = None  # depth: diameter or side
    isolation: Isolation | None = None
    rim: Amount | None = None  # height
    outlet: Amount | None = None  # height
    sill: Amount | None = None  # height
    swings_over: bool | None = None
    box_out: Literal["round", "square", "turned square"] | None = None  # the hole left round it
    box_out_size: Amount | None = None  # depth: diameter or side of that hole
    required_exit: bool = False
    pipe: Amount | None = None  # length, from the drain to its outlet
    roof: Amount | None = None  # area that comes down a downspout
    hinge: tuple[Point, ...] = ()  # one end of the width, or both for two leaves
    bottom: Amount | None = None  # height of the underside of the leaf
    opens_to: Point | None = None  # a spot on the side it opens to; None: not said
    footing: Amount | None = None  # depth of the bottom of the footing of a post or column below the finish
    plate: Amount | None = None  # depth: side of the base plate of an anchor, its bolts at the corners
    embedment: Amount | None = None  # depth of an anchor in the concrete
    place: Place = NOWHERE


class Channel(NamedTuple):
    """One entry of ``channels``: a channel or slot drain in the slab, whose rim takes water all along."""

    name: str
    along: tuple[Point, ...]  # its middle line
    width: Amount  # depth
    rim: tuple[Amount, ...] = ()  # height: one, or one for each point
    invert: tuple[Amount, ...] = ()  # height of the bottom inside: one, or one for each point
    outlet_at: tuple[Point, ...] = ()  # points of its line; none: the end with the lowest bottom
    outlet: Amount | None = None  # height where its pipe lets out
    pipe: Amount | None = None  # length, from the channel to its outlet
    bed: Amount | None = None  # depth of the concrete under it, and width of that beside it
    isolation: Isolation | None = None
    place: Place = NOWHERE

    def height_at(self, heights: tuple[Amount, ...], number: int) -> Amount | None:
        """The rim or invert at a point of its line, by the point's number; None where the file gives none."""
        return heights[number if len(heights) > 1 else 0] if heights else None


class Embedded(NamedTuple):
    """One entry of ``embedded``: tubes or conduit cast in the slab; with no line and no corners they lie all over."""

    name: str
    kind: Literal["heating tubes", "conduit", "pipe"]
    along: tuple[Point, ...] = ()
    corners: tuple[Point, ...] = ()
    size: Amount | None = None  # depth: outside diameter
    top_cover: Amount | None = None  # depth of the concrete over it
    place: Place = NOWHERE


class Measured(NamedTuple):
    """One entry of ``measured``: a side or a diagonal as taped on site."""

    along: tuple[Point, Point]
    length: Amount  # length
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True)
class EdgeBars:
    """One layer of bars along a thickened edge, apart from the steel of the slab."""

    count: int
    size: Bar
    at: Literal["bottom", "top"] = "bottom"
    cover: Amount | None = None  # depth, from the bottom of the edge or from the top
    lap: Amount | None = None  # depth
    place: Place = NOWHERE


class ThickenedEdge(NamedTuple):
    """Depth ``depth`` at the edge, kept for ``width``, then back to the design thickness over ``taper``."""

    run: tuple[Point, ...]
    depth: Amount  # depth
    taper: Amount  # length
    width: Amount | None = None  # length
    bars: tuple[EdgeBars, ...] = ()
    place: Place = NOWHERE


class StairLanding(NamedTuple):
    """A landing in place of the tread behind one riser of a flight."""

    after: int  # the riser, counted from the foot
    depth: Amount  # depth
    turns: Literal["left", "right"] | None = None  # the way the next risers go, seen on the way up
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True)
class Steps:
    """A flight poured with the slab, solid below: ``count`` risers all alike, or each as in ``risers``."""

    name: str
    width: Amount  # length
    tread: Amount  # depth
    riser: Amount | None = None  # depth; with ``count``, or None
    count: int = 0
    risers: tuple[Amount, ...] = ()  # depth: from the foot up, instead of the two
    tread_slope: Amount | None = None  # slope
    handrail: bool | None = None  # None: not said
    guard: Amount | None = None  # depth: how high a guard stands at its open sides
    leads_to: str = ""  # name of a door or an edge
    foot: tuple[Point, ...] = ()  # both ends of the lowest nosing
    climbs_to: Point | None = None  # a spot on the side that it climbs to
    foot_height: Amount | None = None  # height at the foot; None: that of the slab there
    landings: tuple[StairLanding, ...] = ()
    same_pour: bool = True
    place: Place = NOWHERE

    @property
    def each(self) -> tuple[float, ...]:
        """The height of each riser, from the foot up, m."""
        return tuple(one.si for one in self.risers) or (self.riser.si if self.riser else 0.0,) * self.count


class Over(NamedTuple):
    """Something hard below the slab that leaves ``depth`` of concrete over it."""

    name: str
    at: Point
    depth: Amount  # depth
    place: Place = NOWHERE


class Thickness(NamedTuple):
    """``thickness``."""

    design: Amount  # depth
    form_board: Amount | None = None  # depth: the real depth of the board
    form_board_name: str = ""  # "2x6"
    dug_below_form: bool = False
    thickened_edges: tuple[ThickenedEdge, ...] = ()
    over: tuple[Over, ...] = ()
    steps: tuple[Steps, ...] = ()
    place: Place = NOWHERE


class Dowels(NamedTuple):
    """Smooth bars across a joint."""

    diameter: Amount  # depth
    length: Amount  # depth
    spacing: Amount  # depth
    place: Place = NOWHERE


class Joint(NamedTuple):
    """A straight joint or a chain of straight pieces; ``pattern`` lines do not count as joints."""

    name: str
    kind: JointKind
    along: tuple[Point, ...]
    depth: Amount | None = None  # depth
    cut_after: Amount | None = None  # duration
    last_foot: Literal["hand groove", "formed strip", "corner saw"] | None = None  # at a wall, step or curb
    isolation: Isolation | None = None  # filler all through it
    sealed: bool | None = None  # filled with a sealant
    locked_by: Literal["key", "dowels", "tie bars"] | None = None
    dowels: Dowels | None = None
    place: Place = NOWHERE


class Bars(NamedTuple):
    """``reinforcement.bars``: one mat, the same each way."""

    size: Bar
    spacing: Amount  # depth
    top_cover: Amount | None = None  # depth
    held_by: Literal["chairs", "concrete blocks", "stakes", "hooked up by hand", "nothing"] | None = None
    support_spacing: Amount | None = None  # length
    ends_short: Amount | None = None  # depth
    at_joints: Literal["stop", "half through", "run through"] | None = None
    yield_strength: Amount | None = None  # stress
    lap: Amount | None = None  # depth
    place: Place = NOWHERE


class Mesh(NamedTuple):
    """``reinforcement.mesh``: welded wire sheets; where the two ways differ, see :class:`steel.WireSheet`."""

    style: str  # "6x6 W2.9", "A142", "Ø6/150"
    wire_spacing: float  # m, of the closer wires
    wire_diameter: float  # m, of the thicker wires
    area_per_width: float  # m2/m, the way that has less
    cross_spacing: float  # m, of the wires farther apart
    mass_per_area: float | None = None  # kg/m2, where a table or the wires say it
    sides: tuple[float, ...] = ()  # m, length and width as its table has it
    top_cover: Amount | None = None  # depth
    held_by: Literal["chairs", "concrete blocks", "stakes", "hooked up by hand", "nothing"] | None = None
    support_spacing: Amount | None = None  # length
    at_joints: Literal["stop", "half through", "run through"] | None = None
    lap: Amount | None = None  # depth
    place: Place = NOWHERE


class Fiber(NamedTuple):
    """``reinforcement.fiber``."""

    kind: Literal["micro synthetic", "macro synthetic", "steel"]
    dose: Amount  # unit weight
    in_place_of: Literal["joints", "steel", "thickness"] | None = None  # what it is meant to save
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True)
class CornerBars:
    """``reinforcement.corner_bars``: loose bars laid across inside corners."""

    at: tuple[Point, ...]
    size: Bar
    length: Amount  # length
    count: int = 2
    place: Place = NOWHERE


class Reinforcement(NamedTuple):
    """``reinforcement``."""

    bars: Bars | None = None
    mesh: Mesh | None = None
    fiber: Fiber | None = None
    corner_bars: tuple[CornerBars, ...] = ()
    bonded: bool | None = None  # by the electrician, to the metal of a pool; None: not said
    none: bool = False  # "reinforcement: none"
    place: Place = NOWHERE

    @property
    def mats(self) -> tuple[tuple[Literal["bars", "mesh"], Bars | Mesh, float], ...]:
        """Bars and mesh, those there are: the name of the key, the mat, and the diameter of its bars or wires, m."""
        found: list[tuple[Literal["bars", "mesh"], Bars | Mesh, float]] = []
        if self.bars:
            found.append(("bars", self.bars, self.bars.size.diameter))
        if self.mesh:
            found.append(("mesh", self.mesh, self.mesh.wire_diameter))
        return tuple(found)


class Part(NamedTuple):
    """One entry of ``parts``: an area that differs from the rest of the slab. What is None is as in the rest."""

    name: str
    corners: tuple[Corner, ...]
    called: Called | None = None  # the use as written
    use: Use | None = None  # whose limits it takes
    thickness: Amount | None = None  # depth
    taper: Amount | None = None  # length, on the thinner side of where the thickness changes
    form_board: Amount | None = None  # depth: the real depth of the board
    form_board_name: str = ""  # "2x6"
    reinforcement: Reinforcement | None = None
    place: Place = NOWHERE


class Load(NamedTuple):
    """One vehicle's heaviest axle."""

    vehicle: str
    axle: Amount  # force
    wheels_per_axle: int
    tire_pressure: Amount | None = None  # pressure
    near_edge: bool | None = None
    passes: int | None = None  # of the loaded vehicle, over all its years
    place: Place = NOWHERE


class LineLoad(NamedTuple):
    """A wall or partition that stands on the slab."""

    name: str
    along: tuple[Point, ...]
    load: Amount  # line load
    place: Place = NOWHERE


class Stall(NamedTuple):
    """One entry of ``stalls``: an accessible parking stall, with the access aisle beside it."""

    name: str
    corners: tuple[Point, ...]
    kind: Literal["car", "van"] = "car"
    aisle: tuple[Point, ...] = ()
    place: Place = NOWHERE


class Mix(NamedTuple):
    """``mix``."""

    strength: Amount | None = None  # stress
    air: Amount | None = None  # share
    slump: Amount | None = None  # depth; the middle of the class where only a class of slump is given
    consistence: Consistence | None = None
    aggregate: Amount | None = None  # depth
    water_cement: Amount | None = None  # ratio
    cement: Amount | None = None  # unit weight
    exposure: str | None = None  # "RF3"; of several European classes the hardest frost, else the first
    classes: tuple[str, ...] = ()  # all European classes, as typed
    water_reducer: Literal["none", "mid-range", "high-range"] | None = None
    chloride: Amount | None = None  # share of the weight of cement
    cement_type: CementType | None = None
    place: Place = NOWHERE


class Retarder(NamedTuple):
    """``order.retarder``: vapor retarder under the slab, as it is rolled."""

    roll_length: Amount  # length
    roll_width: Amount  # length
    lap: Amount | None = None  # depth
    thickness: Amount | None = None  # depth
    tested_class: Literal["A", "B", "C"] | None = None  # by ASTM E1745
    place: Place = NOWHERE


class Order(NamedTuple):
    """``order``."""

    volume: Amount | None = None  # volume
    truck: Amount | None = None  # volume
    allowance: Amount | None = None  # share
    allowance_inside: bool = False  # the typed volume already holds the allowance
    method: Literal["chute", "pump", "buggy", "wheelbarrow"] | None = None
    hose: Amount | None = None  # depth
    hose_length: Amount | None = None  # length
    left_in_hopper: Amount | None = None  # volume
    step: Amount | None = None  # volume: what the plant rounds to
    short_load: Amount | None = None  # volume: the plant charges more for a load under this
    stock: tuple[Amount, ...] = ()  # length: bars as they are sold
    sheet: tuple[Amount, ...] = ()  # length: mesh sheets as they are sold, length and width
    fiber_bag: Amount | None = None  # mass
    retarder: Retarder | None = None
    base: Amount | None = None  # mass of base stone
    truck_spots: tuple[Point, ...] = ()  # where the back of the truck can stand
    place: Place = NOWHERE


class Variance(NamedTuple):
    """A shortfall accepted on purpose."""

    rule: str
    reason: str
    accepted_by: str
    date: datetime.date
    at: str = ""  # the thing's name; empty: everywhere
    until: datetime.date | None = None
    place: Place = NOWHERE


class Design(NamedTuple):
    """One design file, read."""

    file: str
    job: Job
    called: Called  # the use as written
    use: Use  # whose limits it takes
    plan_unit: str  # "ft", "in", "m", "cm" or "mm": what bare plan numbers meant
    height_unit: str
    system: System  # how the report shows values first
    points: Mapping[str, Point]
    outline: tuple[Corner, ...]
    thickness: Thickness
    site: Site = Site()
    openings: tuple[Opening, ...] = ()
    parts: tuple[Part, ...] = ()
    edges: tuple[Edge, ...] = ()
    heights: Heights = Heights()
    fixed: tuple[Fixed, ...] = ()
    fixtures: tuple[Fixture, ...] = ()
    channels: tuple[Channel, ...] = ()
    embedded: tuple[Embedded, ...] = ()
    measured: tuple[Measured, ...] = ()
    joints: tuple[Joint, ...] = ()
    reinforcement: Reinforcement | None = None
    loads: tuple[Load, ...] = ()
    line_loads: tuple[LineLoad, ...] = ()
    stalls: tuple[Stall, ...] = ()
    mix: Mix = Mix()
    order: Order | None = None
    dig: Dig | None = None
    prices: Prices | None = None
    pour: Pour | None = None  # where there is one
    pours: tuple[Pour, ...] = ()  # where there are several, by their days
    permit: Permit | None = None
    variances: tuple[Variance, ...] = ()
    places: Mapping[str, Place] = MappingProxyType({})  # key path -> place of its key, for "what to add"

    def place(self, *paths: str) -> Place:
        """The place of the first key path that is in the file, else of its nearest section, else the file itself."""
        for path in paths:
            if path in self.places:
                return self.places[path]
        for path in paths:
            section = path
            while "." in section:
                section = section.rpartition(".")[0]
                if section in self.places:
                    return self.places[section]
        return Place(self.file)
