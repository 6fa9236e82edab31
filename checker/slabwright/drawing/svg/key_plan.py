"""The key plan of a stake sheet: the slab, what stands beside it, every pin by its number, and the strings."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain
from typing import Any

from slabwright.drawing.svg import lines
from slabwright.drawing.svg.dimensions import boxed_text
from slabwright.drawing.svg.labels import leader
from slabwright.drawing.svg.place import Box, Room, around, rings
from slabwright.drawing.svg.sheet import SCALES, VERMILLION, XY, Sheet, View, patterns, style
from slabwright.drawing.svg.text import escaped, number, path_data, text_width
from slabwright.units.quantity import System

Data = Mapping[str, Any]

PARTS = ("outline", "openings", "edges", "joints", "height_lines")
"""The parts of a drawing that a key plan shows."""

PRINTED = (186.0, 215.0)  # mm: what is left of letter and of A4 alike, with a line of words under it
LETTER = 2.6  # mm: 7.4 points
_AROUND = 14.0  # mm beside the slab for walls and names
_WIDEST = 1200.0  # mm: of a floor with hundreds of pins, to be scrolled
_NAMED = 400  # pins at most that are named; of more, every second or third one and so on
_TRIES = 4  # scales at most


@dataclass(frozen=True, slots=True)
class Mark:
    """A place with the name it goes by; ``bold`` for the ends of strings."""

    name: str
    at: XY
    bold: bool = False


@dataclass(frozen=True, slots=True)
class KeyPlan:
    """The picture, its size on paper (mm), its scale as the trade writes it, and how many names found no room.

    Of very many pins only one in ``every`` is named.
    """

    svg: str
    width: float
    scale: str
    left_out: int
    every: int = 1


def key_plan(
    drawing: Data, pins: Sequence[Mark], ends: Sequence[Mark], strings: Sequence[tuple[XY, XY]], system: System
) -> KeyPlan:
    """The largest key plan that prints on one page, larger where two numbers would run together.

    ``ends`` are the named ends of ``strings``; places in m.
    """
    xs, ys = zip(*[(x, y) for x, y, *_ in [*drawing["outline"], *(mark.at for mark in (*pins, *ends))]], strict=True)
    wide, tall = max(xs) - min(xs), max(ys) - min(ys)
    room = [max(size - 2 * _AROUND, 1.0) for size in PRINTED]
    least = max(wide * 1000 / room[0], tall * 1000 / room[1])
    scales = [one for one in SCALES[system] if one[0] >= least] or [(math.ceil(least), f"1:{math.ceil(least)}")]
    at = SCALES[system].index(scales[0]) if scales[0] in SCALES[system] else 0
    best: KeyPlan | None = None
    for denominator, scale in [scales[0], *reversed(SCALES[system][:at])][:_TRIES]:
        if best is not None and wide * 1000 / denominator > _WIDEST:
            break
        width, height = (size * 1000 / denominator + 2 * _AROUND for size in (wide, tall))
        left, base = _AROUND - min(xs) * 1000 / denominator, height - _AROUND + min(ys) * 1000 / denominator
        view = View(Sheet("", width, height), denominator, scale, left, base)
        made = _drawn(drawing, pins, ends, strings, view)
        if best is None or made.left_out < best.left_out:
            best = made
        if not best.left_out:
            break
    assert best is not None
    return best


def _drawn(
    drawing: Data, pins: Sequence[Mark], ends: Sequence[Mark], strings: Sequence[tuple[XY, XY]], view: View
) -> KeyPlan:
    ids, width, height = "key-plan", view.sheet.width, view.sheet.height
    room = Room((0.5, 0.5), (width - 0.5, height - 0.5))
    parts = [
        *lines.concrete(drawing, view),
        *lines.edges(drawing, view, room, ids),
        *lines.outline(drawing, view, room),
    ]
    parts += [lines.line(view.line(joint["line"]), "pattern") for joint in drawing["joints"]]
    for fold in drawing["height_lines"]:
        points = view.line(fold["line"])
        room.keep_clear(points, 0.5)
        parts.append(lines.line(points, "fold"))
    for start, end in strings:
        points = view.line([start, end])
        room.keep_clear(points, 3)
        parts.append(f'<path class="string" d="{path_data(points)}"/>')
    spots = [view.at(mark.at) for mark in pins]
    for x, y in {view.at(mark.at) for mark in ends} - set(spots):
        parts.append(f'<path class="line" d="M{number(x - 1)} {number(y)}h2M{number(x)} {number(y - 1)}v2"/>')
        room.take(Box(x, y, 2, 2))
    left_out, every = 0, math.ceil(len(pins) / _NAMED)
    for x, y in spots[::every]:  # names may lie on pins that are not named
        room.take(Box(x, y, 1.3, 1.3))
    names: list[str] = []
    for mark in (*ends, *pins[::every]):
        place = view.at(mark.at)
        box = room.best(_boxes(mark, place), 0.0)
        if box is None:
            left_out += 1
            continue
        room.take(box)
        names.append(leader(place, box, "leader", 2.4) + boxed_text(box, mark.name, "halo", mark.bold))
    dots = "".join(f'<circle class="pin" cx="{number(x)}" cy="{number(y)}" r=".55"/>' for x, y in spots)
    scope = f"#{ids}"
    rules = (
        f"{style(scope)}{scope} .string{{fill:none;stroke:{VERMILLION};stroke-width:.6;stroke-dasharray:5 1.2 1.2 1.2}}"
        f"{scope} .pin{{fill:#000}}"
    )
    title = escaped(f"Key plan with {len(pins)} pins by their numbers")
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" id="{ids}" role="img" aria-label="{title}" '
        f'width="{number(width)}mm" height="{number(height)}mm" viewBox="0 0 {number(width)} {number(height)}" '
        f'data-scale="{view.denominator}"><title>{title}</title><style>{rules}</style><defs>{patterns(ids)}</defs>'
        f'{"".join(parts)}<g data-layer="pins">{dots}{"".join(names)}</g></svg>'
    )
    return KeyPlan(svg, width, view.scale, left_out, every)


def _boxes(mark: Mark, place: XY) -> Iterator[Box]:
    width = text_width(mark.name, LETTER, mark.bold)
    return chain(around(place, width, LETTER, 1.0), rings(place, width, LETTER, (1.6, 2.6, 4.0)))
