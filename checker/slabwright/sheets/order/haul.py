"""What is dug, filled and hauled: bank, loose and compacted volumes, weights, and trips by volume and by weight."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import Literal, NamedTuple

import shapely

from slabwright.design.costs import Dig, Tip
from slabwright.formulas import hauling, ordering
from slabwright.formulas.units import LB_PER_YD3
from slabwright.geometry.surface.cut_fill import above
from slabwright.plan.plan import Plan
from slabwright.text.words import Step, Words, step, words
from slabwright.units.quantity import Amount, area, depth, mass, share, unit_weight, volume

BROKEN_LOOSE = 2200 * LB_PER_YD3  # kg/m3, broken concrete loose: 1,855 to 2,500 lb/yd3, `estimating-practice`

_CLASSES = {  # words in the name of a soil, and the soil it is tabled as
    "clay": "clay",
    "rock": "blasted rock",
    "sand": "sand and gravel",
    "gravel": "sand and gravel",
    "stone": "sand and gravel",
}
_ROCK_SWELL = 0.50  # blasted rock, `nunnally` Table 2-5


@dataclass(frozen=True, slots=True)
class Trips:
    """Trips of one thing hauled: loose volume m3, mass kg; which of the two governs."""

    what: str
    loose: float
    mass: float
    by_volume: int | None
    by_mass: int | None

    @property
    def trips(self) -> int | None:
        """Trips needed; None while neither box nor payload is known."""
        known = [count for count in (self.by_volume, self.by_mass) if count is not None]
        return max(known) if known else None

    @property
    def governs(self) -> Literal["volume", "weight", "both", "not known"]:
        """What decides the number of trips."""
        if self.by_volume is None or self.by_mass is None:
            return "not known"
        if self.by_volume == self.by_mass:
            return "both"
        return "volume" if self.by_volume > self.by_mass else "weight"


@dataclass(frozen=True, slots=True)
class Haul:
    """Volumes in m3, masses in kg. ``fill`` is compacted; ``spoil`` is what is hauled of the bank volume."""

    cut: float
    fill: float
    from_ground: bool  # from heights of the existing ground
    covered: float  # share of the slab with heights of the ground
    swell: float
    bank_weight: float
    compacts_to: float  # compacted volume of one bank volume
    spoil: Trips
    broken: Trips | None
    days: int | None  # by the tip's loads a day
    working: tuple[Step, ...]
    notes: tuple[Words, ...]
    add: tuple[str, ...]

    @property
    def trips(self) -> int | None:
        """All trips."""
        every = [one.trips for one in (self.spoil, self.broken) if one is not None]
        return None if None in every else sum(count for count in every if count is not None)


def soil_class(kind: str) -> str:
    """The tabled soil that a soil in plain words is taken for; common earth when nothing fits.

    >>> soil_class("silty sand"), soil_class("fat clay"), soil_class("loam")
    ('sand and gravel', 'clay', 'common earth')
    """
    plain = kind.casefold()
    return next((tabled for word, tabled in _CLASSES.items() if word in plain), "common earth")


class Ground(NamedTuple):
    """The soil of a plan: as tabled, swell, bank weight in kg/m3, compacted volume of one bank volume."""

    tabled: str
    swell: float
    bank_weight: float
    compacts_to: float


def ground(plan: Plan) -> Ground:
    """What the file says of the soil, and what is tabled for its kind where it says nothing."""
    soil = plan.design.site.soil
    tabled = soil_class(soil.kind if soil else "")
    weights = hauling.unit_weights(tabled)
    return Ground(
        tabled,
        soil.swell.si if soil and soil.swell else hauling.USUAL_SWELL.get(tabled, _ROCK_SWELL),
        soil.bank_weight.si if soil and soil.bank_weight else weights.bank,
        1 - hauling.shrinkage(weights.bank, weights.compacted),
    )


def a_load(dig: Dig) -> tuple[float | None, float | None]:
    """Volume (m3) and mass (kg) of one load, as the truck holds it or the tip takes it; None where neither is known."""
    tip = dig.tip or Tip()
    return _least(dig.box, tip.volume_at_most), _least(dig.payload, tip.load_at_most)


def haul(plan: Plan) -> Haul | None:
    """What is dug and hauled; None when the file says nothing of digging and has no heights of the ground."""
    dig = plan.design.dig or Dig()
    dug = _dug(plan, dig)
    if dug is None and dig.broken_concrete is None:
        return None
    cut, fill, covered, steps, notes, from_ground = dug or (0.0, 0.0, 0.0, (), (), False)
    soil = plan.design.site.soil
    tabled, swell, weight, compacts = ground(plan)
    add: list[str] = []
    if soil is None or soil.swell is None:
        add.append("site.soil.swell: such as 25 %")
    if soil is None or soil.bank_weight is None:
        add.append("site.soil.bank_weight: such as {3000 lb/yd3|1800 kg/m3}")
    if dig.box is None:
        add.append("dig.box: what the truck's box holds, such as {10 yd3|8 m3}")
    if dig.payload is None:
        add.append("dig.payload: what the truck may carry, such as {5 ton|5 t}")
    box, payload = a_load(dig)
    loose = hauling.loose_volume(cut, swell)
    heavy = hauling.mass_of(cut, weight)
    working = [
        *steps,
        step("loose", "bank x (1 + swell)", words("{b} x (1 + {s})", b=volume(cut), s=share(swell)), volume(loose)),
        step("weight", "bank x bank weight", words("{b} x {w}", b=volume(cut), w=unit_weight(weight)), mass(heavy)),
    ]
    broken = _broken(dig, box, payload)
    spoil = _trips("soil", loose, heavy, box, payload)
    days = _days(dig, [one for one in (spoil, broken) if one])
    said = [] if soil and soil.swell and soil.bank_weight else [
        words("what the file does not say of the soil is that of {soil}", soil=tabled)
    ]  # fmt: skip
    return Haul(
        cut, fill, from_ground, covered, swell, weight, compacts, spoil, broken, days, tuple(working),
        (*notes, *said, *_tip_notes(dig)), tuple(add),
    )  # fmt: skip


def _least(*amounts: Amount | None) -> float | None:
    return min((amount.si for amount in amounts if amount is not None), default=None)


_Dug = tuple[float, float, float, tuple[Step, ...], tuple[Words, ...], bool]


def _dug(plan: Plan, dig: Dig) -> _Dug | None:
    """Bank volume cut and compacted volume filled, m3, share of the slab with ground heights, working and notes."""
    base = plan.design.site.base
    base_thickness = base.thickness.si if base and base.thickness else 0.0
    below = plan.thickness.design + base_thickness
    edges = plan.concrete.quantities.thickened_edges
    wider = beyond(plan)
    existing = plan.site.existing_surface
    if plan.finish.surface is not None and existing is not None:
        over = above(existing, plan.finish.surface, -below)
        under = above(plan.finish.surface, existing, below)
        covered = over.covered / plan.shape.area
        grown = (plan.shape.area + wider) / over.covered
        deeper = plan.concrete.deeper
        cut, fill = over.volume * grown + deeper + edges, under.volume * grown
        steps = [step("cut", "ground above the bottom of the base", words(""), volume(over.volume))]
        if grown > 1 + 1e-6:
            dug = area(plan.shape.area + wider)
            numbers = words("{v} x {a} / {c}", v=volume(over.volume), a=dug, c=area(over.covered))
            steps.append(step("cut, whole dig", "cut x area dug / area shot", numbers, volume(over.volume * grown)))
        notes = [] if base_thickness else [words("no base is drawn: the dig goes to the underside of the slab")]
        if deeper:
            steps.append(step("parts", "dug deeper or less deep than the design thickness", words(""), volume(deeper)))
        if edges:
            steps.append(step("thickened edges", "dug besides", words(""), volume(edges)))
            steps.append(
                step("bank", "cut + edges", words("{a} + {b}", a=volume(cut - edges), b=volume(edges)), volume(cut))
            )
        return cut, fill, covered, tuple(steps), tuple(notes), True
    if dig.depth is None:
        return None
    flat = ordering.slab_volume(plan.shape.area + wider, dig.depth.si) if dig.depth.si > 0 else 0.0
    numbers = words("{a} x {d}", a=area(plan.shape.area + wider), d=depth(dig.depth.si))
    steps = [step("cut", "area dug x depth", numbers, volume(flat))]
    if edges:
        steps.append(
            step("bank", "cut + edges", words("{a} + {b}", a=volume(flat), b=volume(edges)), volume(flat + edges))
        )
    return flat + edges, 0.0, 0.0, tuple(steps), (), False


def beyond(plan: Plan) -> float:
    """Area dug outside the slab, m2; not where a building or a wall stands."""
    dig = plan.design.dig or Dig()
    if dig.beyond_edge is None or not dig.beyond_edge.si > 0:
        return 0.0
    room = dig.beyond_edge.si
    open_sides = [shapely.LineString(one.line) for one in plan.edges.pieces if not one.fixed_face]
    if len(open_sides) == len(plan.edges.pieces):
        outline = plan.shape.ring.polygon
        return float(shapely.buffer(outline, room, join_style="mitre").area - outline.area)
    strips = shapely.union_all(
        [shapely.buffer(line, room, cap_style="flat", join_style="mitre") for line in open_sides]
    )
    return float(shapely.difference(strips, plan.shape.ring.polygon).area)


def _trips(what: str, loose: float, heavy: float, box: float | None, payload: float | None) -> Trips:
    return Trips(
        what,
        loose,
        heavy,
        hauling.trips_by_volume(loose, box) if box else None,
        hauling.trips_by_mass(heavy, payload) if payload else None,
    )


def _broken(dig: Dig, box: float | None, payload: float | None) -> Trips | None:
    old = dig.broken_concrete
    if old is None:
        return None
    heavy = ordering.load_mass(ordering.slab_volume(old.area.si, old.thickness.si))
    return _trips("broken concrete", hauling.volume_of(heavy, BROKEN_LOOSE), heavy, box, payload)


def _days(dig: Dig, hauled: list[Trips]) -> int | None:
    if dig.tip is None or dig.tip.loads_a_day is None or any(one.trips is None for one in hauled):
        return None
    return ceil(sum(one.trips or 0 for one in hauled) / dig.tip.loads_a_day)


def _tip_notes(dig: Dig) -> list[Words]:
    tip = dig.tip
    if tip is None:
        return []
    name = tip.name or "the tip"
    found = []
    if tip.load_at_most and dig.payload and tip.load_at_most.si < dig.payload.si:
        found.append(words("{tip} takes at most {m} a load, less than the truck may carry: that counts", tip=name,
                           m=tip.load_at_most))  # fmt: skip
    if tip.volume_at_most and dig.box and tip.volume_at_most.si < dig.box.si:
        found.append(words("{tip} takes at most {v} a load, less than the box holds: that counts", tip=name,
                           v=tip.volume_at_most))  # fmt: skip
    return found
