"""What the crew wants wetter than it is ordered is ordered that way, and not made so with the hose on the truck.

What is compared
    Works out the strength that is lost where concrete is placed at a greater slump than it is ordered: a gallon of
    water in each yard for an inch of slump, some 200 psi for a gallon. It compares the loss with nothing, and with 200
    psi.
Why it matters
    Water that the cement does not need leaves again, and what stays behind is a sponge. It costs strength, adds
    shrinkage, lifts the air out of tune, and nobody writes it down. The slab scales where the last load was placed.
When it does not apply
    The slump it is placed at is not written: then it is placed as it comes.
How to put it right
    Order the slump that is wanted, by admixture. One adjustment before discharge is the plant's, within the water of
    the ticket, and 30 turns of the drum.
Where sources differ
    One answer in a trade magazine puts the loss at 200 to 400 psi for a gallon, another at 150 to 200 psi with a tenth
    more shrinkage. 200 is in both.
"""

from __future__ import annotations

from slabwright.formulas.mix import GALLON_STRENGTH_LOSS, WATER_PER_GALLON
from slabwright.formulas.units import INCH, PSI, YARD3
from slabwright.rulebook.kit import *

TITLE = "No water from the hose"
EACH_POUR = True
LIMITS = (
    Limit("lost_at_most", "200 psi", Kind.STRESS, "caution", Cite("trade-qa-water"), ("0 psi", "800 psi"),
          "strength lost to water added on site: that of {one gallon in each yard|5 L in each m3}"),
    Limit("lost_preferred_at_most", "0 psi", Kind.STRESS, "note", Cite("trade-qa-water"), ("0 psi", "800 psi"),
          "strength lost to water added on site"),
)  # fmt: skip
A_GALLON = WATER_PER_GALLON / YARD3  # kg/m3, a gallon in each yard: an inch of slump, `trade-qa-water`
LOST = 200 * PSI  # Pa for a gallon in each yard; between both ends of `trade-qa-water`


def water_for(slump: float) -> float:
    """Water in kg/m3 that raises the slump by ``slump`` m."""
    return slump / INCH * A_GALLON


def lost_to(water: float) -> float:
    """Strength in Pa lost to ``water`` kg/m3."""
    return water / A_GALLON * min(max(LOST, GALLON_STRENGTH_LOSS[0]), GALLON_STRENGTH_LOSS[1])


STEEP = 0.06  # slope on which wet concrete begins to walk downhill (common practice)
FLOWS = (("mid-range", 6 * INCH), ("high-range", 8 * INCH))  # slump that a reducer gives, `aci-301-admixture`
WORKED = (
    Worked("one gallon in a yard, strength", stress(200 * PSI), lambda: lost_to(water_for(INCH)), 1.0,
           Cite("trade-qa-water")),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The strength that goes with the water."""
    if plan.design.pour is None or plan.design.pour.slump is None:
        does_not_apply("the slump it is placed at is not written (pour.slump)")
    placed, ordered = plan.design.pour.slump, plan.given("mix.slump")
    water = unit_weight(water_for(max(placed.si - ordered.si, 0.0)))
    lost = stress(lost_to(water.si))
    yield compare(
        plan.spot("the slump on site", "pour.slump"), lost, limits.lost_at_most, limits.lost_preferred_at_most,
        says=lambda: words("from {o} to {p} it takes water, and water takes strength", o=ordered, p=placed),
        working=lambda: (
            step("water added", "{8.33 lb/yd3 for an inch|4.94 kg/m3 for 25.4 mm} of slump",
                 words("({p} - {o}) x {8.33 lb/yd3 / 1 in|4.94 kg/m3 / 25.4 mm}", p=placed, o=ordered), water),
            step("strength lost", "{200 psi for 8.33 lb/yd3|1.38 MPa for 4.94 kg/m3}",
                 words("{w} x {200 psi / 8.33 lb/yd3|1.38 MPa / 4.94 kg/m3}", w=water), lost),
        ),
        remedy=lambda: _ordered(plan, ordered, placed),
    )  # fmt: skip


def _ordered(plan: Plan, ordered: Amount, placed: Amount) -> list[Remedy]:
    """The slump ordered that is wanted, with the admixture that gives it; or none but what is ordered."""
    by_admixture = words("order a slump of {write}, by admixture", write=placed)
    slump = write_slump(plan.design.mix.consistence, placed, by_admixture)
    reducer = next((name for name, most in FLOWS if meets(placed.si, most, "most")), None)
    if reducer and plan.design.mix.water_reducer in (None, "none"):
        slump = together(slump, write("mix.water_reducer", reducer, slump.says), says=words(
            f"order a slump of {{write}}, by a {reducer} water reducer", write=placed))  # fmt: skip
    as_ordered = words("place it at {write}, as it is ordered", write=ordered)
    kept = write("pour.slump", ordered, as_ordered)
    steep = any(not meets(facet.slope, STEEP, "most") for facet in plan.finish.facets)
    return [kept] if steep else [slump, kept]  # wet concrete walks down a ramp
