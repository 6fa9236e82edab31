"""Between the prepared base and the finish there is room for the thickness that is drawn.

What is compared
    Compares finish height less base height, all over the part of the slab where both are known, with the design
    thickness of the slab there. On average it may be 3/8 in short, and at no spot more than 3/4 in; more than 1/4 in is
    worth a second look. There is no limit on too much. Both surfaces are taken straight between their shots, and a
    thickened edge counts as slab; a shot on the bottom of one counts as that, where it lies nearer to it. Where every
    shot has its depth, and the base comes high only between them, it is a caution: under a valley nobody shot it.
Why it matters
    The drawing says 4 in and the crew pours what the hole holds. Where the base stands an inch high the slab has little
    more than half its strength, and there it cracks when the first truck turns on it. Later only a core drill finds it.
When it does not apply
    It applies to every slab; without shots on the base nobody can tell.
How to put it right
    Shave the high spots and compact again, or lift the finish where nothing fixed forbids it. Never pull the string up
    on one side only.
Where sources differ
    ACI 117 asked 1/4 in under at most until 2006, and asks 3/8 in on average and 3/4 in on one sample since; the later
    one holds, the older one is the caution. Cores of 2,000 real slabs scatter by half an inch to nearly an inch.
"""

from __future__ import annotations

import numpy as np
from slabwright.formulas.thickness import short_of
from slabwright.formulas.units import INCH
from slabwright.rulebook.kit import *

TITLE = "Room for the thickness over the base"
LIMITS = (
    Limit("mean_short_at_most", "3/8 in", Kind.DEPTH, "hold", Cite("aci-117-10-quoted", "sec. 4.5.4"),
          ("0 in", "1 in"), "how far the average depth may fall short of the design thickness"),
    Limit("spot_short_at_most", "3/4 in", Kind.DEPTH, "hold", Cite("aci-117-10-quoted", "sec. 4.5.4"),
          ("0 in", "1 1/2 in"), "how far the depth at any spot may fall short of the design thickness"),
    Limit("spot_short_preferred_at_most", "1/4 in", Kind.DEPTH, "caution", Cite("aci-117-90"), ("0 in", "1 in"),
          "how far the depth at any spot may fall short before it is worth a look"),
)  # fmt: skip
WORKED = (
    Worked("4 in that comes out 3 5/8 in on the mean", depth(0.375 * INCH), lambda: short_of(4 * INCH, 3.625 * INCH),
           1e-9, Cite("aci-117-10-quoted", "sec. 4.5.4"), "th-tolerance-4in"),
    Worked("4 in with one spot of 3 1/4 in", depth(0.75 * INCH), lambda: short_of(4 * INCH, 3.25 * INCH),
           1e-9, Cite("aci-117-10-quoted", "sec. 4.5.4"), "th-tolerance-4in"),
    Worked("5 in drive cored at 3 1/2 in, below what is allowed", depth(0.75 * INCH),
           lambda: short_of(5 * INCH, 3.5 * INCH) - 0.75 * INCH, 1e-9, Cite("trade-qa-drive-thickness"),
           "th-case-5-cored-3p5"),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The mean depth, and the least depth anywhere."""
    top, base, found = plan.finish.surface, plan.concrete.base_surface, plan.concrete.depths
    if base is None:
        base_not_shown(plan, *(() if top else (finish_asked(plan),)))
    if top is None:
        heights_not_shown(plan)
    if found is None:
        base_not_shown(plan)
    spots = [*_shot(plan), found.least_at]
    known = list(zip(spots, top.height(np.array(spots)).tolist(), base.height(np.array(spots)).tolist(), strict=True))
    equal = [at for at, finish, under in known if meets(finish - under + plan.concrete.below(at), found.least, "most")]
    least_at = min(equal, key=plan.shape.name_at, default=found.least_at)
    name = f"the base at {plan.shape.name_at(least_at)}"
    everywhere = plan.spot("the base", "heights.base", "heights")
    low = plan.spot(name, "heights.base", "heights", shape=(least_at,))
    preferred = limits.spot_short_preferred_at_most
    mean, least = plan.design.thickness.design, plan.areas.at(least_at).thickness  # as they are typed
    if plan.areas.several:
        mean, least = depth(found.mean_drawn), depth(plan.thickness.body_at(least_at))
    kept = (limits.mean_short_at_most, limits.spot_short_at_most, preferred)
    left = min(limit.value.si for limit in kept)  # nobody shaves less off a base
    shots = {(one.at.x, one.at.y) for one in plan.design.heights.base}
    high = any(_short(plan, finish, under, left) for at, finish, under in known if at in shots)
    trench = plan.concrete.below_shot(least_at) - plan.concrete.below(least_at)  # shot on the bottom of a deep edge
    if not meets(trench, 0.0, "most"):
        least = depth(plan.thickness.at(least_at))
    for at, depth_there, t, against, says in (
        (everywhere, found.mean, mean, (limits.mean_short_at_most,),
         words("on average {d} of concrete fits over the base, where {t} is drawn", d=depth(found.mean), t=mean)),
        (low, found.least + trench, least, (limits.spot_short_at_most, preferred),
         words("only {d} of concrete fits over {place}, where {t} is drawn", d=depth(found.least + trench), t=least,
               place=name)),
    ):  # fmt: skip
        short = depth(short_of(t.si, depth_there))
        if not high:  # every shot has its depth: between them nobody knows
            if at is everywhere:
                continue
            against = (preferred,)
        yield compare(
            at, short, *against,
            says=lambda: says,
            working=lambda: step("short by", "design thickness - depth", words("{t} - {d}", t=t, d=depth(depth_there)),
                                 short),
            remedy=lambda: set_heights(_dug(plan, known, left)) if high else [],
            decide=lambda: words("take {off} off the base wherever it stands high", off=short)
            if high else words("shoot {place} too: it may stand no higher than {most}", place=name,
                               most=height(plan.grades.written(_top(known, least_at) - t.si, up=False))),
        )  # fmt: skip


def _shot(plan: Plan) -> list[XY]:
    """Where a height of the base or of the finish is written."""
    return list(dict.fromkeys((one.at.x, one.at.y) for one in (*plan.design.heights.base, *plan.design.heights.finish)))


def _top(known: Sequence[tuple[XY, float, float]], at: XY) -> float:
    """Height of the finish at a known spot, m."""
    return next(finish for one, finish, _ in known if one == at)


def _short(plan: Plan, finish: float, base: float, allowed: float) -> bool:
    """Whether the slab is more than ``allowed`` m thinner than drawn between two heights of one spot, m."""
    return plan.thickness.design - (finish - base) > allowed + 1e-6  # the base is the one under a slab so thick


def _dug(plan: Plan, known: Sequence[tuple[XY, float, float]], allowed: float) -> list[NewHeight]:
    """Base heights that leave the whole thickness wherever it is now more than ``allowed`` m short.

    ``known`` are spots with the heights of the finish and the base there, m; not a number where one is not known.
    """
    t = plan.thickness.design
    named: dict[str, NewHeight] = {}  # a point shot on both surfaces is one point, though it may lie twice
    for at, finish, base in known:
        if _short(plan, finish, base, allowed):
            name = f"the base at {plan.shape.name_at(at)}"
            below = plan.concrete.below_shot(at)
            one = NewHeight(name, base - below, plan.grades.written(finish - t - below, up=False))
            named[name] = min(one, named.get(name, one), key=lambda height: height.new)
    return list(named.values())
