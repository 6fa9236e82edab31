"""Between the prepared base and the finish there is room for the thickness that is drawn.

What is compared
    Finish height less base height, all over the part of the slab where both are known, with the design thickness. On
    average it may be 3/8 in short, and at no spot more than 3/4 in; over 1/4 in is worth a second look. There is no
    limit on too much. Both surfaces are taken straight between their shots, and a thickened edge counts as slab.
Why it matters
    The drawing says 4 in and the crew pours what the hole holds. Where the base stands an inch high the slab has half
    its strength, and that is where it cracks when the first truck turns on it. Afterwards only a core drill finds it.
When it does not apply
    It always does; without shots on the base it cannot be told.
How to put it right
    Shave the high spots and compact again, or lift the finish where nothing fixed forbids it. Never by pulling up
    the string on one side only.
Where sources differ
    ACI 117 asked 1/4 in under at most until 2006, and asks 3/8 in on average and 3/4 in on one sample since; the later
    one holds, the older one is the caution. Cores of 2,000 real slabs scatter by half an inch to nearly an inch.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from slabwright.formulas.thickness import short_of
from slabwright.formulas.units import INCH
from slabwright.plan.plan import Plan
from slabwright.plan.things import NewHeight
from slabwright.rulebook.kit import (
    APPLIES,
    Cite,
    Finding,
    Limit,
    Limits,
    Margin,
    Relevance,
    Spot,
    Worked,
    base_not_shown,
    heights_not_shown,
    step,
    write_heights,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, depth

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


MOST_NAMED = 6  # more are told together


def relevant(plan: Plan) -> Relevance:
    """The finish and the base are both known somewhere on the slab."""
    if plan.concrete.depths:
        return APPLIES
    finish = heights_not_shown(plan)
    if plan.concrete.base_surface and plan.finish.surface is None:
        return finish
    return base_not_shown(plan, *(finish.add if plan.finish.surface is None else ()))


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """The mean depth, and the least depth anywhere."""
    if (found := plan.concrete.depths) is None:
        return
    place, name = plan.place("heights.base", "heights"), plan.shape.name_at(found.least_at)
    everywhere, low = Spot("the base", place), Spot(f"the base at {name}", place, (found.least_at,))
    yield _judged(plan, limits, everywhere, found.mean, "mean_short_at_most", "mean_short_at_most")
    yield _judged(plan, limits, low, found.least, "spot_short_at_most", "spot_short_preferred_at_most")


def _judged(plan: Plan, limits: Limits, at: Spot, known: float, name: str, lighter: str) -> Finding | Margin:
    t = plan.design.thickness.design
    short = depth(short_of(t.si, known))
    if (limit := limits.broken(short, name, lighter)) is None:
        return Margin(at, short, limits[lighter])
    mean = name == lighter
    says = "on average {d} of concrete fits over the base, where {t} is drawn"
    says = says if mean else "only {d} of concrete fits over {place}, where {t} is drawn"
    values = {"d": depth(known), "t": t} if mean else {"d": depth(known), "t": t, "place": at.name}
    working = step("short by", "design thickness - depth", words("{t} - {d}", t=t, d=depth(known)), short)
    dig = words("take {off} off the base wherever it stands high", off=short)
    to_pass = write_heights(_dug(plan, 0.0 if mean else limits[lighter].value.si), dig)
    return Finding(at, words(says, **values), short, limit, (working,), to_pass)


def _dug(plan: Plan, allowed: float) -> list[NewHeight]:
    """Base heights that leave the whole thickness wherever it is now more than ``allowed`` m short."""
    top, bottom, t = plan.finish.surface, plan.concrete.base_surface, plan.thickness.design
    if top is None or bottom is None or plan.concrete.depths is None:
        return []
    spots = [(one.at.x, one.at.y) for one in (*plan.design.heights.base, *plan.design.heights.finish)]
    spots = list(dict.fromkeys([*spots, plan.concrete.depths.least_at]))
    known = zip(spots, top.height(np.array(spots)).tolist(), bottom.height(np.array(spots)).tolist(), strict=True)
    # a spot where either height is not known compares false
    high = [(at, finish, base) for at, finish, base in known if t - (finish - base) > allowed + 1e-6]
    named: dict[str, NewHeight] = {}  # a point shot on both surfaces is one point, though it may lie twice
    for at, finish, base in high:
        one = NewHeight(f"the base at {plan.shape.name_at(at)}", base, plan.grades.written(finish - t, up=False))
        named[one.name] = min(one, named.get(one.name, one), key=lambda height: height.new)
    return list(named.values()) if len(named) <= MOST_NAMED else []
