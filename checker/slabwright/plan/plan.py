"""The worked plan: design and geometry put together once, lazily and frozen; rules only read it.

All numbers are SI (meters, m2, m3; heights in meters, larger is higher; slopes as rise over run).
"""

from collections.abc import Collection, Mapping
from functools import cached_property, lru_cache
from typing import Any, NamedTuple

from slabwright.design.model import Design
from slabwright.formulas.weather import finishing_time
from slabwright.geometry.xy import XY
from slabwright.plan.agreement import Agreement
from slabwright.plan.areas import INDOORS, WALKED, Area, Areas
from slabwright.plan.asked_falls import AskedFalls
from slabwright.plan.bounds import refuse_too_much
from slabwright.plan.channels import Channels
from slabwright.plan.climbs import Climbs
from slabwright.plan.concrete import Concrete
from slabwright.plan.doors import Doors
from slabwright.plan.edges import Edges
from slabwright.plan.exits import Exits
from slabwright.plan.falls import Falls, WallFalls
from slabwright.plan.finish import Finish
from slabwright.plan.fixed import FixedHeights
from slabwright.plan.fixtures import Fixtures
from slabwright.plan.flights import Flights
from slabwright.plan.given import NotShown, asked_for, value_at
from slabwright.plan.grades import Grades
from slabwright.plan.held import HeldHeights
from slabwright.plan.joints import Joints
from slabwright.plan.panels import Panels
from slabwright.plan.raising import Raising
from slabwright.plan.routes import Routes
from slabwright.plan.shape import Shape
from slabwright.plan.site import Site
from slabwright.plan.stalls import Stalls
from slabwright.plan.steel import Steel
from slabwright.plan.thickness import Thickness
from slabwright.plan.view import View
from slabwright.plan.walls import Walls
from slabwright.plan.water import Water
from slabwright.plan.water_lines import WaterLines
from slabwright.plan.wheels import Wheels
from slabwright.source.place import Place
from slabwright.units.quantity import Amount, System, duration


class Spot(NamedTuple):
    """The thing a finding speaks of: its name, its shape on the plan (meters), and its place in the file.

    ``shape`` is one point, a line of two or more, or a closed ring when first and last are equal.
    """

    name: str
    place: Place
    shape: tuple[tuple[float, float], ...] = ()


