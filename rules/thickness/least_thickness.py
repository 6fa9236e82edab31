"""The slab is drawn as thick as its use and the heaviest axle on it want.

What is compared
    Compares the thickness as drawn with 4 in on walks and patios, on metric plans with 75 mm and, as a note, 4 in, and
    with 3 1/2 in for floors of buildings. In the panels that vehicles drive over it compares it with 4 in for cars,
    with 5 in once an axle weighs over 4,000 lb (18 kN), with 6 in once it weighs over 10,600 lb, and with 6 in wherever
    vehicles cross the public right of way: of a drive in parts, those at the street, and walks. On a walk or a patio
    those are the panels at the edges that wheels cross, where the file names such (`wheels_cross: true`). Metric plans
    may write 100, 125 and 150 mm. Each part of the slab is judged by its own use. How thick the slab comes out over the
    base is judged by `base-depth`.
Why it matters
    A slab carries by the square of its thickness: 3 1/2 in carries three quarters of what 4 in does. It does not
    break on the first day. Two years on, the pickup has gone over the same corner a thousand times, and it rocks.
When it does not apply
    It applies to every slab.
How to put it right
    Dig deeper or set the forms higher before any concrete is ordered. Keeping the heavy vehicle off is the only
    cheaper way; where vehicles cross a walk, only that part of it need be thicker.
Where sources differ
    The building code asks 3 1/2 in, and of floors in buildings: a hold where the job is in US units, a caution on
    metric plans, which have another code. Texts on walks, drives and parking begin at 4 in; that is a hold where cars
    stand and a caution where people walk. Data sheets of Australia and New Zealand let a path be 75 mm. For heavier
    vehicles a builders' magazine gives 5 to 6 in without a weight. Here 5 in begins over 4,000 lb (common practice:
    few cars have that on one axle), 6 in over the 10,600 lb where a specification for light-duty parking ends. Each
    town sets its own right of way; two print 6 in, so it is a caution until an amendment names the town.
"""

from __future__ import annotations

import math

from slabwright.formulas.loads import CAR_AXLE
from slabwright.formulas.strength import capacity_by_thickness
from slabwright.formulas.units import FOOT, INCH, POUND_FORCE
from slabwright.rulebook.kit import *

TITLE = "Thick enough for its use"
LIMITS = (
    Limit("right_of_way_at_least", "6 in", Kind.DEPTH, "caution", Cite("richardson-tx-handout"), ("3 in", "12 in"),
          "thickness where vehicles cross the public right of way"),
    Limit("cars_at_least", "4 in", Kind.DEPTH, "hold", Cite("trade-article-parking"), ("3 in", "12 in"),
          "thickness where cars stand or drive"),
    Limit("floor_at_least", "3 1/2 in", Kind.DEPTH, "hold", Cite("ibc-1910.1"), ("3 in", "12 in"),
          "thickness of a floor on ground in a building"),
    Limit("metric_floor_at_least", "3 1/2 in", Kind.DEPTH, "caution", Cite("ibc-1910.1"), ("3 in", "12 in"),
          "thickness of a floor on ground, where another code than the American governs"),
    Limit("trucks_at_least", "6 in", Kind.DEPTH, "caution", Cite("builders-magazine"), ("3 in", "12 in"),
          "thickness under an axle of more than {10,600 lb|47.2 kN}"),
    Limit("loaded_at_least", "5 in", Kind.DEPTH, "caution", Cite("builders-magazine"), ("3 in", "12 in"),
          "thickness under an axle of more than {4,000 lb|18 kN}"),
    Limit("walked_at_least", "4 in", Kind.DEPTH, "caution", Cite("ufgs-03300n", "par. 3.8.3"), ("2 in", "12 in"),
          "thickness of walks, patios and pads"),
    Limit("path_at_least", "75 mm", Kind.DEPTH, "caution", Cite("cement-association-profiles"), ("50 mm", "150 mm"),
          "thickness of a path or patio of a metric plan, which people alone walk on"),
    Limit("preferred_path_at_least", "4 in", Kind.DEPTH, "note", Cite("ufgs-03300n", "par. 3.8.3"), ("2 in", "12 in"),
          "thickness of a path or patio of a metric plan that other texts begin at"),
)  # fmt: skip
WHOLE = 0.005  # m, to which metric forms are set (common practice)
ROUND = 0.02  # 4 in are 100 mm in metric work, within so much: as limits become round on metric plans
TRUCK = 10600 * POUND_FORCE  # N, `ready-mixed-cp-3.4`
ON_FOOT = ("floor_at_least", "metric_floor_at_least", "walked_at_least", "path_at_least", "preferred_path_at_least")
WALKED = ("walk", "patio")
FLOORS = ("garage floor", "shop floor")

