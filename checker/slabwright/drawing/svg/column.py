"""The column at the right of a sheet: legend of what is used, notes, scale bar, title block."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from slabwright.drawing.svg.lines import HATCHED, head, line
from slabwright.drawing.svg.place import Box, Room
from slabwright.drawing.svg.sheet import COLUMN, LARGE, MARGIN, SMALL, TEXT, WATER_SHADES, View
from slabwright.drawing.svg.text import escaped, number, path_data, text_element, wrapped
from slabwright.review.report import Report, days_of
from slabwright.units.quantity import System, depth, height, numerals, show, stress

Data = Mapping[str, Any]

_PAD = 3.0
_SAMPLE = 13.0  # mm: width of a sample in the legend
_ROW = 4.2
_LOCAL_CODE = "Local code and licensed practice govern."


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the legend: a sample drawn at (x, y), and words."""

    sample: str  # with {x} left, {m} middle, {r} right and {y} filled in
    words: str


def legend(report: Report, ids: str) -> list[Entry]:
    """What the drawing uses, in the order a crew meets it."""
    return [*_edges(report.drawing, ids), *_joints(report), *_surface(report, ids), *_rest(report)]


def _stroke(kind: str, under: str = "") -> str:
    path = '<path class="line {kind}" d="M{{x}} {{y}}H{{r}}"/>'
    return path.format(kind=kind) + (path.format(kind=under) if under else "")


def _swatch(fill: str) -> str:
    return f'<rect x="{{x}}" y="{{top}}" width="{_SAMPLE}" height="3" fill="{fill}" stroke="#000" stroke-width=".15"/>'


def _edges(drawing: Data, ids: str) -> Iterator[Entry]:
    kinds = {edge["beside"] for edge in drawing["edges"]}
    if kinds & HATCHED:
        yield Entry(_swatch(f"url(#{ids}-wall)"), " or ".join(sorted(kinds & HATCHED)))
    if "existing slab" in kinds:
        yield Entry(_swatch(f"url(#{ids}-there)"), "existing slab")
    if "asphalt" in kinds:
        yield Entry(_swatch(f"url(#{ids}-asphalt)"), "asphalt")
    if kinds & {"curb", "step"}:
        yield Entry(_swatch("#fff"), " or ".join(sorted(kinds & {"curb", "step"})))
    things = (*drawing["edges"], *drawing["openings"], *drawing["fixtures"])
    if any(thing["isolation"] for thing in things):
        ticks = "".join(path_data([(k, -1.0), (k, 1.0)]) for k in (1.5, 4.5, 7.5, 10.5))
        sample = (
            _stroke("isolation") + f'<path class="line isolation-tick" transform="translate({{x}} {{y}})" d="{ticks}"/>'
        )
        yield Entry(sample, "isolation")
    if any(fixture["kind"] == "channel" for fixture in drawing["fixtures"]):
        bars = "".join(path_data([(k, -0.9), (k, 0.9)]) for k in (1.5, 4.0, 6.5, 9.0, 11.5))
        sample = _swatch("#fff") + f'<path class="line" transform="translate({{x}} {{y}})" d="{bars}"/>'
        yield Entry(sample, "channel, arrow to its outlet")
    if drawing["steps"]:
        arrow = (
            '<g transform="translate({x} {y})">' + line([(0.5, 0), (11, 0)], "") + head((0, 0), (12.5, 0), 2.2) + "</g>"
        )
        yield Entry(arrow, "steps, up as the arrow")
    if drawing["thickened"]:
        yield Entry(_stroke("hidden"), "thickened edge, below")
    if drawing["areas"]:
        yield Entry(_stroke("hidden"), "part of other use, thickness or steel; end of its taper")
    if drawing["pours"]:
        yield Entry(_stroke("pour"), "area of one pour")
    if "property line" in kinds:
        yield Entry(_stroke("property"), "property line")
    if any(one["kind"] == "aisle" for one in drawing["stalls"]):
        yield Entry(_swatch(f"url(#{ids}-aisle)"), "access aisle")
    if drawing.get("sections"):
        yield Entry(_stroke("section-line"), "section, looking as the arrows")
    if drawing.get("pins"):
        yield Entry('<circle class="pin" cx="{m}" cy="{y}" r=".75"/>', "pin of the stake sheet")


