"""Marks on the plan for other sheets: where sections are cut, and the pins of the stake sheet."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from slabwright.drawing.svg.dimensions import boxed_text
from slabwright.drawing.svg.labels import CLEAR, Lettering, leader, led
from slabwright.drawing.svg.lines import head, line
from slabwright.drawing.svg.place import Room, around, rings
from slabwright.drawing.svg.sheet import SMALL, TEXT, XY, View
from slabwright.drawing.svg.text import escaped, number, shortened, text_width

Data = Mapping[str, Any]

_PAST, _END, _ARROW = 3.0, 5.0, 5.0  # mm: past the slab, the heavy end of the line, its arrow
_PIN = 0.75  # mm, half the width of a pin


def section_mark(section: Data, view: View, room: Room) -> Iterator[str]:
    """A chain line, heavy at both ends, with arrows in the direction of view and the name of the section.

    A section is drawn with its start at the left, so it looks to the left of the way from start to end.
    """
    start, end = view.line(section["line"])
    size = math.dist(start, end)
    if size < 1e-6:
        return
    ux, uy = (end[0] - start[0]) / size, (end[1] - start[1]) / size
    name = shortened(section["title"], 30, TEXT, True)
    width = text_width(name, TEXT, True)
    yield f'<g data-section="{escaped(section["title"])}">'
    for (x, y), way in ((start, -1), (end, 1)):
        outer = (x + way * ux * (_PAST + _END), y + way * uy * (_PAST + _END))
        inner = (x + way * ux * _PAST, y + way * uy * _PAST)
        tip = (outer[0] + uy * _ARROW, outer[1] - ux * _ARROW)
        room.take_line(inner, outer, 1.0)
        room.take_line(outer, tip, 2.0)
        yield line([inner, outer], "section-end") + line([outer, tip], "line") + head(outer, tip, 2.6)
        box = room.best([*around(tip, width, TEXT), *rings(tip, width, TEXT, (2.0, 5.0))], 0.0)
        if box is not None:
            room.take(box)
            yield boxed_text(box, name, "halo", True)
    yield line([start, end], "section-line") + "</g>"


def section_marks(on: Lettering) -> Iterator[str]:
    """The marks of every section that is cut."""
    for section in on.drawing.get("sections", ()):
        yield from section_mark(section, on.view, on.room)


def pins(on: Lettering) -> Iterator[str]:
    """Every pin of the stake sheet with its number."""
    for pin in on.drawing.get("pins", ()):
        x, y = on.view.at(pin["at"])
        text = str(pin["number"])
        width = text_width(text, SMALL)
        near = list(around((x, y), width, SMALL, 0.9))
        far = led(on, (x, y), rings((x, y), width, SMALL, (2.5, 5.0, 8.0)))
        box = on.room.best(near, 0.0, CLEAR) or on.room.best(far, 0.0) or on.room.best(near)
        sign = f'<circle class="pin" cx="{number(x)}" cy="{number(y)}" r="{_PIN}"/>'
        if box is None:
            on.drop("numbers of pins")
        else:
            on.room.take(box)
            sign += leader((x, y), box, room=on.room) + boxed_text(box, text, "halo", True)
        yield f'<g data-pin="{pin["number"]}">{sign}</g>'


def bounds(places: Iterable[Sequence[float]]) -> tuple[XY, XY]:
    """The least and the greatest x and y of some places."""
    xs, ys = zip(*((place[0], place[1]) for place in places), strict=True)
    return (min(xs), min(ys)), (max(xs), max(ys))
