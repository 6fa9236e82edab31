"""Words on the drawing, each put where there is room, on a leader where that is further away."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import chain
from typing import Any

import shapely

from slabwright.drawing.svg.dimensions import boxed_text
from slabwright.drawing.svg.lines import line
from slabwright.drawing.svg.place import Box, Room, around, rings
from slabwright.drawing.svg.sheet import SMALL, XY, View
from slabwright.drawing.svg.text import readable, shortened, text_width
from slabwright.units.quantity import System, height, show

Data = Mapping[str, Any]

CLEAR = 1.3
"""The heaviest lines a name may stand on: contours and the ways of water, but no edge, joint, fold or dimension."""


@dataclass
class Lettering:
    """What is needed to letter one drawing; ``left_out`` counts what found no room, by what it is."""

    drawing: Data
    view: View
    room: Room
    system: System
    left_out: dict[str, int] = field(default_factory=dict)

    def drop(self, what: str) -> None:
        """Count one thing that found no room."""
        self.left_out[what] = self.left_out.get(what, 0) + 1


def bare_height(meters: float, system: System) -> str:
    """A height without its unit, which the title block gives."""
    return show(height(meters), system, both=False).rpartition(" ")[0]


def put(
    on: Lettering,
    box: Box | None,
    what: str,
    text: str,
    kind: str = "halo",
    bold: bool = False,
    at: XY | None = None,
) -> str:
    """The text in its box, which is taken, with a leader to ``at``; without a box it is counted as left out."""
    if box is None:
        on.drop(what)
        return ""
    on.room.take(box)
    return (leader(at, box, room=on.room) if at else "") + boxed_text(box, text, kind, bold)


_FAR = 2.6  # mm: a label nearer than this to what it names needs no leader


def _foot(at: XY, box: Box) -> XY:
    """Where the leader of a box ends."""
    x = min(max(at[0], box.x - box.width / 2), box.x + box.width / 2)
    return x, min(max(at[1], box.y - box.height / 2), box.y + box.height / 2)


def leader(at: XY, box: Box, kind: str = "leader", far: float = _FAR, room: Room | None = None) -> str:
    """A thin line from a label that stands away to what it names; what comes later into ``room`` keeps off it."""
    foot = _foot(at, box)
    if math.dist(at, foot) <= far:
        return ""
    if room is not None:
        room.take_line(at, foot)
    return line([at, foot], kind)


def led(on: Lettering, at: XY, boxes: Iterable[Box], far: float = _FAR) -> Iterator[Box]:
    """Those of some boxes that are free, and whose leader runs through no other word."""
    for box in filter(on.room.free, boxes):
        foot = _foot(at, box)
        if math.dist(at, foot) <= far or on.room.runs_free(at, foot):
            yield box


def beside(points: Sequence[XY], width: float, size: float, lift: float) -> Iterator[Box]:
    """Boxes beside a line and turned with it, from its middle outwards."""
    run = shapely.LineString(points)
    for share in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88):
        at = run.length * share
        (x, y), (x0, y0), (x1, y1) = (
            run.interpolate(d).coords[0] for d in (at, max(0.0, at - 0.5), min(run.length, at + 0.5))
        )
        angle = readable(math.degrees(math.atan2(y1 - y0, x1 - x0)))
        turn = math.radians(angle)
        for side in (1, -1):
            yield Box(x + math.sin(turn) * lift * side, y - math.cos(turn) * lift * side, width, size, angle)


def name_at(on: Lettering, name: str, at: XY, what: str, reach: float) -> str:
    """A name over or beside a place, on a leader where it stands away; at the last far off, and on lines."""
    text = shortened(name, 56, SMALL)
    width = text_width(text, SMALL)
    near = chain([Box(*at, width, SMALL)], around(at, width, SMALL, 1.6), rings(at, width, SMALL, (reach + 1, 8.0)))
    box = on.room.best(led(on, at, near), 0.0, CLEAR)
    box = box or on.room.best(led(on, at, rings(at, width, SMALL, (8.0, 13.0, 19.0, 26.0, 34.0))), 0.0, CLEAR)
    if box is None:
        far = (reach + 1, 8.0, 13.0, 19.0, 26.0, 34.0, 44.0, 56.0, 72.0, 90.0)
        box = on.room.best(led(on, at, rings(at, width, SMALL, far[6:])), 0.0, CLEAR)
        box = box or on.room.best(led(on, at, rings(at, width, SMALL, far)), 1.0)
        box = box or on.room.best(rings(at, width, SMALL, far), 1.0)
    return put(on, box, what, text, at=at)
