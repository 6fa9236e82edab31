"""A slab placed on several days: what each pour covers, where two of them meet, and the plan of each day.

The plan of a day is the plan of the job narrowed to what that pour covers, with its own hours, forecast and order: so
a rule or a sheet that looks at the day of the pour works on it as on a job of one pour.
"""

import copy
from collections.abc import Iterator, Mapping
from itertools import combinations
from typing import NamedTuple
from weakref import WeakKeyDictionary

import numpy as np
import shapely

from slabwright.design.model import Design, Order
from slabwright.design.pouring import Pour
from slabwright.geometry.surface.surface import within
from slabwright.geometry.xy import XY
from slabwright.plan.falls import Falls, WallFalls
from slabwright.plan.finish import Finish
from slabwright.plan.joints import PlannedJoint
from slabwright.plan.panels import Panel
from slabwright.plan.plan import Plan
from slabwright.plan.shape import ON_EDGE
from slabwright.source.place import Place

SLIP = 0.1524  # m, 6 in: a strip of a panel no wider is a slip of the drawing (common practice)
OFF = 0.02  # share of a panel by which areas may leave it bare, or cover it twice
ALONG = 0.02  # m: what lies nearer to a joint than this lies on it
GRID, ON_IT = 0.0001, 0.0005  # m: points of a line that lie nearer are one; lines so near lie on each other
OWN = (  # no day narrows them
    "finish", "exits", "water", "water_lines", "walls", "routes", "wheels", "grades", "raising", "fixed", "stalls",
)  # fmt: skip


class PlannedPour(NamedTuple):
    """One of several pours, and the panels that it places, whole or in part."""

    pour: Pour
    slab: shapely.Geometry  # of concrete that it places; a polygon where its parts touch
    panels: tuple[Panel, ...]

    @property
    def name(self) -> str:
        """Its name in the file."""
        return self.pour.name


class Meeting(NamedTuple):
    """Where a pour ends inside the slab: along a joint, or through a panel (``joint`` None)."""

    first: PlannedPour
    second: PlannedPour
    line: tuple[XY, ...]
    length: float
    joint: PlannedJoint | None
    panel: str  # that it ends in; empty along a joint
    holds: bool  # whether placing can stop there


class Day(NamedTuple):
    """A pour, and the plan of its day."""

    planned: PlannedPour
    plan: Plan


_DAYS: WeakKeyDictionary[Plan, tuple[Day, ...]] = WeakKeyDictionary()


def planned(plan: Plan) -> tuple[PlannedPour, ...]:
    """The pours of a plan by their days; none where there is one alone."""
    found = []
    for pour in plan.design.pours:
        area = _area(pour)
        shares = [(panel, _share(panel, area)) for panel in plan.panels.all]
        panels = tuple(panel for panel, share in shares if share > 0)
        parts = [one.polygon if share == 1 else shapely.intersection(one.polygon, area)
                 for one, share in shares if share > 0]  # fmt: skip
        found.append(PlannedPour(pour, shapely.union_all(parts), panels))
    return tuple(found)


def claimed(plan: Plan) -> Iterator[tuple[Panel, tuple[str, ...]]]:
    """Panels that no pour covers, or that two cover alike, each with the names of those pours."""
    pours = plan.design.pours
    areas = [_area(pour) for pour in pours]
    for panel in plan.panels.all if pours else ():
        shares = [_share(panel, area) for area in areas]
        if sum(shares) < 1 - OFF:
            yield panel, ()
        elif sum(shares) > 1 + OFF:
            yield panel, tuple(pour.name for pour, share in zip(pours, shares, strict=True) if share > 0)


