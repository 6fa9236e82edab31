"""Four-corner pieces of the finish surface that no height line folds: they can fold along either diagonal."""

from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

from slabwright.geometry.shape.nearest import nearest_on
from slabwright.geometry.surface.facets import Surface
from slabwright.geometry.xy import XY
from slabwright.plan.shape import ON_EDGE

LEVEL = 1e-6  # m: heights that differ by less are the same
MEASURED = 400  # facets: a surface shot more densely is measured, not folded from corners


class Fold(NamedTuple):
    """A four-corner piece of the finish surface that can fold along either diagonal."""

    names: tuple[str, str, str, str]  # corners in order round it; the surface folds from the first to the third
    corners: tuple[XY, XY, XY, XY]
    at: XY  # where the diagonals cross
    height: float  # there, folded as the surface is
    other_height: float  # there, folded the other way


def folds_of(surface: Surface, lines: Sequence[Sequence[XY]], name_at: Callable[[XY], str]) -> Iterator[Fold]:
    """The pieces of a surface that could fold either way, away from its rim and from ``lines`` that fold it.

    A fold between planes with more corners is meant: only by chance of where a plane is parted does it look like the
    middle of a four-corner piece. None where the surface has so many facets that it is measured. ``name_at`` names a
    corner.
    """
    mesh, z = surface.mesh, surface.z.tolist()
    triangles, neighbors = mesh.triangles.tolist(), mesh.neighbors.tolist()
    if len(triangles) > MEASURED:
        return
    xy = [(x, y) for x, y in mesh.xy.tolist()]
    given = [*lines, *([xy[a], xy[b]] for a, b in mesh.rim.tolist())]

    def folded_on_purpose(a: int, b: int) -> bool:
        middle = (xy[a][0] + xy[b][0]) / 2, (xy[a][1] + xy[b][1]) / 2
        return min(nearest_on(line, middle)[0] for line in given) < ON_EDGE

    def beyond_plane(facet: int, a: int, b: int, c: int) -> Iterator[int]:
        """Corners that stand as well as ``c`` for a side a-b, as the facet is half of a plane with four corners."""
        for other in neighbors[facet]:
            e = next((v for v in triangles[other] if v not in (a, b, c)), -1) if other >= 0 else -1
            if e < 0 or {a, b} <= set(triangles[other]):
                continue
            first, last = (a, b) if b in triangles[other] else (b, a)  # the plane parts at last-c, or at first-e
            crossing = _crossing(xy[last], xy[c], xy[first], xy[e])
            if crossing is None or folded_on_purpose(last, c):
                continue
            t, u = crossing
            if abs(z[last] + (z[c] - z[last]) * t - z[first] - (z[e] - z[first]) * u) < LEVEL:
                yield e

    def folded(a: int, b: int, c: int, d: int) -> Fold | None:
        crossing = _crossing(xy[a], xy[b], xy[c], xy[d])
        if crossing is None:
            return None
        t, u = crossing
        at = xy[a][0] + (xy[b][0] - xy[a][0]) * t, xy[a][1] + (xy[b][1] - xy[a][1]) * t
        one, two = z[a] + (z[b] - z[a]) * t, z[c] + (z[d] - z[c]) * u
        named = {vertex: name_at(xy[vertex]) for vertex in (a, b, c, d)}
        rounds = (a, c, b, d), (a, d, b, c), (b, c, a, d), (b, d, a, c)
        first = min(rounds, key=lambda way: [named[vertex] for vertex in way])
        names, corners = (tuple(of[vertex] for vertex in first) for of in (named, xy))
        return Fold(names, corners, at, one, two)  # type: ignore[arg-type]

    for index, (triangle, beyond) in enumerate(zip(triangles, neighbors, strict=True)):
        for side, other in enumerate(beyond):
            if other <= index:
                continue
            a, b, c = triangle[side], triangle[side - 2], triangle[side - 1]
            d = next(v for v in triangles[other] if v not in (a, b))
            if _crossing(xy[a], xy[b], xy[c], xy[d]) is None or folded_on_purpose(a, b):
                continue
            here, there = (c, *beyond_plane(index, a, b, c)), (d, *beyond_plane(other, a, b, d))
            pieces = [folded(a, b, left, right) for left in here for right in there]
            every = [one for one in pieces if one is not None]
            if len(every) == len(pieces):
                yield min(every, key=lambda one: (round(abs(one.height - one.other_height), 6), sorted(one.names)))


def _crossing(a: XY, b: XY, c: XY, d: XY) -> tuple[float, float] | None:
    """Where a-b and c-d cross, as shares of each; None when the four points make no four-corner piece."""
    along, back, gap = ((q[0] - p[0], q[1] - p[1]) for p, q in ((a, b), (d, c), (a, c)))
    turn = along[0] * back[1] - along[1] * back[0]
    if abs(turn) < 1e-9:
        return None
    t = (gap[0] * back[1] - gap[1] * back[0]) / turn
    u = (along[0] * gap[1] - along[1] * gap[0]) / turn
    return (t, u) if 0.05 < t < 0.95 and 0.05 < u < 0.95 else None
