"""A garage or shop floor falls to its door or to a drain, steadily enough that meltwater finds it.

What is compared
    Compares the slope straight downhill of every part of the floor with 1 %, and of a garage floor drawn in feet or
    inches with 0.2 % too, under which a screed calls it level. A fall that misses by a twentieth, or by half a step of
    the heights as typed, is met. It also compares the part of the floor whose water stays in low spots more than 1/8 in
    deep with 2 %; where nothing is drawn that takes it, in a dish more than 1/2 in deep, as a caution. Of a garage
    floor it compares the part that sends its water to the edges where the walls stand with 25 %: those that are not
    said to take water, where a door is, and do not lie in one line with it.
Why it matters
    A car brings in gallons of slush. On a level floor they lie there all night, soak the plates of the walls, and
    freeze the door to its sill. Spilled gasoline and its fumes run the same way as water.
When it does not apply
    The slab has another use; or it is level on purpose: the base of a shed without a dish, or a shop floor without a
    dish, a drain or an edge with `takes_water: true`; of one that is level all over the rest of the edges say nothing,
    and neither does a pit: the sump of a basement takes the water under the floor.
    A garage floor that meets an apron in the same file, over 6 ft or more, has its door there.
How to put it right
    Keep the back wall and lower the door side; turn a floor that falls to the back round about its door. Where a drain
    is set, fall to it from all walls.
Where sources differ
    The US codes ask that a garage floor slopes to a drain or to the vehicle door, and print no number. 1 %, or 1/8
    in/ft, is usual; 0.2 %, about 1/4 in in 10 ft, is common practice for level.
"""

from __future__ import annotations

import math

from slabwright.formulas import slopes
from slabwright.formulas.units import FOOT, INCH
from slabwright.rulebook.kit import *

