"""Dimensions: chains along the sides with what meets them, whole sides further out, radii of arcs."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Any

import shapely

from slabwright.drawing.svg.lines import BAND, HATCHED, PAVED, line, outward
from slabwright.drawing.svg.place import Box, Room, overlap
from slabwright.drawing.svg.sheet import SMALL, TEXT, XY, View
from slabwright.drawing.svg.text import path_data, readable, text_element, text_width
from slabwright.units.quantity import System, eighths, length, show

Data = Mapping[str, Any]

_NEAR, _FAR = 8.0, 14.5  # mm from the side to the chain and to the whole length
_OUTER = 5.0  # mm further, where the first place is taken
_TICK = 1.4  # mm kept free round a tick
_CLEAR = 1.3  # the heaviest lines the words stand on while there is another place
_BEHIND = 0.9  # part of the depth behind the crown of a curved front that is slab
_ON_SIDE = 0.005  # m
_MOST_PARTS = 30
_AXES: Sequence[XY] = ((1.0, 0.0), (0.0, 1.0))  # along which a slab with no straight side is measured


def dimensions(drawing: Data, view: View, room: Room, system: System) -> tuple[list[str], int]:
    """Dimension lines and how many sides found no room for theirs."""
    slab = shapely.Polygon(view.line(drawing["outline"]))
    drawn: list[str] = []
    told: list[tuple[int, set[float]]] = []
    missing = 0
    for side in sorted(drawing["sides"], key=lambda one: -one["length_m"]):
        if side["through"]:
            strings = [list(_radius(side, view, room, slab, system))]
        else:
            strings = list(_straight(side, drawing, view, room, slab, told, system))
        missing += sum(not string for string in strings)
        drawn += [part for string in strings for part in string]
    curved = [side for side in drawing["sides"] if side["through"]]
    round_about = len(curved) == len(drawing["sides"])
    ways = _AXES if round_about else [way for side in curved if (way := _front(side, view, slab))]
    for way in ways:
        overall = _overall(way, view, room, slab, system)
        missing += not overall
        drawn += overall
    return drawn, missing


def _straight(
    side: Data,
    drawing: Data,
    view: View,
    room: Room,
    slab: shapely.Polygon,
    told: list[tuple[int, set[float]]],
    system: System,
) -> Iterator[list[str]]:
    """The strings of a straight side: between the joints that end on it, and the whole.

    One whose stations another side has ``told`` already is left out, as drafters do.
    """
    start, end = side["line"]
    beyond = BAND if _banded(side["line"], drawing) else 0.0
    along = _stations(start, end, drawing)
    strings = [(_NEAR, along)] if 2 < len(along) <= _MOST_PARTS + 1 else []
    strings.append((_FAR if strings else _NEAR, [0.0, side["length_m"]]))
    for offset, stops in strings:
        direction, places = _key(start, end, stops)
        if any(direction == other and _repeats(places, others) for other, others in told):
            continue
        texts = [as_taped(high - low, system) for low, high in pairwise(stops)]
        string = _string(view, room, slab, start, end, stops, texts, offset + beyond)
        if string:
            told.append((direction, places))
        yield string


def _repeats(places: set[float], others: set[float]) -> bool:
    """Whether a string shows nothing new: its places follow each other in a string that is drawn."""
    low, high = min(places), max(places)
    return places == {place for place in others if low <= place <= high}


def _banded(side: Sequence[XY], drawing: Data) -> bool:
    """Whether a band is drawn beside a side, so that dimensions stand beyond it."""
    run = shapely.LineString(side)
    return any(
        edge["beside"] in (*HATCHED, *PAVED)
        and run.distance(shapely.LineString(edge["line"]).interpolate(0.5, normalized=True)) < _ON_SIDE
        for edge in drawing["edges"]
    )


def _stations(start: XY, end: XY, drawing: Data) -> list[float]:
    """Distances along a side where joints end on it, both ends included."""
    size = math.dist(start, end)
    ux, uy = (end[0] - start[0]) / size, (end[1] - start[1]) / size
    found = [0.0, size]
    for joint in drawing["joints"]:
        if not joint["counts"]:
            continue
        for joint_end in joint["ends"]:
            x, y = joint_end["at"][0] - start[0], joint_end["at"][1] - start[1]
            along, off = x * ux + y * uy, abs(x * uy - y * ux)
            if off < _ON_SIDE and 0 < along < size:
                found.append(along)
    found.sort()
    return [at for k, at in enumerate(found) if k == 0 or at - found[k - 1] > 0.01]


def _key(start: XY, end: XY, along: Sequence[float]) -> tuple[int, set[float]]:
    """The direction of a side and its stations along that direction: alike for sides opposite each other."""
    direction = math.atan2(end[1] - start[1], end[0] - start[0]) % math.pi
    direction = 0.0 if math.pi - direction < 1e-6 else direction
    ux, uy = math.cos(direction), math.sin(direction)
    first = start[0] * ux + start[1] * uy
    forward = (end[0] - start[0]) * ux + (end[1] - start[1]) * uy > 0
    return round(math.degrees(direction) * 10), {round(first + (d if forward else -d), 2) for d in along}


def _string(
    view: View,
    room: Room,
    slab: shapely.Polygon,
    start: XY,
    end: XY,
    along: Sequence[float],
    texts: Sequence[str],
    offset: float,
) -> list[str]:
    """One string of dimensions beside a side, further out where there is no room; empty where there is none at all."""
    a, b = view.at(start), view.at(end)
    size = math.dist(a, b)
    if size < 1:
        return []
    ux, uy = (b[0] - a[0]) / size, (b[1] - a[1]) / size
    nx, ny = outward(a, b, slab)
    outs = (offset, offset + _OUTER, offset + 2 * _OUTER, -offset)
    for out, most in ((out, most) for group in (outs[:-1], outs[-1:]) for most in (_CLEAR, math.inf) for out in group):
        at = [(a[0] + ux * d * view.mm_per_m + nx * out, a[1] + uy * d * view.mm_per_m + ny * out) for d in along]
        run = shapely.LineString([at[0], at[-1]])
        if out > 0 and slab.buffer(-0.3).intersects(run):
            continue
        boxes = _boxes(at, texts, (ux, uy), room)
        ticks = [Box(*place, _TICK, _TICK) for place in at]
        if boxes is None or not all(room.free(box) for box in (*boxes, *ticks)):
            continue
        if any(room.crossed(box) > most for box in boxes):
            continue
        for box in (*boxes, *ticks):
            room.take(box)
        room.keep_clear([at[0], at[-1]], 2)
        for x, y in at:
            back = out - math.copysign(2.2, out)
            room.keep_clear([(x - nx * back, y - ny * back), (x, y)], 1.4)
        return _drawn(at, texts, boxes, (nx, ny), out, (ux, uy))
    return []


def _boxes(at: Sequence[XY], texts: Sequence[str], along: XY, room: Room) -> list[Box] | None:
    """Where the words of a string stand: over the middle of their part, read from below or from the right.

    A word wider than its part stands one line higher, over a neighbor where that is clearer. None where two would
    meet there.
    """
    angle = readable(math.degrees(math.atan2(along[1], along[0])))
    turn = math.radians(angle)
    up = (math.sin(turn), -math.cos(turn))
    size = TEXT if all(text_width(t, TEXT) < math.dist(p, q) - 0.8 for (p, q), t in _parts(at, texts)) else SMALL
    boxes: list[Box] = []
    for (p, q), text in _parts(at, texts):
        width = text_width(text, size)
        narrow = len(texts) > 1 and width > math.dist(p, q) - 0.3
        lift = size * (1.6 if narrow else 0.5) + 0.55
        x, y = (p[0] + q[0]) / 2 + up[0] * lift, (p[1] + q[1]) / 2 + up[1] * lift
        aside = (0.0, 0.5 * width + 0.4, -0.5 * width - 0.4) if narrow else (0.0,)
        places = [Box(x + along[0] * d, y + along[1] * d, width, size, angle) for d in aside]
        boxes.append(room.best(places, _CLEAR) or places[0])
        if any(overlap(boxes[-1], other) for other in boxes[:-1]):
            return None
    return boxes


def _parts(at: Sequence[XY], texts: Sequence[str]) -> Iterator[tuple[tuple[XY, XY], str]]:
    return zip(pairwise(at), texts, strict=True)


def _drawn(
    at: Sequence[XY], texts: Sequence[str], boxes: Sequence[Box], out: XY, offset: float, along: XY
) -> list[str]:
    """Dimension line with slanted ticks, extension lines with a gap at the slab, and the words."""
    first = 2.2 if offset > 0 else -1.0
    beyond = math.copysign(1.5, offset)
    lines = path_data([at[0], at[-1]])
    slant = (along[0] + out[0]) * 0.9, (along[1] + out[1]) * 0.9
    for x, y in at:
        base = (x - out[0] * (offset - first), y - out[1] * (offset - first))
        lines += path_data([base, (x + out[0] * beyond, y + out[1] * beyond)])
    ticks = "".join(path_data([(x - slant[0], y - slant[1]), (x + slant[0], y + slant[1])]) for x, y in at)
    drawn = [f'<path class="line fine" d="{lines}"/>', f'<path class="line tick" d="{ticks}"/>']
    for box, text in zip(boxes, texts, strict=True):
        drawn.append(boxed_text(box, text))
    return drawn


def boxed_text(box: Box, text: str, kind: str = "halo", bold: bool = False) -> str:
    """A line of text in the middle of its box; the height of the box is the size of the letters."""
    turn = math.radians(box.angle)
    x, y = box.x - math.sin(turn) * box.height * 0.26, box.y + math.cos(turn) * box.height * 0.26
    return text_element(text, x, y, box.height, "middle", box.angle, kind, bold)


def _radius(side: Data, view: View, room: Room, slab: shapely.Polygon, system: System) -> Iterator[str]:
    """The radius of an arc, on a leader from its middle."""
    at = view.at(side["through"])
    text = f"R {as_taped(side['radius_m'], system)}"
    a, b = view.line(side["line"])
    width = text_width(text, TEXT)
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    size = math.dist(at, middle) or 1.0
    dx, dy = (at[0] - middle[0]) / size, (at[1] - middle[1]) / size
    if slab.contains(shapely.Point(at[0] + dx * 0.05, at[1] + dy * 0.05)):
        dx, dy = -dx, -dy
    for reach in (6.0, 9.0, 12.0, 16.0):
        tip = (at[0] + dx * reach, at[1] + dy * reach)
        box = Box(tip[0] + dx * width / 2, tip[1] + dy * TEXT / 2, width, TEXT)
        if room.free(box):
            room.take(box)
            yield line([at, tip], "leader")
            yield boxed_text(box, text)
            return


def _front(side: Data, view: View, slab: shapely.Polygon) -> XY | None:
    """The way out of the slab square to a curved front.

    None where the arc bulges inward, or where no slab lies behind its crown: a walk in a curve has no depth to tape.
    """
    a, b = view.line(side["line"])
    crown = view.at(side["through"])
    size = math.dist(a, b)
    nx, ny = (b[1] - a[1]) / size, (a[0] - b[0]) / size
    if (crown[0] - a[0]) * nx + (crown[1] - a[1]) * ny < 0:
        nx, ny = -nx, -ny
    if slab.contains(shapely.Point(crown[0] + nx * 0.05, crown[1] + ny * 0.05)):
        return None
    deep = [x * nx + y * ny for x, y in slab.exterior.coords]
    whole = max(deep) - min(deep)
    behind = shapely.LineString([crown, (crown[0] - nx * whole, crown[1] - ny * whole)])
    return None if behind.intersection(slab).length < _BEHIND * whole else (nx, ny)


def _overall(way: XY, view: View, room: Room, slab: shapely.Polygon, system: System) -> list[str]:
    """How far the slab reaches along ``way``, drawn beside it where there is room; empty where there is none."""
    nx, ny = way
    ux, uy = -ny, nx
    deep, along = ([x * dx + y * dy for x, y in slab.exterior.coords] for dx, dy in ((nx, ny), (ux, uy)))
    total = (max(deep) - min(deep)) / view.mm_per_m
    for beside, turn in ((max(along), 1.0), (min(along), -1.0)):
        low, high = (
            ((nx * d + ux * beside - view.left) / view.mm_per_m, (view.base - ny * d - uy * beside) / view.mm_per_m)
            for d in (min(deep), max(deep))
        )
        out = (view.at(high)[1] - view.at(low)[1]) * ux - (view.at(high)[0] - view.at(low)[0]) * uy
        start, end = (low, high) if out * turn > 0 else (high, low)
        text = [f"{as_taped(total, system)} overall"]
        string = _string(view, room, slab, start, end, [0.0, total], text, _NEAR)
        if string:
            return string
    return []


def as_taped(m: float, system: System) -> str:
    """A length as a tape reads it: feet, inches and eighths, to the nearest; or meters.

    >>> print(as_taped(11.67 * 0.3048, "us"))
    11'-8"
    """
    return eighths(m) if system == "us" else show(length(m), system, both=False)
