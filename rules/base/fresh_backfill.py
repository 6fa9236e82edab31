"""A slab beside a new house does not lie on backfill that has yet to settle.

What is compared
    Compares the age of the backfill against each wall beside the slab, on the day of the pour, with two years, unless
    the file says that it was compacted in layers.
Why it matters
    The ditch round a new basement is pushed full by a machine in an afternoon and settles for years, by inches. The
    slab over it drops at the wall, tips toward the house, and brings the water of the whole patio to the basement.
When it does not apply
    No day of the backfill is written, or it was compacted in layers.
How to put it right
    Compact it in layers before the base goes on. Or carry the slab over it, on the wall and on ground that was never
    dug, as an engineer says; or lay pavers until it has settled.
Where sources differ
    Nothing is printed. Two years, and the strip of five feet beside a wall, are common practice.
"""

from __future__ import annotations

from slabwright.rulebook.kit import *

TITLE = "Not on fresh backfill"
EACH_POUR = True
LIMITS = (
    Limit("age_at_least", "730 days", Kind.DURATION, "caution", Cite("common-practice"), ("0 days", "3650 days"),
          "age of backfill that was not compacted in layers"),
)  # fmt: skip
WORKED = ()
DAY = 86400.0  # s


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each wall with fresh ground against it."""
    filled = {piece.place: piece for piece in plan.edges.pieces if piece.edge and piece.edge.backfilled}
    if not filled:
        does_not_apply("no day is written on which the ground against a wall was filled back (edges, backfilled)")
    loose = [piece for piece in filled.values() if piece.edge and not piece.edge.backfill_compacted]
    if not loose:
        does_not_apply("the ground against the wall was compacted in layers")
    pour, limit = plan.given("job.pour"), limits.age_at_least
    for piece in loose:
        back = piece.edge.backfilled if piece.edge else None
        age = duration(max((pour - back).days, 0) * DAY) if back else limit.value
        at = spot(piece)
        yield compare(
            at, age, limit,
            says=lambda: words("the ground against {wall} was filled back {age} before the pour, and settles yet",
                               wall=at.name, age=age),
            decide=lambda: words("compact it in layers and write backfill_compacted: true, or have an engineer carry "
                                 "the slab over it from {wall}", wall=at.name),
        )  # fmt: skip
