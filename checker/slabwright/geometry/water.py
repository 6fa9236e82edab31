"""Water on a surface: how high it stands, where it runs and which part of the slab it leaves by where.

The parts lie in modules of their own; this one gathers what others use.
"""

from __future__ import annotations

from slabwright.geometry.flood import Rim, fill, spill_levels
from slabwright.geometry.shares import Key, shares
from slabwright.geometry.standing import PondShape, ponds
from slabwright.geometry.trails import TrailShape, trail, trails

__all__ = ["Key", "PondShape", "Rim", "TrailShape", "fill", "ponds", "shares", "spill_levels", "trail", "trails"]
