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

from collections.abc import Iterator

from slabwright.formulas.soils import drains, soil_family
from slabwright.formulas.thickness import as_metric_work_prints
from slabwright.plan.plan import Plan
from slabwright.rulebook.kit import (
    APPLIES,
    Cite,
    Finding,
    Limit,
    Limits,
    Margin,
    Relevance,
    Spot,
    does_not_apply,
    not_shown,
    step,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, depth, meets

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


def relevant(plan: Plan) -> Relevance:
    """The base is known, and the soil does not drain by itself."""
    site = plan.design.site
    if plan.outdoors and site.soil and drains(site.soil.kind):
        return does_not_apply("the soil is sand or gravel, which drains by itself")
    if site.base is None or site.base.thickness is None:
        base = "site.base: what the slab lies on, such as {material: crushed stone, thickness: {4 in|100 mm}}"
        add = [base] if site.base is None else ["site.base.thickness: how thick it is, such as {4 in|100 mm}"]
        add += [] if site.soil else ["site.soil.kind: what the soil is, such as silty sand"]
        return not_shown(*add, place=plan.place("site.base", "site", "thickness"))
    return APPLIES


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """The base against the limit for what lies under it."""
    site = plan.design.site
    if site.base is None or site.base.thickness is None:
        return
    name, over = "thickness_at_least", "the ground"
    if not plan.outdoors:
        name, over = "under_floor_at_least", "a floor"
    elif site.soil and soil_family(site.soil.kind) in ("clay", "loamy soil", "topsoil"):
        name, over = "on_poor_ground_at_least", site.soil.kind
    elif site.freezing in ("moderate", "severe"):
        name, over = "on_poor_ground_at_least", "ground that freezes"
    limit, shown = limits[name], site.base.thickness
    metric = plan.system == "metric" and limit.layer == "published"
    asked = depth(as_metric_work_prints(limit.value.si) if metric else limit.value.si)
    at = Spot("the base", site.base.place)
    if meets(shown.si, asked.si, "least"):
        yield Margin(at, shown, limit, asked)
        return
    where = "under" if over == "a floor" else "over"
    more = depth(asked.si - shown.si)
    working = step("short by", "asked - thickness", words("{a} - {d}", a=asked, d=shown), more)
    yield Finding(
        at=at,
        says=words("{d} of base is little " + where + " {over}", d=shown, over=over),
        shown=shown,
        limit=limit,
        working=(working,),
        to_pass=words("make the base {asked} thick: {more} more", asked=asked, more=more),
        asked=asked,
    )
