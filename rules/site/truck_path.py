"""The truck drives over nothing that breaks under it.

What is compared
    The wheel path reaches half of a truck of 8 1/2 ft to each side of the line that is drawn for it. The rule compares
    it with each place it must keep off: driving over one is a hold. The wheels must pass a septic tank, a drain field,
    a cistern or a well at 10 ft. The working gives the weight of the loaded truck.
Why it matters
    Ten yards and the truck weigh about 35 tons. A septic tank caves in under them, with the truck and who stands
    beside it; the pipes of a drain field are crushed and the field is done; an old walk breaks, a thin drive sinks at
    its edge.
When it does not apply
    No place to keep off is written.
How to put it right
    Stake the path and drive round, have the pump reach in from the street, or bring smaller trucks and plank the way:
    never over a tank. Soft ground after rain is such a place too.
Where sources differ
    Codes forbid paving and heavy machines over a drain field (read), and no document gives a distance for trucks: 10 ft
    is common practice, and a caution. The width is that of road vehicles, a truck of 27,000 to 30,000 lb common
    practice.
"""

from __future__ import annotations

from slabwright.formulas.ordering import load_mass
from slabwright.formulas.units import FOOT, POUND, YARD3
from slabwright.rulebook.kit import *

TITLE = "A path that carries the truck"
LIMITS = (
    Limit("under_wheels_at_most", "0 in", Kind.LENGTH, "hold", Cite("common-practice"), ("0 in", "12 in"),
          "how far the wheels run over a place to keep off"),
    Limit("from_tank_at_least", "10 ft", Kind.LENGTH, "caution", Cite("common-practice"), ("0 ft", "50 ft"),
          "distance from the wheels to a tank, a drain field or a well"),
)  # fmt: skip
HALF = 4.25 * FOOT  # m from the middle of a truck to the outside of its wheels, `common-practice`
EMPTY = 30000 * POUND  # kg of an empty mixer, the heavy end, `common-practice`
USUAL = 10 * YARD3  # m3 in a truck where the file gives none
HOLLOW = (
    "tank",
    "septic",
    "field",
    "leach",
    "cesspool",
    "cistern",
    "well",
    "vault",
    "soakaway",
)  # caves in, or is crushed


def loaded(load: float) -> float:
    """Mass in kg of a truck with ``load`` m3 of concrete."""
    return load_mass(load) + EMPTY


WORKED = (
    Worked("10 yd3 in a heavy truck", mass(70500 * POUND), lambda: loaded(10 * YARD3), 1.0, Cite("common-practice"),
           "or-truck-weight"),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each place against the path."""
    site, order = plan.design.site, plan.design.order
    if not site.keep_off:
        does_not_apply("no place to keep off is written (site.keep_off)")
    path = plan.given("site.truck_path")
    load = volume(order.truck.si if order and order.truck else USUAL)
    weight = mass(loaded(load.si))

    def working() -> Step:
        numbers = words("{v} x {4050 lb/yd3|2403 kg/m3} + {t}", v=load, t=mass(EMPTY))
        return step("loaded truck", "concrete + truck", numbers, weight)

    for zone in site.keep_off:
        clear = plan.site.apart(path, zone.corners) - HALF
        ring = tuple((corner.x, corner.y) for corner in (*zone.corners, zone.corners[0]))
        at, hollow = Spot(zone.name, zone.place, ring), any(word in zone.name.casefold() for word in HOLLOW)
        keep = limits.from_tank_at_least.value
        yield compare(
            at, length(max(-clear, 0.0)), limits.under_wheels_at_most,
            says=lambda: words("the wheels of the truck, {weight} of it, run over {zone}", weight=weight,
                               zone=zone.name),
            working=working,
            decide=lambda: words("lead the wheels round {zone}, {keep} clear of it, or pump from where they are",
                                 zone=zone.name, keep=keep) if hollow else
            words("lead the wheels round {zone}, or pump from where they are clear of it", zone=zone.name),
        )  # fmt: skip
        if hollow and meets(clear, 0.0, "least"):
            away = length(clear)
            yield compare(
                at, away, limits.from_tank_at_least,
                says=lambda: words("the wheels of the truck pass {away} from {zone}", away=away, zone=zone.name),
                working=working,
                decide=lambda: words("keep the wheels {keep} from {zone}: {off} more", keep=keep, zone=zone.name,
                                     off=length(keep.si - away.si)),
            )  # fmt: skip
