"""Which formula works which published check: a mapping from the beginning of a check's id to a small adapter.

An adapter sees the inputs of its check, never the printed values. Forces that a source prints as
pounds or kilograms come in as masses and are turned into newtons, and back, with standard gravity.
"""

from __future__ import annotations

from published import Adapter
from published_ground import GROUND
from published_slab import SLAB

ADAPTERS: dict[str, Adapter] = {**SLAB, **GROUND}
