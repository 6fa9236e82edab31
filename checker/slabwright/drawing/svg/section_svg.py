"""A section as one SVG drawing: finish, underside, base, steel, joints and fixed heights along a line of the plan.

Lengths across and heights have two scales; how much steeper everything looks is stated on the drawing.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from slabwright.drawing.svg import cut as cut_lines
from slabwright.drawing.svg import levels
from slabwright.drawing.svg.column import Entry, column
from slabwright.drawing.svg.cut import Cut
from slabwright.drawing.svg.marks import bounds, section_mark
from slabwright.drawing.svg.place import Box, Room
from slabwright.drawing.svg.sheet import COLUMN, MARGIN, SCALES, SHEETS, View, on_sheet, wall_pattern
from slabwright.drawing.svg.text import escaped, path_data
from slabwright.review.report import Report
from slabwright.units.quantity import System

Data = Mapping[str, Any]

EXAGGERATIONS = (1, 2, 4, 5, 10, 20, 25, 40, 50, 100, 200, 500)
_SIDE, _TOP, _FOOT = 29.0, 38.0, 40.0  # mm kept beside, above and below the cut
_TALL = 62.0  # mm: a section taller than this says no more
_FINEST = 128  # smaller scales than this call for a larger sheet


def section_svg(report: Report) -> str:
    """The section in ``report.drawing["section"]``."""
    ids = "section"
    data = report.drawing["section"]
    cut = _fitted(data, report.system)
    room = cut.view.room()
    for part in data["parts"]:
        room.keep_clear(cut_lines.top_line(part, cut), 2)
        room.keep_clear(cut_lines.under_line(part, cut))
    key = list(_key_plan(report.drawing, data, cut.view, room))
    title = f"section {data['title']}"
    drawn = {
        "ground": [*cut_lines.grid(data, cut, room, report.system), *cut_lines.base(data, cut, ids)],
        "concrete": list(cut_lines.concrete(data, cut, ids)),
        "steel": list(cut_lines.steel(data, cut, room, report.system)),
        "joints": list(cut_lines.joints(data, cut, room)),
        "edges": list(cut_lines.ends(data, cut, room, ids, report.system)),
        "heights": [
            *levels.heights(data, cut, room, report.system),
            *levels.fixed(data, cut, room, report.system),
        ],
        "dimensions": list(levels.dimensions(data, cut, room, report.system)),
        "sheet": [*column(report, cut.view, _legend(data, ids), _notes(data, cut), title), *key],
    }
    described = f"{escaped(title)} of {escaped(report.job)}"
    layers = {name: "".join(parts) for name, parts in drawn.items()}
    return on_sheet(cut.view, ids, described, _patterns(ids), layers, f' data-exaggeration="{cut.exaggeration}"')


def _fitted(data: Data, system: System) -> Cut:
    """The smallest sheet, the largest scale along the line that fits it, and the greatest exaggeration on it."""
    low, high = cut_lines.span(data)
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
        f"{wall_pattern(ids)}"
    )


_KEY = (46.0, 26.0)  # mm: the key plan in the upper left corner


def _key_plan(drawing: Data, data: Data, view: View, room: Room) -> Iterator[str]:
    """A small plan with the place of the section, its name at both ends."""
    line = [data["from_m"], data["to_m"]]
    (x0, y0), (x1, y1) = bounds([*drawing["outline"], *line])
    scale = min(_KEY[0] / max(x1 - x0, 1e-6), _KEY[1] / max(y1 - y0, 1e-6))
    left, top = view.low[0] + 13, view.low[1] + 11
    small = replace(view, denominator=1000 / scale, left=left - x0 * scale, base=top + y1 * scale)
    wide, tall = (x1 - x0) * scale, (y1 - y0) * scale
    room.take(Box(left + wide / 2, top + tall / 2, wide + 22, tall + 18))
    yield f'<g data-key-plan="{escaped(data["title"])}">'
    yield f'<path class="line" d="{path_data(small.line(drawing["outline"])[:-1], True)}"/>'
    own = Room(small.low, small.high)
    own.keep_clear(small.line(drawing["outline"]))
    yield from section_mark({"title": data["title"], "line": line}, small, own)
    yield "</g>"


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
    if any(end["ground_m"] is not None for end in data["ends"]):
        entries.append(Entry('<path class="line ground" d="M{x} {y}H{r}"/>', "ground beside"))
    if data["fixed"]:
        entries.append(Entry('<path class="line" d="M{x} {y}H{r}"/>', "height that cannot move"))
    return entries


def _notes(data: Data, cut: Cut) -> list[str]:
    times = f"Heights are drawn {cut.exaggeration} times as large as lengths."
    scale = times if cut.exaggeration > 1 else "Heights and lengths are drawn to one scale."
    shot = "Underside as shot on the base." if data["base_is_shot"] else "Underside at the design thickness."
    return [scale, shot]
