"""The plan's linework: concrete, openings, edges, joints, water, contours, steel, fixtures. No words."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Any

import shapely

from slabwright.drawing.svg.place import Box, Room
from slabwright.drawing.svg.sheet import WATER_SHADES, XY, View
from slabwright.drawing.svg.text import escaped, number, path_data

Data = Mapping[str, Any]

BAND = 4.0  # mm: how wide what stands beside is drawn
HATCHED = frozenset({"building", "wall"})
PAVED = ("existing slab", "asphalt")
_BANDED = {"existing slab": "there", "asphalt": "asphalt", "curb": "", "step": ""}
_APART = 5.0  # mm: a way of water that begins nearer to another says the same
_OFF, _PAST = 1.3, 7.0  # mm: how far off the edge a property line is drawn, and how far past its ends
_BAR = 1.6  # mm between the bars of a grate
_CLOSE = 3.0  # mm: panels no wider than this are drawn with thin joints
_INSET = 1.7  # mm: how far inside its edge a pour is outlined
_TICK = 1.5  # mm between the ticks of isolation


def line(points: Sequence[XY], kind: str, closed: bool = False, extra: str = "") -> str:
    """One line of the drawing."""
    return f'<path class="line {kind}" d="{path_data(points, closed)}"{extra}/>'


def rings_path(view: View, rings: Sequence[Sequence[Sequence[float]]]) -> str:
    """The path of several rings together."""
    return "".join(path_data(view.line(ring[:-1]), closed=True) for ring in rings)


def concrete(drawing: Data, view: View) -> Iterator[str]:
    """The slab's tone, openings left out."""
    rings = [drawing["outline"], *(opening["ring"] for opening in drawing["openings"])]
    yield f'<path class="concrete" d="{rings_path(view, rings)}"/>'


def stalls(drawing: Data, view: View, ids: str) -> Iterator[str]:
    """The lines of accessible stalls, and their aisles striped."""
    for one in drawing["stalls"]:
        ring = view.line(one["ring"])[:-1]
        if one["kind"] == "aisle":
            yield f'<path fill="url(#{ids}-aisle)" d="{path_data(ring, closed=True)}"/>'
        yield line(ring, "stall", closed=True)


def outline(drawing: Data, view: View, room: Room) -> Iterator[str]:
    """The thick outline and the openings."""
    ring = view.line(drawing["outline"])
    room.keep_clear(ring, 3)
    yield f'<path class="outline" d="{path_data(ring[:-1], closed=True)}"/>'
    for opening in drawing["openings"]:
        ring = view.line(opening["ring"])
        room.keep_clear(ring, 3)
        yield f'<path class="opening" data-name="{escaped(opening["name"])}" d="{path_data(ring[:-1], closed=True)}"/>'


def panels(drawing: Data, view: View) -> Iterator[str]:
    """Every panel as a shape a page can point at; the joints draw its edges."""
    for panel in drawing["panels"]:
        rings = [panel["ring"], *panel["holes"]]
        yield f'<path class="panel" fill="none" data-panel="{panel["name"]}" d="{rings_path(view, rings)}"/>'


def edges(drawing: Data, view: View, room: Room, ids: str) -> Iterator[str]:
    """What stands beside the slab: walls hatched, other rigid things as a plain band."""
    slab = shapely.Polygon(view.line(drawing["outline"]))
    for edge in drawing["edges"]:
        kind = edge["beside"]
        if kind == "property line":
            yield from _property_line(view.line(edge["line"]), slab, room)
        if kind not in HATCHED and kind not in _BANDED:
            continue
        width = BAND if kind in HATCHED or kind in PAVED else BAND / 2.5
        band = _band(view.line(edge["line"]), slab, width)
        fill = f"url(#{ids}-wall)" if kind in HATCHED else f"url(#{ids}-{_BANDED[kind]})" if _BANDED[kind] else "#fff"
        for part in shapely.get_parts(band):
            if isinstance(part, shapely.Polygon):
                ring = [(x, y) for x, y in part.exterior.coords]
                room.keep_clear(ring, 2)
                named = f' data-edge="{escaped(edge["name"])}"'
                mark = ' data-hatch="wall"' if kind in HATCHED else ""
                yield f'<path d="{path_data(ring[:-1], True)}" fill="{fill}"{named}{mark}/>'
                yield line(ring[:-1], "band", closed=True)
        for start, end in pairwise(view.line(edge["line"])):
            _take_strip(start, end, slab, width, room)


