"""What slabs are called by their use, and whose limits each takes."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal, get_args

Use = Literal["patio", "walk", "driveway", "vehicle pad", "garage floor", "shop floor", "equipment pad"]
Called = Literal[
    "patio", "walk", "driveway", "vehicle pad", "garage floor", "shop floor", "equipment pad",
    "sport court", "pool deck", "bin store", "carport", "shed base", "barn floor",
]  # fmt: skip

COUNTS_AS: Mapping[Called, Use] = {
    **{use: use for use in get_args(Use)},
    "sport court": "patio",  # walked on, in the open, of one plane
    "pool deck": "patio",
    "bin store": "patio",  # bins are wheeled by hand; a truck on it is a vehicle pad
    "carport": "vehicle pad",  # rain and salt come in under its roof
    "shed base": "shop floor",  # under a roof, level
    "barn floor": "shop floor",
}
"""The use whose limits each takes. Where a limit has a name of its own, such as that of a pool deck, it goes before."""

CALLED: tuple[Called, ...] = tuple(COUNTS_AS)
