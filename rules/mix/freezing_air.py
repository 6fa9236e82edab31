"""Concrete that freezes wet has the air that its stone size wants.

What is compared
    The air of the mix with 5 % where it freezes hard; and how far it lies under or over the table for the size of the
    stone and the frost with the 1.5 points that a delivery may be off.
Why it matters
    Water grows as it freezes and needs somewhere to go: millions of bubbles too small to see. Without them the skin
    scales off in the first winters, however strong the concrete is. Too many bubbles cost strength and buy nothing.
When it does not apply
    The slab lies indoors, or it does not freeze there.
How to put it right
    Order the air of the table, and test it at the chute: pumping and hot days knock some out. Do not trowel it hard.
Where sources differ
    The table gives 6 % for 3/4 in stone in severe weather, 5 % in moderate; dwelling codes 5 to 7 %, CSA 5 to 8 % with
    deicing salt. Garage floors that are to be trowelled hard may go down to 3 % at 4,000 psi and over (recalled), and
    floors indoors want no entrained air at all, so floors are left alone here. The tolerance is recalled.
"""

from __future__ import annotations

from functools import partial
from typing import Literal

from slabwright.formulas.mix import nominal_stone, total_air
from slabwright.formulas.units import INCH
from slabwright.rulebook.kit import *

TITLE = "Air against frost"
LIMITS = (
    Limit("severe_air_at_least", "5 %", Kind.SHARE, "hold", Cite("irc-r402.2"), ("3 %", "8 %"),
          "air where it freezes hard"),
    Limit("under_table_at_most", "1.5 %", Kind.SHARE, "caution", Cite("astm-c94"), ("0 %", "3 %"),
          "how far the air may lie under the table for its stone"),
    Limit("over_table_at_most", "1.5 %", Kind.SHARE, "note", Cite("astm-c94"), ("0 %", "4 %"),
          "how far the air may lie over the table for its stone"),
)  # fmt: skip


def table_air(stone: float, freezing: Literal["severe", "moderate"]) -> float:
    """Air of the table, as a share, for stone of a size in m as it is sold."""
    return total_air(nominal_stone(stone), freezing)


STONES = ((0.375, 7.5, 6.0), (0.5, 7.0, 5.5), (0.75, 6.0, 5.0), (1, 6.0, 4.5), (1.5, 5.5, 4.5))  # in, %, %
WORKED = (
    *(Worked(f"{size} in stone, severe", share(most / 100), partial(table_air, size * INCH, "severe"), 1e-9,
             Cite("aci-211.1"), f"mx-air-{str(size).replace('.', 'p')}in") for size, most, _ in STONES),
    *(Worked(f"{size} in stone, moderate", share(less / 100), partial(table_air, size * INCH, "moderate"), 1e-9,
             Cite("aci-211.1"), f"mx-air-{str(size).replace('.', 'p')}in") for size, _, less in STONES),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The least of severe weather, then the table where the stone is named."""
    if not plan.outdoors:
        does_not_apply("the slab lies indoors")
    if plan.design.site.freezing == "none":
        does_not_apply("it does not freeze there")
    severe, stone = plan.design.site.freezing == "severe", plan.design.mix.aggregate
    also = () if stone or severe else ("mix.aggregate",)
    freezing, air, *_ = plan.all_given("site.freezing", "mix.air", *also)
    at, least = plan.spot("the mix", "mix.air"), limits.severe_air_at_least
    table = share(table_air(stone.si, freezing)) if stone else least.value
    order = share(max(table.si, least.value.si)) if severe else table

    def remedy() -> Remedy:
        return write("mix.air", order, words("order {write} air", write=order))

    if severe:
        yield compare(
            at, air, least,
            says=lambda: words("{air} air leaves the frost no room", air=air),
            working=lambda: step("short by", "air asked - air", words("{a} - {b}", a=least.value, b=air),
                                 share(least.value.si - air.si)),
            remedy=remedy,
        )  # fmt: skip
    if stone and (least.met(air) or not severe):
        over = air.si > table.si
        off = share(abs(table.si - air.si))
        told = "{air} air is more than stone of {stone} wants" if over else "{air} air is little for stone of {stone}"
        yield compare(
            at, off, limits.over_table_at_most if over else limits.under_table_at_most,
            says=lambda: words(told, air=air, stone=stone),
            working=lambda: step(
                "off the table", "air - air of the table" if over else "air of the table - air",
                words("{a} - {b}", a=air if over else table, b=table if over else air), off),
            remedy=remedy,
        )  # fmt: skip
