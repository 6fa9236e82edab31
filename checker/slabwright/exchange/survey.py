"""What a survey or a drawing says of a slab, in the unit it was made in, and the questions about it.

Northing is y and easting x of the plan, as they were surveyed: a file of stake points goes back to the same instrument.
"""

from __future__ import annotations

import math
import re
import statistics
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Literal

import shapely

from slabwright.exchange.marked import Marked
from slabwright.source.place import Place
from slabwright.source.problem import Problems

What = Literal["corner", "opening", "joint", "valley", "ridge", "grade break", "finish", "base", "existing", "bench",
               "drain"]  # fmt: skip
Unit = Literal["ft", "m"]

FOOT = 0.3048
SAME = 0.005  # m: points nearer than this are one
OUT, IN = 8.0, 3.0  # times the usual distance from the middle: far out, and back among the others
LEAST_SPREAD = {"ft": 10.0, "m": 3.0}  # of a job that one survey covers
NUMBER = re.compile(r"\d")


@dataclass(frozen=True, slots=True)
class Shot:
    """A point of the survey: ``x`` and ``y`` in its unit, ``z`` its height or None, ``label`` what it belongs to."""

    name: str
    x: float
    y: float
    z: float | None
    what: What
    label: str
    place: Place
    typed: str = ""  # its name in the file


@dataclass(slots=True)
class Survey:
    """Points in the order of the file, and lines and openings as names of points; joints with their kind."""

    file: str
    unit: Unit
    shots: dict[str, Shot] = field(default_factory=dict)
    outline: list[str] = field(default_factory=list)
    openings: dict[str, list[str]] = field(default_factory=dict)
    joints: dict[str, tuple[str, list[str]]] = field(default_factory=dict)
    lines: dict[str, tuple[str, list[str]]] = field(default_factory=dict)
    marked: list[Marked] = field(default_factory=list)
    unknown: list[str] = field(default_factory=list)  # points whose description says nothing known

    def of(self, *whats: What) -> list[Shot]:
        """The points of some sorts."""
        return [shot for shot in self.shots.values() if shot.what in whats]


def ask(survey: Survey, problems: Problems, heights: bool = True) -> None:
    """Add what has to be answered before a design can be written: each question names its point.

    ``heights`` is whether every point was shot with its height, as in a survey.
    """
    shots = list(survey.shots.values())
    _one_place(survey, problems)
    told = {one.place for one in problems}
    for shot in shots:
        if (
            shot.place not in told
            and heights
            and shot.z is None
            and shot.what in ("corner", "finish", "base", "existing", "bench")
        ):
            problems.add(
                shot.place,
                f'point "{shot.typed}" has no height',
                "what was read there? Write it, or leave the point out",
            )
    if len(shots) >= 4:
        _out_of_place(survey, shots, problems)
    if len(survey.outline) < 3:
        problems.add(
            Place(survey.file),
            "the file does not say which points are the corners of the slab",
            "corner in the description of each, in the order in which you walk around it",
        )
    elif not len(problems):
        ring = shapely.Polygon([(survey.shots[name].x, survey.shots[name].y) for name in survey.outline])
        if not ring.is_valid or ring.area == 0:
            wrong = f"the corners do not go around a slab in the order {', '.join(survey.outline)}"
            problems.add(Place(survey.file), wrong, "list them in the order in which you walk around it")


def _one_place(survey: Survey, problems: Problems) -> None:
    """Two corners at one place."""
    same = SAME / (FOOT if survey.unit == "ft" else 1.0)
    seen: list[Shot] = []
    for shot in survey.of("corner"):
        twin = next((one for one in seen if math.hypot(one.x - shot.x, one.y - shot.y) < same), None)
        if twin is None:
            seen.append(shot)
        else:
            wrong = f'point "{shot.typed}" lies at the same place as "{twin.typed}" on line {twin.place.line}'
            problems.add(shot.place, wrong, "was one corner shot twice? Keep one of them")


def _out_of_place(survey: Survey, shots: Sequence[Shot], problems: Problems) -> None:
    """Points that would lie among the others with their numbers swapped, or in the other unit."""
    x, y = (statistics.median(values) for values in zip(*((one.x, one.y) for one in shots), strict=True))
    least = LEAST_SPREAD[survey.unit]
    spread = max(least, statistics.median(math.hypot(one.x - x, one.y - y) for one in shots))
    other = {"ft": "meters", "m": "feet"}[survey.unit]
    here = {"ft": "feet", "m": "meters"}[survey.unit]
    known = [one.z for one in shots if one.z is not None]
    level = statistics.median(known) if known else 0.0
    rise = max(least / 5, statistics.median(abs(z - level) for z in known)) if known else least

    def off(at: tuple[float, float]) -> float:
        return math.hypot(at[0] - x, at[1] - y) / spread

    for one in shots:
        if off((one.x, one.y)) > OUT and off((one.y, one.x)) < IN:
            wrong = f'northing and easting of point "{one.typed}" seem to be swapped'
            problems.add(one.place, wrong, f"is northing {one.x:g} and easting {one.y:g} meant?")
        elif off((one.x, one.y)) > OUT and any(off((one.x * by, one.y * by)) < IN for by in (FOOT, 1 / FOOT)):
            problems.add(
                one.place,
                f'point "{one.typed}" seems to be in {other}, and all others in {here}',
                f"its place in {here}",
            )
        if one.z is None or abs(one.z - level) <= OUT * rise:
            continue
        if any(abs(one.z * by - level) < IN * rise for by in (FOOT, 1 / FOOT)):
            wrong = f'the height of point "{one.typed}", {one.z:g}, seems to be in {other}, and all others in {here}'
            problems.add(one.place, wrong, f"its height in {here}")


def safe_name(typed: str) -> str:
    """The name of a point as a design can have it: a number gets a P before it, for [1, 2] would be a place.

    >>> safe_name("12"), safe_name("BM 1"), safe_name("")
    ('P12', 'BM_1', 'P')
    """
    kept = re.sub(r"\W+", "_", typed.strip(), flags=re.ASCII).strip("_")[:40]
    plain = kept and not NUMBER.match(kept) and kept.casefold() not in _YAML_WORDS
    return kept if plain else f"P{kept}"


_YAML_WORDS = frozenset({"y", "n", "yes", "no", "true", "false", "on", "off", "null"})


def chains(shots: Iterator[Shot] | Sequence[Shot]) -> dict[str, list[str]]:
    """Points that say they belong to the same thing, in order."""
    found: dict[str, list[str]] = {}
    for shot in shots:
        found.setdefault(shot.label, []).append(shot.name)
    return found
