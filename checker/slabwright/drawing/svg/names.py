"""Names: of joints, panels, edges, openings, fixtures and low spots; and what the steel is."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from itertools import chain
from typing import Any

import shapely

from slabwright.drawing.svg.labels import CLEAR, Lettering, beside, name_at, put
from slabwright.drawing.svg.lines import BAND, HATCHED, PAVED
from slabwright.drawing.svg.place import Box
from slabwright.drawing.svg.sheet import SMALL, TEXT
from slabwright.drawing.svg.text import shortened, text_width
from slabwright.source.clean import clean
from slabwright.units.quantity import System, depth, length, show

Data = Mapping[str, Any]


_ACROSS = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88)  # how far along and down an area its name is tried


def joint_names(on: Lettering) -> Iterator[str]:
    """The name of every joint, along it."""
    for joint in on.drawing["joints"]:
        points = on.view.line(joint["line"])
        text = shortened(joint["name"], 30, TEXT, True)
        width = text_width(text, TEXT, True)
        box = on.room.best(beside(points, width, TEXT, TEXT / 2 + 1.0), 0.0, CLEAR)
        yield put(on, box, "joint names", text, "halo", True)


def panel_names(on: Lettering) -> Iterator[str]:
    """The name of every panel, in it."""
    for panel in on.drawing["panels"]:
        at = on.view.at(panel["at"])
        ring = on.view.line(panel["ring"])
        text = panel["name"]
        width = text_width(text, TEXT)
        shape = shapely.Polygon(ring, [on.view.line(hole) for hole in panel["holes"]])
        x0, y0, x1, y1 = shape.bounds
        corners = (
            Box(x0 + fx * (x1 - x0), y0 + fy * (y1 - y0), width, TEXT)
            for fx, fy in ((0.2, 0.8), (0.8, 0.8), (0.2, 0.2), (0.8, 0.2), (0.5, 0.85), (0.5, 0.15), (0.5, 0.35))
        )
        square = shape.area > 0.999999 * (x1 - x0) * (y1 - y0)
        inside = (b for b in chain(corners, [Box(*at, width, TEXT)]) if _within(b, shape, (x0, y0, x1, y1), square))
        yield put(on, on.room.best(inside, 0.0, CLEAR), "panel names", text, "halo quiet")


def _within(box: Box, shape: shapely.Polygon, bounds: tuple[float, float, float, float], square: bool) -> bool:
    """Whether a level box lies in a panel; most panels are rectangles, which their bounds decide."""
    x0, y0, x1, y1 = bounds
    w, h = box.width / 2, box.height / 2
    in_bounds = x0 + w < box.x < x1 - w and y0 + h < box.y < y1 - h
    return in_bounds and (square or bool(shape.contains(shapely.Polygon(box.corners()))))


def edge_names(on: Lettering) -> Iterator[str]:
    """What stands beside each edge, in words, just outside."""
    slab = shapely.Polygon(on.view.line(on.drawing["outline"]))
    shapely.prepare(slab)
    named: set[tuple[str, int]] = set()
    for edge in sorted(on.drawing["edges"], key=lambda one: -one["length_m"]):
        points = on.view.line(edge["line"])
        turned = math.degrees(math.atan2(points[-1][1] - points[0][1], points[-1][0] - points[0][0]))
        said = (edge["name"] if edge["named"] else edge["beside"], round(turned / 20))
        if not edge["beside"] or said in named:  # a run in several pieces is named once on each side
            continue
        named.add(said)
        room = max(shapely.LineString(points).length, 12.0)
        texts = [edge["name"], edge["beside"]] if edge["named"] else [edge["beside"]]
        if edge["named"] and edge["beside"] not in edge["name"]:
            texts.insert(0, f"{edge['name']} ({edge['beside']})")
        fitting = [text for text in texts if text_width(clean(text), TEXT) <= room]
        for text in [*map(clean, fitting)] or [shortened(texts[0], room, TEXT)]:
            banded = edge["beside"] in (*HATCHED, *PAVED)
            lifts = (BAND + 2.0, BAND + 4.4) if banded else (2.6, 5.0)
            boxes = (b for lift in lifts for b in beside(points, text_width(text, TEXT), TEXT, lift))
            outside = (b for b in boxes if not slab.intersects(shapely.Polygon(b.corners())))
            box = on.room.best(outside, 0.5, CLEAR)
            if box:
                break
        yield put(on, box, "names of edges", text, "halo quiet")


def opening_names(on: Lettering) -> Iterator[str]:
    """The name of every opening, in it where it fits, else on a leader."""
    for opening in on.drawing["openings"]:
        yield _in_ring(on, opening, "names of openings")


def stall_names(on: Lettering) -> Iterator[str]:
    """The name of every accessible stall; the stripes of an aisle say what it is."""
    for stall in (one for one in on.drawing["stalls"] if one["kind"] == "stall"):
        yield _in_ring(on, stall, "names of stalls")


def _in_ring(on: Lettering, thing: Data, what: str) -> str:
    """The name of a thing with a ring, in it where it fits."""
    shape = shapely.Polygon(on.view.line(thing["ring"]))
    at = next((x, y) for x, y in shape.representative_point().coords)
    return name_at(on, thing["name"], at, what, math.sqrt(shape.area) / 2)


def area_names(on: Lettering) -> Iterator[str]:
    """The name of every part of the slab that differs from the rest, with its use, thickness and own steel."""
    for area in on.drawing["areas"]:
        if area["part"]:
            thick = show(depth(area["thickness_m"]), on.system, both=False)
            name = area["name"].removeprefix("the ")
            said = [name, "" if area["use"] in name else area["use"], thick, area["steel"]]
            yield name_at(on, ", ".join(filter(None, said)), on.view.at(area["at"]), "names of parts", 6.0)


def pour_names(on: Lettering) -> Iterator[str]:
    """The name and day of every pour, where there are several."""
    for pour in on.drawing["pours"]:
        name = pour["name"] if "pour" in pour["name"] else f"pour {pour['name']}"
        words = f"{name}, {pour['day']}" if pour["day"] else name
        text = shortened(words, 56, SMALL)
        width = text_width(text, SMALL)
        shape = shapely.Polygon(on.view.line(max(pour["rings"], key=lambda ring: shapely.Polygon(ring).area)))
        x0, y0, x1, y1 = shape.bounds
        places = [(x0 + fx * (x1 - x0), y0 + fy * (y1 - y0)) for fy in _ACROSS for fx in _ACROSS]
        boxes = (Box(x, y, width, SMALL, angle) for angle in (0, -90) for x, y in places)
        box = on.room.best((b for b in boxes if shape.contains(shapely.Polygon(b.corners()))), 0.0, CLEAR)
        if box:
            yield put(on, box, "names of pours", text)
        else:
            yield name_at(on, words, on.view.at(pour["at"]), "names of pours", 6.0)


def fixture_names(on: Lettering) -> Iterator[str]:
    """The name of every fixture; that of a channel along it where it finds room there."""
    for fixture in on.drawing["fixtures"]:
        if fixture["kind"] == "channel":
            text = shortened(fixture["name"], 56, SMALL)
            reach = max(1.2, fixture["size_m"] / 2 * on.view.mm_per_m)
            along = beside(on.view.line(fixture["line"]), text_width(text, SMALL), SMALL, reach + SMALL / 2 + 0.8)
            box = on.room.best(along, 0.0, CLEAR)
            if box:
                yield put(on, box, "names of fixtures", text)
                continue
        yield name_at(on, fixture["name"], on.view.at(fixture["at"]), "names of fixtures", 3.0)


def steps_names(on: Lettering) -> Iterator[str]:
    """The name of every flight of steps, and how many risers go up it."""
    for flight in on.drawing["steps"]:
        risers = f"{flight['risers']} riser{'s' * (flight['risers'] > 1)}"
        yield name_at(on, f"{flight['name']}, up {risers}", on.view.at(flight["way"][0]), "names of steps", 3.0)


def pond_names(on: Lettering) -> Iterator[str]:
    """How deep water stands in every low spot."""
    for pond in on.drawing["ponds"]:
        text = f"{pond['name']}: {show(depth(pond['depth_m']), on.system, both=False)} deep"
        yield name_at(on, text, on.view.at(pond["deepest"]), "names of low spots", 4.0)


def steel_note(steel: Data, system: System) -> str:
    """What the reinforcement is, in one line."""
    parts = []
    for kind in ("bars", "mesh"):
        mat = steel[kind]
        if mat:
            name = mat["size"] if kind == "bars" else f"mesh {mat['size']}"
            spacing = f" at {show(depth(mat['spacing_m']), system, both=False)} each way" if kind == "bars" else ""
            cover = mat["top_cover_m"]
            top = f", {show(depth(cover), system, both=False)} top cover" if cover is not None else ""
            held = f", on {mat['held_by']}" if mat["held_by"] in ("chairs", "concrete blocks", "stakes") else ""
            stop = f", at joints: {mat['at_joints']}" if mat["at_joints"] else ""
            parts.append(name + spacing + top + held + stop)
    if steel["fiber"]:
        parts.append(f"{steel['fiber']['kind']} fiber")
    for bars in steel["corner_bars"][:1]:
        long = show(length(bars["length_m"]), system, both=False)
        parts.append(f"{bars['count']} {bars['size']} x {long} across corners")
    return "; ".join(parts) or ("no reinforcement" if steel["none"] else "")
