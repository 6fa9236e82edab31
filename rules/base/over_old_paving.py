"""A slab over old concrete moves by itself.

What is compared
    Asks whether film or sand lies between the slab and old concrete that stays under it.
Why it matters
    The old slab has its own joints and cracks and moves at them. What is stuck to it tears at every one of them, at
    places nobody chose.
When it does not apply
    No old concrete stays under the slab. Old asphalt under a slab of full thickness is a base like any other.
How to put it right
    Take the old slab out where it rocks or heaves. Otherwise lay two sheets of film or an inch of sand over it, and see
    that the new finish does not bury vents and sills.
Where sources differ
    Thin bonded toppings exist, and want a roughened, sound slab and joints over joints: that is a design of its own, to
    be accepted by a variance. The film is common practice. How thick the slab must be `least-thickness` says.
"""

from __future__ import annotations

from slabwright.rulebook.kit import *

TITLE = "Over old concrete"
LIMITS = (
    Limit("stuck_slabs_at_most", "0", Kind.COUNT, "caution", Cite("common-practice"), ("0", "1"),
          "old slabs that the new one sticks to"),
)  # fmt: skip
WORKED = ()


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """What lies between."""
    base = plan.design.site.base
    if base is None or base.old_paving is None:
        does_not_apply("no old paving stays under the slab (site.base.old_paving)")
    if base.old_paving == "asphalt":
        does_not_apply("old asphalt is a base like any other")
    separated = plan.given("site.base.separated")
    yield compare(
        plan.spot("the old slab", "site.base"), count(int(not separated)), limits.stuck_slabs_at_most,
        says=lambda: words("the slab sticks to the old one, and tears where that moves"),
        remedy=lambda: write("site.base.separated", "true",
                             words("lay two sheets of film or {1 in|25 mm} of sand over it: separated: true")),
    )  # fmt: skip
