"""Where puddles may stand on a slab that is built within its tolerance, as a shaded map of the plan."""

from __future__ import annotations

from xml.sax.saxutils import escape

import numpy as np

from slabwright.plan.plan import Plan
from slabwright.proposals.as_built import AsBuilt

SHADES = ((0.5, "#08519c", "1 in 2 or more"), (0.2, "#3182bd", "1 in 5"), (0.05, "#6baed6", "1 in 20"),
          (0.01, "#c6dbef", "1 in 100"))  # fmt: skip
"""Least chance of each shade, the darkest first: print them gray and their order stays."""

WIDE = 560.0  # of the map without its margin
MARGIN, LINE = 30.0, 18.0
LETTERS = 12.0


def svg(plan: Plan, found: AsBuilt) -> str:
    """The map as an element of SVG, north as on the plan; cells by their chance, corners by their names."""
    x0, y0, x1, y1 = plan.shape.slab.bounds
    scale = WIDE / max(x1 - x0, y1 - y0)

    def at(x: float, y: float) -> tuple[float, float]:
        return MARGIN + (x - x0) * scale, MARGIN + (y1 - y) * scale

    width, height = 2 * MARGIN + (x1 - x0) * scale, 2 * MARGIN + (y1 - y0) * scale
    wide, tall = max(width, 4 * 110.0), height + LINE
    parts = [
        f'<svg class="built-map" viewBox="0 0 {wide:.0f} {tall:.0f}" role="img" '
        'aria-label="Map of the chance of standing water">',
        f'<rect width="{wide:.0f}" height="{tall:.0f}" fill="#fff"/>',
    ]
    chances = np.nan_to_num(found.map)
    side = found.cell * scale
    for (least, shade, _), over in zip(SHADES, (np.inf, *(one[0] for one in SHADES)), strict=False):
        squares = []
        for row, column in np.argwhere((chances >= least) & (chances < over)).tolist():
            x, y = at(found.origin[0] + column * found.cell, found.origin[1] + row * found.cell)
            squares.append(f"M{x - side / 2:.1f} {y - side / 2:.1f}h{side:.2f}v{side:.2f}h{-side:.2f}z")
        if squares:
            parts.append(f'<path d="{"".join(squares)}" fill="{shade}"/>')
    for ring in (plan.shape.slab.exterior, *plan.shape.slab.interiors):
        corners = " ".join(f"{x:.1f},{y:.1f}" for x, y in (at(*one) for one in ring.coords))
        parts.append(f'<polygon points="{corners}" fill="none" stroke="#000" stroke-width="1.5"/>')
    middle = plan.shape.slab.centroid
    for corner in plan.shape.corners:
        if corner.at.name:
            x, y = at(corner.at.x, corner.at.y)
            off = -8 if corner.at.x < middle.x else 8
            parts.append(
                f'<text x="{x + off:.1f}" y="{y + (16 if corner.at.y < middle.y else -6):.1f}" font-size="{LETTERS}" '
                f'text-anchor="{"end" if off < 0 else "start"}" fill="#000">{escape(corner.at.name)}</text>'
            )
    for number, (_, shade, words) in enumerate(reversed(SHADES)):
        x = MARGIN + number * 105
        parts.append(f'<rect x="{x:.0f}" y="{height:.0f}" width="12" height="12" fill="{shade}" stroke="#000"/>')
        parts.append(f'<text x="{x + 17:.0f}" y="{height + 10:.0f}" font-size="{LETTERS}" fill="#000">{words}</text>')
    return "".join([*parts, "</svg>"])