class Plan:
    """The worked plan of one design.

    Making one raises :class:`UnreadableError` when the design is too large to be worked, the outline or an opening
    does not close to a simple shape, an edge run does not lie on the outline, or a stall does not lie on the slab.
    """

    shape = View(Shape)
    areas = View(Areas)
    thickness = View(Thickness)
    steel = View(Steel)
    joints = View(Joints)
    finish = View(Finish)
    edges = View(Edges)
    fixtures = View(Fixtures)
    channels = View(Channels)
    climbs = View(Climbs)
    flights = View(Flights)
    doors = View(Doors)
    panels = View(Panels)
    concrete = View(Concrete)
    wall_falls = View(WallFalls)
    falls = View(Falls)
    fixed = View(FixedHeights)
    exits = View(Exits)
    water = View(Water)
    water_lines = View(WaterLines)
    walls = View(Walls)
    held = View(HeldHeights)
    asked_falls = View(AskedFalls)
    agreement = View(Agreement)
    routes = View(Routes)
    wheels = View(Wheels)
    grades = View(Grades)
    raising = View(Raising)
    site = View(Site)
    stalls = View(Stalls)

    def __init__(self, design: Design, kept: Mapping[str, Any] | None = None) -> None:
        self.design = design
        vars(self).update(kept or {})
        refuse_too_much(design)
        _ = self.shape, self.areas, self.edges, self.stalls

    def edited(self, design: Design, changed: Collection[str]) -> "Plan":
        """The plan of an edited design, of whose file only the ``changed`` top-level sections read otherwise.

        Views that rest on none of these are taken over, with all they have worked out and will; places in the file
        that they hold are those of this plan's file.
        """
        kept = {name: getattr(self, name) for name, sections in self.sections.items() if sections.isdisjoint(changed)}
        return Plan(design, kept)

    @cached_property
    def sections(self) -> Mapping[str, frozenset[str]]:
        """The sections of the design file on which each view rests, by itself or through others."""
        return _sections(tuple(view.made.unasked(self.design) for view in VIEWS.values()))

    @property
    def system(self) -> System:
        """Unit system the report shows first."""
        return self.design.system

    @property
    def home(self) -> System:
        """The system the job is drawn and built in: what is bought does not change with what is shown.

        Without amendments a job in feet or inches is judged by the US dwelling code.
        """
        return self.design.home

    @property
    def outdoors(self) -> bool:
        """Whether rain falls on it, or on a part of it: as the file says, otherwise by use.

        Garage and shop floors are indoors.
        """
        return any(map(self.rained_on, self.areas.all))

    def rained_on(self, area: Area) -> bool:
        """Whether rain falls on an area: as the file says, otherwise by its use."""
        said = self.design.site.outdoors
        return area.use not in INDOORS if said is None else said

    @property
    def shedding(self) -> tuple[Area, ...]:
        """The areas that must shed rain: equipment is set level, and floors lie under a roof."""
        return tuple(area for area in self.areas.all if self.rained_on(area) and area.use != "equipment pad")

    def in_right_of_way(self, area: Area) -> bool:
        """Whether an area may lie in the public right of way: of several, what meets the street, and walks."""
        if not self.design.site.right_of_way:
            return False
        streets = [piece.line for piece in self.edges.pieces if piece.beside == "street"]
        at_street = [one for line in streets for one in self.areas.along(line)]
        return not at_street or area.use == "walk" or any(one is area for one in at_street)

    def driven_on(self, area: Area) -> bool:
        """Whether vehicles are meant to stand on an area: by its use, or by the loads of a file of one use."""
        if area.carries_vehicles or not self.design.loads:
            return area.carries_vehicles
        return area.use not in WALKED or all(one.use in WALKED for one in self.areas.all)

    @property
    def thinnest_driven(self) -> float:
        """The least thickness of the areas that vehicles stand on, m, in a file with loads."""
        return min(area.thickness.si for area in self.areas.all if self.driven_on(area))

    @property
    def finishing(self) -> Amount | None:
        """From placing to the last pass: as written, else by the warmth of the concrete, else of the air."""
        pour = self.design.pour
        weather = pour.weather if pour else None
        known = weather.concrete or weather.air if weather else None
        if pour is None or pour.finishing or known is None:
            return pour.finishing if pour else None
        return duration(finishing_time(known.si))

    @property
    def carries_vehicles(self) -> bool:
        """Whether vehicles are meant to stand on it, by use or because a load is given."""
        return bool(self.design.loads) or any(area.carries_vehicles for area in self.areas.all)

    def place(self, *paths: str) -> Place:
        """The place of the first key path that is in the file, else of its nearest section, else the file itself."""
        return self.design.place(*paths)

    def given(self, path: str) -> Any:
        """The value of the design at a key path such as ``mix.aggregate``; ends the rule where it is not given."""
        return self.all_given(path)[0]

    def all_given(self, *paths: str) -> tuple[Any, ...]:
        """The values at key paths; ends the rule, with everything that is missing, where one is not given."""
        values = tuple(value_at(self.design, path) for path in paths)
        missing = [path for path, value in zip(paths, values, strict=True) if value is None or value in ((), "")]
        if missing:
            raise NotShown(tuple(map(asked_for, missing)), self.place(missing[0]))
        return values

    def spot(self, name: str, *paths: str, shape: tuple[XY, ...] = ()) -> Spot:
        """What a comment speaks of, by the name people call it, where the first key path is in the file."""
        return Spot(name, self.place(*paths), shape)


VIEWS: Mapping[str, View[Any]] = {name: view for name, view in vars(Plan).items() if isinstance(view, View)}


@lru_cache(16)
def _sections(unasked: tuple[frozenset[str], ...]) -> Mapping[str, frozenset[str]]:
    """The sections on which each view rests, where some of them ask nothing of others."""
    asked = {
        name: [other for other in view.rests_on if other != "design" and other not in none]
        for (name, view), none in zip(VIEWS.items(), unasked, strict=True)
    }

    def rests_on(name: str) -> frozenset[str]:
        return VIEWS[name].sections.union(*map(rests_on, asked[name]))

    return {name: rests_on(name) for name in VIEWS}
