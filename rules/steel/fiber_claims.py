"""Fine fiber is dosed to work in the first hours, and nothing is saved on its account.

What is compared
    Compares the dose of fine synthetic fiber with 1/2 lb/yd3 and with 1.5 lb/yd3. It also counts the things that the
    fiber is to stand in for (joints, steel, thickness), as `in_place_of` says: there should be none. Of coarse and
    steel fiber the same is asked, as a note.
Why it matters
    Fine fiber holds the concrete together while it is still wet enough to tear. By next morning it is of no use. A
    slab whose joints were left out because of the fiber has the same cracks as any other, with hairs in them.
When it does not apply
    No fiber is given.
How to put it right
    Order the bag that holds a whole dose for each yard, and draw joints, steel and thickness as if there were none.
    Where coarse or steel fiber is to replace steel, let its maker or an engineer work out the dose for this slab.
Where sources differ
    The guide specification and the trade leaflet agree: fine fiber saves no joints, adds no strength, prevents no curl
    and replaces no bars. Sellers say otherwise. Makers' tables begin at 0.5 lb/yd3 for single threads and reach
    1.5 lb/yd3, so less than the specification is a note only. The specification prints 1.5 lb/yd3 and a metric figure
    three times as high; 0.89 kg/m3 is what the pounds come to. No dose is printed here for coarse and steel fiber.
"""

from __future__ import annotations

from slabwright.rulebook.kit import *

TITLE = "Fiber for what fiber does"
LIMITS = (
    Limit("saved_by_fine_at_most", "0", Kind.COUNT, "caution", Cite("nrmca-cip-24"), ("0", "1"),
          "things that fine synthetic fiber is to stand in for"),
    Limit("least_dose_at_least", "0.5 lb/yd3", Kind.UNIT_WEIGHT, "caution", Cite("supplier-practice"),
          ("0.25 lb/yd3", "8 lb/yd3"), "dose under which fine synthetic fiber is not sold to be of use"),
    Limit("dose_at_least", "1.5 lb/yd3", Kind.UNIT_WEIGHT, "note", Cite("ufgs-03300n"), ("0.5 lb/yd3", "8 lb/yd3"),
          "whole dose of fine synthetic fiber"),
    Limit("saved_by_coarse_at_most", "0", Kind.COUNT, "note", Cite("common-practice"), ("0", "1"),
          "things that coarse or steel fiber is to stand in for"),
)  # fmt: skip
WORKED = ()
LOST = {
    "joints": "fiber does not tell the slab where to crack, and joints do",
    "steel": "fiber does not hold an open crack shut, and steel does",
    "thickness": "fiber does not make a thin slab carry more",
}


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """What it is to save, then how much of it there is."""
    steel = plan.design.reinforcement
    if steel is None or steel.fiber is None:
        does_not_apply("no fiber is written (reinforcement.fiber)")
    fiber, what = steel.fiber, steel.fiber.in_place_of or ""
    fine, least = fiber.kind == "micro synthetic", limits.dose_at_least
    yield compare(
        Spot("the fiber", fiber.place), count(1 if what else 0),
        limits.saved_by_fine_at_most if fine else limits.saved_by_coarse_at_most,
        says=lambda: words(LOST[what]) if fine else words(
            "nobody has worked out whether the fiber can stand in for {saved} here", saved=what),
        remedy=lambda: drop(f"{fiber.place.path}.in_place_of", words(
            "draw the {saved} as if there were no fiber, and leave in_place_of out", saved=what)),
    )  # fmt: skip
    whole = round_up(unit_weight(least.value.si), 0.1) if plan.home == "metric" else least.value
    if fine:
        enough = limits.least_dose_at_least.met(fiber.dose)
        yield compare(
            Spot("the fiber", fiber.place), fiber.dose, limits.least_dose_at_least, least,
            says=lambda: words("this is less than a whole dose of fiber" if enough else
                               "so little fiber does not hold the fresh concrete together"),
            remedy=lambda: write(f"{fiber.place.path}.dose", whole, words(
                "order {write}: {more} more", write=whole, more=unit_weight(whole.si - fiber.dose.si))),
        )  # fmt: skip
