"""Within 10 ft of a building the slab falls away from it, and no water from outdoors comes to its floor.

What is compared
    Compares the part of the slab outdoors whose water comes to a floor under a roof with 1 %. Along lines square to
    each wall, out to 10 ft or to the first low line whose water leaves the slab without touching the wall, the rule
    compares the fall away from it with 0.5 %; with the 2 % of the US code where the job is drawn in feet or inches,
    with 1:80 elsewhere; within 36 in of a door, 60 in where the way in is accessible, and up to where a landing of 8 ft
    at most ends and the way goes down at 3 % and more, or on an accessible way by a ramp the slab itself ends, with 1.5
    %; so on such a ramp. In a court whose water all goes to drains the slab may not fall to the wall, and 1 % away from
    it, or aside to the drain, is enough. The rule compares how such a low line falls along itself with 2 %, or with 1 %
    to a drain. Beside a return of 8 ft at most, such as the side of a bay or a chimney, past which the slab falls as
    much as that, water passes to the corner and leaves the building, and within 10 ft of a channel that ends at the
    wall it passes to the channel: there the slab may not fall to the wall. A pad for equipment may be level, and is
    held to 0.5 % to the wall. A fall that misses by a twentieth, or by half a step of the heights as typed, is met.
Why it matters
    Water at a wall goes in: under the sill, into the crack at the filler, down the footing. The slab then settles or
    heaves there, and the fall turns back to the wall for good. Carpets and base plates rot before anyone looks outside.
When it does not apply
    No edge is beside a building and no part of the slab lies under a roof, or no rain falls on it. Of what a flight of
    steps covers, and of a floor under a roof beside its own walls, nothing is asked.
How to put it right
    Keep the height at the wall and lower the far side; aim at 2 %. Where that side cannot go down, lay a valley before
    10 ft that falls to an open edge or a drain away from the wall, or a channel before the wall.
Where sources differ
    The US dwelling code asks paving within 10 ft to fall at least 2 % away, later editions relax it at doors and ramps
    (recalled), and an accessible landing may fall 1 in 48. The 1:80 are those of British rules for new homes; without a
    code named it is a caution. Some towns ask less than the model code, and can say so. Under 0.5 %, the lowest grade
    published for concrete, water stands at the wall whatever the code says. Where walls leave no room for the fall the
    code lets ground fall to a drain (quoted), and names no fall of paving to one; 1 % is common practice. The code
    knows no returns; patios round bays are poured in one plane, common practice.
"""

from __future__ import annotations

import math

from slabwright.formulas import slopes
from slabwright.formulas.units import FOOT, INCH
from slabwright.rulebook.kit import *