def _property_line(points: Sequence[XY], slab: shapely.Polygon, room: Room) -> Iterator[str]:
    """The line of the lot just off the edge and past both its ends: a long dash and two short ones."""
    (ax, ay), (bx, by) = points[0], points[-1]
    size = math.dist((ax, ay), (bx, by))
    if size < 0.5:
        return
    ux, uy = (bx - ax) / size, (by - ay) / size
    nx, ny = outward((ax, ay), (bx, by), slab)
    beside = [(x + nx * _OFF, y + ny * _OFF) for x, y in points]
    ends = [(beside[0][0] - ux * _PAST, beside[0][1] - uy * _PAST), *beside]
    ends.append((beside[-1][0] + ux * _PAST, beside[-1][1] + uy * _PAST))
    room.keep_clear(ends, 1.4)
    yield line(ends, "property")


def _band(points: Sequence[XY], slab: shapely.Polygon, width: float) -> shapely.Geometry:
    """The strip beside an edge, off the slab."""
    run = shapely.LineString(points)
    return shapely.difference(run.buffer(width, cap_style="flat", join_style="mitre"), slab.buffer(1e-6))


def _take_strip(start: XY, end: XY, slab: shapely.Polygon, width: float, room: Room) -> None:
    """Keep labels off the strip beside one straight piece of an edge."""
    if math.dist(start, end) < 0.5:
        return
    nx, ny = outward(start, end, slab)
    inner, outer = ((x + nx * width / 2, y + ny * width / 2) for x, y in (start, end))
    room.take_line(inner, outer, width)


def outward(start: XY, end: XY, slab: shapely.Polygon) -> XY:
    """The unit vector on paper that points from a straight side away from the concrete."""
    size = math.dist(start, end)
    nx, ny = (end[1] - start[1]) / size, (start[0] - end[0]) / size
    probe = shapely.Point((start[0] + end[0]) / 2 + nx * 0.05, (start[1] + end[1]) / 2 + ny * 0.05)
    return (-nx, -ny) if slab.contains(probe) else (nx, ny)


def isolation(drawing: Data, view: View, room: Room) -> Iterator[str]:
    """Isolation at edges, openings and fixtures: a heavy line with ticks."""
    for thing in (*drawing["edges"], *drawing["openings"]):
        if thing["isolation"]:
            points = view.line(thing.get("line") or thing["ring"])
            yield from _ticked(points)
            _take_along(points, room)
    for fixture in drawing["fixtures"]:
        if fixture["isolation"] and fixture["kind"] == "channel":
            run = shapely.LineString(view.line(fixture["line"]))
            for side in (1, -1):
                points = [(x, y) for x, y in run.offset_curve(side * (_reach(fixture, view) + 0.7)).coords]
                yield from _ticked(points)
                _take_along(points, room)
        elif fixture["isolation"] and not fixture["line"]:
            x, y = view.at(fixture["at"])
            reach = _reach(fixture, view) + 0.7
            ring = [(x + reach * math.cos(k * math.pi / 12), y + reach * math.sin(k * math.pi / 12)) for k in range(25)]
            yield from _ticked(ring)


def _take_along(points: Sequence[XY], room: Room) -> None:
    for start, end in pairwise(points):
        room.take_line(start, end, 2.0)


def _ticked(points: Sequence[XY]) -> Iterator[str]:
    yield line(points, "isolation")
    run = shapely.LineString(points)
    count = max(1, round(run.length / _TICK))
    places = ((k + 0.5) * run.length / count for k in range(count))
    ticks = "".join(_across(run, at, max(0.0, at - 0.05), 1.0) for at in places)
    yield f'<path class="line isolation-tick" d="{ticks}"/>'


def _across(run: shapely.LineString, at: float, before: float, reach: float) -> str:
    """A stroke ``reach`` mm to each side of a line, square to its way from the distance ``before`` to ``at``."""
    (x, y), (x1, y1) = (run.interpolate(d).coords[0] for d in (at, before))
    along = math.dist((x, y), (x1, y1)) or 1.0
    dx, dy = (y - y1) / along * reach, (x1 - x) / along * reach
    return path_data([(x - dx, y - dy), (x + dx, y + dy)])


def joints(drawing: Data, view: View, room: Room) -> Iterator[str]:
    """Joints by kind; where they lie so close on paper that their dashes would run together, thin and whole."""
    slab = float(shapely.Polygon(view.line(drawing["outline"])).area)
    dense = " dense" if len(drawing["panels"]) * _CLOSE**2 > slab else ""
    for joint in drawing["joints"]:
        points = view.line(joint["line"])
        room.keep_clear(points, 1.5 if joint["counts"] else 0.2)
        kind = joint["kind"].replace(" ", "-")
        two = kind in ("formed-strip", "construction-joint")
        drawn = line(points, kind if two else kind + dense)
        if two:
            drawn += line(points, f"{kind}-gap")
        yield f'<g data-joint="{escaped(joint["name"])}" data-kind="{escaped(joint["kind"])}">{drawn}</g>'


