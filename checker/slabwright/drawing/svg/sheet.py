"""The sheet: its size, the scale, where the plan lies on it, and how lines and shades are printed."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from slabwright.drawing.svg.place import Room
from slabwright.drawing.svg.text import number
from slabwright.units.quantity import System

XY = tuple[float, float]

# Colors by M. Okabe and K. Ito, "Color Universal Design" (2008), told apart with any color vision; each is also
# told apart by its line or shape, so that a gray print says the same.
ORANGE, SKY, GREEN, BLUE, VERMILLION, PURPLE = (
    "#E69F00", "#56B4E9", "#009E73", "#0072B2", "#D55E00", "#CC79A7",
)  # fmt: skip

MARGIN = 7.0  # mm of paper outside the frame
COLUMN = 66.0  # mm: legend and title block, at the right
AROUND = 25.0  # mm kept round the slab for dimensions and names

TEXT, SMALL, LARGE = 2.8, 2.5, 4.2  # letter sizes, mm; 2.5 mm is 7.1 points, and no letter is smaller


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet and what is kept free on it, mm: outside the frame, for the column at the right, and round the slab."""

    name: str
    width: float
    height: float
    margin: float = MARGIN
    column: float = COLUMN
    around: float = AROUND


SHEETS: dict[System, tuple[Sheet, ...]] = {
    "us": (  # ANSI/ASME Y14.1 sizes A to E
        Sheet("letter", 279.4, 215.9), Sheet("11 x 17 in", 431.8, 279.4), Sheet("17 x 22 in", 558.8, 431.8),
        Sheet("22 x 34 in", 863.6, 558.8), Sheet("34 x 44 in", 1117.6, 863.6),
    ),
    "metric": (  # ISO 216
        Sheet("A4", 297.0, 210.0), Sheet("A3", 420.0, 297.0), Sheet("A2", 594.0, 420.0), Sheet("A1", 841.0, 594.0),
        Sheet("A0", 1189.0, 841.0),
    ),
}  # fmt: skip

PAGE = Sheet("page", 190.0, 172.0, 0.0, 0.0, 20.5)
"""The part of a printed page (letter or A4) that holds the plan; its letters are 10 px on a desk's screen."""
HANDHELD = Sheet("handheld", 130.0, 170.0, 0.0, 0.0, 20.5)
"""For a narrow screen: the slab is no wider than one while its letters are 9 px; what is beside it is panned to."""

SCALES: dict[System, tuple[tuple[int, str], ...]] = {
    "us": (
        (4, "3\" = 1'-0\""), (8, "1 1/2\" = 1'-0\""), (12, "1\" = 1'-0\""), (16, "3/4\" = 1'-0\""),
        (24, "1/2\" = 1'-0\""), (32, "3/8\" = 1'-0\""), (48, "1/4\" = 1'-0\""), (64, "3/16\" = 1'-0\""),
        (96, "1/8\" = 1'-0\""), (120, "1\" = 10'"), (128, "3/32\" = 1'-0\""), (192, "1/16\" = 1'-0\""),
        *((12 * feet, f"1\" = {feet}'") for feet in (20, 30, 40, 50, 60, 100, 200, 300, 400, 500, 1000, 2000, 5000)),
    ),
    "metric": tuple(
        (n, f"1:{n}") for n in (5, 10, 20, 25, 50, 100, 200, 250, 500, 1000, 2000, 5000, 10000, 20000, 50000)
    ),
}  # fmt: skip
"""How many times smaller than the slab, and how the trade writes it."""

_ROOM = 130.0  # mm2 of slab on paper that one thing to be named needs
_LONG_SIDE = 85.0  # mm: a plan smaller than this is hard to read


@dataclass(frozen=True, slots=True)
class View:
    """Where the plan lies on the sheet: paper in mm, y down; plan in meters, y up."""

    sheet: Sheet
    denominator: float
    scale: str
    left: float  # paper x of plan x = 0
    base: float  # paper y of plan y = 0

    @property
    def mm_per_m(self) -> float:
        """Millimeters of paper for one meter."""
        return 1000.0 / self.denominator

    def at(self, place: Sequence[float]) -> XY:
        """A place of the plan on paper."""
        return self.left + place[0] * self.mm_per_m, self.base - place[1] * self.mm_per_m

    def line(self, places: Iterable[Sequence[float]]) -> list[XY]:
        """Places of the plan on paper."""
        return [self.at(place) for place in places]

    @property
    def low(self) -> XY:
        """Upper left corner of the part of the sheet the plan may use."""
        return self.sheet.margin + 1, self.sheet.margin + 1

    @property
    def high(self) -> XY:
        """Its lower right corner."""
        inner = self.sheet.margin + 1
        return self.sheet.width - self.sheet.column - inner, self.sheet.height - inner

    def room(self) -> Room:
        """An empty drawing area for labels."""
        return Room(self.low, self.high)


