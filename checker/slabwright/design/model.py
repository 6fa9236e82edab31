"""The frozen, typed design: what one design file says, every quantity in SI, with the place of each section.

Field names equal the keys of ``schemas/design.schema.json``; a test compares the two.
``Amount`` kinds are named in the comments. ``Point`` is ``(x, y)`` in meters, resolved from a
point name or a typed pair.
"""

import datetime
from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal, NamedTuple

from slabwright.design.costs import Dig, Prices
from slabwright.design.fixtures import Channel, Embedded, Fixture
from slabwright.design.heights import Fixed, Heights
from slabwright.design.joints import Joint
from slabwright.design.outline import Corner, Edge, Measured, Opening
from slabwright.design.point import Point
from slabwright.design.pouring import Pour
from slabwright.design.reinforcement import Reinforcement
from slabwright.design.site import Permit, Site
from slabwright.design.thickness import Thickness
from slabwright.design.uses import Called, Use
from slabwright.source.place import NOWHERE, Place
from slabwright.units.quantity import Amount, System

Consistence = Literal["S1", "S2", "S3", "S4", "S5", "F1", "F2", "F3", "F4", "F5", "F6"]
CementType = Literal[
    "I", "I/II", "II", "II/V", "III", "V", "V with pozzolan",
    "IL", "IL (MS)", "IL (HS)", "IP", "IP (MS)", "IP (HS)", "IS", "IS (MS)", "IS (HS)", "IT", "IT (MS)", "IT (HS)",
    "GU", "MS", "HS", "CEM I", "CEM II", "CEM III", "CEM I-SR", "CEM III-SR", "CEM IV-SR",
]  # fmt: skip


class Job(NamedTuple):
    """``job``."""

    name: str
    pour: datetime.date | None = None
    number: str = ""
    revision: str = ""
    reviewed_by: str = ""
    notes: str = ""
    place: Place = NOWHERE


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

    @property
    def on_top(self) -> float:
        """The share that comes on top of the volume as typed."""
        return self.allowance.si if self.allowance and not self.allowance_inside else 0.0


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

    @property
    def home(self) -> System:
        """The system it is drawn and built in, by the unit of its plan: what is bought hangs on no sheet's units."""
        return "us" if self.plan_unit in ("ft", "in") else "metric"

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
