"""Roofs and paving together cover no more of the lot than the town lets them.

What is compared
    What covers the lot already and this slab, over the area of the lot, with 30 %.
Why it matters
    What does not soak in runs off, and the town's pipes are as large as they are. Over the limit the permit is refused,
    or a pit for the water is asked for that costs more than the slab.
When it does not apply
    The area of the lot is not written.
How to put it right
    Pave less, take out what is not used, or ask whether gravel, slats or pavers with open joints count for less.
Where sources differ
    Towns set 30 to 75 %. The lowest is the default, so that nobody finds out at the counter; local amendments set the
    town's.
"""

from __future__ import annotations

from collections.abc import Iterator

from slabwright.formulas.layout import impervious_share
from slabwright.formulas.units import FOOT2
from slabwright.plan.plan import Plan
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
    compared,
    does_not_apply,
    not_shown,
    step,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, area, round_up, share

TITLE = "Not too much of the lot covered"
LIMITS = (
    Limit("cover_at_most", "30 %", Kind.SHARE, "caution", Cite("municipal-impervious"), ("10 %", "90 %"),
          "roofs and paving over the area of the lot"),
)  # fmt: skip
WORKED = (
    Worked("2,200 ft2 and 600 ft2 on 8,000 ft2", share(0.35), lambda: impervious_share(2200.0, 600.0, 8000.0), 1e-9,
           Cite("municipal-impervious"), "pm-impervious"),
)  # fmt: skip


def relevant(plan: Plan) -> Relevance:
    """The lot is known, and what covers it."""
    lot = plan.design.site.lot
    if lot is None or lot.area is None:
        return does_not_apply("the area of the lot is not written (site.lot.area)")
    if lot.covered is None:
        return not_shown("site.lot.covered: what covers it already, such as {2200 ft2|200 m2}", place=lot.place)
    return APPLIES


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """The share that is covered when the slab is there."""
    lot = plan.design.site.lot
    if lot is None or lot.area is None or lot.covered is None:
        return
    shown, new = share(impervious_share(lot.covered.si, plan.shape.area, lot.area.si)), area(plan.shape.area)
    over = lot.covered.si + plan.shape.area - limits.cover_at_most.value.si * lot.area.si
    less = round_up(area(over), 1.0 if plan.system == "metric" else FOOT2)
    numbers = words("({c} + {n}) / {l}", c=lot.covered, n=new, l=lot.area)
    working = step("covered", "(there already + slab) / lot", numbers, shown)
    says = words("with this slab {s} of the lot is covered", s=shown)
    to_pass = words("leave {less} of paving out, here or elsewhere on the lot", less=less)
    yield compared(limits, ("cover_at_most",), Spot("the lot", lot.place), shown, says, to_pass, (working,))
