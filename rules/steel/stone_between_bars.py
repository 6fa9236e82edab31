"""The largest stone passes between the bars, and between the steel and the faces of the slab.

What is compared
    Compares the size of the largest stone with three quarters of the clear space between bars or wires, and with three
    quarters of the concrete over and under the steel; on metric plans it may be as large as that concrete is thick.
    Where that concrete is less than the cover the steel needs in any
    case, only `steel-position` speaks.
Why it matters
    Stone that cannot pass bridges from bar to bar and keeps the mortar out below. The strip of holes is not seen
    until the slab cracks along the bar, or the broom turns up stone over it.
When it does not apply
    There are no bars and no mesh.
How to put it right
    Order the next smaller stone. It wants a little more water and so shrinks a little more; joints then come closer.
Where sources differ
    The building code has three quarters of the clear space between bars, beside a third of the thickness. That the
    cover counts alike is common practice, and a caution; European practice lets stone be as large as the cover.
"""

from __future__ import annotations

from slabwright.formulas.mix import usual_stone
from slabwright.formulas.steel import least_cover
from slabwright.formulas.units import INCH
from slabwright.rulebook.kit import *

TITLE = "Stone that passes between the steel"
LIMITS = (
    Limit("part_between_at_most", "3/4", Kind.RATIO, "hold", Cite("aci-318-19-quoted", "sec. 26.4.2.1"),
          ("1/2", "1"), "size of the stone, as part of the clear space between bars"),
    Limit("part_of_cover_at_most", "3/4", Kind.RATIO, "caution", Cite("common-practice"), ("1/2", "1"),
          "size of the stone, as part of the concrete over or under the steel"),
    Limit("metric_part_of_cover_at_most", "1", Kind.RATIO, "caution", Cite("common-practice"), ("1/2", "1"),
          "size of the stone, as part of the concrete over or under the steel, of a metric plan"),
)  # fmt: skip
WORKED = ()
HAIR = 0.002  # m: metric plans write 40 mm and less for 1 1/2 in
SMALLEST = 3 / 8 * INCH  # m, the smallest stone usually sold


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Between the bars, and over and under them where their cover is given."""
    if not plan.steel.mats:
        does_not_apply("there are no bars and no mesh")
    stone: Amount = plan.given("mix.aggregate")
    between, over = limits.part_between_at_most, limits.part_of_cover_at_most
    if plan.home == "metric" and over.layer == "published":
        over = limits.metric_part_of_cover_at_most
    for laid in plan.steel.mats:
        name, mat, bar = laid.kind, laid.mat, laid.diameter
        wet = any(map(plan.rained_on, laid.areas))
        apart = mat.spacing.si if isinstance(mat, Bars) else mat.wire_spacing
        at = Spot(laid.name, mat.place)
        yield _judged(at, stone, apart - bar, between, "between the wires" if name == "mesh" else "between the bars")
        for where, clear in _over_and_under(laid):
            if meets(clear, least_cover("weather or ground" if wet else "interior slab", bar) - HAIR, "least"):
                yield _judged(at, stone, clear, over, f"{where} the {name}")


def _over_and_under(laid: Laid) -> list[tuple[str, float]]:
    """The concrete on either side of a mat, m, where its cover is given."""
    cover = laid.mat.top_cover
    if cover is None:
        return []
    return [("over", cover.si), ("under", laid.thickness - cover.si - 2 * laid.diameter)]


def _judged(at: Spot, stone: Amount, clear: float, limit: InForce, where: str) -> Conclusion:
    asked = depth(limit.value.si * clear)
    small = depth(usual_stone(asked.si)) if meets(asked.si, SMALLEST, "least") else None
    return compare(
        at, stone, limit, asked=asked,
        says=lambda: words("stone of {s} does not pass {where}, where {c} is clear", s=stone, where=where,
                           c=depth(clear)),
        working=lambda: step("largest stone", "part x clear space", words("{n} x {c}", n=limit.value, c=depth(clear)),
                             asked),
        remedy=lambda: [write("mix.aggregate", small, words("order stone of {write} or less", write=small))]
        if small else [],
        decide=lambda: words("leave {room} clear {where}", room=depth(stone.si / limit.value.si), where=where),
    )  # fmt: skip
