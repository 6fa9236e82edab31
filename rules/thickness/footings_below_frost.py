"""Posts and columns at the slab stand on footings that frost does not lift.

What is compared
    Compares the depth of the bottom of each footing with the depth to which the ground freezes here.
Why it matters
    Frost takes hold of a short footing and lifts it a little every winter. The roof above a patio goes up with its
    posts, the slab does not, and the post tears the slab or the roof tears off the house.
When it does not apply
    No frost depth is written, rain and frost do not reach the slab, or no post has a footing written.
How to put it right
    Dig the footing down to where it does not freeze, or use a footing that an engineer has protected from frost.
Where sources differ
    The code gives the rule and the building office the depth. A post that carries nothing but itself may be let move.
"""

from __future__ import annotations

from slabwright.rulebook.kit import *

TITLE = "Footings go below frost"
LIMITS = (
    Limit("below_frost_at_least", "0 in", Kind.DEPTH, "caution", Cite("irc-r403.1.4.1"), ("0 in", "24 in"),
          "depth of a footing below the frost depth"),
)  # fmt: skip
WORKED = ()


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each post with a footing."""
    frost = plan.design.site.frost_depth
    posts = [one for one in plan.fixtures.all if one.fixture.footing]
    if posts and frost is None and plan.outdoors and plan.design.site.freezing in ("moderate", "severe"):
        not_shown("site.frost_depth: how deep the ground freezes here, such as {42 in|80 cm}",
                  place=plan.place("site"))  # fmt: skip
    if frost is None or not plan.outdoors:
        does_not_apply("no depth is written to which the ground freezes here (site.frost_depth)")
    if not posts:
        does_not_apply("no post or column has a footing written (fixtures, footing)")
    limit = limits.below_frost_at_least
    for one in posts:
        footing = one.fixture.footing or frost
        spare, asked = depth(footing.si - frost.si), depth(frost.si + limit.value.si)
        at = spot(one)
        yield compare(
            at, spare, limit,
            says=lambda: words("the footing of {post} ends {short} above the depth to which the ground freezes",
                               post=at.name, short=depth(abs(spare.si))),
            working=lambda: step("below frost", "footing - frost depth", words("{f} - {d}", f=footing, d=frost), spare),
            decide=lambda: words("dig the footing of {post} down to {asked}, or have an engineer protect it from "
                                 "frost", post=at.name, asked=asked),
        )  # fmt: skip
