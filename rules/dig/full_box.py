"""A full box of what is dug weighs no more than the truck may carry.

What is compared
    Works out the weight of a box filled level, at the loose weight of what is hauled, and compares it with the payload
    of the truck, or with what the tip takes if that is less. Broken concrete is weighed by itself, at 2,500 lb to the
    yard.
Why it matters
    Soil is counted by the yard and paid by the ton. A box filled to the rim is turned back at the scale. The trips
    were planned by volume, and it takes half as many again.
When it does not apply
    Nothing is said of hauling.
How to put it right
    Fill the box to the line the weight allows, and count trips by weight. Wet soil weighs more again.
"""

from __future__ import annotations

from slabwright.formulas.hauling import USUAL_SWELL, mass_of, trips_by_mass, trips_by_volume, unit_weights
from slabwright.formulas.soils import WEIGHED_AS, soil_family
from slabwright.formulas.units import LB_PER_YD3, YARD3
from slabwright.rulebook.kit import *

TITLE = "Boxes filled by weight"
LIMITS = (
    Limit("full_box_at_most", "1", Kind.RATIO, "caution", Cite("geometry"), ("0.5", "1.2"),
          "weight of a full box over what the truck may carry"),
)  # fmt: skip
BROKEN = 2500 * LB_PER_YD3  # kg/m3 loose, the heavy end of `estimating-practice`
WORKED = (
    Worked("10 yd3 of loose earth", mass(24800 * 0.45359237), lambda: mass_of(10.0, 2480 * 0.45359237), 1.0,
           Cite("nunnally", "Table 2-5"), "ex-10yd-earth"),
    Worked("480 ft2 of clay, 10 in deep: trips by volume", count(2), lambda: trips_by_volume(19.3, 10), 1e-9,
           Cite("geometry"), "ex-trips"),
    Worked("the same by weight, 5 tons a trip", count(5), lambda: trips_by_mass(22.2, 5), 1e-9, Cite("geometry"),
           "ex-trips"),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """A box of soil, and one of broken concrete where there is any."""
    dig = plan.design.dig
    if dig is None or not (dig.box or dig.payload or dig.tip):
        does_not_apply("nothing is said of hauling (dig.box, dig.payload)")
    loose, swell = _loose(plan), _swell(plan)
    unknown = () if loose else ("site.soil.bank_weight", "site.soil.swell")
    box, payload, *_ = plan.all_given("dig.box", "dig.payload", *unknown)
    payload = min(payload, (dig.tip and dig.tip.load_at_most) or payload, key=lambda one: one.si)
    heap = plan.shape.area * dig.depth.si * (1 + swell) if dig.depth else 0.0
    loads = [("soil", loose or 0.0, heap)] + ([("broken concrete", BROKEN, 0.0)] if dig.broken_concrete else [])
    for what, weight, dug in loads:
        full = mass(mass_of(box.si, weight))
        part = ratio(full.si / payload.si)
        size = 0.1 if plan.home == "metric" else YARD3 / 4
        load = volume(payload.si * limits.full_box_at_most.value.si / weight // size * size)
        yield compare(
            plan.spot(f"a box of {what}", "dig.box"), part, limits.full_box_at_most,
            says=lambda: words("a full box of {what} weighs {full}, and the truck may carry {p}", what=what, full=full,
                               p=payload),
            working=lambda: (
                step("a full box", "box x loose weight", words("{b} x {w}", b=box, w=unit_weight(weight)), full),
                step("over what it may carry", "full box / payload", words("{f} / {p}", f=full, p=payload), part),
                *_trips(dug, weight, box, payload),
            ),
            remedy=lambda: write("dig.box", load, words("load {load} at a time, and count trips by weight",
                                                        load=load)),
        )  # fmt: skip


def _loose(plan: Plan) -> float | None:
    """Loose weight of the soil, kg/m3: bank weight over one and the swell, as written or as tabled for its kind."""
    soil = plan.design.site.soil
    row = WEIGHED_AS.get(soil_family(soil.kind) or "solid rock") if soil else None
    if soil is None or (row is None and not (soil.bank_weight and soil.swell)):
        return None
    bank = soil.bank_weight.si if soil.bank_weight else unit_weights(row or "common earth").bank
    return bank / (1 + _swell(plan))


def _swell(plan: Plan) -> float:
    """Swell of the soil as a share, as written or as tabled for its kind."""
    soil = plan.design.site.soil
    row = WEIGHED_AS.get(soil_family(soil.kind) or "common earth", "common earth") if soil else "common earth"
    return soil.swell.si if soil and soil.swell else USUAL_SWELL[row]


def _trips(heap: float, loose: float, box: Amount, payload: Amount) -> tuple[Step, ...]:
    """Trips for a heap in m3 loose, by volume and by weight; none for no heap."""
    if not heap:
        return ()
    weight = mass(mass_of(heap, loose))
    return (
        step("trips by volume", "loose volume / box, up", words("{v} / {b}", v=volume(heap), b=box),
             count(trips_by_volume(heap, box.si))),
        step("trips by weight", "weight / payload, up", words("{w} / {p}", w=weight, p=payload),
             count(trips_by_mass(weight.si, payload.si))),
    )  # fmt: skip
