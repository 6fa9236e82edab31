"""A way that is claimed for wheelchairs keeps the access limits: along and across it, in width, and at thresholds.

What is compared
    Looks at each stretch of `site.accessible_route` between two folds. Compares the slope along the way with 1 in 20
    or, where it is a ramp with a level landing at both ends, with 1 in 12, and the rise of each run with 30 in. Where
    the way begins or ends at an old slab on which a ramp ends, its landing lies on that: how far the way is drawn on
    over it is compared with 60 in, as a note.
    Compares the slope across the way with 1 in 48, and its clear width, posts and columns left out, with 36 in. A
    planned step at either end, and the threshold of a door that it leads through, are compared with 1/2 in; on a metric
    plan the threshold is compared with 20 mm. Other lips are judged by `trip-at-existing-slab`.
Why it matters
    Across the way is what tires: a chair on a side slope turns downhill by itself, and one arm brakes all the way. The
    inspector lays a level on it, and few allow anything on top of the limit: a walk at 2.3 % is torn out.
When it does not apply
    The file claims no accessible way. Across any other walk the slope is judged by `walk-cross-slope`.
How to put it right
    Draw less than the limit, 1.5 % across, 4.5 % along a walk and 7.5 % on a ramp: the screed takes the rest. A ramp
    wants 60 in that are level at its head and its foot, and rails on both sides once it rises more than 6 in.
Where sources differ
    1 in 48 is 2.083 %, which the trade also writes as 1/4 in/ft. The 60 in of a landing are recalled; where metric is
    shown, 1.5 m are asked, and the paving that a ramp ends on counts as its landing; elsewhere an existing slab does,
    unless `falls_to_slab` says that it falls more than 1 in 48. Public walks want 48 in of width.
    Countries that build in metric let thresholds be 13 to 25 mm high; 20 mm is common practice here, and a caution.
"""

from __future__ import annotations

import math

from slabwright.formulas import slopes
from slabwright.formulas.units import FOOT, INCH
from slabwright.rulebook.kit import *