def meetings(plan: Plan) -> tuple[Meeting, ...]:
    """Everywhere that two pours meet inside the slab: joint by joint, then where none lies."""
    joints = [(joint, _band(joint)) for joint in plan.joints.all if joint.counts]
    found: list[Meeting] = []
    for first, second in combinations((one for one in planned(plan) if one.panels), 2):
        corners = shapely.get_coordinates([first.slab, second.slab, *(shapely.LineString(j.line) for j, _ in joints)])
        sides = shapely.intersection(first.slab.boundary, second.slab.boundary, grid_size=GRID)
        for joint, band in joints:
            along = sum(_onto(part, corners).length for part in _lines(shapely.intersection(sides, band)))
            if along > ALONG:
                ends = plan.concrete.ends_placing(joint.joint)
                found.append(Meeting(first, second, joint.line, float(along), joint, "", ends))
                sides = shapely.difference(sides, band)
        for part in _lines(shapely.line_merge(sides) if not sides.is_empty else sides):
            line = _onto(shapely.simplify(part, ON_EDGE), corners)
            inner = [panel.name for panel in plan.panels.all
                     if shapely.intersection(line, panel.polygon.buffer(-ALONG)).length > ALONG]  # fmt: skip
            if not inner:  # along the rim, where two pours overlap: nothing goes on there
                continue
            ends_at = tuple((float(x), float(y)) for x, y, *_ in line.coords)
            found.append(Meeting(first, second, ends_at, float(line.length), None, " and ".join(inner), False))
    return tuple(found)


def _band(joint: PlannedJoint) -> shapely.Polygon:
    return shapely.LineString(joint.line).buffer(ON_IT, cap_style="flat")


def _onto(line: shapely.LineString, corners: np.ndarray) -> shapely.LineString:
    """A line with its points moved onto the corners that the grid, or a joint beside it, has taken them off."""
    xy = shapely.get_coordinates(line)
    off = np.hypot(*(xy[:, None] - corners[None]).transpose(2, 0, 1))
    nearest = off.argmin(axis=1)
    near = off[np.arange(len(xy)), nearest] < 3 * ON_IT
    return shapely.LineString(np.where(near[:, None], corners[nearest], xy))


def _lines(shape: shapely.Geometry) -> Iterator[shapely.LineString]:
    """The lines of a shape that are longer than a joint that crosses is wide."""
    for part in shapely.get_parts(shape):
        if isinstance(part, shapely.LineString) and part.length > ALONG:
            yield part


def lies_apart(one: PlannedPour) -> bool:
    """Whether the panels of a pour are in parts that do not touch."""
    return one.panels != () and not isinstance(one.slab, shapely.Polygon)


def days(plan: Plan) -> tuple[Day, ...]:
    """Each pour that covers something with the plan of its day, worked once; none where there is one pour alone."""
    if not plan.design.pours:
        return ()
    if plan not in _DAYS:
        _DAYS[plan] = tuple(Day(one, _of_day(plan, one)) for one in planned(plan) if one.panels)
    return _DAYS[plan]


def path_in_file(path: str, pour: Pour) -> str:
    """The key path in the file of what the plan of a day has at ``path``.

    >>> path_in_file("pour.weather.air", Pour(place=Place("", path="pour[1]"))), path_in_file("mix.air", Pour())
    ('pour[1].weather.air', 'mix.air')
    """
    own = pour.place.path
    if path == "job.pour":
        return f"{own}.day"
    if path == "order.volume":
        return f"{own}.volume"
    if path == "pour" or path.startswith("pour."):
        return own + path.removeprefix("pour")
    return path


def asked_in_file(add: str, pour: Pour) -> str:
    """What the plan of a day asks to add (``pour.start: such as 07:00``), by its key path in the file."""
    path, colon, rest = add.partition(":")
    return path_in_file(path, pour) + colon + rest


def _area(pour: Pour) -> shapely.Polygon:
    ring = [(corner.x, corner.y) for corner in pour.corners]
    return shapely.Polygon(ring).buffer(0) if len(ring) > 2 else shapely.Polygon()