def _joints(report: Report) -> Iterator[Entry]:
    """One entry for every kind of joint and depth."""
    depths: dict[str, set[float | None]] = {}
    for joint in report.drawing["joints"]:
        depths.setdefault(joint["kind"], set()).add(joint["depth_m"])
    for kind, found in depths.items():
        name = kind.replace(" ", "-")
        two = kind in ("formed strip", "construction joint")
        words = "pattern line (no joint)" if kind == "pattern" else kind
        given = sorted(one for one in found if one is not None)
        if given:
            words += f", {_range(given, report.system)} deep"
        yield Entry(_stroke(name, f"{name}-gap" if two else ""), words)


def _range(values: Sequence[float], system: System) -> str:
    low, high = (show(depth(one), system, both=False) for one in (values[0], values[-1]))
    return low if low == high else f"{low} to {high}"


def _surface(report: Report, ids: str) -> Iterator[Entry]:
    drawing, system = report.drawing, report.system
    if drawing["spots"]:
        arms = path_data([(5.6, 0), (7.4, 0)]) + path_data([(6.5, -0.9), (6.5, 0.9)])
        yield Entry(f'<path class="line" transform="translate({{x}} {{y}})" d="{arms}"/>', "finish height")
    if drawing["fixed"]:
        mark = path_data([(6.5, 0.8), (5.6, -0.8), (7.4, -0.8)], closed=True)
        yield Entry(f'<path class="solid" transform="translate({{x}} {{y}})" d="{mark}"/>', "height that cannot move")
    if drawing["contours"] and drawing["contours"]["lines"]:
        step = drawing["contours"]["interval_m"]
        every = f"{step / 0.3048:.2f} ft" if system == "us" else f"{step * 1000:.0f} mm"
        yield Entry(_stroke("contour"), f"contour every {numerals(every, system)}")
    if drawing["height_lines"]:
        kinds = " or ".join(dict.fromkeys(one["kind"] for one in drawing["height_lines"]))
        yield Entry(_stroke("fold"), kinds)
    if drawing["falls"]:
        arrow = (
            '<g transform="translate({x} {y})">'
            + line([(0.5, 0), (11, 0)], "fall")
            + head((0, 0), (12.5, 0), 3)
            + "</g>"
        )
        yield Entry(arrow, "fall, downhill")
    if drawing["trails"]:
        yield Entry(_stroke("trail"), "way of the water")
    bands = sorted({band["deeper_m"] for pond in drawing["ponds"] for band in pond["bands"]})
    for number_of, low in enumerate(bands, 1):
        words = "standing water" if low == 0 else f"deeper than {show(depth(low), system, both=False)}"
        yield Entry(_swatch(f"url(#{ids}-water-{min(number_of, len(WATER_SHADES))})"), words)


def _rest(report: Report) -> Iterator[Entry]:
    steel = report.drawing["steel"]
    if steel and (steel["bars"] or steel["mesh"]):
        yield Entry(_stroke("steel"), "steel, schematic: runs all over")
    if steel and steel["corner_bars"]:
        yield Entry(_stroke("corner-bar"), "bars across a corner")
    signs = {
        "hold": path_data(
            [(8.9, 1), (7.5, 2.4), (5.5, 2.4), (4.1, 1), (4.1, -1), (5.5, -2.4), (7.5, -2.4), (8.9, -1)], True
        ),
        "caution": path_data([(4.6, -1.9), (8.4, -1.9), (8.4, 1.9), (4.6, 1.9)], True),
        "note": "M4.5 0a2 2 0 1 0 4 0a2 2 0 1 0 -4 0Z",
    }
    meaning = {"hold": "settle before ordering", "caution": "think twice", "note": "worth knowing"}
    open_ones = {comment.weight for comment in report.comments if comment.variance is None}
    accepted = {comment.weight for comment in report.comments if comment.variance is not None}
    for weight, sign in signs.items():
        if weight in open_ones:
            yield Entry(_sign(f"bubble-{weight}", sign), f"{weight}: {meaning[weight]}")
    for weight, sign in signs.items():
        if weight in accepted:
            yield Entry(_sign(f"bubble-{weight} accepted", sign), f"{weight} accepted by a variance")


def _sign(kind: str, path: str) -> str:
    return f'<path class="bubble {kind}" transform="translate({{x}} {{y}}) scale(.8)" d="{path}"/>'


