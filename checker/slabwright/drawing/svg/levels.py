"""The heights, falls, lengths and thicknesses written on a section."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Any

from slabwright.drawing.svg.cut import Cut, above, height_at, span
from slabwright.drawing.svg.dimensions import as_taped, boxed_text
from slabwright.drawing.svg.labels import bare_height
from slabwright.drawing.svg.lines import line
from slabwright.drawing.svg.place import Box, Room
from slabwright.drawing.svg.sheet import SMALL, TEXT
from slabwright.drawing.svg.text import path_data, text_width
from slabwright.units.quantity import System, depth, show, slope

Data = Mapping[str, Any]


def heights(data: Data, cut: Cut, room: Room, system: System) -> Iterator[str]:
    """Finish heights at the ends, at points with a height and where the finish bends; falls between."""
    named = {round(spot["at_m"], 3): spot["name"] for spot in data["spots"]}
    for part in data["parts"]:
        stops = _stops(part, data)
        for at in stops:
            height = round(height_at(part, at), 6)  # as typed, where it was
            name = named.get(round(at, 3), "")
            yield above(cut.at(at, height), f"{name} {bare_height(height, system)}".strip(), room)
        for first, last in pairwise(stops):
            fall = (height_at(part, first) - height_at(part, last)) / (last - first)
            yield _fall(cut, part, first, last, fall, room, system)


def _stops(part: Data, data: Data) -> list[float]:
    """Where a height is written: both ends, points with a height, and bends of the finish."""
    first, last = part["along_m"][0], part["along_m"][-1]
    inner = sorted({*_bends(part), *(s["at_m"] for s in data["spots"] if first < s["at_m"] < last)})
    stops = [first]
    for at in (*inner, last):
        if at - stops[-1] > 2e-3 and (at == last or last - at > 2e-3):
            stops.append(at)
    return stops


def _bends(part: Data) -> list[float]:
    """Where the finish changes its fall by more than a quarter of a percent."""
    along, heights = part["along_m"], part["finish_m"]
    found = []
    for k in range(1, len(along) - 1):
        before = (heights[k] - heights[k - 1]) / (along[k] - along[k - 1])
        after = (heights[k + 1] - heights[k]) / (along[k + 1] - along[k])
        if abs(after - before) > 0.0025:
            found.append(along[k])
    return found if len(found) <= 24 else []


def _fall(cut: Cut, part: Data, first: float, last: float, fall: float, room: Room, system: System) -> str:
    """The fall between two places, above the finish, with an arrow that points downhill."""
    text = "level" if abs(fall) < 1e-6 else show(slope(abs(fall)), system)
    text = f"{text} →" if fall > 1e-6 else f"← {text}" if fall < -1e-6 else text
    width = text_width(text, SMALL)
    x, y = cut.at((first + last) / 2, height_at(part, (first + last) / 2))
    boxes = (Box(x, y - up, width, SMALL) for up in (2.6, 4, 5.5, 7, 8.5, 10, 12))
    box = room.best(boxes)
    if box is None or width > (last - first) * cut.view.mm_per_m * 1.6:
        return ""
    room.take(box)
    return boxed_text(box, text)


def fixed(data: Data, cut: Cut, room: Room, system: System) -> Iterator[str]:
    """Heights that cannot move, at their height."""
    for fixed in data["fixed"]:
        x, y = cut.at(fixed["at_m"], fixed["height_m"])
        mark = path_data([(x, y), (x - 1.1, y - 1.8), (x + 1.1, y - 1.8)], closed=True)
        words = f"{fixed['name']} {bare_height(fixed['height_m'], system)}"
        yield (
            f'<path class="solid" d="{mark}"/>'
            + line([(x - 4, y), (x + 4, y)], "line")
            + above((x, y - 1.5), words, room)
        )


def dimensions(data: Data, cut: Cut, room: Room, system: System) -> Iterator[str]:
    """The length of every stretch and the distances between joints below, and the least and greatest thickness."""
    low = span(data)[0]
    y = cut.at(0, low)[1] + 20
    stations = sorted(
        {
            0.0,
            data["length_m"],
            *(j["at_m"] for j in data["joints"]),
            *(d for p in data["parts"] for d in (p["along_m"][0], p["along_m"][-1])),
        }
    )
    stations = [d for k, d in enumerate(stations) if k == 0 or d - stations[k - 1] > 1e-3]
    rows = [stations] if len(stations) == 2 else [stations, [stations[0], stations[-1]]]
    for row, stops in enumerate(rows):
        yield from _string([cut.at(d, 0)[0] for d in stops], stops, y + row * 6.5, room, system)
    yield from _thicknesses(data, cut, room, system)


def _string(xs: Sequence[float], stops: Sequence[float], y: float, room: Room, system: System) -> Iterator[str]:
    ticks = "".join(path_data([(x - 0.9, y + 0.9), (x + 0.9, y - 0.9)]) for x in xs)
    ends = "".join(path_data([(x, y - 2.5), (x, y + 1.2)]) for x in xs)
    whole = path_data([(xs[0], y), (xs[-1], y)])
    yield f'<path class="line tick" d="{ticks}"/><path class="line fine" d="{whole}{ends}"/>'
    for x0, x1, d0, d1 in zip(xs, xs[1:], stops, stops[1:], strict=False):
        text = as_taped(d1 - d0, system)
        box = Box((x0 + x1) / 2, y - 1.9, text_width(text, TEXT), TEXT)
        if box.width < x1 - x0 and room.first([box]):
            yield boxed_text(box, text)


def _thicknesses(data: Data, cut: Cut, room: Room, system: System) -> Iterator[str]:
    """The thinnest and the thickest place, each with its depth."""
    places = [
        (finish - under, d, under)
        for part in data["parts"]
        for d, finish, under in zip(part["along_m"], part["finish_m"], part["underside_m"], strict=True)
    ]
    middle = data["length_m"] / 2
    least = min(places, key=lambda one: (round(one[0], 4), abs(one[1] - middle)))
    most = max(places, key=lambda one: (round(one[0], 4), -abs(one[1] - middle)))
    for deep, d, under in [least] if most[0] - least[0] < 5e-4 else [least, most]:
        x, y = cut.at(d, under)
        text = f"{show(depth(deep), system, both=False)} thick"
        width = text_width(text, TEXT)
        base = (data["base_m"] or 0.0) * cut.view.mm_per_m * cut.exaggeration
        boxes = (Box(x + dx, y + base + 4 + dy, width, TEXT) for dy in (0, 4, 8) for dx in (0, width / 2, -width / 2))
        yield line([cut.at(d, under + deep), (x, y)], "measure")
        if box := room.first(boxes):
            yield line([(x, y), (x, box.y - TEXT / 2)], "leader") + boxed_text(box, text)