def water(drawing: Data, view: View, ids: str) -> Iterator[str]:
    """Standing water, the deeper the darker and the denser hatched; and the ways water takes."""
    for pond in drawing["ponds"]:
        shapes = "".join(
            f'<path fill-rule="evenodd" fill="url(#{ids}-water-{min(level, len(WATER_SHADES))})" '
            f'data-deeper-m="{band["deeper_m"]:.4f}" d="{rings_path(view, band["rings"])}"/>'
            for level, band in enumerate(pond["bands"], 1)
        )
        shore = f'<path class="shore" d="{rings_path(view, pond["rings"])}"/>'
        yield f'<g data-pond="{escaped(pond["name"])}">{shapes}{shore}</g>'


def trails(drawing: Data, view: View, room: Room) -> Iterator[str]:
    """The ways water takes, each with an arrow head on its longest straight piece."""
    drawn: list[shapely.LineString] = []
    for trail in drawing["trails"]:
        points = view.line(trail["line"])
        run = shapely.LineString(points)
        beginning = shapely.Point(points[0])
        if run.length < 6 or any(other.distance(beginning) < _APART for other in drawn):
            continue
        drawn.append(run)
        room.keep_clear(points, 0.3)
        yield line(points, "trail")
        start, end = max(pairwise(points), key=lambda piece: math.dist(*piece))
        yield head(start, (start[0] * 0.4 + end[0] * 0.6, start[1] * 0.4 + end[1] * 0.6), 1.8)


def head(start: XY, tip: XY, size: float) -> str:
    """An arrow head at ``tip``, pointing away from ``start``."""
    length = math.dist(start, tip) or 1.0
    dx, dy = (tip[0] - start[0]) / length, (tip[1] - start[1]) / length
    back = (tip[0] - dx * size, tip[1] - dy * size)
    wing = size * 0.32
    corners = [tip, (back[0] - dy * wing, back[1] + dx * wing), (back[0] + dy * wing, back[1] - dx * wing)]
    return f'<path class="fall-head" d="{path_data(corners, closed=True)}"/>'


def contours(drawing: Data, view: View, room: Room) -> Iterator[str]:
    """Contours and the lines the surface folds along."""
    for contour in (drawing["contours"] or {"lines": []})["lines"]:
        points = view.line(contour["line"])
        room.keep_clear(points, 0.4)
        yield line(points, "contour", extra=f' data-height-m="{contour["height_m"]:.5f}"')
    for fold in drawing["height_lines"]:
        points = view.line(fold["line"])
        room.keep_clear(points, 1.4)
        yield line(points, "fold", extra=f' data-kind="{escaped(fold["kind"])}"')


def thickened(drawing: Data, view: View, room: Room) -> Iterator[str]:
    """Where thickened edges end under the slab: hidden lines."""
    slab = shapely.Polygon(view.line(drawing["outline"]))
    for edge in drawing["thickened"]:
        run = shapely.LineString(view.line(edge["line"]))
        for reach in sorted({edge["width_m"], edge["width_m"] + edge["taper_m"]} - {0.0}):
            under = run.buffer(reach * view.mm_per_m, cap_style="flat", join_style="mitre")
            edge_of = shapely.intersection(shapely.boundary(under), slab.buffer(-0.4))
            away = shapely.difference(edge_of, run.buffer(0.6))
            yield from _hidden(shapely.line_merge(away) if not away.is_empty else away, room)


def _hidden(lines: shapely.Geometry, room: Room) -> Iterator[str]:
    """What lies under the slab: hidden lines, but for scraps."""
    for part in shapely.get_parts(lines):
        if isinstance(part, shapely.LineString) and part.length > 3:
            points = [(x, y) for x, y in part.coords]
            room.keep_clear(points, 0.5)
            yield line(points, "hidden")


def steps(drawing: Data, view: View, room: Room) -> Iterator[str]:
    """Flights of steps: every tread and landing, and the walking line with its arrow up."""
    for flight in drawing["steps"]:
        drawn = "".join(
            f'<path class="opening" d="{path_data(view.line(tread)[:-1], True)}"/>' for tread in flight["treads"]
        )
        way = view.line(flight["way"])
        room.keep_clear(way, 1.0)
        for nosing in flight["nosings"]:
            room.keep_clear(view.line(nosing), 0.4)
        drawn += line(way, "") + head(way[-2], way[-1], 2.2)
        yield f'<g data-steps="{escaped(flight["name"])}">{drawn}</g>'