TITLE = "A floor falls to its door or drain"
LIMITS = (
    Limit("fall_at_least", "0.2 %", Kind.SLOPE, "hold", Cite("irc-r309.1"), ("0 %", "2 %"),
          "slope of any part of a floor that is no accident of the screed"),
    Limit("usual_fall_at_least", "1 %", Kind.SLOPE, "caution", Cite("common-practice"), ("0.2 %", "3 %"),
          "slope of any part of a floor that drains without trouble"),
    Limit("kept_share_at_most", "2 %", Kind.SHARE, "hold", Cite("geometry"), ("0 %", "50 %"),
          "part of a floor whose water comes to no door and no drain"),
    Limit("dish_share_at_most", "2 %", Kind.SHARE, "caution", Cite("common-practice"), ("0 %", "50 %"),
          "part of a floor that falls to a dish, where no door and no drain takes water"),
    Limit("walls_share_at_most", "25 %", Kind.SHARE, "caution", Cite("common-practice"), ("0 %", "100 %"),
          "part of a garage floor whose water runs to an edge that is not said to take any"),
)  # fmt: skip
WORKED = ()
FLOORS = ("garage floor", "shop floor")
LEVEL, PUDDLE = 1e-6, INCH / 8  # slope under which nothing falls; depth, m, that dries without harm
IN_LINE = 12 * INCH  # m: the walls beside a door stand in line with it, or a jog behind
DOOR = 6 * FOOT  # m: no door for vehicles is narrower (common practice)
EVEN = 0.001  # slope by which the parts of an even floor differ at most, as heights are written
ASKEW = math.radians(30)  # that a fall away from the door is off square to it at most (common practice)
DISH = INCH / 2  # m: a floor that falls so far to one spot was meant to drain there


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each part that is too flat, then what stays on the floor."""
    roofed = [area for area in plan.areas.used(*FLOORS) if not plan.rained_on(area)]
    floors = [area for area in roofed if area.called != "shed base"]
    shop = all(area.use == "shop floor" for area in floors)
    if roofed and not floors:
        if plan.finish.surface and (dish := _deep(plan, roofed, DISH)):
            yield _kept(plan, dish, limits.dish_share_at_most)
            return
        does_not_apply("a shed base is level on purpose")
    if not floors:
        does_not_apply("the slab is not a floor under a roof")
    level = plan.finish.surface is not None and not any(facet.slope > LEVEL for facet in plan.finish.facets)
    if not _takes(plan, floors, named=shop and level):
        if shop and plan.finish.surface and _deep(plan, floors, DISH):
            yield _kept(plan, _deep(plan, floors, DISH), limits.dish_share_at_most)
            return
        if shop:
            does_not_apply("nothing is drawn that takes water off this floor")
        not_shown("edges, takes_water: true for the edge under the vehicle door, or a drain under fixtures",
                  place=plan.place("edges", "outline"))  # fmt: skip
    needs_heights(plan)
    usual = limits.usual_fall_at_least
    code = plan.home == "us" or limits.fall_at_least.layer != "published"
    asks = (limits.fall_at_least, usual) if code and not shop else (usual,)
    asked, run = max(limit.value.si for limit in asks), length(3.0 if plan.home == "metric" else 10 * FOOT)
    for part in _parts(plan, asks, floors):
        shown, limit = slope(part.least), broken_fall(plan, part.least, part.run, *asks)
        yield compare(
            Spot(part.name, plan.place("heights.finish"), part.outline), shown, limit,
            give=fall_give(plan, limit.value, part.run),
            says=lambda: words("{part} hardly falls to the door or a drain" if part.least > LEVEL else
                               "{part} is level", part=part.name),
            working=lambda: step("fall over the run", "slope x run", words("{s} x {r}", s=shown, r=run),
                                 depth(slopes.fall(run.si, part.least))),
            remedy=lambda: set_heights(plan.grades.for_part(part, asked, least=True)),
            decide=lambda: words("let {part} fall {least} over {run} to the door or to a drain", part=part.name,
                                 least=on_tape(plan, slopes.fall(run.si, asked), up=True), run=run),
        )  # fmt: skip
    if deep := _deep(plan, floors, PUDDLE):
        yield _kept(plan, deep, limits.kept_share_at_most)
    elif astray := _to_walls(plan):
        yield _astray(plan, astray, limits.walls_share_at_most)


def _deep(plan: Plan, floors: Sequence[Area], least: float) -> list[Pond]:
    """Low spots of floors that are deeper than ``least``, m."""
    deep = (pond for pond in plan.water.ponds if not meets(pond.depth, least, "most"))
    return [pond for pond in deep if any(plan.areas.at(pond.deepest) is floor for floor in floors)]


def _to_walls(plan: Plan) -> list[WaterShare]:
    """What a garage floor with a door sends over edges that are said neither to take water nor to be crossed."""
    if plan.areas.uses != ("garage floor",):
        return []
    pieces = {piece.name: piece for piece in plan.edges.pieces}
    said = {name for name, piece in pieces.items() if piece.edge and piece.edge.takes_water}
    open_to = said | {name for name, piece in pieces.items() if piece.wheels_cross or piece.beside == "trench drain"}
    doors = [piece.line for piece in plan.edges.pieces if piece.name in open_to]
    beside = {name for name, piece in pieces.items() if any(_in_line(piece.line, door) for door in doors)}
    over = [one for one in plan.water.shares if one.kind == "edge"]
    return [one for one in over if one.to not in open_to | beside] if open_to else []


def _in_line(line: Sequence[XY], other: Sequence[XY]) -> bool:
    """Whether an edge lies in one line with another, as the wall beside a door does."""
    (ax, ay), *_, (bx, by) = other
    size = math.hypot(bx - ax, by - ay)
    return all(abs((x - ax) * (by - ay) - (y - ay) * (bx - ax)) <= IN_LINE * size for x, y in line)


def _astray(plan: Plan, astray: Sequence[WaterShare], limit: InForce) -> Finding | Margin:
    """The part of a garage floor whose water runs to where its walls stand."""
    part, worst = share(sum(one.share for one in astray)), max(astray, key=lambda one: one.share)
    return compare(
        plan.spot("the whole floor", "heights.finish"), part, limit,
        says=lambda: words("water of the floor runs to {edge}, away from the door", edge=worst.to),
        remedy=lambda: _turned_round(plan),
        decide=lambda: words("let the floor fall to the door, or write takes_water: true where {edge} takes it",
                             edge=worst.to),
    )  # fmt: skip


def _kept(plan: Plan, deep: Sequence[Pond], limit: InForce) -> Finding | Margin:
    """The part of the floor whose water runs to low spots and stays there."""
    kept = share(sum(one.share for one in plan.water.shares if one.to in {pond.name for pond in deep}))
    deepest = max(deep, key=lambda pond: pond.depth)
    place, low = plan.shape.name_at(deepest.deepest), height(deepest.level - deepest.depth)
    return compare(
        plan.spot("the whole floor", "heights.finish"), kept, limit,
        says=lambda: words("water of the floor runs to {place} and stays", place=place),
        working=lambda: step("area whose water stays", "share x area of the floor",
                             words("{s} x {a}", s=kept, a=area(plan.shape.area)), area(kept.si * plan.shape.area)),
        remedy=lambda: _turned_round(plan),
        decide=lambda: _led_off(plan, deepest.deepest, place, low),
    )  # fmt: skip


def _turned_round(plan: Plan) -> list[Remedy]:
    """An even floor that falls away from its one door is turned round about it, and falls as much the other way."""
    doors = [piece for piece in plan.edges.pieces if piece.edge and (piece.edge.takes_water or piece.wheels_cross)]
    parts = plan.falls.parts(lambda _: True, plan.areas.used(*FLOORS))
    if len(parts) != 1 or not doors:
        return []
    (part,), door = parts, doors[0]
    (fx, fy), (nx, ny), (dx, dy) = part.fall, plan.grades.outward(door), door.line[0]
    into = -(fx * nx + fy * ny)
    even = part.most - part.least <= EVEN and into >= part.most * math.cos(ASKEW)
    if not even or not all(_in_line(one.line, door.line) for one in doors):
        return []
    spots = [((spot.at.x, spot.at.y), spot.height.si) for spot in plan.design.heights.finish]
    new = [plan.grades.written(z - 2 * into * ((x - dx) * nx + (y - dy) * ny)) for (x, y), z in spots]
    return new_heights(plan, plan.grades.changes([at for at, _ in spots], [z for _, z in spots], new))


def _led_off(plan: Plan, at: XY, place: str, low: Amount) -> Words:
    """To its door or drain the floor is to fall, or to a drain where it is low; nobody sets one against a wall."""
    doors = [piece.name for piece in plan.edges.pieces if piece.edge and piece.edge.takes_water]
    drains = [one.name for one in plan.fixtures.all if one.fixture.kind == "drain"]
    first = next(iter((*doors, *drains, *(one.name for one in plan.channels.all))), None)
    to = {"to": first} if first else {}
    if plan.edges.at(at):
        ways = [*("to {to}" for _ in to), *(() if drains else ("to a drain set in the middle of it",))]
        return words("let the floor fall " + ", or ".join(ways), **to)
    ways = [*("let the floor fall to {to}" for _ in to), "set a drain at {place}, its rim at {low}"]
    return words(", or ".join(ways), place=place, low=low, **to)


def _takes(plan: Plan, floors: Sequence[Area], named: bool) -> bool:
    """Whether the file names something that takes the water of the floors: at their own edges, not at an apron's.

    Where it must be ``named``, the open ground all round a level floor is none: what it takes is the rain outside; nor
    is a pit, which takes the water under the floor.
    """
    drains = any(one.kind == "drain" for one in plan.design.fixtures) or bool(plan.design.channels)
    openings = any(one.takes_water and not (named and one.holds == "pit") for one in plan.design.openings)
    pieces = [one for one in plan.edges.pieces if any(area in floors for area in plan.areas.along(one.line))]
    said = any(
        one.beside == "trench drain" or (one.edge and one.edge.takes_water and (one.edge.run or not named))
        for one in pieces
    )
    door = bool(plan.areas.used("garage floor")) and any(piece.takes_water for piece in pieces)
    return drains or openings or said or door or _opens_onto_apron(plan, floors)


def _opens_onto_apron(plan: Plan, floors: Sequence[Area]) -> bool:
    """Whether a garage floor meets a part on which rain falls, over as much as a door for vehicles is wide.

    A shop floor behind an apron may be level on purpose.
    """
    aprons = [area for area in plan.areas.all if plan.rained_on(area)]
    garages = [floor for floor in floors if floor.use == "garage floor"]
    shared = (floor.polygon.intersection(apron.polygon).length for floor in garages for apron in aprons)
    return any(meets(float(size), DOOR, "least") for size in shared)


def _parts(plan: Plan, asks: Sequence[InForce], floors: Sequence[Area]) -> Sequence[FallPart]:
    """Parts of the floor, by the first limit that they break."""
    parts: list[FallPart] = []
    for broken in (*asks, None):
        parts += plan.falls.parts(lambda s: next((one for one in asks if not one.met(s)), None) is broken, floors)
    return parts or does_not_apply("each part of it is smaller than {1 ft2|0.1 m2}")
