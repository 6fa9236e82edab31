"""Concrete that freezes wet has the air that its stone size wants.

What is compared
    Compares the air of the mix with 5 % where it freezes hard, and with the table for the size of the stone and the
    frost: no air may be missing, and 1.5 points may be over. A metric plan is held to 4 % and, as a note, to the
    table of the German annex, which lets 4 points be over. A garage floor that freezes is held to 5 %, on metric plans
    to 4 %, or to 3 % where it is troweled or no finish is written.
Why it matters
    Water grows as it freezes and needs somewhere to go: millions of bubbles too small to see. Without them the skin
    scales off in the first winters, however strong the concrete is. Too many bubbles cost strength and buy nothing.
When it does not apply
    The slab lies indoors and is no garage floor, or, on metric plans, one that no salt is carried onto; it does not
    freeze there; or a class is written that has its own air: XF, which `frost-class` judges, or C-2, C-1 or C-XL of
    the Canadian standard, or another of it where salt comes on the slab, which `exposure-class` does.
How to put it right
    Order the air of the table, and test it at the chute: pumping and hot days knock some out. Do not trowel it hard.
Where sources differ
    The table gives 6 % for 3/4 in stone in severe weather, 5 % in moderate; dwelling codes 5 to 7 %, CSA 5 to 8 % with
    deicing salt; the German annex 5.5 % for 8 mm stone, 4.5 for 16, 4.0 for 32, the British one 4.5 for 20 mm.
    EN 206 itself asks 4.0 whatever the stone. What
    a load may be off, 1.5 points, is off the order: an order under the table lets it come twice as short. That a
    garage floor which is troweled may go down to 3 % at 4,000 psi is recalled; some states ask no air of garages, and
    EN 206 none without salt where water does not stand, XF1.
"""

from __future__ import annotations

from functools import partial
from typing import Literal

from slabwright.formulas.mix import by_canadian_class, nominal_stone, total_air, total_air_metric
from slabwright.formulas.units import INCH
from slabwright.rulebook.kit import *

TITLE = "Air against frost"
EACH_POUR = True
LIMITS = (
    Limit("severe_air_at_least", "5 %", Kind.SHARE, "hold", Cite("irc-r402.2"), ("3 %", "8 %"),
          "air where it freezes hard"),
    Limit("metric_air_at_least", "4 %", Kind.SHARE, "caution", Cite("en-206-1", "classes XF2 to XF4"), ("3 %", "8 %"),
          "air where it freezes, of a metric plan"),
    Limit("garage_at_least", "5 %", Kind.SHARE, "caution", Cite("irc-r402.2"), ("2 %", "8 %"),
          "air of a garage floor that freezes"),
    Limit("troweled_garage_at_least", "3 %", Kind.SHARE, "caution", Cite("aci-332-20-recalled"), ("2 %", "8 %"),
          "air of a troweled garage floor that freezes"),
    Limit("under_table_at_most", "0 %", Kind.SHARE, "caution", Cite("aci-211.1"), ("0 %", "3 %"),
          "how far the air ordered may lie under the table for its stone"),
    Limit("metric_under_table_at_most", "0 %", Kind.SHARE, "note", Cite("din-1045-2"), ("0 %", "3 %"),
          "how far the air ordered may lie under the table for its stone, of a metric plan"),
    Limit("metric_over_table_at_most", "4 %", Kind.SHARE, "note", Cite("din-1045-2"), ("0 %", "6 %"),
          "how far the air ordered may lie over the table for its stone, of a metric plan"),
    Limit("over_table_at_most", "1.5 %", Kind.SHARE, "note", Cite("common-practice"), ("0 %", "4 %"),
          "how far the air ordered may lie over the table for its stone"),
)  # fmt: skip


def table_air(stone: float, freezing: Literal["severe", "moderate"]) -> float:
    """Air of the table, as a share, for stone of a size in m as it is sold."""
    return total_air(nominal_stone(stone), freezing)


