"""The slump that is ordered suits the way the concrete is placed, and the slope of the slab.

What is compared
    Compares the slump as ordered with 5 in, or with 6 or 8 in where a mid-range or high-range water reducer makes it
    flow, and with 3 in where the slab falls more than 8 % over 6 ft or more, on metric jobs with 80 mm. It compares the
    same slump with 3 in, on metric jobs with 50 mm, as the least that hands can place on slabs that fall up to 5 %, and
    with 4 in as the least that goes through a pump; a steep slab that is pumped may have that much. Of a class S1 to S5
    the middle is compared. On a steep slab half an inch more is let pass: no plant makes slump nearer than that.
Why it matters
    Too stiff, and somebody opens the hose on the truck. Too wet, and stone sinks while water rises: the top dusts and
    scales. On a steep drive wet concrete walks downhill all morning, and the low end comes out thick.
When it does not apply
    The consistence is ordered by its flow, F1 to F6: no slump is made of a flow. Otherwise it applies wherever the
    slump is written.
How to put it right
    Order the slump that the crew will really place, and get what goes over 5 in by admixture, written under
    mix.water_reducer. Place a steep slab from the low end up.
Where sources differ
    ACI takes 4 in where nothing is specified and 3 to 5 in as usual; what admixtures allow is repeated on engineers'
    pages. The limits for pumps and slopes are common practice.
"""

from __future__ import annotations

from slabwright.formulas.mix import SLUMP_CLASSES
from slabwright.formulas.units import FOOT, INCH
from slabwright.rulebook.kit import *

TITLE = "Slump for the way it is placed"
LIMITS = (
    Limit("plain_at_most", "5 in", Kind.DEPTH, "caution", Cite("aci-301-slump"), ("3 in", "8 in"),
          "slump without an admixture"),
    Limit("mid_range_at_most", "6 in", Kind.DEPTH, "caution", Cite("aci-301-admixture"), ("3 in", "9 in"),
          "slump with a mid-range water reducer"),
    Limit("high_range_at_most", "8 in", Kind.DEPTH, "caution", Cite("aci-301-admixture"), ("3 in", "10 in"),
          "slump with a high-range water reducer"),
    Limit("steep_at_most", "3 in", Kind.DEPTH, "caution", Cite("common-practice"), ("1 in", "6 in"),
          "slump where the slab falls more than 8 %"),
    Limit("metric_steep_at_most", "80 mm", Kind.DEPTH, "caution", Cite("common-practice"), ("20 mm", "150 mm"),
          "slump where the slab falls more than 8 %, on a metric job"),
    Limit("pumped_at_least", "4 in", Kind.DEPTH, "note", Cite("common-practice"), ("2 in", "6 in"),
          "slump that goes through a pump"),
    Limit("placed_at_least", "3 in", Kind.DEPTH, "note", Cite("aci-301-slump"), ("1 in", "5 in"),
          "slump that hands can place"),
    Limit("metric_placed_at_least", "50 mm", Kind.DEPTH, "note", Cite("common-practice"), ("20 mm", "100 mm"),
          "slump that hands can place, on a metric job"),
)  # fmt: skip
WORKED = ()
BY_REDUCER = {"mid-range": "mid_range_at_most", "high-range": "high_range_at_most"}
STEEP = 0.08  # `common-practice`: over 8 to 10 %
LONG = 6 * FOOT  # m of a steep part along its fall: over less than that concrete does not walk (common practice)
HARDLY = 0.5 * INCH  # m of slump on a steep slab (common practice)
HAIR = 1e-6  # m
STIFF = 0.05  # `common-practice`: a slope on which stiff concrete is meant


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The most that the slab and the admixture take, and the least that can be placed."""
    if (plan.design.mix.consistence or "").startswith("F") and plan.design.mix.slump is None:
        does_not_apply("the consistence is ordered by its flow, of which no slump is made")
    slump, order = plan.given("mix.slump"), plan.design.order
    at = plan.spot("the slump", _key(plan))
    steep = [part for part in plan.falls.parts(lambda s: not meets(s, STEEP, "most")) if part.run >= LONG]
    most = limits[BY_REDUCER.get(plan.design.mix.water_reducer or "none", "plain_at_most")]
    pumped = order is not None and order.method == "pump"
    asked = most.value
    if steep:
        most, fall = limits.steep_at_most, slope(steep[0].most)
        if plan.home == "metric" and most.layer == "published":
            most = limits.metric_steep_at_most
        through = limits.pumped_at_least.value
        asked = through if pumped and meets(through.si, most.value.si, "least") else most.value
        walks = words("concrete of {s} creeps down a slab that falls {f}", s=slump, f=fall)
        stiffer = "order {write}, and place it from the low end up"
    elif most.name == "plain_at_most":
        walks = words("concrete of {s} is wet, and nothing is written that makes it flow without water", s=slump)
        stiffer = "order {write}; or write the water reducer it comes with"
    else:
        walks = words("concrete of {s} comes apart, admixture or not", s=slump)
        stiffer = "order {write}"
    yield compare(
        at, slump, most, asked=None if asked == most.value else asked, give=HARDLY if steep else 0.0,
        says=lambda: walks, remedy=lambda: _order(plan, asked, "most", stiffer),
    )  # fmt: skip
    if steep or plan.falls.parts(lambda s: not meets(s, STIFF, "most")):
        return
    least = limits.pumped_at_least if pumped else limits.placed_at_least
    if plan.home == "metric" and least.name == "placed_at_least" and least.layer == "published":
        least = limits.metric_placed_at_least
    yield compare(
        at, slump, least,
        says=lambda: words("concrete of {s} is stiff: on site somebody will add water", s=slump),
        remedy=lambda: _order(plan, least.value, "least", "order {write}"),
    )  # fmt: skip


def _key(plan: Plan) -> str:
    """Where the slump is written: by itself, or as a class."""
    mix = plan.design.mix
    return "mix.consistence" if mix.slump and mix.slump.typed == mix.consistence else "mix.slump"


def _order(plan: Plan, slump: Amount, direction: str, says: str) -> Remedy:
    """Another slump, or the nearest class whose middle keeps it where the mix is ordered by class."""
    if _key(plan) == "mix.slump":
        return write_slump(plan.design.mix.consistence, slump, words(says, write=slump))
    middles = {name: (low + (high or low)) / 2 for name, (low, high) in SLUMP_CLASSES.items()}
    if direction == "most":
        name = max((one for one in middles if middles[one] <= slump.si + HAIR), default="S1")
    else:
        name = min((one for one in middles if middles[one] >= slump.si - HAIR), default="S5")
    return write("mix.consistence", name, words(says, write=name))
