"""The parts of the slab that differ in use or thickness; a file without parts has one area, the slab."""

from collections.abc import Sequence
from functools import cached_property
from typing import ClassVar, NamedTuple

import shapely

from slabwright.design.fixtures import Embedded
from slabwright.design.model import Design, Part
from slabwright.design.uses import Called, Use
from slabwright.geometry.xy import XY
from slabwright.plan.shape import ON_EDGE, Shape, closed, tell_faults
from slabwright.plan.view import PlanView
from slabwright.source.place import Place
from slabwright.source.problem import Problems
from slabwright.units.quantity import Amount

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
    whole: bool = False  # nothing else is on the slab

    @property
    def carries_vehicles(self) -> bool:
        """Whether its use is one of vehicles."""
        return self.use in VEHICLES

    def within(self, shape: shapely.Geometry, beyond: float = 0.0) -> shapely.Geometry:
        """What of a part of the slab, or of a line on it, lies in it, and up to ``beyond`` m outside."""
        if self.whole:
            return shape
        return shapely.intersection(shape, self.polygon.buffer(beyond) if beyond else self.polygon)

    def from_line(self, line: Sequence[XY]) -> float:
        """How far it lies from a line, m."""
        return float(shapely.LineString(line).distance(self.polygon))


class Areas(PlanView):
    """What of the slab has one use and one thickness, by parts of the file.

    Making one raises :class:`UnreadableError` when a part does not close to a simple shape, reaches outside the
    outline, or lies over another.
    """

    SECTIONS: ClassVar[frozenset[str]] = frozenset({"parts", "use", "thickness"})
    _design: Design
    _shape: Shape

    def __post_init__(self) -> None:
        self._polygons = _polygons(self._design, self._shape) if self._design.parts else []

    @cached_property
    def all(self) -> tuple[Area, ...]:
        """Every area: parts in the order of the file, then what none of them covers."""
        slab = self._shape.slab
        if not self._design.parts:
            return (self._area("the slab", slab)._replace(whole=True),)
        found = [
            self._area(_spoken(self._design.parts[k].name), polygon, k) for k, polygon in enumerate(self._polygons)
        ]
        left = _without_slivers(shapely.difference(slab, shapely.union_all(self._polygons)))
        kept = [piece for piece in shapely.get_parts(left) if not piece.buffer(-ON_EDGE).is_empty]
        if kept:
            found.append(self._area("the rest of the slab", kept[0] if len(kept) == 1 else shapely.MultiPolygon(kept)))
        return tuple(found)

    def _area(self, name: str, polygon: shapely.Geometry, number: int | None = None) -> Area:
        design = self._design
        part = None if number is None else design.parts[number]
        use: Use = part.use if part and part.use else design.use
        called: Called = part.called if part and part.called else design.called
        path = f"parts[{number}].thickness" if part else "thickness.design"
        thickness = part.thickness if part and part.thickness else design.thickness.design
        place = part.place if part else design.place("thickness.design", "thickness")
        return Area(name, use, called, thickness, path, polygon, part, place)

    @property
    def several(self) -> bool:
        """Whether the file names parts."""
        return bool(self._design.parts)

    @cached_property
    def thicknesses(self) -> tuple[float, ...]:
        """The design thicknesses that occur, least first, m."""
        return tuple(sorted({area.thickness.si for area in self.all}))

    @cached_property
    def uses(self) -> tuple[Use, ...]:
        """The uses that occur, that of the file first."""
        found = {area.use for area in self.all}
        return tuple(sorted(found, key=lambda use: (use != self._design.use, use)))

    @cached_property
    def called(self) -> tuple[Called, ...]:
        """What the uses that occur are called, that of the file first."""
        found = {area.called for area in self.all}
        return tuple(sorted(found, key=lambda called: (called != self._design.called, called)))

    def used(self, *uses: str) -> tuple[Area, ...]:
        """The areas that have one of these uses."""
        return tuple(area for area in self.all if area.use in uses)

    def at(self, at: XY) -> Area:
        """The area a place lies in; on the line between two, the thicker; off the slab, the nearest."""
        if not self.several:
            return self.all[0]
        spot = shapely.Point(at)
        away = [float(area.polygon.distance(spot)) for area in self.all]
        near = [area for area, far in zip(self.all, away, strict=True) if far <= min(away) + ON_EDGE / 10]
        return max(near, key=lambda area: area.thickness.si)

    def along(self, line: Sequence[XY]) -> tuple[Area, ...]:
        """The areas a line runs through or along; of a line off the slab, the nearest."""
        if not self.several:
            return self.all
        if len(line) < 2:
            return (self.at(line[0]),)
        return self._touched(shapely.LineString(line), 4 * ON_EDGE)

    def over(self, shape: shapely.Geometry) -> tuple[Area, ...]:
        """The areas of which a part of the slab holds more than a sliver."""
        parts = [float(area.within(shape).area) for area in self.all]
        least = min(ON_EDGE * float(shape.length), max(parts))
        return tuple(area for area, part in zip(self.all, parts, strict=True) if part >= least and part > 0)

    def holding(self, tubes: Embedded) -> tuple[Area, ...]:
        """The areas that tubes or conduit lie in."""
        where = where_cast(tubes)
        if where is None:
            return tuple(self.all)
        return self._touched(where, 4 * ON_EDGE) if isinstance(where, shapely.LineString) else self.over(where)

    def _touched(self, line: shapely.Geometry, least: float) -> tuple[Area, ...]:
        lengths = [float(area.within(line, ON_EDGE).length) for area in self.all]
        found = tuple(area for area, length in zip(self.all, lengths, strict=True) if length > least)
        if found:
            return found
        middle = line.interpolate(0.5, normalized=True)
        return (self.at((middle.x, middle.y)),)

    def thickest(self, line: Sequence[XY]) -> Area:
        """Of the areas along a line, the thickest."""
        return max(self.along(line), key=lambda area: area.thickness.si)


