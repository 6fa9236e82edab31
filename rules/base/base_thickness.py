"""Under the slab lies a base, thick enough for the soil and the frost.

What is compared
    The thickness of the base with 4 in: over clay, silt and loam, where it freezes, and under floors of buildings; and,
    as a note, under any other slab. Metric plans may write 100 mm.
Why it matters
    A base carries the slab over soft spots and lets water out from under it. On bare clay the slab rides up in a wet
    spring and down in a dry summer; where it freezes, ice grows under it. Two years on, one panel stands an inch high.
When it does not apply
    The soil under a slab in the open is clean sand or gravel, which drains by itself.
How to put it right
    Dig the difference deeper and fill it with clean stone, wetted and compacted in layers. Raising the slab instead
    gives the fall at walls and doors away.
Where sources differ
    The code asks 4 in only under floors below ground, and none on well-drained soil (recalled); a soils report asks
    4 in of gravel under floors. For slabs in the open nothing is printed: 4 in there is common practice.
"""

from __future__ import annotations

from slabwright.formulas.soils import drains, soil_family
from slabwright.formulas.thickness import as_metric_work_prints
from slabwright.rulebook.kit import *

TITLE = "A base under the slab"
LIMITS = (
    Limit("under_floor_at_least", "4 in", Kind.DEPTH, "caution", Cite("geotechnical-everett"), ("0 in", "24 in"),
          "thickness of the base under a floor of a building"),
    Limit("on_poor_ground_at_least", "4 in", Kind.DEPTH, "caution", Cite("common-practice"), ("0 in", "24 in"),
          "thickness of the base over clay, silt or loam, and where it freezes"),
    Limit("thickness_at_least", "4 in", Kind.DEPTH, "note", Cite("common-practice"), ("0 in", "24 in"),
          "thickness of the base under any other slab"),
)  # fmt: skip
WORKED = ()


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The base against the limit for what lies under it."""
    site = plan.design.site
    if plan.outdoors and site.soil and drains(site.soil.kind):
        does_not_apply("the soil is sand or gravel, which drains by itself")
    if site.base is None or site.base.thickness is None:
        plan.all_given("site.base.thickness", *([] if site.soil else ["site.soil.kind"]))
    shown = plan.given("site.base.thickness")
    limit, over = limits.thickness_at_least, "the ground"
    if not plan.outdoors:
        limit, over = limits.under_floor_at_least, "a floor"
    elif site.soil and soil_family(site.soil.kind) in ("clay", "loamy soil", "topsoil"):
        limit, over = limits.on_poor_ground_at_least, site.soil.kind
    elif site.freezing in ("moderate", "severe"):
        limit, over = limits.on_poor_ground_at_least, "ground that freezes"
    metric = plan.system == "metric" and limit.layer == "published"
    asked = depth(as_metric_work_prints(limit.value.si) if metric else limit.value.si)
    more = depth(asked.si - shown.si)
    where = "over" if plan.outdoors else "under"
    yield compare(
        plan.spot("the base", "site.base"), shown, limit, asked=asked,
        says=lambda: words("{d} of base is little " + where + " {over}", d=shown, over=over),
        working=lambda: step("short by", "asked - thickness", words("{a} - {d}", a=asked, d=shown), more),
        remedy=lambda: write("site.base.thickness", asked,
                             words("make the base {write} thick: {more} more", write=asked, more=more)),
    )  # fmt: skip