WORKED = (
    Worked("a public walk, 4 in", depth(0.100), lambda: roundest(4 * INCH, ROUND), 1e-9,
           Cite("ufgs-03300n", "par. 3.8.3")),
    Worked("a walk across a drive, 6 in", depth(0.150), lambda: roundest(6 * INCH, ROUND), 1e-9,
           Cite("ufgs-03300n", "par. 3.8.3")),
    Worked("strength of 5.62 in against 6 in", ratio(0.88), lambda: capacity_by_thickness(6 * INCH, 5.62 * INCH), 0.005,
           Cite("trade-article-strength"), "th-strength-ratio"),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The heaviest limit that a part of the slab does not keep; what to write keeps them all."""
    for area in plan.areas.all:
        yield _judged(plan, limits, area)


def _judged(plan: Plan, limits: Limits, area: Area) -> Conclusion:
    called = {name: (drawn, says) for name, drawn, says in _called_for(plan, limits, area)}
    asked = {name: limits[name].value for name in called}
    short = [name for name, (drawn, _) in called.items() if not meets(drawn.si, asked[name].si, "least")]
    name = max(asked, key=lambda one: asked[one].si)
    if short:
        name = min(short, key=lambda one: (WEIGHTS.index(limits[one].weight), -asked[one].si))
    (drawn, says), least = called[name], asked[name]
    enough = depth(_to_form(plan, max(one.si for one in asked.values())))
    more = depth(enough.si - area.thickness.si)
    thicker = words("make {area} {write} thick: {more} more", area=area.name, write=enough, more=more)
    slab = leading(write(area.thickness_path, enough, thicker))
    local = len(_driven_panels(plan, area)) < _panels(plan, area) and name not in ON_FOOT
    return compare(
        plan.spot(area.name, area.thickness_path, "thickness"), drawn, limits[name], asked=least,
        says=lambda: says,
        working=lambda: step("part of the strength asked", "(thickness / thickness asked) squared",
                             words("({t} / {asked}) x ({t} / {asked})", t=drawn, asked=least),
                             ratio(capacity_by_thickness(least.si, drawn.si))),
        remedy=lambda: [*_where_driven(plan, enough), slab] if local else slab,
        decide=lambda: words("make it {write} thick where wheels cross, with joints and order to suit", write=enough)
        if local else words("make {area} {write} thick, with base, forms, joints and order to suit", area=area.name,
                            write=enough),
    )  # fmt: skip


def _to_form(plan: Plan, thickness: float) -> float:
    """A thickness to order, m; in metric work to whole 5 mm, for no form is set to 89."""
    return math.ceil(thickness / WHOLE - 1e-6) * WHOLE if plan.home == "metric" else thickness


def _under_wheels(plan: Plan) -> tuple[Panel, ...]:
    """The panels that vehicles drive over; on a slab for people, those at edges that the file says wheels cross."""
    return plan.wheels.driven_panels if plan.carries_vehicles else plan.wheels.crossed_panels


def _driven_panels(plan: Plan, area: Area) -> list[Panel]:
    """The panels of an area that vehicles drive over; what people alone use counts only where nothing else lies in."""
    driven = [panel for panel in _under_wheels(plan) if any(one is area for one in panel.areas)]
    return [panel for panel in driven if not panel.uses.difference(WALKED)] if area.use in WALKED else driven


def _panels(plan: Plan, area: Area) -> int:
    return sum(any(one is area for one in panel.areas) for panel in plan.panels.all)


def _where_driven(plan: Plan, enough: Amount) -> list[Remedy]:
    """The edge that wheels cross made deep, as far in as the slab reaches there."""
    crossed = next((piece for piece in plan.edges.pieces if piece.wheels_cross), None)
    if crossed is None:
        return []
    wide = length(max(panel.short_side for panel in _under_wheels(plan)))
    says = words("make it {write} thick where wheels cross from {edge}, {wide} in", write=enough, edge=crossed.name,
                 wide=wide)  # fmt: skip
    return [thicken_edge(plan, [crossed], enough, length(FOOT), says, wide)]


def _called_for(plan: Plan, limits: Limits, area: Area) -> Iterator[tuple[str, Amount, Words]]:
    """Name of each limit that the use and the loads call for, the thickness it is held against, and what is said."""
    use, t, driven = area.use, area.thickness, _driven_panels(plan, area)
    if driven:
        yield from _driven(plan, area, driven)
    floor = "floor_at_least" if plan.home == "us" else "metric_floor_at_least"
    says = words("{t} is thin for a slab used as {use}", t=t, use=area.called)
    if plan.home == "metric" and use in WALKED and limits.walked_at_least.layer == "published":
        yield "path_at_least", t, says
        yield "preferred_path_at_least", t, says
        return
    yield floor if use in FLOORS else "walked_at_least", t, says


def _driven(plan: Plan, area: Area, panels: Sequence[Panel]) -> Iterator[tuple[str, Amount, Words]]:
    """What vehicles call for, of the panels that they drive over."""
    least = min(plan.thickness.least_over(panel.polygon, area) for panel in panels)
    t = area.thickness if same(least, area.thickness.si) else depth(least)  # as it is typed
    if plan.in_right_of_way(area):
        yield "right_of_way_at_least", t, words("{t} is thin for vehicles in the public right of way", t=t)
    yield "cars_at_least", t, words("{t} is thin for cars", t=t)
    for load in plan.design.loads:
        if not meets(load.axle.si, CAR_AXLE[plan.home], "most"):
            name = "loaded_at_least" if meets(load.axle.si, TRUCK, "most") else "trucks_at_least"
            says = "{t} is thin for {axle} on one axle ({vehicle})"
            yield name, t, words(says, t=t, axle=load.axle, vehicle=load.vehicle)
