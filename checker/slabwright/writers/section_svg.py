"""A section as one SVG drawing: finish, underside, base, steel, joints and fixed heights along a line of the plan.

Lengths across and heights have two scales; how much steeper everything looks is stated on the drawing.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Any

from slabwright.quantity import System, depth, length, show, slope
from slabwright.report import Report
from slabwright.writers.svg_column import Entry, column
from slabwright.writers.svg_dimensions import boxed_text
from slabwright.writers.svg_labels import bare_height
from slabwright.writers.svg_lines import line
from slabwright.writers.svg_place import Box, Room
from slabwright.writers.svg_sheet import COLUMN, MARGIN, SCALES, SHEETS, SMALL, TEXT, XY, View, style
from slabwright.writers.svg_text import escaped, number, path_data, shortened, text_width

Data = Mapping[str, Any]

EXAGGERATIONS = (1, 2, 4, 5, 10, 20, 25, 40, 50)
_SIDE, _TOP, _FOOT = 24.0, 34.0, 40.0  # mm kept beside, above and below the cut
_TALL = 62.0  # mm: a section taller than this says no more
_FINEST = 128  # smaller scales than this call for a larger sheet
_FEET = (0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0)
_METRES = (0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0)


@dataclass(frozen=True, slots=True)
class Cut:
    """Where the section lies on the sheet: ``along`` metres right of its start, ``height`` metres up."""

    view: View
    left: float  # paper x of the start
    foot: float  # paper y of height 0
    exaggeration: int

    def at(self, along: float, height: float) -> XY:
        """A place of the section on paper, mm."""
        up = self.view.mm_per_m * self.exaggeration
        return self.left + along * self.view.mm_per_m, self.foot - height * up


def section_svg(report: Report, ids: str = "section") -> str:
    """The section in ``report.drawing["section"]``; ``ids`` begins every id."""
    data = report.drawing["section"]
    cut = _fitted(data, report.system)
    sheet = cut.view.sheet
    room = cut.view.room()
    for part in data["parts"]:
        room.keep_clear(_top(part, cut), 2)
        room.keep_clear(_under(part, cut))
    title = f"section {data['title']}"
    drawn = {
        "ground": [*_grid(data, cut, room, report.system), *_base(data, cut, ids)],
        "concrete": list(_concrete(data, cut, ids)),
        "steel": list(_steel(data, cut)),
        "joints": list(_joints(data, cut, room)),
        "edges": list(_ends(data, cut, room, ids)),
        "heights": [*_heights(data, cut, room, report.system), *_fixed(data, cut, room, report.system)],
        "dimensions": list(_dimensions(data, cut, room, report.system)),
        "sheet": column(
            report, cut.view, _legend(data, ids), _notes(data, cut, report.system), f"section {data['title']}"
        ),
    }
    groups = (f'<g id="{ids}-{name}" data-layer="{name}">{"".join(parts)}</g>' for name, parts in drawn.items())
    width, tall = number(sheet.width), number(sheet.height)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" id="{ids}" class="slab-section" role="img" width="{width}mm" '
        f'height="{tall}mm" viewBox="0 0 {width} {tall}" data-scale="{cut.view.denominator}" '
        f'data-exaggeration="{cut.exaggeration}"><title>{escaped(title)} of {escaped(report.job)}</title>'
        f"<style>{style(f'#{ids}')}</style><defs>{_patterns(ids)}</defs>"
        f'<rect class="paper" width="{width}" height="{tall}"/>' + "\n".join(groups) + "</svg>\n"
    )


def _fitted(data: Data, system: System) -> Cut:
    """The smallest sheet, the largest scale along the line that fits it, and the greatest exaggeration on it."""
    low, high = _span(data)
    for sheet in SHEETS[system]:
        across = sheet.width - 2 * MARGIN - COLUMN - 2 * _SIDE
        needs = data["length_m"] * 1000 / across
        otherwise = (math.ceil(needs), f"1:{math.ceil(needs)}")
        denominator, scale = next(((n, name) for n, name in SCALES[system] if n >= needs), otherwise)
        if denominator <= _FINEST:
            break
    view = View(sheet, denominator, scale, 0, 0)
    up = sheet.height - 2 * MARGIN - _TOP - _FOOT
    tall = max(high - low, 1e-6) * view.mm_per_m
    most = max((x for x in EXAGGERATIONS if x * tall <= min(up, _TALL)), default=1)
    view = replace(view, scale=f"{scale}; heights x{most}" if most > 1 else scale)
    across = sheet.width - 2 * MARGIN - COLUMN
    left = MARGIN + (across - data["length_m"] * view.mm_per_m) / 2
    middle = MARGIN + _TOP + up / 2
    return Cut(view, left, middle + (low + high) / 2 * view.mm_per_m * most, most)


def _span(data: Data) -> tuple[float, float]:
    """Lowest and highest height that is drawn, m."""
    base = data["base_m"] or 0.0
    low = min(min(part["underside_m"]) for part in data["parts"]) - base
    high = max(max(part["finish_m"]) for part in data["parts"])
    return low, max([high, *(one["height_m"] for one in data["fixed"])])


def _patterns(ids: str) -> str:
    """Concrete as small triangles and dots, base as stones."""
    return (
        f'<pattern id="{ids}-cut" width="6" height="5" patternUnits="userSpaceOnUse">'
        '<rect width="6" height="5" fill="#F7F6F3"/><path d="M1 1.2l.8 1.3h-1.5Z M4.2 3l.9.4-.7.8Z" fill="none" '
        'stroke="#666" stroke-width=".14"/><circle cx="3" cy=".8" r=".16"/><circle cx="2.4" cy="3.9" r=".14"/>'
        '<circle cx="5.3" cy="1.6" r=".14"/></pattern>'
        f'<pattern id="{ids}-stone" width="3.4" height="2.6" patternUnits="userSpaceOnUse">'
        '<ellipse cx=".9" cy=".8" rx=".7" ry=".5" fill="none" stroke="#666" stroke-width=".14"/>'
        '<ellipse cx="2.5" cy="1.9" rx=".65" ry=".45" fill="none" stroke="#666" stroke-width=".14"/></pattern>'
        f'<pattern id="{ids}-wall" width="1.3" height="1.3" patternUnits="userSpaceOnUse" '
        'patternTransform="rotate(45)"><path d="M0 0V1.3" stroke="#000" stroke-width=".42"/></pattern>'
    )


def _top(part: Data, cut: Cut) -> list[XY]:
    return [cut.at(d, z) for d, z in zip(part["along_m"], part["finish_m"], strict=True)]


def _under(part: Data, cut: Cut, below: float = 0.0) -> list[XY]:
    return [cut.at(d, z - below) for d, z in zip(part["along_m"], part["underside_m"], strict=True)]


def _concrete(data: Data, cut: Cut, ids: str) -> Iterator[str]:
    for part in data["parts"]:
        top, under = _top(part, cut), _under(part, cut)
        yield f'<path d="{path_data([*top, *reversed(under)], True)}" fill="url(#{ids}-cut)" data-part="concrete"/>'
        yield line(under, "thick")
        yield line([under[0], top[0]], "thick") + line([under[-1], top[-1]], "thick")
        yield f'<path class="outline finish" d="{path_data(top)}"/>'


def _base(data: Data, cut: Cut, ids: str) -> Iterator[str]:
    """The base below the slab, where its thickness is given."""
    if not data["base_m"]:
        return
    for part in data["parts"]:
        under, foot = _under(part, cut), _under(part, cut, data["base_m"])
        yield f'<path d="{path_data([*under, *reversed(foot)], True)}" fill="url(#{ids}-stone)" data-part="base"/>'
        yield line(foot, "line")


def _grid(data: Data, cut: Cut, room: Room, system: System) -> Iterator[str]:
    """Level lines at round heights, with the heights at the left."""
    low, high = _span(data)
    unit, steps = (0.3048, _FEET) if system == "us" else (1.0, _METRES)
    step = next((s for s in steps if (high - low) / unit / s <= 9), steps[-1])
    first, last = math.floor(low / unit / step), math.ceil(high / unit / step)
    left = cut.left - 6
    right = cut.at(data["length_m"], 0)[0] + 6
    for k in range(first, last + 1):
        y = cut.at(0, k * step * unit)[1]
        text = bare_height(k * step * unit, system)
        yield f'<path class="line grid" d="M{number(left)} {number(y)}H{number(right)}"/>'
        width = text_width(text, SMALL)
        box = Box(left - 1 - width / 2, y, width, SMALL)
        room.take(box)
        yield boxed_text(box, text, "quiet")


def _steel(data: Data, cut: Cut) -> Iterator[str]:
    """Bars along the line as a line, bars across it as dots, at their cover."""
    steel = data["steel"]
    if not steel:
        return
    half = steel["diameter_m"] / 2
    for part in data["parts"]:
        along, finish = part["along_m"], part["finish_m"]
        deep = steel["top_cover_m"] + half
        yield line([cut.at(d, z - deep) for d, z in zip(along, finish, strict=True)], "steel")
        spacing = max(steel["spacing_m"], (along[-1] - along[0]) / 400)
        count = int((along[-1] - along[0]) / spacing)
        for k in range(count):
            d = along[0] + (k + 0.5) * (along[-1] - along[0]) / count
            x, y = cut.at(d, _height(part, d) - deep - steel["diameter_m"])
            yield f'<circle class="bar" cx="{number(x)}" cy="{number(y)}" r=".55"/>'


def _height(part: Data, at: float, key: str = "finish_m") -> float:
    """Height at a distance, straight between stations."""
    along, heights = part["along_m"], part[key]
    for d0, d1, z0, z1 in zip(along, along[1:], heights, heights[1:], strict=False):
        if at <= d1:
            return float(z0 + (z1 - z0) * (at - d0) / (d1 - d0)) if d1 > d0 else float(z1)
    return float(heights[-1])


def _part_at(data: Data, at: float) -> Data | None:
    return next((p for p in data["parts"] if p["along_m"][0] - 1e-6 <= at <= p["along_m"][-1] + 1e-6), None)


def _joints(data: Data, cut: Cut, room: Room) -> Iterator[str]:
    """Joints to their depth (construction joints through), with the name above."""
    for joint in data["joints"]:
        part = _part_at(data, joint["at_m"])
        if part is None:
            continue
        top = _height(part, joint["at_m"])
        deep = top - _height(part, joint["at_m"], "underside_m")
        if joint["depth_m"] is not None and joint["kind"] != "construction joint":
            deep = min(deep, joint["depth_m"])
        yield line([cut.at(joint["at_m"], top), cut.at(joint["at_m"], top - deep)], "cut")
        at = cut.at(joint["at_m"], top)
        yield _above(at, joint["name"], room, True)


def _above(at: XY, text: str, room: Room, bold: bool = False) -> str:
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


def _ends(data: Data, cut: Cut, room: Room, ids: str) -> Iterator[str]:
    """What stands where the slab ends: walls hatched, isolation as a heavy line, the name below."""
    low, high = _span(data)
    for end in data["ends"]:
        part = _part_at(data, end["at_m"])
        if part is None:
            continue
        outer = -1 if abs(end["at_m"] - part["along_m"][0]) < 1e-3 else 1
        top, under = _height(part, end["at_m"]), _height(part, end["at_m"], "underside_m")
        if end["isolation"]:
            yield line([cut.at(end["at_m"], top), cut.at(end["at_m"], under)], "isolation")
        x = cut.at(end["at_m"], 0)[0]
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
        free = next((box for box in boxes if room.free(box)), None)
        if free:
            room.take(free)
            yield boxed_text(free, text, "quiet")


def _heights(data: Data, cut: Cut, room: Room, system: System) -> Iterator[str]:
    """Finish heights at the ends, at points with a height and where the finish bends; falls between."""
    named = {round(spot["at_m"], 3): spot["name"] for spot in data["spots"]}
    for part in data["parts"]:
        stops = _stops(part, data)
        for at in stops:
            height = _height(part, at)
            name = named.get(round(at, 3), "")
            yield _above(cut.at(at, height), f"{name} {bare_height(height, system)}".strip(), room)
        for first, last in pairwise(stops):
            fall = (_height(part, first) - _height(part, last)) / (last - first)
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
    x, y = cut.at((first + last) / 2, _height(part, (first + last) / 2))
    boxes = (Box(x, y - up, width, SMALL) for up in (2.6, 4, 5.5, 7, 8.5, 10, 12))
    box = room.best(boxes)
    if box is None or width > (last - first) * cut.view.mm_per_m * 1.6:
        return ""
    room.take(box)
    return boxed_text(box, text)


def _fixed(data: Data, cut: Cut, room: Room, system: System) -> Iterator[str]:
    """Heights that cannot move, at their height."""
    for fixed in data["fixed"]:
        x, y = cut.at(fixed["at_m"], fixed["height_m"])
        mark = path_data([(x, y), (x - 1.1, y - 1.8), (x + 1.1, y - 1.8)], closed=True)
        words = f"{fixed['name']} {bare_height(fixed['height_m'], system)}"
        yield (
            f'<path class="solid" d="{mark}"/>'
            + line([(x - 4, y), (x + 4, y)], "line")
            + _above((x, y - 1.5), words, room)
        )


def _dimensions(data: Data, cut: Cut, room: Room, system: System) -> Iterator[str]:
    """The length of every stretch and the distances between joints below, and the least and greatest thickness."""
    low = _span(data)[0]
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
        text = show(length(d1 - d0), system, both=False)
        box = Box((x0 + x1) / 2, y - 1.9, text_width(text, TEXT), TEXT)
        if box.width < x1 - x0 and room.free(box):
            room.take(box)
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
        box = next((box for box in boxes if room.free(box)), None)
        yield line([cut.at(d, under + deep), (x, y)], "measure")
        if box:
            room.take(box)
            yield line([(x, y), (x, box.y - TEXT / 2)], "leader") + boxed_text(box, text)


def _legend(data: Data, ids: str) -> list[Entry]:
    swatch = '<rect x="{{x}}" y="{{top}}" width="13" height="3" fill="url(#{fill})" stroke="#000" stroke-width=".15"/>'
    entries = [Entry(swatch.format(fill=f"{ids}-cut"), "concrete")]
    if data["base_m"]:
        entries.append(Entry(swatch.format(fill=f"{ids}-stone"), data["base_material"] or "base"))
    if any(end["beside"] in ("building", "wall") for end in data["ends"]):
        entries.append(Entry(swatch.format(fill=f"{ids}-wall"), "building or wall"))
    if data["steel"]:
        entries.append(Entry('<path class="line steel" d="M{x} {y}H{r}"/>', "steel at its top cover"))
    if any(end["isolation"] for end in data["ends"]):
        entries.append(Entry('<path class="line isolation" d="M{x} {y}H{r}"/>', "isolation"))
    if data["joints"]:
        entries.append(Entry('<path class="line cut" d="M{m} {top}v3"/>', "joint, to its depth"))
    if data["fixed"]:
        entries.append(Entry('<path class="line" d="M{x} {y}H{r}"/>', "height that cannot move"))
    return entries


def _notes(data: Data, cut: Cut, system: System) -> list[str]:
    steep = f"Heights are drawn {cut.exaggeration} times as large as lengths." if cut.exaggeration > 1 else ""
    shot = "Underside as shot on the base." if data["base_is_shot"] else "Underside at the design thickness."
    return [note for note in (steep or "Heights and lengths are drawn to one scale.", shot) if note]
