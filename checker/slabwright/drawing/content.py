"""The drawing's own data: everything a plan or a section needs, as plain JSON-ready data in meters.

Every key of a number ends in its unit (``_m``); slopes have none. Places are ``[x, y]`` on the plan, x to the right
and y up the sheet; lines are lists of places, rings are lines whose first place is repeated last. What the file
does not give is an empty list or None; a part that could not be worked is named under ``not_drawn`` with the reason.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from typing import Any

import shapely

from slabwright.design.outline import Corner, Isolation
from slabwright.drawing import relief
from slabwright.drawing.steel import steel
from slabwright.plan import pours
from slabwright.plan.areas import Area
from slabwright.plan.edges import EdgePiece
from slabwright.plan.joints import PlannedJoint
from slabwright.plan.plan import Plan
from slabwright.plan.shape import point_name
from slabwright.plan.water import Pond
from slabwright.review.report import Report
from slabwright.units.quantity import Amount

Data = dict[str, Any]


def drawn(report: Report, plan: Plan) -> Report:
    """The report of a plan with what a drawing of that plan needs."""
    return report._replace(drawing=drawing(plan))


def drawing(plan: Plan, only: Collection[str] = ()) -> Data:
    """All parts of the drawing, or ``only`` some; a part whose working fails is left empty, and the rest stand."""
    parts: Data = {}
    not_drawn: dict[str, str] = {}
    for name, gather in _PARTS.items():
        if only and name not in only:
            continue
        try:
            parts[name] = gather(plan)
        except Exception as error:
            parts[name] = [] if name not in _SINGLE else None
            not_drawn[name] = f"{type(error).__name__}: {error}"
    return {**parts, "not_drawn": not_drawn}


def _line(xy: Iterable[Sequence[float]]) -> list[list[float]]:
    return [[float(x), float(y)] for x, y, *_ in xy]


def _si(amount: Amount | None) -> float | None:
    return None if amount is None else amount.si


def _job(plan: Plan) -> Data:
    job, heights, base, permit = plan.design.job, plan.design.heights, plan.design.site.base, plan.design.permit
    return {
        "number": job.number,
        "revision": job.revision,
        "reviewed_by": job.reviewed_by,
        "datum": heights.datum,
        "height_unit": plan.design.height_unit,
        "thicknesses_m": list(plan.areas.thicknesses),
        "strength_pa": _si(plan.design.mix.strength),
        "base_material": base.material if base else "",
        "base_m": _si(base.thickness) if base else None,
        "address": permit.address if permit else "",
        "north": permit.north if permit else "",
        "north_deg": north_of(permit.north) if permit else None,
    }


_WAYS = {"up": 0.0, "top": 0.0, "right": 90.0, "down": 180.0, "bottom": 180.0, "left": 270.0}
_NORTH = re.compile(
    r"(?:([\d.]+)\s*(?:deg|degrees|°)\s*(?:to the )?(right|left|clockwise|counterclockwise)\s*(?:of|from)\s+)?(\w+)"
)


def north_of(words: str) -> float | None:
    """Where north is on the sheet, degrees clockwise from up; None when the words do not say it plainly.

    >>> north_of("up"), north_of("30 deg right of up"), north_of("15° left of right"), north_of("over there")
    (0.0, 30.0, 75.0, None)
    """
    found = _NORTH.fullmatch(words.strip().lower())
    if found is None or found[3] not in _WAYS:
        return None
    try:
        turn = float(found[1] or 0)
    except ValueError:
        return None
    return (_WAYS[found[3]] + (turn if found[2] in ("right", "clockwise") else -turn)) % 360


def _sides(plan: Plan) -> list[Data]:
    """Sides of the outline as typed: straight ones with their length, arcs with their radius."""
    corners = plan.design.outline
    found = []
    for before, corner in zip((corners[-1], *corners[:-1]), corners, strict=True):
        start, end = (before.at.x, before.at.y), (corner.at.x, corner.at.y)
        length = math.dist(start, end)
        if length < 1e-6:
            continue
        side: Data = {"from": point_name(before.at), "to": point_name(corner.at), "line": [[*start], [*end]]}
        side["length_m"], side["radius_m"], side["through"] = length, None, None
        if corner.through is not None:
            side["through"] = [corner.through.x, corner.through.y]
            side["radius_m"] = _radius(start, (corner.through.x, corner.through.y), end)
        found.append(side)
    return found


def _radius(start: tuple[float, float], through: tuple[float, float], end: tuple[float, float]) -> float:
    """Radius of the circle through three points: the product of the sides over four times the area."""
    a, b, c = math.dist(through, end), math.dist(start, end), math.dist(start, through)
    twice = (through[0] - start[0]) * (end[1] - start[1]) - (through[1] - start[1]) * (end[0] - start[0])
    return a * b * c / (2 * abs(twice)) if twice else math.inf


def _outline(plan: Plan) -> list[list[float]]:
    return _line(plan.shape.ring.polygon.exterior.coords)


def _corners(plan: Plan) -> list[Data]:
    """Named corners of the outline."""
    seen: dict[str, Corner] = {c.at.name: c for c in plan.design.outline if c.at.name}
    return [{"name": name, "at": [corner.at.x, corner.at.y]} for name, corner in seen.items()]


def _openings(plan: Plan) -> list[Data]:
    return [
        {
            "name": opening.name,
            "holds": opening.holds,
            "ring": _line(ring.polygon.exterior.coords),
            "isolation": _isolation(opening.isolation),
        }
        for opening, ring in zip(plan.design.openings, plan.shape.opening_rings, strict=True)
    ]


def _isolation(isolation: Isolation | None) -> Data | None:
    if isolation is None:
        return None
    return {
        "material": isolation.material,
        "thickness_m": _si(isolation.thickness),
        "depth_m": _si(isolation.depth),
        "full_depth": isolation.full_depth,
    }


def _panels(plan: Plan) -> list[Data]:
    return [
        {
            "name": panel.name,
            "ring": _line(panel.polygon.exterior.coords),
            "holes": [_line(ring.coords) for ring in panel.polygon.interiors],
            "at": _line(panel.polygon.representative_point().coords)[0],
            "long_side_m": panel.long_side,
            "short_side_m": panel.short_side,
        }
        for panel in plan.panels.all
    ]


def _edges(plan: Plan) -> list[Data]:
    """The whole outline in stretches with one thing beside each."""
    return [
        {
            "name": piece.name,
            "named": bool(piece.edge and piece.edge.name),
            "beside": piece.beside,
            "line": _line(piece.line),
            "length_m": piece.length,
            "isolation": _isolation(piece.isolation),
            "takes_water": piece.takes_water,
            "ground_m": _ground(piece),
        }
        for piece in plan.edges.pieces
    ]


def _ground(piece: EdgePiece) -> list[float] | None:
    return None if piece.ground is None else [float(height) for height in piece.ground]


def _joints(plan: Plan) -> list[Data]:
    return [_joint(joint) for joint in plan.joints.all]


def _joint(joint: PlannedJoint) -> Data:
    return {
        "name": joint.name,
        "kind": joint.joint.kind,
        "line": _line(joint.line),
        "depth_m": _si(joint.joint.depth),
        "counts": joint.counts,
        "ends": [{"at": [*end.at], "meets": end.meets} for end in joint.ends],
    }


def _spots(plan: Plan) -> list[Data]:
    """Finish heights given by the file, the name of the point where it has one."""
    seen: dict[tuple[float, float], Data] = {}
    for spot in plan.design.heights.finish:
        seen[spot.at.x, spot.at.y] = {"name": spot.at.name, "at": [spot.at.x, spot.at.y], "height_m": spot.height.si}
    return list(seen.values())


def _height_lines(plan: Plan) -> list[Data]:
    return [
        {"name": line.name, "kind": line.kind, "line": [[p.x, p.y] for p in line.along]}
        for line in plan.design.heights.lines
    ]


def _contours(plan: Plan) -> Data | None:
    return None if plan.finish.surface is None else relief.contours(plan.finish.surface, plan.system)


def _falls(plan: Plan) -> list[Data]:
    return [] if plan.finish.surface is None else relief.falls(plan.finish.surface)


def _trails(plan: Plan) -> list[Data]:
    return [{"line": _line(trail.xy), "to": trail.to} for trail in plan.water.trails if len(trail.xy) > 1]


def _ponds(plan: Plan) -> list[Data]:
    if plan.finish.surface is None:
        return []
    found = []
    for pond in plan.water.ponds:
        bands = relief.depth_bands(plan.finish.surface, _shape(pond), pond.level, pond.depth, plan.system)
        one: Data = {"name": pond.name, "level_m": pond.level, "depth_m": pond.depth, "deepest": [*pond.deepest]}
        found.append({**one, "rings": [_line(ring) for ring in pond.outline], "bands": bands})
    return found


def _shape(pond: Pond) -> shapely.Geometry:
    """The pond as one shape: a ring inside another is dry ground."""
    rings = [shapely.Polygon(ring) for ring in pond.outline if len(ring) > 3]
    shape = shapely.Polygon()
    for ring in sorted(rings, key=lambda one: -float(one.area)):
        shape = shapely.symmetric_difference(shape, ring)
    return shape


def _fixtures(plan: Plan) -> list[Data]:
    """Fixtures, and after them the channels, each with its line and width."""
    standing = [
        {
            "kind": one.fixture.kind,
            "name": one.name,
            "at": [*one.at],
            "line": [[p.x, p.y] for p in one.fixture.along] if len(one.fixture.along) > 1 else [],
            "size_m": _si(one.fixture.size),
            "isolation": _isolation(one.fixture.isolation),
            "inside": one.inside,
        }
        for one in plan.fixtures.all
    ]
    channels = [
        {
            "kind": "channel",
            "name": one.name,
            "at": _line(shapely.LineString(one.line).interpolate(0.5, normalized=True).coords)[0],
            "line": _line(one.line),
            "size_m": one.channel.width.si,
            "isolation": _isolation(one.channel.isolation),
            "inside": one.inside,
            "outlets": [[*one.line[k]] for k in one.outlets],
        }
        for one in plan.channels.all
    ]
    return [*standing, *channels]


def _stalls(plan: Plan) -> list[Data]:
    """Accessible stalls and their aisles; an aisle that two stalls name is drawn once."""
    aisles = {one.aisle.ring: one.aisle for one in plan.stalls.all if one.aisle}
    parts = [*(("stall", one.space) for one in plan.stalls.all), *(("aisle", one) for one in aisles.values())]
    return [{"kind": kind, "name": part.name, "ring": _line(part.ring)} for kind, part in parts]


def _fixed(plan: Plan) -> list[Data]:
    """Heights that cannot move, as typed, on the points they are given for."""
    found = []
    for fixed in plan.design.fixed:
        heights = [h.si for h in fixed.height] if len(fixed.height) > 1 else [fixed.height[0].si] * len(fixed.along)
        line = [[p.x, p.y] for p in fixed.along]
        found.append({"name": fixed.name, "kind": fixed.kind, "line": line, "heights_m": heights})
    return found


def _thickened(plan: Plan) -> list[Data]:
    found = [
        {"line": _line(run.line), "depth_m": area.thickness.si + run.extra, "width_m": run.width, "taper_m": run.taper}
        for area, run in plan.thickness.edges_of_areas
    ]
    return [one for number, one in enumerate(found) if one not in found[:number]]  # an edge may run in several parts


def _areas(plan: Plan) -> list[Data]:
    """Parts of different use, thickness or steel, and where the thickness changes; nothing without parts."""
    if not plan.areas.several:
        return []
    return [
        {
            "name": area.name,
            "use": area.called,
            "thickness_m": area.thickness.si,
            "part": area.part is not None,
            "steel": _own_steel(area),
            "at": _line(area.polygon.representative_point().coords)[0],
            "rings": [_line(ring.coords) for piece in shapely.get_parts(area.polygon) for ring in _rings(piece)],
        }
        for area in plan.areas.all
    ]


def _rings(piece: shapely.Polygon) -> list[shapely.LinearRing]:
    return [piece.exterior, *piece.interiors]


def _own_steel(area: Area) -> str:
    """The steel of a part that has its own, by name; the spacing of bars stands in the file."""
    steel = area.part.reinforcement if area.part else None
    if steel is None:
        return ""
    names = [steel.bars.size.name] if steel.bars else []
    names += [steel.mesh.style] if steel.mesh else []
    return "no steel" if steel.none else " and ".join(names)


def _tapers(plan: Plan) -> list[Data]:
    """Where the thickness comes down over a taper, on the thinner side of a line."""
    return [
        {
            "line": _line(run.line),
            "taper_m": run.taper,
            "rings": [_line(piece.exterior.coords) for piece in shapely.get_parts(run.within)],
        }
        for run in plan.thickness.tapers
    ]


def _steps(plan: Plan) -> list[Data]:
    """Flights that lie on the plan: nosings, the ring of all treads together, and the walking line up."""
    return [
        {
            "name": flight.name,
            "risers": len(flight.risers),
            "nosings": [_line(nosing) for nosing in flight.laid.nosings],
            "treads": [_line((*tread, tread[0])) for tread in flight.laid.treads],
            "way": _line(flight.laid.way),
        }
        for flight in plan.flights.all
        if flight.laid
    ]


def _pours(plan: Plan) -> list[Data]:
    """What each of several pours places, with its day."""
    return [
        {
            "name": one.name,
            "day": one.pour.day.isoformat() if one.pour.day else "",
            "at": _line(one.slab.representative_point().coords)[0],
            "rings": [_line(ring.coords) for piece in shapely.get_parts(one.slab) for ring in _rings(piece)],
        }
        for one in pours.planned(plan)
        if one.panels
    ]


_SINGLE = ("job", "contours", "steel")
_PARTS: Mapping[str, Callable[[Plan], Any]] = {
    "job": _job,
    "outline": _outline,
    "sides": _sides,
    "corners": _corners,
    "openings": _openings,
    "panels": _panels,
    "edges": _edges,
    "joints": _joints,
    "spots": _spots,
    "height_lines": _height_lines,
    "contours": _contours,
    "falls": _falls,
    "trails": _trails,
    "ponds": _ponds,
    "fixtures": _fixtures,
    "steps": _steps,
    "stalls": _stalls,
    "fixed": _fixed,
    "thickened": _thickened,
    "areas": _areas,
    "tapers": _tapers,
    "pours": _pours,
    "steel": steel,
}