def fit(low: XY, high: XY, system: System, things: int, area: float, sheets: Sequence[Sheet] | None = None) -> View:
    """The smallest sheet, and the largest standard scale on it, that shows a plan between two corners (m) well.

    ``things`` want a name on ``area`` m2; where no sheet has room for all, the largest is taken.
    """
    wide, tall = max(high[0] - low[0], 1e-3), max(high[1] - low[1], 1e-3)
    for sheet in sheets or SHEETS[system]:
        across = sheet.width - 2 * sheet.margin - sheet.column - 2 * sheet.around
        up = sheet.height - 2 * sheet.margin - 2 * sheet.around
        needs = max(wide * 1000 / across, tall * 1000 / up)
        denominator, scale = next(((n, name) for n, name in SCALES[system] if n >= needs), (math.ceil(needs), ""))
        paper = 1000 / denominator
        readable = max(wide, tall) * paper >= _LONG_SIDE and area * paper**2 >= things * _ROOM
        if scale and (readable or denominator == SCALES[system][0][0]):
            break
    edge = sheet.margin + sheet.around
    left = edge + (across - wide * paper) / 2 - low[0] * paper
    base = sheet.height - edge - (up - tall * paper) / 2 + low[1] * paper
    return View(sheet, denominator, scale or f"1:{denominator}", left, base)


def style(scope: str) -> str:
    """How everything is printed; every selector is held within ``scope``."""
    rules = {
        "text": "font-family:sans-serif;fill:#000",
        ".halo": "stroke:#fff;stroke-width:.7;stroke-linejoin:round;paint-order:stroke",
        ".line": "fill:none;stroke:#000;stroke-width:.18;stroke-linecap:butt;stroke-linejoin:round",
        ".paper": "fill:#fff;stroke:none",
        ".concrete": "fill:#F7F6F3;fill-rule:evenodd;stroke:none",
        ".outline": "fill:none;stroke:#000;stroke-width:.7;stroke-linejoin:miter",
        ".stall": "stroke-width:.3",
        ".opening": "fill:#fff;stroke:#000;stroke-width:.5",
        ".saw-cut": "stroke-width:.35;stroke-dasharray:3.6 1.4",
        ".early-saw-cut": "stroke-width:.35;stroke-dasharray:1.5 1",
        ".tooled-groove": "stroke-width:.35;stroke-dasharray:5 1.1 .5 1.1",
        ".formed-strip": "stroke-width:.95",
        ".formed-strip-gap": "stroke:#fff;stroke-width:.45",
        ".construction-joint": "stroke-width:1.5",
        ".construction-joint-gap": "stroke:#fff;stroke-width:.6",
        ".pattern": "stroke:#777;stroke-width:.13",
        ".isolation": "stroke-width:1",
        ".isolation-tick": "stroke-width:.22",
        ".contour": f"stroke:{GREEN};stroke-width:.2",
        ".fold": f"stroke:{GREEN};stroke-width:.3;stroke-dasharray:6 1 1 1 1 1",
        ".trail": f"stroke:{BLUE};stroke-width:.25;stroke-dasharray:.6 .8;stroke-linecap:round",
        ".fall": f"stroke:{BLUE};stroke-width:.5",
        ".fall-head": f"fill:{BLUE};stroke:none",
        ".shore": f"fill:none;stroke:{BLUE};stroke-width:.3",
        ".steel": f"stroke:{PURPLE};stroke-width:.4",
        ".corner-bar": f"stroke:{PURPLE};stroke-width:.7",
        ".pour": "stroke:#666;stroke-width:.5;stroke-dasharray:6 1.4 1.4 1.4",
        ".property": "stroke-width:.5;stroke-dasharray:9 1.2 1.6 1.2 1.6 1.2",
        ".ground": "stroke-width:.5",
        ".section-line": "stroke-width:.2;stroke-dasharray:9 1.5 1.5 1.5",
        ".section-end": "stroke-width:.8",
        ".pin": "fill:#fff;stroke:#000;stroke-width:.25",
        ".hidden": "stroke-width:.2;stroke-dasharray:2 1",
        ".leader": "stroke-width:.15",
        ".spot-hold": f"fill:none;stroke:{VERMILLION};stroke-width:2.2;stroke-opacity:.22",
        ".spot-caution": f"fill:none;stroke:{ORANGE};stroke-width:2.2;stroke-opacity:.26",
        ".spot-note": "fill:none;stroke:#777;stroke-width:2.2;stroke-opacity:.2",
        ".bubble": "stroke:#000;stroke-width:.25;fill:#fff",
        ".bubble-hold": f"fill:{VERMILLION};stroke-width:.45",
        ".bubble-caution": f"fill:{ORANGE}",
        ".accepted": "fill:#fff;stroke-dasharray:.9 .6",
        ".frame": "fill:none;stroke:#000;stroke-width:.5",
        ".rule": "fill:none;stroke:#000;stroke-width:.2",
        ".fine": "stroke-width:.1",
        ".thick": "stroke-width:.5",
        ".dense": "stroke-width:.1;stroke-dasharray:none",
        ".tick": "stroke-width:.35",
        ".solid": "fill:#000;stroke:none",
        ".quiet": "fill:#444",
        ".grid": "stroke:#999;stroke-width:.1;stroke-dasharray:.8 .8",
        ".cut": "stroke-width:.7",
        ".bar": f"fill:{PURPLE};stroke:#000;stroke-width:.1",
        ".measure": f"stroke:{BLUE};stroke-width:.3",
    }
    return "".join(f"{scope} {name}{{{body}}}" for name, body in rules.items())


