"""Fine fibre is dosed to work in the first hours, and nothing is saved on its account.

What is compared
    The dose of fine synthetic fibre with 1.5 lb/yd3; and the number of things it is to stand in for (joints, steel,
    thickness), as in_place_of says, with none. Of coarse and steel fibre the same is asked, as a note.
Why it matters
    Fine fibre holds the concrete together while it is still wet enough to tear. By next morning it is of no use. A
    slab whose joints were left out because of the fibre has the same cracks as any other, with hairs in them.
When it does not apply
    No fibre is given.
How to put it right
    Order the bag that holds a whole dose for each yard, and draw joints, steel and thickness as if there were none.
    Where coarse or steel fibre is to replace steel, let its maker or an engineer work out the dose for this slab.
Where sources differ
    The guide specification and the trade leaflet agree: fine fibre saves no joints, adds no strength, prevents no curl
    and replaces no bars. Sellers say otherwise. The specification prints 1.5 lb/yd3 and a metric figure three times as
    high; 0.89 kg/m3 is what the pounds come to. No dose is printed here for coarse and steel fibre.
"""

from __future__ import annotations

from collections.abc import Iterator

from slabwright.plan.plan import Plan
from slabwright.rulebook.kit import APPLIES, Cite, Finding, Limit, Limits, Margin, Relevance, Spot, does_not_apply
from slabwright.text.words import words
from slabwright.units.quantity import Kind, count, unit_weight

TITLE = "Fibre for what fibre does"
LIMITS = (
    Limit("saved_by_fine_at_most", "0", Kind.COUNT, "caution", Cite("nrmca-cip-24"), ("0", "1"),
          "things that fine synthetic fibre is to stand in for"),
    Limit("dose_at_least", "1.5 lb/yd3", Kind.UNIT_WEIGHT, "caution", Cite("ufgs-03300n"), ("0.5 lb/yd3", "8 lb/yd3"),
          "dose of fine synthetic fibre"),
    Limit("saved_by_coarse_at_most", "0", Kind.COUNT, "note", Cite("common-practice"), ("0", "1"),
          "things that coarse or steel fibre is to stand in for"),
)  # fmt: skip
WORKED = ()
LOST = {
    "joints": "fibre does not tell the slab where to crack, and joints do",
    "steel": "fibre does not hold an open crack shut, and steel does",
    "thickness": "fibre does not make a thin slab carry more",
}


def relevant(plan: Plan) -> Relevance:
    """There is fibre."""
    steel = plan.design.reinforcement
    return APPLIES if steel and steel.fibre else does_not_apply("no fibre is written (reinforcement.fibre)")


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """What it is to save, then how much of it there is."""
    steel = plan.design.reinforcement
    if steel is None or steel.fibre is None:
        return
    fibre, at = steel.fibre, Spot("the fibre", steel.fibre.place)
    fine, saved = fibre.kind == "micro synthetic", count(1 if fibre.in_place_of else 0)
    limit = limits.saved_by_fine_at_most if fine else limits.saved_by_coarse_at_most
    if limit.met(saved) or fibre.in_place_of is None:
        yield Margin(at, saved, limit)
    else:
        what = fibre.in_place_of
        nobody = words("nobody has worked out whether the fibre can stand in for {saved} here", saved=what)
        says = words(LOST[what]) if fine else nobody
        to_pass = words("draw the {saved} as if there were no fibre, and leave in_place_of out", saved=what)
        yield Finding(at, says, saved, limit, (), to_pass)
    if not fine:
        return
    least = limits.dose_at_least
    if least.met(fibre.dose):
        yield Margin(at, fibre.dose, least)
        return
    more = unit_weight(least.value.si - fibre.dose.si)
    says = words("so little fibre does not hold the fresh concrete together")
    yield Finding(at, says, fibre.dose, least, (), words("order {write}: {more} more", write=least.value, more=more))
