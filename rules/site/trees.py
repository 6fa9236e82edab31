"""The slab keeps away from trees that are to live, and from what their roots will do.

What is compared
    Compares the distance from the slab to each trunk with 8 ft for a tree up to 30 ft tall, 10 ft up to 50 ft, and 20
    ft above; with 2 ft where the tree stands in an opening left for it; with 8 ft, for a note, beside a walk in the
    right of way, where street trees stand.
Why it matters
    The dig cuts the roots that hold the tree, and two winters later it leans. The roots that are left grow thick under
    the slab and lift it, a panel at a time.
When it does not apply
    No tree is written.
How to put it right
    Draw the slab back, or curve it round; or leave an opening, bridge the roots on deep stone, and let that part be
    broken out one day.
Where sources differ
    One advice page has 8 to 10 ft for trees under 30 ft and 20 ft for those over 50 ft, and nothing between: 10 ft
    there is the upper end of its lower figure. Streets and courts are full of trees in pits 4 ft square (common
    practice). Some towns protect trees by trunk: amendments say so.
"""

from __future__ import annotations

from slabwright.formulas.units import FOOT
from slabwright.rulebook.kit import *

TITLE = "Away from trees"
LIMITS = (
    Limit("small_tree_at_least", "8 ft", Kind.LENGTH, "caution", Cite("tree-page"), ("0 ft", "30 ft"),
          "distance to a tree up to {30 ft|9 m} tall"),
    Limit("middling_tree_at_least", "10 ft", Kind.LENGTH, "caution", Cite("tree-page"), ("0 ft", "40 ft"),
          "distance to a tree of {30 to 50 ft|9 to 15 m}"),
    Limit("tall_tree_at_least", "20 ft", Kind.LENGTH, "caution", Cite("tree-page"), ("0 ft", "60 ft"),
          "distance to a tree over {50 ft|15 m} tall"),
    Limit("street_tree_at_least", "8 ft", Kind.LENGTH, "note", Cite("tree-page"), ("0 ft", "60 ft"),
          "distance of a walk in the right of way to a street tree"),
    Limit("pit_at_least", "2 ft", Kind.LENGTH, "caution", Cite("common-practice"), ("0 ft", "20 ft"),
          "distance to a tree that stands in an opening left for it"),
)  # fmt: skip
WORKED = ()
SMALL, TALL = 30 * FOOT, 50 * FOOT  # m of height, `tree-page`


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each tree by its height."""
    if not plan.design.site.trees:
        does_not_apply("no tree is written (site.trees)")
    for number, tree in enumerate(plan.design.site.trees, 1):
        name, away = tree.name or f"tree {number}", length(plan.site.away((tree.at,)))
        limit = limits.tall_tree_at_least
        if plan.site.in_opening(tree.at):
            limit = limits.pit_at_least
        elif plan.design.site.right_of_way and plan.areas.uses == ("walk",):
            limit = limits.street_tree_at_least
        elif meets(tree.height.si, SMALL, "most"):
            limit = limits.small_tree_at_least
        elif meets(tree.height.si, TALL, "most"):
            limit = limits.middling_tree_at_least
        off = length(limit.value.si - away.si)
        yield compare(
            Spot(name, tree.place, ((tree.at.x, tree.at.y),)), away, limit,
            says=lambda: words("{tree}, {h} tall, stands {away} from the slab", tree=name, h=tree.height, away=away),
            working=lambda: step("short by", "asked - distance", words("{a} - {d}", a=limit.value, d=away), off),
            decide=lambda: words("keep the slab {write} from {tree}: {off} more", write=limit.value, tree=name,
                                 off=off),
        )  # fmt: skip
