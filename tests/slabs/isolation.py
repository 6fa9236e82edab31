"""Slabs and parts of design files that the tests of several rules on isolation share."""

from __future__ import annotations

from design_text import pad

FULL = "isolation: {material: foam, thickness: 1/2 in, depth: full}"
POINTS = "points: {A: [0, 0], B: [12, 0], C: [12, 10], D: [0, 10]}\n"


def design(edges: str = "", thickness: str = "4 in", more: str = "") -> str:
    """A slab 12 ft by 10 ft, A to D from the lower left; ``edges`` has one ``{...}`` a line, ``more`` sections."""
    lines = ["edges:", *(f"  - {one.strip()}" for one in edges.strip().splitlines()), ""] if edges else []
    return pad(POINTS + "\n".join(lines) + more, outline="[A, B, C, D]", thick=thickness)


def side(run: str, beside: str = "building", more: str = "", name: str = "") -> str:
    parts = [
        f"run: [{', '.join(run)}]",
        f"beside: {beside}",
        *([f"name: {name}"] if name else []),
        *([more] if more else []),
    ]
    return f"{{{', '.join(parts)}}}"


def slab(edges: str = "", more: str = "", use: str = "patio", unit: str = "ft") -> str:
    """A slab 12 by 10, A to D from the lower left; the edges that ``edges`` leaves out are lawn."""
    written = f"edges: [{edges}{', ' if edges else ''}{{rest: lawn}}]\n"
    return pad(POINTS + written + more, use, unit, outline="[A, B, C, D]")


def filled(run: str, filler: str = "depth: full", beside: str = "building", name: str = "") -> str:
    named = f", name: {name}" if name else ""
    return f"{{run: [{', '.join(run)}], beside: {beside}, isolation: {{material: foam, {filler}}}{named}}}"


def bare(run: str, beside: str = "building", name: str = "", more: str = "") -> str:
    return f"{{run: [{', '.join(run)}], beside: {beside}{f', name: {name}' if name else ''}{more}}}"
