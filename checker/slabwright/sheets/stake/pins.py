"""Pins to set out a slab by: where each stands, from which line it is taped, and the heights there.

Places and heights are in meters. A pin's place is given from a line between two named corners: how far along it, how
far off it, and the tapes from both corners.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import hypot

import numpy as np
import shapely

from slabwright.design.heights import SpotHeight
from slabwright.design.point import Point
from slabwright.geometry.xy import XY, as_xy
from slabwright.plan.climbs import BESIDE
from slabwright.plan.plan import Plan
from slabwright.plan.shape import ON_EDGE
from slabwright.sheets.stake.lines import Line, lines_for
from slabwright.sheets.stake.marks import marks_of
from slabwright.sheets.stake.sight import seen, standing


@dataclass(frozen=True, slots=True)
class Pin:
    """One pin; heights are None where the design does not give them."""

    number: int
    name: str  # of the point it stands at, empty for a pin that only fills up
    what: str
    at: XY
    line: Line  # that its place is given from
    reached: bool  # whether string and way off it are clear of every building
    along: float
    off: float
    tapes: tuple[float | None, float | None]  # from the two corners of the line; None where a building is in the way
    thickness: float
    finish: float | None
    base: float | None  # underside of the concrete
    subgrade: float | None  # underside of the base layer
    existing: float | None

    @property
    def label(self) -> str:
        """``corner A``, ``grid``."""
        return f"{self.what} {self.name}".strip()

    @property
    def cut(self) -> float | None:
        """Cut down to the subgrade (or to the underside of the slab without a base layer); fill below zero."""
        down_to = self.subgrade if self.subgrade is not None else self.base
        return None if down_to is None or self.existing is None else self.existing - down_to


def set_out(plan: Plan, line: Line, spacing: float) -> tuple[Pin, ...]:
    """All pins, none further than ``spacing`` m from the next along an edge, a height line or a row of the grid."""
    marks = marks_of(plan, line, spacing)
    xy = np.array([mark.at for mark in marks])
    solid = standing(plan)
    lines = lines_for(plan, line, xy, solid)
    finish = heights_at(plan, xy)
    existing = existing_at(plan, xy)
    thickness = (
        [plan.thickness.design] * len(marks) if plan.thickness.even else [plan.thickness.at(mark.at) for mark in marks]
    )
    layer = plan.design.site.base.thickness if plan.design.site.base else None
    first, feet, pins = first_number(taken(plan)), _feet_off_slab(plan), []
    for index, mark in enumerate(marks):
        own = lines[index] or line
        along, off = (float(x) for x in own.of(xy[index])[0])
        top = finish[index]
        base = None if top is None else top - thickness[index]
        if mark.at in feet:
            top, base = feet[mark.at], None
        pins.append(
            Pin(
                number=first + index,
                name=mark.name,
                what=mark.what,
                at=mark.at,
                line=own,
                reached=lines[index] is not None,
                along=along,
                off=off,
                tapes=(
                    hypot(along, off) if seen(solid, own.start, mark.at) else None,
                    hypot(along - own.length, off) if seen(solid, own.end, mark.at) else None,
                ),
                thickness=thickness[index],
                finish=top,
                base=base,
                subgrade=None if base is None or layer is None else base - layer.si,
                existing=existing[index],
            )
        )
    return tuple(pins)


def _feet_off_slab(plan: Plan) -> dict[XY, float | None]:
    """The height at both ends of the foot of each flight that stands beside the slab, m; None where it is not known."""
    ends = ((end, one.foot) for one in plan.flights.all if one.laid for end in one.laid.nosings[0])
    return {end: foot for end, foot in ends if plan.shape.slab.distance(shapely.Point(end)) > BESIDE}


def taken(plan: Plan) -> Iterator[str]:
    """Every name that a reading may be taken on beside the pins: points, benches, fixed things."""
    yield from plan.design.points
    yield from plan.design.heights.benches
    yield from (thing.name for thing in plan.design.fixed)


def first_number(points: Iterable[str]) -> int:
    """The number of the first pin: 1, or past what the plan itself calls by numbers."""
    taken = [int(name) for name in points if name.isdecimal() and len(name) < 9]
    return 1 if not taken else (max(taken) // 100 + 1) * 100 + 1


def as_points(pins: Sequence[Pin]) -> dict[str, Point]:
    """The pins as points by their number."""
    return {str(pin.number): Point(*pin.at, str(pin.number)) for pin in pins}


def heights_at(plan: Plan, xy: np.ndarray) -> list[float | None]:
    """Finish heights at places (k, 2); without a finish surface only where one is typed."""
    if plan.finish.surface is None:
        return _typed(plan.design.heights.finish, xy)
    return plan.finish.all_at([as_xy(at) for at in xy])


def existing_at(plan: Plan, xy: np.ndarray) -> list[float | None]:
    """Heights of the ground before digging, at places (k, 2): between its shots, or at one."""
    shots = plan.design.heights.existing
    surface = plan.site.existing_surface
    found = surface.height(xy) if surface is not None else np.full(len(xy), np.nan)
    at_shots = _typed(shots, xy)  # on the rim of the shots, a hair outside every facet
    return [at if np.isnan(z) else float(z) for at, z in zip(at_shots, found, strict=True)]


def _typed(spots: Sequence[SpotHeight], xy: np.ndarray) -> list[float | None]:
    """For every place (k, 2) the height typed there, None where there is none."""
    found: list[float | None] = [None] * len(xy)
    tree = shapely.STRtree(shapely.points([[one.at.x, one.at.y] for one in spots]) if spots else [])
    near = tree.query_nearest(shapely.points(xy), max_distance=ON_EDGE, all_matches=False)
    for place, spot in zip(*near.tolist(), strict=True):
        found[place] = spots[spot].height.si
    return found
