"""A plan as GeoJSON (RFC 7946), out and in, in the plan's own coordinates.

The slab is a polygon with its openings as holes; joints and folds are lines; points with heights are shots. Parts,
stalls and pours are polygons of their own, channels and flights of steps lines, each with its ``kind``. RFC 7946
gives degrees to coordinates without agreement; the agreement here is the member ``units``.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import Any, cast, get_args

from slabwright.design.heights import LineKind
from slabwright.design.joints import JointKind
from slabwright.design.point import Point
from slabwright.exchange.marked import LINES, RINGS, Marked, features
from slabwright.exchange.survey import FOOT, Shot, Survey, Unit, What, ask, safe_name
from slabwright.plan.plan import Plan
from slabwright.source import files
from slabwright.source.place import Place
from slabwright.source.problem import Problems, refuse
from slabwright.text.json_values import json_text

Data = dict[str, Any]
Position = tuple[float, ...]

PLACES = 6  # decimals of a coordinate: under a thousandth of an inch in feet, and in meters
MOST_FEATURES, MOST_POINTS = 5_000, 10_000
SURFACES: tuple[What, ...] = ("finish", "base", "existing")
_HELP = 'a FeatureCollection with the slab as a Polygon, and "units": "ft" or "m" beside its features'


def as_geojson(plan: Plan) -> str:
    """The plan as a GeoJSON FeatureCollection; arcs as the chords that the review works with."""
    unit: Unit = "ft" if plan.home == "us" else "m"
    size = FOOT if unit == "ft" else 1.0
    return json_text(
        {
            "type": "FeatureCollection",
            "name": plan.design.job.name,
            "units": unit,
            "features": list(_features(plan, size)),
        }
    )


def _features(plan: Plan, size: float) -> Iterator[Data]:
    def line(points: Sequence[Point]) -> Data:
        return {"type": "LineString", "coordinates": [_position((p.x, p.y), size) for p in points]}

    rings = (plan.shape.slab.exterior, *plan.shape.slab.interiors)
    rounds = [ring.coords if ring.is_ccw == (number == 0) else ring.coords[::-1] for number, ring in enumerate(rings)]
    rim = [[_position(at, size) for at in coords] for coords in rounds]
    shape = {"type": "Polygon", "coordinates": rim}
    yield _feature(shape, {"kind": "slab", "name": plan.design.job.name, "use": plan.design.called})
    for joint in plan.design.joints:
        yield _feature(line(joint.along), {"kind": "joint", "name": joint.name, "joint": joint.kind})
    for fold in plan.design.heights.lines:
        yield _feature(line(fold.along), {"kind": fold.kind, "name": fold.name})
    heights = plan.design.heights
    for surface, spots in zip(SURFACES, (heights.finish, heights.base, heights.existing), strict=True):
        for spot in spots:
            at = _position((spot.at.x, spot.at.y, spot.height.si), size)
            yield _feature({"type": "Point", "coordinates": at}, {"kind": surface, "name": spot.at.name})
    for fixture in plan.design.fixtures:
        if fixture.at is not None:
            at = _position((fixture.at.x, fixture.at.y), size)
            yield _feature({"type": "Point", "coordinates": at}, {"kind": fixture.kind, "name": fixture.name})
    yield from features(plan, lambda place: _position(place, size))


def _feature(geometry: Data, properties: Data) -> Data:
    return {"type": "Feature", "properties": properties, "geometry": geometry}


def _position(at: Sequence[float], size: float) -> list[float]:
    return [round(value / size, PLACES) + 0.0 for value in at]


def read_geojson(path: Path, unit: str = "") -> Survey:
    """What a GeoJSON file shows; ``unit`` is that of its coordinates where the file does not say.

    :raises UnreadableError: with every problem and question.
    """
    try:
        data = json.loads(files.read_text(path))
    except (ValueError, RecursionError) as error:
        place = f", line {error.lineno}" if isinstance(error, json.JSONDecodeError) else ""
        refuse(str(path), f"this file is not JSON{place}", _HELP)
    features = data.get("features") if isinstance(data, dict) else None
    if not isinstance(features, list) or not all(isinstance(one, dict) for one in features):
        refuse(str(path), "this file is no collection of features", _HELP)
    if len(features) > MOST_FEATURES:
        refuse(
            str(path),
            f"this file holds {len(features):,} features, and at most {MOST_FEATURES:,} are read",
            "the slab alone",
        )
    said = data.get("units", unit)
    if said not in get_args(Unit):
        refuse(
            str(path),
            "this file does not say whether it is in feet or meters",
            '"units": "ft" beside "features", or --units ft',
        )
    if unit and said != unit:
        refuse(str(path), f"this file is in {said}, and --units says {unit}", "leave --units out")
    reader = _Reader(Survey(str(path), cast(Unit, said)))
    for number, feature in enumerate(features, 1):
        for one in _single(feature):
            reader.take(one, number)
    reader.problems.raise_if_any()
    reader.end()
    ask(reader.survey, reader.problems, heights=False)
    reader.problems.raise_if_any()
    return reader.survey


class _Reader:
    """Puts features into a survey; places in one spot become one point."""

    def __init__(self, survey: Survey) -> None:
        self.survey = survey
        self.problems = Problems()
        self.grain = 1e-4 if survey.unit == "m" else 1e-3
        self.at: dict[tuple[int, int], Shot] = {}
        self.rings: list[list[Position]] = []
        self.chains: list[tuple[str, str, list[Position]]] = []
        self.spots: list[tuple[What, str, Position]] = []
        self.marked: list[tuple[str, str, Data, list[Position]]] = []

    def take(self, feature: Data, number: int) -> None:
        """One feature; what it is stands in its property ``kind``, and without one in its geometry."""
        said = feature.get("properties")
        properties: Data = said if isinstance(said, dict) else {}
        shape = feature.get("geometry")
        geometry: Data = shape if isinstance(shape, dict) else {}
        kind, sort = str(properties.get("kind", "")), geometry.get("type")
        name = str(properties.get("name") or properties.get("id") or "")
        coordinates = geometry.get("coordinates")
        if (sort == "Polygon" and kind in RINGS) or (sort == "LineString" and kind in LINES):
            first = coordinates[0] if sort == "Polygon" and isinstance(coordinates, list) and coordinates else []
            places = self.ring(first, number) if sort == "Polygon" else self.line(coordinates, number, 2)
            self.marked.append((kind, name, properties, places))
        elif sort == "Polygon" and kind in ("", "slab", "outline"):
            if self.rings:
                self.wrong(
                    number, "is a second polygon, and a design has one slab", "one polygon, openings as its holes"
                )
            elif isinstance(coordinates, list) and coordinates:
                self.rings = [self.ring(ring, number) for ring in coordinates]
            else:
                self.wrong(number, "has no coordinates", "a ring of at least four positions")
        elif sort == "LineString":
            if kind not in ("", "joint", *get_args(LineKind)):
                known = ", ".join(("joint", *get_args(LineKind), *LINES))
                write = f"{known}; or leave out what is not on the slab"
                self.wrong(number, f'is a line of the kind "{kind}", which is not known', write)
            elif kind not in get_args(LineKind):
                typed = str(properties.get("joint", "saw cut"))
                kind = typed if typed in get_args(JointKind) else "saw cut"
            self.chains.append((kind, name, self.line(coordinates, number, 2)))
        elif sort == "Point":
            self.point(kind, name, self.line([coordinates], number, 1), number)
        elif sort is not None and sort != "Polygon":
            self.wrong(number, f"is a {sort}, which is not read", "a Polygon, LineString or Point")

    def point(self, kind: str, name: str, spot: list[Position], number: int) -> None:
        """A point with a height is a shot; of other points a drain is kept."""
        shots = (*SURFACES, "bench")
        if not spot:
            return
        if len(spot[0]) < 3 and kind in ("", *shots):
            self.wrong(number, "is a point without a height", "[x, y, height]; or leave the point out")
        elif len(spot[0]) > 2 and kind not in ("", "drain", *shots):
            self.wrong(number, f'is a height of the kind "{kind}", which is not known', ", ".join(shots))
        elif kind in ("", "drain", *shots):
            self.spots.append((cast(What, kind or "finish"), name, spot[0]))

    def line(self, said: Any, number: int, least: int) -> list[Position]:
        """Positions, each of two or three finite numbers; a problem and none where they are not."""
        listed = said if isinstance(said, list) else []
        found = [
            tuple(map(float, at[:3]))
            for at in listed
            if isinstance(at, list)
            and len(at) >= 2
            and all(isinstance(v, int | float) and not isinstance(v, bool) and abs(v) < 3e7 for v in at[:3])
        ]
        if len(found) < max(least, len(listed)) or any(map(math.isnan, (v for at in found for v in at))):
            self.wrong(number, "has coordinates that are no positions", "[x, y] or [x, y, height], in one unit")
            return []
        return found

    def ring(self, said: Any, number: int) -> list[Position]:
        """The positions around a polygon, each once; RFC 7946 repeats the first at the end."""
        found = self.line(said, number, 4)
        if found and self.cell(found[0]) != self.cell(found[-1]):
            self.wrong(number, "has a ring that does not end where it begins", "its first position again")
        return found[:-1]

    def wrong(self, number: int, wrong: str, write: str) -> None:
        """Note a problem of a feature."""
        self.problems.add(Place(self.survey.file), f"feature {number} {wrong}", write)

    def end(self) -> None:
        """Name the points: those with heights first, so that corners take their names and heights."""
        file = self.survey.file
        places = self.rings[0] if self.rings else []
        if places and max(abs(v) for at in places for v in at[:2]) <= 180 and _across(places) < 0.1:
            wrong = "the polygon is less than a tenth across: these seem to be degrees of longitude and latitude"
            self.problems.add(Place(file), wrong, "project it to feet or meters first")
        lines = [*self.rings, *(chain for *_, chain in self.chains), *(chain for *_, chain in self.marked)]
        if sum(map(len, lines)) + len(self.spots) > MOST_POINTS:
            self.problems.add(Place(file), f"this file holds more than {MOST_POINTS:,} positions", "the slab alone")
        self.problems.raise_if_any()
        for what, name, at in (
            *(one for one in self.spots if one[0] == "finish"),
            *(one for one in self.spots if one[0] != "finish"),
        ):
            known = self.at.get(self.cell(at))
            if known is not None and what == "finish" and known.what == "finish":
                if known.z != at[2]:
                    other = f' and "{name}"' if name else ""
                    wrong = f'two heights lie at "{known.name}"{other}: {known.z:g} and {at[2]:g}'
                    self.problems.add(Place(file), wrong, "which of the two is right?")
                continue
            self.name(what, name, at, keep=known is None)
        rings = [[self.spot(at) for at in ring] for ring in self.rings]
        for shot in (self.survey.shots[name] for name in (rings[0] if rings else ())):
            self.survey.shots[shot.name] = replace(shot, what="corner")
        self.survey.outline = rings[0] if rings else []
        self.survey.openings = {f"opening {number}": ring for number, ring in enumerate(rings[1:], 1)}
        for kind, name, chain in self.chains:
            names = [self.spot(at) for at in chain]
            whole = [a for a, b in pairwise([*names, ""]) if a != b]
            kept = self.survey.lines if kind in get_args(LineKind) else self.survey.joints
            label = name or f"{'line' if kept is self.survey.lines else 'J'}{len(kept) + 1}"
            while label in kept:
                label += "'"
            kept[label] = (kind, whole)
        for kind, name, says, chain in self.marked:
            heights = [at[2] for at in chain if len(at) > 2]
            rims = heights if len(heights) == len(chain) else []
            self.survey.marked.append(Marked(kind, name, [self.spot(at) for at in chain], says, rims))

    def cell(self, at: Position) -> tuple[int, int]:
        """Where a place lies, to a fraction of a millimeter."""
        return round(at[0] / self.grain), round(at[1] / self.grain)

    def spot(self, at: Position) -> str:
        """The name of the point at a place; a new one where there is none."""
        column, row = self.cell(at)
        near = ((column + x, row + y) for x in (0, -1, 1) for y in (0, -1, 1))
        known = next((self.at[cell] for cell in near if cell in self.at), None)
        return known.name if known else self.name("finish", "", at[:2], keep=True)

    def name(self, what: What, name: str, at: Position, keep: bool) -> str:
        """A point of its own, with a name no other has."""
        wanted = safe_name(name or str(len(self.survey.shots) + 1))
        while wanted in self.survey.shots:
            wanted += "_"
        z = at[2] if len(at) > 2 else None
        shot = Shot(wanted, at[0], at[1], z, what, name, Place(self.survey.file), name or wanted)
        self.survey.shots[wanted] = shot
        if keep:
            self.at[self.cell(at)] = shot
        return wanted


def _single(feature: Data) -> Iterator[Data]:
    """A feature; of a shape of several parts, as many programs write even a single one, a feature for each part."""
    shape = feature.get("geometry")
    sort = str(shape.get("type")) if isinstance(shape, dict) else ""
    parts = shape.get("coordinates") if isinstance(shape, dict) and sort.startswith("Multi") else None
    if not isinstance(parts, list):
        yield feature
        return
    for part in parts:
        yield {**feature, "geometry": {"type": sort.removeprefix("Multi"), "coordinates": part}}


def _across(places: Sequence[Position]) -> float:
    return max(max(at[axis] for at in places) - min(at[axis] for at in places) for axis in (0, 1))
