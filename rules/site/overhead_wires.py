"""Truck and boom stay away from wires overhead.

What is compared
    Compares the height of each wire over the way of the truck with 14 ft. Where a pump with a boom comes, it compares
    the distance of each wire from the slab and from where the truck stands, measured level, with 20 ft.
Why it matters
    Concrete, boom and hose lead current, and so does whoever holds the hose. A boom need not touch: the spark comes to
    it. A mixer that takes a service drop along brings the live end down on the crew.
When it does not apply
    No wire is written, or neither the way of the truck nor a boom comes near it.
How to put it right
    Ask the utility to switch the line off or cover it, days ahead. Or have a pump with its line on the ground, set up
    from the other side, and one person who does nothing but watch. Nobody measures a wire with a pole or a tape.
Where sources differ
    Safety rules for cranes begin to ask at 20 ft and set 10 ft as the least to 50 kV (recalled); 17 to 20 ft are usual
    for booms. The 14 ft of a mixer are common practice. These are cautions: the utility and the law decide.
"""

from __future__ import annotations

from slabwright.formulas.units import FOOT, INCH
from slabwright.rulebook.kit import *

TITLE = "Clear of wires overhead"
LIMITS = (
    Limit("over_truck_at_least", "14 ft", Kind.LENGTH, "caution", Cite("common-practice"), ("12 ft", "30 ft"),
          "height of a wire over the way of the truck"),
    Limit("boom_clear_at_least", "20 ft", Kind.LENGTH, "caution", Cite("crane-wires"), ("10 ft", "60 ft"),
          "distance of a wire from where a boom works"),
)  # fmt: skip
WORKED = ()
HALF = 4.25 * FOOT  # m from the middle of a truck to its side, `common-practice`
ON_THE_GROUND = 3 * INCH  # m, hose of a pump that has no boom, `pump-trade-text`


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each wire over the truck, then beside the boom."""
    site, order = plan.design.site, plan.design.order
    if not site.wires:
        does_not_apply("no wire overhead is written (site.wires)")
    boom = (
        order is not None
        and order.method == "pump"
        and not (order.hose and meets(order.hose.si, ON_THE_GROUND, "most"))
    )
    every = [(wire.name or f"wire {number}", wire) for number, wire in enumerate(site.wires, 1)]
    over = [
        (name, wire) for name, wire in every if site.truck_path and plan.site.crosses(site.truck_path, wire.along, HALF)
    ]
    if not over and not boom:
        does_not_apply("no truck drives under the wire, and no boom comes near it")
    if unknown := [name for name, wire in over if wire.height is None]:
        not_shown(f"site.wires, height: how high {unknown[0]} hangs over the way of the truck, such as {{18 ft|5.5 m}}",
                  place=over[0][1].place)  # fmt: skip
    for name, wire in over:
        height = wire.height or limits.over_truck_at_least.value
        yield compare(
            Spot(name, wire.place, tuple((point.x, point.y) for point in wire.along)), height,
            limits.over_truck_at_least,
            says=lambda: words("{wire} hangs {h} over the way of the truck", wire=name, h=height),
            decide=lambda: words("lead the truck round {wire}, or ask the utility", wire=name),
        )  # fmt: skip
    for name, wire in every if boom else []:
        off = length(plan.site.away(wire.along))
        yield compare(
            Spot(name, wire.place, tuple((point.x, point.y) for point in wire.along)), off, limits.boom_clear_at_least,
            says=lambda: words("a boom works within {off} of {wire}", off=off, wire=name),
            decide=lambda: words("ask the utility to switch {wire} off or cover it, or have a pump without a boom",
                                 wire=name),
        )  # fmt: skip
