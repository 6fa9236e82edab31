"""The slab, as plain concrete, carries every wheel on it with something to spare.

What is compared
    Divides the bending strength by the stress under each load, at the worst of these places: inside the panels it
    drives over, at free edges and corners, each as deep as it is drawn, and at construction joints. It asks 1.6 up to
    10,000 loaded passes, 1.7 up to 40,000 and 2.0 beyond; where fewer than 10,000 are written, it passes a slab that
    bears them by the fatigue curve. Where no passes are written, 10,000 are taken at a house (ten a week for twenty
    years), more than 40,000 on an equipment pad, in the right of way, and in a shop that axles over 6,000 lb come into:
    cars, pickups and the machines of a barn come and go as at a house. An edge that no wheels are said to
    cross or to run along need only bear a wheel that strays. A granular base of 4 in and more adds to the ground. Two
    tires of a pair count as one. Tires without a pressure are taken at 35 psi under an axle of 4,000 lb and less, at
    80 psi under one of 6,000 lb and less, and at 110 psi over that; ground that nobody tested at 100 pci, wet clay at
    50 pci.
Why it matters
    A wheel does not break a slab; the same wheel again and again does. Each pass leaves a crack at the bottom a little
    longer, and two years later a corner the size of a door hangs loose.
When it does not apply
    No load is given.
How to put it right
    Make the edge thick where wheels come over it, brought back over 3 ft, or keep them 2 ft off it. Inside, thickness
    counts by its square and better concrete by its root.
Where sources differ
    One floor method takes 1.7 for light traffic to 2.0 for heavy, the Army 2.0 with a quarter added for impact. The
    factors here follow the fatigue curve of 1984 (recalled), which meets a printed table. A joint that is keyed or
    doweled takes a quarter off the edge (quoted). The edge is the form of 1948, 27 % over that of 1926. The building
    code's 7.5 root f'c serves for bending.
"""

from __future__ import annotations

from math import inf

from slabwright.formulas.strength import rupture_modulus
from slabwright.formulas.subgrade import assumed_support, support_with_base
from slabwright.formulas.units import FOOT, INCH, PCI, POUND_FORCE, PSI
from slabwright.formulas.wheel_thickness import EQUATIONS, Wheel, least_thickness, passes_borne, wheel, wheel_stress
from slabwright.rulebook.kit import *

