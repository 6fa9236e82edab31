"""The data of a section: what a straight line across the plan cuts, in meters along it and in height."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence
from itertools import accumulate, pairwise
from typing import Any, NoReturn

import numpy as np
import shapely

from slabwright.design.model import Design
from slabwright.design.reinforcement import Bars, Mesh
from slabwright.geometry.surface.facets import Surface
from slabwright.geometry.xy import XY, as_xy
from slabwright.plan.edges import EdgePiece
from slabwright.plan.plan import Plan
from slabwright.source.problem import Problem, UnreadableError, refuse
from slabwright.units.quantity import Kind, bare

Data = dict[str, Any]

_PAIR = r"\s*[\[(]?\s*([-+]?[\d.]+)\s*,\s*([-+]?[\d.]+)\s*[\])]?\s*"
_PAIRS = re.compile(rf"{_PAIR}(?:to|-|;){_PAIR}")
_NEAR = 0.3  # m: a fixed height this near the line is shown on it
_SIDE = 0.001  # m to each side of a line where the thickness changes at once
_STEP = 0.1  # m between the places where the underside of a thickened edge is read


def line_of(design: Design, words: str) -> tuple[XY, XY, str]:
    """The two ends of a section (m) and its title, from ``A-B`` or two pairs of plan numbers (``0,11 to 24,11``).

    Raises :class:`UnreadableError` when the words name no two points of the design.
    """
    points = design.points
    for first, second in _halves(words):
        if first in points and second in points:
            start, end = points[first], points[second]
            return _checked((start.x, start.y), (end.x, end.y), f"{first}-{second}", words)
    pairs = _PAIRS.fullmatch(words)
    if pairs:
        x0, y0, x1, y1 = (_plan_length(number, design, words) for number in pairs.groups())
        return _checked((x0, y0), (x1, y1), words.strip(), words)
    unknown = next((name for pair in _halves(words) for name in pair if name not in points), words)
    return _refuse(words, f"there is no point {unknown} on the plan")


def _plan_length(number: str, design: Design, words: str) -> float:
    try:
        value = float(number)
        return bare(value, design.plan_unit, Kind.LENGTH, number, None).si  # type: ignore[arg-type]
    except ValueError:
        _refuse(words, f"{number} is no number of the plan")


def _halves(words: str) -> Iterator[tuple[str, str]]:
    """Every way to read two names: around ``to`` or around each hyphen, since names may hold hyphens."""
    for parting in (r"\s+to\s+", "-", "–"):
        for found in re.finditer(parting, words):
            yield words[: found.start()].strip(), words[found.end() :].strip()


def _checked(start: XY, end: XY, title: str, words: str) -> tuple[XY, XY, str]:
    if math.dist(start, end) < 1e-6:
        _refuse(words, "both ends of the section are at one place")
    return start, end, title


def _refuse(words: str, wrong: str) -> NoReturn:
    write = '--section with two points of the plan, such as A-C, or two pairs of numbers, such as "0,11 to 24,11"'
    refuse("", f"--section {words}: {wrong}", write)


def section(plan: Plan, start: XY, end: XY, title: str) -> Data:
    """What the line from ``start`` to ``end`` (m) cuts of the slab.

    ``parts`` are the stretches with concrete: distances, finish and underside. Raises
    :class:`UnreadableError` while a corner has no height, or when the line misses the slab.
    """
    if plan.finish.surface is None:
        names = ", ".join(plan.finish.missing[:8]) or "the corners"
        place = plan.place("heights.finish", "heights")
        raise UnreadableError((Problem(place, "a section needs every finish height", f"heights.finish for {names}"),))
    size = math.dist(start, end)
    line = shapely.LineString([start, end])
    parts = [_part(plan, plan.finish.surface, start, end, a, b) for a, b in _stretches(plan, line, size)]
    if not parts:
        _refuse(title, "the line does not cross the slab")
    base = plan.design.site.base
    return {
        "title": title,
        "from_m": [*start],
        "to_m": [*end],
        "length_m": size,
        "parts": parts,
        "base_m": base.thickness.si if base and base.thickness else None,
        "base_material": base.material if base else "",
        "base_is_shot": plan.concrete.base_surface is not None,
        "steel": list(_steel(plan, line)),
        "joints": list(_joints(plan, line)),
        "ends": list(_ends(plan, line)),
        "fixed": list(_fixed(plan, line)),
        "spots": list(_spots(plan, line)),
    }


def _changes(plan: Plan, line: shapely.LineString) -> list[float]:
    """Just before and after every place where the thickness changes, as distances along the line."""
    found = []
    for *_, lines, _taper in plan.thickness.changes:
        for one in lines:
            found += [at + off for at in _crossings(line, shapely.LineString(one)) for off in (-_SIDE, _SIDE)]
    return found


def _stretches(plan: Plan, line: shapely.LineString, size: float) -> list[tuple[float, float]]:
    """Where the line runs over concrete, as distances along it."""
    found = []
    for piece in shapely.get_parts(shapely.intersection(line, plan.shape.slab)):
        if isinstance(piece, shapely.LineString) and piece.length > 1e-6:
            a, b = sorted(line.project(shapely.Point(end)) for end in (piece.coords[0], piece.coords[-1]))
            found.append((max(0.0, float(a)), min(size, float(b))))
    return sorted(found)


def _part(plan: Plan, surface: Surface, start: XY, end: XY, first: float, last: float) -> Data:
    """Finish and underside of one stretch of concrete, at every facet side and wherever the depth changes."""
    size = math.dist(start, end)
    run = (np.array(end) - np.array(start)) / size
    p, q = np.array(start) + run * first, np.array(start) + run * last
    distances, heights = surface.profile(as_xy(p), as_xy(q))
    known = ~np.isnan(heights)
    distances, heights = distances[known], heights[known]
    stations = [distances]
    changes = _changes(plan, shapely.LineString([p, q]))
    stations.append(np.array([at for at in changes if 0 < at < last - first]))
    if not plan.thickness.even:
        stations.append(np.linspace(0, last - first, max(2, math.ceil((last - first) / _STEP) + 1)))
    base = plan.concrete.base_surface
    if base is not None:
        stations.append(base.profile(as_xy(p), as_xy(q))[0])
    along = np.unique(np.round(np.concatenate(stations), 6))
    finish = np.interp(along, distances, heights)
    places = p + along[:, None] * run
    thickness = np.array([plan.thickness.at((float(x), float(y))) for x, y in places])
    under = finish - thickness
    if base is not None:  # shots lie on the base of the slab itself: a thickened edge is dug below them
        shot = base.height(places) - (thickness - plan.thickness.design)
        under = np.where(np.isnan(shot), under, shot)
    return {
        "along_m": [float(d) for d in first + along],
        "finish_m": [float(z) for z in finish],
        "underside_m": [float(z) for z in under],
    }


def _steel(plan: Plan, line: shapely.LineString) -> Iterator[Data]:
    """Bars or wires of each part of the slab as far as the line runs through it, where their cover is known."""
    for bed in plan.steel.beds:
        mat = bed.steel.bars or bed.steel.mesh
        if mat is None or mat.top_cover is None:
            continue
        within = shapely.intersection(line, shapely.union_all([area.polygon for area in bed.areas]))
        merged = shapely.line_merge(within) if isinstance(within, shapely.MultiLineString) else within
        for piece in shapely.get_parts(merged):
            if isinstance(piece, shapely.LineString) and piece.length > 1e-6:
                a, b = sorted(float(line.project(shapely.Point(end))) for end in (piece.coords[0], piece.coords[-1]))
                yield {"from_m": a, "to_m": b, **_mat(mat)}


def _mat(mat: Bars | Mesh) -> Data:
    """Spacing, diameter and top cover of bars or wires."""
    cover, name = (mat.top_cover.si if mat.top_cover else None), mat.size.name if isinstance(mat, Bars) else mat.style
    if isinstance(mat, Bars):
        spacing, diameter = mat.spacing.si, mat.size.diameter
    else:
        spacing, diameter = mat.wire_spacing, mat.wire_diameter
    return {"name": name, "spacing_m": spacing, "diameter_m": diameter, "top_cover_m": cover}


def _joints(plan: Plan, line: shapely.LineString) -> Iterator[Data]:
    for joint in plan.joints.all:
        if joint.counts:
            for at in _crossings(line, shapely.LineString(joint.line)):
                deep = joint.joint.depth.si if joint.joint.depth else None
                yield {"at_m": at, "name": joint.name, "kind": joint.joint.kind, "depth_m": deep}


def _ends(plan: Plan, line: shapely.LineString) -> Iterator[Data]:
    """Edges the line crosses, and what stands beside them there; at a corner the edge it crosses most squarely."""
    met: dict[float, tuple[float, Data]] = {}
    for piece in plan.edges.pieces:
        edge = shapely.LineString(piece.line)
        for at in _crossings(line, edge):
            place = float(edge.project(line.interpolate(at)))
            end = {"at_m": at, "name": piece.name, "beside": piece.beside, "isolation": piece.isolation is not None}
            end["ground_m"] = _ground_at(piece, place)
            square = _squareness(line, edge, place)
            if square > met.get(round(at, 3), (-1.0, end))[0] + 1e-9:
                met[round(at, 3)] = (square, end)
    for at in sorted(met):
        yield met[at][1]


def _ground_at(piece: EdgePiece, place: float) -> float | None:
    """Height of the ground beside an edge at a distance along it; None where the file does not give it."""
    if piece.ground is None:
        return None
    steps = [math.dist(a, b) for a, b in pairwise(piece.line)]
    return float(np.interp(place, [0.0, *accumulate(steps)], piece.ground))


def _squareness(line: shapely.LineString, edge: shapely.LineString, place: float) -> float:
    """How squarely two lines cross at a distance along the second: 1 at a right angle, 0 where they run together."""
    (ax, ay), (bx, by) = line.coords
    (cx, cy), (dx, dy) = (edge.interpolate(d).coords[0] for d in (max(0.0, place - 0.01), place + 0.01))
    size = math.dist((ax, ay), (bx, by)) * math.dist((cx, cy), (dx, dy))
    return abs((bx - ax) * (dy - cy) - (by - ay) * (dx - cx)) / size if size else 0.0


def _crossings(line: shapely.LineString, other: shapely.LineString) -> list[float]:
    """Where two lines meet in points, as distances along the first; ends that just touch count."""
    nearest = shapely.shortest_line(line, other)
    met = shapely.intersection(line, other)
    if met.is_empty and nearest.length < 1e-3:
        met = shapely.Point(nearest.coords[0])
    points = [part for part in shapely.get_parts(met) if isinstance(part, shapely.Point)]
    return sorted({round(float(line.project(point)), 6) for point in points})


def _fixed(plan: Plan, line: shapely.LineString) -> Iterator[Data]:
    """Heights that cannot move, where they lie on the line or just off it."""
    for fixed in plan.design.fixed:
        heights = [one.si for one in fixed.height]
        places = [(point.x, point.y) for point in fixed.along]
        near: Sequence[tuple[float, float]]
        if len(places) == 1:
            spot = shapely.Point(places[0])
            near = [(float(line.project(spot)), heights[0])] if line.distance(spot) <= _NEAR else []
        else:
            near = _on_line(line, places, heights if len(heights) > 1 else heights * len(places))
        for at, height in near:
            yield {"at_m": at, "name": fixed.name, "height_m": height}


def _on_line(line: shapely.LineString, places: Sequence[XY], heights: Sequence[float]) -> list[tuple[float, float]]:
    """Where a line of fixed heights comes nearest to the section, with its height there; none when it stays away."""
    along = shapely.LineString(places)
    if line.distance(along) > _NEAR:
        return []
    if shapely.intersection(line, along).length > 1e-6:  # it runs along the section: both its ends
        return [(float(line.project(shapely.Point(p))), h) for p, h in zip(places, heights, strict=True)]
    here, there = (shapely.Point(xy) for xy in shapely.shortest_line(line, along).coords)
    stations = [float(along.project(shapely.Point(place))) for place in places]
    height = float(np.interp(float(along.project(there)), stations, heights))
    return [(float(line.project(here)), height)]


def _spots(plan: Plan, line: shapely.LineString) -> Iterator[Data]:
    """Finish heights given on the line itself."""
    for spot in plan.design.heights.finish:
        at = shapely.Point(spot.at.x, spot.at.y)
        if line.distance(at) < 0.005:
            yield {"at_m": float(line.project(at)), "name": spot.at.name, "height_m": spot.height.si}