def _share(panel: Panel, area: shapely.Polygon) -> float:
    """The share of a panel in an area: none, or all of it, where no more than a strip says otherwise."""
    within = shapely.intersection(panel.polygon, area)
    share = float(within.area / panel.polygon.area)
    if not 0 < share < 1:
        return share
    fewer = within if share < 1 / 2 else shapely.difference(panel.polygon, area)
    return float(share > 1 / 2) if shapely.buffer(fewer, -SLIP / 2).is_empty else share


def _of_day(plan: Plan, one: PlannedPour) -> Plan:
    """The plan of the job narrowed to a pour: its slab, joints, fixtures, edges, steps, hours and order."""
    slab = max(shapely.get_parts(one.slab), key=lambda part: float(part.area))
    shape = copy.copy(plan.shape)
    vars(shape)["slab"] = slab
    edges = copy.copy(plan.edges)
    rim = slab.boundary.buffer(ON_EDGE)
    vars(edges)["pieces"] = tuple(
        piece for piece in plan.edges.pieces if shapely.LineString(piece.line).intersection(rim).length > ALONG
    )
    kept = {name: getattr(plan, name) for name in OWN}
    kept |= {"shape": shape, "edges": edges}
    day = Plan(_design(plan, one, slab), kept)
    own = Finish(plan.design, shape)  # heights are asked for beyond the day too, its falls only on it
    vars(own)["surface"] = within(plan.finish.surface, slab) if plan.finish.surface else None
    vars(day)["wall_falls"] = WallFalls(shape, own, edges)
    vars(day)["falls"] = Falls(day.design, shape, day.areas, day.joints, own, day.flights)
    _keep_names(day, one)
    return day


def _keep_names(day: Plan, one: PlannedPour) -> None:
    """Call the panels of a day as they are called on the plan of the job."""
    named = {}
    for panel in day.panels.all:
        middle = panel.polygon.representative_point()
        named[panel.name] = next((own.name for own in one.panels if own.polygon.contains(middle)), panel.name)
    vars(day.panels)["all"] = tuple(
        panel._replace(name=named[panel.name], neighbors=tuple(named[other] for other in panel.neighbors))
        for panel in day.panels.all
    )


def _design(plan: Plan, one: PlannedPour, slab: shapely.Polygon) -> Design:
    design, pour = plan.design, one.pour
    inside = slab.buffer(-ALONG)
    cut = {
        joint.name for joint in plan.joints.all if shapely.LineString(joint.line).intersection(inside).length > ALONG
    }
    near = {fixture.fixture for fixture in plan.fixtures.all if slab.distance(shapely.Point(fixture.at)) < ALONG}
    order = design.order
    if order is not None or pour.volume is not None:
        order = (order or Order())._replace(volume=pour.volume)
    first = plan.design.pours[0] is pour
    steps = tuple(
        flight.steps
        for flight in plan.flights.all
        if (flight.at is None and first) or (flight.at and slab.distance(shapely.Point(flight.at)) < ALONG)
    )
    return design._replace(
        pour=pour,
        pours=(),
        job=design.job._replace(pour=pour.day),
        order=order,
        joints=tuple(joint for joint in design.joints if joint.name in cut),
        fixtures=tuple(fixture for fixture in design.fixtures if fixture in near),
        thickness=design.thickness._replace(steps=steps),
        parts=tuple(
            area.part for area in plan.areas.all if area.part and area.polygon.intersection(inside).area > ALONG**2
        ),
        places=_places(design.places, pour),
    )


def _places(places: Mapping[str, Place], pour: Pour) -> dict[str, Place]:
    """Where the keys of a day stand: those of its own entry as if it were the only one."""
    own = pour.place.path
    found = {path: place for path, place in places.items() if not path.startswith("pour")}
    found |= {
        "pour" + path.removeprefix(own): place
        for path, place in places.items()
        if path == own or path.startswith(f"{own}.")
    }
    for path, key in (("job.pour", "day"), ("order.volume", "volume")):
        if f"{own}.{key}" in places:
            found[path] = places[f"{own}.{key}"]
    return found
