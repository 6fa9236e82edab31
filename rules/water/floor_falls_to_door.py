"""A garage or shop floor falls to its door or to a drain, steadily enough that meltwater finds it.

What is compared
    The slope straight downhill of every part of the floor with 0.2 %, under which a screed calls it level, and with
    1 %. On a shop floor also the part whose water stays in a low spot; on a garage floor `standing-water` looks.
Why it matters
    A car brings in gallons of slush. On a level floor they lie there all night, soak the plates of the walls, and
    freeze the door to its sill. Spilt petrol and its fumes run the same way as water.
When it does not apply
    Other uses; a shop floor without a drain or an edge with `takes_water: true`, which is level on purpose.
How to put it right
    Keep the back wall and lower the door side. Where a drain is set, fall to it from all walls.
Where sources differ
    The codes ask that a garage floor slopes to a drain or to the vehicle door, and print no number. 1 %, or 1/8 in/ft,
    is usual; 0.2 %, about 1/4 in in 10 ft, is common practice for level.
"""

from __future__ import annotations

from collections.abc import Iterator

from slabwright.formulas import slopes
from slabwright.plan.plan import Plan
from slabwright.plan.things import FallPart
from slabwright.rulebook.kit import (
    APPLIES,
    Cite,
    Finding,
    InForce,
    Limit,
    Limits,
    Margin,
    Relevance,
    Spot,
    compared,
    does_not_apply,
    heights_not_shown,
    not_shown,
    step,
    write_heights,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, area, depth, height, length, share, slope

TITLE = "A floor falls to its door or drain"
LIMITS = (
    Limit("fall_at_least", "0.2 %", Kind.SLOPE, "hold", Cite("irc-r309.1"), ("0 %", "2 %"),
          "slope of any part of a floor that is no accident of the screed"),
    Limit("usual_fall_at_least", "1 %", Kind.SLOPE, "caution", Cite("common-practice"), ("0.2 %", "3 %"),
          "slope of any part of a floor that drains without trouble"),
    Limit("kept_share_at_most", "2 %", Kind.SHARE, "hold", Cite("irc-r309.1"), ("0 %", "50 %"),
          "part of a shop floor whose water comes to no door and no drain"),
)  # fmt: skip
WORKED = ()
FLOORS = ("garage floor", "shop floor")


def _takes(plan: Plan) -> bool:
    """Whether the file names something that takes the water of the floor."""
    drains = any(one.kind == "drain" for one in plan.design.fixtures)
    openings = any(one.takes_water for one in plan.design.openings)
    return drains or openings or any(piece.takes_water for piece in plan.edges.pieces)


def relevant(plan: Plan) -> Relevance:
    """A floor under a roof, with heights, and with a door or a drain for its water."""
    if plan.design.use not in FLOORS or plan.outdoors:
        return does_not_apply("the slab is not a floor under a roof")
    if not _takes(plan):
        if plan.design.use == "shop floor":
            return does_not_apply("nothing is drawn that takes water off this floor")
        return not_shown("edges, takes_water: true for the edge under the vehicle door, or a drain under fixtures",
                         place=plan.place("edges", "outline"))  # fmt: skip
    return APPLIES if plan.finish.surface else heights_not_shown(plan)


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """Each part that is too flat, then what stays on a shop floor."""
    names = ("fall_at_least", "usual_fall_at_least")
    most = max((limits[name] for name in names), key=lambda limit: limit.value.si)
    for limit in (limits[name] for name in names):
        for part in plan.falls.parts(lambda s: limits.broken(s, *names) is limit):
            yield _finding(plan, part, limit, most.value.si)
    for part in plan.falls.parts(lambda s: limits.broken(s, *names) is None):
        yield Margin(Spot(part.name, plan.place("heights.finish"), part.outline), slope(part.least), most)
    if plan.design.use == "shop floor" and plan.water.ponds:
        kept = sum(one.share for one in plan.water.shares if one.kind == "pond")
        deepest = max(plan.water.ponds, key=lambda pond: pond.depth)
        at, low = deepest.deepest, height(deepest.level - deepest.depth)
        yield compared(
            limits,
            ("kept_share_at_most",),
            Spot("the whole floor", plan.place("heights.finish")),
            share(kept),
            words("water of the floor runs to {place} and stays", place=plan.shape.name_at(at)),
            words("set a drain at {place}, its rim at {low}", place=plan.shape.name_at(at), low=low),
            (step("area whose water stays", "share x area of the floor",
                  words("{s} x {a}", s=share(kept), a=area(plan.shape.area)), area(kept * plan.shape.area)),),
        )  # fmt: skip


def _finding(plan: Plan, part: FallPart, limit: InForce, asked: float) -> Finding:
    run, shown = length(10 * 0.3048), slope(part.least)
    says = "{part} hardly falls to the door or a drain" if part.least > 1e-6 else "{part} is level"
    return Finding(
        at=Spot(part.name, plan.place("heights.finish"), part.outline),
        says=words(says, part=part.name),
        shown=shown,
        limit=limit,
        working=(
            step("fall over the run", "slope x run", words("{s} x {r}", s=shown, r=run),
                 depth(slopes.fall(run.si, part.least))),
        ),
        to_pass=write_heights(
            plan.grades.for_part(part, asked, least=True),
            words("let {part} fall {least} in {run} to the door or to a drain", part=part.name,
                  least=depth(slopes.fall(run.si, asked)), run=run),
        ),
    )  # fmt: skip
