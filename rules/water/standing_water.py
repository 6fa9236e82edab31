"""No low spot holds water: the surface has no basin without a drain.

What is compared
    For every closed low spot of the finish surface, takes the depth of the water that stays in it after rain, and its
    area. Walls, curbs and ground above the slab dam water, a curb of known height or with `takes_water: true` does not;
    an edge that lets it out, or a drain at the lowest point, empties the spot. More than 1/8 in deep is a caution; more
    than 1/4 in, more than 10 ft2 as well, or within 10 ft of a building, is a hold. It also compares the rim of a
    drain, and of a channel all along, with the finish there: above it is a hold where water comes to it, else a
    caution, and more than 1/2 in below it is a caution. A drain or channel from which the slab falls away to all sides
    by more than 0.5 % is a caution. Where the slab falls to a garden wall, a curb or the face of a
    taller slab or step, its fall along that is compared with 0.5 %.
Why it matters
    A dip in the drawing is built every time. The puddle leaves a ring, then moss, then ice, and in salt and frost its
    surface scales off first. Against a wall it is a leak.
When it does not apply
    The floor lies under a roof: `floor-falls-to-door` judges its water, and only the rims of its drains are judged
    here. Along the wall of a building `fall-from-building` looks.
How to put it right
    Raise the low point to where the water spills and a little more, or put a drain at the lowest point; where the water
    would stand over a foot deep, only a drain will do. Set a rim flush
    or up to 1/4 in low; set lower, it wants a dish round it.
Where sources differ
    No concrete tolerance limits shallow puddles; an Australian data sheet accepts 10 mm for 15 minutes, court builders
    1/16 in after an hour. Those speak of the slab as built. In a drawing there is no reason for a basin, and the
    figures here are common practice. Area drains are set at the low point of a dish 1/2 to 1 in deep (recalled).
"""

from __future__ import annotations

import math

from slabwright.formulas.units import FOOT
from slabwright.rulebook.kit import *