def on_sheet(view: View, ids: str, title: str, defs: str, layers: Mapping[str, str], said: str = "") -> str:
    """A drawing on a sheet of its own: a group for each layer; ``said`` are more attributes of the whole."""
    width, tall = number(view.sheet.width), number(view.sheet.height)
    groups = (f'<g id="{ids}-{name}" data-layer="{name}">{inner}</g>' for name, inner in layers.items())
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" id="{ids}" class="slab-{ids}" role="img" width="{width}mm" '
        f'height="{tall}mm" viewBox="0 0 {width} {tall}" data-scale="{view.denominator}"{said}>'
        f"<title>{title}</title><style>{style('#' + ids)}</style><defs>{defs}</defs>"
        f'<rect class="paper" width="{width}" height="{tall}"/>' + "\n".join(groups) + "</svg>\n"
    )


def wall_pattern(ids: str) -> str:
    """The hatch of walls."""
    return (
        f'<pattern id="{ids}-wall" width="1.3" height="1.3" patternUnits="userSpaceOnUse" '
        'patternTransform="rotate(45)"><path d="M.65 -.2V1.5" stroke="#000" stroke-width=".24"/></pattern>'
    )


def patterns(ids: str) -> str:
    """Hatches for walls, dots for old slabs, heavy ones for asphalt, stripes for aisles, dashes for water by depth."""
    hatch = (
        f'{wall_pattern(ids)}<pattern id="{ids}-there" width="1.6" height="1.6" patternUnits="userSpaceOnUse">'
        '<circle cx=".4" cy=".4" r=".16"/><circle cx="1.2" cy="1.2" r=".16"/></pattern>'
        f'<pattern id="{ids}-asphalt" width="1" height="1" patternUnits="userSpaceOnUse">'
        '<circle cx=".25" cy=".25" r=".21"/><circle cx=".75" cy=".75" r=".21"/></pattern>'
        f'<pattern id="{ids}-aisle" width="4" height="4" patternUnits="userSpaceOnUse" '
        'patternTransform="rotate(-45)"><path d="M2 -.2V4.2" stroke="#777" stroke-width=".35"/></pattern>'
    )
    for level, (step, shade) in enumerate(WATER_SHADES, 1):
        hatch += (
            f'<pattern id="{ids}-water-{level}" width="{step * 2}" height="{step}" patternUnits="userSpaceOnUse">'
            f'<rect width="{step * 2}" height="{step}" fill="{SKY}" fill-opacity="{shade}"/>'
            f'<path d="M0 {step / 2}H{step * 1.5}" stroke="{BLUE}" stroke-width=".16"/></pattern>'
        )
    return hatch


WATER_SHADES = ((2.6, 0.18), (1.9, 0.34), (1.3, 0.5), (0.9, 0.68), (0.6, 0.85))
"""Distance of the dashes (mm) and strength of the shade for each step of depth, shallow first."""
