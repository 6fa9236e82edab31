"""Reinforcement, schematic: a patch of the mat at its true spacing, and bars across corners."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import Any

import shapely

from slabwright.drawing.svg.lines import line
from slabwright.drawing.svg.place import Box, Room
from slabwright.drawing.svg.sheet import View

Data = Mapping[str, Any]

_PATCH = 15.0  # mm: how much of the mat is drawn, at most
_LEAST = 1.0  # mm between two bars on paper
_MOST_BARS = 7


def steel(drawing: Data, view: View, room: Room) -> Iterator[str]:
    """Bars in one panel where the drawing is emptiest, and every corner bar."""
    found = drawing["steel"]
    if not found:
        return
    mat = found["bars"] or found["mesh"]
    if mat:
        yield from _mat(mat["spacing_m"] * view.mm_per_m, drawing, view, room)
    for bars in found["corner_bars"]:
        x, y = view.at(bars["at"])
        turn = math.radians(bars["across_deg"])
        half = bars["length_m"] * view.mm_per_m / 2
        dx, dy = half * math.cos(turn), -half * math.sin(turn)
        slab = shapely.Polygon(view.line(drawing["outline"]))
        inward = shapely.shortest_line(shapely.Point(x, y), shapely.Point(_inside(slab, x, y)))
        (x0, y0), (x1, y1) = inward.coords[0], inward.coords[-1]
        size = math.dist((x0, y0), (x1, y1)) or 1.0
        for k in range(bars["count"]):
            off = 1.6 + 1.3 * k
            ox, oy = (x1 - x0) / size * off, (y1 - y0) / size * off
            yield line([(x + ox - dx, y + oy - dy), (x + ox + dx, y + oy + dy)], "corner-bar")


def _inside(slab: shapely.Polygon, x: float, y: float) -> tuple[float, float]:
    """The middle of the concrete round a corner."""
    around = shapely.intersection(shapely.Point(x, y).buffer(2.0), slab).centroid
    return float(around.x), float(around.y)


def _mat(spacing: float, drawing: Data, view: View, room: Room) -> Iterator[str]:
    """A square of bars each way, with its place taken."""
    step = max(spacing, _LEAST)
    count = max(2, min(_MOST_BARS, int(_PATCH / step) + 1))
    size = (count - 1) * step + 2.0
    for panel in sorted(drawing["panels"], key=lambda one: -one["short_side_m"])[:40]:
        shape = shapely.Polygon(view.line(panel["ring"]), [view.line(hole) for hole in panel["holes"]])
        x0, y0, x1, y1 = shape.bounds
        for fx, fy in ((0, 1), (1, 1), (0, 0), (1, 0)):
            reach = size / 2 + 3.2
            box = Box(x0 + reach + fx * (x1 - x0 - 2 * reach), y0 + reach + fy * (y1 - y0 - 2 * reach), size, size)
            if shape.contains(shapely.Polygon(box.corners())) and room.free(box):
                room.take(box)
                for k in range(count):
                    at = -size / 2 + 1.0 + k * step
                    yield line([(box.x - size / 2, box.y + at), (box.x + size / 2, box.y + at)], "steel")
                    yield line([(box.x + at, box.y - size / 2), (box.x + at, box.y + size / 2)], "steel")
                return