TITLE = "No low spot holds water"
LIMITS = (
    Limit("depth_at_most", "1/4 in", Kind.DEPTH, "hold", Cite("common-practice"), ("1/16 in", "1 in"),
          "depth of water standing after rain"),
    Limit("area_at_most", "10 ft2", Kind.AREA, "hold", Cite("common-practice"), ("1 ft2", "200 ft2"),
          "area of standing water deeper than the least that counts"),
    Limit("shallow_depth_at_most", "1/8 in", Kind.DEPTH, "caution", Cite("common-practice"), ("1/32 in", "1/2 in"),
          "depth of water standing after rain that dries without harm"),
    Limit("depth_by_building_at_most", "1/8 in", Kind.DEPTH, "hold", Cite("geometry"), ("1/32 in", "1/2 in"),
          "depth of water standing within {10 ft|3 m} of a building"),
    Limit("rim_above_at_most", "0 in", Kind.DEPTH, "hold", Cite("geometry"), ("0 in", "1/4 in"),
          "rim of a drain above the finish that water comes to it over"),
    Limit("idle_rim_above_at_most", "0 in", Kind.DEPTH, "caution", Cite("common-practice"), ("0 in", "1/2 in"),
          "rim of a drain above the finish, where no water comes to it"),
    Limit("rim_below_at_most", "1/2 in", Kind.DEPTH, "caution", Cite("common-practice"), ("1/8 in", "2 in"),
          "rim of a drain below the finish round it"),
    Limit("away_from_drain_at_most", "0.5 %", Kind.SLOPE, "caution", Cite("common-practice"), ("0 %", "4 %"),
          "fall of the slab away from a drain to all sides"),
    Limit("along_dam_at_least", "0.5 %", Kind.SLOPE, "caution", Cite("sddc-tea-parking"), ("0 %", "2 %"),
          "fall along a garden wall, a curb or a taller slab that the slab falls to"),
)  # fmt: skip
WORKED = ()
TOLD = 8  # low spots told one by one, the largest first; all smaller ones are told together
NEAR, SAME = 10 * FOOT, 0.01  # m: near a building; points nearer to each other are one
RAISED = FOOT  # m: no slab is raised so far for its water (common practice)
FALL = 0.01  # that a raised low point gets towards where the water spills (common practice)


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Low spots, where rain falls; then the rims of drains, and the slab along what dams its water."""
    rims = [row for drain in plan.fixtures.all for row in _at_drain(plan, drain)]
    rims += [row for channel in plan.channels.all if channel.channel.rim for row in _along_channel(plan, channel)]
    humps = [(at, fall) for at, beside in _drained(plan) for fall in _away_all_round(plan, at.shape[0], beside)]
    if not plan.outdoors and not rims and not humps:
        does_not_apply("no rain falls on it")
    needs_heights(plan)
    if not plan.exits.outlets:
        does_not_apply("no edge, drain or opening takes water at all")
    for at, rim, finish, path in rims:
        yield _rim(plan, limits, at, rim, finish, path)
    for at, fall in humps:
        yield compare(
            at, slope(fall), limits.away_from_drain_at_most,
            says=lambda: words("the slab falls away from {drain} to all sides: no water comes to it", drain=at.name),
            decide=lambda: words("let the slab fall to {drain} from all sides, or set it where the slab is lowest",
                                 drain=at.name),
        )  # fmt: skip
    if plan.outdoors:
        yield from _ponds(plan, limits)
        for line in plan.water_lines.at_dams:
            yield _along(plan, line, limits.along_dam_at_least)


def _at_drain(plan: Plan, drain: PlannedFixture) -> list[tuple[Spot, Amount, Amount, str]]:
    """The rim of a drain with the finish that the file gives there, or else with the slab that it stands up from."""
    rim, slab = drain.fixture.rim, drain.slab
    if drain.fixture.kind != "drain" or rim is None:
        return []
    there = [own.height for own in plan.design.heights.finish if math.dist((own.at.x, own.at.y), drain.at) < SAME]
    if not there and slab is not None and not meets(slab, rim.si, "least"):
        there = [height(slab)]
    return [(spot(drain), rim, finish, f"{drain.fixture.place.path}.rim") for finish in there]


def _drained(plan: Plan) -> Iterator[tuple[Spot, list[XY]]]:
    """Drains and channels with concrete round them, at their middle, and places a foot away to all sides of each."""
    for drain in plan.fixtures.all:
        if drain.fixture.kind == "drain":
            yield spot(drain), _beside(drain.at, [math.tau * eighth / 8 for eighth in range(8)])
    for channel in plan.channels.all:
        if channel.inside:
            _, side, _ = nearest_on(channel.line, channel.middle)
            (x, y), (x2, y2) = channel.line[side : side + 2]
            square = math.atan2(y2 - y, x2 - x) + math.pi / 2
            at = Spot(channel.name, channel.channel.place, (channel.middle,))
            yield at, _beside(channel.middle, [square, square + math.pi])


def _beside(at: XY, ways: Sequence[float]) -> list[XY]:
    """The places a foot from ``at`` in some directions, radians."""
    return [(at[0] + FOOT * math.cos(way), at[1] + FOOT * math.sin(way)) for way in ways]


def _away_all_round(plan: Plan, at: XY, beside: Sequence[XY]) -> list[float]:
    """The least fall away from a place to those beside it, if it stands over all of them; none where one is unknown."""
    known = [one for one in plan.finish.all_at((at, *beside)) if one is not None]
    if len(known) <= len(beside):
        return []
    top, *round_it = known
    least = min((top - one) / FOOT for one in round_it)
    return [least] if least > 0 else []


def _ponds(plan: Plan, limits: Limits) -> Conclusions:
    shallow = limits.shallow_depth_at_most
    ponds = [pond for pond in plan.water.ponds if plan.rained_on(plan.areas.at(pond.deepest))]
    if not ponds:
        yield Margin(plan.spot("the whole slab", "heights.finish"), depth(0), shallow)
    short = [pond for pond in ponds if not (limits.depth_at_most.met(pond.depth) and shallow.met(pond.depth))]
    for pond in ponds:
        if pond not in short:
            yield Margin(_spot(plan, pond, 0), depth(pond.depth), shallow)
    told = [(pond, 0) for pond in short[:TOLD]]
    if short[TOLD:]:
        told.append((max(short[TOLD:], key=lambda pond: pond.depth), len(short) - TOLD - 1))
    for pond, more in told:
        lowest, level, place = height(pond.level - pond.depth), height(pond.level), plan.shape.name_at(pond.deepest)
        asked = [limits.depth_at_most, shallow, *_by_building(plan, limits, pond)]
        by_area = limits.depth_at_most.met(pond.depth) and not limits.area_at_most.met(pond.area) and len(asked) == 2
        shown, asked = (area(pond.area), [limits.area_at_most]) if by_area else (depth(pond.depth), asked)
        yield compare(
            _spot(plan, pond, more), shown, *asked,
            says=lambda: _told(pond, place, more),
            working=lambda: step("depth of water", "height where it spills - lowest point",
                                 words("{level} - {lowest}", level=level, lowest=lowest), depth(pond.depth)),
            remedy=lambda: [] if more or _too_deep(pond) else set_heights(plan.raising.pond(pond, FALL)),
            decide=lambda: words("put a drain at {place}, its rim at {lowest}", place=place, lowest=lowest),
        )  # fmt: skip


def _too_deep(pond: Pond) -> bool:
    """Whether a low spot is so deep that it is meant as one, as before a dock, and lacks its drain."""
    return not meets(pond.depth, RAISED, "most")


def _by_building(plan: Plan, limits: Limits, pond: Pond) -> list[InForce]:
    walls = [piece.line for piece in plan.edges.buildings]
    near = any(meets(nearest_on(line, at)[0], NEAR, "most") for line in walls for ring in pond.outline for at in ring)
    return [limits.depth_by_building_at_most] if near else []


def _along_channel(plan: Plan, channel: PlannedChannel) -> list[tuple[Spot, Amount, Amount, str]]:
    """Finish heights on the line of a channel, each with its rim there and the key of that rim where it has one alone.

    Where the file gives one rim for the whole channel, only the height farthest below it, or else farthest above it.
    """
    typed, line, path = channel.channel.rim, channel.line, channel.channel.place.path
    rims = [rim for rim in channel.rims if rim is not None]
    found: list[tuple[Spot, Amount, Amount, str]] = []
    for own in plan.design.heights.finish:
        at = own.at.x, own.at.y
        near, side, part = nearest_on(line, at)
        if near < SAME:
            first, last = rims[side], rims[side + 1]
            key = next((f"{path}.rim[{k}]" for k, end in enumerate(line) if math.dist(end, at) < SAME), "")
            rim = height(first + part * (last - first))
            found.append((Spot(channel.name, channel.channel.place, (at,)), rim, own.height, key))
    if len(typed) > 1 or not found:
        return found
    levels = [finish.si for _, _, finish, _ in found]
    above = [one for one in found if one[1].si > one[2].si]
    there, rim, finish, _ = max(above or found, key=lambda one: abs(one[1].si - one[2].si))
    return [(there, rim, finish, f"{path}.rim" if same(min(levels), max(levels)) else "")]


def _rim(plan: Plan, limits: Limits, at: Spot, rim: Amount, finish: Amount, path: str) -> Finding | Margin:
    """The rim of a drain or channel where the file gives the finish there too."""
    above = rim.si > finish.si
    used = any(one.to == at.name for one in plan.water.shares)
    limit = limits.rim_above_at_most if used else limits.idle_rim_above_at_most
    off = depth(abs(rim.si - finish.si))
    flush = words("set the rim of {drain} flush, at {rim}", drain=at.name, rim=height(finish.si))
    return compare(
        at, off, limit if above else limits.rim_below_at_most,
        give=plan.finish.give if above else 0.0,
        says=lambda: words("the rim of {drain} stands {off} above the finish and keeps the water out" if above else
                           "the rim of {drain} lies {off} below the finish: feet and wheels drop in",
                           drain=at.name, off=off),
        working=lambda: step("rim off the finish", "rim - finish" if above else "finish - rim",
                             words("{a} - {b}", a=rim if above else finish, b=finish if above else rim), off),
        remedy=lambda: write(path, height(finish.si), flush) if path else (),
        decide=None if path else lambda: flush,
    )  # fmt: skip


def _along(plan: Plan, line: DamLine, limit: InForce) -> Finding | Margin:
    """The fall along a stretch of an edge that dams the water."""
    upper, lower = map(plan.shape.name_at, line.ends)
    need, run = depth(limit.value.si * line.run), length(line.run)
    top = plan.finish.at(line.ends[0])
    return compare(
        Spot(f"{line.edge.name} {upper}-{lower}", line.edge.place, line.ends), slope(line.slope), limit,
        give=fall_give(plan, limit.value, line.run),
        says=lambda: words("water runs to {edge} and hardly along it", edge=line.edge.name),
        working=lambda: step("fall along it", "slope x length", words("{s} x {r}", s=limit.value, r=run), need),
        remedy=lambda: [] if top is None else set_heights(plan.grades.moved([(line.ends[1], top - need.si)], up=False)),
        decide=lambda: words("let the slab fall away from {edge}, or {need} along it", edge=line.edge.name, need=need),
    )  # fmt: skip


def _spot(plan: Plan, pond: Pond, more: int) -> Spot:
    name = f"low spot at {plan.shape.name_at(pond.deepest)}" + (f" and {more} more" if more else "")
    return Spot(name, plan.place("heights.finish"), pond.outline[0])


def _told(pond: Pond, place: str, more: int) -> Words:
    against = f", against {', '.join(dict.fromkeys(pond.against[:3]))}" if pond.against else ""
    says = "water stands at {place}{against}" + (f", and in {more} more place{'s' * (more > 1)}" if more else "")
    return words(says, place=place, against=against)
