"""Heights and falls: spot heights, arrows downhill, heights of contours, folds, heights that cannot move."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import shapely

from slabwright.drawing.svg.dimensions import boxed_text
from slabwright.drawing.svg.labels import CLEAR, Data, Lettering, bare_height, beside, leader, led, name_at, put
from slabwright.drawing.svg.lines import head, line
from slabwright.drawing.svg.place import Box, around, rings
from slabwright.drawing.svg.sheet import SMALL, TEXT, XY
from slabwright.drawing.svg.text import path_data, readable, shortened, text_width
from slabwright.units.quantity import show, slope

_MANY, _CELL = 300, 15.0  # of more spots than these, one is shown in each square of so many mm
_SHORT = 5  # letters: a longer name of a point is left to the file


def spot_heights(on: Lettering) -> Iterator[str]:
    """A small cross and the finish height beside it."""
    spots = on.drawing["spots"]
    many = len(spots) > _MANY
    cells: set[tuple[int, int]] = set()
    for spot in spots:
        x, y = on.view.at(spot["at"])
        cell = (int(x // _CELL), int(y // _CELL))
        if many and cell in cells:
            on.drop("spot heights")
            continue
        cells.add(cell)
        arms = path_data([(x - 0.9, y), (x + 0.9, y)]) + path_data([(x, y - 0.9), (x, y + 0.9)])
        name = f"{spot['name']} " if 0 < len(spot["name"]) <= _SHORT and not many else ""
        text = name + bare_height(spot["height_m"], on.system)
        width = text_width(text, TEXT)
        near = list(around((x, y), width, TEXT))
        far = led(on, (x, y), rings((x, y), width, TEXT, (4.0, 7.0, 10.0)))
        box = on.room.best(near, 0.0, CLEAR) or (None if many else on.room.best(far, 0.5, CLEAR)) or on.room.best(near)
        mark = f'<path class="line" d="{arms}"/>'
        if box is None:
            on.drop("spot heights")
            yield f'<g data-height-m="{spot["height_m"]:.5f}">{mark}</g>'
            continue
        on.room.take(box)
        label = leader((x, y), box, room=on.room) + boxed_text(box, text)
        yield f'<g class="spot-height" data-height-m="{spot["height_m"]:.5f}">{mark}{label}</g>'


_ARROW = 11.0  # mm
_FALL_ON = 2.6  # the words of a fall may stand on one fold or joint besides contours


def falls(on: Lettering) -> Iterator[str]:
    """An arrow downhill on every plane with room for it, with the fall as crews say it."""
    drawn: list[tuple[XY, XY, float]] = []
    outer, *holes = (on.view.line(ring) for ring in _slab_rings(on.drawing))
    slab = shapely.Polygon(outer, holes)
    shapely.prepare(slab)
    for fall in sorted(on.drawing["falls"], key=lambda one: -one["reach_m"]):
        at = on.view.at(fall["at"])
        reach = fall["reach_m"] * on.view.mm_per_m
        text = show(slope(fall["slope"]), on.system) if fall["downhill"] else "level"
        if reach < 3.0:
            on.drop("falls of small planes")
            continue
        if fall["downhill"] is None:
            box = on.room.best(_spread(at, text_width(text, TEXT), TEXT, reach))
            if box:
                on.room.take(box)
                yield f'<g data-fall="0">{boxed_text(box, text)}</g>'
            continue
        dx, dy = fall["downhill"][0], -fall["downhill"][1]
        if any(_like(at, (dx, dy), fall["slope"], *other) for other in drawn):
            continue
        short = show(slope(fall["slope"]), on.system, both=False)
        tries = ((text, CLEAR), (short, CLEAR), (text, _FALL_ON), (short, _FALL_ON))
        arrows = (_arrow(on, slab, at, (dx, dy), reach, words, most) for words, most in dict.fromkeys(tries))
        placed = next(filter(None, arrows), "")
        if placed:
            drawn.append((at, (dx, dy), fall["slope"]))
            yield (
                f'<g class="fall-arrow" data-slope="{fall["slope"]:.6f}" data-x="{fall["at"][0]:.4f}" '
                f'data-y="{fall["at"][1]:.4f}">{placed}</g>'
            )
        else:
            on.drop("falls of small planes")


def _slab_rings(drawing: Data) -> list[list[list[float]]]:
    return [drawing["outline"], *(opening["ring"] for opening in drawing["openings"])]


def _like(at: XY, downhill: XY, slope_here: float, other: XY, other_downhill: XY, other_slope: float) -> bool:
    """Whether an arrow drawn near by says the same already: within 15 degrees and a fifth of the fall."""
    turned = downhill[0] * other_downhill[0] + downhill[1] * other_downhill[1]
    return math.dist(at, other) < 32 and turned > 0.966 and abs(slope_here - other_slope) < 0.2 * other_slope


def _arrow(on: Lettering, slab: shapely.Polygon, at: XY, downhill: XY, reach: float, text: str, most: float) -> str:
    """A fall arrow near ``at``, its words along it on no more lines than ``most``; empty where there is no room."""
    dx, dy = downhill
    size = min(_ARROW, 1.7 * reach)
    angle = readable(math.degrees(math.atan2(dy, dx)))
    turn = math.radians(angle)
    width = text_width(text, TEXT)
    best: tuple[float, Box, Box, XY] | None = None
    steps = [k * 2.5 for k in range(-5, 6)]
    shifts = sorted(((a, b) for a in steps for b in steps), key=lambda shift: math.hypot(*shift))
    for shift in shifts:
        if math.hypot(*shift) > max(4.0, reach * 1.2) or (best is not None and best[0] <= math.hypot(*shift) / 20):
            break
        middle = (at[0] + shift[0], at[1] + shift[1])
        shaft = Box(*middle, size, 1.8, angle)
        if not on.room.free(shaft) or not slab.contains(shapely.LineString(_ends(shaft))):
            continue
        for side in (1, -1):
            off = side * (TEXT / 2 + 1.3)
            words = Box(middle[0] + math.sin(turn) * off, middle[1] - math.cos(turn) * off, width, TEXT, angle)
            if on.room.free(words) and on.room.crossed(words) <= most:
                outside = 0.0 if slab.contains(shapely.Polygon(words.corners())) else 4.0
                weight = outside + on.room.crossed(words) + on.room.crossed(shaft) / 2 + math.hypot(*shift) / 20
                if best is None or weight < best[0]:
                    best = (weight, shaft, words, middle)
    if best is None:
        return ""
    _, shaft, words, (x, y) = best
    on.room.take(shaft)
    on.room.take(words)
    start, tip = (x - dx * size / 2, y - dy * size / 2), (x + dx * size / 2, y + dy * size / 2)
    neck = (tip[0] - dx * 1.5, tip[1] - dy * 1.5)
    return line([start, neck], "fall") + head(start, tip, 3.0) + boxed_text(words, text)


def _ends(shaft: Box) -> tuple[XY, XY]:
    """Both ends of the middle line of a box."""
    turn = math.radians(shaft.angle)
    dx, dy = shaft.width / 2 * math.cos(turn), shaft.width / 2 * math.sin(turn)
    return (shaft.x - dx, shaft.y - dy), (shaft.x + dx, shaft.y + dy)


def _spread(at: XY, width: float, size: float, reach: float) -> Iterator[Box]:
    """Level boxes over a place and around it, as far as ``reach``."""
    yield Box(*at, width, size)
    for share in (0.3, 0.6, 0.9):
        for k in range(8):
            turn = k * math.pi / 4
            yield Box(at[0] + reach * share * math.cos(turn), at[1] + reach * share * math.sin(turn), width, size)


def fold_names(on: Lettering) -> Iterator[str]:
    """Valleys, ridges and grade breaks, along them."""
    for fold in on.drawing["height_lines"]:
        text = fold["kind"] if fold["name"] in ("", fold["kind"]) else f"{fold['name']} ({fold['kind']})"
        text = shortened(text, 40, SMALL)
        boxes = beside(on.view.line(fold["line"]), text_width(text, SMALL), SMALL, SMALL / 2 + 0.8)
        yield put(on, on.room.best(boxes, 0.0, CLEAR), "names of folds", text)


def fixed_heights(on: Lettering) -> Iterator[str]:
    """Heights that cannot move: a filled mark and the height with its name."""
    for fixed in on.drawing["fixed"]:
        for place, meters in _marks(fixed["line"], fixed["heights_m"]):
            x, y = on.view.at(place)
            mark = path_data([(x, y), (x - 0.9, y - 1.5), (x + 0.9, y - 1.5)], closed=True)
            words = f"{shortened(fixed['name'], 40, SMALL)} {bare_height(meters, on.system)}"
            label = name_at(on, words, (x, y), "fixed heights", 3.0)
            yield f'<g data-fixed-m="{meters:.5f}"><path class="solid" d="{mark}"/>{label}</g>'


def _marks(places: Sequence[Sequence[float]], heights: Sequence[float]) -> list[tuple[Sequence[float], float]]:
    """Where to mark a height that cannot move: both ends, or the middle of a level line."""
    if len(places) > 1 and max(heights) - min(heights) < 1e-9:
        middle = shapely.LineString(places).interpolate(0.5, normalized=True)
        return [((middle.x, middle.y), heights[0])]
    ends = list(zip(places, heights, strict=True))
    return ends if len(ends) < 3 else [ends[0], ends[-1]]


def contour_heights(on: Lettering) -> Iterator[str]:
    """The height on every long contour."""
    for contour in (on.drawing["contours"] or {"lines": []})["lines"]:
        points = on.view.line(contour["line"])
        if shapely.LineString(points).length < 14:
            continue
        text = bare_height(contour["height_m"], on.system)
        boxes = list(beside(points, text_width(text, SMALL), SMALL, 0.0))
        box = on.room.best(boxes, 0.41, CLEAR)
        yield put(on, box, "heights of contours", text, "halo contour-height")
