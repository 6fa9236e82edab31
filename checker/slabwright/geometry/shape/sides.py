"""Which of the four sides of a slab each stretch of its outline faces. Coordinates and lengths are meters."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from slabwright.geometry.xy import XY

_AS_LONG = 0.999  # parts this near to the longest are as long: arcs are laid in equal chords
_TRIED = 64  # directions tried at most


def facing_sides(lines: Sequence[Sequence[XY]], least: float) -> tuple[tuple[int, ...], ...]:
    """Indices of the lines that face each of four sides, round the slab from the side of the longest straight part.

    All lines run the same way round the slab; a bent one can face several sides. Parts up to 45 degrees off the
    first side and the one opposite belong to these. A side with less than ``least`` m of line in all is empty.
    Of several parts as long as the longest, the one that gives the most sides sets the direction. Turning, mirroring
    or shifting all lines changes nothing but the order of the second side and the fourth.

    >>> facing_sides([[(0, 0), (6, 0)], [(6, 4), (0, 4)], [(0, 4), (0, 3.9)]], least=0.3)
    ((0,), (), (1,), ())
    """
    parts = [
        (math.dist(a, b), math.atan2(b[1] - a[1], b[0] - a[0]), index)
        for index, line in enumerate(lines)
        for a, b in pairwise(line)
    ]
    longest = max((size for size, _, _ in parts), default=0.0)
    ways = [way for size, way, _ in parts if size >= _AS_LONG * longest]
    tried = [_sides(parts, way, least) for way in ways[:: 1 + len(ways) // _TRIED]]
    return max(tried, key=lambda sides: sum(1 for side in sides if side), default=((), (), (), ()))


def _sides(parts: Sequence[tuple[float, float, int]], axis: float, least: float) -> tuple[tuple[int, ...], ...]:
    """The sides when the first looks the way of a part that runs along ``axis`` (radians)."""
    found: list[dict[int, None]] = [{}, {}, {}, {}]
    lengths = [0.0] * 4
    for size, way, index in parts:
        turn = math.remainder(way - axis, 2 * math.pi)
        if abs(turn) <= math.pi / 4 + 1e-6:
            side = 0
        elif abs(turn) >= 3 * math.pi / 4 - 1e-6:
            side = 2
        else:
            side = 1 if turn > 0 else 3
        lengths[side] += size
        found[side][index] = None
    return tuple(tuple(side) if size >= least else () for side, size in zip(found, lengths, strict=True))