def where_cast(tubes: Embedded) -> shapely.LineString | shapely.Polygon | None:
    """The line or the area on the plan that tubes or conduit lie in; None where they lie all over the slab."""
    xy = [(point.x, point.y) for point in tubes.along or tubes.corners]
    if not xy:
        return None
    return shapely.LineString(xy) if tubes.along or len(xy) < 3 else shapely.Polygon(xy)


def _spoken(name: str) -> str:
    """The name of a part as it is spoken of: the ramp, part 1."""
    return name if name.lower().startswith(("part ", "the ")) else f"the {name}"


def _without_slivers(area: shapely.Geometry) -> shapely.Geometry:
    """An area without the hairlines that corners typed a hair off the outline leave along it."""
    return shapely.intersection(area, area.buffer(-ON_EDGE).buffer(2 * ON_EDGE, join_style="mitre"))


def _polygons(design: Design, shape: Shape) -> list[shapely.Geometry]:
    """What each part covers of the concrete; those that reach outside or overlap are refused."""
    problems = Problems()
    rings = []
    for part in design.parts:
        ring = closed(part.corners)
        tell_faults(ring, part.corners, f"part {part.name}", part.place, problems)
        rings.append(ring.polygon)
    problems.raise_if_any()
    outline = shape.ring.polygon.buffer(ON_EDGE)
    for number, (part, ring) in enumerate(zip(design.parts, rings, strict=True)):
        if not outline.covers(ring):
            problems.add(
                part.place,
                f"part {part.name} reaches outside the slab",
                "keep its corners on the outline or inside it; along an arc of the outline write the same arc",
            )
        for other, earlier in zip(design.parts[:number], rings[:number], strict=True):
            if not shapely.intersection(ring, earlier).buffer(-ON_EDGE).is_empty:
                problems.add(
                    part.place,
                    f"parts {other.name} and {part.name} lie over each other",
                    "let one end where the other begins: both name the corners between them",
                )
    problems.raise_if_any()
    found: list[shapely.Geometry] = []
    taken: shapely.Geometry = shapely.Polygon()
    for part, ring in zip(design.parts, rings, strict=True):
        own = _without_slivers(shapely.difference(shapely.intersection(ring, shape.slab), taken))
        if own.area <= 0:
            problems.add(part.place, f"part {part.name} lies in an opening", "take it out, or correct its corners")
        found.append(own)
        taken = shapely.union(taken, own)
    problems.raise_if_any()
    return found