def column(report: Report, view: View, entries: Sequence[Entry], notes: Sequence[str], title: str) -> list[str]:
    """The whole column: legend from the top, title block from the bottom, notes between."""
    left = view.sheet.width - MARGIN - COLUMN
    right, top, bottom = view.sheet.width - MARGIN, MARGIN, view.sheet.height - MARGIN
    drawn = [
        f'<rect class="frame" x="{MARGIN}" y="{MARGIN}" '
        f'width="{number(right - MARGIN)}" height="{number(bottom - top)}"/>',
        f'<path class="rule" d="M{number(left)} {number(top)}V{number(bottom)}"/>',
    ]
    block, block_top = _title_block(report, view, title, left, right, bottom)
    bar, bar_top = scale_bar(view, report.system, left + _PAD, block_top - 9)
    y = top + 6
    drawn += [*block, *bar, text_element("Legend", left + _PAD, y, 2.8, bold=True)]
    y += 5.0
    for entry in entries:
        lines = wrapped(entry.words, COLUMN - 2 * _PAD - _SAMPLE - 2.5, TEXT, 2)
        if y + _ROW * len(lines) > bar_top - 8:
            break
        x = left + _PAD
        drawn.append(
            entry.sample.format(
                x=number(x), m=number(x + _SAMPLE / 2), r=number(x + _SAMPLE), y=number(y), top=number(y - 1.5)
            )
        )
        for part in lines:
            drawn.append(text_element(part, x + _SAMPLE + 2.5, y + 0.85, TEXT))
            y += _ROW - (0.9 if len(lines) > 1 else 0)
        y += 0.9 if len(lines) > 1 else 0
    y += 2.0
    for note in notes:
        for part in wrapped(note, COLUMN - 2 * _PAD, SMALL, 4):
            if y > bar_top - 2.5:
                return drawn
            drawn.append(text_element(part, left + _PAD, y, SMALL))
            y += SMALL * 1.3
        y += 0.8
    return drawn


def _title_block(
    report: Report, view: View, title: str, left: float, right: float, bottom: float
) -> tuple[list[str], float]:
    """Job, what is drawn, and the facts a foreman asks first; returns the drawing and its upper edge."""
    width = right - left - 2 * _PAD
    names = wrapped(report.job, width, LARGE * 0.9, 2, bold=True)
    rows = [(label, wrapped(words, width - 19, TEXT, 2)) for label, words in _facts(report, view) if words]
    code = wrapped(_LOCAL_CODE, width, SMALL, 2)
    tall = 6.5 + len(names) * LARGE * 1.3 + 5 + sum(1.0 + 3.4 * len(lines) for _, lines in rows) + len(code) * 3.4 + 3
    top = bottom - tall
    x, y = left + _PAD, top + 6.5
    drawn = [f'<path class="line thick" d="M{number(left)} {number(top)}H{number(right)}"/>']
    for name in names:
        drawn.append(text_element(name, x, y, LARGE * 0.9, bold=True))
        y += LARGE * 1.3
    drawn.append(text_element(title, x, y - 0.6, 2.8))
    y += 4.6
    for label, lines in rows:
        drawn.append(text_element(label, x, y, SMALL, kind="quiet"))
        for one in lines:
            drawn.append(text_element(one, x + 19, y, TEXT))
            y += 3.4
        y -= 3.4
        drawn.append(f'<path class="rule fine" d="M{number(x)} {number(y + 1.2)}H{number(right - _PAD)}"/>')
        y += 4.4
    y += 0.6
    for part in code:
        drawn.append(text_element(part, x, y, SMALL))
        y += 3.4
    return drawn, top


