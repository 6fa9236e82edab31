"""What else a job takes to be bought or built: isolation, joints, base, sheeting, curing compound, forms."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from itertools import pairwise
from math import ceil

import shapely

from slabwright.design.outline import Isolation
from slabwright.formulas import base, weather
from slabwright.formulas.units import INCH
from slabwright.geometry.xy import middle_of
from slabwright.plan.edges import EdgePiece, filler_depth
from slabwright.plan.plan import Plan
from slabwright.sheets.order.haul import beyond
from slabwright.text.words import Step, step, words
from slabwright.units.quantity import Amount, area, coverage, depth, small_volume

RETARDER_LAP = {"us": 6 * INCH, "metric": 0.150}  # m, `ibc-1910.1`
_SAME_BOARD = 0.005  # m: so much deeper a slab still goes with the same board (common practice)


@dataclass(frozen=True, slots=True)
class Filler:
    """Isolation of one material, thickness and height, m (None: not said), with its length, m, and where it goes."""

    material: str
    thickness: float | None
    height: float | None
    length: float
    where: tuple[str, ...]


def isolation(plan: Plan) -> tuple[Filler, ...]:
    """Isolation by material, thickness and height: at edges, round openings, posts, columns and drains."""
    found: dict[tuple[str, float | None, float | None], list[tuple[float, str]]] = defaultdict(list)

    def put(iso: Isolation | None, thick: float, long: float, name: str) -> None:
        if iso is None or iso.material == "none" or filler_depth(iso, thick) == 0.0:
            return
        high = filler_depth(iso, thick)
        key = (iso.material, iso.thickness.si if iso.thickness else None, None if high is None else round(high, 6))
        found[key].append((long, name))

    for piece in plan.edges.pieces:
        put(piece.isolation, plan.thickness.along(piece.line), piece.length, piece.name)
    for opening, ring in zip(plan.design.openings, plan.shape.opening_rings, strict=True):
        rim = [(x, y) for x, y in ring.xy.tolist()]
        put(opening.isolation, plan.areas.thickest(rim).thickness.si, float(ring.length), opening.name)
    for one in plan.fixtures.all:
        size = one.fixture.size.si if one.fixture.size else 0.0
        put(one.fixture.isolation, plan.thickness.at(one.at), 4 * size, one.name)
    for channel in plan.channels.all:  # along both sides
        put(channel.channel.isolation, plan.thickness.along(channel.line), 2 * channel.length, channel.name)
    return tuple(
        Filler(material, thick, high, sum(long for long, _ in parts), tuple(dict.fromkeys(name for _, name in parts)))
        for (material, thick, high), parts in sorted(found.items(), key=lambda one: str(one[0]))
    )


@dataclass(frozen=True, slots=True)
class JointLength:
    """Joints of one kind and depth: length in m, and how many."""

    kind: str
    depth: float | None
    length: float
    count: int


def joint_lengths(plan: Plan) -> tuple[JointLength, ...]:
    """Joint length by kind and depth, pattern lines included under their kind."""
    found: dict[tuple[str, float | None], list[float]] = defaultdict(list)
    for one in plan.joints.all:
        deep = one.joint.depth.si if one.joint.depth else None
        found[(str(one.joint.kind), deep)].append(one.length)
    return tuple(
        JointLength(kind, deep, sum(lengths), len(lengths))
        for (kind, deep), lengths in sorted(found.items(), key=lambda one: (one[0][0], one[0][1] or 0.0))
    )


@dataclass(frozen=True, slots=True)
class Base:
    """Base to bring: compacted and loose volume, m3, and mass, kg."""

    material: str
    area: float
    thickness: float
    compacted: float
    loose: tuple[float, float]
    mass: float


def base_course(plan: Plan) -> Base | None:
    """The base under the slab, and as far out as the dig goes; None where none is drawn."""
    said = plan.design.site.base
    if said is None or said.thickness is None:
        return None
    wide = plan.shape.area + beyond(plan)
    compacted = wide * said.thickness.si
    loose = (base.loose_base(compacted, base.LOOSE_FACTORS[0]), base.loose_base(compacted, base.LOOSE_FACTORS[1]))
    heavy = base.base_mass(wide, said.thickness.si)
    return Base(said.material or "base", wide, said.thickness.si, compacted, loose, heavy)


@dataclass(frozen=True, slots=True)
class Sheeting:
    """Vapor retarder: rolls, strips and their lap, m, and the area that the rolls hold, m2."""

    rolls: int
    strips: int
    lap: float
    bought: float


def retarder(plan: Plan) -> Sheeting | None:
    """Rolls of retarder, laid in strips along the slab, lapped; strips may be pieced together with a lap."""
    said = plan.design.order.retarder if plan.design.order else None
    if said is None:
        return None
    lap = said.lap.si if said.lap else RETARDER_LAP[plan.home]
    long, wide = said.roll_length.si, said.roll_width.si
    if wide <= lap or long <= lap:
        return None
    box = shapely.get_coordinates(shapely.minimum_rotated_rectangle(plan.shape.slab))
    sides = (float(shapely.Point(box[0]).distance(shapely.Point(box[1]))),
             float(shapely.Point(box[1]).distance(shapely.Point(box[2]))))  # fmt: skip

    def strips(across: float) -> int:
        return 1 if across <= wide else ceil((across - lap) / (wide - lap) - 1e-6)

    short, far = min(sides), max(sides)
    ways = [(strips(short), far), (strips(far), short)]
    count, run = min(ways, key=lambda way: way[0] * way[1])
    pieced = count * run + lap * max(0, ceil(count * run / long) - 1)
    rolls = max(1, ceil(pieced / long - 1e-6))
    return Sheeting(rolls, count, lap, rolls * long * wide)


def curing(plan: Plan) -> tuple[float, Step]:
    """Curing compound for the whole surface, m3, and its working: as thick as the file says, else 200 ft2 a gallon."""
    said = plan.design.pour.curing if plan.design.pour else None
    rate = (said.rate if said else None) or coverage(weather.COMPOUND[plan.home])
    needed = weather.curing_compound(plan.shape.area, rate.si)
    numbers = words("{a} / {r}", a=area(plan.shape.area), r=rate)
    return needed, step("curing compound", "area / rate", numbers, small_volume(needed))


@dataclass(frozen=True, slots=True)
class Forms:
    """Forms: length at the edge, at openings and at construction joints, m, and the depth they have to hold, m.

    ``deeper`` has the edges where they have to hold more, with the depth there, m.
    """

    edge: float
    openings: float
    bulkheads: float
    depth: float
    deeper: tuple[tuple[str, float], ...] = ()

    @property
    def length(self) -> float:
        """All of them."""
        return self.edge + self.openings + self.bulkheads


def forms(plan: Plan) -> Forms:
    """Forms wherever nothing fixed stands against the slab."""
    open_edges = [one for one in plan.edges.pieces if not one.fixed_face]
    openings = sum(float(ring.length) for ring in plan.shape.opening_rings)
    bulkheads = sum(one.length for one in plan.joints.all if one.joint.kind == "construction joint")
    held = [(one.name, _held(plan, one)) for one in open_edges]
    thinnest = plan.areas.thicknesses[0]
    usual = min((deep for _, deep in held), default=thinnest)
    usual = min(usual, thinnest) if openings or bulkheads else usual
    deeper: dict[str, float] = {}
    for name, deep in held:
        if deep > usual + _SAME_BOARD:
            deeper[name] = max(deep, deeper.get(name, 0.0))
    return Forms(sum(one.length for one in open_edges), openings, bulkheads, usual, tuple(deeper.items()))


def _held(plan: Plan, piece: EdgePiece) -> float:
    """Depth that forms hold along an edge, m, in the middle of its sides: at a corner the next edge may be thick."""
    middles = (plan.thickness.at(middle_of(a, b)) for a, b in pairwise(piece.line))
    return max(*middles, *(area.thickness.si for area in plan.areas.along(piece.line)))


def board_depths(boards: Forms) -> tuple[str, dict[str, Amount | str]]:
    """The depth of form boards as words with slots, and what fills them: where an edge is thicker it is named."""
    text, values = "{d} deep", dict[str, Amount | str](d=depth(boards.depth))
    for number, deep in enumerate(sorted({deep for _, deep in boards.deeper}), 1):
        text += f", {{d{number}}} along {{n{number}}}"
        values |= {f"d{number}": depth(deep), f"n{number}": ", ".join(n for n, one in boards.deeper if one == deep)}
    return text, values