TITLE = "An accessible way keeps the access limits"
LIMITS = (
    Limit("running_at_most", "1:20", Kind.SLOPE, "hold", Cite("ada-2010", "403.3"), ("2 %", "12 %"),
          "slope along an accessible way that is no ramp with landings"),
    Limit("ramp_at_most", "1:12", Kind.SLOPE, "hold", Cite("ada-1991", "4.8.2"), ("4 %", "12 %"),
          "slope of a ramp on an accessible way"),
    Limit("rise_at_most", "30 in", Kind.DEPTH, "hold", Cite("ada-1991", "4.8.2"), ("12 in", "40 in"),
          "rise of a ramp between two landings"),
    Limit("cross_at_most", "1:48", Kind.SLOPE, "hold", Cite("ada-2010", "403.3"), ("1 %", "4 %"),
          "slope across an accessible way"),
    Limit("width_at_least", "36 in", Kind.LENGTH, "hold", Cite("ada-2010", "403.5.1"), ("32 in", "72 in"),
          "clear width of an accessible way"),
    Limit("step_at_most", "1/2 in", Kind.DEPTH, "hold", Cite("aba-303.3"), ("1/4 in", "1 in"),
          "planned step or threshold on an accessible way"),
    Limit("metric_threshold_at_most", "20 mm", Kind.DEPTH, "caution", Cite("common-practice"), ("6 mm", "30 mm"),
          "threshold on an accessible way of a metric plan"),
    Limit("beyond_at_least", "60 in", Kind.LENGTH, "note", Cite("ada-remembered"), ("48 in", "72 in"),
          "how far the way is drawn on over the old slab that a ramp ends on, which is its landing"),
)  # fmt: skip
CLOSE = 0.002  # m: a place is drawn no closer
ACROSS = {"us": 48 * INCH, "metric": 1.2}  # m: the length of the level that is laid across
LANDING = {"us": 60 * INCH, "metric": 1.5}  # m: how far a ramp's landing is level; `ada-remembered`
LEVEL = 1 / 48  # a landing falls no more, `ada-2010`
WORKED = ()


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The steepest stretch along and the steepest across, the narrowest place, then both ends."""
    way = plan.design.site.accessible_route
    if not way:
        does_not_apply("no accessible way is claimed (site.accessible_route)")
    needs_heights(plan)
    stretches = plan.routes.over(way)
    if not stretches:
        does_not_apply("the accessible way does not cross the slab")
    ramps = plan.routes.ramps(stretches, limits.running_at_most.value.si)
    walk = [one for one in stretches if not any(one in ramp.stretches for ramp in ramps if _landed(plan, ramp))]
    if walk:
        yield _steepest(plan, walk, limits.running_at_most, False)
    for ramp in ramps:
        if _landed(plan, ramp):
            yield _steepest(plan, ramp.stretches, limits.ramp_at_most, False)
            yield _rise(plan, ramp, limits.rise_at_most)
            if plan.home == "us":
                yield from _beyond(plan, ramp, limits.beyond_at_least)
    yield _steepest(plan, stretches, limits.cross_at_most, True)
    yield from _width(plan, limits.width_at_least)
    yield from _steps(plan, limits.step_at_most)
    metric = plan.home == "metric" and limits.step_at_most.layer == "published"
    yield from _thresholds(plan, limits.metric_threshold_at_most if metric else limits.step_at_most)


def _landed(plan: Plan, ramp: Ramp) -> bool:
    """Whether a ramp has a landing at both ends."""
    ends = zip(ramp.level, ramp.at_end, _ends(ramp), strict=True)
    return all(_rests(plan, level) or (at_end and _paved(plan, at)) for level, at_end, at in ends)


def _rests(plan: Plan, level: float) -> bool:
    """Whether so much of level, m, is a landing."""
    return meets(level, LANDING[plan.home] - CLOSE, "least")


def _ends(ramp: Ramp) -> tuple[XY, XY]:
    """Where a ramp begins and where it ends."""
    first, *_, last = (at for one in ramp.stretches for at in one.shape)
    return first, last


def _paved(plan: Plan, foot: XY) -> list[EdgePiece]:
    """The edges at the ``foot`` of a ramp, where the way leaves the slab, whose paving is its landing.

    None whose `falls_to_slab` is more than a landing may fall.
    """
    paving = {"existing slab", "asphalt", "street"} if plan.home == "metric" else {"existing slab"}
    beside = [piece for piece in plan.edges.at(foot) if piece.beside in paving]
    return [piece for piece in beside if (falls := _falls(piece)) is None or meets(falls.si, LEVEL, "most")]


def _falls(piece: EdgePiece) -> Amount | None:
    return piece.edge.falls_to_slab if piece.edge else None


def _beyond(plan: Plan, ramp: Ramp, limit: InForce) -> Conclusions:
    """How far the way is drawn on over an old slab, at each end where a ramp comes down onto that."""
    way = plan.design.site.accessible_route
    for foot, end, level in zip(_ends(ramp), (way[0], way[-1]), ramp.level, strict=True):
        unknown = [piece.name for piece in _paved(plan, foot) if _falls(piece) is None]
        if unknown and not _rests(plan, level):
            drawn, name = length(round(math.dist(foot, (end.x, end.y)), 4)), " and ".join(unknown)
            yield compare(
                plan.spot(f"landing on {name}", "site.accessible_route", "site", shape=(foot,)), drawn, limit,
                give=CLOSE,
                says=lambda: words("the ramp ends on {edge}, and nothing shows that this is level there", edge=name),
                decide=lambda: words("lay a level on {edge}, and draw the way on over it for {least}", edge=name,
                                     least=limit.value),
            )  # fmt: skip


def _steepest(plan: Plan, stretches: Sequence[RouteStretch], limit: InForce, across: bool) -> Finding | Margin:
    what, most = "across" if across else "along", limit.value.si
    worst = max(stretches, key=lambda one: round(one.cross if across else one.running, 9))
    shown, (a, b) = slope(worst.cross if across else worst.running), map(plan.shape.name_at, worst.shape)
    run = length(ACROSS[plan.home] if across else round(math.dist(*worst.shape), 4))
    ramp = "" if limit.name != "running_at_most" else ", without a level landing at each end"
    return compare(
        plan.spot(f"accessible way {a}-{b}, {what}", "site.accessible_route", "site", shape=worst.shape), shown, limit,
        says=lambda: words("the accessible way is steep {what} from {a} to {b}" + ramp, what=what, a=a, b=b),
        working=lambda: step("fall over the run", "slope x run", words("{s} x {r}", s=shown, r=run),
                             depth(slopes.fall(run.si, shown.si))),
        remedy=lambda: new_heights(plan, plan.grades.eased(worst, most, across)),
        decide=lambda: _longer(plan, run, shown.si, most, what),
    )  # fmt: skip


def _longer(plan: Plan, run: Amount, shown: float, most: float, what: str) -> Words:
    fall = on_tape(plan, slopes.fall(run.si, most), up=False)
    longer = round_up(length(run.si * shown / most), tape_step(plan, FOOT / 2, 0.1))
    if what == "across":
        return words("let it fall {fall} over {run} across the way at most", fall=fall, run=run)
    return words("let it fall {fall} over {run} along the way at most, or take the height over {longer}; over 1 in 20 "
                 "it is a ramp, and wants {landing} that are level at its head and its foot, drawn here or on "
                 "an old slab that the way goes on over",
                 fall=fall, run=run, longer=longer, landing=length(LANDING[plan.home]),
                 )  # fmt: skip


def _rise(plan: Plan, ramp: Ramp, limit: InForce) -> Finding | Margin:
    ends = _ends(ramp)
    a, b = map(plan.shape.name_at, ends)
    runs = [(one.running, math.dist(*one.shape)) for one in ramp.stretches]
    rise = depth(sum(slopes.fall(run, grade) for grade, run in runs))
    return compare(
        plan.spot(f"ramp {a}-{b}", "site.accessible_route", "site", shape=ends), rise, limit,
        says=lambda: words("the ramp from {a} to {b} rises {rise} in one run", a=a, b=b, rise=rise),
        working=lambda: step("rise", "run x slope",
                             words("{r} x {s}", r=length(sum(run for _, run in runs)),
                                   s=slope(rise.si / sum(run for _, run in runs))), rise),
        decide=lambda: words("put a level landing of {landing} between", landing=length(LANDING[plan.home])),
    )  # fmt: skip


def _width(plan: Plan, limit: InForce) -> Conclusions:
    standing = [one for one in plan.fixtures.all if one.fixture.kind in ("post", "column")]
    obstacles = [(one.at, one.fixture.size.si / 2 if one.fixture.size else 2 * INCH) for one in standing]
    narrowest = plan.routes.clear_width(plan.design.site.accessible_route, obstacles)
    if narrowest is None:
        return
    wide, at = length(narrowest[0]), narrowest[1]
    yield compare(
        plan.spot(f"accessible way at {plan.shape.name_at(at)}", "site.accessible_route", "site", shape=(at,)), wide,
        limit,
        says=lambda: words("the accessible way is {wide} wide at {at}", wide=wide, at=plan.shape.name_at(at)),
        decide=lambda: words("leave {least} clear there: move what stands in the way, or widen the slab by {more}",
                             least=limit.value, more=length(limit.value.si - wide.si)),
    )  # fmt: skip


def _steps(plan: Plan, limit: InForce) -> Conclusions:
    """The step at each end of the way that lies on an edge where the file plans one."""
    way = plan.design.site.accessible_route
    for end in (way[0], way[-1]):
        for piece in plan.edges.at((end.x, end.y)):
            if piece.finish is None or piece.ground is None or not (piece.edge and piece.edge.planned_step):
                continue
            pairs = zip(piece.finish, piece.ground, strict=True)
            top, beside = max(pairs, key=lambda pair: abs(pair[0] - pair[1]))
            high, low = height(max(top, beside)), height(min(top, beside))
            yield compare(
                spot(piece), depth(high.si - low.si), limit,
                says=lambda: words("the accessible way meets a step at {edge}", edge=piece.name),
                working=lambda: step("step", "higher - lower", words("{a} - {b}", a=high, b=low),
                                     depth(high.si - low.si)),
                decide=lambda: words("match the height of {beside} there, or ramp it at 1 in 12",
                                     beside=height(beside)),
            )  # fmt: skip


def _thresholds(plan: Plan, limit: InForce) -> Conclusions:
    """The threshold of each door that the way leads through."""
    for door in plan.doors.all:
        sill, top = door.fixture.sill, door.slab
        if sill is None or top is None or not plan.doors.accessible(door):
            continue
        shown = depth(sill.si - top)
        yield compare(
            spot(door), shown, limit,
            says=lambda: words("the threshold of {door} stops a wheelchair", door=door.name),
            working=lambda: step("threshold", "sill - slab", words("{s} - {t}", s=height(sill.si), t=height(top)),
                                 shown),
            remedy=lambda: _raised(plan, door, shown.si - limit.value.si),
            decide=lambda: words("bring the slab up to {most} under the sill, or have the threshold made lower",
                                 most=limit.value),
        )  # fmt: skip


def _raised(plan: Plan, door: PlannedFixture, by: float) -> list[Remedy]:
    """The slab brought up to a threshold, with the fall it has, or at the door alone."""
    places = [door.at, *((point.x, point.y) for point in door.fixture.along)]
    wanted = [(at, top + by) for at in places if (top := plan.finish.at(at)) is not None]
    return [*whole_slab_moved(plan, by), *new_heights(plan, plan.grades.moved(wanted, up=True))]