LARGEST = 1.5 * INCH  # m, the largest stone of the table
STONES = ((0.375, 7.5, 6.0), (0.5, 7.0, 5.5), (0.75, 6.0, 5.0), (1, 6.0, 4.5), (1.5, 5.5, 4.5))  # in, %, %
WORKED = (
    *(Worked(f"{size} in stone, severe", share(most / 100), partial(table_air, size * INCH, "severe"), 1e-9,
             Cite("aci-211.1"), f"mx-air-{str(size).replace('.', 'p')}in") for size, most, _ in STONES),
    *(Worked(f"{size} in stone, moderate", share(less / 100), partial(table_air, size * INCH, "moderate"), 1e-9,
             Cite("aci-211.1"), f"mx-air-{str(size).replace('.', 'p')}in") for size, _, less in STONES),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The least of the code, then the table where the stone is named."""
    garage = bool(plan.areas.used("garage floor")) and not plan.outdoors
    if not plan.outdoors and not garage:
        does_not_apply("the slab lies indoors")
    if plan.design.site.freezing == "none":
        does_not_apply("it does not freeze there")
    if (plan.design.mix.exposure or "").startswith("XF"):
        does_not_apply("the mix is ordered by a frost class, and judged by that")
    site = plan.design.site
    if by_canadian_class(plan.design.mix.exposure, site.freezing, plan.outdoors and site.deicing_salt):
        does_not_apply("the mix is ordered by a Canadian class, and judged by that")
    if garage:
        if plan.home == "metric" and plan.design.site.deicing_salt is False:
            does_not_apply("no salt is carried onto the floor, and European classes ask air of none without it")
        _, air = plan.all_given("site.freezing", "mix.air")
        finish = plan.design.pour.finish if plan.design.pour else None
        floated = limits.garage_at_least
        if plan.home == "metric" and floated.layer == "published":
            floated = limits.metric_air_at_least
        yield _least(plan, air, limits.troweled_garage_at_least if finish in (None, "trowel") else floated, None)
        return
    metric, stone = plan.home == "metric", plan.design.mix.aggregate
    stated = plan.design.mix.air
    low = stated is not None and stated.si < total_air(LARGEST, "moderate")  # too little whatever its stone
    also = () if stone or metric or low or plan.design.site.freezing == "severe" else ("mix.aggregate",)
    freezing, air, *_ = plan.all_given("site.freezing", "mix.air", *also)
    least = limits.severe_air_at_least if freezing == "severe" else None
    if metric and limits.severe_air_at_least.layer == "published":
        least = limits.metric_air_at_least
    table = None
    if stone:
        table = share(total_air_metric(stone.si) if metric else table_air(stone.si, freezing))
    elif not least and not metric:
        table = share(total_air(LARGEST, "moderate"))
    if least:
        yield _least(plan, air, least, table)
    if table and (least is None or least.met(air)):
        yield _table(plan, limits, air, table, share(max(table.si, least.value.si)) if least else table)


def _least(plan: Plan, air: Amount, least: InForce, table: Amount | None) -> Finding | Margin:
    order = share(max((table or least.value).si, least.value.si))
    return compare(
        plan.spot("the mix", "mix.air"), air, least,
        says=lambda: words("{air} air leaves the frost no room", air=air),
        working=lambda: step("short by", "air asked - air", words("{a} - {b}", a=least.value, b=air),
                             share(least.value.si - air.si)),
        remedy=lambda: write("mix.air", order, words("order {write} air", write=order)),
    )  # fmt: skip


def _table(plan: Plan, limits: Limits, air: Amount, table: Amount, order: Amount) -> Finding | Margin:
    metric, over = plan.home == "metric", air.si > table.si
    off, stone = share(abs(table.si - air.si)), plan.design.mix.aggregate or depth(LARGEST)
    told = "{air} air is more than stone of {stone} wants" if over else "{air} air is little for stone of {stone}"
    limit = limits.under_table_at_most
    if metric and limit.layer == "published":
        limit = limits.metric_under_table_at_most
    if over:
        limit = limits.metric_over_table_at_most if metric else limits.over_table_at_most
    return compare(
        plan.spot("the mix", "mix.air"), off, limit,
        says=lambda: words(told, air=air, stone=stone),
        working=lambda: step(
            "off the table", "air - air of the table" if over else "air of the table - air",
            words("{a} - {b}", a=air if over else table, b=table if over else air), off),
        remedy=lambda: write("mix.air", order, words("order {write} air", write=order)),
    )  # fmt: skip
