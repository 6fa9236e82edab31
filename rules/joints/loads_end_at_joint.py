"""One load is placed against the other while that is soft, or it ends at a joint that is planned.

What is compared
    Works out the time between two loads in which nothing is placed, from the interval of the trucks and the placing
    rate, and compares it with 30 minutes and with an hour. It does not count where no part of the slab between
    construction joints takes more than one load: then each load can end at a joint. Strips formed, and filler set,
    through the whole depth end a pour as well.
Why it matters
    Concrete that has begun to set does not take the next load in. The line where they meet, crooked and slanting, is a
    crack from the first day: it leaks, it ravels, and it lies where nobody would have drawn it.
When it does not apply
    It comes in one load, or nothing is said of how far apart the trucks come.
How to put it right
    Have trucks come as fast as the crew places. Where the plant cannot, set a straight bulkhead where a load ends: in a
    thin slab a butt joint is enough. In heat both times are shorter.
Where sources differ
    A handbook counts half an hour of stopping as a construction joint, and finds a straight butt joint enough in
    4 in. The hour, after which a cold joint is likely, is common practice: a caution, and the half hour a note.
"""

from __future__ import annotations

from slabwright.formulas.ordering import loads, with_allowance
from slabwright.rulebook.kit import *

TITLE = "Loads that join, or end at a joint"
EACH_POUR = True
LIMITS = (
    Limit("gap_at_most", "60 min", Kind.DURATION, "caution", Cite("common-practice"), ("15 min", "3 h"),
          "time between two loads in which nothing is placed, with no joint planned where they meet"),
    Limit("usual_gap_at_most", "30 min", Kind.DURATION, "note", Cite("beall", "p. 31"), ("10 min", "2 h"),
          "time between two loads in which nothing is placed, before it counts as a joint"),
)  # fmt: skip
WORKED = ()


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The gap, where a load must end in the middle of a pour."""
    pour, order, net = plan.design.pour, plan.design.order, plan.concrete.quantities.net
    if pour is None or pour.trucks_apart is None:
        does_not_apply("nothing is said of how far apart trucks come (pour.trucks_apart)")
    comes = _comes(plan)
    if order and order.truck and comes and loads(comes, order.truck.si) < 2:
        does_not_apply("it comes in one load")
    rate, load, _ = plan.all_given("pour.rate", "order.truck", "order.volume")
    apart, places = pour.trucks_apart, duration(load.si / rate.si)
    gap, at = duration(max(apart.si - places.si, 0.0)), plan.spot("the loads", "pour")
    fills = volume(load.si / comes * net)  # of the slab, what is over and above left out
    if all(meets(part.volume, fills.si, "most") for part in plan.concrete.sections):
        gap = duration(0.0)
    near = duration((places.si + min(limit.value.si for limit in limits.values())) // 60 * 60)
    yield compare(
        at, gap, *limits.values(),
        says=lambda: words("for {gap} between loads nothing comes, and no joint is planned where they meet", gap=gap),
        working=lambda: (
            step("placed in", "load / rate", words("{l} / {r}", l=load, r=rate), places),
            step("gap", "trucks apart - placed in", words("{a} - {p}", a=apart, p=places), gap),
        ),
        remedy=lambda: write("pour.trucks_apart", near, words(
            "have trucks come {apart} apart; or plan construction joints with {fills} of slab between them",
            apart=near, fills=fills)),
    )  # fmt: skip


def _comes(plan: Plan) -> float:
    """Concrete that comes, allowance in it, m3; 0 where it is not ordered yet."""
    order = plan.design.order
    if order is None or order.volume is None:
        return 0.0
    return with_allowance(order.volume.si, order.on_top)