def areas(drawing: Data, view: View, room: Room) -> Iterator[str]:
    """Where parts of other use, thickness or steel end inside the slab, and where tapers end: hidden lines."""
    inside = shapely.Polygon(view.line(drawing["outline"])).buffer(-0.4)
    ends = [shapely.LineString(view.line(ring)) for area in drawing["areas"] if area["part"] for ring in area["rings"]]
    ends += [shapely.LineString(view.line(ring)) for taper in drawing["tapers"] for ring in taper["rings"]]
    for end in ends:
        yield from _hidden(shapely.intersection(end, inside), room)


def pours(drawing: Data, view: View, room: Room) -> Iterator[str]:
    """What each of several pours places, outlined just inside its edge."""
    for pour in drawing["pours"]:
        for ring in pour["rings"]:
            inner = shapely.Polygon(view.line(ring)).buffer(-_INSET, join_style="mitre")
            for part in shapely.get_parts(inner):
                if isinstance(part, shapely.Polygon) and part.area > 0:
                    points = [(x, y) for x, y in part.exterior.coords]
                    room.keep_clear(points, 0.5)
                    yield line(points[:-1], "pour", closed=True, extra=f' data-pour-area="{escaped(pour["name"])}"')


def fixtures(drawing: Data, view: View, room: Room) -> Iterator[str]:
    """Drains, posts, columns and the rest, each with a sign of its own, at least big enough to see."""
    for fixture in drawing["fixtures"]:
        at, reach = view.at(fixture["at"]), _reach(fixture, view)
        if fixture["kind"] == "channel":
            drawn = _channel(fixture, view, room)
        elif fixture["line"]:
            start, *_, end = view.line(fixture["line"])
            room.keep_clear([start, end], 2)
            drawn = line([start, end], "outline")
        else:
            room.take(Box(*at, 2 * reach + 1, 2 * reach + 1))
            drawn = _sign(fixture["kind"], at, reach)
        yield f'<g data-fixture="{escaped(fixture["name"])}" data-kind="{fixture["kind"]}">{drawn}</g>'


def _channel(fixture: Data, view: View, room: Room) -> str:
    """A channel: its two sides, the bars of the grate across, and an arrow down to each place where it lets out."""
    points, reach = view.line(fixture["line"]), _reach(fixture, view)
    run = shapely.LineString(points)
    room.keep_clear(points, 2 * reach)
    ring = [(x, y) for x, y in run.buffer(reach, cap_style="flat", join_style="mitre").exterior.coords]
    drawn = f'<path class="opening" d="{path_data(ring[:-1], True)}"/>'
    part = run.length / (count := max(2, round(run.length / _BAR)))
    bars = "".join(_across(run, k * part, (k - 0.1) * part, reach) for k in range(1, count))
    drawn += f'<path class="line" d="{bars}"/>'
    for at in map(view.at, fixture["outlets"]):
        far = max(points, key=lambda point: math.dist(point, at))
        drawn += head(far, at, 3.0)
    return drawn


def _reach(fixture: Data, view: View) -> float:
    """Half the size of a fixture on paper, mm."""
    return max(1.2, (fixture["size_m"] or 0.0) / 2 * view.mm_per_m)


def _sign(kind: str, at: XY, reach: float) -> str:
    x, y = at
    square = [(x - reach, y - reach), (x + reach, y - reach), (x + reach, y + reach), (x - reach, y + reach)]
    circle = f'<circle cx="{number(x)}" cy="{number(y)}" r="{number(reach)}" fill="#fff" stroke="#000"'
    cross = path_data([square[0], square[2]]) + path_data([square[1], square[3]])
    match kind:
        case "drain":
            return f'<path class="opening" d="{path_data(square, True)}"/><path class="line" d="{cross}"/>'
        case "post":
            return f'<path class="solid" d="{path_data(square, True)}"/>'
        case "column":
            half = f'<path class="solid" d="{path_data(square[:3], True)}"/>'
            return f'<path class="opening" d="{path_data(square, True)}"/>' + half
        case "cleanout" | "meter" | "valve":
            return f'{circle} stroke-width=".3"/><circle cx="{number(x)}" cy="{number(y)}" r=".4"/>'
        case _:
            return f'{circle} stroke-width=".3"/>' + head((x, y - reach), (x, y + reach * 0.8), reach * 1.4)
