"""Soil that swells when it is wet, or heaves when it freezes, is not left right under the slab.

What is compared
    The ground that keeps still under the slab is the base and what was replaced under it. The rule compares its depth
    with 2 ft over soil that swells, and with 1 ft over soil that heaves where it freezes.
Why it matters
    A clay that swells lifts the edges of a slab after every wet spring and lets them down in August. Silt that freezes
    grows lenses of ice and lifts one panel an inch above the next. The concrete is sound, and the slab is ruined.
When it does not apply
    The soil is not named as one that swells or heaves, or slab and ground are made as a soils report says.
How to put it right
    Take the soil out and put in granular soil that does not move, or have an engineer say what the slab needs: moisture
    kept even, lime, a slab that is stiff enough. Keep water away from its edges in any case.
Where sources differ
    One soils report asks for 2 ft of granular soil under slabs and walks on soil that swells. For frost no figure was
    found; 1 ft is common practice. Codes ask for an engineer at houses only, so it is a note outdoors,
    where the trade lays drives on such clay with steel and goes back to few.
"""

from __future__ import annotations

import re

from slabwright.rulebook.kit import *

TITLE = "Not on soil that moves"
LIMITS = (
    Limit("over_swelling_at_least", "24 in", Kind.DEPTH, "caution", Cite("geotechnical-santa-ana"), ("0 in", "10 ft"),
          "ground that keeps still over soil that swells, under floors"),
    Limit("outdoors_over_swelling_at_least", "24 in", Kind.DEPTH, "note", Cite("geotechnical-santa-ana"),
          ("0 in", "10 ft"), "ground that keeps still over soil that swells, under slabs outdoors"),
    Limit("over_frost_heave_at_least", "12 in", Kind.DEPTH, "caution", Cite("common-practice"), ("0 in", "10 ft"),
          "ground that keeps still over soil that heaves, where it freezes"),
)  # fmt: skip
WORKED = ()
SWELLS = r"(?i)expansive|swell|shrink|reactive|fat clay|high.?plastic|adobe|gumbo|black cotton|bentonit"
HEAVES = r"(?i)heav|frost.?suscept"
QUIET = r"(?i)\b(non|not|low|no|slightly)\b[ -]*(expansive|swell|shrink|reactive|heav|frost|plastic)"


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The soil by its name, and what lies between it and the slab."""
    site = plan.design.site
    soil, base = site.soil.kind if site.soil else "", site.base.thickness if site.base else None
    freezes = site.freezing in ("moderate", "severe") and plan.outdoors
    swells = bool(re.search(SWELLS, soil))
    if not (swells or (freezes and re.search(HEAVES, soil))) or re.search(QUIET, soil):
        does_not_apply("the soil is not named as one that swells, or that heaves where it freezes (site.soil.kind)")
    if site.soil is None or site.soil.report:
        does_not_apply("slab and ground are made as a soils report says (site.soil.report)")
    limit = limits.over_frost_heave_at_least
    if swells:
        limit = limits.outdoors_over_swelling_at_least if plan.outdoors else limits.over_swelling_at_least
    under, dug = base.si if base else 0.0, site.soil.replaced.si if site.soil.replaced else 0.0
    still = depth(under + dug)
    yield compare(
        Spot("soil", plan.place("site.soil.kind")), still, limit,
        says=lambda: words("{soil} under the slab {moves}, and {still} of ground that keeps still lies over it",
                           soil=soil, moves="swells when it is wet" if swells else "heaves when it freezes",
                           still=still),
        working=lambda: step("ground that keeps still", "base + soil replaced",
                             words("{b} + {r}", b=depth(under), r=depth(dug)), still),
        decide=lambda: words("replace {more} more of it by soil that keeps still and write site.soil.replaced, or have "
                             "an engineer say what the slab needs and write site.soil.report: true",
                             more=depth(limit.value.si - still.si)),
    )  # fmt: skip
