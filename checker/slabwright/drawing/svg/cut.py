"""What a section cuts, drawn: concrete, base, steel, joints, and what stands at its ends."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from slabwright.drawing.svg.dimensions import boxed_text
from slabwright.drawing.svg.labels import bare_height
from slabwright.drawing.svg.lines import line
from slabwright.drawing.svg.place import Box, Room
from slabwright.drawing.svg.sheet import SMALL, TEXT, XY, View
from slabwright.drawing.svg.text import number, path_data, shortened, text_width
from slabwright.units.quantity import System, depth, show

Data = Mapping[str, Any]

BEYOND = 13.0  # mm: how far the ground is drawn past the end of the slab
_FEET = (0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0)
_METERS = (0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0)


@dataclass(frozen=True, slots=True)
class Cut:
    """Where the section lies on the sheet: ``along`` meters right of its start, ``height`` meters up."""

    view: View
    left: float  # paper x of the start
    foot: float  # paper y of height 0
    exaggeration: int

    def at(self, along: float, height: float) -> XY:
        """A place of the section on paper, mm."""
        up = self.view.mm_per_m * self.exaggeration
        return self.left + along * self.view.mm_per_m, self.foot - height * up


def span(data: Data) -> tuple[float, float]:
    """Lowest and highest height that is drawn, m."""
    base = data["base_m"] or 0.0
    low = min(min(part["underside_m"]) for part in data["parts"]) - base
    high = max(max(part["finish_m"]) for part in data["parts"])
    ground = [end["ground_m"] for end in data["ends"] if end["ground_m"] is not None]
    return min([low, *ground]), max([high, *ground, *(one["height_m"] for one in data["fixed"])])


def top_line(part: Data, cut: Cut) -> list[XY]:
    """The finish of one part on paper."""
    return [cut.at(d, z) for d, z in zip(part["along_m"], part["finish_m"], strict=True)]


def under_line(part: Data, cut: Cut, below: float = 0.0) -> list[XY]:
    """The underside of one part on paper, or a line ``below`` m under it."""
    return [cut.at(d, z - below) for d, z in zip(part["along_m"], part["underside_m"], strict=True)]


def height_at(part: Data, at: float, key: str = "finish_m") -> float:
    """Height at a distance, straight between stations."""
    along, heights = part["along_m"], part[key]
    for d0, d1, z0, z1 in zip(along, along[1:], heights, heights[1:], strict=False):
        if at <= d1:
            return float(z0 + (z1 - z0) * (at - d0) / (d1 - d0)) if d1 > d0 else float(z1)
    return float(heights[-1])


def part_at(data: Data, at: float) -> Data | None:
    """The part with concrete at a distance along the section, if there is any."""
    return next((p for p in data["parts"] if p["along_m"][0] - 1e-6 <= at <= p["along_m"][-1] + 1e-6), None)


def concrete(data: Data, cut: Cut, ids: str) -> Iterator[str]:
    """The cut concrete, its finish as a thick line."""
    for part in data["parts"]:
        top, under = top_line(part, cut), under_line(part, cut)
        yield f'<path d="{path_data([*top, *reversed(under)], True)}" fill="url(#{ids}-cut)" data-part="concrete"/>'
        yield line(under, "thick")
        yield line([under[0], top[0]], "thick") + line([under[-1], top[-1]], "thick")
        yield f'<path class="outline finish" d="{path_data(top)}"/>'


def base(data: Data, cut: Cut, ids: str) -> Iterator[str]:
    """The base below the slab, where its thickness is given."""
    if not data["base_m"]:
        return
    for part in data["parts"]:
        under, foot = under_line(part, cut), under_line(part, cut, data["base_m"])
        yield f'<path d="{path_data([*under, *reversed(foot)], True)}" fill="url(#{ids}-stone)" data-part="base"/>'
        yield line(foot, "line")


def grid(data: Data, cut: Cut, room: Room, system: System) -> Iterator[str]:
    """Level lines at round heights, with the heights at the left."""
    low, high = span(data)
    unit, steps = (0.3048, _FEET) if system == "us" else (1.0, _METERS)
    step = next((s for s in steps if (high - low) / unit / s <= 9), steps[-1])
    first, last = math.floor(low / unit / step), math.ceil(high / unit / step)
    left = cut.left - BEYOND - 1.5
    right = cut.at(data["length_m"], 0)[0] + BEYOND + 1.5
    for k in range(first, last + 1):
        y = cut.at(0, k * step * unit)[1]
        text = bare_height(k * step * unit, system)
        yield f'<path class="line grid" d="M{number(left)} {number(y)}H{number(right)}"/>'
        width = text_width(text, SMALL)
        if box := room.first([Box(left - 1 - width / 2, y, width, SMALL)]):
            yield boxed_text(box, text, "quiet")


def steel(data: Data, cut: Cut, room: Room, system: System) -> Iterator[str]:
    """Bars along the line as a line, bars across it as dots, at their cover; named where parts differ."""
    beds, kinds = data["steel"], {(mat["name"], mat["spacing_m"]) for mat in data["steel"]}
    for part in data["parts"]:
        first, last = part["along_m"][0], part["along_m"][-1]
        for mat in beds:
            start, end = max(first, mat["from_m"]), min(last, mat["to_m"])
            if end - start < 1e-6:
                continue
            deep = mat["top_cover_m"] + mat["diameter_m"] / 2
            along = [start, *(d for d in part["along_m"] if start < d < end), end]
            run = [cut.at(d, height_at(part, d) - deep) for d in along]
            yield line(run, "steel")
            count = max(1, int((end - start) / max(mat["spacing_m"], (last - first) / 400)))
            for k in range(count):
                d = start + (k + 0.5) * (end - start) / count
                x, y = cut.at(d, height_at(part, d) - deep - mat["diameter_m"])
                yield f'<circle class="bar" cx="{number(x)}" cy="{number(y)}" r=".55"/>'
            if len(kinds) > 1:
                middle = (start + end) / 2
                at = cut.at(middle, height_at(part, middle) - deep)
                words = f"{mat['name']} at {show(depth(mat['spacing_m']), system, both=False)}"
                yield below(at, cut.at(middle, height_at(part, middle, "underside_m"))[1], words, room)


def below(at: XY, under: float, text: str, room: Room) -> str:
    """A word below the slab on a leader to a place in it, lower where that is taken; empty where there is no room."""
    width = text_width(text, TEXT)
    boxes = (
        Box(at[0] + dx, under + dy, width, TEXT) for dy in (5, 8.5, 12, 15.5, 19) for dx in (0, width / 2, -width / 2)
    )
    box = room.best(boxes)
    if box is None:
        return ""
    room.take(box)
    return line([at, (at[0], box.y - TEXT / 2)], "leader") + boxed_text(box, text, "halo")


def joints(data: Data, cut: Cut, room: Room) -> Iterator[str]:
    """Joints to their depth (construction joints through), with the name above."""
    for joint in data["joints"]:
        part = part_at(data, joint["at_m"])
        if part is None:
            continue
        top = height_at(part, joint["at_m"])
        deep = top - height_at(part, joint["at_m"], "underside_m")
        if joint["depth_m"] is not None and joint["kind"] != "construction joint":
            deep = min(deep, joint["depth_m"])
        yield line([cut.at(joint["at_m"], top), cut.at(joint["at_m"], top - deep)], "cut")
        at = cut.at(joint["at_m"], top)
        yield above(at, joint["name"], room, True)


def above(at: XY, text: str, room: Room, bold: bool = False) -> str:
    """A word over a place, higher where that is taken, on a leader; empty where there is no room."""
    text = shortened(text, 44, TEXT, bold)
    width = text_width(text, TEXT, bold)
    boxes = (
        Box(at[0] + dx, at[1] - dy, width, TEXT)
        for dy in (4.5, 8, 11.5, 15, 18.5, 22)
        for dx in (0, width / 2, -width / 2)
    )
    box = room.best(boxes)
    if box is None:
        return ""
    room.take(box)
    leader = line(
        [(at[0], at[1] - 0.8), (min(max(at[0], box.x - width / 2), box.x + width / 2), box.y + TEXT / 2)], "leader"
    )
    return leader + boxed_text(box, text, "halo", bold)


def ends(data: Data, cut: Cut, room: Room, ids: str, system: System) -> Iterator[str]:
    """What stands where the slab ends: walls hatched, isolation as a heavy line, the name below."""
    low, high = span(data)
    for end in data["ends"]:
        part = part_at(data, end["at_m"])
        if part is None:
            continue
        outer = -1 if abs(end["at_m"] - part["along_m"][0]) < 1e-3 else 1
        top, under = height_at(part, end["at_m"]), height_at(part, end["at_m"], "underside_m")
        if end["isolation"]:
            yield line([cut.at(end["at_m"], top), cut.at(end["at_m"], under)], "isolation")
        x = cut.at(end["at_m"], 0)[0]
        yield from _ground(end, cut, outer, (top, under), room, system)
        if end["beside"] in ("building", "wall"):
            y0, y1 = cut.at(0, high)[1] - 6, cut.at(0, low)[1]
            wall = [(x, y0), (x + outer * 4, y0), (x + outer * 4, y1), (x, y1)]
            room.take(Box(x + outer * 2, (y0 + y1) / 2, 4, y1 - y0))
            yield f'<path fill="url(#{ids}-wall)" d="{path_data(wall, True)}"/>' + line(wall, "band", closed=True)
        words = (
            f"{end['name']} ({end['beside']})" if end["beside"] and end["beside"] not in end["name"] else end["name"]
        )
        text = shortened(words, 40, SMALL)
        width = text_width(text, SMALL)
        y = cut.at(0, low)[1] + 9
        boxes = (Box(x + outer * dx, y + dy, width, SMALL) for dy in (0, 3, 6, 9) for dx in (0, -width / 2, -width / 3))
        if box := room.first(boxes):
            yield boxed_text(box, text, "quiet")


def _ground(end: Data, cut: Cut, outer: int, slab: tuple[float, float], room: Room, system: System) -> Iterator[str]:
    """The ground beyond the slab: a line with slanted strokes under it, broken where its height is not given."""
    if end["beside"] in ("building", "wall"):
        return
    given = end["ground_m"]
    (x, y) = cut.at(end["at_m"], given if given is not None else sum(slab) / 2)
    yield f'<g data-ground="{"" if given is None else f"{given:.4f}"}">'
    yield line([(x, y), (x + outer * BEYOND, y)], "ground" if given is not None else "hidden")
    if given is not None:
        strokes = (x + outer * (1.5 + 2.2 * k) for k in range(int((BEYOND - 1) / 2.2)))
        yield f'<path class="line fine" d="{"".join(path_data([(s, y), (s - 1.4, y + 1.4)]) for s in strokes)}"/>'
    text = "ground not given" if given is None else bare_height(given, system)
    width = text_width(text, SMALL)
    boxes = (Box(x + outer * (width / 2 + 1), y + dy, width, SMALL) for dy in (-2.2, 3.4, -5.0, 6.0, 9.0))
    if box := room.first(boxes):
        yield boxed_text(box, text, "quiet")
    yield "</g>"
