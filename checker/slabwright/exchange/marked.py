"""What a plan marks on the slab besides its joints, as GeoJSON out and in: parts, stalls, pours, channels, flights.

A feature says what it is in its property ``kind``, and amounts as a design writes them (``"thickness": "6 in"``).
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import shapely

from slabwright.design.point import Point
from slabwright.plan.plan import Plan
from slabwright.units.amount import Amount
from slabwright.units.quantity import show

Data = dict[str, Any]

RINGS = ("part", "stall", "aisle", "pour")
LINES = ("channel", "steps")


@dataclass(frozen=True, slots=True)
class Marked:
    """One of them as read: the names of its points, its properties, and the third numbers of its positions."""

    kind: str
    name: str
    points: list[str]
    says: Mapping[str, Any]
    heights: list[float]


def features(plan: Plan, at: Callable[[Sequence[float]], list[float]]) -> Iterator[Data]:
    """A feature for each of them; ``at`` gives a place or height in the unit of the file."""

    def feature(kind: str, shape: Data, name: str, **says: object) -> Data:
        told = {key: value for key, value in says.items() if value not in (None, "", [])}
        return {"type": "Feature", "properties": {"kind": kind, "name": name, **told}, "geometry": shape}

    def ring(points: Sequence[Sequence[float]]) -> Data:
        whole = shapely.LinearRing(points)
        round_it = whole.coords if whole.is_ccw else whole.coords[::-1]
        return {"type": "Polygon", "coordinates": [[at(one) for one in round_it]]}

    def line(points: Sequence[Sequence[float]]) -> Data:
        return {"type": "LineString", "coordinates": [at(one) for one in points]}

    def typed(amount: Amount | None) -> str | None:
        return None if amount is None else amount.typed or show(amount, plan.system, both=False)

    for area in plan.areas.all:
        part = area.part
        if part:
            bent = any(corner.through for corner in part.corners) and isinstance(area.polygon, shapely.Polygon)
            corners = area.polygon.exterior.coords[:-1] if bent else [(c.at.x, c.at.y) for c in part.corners]
            yield feature("part", ring(corners), part.name, use=part.called, thickness=typed(part.thickness))
    for stall in plan.design.stalls:
        yield feature("stall", ring(_xy(stall.corners)), stall.name, stall=stall.kind)
        if stall.aisle:
            yield feature("aisle", ring(_xy(stall.aisle)), f"aisle of {stall.name}", of=stall.name)
    for pour in plan.design.pours:
        if len(pour.corners) > 2:
            day = pour.day.isoformat() if pour.day else None
            yield feature("pour", ring(_xy(pour.corners)), pour.name, day=day, volume=typed(pour.volume))
    for channel in plan.design.channels:
        rims = [channel.height_at(channel.rim, number) for number in range(len(channel.along))]
        along = [(*xy, *([rim.si] if rim else [])) for xy, rim in zip(_xy(channel.along), rims, strict=True)]
        yield feature("channel", line(along), channel.name, width=typed(channel.width))
    for flight in plan.flights.all:
        steps = flight.steps
        if steps.foot and flight.laid:
            up = (steps.climbs_to.x, steps.climbs_to.y) if steps.climbs_to else flight.laid.way[1]
            yield feature(
                "steps", line(_xy(steps.foot)), steps.name, width=typed(steps.width), tread=typed(steps.tread),
                risers=[typed(one) for one in steps.risers] or [typed(steps.riser)] * steps.count,
                climbs_to=at(up), leads_to=steps.leads_to,
                foot_height=None if steps.foot_height is None else at((steps.foot_height.si,))[0],
                landings=[
                    {"after": one.after, "depth": typed(one.depth), **({"turns": one.turns} if one.turns else {})}
                    for one in steps.landings
                ],
                same_pour=None if steps.same_pour else False, handrail=steps.handrail, guard=typed(steps.guard),
            )  # fmt: skip


def sections(found: Sequence[Marked]) -> Iterator[tuple[str, list[str]]]:
    """The sections of a design that say them, each with its entries as YAML."""
    aisles = {str(one.says.get("of", "")): one.points for one in found if one.kind == "aisle"}
    yield "parts", [
        _entry(name=one.name, corners=_names(one), **_kept(one, "use", "thickness"))
        for one in found if one.kind == "part"
    ]  # fmt: skip
    yield "stalls", [
        _entry(name=one.name, kind=one.says.get("stall", "car"), corners=_names(one),
               aisle=_Bare(_listed(aisles[one.name])) if one.name in aisles else None)
        for one in found if one.kind == "stall"
    ]  # fmt: skip
    yield "channels", [
        _entry(name=one.name, along=_names(one), **_kept(one, "width"), rim=one.heights or None)
        for one in found if one.kind == "channel"
    ]  # fmt: skip
    yield (
        "pour",
        [
            _entry(name=one.name, corners=_names(one), **_kept(one, "day", "volume"))
            for one in found
            if one.kind == "pour"
        ],
    )


def flights(found: Sequence[Marked]) -> list[str]:
    """The entries of ``thickness.steps``."""
    more = ("width", "tread", "risers", "climbs_to", "leads_to", "foot_height", "landings", "same_pour", "handrail",
            "guard")  # fmt: skip
    return [_entry(name=one.name, foot=_names(one), **_kept(one, *more)) for one in found if one.kind == "steps"]


class _Bare(str):
    """Text that YAML takes as it stands."""


def _xy(points: Sequence[Point]) -> list[tuple[float, float]]:
    return [(point.x, point.y) for point in points]


def _listed(names: Sequence[str]) -> str:
    return f"[{', '.join(names)}]"


def _names(one: Marked) -> _Bare:
    return _Bare(_listed(one.points))


def _kept(one: Marked, *keys: str) -> dict[str, Any]:
    return {key: one.says[key] for key in keys if key in one.says}


def _entry(**keys: Any) -> str:
    """One entry in braces; JSON is YAML too, so that nothing a file says can be more than a value."""
    said = (
        f"{key}: {value if isinstance(value, _Bare) else json.dumps(value, ensure_ascii=False)}"
        for key, value in keys.items()
        if value is not None
    )
    return f"{{{', '.join(said)}}}"
