"""Which part of a slab's water goes where.

Water that crosses a facet side goes on to places that depend only on where it crosses. So for every facet the slab
is split, across the direction of its fall, into bands that share an end; the bands of a facet follow from those of
the facets below it. Areas of bands are exact.
"""

from __future__ import annotations

from bisect import bisect_right
from typing import Literal

from slabwright.geometry.water.flow import CHANNEL, CROSS, FACET, INTO, NONE, OUT, STAY, STILL, Flow
from slabwright.geometry.water.trails import follow

Key = tuple[Literal["exit", "pond", "level"], int]
"""("exit", number), ("pond", index in the ponds given) or ("level", -1)."""

Bands = list[tuple[float, float, Key]]

_TRIES = 32  # trails per facet side where facets feed each other in a ring


def shares_of(flow: Flow) -> dict[Key, float]:
    """Share of the slab's area whose water goes to every exit, drain, pond and level part; they add up to 1.

    Water that runs into a pond that counts is counted there and does not go on. Exact to rounding. Only where facets
    feed each other in a ring (possible on twisted ground) the side between two of them is split by following 32
    drops, which places a boundary to within 1/32 of that side.
    """
    ends = _Ends(flow)
    total: dict[Key, float] = {}
    for facet in range(ends.facets):
        ends.settle(facet)
        for key, area in ends.areas(facet):
            total[key] = total.get(key, 0.0) + area
    whole = sum(total.values())
    return {key: total[key] / whole for key in sorted(total)}


