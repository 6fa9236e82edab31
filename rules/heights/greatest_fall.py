"""No part of the slab is steeper than its use can bear.

What is compared
    Compares the slope straight downhill of each part of the finish surface with what suits the use: a patio, a walk, a
    driveway, a pad for vehicles or equipment, a garage or shop floor. Every use has limits of its own, so that a town
    can set it. A walk in the right of way may be as steep as the street or curb beside it, whose heights the edge
    gives. A truck well, a pad between walls that runs down to a drain at a dock, may be steeper than other pads. Where
    the file names parts of other use, each is judged by its own.
Why it matters
    On a steep patio tables rock and chairs walk. A trailer does not stand level, a car scrapes, and with ice on it the
    slab is a slide. Fresh concrete creeps downhill too, and the low end ends up thick.
When it does not apply
    The slab is a walk with an accessible way, which `accessible-route` judges. Otherwise it applies once heights are
    known. Parts that fall to a drain within 3 ft, by 2 in or less, are left out: its short side is the steepest. So
    is a part of a vehicle pad that the file names a ramp, or bounds by a line named so, up to the 12 % of a drive.
How to put it right
    Spread the fall: raise the low side, or lower the high one. Where the ground itself is steep, take the drop in a
    step or a wall, not in the slab: of a walk that would have to be lifted by more than a riser, steps take the rest.
    A short pad up to a door for vehicles is a ramp: call it a driveway.
Where sources differ
    Towns allow driveways from 10 % to 25 %, and less next to the garage; 15 % is general advice and the default, 12 %
    suits any car. Public walks keep 1 in 20 or the grade of the street (recalled). On private walks the access
    standards do not bind: over 5 % they are felt, over 1 in 12 steps or a ramp are easier, 12 % is common practice.
    A state asks 1/4 to 1/2 in/ft of public pool decks. Patio, pads and floors are common practice: two walls at 2 % in
    a corner make 2.8 %, so up to 2.5 % a patio is level to the trade, and over 4 % too steep to furnish. Shop floors
    that are washed down fall 1/4 in/ft to their drain, and a little more at its ends; yards before a barn that are
    scraped fall 1/2 to 3/4 in/ft.
"""

from __future__ import annotations

import math
import re
from itertools import pairwise

from slabwright.formulas import slopes
from slabwright.formulas.units import FOOT, INCH
from slabwright.rulebook.kit import *

