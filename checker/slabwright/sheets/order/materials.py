"""Everything besides concrete and soil that a job takes: steel, fiber, isolation, joints, base, sheeting, forms."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil

import numpy as np
import shapely

from slabwright.design.model import Order
from slabwright.design.outline import Isolation
from slabwright.design.reinforcement import Bars, Mesh
from slabwright.formulas import OutOfRangeError, base, steel, weather
from slabwright.formulas import bars as bar_tables
from slabwright.formulas.units import FOOT, INCH, PSI
from slabwright.geometry.xy import middle_of
from slabwright.plan.edges import EdgePiece, filler_depth
from slabwright.plan.plan import Plan
from slabwright.sheets.order.cutting import CuttingPlan, best_plan
from slabwright.sheets.order.haul import beyond
from slabwright.sheets.order.mats import AtJoints, bar_mat, chairs, cut_down, mesh_strips, wires_cut
from slabwright.text.words import Step, Words, step, words
from slabwright.units.quantity import Amount, area, count, coverage, depth, length, small_volume

STOCK = {"us": 20 * FOOT, "metric": 6.0}  # m, `common-practice`
SHEET = {"us": (10 * FOOT, 5 * FOOT), "metric": (6.0, 2.4)}  # m, `common-practice`
ENDS_SHORT = {"us": 3 * INCH, "metric": 0.075}  # m: 2 to 3 in, `common-practice`
MESH_SHORT = {"us": 2 * INCH, "metric": 0.050}  # m, `common-practice`
CUT_STEP = {"us": INCH / 2, "metric": 0.010}  # m: what a bar is cut to
SUPPORTS = {"us": {"bars": 4 * FOOT, "mesh": 3 * FOOT}, "metric": {"bars": 1.2, "mesh": 0.9}}  # m, of 1 to 6 ft
GRADE_60 = 60_000 * PSI
LAP_60 = 60  # bar diameters, for steel stronger than the table of laps goes
RETARDER_LAP = {"us": 6 * INCH, "metric": 0.150}  # m, `ibc-1910.1`
HELD = ("chairs", "concrete blocks")
AT_EDGE = 0.01  # m: an edge so near to a part of the slab is its edge


@dataclass(frozen=True, slots=True)
class BarList:
    """Bars of one size: how they are cut from stock, with laps, and what all stock bars weigh, kg."""

    size: str
    runs: Counter[float]  # before laps
    lap: float
    plan: CuttingPlan
    mass: float  # of the bars bought


@dataclass(frozen=True, slots=True)
class MeshList:
    """Mesh sheets: ``plan`` cuts strips of full width from sheets by length."""

    style: str
    length: float
    width: float
    lap: float
    plan: CuttingPlan
    area: float  # covered, m2
    mass: float
    pieces: tuple[shapely.Polygon, ...]  # what it covers without a break
    wires_cut: int  # at joints that the sheets run half through


@dataclass(frozen=True, slots=True)
class Steel:
    """All steel of a job, with how it was worked and what stands in for things not said."""

    bars: tuple[BarList, ...]
    meshes: tuple[MeshList, ...]
    supports: int
    held_by: str
    support_spacing: float
    working: tuple[Step, ...]
    notes: tuple[Words, ...]
    add: tuple[str, ...]


def lap_of(diameter: float, strength: float) -> float:
    """Lap of bars, m: the usual one of dwellings; 60 diameters for steel stronger than that table.

    >>> round(lap_of(0.5 * INCH, 60_000 * PSI) / INCH, 6)
    30.0
    """
    try:
        return steel.dwelling_lap(diameter, strength)
    except OutOfRangeError:
        return LAP_60 * diameter


def all_steel(plan: Plan) -> Steel | None:
    """The steel of a plan; None where it has none."""
    beds = [bed for bed in plan.steel.beds if bed.steel.bars or bed.steel.mesh or bed.steel.corner_bars]
    edge_bars = [(run.line, layer) for run, thick in zip(plan.thickness.thickened_edges,
                 plan.design.thickness.thickened_edges, strict=True) for layer in thick.bars]  # fmt: skip
    if not beds and not edge_bars:
        return None
    order = plan.design.order or Order()
    stocks = [one.si for one in order.stock] or [STOCK[plan.home]]
    notes: list[Words] = []
    add: list[str] = []
    working: list[Step] = []
    runs: dict[str, Counter[float]] = defaultdict(Counter)
    sizes: dict[str, tuple[float, float]] = {}  # lap, kg/m
    supports, held, spaced = 0, "", 0.0
    meshes: list[MeshList] = []
    for said, areas in beds:
        part = None if len(areas) == len(plan.areas.all) else shapely.union_all([area.polygon for area in areas])
        where = "" if part is None else f" of {areas[0].name}"
        lying: list[tuple[str, Bars | Mesh, Sequence[shapely.Polygon]]] = []
        if said.bars:
            bars = said.bars
            joints: AtJoints = bars.at_joints or "stop"
            if bars.at_joints is None and any(one.counts for one in plan.joints.all):
                notes.append(words("bars are taken to stop at joints: write reinforcement.bars.at_joints"))
            short = bars.ends_short.si if bars.ends_short else ENDS_SHORT[plan.home]
            mat = bar_mat(plan, bars.spacing.si, short, joints, CUT_STEP[plan.home], part)
            runs[bars.size.name] += mat.runs
            strength = bars.yield_strength.si if bars.yield_strength else GRADE_60
            lap = bars.lap.si if bars.lap else lap_of(bars.size.diameter, strength)
            lap = max(lap, sizes.get(bars.size.name, (lap, 0.0))[0])
            sizes[bars.size.name] = (lap, bars.size.mass)
            for name, way in ((f"bars{where} along", mat.along), (f"bars{where} across", mat.across)):
                meters = sum(run * count for run, count in way.items())
                numbers = words("{n} runs, at most {s} apart", n=sum(way.values()), s=depth(bars.spacing.si))
                working.append(step(name, "runs by their lengths", numbers, length(meters)))
            lying.append(("bars", bars, mat.pieces))
        for loose in said.corner_bars:
            runs[loose.size.name][loose.length.si] += loose.count * len(loose.at)
            lap = lap_of(loose.size.diameter, GRADE_60)
            sizes.setdefault(loose.size.name, (lap, loose.size.mass))
        if said.mesh:
            mesh, mesh_notes = _mesh(plan, said.mesh, order, part)
            meshes.append(mesh)
            notes += mesh_notes
            lying.append(("mesh", said.mesh, mesh.pieces))
        for kind, laid, pieces in lying:
            if laid.held_by in HELD:
                held = str(laid.held_by)
                spaced = laid.support_spacing.si if laid.support_spacing else SUPPORTS[plan.home][kind]
                counts = [chairs(piece, spaced) for piece in pieces]
                supports += sum(counts)
                working.append(_supports(held, counts))
    for line, layer in edge_bars:  # apart from the bars of the slab: they lap by their own length
        name, short = f"{layer.size.name} edges", ENDS_SHORT[plan.home]
        lap = layer.lap.si if layer.lap else lap_of(layer.size.diameter, GRADE_60)
        sizes[name] = (max(lap, sizes[name][0] if name in sizes else 0.0), layer.size.mass)
        bared = [run - 2 * short for run in _along_edge(plan, line) if run > 2 * short]
        for long in bared:
            runs[name][cut_down(long, CUT_STEP[plan.home])] += layer.count
        numbers = words("{n} bars, {s} short of each end", n=layer.count, s=depth(short))
        working.append(step(f"{name}, {layer.at}", "bars x length of the edge", numbers,
                            length(layer.count * sum(bared))))  # fmt: skip
    if edge_bars:
        notes.append(words("bars of a thickened edge go round its corners, and through joints that no filler parts"))
    lists = []
    for name in sorted(runs):
        lap, heavy = sizes[name]
        if not runs[name]:
            continue
        if not any(stock > lap for stock in stocks):
            than = f"{{{lap / FOOT:.1f} ft ({lap:.2f} m), such as 20 ft|{lap:.2f} m, such as 6 m}}"
            add.append(f"order.stock: bars longer than their lap of {than}")
            continue
        cut = best_plan(runs[name], stocks, lap)
        lists.append(BarList(name, runs[name], lap, cut, cut.bought * heavy))
    if lists and not order.stock:
        notes.append(words("bars are taken to be sold in {s}: write order.stock", s=length(STOCK[plan.home])))
    return Steel(tuple(lists), tuple(meshes), supports, held, spaced, tuple(working), tuple(notes), tuple(add))


def _along_edge(plan: Plan, line: np.ndarray) -> list[float]:
    """Lengths of a thickened edge between expansion joints, m."""
    edge = shapely.LineString(line)
    if len(plan.panels.stretches) < 2:
        return [float(edge.length)]
    parts = [shapely.intersection(edge, one.polygon.buffer(AT_EDGE)) for one in plan.panels.stretches]
    return [float(part.length) for part in parts if part.length > AT_EDGE]


def _supports(held_by: str, counts: list[int]) -> Step:
    """The sum of the supports of all mats, like ones together."""
    alike = sorted(Counter(counts).items(), reverse=True)
    told = " + ".join(f"{mats} x {each}" if mats > 1 else f"{each}" for each, mats in alike)
    formula = "rows x pieces in a row, on the rims too, mat by mat"
    return step(held_by, formula, words("{sum}", sum=told), count(sum(counts)))


def _mesh(plan: Plan, said: Mesh, order: Order, part: shapely.Geometry | None) -> tuple[MeshList, list[Words]]:
    notes = []
    sides = tuple(one.si for one in order.sheet) or said.sides or SHEET[plan.home]
    long, wide = max(sides), min(sides)
    if said.sides and not order.sheet:
        sold = "{s} is listed in sheets of {a} by {b}: write order.sheet where yours differ"
        notes.append(words(sold, s=said.style, a=length(long), b=length(wide)))
    elif not order.sheet:
        notes.append(words("sheets are taken to be {a} by {b}: write order.sheet", a=length(long), b=length(wide)))
    lap = said.lap.si if said.lap else steel.mesh_lap(min(max(said.cross_spacing, 2 * INCH), 12 * INCH))
    joints: AtJoints = said.at_joints or "stop"
    if said.at_joints is None and any(one.counts for one in plan.joints.all):
        notes.append(words("mesh is taken to stop at joints: write reinforcement.mesh.at_joints"))
    strips, mats = mesh_strips(plan, wide, lap, MESH_SHORT[plan.home], joints, part)
    whole: Counter[float] = Counter()
    for strip, times in strips.items():
        whole[max(cut_down(strip, CUT_STEP[plan.home]), 0.05)] += times
    cut = best_plan(whole, [long], lap)
    by_area = said.mass_per_area or 2 * said.area_per_width * bar_tables.STEEL_DENSITY
    covered = sum(float(mat.area) for mat in mats)
    through = wires_cut(plan, said.wire_spacing) if joints == "half through" else 0
    return MeshList(said.style, long, wide, lap, cut, covered, cut.bars * long * wide * by_area, mats, through), notes


@dataclass(frozen=True, slots=True)
class Filler:
    """Isolation of one material, thickness and height, m, with its length, m; ``known`` when its height is."""

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
    """Vapor retarder: rolls, and the area they hold, m2."""

    rolls: int
    strips: int
    lap: float
    bought: float
    covered: float


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
    return Sheeting(rolls, count, lap, rolls * long * wide, plan.shape.area)


def curing(plan: Plan) -> tuple[float, Step]:
    """Curing compound for the whole surface, m3, and its working: as thick as the file says, else 200 ft2 a gallon."""
    said = plan.design.pour.curing if plan.design.pour else None
    rate = (said.rate if said else None) or coverage(weather.COMPOUND[plan.home])
    needed = weather.curing_compound(plan.shape.area, rate.si)
    numbers = words("{a} / {r}", a=area(plan.shape.area), r=rate)
    return needed, step("curing compound", "area / rate", numbers, small_volume(needed))


_SAME_BOARD = 0.005  # m: so much deeper a slab still goes with the same board (common practice)


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
