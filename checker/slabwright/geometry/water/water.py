"""Water on a surface: how high it stands, where it runs and which part of the slab it leaves by where.

The parts lie in modules of their own; this one gathers what others use.
"""

from __future__ import annotations

from slabwright.geometry.water.flood import Rim, fill, spill_levels
from slabwright.geometry.water.flow import Flow, flow_over
from slabwright.geometry.water.shares import Key, shares, shares_of
from slabwright.geometry.water.standing import PondShape, ponds
from slabwright.geometry.water.trails import TrailShape, follow, trail, trails

__all__ = [
    "Flow", "Key", "PondShape", "Rim", "TrailShape", "fill", "flow_over", "follow", "ponds", "shares", "shares_of",
    "spill_levels", "trail", "trails",
]  # fmt: skip
