"""Steel that a job takes: bars and mesh laid out, cut from what is sold, and what holds them up."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
import shapely

from slabwright.design.model import Order
from slabwright.design.reinforcement import Bars, CornerBars, Mesh
from slabwright.design.thickness import EdgeBars
from slabwright.formulas import OutOfRangeError, steel
from slabwright.formulas import bars as bar_tables
from slabwright.formulas.units import FOOT, INCH, PSI
from slabwright.plan.plan import Plan
from slabwright.sheets.order.cutting import CuttingPlan, best_plan
from slabwright.sheets.order.mats import bar_mat, chairs, cut_down, mesh_strips, wires_cut
from slabwright.text.words import Step, Words, step, words
from slabwright.units.quantity import count, depth, length

STOCK = {"us": 20 * FOOT, "metric": 6.0}  # m, `common-practice`
SHEET = {"us": (10 * FOOT, 5 * FOOT), "metric": (6.0, 2.4)}  # m, `common-practice`
ENDS_SHORT = {"us": 3 * INCH, "metric": 0.075}  # m: 2 to 3 in, `common-practice`
MESH_SHORT = {"us": 2 * INCH, "metric": 0.050}  # m, `common-practice`
CUT_STEP = {"us": INCH / 2, "metric": 0.010}  # m: what a bar is cut to
SUPPORTS = {"us": {"bars": 4 * FOOT, "mesh": 3 * FOOT}, "metric": {"bars": 1.2, "mesh": 0.9}}  # m, of 1 to 6 ft
GRADE_60 = 60_000 * PSI
LAP_60 = 60  # bar diameters, for steel stronger than the table of laps goes
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


@dataclass(slots=True)
class _Taken:
    """What the beds and thickened edges of a plan take, added up while one after the other is looked at."""

    plan: Plan
    runs: dict[str, Counter[float]] = field(default_factory=lambda: defaultdict(Counter))  # by size, before laps
    laps: dict[str, float] = field(default_factory=dict)  # by size, the longest
    masses: dict[str, float] = field(default_factory=dict)  # by size, kg/m
    meshes: list[MeshList] = field(default_factory=list)
    supports: int = 0
    held_by: str = ""
    support_spacing: float = 0.0
    working: list[Step] = field(default_factory=list)
    notes: list[Words] = field(default_factory=list)

    def bars(self, said: Bars, part: shapely.Geometry | None, where: str) -> None:
        """A mat of bars in a part of the slab, or everywhere."""
        home = self.plan.home
        if said.at_joints is None and any(one.counts for one in self.plan.joints.all):
            self.notes.append(words("bars are taken to stop at joints: write reinforcement.bars.at_joints"))
        short = said.ends_short.si if said.ends_short else ENDS_SHORT[home]
        mat = bar_mat(self.plan, said.spacing.si, short, said.at_joints or "stop", CUT_STEP[home], part)
        strength = said.yield_strength.si if said.yield_strength else GRADE_60
        lap = said.lap.si if said.lap else lap_of(said.size.diameter, strength)
        self._add(said.size.name, mat.runs, lap, said.size.mass)
        for name, way in ((f"bars{where} along", mat.along), (f"bars{where} across", mat.across)):
            meters = sum(run * count for run, count in way.items())
            numbers = words("{n} runs, at most {s} apart", n=sum(way.values()), s=depth(said.spacing.si))
            self.working.append(step(name, "runs by their lengths", numbers, length(meters)))
        self._held_up("bars", said, mat.pieces)

    def corner_bars(self, said: CornerBars) -> None:
        """Bars that lie loose at corners: they are not lapped, so that the lap of their size stays."""
        size = said.size
        lap = self.laps.get(size.name) or lap_of(size.diameter, GRADE_60)
        self._add(size.name, Counter({said.length.si: said.count * len(said.at)}), lap, size.mass)

    def mesh(self, said: Mesh, order: Order, part: shapely.Geometry | None) -> None:
        """Sheets of mesh in a part of the slab, or everywhere."""
        mesh, notes = _mesh(self.plan, said, order, part)
        self.meshes.append(mesh)
        self.notes += notes
        self._held_up("mesh", said, mesh.pieces)

    def edge_bars(self, said: EdgeBars, line: np.ndarray) -> None:
        """Bars of a thickened edge, apart from those of the slab: they lap by their own length."""
        name, short = f"{said.size.name} edges", ENDS_SHORT[self.plan.home]
        bared = [run - 2 * short for run in _along_edge(self.plan, line) if run > 2 * short]
        runs = Counter[float]()
        for long in bared:
            runs[cut_down(long, CUT_STEP[self.plan.home])] += said.count
        self._add(name, runs, said.lap.si if said.lap else lap_of(said.size.diameter, GRADE_60), said.size.mass)
        numbers = words("{n} bars, {s} short of each end", n=said.count, s=depth(short))
        formula = "bars x length of the edge"
        self.working.append(step(f"{name}, {said.at}", formula, numbers, length(said.count * sum(bared))))

    def _add(self, size: str, runs: Counter[float], lap: float, mass: float) -> None:
        self.runs[size] += runs
        self.laps[size] = max(lap, self.laps.get(size, lap))
        self.masses[size] = mass

    def _held_up(self, kind: str, laid: Bars | Mesh, pieces: Sequence[shapely.Polygon]) -> None:
        if laid.held_by not in HELD:
            return
        self.held_by = str(laid.held_by)
        self.support_spacing = laid.support_spacing.si if laid.support_spacing else SUPPORTS[self.plan.home][kind]
        counts = [chairs(piece, self.support_spacing) for piece in pieces]
        self.supports += sum(counts)
        self.working.append(_supports(self.held_by, counts))

    def lists(self, stocks: Sequence[float]) -> tuple[list[BarList], list[str]]:
        """The bars by size, cut from the stock that is sold, and what to write where no stock is long enough."""
        found, add = [], []
        for size, runs in sorted(self.runs.items()):
            lap = self.laps[size]
            if not runs:
                continue
            if not any(stock > lap for stock in stocks):
                than = f"{{{lap / FOOT:.1f} ft ({lap:.2f} m), such as 20 ft|{lap:.2f} m, such as 6 m}}"
                add.append(f"order.stock: bars longer than their lap of {than}")
                continue
            cut = best_plan(runs, stocks, lap)
            found.append(BarList(size, runs, lap, cut, cut.bought * self.masses[size]))
        return found, add


def all_steel(plan: Plan) -> Steel | None:
    """The steel of a plan; None where it has none."""
    beds = [bed for bed in plan.steel.beds if bed.steel.bars or bed.steel.mesh or bed.steel.corner_bars]
    edge_bars = [(run.line, layer) for run, thick in zip(plan.thickness.thickened_edges,
                 plan.design.thickness.thickened_edges, strict=True) for layer in thick.bars]  # fmt: skip
    if not beds and not edge_bars:
        return None
    order = plan.design.order or Order()
    taken = _Taken(plan)
    for said, areas in beds:
        part = None if len(areas) == len(plan.areas.all) else shapely.union_all([area.polygon for area in areas])
        if said.bars:
            taken.bars(said.bars, part, "" if part is None else f" of {areas[0].name}")
        for loose in said.corner_bars:
            taken.corner_bars(loose)
        if said.mesh:
            taken.mesh(said.mesh, order, part)
    for line, layer in edge_bars:
        taken.edge_bars(layer, line)
    notes = taken.notes
    if edge_bars:
        notes.append(words("bars of a thickened edge go round its corners, and through joints that no filler parts"))
    lists, add = taken.lists([one.si for one in order.stock] or [STOCK[plan.home]])
    if lists and not order.stock:
        notes.append(words("bars are taken to be sold in {s}: write order.stock", s=length(STOCK[plan.home])))
    return Steel(tuple(lists), tuple(taken.meshes), taken.supports, taken.held_by, taken.support_spacing,
                 tuple(taken.working), tuple(notes), tuple(add))  # fmt: skip


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
    joints = said.at_joints or "stop"
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