TITLE = "Not steeper than the use can bear"
LIMITS = (
    Limit("patio_at_most", "4 %", Kind.SLOPE, "caution", Cite("common-practice"), ("1 %", "10 %"), "slope of a patio"),
    Limit("comfortable_patio_at_most", "2.5 %", Kind.SLOPE, "note", Cite("common-practice"), ("1 %", "6 %"),
          "slope of a patio that chairs and tables stand on"),
    Limit("pool_deck_at_most", "1/2 in/ft", Kind.SLOPE, "caution", Cite("comar-pool-decks"), ("1 %", "8 %"),
          "slope of a pool deck"),
    Limit("walk_at_most", "12 %", Kind.SLOPE, "caution", Cite("common-practice"), ("4 %", "20 %"), "slope of a walk"),
    Limit("stepped_walk_at_most", "1:12", Kind.SLOPE, "note", Cite("ada-1991", "4.8.2"), ("4 %", "20 %"),
          "slope of a walk, as a ramp; over it steps are easier"),
    Limit("level_walk_at_most", "1:20", Kind.SLOPE, "note", Cite("ada-2010", "403.3"), ("2 %", "12 %"),
          "slope of a walk that is no ramp"),
    Limit("public_walk_at_most", "1:20", Kind.SLOPE, "caution", Cite("prowag-2023", "R302.4"), ("2 %", "12 %"),
          "slope of a walk in the right of way, where the street beside it is no steeper"),
    Limit("driveway_at_most", "15 %", Kind.SLOPE, "caution", Cite("drive-general-advice"), ("5 %", "30 %"),
          "slope of a driveway"),
    Limit("easy_driveway_at_most", "12 %", Kind.SLOPE, "note", Cite("common-practice"), ("5 %", "25 %"),
          "slope of a driveway that suits any car in any weather"),
    Limit("vehicle_pad_at_most", "5 %", Kind.SLOPE, "caution", Cite("common-practice"), ("1 %", "10 %"),
          "slope of a pad that vehicles stand on"),
    Limit("truck_well_at_most", "10 %", Kind.SLOPE, "caution", Cite("common-practice"), ("3 %", "15 %"),
          "slope of a pad between walls that runs down to a drain at a dock"),
    Limit("garage_floor_at_most", "1/4 in/ft", Kind.SLOPE, "caution", Cite("common-practice"), ("1 %", "5 %"),
          "slope of a garage floor"),
    Limit("shop_floor_at_most", "3 %", Kind.SLOPE, "caution", Cite("common-practice"), ("0.5 %", "5 %"),
          "slope of a shop floor"),
    Limit("barn_yard_at_most", "6 %", Kind.SLOPE, "caution", Cite("common-practice"), ("2 %", "10 %"),
          "slope of a barn floor in the open, such as an apron that is scraped"),
    Limit("equipment_pad_at_most", "1/4 in/ft", Kind.SLOPE, "caution", Cite("common-practice"), ("0.5 %", "5 %"),
          "slope of a pad for equipment"),
)  # fmt: skip
WORKED = ()
RAMP = r"(?i)\bramp\b"
LEVEL = 0.001  # m: corners nearer than this are one
DISH = 3 * FOOT, 2 * INCH  # m: how far, and how deep, a slab is dished to a drain close by (common practice)
BY_USE = {
    "patio": ("patio_at_most", "comfortable_patio_at_most"),
    "walk": ("walk_at_most", "stepped_walk_at_most", "level_walk_at_most"),
    "driveway": ("driveway_at_most", "easy_driveway_at_most"), "vehicle pad": ("vehicle_pad_at_most",),
    "garage floor": ("garage_floor_at_most",), "shop floor": ("shop_floor_at_most",),
    "equipment pad": ("equipment_pad_at_most",), "pool deck": ("pool_deck_at_most",),
}  # fmt: skip
YARD = ("barn_yard_at_most",)
WELL = ("truck_well_at_most",)
RISER = 7.75 * INCH  # m, the highest riser of a dwelling, `irc-stairs`: a walk is not lifted by more
ROADS = ("street", "asphalt", "existing slab")
DRIVEN_UP = 1.5 * INCH  # m: how high wheels bump up onto a slab, as `exposed-edge` has it (common practice)
BEFORE_A_DOOR = 20 * FOOT  # m: nobody parks so close before a door for vehicles (common practice)
FOOT_OF_WELL = 10 * FOOT  # m: how far from the dock wall its drain lies at most (common practice)


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each part that is too steep, under the heaviest limit it breaks."""
    by_use: dict[tuple[str, str], list[Area]] = {}
    for area in plan.areas.all:
        if not (area.use == "walk" and plan.design.site.accessible_route):
            by_use.setdefault((area.use, area.called), []).append(area)
    if not by_use:
        does_not_apply("it is judged along the accessible way")
    needs_heights(plan)
    found: list[Conclusion] = []
    for (use, called), areas in by_use.items():
        names = YARD if called == "barn floor" and plan.outdoors else BY_USE.get(called, BY_USE[use])
        names = WELL if use == "vehicle pad" and _is_well(plan) else names
        kept = [(limits[name], limits[name].value.si) for name in names]
        if use == "walk" and plan.design.site.right_of_way:
            kept = [(limits.public_walk_at_most, _beside_street(plan, limits.public_walk_at_most))]
        for one in (*kept, None):
            found += [
                _compared(plan, part, *(one or kept[-1]), use=called, aim=kept[-1][1])
                for part in plan.falls.parts(lambda s: _broken(s, kept) == one, areas)
                if not (one and (_dished(plan, part) or _is_ramp(plan, limits, part, use)))
            ]
    yield from found or does_not_apply("each part of it is smaller than {1 ft2|0.1 m2}, or falls to a drain close by")


def _ramp_to(plan: Plan) -> str:
    """Name of a door for vehicles that the whole pad climbs to, so close before it that nobody parks there."""
    steepest = max(plan.finish.facets, key=lambda one: one.slope)
    for door in plan.doors.all:
        line = [(point.x, point.y) for point in door.fixture.along] or [door.at, door.at]
        away = [nearest_on(line, (x, y))[0] for x, y in plan.shape.ring.xy]
        tops = zip(steepest.corners, steepest.heights, strict=True)
        _, near = min((nearest_on(line, at)[0], z) for at, z in tops)
        climbs = meets(near, max(steepest.heights), "least")
        if plan.doors.for_vehicles(door) and climbs and meets(max(away), BEFORE_A_DOOR, "most"):
            return door.name
    return ""


def _is_well(plan: Plan) -> bool:
    """Whether the slab runs down between walls to a building, with a drain for its water at the foot."""
    _, low = min((z, at) for one in plan.finish.facets for at, z in zip(one.corners, one.heights, strict=True))
    buildings = [piece.line for piece in plan.edges.pieces if piece.beside == "building"]
    docks = [line for line in buildings if meets(nearest_on(line, low)[0], FOOT_OF_WELL, "most")]
    drains = [
        *(one.at for one in plan.fixtures.all if one.fixture.kind == "drain"),
        *(at for one in plan.channels.all for at in one.line),
        *(at for piece in plan.edges.pieces if piece.beside == "trench drain" for at in piece.line),
    ]
    return _walled(plan) and any(
        meets(nearest_on(dock, at)[0], FOOT_OF_WELL, "most") for dock in docks for at in drains
    )


def _walled(plan: Plan) -> bool:
    """Whether walls stand beside it, as beside a truck well."""
    return any(piece.beside == "wall" for piece in plan.edges.pieces)


def _dished(plan: Plan, part: FallPart) -> bool:
    """Whether a part falls to a drain close by all over: on the short side of a drain the way down is steeper."""
    drains = [one.at for one in plan.fixtures.all if one.fixture.kind == "drain"]
    facets = [plan.finish.facets[number] for number in part.facets]
    return all(
        meets(drop := max(one.heights) - min(one.heights), DISH[1], "most")
        and meets(drop, one.slope * DISH[0], "most")
        and any(math.dist(corner, drain) < LEVEL for corner in one.corners for drain in drains)
        for one in facets
    )


def _is_ramp(plan: Plan, limits: Limits, part: FallPart, use: str) -> bool:
    """Whether a part of a pad for vehicles is drawn as a ramp, and no steeper than one is driven over."""
    ring = part.outline or ()
    if use != "vehicle pad" or not ring or not limits.easy_driveway_at_most.met(part.most):
        return False
    named = [one for one in plan.areas.all if re.search(RAMP, one.name)]
    if any(all(one.from_line((at, at)) < LEVEL for at in ring) for one in named):
        return True
    lines = [run.xy for run in plan.finish.lines if re.search(RAMP, run.line.name or "")]
    return any(all(nearest_on((*ring, ring[0]), at)[0] < LEVEL for at in xy) for xy in lines)


def _broken(shown: float, kept: Sequence[tuple[InForce, float]]) -> tuple[InForce, float] | None:
    """The heaviest that a slope breaks, the first named of equals."""
    broken = (one for one in kept if not meets(shown, one[1], "most"))
    return min(broken, key=lambda one: WEIGHTS.index(one[0].weight), default=None)


def _beside_street(plan: Plan, limit: InForce) -> float:
    """What a public walk may fall: as much as the street beside it, if that is steeper than the limit."""
    steepest, most = limit.value.si, max(facet.slope for facet in plan.finish.facets)
    streets = [piece for piece in plan.edges.pieces if piece.beside in ("street", "curb")]
    for piece in streets:
        for (a, b), (high, low) in zip(pairwise(piece.line), pairwise(piece.ground or ()), strict=False):
            steepest = max(steepest, abs(slopes.slope(high - low, math.dist(a, b))))
    if not meets(most, steepest * (1 + FALL_GIVE), "most") and streets and not any(piece.ground for piece in streets):
        not_shown("edges, ground: the heights of the street or curb along the walk, such as [99.99, 97.54]",
                  place=plan.place("edges"))  # fmt: skip
    return steepest


def _compared(plan: Plan, part: FallPart, limit: InForce, asked: float, use: str, aim: float) -> Finding | Margin:
    at = plan.spot(part.name, "heights.finish", shape=part.outline)
    stepped = limit.name == "stepped_walk_at_most"
    shown, run = slope(part.most), _run(plan, part)
    stepped_by, most = _in_steps(plan, part, use, asked), on_tape(plan, slopes.fall(run.si, asked), up=False)

    def remedies() -> list[Remedy]:
        flatter = [_flattened(plan, plan.grades.for_part(part, goal, False, keeps_low))
                   for keeps_low in (False, True) for goal in sorted({aim, asked})]  # fmt: skip
        return [*_driven_over(plan, part, use), *(one for way in flatter for one in way)] if not stepped_by else []

    def decide() -> Words:
        if stepped_by:
            return words("take {up} of it in steps, so that the rest falls {most} over {run} at most", up=stepped_by,
                         most=most, run=run)  # fmt: skip
        over = "; where vehicles drive over it and none stands, use: driveway says so"
        return words("let {part} fall {most} over {run} at most"
                     + (over if use == "vehicle pad" and not _walled(plan) else ""),
                     part=at.name, most=most, run=run)  # fmt: skip

    return compare(
        at, shown, limit, asked=None if asked == limit.value.si else slope(asked),
        give=fall_give(plan, slope(asked), math.sqrt(part.area)),
        says=lambda: words("{part} is steep for {use}" + (": steps or a ramp are easier" if stepped else ""),
                           part=at.name, use=f"{'an' if use[0] in 'aeiou' else 'a'} {use}"),
        working=lambda: step("fall over the run", "slope x run", words("{s} x {r}", s=shown, r=run),
                             depth(slopes.fall(run.si, part.most))),
        remedy=remedies,
        decide=decide,
    )  # fmt: skip


def _run(plan: Plan, part: FallPart) -> Amount:
    """What the fall is told over: ten feet or three meters, or as far as the part falls where that is less."""
    most, step_of = tape_step(plan, 10 * FOOT, 3.0), tape_step(plan, INCH, 0.1)
    falls = _drop(plan, part) / part.most if part.most > 0 else most
    return length(most if meets(falls, most, "least") else max(1, round(falls / step_of)) * step_of)


def _drop(plan: Plan, part: FallPart) -> float:
    """How far down a part comes (m)."""
    heights = [z for number in part.facets for z in plan.finish.facets[number].heights]
    return max(heights) - min(heights)


def _in_steps(plan: Plan, part: FallPart, use: str, asked: float) -> Amount | None:
    """What a walk comes down more than it may by more than a riser: the ground comes down too, and steps take it."""
    if use != "walk" or meets(part.most, asked, "most"):
        return None
    more = _drop(plan, part) * (1 - asked / part.most)
    return None if meets(more, RISER, "most") else on_tape(plan, more, up=True)


def _flattened(plan: Plan, heights: Sequence[NewHeight]) -> list[Remedy]:
    """New heights, unless they lift the slab off a street or paving where vehicles come on: that is no way up."""
    new = {one.name: one.new for one in heights}
    for piece in plan.edges.pieces:
        if piece.beside in ROADS and piece.wheels_cross and piece.ground and piece.finish:
            for at, beside, top in zip(piece.line, piece.ground, piece.finish, strict=True):
                if new.get(plan.shape.name_at(at), top) > max(top, beside + DRIVEN_UP):
                    return []
    return new_heights(plan, heights)


def _driven_over(plan: Plan, part: FallPart, use: str) -> list[Remedy]:
    """A part of a pad that vehicles only drive over, such as the ramp to a door, is a drive."""
    ring = part.outline or ()
    if use != "vehicle pad" or not ring:
        return []
    areas = [one for one in plan.areas.all if one.part and all(one.from_line((at, at)) < LEVEL for at in ring)]
    says = "write use: driveway for {area}, where vehicles drive over it and none stands"
    if not any(one.part for one in plan.areas.all) and (door := _ramp_to(plan)):
        told = words("write use: driveway, where this is the ramp to {door} and no vehicle stands on it", door=door)
        return [write("use", "driveway", told)]
    return [write(f"{one.place.path}.use", "driveway", words(says, area=one.name)) for one in areas]
