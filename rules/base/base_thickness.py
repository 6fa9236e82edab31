"""A base lies under the slab, thick enough for the soil and the frost.

What is compared
    Compares the thickness of the base with 4 in under floors of buildings. Over clay, silt and loam, and where it
    freezes, it compares it with 4 in as a note and with 3 in as a caution; under any other slab, and over sandy loam or
    silty sand that does not freeze, with 2 in. Metric plans may write 100, 75 and 50 mm. A base that is written as
    topsoil, clay, silt, loam, earth or sod, with no sand or stone in it, is none, however thick it is: a caution.
Why it matters
    A base carries the slab over soft spots and lets water out from under it. On bare clay the slab rides up in a wet
    spring and down in a dry summer; where it freezes, ice grows under it. Two years on, one panel stands an inch high.
When it does not apply
    The soil under a slab in the open is clean sand or gravel, which drains by itself, or old paving stays under it.
How to put it right
    Dig the difference deeper and fill it with clean stone, wetted and compacted in layers. Raising the slab instead
    gives the fall at walls and doors away. Soil that was spread for a base comes out again, roots and all.
Where sources differ
    The code asks 4 in only under floors below ground, and none on well-drained soil (recalled); a soils report asks
    4 in of gravel under floors. For slabs in the open nothing is printed: the trade lays 4 in, and where it is dry and
    warm less; 3 in and 2 in are common practice. That a base is clean sand, gravel or stone is the code's word of
    floors below ground, and common practice anywhere.
"""

from __future__ import annotations

from slabwright.formulas.soils import drains, no_base, sandy, soil_family
from slabwright.rulebook.kit import *

TITLE = "A base under the slab"
LIMITS = (
    Limit("under_floor_at_least", "4 in", Kind.DEPTH, "caution", Cite("geotechnical-everett"), ("0 in", "24 in"),
          "thickness of the base under a floor of a building"),
    Limit("on_poor_ground_at_least", "3 in", Kind.DEPTH, "caution", Cite("common-practice"), ("0 in", "24 in"),
          "thickness of the base over clay, silt or loam, and where it freezes"),
    Limit("usual_on_poor_ground_at_least", "4 in", Kind.DEPTH, "note", Cite("common-practice"), ("0 in", "24 in"),
          "usual thickness of the base over clay, silt or loam, and where it freezes"),
    Limit("thickness_at_least", "2 in", Kind.DEPTH, "note", Cite("common-practice"), ("0 in", "24 in"),
          "thickness of the base under any other slab"),
    Limit("of_soil_at_most", "0 in", Kind.DEPTH, "caution", Cite("irc-r506.2.2"), ("0 in", "24 in"),
          "thickness of a base that is topsoil, clay, silt or earth"),
)  # fmt: skip
WORKED = ()
POOR = ("clay", "loamy soil", "topsoil")


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """What the base is made of, then its thickness against the limit for what lies under it."""
    site = plan.design.site
    soil = bool(site.base and no_base(site.base.material))
    if plan.outdoors and site.soil and drains(site.soil.kind) and not soil:
        does_not_apply("the soil is sand or gravel, which drains by itself")
    if plan.outdoors and site.base and site.base.old_paving:
        does_not_apply("old paving stays under it")
    if site.base is None or site.base.thickness is None:
        plan.all_given("site.base.thickness", *([] if site.soil else ["site.soil.kind"]))
    shown = plan.given("site.base.thickness")
    poor = [limits.on_poor_ground_at_least, limits.usual_on_poor_ground_at_least]
    asking, over = [limits.thickness_at_least], "the ground"
    if not plan.outdoors:
        asking, over = [limits.under_floor_at_least], "a floor"
    elif site.soil and soil_family(site.soil.kind) in POOR and not sandy(site.soil.kind):
        asking, over = poor, site.soil.kind
    elif site.freezing in ("moderate", "severe"):
        asking, over = poor, "ground that freezes"
    limit, most = next((one for one in asking if not one.met(shown)), asking[-1]), asking[-1].value
    if site.base and soil:
        yield _of_soil(plan, site.base.material, shown, most, limits.of_soil_at_most)
        return
    where = "over" if plan.outdoors else "under"
    yield compare(
        plan.spot("the base", "site.base"), shown, limit,
        says=lambda: words("{d} of base is little " + where + " {over}", d=shown, over=over),
        working=lambda: step("short by", "asked - thickness", words("{a} - {d}", a=limit.value, d=shown),
                             depth(limit.value.si - shown.si)),
        remedy=lambda: write("site.base.thickness", most, words("make the base {write} thick: {more} more", write=most,
                                                                more=depth(most.si - shown.si))),
    )  # fmt: skip


def _of_soil(plan: Plan, material: str, thick: Amount, least: Amount, limit: InForce) -> Conclusion:
    """A base of soil, which moves as the ground under it does."""
    stone = thick if meets(thick.si, least.si, "least") else least
    dig = words("dig the {material} out, and lay {d} of crushed stone in its place", material=material, d=stone)
    deeper = [write("site.base.thickness", stone, dig)] if stone is least else []
    return compare(
        plan.spot("the base", "site.base"), thick, limit,
        says=lambda: words("{material} is no base: it settles, and holds water under the slab", material=material),
        remedy=lambda: together(write("site.base.material", "crushed stone", dig), *deeper, says=dig),
    )  # fmt: skip
