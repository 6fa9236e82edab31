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

from collections.abc import Iterator

from slabwright.formulas.ordering import load_mass
from slabwright.formulas.units import POUND, YARD3
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
    Worked,
    compared,
    does_not_apply,
    not_shown,
    step,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, length, mass, volume

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


def relevant(plan: Plan) -> Relevance:
    """There is something to keep off, and a path."""
    site = plan.design.site
    if not site.keep_off:
        return does_not_apply("no place to keep off is written (site.keep_off)")
    if not site.truck_path:
        add = "site.truck_path: the way of the truck, such as [[12, 80], [12, 42]]"
        return not_shown(add, place=site.keep_off[0].place)
    return APPLIES


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """Each place against the path."""
    site, order, asked = plan.design.site, plan.design.order, limits.clear_at_least.value
    load = volume(order.truck.si if order and order.truck else USUAL)
    weight = mass(loaded(load.si))
    for zone in site.keep_off:
        clear = length(plan.site.apart(site.truck_path, zone.corners))
        off = length(asked.si - clear.si)
        says = words("the truck passes {clear} from {zone}", clear=clear, zone=zone.name)
        to_pass = words("move the path {off} away from {zone}", off=off, zone=zone.name)
        if clear.si <= 1e-6:
            says = words("the truck, {weight} of it, drives over {zone}", weight=weight, zone=zone.name)
            to_pass = words("lead the path round {zone}, {write} clear of it", zone=zone.name, write=asked)
        numbers = words("{v} x {4050 lb/yd3|2403 kg/m3} + {t}", v=load, t=mass(EMPTY))
        working = step("loaded truck", "concrete + truck", numbers, weight)
        ring = tuple((corner.x, corner.y) for corner in (*zone.corners, zone.corners[0]))
        yield compared(limits, ("clear_at_least",), Spot(zone.name, zone.place, ring), clear, says, to_pass, (working,))
