"""Heights along a closed outline, straight between the known ones."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence

from slabwright.geometry.shape.outline import Ring, distances_along
from slabwright.geometry.xy import XY


class RimHeights:
    """Heights along the outline: straight between the known ones (distance along it, height), all the way round."""

    def __init__(self, ring: Ring, known: Sequence[tuple[float, float]]) -> None:
        self.ring = ring
        self.known = known = sorted(known)
        self.marks: list[float] = [along for along, _ in known]
        # The last before the first corner and the first after it, so that every distance lies between two.
        self._round: list[tuple[float, float]] = [(along - self.ring.length, z) for along, z in known[-1:]] + known
        self._round += [(along + self.ring.length, z) for along, z in known[:1]]

    def near(self, along: float) -> float:
        """How far along the outline the nearest known height is, m."""
        after = bisect_right(self._round, (along, math.inf))
        return min((abs(mark - along) for mark, _ in self._round[max(after - 1, 0) : after + 1]), default=math.inf)

    def at(self, along: float) -> float:
        """The height at a distance along the outline."""
        after = min(max(bisect_right(self._round, (along, math.inf)), 1), len(self._round) - 1)
        (low, start), (high, end) = self._round[after - 1], self._round[after]
        return start + (end - start) * (along - low) / (high - low) if high > low else end

    def heights(self, points: Sequence[XY]) -> tuple[float, ...]:
        """The heights at points of the outline."""
        return tuple(self.at(along) for along, _ in distances_along(self.ring, points))


def apart(distance: float, marks: Sequence[float]) -> float:
    """How far a distance is from the nearest of some in order."""
    after = bisect_right(marks, distance)
    return min((abs(mark - distance) for mark in marks[max(after - 1, 0) : after + 1]), default=math.inf)
