"""Slabs and parts of design files that the tests of several rules on order share."""

from __future__ import annotations

from design_text import pad

FOOT, INCH, YARD3 = 0.3048, 0.0254, 0.9144**3


def design(order: str = "", thickness: str = "{design: 4 in}", site: str = "", unit: str = "ft") -> str:
    """A slab of 9 by 9 ft (1 yd3 at 4 in) four times over: 18 by 18 ft, 4 yd3 net."""
    size = 18 if unit == "ft" else 6
    points = f"points: {{A: [0, 0], B: [{size}, 0], C: [{size}, {size}], D: [0, {size}]}}"
    ordered = f"order: {{{order}}}" if order else ""
    return pad("\n".join([points, site, ordered]), unit=unit, outline="[A, B, C, D]", thick=thickness)


def square(more: str, side: str, unit: str = "ft", thick: str = "4 in") -> str:
    return pad(more, unit=unit, side=side, thick=thick)


def yard(more: str, thick: str = "4 in") -> str:
    """680 ft2, the pad of the trade's own example."""
    return pad(more, outline="[[0, 0], [34, 0], [34, 20], [0, 20]]", thick=thick)
