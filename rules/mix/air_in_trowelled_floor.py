"""A floor that is trowelled hard has no air put into its mix.

What is compared
    The air of the mix with 3 %, where the finish is a trowel and the floor lies indoors.
Why it matters
    Entrained air holds water back. The trowel closes the top while water and air still want out: they gather in a thin
    sheet below it, and in the first months the skin comes off in plates as large as a hand.
When it does not apply
    The floor is not trowelled, or lies in the open, where no slab should be.
How to put it right
    Order the mix without air, and check it on the ticket and with the meter: another job's mix may come. A garage that
    freezes wants air, and then a broom or a float and no hard trowel.
Where sources differ
    The floor contractors say no air-entraining and 3 % in all. ACI 332 lets a trowelled garage floor have 3 % where it
    is strong, in place of the 5 to 7 % of the dwelling table (recalled).
"""

from __future__ import annotations

from slabwright.rulebook.kit import *

TITLE = "No air under the trowel"
LIMITS = (
    Limit("air_at_most", "3 %", Kind.SHARE, "caution", Cite("ascc-position-1"), ("1 %", "6 %"),
          "air in the mix of a floor that is trowelled hard"),
)  # fmt: skip
WORKED = ()


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The air of the mix."""
    if plan.outdoors:
        does_not_apply("the slab lies in the open")
    if plan.design.pour is None or plan.design.pour.finish != "trowel":
        does_not_apply("no trowelled finish is written (pour.finish)")
    air, most = plan.given("mix.air"), limits.air_at_most.value
    yield compare(
        plan.spot("the mix", "mix.air"), air, limits.air_at_most,
        says=lambda: words("{a} of air under a hard trowel comes off in plates", a=air),
        remedy=lambda: write("mix.air", most, words("order it without air-entraining, {write} at most", write=most)),
    )  # fmt: skip