class _Ends:
    """Where water ends: a key for every facet or vertex with one end, bands across the fall for facets with several."""

    def __init__(self, flow: Flow) -> None:
        mesh = flow.surface.mesh
        self.flow = flow
        self.facets = len(mesh.triangles)
        self.triangles: list[list[int]] = mesh.triangles.tolist()
        self.neighbors: list[list[int]] = mesh.neighbors.tolist()
        xy, middle = mesh.xy.tolist(), mesh.xy.mean(axis=0).tolist()
        self.across: list[list[float]] = [
            [dx * (xy[v][1] - middle[1]) - dy * (xy[v][0] - middle[0]) for v in corners]
            for corners, (dx, dy) in zip(self.triangles, flow.down, strict=True)
        ]
        self.size: list[float] = flow.surface.areas.tolist()
        self.side, self.low, self.rim_row, self.rim_edges = flow.side, flow.low, flow.rim_row, flow.rim_edges
        self.step, self.target, self.pond, self.facet_pond = flow.step, flow.target, flow.pond, flow.facet_pond
        self.way, self.exit = flow.way, flow.exit
        nodes = self.facets + len(mesh.xy)
        self.state = bytearray(nodes)  # 0 new, 1 waiting for others, 2 settled
        self.one: list[Key | None] = [None] * nodes
        self.bands: dict[int, Bands] = {}

    def settle(self, node: int) -> None:
        """Work out a facet (its number) or vertex (``facets`` plus its number), after all that lies below it."""
        stack = [node]
        state = self.state
        while stack:
            node = stack[-1]
            if state[node] == 2:
                stack.pop()
                continue
            if state[node] == 0:
                state[node] = 1
                below = [other for other in self._below(node) if state[other] == 0]
                if below:
                    stack.extend(below)
                    continue
            if node < self.facets:
                self._settle_facet(node)
            else:
                self._settle_vertex(node)
            state[node] = 2
            stack.pop()

    def _below(self, node: int) -> list[int]:
        """The facets and vertices that receive water from a facet or vertex."""
        if node >= self.facets:
            step, target = self.step[node - self.facets], self.target[node - self.facets]
            return [target] if step == FACET else [] if step in (OUT, STAY) else [self.facets + target]
        below = []
        for k, kind in enumerate(self.side[node]):
            if kind in (CROSS, STILL):
                below.append(self.neighbors[node][k])
            elif kind != NONE:
                below.append(self.facets + self.low[node][k])
        return below

    def _settle_vertex(self, node: int) -> None:
        vertex = node - self.facets
        step, target = self.step[vertex], self.target[vertex]
        if step == OUT:
            self.one[node] = ("exit", target)
        elif step == STAY:
            self.one[node] = _standing(self.pond[vertex])
        elif step == FACET:
            if self.state[target] != 2:
                x, y = self.flow.surface.mesh.xy[vertex].tolist()
                self.one[node] = self._followed((x, y))
                return
            place = self.across[target][self.triangles[target].index(vertex)]
            self.one[node] = self._end_at(target, place)
        else:
            below = self.facets + target
            self.one[node] = self.one[below] or ("level", -1)

    def _end_at(self, facet: int, place: float) -> Key:
        """Where water ends that runs down a settled facet at this place across its fall."""
        only = self.one[facet]
        if only is not None:
            return only
        bands = self.bands[facet]
        found = bisect_right([band[0] for band in bands], place) - 1
        return bands[max(found, 0)][2]

    def _settle_facet(self, facet: int) -> None:
        sides = [k for k in range(3) if self.side[facet][k] != NONE]
        if not sides:
            self.one[facet] = _standing(self.facet_pond[facet])
            return
        ends = [self._single_end(facet, k) for k in sides]
        if ends[0] is not None and all(end == ends[0] for end in ends):
            self.one[facet] = ends[0]
            return
        bands: Bands = []
        for k in sorted(sides, key=lambda k: self.across[facet][k]):
            for start, end, key in self._side_bands(facet, k):
                if bands and bands[-1][2] == key:
                    bands[-1] = (bands[-1][0], end, key)
                elif end > start:
                    bands.append((start, end, key))
        if len(bands) == 1:
            self.one[facet] = bands[0][2]
        elif not bands:
            self.one[facet] = ends[0] or ("level", -1)
        else:
            self.bands[facet] = bands

    def _single_end(self, facet: int, k: int) -> Key | None:
        """The end of all water over a side, None where it may have several."""
        kind = self.side[facet][k]
        if kind in (CROSS, STILL):
            return self.one[self.neighbors[facet][k]]
        if kind in (CHANNEL, INTO):
            return self.one[self.facets + self.low[facet][k]]
        row = self.rim_row[facet][k]
        if row < 0 or self.way[row][0] > self.way[row][1]:
            return self.one[self.facets + self.low[facet][k]]
        return ("exit", self.exit[row]) if self.way[row] == (0.0, 1.0) else None

    def _side_bands(self, facet: int, k: int) -> Bands:
        """Bands of the water over one side, across the fall of the facet."""
        start, end = self.across[facet][k], self.across[facet][(k + 1) % 3]
        only = self._single_end(facet, k)
        if only is not None:
            return [(start, end, only)]
        kind = self.side[facet][k]
        if kind in (CROSS, STILL):
            other = self.neighbors[facet][k]
            if self.state[other] == 2:
                return self._bands_beyond(facet, k, other)
        elif kind != CHANNEL and self.rim_row[facet][k] >= 0:
            parts = self._edge_parts(facet, k)
            return [(start + a * (end - start), start + b * (end - start), key) for a, b, key in parts]
        xy = self.flow.surface.mesh.xy
        first, second = xy[self.triangles[facet][k]], xy[self.triangles[facet][(k + 1) % 3]]
        found: Bands = []
        for i in range(_TRIES):
            x, y = (first + (i + 0.5) / _TRIES * (second - first)).tolist()
            a, b = (start + j / _TRIES * (end - start) for j in (i, i + 1))
            found.append((a, b, self._followed((x, y))))
        return found

    def _bands_beyond(self, facet: int, k: int, other: int) -> Bands:
        """Bands of the facet across a side, as far as that side reaches, brought to this facet's measure."""
        start, end = self.across[facet][k], self.across[facet][(k + 1) % 3]
        corner, own = self.triangles[other], self.triangles[facet]
        first = self.across[other][corner.index(own[k])]
        last = self.across[other][corner.index(own[(k + 1) % 3])]
        scale = (end - start) / (last - first)
        found: Bands = []
        bands = self.bands[other]
        for i, (low, high, key) in enumerate(bands):
            a = first if i == 0 else max(low, first)
            b = last if i == len(bands) - 1 else min(high, last)
            if b > a:
                found.append((start + (a - first) * scale, start + (b - first) * scale, key))
        return found

    def _edge_parts(self, facet: int, k: int) -> Bands:
        """Parts of an edge, as fractions from corner k on, that water leaves over or follows down."""
        row, low = self.rim_row[facet][k], self.low[facet][k]
        start, end = self.way[row]
        if self.rim_edges[row][0] != self.triangles[facet][k]:
            start, end = 1 - end, 1 - start
        out: Key = ("exit", self.exit[row])
        to_low = self.one[self.facets + low] or ("level", -1)
        first_is_low = self.triangles[facet][k] == low
        parts: Bands = [
            (0.0, start, to_low if first_is_low else out),
            (start, end, out),
            (end, 1.0, out if first_is_low else to_low),
        ]
        return [part for part in parts if part[1] > part[0]]

    def _followed(self, place: tuple[float, float]) -> Key:
        """Where a drop from this place ends."""
        way = follow(self.flow, place)
        if way.kind == "exit":
            return ("exit", way.exit)
        return _standing(way.pond)

    def areas(self, facet: int) -> list[tuple[Key, float]]:
        """Area of every band of a settled facet, m2."""
        only, whole = self.one[facet], self.size[facet]
        if only is not None:
            return [(only, whole)]
        low, middle, high = sorted(self.across[facet])

        def up_to(place: float) -> float:
            if place <= low:
                return 0.0
            if place >= high:
                return 1.0
            if place < middle:
                return (place - low) * (place - low) / ((middle - low) * (high - low))
            return 1 - (high - place) * (high - place) / ((high - middle) * (high - low))

        bands = self.bands[facet]
        cuts = [0.0, *(up_to(band[0]) for band in bands[1:]), 1.0]
        return [(band[2], whole * (cuts[i + 1] - cuts[i])) for i, band in enumerate(bands)]


def _standing(pond: int) -> Key:
    """The key of a pond, or of level ground when there is none."""
    return ("pond", pond) if pond >= 0 else ("level", -1)
