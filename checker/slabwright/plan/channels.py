"""Channel and slot drains as they lie on the plan."""

import math
from functools import cached_property
from itertools import pairwise
from typing import ClassVar, NamedTuple

import shapely

from slabwright.design.fixtures import Channel
from slabwright.design.model import Design
from slabwright.geometry.xy import XY
from slabwright.plan.edges import Edges
from slabwright.plan.finish import Finish
from slabwright.plan.shape import ON_EDGE, Shape
from slabwright.plan.view import PlanView

MOST = 0.75  # part of the width of a door that a channel lies along, so that the rain is taken (common practice)
BESIDE = 0.3  # m: a channel this near to a door or a wall takes the rain before it
ONE_POINT = 0.001  # m


class PlannedChannel(NamedTuple):
    """A channel on the plan."""

    channel: Channel
    line: tuple[XY, ...]
    rims: tuple[float | None, ...]  # at each point: as typed, else the finish there; None where neither is known
    inverts: tuple[float, ...]  # of the bottom at each point; empty where none is typed
    outlets: tuple[int, ...]  # numbers of the points at which it lets out; empty where nothing tells
    length: float  # on the slab, m
    inside: bool  # concrete is on both its sides

    @property
    def name(self) -> str:
        """Its name in the file."""
        return self.channel.name

    @property
    def middle(self) -> XY:
        """The middle of its line."""
        at = shapely.LineString(self.line).interpolate(0.5, normalized=True)
        return float(at.x), float(at.y)

    def volume(self, thickness: float) -> float:
        """Concrete that it adds to a slab ``thickness`` m thick, m3; below zero where it takes more than its bed adds.

        A trench as wide as channel and bed goes down below the slab to the bottom of the bed, and the channel itself
        is empty. 0 where its depth is not known.
        """
        if not self.inverts or None in self.rims:
            return 0.0
        width, bed = self.channel.width.si, self.channel.bed.si if self.channel.bed else 0.0
        deep = [rim - bottom for rim, bottom in zip(self.rims, self.inverts, strict=True) if rim is not None]
        runs = [math.dist(a, b) for a, b in pairwise(self.line)]
        means = [(a + b) / 2 for a, b in pairwise(deep)]
        section = [(width + 2 * bed) * max(mean + bed - thickness, 0.0) - width * mean for mean in means]
        on_slab = min(1.0, self.length / sum(runs))
        return on_slab * sum(one * run for one, run in zip(section, runs, strict=True))


class Channels(PlanView):
    """The channels of the file on the plan, with the trench drains beside the slab where they stand for the same."""

    SECTIONS: ClassVar[frozenset[str]] = frozenset({"channels"})
    _design: Design
    _shape: Shape
    _finish: Finish
    _edges: Edges

    @cached_property
    def all(self) -> tuple[PlannedChannel, ...]:
        """Every channel, in file order."""
        return tuple(map(self._planned, self._design.channels))

    def _planned(self, channel: Channel) -> PlannedChannel:
        line = tuple((point.x, point.y) for point in channel.along)
        typed = [channel.height_at(channel.rim, number) for number in range(len(line))]
        rims = tuple(rim.si if rim else self._finish.at(at) for rim, at in zip(typed, line, strict=True))
        bottoms = [channel.height_at(channel.invert, number) for number in range(len(line))]
        inverts = tuple(bottom.si for bottom in bottoms if bottom)
        way, slab = shapely.LineString(line), self._shape.slab
        beside = way.buffer(channel.width.si / 2, cap_style="flat")
        inside = bool(slab.buffer(ON_EDGE).covers(beside)) and not slab.boundary.buffer(ON_EDGE).covers(way)
        on_slab = float(shapely.intersection(way, slab.buffer(ON_EDGE)).length)
        return PlannedChannel(channel, line, rims, inverts, _outlets(channel, line, inverts), on_slab, inside)

    def near(self, at: XY, width: shapely.Geometry | None = None) -> bool:
        """Whether a channel takes the rain before a place, or before most of the ``width`` of what stands there.

        It lies in the slab, or as a trench drain beside the edge.
        """
        if any(piece.beside == "trench drain" for piece in self._edges.at(at)):
            return True
        return self._along(shapely.Point(at) if width is None else width)

    def _along(self, width: shapely.Geometry) -> bool:
        """Whether channels lie along most of the ``width`` of a thing, or at its spot where it has none."""
        if not width.length:
            return any(shapely.LineString(one.line).distance(width) <= BESIDE for one in self.all)
        beside = shapely.union_all([shapely.LineString(one.line).buffer(BESIDE) for one in self.all])
        return bool(width.intersection(beside).length >= MOST * width.length)

    def short_of(self, width: shapely.Geometry) -> str:
        """Name of the channel that lies along some of the ``width`` of a thing and ends before it; empty for none."""
        if self._along(width):
            return ""
        return next((one.name for one in self.all if shapely.LineString(one.line).distance(width) <= BESIDE), "")


def _outlets(channel: Channel, line: tuple[XY, ...], inverts: tuple[float, ...]) -> tuple[int, ...]:
    """The points at which a channel lets out: those the file names, else the end with the lowest bottom."""
    said = [(point.x, point.y) for point in channel.outlet_at]
    if said or not inverts:
        return tuple(k for k, at in enumerate(line) if any(math.dist(at, one) <= ONE_POINT for one in said))
    first, last = inverts[0], inverts[-1]
    return () if first == last else (0,) if first < last else (len(line) - 1,)
