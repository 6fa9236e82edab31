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

from slabwright.formulas.layout import impervious_share
from slabwright.formulas.units import FOOT2
from slabwright.rulebook.kit import *

TITLE = "Not too much of the lot covered"
LIMITS = (
    Limit("cover_at_most", "30 %", Kind.SHARE, "caution", Cite("municipal-impervious"), ("10 %", "90 %"),
          "roofs and paving over the area of the lot"),
)  # fmt: skip
WORKED = (
    Worked("2,200 ft2 and 600 ft2 on 8,000 ft2", share(0.35), lambda: impervious_share(2200.0, 600.0, 8000.0), 1e-9,
           Cite("municipal-impervious"), "pm-impervious"),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The share that is covered when the slab is there."""
    if plan.design.site.lot is None or plan.design.site.lot.area is None:
        does_not_apply("the area of the lot is not written (site.lot.area)")
    lot, covered = plan.all_given("site.lot.area", "site.lot.covered")
    new, limit = area(plan.shape.area), limits.cover_at_most
    shown = share(impervious_share(covered.si, new.si, lot.si))
    over = area(covered.si + new.si - limit.value.si * lot.si)
    yield compare(
        plan.spot("the lot", "site.lot"), shown, limit,
        says=lambda: words("with this slab {s} of the lot is covered", s=shown),
        working=lambda: step("covered", "(there already + slab) / lot",
                             words("({c} + {n}) / {l}", c=covered, n=new, l=lot), shown),
        decide=lambda: words("leave {less} of paving out, here or elsewhere on the lot",
                             less=round_up(over, 1.0 if plan.system == "metric" else FOOT2)),
    )  # fmt: skip
