"""Parts of the finish surface that fall alike, and the heights that would make a part or an edge fall as asked."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import shapely

from slabwright import plan_water
from slabwright.geometry.noding import distinct
from slabwright.geometry.raising import least_raised
from slabwright.geometry.surface import Surface
from slabwright.plan_edges import ON_EDGE
from slabwright.plan_things import XY, EdgePiece, FallPart, NewHeight, Pond, RouteStretch, WallFall
from slabwright.reading.design import SpotHeight

if TYPE_CHECKING:
    from slabwright.plan import Plan

TOLD = 5  # parts told one by one; all smaller ones are told with the last
SMALLEST = 0.0929  # m2, 1 ft2: a smaller part of a slab is a fold, not a fall
OFF_LINE = 0.02  # m: a point nearer to an edge stands on it
DRY = 0.002  # share of the slab below which no water is said to leave over an edge
_MORE = (1.0, 1.02, 1.05, 1.1, 1.2, 1.35, 1.6, 2.0)  # tried in turn: heights are written in whole steps
_FOOT = 0.3048


def height_step(plan: Plan) -> float:
    """What heights are written in, m: a hundredth of a foot, or a millimetre."""
    return 0.01 * _FOOT if plan.system == "us" else 0.001


def written(plan: Plan, height: float, up: bool | None = None) -> float:
    """The next height that can be written, at or above ``height`` (``up``), at or below it, or the nearest; m."""
    steps = height / height_step(plan)
    if up is None:
        return round(steps) * height_step(plan)
    return (math.ceil(steps - 1e-6) if up else math.floor(steps + 1e-6)) * height_step(plan)


def name_at(plan: Plan, at: XY) -> str:
    """The name of the point at a place, or its coordinates in the unit of the plan."""
    near = [p for p in plan.design.points.values() if math.hypot(p.x - at[0], p.y - at[1]) < ON_EDGE]
    if near:
        return near[0].name
    unit, size = ("ft", _FOOT) if plan.system == "us" else ("m", 1.0)
    return f"({at[0] / size + 0.0:.2f} {unit}, {at[1] / size + 0.0:.2f} {unit})"


def fall_parts(plan: Plan, chosen: Callable[[float], bool]) -> tuple[FallPart, ...]:
    """Connected parts of the finish surface whose slope is ``chosen``, the largest first; folds left out."""
    surface = plan.surface
    if surface is None:
        return ()
    mask = np.array([chosen(s) for s in surface.slopes.tolist()])
    groups = _connected(surface.mesh.neighbours.tolist(), mask.tolist())
    groups = [group for group in groups if float(surface.areas[group].sum()) > SMALLEST]
    groups.sort(key=lambda group: -round(float(surface.areas[group].sum()), 6))
    parts = [_part(plan, surface, group) for group in groups[:TOLD]]
    rest = np.array([facet for group in groups[TOLD:] for facet in group], dtype=np.int64)
    if len(rest):
        slopes, others = surface.slopes[rest], len(groups) - TOLD
        parts[-1] = parts[-1]._replace(
            name=f"{parts[-1].name} and {others} smaller part{'s' if others > 1 else ''}",
            least=min(parts[-1].least, float(slopes.min())),
            most=max(parts[-1].most, float(slopes.max())),
            others=others,
        )
    return tuple(parts)


def _connected(neighbours: list[list[int]], mask: list[bool]) -> list[list[int]]:
    """Facets of the mask in groups that share sides."""
    left, groups = list(mask), []
    for first in range(len(left)):
        if not left[first]:
            continue
        group, left[first] = [first], False
        for facet in group:  # grows while it is gone through
            for other in neighbours[facet]:
                if other >= 0 and left[other]:
                    left[other] = False
                    group.append(other)
        groups.append(group)
    return groups


def _part(plan: Plan, surface: Surface, group: list[int]) -> FallPart:
    areas, slopes = surface.areas[group], surface.slopes[group]
    shape = shapely.union_all(surface.facets[group])
    outer = max(shapely.get_parts(shape), key=lambda piece: piece.area).exterior
    fall = -(surface.gradients[group] * areas[:, None]).sum(axis=0) / areas.sum()
    return FallPart(
        name=_part_name(plan, shapely.remove_repeated_points(outer.simplify(ON_EDGE)), float(areas.sum())),
        area=float(areas.sum()),
        least=float(slopes.min()),
        most=float(slopes.max()),
        fall=(float(fall[0]), float(fall[1])),
        outline=tuple((float(x), float(y)) for x, y in outer.coords),
        facets=tuple(group),
    )


def _part_name(plan: Plan, ring: shapely.LinearRing, area: float) -> str:
    """The whole slab, the part between up to six points, or the part in a panel."""
    if area > 0.99 * plan.area:
        return "the whole slab"
    order = list(plan.design.points)
    names = {name_at(plan, (float(x), float(y))) for x, y in ring.coords}
    if len(names) <= 6 and names <= set(order):
        return "the part between " + ", ".join(sorted(names, key=order.index))
    inner = shapely.Polygon(ring).representative_point()
    panel = next((p.name for p in plan.panels if p.polygon.distance(inner) < ON_EDGE), "")
    if panel and len(plan.panels) > 1:
        return f"a part of panel {panel}"
    return f"the part round {name_at(plan, (float(inner.x), float(inner.y)))}"


def graded(plan: Plan, part: FallPart, slope: float, least: bool) -> tuple[NewHeight, ...]:
    """Heights that give a part a fall of at least (or at most) ``slope``, its highest point kept.

    A part that falls already is made steeper or flatter as it lies; a level one is tilted away from the buildings, or
    towards an edge that may take water. Empty when heights of points alone cannot do it.
    """
    surface = plan.surface
    if surface is None or part.others:
        return ()
    facets = np.array(part.facets)
    vertices = distinct(surface.mesh.triangles[facets])
    xy, z = surface.mesh.xy[vertices], surface.z[vertices]
    for more in _MORE:
        asked = slope * more if least else slope / more
        if least and part.least < slope / 4:
            along = xy @ np.array(_towards(plan, part))
            new = z.max() - asked * (along - along.min())
        else:
            new = z.max() - (z.max() - z) * (asked / (part.least if least else part.most))
        rounded = [written(plan, height) for height in new.tolist()]
        trial = Surface(surface.mesh, _put(surface.z, vertices, rounded))
        slopes = trial.slopes[facets]
        if (slopes.min() >= slope) if least else (slopes.max() <= slope):
            return _changes(plan, xy, z, rounded)
    return ()


def facets_at(plan: Plan, at: XY) -> tuple[int, ...]:
    """The facets of the finish surface that a place lies on: one, or those that meet there."""
    surface = plan.surface
    return () if surface is None else tuple(surface.tree.query(shapely.Point(at), "dwithin", distance=1e-6).tolist())


def flatter(plan: Plan, facets: Sequence[int], slope: float) -> tuple[NewHeight, ...]:
    """Heights that make facets that lie together, and all as steep beside them, fall at most ``slope``."""
    surface = plan.surface
    if surface is None or not facets or surface.slopes[list(facets)].max() <= slope:
        return ()
    together = _spread(surface, facets, surface.slopes > slope)
    return graded(plan, _part(plan, surface, together), slope, least=False)


def _spread(surface: Surface, facets: Sequence[int], mask: np.ndarray) -> list[int]:
    """The facets, and all of the mask that hang together with them."""
    chosen = mask.copy()
    chosen[list(facets)] = True
    groups = _connected(surface.mesh.neighbours.tolist(), chosen.tolist())
    return sorted(facet for group in groups if set(group) & set(facets) for facet in group)


def eased(plan: Plan, stretch: RouteStretch, slope: float, across: bool) -> tuple[NewHeight, ...]:
    """Heights that make the facets under a stretch of a way fall at most ``slope`` along it, or ``across`` it.

    They are turned, with all as steep beside them, about the line of the way, or about its upper end.
    """
    surface = plan.surface
    if surface is None:
        return ()
    start, end = np.array(stretch.shape[0]), np.array(stretch.shape[1])
    way = (end - start) / np.hypot(*(end - start))
    if across:
        way = np.array([-way[1], way[0]])
    elif surface.height(np.array([start]))[0] < surface.height(np.array([end]))[0]:
        start = end
    facets = np.array(_spread(surface, stretch.facets, np.abs(surface.gradients @ way) > slope * (1 + 1e-9)))
    vertices = distinct(surface.mesh.triangles[facets])
    xy, z = surface.mesh.xy[vertices], surface.z[vertices]
    gradients = surface.gradients[facets] @ way
    steepest = float(gradients[np.argmax(np.abs(gradients))])
    if abs(steepest) <= slope:
        return ()
    for more in _MORE:
        new = z - steepest * (1 - slope / more / abs(steepest)) * ((xy - start) @ way)
        rounded = [written(plan, height) for height in new.tolist()]
        trial = Surface(surface.mesh, _put(surface.z, vertices, rounded))
        if np.abs(trial.gradients[facets] @ way).max() <= slope:
            return _changes(plan, xy, z, rounded)
    return ()


def _put(z: np.ndarray, vertices: np.ndarray, new: Sequence[float]) -> np.ndarray:
    changed = z.copy()
    changed[vertices] = new
    return changed


def _changes(plan: Plan, xy: np.ndarray, old: np.ndarray, new: Sequence[float]) -> tuple[NewHeight, ...]:
    """The changed heights of points that have one in the file; a place without a point takes its own from those.

    Empty when the rim of a drain would have to move.
    """
    rims = [fixture.at for fixture in plan.design.fixtures if fixture.kind == "drain" and fixture.at and fixture.rim]
    found = []
    for (x, y), spot, before, after in zip(xy.tolist(), _typed(plan, xy), old.tolist(), new, strict=True):
        if abs(after - before) > 1e-6 and any(math.hypot(rim.x - x, rim.y - y) < ON_EDGE for rim in rims):
            return ()
        if spot is not None and abs(after - before) > height_step(plan) / 10:
            found.append(NewHeight(spot.at.name, before, after))
    order = list(plan.design.points)
    return tuple(sorted(found, key=lambda one: order.index(one.name)))


def _towards(plan: Plan, part: FallPart) -> XY:
    """Which way a nearly level part should fall, as a unit vector."""
    slope = math.hypot(*part.fall)
    away = [_outward(plan, piece) for piece in plan.edges if piece.beside == "building"]
    taking = [piece for piece in plan.edges if piece.takes_water and not piece.dams]
    if away:
        x, y = -sum(a[0] for a in away), -sum(a[1] for a in away)
        if math.hypot(x, y) > 0.1:
            return x / math.hypot(x, y), y / math.hypot(x, y)
    if slope > 1e-4:
        return part.fall[0] / slope, part.fall[1] / slope
    if taking:
        return _outward(plan, max(taking, key=lambda piece: piece.length))
    return 1.0, 0.0


def _outward(plan: Plan, piece: EdgePiece) -> XY:
    """Unit vector square to the chord of an edge, out of the slab."""
    (ax, ay), (bx, by) = piece.line[0], piece.line[-1]
    size = math.hypot(bx - ax, by - ay) or 1.0
    normal = ((by - ay) / size, (ax - bx) / size)
    if not plan.ring.ccw:
        normal = -normal[0], -normal[1]
    return normal


def _bowed(piece: EdgePiece) -> bool:
    """Whether an edge is an arc: square to it is another way at every spot."""
    chord = shapely.LineString([piece.line[0], piece.line[-1]])
    return bool(shapely.LineString(piece.line).hausdorff_distance(chord) > OFF_LINE)


def graded_from_wall(plan: Plan, falls: Sequence[WallFall], slope: float) -> tuple[NewHeight, ...]:
    """Heights that make the facets under ``falls``, all of one wall, fall ``slope`` away; the wall side kept."""
    surface = plan.surface
    if surface is None or not falls or falls[0].edge.finish is None or _bowed(falls[0].edge):
        return ()
    piece, finish = falls[0].edge, np.array(falls[0].edge.finish)
    inward = -np.array(_outward(plan, piece))
    facets = distinct(surface.tree.query(shapely.points([fall.at for fall in falls]), predicate="intersects")[1])
    vertices = distinct(surface.mesh.triangles[facets])
    wall = shapely.LineString(piece.line)
    marks = shapely.points(surface.mesh.xy[vertices])
    vertices = vertices[shapely.distance(wall, marks) > OFF_LINE]
    xy, z = surface.mesh.xy[vertices], surface.z[vertices]
    off = (xy - np.array(piece.line[0])) @ inward
    stations = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(np.array(piece.line), axis=0).T))])
    foot = np.interp(shapely.line_locate_point(wall, shapely.points(xy)), stations, finish)
    for more in _MORE:
        new = [written(plan, height, up=False) for height in (foot - slope * more * off).tolist()]
        trial = Surface(surface.mesh, _put(surface.z, vertices, new))
        if (-(trial.gradients[facets] @ inward)).min() >= slope:
            return _changes(plan, xy, z, new)
    return ()


def raised_edge(plan: Plan, piece: EdgePiece, slope: float) -> tuple[NewHeight, ...]:
    """Heights of points of an edge that make the slab beside it fall ``slope`` away from it.

    Only the points where the fall lacks are raised, when that keeps the water off the edge; else all of them alike.
    """
    surface = plan.surface
    if surface is None or _bowed(piece):
        return ()
    inward = -np.array(_outward(plan, piece))
    xy, triangles, foot = surface.mesh.xy, surface.mesh.triangles, np.array(piece.line[0])
    on_edge = shapely.distance(shapely.LineString(piece.line), shapely.points(xy)) < ON_EDGE
    beside = on_edge[triangles].sum(axis=1) == 2
    if not beside.any():
        return ()
    vertices = np.nonzero(on_edge)[0]
    old, least = surface.z[vertices], least_raised(surface, on_edge, foot, inward, slope)[vertices]
    typed = old.copy()
    for row, spot in enumerate(_typed(plan, xy[vertices])):
        if spot is not None and least[row] > old[row] + 1e-9:
            typed[row] = written(plan, float(least[row]), up=True)
    if _keeps_dry(plan, piece, replace(surface, z=_put(surface.z, vertices, typed.tolist()))):
        return _changes(plan, xy[vertices], old, typed.tolist())
    inner = triangles[beside][~on_edge[triangles[beside]]]
    away = -(surface.gradients[beside] @ inward)
    more = float(np.max((slope - away) * ((xy[inner] - foot) @ inward)))
    lift = written(plan, more, up=True) if more > 0 else 0.0
    return _changes(plan, xy[vertices], old, [written(plan, z, up=True) for z in (old + lift).tolist()])


def _keeps_dry(plan: Plan, piece: EdgePiece, surface: Surface) -> bool:
    """Whether with this surface no water leaves over an edge, and none stands that did not before."""
    before, after = plan.water, plan_water.water(plan, surface)
    stands = sum(pond.volume for pond in after.ponds) - sum(pond.volume for pond in (before.ponds if before else ()))
    return stands < 1e-6 and sum(one.share for one in after.shares if one.to == piece.name) < DRY


def raised_pond(plan: Plan, pond: Pond, slope: float) -> tuple[NewHeight, ...]:
    """Heights that lift the points under water to where it spills, and ``slope`` above that on the way there."""
    surface = plan.surface
    if surface is None:
        return ()
    shape = shapely.union_all([shapely.Polygon(ring) for ring in pond.outline])
    near = shapely.dwithin(shape, shapely.points(surface.mesh.xy), ON_EDGE)
    under = np.nonzero(near & (surface.z < pond.level - 1e-9))[0]
    spill = surface.mesh.xy[near & (np.abs(surface.z - pond.level) < 1e-6)]
    xy, z = surface.mesh.xy[under], surface.z[under]
    away = np.zeros(len(under))
    if len(spill):
        away = np.hypot(*(xy[:, None] - spill[None]).transpose(2, 0, 1)).min(axis=1)
    return _changes(plan, xy, z, [written(plan, height, up=True) for height in (pond.level + slope * away).tolist()])


def moved(plan: Plan, wanted: Sequence[tuple[XY, float]], up: bool) -> tuple[NewHeight, ...]:
    """Heights of points that bring the slab to the ``wanted`` (place, height), or past it: above (``up``) or below.

    A place between points is moved by moving the points that carry the slab there, all alike. Points that carry none
    of the places stay; a place that no point with a height of its own carries is named by its coordinates.
    """
    surface = plan.surface
    if surface is None:
        return ()
    pick = max if up else min
    found: dict[XY, tuple[float, float]] = {}
    for at, target in wanted:
        now = plan.finish_at(at)
        if now is None:
            continue
        for (x, y), z in _carriers(plan, surface, at) or [(at, now)]:
            new = written(plan, z + target - now, up)
            found[x, y] = z, pick(new, found[x, y][1]) if (x, y) in found else new
    return tuple(NewHeight(name_at(plan, at), old, new) for at, (old, new) in found.items())


def _carriers(plan: Plan, surface: Surface, at: XY) -> list[tuple[XY, float]]:
    """Places and heights of the typed points whose heights make the height at ``at``."""
    near = shapely.get_coordinates(shapely.shortest_line(plan.slab, shapely.Point(at)))[0]
    facets = surface.tree.query(shapely.Point(near), predicate="dwithin", distance=ON_EDGE)
    for facet in facets.tolist():
        corners = surface.mesh.triangles[facet]
        matrix = np.vstack([surface.mesh.xy[corners].T, np.ones(3)])
        weights = np.linalg.solve(matrix, np.array([*near, 1.0]))
        carrying = corners[weights > 0.001]
        spots = _typed(plan, surface.mesh.xy[carrying])
        if None not in spots:
            heights = surface.z[carrying].tolist()
            return [((s.at.x, s.at.y), z) for s, z in zip(spots, heights, strict=True) if s is not None]
    return []


def _typed(plan: Plan, xy: np.ndarray) -> list[SpotHeight | None]:
    """For every place the finish height that the file gives there, None where it gives none."""
    spots = plan.design.heights.finish
    if not spots or not len(xy):
        return [None] * len(xy)
    tree = shapely.STRtree(shapely.points([[s.at.x, s.at.y] for s in spots]))
    at = dict(
        zip(*tree.query_nearest(shapely.points(xy), max_distance=ON_EDGE, all_matches=False).tolist(), strict=True)
    )
    return [spots[at[k]] if k in at else None for k in range(len(xy))]
