"""Isolation: how many confining faces, how deep, and what counts."""

from __future__ import annotations

from slabwright.formulas import not_negative, positive, within


def faces_to_isolate(faces: int) -> int:
    """Least number of confining faces to isolate: one of two on opposite sides, all of three or four.

    ``faces`` counts the sides of the slab that something fixed stands against, 0 to 4. A single face confines nothing.

    Source: `cement-joints-faq`.

    >>> [faces_to_isolate(n) for n in (2, 3, 4)]
    [1, 3, 4]
    """
    n = int(within("confining faces", faces, 0, 4))
    return n if n > 2 else max(0, n - 1)


def is_full_depth(filler: float, thickness: float) -> bool:
    """Whether a filler ``filler`` m deep parts the whole ``thickness`` (m) of the slab; a shallower cut does not.

    Source: `trade-qa-isolation`.

    >>> is_full_depth(2.0, 5.0)
    False
    """
    return not_negative("filler depth", filler, "m") >= positive("slab thickness", thickness, "m") * (1 - 1e-6)
