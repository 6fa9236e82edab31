"""The slab is drawn as thick as its use and the heaviest axle on it want.

What is compared
    The design thickness with 4 in where cars stand, on walks and patios; with 3 1/2 in for floors of buildings; with
    5 in once an axle weighs over 4,000 lb and 6 in once it weighs over 10,600 lb; and with 6 in wherever vehicles
    cross the public right of way. Metric plans may write 100, 125 and 150 mm. How thick the slab comes
    out over the base is judged by `base-depth`.
Why it matters
    A slab carries by the square of its thickness: 3 1/2 in carries three quarters of what 4 in does. It does not
    break on the first day. Two years on, the pickup has gone over the same corner a thousand times, and it rocks.
When it does not apply
    It always does.
How to put it right
    Dig deeper or set the forms higher before any concrete is ordered. Keeping the heavy vehicle off is the only
    cheaper way.
Where sources differ
    The building codes ask 3 1/2 in, and of floors in buildings. Texts on walks, drives and parking begin at 4 in; that
    is a hold where cars stand and a caution where people walk, since data sheets of Australia and New Zealand let a
    path be 75 mm. For heavier vehicles a builders' magazine gives 5 to 6 in without a weight. Here 5 in begins over
    4,000 lb (common practice: few cars have that on one axle), 6 in over the 10,600 lb where a specification for
    light-duty parking ends. Each town sets its own right of way; two print 6 in.
"""

from __future__ import annotations

from slabwright.formulas.strength import capacity_by_thickness
from slabwright.formulas.thickness import as_metric_work_prints
from slabwright.formulas.units import INCH, POUND_FORCE
from slabwright.rulebook.kit import *

TITLE = "Thick enough for its use"
LIMITS = (
    Limit("right_of_way_at_least", "6 in", Kind.DEPTH, "hold", Cite("richardson-tx-handout"), ("3 in", "12 in"),
          "thickness where vehicles cross the public right of way"),
    Limit("cars_at_least", "4 in", Kind.DEPTH, "hold", Cite("trade-article-parking"), ("3 in", "12 in"),
          "thickness where cars stand or drive"),
    Limit("floor_at_least", "3 1/2 in", Kind.DEPTH, "hold", Cite("ibc-1910.1"), ("3 in", "12 in"),
          "thickness of a floor on ground in a building"),
    Limit("trucks_at_least", "6 in", Kind.DEPTH, "caution", Cite("builders-magazine"), ("3 in", "12 in"),
          "thickness under an axle of more than {10,600 lb|47.2 kN}"),
    Limit("loaded_at_least", "5 in", Kind.DEPTH, "caution", Cite("builders-magazine"), ("3 in", "12 in"),
          "thickness under an axle of more than {4,000 lb|17.8 kN}"),
    Limit("walked_at_least", "4 in", Kind.DEPTH, "caution", Cite("ufgs-03300n", "par. 3.8.3"), ("2 in", "12 in"),
          "thickness of walks, patios and pads"),
)  # fmt: skip
LOADED = 4000 * POUND_FORCE  # N, `common-practice`
TRUCK = 10600 * POUND_FORCE  # N, `ready-mixed-cp-3.4`
FLOORS = ("garage floor", "shop floor")

WORKED = (
    Worked("a public walk, 4 in", depth(0.100), lambda: as_metric_work_prints(4 * INCH), 1e-9,
           Cite("ufgs-03300n", "par. 3.8.3")),
    Worked("a walk across a drive, 6 in", depth(0.150), lambda: as_metric_work_prints(6 * INCH), 1e-9,
           Cite("ufgs-03300n", "par. 3.8.3")),
    Worked("strength of 5.62 in against 6 in", ratio(0.88), lambda: capacity_by_thickness(6 * INCH, 5.62 * INCH), 0.005,
           Cite("trade-article-strength"), "th-strength-ratio"),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The heaviest limit that the thickness does not keep; what to write keeps them all."""
    drawn = plan.design.thickness.design
    asked = {name: (_as_printed(plan, limits[name].value.si), says) for name, says in _called_for(plan)}
    short = [name for name, (si, _) in asked.items() if not meets(drawn.si, si, "least")]
    name = max(asked, key=lambda one: asked[one][0])
    if short:
        name = min(short, key=lambda one: (WEIGHTS.index(limits[one].weight), -asked[one][0]))
    least, says = depth(asked[name][0]), asked[name][1]
    enough = depth(max(si for si, _ in asked.values()))
    yield compare(
        plan.spot("the slab", "thickness.design", "thickness"), drawn, limits[name], asked=least,
        says=lambda: says,
        working=lambda: step("part of the strength asked", "(thickness / thickness asked) squared",
                             words("({t} / {asked}) squared", t=drawn, asked=least),
                             ratio(capacity_by_thickness(least.si, drawn.si))),
        remedy=lambda: write("thickness.design", enough, words("make the slab {write} thick: {more} more", write=enough,
                                                               more=depth(enough.si - drawn.si))),
    )  # fmt: skip


def _as_printed(plan: Plan, thickness: float) -> float:
    return as_metric_work_prints(thickness) if plan.system == "metric" else thickness


def _called_for(plan: Plan) -> Iterator[tuple[str, Words]]:
    """Name of each limit that the use and the loads call for, and what is said when it is not kept."""
    use, t = plan.design.use, plan.design.thickness.design
    if plan.design.site.right_of_way and plan.carries_vehicles:
        yield "right_of_way_at_least", words("{t} is thin for vehicles in the public right of way", t=t)
    if plan.carries_vehicles:
        yield "cars_at_least", words("{t} is thin for cars", t=t)
    name = "floor_at_least" if use in FLOORS else "walked_at_least"
    yield name, words("{t} is thin for a slab used as {use}", t=t, use=use)
    for load in plan.design.loads:
        if not meets(load.axle.si, LOADED, "most"):
            name = "loaded_at_least" if meets(load.axle.si, TRUCK, "most") else "trucks_at_least"
            says = "{t} is thin for {axle} on one axle ({vehicle})"
            yield name, words(says, t=t, axle=load.axle, vehicle=load.vehicle)
