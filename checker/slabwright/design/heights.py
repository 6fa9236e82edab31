"""Heights of a design: ``heights``, and what cannot move, ``fixed``."""

import re
from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal, NamedTuple

from slabwright.design.phrases import Asked
from slabwright.design.point import Point
from slabwright.source.place import NOWHERE, Place
from slabwright.units.quantity import Amount

LineKind = Literal["valley", "ridge", "grade break"]
Cladding = Literal["wood", "fiber cement", "stucco", "brick", "metal", "vinyl", "other"]
FixedKind = Literal[
    "sill", "siding", "weep screed", "damp course", "vent", "window", "hose bib", "slab", "gutter", "other"
]


# What a fixed height belongs to, by what people call it; the first that fits.
_CALLED: tuple[tuple[FixedKind, re.Pattern[str]], ...] = (
    ("damp course", re.compile(r"(?i)\bdamp|\bdpc\b")),
    ("weep screed", re.compile(r"(?i)\bweep|\bscreed\b")),
    ("siding", re.compile(r"(?i)\bsiding|\bcladding")),
    ("vent", re.compile(r"(?i)\bvents?\b|\bair brick")),
    ("hose bib", re.compile(r"(?i)\bhose bib|\bfaucet|\bspigot")),
    ("window", re.compile(r"(?i)\bwindow")),
    ("sill", re.compile(r"(?i)\bsills?\b|\bthresholds?\b|\bdoors?\b|\bslider\b")),
    ("gutter", re.compile(r"(?i)\bgutters?\b")),
    ("slab", re.compile(r"(?i)\b(?:slab|floor|walk|sidewalk|patio|drive|driveway|apron|paving|terrace|porch|stoop)\b")),
)


def kind_called(name: str) -> FixedKind:
    """What a fixed height belongs to, as its name says.

    >>> kind_called("workshop sill"), kind_called("garage floor"), kind_called("nail in the post")
    ('sill', 'slab', 'other')
    """
    return next((kind for kind, called in _CALLED if called.search(name)), "other")


class HeightLine(NamedTuple):
    """A valley, ridge or grade break the surface folds along; heights run straight between its points."""

    name: str
    kind: LineKind
    along: tuple[Point, ...]
    place: Place = NOWHERE


class StatedFall(NamedTuple):
    """A fall as typed on the sketch, from the first point down to the second."""

    along: tuple[Point, Point]
    fall: Amount  # slope
    place: Place = NOWHERE


class SpotHeight(NamedTuple):
    """A height at a point of one surface."""

    at: Point
    height: Amount  # height
    place: Place = NOWHERE


class Closing(NamedTuple):
    """How a run of rod readings closed on its bench: ``error`` is last reading minus known height, m."""

    bench: str
    error: float
    setups: int
    place: Place = NOWHERE


class Heights(NamedTuple):
    """``heights``. ``finish``, ``base`` and ``existing`` hold what was typed or reduced from a file of rod readings."""

    datum: str = ""
    finish: tuple[SpotHeight, ...] = ()
    base: tuple[SpotHeight, ...] = ()
    existing: tuple[SpotHeight, ...] = ()
    lines: tuple[HeightLine, ...] = ()
    falls: tuple[StatedFall, ...] = ()
    benches: Mapping[str, Amount] = MappingProxyType({})
    place: Place = NOWHERE


class Fixed(NamedTuple):
    """A height that cannot move. ``along`` has one point (a spot) or more (a line on or beside the slab)."""

    name: str
    kind: FixedKind
    along: tuple[Point, ...]
    height: tuple[Amount, ...]  # height: one, or one for each point
    slab: Asked | None = None
    material: Cladding | None = None  # of siding
    place: Place = NOWHERE
