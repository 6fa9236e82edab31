"""Parts of the finish surface that fall alike, and what they are called."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

import shapely

from slabwright.geometry.surface.patches import outer_ring
from slabwright.geometry.surface.surface import Surface
from slabwright.plan.edges import ON_EDGE
from slabwright.plan.things import XY, FallPart

if TYPE_CHECKING:
    from slabwright.plan.plan import Plan

TOLD = 5  # parts told one by one; all smaller ones are told with the last
SMALLEST = 0.0929  # m2, 1 ft2: a smaller part of a slab is a fold, not a fall
_FOOT = 0.3048


def name_at(plan: Plan, at: XY) -> str:
    """The name of the point at a place, or its coordinates in the unit of the plan."""
    near = [p for p in plan.design.points.values() if math.hypot(p.x - at[0], p.y - at[1]) < ON_EDGE]
    if near:
        return near[0].name
    unit, size = ("ft", _FOOT) if plan.system == "us" else ("m", 1.0)
    return f"({at[0] / size + 0.0:.2f} {unit}, {at[1] / size + 0.0:.2f} {unit})"


def fall_parts(plan: Plan, chosen: Callable[[float], bool]) -> tuple[FallPart, ...]:
    """Connected parts of the finish surface whose slope is ``chosen``, the largest first; folds left out."""
    surface = plan.surface
    if surface is None:
        return ()
    slopes: list[float] = surface.slopes.tolist()
    mask = [chosen(slope) for slope in slopes]
    if not any(mask):
        return ()
    areas: list[float] = surface.areas.tolist()
    sized = [(sum(areas[f] for f in group), group) for group in connected(surface.mesh.neighbours.tolist(), mask)]
    smallest = min(SMALLEST, plan.area / 10)
    sized = sorted(((area, group) for area, group in sized if area > smallest), key=lambda one: -round(one[0], 6))
    parts = [part_of(plan, surface, group) for _, group in sized[:TOLD]]
    rest = [slopes[facet] for _, group in sized[TOLD:] for facet in group]
    if rest:
        others = len(sized) - TOLD
        parts[-1] = parts[-1]._replace(
            name=f"{parts[-1].name} and {others} smaller part{'s' if others > 1 else ''}",
            least=min(parts[-1].least, *rest),
            most=max(parts[-1].most, *rest),
            others=others,
        )
    return tuple(parts)


def connected(neighbours: list[list[int]], mask: list[bool]) -> list[list[int]]:
    """Facets of the mask in groups that share sides."""
    left, groups = list(mask), []
    for first in range(len(left)):
        if not left[first]:
            continue
        group, left[first] = [first], False
        for facet in group:  # grows while it is gone through
            for other in neighbours[facet]:
                if other >= 0 and left[other]:
                    left[other] = False
                    group.append(other)
        groups.append(group)
    return groups


def part_of(plan: Plan, surface: Surface, group: list[int]) -> FallPart:
    """Facets that hang together, as a part with a name."""
    areas, slopes, gradients = surface.areas.tolist(), surface.slopes.tolist(), surface.gradients.tolist()
    area = sum(areas[f] for f in group)
    steep = [slopes[f] for f in group]
    ring = outer_ring(surface.mesh, group)
    return FallPart(
        name=_part_name(plan, ring, area),
        area=area,
        least=min(steep),
        most=max(steep),
        fall=(
            -sum(gradients[f][0] * areas[f] for f in group) / area,
            -sum(gradients[f][1] * areas[f] for f in group) / area,
        ),
        outline=ring,
        facets=tuple(group),
    )


def _part_name(plan: Plan, outline: tuple[XY, ...], area: float) -> str:
    """The whole slab, the part between up to six points, or the part in a panel."""
    if area > 0.99 * plan.area:
        return "the whole slab"
    ring = shapely.LinearRing(_from_sharpest(outline)).simplify(ON_EDGE)  # which keeps the place it starts at
    order = list(plan.design.points)
    names = {name_at(plan, (float(x), float(y))) for x, y in ring.coords}
    if len(names) <= 6 and names <= set(order):
        return "the part between " + ", ".join(sorted(names, key=order.index))
    inner = shapely.Polygon(ring).representative_point()
    panel = next((p.name for p in plan.panels if p.polygon.distance(inner) < ON_EDGE), "")
    if panel and len(plan.panels) > 1:
        return f"a part of panel {panel}"
    return f"the part round {name_at(plan, (float(inner.x), float(inner.y)))}"


def _from_sharpest(ring: Sequence[XY]) -> list[XY]:
    """A closed ring that starts at its sharpest corner."""
    places = list(ring[:-1])

    def turn(at: int) -> float:
        (ax, ay), (x, y), (bx, by) = places[at - 1], places[at], places[(at + 1) % len(places)]
        into, out = (x - ax, y - ay), (bx - x, by - y)
        return abs(math.atan2(into[0] * out[1] - into[1] * out[0], into[0] * out[0] + into[1] * out[1]))

    first = max(range(len(places)), key=lambda at: round(turn(at), 6))
    return [*places[first:], *places[: first + 1]]
