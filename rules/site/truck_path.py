"""The truck drives over nothing that breaks under it.

What is compared
    The distance from the middle of the truck's path to each place it must keep off, with 5 ft: half of a lane of 10 ft.
    The working gives the weight of the loaded truck.
Why it matters
    Ten yards and the truck weigh 35 tons. A septic tank caves in under them, an old walk breaks, a thin drive sinks at
    its edge, and the next bill is not for concrete.
When it does not apply
    No place to keep off is written.
How to put it right
    Stake the path and drive round, have the pump reach in from the street, or bring smaller trucks and plank the way.
    Soft ground after rain is such a place too.
Where sources differ
    A lane of 10 to 12 ft and a truck of 27,000 to 30,000 lb are common practice.
"""

from __future__ import annotations

from slabwright.formulas.ordering import load_mass
from slabwright.formulas.units import POUND, YARD3
from slabwright.rulebook.kit import *

TITLE = "A path that carries the truck"
LIMITS = (
    Limit("clear_at_least", "5 ft", Kind.LENGTH, "hold", Cite("common-practice"), ("4 ft", "30 ft"),
          "distance from the middle of the path to a place to keep off"),
)  # fmt: skip
EMPTY = 30000 * POUND  # kg of an empty mixer, the heavy end, `common-practice`
USUAL = 10 * YARD3  # m3 in a truck where the file gives none


def loaded(load: float) -> float:
    """Mass in kg of a truck with ``load`` m3 of concrete."""
    return load_mass(load) + EMPTY


WORKED = (
    Worked("10 yd3 in a heavy truck", mass(70500 * POUND), lambda: loaded(10 * YARD3), 1.0, Cite("common-practice"),
           "or-truck-weight"),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each place against the path."""
    site, order, limit = plan.design.site, plan.design.order, limits.clear_at_least
    if not site.keep_off:
        does_not_apply("no place to keep off is written (site.keep_off)")
    path = plan.given("site.truck_path")
    load = volume(order.truck.si if order and order.truck else USUAL)
    weight = mass(loaded(load.si))
    for zone in site.keep_off:
        clear = length(plan.site.apart(path, zone.corners))
        over, off = clear.si <= 1e-6, length(limit.value.si - clear.si)
        ring = tuple((corner.x, corner.y) for corner in (*zone.corners, zone.corners[0]))
        yield compare(
            Spot(zone.name, zone.place, ring), clear, limit,
            says=lambda: words("the truck, {weight} of it, drives over {zone}", weight=weight, zone=zone.name) if over
            else words("the truck passes {clear} from {zone}", clear=clear, zone=zone.name),
            working=lambda: step("loaded truck", "concrete + truck",
                                 words("{v} x {4050 lb/yd3|2403 kg/m3} + {t}", v=load, t=mass(EMPTY)), weight),
            decide=lambda: words("lead the path round {zone}, {write} clear of it", zone=zone.name, write=limit.value)
            if over else words("move the path {off} away from {zone}", off=off, zone=zone.name),
        )  # fmt: skip