TITLE = "Strong enough for the wheels"
LIMITS = (
    Limit("breaking_at_least", "1", Kind.RATIO, "caution", Cite("common-practice"), ("0.8", "3"),
          "bending strength over stress at which the first pass may crack it"),
    Limit("some_passes_at_least", "1.6", Kind.RATIO, "caution", Cite("pca-fatigue-1984"), ("1", "4"),
          "bending strength over stress at which it bears 10,000 loaded passes"),
    Limit("more_passes_at_least", "1.7", Kind.RATIO, "caution", Cite("pca-fatigue-1984"), ("1", "4"),
          "bending strength over stress at which it bears 40,000 loaded passes"),
    Limit("lasting_at_least", "2.0", Kind.RATIO, "caution", Cite("pca-floor-method"), ("1", "4"),
          "bending strength over stress at which it bears the traffic of shops and yards"),
)  # fmt: skip
CAR = 4000 * POUND_FORCE  # N, `common-practice`: few cars have more on one axle
PICKUP = 6000 * POUND_FORCE  # N, `common-practice`: few pickups and vans have more on one axle
SOFT_TIRE, HARD_TIRE = 35 * PSI, 110 * PSI  # Pa, `common-practice`, and `tire-tables` of large motorhomes
PICKUP_TIRE = 80 * PSI  # Pa, `common-practice`: what tires of pickups and vans bear at the most
LOCKED = 0.75  # of the stress at an edge that hands load over, `army-floor-method`
TAPER = {"us": length(3 * FOOT), "metric": length(0.9)}  # `tm-5-822-5`
PART = 1.25  # of the slab: what an edge that heavy wheels cross is thickened to, `tm-5-822-5`
SOME, MORE = 10_000, 40_000  # loaded passes
LOOSEST = 0.1  # a factor that is asked at the least: amendments may set any
FEW = 100  # passes: so few are not worth a number
SHOPS = ("shop floor", "equipment pad")
CUT = ("saw cut", "tooled groove")
CLASSIC = Wheel(10000 * POUND_FORCE, 6 * INCH, 4e6 * PSI, 100 * PCI)
WORKED = (
    Worked("10,000 lb on 10 in, edge", stress(279.4 * PSI), lambda: wheel_stress("edge", CLASSIC, 10 * INCH),
           0.05 * PSI, Cite("huang", "ch. 4"), "th-10000lb-edge-circle"),
    Worked("10,000 lb on 10 in, corner", stress(190.3 * PSI), lambda: wheel_stress("corner", CLASSIC, 10 * INCH),
           0.05 * PSI, Cite("huang", "ch. 4"), "th-10000lb-corner-1985"),
    Worked("passes at 0.545 of the strength", count(144_000), lambda: passes_borne(0.545), 1000, Cite("fatigue-table")),
    Worked("passes at 0.608 of the strength", count(25_000), lambda: passes_borne(0.608), 500, Cite("fatigue-table")),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The worst place under each load."""
    if not plan.design.loads:
        does_not_apply("no vehicle is written (loads)")
    strength: Amount = plan.given("mix.strength")
    for load in plan.design.loads:
        light = PICKUP_TIRE if meets(load.axle.si, PICKUP, "most") else HARD_TIRE
        usual = pressure(SOFT_TIRE if meets(load.axle.si, CAR, "most") else light)
        tire = load.tire_pressure or usual
        one = wheel(load.axle.si, load.wheels_per_axle, tire.si, strength.si, _support(plan))
        yield _judged(plan, limits, load, one, tire, strength)


def _judged(plan: Plan, limits: Limits, load: Load, one: Wheel, tire: Amount, strength: Amount) -> Conclusion:
    bending, first, lasting = (
        stress(rupture_modulus(strength.si)),
        limits.breaking_at_least,
        _lasting(plan, limits, load),
    )
    few = load.passes if load.passes and not meets(load.passes, SOME, "least") and lasting.layer == "published" else 0

    def asks(spot: WheelSpot) -> InForce:
        spare = ratio(bending.si / under(spot))
        bears = few and not lasting.met(spare.si) and meets(passes_borne(1 / spare.si), few, "least")
        return lasting if (spot.crossed or load.near_edge) and not bears else first

    def allowed() -> dict[WheelSpot, float]:
        return {
            spot: bending.si / max(limit.value.si, LOOSEST) / (LOCKED if spot.locked else 1)
            for spot, limit in asked.items()
        }

    def under(spot: WheelSpot) -> float:
        return wheel_stress(spot.kind, one, spot.thickness) * (LOCKED if spot.locked else 1)

    spots = [spot for spot in plan.wheels.spots if not (spot.free and load.near_edge is False)]
    asked = {spot: asks(spot) for spot in spots}
    worst = max(spots, key=lambda spot: under(spot) * asked[spot].value.si)
    shown, passes = stress(under(worst)), passes_borne(under(worst) / bending.si)
    spare = ratio(bending.si / shown.si)
    near = meets(spare.si, 1.0, "least")
    what = "{vehicle} comes near cracking the slab " if near else "a pass of {vehicle} may crack the slab "
    if meets(passes, FEW, "least") and asked[worst] is lasting:
        what = f"the slab bears about {_rounded(passes)} passes of {{vehicle}} "
        if load.passes and meets(passes, load.passes, "least"):
            what = "so many passes of {vehicle} leave the slab too little to spare "
    given = words("P {p}, tire {q}, h {h}, k {k}, f'c {f}", p=force(one.load), q=tire, h=depth(worst.thickness),
                  k=subgrade(one.support), f=strength)  # fmt: skip
    if worst.locked:
        given = words(given.template + ", a quarter off at a locked joint", **given.values)
    return compare(
        Spot(f"the {load.vehicle}", load.place), spare, *dict.fromkeys((first, asked[worst])),
        says=lambda: words(what + "{spot}", vehicle=f"the {load.vehicle}", spot=worst.name),
        working=lambda: (
            step("load on one spot", "axle / wheels x wheels side by side",
                 words("{axle} / {n} x {m}", axle=load.axle, n=count(load.wheels_per_axle), m=count(one.tires)),
                 force(one.load)),
            step("stress there", EQUATIONS[worst.kind], given, shown),
            step("to spare", "{7.5 root f'c, in psi,|0.62 root f'c, in MPa,} / stress",
                 words("{r} / {s}", r=bending, s=shown), spare),
        ),
        remedy=lambda: _remedies(plan, load, one, allowed(), _least_for_one(plan, one, spots, bending.si)),
        decide=lambda: _left(plan, load, one, allowed(), _least_for_one(plan, one, spots, bending.si)),
    )  # fmt: skip


def _support(plan: Plan) -> float:
    """Support on top of the base, N/m3; where nobody tested the ground, what its kind is taken for."""
    soil, base = plan.design.site.soil, plan.design.site.base
    ground = soil.support.si if soil and soil.support else assumed_support(soil.kind if soil else "")
    if base is None or base.thickness is None:
        return ground
    return support_with_base(ground, base.thickness.si, base.material)


def _lasting(plan: Plan, limits: Limits, load: Load) -> InForce:
    """What the passes of a load ask."""
    shops = [area for area in plan.areas.used(*SHOPS) if area.called in SHOPS]
    light = meets(load.axle.si, PICKUP, "most")
    busy = any(area.use != "shop floor" or not light for area in shops) or all(
        map(plan.in_right_of_way, plan.areas.all)
    )
    passes = load.passes or (inf if busy else SOME)
    if passes > MORE:
        return limits.lasting_at_least
    return limits.more_passes_at_least if passes > SOME else limits.some_passes_at_least


def _rounded(passes: float) -> str:
    """A number of passes to one figure, as people say it."""
    return f"{float(f'{passes:.1g}'):,.0f}"


def _remedies(plan: Plan, load: Load, one: Wheel, allowed: dict[WheelSpot, float], once: Amount | None) -> list[Remedy]:
    """Thicker edges, wheels kept off, or a thicker slab; ``allowed`` is the stress that each place may have, Pa."""
    needs = _needs(one, allowed)
    if inf in needs.values() or _to_lock(one, allowed):
        return []
    short = {spot: need for spot, need in needs.items() if not meets(spot.thickness, need, "least")}
    thick = _round(plan, max(short.values()))
    if not all(spot.free for spot in short):
        return [_thicker(plan, load, needs, once)]
    edges = {piece.name: piece for spot in short for piece in _bears(spot)}
    deep = _round(plan, max([*short.values(), *_part(plan, load, list(edges.values()))]))
    says = words("make the slab {write} deep at {edges}, brought back over {taper}", write=deep,
                 edges=_named(plan, list(edges.values())), taper=TAPER[plan.home])  # fmt: skip
    deeper = leading(_deep(plan, list(edges.values()), deep, says))
    away = write(f"{load.place.path}.near_edge", "false", words(
        "write near_edge: false, if wheels keep {2 ft|0.6 m} off the edges"))  # fmt: skip
    slab = _slab(plan, short, thick, once)
    crossed = {spot: need for spot, need in short.items() if spot.crossed}
    if load.near_edge is None and crossed and len(crossed) < len(short):
        return [_crossed_only(plan, load, crossed), deeper, slab]
    return [deeper, slab] if load.near_edge or crossed else [deeper, away, slab]


def _crossed_only(plan: Plan, load: Load, crossed: dict[WheelSpot, float]) -> Remedy:
    """The edges that wheels come over made thick, and the wheels kept off the others."""
    edges = list({piece.name: piece for spot in crossed for piece in spot.pieces if piece.wheels_cross}.values())
    thick, taper = _round(plan, max([*crossed.values(), *_part(plan, load, edges)])), TAPER[plan.home]
    says = words("make the slab {write} deep at {edges}, brought back over {taper}, and write near_edge: false, if "
                 "wheels keep {2 ft|0.6 m} off the other edges", write=thick, edges=_named(plan, edges),
                 taper=taper)  # fmt: skip
    off = write(f"{load.place.path}.near_edge", "false", says)
    return leading(together(_deep(plan, edges, thick, says), off, says=says))


def _part(plan: Plan, load: Load, edges: Sequence[EdgePiece], slab: float | None = None) -> list[float]:
    """How deep `thickened-edge-under-wheels` wants the deepest of some edges, m, if it does: an edge has one depth."""
    crossed = any(piece.wheels_cross and not (piece.edge and piece.edge.tied) for piece in edges)
    return [PART * (slab or plan.thinnest_driven)] if crossed and not meets(load.axle.si, CAR, "most") else []


def _bears(spot: WheelSpot) -> list[EdgePiece]:
    """The edges at a place that are made deep for it: of a corner those that wheels cross, where they do."""
    return [piece for piece in spot.pieces if piece.wheels_cross or not spot.crossed]


def _slab(plan: Plan, short: dict[WheelSpot, float], thick: Amount, once: Amount | None) -> Remedy:
    """Every part that falls short as thick as its worst place asks, with cuts to suit."""
    areas = " and ".join({one.area: None for one in short})
    says = _with(None if once == thick else once, "make {areas} {write} thick", write=thick, areas=areas)
    paths = dict.fromkeys(one.thickness_path for one in short)
    return leading(together(*(write(path, thick, says) for path in paths), *_cuts(plan, thick), says=says))


def _deep(plan: Plan, edges: Sequence[EdgePiece], deep: Amount, says: Words) -> Remedy:
    return together(*(thicken_edge(plan, [piece], deep, TAPER[plan.home], says) for piece in edges), says=says)


def _thicker(plan: Plan, load: Load, needs: dict[WheelSpot, float], once: Amount | None) -> Remedy:
    """The slab as thick as its inside asks, and what edges ask beyond it at those edges alone."""
    thick, deep, edges = _inside_and_edges(plan, load, needs)
    short = {spot: need for spot, need in needs.items() if not _driven_over(spot, load)}
    if not edges:
        return _slab(plan, short, thick, once)
    told = "make the slab {thick} thick, and {deep} deep at {edges}, brought back over {taper}"
    says = _with(None if once == thick else once, told, thick=thick, deep=deep, edges=_named(plan, edges),
                 taper=TAPER[plan.home])  # fmt: skip
    return leading(together(_slab(plan, short, thick, once), _deep(plan, edges, deep, says), says=says))


def _driven_over(spot: WheelSpot, load: Load) -> bool:
    """Whether a place lies at an edge that wheels are known to cross or to run along, and not only to stray to."""
    return spot.free and (spot.crossed or bool(load.near_edge))


def _inside_and_edges(plan: Plan, load: Load, needs: dict[WheelSpot, float]) -> tuple[Amount, Amount, list[EdgePiece]]:
    """How thick the slab is to be, how deep the edges that are driven over beyond that, and those edges."""
    thick = _round(plan, max(need for spot, need in needs.items() if not _driven_over(spot, load)))
    wanted = {spot: max([need, *_part(plan, load, _bears(spot), thick.si)]) for spot, need in needs.items()}
    beyond = {spot: need for spot, need in wanted.items() if not meets(max(spot.thickness, thick.si), need, "least")}
    edges = {piece.name: piece for spot in beyond for piece in _bears(spot)}
    return thick, _round(plan, max(beyond.values(), default=thick.si)), list(edges.values())


def _cuts(plan: Plan, thick: Amount) -> list[Remedy]:
    """Cuts and grooves as deep as a slab ``thick`` wants them."""
    asked = round_up(depth(thick.si / 4), tape_step(plan))
    return [
        write(f"{joint.place.path}.depth", asked, words("cut {joint} {deep} deep", joint=joint.name, deep=asked))
        for joint in plan.design.joints
        if joint.kind in CUT and joint.depth and joint.depth.si < asked.si
    ]


def _needs(one: Wheel, allowed: dict[WheelSpot, float]) -> dict[WheelSpot, float]:
    return {spot: least_thickness([spot.kind], one, most) for spot, most in allowed.items()}


def _to_lock(one: Wheel, allowed: dict[WheelSpot, float]) -> list[WheelSpot]:
    """The construction joints that fall short as they are: locked, they hand a quarter of the stress over."""
    joints = [spot for spot in allowed if not spot.free and spot.kind == "edge" and not spot.locked]
    return [spot for spot in joints if not meets(wheel_stress("edge", one, spot.thickness), allowed[spot], "most")]


def _least_for_one(plan: Plan, one: Wheel, spots: Sequence[WheelSpot], bending: float) -> Amount | None:
    """The thickness all over at which a single pass does not crack the slab; None where it has that."""
    needs = {spot: least_thickness([spot.kind], one, bending / (LOCKED if spot.locked else 1)) for spot in spots}
    least = max(needs.values())
    kept = all(meets(spot.thickness, need, "least") for spot, need in needs.items())
    return None if kept or least == inf else _round(plan, least)


def _with(once: Amount | None, template: str, **values: Value) -> Words:
    """What lasts, and apart from it the least that bears a single pass, where the slab has not even that."""
    if once is None:
        return words(template, **values)
    return words(template + "; {once} all over is the least that bears a single pass", once=once, **values)


def _left(plan: Plan, load: Load, one: Wheel, allowed: dict[WheelSpot, float], once: Amount | None) -> Words:
    """What a person decides where an edit alone does not do."""
    locked = _to_lock(one, allowed)
    needs = _needs(one, {**allowed, **{spot: allowed[spot] / LOCKED for spot in locked}})
    if inf in needs.values():
        return words("no plain slab up to {18 in|450 mm} carries it: spread the load, or have the slab designed")
    thick, deep, edges = _inside_and_edges(plan, load, needs)
    thin = not meets(min(spot.thickness for spot in allowed if not _driven_over(spot, load)), thick.si, "least")
    off, told, values = "wheels {2 ft|0.6 m} off the edges", "make the slab ", dict[str, Value]()
    if thin or not edges:
        off, values["vehicle"] = "{vehicle} off it", f"the {load.vehicle}"
    if locked:
        values["joints"] = ", ".join(spot.name.removeprefix("at ") for spot in locked)
        lock = "lock {joints} with dowels or a key"
        if not thin and not edges:
            return words(f"{lock}, or keep {off}", **values)
        told = f"{lock} and {told}"
    if thin or not edges:
        told, values["thick"] = told + "{thick} thick", thick
    if edges:
        told += (", " if thin else "") + "{deep} deep at {edges} and brought back over {taper}"
        values |= {"deep": deep, "edges": _named(plan, edges), "taper": TAPER[plan.home]}
    return _with(once, f"{told}, with base, forms, joints and order to suit, or keep {off}", **values)


def _named(plan: Plan, edges: Sequence[EdgePiece]) -> str:
    names = {piece.name for piece in edges}
    every = len(names) > 2 and names >= {piece.name for piece in plan.edges.pieces}
    *first, last = (piece.name for piece in edges)
    return "all its edges" if every else f"{', '.join(first)} and {last}" if first else last


def _round(plan: Plan, need: float) -> Amount:
    return round_up(depth(need), tape_step(plan, INCH / 4))
