"""Slabs and parts of design files that the tests of several rules on base share."""

from __future__ import annotations

from design_text import pad

HILL = """
site: {{base: {{material: crushed stone, thickness: 4 in}}{more}}}
points: {{A: [0, 0], B: [8, 0], C: [8, 8], D: [0, 8]}}
heights:
  finish: {{A: 100, B: 100, C: 100, D: 100}}
  existing: {{A: {high}, B: {high}, C: {low}, D: {low}}}
"""
HOUSE = "points: {A: [0, 0], B: [8, 0], C: [8, 8], D: [0, 8]}\n"


def hill(high: float, low: float, more: str = "") -> str:
    """A level slab of 4 in on 4 in, its underside at 99 1/3 ft, on ground that falls from ``high`` to ``low``."""
    return pad(HILL.format(high=high, low=low, more=more), outline="[A, B, C, D]")


def ground(existing: str, more: str = "", finish: str = "A: 100, B: 100, C: 100, D: 100", base: str = "4 in") -> str:
    """A level slab of 8 by 8 ft and 4 in on a base, over ground with these heights."""
    site = f"site: {{base: {{material: crushed stone, thickness: {base}}}}}\n" if base else ""
    points = "points: {A: [0, 0], B: [8, 0], C: [8, 8], D: [0, 8]}\n"
    heights = f"heights: {{finish: {{{finish}}}, existing: {{{existing}}}}}\n"
    return pad(site + points + heights + more, outline="[A, B, C, D]")
