"""Roofs and paving together cover no more of the lot than the town lets them.

What is compared
    Divides what covers the lot already and this slab by the area of the lot, and compares the share with what the town
    allows on this lot (`site.lot.cover_at_most`).
Why it matters
    What does not soak in runs off, and the town's pipes are as large as they are. Over the limit the permit is refused,
    or a pit for the water is asked for that costs more than the slab.
When it does not apply
    The area of the lot is not written. What the town allows is asked for once the area is: nobody can guess it.
How to put it right
    Pave less, take out what is not used, or ask whether gravel, slats or pavers with open joints count for less.
Where sources differ
    Towns set 10 to 75 %, mostly the less the larger the lot, and some set nothing. Some count buildings only, some
    count a patio half and a drive for a third: ask what counts.
"""

from __future__ import annotations

from slabwright.formulas.layout import impervious_share
from slabwright.formulas.units import FOOT2
from slabwright.rulebook.kit import *

TITLE = "Not too much of the lot covered"
LIMITS = (
    Limit("part_of_allowed_at_most", "1", Kind.RATIO, "caution", Cite("municipal-impervious"), ("0.5", "2"),
          "what is covered over what the town allows"),
)  # fmt: skip
WORKED = (
    Worked("2,200 ft2 and 600 ft2 on 8,000 ft2", share(0.35), lambda: impervious_share(2200.0, 600.0, 8000.0), 1e-9,
           Cite("municipal-impervious"), "pm-impervious"),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The share that is covered when the slab is there."""
    if plan.design.site.lot is None or plan.design.site.lot.area is None:
        does_not_apply("the area of the lot is not written (site.lot.area)")
    lot, covered, allowed = plan.all_given("site.lot.area", "site.lot.covered", "site.lot.cover_at_most")
    new, limit = area(plan.shape.area), limits.part_of_allowed_at_most
    all_of_it = share(impervious_share(covered.si, new.si, lot.si))
    part = ratio(all_of_it.si / allowed.si)
    over = area(covered.si + new.si - limit.value.si * allowed.si * lot.si)
    yield compare(
        plan.spot("the lot", "site.lot"), part, limit,
        says=lambda: words("with this slab {s} of the lot is covered, and the town allows {a}", s=all_of_it, a=allowed),
        working=lambda: (
            step("covered", "(there already + slab) / lot", words("({c} + {n}) / {l}", c=covered, n=new, l=lot),
                 all_of_it),
            step("part", "covered / allowed", words("{s} / {a}", s=all_of_it, a=allowed), part),
        ),
        decide=lambda: words("leave {less} of paving out, here or elsewhere on the lot, or ask the town what counts",
                             less=round_up(over, 1.0 if plan.home == "metric" else FOOT2)),
    )  # fmt: skip
