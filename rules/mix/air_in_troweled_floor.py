"""A floor that is troweled hard has no air put into its mix.

What is compared
    Where the finish is a trowel and the floor lies indoors, compares the air of the mix with 3 %. On a garage floor
    that freezes the frost wants some air: there the rule compares it with 6 %, and aims at 4.5 %.
Why it matters
    Entrained air holds water back. The trowel closes the top while water and air still want out: they gather in a thin
    sheet below it, and in the first months the skin comes off in plates as large as a hand.
When it does not apply
    The floor is not troweled, or lies in the open, where no slab should be.
How to put it right
    Order the mix without air, and check it on the ticket and with the meter: another job's mix may come. For a garage
    that freezes order 4.5 % and trowel it lightly, or finish it with a broom or a float.
Where sources differ
    The floor contractors say no air-entraining and 3 % in all. Many editions of the dwelling code let a troweled
    garage floor go down to 3 % at 4,000 psi, in place of the 5 to 7 % of its table (recalled); a consultant aims at
    4.5 %, 1.5 points either way. How little is too little is judged by `freezing-air`.
"""

from __future__ import annotations

from slabwright.rulebook.kit import *

TITLE = "No air under the trowel"
EACH_POUR = True
LIMITS = (
    Limit("air_at_most", "3 %", Kind.SHARE, "caution", Cite("ascc-position-1"), ("1 %", "6 %"),
          "air in the mix of a floor that is troweled hard"),
    Limit("garage_at_most", "6 %", Kind.SHARE, "caution", Cite("trade-qa-garage-air"), ("3 %", "8 %"),
          "air in the mix of a troweled garage floor that freezes"),
    Limit("garage_preferred_at_most", "4.5 %", Kind.SHARE, "note", Cite("trade-qa-garage-air"), ("3 %", "6 %"),
          "air to order for a troweled garage floor that freezes"),
)  # fmt: skip
WORKED = ()


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The air of the mix."""
    if plan.outdoors:
        does_not_apply("the slab lies in the open")
    if plan.design.pour is None or plan.design.pour.finish != "trowel":
        does_not_apply("no troweled finish is written (pour.finish)")
    air, at = plan.given("mix.air"), plan.spot("the mix", "mix.air")
    if plan.areas.used("garage floor") and plan.design.site.freezing in ("moderate", "severe"):
        aim = limits.garage_preferred_at_most.value
        yield compare(
            at, air, limits.garage_at_most, limits.garage_preferred_at_most,
            says=lambda: words("{a} of air is much for a garage floor under the trowel", a=air),
            remedy=lambda: write("mix.air", aim, words("order {write} of air, and trowel it lightly", write=aim)),
        )  # fmt: skip
        return
    most = limits.air_at_most.value
    yield compare(
        at, air, limits.air_at_most,
        says=lambda: words("{a} of air under a hard trowel comes off in plates", a=air),
        remedy=lambda: write("mix.air", most, words("order it without air-entraining, {write} at most", write=most)),
    )  # fmt: skip