TITLE = "Water runs away from the building"
WITHIN = 10 * FOOT  # m, `irc-r401.3-2006`
LIMITS = (
    Limit("reaching_share_at_most", "1 %", Kind.SHARE, "hold", Cite("geometry"), ("0 %", "10 %"),
          "part of the slab whose water comes to a floor under a roof"),
    Limit("away_at_least", "0.5 %", Kind.SLOPE, "hold", Cite("sddc-tea-parking"), ("0.1 %", "5 %"),
          "fall away from the wall that water still follows"),
    Limit("code_away_at_least", "2 %", Kind.SLOPE, "hold", Cite("irc-r401.3-2006", "exception"), ("0.5 %", "6 %"),
          "fall of paving away from the wall within {10 ft|3 m}, by the US dwelling code"),
    Limit("plain_away_at_least", "1:80", Kind.SLOPE, "caution", Cite("nhbc-2026", "10.2"), ("0.5 %", "6 %"),
          "fall of paving away from the wall within {10 ft|3 m}, where no code is named"),
    Limit("return_away_at_least", "0 %", Kind.SLOPE, "hold", Cite("geometry"), ("0 %", "6 %"),
          "fall away from a wall along which water passes to the corner of a short return, or to a channel"),
    Limit("court_away_at_least", "0 %", Kind.SLOPE, "hold", Cite("geometry"), ("0 %", "6 %"),
          "fall away from the wall in a court whose water all goes to drains"),
    Limit("court_to_drain_at_least", "1 %", Kind.SLOPE, "caution", Cite("common-practice"), ("0.3 %", "4 %"),
          "fall away from the wall in a court whose water all goes to drains"),
    Limit("door_away_at_least", "1.5 %", Kind.SLOPE, "caution", Cite("irc-r401.3-later"), ("0.5 %", "3 %"),
          "fall away from the wall before a door or on a ramp"),
    Limit("pad_toward_at_most", "0.5 %", Kind.SLOPE, "caution", Cite("common-practice"), ("0 %", "3 %"),
          "fall of a pad for equipment to the wall"),
    Limit("low_line_at_least", "2 %", Kind.SLOPE, "caution", Cite("irc-r401.3-2006", "exception"), ("0.5 %", "6 %"),
          "fall along a low line within {10 ft|3 m} of the wall"),
    Limit("low_line_to_drain_at_least", "1 %", Kind.SLOPE, "caution", Cite("common-practice"), ("0.3 %", "4 %"),
          "fall along a low line within {10 ft|3 m} of the wall to a drain"),
)  # fmt: skip
WORKED = (
    Worked("what ground at 5 % falls in 10 ft", depth(6 * INCH), lambda: slopes.fall(WITHIN, 0.05), 1e-9,
           Cite("irc-r401.3-2006"), "wa-irc-5pct"),
)  # fmt: skip
BEFORE_DOOR, BEFORE_ACCESSIBLE_DOOR = 36 * INCH, 60 * INCH  # m: less fall is let pass so near (recalled)
MOVED = 2 * FOOT  # m: a form that had to be moved farther belongs to another drawing (common practice)
LEVEL = 1e-6  # slope under which nothing falls
AT_FLOOR = 0.005  # m: water so near to a floor is on it


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The worst fall at each wall, the worst low line before it, and water that comes to a floor."""
    if not plan.outdoors:
        does_not_apply("no rain falls on it")
    roofed = [area for area in plan.areas.all if not plan.rained_on(area)]
    if not plan.edges.buildings and not roofed:
        does_not_apply("no edge is beside a building")
    needs_heights(plan)
    every = plan.walls.before(WITHIN, BEFORE_DOOR, BEFORE_ACCESSIBLE_DOOR)
    walls = [wall for wall in every if any(area in plan.shedding for area in plan.areas.along(wall.edge.line))]
    pads = [wall for wall in every if wall not in walls and wall.falls and _is_pad(plan, wall)]
    yield from (_toward(wall, limits.pad_toward_at_most) for wall in pads)
    if not pads and not roofed and not any(wall.falls or wall.door_falls for wall in walls):
        does_not_apply(
            "a channel lies along every wall" if plan.channels.all else "none of the slab lies square to a wall"
        )
    us = plan.home == "us" or limits.code_away_at_least.layer != "published"
    code = limits.code_away_at_least if us else limits.plain_away_at_least
    told: set[str] = set()  # one fault is told once
    for wall in walls:
        if wall.falls or wall.door_falls:
            found = _away(plan, limits, wall, code)
            told |= {wall.edge.name} if isinstance(found, Finding) else set()
            yield found
    low = [
        (wall, min(wall.low_lines, key=lambda one: (round(one.slope, 6), -one.run)))
        for wall in walls
        if wall.low_lines and wall.edge.name not in told
    ]
    lines: dict[XY, tuple[BeforeWall, LowLine]] = {}  # by where they end: that which falls least
    for wall, line in sorted(low, key=lambda one: (round(one[1].slope, 6), one[0].edge.name)):
        lines.setdefault(line.xy[-1], (wall, line))
    for wall, line in lines.values():
        asked = limits.low_line_at_least if us else limits.plain_away_at_least
        yield _along(plan, wall, line, limits.low_line_to_drain_at_least if line.to_drain else asked)
    yield from _into_floors(plan, limits.reaching_share_at_most)


def _is_pad(plan: Plan, wall: BeforeWall) -> bool:
    """Whether equipment stands along a wall; a floor under a roof falls as `floor-falls-to-door` asks."""
    return any(area.use == "equipment pad" for area in plan.areas.along(wall.edge.line))


def _into_floors(plan: Plan, limit: InForce) -> Conclusions:
    """Water of the slab outdoors that comes to a floor under a roof, over the line in which its door stands.

    What a drain or a channel takes there is none.
    """
    floors = [area for area in plan.areas.all if not plan.rained_on(area)]
    facets = plan.finish.facets if floors else ()
    middles = [one.middle for one in facets]
    takers = {*(one.name for one in plan.channels.all), *(one.name for one in plan.fixtures.all)}
    found: dict[str, list[tuple[float, XY]]] = {}
    for facet, middle, way in zip(facets, middles, plan.water.ways_from(middles), strict=True):
        if plan.rained_on(plan.areas.at(middle)) and way.to not in takers:
            met = [(floor, at) for at in way.xy for floor in floors if floor.from_line((at, at)) < AT_FLOOR]
            for floor, at in met[:1]:
                found.setdefault(floor.name, []).append((facet.area / plan.shape.area, at))
    for floor in floors:
        parts = found.get(floor.name, [])
        largest = sorted(parts, key=lambda one: (-round(one[0], 9), plan.shape.name_at(one[1])))
        shape = tuple(at for _, at in largest[:1])
        name = floor.name if floor.part and floor.part.name else f"the {floor.called}"
        yield compare(
            Spot(f"the door line of {name}", floor.place, shape),
            share(sum(size for size, _ in parts)), limit,
            says=lambda: words("water of the slab outdoors comes to {floor} at {point}", floor=name,
                               point=plan.shape.name_at(*shape)),
            decide=lambda: words("let the slab fall away from {floor} outdoors, or lay a channel along its door",
                                 floor=name),
        )  # fmt: skip


def _away(plan: Plan, limits: Limits, wall: BeforeWall, code: InForce) -> Finding | Margin:
    """The worst fall away from a wall."""

    judged: list[tuple[int, WallFall, InForce]] = []
    kept: tuple[InForce, ...]
    for fall in (*wall.falls, *wall.door_falls):
        at_door = fall in wall.door_falls
        asked = limits.door_away_at_least if at_door else limits.court_to_drain_at_least if plan.walls.court else code
        kept = (limits.court_away_at_least if plan.walls.court else limits.away_at_least, asked)
        if asked is limits.court_to_drain_at_least and _runs_aside(plan, fall, asked):
            kept = kept[:1]
        followed = math.hypot(max(fall.away, 0.0), fall.passes) + fall_give(plan, code.value, fall.run)
        if fall.passes > LEVEL and followed >= code.value.si:
            kept = (limits.return_away_at_least,)
        limit = broken_fall(plan, fall.away, fall.run, *kept)
        met = limit.met(fall.away + fall_give(plan, limit.value, fall.run))
        judged.append((len(WEIGHTS) if met else WEIGHTS.index(limit.weight), fall, limit))
    _, worst, limit = min(judged, key=lambda one: (one[0], round(one[1].away, 9), one[2].value.si))
    at, aim, within = spot(worst), slope(code.value.si), _reach(plan, max(one[1].far for one in judged))
    drop = depth(slopes.fall(within.si, aim.si))
    return compare(
        at, slope(worst.away), limit, give=fall_give(plan, limit.value, worst.run),
        says=lambda: words(_told(worst.away), wall=at.name),
        working=lambda: step("fall over the distance", "slope x distance", words("{s} x {d}", s=aim, d=within), drop),
        remedy=lambda: _tipped(plan, [one[1] for one in judged], [one[1] for one in judged if one[0] < len(WEIGHTS)],
                               aim.si),
        decide=lambda: words("let the slab fall {drop} away from {wall} over {run}",
                             drop=on_tape(plan, drop.si, up=True), wall=at.name, run=within),
    )  # fmt: skip


def _reach(plan: Plan, far: float) -> Amount:
    """How far from a wall it has to fall: 10 ft, or as far as the slab reaches, told to the half foot."""
    within = 3.0 if plan.home == "metric" else WITHIN
    return length(within) if meets(far, within, "least") else run_told(plan, far)


def _runs_aside(plan: Plan, fall: WallFall, limit: InForce) -> bool:
    """Whether the water of a stretch runs off to one side of it, toward the drain of the court, as fast as is asked."""
    slopes_there = [plan.finish.facets[number].slope for number in plan.finish.facets_at(fall.at)]
    return bool(slopes_there) and limit.met(min(slopes_there) + fall_give(plan, limit.value, fall.run))


def _toward(wall: BeforeWall, limit: InForce) -> Finding | Margin:
    """How far a pad for equipment, which is set level, leans to a wall."""
    at, away = spot(wall.edge), min(fall.away for fall in wall.falls)
    return compare(
        at, slope(max(0.0, -away)), limit,
        says=lambda: words("the pad leans to {wall}, and its water with it", wall=at.name),
        decide=lambda: words("set the pad level, or let it fall away from {wall}", wall=at.name),
    )  # fmt: skip


def _told(away: float) -> str:
    if same(away, 0.0):
        return "the slab does not fall away from {wall}"
    return "water runs to {wall}" if away < 0 else "the slab falls too little away from {wall}"


def _tipped(plan: Plan, every: list[WallFall], falls: list[WallFall], asked: float) -> list[Remedy]:
    """A height that slipped put right, or the slab lowered away from a wall, in one plane or where it is judged."""
    slipped = [list(plan.grades.like_its_walls(falls)), list(plan.grades.like_the_rest(every, falls))]
    ways = [*slipped, *(_heights(plan, falls, asked, in_plane) for in_plane in (True, False))]
    near = [way for way in ways if all(meets(abs(one.new - one.old), MOVED, "most") for one in way)]
    return [remedy for n, way in enumerate(near) if way not in near[:n] for remedy in lowered(plan, way)]


def _heights(plan: Plan, falls: list[WallFall], asked: float, in_plane: bool) -> list[NewHeight]:
    """Heights for all stretches of a wall together; none where one of them needs more than heights."""
    found: dict[str, NewHeight] = {}
    for line in dict.fromkeys(fall.edge.line for fall in falls):
        own = [fall for fall in falls if fall.edge.line == line]
        heights = plan.grades.for_wall(own, asked, asked * (1 - FALL_GIVE), in_plane)
        if not heights:
            return []
        for one in heights:
            found[one.name] = min(one, found.get(one.name, one), key=lambda height: height.new)
    return list(found.values())


def _along(plan: Plan, wall: BeforeWall, line: LowLine, asked: InForce) -> Finding | Margin:
    """The low line before a wall that falls least along itself; told over its length to the half foot."""
    run, name = run_told(plan, line.run), wall.edge.name
    need = depth(slopes.fall(run.si, asked.value.si))
    return compare(
        Spot(f"low line before {name}", wall.edge.place, line.xy), slope(line.slope), asked,
        give=fall_give(plan, asked.value, line.run),
        says=lambda: words("the low line before {wall} hardly falls along itself" if line.slope > LEVEL else
                           "the low line before {wall} is level along itself", wall=name),
        working=lambda: step("fall of the low line", "slope x length", words("{s} x {r}", s=asked.value, r=run), need),
        remedy=lambda: lowered(plan, plan.grades.moved([(line.xy[-1], line.top - need.si)], up=False)),
        decide=lambda: words("let it fall {need} over {run}, or set a drain at its low end",
                             need=on_tape(plan, need.si, up=True), run=run),
    )  # fmt: skip
