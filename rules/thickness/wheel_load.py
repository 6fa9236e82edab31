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

from collections.abc import Iterator

from slabwright.design.model import Load
from slabwright.formulas.strength import rupture_modulus
from slabwright.formulas.subgrade import support_with_base
from slabwright.formulas.units import INCH, PCI, POUND_FORCE, PSI
from slabwright.formulas.wheel_thickness import EQUATIONS, Wheel, WheelPlace, least_thickness, wheel, wheel_stress
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
    does_not_apply,
    not_shown,
    step,
)
from slabwright.text.words import Words, words
from slabwright.units.quantity import Kind, count, depth, force, meets, pressure, ratio, round_up, stress, subgrade

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


def relevant(plan: Plan) -> Relevance:
    """A load, the strength of the mix and the support of the ground are given."""
    said, soil = plan.design, plan.design.site.soil
    if not said.loads:
        return does_not_apply("no vehicle is written (loads)")
    add = [] if said.mix.strength else ["mix.strength: the strength of the mix, such as {4000 psi|28 MPa}"]
    add += [] if soil and soil.support else ["site.soil.support: how stiff the ground is, such as {150 pci|40 MN/m3}"]
    if not any(load.tyre_pressure for load in said.loads):
        add.append("loads, tyre_pressure: the pressure in the tyres, such as {65 psi|450 kPa}")
    return not_shown(*add, place=plan.place(add[0].split(":")[0].split(",")[0])) if add else APPLIES


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """The worst place under each load; the edge is as deep as the shallowest thickened one."""
    free = (plan.thickness.along(piece.line) for piece in plan.edges.pieces if not piece.fixed_face)
    edge = min((deep for deep in free if deep > plan.thickness.design), default=plan.thickness.design)
    for load in plan.design.loads:
        yield _judged(plan, limits, load, {"interior": plan.thickness.design, "edge": edge, "corner": edge})


def _judged(plan: Plan, limits: Limits, load: Load, depths: dict[WheelPlace, float]) -> Finding | Margin:
    soil, base, strength = plan.design.site.soil, plan.design.site.base, plan.design.mix.strength or stress(0)
    on_soil = soil.support.si if soil and soil.support else 0.0
    k = support_with_base(on_soil, base.thickness.si if base and base.thickness else 0.0, base.material if base else "")
    tyre, at = load.tyre_pressure or pressure(HARD_TYRE), Spot(f"the {load.vehicle}", load.place)
    one = wheel(load.axle.si, load.wheels_per_axle, tyre.si, strength.si, k)
    rolls: list[WheelPlace] = ["interior"] if load.near_edge is False else [*WHERE]
    under = {place: stress(wheel_stress(place, one, depths[place])) for place in rolls}
    worst = max(rolls, key=lambda place: under[place].si)
    spare = ratio((rupture := stress(rupture_modulus(strength.si))).si / under[worst].si)
    limit = limits.broken(spare, "breaking_at_least", "lasting_at_least")
    if limit is None:
        return Margin(at, spare, limits.lasting_at_least)
    on = words("{axle} / {n} x {m}", axle=load.axle, n=count(load.wheels_per_axle), m=count(one.tyres))
    given = {"p": force(one.load), "q": tyre, "h": depth(depths[worst]), "k": subgrade(one.support), "f": strength}
    working = (
        step("load on one spot", "axle / wheels x wheels side by side", on, force(one.load)),
        step("stress there", EQUATIONS[worst], words("P {p}, tyre {q}, h {h}, k {k}, f'c {f}", **given), under[worst]),
        step("to spare", "{7.5 root f'c, in psi,|0.62 root f'c, in MPa,} / stress",
             words("{r} / {s}", r=rupture, s=under[worst]), spare),
    )  # fmt: skip
    most = rupture.si / max(limit.value.si for limit in limits.values())
    inner, outer = (least_thickness(places, one, most) for places in (rolls[:1], rolls[1:]))
    what = "a pass of {vehicle} may crack the slab " if spare.si < 1 else "{vehicle} comes near cracking the slab "
    says = words(what + WHERE[worst], vehicle=at.name)
    return Finding(at, says, spare, limit, working, _to_pass(plan, load, inner, outer, depths["edge"]))


def _to_pass(plan: Plan, load: Load, inner: float, outer: float, edge: float) -> Words:
    """What to write, from the thicknesses in m that the middle and the edge need."""
    if max(inner, outer) > 18 * INCH:
        return words("no plain slab up to {18 in|457 mm} carries it: spread the load, or have the slab designed")
    need, says = outer if outer > max(edge, inner) else inner, "make the slab {write} thick"
    if meets(inner, t := plan.thickness.design, "most"):
        says = (says + ", or only the edges it crosses", "make the thickened edges {write} deep")[edge > t]
        says += "" if load.near_edge else "; or write near_edge: false, if wheels keep {2 ft|0.61 m} off the edges"
    return words(says, write=round_up(depth(need), 0.005 if plan.system == "metric" else INCH / 4))