def facts(report: Report, view: View) -> Iterator[tuple[str, str]]:
    """What a title block says of the job: label and words, empty where the file does not give it."""
    job = report.drawing["job"] or {}
    yield "job number", job.get("number", "")
    yield "revision", job.get("revision", "")
    yield "address", job.get("address", "")
    yield "use", report.use
    yield "pour", days_of(report)
    yield "scale", f"{view.scale} on {view.sheet.name}" if view.sheet.column else view.scale
    yield "north", "" if job.get("north_deg") is not None else job.get("north") or "not given"
    if job.get("thicknesses_m"):
        each = [show(depth(one), report.system, both=False) for one in job["thicknesses_m"]]
        yield "thickness", " and ".join(each) if len(each) < 3 else f"{each[0]} to {each[-1]}"
    if job.get("base_m"):
        yield "base", f"{show(depth(job['base_m']), report.system, both=False)} {job['base_material']}".strip()
    if job.get("strength_pa"):
        yield "concrete", show(stress(job["strength_pa"]), report.system, both=False)
    if report.drawing["spots"]:
        unit = show(height(0.0), report.system, both=False).rpartition(" ")[2]
        datum = job.get("datum", "")
        typed = "" if job.get("height_unit") == unit else f" {job.get('height_unit')}"
        yield "heights", f"{unit}; {datum}{typed}" if datum else unit  # the datum is in the file's own unit


def _facts(report: Report, view: View) -> Iterator[tuple[str, str]]:
    """What stands in the title block of a sheet."""
    yield from facts(report, view)
    counts = [(report.holds, "hold"), (report.counted("caution"), "caution"), (report.counted("note"), "note")]
    yield "reviewed by", (report.drawing["job"] or {}).get("reviewed_by", "")
    told = ", ".join(f"{count} {word}{'' if count == 1 else 's'}" for count, word in counts if count)
    yield "review", told or "no comments"
    yield "file", report.file.replace("\\", "/").rpartition("/")[2]


def scale_bar(view: View, system: System, x: float, y: float) -> tuple[list[str], float]:
    """A bar of four parts of a round length, and its upper edge."""
    unit, name = (0.3048, "ft") if system == "us" else (1.0, "m")
    most = min(COLUMN - 2 * _PAD - 8, view.sheet.width / 3) / view.mm_per_m / unit
    rounds = [base * 10.0**power for power in range(-3, 6) for base in (1, 2, 4, 10)]
    whole = max((one for one in rounds if one <= most), default=most)
    size = whole * unit * view.mm_per_m
    drawn = []
    for part in range(4):
        fill = "#000" if part % 2 == 0 else "#fff"
        drawn.append(
            f'<rect x="{number(x + part * size / 4)}" y="{number(y)}" width="{number(size / 4)}" height="1.6" '
            f'fill="{fill}" stroke="#000" stroke-width=".2"/>'
        )
    for share in (0.0, 0.5, 1.0):
        label = f"{whole * share:g}" + (f" {name}" if share == 1 else "")
        anchor = "start" if share == 0 else "middle"
        drawn.append(text_element(label, x + share * size, y + 4.4, SMALL, anchor))
    return [f'<g class="scale-bar" data-length-m="{whole * unit:.4f}">', *drawn, "</g>"], y


def north_arrow(report: Report, view: View, room: Room) -> Iterator[str]:
    """An arrow to the north in the upper left corner, where the file says where north is."""
    turn = (report.drawing["job"] or {}).get("north_deg")
    if turn is None:
        return
    x, y, reach = view.low[0] + 11, view.low[1] + 11, 7.0
    room.take(Box(x, y, 2 * reach + 7, 2 * reach + 7))
    circle = f'<circle class="line" cx="{number(x)}" cy="{number(y)}" r="{reach * 0.62:.2f}"/>'
    needle = path_data([(x, y - reach), (x + 1.7, y + reach * 0.62), (x, y + reach * 0.3)], closed=True)
    other = path_data([(x, y - reach), (x - 1.7, y + reach * 0.62), (x, y + reach * 0.3)], closed=True)
    at = math.radians(turn)
    letter = (x + math.sin(at) * (reach + 1.9), y - math.cos(at) * (reach + 1.9) + 1.0)
    yield (
        f'<g class="north" data-north-deg="{number(turn)}">{circle}<g transform="rotate({number(turn)} {number(x)} '
        f'{number(y)})"><path class="solid" d="{needle}"/><path class="line" d="{other}"/></g>'
        f"{text_element('N', *letter, 2.8, 'middle', bold=True)}</g>"
    )


def note_of(left_out: Mapping[str, int]) -> str:
    """What found no room on the sheet."""
    told = ", ".join(f"{what} ({count})" for what, count in left_out.items())
    return f"Left out for want of room: {told}." if told else ""


def described(report: Report) -> str:
    """What the drawing shows, for people who hear it."""
    return escaped(f"Plan of {report.job}, {report.use}: {len(report.drawing['panels'])} panels")
