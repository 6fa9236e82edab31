"""Posts, columns and frost walls at the slab stand on footings that frost does not lift.

What is compared
    Compares the depth of the bottom of each footing with the depth to which the ground freezes here. An edge that is
    2 ft deep or deeper is a frost wall: its bottom is measured from the ground beside it.
Why it matters
    Frost takes hold of a short footing and lifts it a little every winter. The roof above a patio goes up with its
    posts, the slab does not, and the post tears the slab or the roof tears off the house.
When it does not apply
    No frost depth is written, the slab lies under a roof and the file does not say that the room is neither heated nor
    closed in (`enclosed: false`), or no post has a footing written and no edge is so deep. An edge under 2 ft is no
    footing: the slab floats on it.
How to put it right
    Dig the footing down to where it does not freeze, or use a footing that an engineer has protected from frost.
Where sources differ
    The code gives the rule and the building office the depth. A post that carries nothing but itself may be let move.
"""

from __future__ import annotations

from slabwright.formulas.units import INCH
from slabwright.rulebook.kit import *

TITLE = "Footings go below frost"
LIMITS = (
    Limit("below_frost_at_least", "0 in", Kind.DEPTH, "caution", Cite("irc-r403.1.4.1"), ("0 in", "24 in"),
          "depth of a footing below the frost depth"),
)  # fmt: skip
WORKED = ()
WALL = 24 * INCH  # m: an edge this deep is meant to reach below frost (common practice)


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each post with a footing, and each edge as deep as a wall."""
    frost = plan.design.site.frost_depth
    posts = [one for one in plan.fixtures.all if one.fixture.footing]
    if posts and frost is None and plan.outdoors and plan.design.site.freezing in ("moderate", "severe"):
        not_shown("site.frost_depth: how deep the ground freezes here, such as {42 in|80 cm}",
                  place=plan.place("site"))  # fmt: skip
    if not plan.outdoors and plan.design.site.enclosed is not False:
        does_not_apply("the slab lies under a roof, and nothing says that it freezes there (site.enclosed: false)")
    if frost is None:
        does_not_apply("no depth is written to which the ground freezes here (site.frost_depth)")
    walls = [edge for edge in plan.design.thickness.thickened_edges if meets(edge.depth.si, WALL, "least")]
    if not posts and not walls:
        does_not_apply("no post or column has a footing written (fixtures, footing)")
    limit = limits.below_frost_at_least
    yield from (_wall(plan, edge, frost, limit) for edge in walls)
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


def _wall(plan: Plan, edge: ThickenedEdge, frost: Amount, limit: InForce) -> Conclusion:
    """An edge that is a wall, where it stands furthest out of the ground."""
    out = [
        top - beside
        for at in edge.run
        for piece in plan.edges.at((at.x, at.y))
        for top, beside in zip(piece.finish or (), piece.ground or (), strict=False)
    ]
    face = depth(max([0.0, *out]))
    bottom = depth(edge.depth.si - face.si)
    spare = depth(bottom.si - frost.si)
    deep = round_up(depth(frost.si + limit.value.si + face.si), tape_step(plan, INCH, 0.01))
    return compare(
        Spot("the deep edge", edge.place, tuple((at.x, at.y) for at in edge.run)), spare, limit, give=INCH,
        says=lambda: words("the deep edge ends {short} above the depth to which the ground freezes",
                           short=depth(abs(spare.si))),
        working=lambda: (
            step("in the ground", "depth of the edge - face that shows", words("{d} - {f}", d=edge.depth, f=face),
                 bottom),
            step("below frost", "in the ground - frost depth", words("{b} - {d}", b=bottom, d=frost), spare),
        ),
        remedy=lambda: write(f"{edge.place.path}.depth", deep, words("make that edge {write} deep", write=deep)),
    )  # fmt: skip
