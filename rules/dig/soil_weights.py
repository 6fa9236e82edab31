"""The weight and the swell of the soil are those of soil in the bank, and of this soil.

What is compared
    Compares the bank weight as written with the one in the table for the kind of soil; they may differ by a fifth to
    either side. Compares the swell with the range printed for the kind, and lets it lie a quarter outside to either
    side. What is far too light is mostly a loose weight, and what is far too heavy is mostly a compacted one.
Why it matters
    A yard in the bank is a yard and a quarter in the box and nine tenths of a yard under the roller. Whoever takes one
    for the other orders two trucks where three are needed, and pays the third at the counter of the tip.
When it does not apply
    Neither weight nor swell is written, or the kind of soil is not in the tables.
How to put it right
    Take the weight from the soils report, in the bank. Volumes are dug in the bank, hauled loose, and filled compacted.
Where sources differ
    Weights are those of one estimating handbook (recalled), the ranges of swell of another, quoted. How far off is a
    slip no source says: the fifth and the quarter are common practice. An estimating text takes 100 lb/ft3 for any soil
    that was never dug, which lies inside, and estimators take 25 % for clay.
"""

from __future__ import annotations

from slabwright.formulas.hauling import SWELL_RANGE, unit_weights
from slabwright.formulas.soils import WEIGHED_AS, soil_family
from slabwright.formulas.units import LB_PER_YD3
from slabwright.rulebook.kit import *

TITLE = "Soil weighed in the bank"
LIMITS = (
    Limit("part_of_tabled_at_least", "0.8", Kind.RATIO, "caution", Cite("common-practice"), ("0.5", "1"),
          "bank weight as written, over the one tabled"),
    Limit("part_of_tabled_at_most", "1.2", Kind.RATIO, "caution", Cite("common-practice"), ("1", "1.5"),
          "bank weight as written, over the one tabled"),
    Limit("part_of_least_swell_at_least", "0.8", Kind.RATIO, "note", Cite("common-practice"), ("0.5", "1"),
          "swell as written, over the least that is printed for the soil"),
    Limit("part_of_most_swell_at_most", "1.25", Kind.RATIO, "note", Cite("common-practice"), ("1", "2"),
          "swell as written, over the most that is printed for the soil"),
)  # fmt: skip
WORKED = (
    Worked("clay in the bank", unit_weight(3000 * LB_PER_YD3), lambda: unit_weights("clay").bank, 0.1,
           Cite("nunnally", "Table 2-5")),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The weight, then the swell."""
    soil = plan.design.site.soil
    if soil is None or not (soil.bank_weight or soil.swell):
        does_not_apply("neither weight nor swell of the soil is written")
    family = soil_family(soil.kind)
    if family is None or not (soil.swell or family in WEIGHED_AS):
        does_not_apply("the kind of soil is in no table")
    at, kind = Spot("the soil", soil.place), soil.kind
    if (weight := soil.bank_weight) and family in WEIGHED_AS:
        bank = unit_weight(unit_weights(WEIGHED_AS[family]).bank)
        part = ratio(weight.si / bank.si)
        light = part.si < 1 - 1e-6
        told = "{w} is light for {kind} in the bank, nearer to what it weighs loose" if light else (
            "{w} is heavy for {kind} in the bank, nearer to what it weighs compacted")  # fmt: skip
        yield compare(
            at, part, limits.part_of_tabled_at_least if light else limits.part_of_tabled_at_most,
            says=lambda: words(told, w=weight, kind=kind),
            working=lambda: step("part", "as written / as tabled", words("{w} / {b}", w=weight, b=bank), part),
            decide=lambda: words("take the weight in the bank from the soils report; {bank} is usual", bank=bank),
        )  # fmt: skip
    if (swells := soil.swell) is not None:
        least, most = SWELL_RANGE[family]
        for limit, end, much in ((limits.part_of_least_swell_at_least, least, "little"),
                                 (limits.part_of_most_swell_at_most, most, "much")):  # fmt: skip
            yield compare(
                at, ratio(swells.si / end), limit,
                says=lambda: words(f"a swell of {{s}} is {much} for {{kind}}", s=swells, kind=kind),
                decide=lambda: words("write a swell of {low} to {high}, or weigh a sample", low=share(least),
                                     high=share(most)),
            )  # fmt: skip
