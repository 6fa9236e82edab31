"""Slabs and parts of design files that the tests of several rules on thickness share."""

from __future__ import annotations

from design_text import pad

SQUARE = "points: {A: [0, 0], B: [10, 0], C: [10, 10], D: [0, 10]%s}\n"
CORNERS = "[A, B, C, D]"


def design(thickness: str = "4 in", more: str = "", use: str = "patio", unit: str = "ft") -> str:
    """A slab 10 by 10 with the corners A to D; ``more`` has whole sections."""
    points = "points: {A: [0, 0], B: [10, 0], C: [10, 10], D: [0, 10], M: [5, 5]}\n"
    return pad(points + more, use, unit, outline=CORNERS, thick=thickness)


def axle(pounds: float) -> str:
    return f"loads: [{{vehicle: van, axle: {pounds} lb, wheels_per_axle: 2}}]"


def dug(base: str, finish: str = "", more: str = "E: [5, 5], F: [5, 6.5]") -> str:
    points = f"points: {{A: [0, 0], B: [10, 0], C: [10, 10], D: [0, 10], {more}}}\n"
    return pad(f"{points}heights: {{{finish}base: {{{base}}}}}", outline=CORNERS)
