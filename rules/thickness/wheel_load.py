"""The slab, as plain concrete, carries every wheel on it with something to spare.

What is compared
    Bending strength over the stress under each load, inside a panel and, unless the file says that wheels keep away, at
    a free edge and corner: a thickened one, if there is any. A granular base of 4 in and more adds to the ground. Two
    tyres of a pair count as one; one without a pressure, where another has one, is taken at 110 psi.
Why it matters
    A wheel does not break a slab; the same wheel again and again does. Each pass leaves a crack at the bottom a little
    longer, and two years later a corner the size of a door hangs loose.
When it does not apply
    No load is given.
How to put it right
    Thickness counts by its square, better concrete by its root. A thick edge is brought back over 3 ft.
Where sources differ
    One floor method takes 1.7 for light traffic to 2.0 for heavy, the Army 2.0 and a quarter added for impact; here it
    is 1.7. The edge is the form of 1948, 27 % over that of 1926. The building code's 7.5 root f'c serves for bending.
"""

from __future__ import annotations

from slabwright.design.model import Load
from slabwright.formulas.strength import rupture_modulus
from slabwright.formulas.subgrade import support_with_base
from slabwright.formulas.units import INCH, PCI, POUND_FORCE, PSI
from slabwright.formulas.wheel_thickness import EQUATIONS, Wheel, WheelPlace, least_thickness, wheel, wheel_stress
from slabwright.rulebook.kit import *

TITLE = "Strong enough for the wheels"
LIMITS = (
    Limit("breaking_at_least", "1", Kind.RATIO, "hold", Cite("common-practice"), ("0.8", "3"),
          "bending strength over stress at which the first pass may crack it"),
    Limit("lasting_at_least", "1.7", Kind.RATIO, "caution", Cite("pca-floor-method"), ("1", "4"),
          "bending strength over stress at which it lasts"),
)  # fmt: skip
HARD_TYRE = 110 * PSI  # Pa, `tyre-tables`: large motorhomes
WHERE: dict[WheelPlace, str] = {"interior": "inside a panel", "edge": "at a free edge", "corner": "at a free corner"}
CLASSIC = Wheel(10000 * POUND_FORCE, 6 * INCH, 4e6 * PSI, 100 * PCI)
WORKED = (
    Worked("10,000 lb on 10 in, edge", stress(279.4 * PSI), lambda: wheel_stress("edge", CLASSIC, 10 * INCH),
           0.05 * PSI, Cite("huang", "ch. 4"), "th-10000lb-edge-circle"),
    Worked("10,000 lb on 10 in, corner", stress(190.3 * PSI), lambda: wheel_stress("corner", CLASSIC, 10 * INCH),
           0.05 * PSI, Cite("huang", "ch. 4"), "th-10000lb-corner-1985"),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The worst place under each load; the edge is as deep as the shallowest thickened one."""
    loads = plan.design.loads
    if not loads:
        does_not_apply("no vehicle is written (loads)")
    strength, support = plan.all_given("mix.strength", "site.soil.support")
    if not any(load.tyre_pressure for load in loads):
        not_shown("loads, tyre_pressure: the pressure in the tyres, such as {65 psi|450 kPa}",
                  place=plan.place("loads"))  # fmt: skip
    base = plan.design.site.base
    k = support_with_base(
        support.si, base.thickness.si if base and base.thickness else 0.0, base.material if base else ""
    )
    free = (plan.thickness.along(piece.line) for piece in plan.edges.pieces if not piece.fixed_face)
    edge = min((deep for deep in free if deep > plan.thickness.design), default=plan.thickness.design)
    for load in loads:
        yield _judged(plan, limits, load, strength, k, edge)


def _judged(plan: Plan, limits: Limits, load: Load, strength: Amount, k: float, edge: float) -> Conclusion:
    tyre, at = load.tyre_pressure or pressure(HARD_TYRE), Spot(f"the {load.vehicle}", load.place)
    one = wheel(load.axle.si, load.wheels_per_axle, tyre.si, strength.si, k)
    depths: dict[WheelPlace, float] = {"interior": plan.thickness.design, "edge": edge, "corner": edge}
    rolls: list[WheelPlace] = ["interior"] if load.near_edge is False else [*WHERE]
    under = {place: stress(wheel_stress(place, one, depths[place])) for place in rolls}
    worst = max(rolls, key=lambda place: under[place].si)
    spare = ratio((rupture := stress(rupture_modulus(strength.si))).si / under[worst].si)
    what = "a pass of {vehicle} may crack the slab " if spare.si < 1 else "{vehicle} comes near cracking the slab "
    most = rupture.si / max(limit.value.si for limit in limits.values())
    return compare(
        at, spare, *limits.values(),
        says=lambda: words(what + WHERE[worst], vehicle=at.name),
        working=lambda: (
            step("load on one spot", "axle / wheels x wheels side by side",
                 words("{axle} / {n} x {m}", axle=load.axle, n=count(load.wheels_per_axle), m=count(one.tyres)),
                 force(one.load)),
            step("stress there", EQUATIONS[worst],
                 words("P {p}, tyre {q}, h {h}, k {k}, f'c {f}", p=force(one.load), q=tyre, h=depth(depths[worst]),
                       k=subgrade(one.support), f=strength), under[worst]),
            step("to spare", "{7.5 root f'c, in psi,|0.62 root f'c, in MPa,} / stress",
                 words("{r} / {s}", r=rupture, s=under[worst]), spare),
        ),
        remedy=lambda: _remedies(plan, load, edge, *(least_thickness(places, one, most)
                                                     for places in (rolls[:1], rolls[1:]))),
        decide=lambda: words("no plain slab up to {18 in|457 mm} carries it: spread the load, or have the slab "
                             "designed"),
    )  # fmt: skip


def _remedies(plan: Plan, load: Load, edge: float, inner: float, outer: float) -> list[Remedy]:
    """What to write, from the thicknesses in m that the middle and the edge need."""
    if max(inner, outer) > 18 * INCH:
        return []
    need = round_up(depth(outer if outer > max(edge, inner) else inner), 0.005 if plan.system == "metric" else INCH / 4)
    slab = write("thickness.design", need, words("make the slab {write} thick", write=need))
    if not meets(inner, plan.thickness.design, "most"):
        return [slab]
    thickened = [one for one in plan.design.thickness.thickened_edges if one.depth.si > plan.thickness.design]
    if thickened:
        slab = together(*(write(f"{one.place.path}.depth", need, slab.says) for one in thickened),
                        says=words("make the thickened edges {write} deep", write=need))  # fmt: skip
    away = write(f"{load.place.path}.near_edge", "false", words(
        "write near_edge: false, if wheels keep {2 ft|0.61 m} off the edges"))  # fmt: skip
    return [slab] if load.near_edge else [slab, away]
