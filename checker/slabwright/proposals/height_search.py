"""Heights of the finish that meet the rules in force on heights and water, found by rounds of linear programs.

Each round looks at the surface of the last one: which way its parts fall, which way water leaves, which falls lie
before a wall. It asks all of that of the heights at once, moves them the least, and looks again. The heights found
are rounded to the step in which the file writes them, and judged by the review of the design with them in it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from itertools import product
from pathlib import Path
from typing import NamedTuple

import numpy as np

from slabwright.design.model import Design
from slabwright.design.read import read_text
from slabwright.formulas import hauling
from slabwright.geometry import GeometryError
from slabwright.geometry.surface.cut_fill import above
from slabwright.geometry.surface.diagonals import on_circle, quads
from slabwright.geometry.xy import XY
from slabwright.plan.fixed import HANGING
from slabwright.plan.grades import NewHeight
from slabwright.plan.plan import Plan
from slabwright.plan.water import WaterShare
from slabwright.proposals import program
from slabwright.proposals.asked_heights import BASE, IN_PLANE, STREET_LIP, Asking
from slabwright.proposals.carried import Carried, carried, with_heights
from slabwright.proposals.program import Costs, Floats, Row, Solution
from slabwright.review import remedies, run
from slabwright.review.remedies import Bench
from slabwright.review.report import Comment, Conclusions, Report
from slabwright.rulebook.heights import new_heights
from slabwright.rulebook.in_force import Limits
from slabwright.rulebook.remedy import Edit
from slabwright.rulebook.rule import Rule
from slabwright.source.problem import UnreadableError, refuse
from slabwright.text.words import words
from slabwright.units.quantity import Kind, System

AS_DRAWN = "the folds as drawn"
ONE_PLANE = "one straight plane"
ROUNDS = 8
MOST_POINTS = 80  # more heights than that are a survey, and no drawing
SAME = 1e-6  # m: heights that differ by less are one
MISSED = 5e-4  # m: what all rows together miss by less is rounding
FOOT, INCH = 0.3048, 0.0254
STEPS = {  # m, in which heights are written, coarsest first: 0.01 ft, 1/8 in and finer; 5 mm, 1 mm
    "ft": (0.01 * FOOT, INCH / 8, 0.005 * FOOT, INCH / 16, 0.001 * FOOT),
    "in": (INCH / 8, INCH / 16, 0.001 * FOOT),
    "m": (0.005, 0.001),
    "cm": (0.005, 0.001),
    "mm": (0.005, 0.001),
}
FINER = {"ft": (0.005 * FOOT, 0.001 * FOOT), "in": (INCH / 16,), "m": (0.001,), "cm": (0.001,), "mm": (0.001,)}
DIG_DEARER = 1.5  # a cubic meter dug and hauled against one of base brought and rolled (common practice)
HEIGHT_GROUPS = ("heights", "water")
NOT_OF_HEIGHT = (Kind.LENGTH, Kind.COUNT, Kind.ANGLE)  # what is too short, or too few, no height puts right
FIRM = ("building", "existing slab", "asphalt", "street")
HELD = 2.0  # a form in the lawn is moved sooner than a height at a door
FREE = 0.001  # what moving a point costs that the drawing did not have
FREE_FOLDS = 3  # of four points each, up to which every way to fold is judged
TRIALS = 6  # ways of rounding that are judged
WARP = "four-corner-warp"  # the rule that tells where a slab folds two ways
AGREE = "fixed-heights-agree"  # the rule that tells what clashes on any surface, and its limits that are aside
BY_VALLEY = ("away_at_least", "plain_away_at_least", "valley_at_least")
ON_BASE = (
    "door_step_at_most", "short_over_base_at_most", "old_slab_lip_at_most", "public_lip_at_most", "wheel_lip_at_most",
    "old_step_at_most", "lip_at_least", "out_at_least", "room_to_fall_at_least",
)  # fmt: skip
SECONDS = 1.0  # for the search on whole steps
WISHES = (IN_PLANE, STREET_LIP)


class Job(NamedTuple):
    """A design as text and worked, and what it is judged by."""

    path: Path
    text: str
    plan: Plan
    rules: Sequence[Rule]
    limits: Mapping[str, Limits]
    added: tuple[str, ...] = ()  # points that the drawing did not have: moving them costs nothing


class Governed(NamedTuple):
    """A point that moves: its heights, m, and what keeps it from staying."""

    height: NewHeight
    by: str


class Room(NamedTuple):
    """How far a fixed height could be raised or brought down, m, before nothing holds any more (3 m at most)."""

    name: str
    up: float
    down: float


class Change(NamedTuple):
    """The cheapest single change of a fixed height that would let all rows hold: above zero raised, m."""

    name: str
    by: float


class Clash(NamedTuple):
    """What cannot all hold: the groups, how much is short, m, and whether that is proven."""

    groups: tuple[str, ...]
    short: float
    proven: bool
    change: Change | None
    on_any_folds: bool  # no heights do it on other folds either


class Earth(NamedTuple):
    """What heights take of digging and filling, m3 in the bank: under the ground as it lies, or against those drawn."""

    from_ground: bool
    dug: float
    filled: float
    trips: int | None  # with the truck of the file; None while it, or the soil, is not known
    own_fall: float  # what the fall along a new valley takes by itself, on level ground: half its drop all over
    weighed: float  # digging dearer than filling


class Found(NamedTuple):
    """Heights that the review passes, on some folds."""

    folds: str  # "the folds as drawn", "one straight plane", "a valley from ... to ..."
    edits: tuple[Edit, ...]
    text: str
    plan: Plan
    report: Report
    points: tuple[Governed, ...]
    rooms: tuple[Room, ...]
    least: float  # fall of the flattest part
    most: float
    shares: tuple[WaterShare, ...]
    brings: tuple[str, ...]  # holds and cautions of other rules that come with it
    moved: float  # m, all points together
    cost: float
    earth: Earth
    concrete: float  # m3


class Settled(NamedTuple):
    """Where the rounds ended: the heights, what was asked in the last round, and what of it they miss, m."""

    z: Floats
    rows: tuple[Row, ...]
    solution: Solution
    on: Carried
    missed: float


def job_of(
    path: Path, text: str, rules: Sequence[Rule], limits: Mapping[str, Limits], system: System | None = None
) -> Job:
    """A design read for a proposal, shown as it says or in ``system``.

    Raises :class:`UnreadableError` when it cannot be read.
    """
    design, _ = read_text(path, text)
    return Job(path, text, Plan(design._replace(system=system or design.system)), rules, limits)


def fewer(bench: Bench, report: Report) -> Found | None:
    """Heights on the folds as drawn that leave fewer holds and cautions than a review, and no more holds.

    None where it leaves none on heights and water, where none are found, and without the solver.
    """
    job = Job(bench.path, bench.text, bench.plan, bench.rules, bench.limits)
    if not left(report) or clash_on_any_folds(report, job.plan):
        return None
    try:
        program.solver()
        movable(job)
    except UnreadableError:
        return None
    found, _ = as_drawn(job, report, step_of(job.plan.design))
    heavy = report.holds + report.counted("caution")
    for one in found:
        if one.report.holds <= report.holds and one.report.holds + one.report.counted("caution") < heavy:
            return one
    return None


def as_drawn(job: Job, before: Report, step: float, folds: str = AS_DRAWN) -> tuple[list[Found], list[Settled]]:
    """The best heights on the folds as drawn, if any, and where each search ended.

    The search starts from the falls as drawn, and from the ways out of the water; of both the one that moves less.
    Four corners are kept in a plane where that can be, so that the slab does not fold two ways. Where nothing holds
    over the base as it was shot, the base is left out, and has to be prepared again.
    """
    found: list[Found] = []
    ended: list[Settled] = []
    wishes = [(IN_PLANE, STREET_LIP), (STREET_LIP,), ()] if job.plan.finish.folds else [(STREET_LIP,), ()]
    wishes = wishes if bumps(job.plan) else [tuple(one for one in kept if one != STREET_LIP) for kept in wishes[:-1]]
    for on_base, kept in product((True, False) if job.plan.design.heights.base else (True,), wishes):
        for settled in ways(job, on_base, kept):
            if IN_PLANE not in kept:
                ended.append(settled)
            dearer = found and settled.solution.cost > found[0].cost - step
            if settled.missed < MISSED and not dearer:
                found += rounded(job, settled, before, step, folds)
        if found:
            break
    return sorted(found, key=lambda one: (len(one.brings), one.cost))[:1], ended


def ways(job: Job, on_base: bool = True, wishes: Collection[str] = ()) -> list[Settled]:
    """Where the rounds end that start from the falls as drawn, and those that start from the ways out."""
    ended = (settle(job, by_drawn, on_base, wishes=wishes) for by_drawn in (True, False))
    return [one for one in ended if one is not None]


def clash_on_any_folds(report: Report, plan: Plan) -> bool:
    """Whether fixed heights clash on every surface, by the rule that decides it: no heights pass, on no folds.

    What it asks before walls and along valleys is left aside, which a valley may settle; so is the base as it was
    shot, and what is asked on top of it: it can be prepared again.
    """
    aside = BY_VALLEY if not plan.design.heights.base else (*BY_VALLEY, *ON_BASE)
    return any(one.limit.name not in aside for one in _agreements(report))


def off_walls_clash(report: Report) -> bool:
    """Whether fixed heights leave no room for the fall away from a wall that no low line is drawn before."""
    return any(one.limit.name in BY_VALLEY for one in _agreements(report))


def _agreements(report: Report) -> list[Comment]:
    """What the rule on fixed heights says, but for notes and variances."""
    return [one for one in report.comments if one.rule == AGREE and one.weight != "note" and one.variance is None]


def bumps(plan: Plan) -> bool:
    """Whether wheels come up from a street whose height is known, onto an edge that is no planned step."""
    return any(
        piece.beside == "street" and piece.wheels_cross and piece.ground
        and not (piece.edge and piece.edge.planned_step)
        for piece in plan.edges.pieces
    )  # fmt: skip


def kept_off_street(found: Found) -> bool:
    """Whether wheels come up from the street without a bump that the review notes."""
    return not any(one.limit.name == "street_lip_at_most" for one in found.report.comments)


def movable(job: Job) -> None:
    """Raise :class:`UnreadableError` for a design whose heights cannot be moved."""
    plan, names = job.plan, [spot.at.name for spot in job.plan.design.heights.finish]
    if plan.finish.missing:
        wrong = f"no height is given at {', '.join(plan.finish.missing[:8])}, so there is no surface to move"
        refuse(str(job.path), wrong, "heights.finish: a first guess at every corner, such as all at one height")
    if not names or plan.finish.surface is None:
        refuse(str(job.path), "no heights are given", "heights.finish: a first guess at every corner")
    if len(names) > MOST_POINTS or not all(names):
        wrong = f"its finish heights are a survey of {len(names)} shots, not heights of points to be set"
        refuse(str(job.path), wrong, "heights.finish: {A: 99.90, B: 99.90, ...} at the corners and folds")


def step_of(design: Design) -> float:
    """The step in which the heights of a file are written, m: 0.01 ft, 1/8 in, 5 mm or finer."""
    steps = STEPS[design.height_unit]
    z = np.array([spot.height.si for spot in design.heights.finish])
    return next((one for one in steps if np.abs(z - np.round(z / one) * one).max(initial=0.0) < SAME), steps[-1])


def costs_of(plan: Plan, on: Carried, added: Sequence[str] = ()) -> Costs:
    """What moving each point costs: twice at a building, street or old slab, which the heights there were set for.

    With the ground before digging known, a point weighs as the slab round it, and digging more than filling.
    """
    firm = [piece for piece in plan.edges.pieces if piece.beside in FIRM]
    spots = plan.design.heights.finish
    at_firm = np.array([any(piece in firm for piece in plan.edges.at((s.at.x, s.at.y))) for s in spots])
    held = np.where(at_firm, HELD, 1.0) * np.array([FREE if s.at.name in added else 1.0 for s in spots])
    if not plan.design.heights.existing:
        return Costs(held, held)
    surface = on.surface
    round_vertex = np.zeros(len(surface.z))
    for corner in range(3):
        np.add.at(round_vertex, surface.mesh.triangles[:, corner], surface.areas / 3)
    weight = np.abs(on.terms).T @ round_vertex
    weight = held * np.maximum(weight / max(float(weight.mean()), 1e-9), 0.05)
    return Costs(weight, weight * _dig_over_fill(plan))


def _dig_over_fill(plan: Plan) -> float:
    """What a cubic meter dug costs against one filled; by the prices of the file where both are there."""
    prices, site = plan.design.prices, plan.design.site
    tip = prices.tip if prices else None
    placing = prices.base_placing if prices else None
    weight = site.soil.bank_weight if site.soil else None
    if tip is None or placing is None or weight is None:
        return DIG_DEARER
    dug, filled = tip.value / tip.size * weight.si, placing.value / placing.size
    return min(max(dug / filled, 0.2), 5.0) if filled > 0 else DIG_DEARER


def settle(
    job: Job,
    by_drawn: bool,
    on_base: bool = True,
    flat: bool = False,
    rounds: int = ROUNDS,
    wishes: Collection[str] = (STREET_LIP,),
    give_up: bool = False,
) -> Settled | None:
    """Rounds of elastic programs from the heights as drawn, until a round changes nothing; the best round of all.

    The first round lets parts fall as drawn (``by_drawn``), or as the way out leads; ``flat`` asks for one plane,
    ``wishes`` are groups of rows that are asked though the rules only note them. ``give_up`` ends them at a round in
    which no surface on these folds could do it.
    """
    free = {*(() if on_base else (BASE,)), *(one for one in WISHES if one not in wishes)}
    drawn = np.array([spot.height.si for spot in job.plan.design.heights.finish])
    plan, on, best = job.plan, carried(job.plan), None
    widened: frozenset[str] = frozenset()
    crests: list[XY] = []
    for number in range(rounds):
        if on is None:
            break
        try:
            asking = Asking(plan, job.limits, on, by_drawn or number > 0, sorted(widened), crests)
            rows = tuple(row for row in asking.rows() if row.group not in free)
            crests = asking.crests if number else []  # the crest as drawn says nothing of where it will be
            rows = (*rows, *_in_one_plane(job.plan.design)) if flat else rows
            solution = program.least_moved(rows, drawn, costs_of(plan, on, job.added))
            if solution is None:
                break
            if number > 2:
                widened = asking.crossed
            missed = float(np.maximum(solution.misses - program.MISSED, 0.0).sum())
            settled = Settled(solution.z, rows, solution, on, missed)
            if give_up and clashes(settled):
                return settled if best is None else best
            design = with_heights(job.plan.design, solution.z.tolist())
            now = job.plan.edited(design, {"heights"})
            then, on = on, carried(now, on)
        except GeometryError:
            break
        same = on is not None and np.array_equal(then.surface.mesh.triangles, on.surface.mesh.triangles)
        stays = same and np.abs(then.surface.z - on.surface.z).max() < 1e-5 if on is not None else False
        if best is None or (missed, number) < (best.missed - SAME, 0) or missed <= best.missed + SAME:
            best = settled
        plan = now
        if stays:
            break
    return best


def clashes(settled: Settled) -> bool:
    """Whether no surface on the folds of a round could do it, whichever way its parts fall."""
    if settled.missed < MISSED:
        return False
    return not program.feasible([row for row in settled.rows if row.sure], settled.z)


def _in_one_plane(design: Design) -> Iterator[Row]:
    """Every point in the plane through three of them that lie far apart."""
    xy = np.array([(spot.at.x, spot.at.y) for spot in design.heights.finish])
    first = int(np.argmin(xy @ np.array([1.0, 1.0])))
    second = int(np.argmax(np.hypot(*(xy - xy[first]).T)))
    way = xy[second] - xy[first]
    third = int(np.argmax(np.abs((xy - xy[first]) @ np.array([-way[1], way[0]]))))
    corners = [first, second, third]
    matrix = np.vstack([xy[corners].T, np.ones(3)])
    if abs(np.linalg.det(matrix)) < SAME:
        return
    for k, at in enumerate(xy):
        if k not in corners:
            terms = np.zeros(len(xy))
            terms[corners] = np.linalg.solve(matrix, np.array([*at, 1.0]))
            terms[k] = -1.0
            yield Row("one plane", "asked", terms, 0.0)
            yield Row("one plane", "asked", -terms, 0.0)


def rounded(job: Job, settled: Settled, before: Report, step: float, folds: str) -> Iterator[Found]:
    """The heights on whole steps that the review passes: the first of several ways of rounding that does.

    Where four corners are to lie in a plane, the first on a step that keeps them there, if one does.
    """
    in_plane, second = any(row.group == IN_PLANE for row in settled.rows), None
    design = job.plan.design
    drawn = np.array([spot.height.si for spot in design.heights.finish])
    costs = costs_of(job.plan, settled.on, job.added)
    tried: set[tuple[float, ...]] = set()
    for one in (step, *(finer for finer in FINER[design.height_unit] if finer < step - SAME)):
        for z in _on_steps(settled, drawn, costs, one):
            key = tuple(np.round(z, 7).tolist())
            if key in tried:
                continue
            tried.add(key)
            if len(tried) > TRIALS:
                break
            heights = tuple(
                NewHeight(spot.at.name, float(old), float(new))
                for spot, old, new in zip(design.heights.finish, drawn, z, strict=True)
                if abs(new - old) > SAME
            )
            found = _judged(job, heights, before, folds, settled, float(_cost(z - drawn, costs)))
            if found is not None and not (in_plane and any(one.rule == WARP for one in found.report.comments)):
                yield found
                return
            second = second or found
        if second is not None or len(tried) > TRIALS:
            break
    if second is not None:
        yield second


def _cost(moved: Floats, costs: Costs) -> float:
    return float(np.maximum(moved, 0) @ costs.up + np.maximum(-moved, 0) @ costs.down)


def _on_steps(settled: Settled, drawn: Floats, costs: Costs, step: float) -> Iterator[Floats]:
    """Heights on whole steps: as the program gives them, asked half a step more, and searched for on the steps."""
    rows = settled.rows
    yield _to_steps(settled.z, drawn, step)
    more = np.array([np.abs(row.terms).sum() * step / 2 if row.sort != "fixed" else 0.0 for row in rows])
    for part in (0.5, 1.0):
        solution = program.least_moved(rows, drawn, costs, elastic=False, least_more=part * more)
        if solution is not None:
            yield _to_steps(solution.z, drawn, step)
    free = np.array([any(abs(row.terms[k]) > SAME for row in rows) for k in range(len(drawn))])
    found = program.on_steps(rows, drawn, costs, settled.z, step, free, SECONDS)
    if found is not None:
        yield found


def _to_steps(z: Floats, drawn: Floats, step: float) -> Floats:
    """The nearest whole steps; a height that stays is left as it is typed."""
    return np.where(np.abs(z - drawn) < SAME, drawn, np.round(z / step) * step)


def _judged(
    job: Job, heights: Sequence[NewHeight], before: Report, folds: str, settled: Settled, cost: float
) -> Found | None:
    """The design with new heights in it, if the review of it leaves nothing on heights and water."""
    told = new_heights(job.plan, heights, words("set the heights proposed"))
    edits = told[0].edits if told else ()
    return judged_edits(job, edits, before, folds, settled, cost) if edits else None


def judged_edits(
    job: Job, edits: Sequence[Edit], before: Report, folds: str, settled: Settled | None, cost: float
) -> Found | None:
    """The design with edits in it, if the review of it leaves nothing on heights and water."""
    text = remedies.edited(job.text, edits, job.plan.design)
    if text is None:
        return None
    try:
        design, _ = read_text(job.path, text)
        plan = Plan(design._replace(system=job.plan.system))
    except UnreadableError:
        return None
    own = [rule for rule in job.rules if rule.group in HEIGHT_GROUPS]  # these first: most trials end here
    if left(reviewed(job._replace(rules=own), plan)):
        return None
    report = reviewed(job, plan)
    if left(report) or len(report.crashes) > len(before.crashes):
        return None
    return found_in(before, job, plan, text, report, tuple(edits), folds, settled)._replace(cost=cost)


def reviewed(job: Job, plan: Plan) -> Report:
    """The review of a plan by the rules of a job."""
    concluded = Conclusions()
    run.conclude([(plan, concluded)], job.rules, job.limits)
    return run.report(plan, job.rules, job.limits, concluded, figured=False)


def left(report: Report) -> tuple[int, ...]:
    """Numbers of the holds and cautions on heights and water that heights could put right."""
    return tuple(
        one.number
        for one in report.comments
        if one.group in HEIGHT_GROUPS
        and one.weight != "note"
        and one.variance is None
        and one.shown.kind not in NOT_OF_HEIGHT
    )


def _brings(before: Report, after: Report) -> tuple[str, ...]:
    """Holds and cautions of other groups that there were not before."""
    spare = Counter((one.rule, one.weight) for one in before.comments if one.variance is None)
    found = []
    for one in after.comments:
        if one.variance is None and one.weight != "note" and one.group not in HEIGHT_GROUPS:
            spare[one.rule, one.weight] -= 1
            if spare[one.rule, one.weight] < 0:
                found.append(f"{one.rule} at {one.at.name}")
    return tuple(found)


def found_in(
    before: Report,
    job: Job,
    plan: Plan,
    text: str,
    report: Report,
    edits: tuple[Edit, ...],
    folds: str,
    settled: Settled | None,
) -> Found:
    """A plan with its review, as a proposal."""
    old = {spot.at.name: spot.height.si for spot in job.plan.design.heights.finish}
    new = {spot.at.name: spot.height.si for spot in plan.design.heights.finish}
    changed = [
        NewHeight(name, z if name in job.added else old[name], z)
        for name, z in new.items()
        if name in job.added or abs(old[name] - z) > SAME
    ]
    governs = _governs(job.plan.design, settled) if settled is not None else {}
    points = tuple(Governed(one, governs.get(one.name, "")) for one in changed)
    surface = plan.finish.surface
    slopes = [0.0] if surface is None else surface.slopes[surface.areas > 0.02].tolist() or [0.0]
    return Found(
        folds=folds,
        edits=edits,
        text=text,
        plan=plan,
        report=report,
        points=points,
        rooms=rooms_of(settled) if settled is not None else (),
        least=min(slopes),
        most=max(slopes),
        shares=plan.water.shares,
        brings=_brings(before, report),
        moved=sum(abs(one.new - one.old) for one in changed),
        cost=0.0,
        earth=earth_of(job, plan),
        concrete=plan.concrete.quantities.net,
    )


def earth_of(job: Job, plan: Plan) -> Earth:
    """Digging and filling for the heights of a plan."""
    new, existing, drawn = plan.finish.surface, plan.site.existing_surface, job.plan.finish.surface
    dug = filled = 0.0
    base = plan.design.site.base
    below = plan.thickness.design + (base.thickness.si if base and base.thickness else 0.0)
    if new is not None and existing is not None:
        dug, filled = above(existing, new, -below).volume, above(new, existing, below).volume
    elif new is not None and drawn is not None:
        dug, filled = above(drawn, new, 0.0).volume, above(new, drawn, 0.0).volume
    soil, dig = plan.design.site.soil, plan.design.dig
    trips = None
    if soil and soil.swell and soil.bank_weight and dig and dig.box and dig.payload:
        trips = hauling.trips(dug, soil.swell.si, soil.bank_weight.si, dig.box.si, dig.payload.si)
    own = 0.0
    for line in plan.design.heights.lines:
        ends = [plan.finish.at((point.x, point.y)) for point in (line.along[0], line.along[-1])]
        if job.added and line.kind == "valley" and ends[0] is not None and ends[1] is not None:
            own = abs(ends[0] - ends[1]) / 2 * plan.shape.area
    return Earth(existing is not None, dug, filled, trips, own, dug * _dig_over_fill(plan) + filled)


def _governs(design: Design, settled: Settled) -> dict[str, str]:
    """For each point what holds it where it is: the row that would cost the most if more were asked."""
    found: dict[str, str] = {}
    pull = np.abs(settled.solution.duals)
    for k, spot in enumerate(design.heights.finish):
        by = [(pull[r] * abs(row.terms[k]), -r) for r, row in enumerate(settled.rows)]
        most, number = max(by, default=(0.0, 0))
        if most > 1e-9:
            found[spot.at.name] = settled.rows[-number].group
    return found


def rooms_of(settled: Settled) -> tuple[Room, ...]:
    """The room left at each fixed height."""
    drawn, rows = settled.z, settled.rows
    names = dict.fromkeys(row.group for row in rows if row.sort == "fixed")
    return tuple(
        Room(name, program.room(rows, drawn, name, raised=True), program.room(rows, drawn, name, raised=False))
        for name in names
    )


def clash_of(settled: Settled, job: Job, on_any_folds: bool = False) -> Clash | None:
    """What cannot all hold in the last round, how much is short, and the cheapest fixed height to change."""
    rows, drawn = settled.rows, settled.z
    # what clashes whichever way parts are let fall is told first
    certain = [row for row in rows if row.sure]
    sure = program.smallest_clash(certain, drawn)
    groups = sure or program.smallest_clash(rows, drawn)
    if not groups:
        return None
    clashing = program.of_groups(certain if sure else rows, groups)
    shifts = {
        name: by
        for name in dict.fromkeys(row.group for row in rows if row.sort == "fixed")
        if name not in _kept_by_law(job.plan) and (by := program.least_shift(rows, drawn, name)) is not None
    }
    hung = {fixed.name for fixed in job.plan.design.fixed if fixed.kind in HANGING}
    shifts = {name: by for name, by in shifts.items() if by < 0 or name not in hung}  # a threshold is only cut down
    name = min(shifts, key=lambda one: (round(abs(shifts[one]), 6), one in hung), default=None)
    change = Change(name, shifts[name]) if name is not None else None
    alone = [
        by
        for one in groups
        if any(row.sort == "fixed" for row in clashing if row.group == one)
        and (by := program.least_shift(clashing, drawn, one)) is not None
    ]
    short = min(map(abs, alone), default=program.least_miss(clashing, drawn))
    return Clash(groups, short, bool(sure) and _proven(job, settled), change, on_any_folds)


def _proven(job: Job, settled: Settled) -> bool:
    """Whether what no surface could do without clashes on every way in which the drawn points can fold.

    Four points on one circle fold either way, by their heights. Each such choice is judged; more than three are not.
    """
    mesh = settled.on.surface.mesh
    held = {tuple(sorted(side)) for side in mesh.held.tolist()}
    _, _, corners = quads(mesh.triangles, mesh.neighbors)
    free = [
        quad
        for quad, round_ in zip(np.stack(corners, axis=1).tolist(), on_circle(mesh.xy, corners).tolist(), strict=True)
        if round_ and tuple(sorted(quad[:2])) not in held
    ]
    if len(free) > FREE_FOLDS:
        return False
    seen = set()
    for choice in product((0, 1), repeat=len(free)):
        z = settled.z.copy()
        for quad, other in zip(free, choice, strict=True):
            low = quad[2:] if other else quad[:2]
            z[np.abs(settled.on.terms[low]).argmax(axis=1)] -= 1.0
        plan = job.plan.edited(with_heights(job.plan.design, z.tolist()), {"heights"})
        on = carried(plan)
        if on is None:
            return False
        seen.add(on.surface.mesh.triangles.tobytes())
        rows = [row for row in Asking(plan, job.limits, on, True, ()).rows() if row.sure]
        if program.feasible(rows, settled.z):
            return False
    return bool(len(seen) == 2 ** len(free))


def _kept_by_law(plan: Plan) -> set[str]:
    """Fixed heights that no proposal touches: of a required exit, an accessible way, a street, what hangs on a wall."""
    route = plan.design.site.accessible_route
    kept = {one.name for one in plan.fixtures.all if one.fixture.required_exit}
    kept |= {one.name for one in plan.held.all if not one.moves}
    ends = [(end.x, end.y) for end in (route[:1] + route[-1:])]
    pieces = [piece for at in ends for piece in plan.edges.at(at)]
    kept |= {piece.edge.name for piece in pieces if piece.edge and piece.edge.name}
    return kept
